//! The page on measuring says of every measure what the program says.

use std::path::Path;

use body::Measure;

fn section(measure: Measure) -> String {
    let about = measure.about();
    let twelve = if about.minimum {
        ", one of the twelve"
    } else {
        ""
    };
    let mut last = Vec::new();
    if !about.also.is_empty() {
        last.push(format!("Also called: {}.", about.also));
    }
    if let Some(iso) = about.iso {
        last.push(format!("ISO 8559-1:2017: {}, {}.", iso.name, iso.clause));
    }
    let unit = if measure.is_angle() { "°" } else { " mm" };
    last.push(format!(
        "One reading is good to about {}{unit}.",
        about.observer_error
    ));
    format!(
        "### {} (`{}`{twelve})\n{}\n- Alone: {}\n- With help: {}\n- {}\n",
        about.label,
        about.key,
        about.definition,
        about.alone,
        about.helped,
        last.join(" ")
    )
}

#[test]
fn the_page_has_every_measure_as_the_program_has_it() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("../../docs/measuring.md");
    let page = std::fs::read_to_string(path).expect("the page lies in docs/");
    for measure in Measure::ALL {
        let section = section(measure);
        assert!(
            page.contains(&section),
            "docs/measuring.md should hold:\n\n{section}"
        );
    }
}

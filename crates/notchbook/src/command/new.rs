//! `new`: a folder to begin with: a body file to fill in, a garment, and how to measure.
//!
//! Invariant: nothing that is there is replaced.

use body::Measure;
use document::Finding;

use crate::arguments::NewArguments;
use crate::{Exit, Look, Said, files};
use making::words::{WIDTH, listed, wrapped};

/// Invented figures of the twelve measures of a bodice and one more for a skirt, as they stand in the body file behind
/// `//`.
const INVENTED: [(Measure, &str); 13] = [
    (Measure::Bust, "92 cm"),
    (Measure::UpperChest, "88 cm"),
    (Measure::Waist, "74 cm"),
    (Measure::Hip, "99 cm"),
    (Measure::NeckBase, "37 cm"),
    (Measure::ShoulderLength, "12.5 cm"),
    (Measure::AcrossBack, "36 cm"),
    (Measure::AcrossFront, "33 cm"),
    (Measure::BustPointWidth, "18.5 cm"),
    (Measure::NeckToBustPoint, "26.5 cm"),
    (Measure::BackWaistLength, "40.5 cm"),
    (Measure::FrontWaistLength, "43 cm"),
    (Measure::WaistToHip, "20 cm"),
];

/// Runs the command.
pub(crate) fn run(arguments: &NewArguments, look: Look) -> Said {
    let folder = &arguments.folder;
    let files = [
        ("body.kdl", body_file()),
        ("garment.kdl", GARMENT.to_owned()),
        ("measuring.txt", measuring()),
    ];
    let there = files::already_there(folder, &files.each_ref().map(|(name, _)| *name));
    let files = files.map(|(name, text)| (name.to_owned(), text.into_bytes()));
    let result = if there.is_empty() {
        files::write_all(folder, &files)
    } else {
        Err(already_there(&folder.display().to_string(), &there))
    };
    match result {
        Ok(()) => Said::out(next_steps(&folder.display().to_string()), Exit::Clean),
        Err(finding) => Said::stopped(&[finding], look),
    }
}

fn next_steps(folder: &str) -> String {
    format!(
        "Written to {folder}: body.kdl, garment.kdl and measuring.txt.\n\
         1. Read measuring.txt, tape the body and write the figures into body.kdl.\n\
         2. See whether they agree: notchbook body {folder}/body.kdl\n\
         3. Change garment.kdl as you like, and draft it: notchbook make {folder}/garment.kdl\n"
    )
}

fn already_there(folder: &str, names: &[&str]) -> Finding {
    let names: Vec<String> = names.iter().map(|name| (*name).to_owned()).collect();
    let verb = if names.len() == 1 { "is" } else { "are" };
    let message = format!(
        "In the folder {folder} there {verb} {} already.",
        listed(&names)
    );
    Finding::error("file-already-there", message)
        .allowed("a folder without body.kdl, garment.kdl and measuring.txt")
        .because("They may be somebody's work; nothing was written.")
        .cure("Name another folder, or move them away.")
}

/// The body file: every measure of a bodice with an invented figure struck out, to be replaced by one's own.
fn body_file() -> String {
    let struck_out = INVENTED.map(|(measure, figure)| {
        let about = measure.about();
        format!(
            "\n    // {}\n    // {} \"{figure}\"\n",
            about.definition, about.key
        )
    });
    [BODY_BEGINS, &struck_out.concat(), BODY_ENDS].concat()
}

const BODY_BEGINS: &str = "\
// A body. Tape it as measuring.txt says, write each figure in place of the invented one, and take away the two strokes
// before the line. Figures stand in quotes with their unit: \"92 cm\", \"915 mm\", \"36 1/4 in\".
// Tape twice and write both lines: the mean is used, and you see how far your tape can be trusted.
// A skirt on its own needs only waist, hip and waist-to-hip.
body \"Name\" {
";

const BODY_ENDS: &str = "
    // More measures make a better fit; measuring.txt has them all.
}
";

const GARMENT: &str = r#"// A dress without sleeves. Every line but the names of its parts may be left out; then the usual is taken.
garment "Summer dress" {
    version "1"
    body "body.kdl"

    // Over the body's own girths: room to breathe and move.
    ease {
        bust "60 mm"
        waist "30 mm"
        hip "60 mm"
    }
    bodice {
        bust-dart "side" // or "armhole", "shoulder", "neck", "waist"
        neckline "round" depth="30 mm" width="20 mm" // or "v"
    }
    skirt "a-line" length="650 mm" // or "straight", "gathered" fullness=2
    // sleeve ease="60 mm" cap-ease="28 mm"

    allowances {
        seam "15 mm"
        hem "40 mm"
    }
}
"#;

/// How to measure, in the words of the measures themselves.
fn measuring() -> String {
    let (twelve, more): (Vec<Measure>, Vec<Measure>) = Measure::ALL
        .into_iter()
        .partition(|measure| measure.about().minimum);
    let chapter = |heading: &str, measures: Vec<Measure>| {
        let sections: String = measures.into_iter().map(section).collect();
        format!("\n\n{heading}\n{}\n{sections}", "=".repeat(heading.len()))
    };
    [
        MEASURING_BEGINS,
        &chapter("The twelve that a bodice needs", twelve),
        &chapter("More, for a better fit", more),
    ]
    .concat()
}

const MEASURING_BEGINS: &str = "\
How to measure

Wear the underwear that will be worn under the garment, and no more than a thin shirt. Tie a cord
round the waist and leave it there. The tape lies close without pressing; stand as you always stand.
Tape everything twice, on different days if you can.
";

fn section(measure: Measure) -> String {
    let about = measure.about();
    let also = if about.also.is_empty() {
        String::new()
    } else {
        format!("; also called {}", about.also)
    };
    let paragraph = |words: String| format!("{}\n", wrapped(&words, WIDTH));
    [
        format!("\n{} ({}{also})\n", about.label, about.key),
        paragraph(about.definition.to_owned()),
        paragraph(format!("Alone: {}", about.alone)),
        paragraph(format!("With help: {}", about.helped)),
    ]
    .concat()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_twelve_are_those_that_a_bodice_needs() {
        let twelve: Vec<Measure> = Measure::ALL
            .into_iter()
            .filter(|measure| measure.about().minimum)
            .collect();
        let invented = INVENTED.map(|(measure, _)| measure);
        assert_eq!(invented[..12], twelve);
    }
}

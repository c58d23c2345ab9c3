//! The page on measuring: its groups, its figures, and the part of its text that is the program's own table.
//!
//! Writes no file. Invariant: what the page says of a measure is what [`Measure::about`] says.

use body::{Body, Measure, Tape, complete};
use sheet::Drawing;

use crate::{Side, Style, number, sheet_from, sheet_of};

/// Measures that are taped together, with a figure of their own.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Group {
    /// The heading.
    pub title: &'static str,
    /// Name of its figure's file, without its ending.
    pub file: &'static str,
    /// From where they are drawn; each where it is seen best where this is empty.
    pub sides: &'static [Side],
    /// The measures, in the order of [`Measure::ALL`].
    pub measures: &'static [Measure],
}

impl Group {
    /// All groups; together they hold every measure once, in the order of [`Measure::ALL`].
    pub const ALL: [Self; 6] = [
        Self {
            title: "Round the body",
            file: "girths",
            sides: &[Side::Front, Side::Profile],
            measures: &[
                Measure::Bust,
                Measure::UnderBust,
                Measure::UpperChest,
                Measure::Waist,
                Measure::HighHip,
                Measure::Hip,
            ],
        },
        Self {
            title: "Neck, shoulders, back and front",
            file: "neck-to-waist",
            sides: &[],
            measures: &[
                Measure::NeckBase,
                Measure::ShoulderLength,
                Measure::ShoulderSlope,
                Measure::AcrossBack,
                Measure::AcrossFront,
                Measure::BustPointWidth,
                Measure::NeckToBustPoint,
                Measure::BackWaistLength,
                Measure::FrontWaistLength,
                Measure::SideLength,
                Measure::ScyeDepth,
                Measure::Armscye,
            ],
        },
        Self {
            title: "Front parts of the girths",
            file: "front-arcs",
            sides: &[Side::Front, Side::Profile],
            measures: &[
                Measure::BustFrontArc,
                Measure::WaistFrontArc,
                Measure::HipFrontArc,
            ],
        },
        Self {
            title: "Below the waist",
            file: "below-the-waist",
            sides: &[],
            measures: &[
                Measure::WaistToHighHip,
                Measure::WaistToHip,
                Measure::WaistToKnee,
                Measure::WaistToFloor,
                Measure::CrotchDepth,
                Measure::Thigh,
            ],
        },
        Self {
            title: "Arm",
            file: "arm",
            sides: &[],
            measures: &[
                Measure::UpperArm,
                Measure::Elbow,
                Measure::Wrist,
                Measure::ArmLength,
                Measure::ShoulderToElbow,
            ],
        },
        Self {
            title: "Head and height",
            file: "head-and-height",
            sides: &[],
            measures: &[Measure::Head, Measure::Stature],
        },
    ];
}

impl Group {
    /// The group's figure of a body, its measures in the accent's colour.
    pub fn figure(&self, body: &Body) -> Drawing {
        let style = Style {
            under_hand: self.measures.to_vec(),
            ..Style::default()
        };
        let drawing = if self.sides.is_empty() {
            sheet_of(body, self.measures, &style)
        } else {
            sheet_from(body, self.sides, self.measures, &style)
        };
        named(drawing, self.title)
    }
}

/// The command that writes figures and page.
pub const COMMAND: &str = "cargo run -p figure --example measuring_figures -- docs/figures";

/// Name of the figure with every measure, without its ending.
pub const OVERVIEW: &str = "all-measures";

/// The page's figures: name of the file without its ending, and what is drawn.
pub fn figures() -> Vec<(&'static str, Drawing)> {
    let body = drawn_body();
    let overview = named(
        sheet_of(&body, &Measure::ALL, &Style::default()),
        "All measures",
    );
    let group = |group: Group| (group.file, group.figure(&body));
    std::iter::once((OVERVIEW, overview))
        .chain(Group::ALL.map(group))
        .collect()
}

/// The page with its own words kept down to the first group, and everything from there on written anew.
pub fn page(before: &str) -> String {
    let first = format!("## {}\n", Group::ALL[0].title);
    let words = before.split(&first).next().unwrap_or(before).trim_end();
    let mut page = format!("{words}\n");
    for group in Group::ALL {
        page.push_str(&chapter(group));
    }
    page
}

fn chapter(group: Group) -> String {
    let labels: Vec<String> = group
        .measures
        .iter()
        .map(|measure| format!("{} {}", number(*measure), measure.label()))
        .collect();
    let figure = format!(
        "![{}: {}](figures/{}.svg)",
        group.title,
        labels.join(", "),
        group.file
    );
    let sections: Vec<String> = group
        .measures
        .iter()
        .map(|measure| section(*measure))
        .collect();
    format!(
        "\n## {}\n\n{figure}\n\n{}",
        group.title,
        sections.join("\n")
    )
}

/// What the page says of one measure.
fn section(measure: Measure) -> String {
    let about = measure.about();
    let twelve = if about.minimum {
        ", one of the twelve"
    } else {
        ""
    };
    let also = match about.also {
        "" => String::new(),
        also => format!("Also called: {also}. "),
    };
    let iso = about.iso.map_or_else(String::new, |iso| {
        format!("ISO 8559-1:2017: {}, {}. ", iso.name, iso.clause)
    });
    let unit = if measure.is_angle() { "°" } else { " mm" };
    format!(
        "### {} (`{}`{twelve})\n{}\n- Alone: {}\n- With help: {}\n- {also}{iso}One reading is good to about {}{unit}.\n",
        about.label, about.key, about.definition, about.alone, about.helped, about.observer_error
    )
}

/// An invented woman of no unusual size, of whom only a few measures were taped.
fn drawn_body() -> Body {
    let tape = Tape::new("Measures")
        .with(Measure::Bust, 920.0)
        .with(Measure::Waist, 750.0)
        .with(Measure::Hip, 990.0)
        .with(Measure::Stature, 1670.0);
    complete(&tape)
}

fn named(drawing: Drawing, title: &str) -> Drawing {
    Drawing {
        title: title.to_owned(),
        ..drawing
    }
}

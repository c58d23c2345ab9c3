//! A line figure of a body, drawn from its measures: front, back and side, with the place of every measure as the tape runs.
//!
//! Knows bodies and panels; no garment, no file, no page. The figure is a picture, not a form to drape on: heights and
//! widths that no tape gives follow a survey's means (see `form.rs`), so a drawing never says more than its measures do.
//! Invariants: girths drawn are perimeters of the sections they were made from; the figure is the same left and right from
//! front and back; outlines are simple closed curves; numbers never lie over each other; same body, same drawing.

mod arm;
mod callout;
mod draw;
mod form;
pub mod guide;
mod heights;
mod leaf;
mod place;
mod profile;
mod section;
mod style;
mod suit;
mod upright;

use body::{Body, Measure};
use geometry::{Curve, Point};
use sheet::{Drawing, Panel};

use form::Form;
use place::Figure;

pub use guide::Group;
pub use style::{CHALK, Style};

/// From where a body is seen.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Side {
    /// From the front.
    Front,
    /// From its right side, facing right.
    Profile,
    /// From the back.
    Back,
}

impl Side {
    /// All sides, in the order in which they stand side by side.
    pub const ALL: [Self; 3] = [Self::Front, Self::Profile, Self::Back];

    /// The name in a file: `front`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Front => "front",
            Self::Profile => "side",
            Self::Back => "back",
        }
    }

    /// The name that a person reads: "Front".
    pub const fn title(self) -> &'static str {
        match self {
            Self::Front => "Front",
            Self::Profile => "Side",
            Self::Back => "Back",
        }
    }
}

/// The body from one side with the places of the measures that are seen from there; the others are left out.
///
/// The panel's origin is the floor below the middle of the body (from the side: below the hip joint); it is drawn at the
/// style's scale. Items that belong to a measure are named by its key.
pub fn view(body: &Body, side: Side, shown: &[Measure], style: &Style) -> Panel {
    draw::view(&Figure::of(Form::of(body)), side, shown, style)
}

/// The body from all sides on which one of the measures is best seen, each measure once, with the list of their numbers.
///
/// One panel, the views on one floor line side by side in the order of [`Side::ALL`].
pub fn sheet_of(body: &Body, shown: &[Measure], style: &Style) -> Drawing {
    let best = |side| {
        shown
            .iter()
            .copied()
            .filter(move |measure| best_side(*measure) == side)
    };
    let views = Side::ALL.map(|side| (side, best(side).collect()));
    let views: Vec<(Side, Vec<Measure>)> = views
        .into_iter()
        .filter(|(_, here): &(_, Vec<_>)| !here.is_empty())
        .collect();
    leaf::sheet(&Figure::of(Form::of(body)), &body.name, &views, style)
}

/// The body from the given sides, every measure on each side from which it is seen, with the list of their numbers.
pub fn sheet_from(body: &Body, sides: &[Side], shown: &[Measure], style: &Style) -> Drawing {
    let views: Vec<(Side, Vec<Measure>)> =
        sides.iter().map(|side| (*side, shown.to_vec())).collect();
    leaf::sheet(&Figure::of(Form::of(body)), &body.name, &views, style)
}

/// The side from which a measure's tape is seen best.
pub fn best_side(measure: Measure) -> Side {
    match measure {
        Measure::ShoulderSlope
        | Measure::AcrossBack
        | Measure::BackWaistLength
        | Measure::ScyeDepth
        | Measure::WaistToHip
        | Measure::WaistToFloor
        | Measure::Elbow
        | Measure::ArmLength
        | Measure::ShoulderToElbow => Side::Back,
        Measure::SideLength
        | Measure::Armscye
        | Measure::BustFrontArc
        | Measure::WaistFrontArc
        | Measure::HipFrontArc
        | Measure::CrotchDepth
        | Measure::Head
        | Measure::Stature => Side::Profile,
        _ => Side::Front,
    }
}

/// The number by which a measure is called on every figure: its place in [`Measure::ALL`], from 1.
pub fn number(measure: Measure) -> usize {
    let place = Measure::ALL.iter().position(|one| *one == measure);
    place.map_or(0, |place| place + 1)
}

/// The outline of the figure, true size in mm, closed, the floor at y = 0; from the side it faces right.
pub fn outline(body: &Body, side: Side) -> Vec<Curve> {
    draw::outline(&Figure::of(Form::of(body)), side)
}

/// The level section round which a girth of the torso or head is taped: its height above the floor and its points, x from
/// the middle to the right, y forward, mm; `None` for a measure that is no such girth.
pub fn section(body: &Body, girth: Measure) -> Option<(f64, Vec<Point>)> {
    let form = Form::of(body);
    form.level(girth)
        .map(|(height, section)| (height, section.points().to_vec()))
}

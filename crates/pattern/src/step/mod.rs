//! Steps: pure functions from a pattern to a pattern, or a finding that says why not; nothing is edited in place.
//!
//! # How to add a step
//!
//! A step is one file. Its module text has the house form (*What it does · When it is used · Example · What can go wrong*);
//! it ends in one constant that declares the step, and that constant stands in [`STEPS`]:
//!
//! ```text
//! pub(super) const STEP: StepKind = StepKind {
//!     name: "widen", group: Group::Size, summary: "…", manual: "… the house form …",
//!     parameters: &[Parameter::needed("edge", Kind::Edge, "edge that moves"), …],
//!     amount: Some("by"),                       // the most that works is looked for along it
//!     apply: widen,                             // fn(&Pattern, &Arguments) -> Result<Done, Finding>
//! };
//! ```
//!
//! `apply` gets values that are checked against the declared parameters and completed by the usual ones; it reads them with
//! [`Arguments`] (`mm`, `spot`, `spots`, `name_of`, `names_of`, `word`, `count`, `is_set`, …). It clones the pattern, changes
//! the clone with the kit, and returns [`Done`]: the pattern, the lines that a drawing of the step shows, and one sentence.
//! [`StepKind::run`] looks at every changed piece afterwards ([`kit::refuse`]: corners closed, clockwise, not crossing itself,
//! darts apart) and refuses with the largest amount that works; a step need not. Callers always use `run`.
//!
//! Look at what a step draws before trusting it: `cargo run -p garment --example look_steps FOLDER` draws every step on the
//! blocks of a dress, before grey, after black, slashes red; add an example of the new step there.
//!
//! # The kit
//!
//! * [`kit::find`]: `piece`, `piece_index`, `edge(s)`, `dart`, `seam` by name, with the nearest names where they are missing.
//! * [`kit::place`]: `find(pattern, place)` and `seat(pattern, place)` resolve a [`kit::Place`] over cut pieces and edges.
//! * [`kit::gap`]: `open` and `open_inside` cut the outline at a length along an edge without changing it; a [`kit::Gap`] is
//!   the place after a run. Gaps that are held are passed along, to be kept right.
//! * [`kit::part`]: `Part::between(from, to, border)` or `Part::about(pivot)`, `first_moves` to choose which side moves,
//!   `carry` to move it with its darts, points and lines.
//! * [`kit::fill`]: `join`, `bridge`, `dart`, `take_out`; join and bridge return a [`kit::fill::Joint`] for
//!   [`kit::true_up::true_up`], which makes the edge smooth again over closed darts, with its length kept where asked.
//! * [`kit::slash`]: `spread` along lines (negative: folds away), `across` for the ends of a level line.
//! * [`kit::closed`]: an edge with its darts closed, and opened again.
//! * [`kit::part_edge`]: an edge parted in two at a place. [`kit::divide`]: a piece cut in two along a line, through darts or not, with all names kept.
//! * [`kit::weld`]: two pieces as one; [`kit::turn_over`]: a piece mirrored or moved whole.
//! * [`kit::style_line`]: a line from edge or dart to edge or dart, as each side of it is drawn.
//! * [`kit::corner`]: corners that move along an edge, and those that lie on them across seams; [`kit::reshape`]: an edge's new
//!   line, with lines inside drawn on to it; [`kit::across`]: places on the other side of a seam.
//! * [`kit::inner`], [`kit::notches`], [`kit::fullness`]: what lies inside, what lies on edges, what seams take up.
//! * [`crate::name`]: `part_of`, `free_name`, `answers_to`.

mod absorb;
mod arguments;
mod back_width;
mod band;
mod bust_point;
mod collar;
mod combine;
mod cut;
mod cut_on_fold;
mod ease_in;
mod extend;
mod fit_girth;
mod flare;
mod forward_shoulder;
mod full_bust;
mod grain;
mod high_hip;
mod join;
mod kind;
pub mod kit;
mod lengthen;
mod mark;
mod match_notches;
mod mirror;
mod notch;
mod redraw;
mod release;
mod round_back;
mod run;
mod shift_level;
mod shorten_dart;
mod shoulder_slope;
mod smooth;
mod split;
mod spread;
mod sway_back;
mod transfer;
mod true_seam;
mod widen;
mod yoke;

pub use arguments::{Arguments, Given, Named, Value};
pub use kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
pub use kit::{Along, On, Place};
pub use run::describe;
pub use transfer::{Target, transfer_dart};

/// All steps, by groups, in the order in which they are shown.
pub const STEPS: &[&StepKind] = &[
    &transfer::STEP,
    &split::STEP,
    &combine::STEP,
    &shorten_dart::STEP,
    &release::STEP,
    &absorb::STEP,
    &lengthen::LENGTHEN,
    &lengthen::SHORTEN,
    &widen::WIDEN,
    &widen::NARROW,
    &fit_girth::STEP,
    &spread::STEP,
    &flare::STEP,
    &redraw::STEP,
    &smooth::STEP,
    &true_seam::STEP,
    &ease_in::STEP,
    &cut::STEP,
    &join::STEP,
    &notch::STEP,
    &match_notches::STEP,
    &mark::STEP,
    &grain::STEP,
    &full_bust::FULL,
    &full_bust::SMALL,
    &bust_point::STEP,
    &sway_back::STEP,
    &round_back::ROUND,
    &round_back::ERECT,
    &shoulder_slope::SQUARE,
    &shoulder_slope::SLOPE,
    &forward_shoulder::STEP,
    &back_width::BROAD,
    &back_width::NARROW,
    &shift_level::WAIST,
    &shift_level::HIP,
    &high_hip::STEP,
    &mirror::STEP,
    &cut_on_fold::STEP,
    &extend::STEP,
    &band::BAND,
    &band::CUFF,
    &collar::STEP,
    &yoke::STEP,
];

/// The step of this name.
pub fn find(name: &str) -> Option<&'static StepKind> {
    STEPS.iter().copied().find(|step| step.name == name)
}

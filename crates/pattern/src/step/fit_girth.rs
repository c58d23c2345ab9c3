//! Takes edges in or lets them out until the closed pattern goes round the body with an ease.
//!
//! **What it does.** Measures the closed pattern at a level, darts closed and gathers drawn in, and moves the edges in or out
//! by as much each as makes body plus ease.
//! **When it is used.** After steps that gave or took width, when the ease at bust, waist or hip is to be what was planned. Name the
//! side edges of bodice and skirt together, so that their waist still matches.
//! **Example.** `fit-girth level="hip" ease="90 mm" edge="front.side, back.side, skirt-front.side, skirt-back.side"`.
//! **What can go wrong.** The edges do not reach the level; an edge beside them is too short to be cut back so far.
//!
//! Invariants: the edges keep their length and shape; the level is body plus ease within 10⁻⁶ mm, all other levels ask for the
//! ease that they have now.

use document::{Allowed, Finding, Place, Quantity};
use geometry::solve;

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::find;
use super::kit::fullness::ask_ease;
use super::kit::shift_edge::shift_edge;
use crate::seam::{Girth, Pattern};

pub(super) const STEP: StepKind = StepKind {
    name: "fit-girth",
    group: Group::Size,
    summary: "takes edges in or out until a level has its ease",
    manual: include_str!("fit_girth.rs"),
    parameters: &[
        Parameter::needed("level", Kind::Text, "level of the body: bust, waist or hip"),
        Parameter::needed("edge", Kind::Edge, "edges that move, all by as much").many(),
        Parameter::usually(
            "ease",
            Kind::Length(-500.0, 3000.0),
            Usual::Nothing,
            "ease over the body; that which was asked for where none is given",
        ),
    ],
    amount: None,
    apply: fit,
};

/// The farthest that an edge moves, mm.
const REACH: f64 = 150.0;

fn fit(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let level = arguments.word("level")?;
    let girth = girth(pattern, level).map_err(|finding| arguments.blame("level", finding))?;
    let ease = if arguments.has("ease") {
        arguments.mm("ease")?
    } else {
        girth.ease
    };
    let edges = edges(pattern, arguments)?;
    let wanted = girth.body + ease;
    let off = |by: f64| {
        moved(pattern, &edges, by).map_or(f64::NAN, |changed| changed.girth(girth) - wanted)
    };
    let step = if off(0.0) > 0.0 { -1.0 } else { 1.0 };
    let by = solve::stepping(0.0, step, REACH, 1e-9, off)
        .map_err(|_| arguments.blame("edge", out_of_reach(pattern, girth, wanted)))?;
    let mut changed = moved(pattern, &edges, by)
        .ok_or_else(|| arguments.blame("edge", out_of_reach(pattern, girth, wanted)))?;
    ask_ease(&mut changed, pattern);
    for one in changed.girths.iter_mut().filter(|one| one.level == level) {
        one.ease = ease;
    }
    let lines = edges.iter().flat_map(|&(piece, edge)| {
        let owner = &changed.pieces[piece];
        let runs = owner.edges[edge].runs.iter();
        runs.map(|run| TraceLine::new(&owner.name, Trace::Moved, run.clone()))
    });
    Ok(Done {
        lines: lines.collect(),
        words: format!(
            "moved {} edges {} by {:.1} mm each: {level} {wanted:.0} mm",
            edges.len(),
            if by < 0.0 { "in" } else { "out" },
            by.abs()
        ),
        pattern: changed,
    })
}

fn girth<'a>(pattern: &'a Pattern, level: &str) -> Result<&'a Girth, Finding> {
    let found = pattern.girths.iter().find(|one| one.level == level);
    found.ok_or_else(|| {
        let names = pattern.girths.iter().map(|one| one.level.as_str());
        find::not_there(
            "level-not-there",
            format!("nothing is compared with the body at a level called {level}"),
            level,
            &names.collect::<Vec<_>>(),
        )
    })
}

fn edges(pattern: &Pattern, arguments: &Arguments) -> Result<Vec<(usize, usize)>, Finding> {
    let named = arguments.names_of("edge").into_iter();
    named
        .map(|one| find::edge(pattern, one).map_err(|finding| arguments.blame("edge", finding)))
        .collect()
}

/// The pattern with edges moved out by so much (in: below zero); `None` where one has no shape then.
fn moved(pattern: &Pattern, edges: &[(usize, usize)], by: f64) -> Option<Pattern> {
    let mut changed = pattern.clone();
    for &(piece, edge) in edges {
        shift_edge(&mut changed.pieces[piece], edge, [by, by])?;
    }
    Some(changed)
}

fn out_of_reach(pattern: &Pattern, girth: &Girth, wanted: f64) -> Finding {
    Finding::error(
        "level-out-of-reach",
        format!(
            "the {} does not come to {wanted:.0} mm, however these edges move",
            girth.level
        ),
    )
    .at(Place::Measure(girth.level.clone()))
    .measured(
        Quantity::mm(pattern.girth(girth)),
        Allowed::Between(Quantity::mm(wanted), Quantity::mm(wanted)),
    )
    .because(
        "an edge that does not reach the level does not change it, and none moves more than 150 mm",
    )
    .cure("name edges at the ends of that level, such as the side seams of front and back")
}

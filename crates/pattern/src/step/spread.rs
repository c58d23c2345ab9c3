//! Slashes a piece along one or many lines and spreads it, or folds it smaller.
//!
//! **What it does.** Cuts from each place of one edge to a place of another and moves the parts away from the centre apart by
//! an amount at the first edge: hinged at the other, or parallel, or by another amount there. A negative amount folds away.
//! **When it is used.** For fullness where it is wanted: a puffed sleeve cap, a gathered front, a hem that swings.
//! **Example.** `spread from="sleeve.cap-front halfway" to="sleeve.hem halfway" by="40 mm"`.
//! **What can go wrong.** Lines cross each other; the spread is so wide that the outline meets itself.
//!
//! Invariants: just the edges that the lines cross grow, each by what was asked, but for truing; folding as much away at the
//! same places gives the piece back where nothing was trued.

use document::{Finding, Place as Spot};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::fullness::{Manner, ask_ease, take_up};
use super::kit::place::Seat;
use super::kit::slash::{self, Slash};
use super::kit::true_up::{Keep, true_all};
use crate::piece::Piece;
use crate::seam::Pattern;

pub(super) const STEP: StepKind = StepKind {
    name: "spread",
    group: Group::Size,
    summary: "slashes a piece along lines and spreads it",
    manual: include_str!("spread.rs"),
    parameters: &[
        Parameter::needed("from", Kind::Place, "where each line begins").many(),
        Parameter::needed(
            "to",
            Kind::Place,
            "where each line ends; one place for all, or one each",
        )
        .many(),
        Parameter::needed(
            "by",
            Kind::Length(-800.0, 800.0),
            "how far each opens where it begins",
        ),
        Parameter::usually(
            "by-end",
            Kind::Length(-800.0, 800.0),
            Usual::Length(0.0),
            "how far each opens where it ends; nothing for a hinge",
        ),
        Parameter::usually(
            "trued",
            Kind::Flag,
            Usual::Flag(true),
            "whether crossed edges are trued",
        ),
        Parameter::usually(
            "as",
            Kind::Choice(&["width", "gathers", "pleats", "ease"]),
            Usual::Word("width"),
            "what seams do with the new length",
        ),
    ],
    amount: Some("by"),
    apply: spread,
};

fn spread(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let (index, slashes) = slashes(pattern, arguments)?;
    let mut changed = pattern.clone();
    let piece = &mut changed.pieces[index];
    let old = pattern.pieces[index].clone();
    let spread = slash::spread(piece, &slashes).map_err(|f| arguments.blame("from", f))?;
    if arguments.is_set("trued") {
        let end = arguments.mm("by-end")?;
        true_all(piece, &spread.joints, |name, length| {
            keep(&old, name, length, end)
        });
    }
    let name = piece.name.clone();
    fill_seams(&mut changed, pattern, index, arguments.word("as")?);
    ask_ease(&mut changed, pattern);
    let by = arguments.mm("by")?;
    let verb = if by < 0.0 { "folded" } else { "spread" };
    let words = format!(
        "{verb} the {name} by {:.0} mm along {}",
        by.abs(),
        if slashes.len() == 1 {
            "one line".into()
        } else {
            format!("each of {} lines", slashes.len())
        }
    );
    let lines = spread.lines.into_iter();
    Ok(Done {
        pattern: changed,
        lines: lines
            .map(|line| TraceLine::new(&name, Trace::Slash, line))
            .collect(),
        words,
    })
}

/// The edge at which lines are hinged keeps its length; the others may change a little when they are trued.
fn keep(old: &Piece, name: &str, length: f64, end: f64) -> Keep {
    let before = old.edge(name).map_or(length, crate::Edge::length);
    if end == 0.0 && (before - length).abs() < 1e-6 {
        Keep::Length(before)
    } else {
        Keep::Shape
    }
}

fn slashes(pattern: &Pattern, arguments: &Arguments) -> Result<(usize, Vec<Slash>), Finding> {
    let (from, to) = (
        arguments.seats(pattern, "from")?,
        arguments.seats(pattern, "to")?,
    );
    let (by, end) = (arguments.mm("by")?, arguments.mm("by-end")?);
    let (Some(first), Some(hinge)) = (from.first(), to.first()) else {
        return Err(arguments.blame("from", unpaired(0, 0)));
    };
    if to.len() != 1 && to.len() != from.len() {
        return Err(arguments.blame("to", unpaired(from.len(), to.len())));
    }
    if from.iter().chain(&to).any(|seat| seat.piece != first.piece) {
        return Err(arguments.blame("to", apart(pattern, *first, *hinge)));
    }
    let place = |seat: &Seat| (seat.edge, seat.along);
    let pairs = from.iter().enumerate();
    let slashes = pairs.map(|(index, seat)| Slash {
        from: place(seat),
        to: place(to.get(index).unwrap_or(hinge)),
        opens: by,
        opens_at_end: end,
    });
    Ok((first.piece, slashes.collect()))
}

fn fill_seams(changed: &mut Pattern, before: &Pattern, index: usize, word: &str) {
    let manner = match word {
        "gathers" => Manner::Gathers,
        "pleats" => Manner::Pleats,
        "ease" => Manner::Ease,
        _ => return,
    };
    let (old, new) = (&before.pieces[index], changed.pieces[index].clone());
    for edge in &new.edges {
        let length = old.edge(&edge.name).map_or(0.0, crate::Edge::length);
        if (edge.length() - length).abs() > 0.01 {
            take_up(changed, before, (&new.name, &edge.name), manner);
        }
    }
}

fn unpaired(from: usize, to: usize) -> Finding {
    Finding::error(
        "lines-without-end",
        format!("{from} lines begin and {to} end"),
    )
    .allowed("one place where all lines end, or one for each")
    .cure("give as many places in “to” as in “from”, or one")
}

fn apart(pattern: &Pattern, from: Seat, to: Seat) -> Finding {
    let name = |seat: Seat| pattern.pieces[seat.piece].name.clone();
    Finding::error(
        "line-leaves-piece",
        format!(
            "a line cannot run from the {} to the {}",
            name(from),
            name(to)
        ),
    )
    .at(Spot::Piece(name(from)))
    .cure("let all lines begin and end on one piece")
}

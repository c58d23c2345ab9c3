//! Openings: the garment can be put on.
//!
//! **What it does.** Takes neckline and waist as they close and adds twice the slit that opens at each. Put on over the head, the
//! head must pass the neckline and raised arms the waist; stepped into, the hips must pass both. One of the two must work.
//! **Why.** A garment that cannot be put on is no garment, and a slit that is too short tears at its end.
//! **Example.** A neckline of 430 mm and a slit of 50 mm for a head of 560 mm: at least 65 mm are needed.
//! **What can go wrong.** Fronts that reach over each other, and cloth that stretches, pass more than is drawn: open fronts are
//! left alone. The head is taken as 575 mm where it was not measured (560 ± 15 mm; common practice, no source).
//!
//! Knows the wearer's girths as plain numbers, and no closing by name. Invariant: an opening of a length gives twice that
//! length to the girth at which it begins (arithmetic).

use document::{Allowed, Finding, Mend, Place, Quantity, written_mm};

use super::{About, Check};
use crate::makeup::Wearer;
use crate::name;
use crate::piece::{Edge, EdgeKind, Layer, Mark, Piece};
use crate::seam::Pattern;

pub(super) const CHECK: Check = Check {
    title: "Openings",
    manual: include_str!("opening.rs"),
    codes: &[(
        "opening-does-not-pass",
        "head, or shoulders, or hips pass neckline and waist",
    )],
    about: About::Wearing,
    run: check,
};

fn check(pattern: &Pattern) -> Vec<Finding> {
    let Some(wearer) = &pattern.makeup.wearer else {
        return Vec::new();
    };
    if opens_over_itself(pattern) {
        return Vec::new();
    }
    let slit = slit(pattern);
    let rooms: Vec<Room> = [neck(pattern, slit.as_ref()), waist(pattern, slit.as_ref())]
        .into_iter()
        .flatten()
        .collect();
    stuck(&rooms, wearer)
        .map(|stuck| cannot_be_put_on(&stuck, slit.as_ref()))
        .into_iter()
        .collect()
}

/// Fronts or skirts that wrap open over their whole length.
fn opens_over_itself(pattern: &Pattern) -> bool {
    shell(pattern).any(|piece| {
        let fronts = ["centre", "front-edge"].into_iter();
        fronts
            .flat_map(|name| piece.edges_of(name))
            .any(|edge| edge.kind == EdgeKind::Finished)
    })
}

fn shell(pattern: &Pattern) -> impl Iterator<Item = &Piece> {
    pattern
        .pieces
        .iter()
        .filter(|piece| piece.cut.layer == Layer::Shell && !pattern.makeup.is_derived(&piece.name))
}

/// Where the garment opens: how far down, from its top, and how far down the waist lies.
#[derive(Clone, Debug, PartialEq)]
struct Slit {
    /// Whether it opens the neckline.
    at_neck: bool,
    from: f64,
    to: f64,
    waist: f64,
    /// Whether its length is given by a closing.
    closed: bool,
}

fn slit(pattern: &Pattern) -> Option<Slit> {
    let closing = pattern.makeup.closings.iter().find(|one| one.opening > 0.0);
    let Some(closing) = closing else {
        return drafted_slit(pattern);
    };
    let first = closing.along.first()?;
    let above: f64 = closing
        .along
        .iter()
        .filter(|stretch| is_bodice(&stretch.piece))
        .map(|stretch| pattern.side_length(std::slice::from_ref(stretch)))
        .sum();
    Some(Slit {
        at_neck: is_bodice(&first.piece)
            && name::root(&first.edge) == "centre"
            && closing.from < 1.0,
        from: closing.from,
        to: closing.from + closing.opening,
        waist: above,
        closed: true,
    })
}

fn is_bodice(piece: &str) -> bool {
    ["front", "back"].contains(&name::root(piece))
}

/// The opening as it is drafted where nothing is said of what closes it: whole in the bodice, in the skirt down to its notch.
fn drafted_slit(pattern: &Pattern) -> Option<Slit> {
    let (mut above, mut below) = (0.0_f64, 0.0_f64);
    for piece in shell(pattern) {
        let edges = piece.edges.iter();
        let opens = edges.filter(|edge| edge.kind == EdgeKind::Opening);
        let open: f64 = opens
            .map(|edge| edge.length() - end_of_opening(piece, edge))
            .sum();
        if is_bodice(&piece.name) {
            above += open;
        } else if !opens_by_itself(piece) {
            below = below.max(open);
        }
    }
    (above + below > 0.0).then_some(Slit {
        at_neck: above > 0.0,
        from: 0.0,
        to: above + below,
        waist: above,
        closed: false,
    })
}

/// Sleeves and bands open where they end; that lets no hips pass.
fn opens_by_itself(piece: &Piece) -> bool {
    ["sleeve", "cuff", "waistband", "band"].contains(&name::root(&piece.name))
}

/// How far above the edge's first corner, at the hem, its opening ends, mm.
fn end_of_opening(piece: &Piece, edge: &Edge) -> f64 {
    let ends = piece.marks.iter().filter_map(|mark| match mark {
        Mark::Notch {
            name,
            edge: on,
            along,
            ..
        } if name == "opening-end" && *on == edge.name => Some(*along),
        _ => None,
    });
    ends.fold(0.0, f64::max)
}

/// How much goes through at one level.
#[derive(Clone, Debug, PartialEq)]
struct Room {
    level: &'static str,
    /// Closed, mm.
    closed: f64,
    /// Opened, mm.
    opened: f64,
    /// What of the slit is opened above the level, mm.
    above: f64,
}

fn neck(pattern: &Pattern, slit: Option<&Slit>) -> Option<Room> {
    let closed: f64 = shell(pattern)
        .filter(|piece| is_bodice(&piece.name))
        .map(|piece| piece.edges_of("neckline").map(Edge::length).sum::<f64>() * piece.halves())
        .sum();
    let open = slit.filter(|slit| slit.at_neck).map_or(0.0, |slit| slit.to);
    (closed > 0.0).then_some(Room {
        level: "neckline",
        closed,
        opened: closed + 2.0 * open,
        above: 0.0,
    })
}

fn waist(pattern: &Pattern, slit: Option<&Slit>) -> Option<Room> {
    let girth = pattern.girths.iter().find(|girth| girth.level == "waist")?;
    let closed = pattern.girth(girth);
    let (open, above) = slit.map_or((0.0, 0.0), |slit| {
        let below = (slit.to - slit.waist).max(0.0);
        if slit.waist > 0.0 {
            (below.min(slit.waist - slit.from).max(0.0), slit.waist)
        } else {
            (below, 0.0)
        }
    });
    let has_skirt = pattern
        .pieces
        .iter()
        .any(|piece| piece.name.starts_with("skirt"));
    // Below a bodice on its own nothing holds the edge together where it opens.
    let opens_through = !has_skirt && slit.is_some();
    Some(Room {
        level: "waist",
        closed,
        opened: if opens_through {
            f64::MAX
        } else {
            closed + 2.0 * open
        },
        above,
    })
}

/// A level that does not let pass what must.
struct Stuck {
    room: Room,
    what: &'static str,
    needs: f64,
}

/// What is in the way, if the garment can be put on neither over the head nor from below.
fn stuck(rooms: &[Room], wearer: &Wearer) -> Option<Stuck> {
    let over_head = rooms.iter().find_map(|room| {
        let (what, needs) = match room.level {
            "neckline" => ("the head", wearer.head),
            _ => ("the shoulders", wearer.shoulders),
        };
        (room.opened < needs).then(|| Stuck {
            room: room.clone(),
            what,
            needs,
        })
    })?;
    let from_below = rooms.iter().find(|room| room.opened < wearer.hip)?;
    if over_head.room.level == "waist" && wearer.hip < over_head.needs {
        return Some(Stuck {
            room: from_below.clone(),
            what: "the hips",
            needs: wearer.hip,
        });
    }
    Some(over_head)
}

fn cannot_be_put_on(stuck: &Stuck, slit: Option<&Slit>) -> Finding {
    let Stuck { room, what, needs } = stuck;
    let longer = ((needs - room.opened) / 2.0).ceil();
    let finding = Finding::error(
        "opening-does-not-pass",
        format!(
            "the {} lets {:.0} mm pass when it is opened, and {what} need {needs:.0} mm",
            room.level, room.opened
        )
        .replace("the head need ", "the head needs "),
    )
    .at(Place::Measure(
        if *what == "the head" { "head" } else { "hip" }.into(),
    ))
    .measured(
        Quantity::mm(room.opened),
        Allowed::AtLeast(Quantity::mm(*needs)),
    )
    .because("an opening gives twice its length to what passes it")
    .cure(format!(
        "open it {longer:.0} mm farther, widen the {}, or let it open at the back",
        room.level
    ));
    match slit {
        Some(slit) if slit.closed => {
            let length = room.above.max(slit.to) + longer - slit.from;
            finding.mend(Mend::property(
                "opening",
                "length",
                written_mm(length),
                format!("makes the opening {length:.0} mm long"),
            ))
        }
        _ => finding.mend(Mend::value(
            "opening",
            "\"back\"",
            "lets the garment open at CB, down to where the hips pass",
        )),
    }
}

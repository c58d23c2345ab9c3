//! What a way of lining costs: pieces, stretches that are sewn by hand and the hours that they take, and what can be altered
//! later.
//!
//! Knows no shapes but lengths. Invariant: what is told is what stands in the makeup.

use document::{Allowed, Finding, Quantity, Severity};
use pattern::makeup::Lined;
use pattern::{Edge, EdgeKind, HandSewn, Layer, LiningWay, Mark, Pattern, Piece, name};

use super::super::figures::{
    BASTING_STITCH, FELLING_STITCH, HAND_STITCHES, LEAST_TURN_OF_CLOTH, TURNING_GAP,
};
use super::hem::HemWay;
use super::inner::{Inner, in_garment};
use crate::recipe::Written;
use crate::recipe::parts::LiningWish;

/// Puts what a lining comes to into the makeup, and says it.
pub(super) fn tell(
    pattern: &mut Pattern,
    shell: &Pattern,
    inners: &[Inner],
    wish: &Written<LiningWish>,
    hems: &[(usize, String, HemWay)],
) {
    let way = wish.value.way;
    let hand = match way {
        LiningWay::Mounted => vec![basted(inners)],
        LiningWay::Bagged => vec![felled("turning gap, closed", TURNING_GAP)],
        LiningWay::Open => open(shell, inners, hems),
    };
    let lined = Lined {
        way,
        pieces: inners.iter().map(|inner| inner.piece.cut.count).sum(),
        alterable: way != LiningWay::Bagged,
    };
    pattern.findings.push(note(&lined, &hand, wish));
    if way == LiningWay::Mounted {
        pattern.findings.extend(turn_of_cloth(shell, inners, wish));
    }
    pattern.makeup.lined = Some(lined);
    pattern.makeup.by_hand.extend(hand);
}

fn felled(what: &str, length: f64) -> HandSewn {
    HandSewn {
        what: what.into(),
        length,
        stitch: FELLING_STITCH,
    }
}

/// Both layers are held together all round before they are sewn as one.
fn basted(inners: &[Inner]) -> HandSewn {
    let round = |inner: &Inner| {
        let sewn = inner.piece.edges.iter();
        sewn.filter(|edge| edge.kind != EdgeKind::Fold)
            .map(|edge| in_garment(&inner.piece, edge))
            .sum::<f64>()
    };
    HandSewn {
        what: "layers basted together all round".into(),
        length: inners.iter().map(round).sum(),
        stitch: BASTING_STITCH,
    }
}

/// What is felled of a lining whose edges stay open until the end.
fn open(shell: &Pattern, inners: &[Inner], hems: &[(usize, String, HemWay)]) -> Vec<HandSewn> {
    let sum = |wanted: &dyn Fn(&Piece, &Edge) -> bool| -> f64 {
        let pieces = inners.iter().map(|inner| &inner.piece);
        pieces
            .flat_map(|piece| piece.edges.iter().map(move |edge| (piece, edge)))
            .filter(|(piece, edge)| wanted(piece, edge))
            .map(|(piece, edge)| in_garment(piece, edge))
            .sum()
    };
    let root = |piece: &Piece| name::root(&piece.name).to_owned();
    let is_body = |piece: &Piece| ["front-lining", "back-lining"].contains(&root(piece).as_str());
    let sleeved = inners
        .iter()
        .any(|inner| name::root(&inner.upon) == "sleeve");
    let hem = |inner: &usize, edge: &String| {
        let piece = &inners[*inner].piece;
        piece.edge(edge).map_or(0.0, |edge| in_garment(piece, edge))
    };
    let sewn_hems = hems.iter().filter(|(_, _, way)| way.is_sewn());
    let lengths = [
        (
            "neckline, felled",
            sum(&|piece, edge| is_body(piece) && edge.answers_to("neckline")),
        ),
        (
            if sleeved {
                "sleeves, felled at the armholes"
            } else {
                "armholes, felled"
            },
            sum(&|piece, edge| is_body(piece) && edge.answers_to("armhole")),
        ),
        ("opening, felled", 2.0 * opening(shell)),
        (
            "waist, felled",
            sum(&|piece, edge| {
                is_body(piece) && edge.answers_to("waist") && edge.kind == EdgeKind::Seam
            }),
        ),
        (
            "hems, felled",
            sewn_hems.map(|(inner, edge, _)| hem(inner, edge)).sum(),
        ),
    ];
    let there = lengths.into_iter().filter(|(_, length)| *length > 0.5);
    there.map(|(what, length)| felled(what, length)).collect()
}

/// Length of what opens, mm: of the closings, or of open centre edges down to where they are closed again.
pub(super) fn opening(shell: &Pattern) -> f64 {
    let known: f64 = shell.makeup.closings.iter().map(|one| one.opening).sum();
    if known > 0.0 {
        return known;
    }
    let pieces = shell.pieces.iter();
    pieces
        .flat_map(|piece| piece.edges.iter().map(move |edge| (piece, edge)))
        .filter(|(_, edge)| edge.kind == EdgeKind::Opening)
        .map(|(piece, edge)| edge.length() - closed_below(piece, edge))
        .sum()
}

/// How much of an open edge is closed again below the end of its opening, mm; centre edges run up the piece.
fn closed_below(piece: &Piece, edge: &Edge) -> f64 {
    let end = piece.marks.iter().find_map(|mark| match mark {
        Mark::Notch {
            name,
            edge: on,
            along,
            ..
        } if *on == edge.name && name == "opening-end" => Some(*along),
        _ => None,
    });
    end.unwrap_or(0.0)
}

fn note(lined: &Lined, hand: &[HandSewn], wish: &Written<LiningWish>) -> Finding {
    let length: f64 = hand.iter().map(|one| one.length).sum();
    let [slow, quick] =
        HAND_STITCHES.map(|pace| hand.iter().map(|one| one.minutes(pace)).sum::<f64>());
    let parts: Vec<String> = hand
        .iter()
        .map(|one| format!("{} {:.2} m", one.what, one.length / 1000.0))
        .collect();
    let (code, later) = match lined.way {
        LiningWay::Mounted => (
            "lining-mounted",
            "shell and mounting are let out together, seam by seam",
        ),
        LiningWay::Open => (
            "lining-open",
            "every seam of the shell can be reached and let out, for the lining hangs on hand stitches only",
        ),
        LiningWay::Bagged => (
            "lining-bagged",
            "later alterations are reached through the turning gap only",
        ),
    };
    Finding::new(
        code,
        Severity::Note,
        format!(
            "the {} lining is {} pieces and {:.1} m by hand, {}",
            lined.way.word(),
            lined.pieces,
            length / 1000.0,
            time([quick, slow])
        ),
    )
    .at_text(&wish.span, "lined here")
    .because(later)
    .cure(parts.join("; "))
}

/// What the mounting has too much of where it lies inside the shell, mm on each piece: the way round is shorter there by 2π times
/// half of both thicknesses, shared by the pieces that go round. Told where a hand would feel it; what is less is lost in
/// basting.
fn turn_of_cloth(shell: &Pattern, inners: &[Inner], wish: &Written<LiningWish>) -> Option<Finding> {
    let thickness = |layer: Layer| {
        shell
            .makeup
            .cloth(layer)
            .map_or(0.0, |cloth| cloth.thickness)
    };
    let apart = (thickness(Layer::Shell) + thickness(Layer::Lining)) / 2.0;
    let waists = inners.iter().filter(|inner| {
        let body = ["front", "back"].contains(&name::root(&inner.upon));
        body && inner.piece.edges_of("waist").next().is_some()
    });
    let round = waists
        .map(|inner| inner.piece.halves())
        .sum::<f64>()
        .max(2.0);
    let each = std::f64::consts::TAU * apart / round;
    (each >= LEAST_TURN_OF_CLOTH).then(|| {
        Finding::note(
            "mounting-takes-turn-of-cloth",
            format!("the mounting lies {apart:.1} mm inside the shell and has {each:.1} mm too much in each piece"),
        )
        .at_text(&wish.span, "mounted here")
        .measured(
            Quantity::mm(each),
            Allowed::AtMost(Quantity::mm(LEAST_TURN_OF_CLOTH)),
        )
        .because("the inner of two layers goes round on a shorter way, and is cut as wide as the outer one")
        .cure("baste the layers together over a curve, shell outside, and trim what stands out of the mounting at the edges")
    })
}

/// A span of minutes in words: hours from an hour and a half on.
fn time([least, most]: [f64; 2]) -> String {
    if most < 90.0 {
        format!("{least:.0} to {most:.0} minutes")
    } else {
        format!("{:.1} to {:.1} hours", least / 60.0, most / 60.0)
    }
}

//! A peaked waist: the shell's front is drawn down to a point at CF and felled over a lining whose waist stays straight.
//!
//! **What it does.** Draws the waist of the shell's front down in a smooth curve, from nothing at the side seam to the peak at
//! CF; joins the skirt to the waist of the lining instead; leaves the shell's edge with a turned allowance, to be felled over
//! that seam by hand.
//! **When it is used.** For a bodice that ends in a point over a skirt that is drafted, gathered and sewn on a straight waist.
//! **Example.** `waist peak="30 mm"`; `waist peak="0 mm"` undoes it.
//! **What can go wrong.** There is no lining with a waist of its own: a mounted one is sewn with the shell as one.
//!
//! Invariants: the side seam keeps its length, the lining and the skirt keep everything; a peak of 0 changes nothing at all.

mod peak;

use document::{Finding, Mend, Span};
use pattern::{EdgeKind, Fullness, HandSewn, LiningWay, Pattern, Piece, Seam, Stretch, name};

use super::Asked;
use super::figures::{FELLED_EDGE, FELLING_STITCH};
use crate::block::skirt::found::is_skirt;
use crate::recipe::Written;

pub(super) fn derive(pattern: &mut Pattern, asked: &Asked<'_>) -> Result<(), Finding> {
    let Some(peak) = asked.recipe.parts.waist.as_ref() else {
        return Ok(());
    };
    if peak.value == 0.0 {
        return Ok(());
    }
    needs_lining(pattern, &peak.span)?;
    if !pattern.seams.iter().any(joins_front_and_skirt) {
        return Err(no_waist(&peak.span));
    }
    let before = pattern.clone();
    peak::lower(pattern, peak.value).ok_or_else(|| no_shape(&peak.span))?;
    know_prolonged(pattern, &before);
    to_lining(pattern);
    let felled = loosen(pattern);
    pattern.findings.push(told(peak, felled));
    pattern.makeup.by_hand.push(HandSewn {
        what: "front of the shell, felled over the waist seam".into(),
        length: felled,
        stitch: FELLING_STITCH,
    });
    Ok(())
}

/// Whether an edge is a part of the waist of the shell's front.
fn is_front_waist(piece: &str, edge: &str) -> bool {
    name::root(piece) == "front" && name::root(edge) == "waist"
}

fn joins_front_and_skirt(seam: &Seam) -> bool {
    let mut sides = seam.held.iter().chain(&seam.worked);
    sides
        .clone()
        .any(|one| is_front_waist(&one.piece, &one.edge))
        && sides.any(|one| is_skirt(&one.piece))
}

/// The skirt hangs on the lining; on the shell's front nothing is sewn or measured any more.
fn to_lining(pattern: &mut Pattern) {
    let move_over = |stretch: &mut Stretch| {
        if is_front_waist(&stretch.piece, &stretch.edge) {
            stretch.piece = name::derived(&stretch.piece, "lining");
        }
    };
    for seam in pattern
        .seams
        .iter_mut()
        .filter(|seam| joins_front_and_skirt(seam))
    {
        seam.held
            .iter_mut()
            .chain(&mut seam.worked)
            .for_each(move_over);
    }
    for (piece, edge) in pattern.girths.iter_mut().flat_map(|girth| &mut girth.parts) {
        if is_front_waist(piece, edge) {
            *piece = name::derived(piece, "lining");
        }
    }
    let lies_on_front = |mate: &Seam| {
        let mut sides = mate.held.iter().chain(&mate.worked);
        sides.any(|one| is_front_waist(&one.piece, &one.edge))
    };
    pattern.makeup.mates.retain(|mate| !lies_on_front(mate));
}

/// What ends at the waist of the shell grew with it; the lining behind it did not.
fn know_prolonged(pattern: &mut Pattern, before: &Pattern) {
    let grown = |side: &[Stretch]| pattern.side_length(side) - before.side_length(side);
    let mut mates = pattern.makeup.mates.clone();
    for mate in &mut mates {
        let more = grown(&mate.worked) - grown(&mate.held);
        if more.abs() < 1e-6 || matches!(mate.fullness, Fullness::Gathered(_)) {
            continue;
        }
        let more = more
            + match mate.fullness {
                Fullness::Eased(known) | Fullness::Pleated(known) => known,
                _ => 0.0,
            };
        if more < 0.0 {
            std::mem::swap(&mut mate.held, &mut mate.worked);
        }
        mate.fullness = Fullness::Eased(more.abs());
    }
    pattern.makeup.mates = mates;
}

/// Makes the shell's front waist an edge on its own; tells its length in the whole garment, mm.
fn loosen(pattern: &mut Pattern) -> f64 {
    let mut felled = 0.0;
    for piece in &mut pattern.pieces {
        let halves = piece.halves();
        for edge in &mut piece.edges {
            if is_front_waist(&piece.name, &edge.name) {
                edge.kind = EdgeKind::Finished;
                edge.allowance = FELLED_EDGE;
                felled += edge.length() * halves;
            }
        }
        piece.marks.retain(|mark| match mark {
            pattern::Mark::Notch { edge, .. } => !is_front_waist(&piece.name, edge),
            pattern::Mark::Point { .. } => true,
        });
    }
    felled
}

/// The parts of the shell's front waist from side to centre: number of the piece and of the edge.
fn front_waist(pattern: &Pattern) -> Vec<(usize, usize)> {
    let number = |piece: &Piece| pattern.pieces.iter().position(|one| one.name == piece.name);
    let whole = Stretch::forwards("front", "waist");
    let edges = pattern.edges_of(&whole).into_iter();
    edges
        .filter_map(|(piece, edge)| Some((number(piece)?, piece.edge_index(&edge.name)?)))
        .collect()
}

fn needs_lining(pattern: &Pattern, span: &Span) -> Result<(), Finding> {
    let finding = |what: &str| {
        Finding::error("peak-without-lining", what)
            .at_text(span, "asked for here")
            .allowed("a garment with an open or a bagged lining")
            .because("the skirt hangs on the straight waist of the lining, over which the peak is felled")
    };
    match pattern.makeup.lined.as_ref().map(|lined| lined.way) {
        None => Err(finding("a peaked waist needs a lining, and there is none")
            .cure("line the garment, or take the peak away")
            .mend(Mend::line(
                &[],
                "lining \"open\"",
                "lines the garment with one that is felled by hand",
            ))
            .mend(without_peak())),
        Some(LiningWay::Mounted) => Err(finding(
            "a mounted lining has no waist of its own for a peaked shell",
        )
        .cure("line the garment in another way, or take the peak away")
        .mend(Mend::value(
            "lining",
            "\"open\"",
            "lets the lining hang free of the shell",
        ))
        .mend(without_peak())),
        Some(_) => Ok(()),
    }
}

fn without_peak() -> Mend {
    Mend::property("waist", "peak", "\"0 mm\"", "leaves the waist straight")
}

fn no_waist(span: &Span) -> Finding {
    Finding::error(
        "peak-without-waist",
        "there is no seam between a front and a skirt that could be peaked",
    )
    .at_text(span, "asked for here")
    .allowed("a bodice and a skirt that are joined at the waist")
    .cure("take the line away")
    .mend(Mend::remove("waist", "takes the peak away"))
}

fn no_shape(span: &Span) -> Finding {
    Finding::error(
        "peak-without-shape",
        "the waist of the front cannot be drawn down to this peak",
    )
    .at_text(span, "asked for here")
    .allowed("a front that is a half with CF at its edge, and a peak that its darts reach")
    .because(
        "the peak lies at CF, and every dart and seam that ends at the waist is prolonged to it",
    )
    .cure("ask for less, or cut the front on the fold or with a seam at CF")
}

fn told(peak: &Written<f64>, felled: f64) -> Finding {
    Finding::note(
        "waist-peaked",
        format!(
            "the skirt hangs on the lining; {:.2} m of the front are turned in and felled over the seam by hand",
            felled / 1000.0
        ),
    )
    .at_text(&peak.span, "asked for here")
    .because("the shell's own waist is sewn to nothing")
}

//! What a facing meets: another facing on the shoulder, and the width of its cloth.
//!
//! Knows outlines and cloths, not how a facing was drawn. Invariant: each finding says what its cure costs in seams and pieces.

use document::{Allowed, Change, Finding, Mend, Place, Quantity, written_mm};
use geometry::curve::unit;
use geometry::{Tolerance, Vec2};
use pattern::{Edge, Laid, Layer, Pattern, Piece};

use super::make::Made;
use super::words;
use crate::part::figures;
use crate::recipe::parts::{FacingAt, FacingWish};

/// Findings about facings that are ready to be added.
pub(super) fn findings(shell: &Pattern, all: &[(&FacingWish, Vec<Made>)]) -> Vec<Finding> {
    let mut findings: Vec<Finding> = overlap(shell, all).into_iter().collect();
    for (wish, made) in all {
        findings.extend(narrow(wish));
        findings.extend(made.iter().filter_map(|one| width(shell, one, wish)));
    }
    findings
}

/// A facing that hardly lies flat.
fn narrow(wish: &FacingWish) -> Option<Finding> {
    let least = figures::FACING_WIDTH.floor();
    (wish.width < least).then(|| {
        Finding::note(
            "facing-narrow",
            format!("the {} is {:.0} mm wide", words(wish.at), wish.width),
        )
        .at_text(&wish.span, "asked for here")
        .measured(
            Quantity::mm(wish.width),
            Allowed::AtLeast(Quantity::mm(least)),
        )
        .because("a narrow facing does not lie flat and comes out when the garment is worn")
        .cure(format!("ask for {least:.0} mm or more"))
    })
}

/// Neck and armhole facing that reach each other on a shoulder.
fn overlap(shell: &Pattern, all: &[(&FacingWish, Vec<Made>)]) -> Option<Finding> {
    let widest = |at: FacingAt| {
        let (wish, made) = all.iter().find(|(wish, _)| wish.at == at)?;
        let width = made.iter().map(|one| one.width).fold(0.0, f64::max);
        Some((*wish, width))
    };
    let (neck, armhole) = (widest(FacingAt::Neck)?, widest(FacingAt::Armhole)?);
    let shoulder = shell
        .pieces_of("front")
        .flat_map(|piece| piece.edges_of("shoulder"))
        .map(Edge::length)
        .sum::<f64>();
    let both = neck.1 + armhole.1;
    if shoulder <= 0.0 || both <= shoulder {
        return None;
    }
    let width = written_mm(neck.1.max(armhole.1));
    let mend = Mend {
        words: "Faces neck and armhole in one.".into(),
        changes: vec![
            Change::Remove {
                statement: (&["facings", "neck"]).into(),
            },
            Change::Remove {
                statement: (&["facings", "armhole"]).into(),
            },
            Change::Line {
                block: "facings".into(),
                line: format!("all-in-one width={width}"),
            },
        ],
    };
    Some(
        Finding::warning(
            "facings-meet-on-shoulder",
            format!("neck and armhole facing together are {both:.0} mm wide on a shoulder of {shoulder:.0} mm"),
        )
        .at_text(&neck.0.span, "one")
        .at_text(&armhole.0.span, "the other")
        .measured(Quantity::mm(both), Allowed::AtMost(Quantity::mm(shoulder)))
        .because("where they lie on each other the shoulder is two layers thicker, and neither can be turned without the other")
        .cure("face neck and armhole in one, or make both narrower")
        .mend(mend),
    )
}

/// A facing that its cloth is too narrow for.
fn width(shell: &Pattern, made: &Made, wish: &FacingWish) -> Option<Finding> {
    let cloth = shell.makeup.cloth(Layer::Facing)?;
    let piece = &made.piece;
    let across = across_grain(piece)?;
    let (most, how) = match piece.cut.laid {
        Laid::OnFold(_) => (cloth.width / 2.0, "from the fold"),
        Laid::Pair | Laid::Single => (cloth.width, "across the grain"),
    };
    if across <= most {
        return None;
    }
    let title = piece.title().to_lowercase();
    let finding = Finding::error(
        "facing-wider-than-cloth",
        format!("the {title} is {across:.0} mm wide {how}, and its cloth gives {most:.0} mm"),
    )
    .at(Place::Piece(piece.name.clone()))
    .at_text(&wish.span, "asked for here")
    .measured(Quantity::mm(across), Allowed::AtMost(Quantity::mm(most)))
    .because("a piece is cut from the width of its cloth");
    Some(match (&piece.cut.laid, &wish.without_seam) {
        (Laid::OnFold(fold), _) if across <= cloth.width => pieced(finding, piece, fold, wish),
        (_, Some(seam)) => with_its_seam(finding, made, &seam.value, wish),
        _ => finding.cure("make it narrower, or take a wider cloth"),
    })
}

/// The cure by a seam at the centre, and what it costs.
fn pieced(finding: Finding, piece: &Piece, fold: &str, wish: &FacingWish) -> Finding {
    let back = format!("{} {fold}", piece.name).contains("back");
    let (centre, value) = if back {
        ("CB", "\"centre-back\"")
    } else {
        ("CF", "\"centre-front\"")
    };
    let seam = piece.edge(fold).map_or(0.0, Edge::length);
    let cost = format!("{seam:.0} mm of seam more and two pieces instead of one");
    finding
        .cure(format!(
            "piece it at {centre}: {cost}; or take a wider cloth"
        ))
        .mend(Mend::property(
            &["facings", line(wish)],
            "piece-at",
            value,
            format!("cuts the facing in two halves with a seam at {centre}: {cost}"),
        ))
}

/// The cure by the seam that was joined away, and what it costs.
fn with_its_seam(finding: Finding, made: &Made, seam: &str, wish: &FacingWish) -> Finding {
    let name = line(wish);
    let cost = format!(
        "{:.0} mm of seam more on each side and two pieces instead of one",
        made.width
    );
    let changes = vec![
        Change::Remove {
            statement: (&["facings", name]).into(),
        },
        Change::Line {
            block: "facings".into(),
            line: format!("{name} width={}", written_mm(wish.width)),
        },
    ];
    finding
        .cure(format!("leave its {seam} seam in: {cost}"))
        .mend(Mend {
            words: format!("Leaves the {seam} seam in the facing: {cost}."),
            changes,
        })
}

/// Its line in the block of facings.
const fn line(wish: &FacingWish) -> &'static str {
    match wish.at {
        FacingAt::Neck => "neck",
        FacingAt::Armhole => "armhole",
        FacingAt::AllInOne => "all-in-one",
        FacingAt::Waist => "waist",
    }
}

/// How far a piece reaches across its grain as it is cut, mm; none where it has no cutting line, which is another finding.
fn across_grain(piece: &Piece) -> Option<f64> {
    let along = unit(piece.grain);
    let across = Vec2::new(-along.y, along.x);
    let outline = piece.cutting_outline().ok()?;
    let reach: Vec<f64> = outline
        .curves()
        .flat_map(|curve| curve.flattened(Tolerance::DRAWING))
        .map(|point| point.to_vec2().dot(across))
        .collect();
    let most = reach.iter().copied().fold(f64::NEG_INFINITY, f64::max);
    let least = reach.iter().copied().fold(f64::INFINITY, f64::min);
    Some(most - least)
}

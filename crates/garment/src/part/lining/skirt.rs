//! A lining skirt of another cut than the shell's: a smooth one under gathers, a straight one with slits under a circle.
//!
//! It is drafted for the same body and waist as the shell's and meets it there at the length as sewn. Knows the shell's skirt by
//! its waist only. Invariant: both waists, their fullness taken up, are as long as the waist between them.

use document::{Finding, Mend, Place};
use pattern::{Fullness, Girth, Layer, Lies, Mark, Pattern, Piece, Seam, Stretch, name};

use super::super::figures::LINING_HEM;
use super::inner::Inner;
use super::sewn;
use crate::assemble::{self, allowances};
use crate::block::person::Person;
use crate::block::skirt::{self, DartsToMeet, Skirt, SkirtCut, SkirtWish, WaistPart, found};
use crate::part::Asked;
use crate::recipe::Written;
use crate::recipe::parts::{LiningSkirt, LiningWish};

/// Drafts a lining skirt, so much shorter than the shell's, mm.
pub(super) fn draft(
    shell: &Pattern,
    asked: &Asked<'_>,
    wish: &Written<LiningSkirt>,
    shorter: f64,
) -> Result<Skirt, Finding> {
    let Some(part) = &asked.recipe.skirt else {
        return Err(no_skirt(wish));
    };
    if matches!(part.value.cut, SkirtCut::Wrapped(_))
        || matches!(wish.value.cut, SkirtCut::Wrapped(_))
    {
        return Err(wrapped(wish));
    }
    let own = crate::recipe::SkirtPart {
        cut: wish.value.cut,
        full: wish.value.full,
        length: part.value.length - shorter,
        laid: wish.value.laid,
    };
    let skirt_wish = SkirtWish {
        cut: own.cut,
        full: own.full,
        waist_ease: asked.recipe.ease.bodice.waist,
        hip_ease: asked.recipe.ease.hip,
        length: own.length,
        back_seam: asked.recipe.opens_at_back(),
        room: Some(assemble::room(asked.recipe, &own, Layer::Lining)),
    };
    let darts = DartsToMeet {
        front: first_from_centre(shell, "front"),
        back: first_from_centre(shell, "back"),
    };
    let drafted = skirt::draft(&Person::new(asked.body), &skirt_wish, darts);
    drafted
        .map(|skirt| skirt.derived("lining"))
        .map_err(|finding| finding.at_text(&wish.span, "lined with this skirt"))
}

/// Length along the waist from the centre line to the first dart or seam that ends there, mm.
fn first_from_centre(shell: &Pattern, piece: &str) -> Option<f64> {
    let parts = shell.pieces_of(piece).count();
    let at_centre = |piece: &&Piece| piece.edges_of("centre").next().is_some();
    let piece = shell.pieces_of(piece).find(at_centre)?;
    let waist = piece.edges_of("waist").last()?;
    let last = waist.runs.last()?;
    (waist.runs.len() > 1 || parts > 1).then(|| last.length())
}

/// Gives the pieces of a lining skirt what the shell's have from the recipe: cloth, allowances, place.
pub(super) fn dress(
    skirt: &mut Skirt,
    asked: &Asked<'_>,
    wish: &LiningWish,
    span: &document::Span,
) {
    for piece in &mut skirt.pieces {
        piece.cut.layer = Layer::Lining;
        piece.asked = Some(span.clone());
        for edge in &mut piece.edges {
            edge.allowance = match edge.kind {
                pattern::EdgeKind::Hem => wish.hem.unwrap_or(LINING_HEM),
                _ => allowances::allowance(edge, &asked.recipe.allowances, false),
            };
        }
    }
}

/// Where its pieces lie: on the shell piece of their name, or on the first of the shell's skirt.
pub(super) fn lies(shell: &Pattern, skirt: &Skirt) -> Vec<Lies> {
    let upon = |piece: &Piece| {
        let same =
            found::pieces(shell).find(|one| name::derived(&one.name, "lining") == piece.name);
        same.or_else(|| found::pieces(shell).next())
    };
    let pieces = skirt.pieces.iter();
    pieces
        .filter_map(|piece| {
            Some(Lies {
                piece: piece.name.clone(),
                upon: upon(piece)?.name.clone(),
                placed: geometry::Affine::IDENTITY,
            })
        })
        .collect()
}

/// Its seams to the bodice of the lining: front and back apart where it has a seam at the side line.
pub(super) fn waist_seams(pattern: &Pattern, inners: &[Inner], skirt: &Skirt) -> Vec<Seam> {
    let seams = plain_waist_seams(pattern, skirt).into_iter();
    seams
        .map(|seam| sewn::adjusted(pattern, inners, seam))
        .collect()
}

fn plain_waist_seams(pattern: &Pattern, skirt: &Skirt) -> Vec<Seam> {
    let bodice = |piece: &str| name::derived(piece, "lining");
    if pattern.pieces_of(&bodice("front")).next().is_none() {
        return Vec::new();
    }
    let joined = |name: &str, held: Vec<Stretch>, parts: &[WaistPart]| Seam {
        name: name.into(),
        held,
        worked: parts.iter().map(|part| part.stretch.clone()).collect(),
        fullness: skirt::fullness(parts, pattern),
        runs_on: [false, false],
    };
    let front = Stretch::backwards(&bodice("front"), "waist");
    let Some(side) = skirt.before_side else {
        let held = vec![front, Stretch::forwards(&bodice("back"), "waist")];
        return vec![joined("lining-waist", held, &skirt.waist)];
    };
    let (before, behind) = skirt.waist.split_at(side);
    let from_centre: Vec<WaistPart> = behind.iter().rev().map(turned).collect();
    let back = Stretch::backwards(&bodice("back"), "waist");
    vec![
        joined("lining-waist-front", vec![front], before),
        joined("lining-waist-back", vec![back], &from_centre),
    ]
}

fn turned(part: &WaistPart) -> WaistPart {
    let mut part = part.clone();
    part.stretch.backwards = !part.stretch.backwards;
    part
}

/// The mate of both waists at their length as sewn; nothing where the shell's waist is sewn to nothing that is known.
pub(super) fn waist_mate(pattern: &Pattern, shell: &Pattern, skirt: &Skirt) -> Option<Seam> {
    let edges = found::edges(shell, found::On::Waist);
    if edges.is_empty() || edges.iter().any(|(piece, _)| piece.halves() < 2.0) {
        return None;
    }
    let outside: Vec<Stretch> = edges
        .iter()
        .map(|(piece, edge)| Stretch::forwards(&piece.name, &edge.name))
        .collect();
    let inside: Vec<Stretch> = skirt
        .waist
        .iter()
        .map(|part| part.stretch.clone())
        .collect();
    let (between, of_shell) = shell_waist(shell)?;
    let of_lining = apply(skirt::fullness(&skirt.waist, pattern), between);
    let gathered = matches!(
        skirt::fullness(&skirt.waist, pattern),
        Fullness::Gathered(_)
    ) || shell
        .seams
        .iter()
        .filter(|seam| is_waist(seam))
        .any(|seam| matches!(seam.fullness, Fullness::Gathered(_)));
    let ((held, short), (worked, long)) = if of_shell < of_lining {
        ((outside, of_shell), (inside, of_lining))
    } else {
        ((inside, of_lining), (outside, of_shell))
    };
    let fullness = match long - short {
        more if more < 0.01 => Fullness::None,
        _ if gathered => Fullness::Gathered(long / short),
        more => Fullness::Pleated(more),
    };
    Some(Seam {
        name: "lining-skirt-waist".into(),
        held,
        worked,
        fullness,
        runs_on: [false, false],
    })
}

/// Half the waist of the shell as sewn, and as its skirt is cut, mm.
fn shell_waist(shell: &Pattern) -> Option<(f64, f64)> {
    let seams: Vec<&Seam> = shell.seams.iter().filter(|seam| is_waist(seam)).collect();
    let sums = seams.iter().fold((0.0, 0.0), |(sewn, cut), seam| {
        let held = shell.side_length(&seam.held);
        // A waistband goes round both halves.
        let share = if seam.name == "waistband" { 0.5 } else { 1.0 };
        (
            sewn + share * held,
            cut + share * apply(seam.fullness, held),
        )
    });
    if sums.0 > 0.0 {
        return Some(sums);
    }
    let girth: &Girth = shell.girths.iter().find(|girth| girth.level == "waist")?;
    let half = shell.girth(girth) / 2.0;
    Some((half, half * girth.gathered))
}

/// Whether a seam holds the shell's skirt at the waist.
fn is_waist(seam: &Seam) -> bool {
    let of_skirt = |one: &Stretch| found::is_skirt(&one.piece) && name::root(&one.edge) == "waist";
    seam.worked.iter().any(of_skirt) && !seam.held.iter().any(of_skirt)
}

/// A length as cut for a length as sewn.
fn apply(fullness: Fullness, sewn: f64) -> f64 {
    match fullness {
        Fullness::None => sewn,
        Fullness::Gathered(times) => sewn * times,
        Fullness::Eased(more) | Fullness::Pleated(more) => sewn + more,
    }
}

/// Lets the side seams of a piece open from the hem up by so much, mm; tells whether there are any.
pub(super) fn slit(piece: &mut Piece, by: f64) -> bool {
    let count = piece.edges.len();
    let is_hem = |index: usize| name::root(&piece.edges[index % count].name) == "hem";
    let sides = piece.edges.iter().enumerate();
    let marks: Vec<Mark> = sides
        .filter(|(_, edge)| edge.answers_to("side") && edge.length() > by)
        .filter_map(|(index, edge)| {
            let along = if is_hem(index + 1) {
                edge.length() - by
            } else if is_hem(index + count - 1) {
                by
            } else {
                return None;
            };
            Some(Mark::Notch {
                name: "slit".into(),
                edge: edge.name.clone(),
                along,
                strokes: 1,
            })
        })
        .collect();
    let open = !marks.is_empty();
    piece.marks.extend(marks);
    open
}

fn no_skirt(wish: &Written<LiningSkirt>) -> Finding {
    Finding::error(
        "lining-skirt-without-skirt",
        "the lining has a skirt and the garment has none",
    )
    .at_text(&wish.span, "under which skirt?")
    .cure("take the line away, or add a skirt")
    .mend(Mend::remove(
        &["lining", "skirt"],
        "lines the garment without a skirt",
    ))
}

fn wrapped(wish: &Written<LiningSkirt>) -> Finding {
    Finding::error(
        "lining-of-wrapped-skirt",
        "a wrapped skirt is lined in its own cut only",
    )
    .at_text(&wish.span, "another cut")
    .at(Place::Piece("skirt-front".into()))
    .because("both layers have to lie over each other in front and open together")
    .cure("take the line away")
    .mend(Mend::remove(
        &["lining", "skirt"],
        "lines the skirt in its own cut",
    ))
}

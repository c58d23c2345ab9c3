//! Vents and slits: an opening at the lower end of a seam, so that a narrow hem lets its wearer walk.
//!
//! **What it does.** A vent adds an extension to both sides of a seam from a mark down to the hem, its top slanting down at 45° from
//! the seam; one side folds back behind the other or lies under it. A slit turns both sides back. A lining gets a slit beside it.
//! **When it is used.** In straight and tapered skirts, at centre back or at the sides; in coats.
//! **Example.** `vents { vent seam="centre-back" height="180 mm" width="40 mm" }`.
//! **What can go wrong.** The seam does not reach a hem, lies on the fold, or is shorter than the vent; a dart opens in it.
//!
//! Invariants: the seam above keeps its name and both its sides their common length; the hem keeps its edge, and what the extension
//! adds to it is an edge of its own.

use document::{Allowed, Finding, Mend, Place as Spot, Quantity, written_mm};
use geometry::{Curve, Point, Tolerance};
use pattern::step::kit::find;
use pattern::step::kit::part_edge::part_edge;
use pattern::{
    Edge, EdgeKind, Fullness, InnerLine, Layer, Pattern, Piece, Seam, Stretch, Vent, name,
};

use super::hem::is_skirt;
use super::{Asked, figures};
use crate::assemble::allowances::as_sewn_piece;
use crate::recipe::parts::VentWish;

/// One side of a vent before it is opened: numbers of piece and edge, and whether the edge runs down to the hem.
#[derive(Clone, Copy, Debug)]
struct Side {
    piece: usize,
    edge: usize,
    down: bool,
}

/// Opens all vents and slits that are asked for.
pub(super) fn derive(pattern: &mut Pattern, asked: &Asked<'_>) -> Result<(), Finding> {
    for wish in &asked.recipe.parts.vents {
        let sides = sides(pattern, wish)?;
        for side in &sides {
            check(pattern, *side, wish)?;
        }
        let seam = asked.recipe.allowances.seam;
        let mut tops = vec![None; sides.len()];
        // From the last edge of a piece to the first, since what is put in moves those behind it.
        let mut order: Vec<usize> = (0..sides.len()).collect();
        order.sort_by_key(|&index| std::cmp::Reverse((sides[index].piece, sides[index].edge)));
        for index in order {
            line_with_slit(pattern, sides[index], wish)?;
            tops[index] = open(pattern, sides[index], wish, seam)?;
        }
        end_seam_above(pattern, wish, &sides, &tops);
        for side in &sides {
            as_sewn_piece(pattern, side.piece);
        }
        pattern.makeup.vents.push(Vent {
            seam: wish.seam.value.clone(),
            height: wish.height.value,
            width: wish.width,
        });
    }
    Ok(())
}

/// The sides of the seam that is named; a centre line has one, which is cut twice.
fn sides(pattern: &Pattern, wish: &VentWish) -> Result<Vec<Side>, Finding> {
    let named = wish.seam.value.as_str();
    if let Some(word) = named.strip_prefix("centre-") {
        let sides = centre(pattern, word);
        return if sides.is_empty() {
            Err(on_the_fold(wish))
        } else {
            Ok(sides)
        };
    }
    let seam = find::seam(pattern, named)
        .map_err(|finding| finding.at_text(&wish.seam.span, "no such seam"))?;
    let mut sides = Vec::new();
    for stretches in [&seam.held, &seam.worked] {
        let edges = stretches
            .iter()
            .flat_map(|stretch| pattern.edges_of(stretch));
        let mut ends = edges.filter_map(|(piece, edge)| {
            let index = pattern
                .pieces
                .iter()
                .position(|own| own.name == piece.name)?;
            side(pattern, index, piece.edge_index(&edge.name)?)
        });
        sides.push(ends.next().ok_or_else(|| no_hem(wish))?);
    }
    Ok(sides)
}

/// The centre edge of the skirt in front or behind, where it is a seam; numbered gores go from CF to CB.
fn centre(pattern: &Pattern, word: &str) -> Vec<Side> {
    let mut pieces: Vec<usize> = (0..pattern.pieces.len())
        .filter(|&index| {
            let piece = &pattern.pieces[index];
            piece.cut.layer == Layer::Shell
                && is_skirt(piece)
                && piece.edges_of("centre").next().is_some()
        })
        .collect();
    let named = |index: &usize| {
        pattern.pieces[*index]
            .name
            .split('-')
            .any(|own| own == word)
    };
    if pieces.iter().any(named) {
        pieces.retain(named);
    } else if pieces.len() > 1 {
        let end = if word == "front" { 0 } else { pieces.len() - 1 };
        pieces = vec![pieces[end]];
    }
    let edges = pieces.into_iter().flat_map(|index| {
        let piece = &pattern.pieces[index];
        let edges = piece
            .edges_of("centre")
            .filter(|edge| edge.kind != EdgeKind::Fold);
        edges.filter_map(move |edge| Some((index, piece.edge_index(&edge.name)?)))
    });
    edges
        .filter_map(|(piece, edge)| side(pattern, piece, edge))
        .collect()
}

/// An edge that ends or begins at a hem.
fn side(pattern: &Pattern, piece: usize, edge: usize) -> Option<Side> {
    let edges = &pattern.pieces[piece].edges;
    let count = edges.len();
    let is_hem = |index: usize| edges[index % count].kind == EdgeKind::Hem;
    let down = is_hem(edge + 1);
    (down || is_hem(edge + count - 1)).then_some(Side { piece, edge, down })
}

fn check(pattern: &Pattern, side: Side, wish: &VentWish) -> Result<(), Finding> {
    let piece = &pattern.pieces[side.piece];
    let edge = &piece.edges[side.edge];
    let run = &edge.runs[if side.down { edge.runs.len() - 1 } else { 0 }];
    let above = if edge.runs.len() > 1 {
        0.0
    } else {
        figures::SEAM_ABOVE_VENT
    };
    let most = (run.length() - above).floor();
    if wish.height.value <= most {
        return Ok(());
    }
    let finding = Finding::error(
        "vent-too-high",
        format!(
            "a vent of {:.0} mm is too high for the {} of the {}",
            wish.height.value,
            edge.name,
            piece.title().to_lowercase()
        ),
    )
    .at_text(&wish.height.span, "asked for here")
    .at(Spot::Piece(piece.name.clone()))
    .measured(
        Quantity::mm(wish.height.value),
        Allowed::AtMost(Quantity::mm(most.max(0.0))),
    )
    .because("above a vent a seam must remain, and no dart may open into it")
    .cure(format!("make it at most {:.0} mm high", most.max(0.0)));
    Err(finding.mend(Mend::property(
        &["vents", if wish.width > 0.0 { "vent" } else { "slit" }],
        "height",
        written_mm(most.max(30.0)),
        "makes it as high as there is room",
    )))
}

/// Opens one side; returns the name of its slanting top, if it has one.
fn open(
    pattern: &mut Pattern,
    side: Side,
    wish: &VentWish,
    seam: f64,
) -> Result<Option<String>, Finding> {
    let piece = &mut pattern.pieces[side.piece];
    let lower = part(piece, side, wish.height.value)?;
    let word = if wish.width > 0.0 { "vent" } else { "slit" };
    let [own, top, hem] = ["", "-top", "-hem"].map(|end| free(piece, &format!("{word}{end}")));
    let edge = &mut piece.edges[lower];
    edge.part = pattern::Part::WHOLE;
    let old = std::mem::replace(&mut edge.name, own.clone());
    rename(piece, &old, &own);
    if wish.width == 0.0 {
        let edge = &mut piece.edges[lower];
        edge.kind = EdgeKind::Hem;
        edge.allowance = figures::SLIT_TURN;
        piece.peaked.push(own);
        return Ok(None);
    }
    let names = [own, top.clone(), hem];
    extend(piece, lower, side.down, (wish.width, seam), &names)
        .ok_or_else(|| without_room(piece, wish))?;
    piece.peaked.push(top.clone());
    Ok(Some(top))
}

/// Parts the edge at the mark; the number of its lower part.
fn part(piece: &mut Piece, side: Side, height: f64) -> Result<usize, Finding> {
    let length = piece.edges[side.edge].length();
    let (along, words) = if side.down {
        (length - height, ["upper", "lower"])
    } else {
        (height, ["lower", "upper"])
    };
    let first = part_edge(piece, side.edge, along, words)?;
    Ok(if side.down { first + 1 } else { first })
}

fn free(piece: &Piece, wanted: &str) -> String {
    name::free_name(wanted, piece.edges.iter().map(|edge| edge.name.as_str()))
}

/// Marks and darts go with an edge that is called otherwise.
fn rename(piece: &mut Piece, old: &str, new: &str) {
    for mark in &mut piece.marks {
        if let pattern::Mark::Notch { edge, .. } = mark
            && edge == old
        {
            new.clone_into(edge);
        }
    }
}

/// Puts the extension in the place of the lower part: its slanting top, its edge, and what it adds to the hem.
fn extend(
    piece: &mut Piece,
    lower: usize,
    down: bool,
    (width, seam): (f64, f64),
    [own, top, hem]: &[String; 3],
) -> Option<()> {
    let count = piece.edges.len();
    let beside = &piece.edges[(lower + if down { 1 } else { count - 1 }) % count];
    let line = &piece.edges[lower].runs[0];
    let (fold, out, way) = if down {
        (line.clone(), width, -beside.start_direction())
    } else {
        (line.reversed(), -width, beside.end_direction())
    };
    let (mark, corner) = (fold.start(), fold.end());
    let outer = fold.offset(out, Tolerance::PATTERN)?;
    let far = outer.end() + outer.end_direction() * width;
    let outer = outer.then(&Curve::line(outer.end(), far))?;
    let reach = Curve::line(corner, corner + way * (3.0 * width));
    let met = outer
        .crossings(&reach, Tolerance::PATTERN)
        .into_iter()
        .next()?;
    let from = (width < met.along).then_some(width)?;
    let outer = outer.stretch(from, met.along);
    let outer = outer.with_ends(outer.start(), met.point);
    let hem_allowance = beside.allowance;
    let edge = |name: &str, kind, allowance, curve: Curve| Edge {
        allowance,
        ..Edge::new(name, kind, if down { curve } else { curve.reversed() })
    };
    let line = |from: Point, to: Point| Curve::line(from, to);
    let mut edges = vec![
        edge(top, EdgeKind::Seam, seam, line(mark, outer.start())),
        edge(own, EdgeKind::Hem, figures::VENT_TURN, outer.clone()),
        edge(hem, EdgeKind::Hem, hem_allowance, line(met.point, corner)),
    ];
    if !down {
        edges.reverse();
    }
    let crossed = edges.iter().any(|edge| edge.length() < 1.0);
    piece.edges.splice(lower..=lower, edges);
    let taken = piece.lines.iter().map(|line| line.name.as_str());
    let name = name::free_name("vent-fold", taken);
    piece.lines.push(InnerLine {
        name,
        runs: vec![fold],
    });
    (!crossed).then_some(())
}

/// The lining of a side gets a slit as high above its own hem as keeps the seam above as long as the shell's.
fn line_with_slit(pattern: &mut Pattern, side: Side, wish: &VentWish) -> Result<(), Finding> {
    let shell = &pattern.pieces[side.piece];
    let (upon, edge) = (shell.name.clone(), shell.edges[side.edge].clone());
    let linings: Vec<usize> = (0..pattern.pieces.len())
        .filter(|&index| {
            let piece = &pattern.pieces[index];
            piece.cut.layer == Layer::Lining
                && pattern
                    .makeup
                    .lies_of(&piece.name)
                    .any(|lies| lies.upon == upon)
        })
        .collect();
    for index in linings {
        let piece = &pattern.pieces[index];
        let Some(number) = piece.edge_index(&edge.name) else {
            continue;
        };
        let height = wish.height.value - (edge.length() - piece.edges[number].length());
        let Some(own) = side_of_lining(piece, number, side.down).filter(|_| height > 10.0) else {
            continue;
        };
        let piece = &mut pattern.pieces[index];
        let lower = part(
            piece,
            Side {
                piece: index,
                ..own
            },
            height,
        )?;
        let name = free(piece, "slit");
        let old = std::mem::replace(&mut piece.edges[lower].name, name.clone());
        rename(piece, &old, &name);
        piece.edges[lower].part = pattern::Part::WHOLE;
        piece.peaked.push(name);
        let lining = piece.name.clone();
        end_mates(pattern, [&upon, &lining], &edge.name);
    }
    Ok(())
}

/// Above the slit both layers are as long as each other; what they differed by lies below.
fn end_mates(pattern: &mut Pattern, pieces: [&str; 2], edge: &str) {
    let is_on = |side: &[Stretch], piece: &str| matches!(side, [only] if name::answers_to(piece, &only.piece) && name::answers_to(edge, &only.edge));
    for mate in &mut pattern.makeup.mates {
        let [one, other] = pieces;
        if is_on(&mate.held, one) && is_on(&mate.worked, other)
            || is_on(&mate.held, other) && is_on(&mate.worked, one)
        {
            mate.fullness = Fullness::None;
        }
    }
}

fn side_of_lining(piece: &Piece, edge: usize, down: bool) -> Option<Side> {
    (piece.edges[edge].runs.len() == 1).then_some(Side {
        piece: 0,
        edge,
        down,
    })
}

/// The seam ends at the mark: it runs on no longer at its lower end, the tops are sewn to each other, and facings of the hem are not.
fn end_seam_above(pattern: &mut Pattern, wish: &VentWish, sides: &[Side], tops: &[Option<String>]) {
    let named = &wish.seam.value;
    let facing = name::derived(named, "hem-facing");
    pattern.seams.retain(|seam| seam.name != facing);
    let lower: Vec<(String, bool)> = sides
        .iter()
        .map(|side| (pattern.pieces[side.piece].name.clone(), side.down))
        .collect();
    for seam in &mut pattern.seams {
        let Some((piece, down)) = lower.first().filter(|_| seam.name == *named) else {
            continue;
        };
        let walked = seam.held.iter().chain(&seam.worked);
        let mut own = walked.filter(|stretch| name::answers_to(piece, &stretch.piece));
        let backwards = own.next().is_some_and(|stretch| stretch.backwards);
        seam.runs_on[usize::from(*down != backwards)] = false;
    }
    let linings = format!("lining-{named}");
    for seam in pattern.seams.iter_mut().filter(|seam| seam.name == linings) {
        seam.runs_on = [false, false];
    }
    let ([one, other], [Some(near), Some(far)]) = (&lower[..], tops) else {
        return;
    };
    pattern.seams.push(Seam {
        name: format!("{named}-vent-top"),
        held: vec![Stretch {
            piece: one.0.clone(),
            edge: near.clone(),
            backwards: !one.1,
        }],
        worked: vec![Stretch {
            piece: other.0.clone(),
            edge: far.clone(),
            backwards: !other.1,
        }],
        fullness: Fullness::None,
        runs_on: [false, false],
    });
}

fn on_the_fold(wish: &VentWish) -> Finding {
    Finding::error(
        "vent-without-seam",
        format!("there is no seam at {}", wish.seam.value.replace('-', " ")),
    )
    .at_text(&wish.seam.span, "on the fold, or not down to a hem")
    .because("a vent opens a seam")
    .cure("take a side seam, or let the garment open there")
    .mend(Mend::value(
        "opening",
        "\"back\"",
        "cuts the back with a seam that opens at its top",
    ))
}

fn no_hem(wish: &VentWish) -> Finding {
    Finding::error(
        "vent-without-hem",
        format!("the {} seam does not reach a hem", wish.seam.value),
    )
    .at_text(&wish.seam.span, "ends at no hem")
    .because("a vent opens the lower end of a seam")
    .cure("name a seam that ends at the hem, such as skirt-side")
}

fn without_room(piece: &Piece, wish: &VentWish) -> Finding {
    Finding::error(
        "vent-without-room",
        format!(
            "a vent of {:.0} by {:.0} mm cannot be drawn on the {}",
            wish.height.value,
            wish.width,
            piece.title().to_lowercase()
        ),
    )
    .at_text(&wish.height.span, "asked for here")
    .because("its slanting top takes as much of its height as it is wide")
    .cure("make it higher or narrower")
}

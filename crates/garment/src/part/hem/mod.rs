//! Hems and their finishes: turned, faced, narrow, bound.
//!
//! **What it does.** Gives every hem the allowance of its finish, a faced one its facing, a bound one its strip, and notes for each
//! how deep it is and how much longer the edge of what is turned up is than its line: on a hem that turns through an angle *a*, a
//! depth *d* makes *a·d* (a full circle, 50 mm: 314 mm). A turned hem is as deep as it still turns.
//! **When it is used.** Always; where `hems` says nothing, a hem is turned by its allowance.
//! **Example.** `hems { skirt "faced" depth="60 mm"; sleeve "narrow" }`.
//! **What can go wrong.** A hem that flares much has so much surplus that it lies in folds inside: its depth is reduced, and a
//! facing or a narrow hem offered. A facing may have no room beside a dart or a short side. Thick cloth does not turn twice.
//!
//! Invariants: all pieces of one hem have one depth, unless an allowance is written for a single edge; hems keep their kind, so
//! that they are found whatever their finish.

mod facing;
mod surplus;

use document::Finding;
use geometry::Angle;
use pattern::{EdgeKind, Hem, HemFinish, Layer, Pattern, Piece, Strip, name};

use super::Asked;
use super::figures;
use crate::assemble::allowances::{as_sewn_piece, is_written};
use crate::recipe::parts::HemWish;
use crate::recipe::{Recipe, turn_of_cloth};

pub(crate) use surplus::as_it_turns;

/// Hems that are asked for together.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Group {
    Skirt,
    Sleeve,
    Bodice,
    Lining,
}

impl Group {
    /// Its statement within `hems`.
    const fn word(self) -> &'static str {
        match self {
            Self::Skirt => "skirt",
            Self::Sleeve => "sleeve",
            Self::Bodice => "bodice",
            Self::Lining => "lining",
        }
    }

    fn of(piece: &Piece) -> Option<Self> {
        match piece.cut.layer {
            Layer::Lining => Some(Self::Lining),
            Layer::Shell if is_skirt(piece) => Some(Self::Skirt),
            Layer::Shell if name::root(&piece.name) == "sleeve" => Some(Self::Sleeve),
            Layer::Shell => Some(Self::Bodice),
            Layer::Facing | Layer::Interfacing => None,
        }
    }

    const fn wish<'a>(self, asked: &Asked<'a>) -> Option<&'a HemWish> {
        let hems = &asked.recipe.parts.hems;
        match self {
            Self::Skirt => hems.skirt.as_ref(),
            Self::Sleeve => hems.sleeve.as_ref(),
            Self::Bodice => hems.bodice.as_ref(),
            Self::Lining => hems.lining.as_ref(),
        }
    }
}

/// Whether a piece belongs to a skirt: half of it, or a gore.
pub(super) fn is_skirt(piece: &Piece) -> bool {
    let mut words = name::root(&piece.name).split('-');
    words.any(|word| word == "skirt" || word == "gore")
}

/// The allowance that the hem of a skirt will have, mm, and whether it is turned up by less where it flares.
pub(crate) fn skirt_allowance(recipe: &Recipe) -> (f64, bool) {
    let mut cloths = recipe.parts.cloths.iter();
    let shell = cloths.find(|cloth| cloth.layer == Layer::Shell);
    let turn = shell.map_or(0.0, turn_of_cloth);
    let usual = recipe.allowances.hem;
    let Some(wish) = &recipe.parts.hems.skirt else {
        return (usual, recipe.allowances.written_hems[0].is_none());
    };
    let depth = |usual: f64| wish.depth.as_ref().map_or(usual, |depth| depth.value);
    match wish.finish.value {
        HemFinish::Turned => (depth(usual - turn) + turn, true),
        HemFinish::Faced => (
            figures::HEM_OVERHANG + figures::HEM_FACING_SEAM + turn,
            false,
        ),
        HemFinish::Narrow => (2.0 * depth(figures::HEM_DEPTHS[1]) + turn, false),
        HemFinish::Bound => (0.0, false),
    }
}

/// One hem: numbers of piece and edge, and the angle through which it turns between its darts.
#[derive(Clone, Copy, Debug)]
struct Place {
    piece: usize,
    edge: usize,
    turns: Angle,
    length: f64,
    /// Whether its allowance is written for this edge alone.
    is_written: bool,
}

/// Finishes the hems of the shell.
pub(super) fn derive(pattern: &mut Pattern, asked: &Asked<'_>) -> Result<(), Finding> {
    [Group::Skirt, Group::Sleeve, Group::Bodice]
        .into_iter()
        .try_for_each(|group| finish(pattern, asked, group))
}

/// Finishes the hems of the lining that hang free: turned twice where nothing is asked for.
pub(super) fn derive_lining(pattern: &mut Pattern, asked: &Asked<'_>) -> Result<(), Finding> {
    finish(pattern, asked, Group::Lining)
}

fn finish(pattern: &mut Pattern, asked: &Asked<'_>, group: Group) -> Result<(), Finding> {
    let places = places(pattern, asked, group);
    if places.is_empty() {
        return match group.wish(asked) {
            Some(wish) => Err(nothing_to_hem(group, wish)),
            None => Ok(()),
        };
    }
    let wish = group.wish(asked);
    match (wish.map(|wish| wish.finish.value), group) {
        (None, Group::Lining) => {
            for place in &places {
                let twice = edge(pattern, place).allowance / 2.0;
                note(pattern, place, HemFinish::Narrow, twice);
            }
        }
        (None | Some(HemFinish::Turned), _) => turned(pattern, asked, group, &places),
        (Some(HemFinish::Narrow), _) => narrow(pattern, asked, group, &places),
        (Some(HemFinish::Bound), _) => bound(pattern, asked, group, &places),
        (Some(HemFinish::Faced), _) => faced(pattern, asked, group, &places)?,
    }
    Ok(())
}

fn places(pattern: &Pattern, asked: &Asked<'_>, group: Group) -> Vec<Place> {
    let mut places = Vec::new();
    for (index, piece) in pattern.pieces.iter().enumerate() {
        let derived = pattern.makeup.is_derived(&piece.name) && group != Group::Lining;
        if derived || Group::of(piece) != Some(group) {
            continue;
        }
        for (number, edge) in piece.edges.iter().enumerate() {
            if edge.kind == EdgeKind::Hem {
                places.push(Place {
                    piece: index,
                    edge: number,
                    turns: surplus::open_turning(edge),
                    length: edge.length(),
                    is_written: is_written(asked.recipe, piece, edge),
                });
            }
        }
    }
    places
}

fn edge<'a>(pattern: &'a Pattern, place: &Place) -> &'a pattern::Edge {
    &pattern.pieces[place.piece].edges[place.edge]
}

/// Gives an allowance, unless one is written for this edge.
fn give(pattern: &mut Pattern, place: &Place, allowance: f64) {
    if !place.is_written {
        pattern.pieces[place.piece].edges[place.edge].allowance = allowance;
    }
}

/// Puts a hem into the makeup.
fn note(pattern: &mut Pattern, place: &Place, finish: HemFinish, depth: f64) {
    let piece = &pattern.pieces[place.piece];
    let hem = Hem {
        piece: piece.name.clone(),
        edge: piece.edges[place.edge].name.clone(),
        finish,
        depth,
        surplus: place.turns.radians() * piece.edges[place.edge].allowance,
        strip: None,
    };
    pattern.makeup.hems.push(hem);
}

/// What a cloth takes at a fold.
fn turn(pattern: &Pattern, group: Group) -> f64 {
    let layer = if group == Group::Lining {
        Layer::Lining
    } else {
        Layer::Shell
    };
    pattern.makeup.cloth(layer).map_or(0.0, turn_of_cloth)
}

/// The depth that is asked for, or the usual one.
fn depth(asked: &Asked<'_>, group: Group, usual: f64) -> f64 {
    let wish = group.wish(asked).and_then(|wish| wish.depth.as_ref());
    wish.map_or(usual, |depth| depth.value)
}

fn turned(pattern: &mut Pattern, asked: &Asked<'_>, group: Group, places: &[Place]) {
    let turn = turn(pattern, group);
    let wished = group.wish(asked).and_then(|wish| wish.depth.as_ref());
    for place in places {
        let allowance = wished.map_or(edge(pattern, place).allowance, |depth| depth.value + turn);
        give(pattern, place, allowance);
    }
    let deepest = places
        .iter()
        .filter(|place| !place.is_written)
        .map(|place| edge(pattern, place).allowance)
        .fold(0.0, f64::max);
    if let Some(limit) = surplus::limit(places).filter(|limit| *limit < deepest) {
        let counts = wished.is_none() && surplus::written(asked, group).is_some();
        let finding = surplus::does_not_turn(pattern, asked, group, places, (deepest, limit));
        pattern.findings.push(finding);
        for place in places.iter().filter(|_| !counts) {
            give(pattern, place, edge(pattern, place).allowance.min(limit));
        }
    }
    for place in places {
        let depth = (edge(pattern, place).allowance - turn).max(0.0);
        note(pattern, place, HemFinish::Turned, depth);
    }
}

fn narrow(pattern: &mut Pattern, asked: &Asked<'_>, group: Group, places: &[Place]) {
    let depth = depth(asked, group, figures::HEM_DEPTHS[1]);
    let turn = turn(pattern, group);
    pattern
        .findings
        .extend(surplus::too_thick(pattern, asked, group));
    for place in places {
        give(pattern, place, 2.0 * depth + turn);
        note(pattern, place, HemFinish::Narrow, depth);
    }
}

/// A binding goes round the cut edge: sewn, over the edge, down the inside and turned under, each as wide as it is seen.
fn bound(pattern: &mut Pattern, asked: &Asked<'_>, group: Group, places: &[Place]) {
    let depth = depth(asked, group, figures::HEM_DEPTHS[2]);
    let width = 4.0 * depth + 2.0 * turn(pattern, group);
    for place in places {
        give(pattern, place, 0.0);
        note(pattern, place, HemFinish::Bound, depth);
        let piece = &pattern.pieces[place.piece];
        let length = place.length * piece.halves();
        if let Some(hem) = pattern.makeup.hems.last_mut() {
            hem.strip = Some(Strip { width, length });
        }
    }
}

fn faced(
    pattern: &mut Pattern,
    asked: &Asked<'_>,
    group: Group,
    places: &[Place],
) -> Result<(), Finding> {
    let depth = depth(asked, group, figures::HEM_DEPTHS[0]);
    let mut made = Vec::new();
    for place in places {
        let overhang = figures::HEM_OVERHANG + turn(pattern, group);
        give(pattern, place, overhang + figures::HEM_FACING_SEAM);
        note(pattern, place, HemFinish::Faced, depth);
        let facing = facing::make(pattern, place, depth)
            .map_err(|most| no_room(pattern, asked, group, (place, depth, most)))?;
        made.push(facing);
    }
    facing::join(pattern, &made);
    let first = pattern.pieces.len() - places.len();
    for index in first..pattern.pieces.len() {
        as_sewn_piece(pattern, index);
    }
    Ok(())
}

fn nothing_to_hem(group: Group, wish: &HemWish) -> Finding {
    let what = match group {
        Group::Lining => "the lining has no hem that hangs free".to_owned(),
        _ => format!("the {} has no hem", group.word()),
    };
    Finding::error("nothing-to-hem", what)
        .at_text(&wish.finish.span, "of what?")
        .because("a hem is the lower edge of a skirt, of sleeves, or of a bodice or lining that hangs free")
        .cure("take the line away")
}

fn no_room(
    pattern: &Pattern,
    asked: &Asked<'_>,
    group: Group,
    (place, depth, most): (&Place, f64, f64),
) -> Finding {
    use document::{Allowed, Mend, Place as Spot, Quantity, written_mm};
    let piece = &pattern.pieces[place.piece];
    let finding = Finding::error(
        "hem-facing-without-room",
        format!(
            "a facing of {depth:.0} mm has no room at the {} of the {}",
            piece.edges[place.edge].name,
            piece.title().to_lowercase()
        ),
    );
    let finding = match group.wish(asked) {
        Some(wish) => {
            let span = wish
                .depth
                .as_ref()
                .map_or(&wish.finish.span, |depth| &depth.span);
            finding.at_text(span, "asked for here")
        }
        None => finding,
    };
    let path = &["hems", group.word()];
    let finding = finding
        .at(Spot::Piece(piece.name.clone()))
        .because("it must end below darts and within the edges beside the hem");
    if most < figures::HEM_OVERHANG + figures::HEM_FACING_SEAM + figures::HEM_FACING_TURN {
        return finding
            .cure("let the hem be turned or bound")
            .mend(Mend::value(path, "\"bound\"", "binds the hem instead"));
    }
    finding
        .measured(Quantity::mm(depth), Allowed::AtMost(Quantity::mm(most)))
        .cure(format!("make it at most {most:.0} mm deep"))
        .mend(Mend::property(
            path,
            "depth",
            written_mm(most.floor()),
            "makes the facing as deep as it has room",
        ))
}

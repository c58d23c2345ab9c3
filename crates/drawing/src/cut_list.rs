//! What to cut, cloth by cloth: each piece with how often, how it lies on the cloth, and what else must be known of it.
//!
//! Knows pieces and what they are made up with, no materials to buy. Invariant: every piece stands in it once.

use geometry::curve::closed_path;
use pattern::{EdgeKind, Layer, Pattern, Piece};
use sheet::List;

use crate::words::{how_often, spoken};

/// What to cut from each cloth: "From the lining (cotton lawn)", "Front lining: cut 1 on the fold".
pub fn cutting_list(pattern: &Pattern) -> Vec<List> {
    let list = |layer| List {
        title: heading(pattern, layer),
        lines: lines(pattern, layer),
    };
    let lists = Layer::ALL.into_iter().map(list);
    lists.filter(|list| !list.lines.is_empty()).collect()
}

/// The cloth by its layer and, where its owner has named it, by its name.
fn heading(pattern: &Pattern, layer: Layer) -> String {
    let of_layer = match layer {
        Layer::Shell => "the shell",
        Layer::Lining => "the lining",
        Layer::Facing => "the cloth of the facings",
        Layer::Interfacing => "the interfacing",
    };
    let name = pattern.makeup.cloth(layer).map(|cloth| cloth.name.as_str());
    match name {
        Some(name) if !of_layer.ends_with(name) => format!("From {of_layer} ({name})"),
        _ => format!("From {of_layer}"),
    }
}

fn lines(pattern: &Pattern, layer: Layer) -> Vec<String> {
    let of_layer = pattern
        .pieces
        .iter()
        .filter(|piece| piece.cut.layer == layer);
    of_layer.map(|piece| line(pattern, piece)).collect()
}

/// "Neck facing: cut 1 on the fold; joined at the shoulder".
fn line(pattern: &Pattern, piece: &Piece) -> String {
    let cut = format!("{}: {}", piece.title(), how_often(&piece.cut));
    let notes = [
        joined(pattern, piece),
        without_allowance(piece),
        grain(piece),
    ];
    notes
        .into_iter()
        .flatten()
        .fold(cut, |line, note| format!("{line}; {note}"))
}

/// Along which seams it goes on, so that it has none there.
fn joined(pattern: &Pattern, piece: &Piece) -> Option<String> {
    let seams = pattern.joined_away(&piece.name);
    let mut names: Vec<String> = Vec::new();
    for name in seams.iter().map(|seam| spoken(&seam.name)) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    (!names.is_empty()).then(|| format!("joined at the {}", names.join(" and the ")))
}

fn without_allowance(piece: &Piece) -> Option<String> {
    let mut cut = piece
        .edges
        .iter()
        .filter(|edge| edge.kind != EdgeKind::Fold);
    if !cut.all(|edge| edge.allowance <= 0.0) {
        return None;
    }
    let words = match piece.cut.layer {
        Layer::Interfacing => "cut within the seam line",
        _ => "without allowance",
    };
    Some(words.to_owned())
}

/// How the grain runs where it does not run down the piece.
fn grain(piece: &Piece) -> Option<String> {
    let degrees = (piece.grain.degrees() * 10.0).round() / 10.0;
    let degrees = degrees.rem_euclid(180.0);
    if degrees == 90.0 {
        None
    } else if degrees == 45.0 || degrees == 135.0 {
        Some("on the bias".to_owned())
    } else if degrees == 0.0 {
        let bounds = closed_path(&piece.seam_outline()).control_box();
        let is_long = bounds.width() >= bounds.height();
        Some(
            if is_long {
                "grain along its length"
            } else {
                "grain across"
            }
            .to_owned(),
        )
    } else {
        Some("grain at a slant, as drawn".to_owned())
    }
}

//! Finding pieces, edges, darts, lines and seams by name, with words that help where they are not there.
//!
//! Invariant: a finding names what was looked for and where, the nearest name that exists, and what there is to choose from.

use document::{Finding, Place as Spot, nearest};

use super::super::arguments::Named;
use crate::piece::{Dart, Piece};
use crate::seam::{Pattern, Seam};

/// The number of the piece of exactly this name.
pub fn piece_index(pattern: &Pattern, name: &str) -> Result<usize, Finding> {
    let found = pattern.pieces.iter().position(|piece| piece.name == name);
    found.ok_or_else(|| match pattern.pieces_of(name).count() {
        0 => no_piece(pattern, name),
        _ => cut_piece(pattern, name),
    })
}

/// The piece of exactly this name.
pub fn piece<'a>(pattern: &'a Pattern, name: &str) -> Result<&'a Piece, Finding> {
    Ok(&pattern.pieces[piece_index(pattern, name)?])
}

/// The numbers of the pieces that a name stands for: the piece itself, or the parts that it was cut into.
pub fn piece_indices(pattern: &Pattern, name: &str) -> Result<Vec<usize>, Finding> {
    let exact = pattern.piece(name).is_some();
    let found: Vec<usize> = (0..pattern.pieces.len())
        .filter(|&index| {
            let piece = &pattern.pieces[index];
            piece.name == name || !exact && piece.answers_to(name)
        })
        .collect();
    if found.is_empty() {
        Err(no_piece(pattern, name))
    } else {
        Ok(found)
    }
}

/// Numbers of piece and edge of all that an edge's name stands for, in the order in which the whole ran.
pub fn edges(pattern: &Pattern, piece: &str, edge: &str) -> Result<Vec<(usize, usize)>, Finding> {
    let pieces = piece_indices(pattern, piece)?;
    let mut found: Vec<(usize, usize)> = pieces
        .iter()
        .flat_map(|&at| {
            let owner = &pattern.pieces[at];
            owner
                .edges_of(edge)
                .filter_map(move |edge| Some((at, owner.edge_index(&edge.name)?)))
        })
        .collect();
    let begins = |&(at, edge): &(usize, usize)| pattern.pieces[at].edges[edge].part.from;
    found.sort_by(|a, b| begins(a).total_cmp(&begins(b)));
    if found.is_empty() {
        Err(no_edge(pattern, &pieces, piece, edge))
    } else {
        Ok(found)
    }
}

/// The one piece and edge that a name stands for; a finding where it was cut.
pub fn edge(pattern: &Pattern, named: &Named) -> Result<(usize, usize), Finding> {
    let found = edges(pattern, &named.piece, &named.name)?;
    match found[..] {
        [only] => Ok(only),
        _ => Err(cut_edge(pattern, named, &found)),
    }
}

/// The piece that has a dart of this name, and the dart.
pub fn dart<'a>(pattern: &'a Pattern, named: &Named) -> Result<(usize, &'a Dart), Finding> {
    let pieces = piece_indices(pattern, &named.piece)?;
    let found = pieces
        .iter()
        .find_map(|&at| Some((at, pattern.pieces[at].dart(&named.name)?)));
    found.ok_or_else(|| no_dart(pattern, &pieces, named))
}

/// The seam of this name; where layers were derived already, also what two of them have in common.
pub fn seam<'a>(pattern: &'a Pattern, name: &str) -> Result<&'a Seam, Finding> {
    let mut all = pattern.seams.iter().chain(&pattern.makeup.mates);
    let found = all.find(|seam| seam.name == name);
    found.ok_or_else(|| {
        let names: Vec<&str> = pattern
            .seams
            .iter()
            .map(|seam| seam.name.as_str())
            .collect();
        not_there(
            "seam-not-there",
            format!("there is no seam called {name}"),
            name,
            &names,
        )
        .at(Spot::Seam(name.into()))
    })
}

/// What is not there, with the nearest name and all names that are.
pub fn not_there(code: &'static str, message: String, asked: &str, names: &[&str]) -> Finding {
    let finding = Finding::error(code, message);
    let finding = if names.is_empty() {
        finding.allowed("there is none")
    } else {
        finding.allowed(format!("one of: {}", names.join(", ")))
    };
    match nearest(asked, names) {
        Some(meant) => finding.cure(format!("did you mean {meant}?")),
        None if names.is_empty() => finding.cure("take the step away, or do it where there is one"),
        None => finding.cure("choose one of these names"),
    }
}

/// An edge as a place of a finding.
pub fn at_edge(piece: &Piece, edge: usize) -> Spot {
    Spot::Edge {
        piece: piece.name.clone(),
        edge: piece
            .edges
            .get(edge)
            .map_or_else(String::new, |edge| edge.name.clone()),
        at: None,
    }
}

fn no_piece(pattern: &Pattern, name: &str) -> Finding {
    let names: Vec<&str> = pattern
        .pieces
        .iter()
        .map(|piece| piece.name.as_str())
        .collect();
    not_there(
        "piece-not-there",
        format!("there is no piece called {name}"),
        name,
        &names,
    )
}

fn cut_piece(pattern: &Pattern, name: &str) -> Finding {
    let parts: Vec<&str> = pattern
        .pieces_of(name)
        .map(|piece| piece.name.as_str())
        .collect();
    Finding::error(
        "piece-was-cut",
        format!("the {name} was cut into {}", parts.join(" and ")),
    )
    .allowed(format!("one of: {}", parts.join(", ")))
    .cure("name the part that is meant")
}

fn no_edge(pattern: &Pattern, pieces: &[usize], piece: &str, edge: &str) -> Finding {
    let edges = pieces.iter().flat_map(|&at| &pattern.pieces[at].edges);
    let names: Vec<&str> = edges.map(|edge| edge.name.as_str()).collect();
    not_there(
        "edge-not-there",
        format!("the {piece} has no edge called {edge}"),
        edge,
        &names,
    )
    .at(Spot::Piece(piece.into()))
}

fn cut_edge(pattern: &Pattern, named: &Named, found: &[(usize, usize)]) -> Finding {
    let parts: Vec<String> = found
        .iter()
        .map(|&(at, edge)| {
            let piece = &pattern.pieces[at];
            format!("{}.{}", piece.name, piece.edges[edge].name)
        })
        .collect();
    Finding::error(
        "edge-was-cut",
        format!(
            "the {} of the {} was cut into {}",
            named.name,
            named.piece,
            parts.join(" and ")
        ),
    )
    .at(Spot::Piece(named.piece.clone()))
    .allowed(format!("one of: {}", parts.join(", ")))
    .cure("name the part that is meant")
}

fn no_dart(pattern: &Pattern, pieces: &[usize], named: &Named) -> Finding {
    let darts = pieces.iter().flat_map(|&at| &pattern.pieces[at].darts);
    let names: Vec<&str> = darts.map(|dart| dart.name.as_str()).collect();
    not_there(
        "dart-not-there",
        format!("the {} has no dart called {}", named.piece, named.name),
        &named.name,
        &names,
    )
    .at(Spot::Piece(named.piece.clone()))
}

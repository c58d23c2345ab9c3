//! Which edge is sewn to which.

use std::collections::BTreeMap;

use pattern::{Pattern, Seam, Stretch};
use serde::Serialize;

/// An edge and what is sewn to it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize)]
pub(crate) struct Partner {
    /// `front/side`.
    pub(crate) edge: String,
    /// The edges on the other side of the seam.
    pub(crate) with: Vec<String>,
    /// The seam.
    pub(crate) seam: String,
    /// "Front side is sewn to back side."
    pub(crate) words: String,
}

/// How an edge is called on the page.
pub(crate) fn edge_id(piece: &str, edge: &str) -> String {
    format!("{piece}/{edge}")
}

/// The partners of all edges, for the seams of the shell and those that join layers.
pub(crate) fn partners(pattern: &Pattern) -> Vec<Partner> {
    let seams = pattern.seams.iter().chain(&pattern.makeup.mates);
    seams.flat_map(|seam| of_seam(pattern, seam)).collect()
}

/// The seam of each edge that is in one.
pub(crate) fn seam_of_edges(pattern: &Pattern) -> BTreeMap<String, String> {
    let mut seams = BTreeMap::new();
    for seam in pattern.seams.iter().chain(&pattern.makeup.mates) {
        for (id, _) in side(pattern, &seam.held)
            .into_iter()
            .chain(side(pattern, &seam.worked))
        {
            seams.entry(id).or_insert_with(|| seam.name.clone());
        }
    }
    seams
}

fn of_seam(pattern: &Pattern, seam: &Seam) -> Vec<Partner> {
    let sides = [side(pattern, &seam.held), side(pattern, &seam.worked)];
    let mut partners = Vec::new();
    for (own, other) in [(&sides[0], &sides[1]), (&sides[1], &sides[0])] {
        if other.is_empty() {
            continue;
        }
        let with: Vec<String> = other.iter().map(|(id, _)| id.clone()).collect();
        let names: Vec<String> = other.iter().map(|(_, words)| words.clone()).collect();
        partners.extend(own.iter().map(|(id, words)| Partner {
            edge: id.clone(),
            with: with.clone(),
            seam: seam.name.clone(),
            words: format!(
                "{} is sewn to {}.",
                making::words::sentence(words),
                making::words::listed(&names)
            ),
        }));
    }
    partners
}

/// The edges of one side, each with its name for a person.
fn side(pattern: &Pattern, side: &[Stretch]) -> Vec<(String, String)> {
    let edges = side.iter().flat_map(|stretch| pattern.edges_of(stretch));
    edges
        .map(|(piece, edge)| {
            let words = format!(
                "the {} of the {}",
                drawing::spoken(&edge.name),
                drawing_name(&piece.name)
            );
            (edge_id(&piece.name, &edge.name), words)
        })
        .collect()
}

fn drawing_name(piece: &str) -> String {
    making::words::spoken(piece)
}

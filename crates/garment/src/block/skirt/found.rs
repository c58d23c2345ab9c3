//! The pieces of a skirt found again in a pattern, after whatever steps have cut, joined or renamed of them.
//!
//! Knows names only. Invariant: layers behind the skirt (`skirt-front-lining`) are no pieces of it.

use pattern::{Edge, Pattern, Piece, Stretch, name};

/// What an edge of a skirt lies on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum On {
    /// Waist.
    Waist,
    /// Hem.
    Hem,
    /// CF, or the front edge of a wrapped skirt.
    CentreFront,
    /// CB.
    CentreBack,
    /// Side line.
    Side,
    /// Anywhere else: a seam between gores, a seam that a step has cut.
    Between,
}

/// Names of all pieces that a skirt may be drafted in, from CF to CB.
pub const NAMES: [&str; 14] = [
    "skirt-front",
    "front-gore",
    "front-side-gore",
    "side-gore",
    "back-side-gore",
    "gore-1",
    "gore-2",
    "gore-3",
    "gore-4",
    "gore-5",
    "gore-6",
    "gore-7",
    "back-gore",
    "skirt-back",
];

/// Whether a name is that of a piece of a skirt or of a part of one.
pub fn is_skirt(piece: &str) -> bool {
    NAMES.contains(&name::root(piece))
}

/// The pieces of the skirt, in the order of the pattern; none where there is no skirt.
pub fn pieces(pattern: &Pattern) -> impl Iterator<Item = &Piece> {
    pattern.pieces.iter().filter(|piece| is_skirt(&piece.name))
}

/// What an edge of a piece of a skirt lies on.
pub fn on(piece: &Piece, edge: &Edge) -> On {
    match name::root(&edge.name) {
        "waist" => On::Waist,
        "hem" => On::Hem,
        "side" => On::Side,
        // Gores have front edges too, but the one at CF has none.
        "centre" | "front-edge" if is_in_front(&piece.name) => On::CentreFront,
        "centre" => On::CentreBack,
        _ => On::Between,
    }
}

/// Edges of the skirt that lie on something, in the order of the pattern.
pub fn edges(pattern: &Pattern, wanted: On) -> Vec<(&Piece, &Edge)> {
    pieces(pattern)
        .flat_map(|piece| piece.edges.iter().map(move |edge| (piece, edge)))
        .filter(|(piece, edge)| on(piece, edge) == wanted)
        .collect()
}

/// The hems of the skirt, each walked clockwise round its piece.
pub fn hems(pattern: &Pattern) -> Vec<Stretch> {
    edges(pattern, On::Hem)
        .iter()
        .map(|(piece, edge)| Stretch::forwards(&piece.name, &edge.name))
        .collect()
}

/// Whether the centre line of a piece is CF: that of gores is told by their names, of numbered ones by the first.
fn is_in_front(piece: &str) -> bool {
    let root = name::root(piece);
    root == "skirt-front" || root == "front-gore" || root == "gore-1"
}

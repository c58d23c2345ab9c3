//! Parting an edge in two at a place, without cutting the piece: `side` becomes `side/upper` and `side/lower`.
//!
//! Invariants: the outline does not change; darts and notches go to the part on which they lie; seams, girths, folds and
//! later steps that name the whole find both parts in order.

use document::Finding;

use super::gap;
use super::notches;
use crate::name::{free_name, part_of};
use crate::piece::Piece;

/// Parts an edge at a length as sewn; words for the part before and the part after, clockwise. Returns the number of the
/// first part; the second follows it.
pub fn part_edge(
    piece: &mut Piece,
    edge: usize,
    along: f64,
    words: [&str; 2],
) -> Result<usize, Finding> {
    let length = piece.edges[edge].length();
    let gap = gap::open_inside(piece, edge, along, &mut [])?;
    let whole = piece.edges[edge].clone();
    let shares = whole.part.cut_at(along / length.max(1e-9));
    let taken: Vec<String> = piece.edges.iter().map(|edge| edge.name.clone()).collect();
    let names = words.map(|word| {
        free_name(
            &part_of(&whole.name, word),
            taken.iter().map(String::as_str),
        )
    });
    let (mut first, mut second) = (whole.clone(), whole.clone());
    second.runs = first.runs.split_off(gap.run + 1);
    (first.part, second.part) = (shares[0], shares[1]);
    (first.name, second.name) = (names[0].clone(), names[1].clone());
    first.corner = super::divide::corner(whole.kind, whole.kind);
    piece.edges.splice(edge..=edge, [first, second]);
    for dart in piece
        .darts
        .iter_mut()
        .filter(|dart| dart.edge == whole.name)
    {
        let is_second = dart.gap > gap.run;
        dart.edge.clone_from(&names[usize::from(is_second)]);
        if is_second {
            dart.gap -= gap.run + 1;
        }
    }
    notches::share(piece, &whole.name, along, [&names[0], &names[1]]);
    Ok(edge)
}

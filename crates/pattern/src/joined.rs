//! Which seams a derived piece has lost: where it goes on from one piece on which it lies to the next.

use geometry::{Affine, Point};

use crate::piece::Edge;
use crate::seam::{Pattern, Seam, Stretch};

/// How near the two sides of a seam lie in a piece that was joined along it, mm: ease and turn of cloth put them a little apart.
const NEAR: f64 = 6.0;

impl Pattern {
    /// The seams along which a derived piece was joined, so that it has none there, in the order of the seams.
    pub fn joined_away<'a>(&'a self, piece: &'a str) -> Vec<&'a Seam> {
        if self.makeup.lies_of(piece).nth(1).is_none() {
            return Vec::new();
        }
        let is_joined = |seam: &&Seam| {
            let sides = [&seam.held, &seam.worked].map(|side| self.laid(piece, side));
            matches!(sides, [Some(held), Some(worked)] if lie_together(held, worked))
        };
        self.seams.iter().filter(is_joined).collect()
    }

    /// The ends of one side of a seam in the coordinates of a piece that lies on it.
    fn laid(&self, piece: &str, side: &[Stretch]) -> Option<[Point; 2]> {
        let edges = side.iter().flat_map(|stretch| {
            let edges = self.edges_of(stretch).into_iter();
            edges.map(move |(of, edge)| (of, edge, stretch.backwards))
        });
        let edges: Vec<_> = edges.collect();
        let (first, last) = (edges.first()?, edges.last()?);
        let place = |piece_below: &str| -> Option<Affine> {
            let lies = self
                .makeup
                .lies_of(piece)
                .find(|lies| lies.upon == piece_below)?;
            Some(lies.placed.inverse())
        };
        Some([
            place(&first.0.name)? * ends(first.1, first.2)[0],
            place(&last.0.name)? * ends(last.1, last.2)[1],
        ])
    }
}

fn ends(edge: &Edge, backwards: bool) -> [Point; 2] {
    if backwards {
        [edge.end(), edge.start()]
    } else {
        [edge.start(), edge.end()]
    }
}

/// Whether two sides of a seam, as long as they are, lie on each other.
fn lie_together(held: [Point; 2], worked: [Point; 2]) -> bool {
    let along = |side: [Point; 2]| side[1] - side[0];
    let apart = [0, 1].map(|end| held[end].distance(worked[end]));
    let turned = along(held).normalize().dot(along(worked).normalize());
    apart[0].min(apart[1]) < NEAR && turned > 0.98
}

//! Where the name of a piece is written on a screen: as large as it can be read without lying over a line.
//!
//! Invariant: words lie inside the piece and clear of its outline, its darts, the arrow of its grain and the mark of its fold.

use geometry::{Curve, PathEl, Point, Rect, Tolerance, Vec2};
use pattern::Piece;
use sheet::{Item, Layer, Shape, Weight, text_width};

/// Sizes of words that are tried, mm, the largest first; what is smaller than the last is left to the list beside the drawing.
const SIZES: [f64; 8] = [30.0, 26.0, 22.0, 18.0, 15.0, 13.0, 11.0, 9.0];
/// Rows and columns of places that are tried.
const PLACES: usize = 13;
/// Height of the second line over that of the first.
const SECOND: f64 = 0.8;
/// From one line to the next, over the size.
const LINE: f64 = 1.25;
/// Room round the words, over the size.
const MARGIN: f64 = 0.35;

/// A line of words with its place: the middle of its base line.
pub(crate) struct Placed {
    pub(crate) at: Point,
    pub(crate) size: f64,
    pub(crate) words: String,
}

/// Places a title and what stands below it, in the largest size that has room.
pub(crate) fn place(piece: &Piece, items: &[Item], lines: [String; 2]) -> Vec<Placed> {
    let outline = flattened(&piece.seam_outline());
    let mut taken = sides(&outline, true);
    taken.extend(items.iter().flat_map(|item| marks(piece, item)));
    let widths = [
        text_width(&lines[0], 1.0, Weight::Bold),
        text_width(&lines[1], SECOND, Weight::Bold),
    ];
    let width = widths[0].max(widths[1]);
    let (middle, centres) = centres(&outline);
    for size in SIZES {
        let half = Vec2::new(width / 2.0 + MARGIN, (1.0 + LINE) / 2.0 + MARGIN) * size;
        let free = |centre: &&Point| {
            is_free(
                &outline,
                &taken,
                Rect::from_points(**centre - half, **centre + half),
            )
        };
        let mut found: Vec<&Point> = centres.iter().filter(free).collect();
        found.sort_by(|one, other| one.distance(middle).total_cmp(&other.distance(middle)));
        if let Some(centre) = found.first() {
            return set(**centre, size, lines);
        }
    }
    Vec::new()
}

fn set(centre: Point, size: f64, lines: [String; 2]) -> Vec<Placed> {
    let bases = [-0.1, -0.1 + LINE * 0.92];
    let sizes = [size, size * SECOND];
    lines
        .into_iter()
        .zip(bases)
        .zip(sizes)
        .map(|((words, base), of)| Placed {
            at: centre + Vec2::new(0.0, base * size),
            size: of,
            words,
        })
        .collect()
}

/// The middle of the outline's box, and places all over it.
fn centres(outline: &[Point]) -> (Point, Vec<Point>) {
    let all = outline
        .iter()
        .map(|point| Rect::from_points(*point, *point))
        .reduce(|all, one| all.union(one))
        .unwrap_or_default();
    let share = |step: usize| (step as f64 + 0.5) / PLACES as f64;
    let mut centres = vec![all.center()];
    for row in 0..PLACES {
        for column in 0..PLACES {
            let at = Vec2::new(all.width() * share(column), all.height() * share(row));
            centres.push(all.origin() + at);
        }
    }
    (all.center(), centres)
}

/// What words keep clear of besides the outline: darts, arrow and fold mark.
fn marks(piece: &Piece, item: &Item) -> Vec<[Point; 2]> {
    let Shape::Path { path, .. } = &item.shape else {
        return Vec::new();
    };
    let own = item
        .id
        .as_deref()
        .and_then(|id| id.strip_prefix(piece.name.as_str())?.strip_prefix('.'));
    let is_dart = own.is_some_and(|own| piece.dart(own).is_some());
    if item.layer != Layer::Grain && !is_dart {
        return Vec::new();
    }
    let mut sides = Vec::new();
    let mut at = Point::ORIGIN;
    for element in path.elements() {
        let to = match *element {
            PathEl::MoveTo(to) => {
                at = to;
                continue;
            }
            PathEl::LineTo(to) | PathEl::QuadTo(_, to) | PathEl::CurveTo(_, _, to) => to,
            PathEl::ClosePath => continue,
        };
        sides.push([at, to]);
        at = to;
    }
    sides
}

fn flattened(outline: &[Curve]) -> Vec<Point> {
    let tolerance = Tolerance::from_mm(1.0).unwrap_or(Tolerance::DRAWING);
    outline
        .iter()
        .flat_map(|curve| curve.flattened(tolerance))
        .collect()
}

fn sides(points: &[Point], closed: bool) -> Vec<[Point; 2]> {
    let mut sides: Vec<[Point; 2]> = points.windows(2).map(|pair| [pair[0], pair[1]]).collect();
    if let (true, Some(first), Some(last)) = (closed, points.first(), points.last()) {
        sides.push([*last, *first]);
    }
    sides
}

fn is_free(outline: &[Point], taken: &[[Point; 2]], area: Rect) -> bool {
    is_inside(outline, area.center()) && !taken.iter().any(|side| meets(*side, area))
}

/// Whether a point lies inside: a ray to the right meets the outline an odd number of times.
fn is_inside(outline: &[Point], point: Point) -> bool {
    let crossed = sides(outline, true).into_iter().filter(|[a, b]| {
        (a.y > point.y) != (b.y > point.y)
            && point.x < (b.x - a.x) * (point.y - a.y) / (b.y - a.y) + a.x
    });
    crossed.count() % 2 == 1
}

/// Whether a straight line comes into a box: the part of it between the box's sides is looked for (Liang and Barsky, 1984).
fn meets([a, b]: [Point; 2], area: Rect) -> bool {
    let way = b - a;
    let (mut from, mut to) = (0.0_f64, 1.0_f64);
    for (along, gap) in [
        (-way.x, a.x - area.x0),
        (way.x, area.x1 - a.x),
        (-way.y, a.y - area.y0),
        (way.y, area.y1 - a.y),
    ] {
        if along == 0.0 {
            if gap < 0.0 {
                return false;
            }
        } else if along < 0.0 {
            from = from.max(gap / along);
        } else {
            to = to.min(gap / along);
        }
    }
    from <= to
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_line_meets_a_box_only_where_it_comes_in() {
        let area = Rect::new(0.0, 0.0, 10.0, 10.0);
        let line = |a: (f64, f64), b: (f64, f64)| [Point::from(a), Point::from(b)];
        for inside in [
            line((5.0, 5.0), (6.0, 6.0)),
            line((-5.0, 5.0), (15.0, 5.0)),
            line((-1.0, 9.0), (2.0, 12.0)),
        ] {
            assert!(meets(inside, area), "{inside:?}");
        }
        for outside in [
            line((-5.0, 11.0), (15.0, 11.0)),
            line((-3.0, 9.0), (2.0, 14.0)),
            line((11.0, 0.0), (12.0, 9.0)),
        ] {
            assert!(!meets(outside, area), "{outside:?}");
        }
    }
}

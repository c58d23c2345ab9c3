//! Where a copy's number, name and grain arrow find room inside it.
//!
//! Knows rings and boxes. Invariant: a label's box lies inside its ring, clear of its sides; an arrow is clear of the label.

use cloth::lay::Placed;
use geometry::{Point, Rect, Vec2};
use sheet::{Weight, text_width, wrap};

/// Sizes that are tried for a name, mm, the largest first.
const SIZES: [f64; 6] = [3.6, 3.2, 2.8, 2.4, 2.0, 1.7];
/// Sizes that are tried for a number by itself.
const NUMBERS: [f64; 4] = [3.2, 2.4, 1.8, 1.3];
/// Room round a label, mm.
const ROOM: f64 = 0.7;
/// Height of a line over the size of its letters.
const LINE: f64 = 1.25;
/// How much of a line stands above its base line.
const RISE: f64 = 0.8;
/// Places that are tried along each way.
const TRIED: usize = 25;
/// Room before and behind an arrow, mm.
const ENDS: f64 = 0.4;
/// Half the height of an arrow with its room, mm.
const ARROW: f64 = 1.6;
/// Least and greatest length of an arrow, mm.
const ARROWS: [f64; 2] = [4.0, 30.0];

/// A line of a label.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Label {
    pub(super) text: String,
    pub(super) at: Point,
    pub(super) size: f64,
    pub(super) degrees: f64,
    pub(super) bold: bool,
    /// The box of the whole label.
    room: Rect,
}

/// Number and name where there is room, the number alone where there is less, and the grain beside them: the largest words that
/// leave room for an arrow, or the largest of all where none do.
pub(super) fn label(
    ring: &[Point],
    number: usize,
    copy: &Placed,
    way: Vec2,
) -> (Vec<Label>, Option<[Point; 2]>) {
    let mut without_arrow = None;
    for (lines, size, upright, bold) in wordings(number, copy) {
        let Some(label) = placed(ring, &lines, size, upright, bold) else {
            continue;
        };
        if let Some(arrow) = grain(ring, &label, way) {
            return (label, Some(arrow));
        }
        without_arrow.get_or_insert(label);
    }
    match without_arrow {
        Some(label) => (label, None),
        None => (Vec::new(), grain(ring, &[], way)),
    }
}

/// What may be written, the best first: lines, their size, whether they stand upright, whether they are bold.
fn wordings(number: usize, copy: &Placed) -> Vec<(Vec<String>, f64, bool, bool)> {
    let name = format!("{number} {}", copy.title);
    let mut all = Vec::new();
    for size in SIZES {
        let whole = text_width(&name, size, Weight::Regular) + 0.1;
        let mut known: Vec<Vec<String>> = Vec::new();
        for width in [whole, whole * 0.62, whole * 0.45] {
            let lines = wrap(&name, size, Weight::Regular, width);
            if !known.contains(&lines) {
                all.extend([false, true].map(|upright| (lines.clone(), size, upright, false)));
                known.push(lines);
            }
        }
    }
    all.extend(NUMBERS.map(|size| (vec![number.to_string()], size, false, true)));
    all
}

/// The lines in the place nearest to the middle where their box has room.
fn placed(
    ring: &[Point],
    lines: &[String],
    size: f64,
    upright: bool,
    bold: bool,
) -> Option<Vec<Label>> {
    let weight = if bold { Weight::Bold } else { Weight::Regular };
    let wide = lines
        .iter()
        .map(|line| text_width(line, size, weight))
        .fold(0.0, f64::max);
    let high = size * LINE * lines.len() as f64;
    let half = if upright {
        Vec2::new(high, wide) / 2.0
    } else {
        Vec2::new(wide, high) / 2.0
    };
    let bounds = bounds(ring);
    let middle = bounds.center();
    let mut best: Option<(f64, Point)> = None;
    for row in 0..=TRIED {
        for column in 0..=TRIED {
            let share = |step: usize| step as f64 / TRIED as f64;
            let at = Point::new(
                bounds.x0 + bounds.width() * share(column),
                bounds.y0 + bounds.height() * share(row),
            );
            let off = at.distance(middle);
            if best.is_none_or(|(least, _)| off < least)
                && holds(
                    ring,
                    Rect::from_points(at - half, at + half).inflate(ROOM, ROOM),
                )
            {
                best = Some((off, at));
            }
        }
    }
    let (_, at) = best?;
    let room = Rect::from_points(at - half, at + half);
    let line = |(index, text): (usize, &String)| {
        let down = size * (LINE * index as f64 + RISE + (LINE - 1.0) / 2.0) - high / 2.0;
        let back = -text_width(text, size, weight) / 2.0;
        let at = if upright {
            Point::new(at.x + down, at.y - back)
        } else {
            Point::new(at.x + back, at.y + down)
        };
        Label {
            text: text.clone(),
            at,
            size,
            degrees: if upright { -90.0 } else { 0.0 },
            bold,
            room,
        }
    };
    Some(lines.iter().enumerate().map(line).collect())
}

/// The longest free stretch along the grain beside the label; from its end at the top of the piece to that at its foot.
fn grain(ring: &[Point], label: &[Label], way: Vec2) -> Option<[Point; 2]> {
    let bounds = bounds(ring);
    let taken = label.first().map(|line| line.room.inflate(0.6, 0.6));
    let mut best: Option<(f64, Point)> = None;
    for row in 1..TRIED {
        let y = bounds.y0 + bounds.height() * row as f64 / TRIED as f64;
        for (from, to) in free(ring, taken, y) {
            let length = to - from;
            // Near the middle, unless another place is much longer.
            let worth = length - 0.3 * (y - bounds.center().y).abs();
            if length >= ARROWS[0] && best.as_ref().is_none_or(|(most, _)| worth > *most) {
                best = Some((worth, Point::new(from + length / 2.0, y)));
            }
        }
    }
    let (_, middle) = best?;
    let row = free(ring, taken, middle.y)
        .into_iter()
        .find(|(from, to)| (*from..=*to).contains(&middle.x))?;
    let half = ((row.1 - row.0) * 0.4).min(ARROWS[1] / 2.0);
    Some([middle - way * half, middle + way * half])
}

/// The stretches of a level band that lie inside the ring and off a box: the gaps between what of its sides lies in the band.
fn free(ring: &[Point], taken: Option<Rect>, y: f64) -> Vec<(f64, f64)> {
    let (low, high) = (y - ARROW, y + ARROW);
    let next = ring.iter().cycle().skip(1);
    let sides = ring.iter().zip(next);
    let mut blocked: Vec<(f64, f64)> = sides
        .filter_map(|(a, b)| within(*a, *b, (low, high)))
        .collect();
    if let Some(taken) = taken.filter(|taken| taken.y1 > low && taken.y0 < high) {
        blocked.push((taken.x0, taken.x1));
    }
    blocked.sort_by(|a, b| a.0.total_cmp(&b.0));
    let (mut stretches, mut end) = (Vec::new(), f64::NEG_INFINITY);
    for (from, to) in blocked {
        let gap = (end + ENDS, from - ENDS);
        if end.is_finite() && gap.0 < gap.1 && contains(ring, Point::new(0.5 * (gap.0 + gap.1), y))
        {
            stretches.push(gap);
        }
        end = end.max(to);
    }
    stretches
}

/// From where to where along x a side lies in a level band.
fn within(a: Point, b: Point, (low, high): (f64, f64)) -> Option<(f64, f64)> {
    if a.y.max(b.y) < low || a.y.min(b.y) > high {
        return None;
    }
    let at = |y: f64| a.x + (b.x - a.x) * ((y - a.y) / (b.y - a.y)).clamp(0.0, 1.0);
    let (one, other) = if a.y == b.y {
        (a.x, b.x)
    } else {
        (at(low), at(high))
    };
    Some((one.min(other), one.max(other)))
}

/// Whether a box lies wholly inside a ring.
fn holds(ring: &[Point], room: Rect) -> bool {
    let corners = [
        room.origin(),
        Point::new(room.x1, room.y0),
        Point::new(room.x1, room.y1),
        Point::new(room.x0, room.y1),
    ];
    if !corners.iter().all(|corner| contains(ring, *corner)) {
        return false;
    }
    let next = ring.iter().cycle().skip(1);
    let crosses = |(a, b): (&Point, &Point)| meets(room, *a, *b);
    !ring.iter().zip(next).any(crosses)
}

/// Whether a stretch of line touches a box (Liang and Barsky's clipping).
fn meets(room: Rect, a: Point, b: Point) -> bool {
    let (mut first, mut last) = (0.0_f64, 1.0_f64);
    let way = b - a;
    for (speed, low, high) in [
        (way.x, room.x0 - a.x, room.x1 - a.x),
        (way.y, room.y0 - a.y, room.y1 - a.y),
    ] {
        if speed == 0.0 {
            if low > 0.0 || high < 0.0 {
                return false;
            }
            continue;
        }
        let (near, far) = (low / speed, high / speed);
        first = first.max(near.min(far));
        last = last.min(near.max(far));
    }
    first <= last
}

fn contains(ring: &[Point], point: Point) -> bool {
    let next = ring.iter().cycle().skip(1);
    let mut inside = false;
    for (a, b) in ring.iter().zip(next) {
        if (a.y > point.y) != (b.y > point.y) {
            let x = a.x + (b.x - a.x) * (point.y - a.y) / (b.y - a.y);
            inside ^= x > point.x;
        }
    }
    inside
}

fn bounds(ring: &[Point]) -> Rect {
    ring.iter()
        .map(|point| Rect::from_points(*point, *point))
        .reduce(|all, one| all.union(one))
        .unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn square(side: f64) -> Vec<Point> {
        let p = Point::new;
        vec![p(0.0, 0.0), p(side, 0.0), p(side, side), p(0.0, side)]
    }

    #[test]
    fn a_box_is_held_only_where_no_side_crosses_it() {
        let ring = square(10.0);
        assert!(holds(&ring, Rect::new(1.0, 1.0, 9.0, 9.0)));
        assert!(!holds(&ring, Rect::new(1.0, 1.0, 11.0, 9.0)));
        // A notch that reaches between the corners of the box.
        let mut notched = ring.clone();
        notched.insert(1, Point::new(5.2, 0.0));
        notched.insert(1, Point::new(5.0, 5.0));
        notched.insert(1, Point::new(4.8, 0.0));
        assert!(!holds(&notched, Rect::new(1.0, 1.0, 9.0, 9.0)));
    }

    #[test]
    fn an_arrow_keeps_clear_of_the_label() {
        let ring = square(40.0);
        let lines = placed(&ring, &["12 Sleeve".to_owned()], 3.6, false, false).expect("room");
        let room = lines[0].room;
        let [from, to] = grain(&ring, &lines, Vec2::new(1.0, 0.0)).expect("room");
        assert_eq!(from.y, to.y);
        assert!(
            from.y < room.y0 - 0.5 || from.y > room.y1 + 0.5 || to.x < room.x0 || from.x > room.x1
        );
    }
}

//! Where two segments meet: cross or touch, by subdivision with separating lines and a Newton finish.
//!
//! Knows single segments only; `crossing` and `simple` put them together. Invariant: a meeting's two parameters lie in
//! \[0, 1\] and give points no farther apart than the tolerance asked for.

use kurbo::{CubicBez, Line, ParamCurve, ParamCurveDeriv, PathSeg, Point, Vec2};

/// Pieces shorter than this, mm, are not divided further.
const SMALLEST: f64 = 1e-8;
/// Two segments that lie on each other touch everywhere; so many places are enough to say so.
const MOST_TOUCHES: usize = 200;

/// A place where two segments meet.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Meeting {
    /// Parameter on the first segment.
    pub(crate) first: f64,
    /// Parameter on the second segment.
    pub(crate) second: f64,
    /// Where they meet.
    pub(crate) point: Point,
}

/// Which ends of two segments are one corner, that does not count as a meeting.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Shared {
    /// The first segment ends where the second starts.
    pub(crate) end_to_start: bool,
    /// The second segment ends where the first starts.
    pub(crate) start_to_end: bool,
}

/// Part of a segment, as a cubic of its own.
#[derive(Clone, Copy)]
struct Piece {
    cubic: CubicBez,
    from: f64,
    to: f64,
}

/// Parameter ranges of two pieces that lie within the tolerance of each other side by side.
#[derive(Clone, Copy)]
struct Touch {
    first: (f64, f64),
    second: (f64, f64),
    middle: (f64, f64),
}

/// All places where two segments meet, in order along the first; touching counts within the tolerance, mm.
pub(crate) fn meetings(a: &PathSeg, b: &PathSeg, shared: Shared, tolerance: f64) -> Vec<Meeting> {
    let (a, b) = (raised(a), raised(b));
    let mut found = Vec::new();
    let mut touches = Vec::new();
    let mut waiting = vec![(Piece::whole(a), Piece::whole(b))];
    while let Some((p, q)) = waiting.pop() {
        if apart(&p, &q, tolerance) || only_corner(&p, &q, shared) {
            continue;
        }
        if transversal(&p, &q) {
            if at_corner(&p, &q, shared) {
                continue;
            }
            if let Some(meeting) = crossing_by_newton(&a, &b, &p, &q) {
                found.push(meeting);
                continue;
            }
        }
        if p.is_flat(tolerance / 4.0) && q.is_flat(tolerance / 4.0) {
            if !at_corner(&p, &q, shared) {
                touches.extend(touch(&p, &q, tolerance));
            }
            if touches.len() >= MOST_TOUCHES {
                break;
            }
            continue;
        }
        if p.reach() >= q.reach() {
            waiting.extend(p.halves().map(|half| (half, q)));
        } else {
            waiting.extend(q.halves().map(|half| (p, half)));
        }
    }
    for touch in merged(touches) {
        settle(&a, &b, &touch, &mut found);
    }
    without_repeats(found, tolerance)
}

/// All places where one segment crosses itself: at most one for a cubic, given as its two parameters.
pub(crate) fn loops(segment: &PathSeg, tolerance: f64) -> Vec<Meeting> {
    let mut found = Vec::new();
    let mut waiting = vec![Piece::whole(raised(segment))];
    while let Some(piece) = waiting.pop() {
        if piece.runs_one_way() || piece.reach() < SMALLEST {
            continue;
        }
        let [left, right] = piece.halves();
        let corner = Shared {
            end_to_start: true,
            start_to_end: false,
        };
        let halves = (PathSeg::Cubic(left.cubic), PathSeg::Cubic(right.cubic));
        for meeting in meetings(&halves.0, &halves.1, corner, tolerance) {
            found.push(Meeting {
                first: left.from + meeting.first * (left.to - left.from),
                second: right.from + meeting.second * (right.to - right.from),
                point: meeting.point,
            });
        }
        waiting.extend([left, right]);
    }
    found
}

impl Piece {
    fn whole(cubic: CubicBez) -> Self {
        Self {
            cubic,
            from: 0.0,
            to: 1.0,
        }
    }

    fn halves(&self) -> [Self; 2] {
        let (left, right) = self.cubic.subdivide();
        let middle = f64::midpoint(self.from, self.to);
        let half = |cubic, from, to| Self { cubic, from, to };
        [half(left, self.from, middle), half(right, middle, self.to)]
    }

    fn hull(&self) -> [Point; 4] {
        let c = &self.cubic;
        [c.p0, c.p1, c.p2, c.p3]
    }

    fn chord(&self) -> Vec2 {
        self.cubic.p3 - self.cubic.p0
    }

    /// The directions between which the piece's own directions lie.
    fn directions(&self) -> [Vec2; 3] {
        let c = &self.cubic;
        [c.p1 - c.p0, c.p2 - c.p1, c.p3 - c.p2]
    }

    /// Larger side of the hull's upright box, mm.
    fn reach(&self) -> f64 {
        let (x, y) = (
            self.extent(Vec2::new(1.0, 0.0)),
            self.extent(Vec2::new(0.0, 1.0)),
        );
        (x.1 - x.0).max(y.1 - y.0)
    }

    /// Least and greatest extent of the hull along a direction.
    fn extent(&self, along: Vec2) -> (f64, f64) {
        let [a, b, c, d] = self.hull().map(|point| point.to_vec2().dot(along));
        (a.min(b).min(c).min(d), a.max(b).max(c).max(d))
    }

    /// Whether the piece is its chord, to a distance in mm.
    fn is_flat(&self, within: f64) -> bool {
        let chord = self.chord();
        let length = chord.hypot();
        if length < SMALLEST || self.reach() < SMALLEST {
            return self.reach() < within.max(SMALLEST);
        }
        let c = &self.cubic;
        [c.p1 - c.p0, c.p2 - c.p0].iter().all(|&handle| {
            let along = handle.dot(chord) / length;
            handle.cross(chord).abs() <= within * length
                && along > -within
                && along < length + within
        })
    }

    /// Whether every direction of the piece points with its chord, so that it cannot cross itself.
    fn runs_one_way(&self) -> bool {
        let chord = self.chord();
        chord.hypot2() > 0.0 && self.directions().iter().all(|way| way.dot(chord) >= 0.0)
    }
}

/// A segment as a cubic that runs evenly where it is a line.
fn raised(segment: &PathSeg) -> CubicBez {
    match segment {
        PathSeg::Line(Line { p0, p1 }) => {
            CubicBez::new(*p0, p0.lerp(*p1, 1.0 / 3.0), p0.lerp(*p1, 2.0 / 3.0), *p1)
        }
        other => other.to_cubic(),
    }
}

/// Whether a line with more than the tolerance to spare lies between the hulls.
fn apart(p: &Piece, q: &Piece, tolerance: f64) -> bool {
    let upright = [Vec2::new(1.0, 0.0), Vec2::new(0.0, 1.0)];
    upright
        .iter()
        .any(|&axis| apart_along(p, q, axis, tolerance))
        || [p.chord(), q.chord()].iter().any(|chord| {
            let length = chord.hypot();
            length > 0.0 && apart_along(p, q, Vec2::new(chord.y, -chord.x) / length, tolerance)
        })
}

fn apart_along(p: &Piece, q: &Piece, axis: Vec2, tolerance: f64) -> bool {
    let (a, b) = (p.extent(axis), q.extent(axis));
    a.0 > b.1 + tolerance || b.0 > a.1 + tolerance
}

/// The shared corner that two pieces both reach, if any.
fn corner(p: &Piece, q: &Piece, shared: Shared) -> Option<Point> {
    if shared.end_to_start && p.to == 1.0 && q.from == 0.0 {
        Some(p.cubic.p3)
    } else if shared.start_to_end && p.from == 0.0 && q.to == 1.0 {
        Some(p.cubic.p0)
    } else {
        None
    }
}

fn at_corner(p: &Piece, q: &Piece, shared: Shared) -> bool {
    corner(p, q, shared).is_some()
}

/// Whether a line through the corner that two pieces share keeps all else of them apart.
fn only_corner(p: &Piece, q: &Piece, shared: Shared) -> bool {
    let Some(at) = corner(p, q, shared) else {
        return false;
    };
    if p.reach() < SMALLEST || q.reach() < SMALLEST {
        return true;
    }
    let (a, b) = (away(p, at), away(q, at));
    let across = b - a;
    across.hypot2() > 1e-6
        && p.hull()
            .iter()
            .all(|&point| point == at || (point - at).dot(across) < 0.0)
        && q.hull()
            .iter()
            .all(|&point| point == at || (point - at).dot(across) > 0.0)
}

/// Mean direction of a hull seen from a corner of it.
fn away(piece: &Piece, at: Point) -> Vec2 {
    let sum: Vec2 = piece
        .hull()
        .iter()
        .map(|&point| point - at)
        .filter(|way| way.hypot2() > 0.0)
        .map(|way| way / way.hypot())
        .fold(Vec2::ZERO, |sum, way| sum + way);
    if sum.hypot2() > 0.0 {
        sum / sum.hypot()
    } else {
        sum
    }
}

/// Whether every direction of one piece turns the same way into every direction of the other: then their chords can
/// never be parallel, and they meet at most once.
fn transversal(p: &Piece, q: &Piece) -> bool {
    let mut sign = 0.0;
    for a in p.directions().iter().filter(|way| way.hypot2() > 0.0) {
        for b in q.directions().iter().filter(|way| way.hypot2() > 0.0) {
            let cross = a.cross(*b);
            if cross == 0.0 || cross * sign < 0.0 {
                return false;
            }
            sign = cross;
        }
    }
    sign != 0.0
}

/// The crossing of two pieces that cross at most once, or `None` where it lies outside of them.
fn crossing_by_newton(a: &CubicBez, b: &CubicBez, p: &Piece, q: &Piece) -> Option<Meeting> {
    let (mut s, mut t) = (f64::midpoint(p.from, p.to), f64::midpoint(q.from, q.to));
    let (da, db) = (a.deriv(), b.deriv());
    for _ in 0..16 {
        let gap = b.eval(t) - a.eval(s);
        if gap.hypot() < 1e-11 {
            break;
        }
        let (u, v) = (da.eval(s).to_vec2(), db.eval(t).to_vec2());
        let across = u.cross(v);
        if across == 0.0 {
            return None;
        }
        s = (s + gap.cross(v) / across).clamp(p.from - 1.0, p.to + 1.0);
        t = (t + gap.cross(u) / across).clamp(q.from - 1.0, q.to + 1.0);
    }
    let slack = 1e-12;
    let inside =
        s >= p.from - slack && s <= p.to + slack && t >= q.from - slack && t <= q.to + slack;
    let (s, t) = (s.clamp(0.0, 1.0), t.clamp(0.0, 1.0));
    (inside && (a.eval(s) - b.eval(t)).hypot() < 1e-9).then(|| Meeting {
        first: s,
        second: t,
        point: a.eval(s),
    })
}

/// Two straight pieces side by side: the middle of what lies within the tolerance, if anything does.
fn touch(p: &Piece, q: &Piece, tolerance: f64) -> Option<Touch> {
    let ends = [
        (0.0, share(q, p.cubic.p0)),
        (1.0, share(q, p.cubic.p3)),
        (share(p, q.cubic.p0), 0.0),
        (share(p, q.cubic.p3), 1.0),
    ];
    let near: Vec<(f64, f64)> = ends
        .into_iter()
        .filter(|&(s, t)| {
            let at = |piece: &Piece, share| piece.cubic.p0 + piece.chord() * share;
            (at(p, s) - at(q, t)).hypot() <= tolerance
        })
        .collect();
    let count = near.len() as f64;
    let mean = |values: f64, piece: &Piece| piece.from + values / count * (piece.to - piece.from);
    (!near.is_empty()).then(|| Touch {
        first: (p.from, p.to),
        second: (q.from, q.to),
        middle: (
            mean(near.iter().map(|pair| pair.0).sum(), p),
            mean(near.iter().map(|pair| pair.1).sum(), q),
        ),
    })
}

/// How far along a straight piece the nearest place to a point lies, from 0 to 1.
fn share(piece: &Piece, point: Point) -> f64 {
    let chord = piece.chord();
    let square = chord.hypot2();
    if square == 0.0 {
        0.0
    } else {
        ((point - piece.cubic.p0).dot(chord) / square).clamp(0.0, 1.0)
    }
}

/// Touches of pieces that follow each other, as one.
fn merged(mut touches: Vec<Touch>) -> Vec<Touch> {
    touches.sort_by(|a, b| {
        a.first
            .0
            .total_cmp(&b.first.0)
            .then(a.second.0.total_cmp(&b.second.0))
    });
    let mut runs: Vec<(Touch, f64)> = Vec::new();
    let follows = |run: &Touch, next: &Touch| {
        next.first.0 <= run.first.1
            && next.second.0 <= run.second.1
            && run.second.0 <= next.second.1
    };
    for next in touches {
        match runs.iter_mut().rev().find(|(run, _)| follows(run, &next)) {
            Some((run, count)) => {
                let mean = |old: f64, new: f64| (old * *count + new) / (*count + 1.0);
                run.middle = (
                    mean(run.middle.0, next.middle.0),
                    mean(run.middle.1, next.middle.1),
                );
                run.first.1 = run.first.1.max(next.first.1);
                run.second = (
                    run.second.0.min(next.second.0),
                    run.second.1.max(next.second.1),
                );
                *count += 1.0;
            }
            None => runs.push((next, 1.0)),
        }
    }
    runs.into_iter().map(|(run, _)| run).collect()
}

/// Puts a touch among the meetings: at the place where the segments run alongside closest to each other, or else at a
/// crossing beside it that is already known, or else in its middle.
fn settle(a: &CubicBez, b: &CubicBez, touch: &Touch, found: &mut Vec<Meeting>) {
    let beside = |x: f64, range: (f64, f64)| {
        let width = range.1 - range.0;
        x >= range.0 - width && x <= range.1 + width
    };
    let is_beside =
        |known: &Meeting| beside(known.first, touch.first) && beside(known.second, touch.second);
    let closest = alongside(a, b, touch);
    if closest.is_some() {
        found.retain(|known| !is_beside(known));
    } else if found.iter().any(is_beside) {
        return;
    }
    let (first, second) = closest.unwrap_or(touch.middle);
    let point = a.eval(first).midpoint(b.eval(second));
    found.push(Meeting {
        first,
        second,
        point,
    });
}

/// Newton steps towards equal directions with the gap at right angles to them.
fn alongside(a: &CubicBez, b: &CubicBez, touch: &Touch) -> Option<(f64, f64)> {
    let (mut s, mut t) = touch.middle;
    let (da, db) = (a.deriv(), b.deriv());
    let (dda, ddb) = (da.deriv(), db.deriv());
    for _ in 0..8 {
        let gap = a.eval(s) - b.eval(t);
        let (u, v) = (da.eval(s).to_vec2(), db.eval(t).to_vec2());
        let (uu, vv) = (dda.eval(s).to_vec2(), ddb.eval(t).to_vec2());
        let (f, g) = (gap.dot(u), u.cross(v));
        let (fs, ft) = (u.dot(u) + gap.dot(uu), -v.dot(u));
        let (gs, gt) = (uu.cross(v), u.cross(vv));
        let whole = fs * gt - ft * gs;
        if whole.abs() < 1e-9 * u.hypot2() * v.hypot2() {
            return None;
        }
        s -= (f * gt - ft * g) / whole;
        t -= (fs * g - f * gs) / whole;
    }
    let inside = |x: f64, range: (f64, f64)| x >= range.0 && x <= range.1;
    (inside(s, touch.first) && inside(t, touch.second)).then_some((s, t))
}

/// Meetings in order along the first segment, each once.
fn without_repeats(mut found: Vec<Meeting>, tolerance: f64) -> Vec<Meeting> {
    found.sort_by(|a, b| {
        a.first
            .total_cmp(&b.first)
            .then(a.second.total_cmp(&b.second))
    });
    found.dedup_by(|next, kept| {
        (next.point - kept.point).hypot() <= 2.0 * tolerance
            && (next.first - kept.first).abs() < 1e-3
            && (next.second - kept.second).abs() < 1e-3
    });
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn arc(radius: f64, at: (f64, f64)) -> PathSeg {
        let k = 4.0 / 3.0 * (2f64.sqrt() - 1.0) * radius;
        let p = |x: f64, y: f64| Point::new(at.0 + x, at.1 + y);
        PathSeg::Cubic(CubicBez::new(
            p(radius, 0.0),
            p(radius, k),
            p(k, radius),
            p(0.0, radius),
        ))
    }

    #[test]
    fn lines_cross_and_touch() {
        let across = PathSeg::Line(Line::new((0.0, 0.0), (10.0, 0.0)));
        let down = PathSeg::Line(Line::new((4.0, -1.0), (4.0, 5.0)));
        let found = meetings(&across, &down, Shared::default(), 1e-6);
        assert_eq!(found.len(), 1);
        assert!(
            (found[0].first - 0.4).abs() < 1e-12 && (found[0].second - 1.0 / 6.0).abs() < 1e-12
        );
        let on_top = PathSeg::Line(Line::new((6.0, 0.0), (16.0, 0.0)));
        let found = meetings(&across, &on_top, Shared::default(), 1e-6);
        assert_eq!(found.len(), 1);
        assert!((found[0].point - Point::new(8.0, 0.0)).hypot() < 1e-9);
        let short = PathSeg::Line(Line::new((4.0, 0.1), (4.0, 5.0)));
        assert!(meetings(&across, &short, Shared::default(), 1e-6).is_empty());
        let end = PathSeg::Line(Line::new((4.0, 0.0005), (4.0, 5.0)));
        assert_eq!(meetings(&across, &end, Shared::default(), 1e-3).len(), 1);
    }

    #[test]
    fn tangency_is_one_meeting() {
        let curve = arc(100.0, (0.0, 0.0));
        let top = curve.eval(0.5);
        let way = Vec2::new(-1.0, 1.0);
        let tangent = PathSeg::Line(Line::new(top - way * 50.0, top + way * 50.0));
        for tolerance in [1e-3, 1e-6] {
            let found = meetings(&curve, &tangent, Shared::default(), tolerance);
            assert_eq!(found.len(), 1, "{found:?}");
            assert!((found[0].first - 0.5).abs() < 1e-6 && (found[0].second - 0.5).abs() < 1e-6);
        }
    }

    #[test]
    fn the_same_curve_twice_is_told_quickly() {
        let curve = arc(100.0, (0.0, 0.0));
        assert!(!meetings(&curve, &curve, Shared::default(), 1e-6).is_empty());
    }

    #[test]
    fn a_loop_is_found_once_at_its_knot() {
        let knot = PathSeg::Cubic(CubicBez::new(
            (0.0, 0.0),
            (100.0, 80.0),
            (-40.0, 80.0),
            (60.0, 0.0),
        ));
        let found = loops(&knot, 1e-6);
        assert_eq!(found.len(), 1);
        assert!((knot.eval(found[0].first) - knot.eval(found[0].second)).hypot() < 1e-8);
        assert!(loops(&arc(50.0, (1.0, 2.0)), 1e-6).is_empty());
    }

    #[test]
    fn a_shared_corner_is_no_meeting() {
        let corner = Shared {
            end_to_start: true,
            start_to_end: false,
        };
        let first = arc(100.0, (0.0, 0.0));
        let on = PathSeg::Line(Line::new((0.0, 100.0), (-50.0, 100.0)));
        assert!(meetings(&first, &on, corner, 1e-6).is_empty());
        let back = PathSeg::Line(Line::new((0.0, 100.0), (110.0, 20.0)));
        assert_eq!(meetings(&first, &back, corner, 1e-6).len(), 1);
    }
}

//! A curve at a constant distance beside another.
//!
//! Knows no corners of pieces: those are `allowance`'s. Invariant: an offset runs in its curve's order and keeps its
//! distance from all of the curve to within the tolerance, but for mitred kinks, which lie farther out.

use kurbo::{CubicBez, Line, ParamCurve, PathSeg, Point, Vec2};

use crate::{
    Curve, Tolerance,
    curve::{angle_between, direction, set_end, set_start},
    math,
    parallel::parallels,
    simple::chain_meetings,
};

/// A mitre that would run farther than so many times the distance is cut off square there.
pub const MITRE_LIMIT: f64 = 2.5;
/// A shorter loop than this, mm, is never meant: no blade turns in it.
const SMALLEST_LOOP: f64 = 0.5;
/// A segment shorter than this, mm, is a rest of trimming and not a part of the curve.
const SPECK: f64 = 1e-3;

impl Curve {
    /// The curve at a constant distance, mm, to the left of this one looking along it, or to its right where the distance
    /// is negative. (Left is outside where an outline runs clockwise on the table.)
    ///
    /// Kinks that open are mitred up to [`MITRE_LIMIT`] times the distance; where the curve is hollower than the distance,
    /// what would lie nearer to it is trimmed away. `None` where nothing remains.
    pub fn offset(&self, distance: f64, tolerance: Tolerance) -> Option<Self> {
        offset(self, distance, tolerance, Kinks::Mitred)
    }

    /// The same with kinks that open rounded about their corner: every place of it lies at the distance, none farther out.
    pub fn rounded_offset(&self, distance: f64, tolerance: Tolerance) -> Option<Self> {
        offset(self, distance, tolerance, Kinks::Rounded)
    }
}

/// How an offset passes a kink that opens.
#[derive(Clone, Copy, PartialEq)]
enum Kinks {
    Mitred,
    Rounded,
}

fn offset(curve: &Curve, distance: f64, tolerance: Tolerance, kinks: Kinks) -> Option<Curve> {
    if distance == 0.0 {
        return Some(curve.clone());
    }
    let raw = raw_offset(curve, distance, tolerance, kinks);
    if raw.is_empty() {
        return None;
    }
    let beside = Beside {
        curve,
        distance,
        slack: 2.0 * tolerance.mm(),
    };
    beside.trimmed(&raw).map(without_specks)
}

/// The curve without what trimming leaves of a hollow kink of a fraction of a degree: lines too short to have a direction that
/// another offset could follow, or that crossings could tell from their neighbours.
pub(crate) fn without_specks(curve: Curve) -> Curve {
    let is_speck = |segment: &&PathSeg| (segment.end() - segment.start()).hypot() < SPECK;
    if !curve.segments().iter().any(|segment| is_speck(&segment)) {
        return curve;
    }
    let mut kept: Vec<PathSeg> = Vec::new();
    for segment in curve.segments().iter().filter(|segment| !is_speck(segment)) {
        let mut segment = *segment;
        if let Some(last) = kept.last() {
            set_start(&mut segment, last.end());
        }
        kept.push(segment);
    }
    match Curve::from_segments(kept) {
        Some(clean) => clean.with_ends(curve.start(), curve.end()),
        None => curve,
    }
}

/// What is known about the curve that an offset belongs to.
struct Beside<'a> {
    curve: &'a Curve,
    distance: f64,
    slack: f64,
}

/// The offset of every segment with joins between them, loops and all.
fn raw_offset(curve: &Curve, distance: f64, tolerance: Tolerance, kinks: Kinks) -> Vec<PathSeg> {
    let mut raw: Vec<PathSeg> = Vec::new();
    let mut arriving = Vec2::ZERO;
    for segment in curve.segments() {
        let next = segment_offset(segment, distance, tolerance);
        let Some(first) = next.first() else {
            continue;
        };
        if let Some(last) = raw.last() {
            let end = (last.end(), arriving);
            let start = (first.start(), direction(segment, 0.0));
            raw.extend(match kinks {
                Kinks::Rounded if gapes(end, start, distance) => {
                    arc(segment.start(), end.0, start.0, tolerance)
                }
                _ => join(segment.start(), end, start, distance, tolerance),
            });
        }
        raw.extend(next);
        arriving = direction(segment, 1.0);
    }
    welded(raw)
}

fn segment_offset(segment: &PathSeg, distance: f64, tolerance: Tolerance) -> Vec<PathSeg> {
    let cubic = match segment {
        PathSeg::Line(line) => return line_offset(line.p0, line.p1, distance),
        other => other.to_cubic(),
    };
    if is_straight(&cubic) {
        return line_offset(cubic.p0, cubic.p3, distance);
    }
    parallels(&cubic, distance, tolerance.mm() / 2.0)
        .into_iter()
        .map(PathSeg::Cubic)
        .collect()
}

fn line_offset(from: Point, to: Point, distance: f64) -> Vec<PathSeg> {
    let way = to - from;
    let length = way.hypot();
    if length < 1e-9 {
        return Vec::new();
    }
    let aside = left(way / length) * distance;
    vec![PathSeg::Line(Line::new(from + aside, to + aside))]
}

/// Whether a cubic's control points lie on its chord, where the method for cubics does not apply.
fn is_straight(cubic: &CubicBez) -> bool {
    let chord = cubic.p3 - cubic.p0;
    let off = (cubic.p1 - cubic.p0).cross(chord).abs() + (cubic.p2 - cubic.p0).cross(chord).abs();
    off <= 1e-9 * chord.hypot().max(1e-9)
}

/// The unit vector to the left of a unit direction, on a table with y down.
pub(crate) fn left(way: Vec2) -> Vec2 {
    Vec2::new(way.y, -way.x)
}

/// An end of an offset and the direction of the curve beside it.
pub(crate) type End = (Point, Vec2);

/// Lines that join two offsets at a kink: none where they meet, one straight across where they overlap (its loop is
/// trimmed later), a mitre where they gape.
fn join(kink: Point, end: End, start: End, distance: f64, tolerance: Tolerance) -> Vec<PathSeg> {
    let gap = start.0 - end.0;
    if gap.hypot() <= tolerance.mm() / 2.0 {
        return Vec::new();
    }
    let gapes = gapes(end, start, distance);
    let tip = if gapes {
        meeting_of_rays(end, start)
    } else {
        None
    };
    let corners = match tip {
        Some(tip) if (tip - kink).hypot() <= MITRE_LIMIT * distance.abs() => vec![tip],
        _ if gapes => bevel(kink, end, start, MITRE_LIMIT * distance.abs()),
        _ => Vec::new(),
    };
    let points: Vec<Point> = std::iter::once(end.0)
        .chain(corners)
        .chain([start.0])
        .collect();
    points
        .windows(2)
        .map(|pair| PathSeg::Line(Line::new(pair[0], pair[1])))
        .collect()
}

/// Whether a kink opens on the side of the offset.
fn gapes(end: End, start: End, distance: f64) -> bool {
    end.1.cross(start.1) * distance > 0.0
}

/// The arc about a centre from one point to another at the same distance, the shorter way round; none where they meet.
fn arc(centre: Point, from: Point, to: Point, tolerance: Tolerance) -> Vec<PathSeg> {
    // Cubics of 30° at most stray from a circle by less than a millionth of its radius.
    const MOST: f64 = std::f64::consts::FRAC_PI_6;
    if (to - from).hypot() <= tolerance.mm() / 2.0 {
        return Vec::new();
    }
    let turn = angle_between(from - centre, to - centre).radians();
    let pieces = (turn.abs() / MOST).ceil().max(1.0);
    let handle = 4.0 / 3.0 * math::tan(turn / pieces / 4.0);
    let spoke = |k: f64| {
        let (sin, cos) = math::sin_cos(turn * k / pieces);
        let away = from - centre;
        Vec2::new(away.x * cos - away.y * sin, away.x * sin + away.y * cos)
    };
    (0..pieces as u32)
        .map(|k| {
            let (a, b) = (spoke(f64::from(k)), spoke(f64::from(k + 1)));
            let (start, end) = (centre + a, centre + b);
            let leaves = Vec2::new(-a.y, a.x) * handle;
            let arrives = Vec2::new(-b.y, b.x) * handle;
            PathSeg::Cubic(CubicBez::new(start, start + leaves, end - arrives, end))
        })
        .collect()
}

/// Where the ray onwards from one end meets the ray backwards from a start, if it does.
fn meeting_of_rays(end: End, start: End) -> Option<Point> {
    let across = end.1.cross(start.1);
    if across.abs() < 1e-9 {
        return None;
    }
    let gap = start.0 - end.0;
    let (onwards, backwards) = (gap.cross(start.1) / across, -gap.cross(end.1) / across);
    (onwards >= -1e-9 && backwards >= -1e-9).then(|| end.0 + end.1 * onwards)
}

/// The two corners of a mitre that is cut off square at a distance from its kink.
pub(crate) fn bevel(kink: Point, end: End, start: End, at: f64) -> Vec<Point> {
    let middle = end.1 - start.1;
    if middle.hypot() < 1e-9 {
        return Vec::new();
    }
    let middle = middle / middle.hypot();
    let run = |(from, way): End| {
        let pace = way.dot(middle);
        let missing = at - (from - kink).dot(middle);
        from + way * (missing / pace).max(0.0)
    };
    vec![run(end), run((start.0, -start.1))]
}

/// Segments that start exactly where the one before ended; what the tolerance left open is closed half-way.
fn welded(mut raw: Vec<PathSeg>) -> Vec<PathSeg> {
    for index in 1..raw.len() {
        let middle = raw[index - 1].end().midpoint(raw[index].start());
        set_end(&mut raw[index - 1], middle);
        set_start(&mut raw[index], middle);
    }
    raw
}

impl Beside<'_> {
    /// The raw offset without what lies nearer to the curve than the distance.
    fn trimmed(&self, raw: &[PathSeg]) -> Option<Curve> {
        let without_loops = self.without_loops(raw);
        let curve = Curve::from_segments(without_loops)?;
        let (start_keeps, end_keeps) = (self.keeps(&curve, 0.0), self.keeps(&curve, f64::INFINITY));
        if start_keeps && end_keeps {
            return Some(curve);
        }
        self.kept_stretch(&curve)
    }

    /// The raw offset, jumping from the first to the second pass through every crossing whose loop lies too near.
    fn without_loops(&self, raw: &[PathSeg]) -> Vec<PathSeg> {
        let mut jumps = Vec::new();
        let mut reached = 0.0;
        for found in chain_meetings(raw, false) {
            let from = found.first as f64 + found.meeting.first;
            let to = found.second as f64 + found.meeting.second;
            if from >= reached && self.is_too_near(raw, from, to) {
                jumps.push((from, to, found.meeting.point));
                reached = to;
            }
        }
        let mut kept = Vec::with_capacity(raw.len());
        let mut start = (0.0, raw[0].start());
        for (from, to, point) in jumps {
            kept.extend(between(raw, start, (from, point)));
            start = (to, point);
        }
        let end = (raw.len() as f64, raw[raw.len() - 1].end());
        kept.extend(between(raw, start, end));
        kept
    }

    /// Whether a loop of the raw offset lies nearer to the curve than the distance, or is too small to tell. The loop in a
    /// hollow kink of angle φ comes nearer by d·φ²/2 and is 2·d·φ long: by its nearness it is told where it is longer than
    /// 2·√(2·slack·d), and twice that leaves room for what is measured.
    fn is_too_near(&self, raw: &[PathSeg], from: f64, to: f64) -> bool {
        let points: Vec<Point> = (1..8)
            .map(|step| at(raw, from + (to - from) * f64::from(step) / 8.0))
            .collect();
        let size: f64 = points
            .windows(2)
            .map(|pair| (pair[1] - pair[0]).hypot())
            .sum();
        let nearest = |point: Point| self.curve.nearest(point).distance;
        let hardly_nearer = 2.0 * (2.0 * self.slack * self.distance.abs()).sqrt();
        size < (2.0 * hardly_nearer).max(SMALLEST_LOOP)
            || points
                .iter()
                .any(|&point| nearest(point) < self.distance.abs() - self.slack)
    }

    /// Whether a place of the offset keeps its distance and runs the way of the curve beside it.
    fn keeps(&self, offset: &Curve, along: f64) -> bool {
        let point = offset.point_at(along);
        let found = self.curve.nearest(point);
        let off = found.distance - self.distance.abs();
        let same_way = || {
            let beside = self.curve.direction_at(found.along);
            offset.direction_at(along).dot(beside) > 0.0
        };
        off > -self.slack && (off > self.slack || same_way())
    }

    /// The stretch of an offset that keeps its distance, where its ends do not.
    fn kept_stretch(&self, offset: &Curve) -> Option<Curve> {
        const STEPS: u32 = 64;
        let length = offset.length();
        let place = |step: u32| length * f64::from(step) / f64::from(STEPS);
        let first = (0..=STEPS).find(|&step| self.keeps(offset, place(step)))?;
        let last = (first..=STEPS).rfind(|&step| self.keeps(offset, place(step)))?;
        let start = if first == 0 {
            0.0
        } else {
            self.border(offset, place(first - 1), place(first))
        };
        let end = if last == STEPS {
            length
        } else {
            self.border(offset, place(last + 1), place(last))
        };
        (start < end).then(|| offset.stretch(start, end))
    }

    /// Halves the way between a place that does not keep its distance and one that does.
    fn border(&self, offset: &Curve, mut bad: f64, mut good: f64) -> f64 {
        while (good - bad).abs() > 1e-6 {
            let middle = f64::midpoint(bad, good);
            if self.keeps(offset, middle) {
                good = middle;
            } else {
                bad = middle;
            }
        }
        good
    }
}

/// A position on a chain is the number of its segment plus the parameter there.
fn at(chain: &[PathSeg], position: f64) -> Point {
    let index = (position.floor() as usize).min(chain.len() - 1);
    chain[index].eval(position - index as f64)
}

/// The part of a chain between two positions, its ends put exactly on their points.
fn between(chain: &[PathSeg], from: (f64, Point), to: (f64, Point)) -> Vec<PathSeg> {
    let mut part = Vec::new();
    for (index, segment) in chain.iter().enumerate() {
        let number = index as f64;
        let (start, end) = ((from.0 - number).max(0.0), (to.0 - number).min(1.0));
        if end - start > 1e-9 {
            let whole = start == 0.0 && end == 1.0;
            part.push(if whole {
                *segment
            } else {
                segment.subsegment(start..end)
            });
        }
    }
    if let Some(first) = part.first_mut() {
        set_start(first, from.1);
    }
    if let Some(last) = part.last_mut() {
        set_end(last, to.1);
    }
    part
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::{Knot, math};

    fn arc(radius: f64, from: f64, to: f64, pieces: u32) -> Curve {
        let at = |k: u32| from + (to - from) * f64::from(k) / f64::from(pieces);
        let knots: Vec<Knot> = (0..=pieces)
            .map(|k| {
                let (sin, cos) = math::sin_cos(at(k));
                Knot::toward(
                    Point::new(radius * cos, radius * sin),
                    Vec2::new(-sin, cos) * (to - from).signum(),
                )
            })
            .collect();
        Curve::smooth(&knots).unwrap()
    }

    #[test]
    fn a_line_moves_to_its_left() {
        let line = Curve::line(Point::new(0.0, 0.0), Point::new(10.0, 0.0));
        let beside = line.offset(3.0, Tolerance::PATTERN).unwrap();
        assert_eq!(
            (beside.start(), beside.end()),
            (Point::new(0.0, -3.0), Point::new(10.0, -3.0))
        );
    }

    #[test]
    fn an_arc_becomes_an_arc() {
        // Clockwise on the table, so that left is outside.
        let curve = arc(100.0, 0.0, 2.0, 6);
        for distance in [15.0, -15.0, -60.0, 40.0] {
            let beside = curve.offset(distance, Tolerance::PATTERN).unwrap();
            for step in 0..=50 {
                let point = beside.point_at(beside.length() * f64::from(step) / 50.0);
                assert!((point.to_vec2().hypot() - 100.0 - distance).abs() < 0.002);
            }
        }
    }

    #[test]
    fn nothing_remains_inside_a_tight_hollow() {
        let hollow = arc(10.0, 2.0, 0.0, 4);
        assert!(hollow.offset(15.0, Tolerance::PATTERN).is_none());
        assert!(hollow.offset(-15.0, Tolerance::PATTERN).is_some());
    }

    #[test]
    fn a_hollow_with_straight_ends_is_trimmed_to_a_clean_corner() {
        let hollow = arc(10.0, std::f64::consts::PI, std::f64::consts::FRAC_PI_2, 2);
        let curve = Curve::line(Point::new(-10.0, -80.0), Point::new(-10.0, 0.0))
            .then(&hollow)
            .unwrap()
            .then(&Curve::line(Point::new(0.0, 10.0), Point::new(90.0, 10.0)))
            .unwrap();
        let beside = curve.offset(25.0, Tolerance::PATTERN).unwrap();
        assert!((beside.start() - Point::new(15.0, -80.0)).hypot() < 1e-9);
        assert!((beside.end() - Point::new(90.0, -15.0)).hypot() < 1e-9);
        assert!(
            (beside.length() - 65.0 - 75.0).abs() < 0.01,
            "{}",
            beside.length()
        );
    }

    /// The hem of a flared gore: a few straight stretches that turn by a degree or two, hollow and round by turns.
    #[test]
    fn slight_hollows_leave_no_loop() {
        for turn in [0.05, 0.2, 0.7, 1.45, 2.5, 4.0, 8.0] {
            let (mut at, mut points) = (Point::ORIGIN, vec![Point::ORIGIN]);
            for bend in [0.0, -turn, turn, -turn, turn / 2.0] {
                let (sin, cos) = math::sin_cos(f64::to_radians(bend));
                at += Vec2::new(cos, sin) * 30.0;
                points.push(at);
            }
            let hem = Curve::polyline(&points).unwrap();
            for (distance, tolerance) in [(50.0, Tolerance::DRAWING), (15.0, Tolerance::PATTERN)] {
                let beside = hem.offset(distance, tolerance).unwrap();
                assert!(
                    chain_meetings(beside.segments(), false).is_empty(),
                    "{turn}° at {distance} mm"
                );
            }
        }
    }

    /// A sleeve hem with a hollow kink of a hundredth of a degree, cut back by a lining's hem and given an allowance again.
    #[test]
    fn an_offset_of_an_offset_has_no_specks() {
        for kink in [1e-4, 1e-3, 1e-2, 0.1] {
            let rise = 150.0 * f64::to_radians(kink);
            let points = [(0.0, 0.0), (150.0, rise), (300.0, 0.0)].map(Point::from);
            let hem = Curve::polyline(&points).unwrap();
            let back = hem.offset(-15.0, Tolerance::PATTERN).unwrap();
            let hem = back.offset(-15.0, Tolerance::DRAWING).unwrap();
            for curve in [&back, &hem] {
                let lengths = curve.segments().iter().map(|one| one.end() - one.start());
                assert!(
                    lengths.into_iter().all(|way| way.hypot() > 1e-3),
                    "{kink}: {curve:?}"
                );
                assert!(chain_meetings(curve.segments(), false).is_empty());
            }
        }
    }

    #[test]
    fn kinks_are_mitred_outside_and_trimmed_inside() {
        let bent =
            Curve::polyline(&[(0.0, 0.0).into(), (50.0, 0.0).into(), (50.0, 50.0).into()]).unwrap();
        let outside = bent.offset(10.0, Tolerance::PATTERN).unwrap();
        assert!((outside.length() - 120.0).abs() < 1e-6);
        let inside = bent.offset(-10.0, Tolerance::PATTERN).unwrap();
        assert!((inside.length() - 80.0).abs() < 1e-6);
        let round = bent.rounded_offset(10.0, Tolerance::PATTERN).unwrap();
        let quarter = std::f64::consts::FRAC_PI_2 * 10.0;
        assert!((round.length() - 100.0 - quarter).abs() < 1e-4);
        for step in 0..=60 {
            let point = round.point_at(round.length() * f64::from(step) / 60.0);
            assert!((bent.nearest(point).distance - 10.0).abs() < 1e-4);
        }
        let sharp =
            Curve::polyline(&[(0.0, 0.0).into(), (50.0, 0.0).into(), (0.0, 2.0).into()]).unwrap();
        let beside = sharp.offset(10.0, Tolerance::PATTERN).unwrap();
        assert!(beside.bounds().x1 < 50.0 + 10.0 * MITRE_LIMIT + 1.0);
    }
}

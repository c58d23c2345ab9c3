//! One corner of a cutting outline: where two cutting lines are cut, and what joins them.
//!
//! Knows the two seam lines that meet and their offsets. Invariant: both cutting lines end exactly on the join's ends, or
//! on each other where there is no join.

use kurbo::{PathSeg, Point, Vec2};

use crate::{
    Crossing, Curve, Tolerance,
    allowance::{Corner, Which},
    curve::mirror_in,
    offset::{End, MITRE_LIMIT, bevel, left, without_specks},
};

/// Points nearer than this, mm, are one: what arc lengths and crossings leave open.
const SAME: f64 = 1e-5;
/// Sine below which two sides run on into each other rather than make a corner, or are square to each other: 3°.
const BARELY_TURNS: f64 = 0.05;
/// Sine below which two sides whose common neighbour has no room are joined straight across: 11°, at which a straight line still
/// leaves 99 % of the allowance.
const RUNS_ON: f64 = 0.2;

/// A side as a corner sees it.
#[derive(Clone, Copy)]
pub(crate) struct Seam<'a> {
    /// The seam line.
    pub(crate) curve: &'a Curve,
    /// Its allowance, mm.
    pub(crate) distance: f64,
    /// Its offset at that distance.
    pub(crate) raw: &'a Curve,
}

/// Where a cutting line ends: its offset is followed to a length along, then straight to a point.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Stop {
    /// Length along the offset, mm.
    pub(crate) along: f64,
    /// The cutting line's end.
    pub(crate) at: Point,
}

/// A corner, made.
#[derive(Clone, Debug)]
pub(crate) struct Meeting {
    /// Where the cutting line before the corner ends.
    pub(crate) before: Stop,
    /// What lies between.
    pub(crate) join: Option<Curve>,
    /// Where the cutting line after the corner starts.
    pub(crate) after: Stop,
}

/// A side that runs towards the corner, whichever side of it.
struct Arm {
    /// Its offset, ending at the corner.
    cutting: Curve,
    /// Length of that, mm.
    length: f64,
    /// The corner on the seam line.
    corner: Point,
    /// Direction of the seam line beyond the corner.
    out: Vec2,
    /// Direction to the outside, at right angles to it.
    outside: Vec2,
    /// Allowance, mm.
    distance: f64,
}

/// Two arms stopped, lengths counted towards the corner, and what joins the first's stop to the second's.
type Joined = (Stop, Option<Curve>, Stop);

/// Makes the corner between two neighbours; `None` where their cutting lines miss each other because one is too short.
pub(crate) fn corner(
    kind: Corner,
    before: &Seam<'_>,
    after: &Seam<'_>,
    tolerance: Tolerance,
) -> Option<Meeting> {
    let (first, second) = (Arm::before(before), Arm::after(after));
    let special = match kind {
        Corner::Mitre => None,
        Corner::Squared(which) | Corner::Mirrored(which) => {
            let by_lead = |lead: &Arm, other: &Arm| match kind {
                Corner::Mirrored(_) => mirrored(lead, other),
                _ => squared(lead, other),
            };
            match which {
                _ if turn(&first, &second) <= BARELY_TURNS => None,
                Which::Before => by_lead(&first, &second),
                Which::After => by_lead(&second, &first).map(swapped),
            }
        }
    };
    let joined = special.or_else(|| mitred(&first, &second, tolerance))?;
    Some(as_meeting(joined, second.length))
}

/// Joins two sides whose common neighbour has no room: where their cutting lines cross, or straight across where they run on
/// into each other, as beside a dart whose end is smaller than its allowance.
pub(crate) fn bridge(before: &Seam<'_>, after: &Seam<'_>) -> Option<Meeting> {
    let (first, second) = (Arm::before(before), Arm::after(after));
    let reach = first.reach(&second) + (first.cutting.end() - second.cutting.end()).hypot();
    let joined = crossed(&first, &second, reach).or_else(|| straight_across(&first, &second))?;
    Some(as_meeting(joined, second.length))
}

fn straight_across(first: &Arm, second: &Arm) -> Option<Joined> {
    let (a, b) = (first.cutting.end(), second.cutting.end());
    let run_on = (b - a).dot(first.out) > 0.0 && turn(first, second).abs() <= RUNS_ON;
    run_on.then(|| (first.run_to(a), Some(Curve::line(a, b)), second.run_to(b)))
}

/// A cutting line between two stops of its offset; `None` where they are the same.
pub(crate) fn cut_line(raw: &Curve, start: &Stop, end: &Stop) -> Option<Curve> {
    let length = raw.length();
    let from = start.along.clamp(0.0, length);
    let to = end.along.clamp(from, length);
    if to - from < SAME {
        let middle = raw.point_at(f64::midpoint(from, to));
        return through(&[start.at, middle, end.at]);
    }
    let kept = raw.stretch(from, to);
    let led_in = run_on(&kept.reversed(), start.at)?.reversed();
    run_on(&led_in, end.at)
}

/// The curve with its end run on straight to a point.
fn run_on(curve: &Curve, to: Point) -> Option<Curve> {
    let on = to - curve.end();
    let last = curve.segments().last()?;
    let way = curve.end_direction();
    let goes_on =
        matches!(last, PathSeg::Line(_)) && on.dot(way) > 0.0 && on.cross(way).abs() < SAME;
    if on.hypot() < SAME || goes_on {
        return Some(curve.with_ends(curve.start(), to));
    }
    curve.then(&Curve::line(curve.end(), to))
}

/// Straight lines through points that are apart.
fn through(points: &[Point]) -> Option<Curve> {
    let mut apart: Vec<Point> = Vec::with_capacity(points.len());
    for &point in points {
        if apart
            .last()
            .is_none_or(|last| (point - *last).hypot() > SAME)
        {
            apart.push(point);
        }
    }
    Curve::polyline(&apart)
}

impl Arm {
    fn before(seam: &Seam<'_>) -> Self {
        let out = seam.curve.end_direction();
        Self {
            cutting: seam.raw.clone(),
            length: seam.raw.length(),
            corner: seam.curve.end(),
            out,
            outside: left(out),
            distance: seam.distance,
        }
    }

    fn after(seam: &Seam<'_>) -> Self {
        let way = seam.curve.start_direction();
        Self {
            cutting: seam.raw.reversed(),
            length: seam.raw.length(),
            corner: seam.curve.start(),
            out: -way,
            outside: left(way),
            distance: seam.distance,
        }
    }

    fn end(&self) -> End {
        (self.cutting.end(), self.cutting.end_direction())
    }

    /// The stop at the offset's own end, then straight to a point.
    fn run_to(&self, at: Point) -> Stop {
        Stop {
            along: self.length,
            at,
        }
    }

    /// The stop at a length along the offset and its straight run beyond.
    fn stopped(&self, along: f64, at: Point) -> Stop {
        Stop {
            along: along.min(self.length),
            at,
        }
    }

    /// The offset, run on straight beyond its end.
    fn extended(&self, reach: f64) -> Option<Curve> {
        let (end, way) = self.end();
        self.cutting.then(&Curve::line(end, end + way * reach))
    }

    /// How far two arms' cutting lines may run on from a corner, mm.
    fn limit(&self, other: &Self) -> f64 {
        MITRE_LIMIT * self.distance.max(other.distance)
    }

    /// Longer than any run that is looked for, mm.
    fn reach(&self, other: &Self) -> f64 {
        2.0 * self.limit(other) + 1.0
    }
}

/// Sine of the turn from the first side into the second; above zero where the corner sticks out.
fn turn(first: &Arm, second: &Arm) -> f64 {
    first.out.cross(-second.out)
}

fn swapped((first, join, second): Joined) -> Joined {
    (second, join.map(|join| join.reversed()), first)
}

fn as_meeting((before, join, after): Joined, after_length: f64) -> Meeting {
    let after = Stop {
        along: after_length - after.along,
        at: after.at,
    };
    Meeting {
        before,
        join,
        after,
    }
}

fn mitred(first: &Arm, second: &Arm, tolerance: Tolerance) -> Option<Joined> {
    let (a, b) = (first.end(), second.end());
    let gap = (a.0 - b.0).hypot();
    let tip = meeting_of_lines(a, b);
    if gap <= tolerance.mm() {
        let near = tip.filter(|(_, on, back)| on.abs().max(back.abs()) <= gap);
        let (at, on, back) = near.unwrap_or((a.0.midpoint(b.0), 0.0, 0.0));
        return Some((
            first.stopped(first.length + on, at),
            None,
            second.stopped(second.length + back, at),
        ));
    }
    // Square to each other they never go on, however the last digit fell: an end square to the one lies on the other.
    let goes_on = first.out.dot(-second.out) > BARELY_TURNS;
    let far = tip.is_none_or(|(tip, on, back)| {
        (tip - first.corner).hypot() > first.limit(second)
            || on.min(back) < -first.distance.max(second.distance)
    });
    match tip {
        _ if far && goes_on => Some(stepped(first, second)),
        _ if far && turn(first, second) > 0.0 => cut_off(first, second),
        // An end that lies on the other's line runs on by nothing, however the last digit fell.
        Some((tip, on, back)) if on >= -SAME && back >= -SAME => {
            Some((first.run_to(tip), None, second.run_to(tip)))
        }
        // A narrow allowance that bends away from a wide one may never meet it; two that overlap have to.
        Some((_, on, back)) if on >= 0.0 || back >= 0.0 => {
            crossed(first, second, first.reach(second)).or_else(|| Some(stepped(first, second)))
        }
        _ => crossed(first, second, first.reach(second)),
    }
}

/// The wider allowance ends square in the corner and the narrower goes on from there.
fn stepped(first: &Arm, second: &Arm) -> Joined {
    if turn(first, second) < 0.0 {
        let hollow = if first.distance >= second.distance {
            stepped_in_hollow(first, second)
        } else {
            stepped_in_hollow(second, first).map(swapped)
        };
        if let Some(joined) = hollow {
            return joined;
        }
    }
    let (a, b) = (first.cutting.end(), second.cutting.end());
    (first.run_to(a), Some(Curve::line(a, b)), second.run_to(b))
}

/// From the wider cutting line's end towards the corner, as far as the narrower one, which overlaps it.
fn stepped_in_hollow(wide: &Arm, narrow: &Arm) -> Option<Joined> {
    let end = wide.cutting.end();
    let across = Curve::line(end, wide.corner);
    let met = across
        .crossings(&narrow.cutting, Tolerance::CORNER)
        .into_iter()
        .next()?;
    Some((
        wide.run_to(end),
        Some(Curve::line(end, met.point)),
        narrow.stopped(met.other_along, met.point),
    ))
}

/// Where the straight runs beyond two ends meet, with how far each runs on (back, below zero).
fn meeting_of_lines(a: End, b: End) -> Option<(Point, f64, f64)> {
    let across = a.1.cross(b.1);
    if across.abs() < 1e-9 {
        return None;
    }
    let gap = b.0 - a.0;
    let (on, back) = (gap.cross(b.1) / across, gap.cross(a.1) / across);
    Some((a.0 + a.1 * on, on, back))
}

/// A sharp tip, cut off at right angles to its middle at the limit.
fn cut_off(first: &Arm, second: &Arm) -> Option<Joined> {
    let (end, (start, way)) = (first.end(), second.end());
    let corners = bevel(first.corner, end, (start, -way), first.limit(second));
    let &[a, b] = corners.as_slice() else {
        return None;
    };
    Some((first.run_to(a), Some(Curve::line(a, b)), second.run_to(b)))
}

/// Both cutting lines to their crossing that trims and extends them least.
fn crossed(first: &Arm, second: &Arm, reach: f64) -> Option<Joined> {
    let found = first
        .extended(reach)?
        .crossings(&second.extended(reach)?, Tolerance::CORNER);
    let change =
        |c: &Crossing| (c.along - first.length).abs() + (c.other_along - second.length).abs();
    let best = found
        .into_iter()
        .min_by(|a, b| change(a).total_cmp(&change(b)))?;
    Some((
        first.stopped(best.along, best.point),
        None,
        second.stopped(best.other_along, best.point),
    ))
}

/// Where the lead's seam line, run on, meets the other's cutting line; the second length is along that, run on too.
fn seam_line_meets(lead: &Arm, other: &Arm) -> Option<Crossing> {
    let limit = lead.limit(other);
    let run = Curve::line(lead.corner, lead.corner + lead.out * limit);
    run.crossings(&other.extended(limit)?, Tolerance::CORNER)
        .into_iter()
        .next()
}

fn squared(lead: &Arm, other: &Arm) -> Option<Joined> {
    let meets = seam_line_meets(lead, other)?;
    let at = meets.point;
    let end = at + lead.outside * lead.distance;
    let join = (lead.distance > 0.0).then(|| Curve::line(end, at));
    Some((lead.run_to(end), join, other.stopped(meets.other_along, at)))
}

fn mirrored(lead: &Arm, other: &Arm) -> Option<Joined> {
    if lead.distance == 0.0 {
        return squared(lead, other);
    }
    let meets = seam_line_meets(lead, other)?;
    let depth = lead.reach(other);
    let inwards = into_piece(other, &meets, depth)?;
    let image = inwards.transformed(mirror_in(lead.corner, lead.corner + lead.out));
    let end = image
        .crossings(&lead.extended(lead.reach(other))?, Tolerance::CORNER)
        .into_iter()
        .next()?;
    let join = image
        .stretch(0.0, end.along)
        .reversed()
        .with_ends(end.point, meets.point);
    let join = without_specks(join);
    Some((
        lead.stopped(end.other_along, end.point),
        Some(join),
        other.stopped(meets.other_along, meets.point),
    ))
}

/// The other's cutting line from where the lead's seam line meets it into the piece, as deep as an allowance, run on
/// straight where it is shorter.
fn into_piece(other: &Arm, meets: &Crossing, depth: f64) -> Option<Curve> {
    let whole = other.extended(depth)?;
    let from = (meets.other_along - depth).max(0.0);
    let inwards = whole.stretch(from, meets.other_along).reversed();
    let end = inwards.end();
    inwards.then(&Curve::line(end, end + inwards.end_direction() * depth))
}

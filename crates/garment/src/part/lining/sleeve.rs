//! The sleeve of a lining: its underarm passes over the allowance that stands up in the armhole, its cap has an ease of its own.
//!
//! The cap is pressed together towards its crown by as much as the underarm rises; then the front half and the back half are
//! each made so much wider or narrower that they fit their part of the armhole. Invariants: the crown stays; both underarm
//! seams grow alike; a sleeve that was cut up, or whose cap is gathered, keeps its shape.

use geometry::{Affine, Curve, Point, Tolerance, solve};
use pattern::step::kit::fill::joined;
use pattern::{Fullness, Mark, Pattern, Piece, Seam};

use super::inner::Inner;

/// Bounds of how much wider or narrower half a sleeve may become.
const WIDTH: [f64; 2] = [0.8, 1.25];

/// One half of the cap: its edge, the underarm edge below it, and the seam into which it is set.
struct Half<'a> {
    cap: &'static str,
    underarm: &'static str,
    seam: &'a Seam,
}

/// What is asked of a lining sleeve, mm.
#[derive(Clone, Copy, Debug)]
pub(super) struct SleeveWish {
    /// How much the underarm rises.
    pub(super) raise: f64,
    /// Ease of the whole cap; a share of the shell's where `None`.
    pub(super) cap_ease: Option<f64>,
    /// That share.
    pub(super) share: f64,
}

/// Shapes a copy of a sleeve; tells the ease of its cap, or `None` where it stays a copy.
pub(super) fn shape(inner: &mut Inner, shell: &Pattern, wish: SleeveWish) -> Option<f64> {
    let halves = [
        half(shell, &inner.upon, "cap-front", "underarm-front")?,
        half(shell, &inner.upon, "cap-back", "underarm-back")?,
    ];
    let eases = eases(&halves, wish)?;
    let crown = inner.piece.edge("cap-front")?.start();
    let mut raised = inner.piece.clone();
    for half in &halves {
        raise(&mut raised, half, crown, wish.raise)?;
    }
    let mut factors = [1.0; 2];
    for (which, half) in halves.iter().enumerate() {
        let wanted = shell.side_length(&half.seam.held) + eases[which];
        factors[which] = width(raised.edge(half.cap)?.runs.first()?, crown, wanted)?;
    }
    widen(&mut raised, crown.x, factors);
    keep_notches(&inner.piece, &mut raised);
    note(inner, &raised, &halves);
    inner.piece = raised;
    Some(eases[0] + eases[1])
}

/// Half a cap of a sleeve that is one piece, set in with ease.
fn half<'a>(
    shell: &'a Pattern,
    sleeve: &str,
    cap: &'static str,
    underarm: &'static str,
) -> Option<Half<'a>> {
    let piece = shell.piece(sleeve)?;
    let is_plain = |name: &str| piece.edge(name).is_some_and(|edge| edge.runs.len() == 1);
    let sewn = |seam: &&Seam| {
        let is_cap = seam.worked.iter().any(|one| one.edge == cap);
        is_cap && seam.worked.len() == 1 && !matches!(seam.fullness, Fullness::Gathered(_))
    };
    let seam = shell.seams.iter().find(sewn)?;
    (is_plain(cap) && is_plain(underarm)).then_some(Half {
        cap,
        underarm,
        seam,
    })
}

/// Ease of either half: as the shell's cap shares it out.
fn eases(halves: &[Half<'_>; 2], wish: SleeveWish) -> Option<[f64; 2]> {
    let of = |half: &Half<'_>| match half.seam.fullness {
        Fullness::None => 0.0,
        Fullness::Eased(ease) | Fullness::Pleated(ease) => ease,
        Fullness::Gathered(_) => f64::NAN,
    };
    let [front, back] = [of(&halves[0]), of(&halves[1])];
    let whole = front + back;
    let share = match wish.cap_ease {
        Some(ease) if whole > 0.5 => ease / whole,
        Some(ease) => return Some([ease / 2.0; 2]),
        None => wish.share,
    };
    whole.is_finite().then_some([front * share, back * share])
}

/// Prolongs an underarm seam upwards and presses its half of the cap together until they meet.
fn raise(piece: &mut Piece, half: &Half<'_>, crown: Point, by: f64) -> Option<()> {
    let (cap, underarm) = (
        piece.edge_index(half.cap)?,
        piece.edge_index(half.underarm)?,
    );
    let at_start = piece.edges[underarm].start().y < piece.edges[underarm].end().y;
    let seam = &piece.edges[underarm].runs[0];
    let down = if at_start {
        seam.clone()
    } else {
        seam.reversed()
    };
    let corner = down.start();
    let way = down.start_direction();
    if way.y < 0.5 || corner.y - crown.y <= 2.0 * by {
        return None;
    }
    let up = corner - way * (by / way.y);
    let longer = joined(&Curve::line(up, corner), &down);
    let longer = straight_if(&longer, &down, up);
    let press = pressed(crown, corner, up);
    let run = piece.edges[cap].runs[0].transformed(press);
    let (start, end) = if at_start { (crown, up) } else { (up, crown) };
    piece.edges[cap].runs[0] = run.with_ends(start, end);
    piece.edges[underarm].runs[0] = if at_start { longer } else { longer.reversed() };
    Some(())
}

/// A straight seam that is prolonged stays one line.
fn straight_if(longer: &Curve, old: &Curve, from: Point) -> Curve {
    let straight = (old.end() - old.start()).hypot() > old.length() - 1e-6;
    if straight {
        Curve::line(from, old.end())
    } else {
        longer.clone()
    }
}

/// The map that keeps the crown and takes one underarm corner to another.
fn pressed(crown: Point, from: Point, to: Point) -> Affine {
    let factor = |crown: f64, from: f64, to: f64| (to - crown) / (from - crown);
    let (x, y) = (factor(crown.x, from.x, to.x), factor(crown.y, from.y, to.y));
    Affine::new([x, 0.0, 0.0, y, crown.x * (1.0 - x), crown.y * (1.0 - y)])
}

/// How many times as wide half a cap must be to have a length.
fn width(cap: &Curve, crown: Point, wanted: f64) -> Option<f64> {
    solve::bracketed(WIDTH[0], WIDTH[1], 1e-9, |factor| {
        cap.transformed(across(crown.x, factor)).length() - wanted
    })
    .ok()
}

/// Widens what lies on one side of an upright line.
fn across(x: f64, factor: f64) -> Affine {
    Affine::new([factor, 0.0, 0.0, 1.0, x * (1.0 - factor), 0.0])
}

/// Widens front and back of a sleeve, each by its own factor.
fn widen(piece: &mut Piece, middle: f64, [front, back]: [f64; 2]) {
    let factor = |point: Point| if point.x > middle { front } else { back };
    let place = |point: Point| across(middle, factor(point)) * point;
    let curve = |run: &Curve| {
        let upright = geometry::Vec2::new(0.0, 1.0);
        let through = Point::new(middle, run.start().y);
        let cuts = run.crossings_with_line(through, upright, Tolerance::PATTERN);
        let inside = cuts
            .iter()
            .map(|cut| cut.along)
            .find(|along| *along > 0.1 && *along < run.length() - 0.1);
        let half = |run: &Curve| {
            let by = factor(run.point_at(run.length() / 2.0));
            run.transformed(across(middle, by))
        };
        match inside.and_then(|along| run.split_at(along)) {
            Some((one, other)) => joined(&half(&one), &half(&other)),
            None => half(run),
        }
    };
    for edge in &mut piece.edges {
        for run in &mut edge.runs {
            *run = curve(run);
        }
    }
    for run in piece.lines.iter_mut().flat_map(|line| &mut line.runs) {
        *run = curve(run);
    }
    for dart in &mut piece.darts {
        dart.point = place(dart.point);
        dart.aim = place(dart.aim);
    }
    for mark in &mut piece.marks {
        if let Mark::Point { at, .. } = mark {
            *at = place(*at);
        }
    }
    close(piece);
}

/// Corners are shared exactly.
fn close(piece: &mut Piece) {
    let count = piece.edges.len();
    for index in 0..count {
        let end = piece.edges[index].end();
        let next = &mut piece.edges[(index + 1) % count].runs[0];
        *next = next.with_ends(end, next.end());
    }
}

/// Notches keep their share of their edge.
fn keep_notches(before: &Piece, after: &mut Piece) {
    let mut marks = std::mem::take(&mut after.marks);
    for mark in &mut marks {
        if let Mark::Notch { edge, along, .. } = mark
            && let (Some(old), Some(new)) = (before.edge(edge), after.edge(edge))
        {
            *along *= new.length() / old.length();
        }
    }
    after.marks = marks;
}

/// The cap lies nowhere on the shell's, all other edges do but for what they grew.
fn note(inner: &mut Inner, new: &Piece, halves: &[Half<'_>; 2]) {
    for meet in &mut inner.meets {
        let (Some(old), Some(new)) = (inner.piece.edge(&meet.edge), new.edge(&meet.edge)) else {
            continue;
        };
        meet.more = meet.more.map(|more| more + new.length() - old.length());
        meet.mates &= !halves.iter().any(|half| half.cap == meet.edge);
    }
}

//! The gored skirt: four to twelve gores, each symmetrical about its own middle, so that its cloth hangs evenly.
//!
//! **What it does.** Shares waist, hip and hem among the gores, evenly or with a front gore of its own width.
//! **When it is used.** For a flare that hangs all round, from cloth too narrow for a circle, fitted by its seams without darts.
//! **Example.** `skirt "gored" gores=5 front-hem="10 in" sweep="81 in" length="38 in"`.
//! **What can go wrong.** A hem narrower than the hip; gores whose number puts no seam at the side line where one is asked for.
//!
//! Below the hip a gore is a sector of a cone; above it its seams curve in to the waist. Waist and hem are arcs square to the
//! seams, so that they run on over every seam. Frame of a whole gore: x from its middle line, its front edge at the left; of the
//! last one, which ends at CB: that edge at the left. Invariants: all seams have one length; the seams meet the side line only
//! where the number of gores puts one there.

use body::Measure;
use document::{Allowed, Finding, Mend, Place, Quantity};
use geometry::{Curve, Knot, Point, Vec2, math, solve};
use pattern::{EdgeKind, Fullness, Laid, Piece, Seam, Stretch};

use super::super::figures;
use super::super::person::Person;
use super::fitted::{no_sweep, too_short};
use super::panel::{Named, Panel, SIDE, arc, centre, line};
use super::{Full, Hip, Skirt, SkirtWish, WaistPart};

/// How the gores of a skirt are shared out.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Gores {
    /// How many all round, 4 to 12.
    pub count: u32,
    /// Whether a gore lies on the fold at CF, or a seam.
    pub front_on_fold: bool,
    /// Waist and hip of the front gore over those of the others.
    pub front_width: f64,
    /// Hem of the front gore, mm; as the others' where nothing is said.
    pub front_hem: Option<f64>,
    /// Whether front and back gores follow the body's own shares, so that a seam lies on the side line.
    pub on_side_line: bool,
}

/// One gore of a half skirt: its share of a whole gore, and its widths as a whole gore, mm.
#[derive(Clone, Copy, Debug)]
struct Gore {
    /// 1 for a whole gore, 0.5 for one that the centre line halves.
    share: f64,
    waist: f64,
    hip: f64,
    hem: f64,
}

/// What all gores share, mm.
#[derive(Clone, Copy, Debug)]
struct Lengths {
    hip_depth: f64,
    below_hip: f64,
}

/// Curves of the right half of a gore.
struct Drawn {
    waist: Curve,
    hip: Curve,
    seam: Curve,
    hem: Curve,
}

pub(super) fn draft(
    person: &Person<'_>,
    wish: &SkirtWish,
    gores: &Gores,
) -> Result<Skirt, Finding> {
    let hip_depth = person.of(Measure::WaistToHip);
    if wish.length < hip_depth + 60.0 {
        return Err(too_short(wish.length, hip_depth + 60.0));
    }
    let lengths = Lengths {
        hip_depth,
        below_hip: wish.length - hip_depth,
    };
    let half = shared(person, wish, gores, lengths)?;
    let first = drawn(&half[0], lengths).ok_or_else(cannot)?;
    let seam = first.seam.length();
    let drawn = half.iter().map(|gore| matched(gore, lengths, seam));
    let drawn: Vec<Drawn> = drawn.collect::<Option<_>>().ok_or_else(cannot)?;
    Ok(assembled(&half, drawn, wish, gores))
}

/// Shares of the gores between CF and CB: a gore on the fold counts half.
fn shares(gores: &Gores) -> Vec<f64> {
    let mut left = f64::from(gores.count) / 2.0;
    let mut shares = Vec::new();
    if gores.front_on_fold {
        shares.push(0.5);
        left -= 0.5;
    }
    while left > 0.25 {
        shares.push(left.min(1.0));
        left -= 1.0;
    }
    shares
}

/// How many gores lie before the side line, where one of the seams falls on it.
fn before_side(gores: &Gores) -> Option<usize> {
    let mut passed = 0.0;
    let shares = shares(gores);
    let seams = shares.iter().map(|share| {
        passed += share;
        passed
    });
    let at = seams
        .into_iter()
        .position(|passed| (passed - f64::from(gores.count) / 4.0).abs() < 1e-9)?;
    (gores.front_width == 1.0 || gores.on_side_line).then_some(at + 1)
}

/// The gores of one half with their widths.
fn shared(
    person: &Person<'_>,
    wish: &SkirtWish,
    gores: &Gores,
    lengths: Lengths,
) -> Result<Vec<Gore>, Finding> {
    if gores.on_side_line && before_side(gores).is_none() {
        return Err(no_seam_at_side(gores.count));
    }
    let waist = person.of(Measure::Waist) + wish.waist_ease;
    let hip = person.of(Measure::Hip) + wish.hip_ease;
    let sweep = match wish.full {
        Full::Sweep(sweep) => sweep,
        _ => figures::GORED_SWEEP_OVER_HIP * hip,
    };
    let waists = widths(person, gores, waist, &WAIST);
    let hips = widths(person, gores, hip, &HIP);
    let hems = hems(gores, sweep);
    let shares = shares(gores);
    let rows = shares.iter().zip(waists).zip(hips).zip(hems);
    let half: Vec<Gore> = rows
        .map(|(((&share, waist), hip), hem)| Gore {
            share,
            waist,
            hip,
            hem,
        })
        .collect();
    let least: f64 = 2.0
        * half
            .iter()
            .map(|gore| gore.share * gore.hip.max(gore.waist))
            .sum::<f64>();
    if let Some(narrow) = half
        .iter()
        .find(|gore| gore.hem < gore.hip.max(gore.waist) - 1e-6)
    {
        let narrow_front = gores.front_hem.is_some_and(|hem| hem == narrow.hem);
        return Err(if narrow_front {
            no_front_hem(narrow.hem, narrow.hip)
        } else {
            no_sweep(sweep, least.ceil(), f64::INFINITY)
        });
    }
    // A cone of more than this between two seams turns too far to be one gore.
    let spread = |gore: &Gore| (gore.hem - gore.hip) / lengths.below_hip;
    if half
        .iter()
        .any(|gore| spread(gore) > figures::MOST_GORE_ANGLE)
    {
        let most = hip + f64::from(gores.count) * figures::MOST_GORE_ANGLE * lengths.below_hip;
        return Err(no_sweep(sweep, least.ceil(), most.floor()));
    }
    Ok(half)
}

/// A girth with the front's share of it.
struct Level {
    girth: Measure,
    front: Measure,
    by_rule: f64,
}

const WAIST: Level = Level {
    girth: Measure::Waist,
    front: Measure::WaistFrontArc,
    by_rule: figures::FRONT_SHARE_OF_WAIST,
};

const HIP: Level = Level {
    girth: Measure::Hip,
    front: Measure::HipFrontArc,
    by_rule: figures::FRONT_SHARE_OF_HIP,
};

/// Widths of the gores of one half, as whole gores, of a girth.
fn widths(person: &Person<'_>, gores: &Gores, girth: f64, level: &Level) -> Vec<f64> {
    let shares = shares(gores);
    let count = f64::from(gores.count);
    if gores.on_side_line {
        let front = person.front_share(level.girth, level.front, level.by_rule);
        let before = before_side(gores).unwrap_or(0);
        let each = |share: f64| girth * share / (count / 2.0);
        let widths = (0..shares.len()).map(|index| {
            if index < before {
                each(front)
            } else {
                each(1.0 - front)
            }
        });
        return widths.collect();
    }
    let other = girth / (count - 1.0 + gores.front_width);
    let mut widths = vec![other; shares.len()];
    if gores.front_on_fold {
        widths[0] = other * gores.front_width;
    } else {
        widths.fill(girth / count);
    }
    widths
}

/// Hems of the gores of one half, as whole gores.
fn hems(gores: &Gores, sweep: f64) -> Vec<f64> {
    let count = f64::from(gores.count);
    let mut hems = vec![sweep / count; shares(gores).len()];
    if let (Some(front), true) = (gores.front_hem, gores.front_on_fold) {
        hems.fill((sweep - front) / (count - 1.0));
        hems[0] = front;
    }
    hems
}

/// The right half of a gore whose seam has a length, mm: its hip lies a little higher or lower in its middle.
fn matched(gore: &Gore, lengths: Lengths, seam: f64) -> Option<Drawn> {
    const REACH: f64 = 40.0;
    let at = |by: f64| Lengths {
        hip_depth: lengths.hip_depth + by,
        ..lengths
    };
    let off = |by: f64| drawn(gore, at(by)).map_or(f64::NAN, |drawn| drawn.seam.length() - seam);
    if off(0.0).abs() < 1e-9 {
        return drawn(gore, lengths);
    }
    drawn(gore, at(solve::bracketed(-REACH, REACH, 1e-8, off).ok()?))
}

/// The right half of a gore: an arc for the waist, the hip and the hem, the seam square to all of them.
fn drawn(gore: &Gore, lengths: Lengths) -> Option<Drawn> {
    let length = lengths.hip_depth + lengths.below_hip;
    // Where a straight seam from waist to hem leaves the hip more than its own width, nothing need curve.
    let straight = gore.waist + (gore.hem - gore.waist) * lengths.hip_depth / length;
    let hip_width = gore.hip.max(straight);
    let slant = (gore.hem - hip_width) / (2.0 * lengths.below_hip);
    let hip = arc(Point::new(0.0, lengths.hip_depth), slant, hip_width / 2.0);
    let hem = arc(Point::new(0.0, length), slant, gore.hem / 2.0);
    let down = Vec2::new(math::sin(slant), math::cos(slant));
    let waist_at = |slant: f64| arc(Point::ORIGIN, slant, gore.waist / 2.0);
    let curve_from =
        |from: Point| Curve::smooth(&[Knot::free(from), Knot::toward(hip.end(), down)]);
    let (waist, above) = if straight >= gore.hip {
        let waist = waist_at(slant);
        let above = Curve::line(waist.end(), hip.end());
        (waist, above)
    } else {
        let off = |slant: f64| {
            curve_from(waist_at(slant).end()).map_or(f64::NAN, |curve| {
                let way = curve.start_direction();
                math::atan2(way.x, way.y) - slant
            })
        };
        let waist = waist_at(solve::bracketed(-0.3, 1.3, 1e-9, off).ok()?);
        let above = curve_from(waist.end())?;
        (waist, above)
    };
    let seam = above.then(&Curve::line(hip.end(), hem.end()))?;
    Some(Drawn {
        waist,
        hip,
        seam,
        hem: hem.reversed(),
    })
}

fn assembled(half: &[Gore], drawn: Vec<Drawn>, wish: &SkirtWish, gores: &Gores) -> Skirt {
    let last = half.len() - 1;
    let side = before_side(gores);
    let names = names(half.len());
    let between = |index: usize| match side {
        Some(side) if side == index => Some(SIDE),
        _ => None,
    };
    let front_edge = |index: usize| between(index).unwrap_or(("front-edge", EdgeKind::Seam));
    let back_edge = |index: usize| between(index + 1).unwrap_or(("back-edge", EdgeKind::Seam));
    let pieces: Vec<Piece> = half
        .iter()
        .zip(drawn)
        .enumerate()
        .map(|(index, (gore, drawn))| {
            let (right, left) = if index == last {
                (front_edge(index), centre_edge(gore, wish.back_seam, true))
            } else if index == 0 {
                (back_edge(index), centre_edge(gore, false, false))
            } else {
                (back_edge(index), (front_edge(index), Laid::Pair))
            };
            panel(&names[index], drawn, [right, left.0], left.1, gore.share)
        })
        .collect();
    let seam = |index: usize| gore_seam(&pieces, index, last, side == Some(index));
    let seams = (1..=last).map(seam).collect();
    let stretch = |(index, piece): (usize, &Piece)| {
        let walk = if index == last {
            Stretch::backwards
        } else {
            Stretch::forwards
        };
        WaistPart {
            stretch: walk(&piece.name, "waist"),
            fullness: Fullness::None,
        }
    };
    Skirt {
        seams,
        waist: pieces.iter().enumerate().map(stretch).collect(),
        // A bodice has its seam where the body's own shares are; gores evenly shared pass it.
        before_side: side.filter(|_| gores.on_side_line),
        hip: Some(Hip {
            times: 1.0,
            at_least: true,
        }),
        overlap: 0.0,
        bunch: None,
        findings: Vec::new(),
        pieces,
    }
}

/// What a gore has at the centre line: the fold or opening that halves it, or its own slanting seam.
fn centre_edge(gore: &Gore, opens: bool, behind: bool) -> (Named, Laid) {
    if gore.share < 0.75 {
        return centre(opens);
    }
    let kind = if opens && behind {
        EdgeKind::Opening
    } else {
        EdgeKind::Seam
    };
    (("centre", kind), Laid::Pair)
}

fn panel(name: &str, drawn: Drawn, beside: [Named; 2], laid: Laid, share: f64) -> Piece {
    let panel = Panel {
        name: name.into(),
        waist: drawn.waist,
        right: drawn.seam,
        hem: drawn.hem,
        beside,
        lines: vec![line("hip", drawn.hip)],
        laid,
    };
    if share < 0.75 {
        panel.half()
    } else {
        panel.whole()
    }
}

/// The seam before a gore.
fn gore_seam(pieces: &[Piece], index: usize, last: usize, at_side: bool) -> Seam {
    let (before, after) = (&pieces[index - 1].name, &pieces[index].name);
    let edge = |own: &'static str| if at_side { "side" } else { own };
    let worked = if index == last {
        Stretch::forwards(after, edge("front-edge"))
    } else {
        Stretch::backwards(after, edge("front-edge"))
    };
    let name = match (at_side, last, index) {
        (true, _, _) => "skirt-side".into(),
        (_, 2, 1) => "gore-front".into(),
        (_, 2, _) => "gore-back".into(),
        (_, _, number) => format!("gore-seam-{number}"),
    };
    Seam {
        name,
        held: vec![Stretch::forwards(before, edge("back-edge"))],
        worked: vec![worked],
        fullness: Fullness::None,
        runs_on: [true, true],
    }
}

/// Names of the gores of one half, from CF to CB.
fn names(count: usize) -> Vec<String> {
    let known: &[&str] = match count {
        2 => &["front-gore", "back-gore"],
        3 => &["front-gore", "side-gore", "back-gore"],
        4 => &[
            "front-gore",
            "front-side-gore",
            "back-side-gore",
            "back-gore",
        ],
        _ => &[],
    };
    if known.is_empty() {
        (1..=count).map(|number| format!("gore-{number}")).collect()
    } else {
        known.iter().map(|&name| name.to_owned()).collect()
    }
}

fn cannot() -> Finding {
    Finding::error(
        "skirt-cannot-be-drawn",
        "the gores of the skirt cannot be drawn from these measures",
    )
    .at(Place::Measure("waist".into()))
    .at(Place::Measure("hip".into()))
    .cure("tape the waist, the hip and the waist to hip again, or ask for another sweep")
}

fn no_seam_at_side(count: u32) -> Finding {
    Finding::error(
        "gores-miss-side-line",
        format!("{count} gores shared like this have no seam at the side line"),
    )
    .at(Place::Piece("front-gore".into()))
    .because("as many gores must lie before the side line as behind it")
    .allowed("4, 8 or 12 gores with a seam at CF, 6 or 10 with a gore on the fold there")
    .cure("take one of these numbers, or let the gores lie evenly: seams=\"even\"")
    .mend(Mend::property(
        &["skirt"],
        "seams",
        "\"even\"",
        "shares the gores evenly",
    ))
}

fn no_front_hem(hem: f64, hip: f64) -> Finding {
    Finding::error(
        "skirt-sweep-impossible",
        format!("a front gore of {hip:.0} mm at the hip cannot have a hem of {hem:.0} mm"),
    )
    .at(Place::Piece("front-gore".into()))
    .measured(
        Quantity::mm(hem),
        Allowed::AtLeast(Quantity::mm(hip.ceil())),
    )
    .because("a gore hangs straight from the hip or flares, it never grows narrower")
    .cure("give it a wider hem, or less width: front-width")
}

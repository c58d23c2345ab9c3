//! The pleated skirt: straight widths folded so that waist and hip each fit.
//!
//! **What it does.** Marks folds and where they are laid on straight widths, and notches them at waist and hem.
//! **When it is used.** For room to walk under a flat hip.
//! **Example.** `skirt "pleated" as="knife" pleats=18 fullness=3 length="60 cm"`.
//! **What can go wrong.** An odd number, which two halves cannot share; pleats so deep that they lie over each other.
//!
//! The width is the same at every level; what is finished differs, so the take-up of each pleat does: more at the waist, less at
//! the hip, none too little below. Each pleat has a middle on the straight grain; its folds lie half its take-up to either side.
//! In front a knife pleat's outer fold is the one nearer to CF and is laid towards the side; behind, the one nearer to the side is
//! laid towards CB, so that all pleats of one half point the same way round. Invariant: strips and take-ups add up to the width at
//! every level.

use body::Measure;
use document::{Allowed, Finding, Mend, Place, Quantity, Unit};
use geometry::{Curve, Knot, Point, Vec2};
use pattern::{Fullness, InnerLine, Mark, Piece};

use super::super::figures;
use super::super::person::Person;
use super::fitted::too_short;
use super::panel::{Panel, SIDE, centre, line};
use super::{Full, Hip, Skirt, SkirtWish};

/// How a pleat is folded.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum PleatKind {
    /// Both folds laid to the same side.
    Knife,
    /// Two folds laid away from each other; a flat strip at CF.
    Box,
    /// Two folds that meet; the first of them at CF.
    Inverted,
}

/// The pleats of a skirt.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Pleats {
    /// How they are folded.
    pub kind: PleatKind,
    /// How many all round; by rule where nothing is said.
    pub count: Option<u32>,
    /// How deep they are at the hip, from fold to fold, mm; instead of how many times the width.
    pub depth: Option<f64>,
    /// What the hem measures all round with its pleats laid, mm; as the hip where nothing is said.
    pub laid_hem: Option<f64>,
}

/// Front or back on one side of its centre line, mm.
#[derive(Clone, Copy, Debug)]
struct Quarter {
    waist: f64,
    hip: f64,
    hem: f64,
    /// Width as cut.
    width: f64,
    /// How many pleats, in halves.
    pleats: f64,
    in_front: bool,
}

/// One pleat on a quarter: where its middle lies, and which of its folds are on this side of the centre line and the side seam.
struct Middle {
    number: usize,
    at: f64,
}

pub(super) fn draft(
    person: &Person<'_>,
    wish: &SkirtWish,
    pleats: &Pleats,
) -> Result<Skirt, Finding> {
    let depth = person.of(Measure::WaistToHip);
    if wish.length < depth + 60.0 {
        return Err(too_short(wish.length, depth + 60.0));
    }
    let waist = person.of(Measure::Waist) + wish.waist_ease;
    let hip = person.of(Measure::Hip) + wish.hip_ease;
    let count = pleats
        .count
        .unwrap_or_else(|| usual_count(pleats.kind, hip));
    let width = width(wish, pleats, count, hip)?;
    let laid_hem = pleats.laid_hem.unwrap_or(hip);
    if laid_hem > width || laid_hem < hip - 1e-6 {
        return Err(no_laid_hem(laid_hem, hip, width));
    }
    let [front, back] = quarters(person, [waist, hip, laid_hem, width], count);
    for quarter in [front, back] {
        let most = quarter.waist.max(quarter.hip).max(quarter.hem);
        if quarter.width - most < figures::LEAST_PLEAT * quarter.pleats {
            return Err(no_take_up(hip, width, count));
        }
    }
    let piece =
        |name: &str, quarter: Quarter, seam| piece(name, quarter, (wish, pleats), depth, seam);
    let takes = [front, back].map(|quarter| Fullness::Pleated(quarter.width - quarter.waist));
    let pieces = [
        piece("skirt-front", front, false),
        piece("skirt-back", back, wish.back_seam),
    ];
    let times = Hip {
        times: width / hip,
        at_least: false,
    };
    let mut skirt = Skirt::of_halves(pieces, takes, Some(times));
    skirt.findings.extend(seam_shows(pleats.kind, count));
    skirt.findings.extend(too_deep(pleats.kind, width / hip));
    if pleats.depth.is_some() || matches!(wish.full, Full::Sweep(_)) {
        skirt.findings.push(solved(width, hip, count));
    }
    Ok(skirt)
}

/// A number of pleats whose strips are about as wide as usual, and which hides the side seams in a pleat.
fn usual_count(kind: PleatKind, hip: f64) -> u32 {
    let (strip, rest) = match kind {
        PleatKind::Knife => (figures::KNIFE_STRIP, 2),
        PleatKind::Box => (figures::BOX_STRIP, 2),
        PleatKind::Inverted => return figures::INVERTED_PLEATS,
    };
    4 * (hip / strip / 4.0).round().max(1.0) as u32 + rest
}

/// Width of the cloth all round.
fn width(wish: &SkirtWish, pleats: &Pleats, count: u32, hip: f64) -> Result<f64, Finding> {
    let times = match (wish.full, pleats.depth) {
        (_, Some(depth)) => {
            let folds = if pleats.kind == PleatKind::Knife {
                2.0
            } else {
                4.0
            };
            (hip + f64::from(count) * folds * depth) / hip
        }
        (Full::Times(times), None) => times,
        (Full::Sweep(sweep), None) => sweep / hip,
        _ if pleats.kind == PleatKind::Inverted => figures::INVERTED_TIMES,
        _ => figures::PLEATED_TIMES,
    };
    let [least, most] = figures::PLEATED;
    if count % 2 == 1 || count < 2 {
        return Err(odd(count));
    }
    if (least..=most).contains(&times) {
        Ok(times * hip)
    } else {
        Err(no_fullness(times))
    }
}

/// Front and back: pleats of the same number, each with its share of every girth.
fn quarters(person: &Person<'_>, [waist, hip, hem, width]: [f64; 4], count: u32) -> [Quarter; 2] {
    let of_waist = person.front_share(
        Measure::Waist,
        Measure::WaistFrontArc,
        figures::FRONT_SHARE_OF_WAIST,
    );
    let of_hip = person.front_share(
        Measure::Hip,
        Measure::HipFrontArc,
        figures::FRONT_SHARE_OF_HIP,
    );
    [
        (of_waist, of_hip, true),
        (1.0 - of_waist, 1.0 - of_hip, false),
    ]
    .map(|(of_waist, of_hip, in_front)| Quarter {
        waist: waist * of_waist / 2.0,
        hip: hip * of_hip / 2.0,
        hem: hem * of_hip / 2.0,
        width: width * of_hip / 2.0,
        pleats: f64::from(count) / 4.0,
        in_front,
    })
}

impl Quarter {
    /// Middles of the pleats, from the centre line out; the last may lie on the side seam, the first of inverted ones at the
    /// centre.
    fn middles(&self, kind: PleatKind) -> Vec<Middle> {
        let apart = self.width / self.pleats;
        let first = if kind == PleatKind::Inverted {
            0.0
        } else {
            0.5
        };
        let count = (self.pleats - first + 1e-9).floor() as usize + 1;
        let middle = |index: usize| Middle {
            number: index + 1,
            at: (first + index as f64) * apart,
        };
        (0..count)
            .map(middle)
            .filter(|one| one.at <= self.width + 1e-6)
            .collect()
    }

    /// Half of what one pleat takes up at the waist, the hip and the hem.
    fn half_takes(&self) -> [f64; 3] {
        [self.waist, self.hip, self.hem].map(|laid| (self.width - laid) / self.pleats / 2.0)
    }
}

fn piece(
    name: &str,
    quarter: Quarter,
    (wish, pleats): (&SkirtWish, &Pleats),
    hip_depth: f64,
    seam: bool,
) -> Piece {
    let (width, length) = (quarter.width, wish.length);
    let across = |y: f64| Curve::line(Point::new(0.0, y), Point::new(width, y));
    let (edge, laid) = centre(seam);
    let mut lines = vec![line("hip", across(hip_depth))];
    for middle in quarter.middles(pleats.kind) {
        lines.extend(folds(&quarter, &middle, pleats.kind, [hip_depth, length]));
    }
    let mut piece = Panel {
        name: name.into(),
        waist: across(0.0),
        right: Curve::line(Point::new(width, 0.0), Point::new(width, length)),
        hem: across(length).reversed(),
        beside: [SIDE, edge],
        lines,
        laid,
    }
    .half();
    let marks = piece
        .lines
        .iter()
        .skip(1)
        .flat_map(|line| notches(line, width));
    piece.marks = marks.collect();
    piece
}

/// The lines of one pleat that lie on this piece.
fn folds(quarter: &Quarter, middle: &Middle, kind: PleatKind, levels: [f64; 2]) -> Vec<InnerLine> {
    let takes = quarter.half_takes();
    let [near, far] = [-1.0, 1.0].map(|side| fold(middle.at, takes, side, levels));
    let middle_line = fold(middle.at, takes, 0.0, levels);
    let (outer, laid_to) = if quarter.in_front {
        (near.clone(), far.clone())
    } else {
        (far.clone(), near.clone())
    };
    let lines = match kind {
        PleatKind::Knife => vec![("fold", outer), ("placement", laid_to)],
        PleatKind::Box | PleatKind::Inverted => {
            vec![
                ("fold-a", near),
                ("placement", middle_line),
                ("fold-b", far),
            ]
        }
    };
    let inside = |curve: &Curve| {
        let box_of = curve.bounds();
        box_of.x0 > 1.0 && box_of.x1 < quarter.width - 1.0
    };
    let named = lines.into_iter().filter(|(_, curve)| inside(curve));
    named
        .map(|(word, curve)| line(&format!("pleat-{}-{word}", middle.number), curve))
        .collect()
}

/// A line of a pleat from waist to hem: curves to the hip, straight below it.
fn fold(
    middle: f64,
    [waist, hip, hem]: [f64; 3],
    side: f64,
    [hip_depth, length]: [f64; 2],
) -> Curve {
    let at = |take: f64, y: f64| Point::new(middle + side * take, y);
    let (top, level, bottom) = (at(waist, 0.0), at(hip, hip_depth), at(hem, length));
    let below = Curve::line(level, bottom);
    let down = Vec2::new(bottom.x - level.x, bottom.y - level.y);
    let above = Curve::smooth(&[Knot::free(top), Knot::toward(level, down)]);
    above
        .unwrap_or_else(|| Curve::line(top, level))
        .then(&below)
        .unwrap_or(below)
}

/// Notches where a line of a pleat meets the waist, which runs outwards, and the hem, which runs back.
fn notches(line: &InnerLine, width: f64) -> Vec<Mark> {
    let Some(run) = line.runs.first() else {
        return Vec::new();
    };
    let notch = |edge: &str, along: f64| Mark::Notch {
        name: line.name.clone(),
        edge: edge.into(),
        along,
        strokes: 1,
    };
    vec![
        notch("waist", run.start().x),
        notch("hem", width - run.end().x),
    ]
}

fn ratio(value: f64) -> Quantity {
    Quantity {
        value,
        unit: Unit::Ratio,
    }
}

fn solved(width: f64, hip: f64, count: u32) -> Finding {
    Finding::note(
        "skirt-fullness-solved",
        format!(
            "{count} pleats from {width:.0} mm of cloth are {:.2} times the hip; each takes {:.0} mm there",
            width / hip,
            (width - hip) / f64::from(count)
        ),
    )
    .at(Place::Piece("skirt-front".into()))
}

/// The side seams are hidden where a pleat lies over them.
fn seam_shows(kind: PleatKind, count: u32) -> Option<Finding> {
    let hides = if kind == PleatKind::Inverted { 0 } else { 2 };
    (count % 4 != hides).then(|| {
        Finding::note(
            "pleats-show-seam",
            format!(
                "with {count} pleats the side seams lie between two pleats, where they are seen"
            ),
        )
        .at(Place::Seam("skirt-side".into()))
        .cure(format!(
            "{} or {} pleats would lie over them",
            if count > 2 { count - 2 } else { count + 2 },
            if count > 2 { count + 2 } else { count + 6 }
        ))
        .mend(Mend::property(
            &["skirt"],
            "pleats",
            (count + 2).to_string(),
            "lays a pleat over each side seam",
        ))
    })
}

fn too_deep(kind: PleatKind, times: f64) -> Option<Finding> {
    (kind != PleatKind::Inverted && times > figures::PLEATS_OVERLAP + 1e-9).then(|| {
        Finding::warning(
            "pleats-lie-over-each-other",
            format!("pleats from {times:.2} times the hip lie over each other"),
        )
        .at(Place::Piece("skirt-front".into()))
        .measured(
            ratio(times),
            Allowed::AtMost(ratio(figures::PLEATS_OVERLAP)),
        )
        .because(
            "under one strip there is room for one fold; more than three layers do not press flat",
        )
        .cure("take three times the hip or less, or fewer pleats")
    })
}

fn odd(count: u32) -> Finding {
    Finding::error(
        "pleats-not-even",
        format!("{count} pleats cannot be shared by two halves that are alike"),
    )
    .at(Place::Piece("skirt-front".into()))
    .allowed("an even number, 2 at the least")
    .cure(format!("take {} or {}", count + 1, (count + 3).max(4)))
    .mend(Mend::property(
        &["skirt"],
        "pleats",
        (count + 1).to_string(),
        "takes one pleat more",
    ))
}

fn no_fullness(times: f64) -> Finding {
    let [least, most] = figures::PLEATED;
    Finding::error(
        "skirt-fullness-impossible",
        format!("a skirt cannot be pleated from {times:.2} times its hip"),
    )
    .at(Place::Piece("skirt-front".into()))
    .measured(ratio(times), Allowed::Between(ratio(least), ratio(most)))
    .because("with less there is no fold to press, with more the layers do not lie flat")
    .cure("take another fullness, or deeper or fewer pleats")
}

fn no_take_up(hip: f64, width: f64, count: u32) -> Finding {
    Finding::error(
        "pleats-too-shallow",
        format!(
            "{width:.0} mm of cloth leave too little for {count} pleats over a hip of {hip:.0} mm"
        ),
    )
    .at(Place::Piece("skirt-front".into()))
    .because("a pleat of a few millimetres does not stay folded")
    .cure("take fewer pleats, or more fullness")
}

fn no_laid_hem(hem: f64, hip: f64, width: f64) -> Finding {
    Finding::error(
        "skirt-sweep-impossible",
        format!("pleats cannot lie at {hem:.0} mm round the hem"),
    )
    .at(Place::Piece("skirt-front".into()))
    .measured(
        Quantity::mm(hem),
        Allowed::Between(Quantity::mm(hip.ceil()), Quantity::mm(width.floor())),
    )
    .because("they hang straight from the hip or open below it, up to all the cloth there is")
}

//! The fan: smooth in front and over the hips, its fullness at CB, gathered or pleated at the waist and flared to the hem.
//!
//! **What it does.** Adds a sector to either side of CB, its waist gathered or laid in pleats.
//! **When it is used.** For a skirt that hangs flat in front and swings behind.
//! **Example.** `skirt "fan" as="pleats" sweep="3 m" length="90 cm"`.
//! **What can go wrong.** A hem too narrow for what is gathered above it; CB off the straight grain, which stretches.
//!
//! Front and back are those of a flared skirt; to the back's centre line a sector is added, whose waist is the fullness and whose
//! hem is that and the flare. Geometry: a sector of angle a between two arcs L apart; its hem is longer than its waist by a·L.
//! Invariants: CB stays square to waist and hem; the waist from the side to where the fullness begins is that of the flared skirt.

use body::Measure;
use document::{Allowed, Finding, Mend, Place, Quantity, written_mm};
use geometry::{Angle, Curve, Point, Vec2};
use pattern::{Edge, EdgeKind, Fullness, InnerLine, Mark, Piece};

use super::super::figures;
use super::super::person::Person;
use super::panel::{arc, line};
use super::{Bunch, DartsToMeet, Full, Skirt, SkirtWish, fitted};

/// How the fullness of a fan is taken up.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fan {
    /// Whether it is laid in pleats, or gathered.
    pub pleated: bool,
    /// How many times as wide as its place at the waist the fullness is there.
    pub times: f64,
}

/// The sector that is added behind, mm and radians.
#[derive(Clone, Copy, Debug)]
struct Sector {
    waist: f64,
    angle: f64,
    length: f64,
}

impl Sector {
    fn hem(&self) -> f64 {
        self.waist + self.angle * self.length
    }
}

pub(super) fn draft(
    person: &Person<'_>,
    wish: &SkirtWish,
    darts: DartsToMeet,
    fan: &Fan,
) -> Result<Skirt, Finding> {
    let hip = person.of(Measure::Hip) + wish.hip_ease;
    let smooth = SkirtWish {
        full: Full::Sweep(figures::FAN_SMOOTH_SWEEP * hip),
        ..wish.clone()
    };
    let mut skirt = fitted::flared(person, &smooth, darts)?;
    let (stretch, taken) = bunch(&skirt.pieces[1], fan);
    let sweep = match wish.full {
        Full::Sweep(sweep) => sweep,
        _ => figures::FAN_SWEEP * hip,
    };
    let without: f64 = skirt
        .pieces
        .iter()
        .map(|piece| piece.edge("hem").map_or(0.0, Edge::length))
        .sum();
    let sector = Sector {
        waist: taken,
        angle: (sweep / 2.0 - without - taken) / wish.length,
        length: wish.length,
    };
    if !(0.0..=figures::MOST_FAN_ANGLE).contains(&sector.angle) {
        let at = |angle: f64| 2.0 * (without + taken + angle * wish.length);
        return Err(no_sweep(sweep, at(0.0), at(figures::MOST_FAN_ANGLE)));
    }
    let hip_depth = person.of(Measure::WaistToHip);
    let mut back = fanned(&skirt.pieces[1], &sector, hip_depth).ok_or_else(cannot)?;
    let flat = back.edge("waist").map_or(0.0, Edge::length);
    skirt.waist[1].fullness = if fan.pleated {
        pleats(&mut back, stretch, &sector);
        Fullness::Pleated(taken)
    } else {
        Fullness::Gathered(flat / (flat - taken))
    };
    skirt.bunch = Some(Bunch {
        cut: stretch + taken,
        finished: stretch,
        part: 1,
    });
    skirt.pieces[1] = back;
    Ok(skirt)
}

/// The stretch of the waist at CB onto which the fullness is worked, and the fullness, mm: on one side of CB.
fn bunch(back: &Piece, fan: &Fan) -> (f64, f64) {
    let waist = back.edge("waist");
    let length = waist.map_or(0.0, Edge::length);
    let to_dart = waist.map_or(0.0, |edge| edge.runs[0].length());
    let stretch = (length * figures::FAN_STRETCH).min(to_dart * 0.9);
    (stretch, stretch * (fan.times - 1.0))
}

/// The back with the sector at its centre line.
fn fanned(back: &Piece, sector: &Sector, hip_depth: f64) -> Option<Piece> {
    let mut piece = back.clone();
    let centre = back.edge("centre")?;
    let (bottom, top) = (centre.start(), centre.end());
    // The arcs are drawn to the right and mirrored in the old centre line.
    let out = |from: Point, length: f64| arc(from, sector.angle, length).mirrored(top, bottom);
    let radius_more = |below: f64| sector.waist + sector.angle * below;
    let (waist, hem) = (out(top, sector.waist), out(bottom, sector.hem()));
    for edge in &mut piece.edges {
        let last = edge.runs.len() - 1;
        match edge.name.as_str() {
            "waist" => edge.runs[0] = waist.reversed().then(&edge.runs[0])?,
            "hem" => edge.runs[last] = edge.runs[last].then(&hem)?,
            "centre" => edge.runs = vec![Curve::line(hem.end(), waist.end())],
            _ => {}
        }
    }
    for inner in &mut piece.lines {
        if let ("hip", Some(first)) = (inner.name.as_str(), inner.runs.first_mut()) {
            let added = out(first.start(), radius_more(hip_depth)).reversed();
            *first = added.then(first)?;
        }
    }
    let at_fold = piece
        .edge("centre")
        .is_some_and(|edge| edge.kind == EdgeKind::Fold);
    if at_fold {
        // What lies on the fold lies on the grain.
        piece.grain = Angle::from_radians(piece.grain.radians() - sector.angle);
    }
    Some(piece)
}

/// Folds of knife pleats that face CB, drawn a hand's breadth down from the waist, with notches there.
fn pleats(back: &mut Piece, stretch: f64, sector: &Sector) {
    let count = (stretch / figures::FAN_STRIP).round().max(1.0);
    let (strip, take) = (stretch / count, sector.waist / count);
    let Some(waist) = back.edge("waist").map(|edge| edge.runs[0].clone()) else {
        return;
    };
    for number in 0..count as usize {
        let placement = strip * (number as f64 + 0.5) + take * number as f64;
        for (word, along) in [("placement", placement), ("fold", placement + take)] {
            let name = format!("pleat-{}-{word}", number + 1);
            back.lines.push(down_from(&name, &waist, along));
            back.marks.push(Mark::Notch {
                name,
                edge: "waist".into(),
                along,
                strokes: 1,
            });
        }
    }
}

fn down_from(name: &str, waist: &Curve, along: f64) -> InnerLine {
    let (at, way) = (waist.point_at(along), waist.direction_at(along));
    let down = Vec2::new(-way.y, way.x);
    line(name, Curve::line(at, at + down * figures::FAN_PLEAT_LENGTH))
}

fn cannot() -> Finding {
    Finding::error(
        "skirt-cannot-be-drawn",
        "the fan of the skirt cannot be drawn from these measures",
    )
    .at(Place::Piece("skirt-back".into()))
    .cure("ask for another sweep, or less fullness at the waist")
}

fn no_sweep(sweep: f64, least: f64, most: f64) -> Finding {
    Finding::error(
        "skirt-sweep-impossible",
        format!("a fan with a hem of {sweep:.0} mm cannot be cut here"),
    )
    .at(Place::Piece("skirt-back".into()))
    .measured(
        Quantity::mm(sweep),
        Allowed::Between(Quantity::mm(least.ceil()), Quantity::mm(most.floor())),
    )
    .because("the fullness at the waist goes down to the hem, and a fan of more than a quarter circle folds over itself")
    .cure("ask for a hem between these, or other fullness at the waist")
    .mend(Mend::property(
        &["skirt"],
        "sweep",
        written_mm(if sweep < least { least.ceil() } else { most.floor() }),
        "takes the nearest hem that a fan gives here",
    ))
}

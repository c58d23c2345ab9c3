//! Bars of stripes and plaids: they meet where they are to, and lie on centre lines and folds.

use geometry::Point;
use pattern::{Edge, EdgeKind};

use super::put::Put;
use super::{BARS, Subject, Wrong};
use crate::goods::Bars;
use crate::lay::Way;

/// Bars meet at every place where they are matched, in every copy of both pieces.
pub(super) fn meetings(subject: &Subject<'_>, put: &[Put<'_>]) -> Vec<Wrong> {
    let mut wrong = Vec::new();
    let repeats = subject.cloth.repeats;
    for meeting in subject.meetings {
        let mut axes = vec![(repeats.along, 0)];
        if meeting.across {
            axes.push((repeats.across, 1));
        }
        for (bars, axis) in axes {
            let Some(bars) = bars else { continue };
            let mut phases: Vec<f64> = Vec::new();
            for (piece, point) in &meeting.sides {
                for one in put.iter().filter(|one| one.copy.piece == *piece) {
                    phases.extend(phases_at(one, *point, bars, axis));
                }
            }
            let by = phases
                .iter()
                .map(|phase| off(phase - phases[0], bars.every))
                .fold(0.0, f64::max);
            if by > BARS {
                wrong.push(Wrong::Bars {
                    name: meeting.name.clone(),
                    by,
                });
            }
        }
    }
    wrong
}

/// Where in the repeat a point of a piece lies, in every layer, counted along its own grain and towards its own drawn side.
fn phases_at(put: &Put<'_>, point: Point, bars: Bars, axis: usize) -> Vec<f64> {
    let grain = put.grain();
    let layers = put.on_cloth(put.copy.into * point);
    let mut phases = Vec::new();
    for (layer, at) in layers.into_iter().enumerate() {
        let is_under = layer == 1;
        let crosswise = put.section.way == Way::Crosswise;
        let (at, mut sign) = if axis == 0 {
            (at.x, grain.x.signum())
        } else {
            // The drawn side is to the left or to the right of the grain by its face.
            (
                at.y,
                grain.x.signum() * put.copy.into.determinant().signum(),
            )
        };
        if is_under && crosswise == (axis == 0) {
            sign = -sign;
        }
        phases.push(sign * (at - bars.from));
    }
    phases
}

/// Every centre line lies on a main bar, and so does every fold.
pub(super) fn centres(subject: &Subject<'_>, put: &[Put<'_>]) -> Vec<Wrong> {
    let mut wrong = Vec::new();
    let repeats = subject.cloth.repeats;
    for one in put {
        let fold = match one.section.way {
            Way::Crosswise => repeats.along.map(|bars| (one.section.from, bars)),
            Way::Lengthwise | Way::Partly => repeats.across.map(|bars| (one.section.edge, bars)),
            Way::Open => None,
        };
        let mut check = |name: String, at: f64, bars: Bars| {
            let by = off(at - bars.from, bars.every);
            if by > BARS {
                wrong.push(Wrong::Bars { name, by });
            }
        };
        if let Some((at, bars)) = fold {
            check("fold".to_owned(), at, bars);
        }
        let (Some(bars), Some(piece)) = (repeats.across, one.piece) else {
            continue;
        };
        let lines = piece.edges.iter().find(|edge| is_centre(edge));
        let ends = lines.map(|edge| [edge.start(), edge.end()]);
        let Some([from, to]) = ends.map(|ends| ends.map(|end| one.copy.into * end)) else {
            continue;
        };
        if (to.y - from.y).abs() < 0.02 * (to.x - from.x).abs() {
            let middle = Point::new(from.x, 0.5 * (from.y + to.y));
            for at in one.on_cloth(middle) {
                check(
                    format!("centre of the {}", piece.title().to_lowercase()),
                    at.y,
                    bars,
                );
            }
        }
    }
    wrong
}

fn is_centre(edge: &Edge) -> bool {
    edge.kind == EdgeKind::Fold || edge.answers_to("centre") || edge.name == "centre"
}

/// How far a distance is from whole repeats.
fn off(distance: f64, every: f64) -> f64 {
    let rest = distance.rem_euclid(every);
    rest.min(every - rest)
}

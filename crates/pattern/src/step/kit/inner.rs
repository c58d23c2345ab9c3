//! Lines inside a piece, cut where the border of a moving part crosses them.
//!
//! Invariant: a line that the border does not cross and that does not move stays as it was, bit for bit.

use geometry::{Affine, BezPath, Curve, curve::contains};

use super::place::SAME_POINT;
use crate::piece::{InnerLine, Piece};

/// What happens to a line where the part that carries one side of it moves away.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Torn {
    /// It stays interrupted, as over a dart.
    Left,
    /// It is drawn on over the gap.
    Bridged,
}

/// Moves what lies inside a closed path and leaves the rest.
pub fn carry(line: &InnerLine, inside: &BezPath, by: Affine, torn: Torn) -> InnerLine {
    let mut runs: Vec<Curve> = Vec::new();
    for run in &line.runs {
        let mut continued = false;
        for part in cut_at_border(run, inside) {
            let moves = contains(inside, part.point_at(part.length() / 2.0));
            let part = if moves { part.transformed(by) } else { part };
            match runs
                .last_mut()
                .filter(|_| continued && torn == Torn::Bridged)
            {
                Some(last) => *last = bridged(last, &part),
                None => runs.push(part),
            }
            continued = true;
        }
    }
    InnerLine {
        name: line.name.clone(),
        runs,
    }
}

/// Takes away what lies inside a closed path.
pub fn without(line: &InnerLine, inside: &BezPath) -> InnerLine {
    let kept = line.runs.iter().flat_map(|run| cut_at_border(run, inside));
    InnerLine {
        name: line.name.clone(),
        runs: kept
            .filter(|part| !contains(inside, part.point_at(part.length() / 2.0)))
            .collect(),
    }
}

/// Draws a line on over an opening: runs whose ends lie on either side of a wedge are bridged.
pub fn bridged_over(line: &InnerLine, wedge: &BezPath) -> InnerLine {
    let mut runs: Vec<Curve> = Vec::new();
    for run in &line.runs {
        match runs.last_mut() {
            Some(last) if contains(wedge, last.end().midpoint(run.start())) => {
                *last = bridged(last, run);
            }
            _ => runs.push(run.clone()),
        }
    }
    InnerLine {
        name: line.name.clone(),
        runs,
    }
}

/// Joins runs of a line whose ends have come together.
pub fn rejoined(line: &InnerLine) -> InnerLine {
    let mut runs: Vec<Curve> = Vec::new();
    for run in &line.runs {
        match runs.last_mut() {
            Some(last) if (last.end() - run.start()).hypot() < SAME_POINT => {
                *last = super::fill::joined(last, run);
            }
            _ => runs.push(run.clone()),
        }
    }
    InnerLine {
        name: line.name.clone(),
        runs,
    }
}

/// The names of the lines of which some run lies in a closed path, and that of it.
pub fn inside(piece: &Piece, path: &BezPath) -> Vec<InnerLine> {
    let part = |line: &InnerLine| {
        let runs: Vec<Curve> = line
            .runs
            .iter()
            .flat_map(|run| cut_at_border(run, path))
            .filter(|part| contains(path, part.point_at(part.length() / 2.0)))
            .collect();
        (!runs.is_empty()).then(|| InnerLine {
            name: line.name.clone(),
            runs,
        })
    };
    piece.lines.iter().filter_map(part).collect()
}

fn bridged(last: &Curve, next: &Curve) -> Curve {
    if (last.end() - next.start()).hypot() < 1e-9 {
        return super::fill::joined(last, next);
    }
    let bridge = Curve::line(last.end(), next.start());
    super::fill::joined(&super::fill::joined(last, &bridge), next)
}

/// Cuts a run where it enters or leaves a closed path, found by halving between samples.
fn cut_at_border(run: &Curve, inside: &BezPath) -> Vec<Curve> {
    const SAMPLES: u32 = 48;
    let length = run.length();
    if length <= 2.0 * SAME_POINT {
        return vec![run.clone()];
    }
    // Ends often lie on the border itself, where inside and outside are a matter of rounding: look just within.
    let place = |step: u32| {
        (length * f64::from(step) / f64::from(SAMPLES)).clamp(SAME_POINT, length - SAME_POINT)
    };
    let is_inside = |along: f64| contains(inside, run.point_at(along));
    let known: Vec<bool> = (0..=SAMPLES).map(|step| is_inside(place(step))).collect();
    let mut cuts = vec![0.0];
    for step in 0..SAMPLES {
        let before = known[step as usize];
        if before == known[step as usize + 1] {
            continue;
        }
        let (mut low, mut high) = (place(step), place(step + 1));
        while high - low > 1e-9 {
            let middle = f64::midpoint(low, high);
            if is_inside(middle) == before {
                low = middle;
            } else {
                high = middle;
            }
        }
        cuts.push(f64::midpoint(low, high));
    }
    cuts.push(length);
    cuts.windows(2)
        .filter(|pair| pair[1] - pair[0] > SAME_POINT)
        .map(|pair| run.stretch(pair[0], pair[1]))
        .collect()
}

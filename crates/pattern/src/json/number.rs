//! Numbers and points as they stand in the file.

use geometry::{Curve, Point, Tolerance};
use serde_json::{Value, json};

/// How far the points of a curve may leave it, mm. The format promises 0.02; a tenth of that keeps the area of a piece
/// right to a square millimetre, too.
const CHORD_MM: f64 = 0.002;

/// A number rounded to 0.001; 0 is never negative.
pub fn rounded(value: f64) -> f64 {
    // Adding 0 turns -0 into 0.
    (value * 1000.0).round() / 1000.0 + 0.0
}

/// A rounded number; null where it is not finite.
pub(super) fn number(value: f64) -> Value {
    json!(rounded(value))
}

/// A point or direction: `[x, y]`.
pub(super) fn point(x: f64, y: f64) -> Value {
    json!([rounded(x), rounded(y)])
}

/// The points of a curve from its start to its end.
pub(super) fn along(curve: &Curve) -> Vec<Point> {
    let chord = Tolerance::from_mm(CHORD_MM).expect("the constant is above zero");
    curve.flattened(chord)
}

/// The points of an outline, each once: curves that follow each other and come back to the first.
pub(super) fn around<'a>(curves: impl IntoIterator<Item = &'a Curve>) -> Value {
    let mut points: Vec<Point> = Vec::new();
    for curve in curves {
        let mut run = along(curve);
        run.pop();
        points.extend(run);
    }
    values(&points)
}

/// Points as a list; points that fall together once rounded stand once.
pub(super) fn values(points: &[Point]) -> Value {
    let mut values: Vec<Value> = points.iter().map(|at| point(at.x, at.y)).collect();
    values.dedup();
    Value::Array(values)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_rounded_and_nought_has_no_sign() {
        assert_eq!(number(12.345_678).to_string(), "12.346");
        assert_eq!(number(-0.000_2).to_string(), "0.0");
        assert_eq!(number(600.0).to_string(), "600.0");
        assert_eq!(number(f64::NAN), Value::Null);
    }
}

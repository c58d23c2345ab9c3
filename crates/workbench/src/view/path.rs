//! Paths as SVG writes them (SVG 2, section 9.3), in hundredths of a millimetre.

use geometry::{BezPath, PathEl, Point};

/// The letters of a path.
pub(crate) fn letters(path: &BezPath) -> String {
    let mut text = String::with_capacity(path.elements().len() * 24);
    for element in path.elements() {
        match *element {
            PathEl::MoveTo(to) => put(&mut text, 'M', &[to]),
            PathEl::LineTo(to) => put(&mut text, 'L', &[to]),
            PathEl::QuadTo(by, to) => put(&mut text, 'Q', &[by, to]),
            PathEl::CurveTo(one, two, to) => put(&mut text, 'C', &[one, two, to]),
            PathEl::ClosePath => text.push('Z'),
        }
    }
    text
}

fn put(text: &mut String, letter: char, points: &[Point]) {
    text.push(letter);
    for (index, point) in points.iter().enumerate() {
        if index > 0 {
            text.push(' ');
        }
        number(text, point.x);
        text.push(' ');
        number(text, point.y);
    }
}

/// A number with at most two places behind the point and none that says nothing.
pub(crate) fn number(text: &mut String, value: f64) {
    use std::fmt::Write as _;
    let hundredths = (value * 100.0).round();
    if !hundredths.is_finite() {
        text.push('0');
        return;
    }
    let whole = hundredths as i64;
    let (sign, whole) = if whole < 0 {
        ("-", -whole)
    } else {
        ("", whole)
    };
    let (before, behind) = (whole / 100, whole % 100);
    // Writing into a text cannot fail.
    let _ = match behind {
        0 => write!(text, "{sign}{before}"),
        _ if behind % 10 == 0 => write!(text, "{sign}{before}.{}", behind / 10),
        _ => write!(text, "{sign}{before}.{behind:02}"),
    };
}

/// A number rounded to hundredths.
pub(crate) fn rounded(value: f64) -> f64 {
    let rounded = (value * 100.0).round() / 100.0;
    if rounded.is_finite() {
        rounded + 0.0
    } else {
        0.0
    }
}

/// A point rounded to hundredths.
pub(crate) fn point(at: Point) -> [f64; 2] {
    [rounded(at.x), rounded(at.y)]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_short() {
        for (value, letters) in [
            (1.0, "1"),
            (-0.5, "-0.5"),
            (12.345, "12.35"),
            (0.004, "0"),
            (-0.04, "-0.04"),
            (1e9, "1000000000"),
            (f64::NAN, "0"),
        ] {
            let mut text = String::new();
            number(&mut text, value);
            assert_eq!(text, letters);
        }
    }
}

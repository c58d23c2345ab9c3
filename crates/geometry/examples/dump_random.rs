//! Prints random curves and outlines with what this crate computes of them, one JSON object a line, for comparison with
//! other libraries: `dump_random SEED COUNT`.

#![allow(clippy::print_stdout, clippy::print_stderr)]

use std::process::ExitCode;

use geometry::{
    Angle, Curve, Knot, Point, Tolerance, Vec2,
    allowance::{Corner, Side, cutting_outline},
    curve::{enclosed_area, unit},
    outline::{centroid, contains, distance_to, roomiest},
    simple::is_simple,
};

fn main() -> ExitCode {
    let numbers: Vec<u64> = std::env::args()
        .skip(1)
        .filter_map(|word| word.parse().ok())
        .collect();
    let &[seed, count] = numbers.as_slice() else {
        eprintln!("two whole numbers are needed: SEED COUNT");
        return ExitCode::from(2);
    };
    let mut dice = Dice(seed);
    for _ in 0..count {
        println!("{}", curve_line(&mut dice));
        println!("{}", crossing_line(&mut dice));
        println!("{}", outline_line(&mut dice));
    }
    ExitCode::SUCCESS
}

/// A small generator of pseudo-random numbers (`splitmix64`: Steele, Lea & Flood, OOPSLA 2014).
struct Dice(u64);

impl Dice {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        z ^= z >> 31;
        low + (high - low) * ((z >> 11) as f64 / (1u64 << 53) as f64)
    }

    fn curve(&mut self) -> Curve {
        let mut heading = self.between(0.0, 360.0);
        let mut knots = vec![Knot::free(Point::new(
            self.between(-50.0, 50.0),
            self.between(-50.0, 50.0),
        ))];
        for _ in 0..self.between(1.0, 5.0) as usize {
            heading += self.between(-55.0, 55.0);
            let from = knots[knots.len() - 1].point;
            knots.push(Knot::free(
                from + unit(Angle::from_degrees(heading)) * self.between(30.0, 120.0),
            ));
        }
        Curve::smooth(&knots).expect("knots are at least 30 mm apart")
    }

    /// Clockwise on the table round the origin, its sides straight, bulging, hollow or waved.
    fn outline(&mut self) -> Vec<Curve> {
        let count = self.between(3.0, 11.0) as usize;
        let shares: Vec<f64> = (0..count).map(|_| self.between(0.3, 1.0)).collect();
        let round: f64 = shares.iter().sum();
        let mut angle = 0.0;
        let corners: Vec<Point> = shares
            .iter()
            .map(|share| {
                angle += 360.0 * share / round;
                Point::ORIGIN + unit(Angle::from_degrees(angle)) * self.between(120.0, 320.0)
            })
            .collect();
        (0..count)
            .map(|k| {
                let (from, to) = (corners[k], corners[(k + 1) % count]);
                let chord = to - from;
                let aside = Vec2::new(chord.y, -chord.x);
                let (a, b) = (self.between(-0.25, 0.25), self.between(-0.25, 0.25));
                Curve::cubic(
                    from,
                    from + chord / 3.0 + aside * a,
                    to - chord / 3.0 + aside * b,
                    to,
                )
            })
            .collect()
    }
}

fn curve_line(dice: &mut Dice) -> String {
    let curve = dice.curve();
    let length = curve.length();
    let places: Vec<String> = (0..5)
        .map(|_| dice.between(0.0, length))
        .map(|along| {
            let point = curve.point_at(along);
            format!("[{along},{},{}]", point.x, point.y)
        })
        .collect();
    let offsets: Vec<String> = [15.0, -10.0, 40.0, -40.0]
        .iter()
        .map(|&distance| {
            let offset = curve.offset(distance, Tolerance::PATTERN);
            let points = offset.map_or_else(|| "null".into(), |offset| dense(&[&offset]));
            format!("{{\"distance\":{distance},\"points\":{points}}}")
        })
        .collect();
    format!(
        "{{\"kind\":\"curve\",\"cubics\":{},\"length\":{length},\"area_share\":{},\"places\":[{}],\"offsets\":[{}]}}",
        cubics(&curve),
        curve.area_share(),
        places.join(","),
        offsets.join(",")
    )
}

fn crossing_line(dice: &mut Dice) -> String {
    let (a, b) = (dice.curve(), dice.curve());
    let found: Vec<String> = a
        .crossings(&b, Tolerance::PATTERN)
        .iter()
        .map(|crossing| format!("[{},{}]", crossing.point.x, crossing.point.y))
        .collect();
    format!(
        "{{\"kind\":\"crossing\",\"a\":{},\"b\":{},\"found\":[{}]}}",
        cubics(&a),
        cubics(&b),
        found.join(",")
    )
}

fn outline_line(dice: &mut Dice) -> String {
    let outline = dice.outline();
    let sides: Vec<String> = outline.iter().map(cubics).collect();
    let middle = centroid(&outline).unwrap_or_default();
    let room = roomiest(&outline, Tolerance::DRAWING);
    let room = room.map_or_else(
        || "null".into(),
        |room| format!("[{},{},{}]", room.point.x, room.point.y, room.radius),
    );
    let probes: Vec<String> = (0..8)
        .map(|_| Point::new(dice.between(-300.0, 300.0), dice.between(-300.0, 300.0)))
        .map(|p| {
            format!(
                "[{},{},{},{}]",
                p.x,
                p.y,
                contains(&outline, p),
                distance_to(&outline, p)
            )
        })
        .collect();
    let distance = dice.between(5.0, 25.0);
    let (cut, why) = allowance(&outline, distance);
    format!(
        "{{\"kind\":\"outline\",\"sides\":[{}],\"area\":{},\"centroid\":[{},{}],\"simple\":{},\"room\":{room},\
         \"probes\":[{}],\"distance\":{distance},\"cut\":{cut},\"why\":{why}}}",
        sides.join(","),
        enclosed_area(&outline),
        middle.x,
        middle.y,
        is_simple(&outline),
        probes.join(","),
    )
}

/// The cutting outline with one allowance all round as points, or why there is none.
fn allowance(outline: &[Curve], distance: f64) -> (String, String) {
    let sides: Vec<Side> = outline
        .iter()
        .map(|curve| Side {
            curve: curve.clone(),
            distance,
            corner: Corner::Mitre,
        })
        .collect();
    match cutting_outline(&sides, Tolerance::PATTERN) {
        Ok(made) => (dense(&made.curves().collect::<Vec<_>>()), "null".into()),
        Err(error) => ("null".into(), format!("\"{error}\"")),
    }
}

fn cubics(curve: &Curve) -> String {
    let segments: Vec<String> = curve
        .segments()
        .iter()
        .map(|segment| {
            let c = segment.to_cubic();
            let numbers = [c.p0, c.p1, c.p2, c.p3].map(|p| format!("[{},{}]", p.x, p.y));
            format!("[{}]", numbers.join(","))
        })
        .collect();
    format!("[{}]", segments.join(","))
}

/// Points on curves that follow each other, straight lines between which stay within 0.0001 mm.
fn dense(curves: &[&Curve]) -> String {
    let fine = Tolerance::from_mm(1e-4).expect("above zero");
    let points: Vec<String> = curves
        .iter()
        .flat_map(|curve| curve.flattened(fine))
        .map(|point| format!("[{},{}]", point.x, point.y))
        .collect();
    format!("[{}]", points.join(","))
}

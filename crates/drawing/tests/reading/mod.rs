//! A panel read back by sampling, without any of the searches that placed its words.

#![allow(
    dead_code,
    unreachable_pub,
    reason = "each of those who share this reader uses some of it"
)]

use geometry::{BezPath, PathEl, Point, Vec2};
use sheet::{Item, Panel, Shape, Words};

/// Distance between the points at which lines are looked at, mm.
const STEP_MM: f64 = 0.4;

/// A line of words with its box.
pub struct Lettered<'a> {
    /// The words themselves.
    pub words: &'a Words,
    width: f64,
    sin: f64,
    cos: f64,
}

impl<'a> Lettered<'a> {
    fn of(words: &'a Words) -> Self {
        let (sin, cos) = geometry::math::sin_cos(words.turn_degrees.to_radians());
        Self {
            words,
            width: words.width(),
            sin,
            cos,
        }
    }

    /// Whether a point lies on the words, from the top of their tallest to the bottom of their deepest letters.
    pub fn is_on(&self, point: Point) -> bool {
        let (off, size) = (point - self.words.at, self.words.size_mm);
        let along = off.x * self.cos + off.y * self.sin;
        let down = off.y * self.cos - off.x * self.sin;
        (0.0..=self.width).contains(&along) && (-0.95 * size..=0.27 * size).contains(&down)
    }

    /// Points all over the words.
    pub fn over(&self) -> Vec<Point> {
        let place = |x: f64, y: f64| {
            self.words.at + Vec2::new(x * self.cos - y * self.sin, x * self.sin + y * self.cos)
        };
        let columns = (self.width / 1.5).ceil().max(2.0) as usize;
        (0..=columns)
            .flat_map(|column| {
                let x = self.width * column as f64 / columns as f64;
                [-0.95, -0.5, 0.0, 0.27].map(|y| place(x, y * self.words.size_mm))
            })
            .collect()
    }
}

/// All words of a panel.
pub fn words(panel: &Panel) -> Vec<Lettered<'_>> {
    let words = panel.items.iter().filter_map(|item| match &item.shape {
        Shape::Text(words) => Some(Lettered::of(words)),
        Shape::Path { .. } => None,
    });
    words.collect()
}

/// All paths of a panel with their items.
pub fn paths(panel: &Panel) -> Vec<(&Item, &BezPath)> {
    let paths = panel.items.iter().filter_map(|item| match &item.shape {
        Shape::Path { path, .. } => Some((item, path)),
        Shape::Text(_) => None,
    });
    paths.collect()
}

/// The path of an id.
pub fn path<'a>(panel: &'a Panel, id: &str) -> Option<&'a BezPath> {
    let found = paths(panel)
        .into_iter()
        .find(|(item, _)| item.id.as_deref() == Some(id));
    found.map(|(_, path)| path)
}

/// Points along a path, a chain for every part of it.
pub fn chains(path: &BezPath) -> Vec<Vec<Point>> {
    let mut chains: Vec<Vec<Point>> = Vec::new();
    for element in path.elements() {
        let last = chains
            .last()
            .and_then(|chain| chain.last())
            .copied()
            .unwrap_or_default();
        let first = chains
            .last()
            .and_then(|chain| chain.first())
            .copied()
            .unwrap_or_default();
        let more = match *element {
            PathEl::MoveTo(point) => {
                chains.push(vec![point]);
                continue;
            }
            PathEl::LineTo(point) => stretch(|share| last.lerp(point, share), last.distance(point)),
            PathEl::CurveTo(a, b, point) => {
                let length = last.distance(a) + a.distance(b) + b.distance(point);
                stretch(|share| cubic([last, a, b, point], share), length)
            }
            PathEl::QuadTo(a, point) => stretch(
                |share| last.lerp(a, share).lerp(a.lerp(point, share), share),
                last.distance(point),
            ),
            PathEl::ClosePath => stretch(|share| last.lerp(first, share), last.distance(first)),
        };
        if let Some(chain) = chains.last_mut() {
            chain.extend(more);
        }
    }
    chains
}

/// Length of the parts of a path, mm.
pub fn length(path: &BezPath) -> f64 {
    let chain = |points: &Vec<Point>| {
        points
            .windows(2)
            .map(|pair| pair[0].distance(pair[1]))
            .sum::<f64>()
    };
    chains(path).iter().map(chain).sum()
}

fn stretch(at: impl Fn(f64) -> Point, length: f64) -> Vec<Point> {
    let count = (length / STEP_MM).ceil().max(1.0) as usize;
    (1..=count)
        .map(|step| at(step as f64 / count as f64))
        .collect()
}

fn cubic([p, a, b, q]: [Point; 4], share: f64) -> Point {
    let (one, two, three) = (p.lerp(a, share), a.lerp(b, share), b.lerp(q, share));
    one.lerp(two, share).lerp(two.lerp(three, share), share)
}

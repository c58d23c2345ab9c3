//! The cloth under a lay: its edges, what repeats on it, its flaws, and how long it is.
//!
//! Invariant: everything lies in the drawing's millimetres of paper; selvedges and fold are named outside the cloth.

use cloth::goods::Cloth;
use cloth::lay::{Lay, Section, Way};
use geometry::{Affine, BezPath, Point};
use sheet::{Anchor, Colour, Item, Layer, Line, Words};

use super::rectangle;

/// Room beside the cloth, mm of paper.
pub(super) const LEFT: f64 = 6.0;
/// Room for what stands behind the end of the cloth.
pub(super) const SIDES: f64 = 14.0;
/// Room above the cloth: ruler and the name of the edge.
pub(super) const ABOVE: f64 = 9.0;
/// Room below it: selvedge and its name.
pub(super) const BELOW: f64 = 5.0;
/// Words beside the cloth, mm.
const WORDS: f64 = 2.6;
/// Ground of the cloth.
const CLOTH: Colour = Colour(250, 247, 238);
/// Selvedges.
const SELVEDGE: Colour = Colour(226, 220, 204);
/// Bars that repeat.
const BARS: Colour = Colour(205, 214, 226);
/// Flaws, and what a left-over lacks.
const BARE: Colour = Colour(240, 214, 208);
/// How much of what is left over is shown at most, mm of cloth.
const LEFT_OVER: f64 = 120.0;

pub(super) fn items(cloth: &Cloth, lay: &Lay, index: usize, onto: Affine) -> Vec<Item> {
    let section = &lay.sections[index];
    let is_last = index + 1 == lay.sections.len();
    let beyond = left_over(cloth, lay).filter(|_| is_last);
    let mut items = Vec::new();
    cloth_itself(cloth, section, onto, &mut items);
    bars(cloth, section, onto, &mut items);
    bare(cloth, section, onto, &mut items);
    edges(cloth, section, onto, &mut items);
    ruler(cloth, section, onto, &mut items);
    if let Some(beyond) = beyond {
        rest(section, beyond, onto, &mut items);
    }
    items
}

/// How much cloth is left behind the lay, mm.
fn left_over(cloth: &Cloth, lay: &Lay) -> Option<f64> {
    let left = cloth.length? - lay.length;
    (left > 1.0).then_some(left)
}

fn cloth_itself(cloth: &Cloth, section: &Section, onto: Affine, items: &mut Vec<Item>) {
    let (length, width) = (section.length, section.width);
    let mut fill = |low: Point, high: Point, colour: Colour| {
        let path = rectangle(onto, low, high);
        items.push(Item::filled(Layer::Furniture, path, colour));
    };
    let selvedge = cloth.selvedge;
    if cloth.outline.is_none() {
        fill(
            Point::new(0.0, width),
            Point::new(length, width + selvedge),
            SELVEDGE,
        );
        if section.way == Way::Open || section.way == Way::Crosswise {
            fill(
                Point::new(0.0, -selvedge),
                Point::new(length, 0.0),
                SELVEDGE,
            );
        }
        fill(Point::ORIGIN, Point::new(length, width), CLOTH);
    }
    if let Some(outline) = &cloth.outline {
        let path = on_paper(outline, section, 1.0, onto);
        items.push(Item::filled(Layer::Furniture, path, CLOTH));
    }
}

/// An outline of the cloth on paper; the layer that lies under has its mirror image.
fn on_paper(outline: &[Point], section: &Section, sign: f64, onto: Affine) -> BezPath {
    let mut path = BezPath::new();
    for (index, corner) in outline.iter().enumerate() {
        let at = Point::new(corner.x - section.from, sign * (corner.y - section.edge));
        if index == 0 {
            path.move_to(onto * at);
        } else {
            path.line_to(onto * at);
        }
    }
    path.close_path();
    path
}

/// The main bar of every repeat, faintly.
fn bars(cloth: &Cloth, section: &Section, onto: Affine, items: &mut Vec<Item>) {
    let mut line = |from: Point, to: Point, name: String| {
        let mut path = BezPath::new();
        path.move_to(onto * from);
        path.line_to(onto * to);
        let line = Line::solid(0.6).coloured(BARS);
        // Over the pieces, so that it is seen where bars meet, and under everything that is read.
        items.push(Item::path(Layer::SeamLine, path, line).named(name));
    };
    if let Some(bars) = cloth.repeats.along {
        let mut x = (bars.from - section.from).rem_euclid(bars.every);
        while x <= section.length {
            let name = format!("bar-across-{}-{x:.3}", section.way.word());
            line(Point::new(x, 0.0), Point::new(x, section.width), name);
            x += bars.every;
        }
    }
    if let Some(bars) = cloth.repeats.across {
        let mut y = (bars.from - section.edge).rem_euclid(bars.every);
        while y <= section.width {
            let name = format!("bar-along-{}-{y:.3}", section.way.word());
            line(Point::new(0.0, y), Point::new(section.length, y), name);
            y += bars.every;
        }
    }
}

fn bare(cloth: &Cloth, section: &Section, onto: Affine, items: &mut Vec<Item>) {
    for flaw in &cloth.flaws {
        let folded = section.double > 0.0 && section.way != Way::Crosswise;
        let layers: &[f64] = if folded { &[1.0, -1.0] } else { &[1.0] };
        for &sign in layers {
            let inside = |corner: &Point| {
                let y = sign * (corner.y - section.edge);
                let x = corner.x - section.from;
                (0.0..=section.length).contains(&x) && (0.0..=section.width).contains(&y)
            };
            if cloth.outline.is_some() || flaw.outline.iter().all(inside) {
                let path = on_paper(&flaw.outline, section, sign, onto);
                items.push(Item::filled(Layer::Furniture, path.clone(), BARE));
                let line = Line::dashed(0.25, &[0.8, 0.6]);
                items.push(Item::path(Layer::Furniture, path, line));
            }
        }
    }
}

/// The edges of the cloth, and their names outside it.
fn edges(cloth: &Cloth, section: &Section, onto: Affine, items: &mut Vec<Item>) {
    let (length, width) = (section.length, section.width);
    if let Some(outline) = &cloth.outline {
        let path = on_paper(outline, section, 1.0, onto);
        items.push(Item::path(Layer::Grain, path, Line::solid(0.35)));
        return;
    }
    let mut line = |from: Point, to: Point, line: Line| {
        let mut path = BezPath::new();
        path.move_to(onto * from);
        path.line_to(onto * to);
        items.push(Item::path(Layer::Grain, path, line));
    };
    let p = Point::new;
    let fold = Line::dashed(0.7, &[5.0, 1.2, 0.8, 1.2]);
    let folded_along = matches!(section.way, Way::Lengthwise | Way::Partly);
    let (upper, outer) = if folded_along {
        (fold.clone(), 0.0)
    } else {
        (Line::solid(0.35), -cloth.selvedge)
    };
    line(p(0.0, outer), p(length, outer), upper);
    line(
        p(0.0, width + cloth.selvedge),
        p(length, width + cloth.selvedge),
        Line::solid(0.35),
    );
    let (begins, first) = if section.way == Way::Crosswise {
        (fold, "fold")
    } else {
        (Line::solid(0.35), "")
    };
    line(p(0.0, outer), p(0.0, width + cloth.selvedge), begins);
    line(
        p(length, outer),
        p(length, width + cloth.selvedge),
        Line::dashed(0.35, &[1.5, 1.0]),
    );
    if section.way == Way::Partly {
        line(
            p(0.0, section.double),
            p(length, section.double),
            Line::dashed(0.35, &[2.5, 1.2]).coloured(Colour::QUIET),
        );
    }
    let selvedge = if cloth.selvedge > 0.0 {
        "selvedge"
    } else {
        "edge"
    };
    let selvedges = if section.way == Way::Lengthwise && section.double > 0.0 {
        format!("both {selvedge}s")
    } else {
        selvedge.to_owned()
    };
    let above = if folded_along { "fold" } else { selvedge };
    let scale = scale_of(onto) * cloth.selvedge;
    let mut name = |at: Point, text: &str, degrees: f64| {
        if !text.is_empty() {
            let words = Words::new(at, WORDS, text)
                .turned(degrees)
                .coloured(Colour::QUIET);
            items.push(Item::text(words));
        }
    };
    let top = onto * p(0.0, 0.0);
    // Above the ruler's ticks on the one side, below the selvedge on the other.
    let lift = if folded_along { 0.0 } else { scale };
    name(top + (0.0, -lift - 5.4), above, 0.0);
    name(
        onto * p(0.0, width) + (0.0, scale + WORDS + 0.6),
        &selvedges,
        0.0,
    );
    name(onto * p(0.0, width / 2.0) + (-1.2, 3.0), first, -90.0);
    if section.way == Way::Partly {
        let at = onto * p(length, section.double) + (1.0, 0.9);
        name(at, "edge of the", 0.0);
        name(at + (0.0, WORDS * 1.2), "double part", 0.0);
    }
}

/// Ticks every 10 cm and numbers every 50, above the cloth.
fn ruler(cloth: &Cloth, section: &Section, onto: Affine, items: &mut Vec<Item>) {
    let first = if section.way == Way::Crosswise {
        0.0
    } else {
        section.from
    };
    let scale = scale_of(onto);
    let mut ticks = BezPath::new();
    let start = (first / 100.0).ceil() as i64;
    let end = ((first + section.length) / 100.0).floor() as i64;
    let top = -2.0 / scale;
    for tick in start..=end {
        let x = tick as f64 * 100.0 - first;
        let long = if tick % 5 == 0 { 1.6 } else { 0.9 };
        ticks.move_to(onto * Point::new(x, top));
        ticks.line_to(onto * Point::new(x, top - long / scale));
        if tick % 5 == 0 {
            let at = onto * Point::new(x, top) + (0.0, -2.1);
            let words = Words::new(at, WORDS, format!("{}", tick * 10))
                .anchored(Anchor::Middle)
                .coloured(Colour::QUIET);
            // The name of the edge stands at the beginning.
            if x * scale > 18.0 {
                items.push(Item::text(words));
            }
        }
    }
    let base = [Point::new(0.0, top), Point::new(section.length, top)].map(|at| onto * at);
    ticks.move_to(base[0]);
    ticks.line_to(base[1]);
    let line = Line::solid(0.2).coloured(Colour::QUIET);
    items.push(Item::path(Layer::Furniture, ticks, line));
    if cloth.outline.is_some() {
        return;
    }
    let end = onto * Point::new(section.length, section.width / 2.0);
    let text = format!("{:.0} cm", (section.length / 10.0).ceil());
    let words = Words::new(end + (3.4, 5.0), WORDS, text)
        .turned(-90.0)
        .coloured(Colour::QUIET);
    items.push(Item::text(words));
}

/// Paper over cloth.
fn scale_of(onto: Affine) -> f64 {
    onto.as_coeffs()[0]
}

/// The beginning of what is left over.
fn rest(section: &Section, left: f64, onto: Affine, items: &mut Vec<Item>) {
    let shown = left.min(LEFT_OVER);
    let p = Point::new;
    let (from, to) = (section.length, section.length + shown);
    let mut path = BezPath::new();
    for (a, b) in [
        (p(from, 0.0), p(to, 0.0)),
        (p(from, section.width), p(to, section.width)),
    ] {
        path.move_to(onto * a);
        path.line_to(onto * b);
    }
    let line = Line::dashed(0.25, &[1.0, 1.0]).coloured(Colour::HELP);
    items.push(Item::path(Layer::Furniture, path, line));
    let at = onto * p(from, section.width / 2.0);
    let text = format!("{:.0} cm of it are left", (left / 10.0).floor());
    let words = Words::new(at + (7.4, 14.0), WORDS, text)
        .turned(-90.0)
        .coloured(Colour::QUIET);
    items.push(Item::text(words));
}

//! What a lay says to whoever buys and cuts: length to buy, cost, waste, bounds, order.
//!
//! Knows lays and cloths. Invariant: nothing is rounded down; bounds are below every lay of their way.

use document::Finding;
use geometry::{Affine, Point};
use pattern::{Layer, Pattern};

use super::kind::{self, Cut, Kind};
use super::slot::Rules;
use super::{Lay, Part, Placed, Way, Wishes, bounds};
use crate::goods::Cloth;

/// What straightening both ends along a thread takes before the pieces are laid, mm; common practice, no source.
pub const STRAIGHTENING: f64 = 50.0;

/// What follows from a lay.
#[derive(Clone, Debug, PartialEq)]
pub struct Answer {
    /// Length as it is laid, mm.
    pub laid: f64,
    /// Length to buy, mm: with what straightening and washing take, in whole steps of the shop; none for a left-over.
    pub to_buy: Option<f64>,
    /// How much of that washing takes, mm.
    pub shrinks: f64,
    /// How much of the length on hand is left as it is laid, mm, negative where it is too short; none where it is still to be
    /// bought.
    pub left: Option<f64>,
    /// What the length to buy costs, in the currency of the price.
    pub cost: Option<f64>,
    /// The share of the cloth that falls away, 0 to 1.
    pub waste: f64,
    /// Lengths below which no lay of this way can be.
    pub bounds: Bounds,
    /// The copies of the lay in the order in which they are cut: those on the fold first, then from large to small.
    pub order: Vec<usize>,
}

/// Lengths below which no lay can be, mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bounds {
    /// The area of all pieces over the usable width.
    pub area: f64,
    /// The longest piece.
    pub longest: f64,
    /// The sum of all edges on the fold, where the cloth is folded once along; 0 otherwise.
    pub folds: f64,
}

impl Bounds {
    /// The greatest of them.
    pub fn least(&self) -> f64 {
        self.area.max(self.longest).max(self.folds)
    }
}

/// What follows from a lay of the pieces that are cut from a cloth; none where they have no cutting line.
pub fn answer(pattern: &Pattern, layers: &[Layer], cloth: &Cloth, lay: &Lay) -> Option<Answer> {
    let mut kinds = kind::kinds(pattern, layers).ok()?;
    let whole = lay.copies.iter().filter(|copy| copy.part == Part::Whole);
    let whole: Vec<String> = whole.map(|copy| copy.piece.clone()).collect();
    kind::keep_off(&mut kinds, &whole);
    let washed = cloth.as_laid();
    let area: f64 = kinds.iter().map(Kind::area).sum();
    let whole = match &washed.outline {
        Some(outline) => super::outward::area(outline).abs(),
        None => lay.length * washed.usable_width(),
    };
    let keeps = 1.0 - cloth.will_shrink();
    let needed = (lay.length + STRAIGHTENING) / keeps;
    let to_buy = cloth.outline.is_none().then(|| up(needed, cloth.sold_in));
    let price = cloth.price.as_ref();
    Some(Answer {
        laid: lay.length,
        to_buy,
        shrinks: needed * cloth.will_shrink(),
        left: washed
            .length
            .map(|length| length - lay.length - STRAIGHTENING),
        cost: price
            .zip(to_buy)
            .map(|(price, length)| price.per_metre * length / 1000.0),
        waste: 1.0 - area / whole,
        bounds: of_kinds(&kinds, washed.usable_width(), lay.way, &degrees(lay)),
        order: order(lay),
    })
}

/// The lengths below which no lay of a way can be, before one is searched for.
pub fn bounds_of(
    pattern: &Pattern,
    layers: &[Layer],
    cloth: &Cloth,
    wishes: &Wishes,
    way: Way,
) -> Result<Bounds, Vec<Finding>> {
    let mut kinds = kind::kinds(pattern, layers)?;
    kind::keep_off(&mut kinds, &wishes.whole);
    let cloth = cloth.as_laid();
    let off = Rules::of(&cloth, wishes.grain_tolerance).tolerance;
    Ok(of_kinds(
        &kinds,
        cloth.usable_width(),
        way,
        &[0.0, off, -off],
    ))
}

/// How far off the grain copies of a lay lie, degrees.
fn degrees(lay: &Lay) -> Vec<f64> {
    let off = |copy: &Placed| (copy.degrees + 90.0).rem_euclid(180.0) - 90.0;
    // A paper piece that lies face down is turned the other way.
    let both = lay.copies.iter().flat_map(|copy| [off(copy), -off(copy)]);
    let mut all: Vec<f64> = both.collect();
    all.sort_by(f64::total_cmp);
    all.dedup();
    all
}

fn of_kinds(kinds: &[Kind], width: f64, way: Way, degrees: &[f64]) -> Bounds {
    let area: f64 = kinds.iter().map(Kind::area).sum();
    let long = |kind: &Kind| {
        let turned = degrees.iter().map(|degrees| {
            let turn = Affine::rotate(degrees.to_radians());
            let ring: Vec<Point> = kind.ring.iter().map(|point| turn * *point).collect();
            let [low, high] = bounds(&ring);
            high.x - low.x
        });
        turned.fold(f64::INFINITY, f64::min)
    };
    // On cloth that is folded crosswise a piece through two layers takes its length twice.
    let times = |kind: &Kind| {
        if way == Way::Crosswise && kind.cut == Cut::Pair {
            2.0
        } else {
            1.0
        }
    };
    let folds = match way {
        Way::Lengthwise | Way::Partly => kinds
            .iter()
            .filter(|kind| kind.on_fold())
            .map(|kind| kind.count as f64 * fold_length(&kind.ring))
            .sum(),
        Way::Open | Way::Crosswise => 0.0,
    };
    Bounds {
        area: area / width,
        longest: kinds
            .iter()
            .map(|kind| times(kind) * long(kind))
            .fold(0.0, f64::max),
        folds,
    }
}

/// How much of the fold a piece takes: the part of its outline on y = 0.
fn fold_length(ring: &[Point]) -> f64 {
    let on_fold = ring.iter().filter(|point| point.y == 0.0);
    let (low, high) = on_fold.fold((f64::MAX, f64::MIN), |(low, high), point| {
        (low.min(point.x), high.max(point.x))
    });
    (high - low).max(0.0)
}

fn order(lay: &Lay) -> Vec<usize> {
    let mut order: Vec<usize> = (0..lay.copies.len()).collect();
    let size = |at: usize| super::outward::area(&lay.copies[at].ring).abs();
    let first = |at: usize| lay.copies[at].part != Part::OnFold;
    order.sort_by(|&a, &b| {
        let (one, other) = (&lay.copies[a], &lay.copies[b]);
        (one.section, first(a))
            .cmp(&(other.section, first(b)))
            .then(size(b).total_cmp(&size(a)))
    });
    order
}

/// The next whole so many of something.
fn up(value: f64, step: f64) -> f64 {
    (value / step - 1e-9).ceil() * step
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_is_rounded_down() {
        assert_eq!(up(2641.0, 50.0), 2650.0);
        assert_eq!(up(2650.0, 50.0), 2650.0);
        assert_eq!(up(2650.1, 100.0), 2700.0);
    }
}

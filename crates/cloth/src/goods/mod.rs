//! A cloth as it lies in the cupboard: how wide and long, which way it runs, what repeats on it, what washing does to it.
//!
//! Knows no garment and no lay. x runs along the cloth from its beginning, y across it from one edge. Invariant: a [`Cloth`]
//! that was read has possible values, and room between its selvedges.

mod read;

use geometry::Point;
use pattern::{Fraying, Layer};

pub use read::read;

/// What is rounded up to where a shop's own step is not known, mm; common practice, no source.
const SOLD_IN: f64 = 50.0;
/// A yard, mm (exact: International yard and pound agreement, 1959).
const YARD: f64 = 914.4;

/// A cloth.
#[derive(Clone, Debug, PartialEq)]
pub struct Cloth {
    /// What its owner calls it: "black wool crepe".
    pub name: String,
    /// Width from edge to edge, mm.
    pub width: f64,
    /// Width of each selvedge, in which nothing is cut, mm.
    pub selvedge: f64,
    /// Length on hand, mm; none where it is still to be bought.
    pub length: Option<f64>,
    /// What a length of it costs.
    pub price: Option<Price>,
    /// Lengths are bought in whole steps of this, mm.
    pub sold_in: f64,
    /// Whether all pieces must lie one way.
    pub direction: Direction,
    /// Stripes or plaid.
    pub repeats: Repeats,
    /// What washing takes, as shares of the length and of the width, 0 to 1.
    pub shrinkage: [f64; 2],
    /// Whether it was washed already, so that every measure is as it will stay.
    pub washed: bool,
    /// Weight, g/m².
    pub weight: f64,
    /// Thickness of one layer, mm.
    pub thickness: f64,
    /// Bending length lengthwise and crosswise, mm (ISO 9073-7, ASTM D1388).
    pub bending: Option<[f64; 2]>,
    /// How much it stretches lengthwise and crosswise, as shares of its length.
    pub stretch: [f64; 2],
    /// Whether right and wrong side are alike, so that a piece may lie on either face.
    pub sides_alike: bool,
    /// How its edges fray.
    pub frays: Fraying,
    /// What must not be cut: stains, holes.
    pub flaws: Vec<Flaw>,
    /// The outline of a left-over that is no whole width; none where it is.
    pub outline: Option<Vec<Point>>,
}

/// A price.
#[derive(Clone, Debug, PartialEq)]
pub struct Price {
    /// Of a metre.
    pub per_metre: f64,
    /// The sign or name of the currency; may be empty.
    pub currency: String,
}

/// Which ways pieces may lie.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Direction {
    /// Either way along the cloth.
    #[default]
    TwoWay,
    /// One way, since its pile or brushed face has a nap.
    Nap,
    /// One way, since its print or weave has an upright.
    OneWay,
}

impl Direction {
    /// Whether all pieces must lie one way.
    pub const fn is_one_way(self) -> bool {
        matches!(self, Self::Nap | Self::OneWay)
    }
}

/// Bars that repeat: the middle of the main bar at `from`, then every so many mm.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Bars {
    /// The repeat, mm.
    pub every: f64,
    /// Where the first main bar lies, mm from the beginning of the cloth or from its edge.
    pub from: f64,
}

/// What repeats on a cloth.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Repeats {
    /// Bars that run across the cloth, one after another along it.
    pub along: Option<Bars>,
    /// Bars that run along the cloth, beside each other across it.
    pub across: Option<Bars>,
    /// Whether the bars are not the same from both sides, so that a turned piece would show.
    pub uneven: bool,
}

impl Repeats {
    /// Whether anything repeats.
    pub const fn any(&self) -> bool {
        self.along.is_some() || self.across.is_some()
    }
}

/// What must not be cut.
#[derive(Clone, Debug, PartialEq)]
pub struct Flaw {
    /// What it is: "stain".
    pub name: String,
    /// Its outline on the cloth.
    pub outline: Vec<Point>,
}

impl Cloth {
    /// A cloth of which only width and weight are known: what a garment says of a layer in its own line. Its width is the
    /// usable one.
    pub fn of_makeup(cloth: &pattern::Cloth) -> Self {
        Self {
            weight: cloth.weight,
            thickness: cloth.thickness,
            frays: cloth.frays,
            ..Self::plain(&cloth.name, cloth.width)
        }
    }

    /// A plain woven cloth without selvedges: nothing repeats, nothing shrinks, both ways are alike.
    pub fn plain(name: &str, width: f64) -> Self {
        Self {
            name: name.to_owned(),
            width,
            selvedge: 0.0,
            length: None,
            price: None,
            sold_in: SOLD_IN,
            direction: Direction::TwoWay,
            repeats: Repeats::default(),
            shrinkage: [0.0; 2],
            washed: false,
            weight: 150.0,
            thickness: 0.3,
            bending: None,
            stretch: [0.0; 2],
            sides_alike: false,
            frays: Fraying::Some,
            flaws: Vec::new(),
            outline: None,
        }
    }

    /// What a pattern has to know of it when a layer is cut from it.
    pub fn makeup(&self, layer: Layer) -> pattern::Cloth {
        let laid = self.as_laid();
        pattern::Cloth {
            layer,
            name: self.name.clone(),
            width: laid.usable_width(),
            thickness: self.thickness,
            weight: self.weight,
            frays: self.frays,
        }
    }

    /// Width between the selvedges, or of the outline of a left-over, mm.
    pub fn usable_width(&self) -> f64 {
        match &self.outline {
            None => self.width - 2.0 * self.selvedge,
            Some(outline) => {
                let [low, high] = crate::lay::bounds(outline);
                high.y - low.y
            }
        }
    }

    /// The cloth as it is laid: washed, so that it is as much smaller as it shrinks.
    pub fn as_laid(&self) -> Self {
        if self.washed {
            return self.clone();
        }
        let [along, across] = self.shrinkage.map(|share| 1.0 - share);
        let put = |corner: &Point| Point::new(corner.x * along, corner.y * across);
        let ring = |outline: &[Point]| outline.iter().map(put).collect::<Vec<Point>>();
        let bars = |bars: Option<Bars>, scale: f64| {
            bars.map(|bars| Bars {
                every: bars.every * scale,
                from: bars.from * scale,
            })
        };
        Self {
            width: self.width * across,
            selvedge: self.selvedge * across,
            length: self.length.map(|length| length * along),
            repeats: Repeats {
                along: bars(self.repeats.along, along),
                across: bars(self.repeats.across, across),
                uneven: self.repeats.uneven,
            },
            flaws: self
                .flaws
                .iter()
                .map(|flaw| Flaw {
                    name: flaw.name.clone(),
                    outline: ring(&flaw.outline),
                })
                .collect(),
            outline: self.outline.as_deref().map(ring),
            washed: true,
            ..self.clone()
        }
    }

    /// The share of the length that washing will still take.
    pub fn will_shrink(&self) -> f64 {
        if self.washed { 0.0 } else { self.shrinkage[0] }
    }
}

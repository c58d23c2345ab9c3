//! The drawing: panels of paths and words, each panel in its own millimetres.
//!
//! Knows nothing of paper; where a panel lies on a sheet is decided by `lay_out`.

use geometry::{Affine, Angle, BezPath, Point, Rect};
use kurbo::Shape as _;

use crate::font::{self, Weight};
use crate::layer::Layer;

/// Everything that goes on paper together.
#[derive(Clone, Debug, PartialEq)]
pub struct Drawing {
    /// What it is, such as "Concert dress".
    pub title: String,
    /// Whose it is and what else the reader must know, in one line; may be empty.
    pub subject: String,
    /// Which version of the garment; may be empty.
    pub version: String,
    /// The date that is printed, as `2026-11-24`; none is printed where there is none.
    pub date: Option<String>,
    /// Language of the words, as BCP 47 has it: `en`.
    pub language: String,
    /// The panels, in the order in which they are listed.
    pub panels: Vec<Panel>,
    /// Panels that are shown whole and made smaller, each on a page of its own: to look at, not to cut by.
    pub plates: Vec<Panel>,
    /// Lists that stand on the cover: what to cut, what to buy.
    pub lists: Vec<List>,
    /// Anything else the reader must know, a sentence a line.
    pub legend: Vec<String>,
}

/// Lines under a heading.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct List {
    /// The heading: "Shell: black wool crêpe".
    pub title: String,
    /// The lines: "Front: cut 1 on the fold".
    pub lines: Vec<String>,
}

/// One piece of the drawing, kept together and turned as one.
#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    /// Its stable name, such as `front`.
    pub id: String,
    /// The name a person reads, such as "Front".
    pub title: String,
    /// What is drawn; later items lie over earlier ones of the same layer.
    pub items: Vec<Item>,
    /// How the panel may be turned to save paper.
    pub turns: Turns,
}

/// How a panel may be turned on paper.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Turns {
    /// By any number of quarter turns.
    #[default]
    Any,
    /// Upright or upside down.
    Half,
    /// Not at all.
    None,
}

impl Turns {
    /// The quarter turns that are allowed, fewest first.
    pub const fn quarters(self) -> &'static [u8] {
        match self {
            Self::Any => &[0, 1, 2, 3],
            Self::Half => &[0, 2],
            Self::None => &[0],
        }
    }
}

/// One thing drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Item {
    /// The layer it belongs to.
    pub layer: Layer,
    /// Its name, such as that of an edge.
    pub id: Option<String>,
    /// What is drawn.
    pub shape: Shape,
}

/// A path or words.
#[derive(Clone, Debug, PartialEq)]
pub enum Shape {
    /// A path, drawn with a line, filled, or both.
    Path {
        /// Where it runs, mm.
        path: BezPath,
        /// The line along it, if any.
        line: Option<Line>,
        /// The colour inside it, if any.
        fill: Option<Colour>,
    },
    /// A line of words.
    Text(Words),
}

/// A line of words.
#[derive(Clone, Debug, PartialEq)]
pub struct Words {
    /// The point on the base line to which the anchor holds.
    pub at: Point,
    /// Height of the font's em, mm; capitals are seven tenths of it.
    pub size_mm: f64,
    /// Turn about `at`, clockwise as seen on the paper, degrees.
    pub turn_degrees: f64,
    /// Which part of the words stands at `at`.
    pub anchor: Anchor,
    /// How heavy they are.
    pub weight: Weight,
    /// Their colour.
    pub colour: Colour,
    /// The words themselves, on one line.
    pub text: String,
}

/// Which part of a line of words stands at its point.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Anchor {
    /// The beginning.
    #[default]
    Start,
    /// The middle.
    Middle,
    /// The end.
    End,
}

/// How a path is drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct Line {
    /// Width, mm.
    pub width_mm: f64,
    /// Lengths of dashes and gaps in turn, mm; empty for an unbroken line.
    pub dash: Vec<f64>,
    /// Colour.
    pub colour: Colour,
}

/// A colour of the screen: red, green, blue.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Colour(pub u8, pub u8, pub u8);

impl Colour {
    /// Near-black, for everything that is read or cut by.
    pub const INK: Self = Self(26, 26, 26);
    /// Dark grey, 7:1 against white: for what is read but is no part of the pattern.
    pub const QUIET: Self = Self(89, 89, 89);
    /// Middle grey, for lines that help.
    pub const HELP: Self = Self(140, 140, 140);
    /// Pale grey, for areas behind lines.
    pub const PALE: Self = Self(234, 234, 234);
    /// White.
    pub const WHITE: Self = Self(255, 255, 255);
    /// Off-white, as paper is, behind drawings on a screen.
    pub const PAPER: Self = Self(253, 252, 248);
    /// Chalk blue, 7:1 against white: for what must be told from ink, never by its colour alone.
    pub const CHALK: Self = Self(31, 78, 140);
}

impl Line {
    /// An unbroken line in ink.
    pub const fn solid(width_mm: f64) -> Self {
        Self {
            width_mm,
            dash: Vec::new(),
            colour: Colour::INK,
        }
    }

    /// A dashed line in ink; `dash` as [`Line::dash`].
    pub fn dashed(width_mm: f64, dash: &[f64]) -> Self {
        Self {
            dash: dash.to_vec(),
            ..Self::solid(width_mm)
        }
    }

    /// The line along which cloth is cut: solid, 0.5 mm.
    pub const fn cutting() -> Self {
        Self::solid(0.5)
    }

    /// The line along which cloth is sewn: dashed, 0.3 mm.
    pub fn seam() -> Self {
        Self::dashed(0.3, &[4.0, 2.0])
    }

    /// A thin line for grain, notches and other marks: 0.35 mm.
    pub const fn mark() -> Self {
        Self::solid(0.35)
    }

    /// The same line in another colour.
    pub const fn coloured(mut self, colour: Colour) -> Self {
        self.colour = colour;
        self
    }
}

impl Words {
    /// Upright words in ink that begin at `at`.
    pub fn new(at: Point, size_mm: f64, text: impl Into<String>) -> Self {
        Self {
            at,
            size_mm,
            turn_degrees: 0.0,
            anchor: Anchor::Start,
            weight: Weight::Regular,
            colour: Colour::INK,
            text: text.into(),
        }
    }

    /// The same words in bold.
    pub const fn bold(mut self) -> Self {
        self.weight = Weight::Bold;
        self
    }

    /// The same words held at another part of them.
    pub const fn anchored(mut self, anchor: Anchor) -> Self {
        self.anchor = anchor;
        self
    }

    /// The same words turned clockwise about their point.
    pub const fn turned(mut self, degrees: f64) -> Self {
        self.turn_degrees = degrees;
        self
    }

    /// The same words in another colour.
    pub const fn coloured(mut self, colour: Colour) -> Self {
        self.colour = colour;
        self
    }

    /// Their width, mm.
    pub fn width(&self) -> f64 {
        font::text_width(&self.text, self.size_mm, self.weight)
    }

    /// How far the words begin before `at`, along their own direction, mm.
    pub(crate) fn lead(&self) -> f64 {
        match self.anchor {
            Anchor::Start => 0.0,
            Anchor::Middle => self.width() / 2.0,
            Anchor::End => self.width(),
        }
    }

    /// From the words' own axes, x along them and y down, to the drawing.
    pub(crate) fn place(&self) -> Affine {
        let turn = Angle::from_degrees(self.turn_degrees);
        let (sin, cos) = (turn.sin(), turn.cos());
        Affine::new([cos, sin, -sin, cos, self.at.x, self.at.y])
    }

    /// The box that holds them, mm.
    pub(crate) fn bounds(&self) -> Rect {
        let lead = self.lead();
        let upright = Rect::new(
            -lead,
            -self.size_mm * font::ASCENT,
            self.width() - lead,
            self.size_mm * font::DESCENT,
        );
        self.place().transform_rect_bbox(upright)
    }
}

impl Item {
    /// A path drawn with a line.
    pub fn path(layer: Layer, path: BezPath, line: Line) -> Self {
        Self {
            layer,
            id: None,
            shape: Shape::Path {
                path,
                line: Some(line),
                fill: None,
            },
        }
    }

    /// A path filled with a colour.
    pub fn filled(layer: Layer, path: BezPath, colour: Colour) -> Self {
        Self {
            layer,
            id: None,
            shape: Shape::Path {
                path,
                line: None,
                fill: Some(colour),
            },
        }
    }

    /// Words on the layer of words.
    pub fn text(words: Words) -> Self {
        Self::words(Layer::Text, words)
    }

    /// Words on any layer.
    pub const fn words(layer: Layer, words: Words) -> Self {
        Self {
            layer,
            id: None,
            shape: Shape::Text(words),
        }
    }

    /// The same item with a name.
    pub fn named(mut self, id: impl Into<String>) -> Self {
        self.id = Some(id.into());
        self
    }

    /// The box that holds all ink of the item, mm; `None` where it has none.
    pub fn bounds(&self) -> Option<Rect> {
        match &self.shape {
            Shape::Text(words) => (!words.text.is_empty()).then(|| words.bounds()),
            Shape::Path { path, line, .. } => {
                let reach = line.as_ref().map_or(0.0, |line| line.width_mm / 2.0);
                (!path.elements().is_empty()).then(|| path.bounding_box().inflate(reach, reach))
            }
        }
    }
}

impl Panel {
    /// The box that holds all ink of the panel, mm; `None` where it has none.
    pub fn bounds(&self) -> Option<Rect> {
        self.items
            .iter()
            .filter_map(Item::bounds)
            .reduce(|all, one| all.union(one))
    }
}

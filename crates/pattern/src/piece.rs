//! A piece of a pattern: named edges round it, darts between their runs, marks, grain and how it is cut.
//!
//! Invariants: edges follow each other clockwise on the table (y down) and share their corners exactly; an edge with n
//! darts has n + 1 runs, and the dart at gap k opens between run k and run k + 1. Edges and darts are found by name.

use document::Span;
use geometry::allowance::Corner;
use geometry::{Angle, Curve, Point, Vec2, curve};

use crate::name::{self, Part};

/// What an edge is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum EdgeKind {
    /// Sewn to another edge.
    Seam,
    /// Laid on the fold of the cloth; never cut.
    Fold,
    /// Turned up or faced.
    Hem,
    /// Closed by a zip, buttons or hooks, in part or over its whole length.
    Opening,
    /// Finished on its own: bound, faced or left raw.
    Finished,
}

impl EdgeKind {
    /// The word for it in files: `seam`, `fold`, `hem`, `opening`, `finished`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Seam => "seam",
            Self::Fold => "fold",
            Self::Hem => "hem",
            Self::Opening => "opening",
            Self::Finished => "finished",
        }
    }
}

/// A named stretch of the outline between two corners.
#[derive(Clone, Debug, PartialEq)]
pub struct Edge {
    /// Name, unique in its piece; parts of an edge that was cut are called `side/upper`, `side/lower`.
    pub name: String,
    /// What it is for.
    pub kind: EdgeKind,
    /// Seam line between the darts, in order.
    pub runs: Vec<Curve>,
    /// Cloth outside the seam line, mm.
    pub allowance: f64,
    /// How its allowance and the next edge's meet at the corner where it ends.
    pub corner: Corner,
    /// Which stretch of the edge of its root name it is.
    pub part: Part,
}

impl Edge {
    /// An edge without darts and without allowance.
    pub fn new(name: impl Into<String>, kind: EdgeKind, run: Curve) -> Self {
        Self {
            name: name.into(),
            kind,
            runs: vec![run],
            allowance: 0.0,
            corner: Corner::Mitre,
            part: Part::WHOLE,
        }
    }

    /// Length as sewn, darts closed, mm.
    pub fn length(&self) -> f64 {
        self.runs.iter().map(Curve::length).sum()
    }

    /// First corner.
    pub fn start(&self) -> Point {
        self.runs[0].start()
    }

    /// Last corner.
    pub fn end(&self) -> Point {
        self.runs[self.runs.len() - 1].end()
    }

    /// Unit direction in which the edge leaves its first corner.
    pub fn start_direction(&self) -> Vec2 {
        self.runs[0].start_direction()
    }

    /// Unit direction in which the edge arrives at its last corner.
    pub fn end_direction(&self) -> Vec2 {
        self.runs[self.runs.len() - 1].end_direction()
    }

    /// The point and direction at a length as sewn from the first corner.
    pub fn place_at(&self, along: f64) -> (Point, Vec2) {
        let mut rest = along.max(0.0);
        for (index, run) in self.runs.iter().enumerate() {
            let length = run.length();
            if rest <= length || index + 1 == self.runs.len() {
                return (run.point_at(rest), run.direction_at(rest));
            }
            rest -= length;
        }
        (self.end(), self.end_direction())
    }

    /// Whether a later instruction that names `name` means this edge or a part of it.
    pub fn answers_to(&self, name: &str) -> bool {
        name::answers_to(&self.name, name)
    }
}

/// To which side the cloth of a dart is pressed, seen along its edge clockwise.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pressed {
    /// Over the run before the dart.
    Before,
    /// Over the run after the dart.
    After,
}

/// A folded wedge that is sewn away.
#[derive(Clone, Debug, PartialEq)]
pub struct Dart {
    /// Name, unique in its piece.
    pub name: String,
    /// Edge at which its mouth opens.
    pub edge: String,
    /// Number of the run before it in that edge, from 0.
    pub gap: usize,
    /// Where the stitching ends.
    pub point: Point,
    /// The point of the body at which it aims, beyond its own point; where it turns when it is transferred.
    pub aim: Point,
    /// To which side it is pressed.
    pub pressed: Pressed,
}

/// The two edges of a dart.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Legs {
    /// Where the stitching ends.
    pub point: Point,
    /// Mouth at the end of the run before.
    pub before: Point,
    /// Mouth at the start of the run after.
    pub after: Point,
}

impl Legs {
    /// Width at the mouth, mm.
    pub fn intake(&self) -> f64 {
        (self.after - self.before).hypot()
    }

    /// Lengths of the leg before and of the leg after, mm.
    pub fn lengths(&self) -> [f64; 2] {
        [
            (self.before - self.point).hypot(),
            (self.after - self.point).hypot(),
        ]
    }

    /// Signed angle at the point from the leg before to the leg after; negative for a dart that opens outward, since
    /// outlines run clockwise.
    pub fn turn(&self) -> Angle {
        curve::angle_between(self.before - self.point, self.after - self.point)
    }

    /// Angle that the dart takes away at its point.
    pub fn angle(&self) -> Angle {
        Angle::from_radians(self.turn().radians().abs())
    }
}

/// A mark on a piece.
#[derive(Clone, Debug, PartialEq)]
pub enum Mark {
    /// Small cuts on an edge, square to it, at a length as sewn from the edge's first corner.
    Notch {
        /// Name, the same on the edge that it meets.
        name: String,
        /// Edge that carries it.
        edge: String,
        /// Length as sewn from the edge's first corner, mm.
        along: f64,
        /// How many strokes: one at the front, two at the back, by common practice.
        strokes: u8,
    },
    /// A mark inside the piece, such as the bust point.
    Point {
        /// What it marks.
        name: String,
        /// Where.
        at: Point,
    },
}

/// A line inside a piece, interrupted where darts cross it: bust line, hip line, elbow line.
#[derive(Clone, Debug, PartialEq)]
pub struct InnerLine {
    /// Name: `bust`, `hip`, `elbow`, …
    pub name: String,
    /// Its runs in order from the centre line outwards.
    pub runs: Vec<Curve>,
}

impl InnerLine {
    /// Length with the darts that cross it closed, mm.
    pub fn length(&self) -> f64 {
        self.runs.iter().map(Curve::length).sum()
    }
}

/// Which cloth a piece is cut from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Layer {
    /// The outside of the garment.
    Shell,
    /// The inside that is seen.
    Lining,
    /// The layer behind an edge.
    Facing,
    /// The stiffening layer.
    Interfacing,
}

impl Layer {
    /// All layers, from the outside inwards.
    pub const ALL: [Self; 4] = [Self::Shell, Self::Lining, Self::Facing, Self::Interfacing];

    /// The word for it: `shell`, `lining`, `facing`, `interfacing`.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Shell => "shell",
            Self::Lining => "lining",
            Self::Facing => "facing",
            Self::Interfacing => "interfacing",
        }
    }
}

/// How a piece lies on the cloth.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Laid {
    /// One, with a named edge on the fold.
    OnFold(String),
    /// A left and a right one, mirror images.
    Pair,
    /// As it is drawn.
    Single,
}

/// From what and how often a piece is cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Cut {
    /// Which cloth.
    pub layer: Layer,
    /// How many pieces of cloth come of it: 1 on the fold, 2 of a pair.
    pub count: u32,
    /// How it lies.
    pub laid: Laid,
}

/// A pattern piece.
#[derive(Clone, Debug, PartialEq)]
pub struct Piece {
    /// Name: `front`, `back`, `sleeve`, `skirt-front`, …
    pub name: String,
    /// Edges clockwise round the piece.
    pub edges: Vec<Edge>,
    /// Darts, in the order of the edges and runs.
    pub darts: Vec<Dart>,
    /// Notches and points.
    pub marks: Vec<Mark>,
    /// Lines inside.
    pub lines: Vec<InnerLine>,
    /// Direction of the lengthwise grain, from the x direction towards y; 90° runs down the piece.
    pub grain: Angle,
    /// From what and how often it is cut.
    pub cut: Cut,
    /// Edges that are meant to meet the centre line off the square, such as a V neckline.
    pub peaked: Vec<String>,
    /// Where in the recipe it was asked for, for messages.
    pub asked: Option<Span>,
}

impl Piece {
    /// The edge of exactly this name.
    pub fn edge(&self, name: &str) -> Option<&Edge> {
        self.edges.iter().find(|edge| edge.name == name)
    }

    /// Number of the edge of exactly this name.
    pub fn edge_index(&self, name: &str) -> Option<usize> {
        self.edges.iter().position(|edge| edge.name == name)
    }

    /// The edge of this name or, where it was cut, its parts in the order in which the whole ran.
    pub fn edges_of<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a Edge> {
        let mut edges: Vec<&Edge> = match self.edge(name) {
            Some(edge) => vec![edge],
            None => self
                .edges
                .iter()
                .filter(|edge| edge.answers_to(name))
                .collect(),
        };
        edges.sort_by(|a, b| a.part.from.total_cmp(&b.part.from));
        edges.into_iter()
    }

    /// Whether an instruction that names a piece means this one or a part of that one.
    pub fn answers_to(&self, name: &str) -> bool {
        name::answers_to(&self.name, name)
    }

    /// The corners in order, each with its name from the edges that meet there: `armhole+side`.
    pub fn corners(&self) -> impl Iterator<Item = (String, Point)> + '_ {
        let before = self.edges.iter();
        let after = self.edges.iter().cycle().skip(1);
        before
            .zip(after)
            .map(|(before, after)| (name::corner(&before.name, &after.name), before.end()))
    }

    /// The dart of exactly this name.
    pub fn dart(&self, name: &str) -> Option<&Dart> {
        self.darts.iter().find(|dart| dart.name == name)
    }

    /// The darts that open at an edge, in order.
    pub fn darts_on<'a>(&'a self, edge: &'a str) -> impl Iterator<Item = &'a Dart> {
        self.darts.iter().filter(move |dart| dart.edge == edge)
    }

    /// The two edges of a dart of this piece.
    pub fn legs(&self, dart: &Dart) -> Legs {
        let edge = self
            .edge(&dart.edge)
            .expect("a dart names an edge of its own piece");
        Legs {
            point: dart.point,
            before: edge.runs[dart.gap].end(),
            after: edge.runs[dart.gap + 1].start(),
        }
    }

    /// The line inside of this name.
    pub fn line(&self, name: &str) -> Option<&InnerLine> {
        self.lines.iter().find(|line| line.name == name)
    }

    /// The marked point of this name.
    pub fn point(&self, name: &str) -> Option<Point> {
        self.marks.iter().find_map(|mark| match mark {
            Mark::Point { name: found, at } if found == name => Some(*at),
            _ => None,
        })
    }

    /// Name for a person: `skirt-front` becomes `Skirt front`, `front/side` becomes `Front side`.
    pub fn title(&self) -> String {
        let mut title = self.name.replace(['-', '/'], " ");
        if let Some(first) = title.get_mut(0..1) {
            first.make_ascii_uppercase();
        }
        title
    }

    /// How many halves of the body its drawing stands for: 2 where the drawn half is cut twice or on the fold.
    pub fn halves(&self) -> f64 {
        match self.cut.laid {
            Laid::OnFold(_) | Laid::Pair => 2.0,
            Laid::Single => 1.0,
        }
    }
}

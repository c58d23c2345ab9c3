//! A place on a pattern as a person says it, and where that is.
//!
//! A place is a piece and an edge and where on it, a corner, or a point; it is resolved over edges and pieces that were
//! cut since. Knows no text. Invariant: a place that is found lies on the outline or is a named point; lengths are as sewn.

use document::{Finding, Place as Spot};
use geometry::{Point, Tolerance, Vec2, curve};

use super::find;
use crate::name::answers_to;
use crate::piece::{Edge, Mark, Piece};
use crate::seam::Pattern;

/// How near two points must be to be the same point of a pattern, mm.
pub const SAME_POINT: f64 = 0.01;

/// A place as a person says it.
#[derive(Clone, Debug, PartialEq)]
pub struct Place {
    /// Name of the piece, or of one that was cut since.
    pub piece: String,
    /// Where on it.
    pub on: On,
}

/// On what of a piece a place is.
#[derive(Clone, Debug, PartialEq)]
pub enum On {
    /// On an edge.
    Edge {
        /// Name of the edge, or of one that was cut since.
        edge: String,
        /// Where along it.
        at: Along,
    },
    /// At the corner where two edges meet, in either order.
    Corner(String, String),
    /// At a marked point, or at the point of a dart.
    Point(String),
}

/// Where along an edge a place is; lengths as sewn, mm.
#[derive(Clone, Debug, PartialEq)]
pub enum Along {
    /// So far from its first corner, clockwise round the piece.
    FromStart(f64),
    /// So far from its last corner.
    FromEnd(f64),
    /// So far from the corner where it meets another edge.
    FromEdge(String, f64),
    /// At a share of its length from its first corner.
    Share(f64),
    /// Where the middle line of a dart, prolonged beyond its point, meets it.
    DartLine(String),
    /// Straight up or down (along the grain) from a named point.
    AlongGrain(String),
    /// Straight across the grain from a named point.
    AcrossGrain(String),
    /// At the notch of this name.
    Notch(String),
}

impl Place {
    /// A place on an edge.
    pub fn on_edge(piece: &str, edge: &str, at: Along) -> Self {
        let edge = edge.into();
        Self {
            piece: piece.into(),
            on: On::Edge { edge, at },
        }
    }

    /// A corner.
    pub fn corner(piece: &str, one: &str, other: &str) -> Self {
        Self {
            piece: piece.into(),
            on: On::Corner(one.into(), other.into()),
        }
    }

    /// A named point.
    pub fn point(piece: &str, name: &str) -> Self {
        Self {
            piece: piece.into(),
            on: On::Point(name.into()),
        }
    }

    /// The place in words: `front.side 90 mm from its start`.
    pub fn words(&self) -> String {
        match &self.on {
            On::Edge { edge, at } => format!("the {edge} of the {} {}", self.piece, at.words()),
            On::Corner(one, other) => {
                format!("the corner of the {} between {one} and {other}", self.piece)
            }
            On::Point(name) => format!("the {name} of the {}", self.piece),
        }
    }
}

impl Along {
    fn words(&self) -> String {
        match self {
            Self::FromStart(mm) => format!("{mm:.0} mm from its start"),
            Self::FromEnd(mm) => format!("{mm:.0} mm from its end"),
            Self::FromEdge(edge, mm) => format!("{mm:.0} mm from the {edge}"),
            Self::Share(share) => format!("at {:.0} % of its length", share * 100.0),
            Self::DartLine(dart) => format!("on the line of the {dart}"),
            Self::AlongGrain(point) => format!("along the grain from the {point}"),
            Self::AcrossGrain(point) => format!("across the grain from the {point}"),
            Self::Notch(name) => format!("at the notch {name}"),
        }
    }
}

/// A place on the outline of a piece.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Seat {
    /// Number of the piece in its pattern.
    pub piece: usize,
    /// Number of the edge in its piece.
    pub edge: usize,
    /// Length as sewn from the edge's first corner, mm.
    pub along: f64,
}

/// A place that was found.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Found {
    /// Number of the piece in its pattern.
    pub piece: usize,
    /// Where it is.
    pub at: Point,
    /// On which edge, unless it is a point inside.
    pub seat: Option<Seat>,
}

/// Finds a place.
pub fn find(pattern: &Pattern, place: &Place) -> Result<Found, Finding> {
    match &place.on {
        On::Edge { edge, at } => seat_on(pattern, place, edge, at).map(|seat| found(pattern, seat)),
        On::Corner(one, other) => corner(pattern, &place.piece, one, other),
        On::Point(name) => point(pattern, &place.piece, name),
    }
}

/// Finds a place that must be on the outline.
pub fn seat(pattern: &Pattern, place: &Place) -> Result<Seat, Finding> {
    find(pattern, place)?.seat.ok_or_else(|| {
        Finding::error(
            "place-not-on-edge",
            format!("{} does not lie on an edge", place.words()),
        )
        .at(Spot::Piece(place.piece.clone()))
        .allowed("a place on an edge, or a corner")
        .cure("name an edge and where on it")
    })
}

fn found(pattern: &Pattern, seat: Seat) -> Found {
    Found {
        piece: seat.piece,
        at: pattern.pieces[seat.piece].edges[seat.edge]
            .place_at(seat.along)
            .0,
        seat: Some(seat),
    }
}

fn seat_on(pattern: &Pattern, place: &Place, edge: &str, at: &Along) -> Result<Seat, Finding> {
    let edges = find::edges(pattern, &place.piece, edge)?;
    let whole: f64 = edges
        .iter()
        .map(|&seat| edge_at(pattern, seat).length())
        .sum();
    let along = match at {
        Along::FromStart(mm) => *mm,
        Along::FromEnd(mm) => whole - mm,
        Along::Share(share) => whole * share,
        Along::FromEdge(other, mm) => {
            if begins_at(pattern, edges[0], other) {
                *mm
            } else if ends_at(pattern, edges[edges.len() - 1], other) {
                whole - mm
            } else {
                return Err(no_corner(pattern, &place.piece, edge, other));
            }
        }
        Along::DartLine(_) | Along::AlongGrain(_) | Along::AcrossGrain(_) => {
            return crossed(pattern, place, edge, &edges, at);
        }
        Along::Notch(name) => return notch(pattern, place, edge, &edges, name),
    };
    walk(pattern, &edges, along).ok_or_else(|| beyond(place, edge, whole))
}

/// The part on which a length along the whole lies.
fn walk(pattern: &Pattern, edges: &[(usize, usize)], along: f64) -> Option<Seat> {
    // A length typed to the tenth of a millimetre may miss the corner by rounding.
    const ROUNDING: f64 = 0.05;
    let mut rest = along;
    for (index, &(piece, edge)) in edges.iter().enumerate() {
        let length = edge_at(pattern, (piece, edge)).length();
        let last = index + 1 == edges.len();
        if rest >= -ROUNDING && (rest < length || last && rest <= length + ROUNDING) {
            let along = rest.clamp(0.0, length);
            return Some(Seat { piece, edge, along });
        }
        rest -= length;
    }
    None
}

fn edge_at(pattern: &Pattern, (piece, edge): (usize, usize)) -> &Edge {
    &pattern.pieces[piece].edges[edge]
}

fn begins_at(pattern: &Pattern, (piece, edge): (usize, usize), other: &str) -> bool {
    let edges = &pattern.pieces[piece].edges;
    answers_to(&edges[(edge + edges.len() - 1) % edges.len()].name, other)
}

fn ends_at(pattern: &Pattern, (piece, edge): (usize, usize), other: &str) -> bool {
    let edges = &pattern.pieces[piece].edges;
    answers_to(&edges[(edge + 1) % edges.len()].name, other)
}

/// The nearest place, along an edge, at which a line from a point meets it.
fn crossed(
    pattern: &Pattern,
    place: &Place,
    edge: &str,
    edges: &[(usize, usize)],
    at: &Along,
) -> Result<Seat, Finding> {
    let mut best: Option<(f64, Seat)> = None;
    for &(piece, index) in edges {
        let owner = &pattern.pieces[piece];
        let (from, way) = ray(pattern, &place.piece, owner, at)?;
        let mut before = 0.0;
        for run in &owner.edges[index].runs {
            for crossing in run.crossings_with_line(from, way, Tolerance::PATTERN) {
                // A dart's line is followed beyond its point, away from its mouth; lines along the grain go both ways.
                let ahead = crossing.other_along > 0.0 || !matches!(at, Along::DartLine(_));
                let far = crossing.other_along.abs();
                if ahead && best.is_none_or(|(nearest, _)| far < nearest) {
                    let along = before + crossing.along;
                    best = Some((
                        far,
                        Seat {
                            piece,
                            edge: index,
                            along,
                        },
                    ));
                }
            }
            before += run.length();
        }
    }
    best.map(|(_, seat)| seat)
        .ok_or_else(|| missed(place, edge, at))
}

/// From where and which way a line is drawn to an edge.
fn ray(pattern: &Pattern, name: &str, owner: &Piece, at: &Along) -> Result<(Point, Vec2), Finding> {
    let along_grain = curve::turn_about(Point::ORIGIN, owner.grain) * Point::new(1.0, 0.0);
    let along_grain = along_grain.to_vec2();
    match at {
        Along::DartLine(dart) => {
            let named = super::super::arguments::Named::of(name, dart);
            let (piece, dart) = find::dart(pattern, &named)?;
            let legs = pattern.pieces[piece].legs(dart);
            Ok((dart.point, axis(&legs)))
        }
        Along::AcrossGrain(named) => {
            let from = point(pattern, name, named)?.at;
            Ok((from, Vec2::new(-along_grain.y, along_grain.x)))
        }
        Along::AlongGrain(named) => Ok((point(pattern, name, named)?.at, along_grain)),
        _ => Ok((Point::ORIGIN, along_grain)),
    }
}

/// Unit direction of a dart's middle line, from its mouth to its point; along the grain for a dart without length.
pub fn axis(legs: &crate::piece::Legs) -> Vec2 {
    let [before, after] = [legs.before, legs.after].map(|mouth| legs.point - mouth);
    let way = before + after;
    if way.hypot() < 1e-9 {
        Vec2::new(0.0, 1.0)
    } else {
        way / way.hypot()
    }
}

fn notch(
    pattern: &Pattern,
    place: &Place,
    edge: &str,
    edges: &[(usize, usize)],
    wanted: &str,
) -> Result<Seat, Finding> {
    let mut names = Vec::new();
    for &(piece, index) in edges {
        let owner = &pattern.pieces[piece];
        for mark in &owner.marks {
            if let Mark::Notch {
                name, edge, along, ..
            } = mark
                && *edge == owner.edges[index].name
            {
                if name == wanted {
                    return Ok(Seat {
                        piece,
                        edge: index,
                        along: *along,
                    });
                }
                names.push(name.as_str());
            }
        }
    }
    let message = format!(
        "the {edge} of the {} has no notch called {wanted}",
        place.piece
    );
    Err(find::not_there("notch-not-there", message, wanted, &names)
        .at(Spot::Piece(place.piece.clone())))
}

fn corner(pattern: &Pattern, name: &str, one: &str, other: &str) -> Result<Found, Finding> {
    for piece in find::piece_indices(pattern, name)? {
        let edges = &pattern.pieces[piece].edges;
        for (edge, this) in edges.iter().enumerate() {
            let next = &edges[(edge + 1) % edges.len()].name;
            let meets = answers_to(&this.name, one) && answers_to(next, other)
                || answers_to(&this.name, other) && answers_to(next, one);
            if meets {
                let along = this.length();
                return Ok(found(pattern, Seat { piece, edge, along }));
            }
        }
    }
    Err(no_corner(pattern, name, one, other))
}

fn point(pattern: &Pattern, name: &str, wanted: &str) -> Result<Found, Finding> {
    let pieces = find::piece_indices(pattern, name)?;
    let at = pieces.iter().find_map(|&piece| {
        let owner = &pattern.pieces[piece];
        let at = owner
            .point(wanted)
            .or_else(|| owner.dart(wanted).map(|dart| dart.point))?;
        Some(Found {
            piece,
            at,
            seat: None,
        })
    });
    at.ok_or_else(|| {
        let owners = pieces.iter().map(|&piece| &pattern.pieces[piece]);
        let names: Vec<&str> = owners.flat_map(point_names).collect();
        let message = format!("the {name} has no point or dart called {wanted}");
        find::not_there("point-not-there", message, wanted, &names).at(Spot::Piece(name.into()))
    })
}

fn point_names(piece: &Piece) -> impl Iterator<Item = &str> {
    let marked = piece.marks.iter().filter_map(|mark| match mark {
        Mark::Point { name, .. } => Some(name.as_str()),
        Mark::Notch { .. } => None,
    });
    marked.chain(piece.darts.iter().map(|dart| dart.name.as_str()))
}

fn no_corner(pattern: &Pattern, piece: &str, one: &str, other: &str) -> Finding {
    let corners: Vec<String> = pattern
        .pieces_of(piece)
        .flat_map(|piece| piece.corners().map(|(name, _)| name).collect::<Vec<_>>())
        .collect();
    Finding::error(
        "corner-not-there",
        format!("the {one} and the {other} of the {piece} do not meet at a corner"),
    )
    .at(Spot::Piece(piece.into()))
    .allowed(format!("one of: {}", corners.join(", ")))
    .cure("name two edges that follow each other")
}

fn beyond(place: &Place, edge: &str, whole: f64) -> Finding {
    Finding::error(
        "place-beyond-edge",
        format!("{} lies beyond it: it is {whole:.1} mm long", place.words()),
    )
    .at(Spot::Edge {
        piece: place.piece.clone(),
        edge: edge.into(),
        at: None,
    })
    .allowed(format!("from 0 to {whole:.1} mm"))
    .cure("choose a place on the edge")
}

fn missed(place: &Place, edge: &str, at: &Along) -> Finding {
    Finding::error(
        "line-misses-edge",
        format!(
            "the line {} does not meet the {edge} of the {}",
            at.words(),
            place.piece
        ),
    )
    .at(Spot::Edge {
        piece: place.piece.clone(),
        edge: edge.into(),
        at: None,
    })
    .cure("say the place as a length along the edge, or choose another edge")
}

//! Cuts a piece in two along a style line, through darts or not; a seam joins the parts.
//!
//! **What it does.** Draws a line from a place on the outline, or from a dart, through points or with a bow, to another place
//! or dart, and divides the piece there. A dart at an end of the line is absorbed: each part gets one of its legs, and the new
//! seam runs smoothly past the dart's point. The parts are called after the piece, `front/centre` and `front/side`, parts of
//! edges after the edges; whoever names the whole finds both.
//! Above and below the points of its darts the seam takes in just what they took in.
//! **When it is used.** Princess lines from the shoulder or the armhole over the bust to the waist; gores; yokes; panels.
//! **Example.** `cut from="front.bust-dart" through="front.bust-point" to="front.waist-dart" seam="princess"`, once the bust
//! dart lies in the shoulder.
//! **What can go wrong.** The line crosses a dart or leaves the piece; it begins and ends at the same place.
//!
//! Invariants: areas add up where no dart is absorbed; parts of an edge are as long as the edge; both sides of the new seam
//! have one length, and notches at its points meet.

use document::{Finding, Place as Where};
use geometry::{Point, Vec2, curve, outline};

use super::arguments::Arguments;
use super::kind::{Done, Group, Kind, Parameter, StepKind, Trace, TraceLine, Usual};
use super::kit::divide::{self, Division, End};
use super::kit::place::{SAME_POINT, find};
use super::kit::style_line::{self, Drawn, StyleLine};
use super::kit::{On, corner, notches, reshape};
use crate::check::SQUARE_LIMIT;
use crate::name::free_name;
use crate::piece::{Edge, EdgeKind, Piece};
use crate::seam::Pattern;

pub(super) const STEP: StepKind = StepKind {
    name: "cut",
    group: Group::Line,
    summary: "cuts a piece in two along a style line, through darts or not",
    manual: include_str!("cut.rs"),
    parameters: &[
        Parameter::needed(
            "from",
            Kind::Place,
            "place, or point of a dart, where the line begins",
        ),
        Parameter::needed(
            "to",
            Kind::Place,
            "place, or point of a dart, where it ends",
        ),
        Parameter::usually(
            "through",
            Kind::Place,
            Usual::Nothing,
            "points between, in order",
        )
        .many(),
        Parameter::usually(
            "bow",
            Kind::Length(-300.0, 300.0),
            Usual::Length(0.0),
            "how far it bows to the right on its way, where it runs through no points",
        ),
        Parameter::usually("seam", Kind::Text, Usual::Nothing, "name of the new seam"),
        Parameter::usually(
            "parts",
            Kind::Text,
            Usual::Nothing,
            "two words for the parts: at the centre and at the side, or above and below",
        )
        .many(),
        Parameter::usually(
            "notches",
            Kind::Flag,
            Usual::Flag(true),
            "whether the new seam is notched",
        ),
    ],
    amount: None,
    apply: cut,
};

fn cut(pattern: &Pattern, arguments: &Arguments) -> Result<Done, Finding> {
    let (index, from) = end(pattern, arguments, "from")?;
    let (other, to) = end(pattern, arguments, "to")?;
    if other != index {
        return Err(arguments.blame("to", other_piece(&pattern.pieces[index])));
    }
    let wish = StyleLine {
        ends: [from, to],
        through: through(pattern, arguments, index)?,
        bow: arguments.mm("bow")?,
    };
    let piece = &pattern.pieces[index];
    let drawn =
        style_line::draw(piece, &wish).map_err(|finding| arguments.blame("from", finding))?;
    let seam = seam_name(
        pattern,
        piece,
        arguments.word("seam").unwrap_or("style-line"),
    );
    let [from, to] = wish.ends.clone();
    let division = Division {
        piece: index,
        from,
        to,
        line: drawn.line.clone(),
        words: ["first".into(), "second".into()],
        seam,
    };
    let words = part_words(pattern, &division, arguments)?;
    let division = Division { words, ..division };
    let mut changed = pattern.clone();
    let parts = divide::divide(&mut changed, &division)
        .map_err(|finding| arguments.blame("from", finding))?;
    finish(&mut changed, piece, parts, &drawn);
    part_corners(&mut changed, pattern, &division);
    if arguments.is_set("notches") {
        put_notches(&mut changed, parts, &division.seam, &drawn);
    }
    Ok(Done {
        lines: lines(&changed, parts, &drawn),
        words: told(&changed, piece, parts, &division),
        pattern: changed,
    })
}

fn end(pattern: &Pattern, arguments: &Arguments, name: &str) -> Result<(usize, End), Finding> {
    let place = arguments.spot(name)?;
    if let On::Point(point) = &place.on {
        let named = super::Named::of(&place.piece, point);
        if let Ok((piece, dart)) = super::kit::find::dart(pattern, &named) {
            return Ok((piece, End::Dart(dart.name.clone())));
        }
    }
    let seat = arguments.seat(pattern, name)?;
    Ok((seat.piece, End::Edge(seat.edge, seat.along)))
}

fn through(pattern: &Pattern, arguments: &Arguments, index: usize) -> Result<Vec<Point>, Finding> {
    let places = arguments.spots("through").into_iter();
    places
        .map(|place| {
            let found =
                find(pattern, place).map_err(|finding| arguments.blame("through", finding))?;
            if found.piece == index {
                Ok(found.at)
            } else {
                Err(arguments.blame("through", other_piece(&pattern.pieces[index])))
            }
        })
        .collect()
}

/// The seam and its edges have one name, which nothing in the pattern has yet.
fn seam_name(pattern: &Pattern, piece: &Piece, wanted: &str) -> String {
    let seams = pattern.seams.iter().map(|seam| seam.name.as_str());
    let edges = piece.edges.iter().map(|edge| crate::name::root(&edge.name));
    free_name(wanted, seams.chain(edges))
}

/// Words for the part that lies clockwise after the beginning, and for the other.
fn part_words(
    pattern: &Pattern,
    division: &Division,
    arguments: &Arguments,
) -> Result<[String; 2], Finding> {
    let mut trial = pattern.clone();
    let parts =
        divide::divide(&mut trial, division).map_err(|finding| arguments.blame("from", finding))?;
    let [first, second] = parts.map(|part| &trial.pieces[part]);
    let (usual, swapped) = usual_words(first, second);
    let given: Vec<&super::Value> = arguments.all("parts").collect();
    let pair = match given[..] {
        [] => usual.map(String::from),
        [super::Value::Text(one), super::Value::Text(two)] if one != two => {
            [one.clone(), two.clone()]
        }
        _ => return Err(arguments.blame("parts", two_words(usual))),
    };
    let [one, two] = pair;
    Ok(if swapped { [two, one] } else { [one, two] })
}

/// Usual words for two parts, and whether the first word is meant for the second part.
fn usual_words(first: &Piece, second: &Piece) -> ([&'static str; 2], bool) {
    let centres = [first, second].map(holds_centre);
    if centres[0] != centres[1] {
        return (["centre", "side"], centres[1]);
    }
    let middles =
        [first, second].map(|piece| outline::centroid(&piece.seam_outline()).unwrap_or_default());
    let down = curve::unit(first.grain);
    let way = middles[1] - middles[0];
    let (along, out) = (way.dot(down), way.dot(Vec2::new(down.y, -down.x)));
    if along.abs() >= out.abs() {
        (["upper", "lower"], along < 0.0)
    } else {
        (["inner", "outer"], out < 0.0)
    }
}

fn holds_centre(piece: &Piece) -> bool {
    piece.edges.iter().any(is_centre)
}

fn is_centre(edge: &Edge) -> bool {
    edge.kind == EdgeKind::Fold || edge.answers_to("centre")
}

/// Gives the parts the sides of the line, and lets them know which of their edges are meant to be peaked.
fn finish(pattern: &mut Pattern, whole: &Piece, parts: [usize; 2], drawn: &Drawn) {
    let [first, second] = &drawn.sides;
    for (index, side) in parts.into_iter().zip([first.reversed(), second.clone()]) {
        let piece = &mut pattern.pieces[index];
        let edge = piece.edges.len() - 1;
        let old = &piece.edges[edge].runs[0];
        let side = side.with_ends(old.start(), old.end());
        reshape::put(piece, edge, vec![side]);
        let peaked = |name: &str| {
            whole
                .peaked
                .iter()
                .any(|whole| crate::name::answers_to(name, whole))
        };
        let off_square = is_off_square(piece, edge);
        piece.peaked = (0..piece.edges.len())
            .filter(|&index| peaked(&piece.edges[index].name) || index == edge && off_square)
            .map(|index| piece.edges[index].name.clone())
            .collect();
    }
}

/// What met at a corner where the line begins or ends lies in two parts now and runs on no longer.
fn part_corners(changed: &mut Pattern, pattern: &Pattern, division: &Division) {
    let piece = &pattern.pieces[division.piece];
    for end in [&division.from, &division.to] {
        let End::Edge(edge, along) = end else {
            continue;
        };
        let at_end = *along > SAME_POINT;
        if at_end && *along < piece.edges[*edge].length() - SAME_POINT {
            continue;
        }
        let tip = corner::Tip {
            piece: division.piece,
            edge: *edge,
            at_end,
        };
        for other in corner::meeting(pattern, tip) {
            changed.seams[other.seam].runs_on[usize::from(other.last)] = false;
        }
    }
}

/// Whether an edge meets a centre line aslant, as a straight line may that is meant to.
fn is_off_square(piece: &Piece, edge: usize) -> bool {
    [false, true].into_iter().any(|at_end| {
        let tip = corner::Tip {
            piece: 0,
            edge,
            at_end,
        };
        let beside = tip.beside(piece);
        is_centre(&piece.edges[beside])
            && (tip.angle_of(piece).degrees() - 90.0).abs() > SQUARE_LIMIT
    })
}

/// Notches where the seam runs through a point, or in its middle where it runs through none.
fn put_notches(pattern: &mut Pattern, parts: [usize; 2], seam: &str, drawn: &Drawn) {
    let length = drawn.sides[0].length();
    let middle = vec![length / 2.0];
    let knots = if drawn.knots.is_empty() {
        &middle
    } else {
        &drawn.knots
    };
    for (number, along) in knots.iter().enumerate() {
        let name = match number {
            0 => seam.to_string(),
            _ => format!("{seam}-{}", number + 1),
        };
        for (index, along) in parts.into_iter().zip([length - along, *along]) {
            let piece = &pattern.pieces[index];
            let names = (
                piece.name.clone(),
                piece.edges[piece.edges.len() - 1].name.clone(),
            );
            notches::put(pattern, (&names.0, &names.1), &name, along, 1);
        }
    }
}

fn lines(pattern: &Pattern, parts: [usize; 2], drawn: &Drawn) -> Vec<TraceLine> {
    let pairs = parts.into_iter().zip(&drawn.sides);
    pairs
        .map(|(part, side)| TraceLine::new(&pattern.pieces[part].name, Trace::Slash, side.clone()))
        .collect()
}

fn told(pattern: &Pattern, whole: &Piece, parts: [usize; 2], division: &Division) -> String {
    let [first, second] = parts.map(|part| pattern.pieces[part].name.as_str());
    let absorbed: Vec<String> = [&division.from, &division.to]
        .into_iter()
        .filter_map(|end| match end {
            End::Dart(name) => whole.dart(name),
            End::Edge(..) => None,
        })
        .map(|dart| {
            format!(
                "the {} ({:.1}°)",
                dart.name,
                whole.legs(dart).angle().degrees()
            )
        })
        .collect();
    let darts = if absorbed.is_empty() {
        String::new()
    } else {
        format!(", which absorbs {}", absorbed.join(" and "))
    };
    format!(
        "cut the {} into {first} and {second} along the {} seam{darts}",
        whole.name, division.seam
    )
}

fn other_piece(piece: &Piece) -> Finding {
    Finding::error(
        "place-on-other-piece",
        format!("the whole line must lie on the {}", piece.name),
    )
    .at(Where::Piece(piece.name.clone()))
    .cure(format!("choose places on the {}", piece.name))
}

fn two_words(usual: [&str; 2]) -> Finding {
    Finding::error("parts-need-two-words", "the parts need two different words")
        .allowed(format!("two words, such as {} and {}", usual[0], usual[1]))
        .cure("give both words, or none")
}

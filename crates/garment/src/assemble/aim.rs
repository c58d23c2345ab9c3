//! From the names and places of a recipe to values of a step on the pattern as it stands before that step.
//!
//! Knows no step. Invariant: what is not there is underlined where its name stands, with the nearest name that is there.

use document::{Finding, Place as Spot, Span};
use pattern::step::kit::{find, place};
use pattern::step::{Along, Arguments, Kind, Named, Place, Value};
use pattern::{Mark, Pattern, Piece};

use crate::recipe::{AskedValue, From, NameText, PlaceText, Step, Where, Written};

/// The values of a step on a pattern.
pub(super) fn arguments(pattern: &Pattern, step: &Step) -> Result<Arguments, Finding> {
    let mut arguments = Arguments {
        given: Vec::new(),
        span: Some(step.span.clone()),
    };
    for asked in &step.asked {
        let value = match &asked.value {
            AskedValue::Ready(value) => value.clone(),
            AskedValue::Place(text) => Value::Place(place_of(pattern, text)?),
            AskedValue::Name(text) => {
                let kind = step.kind.parameter(asked.name).map(|one| one.kind);
                Value::Named(named(pattern, text, kind)?)
            }
        };
        arguments = arguments.written(asked.name, value, Some(asked.span.clone()));
    }
    Ok(arguments)
}

/// Whether a piece has an edge, dart, line or point of this name, or had one that was cut.
pub(super) fn is_there(pattern: &Pattern, text: &NameText) -> bool {
    let Some(name) = &text.name else {
        return pattern.pieces_of(&text.piece.value).next().is_some();
    };
    let name = name.value.as_str();
    let mut owners = pattern.pieces_of(&text.piece.value);
    owners.any(|owner| {
        owner.edges_of(name).next().is_some()
            || points(owner).any(|point| point == name)
            || owner.line(name).is_some()
    })
}

/// A name, looked up as what its parameter takes.
fn named(pattern: &Pattern, text: &NameText, kind: Option<Kind>) -> Result<Named, Finding> {
    let piece = &text.piece;
    if kind == Some(Kind::Seam) {
        let named = Named::of("", &piece.value);
        return find::seam(pattern, &piece.value)
            .map(|_| named)
            .map_err(|finding| under(finding, &piece.span));
    }
    let owners = pieces(pattern, piece)?;
    let Some(name) = &text.name else {
        return Ok(Named::piece(&piece.value));
    };
    let word = match kind {
        Some(Kind::Dart) => dart_name(&owners, &name.value),
        _ => name.value.clone(),
    };
    let named = Named::of(&piece.value, word);
    let looked_up = match kind {
        Some(Kind::Edge) => find::edges(pattern, &piece.value, &name.value).map(|_| ()),
        Some(Kind::Dart) => find::dart(pattern, &named).map(|_| ()),
        _ => Ok(()),
    };
    looked_up
        .map(|()| named)
        .map_err(|finding| under(finding, &name.span))
}

/// A body may need two darts where another needs one: the name of the one is then that of the first of them, which is
/// nearest to the centre.
fn dart_name(owners: &[&Piece], name: &str) -> String {
    let is_there = |name: &str| owners.iter().any(|owner| owner.dart(name).is_some());
    let first = format!("{name}-1");
    if !is_there(name) && is_there(&first) {
        first
    } else {
        name.to_owned()
    }
}

/// The pieces that a name stands for.
fn pieces<'a>(pattern: &'a Pattern, name: &Written<String>) -> Result<Vec<&'a Piece>, Finding> {
    let found = find::piece_indices(pattern, &name.value);
    let found = found.map_err(|finding| under(finding, &name.span))?;
    Ok(found.into_iter().map(|at| &pattern.pieces[at]).collect())
}

/// A place, found on the pattern once so that a slip is shown at its own part.
fn place_of(pattern: &Pattern, text: &PlaceText) -> Result<Place, Finding> {
    let owners = pieces(pattern, &text.piece)?;
    let (found, span) = if text.at == Where::Itself {
        (itself(pattern, &owners, text)?, &text.name.span)
    } else {
        on_edge(pattern, &owners, text)?
    };
    place::find(pattern, &found)
        .map(|_| found)
        .map_err(|finding| under(finding, span))
}

/// A name without a where: a corner or a point.
fn itself(pattern: &Pattern, owners: &[&Piece], text: &PlaceText) -> Result<Place, Finding> {
    let (piece, name) = (&text.piece.value, &text.name);
    if let Some((one, other)) = name.value.split_once('+') {
        return Ok(Place::corner(piece, one, other));
    }
    let points: Vec<&str> = owners.iter().flat_map(|owner| points(owner)).collect();
    let word = dart_name(owners, &name.value);
    if points.contains(&word.as_str()) {
        return Ok(Place::point(piece, &word));
    }
    if find::edges(pattern, piece, &name.value).is_ok() {
        return Err(nowhere(text));
    }
    let edges = owners.iter().flat_map(|owner| edge_names(owner));
    let names: Vec<&str> = points.iter().copied().chain(edges).collect();
    let message = format!("the {piece} has no point or edge called {}", name.value);
    let finding = find::not_there("place-not-there", message, &name.value, &names);
    Err(under(finding, &name.span))
}

/// A place on an edge, and the part of the text to underline where it is not on it.
fn on_edge<'a>(
    pattern: &Pattern,
    owners: &[&Piece],
    text: &'a PlaceText,
) -> Result<(Place, &'a Span), Finding> {
    let (piece, edge) = (&text.piece.value, &text.name);
    find::edges(pattern, piece, &edge.value).map_err(|finding| under(finding, &edge.span))?;
    let (along, span) = match &text.at {
        Where::Itself => return Err(nowhere(text)),
        Where::Length(mm, From::Start) => (Along::FromStart(mm.value), &mm.span),
        Where::Length(mm, From::End) => (Along::FromEnd(mm.value), &mm.span),
        Where::Length(mm, From::Edge(other)) => {
            corner(pattern, text, other)?;
            (Along::FromEdge(other.value.clone(), mm.value), &mm.span)
        }
        Where::Share(share, from) => (share_from(pattern, text, share.value, from)?, &share.span),
        Where::Name(name) => (beside(pattern, owners, text, name)?, &name.span),
        Where::Notch(name) => (Along::Notch(name.value.clone()), &name.span),
        Where::Plumb(name) => (Along::AlongGrain(own(text, name)?.into()), &name.span),
        Where::Level(name) => (Along::AcrossGrain(own(text, name)?.into()), &name.span),
    };
    Ok((Place::on_edge(piece, &edge.value, along), span))
}

/// The corner of the edge of a place with another edge.
fn corner(
    pattern: &Pattern,
    text: &PlaceText,
    other: &Written<String>,
) -> Result<place::Found, Finding> {
    let along = Along::FromEdge(other.value.clone(), 0.0);
    let at = Place::on_edge(&text.piece.value, &text.name.value, along);
    place::find(pattern, &at).map_err(|finding| under(finding, &other.span))
}

fn share_from(
    pattern: &Pattern,
    text: &PlaceText,
    share: f64,
    from: &From,
) -> Result<Along, Finding> {
    let at_start = match from {
        From::Start => true,
        From::End => false,
        From::Edge(other) => {
            let start = Along::FromStart(0.0);
            let start = Place::on_edge(&text.piece.value, &text.name.value, start);
            let start =
                place::find(pattern, &start).map_err(|finding| under(finding, &other.span))?;
            let corner = corner(pattern, text, other)?;
            (corner.at - start.at).hypot() < place::SAME_POINT
        }
    };
    Ok(Along::Share(if at_start { share } else { 1.0 - share }))
}

/// What stands behind “at”: a dart, an edge at a corner, or a notch.
fn beside(
    pattern: &Pattern,
    owners: &[&Piece],
    text: &PlaceText,
    name: &Written<String>,
) -> Result<Along, Finding> {
    let word = own(text, name)?;
    let darts = || {
        owners
            .iter()
            .flat_map(|owner| &owner.darts)
            .map(|dart| dart.name.as_str())
    };
    let dart = dart_name(owners, word);
    if darts().any(|one| one == dart) {
        return Ok(Along::DartLine(dart));
    }
    if find::edges(pattern, &text.piece.value, word).is_ok() {
        return Ok(Along::FromEdge(word.into(), 0.0));
    }
    let edge = &text.name.value;
    let notches = || owners.iter().flat_map(|owner| notches(owner, edge));
    if notches().any(|notch| notch == word) {
        return Ok(Along::Notch(word.into()));
    }
    let edges = owners.iter().flat_map(|owner| edge_names(owner));
    let names: Vec<&str> = darts().chain(edges).chain(notches()).collect();
    let message = format!(
        "the {} has no dart, edge or notch called {word}",
        text.piece.value
    );
    Err(under(
        find::not_there("place-not-there", message, word, &names),
        &name.span,
    ))
}

/// A name behind a place's edge, which may carry the name of the same piece before it.
fn own<'a>(text: &PlaceText, name: &'a Written<String>) -> Result<&'a str, Finding> {
    let Some((piece, word)) = name.value.split_once('.') else {
        return Ok(&name.value);
    };
    if piece == text.piece.value {
        return Ok(word);
    }
    Err(Finding::error(
        "place-on-other-piece",
        format!("{} is not on the {}", name.value, text.piece.value),
    )
    .at_text(&name.span, "another piece")
    .allowed(format!("something of the {}", text.piece.value))
    .cure("name something of the same piece"))
}

fn points(piece: &Piece) -> impl Iterator<Item = &str> {
    let marked = piece.marks.iter().filter_map(|mark| match mark {
        Mark::Point { name, .. } => Some(name.as_str()),
        Mark::Notch { .. } => None,
    });
    marked.chain(piece.darts.iter().map(|dart| dart.name.as_str()))
}

fn notches<'a>(piece: &'a Piece, on: &'a str) -> impl Iterator<Item = &'a str> {
    piece.marks.iter().filter_map(move |mark| match mark {
        Mark::Notch { name, edge, .. } if pattern::name::answers_to(edge, on) => {
            Some(name.as_str())
        }
        _ => None,
    })
}

fn edge_names(piece: &Piece) -> impl Iterator<Item = &str> {
    piece.edges.iter().map(|edge| edge.name.as_str())
}

/// An edge is named and nothing says where on it.
fn nowhere(text: &PlaceText) -> Finding {
    let (piece, edge) = (&text.piece.value, &text.name.value);
    Finding::error(
        "place-without-where",
        format!("{piece}.{edge} is an edge, and where on it is not said"),
    )
    .at_text(&text.name.span, "where on it?")
    .allowed("“halfway”, “at 90 mm from armhole”, “at 1/3 from start”, “at bust-dart”, “below bust-point” …")
    .cure(format!("write, for example, “{piece}.{edge} halfway”"))
}

/// A finding with the text that it is about before all other places.
fn under(mut finding: Finding, span: &Span) -> Finding {
    let known = finding
        .places
        .iter()
        .any(|place| matches!(place, Spot::Text { .. }));
    if !known {
        let label = String::new();
        finding.places.insert(
            0,
            Spot::Text {
                span: span.clone(),
                label,
            },
        );
    }
    finding
}

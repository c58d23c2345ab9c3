//! Places and names as people write them: `front.side at 90 mm from armhole`, `front.shoulder halfway`.
//!
//! ```text
//! place = piece.point                                a marked point, or the point of a dart
//!       | piece.edge+edge                            the corner between two edges
//!       | piece.edge where
//! where = halfway
//!       | [at] LENGTH from EDGE | start | end        start and end going clockwise round the piece
//!       | [at] SHARE [from EDGE | start | end]       1/3, 0.4, 40 %
//!       | at DART                                    where its middle line, prolonged, meets the edge
//!       | at EDGE                                    the corner with that edge
//!       | at notch NOTCH
//!       | below POINT | above POINT                  along the grain
//!       | level with POINT                           across the grain
//! ```
//!
//! Lengths may be worked out from measures. Knows no pattern: which names there are is seen when the step is done.
//! Invariant: every part knows where it stands in the file.

use document::{Finding, nearest};

use super::Written;
use super::fields::is_formula;
use super::formula::{self, Person};
use super::text::Text;

/// A name of a piece and of something on it; a seam has no piece.
#[derive(Clone, Debug, PartialEq)]
pub struct NameText {
    /// The piece.
    pub piece: Written<String>,
    /// What of it is meant; nothing for the piece itself.
    pub name: Option<Written<String>>,
}

/// A place on a piece.
#[derive(Clone, Debug, PartialEq)]
pub struct PlaceText {
    /// The piece.
    pub piece: Written<String>,
    /// An edge, two edges that meet, or a point.
    pub name: Written<String>,
    /// Where on the edge.
    pub at: Where,
}

/// Where on an edge.
#[derive(Clone, Debug, PartialEq)]
pub enum Where {
    /// Not said: a point or a corner.
    Itself,
    /// So many mm from an end.
    Length(Written<f64>, From),
    /// At a share of its length from an end.
    Share(Written<f64>, From),
    /// At a dart's line, or at the corner with another edge.
    Name(Written<String>),
    /// At a notch.
    Notch(Written<String>),
    /// Along the grain from a point.
    Plumb(Written<String>),
    /// Across the grain from a point.
    Level(Written<String>),
}

/// From which end of an edge is measured.
#[derive(Clone, Debug, PartialEq)]
pub enum From {
    /// From its first corner, clockwise.
    Start,
    /// From its last corner.
    End,
    /// From the corner where it meets this edge.
    Edge(Written<String>),
}

/// How a place may be written, for messages.
const HOW: &str = "an edge and where on it: “halfway”, “at 90 mm from armhole”, “at 1/3 from start”, “at bust-dart”, \
“at notch hip”, “below bust-point” or “level with bust-point”; or a point or corner by itself";

/// Reads a place; `None` where a length in it is not known before the body is.
pub(super) fn place(text: &Text<'_>, person: Person<'_>) -> Result<Option<PlaceText>, Finding> {
    let words = text.words();
    let Some((first, rest)) = words.split_first() else {
        return Err(not_a_place(text, "nothing is written"));
    };
    let (piece, name) = dotted(first)?;
    let Some(at) = place_on(text, rest, person)? else {
        return Ok(None);
    };
    Ok(Some(PlaceText { piece, name, at }))
}

/// Reads the name of something on a piece: `front.side`.
pub(super) fn part(text: &Text<'_>) -> Result<NameText, Finding> {
    let (piece, name) = dotted(&one_word(text)?)?;
    Ok(NameText {
        piece,
        name: Some(name),
    })
}

/// Reads the name of a piece or a seam.
pub(super) fn whole(text: &Text<'_>) -> Result<NameText, Finding> {
    let word = one_word(text)?;
    if word.letters.contains('.') {
        return Err(Finding::error(
            "name-not-readable",
            format!("“{}” names a part, and a whole is needed.", word.letters),
        )
        .at_text(&word.span(), "has a full stop in it")
        .allowed("a name without a full stop, such as front")
        .cure("Write only the name before the full stop."));
    }
    Ok(NameText {
        piece: written(&word),
        name: None,
    })
}

fn one_word<'a>(text: &Text<'a>) -> Result<Text<'a>, Finding> {
    match text.words()[..] {
        [word] => Ok(word),
        [] => Err(not_a_name(text, "nothing is written")),
        [_, second, ..] => Err(second_name(&second)),
    }
}

fn dotted(word: &Text<'_>) -> Result<(Written<String>, Written<String>), Finding> {
    let Some(stop) = word.letters.find('.') else {
        return Err(not_a_name(word, "of which piece, or what of it?"));
    };
    let (piece, name) = (word.part(0..stop), word.part(stop + 1..word.letters.len()));
    if piece.letters.is_empty() || name.letters.is_empty() || name.letters.contains('.') {
        return Err(not_a_name(word, "a piece, a full stop, and a name"));
    }
    Ok((written(&piece), written(&name)))
}

/// What stands behind the name.
fn place_on(
    text: &Text<'_>,
    words: &[Text<'_>],
    person: Person<'_>,
) -> Result<Option<Where>, Finding> {
    let spoken: Vec<&str> = words.iter().map(|word| word.letters).collect();
    let at = match spoken[..] {
        [] => Where::Itself,
        ["halfway"] => Where::Share(of(&words[0], 0.5), From::Start),
        ["at", "notch", _] => Where::Notch(written(&words[2])),
        ["below" | "above", _] => Where::Plumb(written(&words[1])),
        ["level", "with", _] => Where::Level(written(&words[2])),
        ["at", name] if begins_name(name) && !is_measure(name) => Where::Name(written(&words[1])),
        _ => return measured(text, words, person),
    };
    Ok(Some(at))
}

fn begins_name(word: &str) -> bool {
    word.starts_with(char::is_alphabetic)
}

fn is_measure(word: &str) -> bool {
    body::Measure::from_key(word).is_some()
}

/// `at 90 mm from armhole`, `1/3`, `at bust / 10 from start`.
fn measured(
    text: &Text<'_>,
    words: &[Text<'_>],
    person: Person<'_>,
) -> Result<Option<Where>, Finding> {
    let words = match words {
        [at, rest @ ..] if at.letters == "at" && !rest.is_empty() => rest,
        [word, ..]
            if begins_name(word.letters) && !is_measure(word.letters) && word.letters != "at" =>
        {
            return Err(unknown_word(word));
        }
        [at] if at.letters == "at" => return Err(not_a_place(at, "nothing behind it")),
        all => all,
    };
    let from = words.iter().position(|word| word.letters == "from");
    let (amount, end) = match from {
        Some(at) if at > 0 => (&words[..at], from_end(&words[at..])?),
        Some(_) => return Err(not_a_place(&words[0], "no length before it")),
        None => (words, None),
    };
    let said = stretch(text, amount);
    let (Some(value), is_length) = amount_of(&said, person)? else {
        return Ok(None);
    };
    Ok(Some(match (is_length, end) {
        (true, Some(end)) => Where::Length(of(&said, value), end),
        (true, None) => return Err(from_where(&said)),
        (false, end) => share(&said, value, end)?,
    }))
}

fn share(said: &Text<'_>, value: f64, end: Option<From>) -> Result<Where, Finding> {
    if !(0.0..=1.0).contains(&value) {
        return Err(Finding::error(
            "share-out-of-bounds",
            format!("“{}” is no share of an edge.", said.letters),
        )
        .at_text(&said.span(), "without a unit it is a share")
        .allowed("a share from 0 to 1, or a length with its unit")
        .cure("Write the unit with it, or a share such as 1/3."));
    }
    Ok(Where::Share(of(said, value), end.unwrap_or(From::Start)))
}

/// The text from the first of some words to the last.
fn stretch<'a>(text: &Text<'a>, words: &[Text<'a>]) -> Text<'a> {
    let start = |word: &Text<'a>| word.letters.as_ptr() as usize - text.letters.as_ptr() as usize;
    let (Some(first), Some(last)) = (words.first(), words.last()) else {
        return *text;
    };
    text.part(start(first)..start(last) + last.letters.len())
}

fn amount_of(said: &Text<'_>, person: Person<'_>) -> Result<(Option<f64>, bool), Finding> {
    if is_formula(said.letters) || document::parse_length(said.letters).is_err() {
        let amount = formula::amount(said, person)?;
        return Ok((amount.value, amount.is_length));
    }
    let length = document::parse_length(said.letters).map(geometry::Length::mm);
    Ok((length.ok(), true))
}

fn from_end(words: &[Text<'_>]) -> Result<Option<From>, Finding> {
    match words {
        [_, end] => Ok(Some(match end.letters {
            "start" => From::Start,
            "end" => From::End,
            _ => From::Edge(written(end)),
        })),
        [from] => Err(not_a_place(from, "nothing behind it")),
        [_, _, more, ..] => Err(not_a_place(more, "one word too many")),
        [] => Ok(None),
    }
}

fn written(word: &Text<'_>) -> Written<String> {
    of(word, word.letters.to_owned())
}

fn of<T>(word: &Text<'_>, value: T) -> Written<T> {
    Written {
        value,
        span: word.span(),
    }
}

fn from_where(said: &Text<'_>) -> Finding {
    Finding::error(
        "place-not-readable",
        format!("“{}” does not say from where it is measured.", said.letters),
    )
    .at_text(&said.span(), "from where?")
    .allowed("a length with “from” and an edge that meets this one, “start” or “end”")
    .cure(format!(
        "Write, for example, “at {} from start”, or “from” and the edge at its corner.",
        said.letters
    ))
}

/// A word behind an edge that says nothing about where.
fn unknown_word(word: &Text<'_>) -> Finding {
    let finding = not_a_place(word, "not known here");
    match nearest(word.letters, &["halfway", "at", "below", "above", "level"]) {
        Some(meant) => Finding {
            places: Vec::new(),
            ..finding
        }
        .at_text(&word.span(), format!("perhaps “{meant}”?"))
        .cure(format!("If “{meant}” is meant, write that.")),
        None => finding,
    }
}

fn not_a_place(part: &Text<'_>, label: &str) -> Finding {
    Finding::error(
        "place-not-readable",
        format!("“{}” is not how a place is written.", part.letters),
    )
    .at_text(&part.span(), label)
    .allowed(HOW)
    .cure("Write, for example, “front.side at 90 mm from armhole”.")
}

/// More than one word where one name is wanted.
fn second_name(second: &Text<'_>) -> Finding {
    Finding::error(
        "name-not-readable",
        format!(
            "One name is wanted here, and “{}” stands behind it.",
            second.letters
        ),
    )
    .at_text(&second.span(), "one word too many")
    .allowed("one name, such as front.side")
    .cure(
        "Take it away; where several names may stand, there are a comma and a space between them.",
    )
}

fn not_a_name(part: &Text<'_>, label: &str) -> Finding {
    Finding::error(
        "name-not-readable",
        format!("“{}” is not how a part of a piece is named.", part.letters),
    )
    .at_text(&part.span(), label)
    .allowed("a piece and a part of it with a full stop between, such as front.side")
    .cure("Write the piece, a full stop, and the name: front.side.")
}

#[cfg(test)]
mod tests;

//! A formula cut into its signs: numbers, lengths with their units, names, and signs of arithmetic.
//!
//! Knows no measures. A slash between two figures without spaces is a fraction (`1/2 in`), any other divides. Invariant:
//! every sign knows which bytes of the text it is.

use document::length::LENGTH_UNITS;
use document::{Finding, QuantityFault, parse_length};

use crate::recipe::text::Text;

/// What a sign is.
#[derive(Clone, Debug, PartialEq)]
pub(super) enum Token {
    /// A plain number.
    Number(f64),
    /// A length, mm.
    Length(f64),
    /// A word, which should be a measure.
    Name,
    Plus,
    Minus,
    Times,
    Over,
    Open,
    Close,
}

/// A sign and where it stands.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Sign {
    pub(super) token: Token,
    pub(super) from: usize,
    pub(super) to: usize,
}

/// Cuts a text into its signs.
pub(super) fn signs(text: &Text<'_>) -> Result<Vec<Sign>, Finding> {
    let letters = text.letters;
    let mut signs = Vec::new();
    let mut at = 0;
    while let Some(letter) = letters[at..].chars().next() {
        let from = at;
        at += letter.len_utf8();
        let token = match letter {
            letter if letter.is_whitespace() => continue,
            '+' => Token::Plus,
            '-' | '−' | '–' => Token::Minus,
            '*' | '×' | '·' => Token::Times,
            '/' | '÷' => Token::Over,
            '(' => Token::Open,
            ')' => Token::Close,
            letter if begins_number(letter) => {
                let (token, end) = value(text, from)?;
                at = end;
                token
            }
            letter if letter.is_alphabetic() => {
                at = name_end(letters, from);
                match &letters[from..at] {
                    "x" => Token::Times,
                    _ => Token::Name,
                }
            }
            _ => return Err(strange(text, from, at)),
        };
        signs.push(Sign {
            token,
            from,
            to: at,
        });
    }
    Ok(signs)
}

fn begins_number(letter: char) -> bool {
    letter.is_ascii_digit() || letter == '.' || is_glyph(letter)
}

/// A fraction that is one letter.
fn is_glyph(letter: char) -> bool {
    "½¼¾⅛⅜⅝⅞⅓⅔".contains(letter)
}

/// The end of a word; a hyphen belongs to it where a letter follows.
fn name_end(text: &str, from: usize) -> usize {
    let mut end = from;
    let mut letters = text[from..].chars().peekable();
    while let Some(letter) = letters.next() {
        let goes_on = letter.is_alphanumeric()
            || letter == '_'
            || letter == '-' && letters.peek().is_some_and(|next| next.is_alphabetic());
        if !goes_on {
            break;
        }
        end += letter.len_utf8();
    }
    end
}

/// A number, with its unit where one follows, and where it ends.
fn value(text: &Text<'_>, from: usize) -> Result<(Token, usize), Finding> {
    let letters = text.letters;
    let end = number_end(letters, from);
    let unit = skip(letters, end, char::is_whitespace);
    let unit_end = unit_end(letters, unit);
    if letters[unit..].starts_with('%') {
        let number = number(text, from, end)?;
        return Ok((Token::Number(number / 100.0), unit + 1));
    }
    if unit_end == unit || &letters[unit..unit_end] == "x" {
        return Ok((Token::Number(number(text, from, end)?), end));
    }
    match parse_length(&letters[from..unit_end]) {
        Ok(length) => {
            Ok(with_inches(letters, from, unit_end)
                .unwrap_or((Token::Length(length.mm()), unit_end)))
        }
        Err(QuantityFault::UnknownUnit(word)) if word.chars().count() > 3 => {
            Ok((Token::Number(number(text, from, end)?), end))
        }
        Err(fault) => Err(unreadable(text, from, unit_end, &fault)),
    }
}

/// Feet with inches behind them as one length.
fn with_inches(text: &str, from: usize, end: usize) -> Option<(Token, usize)> {
    let inches = skip(text, end, char::is_whitespace);
    let next = text[inches..].chars().next()?;
    if !begins_number(next) {
        return None;
    }
    let unit = skip(text, number_end(text, inches), char::is_whitespace);
    let end = unit_end(text, unit);
    let length = parse_length(&text[from..end]).ok()?;
    Some((Token::Length(length.mm()), end))
}

/// The number between two places, by the same rules as in a length.
fn number(text: &Text<'_>, from: usize, end: usize) -> Result<f64, Finding> {
    parse_length(&format!("{} mm", &text.letters[from..end]))
        .map(geometry::Length::mm)
        .map_err(|fault| unreadable(text, from, end, &fault))
}

/// Where a number ends: `12`, `1.5`, `3,8`, `1/2`, `1 1/2`, `1½`.
fn number_end(text: &str, from: usize) -> usize {
    let whole = skip(text, from, |letter| {
        letter.is_ascii_digit() || ".,".contains(letter)
    });
    if let Some(end) = fraction_end(text, whole) {
        return end;
    }
    let next = skip(text, whole, |letter| letter == ' ');
    let above = skip(text, next, |letter| letter.is_ascii_digit());
    if next == above {
        // Only a fraction in one letter may follow without figures.
        return glyph_end(text, next).unwrap_or(whole);
    }
    fraction_end(text, above)
        .filter(|_| next > whole)
        .unwrap_or(whole)
}

/// The end of what makes the figures before it a fraction.
fn fraction_end(text: &str, from: usize) -> Option<usize> {
    if let Some(end) = glyph_end(text, from) {
        return Some(end);
    }
    let rest = text[from..].strip_prefix(['/', '⁄'])?;
    let below = text.len() - rest.len();
    let end = skip(text, below, |letter| letter.is_ascii_digit());
    (end > below && from > 0).then_some(end)
}

fn glyph_end(text: &str, from: usize) -> Option<usize> {
    let letter = text[from..]
        .chars()
        .next()
        .filter(|letter| is_glyph(*letter))?;
    Some(from + letter.len_utf8())
}

fn unit_end(text: &str, from: usize) -> usize {
    let word = skip(text, from, char::is_alphabetic);
    if word > from {
        // "2 waist-to-hip" is a number and a measure.
        return name_end(text, from).max(word);
    }
    skip(text, from, |letter| "\"″”'′’".contains(letter))
}

fn skip(text: &str, from: usize, is_skipped: impl Fn(char) -> bool) -> usize {
    let rest = &text[from..];
    from + rest
        .find(|letter| !is_skipped(letter))
        .unwrap_or(rest.len())
}

fn unreadable(text: &Text<'_>, from: usize, to: usize, fault: &QuantityFault) -> Finding {
    let part = text.part(from..to);
    Finding::error(
        "length-not-readable",
        format!("“{}” cannot be read as a length: {fault}.", part.letters),
    )
    .at_text(&part.span(), fault.to_string())
    .allowed(format!("a number with a unit: {LENGTH_UNITS}"))
    .cure("Write it like 92 cm, 915 mm or 36 1/4 in.")
}

fn strange(text: &Text<'_>, from: usize, to: usize) -> Finding {
    let part = text.part(from..to);
    Finding::error(
        "formula-not-readable",
        format!("“{}” has no meaning here.", part.letters),
    )
    .at_text(&part.span(), "not known")
    .allowed("measures, lengths and numbers with +, -, × and / between them, and parentheses")
    .cure("Take it away.")
}

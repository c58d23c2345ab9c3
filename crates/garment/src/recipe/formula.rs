//! Plain arithmetic on measures: `bust / 4 + 20 mm`, `waist-to-hip - 2 cm`, `(hip - waist) / 2`.
//!
//! Knows the keys of measures, lengths as people write them, and + − × / with parentheses. Invariants: lengths are only
//! added to lengths; a fault underlines the part of the text that is wrong; without a body the units are checked all the
//! same.

mod sign;

use std::ops::Range;

use body::{Body, Measure};
use document::{Finding, Span, nearest};

use super::text::Text;
use sign::{Sign, Token};

/// Parentheses and signs may stand in one another as deep as this.
const DEEPEST: usize = 20;

/// Whose measures stand in a formula.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Person<'a> {
    /// This body's.
    Known(&'a Body),
    /// A body's that is not known yet: names and units are checked and nothing is worked out.
    Later,
    /// Nobody's: a measure is a slip.
    Nobody,
}

/// What a formula comes to.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Amount {
    /// Millimetres, or a plain number; `None` where the body is not known yet.
    pub(super) value: Option<f64>,
    /// Whether it is a length.
    pub(super) is_length: bool,
}

/// Whether a text that is no plain length is meant as a formula.
pub(super) fn looks_like_one(text: &str) -> bool {
    let first = text.trim_start().chars().next();
    first.is_some_and(char::is_alphabetic)
        || text.contains(['+', '*', '×', '·', '÷', '(', ')', '%'])
        || text.split_whitespace().any(|word| {
            matches!(word, "-" | "−" | "–" | "/" | "x") || Measure::from_key(word).is_some()
        })
}

/// Works a formula out.
pub(super) fn amount(text: &Text<'_>, person: Person<'_>) -> Result<Amount, Finding> {
    let signs = sign::signs(text)?;
    let mut working = Working {
        text,
        person,
        signs: &signs,
        next: 0,
        depth: 0,
    };
    let (amount, _) = working.sum()?;
    match working.peek() {
        None => Ok(amount),
        Some(sign) => Err(working.out_of_place(sign)),
    }
}

/// Works out a formula that must come to a length, mm.
pub(super) fn length(text: &Text<'_>, person: Person<'_>) -> Result<Option<f64>, Finding> {
    let amount = amount(text, person)?;
    if amount.is_length {
        return Ok(amount.value);
    }
    Err(Finding::error(
        "length-expected",
        format!(
            "“{}” comes to a plain number, and a length is needed.",
            text.letters
        ),
    )
    .at_text(&text.span(), "a plain number")
    .allowed("a length, such as \"bust / 4 + 20 mm\"")
    .cure("Write the unit behind the number, or take a length into the sum."))
}

/// Works out a formula that must come to a plain number.
pub(super) fn number(text: &Text<'_>, person: Person<'_>) -> Result<Option<f64>, Finding> {
    let amount = amount(text, person)?;
    if !amount.is_length {
        return Ok(amount.value);
    }
    Err(Finding::error(
        "number-expected",
        format!(
            "“{}” comes to a length, and a plain number is needed.",
            text.letters
        ),
    )
    .at_text(&text.span(), "a length")
    .allowed("a plain number, such as 0.5, \"1/3\" or \"40 %\"")
    .cure("Take the unit away, or divide by a length."))
}

/// A text that is being worked out.
struct Working<'a> {
    text: &'a Text<'a>,
    person: Person<'a>,
    signs: &'a [Sign],
    next: usize,
    depth: usize,
}

impl Working<'_> {
    fn peek(&self) -> Option<&Sign> {
        self.signs.get(self.next)
    }

    fn take(&mut self, wanted: &[Token]) -> Option<Token> {
        let token = self.peek()?.token.clone();
        wanted.contains(&token).then(|| {
            self.next += 1;
            token
        })
    }

    fn sum(&mut self) -> Result<(Amount, Range<usize>), Finding> {
        let (mut total, mut range) = self.product()?;
        while let Some(token) = self.take(&[Token::Plus, Token::Minus]) {
            let (next, place) = self.product()?;
            if next.is_length != total.is_length {
                return Err(self.unlike([(&total, &range), (&next, &place)]));
            }
            let sign = if token == Token::Plus { 1.0 } else { -1.0 };
            total.value = both(total, next, |a, b| a + sign * b);
            range.end = place.end;
        }
        Ok((total, range))
    }

    fn product(&mut self) -> Result<(Amount, Range<usize>), Finding> {
        let (mut total, mut range) = self.factor()?;
        while let Some(token) = self.take(&[Token::Times, Token::Over]) {
            let (next, place) = self.factor()?;
            total = if token == Token::Times {
                self.times(total, next, range.start..place.end)?
            } else {
                self.over(total, next, &place)?
            };
            range.end = place.end;
        }
        Ok((total, range))
    }

    fn times(&self, a: Amount, b: Amount, whole: Range<usize>) -> Result<Amount, Finding> {
        if a.is_length && b.is_length {
            return Err(Finding::error(
                "units-do-not-go",
                "A length times a length is an area, and no area is asked for here.",
            )
            .at_text(&self.span(whole), "a length times a length")
            .allowed("a length times a plain number")
            .cure("Multiply by a plain number."));
        }
        Ok(Amount {
            value: both(a, b, |a, b| a * b),
            is_length: a.is_length || b.is_length,
        })
    }

    fn over(&self, a: Amount, b: Amount, below: &Range<usize>) -> Result<Amount, Finding> {
        if b.is_length && !a.is_length {
            return Err(Finding::error(
                "units-do-not-go",
                "A plain number is divided by a length.",
            )
            .at_text(&self.span(below.clone()), "a length")
            .allowed("a length or a number divided by a number, or a length by a length")
            .cure("Divide the length by the number."));
        }
        if b.value == Some(0.0) {
            return Err(Finding::error(
                "divided-by-nothing",
                "Something is divided by nothing here.",
            )
            .at_text(&self.span(below.clone()), "comes to 0")
            .allowed("anything but 0")
            .cure("Look for a slip of the pen."));
        }
        Ok(Amount {
            value: both(a, b, |a, b| a / b),
            is_length: a.is_length && !b.is_length,
        })
    }

    fn factor(&mut self) -> Result<(Amount, Range<usize>), Finding> {
        let Some(sign) = self.peek().cloned() else {
            return Err(self.broken_off());
        };
        self.next += 1;
        let range = sign.from..sign.to;
        let plain = |value, is_length| {
            let value = Some(value);
            Ok((Amount { value, is_length }, range.clone()))
        };
        match sign.token {
            Token::Number(number) => plain(number, false),
            Token::Length(mm) => plain(mm, true),
            Token::Name => Ok((self.measure(&range)?, range)),
            Token::Minus | Token::Plus | Token::Open => {
                self.depth += 1;
                if self.depth > DEEPEST {
                    return Err(self.too_deep(&range));
                }
                let inner = self.nested(&sign);
                self.depth -= 1;
                inner
            }
            _ => {
                self.next -= 1;
                Err(self.out_of_place(&sign))
            }
        }
    }

    /// What stands behind a sign or within parentheses.
    fn nested(&mut self, sign: &Sign) -> Result<(Amount, Range<usize>), Finding> {
        if sign.token != Token::Open {
            let (mut amount, range) = self.factor()?;
            if sign.token == Token::Minus {
                amount.value = amount.value.map(|value| -value);
            }
            return Ok((amount, sign.from..range.end));
        }
        let (amount, _) = self.sum()?;
        let end = self.peek().map(|close| close.to);
        match (self.take(&[Token::Close]), end) {
            (Some(_), Some(end)) => Ok((amount, sign.from..end)),
            _ => match self.peek() {
                Some(other) => Err(self.out_of_place(other)),
                None => Err(self.never_closed(sign)),
            },
        }
    }

    fn measure(&self, range: &Range<usize>) -> Result<Amount, Finding> {
        let key = &self.text.letters[range.clone()];
        let span = self.span(range.clone());
        let Some(measure) = Measure::from_key(key) else {
            return Err(unknown(key, &span));
        };
        if measure.is_angle() {
            return Err(Finding::error(
                "units-do-not-go",
                format!(
                    "The {} is an angle, and lengths are worked out here.",
                    measure.label()
                ),
            )
            .at_text(&span, "an angle")
            .allowed("measures that are lengths")
            .cure("Take another measure."));
        }
        let value = match self.person {
            Person::Known(body) => Some(body.mm(measure)),
            Person::Later => None,
            Person::Nobody => return Err(nobody(key, &span)),
        };
        Ok(Amount {
            value,
            is_length: true,
        })
    }

    fn span(&self, range: Range<usize>) -> Span {
        self.text.part(range).span()
    }

    fn unlike(&self, parts: [(&Amount, &Range<usize>); 2]) -> Finding {
        let [length, number] = if parts[0].0.is_length {
            [parts[0].1, parts[1].1]
        } else {
            [parts[1].1, parts[0].1]
        };
        let figure = self.text.part(number.clone()).letters;
        Finding::error(
            "units-do-not-go",
            format!("A length and the plain number {figure} are added or taken from each other."),
        )
        .at_text(&self.span(number.clone()), "a plain number")
        .at_text(&self.span(length.clone()), "a length")
        .allowed("lengths with lengths, numbers with numbers")
        .cure(format!(
            "Write the unit behind the number: “{figure} mm” or “{figure} cm”, whichever was meant."
        ))
    }

    fn out_of_place(&self, sign: &Sign) -> Finding {
        let range = sign.from..sign.to;
        let shown = self.text.part(range.clone()).letters;
        let is_value = matches!(
            sign.token,
            Token::Number(_) | Token::Length(_) | Token::Name | Token::Open
        );
        let (label, cure) = if is_value {
            (
                "no sign of arithmetic before it",
                "Put +, -, × or / between two values.",
            )
        } else {
            (
                "no value before it",
                "Put a length, a measure or a number before it, or take it away.",
            )
        };
        Finding::error(
            "formula-not-readable",
            format!("“{shown}” cannot stand here."),
        )
        .at_text(&self.span(range), label)
        .allowed("measures, lengths and numbers with +, -, × and / between them, and parentheses")
        .cure(cure)
    }

    fn broken_off(&self) -> Finding {
        let last = self.signs.last();
        let range = last.map_or(0..self.text.letters.len(), |sign| sign.from..sign.to);
        Finding::error("formula-not-readable", "Something is missing at the end.")
            .at_text(&self.span(range), "nothing behind it")
            .allowed("a length, a measure or a number behind every sign")
            .cure("Write what is meant, such as \"bust / 4 + 20 mm\".")
    }

    fn never_closed(&self, open: &Sign) -> Finding {
        Finding::error(
            "formula-not-readable",
            "A parenthesis is opened and never closed.",
        )
        .at_text(&self.span(open.from..open.to), "opened here")
        .allowed("as many ) as (")
        .cure("Put a ) where it ends.")
    }

    fn too_deep(&self, range: &Range<usize>) -> Finding {
        Finding::error(
            "formula-not-readable",
            format!("Parentheses and signs stand in one another more than {DEEPEST} deep."),
        )
        .at_text(&self.span(range.clone()), "one too many")
        .allowed(format!("at most {DEEPEST} in one another"))
        .cure("Take needless parentheses and signs away.")
    }
}

fn both(a: Amount, b: Amount, join: impl Fn(f64, f64) -> f64) -> Option<f64> {
    Some(join(a.value?, b.value?))
}

fn unknown(key: &str, span: &Span) -> Finding {
    let keys = Measure::ALL.map(Measure::key);
    let lengths: Vec<&str> = Measure::ALL
        .into_iter()
        .filter(|measure| !measure.is_angle())
        .map(Measure::key)
        .collect();
    let finding = Finding::error(
        "unknown-measure",
        format!("There is no measure called “{key}”."),
    )
    .allowed(format!("one of: {}", lengths.join(", ")));
    match nearest(key, &keys) {
        Some(word) => finding
            .at_text(span, format!("perhaps “{word}”?"))
            .cure(format!("If “{word}” is meant, write that.")),
        None => finding
            .at_text(span, "not known")
            .cure("Write a length or one of the measures; a minus between two measures has spaces beside it."),
    }
}

fn nobody(key: &str, span: &Span) -> Finding {
    Finding::error(
        "measure-without-body",
        format!("“{key}” is a measure, and no body is known here."),
    )
    .at_text(span, "whose?")
    .allowed("a length with its unit")
    .cure("Name a body in the garment, or write a length.")
}

#[cfg(test)]
mod tests;

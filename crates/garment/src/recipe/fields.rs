//! Reading named values of a statement within their bounds, gathering what is wrong instead of stopping at it.

use document::{Entry, Finding, Value, parse_length};

use super::Written;
use super::formula::{self, Person};
use super::layers::Layers;
use super::text::Text;

/// Bounds of a value, in the unit in which it is read.
pub(super) type Bounds = std::ops::RangeInclusive<f64>;

/// Gathers findings while values are read; each reading gives `None` where it noted one.
pub(super) struct Fields<'a> {
    pub(super) findings: Vec<Finding>,
    pub(super) person: Person<'a>,
    /// What the files of cloths say, one for each layer that names one.
    pub(super) cloths: &'a [pattern::Cloth],
}

impl<'a> Fields<'a> {
    /// Nothing read yet, for a person and the files of cloths.
    pub(super) const fn new(person: Person<'a>, cloths: &'a [pattern::Cloth]) -> Self {
        Self {
            findings: Vec::new(),
            person,
            cloths,
        }
    }

    /// Keeps what was read, or the finding.
    pub(super) fn keep<T>(&mut self, read: Result<T, Finding>) -> Option<T> {
        read.map_err(|finding| self.findings.push(finding)).ok()
    }

    /// The length of a property, mm.
    pub(super) fn length(&mut self, entry: &Entry, name: &str, bounds: &Bounds) -> Option<f64> {
        let value = entry.property(name)?;
        self.length_of(name, value, bounds)
    }

    /// The length behind a statement in a block, mm.
    pub(super) fn length_line(
        &mut self,
        block: &Layers<'_>,
        name: &str,
        bounds: &Bounds,
    ) -> Option<f64> {
        let line = block.child(name)?;
        let value = self.keep(line.argument("a length such as \"15 mm\""))?;
        self.length_of(name, value, bounds)
    }

    /// The length of a value that is called by a name, mm.
    pub(super) fn length_of(&mut self, name: &str, value: &Value, bounds: &Bounds) -> Option<f64> {
        let length = self.keep(length(value, self.person))??;
        if bounds.contains(&length) {
            return Some(length);
        }
        let allowed = format!("from {} to {} mm", bounds.start(), bounds.end());
        let shown = match value.length() {
            Ok(_) => value.shown().to_owned(),
            Err(_) => format!("{}, which comes to {length:.1} mm,", value.shown()),
        };
        self.findings
            .push(out_of_bounds(name, &shown, value, &allowed));
        None
    }

    /// The plain number of a property.
    pub(super) fn number(&mut self, entry: &Entry, name: &str, bounds: &Bounds) -> Option<f64> {
        let value = entry.property(name)?;
        let number = self.keep(value.number())?;
        if bounds.contains(&number) {
            return Some(number);
        }
        self.findings.push(out_of_bounds(
            name,
            value.shown(),
            value,
            &format!("from {} to {}", bounds.start(), bounds.end()),
        ));
        None
    }

    /// The whole number of a property.
    pub(super) fn whole(
        &mut self,
        entry: &Entry,
        name: &str,
        bounds: std::ops::RangeInclusive<u32>,
    ) -> Option<u32> {
        let value = entry.property(name)?;
        let number = self.keep(value.count())?;
        if bounds.contains(&number) {
            return Some(number);
        }
        let allowed = format!("from {} to {}", bounds.start(), bounds.end());
        self.findings
            .push(out_of_bounds(name, value.shown(), value, &allowed));
        None
    }

    /// The text behind a statement in a block.
    pub(super) fn text_line(&mut self, line: Option<&Entry>) -> Option<Written<String>> {
        let value = self.keep(line?.argument("text in quotes"))?;
        let text = self.keep(value.text())?;
        Some(Written {
            value: text.into(),
            span: value.span().clone(),
        })
    }
}

/// A length as it is written, or worked out from measures, mm; `None` where the body is not known yet.
pub(super) fn length(value: &Value, person: Person<'_>) -> Result<Option<f64>, Finding> {
    match Text::of(value) {
        Some(text) if is_formula(text.letters) => formula::length(&text, person),
        _ => Ok(Some(value.length()?.mm())),
    }
}

/// Whether a text is to be worked out: what is a plain length stays one.
pub(super) fn is_formula(text: &str) -> bool {
    parse_length(text).is_err() && formula::looks_like_one(text)
}

fn out_of_bounds(name: &str, shown: &str, value: &Value, allowed: &str) -> Finding {
    Finding::error(
        "out-of-bounds",
        format!("{shown} is too little or too much for “{name}”."),
    )
    .at_text(value.span(), format!("allowed: {allowed}"))
    .allowed(allowed)
    .cure("Look for a slip of the pen or of the unit, and write a value within these bounds.")
}

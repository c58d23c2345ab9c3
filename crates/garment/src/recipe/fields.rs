//! Reading named values of a statement within their bounds, gathering what is wrong instead of stopping at it.

use document::{Entry, Finding, Value};

use super::Written;

/// Bounds of a value, in the unit in which it is read.
pub(super) type Bounds = std::ops::RangeInclusive<f64>;

/// Gathers findings while values are read; each reading gives `None` where it noted one.
#[derive(Default)]
pub(super) struct Fields {
    pub(super) findings: Vec<Finding>,
}

impl Fields {
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
        block: &Entry,
        name: &str,
        bounds: &Bounds,
    ) -> Option<f64> {
        let line = block.child(name)?;
        let value = self.keep(line.argument("a length such as \"15 mm\""))?;
        self.length_of(name, value, bounds)
    }

    fn length_of(&mut self, name: &str, value: &Value, bounds: &Bounds) -> Option<f64> {
        let length = self.keep(value.length())?.mm();
        if bounds.contains(&length) {
            return Some(length);
        }
        let allowed = format!("from {} to {} mm", bounds.start(), bounds.end());
        self.findings.push(out_of_bounds(name, value, &allowed));
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
            value,
            &format!("from {} to {}", bounds.start(), bounds.end()),
        ));
        None
    }

    /// The text behind a statement in a block.
    pub(super) fn text_line(&mut self, block: &Entry, name: &str) -> Option<Written<String>> {
        let line = block.child(name)?;
        let value = self.keep(line.argument("text in quotes"))?;
        let text = self.keep(value.text())?;
        Some(Written {
            value: text.into(),
            span: value.span().clone(),
        })
    }
}

fn out_of_bounds(name: &str, value: &Value, allowed: &str) -> Finding {
    Finding::error(
        "out-of-bounds",
        format!("{} is too little or too much for “{name}”.", value.shown()),
    )
    .at_text(value.span(), format!("allowed: {allowed}"))
    .allowed(allowed)
    .cure("Look for a slip of the pen or of the unit, and write a value within these bounds.")
}

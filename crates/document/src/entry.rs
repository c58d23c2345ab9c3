//! Statements of a file, with the place of every name and value.
//!
//! A statement is a name, values behind it, named properties, and statements nested in its block. This room knows which
//! statements were written, not which are allowed. Invariant: every name and value can be shown where it stands.

use crate::finding::Finding;
use crate::source::Span;
use crate::value::Value;

/// One statement: `name value … property=value … { nested statements }`.
#[derive(Clone, Debug, PartialEq)]
pub struct Entry {
    pub(crate) name: String,
    pub(crate) name_span: Span,
    pub(crate) span: Span,
    pub(crate) arguments: Vec<Value>,
    pub(crate) properties: Vec<(String, Span, Value)>,
    pub(crate) children: Vec<Entry>,
}

impl Entry {
    /// The name of the statement.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// Where the name stands.
    pub fn name_span(&self) -> &Span {
        &self.name_span
    }

    /// Where the whole statement stands, with its block.
    pub fn span(&self) -> &Span {
        &self.span
    }

    /// The values behind the name, in order.
    pub fn arguments(&self) -> &[Value] {
        &self.arguments
    }

    /// The named properties, in order: name, where the name stands, value.
    pub fn properties(&self) -> &[(String, Span, Value)] {
        &self.properties
    }

    /// The value of a named property.
    pub fn property(&self, name: &str) -> Option<&Value> {
        self.properties
            .iter()
            .find(|(given, _, _)| given == name)
            .map(|(_, _, value)| value)
    }

    /// The statements in the block, in order.
    pub fn children(&self) -> &[Self] {
        &self.children
    }

    /// The first statement of that name in the block.
    pub fn child(&self, name: &str) -> Option<&Self> {
        self.children.iter().find(|child| child.name == name)
    }

    /// The statements of that name in the block, in order.
    pub fn children_named<'a>(&'a self, name: &'a str) -> impl Iterator<Item = &'a Self> {
        self.children.iter().filter(move |child| child.name == name)
    }

    /// The one value behind the name; it is an error to have none or several.
    ///
    /// `what` says what the value is, such as `a length such as "38 mm"`.
    pub fn argument(&self, what: &str) -> Result<&Value, Finding> {
        match self.arguments.as_slice() {
            [value] => Ok(value),
            [] => Err(self.missing_value(what)),
            [first, second, ..] => Err(self.second_value(first, second, what)),
        }
    }

    /// The value behind the name where there is one; it is an error to have several.
    pub fn optional_argument(&self, what: &str) -> Result<Option<&Value>, Finding> {
        if self.arguments.is_empty() {
            return Ok(None);
        }
        self.argument(what).map(Some)
    }

    fn missing_value(&self, what: &str) -> Finding {
        Finding::error(
            "value-missing",
            format!("“{}” has no value behind it.", self.name),
        )
        .at_text(&self.name_span, format!("needs {what}"))
        .allowed(what)
        .cure(format!("Write {what} behind “{}”.", self.name))
    }

    fn second_value(&self, first: &Value, second: &Value, what: &str) -> Finding {
        let together = format!("{} {}", first.shown(), second.shown());
        let cure = if crate::length::parse_length(&together).is_ok() {
            format!("A length stands in quotes: “{} \"{together}\"”.", self.name)
        } else {
            "Take the second value away, or put both in one pair of quotes.".to_owned()
        };
        Finding::error(
            "value-too-many",
            format!(
                "“{}” takes one value and has {}.",
                self.name,
                self.arguments.len()
            ),
        )
        .at_text(second.span(), "one too many")
        .allowed(what)
        .cure(cure)
    }
}

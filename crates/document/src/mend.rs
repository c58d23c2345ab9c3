//! Mends: cures that a program can apply to a recipe, as data.
//!
//! A mend says in one sentence what it does and carries the changes of the text that do it: a line more in a block, another
//! value or property of a statement, a statement less. Knows no statement by name, and never writes: who applies it is the
//! business of the program. Invariant: values and lines are written as they will stand in the file, quotes and all.

mod apply;

pub use apply::apply;

/// The way to a statement or block: names of statements, each in the block of the one before, beginning within the first
/// statement of the file. `flare#2` is the second of that name.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Path(Vec<String>);

impl Path {
    /// Its names in order; none for the first statement of the file itself.
    pub fn names(&self) -> &[String] {
        &self.0
    }

    /// The path in words, such as `hems › skirt`.
    pub fn shown(&self) -> String {
        self.0.join(" › ")
    }
}

impl From<&str> for Path {
    fn from(name: &str) -> Self {
        Self(vec![name.to_owned()])
    }
}

impl<const N: usize> From<&[&str; N]> for Path {
    fn from(names: &[&str; N]) -> Self {
        Self(names.iter().copied().map(str::to_owned).collect())
    }
}

impl From<&[&str]> for Path {
    fn from(names: &[&str]) -> Self {
        Self(names.iter().copied().map(str::to_owned).collect())
    }
}

impl From<Vec<String>> for Path {
    fn from(names: Vec<String>) -> Self {
        Self(names)
    }
}

/// One change of a recipe's text.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// A line more at the end of a block, which is made where it is not there.
    Line {
        /// The block.
        block: Path,
        /// The line as it will stand there: `grain piece="front" along="side"`.
        line: String,
    },
    /// Another value of a property; statement and property are made where they are not there.
    Property {
        /// The statement.
        statement: Path,
        /// The property's name.
        name: String,
        /// Its value as it will stand there: `"30 mm"`, with its quotes.
        value: String,
    },
    /// Another value behind a statement, in the place of all that stand there; the statement is made where it is not there.
    Value {
        /// The statement.
        statement: Path,
        /// Its value as it will stand there.
        value: String,
    },
    /// A statement less.
    Remove {
        /// The statement.
        statement: Path,
    },
}

/// A cure that a program can apply: what it does, and the changes that do it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Mend {
    /// One sentence that says what it does to the garment.
    pub words: String,
    /// What changes in the recipe, in order; all of it or nothing.
    pub changes: Vec<Change>,
}

impl Mend {
    /// A mend of one change.
    pub fn new(change: Change, words: impl Into<String>) -> Self {
        Self {
            words: crate::finding::sentence(words.into()),
            changes: vec![change],
        }
    }

    /// Adds a line to a block: `Mend::line("steps", "grain …", "lays the grain …")`.
    pub fn line(block: impl Into<Path>, line: impl Into<String>, words: impl Into<String>) -> Self {
        let (block, line) = (block.into(), line.into());
        Self::new(Change::Line { block, line }, words)
    }

    /// Sets a property: `Mend::property(&["hems", "skirt"], "depth", "\"30 mm\"", "turns up less")`.
    pub fn property(
        statement: impl Into<Path>,
        name: impl Into<String>,
        value: impl Into<String>,
        words: impl Into<String>,
    ) -> Self {
        let change = Change::Property {
            statement: statement.into(),
            name: name.into(),
            value: value.into(),
        };
        Self::new(change, words)
    }

    /// Sets the value behind a statement: `Mend::value(&["allowances", "hem"], "\"30 mm\"", "turns up less")`.
    pub fn value(
        statement: impl Into<Path>,
        value: impl Into<String>,
        words: impl Into<String>,
    ) -> Self {
        let change = Change::Value {
            statement: statement.into(),
            value: value.into(),
        };
        Self::new(change, words)
    }

    /// Takes a statement away.
    pub fn remove(statement: impl Into<Path>, words: impl Into<String>) -> Self {
        let statement = statement.into();
        Self::new(Change::Remove { statement }, words)
    }

    /// Adds the changes of another mend, which belong to this one: a hem and its allowance.
    pub fn and(mut self, other: Self) -> Self {
        self.changes.extend(other.changes);
        self
    }
}

/// A length as it stands in a recipe: `"12.5 mm"`, rounded to tenths of a millimetre.
pub fn written_mm(mm: f64) -> String {
    let tenths = (mm * 10.0).round();
    if tenths.rem_euclid(10.0) == 0.0 {
        format!("\"{:.0} mm\"", tenths / 10.0)
    } else {
        format!("\"{:.1} mm\"", tenths / 10.0)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_mend_is_a_sentence_and_its_changes() {
        let mend = Mend::property(
            &["hems", "skirt"],
            "depth",
            written_mm(30.0),
            "turns up less",
        )
        .and(Mend::line("steps", "notch", ""));
        assert_eq!(mend.words, "Turns up less.");
        assert_eq!(mend.changes.len(), 2);
        let Change::Property {
            statement, value, ..
        } = &mend.changes[0]
        else {
            panic!("the first change sets a property")
        };
        assert_eq!(
            (statement.shown().as_str(), value.as_str()),
            ("hems › skirt", "\"30 mm\"")
        );
    }

    #[test]
    fn lengths_are_written_as_a_person_would() {
        assert_eq!(written_mm(12.0), "\"12 mm\"");
        assert_eq!(written_mm(12.04), "\"12 mm\"");
        assert_eq!(written_mm(12.25), "\"12.3 mm\"");
    }
}

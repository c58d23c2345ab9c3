//! The text of a recipe with changes in it: everything that is not changed stays as its writer left it.
//!
//! Statements are found with the reader of the grammar and the text is changed at their places; the grammar's own printer is
//! not asked, since it drops comments behind a closing brace. A statement that stands only in a base is copied from there, so
//! that the base is never changed. Knows no statement by name but `without`, with which a part of a base is taken away.
//! Invariant: what comes of it can be read, or a finding says what cannot be done.

use std::sync::Arc;

use super::{Change, Path};
use crate::entry::Entry;
use crate::finding::Finding;
use crate::source::Source;

/// What one level is set in by, where the text itself shows no other.
const STEP: &str = "    ";

/// The text with all changes in it, in order; `bases` are the recipes on which it stands, the nearest first.
pub fn apply(
    source: &Arc<Source>,
    bases: &[Arc<Source>],
    changes: &[Change],
) -> Result<String, Finding> {
    let mut now = Arc::clone(source);
    for change in changes {
        let text = applied(&now, bases, change)?;
        now = Source::new(source.name.clone(), text);
    }
    match crate::parse(&now) {
        Ok(_) => Ok(now.text.clone()),
        Err(_) => Err(impossible(
            source,
            "the recipe could not be read any more with the change in it",
        )),
    }
}

fn applied(
    source: &Arc<Source>,
    bases: &[Arc<Source>],
    change: &Change,
) -> Result<String, Finding> {
    let root = first(source)?;
    let text = Text { source, root };
    match change {
        Change::Line { block, line } => Ok(text.with_line(block.names(), line)),
        Change::Property {
            statement,
            name,
            value,
        } => text.with_property(bases, statement, name, value),
        Change::Value { statement, value } => text.with_value(bases, statement, value),
        Change::Remove { statement } => text.without(bases, statement),
    }
}

fn first(source: &Arc<Source>) -> Result<Entry, Finding> {
    let entries = crate::parse(source)
        .map_err(|_| impossible(source, "the recipe cannot be read as it stands"))?;
    entries
        .into_iter()
        .next()
        .ok_or_else(|| impossible(source, "the recipe is empty"))
}

/// A text and its first statement.
struct Text<'a> {
    source: &'a Arc<Source>,
    root: Entry,
}

impl Text<'_> {
    fn text(&self) -> &str {
        &self.source.text
    }

    fn spliced(&self, start: usize, end: usize, new: &str) -> String {
        format!("{}{new}{}", &self.text()[..start], &self.text()[end..])
    }

    /// How lines end in this text.
    fn line_end(&self) -> &'static str {
        if self.text().contains("\r\n") {
            "\r\n"
        } else {
            "\n"
        }
    }

    fn with_property(
        &self,
        bases: &[Arc<Source>],
        path: &Path,
        name: &str,
        value: &str,
    ) -> Result<String, Finding> {
        let Some(entry) = find(&self.root, path.names()) else {
            let copied = self.copied(bases, path, &format!("{name}={value}"))?;
            return self.again(copied, |text| text.with_property(&[], path, name, value));
        };
        Ok(if let Some(old) = entry.property(name) {
            self.spliced(old.span().start, old.span().end, value)
        } else if let Some(line) = entry.child(name) {
            self.value_set(line, value)
        } else {
            let at = head_end(entry);
            self.spliced(at, at, &format!(" {name}={value}"))
        })
    }

    fn with_value(
        &self,
        bases: &[Arc<Source>],
        path: &Path,
        value: &str,
    ) -> Result<String, Finding> {
        let Some(entry) = find(&self.root, path.names()) else {
            let copied = self.copied(bases, path, value)?;
            return self.again(copied, |text| text.with_value(&[], path, value));
        };
        Ok(self.value_set(entry, value))
    }

    /// The values behind a statement give way to one.
    fn value_set(&self, entry: &Entry, value: &str) -> String {
        let Some((first, others)) = entry.arguments().split_first() else {
            let at = entry.name_span().end;
            return self.spliced(at, at, &format!(" {value}"));
        };
        let mut text = self.text().to_owned();
        for other in others.iter().rev() {
            let before = text[..other.span().start].trim_end().len();
            text.replace_range(before..other.span().end, "");
        }
        text.replace_range(first.span().start..first.span().end, value);
        text
    }

    /// The text with a statement that it lacks: as the nearest base has it, or a new one.
    fn copied(&self, bases: &[Arc<Source>], path: &Path, rest: &str) -> Result<String, Finding> {
        let Some((name, above)) = path.names().split_last() else {
            return Err(impossible(self.source, "no statement is named"));
        };
        let (name, number) = numbered(name);
        for base in bases {
            let root = first(base)?;
            if let Some(entry) = find(&root, path.names()) {
                if above.first().is_some_and(|block| block == "steps") || number > 1 {
                    return Err(in_a_base(self.source, base, entry));
                }
                return Ok(self.with_line(above, entry.span().text()));
            }
        }
        if number > 1 {
            return Err(impossible(
                self.source,
                &format!("there are no {number} statements “{name}”"),
            ));
        }
        Ok(self.with_line(above, &format!("{name} {rest}")))
    }

    fn again(
        &self,
        text: String,
        change: impl FnOnce(&Text<'_>) -> Result<String, Finding>,
    ) -> Result<String, Finding> {
        let source = Source::new(self.source.name.clone(), text);
        let root = first(&source)?;
        change(&Text {
            source: &source,
            root,
        })
    }

    fn without(&self, bases: &[Arc<Source>], path: &Path) -> Result<String, Finding> {
        if let Some(entry) = find(&self.root, path.names()) {
            return Ok(self.taken_out(entry));
        }
        for base in bases {
            let root = first(base)?;
            if let Some(entry) = find(&root, path.names()) {
                return match path.names() {
                    [part] => Ok(self.with_line(&[], &format!("without \"{part}\""))),
                    _ => Err(in_a_base(self.source, base, entry)),
                };
            }
        }
        Err(impossible(
            self.source,
            &format!("there is no statement “{}”", path.shown()),
        ))
    }

    /// The text without a statement: its lines where it has them for itself, otherwise it and the semicolon behind it.
    fn taken_out(&self, entry: &Entry) -> String {
        let (start, end) = (entry.span().start, entry.span().end);
        let line_start = self.text()[..start].rfind('\n').map_or(0, |at| at + 1);
        let line_end = self.line_end_from(end);
        let before = self.text()[line_start..start].trim();
        let behind = self.text()[end..line_end].trim();
        let alone = before.is_empty() && (behind.is_empty() || behind.starts_with("//"));
        if alone {
            let next = (line_end + 1).min(self.text().len());
            return self.spliced(line_start, next, "");
        }
        let semicolon = behind.starts_with(';');
        let gap = self.text()[end..].len() - self.text()[end..].trim_start().len();
        let stop = if semicolon { end + gap + 1 } else { end };
        self.spliced(start, stop, "")
    }

    /// Where the line ends in which an offset lies: at its `\n`, or the end of the text.
    fn line_end_from(&self, offset: usize) -> usize {
        self.text()[offset..]
            .find('\n')
            .map_or(self.text().len(), |at| offset + at)
    }

    fn with_line(&self, block: &[String], line: &str) -> String {
        let mut parent = &self.root;
        let mut missing = block;
        while let [name, rest @ ..] = missing
            && let Some(child) = find(parent, std::slice::from_ref(name))
        {
            (parent, missing) = (child, rest);
        }
        let indent = self.indent_within(parent);
        let new = self.nested(missing, line, &indent);
        match self.braces(parent) {
            Some((_, close)) if !parent.children().is_empty() => {
                self.behind_last(parent, close, &indent, &new)
            }
            Some((open, close)) => self.in_empty(open, close, parent, &indent, &new),
            None => {
                let (at, end) = (head_end(parent), self.line_end());
                let outer = self.indent_of(parent.span().start);
                self.spliced(at, at, &format!(" {{{end}{indent}{new}{end}{outer}}}"))
            }
        }
    }

    /// The line in the blocks that are not there yet.
    fn nested(&self, missing: &[String], line: &str, indent: &str) -> String {
        let [name, rest @ ..] = missing else {
            return line.to_owned();
        };
        let (end, deeper) = (self.line_end(), format!("{indent}{STEP}"));
        let inner = self.nested(rest, line, &deeper);
        let name = numbered(name).0;
        format!("{name} {{{end}{deeper}{inner}{end}{indent}}}")
    }

    /// A new statement behind the last one of a block, in the same way: in a line of its own or in the same line.
    fn behind_last(&self, parent: &Entry, close: usize, indent: &str, new: &str) -> String {
        let last = &parent.children()[parent.children().len() - 1];
        let line_end = self.line_end_from(last.span().end);
        if line_end < close {
            let at = self.text()[..line_end].trim_end_matches('\r').len();
            return self.spliced(at, at, &format!("{}{indent}{new}", self.line_end()));
        }
        let behind = &self.text()[last.span().end..close];
        let (at, joint) = if behind.trim_start().starts_with(';') {
            let gap = behind.len() - behind.trim_start().len();
            (last.span().end + gap + 1, " ")
        } else {
            (last.span().end, "; ")
        };
        let tail = if self.text()[at..close].is_empty() {
            " "
        } else {
            ""
        };
        self.spliced(at, at, &format!("{joint}{new}{tail}"))
    }

    /// A first statement in a block that holds none, only spaces or comments.
    fn in_empty(
        &self,
        open: usize,
        close: usize,
        parent: &Entry,
        indent: &str,
        new: &str,
    ) -> String {
        let (end, outer) = (self.line_end(), self.indent_of(parent.span().start));
        let within = &self.text()[open + 1..close];
        if within.trim().is_empty() {
            return self.spliced(open + 1, close, &format!("{end}{indent}{new}{end}{outer}"));
        }
        let at = open + 1 + within.trim_end().len();
        self.spliced(at, close, &format!("{end}{indent}{new}{end}{outer}"))
    }

    /// The braces of a statement's block: of the opening and of the closing one.
    fn braces(&self, entry: &Entry) -> Option<(usize, usize)> {
        let from = head_end(entry);
        let rest = self.text().get(from..entry.span().end)?;
        let open = rest.find('{')?;
        let close = rest.rfind('}')?;
        (open < close).then_some((from + open, from + close))
    }

    /// What stands before a statement in a block: as before the last one there, or one level more than before the block.
    fn indent_within(&self, parent: &Entry) -> String {
        let last = parent.children().last();
        let own_line = last.filter(|last| {
            let start = last.span().start;
            let line = self.text()[..start].rfind('\n').map_or(0, |at| at + 1);
            self.text()[line..start].trim().is_empty()
        });
        own_line.map_or_else(
            || format!("{}{STEP}", self.indent_of(parent.span().start)),
            |last| self.indent_of(last.span().start),
        )
    }

    /// The white space with which a line begins.
    fn indent_of(&self, offset: usize) -> String {
        let start = self.text()[..offset].rfind('\n').map_or(0, |at| at + 1);
        let line = &self.text()[start..offset];
        line[..line.len() - line.trim_start().len()].to_owned()
    }
}

/// Where the name, values and properties of a statement end.
fn head_end(entry: &Entry) -> usize {
    let values = entry.arguments().iter().map(|value| value.span().end);
    let properties = entry
        .properties()
        .iter()
        .map(|(_, _, value)| value.span().end);
    values
        .chain(properties)
        .fold(entry.name_span().end, usize::max)
}

/// The statement at the end of a path.
fn find<'a>(root: &'a Entry, names: &[String]) -> Option<&'a Entry> {
    names.iter().try_fold(root, |entry, name| {
        let (name, number) = numbered(name);
        let mut same = entry.children().iter().filter(|child| child.name() == name);
        same.nth(number - 1)
    })
}

/// `flare#2` is the second of its name.
fn numbered(name: &str) -> (&str, usize) {
    name.rsplit_once('#')
        .and_then(|(name, number)| Some((name, number.parse().ok().filter(|&one| one > 0)?)))
        .unwrap_or((name, 1))
}

fn in_a_base(source: &Source, base: &Source, entry: &Entry) -> Finding {
    Finding::error(
        "mend-not-possible",
        format!(
            "“{}” stands in {}, on which {} stands",
            entry.name(),
            base.name,
            source.name
        ),
    )
    .at_text(entry.span(), "stands here")
    .because("other garments may stand on the same one, so it is never changed from here")
    .cure("change it there yourself, or copy the block into this recipe")
}

fn impossible(source: &Source, why: &str) -> Finding {
    Finding::error(
        "mend-not-possible",
        format!("{} cannot be mended: {why}", source.name),
    )
    .because("nothing was changed")
    .cure("make the change by hand")
}

#[cfg(test)]
mod tests;

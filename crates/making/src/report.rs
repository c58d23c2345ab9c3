//! Findings in words for a terminal or a text file: what, where in the file, found, allowed, why, next step.
//!
//! Knows findings, no file of its own. Invariant: any finding can be shown, whatever stands in its texts.

use std::borrow::Cow;
use std::sync::Arc;

use annotate_snippets::{Annotation, AnnotationKind, Group, Level, Renderer, Snippet};
use body::{Measure, Tape};
use document::{Finding, Place, Severity, Source, Span};

use crate::words::{WIDTH, count, file_name, listed, printable, wrapped};

/// Findings one under the other, with an empty line between them; their mends are numbered through.
pub fn report(findings: &[Finding], colour: bool) -> String {
    let renderer = if colour {
        Renderer::styled()
    } else {
        Renderer::plain()
    };
    let renderer = renderer.term_width(WIDTH + 24);
    let mut mends_before = 0;
    let shown = findings.iter().map(|one| {
        let text = shown(one, mends_before, &renderer);
        mends_before += one.mends.len();
        text
    });
    shown.collect::<Vec<_>>().join("\n")
}

/// How many findings there are, and each of them.
pub fn found(findings: &[Finding], colour: bool) -> String {
    if findings.is_empty() {
        return "Found: nothing. All seams, girths, darts and outlines agree.\n".to_owned();
    }
    format!(
        "Found: {}.\n\n{}",
        tally(findings),
        report(findings, colour)
    )
}

/// How many findings there are of each kind: "1 error, 2 warnings and 1 note".
pub fn tally(findings: &[Finding]) -> String {
    let kinds = [Severity::Error, Severity::Warning, Severity::Note];
    let counted = kinds.map(|kind| (number_of(findings, kind), kind.word()));
    let said: Vec<String> = counted
        .iter()
        .filter(|(number, _)| *number > 0)
        .map(|(number, word)| count(*number, word))
        .collect();
    if said.is_empty() {
        "nothing".to_owned()
    } else {
        listed(&said)
    }
}

/// How many findings are of a kind.
pub fn number_of(findings: &[Finding], severity: Severity) -> usize {
    findings
        .iter()
        .filter(|one| one.severity == severity)
        .count()
}

/// The findings with the lines of the body file in which the measures stand that they name.
pub fn with_tape(findings: &[Finding], tape: &Tape) -> Vec<Finding> {
    let place = |place: &Place| match place {
        Place::Measure(key) => taped(key, tape).unwrap_or_else(|| place.clone()),
        other => other.clone(),
    };
    findings
        .iter()
        .map(|one| Finding {
            places: one.places.iter().map(place).collect(),
            ..one.clone()
        })
        .collect()
}

fn taped(key: &str, tape: &Tape) -> Option<Place> {
    let measure = Measure::from_key(key)?;
    Some(Place::Text {
        span: tape.span(measure)?.clone(),
        label: format!("{}, as taped", measure.label()),
    })
}

/// The findings with files called by their names alone, so that papers do not depend on where they were made.
pub fn with_file_names(findings: &[Finding]) -> Vec<Finding> {
    let place = |place: &Place| match place {
        Place::Text { span, label } => Place::Text {
            span: Span {
                source: Source::new(file_name(&span.source.name), span.source.text.as_str()),
                ..span.clone()
            },
            label: label.clone(),
        },
        other => other.clone(),
    };
    findings
        .iter()
        .map(|one| Finding {
            places: one.places.iter().map(place).collect(),
            ..one.clone()
        })
        .collect()
}

fn shown(finding: &Finding, mends_before: usize, renderer: &Renderer) -> String {
    let level = match finding.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Note => Level::NOTE,
    };
    let before = finding.severity.word().len() + finding.code.len() + "[]: ".len();
    let message = wrapped(&sentence(&printable(&finding.message)), WIDTH - before);
    let mut group: Group<'_> = level
        .primary_title(message)
        .id(finding.code)
        .elements(snippets(finding));
    for (name, words) in footers(finding, mends_before) {
        let words = wrapped(&printable(&words), WIDTH - name.len());
        group = group.element(Level::NOTE.with_name(name).message(words));
    }
    let mut text = renderer.render(&[group]);
    text.push('\n');
    text
}

/// One snippet a file, in the order of the places; the first place is the main one.
fn snippets(finding: &Finding) -> Vec<Snippet<'_, Annotation<'_>>> {
    let mut sources: Vec<&Arc<Source>> = Vec::new();
    for place in &finding.places {
        if let Place::Text { span, .. } = place
            && !sources
                .iter()
                .any(|source| Arc::ptr_eq(source, &span.source) || **source == span.source)
        {
            sources.push(&span.source);
        }
    }
    let snippet = |source: &Arc<Source>| {
        Snippet::source(source.text.clone())
            .path(printable(&source.name))
            .annotations(annotations(finding, source))
    };
    sources.into_iter().map(snippet).collect()
}

/// The first place in any file is the main one, the others are its context.
fn annotations<'a>(finding: &'a Finding, source: &Source) -> Vec<Annotation<'a>> {
    let texts = finding.places.iter().filter_map(|place| match place {
        Place::Text { span, label } => Some((span, label)),
        _ => None,
    });
    let here = texts
        .enumerate()
        .filter(|(_, (span, _))| *span.source == *source);
    here.map(|(index, (span, label))| {
        let kind = if index == 0 {
            AnnotationKind::Primary
        } else {
            AnnotationKind::Context
        };
        // A place of many lines is shown by its first, so that what is said stays short.
        let span = span.first_line();
        let note = kind.span(span.start..span.end);
        if label.is_empty() {
            note
        } else {
            note.label(printable(label))
        }
    })
    .collect()
}

/// What is said below the place: where else, found, allowed, why, next, and what a program can mend.
fn footers(finding: &Finding, mends_before: usize) -> Vec<(Cow<'static, str>, String)> {
    let mut footers: Vec<(Cow<'static, str>, String)> = Vec::new();
    for place in &finding.places {
        if let Some(words) = spoken(place) {
            footers.push(("where".into(), words));
        }
    }
    if let Some(measured) = finding.measured {
        footers.push(("found".into(), measured.to_string()));
    }
    if let Some(allowed) = &finding.allowed {
        footers.push(("allowed".into(), allowed.to_string()));
    }
    for (name, words) in [("why", &finding.reason), ("next", &finding.cure)] {
        if !words.is_empty() {
            footers.push((name.into(), sentence(words)));
        }
    }
    for (number, mend) in (mends_before + 1..).zip(&finding.mends) {
        footers.push((format!("mend {number}").into(), sentence(&mend.words)));
    }
    footers
}

/// A place that is no text.
fn spoken(place: &Place) -> Option<String> {
    let plain = |name: &str| name.replace('-', " ");
    Some(match place {
        Place::Text { .. } => return None,
        Place::Piece(piece) => format!("the {}", plain(piece)),
        Place::Edge { piece, edge, at } => {
            let point = at.map_or_else(String::new, |(x, y)| {
                format!(", at x {x:.0} mm, y {y:.0} mm")
            });
            format!("the {} of the {}{point}", plain(edge), plain(piece))
        }
        Place::Seam(seam) => format!("the {} seam", plain(seam)),
        Place::Measure(key) => {
            let label =
                Measure::from_key(key).map_or_else(|| plain(key), |one| one.label().to_owned());
            format!("the {label} of the body, which was not taped but estimated")
        }
    })
}

/// Words as a sentence: a capital first, but for names of files and the like, and a stop last.
fn sentence(words: &str) -> String {
    let first_word = words.split(' ').next().unwrap_or_default();
    let mut letters = words.chars();
    let Some(first) = letters.next() else {
        return String::new();
    };
    let mut sentence: String = if first_word.contains(['.', '/', '\\']) {
        words.to_owned()
    } else {
        first.to_uppercase().chain(letters).collect()
    };
    if !sentence.ends_with(['.', '!', '?', '…', '}', '"', '”']) {
        sentence.push('.');
    }
    sentence
}

#[cfg(test)]
mod tests {
    use super::*;
    use document::{Allowed, Mend, Quantity};

    #[test]
    fn a_finding_says_what_where_found_allowed_why_and_next() {
        let source = Source::new(
            "dress.kdl",
            "garment \"Dress\" {\n    sleeve cap-ease=\"45 mm\"\n}\n",
        );
        let finding = Finding::warning(
            "cap-ease-large",
            "the sleeve cap is 45 mm longer than the armhole",
        )
        .at_text(&Span::new(&source, 38, 45), "much to ease in")
        .at(Place::Edge {
            piece: "sleeve".into(),
            edge: "cap-front".into(),
            at: Some((3.0, 4.2)),
        })
        .measured(Quantity::mm(45.0), Allowed::AtMost(Quantity::mm(38.0)))
        .because("woven cloth will pucker")
        .cure("Take less.")
        .mend(Mend::property(
            "sleeve",
            "cap-ease",
            "\"38 mm\"",
            "eases in 38 mm",
        ));
        insta::assert_snapshot!(report(&[finding.clone(), finding], false));
    }

    #[test]
    fn any_text_can_be_shown() {
        for text in [
            "",
            "\n",
            "\r\n\t\u{1b}[31mred\u{7}",
            "日本\u{feff}\u{200b}é",
            "x".repeat(100_000).as_str(),
        ] {
            let source = Source::new("", text);
            for (start, end) in [
                (0, 0),
                (0, 1),
                (1, text.len()),
                (text.len(), text.len() + 5),
            ] {
                let finding =
                    Finding::error("x", "").at_text(&Span::new(&source, start, end), text);
                let shown = report(&[finding], false);
                assert!(shown.starts_with("error[x]"), "{shown}");
                assert!(!shown.contains('\u{1b}'), "{shown}");
            }
        }
    }
}

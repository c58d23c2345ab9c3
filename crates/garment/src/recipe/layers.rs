//! A recipe on a recipe: the statements of the base first, then those that override or extend them.
//!
//! Knows which statement counts, not what any of them means. Invariants: every statement is shown in the file where it
//! stands; bases follow each other to an end.

use std::sync::Arc;

use document::{Entry, Finding, Source, Span, check_statements, missing};

/// Recipes may stand on each other as deep as this; a style on a block on a household's usual ease needs three.
const DEEPEST: usize = 8;

/// What `without` can take away.
const PARTS: [&str; 16] = [
    "opening",
    "ease",
    "bodice",
    "skirt",
    "sleeve",
    "waistband",
    "allowances",
    "cloths",
    "lining",
    "waist",
    "facings",
    "interfacing",
    "hems",
    "vents",
    "pockets",
    "steps",
];

/// Where recipes are found: the name as it was written and where it stands give the text.
pub type Sources<'a> = dyn FnMut(&str, &Span) -> Result<Arc<Source>, Finding> + 'a;

/// Statements of one block in all recipes that stand on each other, base first; never none.
#[derive(Clone, Debug)]
pub(super) struct Layers<'a> {
    layers: Vec<&'a Entry>,
}

impl<'a> Layers<'a> {
    /// The garments, base first.
    pub(super) fn of(garments: &'a [Entry]) -> Self {
        Self {
            layers: garments.iter().collect(),
        }
    }

    /// The block of the recipe itself, or of the last one that has it.
    pub(super) fn own(&self) -> &'a Entry {
        self.layers[self.layers.len() - 1]
    }

    /// All blocks, base first.
    pub(super) fn all(&self) -> impl Iterator<Item = &'a Entry> + '_ {
        self.layers.iter().copied()
    }

    /// The statement of this name that counts: that of the last recipe that has it.
    pub(super) fn child(&self, name: &str) -> Option<&'a Entry> {
        self.counting(name).next()
    }

    /// The blocks of this name, to be read line by line.
    pub(super) fn block(&self, name: &str) -> Option<Self> {
        let mut layers: Vec<&Entry> = self.counting(name).collect();
        layers.reverse();
        (!layers.is_empty()).then_some(Self { layers })
    }

    /// Statements of this name from the last recipe back to the first, as far as none was taken away.
    fn counting<'s>(&'s self, name: &'s str) -> impl Iterator<Item = &'a Entry> + 's {
        let mut hidden = false;
        let mut back = self.layers.iter().rev();
        std::iter::from_fn(move || {
            while !hidden && let Some(layer) = back.next() {
                hidden = takes_away(layer, name);
                if let Some(found) = layer.child(name) {
                    return Some(found);
                }
            }
            None
        })
    }
}

fn takes_away(layer: &Entry, name: &str) -> bool {
    layer
        .children_named("without")
        .flat_map(Entry::arguments)
        .any(|value| value.text() == Ok(name))
}

/// The garment of a file and of all files on which it stands, base first; what stands beside them is noted.
pub(super) fn gather(
    source: &Arc<Source>,
    sources: &mut Sources<'_>,
) -> Result<(Vec<Entry>, Vec<Finding>), Vec<Finding>> {
    let (first, mut findings) = garment(source)?;
    let mut garments = vec![first];
    let mut chain = vec![(Arc::clone(source), None::<Span>)];
    while let Some(line) = garments[garments.len() - 1].child("based-on") {
        let written = line
            .argument("the file of another garment")
            .and_then(|value| Ok((value.text()?.to_owned(), value.span().clone())));
        let (name, span) = written.map_err(|finding| vec![finding])?;
        let base = sources(&name, &span).map_err(|finding| vec![named(finding, &span)])?;
        if chain.iter().any(|(known, _)| is_same(known, &base)) {
            return Err(vec![in_a_circle(&name, &span, &base, &chain)]);
        }
        if chain.len() >= DEEPEST {
            return Err(vec![too_deep(&span)]);
        }
        let (next, beside) = garment(&base)?;
        findings.extend(beside);
        garments.push(next);
        chain.push((base, Some(span)));
    }
    garments.reverse();
    Ok((garments, findings))
}

/// One file may be called by two names.
fn is_same(one: &Source, other: &Source) -> bool {
    one.name == other.name || one.text == other.text
}

/// The first garment of a file, and what should not stand beside it.
fn garment(source: &Arc<Source>) -> Result<(Entry, Vec<Finding>), Vec<Finding>> {
    let entries = document::parse(source)?;
    let mut findings = check_statements(&entries, &["garment"]);
    let mut garments = entries.iter().filter(|entry| entry.name() == "garment");
    let Some(garment) = garments.next() else {
        if let Some(body) = entries.iter().find(|entry| entry.name() == "body") {
            return Err(vec![body_instead(body)]);
        }
        findings.push(no_garment(source));
        return Err(findings);
    };
    if let Some(second) = garments.next() {
        findings.push(document::given_twice(
            "statement-given-twice",
            "garment",
            second.name_span(),
        ));
    }
    Ok((garment.clone(), findings))
}

/// What is wrong with `without`: names that are not known, or nothing to take anything from.
pub(super) fn without(garments: &[Entry]) -> Vec<Finding> {
    let mut findings = Vec::new();
    for (index, garment) in garments.iter().enumerate() {
        for line in garment.children_named("without") {
            if index == 0 {
                findings.push(nothing_to_take(line));
            }
            if line.arguments().is_empty() {
                findings.extend(
                    line.argument("the name of a part, such as \"sleeve\"")
                        .err(),
                );
            }
            for value in line.arguments() {
                let choices = PARTS.map(|part| (part, ()));
                findings.extend(value.choice(&choices).err());
            }
        }
    }
    findings
}

fn nothing_to_take(line: &Entry) -> Finding {
    Finding::error(
        "without-base",
        "“without” takes a part of another garment away, and this one stands on none.",
    )
    .at_text(line.name_span(), "from what?")
    .allowed("“without” in a garment with “based-on”")
    .cure("Take it away, or add a line based-on \"block.kdl\".")
}

fn body_instead(body: &Entry) -> Finding {
    Finding::error(
        "body-instead-of-garment",
        "This file holds a body, not a garment.",
    )
    .at_text(body.name_span(), "a body")
    .allowed("a file with “garment”")
    .cure(
        "Give the garment's file here and name this one in it with “body”, or give it as the body.",
    )
}

fn no_garment(source: &Arc<Source>) -> Finding {
    let span = Span {
        source: source.clone(),
        start: 0,
        end: source.text.len().min(1),
    };
    missing(
        "garment-missing",
        "garment",
        &span,
        "garment \"Summer dress\" { … }",
    )
}

/// A finding about a file that could not be read, with the line that names the file.
fn named(finding: Finding, span: &Span) -> Finding {
    if finding.places.is_empty() {
        finding.at_text(span, "named here")
    } else {
        finding
    }
}

fn in_a_circle(
    name: &str,
    span: &Span,
    base: &Source,
    chain: &[(Arc<Source>, Option<Span>)],
) -> Finding {
    let whole = chain.iter().skip_while(|(known, _)| !is_same(known, base));
    let others: Vec<&Span> = whole
        .skip(1)
        .filter_map(|(_, span)| span.as_ref())
        .collect();
    let finding = Finding::error(
        "recipes-in-a-circle",
        format!("“{name}” stands, in the end, on itself."),
    )
    .at_text(span, "back to the beginning");
    others
        .into_iter()
        .fold(finding, |finding, span| {
            finding.at_text(span, "then this one")
        })
        .allowed("a garment that stands on another, which stands on none of those before it")
        .cure("Take one “based-on” out of the circle.")
}

fn too_deep(span: &Span) -> Finding {
    Finding::error(
        "recipes-too-deep",
        format!("More than {DEEPEST} garments stand on each other."),
    )
    .at_text(span, "one too many")
    .allowed(format!("at most {DEEPEST} files that stand on each other"))
    .cure("Put the statements of some of them into one file.")
}

#[cfg(test)]
mod tests;

//! Cures that are steps: tried on the pattern before they are offered.
//!
//! Knows the steps by name and no check. Invariant: a step that is offered can be done on the styled pieces as they are, and
//! afterwards the check that found something finds less.

use document::{Finding, Mend};

use crate::piece::Piece;
use crate::seam::Pattern;
use crate::step::{self, Arguments, Value};

/// A step that might cure something.
pub(super) struct Cure {
    /// Name of the step.
    pub(super) step: &'static str,
    /// Its values.
    pub(super) arguments: Arguments,
    /// What it does to the garment, in a few words.
    pub(super) words: String,
}

impl Cure {
    /// A step of some values.
    pub(super) fn new(step: &'static str, arguments: Arguments, words: impl Into<String>) -> Self {
        let words = words.into();
        Self {
            step,
            arguments,
            words,
        }
    }

    /// The pattern with the step done; `None` where it is refused.
    fn tried(&self, pattern: &Pattern) -> Option<Pattern> {
        let kind = step::find(self.step)?;
        Some(kind.run(pattern, &self.arguments).ok()?.pattern)
    }

    /// The step as a recipe has it.
    fn line(&self) -> String {
        let mut names: Vec<&str> = Vec::new();
        for given in &self.arguments.given {
            if !names.contains(&given.name.as_str()) {
                names.push(&given.name);
            }
        }
        let values = names.into_iter().map(|name| {
            let values: Vec<String> = self.arguments.all(name).map(written).collect();
            format!(" {name}=\"{}\"", values.join(", "))
        });
        std::iter::once(self.step.to_owned())
            .chain(values)
            .collect()
    }
}

/// A value as it stands in a recipe.
fn written(value: &Value) -> String {
    match value {
        Value::Named(named) if named.piece.is_empty() => named.name.clone(),
        Value::Named(named) if named.name.is_empty() => named.piece.clone(),
        Value::Named(named) => format!("{}.{}", named.piece, named.name),
        Value::Length(mm) => format!("{mm:.1} mm"),
        Value::Choice(word) | Value::Text(word) => word.clone(),
        Value::Angle(angle) => format!("{:.1} deg", angle.degrees()),
        Value::Number(number) => number.to_string(),
        Value::Count(count) => count.to_string(),
        Value::Flag(flag) => flag.to_string(),
        Value::Place(_) => String::new(),
    }
}

/// Most cures that one finding carries: more would be a list, not advice.
const MOST: usize = 3;

/// Findings with those cures that work: of the candidates for each, in order, the ones after which the same checks find
/// less than before, and not this.
pub(super) fn with_cures(
    pattern: &Pattern,
    found: Vec<Finding>,
    again: fn(&Pattern) -> Vec<Finding>,
    candidates: impl Fn(&Pattern, &Finding) -> Vec<Cure>,
) -> Vec<Finding> {
    if found.is_empty() {
        return found;
    }
    let styled = styled(pattern);
    let before = again(&styled);
    let add = |mut finding: Finding| {
        // What only derived layers have is cured in the pieces that they follow.
        let Some(own) = before.iter().find(|one| is_same(one, &finding)) else {
            return finding;
        };
        let cures = candidates(&styled, own).into_iter();
        let working = cures.filter(|cure| {
            cure.tried(&styled).is_some_and(|after| {
                let left = again(&after);
                left.len() < before.len() && !left.iter().any(|one| is_same(one, own))
            })
        });
        for cure in working.take(MOST) {
            finding = finding.mend(Mend::line("steps", cure.line(), cure.words));
        }
        finding
    };
    found.into_iter().map(add).collect()
}

fn is_same(one: &Finding, other: &Finding) -> bool {
    one.code == other.code && one.places == other.places && one.message == other.message
}

/// The pieces that steps see: without the layers that are derived after the last of them.
fn styled(pattern: &Pattern) -> Pattern {
    let is_derived = |piece: &Piece| pattern.makeup.is_derived(&piece.name);
    let pieces = pattern.pieces.iter().filter(|piece| !is_derived(piece));
    let mut styled = Pattern {
        pieces: pieces.cloned().collect(),
        girths: pattern.girths.clone(),
        ..Pattern::default()
    };
    let there = pattern.seams.iter().filter(|seam| {
        let mut all = seam.held.iter().chain(&seam.worked);
        all.all(|stretch| !styled.edges_of(stretch).is_empty())
    });
    styled.seams = there.cloned().collect();
    styled
}

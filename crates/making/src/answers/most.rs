//! The most of a number that a cloth allows: "as full as this cloth allows", "as long as this left-over allows".
//!
//! Every value that is tried is drafted anew with all checks and laid; it counts where no error is new and a lay is short
//! enough. Values are tried further and further off until one fails, then halved between. More search may find a lay where less
//! did not, so the value above the answer is tried again with other seeds before it is given up. Invariants: the answer has a
//! proven lay and no new error; the value one step above it was tried with every seed, or is beyond the number's bounds.

use std::collections::BTreeMap;
use std::sync::Arc;

use cloth::answers::{Change, Within, within};
use cloth::lay::{Effort, Lay, Told};
use cloth::nest::Continue;
use document::{Finding, Mend, Source};
use garment::recipe::numbers::Number;
use pattern::Pattern;

use super::{Ask, Drafter, Grid, Hearing, changed, laid, new_errors, number, room};
use crate::Draft;
use crate::lays::Laid;

/// Why a value is too much.
#[derive(Clone, Debug, PartialEq)]
pub enum Why {
    /// No lay was found that is short enough; how long the shortest is, mm, where there is one.
    TooLong(Option<f64>),
    /// No lay can be so short: a bound, mm.
    Impossible(f64),
    /// The garment cannot be drafted so, or has errors that it did not have.
    Refused(Vec<Finding>),
}

/// What came of one value.
#[derive(Clone, Debug, PartialEq)]
pub enum Outcome {
    /// It fits: a lay of so many mm.
    Fits(f64),
    /// It does not.
    Misses(Why),
}

/// A value that was tried.
#[derive(Clone, Debug, PartialEq)]
pub struct Probe {
    /// The value.
    pub value: f64,
    /// What came of it.
    pub outcome: Outcome,
}

/// The largest value that fits.
#[derive(Clone, Debug, PartialEq)]
pub struct Found {
    /// The value.
    pub value: f64,
    /// The garment's text with it.
    pub text: Arc<Source>,
    /// The change that gives it.
    pub mend: Mend,
    /// The garment with it, changes and all.
    pub pattern: Pattern,
    /// The lay that proves it.
    pub laid: Laid,
}

/// The next value, and why it is too much.
#[derive(Clone, Debug, PartialEq)]
pub struct Missed {
    /// The value.
    pub value: f64,
    /// Why it is too much.
    pub why: Why,
}

/// How much of a number a cloth allows.
#[derive(Clone, Debug, PartialEq)]
pub struct Most {
    /// The number.
    pub number: &'static str,
    /// What a person calls it.
    pub label: &'static str,
    /// What it is as the garment stands.
    pub now: Option<f64>,
    /// How long a lay may be as it is laid, mm; infinite on a left-over of odd outline.
    pub room: f64,
    /// The largest value that fits, if any does.
    pub found: Option<Found>,
    /// The next value; none where the largest is the number's own bound.
    pub missed: Option<Missed>,
    /// All values that were tried, from the least.
    pub probes: Vec<Probe>,
    /// Whether it was stopped before it was done.
    pub stopped: bool,
}

/// Looks for the largest value of a number for which a garment fits its cloth; see the module.
///
/// `changes` are made to every garment after it is drafted. `ceiling` is a value above which nothing is tried.
pub fn most(
    ask: &Ask<'_>,
    number: &'static Number,
    (changes, ceiling): (&[Change], Option<f64>),
    draft: &mut Drafter<'_>,
    hear: &mut Hearing<'_>,
) -> Result<Most, Finding> {
    let grid = Grid::of(number).ok_or_else(|| word(number))?;
    let last = ceiling.map_or(grid.last, |ceiling| grid.steps(ceiling));
    let now = number::now(&ask.draft.recipe, number);
    let mut search = Search {
        ask,
        number,
        grid: Grid { last, ..grid },
        changes,
        room: room(&ask.goods.cloth)?,
        draft,
        hear,
        outcomes: BTreeMap::new(),
        best: None,
        stopped: false,
    };
    let begin = now.map_or((grid.first + last) / 2, |now| grid.steps(now).min(last));
    search.run(begin);
    Ok(search.told(now))
}

fn word(number: &Number) -> Finding {
    Finding::error(
        "number-not-known",
        format!("“{}” is a word and cannot be more or less.", number.id),
    )
    .cure("Name a number.")
}

/// The best so far: steps, text, pattern, lay.
struct Best {
    steps: i64,
    text: Arc<Source>,
    pattern: Pattern,
    lay: Lay,
}

struct Search<'a, 'd, 'h> {
    ask: &'a Ask<'a>,
    number: &'static Number,
    grid: Grid,
    changes: &'a [Change],
    room: f64,
    draft: &'a mut Drafter<'d>,
    hear: &'a mut Hearing<'h>,
    outcomes: BTreeMap<i64, Outcome>,
    best: Option<Best>,
    stopped: bool,
}

impl Search<'_, '_, '_> {
    fn run(&mut self, begin: i64) {
        if self.fits(begin) {
            self.climb(begin);
        } else {
            self.descend(begin);
        }
        self.confirm();
    }

    /// From a value that fits upwards, in strides that double, until one does not.
    fn climb(&mut self, from: i64) {
        let (mut low, mut stride) = (from, 1);
        while low < self.grid.last && !self.stopped {
            let next = (low + stride).min(self.grid.last);
            if !self.fits(next) {
                return self.halve(low, next);
            }
            (low, stride) = (next, 2 * stride);
        }
    }

    /// From a value that does not fit downwards, until one does.
    fn descend(&mut self, from: i64) {
        let (mut high, mut stride) = (from, 1);
        while high > self.grid.first && !self.stopped {
            let next = (high - stride).max(self.grid.first);
            if self.fits(next) {
                return self.halve(next, high);
            }
            (high, stride) = (next, 2 * stride);
        }
    }

    fn halve(&mut self, mut low: i64, mut high: i64) {
        while high - low > 1 && !self.stopped {
            let middle = (low + high) / 2;
            if self.fits(middle) {
                low = middle;
            } else {
                high = middle;
            }
        }
    }

    /// Tries the value above the best with the other seeds, and goes on from there where one of them finds a lay.
    fn confirm(&mut self) {
        while let Some(best) = &self.best {
            let next = best.steps + 1;
            if next > self.grid.last || self.stopped || !self.again(next) {
                return;
            }
            self.climb(next);
        }
    }

    fn fits(&mut self, steps: i64) -> bool {
        if let Some(outcome) = self.outcomes.get(&steps) {
            return matches!(outcome, Outcome::Fits(_));
        }
        let first = self.ask.trials.seed;
        self.tried(steps, &[first])
    }

    fn again(&mut self, steps: i64) -> bool {
        match self.outcomes.get(&steps) {
            Some(Outcome::Fits(_)) => true,
            Some(Outcome::Misses(Why::TooLong(_))) => {
                let trials = self.ask.trials;
                let others: Vec<u64> = (1..trials.seeds).map(|more| trials.seed + more).collect();
                !others.is_empty() && self.tried(steps, &others)
            }
            Some(_) => false,
            None => self.fits(steps),
        }
    }

    /// Drafts a value and lays it with some seeds, until a lay is short enough.
    fn tried(&mut self, steps: i64, seeds: &[u64]) -> bool {
        let value = self.grid.value(steps);
        let words = format!(
            "{} {}",
            self.number.label,
            number::shown(self.number, value)
        );
        self.stopped |= (self.hear)(&words) == Continue::No;
        if self.stopped {
            return false;
        }
        let outcome = match self.drafted(value) {
            Err(findings) => Outcome::Misses(Why::Refused(findings)),
            Ok((text, garment)) => {
                let mut outcome = Outcome::Misses(Why::TooLong(None));
                for &seed in seeds {
                    outcome = shorter(outcome, self.laid(steps, &text, &garment, seed, &words));
                    if self.stopped || !matches!(outcome, Outcome::Misses(Why::TooLong(_))) {
                        break;
                    }
                }
                outcome
            }
        };
        if self.stopped && matches!(outcome, Outcome::Misses(_)) {
            return false;
        }
        let fits = matches!(outcome, Outcome::Fits(_));
        let known = self.outcomes.remove(&steps);
        let outcome = known.map_or(outcome.clone(), |known| shorter(known, outcome));
        self.outcomes.insert(steps, outcome);
        fits
    }

    /// The text with a value, and the garment that comes of it.
    fn drafted(&mut self, value: f64) -> Result<(Arc<Source>, Draft), Vec<Finding>> {
        let texts = (self.ask.source, self.ask.bases);
        let text = number::text(texts, self.number, value).map_err(|finding| vec![finding])?;
        let draft = (self.draft)(&text)?;
        let errors = new_errors(self.ask.draft, &draft);
        if errors.is_empty() {
            Ok((text, draft))
        } else {
            Err(errors)
        }
    }

    fn laid(
        &mut self,
        steps: i64,
        text: &Arc<Source>,
        draft: &Draft,
        seed: u64,
        words: &str,
    ) -> Outcome {
        let Ask {
            goods,
            wishes,
            trials,
            ..
        } = self.ask;
        let (pattern, wishes) = match changed(&draft.garment.pattern, wishes, self.changes) {
            Ok(changed) => changed,
            Err(finding) => return Outcome::Misses(Why::Refused(vec![finding])),
        };
        let effort = Effort {
            evaluations: Some(trials.evaluations),
            time: None,
            seed,
        };
        let start: Vec<Lay> = self.best.iter().map(|best| best.lay.clone()).collect();
        let (hear, stopped) = (&mut *self.hear, &mut self.stopped);
        let mut progress = |_: Told<'_>| {
            let answer = hear(words);
            *stopped |= answer == Continue::No;
            answer
        };
        let found = within(
            &pattern,
            &goods.layers,
            &goods.cloth,
            &wishes,
            (self.room, &effort),
            &start,
            &mut progress,
        );
        match found {
            Err(findings) => Outcome::Misses(Why::Refused(findings)),
            Ok(Within::Impossible(bound)) => Outcome::Misses(Why::Impossible(bound)),
            Ok(Within::NotFound(lay)) => Outcome::Misses(Why::TooLong(lay.map(|lay| lay.length))),
            Ok(Within::Stopped) => Outcome::Misses(Why::TooLong(None)),
            Ok(Within::Lay(lay)) => {
                let length = lay.length;
                if self.best.as_ref().is_none_or(|best| best.steps < steps) {
                    self.best = Some(Best {
                        steps,
                        text: Arc::clone(text),
                        pattern,
                        lay: *lay,
                    });
                }
                Outcome::Fits(length)
            }
        }
    }

    fn told(mut self, now: Option<f64>) -> Most {
        let best = self.best.take();
        let next = best.as_ref().map_or(self.grid.first, |best| best.steps + 1);
        let missed = self.outcomes.get(&next).and_then(|outcome| match outcome {
            Outcome::Misses(why) => Some(Missed {
                value: self.grid.value(next),
                why: why.clone(),
            }),
            Outcome::Fits(_) => None,
        });
        let found = best.and_then(|best| {
            let value = self.grid.value(best.steps);
            Some(Found {
                value,
                text: best.text,
                mend: number::mend(self.number, value),
                laid: laid(&best.pattern, self.ask.goods, best.lay)?,
                pattern: best.pattern,
            })
        });
        let probe = |(steps, outcome): (&i64, &Outcome)| Probe {
            value: self.grid.value(*steps),
            outcome: outcome.clone(),
        };
        Most {
            number: self.number.id,
            label: self.number.label,
            now,
            room: self.room,
            found,
            missed,
            probes: self.outcomes.iter().map(probe).collect(),
            stopped: self.stopped,
        }
    }
}

/// Of two outcomes of one value the better one.
fn shorter(one: Outcome, other: Outcome) -> Outcome {
    use Outcome::{Fits, Misses};
    match (&one, &other) {
        (Fits(_), _) | (Misses(Why::TooLong(Some(_))), Misses(Why::TooLong(None))) => one,
        (Misses(Why::TooLong(Some(a))), Misses(Why::TooLong(Some(b)))) if a <= b => one,
        _ => other,
    }
}

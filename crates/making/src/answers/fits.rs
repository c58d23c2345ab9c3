//! Whether a garment fits the cloth on hand and, where it does not, what would make it fit.
//!
//! First every single change of how it is laid or pieced, and every style number made smaller; where none suffices, all changes
//! together, of which those that are not needed are given up again, and then numbers made smaller on top of them. Invariants:
//! every remedy has a proven lay within the cloth; no change of a remedy could be left out.

use std::sync::Arc;

use cloth::answers::{Change, Within, candidates, within};
use cloth::lay::{Effort, Lay, Told, Way, Wishes};
use cloth::nest::Continue;
use document::{Finding, Source};
use garment::recipe::numbers::Number;
use pattern::Pattern;

use super::most::Found;
use super::{Ask, Drafter, Grid, Hearing, changed, laid, most, new_errors, number, room, words};
use crate::lays::{Goods, Laid};

/// Style numbers that are made smaller where a garment does not fit: those that take cloth and leave fit alone.
const REDUCED: [&str; 7] = [
    "skirt.fullness",
    "skirt.sweep",
    "skirt.length",
    "skirt.overlap",
    "sleeve.length",
    "hems.skirt",
    "waistband.height",
];
/// To what share of itself a style number may be made smaller before it is another garment; common practice, no source.
const LEAST_SHARE: f64 = 2.0 / 3.0;

/// One thing to do so that it fits.
#[derive(Clone, Debug, PartialEq)]
pub enum Doing {
    /// It is laid or pieced otherwise.
    Change(Change),
    /// A style number is made smaller.
    Number {
        /// Its name.
        id: &'static str,
        /// What a person calls it.
        label: &'static str,
        /// What it is as the garment stands.
        from: f64,
        /// The largest value that fits.
        to: f64,
        /// The garment's text with it.
        text: Arc<Source>,
    },
}

/// What makes it fit.
#[derive(Clone, Debug, PartialEq)]
pub struct Remedy {
    /// All of these together.
    pub doings: Vec<Doing>,
    /// The garment with them.
    pub pattern: Pattern,
    /// The lay that proves it.
    pub laid: Laid,
}

/// Whether it fits.
#[derive(Clone, Debug, PartialEq)]
pub struct Fits {
    /// How long a lay may be as it is laid, mm; infinite on a left-over of odd outline.
    pub room: f64,
    /// The lay that fits, where one was found.
    pub yes: Option<Laid>,
    /// The shortest lay that was found where none fits, mm.
    pub shortest: Option<f64>,
    /// What no lay can be shorter than, mm, where that alone forbids it.
    pub impossible: Option<f64>,
    /// What would make it fit, changes of the lay first.
    pub remedies: Vec<Remedy>,
    /// Whether it was stopped before everything was tried.
    pub stopped: bool,
}

impl Fits {
    /// That a lay that is known fits, where it does.
    pub fn known(laid: &Laid) -> Option<Self> {
        let room = room(&laid.goods.cloth).ok()?;
        let shown = laid.lays.first()?;
        (shown.lay.length <= room).then(|| Self {
            room,
            yes: Some(laid.clone()),
            shortest: None,
            impossible: None,
            remedies: Vec::new(),
            stopped: false,
        })
    }
}

/// Says whether a garment fits its cloth and, if not, what would make it fit.
pub fn fits(
    ask: &Ask<'_>,
    draft: &mut Drafter<'_>,
    hear: &mut Hearing<'_>,
) -> Result<Fits, Vec<Finding>> {
    let room = room(&ask.goods.cloth).map_err(|finding| vec![finding])?;
    let mut search = Search {
        ask,
        room,
        hear,
        stopped: false,
    };
    let pattern = &ask.draft.garment.pattern;
    let mut fits = Fits {
        room,
        yes: None,
        shortest: None,
        impossible: None,
        remedies: Vec::new(),
        stopped: false,
    };
    match search.lay(pattern, ask.wishes, "as it stands")? {
        Within::Lay(lay) => fits.yes = laid(pattern, ask.goods, *lay),
        Within::NotFound(lay) => fits.shortest = lay.map(|lay| lay.length),
        Within::Impossible(bound) => fits.impossible = Some(bound),
        Within::Stopped => {}
    }
    if fits.yes.is_none() && !search.stopped {
        fits.remedies = search.remedies(draft);
    }
    fits.stopped = search.stopped;
    Ok(fits)
}

struct Search<'a, 'h> {
    ask: &'a Ask<'a>,
    room: f64,
    hear: &'a mut Hearing<'h>,
    stopped: bool,
}

impl Search<'_, '_> {
    fn remedies(&mut self, draft: &mut Drafter<'_>) -> Vec<Remedy> {
        let pattern = &self.ask.draft.garment.pattern;
        let changes = self.changes();
        let single = changes.iter().map(std::slice::from_ref);
        let mut remedies: Vec<Remedy> = single.filter_map(|one| self.with(pattern, one)).collect();
        remedies.extend(self.smaller(&[], draft));
        if remedies.is_empty() && !self.stopped {
            let together = self.possible(pattern, &changes);
            match self.with(pattern, &together) {
                Some(_) => remedies.extend(self.needed(pattern, together)),
                None if !together.is_empty() => remedies.extend(self.smaller(&together, draft)),
                None => {}
            }
        }
        remedies
    }

    /// What could be done otherwise: with the ways that were asked for, or all of them.
    fn changes(&self) -> Vec<Change> {
        let Ask {
            draft,
            goods,
            wishes,
            ..
        } = self.ask;
        let pattern = &draft.garment.pattern;
        let changes = match wishes.ways.as_slice() {
            [way] => candidates(pattern, &goods.layers, *way, &Way::ALL),
            // Where every way may be tried, a piece can lie whole already.
            _ => candidates(pattern, &goods.layers, Way::Open, &[]),
        };
        let allowed = changes.into_iter();
        allowed
            .filter(|one| !one.is_forbidden(&goods.cloth))
            .collect()
    }

    /// The remedy of some changes together, if they suffice.
    fn with(&mut self, pattern: &Pattern, changes: &[Change]) -> Option<Remedy> {
        if self.stopped || changes.is_empty() {
            return None;
        }
        let said: Vec<String> = changes
            .iter()
            .map(|change| words::change_words(pattern, change))
            .collect();
        let (pattern, wishes) = self.sound(pattern, changes)?;
        let found = self.lay(&pattern, &wishes, &said.join(", ")).ok()?.lay()?;
        Some(Remedy {
            doings: changes.iter().cloned().map(Doing::Change).collect(),
            laid: laid(&pattern, self.ask.goods, found)?,
            pattern,
        })
    }

    /// The garment with changes, where they can be made without a new error.
    fn sound(&self, pattern: &Pattern, changes: &[Change]) -> Option<(Pattern, Wishes)> {
        let found = changed(pattern, self.ask.wishes, changes).ok()?;
        let errors = |pattern: &Pattern| {
            let findings = pattern::check::all(pattern);
            let errors = findings.iter().map(|one| one.severity);
            errors
                .filter(|one| *one == document::Severity::Error)
                .count()
        };
        (errors(&found.0) <= errors(pattern)).then_some(found)
    }

    /// The changes that can be made one after another, one of each piece; a way only where it is the only one.
    fn possible(&self, pattern: &Pattern, changes: &[Change]) -> Vec<Change> {
        let mut together: Vec<Change> = Vec::new();
        for change in changes {
            let clashes = together.iter().any(|known| is_of_one(known, change));
            if clashes || matches!(change, Change::Way(_)) {
                continue;
            }
            together.push(change.clone());
            if self.sound(pattern, &together).is_none() {
                together.pop();
            }
        }
        together
    }

    /// Gives up one change after another as long as the others suffice.
    fn needed(&mut self, pattern: &Pattern, mut changes: Vec<Change>) -> Option<Remedy> {
        let mut best = None;
        let mut at = 0;
        while at < changes.len() && changes.len() > 1 {
            let mut fewer = changes.clone();
            fewer.remove(at);
            match self.with(pattern, &fewer) {
                Some(remedy) => {
                    best = Some(remedy);
                    changes = fewer;
                }
                None => at += 1,
            }
        }
        best.or_else(|| self.with(pattern, &changes))
    }

    /// Every style number made smaller until it fits, on top of some changes.
    fn smaller(&mut self, changes: &[Change], draft: &mut Drafter<'_>) -> Vec<Remedy> {
        let mut remedies = Vec::new();
        for id in REDUCED {
            if self.stopped {
                break;
            }
            let Ok(number) = number::find(&self.ask.draft.recipe, id) else {
                continue;
            };
            remedies.extend(self.one_smaller(number, changes, draft));
        }
        remedies
    }

    fn one_smaller(
        &mut self,
        number: &'static Number,
        changes: &[Change],
        draft: &mut Drafter<'_>,
    ) -> Option<Remedy> {
        let now = number::now(&self.ask.draft.recipe, number)?;
        let grid = Grid::of(number)?;
        let (least, top) = (grid.steps(now * LEAST_SHARE) + 1, grid.steps(now));
        // Where the least does not fit, nothing does: one lay instead of many.
        if least >= top || !self.is_enough(number, grid.value(least), changes, draft) {
            return None;
        }
        let below = grid.value(top - i64::from(grid.value(top) >= now));
        let hear = &mut *self.hear;
        let found = most(self.ask, number, (changes, Some(below)), draft, hear).ok()?;
        self.stopped |= found.stopped;
        let Found {
            value,
            text,
            pattern,
            laid,
            ..
        } = found.found?;
        let number = Doing::Number {
            id: number.id,
            label: number.label,
            from: now,
            to: value,
            text,
        };
        let mut doings: Vec<Doing> = changes.iter().cloned().map(Doing::Change).collect();
        doings.push(number);
        Some(Remedy {
            doings,
            pattern,
            laid,
        })
    }

    fn is_enough(
        &mut self,
        number: &'static Number,
        value: f64,
        changes: &[Change],
        draft: &mut Drafter<'_>,
    ) -> bool {
        let texts = (self.ask.source, self.ask.bases);
        let Ok(text) = number::text(texts, number, value) else {
            return false;
        };
        let Ok(trial) = draft(&text) else {
            return false;
        };
        if !new_errors(self.ask.draft, &trial).is_empty() {
            return false;
        }
        let said = format!("{} {}", number.label, number::shown(number, value));
        changed(&trial.garment.pattern, self.ask.wishes, changes)
            .ok()
            .and_then(|(pattern, wishes)| self.lay(&pattern, &wishes, &said).ok()?.lay())
            .is_some()
    }

    /// Looks for a lay within the room with one seed after another.
    fn lay(
        &mut self,
        pattern: &Pattern,
        wishes: &Wishes,
        words: &str,
    ) -> Result<Within, Vec<Finding>> {
        let Ask { goods, trials, .. } = self.ask;
        let mut shortest: Option<Box<Lay>> = None;
        for seed in trials.seed..trials.seed + trials.seeds.max(1) {
            let effort = Effort {
                evaluations: Some(trials.evaluations),
                time: None,
                seed,
            };
            let (hear, stopped) = (&mut *self.hear, &mut self.stopped);
            let mut progress = |_: Told<'_>| {
                let answer = hear(words);
                *stopped |= answer == Continue::No;
                answer
            };
            let room = (self.room, &effort);
            let Goods { cloth, layers } = goods;
            match within(pattern, layers, cloth, wishes, room, &[], &mut progress)? {
                Within::NotFound(lay) => {
                    let both = shortest.into_iter().chain(lay);
                    shortest = both.min_by(|a, b| a.length.total_cmp(&b.length));
                }
                other => return Ok(other),
            }
        }
        Ok(Within::NotFound(shortest))
    }
}

/// Whether two changes are of one piece.
fn is_of_one(one: &Change, other: &Change) -> bool {
    let piece = |change: &Change| match change {
        Change::OffFold { piece } | Change::SeamAtFold { piece } | Change::Pieced { piece, .. } => {
            Some(piece.clone())
        }
        Change::Way(_) | Change::Grain(_) => None,
    };
    piece(one).is_some() && piece(one) == piece(other)
}

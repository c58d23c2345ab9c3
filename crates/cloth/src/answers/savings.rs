//! What each change saves: lays with it and without it, with the same seeds and the same effort.
//!
//! Chance makes two searches for the same garment differ, so every length is found with several seeds, and a saving is told
//! only where all lays with the change are shorter than all lays without it, by more than the lays of one garment differ among
//! themselves. Invariants: a saving is never negative; the lays that prove it are kept.

use document::Finding;
use pattern::check;
use pattern::{Layer, Pattern};

use super::change::{Change, Changed, candidates};
use crate::goods::Cloth;
use crate::lay::{Effort, Lay, Told, Way, Wishes, bounds_of, lays};
use crate::nest::Continue;

/// The least saving that is told, mm: what chalk and scissors take between two rows of pieces; from memory, no source.
pub const LEAST: f64 = 10.0;

/// What is laid on what.
#[derive(Clone, Copy, Debug)]
pub struct Subject<'a> {
    /// The garment.
    pub pattern: &'a Pattern,
    /// The layers that are cut from the cloth.
    pub layers: &'a [Layer],
    /// The cloth.
    pub cloth: &'a Cloth,
    /// What is asked of every lay.
    pub wishes: &'a Wishes,
}

/// How every length is found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Trials {
    /// How many places are tried for one lay.
    pub evaluations: u64,
    /// The first seed.
    pub seed: u64,
    /// How many seeds, one after another.
    pub seeds: u64,
}

impl Default for Trials {
    fn default() -> Self {
        Self {
            evaluations: 300_000,
            seed: 1,
            seeds: 3,
        }
    }
}

/// The lays of one garment in one way, found with several seeds.
#[derive(Clone, Debug, PartialEq)]
pub struct Measured {
    /// The shortest.
    pub best: Lay,
    /// How much longer than the shortest the longest is, mm.
    pub spread: f64,
}

impl Measured {
    fn of(lays: Vec<Lay>) -> Option<Self> {
        let most = lays.iter().map(|lay| lay.length).fold(0.0, f64::max);
        let best = lays
            .into_iter()
            .min_by(|a, b| a.length.total_cmp(&b.length))?;
        let spread = most - best.length;
        Some(Self { best, spread })
    }
}

/// A change, and what it saves.
#[derive(Clone, Debug, PartialEq)]
pub struct Saving {
    /// What is done otherwise.
    pub change: Change,
    /// How much shorter the shortest lay becomes, mm.
    pub saved: f64,
    /// How far that may be off by chance, mm: the lays of one garment differ by so much.
    pub give_or_take: f64,
    /// The garment with the change in it.
    pub pattern: Pattern,
    /// The wishes with the change in them.
    pub wishes: Wishes,
    /// The lay that proves it.
    pub lay: Lay,
}

/// What can be saved, beginning from one way to lay.
#[derive(Clone, Debug, PartialEq)]
pub struct Savings {
    /// The lays without any change.
    pub without: Measured,
    /// What saves, the most first.
    pub savings: Vec<Saving>,
    /// How many changes were tried in all.
    pub tried: usize,
    /// Whether it was stopped before all were.
    pub stopped: bool,
}

/// Measures what changes save, beginning from the shortest lay of a way; none where nothing can be laid in it.
///
/// `others` are the ways that are tried besides. `progress` is told which change is tried, of how many, and may stop it.
pub fn savings(
    subject: &Subject<'_>,
    (way, others): (Way, &[Way]),
    trials: &Trials,
    progress: &mut dyn FnMut(Option<&Change>, usize, usize) -> Continue,
) -> Result<Option<Savings>, Vec<Finding>> {
    let wishes = Wishes {
        ways: vec![way],
        ..subject.wishes.clone()
    };
    let subject = Subject {
        wishes: &wishes,
        ..*subject
    };
    let changes = candidates(subject.pattern, subject.layers, way, others);
    let mut stopped = progress(None, 0, changes.len()) == Continue::No;
    let mut lays = Vec::new();
    for seed in trials.all() {
        lays.extend(one(&subject, trials, seed, &mut stopped, &mut || {
            progress(None, 0, changes.len())
        })?);
        if stopped {
            break;
        }
    }
    let Some(without) = Measured::of(lays) else {
        return Ok(None);
    };
    let mut savings = Vec::new();
    let mut tried = 0;
    for change in &changes {
        if stopped {
            break;
        }
        let mut hear = || progress(Some(change), tried, changes.len());
        let found = saving(&subject, &without, change, trials, &mut stopped, &mut hear);
        savings.extend(found);
        tried += 1;
    }
    savings.sort_by(|a, b| b.saved.total_cmp(&a.saved));
    Ok(Some(Savings {
        without,
        savings,
        tried,
        stopped,
    }))
}

impl Trials {
    fn all(self) -> std::ops::Range<u64> {
        self.seed..self.seed.saturating_add(self.seeds.max(1))
    }

    fn effort(self, seed: u64) -> Effort {
        Effort {
            evaluations: Some(self.evaluations),
            time: None,
            seed,
        }
    }
}

/// The shortest lay of one seed.
fn one(
    subject: &Subject<'_>,
    trials: &Trials,
    seed: u64,
    stopped: &mut bool,
    hear: &mut dyn FnMut() -> Continue,
) -> Result<Option<Lay>, Vec<Finding>> {
    let Subject {
        pattern,
        layers,
        cloth,
        wishes,
    } = *subject;
    let mut progress = |_: Told<'_>| {
        let answer = hear();
        *stopped |= answer == Continue::No;
        answer
    };
    let effort = trials.effort(seed);
    let found = lays(pattern, layers, cloth, wishes, &effort, &[], &mut progress)?;
    Ok(found.lays.into_iter().next())
}

/// What a change saves, if that can be measured.
fn saving(
    subject: &Subject<'_>,
    without: &Measured,
    change: &Change,
    trials: &Trials,
    stopped: &mut bool,
    hear: &mut dyn FnMut() -> Continue,
) -> Option<Saving> {
    if change.is_forbidden(subject.cloth) {
        return None;
    }
    let Changed { pattern, wishes } = change.applied(subject.pattern, subject.wishes).ok()?;
    if pattern != *subject.pattern && makes_errors(subject.pattern, &pattern) {
        return None;
    }
    let changed = Subject {
        pattern: &pattern,
        wishes: &wishes,
        ..*subject
    };
    // A lay that is not shorter than this is none that can be told of: the lays of one garment would differ by more.
    let enough = without.best.length - without.spread.max(LEAST);
    let bound = bounds_of(
        &pattern,
        changed.layers,
        changed.cloth,
        &wishes,
        wishes.ways[0],
    );
    if bound.ok()?.least() > enough {
        return None;
    }
    let mut lays = Vec::new();
    for seed in trials.all() {
        let lay = one(&changed, trials, seed, stopped, hear).ok().flatten()?;
        if *stopped || lay.length > enough {
            return None;
        }
        lays.push(lay);
    }
    let with = Measured::of(lays)?;
    let saved = without.best.length - with.best.length;
    let give_or_take = without.spread.max(with.spread);
    (saved >= LEAST && saved > give_or_take).then_some(Saving {
        change: change.clone(),
        saved,
        give_or_take,
        pattern,
        wishes,
        lay: with.best,
    })
}

/// Whether a check finds more that is wrong than before.
fn makes_errors(before: &Pattern, after: &Pattern) -> bool {
    let errors = |pattern: &Pattern| {
        let findings = check::all(pattern);
        let errors = findings.iter();
        errors
            .filter(|one| one.severity == document::Severity::Error)
            .count()
    };
    errors(after) > errors(before)
}

//! Replay: the steps of a recipe done one after the other, each kept with what was there before and after.
//!
//! A replay can stand on an earlier one: what was done before the first step that changed is taken from there. Invariants:
//! nothing is edited in place; a replay that stands on another is the same as one from the beginning.

use std::sync::Arc;

use body::Body;
use document::Finding;
use pattern::Pattern;
use pattern::step::{Done, TraceLine};

use super::{Garment, aim, allowances, drafted, finish};
use crate::block::bodice::Witnesses;
use crate::part::{self, Asked};
use crate::recipe::{Recipe, Step};

/// One step as it was done, or left out.
#[derive(Clone, Debug, PartialEq)]
pub struct Replay {
    /// What was asked for.
    pub step: Step,
    /// The pattern before it.
    pub before: Arc<Pattern>,
    /// What came of it; nothing where it is left out.
    pub done: Option<Arc<Deed>>,
}

/// What came of a step.
#[derive(Clone, Debug, PartialEq)]
pub struct Deed {
    /// The pattern after it.
    pub after: Arc<Pattern>,
    /// Lines that a picture of it shows.
    pub lines: Vec<TraceLine>,
    /// What it did, in one sentence.
    pub words: String,
}

impl Replay {
    /// The pattern after the step; the same as before where it is left out.
    pub fn after(&self) -> &Arc<Pattern> {
        self.done.as_ref().map_or(&self.before, |done| &done.after)
    }
}

/// A garment with everything that led to it.
#[derive(Clone, Debug)]
pub struct Replayed {
    recipe: Recipe,
    body: Body,
    block: Arc<Pattern>,
    witnesses: Option<Witnesses>,
    replays: Vec<Replay>,
    pattern: Pattern,
}

impl Replayed {
    /// Drafts the block and does all steps; the finding that stops it points into the recipe.
    pub fn new(recipe: &Recipe, body: &Body) -> Result<Self, Finding> {
        let (block, witnesses) = drafted(recipe, body)?;
        Self::go_on(recipe, body, (Arc::new(block), witnesses), Vec::new())
    }

    /// The same for a recipe or body that differs from an earlier one: begins at the first step that changed.
    pub fn from(previous: &Self, recipe: &Recipe, body: &Body) -> Result<Self, Finding> {
        if *body != previous.body || !same_block(recipe, &previous.recipe) {
            return Self::new(recipe, body);
        }
        let block = (Arc::clone(&previous.block), previous.witnesses.clone());
        Self::go_on(recipe, body, block, previous.kept(recipe).to_vec())
    }

    /// The replays of the steps that a recipe has in common with this one, from the first on.
    pub fn kept(&self, recipe: &Recipe) -> &[Replay] {
        let pairs = self.replays.iter().zip(&recipe.steps);
        let same = pairs.take_while(|(replay, step)| replay.step == **step);
        &self.replays[..same.count()]
    }

    /// The recipe that was replayed.
    pub const fn recipe(&self) -> &Recipe {
        &self.recipe
    }

    /// The pattern before the first step.
    pub fn block(&self) -> &Pattern {
        &self.block
    }

    /// Every step in order.
    pub fn replays(&self) -> &[Replay] {
        &self.replays
    }

    /// The garment.
    pub fn garment(&self) -> Garment {
        Garment {
            pattern: self.pattern.clone(),
            witnesses: self.witnesses.clone(),
            replays: self.replays.clone(),
        }
    }

    /// Does the steps behind those that are done already.
    fn go_on(
        recipe: &Recipe,
        body: &Body,
        (block, witnesses): (Arc<Pattern>, Option<Witnesses>),
        mut replays: Vec<Replay>,
    ) -> Result<Self, Finding> {
        for step in &recipe.steps[replays.len()..] {
            let before = replays.last().map_or(&block, Replay::after);
            let replay = replay(step, before)?;
            replays.push(replay);
        }
        let mut pattern = finish(&block, &replays, recipe);
        part::derive(&mut pattern, &Asked { recipe, body })?;
        allowances::put_written(&mut pattern, recipe);
        allowances::check_written(&pattern, recipe)?;
        pattern::meeting::meet(&mut pattern);
        Ok(Self {
            recipe: recipe.clone(),
            body: body.clone(),
            block,
            witnesses,
            replays,
            pattern,
        })
    }
}

fn replay(step: &Step, before: &Arc<Pattern>) -> Result<Replay, Finding> {
    let is_needed = |part| aim::is_there(before, part);
    let done = if step.off || !step.if_there.as_ref().is_none_or(is_needed) {
        None
    } else {
        let done = do_step(step, before)?;
        Some(Arc::new(Deed {
            after: Arc::new(done.pattern),
            lines: done.lines,
            words: done.words,
        }))
    };
    Ok(Replay {
        step: step.clone(),
        before: Arc::clone(before),
        done,
    })
}

/// Does a step of a recipe on a pattern, whatever came before it: its names are looked up there.
pub fn do_step(step: &Step, pattern: &Pattern) -> Result<Done, Finding> {
    let arguments = aim::arguments(pattern, step)?;
    step.kind.run(pattern, &arguments)
}

/// Whether two recipes differ in their steps at most.
fn same_block(one: &Recipe, other: &Recipe) -> bool {
    let bare = |recipe: &Recipe| Recipe {
        steps: Vec::new(),
        ..recipe.clone()
    };
    bare(one) == bare(other)
}

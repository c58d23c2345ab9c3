//! What would save cloth: changes that are tried one after the other, each proven by a lay.

use std::sync::Arc;

use axum::extract::State;
use axum::response::Response;
use cloth::answers::Trials;
use cloth::lay::{Effort, Told, Wishes};
use cloth::nest::Continue;
use making::answers::{Ask, saved, saving_words};
use making::lays::{Goods, lay_out};
use serde::Deserialize;

use super::AtBench;
use super::lay::{Started, draft_of, drafted, goods_of};
use crate::desk::{Drafted, not_drafted};
use crate::http::answer::Answer;
use crate::http::asked::Sent;
use crate::jobs::Job;

#[derive(Debug, Deserialize)]
pub(crate) struct Asked {
    name: String,
    #[serde(default)]
    layer: Option<String>,
}

/// `POST /api/lay/answers`
pub(crate) async fn answers(State(bench): AtBench, Sent(asked): Sent<Asked>) -> Response {
    let at_work = Arc::clone(&bench);
    bench
        .answer(move |desk| {
            let drafted = drafted(desk, &asked.name)?;
            let goods = goods_of(&drafted, asked.layer.as_deref())?;
            let job = at_work
                .jobs
                .start(move |job| tried(&drafted, &goods, job))?;
            Ok(Started { job })
        })
        .await
}

/// Tries all changes, and says those that save more than the search itself varies.
fn tried(drafted: &Drafted, goods: &Goods, job: &Job) -> Answer<()> {
    let draft = draft_of(drafted)?;
    let (trials, wishes) = (Trials::default(), Wishes::default());
    let effort = Effort {
        evaluations: Some(trials.evaluations),
        seed: trials.seed,
        ..Effort::default()
    };
    let go_on = || {
        if job.is_stopped() {
            Continue::No
        } else {
            Continue::Yes
        }
    };
    let mut listen = |_: Told<'_>| go_on();
    job.tell("Laying the pieces as they are.".to_owned());
    let laid = lay_out(draft, goods, &wishes, &effort, &[], &mut listen);
    let laid = laid.map_err(|findings| not_drafted(&findings))?;
    let ask = Ask {
        source: &drafted.source,
        bases: &drafted.bases,
        draft,
        goods,
        wishes: &wishes,
        trials: &trials,
    };
    let mut hear = |what: &str| {
        if !what.is_empty() {
            job.tell(format!("Trying {what}."));
        }
        go_on()
    };
    let saved = saved(&ask, &laid, &mut hear).map_err(|findings| not_drafted(&findings))?;
    let pattern = &draft.garment.pattern;
    let savings = saved.from.iter().flat_map(|from| &from.savings);
    let mut words: Vec<String> = savings.map(|one| saving_words(pattern, one)).collect();
    // Two ways of folding may say the same.
    words.dedup();
    job.answer(words);
    Ok(())
}

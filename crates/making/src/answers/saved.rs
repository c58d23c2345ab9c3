//! What each change would save on one cloth, beginning from the ways in which it is laid.
//!
//! Invariant: changes are measured from the shortest lay there is and, where that lies open, from the one folded lengthwise as
//! well, since folded cloth is cut in half the time.

use cloth::answers::{Change, Savings, Subject, savings};
use cloth::lay::Way;
use cloth::nest::Continue;
use document::Finding;

use super::{Ask, Hearing, words};
use crate::lays::Laid;

/// What can be saved on one cloth: one list for each way that it begins from.
#[derive(Clone, Debug, PartialEq)]
pub struct Saved {
    /// The lists, the shortest way first.
    pub from: Vec<Savings>,
}

/// Measures what changes would save, beginning from lays that were found; see the module.
pub fn saved(ask: &Ask<'_>, laid: &Laid, hear: &mut Hearing<'_>) -> Result<Saved, Vec<Finding>> {
    let ways: Vec<Way> = laid.lays.iter().map(|shown| shown.lay.way).collect();
    let subject = Subject {
        pattern: &ask.draft.garment.pattern,
        layers: &ask.goods.layers,
        cloth: &ask.goods.cloth,
        wishes: ask.wishes,
    };
    let mut from: Vec<Savings> = Vec::new();
    for way in begin_from(&ways) {
        let mut progress = |change: Option<&Change>, number: usize, of: usize| {
            let what = change.map_or_else(
                || format!("the lay {}", way.title()),
                |change| words::change_words(&ask.draft.garment.pattern, change),
            );
            hear(&format!("{what} ({} of {})", (number + 1).min(of), of))
        };
        let found = savings(&subject, (way, &ways), ask.trials, &mut progress)?;
        let stopped = found.as_ref().is_some_and(|one| one.stopped);
        from.extend(found);
        if stopped || hear("") == Continue::No {
            break;
        }
    }
    Ok(Saved { from })
}

/// The shortest way, and folded lengthwise where that is another.
fn begin_from(ways: &[Way]) -> Vec<Way> {
    let mut from: Vec<Way> = ways.first().copied().into_iter().collect();
    if from != [Way::Lengthwise] && ways.contains(&Way::Lengthwise) {
        from.push(Way::Lengthwise);
    }
    from
}

//! Long work beside the desk: it tells how far it is, and can be stopped.
//!
//! Knows no lay. Invariants: only so many jobs run at once and are remembered; a job that is stopped keeps what it found.

use std::collections::BTreeMap;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, PoisonError};
use std::thread;
use std::time::{Duration, Instant};

use axum::http::StatusCode;
use tokio::sync::watch;

use crate::http::answer::{Answer, Problem};

/// Jobs that may run at once; a search takes all hands that the machine has.
const RUNNING: usize = 2;
/// Jobs that are remembered.
const REMEMBERED: usize = 12;

/// All jobs.
#[derive(Default)]
pub(crate) struct Jobs {
    known: Mutex<Known>,
}

#[derive(Default)]
struct Known {
    last: u64,
    jobs: BTreeMap<u64, Arc<Job>>,
}

/// A piece of long work.
pub(crate) struct Job {
    began: Instant,
    stopped: AtomicBool,
    said: watch::Sender<Said>,
}

/// What a job says.
#[derive(Clone, Debug, Default)]
pub(crate) struct Said {
    /// Counts every word.
    pub(crate) step: u64,
    /// What there is to be shown so far, as JSON.
    pub(crate) found: String,
    /// In words, how far it is.
    pub(crate) words: String,
    /// What was asked, answered.
    pub(crate) answered: Option<Vec<String>>,
    /// How it ended, if it has.
    pub(crate) ended: Option<Ended>,
}

/// How a job ended.
#[derive(Clone, Debug)]
pub(crate) struct Ended {
    /// Whether it was stopped before it was done.
    pub(crate) stopped: bool,
    /// How long it took.
    pub(crate) took: Duration,
    /// What kept it from being done.
    pub(crate) problem: Option<Problem>,
}

impl Jobs {
    /// Starts a job on a thread of its own; `work` gets it to tell how far it is.
    pub(crate) fn start(
        &self,
        work: impl FnOnce(&Job) -> Answer<()> + Send + 'static,
    ) -> Answer<u64> {
        let job = Arc::new(Job {
            began: Instant::now(),
            stopped: AtomicBool::new(false),
            said: watch::Sender::new(Said::default()),
        });
        let id = self.add(&job)?;
        let working = move || {
            let done = catch_unwind(AssertUnwindSafe(|| work(&job)));
            job.end(done.unwrap_or_else(|_| Err(Problem::mistake())).err());
        };
        let started = thread::Builder::new().name("job".to_owned()).spawn(working);
        started.map(|_| id).map_err(|_| {
            self.lock().jobs.remove(&id);
            Problem::new(
                StatusCode::SERVICE_UNAVAILABLE,
                "no-room-to-work",
                "The machine has no room left to search.",
            )
            .next("Close other programs and try again.")
        })
    }

    fn add(&self, job: &Arc<Job>) -> Answer<u64> {
        let mut known = self.lock();
        let running = known.jobs.values().filter(|job| job.is_running()).count();
        if running >= RUNNING {
            return Err(Problem::new(
                StatusCode::CONFLICT,
                "busy",
                "Two searches are running already.",
            )
            .next("Stop one of them, or wait until it is done."));
        }
        known.last += 1;
        let id = known.last;
        known.jobs.insert(id, Arc::clone(job));
        if known.jobs.len() > REMEMBERED {
            let oldest = known.jobs.iter().find(|(_, job)| !job.is_running());
            if let Some(oldest) = oldest.map(|(id, _)| *id) {
                known.jobs.remove(&oldest);
            }
        }
        Ok(id)
    }

    /// A job that is remembered.
    pub(crate) fn find(&self, id: u64) -> Answer<Arc<Job>> {
        let found = self.lock().jobs.get(&id).cloned();
        found.ok_or_else(|| {
            Problem::missing("job-missing", "This search is not known any more.")
                .next("Start it again.")
        })
    }

    /// Stops all jobs.
    pub(crate) fn stop_all(&self) {
        for job in self.lock().jobs.values() {
            job.stop();
        }
    }

    fn lock(&self) -> std::sync::MutexGuard<'_, Known> {
        self.known.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Job {
    fn is_running(&self) -> bool {
        self.said.borrow().ended.is_none()
    }

    /// Asks it to stop; it does at its next word.
    pub(crate) fn stop(&self) {
        self.stopped.store(true, Ordering::Relaxed);
    }

    /// Whether it is to stop.
    pub(crate) fn is_stopped(&self) -> bool {
        self.stopped.load(Ordering::Relaxed)
    }

    /// Shows what was found so far.
    pub(crate) fn show(&self, found: String, words: String) {
        self.said.send_modify(|said| {
            said.step += 1;
            said.found = found;
            said.words = words;
        });
    }

    /// Says what is being done.
    pub(crate) fn tell(&self, words: String) {
        self.said.send_modify(|said| {
            said.step += 1;
            said.words = words;
        });
    }

    /// Answers what was asked.
    pub(crate) fn answer(&self, answers: Vec<String>) {
        self.said.send_modify(|said| {
            said.step += 1;
            said.words = String::new();
            said.answered = Some(answers);
        });
    }

    fn end(&self, problem: Option<Problem>) {
        let ended = Ended {
            stopped: self.is_stopped(),
            took: self.began.elapsed(),
            problem,
        };
        self.said.send_modify(|said| {
            said.step += 1;
            said.ended = Some(ended);
        });
    }

    /// What it says, as soon as that is newer than a step, or after some time.
    pub(crate) async fn said_since(&self, step: u64, patience: Duration) -> Said {
        let mut heard = self.said.subscribe();
        let is_news = |said: &Said| said.step > step || said.ended.is_some();
        let waited = tokio::time::timeout(patience, heard.wait_for(is_news)).await;
        drop(waited);
        self.said.borrow().clone()
    }

    /// How long it has been at work.
    pub(crate) fn elapsed(&self) -> Duration {
        let said = self.said.borrow();
        said.ended
            .as_ref()
            .map_or_else(|| self.began.elapsed(), |ended| ended.took)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[tokio::test]
    async fn a_job_tells_stops_and_is_remembered() {
        let jobs = Jobs::default();
        let id = jobs
            .start(|job| {
                job.show("[1]".to_owned(), "one".to_owned());
                while !job.is_stopped() {
                    thread::yield_now();
                }
                Ok(())
            })
            .expect("there is room");
        let job = jobs.find(id).expect("it is known");
        let said = job.said_since(0, Duration::from_secs(30)).await;
        assert_eq!((said.found.as_str(), said.ended.is_none()), ("[1]", true));
        job.stop();
        let said = job.said_since(said.step, Duration::from_secs(30)).await;
        assert!(
            said.ended
                .is_some_and(|ended| ended.stopped && ended.problem.is_none())
        );
        assert!(jobs.find(id + 1).is_err());
    }

    #[tokio::test]
    async fn a_mistake_in_a_job_is_told() {
        let jobs = Jobs::default();
        let id = jobs.start(|_| panic!("on purpose")).expect("there is room");
        let job = jobs.find(id).expect("it is known");
        let said = job.said_since(0, Duration::from_secs(30)).await;
        let problem = said.ended.and_then(|ended| ended.problem);
        assert_eq!(
            problem.map(|problem| problem.code),
            Some("own-mistake".to_owned())
        );
    }
}

//! Says what is being done when it takes long.
//!
//! Invariants: nothing is written in the first second, nor where nobody looks; the line is wiped away at the end.

use std::io::{Write as _, stderr};
use std::sync::mpsc::{RecvTimeoutError, Sender, channel};
use std::thread::{self, JoinHandle};
use std::time::{Duration, Instant};

/// What takes less than this passes in silence.
const PATIENCE: Duration = Duration::from_secs(1);

/// A line on the error output that says what is being done.
pub(crate) struct Progress {
    speaker: Option<(Sender<&'static str>, JoinHandle<()>)>,
}

impl Progress {
    /// A line that is shown only where `shown`.
    pub(crate) fn new(shown: bool) -> Self {
        let speaker = shown.then(|| {
            let (sender, steps) = channel();
            let started = Instant::now();
            let speak = move || {
                let (mut step, mut said) = ("", false);
                loop {
                    let wait = PATIENCE.saturating_sub(started.elapsed());
                    let next = if said || step.is_empty() {
                        steps.recv().map_err(|_| RecvTimeoutError::Disconnected)
                    } else {
                        steps.recv_timeout(wait)
                    };
                    match next {
                        Ok(new) => (step, said) = (new, false),
                        Err(RecvTimeoutError::Timeout) => {
                            say(&format!("\r\x1b[K{step} …"));
                            said = true;
                        }
                        Err(RecvTimeoutError::Disconnected) => break,
                    }
                }
                if started.elapsed() >= PATIENCE {
                    say("\r\x1b[K");
                }
            };
            (sender, thread::spawn(speak))
        });
        Self { speaker }
    }
}

impl making::Listener for Progress {
    fn step(&self, step: &'static str) {
        if let Some((sender, _)) = &self.speaker {
            // The other side lives as long as this one.
            let _ = sender.send(step);
        }
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if let Some((sender, speaker)) = self.speaker.take() {
            drop(sender);
            let _ = speaker.join();
        }
    }
}

fn say(words: &str) {
    // A terminal that is gone hears nothing.
    let _ = stderr().lock().write_all(words.as_bytes());
}

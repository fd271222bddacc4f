//! Judging behind the window, since a fine run takes longer to judge than a frame lasts.
//!
//! In: a judgement with everything it needs. Out: the outcome, or a sentence on why there is none. A new judgement
//! calls off the one before.
//!
//! Not here: when one is due and what belongs to it (`assess::Stages`), drawing (`results`).
//!
//! Tested by: `tests/window/jobs.rs`, `tests/window/results.rs`.

use crate::assess::{AssessError, PendingJudgement};
use crate::outcome::Outcome;

use crate::window::jobs::job::{Job, Told};

/// What a judgement ends with.
type Judged = Result<Option<Outcome>, AssessError>;

/// Judges in the background, one at a time.
#[derive(Debug)]
pub struct Judging {
    /// What judges: [`PendingJudgement::outcome`] unless a test says otherwise.
    pub judge: fn(&PendingJudgement) -> Judged,
    job: Option<Job<Judged>>,
}

impl Default for Judging {
    fn default() -> Self {
        Self {
            judge: PendingJudgement::outcome,
            job: None,
        }
    }
}

impl Judging {
    /// Starts a judgement; `wake` is called when the outcome is there.
    ///
    /// # Errors
    /// When the system has no thread to give.
    pub fn start(
        &mut self,
        judgement: PendingJudgement,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<()> {
        let judge = self.judge;
        self.job = Some(Job::start("judging", wake, move |teller| {
            teller.tell(judge(&judgement));
        })?);
        Ok(())
    }

    /// The outcome, once it is there; `Ok(None)` where there is nothing to judge.
    ///
    /// `Err` holds what is known of a judgement that broke down.
    pub fn poll(&mut self) -> Option<Result<Option<Outcome>, String>> {
        let first = self.job.as_mut()?.poll().into_iter().next()?;
        self.job = None;
        Some(match first {
            Told::News(judged) => judged.map_err(|problem| problem.to_string()),
            Told::Done => Ok(None),
            Told::Broken(cause) => Err(cause),
        })
    }
}

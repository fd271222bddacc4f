//! Learning from the diary behind the window: which members of the forecast the readings speak for.
//!
//! In: the sums that were last calculated with, the diary. Out: what was learnt, or why nothing was. Another heap or
//! another diary calls off the work before.
//!
//! Not here: the learning (`forecast::learn`), when it is asked for and what follows (`verbs::background`).
//!
//! Tested by: `tests/window/diary_learnt.rs`.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use crate::diary::Diary;
use crate::forecast::Inputs;
use crate::forecast::learn::{Learner, Learnt, NotLearnt};

use crate::window::jobs::job::{Job, Told};

/// What the work ends with.
type Answer = Result<Learnt, NotLearnt>;

/// What came of it.
#[derive(Debug)]
pub enum LearnNews {
    /// This was learnt, of these inputs and this diary.
    Learnt(Box<Learnt>, Arc<Inputs>),
    /// Nothing could be learnt.
    Nothing(NotLearnt),
    /// The work broke down; what is known of it.
    Broken(String),
}

/// Learns in the background, one diary at a time.
#[derive(Debug)]
pub struct Learning {
    /// What learns: [`Learner::learn`] unless a test says otherwise.
    pub learn: fn(&Inputs, &Diary, f64, &AtomicBool) -> Answer,
    of: Option<(Arc<Inputs>, Diary)>,
    job: Option<Job<Answer>>,
}

impl Default for Learning {
    fn default() -> Self {
        Self {
            learn: |inputs, diary, today, stop| Learner::on(today).learn(inputs, diary, stop),
            of: None,
            job: None,
        }
    }
}

impl Learning {
    /// Once a frame while something can be learnt, with the day after the building that today is: starts what is due, takes what was found. `wake` is called when the
    /// answer is there.
    ///
    /// # Errors
    /// When the system has no thread to give.
    pub fn tend(
        &mut self,
        inputs: &Arc<Inputs>,
        (diary, today): (&Diary, f64),
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<Option<LearnNews>> {
        let same = self
            .of
            .as_ref()
            .is_some_and(|(of, read)| Arc::ptr_eq(of, inputs) && read == diary);
        if !same {
            self.of = Some((Arc::clone(inputs), diary.clone()));
            self.job = None;
            let (learn, inputs, diary) = (self.learn, Arc::clone(inputs), diary.clone());
            self.job = Some(Job::start("learning", wake, move |teller| {
                teller.tell(learn(&inputs, &diary, today, teller.stop()));
            })?);
        }
        let Some(job) = &mut self.job else {
            return Ok(None);
        };
        let Some(first) = job.poll().into_iter().next() else {
            return Ok(None);
        };
        self.job = None;
        Ok(match first {
            Told::News(Ok(learnt)) => self
                .of
                .as_ref()
                .map(|(of, _)| LearnNews::Learnt(Box::new(learnt), Arc::clone(of))),
            Told::News(Err(NotLearnt::CalledOff)) | Told::Done => None,
            Told::News(Err(why)) => Some(LearnNews::Nothing(why)),
            Told::Broken(cause) => Some(LearnNews::Broken(cause)),
        })
    }

    /// Calls off what is at work.
    pub fn call_off(&mut self) {
        (self.of, self.job) = (None, None);
    }

    /// Whether a thread is at work.
    pub fn is_busy(&self) -> bool {
        self.job.is_some()
    }
}

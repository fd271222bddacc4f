//! Finding what is wrong with a heap behind the window: causes at once, then tried, then cure after cure.
//!
//! In: the newest question. Out: diagnoses, each knowing more than the one before. Another question calls off the work
//! on the last.
//!
//! Not here: the answer itself (`assess::remedy`), how it looks (`complaint_sheet`).
//!
//! Tested by: `tests/window/complaint.rs`.

use std::sync::Arc;

use crate::assess::remedy::{Diagnosis, Question};
use crate::heap::Projection;
use crate::text::error::{diagnosis_failed, no_thread};

use crate::window::jobs::job::{Job, Told};

/// News of a question: what is known so far, or a sentence.
pub type DiagnosisNews = Result<Arc<Diagnosis>, String>;

/// The search for the newest question.
#[derive(Debug, Default)]
pub struct Diagnosing {
    asked: Option<Question>,
    job: Option<Job<DiagnosisNews>>,
}

impl Diagnosing {
    /// Once a frame while something is asked: takes what was found, starts anew when the question is another. `None`
    /// where nothing is new. `projection` is the heap's, if there is one, for the first guess.
    pub fn tend(
        &mut self,
        question: &Question,
        projection: Option<&Projection>,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> Option<DiagnosisNews> {
        if self.asked.as_ref() != Some(question) {
            self.asked = Some(question.clone());
            let first = question.at_once(projection);
            let started = self.start(question.clone(), wake);
            return Some(match (first, started) {
                (Err(problem), _) => {
                    self.job = None;
                    Err(diagnosis_failed(&problem.to_string()))
                }
                (_, Err(problem)) => Err(no_thread(&problem)),
                (Ok(first), Ok(())) => Ok(Arc::new(first)),
            });
        }
        let told = self.job.as_mut()?.poll();
        let newest = told.into_iter().filter_map(|told| match told {
            Told::News(news) => Some(news),
            Told::Broken(cause) => Some(Err(diagnosis_failed(&cause))),
            Told::Done => None,
        });
        newest.last()
    }

    /// Calls off what is at work and forgets what was asked.
    pub fn call_off(&mut self) {
        *self = Self::default();
    }

    /// Whether a thread is at work.
    pub fn is_busy(&self) -> bool {
        self.job.as_ref().is_some_and(Job::is_running)
    }

    fn start(
        &mut self,
        question: Question,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<()> {
        self.job = Some(Job::start("diagnosis", wake, move |teller| {
            let on_news = |found: &Diagnosis| teller.tell(Ok(Arc::new(found.clone())));
            match question.answer(teller.stop(), on_news) {
                Ok(Some(found)) => teller.tell(Ok(Arc::new(found))),
                Ok(None) => {}
                Err(problem) => teller.tell(Err(diagnosis_failed(&problem.to_string()))),
            }
        })?);
        Ok(())
    }
}

//! Looking for a plan behind the window: every timetable is simulated once for a state of heap and mix, and each
//! wish is answered from that.
//!
//! In: the sums that were last calculated with, a wish. Out: how far it is, then a proposed plan or why there is none.
//!
//! Turnings and waterings of the present plan do not count, so that a plan that was just used needs no new search.
//! Work that is out of date is called off, and what it still sends is heard by nobody.
//!
//! Not here: the search (`forecast::plan_search`), when it is asked for and what its answer leads to
//! (`plan_perform`), how it looks (`plan_sheet`).
//!
//! Tested by: `tests/window/plan_search.rs`.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread::Builder;

use crate::forecast::Inputs;
use crate::forecast::plan_search::{Explored, Proposed, SEEDS, Want, explore};
use crate::outcome::shared;
use crate::outcome::turns::replanned;

/// Most work that can be asked for, in turnings: seven turnings, each with watering.
pub const MOST_WORK: f64 = 11.0;
/// Work first asked for, in turnings.
const USUAL_WORK: f64 = 4.0;
/// Parts that progress is counted in.
const PARTS: f64 = 1000.0;

const NOTHING: &str = "There is nothing to look for a plan for: put something into the mix that rots, and enough of it for a heap.";
const NO_THREAD: &str =
    "The system has no thread to give for the search; close other programs and try again.";
const NO_FACTS: &str =
    "The built-in table of what heat kills cannot be read; reinstall the program.";
const BROKE_DOWN: &str =
    "The search broke down; nothing is lost, change the mix or the heap to try again.";

/// What a person wishes for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wish {
    /// What matters most.
    pub want: Want,
    /// Most work, in turnings; carrying water counts half.
    pub most_work: f64,
}

impl Default for Wish {
    fn default() -> Self {
        Self {
            want: Want::KillSeeds,
            most_work: USUAL_WORK,
        }
    }
}

/// A proposal and the wish that it answers.
#[derive(Debug, Clone, PartialEq)]
pub struct Found {
    /// The wish.
    pub wish: Wish,
    /// The proposal.
    pub proposed: Proposed,
}

/// How far the search is.
#[derive(Debug, Clone, PartialEq)]
pub enum Stage {
    /// Timetables are simulated; the share done, 0-1.
    Looking(f64),
    /// All are simulated, and the newest wish is being answered; the last answer, if there is one.
    Choosing(Option<Arc<Found>>),
    /// The answer.
    Found(Arc<Found>),
    /// There is none; one sentence says why.
    Problem(String),
}

impl Default for Stage {
    fn default() -> Self {
        Self::Looking(0.0)
    }
}

impl Stage {
    /// The answer, once it is that to the newest wish.
    pub fn found(&self) -> Option<&Arc<Found>> {
        match self {
            Self::Found(found) => Some(found),
            _ => None,
        }
    }
}

/// What a thread sends.
enum News {
    Explored(Box<Explored>),
    Proposed(Box<Found>),
    Problem(&'static str),
}

/// A thread at work.
struct Job {
    /// The wish it answers; `None` while it simulates timetables.
    wish: Option<Wish>,
    stop: Arc<AtomicBool>,
    done: Arc<AtomicU64>,
    news: Receiver<News>,
}

impl Drop for Job {
    fn drop(&mut self) {
        // The thread ends within a step of the simulation.
        self.stop.store(true, Ordering::Relaxed);
    }
}

/// The search for the newest state of heap and mix.
#[derive(Default)]
pub struct PlanFinder {
    /// What was last asked about, to see at once that nothing has changed.
    seen: Option<Arc<Inputs>>,
    /// The same without turnings and waterings.
    of: Option<Arc<Inputs>>,
    explored: Option<Arc<Explored>>,
    found: Option<Arc<Found>>,
    problem: Option<&'static str>,
    job: Option<Job>,
}

impl PlanFinder {
    /// Once a frame while a plan is wished for: takes what was found, starts what is missing, says how far it is.
    ///
    /// `wake` is called when an answer is there.
    pub fn tend(
        &mut self,
        inputs: &Arc<Inputs>,
        wish: Wish,
        wake: impl Fn() + Send + 'static,
    ) -> Stage {
        self.match_inputs(inputs);
        self.take_news();
        if self.problem.is_none() {
            self.start_missing(wish, wake);
        }
        if let Some(problem) = self.problem {
            return Stage::Problem(problem.to_owned());
        }
        match (&self.explored, &self.found) {
            (None, _) => Stage::Looking(self.progress()),
            (Some(_), Some(found)) if found.wish == wish => Stage::Found(Arc::clone(found)),
            (Some(_), last) => Stage::Choosing(last.clone()),
        }
    }

    /// Calls off what is at work; what was simulated to the end is kept for this state of heap and mix.
    pub fn call_off(&mut self) {
        self.job = None;
        self.problem = None;
    }

    /// Whether a thread is at work.
    pub fn is_busy(&self) -> bool {
        self.job.is_some()
    }

    /// Lets go what belongs to another state of heap and mix.
    fn match_inputs(&mut self, inputs: &Arc<Inputs>) {
        if self
            .seen
            .as_ref()
            .is_some_and(|seen| Arc::ptr_eq(seen, inputs))
        {
            return;
        }
        self.seen = Some(Arc::clone(inputs));
        let bare = bare(inputs);
        if self.of.as_deref() == Some(&bare) {
            return;
        }
        *self = Self {
            seen: self.seen.take(),
            of: Some(Arc::new(bare)),
            ..Self::default()
        };
    }

    fn take_news(&mut self) {
        let Some(job) = &self.job else { return };
        let news = match job.news.try_recv() {
            Ok(news) => news,
            Err(std::sync::mpsc::TryRecvError::Empty) => return,
            Err(std::sync::mpsc::TryRecvError::Disconnected) => News::Problem(BROKE_DOWN),
        };
        self.job = None;
        match news {
            News::Explored(explored) => self.explored = Some(Arc::from(explored)),
            News::Proposed(found) => self.found = Some(Arc::from(found)),
            News::Problem(problem) => self.problem = Some(problem),
        }
    }

    fn start_missing(&mut self, wish: Wish, wake: impl Fn() + Send + 'static) {
        let Some(inputs) = self.of.clone() else {
            return;
        };
        let started = match &self.explored {
            None if self.job.is_none() => Job::exploring(inputs, wake),
            Some(explored) if self.is_due(wish) => {
                Job::proposing(inputs, Arc::clone(explored), wish, wake)
            }
            _ => return,
        };
        match started {
            Ok(job) => self.job = Some(job),
            Err(_) => self.problem = Some(NO_THREAD),
        }
    }

    /// Whether a wish is neither answered nor being answered.
    fn is_due(&self, wish: Wish) -> bool {
        let answered = self.found.as_ref().is_some_and(|found| found.wish == wish);
        let at_work = self.job.as_ref().is_some_and(|job| job.wish == Some(wish));
        !answered && !at_work
    }

    fn progress(&self) -> f64 {
        let done = self
            .job
            .as_ref()
            .map_or(0, |job| job.done.load(Ordering::Relaxed));
        done as f64 / PARTS
    }
}

impl Job {
    fn exploring(inputs: Arc<Inputs>, wake: impl Fn() + Send + 'static) -> std::io::Result<Self> {
        let done = Arc::new(AtomicU64::new(0));
        let counted = Arc::clone(&done);
        let work = move |stop: &AtomicBool| {
            let Some(facts) = shared() else {
                return News::Problem(NO_FACTS);
            };
            let on_progress = |share: f64| {
                counted.fetch_max((share * PARTS) as u64, Ordering::Relaxed);
            };
            explore(&inputs, SEEDS, facts, stop, on_progress)
                .map_or(News::Problem(NOTHING), |explored| {
                    News::Explored(Box::new(explored))
                })
        };
        Self::start(None, done, work, wake)
    }

    fn proposing(
        inputs: Arc<Inputs>,
        explored: Arc<Explored>,
        wish: Wish,
        wake: impl Fn() + Send + 'static,
    ) -> std::io::Result<Self> {
        let work = move |stop: &AtomicBool| {
            let Some(facts) = shared() else {
                return News::Problem(NO_FACTS);
            };
            explored
                .propose(&inputs, (wish.want, wish.most_work), facts, stop)
                .map_or(News::Problem(NOTHING), |proposed| {
                    News::Proposed(Box::new(Found { wish, proposed }))
                })
        };
        Self::start(Some(wish), Arc::default(), work, wake)
    }

    /// A thread for one piece of work; it sends one piece of news, unless it is called off.
    fn start(
        wish: Option<Wish>,
        done: Arc<AtomicU64>,
        work: impl FnOnce(&AtomicBool) -> News + Send + 'static,
        wake: impl Fn() + Send + 'static,
    ) -> std::io::Result<Self> {
        let (sender, news): (Sender<News>, Receiver<News>) = channel();
        let stop = Arc::new(AtomicBool::new(false));
        let own_stop = Arc::clone(&stop);
        Builder::new()
            .name("plan search".to_owned())
            .spawn(move || {
                // What a broken search leaves behind is dropped with it.
                let told = catch_unwind(AssertUnwindSafe(|| work(&own_stop)))
                    .unwrap_or(News::Problem(BROKE_DOWN));
                if !own_stop.load(Ordering::Relaxed) && sender.send(told).is_ok() {
                    wake();
                }
            })?;
        Ok(Self {
            wish,
            stop,
            done,
            news,
        })
    }
}

/// The same heap with no turnings and waterings in its plan.
fn bare(inputs: &Inputs) -> Inputs {
    let (heap, additions) = replanned(&inputs.heap, &inputs.additions, &[]);
    Inputs {
        heap,
        additions,
        ..inputs.clone()
    }
}

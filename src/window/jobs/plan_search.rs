//! Looking for a plan behind the window: every timetable is simulated once for a state of heap and mix, and each
//! wish is answered from that.
//!
//! In: the sums that were last calculated with, a wish. Out: how far it is, then a proposed plan or why there is none.
//!
//! Turnings and waterings of the present plan do not count, so that a plan that was just used needs no new search.
//! Work that is out of date is called off, and what it still sends is heard by nobody.
//!
//! Not here: the search (`forecast::plan_search`), when it is asked for and what its answer leads to
//! (`verbs::plan`), how it looks (`plan_sheet`).
//!
//! Tested by: `tests/window/plan_search.rs`.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicU64, Ordering};

use crate::forecast::Inputs;
use crate::forecast::plan_search::{Explored, Proposed, SEEDS, Want, explore};
use crate::outcome::shared;
use crate::outcome::turns::{Planned, replanned};

use crate::window::jobs::job::{Job, Told};

/// Most work that can be asked for, in turnings: seven turnings, each with watering.
pub const MOST_WORK: f64 = 11.0;
/// Work first asked for, in turnings.
const USUAL_WORK: f64 = 4.0;
/// Parts that progress is counted in.
const PARTS: f64 = 1000.0;

const NOTHING: &str = "There is nothing to look for a plan for: put something into the mix that rots, and enough of it for a heap.";
const NO_THREAD: &str =
    "The system could not start the search; close other programs and try again.";

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
pub struct FoundPlan {
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
    Choosing(Option<Arc<FoundPlan>>),
    /// The answer.
    Found(Arc<FoundPlan>),
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
    pub fn found(&self) -> Option<&Arc<FoundPlan>> {
        match self {
            Self::Found(found) => Some(found),
            _ => None,
        }
    }
}

/// What a search ends with.
enum Ended {
    Explored(Box<Explored>),
    Proposed(Box<FoundPlan>),
    Problem(String),
}

/// A search at work.
struct Search {
    /// The wish it answers; `None` while it simulates timetables.
    wish: Option<Wish>,
    done: Arc<AtomicU64>,
    job: Job<Ended>,
}

/// The search for the newest state of heap and mix.
#[derive(Default)]
pub struct PlanFinder {
    /// What was last asked about, to see at once that nothing has changed.
    seen: Option<(Arc<Inputs>, Option<f64>)>,
    /// The same without turnings and waterings.
    of: Option<(Arc<Inputs>, Option<f64>)>,
    explored: Option<Arc<Explored>>,
    found: Option<Arc<FoundPlan>>,
    problem: Option<String>,
    search: Option<Search>,
}

impl PlanFinder {
    /// Once a frame while a plan is wished for: takes what was found, starts what is missing, says how far it is.
    ///
    /// `wake` is called when an answer is there. With the inputs comes the first day that is still open; `None`: the
    /// heap does not stand yet.
    pub fn tend(
        &mut self,
        (inputs, from_day): (&Arc<Inputs>, Option<f64>),
        wish: Wish,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> Stage {
        self.match_inputs(inputs, from_day);
        self.take_news();
        if self.problem.is_none() {
            self.start_missing(wish, wake);
        }
        if let Some(problem) = &self.problem {
            return Stage::Problem(problem.clone());
        }
        match (&self.explored, &self.found) {
            (None, _) => Stage::Looking(self.progress()),
            (Some(_), Some(found)) if found.wish == wish => Stage::Found(Arc::clone(found)),
            (Some(_), last) => Stage::Choosing(last.clone()),
        }
    }

    /// Calls off what is at work; what was simulated to the end is kept for this state of heap and mix.
    pub fn call_off(&mut self) {
        self.search = None;
        self.problem = None;
    }

    /// Whether a thread is at work.
    pub fn is_busy(&self) -> bool {
        self.search.is_some()
    }

    /// Lets go what belongs to another state of heap and mix.
    fn match_inputs(&mut self, inputs: &Arc<Inputs>, from_day: Option<f64>) {
        if self
            .seen
            .as_ref()
            .is_some_and(|(seen, from)| Arc::ptr_eq(seen, inputs) && *from == from_day)
        {
            return;
        }
        self.seen = Some((Arc::clone(inputs), from_day));
        let bare = bare(inputs, from_day);
        let same = |(of, from): &(Arc<Inputs>, Option<f64>)| **of == bare && *from == from_day;
        if self.of.as_ref().is_some_and(same) {
            return;
        }
        *self = Self {
            seen: self.seen.take(),
            of: Some((Arc::new(bare), from_day)),
            ..Self::default()
        };
    }

    fn take_news(&mut self) {
        let Some(search) = &mut self.search else {
            return;
        };
        let Some(first) = search.job.poll().into_iter().next() else {
            return;
        };
        self.search = None;
        match first {
            Told::News(Ended::Explored(explored)) => self.explored = Some(Arc::from(explored)),
            Told::News(Ended::Proposed(found)) => self.found = Some(Arc::from(found)),
            Told::News(Ended::Problem(problem)) => self.problem = Some(problem),
            Told::Broken(cause) => {
                self.problem = Some(format!(
                    "The search failed ({cause}); nothing is lost, change the mix or the heap to try again."
                ));
            }
            Told::Done => {}
        }
    }

    fn start_missing(&mut self, wish: Wish, wake: impl Fn() + Send + Sync + 'static) {
        let Some((inputs, from_day)) = self.of.clone() else {
            return;
        };
        let started = match &self.explored {
            None if self.search.is_none() => Search::exploring(inputs, from_day, wake),
            Some(explored) if self.is_due(wish) => {
                Search::proposing(inputs, Arc::clone(explored), wish, wake)
            }
            _ => return,
        };
        match started {
            Ok(search) => self.search = Some(search),
            Err(_) => self.problem = Some(NO_THREAD.to_owned()),
        }
    }

    /// Whether a wish is neither answered nor being answered.
    fn is_due(&self, wish: Wish) -> bool {
        let answered = self.found.as_ref().is_some_and(|found| found.wish == wish);
        let at_work = self
            .search
            .as_ref()
            .is_some_and(|search| search.wish == Some(wish));
        !answered && !at_work
    }

    fn progress(&self) -> f64 {
        let done = self
            .search
            .as_ref()
            .map_or(0, |search| search.done.load(Ordering::Relaxed));
        done as f64 / PARTS
    }
}

impl Search {
    fn exploring(
        inputs: Arc<Inputs>,
        from_day: Option<f64>,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<Self> {
        let done = Arc::new(AtomicU64::new(0));
        let counted = Arc::clone(&done);
        let work = move |stop: &AtomicBool| {
            let facts = match shared() {
                Ok(facts) => facts,
                Err(problem) => return Ended::Problem(format!("{problem}.")),
            };
            let on_progress = |share: f64| {
                counted.fetch_max((share * PARTS) as u64, Ordering::Relaxed);
            };
            explore((&inputs, from_day), SEEDS, facts, stop, on_progress)
                .map_or(Ended::Problem(NOTHING.to_owned()), |explored| {
                    Ended::Explored(Box::new(explored))
                })
        };
        Self::start(None, done, work, wake)
    }

    fn proposing(
        inputs: Arc<Inputs>,
        explored: Arc<Explored>,
        wish: Wish,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<Self> {
        let work = move |_: &AtomicBool| {
            explored
                .propose(&inputs, (wish.want, wish.most_work))
                .map_or(Ended::Problem(NOTHING.to_owned()), |proposed| {
                    Ended::Proposed(Box::new(FoundPlan { wish, proposed }))
                })
        };
        Self::start(Some(wish), Arc::default(), work, wake)
    }

    fn start(
        wish: Option<Wish>,
        done: Arc<AtomicU64>,
        work: impl FnOnce(&AtomicBool) -> Ended + Send + 'static,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<Self> {
        let job = Job::start("plan search", wake, move |teller| {
            teller.tell(work(teller.stop()));
        })?;
        Ok(Self { wish, done, job })
    }
}

/// The same heap with no turnings and waterings in its plan from a day on.
fn bare(inputs: &Inputs, from_day: Option<f64>) -> Inputs {
    let planned = Planned {
        heap: &inputs.heap,
        additions: &inputs.additions,
        from_day,
    };
    let (heap, additions) = replanned(planned, &[]);
    Inputs {
        heap,
        additions,
        ..inputs.clone()
    }
}

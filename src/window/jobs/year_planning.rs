//! Planning a year behind the window, and projecting its heaps roughly.
//!
//! In: a year with its materials and the place of its heaps. Out: the plan or why there is none, then how warm each heap
//! gets, then what was short. The newest year wins: what is at work for another is called off.
//!
//! Not here: the planning (`year`), the projection (`assess::planned`), when it is asked for (`verbs::year`).
//!
//! Tested by: `tests/window/year_plan.rs`.

use std::sync::Arc;
use std::time::Instant;

use crate::assess::planned::{RecipeWords, Site, Warmth, recipe_of, warmth};
use crate::document::year::YearFile;
use crate::material::Catalogue;
use crate::year::{Plan, Short, Unplanned, draft};

use crate::window::jobs::job::{Job, Teller, Told};

/// What is planned.
#[derive(Debug, Clone)]
pub struct Asked {
    /// The year.
    pub file: YearFile,
    /// All materials, the year's own among them.
    pub catalogue: Arc<Catalogue>,
    /// Where its heaps stand.
    pub site: Site,
}

impl Asked {
    /// Whether the plan and its heat would be the same.
    fn is_of(&self, file: &YearFile, site: &Site) -> bool {
        self.file.year == file.year
            && self.file.own_materials == file.own_materials
            && self.site == *site
    }
}

/// What has come of it.
#[derive(Debug)]
pub enum YearNews {
    /// The plan, or why there is none, of this year, and how long it took, s.
    Planned(Arc<Asked>, Result<Plan, Unplanned>, f64),
    /// What more would have helped.
    Short(Option<Short>),
    /// How warm a heap of the plan gets, by its place; `None`: nothing rots.
    Warm(usize, Option<Warmth>),
    /// The work broke down; what is known of it.
    Broken(String),
}

/// Plans in the background, one year at a time.
#[derive(Debug, Default)]
pub struct YearPlanning {
    of: Option<Arc<Asked>>,
    job: Option<Job<YearNews>>,
}

impl YearPlanning {
    /// Once a frame while a year is looked at: starts what is due, takes what was found. `wake` is called when there is
    /// something.
    ///
    /// # Errors
    /// When the system has no thread to give.
    pub fn tend(
        &mut self,
        (file, catalogue, site): (&YearFile, &Arc<Catalogue>, &Site),
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<Vec<YearNews>> {
        if !self.of.as_ref().is_some_and(|of| of.is_of(file, site)) {
            let asked = Arc::new(Asked {
                file: file.clone(),
                catalogue: Arc::clone(catalogue),
                site: site.clone(),
            });
            self.of = Some(Arc::clone(&asked));
            // What is at work is told to stop before the next begins.
            self.job = None;
            self.job = Some(Job::start("year", wake, move |teller| {
                planned(&asked, teller);
            })?);
        }
        Ok(self.news())
    }

    fn news(&mut self) -> Vec<YearNews> {
        let Some(job) = &mut self.job else {
            return Vec::new();
        };
        let told = job.poll();
        if !job.is_running() {
            self.job = None;
        }
        told.into_iter()
            .filter_map(|told| match told {
                Told::News(YearNews::Planned(_, Err(Unplanned::CalledOff), _)) | Told::Done => None,
                Told::News(news) => Some(news),
                Told::Broken(cause) => Some(YearNews::Broken(cause)),
            })
            .collect()
    }

    /// Calls off what is at work; the next call of [`YearPlanning::tend`] begins anew.
    pub fn call_off(&mut self) {
        *self = Self::default();
    }

    /// Whether a thread is at work.
    pub fn is_busy(&self) -> bool {
        self.job.is_some()
    }
}

/// Plans, then projects heap after heap, then asks what was short.
fn planned(asked: &Arc<Asked>, teller: &Teller<YearNews>) {
    let begun = Instant::now();
    let answer = draft(&asked.file.year, &asked.catalogue, teller.stop());
    let took_s = begun.elapsed().as_secs_f64();
    let told = |answer| YearNews::Planned(Arc::clone(asked), answer, took_s);
    let draft = match answer {
        Ok(draft) => draft,
        Err(problem) => return teller.tell(told(Err(problem))),
    };
    teller.tell(told(Ok(draft.plan.clone())));
    for (place, heap) in draft.plan.heaps.iter().enumerate() {
        let project = recipe_of(&asked.file, heap, &asked.site, RecipeWords::default());
        let Ok(warm) = warmth(&project, &asked.catalogue, teller.stop()) else {
            continue;
        };
        teller.tell(YearNews::Warm(place, warm));
    }
    teller.tell(YearNews::Short(draft.short(teller.stop())));
}

//! Recipes calculated behind the window: one after another for their cards, and two to their bands to be compared.
//!
//! In: which recipes, by a key of the caller's, and where they are. Out: each with everything calculated of it, as they
//! come.
//!
//! Not here: the calculation (`assess`), what is made of it (`piles::recipe_cards`), when it is asked for (`verbs`).
//!
//! Tested by: `tests/window/recipes.rs`.

use std::path::PathBuf;
use std::sync::atomic::Ordering;

use crate::assess::Assessed;
use crate::document::{Project, file};
use crate::material::Catalogue;

use crate::window::jobs::job::{Job, Teller, Told};

/// Most recipes begun with at once: whoever scrolls on meanwhile waits for no more than these.
const AT_ONCE: usize = 4;

/// Where a recipe is.
#[derive(Debug, Clone)]
pub enum Source {
    /// In a file.
    File(PathBuf),
    /// Here: an example.
    Given(Box<Project>),
}

/// A recipe with everything calculated of it.
#[derive(Debug, Clone, PartialEq)]
pub struct Calculated {
    /// The recipe.
    pub project: Project,
    /// What is calculated of it.
    pub assessed: Assessed,
}

/// A recipe, or why nothing can be said of it.
pub type Answer = Result<Calculated, String>;

fn calculated(source: &Source, built_in: &Catalogue) -> Answer {
    let project = match source {
        Source::Given(project) => (**project).clone(),
        Source::File(path) => {
            let opened = file::read(path, built_in);
            opened.map_err(|problem| problem.to_string())?.project
        }
    };
    let assessed = Assessed::of(&project, built_in).map_err(|problem| problem.to_string())?;
    Ok(Calculated { project, assessed })
}

/// Calculates the recipes of cards.
#[derive(Debug)]
pub struct CardRuns<K> {
    /// What the job at work was asked for and has not answered yet.
    open: Vec<K>,
    job: Option<Job<(K, Answer)>>,
}

impl<K> Default for CardRuns<K> {
    fn default() -> Self {
        Self {
            open: Vec::new(),
            job: None,
        }
    }
}

impl<K: Clone + PartialEq + Send + 'static> CardRuns<K> {
    /// Once a frame: takes what was found, and begins with what is wanted once nothing else is at work. `wake` is called
    /// when an answer is there.
    ///
    /// # Errors
    /// When the system has no thread to give.
    pub fn tend(
        &mut self,
        mut wanted: Vec<(K, Source)>,
        built_in: &Catalogue,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<Vec<(K, Answer)>> {
        let mut found = Vec::new();
        for told in self.job.as_mut().map(Job::poll).unwrap_or_default() {
            match told {
                Told::News((key, answer)) => {
                    self.open.retain(|open| *open != key);
                    found.push((key, answer));
                }
                Told::Done => self.job = None,
                Told::Broken(cause) => {
                    // They are answered one after another, so it was the first.
                    if !self.open.is_empty() {
                        found.push((self.open.remove(0), Err(cause)));
                    }
                    self.job = None;
                }
            }
        }
        if self.job.is_none() && found.is_empty() && !wanted.is_empty() {
            wanted.truncate(AT_ONCE);
            self.open = wanted.iter().map(|(key, _)| key.clone()).collect();
            let built_in = built_in.clone();
            self.job = Some(Job::start("cards", wake, move |teller| {
                for (key, source) in wanted {
                    if teller.stop().load(Ordering::Relaxed) {
                        return;
                    }
                    teller.tell((key, calculated(&source, &built_in)));
                }
            })?);
        }
        Ok(found)
    }

    /// Calls off what is at work; what was found stays.
    pub fn call_off(&mut self) {
        self.job = None;
        self.open.clear();
    }

    /// Whether a thread is at work.
    pub fn is_busy(&self) -> bool {
        self.job.is_some()
    }
}

/// Calculates two recipes to be compared: both first, then both with their bands.
#[derive(Debug, Default)]
pub struct Comparing {
    job: Option<Job<(usize, Answer)>>,
}

impl Comparing {
    /// Starts with two recipes; what was at work before is called off.
    ///
    /// # Errors
    /// When the system has no thread to give.
    pub fn start(
        &mut self,
        both: [Source; 2],
        built_in: &Catalogue,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> std::io::Result<()> {
        let built_in = built_in.clone();
        self.job = Some(Job::start("comparing", wake, move |teller| {
            compare(&both, &built_in, teller);
        })?);
        Ok(())
    }

    /// What was told since the last call, with its place of the two. Never waits.
    pub fn poll(&mut self) -> Vec<Told<(usize, Answer)>> {
        self.job.as_mut().map(Job::poll).unwrap_or_default()
    }

    /// Calls it off.
    pub fn call_off(&mut self) {
        self.job = None;
    }

    /// Whether a thread is at work.
    pub fn is_busy(&self) -> bool {
        self.job.as_ref().is_some_and(Job::is_running)
    }
}

fn compare(both: &[Source; 2], built_in: &Catalogue, teller: &Teller<(usize, Answer)>) {
    let plain = both.each_ref().map(|source| calculated(source, built_in));
    for (place, answer) in plain.iter().enumerate() {
        teller.tell((place, answer.clone()));
    }
    for (place, answer) in plain.into_iter().enumerate() {
        let Ok(mut weighed) = answer else { continue };
        if teller.stop().load(Ordering::Relaxed) {
            return;
        }
        let done = weighed.assessed.weigh();
        let answer = done.map_err(|problem| problem.to_string());
        teller.tell((place, answer.map(|()| weighed)));
    }
}

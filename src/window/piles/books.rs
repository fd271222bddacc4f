//! Trials and lessons for a class: the ready ones, and those a teacher has written.
//!
//! In: the recipe folder. Out: [`Books`], and a sentence for every file that cannot be used.
//!
//! A teacher's own lie in the folders `Trials` and `Lessons` inside that of the recipes, one `.ron` file each;
//! assets/lessons/README.md describes them.
//! Not here: what they are (`assess::trial`).
//!
//! Tested by: `tests/window/class.rs`.

use std::fs;
use std::path::{Path, PathBuf};

use crate::assess::trial::{Lesson, Trial};
use crate::document::{class_text, shown};
use crate::material::Catalogue;

/// Folders of a teacher's own, inside that of the recipes.
const OWN: [&str; 2] = ["Trials", "Lessons"];

/// What a class can look at, read once.
#[derive(Debug, Clone, Default)]
pub struct Books {
    /// Trials, the ready ones first.
    pub trials: Vec<Trial>,
    /// Lessons, the ready ones first.
    pub lessons: Vec<Lesson>,
}

impl Books {
    /// The ready ones.
    ///
    /// # Errors
    /// A sentence if a built-in file is damaged.
    pub fn ready(catalogue: &Catalogue) -> Result<Self, String> {
        let trials = Trial::ready().map_err(|problem| problem.to_string())?;
        let lessons = Lesson::ready().map_err(|problem| problem.to_string())?;
        for lesson in &lessons {
            lesson
                .check(&trials, catalogue)
                .map_err(|problem| problem.to_string())?;
        }
        Ok(Self { trials, lessons })
    }

    /// Adds those in the recipe folder; a sentence for each file that cannot be used.
    pub fn add_own(&mut self, recipes: &Path, catalogue: &Catalogue) -> Vec<String> {
        let mut problems = Vec::new();
        let [trials, lessons] = OWN.map(|folder| ron_files(&recipes.join(folder)));
        for path in trials {
            match own(&path, |text| self.own_trials(text)) {
                Ok(own) => self.trials.extend(own),
                Err(problem) => problems.push(problem),
            }
        }
        for path in lessons {
            match own(&path, |text| self.own_lesson(text, catalogue)) {
                Ok(own) => self.lessons.push(own),
                Err(problem) => problems.push(problem),
            }
        }
        problems
    }

    fn own_trials(&self, text: &str) -> Result<Vec<Trial>, String> {
        let own = Trial::read(text).map_err(|problem| problem.to_string())?;
        let taken = |trial: &&Trial| self.trials.iter().any(|other| other.id == trial.id);
        match own.iter().find(taken) {
            Some(trial) => Err(format!(
                "there is already a trial \"{}\"; give it another id",
                trial.id
            )),
            None => Ok(own),
        }
    }

    fn own_lesson(&self, text: &str, catalogue: &Catalogue) -> Result<Lesson, String> {
        let own = Lesson::read(text).map_err(|problem| problem.to_string())?;
        own.check(&self.trials, catalogue)
            .map_err(|problem| problem.to_string())?;
        Ok(own)
    }
}

/// The `.ron` files of a folder by name; none where there is no such folder.
fn ron_files(folder: &Path) -> Vec<PathBuf> {
    let entries = fs::read_dir(folder).into_iter().flatten().flatten();
    let mut files: Vec<PathBuf> = entries
        .map(|entry| entry.path())
        .filter(|path| path.extension().is_some_and(|end| end == "ron"))
        .collect();
    files.sort();
    files
}

/// What one file holds, read with `read`; a sentence with its path where it cannot be used.
fn own<T>(path: &Path, read: impl FnOnce(&str) -> Result<T, String>) -> Result<T, String> {
    let text = class_text(path).map_err(|problem| problem.to_string())?;
    read(&text).map_err(|problem| format!("{}: {problem}", shown(path)))
}

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

use crate::assess::trial::{Lesson, TEXT_LIMIT, Trial};
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
            match text_of(&path).and_then(|text| self.own_trials(&text)) {
                Ok(own) => self.trials.extend(own),
                Err(problem) => problems.push(format!("{}: {problem}", path.display())),
            }
        }
        for path in lessons {
            match text_of(&path).and_then(|text| self.own_lesson(&text, catalogue)) {
                Ok(own) => self.lessons.push(own),
                Err(problem) => problems.push(format!("{}: {problem}", path.display())),
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

fn text_of(path: &Path) -> Result<String, String> {
    let size = fs::metadata(path)
        .map_err(|problem| problem.to_string())?
        .len();
    if size > TEXT_LIMIT as u64 {
        return Err(format!("it is larger than {TEXT_LIMIT} bytes; split it"));
    }
    fs::read_to_string(path).map_err(|problem| problem.to_string())
}

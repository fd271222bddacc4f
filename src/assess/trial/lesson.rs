//! Lessons: ordered walks through trials, heaps and questions, with notes for the speaker.
//!
//! In: RON, from `assets/lessons/` or a teacher's own. Out: stops in order.
//!
//! The format is described in `assets/lessons/README.md`. Not here: how a stop is shown (`window`).
//!
//! Tested by: `tests/science/trial_files.rs`.

use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::material::Catalogue;
use crate::quantity::Amount;

use super::file::{TEXT_LIMIT, Trial, is_id};

const LESSONS: [&str; 4] = [
    include_str!("../../../assets/lessons/what-makes-it-hot.ron"),
    include_str!("../../../assets/lessons/ratio-is-not-colour.ron"),
    include_str!("../../../assets/lessons/why-it-smells.ron"),
    include_str!("../../../assets/lessons/what-the-skin-does.ron"),
];
/// Most stops of a lesson.
const STOP_LIMIT: usize = 60;

/// What a class looks at.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Show {
    /// Words alone.
    Question,
    /// A trial, by its id.
    Trial(String),
    /// A mix of these materials, with its gauges.
    Mix(Vec<(String, Amount)>),
    /// One material with its values.
    Material(String),
}

/// One step of a lesson.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stop {
    /// What the class is asked or told, in large type.
    pub say: String,
    /// What it looks at.
    pub show: Show,
    /// What the class is shown once it has guessed, in large type; empty where the picture says it all.
    #[serde(default)]
    pub reveal: String,
    /// Whether the class guesses before it sees.
    pub guess_first: bool,
    /// For the speaker alone.
    pub notes: String,
}

/// An ordered walk.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Lesson {
    /// Its name in files; small letters, digits and "_".
    pub id: String,
    /// What it is called.
    pub title: String,
    /// How long it takes, min.
    pub minutes: u32,
    /// The stops, in order.
    pub stops: Vec<Stop>,
}

/// Why a lesson cannot be used.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum LessonError {
    /// Not RON, or not a lesson.
    #[error("the lesson cannot be read at line {line}: {problem}; correct that line")]
    NotReadable {
        /// Line, from 1.
        line: usize,
        /// What is wrong.
        problem: String,
    },
    /// Too long, too many stops or none.
    #[error(
        "a lesson has 1 to {STOP_LIMIT} stops and at most {TEXT_LIMIT} bytes; shorten or fill it"
    )]
    Length,
    /// A lesson without a proper name.
    #[error(
        "the id \"{0}\" is empty or holds more than small letters, digits and \"_\"; choose another"
    )]
    Id(String),
    /// A stop that shows what is not there.
    #[error("stop {stop} shows \"{name}\", which is not there; name another")]
    NotThere {
        /// Which, from 1.
        stop: usize,
        /// What it names.
        name: String,
    },
}

impl Lesson {
    /// The ready lessons, in order.
    ///
    /// # Errors
    /// [`LessonError`] only if a built-in file is damaged, which `tests/science/trial_files.rs` rules out.
    pub fn ready() -> Result<Vec<Self>, LessonError> {
        LESSONS.into_iter().map(Self::read).collect()
    }

    /// The lesson of a text in RON.
    ///
    /// # Errors
    /// [`LessonError`] says where the text is wrong.
    pub fn read(text: &str) -> Result<Self, LessonError> {
        if text.len() > TEXT_LIMIT {
            return Err(LessonError::Length);
        }
        let text = text.trim_start_matches('\u{feff}');
        let lesson: Self = ron::from_str(text).map_err(|error| LessonError::NotReadable {
            line: error.span.start.line,
            problem: error.code.to_string(),
        })?;
        if lesson.stops.is_empty() || lesson.stops.len() > STOP_LIMIT {
            return Err(LessonError::Length);
        }
        if !is_id(&lesson.id) {
            return Err(LessonError::Id(lesson.id));
        }
        Ok(lesson)
    }

    /// Checks that everything it shows is there.
    ///
    /// # Errors
    /// [`LessonError::NotThere`] names the first that is not.
    pub fn check(&self, trials: &[Trial], catalogue: &Catalogue) -> Result<(), LessonError> {
        let unknown = |id: &str| catalogue.find(id).is_none();
        for (index, stop) in self.stops.iter().enumerate() {
            let missing = match &stop.show {
                Show::Question => None,
                Show::Trial(id) => (!trials.iter().any(|trial| trial.id == *id)).then_some(id),
                Show::Material(id) => unknown(id).then_some(id),
                Show::Mix(parts) => parts.iter().map(|(id, _)| id).find(|id| unknown(id)),
            };
            if let Some(name) = missing {
                return Err(LessonError::NotThere {
                    stop: index + 1,
                    name: name.clone(),
                });
            }
        }
        Ok(())
    }
}

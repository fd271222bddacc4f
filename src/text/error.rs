//! What is wrong, in words: what the window and the command say around an error of a room.
//!
//! In: an error of any room. Out: one sentence that says what to do.
//!
//! Not here: which things are wrong, and each error's own message (the rooms themselves).
//!
//! Tested by: `tests/window/materials.rs`, `tests/window/files.rs`, `tests/document/library.rs`,
//! `tests/document/command.rs`.

use std::fmt::Display;
use std::io;

use crate::document::year::YearFileError;
use crate::document::{FileError, Unkept};
use crate::material::own::OwnError;

/// No further entry fits into the plan.
pub const PLAN_IS_FULL: &str = "The plan is full; take entries out of it in the Heap view first.";
/// A second window on one file.
pub const OPEN_TWICE: &str =
    "This file is open in another window as well; save in one of them only, or under another name.";
/// Said below what was refused: nothing is lost.
pub const AS_IT_WAS: &str = "The open recipe is as it was.";

/// That a file was saved, and what of the file before it could not be kept.
pub fn saved_but(saved: &str, unkept: &[Unkept]) -> String {
    let mut said = saved.to_owned();
    for lost in unkept {
        said.push_str(match lost {
            Unkept::Owner => {
                "; the file is yours now, and others may have to be given access again"
            }
            Unkept::Attributes => "; marks that another program put on the file could not be kept",
            Unkept::OtherNames => {
                "; its other names (hard links) still lead to the content from before"
            }
        });
    }
    said
}

/// A heap that was not judged.
pub const NOT_JUDGED: &str = "The heap could not be judged";
/// The built-in trials cannot be read.
pub const NO_TRIALS: &str = "The trials could not be read";
/// One file of a class cannot be used.
pub const CLASS_FILE_SKIPPED: &str = "A class file was skipped";
/// A projection that broke down.
pub const NOT_PROJECTED: &str = "The projection failed";
/// Nothing was learnt of the diary.
pub const NOT_LEARNT: &str = "The diary could not be learnt from";
/// Before the reason why feeding could not be compared.
pub const FEEDING_NOT_COMPARED: &str = "Feeding could not be compared with building at once";
/// Turnings that were not counted.
pub const TURNINGS_NOT_COUNTED: &str = "The effect of the turnings could not be calculated";
/// Greens and browns that did not change places.
pub const NOT_EXCHANGED: &str = "Greens and browns did not change places";
/// A mix without an answer.
pub const NOT_BALANCED: &str = "The mix cannot be balanced";
/// A page or picture that was not made.
pub const NOT_WRITTEN: &str = "Nothing was written";
/// Dates are asked for where nothing rots.
pub const NO_DATES: &str = "no heap is projected, so nothing is due; put something into the mix";
/// There is nothing to make a picture of.
pub const NO_HEAP_TO_DRAW: &str = "there is no heap to draw; put something into the mix";
/// A file that was not opened.
pub const NOT_OPENED: &str = "The file was not opened";
/// A year that was not saved.
pub const YEAR_NOT_SAVED: &str = "The year was not saved";
/// Said below what was refused of a year: nothing is lost.
pub const YEAR_AS_IT_WAS: &str = "The open year is as it was.";
/// The built-in year cannot be read.
pub const NO_EXAMPLE: &str = "The example could not be read; install the program again";
/// A recipe that was not saved.
pub const NOT_SAVED: &str = "The recipe was not saved";
/// A recipe that was not kept among those of the seasons.
pub const RECIPE_NOT_KEPT: &str = "The recipe was not kept";
/// A kept recipe that was not copied, renamed, put away or brought back.
pub const RECIPE_NOT_CHANGED: &str = "The recipe stays as it was";
/// A material that was not kept for other recipes.
pub const MATERIAL_NOT_KEPT: &str = "The material was not kept";
/// Kept materials of which some are damaged.
pub const SOME_MATERIALS_UNREAD: &str =
    "Some kept materials could not be read; the others are available";
/// There is no place for recipes.
pub const NO_FOLDER_FOR_RECIPES: &str =
    "There is no home folder to keep recipes in; use Save as instead.";
/// There is no place for materials.
pub const NO_FOLDER_FOR_MATERIALS: &str =
    "There is no home folder to keep materials in; this one is saved with the recipe.";
/// A material that cannot be removed.
pub const MATERIAL_IN_USE: &str =
    "The mix or the plan uses this material; take it out there first.";
/// The desktop has no file dialog.
pub const TYPE_THE_PATH: &str = "There is no file dialog on this desktop; type or paste the path.";
/// Advice while unsaved work is not kept.
pub const SAVE_OFTEN: &str = "Save often.";

/// What is wrong with a file, after its name.
pub fn of_file(file: &str, problem: &str) -> String {
    format!("{file}: {problem}")
}

/// What a form still lacks.
pub fn not_yet(problem: &OwnError) -> String {
    format!("Not yet: {problem}.")
}

/// Something that was refused, the reason in the same breath; `what` is a sentence without its stop.
pub fn refused(what: &str, problem: &FileError) -> String {
    format!("{what}: {problem}")
}

/// Something of a year that was refused, the reason in the same breath; `what` is a sentence without its stop.
pub fn about_year(what: &str, problem: &YearFileError) -> String {
    format!("{what}: {problem}")
}

/// Something that cannot be, the reason in the same breath; both are sentences without their stop.
pub fn refused_for(what: &str, reason: &str) -> String {
    format!("{what}: {reason}.")
}

/// A file was saved.
pub fn saved_as(name: &str) -> String {
    format!("saved as {name}")
}

/// A change that cannot be.
pub fn change_rejected(problem: &dyn Display) -> String {
    format!("Change rejected: {problem}.")
}

/// The settings file is damaged.
pub fn settings_unread(problem: &FileError) -> String {
    format!("The settings could not be read, so the defaults are in use ({problem})")
}

/// The settings file cannot be written.
pub fn settings_not_kept(problem: &FileError) -> String {
    format!("The settings were not saved: {problem}")
}

/// What an earlier run left cannot be read.
pub fn unsaved_unread(problem: &dyn Display) -> String {
    format!("Unsaved work from an earlier run cannot be read: {problem}")
}

/// There is no place to keep unsaved work in.
pub fn unsaved_has_no_place(problem: &dyn Display) -> String {
    format!("Unsaved work cannot be backed up: {problem}")
}

/// Unsaved work was not written this time.
pub fn unsaved_not_kept(problem: &dyn Display) -> String {
    format!("Unsaved work could not be backed up: {problem}")
}

/// No plan can be looked for.
pub fn no_plan(problem: &dyn Display) -> String {
    format!("No plan can be proposed: {problem}.")
}

/// The system could not start a thread.
pub fn no_thread(problem: &io::Error) -> String {
    format!("the system could not start a thread: {problem}")
}

/// The file dialog does not open.
pub fn no_dialog(problem: &io::Error) -> String {
    format!("The file dialog cannot be opened ({problem})")
}

/// The command's output has no place to go.
pub fn output_not_written(problem: &io::Error) -> String {
    format!("the output could not be written ({problem}); send it somewhere else")
}

/// The command was asked for something it does not know; `problem` is said by the parser of arguments.
pub fn not_understood(problem: &str) -> String {
    format!("{problem}; \"heapwright --help\" shows how it is used")
}

/// A manual page was asked for of a command there is not.
pub fn no_such_command(name: &str) -> String {
    format!("there is no command {name:?}; \"heapwright --help\" lists them")
}

/// The command would write over a file; `path` as it is shown.
pub fn already_there(path: &str) -> String {
    format!("there is already a file of this name; give --out a new name: {path}")
}

/// A file that cannot be used for a reason already said; `path` as it is shown.
pub fn about_file(problem: &dyn Display, path: &str, joint: Joint) -> String {
    match joint {
        Joint::Clause => format!("{problem}: {path}"),
        Joint::Sentence => format!("{problem} {path}"),
    }
}

/// How a path follows what is said of it.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Joint {
    /// After a clause without its stop.
    Clause,
    /// After a whole sentence.
    Sentence,
}

/// There is no such trial.
pub fn no_such_trial(id: &str) -> String {
    format!("there is no trial \"{id}\"; without --only all are run, and each shows its id")
}

/// What is wrong with the heap could not be found out.
pub fn diagnosis_failed(problem: &str) -> String {
    format!("It could not be found out what is wrong: {problem}.")
}

/// There is no such symptom.
pub fn no_such_symptom(name: &str, known: &[&str]) -> String {
    format!(
        "there is no symptom \"{name}\"; choose from {}",
        known.join(", ")
    )
}

/// What the command writes beside projects.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WrittenOut {
    /// A projection as CSV.
    Table,
    /// A handout as PDF.
    Handout,
    /// Dates as iCalendar.
    Calendar,
}

/// The command would write something else over a project; `path` as it is shown.
pub fn over_a_project(what: WrittenOut, path: &str) -> String {
    let (what, ending) = match what {
        WrittenOut::Table => ("a table", ".csv"),
        WrittenOut::Handout => ("a handout", ".pdf"),
        WrittenOut::Calendar => ("a calendar", ".ics"),
    };
    format!("{what} would overwrite a project; give --out a name that ends with {ending}: {path}")
}

//! What the Class view can be asked to do.
//!
//! In: nothing. Out: for each its words and its one-sentence tooltip.
//!
//! Not here: the doing (`class_perform`), everything else (`action`).
//!
//! Tested by: `tests/window/class.rs`.

use crate::material::Side;

use crate::window::piles::class_choices::Mode;

/// One thing to do with a class.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClassAction {
    /// Choose what the class works with.
    Mode(Mode),
    /// Go on (`true`) or back.
    Step(bool),
    /// Choose a trial, by its place.
    Trial(usize),
    /// Choose a lesson, by its place.
    Lesson(usize),
    /// Let the class guess before it sees, or not.
    GuessFirst,
    /// Record guess on the slider.
    RecordGuess,
    /// Show the answer.
    Reveal,
    /// Add a bucket of the chosen green or brown.
    Bucket(Side),
    /// Turn the heap.
    Turn,
    /// Pour a can of water.
    Water,
    /// Half of everything.
    Halve,
    /// Run the trial.
    RunTrial,
    /// Call the trial off.
    StopTrial,
    /// Write the handout.
    Handout,
    /// Write a picture of the curve.
    CurvePicture,
    /// Write a picture of the inside on the day looked at.
    InsidePicture,
    /// Copy the handout's text.
    CopyHandout,
}

impl ClassAction {
    /// Its words on a button; `buckets` are the names of the chosen green and brown.
    pub fn text(self, buckets: &(String, String)) -> String {
        let short = |name: &str| name.split(", ").next().unwrap_or(name).to_owned();
        match self {
            Self::Mode(mode) => mode.label().to_owned(),
            Self::Step(true) => "On".to_owned(),
            Self::Step(false) => "Back".to_owned(),
            Self::Trial(_) => "Trial".to_owned(),
            Self::Lesson(_) => "Lesson".to_owned(),
            Self::GuessFirst => "Guess first".to_owned(),
            Self::RecordGuess => "Record guess".to_owned(),
            Self::Reveal => "Reveal".to_owned(),
            Self::Bucket(Side::Green) => format!("+1 bucket {}", short(&buckets.0)),
            Self::Bucket(_) => format!("+1 bucket {}", short(&buckets.1)),
            Self::Turn => "Turn it".to_owned(),
            Self::Water => "Water it".to_owned(),
            Self::Halve => "Half the size".to_owned(),
            Self::RunTrial => "Run it".to_owned(),
            Self::StopTrial => "Stop".to_owned(),
            Self::Handout => "Handout…".to_owned(),
            Self::CurvePicture => "Picture of the curve…".to_owned(),
            Self::InsidePicture => "Picture of the inside…".to_owned(),
            Self::CopyHandout => "Copy text".to_owned(),
        }
    }

    /// What it does, in a sentence.
    pub fn tooltip(self) -> &'static str {
        match self {
            Self::Mode(Mode::Heap) => "Works with the heap at hand and five big controls.",
            Self::Mode(Mode::Trials) => "Puts beliefs to the test: two heaps side by side.",
            Self::Mode(Mode::Lessons) => "Goes through an ordered walk with speaker's notes.",
            Self::Step(true) => "Goes on (page down).",
            Self::Step(false) => "Goes back (page up).",
            Self::Trial(_) => "Shows this trial.",
            Self::Lesson(_) => "Begins this lesson.",
            Self::GuessFirst => "Hides every answer until the class has guessed.",
            Self::RecordGuess => "Notes the guess on the slider.",
            Self::Reveal => "Shows the answer.",
            Self::Bucket(_) => "Adds one bucket; the heap as it was stays as a ghost.",
            Self::Turn => "Turns the heap once more; the heap as it was stays as a ghost.",
            Self::Water => "Pours 10 L of water; the heap as it was stays as a ghost.",
            Self::Halve => "Takes half of everything away; the heap as it was stays as a ghost.",
            Self::RunTrial => "Runs both heaps many times with the same luck.",
            Self::StopTrial => "Calls the run off; what was found stays.",
            Self::Handout => "Writes the recipe, the curve and an empty log on one page as PDF.",
            Self::CurvePicture => {
                "Writes the heat curve with its band as PNG, twice as fine as the screen."
            }
            Self::InsidePicture => {
                "Writes the cross-section on the day looked at as PNG, twice as fine as the screen."
            }
            Self::CopyHandout => "Copies the handout as plain text.",
        }
    }
}

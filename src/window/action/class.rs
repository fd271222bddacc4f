//! What the Class view can be asked to do.
//!
//! In: what is so at present. Out: for each its words, its one-sentence tooltip and its key.
//!
//! Not here: the doing (`verbs::class`), everything else (`list`).
//!
//! Tested by: `tests/window/class.rs`.

use crate::material::Side;
use crate::quantity::CUBIC_METRE_PER_LITRE;
use crate::text::exchange;
use crate::text::number::small_volume;

use crate::window::action::entry::{Entry, Facts};
use crate::window::piles::class_choices::{HeapSize, Mode};

/// Water of one press of "Water it", L: a can.
pub const CAN_L: f64 = 10.0;

/// One thing to do with a class.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum ClassAction {
    /// Choose what the class works with.
    Mode(Mode),
    /// Go to the next trial or stop.
    Next,
    /// What a clicker asks for: reveal, run, or go on, whichever comes next.
    Advance,
    /// Go to the trial or stop before.
    Previous,
    /// Choose a trial, by its place.
    Trial(usize),
    /// Choose a lesson, by its place.
    Lesson(usize),
    /// Let the class guess before it sees, or not.
    GuessFirst,
    /// Record the guess on the slider.
    RecordGuess,
    /// Show the answer.
    Reveal,
    /// More greens or browns: in the place of the others, or on top where the heap grows.
    More(Side),
    /// Let the heap grow, or keep its size.
    Grows,
    /// Turn the heap.
    Turn,
    /// Pour a can of water.
    Water,
    /// Half of everything.
    Halve,
    /// Open or close the speaker's window.
    Speaker,
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
    /// Write what is due when as a calendar.
    Calendar,
    /// Copy the handout's text.
    CopyHandout,
}

impl ClassAction {
    /// Those that need nothing more to be said, in the order of the list.
    pub const LISTED: [Self; 20] = [
        Self::Next,
        Self::Advance,
        Self::Previous,
        Self::GuessFirst,
        Self::RecordGuess,
        Self::Reveal,
        Self::More(Side::Green),
        Self::More(Side::Brown),
        Self::Grows,
        Self::Turn,
        Self::Water,
        Self::Halve,
        Self::Speaker,
        Self::RunTrial,
        Self::StopTrial,
        Self::Handout,
        Self::CurvePicture,
        Self::InsidePicture,
        Self::Calendar,
        Self::CopyHandout,
    ];

    /// What it says of itself.
    pub fn entry(self, facts: &Facts) -> Entry {
        let short = |name: &str| name.split(", ").next().unwrap_or(name).to_owned();
        match self {
            Self::Mode(Mode::Heap) => Entry::new(
                Mode::Heap.label(),
                "Works with the heap at hand and five big controls.",
            ),
            Self::Mode(Mode::Trials) => Entry::new(
                Mode::Trials.label(),
                "Puts beliefs to the test: two heaps side by side.",
            ),
            Self::Mode(Mode::Lessons) => Entry::new(
                Mode::Lessons.label(),
                "Goes through a lesson stop by stop, with speaker's notes.",
            ),
            Self::Next => Entry::new("Next", "Goes to the next one."),
            Self::Advance => Entry::new(
                "Go on",
                "Reveals the answer, runs the trial or goes to the next one (page down, right arrow, space).",
            ),
            Self::Previous => Entry::new(
                "Previous",
                "Goes back to the one before (page up, left arrow).",
            ),
            Self::Speaker => Entry::new(
                "Speaker's notes",
                "Opens a second window with notes and answers, for your own screen.",
            ),
            Self::Trial(_) => Entry::new("Trial", "Shows this trial."),
            Self::Lesson(_) => Entry::new("Lesson", "Begins this lesson."),
            Self::GuessFirst => Entry::new(
                "Guess first",
                "Hides every answer until the class has guessed.",
            ),
            Self::RecordGuess => Entry::new("Record guess", "Records the guess on the slider."),
            Self::Reveal => Entry::new("Reveal", "Shows the answer."),
            Self::More(side) if facts.size == HeapSize::Same => Entry::new(
                exchange::more_of(side),
                exchange::exchanges(side, facts.step_m3),
            ),
            Self::More(side) => {
                let (green, brown) = &facts.buckets;
                let name = if side == Side::Green { green } else { brown };
                let buckets = exchange::whole_buckets(facts.step_m3);
                Entry::new(
                    exchange::plus_buckets(buckets, &short(name)),
                    "Adds so much to the heap; the heap as it was stays as a ghost.",
                )
            }
            Self::Grows => Entry::new(exchange::HEAP_GROWS, exchange::HEAP_GROWS_MEANS),
            Self::Turn => Entry::new(
                "Turn it",
                "Turns the heap once more; the heap as it was stays as a ghost.",
            ),
            Self::Water => {
                let can = small_volume(CAN_L * CUBIC_METRE_PER_LITRE, facts.units);
                Entry::new(
                    "Water it",
                    format!("Pours {can} of water; the heap as it was stays as a ghost."),
                )
            }
            Self::Halve => Entry::new(
                "Half the size",
                "Takes half of everything away; the heap as it was stays as a ghost.",
            ),
            Self::RunTrial => Entry::new(
                "Run it",
                "Runs both heaps many times, each pair with the same weather and materials.",
            ),
            Self::StopTrial => Entry::new("Stop", "Stops the run; what was found stays."),
            Self::Handout => Entry::new(
                "Handout…",
                "Writes the recipe, the curve and an empty log on one page as PDF.",
            ),
            Self::CurvePicture => Entry::new(
                "Picture of the curve…",
                "Writes the heat curve with its band as PNG, at twice the resolution of the screen.",
            ),
            Self::InsidePicture => Entry::new(
                "Picture of the inside…",
                "Writes the cross-section of the day shown as PNG, at twice the resolution of the screen.",
            ),
            Self::Calendar => Entry::new(
                "Save dates as calendar…",
                "Writes what is due in the next days as an iCalendar file; saved again, it updates what is there.",
            ),
            Self::CopyHandout => Entry::new("Copy text", "Copies the handout as plain text."),
        }
    }
}

//! What the Diary view can be asked to do.
//!
//! In: nothing. Out: for each its words and its one-sentence tooltip.
//!
//! Not here: the doing (`verbs::diary`), everything else (`list`).
//!
//! Tested by: `tests/window/diary.rs`, `tests/window/actions.rs`.

use jiff::civil::DateTime;

use crate::heap::Operation;

use crate::window::action::entry::Entry;

/// One thing to do with the diary.
#[derive(Debug, Clone, PartialEq)]
pub enum DiaryAction {
    /// The heap was built at this moment.
    Built(DateTime),
    /// Put what the form holds into the diary, as a new reading or in the place of the one that is changed.
    Enter,
    /// Open the form on a reading, by its place.
    Change(usize),
    /// Leave the form empty again.
    Leave,
    /// Take a reading out, by its place.
    Drop(usize),
    /// Take a probe of a logger out, by its place.
    DropLog(usize),
    /// This was done, at the moment of the field beside it.
    Happened(Operation),
    /// Choose a material that was added.
    PickAdded,
    /// So many buckets of a material were added, by its id.
    Added(String),
    /// A planned entry was done, by its place in the plan, at the moment of its field.
    WasDone(usize),
    /// A planned entry was not done, by its place in the plan.
    NotDone(usize),
    /// Take something that was done out again, by its place in the plan.
    DropDone(usize),
    /// Set the form to what would teach most.
    TakeProposed,
}

impl DiaryAction {
    /// What it says of itself.
    pub(in crate::window) fn entry(&self) -> Entry {
        match self {
            Self::Built(_) => Entry::new(
                "Built today",
                "The heap was built today: the diary begins, and the forecast runs from here on.",
            ),
            Self::Enter => Entry::new("Enter it", "Puts the reading into the diary (Enter)."),
            Self::Change(_) => Entry::new("Change", "Opens this reading in the form above."),
            Self::Leave => Entry::new("Leave it", "Leaves the reading as it was."),
            Self::Drop(_) => Entry::new(
                "×",
                "Takes this reading out of the diary; undo brings it back.",
            ),
            Self::DropLog(_) => Entry::new(
                "×",
                "Takes this probe out of the diary; undo brings it back.",
            ),
            Self::Happened(_) => Entry::new("Done", "Puts it into the past of the plan."),
            Self::PickAdded => Entry::new(
                "of…",
                "Chooses what was added: so many buckets of it were laid on top.",
            ),
            Self::Added(id) => Entry::new(id, "Puts so many buckets of it into the past."),
            Self::WasDone(_) => Entry::new(
                "Done",
                "It was done on this day: the plan says so from now on.",
            ),
            Self::NotDone(_) => Entry::new(
                "Not done",
                "Takes it out of the plan; one undo brings it back.",
            ),
            Self::DropDone(_) => Entry::new(
                "×",
                "Takes this out of the past of the plan; undo brings it back.",
            ),
            Self::TakeProposed => {
                Entry::new("Put into the form", "Sets the form to this place and day.")
            }
        }
    }
}

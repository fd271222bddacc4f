//! What the year's page can be asked to do.
//!
//! In: nothing. Out: for each its words and its one-sentence tooltip.
//!
//! Not here: the doing (`verbs::year`, `verbs::year_files`), everything else (`list`).
//!
//! Tested by: `tests/window/year.rs`, `tests/window/year_plan.rs`.

use crate::text::year_page as words;
use crate::year::Wish;

use crate::window::action::entry::Entry;
use crate::window::piles::choices::SeasonsPage;
use crate::window::piles::year_desk::YearTab;

/// One thing to do with the year.
#[derive(Debug, Clone, PartialEq)]
pub enum YearAction {
    /// Go to a page of the Seasons view.
    Show(SeasonsPage),
    /// Go to a part of the year's page.
    Tab(YearTab),
    /// Start an empty year.
    New,
    /// Open the example.
    Example,
    /// Open by the system's dialog.
    Open,
    /// Open by typing a path.
    OpenByPath,
    /// Write plan and line of the year on a page.
    Page,
    /// Write what is due as a calendar.
    Calendar,
    /// Choose a material that arrives.
    PickArrival,
    /// A material arrives from now on, by its id.
    AddArrival(String),
    /// A material arrives no more, by its row.
    RemoveArrival(usize),
    /// There is one bay more.
    AddBay,
    /// There is one bay less, by its place.
    RemoveBay(usize),
    /// A bay is called something else.
    RenameBay(usize, String),
    /// Decide something; the plan keeps to it.
    Decide(Wish),
    /// Take a decision back, by its place.
    DropWish(usize),
    /// Open a planned heap as a recipe, by its place in the plan.
    OpenHeap(usize),
}

impl YearAction {
    /// Those that need nothing more to be said.
    pub const LISTED: [Self; 13] = [
        Self::Show(SeasonsPage::Recipes),
        Self::Show(SeasonsPage::Year),
        Self::Tab(YearTab::Plan),
        Self::Tab(YearTab::Arrivals),
        Self::Tab(YearTab::Bays),
        Self::New,
        Self::Example,
        Self::Open,
        Self::OpenByPath,
        Self::Page,
        Self::Calendar,
        Self::PickArrival,
        Self::AddBay,
    ];

    /// What it says of itself.
    pub(in crate::window) fn entry(&self) -> Entry {
        match self {
            Self::Show(SeasonsPage::Recipes) => {
                Entry::new("Recipes", "Shows the recipes you have kept.")
            }
            Self::Show(SeasonsPage::Year) => Entry::new(
                "The year",
                "Shows what arrives when, and which heap to build in which bay.",
            ),
            Self::Tab(YearTab::Plan) => Entry::new(
                words::PLAN,
                "Shows which heap to build when and of what, what is left and what spoils.",
            ),
            Self::Tab(YearTab::Arrivals) => Entry::new(
                words::ARRIVES,
                "Shows how much of each material comes in each month, and how long it keeps.",
            ),
            Self::Tab(YearTab::Bays) => Entry::new(
                words::BAYS,
                "Shows bays, how long a heap stands in each, and the room to store.",
            ),
            Self::New => Entry::new("New year", "Starts a year in which nothing arrives yet."),
            Self::Example => Entry::new(
                "Open the example",
                "Opens a copy of the invented year of the Withybed School Garden.",
            ),
            Self::Open => Entry::new("Open a year…", "Opens a year from a file."),
            Self::OpenByPath => {
                Entry::new("By path…", "Opens a year whose path you type or paste.")
            }
            Self::Page => Entry::new(
                "Print on a page…",
                "Writes plan and line of the year on one page, as PDF.",
            ),
            Self::Calendar => Entry::new(
                "Dates for a calendar…",
                "Writes when to build, to stop filling, to let cure and to empty, as iCalendar.",
            ),
            Self::PickArrival => Entry::new(
                "+ Add material…",
                "Searches the catalogue for a material that arrives in the year.",
            ),
            Self::AddArrival(id) => Entry::new(id, "Adds it to what arrives."),
            Self::RemoveArrival(_) => Entry::new(
                "×",
                "Takes it out of the year, with the decisions on it; undo brings it back.",
            ),
            Self::AddBay => Entry::new("+ Add bay", "Adds a place where a heap can stand."),
            Self::RemoveBay(_) => Entry::new(
                "×",
                "Takes this bay out of the year, with the decisions on it; undo brings it back.",
            ),
            Self::RenameBay(_, name) => Entry::new(name, "Calls the bay so."),
            Self::Decide(_) => Entry::new(
                "Decide",
                "The plan is made again around this; drop it to let the plan decide.",
            ),
            Self::DropWish(_) => Entry::new("×", "Lets the plan decide again."),
            Self::OpenHeap(_) => Entry::new(
                "Open as a recipe",
                "Opens this heap as a recipe of its own; unsaved changes of the open one are asked about first.",
            ),
        }
    }
}

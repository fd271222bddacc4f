//! What is chosen and open in the window: never undone, not part of a recipe.
//!
//! In: clicks and typed words. Out: [`WindowState`] and the small choices it is made of.
//!
//! Not here: what is computed (`shown`), doing anything (`verbs`), drawing anything (the views).
//!
//! Tested by: `tests/window/main.rs`.

use std::collections::BTreeMap;
use std::path::PathBuf;

use crate::document::{Project, Settings};
use crate::outcome::JudgementId;

use crate::heap::SectionValue;
use crate::window::jobs::dialog::PathUse;
use crate::window::jobs::plan_search::Wish;
use crate::window::piles::class_choices::ClassState;
use crate::window::piles::complaint_choices::ComplaintSheet;
use crate::window::piles::diary_choices::DiaryState;
use crate::window::piles::drawer_choices::DrawerState;
use crate::window::piles::import_choices::ImportSheet;
use crate::window::piles::notices::Notices;
use crate::window::piles::recipe_cards::RecipesState;

/// Which page of the window is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum View {
    /// Ingredients, gauges, heat plot.
    #[default]
    Mix,
    /// Where the heap stands, what is done to it, its inside.
    Heap,
    /// What was measured and done, over what was expected.
    Diary,
    /// Kept recipes by time of year.
    Seasons,
    /// What comes of the heap and where it goes.
    Results,
    /// Large type for a class: few controls, trials, lessons.
    Class,
}

impl View {
    /// All views, in the order of the row.
    pub const ALL: [Self; 6] = [
        Self::Mix,
        Self::Heap,
        Self::Diary,
        Self::Seasons,
        Self::Results,
        Self::Class,
    ];

    /// Its name in the settings.
    pub fn name(self) -> &'static str {
        match self {
            Self::Mix => "Mix",
            Self::Heap => "Heap",
            Self::Diary => "Diary",
            Self::Seasons => "Seasons",
            Self::Results => "Results",
            Self::Class => "Class",
        }
    }
}

/// Which page of the Seasons view is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum SeasonsPage {
    /// Kept recipes.
    #[default]
    Recipes,
    /// The year to plan.
    Year,
}

impl SeasonsPage {
    /// Both, in the order of the switch.
    pub const ALL: [Self; 2] = [Self::Recipes, Self::Year];
}

/// What is chosen and open in the window.
#[derive(Debug, Clone, Default)]
pub struct WindowState {
    /// Which view is shown.
    pub view: View,
    /// Whether the window fills the screen.
    pub full_screen: bool,
    /// What the Heap view has chosen.
    pub heap: HeapViewState,
    /// What the Diary view has chosen.
    pub diary: DiaryState,
    /// Which page of the Seasons view is shown.
    pub seasons: SeasonsPage,
    /// What is chosen among kept recipes.
    pub recipes: RecipesState,
    /// Name of the judgement that is open in the Results view.
    pub open_judgement: Option<JudgementId>,
    /// Units, theme and recent files: what is remembered between runs.
    pub settings: Settings,
    /// Materials of the two bucket buttons, by id.
    pub buckets: Buckets,
    /// Upper ends of the sliders, by material and measure; they grow and never shrink.
    pub slider_tops: BTreeMap<String, f64>,
    /// The slider being dragged and its upper end, which holds still meanwhile.
    pub held_slider: Option<(usize, f64)>,
    /// Whether the notes are open.
    pub notes_open: bool,
    /// What was told.
    pub notices: Notices,
    /// What the Class view has chosen.
    pub class: ClassState,
    /// The picker, while it is open.
    pub picker: Option<PickerState>,
    /// The materials drawer, while it is open.
    pub drawer: Option<DrawerState>,
    /// The sheet of the proposed plan, while it is open.
    pub plan_sheet: Option<PlanSheet>,
    /// What was last wished for of a plan.
    pub last_wish: Wish,
    /// What is ticked and answered in the sheet "What is wrong with my heap?".
    pub complaint: ComplaintSheet,
    /// Whether that sheet is open.
    pub complaint_open: bool,
    /// The sheet that imports a logger's file, while it is open.
    pub import_sheet: Option<ImportSheet>,
    /// The sheet of the Help menu, while one is open.
    pub help: Option<HelpSheet>,
    /// The row whose state is open.
    pub details: Option<usize>,
    /// The question that waits for an answer.
    pub question: Option<Question>,
    /// The path field, while it is open.
    pub path_field: Option<PathField>,
}

impl WindowState {
    /// Whether the year is what is looked at.
    pub fn shows_year(&self) -> bool {
        self.view == View::Seasons && self.seasons == SeasonsPage::Year
    }

    /// Whether something lies over the view and has the keyboard.
    pub fn is_covered(&self) -> bool {
        self.question.is_some()
            || self.path_field.is_some()
            || self.picker.is_some()
            || self.drawer.is_some()
            || self.plan_sheet.is_some()
            || self.complaint_open
            || self.import_sheet.is_some()
            || self.help.is_some()
            || self.notices.list_open
    }

    /// Whether one of the sheets lies over the view that take most of a window.
    pub fn has_wide_sheet(&self) -> bool {
        self.drawer.is_some()
            || self.plan_sheet.is_some()
            || self.complaint_open
            || self.import_sheet.is_some()
            || self.help.is_some()
    }
}

/// What a sheet of the Help menu tells.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum HelpTopic {
    /// Every key.
    Keys,
    /// Version, licences, changes.
    About,
}

/// A sheet of the Help menu, while it is open.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct HelpSheet {
    /// What it tells.
    pub topic: HelpTopic,
    /// Whether the sheet has had the keyboard once.
    pub focused: bool,
}

/// Day first shown: by then a heap that heats is hot.
const USUAL_DAY: f64 = 10.0;

/// What portions are balanced with until another brown is chosen.
const USUAL_PORTION_BROWN: &str = "leaves_dry_loose";

/// What is chosen in the Heap view.
#[derive(Debug, Clone, PartialEq)]
pub struct HeapViewState {
    /// Day of the cross-section.
    pub day: f64,
    /// What it shows.
    pub shows: SectionValue,
    /// Whether the days run.
    pub playing: bool,
    /// Where the first and the last day of the heat plot stood when it was last drawn.
    pub day_span: Option<(f32, f32)>,
    /// Id of the brown that portions of the plan are balanced with.
    pub portion_brown: String,
}

impl Default for HeapViewState {
    fn default() -> Self {
        Self {
            day: USUAL_DAY,
            shows: SectionValue::default(),
            playing: false,
            day_span: None,
            portion_brown: USUAL_PORTION_BROWN.to_owned(),
        }
    }
}

/// Which materials the bucket buttons add, by id.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Buckets {
    /// The green one.
    pub green: String,
    /// The brown one.
    pub brown: String,
}

impl Default for Buckets {
    fn default() -> Self {
        Self {
            green: "grass_fresh".to_owned(),
            brown: "leaves_mixed".to_owned(),
        }
    }
}

/// The sheet of the proposed plan, while it is open.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PlanSheet {
    /// What is wished for.
    pub wish: Wish,
    /// Whether the sheet has had the keyboard once.
    pub focused: bool,
}

/// Where a picked material goes.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub enum Destination {
    /// Into the mix.
    #[default]
    Mix,
    /// Into a new entry of the plan.
    Plan,
    /// Into this entry of the plan.
    Entry(usize),
    /// Into the past of the plan: it was added.
    Happened,
    /// Into what arrives in the year.
    Year,
}

/// What is typed and chosen in the picker.
#[derive(Debug, Clone, Default, PartialEq)]
pub struct PickerState {
    /// Where the material goes.
    pub destination: Destination,
    /// The words typed.
    pub query: String,
    /// Place of the chosen row.
    pub chosen: usize,
    /// Whether the field has had the keyboard once.
    pub focused: bool,
}

/// What to do once unsaved changes are out of the way.
#[derive(Debug, Clone, PartialEq)]
pub enum Next {
    /// Start an empty recipe.
    New,
    /// Open by the system's dialog.
    Open,
    /// Open by typing a path.
    OpenByPath,
    /// Open this file.
    OpenFile(PathBuf),
    /// Open an example as a copy, by its place.
    Example(usize),
    /// Go on with this recipe, which no file holds.
    Begin(Box<Project>),
    /// Close the window.
    Close,
}

/// What to do once unsaved changes of the year are out of the way.
#[derive(Debug, Clone, PartialEq)]
pub enum NextYear {
    /// Start an empty year.
    New,
    /// Open the year of the invented garden, as a copy.
    Example,
    /// Open by the system's dialog.
    Open,
    /// Open by typing a path.
    OpenByPath,
    /// Open this file.
    OpenFile(PathBuf),
    /// Close the window.
    Close,
}

/// A question that must be answered before anything else.
#[derive(Debug, Clone, PartialEq)]
pub enum Question {
    /// Unsaved changes stand in the way.
    Unsaved(Next),
    /// Unsaved changes of the year stand in the way.
    UnsavedYear(NextYear),
    /// A file of this name exists where the year is to be saved.
    OverwriteYear(PathBuf),
    /// A file of this name exists, and it is not the one the dialog asked about.
    Overwrite(PathBuf),
    /// The file was changed by someone else since it was read.
    ChangedOnDisk(PathBuf),
    /// The open file holds something else by now.
    Reload(PathBuf),
    /// Unsaved work of an earlier run was found.
    Recover {
        /// Title of the unsaved work.
        title: String,
        /// How many pieces were found.
        count: usize,
    },
}

/// The field in which a path is typed.
#[derive(Debug, Clone, PartialEq)]
pub struct PathField {
    /// What for.
    pub purpose: PathUse,
    /// What is typed.
    pub text: String,
    /// Why it came up by itself; empty if it was asked for.
    pub reason: String,
    /// What was wrong with the last try; empty at first.
    pub problem: String,
    /// Whether the field has had the keyboard once.
    pub focused: bool,
}

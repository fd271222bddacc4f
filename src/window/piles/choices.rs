//! The three piles of the window: what is saved is the project; here are the other two.
//!
//! In: a project and a catalogue. Out: [`WindowState`] (view, choices, open dialogs: never undone,
//! not part of a recipe) and [`Shown`] (everything computed, with the project it belongs to).
//! [`Page`] hands all three to a view.
//!
//! Not here: doing anything (`perform`), drawing anything (the views).
//!
//! Tested by: `tests/window/main.rs`.

use std::collections::BTreeMap;
use std::path::PathBuf;

use eframe::egui;

use crate::document::library::Library;
use crate::document::{Project, Settings};
use crate::material::{Catalogue, Material, Question as Asked};
use crate::mix::balance::{Balanced, Reached, Step, WayOut};
use crate::mix::{Gauges, Mix};
use crate::outcome::JudgementId;

use crate::export::section::Shows;
use crate::window::action::{Action, Facts, View};
use crate::window::jobs::plan_search::{PlanSheet, Wish};
use crate::window::piles::books::Books;
use crate::window::piles::class_choices::ClassState;
use crate::window::piles::drawer_choices::DrawerState;
use crate::window::piles::notices::Notices;
use crate::window::piles::shown::{Pinned, Shown};
use crate::window::theme::Look;

/// What is chosen and open in the window.
#[derive(Debug, Clone, Default)]
pub struct WindowState {
    /// Which view is shown.
    pub view: View,
    /// What the Heap view has chosen.
    pub heap: HeapViewState,
    /// Name of the judgement that is open in the Results view.
    pub open_judgement: Option<JudgementId>,
    /// Units, theme and recent files: what is remembered between runs.
    pub settings: Settings,
    /// The ghost.
    pub pinned: Option<Pinned>,
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
    /// A balance that waits to be taken or left.
    pub preview: Option<Preview>,
    /// The picker, while it is open.
    pub picker: Option<PickerState>,
    /// The materials drawer, while it is open.
    pub drawer: Option<DrawerState>,
    /// The sheet of the proposed plan, while it is open.
    pub plan_sheet: Option<PlanSheet>,
    /// What was last wished for of a plan.
    pub last_wish: Wish,
    /// Materials kept for every recipe, as last read.
    pub kept_materials: Catalogue,
    /// What people ask about materials.
    pub questions: Vec<Asked>,
    /// The row whose state is open.
    pub details: Option<usize>,
    /// The question that waits for an answer.
    pub question: Option<Question>,
    /// The path field, while it is open.
    pub path_field: Option<PathField>,
    /// Kept recipes, as last listed.
    pub library: Library,
}

impl WindowState {
    /// Whether something lies over the view and has the keyboard.
    pub fn is_covered(&self) -> bool {
        self.question.is_some()
            || self.path_field.is_some()
            || self.picker.is_some()
            || self.drawer.is_some()
            || self.plan_sheet.is_some()
            || self.notices.list_open
    }
}

/// Day first shown: by then a heap that heats is hot.
const USUAL_DAY: f64 = 10.0;

/// What is chosen in the Heap view.
#[derive(Debug, Clone, PartialEq)]
pub struct HeapViewState {
    /// Day of the cross-section.
    pub day: f64,
    /// What it shows.
    pub shows: Shows,
    /// Whether the days run.
    pub playing: bool,
    /// Where the first and the last day of the heat plot stood when it was last drawn.
    pub day_span: Option<(f32, f32)>,
}

impl Default for HeapViewState {
    fn default() -> Self {
        Self {
            day: USUAL_DAY,
            shows: Shows::default(),
            playing: false,
            day_span: None,
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

/// A balance that waits to be taken or left.
#[derive(Debug, Clone, PartialEq)]
pub struct Preview {
    /// The answer.
    pub balanced: Balanced,
    /// The way out that is looked at, by its place.
    pub way: Option<usize>,
    /// The mix and the room, m3, it belongs to.
    pub of: (Mix, Option<f64>),
}

impl Preview {
    /// The way out that is looked at.
    fn chosen_way(&self) -> Option<&WayOut> {
        match &self.balanced.verdict {
            Reached::Nearest { ways_out, .. } => ways_out.get(self.way?),
            _ => None,
        }
    }

    /// The mix it would be.
    pub fn mix(&self) -> &Mix {
        self.chosen_way().map_or(&self.balanced.mix, |way| &way.mix)
    }

    /// What would be done.
    pub fn steps(&self) -> &[Step] {
        self.chosen_way()
            .map_or(&self.balanced.steps, |way| &way.steps)
    }

    /// Where the gauges would stand.
    pub fn gauges(&self) -> Option<&Gauges> {
        let after = self
            .chosen_way()
            .map_or(&self.balanced.after, |way| &way.after);
        after.gauges.as_ref()
    }
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
    /// Close the window.
    Close,
}

/// A question that must be answered before anything else.
#[derive(Debug, Clone, PartialEq)]
pub enum Question {
    /// Unsaved changes stand in the way.
    Unsaved(Next),
    /// A file of this name exists, and it is not the one the dialog asked about.
    Overwrite(PathBuf),
    /// The file was changed by someone else since it was read.
    ChangedOnDisk(PathBuf),
    /// Unsaved work of an earlier run was found.
    Recover {
        /// Title of the unsaved work.
        title: String,
        /// How many pieces were found.
        count: usize,
    },
}

/// What the path field is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PathUse {
    /// A file to open.
    Open,
    /// A file to save to.
    Save,
    /// A file for the handout.
    Handout,
    /// A file for a picture of the curve.
    CurvePicture,
    /// A file for a picture of the inside.
    InsidePicture,
}

impl PathUse {
    /// How the name of what is written ends, where it is not a recipe.
    pub fn ending(self) -> Option<&'static str> {
        match self {
            Self::Open | Self::Save => None,
            Self::Handout => Some("pdf"),
            Self::CurvePicture | Self::InsidePicture => Some("png"),
        }
    }
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

/// What a view reads and edits.
pub struct Page<'a> {
    /// The recipe; fields are edited in place.
    pub project: &'a mut Project,
    /// Choices and open dialogs.
    pub state: &'a mut WindowState,
    /// Everything computed.
    pub shown: &'a mut Shown,
    /// All materials.
    pub catalogue: &'a Catalogue,
    /// Trials and lessons.
    pub books: &'a Books,
    /// Colours and sizes.
    pub look: Look<'a>,
    /// What can be done.
    pub facts: &'a Facts,
    /// What is asked for; carried out after the frame.
    pub actions: &'a mut Vec<Action>,
}

impl Page<'_> {
    /// Asks for something to be done after this frame.
    pub fn ask(&mut self, action: Action) {
        self.actions.push(action);
    }

    /// Brings everything computed up to date with the edits made so far in this frame.
    pub fn refresh(&mut self) {
        self.shown
            .refresh(self.project, self.catalogue, self.state.settings.units);
    }

    /// Brings the judgements up to date with the projection that is shown.
    pub fn judge(&mut self, ctx: &egui::Context) {
        let ctx = ctx.clone();
        let wake = Box::new(move || ctx.request_repaint());
        self.shown.judge((self.project, self.catalogue), wake);
    }

    /// Whether a material is one of the recipe's own.
    pub fn is_own(&self, id: &str) -> bool {
        self.project.own_materials.iter().any(|own| own.id == id)
    }

    /// A material of the recipe, the catalogue or the person's library.
    pub fn known(&self, id: &str) -> Option<&Material> {
        self.catalogue
            .find(id)
            .or_else(|| self.state.kept_materials.find(id))
    }

    /// Lets a balance go that belongs to another mix or room.
    pub fn drop_stale_preview(&mut self) {
        let room_m3 = self.project.heap.shape.room_m3();
        let mix = &self.project.mix;
        let stale = |preview: &Preview| preview.of.0 != *mix || preview.of.1 != room_m3;
        if self.state.preview.as_ref().is_some_and(stale) {
            self.state.preview = None;
        }
    }

    /// Name of a material, or its id where it is not known.
    pub fn name_of(&self, id: &str) -> String {
        self.catalogue
            .find(id)
            .map_or_else(|| id.to_owned(), |material| material.name.clone())
    }
}

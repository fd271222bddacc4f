//! The open recipe with everything that is needed to work on it.
//!
//! In: a recipe, materials, files and folders. Out: [`Workbench`], on which every verb works. Its parts:
//! the project (saved, undone) with its [`Changes`], what is chosen ([`WindowState`]), what is computed
//! ([`Shown`]), what was read ([`Shelf`]), materials ([`Stock`]), files ([`Store`]), work behind the
//! window ([`Jobs`]).
//!
//! Not here: what is done with it (the other files of this folder), drawing (`app`, the views).
//!
//! Tested by: `tests/window/`.

use std::sync::Arc;

use jiff::civil::DateTime;

use crate::assess::Subject;
use crate::document::{History, Project, plain};
use crate::material::{Catalogue, Material};
use crate::mix::EXCHANGED_AT_ONCE;

use crate::window::action::Facts;
use crate::window::jobs::complaint::Diagnosing;
use crate::window::jobs::fed::FedRuns;
use crate::window::jobs::importing::Importing;
use crate::window::jobs::judging::Judging;
use crate::window::jobs::learning::Learning;
use crate::window::jobs::page::PageWriter;
use crate::window::jobs::plan_search::PlanFinder;
use crate::window::jobs::projecting::Background;
use crate::window::jobs::recipes::{CardRuns, Comparing};
use crate::window::jobs::trial::TrialRuns;
use crate::window::jobs::turnings::TurnCount;
use crate::window::jobs::year_planning::YearPlanning;
use crate::window::piles::choices::WindowState;
use crate::window::piles::curve::Curve;
use crate::window::piles::diary_choices::DiaryState;
use crate::window::piles::notices::Notice;
use crate::window::piles::recipe_cards::CardKey;
use crate::window::piles::shelf::Shelf;
use crate::window::piles::shown::Shown;
use crate::window::piles::store::Store;
use crate::window::piles::year_desk::{OpenYear, YearDesk};

/// All there is to work on.
pub struct Workbench {
    /// The recipe.
    pub project: Project,
    /// What is chosen and open.
    pub state: WindowState,
    /// What is computed.
    pub shown: Shown,
    /// The year.
    pub year: YearDesk,
    /// Files, folders, unsaved work.
    pub store: Store,
    /// What was read from folders and tables.
    pub shelf: Shelf,
    /// Whether the heap is simulated in the background, and finely once all rests.
    pub refines: bool,
    /// Where the window takes the time of day from.
    pub clock: Clock,
    /// The moment at the heap in this frame.
    pub now: DateTime,
    /// What has changed, and the steps to take back.
    pub(in crate::window) changes: Changes,
    /// All materials.
    pub(in crate::window) stock: Stock,
    /// What goes on behind the window.
    pub jobs: Jobs,
    /// The window's clock, s.
    pub(in crate::window) now_s: f64,
    /// Whether the window may close without asking.
    pub(in crate::window) closing: bool,
}

/// Where the window takes date and time from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Clock {
    /// The clock of the system, in its time zone.
    System,
    /// Always this moment.
    Stands(DateTime),
}

impl Clock {
    /// The moment it shows, to the minute.
    pub fn now(self) -> DateTime {
        let now = match self {
            Self::System => jiff::ZonedDateTime::now().datetime(),
            Self::Stands(moment) => moment,
        };
        now.date().at(now.hour(), now.minute(), 0, 0)
    }

    /// The same in UTC; a clock that stands is taken as if it did so there.
    pub fn utc(self) -> DateTime {
        match self {
            Self::System => jiff::ZonedDateTime::now()
                .with_time_zone(jiff::tz::TimeZone::UTC)
                .datetime(),
            Self::Stands(moment) => moment,
        }
    }
}

/// What has changed of the project, and the steps to take back.
pub(in crate::window) struct Changes {
    /// The steps.
    pub history: History,
    /// The project as it was last found to be in order.
    pub seen: Arc<Project>,
    /// What the newest change is called.
    pub label: String,
}

impl Changes {
    fn of(project: &Project) -> Self {
        Self {
            history: History::new(project),
            seen: Arc::new(project.clone()),
            label: String::new(),
        }
    }
}

/// The materials there are.
pub(in crate::window) struct Stock {
    /// Built-in ones.
    pub built_in: Catalogue,
    /// The same with the project's own laid over; another one whenever those are others.
    pub all: Arc<Catalogue>,
}

impl Stock {
    /// Lays other materials of a project's own over the built-in ones.
    pub fn lay_over(&mut self, own: &[Material]) {
        let all = self.built_in.with_own(own);
        self.all = Arc::new(all.unwrap_or_else(|_| self.built_in.clone()));
    }
}

/// What goes on behind the window.
#[derive(Default)]
pub struct Jobs {
    /// Projects the heap.
    pub(in crate::window) background: Background,
    /// Looks for a plan.
    pub(in crate::window) finder: PlanFinder,
    /// Finds what is wrong with a heap.
    pub(in crate::window) diagnosing: Diagnosing,
    /// Reads a logger's file.
    pub(in crate::window) importing: Importing,
    /// Learns from the diary.
    pub learning: Learning,
    /// Judges the projection.
    pub judging: Judging,
    /// Compares feeding with building at once.
    pub(in crate::window) fed: FedRuns,
    /// Counts what turnings bring.
    pub turn_count: TurnCount,
    /// Runs a trial.
    pub(in crate::window) trials: TrialRuns<Curve>,
    /// Plans the year.
    pub(in crate::window) year: YearPlanning,
    /// Makes a page or picture.
    pub(in crate::window) writer: PageWriter,
    /// Calculates the recipes of cards.
    pub cards: CardRuns<CardKey>,
    /// Calculates two recipes to be compared.
    pub comparing: Comparing,
}

impl Workbench {
    /// A workbench with a project on it.
    pub(in crate::window) fn with(project: Project, built_in: Catalogue, store: Store) -> Self {
        let mut stock = Stock {
            all: Arc::default(),
            built_in,
        };
        stock.lay_over(&project.own_materials);
        Self {
            changes: Changes::of(&project),
            project,
            state: WindowState::default(),
            shown: Shown::default(),
            year: YearDesk::default(),
            store,
            shelf: Shelf::ready(),
            refines: true,
            clock: Clock::System,
            now: Clock::System.now(),
            stock,
            jobs: Jobs::default(),
            now_s: 0.0,
            closing: false,
        }
    }

    /// Puts another project in the place of the present one; its history begins anew.
    pub(in crate::window) fn replace_project(&mut self, project: Project) {
        self.stock.lay_over(&project.own_materials);
        self.changes = Changes::of(&project);
        self.state.slider_tops.clear();
        self.state.class.exchange = None;
        self.state.held_slider = None;
        self.shown.pinned = None;
        self.state.picker = None;
        self.state.drawer = None;
        self.state.plan_sheet = None;
        self.state.complaint_open = false;
        self.state.import_sheet = None;
        self.state.details = None;
        self.state.diary = DiaryState::default();
        self.jobs.learning.call_off();
        self.shown.following.drop_learnt(None);
        self.jobs.trials.call_off();
        self.shown.trial = None;
        self.shown.ahead.clear();
        self.project = project;
    }

    /// First day on which the plan can still be another; `None`: the heap does not stand yet.
    pub(in crate::window) fn first_open_day(&self) -> Option<f64> {
        self.project.diary.first_free_day(self.now)
    }

    /// What is assessed of the project.
    pub(in crate::window) fn subject(&self) -> Subject<'_> {
        Subject::of(&self.project, &self.stock.all)
    }

    /// Whether there are changes that no file holds.
    pub fn is_unsaved(&self) -> bool {
        self.store.saved.as_ref() != Some(&self.project)
    }

    /// Title of the window.
    pub fn title(&self) -> String {
        let year = self.shown_year();
        let (title, unsaved) = match year {
            Some(year) => (&year.file.title, year.is_unsaved()),
            None => (&self.project.title, self.is_unsaved()),
        };
        let name = match plain(title.trim()) {
            title if title.is_empty() => "Untitled".to_owned(),
            title => title,
        };
        let mark = if unsaved { " •" } else { "" };
        format!("{name}{mark} - Heapwright")
    }

    /// What can be done at present.
    pub fn facts(&self) -> Facts {
        let name = |id: &str| {
            self.stock
                .all
                .find(id)
                .map_or_else(String::new, |material| material.name.clone())
        };
        let blend = self.shown.stages.blend();
        let year = self.shown_year();
        let (undo, redo) = match year {
            Some(year) => (year.history.undo_label(), year.history.redo_label()),
            None => {
                let history = &self.changes.history;
                (history.undo_label(), history.redo_label())
            }
        };
        Facts {
            undo: undo.map(str::to_owned),
            redo: redo.map(str::to_owned),
            pinned: self.shown.pinned.is_some(),
            blended: blend.is_some_and(|blend| blend.gauges.is_some()),
            has_room: self.project.heap.shape.room_m3().is_some(),
            plan_found: self.state.plan_sheet.is_some() && self.shown.plan.found().is_some(),
            readings: self.shown.import.readings(),
            dialog_open: self.store.dialog.is_open(),
            buckets: (
                name(&self.state.buckets.green),
                name(&self.state.buckets.brown),
            ),
            size: self.state.class.size,
            step_m3: EXCHANGED_AT_ONCE * blend.map_or(0.0, |blend| blend.totals.piled_volume_m3),
            units: self.state.settings.units,
            on_year: year.is_some(),
        }
    }

    /// The open year, if it is what is looked at.
    pub(in crate::window) fn shown_year(&self) -> Option<&OpenYear> {
        let open = self.year.open.as_ref();
        open.filter(|_| self.state.shows_year())
    }

    /// Tells something.
    pub(in crate::window) fn tell(&mut self, notice: Notice) {
        self.state.notices.tell(notice, self.now_s);
    }
}

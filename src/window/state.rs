//! The three piles of the window: what is saved is the project; here are the other two.
//!
//! In: a project and a catalogue. Out: [`WindowState`] (view, choices, open dialogs: never undone,
//! not part of a recipe) and [`Shown`] (everything computed, with the project it belongs to).
//! [`Page`] hands all three to a view.
//!
//! Not here: doing anything (`perform`), drawing anything (the views).
//!
//! Held against: `tests/window/main.rs`.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use eframe::egui;

use crate::document::library::Library;
use crate::document::{Project, Settings};
use crate::forecast::{Forecast, Inputs, Series};
use crate::heap::{self, Heap, Kinetics, Projection, simulate};
use crate::material::{Catalogue, Material, Question as Asked};
use crate::mix::balance::{Balanced, Fix, Goal, Reached, Side, Step, WayOut, fixes};
use crate::mix::{Blend, Fit, Gauge, Gauges, Mix, blend};
use crate::outcome::cautions::Caution;
use crate::outcome::turns::TurnRow;
use crate::outcome::{Advice, advise};
use crate::quantity::UnitSystem;

use super::action::{Action, Facts, View};
use super::background::Answer;
use super::class_books::Books;
use super::class_state::ClassState;
use super::curve::Curve;
use super::judging::{Judging, Subject, Wake, mix_cautions};
use super::materials_state::DrawerState;
use super::notice::Notices;
use super::plan_finder::{PlanSheet, Wish};
use super::section::Shows;
use super::theme::Look;

/// What is chosen and open in the window.
#[derive(Debug, Clone, Default)]
pub struct WindowState {
    /// Which view is shown.
    pub view: View,
    /// What the Heap view has chosen.
    pub heap: HeapViewState,
    /// Name of the judgement that is open in the Spread view.
    pub open_judgement: Option<String>,
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

/// A mix kept to compare against.
#[derive(Debug, Clone, PartialEq)]
pub struct Pinned {
    /// Its gauges.
    pub gauges: Gauges,
    /// Its heat.
    pub curve: Curve,
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

/// Everything computed from one state of the project.
#[derive(Debug, Default)]
pub struct Shown {
    /// Counts up with every reckoning.
    pub revision: u64,
    /// The mix reckoned through.
    pub blend: Option<Blend>,
    /// Why there is none.
    pub problem: Option<String>,
    /// The projected heat.
    pub curve: Curve,
    /// The projection itself, for its inside.
    pub projection: Option<Arc<Projection>>,
    /// What a finer run of it would need.
    pub inputs: Option<Arc<Inputs>>,
    /// What to do next.
    pub advice: Vec<Advice>,
    /// What to be careful with in the mix.
    pub cautions: Vec<Caution>,
    /// The members of the ensemble so far.
    pub forecast: Option<Arc<Forecast>>,
    /// What each further turning buys, once it has been counted.
    pub turnings: Vec<TurnRow>,
    /// What is judged of the projection, once it is asked for.
    pub judging: Judging,
    /// The easiest change that brings each gauge that is off into its band.
    pub fixes: Vec<(Gauge, Fix)>,
    /// Whether the heap is left to the background.
    pub behind: bool,
    /// What all of it belongs to.
    of: Option<(Mix, Heap, UnitSystem)>,
}

impl Shown {
    /// Reckons the project through, unless that has been done already.
    ///
    /// The mix is reckoned at once. So is the heap, unless it is left to the background; then the last curve
    /// and advice stay until its answer is there.
    pub fn refresh(&mut self, project: &Project, catalogue: &Catalogue, units: UnitSystem) {
        let fresh = self.of.as_ref().is_some_and(|(mix, heap, of_units)| {
            *mix == project.mix && *heap == project.heap && *of_units == units
        });
        if fresh {
            return;
        }
        let last = std::mem::take(self);
        *self = Self {
            revision: last.revision + 1,
            behind: last.behind,
            judging: last.judging,
            of: Some((project.mix.clone(), project.heap.clone(), units)),
            ..Self::default()
        };
        match reckon(project, catalogue) {
            Err(problem) => self.problem = Some(problem),
            Ok((blend, inputs)) => {
                self.cautions = mix_cautions(project, catalogue, &blend);
                self.fixes = easiest_fixes(project, catalogue, blend.gauges.as_ref());
                self.blend = Some(blend);
                if self.behind {
                    self.curve = last.curve;
                    self.projection = last.projection;
                    self.advice = last.advice;
                    self.forecast = last.forecast;
                } else {
                    let projection = coarse(&inputs).map(Box::new);
                    self.take_projection(projection, &inputs, (project, catalogue));
                }
                self.inputs = Some(Arc::new(inputs));
            }
        }
    }

    /// Takes what the background has found.
    pub fn refine(&mut self, answer: Answer, project: &Project, catalogue: &Catalogue) {
        match answer {
            Answer::Forecast(forecast) => {
                self.curve.band = Some(forecast.band(Series::Centre).clone());
                self.forecast = Some(forecast);
            }
            Answer::Projected(projection, inputs) => {
                self.take_projection(projection, &inputs, (project, catalogue));
            }
            Answer::Failed(_) => {}
        }
    }

    /// Shows a projection. Advice is given anew, so that it says the same numbers as the curve.
    fn take_projection(
        &mut self,
        projection: Option<Box<Projection>>,
        inputs: &Inputs,
        (project, catalogue): (&Project, &Catalogue),
    ) {
        self.projection = projection.map(Arc::from);
        self.forecast = None;
        let projection = self.projection.as_deref();
        self.curve = projection
            .map(|p| Curve::of(p, &inputs.heap))
            .unwrap_or_default();
        if let (Ok(parts), Some(blend), Some((_, _, units))) =
            (project.mix.resolve(catalogue), &self.blend, &self.of)
        {
            let room_m3 = project.heap.shape.room_m3();
            self.advice = advise(&project.mix, &parts, blend, room_m3, projection, *units);
        }
    }

    /// Judges the projection that is shown, unless that has been done already.
    ///
    /// In the background, if the heap is left to it; `wake` is called when the outcome is there.
    fn judge(
        &mut self,
        (project, catalogue): (&Project, &Catalogue),
        units: UnitSystem,
        wake: Wake,
    ) {
        let wake = self.behind.then_some(wake);
        let (Some(projection), Some(blend)) = (&self.projection, &self.blend) else {
            self.judging = Judging::default();
            return;
        };
        let subject = Subject {
            project,
            catalogue,
            projection,
            blend,
            advice: &self.advice,
            forecast: self.forecast.as_ref(),
            units,
        };
        self.judging.refresh(&subject, wake);
    }

    /// Forgets what it belongs to, after the catalogue has changed.
    pub fn forget(&mut self) {
        self.of = None;
    }

    /// The present state as something to compare against, if there is anything to see.
    pub fn to_pin(&self) -> Option<Pinned> {
        Some(Pinned {
            gauges: self.blend.as_ref()?.gauges?,
            // A band behind the live one would say more than it explains.
            curve: Curve {
                band: None,
                ..self.curve.clone()
            },
        })
    }
}

/// The mix reckoned through, and what a projection of its heap needs.
fn reckon(project: &Project, catalogue: &Catalogue) -> Result<(Blend, Inputs), String> {
    let parts = project
        .mix
        .resolve(catalogue)
        .map_err(|problem| problem.to_string())?;
    let blend = blend(&parts, project.mix.added_water_l);
    let additions = project
        .additions(catalogue)
        .map_err(|problem| problem.to_string())?;
    let inputs = Inputs {
        totals: blend.totals,
        additions,
        heap: project.heap.clone(),
        kinetics: Kinetics::default(),
        gauges: blend.gauges,
    };
    Ok((blend, inputs))
}

/// The easiest change for every gauge that is off; a gauge without one has no entry.
fn easiest_fixes(
    project: &Project,
    catalogue: &Catalogue,
    gauges: Option<&Gauges>,
) -> Vec<(Gauge, Fix)> {
    let goal = Goal::of_room(project.heap.shape.room_m3());
    let Some(gauges) = gauges else {
        return Vec::new();
    };
    let easiest = |gauge: Gauge| {
        // What the balance does not seek is not offered alone either.
        let value = gauges.value(gauge);
        let unsought = goal.unsought.iter().any(|(of, side)| {
            let band = match of {
                Gauge::AirSpace => goal.bands.free_air_space,
                _ => goal.bands.bulk_density_kg_per_m3,
            };
            let fit = match side {
                Side::Low => Fit::Low,
                Side::High => Fit::High,
            };
            *of == gauge && band.judge(value).fit == fit
        });
        if unsought {
            return None;
        }
        let found = fixes(&project.mix, catalogue, &goal, gauge).ok()?;
        Some((gauge, found.into_iter().next()?))
    };
    Gauge::ALL.into_iter().filter_map(easiest).collect()
}

/// The quickest projection.
fn coarse(inputs: &Inputs) -> Option<Projection> {
    let never = AtomicBool::new(false);
    simulate(
        &inputs.totals,
        &inputs.additions,
        &inputs.heap,
        &heap::Settings::coarse(),
        &never,
    )
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
        let units = self.state.settings.units;
        self.shown
            .judge((self.project, self.catalogue), units, wake);
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

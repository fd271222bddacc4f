//! What the sheet "What is wrong with my heap?" asks for, carried out, and its search between frames.
//!
//! In: the sheet. Out: the newest answer; a cured recipe; a rough recipe kept.
//!
//! Not here: the list of actions (`action`), the search and its thread (`jobs::complaint`).
//!
//! Tested by: `tests/window/complaint.rs`.

use std::sync::Arc;

use eframe::egui;

use crate::assess::remedy::{DiarySays, LearntHeap, Question};
use crate::diary::Diary;
use crate::document::{NEWEST_FORMAT, Project, Season};
use crate::heap::Heap;
use crate::mix::Mix;
use crate::text::change;
use crate::text::complaint::{ROUGH_NOTES, ROUGH_TITLE};
use crate::text::error::diagnosis_failed;

use crate::window::piles::choices::{Next, View};
use crate::window::piles::complaint_choices::{AskedHeap, ComplaintShown};
use crate::window::piles::notices::Notice;
use crate::window::verbs::workbench::Workbench;

impl Workbench {
    /// Opens the sheet over whatever is shown.
    pub(in crate::window) fn open_complaint(&mut self) {
        self.state.picker = None;
        self.state.drawer = None;
        self.state.plan_sheet = None;
        self.state.complaint_open = true;
        if self.project.mix.ingredients.is_empty() {
            // There is no recipe to ask about.
            self.state.complaint.heap = AskedHeap::Rough;
        }
    }

    /// Closes the sheet and calls the search off; ticks and answers stay.
    pub(in crate::window) fn leave_complaint(&mut self) {
        self.state.complaint_open = false;
        self.shown.complaint = ComplaintShown::Nothing;
        self.jobs.diagnosing.call_off();
    }

    /// Whether a cause or a cure is being looked for.
    pub fn is_diagnosing(&self) -> bool {
        self.jobs.diagnosing.is_busy()
    }

    /// The mix and the heap asked about.
    fn asked_heap(&self) -> Result<(Mix, Heap), String> {
        match self.state.complaint.heap {
            AskedHeap::Recipe => Ok((self.project.mix.clone(), self.project.heap.clone())),
            AskedHeap::Rough => {
                let rough = &self.state.complaint.rough;
                let recipe = rough.recipe(&self.project.heap, &self.stock.all);
                recipe.map_err(|problem| diagnosis_failed(&problem.to_string()))
            }
        }
    }

    /// Brings the sheet's answer up to date while it is open.
    pub(in crate::window) fn tend_complaint(&mut self, ctx: &egui::Context) {
        if !self.state.complaint_open {
            return;
        }
        let plan = &self.project.heap.plan;
        self.shown.diary_says = DiarySays::of(&self.project.diary, plan, self.now.date());
        let sheet = &self.state.complaint;
        if sheet.symptoms.is_empty() {
            self.jobs.diagnosing.call_off();
            self.shown.complaint = ComplaintShown::Nothing;
            return;
        }
        let (mix, heap) = match self.asked_heap() {
            Ok(asked) => asked,
            Err(problem) => {
                self.jobs.diagnosing.call_off();
                self.shown.complaint = ComplaintShown::Problem(problem);
                return;
            }
        };
        let readings = sheet.readings_now();
        let from_day = self.first_open_day();
        let inputs = self.shown.stages.inputs();
        let followed = self.shown.following.followed_of(inputs);
        let of_recipe = sheet.heap == AskedHeap::Recipe;
        let question = Question {
            mix,
            heap,
            symptoms: sheet.symptoms.clone(),
            readings,
            catalogue: Arc::clone(&self.stock.all),
            from_day: from_day.filter(|_| of_recipe),
            diary: if of_recipe {
                self.shown.diary_says
            } else {
                DiarySays::default()
            },
            learnt: followed
                .filter(|_| of_recipe)
                .map(|shown| LearntHeap::of(&shown.learnt, from_day)),
        };
        let own = of_recipe && readings.squeeze.is_none();
        let projection = self.shown.stages.projection().filter(|_| own).cloned();
        let waking = ctx.clone();
        let news = self
            .jobs
            .diagnosing
            .tend(&question, projection.as_deref(), move || {
                waking.request_repaint();
            });
        if let Some(news) = news {
            self.shown.complaint = match news {
                Ok(found) => ComplaintShown::Found(found),
                Err(problem) => ComplaintShown::Problem(problem),
            };
            ctx.request_repaint();
        }
    }

    /// Puts the cure of this place into the recipe, in one step.
    pub(in crate::window) fn take_cure(&mut self, place: usize) {
        if self.state.complaint.heap != AskedHeap::Recipe {
            return;
        }
        let found = self.shown.complaint.found();
        let Some(cure) = found.and_then(|found| found.cures.get(place)).cloned() else {
            return;
        };
        (self.project.mix, self.project.heap) = cure.then;
        self.leave_complaint();
        if self.record_or_revert(change::CURED) {
            self.tell(Notice::done(change::CURED_TOLD));
        }
    }

    /// Keeps the rough heap as a recipe; unsaved changes of the open one are asked about first.
    pub(in crate::window) fn keep_rough(&mut self, ctx: &egui::Context) {
        let rough = self.state.complaint.rough;
        let (mix, heap) = match rough.recipe(&self.project.heap, &self.stock.all) {
            Ok(recipe) => recipe,
            Err(problem) => {
                let sentence = diagnosis_failed(&problem.to_string());
                return self.tell(Notice::problem(sentence, ""));
            }
        };
        let project = Project {
            format: NEWEST_FORMAT,
            title: ROUGH_TITLE.to_owned(),
            season: Season::of_day(rough.start_day_of_year, heap.climate.latitude_deg),
            place: self.project.place.clone(),
            notes: ROUGH_NOTES.to_owned(),
            mix,
            heap,
            own_materials: self.project.own_materials.clone(),
            beds: self.project.beds.clone(),
            uses: self.project.uses.clone(),
            field_tests: Vec::new(),
            aim: None,
            measures: self.project.measures.clone(),
            diary: Diary::default(),
        };
        self.leave_complaint();
        self.guarded(Next::Begin(Box::new(project)), ctx);
    }

    /// Makes a recipe that no file holds the open one.
    pub(in crate::window) fn begin_with(&mut self, project: Project) {
        self.take_over(project, None, None);
        self.store.saved = None;
        self.state.view = View::Mix;
    }
}

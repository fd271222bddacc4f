//! What the sheet of the proposed plan asks for, carried out, and its search between frames.
//!
//! In: the sheet, the sums that were last calculated with. Out: the sheet with the newest answer; a changed plan.
//!
//! Not here: the list of actions (`action`), the search and its thread (`jobs::plan_search`).
//!
//! Tested by: `tests/window/plan_search.rs`.

use std::time::Duration;

use eframe::egui;

use crate::forecast::plan_search::Want;
use crate::garden::Aim;
use crate::heap::Operation;
use crate::mix::Ingredient;
use crate::mix::portion::{PortionNeeds, portion_needs};
use crate::quantity::{Amount, Measure};

use crate::text::error::no_plan;
use crate::text::plan_search::was_used;
use crate::text::{balance, change};

use crate::window::jobs::plan_search::Stage;
use crate::window::piles::choices::{PlanSheet, View};
use crate::window::piles::notices::Notice;
use crate::window::verbs::workbench::Workbench;
use crate::window::widgets::operations::{add_operation, addition};

/// What an aim wants of a plan.
fn wanted(aim: Aim) -> Want {
    match aim {
        Aim::Hot | Aim::SeedsKilled => Want::KillSeeds,
        Aim::FinishedBy { .. } | Aim::Teach => Want::FinishSoonest,
        Aim::LeastWork => Want::LeastWork,
    }
}

/// How often the bar of a search moves.
const BAR: Duration = Duration::from_millis(100);

impl Workbench {
    /// A bucket of it in an entry of the plan.
    pub(in crate::window) fn add_to_plan(&mut self, entry: Option<usize>, id: String) {
        self.state.picker = None;
        let Some(material) = self.stock.all.find(&id) else {
            return;
        };
        let label = change::plan_adds(&material.name);
        let bucket = Ingredient::new(id, Amount::new(1.0, Measure::Bucket));
        let heap = &mut self.project.heap;
        match entry.and_then(|entry| heap.plan.events.get_mut(entry)) {
            Some(event) => {
                if let Operation::Add { mix, .. } = &mut event.operation {
                    mix.ingredients.push(bucket);
                }
            }
            None => add_operation(heap, addition(bucket)),
        }
        self.record_or_revert(&label);
    }

    /// The least of the chosen brown that brings an entry's portion into its bands, added to it; says what it was.
    pub(in crate::window) fn balance_portion(&mut self, entry: usize) {
        let brown = self.state.heap.portion_brown.clone();
        let Some(event) = self.project.heap.plan.events.get_mut(entry) else {
            return;
        };
        let Operation::Add { mix, .. } = &mut event.operation else {
            return;
        };
        let needs = match portion_needs(mix, &brown, &self.stock.all) {
            Ok(needs) => needs,
            Err(problem) => return self.tell(Notice::problem(problem.to_string(), String::new())),
        };
        let told = balance::portion(&needs, &brown, &self.stock.all);
        if let PortionNeeds::More { mix: balanced, .. } = needs {
            *mix = balanced;
            self.record_or_revert(change::PORTION_BALANCED);
        }
        self.tell(Notice::done(told));
    }

    /// Opens the sheet over the Heap view; the search begins with the next frame.
    pub(in crate::window) fn open_plan_sheet(&mut self) {
        self.state.picker = None;
        self.state.drawer = None;
        self.state.view = View::Heap;
        let mut wish = self.state.last_wish;
        if let Some(aim) = self.project.aim {
            wish.want = wanted(aim);
        }
        self.state.plan_sheet = Some(PlanSheet {
            wish,
            focused: false,
        });
        self.shown.plan = Stage::default();
    }

    /// Closes the sheet and calls the search off.
    pub(in crate::window) fn leave_plan_sheet(&mut self) {
        if let Some(sheet) = self.state.plan_sheet.take() {
            self.state.last_wish = sheet.wish;
        }
        self.jobs.finder.call_off();
    }

    /// Whether a plan is being looked for.
    pub fn is_looking_for_plan(&self) -> bool {
        self.jobs.finder.is_busy()
    }

    /// Puts the proposed plan in the place of the present one, in one step.
    pub(in crate::window) fn use_proposed_plan(&mut self) {
        let found = self.state.plan_sheet.as_ref().and_then(|sheet| {
            let found = self.shown.plan.found()?;
            (found.wish == sheet.wish).then(|| found.clone())
        });
        let Some(found) = found else { return };
        if found.proposed.plan == self.project.heap.plan {
            self.leave_plan_sheet();
            return self.tell(Notice::done(
                "That is already the plan; nothing was changed.",
            ));
        }
        let told = was_used(&self.project.heap, self.first_open_day());
        self.project.heap.plan = found.proposed.plan.clone();
        self.leave_plan_sheet();
        if self.record_or_revert(change::PROPOSED_PLAN) {
            self.tell(Notice::done(told));
        }
    }

    /// Brings the sheet's answer up to date while it is open.
    pub(in crate::window) fn tend_plan_search(&mut self, ctx: &egui::Context) {
        let Some(sheet) = &self.state.plan_sheet else {
            if self.jobs.finder.is_busy() {
                self.jobs.finder.call_off();
            }
            return;
        };
        let waking = ctx.clone();
        let from_day = self.project.diary.first_free_day(self.now);
        let stage = match (self.shown.inputs(), self.shown.stages.problem()) {
            (Some(inputs), _) => {
                self.jobs
                    .finder
                    .tend((&inputs, from_day), sheet.wish, move || {
                        waking.request_repaint()
                    })
            }
            (None, Some(problem)) => Stage::Problem(no_plan(&problem)),
            (None, None) => Stage::Looking(0.0),
        };
        if matches!(stage, Stage::Looking(_) | Stage::Choosing(_)) {
            ctx.request_repaint_after(BAR);
        }
        if stage != self.shown.plan {
            if !matches!(stage, Stage::Looking(_)) {
                ctx.request_repaint();
            }
            self.shown.plan = stage;
        }
    }
}

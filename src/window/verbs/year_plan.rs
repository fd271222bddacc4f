//! The plan of the year: made behind the window whenever the year is another, its heaps opened as recipes.
//!
//! In: the year as it stands, answers of the planning. Out: what is shown of it; a recipe that no file holds.
//!
//! Not here: the planning (`jobs::year_planning`), edits (`year`).
//!
//! Tested by: `tests/window/year_plan.rs`.

use eframe::egui;

use crate::assess::planned::{Site, recipe_of};
use crate::text::error::no_thread;
use crate::text::year_page as words;

use crate::window::jobs::year_planning::YearNews;
use crate::window::piles::choices::Next;
use crate::window::piles::notices::Notice;
use crate::window::piles::year_desk::YearShown;
use crate::window::verbs::workbench::Workbench;

impl Workbench {
    /// Lets the year be planned while it is looked at and nothing of it is held.
    pub(in crate::window) fn tend_year(&mut self, ctx: &egui::Context) {
        let desk = &mut self.year;
        let Some(open) = desk.open.as_ref().filter(|_| self.state.shows_year()) else {
            return;
        };
        if ctx.input(|input| input.pointer.any_down()) {
            return;
        }
        let site = Site::of(&self.project);
        let waking = ctx.clone();
        let wake = move || waking.request_repaint();
        let of = (&open.file, &open.catalogue, &site);
        let answer = self.jobs.year.tend(of, wake);
        desk.busy = self.jobs.year.is_busy();
        let all = answer.unwrap_or_else(|problem| vec![YearNews::Broken(no_thread(&problem))]);
        for news in all {
            ctx.request_repaint();
            match news {
                YearNews::Planned(of, answer, took_s) => {
                    let heaps = answer.as_ref().map_or(0, |plan| plan.heaps.len());
                    desk.shown = Some(YearShown {
                        of,
                        answer,
                        took_s,
                        warmth: vec![None; heaps],
                    });
                }
                YearNews::Warm(place, warm) => {
                    let warmth = desk.shown.as_mut().map(|shown| &mut shown.warmth);
                    if let Some(of_heap) = warmth.and_then(|all| all.get_mut(place)) {
                        *of_heap = warm;
                    }
                }
                YearNews::Short(short) => {
                    let answer = desk.shown.as_mut().map(|shown| &mut shown.answer);
                    if let Some(Ok(plan)) = answer {
                        plan.short = short;
                    }
                }
                YearNews::Broken(cause) => {
                    self.state
                        .notices
                        .tell(Notice::problem(words::PLANNING_FAILED, cause), self.now_s);
                }
            }
        }
    }

    /// A planned heap as a recipe; unsaved changes of the open one are asked about first.
    pub(in crate::window) fn open_heap(&mut self, place: usize, ctx: &egui::Context) {
        let Some(shown) = &self.year.shown else {
            return;
        };
        let units = self.state.settings.units;
        let Some(told) = shown.told(units) else {
            return;
        };
        let Some(heap) = told.plan.heaps.get(place) else {
            return;
        };
        let file = &shown.of.file;
        let said = words::recipe(file, &told, heap);
        let project = recipe_of(file, heap, &shown.of.site, said);
        self.guarded(Next::Begin(Box::new(project)), ctx);
    }
}

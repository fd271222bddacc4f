//! What the year's page asks for, carried out; and what becomes of an edit of the year.
//!
//! In: actions, the year as edited. Out: a changed year, each change one step of its history.
//!
//! Not here: files (`year_files`), the list of actions (`action::year`).
//!
//! Tested by: `tests/window/year.rs`.

use eframe::egui;

use crate::document::History;
use crate::document::year::YearFile;
use crate::text::error::change_rejected;

use crate::window::action::YearAction;
use crate::window::piles::choices::{NextYear, View};
use crate::window::piles::notices::Notice;
use crate::window::verbs::workbench::Workbench;

impl Workbench {
    /// Carries out what the year's page asks for.
    pub(in crate::window) fn perform_year(&mut self, action: YearAction, ctx: &egui::Context) {
        match action {
            YearAction::Show(page) => {
                self.state.seasons = page;
                self.state.view = View::Seasons;
            }
            YearAction::New => self.guarded_year(NextYear::New, ctx),
            YearAction::Example => self.guarded_year(NextYear::Example, ctx),
            YearAction::Open => self.guarded_year(NextYear::Open, ctx),
            YearAction::OpenByPath => self.guarded_year(NextYear::OpenByPath, ctx),
        }
    }

    /// Checks and records what was edited of the year in this frame.
    pub(in crate::window) fn settle_year(&mut self, settled: bool, ctx: &egui::Context) {
        let Some(open) = &mut self.year.open else {
            return;
        };
        let mut rejected = None;
        if open.file != open.seen {
            if let Some(problem) = open.file.flaw() {
                open.file = open.seen.clone();
                rejected = Some(Notice::problem(change_rejected(&problem), ""));
            } else {
                open.seen = open.file.clone();
            }
            ctx.request_repaint();
        }
        open.history
            .note(&open.file, &open.label, self.now_s, settled);
        if let Some(notice) = rejected {
            self.tell(notice);
        }
    }

    /// One step of the year's history, in either direction.
    pub(in crate::window) fn step_year(
        &mut self,
        way: impl FnOnce(&mut History<YearFile>, &YearFile) -> Option<(YearFile, String)>,
    ) {
        let Some(open) = &mut self.year.open else {
            return;
        };
        if let Some((file, _)) = way(&mut open.history, &open.file) {
            open.seen = file.clone();
            open.file = file;
        }
    }
}

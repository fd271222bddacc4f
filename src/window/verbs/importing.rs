//! What the sheet that imports a logger's file asks for, carried out.
//!
//! In: a path, the sheet's choices. Out: what was found, between frames; readings in the diary, in one step.
//!
//! Not here: the list of actions (`action`), reading and its thread (`jobs::importing`).
//!
//! Tested by: `tests/window/import.rs`.

use std::path::Path;

use eframe::egui;

use crate::diary::import::{Choices, merge};
use crate::text::logger::{TAKEN, not_taken, taken};

use crate::window::jobs::importing::Importing;
use crate::window::piles::import_choices::{ImportSheet, ImportShown};
use crate::window::piles::notices::Notice;
use crate::window::verbs::workbench::Workbench;

/// How the names of logger files end, in small letters.
const ENDINGS: [&str; 4] = ["csv", "txt", "tsv", "asc"];

/// Whether a file's name is one of a logger's file.
pub(in crate::window) fn is_logger_file(path: &Path) -> bool {
    let ending = path
        .extension()
        .map(|end| end.to_string_lossy().to_lowercase());
    ending.is_some_and(|end| ENDINGS.contains(&end.as_str()))
}

impl Workbench {
    /// Opens the sheet on a file.
    pub(in crate::window) fn open_import(&mut self, path: &Path) {
        self.state.picker = None;
        self.state.drawer = None;
        self.state.plan_sheet = None;
        self.state.complaint_open = false;
        self.state.path_field = None;
        let choices = Choices {
            built: self.project.diary.built,
            ..Choices::default()
        };
        self.shown.import = ImportShown::default();
        self.jobs.importing = Importing::default();
        self.state.import_sheet = Some(ImportSheet::of(path.to_owned(), choices));
    }

    /// Closes the sheet; nothing is taken.
    pub(in crate::window) fn leave_import(&mut self) {
        self.state.import_sheet = None;
        self.shown.import = ImportShown::default();
        self.jobs.importing = Importing::default();
    }

    /// Reads the file anew when something else was chosen.
    pub(in crate::window) fn tend_import(&mut self, ctx: &egui::Context) {
        let Some(sheet) = &self.state.import_sheet else {
            return;
        };
        let waking = ctx.clone();
        let wake = move || waking.request_repaint();
        let news = self.jobs.importing.tend(&sheet.path, &sheet.choices, wake);
        let busy = self.jobs.importing.is_busy() && news.is_none();
        if news.is_some() || self.shown.import.busy != busy {
            ctx.request_repaint();
        }
        self.shown.import.busy = busy;
        match news {
            None => {}
            Some(Ok(found)) => {
                self.shown.import.found = Some(found);
                self.shown.import.problem = None;
            }
            Some(Err(problem)) => self.shown.import.problem = Some(problem),
        }
    }

    /// Puts the readings into the diary, in one step.
    pub(in crate::window) fn take_readings(&mut self) {
        let Some(imported) = self.shown.import.imported().cloned() else {
            return;
        };
        match merge(&imported, &mut self.project.diary) {
            Err(problem) => self.tell(Notice::problem(not_taken(&problem), "")),
            Ok(merged) => {
                self.leave_import();
                if self.record_or_revert(TAKEN) {
                    self.tell(Notice::done(taken(&merged)));
                }
            }
        }
    }
}

//! Opening and saving the year, and the questions on the way.
//!
//! In: actions and answers. Out: another year, a written file, a notice, a question. Whatever goes wrong leaves the open
//! year as it is.
//!
//! Not here: recipes (`files`), reading and writing (`document::year`).
//!
//! Tested by: `tests/window/year.rs`.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use eframe::egui;

use crate::document::year::{YEAR_EXTENSION, YearFile, read_year, with_year_extension, write_year};
use crate::document::{absolute, plain, shown};
use crate::text::error::{self, about_year};
use crate::text::sentence;
use crate::text::year_page::bay_name;

use crate::window::jobs::dialog::PathUse;
use crate::window::piles::choices::{NextYear, Question, SeasonsPage, View};
use crate::window::piles::notices::Notice;
use crate::window::piles::year_desk::{OpenYear, YearTab};
use crate::window::verbs::workbench::Workbench;

/// The year of the invented garden.
const EXAMPLE_RON: &str = include_str!("../../../demo-data/withybed-year.year.ron");

/// Who has asked already about a file in the way.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::window) enum Asked {
    /// The system's dialog, about the name that was chosen in it.
    ByDialog,
    /// Nobody.
    Nobody,
}

impl Workbench {
    /// Does it at once, or asks about unsaved changes of the year first.
    pub(in crate::window) fn guarded_year(&mut self, next: NextYear, ctx: &egui::Context) {
        if self.year.is_unsaved() {
            self.state.question = Some(Question::UnsavedYear(next));
        } else {
            self.go_on_with_year(next, ctx);
        }
    }

    pub(in crate::window) fn go_on_with_year(&mut self, next: NextYear, ctx: &egui::Context) {
        match next {
            NextYear::New => {
                let month = u8::try_from(self.now.month()).unwrap_or(1);
                self.take_year(YearFile::empty(month, bay_name(1)), None);
            }
            NextYear::Example => self.open_example_year(),
            NextYear::Open => self.ask_for_path(PathUse::OpenYear, ctx),
            NextYear::OpenByPath => self.show_path_field(PathUse::OpenYear, ""),
            NextYear::OpenFile(path) => {
                self.open_year(&path);
            }
            NextYear::Close => self.close_unasked(ctx),
        }
    }

    /// Makes a year the open one, as saved at `path`.
    fn take_year(&mut self, file: YearFile, path: Option<PathBuf>) {
        let own = self.stock.built_in.with_own(&file.own_materials);
        let catalogue = own.unwrap_or_else(|_| self.stock.built_in.clone());
        self.jobs.year.call_off();
        self.year.shown = None;
        self.year.typed_name = None;
        self.year.tab = if file.year.arrivals.is_empty() {
            YearTab::Arrivals
        } else {
            YearTab::Plan
        };
        self.year.open = Some(OpenYear::of(file, path, Arc::new(catalogue)));
        self.state.seasons = SeasonsPage::Year;
        self.state.view = View::Seasons;
    }

    /// The year last worked on, the first time a year is looked at; one that is gone is forgotten.
    pub(in crate::window) fn open_last_year(&mut self) {
        let last = self.state.settings.year.clone();
        if let Some(path) = last.filter(|_| self.year.open.is_none())
            && self.open_year(&path).is_some()
        {
            self.state.settings.year = None;
        }
    }

    /// A copy of the invented year, in no file.
    fn open_example_year(&mut self) {
        match ron::from_str(EXAMPLE_RON) {
            Ok(file) => self.take_year(file, None),
            Err(problem) => {
                self.tell(Notice::problem(error::NO_EXAMPLE, problem.to_string()));
            }
        }
    }

    /// Opens a year, or tells why it cannot be: then nothing else has changed, and the reason comes back.
    pub(in crate::window) fn open_year(&mut self, path: &Path) -> Option<String> {
        let path = &absolute(path);
        match read_year(path, &self.stock.built_in) {
            Ok((file, _)) => {
                self.take_year(file, Some(path.to_owned()));
                self.state.settings.year = Some(path.to_owned());
                None
            }
            Err(problem) => {
                let told = about_year(error::NOT_OPENED, &problem);
                self.tell(Notice::problem(told, error::YEAR_AS_IT_WAS));
                Some(sentence(&problem.to_string()))
            }
        }
    }

    /// Saves where it came from, or asks where to.
    pub(in crate::window) fn save_year(&mut self, ctx: &egui::Context) {
        match self.year_path().map(Path::to_owned) {
            Some(path) => self.save_year_to(&path, ctx),
            None => self.ask_for_path(PathUse::SaveYear, ctx),
        }
    }

    /// Saves under a chosen name: the ending is added, and a file in the way is asked about unless the dialog has asked
    /// already about that very name.
    pub(in crate::window) fn save_year_as(
        &mut self,
        chosen: &Path,
        asked: Asked,
        ctx: &egui::Context,
    ) {
        let path = with_year_extension(&absolute(chosen));
        let asked = asked == Asked::ByDialog && path == absolute(chosen);
        let own = self.year_path() == Some(path.as_path());
        if path.exists() && !asked && !own {
            self.state.path_field = None;
            self.state.question = Some(Question::OverwriteYear(path));
        } else {
            self.save_year_to(&path, ctx);
        }
    }

    /// Writes the year, and goes on with what waited for that.
    pub(in crate::window) fn save_year_to(&mut self, path: &Path, ctx: &egui::Context) {
        let Some(open) = &mut self.year.open else {
            return;
        };
        match write_year(path, &open.file) {
            Ok(()) => {
                open.saved = open.file.clone();
                open.path = Some(path.to_owned());
                self.state.settings.year = Some(path.to_owned());
                self.state.path_field = None;
                let name = path.file_name().unwrap_or(path.as_os_str());
                let mut notice = Notice::done(error::saved_as(&plain(&name.to_string_lossy())));
                notice.details = shown(path);
                self.tell(notice);
                if let Some(next) = self.year.after_save.take() {
                    self.go_on_with_year(next, ctx);
                }
            }
            Err(problem) => {
                self.year.after_save = None;
                if let Some(field) = &mut self.state.path_field {
                    field.problem = sentence(&problem.to_string());
                }
                let told = about_year(error::YEAR_NOT_SAVED, &problem);
                self.tell(Notice::problem(told, error::YEAR_AS_IT_WAS));
            }
        }
    }

    /// The file of the open year.
    pub(in crate::window) fn year_path(&self) -> Option<&Path> {
        self.year.open.as_ref()?.path.as_deref()
    }

    /// What saving as asks for.
    pub(in crate::window) fn saved_by(&self) -> PathUse {
        if self.shown_year().is_some() {
            PathUse::SaveYear
        } else {
            PathUse::Save
        }
    }

    /// A name for a file of the year that ends so.
    pub(in crate::window) fn year_name(&self, ending: &str) -> String {
        let name = self.year_path().and_then(Path::file_name);
        let name = name.map_or_else(|| "year".into(), |name| name.to_string_lossy());
        format!("{}{ending}", name.trim_end_matches(YEAR_EXTENSION))
    }

    /// What stands in the path field when it opens for a year.
    pub(in crate::window) fn year_path_to_type(&self, purpose: PathUse) -> String {
        let name = self.year_name(purpose.of_year().unwrap_or_default());
        let folders = self.store.folders.as_ref();
        let kept = folders.map(|folders| folders.recipes.as_path());
        let folder = self.year_path().and_then(Path::parent).or(kept);
        folder.map_or_else(String::new, |folder| {
            folder.join(name).display().to_string()
        })
    }
}

//! Opening, saving, keeping and recovering, and the questions on the way.
//!
//! In: actions and answers. Out: another project, a written file, a notice, a question. Whatever goes
//! wrong leaves the open recipe as it is.
//!
//! Not here: the dialog itself (`jobs::dialog`), reading and writing (`document::file`).
//!
//! Tested by: `tests/window/files.rs`.

use std::path::{Path, PathBuf};

use eframe::egui;

use crate::document::year::is_year_path;
use crate::document::{FileError, Project, Saved, absolute, file, library, plain, shown};
use crate::text::garden;
use crate::text::{error, sentence};

use crate::window::action::Reply;
use crate::window::jobs::dialog::{DialogAnswer, DialogRequest, PathUse};
use crate::window::piles::choices::{Next, NextYear, PathField, Question, View};
use crate::window::piles::notices::Notice;
use crate::window::verbs::workbench::Workbench;
use crate::window::verbs::year_files::Asked;

impl Workbench {
    /// Does it at once, or asks about unsaved changes first.
    pub(in crate::window) fn guarded(&mut self, next: Next, ctx: &egui::Context) {
        match next {
            // A year takes no recipe's place.
            Next::OpenFile(path) if is_year_path(&path) => {
                self.guarded_year(NextYear::OpenFile(path), ctx);
            }
            next if self.is_unsaved() => self.state.question = Some(Question::Unsaved(next)),
            next => self.go_on(next, ctx),
        }
    }

    /// Closes the window without asking about anything.
    pub(in crate::window) fn close_unasked(&mut self, ctx: &egui::Context) {
        self.closing = true;
        ctx.send_viewport_cmd(egui::ViewportCommand::Close);
    }

    fn go_on(&mut self, next: Next, ctx: &egui::Context) {
        match next {
            Next::New => self.begin_new(),
            Next::Open => self.ask_for_path(PathUse::Open, ctx),
            Next::OpenByPath => self.show_path_field(PathUse::Open, ""),
            Next::OpenFile(path) => {
                self.open_file(&path);
            }
            Next::Example(place) => self.open_example(place),
            Next::Begin(project) => self.begin_with(*project),
            Next::Close => self.guarded_year(NextYear::Close, ctx),
        }
    }

    fn begin_new(&mut self) {
        let project = Project::clean(&self.project, self.now.date());
        self.take_over(project, None, None);
    }

    /// Makes a project the open one, as saved at `path`.
    pub(in crate::window) fn take_over(
        &mut self,
        project: Project,
        path: Option<PathBuf>,
        stamp: Option<crate::document::Stamp>,
    ) {
        self.store.saved = Some(project.clone());
        self.store.path = path;
        self.store.stamp = stamp;
        self.replace_project(project);
        self.forget_kept();
        self.note_path();
    }

    /// Opens a file, or tells why it cannot be: then nothing else has changed, and the reason comes back.
    pub(in crate::window) fn open_file(&mut self, path: &Path) -> Option<FileError> {
        let path = &absolute(path);
        match file::read(path, &self.stock.built_in) {
            Ok(opened) => {
                self.take_over(opened.project, Some(path.to_owned()), Some(opened.stamp));
                self.state.settings.remember(path);
                self.tell_of_another_window(path);
                self.state.view = View::Mix;
                None
            }
            Err(problem) => {
                if matches!(problem, FileError::Missing { .. }) {
                    self.state.settings.forget(path);
                }
                self.refuse(error::NOT_OPENED, &problem);
                Some(problem)
            }
        }
    }

    /// Tells that something was refused, the reason in the same breath.
    pub(in crate::window) fn refuse(&mut self, what: &str, problem: &FileError) {
        self.tell(Notice::problem(
            error::refused(what, problem),
            error::AS_IT_WAS,
        ));
    }

    /// Saves where it came from, or asks where to.
    pub(in crate::window) fn save(&mut self, ctx: &egui::Context) {
        match self.store.path.clone() {
            Some(path) => self.save_to(&path, true),
            None => self.ask_for_path(PathUse::Save, ctx),
        }
        self.continue_after_save(ctx);
    }

    /// Writes to `path`; with `careful`, not over what someone else has written there meanwhile.
    fn save_to(&mut self, path: &Path, careful: bool) {
        let same = self.store.path.as_deref() == Some(path);
        let expected = self.store.stamp.clone().filter(|_| careful && same);
        match file::save(path, &self.project, expected.as_ref()) {
            Ok(Saved { stamp, unkept }) => {
                self.store.path = Some(path.to_owned());
                self.store.stamp = Some(stamp);
                self.note_path();
                self.store.saved = Some(self.project.clone());
                self.state.settings.remember(path);
                self.state.path_field = None;
                self.forget_kept();
                self.list_recipes();
                let name = path.file_name().unwrap_or(path.as_os_str());
                let saved = error::saved_as(&plain(&name.to_string_lossy()));
                let mut notice = Notice::done(error::saved_but(&saved, &unkept));
                notice.details = shown(path);
                self.tell(notice);
            }
            Err(FileError::ChangedOnDisk { path }) => {
                self.state.question = Some(Question::ChangedOnDisk(path));
            }
            Err(problem) => self.refuse_save(&problem),
        }
    }

    fn refuse_save(&mut self, problem: &FileError) {
        self.store.after_save = None;
        if let Some(field) = &mut self.state.path_field {
            field.problem = sentence(&problem.to_string());
        }
        self.refuse(error::NOT_SAVED, problem);
    }

    /// Saves under a chosen name: the ending is added, and a file in the way is asked about unless
    /// the dialog has asked already about that very name.
    fn save_as(&mut self, chosen: &Path, dialog_asked: bool) {
        let path = file::with_extension(&absolute(chosen));
        let asked = dialog_asked && path == absolute(chosen);
        let own = self.store.path.as_deref() == Some(path.as_path());
        if path.exists() && !asked && !own {
            self.state.path_field = None;
            self.state.question = Some(Question::Overwrite(path));
        } else {
            self.save_to(&path, own && !asked);
        }
    }

    /// Keeps the recipe among those of the seasons: a recipe without a file gets its file there, any
    /// other a copy.
    pub(in crate::window) fn keep_in_seasons(&mut self) {
        let Some(folders) = self.store.folders.clone() else {
            self.tell(Notice::problem(error::NO_FOLDER_FOR_RECIPES, ""));
            return;
        };
        let here = self
            .store
            .path
            .clone()
            .filter(|path| path.starts_with(&folders.recipes));
        if let Some(path) = here {
            self.save_to(&path, true);
            return;
        }
        if let Err(err) = std::fs::create_dir_all(&folders.recipes) {
            let problem =
                FileError::system(crate::document::Doing::Writing, &err, &folders.recipes);
            self.refuse(error::RECIPE_NOT_KEPT, &problem);
            return;
        }
        let path = library::suggested_path(&folders, &self.project);
        if self.store.path.is_none() {
            self.save_to(&path, false);
            return;
        }
        match file::write(&path, &self.project, None) {
            Ok(_) => {
                self.list_recipes();
                let season = garden::season(self.project.season);
                self.tell(Notice::done(format!("kept a copy under {season}")));
            }
            Err(problem) => self.refuse(error::RECIPE_NOT_KEPT, &problem),
        }
    }

    /// Opens the system's dialog.
    pub(in crate::window) fn ask_for_path(&mut self, purpose: PathUse, ctx: &egui::Context) {
        let own = match purpose {
            purpose if purpose.of_year().is_some() => self.year_path(),
            _ => self.store.path.as_deref(),
        };
        let folder = own
            .and_then(Path::parent)
            .map(Path::to_owned)
            .or_else(|| self.store.folders.as_ref().map(|f| f.recipes.clone()))
            .filter(|folder| folder.is_dir());
        let request = DialogRequest {
            purpose,
            folder,
            name: self.suggested_name(purpose),
        };
        let waker = ctx.clone();
        let opened = self
            .store
            .dialog
            .open(request, self.now_s, move || waker.request_repaint());
        if let Err(problem) = opened {
            self.show_path_field(purpose, &problem);
        }
    }

    /// A name for what is written: the recipe's, with the ending of its kind.
    fn suggested_name(&self, purpose: PathUse) -> String {
        if let Some(ending) = purpose.of_year() {
            return self.year_name(ending);
        }
        let name = self.recipe_name();
        match purpose.ending() {
            Some(ending) => format!(
                "{}.{ending}",
                name.trim_end_matches(crate::document::EXTENSION)
            ),
            None => name,
        }
    }

    pub(in crate::window) fn recipe_name(&self) -> String {
        let path = self.store.path.clone().or_else(|| {
            let folders = self.store.folders.as_ref()?;
            Some(library::suggested_path(folders, &self.project))
        });
        path.as_deref().and_then(Path::file_name).map_or_else(
            || format!("heap{}", crate::document::EXTENSION),
            |name| name.to_string_lossy().into_owned(),
        )
    }

    /// Opens the path field; `reason` says why, if it was not asked for.
    pub(in crate::window) fn show_path_field(&mut self, purpose: PathUse, reason: &str) {
        let text = match (purpose, &self.store.path, &self.store.folders) {
            (purpose, ..) if purpose.of_year().is_some() => self.year_path_to_type(purpose),
            (purpose, Some(path), _) if purpose.ending().is_some() => path
                .with_file_name(self.suggested_name(purpose))
                .display()
                .to_string(),
            (PathUse::Readings, ..) => String::new(),
            (_, Some(path), _) => path.display().to_string(),
            (PathUse::Save, None, Some(folders)) => library::suggested_path(folders, &self.project)
                .display()
                .to_string(),
            _ => String::new(),
        };
        self.state.path_field = Some(PathField {
            purpose,
            text,
            reason: reason.to_owned(),
            problem: String::new(),
            focused: false,
        });
    }

    /// Takes the dialog's answer, if there is one.
    pub(in crate::window) fn take_dialog_answer(&mut self, ctx: &egui::Context) {
        match self.store.dialog.poll() {
            None => {}
            Some(DialogAnswer::Chosen(PathUse::Open, path)) => {
                self.open_file(&path);
            }
            Some(DialogAnswer::Chosen(PathUse::Save, path)) => {
                self.save_as(&path, true);
                self.continue_after_save(ctx);
            }
            Some(DialogAnswer::Chosen(PathUse::OpenYear, path)) => {
                self.open_year(&path);
            }
            Some(DialogAnswer::Chosen(PathUse::SaveYear, path)) => {
                self.save_year_as(&path, Asked::ByDialog, ctx);
            }
            Some(DialogAnswer::Chosen(PathUse::Readings, path)) => self.open_import(&path),
            Some(DialogAnswer::Chosen(purpose, path)) => self.write_out(purpose, &path, ctx),
            Some(DialogAnswer::Cancelled(_)) => self.drop_after_save(),
            Some(DialogAnswer::NothingShown(purpose)) => {
                self.show_path_field(purpose, error::TYPE_THE_PATH)
            }
        }
    }

    /// Stops waiting for the dialog and shows the field.
    pub(in crate::window) fn type_path_instead(&mut self) {
        if let Some(purpose) = self.store.dialog.abandon() {
            self.show_path_field(purpose, "");
        }
    }

    /// Goes on with a typed path.
    pub(in crate::window) fn use_typed_path(&mut self, path: &Path, ctx: &egui::Context) {
        let Some(field) = self.state.path_field.clone() else {
            return;
        };
        match field.purpose {
            PathUse::Save => {
                self.save_as(path, false);
                self.continue_after_save(ctx);
            }
            PathUse::Open => {
                let refused = self.open_file(path);
                self.state.path_field = refused.map(|problem| PathField {
                    problem: sentence(&problem.to_string()),
                    ..field
                });
            }
            PathUse::OpenYear => {
                let refused = self.open_year(path);
                self.state.path_field = refused.map(|problem| PathField { problem, ..field });
            }
            PathUse::SaveYear => self.save_year_as(path, Asked::Nobody, ctx),
            PathUse::Readings => self.open_import(path),
            purpose => self.write_out(purpose, path, ctx),
        }
    }

    /// Closes the path field; what was to follow a save is off.
    pub(in crate::window) fn close_path_field(&mut self) {
        self.state.path_field = None;
        self.drop_after_save();
    }

    /// What was to follow a save is off.
    fn drop_after_save(&mut self) {
        self.store.after_save = None;
        self.year.after_save = None;
    }

    /// Goes on with what waited for the save, once nothing is unsaved.
    fn continue_after_save(&mut self, ctx: &egui::Context) {
        if self.is_unsaved() {
            return;
        }
        if let Some(next) = self.store.after_save.take() {
            self.go_on(next, ctx);
        }
    }

    /// Carries out the answer to the open question.
    pub(in crate::window) fn reply(&mut self, reply: Reply, ctx: &egui::Context) {
        let Some(question) = self.state.question.take() else {
            return;
        };
        match (question, reply) {
            (Question::Unsaved(next), Reply::Yes) => {
                self.store.after_save = Some(next);
                self.save(ctx);
            }
            (Question::Unsaved(next), Reply::No) => self.go_on(next, ctx),
            (Question::Overwrite(path), Reply::Yes)
            | (Question::ChangedOnDisk(path), Reply::No) => {
                self.save_to(&path, false);
                self.continue_after_save(ctx);
            }
            (Question::Overwrite(_), Reply::No) | (Question::ChangedOnDisk(_), Reply::Yes) => {
                self.ask_for_path(PathUse::Save, ctx);
            }
            (Question::Reload(path), Reply::Yes) => {
                self.open_file(&path);
            }
            (Question::Reload(path), Reply::No) => {
                self.ask_for_path(PathUse::Save, ctx);
                self.store.declined = file::stamp_of(&path);
            }
            (Question::Reload(path), Reply::Cancel) => {
                self.store.declined = file::stamp_of(&path);
            }
            (Question::UnsavedYear(next), Reply::Yes) => {
                self.year.after_save = Some(next);
                self.save_year(ctx);
            }
            (Question::UnsavedYear(next), Reply::No) => self.go_on_with_year(next, ctx),
            (Question::OverwriteYear(path), Reply::Yes) => self.save_year_to(&path, ctx),
            (Question::OverwriteYear(_), Reply::No) => self.ask_for_path(PathUse::SaveYear, ctx),
            (Question::Recover { .. }, reply) => self.reply_recover(reply),
            (_, Reply::Cancel) => self.drop_after_save(),
        }
    }
}

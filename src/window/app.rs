//! The window's whole state, and what happens in one frame.
//!
//! In: events. Out: a drawn frame and an updated project. [`App`] holds three piles: the project
//! (saved, undone), [`WindowState`] (chosen and open), [`Shown`] (computed).
//!
//! `logic` takes answers and keeps unsaved work; `show` draws, lets fields be edited, then settles
//! what was changed and carries out what was asked for.
//!
//! Not here: carrying out (`perform`, `files`), drawing a view (the views).
//!
//! Tested by: `tests/window/`.

use eframe::egui::{self, CentralPanel, Frame, Margin, Panel, Ui};

use crate::document::{History, Project};
use crate::material::Catalogue;

use crate::window::action::{Action, Facts};
use crate::window::class::{ZOOM, class_ui};
use crate::window::heap::heap_ui;
use crate::window::jobs::page::PageWriter;
use crate::window::jobs::plan_search::PlanFinder;
use crate::window::jobs::projecting::{Answer, Background};
use crate::window::jobs::trial::TrialRuns;
use crate::window::jobs::turnings::TurnCount;
use crate::window::materials::drawer_ui;
use crate::window::mix::mix_ui;
use crate::window::overlays::dialogs::{footer_ui, notices_ui, path_field_ui, question_ui};
use crate::window::overlays::material_picker::picker_ui;
use crate::window::overlays::menu::{header_ui, menu_ui};
use crate::window::overlays::plan_sheet::plan_sheet_ui;
use crate::window::page::Page;
use crate::window::piles::books::Books;
use crate::window::piles::choices::View;
use crate::window::piles::choices::WindowState;
use crate::window::piles::notices::Notice;
use crate::window::piles::shelf::Shelf;
use crate::window::piles::shown::Shown;
use crate::window::piles::store::Store;
use crate::window::recipes::seasons_ui;
use crate::window::results::spread_ui;
use crate::window::theme::Theme;
use crate::window::verbs::change_label::change_label;

/// The window.
pub struct App {
    /// The recipe.
    pub project: Project,
    /// What is chosen and open.
    pub state: WindowState,
    /// What is computed.
    pub shown: Shown,
    /// Files, folders, unsaved work.
    pub store: Store,
    /// Built-in materials.
    pub(in crate::window) built_in: Catalogue,
    /// The same with the project's own laid over.
    pub(in crate::window) catalogue: Catalogue,
    /// What was read from folders and tables.
    pub(in crate::window) shelf: Shelf,
    /// The trial at work.
    pub(in crate::window) trials: TrialRuns,
    /// The page being made.
    pub(in crate::window) writer: PageWriter,
    /// How large everything was drawn before the Class view.
    plain_zoom: Option<f32>,
    /// Steps to take back.
    pub(in crate::window) history: History,
    /// The window's clock, s.
    pub(in crate::window) now_s: f64,
    /// Whether the window may close without asking.
    pub(in crate::window) closing: bool,
    /// Whether the heap is simulated in the background, and finely once all rests.
    pub refines: bool,
    background: Background,
    /// The search for a plan.
    pub(in crate::window) finder: PlanFinder,
    turn_count: TurnCount,
    theme: Theme,
    facts: Facts,
    asked: Vec<Action>,
    seen: Project,
    label: String,
    title: String,
    applied_theme: Option<crate::document::ThemeChoice>,
}

impl App {
    /// A window on a project.
    pub(in crate::window) fn on(
        project: Project,
        built_in: Catalogue,
        theme: Theme,
        store: Store,
    ) -> Self {
        let catalogue = built_in
            .with_own(&project.own_materials)
            .unwrap_or_else(|_| built_in.clone());
        Self {
            shelf: Shelf::ready(),
            trials: TrialRuns::default(),
            writer: PageWriter::default(),
            plain_zoom: None,
            history: History::new(&project),
            seen: project.clone(),
            project,
            state: WindowState::default(),
            shown: Shown::default(),
            store,
            built_in,
            catalogue,
            now_s: 0.0,
            closing: false,
            refines: true,
            background: Background::default(),
            finder: PlanFinder::default(),
            turn_count: TurnCount::default(),
            theme,
            facts: Facts::default(),
            asked: Vec::new(),
            label: String::new(),
            title: String::new(),
            applied_theme: None,
        }
    }

    /// Gives a context the window's fonts and colours; to be done before the first frame.
    pub fn prepare(&self, ctx: &egui::Context) {
        self.theme.install(ctx);
        ctx.options_mut(|options| options.fallback_theme = egui::Theme::Light);
    }

    /// Asks for something to be done after the next frame.
    pub fn ask(&mut self, action: Action) {
        self.asked.push(action);
    }

    /// What can be done at present.
    pub fn facts(&self) -> &Facts {
        &self.facts
    }

    /// Title of the window.
    pub fn title(&self) -> String {
        let name = match self.project.title.trim() {
            "" => "Untitled",
            title => title,
        };
        let mark = if self.is_unsaved() { " •" } else { "" };
        format!("{name}{mark} - Heapwright")
    }

    /// One whole frame.
    pub fn show(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        self.now_s = ctx.input(|input| input.time);
        self.apply_theme(&ctx);
        self.take_keys(&ctx);
        self.facts = self.present_facts();
        self.shown.behind = self.refines;
        self.take_trial_news();
        self.take_page(&ctx);
        self.zoom_for_class(&ctx);
        self.open_books();
        self.draw(ui);
        self.settle(&ctx);
        self.refine(&ctx);
        self.tend_plan_search(&ctx);
        for action in std::mem::take(&mut self.asked) {
            self.perform(action, &ctx);
            self.settle_quietly();
        }
        let title = self.title();
        if title != self.title {
            ctx.send_viewport_cmd(egui::ViewportCommand::Title(title.clone()));
            self.title = title;
        }
    }

    /// Reads trials and lessons the first time they are looked at.
    fn open_books(&mut self) {
        if self.shelf.books_read || self.state.view != View::Class {
            return;
        }
        self.shelf.books_read = true;
        match Books::ready(&self.built_in) {
            Ok(books) => self.shelf.books = books,
            Err(problem) => self.tell(Notice::problem("There are no trials", problem)),
        }
        if let Some(folders) = &self.store.folders {
            for problem in self.shelf.books.add_own(&folders.recipes, &self.built_in) {
                self.tell(Notice::problem("A file for the class is left out", problem));
            }
        }
    }

    /// Draws everything larger while the Class view is shown, and as before after it.
    fn zoom_for_class(&mut self, ctx: &egui::Context) {
        match (self.state.view, self.plain_zoom) {
            (View::Class, None) => {
                let plain = ctx.zoom_factor();
                self.plain_zoom = Some(plain);
                ctx.set_zoom_factor(plain * ZOOM);
            }
            (View::Class, Some(_)) | (_, None) => {}
            (_, Some(plain)) => {
                self.plain_zoom = None;
                ctx.set_zoom_factor(plain);
            }
        }
    }

    /// Lets the background project the heap, and takes what it has found.
    fn refine(&mut self, ctx: &egui::Context) {
        if !self.refines {
            return;
        }
        let held = ctx.input(|input| input.pointer.any_down());
        let waking = ctx.clone();
        let now = (self.shown.revision, self.now_s, held);
        let inputs = self.shown.inputs.as_ref();
        let wake = move || waking.request_repaint();
        self.shown.at_rest = self.background.rests(now);
        let Ok(answers) = self.background.tend(now, inputs, wake) else {
            // Where no thread is to be had, the window calculates by itself.
            self.refines = false;
            self.shown.forget();
            ctx.request_repaint();
            return;
        };
        for answer in answers {
            if let Answer::Failed(sentence) = &answer {
                let notice = Notice::problem("The projection broke down", sentence);
                self.state.notices.tell(notice, self.now_s);
            }
            self.shown.refine(answer, &self.project, &self.catalogue);
            ctx.request_repaint();
        }
        self.count_turnings(ctx);
        if let Some(seconds) = self.background.wants_frame_in() {
            ctx.request_repaint_after(std::time::Duration::from_secs_f64(seconds));
        }
    }

    /// Lets the turnings be counted while they are looked at.
    fn count_turnings(&mut self, ctx: &egui::Context) {
        if self.state.view != View::Results || !self.shown.at_rest {
            return;
        }
        let waking = ctx.clone();
        let wake = move || waking.request_repaint();
        if let Some(rows) = self.turn_count.tend(self.shown.inputs.as_ref(), wake) {
            self.shown.turnings = rows;
            ctx.request_repaint();
        }
    }

    fn apply_theme(&mut self, ctx: &egui::Context) {
        use crate::document::ThemeChoice;
        let choice = self.state.settings.theme;
        if self.applied_theme == Some(choice) {
            return;
        }
        ctx.set_theme(match choice {
            ThemeChoice::System => egui::ThemePreference::System,
            ThemeChoice::Light => egui::ThemePreference::Light,
            ThemeChoice::Dark => egui::ThemePreference::Dark,
        });
        self.applied_theme = Some(choice);
    }

    /// Keys of actions, unless something lies over the view and has them.
    fn take_keys(&mut self, ctx: &egui::Context) {
        if self.state.is_covered() {
            return;
        }
        let typing = ctx.text_edit_focused();
        for action in Action::with_keys() {
            if typing && action.yields_to_text() {
                continue;
            }
            let Some(shortcut) = action.shortcut() else {
                continue;
            };
            let pressed = ctx.input_mut(|input| input.consume_shortcut(&shortcut));
            if pressed && action.enabled(&self.facts) {
                self.asked.push(action);
            }
        }
    }

    fn present_facts(&self) -> Facts {
        let name = |id: &str| {
            self.catalogue
                .find(id)
                .map_or_else(String::new, |material| material.name.clone())
        };
        Facts {
            undo: self.history.undo_label().map(str::to_owned),
            redo: self.history.redo_label().map(str::to_owned),
            pinned: self.shown.pinned.is_some(),
            blended: self
                .shown
                .blend
                .as_ref()
                .is_some_and(|blend| blend.gauges.is_some()),
            has_room: self.project.heap.shape.room_m3().is_some(),
            plan_found: self.state.plan_sheet.is_some() && self.shown.plan.found().is_some(),
            dialog_open: self.store.dialog.is_open(),
            buckets: (
                name(&self.state.buckets.green),
                name(&self.state.buckets.brown),
            ),
        }
    }

    fn draw(&mut self, ui: &mut Ui) {
        let dark = ui.visuals().dark_mode;
        if self.state.is_covered() {
            // What lies below answers neither pointer nor keyboard, and shows no tooltip.
            ui.visuals_mut().disabled_alpha = 1.0;
            ui.disable();
        }
        let look = self.theme.look(dark);
        let dialog_slow = self.store.dialog.is_slow(self.now_s);
        let mut page = Page {
            project: &mut self.project,
            state: &mut self.state,
            shown: &mut self.shown,
            catalogue: &self.catalogue,
            shelf: &self.shelf,
            look,
            facts: &self.facts,
            actions: &mut self.asked,
        };
        page.refresh();
        page.drop_stale_preview();
        let page = &mut page;
        let pad = look.sizes.pad;
        let bar = Frame::new()
            .fill(look.colours.ground.0)
            .inner_margin(Margin::symmetric(pad, pad / 3));
        Panel::top("top")
            .frame(bar)
            .show_separator_line(false)
            .show(ui, |ui| {
                menu_ui(ui, page);
                header_ui(ui, page);
            });
        let body = Frame::new()
            .fill(look.colours.ground.0)
            .inner_margin(Margin::same(pad));
        CentralPanel::default()
            .frame(body)
            .show(ui, |ui| match page.state.view {
                View::Mix => mix_ui(ui, page),
                View::Heap => heap_ui(ui, page),
                View::Seasons => seasons_ui(ui, page),
                View::Class => class_ui(ui, page),
                View::Results => spread_ui(ui, page),
            });
        footer_ui(ui, page, dialog_slow);
        picker_ui(ui, page);
        drawer_ui(ui, page);
        plan_sheet_ui(ui, page);
        path_field_ui(ui, page);
        question_ui(ui, page);
        notices_ui(ui, page);
    }

    /// Checks and records what was edited in this frame.
    fn settle(&mut self, ctx: &egui::Context) {
        if self.project != self.seen {
            if let Err(problem) = self.project.check_alone() {
                self.revert(&problem.to_string());
            } else {
                self.match_catalogue();
                self.label = change_label(&self.seen, &self.project, &self.catalogue);
                self.seen = self.project.clone();
            }
            // What was drawn before the edit catches up.
            ctx.request_repaint();
        }
        let held = ctx.input(|input| input.pointer.any_down()) || ctx.text_edit_focused();
        self.history
            .note(&self.project, &self.label, self.now_s, !held);
    }

    /// Takes over what an action has changed; the action itself has recorded it.
    fn settle_quietly(&mut self) {
        if self.project != self.seen {
            self.match_catalogue();
            self.seen = self.project.clone();
        }
    }

    /// Lays the project's own materials over the catalogue anew, if they have changed.
    fn match_catalogue(&mut self) {
        if self.project.own_materials != self.seen.own_materials {
            self.catalogue = self
                .built_in
                .with_own(&self.project.own_materials)
                .unwrap_or_else(|_| self.built_in.clone());
            self.shown.forget();
        }
    }

    /// Closes the window without asking about anything.
    pub(in crate::window) fn close_unasked(&mut self, ctx: &egui::Context) {
        self.closing = true;
        ctx.send_viewport_cmd(egui::ViewportCommand::Close);
    }

    /// Goes back to the project as it was before the edit, and says why.
    pub(in crate::window) fn revert(&mut self, problem: &str) {
        self.project = self.seen.clone();
        self.tell(Notice::problem(format!("Change rejected: {problem}."), ""));
    }

    /// Tells something.
    pub(in crate::window) fn tell(&mut self, notice: Notice) {
        self.state.notices.tell(notice, self.now_s);
    }

    /// Puts another project in the place of the present one; its history begins anew.
    pub(in crate::window) fn replace_project(&mut self, project: Project) {
        self.catalogue = self
            .built_in
            .with_own(&project.own_materials)
            .unwrap_or_else(|_| self.built_in.clone());
        self.history = History::new(&project);
        self.state.slider_tops.clear();
        self.state.held_slider = None;
        self.shown.pinned = None;
        self.state.picker = None;
        self.state.drawer = None;
        self.state.plan_sheet = None;
        self.state.details = None;
        self.shown.forget();
        self.seen = project.clone();
        self.project = project;
    }
}

//! The frame of the window: keys, drawing in its order, and what follows once all is drawn.
//!
//! In: events. Out: a drawn frame; a [`Workbench`] on which edits and actions were carried out.
//!
//! `logic` goes on while the window is hidden; `show` takes keys, draws, settles what was edited, tends
//! the work behind the window and carries out what was asked for.
//!
//! Not here: carrying out (`verbs`), drawing a view (the views).
//!
//! Tested by: `tests/window/`.

use eframe::egui::{self, CentralPanel, Frame, Margin, Panel, Ui, Vec2};

use crate::document::ThemeChoice;

use crate::window::action::{Action, Facts};
use crate::window::class::{class_ui, zoom_below_sheet, zoom_for};
use crate::window::diary::diary_ui;
use crate::window::heap::heap_ui;
use crate::window::materials::drawer_ui;
use crate::window::mix::mix_ui;
use crate::window::overlays::complaint_sheet::complaint_sheet_ui;
use crate::window::overlays::dialogs::{
    class_foot_ui, footer_ui, notices_ui, path_field_ui, question_ui,
};
use crate::window::overlays::help_sheet::help_sheet_ui;
use crate::window::overlays::import_sheet::import_sheet_ui;
use crate::window::overlays::material_picker::picker_ui;
use crate::window::overlays::menu::{header_ui, menu_ui};
use crate::window::overlays::plan_sheet::plan_sheet_ui;
use crate::window::page::Page;
use crate::window::piles::choices::{SeasonsPage, View, WindowState};
use crate::window::recipes::seasons_ui;
use crate::window::results::results_ui;
use crate::window::theme::{Shade, Theme};
use crate::window::verbs::workbench::Workbench;
use crate::window::widgets::seasons_switch::seasons_switch_ui;
use crate::window::year::year_ui;

/// The window.
pub struct App {
    /// What is worked on.
    pub bench: Workbench,
    dress: Dress,
    facts: Facts,
    asked: Vec<Action>,
    title: String,
}

/// How far two sizes of a window may differ by rounding alone, pixels.
const SAME_SIZE: f32 = 4.0;

/// How the window is dressed at present.
struct Dress {
    theme: Theme,
    /// The theme last applied.
    applied: Option<ThemeChoice>,
    /// How large everything was drawn before the Class view, and the window's size it was fitted to, pixels over
    /// the system's scale.
    plain_zoom: Option<(f32, Vec2)>,
    /// How large the Class view was drawn before a wide sheet was laid over it.
    zoom_below_sheet: Option<f32>,
}

impl App {
    /// A window over a workbench.
    pub(in crate::window) fn over(bench: Workbench, theme: Theme) -> Self {
        Self {
            bench,
            dress: Dress {
                theme,
                applied: None,
                plain_zoom: None,
                zoom_below_sheet: None,
            },
            facts: Facts::default(),
            asked: Vec::new(),
            title: String::new(),
        }
    }

    /// Gives a context the window's fonts and colours; to be done before the first frame.
    pub fn prepare(&self, ctx: &egui::Context) {
        self.dress.theme.install(ctx);
        ctx.options_mut(|options| options.fallback_theme = egui::Theme::Light);
        ctx.set_zoom_factor(self.bench.state.settings.layout.zoom());
    }

    /// Asks for something to be done after the next frame.
    pub fn ask(&mut self, action: Action) {
        self.asked.push(action);
    }

    /// Work between frames, which goes on while the window is hidden.
    pub fn logic(&mut self, ctx: &egui::Context) {
        self.bench.between_frames(ctx);
    }

    /// One whole frame.
    pub fn show(&mut self, ui: &mut Ui) {
        let ctx = ui.ctx().clone();
        self.dress.apply(self.bench.state.settings.theme, &ctx);
        self.bench.before_drawing(&ctx);
        self.dress.zoom(&self.bench.state, &ctx);
        if self.leaves_full_screen(&ctx) {
            self.asked.push(Action::ToggleFullScreen);
        }
        self.facts = self.bench.facts();
        self.take_keys(&ctx);
        self.draw(ui);
        self.bench.settle(&ctx);
        self.bench.tend_jobs(&ctx);
        for action in std::mem::take(&mut self.asked) {
            self.bench.perform(action, &ctx);
            self.bench.settle_quietly();
        }
        self.bench.hand_to_keeper(&ctx);
        self.bench.remember_layout(&ctx);
        let title = self.bench.title();
        if title != self.title {
            ctx.send_viewport_cmd(egui::ViewportCommand::Title(title.clone()));
            self.title = title;
        }
    }

    /// Keys of actions, unless something lies over the view and has them.
    fn take_keys(&mut self, ctx: &egui::Context) {
        if self.bench.state.is_covered() {
            return;
        }
        let typing = ctx.text_edit_focused();
        for (action, entry) in Action::with_keys(&self.facts) {
            if typing && entry.yields_to_text {
                continue;
            }
            let mut keys = entry.shortcut.iter().chain(&entry.second_shortcut);
            let pressed = keys.any(|key| ctx.input_mut(|input| input.consume_shortcut(key)));
            if pressed && entry.enabled {
                self.asked.push(action);
            }
        }
    }

    /// Whether Esc was pressed while the window fills the screen and nothing else wants it.
    fn leaves_full_screen(&self, ctx: &egui::Context) -> bool {
        let state = &self.bench.state;
        let free = state.full_screen && !state.is_covered() && !ctx.text_edit_focused();
        free && ctx.input_mut(|input| input.consume_key(egui::Modifiers::NONE, egui::Key::Escape))
    }

    fn draw(&mut self, ui: &mut Ui) {
        let bench = &mut self.bench;
        let dark = ui.visuals().dark_mode;
        if bench.state.is_covered() {
            // What lies below answers neither pointer nor keyboard, and shows no tooltip.
            ui.visuals_mut().disabled_alpha = 1.0;
            ui.disable();
        }
        let look = self
            .dress
            .theme
            .look(shade(bench.state.settings.theme, dark));
        let dialog_slow = bench.store.dialog.is_slow(bench.now_s);
        let mut page = Page {
            project: &mut bench.project,
            state: &mut bench.state,
            shown: &mut bench.shown,
            year: &mut bench.year,
            catalogue: &bench.stock.all,
            shelf: &bench.shelf,
            look,
            now: bench.now,
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
        let in_class = page.state.view == View::Class;
        if !(in_class && page.state.full_screen) {
            Panel::top("top")
                .frame(bar)
                .show_separator_line(false)
                .show(ui, |ui| {
                    menu_ui(ui, page);
                    header_ui(ui, page);
                });
        }
        if in_class {
            // Before the view, which then keeps clear of it.
            let keys = page.state.class.mode.keys();
            class_foot_ui(ui, page, dialog_slow, keys);
        }
        let body = Frame::new()
            .fill(look.colours.ground.0)
            .inner_margin(Margin::same(pad));
        CentralPanel::default()
            .frame(body)
            .show(ui, |ui| match page.state.view {
                View::Mix => mix_ui(ui, page),
                View::Heap => heap_ui(ui, page),
                View::Diary => diary_ui(ui, page),
                View::Seasons => {
                    seasons_switch_ui(ui, page);
                    match page.state.seasons {
                        SeasonsPage::Recipes => seasons_ui(ui, page),
                        SeasonsPage::Year => year_ui(ui, page),
                    }
                }
                View::Class => class_ui(ui, page),
                View::Results => results_ui(ui, page),
            });
        if !in_class {
            footer_ui(ui, page, dialog_slow);
        }
        picker_ui(ui, page);
        drawer_ui(ui, page);
        plan_sheet_ui(ui, page);
        complaint_sheet_ui(ui, page);
        import_sheet_ui(ui, page);
        help_sheet_ui(ui, page);
        path_field_ui(ui, page);
        question_ui(ui, page);
        notices_ui(ui, page);
    }
}

/// The colours of a choice, in a surrounding that is dark or not.
fn shade(choice: ThemeChoice, dark: bool) -> Shade {
    match (choice, dark) {
        (ThemeChoice::Contrast, _) => Shade::Contrast,
        (_, true) => Shade::Dark,
        (_, false) => Shade::Light,
    }
}

impl Dress {
    /// Takes on the theme that was chosen.
    fn apply(&mut self, choice: ThemeChoice, ctx: &egui::Context) {
        if self.applied == Some(choice) {
            return;
        }
        self.theme.style(ctx, shade(choice, false));
        ctx.set_theme(match choice {
            ThemeChoice::System => egui::ThemePreference::System,
            ThemeChoice::Light | ThemeChoice::Contrast => egui::ThemePreference::Light,
            ThemeChoice::Dark => egui::ThemePreference::Dark,
        });
        self.applied = Some(choice);
    }

    /// Draws everything larger while the Class view is shown, the larger the larger the window, and as before after it.
    /// A wide sheet that is laid over it gets the room it needs.
    fn zoom(&mut self, state: &WindowState, ctx: &egui::Context) {
        if state.view != View::Class {
            self.zoom_below_sheet = None;
            if let Some((plain, _)) = self.plain_zoom.take() {
                ctx.set_zoom_factor(plain);
            }
            return;
        }
        let present = ctx.zoom_factor();
        let window = ctx.content_rect().size() * present;
        let (plain, fitted) = self.plain_zoom.unwrap_or((present, Vec2::ZERO));
        let mut zoom = present;
        // A zoom that a person chose since stays until the window is another size.
        if (window - fitted).abs().max_elem() > SAME_SIZE {
            self.plain_zoom = Some((plain, window));
            self.zoom_below_sheet = None;
            zoom = plain * zoom_for(window / plain, &self.theme.sizes);
        }
        zoom = match (state.has_wide_sheet(), self.zoom_below_sheet) {
            (true, None) => {
                self.zoom_below_sheet = Some(zoom);
                zoom.min(plain * zoom_below_sheet(window / plain, &self.theme.sizes))
            }
            (false, Some(below)) => {
                self.zoom_below_sheet = None;
                below
            }
            _ => zoom,
        };
        if zoom != present {
            ctx.set_zoom_factor(zoom);
        }
    }
}

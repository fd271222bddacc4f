//! Opening the window: what it starts with, and what is said when it cannot open.
//!
//! In: a path, or none. Out: a window until it is closed, or a sentence.
//!
//! Not here: anything that happens while it is open (`app`).
//!
//! Tested by: `tests/window/start.rs`, `.ci/window-opens`.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::path::PathBuf;

use eframe::egui;

use crate::document::keeper::Keeper;
use crate::document::year::is_year_path;
use crate::document::{Folders, Settings, examples};
use crate::material::Catalogue;
use crate::text::error::settings_unread;

use crate::window::app::App;
use crate::window::jobs::dialog::{Ask, FileDialog, desktop};
#[cfg(unix)]
use crate::window::jobs::ending;
use crate::window::piles::choices::View;
use crate::window::piles::notices::Notice;
use crate::window::piles::store::Store;
use crate::window::theme::Theme;
use crate::window::verbs::workbench::Workbench;

/// Width and height of the first window, points.
const USUAL_SIZE: (f32, f32) = (1280.0, 800.0);
/// The program's picture in the list of windows.
const ICON: &[u8] = include_bytes!("../../assets/desktop/heapwright-128.png");
/// What works without a window.
const WITHOUT_WINDOW: &str = "these work without one: heapwright assess FILE, heapwright curve FILE --out CSV, heapwright learn FILE, heapwright dates FILE --out ICS, heapwright materials";

/// What a window starts with.
pub struct Setup {
    /// The person's folders; `None` where the system knows no home.
    pub folders: Option<Folders>,
    /// File to open.
    pub path: Option<PathBuf>,
    /// How to ask for paths.
    pub ask: Ask,
}

impl App {
    /// A window that starts with the given file, else with the latest one, else with the demo.
    ///
    /// # Errors
    /// A sentence if a built-in table is damaged.
    pub fn start(setup: Setup) -> Result<Self, String> {
        let theme = Theme::built_in()?;
        let catalogue = Catalogue::built_in().map_err(|err| err.to_string())?;
        let first = examples()
            .map_err(|err| err.to_string())?
            .into_iter()
            .next();
        let demo = first.ok_or("there is no built-in recipe; reinstall the program")?;
        let loaded = setup.folders.as_ref().map(Settings::load);
        let store = Store::new(setup.folders, FileDialog::new(setup.ask));
        let mut bench = Workbench::with(demo.clone(), catalogue, store);
        bench.take_over(demo, None, None);
        if let Some(loaded) = loaded {
            bench.state.settings = loaded.settings;
            if let Some(problem) = loaded.problem {
                bench.tell(Notice::problem(settings_unread(&problem), ""));
            }
        }
        bench.store.written_settings = bench.state.settings.clone();
        let latest = bench.state.settings.recent.first().cloned();
        bench.store.layout = bench.state.settings.layout.clone();
        match setup.path {
            Some(path) if is_year_path(&path) => {
                bench.open_year(&path);
            }
            Some(path) => {
                bench.open_file(&path);
            }
            None => {
                if let Some(path) = latest {
                    bench.open_file(&path);
                }
                // What nobody named is shown as it was left.
                let left = &bench.store.layout.view;
                let view = View::ALL.into_iter().find(|view| view.name() == left);
                bench.state.view = view.unwrap_or_default();
            }
        }
        bench.list_recipes();
        bench.start_recovery();
        Ok(Self::over(bench, theme))
    }
}

/// The window as the desktop runs it: a thin shell around [`App`].
struct Shell {
    app: App,
    /// Frames after which it ends by itself, as a check of a machine asks for; usually `None`.
    frames_left: Option<u32>,
}

impl eframe::App for Shell {
    fn logic(&mut self, ctx: &egui::Context, _: &mut eframe::Frame) {
        self.app.logic(ctx);
    }

    fn ui(&mut self, ui: &mut egui::Ui, _: &mut eframe::Frame) {
        self.app.show(ui);
        if let Some(left) = &mut self.frames_left {
            *left = left.saturating_sub(1);
            if *left == 0 {
                self.app.bench.close_unasked(ui.ctx());
            }
            ui.ctx().request_repaint();
        }
    }

    fn on_exit(&mut self, _: Option<&eframe::glow::Context>) {
        self.app.bench.finish();
    }
}

/// Name of the variable that says after how many frames the window ends by itself.
const FRAMES: &str = "HEAPWRIGHT_FRAMES";

/// Opens the window, with the file if one is given and straight in the Class view if asked for, and returns
/// when it is closed.
///
/// # Errors
/// One sentence that says why there is no window and what works without one.
pub fn run(path: Option<PathBuf>, class: bool) -> Result<(), String> {
    let mut app = App::start(Setup {
        folders: Folders::of_user(),
        path,
        ask: desktop(),
    })?;
    if class {
        app.bench.state.view = View::Class;
    }
    let icon = eframe::icon_data::from_png_bytes(ICON).map_err(|err| err.to_string())?;
    let layout = &app.bench.state.settings.layout;
    let (width, height) = layout.size().unwrap_or(USUAL_SIZE);
    let options = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default()
            .with_title(app.bench.title())
            .with_app_id("heapwright")
            .with_icon(icon)
            .with_inner_size([width, height])
            .with_maximized(layout.maximised)
            .with_min_inner_size([900.0, 600.0]),
        ..Default::default()
    };
    let rescue = || app.bench.store.keeper.as_ref().map(Keeper::rescue);
    #[cfg(unix)]
    if let Some(rescue) = rescue() {
        // Without it a signal ends the program as ever, and what was kept until then is offered.
        let _ = ending::heed(rescue);
    }
    let rescue = rescue();
    let frames_left = std::env::var(FRAMES)
        .ok()
        .and_then(|text| text.parse().ok());
    // Missing keyboard libraries end in a panic below the window crate; its text is for developers.
    let hook = std::panic::take_hook();
    std::panic::set_hook(Box::new(|_| {}));
    let ended = catch_unwind(AssertUnwindSafe(|| {
        eframe::run_native(
            "Heapwright",
            options,
            Box::new(|creation| {
                app.prepare(&creation.egui_ctx);
                Ok(Box::new(Shell { app, frames_left }))
            }),
        )
    }));
    std::panic::set_hook(hook);
    if let Some(rescue) = rescue {
        // Does nothing after an orderly end; the window is gone, so there is nobody left to tell.
        let _ = rescue.run();
    }
    match ended {
        Ok(Ok(())) => Ok(()),
        Ok(Err(err)) => Err(no_window(&err.to_string())),
        Err(panic) => Err(no_window(&panic_text(panic.as_ref()))),
    }
}

/// The sentence for "no window", from the system's own words.
pub fn no_window(reason: &str) -> String {
    let reason: String = reason.split_whitespace().collect::<Vec<_>>().join(" ");
    // Places in source files are for developers; the words after them are for everyone.
    let words = reason.split(": ").collect::<Vec<_>>();
    let after_places = words
        .iter()
        .rposition(|part| part.contains(".rs:"))
        .map_or(0, |place| place + 1);
    let told = words[after_places..].join(": ");
    let reason = if told.is_empty() { &reason } else { &told };
    let reason = reason.trim_end_matches('.');
    format!("the window cannot be opened ({reason}); {WITHOUT_WINDOW}")
}

fn panic_text(panic: &(dyn std::any::Any + Send)) -> String {
    panic
        .downcast_ref::<String>()
        .cloned()
        .or_else(|| panic.downcast_ref::<&str>().map(|text| (*text).to_owned()))
        .unwrap_or_else(|| "for a reason the system did not give".to_owned())
}

//! A window of fixed size, theme and folders, and ways to find things in it.

use std::collections::BTreeSet;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use eframe::egui::{self, accesskit::Role};
use egui_kittest::Harness;
use egui_kittest::kittest::{NodeT, Queryable};
use heapwright::document::{Folders, ThemeChoice};
use heapwright::window::action::Action;
use heapwright::window::jobs::dialog::Ask;
use heapwright::window::theme::Theme;
use heapwright::window::verbs::Workbench;
use heapwright::window::{App, Setup};

/// A window under test, with a folder of its own that goes when it goes.
pub struct Window {
    pub harness: Harness<'static, App>,
    pub folder: tempfile::TempDir,
}

/// A desktop that has no file dialog to offer.
pub fn no_dialog() -> Ask {
    Arc::new(|_| None)
}

/// A desktop whose dialog answers with this path.
pub fn dialog_that_answers(path: PathBuf) -> Ask {
    Arc::new(move |_| Some(path.clone()))
}

/// A window in an empty folder.
pub fn window() -> Window {
    window_in(tempfile::tempdir().unwrap(), None, no_dialog())
}

/// A window in a folder, with a file and a way to ask for paths.
pub fn window_in(folder: tempfile::TempDir, path: Option<PathBuf>, ask: Ask) -> Window {
    let folders = Folders::under(folder.path());
    let mut app = App::start(Setup {
        folders: Some(folders),
        path,
        ask,
    })
    .unwrap();
    app.bench.state.settings.theme = ThemeChoice::Light;
    // Answers of the background come at no fixed frame; its own test switches it on.
    app.bench.refines = false;
    let mut harness = Harness::builder()
        .with_size([1280.0, 800.0])
        .with_theme(egui::Theme::Light)
        .with_max_steps(8)
        .with_context_setup(|ctx| Theme::built_in().unwrap().install(ctx))
        .build_ui_state(
            |ui, app: &mut App| {
                let ctx = ui.ctx().clone();
                app.logic(&ctx);
                app.show(ui);
            },
            app,
        );
    harness.run();
    Window { harness, folder }
}

impl Window {
    /// What the window works on.
    pub fn app(&self) -> &Workbench {
        &self.harness.state().bench
    }

    pub fn run(&mut self) {
        self.harness.run();
    }

    /// Asks for an action, as a key or a menu entry would.
    pub fn ask(&mut self, action: Action) {
        self.harness.state_mut().ask(action);
        self.run();
    }

    /// Presses the button of this name.
    pub fn press(&mut self, name: &str) {
        self.harness
            .get_by_role_and_label(Role::Button, name)
            .click();
        self.run();
    }

    /// Names of what has the keyboard, one press of Tab after the other.
    pub fn reached_by_tab(&mut self, presses: usize) -> BTreeSet<String> {
        let mut reached = BTreeSet::new();
        for _ in 0..presses {
            self.harness.key_press(egui::Key::Tab);
            self.harness.step();
            let focused = self
                .harness
                .root()
                .children_recursive()
                .map(|node| node.accesskit_node())
                .find(|node| node.is_focused())
                .and_then(|node| node.label());
            reached.extend(focused);
        }
        reached
    }

    /// Takes every ingredient out of the mix.
    pub fn empty_the_mix(&mut self) {
        let project = &mut self.harness.state_mut().bench.project;
        project.mix.ingredients.clear();
        self.run();
    }

    /// Moves the slider of this name.
    pub fn slide(&mut self, name: &str, value: f64) {
        self.harness
            .get_by_role_and_label(Role::Slider, name)
            .set_value_accesskit(value);
        self.run();
    }

    /// Types a number into the field of this name.
    pub fn type_number(&mut self, name: &str, text: &str) {
        self.harness
            .get_by_role_and_label(Role::SpinButton, name)
            .click();
        self.run();
        self.harness
            .get_by_role_and_label(Role::SpinButton, name)
            .type_text(text);
        self.run();
        self.harness.key_press(egui::Key::Enter);
        self.run();
    }

    /// Presses Tab so often; each of these names must have had the keyboard on the way.
    pub fn assert_tab_reaches(&mut self, presses: usize, names: &[&str]) {
        let reached = self.reached_by_tab(presses);
        for name in names {
            assert!(
                reached.contains(*name),
                "Tab never came to {name}: {reached:?}"
            );
        }
    }

    /// What the gauge whose words begin so says.
    pub fn gauge(&self, name: &str) -> String {
        self.harness
            .root()
            .children_recursive()
            .map(|node| node.accesskit_node())
            .filter(|node| node.role() == Role::Meter)
            .filter_map(|node| node.label())
            .find(|label| label.starts_with(name))
            .unwrap_or_else(|| panic!("there is no gauge {name}"))
    }

    /// Whether any text on screen holds these words, whether or not a line may end between a number and its unit.
    pub fn shows(&self, words: &str) -> bool {
        let holds = |words: &str| {
            let mut found = self.harness.query_all_by_label_contains(words);
            found.next().is_some()
        };
        holds(words) || holds(&heapwright::text::number::unparted(words))
    }

    pub fn command(&mut self, key: egui::Key) {
        self.harness
            .key_press_modifiers(egui::Modifiers::COMMAND, key);
        self.run();
    }

    /// The same for a command that begins work in the background: a bar that moves meanwhile asks for frame after
    /// frame, so nothing is waited for here.
    pub fn begin(&mut self, key: egui::Key) {
        self.harness
            .key_press_modifiers(egui::Modifiers::COMMAND, key);
        self.harness.run_ok();
    }

    pub fn command_shift(&mut self, key: egui::Key) {
        self.harness
            .key_press_modifiers(egui::Modifiers::COMMAND.plus(egui::Modifiers::SHIFT), key);
        self.run();
    }

    /// Puts a path into the open path field and goes on.
    pub fn use_path(&mut self, path: &Path, button: &str) {
        self.harness
            .get_by_role_and_label(Role::TextInput, "Path")
            .set_text_value_accesskit(path.to_str().unwrap());
        self.run();
        self.press(button);
    }

    /// Steps until the year as it stands has been planned and its heaps projected.
    pub fn wait_for_year(&mut self) {
        let begun = Instant::now();
        loop {
            self.harness.step();
            let desk = &self.app().year;
            let open = &desk.open.as_ref().unwrap().file.year;
            let shown = desk.shown.as_ref();
            if shown.is_some_and(|shown| shown.of.file.year == *open) && !desk.busy {
                break;
            }
            std::thread::sleep(Duration::from_millis(5));
            assert!(begun.elapsed() < Duration::from_secs(120), "no plan came");
        }
        self.run();
    }

    /// Steps until the file dialog has answered.
    pub fn wait_for_dialog(&mut self) {
        let begun = Instant::now();
        loop {
            self.harness.step();
            if !self.app().store.dialog.is_open() {
                // What was chosen may be at work in the background, with a bar that moves.
                self.harness.run_ok();
                return;
            }
            assert!(begun.elapsed().as_secs() < 60, "the dialog never answered");
            std::thread::sleep(Duration::from_millis(5));
        }
    }
}

//! The window and the commands say the same numbers, and units change none of them.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use heapwright::assess::MEMBERS;
use heapwright::document::file;
use heapwright::export::{Assessment, json};
use heapwright::material::Catalogue;
use heapwright::quantity::UnitSystem;
use heapwright::window::piles::diary_choices::Followed;
use heapwright::window::{Action, View};

use crate::support::{Window, no_dialog, window, window_in};

fn demos() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data");
    let entries = std::fs::read_dir(folder).unwrap();
    let mut demos: Vec<PathBuf> = entries
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.to_string_lossy().ends_with(".heap.ron"))
        .collect();
    demos.sort();
    assert_eq!(demos.len(), 5);
    demos
}

/// Steps until every member has come and the outcome is weighed by them all.
fn wait_until_whole(window: &mut Window) {
    let begun = Instant::now();
    loop {
        window.harness.step();
        let stages = &window.app().shown.stages;
        let whole = stages.forecast().is_some_and(|found| found.is_whole());
        let judged = stages.outcome().is_some() && !stages.is_judging();
        if whole && judged {
            // One more frame weighs the outcome by the last members.
            window.harness.run_steps(3);
            return;
        }
        std::thread::sleep(Duration::from_millis(5));
        assert!(begun.elapsed().as_secs() < 300, "the forecast never came");
    }
}

fn show_results(window: &mut Window) {
    window.harness.state_mut().bench.refines = true;
    window.harness.state_mut().ask(Action::Show(View::Results));
    wait_until_whole(window);
}

/// What `assess --json` prints of a file.
fn printed(path: &Path) -> String {
    let program = std::process::Command::new(env!("CARGO_BIN_EXE_heapwright"))
        .args(["assess", "--json"])
        .arg(path)
        .output()
        .unwrap();
    assert!(program.status.success(), "{}", path.display());
    String::from_utf8(program.stdout).unwrap()
}

#[test]
fn the_window_says_the_numbers_of_the_command_to_the_last_digit() {
    let catalogue = Catalogue::built_in().unwrap();
    for demo in demos() {
        let folder = tempfile::tempdir().unwrap();
        let mut window = window_in(folder, Some(demo.clone()), no_dialog());
        // The command goes by the plan, whatever a diary says; so is the window asked to.
        window.harness.state_mut().bench.state.diary.followed = Followed::Planned;
        show_results(&mut window);
        let project = file::read(&demo, &catalogue).unwrap().project;
        let whole = Assessment::whole(&project, &catalogue).unwrap();
        let stages = &window.app().shown.stages;
        let forecast = stages.forecast().unwrap();
        assert_eq!(forecast.wanted(), MEMBERS);
        assert_eq!(whole.forecast.as_ref(), Some(&**forecast), "{demo:?}");
        assert_eq!(
            whole.projection.as_ref(),
            stages.projection().map(|it| &**it)
        );
        let seen = Assessment {
            blend: stages.blend().unwrap().clone(),
            projection: stages.projection().map(|it| (**it).clone()),
            forecast: Some((**forecast).clone()),
            outcome: stages.outcome().map(|it| (**it).clone()),
            ..whole
        };
        let weighed = &seen.outcome.as_ref().unwrap().weighed;
        assert!(weighed.values().any(|it| it.likely.is_some()));
        assert_eq!(format!("{}\n", json(&seen).unwrap()), printed(&demo));
    }
}

#[test]
fn other_units_start_no_work_and_change_no_number() {
    let mut window = window();
    show_results(&mut window);
    let parts = |window: &Window| {
        let stages = &window.app().shown.stages;
        (
            stages.revision(),
            Arc::clone(stages.inputs().unwrap()),
            Arc::clone(stages.projection().unwrap()),
            Arc::clone(stages.forecast().unwrap()),
            Arc::clone(stages.outcome().unwrap()),
        )
    };
    let before = parts(&window);
    for units in [UnitSystem::UsCustomary, UnitSystem::Metric] {
        window.harness.state_mut().ask(Action::SetUnits(units));
        // Long enough for a fine run to begin, if one were due.
        for _ in 0..40 {
            window.harness.step();
            std::thread::sleep(Duration::from_millis(25));
            let after = parts(&window);
            assert_eq!(before.0, after.0, "the mix was blended anew");
            assert!(Arc::ptr_eq(&before.1, &after.1), "inputs were made anew");
            assert!(
                Arc::ptr_eq(&before.2, &after.2),
                "the heap was simulated anew"
            );
            assert!(Arc::ptr_eq(&before.3, &after.3), "members were run anew");
            assert!(Arc::ptr_eq(&before.4, &after.4), "it was judged anew");
        }
        assert_eq!(window.app().state.settings.units, units);
    }
}

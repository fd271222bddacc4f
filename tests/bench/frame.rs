//! Work of the window in one frame (no drawing by the graphics card): at rest, and while an amount changes in
//! every frame, with the heap calculated in the background and, for comparison, in the frame itself. Median and
//! 99th percentile of a long drag are printed.

use std::time::{Duration, Instant};

use criterion::{Criterion, criterion_group, criterion_main};
use eframe::egui;
use egui_kittest::Harness;
use heapwright::document::Folders;
use heapwright::window::View;
use heapwright::window::theme::Theme;
use heapwright::window::{App, Setup};

/// A window with the first demo heap.
fn window(
    folder: &std::path::Path,
    view: View,
    background: bool,
) -> Result<Harness<'static, App>, Box<dyn std::error::Error>> {
    let mut app = App::start(Setup {
        folders: Some(Folders::under(folder)),
        path: Some("demo-data/withybed-autumn-leaves.heap.ron".into()),
        ask: std::sync::Arc::new(|_| None),
    })?;
    app.bench.refines = background;
    app.bench.state.view = view;
    let mut harness = Harness::builder()
        .with_size([1280.0, 800.0])
        .with_context_setup(|ctx| {
            if let Ok(theme) = Theme::built_in() {
                theme.install(ctx);
            }
        })
        .build_ui_state(
            |ui, app: &mut App| {
                let ctx: egui::Context = ui.ctx().clone();
                app.logic(&ctx);
                app.show(ui);
            },
            app,
        );
    harness.step();
    Ok(harness)
}

fn drag(harness: &mut Harness<'static, App>, frame: &mut u32) {
    *frame += 1;
    let amount = &mut harness.state_mut().bench.project.mix.ingredients[0].amount;
    amount.value *= if *frame % 20 < 10 { 1.01 } else { 1.0 / 1.01 };
    harness.step();
}

/// Frames at 60 per second, as a hand drags; prints median and 99th percentile.
fn long_drag(name: &str, harness: &mut Harness<'static, App>) {
    let mut frame = 0;
    let mut taken: Vec<Duration> = (0..400)
        .map(|_| {
            let begun = Instant::now();
            drag(harness, &mut frame);
            let taken = begun.elapsed();
            std::thread::sleep(Duration::from_micros(16_600).saturating_sub(taken));
            taken
        })
        .collect();
    taken.sort();
    println!(
        "{name}: median {:?}, 99th percentile {:?}",
        taken[200], taken[396]
    );
}

fn frames(c: &mut Criterion) {
    if let Err(problem) = all_frames(c) {
        println!("no window to measure: {problem}");
    }
}

fn all_frames(c: &mut Criterion) -> Result<(), Box<dyn std::error::Error>> {
    let folder = tempfile::tempdir()?;
    let mut group = c.benchmark_group("a frame");
    group.sample_size(30);
    for (name, view) in [
        ("Mix", View::Mix),
        ("Heap", View::Heap),
        ("Results", View::Results),
    ] {
        for (place, background) in [("background", true), ("frame", false)] {
            let mut harness = window(folder.path(), view, background)?;
            let title = format!("{name}, dragging, heap in the {place}");
            long_drag(&title, &mut harness);
            let mut frame = 0;
            group.bench_function(title, |b| b.iter(|| drag(&mut harness, &mut frame)));
        }
        let mut harness = window(folder.path(), view, false)?;
        group.bench_function(format!("{name}, at rest"), |b| b.iter(|| harness.step()));
    }
    group.finish();
    Ok(())
}

criterion_group!(benches, frames);
criterion_main!(benches);

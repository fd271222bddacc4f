//! Work of the window in one frame (no drawing by the graphics card): at rest, and while an amount changes in
//! every frame, with the heap calculated in the background and, for comparison, in the frame itself. Median and
//! 99th percentile of a long drag are printed. Then the Diary view with as much as a diary can hold.

use std::time::{Duration, Instant};

use criterion::{Criterion, criterion_group, criterion_main};
use eframe::egui;
use egui_kittest::Harness;
use heapwright::diary::{Diary, Log, Reading, Spot};
use heapwright::document::Folders;
use heapwright::window::View;
use heapwright::window::theme::Theme;
use heapwright::window::{App, Setup};
use jiff::civil::date;

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

/// So many readings by hand over 115 days, and so many temperatures of each of four probes.
fn diary(readings: u32, logged: u32) -> Diary {
    let mut diary = Diary {
        built: Some(date(2025, 10, 1).at(12, 0, 0, 0)),
        ..Diary::default()
    };
    let degrees = |number: u32| 40.0 + 10.0 * (0.37 * f64::from(number)).sin();
    let day = |number: u32, of: u32| 115.0 * f64::from(number) / f64::from(of);
    for number in 0..readings {
        if let Some(at) = diary.moment_of(day(number, readings)) {
            let spot = [Spot::CENTRE, Spot::EDGE, Spot::TOP][number as usize % 3];
            let reading = Reading::temperature(at, spot, degrees(number));
            diary.readings.push(reading);
        }
    }
    for probe in 0..if logged > 0 { 4 } else { 0 } {
        diary.logs.push(Log {
            name: format!("probe {probe}"),
            spot: Spot::CENTRE,
            temperatures_c: (0..logged)
                .map(|number| (day(number, logged), degrees(number)))
                .collect(),
        });
    }
    diary
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
    for (name, readings, logged) in [
        ("Diary, 4 900 readings", 4_900, 0),
        ("Diary, 44 000 temperatures of loggers", 0, 11_000),
    ] {
        let mut harness = window(folder.path(), View::Diary, false)?;
        harness.state_mut().bench.project.diary = diary(readings, logged);
        harness.step();
        group.bench_function(name, |b| b.iter(|| harness.step()));
    }
    group.finish();
    Ok(())
}

criterion_group!(benches, frames);
criterion_main!(benches);

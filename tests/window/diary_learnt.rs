//! What was learnt of a diary: followed by curve, band, forecast and form; the switch; work that breaks down.

use std::sync::Arc;
use std::time::{Duration, Instant};

use egui_kittest::kittest::Queryable;
use heapwright::assess::remedy::HeapAsked;
use heapwright::forecast::Series;
use heapwright::outcome::complaint::Symptom;
use heapwright::window::piles::diary_choices::Followed;
use heapwright::window::verbs::Clock;
use jiff::civil::date;

use super::support::{Window, no_dialog, window_in};

/// A window with the demo that has a diary, on a day when its heap is 33 days old.
fn demo_window() -> Window {
    let folder = tempfile::tempdir().unwrap();
    let demo = format!(
        "{}/demo-data/withybed-autumn-diary.heap.ron",
        env!("CARGO_MANIFEST_DIR")
    );
    let path = folder.path().join("diary.heap.ron");
    std::fs::copy(demo, &path).unwrap();
    let mut window = window_in(folder, Some(path), no_dialog());
    let bench = &mut window.harness.state_mut().bench;
    bench.clock = Clock::Stands(date(2026, 11, 27).at(15, 30, 0, 0));
    window.press("Diary");
    window
}

/// Steps until this is so.
fn wait(window: &mut Window, what: &str, so: impl Fn(&Window) -> bool) {
    let begun = Instant::now();
    while !so(window) {
        window.harness.step();
        std::thread::sleep(Duration::from_millis(10));
        assert!(begun.elapsed() < Duration::from_secs(120), "{what}");
    }
}

/// Waits until what was learnt is drawn.
fn learn(window: &mut Window) {
    window.harness.state_mut().bench.refines = true;
    wait(window, "nothing was learnt", |window| {
        window.app().shown.curve.prior.is_some()
    });
}

#[test]
fn what_was_learnt_is_followed_and_the_switch_goes_back_to_the_plan() {
    let mut window = demo_window();
    learn(&mut window);
    let shown = &window.app().shown;
    let learnt = shown.following.learnt.clone().unwrap();
    // Curve, band and likelihoods are those of the learnt forecast.
    let band = learnt.forecast.band(Series::Centre);
    assert_eq!(
        shown.curve.band.as_ref().unwrap(),
        &band.clone().holding(&shown.curve.heap_c)
    );
    assert_eq!(shown.curve.prior.as_ref(), Some(&learnt.prior));
    assert!(Arc::ptr_eq(
        shown.stages.forecast().unwrap(),
        &learnt.forecast
    ));
    assert!(window.shows("What the readings say of the heap"));
    assert!(window.shows("without the readings it was"));
    wait(&mut window, "the key lacks the band before", |window| {
        window.shows("before readings")
    });
    // The readings lie nearer to it than to the plan: the reason for all this.
    let off = |window: &Window| {
        let offs = window.app().shown.diary.offs_k.clone();
        offs.iter().map(|off| off.abs()).sum::<f64>() / offs.len() as f64
    };
    let learnt_off = off(&window);
    window.harness.get_by_label("as planned").click();
    window.harness.step();
    assert_eq!(window.app().state.diary.followed, Followed::Planned);
    wait(&mut window, "the plan is not drawn again", |window| {
        let shown = &window.app().shown;
        shown.curve.prior.is_none() && shown.stages.forecast().is_some()
    });
    let planned_off = off(&window);
    println!("off by {learnt_off:.1} K as learnt, {planned_off:.1} K as planned");
    assert!(learnt_off < planned_off);
    window.harness.get_by_label("as learnt").click();
    wait(
        &mut window,
        "what was learnt is not drawn again",
        |window| window.app().shown.curve.prior.is_some(),
    );
}

#[test]
fn the_reading_that_would_teach_most_is_put_into_the_form() {
    let mut window = demo_window();
    learn(&mut window);
    let shown = window.app().shown.following.learnt.clone().unwrap();
    let next = shown.learnt.next.expect("the heap goes on for weeks");
    assert!(window.shows("The next reading that would teach most"));
    window.harness.get_by_label("Put into the form").click();
    wait(&mut window, "the form was not set", |window| {
        window.app().state.diary.form.spot == next.spot
    });
}

#[test]
fn a_diary_without_readings_is_not_learnt_from_and_a_broken_job_is_told() {
    let mut window = demo_window();
    let bench = &mut window.harness.state_mut().bench;
    bench.jobs.learning.learn = |_, _, _, _| panic!("lost the thread");
    bench.refines = true;
    wait(&mut window, "nothing was told", |window| {
        window.shows("The diary could not be learnt from")
    });
    assert!(window.app().shown.following.learnt.is_none());
    window
        .harness
        .state_mut()
        .bench
        .project
        .diary
        .readings
        .clear();
    for _ in 0..5 {
        window.harness.step();
    }
    assert!(!window.app().jobs.learning.is_busy());
}

#[test]
fn what_is_wrong_and_the_next_days_are_those_of_the_learnt_heap() {
    let mut window = demo_window();
    learn(&mut window);
    wait(&mut window, "nothing is due", |window| {
        window.shows("Next days: ")
    });
    window.harness.state_mut().bench.state.complaint.symptoms = vec![Symptom::WhiteThreads];
    window.harness.state_mut().bench.state.complaint_open = true;
    wait(
        &mut window,
        "the learnt heap is not asked about",
        |window| {
            let found = window.app().shown.complaint.found();
            found.is_some_and(|found| found.of == HeapAsked::Learnt)
        },
    );
    window.harness.step();
    // Entered on 11 and 25 November; the clock stands on the 27th.
    assert!(window.shows("a handful squeezed 16 days ago: like a wrung-out sponge"));
    assert!(window.shows("50 °C in the middle 2 days ago"));
    // Without what was learnt it is the heap as written that is asked about.
    window.harness.state_mut().bench.state.diary.followed = Followed::Planned;
    wait(&mut window, "the plan is not asked about", |window| {
        let found = window.app().shown.complaint.found();
        found.is_some_and(|found| found.of == HeapAsked::Stands)
    });
}

#[test]
fn a_class_sees_what_was_read_over_the_curve() {
    let mut window = demo_window();
    let read = "19 temperatures: off by";
    assert!(window.shows(read));
    window.press("Class");
    window.run();
    assert!(window.shows("Heat plot.") && window.shows(read));
    let bench = &mut window.harness.state_mut().bench;
    bench.project.diary.readings.clear();
    bench.project.diary.done.clear();
    window.run();
    assert!(window.shows("Heat plot.") && !window.shows("temperatures: off by"));
}

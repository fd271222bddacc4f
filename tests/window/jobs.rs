//! Work behind the window: it tells news and its end, it can be stopped, and a panic in it is told of.

use std::sync::atomic::Ordering;
use std::sync::mpsc::channel;
use std::time::{Duration, Instant};

use heapwright::window::jobs::job::{Job, Told};
use heapwright::window::{Action, View};

use crate::support::{Window, window};

/// Everything a job tells until its end.
fn all_of<T: Send + 'static>(mut job: Job<T>) -> Vec<Told<T>> {
    let begun = Instant::now();
    let mut all = Vec::new();
    while job.is_running() {
        all.extend(job.poll());
        std::thread::sleep(Duration::from_millis(1));
        assert!(begun.elapsed().as_secs() < 60, "the job never ended");
    }
    assert!(job.poll().is_empty(), "its end is told once");
    all
}

#[test]
fn a_job_tells_its_news_in_order_and_then_its_end() {
    let (woken, bell) = channel();
    let wake = move || woken.send(()).unwrap();
    let job = Job::start("counting", wake, |teller| {
        for number in 1..=3 {
            teller.tell(number);
        }
    })
    .unwrap();
    let told: Vec<Told<i32>> = all_of(job);
    assert_eq!(
        told,
        [Told::News(1), Told::News(2), Told::News(3), Told::Done]
    );
    assert_eq!(bell.iter().count(), 4, "the window is woken each time");
}

#[test]
fn a_panic_is_told_with_its_cause() {
    let job = Job::start(
        "breaking",
        || {},
        |teller| {
            teller.tell(1);
            panic!("the table fell over");
        },
    )
    .unwrap();
    assert_eq!(
        all_of(job),
        [
            Told::News(1),
            Told::Broken("the table fell over".to_owned())
        ]
    );
}

#[test]
fn a_dropped_job_is_asked_to_stop_and_heard_no_more() {
    let (ended, end) = channel();
    let (woken, bell) = channel();
    let wake = move || woken.send(()).unwrap();
    let job = Job::start("waiting", wake, move |teller| {
        while !teller.stop().load(Ordering::Relaxed) {
            std::thread::sleep(Duration::from_millis(1));
        }
        teller.tell("too late");
        ended.send(()).unwrap();
    })
    .unwrap();
    drop(job);
    end.recv_timeout(Duration::from_secs(60)).unwrap();
    assert_eq!(bell.iter().count(), 0, "nobody is woken for it");
}

/// Whether something was told whose summary is this.
fn was_told(window: &Window, summary: &str, details: &str) -> bool {
    let told = window.app().state.notices.list();
    told.iter()
        .any(|it| it.summary == summary && it.details.contains(details))
}

/// Steps until this is told.
fn wait_for_notice(window: &mut Window, summary: &str, details: &str) {
    let begun = Instant::now();
    while !was_told(window, summary, details) {
        window.harness.step();
        std::thread::sleep(Duration::from_millis(5));
        assert!(begun.elapsed().as_secs() < 120, "nothing was told");
    }
    window.harness.run_steps(3);
}

#[test]
fn a_judgement_that_breaks_down_is_told_and_nothing_says_judging_for_ever() {
    let mut window = window();
    let bench = &mut window.harness.state_mut().bench;
    bench.jobs.judging.judge = |_| panic!("no judge to be had");
    bench.refines = true;
    window.harness.state_mut().ask(Action::Show(View::Results));
    wait_for_notice(
        &mut window,
        "The heap could not be judged",
        "no judge to be had",
    );
    assert!(window.app().shown.stages.outcome().is_none());
    // The judgement of a finer projection may be under way; it breaks down as well.
    let begun = Instant::now();
    while window.shows("Judging") || !window.shows("It could not be judged") {
        window.harness.step();
        std::thread::sleep(Duration::from_millis(5));
        assert!(begun.elapsed().as_secs() < 120, "it judges for ever");
    }
}

#[test]
fn a_count_of_turnings_that_breaks_down_is_told() {
    let mut window = window();
    let bench = &mut window.harness.state_mut().bench;
    bench.jobs.turn_count.count = |_, _, _| panic!("lost count");
    bench.refines = true;
    window.harness.state_mut().ask(Action::Show(View::Results));
    wait_for_notice(
        &mut window,
        "The effect of the turnings could not be calculated",
        "lost count",
    );
}

//! The worker in the background: newest first, stale dropped, nothing hangs.

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::mpsc::{Receiver, channel};
use std::sync::{Arc, Mutex};
use std::time::{Duration, Instant};

use heapwright::forecast::{Ensemble, Message, News, Request, RunStages, Worker};
use heapwright::heap::{Ended, Resolution};
use heapwright::mix::Totals;

use crate::stand_in::{self, BROKEN_DAYS, ENDLESS_DAYS, inputs};
use crate::support::heaps::{GOOD, project_with};

/// Longest that a test waits for the worker; far more than any answer here takes.
const PATIENCE: Duration = Duration::from_secs(50);

fn request(revision: u64, days: f64, stages: RunStages) -> Request {
    Request {
        revision,
        inputs: Arc::new(inputs(days)),
        stages,
    }
}

fn stages(members: usize) -> RunStages {
    RunStages {
        members,
        ..RunStages::ALL
    }
}

/// A worker over the stand-in and the bell it rings.
fn worker() -> (Worker, Receiver<()>) {
    let (bell, heard) = channel();
    let bell = Mutex::new(bell);
    let ensemble = Ensemble {
        simulator: stand_in::simulate,
        ..Ensemble::default()
    };
    let ring = move || {
        // The test may be over already.
        let _ = bell.lock().unwrap().send(());
    };
    (Worker::with(ensemble, ring).unwrap(), heard)
}

/// Waits for this many messages, only ever looking after the bell rang.
fn wait_for(worker: &mut Worker, heard: &Receiver<()>, count: usize) -> Vec<Message> {
    let mut got = Vec::new();
    while got.len() < count {
        heard
            .recv_timeout(PATIENCE)
            .expect("the worker wakes its caller");
        got.extend(worker.poll());
    }
    got
}

/// What came, in a word each.
fn kinds(messages: &[Message]) -> Vec<String> {
    messages
        .iter()
        .map(|message| match &message.news {
            News::Coarse(_) => "coarse".to_owned(),
            News::Fine(_) => "fine".to_owned(),
            News::Forecast(forecast) => forecast.members().to_string(),
            News::Nothing => "nothing".to_owned(),
            News::Failed(_) => "failed".to_owned(),
        })
        .collect()
}

#[test]
fn coarse_comes_first_then_fine_then_a_growing_forecast() {
    let (mut worker, heard) = worker();
    worker.submit(request(4, 2.0, stages(200)));
    let messages = wait_for(&mut worker, &heard, 8);
    assert_eq!(
        kinds(&messages),
        ["coarse", "fine", "8", "16", "32", "64", "128", "200"]
    );
    assert!(messages.iter().all(|message| message.revision == 4));
}

#[test]
fn only_the_stages_asked_for_are_run() {
    let (mut worker, heard) = worker();
    let at_rest = RunStages {
        members: 8,
        ..RunStages::AT_REST
    };
    worker.submit(request(1, 2.0, at_rest));
    assert_eq!(kinds(&wait_for(&mut worker, &heard, 2)), ["fine", "8"]);
    let coarse = RunStages {
        fine: false,
        ..stages(0)
    };
    worker.submit(request(2, 2.0, coarse));
    assert_eq!(kinds(&wait_for(&mut worker, &heard, 1)), ["coarse"]);
}

#[test]
fn answers_are_those_of_the_simulator() {
    // The same run, asked for directly.
    let (bell, heard) = channel();
    let bell = Mutex::new(bell);
    let mut worker = Worker::new(move || {
        let _ = bell.lock().unwrap().send(());
    })
    .unwrap();
    let wanted = request(1, 3.0, stages(0));
    worker.submit(wanted.clone());
    let messages = wait_for(&mut worker, &heard, 2);
    let run =
        |resolution: &Resolution| project_with(&GOOD.totals(), &wanted.inputs.heap, resolution);
    let coarse = run(&Resolution::coarse()).unwrap();
    let fine = run(&Resolution::fine()).unwrap();
    assert_eq!(messages[0].news, News::Coarse(Box::new(coarse)));
    assert_eq!(messages[1].news, News::Fine(Box::new(fine)));
}

#[test]
fn the_newest_request_wins_and_the_running_one_is_called_off() {
    let (mut worker, heard) = worker();
    worker.submit(request(1, ENDLESS_DAYS, stages(8)));
    for revision in 2..50 {
        worker.submit(request(revision, ENDLESS_DAYS, stages(8)));
    }
    let began = Instant::now();
    worker.submit(request(50, 2.0, stages(8)));
    let messages = wait_for(&mut worker, &heard, 3);
    assert_eq!(kinds(&messages), ["coarse", "fine", "8"]);
    assert!(messages.iter().all(|message| message.revision == 50));
    // An endless run waits a minute unless it is called off.
    assert!(began.elapsed() < PATIENCE);
}

#[test]
fn what_was_found_for_an_older_request_is_dropped() {
    let (mut worker, heard) = worker();
    worker.submit(request(1, 2.0, stages(0)));
    for _ in 0..2 {
        heard.recv_timeout(PATIENCE).unwrap();
    }
    // Both answers lie there, not yet fetched.
    worker.submit(request(2, 3.0, stages(0)));
    let messages = wait_for(&mut worker, &heard, 2);
    assert!(messages.iter().all(|message| message.revision == 2));
    let Some(News::Fine(fine)) = messages.last().map(|message| &message.news) else {
        panic!("{messages:?}");
    };
    assert_eq!(fine.records.last().unwrap().day, 3.0);
    assert_eq!(worker.poll(), []);
}

#[test]
fn what_is_called_off_says_nothing_and_the_next_is_served() {
    let (mut worker, heard) = worker();
    worker.submit(request(1, 2.0, stages(0)));
    for _ in 0..2 {
        heard.recv_timeout(PATIENCE).unwrap();
    }
    worker.call_off();
    assert_eq!(worker.poll(), []);
    worker.submit(request(2, ENDLESS_DAYS, stages(0)));
    worker.call_off();
    worker.submit(request(3, 2.0, stages(0)));
    let messages = wait_for(&mut worker, &heard, 2);
    assert!(messages.iter().all(|message| message.revision == 3));
}

#[test]
fn an_ensemble_is_called_off_as_well() {
    let (mut worker, heard) = worker();
    let members_only = RunStages {
        coarse: false,
        fine: false,
        members: 200,
    };
    worker.submit(request(1, ENDLESS_DAYS, members_only));
    std::thread::sleep(Duration::from_millis(20));
    worker.submit(request(2, 2.0, stages(8)));
    let messages = wait_for(&mut worker, &heard, 3);
    assert_eq!(kinds(&messages), ["coarse", "fine", "8"]);
    assert!(messages.iter().all(|message| message.revision == 2));
}

#[test]
fn nothing_to_rot_is_said_once() {
    let (mut worker, heard) = worker();
    let mut nothing = inputs(2.0);
    nothing.totals = Totals::default();
    let inputs = Arc::new(nothing);
    for stages in [
        RunStages::ALL,
        RunStages {
            coarse: false,
            fine: false,
            members: 8,
        },
    ] {
        worker.submit(Request {
            revision: 1,
            inputs: Arc::clone(&inputs),
            stages,
        });
        assert_eq!(kinds(&wait_for(&mut worker, &heard, 1)), ["nothing"]);
    }
}

#[test]
fn a_broken_run_is_reported_and_the_next_request_is_served() {
    let (mut worker, heard) = worker();
    let members_only = RunStages {
        coarse: false,
        fine: false,
        members: 8,
    };
    for stages in [stages(8), members_only] {
        worker.submit(request(1, BROKEN_DAYS, stages));
        let messages = wait_for(&mut worker, &heard, 1);
        let News::Failed(sentence) = &messages[0].news else {
            panic!("{messages:?}");
        };
        assert!(
            sentence.contains("thirteen days are too many"),
            "{sentence}"
        );
        worker.submit(request(2, 2.0, RunStages::ALL));
        assert_eq!(wait_for(&mut worker, &heard, 8).len(), 8);
    }
}

#[test]
fn a_broken_bell_does_not_stop_the_worker() {
    let rung = Arc::new(AtomicUsize::new(0));
    let ringing = Arc::clone(&rung);
    let mut worker = Worker::new(move || {
        ringing.fetch_add(1, Ordering::SeqCst);
        panic!("the bell is broken");
    })
    .unwrap();
    let mut got = Vec::new();
    let began = Instant::now();
    worker.submit(request(1, 1.0, stages(0)));
    while got.len() < 2 && began.elapsed() < PATIENCE {
        std::thread::sleep(Duration::from_millis(2));
        got.extend(worker.poll());
    }
    assert_eq!(kinds(&got), ["coarse", "fine"]);
    drop(worker);
    assert_eq!(rung.load(Ordering::SeqCst), 2);
}

#[test]
fn dropping_the_worker_calls_off_its_run_and_ends_its_thread() {
    let held = Arc::new(());
    let kept = Arc::clone(&held);
    let ensemble = Ensemble {
        simulator: stand_in::simulate,
        ..Ensemble::default()
    };
    let mut worker = Worker::with(ensemble, move || {
        // The closure lives as long as the thread that calls it.
        let _ = &kept;
    })
    .unwrap();
    worker.submit(request(1, ENDLESS_DAYS, stages(8)));
    std::thread::sleep(Duration::from_millis(20));
    let began = Instant::now();
    drop(worker);
    assert!(began.elapsed() < PATIENCE, "an endless run waits a minute");
    assert_eq!(Arc::strong_count(&held), 1, "the thread has ended");
}

#[test]
fn a_real_run_is_called_off_between_two_steps() {
    // A stop that is set beforehand ends a run of 1500 days at its first step.
    let mut heap = inputs(1500.0).heap;
    heap.days = 1500.0;
    let stop = std::sync::atomic::AtomicBool::new(true);
    let called_off =
        heapwright::heap::simulate(&GOOD.totals(), &[], &heap, &Resolution::fine(), &stop);
    assert_eq!(called_off.unwrap().ended, Ended::Cancelled { day: 0.0 });
}

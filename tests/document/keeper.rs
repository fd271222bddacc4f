//! Unsaved work is written on a clock of its own: soon, at most so often, and at the last moment.

use std::fs;
use std::path::PathBuf;
use std::sync::Arc;
use std::time::{Duration, Instant};

use heapwright::document::keeper::{Keeper, Pace, Work};
use heapwright::document::recovery::{Recovery, pending};
use heapwright::document::{Folders, file};

use crate::sample::{catalogue, folder, rich_project};

/// A pace that no test has time for: only what is asked for is written.
const NEVER: Pace = Pace {
    rest: Duration::from_secs(3600),
    longest: Duration::from_secs(3600),
};
/// A pace a test can wait for.
const QUICK: Pace = Pace {
    rest: Duration::from_millis(100),
    longest: Duration::from_millis(400),
};

fn work(title: &str) -> Work {
    let mut project = rich_project();
    project.title = title.to_owned();
    Work {
        project: Arc::new(project),
        original: None,
        stamp: None,
    }
}

fn keeper(folders: &Folders, pace: Pace) -> Keeper {
    Keeper::start(Recovery::start(folders).unwrap(), pace).unwrap()
}

/// The title in the kept file; `None` while there is none.
fn kept_title(path: &PathBuf) -> Option<String> {
    let text = fs::read_to_string(path).ok()?;
    let (_, rest) = text.split_once("title: \"")?;
    Some(rest.split_once('"')?.0.to_owned())
}

fn wait_for(path: &PathBuf, title: &str) -> Duration {
    let begun = Instant::now();
    while kept_title(path).as_deref() != Some(title) {
        assert!(
            begun.elapsed() < Duration::from_secs(20),
            "{title} never came"
        );
        std::thread::sleep(Duration::from_millis(5));
    }
    begun.elapsed()
}

#[test]
fn the_usual_pace_loses_at_most_seconds() {
    assert!(Pace::USUAL.rest <= Duration::from_secs(2));
    assert!(Pace::USUAL.longest <= Duration::from_secs(2));
}

#[test]
fn work_is_written_once_changes_rest() {
    let root = folder();
    let keeper = keeper(&Folders::under(root.path()), QUICK);
    let path = keeper.work_path();
    keeper.hand(work("First"));
    keeper.hand(work("Second"));
    assert!(!path.exists(), "handing over does not write");
    wait_for(&path, "Second");
}

#[test]
fn work_is_written_while_changes_follow_each_other() {
    let root = folder();
    let keeper = keeper(
        &Folders::under(root.path()),
        Pace {
            rest: Duration::from_secs(3600),
            longest: Duration::from_millis(200),
        },
    );
    let path = keeper.work_path();
    let begun = Instant::now();
    // Each change would put a rest off for an hour.
    while !path.exists() {
        keeper.hand(work("Busy"));
        assert!(begun.elapsed() < Duration::from_secs(20), "never written");
        std::thread::sleep(Duration::from_millis(10));
    }
    assert!(begun.elapsed() >= Duration::from_millis(200));
}

#[test]
fn a_rescue_writes_what_is_not_due_yet() {
    let root = folder();
    let folders = Folders::under(root.path());
    let keeper = keeper(&folders, NEVER);
    keeper.hand(work("In the last second"));
    let rescue = keeper.rescue();
    std::thread::spawn(move || rescue.run().unwrap())
        .join()
        .unwrap();
    assert_eq!(
        kept_title(&keeper.work_path()).unwrap(),
        "In the last second"
    );
    drop(keeper);
    assert_eq!(pending(&folders, catalogue()).leftovers.len(), 1);
}

#[test]
fn a_rescue_with_nothing_unsaved_leaves_nothing() {
    let root = folder();
    let folders = Folders::under(root.path());
    let keeper = keeper(&folders, NEVER);
    keeper.hand(work("Saved since"));
    keeper.forget().unwrap();
    keeper.rescue().run().unwrap();
    assert_eq!(fs::read_dir(&folders.data).unwrap().count(), 0);
    // What comes after the end is not written any more.
    assert!(keeper.keep_now(work("Too late")).is_ok());
    assert_eq!(fs::read_dir(&folders.data).unwrap().count(), 0);
}

#[test]
fn a_keeper_that_is_dropped_as_by_a_panic_writes_first() {
    let root = folder();
    let folders = Folders::under(root.path());
    let keeper = keeper(&folders, NEVER);
    keeper.hand(work("Out of the fire"));
    drop(keeper);
    let found = pending(&folders, catalogue());
    assert_eq!(found.leftovers[0].project.title, "Out of the fire");
}

#[test]
fn forgotten_work_is_gone_and_an_end_leaves_no_trace() {
    let root = folder();
    let folders = Folders::under(root.path());
    let keeper = keeper(&folders, QUICK);
    let path = keeper.work_path();
    keeper.keep_now(work("Kept")).unwrap();
    assert!(path.exists());
    keeper.hand(work("Not due yet"));
    keeper.forget().unwrap();
    std::thread::sleep(QUICK.longest * 2);
    assert!(!path.exists(), "forgotten work was written");
    keeper.finish().unwrap();
    assert_eq!(fs::read_dir(&folders.data).unwrap().count(), 0);
}

#[test]
fn name_and_stamp_of_the_file_come_back_with_the_work() {
    let root = folder();
    let folders = Folders::under(root.path());
    let original = root.path().join("mine.heap.ron");
    let stamp = file::write(&original, &rich_project(), None).unwrap();
    let keeper = keeper(&folders, NEVER);
    let mut work = work("Edited");
    work.original = Some(original.clone());
    work.stamp = Some(stamp.clone());
    keeper.hand(work);
    drop(keeper);
    let found = pending(&folders, catalogue());
    assert_eq!(found.leftovers[0].original, Some(original));
    assert_eq!(found.leftovers[0].stamp, Some(stamp));
}

#[test]
fn a_refusal_is_told_once_and_tried_again() {
    let root = folder();
    let folders = Folders::under(root.path());
    let keeper = keeper(&folders, QUICK);
    let path = keeper.work_path();
    // A folder in the place of the file refuses every writing.
    fs::create_dir(&path).unwrap();
    keeper.hand(work("Patient"));
    let begun = Instant::now();
    let problem = loop {
        if let Some(problem) = keeper.problem() {
            break problem;
        }
        assert!(
            begun.elapsed() < Duration::from_secs(20),
            "nothing was told"
        );
        std::thread::sleep(Duration::from_millis(5));
    };
    assert!(problem.to_string().contains("folder"), "{problem}");
    std::thread::sleep(QUICK.longest * 3);
    assert_eq!(keeper.problem(), None, "told twice");
    fs::remove_dir(&path).unwrap();
    wait_for(&path, "Patient");
}

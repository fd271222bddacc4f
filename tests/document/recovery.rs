//! Work that was not saved outlives the program, and is offered once to one program.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};

use heapwright::document::recovery::{Recovery, pending};
use heapwright::document::{Folders, Project, file};

use crate::sample::{catalogue, folder, rich_project};

fn named(title: &str) -> Project {
    let mut project = rich_project();
    project.title = title.to_owned();
    project
}

/// How many files lie in the data folder.
fn files_in(folders: &Folders) -> usize {
    fs::read_dir(&folders.data).unwrap().count()
}

#[test]
fn a_running_program_keeps_its_work_to_itself() {
    let root = folder();
    let folders = Folders::under(root.path());
    let running = Recovery::start(&folders).unwrap();
    running.keep(&named("Mine"), None, None).unwrap();
    let found = pending(&folders, catalogue());
    assert!(found.leftovers.is_empty() && found.problems.is_empty());
    assert!(running.work_path().is_file());
}

#[test]
fn after_a_crash_the_latest_work_comes_back_with_its_name_and_stamp() {
    let root = folder();
    let folders = Folders::under(root.path());
    let original = root.path().join("a folder/autumn ü.heap.ron");
    fs::create_dir(original.parent().unwrap()).unwrap();
    let stamp = file::write(&original, &named("Saved"), None).unwrap();
    let crashed = Recovery::start(&folders).unwrap();
    crashed
        .keep(&named("First"), Some(&original), Some(&stamp))
        .unwrap();
    crashed
        .keep(&named("Latest"), Some(&original), Some(&stamp))
        .unwrap();
    // Dropping gives the lock back and leaves the work, as the end of a process does.
    drop(crashed);

    let mut found = pending(&folders, catalogue());
    assert!(found.problems.is_empty());
    assert_eq!(found.leftovers.len(), 1);
    let leftover = found.leftovers.remove(0);
    assert_eq!(leftover.project, named("Latest"));
    assert_eq!(leftover.original.as_deref(), Some(original.as_path()));
    // Saving over the untouched original works; over a changed one it is refused.
    file::write(&original, &leftover.project, leftover.stamp.as_ref()).unwrap();
    assert!(file::write(&original, &leftover.project, leftover.stamp.as_ref()).is_err());

    // While one program looks at it, another is not offered it.
    assert!(pending(&folders, catalogue()).leftovers.is_empty());
    leftover.discard().unwrap();
    assert!(pending(&folders, catalogue()).leftovers.is_empty());
    assert_eq!(files_in(&folders), 0);
}

#[test]
fn work_not_taken_up_is_offered_again() {
    let root = folder();
    let folders = Folders::under(root.path());
    let crashed = Recovery::start(&folders).unwrap();
    crashed.keep(&named("Patient"), None, None).unwrap();
    drop(crashed);
    for _ in 0..2 {
        let found = pending(&folders, catalogue());
        assert_eq!(found.leftovers.len(), 1);
        assert_eq!(found.leftovers[0].original, None);
    }
}

#[test]
fn an_orderly_end_and_a_crash_without_unsaved_work_leave_nothing() {
    let root = folder();
    let folders = Folders::under(root.path());
    let orderly = Recovery::start(&folders).unwrap();
    orderly.keep(&named("Saved since"), None, None).unwrap();
    orderly.finish().unwrap();
    assert_eq!(files_in(&folders), 0);

    let saved = Recovery::start(&folders).unwrap();
    saved.keep(&named("Saved since"), None, None).unwrap();
    saved.clear().unwrap();
    saved.clear().unwrap();
    drop(saved);
    assert_eq!(files_in(&folders), 1, "only the lock is left");
    let found = pending(&folders, catalogue());
    assert!(found.leftovers.is_empty() && found.problems.is_empty());
    assert_eq!(files_in(&folders), 0);
}

#[test]
fn damaged_work_is_a_problem_stays_in_place_and_hides_no_other() {
    let root = folder();
    let folders = Folders::under(root.path());
    let good = Recovery::start(&folders).unwrap();
    good.keep(&named("Good"), None, None).unwrap();
    let bad = Recovery::start(&folders).unwrap();
    bad.keep(&named("Bad"), None, None).unwrap();
    let bad_path = bad.work_path();
    drop((good, bad));
    let text = fs::read_to_string(&bad_path).unwrap();
    fs::write(&bad_path, &text[..text.len() / 2]).unwrap();

    let found = pending(&folders, catalogue());
    assert_eq!(found.leftovers.len(), 1);
    assert_eq!(found.leftovers[0].project.title, "Good");
    assert_eq!(found.problems.len(), 1);
    assert!(found.problems[0].to_string().contains("ends too early"));
    assert!(bad_path.is_file());
}

#[test]
fn other_files_in_the_data_folder_are_left_alone() {
    let root = folder();
    let folders = Folders::under(root.path());
    fs::create_dir_all(&folders.data).unwrap();
    for name in ["notes.lock", "shopping.unsaved.ron", "work.txt"] {
        fs::write(folders.data.join(name), "mine").unwrap();
    }
    let found = pending(&folders, catalogue());
    assert!(found.leftovers.is_empty() && found.problems.is_empty());
    assert_eq!(files_in(&folders), 3);
    // And a data folder that does not exist holds nothing.
    let nowhere = Folders::under(&root.path().join("nowhere"));
    assert!(pending(&nowhere, catalogue()).problems.is_empty());
}

/// Names the root folder to the process that is to die.
const ROOT: &str = "HEAPWRIGHT_TEST_CRASH_ROOT";

/// A process is started that keeps work and aborts; this test is both processes.
#[test]
fn a_process_that_aborts_leaves_its_work_to_the_next() {
    if let Some(root) = std::env::var_os(ROOT) {
        let running = Recovery::start(&Folders::under(Path::new(&root))).unwrap();
        running.keep(&named("Out of the fire"), None, None).unwrap();
        std::process::abort();
    }
    let root = folder();
    let status = Command::new(std::env::current_exe().unwrap())
        .args([
            "--exact",
            "recovery::a_process_that_aborts_leaves_its_work_to_the_next",
        ])
        .env(ROOT, root.path())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .status()
        .unwrap();
    assert!(!status.success(), "the process was to die");
    let found = pending(&Folders::under(root.path()), catalogue());
    assert_eq!(found.leftovers.len(), 1, "{:?}", found.problems);
    assert_eq!(found.leftovers[0].project, named("Out of the fire"));
}

//! A save that is struck down leaves the old file or the new one, whole: by a kill at any moment, and, with
//! `.ci/save-endures`, by each refusal of the system at each of its calls.

use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::Duration;

use heapwright::document::{Project, file};

use crate::sample::{catalogue, folder, rich_project};

/// Names the file to the process that is to be struck.
const SAVES: &str = "HEAPWRIGHT_TEST_SAVES";
/// How long that process waits, ms, before it saves once; without it, it saves without end.
const ONCE: &str = "HEAPWRIGHT_TEST_SAVES_ONCE";
/// How many kills; `.ci/save-endures` asks for a thousand.
const KILLS: &str = "HEAPWRIGHT_TEST_KILLS";

/// One of two projects of different length: a mixture of them is neither.
fn version(number: usize) -> Project {
    let mut project = rich_project();
    project.title = ["Old", "New"][number % 2].to_owned();
    project.notes = ["old ", "new and longer "][number % 2].repeat(6000);
    project
}

/// What the struck process does: it saves over the file, once or again and again.
fn save(path: &Path) {
    let once = std::env::var(ONCE).ok();
    if let Some(wait) = &once {
        // Meanwhile strace takes hold of it, so that its counts begin with the save.
        std::thread::sleep(Duration::from_millis(wait.parse().unwrap()));
    }
    for number in 1.. {
        let saved = file::write(path, &version(number), None);
        if once.is_some() {
            // Under strace the system may have refused; that is an answer as well.
            std::process::exit(i32::from(saved.is_err()));
        }
        saved.unwrap();
    }
}

/// This test is both processes.
#[test]
fn a_save_killed_at_any_moment_leaves_a_whole_file() {
    if let Some(path) = std::env::var_os(SAVES) {
        return save(Path::new(&path));
    }
    let kills = std::env::var(KILLS).map_or(40, |text| text.parse::<u32>().unwrap());
    let folder = folder();
    let path = folder.path().join("struck.heap.ron");
    file::write(&path, &version(0), None).unwrap();
    let mut found = [0, 0];
    for kill in 0..kills {
        let mut struck = Command::new(std::env::current_exe().unwrap())
            .args([
                "--exact",
                "faults::a_save_killed_at_any_moment_leaves_a_whole_file",
            ])
            .env(SAVES, &path)
            .env_remove(ONCE)
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .unwrap();
        // Some are struck while they start, most within one of many saves.
        let micros = 15_000 + u64::from(kill) * 7_919 % 50_000;
        std::thread::sleep(Duration::from_micros(micros));
        struck.kill().unwrap();
        struck.wait().unwrap();
        let opened = file::read(&path, catalogue()).expect("neither old nor new");
        let which = usize::from(opened.project.title == "New");
        assert_eq!(opened.project, version(which), "a mixture, at kill {kill}");
        found[which] += 1;
    }
    assert_eq!(found.iter().sum::<u32>(), kills);
    assert!(found[1] > 0, "no process ever came to save");
    println!(
        "killed {kills} times: {} old, {} new, 0 lost",
        found[0], found[1]
    );
    // What the killed have left is told from files of a person.
    for entry in fs::read_dir(folder.path()).unwrap() {
        let name = entry.unwrap().file_name();
        let name = name.to_str().unwrap();
        let sibling = name.starts_with(".heapwright-") && name.ends_with(".tmp");
        assert!(sibling || name == "struck.heap.ron", "{name}");
    }
}

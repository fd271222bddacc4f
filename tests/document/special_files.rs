//! Pipes, devices and the like in the place of any file: refused at once, never waited for, never read without end.
#![cfg(unix)]

use std::fs;
use std::os::unix::fs::symlink;
use std::path::Path;
use std::process::Command;
use std::sync::mpsc::channel;
use std::time::Duration;

use heapwright::document::recovery::pending;
use heapwright::document::year::read_year;
use heapwright::document::{
    CLASS_LIMIT_BYTES, Folders, Settings, class_text, file, library, logger_bytes,
};

use crate::sample::{catalogue, folder, rich_project};

/// What nobody may be made to wait for, each under this path.
const SPECIAL: [&str; 4] = ["pipe", "/dev/zero", "/dev/tty", "folder"];

fn put(kind: &str, path: &Path) {
    match kind {
        "pipe" => {
            let made = Command::new("mkfifo").arg(path).status();
            assert!(made.unwrap().success());
        }
        "folder" => fs::create_dir(path).unwrap(),
        device => symlink(device, path).unwrap(),
    }
}

/// Fails instead of hanging.
fn at_once<T: Send + 'static>(what: &str, work: impl FnOnce() -> T + Send + 'static) -> T {
    let (done, answer) = channel();
    std::thread::spawn(move || {
        let _ = done.send(work());
    });
    answer
        .recv_timeout(Duration::from_secs(10))
        .unwrap_or_else(|_| panic!("{what} was waited for"))
}

#[test]
fn every_reader_refuses_what_is_no_ordinary_file() {
    for kind in SPECIAL {
        let root = folder();
        let path = root.path().join("given");
        put(kind, &path);
        let given = path.clone();
        let said = at_once(kind, move || {
            [
                file::read(&given, catalogue()).unwrap_err().to_string(),
                class_text(&given).unwrap_err().to_string(),
                logger_bytes(&given).unwrap_err().to_string(),
                read_year(&given, catalogue()).unwrap_err().to_string(),
                file::write(&given, &rich_project(), None)
                    .unwrap_err()
                    .to_string(),
            ]
        });
        for said in said {
            assert!(
                said.ends_with("given") || said.ends_with(kind),
                "{kind}: {said}"
            );
            assert!(
                said.contains("choose") || said.contains("put the"),
                "{kind}: {said}"
            );
            assert_eq!(said.lines().count(), 1);
        }
    }
}

#[test]
fn lists_of_files_pass_by_what_is_none_and_say_so() {
    for kind in SPECIAL {
        let root = folder();
        let folders = Folders::under(root.path());
        fs::create_dir_all(folders.materials()).unwrap();
        fs::create_dir_all(&folders.config).unwrap();
        fs::create_dir_all(&folders.data).unwrap();
        put(kind, &folders.recipes.join("a.heap.ron"));
        put(kind, &folders.materials().join("a.material.ron"));
        put(kind, &folders.config.join("settings.ron"));
        put(kind, &folders.data.join("work-x.unsaved.ron"));
        at_once(kind, move || {
            assert_eq!(library::list(&folders).problems.len(), 1);
            assert_eq!(library::materials(&folders).problems.len(), 1);
            assert!(Settings::load(&folders).problem.is_some());
            assert_eq!(pending(&folders, catalogue()).problems.len(), 1);
        });
    }
}

#[test]
fn a_pipe_in_the_place_of_a_lock_is_not_waited_for() {
    let root = folder();
    let folders = Folders::under(root.path());
    fs::create_dir_all(&folders.data).unwrap();
    fs::create_dir_all(&folders.config).unwrap();
    put("pipe", &folders.data.join("work-x.lock"));
    put("pipe", &folders.config.join("settings.lock"));
    at_once("a lock", move || {
        assert!(pending(&folders, catalogue()).leftovers.is_empty());
        let settings = Settings {
            less_motion: true,
            ..Settings::default()
        };
        settings
            .save_changes(&Settings::default(), &folders)
            .unwrap();
        assert!(Settings::load(&folders).settings.less_motion);
    });
}

#[test]
fn files_of_a_class_have_an_end_and_are_text() {
    let root = folder();
    let path = root.path().join("trials.ron");
    let file = fs::File::create(&path).unwrap();
    file.set_len(CLASS_LIMIT_BYTES + 1).unwrap();
    let said = class_text(&path).unwrap_err().to_string();
    assert!(
        said.contains("201 kB") && said.contains("several files"),
        "{said}"
    );
    fs::write(&path, b"[(id: \xff)]").unwrap();
    let said = class_text(&path).unwrap_err().to_string();
    assert!(said.starts_with("byte 7 is not text"), "{said}");
    fs::write(&path, " \n").unwrap();
    let said = class_text(&path).unwrap_err().to_string();
    assert!(
        said.contains("empty") && said.ends_with("trials.ron"),
        "{said}"
    );
    fs::write(&path, "\u{feff}[]").unwrap();
    assert_eq!(class_text(&path).unwrap(), "[]");
}

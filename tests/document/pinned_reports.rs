//! The report of every demo project and of six plain mixes, pinned: a change of a number, a word or a count of steps is made on purpose.
//!
//! `UPDATE_REPORTS=1 cargo test --test document pinned_reports` writes them anew; what changed then stands in the
//! diff of `tests/reports/`, to be explained with the change.

use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::atomic::AtomicBool;

use heapwright::assess::Assessed;
use heapwright::document::file;
use heapwright::heap::Resolution;

use crate::sample::catalogue;

/// The lines in which two texts differ, as "was" and "is".
fn differences(was: &str, is: &str) -> String {
    let (was, is): (Vec<&str>, Vec<&str>) = (was.lines().collect(), is.lines().collect());
    let mut out = String::new();
    for line in 0..was.len().max(is.len()) {
        let (old, new) = (was.get(line), is.get(line));
        if old != new {
            let number = line + 1;
            let (old, new) = (old.unwrap_or(&""), new.unwrap_or(&""));
            let _ = write!(out, "\nline {number}\n  was {old}\n  is  {new}");
        }
    }
    out
}

/// What `assess` prints of a file, and how many steps its runs take.
fn report_of(path: &Path) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_heapwright"))
        .arg("assess")
        .arg(path)
        .output()
        .unwrap();
    assert!(output.status.success(), "{}", path.display());
    let report = String::from_utf8(output.stdout).unwrap();
    format!("{report}\n{}\n", steps_of(path))
}

/// How many steps the fine and the coarse run take: what a change of the numerics costs.
fn steps_of(path: &Path) -> String {
    let project = file::read(path, catalogue()).unwrap().project;
    let assessed = Assessed::of(&project, catalogue()).unwrap();
    let coarse = assessed
        .inputs
        .simulate(&Resolution::coarse(), &AtomicBool::new(false))
        .unwrap();
    let fine = assessed.projection.unwrap();
    format!("Steps: fine {}, coarse {}", fine.steps, coarse.steps)
}

/// The recipes in a folder, by name.
fn recipes_in(folder: &Path) -> Vec<PathBuf> {
    let mut recipes: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.to_string_lossy().ends_with(".heap.ron"))
        .collect();
    recipes.sort();
    recipes
}

#[test]
fn the_reports_of_the_demos_are_as_pinned() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    // Five demos, and six plain mixes whose reports are read line by line.
    let mut demos = recipes_in(&root.join("demo-data"));
    demos.extend(recipes_in(&root.join("tests/mixes")));
    assert_eq!(demos.len(), 5 + 6);
    let mut changed = String::new();
    for demo in demos {
        let name = demo.file_name().unwrap().to_string_lossy().into_owned();
        let pinned = root
            .join("tests/reports")
            .join(name.replace(".heap.ron", ".txt"));
        let is = report_of(&demo);
        if std::env::var_os("UPDATE_REPORTS").is_some() {
            fs::write(&pinned, &is).unwrap();
            continue;
        }
        let was = fs::read_to_string(&pinned).unwrap();
        if was != is {
            let _ = write!(changed, "\n{name}{}", differences(&was, &is));
        }
    }
    assert!(
        changed.is_empty(),
        "reports differ from tests/reports; UPDATE_REPORTS=1 takes them over:{changed}"
    );
}

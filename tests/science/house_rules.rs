//! The import table, held: which folder may know which, and no cycles of files inside a folder.
//!
//! The same table stands in `src/lib.rs` and DEVELOPERS.md.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};

/// Who may import whom.
const ALLOWED: [(&str, &[&str]); 14] = [
    ("quantity", &[]),
    ("garden", &[]),
    ("material", &["quantity"]),
    ("diary", &["quantity"]),
    ("mix", &["material", "quantity"]),
    ("heap", &["mix", "material", "quantity"]),
    (
        "outcome",
        &["garden", "diary", "heap", "mix", "material", "quantity"],
    ),
    (
        "forecast",
        &["outcome", "diary", "heap", "mix", "material", "quantity"],
    ),
    (
        "document",
        &["garden", "diary", "heap", "mix", "material", "quantity"],
    ),
    (
        "assess",
        &[
            "forecast", "outcome", "document", "garden", "heap", "mix", "material", "quantity",
        ],
    ),
    (
        "text",
        &[
            "assess", "forecast", "outcome", "document", "garden", "heap", "mix", "material",
            "quantity",
        ],
    ),
    (
        "export",
        &[
            "text", "assess", "document", "forecast", "outcome", "garden", "diary", "heap", "mix",
            "material", "quantity",
        ],
    ),
    (
        "command",
        &[
            "export", "text", "assess", "document", "forecast", "outcome", "garden", "diary",
            "heap", "mix", "material", "quantity",
        ],
    ),
    (
        "window",
        &[
            "export", "text", "assess", "document", "forecast", "outcome", "garden", "diary",
            "heap", "mix", "material", "quantity",
        ],
    ),
];
/// Crates that only the window may name.
const WINDOW_CRATES: [&str; 5] = ["eframe", "egui", "egui_plot", "rfd", "winit"];

fn sources() -> Vec<(PathBuf, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    let mut folders = vec![root.clone()];
    while let Some(folder) = folders.pop() {
        for entry in std::fs::read_dir(folder).unwrap() {
            let path = entry.unwrap().path();
            if path.is_dir() {
                folders.push(path);
            } else if path.extension().is_some_and(|ending| ending == "rs") {
                let text = std::fs::read_to_string(&path).unwrap();
                files.push((path.strip_prefix(&root).unwrap().to_owned(), text));
            }
        }
    }
    assert!(files.len() > 15, "the sources were not found");
    files
}

/// Lines of code: no comments.
fn code(text: &str) -> impl Iterator<Item = &str> {
    text.lines()
        .filter(|line| !line.trim_start().starts_with("//"))
}

fn folder_of(path: &Path) -> String {
    let first = path
        .components()
        .next()
        .unwrap()
        .as_os_str()
        .to_string_lossy();
    first.trim_end_matches(".rs").to_owned()
}

#[test]
fn folders_import_only_what_the_table_allows() {
    let table: BTreeMap<&str, &[&str]> = ALLOWED.into_iter().collect();
    for (path, text) in sources() {
        let folder = folder_of(&path);
        if folder == "lib" || folder == "main" {
            continue;
        }
        let allowed = table
            .get(folder.as_str())
            .unwrap_or_else(|| panic!("{folder} is not in the table"));
        for line in code(&text) {
            for other in table.keys().filter(|other| **other != folder) {
                if line.contains(&format!("crate::{other}")) {
                    assert!(
                        allowed.contains(other),
                        "{}: {folder} must not import {other}: {line}",
                        path.display()
                    );
                }
            }
            assert!(
                !line.contains("crate::{"),
                "{}: name one folder per import: {line}",
                path.display()
            );
        }
    }
}

#[test]
fn only_the_window_names_window_crates() {
    for (path, text) in sources() {
        if folder_of(&path) == "window" {
            continue;
        }
        for line in code(&text) {
            for name in WINDOW_CRATES {
                assert!(
                    !line.contains(&format!("{name}::")),
                    "{}: {line}",
                    path.display()
                );
            }
        }
    }
}

#[test]
fn files_of_a_folder_form_no_cycle() {
    let mut graph: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    let files = sources();
    for (path, text) in &files {
        let folder = folder_of(path);
        let name = path.file_stem().unwrap().to_string_lossy().into_owned();
        if path.components().count() < 2 || name == "mod" {
            continue;
        }
        let siblings = files.iter().filter_map(|(other, _)| {
            let stem = other.file_stem().unwrap().to_string_lossy().into_owned();
            (folder_of(other) == folder && stem != name && stem != "mod").then_some(stem)
        });
        for sibling in siblings {
            let named = [
                format!("super::{sibling}"),
                format!("crate::{folder}::{sibling}"),
            ];
            if code(text).any(|line| named.iter().any(|path| line.contains(path.as_str()))) {
                graph
                    .entry(format!("{folder}/{name}"))
                    .or_default()
                    .insert(format!("{folder}/{sibling}"));
            }
        }
    }
    for start in graph.keys() {
        let mut seen = BTreeSet::new();
        let mut open: Vec<&String> = graph[start].iter().collect();
        while let Some(next) = open.pop() {
            assert!(next != start, "{start} is part of a cycle through {seen:?}");
            if seen.insert(next.clone()) {
                open.extend(graph.get(next).into_iter().flatten());
            }
        }
    }
}

#[test]
fn every_module_opens_with_its_four_part_header() {
    for (path, text) in sources() {
        if folder_of(&path) == "main" || folder_of(&path) == "lib" {
            continue;
        }
        let header: Vec<&str> = text
            .lines()
            .take_while(|line| line.starts_with("//!"))
            .collect();
        let whole = header.join("\n");
        assert!(
            whole.contains("In:") && whole.contains("Tested by:"),
            "{} lacks a full header",
            path.display()
        );
    }
}

//! The table of all tuned constants, made from the comments that stand over them.
//!
//! A constant, field or function whose comment says "tuned" has a row: its name, its value, its file, and the
//! comment with unit, reason and range. `UPDATE_REPORTS=1 cargo test --test science tuned_constants` writes
//! `tests/reports/tuned-constants.md` anew.

use std::fmt::Write as _;
use std::path::{Path, PathBuf};

struct Tuned {
    name: String,
    value: String,
    file: String,
    comment: String,
}

fn files_below(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files_below(&path, found);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            found.push(path);
        }
    }
}

fn says_tuned(comment: &str) -> bool {
    comment
        .split(|letter: char| !letter.is_alphanumeric())
        .any(|word| word.eq_ignore_ascii_case("tuned"))
}

/// The name and the value of what a line declares.
fn declared(line: &str, rest: &str) -> Option<(String, String)> {
    let mut words = line
        .trim_start()
        .split(|letter: char| !(letter.is_alphanumeric() || letter == '_'))
        .filter(|word| !word.is_empty() && !["pub", "super", "crate", "in", "heap"].contains(word));
    let first = words.next()?;
    if first == "const" {
        let value = rest.split('=').nth(1)?.split(';').next()?;
        let value = value.split_whitespace().collect::<Vec<_>>().join(" ");
        return Some((words.next()?.to_owned(), value));
    }
    if first == "fn" {
        return Some((format!("{}()", words.next()?), "in the function".to_owned()));
    }
    (!["struct", "impl", "enum"].contains(&first))
        .then(|| (first.to_owned(), "in the comment".to_owned()))
}

fn tuned_in(file: &str, text: &str) -> Vec<Tuned> {
    let lines: Vec<&str> = text.lines().collect();
    let mut found = Vec::new();
    let mut comment = String::new();
    for (number, line) in lines.iter().enumerate() {
        let line = line.trim();
        if let Some(more) = line.strip_prefix("/// ") {
            let _ = write!(
                comment,
                "{}{more}",
                if comment.is_empty() { "" } else { " " }
            );
        } else if !line.starts_with("#[") && !line.starts_with("///") {
            if says_tuned(&comment)
                && let Some((name, value)) = declared(line, &lines[number..].join(" "))
            {
                let value = comment
                    .split("Default ")
                    .nth(1)
                    .and_then(|rest| rest.split(" (").next())
                    .map_or(value, str::to_owned);
                found.push(Tuned {
                    name,
                    value,
                    file: file.to_owned(),
                    comment: comment.clone(),
                });
            }
            comment.clear();
        }
    }
    found
}

#[test]
fn every_tuned_constant_stands_in_the_table() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut files = Vec::new();
    files_below(&root.join("src"), &mut files);
    files.sort();
    let mut table = "# Tuned constants\n\nValues chosen inside a published range, or so that a published behaviour is met; \
        everything else has a source beside it. Made by `tests/science/tuned_constants.rs` from the comments in the code.\n\n\
        | constant | value | file | what, unit, what it was tuned by |\n|---|---|---|---|\n"
        .to_owned();
    let mut rows = 0;
    for path in files {
        let file = path
            .strip_prefix(root)
            .unwrap()
            .to_string_lossy()
            .into_owned();
        let text = std::fs::read_to_string(&path).unwrap();
        for tuned in tuned_in(&file, &text) {
            let Tuned {
                name,
                value,
                file,
                comment,
            } = tuned;
            let _ = writeln!(table, "| `{name}` | {value} | `{file}` | {comment} |");
            rows += 1;
        }
    }
    assert!(rows > 40, "only {rows} tuned constants were found");
    let pinned = root.join("tests/reports/tuned-constants.md");
    if std::env::var_os("UPDATE_REPORTS").is_some() {
        std::fs::write(&pinned, &table).unwrap();
    }
    let was = std::fs::read_to_string(&pinned).unwrap();
    assert!(
        was == table,
        "the tuned constants differ from tests/reports/tuned-constants.md; \
         UPDATE_REPORTS=1 writes them anew"
    );
}

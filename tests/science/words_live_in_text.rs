//! No sentence is built below `text`: the rooms from quantity to assess hold no string literal with a space. Nor in
//! `export`, which arranges what `text` says: its literals with a space hold no word beside their placeholders.
//!
//! In: the sources. Out: file and line of each literal that should be in `src/text`.
//!
//! Left out on purpose: comments, attributes (serde, lints, thiserror's messages), files named `error.rs`, and the
//! exceptions below. An error's message stands in its room, so that no room needs `text`.
//!
//! Not here: what the words are (`words`).
//!
//! Tested by: itself (`literals_are_found`).

use std::path::{Path, PathBuf};

/// The rooms below `text`.
const ROOMS: [&str; 11] = [
    "quantity", "garden", "diary", "material", "mix", "year", "heap", "outcome", "forecast",
    "document", "assess",
];

/// What may stand there all the same: path under `src`, what the line holds (empty: any line), and why.
const EXCEPTIONS: [(&str, &str, &str); 19] = [
    ("year/check.rs", "", "place of a number in a year's error"),
    ("document/year.rs", "", "place and remedy of a file's error"),
    (
        "quantity/bound.rs",
        "name: \"",
        "what a bound is called in its error",
    ),
    (
        "material/condition.rs",
        "name: \"",
        "what a bound is called in its error",
    ),
    (
        "material/catalogue.rs",
        "",
        "field, finding and remedy of a catalogue's error",
    ),
    (
        "material/mod.rs",
        "\"bulk density\"",
        "name of a field in tables and in a catalogue's error",
    ),
    (
        "document/check.rs",
        "",
        "place and remedy of a file's error",
    ),
    (
        "diary/check.rs",
        "",
        "what there is too much of, in a diary's error",
    ),
    (
        "diary/temperatures.rs",
        "",
        "what a line of a file lacks, in the parser's error",
    ),
    (
        "diary/import/number.rs",
        "(\"deg ",
        "a unit as loggers write it",
    ),
    (
        "diary/import/probes.rs",
        "{key} ({})",
        "a heading of a logger's file that comes twice",
    ),
    (
        "diary/import/moment_columns.rs",
        "\"{} {}\"",
        "date and time of a logger's file as it has them",
    ),
    (
        "diary/import/table.rs",
        "{name} {unit}",
        "two rows of headings of a logger's file in one",
    ),
    (
        "document/parse.rs",
        "",
        "the parser's findings, of a file's error",
    ),
    (
        "document/library.rs",
        "line(\"the ",
        "place of a file's error",
    ),
    (
        "document/folders.rs",
        "RECIPES",
        "name of a folder on the disk",
    ),
    (
        "assess/trial/case.rs",
        "\"the ",
        "what a number is called in a trial's error",
    ),
    (
        "forecast/worker.rs",
        "thread_name",
        "name of a thread, for the system's tools",
    ),
    (
        "forecast/worker.rs",
        "",
        "message of a projection that failed",
    ),
];

/// The room that arranges words, and what may stand there: as in [`EXCEPTIONS`].
const ARRANGING: &str = "export";
const ARRANGING_EXCEPTIONS: [(&str, &str, &str); 0] = [];

/// Whether a literal holds a letter outside its placeholders: "{name:<15} {value}" does not.
fn has_word(literal: &str) -> bool {
    let mut depth = 0;
    let mut escaped = false;
    literal.chars().any(|letter| {
        match letter {
            '{' => depth += 1,
            '}' => depth -= 1,
            _ => {}
        }
        // The letter of "\n" is no word.
        let counts = depth == 0 && !escaped && letter.is_alphabetic();
        escaped = letter == '\\' && !escaped;
        counts
    })
}

/// Source without comments, attributes and character literals, each with as many line breaks as before; string
/// literals stay.
fn bare(source: &str) -> String {
    let letters: Vec<char> = source.chars().collect();
    let mut out = String::with_capacity(source.len());
    let mut at = 0;
    while at < letters.len() {
        let rest = &letters[at..];
        let length = if rest.starts_with(&['/', '/']) {
            rest.iter().position(|c| *c == '\n').unwrap_or(rest.len())
        } else if rest.starts_with(&['#', '[']) || rest.starts_with(&['#', '!', '[']) {
            attribute_length(rest)
        } else if rest[0] == '"' {
            let length = string_length(rest);
            out.extend(&rest[..length]);
            at += length;
            continue;
        } else if let Some(length) = char_length(rest) {
            length
        } else {
            out.push(rest[0]);
            at += 1;
            continue;
        };
        out.extend(rest[..length].iter().filter(|c| **c == '\n'));
        at += length;
    }
    out
}

/// Length of the string literal that begins here, quotes included.
fn string_length(letters: &[char]) -> usize {
    let mut at = 1;
    while at < letters.len() && letters[at] != '"' {
        at += if letters[at] == '\\' { 2 } else { 1 };
    }
    (at + 1).min(letters.len())
}

/// Length of the character literal that begins here; `None` for a lifetime or anything else.
fn char_length(letters: &[char]) -> Option<usize> {
    match letters {
        ['\'', '\\', ..] => Some(3 + letters[3..].iter().position(|c| *c == '\'')?),
        ['\'', _, '\'', ..] => Some(3),
        _ => None,
    }
}

/// Length of the attribute that begins here, brackets in its strings not counted.
fn attribute_length(letters: &[char]) -> usize {
    let (mut at, mut depth) = (0, 0);
    while at < letters.len() {
        match letters[at] {
            '"' => at += string_length(&letters[at..]) - 1,
            '[' => depth += 1,
            ']' if depth == 1 => return at + 1,
            ']' => depth -= 1,
            _ => {}
        }
        at += 1;
    }
    at
}

/// Every string literal with a space between two words, and the line it begins on, from 1.
fn literals(source: &str) -> Vec<(usize, String)> {
    let bare: Vec<char> = bare(source).chars().collect();
    let mut found = Vec::new();
    let (mut at, mut line) = (0, 1);
    while at < bare.len() {
        match bare[at] {
            '\n' => line += 1,
            '"' => {
                let length = string_length(&bare[at..]);
                let text: String = bare[at + 1..at + length - 1].iter().collect();
                if text.trim().contains(' ') {
                    found.push((line, text));
                }
                line += bare[at..at + length].iter().filter(|c| **c == '\n').count();
                at += length;
                continue;
            }
            _ => {}
        }
        at += 1;
    }
    found
}

fn files_of(folder: &Path, files: &mut Vec<PathBuf>) {
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            files_of(&path, files);
        } else if path.extension().is_some_and(|ending| ending == "rs") {
            files.push(path);
        }
    }
}

#[test]
fn literals_are_found() {
    let source = "// \"a comment\"\n#[error(\"an [error] text\")]\nfn f<'a>() { g('\"', \"two words\", \"one\"); }\nlet x = \"a\n b\";";
    assert_eq!(
        literals(source),
        [(3, "two words".to_owned()), (4, "a\n b".to_owned())]
    );
}

#[test]
fn layouts_are_told_from_words() {
    assert!(!has_word("  {name:<15} {value:<12} {}\\n{}"));
    assert!(has_word("  {}: from {}"));
    assert!(has_word("The mix"));
}

/// Literals that should be in `src/text`, and whether each exception was needed.
fn misplaced(
    rooms: &[&str],
    exceptions: &[(&str, &str, &str)],
    counts: impl Fn(&str) -> bool,
) -> (Vec<String>, Vec<bool>) {
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut wrong = Vec::new();
    let mut used = vec![false; exceptions.len()];
    for room in rooms {
        let mut files = Vec::new();
        files_of(&src.join(room), &mut files);
        assert!(!files.is_empty(), "the sources of {room} were not found");
        for file in files {
            let path = file.strip_prefix(&src).unwrap().to_string_lossy();
            let path = path.replace('\\', "/");
            if path.ends_with("/error.rs") {
                continue;
            }
            let source = std::fs::read_to_string(&file).unwrap();
            let lines: Vec<&str> = source.lines().collect();
            for (line, text) in literals(&source) {
                if !counts(&text) {
                    continue;
                }
                let excepted = exceptions
                    .iter()
                    .position(|(of, holds, _)| *of == path && lines[line - 1].contains(holds));
                match excepted {
                    Some(place) => used[place] = true,
                    None => wrong.push(format!("src/{path}:{line}: \"{text}\"")),
                }
            }
        }
    }
    (wrong, used)
}

fn assert_in_place(
    rooms: &[&str],
    exceptions: &[(&str, &str, &str)],
    counts: impl Fn(&str) -> bool,
) {
    let (wrong, used) = misplaced(rooms, exceptions, counts);
    assert!(
        wrong.is_empty(),
        "words outside text:\n{}",
        wrong.join("\n")
    );
    for ((path, holds, why), used) in exceptions.iter().zip(used) {
        assert!(used, "nothing needs the exception {path} {holds:?} ({why})");
    }
}

#[test]
fn no_sentence_is_built_below_text() {
    assert_in_place(&ROOMS, &EXCEPTIONS, |_| true);
}

#[test]
fn no_sentence_is_built_where_words_are_arranged() {
    assert_in_place(&[ARRANGING], &ARRANGING_EXCEPTIONS, has_word);
}

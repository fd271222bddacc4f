//! A year's file and the command that plans it.

use std::fs;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};

use heapwright::document::year::{NEWEST_YEAR_FORMAT, YearFile, read_year, write_year};
use heapwright::material::Catalogue;
use heapwright::mix::bands;
use heapwright::year::{Keeps, Wish};
use serde_json::Value;

use crate::sample::{catalogue, folder, material};

fn demo() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/withybed-year.year.ron")
}

fn withybed() -> YearFile {
    read_year(&demo(), catalogue()).unwrap().0
}

fn run(arguments: &[&str]) -> Output {
    Command::new(env!("CARGO_BIN_EXE_heapwright"))
        .env_remove("DISPLAY")
        .env_remove("WAYLAND_DISPLAY")
        .args(arguments)
        .output()
        .unwrap()
}

fn good(arguments: &[&str]) -> String {
    let output = run(arguments);
    let complaints = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(0), "{complaints}");
    assert_eq!(complaints, "");
    String::from_utf8(output.stdout).unwrap()
}

fn bad(arguments: &[&str]) -> String {
    let output = run(arguments);
    assert_eq!(output.status.code(), Some(2));
    assert!(output.stdout.is_empty(), "half an answer was printed");
    let complaints = String::from_utf8(output.stderr).unwrap();
    assert_eq!(complaints.lines().count(), 1, "{complaints}");
    complaints
}

/// Writes a year into a folder and gives its path as text.
fn put(folder: &Path, year: &YearFile) -> String {
    let path = folder.join("given.year.ron");
    write_year(&path, year).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn a_year_comes_back_as_it_was_saved() {
    let folder = folder();
    let mut file = withybed();
    file.own_materials = vec![material("own_nettles", 0.7, 0.4, 0.03)];
    file.year.arrivals[0].keeps = Some(Keeps::Days(9.5));
    file.year.bays[1].free_from = Some(2);
    file.year.wishes = vec![
        Wish::Build {
            bay: "Bay 1".to_owned(),
            month: 4,
        },
        Wish::NoneSpoils {
            material: "coffee_grounds".to_owned(),
        },
    ];
    let path = put(folder.path(), &file);
    let (back, with_own) = read_year(Path::new(&path), catalogue()).unwrap();
    assert_eq!(back, file);
    assert!(with_own.find("own_nettles").is_some());
    let text = fs::read_to_string(&path).unwrap();
    assert!(text.starts_with("(\n    format: 1,"), "{text}");
}

#[test]
fn what_cannot_be_a_year_is_refused_with_its_place() {
    let folder = folder();
    let path = folder.path().join("given.year.ron");
    let whole = fs::read_to_string(demo()).unwrap();
    let refused = |text: &str, words: &[&str]| {
        fs::write(&path, text).unwrap();
        let said = bad(&["year", path.to_str().unwrap()]);
        for word in words.iter().chain(&["given.year.ron"]) {
            assert!(said.contains(word), "{said} lacks {word}");
        }
    };
    let newer = format!("format: {}", NEWEST_YEAR_FORMAT + 1);
    refused(&whole.replace("format: 1", &newer), &["format", "2"]);
    refused(
        &whole.replace("storage_m3: 5.0", "storage_m3: NaN"),
        &["store", "NaN"],
    );
    refused(
        &whole.replace("(0, 0, 2, 10,", "(0, 0, 2, -10,"),
        &["grass_fresh", "month 4", "-10"],
    );
    refused(
        &whole.replace("\"grass_fresh\"", "\"gras_fresh\""),
        &["gras_fresh", "nearest"],
    );
    refused(
        &whole.replace("room_m3: 0.3", "room_m3: 0.0"),
        &["Kitchen bin", "volume"],
    );
    refused(&whole.replace("Bay 2", "Bay 1"), &["Bay 1", "twice"]);
    refused(
        &whole.replace("first_month: 10", "first_month: 0"),
        &["first month"],
    );
    refused(
        &whole.replace("storage_m3", "storage"),
        &["line", "storage"],
    );
    refused(&whole[..whole.len() / 2], &["ends too early"]);
    refused("", &["empty", "year"]);
    refused("hello", &["line 1", "a year", "hello"]);
    let said = bad(&[
        "year",
        folder.path().join("none.year.ron").to_str().unwrap(),
    ]);
    assert!(said.contains("none.year.ron"), "{said}");
}

#[test]
fn the_withybed_year_is_planned_in_words_and_in_json() {
    let demo = demo();
    let demo = demo.to_str().unwrap();
    let text = good(&["year", demo]);
    let value: Value = serde_json::from_str(&good(&["year", demo, "--json"])).unwrap();
    assert_eq!(value["schema"], 1);
    assert_eq!(value["first_month"], 10);
    assert!(text.starts_with("A year at Withybed\n"), "{text}");
    let heaps = value["heaps"].as_array().unwrap();
    assert!(heaps.len() >= 6, "{text}");
    for heap in heaps {
        let number = |key: &str| heap[key].as_f64().unwrap();
        let inside =
            |value: f64, (low, high): (f64, f64)| value >= low - 1e-6 && value <= high + 1e-6;
        assert!(
            inside(number("carbon_to_nitrogen"), bands::CN.best),
            "{heap}"
        );
        assert!(
            inside(number("moisture_wet_basis"), bands::MOISTURE.best),
            "{heap}"
        );
        let bay = heap["bay"].as_str().unwrap();
        // Months are 4.35 weeks. The bin: 12 weeks to fill are 2.8, all 24 are 5.5; the bays: 17 weeks are 3.9, of
        // which the last 6, in which it cures, are 1.4. Each begun month counts whole.
        let (filled, cures, free) = match bay {
            "Kitchen bin" => (2, 6, 6),
            _ => (0, 2, 4),
        };
        let after = |months: u64| (heap["month"].as_u64().unwrap() - 1 + months) % 12 + 1;
        assert_eq!(heap["filled_until_month"], after(filled), "{heap}");
        assert_eq!(heap["cures_from_month"], after(cures), "{heap}");
        assert_eq!(heap["free_from_month"], after(free), "{heap}");
        assert_eq!(heap["free_after_months"], free, "{heap}");
        let line = format!(
            "  {bay}: C:N {:.1}, moisture {:.0} %",
            number("carbon_to_nitrogen"),
            100.0 * number("moisture_wet_basis")
        );
        assert!(text.contains(&line), "{line} is not in {text}");
        assert!(!heap["ingredients"].as_array().unwrap().is_empty());
    }
    for row in value["arrivals"].as_array().unwrap() {
        let sum = |key: &str| {
            row[key]
                .as_array()
                .unwrap()
                .iter()
                .map(|it| it.as_f64().unwrap())
                .sum::<f64>()
        };
        let gone = sum("used") + sum("spoiled") + row["left"].as_f64().unwrap();
        assert!(
            (sum("arrived") - gone).abs() <= 1e-9 * sum("arrived"),
            "{row}"
        );
        assert!(text.contains(row["name"].as_str().unwrap()));
    }
    assert!(text.contains("local rules come first"));
    // How long it took is nobody's business on standard output, and asked for only.
    let timed = run(&["year", demo, "--time"]);
    assert_eq!(String::from_utf8(timed.stdout).unwrap(), text);
    assert!(String::from_utf8(timed.stderr).unwrap().contains(" s\n"));
}

#[test]
fn wishes_that_cannot_be_met_are_said_in_words() {
    let folder = folder();
    let mut file = withybed();
    file.year.wishes = vec![
        Wish::Build {
            bay: "Bay 1".to_owned(),
            month: 5,
        },
        Wish::Empty {
            bay: "Bay 1".to_owned(),
            month: 6,
        },
        Wish::Build {
            bay: "Bay 3".to_owned(),
            month: 4,
        },
    ];
    let path = put(folder.path(), &file);
    let said = bad(&["year", &path]);
    assert!(
        said.contains("wish 1 (a heap begun in Bay 1 in May)"),
        "{said}"
    );
    assert!(said.contains("wish 2 (Bay 1 empty in June)"), "{said}");
    assert!(!said.contains("Bay 3"), "{said}");
}

#[test]
fn saving_refuses_what_opening_would_refuse() {
    let folder = folder();
    let path = folder.path().join("given.year.ron");
    let mut file = withybed();
    write_year(&path, &file).unwrap();
    let before = fs::read(&path).unwrap();
    file.year.storage_m3 = f64::NAN;
    assert!(write_year(&path, &file).is_err());
    assert_eq!(fs::read(&path).unwrap(), before);
    let read = read_year(&path, &Catalogue::default());
    assert!(read.unwrap_err().to_string().contains("arrival 1"));
}

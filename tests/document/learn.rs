//! Learning as a command, in words and as JSON, from the diary of a demo of the Withybed School Garden.

use std::path::Path;
use std::process::Command;

use heapwright::assess::{Assessed, Learning};
use heapwright::diary::{Diary, Reading, Spot};
use heapwright::document::{Project, file};
use jiff::civil::date;
use serde_json::Value;

use crate::sample::{catalogue, folder};

/// The summer heap, as it was measured: cooler than expected.
fn measured() -> Project {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/withybed-summer-hot.heap.ron");
    let mut project = file::read(&path, catalogue()).unwrap().project;
    let mut diary = Diary {
        built: Some(date(2025, 6, 2).at(16, 0, 0, 0)),
        ..Diary::default()
    };
    for (day, temperature_c) in [
        (1.5, 38.0),
        (3.5, 50.0),
        (5.5, 53.0),
        (8.5, 50.0),
        (-2.0, 20.0),
    ] {
        let at = diary.moment_of(day).unwrap();
        diary
            .readings
            .push(Reading::temperature(at, Spot::CENTRE, temperature_c));
    }
    project.diary = diary;
    project
}

fn run(project: &Project, json: bool) -> String {
    let folder = folder();
    let path = folder.path().join("given.heap.ron");
    file::write(&path, project, None).unwrap();
    let mut program = Command::new(env!("CARGO_BIN_EXE_heapwright"));
    program
        .arg("learn")
        .arg(&path)
        .args(["--today", "2025-06-22"]);
    if json {
        program.arg("--json");
    }
    let output = program.output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    String::from_utf8(output.stdout).unwrap()
}

#[test]
fn a_diary_is_learnt_from_in_words_and_as_json() {
    let project = measured();
    let value: Value = serde_json::from_str(&run(&project, true)).unwrap();
    assert_eq!(value["schema"], 1);
    assert_eq!(value["learnt"], true);
    assert_eq!(value["readings"].as_array().unwrap().len(), 4);
    assert_eq!(value["kept_out"][0]["why"], "BeforeHeap");
    assert_eq!(value["unknowns"].as_array().unwrap().len(), 16);
    let width = |key: &str| value[key].as_f64().unwrap();
    assert!(width("band_width_after_k") < width("band_width_before_k"));
    // 22 June begins 19.33 days after the heap was built; what is past cannot be read any more.
    let next = value["next_reading"]["day"].as_f64().unwrap();
    assert!(next >= 19.33, "{next}");
    let points = value["forecast"]["day"].as_array().unwrap().len();
    for of in ["prior", "learnt"] {
        for line in ["low_c", "median_c", "high_c"] {
            assert_eq!(
                value["forecast"][of][line].as_array().unwrap().len(),
                points
            );
        }
    }
    let text = run(&project, false);
    assert!(
        text.starts_with("From here on 8 in 10 such heaps lie within"),
        "{text}"
    );
    assert!(
        text.contains("1 reading kept out: before the heap was built"),
        "{text}"
    );
    assert!(
        text.contains("The next reading that would teach most: day"),
        "{text}"
    );
}

#[test]
fn what_follows_is_that_of_the_learnt_heap() {
    let project = measured();
    let built_in = catalogue();
    let mut assessed = Assessed::of(&project, built_in).unwrap();
    let before = assessed.projection.clone().unwrap();
    assessed
        .learn(&project, built_in, &project.diary, 0.0)
        .unwrap();
    let learnt = assessed.learnt.as_ref().and_then(Learning::learnt).unwrap();
    let after = assessed.projection.as_ref().unwrap();
    let away = |p: &heapwright::heap::Projection| {
        let days = [3.5, 5.5, 8.5].into_iter().zip([50.0, 53.0, 50.0]);
        days.map(|(day, value): (f64, f64)| (p.at(day).unwrap().centre_c - value).powi(2))
            .sum::<f64>()
    };
    assert!(
        away(after) < away(&before),
        "{} {}",
        away(after),
        away(&before)
    );
    assert_eq!(assessed.forecast.as_ref(), Some(&learnt.forecast));
    // Every likelihood is that of the learnt members.
    assert!(!assessed.outcome.as_ref().unwrap().weighed.is_empty());
}

#[test]
fn without_a_diary_it_says_why() {
    let mut project = measured();
    project.diary = Diary::default();
    let text = run(&project, false);
    assert_eq!(
        text,
        "Nothing to learn from yet: the diary does not say when the heap was built.\n"
    );
    let value: Value = serde_json::from_str(&run(&project, true)).unwrap();
    assert_eq!(value["learnt"], false);
}

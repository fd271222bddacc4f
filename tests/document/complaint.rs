//! `heapwright wrong`: causes, cures and cautions as text and as JSON; bad names are told.

use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use heapwright::assess::remedy::{HeapAsked, Question};
use heapwright::command;
use heapwright::document::file;
use heapwright::outcome::complaint::{Readings, Symptom};
use jiff::civil::date;

use crate::sample::catalogue;

fn demo(name: &str) -> PathBuf {
    let root = PathBuf::from(env!("CARGO_MANIFEST_DIR"));
    root.join(format!("demo-data/withybed-{name}.heap.ron"))
}

fn run(arguments: &[&str], name: &str) -> (u8, String, String) {
    let file = demo(name);
    let mut all = vec!["heapwright".into(), "wrong".into(), file.into_os_string()];
    all.extend(arguments.iter().map(Into::into));
    let (mut out, mut complaints) = (Vec::new(), Vec::new());
    let code = command::run(all, &mut out, &mut complaints, |_| Ok(()));
    let text = |bytes| String::from_utf8(bytes).unwrap();
    (code, text(out), text(complaints))
}

#[test]
fn a_cold_winter_heap_is_told_why_in_sentences() {
    let (code, out, _) = run(&["--symptom", "cold,rats"], "winter-kitchen");
    assert_eq!(code, 0);
    for words in [
        "What is wrong with my heap?",
        "It does not get hot",
        "Cold weather",
        "Mending this alone: peak",
        "Source:",
        "What to do",
        "in 10",
        "leptospirosis",
    ] {
        assert!(out.contains(words), "{words}\n{out}");
    }
}

#[test]
fn the_same_as_json_has_every_key() {
    let (code, out, _) = run(
        &[
            "--symptom",
            "dry",
            "--squeeze",
            "dust",
            "--weeks",
            "3",
            "--json",
        ],
        "spring-grass",
    );
    assert_eq!(code, 0);
    let all: serde_json::Value = serde_json::from_str(&out).unwrap();
    assert_eq!(all["schema"], 1);
    assert_eq!(all["symptoms"][0], "dry");
    assert_eq!(all["causes"][0]["id"], "TooDry");
    for key in [
        "weight", "explains", "evidence", "tried", "gain", "put_in", "source", "trust",
    ] {
        assert!(all["causes"][0].get(key).is_some(), "{key}");
    }
    for key in [
        "cures",
        "cautions",
        "not_shown_by_recipe",
        "peak_temperature_c",
    ] {
        assert!(all.get(key).is_some(), "{key}");
    }
}

#[test]
fn a_name_that_is_no_symptom_is_told_with_those_that_are() {
    let (code, out, complaints) = run(&["--symptom", "chilly"], "spring-grass");
    assert_eq!((code, out.as_str()), (2, ""));
    assert!(complaints.contains("chilly") && complaints.contains("smell-ammonia"));
    assert_eq!(complaints.lines().count(), 1);
}

/// Where no mending gains what could be noticed, the causes of the tables stand with their usual cure; a heap that is
/// not as written is to be looked at, and nothing is said of guesses that are not there.
#[test]
fn causes_are_told_even_where_no_mending_gains_much() {
    for (name, symptom) in [
        ("summer-hot", "smell-ammonia"),
        ("autumn-leaves", "too-hot"),
        ("summer-hot", "cold"),
    ] {
        let (code, out, _) = run(&["--symptom", symptom], name);
        assert_eq!(code, 0);
        assert!(out.contains("Usual cure: "), "{name} {symptom}\n{out}");
        let guesses = out.contains("If it were so: ");
        assert_eq!(
            out.contains("if it were so"),
            guesses,
            "{name} {symptom}\n{out}"
        );
        assert!(
            !out.contains("0 % of it is food"),
            "{name} {symptom}\n{out}"
        );
    }
}

/// The day on which the demo with a diary is looked at: its heap is 33 days old, last measured two days before.
const SEEN_ON: &str = "2026-11-27";

#[test]
fn a_heap_with_a_diary_is_asked_about_as_its_readings_teach_it() {
    let (code, out, _) = run(
        &["--symptom", "dry", "--today", SEEN_ON, "--json"],
        "autumn-diary",
    );
    assert_eq!(code, 0);
    let all: serde_json::Value = serde_json::from_str(&out).unwrap();
    assert_eq!(all["learnt"], true);
    // Read off the entries of the demo by hand.
    let taken = all["from_diary"].as_array().unwrap();
    let said: Vec<_> = taken
        .iter()
        .map(|it| {
            (
                it["what"].as_str().unwrap(),
                it["days_ago"].as_f64().unwrap(),
            )
        })
        .collect();
    assert_eq!(
        said,
        [("squeeze", 16.0), ("temperature", 2.0), ("smell", 24.0)]
    );
    assert_eq!(taken[1]["value"], 49.5);
    assert_eq!(taken[2]["value"], "Earthy");
    let (_, text, _) = run(
        &["--symptom", "white-threads", "--today", SEEN_ON],
        "autumn-diary",
    );
    for words in [
        "Asked of the heap as the readings in its diary teach it.",
        "a handful squeezed 16 days ago: like a wrung-out sponge",
        "50 °C in the middle 2 days ago",
        "by the squeeze in the diary, 16 days ago",
    ] {
        assert!(text.contains(words), "{words}\n{text}");
    }
    // What is answered now goes before the diary.
    let answered = [
        "--symptom",
        "white-threads",
        "--today",
        SEEN_ON,
        "--squeeze",
        "dust",
    ];
    let (_, text, _) = run(&answered, "autumn-diary");
    assert!(text.contains("by your squeeze"), "{text}");
    assert!(!text.contains("squeezed 16 days ago"), "{text}");
    // Half a year later the entries say nothing of the day any more.
    let late = ["--symptom", "dry", "--today", "2027-06-01"];
    let (_, text, _) = run(&late, "autumn-diary");
    assert!(!text.contains("From the diary"), "{text}");
}

#[test]
fn cures_of_a_heap_that_stands_leave_what_lies_behind() {
    let project = file::read(&demo("autumn-diary"), catalogue())
        .unwrap()
        .project;
    let now = date(2026, 11, 27).at(15, 30, 0, 0);
    let asked = (
        vec![Symptom::Cold, Symptom::Dry],
        Readings {
            // Answered by hand, so that there is something to cure.
            squeeze: Some(heapwright::outcome::complaint::Squeeze::Dust),
            ..Readings::default()
        },
    );
    let known = Arc::new(catalogue().clone());
    let question = Question::about(&project, known, now, asked).unwrap();
    let from = question.from_day.unwrap();
    assert_eq!(from, 34.0);
    let never = AtomicBool::new(false);
    let found = question.answer(&never, |_| {}).unwrap().unwrap();
    assert_eq!(found.of, HeapAsked::Learnt);
    assert!(!found.cures.is_empty(), "dust in the hand can be wetted");
    for cure in &found.cures {
        println!("{:?} {:?}", cure.steps, cure.relief);
        let (mix, heap) = &cure.then;
        assert_eq!(mix, &project.mix, "what went in went in");
        assert_eq!(heap.shape, project.heap.shape);
        assert_eq!(heap.cover, project.heap.cover);
        assert_eq!(heap.start_day_of_year, project.heap.start_day_of_year);
        let past = |events: &[heapwright::heap::Event]| {
            let past = events.iter().filter(|event| event.day < from);
            past.cloned().collect::<Vec<_>>()
        };
        assert_eq!(past(&heap.plan.events), past(&project.heap.plan.events));
        assert_ne!(heap.plan, project.heap.plan, "something is done");
        // Both heaps of a pair are one until then: what they peak at counts from there.
        let both = cure.comparison.as_ref().unwrap();
        assert!(both.first.typical().summary.peak_day >= from);
        let before = |forecast: &heapwright::forecast::Forecast| {
            let band = forecast.band(heapwright::forecast::Series::Centre);
            let days = band.days.iter().zip(&band.median);
            let days = days.filter(|(day, _)| **day < from - 1.0);
            days.map(|(_, celsius)| *celsius).collect::<Vec<_>>()
        };
        for (a, b) in before(&both.first).iter().zip(before(&both.second)) {
            assert!((a - b).abs() < 0.01, "{a} {b}");
        }
    }
}

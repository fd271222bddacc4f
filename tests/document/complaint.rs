//! `heapwright wrong`: causes, cures and cautions as text and as JSON; bad names are told.

use std::path::PathBuf;

use heapwright::command;

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

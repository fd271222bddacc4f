//! Trials and lessons as files: the ready ones, the examples in their README, and what cannot be read.

use heapwright::assess::trial::{Alteration, Lesson, LessonError, Trial, TrialError};
use heapwright::forecast::{Effect, Measured};

use crate::trials::{catalogue, compared, good_heap};

#[test]
fn every_ready_trial_runs_and_every_other_has_evidence() {
    let trials = Trial::ready().unwrap();
    assert!(trials.len() >= 25);
    Trial::check_all(&trials, &good_heap(), catalogue()).unwrap();
    let text = ron::to_string(&trials).unwrap();
    assert_eq!(Trial::read(&text).unwrap(), trials);
    for trial in &trials {
        assert!(!trial.cannot_tell.is_empty(), "{}", trial.id);
        if !trial.can_be_run() {
            assert!(!trial.evidence.is_empty(), "{}", trial.id);
            continue;
        }
        let comparison = compared(&trial.id, 4);
        assert_eq!(comparison.pairs(), 4, "{}", trial.id);
        let finite = |effect: &Effect| effect.range.is_sound();
        assert!(comparison.effects.iter().all(finite), "{}", trial.id);
        assert!(comparison.effects.len() >= Measured::ALL.len() - 1);
    }
}

#[test]
fn what_a_trial_or_lesson_cannot_be_is_said_with_its_place() {
    let one = |id: &str, change: &str| {
        format!(
            "[(id: \"{id}\", title: \"\", claim: \"\", differs: \"\", common: [],\nchange: [{change}], evidence: [], cannot_tell: \"\")]"
        )
    };
    assert!(Trial::read(&one("fine", "Times(2.0)")).is_ok());
    let Err(TrialError::NotReadable { line, .. }) = Trial::read(&one("x", "Magic(1.0)")) else {
        panic!("an unknown alteration was taken");
    };
    assert_eq!(line, 2);
    for id in ["", "No Good", "ümlaut"] {
        assert!(matches!(Trial::read(&one(id, "")), Err(TrialError::Id(_))));
    }
    let twice = one("a", "").replace(")]", "),") + &one("a", "")[1..];
    assert!(matches!(Trial::read(&twice), Err(TrialError::Id(_))));
    for change in [
        "Times(0.0)",
        "Times(NaN)",
        "WetTo(1.0)",
        "PhRaise(9.0)",
        "Layers(1)",
        "Start(400.0)",
        "Chop(size: -1.0, packing: 1.0)",
        "Turn(every_days: 0.0, times: 3, turning: Remix)",
        "Swap(from: \"sugar\", to: \"lime\")",
        "Add(material: \"moon_dust\", amount: (value: 1.0, measure: Litre))",
        "Add(material: \"sugar\", amount: (value: -1.0, measure: Litre))",
    ] {
        let trials = Trial::read(&one("x", change)).unwrap();
        let checked = Trial::check_all(&trials, &good_heap(), catalogue());
        assert!(matches!(checked, Err(TrialError::Case { .. })), "{change}");
    }
    assert!(matches!(
        Lesson::read("(id: \"a\", title: \"\", minutes: 1, stops: [])"),
        Err(LessonError::Length)
    ));
}

#[test]
fn every_lesson_shows_what_is_there() {
    let trials = Trial::ready().unwrap();
    let lessons = Lesson::ready().unwrap();
    assert_eq!(lessons.len(), 4);
    for lesson in &lessons {
        lesson.check(&trials, catalogue()).unwrap();
        assert!(lesson.stops.iter().all(|stop| !stop.notes.is_empty()));
        let text = ron::to_string(lesson).unwrap();
        assert_eq!(Lesson::read(&text).unwrap(), *lesson);
        // A lesson that names a trial or material that is not there is found out.
        let first = lesson.check(&[], catalogue());
        assert!(
            matches!(first, Err(LessonError::NotThere { .. })),
            "{}",
            lesson.id
        );
    }
}

/// The first block of code of the README that holds a text.
fn example(with: &str) -> &'static str {
    let readme = include_str!("../../assets/lessons/README.md");
    readme
        .split("```")
        .find(|block| block.starts_with("ron\n") && block.contains(with))
        .unwrap()
        .trim_start_matches("ron")
}

#[test]
fn the_examples_of_the_readme_can_be_read() {
    let trials = Trial::read(example("more_straw")).unwrap();
    Trial::check_all(&trials, &good_heap(), catalogue()).unwrap();
    let lesson = Lesson::read(example("my_lesson")).unwrap();
    lesson.check(&Trial::ready().unwrap(), catalogue()).unwrap();
    // Every way of altering that the table names is one.
    let readme = include_str!("../../assets/lessons/README.md");
    let (_, table) = readme.split_once("| what may be altered").unwrap();
    let (table, _) = table.split_once("\n\n").unwrap();
    let rows = table.lines().skip(2);
    let mut named = 0;
    for code in rows.flat_map(|row| row.split('`').skip(1).step_by(2)) {
        let read: Result<Alteration, _> = ron::from_str(code);
        assert!(read.is_ok(), "{code}: {read:?}");
        named += 1;
    }
    assert_eq!(named, 16);
}

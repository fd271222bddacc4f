//! Trials and lessons as files: the ready ones, the examples in their README, and what cannot be read.

use heapwright::assess::trial::{
    Alteration, Lesson, LessonError, Show, Trial, TrialError, find, find_questions,
};
use heapwright::forecast::{Effect, Measured, Verdict};

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

/// What gardeners ask, in their words, and the trial that answers: the beliefs that have to be found.
const ASKED: [(&str, &str); 30] = [
    ("is composting complicated", "complicated"),
    ("do nothing", "do_nothing"),
    ("lazy heap", "do_nothing"),
    ("slow or hot", "slow_or_hot"),
    ("cold composting", "slow_or_hot"),
    ("in-between method", "in_between"),
    ("leave cuttings where they fall", "cuttings_fall"),
    ("grass cycling lawn clippings", "cuttings_fall"),
    ("nitrogen fertiliser instead of starter", "nitrogen_salt"),
    ("bought starters", "soil_starter"),
    ("activator", "soil_starter"),
    ("does compost make soil acid", "soil_ph"),
    ("blueberries", "soil_ph"),
    ("fat", "fat_cheese"),
    ("cheese and butter", "fat_cheese"),
    ("grass smells", "grass_drying"),
    ("dry grass a day or two", "grass_drying"),
    ("flies", "flies_rats"),
    ("rodents", "flies_rats"),
    ("mice", "flies_rats"),
    ("newspaper", "paper"),
    ("teabags", "tea_bags"),
    ("tea bags", "tea_bags"),
    ("tomato virus", "virus"),
    ("dog poo", "pet_waste"),
    ("cat litter", "pet_waste"),
    ("worm", "worms"),
    ("sun dries it out", "sun_dry"),
    ("how big, one metre", "size"),
    ("coffe", "coffee_acid"),
];

#[test]
fn beliefs_are_found_by_the_words_of_gardeners_among_the_first_three() {
    let trials = Trial::ready().unwrap();
    for (words, id) in ASKED {
        let found = find(&trials, words);
        let first: Vec<&str> = found
            .iter()
            .take(3)
            .map(|place| trials[*place].id.as_str())
            .collect();
        assert!(first.contains(&id), "{words}: {first:?}");
    }
    assert!(find(&trials, "bicycle").is_empty());
    assert_eq!(find(&trials, " ").len(), trials.len(), "all, unasked");
    let questions = heapwright::material::questions().unwrap();
    let lime = &questions[find_questions(&questions, "lime or ash")[0]];
    assert!(lime.question.contains("lime"), "{}", lime.question);
}

#[test]
fn every_belief_has_an_answer_with_evidence_of_a_named_source() {
    let trials = Trial::ready().unwrap();
    for trial in &trials {
        assert!(trial.answer.ends_with('.'), "{}", trial.id);
        assert!(!trial.words.is_empty(), "{}", trial.id);
        assert!(!trial.evidence.is_empty(), "{}", trial.id);
        for known in &trial.evidence {
            assert!(!known.finding.is_empty() && !known.source.is_empty());
            // "Safe" is a word for those who hold the rules, not for a heap.
            assert!(!known.finding.contains("safe"), "{}", trial.id);
        }
        assert!(!trial.answer.contains("safe"), "{}", trial.id);
    }
}

/// The effect of a change on one thing, over 32 pairs begun from the good heap.
fn effect(id: &str, measured: Measured) -> Effect {
    *compared(id, 32).effect(measured).unwrap()
}

#[test]
fn trials_of_beliefs_go_the_way_that_is_published() {
    // Raabe (University of California): the slow way takes a year, the hot one weeks; slow heaps do not heat.
    let slow = effect("slow_or_hot", Measured::Peak);
    assert_eq!(slow.verdict(), Verdict::Clearly { more: true }, "{slow:?}");
    // Michel and others 1996: seven turnings in four weeks against one changed the temperature little.
    let between = effect("in_between", Measured::Peak);
    assert_eq!(between.verdict(), Verdict::Nothing, "{between:?}");
    // Raabe: what is left to stand does become compost; it only takes longer.
    let nothing = effect("do_nothing", Measured::DryMatterLost);
    assert_eq!(nothing.verdict(), Verdict::Nothing, "{nothing:?}");
    // Cornell's fact sheet: nitrogen speeds leaves up. Razvi and Kramer 1996: starters do not.
    let nitrogen = effect("nitrogen_salt", Measured::DryMatterLost);
    assert!(nitrogen.range.typical > 0.05, "{nitrogen:?}");
    // Chitthaluri and Rao 2022: grease of 4-16 % did not stop the heat.
    let fat = effect("fat_cheese", Measured::Peak);
    assert!(fat.range.low > -2.0, "{fat:?}");
    // New Jersey's manual: fresh grass runs out of air; dried it has more.
    let airless = effect("grass_drying", Measured::Airless);
    assert!(airless.range.typical < -0.03, "{airless:?}");
    // NC State: the more sun, the more water a heap needs; without it, it breaks down less.
    let sun = effect("sun_dry", Measured::DryMatterLost);
    assert!(sun.range.typical < -0.03, "{sun:?}");
}

#[test]
fn a_stop_without_a_trial_to_run_reveals_something() {
    let trials = Trial::ready().unwrap();
    for lesson in Lesson::ready().unwrap() {
        for stop in &lesson.stops {
            match &stop.show {
                Show::Trial(id) => {
                    let trial = trials.iter().find(|trial| trial.id == *id).unwrap();
                    assert!(!trial.answer.is_empty(), "{}: {}", lesson.id, stop.say);
                }
                _ => assert!(!stop.reveal.is_empty(), "{}: {}", lesson.id, stop.say),
            }
        }
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
        "Days(0.0)",
        "Days(1e9)",
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
    assert_eq!(named, 17);
}

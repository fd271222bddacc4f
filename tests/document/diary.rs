//! The diary: days since the heap was built, by the calendar (Gregorian; leap days as in ISO 8601), what is refused of it,
//! and how long a long one takes.

use std::time::{Duration, Instant};

use heapwright::diary::{
    Diary, Log, MOST_LOGGED, MOST_LOGS, MOST_READINGS, Reading, Spot, Wetness,
};
use heapwright::document::{PHOTO_LIMIT, Project, REMARK_LIMIT, file};
use jiff::civil::date;

use crate::sample::{catalogue, folder, rich_project};

#[test]
fn days_are_counted_from_the_building_of_the_heap() {
    let built = date(2024, 2, 27).at(18, 0, 0, 0);
    let diary = Diary {
        built: Some(built),
        ..Diary::default()
    };
    // 2024 is a leap year: 28 and 29 February lie between.
    assert_eq!(diary.day_of(date(2024, 3, 1).at(6, 0, 0, 0)), Some(2.5));
    assert_eq!(diary.day_of(date(2024, 2, 27).at(12, 0, 0, 0)), Some(-0.25));
    assert_eq!(diary.moment_of(2.5), Some(date(2024, 3, 1).at(6, 0, 0, 0)));
    // A day that no number holds exactly is still its minute.
    let minute = date(2024, 3, 11).at(20, 30, 0, 0);
    assert_eq!(diary.moment_of(diary.day_of(minute).unwrap()), Some(minute));
    assert_eq!(diary.moment_of(13.104_166_666_666_666), Some(minute));
    assert_eq!(diary.moment_of(f64::NAN), None);
    assert_eq!(diary.moment_of(1e12), None);
    assert_eq!(Diary::default().day_of(built), None);
    assert!(Diary::default().is_empty() && !diary.is_empty());
}

#[test]
fn a_place_outside_the_heap_is_refused() {
    assert!(Spot::CENTRE.check().is_ok());
    for spot in [
        Spot { out: 1.01, up: 0.5 },
        Spot { out: 0.5, up: -0.1 },
        Spot {
            out: f64::NAN,
            up: 0.5,
        },
    ] {
        assert!(spot.check().is_err(), "{spot:?}");
    }
}

#[test]
fn a_temperature_by_itself_says_nothing_else() {
    let reading = Reading::temperature(date(2025, 6, 1).at(8, 0, 0, 0), Spot::CENTRE, 61.5);
    assert_eq!(reading.temperature_c, Some(61.5));
    assert!(reading.wetness.is_none() && reading.smell.is_none() && reading.oxygen.is_none());
}

/// Whether a project with a changed diary is refused, and with which words.
fn refused(change: impl FnOnce(&mut Diary)) -> String {
    let mut project = rich_project();
    change(&mut project.diary);
    let problem = project.check_alone().unwrap_err().to_string();
    let path = folder().path().join("refused.heap.ron");
    assert!(file::write(&path, &project, None).is_err(), "{problem}");
    problem
}

/// Holds a refusal to its words.
fn says(problem: String, words: &[&str]) {
    for word in words {
        assert!(problem.contains(word), "{problem}: {word}");
    }
}

#[test]
fn what_cannot_be_is_refused_with_its_entry_and_a_remedy() {
    says(
        refused(|diary| diary.readings[0].temperature_c = Some(900.0)),
        &[
            "reading 1",
            "between -60 and 120 degC",
            "found 900",
            "correct",
        ],
    );
    says(
        refused(|diary| diary.readings[0].temperature_c = Some(f64::NAN)),
        &["reading 1", "measured temperature"],
    );
    // One from before the heap stood is kept, and no more than kept: nobody loses it to a corrected date.
    let mut early = rich_project();
    early.diary.readings[1].at = date(2025, 1, 15).at(11, 59, 0, 0);
    early.check_alone().unwrap();
    says(
        refused(|diary| diary.readings[1].at = date(2125, 1, 15).at(11, 59, 0, 0)),
        &["reading 2", "the day of a reading"],
    );
    says(refused(|diary| diary.built = None), &["when it was built"]);
    says(
        refused(|diary| {
            *diary = Diary {
                built: Some(date(-4000, 1, 1).at(0, 0, 0, 0)),
                ..Diary::default()
            };
        }),
        &["-4000", "1900"],
    );
    says(
        refused(|diary| diary.readings[0].spot.up = 1.5),
        &["reading 1", "a place in the heap"],
    );
    says(
        refused(|diary| diary.readings[0].wetness = Some(Wetness::Probe(58.0))),
        &["reading 1", "a measured moisture"],
    );
    says(
        refused(|diary| diary.readings[0].oxygen = Some(0.5)),
        &["reading 1", "oxygen"],
    );
    says(
        refused(|diary| diary.readings[0].height_m = Some(0.0)),
        &["reading 1", "height"],
    );
    says(
        refused(|diary| diary.readings[0].note = "x".repeat(REMARK_LIMIT + 1)),
        &["the note on reading 1", "shorten"],
    );
    says(
        refused(|diary| diary.readings[0].photo = "x".repeat(PHOTO_LIMIT + 1)),
        &["the photo of reading 1"],
    );
    says(
        refused(|diary| diary.readings[0].photo = "a\nb".to_owned()),
        &["the photo of reading 1", "line break"],
    );
}

#[test]
fn what_a_probe_cannot_have_recorded_and_too_much_of_anything_is_refused() {
    says(
        refused(|diary| diary.logs[0].name = " ".to_owned()),
        &["the name of probe 1"],
    );
    says(
        refused(|diary| diary.logs[0].temperatures_c = vec![(1.0, 20.0), (1.0, 21.0)].into()),
        &["probe 1, temperature 2", "not after"],
    );
    says(
        refused(|diary| diary.logs[0].temperatures_c = vec![(1.0, 20.0), (2.0, 1e9)].into()),
        &["probe 1, temperature 2", "measured temperature"],
    );
    says(
        refused(|diary| diary.done = vec![3.0, -1.0]),
        &["entry 2 of what was done"],
    );
    says(
        refused(|diary| {
            let one = diary.readings[0].clone();
            diary.readings = vec![one; MOST_READINGS + 1].into();
        }),
        &["5001 readings", "5000"],
    );
    says(
        refused(|diary| {
            let one = diary.logs[0].clone();
            diary.logs = vec![one; MOST_LOGS + 1];
        }),
        &["65 probes"],
    );
    says(
        refused(|diary| {
            let minutes = (0..=MOST_LOGGED).map(|at| (at as f64 / 1440.0, 20.0));
            diary.logs[0].temperatures_c = minutes.collect();
        }),
        &["200001 logged temperatures"],
    );
}

/// Five years, every hour, with the tenths of a degree that loggers write.
fn five_years() -> Project {
    let mut project = rich_project();
    let hours = 5 * 365 * 24 + 24;
    project.diary.logs = vec![Log {
        name: "core (invented)".to_owned(),
        spot: Spot::CENTRE,
        temperatures_c: (0..hours)
            .map(|hour| {
                let tenths = 180 + (hour * 7919) % 470;
                (f64::from(hour) / 24.0, f64::from(tenths) / 10.0)
            })
            .collect(),
    }];
    project
}

/// The budget of the design: opening or saving five years of hourly temperatures takes at most 300 ms.
#[test]
fn five_years_of_hourly_temperatures_are_saved_and_opened_in_time() {
    let folder = folder();
    let path = folder.path().join("five-years.heap.ron");
    let project = five_years();
    assert_eq!(project.diary.logs[0].temperatures_c.len(), 43_824);
    let quickest = |work: &mut dyn FnMut()| {
        let once = || {
            let begun = Instant::now();
            work();
            begun.elapsed()
        };
        std::iter::repeat_with(once).take(3).min().unwrap()
    };
    let saved = quickest(&mut || {
        file::write(&path, &project, None).unwrap();
    });
    let mut opened = None;
    let read = quickest(&mut || opened = Some(file::read(&path, catalogue()).unwrap()));
    assert_eq!(opened.unwrap().project, project);
    let bytes = std::fs::metadata(&path).unwrap().len();
    println!("{bytes} bytes, saved in {saved:?}, opened in {read:?}");
    let budget = Duration::from_millis(300);
    assert!(saved <= budget, "saving takes {saved:?}");
    assert!(read <= budget, "opening takes {read:?}");
    assert!(bytes < 2_000_000, "{bytes} bytes");
}

#[test]
fn a_copy_of_a_long_list_shares_it() {
    let project = five_years();
    let copy = project.clone();
    let place = |of: &Project| of.diary.logs[0].temperatures_c.as_ptr();
    assert_eq!(place(&project), place(&copy));
    assert_eq!(project, copy);
}

#[test]
fn a_damaged_line_of_temperatures_is_told_with_its_place() {
    let folder = folder();
    let path = folder.path().join("damaged.heap.ron");
    file::write(&path, &rich_project(), None).unwrap();
    let text = std::fs::read_to_string(&path).unwrap();
    assert!(
        text.contains("\"0.5 14.25; 1 0.30000000000000004\""),
        "{text}"
    );
    for damaged in ["0.5 14.25; 1 warm", "0.5 14.25; 1", "0.5 14.25 3; 1 2", ";"] {
        let bad = text.replace("0.5 14.25; 1 0.30000000000000004", damaged);
        std::fs::write(&path, bad).unwrap();
        let said = file::read(&path, catalogue()).unwrap_err().to_string();
        assert!(
            said.contains("line ") && said.contains("no day with"),
            "{said}"
        );
    }
}

#[test]
fn another_day_of_building_leaves_the_dates_of_what_was_measured() {
    let mut diary = rich_project().diary;
    let moment = |diary: &Diary| diary.moment_of(diary.logs[0].temperatures_c[0].0).unwrap();
    let (logged, read) = (moment(&diary), diary.readings[0].at);
    diary.build_on(date(2025, 1, 13).at(12, 0, 0, 0));
    assert_eq!(moment(&diary), logged);
    assert_eq!(diary.readings[0].at, read);
    assert_eq!(diary.day_of(read).map(f64::floor), Some(5.0));
    let now = date(2025, 1, 20).at(9, 0, 0, 0);
    assert_eq!(diary.first_free_day(now), Some(7.0));
    assert_eq!(Diary::default().first_free_day(now), None);
}

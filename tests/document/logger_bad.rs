//! Logger files with something wrong in them: kept out with line and reason, flagged, or refused; nothing else lost.

use std::f64::consts::TAU;
use std::fmt::Write;
use std::time::Duration;

use heapwright::diary::import::{
    AirWhy, BAD_ROWS_KEPT, BadRow, BadWhy, Choices, Flag, Imported, Keep, NotUnderstood, Place,
    ROW_LIMIT, Spikes, import, merge,
};
use heapwright::diary::{Diary, DiaryError, Spot};
use heapwright::document::logger_bytes;
use heapwright::document::{FileError, LOGGER_LIMIT_BYTES};
use jiff::civil::{DateTime, date};
use proptest::prelude::*;

use super::logger::bytes_of;
use crate::sample::rich_project;

fn every() -> Choices {
    Choices {
        keep: Some(Keep::Every),
        ..Choices::default()
    }
}

fn take(text: &str, choices: &Choices) -> Imported {
    import(text.as_bytes(), choices).unwrap().imported.unwrap()
}

fn start() -> DateTime {
    date(2025, 6, 1).at(0, 0, 0, 0)
}

/// Rows of one or two probes, every half hour.
fn half_hours(days: usize, of: impl Fn(f64) -> Vec<f64>, headings: &str) -> String {
    let mut text = format!("time,{headings}\n");
    for step in 0..48 * days {
        let at = start() + Duration::from_secs(1800 * step as u64);
        let values = of(step as f64 / 48.0);
        let cells: Vec<String> = values.iter().map(|value| format!("{value:.2}")).collect();
        writeln!(text, "{at},{}", cells.join(",")).unwrap();
    }
    text
}

#[test]
fn bad_rows_are_listed_and_good_ones_kept() {
    let text = "time,core,edge\n\
        2025-06-01 10:00,40.0,30.0\n\
        2025-06-31 10:10,40.1,30.1\n\
        2025-06-01 10:20,banana,30.2\n\
        2025-06-01 10:30,900,30.3\n\
        ,40.4,30.4\n\
        2025-06-01 10:50,OL,n/a\n\
        2025-06-01 11:00,NaN,30.6\n\
        2025-05-01 11:10,40.7,30.7\n\
        2025-06-01 25:10,40.8,30.8\n\
        2099-06-01 11:20,40.9,30.9\n\
        2025-06-01 11:30,41.0,31.0\n\
        2025-06-01 11:4";
    let imported = take(text, &every());
    let bad = |line, why| BadRow { line, why };
    assert_eq!(
        imported.bad,
        [
            bad(3, BadWhy::NotAMoment("2025-06-31 10:10".to_owned())),
            bad(
                4,
                BadWhy::NotANumber {
                    probe: 0,
                    text: "banana".to_owned()
                }
            ),
            bad(
                5,
                BadWhy::OutOfRange {
                    probe: 0,
                    found_c: 900.0
                }
            ),
            bad(6, BadWhy::NoMoment),
            bad(9, BadWhy::BeforeBuilt(date(2025, 5, 1).at(11, 10, 0, 0))),
            bad(10, BadWhy::NotAMoment("2025-06-01 25:10".to_owned())),
            bad(11, BadWhy::TooLate(date(2099, 6, 1).at(11, 20, 0, 0))),
            bad(13, BadWhy::NotAMoment("2025-06-01 11:4".to_owned())),
        ]
    );
    let rows = imported.rows;
    assert_eq!((rows.all, rows.good, rows.bad, rows.gaps), (12, 3, 8, 1));
    // What was good in a bad row is taken.
    assert_eq!(imported.probes[0].temperatures_c.len(), 2);
    assert_eq!(imported.probes[1].temperatures_c.len(), 5);
}

#[test]
fn the_count_of_bad_rows_is_exact_where_the_list_is_cut() {
    let mut text = "time,core\n2025-06-01 10:00,40.0\n".to_owned();
    for _ in 0..1000 {
        text.push_str("2025-06-01 10:00,hot\n");
    }
    let imported = take(&text, &every());
    assert_eq!(imported.bad.len(), BAD_ROWS_KEPT);
    assert_eq!(imported.rows.bad, 1000);
}

#[test]
fn spikes_are_flagged_and_left_out_or_taken() {
    let heap = |day: f64| {
        vec![if (day - 2.0).abs() < 1e-6 {
            75.0
        } else {
            55.0 + day
        }]
    };
    let text = half_hours(4, heap, "core");
    let imported = take(&text, &every());
    let spike = Flag::Spike {
        probe: 0,
        at: date(2025, 6, 3).at(0, 0, 0, 0),
        found_c: 75.0,
        beside_c: 57.02,
    };
    assert_eq!(imported.flags, [spike]);
    assert_eq!(imported.readings(), 4 * 48 - 1);
    let taken = Choices {
        spikes: Spikes::Taken,
        ..every()
    };
    assert_eq!(take(&text, &taken).readings(), 4 * 48);
    // A turning is a step, no spike.
    let turned = |day: f64| {
        vec![
            if day < 2.0 {
                60.0
            } else {
                35.0 + 3.0 * (day - 2.0)
            } + 0.3 * (40.0 * day).sin(),
        ]
    };
    assert_eq!(take(&half_hours(4, turned, "core"), &every()).flags, []);
}

#[test]
fn a_probe_that_lies_in_air_is_flagged() {
    let air = |day: f64| 16.0 + 6.0 * ((day - 0.35) * TAU).sin();
    let heap = |day: f64| 20.0 + 40.0 * (1.0 - (-day).exp()) + 0.2 * (30.0 * day).sin();
    let from_day_six = |last, why| {
        [Flag::InAir {
            probe: 0,
            from: date(2025, 6, 7).at(0, 0, 0, 0),
            to: date(2025, 6, last).at(23, 30, 0, 0),
            why,
        }]
    };
    // Falls out of the heap on day 6.
    let fallen = move |day: f64| {
        vec![
            if day < 6.0 { heap(day) } else { air(day) + 0.5 },
            heap(day),
        ]
    };
    let imported = take(&half_hours(12, fallen, "core,edge"), &every());
    assert_eq!(imported.flags, from_day_six(12, AirWhy::FollowsTheDay));
    // With a probe in the air beside it, the first day of it shows already.
    let both = move |day: f64| vec![if day < 6.0 { heap(day) } else { air(day) + 0.5 }, air(day)];
    let imported = take(&half_hours(7, both, "core,air"), &every());
    assert_eq!(imported.flags, from_day_six(7, AirWhy::FollowsTheAir));
    assert_eq!(imported.probes[1].place, Place::Air);
    // 20 cm deep the day's wave of the surface is a twenty-fifth of it.
    let deep = move |day: f64| vec![heap(day) + 0.04 * (air(day) - 16.0)];
    assert_eq!(take(&half_hours(12, deep, "core"), &every()).flags, []);
}

#[test]
fn a_stuck_value_and_a_gap_are_flagged() {
    let stuck = |day: f64| {
        vec![if (3.0..5.0).contains(&day) {
            48.0
        } else {
            50.0 + 2.0 * day.sin()
        }]
    };
    let imported = take(&half_hours(8, stuck, "core"), &every());
    assert_eq!(
        imported.flags,
        [Flag::Stuck {
            probe: 0,
            from: date(2025, 6, 4).at(0, 0, 0, 0),
            to: date(2025, 6, 5).at(23, 30, 0, 0),
            value_c: 48.0
        }]
    );
    let rising = half_hours(8, |day| vec![40.0 + day, 30.0 + day], "core,edge");
    let lines = rising.lines().enumerate();
    let cut = lines.filter(|(line, _)| !(100..200).contains(line));
    let cut: Vec<&str> = cut.map(|(_, line)| line).collect();
    assert_eq!(
        take(&cut.join("\n"), &every()).flags,
        [Flag::Gap {
            probe: None,
            from: date(2025, 6, 3).at(1, 0, 0, 0),
            to: date(2025, 6, 5).at(3, 30, 0, 0)
        }]
    );
}

#[test]
fn a_clock_that_jumps_back_loses_nothing() {
    let text = "time,core\n2025-06-01 10:00,40\n2025-06-01 11:00,41\n2025-06-01 12:00,42\n\
        2025-06-01 10:30,43\n2025-06-01 11:30,44\n2025-06-01 12:30,45\n";
    let imported = take(text, &every());
    assert_eq!(
        imported.flags,
        [Flag::ClockBack {
            at: date(2025, 6, 1).at(10, 30, 0, 0),
            back_s: 5400
        }]
    );
    let values: Vec<f64> = imported.probes[0]
        .temperatures_c
        .iter()
        .map(|p| p.1)
        .collect();
    assert_eq!(values, [40.0, 43.0, 41.0, 44.0, 42.0, 45.0]);
}

#[test]
fn a_stray_quote_does_not_swallow_the_rest() {
    let mut text = half_hours(20, |day| vec![40.0 + day], "core");
    text = text.replacen("2025-06-01T10:00:00,", "\"2025-06-01T10:00:00,", 1);
    let imported = take(&text, &every());
    assert_eq!(imported.rows.all, 20 * 48);
    assert_eq!(imported.rows.good, 20 * 48);
}

#[test]
fn a_clock_that_began_at_nothing_is_told_whichever_row_stands_first() {
    let mut rows: Vec<String> = (10..20)
        .map(|hour| format!("2025-06-01 {hour}:00,40.0"))
        .collect();
    rows.insert(0, "2000-01-01 00:00,20.0".to_owned());
    for _ in 0..2 {
        let imported = take(&format!("time,core\n{}", rows.join("\n")), &every());
        assert_eq!(imported.built.value, date(2000, 1, 1).at(0, 0, 0, 0));
        let late = |row: &BadRow| matches!(row.why, BadWhy::TooLate(_));
        assert_eq!(imported.bad.iter().filter(|row| late(row)).count(), 10);
        let mut diary = Diary::default();
        merge(&imported, &mut diary).unwrap();
        assert_eq!(diary.check(), Ok(()));
        rows.reverse();
    }
}

#[test]
fn a_probe_with_an_odd_name_can_be_saved() {
    let long = "core ".repeat(60);
    let mut text = "time,probe,temperature\n".to_owned();
    for hour in 10..20 {
        writeln!(text, "2025-06-01 {hour}:00,{long},40.0").unwrap();
        writeln!(text, "2025-06-01 {hour}:00,\"two\nlines\u{1}\",41.0").unwrap();
    }
    let imported = take(&text, &every());
    let mut project = rich_project();
    project.diary = Diary::default();
    merge(&imported, &mut project.diary).unwrap();
    assert_eq!(project.diary.logs.len(), 2);
    assert_eq!(project.diary.logs[1].name, "two lines");
    project.check_alone().unwrap();
}

#[test]
fn half_a_letter_half_a_file_and_nothing() {
    let whole = bytes_of("utf16.csv");
    let all = import(&whole, &every()).unwrap().imported.unwrap().rows;
    let half = import(&whole[..whole.len() / 2 + 1], &every()).unwrap();
    let half = half.imported.unwrap().rows;
    assert!(half.all > all.all / 3 && half.bad <= 1, "{half:?}");
    assert_eq!(import(b"", &every()), Err(NotUnderstood::NoRows));
    assert_eq!(import(b"\xff\xfe", &every()), Err(NotUnderstood::NoRows));
    let zone = Choices {
        clock: heapwright::diary::import::Clock::Zone("Moon/Tycho".to_owned()),
        ..every()
    };
    assert_eq!(
        import(b"a,b", &zone),
        Err(NotUnderstood::NoSuchZone("Moon/Tycho".to_owned()))
    );
}

#[test]
fn what_is_no_file_of_a_logger_is_refused_at_once() {
    let folder = tempfile::tempdir().unwrap();
    let problem = logger_bytes(folder.path()).unwrap_err();
    assert!(matches!(problem, FileError::Folder { .. }));
    let problem = logger_bytes(&folder.path().join("none.csv")).unwrap_err();
    assert!(matches!(problem, FileError::Missing { .. }));
    let empty = folder.path().join("empty.csv");
    std::fs::write(&empty, "\n\n").unwrap();
    let problem = logger_bytes(&empty).unwrap_err();
    assert!(matches!(problem, FileError::NoReadings { .. }));
    let large = folder.path().join("large.csv");
    let file = std::fs::File::create(&large).unwrap();
    file.set_len(LOGGER_LIMIT_BYTES + 1).unwrap();
    let problem = logger_bytes(&large).unwrap_err();
    assert!(problem.to_string().contains("129 MiB"), "{problem}");
    #[cfg(unix)]
    {
        for device in ["/dev/zero", "/dev/null"] {
            let problem = logger_bytes(device.as_ref()).unwrap_err();
            assert!(matches!(problem, FileError::NoLoggerFile { .. }));
        }
        let pipe = folder.path().join("pipe");
        let made = std::process::Command::new("mkfifo").arg(&pipe).status();
        assert!(made.unwrap().success());
        let problem = logger_bytes(&pipe).unwrap_err();
        assert!(matches!(problem, FileError::NoLoggerFile { .. }));
    }
}

#[test]
fn more_rows_than_are_read_are_refused() {
    let text = "1,1\n".repeat(ROW_LIMIT + 10);
    let mut choices = every();
    // Days of a spreadsheet by choice, so that every row is gone through.
    use heapwright::diary::import::ColumnUse;
    choices.columns.insert(0, ColumnUse::Moment);
    choices.columns.insert(1, ColumnUse::Temperature);
    let found = import(text.as_bytes(), &choices);
    assert_eq!(found, Err(NotUnderstood::TooManyRows));
}

#[test]
fn the_same_file_again_doubles_nothing_and_a_longer_one_goes_on() {
    let heap = |day: f64| vec![40.0 + day, 20.0];
    let short = take(&half_hours(5, heap, "core,air"), &every());
    let long = take(&half_hours(8, heap, "core,air"), &every());
    let mut diary = Diary::default();
    let merged = merge(&short, &mut diary).unwrap();
    assert_eq!((merged.added, merged.known, merged.probes), (240, 0, 1));
    assert_eq!(diary.built, Some(start()));
    assert_eq!(diary.logs.len(), 1, "the air's probe is not of the heap");
    assert_eq!(diary.logs[0].spot, Spot::CENTRE);
    let before = diary.clone();
    let merged = merge(&short, &mut diary).unwrap();
    assert_eq!((merged.added, merged.known), (0, 240));
    assert_eq!(diary, before);
    let merged = merge(&long, &mut diary).unwrap();
    assert_eq!((merged.added, merged.known), (144, 240));
    let log = &diary.logs[0].temperatures_c;
    assert_eq!(log[..], long.probes[0].temperatures_c[..]);
    // The hour's means of a second file that begins within an hour.
    let hourly = Choices {
        keep: Some(Keep::Hourly),
        ..every()
    };
    let mut by_hour = Diary::default();
    let of = |days| take(&half_hours(days, |day| vec![40.0 + day], "core"), &hourly);
    merge(&of(5), &mut by_hour).unwrap();
    let merged = merge(&of(8), &mut by_hour).unwrap();
    assert_eq!((merged.added, merged.known), (72, 120));
}

#[test]
fn a_diary_with_another_day_of_building_shifts_the_days() {
    let imported = take(&half_hours(2, |day| vec![40.0 + day], "core"), &every());
    let mut diary = Diary {
        built: Some(date(2025, 5, 31).at(12, 0, 0, 0)),
        ..Diary::default()
    };
    merge(&imported, &mut diary).unwrap();
    assert_eq!(diary.logs[0].temperatures_c[0], (0.5, 40.0));
    let mut later = Diary {
        built: Some(date(2025, 6, 2).at(0, 0, 0, 0)),
        ..Diary::default()
    };
    let merged = merge(&imported, &mut later).unwrap();
    assert_eq!(merged.added, 48, "the day before it was built is left out");
}

#[test]
fn more_readings_than_a_project_can_hold_are_refused_and_nothing_changes() {
    let mut text = "time,core,edge\n".to_owned();
    for hour in 0..110_000_u64 {
        let at = start() + Duration::from_secs(3600 * hour);
        writeln!(text, "{at},40.0,30.0").unwrap();
    }
    let imported = take(&text, &Choices::default());
    assert_eq!(imported.rows.all, 110_000);
    assert_eq!(imported.readings(), 220_000);
    let mut diary = Diary::default();
    assert!(merge(&imported, &mut diary).is_err());
    assert!(diary.is_empty());
}

fn cells() -> impl Strategy<Value = String> {
    let fixed = [
        "2025-06-01 10:00",
        "01/06/2025 10:00",
        "13/13/2025",
        "45810.5",
        "1750000000",
        "55,3",
        "1.234,5",
        "---",
        "OL",
        "NaN",
        "\"",
        "\"a\nb\"",
        "10:00 PM",
        "core",
        "°C",
        "2024-10-27T01:30:00+01:00",
        "24:00",
        "-1e308",
        "9e99",
        "99:99:99",
        "0000-00-00",
        "27 Oct 2024 01:00",
        "a.m.",
        "T",
        "+",
        "-",
        "[",
        "20241027T013000",
    ];
    prop_oneof![
        prop::sample::select(fixed.to_vec()).prop_map(str::to_owned),
        "[ -~]{0,12}",
        "\\PC{0,6}",
    ]
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 300, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn no_bytes_make_it_panic(bytes in prop::collection::vec(any::<u8>(), 0..600)) {
        for choices in [every(), Choices::default()] {
            let _ = import(&bytes, &choices);
        }
    }

    #[test]
    fn every_row_is_good_bad_or_a_gap(
        rows in prop::collection::vec(prop::collection::vec(cells(), 1..5), 1..30),
        delimiter in prop::sample::select(vec![",", ";", "\t", "|"]),
    ) {
        let lines: Vec<String> = rows.iter().map(|row| row.join(delimiter)).collect();
        let text = lines.join("\n");
        if let Ok(found) = import(text.as_bytes(), &every())
            && let Some(imported) = found.imported
        {
                let rows = imported.rows;
                prop_assert_eq!(rows.good + rows.bad + rows.gaps, rows.all);
                for probe in &imported.probes {
                    prop_assert!(probe.temperatures_c.windows(2).all(|pair| pair[0].0 <= pair[1].0));
                    prop_assert!(probe.temperatures_c.iter().all(|(day, value)| day.is_finite()
                        && *day >= 0.0 && (-60.0..=120.0).contains(value)));
                }
                let mut diary = Diary::default();
                prop_assert!(merge(&imported, &mut diary).is_ok());
                // The diary itself says that nobody built a heap in the year 0.
                let found = diary.check();
                prop_assert!(matches!(found, Ok(()) | Err(DiaryError::Year { .. })), "{found:?}");
        }
    }
}

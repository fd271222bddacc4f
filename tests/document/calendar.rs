//! Dates as iCalendar, read back by another parser than the one that wrote them (`calcard`).
//!
//! What is asked for stands in RFC 5545: lines of at most 75 octets that end in CRLF (3.1), text escaped (3.3.11),
//! whole days by `VALUE=DATE` with an end that is not part of it (3.6.1), `UID` and `DTSTAMP` in every entry (3.6.1),
//! `SEQUENCE` that grows (3.8.7.4). Dates by the Gregorian calendar.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::LazyLock;

use calcard::common::PartialDateTime;
use calcard::icalendar::{
    ICalendar, ICalendarComponent, ICalendarComponentType, ICalendarProperty, ICalendarValue,
};
use heapwright::assess::Schedule;
use heapwright::document::{Project, file};
use heapwright::export::{Assessment, CalendarFile, calendar, calendar_name};
use heapwright::heap::{Event, Operation, Turning};
use heapwright::outcome::next_days::MOST;
use heapwright::outcome::shared;
use heapwright::quantity::UnitSystem;
use heapwright::text::next_days::{SaidOf, as_text};
use jiff::civil::{Date, DateTime, date};

use crate::sample::catalogue;

/// A project with what was calculated of it, so that its words and dates can be others without another run.
struct Kept {
    project: Project,
    assessment: Assessment<'static>,
}

fn demo(name: &str) -> Kept {
    let path = format!(
        "{}/demo-data/withybed-{name}.heap.ron",
        env!("CARGO_MANIFEST_DIR")
    );
    let mut project = file::read(Path::new(&path), catalogue()).unwrap().project;
    project.heap.plan.events = [9.0, 20.0]
        .map(|day| Event {
            repeat: None,
            day,
            operation: Operation::Turn {
                turning: Turning::InsideOut,
                wet_to: Some(0.55),
            },
        })
        .to_vec();
    let held: &'static Project = Box::leak(Box::new(project.clone()));
    let assessment = Assessment::of(held, catalogue()).unwrap();
    Kept {
        project,
        assessment,
    }
}

fn grass() -> &'static Kept {
    static KEPT: LazyLock<Kept> = LazyLock::new(|| demo("spring-grass"));
    &KEPT
}

impl Kept {
    fn schedule(&self, project: &Project, today: Date) -> Schedule {
        Schedule::of(
            project,
            self.assessment.projection.as_ref().unwrap(),
            self.assessment.outcome.as_ref().unwrap(),
            shared().unwrap(),
            today,
        )
    }

    fn of<'a>(&'a self, project: &'a Project) -> SaidOf<'a> {
        SaidOf {
            project,
            catalogue: &self.assessment.catalogue,
            units: UnitSystem::Metric,
        }
    }

    /// The file as written on a day at noon.
    fn written(&self, project: &Project, name: &str, today: Date) -> String {
        calendar(&CalendarFile {
            schedule: &self.schedule(project, today),
            of: self.of(project),
            name,
            written: today.at(12, 0, 0, 0),
        })
    }
}

/// An entry as the other parser reads it.
#[derive(Debug, Clone, PartialEq)]
struct Read {
    start: Date,
    end: Date,
    stamp: DateTime,
    sequence: i64,
    summary: String,
    description: String,
    place: String,
}

fn text(entry: &ICalendarComponent, property: &ICalendarProperty) -> String {
    let found = entry.property(property);
    let value = found.and_then(|found| found.values.first()?.as_text());
    value.unwrap_or_default().to_owned()
}

fn moment(entry: &ICalendarComponent, property: &ICalendarProperty) -> PartialDateTime {
    match &entry.property(property).unwrap().values[..] {
        [ICalendarValue::PartialDateTime(moment)] => (**moment).clone(),
        other => panic!("{property:?}: {other:?}"),
    }
}

fn day(read: &PartialDateTime) -> Date {
    let part = |part: Option<u8>| i8::try_from(part.unwrap()).unwrap();
    let year = i16::try_from(read.year.unwrap()).unwrap();
    date(year, part(read.month), part(read.day))
}

/// All entries by UID, after the rules that hold for every file.
fn read(text_of_file: &str) -> BTreeMap<String, Read> {
    for line in text_of_file.split("\r\n") {
        assert!(line.len() <= 75, "{} octets: {line}", line.len());
        assert!(!line.contains(['\n', '\r']), "{line:?}");
    }
    assert!(text_of_file.ends_with("END:VCALENDAR\r\n"));
    let parsed = ICalendar::parse(text_of_file).unwrap();
    let whole = &parsed.components[0];
    assert_eq!(whole.component_type, ICalendarComponentType::VCalendar);
    assert!(text(whole, &ICalendarProperty::Prodid).starts_with("-//Heapwright//"));
    let mut all = BTreeMap::new();
    for entry in &parsed.components[1..] {
        assert_eq!(
            entry.component_type,
            ICalendarComponentType::VEvent,
            "no alarm"
        );
        let (start, end) = (
            moment(entry, &ICalendarProperty::Dtstart),
            moment(entry, &ICalendarProperty::Dtend),
        );
        assert!(start.hour.is_none() && end.hour.is_none(), "whole days");
        let stamp = moment(entry, &ICalendarProperty::Dtstamp);
        assert_eq!(stamp.tz_hour, Some(0), "in UTC");
        let at = |part: Option<u8>| i8::try_from(part.unwrap()).unwrap();
        let sequence = match &entry.property(&ICalendarProperty::Sequence).unwrap().values[..] {
            [ICalendarValue::Integer(number)] => *number,
            other => panic!("{other:?}"),
        };
        let before = all.insert(
            entry.uid().unwrap().to_owned(),
            Read {
                start: day(&start),
                end: day(&end),
                stamp: day(&stamp).at(at(stamp.hour), at(stamp.minute), at(stamp.second), 0),
                sequence,
                summary: text(entry, &ICalendarProperty::Summary),
                description: text(entry, &ICalendarProperty::Description),
                place: text(entry, &ICalendarProperty::Location),
            },
        );
        assert_eq!(before, None, "a UID twice");
    }
    all
}

#[test]
fn another_parser_reads_whole_days_none_twice_and_none_in_the_past() {
    let kept = grass();
    let mut project = kept.project.clone();
    project.diary.built = Some(date(2026, 4, 25).at(10, 30, 0, 0));
    let today = date(2026, 4, 29);
    let entries = read(&kept.written(&project, "grass", today));
    assert!((5..=MOST).contains(&entries.len()), "{}", entries.len());
    let mut days: Vec<Date> = entries.values().map(|it| it.start).collect();
    days.sort();
    days.dedup();
    assert_eq!(days.len(), entries.len(), "one entry a day");
    for entry in entries.values() {
        assert!(entry.start >= today);
        assert_eq!(entry.end, entry.start.tomorrow().unwrap());
        assert_eq!(
            entry.stamp,
            today.at(12, 0, 0, 0),
            "the time that was handed in"
        );
        assert_eq!(entry.place, "Withybed School Garden, bay 2");
        assert!(
            entry.summary.starts_with("Spring grass glut: "),
            "{entry:?}"
        );
    }
    // The two turnings of the plan are there, 9 and 20 days after the building.
    for turning in [date(2026, 5, 4), date(2026, 5, 15)] {
        let turns = |it: &&Read| it.start == turning && it.summary.contains("turn it inside out");
        assert_eq!(entries.values().filter(turns).count(), 1, "{turning}");
    }
}

#[test]
fn another_title_and_other_dates_keep_the_uids_and_raise_the_sequence() {
    let kept = grass();
    let mut project = kept.project.clone();
    project.diary.built = Some(date(2026, 4, 25).at(10, 0, 0, 0));
    let first = read(&kept.written(&project, "grass", date(2026, 4, 25)));
    project.title = "Quite another name".to_owned();
    project.place = "elsewhere".to_owned();
    project.diary.built = Some(date(2026, 4, 28).at(10, 0, 0, 0));
    let second = read(&kept.written(&project, "grass", date(2026, 4, 28)));
    let uids = |of: &BTreeMap<String, Read>| of.keys().cloned().collect::<Vec<_>>();
    assert_eq!(uids(&first), uids(&second));
    for (uid, before) in &first {
        let after = &second[uid];
        assert_eq!(
            (after.start - before.start).get_days(),
            3,
            "moved with the heap"
        );
        assert!(after.sequence > before.sequence);
        assert!(after.summary.starts_with("Quite another name: "));
    }
    // Seen a week later, what is left keeps its name: the calendar is updated and not filled twice.
    let later = read(&kept.written(&project, "grass", date(2026, 5, 5)));
    assert!(!later.is_empty());
    for (uid, entry) in later.iter().filter(|(uid, _)| second.contains_key(*uid)) {
        assert_eq!(entry.start, second[uid].start, "{entry:?}");
    }
    // Another file is another heap.
    let other = read(&kept.written(&project, "grass 2", date(2026, 4, 28)));
    assert!(other.keys().all(|uid| !second.contains_key(uid)));
    assert_eq!(calendar_name(Path::new("/a/b/grass 2.heap.ron")), "grass 2");
}

#[test]
fn commas_semicolons_backslashes_newlines_and_umlauts_come_back_as_they_were() {
    let kept = grass();
    let mut project = kept.project.clone();
    let title = "Grünschnitt, Laub; \"zweiter\" Versuch \\ 堆肥 und noch viele weitere Wörter, für zwei Zeilen";
    project.title = title.to_owned();
    project.place = "Beet 2; hinten,\nlinks \\ am Zaun".to_owned();
    let written = kept.written(&project, "grün", date(2026, 4, 25));
    assert!(written.contains("\r\n "), "a line that long is folded");
    for entry in read(&written).values() {
        assert!(
            entry.summary.starts_with(&format!("{title}: ")),
            "{entry:?}"
        );
        assert_eq!(entry.place, "Beet 2; hinten, links \\ am Zaun");
    }
    let whys: Vec<String> = read(&written)
        .into_values()
        .map(|it| it.description)
        .collect();
    assert!(
        whys.iter()
            .any(|why| why.contains("As planned. Read the thermometer first."))
    );
}

#[test]
fn new_year_and_a_leap_day_are_days_like_others() {
    let kept = grass();
    let mut project = kept.project.clone();
    let turned = |project: &Project, today: Date| {
        let entries = read(&kept.written(project, "grass", today));
        let turns = entries
            .into_values()
            .filter(|it| it.summary.contains("inside out"));
        let mut days: Vec<Date> = turns.map(|it| it.start).collect();
        days.sort();
        days
    };
    // Built on 26 December: 9 and 20 days later are 4 and 15 January.
    project.diary.built = Some(date(2026, 12, 26).at(9, 0, 0, 0));
    assert_eq!(
        turned(&project, date(2026, 12, 26)),
        [date(2027, 1, 4), date(2027, 1, 15)]
    );
    // 2028 has a 29 February: 9 days after the 20th, and 20 days after it the 11 March; 2027 has none.
    project.diary.built = Some(date(2028, 2, 20).at(9, 0, 0, 0));
    assert_eq!(
        turned(&project, date(2028, 2, 20)),
        [date(2028, 2, 29), date(2028, 3, 11)]
    );
    project.diary.built = Some(date(2027, 2, 20).at(9, 0, 0, 0));
    assert_eq!(
        turned(&project, date(2027, 2, 20)),
        [date(2027, 3, 1), date(2027, 3, 12)]
    );
    // What is planned for half past nine in the evening of a day falls on that day: 0.5 days after 21:00 is the next.
    project.diary.built = Some(date(2027, 2, 20).at(21, 0, 0, 0));
    project.heap.plan.events[0].day = 8.5;
    assert_eq!(turned(&project, date(2027, 2, 20))[0], date(2027, 3, 1));
}

#[test]
fn a_heap_that_does_not_stand_is_dated_from_its_next_day_of_the_year() {
    let kept = grass();
    let mut project = kept.project.clone();
    project.diary.built = None;
    // Day 60 of a common year is 1 March, in a leap year as well.
    project.heap.start_day_of_year = 60.0;
    for (today, built) in [
        (date(2027, 1, 10), date(2027, 3, 1)),
        (date(2027, 3, 1), date(2027, 3, 1)),
        (date(2027, 3, 2), date(2028, 3, 1)),
        (date(2028, 2, 29), date(2028, 3, 1)),
    ] {
        let schedule = kept.schedule(&project, today);
        assert_eq!(schedule.built, built, "{today}");
        assert!(!schedule.stands);
        assert_eq!(schedule.days[0].date, built, "the building comes first");
        let told = as_text(&schedule, &kept.of(&project));
        assert!(told.contains("does not stand yet"), "{told}");
        assert!(told.contains("Build the heap"), "{told}");
    }
}

#[test]
fn a_heap_with_a_diary_is_dated_by_what_its_readings_teach() {
    let path = format!(
        "{}/demo-data/withybed-autumn-diary.heap.ron",
        env!("CARGO_MANIFEST_DIR")
    );
    let project = file::read(Path::new(&path), catalogue()).unwrap().project;
    let mut out = Vec::new();
    let arguments = [
        "heapwright",
        "dates",
        &path,
        "--today",
        "2026-11-27",
        "--units",
        "metric",
    ];
    let code =
        heapwright::command::run(arguments.map(Into::into), &mut out, &mut Vec::new(), |_| {
            Ok(())
        });
    assert_eq!(code, 0);
    let out = String::from_utf8(out).unwrap();
    let dated = |assessment: &Assessment<'_>| {
        let schedule = Schedule::of(
            &project,
            assessment.projection.as_ref().unwrap(),
            assessment.outcome.as_ref().unwrap(),
            shared().unwrap(),
            date(2026, 11, 27),
        );
        let of = SaidOf {
            project: &project,
            catalogue: &assessment.catalogue,
            units: UnitSystem::Metric,
        };
        as_text(&schedule, &of)
    };
    let learnt = Assessment::as_learnt(&project, catalogue()).unwrap();
    assert_eq!(out, dated(&learnt));
    // The demo's heap is not the one of its recipe, as its notes say; so its dates are others.
    let planned = Assessment::of(&project, catalogue()).unwrap();
    assert_ne!(out, dated(&planned));
    // And it is the one that is nearer to the thermometer's last word, 49.5 degC in the middle.
    let off = |assessment: &Assessment<'_>| {
        let day = project
            .diary
            .day_of(date(2026, 11, 25).at(16, 0, 0, 0))
            .unwrap();
        let record = assessment.projection.as_ref().unwrap().at(day).unwrap();
        (record.centre_c - 49.5).abs()
    };
    println!(
        "off by {:.1} K as learnt, {:.1} K as planned",
        off(&learnt),
        off(&planned)
    );
    assert!(off(&learnt) < off(&planned));
}

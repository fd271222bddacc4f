//! Logger files as other tools write them, held against what pandas and Python's zoneinfo read in them.
//!
//! Vectors: `tests/reference/logger.csv`, made with the files in `tests/logger/` by
//! `tests/reference/make_logger.py` (pandas 3.1, IANA time zones).

use std::collections::BTreeMap;
use std::path::Path;

use heapwright::diary::import::{
    Choices, Clock, ColumnUse, DateOrder, DecimalSign, Delimiter, Encoding, Flag, Guess, How,
    Import, Imported, Keep, MomentKind, Place, Spikes, Unit, import,
};
use jiff::civil::date;

/// Half a second, d: days are kept to 0.86 s.
const HALF_SECOND_D: f64 = 0.5 / 86_400.0;

pub fn bytes_of(name: &str) -> Vec<u8> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/logger");
    std::fs::read(folder.join(name)).unwrap()
}

/// Every reading kept, spikes and all, so that nothing but reading is tested.
fn every() -> Choices {
    Choices {
        keep: Some(Keep::Every),
        spikes: Spikes::Taken,
        ..Choices::default()
    }
}

fn london() -> Choices {
    Choices {
        clock: Clock::Zone("Europe/London".to_owned()),
        ..every()
    }
}

/// Probe and its readings: seconds since the first, degC.
type Vectors = BTreeMap<String, Vec<(f64, f64)>>;

fn vectors(file: &str) -> Vectors {
    let mut all = Vectors::new();
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/reference/logger.csv");
    for row in csv::Reader::from_path(path).unwrap().records() {
        let row = row.unwrap();
        if &row[0] == file {
            let point = (row[2].parse().unwrap(), row[3].parse().unwrap());
            all.entry(row[1].to_owned()).or_default().push(point);
        }
    }
    assert!(!all.is_empty(), "no vectors for {file}");
    all
}

/// Reads a file and holds every probe against the vectors.
fn check(name: &str, choices: &Choices) -> (Import, Imported) {
    let found = import(&bytes_of(name), choices).unwrap();
    let imported = found.imported.clone().expect("rows");
    let expected = vectors(name);
    let names: Vec<&str> = imported.probes.iter().map(|p| p.name.as_str()).collect();
    assert_eq!(names.len(), expected.len(), "{name}: {names:?}");
    for probe in &imported.probes {
        let expected = &expected[&probe.name];
        assert_eq!(probe.temperatures_c.len(), expected.len(), "{name}");
        for ((day, value), (seconds, celsius)) in probe.temperatures_c.iter().zip(expected) {
            let off = (day - seconds / 86_400.0).abs();
            assert!(off < HALF_SECOND_D, "{name} {}: {day} d", probe.name);
            assert!((value - celsius).abs() < 0.001, "{name}: {value} {celsius}");
        }
        let rising = probe.temperatures_c.windows(2).all(|p| p[0].0 < p[1].0);
        assert!(rising, "{name}");
    }
    let rows = imported.rows;
    assert_eq!(rows.good + rows.bad + rows.gaps, rows.all, "{name}");
    assert!(imported.bad.is_empty(), "{name}: {:?}", imported.bad);
    (found, imported)
}

fn by<T>(value: T, how: How) -> Guess<T> {
    Guess { value, how }
}

#[test]
fn semicolons_decimal_commas_and_two_columns_for_the_moment() {
    let (found, imported) = check("semicolons.csv", &every());
    let it = found.understood;
    assert_eq!(it.encoding.value, Encoding::Windows1252);
    assert_eq!(it.delimiter, by(Delimiter::Semicolon, How::Values));
    assert_eq!(it.decimal, by(DecimalSign::Comma, How::Values));
    assert_eq!(it.order, Some(by(DateOrder::DayFirst, How::Values)));
    let uses: Vec<ColumnUse> = it.columns.iter().map(|column| column.holds.value).collect();
    let temperature = ColumnUse::Temperature;
    assert_eq!(
        uses,
        [
            ColumnUse::Date,
            ColumnUse::Time,
            temperature,
            temperature,
            temperature
        ]
    );
    assert!(
        it.probes
            .iter()
            .all(|p| p.unit == by(Unit::Celsius, How::Heading))
    );
    assert_eq!(it.probes[2].place, by(Place::Air, How::Heading));
    assert!(matches!(it.probes[1].place.value, Place::Heap(spot) if spot.out > 0.5));
    // Two hours of "---" are gaps, not errors.
    assert_eq!((imported.rows.gaps, imported.rows.bad), (2, 0));
    assert_eq!(imported.built.value, date(2025, 5, 30).at(18, 0, 0, 0));
    // The air's probe is compared with, not taken.
    assert_eq!(imported.taken().count(), 2);
}

#[test]
fn days_of_a_spreadsheet() {
    let (found, imported) = check("spreadsheet.csv", &every());
    assert_eq!(found.understood.kind, MomentKind::SpreadsheetDays);
    // Over the leap day of 2024.
    assert_eq!(imported.built.value, date(2024, 2, 28).at(9, 30, 0, 0));
}

#[test]
fn utf_16_with_and_without_a_mark() {
    let (found, _) = check("utf16.csv", &every());
    assert_eq!(found.understood.encoding.value, Encoding::Utf16Le);
    assert_eq!(found.understood.delimiter.value, Delimiter::Tab);
    let (found, _) = check("utf16be-bare.csv", &every());
    assert_eq!(found.understood.encoding.value, Encoding::Utf16Be);
    assert_eq!(found.understood.delimiter.value, Delimiter::Pipe);
}

#[test]
fn quotes_with_line_breaks_and_a_remark() {
    let (found, imported) = check("quotes.csv", &every());
    assert!(found.understood.quoted);
    assert_eq!(found.understood.delimiter.value, Delimiter::Comma);
    assert_eq!(found.understood.decimal.value, DecimalSign::Comma);
    assert_eq!(found.understood.columns[3].holds.value, ColumnUse::Nothing);
    // The headings run over lines 1 to 4.
    assert_eq!(imported.first[0].line, 5);
}

#[test]
fn a_preamble_and_a_row_of_units() {
    let (found, imported) = check("preamble.csv", &every());
    assert_eq!(found.understood.preamble, 4, "blank lines are no rows");
    assert_eq!(found.understood.columns[0].holds.value, ColumnUse::Nothing);
    assert_eq!(found.understood.columns[4].holds.value, ColumnUse::Nothing);
    // A month's name needs no order.
    assert_eq!(found.understood.order, None);
    assert_eq!(imported.first[0].line, 8);
    assert_eq!(imported.built.value, date(2025, 7, 13).at(6, 0, 0, 0));
}

#[test]
fn month_first_twelve_hours_and_fahrenheit() {
    let (found, imported) = check("month-first.csv", &every());
    let it = found.understood;
    assert_eq!(it.order, Some(by(DateOrder::MonthFirst, How::Values)));
    assert!(it.twelve_hours);
    assert!(
        it.probes
            .iter()
            .all(|p| p.unit == by(Unit::Fahrenheit, How::Heading))
    );
    assert_eq!(imported.built.value, date(2024, 7, 3).at(22, 30, 0, 0));
    assert!(
        imported
            .flags
            .iter()
            .any(|flag| matches!(flag, Flag::Gap { probe: None, .. })),
        "nine days without readings: {:?}",
        imported.flags
    );
}

#[test]
fn the_sequence_of_days_tells_their_order_and_a_choice_stands_above_it() {
    let name = "order-by-sequence.csv";
    let (found, _) = check(name, &every());
    let order = found.understood.order;
    assert_eq!(order, Some(by(DateOrder::DayFirst, How::Sequence)));
    let choices = Choices {
        order: Some(DateOrder::MonthFirst),
        ..every()
    };
    let found = import(&bytes_of(name), &choices).unwrap();
    let order = found.understood.order;
    assert_eq!(order, Some(by(DateOrder::MonthFirst, How::Chosen)));
    let built = found.imported.unwrap().built.value;
    assert_eq!(built, date(2024, 3, 2).at(0, 0, 0, 0));
    // One day alone leaves it open, and that is said.
    let found = import(b"t,core\n03/02/2024 10:00,40\n", &every()).unwrap();
    let order = found.understood.order;
    assert_eq!(order, Some(by(DateOrder::DayFirst, How::Assumed)));
}

#[test]
fn the_nights_of_daylight_saving() {
    // 27 October 2024: 01:00 to 02:00 comes twice in London. 30 March 2025: it never comes.
    let (_, imported) = check("london-autumn.csv", &london());
    let twice = date(2024, 10, 27).at(1, 0, 0, 0);
    assert!(imported.flags.contains(&Flag::Twice {
        first: twice,
        count: 4
    }));
    let (_, imported) = check("london-spring.csv", &london());
    assert_eq!(imported.flags, []);
    let (_, imported) = check("london-skipped.csv", &london());
    let skipped = date(2025, 3, 30).at(2, 0, 0, 0);
    assert!(imported.flags.contains(&Flag::Skipped {
        first: skipped,
        count: 2
    }));
}

#[test]
fn without_a_zone_the_clock_on_the_wall_is_taken_and_its_jump_is_said() {
    let found = import(&bytes_of("london-autumn.csv"), &every()).unwrap();
    let imported = found.imported.unwrap();
    assert!(imported.flags.contains(&Flag::ClockBack {
        at: date(2024, 10, 27).at(1, 0, 0, 0),
        back_s: 1800
    }));
    let repeated = |flag: &&Flag| matches!(flag, Flag::Repeated { count: 2, .. });
    assert_eq!(imported.flags.iter().filter(repeated).count(), 2);
    assert_eq!(imported.probes[0].temperatures_c.len(), 38);
}

#[test]
fn offsets_and_unix_seconds_need_no_zone() {
    let (found, imported) = check("offsets.csv", &every());
    assert!(found.understood.has_offsets);
    // By the clock of the first row, an hour ahead of UTC.
    assert_eq!(imported.built.value, date(2024, 10, 26).at(23, 0, 0, 0));
    check("offsets.csv", &london());
    let (found, imported) = check("unix.csv", &every());
    assert_eq!(found.understood.kind, MomentKind::UnixSeconds);
    let kelvin = by(Unit::Kelvin, How::Values);
    assert!(found.understood.probes.iter().all(|p| p.unit == kelvin));
    // 1 750 000 000 s are 2025-06-15T15:06:40Z (pandas).
    assert_eq!(imported.built.value, date(2025, 6, 15).at(15, 6, 40, 0));
    let (_, imported) = check("unix.csv", &london());
    assert_eq!(imported.built.value, date(2025, 6, 15).at(16, 6, 40, 0));
}

#[test]
fn names_of_probes_in_a_column() {
    let (found, imported) = check("long.csv", &every());
    assert_eq!(
        found.understood.columns[0].holds.value,
        ColumnUse::ProbeName
    );
    assert_eq!(imported.probes[2].place, Place::Air);
    assert_eq!(imported.rows.good, 60);
}

#[test]
fn the_newest_row_first() {
    let (found, imported) = check("newest-first.csv", &every());
    assert!(found.understood.newest_first);
    assert_eq!(imported.built.value, date(2025, 8, 1).at(0, 0, 0, 0));
    assert_eq!(imported.flags, [], "turning it round is no clock jump");
}

#[test]
fn means_of_every_hour() {
    let choices = Choices {
        keep: Some(Keep::Hourly),
        ..every()
    };
    check("ten-minutes.csv", &choices);
}

#[test]
fn every_guess_can_be_chosen_otherwise() {
    let bytes = bytes_of("semicolons.csv");
    let mut choices = every();
    choices.unit = Some(Unit::Kelvin);
    choices.encoding = Some(Encoding::Utf8);
    choices.decimal = Some(DecimalSign::Point);
    choices.columns.insert(4, ColumnUse::Nothing);
    choices.built = Some(date(2025, 5, 1).at(0, 0, 0, 0));
    let found = import(&bytes, &choices).unwrap();
    let it = &found.understood;
    assert_eq!(it.encoding.how, How::Chosen);
    assert_eq!(it.probes.len(), 2);
    assert_eq!(it.probes[0].unit, by(Unit::Kelvin, How::Chosen));
    // "15,0" is no number with a point, and no reading is 150 K.
    let imported = found.imported.unwrap();
    assert_eq!(imported.rows.bad, 58);
    assert_eq!(imported.built.how, How::Chosen);
    choices.delimiter = Some(Delimiter::Pipe);
    let found = import(&bytes, &choices).unwrap();
    assert_eq!(found.understood.delimiter.how, How::Chosen);
    assert_eq!(found.imported, None, "one column is neither");
}

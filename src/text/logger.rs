//! Words about a logger's file: what was understood, what is odd, which rows were not taken and why.
//!
//! In: what `diary::import` found. Out: words and sentences.
//!
//! Not here: finding it (`diary::import`), how it is laid out (`window`).
//!
//! Tested by: `tests/window/import.rs`.

use crate::diary::Spot;
use crate::diary::import::{
    AirWhy, BadRow, BadWhy, ColumnUse, DateOrder, DecimalSign, Delimiter, Encoding, Flag, How,
    Imported, Keep, Lack, Merged, MomentKind, Place, Spikes, Understood, Unit,
};
use crate::quantity::UnitSystem;

use super::diary::{self, moment};
use super::number::{count, temperature};

/// Heading of the sheet.
pub const HEADING: &str = "Import a logger file";
/// While the file is read.
pub const READING: &str = "Reading the file …";
/// Heading over what was understood.
pub const UNDERSTOOD: &str = "How the file is understood";
/// Heading over the columns.
pub const COLUMNS: &str = "Columns";
/// Heading over the probes.
pub const PROBES: &str = "Probes";
/// Heading over the first rows.
pub const FIRST_ROWS: &str = "First rows as they would be taken";
/// Heading over what looks odd.
pub const ODD: &str = "What looks odd";
/// Nothing looks odd.
pub const NOTHING_ODD: &str = "Nothing.";
/// Heading over bad rows.
pub const BAD_ROWS: &str = "Rows that are not taken, or not wholly";
/// Title of the column of moments.
pub const WHEN: &str = "When";
/// Title of the column of line numbers.
pub const LINE: &str = "Line";
/// What undo calls it.
pub const TAKEN: &str = "readings of a logger";
/// The readings do not go into the diary.
pub fn not_taken(problem: &impl std::fmt::Display) -> String {
    format!("not taken: {problem}")
}

/// Where nothing was measured.
pub const NO_READING: &str = "-";
/// The heap was built when the first row was written.
pub const FIRST_ROW: &str = "as the first row";
/// Longest name of a probe, characters.
pub const NAME_LIMIT: usize = 60;

/// A temperature as a logger shows it, to the tenth.
pub fn reading(celsius: f64, units: UnitSystem) -> String {
    let unit = units.temperature_unit();
    format!("{:.1} {unit}", units.temperature(celsius))
}

/// Name of the tick that takes a probe.
pub fn take_probe(probe: &str) -> String {
    format!("Take {probe}")
}

/// Name of the field with a probe's name.
pub fn name_of_probe(probe: &str) -> String {
    format!("Name of {probe}")
}

/// Name of the list of places.
pub fn place_of_probe(probe: &str) -> String {
    format!("Where {probe} sits")
}

/// A column by its number, from 1, and its heading.
pub fn column(at: usize, heading: &str) -> String {
    format!("{} {heading}", at + 1)
}

/// Name of the list of what a column holds.
pub fn use_of_column(at: usize) -> String {
    format!("What column {} holds", at + 1)
}

/// Names of the choices, in the order of the sheet.
pub mod choice {
    /// Letters.
    pub const ENCODING: &str = "Letters";
    /// Between columns.
    pub const DELIMITER: &str = "Between columns";
    /// Before tenths.
    pub const DECIMAL: &str = "Decimal sign";
    /// Of a date.
    pub const ORDER: &str = "Order of a date";
    /// Time zone.
    pub const ZONE: &str = "Time zone";
    /// Unit.
    pub const UNIT: &str = "Unit";
    /// Day of building.
    pub const BUILT: &str = "Heap built";
    /// How many are kept.
    pub const KEEP: &str = "Readings kept";
    /// Spikes.
    pub const SPIKES: &str = "Spikes";
    /// What stands in the field of the zone while it is empty.
    pub const ZONE_HINT: &str = "clock at the heap";
    /// What the zone does.
    pub const ZONE_TIP: &str = "Leave it empty for the clock at the heap, or write a zone such as Europe/London: then \
        the hour of daylight saving is taken out.";
    /// A zone that is none.
    pub const NO_ZONE: &str = "no such zone";
    /// What the day of building does.
    pub const BUILT_TIP: &str = "When the heap was built, by its own clock, such as 2025-06-01 18:00; rows before it \
        are not taken.";
    /// A moment that is none.
    pub const NO_MOMENT: &str = "write it as 2025-06-01 18:00";
}

/// Places a probe can sit in, in the order of the list; by the names that the diary has for them.
pub const PLACES: [(&str, Place); 7] = [
    ("middle", Place::Heap(Spot::CENTRE)),
    ("edge", Place::Heap(Spot::EDGE)),
    ("top", Place::Heap(Spot::TOP)),
    ("foot", Place::Heap(Spot::FOOT)),
    ("top edge", at_edge(Spot::TOP)),
    ("foot edge", at_edge(Spot::FOOT)),
    ("in the air", Place::Air),
];

/// As high as this, at the edge.
const fn at_edge(spot: Spot) -> Place {
    let out = Spot::EDGE.out;
    Place::Heap(Spot { out, ..spot })
}

/// Where a probe sits.
pub fn place(place: Place) -> String {
    let known = PLACES.iter().find(|(_, other)| *other == place);
    match (known, place) {
        (Some((name, _)), _) => (*name).to_owned(),
        (None, Place::Heap(spot)) => diary::place(spot),
        (None, Place::Air) => String::new(),
    }
}

/// How letters are written.
pub fn encoding(encoding: Encoding) -> &'static str {
    match encoding {
        Encoding::Utf8 => "UTF-8",
        Encoding::Utf16Le => "UTF-16, low byte first",
        Encoding::Utf16Be => "UTF-16, high byte first",
        Encoding::Windows1252 => "Windows-1252",
    }
}

/// What stands between columns.
pub fn delimiter(delimiter: Delimiter) -> &'static str {
    match delimiter {
        Delimiter::Comma => "comma",
        Delimiter::Semicolon => "semicolon",
        Delimiter::Tab => "tab",
        Delimiter::Pipe => "upright stroke",
    }
}

/// What stands before tenths.
pub fn decimal(sign: DecimalSign) -> &'static str {
    match sign {
        DecimalSign::Point => "point, 55.3",
        DecimalSign::Comma => "comma, 55,3",
    }
}

/// Order of a date.
pub fn order(order: DateOrder) -> &'static str {
    match order {
        DateOrder::DayFirst => "day, month, year",
        DateOrder::MonthFirst => "month, day, year",
        DateOrder::YearFirst => "year, month, day",
    }
}

/// Unit.
pub fn unit(unit: Unit) -> &'static str {
    match unit {
        Unit::Celsius => "°C",
        Unit::Fahrenheit => "°F",
        Unit::Kelvin => "K",
    }
}

/// What a column holds.
pub fn column_use(column: ColumnUse) -> &'static str {
    match column {
        ColumnUse::Moment => "date and time",
        ColumnUse::Date => "date",
        ColumnUse::Time => "time",
        ColumnUse::Temperature => "temperature",
        ColumnUse::ProbeName => "name of the probe",
        ColumnUse::Nothing => "not taken",
    }
}

/// How many readings are kept.
pub fn keep(keep: Keep) -> &'static str {
    match keep {
        Keep::Every => "every one",
        Keep::Hourly => "mean of each hour",
    }
}

/// What becomes of spikes.
pub fn spikes(spikes: Spikes) -> &'static str {
    match spikes {
        Spikes::LeftOut => "left out",
        Spikes::Taken => "taken",
    }
}

/// How something was found out.
pub fn how(how: How) -> &'static str {
    match how {
        How::Chosen => "chosen",
        How::Values => "by the values",
        How::Heading => "by its heading",
        How::Sequence => "by how the days follow each other",
        How::Assumed => "assumed, please check",
    }
}

/// How the order of a date was found out; a date that leaves it open is said so.
pub fn how_order(found: How) -> &'static str {
    match found {
        How::Assumed => "the dates leave it open, please check",
        other => how(other),
    }
}

/// What else was understood, in a line.
pub fn remarks(found: &Understood) -> String {
    let mut said = Vec::new();
    match found.kind {
        MomentKind::Written => {}
        MomentKind::SpreadsheetDays => said.push("dates are a spreadsheet's day numbers"),
        MomentKind::UnixSeconds => said.push("times are seconds since 1970, UTC"),
        MomentKind::UnixMillis => said.push("times are milliseconds since 1970, UTC"),
    }
    if found.has_offsets {
        said.push("times bear their offset from UTC");
    }
    if found.twelve_hours {
        said.push("12-hour clock");
    }
    if found.newest_first {
        said.push("newest row first");
    }
    if !found.quoted {
        said.push("a quotation mark is never closed, so all are read as letters");
    }
    if !found.has_headings {
        said.push("no headings");
    }
    let mut all = said.join("; ");
    if found.preamble > 0 {
        let rows = count(
            found.preamble,
            "row above the headings",
            "rows above the headings",
        );
        all = [all, rows].join(if said.is_empty() { "" } else { "; " });
    }
    super::sentence(&all)
}

/// What is missing before rows can be taken.
pub fn lack(lack: Lack) -> &'static str {
    match lack {
        Lack::Moment => {
            "No column with dates was found. Choose the column that holds date and time, or another sign between columns."
        }
        Lack::Temperature => "No column with temperatures was found. Choose one below.",
    }
}

/// How many rows there are of each kind.
pub fn rows(imported: &Imported) -> String {
    let rows = imported.rows;
    format!(
        "{}: {} taken, {} bad, {} without a reading. {} read.",
        count(rows.all, "row", "rows"),
        rows.good,
        rows.bad,
        rows.gaps,
        count(
            imported.probes.iter().map(|probe| probe.read).sum(),
            "temperature",
            "temperatures"
        )
    )
}

/// What is told of a file that is taken unseen: its rows, those that are bad, what looks odd.
pub fn told(imported: &Imported, units: UnitSystem) -> Vec<String> {
    let mut all = vec![rows(imported)];
    all.extend(imported.bad.iter().map(|row| bad_row(row, imported, units)));
    let unlisted = imported.rows.bad.saturating_sub(imported.bad.len());
    all.extend((unlisted > 0).then(|| and_more(unlisted)));
    all.extend(imported.flags.iter().map(|it| flag(it, imported, units)));
    all.extend((imported.more_flags > 0).then(|| and_more(imported.more_flags)));
    all
}

/// The button that takes them.
pub fn take(readings: usize) -> String {
    format!("Take {}", count(readings, "reading", "readings"))
}

/// Told once they are in the diary.
pub fn taken(merged: &Merged) -> String {
    let new = count(merged.added, "reading", "readings");
    let of = count(merged.probes, "probe", "probes");
    match merged.known {
        0 => format!("{new} of {of} in the diary; one undo takes them back"),
        known => format!("{new} of {of} in the diary; {known} were there already"),
    }
}

/// How many more of a list there are.
pub fn and_more(number: usize) -> String {
    format!("and {number} more")
}

fn name_of(probe: usize, imported: &Imported) -> &str {
    imported
        .probes
        .get(probe)
        .map_or("", |probe| probe.name.as_str())
}

/// Why a row was not taken.
pub fn bad_row(row: &BadRow, imported: &Imported, units: UnitSystem) -> String {
    let why = match &row.why {
        BadWhy::NoMoment => "no date or time".to_owned(),
        BadWhy::NotAMoment(text) => format!("`{text}` is no date and time"),
        BadWhy::NoProbe => "no probe is named".to_owned(),
        BadWhy::NotANumber { probe, text } => {
            format!("{}: `{text}` is no number", name_of(*probe, imported))
        }
        BadWhy::OutOfRange { probe, found_c } => format!(
            "{}: {} is no temperature of a heap",
            name_of(*probe, imported),
            temperature(*found_c, units)
        ),
        BadWhy::BeforeBuilt(at) => format!("{}, before the heap was built", moment(*at)),
        BadWhy::TooLate(at) => format!("{}, years after the heap was built", moment(*at)),
    };
    format!("line {}: {why}", row.line)
}

/// Something odd.
pub fn flag(flag: &Flag, imported: &Imported, units: UnitSystem) -> String {
    let name = |probe: usize| name_of(probe, imported);
    match flag {
        Flag::Repeated {
            probe,
            first,
            count: times,
        } => format!(
            "{}: {} again, first {}; the first reading of each is taken",
            name(*probe),
            count(*times, "moment comes", "moments come"),
            moment(*first)
        ),
        Flag::Gap { probe, from, to } => format!(
            "{}: nothing from {} to {}",
            probe.map_or("all probes", name),
            moment(*from),
            moment(*to)
        ),
        Flag::Spike {
            probe,
            at,
            found_c,
            beside_c,
        } => format!(
            "{}: {} at {}, {} beside it",
            name(*probe),
            temperature(*found_c, units),
            moment(*at),
            temperature(*beside_c, units)
        ),
        Flag::ClockBack { at, back_s } => format!(
            "the clock goes back by {} to {}; where it follows daylight saving, write its time zone",
            back_by(*back_s),
            moment(*at)
        ),
        Flag::Twice { first, count: rows } => format!(
            "{} in the hour that comes twice, from {}; put in order by the rows before",
            count(*rows, "row", "rows"),
            moment(*first)
        ),
        Flag::Skipped { first, count: rows } => format!(
            "{} in the hour that the clock skips, taken from {}",
            count(*rows, "row", "rows"),
            moment(*first)
        ),
        Flag::InAir {
            probe,
            from,
            to,
            why,
        } => format!(
            "{} seems to lie in air from {} to {}: it {}",
            name(*probe),
            moment(*from),
            moment(*to),
            match why {
                AirWhy::FollowsTheDay => "goes up and down with the day",
                AirWhy::FollowsTheAir => "stays by the probe in the air",
            }
        ),
        Flag::Stuck {
            probe,
            from,
            to,
            value_c,
        } => format!(
            "{}: always {} from {} to {}",
            name(*probe),
            temperature(*value_c, units),
            moment(*from),
            moment(*to)
        ),
    }
}

fn back_by(seconds: i64) -> String {
    let minutes = usize::try_from(seconds / 60).unwrap_or(0);
    match minutes {
        0 => "seconds".to_owned(),
        1..=119 => count(minutes, "minute", "minutes"),
        120..=2879 => count(minutes / 60, "hour", "hours"),
        _ => count(minutes / 1440, "day", "days"),
    }
}

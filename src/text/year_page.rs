//! The words of the year's page: headings, hints, arrivals, bays, the line of the year, what a planned heap is called.
//!
//! In: parts of a [`Year`], of its plan, how warm a heap gets. Out: lines and labels.
//!
//! Not here: the plan in words (`year`), how lines are arranged (`window`, `export`).
//!
//! Tested by: `tests/window/year_plan.rs`, `tests/document/year_out.rs`.

use crate::assess::planned::{RecipeWords, Warmth, YearDue};
use crate::document::year::YearFile;
use crate::quantity::UnitSystem;
use crate::year::{Arrival, BandPart, Keeps, PlannedHeap, StageKind, Wish, Year};

use super::number::{self, count};
use super::year::{BEFORE_YOU_BUILD, NOTHING_TO_BUILD, YearTold, month};
use super::{date, sentence};

/// Heading before a year is open.
pub const START: &str = "Plan a year of heaps";
/// What it is for.
pub const WHAT_IT_IS: [&str; 3] = [
    "Say what arrives in each month and where heaps can stand.",
    "You are told which heap to build when, of what, so that most is used, little spoils and a bay is free in time.",
    "Begin with the example to see how it works, or with an empty year.",
];
/// Heading of the plan.
pub const PLAN: &str = "The plan";
/// Heading of the arrivals.
pub const ARRIVES: &str = "What arrives";
/// Heading of the bays.
pub const BAYS: &str = "Where heaps can stand";
/// Heading of what a person has decided.
pub const DECIDED: &str = "What you have decided";
/// Said where nothing is decided yet.
pub const NOTHING_DECIDED: &str = "Nothing yet. Click a month of a bay in the line of the year to build there or to keep it empty, or change an amount of a heap.";
/// Said where nothing arrives yet.
pub const NOTHING_ARRIVES: &str =
    "Nothing arrives yet: add a material and say how much of it comes in each month.";
/// Said where there is no bay.
pub const NO_BAY: &str = "There is no place for a heap yet: add a bay.";
/// Said while the plan is made.
pub const PLANNING: &str = "Planning…";
/// Said of a plan that is not there yet.
pub const NOT_PLANNED: &str = "There is no plan yet.";
/// Said in the place of a plan that cannot be.
pub const SEE_BESIDE: &str =
    "There is no plan that keeps to all of this; the reason stands at the right.";
/// The plan could not be made.
pub const PLANNING_FAILED: &str = "The year could not be planned";
/// What the line of the year is called.
pub const LINE: &str = "The line of the year";
/// What the columns in a bar are.
pub const HEAT_KEY: &str = "warmest of each week, 10 to 70 °C";
/// The same in US units.
pub const HEAT_KEY_US: &str = "warmest of each week, 50 to 158 °F";
/// A heap that is decided on.
pub const BUILD_KEY: &str = "you build here";
/// A month in which a bay is kept empty.
pub const EMPTY_KEY: &str = "kept empty";
/// A bay that is not free yet.
pub const TAKEN: &str = "taken";
/// Said of the heat in the line.
pub const HEAT_NOTE: &str = "Heat: a rough projection with the weather of the open recipe.";
/// Heads of the table of arrivals, before the months.
pub const ARRIVAL_HEADS: [&str; 2] = ["Material", "in"];
/// Heads of the table of arrivals, after the months.
pub const ARRIVAL_TAILS: [&str; 2] = ["year", "keeps"];
/// Heads of the table of bays.
pub const BAY_HEADS: [&str; 7] = [
    "Name",
    "holds",
    "filled for",
    "works for",
    "cures for",
    "free from",
    "takes",
];
/// A bay that is free from the beginning.
pub const FREE_AT_ONCE: &str = "the start";
/// A bay that takes everything.
pub const TAKES_ALL: &str = "everything";
/// Before the month the plan begins with.
pub const BEGINS_IN: &str = "The plan begins in";
/// Before the room to store.
pub const STORE_ROOM: &str = "Room to store";
/// Before the part of the bands.
pub const HEAPS_LIE_IN: &str = "Every heap lies in";
/// Lets nothing of a material spoil.
pub const NONE_SPOILS: &str = "let none spoil";

/// What undo calls a change.
pub const ADDED_ARRIVAL: &str = "added a material";
/// See [`ADDED_ARRIVAL`].
pub const REMOVED_ARRIVAL: &str = "removed a material";
/// See [`ADDED_ARRIVAL`].
pub const ADDED_BAY: &str = "added a bay";
/// See [`ADDED_ARRIVAL`].
pub const REMOVED_BAY: &str = "removed a bay";
/// See [`ADDED_ARRIVAL`].
pub const RENAMED_BAY: &str = "name of a bay";
/// See [`ADDED_ARRIVAL`].
pub const DECISION: &str = "a decision";
/// See [`ADDED_ARRIVAL`].
pub const DROPPED_DECISION: &str = "removed a decision";

/// What undo calls the difference between two years.
pub fn change(before: &YearFile, after: &YearFile) -> &'static str {
    let (old, new) = (&before.year, &after.year);
    let all = [
        (before.title != after.title, "title"),
        (before.notes != after.notes, "notes"),
        (old.arrivals != new.arrivals, "what arrives"),
        (old.bays != new.bays, "a bay"),
        (old.storage_m3 != new.storage_m3, "room to store"),
        (old.first_month != new.first_month, "first month"),
        (old.part != new.part, "bands"),
        (old.wishes != new.wishes, DECISION),
    ];
    let found = all.into_iter().find(|(changed, _)| *changed);
    found.map_or("change", |(_, words)| words)
}

/// What a new bay is called.
pub fn bay_name(number: usize) -> String {
    format!("Bay {number}")
}

/// A part of the bands.
pub fn part(part: BandPart) -> &'static str {
    match part {
        BandPart::Best => "the best part of the bands",
        BandPart::Works => "all of the bands that works",
    }
}

/// How long something keeps: "7 days", "3 months".
pub fn keeps(keeps: Keeps) -> String {
    match keeps {
        Keeps::Days(days) => match number::rounded(days).as_str() {
            "1" => "1 day".to_owned(),
            days => format!("{days} days"),
        },
        Keeps::Months(months) => count(usize::from(months), "month", "months"),
    }
}

/// How long something keeps that a person has said nothing of: "usual: 7 days".
pub fn keeps_usual(usual: Keeps) -> String {
    format!("usual: {}", keeps(usual))
}

/// Which materials a bay takes, by number.
pub fn takes(several: usize) -> String {
    match several {
        0 => TAKES_ALL.to_owned(),
        some => count(some, "material", "materials"),
    }
}

/// A month of a plan in three letters: "Oct".
pub fn short_month(year: &Year, place: usize) -> &'static str {
    let name = date::MONTHS[usize::from(year.month_at(place)) - 1];
    &name[..3]
}

/// A month of a bay: "Bay 1 in October".
pub fn cell(year: &Year, bay: usize, place: usize) -> String {
    format!("{} in {}", year.bays[bay].name, month(year, place))
}

/// Asks for a heap in a month.
pub fn build_here(year: &Year, place: usize) -> String {
    format!("Build here in {}", month(year, place))
}

/// Asks for an empty bay in a month.
pub fn keep_empty(year: &Year, place: usize) -> String {
    format!("Keep empty in {}", month(year, place))
}

/// Takes a decision back.
pub fn drop_wish(said: &str) -> String {
    format!("Drop: {said}")
}

/// What a heap is at.
pub fn stage(kind: StageKind) -> &'static str {
    match kind {
        StageKind::Filling => "filling",
        StageKind::Working => "working",
        StageKind::Curing => "curing",
    }
}

/// A heap at a glance: "807 L, up to 64 °C".
pub fn glance(heap: &PlannedHeap, warmth: Option<&Warmth>, units: UnitSystem) -> String {
    let volume = number::volume(heap.blend.totals.volume_m3(), units);
    match warmth {
        Some(warm) => format!(
            "{volume}, up to {}",
            number::temperature(warm.peak_c, units)
        ),
        None => volume,
    }
}

/// What a planned heap is called: "Bay 1, begun in October".
pub fn heap_name(year: &Year, heap: &PlannedHeap) -> String {
    let bay = &year.bays[heap.bay].name;
    format!("{bay}, begun in {}", month(year, heap.month))
}

/// Everything of a heap, line by line.
pub fn heap_lines(told: &YearTold<'_>, heap: &PlannedHeap) -> Vec<String> {
    let mut lines = vec![gauges(told, heap)];
    lines.extend(told.goes_in(heap));
    lines.push(told.stays(heap));
    lines
}

/// How warm a heap gets, in a sentence.
pub fn warmth(warm: &Warmth, units: UnitSystem) -> String {
    format!(
        "Roughly: up to {} on day {}, {} at {} or more.",
        number::temperature(warm.peak_c, units),
        number::rounded(warm.peak_day.round()),
        number::days(warm.days_above_55.round()),
        number::temperature(55.0, units),
    )
}

/// The words of the recipe that a planned heap is opened as.
pub fn recipe(file: &YearFile, told: &YearTold<'_>, heap: &PlannedHeap) -> RecipeWords {
    let year = &file.year;
    let bay = &year.bays[heap.bay].name;
    let month = date::MONTHS[usize::from(year.month_at(heap.month)) - 1];
    let of = match file.title.trim() {
        "" => String::new(),
        title => format!(" of “{title}”"),
    };
    let added = if heap.filled_by > heap.month + 1 {
        " What arrives later is in the plan of the heap, to be added on top."
    } else {
        ""
    };
    RecipeWords {
        title: format!("{month} heap, {bay}"),
        place: bay.clone(),
        notes: format!("From the plan{of}. {}{added}", told.stays(heap)),
    }
}

/// What a person has decided, with its number: "1. A heap begun in Bay 1 in May".
pub fn decided(number: usize, said: &str) -> String {
    format!("{number}. {}", sentence(said))
}

/// Whether a wish is to blame, in a word behind it.
pub const TO_BLAME: &str = "contradicts";

/// One heap.
pub const HEAP: &str = "heap";
/// Several of them.
pub const HEAPS: &str = "heaps";

/// What is due of a heap, in words.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SaidDue {
    /// In a few words.
    pub what: String,
    /// How, a line for each thing.
    pub why: Vec<String>,
}

/// What is due of a planned heap.
pub fn due(told: &YearTold<'_>, heap: &PlannedHeap, due: YearDue) -> SaidDue {
    let bay = &told.year.bays[heap.bay].name;
    let begun = month(told.year, heap.month);
    let (what, why) = match due {
        YearDue::Build => {
            let mut why = told.goes_in(heap);
            why.push(told.stays(heap));
            why.push(BEFORE_YOU_BUILD.to_owned());
            (format!("{bay}: build the heap"), why)
        }
        YearDue::Filled => (
            format!("{bay}: nothing more goes in"),
            vec![format!("The heap begun in {begun} now works.")],
        ),
        YearDue::Cure => (
            format!("{bay}: turn a last time, then let it cure"),
            vec![format!("The heap begun in {begun}.")],
        ),
        YearDue::Empty => (
            format!("{bay}: take the compost out"),
            vec![format!(
                "The heap begun in {begun}; the bay is free in {}.",
                month(told.year, heap.free_from)
            )],
        ),
    };
    SaidDue { what, why }
}

/// From when a page is: "from October 2026".
pub fn begins_on(begin: jiff::civil::Date) -> String {
    format!("from {}", begins(begin))
}

/// What the columns in a bar are, said on paper.
pub fn columns_are(units: UnitSystem) -> String {
    format!("Columns: {}, a rough projection", heat_key(units))
}

/// When the plan begins: "October 2026".
pub fn begins(begin: jiff::civil::Date) -> String {
    let month = usize::try_from(begin.month() - 1).unwrap_or_default();
    format!("{} {}", date::MONTHS[month.min(11)], begin.year())
}

/// The month a wish is for, if it is for one, 1 is January.
pub fn wish_month(wish: &Wish) -> Option<u8> {
    match wish {
        Wish::Build { month, .. } | Wish::Empty { month, .. } | Wish::Put { month, .. } => {
            Some(*month)
        }
        Wish::NoneSpoils { .. } => None,
    }
}

/// How amounts are typed.
pub const TYPE_AMOUNTS: &str = "Click a number and type 3, 2,5 or ½, in the measure of the row.";
/// Nothing in a month, so that what comes stands out.
pub const NOTHING: &str = "–";
/// What keeping means.
pub const KEEPS_TIP: &str = "How long it can wait before it has to be in a heap; “usual” goes by what it is (common practice).";
/// What the weeks of a bay mean.
pub const BAYS_TIP: &str =
    "A bay is taken while a heap is filled, works and cures in it, one heap at a time.";
/// What naming a bay does.
pub const NAME_TIP: &str = "What the bay is called.";
/// What the month a bay is free from means.
pub const FREE_TIP: &str =
    "First month in which a heap can be begun there: until then it is taken.";
/// What a bay takes.
pub const TAKES_TIP: &str = "Which materials may go into this bay.";
/// What the first month means.
pub const BEGINS_TIP: &str =
    "What you have kept from before is put into this month, as if it arrived then.";

/// What the parts of the bands are.
pub const PART_TIP: &str =
    "The bands of C:N, moisture, air and weight that the gauges of a mix show.";

/// Said where an amount is typed in another measure than its row.
pub fn other_measure(measure: &crate::quantity::Measure) -> String {
    format!(
        "This row is said in {}; choose another measure for the whole row first. Nothing was changed.",
        super::amount::several(measure)
    )
}
/// What typing an amount of a heap does.
pub const PUT_TIP: &str = "Click it and type how much of it goes into this heap: then that is decided, and the plan is made around it.";
/// Before why there is no plan.
pub const NO_PLAN: &str = "There is no plan";
/// What a click on a heap does.
pub const CLICK_HEAP: &str = "Click to open it as a recipe or to decide otherwise.";
/// What a click on a free month does.
pub const CLICK_FREE: &str = "Free in this month. Click to build here or to keep it empty.";
/// Measures from which something is said to spoil.
pub const SPOILS_FROM: f64 = 0.05;

/// Opens a heap as a recipe.
pub fn open_heap(year: &Year, heap: &PlannedHeap) -> String {
    let month = date::MONTHS[usize::from(year.month_at(heap.month)) - 1];
    format!("Open the {month} heap of {}", year.bays[heap.bay].name)
}

/// The gauges of a heap, without its bay: "C:N 34.8, moisture 53 %, volume 807 L".
pub fn gauges(told: &YearTold<'_>, heap: &PlannedHeap) -> String {
    sentence(&told.gauges(heap))
}

/// The words after an amount: "sacks of Leaves".
pub fn measure_of(of: &crate::quantity::Amount, name: &str) -> String {
    let (one, several) = super::amount::counted(&of.measure);
    let measure = if number::rounded(of.value) == "1" {
        one
    } else {
        several
    };
    format!("{measure} of {name}")
}

/// Why a plan has no heap.
pub fn no_heap(year: &Year) -> &'static str {
    let nothing = |row: &Arrival| row.monthly.iter().sum::<f64>() <= 0.0;
    if year.arrivals.iter().all(nothing) {
        NOTHING_ARRIVES
    } else if year.bays.is_empty() {
        NO_BAY
    } else {
        NOTHING_TO_BUILD
    }
}

/// What the columns of heat mean.
pub fn heat_key(units: UnitSystem) -> &'static str {
    match units {
        UnitSystem::Metric => HEAT_KEY,
        UnitSystem::UsCustomary => HEAT_KEY_US,
    }
}

/// Lets nothing of an arrival spoil: "None of the grass may spoil".
pub fn none_spoils(told: &YearTold<'_>, row: usize) -> String {
    let name = super::mix::name_of(&told.year.arrivals[row].material, told.catalogue);
    format!("Decides that none of it may spoil: {name}.")
}

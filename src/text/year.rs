//! A planned year in words: heaps and their bays, what is left, short or spoils, wishes that cannot be met.
//!
//! In: a [`Year`], its [`Plan`], the catalogue. Out: lines and cells of tables.
//!
//! Not here: how lines are arranged (`export`), the plan itself (`year`).
//!
//! Tested by: `tests/document/year.rs`.

use crate::material::Catalogue;
use crate::mix::Gauge;
use crate::quantity::{Amount, UnitSystem};
use crate::year::{Fate, MONTHS, Plan, PlannedHeap, Short, Unplanned, Wish, Year};

use super::mix::{gauge_name, gauge_value, name_of};
use super::{amount, date, list, number, sentence};

/// Heads of the table of arrivals.
pub const COLUMNS: [&str; 5] = ["arrives", "used", "left", "spoils", "material"];
/// Said where nothing is built.
pub const NOTHING_TO_BUILD: &str = "No heap can be built of this: what arrives is too little, too wet or too one-sided for any bay.";
/// Said of a plan that may not be the best one.
pub const NOT_PROVEN: &str = "The search was cut short: a better plan may exist.";
/// Heading of the table of arrivals.
pub const WHAT_BECOMES: &str = "What becomes of it";
/// Heading of what waits in the store.
pub const STORE: &str = "In store at the end of the month, for heaps to come";
/// What goes before the first heap: amounts, and where cautions are.
pub const BEFORE_YOU_BUILD: &str =
    "Before you build, read the safety notes of the recipe; local rules come first.";

/// A year, its plan and the catalogue that knows all its materials: what words are made from.
#[derive(Debug, Clone, Copy)]
pub struct YearTold<'a> {
    /// The year.
    pub year: &'a Year,
    /// Its plan.
    pub plan: &'a Plan,
    /// The catalogue with the year's own materials.
    pub catalogue: &'a Catalogue,
    /// Units a person reads.
    pub units: UnitSystem,
}

/// A month of a plan by its place, said with "next" where it is past the plan's twelve: "April", "next April".
pub fn month(year: &Year, place: usize) -> String {
    let name = calendar_month(year.month_at(place));
    if place >= MONTHS {
        format!("next {name}")
    } else {
        name.to_owned()
    }
}

/// A month of the calendar, 1 is January.
fn calendar_month(month: u8) -> &'static str {
    date::MONTHS[usize::from(month.clamp(1, 12)) - 1]
}

impl YearTold<'_> {
    /// The line of a heap: "Bay 1: C:N 30.2, moisture 56 %, volume 950 L".
    pub fn heap(&self, heap: &PlannedHeap) -> String {
        let bay = &self.year.bays[heap.bay].name;
        format!("{bay}: {}", self.gauges(heap))
    }

    /// The gauges of a heap: "C:N 30.2, moisture 56 %, volume 950 L".
    pub fn gauges(&self, heap: &PlannedHeap) -> String {
        let totals = &heap.blend.totals;
        let gauges = [
            (Gauge::CarbonNitrogen, totals.cn()),
            (Gauge::Moisture, totals.moisture()),
            (Gauge::Volume, totals.volume_m3()),
        ]
        .map(|(gauge, value)| {
            let value = gauge_value(gauge, value, self.units);
            format!("{} {value}", gauge_name(gauge))
        });
        gauges.join(", ")
    }

    /// What goes into a heap, a line each: "4 sacks of Autumn leaves", water last.
    pub fn goes_in(&self, heap: &PlannedHeap) -> Vec<String> {
        let rows = heap
            .mix
            .ingredients
            .iter()
            .map(|row| amount::amount_of(&row.amount, name_of(&row.material, self.catalogue)));
        let water_l = heap.mix.added_water_l;
        let water = (water_l > 0.0).then(|| amount::water(water_l, self.units));
        rows.chain(water).collect()
    }

    /// How long it stays: "Filled until December, cures from April, the bay is free in June."
    pub fn stays(&self, heap: &PlannedHeap) -> String {
        let month = |place| month(self.year, place);
        let mut pieces = Vec::new();
        if heap.filled_by > heap.month + 1 {
            pieces.push(format!(
                "filled until the end of {}",
                month(heap.filled_by - 1)
            ));
        }
        if heap.cures_from < heap.free_from {
            pieces.push(format!("cures from {}", month(heap.cures_from)));
        }
        pieces.push(format!("the bay is free in {}", month(heap.free_from)));
        if !heap.keeps_heat {
            pieces.push("too small to stay hot".to_owned());
        }
        format!("{}.", sentence(&pieces.join(", ")))
    }

    /// What became of an arrival, for the columns of [`COLUMNS`].
    pub fn fate(&self, row: usize, fate: &Fate) -> [String; 5] {
        let arrival = &self.year.arrivals[row];
        let said = |value: f64| amount::amount(&Amount::new(tidy(value), arrival.measure.clone()));
        let sum = |months: &[f64; MONTHS]| months.iter().sum::<f64>();
        [
            said(sum(&fate.arrived)),
            number::rounded(tidy(sum(&fate.used))),
            number::rounded(tidy(fate.left)),
            number::rounded(tidy(sum(&fate.spoiled))),
            name_of(&arrival.material, self.catalogue).to_owned(),
        ]
    }

    /// What was short: "Short: 2 sacks of leaves in June. With them 5 grass boxes of grass would not spoil."
    pub fn short(&self, short: &Short) -> String {
        let of = |row: usize, measures: f64| {
            let arrival = &self.year.arrivals[row];
            let amount = Amount::new(measures, arrival.measure.clone());
            amount::amount_of(&amount, name_of(&arrival.material, self.catalogue))
        };
        let lacking: Vec<String> = short
            .lacking
            .iter()
            .map(|(place, row, measures)| {
                // A whole measure is what can be fetched.
                format!(
                    "{} in {}",
                    of(*row, measures.ceil()),
                    month(self.year, *place)
                )
            })
            .collect();
        let saves: Vec<String> = short
            .saves
            .iter()
            .map(|(row, measures)| of(*row, *measures))
            .collect();
        format!(
            "Short: {}. With that, {} more would not spoil.",
            list(&lacking),
            list(&saves)
        )
    }

    /// What waits in the store at the end of a month: "October 1.8 m³", or nothing.
    pub fn stored(&self, place: usize) -> Option<String> {
        let m3 = self.plan.stored_m3[place];
        (m3 >= 0.0005).then(|| {
            format!(
                "{} {}",
                month(self.year, place),
                number::volume(m3, self.units)
            )
        })
    }
}

/// A wish: "a heap begun in Bay 1 in May".
pub fn wish(year: &Year, wish: &Wish, catalogue: &Catalogue) -> String {
    match wish {
        Wish::Build { bay, month } => {
            format!("a heap begun in {bay} in {}", calendar_month(*month))
        }
        Wish::Empty { bay, month } => format!("{bay} empty in {}", calendar_month(*month)),
        Wish::Put {
            bay,
            month,
            material,
            amount: value,
        } => {
            let name = name_of(material, catalogue);
            let row = year.arrivals.iter().find(|row| row.material == *material);
            let said = row.map_or_else(
                || format!("{} {name}", number::rounded(*value)),
                |row| amount::amount_of(&Amount::new(*value, row.measure.clone()), name),
            );
            format!("{said} in {bay} in {}", calendar_month(*month))
        }
        Wish::NoneSpoils { material } => {
            format!("none of the {} spoiled", name_of(material, catalogue))
        }
    }
}

/// Why there is no plan, in one sentence without its stop.
pub fn unplanned(year: &Year, problem: &Unplanned, catalogue: &Catalogue) -> String {
    let Unplanned::Wishes(blamed) = problem else {
        return problem.to_string();
    };
    let wishes: Vec<String> = blamed
        .iter()
        .filter_map(|at| Some((at + 1, year.wishes.get(*at)?)))
        .map(|(count, it)| format!("wish {count} ({})", wish(year, it, catalogue)))
        .collect();
    match wishes.as_slice() {
        [one] => format!(
            "{one} cannot be met with what arrives and the bays there are; change or drop it"
        ),
        several => format!(
            "{} cannot be met together; change or drop one of them",
            list(several)
        ),
    }
}

/// How long it took to solve.
pub fn solved_in(seconds: f64) -> String {
    format!("solved in {seconds:.2} s")
}

/// Nothing rather than a last bit, or minus nothing.
fn tidy(value: f64) -> f64 {
    if value < 5e-4 { 0.0 } else { value }
}

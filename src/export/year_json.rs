//! A planned year for another program, as JSON of schema 1.
//!
//! In: a [`YearFile`], its [`Plan`](crate::year::Plan). Out: one object; every key is always there. Months are 1 (January) to 12; lists of
//! twelve run from `first_month` on.
//!
//! | key | what it holds |
//! |---|---|
//! | `schema` | 1; another number means that keys have changed their meaning |
//! | `title`, `first_month` | text; month the lists begin with |
//! | `counts_m3` | what the plan counts: cubic metres used, what spoils threefold, less a small price of heaps, water and store |
//! | `proven` | whether no plan counts more |
//! | `heaps[]` | by time: `bay` (name), `month`, `filled_until_month`, `cures_from_month`, `free_from_month`, `free_after_months` (months from `month` until the bay is free), `keeps_heat`, `carbon_to_nitrogen`, `moisture_wet_basis`, `volume_m3`, `settled_air_space_share`, `wet_bulk_density_kg_per_m3`, `wet_mass_kg`, `added_water_kg`, `ingredients[]` |
//! | `heaps[].ingredients[]` | `material` (id), `name`, `amount` (number), `measure` (word), `by_month[]` (`month`, `amount`) |
//! | `arrivals[]` | `material`, `name`, `measure`, `arrived`, `used`, `spoiled`, `kept_for_use` (twelve numbers each), `left` (number) |
//! | `stored_m3` | twelve numbers: what waits at the end of each month for heaps to come |
//! | `short` | `null`, or `lacking[]` (`month`, `material`, `amount`, `measure`) and `saves[]` (`material`, `amount`, `measure`) |
//!
//! Not here: sentences (`year_text`).
//!
//! Tested by: `tests/document/year.rs`.

use serde::Serialize;

use crate::document::year::YearFile;
use crate::material::Catalogue;
use crate::text::amount::one;
use crate::text::mix::name_of;
use crate::text::year::YearTold;
use crate::year::{Arrival, MONTHS, PlannedHeap, Short, Year};

/// Version of the keys.
const SCHEMA: u32 = 1;

#[derive(Serialize)]
struct Whole<'a> {
    schema: u32,
    title: &'a str,
    first_month: u8,
    counts_m3: f64,
    proven: bool,
    heaps: Vec<HeapPart<'a>>,
    arrivals: Vec<ArrivalPart<'a>>,
    stored_m3: [f64; MONTHS],
    short: Option<ShortPart<'a>>,
}

#[derive(Serialize)]
struct HeapPart<'a> {
    bay: &'a str,
    month: u8,
    filled_until_month: u8,
    cures_from_month: u8,
    free_from_month: u8,
    free_after_months: usize,
    keeps_heat: bool,
    carbon_to_nitrogen: f64,
    moisture_wet_basis: f64,
    volume_m3: f64,
    settled_air_space_share: f64,
    wet_bulk_density_kg_per_m3: f64,
    wet_mass_kg: f64,
    added_water_kg: f64,
    ingredients: Vec<IngredientPart<'a>>,
}

#[derive(Serialize)]
struct IngredientPart<'a> {
    material: &'a str,
    name: &'a str,
    amount: f64,
    measure: &'a str,
    by_month: Vec<MonthPart>,
}

#[derive(Serialize)]
struct MonthPart {
    month: u8,
    amount: f64,
}

#[derive(Serialize)]
struct ArrivalPart<'a> {
    material: &'a str,
    name: &'a str,
    measure: &'a str,
    arrived: [f64; MONTHS],
    used: [f64; MONTHS],
    spoiled: [f64; MONTHS],
    kept_for_use: [f64; MONTHS],
    left: f64,
}

#[derive(Serialize)]
struct ShortPart<'a> {
    lacking: Vec<LackingPart<'a>>,
    saves: Vec<SavedPart<'a>>,
}

#[derive(Serialize)]
struct LackingPart<'a> {
    month: u8,
    material: &'a str,
    amount: f64,
    measure: &'a str,
}

#[derive(Serialize)]
struct SavedPart<'a> {
    material: &'a str,
    amount: f64,
    measure: &'a str,
}

/// A planned year as JSON.
///
/// # Errors
/// What the writer says, which no plan makes it say.
pub fn year_json(file: &YearFile, told: &YearTold<'_>) -> serde_json::Result<String> {
    let (year, plan) = (told.year, told.plan);
    let arrivals = year.arrivals.iter().zip(&plan.fates);
    serde_json::to_string_pretty(&Whole {
        schema: SCHEMA,
        title: &file.title,
        first_month: year.first_month,
        counts_m3: plan.objective,
        proven: plan.proven,
        heaps: plan
            .heaps
            .iter()
            .map(|heap| heap_part(year, told.catalogue, heap))
            .collect(),
        arrivals: arrivals
            .map(|(row, fate)| ArrivalPart {
                material: &row.material,
                name: name_of(&row.material, told.catalogue),
                measure: one(&row.measure),
                arrived: fate.arrived,
                used: fate.used,
                spoiled: fate.spoiled,
                kept_for_use: fate.waits,
                left: fate.left,
            })
            .collect(),
        stored_m3: plan.stored_m3,
        short: plan.short.as_ref().map(|short| short_part(year, short)),
    })
}

fn heap_part<'a>(year: &'a Year, catalogue: &'a Catalogue, heap: &PlannedHeap) -> HeapPart<'a> {
    let totals = &heap.blend.totals;
    let rows = year.arrivals.iter().enumerate();
    HeapPart {
        bay: &year.bays[heap.bay].name,
        month: year.month_at(heap.month),
        filled_until_month: year.month_at(heap.filled_by.saturating_sub(1)),
        cures_from_month: year.month_at(heap.cures_from),
        free_from_month: year.month_at(heap.free_from),
        free_after_months: heap.free_from - heap.month,
        keeps_heat: heap.keeps_heat,
        carbon_to_nitrogen: totals.cn(),
        moisture_wet_basis: totals.moisture(),
        volume_m3: totals.volume_m3(),
        settled_air_space_share: totals.settled_air_space(),
        wet_bulk_density_kg_per_m3: totals.wet_kg() / totals.volume_m3(),
        wet_mass_kg: totals.wet_kg(),
        added_water_kg: heap.mix.added_water_l,
        ingredients: rows
            .filter_map(|(row, arrival)| ingredient_part(year, catalogue, heap, (row, arrival)))
            .collect(),
    }
}

fn ingredient_part<'a>(
    year: &Year,
    catalogue: &'a Catalogue,
    heap: &PlannedHeap,
    (row, arrival): (usize, &'a Arrival),
) -> Option<IngredientPart<'a>> {
    let by_month: Vec<MonthPart> = heap
        .uses
        .iter()
        .filter(|it| it.arrival == row)
        .map(|it| MonthPart {
            month: year.month_at(it.month),
            amount: it.measures,
        })
        .collect();
    (!by_month.is_empty()).then(|| IngredientPart {
        material: &arrival.material,
        name: name_of(&arrival.material, catalogue),
        amount: by_month.iter().map(|it| it.amount).sum(),
        measure: one(&arrival.measure),
        by_month,
    })
}

fn short_part<'a>(year: &'a Year, short: &Short) -> ShortPart<'a> {
    ShortPart {
        lacking: short
            .lacking
            .iter()
            .map(|(place, row, amount)| LackingPart {
                month: year.month_at(*place),
                material: &year.arrivals[*row].material,
                amount: *amount,
                measure: one(&year.arrivals[*row].measure),
            })
            .collect(),
        saves: short
            .saves
            .iter()
            .map(|(row, amount)| SavedPart {
                material: &year.arrivals[*row].material,
                amount: *amount,
                measure: one(&year.arrivals[*row].measure),
            })
            .collect(),
    }
}

//! Two recipes side by side: what differs of mix, gauges, heap and outcome, and what is the same.
//!
//! In: two recipes with everything calculated of them. Out: sections of rows in words.
//!
//! Two values differ where their words do: what is rounded alike is the same to a gardener.
//! Not here: how a table is drawn (`window::recipes`).
//!
//! Tested by: `tests/document/assess.rs`.

use crate::assess::{Assessed, Came};
use crate::document::Project;
use crate::heap::Heap;
use crate::material::Catalogue;
use crate::outcome::headline::headline;
use crate::outcome::{Outcome, shared};
use crate::quantity::UnitSystem;

use super::outcome::{finished, first_lines};
use super::{amount, date, diary, gauges, heap, mix, number, page, plan};

/// Said where one of the two has nothing of it.
const NONE: &str = "none";
/// The line that rules on heat name, degC (40 CFR 503 and its like).
const HOT_C: f64 = 55.0;

/// One of the two.
#[derive(Debug, Clone, Copy)]
pub struct Compared<'a> {
    /// The recipe.
    pub project: &'a Project,
    /// What is calculated of it.
    pub assessed: &'a Assessed,
}

/// What one thing is in both.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// What it is.
    pub what: String,
    /// In the first and in the second.
    pub both: [String; 2],
}

/// Rows that belong together.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Section {
    /// Its heading.
    pub heading: &'static str,
    /// What differs.
    pub rows: Vec<Row>,
    /// Names of what is the same in both.
    pub same: Vec<String>,
}

impl Section {
    fn of(heading: &'static str, all: Vec<Row>) -> Self {
        let (same, rows): (Vec<Row>, Vec<Row>) =
            all.into_iter().partition(|row| row.both[0] == row.both[1]);
        Self {
            heading,
            rows,
            same: same.into_iter().map(|row| row.what).collect(),
        }
    }

    /// "The same in both: Cover; Climate."; nothing where all differs.
    pub fn same_told(&self) -> Option<String> {
        (!self.same.is_empty()).then(|| format!("The same in both: {}.", self.same.join("; ")))
    }
}

/// What differs between two recipes.
pub fn sections(both: [Compared<'_>; 2], built_in: &Catalogue, units: UnitSystem) -> Vec<Section> {
    vec![
        Section::of(page::MIX, mix_rows(both, built_in, units)),
        Section::of(page::GAUGES, gauge_rows(both, units)),
        Section::of("The heap", heap_rows(both, units)),
        Section::of("What came of it", outcome_rows(both, units)),
    ]
}

fn rows<const N: usize>(whats: [&str; N], both: [[String; N]; 2]) -> Vec<Row> {
    let [first, second] = both;
    let pairs = whats.into_iter().zip(first.into_iter().zip(second));
    pairs
        .map(|(what, (first, second))| Row {
            what: what.to_owned(),
            both: [first, second],
        })
        .collect()
}

/// Every material of either, in the order of the first, then of the second.
fn mix_rows(both: [Compared<'_>; 2], built_in: &Catalogue, units: UnitSystem) -> Vec<Row> {
    let ids = both.map(|it| {
        let ingredients = it.project.mix.ingredients.iter();
        ingredients.map(|it| it.material.as_str())
    });
    let mut all: Vec<&str> = Vec::new();
    for id in ids.into_iter().flatten() {
        if !all.contains(&id) {
            all.push(id);
        }
    }
    let name = |id: &str| {
        let own = both.iter().flat_map(|it| &it.project.own_materials);
        let own = own.into_iter().find(|own| own.id == id);
        own.map_or_else(
            || mix::name_of(id, built_in).to_owned(),
            |own| own.name.clone(),
        )
    };
    let mut rows: Vec<Row> = all
        .into_iter()
        .map(|id| Row {
            what: name(id),
            both: both.map(|it| amounts_of(it.project, id)),
        })
        .collect();
    rows.push(Row {
        what: "Added water".to_owned(),
        both: both.map(|it| match it.project.mix.added_water_l {
            0.0 => NONE.to_owned(),
            litres => amount::water(litres, units),
        }),
    });
    rows
}

/// How much of a material is in a mix, each row of it.
fn amounts_of(project: &Project, id: &str) -> String {
    let of_it = project
        .mix
        .ingredients
        .iter()
        .filter(|it| it.material == id);
    let amounts: Vec<String> = of_it.map(|it| amount::amount(&it.amount)).collect();
    if amounts.is_empty() {
        NONE.to_owned()
    } else {
        super::list(&amounts)
    }
}

fn gauge_rows(both: [Compared<'_>; 2], units: UnitSystem) -> Vec<Row> {
    let lines = both.map(|it| {
        let room_m3 = it.project.heap.shape.room_m3();
        let gauges = it.assessed.blend.gauges;
        gauges.map(|gauges| gauges::gauge_lines(&gauges, room_m3, units))
    });
    let subjects = gauges::LineSubject::ALL.into_iter().enumerate();
    subjects
        .filter_map(|(place, _)| {
            let of = |lines: &Option<Vec<gauges::GaugeLine>>| {
                let line = lines.as_ref()?.get(place)?;
                Some((line.name, gauges::value_and_word(line)))
            };
            let (first, second) = (of(&lines[0]), of(&lines[1]));
            let name = first.as_ref().or(second.as_ref())?.0;
            let told = |it: Option<(&str, String)>| it.map_or(NONE.to_owned(), |(_, value)| value);
            Some(Row {
                what: name.to_owned(),
                both: [told(first), told(second)],
            })
        })
        .collect()
}

fn heap_rows(both: [Compared<'_>; 2], units: UnitSystem) -> Vec<Row> {
    let whats = [
        "Place", "Shape", "Ground", "Cover", "Sun", "Built", "Climate", "Plan",
    ];
    let of = |it: Compared<'_>| {
        let of = &it.project.heap;
        let shape = match of.shape.room_m3() {
            Some(room_m3) => {
                let room = number::volume(room_m3, units);
                format!("{}, {room}", heap::shape(&of.shape))
            }
            None => heap::shape(&of.shape).to_owned(),
        };
        let built = match it.project.diary.built {
            Some(built) => diary::date(built),
            None => format!("planned for {}", date::date(of.start_day_of_year)),
        };
        let sun = if of.in_sun {
            "in the sun"
        } else {
            "in the shade"
        };
        [
            it.project.place.trim().to_owned(),
            shape,
            heap::base(of.base).to_owned(),
            heap::cover(of.cover).to_owned(),
            sun.to_owned(),
            built,
            of.climate.name.clone(),
            plan_told(of),
        ]
    };
    rows(whats, both.map(of))
}

/// "Turn 2 ×, Water 1 ×": what the plan does, how often.
fn plan_told(of: &Heap) -> String {
    let mut counted: Vec<(&str, usize)> = Vec::new();
    for due in of.plan.in_order() {
        let name = plan::operation(due.operation);
        match counted.iter_mut().find(|(known, _)| *known == name) {
            Some((_, times)) => *times += 1,
            None => counted.push((name, 1)),
        }
    }
    if counted.is_empty() {
        return "left alone".to_owned();
    }
    let told = counted
        .iter()
        .map(|(name, times)| format!("{name} {times} ×"));
    told.collect::<Vec<String>>().join(", ")
}

fn outcome_rows(both: [Compared<'_>; 2], units: UnitSystem) -> Vec<Row> {
    let hot = format!("Time at {} or more", number::temperature(HOT_C, units));
    let whats = [
        "Read at most",
        "Projected at most",
        &hot,
        "Ready",
        "Weed seeds",
        "Smell",
        "Comes out",
    ];
    let of = |it: Compared<'_>| {
        let came = Came::of(it.project, it.assessed);
        let hottest = came.read.and_then(|read| read.hottest);
        let summary = it.assessed.projection.as_ref().map(|it| it.summary);
        let outcome = it.assessed.outcome.as_ref();
        let [seeds, smell] = first_two(outcome, units);
        let comes_out = outcome.map(|it| number::volume(it.produce.volume_m3.typical, units));
        let all = [
            hottest.map(|(celsius, day)| hot_told(celsius, day.floor(), units)),
            came.peak
                .map(|(celsius, day)| hot_told(celsius, day, units)),
            summary.map(|it| number::days(it.days_above_55)),
            outcome.map(|it| finished(&it.finish)),
            seeds,
            smell,
            comes_out,
        ];
        all.map(|told| told.unwrap_or_else(|| NONE.to_owned()))
    };
    rows(whats, both.map(of))
}

/// "69 °C on day 15".
fn hot_told(celsius: f64, day: f64, units: UnitSystem) -> String {
    format!(
        "{} on day {}",
        number::temperature(celsius, units),
        number::whole(day)
    )
}

/// What is said first of weed seeds and smell.
fn first_two(outcome: Option<&Outcome>, units: UnitSystem) -> [Option<String>; 2] {
    let (Some(outcome), Ok(facts)) = (outcome, shared()) else {
        return [None, None];
    };
    let judgements = outcome.judgements(facts);
    let [seeds, smell, _] = first_lines(&headline(outcome, facts, &judgements), units);
    [Some(seeds.answer), Some(smell.answer)]
}

//! When compost is done: a self-heating estimate, C:N and breathing below published limits.
//!
//! In: the records of a projection, the kinetics, `assets/finish.ron`. Out: [`Finish`].
//!
//! Finished means that all deciding limits of the table are kept to the end of the run, and that it has cured
//! after its hot stage. It cannot tell what a seedling thinks of it: the field tests do.
//!
//! Not here: the heap's own temperature (`heap`).
//!
//! Tested by: `tests/science/outcome_finish.rs`.

use serde::Deserialize;

use crate::heap::rot::OXYGEN_PER_CARBON;
use crate::heap::{Kinetics, Projection, Record};
use crate::quantity::UnitSystem;

use super::Trust;
use super::course::rise_text;
use super::flask::{Flask, breathing_per_day, carbon_nitrogen, flask};

/// The centre stays below this once the hot stage is over, degC (usual lower end of the hot phase).
const HOT_FROM_C: f64 = 40.0;
/// The centre reaches this in a hot heap, degC (lower end of what rules on heat ask for).
const VERY_HOT_FROM_C: f64 = 55.0;
/// Least time between records that are looked at, d.
const TRIED_EVERY_DAYS: f64 = 1.0;
/// Most records looked at for one limit.
const MOST_LOOKS: f64 = 120.0;

/// What a limit is on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum Measure {
    /// Highest rise in the flask, K.
    FlaskRise,
    /// C:N by mass.
    CarbonNitrogen,
    /// Oxygen used at 37 degC, mg per g organic matter and hour.
    OxygenMgPerGH,
    /// Oxygen used at 37 degC, mmol per kg organic matter and hour.
    OxygenMmolPerKgH,
    /// Carbon given off as carbon dioxide at 37 degC, mg per g organic matter and day.
    CarbonMgPerGDay,
    /// Carbon dioxide given off at 37 degC, mg per g organic matter and day.
    CarbonDioxideMgPerGDay,
}

impl Measure {
    /// Its unit.
    pub fn unit(self) -> &'static str {
        match self {
            Self::FlaskRise => "°C",
            Self::CarbonNitrogen => "",
            Self::OxygenMgPerGH => "mg O₂/g OM h",
            Self::OxygenMmolPerKgH => "mmol O₂/kg OM h",
            Self::CarbonMgPerGDay => "mg CO₂-C/g OM d",
            Self::CarbonDioxideMgPerGDay => "mg CO₂/g OM d",
        }
    }
}

/// A published limit.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Limit {
    /// Short, stable name.
    pub id: String,
    /// Name on screen.
    pub name: String,
    /// What it is on.
    pub measure: Measure,
    /// Greatest value that meets it.
    pub most: f64,
    /// Where it stands.
    pub source: String,
    /// How far it is to be trusted.
    pub trust: Trust,
}

/// A way of making compost with the time it takes.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Way {
    /// Which way.
    pub way: WayName,
    /// Name on screen.
    pub name: String,
    /// Least and most time, d.
    pub days: (f64, f64),
    /// Where it stands.
    pub source: String,
    /// How far it is to be trusted.
    pub trust: Trust,
}

/// The ways.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum WayName {
    /// Turned daily or every other day while hot.
    TurnedOften,
    /// Hot, turned a few times.
    Hot,
    /// Hot or warm, never turned.
    Unturned,
    /// Warm: 40 to 55 degC.
    Warm,
    /// Never above 40 degC.
    Cold,
    /// Left where it fell, in no heap.
    OnTheGround,
}

/// A simple test of the product.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FieldTest {
    /// Short, stable name.
    pub id: String,
    /// Name on screen.
    pub name: String,
    /// What it tells.
    pub tells: String,
    /// How long it takes, d.
    pub days: (f64, f64),
    /// What to do, in order.
    pub steps: Vec<String>,
    /// What is read off it: a word or number, and what it means.
    pub results: Vec<TestMeaning>,
    /// Where it stands.
    pub source: String,
    /// How far it is to be trusted.
    pub trust: Trust,
}

/// What a result of a field test means.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TestMeaning {
    /// What is seen.
    pub seen: String,
    /// What it means.
    pub means: String,
    /// Whether the compost passes.
    pub passes: bool,
    /// How far that line is to be trusted.
    pub trust: Trust,
}

/// Facts on finishing, as in `assets/finish.ron`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FinishTable {
    /// Limits.
    pub limits: Vec<Limit>,
    /// Which limits must be kept for "finished".
    pub deciding: Vec<String>,
    /// Time that it cures after the hot stage before it counts as finished, d.
    pub curing_days: f64,
    /// Where that stands.
    pub curing_source: String,
    /// Ways with their times.
    pub ways: Vec<Way>,
    /// Field tests.
    pub tests: Vec<FieldTest>,
}

/// The value of a measure at a record.
pub fn measured(measure: Measure, record: &Record, kinetics: &Kinetics) -> f64 {
    let breath = || breathing_per_day(record, kinetics);
    match measure {
        Measure::FlaskRise => flask(record, kinetics).rise_k,
        Measure::CarbonNitrogen => carbon_nitrogen(record),
        Measure::OxygenMgPerGH => breath() * OXYGEN_PER_CARBON * 1000.0 / 24.0,
        // 1 mmol of oxygen is 32 mg.
        Measure::OxygenMmolPerKgH => breath() * OXYGEN_PER_CARBON * 1.0e6 / 24.0 / 32.0,
        Measure::CarbonMgPerGDay => breath() * 1000.0,
        Measure::CarbonDioxideMgPerGDay => breath() * 1000.0 * 44.0 / 12.0,
    }
}

/// How a heap stands against one limit.
#[derive(Debug, Clone, PartialEq)]
pub struct LimitResult {
    /// Id of the limit.
    pub limit: String,
    /// Value at the end of the run.
    pub at_end: f64,
    /// Day from which it is kept to the end; `None` if not within the run.
    pub day: Option<f64>,
}

/// When it is done.
#[derive(Debug, Clone, PartialEq)]
pub struct Finish {
    /// Which way it is made.
    pub way: WayName,
    /// Last day on which the centre was at 40 degC or more.
    pub hot_until_day: Option<f64>,
    /// Every limit.
    pub limits: Vec<LimitResult>,
    /// Day from which all deciding limits are kept and it has cured.
    pub day: Option<f64>,
    /// Names of what is still to come at the end of the run; empty if finished.
    pub still_to_come: Vec<String>,
    /// The flask at the end of the run.
    pub flask_at_end: Flask,
}

impl Finish {
    /// Judges a projection; `turnings` is how often it is turned and `on_the_ground` whether it is in no heap.
    pub fn of(
        projection: &Projection,
        table: &FinishTable,
        kinetics: &Kinetics,
        turnings: &[f64],
        on_the_ground: bool,
    ) -> Option<Self> {
        let records = &projection.records;
        let last = records.last()?;
        let limits: Vec<LimitResult> = table
            .limits
            .iter()
            .map(|limit| LimitResult {
                limit: limit.id.clone(),
                at_end: measured(limit.measure, last, kinetics),
                day: kept_from(records, limit, kinetics),
            })
            .collect();
        let hot = hot_until(records);
        Some(Self {
            way: way(projection, turnings, on_the_ground),
            hot_until_day: hot,
            day: day_of(&limits, hot, table, last.day),
            still_to_come: still_to_come(&limits, hot, table, last.day),
            limits,
            flask_at_end: flask(last, kinetics),
        })
    }

    /// In one sentence.
    pub fn text(&self, units: UnitSystem) -> String {
        match self.day {
            Some(day) => format!(
                "It would hardly heat again on turning from about day {day:.0}; confirm it with a bag, radish or flask test"
            ),
            None => format!(
                "It would not be finished within the run: at the end it would still heat by {} in the self-heating (Dewar) test; still to come: {}",
                rise_text(self.flask_at_end.rise_k, units),
                self.still_to_come.join(", ")
            ),
        }
    }
}

/// Last day on which the centre is at 40 degC or more.
fn hot_until(records: &[Record]) -> Option<f64> {
    let hot = records.iter().rev().find(|r| r.centre_c >= HOT_FROM_C);
    hot.map(|record| record.day)
}

/// Day from which all deciding limits are kept and it has cured, if within the run.
fn day_of(
    limits: &[LimitResult],
    hot_until: Option<f64>,
    table: &FinishTable,
    last_day: f64,
) -> Option<f64> {
    let cured = hot_until.map_or(0.0, |day| day + table.curing_days);
    limits
        .iter()
        .filter(|result| table.deciding.contains(&result.limit))
        .map(|result| result.day)
        .try_fold(cured, |latest, day| day.map(|day| latest.max(day)))
        .filter(|day| *day <= last_day)
}

/// Names of the deciding limits that are not kept at the end, and of curing that is not over.
fn still_to_come(
    limits: &[LimitResult],
    hot_until: Option<f64>,
    table: &FinishTable,
    last_day: f64,
) -> Vec<String> {
    let open = table
        .limits
        .iter()
        .zip(limits)
        .filter(|(limit, result)| table.deciding.contains(&limit.id) && result.day.is_none());
    let mut names: Vec<String> = open.map(|(limit, _)| limit.name.clone()).collect();
    if hot_until.is_some_and(|day| day + table.curing_days > last_day) {
        let days = table.curing_days;
        names.push(format!("{days:.0} days of curing after the hot stage"));
    }
    names
}

/// The day alone, looking at the deciding limits only.
pub fn finished_day(
    projection: &Projection,
    table: &FinishTable,
    kinetics: &Kinetics,
) -> Option<f64> {
    let records = &projection.records;
    let deciding = table
        .limits
        .iter()
        .filter(|limit| table.deciding.contains(&limit.id));
    let limits: Vec<LimitResult> = deciding
        .map(|limit| LimitResult {
            limit: limit.id.clone(),
            at_end: 0.0,
            day: kept_from(records, limit, kinetics),
        })
        .collect();
    day_of(&limits, hot_until(records), table, records.last()?.day)
}

fn way(projection: &Projection, turnings: &[f64], on_the_ground: bool) -> WayName {
    let peak = projection.summary.peak_c;
    if on_the_ground && peak < HOT_FROM_C {
        return WayName::OnTheGround;
    }
    if peak < HOT_FROM_C {
        return WayName::Cold;
    }
    if peak < VERY_HOT_FROM_C {
        return WayName::Warm;
    }
    let often = turnings.len() >= 5
        && turnings
            .windows(2)
            .filter(|pair| pair[1] - pair[0] <= 2.5)
            .count()
            >= 4;
    match turnings.len() {
        0 => WayName::Unturned,
        _ if often => WayName::TurnedOften,
        _ => WayName::Hot,
    }
}

/// First day from which a limit is kept until the end, looked for backwards.
fn kept_from(records: &[Record], limit: &Limit, kinetics: &Kinetics) -> Option<f64> {
    let end = records.last()?.day;
    let stride = (end / MOST_LOOKS).max(TRIED_EVERY_DAYS);
    let mut kept = None;
    for record in records.iter().rev() {
        let due = kept.is_none_or(|day| day - record.day >= stride) || record.day <= 0.0;
        if !due {
            continue;
        }
        if measured(limit.measure, record, kinetics) > limit.most {
            break;
        }
        kept = Some(record.day);
    }
    kept
}

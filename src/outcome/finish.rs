//! When compost is done: a self-heating estimate, C:N and breathing below published limits.
//!
//! In: the records of a projection, the kinetics, `assets/finish.ron`. Out: [`Finish`].
//!
//! Finished means that all deciding limits of the table are kept to the end of the run, and that it has cured
//! after its hot stage; this is the only rule of "finished" there is. It cannot tell what a seedling thinks of it: the field tests do.
//!
//! Not here: the heap's own temperature (`heap`).
//!
//! Tested by: `tests/science/outcome_finish.rs`.

use serde::Deserialize;

use crate::heap::rot::OXYGEN_PER_CARBON;
use crate::heap::{Kinetics, Projection, Record};

use super::Trust;
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
pub enum LimitOn {
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

/// A published limit.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct FinishLimit {
    /// Short, stable name.
    pub id: String,
    /// Name on screen.
    pub name: String,
    /// What it is on.
    pub measure: LimitOn,
    /// Greatest value that meets it.
    pub most: f64,
    /// Whether it must be kept for "finished".
    pub deciding: bool,
    /// Where it stands.
    pub source: String,
    /// How far it is to be trusted.
    pub trust: Trust,
}

/// A way of making compost with the time it takes.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct WayRow {
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
    pub limits: Vec<FinishLimit>,
    /// Time that it cures after the hot stage before it counts as finished, d.
    pub curing_days: f64,
    /// Where that stands.
    pub curing_source: String,
    /// Ways with their times.
    pub ways: Vec<WayRow>,
    /// Field tests.
    pub tests: Vec<FieldTest>,
}

/// The value of a measure at a record.
pub fn measured(measure: LimitOn, record: &Record, kinetics: &Kinetics) -> f64 {
    let breath = || breathing_per_day(record, kinetics);
    match measure {
        LimitOn::FlaskRise => flask(record, kinetics).rise_k,
        LimitOn::CarbonNitrogen => carbon_nitrogen(record),
        LimitOn::OxygenMgPerGH => breath() * OXYGEN_PER_CARBON * 1000.0 / 24.0,
        // 1 mmol of oxygen is 32 mg.
        LimitOn::OxygenMmolPerKgH => breath() * OXYGEN_PER_CARBON * 1.0e6 / 24.0 / 32.0,
        LimitOn::CarbonMgPerGDay => breath() * 1000.0,
        LimitOn::CarbonDioxideMgPerGDay => breath() * 1000.0 * 44.0 / 12.0,
    }
}

/// How a heap stands against one limit.
#[derive(Debug, Clone, PartialEq)]
pub struct LimitResult {
    /// Value at the end of the run.
    pub at_end: f64,
    /// Day from which it is kept to the end; `None` if not within the run.
    pub day: Option<f64>,
}

/// What a heap lacks of being finished.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StillToCome {
    /// A deciding limit, by its place in [`FinishTable::limits`].
    Limit(usize),
    /// Curing after the hot stage.
    Curing,
}

/// How the material lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lies {
    /// In a bin or bay, or fenced.
    Heaped,
    /// Open on the ground.
    OnTheGround,
}

/// When it is done.
#[derive(Debug, Clone, PartialEq)]
pub struct Finish {
    /// Which way it is made.
    pub way: WayName,
    /// Last day on which the centre was at 40 degC or more.
    pub hot_until_day: Option<f64>,
    /// Every limit, in the order of the table.
    pub limits: Vec<LimitResult>,
    /// Day from which all deciding limits are kept and it has cured.
    pub day: Option<f64>,
    /// What is still to come at the end of the run; empty if finished.
    pub still_to_come: Vec<StillToCome>,
    /// The flask at the end of the run.
    pub flask_at_end: Flask,
}

impl Finish {
    /// Judges a projection; `turnings` are the days on which it is turned.
    pub fn of(
        projection: &Projection,
        table: &FinishTable,
        kinetics: &Kinetics,
        turnings: &[f64],
        lies: Lies,
    ) -> Option<Self> {
        let records = &projection.records;
        let last = records.last()?;
        let limits: Vec<LimitResult> = table
            .limits
            .iter()
            .map(|limit| LimitResult {
                at_end: measured(limit.measure, last, kinetics),
                day: kept_from(records, limit, kinetics),
            })
            .collect();
        let hot = hot_until(records);
        let deciding = table.limits.iter().zip(&limits);
        let deciding = deciding.filter_map(|(limit, got)| limit.deciding.then_some(got.day));
        Some(Self {
            way: way(projection, turnings, lies),
            hot_until_day: hot,
            day: day_of(deciding, hot, table, last.day),
            still_to_come: still_to_come(&limits, hot, table, last.day),
            limits,
            flask_at_end: flask(last, kinetics),
        })
    }
}

/// Last day on which the centre is at 40 degC or more.
fn hot_until(records: &[Record]) -> Option<f64> {
    let hot = records.iter().rev().find(|r| r.centre_c >= HOT_FROM_C);
    hot.map(|record| record.day)
}

/// Day from which all deciding limits are kept and it has cured, if within the run. `days` are those from which
/// each deciding limit is kept.
fn day_of(
    mut days: impl Iterator<Item = Option<f64>>,
    hot_until: Option<f64>,
    table: &FinishTable,
    last_day: f64,
) -> Option<f64> {
    let cured = hot_until.map_or(0.0, |day| day + table.curing_days);
    days.try_fold(cured, |latest, day| day.map(|day| latest.max(day)))
        .filter(|day| *day <= last_day)
}

/// The deciding limits that are not kept at the end, and curing that is not over.
fn still_to_come(
    limits: &[LimitResult],
    hot_until: Option<f64>,
    table: &FinishTable,
    last_day: f64,
) -> Vec<StillToCome> {
    let each = table.limits.iter().zip(limits).enumerate();
    let mut open: Vec<StillToCome> = each
        .filter(|(_, (limit, result))| limit.deciding && result.day.is_none())
        .map(|(place, _)| StillToCome::Limit(place))
        .collect();
    if hot_until.is_some_and(|day| day + table.curing_days > last_day) {
        open.push(StillToCome::Curing);
    }
    open
}

/// The day alone, looking at the deciding limits only.
pub fn finished_day(
    projection: &Projection,
    table: &FinishTable,
    kinetics: &Kinetics,
) -> Option<f64> {
    let records = &projection.records;
    let deciding = table.limits.iter().filter(|limit| limit.deciding);
    let days = deciding.map(|limit| kept_from(records, limit, kinetics));
    day_of(days, hot_until(records), table, records.last()?.day)
}

fn way(projection: &Projection, turnings: &[f64], lies: Lies) -> WayName {
    let peak = projection.summary.peak_c;
    if lies == Lies::OnTheGround && peak < HOT_FROM_C {
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
fn kept_from(records: &[Record], limit: &FinishLimit, kinetics: &Kinetics) -> Option<f64> {
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

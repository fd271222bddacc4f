//! When compost is done: two ends by a self-heating estimate, C:N and breathing below published limits.
//!
//! In: the records of a projection, the kinetics, `assets/finish.ron`. Out: [`Finish`].
//!
//! The first end is "fit to dig in or mulch": self-heating class III or better, kept to the end of the run, and no longer
//! hot. The second is finished, "fit for seedlings and pots": all limits that decide it are kept to the end of the run,
//! and it has cured after its hot stage; this is the only rule of "finished" there is. A heap of leaves that never gets hot
//! becomes leafmould, of which practice tells the times: what is left of it hardly heats and yet is leaf. What a seedling
//! thinks of it only the field tests tell, whose results `curing` counts.
//!
//! Not here: the heap's own temperature (`heap`), what field tests say (`curing`).
//!
//! Tested by: `tests/science/outcome_finish.rs`.

use serde::Deserialize;

use crate::garden::TestResult;
use crate::heap::rot::OXYGEN_PER_CARBON;
use crate::heap::{Kinetics, Projection, Record};

use super::Trust;
use super::curing::{Curing, Projected};
use super::flask::{Flask, breathing_per_day, carbon_nitrogen, flask};

pub use super::curing::{FieldTest, TestMeaning};

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

/// Which end a limit decides.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum Decides {
    /// None; it is shown beside the others.
    Nothing,
    /// Fit to dig in or mulch.
    DigIn,
    /// Fit for seedlings and pots.
    Pots,
    /// The same, where any one of these is enough.
    PotsByAnyOf,
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
    /// Which end it decides.
    pub decides: Decides,
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

/// What is known of leaves that are left to rot.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Leafmould {
    /// Share of the dry matter from which a heap is one of leaves, 0-1.
    pub share: f64,
    /// Age from which it is fit as mulch, d.
    pub mulch_days: f64,
    /// Age from which it is fit for seed and pots, d.
    pub pots_days: f64,
    /// Where that stands.
    pub source: String,
    /// How far it is to be trusted.
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
    /// C:N above which it ties nitrogen up where it is dug in.
    pub digs_in_cn: f64,
    /// Where that stands.
    pub digs_in_source: String,
    /// Leaves by themselves.
    pub leafmould: Leafmould,
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
    /// A deciding limit, by its place in [`FinishTable::limits`]; of those of which one is enough, the first.
    Limit(usize),
    /// Curing after the hot stage.
    Curing,
}

/// How far a heap is at the end of a run.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Stage {
    /// Still raw or rotting: not compost.
    Raw,
    /// Fit to dig in or mulch, young.
    Young,
    /// Fit for seedlings and pots.
    Mature,
}

/// How the material lies.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lies {
    /// In a bin or bay, or fenced.
    Heaped,
    /// Open on the ground.
    OnTheGround,
}

/// How a heap is made, as far as its times go.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Made<'a> {
    /// Days on which it is turned.
    pub turnings: &'a [f64],
    /// How it lies.
    pub lies: Lies,
    /// Share of its dry matter that is leaves, 0-1.
    pub leaf_share: f64,
}

/// When it is done.
#[derive(Debug, Clone, PartialEq)]
pub struct Finish {
    /// Which way it is made.
    pub way: WayName,
    /// Least and most time that heaps made this way are usually given, d; `None` where the table has no such way.
    pub usual_days: Option<(f64, f64)>,
    /// Last day on which the centre was at 40 degC or more.
    pub hot_until_day: Option<f64>,
    /// Every limit, in the order of the table.
    pub limits: Vec<LimitResult>,
    /// Day from which it is fit to dig in or mulch.
    pub usable_day: Option<f64>,
    /// Day from which it is finished: fit for seedlings and pots.
    pub day: Option<f64>,
    /// What is still to come at the end of the run; empty if finished.
    pub still_to_come: Vec<StillToCome>,
    /// The flask at the end of the run.
    pub flask_at_end: Flask,
    /// C:N at the end of the run.
    pub cn_at_end: f64,
    /// Whether it may be dug in; else it would tie nitrogen up and is for mulch alone.
    pub digs_in: bool,
    /// Length of the run, d.
    pub run_days: f64,
    /// Whether it is a heap of leaves that never gets hot: leafmould, of which the times of practice are told beside the
    /// days here, which are the simulation's.
    pub leaves: bool,
    /// What field tests say of both ends.
    pub curing: Curing,
}

impl Finish {
    /// Judges a projection of a heap made like this; `None` if it holds no records.
    pub fn of(
        projection: &Projection,
        table: &FinishTable,
        kinetics: &Kinetics,
        made: &Made<'_>,
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
        let days: Vec<Option<f64>> = limits.iter().map(|limit| limit.day).collect();
        let finished = table.finished(&days, hot, last.day);
        let way = way(projection, made);
        let never_hot = matches!(way, WayName::Cold | WayName::OnTheGround);
        Some(Self {
            way,
            usual_days: table.usual(way).map(|row| row.days),
            hot_until_day: hot,
            // What is finished is fit to dig in as well.
            usable_day: table.usable(&days, hot, last.day).or(finished),
            day: finished,
            still_to_come: table.still_to_come(&days, hot, last.day),
            limits,
            flask_at_end: flask(last, kinetics),
            cn_at_end: carbon_nitrogen(last),
            digs_in: carbon_nitrogen(last) <= table.digs_in_cn,
            run_days: last.day,
            leaves: never_hot && made.leaf_share >= table.leafmould.share,
            curing: Curing::untested(),
        })
    }

    /// The same with results of field tests.
    #[must_use]
    pub fn tested(mut self, table: &FinishTable, results: &[TestResult]) -> Self {
        let projected = Projected {
            hot_until_day: self.hot_until_day,
            usable_day: self.usable_day,
            day: self.day,
            usual_least_days: self.usual_days.map(|(least, _)| least),
            run_days: self.run_days,
        };
        let asked = (table.tests.as_slice(), table.curing_days);
        self.curing = Curing::of(&projected, asked, results);
        self
    }

    /// Day from which it is fit to dig in or mulch, field tests counted; `None` if a test has stopped it or not within
    /// the run.
    pub fn dig_in_day(&self) -> Option<f64> {
        self.curing.dig_in.day(self.usable_day)
    }

    /// Day from which it is fit for seedlings and pots, field tests counted; `None` if a test has stopped it or not
    /// within the run.
    pub fn pots_day(&self) -> Option<f64> {
        self.curing.pots.day(self.day)
    }

    /// Whether a day comes sooner than heaps made this way are usually given, so that it is told as the earliest.
    pub fn is_soon(&self, day: f64) -> bool {
        self.usual_days.is_some_and(|(least, _)| day < least)
    }

    /// How far it is at the end of the run, field tests counted.
    pub fn stage(&self) -> Stage {
        match (self.dig_in_day(), self.pots_day()) {
            (_, Some(_)) => Stage::Mature,
            (Some(_), None) => Stage::Young,
            (None, None) => Stage::Raw,
        }
    }
}

impl FinishTable {
    /// Day from which the limits that decide an end are all kept, and any of those of which one is enough; `days` are
    /// those from which each limit is kept.
    fn kept(&self, days: &[Option<f64>], decides: Decides) -> Option<f64> {
        let of = |wanted| {
            let each = self.limits.iter().zip(days);
            each.filter(move |(limit, _)| limit.decides == wanted)
                .map(|(_, day)| *day)
        };
        let all = of(decides).try_fold(0.0, |latest: f64, day| day.map(|day| latest.max(day)))?;
        if decides != Decides::Pots || of(Decides::PotsByAnyOf).next().is_none() {
            return Some(all);
        }
        let any = of(Decides::PotsByAnyOf).flatten();
        any.min_by(f64::total_cmp).map(|day| all.max(day))
    }

    /// Day from which it is fit to dig in or mulch, where that comes within the run.
    fn usable(&self, days: &[Option<f64>], hot_until: Option<f64>, last_day: f64) -> Option<f64> {
        let kept = self.kept(days, Decides::DigIn)?;
        match hot_until {
            None => Some(kept),
            // A heap that is hot to the last record is hot still.
            Some(hot) => Some(kept.max(hot)).filter(|_| hot < last_day),
        }
    }

    /// Day from which it is finished, where that comes within the run.
    fn finished(&self, days: &[Option<f64>], hot_until: Option<f64>, last_day: f64) -> Option<f64> {
        let kept = self.kept(days, Decides::Pots)?;
        let cured = hot_until.map_or(0.0, |day| day + self.curing_days);
        Some(kept.max(cured)).filter(|day| *day <= last_day)
    }

    /// What is known of a way.
    pub fn usual(&self, way: WayName) -> Option<&WayRow> {
        self.ways.iter().find(|row| row.way == way)
    }

    /// What still keeps a heap from being finished at the end of a run.
    fn still_to_come(
        &self,
        days: &[Option<f64>],
        hot_until: Option<f64>,
        last_day: f64,
    ) -> Vec<StillToCome> {
        let open = |wanted: Decides| {
            let each = self.limits.iter().zip(days).enumerate();
            each.filter(move |(_, (limit, day))| limit.decides == wanted && day.is_none())
                .map(|(place, _)| place)
        };
        let any_of = self.limits.iter();
        let any_of = any_of.filter(|limit| limit.decides == Decides::PotsByAnyOf);
        let none_of_them = open(Decides::PotsByAnyOf).count() == any_of.count();
        let first = open(Decides::PotsByAnyOf).take(usize::from(none_of_them));
        let mut still: Vec<StillToCome> = open(Decides::Pots)
            .chain(first)
            .map(StillToCome::Limit)
            .collect();
        if hot_until.is_some_and(|day| day + self.curing_days > last_day) {
            still.push(StillToCome::Curing);
        }
        still
    }
}

/// Last day on which the centre is at 40 degC or more.
fn hot_until(records: &[Record]) -> Option<f64> {
    let hot = records.iter().rev().find(|r| r.centre_c >= HOT_FROM_C);
    hot.map(|record| record.day)
}

/// The day alone from which it is finished, looking at the limits that decide it only.
pub fn finished_day(
    projection: &Projection,
    table: &FinishTable,
    kinetics: &Kinetics,
) -> Option<f64> {
    let records = &projection.records;
    let last = records.last()?;
    let days: Vec<Option<f64>> = table
        .limits
        .iter()
        .map(|limit| match limit.decides {
            Decides::Pots | Decides::PotsByAnyOf => kept_from(records, limit, kinetics),
            Decides::Nothing | Decides::DigIn => None,
        })
        .collect();
    table.finished(&days, hot_until(records), last.day)
}

fn way(projection: &Projection, made: &Made<'_>) -> WayName {
    let turnings = made.turnings;
    let peak = projection.summary.peak_c;
    if made.lies == Lies::OnTheGround && peak < HOT_FROM_C {
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

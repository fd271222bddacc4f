//! Heat rules of laws and standards as yardsticks for a heap.
//!
//! In: the rules of `assets/heat_rules.ron`, the courses of the parcels, the days of turning. Out: for each
//! rule whether its time and temperature would be met, where, in what share of the heap, and what is missing.
//!
//! A rule says where it is read: at a probe inside (rows and heaps) or in every part. Household heaps are
//! normally outside these rules. Only heat, turning and moisture are looked at; what else
//! a rule asks is listed, not judged.
//!
//! Not here: what dies (`kill`).
//!
//! Tested by: `tests/science/outcome_sanitation.rs` (each rule at, below and above its limits; class A).

use serde::Deserialize;

use crate::heap::Moment;

use super::Trust;
use super::course::{Hold, KillScale, stretches};

/// Tolerance on the spacing of turnings, d.
const SLACK_DAYS: f64 = 1e-8;

/// What kind of composting a rule is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum Process {
    /// Rows or heaps that are turned.
    Turned,
    /// Heaps that stand still and have air blown through, under an insulating cover.
    StillAerated,
    /// Rows under a roof that are turned.
    HousedRow,
    /// In a closed vessel.
    Enclosed,
    /// Any of them.
    Any,
}

/// Where a rule's temperature is read.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum ReadAt {
    /// By a probe inside.
    Inside,
    /// In every part of the heap.
    EveryPart,
}

/// Turnings that a rule asks for while the heap is hot.
#[derive(Debug, Clone, Copy, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Turnings {
    /// How many at least.
    pub least: usize,
    /// Least time between two, d; 0 where the rule says nothing.
    pub days_apart: f64,
    /// Whether the number itself is only from memory.
    pub from_memory: bool,
}

/// One rule on heat.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct HeatRule {
    /// Short, stable name.
    pub id: String,
    /// Name on screen.
    pub name: String,
    /// What it is for.
    pub process: Process,
    /// Alternatives; of one of them every hold must be met.
    pub any_of: Vec<Vec<Hold>>,
    /// Turnings while hot.
    pub turnings: Option<Turnings>,
    /// Least moisture, wet basis, for time to count.
    pub moisture_floor: Option<f64>,
    /// Where it is read.
    pub read_at: ReadAt,
    /// Whether a heap that meets it in every part had the heat that brings most plant diseases below
    /// detection; not so where a rule asks only for a significant reduction of germs.
    pub covers_plant_diseases: bool,
    /// What else it asks, not judged here.
    pub also_asks: Vec<String>,
    /// Where it stands.
    pub source: String,
    /// How far the figures here are to be trusted.
    pub trust: Trust,
}

/// What a rule is tested against.
#[derive(Debug, Clone, Copy)]
pub struct HeatEvidence<'a> {
    /// What a probe at the centre would read.
    pub inside: &'a [Moment],
    /// Courses of equal parcels; each stands for the same share of the heap.
    pub parcels: &'a [Vec<Moment>],
    /// Days of turning, rising.
    pub turnings: &'a [f64],
    /// Whether the heap is in a closed bin.
    pub enclosed: bool,
}

/// Something that a rule still wants.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Missing {
    /// So many more turnings while it is hot.
    Turnings(usize),
    /// More time at a temperature.
    Time {
        /// How much more, d.
        days: f64,
        /// At or above this, degC.
        at_c: f64,
        /// Whether in the coolest parcel (else at the probe inside).
        in_coolest: bool,
    },
}

/// How a heap stands against one rule.
#[derive(Debug, Clone, PartialEq)]
pub struct RuleResult {
    /// Whether its time, temperature and turnings would be met where it is read.
    pub would_meet: bool,
    /// Whether its time and temperature would be met at the probe inside.
    pub inside: bool,
    /// Share of the heap whose own parcel would meet its time and temperature, 0-1.
    pub share: f64,
    /// Time the coolest parcel has of the alternative shown, d, for each hold.
    pub coolest_days: Vec<f64>,
    /// Which alternative the numbers are for.
    pub alternative: usize,
    /// Turnings counted while it was hot, as far apart as the rule asks.
    pub turnings: usize,
    /// What is missing where the rule is read; empty if it would be met.
    pub missing: Vec<Missing>,
    /// What the coolest parcel lacks; empty if it has enough.
    pub missing_in_coolest: Vec<Missing>,
    /// Whether a garden heap of this kind is what the rule is for; where not, nothing is said of it but that.
    pub process_fits: bool,
}

impl HeatRule {
    /// Holds a heap against the rule.
    pub fn judge(&self, evidence: &HeatEvidence<'_>) -> RuleResult {
        let floor = self.moisture_floor.unwrap_or(0.0);
        let got = |course: &[Moment], holds: &[Hold]| -> Vec<f64> {
            holds.iter().map(|h| h.got_days(course, floor)).collect()
        };
        let met: Vec<bool> = evidence.parcels.iter().map(|p| self.is_met_by(p)).collect();
        let share = met.iter().filter(|met| **met).count() as f64 / met.len().max(1) as f64;
        let inside = self.is_met_by(evidence.inside);
        // The alternative that comes nearest where the rule is read.
        let reached = |holds: &[Hold]| match self.read_at {
            ReadAt::Inside => progress(holds, &got(evidence.inside, holds)),
            ReadAt::EveryPart => progress(holds, &coolest(holds, evidence.parcels, floor)),
        };
        let nearest = (0..self.any_of.len()).max_by(|&a, &b| {
            let (a, b) = (reached(&self.any_of[a]), reached(&self.any_of[b]));
            a.total_cmp(&b)
        });
        let alternative = nearest.unwrap_or(0);
        let holds: &[Hold] = self.any_of.get(alternative).map_or(&[], Vec::as_slice);
        let coolest_days = coolest(holds, evidence.parcels, floor);
        let turnings = self.turnings_counted(evidence);
        let wanted = self.turnings.map_or(0, |t| t.least);
        let missing_in_coolest = shortfall(holds, &coolest_days, true);
        let mut missing = match self.read_at {
            ReadAt::Inside if inside => Vec::new(),
            ReadAt::Inside => shortfall(holds, &got(evidence.inside, holds), false),
            ReadAt::EveryPart => missing_in_coolest.clone(),
        };
        if turnings < wanted {
            missing.push(Missing::Turnings(wanted - turnings));
        }
        RuleResult {
            would_meet: self.would_meet(evidence),
            inside,
            share,
            coolest_days,
            alternative,
            turnings,
            missing,
            missing_in_coolest,
            process_fits: match self.process {
                Process::Any => true,
                Process::Turned => !evidence.enclosed,
                // A garden heap has no hall, no forced air and no measured vessel.
                Process::HousedRow | Process::StillAerated | Process::Enclosed => false,
            },
        }
    }

    /// Whether one course has the time and temperature of any alternative.
    fn is_met_by(&self, course: &[Moment]) -> bool {
        let floor = self.moisture_floor.unwrap_or(0.0);
        self.any_of
            .iter()
            .any(|holds| holds.iter().all(|hold| hold.is_met(course, floor)))
    }

    /// Whether it would be met where it is read, turnings and all; looks no further than it must.
    pub fn would_meet(&self, evidence: &HeatEvidence<'_>) -> bool {
        let floor = self.moisture_floor.unwrap_or(0.0);
        let parts_meet = || match self.read_at {
            ReadAt::Inside => self.is_met_by(evidence.inside),
            // One alternative must hold throughout, so that a batch is judged by one line.
            ReadAt::EveryPart => self.any_of.iter().any(|holds| {
                evidence
                    .parcels
                    .iter()
                    .all(|course| holds.iter().all(|hold| hold.is_met(course, floor)))
            }),
        };
        // Without courses nothing is known, and nothing is met.
        !evidence.inside.is_empty()
            && !evidence.parcels.is_empty()
            && self.turnings_counted(evidence) >= self.turnings.map_or(0, |t| t.least)
            && parts_meet()
    }

    /// Turnings between the first and the last time that the probe reads the rule's least temperature.
    fn turnings_counted(&self, evidence: &HeatEvidence<'_>) -> usize {
        let apart = self.turnings.map_or(0.0, |t| t.days_apart);
        let least_c = self
            .any_of
            .iter()
            .flatten()
            .map(|hold| hold.at_c)
            .fold(f64::INFINITY, f64::min);
        let mut hot = stretches(evidence.inside, (least_c, f64::INFINITY), 0.0);
        let Some(first) = hot.next() else { return 0 };
        let end = |stretch: super::course::Stretch| stretch.from_day + stretch.days;
        let last = hot.last().map_or(end(first), end);
        let mut before = f64::NEG_INFINITY;
        let mut count = 0;
        for &day in evidence.turnings {
            let is_hot = day >= first.from_day - SLACK_DAYS && day <= last + SLACK_DAYS;
            if is_hot && day - before >= apart - SLACK_DAYS {
                count += 1;
                before = day;
            }
        }
        count
    }
}

/// How far the holds are met, 0-1: the least of them.
fn progress(holds: &[Hold], got: &[f64]) -> f64 {
    holds
        .iter()
        .zip(got)
        .map(|(hold, got)| (got / hold.days.max(1e-12)).min(1.0))
        .fold(1.0, f64::min)
}

/// What the parcel that is furthest from these holds has, d.
fn coolest(holds: &[Hold], parcels: &[Vec<Moment>], floor: f64) -> Vec<f64> {
    let got = |course: &Vec<Moment>| -> Vec<f64> {
        holds.iter().map(|h| h.got_days(course, floor)).collect()
    };
    parcels
        .iter()
        .map(got)
        .min_by(|a, b| progress(holds, a).total_cmp(&progress(holds, b)))
        .unwrap_or_else(|| vec![0.0; holds.len()])
}

fn shortfall(holds: &[Hold], got: &[f64], in_coolest: bool) -> Vec<Missing> {
    holds
        .iter()
        .zip(got)
        .filter(|(hold, got)| **got < hold.days - SLACK_DAYS)
        .map(|(hold, got)| Missing::Time {
            days: hold.days - got,
            at_c: hold.at_c,
            in_coolest,
        })
        .collect()
}

/// The equation for 7 % solids and more of 40 CFR 503.32(a)(3), as a yardstick: `D = factor / 10^(0.14 t)`.
///
/// Source: 15A NCAC 02T .1106, which carries the federal text. Checked: `tests/science/outcome_sanitation.rs`.
/// Note: at least one state leaves composting out of this alternative; the score is no compost rule.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ClassA {
    /// Days times `10^(0.14 t)`.
    pub factor_days: f64,
    /// Shortest time it holds for, d.
    pub shortest_days: f64,
    /// Range of solids, share of the mass, that it holds for.
    pub solids: (f64, f64),
}

/// Least temperature of the equation, degC.
pub const CLASS_A_FROM_C: f64 = 50.0;
/// For solids of 7 % and more.
pub const CLASS_A_SOLID: ClassA = ClassA {
    factor_days: 131_700_000.0,
    shortest_days: 20.0 / 1440.0,
    solids: (0.07, 1.0),
};
impl ClassA {
    /// Time asked at a temperature, d; `None` outside what the equation is for.
    pub fn days_at(&self, temperature_c: f64) -> Option<f64> {
        let days = self.raw_days_at(temperature_c);
        (temperature_c >= CLASS_A_FROM_C && days >= self.shortest_days).then_some(days)
    }

    /// The bare equation, d.
    pub fn raw_days_at(&self, temperature_c: f64) -> f64 {
        self.factor_days / 10f64.powf(0.14 * temperature_c)
    }

    /// Score of a course, 1 is what the equation asks. No instant counts faster than its shortest time allows.
    pub fn score(&self, course: &[Moment]) -> f64 {
        let scale = KillScale {
            ref_c: CLASS_A_FROM_C,
            z_k: 1.0 / 0.14,
        };
        // Where the equation would ask less than its shortest time, that time counts.
        let fastest_c = (self.factor_days / self.shortest_days).log10() / 0.14;
        let below = (CLASS_A_FROM_C, fastest_c);
        let usual: f64 = stretches(course, below, 0.0)
            .map(|stretch| scale.of_stretch(&stretch))
            .sum();
        let fast: f64 = stretches(course, (fastest_c, f64::INFINITY), 0.0)
            .map(|stretch| stretch.days)
            .sum();
        (usual / self.raw_days_at(CLASS_A_FROM_C) + fast / self.shortest_days).max(0.0)
    }
}

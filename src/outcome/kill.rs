//! What the heat does to seeds, roots, plant diseases and germs: the share of the heap that had enough.
//!
//! In: `assets/kill.ron`, the courses of the parcels. Out: shares and logs.
//!
//! Seeds and roots are credited by classes: the same parcel must have held a temperature while moist. Germs
//! are credited by integrated lethality `F = sum 10^((T - ref)/z) dt`, logs = F / D, at most so many per hot
//! spell because all published curves tail; below the floor temperature only slow dying counts, apart.
//! Nothing counts where it is dry.
//!
//! Not here: rules of law (`sanitation`), turnings (`turns`).
//!
//! Tested by: `tests/science/outcome_kill.rs`.

use serde::Deserialize;

use crate::heap::Moment;

use super::Trust;
use super::cautions::When;
use super::course::{Hold, KillScale, spells, stretches};

/// Class of seeds that counts unless another is asked for.
pub const SEEDS: &str = "seeds_ordinary";

/// What a study found.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Study {
    /// The finding in one sentence.
    pub finding: String,
    /// Who found it.
    pub source: String,
    /// How far it is to be trusted.
    pub trust: Trust,
}

/// The most that can be said of what had enough heat.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize)]
pub enum Best {
    /// Dead as far as the studies go.
    Killed,
    /// Mostly dead; some studies found survivors.
    MostlyKilled,
    /// No garden heap can be credited with it.
    Never,
}

/// Seeds, roots or other parts of plants that behave alike.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PlantClass {
    /// Short, stable name.
    pub id: String,
    /// What brings it into a heap.
    pub comes_with: When,
    /// Name on screen.
    pub name: String,
    /// Some of what is in it.
    pub examples: Vec<String>,
    /// All of them must be met by the same parcel.
    pub holds: Vec<Hold>,
    /// The most that can be said.
    pub best: Best,
    /// Where the line comes from.
    pub basis: String,
    /// How far that is to be trusted.
    pub trust: Trust,
    /// What was found.
    pub studies: Vec<Study>,
    /// Where the studies contradict each other.
    pub disagreement: Option<String>,
}

/// A disease of plants.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Disease {
    /// Name on screen.
    pub name: String,
    /// What brings it into a heap.
    pub comes_with: When,
    /// Whether to keep infected plants out of any garden heap.
    pub keep_out: bool,
    /// What was found.
    pub studies: Vec<Study>,
}

/// A germ with its rate of dying.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Germ {
    /// Short, stable name.
    pub id: String,
    /// What brings it into a heap.
    pub comes_with: When,
    /// Name on screen.
    pub name: String,
    /// Temperature scale.
    pub scale: KillScale,
    /// Time for a tenfold drop at the reference temperature, minutes.
    pub d_minutes: f64,
    /// Below this only slow dying counts, degC.
    pub above_c: f64,
    /// Most logs of one hot spell.
    pub cap_per_spell: f64,
    /// Time for a tenfold drop while not hot, d; the slow end of what was measured.
    pub slow_d_days: f64,
    /// Logs that count as enough.
    pub enough_logs: f64,
    /// Where the figures come from.
    pub source: String,
    /// How far they are to be trusted.
    pub trust: Trust,
}

/// Facts on what heat kills, as in `assets/kill.ron`.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct KillTable {
    /// Least moisture at which heat counts, wet basis.
    pub moisture_floor: f64,
    /// Where that comes from.
    pub moisture_source: String,
    /// Seeds.
    pub seeds: Vec<PlantClass>,
    /// Roots, rhizomes, bulbs.
    pub roots: Vec<PlantClass>,
    /// Diseases.
    pub diseases: Vec<Disease>,
    /// Germs.
    pub germs: Vec<Germ>,
}

/// How a class of seeds or roots fared.
#[derive(Debug, Clone, PartialEq)]
pub struct PlantResult {
    /// Share of the heap that had enough heat while moist, 0-1.
    pub share: f64,
    /// Share that would have had enough if dry heat counted, 0-1.
    pub share_if_moist: f64,
}

/// How a germ fared.
#[derive(Debug, Clone, PartialEq)]
pub struct GermResult {
    /// Share of the heap with enough logs by heat alone, 0-1.
    pub share: f64,
    /// Logs by heat in the parcel that had least.
    pub least_logs: f64,
    /// Logs by heat, mean of the parcels' survivors: `-log10(mean 10^-logs)`.
    pub overall_logs: f64,
    /// Logs in the same least parcel by slow dying while not hot.
    pub slow_logs: f64,
}

impl PlantClass {
    /// Whether a parcel had enough; never where nothing is credited.
    pub fn is_met(&self, course: &[Moment], floor: f64) -> bool {
        self.best != Best::Never
            && !self.holds.is_empty()
            && self.holds.iter().all(|hold| hold.is_met(course, floor))
    }

    /// Share of equal parcels that had enough, 0-1.
    pub fn share(&self, parcels: &[Vec<Moment>], floor: f64) -> f64 {
        share_of(parcels, |course| self.is_met(course, floor))
    }
}

impl Germ {
    /// Logs by heat of one parcel: each hot spell at most the cap.
    pub fn logs(&self, course: &[Moment], floor: f64) -> f64 {
        let band = (self.above_c, f64::INFINITY);
        let per_day = 1440.0 / self.d_minutes;
        let mut spells = spells(course, band, floor).into_iter();
        let Some(mut spell) = spells.next() else {
            return 0.0;
        };
        let (mut total, mut own) = (0.0, 0.0);
        for stretch in stretches(course, band, floor) {
            while stretch.from_day >= spell.1 {
                total += f64::min(own, self.cap_per_spell);
                own = 0.0;
                match spells.next() {
                    Some(next) => spell = next,
                    None => return total,
                }
            }
            own += self.scale.of_stretch(&stretch) * per_day;
        }
        total + own.min(self.cap_per_spell)
    }

    /// Logs by slow dying while not hot.
    pub fn slow_logs(&self, course: &[Moment]) -> f64 {
        let band = (f64::NEG_INFINITY, self.above_c);
        let cool: f64 = stretches(course, band, 0.0).map(|s| s.days).sum();
        cool / self.slow_d_days
    }

    /// Share of equal parcels with enough logs by heat, 0-1.
    pub fn share(&self, parcels: &[Vec<Moment>], floor: f64) -> f64 {
        share_of(parcels, |course| {
            self.logs(course, floor) >= self.enough_logs
        })
    }

    /// All parcels together.
    pub fn judge(&self, parcels: &[Vec<Moment>], floor: f64) -> GermResult {
        let logs: Vec<f64> = parcels.iter().map(|p| self.logs(p, floor)).collect();
        let least = logs
            .iter()
            .enumerate()
            .min_by(|a, b| a.1.total_cmp(b.1))
            .map(|(place, _)| place);
        let many = logs.len().max(1) as f64;
        let survive: f64 = logs.iter().map(|l| 10f64.powf(-l)).sum::<f64>() / many;
        let enough = logs.iter().filter(|l| **l >= self.enough_logs).count();
        GermResult {
            share: enough as f64 / many,
            least_logs: least.map_or(0.0, |place| logs[place]),
            overall_logs: if logs.is_empty() {
                0.0
            } else {
                -survive.log10()
            },
            slow_logs: least.map_or(0.0, |place| self.slow_logs(&parcels[place])),
        }
    }
}

impl KillTable {
    /// Every class of seeds, then of roots.
    pub fn plants(&self) -> impl Iterator<Item = &PlantClass> {
        self.seeds.iter().chain(&self.roots)
    }

    /// How every class fared.
    pub fn judge_plants(&self, parcels: &[Vec<Moment>]) -> Vec<PlantResult> {
        self.plants()
            .map(|class| PlantResult {
                share: class.share(parcels, self.moisture_floor),
                share_if_moist: class.share(parcels, 0.0),
            })
            .collect()
    }

    /// How every germ fared.
    pub fn judge_germs(&self, parcels: &[Vec<Moment>]) -> Vec<GermResult> {
        self.germs
            .iter()
            .map(|germ| germ.judge(parcels, self.moisture_floor))
            .collect()
    }
}

/// Share of equal parcels for which something holds, 0-1.
pub fn share_of(parcels: &[Vec<Moment>], holds: impl Fn(&[Moment]) -> bool) -> f64 {
    let yes = parcels.iter().filter(|course| holds(course)).count();
    yes as f64 / parcels.len().max(1) as f64
}

/// Share left untreated after so many hot spells with random mixing between them: `(1 - h)^n`.
///
/// Source: elementary probability. Checked: `tests/science/outcome_kill.rs`, table of h against spells.
/// Note: inside-out forking does better than random, sloppy shifting worse.
pub fn untreated_by_random_mixing(hot_share: f64, spells: u32) -> f64 {
    (1.0 - hot_share).powi(spells as i32)
}

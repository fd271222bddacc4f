//! Whether a symptom shows in a projection, and by how much.
//!
//! In: a symptom, a projection. Out: a number that grows as the symptom goes away, and the least difference of it that
//! a person could notice.
//!
//! Heat is one number: the peak up to 60 degC, and a day counts as a kelvin, up to two weeks above 40 and one above
//! 55 degC (tuned: what rules on heat and seeds ask for, 55 degC for 3 days to 15, weighs about as much as the way from
//! cold to hot).
//!
//! Hot, too hot, too dry and a smell of ammonia are what they are in the results (`smell`).
//!
//! Not here: what may be behind it (`cause`), the differences of pairs (`forecast::Effect`).
//!
//! Tested by: `tests/science/complaint.rs`.

use crate::heap::{Projection, Record, Summary};
use crate::mix::bands;
use crate::outcome::shared;
use crate::outcome::smell::{HOT_FROM_C, TOO_DRY, TOO_HOT_C, TroubleKind, troubles_found};
use crate::outcome::sour::souring;
use crate::outcome::turns::seeds_treated;

use super::symptom::Symptom;

/// Peak from which more warmth is no gain, degC (what counts for heat rules is reached well below it).
const WARM_ENOUGH_C: f64 = 60.0;
/// Days above 40 degC from which more are no gain (tuned, see the head).
const DAYS_40_ENOUGH: f64 = 14.0;
/// Days above 55 degC from which more are no gain (tuned, see the head).
const DAYS_55_ENOUGH: f64 = 7.0;
/// An edge that never gets this warm stays behind, degC (tuned: between the air and the hot phase).
const WARM_EDGE_C: f64 = 35.0;
/// Nitrogen lost in all ways from which it may smell even where no day loses what `smell` asks for, share (tuned: about
/// half a per cent a day for a month). Ammonia is a part of it: a smell is rather told too often.
const SMELLS_SHARE: f64 = 0.12;
/// Rot held back for lack of air from which it smells, share (tuned: about where a fork smells it).
const STINKS_SHARE: f64 = 0.05;
/// What a share of the volume that turns sour counts beside rot held back, factor (tuned: half a heap that is sour stinks
/// as one in which lack of air holds back a tenth).
const SOUR_COUNTS: f64 = 0.2;
/// Water that runs out at the foot, share of the water brought in, from which juice is seen (tuned).
const JUICE_SHARE: f64 = 0.05;
/// Dry matter lost below which nobody sees it shrink, share (Chester County: about half its volume in a good season).
const SHRINKS_SHARE: f64 = 0.20;
/// Days above 40 degC below which a heap that lit "cooled within days".
const COOLS_DAYS: f64 = 10.0;
/// Share of the heap of whose seeds a person could notice that they live or die (tuned: a weed in ten).
const SEEDS_SHARE: f64 = 0.1;
/// Days over which moisture is looked at, from the first record on.
const LOOKED_AT_DAYS: f64 = 60.0;

/// What of a projection tells of a symptom.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Goal {
    /// Peak and days of heat, in one number.
    Warmth,
    /// Days above 40 degC.
    LongHeat,
    /// Peak near the skin, degC.
    WarmEdge,
    /// Share of the heap that gets the heat which kills ordinary seeds.
    SeedsKilled,
    /// Dry matter lost, share.
    Decomposed,
    /// Peak, degC, less of it.
    Cooler,
    /// Nitrogen lost as ammonia, share, less of it.
    Nitrogen,
    /// Rot held back for lack of air, share, and a part of the share that turns sour; less of it.
    Air,
    /// Driest mean moisture.
    Moister,
    /// Mean moisture later on, less of it.
    Drier,
    /// Water that drains, share of what came in, less of it.
    Juice,
}

impl Goal {
    /// What tells of a symptom; `None` where a projection knows nothing of it.
    pub fn of(symptom: Symptom) -> Option<Self> {
        Some(match symptom {
            Symptom::Cold => Self::Warmth,
            Symptom::CooledDown => Self::LongHeat,
            Symptom::OnlyMiddle => Self::WarmEdge,
            Symptom::Weeds => Self::SeedsKilled,
            Symptom::NotShrinking => Self::Decomposed,
            Symptom::TooHot => Self::Cooler,
            Symptom::SmellAmmonia => Self::Nitrogen,
            Symptom::SmellSour => Self::Air,
            Symptom::Dry | Symptom::Ants => Self::Moister,
            Symptom::Soggy => Self::Drier,
            Symptom::BlackJuice => Self::Juice,
            Symptom::Matted
            | Symptom::Flies
            | Symptom::Rats
            | Symptom::WhiteThreads
            | Symptom::Lumpy
            | Symptom::StuntedSeedlings
            | Symptom::CuppedLeaves
            | Symptom::ShrankByHalf => return None,
        })
    }

    /// Its number in a projection; more is better. `None` without records or where a table is damaged.
    pub fn value(self, projection: &Projection) -> Option<f64> {
        let summary = &projection.summary;
        let last = projection.records.last()?;
        let looked_at = || {
            let records = projection.records.iter();
            let first = projection.records.first().map_or(0.0, |record| record.day);
            records.filter(move |record| record.day <= first + LOOKED_AT_DAYS)
        };
        Some(match self {
            Self::Warmth => {
                summary.peak_c.min(WARM_ENOUGH_C)
                    + summary.days_above_40.min(DAYS_40_ENOUGH)
                    + summary.days_above_55.min(DAYS_55_ENOUGH)
            }
            Self::LongHeat => summary.days_above_40,
            Self::WarmEdge => {
                let edges = projection.records.iter().map(|record| record.edge_c);
                edges.fold(f64::NEG_INFINITY, f64::max)
            }
            Self::SeedsKilled => seeds_treated(projection, &shared().ok()?.kill)?,
            Self::Decomposed => summary.dry_matter_lost_share,
            Self::Cooler => -summary.peak_c,
            Self::Nitrogen => {
                let ledger = &projection.ledger;
                -ledger.nitrogen_ammonia_kg / ledger.nitrogen_start_kg.max(1e-12)
            }
            Self::Air => {
                let sour = souring(projection).map_or(0.0, |found| found.share);
                -(summary.airless_share + SOUR_COUNTS * sour)
            }
            Self::Moister => looked_at().map(|r| r.moisture).fold(1.0, f64::min),
            Self::Drier => -mean_moisture(looked_at()).unwrap_or(last.moisture),
            Self::Juice => {
                let ledger = &projection.ledger;
                let came = ledger.water_start_kg + ledger.water_rain_kg;
                -ledger.water_drained_kg / came.max(1e-9)
            }
        })
    }

    /// Least difference of it that a person could notice.
    pub fn noticed(self) -> f64 {
        match self {
            // As `forecast::Measured` has them: 2 K on a probe, a day, 5 % of dry matter, 3 % of nitrogen.
            Self::Warmth | Self::WarmEdge | Self::Cooler => 2.0,
            Self::LongHeat => 1.0,
            Self::SeedsKilled => SEEDS_SHARE,
            Self::Decomposed => 0.05,
            // Less than the 5 % there (tuned, reason not recorded).
            Self::Air => 0.02,
            Self::Nitrogen => 0.03,
            // A squeeze in the hand tells some five points at worst; two and a half between two squeezes.
            Self::Moister | Self::Drier => 0.025,
            Self::Juice => 0.02,
        }
    }

    /// Whether the summary of a run alone tells whether the symptom shows.
    pub fn told_by_summary(self) -> bool {
        matches!(
            self,
            Self::Warmth
                | Self::LongHeat
                | Self::Decomposed
                | Self::Cooler
                | Self::Nitrogen
                | Self::Air
        )
    }

    /// Whether the symptom shows in the summary of a run; of one that a summary does not tell, no.
    pub fn shows_in(self, summary: &Summary) -> bool {
        match self {
            Self::Warmth => summary.peak_c < HOT_FROM_C,
            Self::LongHeat => summary.peak_c >= HOT_FROM_C && summary.days_above_40 < COOLS_DAYS,
            Self::Decomposed => summary.dry_matter_lost_share < SHRINKS_SHARE,
            Self::Cooler => summary.peak_c > TOO_HOT_C,
            Self::Nitrogen => summary.nitrogen_lost_share > SMELLS_SHARE,
            Self::Air => summary.airless_share > STINKS_SHARE,
            Self::WarmEdge | Self::SeedsKilled | Self::Moister | Self::Drier | Self::Juice => false,
        }
    }

    /// Whether the symptom shows in the projection.
    pub fn shows(self, projection: &Projection) -> bool {
        let value = self.value(projection).unwrap_or(0.0);
        match self {
            Self::WarmEdge => value < WARM_EDGE_C,
            Self::SeedsKilled => value < 1.0 - SEEDS_SHARE,
            Self::Nitrogen => smells_of_ammonia(projection) || self.shows_in(&projection.summary),
            Self::Moister => value < TOO_DRY,
            Self::Drier => -value > bands::MOISTURE.works.1,
            Self::Juice => -value > JUICE_SHARE,
            Self::Air => -value > STINKS_SHARE,
            _ => self.shows_in(&projection.summary),
        }
    }
}

/// As the results judge it: by what leaves in a day.
fn smells_of_ammonia(projection: &Projection) -> bool {
    let mut found = troubles_found(projection).into_iter();
    found.any(|trouble| trouble.kind == TroubleKind::Ammonia)
}

fn mean_moisture<'a>(records: impl Iterator<Item = &'a Record>) -> Option<f64> {
    let (sum, count) = records.fold((0.0, 0_u32), |(sum, count), record| {
        (sum + record.moisture, count + 1)
    });
    (count > 0).then(|| sum / f64::from(count))
}

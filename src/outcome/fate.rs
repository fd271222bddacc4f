//! Where nitrogen and water go: what leaves a heap as gas and with drained water, what rain brings.
//!
//! In: a projection, its heap. Out: [`NitrogenFate`] and [`WaterFate`], each `None` where there is nothing to tell.
//!
//! All of it is the ledger's; here it is only weighed against what was put in.
//!
//! Not here: what is left (`produce`), words (`text::outcome`).
//!
//! Tested by: `tests/science/outcome_produce.rs`.

use crate::heap::{Heap, Projection};
use crate::mix::bands;

/// Share of the nitrogen from which a way out is worth a line (tuned: half a per cent).
const WORTH_A_LINE: f64 = 0.005;
/// Share of the nitrogen from which its loss is worth a cure (tuned: a tenth, the middle of what turned rows of C:N 35 to 42
/// lose, Michel et al. 2004, abstract read).
const WORTH_A_CURE: f64 = 0.10;
/// Least part of the loss that a way out must have for its own cure (tuned).
const PART_WORTH_A_CURE: f64 = 0.25;
/// Rain or drained water, against all that was put in, from which water is worth a line (tuned: a tenth).
const WATER_WORTH_A_LINE: f64 = 0.10;

/// A way by which nitrogen leaves a heap.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum NitrogenWay {
    /// As ammonia, into the air.
    Ammonia,
    /// As dinitrogen, from nitrate where oxygen is short.
    NitrogenGas,
    /// In rain and other water that was put on it and drains away.
    RainedOut,
    /// In its own water, where hardly any was put on it.
    SeepedOut,
}

/// What leaves by one way.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NitrogenLoss {
    /// Which way.
    pub way: NitrogenWay,
    /// How much, kg.
    pub kg: f64,
    /// Share of all nitrogen put in, 0-1.
    pub share: f64,
    /// Whether so much goes this way that a cure is worth its words.
    pub wants_cure: bool,
}

/// Where the nitrogen went that is no longer there.
#[derive(Debug, Clone, PartialEq)]
pub struct NitrogenFate {
    /// Share of all nitrogen put in that left, 0-1.
    pub share: f64,
    /// Ways that are worth a line, most first.
    pub losses: Vec<NitrogenLoss>,
}

/// How water falls on a heap.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum WaterFrom {
    /// Rain alone.
    Rain,
    /// Rain and what the plan pours on.
    RainAndWatering,
}

/// Where the water came from and went, kg.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WaterFate {
    /// All that was put in, later additions counted.
    pub put_in_kg: f64,
    /// All that is there at the end.
    pub came_out_kg: f64,
    /// What fell on it.
    pub fell_kg: f64,
    /// As what.
    pub from: WaterFrom,
    /// What drained away.
    pub drained_kg: f64,
    /// What left as vapour.
    pub vapour_kg: f64,
    /// Moisture at the end, wet basis.
    pub moisture: f64,
    /// Whether it ends wetter than works.
    pub ends_too_wet: bool,
}

impl NitrogenFate {
    /// What the ledger says; `None` where no way out is worth a line.
    pub fn of(projection: &Projection) -> Option<Self> {
        let ledger = &projection.ledger;
        let put_in_kg = ledger.nitrogen_start_kg;
        if put_in_kg <= 0.0 {
            return None;
        }
        let share = ledger.nitrogen_lost_kg() / put_in_kg;
        let drained = if ledger.water_rain_kg > 0.5 * ledger.water_drained_kg {
            NitrogenWay::RainedOut
        } else {
            NitrogenWay::SeepedOut
        };
        let ways = [
            (NitrogenWay::Ammonia, ledger.nitrogen_ammonia_kg),
            (NitrogenWay::NitrogenGas, ledger.nitrogen_gas_kg),
            (drained, ledger.nitrogen_drained_kg),
        ];
        let mut losses: Vec<NitrogenLoss> = ways
            .into_iter()
            .map(|(way, kg)| NitrogenLoss {
                way,
                kg,
                share: kg / put_in_kg,
                wants_cure: share >= WORTH_A_CURE && kg / put_in_kg >= PART_WORTH_A_CURE * share,
            })
            .filter(|loss| loss.share >= WORTH_A_LINE)
            .collect();
        losses.sort_by(|a, b| b.kg.total_cmp(&a.kg));
        (!losses.is_empty()).then_some(Self { share, losses })
    }
}

impl WaterFate {
    /// What the ledger says; `None` where less comes out than went in and rain and drains moved little.
    pub fn of(projection: &Projection, heap: &Heap) -> Option<Self> {
        let (ledger, last) = (&projection.ledger, projection.records.last()?);
        let put_in_kg = ledger.dry_start_kg + ledger.water_start_kg;
        let came_out_kg = last.dry_kg + last.water_kg;
        let moved = ledger.water_rain_kg.max(ledger.water_drained_kg);
        let waters = |event: &crate::heap::Event| event.operation.waters();
        (came_out_kg > put_in_kg || moved > WATER_WORTH_A_LINE * put_in_kg).then(|| Self {
            put_in_kg,
            came_out_kg,
            fell_kg: ledger.water_rain_kg,
            from: if heap.plan.events.iter().any(waters) {
                WaterFrom::RainAndWatering
            } else {
                WaterFrom::Rain
            },
            drained_kg: ledger.water_drained_kg,
            vapour_kg: ledger.water_vapour_kg,
            moisture: last.moisture,
            ends_too_wet: last.moisture > bands::MOISTURE.works.1,
        })
    }
}

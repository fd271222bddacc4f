//! The simulated history of a heap.
//!
//! In: what the simulator records. Out: series and a summary that can be drawn, judged and compared.
//!
//! A projection is always computed, never saved.
//!
//! Held against: `tests/science/heap_cases.rs`, `tests/science/ledgers.rs`.

/// The heap at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Record {
    /// Days since the start.
    pub day: f64,
    /// Temperature of the heap, degC.
    pub temperature_c: f64,
    /// Temperature of the air outside, degC.
    pub ambient_c: f64,
    /// Moisture, wet basis, 0-1.
    pub moisture: f64,
    /// Oxygen in the pores, mole fraction of dry air.
    pub oxygen: f64,
    /// Dry matter, kg.
    pub dry_kg: f64,
    /// Water, kg.
    pub water_kg: f64,
    /// Nitrogen in the heap, kg.
    pub nitrogen_kg: f64,
    /// Volume, m3.
    pub volume_m3: f64,
}

/// How a run ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ended {
    /// All days were simulated.
    Finished,
    /// The state left the range in which the model means anything.
    Stopped {
        /// Day on which it happened.
        day: f64,
    },
}

/// What happened, in a few numbers.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Summary {
    /// Highest temperature, degC.
    pub peak_c: f64,
    /// Day of the highest temperature.
    pub peak_day: f64,
    /// Time at or above 40 degC, d.
    pub days_above_40: f64,
    /// Time at or above 55 degC, d.
    pub days_above_55: f64,
    /// Rot that was held back for want of oxygen, share of what was wanted, 0-1.
    pub airless_share: f64,
    /// Nitrogen lost as ammonia, share of what was there, 0-1.
    pub nitrogen_lost_share: f64,
    /// Dry matter lost, share of what was there, 0-1.
    pub dry_matter_lost_share: f64,
    /// First day on which what is left would hardly breathe; `None` if not within the run.
    pub finished_day: Option<f64>,
}

/// Where heat, water, carbon and nitrogen came from and went, over the whole run.
///
/// Each quantity closes: start + in - out - end = 0 to rounding.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ledger {
    /// Sensible heat at the start, relative to 0 degC, J.
    pub heat_start_j: f64,
    /// Sensible heat at the end, J.
    pub heat_end_j: f64,
    /// Heat of oxidation, J.
    pub heat_made_j: f64,
    /// Heat lost through the surface and the ground, J.
    pub heat_surface_j: f64,
    /// Heat carried off by air and vapour, J.
    pub heat_vapour_j: f64,
    /// Heat carried off by drained water, less what rain brought, J.
    pub heat_drained_j: f64,
    /// Water at the start, kg.
    pub water_start_kg: f64,
    /// Water at the end, kg.
    pub water_end_kg: f64,
    /// Water made by oxidation, kg.
    pub water_made_kg: f64,
    /// Water from rain, kg.
    pub water_rain_kg: f64,
    /// Water carried off as vapour, kg.
    pub water_vapour_kg: f64,
    /// Water drained, kg.
    pub water_drained_kg: f64,
    /// Carbon at the start, kg.
    pub carbon_start_kg: f64,
    /// Carbon at the end, kg.
    pub carbon_end_kg: f64,
    /// Carbon oxidised to carbon dioxide, kg.
    pub carbon_oxidised_kg: f64,
    /// Nitrogen at the start, kg.
    pub nitrogen_start_kg: f64,
    /// Nitrogen at the end, kg.
    pub nitrogen_end_kg: f64,
    /// Nitrogen lost as ammonia, kg.
    pub nitrogen_ammonia_kg: f64,
    /// Oxygen used by oxidation, kg.
    pub oxygen_used_kg: f64,
    /// Oxygen brought in by air, kg.
    pub oxygen_supplied_kg: f64,
    /// Dry matter at the start, kg.
    pub dry_start_kg: f64,
    /// Dry matter at the end, kg.
    pub dry_end_kg: f64,
}

/// The simulated history of a heap.
#[derive(Debug, Clone, PartialEq)]
pub struct Projection {
    /// The heap from hour to hour, the start first; at least one entry.
    pub records: Vec<Record>,
    /// A few numbers.
    pub summary: Summary,
    /// Balances.
    pub ledger: Ledger,
    /// How the run ended.
    pub ended: Ended,
    /// Steps taken.
    pub steps: usize,
}

impl Projection {
    /// The record at or last before `day`.
    pub fn at(&self, day: f64) -> Option<&Record> {
        let after = self.records.partition_point(|record| record.day <= day);
        self.records.get(after.saturating_sub(1))
    }
}

/// Time during which a straight line through the records lies at or above `limit_c`, d.
fn days_at_or_above(records: &[Record], limit_c: f64) -> f64 {
    records
        .windows(2)
        .map(|pair| {
            let (a, b) = (
                pair[0].temperature_c - limit_c,
                pair[1].temperature_c - limit_c,
            );
            let share = match (a >= 0.0, b >= 0.0) {
                (true, true) => 1.0,
                (false, false) => 0.0,
                _ => a.max(b) / (a - b).abs(),
            };
            share * (pair[1].day - pair[0].day)
        })
        .sum()
}

/// The few numbers of a run.
pub fn summarise(
    records: &[Record],
    ledger: &Ledger,
    finished_day: Option<f64>,
    airless_share: f64,
) -> Summary {
    let share = |part: f64, whole: f64| if whole > 0.0 { part / whole } else { 0.0 };
    let (peak_c, peak_day) = records.iter().fold((f64::NEG_INFINITY, 0.0), |best, r| {
        if r.temperature_c > best.0 {
            (r.temperature_c, r.day)
        } else {
            best
        }
    });
    Summary {
        peak_c,
        peak_day,
        days_above_40: days_at_or_above(records, 40.0),
        days_above_55: days_at_or_above(records, 55.0),
        airless_share,
        nitrogen_lost_share: share(ledger.nitrogen_ammonia_kg, ledger.nitrogen_start_kg),
        dry_matter_lost_share: share(ledger.dry_start_kg - ledger.dry_end_kg, ledger.dry_start_kg),
        finished_day,
    }
}

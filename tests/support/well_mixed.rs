//! The well-mixed heap: one cell that breathes, warms, dries and rots as a whole. The reference cell.
//!
//! In: sums of a mix, a heap, kinetics, a tolerance. Out: records and the ledger of the whole run.
//!
//! It shares the laws of rot and moist air with the program and nothing of the grid, flow and transport,
//! and is itself tested against scipy's LSODA. Not here: the state and its rates (`cell`).
//!
//! Tested by: `tests/science/one_cell.rs` (LSODA).

mod cell;

use heapwright::heap::rot;
use heapwright::heap::{Heap, Kinetics, Ledger};
use heapwright::mix::Totals;

use super::integrate::{State, trial_step};
use cell::{
    AMMONIA, CHECKED, Cell, Change, DRAINED, HEAT, HEAT_DRAINED, HEAT_SURFACE, HEAT_VAPOUR,
    NITROGEN_DRAINED, NITROGEN_GAS, OXIDISED, OXYGEN_IN, RAINED, VAPOUR, WATER,
};

/// Hours between records; also the longest step.
const RECORD_HOURS: f64 = 2.0;

/// The reference heap at one moment.
#[derive(Debug, Clone, Copy)]
pub struct CellRecord {
    pub day: f64,
    pub temperature_c: f64,
    pub oxygen: f64,
    pub dry_kg: f64,
    pub water_kg: f64,
    pub nitrogen_kg: f64,
    pub volume_m3: f64,
}

/// What the reference heap did.
#[derive(Debug, Clone)]
pub struct CellHistory {
    pub records: Vec<CellRecord>,
    pub ledger: Ledger,
}

impl CellHistory {
    /// The record at or last before `day`.
    pub fn at(&self, day: f64) -> Option<&CellRecord> {
        let after = self.records.partition_point(|record| record.day <= day);
        self.records.get(after.saturating_sub(1))
    }
}

/// Simulates a heap as one well-mixed cell.
///
/// `totals` must hold dry matter and a volume.
pub fn simulate_well_mixed(
    totals: &Totals,
    heap: &Heap,
    kinetics: &Kinetics,
    tolerance: f64,
) -> CellHistory {
    let (cell, start) = Cell::build(totals, heap, kinetics);
    let every = RECORD_HOURS / 24.0;
    let count = (heap.days / every).ceil() as usize;
    let mut records = Vec::with_capacity(count + 1);
    let mut state = start;
    let mut change = cell.change(0.0, &state);
    records.push(cell.record(0.0, &state, &change));
    let mut step = 0.01_f64.min(every);
    let mut day = 0.0;
    let mut rate_at = |t: f64, y: &State| cell.change(t, y).rate;
    for index in 1..=count {
        let stop = (index as f64 * every).min(heap.days);
        while day < stop {
            let h = step.min(stop - day);
            let scale: State =
                std::array::from_fn(|i| tolerance * (state[i].abs() + start[i].abs() + 1e-3));
            let (end, _, error) = trial_step(
                &mut rate_at,
                (day, &state, &change.rate),
                h,
                &scale,
                CHECKED,
            );
            let factor = (0.9 * error.powf(-0.2)).clamp(0.2, 3.0);
            if !error.is_finite() || !cell.is_meaningful(&end) || error > 1.0 {
                step = if error.is_finite() {
                    h * factor.min(0.5)
                } else {
                    h * 0.2
                };
                assert!(step > 1e-7, "the reference cell cannot go on at day {day}");
                continue;
            }
            day = if h < stop - day { day + h } else { stop };
            state = end;
            change = cell.change(day, &state);
            // A step cut short only by the record's time says nothing about the step to try next.
            step = if h < step {
                step.min(h * factor).max(h)
            } else {
                h * factor
            };
        }
        records.push(cell.record(day, &state, &change));
    }
    CellHistory {
        records,
        ledger: cell.ledger(&start, &state),
    }
}

impl Cell<'_> {
    fn record(&self, day: f64, state: &State, change: &Change) -> CellRecord {
        let moment = self.moment(day, state);
        let v = self.volume_m3;
        CellRecord {
            day,
            temperature_c: moment.temperature_c,
            oxygen: change.oxygen,
            dry_kg: moment.dry * v,
            water_kg: state[WATER] * v,
            nitrogen_kg: self.nitrogen(state) * v,
            volume_m3: v * moment.height_share,
        }
    }

    fn ledger(&self, start: &State, end: &State) -> Ledger {
        let v = self.volume_m3;
        Ledger {
            heat_start_j: start[HEAT] * v,
            heat_end_j: end[HEAT] * v,
            heat_made_j: end[OXIDISED] * rot::HEAT_PER_CARBON_J_PER_KG * v,
            heat_surface_j: end[HEAT_SURFACE] * v,
            heat_vapour_j: end[HEAT_VAPOUR] * v,
            heat_drained_j: end[HEAT_DRAINED] * v,
            water_start_kg: start[WATER] * v,
            water_end_kg: end[WATER] * v,
            water_made_kg: end[OXIDISED] * self.water_per_carbon() * v,
            water_rain_kg: end[RAINED] * v,
            water_vapour_kg: end[VAPOUR] * v,
            water_drained_kg: end[DRAINED] * v,
            carbon_start_kg: self.carbon(start) * v,
            carbon_end_kg: self.carbon(end) * v,
            carbon_oxidised_kg: end[OXIDISED] * v,
            nitrogen_start_kg: self.nitrogen(start) * v,
            nitrogen_end_kg: self.nitrogen(end) * v,
            nitrogen_ammonia_kg: end[AMMONIA] * v,
            nitrogen_gas_kg: end[NITROGEN_GAS] * v,
            nitrogen_drained_kg: end[NITROGEN_DRAINED] * v,
            oxygen_used_kg: end[OXIDISED] * rot::OXYGEN_PER_CARBON * v,
            oxygen_supplied_kg: end[OXYGEN_IN] * v,
            dry_start_kg: self.dry(start) * v,
            dry_end_kg: self.dry(end) * v,
            ..Ledger::default()
        }
    }
}

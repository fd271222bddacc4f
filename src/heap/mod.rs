//! The heap: a mix with a shape, a place and a season, and the simulation of what becomes of it.
pub mod climate;
pub mod projection;
pub mod shape;

pub use climate::Climate;
pub use projection::{Ended, Ledger, Projection, Record, Summary};
pub use shape::{Envelope, Lid, Shape};

use serde::{Deserialize, Serialize};

use crate::mix::Totals;
use crate::quantity::{OutOfRange, bounds};

/// A heap: shape, place, season.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Heap {
    /// Kind and size.
    pub shape: Shape,
    /// Weather of the place.
    pub climate: Climate,
    /// Day of the year on which it is built, 1 January = 1.
    pub start_day_of_year: f64,
    /// Temperature of the fresh mix, degC; `None` is the day's mean, but at least 8 degC.
    pub start_temperature_c: Option<f64>,
    /// Days to project.
    pub days: f64,
}

impl Heap {
    /// Checks every number.
    ///
    /// # Errors
    /// [`OutOfRange`] for the first number outside its bound.
    pub fn check(&self) -> Result<(), OutOfRange> {
        self.shape.check()?;
        self.climate.check()?;
        bounds::DAY_OF_YEAR.check(self.start_day_of_year)?;
        bounds::DAYS.check(self.days)?;
        if let Some(start) = self.start_temperature_c {
            bounds::START_TEMPERATURE.check(start)?;
        }
        Ok(())
    }
}

/// Simulates a heap of this mix; `None` if there is nothing to rot (no dry matter, or a volume
/// outside [`bounds::HEAP_VOLUME`]).
pub fn simulate(totals: &Totals, heap: &Heap) -> Option<Projection> {
    // stub until the well-mixed cell lands; replaced in this same issue
    let volume_m3 = bounds::HEAP_VOLUME.check(totals.volume_m3()).ok()?;
    if totals.dry_kg <= 0.0 {
        return None;
    }
    let records = (0..=(heap.days as usize * 4))
        .map(|i| {
            let day = i as f64 / 4.0;
            let ambient_c = heap.climate.air_c(heap.start_day_of_year - 1.0 + day);
            Record {
                day,
                temperature_c: ambient_c + 40.0 * (day / 4.0) * (1.0 - day / 4.0).exp(),
                ambient_c,
                moisture: totals.moisture(),
                oxygen: 0.2,
                dry_kg: totals.dry_kg,
                water_kg: totals.water_kg,
                nitrogen_kg: totals.nitrogen_kg,
                volume_m3,
            }
        })
        .collect();
    Some(Projection {
        records,
        summary: Summary {
            peak_c: 60.0,
            peak_day: 4.0,
            days_above_40: 8.0,
            days_above_55: 3.0,
            airless_share: 0.02,
            nitrogen_lost_share: 0.1,
            dry_matter_lost_share: 0.3,
            finished_day: None,
        },
        ledger: Ledger::default(),
        ended: Ended::Finished,
        steps: 0,
    })
}

//! What a mix should be: bands for every gauge, with their source.
//!
//! In: a gauge's value. Out: which side of the band it lies on.
//!
//! Not here: the words for it (`text::mix`), what to do about it (`outcome::advice`).
//!
//! Tested by: `tests/science/blend.rs`.

/// Where a value lies against a band.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fit {
    /// Below what still works.
    TooLow,
    /// Works, but below the best part.
    Low,
    /// In the best part.
    Good,
    /// Works, but above the best part.
    High,
    /// Above what still works.
    TooHigh,
}

/// The gauges that have a band.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gauge {
    /// Moisture, wet basis.
    Moisture,
    /// C:N, total.
    CarbonNitrogen,
    /// Free air space once settled.
    AirSpace,
    /// Volume against the room.
    Volume,
    /// Wet bulk density as built.
    Density,
}

impl Gauge {
    /// Every one.
    pub const ALL: [Self; 5] = [
        Self::Moisture,
        Self::CarbonNitrogen,
        Self::AirSpace,
        Self::Volume,
        Self::Density,
    ];
}

/// What works and what is best for one gauge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TargetBand {
    /// Least and greatest value that still works.
    pub works: (f64, f64),
    /// Least and greatest value of the best part.
    pub best: (f64, f64),
}

impl TargetBand {
    /// Where a value lies against the band.
    pub fn judge(&self, value: f64) -> Fit {
        if value < self.works.0 {
            Fit::TooLow
        } else if value < self.best.0 {
            Fit::Low
        } else if value <= self.best.1 {
            Fit::Good
        } else if value <= self.works.1 {
            Fit::High
        } else {
            Fit::TooHigh
        }
    }
}

/// The bands of the gauges.
pub mod bands {
    use super::{Gauge, TargetBand};

    /// C:N at the start. Source: Cooperband 2002: works 20-40, best 25-35.
    pub const CN: TargetBand = TargetBand {
        works: (20.0, 40.0),
        best: (25.0, 35.0),
    };
    /// Moisture, wet basis. Source: The Composting Handbook 2022: works 40-65 %, best 50-60 %.
    pub const MOISTURE: TargetBand = TargetBand {
        works: (0.40, 0.65),
        best: (0.50, 0.60),
    };
    /// Free air space once settled, share of volume. Source: Technical Note 24 on compost bulk density, measured in
    /// a bucket that is knocked down: above 20 %, best 35-60 %. Leaves, straw
    /// and hay measure 38-99 % (Ahn, Richard and Glanville 2008, abstract), so for garden heaps the upper end is
    /// tuned: balanced mixes up to 70 % pass 55 degC in the model. Upper end of what works: common practice.
    pub const FREE_AIR_SPACE: TargetBand = TargetBand {
        works: (0.20, 0.85),
        best: (0.35, 0.70),
    };
    /// Bulk density as built, wet, kg/m3. Source: Cooperband 2002: up to 593 kg/m3 (1000 lb/yd3). Lower ends tuned:
    /// balanced mixes from 170 kg/m3 up pass 55 degC in the model.
    pub const BULK_DENSITY_KG_PER_M3: TargetBand = TargetBand {
        works: (100.0, 593.0),
        best: (150.0, 593.0),
    };

    /// Least volume that keeps its heat, m3: 3 ft each way (extension services, home heaps; Raabe, University of
    /// California: sides of 32-36 inches).
    pub const KEEPS_HEAT_FROM_M3: f64 = 0.765;
    /// Volume to make where a heap can be of any, m3: a metre each way, clear of the least (common practice).
    pub const GOOD_VOLUME_M3: f64 = 1.0;

    /// Volume against the room there is, m3: best within a tenth below the brim.
    pub fn volume(room_m3: f64) -> TargetBand {
        TargetBand {
            works: (0.6 * room_m3, 1.05 * room_m3),
            best: (0.85 * room_m3, room_m3),
        }
    }

    /// The band of a gauge; of the volume only where the heap has a fixed size.
    pub fn of(gauge: Gauge, room_m3: Option<f64>) -> Option<TargetBand> {
        Some(match gauge {
            Gauge::CarbonNitrogen => CN,
            Gauge::Moisture => MOISTURE,
            Gauge::AirSpace => FREE_AIR_SPACE,
            Gauge::Density => BULK_DENSITY_KG_PER_M3,
            Gauge::Volume => volume(room_m3?),
        })
    }
}

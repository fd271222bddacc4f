//! What a mix should be: bands for every gauge, with their source, and the word for each side.
//!
//! In: a gauge's value. Out: which side of the band it lies on, and the word for it.
//!
//! Not here: what to do about it (`outcome::advice`).
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

/// A value tested against a band.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Judged {
    /// Which side.
    pub fit: Fit,
    /// The word for it.
    pub word: &'static str,
}

/// The gauges that have a band.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Gauge {
    /// Moisture, wet basis.
    Moisture,
    /// C:N, total.
    CarbonNitrogen,
    /// Free air space.
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

    /// What it is called in a sentence.
    pub fn label(self) -> &'static str {
        match self {
            Self::Moisture => "moisture",
            Self::CarbonNitrogen => "C:N",
            Self::AirSpace => "free air space",
            Self::Volume => "volume",
            Self::Density => "bulk density",
        }
    }
}

/// What works and what is best for one gauge.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Band {
    /// Least and greatest value that still works.
    pub works: (f64, f64),
    /// Least and greatest value of the best part.
    pub best: (f64, f64),
    /// Words for too low, low, good, high, too high.
    pub words: [&'static str; 5],
    /// Where the limits come from.
    pub source: &'static str,
}

impl Band {
    /// Holds a value against the band.
    pub fn judge(&self, value: f64) -> Judged {
        let fit = if value < self.works.0 {
            Fit::TooLow
        } else if value < self.best.0 {
            Fit::Low
        } else if value <= self.best.1 {
            Fit::Good
        } else if value <= self.works.1 {
            Fit::High
        } else {
            Fit::TooHigh
        };
        Judged {
            fit,
            word: self.words[fit as usize],
        }
    }
}

/// The bands of the gauges.
pub mod bands {
    use super::Band;

    /// C:N at the start.
    pub const CN: Band = Band {
        works: (20.0, 40.0),
        best: (25.0, 35.0),
        words: [
            "too green",
            "on the green side",
            "balanced",
            "on the brown side",
            "too brown",
        ],
        source: "Cooperband 2002: works 20-40, best 25-35",
    };
    /// Moisture, wet basis.
    pub const MOISTURE: Band = Band {
        works: (0.40, 0.65),
        best: (0.50, 0.60),
        words: [
            "too dry",
            "on the dry side",
            "moist",
            "on the wet side",
            "too wet",
        ],
        source: "The Composting Handbook 2022: works 40-65 %, best 50-60 %",
    };
    /// Free air space, share of volume.
    pub const FREE_AIR_SPACE: Band = Band {
        works: (0.20, 0.85),
        best: (0.35, 0.60),
        words: ["airless", "tight", "airy", "loose", "very loose"],
        source: "Technical Note 24 on compost bulk density: above 20 %, best 35-60 %; upper end common practice",
    };
    /// Bulk density as built, wet, kg/m3.
    pub const BULK_DENSITY_KG_PER_M3: Band = Band {
        works: (100.0, 593.0),
        best: (250.0, 593.0),
        words: ["fluffy", "light", "about right", "heavy", "too heavy"],
        source: "Cooperband 2002: up to 593 kg/m3 (1000 lb/yd3); lower end common practice",
    };

    /// Volume against the room there is, m3: best within a tenth below the brim.
    pub fn volume(room_m3: f64) -> Band {
        Band {
            works: (0.6 * room_m3, 1.05 * room_m3),
            best: (0.85 * room_m3, room_m3),
            words: ["too little", "not full", "full", "over-full", "too much"],
            source: "the room of the chosen heap",
        }
    }
}

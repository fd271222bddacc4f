//! Where a mix stands against its bands, and how bad that is.
//!
//! In: the sums of a mix, the room there is. Out: a reading per gauge, and one number to compare
//! mixes by.
//!
//! Not here: the bands themselves (`mix`).
//!
//! Tested by: `tests/science/advice.rs`.

use crate::mix::{Fit, Gauge, TargetBand, Totals, bands};

impl Gauge {
    /// How much it matters below and above its band. `tuned`: too little air stops a heap, too much
    /// settles by itself; weight follows from air and water; an empty half of a bin does no harm.
    fn weights(self) -> (f64, f64) {
        match self {
            Self::Moisture | Self::CarbonNitrogen => (1.0, 1.0),
            Self::AirSpace => (1.2, 0.2),
            Self::Volume => (0.0, 0.5),
            Self::Density => (0.0, 0.3),
        }
    }
}

/// One gauge of a mix.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Reading {
    pub(super) gauge: Gauge,
    pub(super) value: f64,
    pub(super) fit: Fit,
    /// How far outside the best part: 0 inside, 1 at the end of what works, more beyond.
    pub(super) off: f64,
    /// How far from the middle of the best part, 1 at its edge and beyond.
    lean: f64,
    /// The nearer end of the best part.
    pub(super) edge: f64,
}

/// What it costs to lie at the edge of a band instead of its middle; `tuned` so that advice aims
/// inside without chasing the middle.
const EDGE: f64 = 0.15;
/// Least badness of one gauge that calls for a change.
const CALLS_FOR_CHANGE: f64 = 0.2;

impl Reading {
    fn new(gauge: Gauge, value: f64, band: &TargetBand) -> Self {
        // C:N 20 is as far from 28 as 40 is: it is tested against its band by ratio.
        let scale = |value: f64| match gauge {
            Gauge::CarbonNitrogen => value.clamp(0.1, 1e4).ln(),
            _ => value,
        };
        let pair = |(low, high)| (scale(low), scale(high));
        let best = pair(band.best);
        let works = match gauge {
            // What does not fit can be kept back, so a third of the room too much is only as bad
            // as moisture half way to what no longer works.
            Gauge::Volume => (band.works.0, 1.33 * band.best.1),
            _ => pair(band.works),
        };
        let half = 0.5 * (best.1 - best.0);
        Self {
            gauge,
            value,
            fit: band.judge(value),
            off: distance(scale(value), works, best),
            edge: if value < band.best.0 {
                band.best.0
            } else {
                band.best.1
            },
            lean: ((scale(value) - best.0 - half).abs() / half).min(1.0),
        }
    }

    pub(super) fn is_good(&self) -> bool {
        self.fit == Fit::Good
    }

    /// Whether it is so far off that the heap would not work.
    pub(super) fn fails(&self) -> bool {
        matches!(self.fit, Fit::TooLow | Fit::TooHigh)
    }

    /// How much its side of the band matters.
    pub(super) fn weight(&self) -> f64 {
        let (below, above) = self.gauge.weights();
        match self.fit {
            Fit::TooLow | Fit::Low => below,
            _ => above,
        }
    }

    /// What being outside its band adds to the badness of the mix.
    pub(super) fn weighed(&self) -> f64 {
        self.weight() * self.off
    }
}

/// A value as coarsely as a person reads it: whole per cents, tenths of C:N, three digits of a volume.
pub(super) fn as_read(gauge: Gauge, value: f64) -> f64 {
    let to = |step: f64| (value / step).round() * step;
    match gauge {
        Gauge::Moisture | Gauge::AirSpace => to(0.01),
        Gauge::CarbonNitrogen => to(0.1),
        Gauge::Density => to(1.0),
        Gauge::Volume if value < 0.1 => to(1e-4),
        Gauge::Volume if value < 2.0 => to(1e-3),
        Gauge::Volume => to(0.01),
    }
}

fn distance(value: f64, works: (f64, f64), best: (f64, f64)) -> f64 {
    let steps = if value < best.0 {
        (best.0 - value) / (best.0 - works.0)
    } else if value > best.1 {
        (value - best.1) / (works.1 - best.1).max(1e-9)
    } else {
        0.0
    };
    // Beyond what works every further step counts double; far beyond, ever less, so that what is
    // hopeless in one way does not drown the rest.
    const FAR: f64 = 5.0;
    if steps <= 1.0 {
        steps
    } else if steps <= FAR {
        2.0 * steps - 1.0
    } else {
        (2.0 * FAR - 1.0) + 2.0 * FAR * (steps / FAR).ln()
    }
}

/// A mix against all its bands.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Standing {
    readings: [Option<Reading>; 5],
}

impl Standing {
    /// `None` without dry matter.
    pub(super) fn of(totals: &Totals, room_m3: Option<f64>) -> Option<Self> {
        if totals.dry_kg <= 0.0 {
            return None;
        }
        let volume = totals.volume_m3();
        let density = totals.wet_kg() / volume;
        Some(Self {
            readings: Gauge::ALL.map(|gauge| {
                let reading = |value, band: &TargetBand| Some(Reading::new(gauge, value, band));
                match gauge {
                    Gauge::Moisture => reading(totals.moisture(), &bands::MOISTURE),
                    Gauge::CarbonNitrogen => reading(totals.cn(), &bands::CN),
                    Gauge::AirSpace => reading(totals.settled_air_space(), &bands::FREE_AIR_SPACE),
                    Gauge::Density => reading(density, &bands::BULK_DENSITY_KG_PER_M3),
                    Gauge::Volume => room_m3.and_then(|room| reading(volume, &bands::volume(room))),
                }
            }),
        })
    }

    /// The gauges there are; volume only where a room is known.
    pub(super) fn readings(&self) -> impl Iterator<Item = &Reading> {
        self.readings.iter().flatten()
    }

    pub(super) fn reading(&self, gauge: Gauge) -> Option<&Reading> {
        self.readings().find(|reading| reading.gauge == gauge)
    }

    /// One number to compare mixes by: about 1 for each gauge at the end of what works.
    pub(super) fn badness(&self) -> f64 {
        self.readings()
            .map(|reading| {
                let edge = match reading.gauge {
                    Gauge::Volume | Gauge::Density => 0.0,
                    _ => EDGE * reading.lean,
                };
                reading.weight() * (reading.off + edge)
            })
            .sum()
    }

    /// Whether any gauge that matters but the volume is so far off that the heap would not work.
    pub(super) fn fails(&self) -> bool {
        let mut readings = self
            .readings()
            .filter(|reading| reading.gauge != Gauge::Volume);
        readings.any(|reading| reading.fails() && reading.weighed() > 0.0)
    }

    /// Whether any gauge but the volume is so far off that the mix should be changed.
    pub(super) fn calls_for_change(&self) -> bool {
        self.readings()
            .filter(|reading| reading.gauge != Gauge::Volume)
            .any(|reading| reading.weighed() >= CALLS_FOR_CHANGE)
    }
}

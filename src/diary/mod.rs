//! The diary: what was measured of a heap that really stands, by hand or by a logger.
//!
//! In: what a person enters or imports. Out: plain data with dates, saved with the recipe; days since the heap was built.
//!
//! What was done to the heap (turned, watered, added to) stands in its plan, on the day it was really done; here is only
//! what was seen. Times are those of the clock at the heap, without a time zone: an hour of daylight saving moves a
//! heap by less than a thermometer's error.
//!
//! Chapter: `check` holds the bounds of its numbers, `temperatures` the long lists of loggers, `shared_list` one that copies share.
//!
//! Not here: how far a reading can be trusted and what it says of the heap (`forecast`), the plan (`heap`), words (`text`).
//!
//! Tested by: `tests/document/diary.rs`, `tests/window/diary.rs`.

mod check;
mod shared_list;
mod temperatures;

pub use check::{DiaryError, MOST_LOGGED, MOST_LOGS, MOST_READINGS};
pub use shared_list::SharedList;
pub use temperatures::Temperatures;

pub mod import;

use jiff::civil::DateTime;
use serde::{Deserialize, Serialize};

use crate::quantity::{OutOfRange, bounds};

/// Hours of a day.
const DAY_HOURS: f64 = 24.0;

/// A place in the cross-section of a heap, as shares of its present size.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Spot {
    /// From the middle (0) to the side (1), at its height.
    pub out: f64,
    /// From the ground (0) to the top (1).
    pub up: f64,
}

impl Spot {
    /// The middle of the heap.
    pub const CENTRE: Self = Self { out: 0.0, up: 0.5 };
    /// A hand's breadth inside the side, halfway up (common practice for probes near the surface, as the next two).
    pub const EDGE: Self = Self { out: 0.85, up: 0.5 };
    /// In the middle, close under the top.
    pub const TOP: Self = Self { out: 0.0, up: 0.85 };
    /// In the middle, close above the ground.
    pub const FOOT: Self = Self { out: 0.0, up: 0.15 };

    /// Checks that it lies in the heap.
    ///
    /// # Errors
    /// [`OutOfRange`] for a share outside 0 to 1.
    pub fn check(self) -> Result<(), OutOfRange> {
        bounds::PLACE_IN_HEAP.check(self.out)?;
        bounds::PLACE_IN_HEAP.check(self.up).map(|_| ())
    }
}

/// What a handful does when it is squeezed hard, driest first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Squeeze {
    /// It falls apart and leaves the hand dry.
    FallsApart,
    /// It holds together for a moment and leaves the hand hardly damp.
    HardlyDamp,
    /// It holds together and leaves the hand damp; a drop at most.
    LikeWrungSponge,
    /// A few drops come.
    Drips,
    /// Water runs.
    Runs,
}

impl Squeeze {
    /// All of them, driest first.
    pub const ALL: [Self; 5] = [
        Self::FallsApart,
        Self::HardlyDamp,
        Self::LikeWrungSponge,
        Self::Drips,
        Self::Runs,
    ];
}

/// How wet it was found, and how that was found.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Wetness {
    /// Squeezed in the hand.
    Squeezed(Squeeze),
    /// Read from a probe, wet basis, 0-1.
    Probe(f64),
    /// Weighed before and after drying in an oven, wet basis, 0-1.
    Oven(f64),
}

/// What a heap smells of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub enum Smell {
    /// Of earth, or of nothing.
    Earthy,
    /// Sharp, of ammonia.
    Ammonia,
    /// Sour, of vinegar or silage.
    Sour,
    /// Of rot or bad eggs.
    Rotten,
}

impl Smell {
    /// All of them.
    pub const ALL: [Self; 4] = [Self::Earthy, Self::Ammonia, Self::Sour, Self::Rotten];
}

/// What was seen of a heap at one moment. A part that was not looked at is `None`.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Reading {
    /// When, by the clock at the heap.
    pub at: DateTime,
    /// Where temperature, wetness and oxygen were taken.
    pub spot: Spot,
    /// Temperature, degC.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub temperature_c: Option<f64>,
    /// Wetness.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub wetness: Option<Wetness>,
    /// Oxygen in the air of the pores, share of that air by volume, 0-0.21.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub oxygen: Option<f64>,
    /// Height of the heap, m.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub height_m: Option<f64>,
    /// What it smelled of.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub smell: Option<Smell>,
    /// Anything worth keeping with it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub note: String,
    /// Where a photograph of it lies, a path or a link.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub photo: String,
}

impl Reading {
    /// A reading in which nothing has been entered yet.
    pub fn blank(at: DateTime, spot: Spot) -> Self {
        Self {
            at,
            spot,
            temperature_c: None,
            wetness: None,
            oxygen: None,
            height_m: None,
            smell: None,
            note: String::new(),
            photo: String::new(),
        }
    }

    /// A temperature and nothing else, degC.
    pub fn temperature(at: DateTime, spot: Spot, temperature_c: f64) -> Self {
        Self {
            temperature_c: Some(temperature_c),
            ..Self::blank(at, spot)
        }
    }
}

/// What one probe of a logger has recorded.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Log {
    /// What the probe is called.
    pub name: String,
    /// Where it sits.
    pub spot: Spot,
    /// Days since the heap was built and temperature, degC; days rise.
    pub temperatures_c: Temperatures,
}

/// What was measured of one heap.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Diary {
    /// When the heap was built, by the clock at the heap; `None`: it does not stand yet.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub built: Option<DateTime>,
    /// Readings, in the order in which they were entered.
    #[serde(default, skip_serializing_if = "is_empty")]
    pub readings: SharedList<Reading>,
    /// What loggers have recorded.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub logs: Vec<Log>,
    /// Days since the heap was built of those entries of the plan that were really done, one for each.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub done: Vec<f64>,
}

fn is_empty(readings: &SharedList<Reading>) -> bool {
    readings.is_empty()
}

impl Diary {
    /// Whether nothing stands in it.
    pub fn is_empty(&self) -> bool {
        self.built.is_none() && self.holds_nothing()
    }

    /// Whether nothing was measured or done yet.
    pub fn holds_nothing(&self) -> bool {
        self.readings.is_empty() && self.logs.is_empty() && self.done.is_empty()
    }

    /// Whether a heap stands of which something was measured, so that it can be learnt from.
    pub fn teaches(&self) -> bool {
        self.built.is_some() && !(self.readings.is_empty() && self.logs.is_empty())
    }

    /// Says when the heap was built. Readings and what loggers recorded keep their dates, so that their days are
    /// others; days of the plan stay.
    pub fn build_on(&mut self, built: DateTime) {
        let moved = self.day_of(built);
        self.built = Some(built);
        if let Some(later) = moved.filter(|days| *days != 0.0) {
            for log in &mut self.logs {
                let pairs = log.temperatures_c.iter();
                log.temperatures_c = pairs
                    .map(|(day, degrees)| (day - later, *degrees))
                    .collect();
            }
        }
    }

    /// The first whole day after today, from which a plan can still be another; `None` if the heap does not stand yet.
    pub fn first_free_day(&self, now: DateTime) -> Option<f64> {
        Some((self.day_of(now)?.floor() + 1.0).max(0.0))
    }

    /// Days from the building of the heap to a moment, negative before it; `None` if it does not stand yet.
    pub fn day_of(&self, at: DateTime) -> Option<f64> {
        let built = self.built?;
        Some(built.duration_until(at).as_secs_f64() / 3600.0 / DAY_HOURS)
    }

    /// The moment so many days after the heap was built, to the second; `None` if it does not stand yet, or beyond the calendar.
    pub fn moment_of(&self, day: f64) -> Option<DateTime> {
        let seconds =
            jiff::SignedDuration::try_from_secs_f64((day * DAY_HOURS * 3600.0).round()).ok()?;
        self.built?.checked_add(seconds).ok()
    }
}

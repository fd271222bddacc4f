//! Every allowed interval, declared once with the words its messages use.
//!
//! In: a number from a file, a slider or a text field. Out: the number, or a sentence.
//!
//! Not here: what a mix or heap should be (target bands live with the science that needs them).
//!
//! Tested by: `tests/science/quantity.rs`, `tests/document/bad_input.rs`.

use thiserror::Error;

/// An allowed interval and what it is called.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Bound {
    /// What the number is, as a person would say it.
    pub name: &'static str,
    /// Least allowed value.
    pub low: f64,
    /// Greatest allowed value.
    pub high: f64,
    /// Unit of both, empty for plain numbers.
    pub unit: &'static str,
}

/// A number outside its bound.
#[derive(Debug, Clone, Copy, PartialEq, Error)]
#[error("{} must lie between {} and {}{}, found {}", .bound.name, .bound.low, .bound.high, .bound.unit_text(), number_text(*.found))]
pub struct OutOfRange {
    /// The bound that was broken.
    pub bound: &'static Bound,
    /// The number found.
    pub found: f64,
}

/// A number as it was given; in powers of ten where its zeros would fill the line.
pub(crate) fn number_text(value: f64) -> String {
    let size = value.abs();
    if size.is_finite() && size != 0.0 && !(1e-6..1e9).contains(&size) {
        format!("{value:e}")
    } else {
        value.to_string()
    }
}

impl Bound {
    /// The unit with the space before it, or nothing.
    fn unit_text(&self) -> String {
        match self.unit {
            "" => String::new(),
            unit => format!(" {unit}"),
        }
    }

    /// The value, if it lies within.
    ///
    /// # Errors
    /// [`OutOfRange`] when `value` is below, above or not a number.
    pub fn check(&'static self, value: f64) -> Result<f64, OutOfRange> {
        if value >= self.low && value <= self.high {
            Ok(value)
        } else {
            Err(OutOfRange {
                bound: self,
                found: value,
            })
        }
    }
}

/// All bounds on numbers that come from outside.
pub mod bounds {
    use super::Bound;

    /// Amount of one ingredient, in its own measure.
    pub const AMOUNT: Bound = Bound {
        name: "an ingredient's amount",
        low: 0.0,
        high: 100_000.0,
        unit: "",
    };
    /// Most there is of one ingredient, in its own measure.
    pub const STOCK: Bound = Bound {
        name: "what there is of an ingredient",
        low: 0.0,
        high: 100_000.0,
        unit: "",
    };
    /// Water added to a mix.
    pub const ADDED_WATER: Bound = Bound {
        name: "added water",
        low: 0.0,
        high: 1_000_000.0,
        unit: "L",
    };
    /// Water poured over a heap at once.
    pub const POURED_WATER: Bound = Bound {
        name: "poured water",
        low: 0.0,
        high: 100_000.0,
        unit: "L",
    };
    /// A place in the cross-section of a heap, as a share of its size.
    pub const PLACE_IN_HEAP: Bound = Bound {
        name: "a place in the heap",
        low: 0.0,
        high: 1.0,
        unit: "",
    };
    /// Size of a measure of the user's own.
    pub const OWN_MEASURE: Bound = Bound {
        name: "the size of an own measure",
        low: 0.01,
        high: 10_000.0,
        unit: "L",
    };
    /// Any share of a whole.
    pub const SHARE: Bound = Bound {
        name: "a share",
        low: 0.0,
        high: 1.0,
        unit: "",
    };
    /// Volume of one heap.
    pub const HEAP_VOLUME: Bound = Bound {
        name: "the heap's volume",
        low: 0.01,
        high: 1000.0,
        unit: "m3",
    };
    /// A length of the heap: width, length or height.
    pub const HEAP_LENGTH: Bound = Bound {
        name: "a length of the heap",
        low: 0.1,
        high: 200.0,
        unit: "m",
    };
    /// Monthly mean temperature of the place.
    pub const AIR_TEMPERATURE: Bound = Bound {
        name: "a monthly mean temperature",
        low: -60.0,
        high: 50.0,
        unit: "degC",
    };
    /// Half the difference between the day's warmest and coldest hour.
    pub const DAILY_SWING: Bound = Bound {
        name: "the daily swing of temperature",
        low: 0.0,
        high: 25.0,
        unit: "K",
    };
    /// Monthly mean rain.
    pub const RAIN: Bound = Bound {
        name: "a month's rain",
        low: 0.0,
        high: 2000.0,
        unit: "mm",
    };
    /// Temperature of the material when it is mixed.
    pub const START_TEMPERATURE: Bound = Bound {
        name: "the temperature of the fresh mix",
        low: -20.0,
        high: 60.0,
        unit: "degC",
    };
    /// Days a projection covers.
    pub const DAYS: Bound = Bound {
        name: "the forecast length",
        low: 1.0,
        high: 1500.0,
        unit: "d",
    };
    /// Day of the year, 1 January = 1.
    pub const DAY_OF_YEAR: Bound = Bound {
        name: "the day of the year",
        low: 1.0,
        high: 366.0,
        unit: "",
    };
    /// Day of a planned operation, after the heap was built.
    pub const DAY_OF_PLAN: Bound = Bound {
        name: "the day of a planned operation",
        low: 0.0,
        high: 1500.0,
        unit: "d",
    };
    /// Days from one time of a planned operation to the next.
    pub const REPEAT_DAYS: Bound = Bound {
        name: "the days from one time to the next",
        low: 0.5,
        high: 366.0,
        unit: "d",
    };
    /// How many times a planned operation is done.
    pub const REPEAT_TIMES: Bound = Bound {
        name: "the times of a planned operation",
        low: 1.0,
        high: 400.0,
        unit: "",
    };
    /// Moisture that a heap is wetted to.
    pub const WET_TO: Bound = Bound {
        name: "the moisture to wet to",
        low: 0.0,
        high: 0.85,
        unit: "",
    };
    /// Thickness of a cover.
    pub const COVER_THICKNESS: Bound = Bound {
        name: "the thickness of a cover",
        low: 0.0,
        high: 1.0,
        unit: "m",
    };
    /// Thickness of a layer left on the ground.
    pub const LAYER_THICKNESS: Bound = Bound {
        name: "the thickness of a layer",
        low: 0.01,
        high: 1.0,
        unit: "m",
    };
    /// Wind over the heap.
    pub const WIND: Bound = Bound {
        name: "the wind",
        low: 0.0,
        high: 30.0,
        unit: "m/s",
    };
    /// Latitude of the place.
    pub const LATITUDE: Bound = Bound {
        name: "the latitude",
        low: -90.0,
        high: 90.0,
        unit: "deg",
    };
    /// Area of a bed.
    pub const BED_AREA: Bound = Bound {
        name: "the area of a bed",
        low: 0.01,
        high: 100_000.0,
        unit: "m2",
    };
    /// Day of a field test's result, after the heap was built.
    pub const DAY_OF_TEST: Bound = Bound {
        name: "the day of a field test",
        low: 0.0,
        high: 5000.0,
        unit: "d",
    };
    /// Day of a reading, after the heap was built; negative before it.
    pub const DAY_OF_READING: Bound = Bound {
        name: "the day of a reading",
        low: -5000.0,
        high: 5000.0,
        unit: "d",
    };
    /// Temperature that a thermometer in a heap can show.
    pub const READ_TEMPERATURE: Bound = Bound {
        name: "a measured temperature",
        low: -60.0,
        high: 120.0,
        unit: "degC",
    };
    /// Moisture that was measured, wet basis.
    pub const READ_MOISTURE: Bound = Bound {
        name: "a measured moisture",
        low: 0.0,
        high: 1.0,
        unit: "",
    };
    /// Oxygen that was measured, share of the air in the pores by volume.
    pub const READ_OXYGEN: Bound = Bound {
        name: "measured oxygen",
        low: 0.0,
        high: 0.21,
        unit: "",
    };
    /// Month of the year, 1 is January.
    pub const MONTH_OF_YEAR: Bound = Bound {
        name: "a month",
        low: 1.0,
        high: 12.0,
        unit: "",
    };
    /// Room to store materials in.
    pub const STORE_ROOM: Bound = Bound {
        name: "the room to store",
        low: 0.0,
        high: 10_000.0,
        unit: "m3",
    };
    /// Weeks a heap fills, works or cures in its bay.
    pub const WEEKS_IN_BAY: Bound = Bound {
        name: "the weeks in a bay",
        low: 0.0,
        high: 260.0,
        unit: "weeks",
    };
    /// Days a material keeps.
    pub const KEEPS_DAYS: Bound = Bound {
        name: "the days it keeps",
        low: 0.0,
        high: 365.0,
        unit: "d",
    };
    /// Months a material keeps.
    pub const KEEPS_MONTHS: Bound = Bound {
        name: "the months it keeps",
        low: 1.0,
        high: 60.0,
        unit: "",
    };
    /// Height of a heap that was measured.
    pub const READ_HEIGHT: Bound = Bound {
        name: "a measured height",
        low: 0.01,
        high: 20.0,
        unit: "m",
    };
}

//! Display units: metric or US customary, converted at the edge only.
//!
//! In: SI. Out: a number in the shown unit, and the unit's name.
//!
//! Not here: numbers as text (`text::number`).
//!
//! Factors are exact by the international yard and pound agreement of 1959.
//!
//! Tested by: `tests/science/quantity.rs`.

use serde::{Deserialize, Serialize};

/// L in a cubic metre (exact).
pub const LITRE_PER_CUBIC_METRE: f64 = 1000.0;
/// m3 in a litre (exact).
pub const CUBIC_METRE_PER_LITRE: f64 = 0.001;
/// kg in a pound (exact).
pub const KG_PER_POUND: f64 = 0.453_592_37;
/// L in a US gallon (exact: 231 cubic inches).
pub const LITRE_PER_US_GALLON: f64 = 3.785_411_784;
/// m3 in a cubic yard (exact).
const CUBIC_METRE_PER_CUBIC_YARD: f64 = 0.764_554_857_984;

/// m2 in a square foot (exact).
const SQUARE_METRE_PER_SQUARE_FOOT: f64 = 0.092_903_04;
/// m in a foot (exact).
const METRE_PER_FOOT: f64 = 0.3048;
/// m in an inch (exact).
const METRE_PER_INCH: f64 = 0.0254;

/// degC from degF (exact).
pub fn celsius_from_fahrenheit(fahrenheit: f64) -> f64 {
    (fahrenheit - 32.0) / 1.8
}

/// degF from degC (exact).
pub fn fahrenheit_from_celsius(celsius: f64) -> f64 {
    celsius * 1.8 + 32.0
}

/// Which units a person sees. Files and calculations are always SI.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum UnitSystem {
    /// Litres, kilograms, degrees Celsius.
    #[default]
    Metric,
    /// Gallons and cubic yards, pounds, degrees Fahrenheit.
    UsCustomary,
}

impl UnitSystem {
    /// A temperature in the shown unit, from degC.
    pub fn temperature(self, celsius: f64) -> f64 {
        match self {
            Self::Metric => celsius,
            Self::UsCustomary => fahrenheit_from_celsius(celsius),
        }
    }

    /// A difference of temperatures in the shown unit, from K.
    pub fn temperature_difference(self, kelvin: f64) -> f64 {
        self.temperature(kelvin) - self.temperature(0.0)
    }

    /// Name of the shown temperature unit.
    pub fn temperature_unit(self) -> &'static str {
        match self {
            Self::Metric => "°C",
            Self::UsCustomary => "°F",
        }
    }

    /// A volume in the shown unit (L or US gallon), from m3.
    pub fn volume(self, m3: f64) -> f64 {
        match self {
            Self::Metric => m3 * LITRE_PER_CUBIC_METRE,
            Self::UsCustomary => m3 * LITRE_PER_CUBIC_METRE / LITRE_PER_US_GALLON,
        }
    }

    /// Name of the shown volume unit.
    pub fn volume_unit(self) -> &'static str {
        match self {
            Self::Metric => "L",
            Self::UsCustomary => "gal",
        }
    }

    /// A large volume in the shown unit (m3 or cubic yard), from m3.
    pub fn bulk_volume(self, m3: f64) -> f64 {
        match self {
            Self::Metric => m3,
            Self::UsCustomary => m3 / CUBIC_METRE_PER_CUBIC_YARD,
        }
    }

    /// Name of the shown unit of large volumes.
    pub fn bulk_volume_unit(self) -> &'static str {
        match self {
            Self::Metric => "m³",
            Self::UsCustomary => "yd³",
        }
    }

    /// A mass in the shown unit (kg or lb), from kg.
    pub fn mass(self, kg: f64) -> f64 {
        match self {
            Self::Metric => kg,
            Self::UsCustomary => kg / KG_PER_POUND,
        }
    }

    /// Name of the shown mass unit.
    pub fn mass_unit(self) -> &'static str {
        match self {
            Self::Metric => "kg",
            Self::UsCustomary => "lb",
        }
    }

    /// A length in the shown unit (m or foot), from m.
    pub fn length(self, m: f64) -> f64 {
        m / self.one_length_m()
    }

    /// One shown unit of length, m.
    pub fn one_length_m(self) -> f64 {
        match self {
            Self::Metric => 1.0,
            Self::UsCustomary => METRE_PER_FOOT,
        }
    }

    /// Name of the shown length unit.
    pub fn length_unit(self) -> &'static str {
        match self {
            Self::Metric => "m",
            Self::UsCustomary => "ft",
        }
    }

    /// A thickness in the shown unit (cm or inch), from m.
    pub fn thickness(self, m: f64) -> f64 {
        match self {
            Self::Metric => 100.0 * m,
            Self::UsCustomary => m / METRE_PER_INCH,
        }
    }

    /// Name of the shown thickness unit.
    pub fn thickness_unit(self) -> &'static str {
        match self {
            Self::Metric => "cm",
            Self::UsCustomary => "in",
        }
    }

    /// An area in the shown unit (m2 or square foot), from m2.
    pub fn area(self, m2: f64) -> f64 {
        m2 / self.one_area_m2()
    }

    /// One shown unit of area, m2.
    pub fn one_area_m2(self) -> f64 {
        match self {
            Self::Metric => 1.0,
            Self::UsCustomary => SQUARE_METRE_PER_SQUARE_FOOT,
        }
    }

    /// Name of the shown area unit.
    pub fn area_unit(self) -> &'static str {
        match self {
            Self::Metric => "m²",
            Self::UsCustomary => "ft²",
        }
    }

    /// A density in the shown unit (kg/m3 or lb/yd3), from kg/m3. 1 lb/yd3 = 0.5933 kg/m3.
    pub fn density(self, kg_per_m3: f64) -> f64 {
        match self {
            Self::Metric => kg_per_m3,
            Self::UsCustomary => kg_per_m3 / KG_PER_POUND * CUBIC_METRE_PER_CUBIC_YARD,
        }
    }

    /// Name of the shown density unit.
    pub fn density_unit(self) -> &'static str {
        match self {
            Self::Metric => "kg/m³",
            Self::UsCustomary => "lb/yd³",
        }
    }
}

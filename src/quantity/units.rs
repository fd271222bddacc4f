//! Display units: metric or US customary, converted at the edge only.
//!
//! In: SI. Out: a number in the shown unit, the unit's name, text.
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

/// A number with about three significant digits and no trailing zeros: "0.25", "12.5", "340".
pub fn rounded_text(value: f64) -> String {
    let size = value.abs();
    let decimals = if size >= 100.0 {
        0
    } else if size >= 10.0 {
        1
    } else {
        2
    };
    let text = format!("{value:.decimals$}");
    let text = if text.contains('.') {
        text.trim_end_matches('0').trim_end_matches('.')
    } else {
        &text
    };
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
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

    /// "55 °C" or "131 °F", from degC.
    pub fn temperature_text(self, celsius: f64) -> String {
        format!(
            "{:.0} {}",
            self.temperature(celsius),
            self.temperature_unit()
        )
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

    /// "850 L" or "225 gal"; from 2 m3 up "2.4 m³" or "3.1 yd³".
    pub fn volume_text(self, m3: f64) -> String {
        match self {
            Self::Metric if m3 >= 2.0 => format!("{} m³", rounded_text(m3)),
            Self::UsCustomary if m3 >= 2.0 => {
                format!("{} yd³", rounded_text(m3 / CUBIC_METRE_PER_CUBIC_YARD))
            }
            _ => format!("{} {}", rounded_text(self.volume(m3)), self.volume_unit()),
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

    /// "12.5 kg" or "27.6 lb".
    pub fn mass_text(self, kg: f64) -> String {
        let unit = match self {
            Self::Metric => "kg",
            Self::UsCustomary => "lb",
        };
        format!("{} {unit}", rounded_text(self.mass(kg)))
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

    /// "14 m²" or "151 ft²", from m2.
    pub fn area_text(self, m2: f64) -> String {
        format!("{} {}", rounded_text(self.area(m2)), self.area_unit())
    }

    /// A depth of what is spread: "12 mm", "2.5 mm" or "0.47 in", from m.
    pub fn depth_text(self, m: f64) -> String {
        match self {
            Self::Metric if m >= 0.004 => format!("{:.0} mm", 1000.0 * m),
            Self::Metric => format!("{:.1} mm", 1000.0 * m),
            Self::UsCustomary => format!("{} in", rounded_text(m / METRE_PER_INCH)),
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

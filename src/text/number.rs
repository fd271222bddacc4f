//! Numbers as they are said: ratios, shares, counts, times, temperatures, lengths, volumes, weights.
//!
//! In: SI values (temperatures in degC, times in days), the units a person reads. Out: a number with
//! its unit. The same value is said the same way wherever it stands: on a gauge, on paper, in advice.
//!
//! Not here: factors between units (`quantity`), dates (`date`), words about the numbers.
//!
//! Tested by: `tests/science/words.rs`.

use crate::quantity::UnitSystem;

/// Least volume that is said in cubic metres or cubic yards, m3.
const BULK_FROM_M3: f64 = 2.0;
/// Depths below this are said to a tenth of a millimetre, m.
const FINE_DEPTH_M: f64 = 0.004;
/// C:N from this on is said in whole numbers.
const WHOLE_RATIO_FROM: f64 = 100.0;
/// Times from this on are said in whole days, d.
const WHOLE_DAYS_FROM: f64 = 10.0;

/// A number with about three significant digits and no trailing zeros: "0.25", "12.5", "340".
pub fn rounded(value: f64) -> String {
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

/// A number of halves and quarters as it is written on paper: "¾", "1½", "12".
pub fn halves(value: f64) -> String {
    let whole = value.floor();
    let part = match ((value - whole) * 4.0).round() as u8 {
        1 => "¼",
        2 => "½",
        3 => "¾",
        _ => return self::whole(value.round()),
    };
    if whole > 0.0 {
        format!("{whole:.0}{part}")
    } else {
        part.to_owned()
    }
}

/// A whole number: "12". Halves go to the even neighbour, as everywhere in this file.
pub fn whole(value: f64) -> String {
    format!("{value:.0}")
}

/// How many digits of a bare number are worth showing.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Digits {
    /// Those of a C:N, as [`ratio`] shows it.
    Ratio,
    /// None after the point.
    Whole,
    /// One after the point.
    Tenths,
    /// Two after the point.
    Hundredths,
}

impl Digits {
    /// A bare number.
    pub fn text(self, value: f64) -> String {
        match self {
            Self::Ratio => ratio(value),
            Self::Whole => whole(value),
            Self::Tenths => format!("{value:.1}"),
            Self::Hundredths => format!("{value:.2}"),
        }
    }
}

/// A number of things with the word for one or for several: "1 entry", "3 entries".
pub fn count(number: usize, one: &str, several: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { several })
}

/// What is left out of a list: "and 3 more dates".
pub fn more(number: usize, one: &str, several: &str) -> String {
    format!(
        "and {number} more {}",
        if number == 1 { one } else { several }
    )
}

/// A C:N: "30.7"; whole from 100 up, where the tenths mean nothing: "560".
pub fn ratio(value: f64) -> String {
    if value < WHOLE_RATIO_FROM {
        format!("{value:.1}")
    } else {
        whole(value)
    }
}

/// A share of a whole: "58 %".
pub fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

/// Two shares: "52 to 63 %".
pub fn percent_span(low: f64, high: f64) -> String {
    span(&whole(100.0 * low), &percent(high))
}

/// Two numbers already said: "18.2 to 31.0".
pub fn span(low: &str, high: &str) -> String {
    format!("{low} to {high}")
}

/// A number of days: "1 day", "8.3 days", "12 days".
pub fn days(days: f64) -> String {
    let shown = if days >= WHOLE_DAYS_FROM {
        days.round()
    } else {
        (days * 10.0).round() / 10.0
    };
    let word = if shown == 1.0 { "day" } else { "days" };
    format!("{} {word}", rounded(shown))
}

/// A time that may be shorter than a day: "20 minutes", "4 hours", "9.5 days".
pub fn time(days: f64) -> String {
    let hours = days * 24.0;
    let (value, one, several) = if hours < 1.0 {
        (hours * 60.0, "minute", "minutes")
    } else if days < 1.0 {
        (hours, "hour", "hours")
    } else {
        return self::days(days);
    };
    count(value.round() as usize, one, several)
}

/// A temperature: "55 °C" or "131 °F".
pub fn temperature(celsius: f64, units: UnitSystem) -> String {
    let shown = units.temperature(celsius);
    format!("{shown:.0} {}", units.temperature_unit())
}

/// Two temperatures: "12 to 58 °C".
pub fn temperature_span(low_c: f64, high_c: f64, units: UnitSystem) -> String {
    span(
        &whole(units.temperature(low_c)),
        &temperature(high_c, units),
    )
}

/// A difference of temperatures, K: "20 °C" or "36 °F".
pub fn temperature_difference(kelvin: f64, units: UnitSystem) -> String {
    let shown = units.temperature_difference(kelvin);
    format!("{shown:.0} {}", units.temperature_unit())
}

/// A volume: "850 L" or "225 gal"; from 2 m3 up "2.4 m³" or "3.1 yd³".
pub fn volume(m3: f64, units: UnitSystem) -> String {
    if m3 >= BULK_FROM_M3 {
        let shown = rounded(units.bulk_volume(m3));
        format!("{shown} {}", units.bulk_volume_unit())
    } else {
        small_volume(m3, units)
    }
}

/// A volume as it stands below a scale: the bare number of litres or gallons, from 2 m3 up with its unit.
pub fn volume_tick(m3: f64, units: UnitSystem) -> String {
    if m3 >= BULK_FROM_M3 {
        volume(m3, units)
    } else {
        rounded(units.volume(m3))
    }
}

/// A volume that is poured or carried, however large: "850 L" or "225 gal".
pub fn small_volume(m3: f64, units: UnitSystem) -> String {
    format!("{} {}", rounded(units.volume(m3)), units.volume_unit())
}

/// A weight: "12.5 kg" or "27.6 lb".
pub fn mass(kg: f64, units: UnitSystem) -> String {
    format!("{} {}", rounded(units.mass(kg)), units.mass_unit())
}

/// A weight that may be small: "300 g"; from 100 g up as [`mass`]. Ounces are not used.
pub fn small_mass(kg: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric if kg < 0.1 => format!("{} g", rounded(kg * 1000.0)),
        _ => mass(kg, units),
    }
}

/// A density: "450 kg/m³" or "758 lb/yd³".
pub fn density(kg_per_m3: f64, units: UnitSystem) -> String {
    format!("{:.0} {}", units.density(kg_per_m3), units.density_unit())
}

/// An area: "14 m²" or "151 ft²".
pub fn area(m2: f64, units: UnitSystem) -> String {
    format!("{} {}", rounded(units.area(m2)), units.area_unit())
}

/// A length of a heap: "1.2 m" or "3.94 ft".
pub fn length(m: f64, units: UnitSystem) -> String {
    format!("{} {}", rounded(units.length(m)), units.length_unit())
}

/// The thickness of a cover or layer: "10 cm" or "4 in".
pub fn thickness(m: f64, units: UnitSystem) -> String {
    let shown = units.thickness(m);
    let number = match units {
        UnitSystem::Metric => shown,
        UnitSystem::UsCustomary => shown.round(),
    };
    format!("{} {}", rounded(number), units.thickness_unit())
}

/// The depth of what is spread: "12 mm", "2.5 mm" or "0.47 in".
pub fn depth(m: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric if m >= FINE_DEPTH_M => format!("{:.0} mm", 1000.0 * m),
        UnitSystem::Metric => format!("{:.1} mm", 1000.0 * m),
        UnitSystem::UsCustomary => {
            let shown = rounded(units.thickness(m));
            format!("{shown} {}", units.thickness_unit())
        }
    }
}

/// Rain of a month: "54 mm" or "2.13 in".
pub fn rain(mm: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric => format!("{} mm", rounded(mm)),
        UnitSystem::UsCustomary => {
            let shown = rounded(units.thickness(mm / 1000.0));
            format!("{shown} {}", units.thickness_unit())
        }
    }
}

/// Signs of units that stand behind a number.
const SIGNS: [&str; 23] = [
    "%", "°C", "°F", "K", "L", "gal", "kg", "lb", "g", "m", "ft", "cm", "mm", "in", "m²", "ft²",
    "m³", "yd³", "kg/m³", "lb/yd³", "h", "d", "mol",
];

/// A text in whose lines no number is parted from the sign of its unit: the space between them does not break.
pub fn unparted(text: &str) -> String {
    let mut pieces = text.split(' ');
    let mut whole = pieces.next().unwrap_or_default().to_owned();
    for piece in pieces {
        let after_number = whole.ends_with(|letter: char| letter.is_numeric());
        // A sign ends where its letters do: "°C," and "L)" are signs, "Leaves" is none.
        let ends = |letter: char| !(letter.is_alphanumeric() || "%°/".contains(letter));
        let sign = piece.split(ends).next().unwrap_or_default();
        let joined = after_number && SIGNS.contains(&sign);
        whole.push(if joined { '\u{a0}' } else { ' ' });
        whole.push_str(piece);
    }
    whole
}

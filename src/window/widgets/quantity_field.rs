//! A number typed or dragged in the unit shown, kept in SI.
//!
//! In: a value, its bound, its unit. Out: the value, edited and within its bound; a field that is known
//! by name. The value is written only when it was moved: there and back must not change it.
//!
//! Not here: bounds (`quantity::bounds`), sliders (`amount_control`).
//!
//! Tested by: `tests/window/quantity_field.rs`.

use eframe::egui::{DragValue, Response, Ui, vec2};

use crate::quantity::{Bound, LITRE_PER_US_GALLON, UnitSystem};

use crate::window::theme::unbroken;
use crate::window::widgets::named::Named;

/// Degrees Fahrenheit in a kelvin (exact).
const FAHRENHEIT_PER_KELVIN: f64 = 1.8;
/// mm in an inch (exact).
const MM_PER_INCH: f64 = 25.4;

/// How an SI value is said: `value * times / over + zero`, then the sign.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct ShownUnit {
    /// Written after the number; may be empty.
    pub sign: &'static str,
    times: f64,
    over: f64,
    zero: f64,
}

impl ShownUnit {
    /// A number as it is.
    pub const PLAIN: Self = Self::times(1.0, "");
    /// A share, as per cent.
    pub const PERCENT: Self = Self::times(100.0, "%");
    /// Days.
    pub const DAYS: Self = Self::times(1.0, "days");

    /// So many of the unit for one of the SI unit.
    pub const fn times(times: f64, sign: &'static str) -> Self {
        Self {
            sign,
            times,
            over: 1.0,
            zero: 0.0,
        }
    }

    /// One of the unit is so many of the SI unit.
    pub const fn over(over: f64, sign: &'static str) -> Self {
        Self {
            sign,
            times: 1.0,
            over,
            zero: 0.0,
        }
    }

    /// A temperature, from degC.
    pub fn temperature(units: UnitSystem) -> Self {
        Self {
            zero: units.temperature(0.0),
            ..Self::temperature_difference(units)
        }
    }

    /// A difference of temperatures, from K.
    pub fn temperature_difference(units: UnitSystem) -> Self {
        let degrees = match units {
            UnitSystem::Metric => 1.0,
            UnitSystem::UsCustomary => FAHRENHEIT_PER_KELVIN,
        };
        Self::times(degrees, units.temperature_unit())
    }

    /// A length, from m.
    pub fn length(units: UnitSystem) -> Self {
        Self::over(units.one_length_m(), units.length_unit())
    }

    /// An area, from m2.
    pub fn area(units: UnitSystem) -> Self {
        Self::over(units.one_area_m2(), units.area_unit())
    }

    /// A volume, from L.
    pub fn litres(units: UnitSystem) -> Self {
        match units {
            UnitSystem::Metric => Self::times(1.0, "L"),
            UnitSystem::UsCustomary => Self::over(LITRE_PER_US_GALLON, "gal"),
        }
    }

    /// A weight, from kg.
    pub fn mass(units: UnitSystem) -> Self {
        Self::times(units.mass(1.0), units.mass_unit())
    }

    /// A density, from kg/m3.
    pub fn density(units: UnitSystem) -> Self {
        Self::times(units.density(1.0), units.density_unit())
    }

    /// Rain, from mm.
    pub fn rain(units: UnitSystem) -> Self {
        match units {
            UnitSystem::Metric => Self::times(1.0, "mm"),
            UnitSystem::UsCustomary => Self::over(MM_PER_INCH, "in"),
        }
    }

    /// The same, without its sign.
    pub fn unsigned(self) -> Self {
        Self { sign: "", ..self }
    }

    /// The number shown for an SI value.
    pub fn shown(self, value: f64) -> f64 {
        value * self.times / self.over + self.zero
    }

    /// The SI value of a number shown.
    pub fn value(self, shown: f64) -> f64 {
        (shown - self.zero) * self.over / self.times
    }
}

/// Reads what was typed; `None` where it is no number.
pub type Reader<'a> = dyn Fn(&str) -> Option<f64> + 'a;

/// A field for one number.
#[must_use = "nothing is drawn before `show`"]
pub struct QuantityField<'a> {
    name: &'a str,
    hint: &'a str,
    low: f64,
    high: f64,
    unit: ShownUnit,
    prefix: &'a str,
    speed: f64,
    decimals: usize,
    width: Option<f32>,
    trimmed: bool,
    read: Option<&'a Reader<'a>>,
    said: Option<&'a dyn Fn(f64) -> String>,
}

impl<'a> QuantityField<'a> {
    /// A field known by `name`, for values from `low` to `high` in SI.
    pub fn new(name: &'a str, low: f64, high: f64) -> Self {
        Self {
            name,
            hint: "Drag it, or click to type it.",
            low,
            high,
            unit: ShownUnit::PLAIN,
            prefix: "",
            speed: 0.1,
            decimals: 2,
            width: None,
            trimmed: false,
            read: None,
            said: None,
        }
    }

    /// A field for values within a bound.
    pub fn within(name: &'a str, bound: Bound) -> Self {
        Self::new(name, bound.low, bound.high)
    }

    /// The unit shown. Default: the number as it is.
    pub fn unit(mut self, unit: ShownUnit) -> Self {
        self.unit = unit;
        self
    }

    /// What it says on hover. Default: how it is edited.
    pub fn hint(mut self, hint: &'a str) -> Self {
        self.hint = hint;
        self
    }

    /// A word before the number. Default: none.
    pub fn prefix(mut self, prefix: &'a str) -> Self {
        self.prefix = prefix;
        self
    }

    /// How fast it moves, in shown units a point dragged. Default: 0.1.
    pub fn speed(mut self, speed: f64) -> Self {
        self.speed = speed;
        self
    }

    /// Most decimals shown. Default: 2.
    pub fn decimals(mut self, decimals: usize) -> Self {
        self.decimals = decimals;
        self
    }

    /// Least width. Default: what the number needs.
    pub fn width(mut self, width: f32) -> Self {
        self.width = Some(width);
        self
    }

    /// Shows no zeros at the end. Default: as fine as it can be dragged.
    pub fn trimmed(mut self) -> Self {
        self.trimmed = true;
        self
    }

    /// What is typed is read by this, once it is typed to its end; what is only looked at stays as it is.
    /// Default: as a plain number, with every key.
    pub fn read_by(mut self, read: &'a Reader<'a>) -> Self {
        self.read = Some(read);
        self
    }

    /// How a number is written, without its prefix. Default: as a plain number.
    pub fn said_by(mut self, said: &'a dyn Fn(f64) -> String) -> Self {
        self.said = Some(said);
        self
    }

    /// Draws it and takes what was typed or dragged.
    pub fn show(self, ui: &mut Ui, value: &mut f64) -> Response {
        let Self {
            name,
            hint,
            low,
            high,
            unit,
            prefix,
            speed,
            decimals,
            width,
            trimmed,
            read,
            said,
        } = self;
        let before = unit.shown(*value);
        let mut shown = before;
        let mut field = DragValue::new(&mut shown)
            .range(unit.shown(low)..=unit.shown(high))
            .speed(speed)
            .max_decimals(decimals)
            .prefix(prefix);
        if !unit.sign.is_empty() {
            field = field.suffix(format!(" {}", unit.sign));
        }
        let written = move |number: f64| match said {
            Some(said) => said(number),
            None => trimmed_text(number, decimals),
        };
        if trimmed || said.is_some() {
            field = field.custom_formatter(move |number, _| written(number));
        }
        if let Some(read) = read {
            let as_it_was = move |text: &str| text.trim() == written(before);
            field = field
                .update_while_editing(false)
                .custom_parser(move |text| {
                    if as_it_was(text) {
                        Some(before)
                    } else {
                        read(text)
                    }
                });
        }
        let response = match width {
            Some(width) => {
                let size = vec2(width, ui.spacing().interact_size.y);
                ui.add(field.min_size(size))
            }
            None => ui.add(field),
        };
        if shown != before {
            *value = unit.value(shown).clamp(low, high);
        }
        response.named(name).on_hover_text(unbroken(hint))
    }
}

/// A number with at most so many decimals and no zeros at the end.
fn trimmed_text(number: f64, decimals: usize) -> String {
    let text = format!("{number:.decimals$}");
    if text.contains('.') {
        return text.trim_end_matches('0').trim_end_matches('.').to_owned();
    }
    text
}

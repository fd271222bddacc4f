//! The sentence for a piece of advice.
//!
//! In: [`Advice`], units. Out: a whole sentence.
//!
//! Not here: steps of a mix (`step`).
//!
//! Tested by: `tests/science/advice.rs`.

use crate::forecast::Forecast;
use crate::mix::Gauge;
use crate::outcome::advice::{Advice, AimAhead, Factor, HeatAhead, Opening, Says, TooMuch};
use crate::quantity::UnitSystem;
use crate::text::forecast::passes_55;
use crate::text::mix::{gauge_name, gauge_value, verdict};
use crate::text::spoken::beside_others;
use crate::text::{number, sentence as capital};

use super::aim::aim;
use super::step::{count, step};

/// What helps against acid (Sundberg 2005: air and cooling first; old compost buffers, Sustainability 2020).
const SWEETEN: &str = "mix in coarse dry browns and some finished compost, and turn it early";

/// A piece of advice as one sentence.
pub fn sentence(advice: &Advice, units: UnitSystem) -> String {
    let said = says(&advice.says, units);
    if advice.then {
        format!("Then {said}")
    } else {
        capital(&said)
    }
}

/// The same where it stands alone, whatever was said before it.
pub fn first(advice: &Advice, units: UnitSystem) -> String {
    capital(&says(&advice.says, units))
}

/// Whether it says how hot the typical heap gets, which a forecast says the odds of.
pub fn tells_of_heat(advice: &Advice) -> bool {
    matches!(
        advice.says,
        Says::Build { heat: Some(_), .. } | Says::Aim(AimAhead::Hot { .. } | AimAhead::Show { .. })
    )
}

/// How sure the heat is: "About 7 in 10 such heaps pass 55 °C."; `None` while too few are counted.
pub fn how_sure(forecast: &Forecast, units: UnitSystem) -> Option<String> {
    let share = forecast.passes_55()?;
    Some(capital(&format!("{}.", passes_55(share, units))))
}

fn says(says: &Says, units: UnitSystem) -> String {
    let temperature = |at_c: f64| number::temperature(at_c, units);
    let volume = |m3: f64| number::volume(m3, units);
    match says {
        Says::FirstMaterial => {
            "add a first material: leaves, grass, straw or kitchen scraps, any will do.".to_owned()
        }
        Says::OnlyWater => {
            "there is only water so far: add something dry, such as leaves or straw.".to_owned()
        }
        Says::NoAmounts => {
            "every amount is zero: move a slider, or type how much there is.".to_owned()
        }
        Says::NoBase(named) => format!(
            "a heap cannot be built of {}: begin with leaves, straw or grass and add this to them.",
            beside_others(named)
        ),
        Says::Step(it) => step(it, units),
        Says::TooMuch {
            volume_m3,
            room_m3,
            remedy,
        } => {
            let (is, has) = (volume(*volume_m3), volume(*room_m3));
            let remedy = too_much(*remedy, units);
            format!("it comes to {is} and there is room for {has}: {remedy}.")
        }
        Says::FillsLittle {
            share,
            factor: by,
            fills,
        } => format!(
            "it fills {} of the room; {} of everything fills {}.",
            number::percent(*share),
            factor(*by),
            number::percent(*fills)
        ),
        Says::StaysCool { peak_c } => format!(
            "it would stay cool, {} at most: expect slow composting rather than a hot heap.",
            temperature(*peak_c)
        ),
        Says::AsItStands { peak_c } => {
            format!(
                "as it stands it would reach {} at most.",
                temperature(*peak_c)
            )
        }
        Says::ShortOfAir { peak_c, share } => format!(
            "it would reach {}, but lack of air would limit decomposition by {}: build it loosely and turn it early.",
            temperature(*peak_c),
            number::percent(*share)
        ),
        Says::ColdAndSour { peak_c, ph } => cold_and_sour(*peak_c, *ph, units),
        Says::TurnsSour { peak_c, share, ph } => turns_sour((*peak_c, *share), *ph, units),
        Says::RoomTooSmall { room_m3, peak_c } => format!(
            "a room of {} is too small to keep heat in: expect {} at most, and slow composting.",
            volume(*room_m3),
            temperature(*peak_c)
        ),
        Says::TooSmall {
            volume_m3,
            peak_c,
            keeps_from_m3,
        } => format!(
            "at {} it would reach {} at most; a heap keeps its heat from about {} up.",
            volume(*volume_m3),
            temperature(*peak_c),
            volume(*keeps_from_m3)
        ),
        Says::Grow {
            volume_m3,
            peak_c,
            times: by,
            to_m3,
        } => format!(
            "at {} it would reach {} at most; {} as much of everything ({}) keeps its heat better.",
            volume(*volume_m3),
            temperature(*peak_c),
            times(*by),
            volume(*to_m3)
        ),
        Says::Aim(ahead) => aim(ahead, units),
        Says::Build { opening, heat } => build(*opening, *heat, units),
    }
}

fn cold_and_sour(peak_c: f64, ph: f64, units: UnitSystem) -> String {
    format!(
        "as it stands it would turn sour for want of air (pH {}) and stay cold, {} at most: {SWEETEN}.",
        number::ratio(ph),
        number::temperature(peak_c, units)
    )
}

fn turns_sour((peak_c, share): (f64, f64), ph: f64, units: UnitSystem) -> String {
    format!(
        "as it stands it would reach {}, but up to {} of it would turn sour for want of air (pH {}): {SWEETEN}.",
        number::temperature(peak_c, units),
        number::percent(share),
        number::ratio(ph)
    )
}

fn too_much(remedy: TooMuch, units: UnitSystem) -> String {
    match remedy {
        TooMuch::ShareFits(share) => format!("{} of everything fits", factor(share)),
        TooMuch::KeepBack { m3 } => {
            format!("keep {} back for later", number::volume(m3, units))
        }
    }
}

/// A share or a multiple, before "of everything".
fn factor(factor: Factor) -> &'static str {
    match factor {
        Factor::Tenth => "a tenth",
        Factor::Quarter => "a quarter",
        Factor::Third => "a third",
        Factor::Half => "half",
        Factor::TwoThirds => "two thirds",
        Factor::ThreeQuarters => "three quarters",
        Factor::NineTenths => "nine tenths",
        Factor::OneAndAHalf => "one and a half times as much",
        Factor::Two => "twice as much",
        Factor::TwoAndAHalf => "two and a half times as much",
        Factor::Three => "three times as much",
        Factor::Four => "four times as much",
        Factor::Five => "five times as much",
        Factor::Ten => "ten times as much",
    }
}

/// "twice", "three times".
fn times(times: f64) -> String {
    if times == 2.0 {
        "twice".to_owned()
    } else {
        format!("{} times", count(times))
    }
}

/// "this mix is balanced (C:N 28, moisture 57 %): build it and expect 62 °C around day 6, ..."
fn build(opening: Option<Opening>, heat: Option<HeatAhead>, units: UnitSystem) -> String {
    let build = heat.map_or_else(
        || "build it.".to_owned(),
        |heat| {
            format!(
                "build it and expect {} around day {:.0}, above {} for {}.",
                number::temperature(heat.peak_c, units),
                heat.peak_day,
                number::temperature(heat.above_c, units),
                about_days(heat.days)
            )
        },
    );
    match opening {
        None => build,
        Some(opening) => format!("{}: {build}", like(opening, units)),
    }
}

/// What a mix is like.
fn like(opening: Opening, units: UnitSystem) -> String {
    let both = |cn, moisture| {
        let cn = gauge_value(Gauge::CarbonNitrogen, cn, units);
        let moisture = gauge_value(Gauge::Moisture, moisture, units);
        format!("C:N {cn}, moisture {moisture}")
    };
    match opening {
        Opening::Balanced { cn, moisture } => {
            format!("this mix is balanced ({})", both(cn, moisture))
        }
        Opening::Works {
            cn,
            moisture,
            gauge,
            fit,
        } => format!(
            "this mix works, {} ({})",
            verdict(gauge, fit),
            both(cn, moisture)
        ),
        Opening::Fails { gauge, value, fit } => format!(
            "no small change fixes it ({} {}, {})",
            gauge_name(gauge),
            gauge_value(gauge, value, units),
            verdict(gauge, fit)
        ),
    }
}

/// "about a day", "about 12 days", "a few hours".
fn about_days(days: f64) -> String {
    match days.round() as i64 {
        0 => "a few hours".to_owned(),
        1 => "about a day".to_owned(),
        more => format!("about {more} days"),
    }
}

//! An aim in words: what it is called, whether it is reached, what is out of reach and why.
//!
//! In: an [`Aim`], an [`AimAhead`], units. Out: names and pieces of sentences.
//!
//! Not here: other advice (`say`).
//!
//! Tested by: `tests/science/advice.rs`, `tests/window/mix.rs`.

use crate::garden::Aim;
use crate::outcome::advice::{AimAhead, Lack};
use crate::quantity::UnitSystem;
use crate::text::mix::{gauge_name, gauge_value, verdict};
use crate::text::number;

/// What an aim is called in a list; "no aim" where none is chosen.
pub fn aim_name(aim: Option<Aim>) -> &'static str {
    match aim {
        None => "no aim chosen",
        Some(Aim::Hot) => "a hot heap",
        Some(Aim::FinishedBy { .. }) => "finished by a date",
        Some(Aim::LeastWork) => "least work",
        Some(Aim::SeedsKilled) => "weed seeds killed",
        Some(Aim::Teach) => "something to teach with",
    }
}

/// The sentence on an aim, without its capital.
pub(super) fn aim(ahead: &AimAhead, units: UnitSystem) -> String {
    let at = |c: f64| number::temperature(c, units);
    let because = |why: &Lack| lack(why, units);
    match ahead {
        AimAhead::Hot { peak_c, days } => format!(
            "your aim, a hot heap: the typical one reaches {} and stays above {} for {}.",
            at(*peak_c),
            at(55.0),
            number::days(*days)
        ),
        AimAhead::NotHot { peak_c, why } => format!(
            "your aim, a hot heap, is out of reach as it stands: {} at most, {}.",
            at(*peak_c),
            because(why)
        ),
        AimAhead::Seeds { share } => format!(
            "your aim, weed seeds killed: {} of the heap has heat enough for ordinary seeds as planned; turning brings the outside in.",
            number::percent(*share)
        ),
        AimAhead::SeedsTooShort { days } => format!(
            "your aim, weed seeds killed, is out of reach as planned: above {} for {} only, and in the middle alone.",
            at(55.0),
            number::days(*days)
        ),
        AimAhead::NoSeeds { peak_c, why } => format!(
            "no timetable kills seeds in this heap: it never passes {}, {}.",
            at(*peak_c),
            because(why)
        ),
        AimAhead::InTime { day, spare_days } => format!(
            "your aim, the date: finished on about day {}, {} before it.",
            number::whole(*day),
            number::days(*spare_days)
        ),
        AimAhead::NotToldYet { days } => format!(
            "your aim, the date, lies beyond the {} of the forecast: make it longer to see.",
            number::days(*days)
        ),
        AimAhead::TooLate {
            day,
            days,
            within,
            why,
        } => {
            let finished = match day {
                Some(day) => format!("finished on about day {}", number::whole(*day)),
                None => format!("not finished in {}", number::days(*days)),
            };
            let remedy = match why {
                Some(why) => because(why),
                None => "turn it more often, or begin earlier".to_owned(),
            };
            format!(
                "your aim, the date, is out of reach as planned: {finished}, and there are {}: {remedy}.",
                number::days(*within)
            )
        }
        AimAhead::Work {
            turnings,
            finished_day,
            days,
        } => {
            let work = match turnings {
                0 => "left alone".to_owned(),
                more => format!("with {}", number::count(*more, "turning", "turnings")),
            };
            match finished_day {
                Some(day) => format!(
                    "your aim, least work: {work} it is finished on about day {}.",
                    number::whole(*day)
                ),
                None => format!(
                    "your aim, least work: {work} it rots all the same, but is not finished in {}.",
                    number::days(*days)
                ),
            }
        }
        AimAhead::Show { peak_c, peak_day } => format!(
            "your aim, teaching: there is heat to show, {} on about day {}; measure it every day until then.",
            at(*peak_c),
            number::whole(*peak_day)
        ),
        AimAhead::LittleToShow { peak_c, why } => format!(
            "your aim, teaching: there is little heat to show, {} at most, {}.",
            at(*peak_c),
            because(why)
        ),
    }
}

/// Why, with what to do first: "it holds only 300 L; make it about 1000 L first".
fn lack(why: &Lack, units: UnitSystem) -> String {
    match why {
        Lack::Small { volume_m3, make_m3 } => format!(
            "for it is only {}; make it about {} first",
            number::volume(*volume_m3, units),
            number::volume(*make_m3, units)
        ),
        Lack::Gauge {
            gauge,
            value,
            fit,
            small_m3,
        } => {
            let small = small_m3.map_or_else(String::new, |m3| {
                format!(" and only {}", number::volume(m3, units))
            });
            format!(
                "for it is {} ({} {}){small}; mend that first",
                verdict(*gauge, *fit),
                gauge_name(*gauge),
                gauge_value(*gauge, *value, units)
            )
        }
        Lack::Season => "for the air is cold or the materials are slow to rot".to_owned(),
    }
}

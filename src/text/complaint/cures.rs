//! Cures in words: what to do in household measures, and what to expect.
//!
//! In: a [`Cure`] with what came of its pairs. Out: sentences.
//!
//! Not here: which cure, how much of it (`assess::remedy`).
//!
//! Tested by: `tests/science/complaint_cures.rs`, `tests/document/complaint.rs`.

use std::collections::BTreeMap;
use std::sync::LazyLock;

use crate::assess::remedy::{CAN_L, Cure, Origin, Overflow, Relief, Step};
use crate::heap::Cover;
use crate::material::Catalogue;
use crate::outcome::advice::Fetch;
use crate::outcome::complaint::{Cause, Goal, Symptom};
use crate::outcome::smell::{HOT_FROM_C, TOO_HOT_C};
use crate::quantity::{LITRE_PER_CUBIC_METRE, UnitSystem};
use crate::text::outcome::in_ten;
use crate::text::{amount, date, list, number, sentence, spoken};

use super::causes::{from_to, to_ten_litres};

/// Cans up to which water is told in them too.
const MOST_CANS: f64 = 30.0;

/// What is fetched, as a sentence calls it, by id.
static FETCHED: LazyLock<BTreeMap<String, String>> = LazyLock::new(|| {
    let kinds = Fetch::built_in().unwrap_or_default().into_iter();
    let mut all: BTreeMap<String, String> =
        kinds.map(|kind| (kind.material.id, kind.called)).collect();
    for (id, called) in [
        ("horse_fresh", "fresh horse manure"),
        ("poultry_litter", "hen litter"),
    ] {
        all.insert(id.to_owned(), called.to_owned());
    }
    all
});

fn named(id: &str, origin: Origin, catalogue: &Catalogue) -> String {
    let fetched = FETCHED.get(id).filter(|_| origin == Origin::Fetched);
    fetched
        .cloned()
        .or_else(|| spoken::of_id(id).map(str::to_owned))
        .or_else(|| catalogue.find(id).map(|material| material.name.clone()))
        .unwrap_or_else(|| id.to_owned())
}

fn step(step: &Step, catalogue: &Catalogue, units: UnitSystem) -> String {
    match step {
        Step::MixIn {
            material,
            amount,
            origin,
        } => {
            let what = amount::amount_of(amount, &named(material, *origin, catalogue));
            match origin {
                Origin::AtHand => format!("mix in {what} from what you have"),
                Origin::Fetched => format!("fetch and mix in {what}"),
            }
        }
        Step::Pour { litres } => format!("pour on {}", poured(*litres, units)),
        Step::PourLess { litres } => format!("pour {} less", poured(*litres, units)),
        Step::LeaveOut { material } => {
            format!(
                "leave out the {}",
                named(material, Origin::AtHand, catalogue)
            )
        }
        Step::Turn {
            every_days,
            times,
            wet_to,
        } => {
            let wetting = wet_to.map_or(String::new(), |share| {
                let share = number::percent(share);
                format!(", wetting it where it is drier than {share}")
            });
            format!(
                "turn it outside in, every {}, {}{wetting}",
                number::days(*every_days),
                number::count(*times as usize, "time", "times")
            )
        }
        Step::LayOver(Cover::Straw { thickness_m }) => format!(
            "lay {} of straw over it",
            number::thickness(*thickness_m, units)
        ),
        Step::LayOver(Cover::Compost { thickness_m }) => format!(
            "lay {} of finished compost over it",
            number::thickness(*thickness_m, units)
        ),
        Step::LayOver(Cover::Sheet | Cover::Bare) => {
            "lay a sheet over it against the rain".to_owned()
        }
        Step::CloseLid => "close the lid".to_owned(),
        Step::Grow {
            times,
            to_m3,
            bay_m,
        } => {
            let bay = bay_m.map_or(String::new(), |side| {
                let side = number::length(side, units);
                format!(", in a bay of slats {side} each way, since it outgrows what holds it now")
            });
            format!(
                "gather {} times as much of everything in one heap, about {}{bay}",
                number::rounded(*times),
                to_ten_litres(*to_m3, units)
            )
        }
        Step::Split { parts } => {
            format!(
                "split it into {}",
                number::count(*parts as usize, "heap", "heaps")
            )
        }
        Step::InOneGo => "take it apart and build it anew in one go".to_owned(),
        Step::BuildOn(day) => format!("wait, and build it anew about {}", date::date(*day)),
    }
}

fn poured(litres: f64, units: UnitSystem) -> String {
    let water = amount::water(litres, units);
    let cans = litres / CAN_L;
    match units {
        UnitSystem::Metric if (2.0..=MOST_CANS).contains(&cans) => {
            let can = number::small_volume(CAN_L / LITRE_PER_CUBIC_METRE, units);
            format!("{water} ({cans:.0} cans of {can})")
        }
        _ => water,
    }
}

/// What to do, as one sentence.
pub fn cure(cure: &Cure, catalogue: &Catalogue, units: UnitSystem) -> String {
    let steps: Vec<String> = cure
        .steps
        .iter()
        .map(|one| step(one, catalogue, units))
        .collect();
    format!("{}.", sentence(&list(&steps)))
}

/// What a cure is for: "Against: too dry".
pub fn for_what(cure: &Cure) -> String {
    let causes: Vec<&str> = cure.against.iter().map(|one| short(*one)).collect();
    format!("Against {}.", list(&causes))
}

/// A cause in two or three words, for a cure.
fn short(cause: Cause) -> &'static str {
    match cause {
        Cause::ShortOfNitrogen => "lack of nitrogen",
        Cause::MuchNitrogen => "too much nitrogen",
        Cause::TooDry => "dryness",
        Cause::TooWet => "wetness",
        Cause::LittleAir => "lack of air",
        Cause::MuchFood => "too much food at once",
        Cause::LimeOrAsh => "lime or ash",
        Cause::Heat => "heat",
        Cause::TooSmall => "small size",
        Cause::TooBig => "great size",
        Cause::ColdSeason => "cold weather",
        Cause::ColdSkin => "a cold skin",
        Cause::Rain => "rain",
        Cause::CoarsePieces => "coarse pieces",
        Cause::BitByBit => "building bit by bit",
        Cause::NotTurned => "lack of turning",
        Cause::Finished => "age",
        Cause::OpenFood => "open food",
        Cause::RatFood => "what rats like",
        Cause::Nest => "a quiet nest",
        Cause::Fungi => "fungi",
        Cause::LateSeeds => "late seeds",
        Cause::Young => "youth",
        Cause::Weedkiller => "weedkiller",
        Cause::Normal => "nothing",
    }
}

/// What to expect, one line a symptom.
pub fn expected_lines(cure: &Cure, units: UnitSystem) -> Vec<String> {
    let told = cure.relief.iter();
    let worth = told.filter(|relief| relief.shown || relief.noticed);
    let expected = worth.filter_map(|relief| expected(cure, relief, units));
    let overflow = cure.overflow.map(|it| does_not_fit(it, units));
    overflow.into_iter().chain(expected).collect()
}

/// Said of a cure with which the heap outgrows what holds it.
fn does_not_fit(overflow: Overflow, units: UnitSystem) -> String {
    format!(
        "It does not fit what it stands in: {} where {} go in. Make room, or put the rest in a second heap.",
        to_ten_litres(overflow.needs_m3, units),
        to_ten_litres(overflow.room_m3, units)
    )
}

/// What to expect for one symptom.
fn expected(cure: &Cure, relief: &Relief, units: UnitSystem) -> Option<String> {
    let goal = Goal::of(relief.symptom)?;
    let comparison = cure.comparison.as_ref()?;
    let peak = |forecast: &crate::forecast::Forecast| forecast.typical().summary.peak_c;
    let peaks = (peak(&comparison.first), peak(&comparison.second));
    if !relief.noticed {
        let name = super::symptom(relief.symptom).to_lowercase();
        return Some(format!("No help against \"{name}\"."));
    }
    let mut line = format!("Expect {}", from_to(goal, relief.values, peaks, units));
    if goal == Goal::Warmth
        && let Some(range) = comparison.second.range(|summary| summary.peak_c)
    {
        line += &format!(
            ", {} in most such heaps",
            number::temperature_span(range.low, range.high, units)
        );
    }
    if let Some(share) = relief.gone_share {
        let gone = gone(relief.symptom, units);
        line += &format!("; {gone} in {}", in_ten(share));
    }
    Some(format!("{line}."))
}

/// What it means that a symptom is gone.
fn gone(symptom: Symptom, units: UnitSystem) -> String {
    match symptom {
        Symptom::Cold => format!("above {}", number::temperature(HOT_FROM_C, units)),
        Symptom::CooledDown => "hot for ten days or more".to_owned(),
        Symptom::TooHot => format!("below {}", number::temperature(TOO_HOT_C, units)),
        Symptom::SmellAmmonia => "hardly a smell".to_owned(),
        Symptom::SmellSour => "air enough".to_owned(),
        Symptom::NotShrinking => "clearly shrinking".to_owned(),
        _ => "gone".to_owned(),
    }
}

//! Causes in words, with the numbers of the heap that speak for them and what mending them gains.
//!
//! In: [`Ranked`] causes, rows of the table of faults. Out: sentences.
//!
//! Not here: their order (`outcome::complaint`).
//!
//! Tested by: `tests/science/complaint_cures.rs`, `tests/document/complaint.rs`.

use crate::outcome::complaint::{Cause, Evidence, Goal, Known, LEAST_WEIGHT, Ranked, Tried};
use crate::outcome::smell::{Beware, Fault, HOT_FROM_C};
use crate::quantity::UnitSystem;
use crate::text::outcome::{share_of_heap, trust_in_brackets, unverified};
use crate::text::{date, number};

/// Weights from which a cause is called likely, possible, and worth a mention.
const GRADES: [f64; 3] = [0.55, 0.25, LEAST_WEIGHT];

/// Said of a cause of which a recipe tells nothing.
const NOT_TOLD: &str = "The recipe does not tell";

/// A cause in a few words.
pub fn cause(cause: Cause) -> &'static str {
    match cause {
        Cause::ShortOfNitrogen => "Too few greens: it is short of nitrogen",
        Cause::MuchNitrogen => "Too few browns: more nitrogen than it can hold",
        Cause::TooDry => "Too dry",
        Cause::TooWet => "Too wet",
        Cause::LittleAir => "Too little air inside",
        Cause::MuchFood => "Much food and soft stuff at once: it turns sour",
        Cause::LimeOrAsh => "Lime or ash drives off nitrogen",
        Cause::Heat => "Its heat drives ammonia out",
        Cause::TooSmall => "Too small to keep its heat",
        Cause::TooBig => "Too big",
        Cause::ColdSeason => "Cold weather",
        Cause::ColdSkin => "Nothing over it: its skin is cold",
        Cause::Rain => "Rain gets in",
        Cause::CoarsePieces => "Coarse, woody pieces",
        Cause::BitByBit => "Built bit by bit",
        Cause::NotTurned => "Not turned: air or water ran out inside, or the edge never joined in",
        Cause::Finished => "It has had its heat: finished",
        Cause::OpenFood => "Food lies open",
        Cause::RatFood => "Meat, fish, dairy, bread or cooked food",
        Cause::Nest => "A dry, quiet place to nest",
        Cause::Fungi => "Fungi and threadlike bacteria at work: normal",
        Cause::LateSeeds => "Seeds that came in after it cooled",
        Cause::Young => "Too young",
        Cause::Weedkiller => "A weedkiller from lawn, hay or manure",
        Cause::Normal => "Normal",
    }
}

/// How likely a cause is, in a word. What the recipe speaks against is a thing to check when it was put in, and never
/// likely.
pub fn grade(ranked: &Ranked) -> &'static str {
    let [likely, possible, faint] = GRADES;
    let spoken_against = ranked.standing.weight == Some(0.0);
    match ranked.weight {
        w if w >= faint && spoken_against && ranked.is_a_guess() => "to check",
        w if w >= likely && !spoken_against => "likely",
        w if w >= possible => "possible",
        w if w >= faint => "less likely",
        _ => "hardly",
    }
}

/// What the heap's own numbers say; empty where they say nothing.
pub fn why(ranked: &Ranked, units: UnitSystem) -> String {
    let said: Vec<String> = ranked
        .standing
        .evidence
        .iter()
        .map(|one| evidence(*one, units))
        .collect();
    if said.is_empty() && ranked.standing.weight.is_none() {
        return NOT_TOLD.to_owned();
    }
    crate::text::sentence(&said.join("; "))
}

fn evidence(evidence: Evidence, units: UnitSystem) -> String {
    match evidence {
        Evidence::CarbonNitrogen(cn) => {
            format!("C:N {} (best 25 to 35)", number::ratio(cn))
        }
        Evidence::Moisture(share) => {
            format!(
                "{} water by the recipe (best 50 to 60 %)",
                number::percent(share)
            )
        }
        Evidence::Squeezed(share) => format!(
            "about {} water by your squeeze (best 50 to 60 %)",
            number::percent(share)
        ),
        Evidence::SqueezedThen { moisture, days_ago } => format!(
            "about {} water by the squeeze in the diary, {} (best 50 to 60 %)",
            number::percent(moisture),
            super::ago(days_ago)
        ),
        Evidence::LearntMoisture(share) => format!(
            "{} water now, as the readings teach it (best 50 to 60 %)",
            number::percent(share)
        ),
        Evidence::Now(now_c) => format!("{} when last measured", number::temperature(now_c, units)),
        Evidence::AirSpace(share) => {
            format!("{} free air space once settled", number::percent(share))
        }
        Evidence::Matting(share) => {
            format!("{} of it mats or slumps", number::percent(share))
        }
        Evidence::Airless(share) => format!(
            "lack of air holds back {} of its decomposition",
            number::percent(share)
        ),
        Evidence::Volume(m3) => format!(
            "{} in all (about {} keeps its heat)",
            to_ten_litres(m3, units),
            number::volume(1.0, units)
        ),
        Evidence::Food(share) => format!("{} of it is food", number::percent(share)),
        Evidence::Named(0.0) => "none in the recipe; is there any in the heap?".to_owned(),
        Evidence::Named(share) => format!("{} of the recipe", number::percent(share)),
        Evidence::Lime(mol) if mol < 0.01 => "none in the recipe".to_owned(),
        // A mole of acid is neutralised by 50 g of limestone.
        Evidence::Lime(mol) => format!(
            "as much as {} of lime in a kilogram of dry matter",
            number::small_mass(0.05 * mol, units)
        ),
        Evidence::Air { mean_c, start_day } => format!(
            "air of {} in the month after {}",
            number::temperature(mean_c, units),
            date::date(start_day)
        ),
        Evidence::Rain(mm) => format!(
            "{} a month while it lights",
            number::rain(mm.round(), units)
        ),
        Evidence::Bare => "nothing lies over it".to_owned(),
        Evidence::Coarse(share) => format!("{} of it is coarse or woody", number::percent(share)),
        Evidence::Added { times, days } => format!(
            "{} over {}",
            number::count(times, "addition", "additions"),
            number::days(days)
        ),
        Evidence::TurningUnknown => "has it been turned?".to_owned(),
        Evidence::Turnings(0) => "no turning in its plan".to_owned(),
        Evidence::Turnings(times) => {
            format!(
                "{} in its plan",
                number::count(times, "turning", "turnings")
            )
        }
        Evidence::Age(days) => format!("it is {} old", number::days(days)),
        Evidence::Peak(peak_c) => format!("peak {}", number::temperature(peak_c, units)),
        Evidence::NeverHot(peak_c) => format!(
            "it would never have passed {}, so its heat is still to come",
            number::temperature(peak_c, units)
        ),
        Evidence::Sprayable(share) => format!(
            "{} of it is grass, straw, hay or manure",
            number::percent(share)
        ),
    }
}

/// A volume to ten litres: what a heap holds is known no better.
pub(super) fn to_ten_litres(m3: f64, units: UnitSystem) -> String {
    number::volume((100.0 * m3).round() / 100.0, units)
}

/// How it is known: what mending it alone gains, or that it is read off the heap; one sentence, or none.
pub fn how_known(ranked: &Ranked, units: UnitSystem) -> Option<String> {
    let Known::Tried(tried) = ranked.known else {
        return None;
    };
    let goal = Goal::of(tried.symptom)?;
    let told = gain(goal, &tried, units)?;
    Some(if tried.put_in {
        format!("If it were so: {told}.")
    } else {
        format!("Mending this alone: {told}.")
    })
}

/// "peak 46 instead of 32 °C".
fn gain(goal: Goal, tried: &Tried, units: UnitSystem) -> Option<String> {
    let (was, then) = tried.values;
    if (then - was).abs() < goal.noticed() {
        let alone = "no difference you could notice";
        return Some(if tried.gain >= goal.noticed() {
            format!("{alone}, but it helps once the others are mended")
        } else {
            alone.to_owned()
        });
    }
    Some(from_to(goal, tried.values, tried.peaks_c, units))
}

/// What a goal comes to, without and with something.
pub(super) fn from_to(
    goal: Goal,
    (was, then): (f64, f64),
    (peak_was, peak_then): (f64, f64),
    units: UnitSystem,
) -> String {
    let degrees = |c: f64| number::temperature(c, units);
    let percent = number::percent;
    match goal {
        Goal::Warmth if (peak_then - peak_was).abs() < 1.0 => {
            "hot for longer, with the same peak".to_owned()
        }
        Goal::Warmth => format!(
            "peak {} instead of {}",
            degrees(peak_then),
            degrees(peak_was)
        ),
        Goal::Cooler => format!("peak {} instead of {}", degrees(-then), degrees(-was)),
        Goal::LongHeat => format!(
            "{} above {} instead of {}",
            number::days(then),
            degrees(HOT_FROM_C),
            number::days(was)
        ),
        Goal::WarmEdge => format!(
            "{} near the skin instead of {}",
            degrees(then),
            degrees(was)
        ),
        Goal::SeedsKilled => format!(
            "{} hot enough to kill ordinary seeds, instead of {}",
            share_of_heap(then),
            percent(was)
        ),
        Goal::Decomposed => format!(
            "{} of its dry matter decomposed instead of {}",
            percent(then),
            percent(was)
        ),
        Goal::Nitrogen => format!(
            "{} of its nitrogen lost as ammonia instead of {}",
            percent(-then),
            percent(-was)
        ),
        Goal::Air => format!(
            "{} instead of {} of its decomposition held back, for lack of air and by acid",
            percent(-then),
            percent(-was)
        ),
        Goal::Moister => format!(
            "at its driest {} water instead of {}",
            percent(then),
            percent(was)
        ),
        Goal::Drier => format!("{} water instead of {}", percent(-then), percent(-was)),
        Goal::Juice => format!(
            "{} of its water runs out instead of {}",
            percent(-then),
            percent(-was)
        ),
    }
}

/// What its row of the table says: how to check it, and what is usual.
pub fn row_said(fault: &Fault) -> String {
    let check = match fault.check.as_str() {
        "" => String::new(),
        check => format!("Check: {check}. "),
    };
    format!("{check}Usual cure: {}.", fault.cure)
}

/// Where its row stands.
pub fn row_source(fault: &Fault) -> String {
    format!(
        "Source: {} ({}).",
        fault.source,
        trust_in_brackets(fault.trust)
    )
}

/// Which of the ticked symptoms a cause may explain: "for: it does not get hot".
pub fn explains(ranked: &Ranked) -> String {
    let all: Vec<String> = ranked
        .explains
        .iter()
        .map(|it| super::symptom(*it).to_lowercase())
        .collect();
    format!("for: {}", all.join("; "))
}

/// A caution: "Wear gloves."
pub fn beware(beware: &Beware) -> String {
    format!("{}{}.", beware.text, unverified(beware.trust))
}

/// Where a caution stands.
pub fn beware_source(beware: &Beware) -> String {
    format!(
        "Source: {} ({}).",
        beware.source,
        trust_in_brackets(beware.trust)
    )
}

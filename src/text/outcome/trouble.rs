//! Troubles and cautions in words.
//!
//! In: troubles with their rows of the table of faults, cautions. Out: sentences, numbers.
//!
//! Not here: which there are (`outcome::smell`, `outcome::cautions`).
//!
//! Tested by: `tests/science/outcome_trouble.rs`.

use crate::outcome::cautions::Caution;
use crate::outcome::smell::{Cause, Fault, Trouble, TroubleKind};
use crate::quantity::UnitSystem;
use crate::text::{advice, number};

use super::facts::{NamedNumber, trust_in_brackets, unverified};
use super::metric;

/// Said once beside the cautions.
pub const LOCAL: &str = "Local rules come first.";

/// The stable name of a kind of trouble in files.
pub(super) fn id(kind: TroubleKind) -> &'static str {
    match kind {
        TroubleKind::Airless => "Airless",
        TroubleKind::Sour => "Sour",
        TroubleKind::Ammonia => "Ammonia",
        TroubleKind::TooHot => "TooHot",
        TroubleKind::TooDry => "TooDry",
        TroubleKind::Cold => "Cold",
    }
}

/// What a class would notice of a trouble, in a few words.
pub fn noticed(kind: TroubleKind) -> &'static str {
    match kind {
        TroubleKind::Airless => "Short of air: it smells rotten",
        TroubleKind::Sour => "Sour: it smells of vinegar",
        TroubleKind::Ammonia => "It smells of ammonia",
        TroubleKind::TooHot => "Too hot for its microbes",
        TroubleKind::TooDry => "It dries out",
        TroubleKind::Cold => "It stays cold",
    }
}

/// Said to a class of a heap with which nothing goes wrong.
pub const NOTHING_NOTICED: &str = "No bad smell, no trouble";

/// What a trouble comes to, with its greatest value.
pub(super) fn comes_to(trouble: &Trouble, units: UnitSystem) -> String {
    let worst = trouble.worst;
    match trouble.kind {
        TroubleKind::Airless => {
            format!(
                "Up to {} of it would be short of air and smell of rotten eggs",
                number::percent(worst)
            )
        }
        TroubleKind::Sour => {
            format!(
                "Up to {} of it would turn sour and smell of vinegar",
                number::percent(worst)
            )
        }
        TroubleKind::Ammonia => format!(
            "It would smell of ammonia, losing up to {:.1} % of its nitrogen a day",
            100.0 * worst
        ),
        TroubleKind::TooHot => {
            let at = number::temperature(worst, units);
            format!("It would reach {at}, too hot for the microbes that decompose it")
        }
        TroubleKind::TooDry => format!(
            "It would be too dry to rot, down to {} moisture",
            number::percent(worst)
        ),
        TroubleKind::Cold => format!(
            "It would not get above {}",
            number::temperature(worst, units)
        ),
    }
}

fn cause(cause: Cause, units: UnitSystem) -> String {
    match cause {
        Cause::Wet { moisture } => format!("it is wet ({})", number::percent(moisture)),
        Cause::LittleAir { air_space } => {
            format!("it holds little air ({})", number::percent(air_space))
        }
        Cause::Rich { cn } => {
            format!("it is rich (C:N {cn:.0}) and rots faster than air comes in")
        }
        Cause::MuchNitrogen { cn } => {
            format!("it has more nitrogen than it can hold (C:N {cn:.0})")
        }
        Cause::Acid { ph } => {
            format!(
                "for want of air it makes acid (pH {} at the lowest)",
                number::ratio(ph)
            )
        }
        Cause::Hot { peak_c } => format!(
            "its heat ({}) drives ammonia out",
            number::temperature(peak_c, units)
        ),
        Cause::Lean { cn } => format!("it is short of nitrogen (C:N {cn:.0})"),
        Cause::Small { volume_m3 } => format!(
            "it is too small to keep its heat ({})",
            number::volume(volume_m3, units)
        ),
        Cause::ColdAir { air_c } => format!(
            "it is built in cold weather ({})",
            number::temperature(air_c, units)
        ),
        Cause::Dry { moisture } => {
            format!("it is dry from the start ({})", number::percent(moisture))
        }
    }
}

/// A trouble: what, when, why.
pub(super) fn trouble(fault: Option<&Fault>, trouble: &Trouble, units: UnitSystem) -> String {
    let when = spell(trouble);
    let causes: Vec<String> = trouble.causes.iter().map(|it| cause(*it, units)).collect();
    let why = match (causes.as_slice(), fault) {
        ([], Some(fault)) => metric::shown(&fault.cause, units).into_owned(),
        (causes, _) => causes.join("; "),
    };
    let comes = comes_to(trouble, units);
    match trouble.kind {
        // A heap that never gets hot does so on no day.
        TroubleKind::Cold => format!("{comes}: {why}"),
        TroubleKind::Airless | TroubleKind::Sour => {
            format!("{comes}, {when}: {why}. Flies come to what rots without air")
        }
        TroubleKind::Ammonia | TroubleKind::TooHot | TroubleKind::TooDry => {
            format!("{comes}, {when}: {why}")
        }
    }
}

/// When: "on day 3", "between day 3 and 20".
pub(super) fn spell(trouble: &Trouble) -> String {
    let (from, to) = trouble.days;
    let (first, last) = (number::whole(from), number::whole(to));
    if first == last {
        format!("on day {first}")
    } else {
        format!("between day {first} and {last}")
    }
}

/// The numbers behind it, and what to do.
pub(super) fn trouble_numbers(
    fault: Option<&Fault>,
    trouble: &Trouble,
    units: UnitSystem,
) -> Vec<NamedNumber> {
    let (from, to) = trouble.days;
    vec![
        NamedNumber::new("from", format!("day {from:.1}")),
        NamedNumber::new("to", format!("day {to:.1}")),
        NamedNumber::new("smallest remedy", cure(fault, trouble, units)),
    ]
}

/// The change that is advised for the mix, then what helps in general.
fn cure(fault: Option<&Fault>, trouble: &Trouble, units: UnitSystem) -> String {
    let general = fault.map_or("", |fault| fault.cure.as_str());
    let general = metric::shown(general, units);
    match &trouble.step {
        Some(step) => format!("{} Otherwise: {general}", advice::first(step, units)),
        None => general.into_owned(),
    }
}

/// A caution as one line: "Take no droppings of dogs, unverified."
pub fn caution(caution: &Caution, units: UnitSystem) -> String {
    let text = metric::shown(&caution.text, units);
    format!("{text}{}.", unverified(caution.trust))
}

/// A caution with its source.
pub fn caution_source(caution: &Caution, units: UnitSystem) -> String {
    format!(
        "{}. Source: {} ({}).",
        metric::shown(&caution.text, units),
        caution.source,
        trust_in_brackets(caution.trust)
    )
}

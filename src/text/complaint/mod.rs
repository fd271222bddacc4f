//! What is wrong with a heap, in words.
//!
//! In: a typed diagnosis. Out: labels and sentences.
//!
//! Chapter: `symptoms` is what a person ticks and the questions about a heap without a recipe, `causes` why, with the
//! heap's own numbers, `cures` what to do and what to expect of it.
//!
//! Not here: what is found (`assess::remedy`, `outcome::complaint`), how it is arranged (`export`, `window`).
//!
//! Tested by: `tests/science/complaint_cures.rs`, `tests/document/complaint.rs`.

use crate::assess::remedy::{Diagnosis, Found, HeapAsked};
use crate::outcome::complaint::{Ranked, Squeeze};
use crate::quantity::UnitSystem;
use crate::text::{diary, number};

mod causes;
mod cures;
mod symptoms;

pub use causes::{
    beware, beware_source, cause, explains, grade, how_known, row_said, row_source, why,
};
pub use cures::{cure, expected_lines, for_what};
pub use symptoms::{
    AND_SOME, BEGUN_IN, BUILT, COVERED, HOW_BIG, MOSTLY, NO_RECIPE, NOT_TOLD, NOT_TRIED,
    NOTHING_ELSE, ROUGH_NOTES, ROUGH_TITLE, SQUEEZED, STANDS, built, mostly, size, squeeze, stands,
    symptom, symptom_group, weeks_ago,
};

/// Names the heap of the open recipe.
pub fn this_recipe(title: &str) -> String {
    match title {
        "" => "The heap of this recipe".to_owned(),
        title => format!("The heap of \"{title}\""),
    }
}

/// Puts a cure into the recipe.
pub const TAKE_CURE: &str = "Put into the recipe";

/// The same for who hears it: "Put cure 2 into the recipe".
pub fn take_cure(place: usize) -> String {
    format!("Put cure {} into the recipe", place + 1)
}

/// Heading of the sheet and of the report.
pub const HEADING: &str = "What is wrong with my heap?";
/// Before the symptoms.
pub const ASKS: &str = "Tick what you notice.";
/// Before the causes.
pub const CAUSES: &str = "Why";
/// Before the cures.
pub const CURES: &str = "What to do";
/// Where no cure that can be simulated helps.
pub const NO_CURE: &str =
    "Nothing that can be simulated would help by much; see under Why what is usual.";
/// Said with every cure.
pub const AS_IF_BUILT: &str = "Simulated as if the heap were built afresh with it; a heap that has already rotted for a while gains less.";
/// The same of a heap that stands.
pub const FROM_HERE_ON: &str =
    "Simulated from the first day that is still open on; what lies behind stays as it was.";
/// Said where the heap asked about is the learnt one.
pub const AS_LEARNT: &str = "Asked of the heap as the readings in its diary teach it.";

/// What is said below the cures.
pub fn simulated_as(found: &Diagnosis) -> &'static str {
    match found.of {
        HeapAsked::Planned => AS_IF_BUILT,
        HeapAsked::Stands | HeapAsked::Learnt => FROM_HERE_ON,
    }
}

/// How long ago: "today", "3 days ago".
pub fn ago(days: f64) -> String {
    match days {
        days if days < 0.5 => "today".to_owned(),
        days if days < 1.5 => "yesterday".to_owned(),
        days => format!("{} ago", number::days(days)),
    }
}

/// A squeeze as a choice that the diary made: "from the diary, 3 days ago: like a wrung-out sponge".
pub fn squeeze_from_diary(found: &Found<Squeeze>) -> String {
    format!(
        "from the diary, {}: {}",
        ago(found.days_ago),
        squeeze(found.what)
    )
}

/// An age as a choice that the diary made.
pub fn built_from_diary(age_days: f64) -> String {
    format!("from the diary, {}", ago(age_days))
}

/// Where the answer takes its readings from; nothing where the diary says nothing.
pub fn readings_taken(found: &Diagnosis, units: UnitSystem) -> Vec<String> {
    let says = &found.diary;
    let mut all = Vec::new();
    if let Some(it) = &says.squeeze {
        all.push(format!(
            "a handful squeezed {}: {}",
            ago(it.days_ago),
            squeeze(it.what)
        ));
    }
    if let Some(it) = &says.temperature_c {
        let celsius = number::temperature(it.what, units);
        all.push(format!("{celsius} in the middle {}", ago(it.days_ago)));
    }
    if let Some(it) = &says.smell {
        all.push(format!(
            "smell {}: {}",
            ago(it.days_ago),
            diary::smell(it.what)
        ));
    }
    let learnt = (found.of == HeapAsked::Learnt).then(|| AS_LEARNT.to_owned());
    let said = (!all.is_empty()).then(|| format!("From the diary: {}.", all.join("; ")));
    learnt.into_iter().chain(said).collect()
}

/// Said beside the causes while they are being tried.
pub const TRYING: &str = "First guess by the heap's own numbers; mending one thing at a time …";
/// While cures are simulated.
pub fn curing(done: usize, all: usize) -> String {
    format!("Simulating cures: {done} of {all}.")
}

/// Said where every cause of the tables is refuted by its own number, before the tables' checks.
pub const NONE_HOLDS: &str = "By its numbers none of the usual causes holds. Look all the same:";

/// Said where the recipe does not show what is ticked; of guesses only where there are some among the causes.
pub fn not_as_written(found: &Diagnosis) -> String {
    let named: Vec<String> = found
        .not_shown
        .iter()
        .map(|it| symptom(*it).to_lowercase())
        .collect();
    let next = if found.told().any(Ranked::is_a_guess) {
        "What is put \"if it were so\" would explain it; check that by hand."
    } else if found.told().next().is_some() {
        "Look at the heap: check what is beside each cause."
    } else {
        "Look at the heap."
    };
    format!(
        "As described, this heap would not be like that ({}): something is not as it is written. {next}",
        named.join("; ")
    )
}

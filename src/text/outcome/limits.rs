//! How far to trust the simulation with a kind of heap, in words.
//!
//! In: a [`Limit`], units. Out: a note with where it stands.
//!
//! Not here: which of them matter to a heap (`outcome::reach`).
//!
//! Tested by: `tests/science/outcome_reach.rs`.

use crate::outcome::reach::Limit;
use crate::quantity::UnitSystem;
use crate::text::number;

/// Heading of the notes.
pub const HOW_FAR: &str = "How far to trust this";

/// A note on one kind of heap.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LimitNote {
    /// Its stable name in files.
    pub id: &'static str,
    /// What is published, and what is shown here.
    pub text: String,
    /// Where the published part stands.
    pub source: &'static str,
}

/// What is said of one.
pub fn limit(limit: Limit, units: UnitSystem) -> LimitNote {
    let temperature = |celsius: f64| number::temperature(celsius, units);
    let note = |id, text: String, source| LimitNote { id, text, source };
    match limit {
        Limit::Frost => note(
            "frost",
            format!(
                "A right mix did heat in trials in frost; here it is on the edge at {}, where a degree more or less decides.",
                temperature(0.0)
            ),
            "King and others 2012 (opening read)",
        ),
        Limit::Wet => note(
            "wet",
            "Mixes wetter than 70 % stayed cooler and started later in trials; here such a heap gets about as hot as a drier one.".to_owned(),
            "Tatano and others 2015 (abstract read)",
        ),
        Limit::VeryLean => note(
            "very_lean",
            "In practice a mix with a C:N above 50 stays clearly cooler; here its first food still heats it, though for a few days only.".to_owned(),
            "common practice",
        ),
        Limit::SmallTrimmings => note(
            "small_trimmings",
            format!(
                "Chipped shrubs and trees, up to {}, hardly warmed in a garden trial; here they warm more.",
                number::volume(0.75, units)
            ),
            "garden trial, secondary account of 2010 (read)",
        ),
        Limit::Chips => note(
            "chips",
            format!(
                "Big heaps of wood chips that were measured fell below {} after four to eight weeks; here they stay warm for longer.",
                temperature(40.0)
            ),
            "BioEnergy Research 2016, two papers (results read)",
        ),
        Limit::LeafRowTurned => note(
            "leaf_row_turned",
            "Rows of leaves turned each week were ready in about three months, each month in about half a year; here much turning saves less time.".to_owned(),
            "Strom and Finstein, New Jersey manual (page read)",
        ),
        Limit::ColdLeaves => note(
            "cold_leaves",
            "By common practice leaves by themselves are leafmould after one to two years; here a small cold heap of them rots more slowly.".to_owned(),
            "common practice",
        ),
        Limit::SoonFit => note(
            "soon_fit",
            "By common practice a hot heap that is turned is fit to dig in after two to four months; here it is sooner.".to_owned(),
            "common practice",
        ),
        Limit::Grass => note(
            "grass",
            "Mown grass by itself mats, goes slimy and stinks; here it stays airy. Mix it with dry browns.".to_owned(),
            "common practice",
        ),
        Limit::LeafRowLeft => note(
            "leaf_row_left",
            "Rows of leaves that were hardly turned took a year and a half to five years; here they are ready sooner.".to_owned(),
            "Strom and Finstein, New Jersey manual (page read)",
        ),
    }
}

//! Symptoms as a person says them, and the questions about a heap of which there is no recipe.
//!
//! In: typed symptoms and choices. Out: labels.
//!
//! Not here: what may be behind them (`causes`).
//!
//! Tested by: `tests/science/complaint_tables.rs`.

use crate::assess::remedy::{Built, Mostly, Size, Stands};
use crate::outcome::complaint::{Squeeze, Symptom};
use crate::quantity::UnitSystem;
use crate::text::number;

/// Title of a recipe made of answers.
pub const ROUGH_TITLE: &str = "My heap, roughly";
/// Notes of such a recipe.
pub const ROUGH_NOTES: &str =
    "Made from a few answers: amounts are guesses, to be put right as you know better.";
/// A heap of which nobody wrote down a recipe.
pub const NO_RECIPE: &str = "A heap without a recipe";
/// Before what a squeeze tells.
pub const SQUEEZED: &str = "Squeezed:";
/// No squeeze was tried.
pub const NOT_TRIED: &str = "not tried";
/// Before when or how it was built.
pub const BUILT: &str = "Built:";
/// Nobody said when it was built.
pub const NOT_TOLD: &str = "not told";
/// Before what is mostly in it.
pub const MOSTLY: &str = "Mostly:";
/// Before what there is some of.
pub const AND_SOME: &str = "and some:";
/// There is nothing else in it.
pub const NOTHING_ELSE: &str = "nothing else";
/// Before its size.
pub const HOW_BIG: &str = "How big:";
/// Before the month in which it was begun.
pub const BEGUN_IN: &str = "Begun in:";
/// Before where it stands.
pub const STANDS: &str = "It is:";
/// Rain is kept off.
pub const COVERED: &str = "rain is kept off";

/// What is noticed.
pub fn symptom(symptom: Symptom) -> &'static str {
    match symptom {
        Symptom::Cold => "It does not get hot",
        Symptom::CooledDown => "It was hot and soon cooled",
        Symptom::OnlyMiddle => "Only the middle is warm and rots",
        Symptom::NotShrinking => "It does not shrink",
        Symptom::TooHot => "It is too hot",
        Symptom::SmellAmmonia => "It smells of ammonia",
        Symptom::SmellSour => "It smells sour or rotten",
        Symptom::Dry => "It is dry",
        Symptom::Soggy => "It is soggy",
        Symptom::BlackJuice => "Black juice runs out",
        Symptom::Matted => "Leaves or grass lie in mats",
        Symptom::Flies => "Flies or maggots",
        Symptom::Rats => "Rats or mice",
        Symptom::Ants => "Ants",
        Symptom::WhiteThreads => "White threads, grey dust",
        Symptom::Lumpy => "Finished, but lumpy",
        Symptom::Weeds => "Weeds come up in it",
        Symptom::StuntedSeedlings => "Seedlings in it stay small and yellow",
        Symptom::CuppedLeaves => "Leaves curl or look like ferns",
        Symptom::ShrankByHalf => "It shrank by half",
    }
}

/// What a symptom belongs to, as a heading over a few of them.
pub fn symptom_group(symptom: Symptom) -> &'static str {
    match symptom {
        Symptom::Cold
        | Symptom::CooledDown
        | Symptom::OnlyMiddle
        | Symptom::NotShrinking
        | Symptom::TooHot => "Heat",
        Symptom::SmellAmmonia | Symptom::SmellSour => "Smell",
        Symptom::Dry | Symptom::Soggy | Symptom::BlackJuice | Symptom::Matted => "Feel",
        Symptom::Flies | Symptom::Rats | Symptom::Ants | Symptom::WhiteThreads => "Guests",
        Symptom::Lumpy
        | Symptom::Weeds
        | Symptom::StuntedSeedlings
        | Symptom::CuppedLeaves
        | Symptom::ShrankByHalf => "Later on",
    }
}

/// What a heap is mostly made of.
pub fn mostly(mostly: Mostly) -> &'static str {
    match mostly {
        Mostly::Leaves => "autumn leaves",
        Mostly::Grass => "grass clippings",
        Mostly::Kitchen => "raw kitchen scraps",
        Mostly::CookedFood => "cooked food, leftovers",
        Mostly::Garden => "soft garden waste",
        Mostly::Prunings => "twigs and prunings",
        Mostly::Manure => "horse manure with straw",
        Mostly::Poultry => "hen litter",
        Mostly::Straw => "straw",
        Mostly::Sawdust => "sawdust",
        Mostly::Paper => "card and paper",
    }
}

/// How it was built.
pub fn built(built: Built) -> String {
    match built {
        Built::AtOnce => "all at once".to_owned(),
        Built::BitByBit { weeks } => format!("weekly, for {weeks} weeks"),
    }
}

/// So many weeks ago.
pub fn weeks_ago(weeks: u32) -> String {
    format!("{} ago", number::count(weeks as usize, "week", "weeks"))
}

/// How big a heap is.
pub fn size(size: Size, units: UnitSystem) -> String {
    let volume = number::volume(size.volume_m3(), units);
    let like = match size {
        Size::Small => "two barrows",
        Size::Bin => "a garden bin",
        Size::Metre => "about waist high",
        Size::Large => "two bays",
    };
    format!("{like} ({volume})")
}

/// What a squeeze in the hand tells.
pub fn squeeze(squeeze: Squeeze) -> &'static str {
    match squeeze {
        Squeeze::Dust => "falls apart, dusty",
        Squeeze::Crumbles => "holds for a moment, no shine",
        Squeeze::Sponge => "like a wrung-out sponge",
        Squeeze::Trickles => "water runs between the fingers",
        Squeeze::Soggy => "water runs by itself",
    }
}

/// Where it stands.
pub fn stands(stands: Stands) -> &'static str {
    match stands {
        Stands::Open => "an open heap",
        Stands::Slats => "slats, pallets or mesh",
        Stands::ClosedBin => "a closed bin with a lid",
        Stands::Tumbler => "a drum",
    }
}

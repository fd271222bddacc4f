//! What a person notices on a heap.
//!
//! In: a tick, or a name on the command line. Out: [`Symptom`].
//!
//! Not here: what it is called on screen (`text::complaint`), what is behind it (`cause`).
//!
//! Tested by: `tests/science/complaint_tables.rs`.

use serde::Deserialize;

/// Something noticed. The rows of the published tables of faults, one each.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
pub enum Symptom {
    /// It does not get hot.
    Cold,
    /// It was hot and cooled within days.
    CooledDown,
    /// Only the middle is warm and rots.
    OnlyMiddle,
    /// It does not shrink.
    NotShrinking,
    /// It is too hot.
    TooHot,
    /// It smells of ammonia.
    SmellAmmonia,
    /// It smells sour, rancid, rotten or of bad eggs.
    SmellSour,
    /// It is dry.
    Dry,
    /// It is soggy.
    Soggy,
    /// Black juice runs out.
    BlackJuice,
    /// Leaves or grass lie in mats.
    Matted,
    /// Flies and maggots.
    Flies,
    /// Rats and mice.
    Rats,
    /// Ants.
    Ants,
    /// White threads, grey dust.
    WhiteThreads,
    /// Finished, with lumps in it.
    Lumpy,
    /// Weeds come up in it.
    Weeds,
    /// Seedlings in it are stunted and yellow.
    StuntedSeedlings,
    /// Leaves of what grows in it are cupped or like a fern's.
    CuppedLeaves,
    /// It shrank by half.
    ShrankByHalf,
}

impl Symptom {
    /// All of them, in the order in which they are asked.
    pub const ALL: [Self; 20] = [
        Self::Cold,
        Self::CooledDown,
        Self::OnlyMiddle,
        Self::NotShrinking,
        Self::TooHot,
        Self::SmellAmmonia,
        Self::SmellSour,
        Self::Dry,
        Self::Soggy,
        Self::BlackJuice,
        Self::Matted,
        Self::Flies,
        Self::Rats,
        Self::Ants,
        Self::WhiteThreads,
        Self::Lumpy,
        Self::Weeds,
        Self::StuntedSeedlings,
        Self::CuppedLeaves,
        Self::ShrankByHalf,
    ];

    /// Its stable name on the command line and in files.
    pub fn id(self) -> &'static str {
        match self {
            Self::Cold => "cold",
            Self::CooledDown => "cooled-down",
            Self::OnlyMiddle => "only-middle",
            Self::NotShrinking => "not-shrinking",
            Self::TooHot => "too-hot",
            Self::SmellAmmonia => "smell-ammonia",
            Self::SmellSour => "smell-sour",
            Self::Dry => "dry",
            Self::Soggy => "soggy",
            Self::BlackJuice => "black-juice",
            Self::Matted => "matted",
            Self::Flies => "flies",
            Self::Rats => "rats",
            Self::Ants => "ants",
            Self::WhiteThreads => "white-threads",
            Self::Lumpy => "lumpy",
            Self::Weeds => "weeds",
            Self::StuntedSeedlings => "stunted-seedlings",
            Self::CuppedLeaves => "cupped-leaves",
            Self::ShrankByHalf => "shrank-by-half",
        }
    }

    /// The symptom of this name.
    pub fn of_id(id: &str) -> Option<Self> {
        Self::ALL.into_iter().find(|symptom| symptom.id() == id)
    }
}

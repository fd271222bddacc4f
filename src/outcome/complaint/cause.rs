//! What may be behind a symptom.
//!
//! In: the rows of the table of faults. Out: [`Cause`].
//!
//! Not here: how much speaks for it in a heap (`standing`), mending it (`assess::remedy`), words (`text::complaint`).
//!
//! Tested by: `tests/science/complaint.rs`.

use serde::Deserialize;

/// One cause.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Deserialize)]
pub enum Cause {
    /// Short of nitrogen: few greens.
    ShortOfNitrogen,
    /// More nitrogen than it can hold: few browns.
    MuchNitrogen,
    /// Short of water.
    TooDry,
    /// Too wet.
    TooWet,
    /// Short of air inside: dense, matted, without coarse pieces.
    LittleAir,
    /// Food and other soft fresh matter that turns sour.
    MuchFood,
    /// Lime or ash.
    LimeOrAsh,
    /// Its heat drives ammonia out.
    Heat,
    /// Too small to keep its heat.
    TooSmall,
    /// Too big.
    TooBig,
    /// Built in the cold season.
    ColdSeason,
    /// Its skin is cold: nothing over it.
    ColdSkin,
    /// Rain gets in.
    Rain,
    /// Coarse or woody pieces.
    CoarsePieces,
    /// Built bit by bit.
    BitByBit,
    /// Not turned: air or water ran out inside, or the edge never joined in.
    NotTurned,
    /// It has been hot, and is done.
    Finished,
    /// Food that is not covered.
    OpenFood,
    /// Meat, fish, dairy, bread, cooked food.
    RatFood,
    /// A dry, quiet place to nest.
    Nest,
    /// Fungi and threadlike bacteria at work.
    Fungi,
    /// Seeds that came in later.
    LateSeeds,
    /// Young compost.
    Young,
    /// A weedkiller that outlives the heap.
    Weedkiller,
    /// Nothing is wrong.
    Normal,
}

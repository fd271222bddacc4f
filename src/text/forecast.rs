//! What the members of a forecast say together, in a sentence each.
//!
//! In: typed shares. Out: "3 in 10 such heaps may not start", "about 7 in 10 such heaps pass 55 °C".
//!
//! Not here: the counting (`forecast`), how likely a judgement is (`outcome::likely`).
//!
//! Tested by: `tests/science/forecast_line.rs`.

use crate::forecast::{HELD_OF_TEN, Share, Start};
use crate::quantity::UnitSystem;

use super::number;
use super::outcome::in_ten;

/// Said over and in the plot where the start is in doubt; nothing where it is not.
pub fn may_not_start(start: Start) -> Option<String> {
    match start {
        Start::Alike => None,
        Start::Doubtful { cold } => Some(format!("{} such heaps may not start", in_ten(cold.0))),
    }
}

/// The same with what it means for the one line that is drawn, ahead of what that line reaches.
pub fn one_of_those(start: Start) -> Option<String> {
    may_not_start(start).map(|said| format!("{said}; the line shows one heap, not all."))
}

/// What the band is, and how far it is to be trusted.
pub fn about_the_band() -> String {
    format!(
        "Of 10 such heaps 8 would lie in the band, if only what is not known of the mix and the weather counted. \
        Of 10 published peaks and days it holds about {HELD_OF_TEN}: the model itself may be wrong, most of all for wood chips."
    )
}

/// How many pass 55 degC; never certain, since the model itself may be wrong.
pub fn passes_55(share: Share, units: UnitSystem) -> String {
    let line = number::temperature(55.0, units);
    let said = in_ten(share.0);
    // "About more than" would be said twice.
    let about = if said.starts_with(char::is_numeric) {
        "about "
    } else {
        ""
    };
    format!("{about}{said} such heaps pass {line}")
}

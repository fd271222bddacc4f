//! How likely a judgement is, in words that never say never.
//!
//! In: shares of the members of an ensemble. Out: "7 in 10", what is counted.
//!
//! Not here: the counting (`forecast`).
//!
//! Tested by: `tests/science/forecast_band.rs`, `tests/science/outcome.rs`.

use crate::outcome::{Counted, Likely, MemberSpread};
use crate::text::number;

use super::facts::NamedNumber;

/// A share as it is said: "7 in 10"; never certain, since the model itself may be wrong.
pub fn in_ten(share: f64) -> String {
    match (10.0 * share).round() {
        few if few < 1.0 => "fewer than 1 in 10".to_owned(),
        many if many > 9.0 => "more than 9 in 10".to_owned(),
        some => format!("{some:.0} in 10"),
    }
}

/// What is counted, as the rest of a sentence after "7 in 10 such heaps:".
pub fn counted(of: Counted) -> &'static str {
    match of {
        Counted::RuleMet => "it was met",
        Counted::HalfOfHeap => "half of it or more had enough",
        Counted::Finished => "it was finished within the run",
        Counted::TroubleArose => "it happened",
    }
}

/// A share with what it is of: "7 of 10 such heaps".
fn of_ten_heaps(share: f64) -> String {
    format!("{} such heaps", in_ten(share).replace(" in 10", " of 10"))
}

/// "In 7 of 10 such heaps at least half gets hot enough".
pub fn likely(likely: &Likely) -> String {
    let heaps = of_ten_heaps(likely.share);
    match likely.of {
        Counted::RuleMet => format!("In {heaps} it is met"),
        Counted::HalfOfHeap => format!("In {heaps} at least half gets hot enough"),
        Counted::Finished => {
            format!("In {heaps} it is fit for seedlings and pots within the run")
        }
        Counted::TroubleArose => format!("It happens in {heaps}"),
    }
}

/// How its number spreads over the members.
pub(super) fn spread(spread: Option<MemberSpread>) -> Vec<NamedNumber> {
    let day = |day: Option<f64>| {
        day.map_or("later than the run".to_owned(), |day| {
            format!("day {day:.0}")
        })
    };
    match spread {
        None => Vec::new(),
        Some(MemberSpread::ShareTreated(range)) => vec![NamedNumber::new(
            "eight in ten such heaps",
            number::percent_span(range.low, range.high),
        )],
        Some(MemberSpread::FinishedBy { half, most }) => vec![
            NamedNumber::new("5 in 10 finished by", day(half)),
            NamedNumber::new("9 in 10 finished by", day(most)),
        ],
    }
}

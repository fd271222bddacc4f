//! Words: the one place where typed values become sentences.
//!
//! In: what was calculated, and the units a person reads. Out: words. A message is one function of typed
//! values; nothing is made by taking another message apart.
//!
//! Not here: what is true (every room below), how lines are arranged (`export`, `window`).
//!
//! Tested by: `tests/science/words.rs`, `tests/document/export.rs`, `tests/document/handout.rs`.

pub mod advice;
pub mod amount;
pub mod balance;
pub mod change;
pub mod compare;
pub mod complaint;
pub mod date;
pub mod diary;
pub mod error;
pub mod exchange;
pub mod fed;
pub mod forecast;
pub mod garden;
pub mod gauges;
pub mod heap;
pub mod help;
pub mod household;
pub mod learnt;
pub mod logger;
pub mod material;
pub mod mix;
pub mod next_days;
pub mod number;
pub mod outcome;
pub mod own_material;
pub mod page;
pub mod plan;
pub mod plan_search;
pub mod recipes;
pub mod spoken;
pub mod table;
pub mod trial;
pub mod typed_amount;
pub mod typed_reading;
pub mod year;
pub mod year_page;

/// Joined as in speech: "a", "a and b", "a, b and c"; nothing for no pieces.
pub fn list<S: AsRef<str>>(pieces: &[S]) -> String {
    let said: Vec<&str> = pieces.iter().map(AsRef::as_ref).collect();
    match said.as_slice() {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}

/// A sentence that begins with a word that may stand in small letters: its first letter made large.
pub fn sentence(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_uppercase().chain(letters).collect()
    })
}

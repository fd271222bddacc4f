//! The three lines that stand first: weed seeds, smell, when.
//!
//! In: a [`Headline`]. Out: a question and its answer each.
//!
//! Not here: which results answer (`outcome::headline`), the lines behind them (`living`, `trouble`, `finish`).
//!
//! Tested by: `tests/science/outcome.rs`.

use crate::outcome::headline::{Headline, Seeds};
use crate::outcome::kill::Best;
use crate::outcome::smell::{Trouble, TroubleKind};
use crate::outcome::{Judgement, JudgementId};
use crate::quantity::UnitSystem;
use crate::text::sentence;

use super::facts::share_of_heap;
use super::finish::finished;
use super::likely::likely;
use super::trouble::{comes_to, spell};

/// A question with its answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct FirstLine {
    /// "Weed seeds".
    pub asks: &'static str,
    /// One to three short sentences.
    pub answer: String,
    /// The line that it stands on, where there is one.
    pub stands_on: Option<JudgementId>,
}

/// The three lines.
pub fn first_lines(headline: &Headline<'_>, units: UnitSystem) -> [FirstLine; 3] {
    let line = |asks, answer, on: Option<Judgement<'_>>| FirstLine {
        asks,
        answer,
        stands_on: on.map(|it| it.id),
    };
    let smell = headline.smell.as_ref();
    let when = headline.when.as_ref();
    let ready = finished(headline.finish);
    [
        line(
            "Weed seeds",
            headline
                .seeds
                .as_ref()
                .map_or_else(|| "Nothing is known of them.".to_owned(), seeds),
            headline.seeds.map(|it| it.judgement),
        ),
        line(
            "Smell",
            smell.map_or_else(
                || no_smell(headline).to_owned(),
                |(trouble, it)| with_likely(&smells(trouble, units), it),
            ),
            smell.map(|(_, it)| *it),
        ),
        line(
            "When",
            when.map_or_else(|| ready.clone(), |it| with_likely(&ready, it)),
            headline.when,
        ),
    ]
}

/// Said of a heap in which nothing is found that smells.
fn no_smell(headline: &Headline<'_>) -> &'static str {
    if headline.stinks_by_custom {
        "Nothing in the run smells, but do not count on it: by common practice grass by itself mats and stinks. Mix browns in."
    } else {
        "Hardly any: nothing in the run smells of rot, vinegar or ammonia."
    }
}

/// A sentence, then how likely it is.
fn with_likely(text: &str, judgement: &Judgement<'_>) -> String {
    match &judgement.weighed.likely {
        Some(told) => format!("{text} {}.", likely(told)),
        None => text.to_owned(),
    }
}

/// What becomes of the class that speaks for the seeds and roots.
fn seeds(seeds: &Seeds<'_>) -> String {
    let name = &seeds.class.name;
    let (killed, share) = match seeds.class.best {
        Best::Killed => ("kills", seeds.got.share),
        Best::MostlyKilled | Best::Never => ("kills most of", seeds.got.share),
    };
    let told = if share <= 0.0 {
        format!("No part of the heap gets the heat that {killed} {name}.")
    } else {
        sentence(&format!(
            "{} gets the heat that {killed} {name}; expect survivors from the rest.",
            share_of_heap(share)
        ))
    };
    if seeds.judgement.here {
        with_likely(&told, &seeds.judgement)
    } else {
        format!(
            "Hardly any come with this mix. If some do: {}",
            told_on(&told)
        )
    }
}

/// The same behind a colon.
fn told_on(told: &str) -> String {
    let mut letters = told.chars();
    letters.next().map_or_else(String::new, |first| {
        first.to_lowercase().chain(letters).collect()
    })
}

/// What would be smelt, and when.
fn smells(trouble: &Trouble, units: UnitSystem) -> String {
    let what = match trouble.kind {
        TroubleKind::Ammonia => "It would smell of ammonia".to_owned(),
        _ => comes_to(trouble, units),
    };
    let when = spell(trouble);
    let flies = match trouble.kind {
        TroubleKind::Airless | TroubleKind::Sour => " Flies come to it.",
        _ => "",
    };
    format!("{what}, {when}.{flies}")
}

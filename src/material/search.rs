//! Finding materials by the words gardeners use: names, what else they are called, stems, small slips.
//!
//! In: a list of materials, what was typed. Out: the materials that fit, best first.
//!
//! Every material has phrases: its name, the part of it before a comma, what it is also called, its id. A phrase fits
//! as far as it holds the words asked for and few others. Whole words stand before beginnings of words, so that "ash"
//! is ash before it is squash's neighbour, and "hen" never is kitchen; the nearest known word is taken only for a word
//! that nothing knows.
//! Not here: how words are split and brought to a stem (`words`), filters and orders (`browse`).
//!
//! Tested by: `tests/science/material_search.rs`.

use std::cmp::Ordering;
use std::sync::Arc;

use super::words::{Word, words};
use super::{Family, Material};

/// How well a word that was typed fits one of a phrase, 0-1. Tuned: orders of 287 words gardeners type.
mod fit {
    /// The same letters.
    pub(super) const SAME: f64 = 1.0;
    /// The same stem.
    pub(super) const STEM: f64 = 0.95;
    /// The beginning of a longer word, at least; more the more of it is typed.
    pub(super) const BEGINNING: f64 = 0.5;
    /// The end of a longer word: "weed" in "pondweed".
    pub(super) const END: f64 = 0.35;
}

/// Share of a phrase's worth that rests on how little else it holds (tuned as `fit`).
const FULLNESS: f64 = 0.25;
/// Worth of words that lie in several phrases of one material (tuned as `fit`).
const SCATTERED: f64 = 0.5;
/// Letters a word must have to be looked for at the end of longer ones: "oil" is not soil.
const END_LETTERS: usize = 4;

/// What a phrase of a material is; names count most.
#[derive(Debug, Clone, Copy, PartialEq)]
enum Kind {
    /// The part of its name before a comma or bracket, or one of two names.
    Head,
    /// What else it is called.
    Called,
    /// The whole name.
    Name,
    /// Its id.
    Id,
    /// Its family.
    Family,
}

impl Kind {
    /// Weight of the phrase, 0-1 (tuned as `fit`).
    fn weight(self) -> f64 {
        match self {
            Self::Head => 1.0,
            Self::Called => 0.96,
            Self::Name => 0.95,
            Self::Id => 0.8,
            Self::Family => 0.6,
        }
    }
}

/// Words that belong together.
#[derive(Debug, Clone, PartialEq)]
struct Phrase {
    kind: Kind,
    /// How many words it has.
    length: usize,
    /// Its words, and each two neighbours written as one; with how many of its words that takes.
    spots: Vec<(Word, usize)>,
}

impl Phrase {
    fn new(kind: Kind, text: &str) -> Self {
        let words = words(text);
        let joined = words
            .windows(2)
            .map(|pair| (pair[0].joined_with(&pair[1]), 2));
        let spots: Vec<_> = words
            .iter()
            .map(|word| (word.clone(), 1))
            .chain(joined)
            .collect();
        Self {
            kind,
            length: words.len(),
            spots,
        }
    }

    /// Whether any of its words fits.
    fn knows(&self, word: &Word) -> bool {
        self.spots.iter().any(|(own, _)| word_fit(word, own) > 0.0)
    }

    /// How well the words asked for fit, each 0-1, and how many of its own words they take whole.
    fn fits(&self, asked: &[Word]) -> (Vec<f64>, usize) {
        let mut taken = 0;
        let fits = asked
            .iter()
            .map(|word| {
                let best = self
                    .spots
                    .iter()
                    .map(|(own, many)| (word_fit(word, own), *many))
                    .max_by(|a, b| a.0.total_cmp(&b.0));
                match best {
                    Some((fit, many)) if fit > 0.0 => {
                        taken += if fit >= fit::STEM { many } else { 0 };
                        fit
                    }
                    _ => 0.0,
                }
            })
            .collect();
        (fits, taken.min(self.length))
    }
}

/// How well a typed word fits another, 0-1.
fn word_fit(asked: &Word, own: &Word) -> f64 {
    if asked.whole == own.whole {
        fit::SAME
    } else if asked.stem == own.stem {
        fit::STEM
    } else if own.whole.starts_with(&asked.whole) {
        let typed = asked.whole.len() as f64 / own.whole.len() as f64;
        fit::BEGINNING + (fit::STEM - fit::BEGINNING) * 0.5 * typed
    } else if asked.whole.len() >= END_LETTERS && own.whole.ends_with(&asked.whole) {
        fit::END
    } else {
        0.0
    }
}

/// The phrases of one material, split once.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Entry {
    phrases: Vec<Phrase>,
}

impl Entry {
    /// Of a material.
    pub(super) fn new(material: &Material) -> Self {
        let head = material
            .name
            .split([',', '('])
            .next()
            .unwrap_or(&material.name);
        let mut phrases = vec![
            Phrase::new(Kind::Head, head),
            Phrase::new(Kind::Name, &material.name),
            Phrase::new(Kind::Id, &material.id),
        ];
        // "Bean / pea haulm" is two names.
        if head.contains('/') {
            phrases.extend(head.split('/').map(|part| Phrase::new(Kind::Head, part)));
        }
        phrases.extend(
            material
                .also_called
                .iter()
                .map(|called| Phrase::new(Kind::Called, called)),
        );
        phrases.retain(|phrase| phrase.length > 0);
        Self { phrases }
    }

    /// How many of the words asked for it holds, and how well they fit; none if it holds none.
    fn rank(&self, family: &Phrase, asked: &[Word]) -> Option<Rank> {
        let mut anywhere = vec![0.0_f64; asked.len()];
        let mut best = 0.0_f64;
        for phrase in self.phrases.iter().chain([family]) {
            let (fits, taken) = phrase.fits(asked);
            let weight = phrase.kind.weight();
            for (anywhere, fit) in anywhere.iter_mut().zip(&fits) {
                *anywhere = anywhere.max(weight * fit);
            }
            if fits.iter().all(|fit| *fit > 0.0) {
                let full = taken as f64 / phrase.length as f64;
                let worth = (1.0 - FULLNESS) * mean(&fits) + FULLNESS * full;
                best = best.max(weight * worth);
            }
        }
        let held = anywhere.iter().filter(|fit| **fit > 0.0).count();
        let worth = best.max(SCATTERED * mean(&anywhere));
        (held > 0).then_some(Rank { held, worth })
    }
}

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}

/// How well a material fits.
#[derive(Clone, Copy)]
struct Rank {
    /// Words of the query it holds.
    held: usize,
    /// How well they fit, 0-1.
    worth: f64,
}

/// Places in `entries` of what fits, best first; equals stay in order. `families` are the family of each entry, in the
/// words of a person. Where nothing holds all words, what holds most of them, half at least.
pub(super) fn search(
    entries: &[Arc<Entry>],
    families: &[Family],
    family_name: fn(Family) -> &'static str,
    query: &str,
) -> Vec<usize> {
    let asked = words(query);
    if asked.is_empty() {
        return (0..entries.len()).collect();
    }
    let family_phrases: Vec<(Family, Phrase)> = Family::ALL
        .into_iter()
        .map(|family| (family, Phrase::new(Kind::Family, family_name(family))))
        .collect();
    let phrase_of = |family: Family| {
        family_phrases
            .iter()
            .find(|(known, _)| *known == family)
            .map(|(_, phrase)| phrase)
    };
    let asked = mended(asked, entries, &family_phrases);
    let readings = readings(&asked);
    let mut ranked: Vec<(usize, Rank)> = Vec::new();
    for (place, (entry, family)) in entries.iter().zip(families).enumerate() {
        let Some(family) = phrase_of(*family) else {
            continue;
        };
        let best = readings
            .iter()
            .filter_map(|reading| {
                // A reading that joins two words holds both with one.
                let joined = asked.len() - reading.len();
                let mut rank = entry.rank(family, reading)?;
                rank.held += if rank.held == reading.len() {
                    joined
                } else {
                    0
                };
                Some(rank)
            })
            .max_by(|a, b| {
                (a.held, a.worth)
                    .partial_cmp(&(b.held, b.worth))
                    .unwrap_or(Ordering::Equal)
            });
        ranked.extend(best.map(|rank| (place, rank)));
    }
    let most = ranked.iter().map(|(_, rank)| rank.held).max().unwrap_or(0);
    if 2 * most < asked.len() {
        return Vec::new();
    }
    ranked.retain(|(_, rank)| rank.held == most);
    ranked.sort_by(|a, b| b.1.worth.total_cmp(&a.1.worth));
    ranked.into_iter().map(|(place, _)| place).collect()
}

/// The words as typed, and with each two neighbours written as one.
fn readings(asked: &[Word]) -> Vec<Vec<Word>> {
    let mut all = vec![asked.to_vec()];
    for place in 1..asked.len() {
        let mut joined = asked.to_vec();
        let second = joined.remove(place);
        joined[place - 1] = joined[place - 1].joined_with(&second);
        all.push(joined);
    }
    all
}

/// The words, each that nothing knows replaced by the known one most like it.
fn mended(asked: Vec<Word>, entries: &[Arc<Entry>], families: &[(Family, Phrase)]) -> Vec<Word> {
    let all = || {
        entries
            .iter()
            .flat_map(|entry| &entry.phrases)
            .chain(families.iter().map(|(_, phrase)| phrase))
    };
    let known = |word: &Word| all().any(|phrase| phrase.knows(word));
    let joins = |place: usize| {
        let with = |first: usize| Some(asked.get(first)?.joined_with(asked.get(first + 1)?));
        let before = place.checked_sub(1).and_then(with);
        before
            .into_iter()
            .chain(with(place))
            .any(|word| known(&word))
    };
    asked
        .iter()
        .enumerate()
        .map(|(place, word)| {
            let slips = slips_allowed(&word.whole);
            if slips == 0 || known(word) || joins(place) {
                return word.clone();
            }
            all()
                .flat_map(|phrase| &phrase.spots)
                .map(|(own, _)| (slips_between(word, own), own))
                .filter(|(apart, _)| *apart <= slips)
                .min_by_key(|(apart, own)| (*apart, &own.whole))
                .map_or_else(|| word.clone(), |(_, own)| own.clone())
        })
        .collect()
}

/// Letters that may be wrong in a word: none in a short one.
fn slips_allowed(word: &str) -> usize {
    match word.chars().count() {
        0..=3 => 0,
        4..=6 => 1,
        _ => 2,
    }
}

/// Letters added, dropped, changed or swapped between a typed word and a known one (optimal string alignment).
fn slips_between(asked: &Word, own: &Word) -> usize {
    strsim::osa_distance(&asked.whole, &own.whole)
}

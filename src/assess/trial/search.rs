//! Finding a belief by words.
//!
//! In: trials or questions about materials, the words a person types. Out: places of those that fit, the best first.
//!
//! A word fits another that begins alike, so that "rats" finds "rat" and "drying" finds "dry"; a word of five letters
//! and more may hold one slip. Title and search words count most, then claim and answer, then all the rest.
//! Not here: looking for a material (`material`), the words themselves (`assets/trials.ron`).
//!
//! Tested by: `tests/science/trial_files.rs`.

use crate::material::MaterialQuestion;

use super::file::Trial;

/// Words that say nothing of what is looked for.
const EMPTY: [&str; 33] = [
    "a", "an", "and", "are", "as", "at", "be", "can", "do", "does", "for", "from", "have", "how",
    "i", "in", "into", "is", "it", "me", "my", "need", "of", "on", "or", "should", "the", "to",
    "what", "when", "why", "will", "with",
];
/// Fewest letters of a word of which one may be wrong.
const SLIP_FROM: usize = 5;
/// Endings that are cut before words are compared, the longest first.
const ENDINGS: [&str; 7] = ["ings", "ing", "ies", "es", "ed", "s", "y"];
/// Fewest letters that stay when an ending is cut.
const STEM_LEAST: usize = 3;
/// What a word counts by where it is found: title and search words, claim and answer, the rest.
const WEIGHTS: [u32; 3] = [8, 3, 1];

/// Places of the trials that fit, best first; all in their order where nothing is looked for.
///
/// Those that hold more of the words come first; among them those that hold them in the more telling places.
pub fn find(trials: &[Trial], query: &str) -> Vec<usize> {
    ranked(trials.iter().map(of_trial), query)
}

/// Places of the questions about materials that fit, best first; all where nothing is looked for.
pub fn find_questions(questions: &[MaterialQuestion], query: &str) -> Vec<usize> {
    ranked(questions.iter().map(of_question), query)
}

/// The words of something to be found, the most telling first.
type Shelves = [Vec<String>; 3];

fn ranked(all: impl Iterator<Item = Shelves>, query: &str) -> Vec<usize> {
    let wanted = wanted_words(query);
    let mut found: Vec<(usize, u32, usize)> = Vec::new();
    for (place, shelves) in all.enumerate() {
        let worths: Vec<u32> = wanted.iter().map(|word| worth(word, &shelves)).collect();
        let held = worths.iter().filter(|worth| **worth > 0).count();
        if held > 0 || wanted.is_empty() {
            found.push((held, worths.iter().sum(), place));
        }
    }
    found.sort_by(|a, b| (b.0, b.1).cmp(&(a.0, a.1)).then(a.2.cmp(&b.2)));
    found.into_iter().map(|(_, _, place)| place).collect()
}

/// The words that say what is looked for; all of them where none does.
fn wanted_words(query: &str) -> Vec<String> {
    let all = words_of(query);
    let telling = all
        .iter()
        .filter(|word| !EMPTY.contains(&word.as_str()))
        .cloned()
        .collect::<Vec<_>>();
    if telling.is_empty() { all } else { telling }
}

/// What a word is worth where it fits best.
fn worth(word: &str, shelves: &Shelves) -> u32 {
    let on = |shelf: &Vec<String>| shelf.iter().map(|other| fit(word, other)).max();
    let worths = shelves.iter().zip(WEIGHTS);
    worths
        .map(|(shelf, weight)| on(shelf).unwrap_or(0) * weight)
        .max()
        .unwrap_or(0)
}

fn of_trial(trial: &Trial) -> Shelves {
    let mut telling = words_of(&trial.title);
    telling.extend(trial.words.iter().flat_map(|words| words_of(words)));
    let mut said = words_of(&trial.claim);
    said.extend(words_of(&trial.answer));
    let mut rest = words_of(&trial.differs);
    rest.extend(words_of(&trial.id.replace('_', " ")));
    let findings = trial.evidence.iter();
    rest.extend(findings.flat_map(|known| words_of(&known.finding)));
    [telling, said, rest]
}

fn of_question(question: &MaterialQuestion) -> Shelves {
    let ids = question.materials.iter();
    let named = ids.flat_map(|id| words_of(&id.replace('_', " ")));
    let mut telling = words_of(&question.question);
    telling.extend(named);
    [telling, words_of(&question.answer), Vec::new()]
}

fn words_of(text: &str) -> Vec<String> {
    let letters = |c: char| !c.is_alphanumeric();
    let words = text.split(letters).filter(|word| !word.is_empty());
    words.map(str::to_lowercase).collect()
}

/// How well a word fits another: 3 the same, 2 the same but for an ending, 1 with one slip; else 0.
fn fit(word: &str, other: &str) -> u32 {
    if word == other {
        return 3;
    }
    let (short, long) = (stem(word), stem(other));
    if short == long {
        return 2;
    }
    let slips = word.chars().count() >= SLIP_FROM && other.chars().count() >= SLIP_FROM;
    u32::from(slips && one_slip(&short, &long))
}

/// A word without its ending.
fn stem(word: &str) -> String {
    let count = word.chars().count();
    for ending in ENDINGS {
        if let Some(cut) = word.strip_suffix(ending)
            && count - ending.len() >= STEM_LEAST
        {
            return cut.to_owned();
        }
    }
    word.to_owned()
}

/// Whether one letter added, left out, changed or swapped with its neighbour turns one word into the other.
fn one_slip(word: &str, other: &str) -> bool {
    let (a, b): (Vec<char>, Vec<char>) = (word.chars().collect(), other.chars().collect());
    let alike = a.iter().zip(&b).take_while(|(a, b)| a == b).count();
    let (a, b) = (&a[alike..], &b[alike..]);
    match (a, b) {
        ([], [_]) | ([_], []) => true,
        ([_, a @ ..], b) | (b, [_, a @ ..]) if a == b => true,
        ([_, a @ ..], [_, b @ ..]) if a == b => true,
        ([a, b, rest @ ..], [c, d, other @ ..]) => (a, b) == (d, c) && rest == other,
        _ => false,
    }
}

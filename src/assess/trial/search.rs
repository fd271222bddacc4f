//! Finding a belief by words.
//!
//! In: trials or questions about materials, the words a person types. Out: places of those that fit, the best first.
//!
//! A word fits another that begins alike, so that "rats" finds "rat" and "drying" finds "dry"; a word of five letters
//! and more may hold one slip. Title and search words count most, then claim and answer, then all the rest.
//! Not here: looking for a material, stems of words (`material`), the words themselves (`assets/trials.ron`).
//!
//! Tested by: `tests/science/trial_files.rs`.

use crate::material::MaterialQuestion;
use crate::material::words::{Word, words};

use super::file::Trial;

/// Words of a question that say nothing of what is looked for.
const ASKING: [&str; 17] = [
    "are", "at", "be", "can", "do", "does", "have", "how", "i", "into", "me", "need", "should",
    "what", "when", "why", "will",
];
/// Fewest letters of a word of which one may be wrong.
const SLIP_FROM: usize = 5;
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
type Shelves = [Vec<Word>; 3];

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
fn wanted_words(query: &str) -> Vec<Word> {
    let all = words(query);
    let telling = all
        .iter()
        .filter(|word| !ASKING.contains(&word.whole.as_str()))
        .cloned()
        .collect::<Vec<_>>();
    if telling.is_empty() { all } else { telling }
}

/// What a word is worth where it fits best.
fn worth(word: &Word, shelves: &Shelves) -> u32 {
    let on = |shelf: &Vec<Word>| shelf.iter().map(|other| fit(word, other)).max();
    let worths = shelves.iter().zip(WEIGHTS);
    worths
        .map(|(shelf, weight)| on(shelf).unwrap_or(0) * weight)
        .max()
        .unwrap_or(0)
}

fn of_trial(trial: &Trial) -> Shelves {
    let mut telling = words(&trial.title);
    telling.extend(trial.words.iter().flat_map(|other| words(other)));
    let mut said = words(&trial.claim);
    said.extend(words(&trial.answer));
    let mut rest = words(&trial.differs);
    rest.extend(words(&trial.id.replace('_', " ")));
    let findings = trial.evidence.iter();
    rest.extend(findings.flat_map(|known| words(&known.finding)));
    [telling, said, rest]
}

fn of_question(question: &MaterialQuestion) -> Shelves {
    let ids = question.materials.iter();
    let named = ids.flat_map(|id| words(&id.replace('_', " ")));
    let mut telling = words(&question.question);
    telling.extend(named);
    [telling, words(&question.answer), Vec::new()]
}

/// How well a word fits another: 3 the same, 2 the same but for an ending, 1 with one slip; else 0.
fn fit(word: &Word, other: &Word) -> u32 {
    let long = |word: &Word| word.whole.chars().count() >= SLIP_FROM;
    if word.whole == other.whole {
        3
    } else if word.stem == other.stem {
        2
    } else {
        let slips = long(word) && long(other);
        u32::from(slips && strsim::osa_distance(&word.stem, &other.stem) <= 1)
    }
}

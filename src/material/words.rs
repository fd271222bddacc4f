//! Words as people type them: split, spelled one way, brought to a stem, joined where two make one.
//!
//! In: a text. Out: [`Word`]s to compare.
//!
//! Not here: which material a word finds (`search`), which belief (`assess::trial`).
//!
//! Tested by: `tests/science/material_search.rs`.

/// A word as typed and without its ending.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(crate) struct Word {
    /// In small letters, spelled one way.
    pub(crate) whole: String,
    /// Without the ending that says how many or what was done: "trimmings" and "trimmed" are "trim".
    pub(crate) stem: String,
}

/// Words that say nothing about a material.
const EMPTY: [&str; 22] = [
    "a", "an", "and", "any", "as", "for", "from", "in", "is", "it", "lots", "my", "of", "old",
    "on", "or", "some", "stuff", "the", "to", "used", "with",
];

/// Spellings of one word on two sides of an ocean, and letters few keyboards have.
const SPELLINGS: [(&str, &str); 12] = [
    ("mould", "mold"),
    ("fibre", "fiber"),
    ("fertilis", "fertiliz"),
    ("sulph", "sulf"),
    ("yoghurt", "yogurt"),
    ("neighbour", "neighbor"),
    ("colour", "color"),
    ("grey", "gray"),
    ("é", "e"),
    ("è", "e"),
    ("ö", "o"),
    ("ü", "u"),
];

impl Word {
    /// Of letters without a space.
    fn new(letters: &str) -> Self {
        Self {
            whole: letters.to_owned(),
            stem: stem(letters),
        }
    }

    /// This and the next written as one: "wood chip" is "woodchip".
    pub(crate) fn joined_with(&self, next: &Self) -> Self {
        Self::new(&format!("{}{}", self.whole, next.whole))
    }
}

/// The words of a text; empty ones only where there is nothing else.
pub(crate) fn words(text: &str) -> Vec<Word> {
    let mut plain = text.to_lowercase().replace(['\'', '’'], "");
    for (from, to) in SPELLINGS {
        plain = plain.replace(from, to);
    }
    let all: Vec<&str> = plain
        .split(|letter: char| !letter.is_alphanumeric())
        .filter(|word| !word.is_empty())
        .collect();
    let telling: Vec<&str> = all
        .iter()
        .copied()
        .filter(|word| !EMPTY.contains(word))
        .collect();
    let kept = if telling.is_empty() { all } else { telling };
    kept.into_iter().map(Word::new).collect()
}

/// A word without its ending. Rules of English that serve garden words, no dictionary: both sides of a comparison go
/// through it, so that a stem need not be a word.
fn stem(word: &str) -> String {
    let one = singular(word);
    let bare = strip_deed(&one).unwrap_or(one);
    match bare.strip_suffix('e') {
        Some(short) if bare.len() > 4 => short.to_owned(),
        _ => bare,
    }
}

/// Of several, one: "leaves" is "leaf", "peaches" "peach", "berries" "berry"; "moss" stays.
fn singular(word: &str) -> String {
    if word.len() < 4 {
        return word.to_owned();
    }
    let endings = [
        ("eaves", "eaf"),
        ("oaves", "oaf"),
        ("alves", "alf"),
        ("urves", "urf"),
        ("ies", "y"),
        ("oes", "o"),
        ("sses", "ss"),
        ("shes", "sh"),
        ("ches", "ch"),
        ("xes", "x"),
    ];
    for (many, one) in endings {
        if let Some(front) = word.strip_suffix(many) {
            return format!("{front}{one}");
        }
    }
    let stays = ["ss", "us", "is"].iter().any(|end| word.ends_with(end));
    match word.strip_suffix('s') {
        Some(front) if !stays => front.to_owned(),
        _ => word.to_owned(),
    }
}

/// What is left of "trimming" and "trimmed"; nothing where too little would be, as of "string" and "weed".
fn strip_deed(word: &str) -> Option<String> {
    if let Some(front) = word.strip_suffix("ied") {
        return (front.len() > 1).then(|| format!("{front}y"));
    }
    let front = word.strip_suffix("ing").or_else(|| {
        word.strip_suffix("ed")
            .filter(|front| !front.ends_with('e'))
    })?;
    let says_something = front.len() > 2 && front.contains(['a', 'e', 'i', 'o', 'u', 'y']);
    says_something.then(|| undoubled(front))
}

/// "trimm" is "trim"; "peel", "grass" and "hull" keep both letters.
fn undoubled(front: &str) -> String {
    let mut letters = front.chars().rev();
    match (letters.next(), letters.next()) {
        (Some(last), Some(before))
            if last == before && !matches!(last, 'l' | 's' | 'z' | 'e' | 'o') =>
        {
            front[..front.len() - last.len_utf8()].to_owned()
        }
        _ => front.to_owned(),
    }
}

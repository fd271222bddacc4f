//! What one probe of a logger recorded: a long list of days and temperatures, shared between copies and short in a file.
//!
//! In: pairs of a day and a temperature. Out: the same as a slice. Copies of a project, as undo keeps them, share one
//! list. In a file it is lines of text with a few pairs each, "12.5 48.25; 13 48.5"; pairs in brackets are read too.
//!
//! Not here: whether the numbers can be (`check`), reading a logger's own file.
//!
//! Tested by: `tests/document/diary.rs`, `tests/document/round_trip.rs`.

use std::fmt;
use std::fmt::Write as _;
use std::ops::Deref;
use std::sync::Arc;

use serde::de::{Error as _, SeqAccess, Visitor};
use serde::ser::SerializeSeq as _;
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// Pairs in one line of a file.
const PAIRS_OF_LINE: usize = 8;

/// Days since the heap was built and temperature, degC.
#[derive(Clone, Default)]
pub struct Temperatures(Arc<Vec<(f64, f64)>>);

impl Deref for Temperatures {
    type Target = [(f64, f64)];

    fn deref(&self) -> &Self::Target {
        &self.0
    }
}

impl fmt::Debug for Temperatures {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        self.0.fmt(formatter)
    }
}

impl PartialEq for Temperatures {
    /// Shared lists are told equal at once.
    fn eq(&self, other: &Self) -> bool {
        Arc::ptr_eq(&self.0, &other.0) || self.0 == other.0
    }
}

impl From<Vec<(f64, f64)>> for Temperatures {
    fn from(pairs: Vec<(f64, f64)>) -> Self {
        Self(Arc::new(pairs))
    }
}

impl FromIterator<(f64, f64)> for Temperatures {
    fn from_iter<I: IntoIterator<Item = (f64, f64)>>(pairs: I) -> Self {
        Self::from(pairs.into_iter().collect::<Vec<_>>())
    }
}

impl<'a> IntoIterator for &'a Temperatures {
    type Item = &'a (f64, f64);
    type IntoIter = std::slice::Iter<'a, (f64, f64)>;

    fn into_iter(self) -> Self::IntoIter {
        self.0.iter()
    }
}

impl Serialize for Temperatures {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let lines = self.0.chunks(PAIRS_OF_LINE);
        let mut list = serializer.serialize_seq(Some(lines.len()))?;
        let mut line = String::new();
        for pairs in lines {
            line.clear();
            for (place, (day, degrees)) in pairs.iter().enumerate() {
                let gap = if place == 0 { "" } else { "; " };
                // Writing into a text cannot fail; the shortest digits that read back as the same number.
                let _ = write!(line, "{gap}{day} {degrees}");
            }
            list.serialize_element(&line)?;
        }
        list.end()
    }
}

impl<'de> Deserialize<'de> for Temperatures {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_seq(List)
    }
}

/// Reads the list.
struct List;

impl<'de> Visitor<'de> for List {
    type Value = Temperatures;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("lines of days and temperatures")
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut lines: A) -> Result<Self::Value, A::Error> {
        let mut all = Vec::new();
        while let Some(Entry(pairs)) = lines.next_element()? {
            all.extend(pairs);
        }
        Ok(Temperatures::from(all))
    }
}

/// A line with some pairs, or one pair.
struct Entry(Vec<(f64, f64)>);

impl<'de> Deserialize<'de> for Entry {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        deserializer.deserialize_any(Line)
    }
}

/// Reads an entry.
struct Line;

impl<'de> Visitor<'de> for Line {
    type Value = Entry;

    fn expecting(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str("days and temperatures such as \"12.5 48.25; 13 48.5\"")
    }

    fn visit_str<E: serde::de::Error>(self, line: &str) -> Result<Self::Value, E> {
        let pairs = line.split(';').map(|text| {
            let mut words = text.split_whitespace();
            let mut number = || words.next()?.parse::<f64>().ok();
            let pair = number().zip(number());
            pair.filter(|_| words.next().is_none()).ok_or_else(|| {
                let text = text.trim();
                E::custom(format!(
                    "`{text}` is no day with a temperature; write such as `12.5 48.25`"
                ))
            })
        });
        pairs.collect::<Result<_, _>>().map(Entry)
    }

    fn visit_seq<A: SeqAccess<'de>>(self, mut pair: A) -> Result<Self::Value, A::Error> {
        let day = pair.next_element()?;
        let degrees = pair.next_element()?;
        let pair = day.zip(degrees);
        let pair = pair.ok_or_else(|| A::Error::custom("a temperature lacks its day"))?;
        Ok(Entry(vec![pair]))
    }
}

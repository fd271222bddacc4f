//! Notices: what a person is told, as a toast and in a list.
//!
//! In: a sentence and, where there is more to say, details. Out: the newest one to show, and all of
//! them.
//!
//! Not here: what caused them; every refusal is worded where it arises.
//!
//! Tested by: `tests/window/files.rs`.

/// How much a notice matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Weight {
    /// Something went as asked; it fades by itself.
    Done,
    /// Something could not be done; it stays until it is put away.
    Problem,
}

/// Something to tell.
#[derive(Debug, Clone, PartialEq)]
pub struct Notice {
    /// How much it matters.
    pub weight: Weight,
    /// One sentence.
    pub summary: String,
    /// More, behind a fold; may be empty.
    pub details: String,
}

/// How long a [`Weight::Done`] toast stays, s.
const DONE_SECONDS: f64 = 5.0;
/// How many notices the list keeps.
const KEPT: usize = 50;

/// All notices of a session.
#[derive(Debug, Clone, Default)]
pub struct Notices {
    /// Oldest first.
    list: Vec<Notice>,
    /// When the newest was raised, s; `None` once it is put away.
    toast_since: Option<f64>,
    /// Whether the list is open.
    pub list_open: bool,
}

impl Notices {
    /// Tells something; `now` is the window's clock, s.
    pub fn tell(&mut self, notice: Notice, now: f64) {
        if self.list.len() == KEPT {
            self.list.remove(0);
        }
        self.list.push(notice);
        self.toast_since = Some(now);
    }

    /// Everything told, oldest first.
    pub fn list(&self) -> &[Notice] {
        &self.list
    }

    /// Puts the toast away.
    pub fn dismiss(&mut self) {
        self.toast_since = None;
    }

    /// The toast to show, and after how many seconds it fades by itself.
    pub fn toast(&mut self, now: f64) -> Option<(Notice, Option<f64>)> {
        let since = self.toast_since?;
        let newest = self.list.last()?.clone();
        let left = match newest.weight {
            Weight::Problem => return Some((newest, None)),
            Weight::Done => DONE_SECONDS - (now - since),
        };
        if left <= 0.0 {
            self.toast_since = None;
            return None;
        }
        Some((newest, Some(left)))
    }
}

impl Notice {
    /// Something went as asked.
    pub fn done(summary: impl Into<String>) -> Self {
        Self {
            weight: Weight::Done,
            summary: summary.into(),
            details: String::new(),
        }
    }

    /// Something could not be done.
    pub fn problem(summary: impl Into<String>, details: impl Into<String>) -> Self {
        Self {
            weight: Weight::Problem,
            summary: summary.into(),
            details: details.into(),
        }
    }
}

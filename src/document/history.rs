//! Undo and redo, with a word for every step.
//!
//! In: what is edited as it stands, a label for what is being changed, the time. Out: the same as it
//! was, and what was undone.
//!
//! What is edited is a project or a year. A dragged slider makes a new one on every frame. A point is
//! taken when the change has come to rest: the pointer is released, or nothing has moved for
//! [`REST_S`], or at the latest after [`LONGEST_S`] of moving. What is added, removed or balanced takes its point at once.
//! Not here: any clock; the caller says what time it is, in seconds from any start.
//!
//! Tested by: `tests/document/history.rs`, `tests/window/year.rs`.

use std::collections::VecDeque;

use super::Project;

/// Most steps that can be taken back.
pub const DEPTH: usize = 200;
/// A change that has not moved for so long has come to rest, s.
pub const REST_S: f64 = 1.0;
/// A change that never rests takes a point so often, s.
pub const LONGEST_S: f64 = 30.0;

/// What is edited and the label of the change that leads away from it.
#[derive(Debug, Clone)]
struct UndoPoint<T> {
    state: T,
    label: String,
}

/// A change under way.
#[derive(Debug, Clone)]
struct Moving<T> {
    latest: T,
    label: String,
    since_s: f64,
    moved_s: f64,
}

/// The steps behind and before the present.
#[derive(Debug, Clone)]
pub struct History<T = Project> {
    past: VecDeque<UndoPoint<T>>,
    future: Vec<UndoPoint<T>>,
    present: T,
    moving: Option<Moving<T>>,
}

impl<T: Clone + PartialEq> History<T> {
    /// A history that begins here.
    pub fn new(state: &T) -> Self {
        Self {
            past: VecDeque::new(),
            future: Vec::new(),
            present: state.clone(),
            moving: None,
        }
    }

    /// Looks at what is edited, to be called on every frame.
    ///
    /// `label` names what is being changed and stays the same while one thing is held; another label
    /// closes the step before it. `settled` says that nothing is being held.
    pub fn note(&mut self, state: &T, label: &str, now_s: f64, settled: bool) {
        if self
            .moving
            .as_ref()
            .is_some_and(|moving| moving.label != label && moving.latest != *state)
        {
            self.close();
        }
        if *state == self.present {
            self.moving = None;
            return;
        }
        match &mut self.moving {
            Some(moving) if moving.latest == *state => {}
            Some(moving) => {
                moving.latest.clone_from(state);
                moving.moved_s = now_s;
            }
            None => {
                self.moving = Some(Moving {
                    latest: state.clone(),
                    label: label.to_owned(),
                    since_s: now_s,
                    moved_s: now_s,
                });
            }
        }
        let due = self.moving.as_ref().is_some_and(|moving| {
            settled || now_s - moving.moved_s >= REST_S || now_s - moving.since_s >= LONGEST_S
        });
        if due {
            self.close();
        }
    }

    /// Takes a point at once: something was added, removed, balanced or replaced.
    ///
    /// A change that was under way keeps its own point before it.
    pub fn record(&mut self, state: &T, label: &str) {
        self.close();
        self.step(state, label);
    }

    /// The state one step back, and what that step was. What is still moving is a step of its own,
    /// so a redo brings it back.
    pub fn undo(&mut self, current: &T) -> Option<(T, String)> {
        self.catch_up(current);
        let UndoPoint { state, label } = self.past.pop_back()?;
        let left = std::mem::replace(&mut self.present, state);
        self.future.push(UndoPoint {
            state: left,
            label: label.clone(),
        });
        Some((self.present.clone(), label))
    }

    /// The state one step forward again, and what that step is; `None` after any other change.
    pub fn redo(&mut self, current: &T) -> Option<(T, String)> {
        self.catch_up(current);
        let UndoPoint { state, label } = self.future.pop()?;
        let left = std::mem::replace(&mut self.present, state);
        self.past.push_back(UndoPoint {
            state: left,
            label: label.clone(),
        });
        Some((self.present.clone(), label))
    }

    /// What an undo would take back.
    pub fn undo_label(&self) -> Option<&str> {
        let moving = self.moving.as_ref().map(|moving| moving.label.as_str());
        moving.or_else(|| self.past.back().map(|point| point.label.as_str()))
    }

    /// What a redo would bring back.
    pub fn redo_label(&self) -> Option<&str> {
        if self.moving.is_some() {
            return None;
        }
        self.future.last().map(|point| point.label.as_str())
    }

    /// Records what the state has come to, if it is not recorded yet.
    fn catch_up(&mut self, current: &T) {
        let label = match self.moving.take() {
            Some(moving) => moving.label,
            None => "change".to_owned(),
        };
        self.step(current, &label);
    }

    /// Records the change under way.
    fn close(&mut self) {
        if let Some(moving) = self.moving.take() {
            self.step(&moving.latest, &moving.label);
        }
    }

    /// One step from the present to `state`, if they differ. What was undone cannot be redone then.
    fn step(&mut self, state: &T, label: &str) {
        if *state == self.present {
            return;
        }
        let left = std::mem::replace(&mut self.present, state.clone());
        self.past.push_back(UndoPoint {
            state: left,
            label: label.to_owned(),
        });
        if self.past.len() > DEPTH {
            self.past.pop_front();
        }
        self.future.clear();
    }
}

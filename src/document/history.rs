//! Undo and redo, with a word for every step.
//!
//! In: the project as it stands, a label for what is being changed, the time. Out: the project as it
//! was, and what was undone.
//!
//! A dragged slider makes a new project on every frame. A point is taken when the change has come to
//! rest: the pointer is released, or nothing has moved for [`REST_S`], or at the latest after
//! [`LONGEST_S`] of moving. What is added, removed or balanced takes its point at once.
//! Not here: any clock; the caller says what time it is, in seconds from any start.
//!
//! Tested by: `tests/document/history.rs`.

use std::collections::VecDeque;

use super::Project;

/// Most steps that can be taken back.
pub const DEPTH: usize = 200;
/// A change that has not moved for so long has come to rest, s.
pub const REST_S: f64 = 1.0;
/// A change that never rests takes a point so often, s.
pub const LONGEST_S: f64 = 30.0;

/// A project and the label of the change that leads away from it.
#[derive(Debug, Clone)]
struct UndoPoint {
    project: Project,
    label: String,
}

/// A change under way.
#[derive(Debug, Clone)]
struct Moving {
    latest: Project,
    label: String,
    since_s: f64,
    moved_s: f64,
}

/// The steps behind and before the present.
#[derive(Debug, Clone)]
pub struct History {
    past: VecDeque<UndoPoint>,
    future: Vec<UndoPoint>,
    present: Project,
    moving: Option<Moving>,
}

impl History {
    /// A history that begins here.
    pub fn new(project: &Project) -> Self {
        Self {
            past: VecDeque::new(),
            future: Vec::new(),
            present: project.clone(),
            moving: None,
        }
    }

    /// Looks at the project, to be called on every frame.
    ///
    /// `label` names what is being changed and stays the same while one thing is held; another label
    /// closes the step before it. `settled` says that nothing is being held.
    pub fn note(&mut self, project: &Project, label: &str, now_s: f64, settled: bool) {
        if self
            .moving
            .as_ref()
            .is_some_and(|moving| moving.label != label && moving.latest != *project)
        {
            self.close();
        }
        if *project == self.present {
            self.moving = None;
            return;
        }
        match &mut self.moving {
            Some(moving) if moving.latest == *project => {}
            Some(moving) => {
                moving.latest.clone_from(project);
                moving.moved_s = now_s;
            }
            None => {
                self.moving = Some(Moving {
                    latest: project.clone(),
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
    pub fn record(&mut self, project: &Project, label: &str) {
        self.close();
        self.step(project, label);
    }

    /// The project one step back, and what that step was. What is still moving is a step of its own,
    /// so a redo brings it back.
    pub fn undo(&mut self, current: &Project) -> Option<(Project, String)> {
        self.catch_up(current);
        let UndoPoint { project, label } = self.past.pop_back()?;
        let left = std::mem::replace(&mut self.present, project);
        self.future.push(UndoPoint {
            project: left,
            label: label.clone(),
        });
        Some((self.present.clone(), label))
    }

    /// The project one step forward again, and what that step is; `None` after any other change.
    pub fn redo(&mut self, current: &Project) -> Option<(Project, String)> {
        self.catch_up(current);
        let UndoPoint { project, label } = self.future.pop()?;
        let left = std::mem::replace(&mut self.present, project);
        self.past.push_back(UndoPoint {
            project: left,
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

    /// Records what the project has come to, if it is not recorded yet.
    fn catch_up(&mut self, current: &Project) {
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

    /// One step from the present to `project`, if they differ. What was undone cannot be redone then.
    fn step(&mut self, project: &Project, label: &str) {
        if *project == self.present {
            return;
        }
        let left = std::mem::replace(&mut self.present, project.clone());
        self.past.push_back(UndoPoint {
            project: left,
            label: label.to_owned(),
        });
        if self.past.len() > DEPTH {
            self.past.pop_front();
        }
        self.future.clear();
    }
}

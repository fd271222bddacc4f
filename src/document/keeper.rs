//! Unsaved work kept on a clock of its own, whether or not anything is drawn.
//!
//! In: the newest work with each change. Out: a kept copy a second after the last change and at most two
//! seconds after the first that is not kept yet; a problem, once.
//!
//! A thread writes; handing work over never waits for a disk. Whoever must go at once (a signal, a lost
//! display) has what is not written yet written by a [`Rescue`].
//! Not here: the place on the disk (`recovery`), what counts as unsaved (the window).
//!
//! Tested by: `tests/document/keeper.rs`, `tests/window/files.rs`.

use std::io;
use std::path::{Path, PathBuf};
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError};
use std::thread::Builder;
use std::time::{Duration, Instant};

use super::recovery::{Recovery, note_open};
use super::{FileError, Project, Stamp};

/// Unsaved work with the file it belongs to.
#[derive(Debug, Clone)]
pub struct Work {
    /// The project as it stands.
    pub project: Arc<Project>,
    /// The file it came from; `None` if it was never saved.
    pub original: Option<PathBuf>,
    /// What that file held.
    pub stamp: Option<Stamp>,
}

/// How soon work is kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Pace {
    /// After a change that no other follows.
    pub rest: Duration,
    /// After the first of changes that follow each other, and between tries while the disk refuses.
    pub longest: Duration,
}

impl Pace {
    /// As a person at the window has it.
    pub const USUAL: Self = Self {
        rest: Duration::from_secs(1),
        longest: Duration::from_secs(2),
    };
}

/// What lies on the desk between window and thread.
#[derive(Default)]
struct Desk {
    newest: Option<Work>,
    /// First change since the last writing.
    first: Option<Instant>,
    /// When to write.
    due: Option<Instant>,
    problem: Option<FileError>,
    /// Whether the last writing was refused, which is told once.
    refused: bool,
    ended: bool,
}

struct Shared {
    pace: Pace,
    /// Locked before the desk, never after it. `None` once it was given up.
    place: Mutex<Option<Recovery>>,
    desk: Mutex<Desk>,
    changed: Condvar,
}

/// Keeps the work of one window.
///
/// Dropping it writes what is not written yet and leaves it in place; [`Keeper::finish`] ends it in order.
pub struct Keeper {
    shared: Arc<Shared>,
    lock_path: PathBuf,
    work_path: PathBuf,
}

/// Writes what is not written yet, from any thread, while the program is about to end.
pub struct Rescue(Arc<Shared>);

/// A lock that a broken thread has left is as good as any: every value behind one is whole at all times.
fn locked<T>(mutex: &Mutex<T>) -> MutexGuard<'_, T> {
    mutex.lock().unwrap_or_else(PoisonError::into_inner)
}

impl Keeper {
    /// Begins to keep work in this place.
    ///
    /// # Errors
    /// When the system has no thread to give.
    pub fn start(place: Recovery, pace: Pace) -> io::Result<Self> {
        let (lock_path, work_path) = (place.lock_path(), place.work_path());
        let shared = Arc::new(Shared {
            pace,
            place: Mutex::new(Some(place)),
            desk: Mutex::default(),
            changed: Condvar::new(),
        });
        let for_thread = Arc::clone(&shared);
        Builder::new()
            .name("keeper".to_owned())
            .spawn(move || for_thread.write_when_due())?;
        Ok(Self {
            shared,
            lock_path,
            work_path,
        })
    }

    /// Takes over the newest work, to be kept soon. Never waits for a disk.
    pub fn hand(&self, work: Work) {
        let now = Instant::now();
        let mut desk = locked(&self.shared.desk);
        let first = *desk.first.get_or_insert(now);
        let pace = self.shared.pace;
        desk.due = Some((now + pace.rest).min(first + pace.longest));
        desk.newest = Some(work);
        self.shared.changed.notify_one();
    }

    /// Takes over the newest work and keeps it before it returns.
    ///
    /// # Errors
    /// [`FileError`] if the system refuses; what was kept before is still there.
    pub fn keep_now(&self, work: Work) -> Result<(), FileError> {
        self.hand(work);
        self.shared.write()
    }

    /// Forgets the work: everything is saved, or given up on purpose.
    ///
    /// # Errors
    /// [`FileError`] if the system refuses.
    pub fn forget(&self) -> Result<(), FileError> {
        let place = locked(&self.shared.place);
        locked(&self.shared.desk).forget();
        place.as_ref().map_or(Ok(()), Recovery::clear)
    }

    /// Why the work could not be kept; said once until it can be again.
    pub fn problem(&self) -> Option<FileError> {
        locked(&self.shared.desk).problem.take()
    }

    /// Notes which file is open, so that another window on it can say so.
    pub fn note_open(&self, path: Option<&Path>) {
        note_open(&self.lock_path, path);
    }

    /// Where unsaved work stands while there is any.
    pub fn work_path(&self) -> PathBuf {
        self.work_path.clone()
    }

    /// A way to write at the last moment.
    pub fn rescue(&self) -> Rescue {
        Rescue(Arc::clone(&self.shared))
    }

    /// Ends in order: nothing is left to recover.
    ///
    /// # Errors
    /// [`FileError`] if the system refuses.
    pub fn finish(self) -> Result<(), FileError> {
        self.shared.give_up()
    }
}

impl Drop for Keeper {
    fn drop(&mut self) {
        // Whoever drops it without an end has nobody left to tell.
        let _ = self.shared.write();
        // Gives the lock back, so that the next program is offered the work.
        drop(locked(&self.shared.place).take());
        locked(&self.shared.desk).ended = true;
        self.shared.changed.notify_one();
    }
}

impl Rescue {
    /// Writes what is not written yet; where there is no unsaved work, gives the place up.
    ///
    /// # Errors
    /// [`FileError`] if the system refuses.
    pub fn run(&self) -> Result<(), FileError> {
        let unsaved = locked(&self.0.desk).newest.is_some();
        if unsaved {
            self.0.write()
        } else {
            self.0.give_up()
        }
    }
}

impl Desk {
    fn forget(&mut self) {
        self.newest = None;
        self.first = None;
        self.due = None;
    }
}

impl Shared {
    /// The thread's round: sleeps until work is due, writes it.
    fn write_when_due(&self) {
        let mut desk = locked(&self.desk);
        while !desk.ended {
            let now = Instant::now();
            desk = match desk.due {
                None => self
                    .changed
                    .wait(desk)
                    .unwrap_or_else(PoisonError::into_inner),
                Some(due) if due > now => {
                    let woken = self.changed.wait_timeout(desk, due - now);
                    woken.unwrap_or_else(PoisonError::into_inner).0
                }
                Some(_) => {
                    drop(desk);
                    // Told by the desk.
                    let _ = self.write();
                    locked(&self.desk)
                }
            };
        }
    }

    /// Writes the newest work if it is not written yet.
    fn write(&self) -> Result<(), FileError> {
        let place = locked(&self.place);
        let (Some(place), Some(work)) = (place.as_ref(), self.take_due()) else {
            return Ok(());
        };
        let done = place.keep(&work.project, work.original.as_deref(), work.stamp.as_ref());
        let mut desk = locked(&self.desk);
        if let Err(problem) = &done {
            let now = Instant::now();
            desk.first.get_or_insert(now);
            desk.due.get_or_insert(now + self.pace.longest);
            if !desk.refused {
                desk.problem = Some(problem.clone());
            }
        }
        desk.refused = done.is_err();
        done
    }

    /// The newest work, unless it is written.
    fn take_due(&self) -> Option<Work> {
        let mut desk = locked(&self.desk);
        desk.due.take()?;
        desk.first = None;
        desk.newest.clone()
    }

    /// Forgets the work and gives the place up.
    fn give_up(&self) -> Result<(), FileError> {
        let place = locked(&self.place).take();
        let mut desk = locked(&self.desk);
        desk.forget();
        desk.ended = true;
        self.changed.notify_one();
        drop(desk);
        place.map_or(Ok(()), Recovery::finish)
    }
}

//! What a person has chosen once for all projects: units, theme, recent files, how the window was left.
//!
//! In: the config folder. Out: settings, and a notice if they had to be replaced by the usual ones.
//!
//! Settings of an older or newer program are read as far as they are known.
//! Not here: anything that belongs to one project (`Project`).
//!
//! Tested by: `tests/document/library.rs`.

use std::fs::{self, File, TryLockError};
use std::io;
use std::path::{Path, PathBuf};
use std::time::Duration;

use serde::{Deserialize, Serialize};

use super::error::{Doing, FileError};
use super::{Folders, file, parse, reading, writing};
use crate::quantity::UnitSystem;

/// Most recent files that are remembered.
pub const RECENT_LIMIT: usize = 10;
/// Least and greatest length of a window, points.
const WINDOW_LEAST: f32 = 200.0;
const WINDOW_MOST: f32 = 16_384.0;
/// Least and greatest zoom, as the window crate allows it.
const ZOOM_LEAST: f32 = 0.2;
const ZOOM_MOST: f32 = 5.0;
/// Name of the settings file.
const FILE_NAME: &str = "settings.ron";
/// Name of the file that is locked while they are written.
const LOCK_NAME: &str = "settings.lock";
/// How often it is tried.
const LOCK_TRIES: u32 = 50;
/// How long between tries.
const LOCK_PAUSE: Duration = Duration::from_millis(20);

/// How the window looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum ThemeChoice {
    /// Dark on light.
    Light,
    /// Light on dark.
    Dark,
    /// Black on white, with strong outlines.
    Contrast,
    /// As the desktop has it.
    #[default]
    System,
}

/// How the window was left, for the next start.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Layout {
    /// Width and height of the window, points at zoom 1; `None`: as it comes.
    pub size: Option<(f32, f32)>,
    /// Whether it filled the screen.
    pub maximised: bool,
    /// How large everything was drawn; `None`: as it comes.
    pub zoom: Option<f32>,
    /// Name of the view that was shown; empty: the first.
    pub view: String,
}

impl Layout {
    /// Width and height, if they are those of a window.
    pub fn size(&self) -> Option<(f32, f32)> {
        let fits = |length: f32| (WINDOW_LEAST..=WINDOW_MOST).contains(&length);
        self.size
            .filter(|(width, height)| fits(*width) && fits(*height))
    }

    /// How large everything is drawn.
    pub fn zoom(&self) -> f32 {
        let zoom = self.zoom.filter(|zoom| zoom.is_finite());
        zoom.map_or(1.0, |zoom| zoom.clamp(ZOOM_LEAST, ZOOM_MOST))
    }
}

/// What a person has chosen.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(default)]
pub struct Settings {
    /// Units on screen.
    pub units: UnitSystem,
    /// Look of the window.
    pub theme: ThemeChoice,
    /// Whether needles jump instead of moving.
    pub less_motion: bool,
    /// How the window was left.
    pub layout: Layout,
    /// Files opened or saved, the latest first, at most [`RECENT_LIMIT`].
    pub recent: Vec<PathBuf>,
    /// The year last opened or saved.
    pub year: Option<PathBuf>,
}

/// Settings as they were found.
#[derive(Debug, Clone, PartialEq)]
pub struct Loaded {
    /// The settings, or the usual ones.
    pub settings: Settings,
    /// Why they are the usual ones, if the file could not be used.
    pub problem: Option<FileError>,
}

impl Settings {
    /// Reads the settings. A missing file gives the usual ones; a damaged one as well, with what is wrong.
    pub fn load(folders: &Folders) -> Loaded {
        let path = path_in(folders);
        let read = reading::content_of(&path).and_then(|content| {
            let text = reading::text_of(&content, &path)?;
            parse::value::<Self>(text, &path)
        });
        match read {
            Ok(mut settings) => {
                settings.tidy();
                Loaded {
                    settings,
                    problem: None,
                }
            }
            Err(FileError::Missing { .. }) => Loaded {
                settings: Self::default(),
                problem: None,
            },
            Err(problem) => Loaded {
                settings: Self::default(),
                problem: Some(problem),
            },
        }
    }

    /// Writes the settings. Files whose path is not Unicode are left out.
    ///
    /// # Errors
    /// [`FileError`] if the system refuses; the old settings are still there.
    pub fn save(&self, folders: &Folders) -> Result<(), FileError> {
        create_folder(folders)?;
        let path = path_in(folders);
        let mut plain = self.clone();
        plain.recent.retain(|path| path.to_str().is_some());
        plain.year = plain.year.filter(|path| path.to_str().is_some());
        writing::replace(&path, file::to_text(&plain, &path)?.as_bytes())
    }

    /// Writes what was changed since `known` was read or written, and leaves what another window has changed as it
    /// is; what stands there then comes back.
    ///
    /// # Errors
    /// [`FileError`] if the system refuses; the old settings are still there.
    pub fn save_changes(&self, known: &Self, folders: &Folders) -> Result<Self, FileError> {
        create_folder(folders)?;
        let _held = hold(folders);
        let stands = match Self::load(folders) {
            Loaded {
                settings,
                problem: None,
            } if path_in(folders).exists() => self.merged(known, settings),
            // Where nothing can be read there is nothing to keep.
            _ => self.clone(),
        };
        stands.save(folders)?;
        Ok(stands)
    }

    /// Another window's settings with what was changed here since `known`.
    fn merged(&self, known: &Self, theirs: Self) -> Self {
        let mut recent = theirs.recent;
        recent.retain(|path| self.recent.contains(path) || !known.recent.contains(path));
        let first = self
            .recent
            .first()
            .filter(|_| self.recent.first() != known.recent.first());
        let remembered = |path: &&PathBuf| first == Some(*path) || !known.recent.contains(path);
        let mut newest: Vec<PathBuf> = self.recent.iter().filter(remembered).cloned().collect();
        newest.append(&mut recent);
        let mut merged = Self {
            units: ours(self.units, &known.units, theirs.units),
            theme: ours(self.theme, &known.theme, theirs.theme),
            less_motion: ours(self.less_motion, &known.less_motion, theirs.less_motion),
            layout: ours(self.layout.clone(), &known.layout, theirs.layout),
            recent: newest,
            year: ours(self.year.clone(), &known.year, theirs.year),
        };
        merged.tidy();
        merged
    }

    /// Puts a file first among the recent ones.
    pub fn remember(&mut self, path: &Path) {
        self.recent.insert(0, path.to_owned());
        self.tidy();
    }

    /// Takes a file out of the recent ones.
    pub fn forget(&mut self, path: &Path) {
        self.recent.retain(|known| known != path);
    }

    /// Leaves each recent file once, with its whole path, and no more than the limit.
    fn tidy(&mut self) {
        let mut kept: Vec<PathBuf> = Vec::with_capacity(RECENT_LIMIT);
        for path in self.recent.drain(..) {
            // Where a path that depends on the folder the program started in would lead today, nobody knows.
            if kept.len() < RECENT_LIMIT && path.is_absolute() && !kept.contains(&path) {
                kept.push(path);
            }
        }
        self.recent = kept;
    }
}

/// What was changed here, else what another window has.
fn ours<T: PartialEq>(here: T, known: &T, theirs: T) -> T {
    if here == *known { theirs } else { here }
}

fn create_folder(folders: &Folders) -> Result<(), FileError> {
    fs::create_dir_all(&folders.config)
        .map_err(|err: io::Error| FileError::system(Doing::Writing, &err, &folders.config))
}

/// Holds the settings against other windows until it is dropped. A disk without locks, or a window that does not let
/// go within a second, is passed by: what is lost then is a choice, not work.
fn hold(folders: &Folders) -> Option<File> {
    let path = folders.config.join(LOCK_NAME);
    // A pipe would be waited for.
    if fs::metadata(&path).is_ok_and(|metadata| !metadata.is_file()) {
        return None;
    }
    let lock = File::options()
        .write(true)
        .create(true)
        .truncate(false)
        .open(path)
        .ok()?;
    for _ in 0..LOCK_TRIES {
        match lock.try_lock() {
            Ok(()) => return Some(lock),
            Err(TryLockError::WouldBlock) => std::thread::sleep(LOCK_PAUSE),
            Err(TryLockError::Error(_)) => return None,
        }
    }
    None
}

/// Where the settings stand.
fn path_in(folders: &Folders) -> PathBuf {
    folders.config.join(FILE_NAME)
}

//! What a person has chosen once for all projects: units, theme, recent files.
//!
//! In: the config folder. Out: settings, and a notice if they had to be replaced by the usual ones.
//!
//! Settings of an older or newer program are read as far as they are known.
//! Not here: anything that belongs to one project (`Project`).
//!
//! Tested by: `tests/document/library.rs`.

use std::fs;
use std::io;
use std::path::{Path, PathBuf};

use serde::{Deserialize, Serialize};

use super::error::{Doing, FileError};
use super::{Folders, file, parse};
use crate::quantity::UnitSystem;

/// Most recent files that are remembered.
pub const RECENT_LIMIT: usize = 10;
/// Name of the settings file.
const FILE_NAME: &str = "settings.ron";

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
        let read = file::content_of(&path).and_then(|content| {
            let text = file::text_of(&content, &path)?;
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
        fs::create_dir_all(&folders.config)
            .map_err(|err: io::Error| FileError::system(Doing::Writing, &err, &folders.config))?;
        let path = path_in(folders);
        let mut plain = self.clone();
        plain.recent.retain(|path| path.to_str().is_some());
        plain.year = plain.year.filter(|path| path.to_str().is_some());
        file::replace(&path, file::to_text(&plain, &path)?.as_bytes())
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

    /// Leaves each recent file once, and no more than the limit.
    fn tidy(&mut self) {
        let mut kept: Vec<PathBuf> = Vec::with_capacity(RECENT_LIMIT);
        for path in self.recent.drain(..) {
            if kept.len() < RECENT_LIMIT && !kept.contains(&path) {
                kept.push(path);
            }
        }
        self.recent = kept;
    }
}

/// Where the settings stand.
fn path_in(folders: &Folders) -> PathBuf {
    folders.config.join(FILE_NAME)
}

//! The folders of one person: working data, settings, kept recipes.
//!
//! In: the operating system's answer, or folders named by the caller. Out: three paths.
//!
//! Everything deeper down is handed a [`Folders`]; nothing else asks the environment.
//! Not here: what lies in them (`recovery`, `settings`, `library`).
//!
//! Tested by: `tests/document/library.rs`, `tests/document/recovery.rs`.

use std::path::{Path, PathBuf};

/// Name of the recipe folder inside the documents of a person.
const RECIPES: &str = "Heapwright recipes";
/// Name of the folder of own materials inside that.
const MATERIALS: &str = "Materials";
/// Name of the folder of recipes that were put away, inside the working data.
const BIN: &str = "bin";

/// Where a person's files are. None of the three needs to exist yet.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Folders {
    /// Unsaved work of running and crashed programs.
    pub data: PathBuf,
    /// Settings and recent files.
    pub config: PathBuf,
    /// Kept recipes.
    pub recipes: PathBuf,
}

impl Folders {
    /// The folders of the person at the keyboard; `None` where the system knows no home.
    pub fn of_user() -> Option<Self> {
        let own = directories::ProjectDirs::from("", "", "heapwright")?;
        let user = directories::UserDirs::new()?;
        let documents = user.document_dir().unwrap_or_else(|| user.home_dir());
        Some(Self {
            data: own.data_dir().to_owned(),
            config: own.config_dir().to_owned(),
            recipes: documents.join(RECIPES),
        })
    }

    /// Where own materials are kept for every recipe.
    pub fn materials(&self) -> PathBuf {
        self.recipes.join(MATERIALS)
    }

    /// Where recipes lie that were put away, until they are brought back.
    pub fn bin(&self) -> PathBuf {
        self.data.join(BIN)
    }

    /// The same three below one folder, as on a stick or in a trial.
    pub fn under(root: &Path) -> Self {
        Self {
            data: root.join("data"),
            config: root.join("config"),
            recipes: root.join(RECIPES),
        }
    }
}

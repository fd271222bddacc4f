//! Where the open recipe comes from and what of it is saved.
//!
//! In: nothing. Out: [`Store`], the facts that `files` works with.
//!
//! Not here: opening and saving (`files`).
//!
//! Tested by: `tests/window/files.rs`.

use std::path::PathBuf;
use std::sync::Arc;
use std::time::SystemTime;

use crate::document::keeper::Keeper;
use crate::document::recovery::Leftover;
use crate::document::{Folders, Layout, Project, Settings, Stamp};

use crate::window::jobs::dialog::FileDialog;
use crate::window::piles::choices::Next;

/// Files and folders of one window.
pub struct Store {
    /// The person's folders; `None` where the system knows no home.
    pub folders: Option<Folders>,
    /// File of the open recipe.
    pub path: Option<PathBuf>,
    /// What that file held.
    pub stamp: Option<Stamp>,
    /// The recipe as last saved or opened; `None` if it was never saved.
    pub saved: Option<Project>,
    /// The system's file dialog.
    pub dialog: FileDialog,
    /// Keeps unsaved work.
    pub keeper: Option<Keeper>,
    /// The recipe as last handed to it; `None` while nothing is unsaved.
    pub handed: Option<Arc<Project>>,
    /// What the file held when its person did not want it loaded again.
    pub declined: Option<Stamp>,
    /// Length and time of the file when it was last looked at.
    pub looked_at: Option<(u64, SystemTime)>,
    /// Whether the window had the keyboard in the frame before.
    pub had_focus: bool,
    /// Unsaved work of earlier runs, not yet decided on.
    pub leftovers: Vec<Leftover>,
    /// What to do once the recipe is saved.
    pub after_save: Option<Next>,
    /// How the window stands.
    pub layout: Layout,
    /// Settings as last written.
    pub written_settings: Settings,
}

impl Store {
    /// A store that knows only folders and a dialog.
    pub fn new(folders: Option<Folders>, dialog: FileDialog) -> Self {
        Self {
            folders,
            path: None,
            stamp: None,
            saved: None,
            dialog,
            keeper: None,
            handed: None,
            declined: None,
            looked_at: None,
            had_focus: true,
            leftovers: Vec::new(),
            after_save: None,
            layout: Layout::default(),
            written_settings: Settings::default(),
        }
    }
}

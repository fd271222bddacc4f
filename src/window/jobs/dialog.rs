//! The desktop's file dialog, asked in a thread of its own so that the window never waits for it.
//!
//! In: a request. Out: a path, "cancelled", or "nothing was shown" (an answer that came too soon for
//! anyone to have seen a dialog).
//!
//! The only file that names `rfd`.
//!
//! Not here: what is done with a path (`verbs::files`).
//!
//! Tested by: `tests/window/files.rs`.

use std::path::PathBuf;
use std::sync::Arc;
use std::time::{Duration, Instant};

use crate::document::year::YEAR_EXTENSION;
use crate::text::error::no_dialog;

use crate::window::jobs::job::{Job, Told};

/// An empty answer sooner than this was given by no person.
const NOTHING_SHOWN: Duration = Duration::from_millis(250);
/// After so long without an answer another way is offered, s.
const OFFER_AFTER_S: f64 = 3.0;

/// What recipes and years are called in the dialog's list of kinds.
const KEPT: &str = "Heapwright file";

/// What a path is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PathUse {
    /// A file to open.
    Open,
    /// A file to save to.
    Save,
    /// A year to open.
    OpenYear,
    /// A file to save the year to.
    SaveYear,
    /// A file of a logger.
    Readings,
    /// A file for the handout.
    Handout,
    /// A file for a picture of the curve.
    CurvePicture,
    /// A file for a picture of the inside.
    InsidePicture,
    /// A file for the dates.
    Calendar,
    /// A file for the page of the year.
    YearPage,
    /// A file for the dates of the year.
    YearCalendar,
}

impl PathUse {
    /// What stands over the dialog.
    pub fn title(self) -> &'static str {
        match self {
            Self::Open => "Open a recipe",
            Self::Save => "Save the recipe",
            Self::Readings => "Choose the file of a logger",
            Self::Handout => "Write the handout",
            Self::CurvePicture | Self::InsidePicture => "Write the picture",
            Self::Calendar | Self::YearCalendar => "Save the dates",
            Self::OpenYear => "Open a year",
            Self::SaveYear => "Save the year",
            Self::YearPage => "Write the page",
        }
    }

    /// How the name of a file of the year ends; `None` for what is none of the year's.
    pub fn of_year(self) -> Option<&'static str> {
        match self {
            Self::OpenYear | Self::SaveYear => Some(YEAR_EXTENSION),
            Self::YearPage => Some(".pdf"),
            Self::YearCalendar => Some(".ics"),
            _ => None,
        }
    }

    /// How the name of what is written ends, where it is not a recipe.
    pub fn ending(self) -> Option<&'static str> {
        match self {
            Self::Open | Self::Save | Self::OpenYear | Self::SaveYear | Self::Readings => None,
            Self::Handout | Self::YearPage => Some("pdf"),
            Self::CurvePicture | Self::InsidePicture => Some("png"),
            Self::Calendar | Self::YearCalendar => Some("ics"),
        }
    }
}

/// What to ask for.
#[derive(Debug, Clone, PartialEq)]
pub struct DialogRequest {
    /// To open or to save.
    pub purpose: PathUse,
    /// Where to begin.
    pub folder: Option<PathBuf>,
    /// Name to suggest.
    pub name: String,
}

/// A way to ask for a path; blocks until there is an answer.
pub type Ask = Arc<dyn Fn(&DialogRequest) -> Option<PathBuf> + Send + Sync>;

/// How a request ended.
#[derive(Debug, Clone, PartialEq)]
pub enum DialogAnswer {
    /// A path was chosen.
    Chosen(PathUse, PathBuf),
    /// The person changed their mind.
    Cancelled(PathUse),
    /// No dialog could be shown.
    NothingShown(PathUse),
}

struct Waiting {
    purpose: PathUse,
    since_s: f64,
    job: Job<(Option<PathBuf>, Duration)>,
}

/// At most one open dialog.
pub struct FileDialog {
    ask: Ask,
    waiting: Option<Waiting>,
}

impl FileDialog {
    /// A dialog that asks in this way.
    pub fn new(ask: Ask) -> Self {
        Self { ask, waiting: None }
    }

    /// Opens it, unless one is open; `wake` is called once there is an answer.
    ///
    /// # Errors
    /// A sentence if the system grants no thread.
    pub fn open(
        &mut self,
        request: DialogRequest,
        now_s: f64,
        wake: impl Fn() + Send + Sync + 'static,
    ) -> Result<(), String> {
        if self.waiting.is_some() {
            return Ok(());
        }
        let ask = Arc::clone(&self.ask);
        let purpose = request.purpose;
        let job = Job::start("file dialog", wake, move |teller| {
            let begun = Instant::now();
            let path = ask(&request);
            teller.tell((path, begun.elapsed()));
        })
        .map_err(|err| no_dialog(&err))?;
        self.waiting = Some(Waiting {
            purpose,
            since_s: now_s,
            job,
        });
        Ok(())
    }

    /// Whether one is open.
    pub fn is_open(&self) -> bool {
        self.waiting.is_some()
    }

    /// Whether it has been open so long that another way should be offered.
    pub fn is_slow(&self, now_s: f64) -> bool {
        self.waiting
            .as_ref()
            .is_some_and(|waiting| now_s - waiting.since_s >= OFFER_AFTER_S)
    }

    /// Stops listening; what it was for.
    pub fn abandon(&mut self) -> Option<PathUse> {
        self.waiting.take().map(|waiting| waiting.purpose)
    }

    /// The answer, once there is one.
    pub fn poll(&mut self) -> Option<DialogAnswer> {
        let waiting = self.waiting.as_mut()?;
        let purpose = waiting.purpose;
        let answer = match waiting.job.poll().into_iter().next()? {
            Told::News((Some(path), _)) => DialogAnswer::Chosen(purpose, path),
            Told::News((None, took)) if took >= NOTHING_SHOWN => DialogAnswer::Cancelled(purpose),
            // Nobody has seen a dialog that answers at once or breaks down.
            Told::News((None, _)) | Told::Done | Told::Broken(_) => {
                DialogAnswer::NothingShown(purpose)
            }
        };
        self.waiting = None;
        Some(answer)
    }
}

/// The desktop's own dialog.
pub fn desktop() -> Ask {
    Arc::new(|request: &DialogRequest| {
        let purpose = request.purpose;
        let mut dialog = rfd::FileDialog::new().set_title(purpose.title());
        if let Some(folder) = &request.folder {
            dialog = dialog.set_directory(folder);
        }
        match (purpose.ending(), purpose) {
            (Some(ending), _) => dialog
                .add_filter(ending.to_uppercase(), &[ending])
                .set_file_name(&request.name)
                .save_file(),
            (None, PathUse::Readings) => dialog
                .add_filter("Logger file", &["csv", "txt", "tsv", "asc"])
                .add_filter("All files", &["*"])
                .pick_file(),
            (None, PathUse::Open | PathUse::OpenYear) => {
                dialog.add_filter(KEPT, &["ron"]).pick_file()
            }
            (None, _) => dialog
                .add_filter(KEPT, &["ron"])
                .set_file_name(&request.name)
                .save_file(),
        }
    })
}

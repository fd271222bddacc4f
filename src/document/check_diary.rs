//! Whether a diary can be: its texts here, its numbers in `diary`.
//!
//! In: a diary. Out: nothing, or the first thing that cannot be, with its entry and a remedy.
//!
//! Not here: the rest of a project (`check`).
//!
//! Tested by: `tests/document/diary.rs`.

use super::check::{CheckError, REMARK_LIMIT, length, named, without_control};
use crate::diary::Diary;

/// Longest path or link of a photograph, characters.
pub const PHOTO_LIMIT: usize = 1_000;

/// Checks every text and every number of a diary.
pub(super) fn check_diary(diary: &Diary) -> Result<(), CheckError> {
    diary.check().map_err(CheckError::Diary)?;
    for (entry, reading) in (1..).zip(&diary.readings) {
        length(
            &format!("the note on reading {entry}"),
            &reading.note,
            REMARK_LIMIT,
        )?;
        let photo = format!("the photo of reading {entry}");
        length(&photo, &reading.photo, PHOTO_LIMIT)?;
        without_control(&photo, &reading.photo)?;
    }
    for (entry, log) in (1..).zip(&diary.logs) {
        named(&format!("the name of probe {entry}"), &log.name)?;
    }
    Ok(())
}

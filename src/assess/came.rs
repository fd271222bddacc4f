//! What came of a recipe: what its diary says, or else what is projected.
//!
//! In: a project with everything calculated of it. Out: [`Came`].
//!
//! Not here: what the diary teaches (`learning`), words (`text::recipes`).
//!
//! Tested by: `tests/document/assess.rs`.

use jiff::civil::DateTime;

use crate::diary::Diary;
use crate::document::Project;
use crate::outcome::finish::Finish;

use super::assessed::Assessed;

/// What came of a recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct Came {
    /// What was read of the heap that was built of it; `None`: none was.
    pub read: Option<WasRead>,
    /// Highest projected temperature of the centre, degC, and its day; `None` where nothing would rot.
    pub peak: Option<(f64, f64)>,
    /// When it is done, field tests counted.
    pub finish: Option<Finish>,
}

/// What was read of a heap.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct WasRead {
    /// When it was built.
    pub built: DateTime,
    /// The highest temperature read anywhere in it, degC, and its day.
    pub hottest: Option<(f64, f64)>,
}

impl WasRead {
    /// What a diary says of a heap that stands.
    pub fn of(diary: &Diary) -> Option<Self> {
        let by_hand = diary.readings.iter().filter_map(|reading| {
            let day = diary.day_of(reading.at)?;
            Some((reading.temperature_c?, day))
        });
        let logged = diary.logs.iter().flat_map(|log| {
            let all = log.temperatures_c.iter();
            all.map(|(day, celsius)| (*celsius, *day))
        });
        // What a probe showed before the heap was built is no temperature of it.
        let all = by_hand.chain(logged).filter(|(_, day)| *day >= 0.0);
        Some(Self {
            built: diary.built?,
            hottest: all.max_by(|a, b| a.0.total_cmp(&b.0)),
        })
    }
}

impl Came {
    /// What came of a project.
    pub fn of(project: &Project, assessed: &Assessed) -> Self {
        let summary = assessed.projection.as_ref().map(|it| it.summary);
        Self {
            read: WasRead::of(&project.diary),
            peak: summary.map(|it| (it.peak_c, it.peak_day)),
            finish: assessed.outcome.as_ref().map(|it| it.finish.clone()),
        }
    }
}

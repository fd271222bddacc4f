//! The axis that the moments of a file are counted on, in ms: of UTC where a zone is named, else of the clock as written.
//!
//! In: moments as rows give them. Out: ms, and back the local time at the heap.
//!
//! A local time that comes twice, on the night daylight saving ends, is the one that follows the row before; one that
//! no clock showed is read by the offset before the change, as RFC 5545 (3.3.5) has it.
//! Not here: reading a cell (`moment`).
//!
//! Tested by: `tests/document/logger.rs`.

use jiff::Timestamp;
use jiff::civil::DateTime;
use jiff::tz::{AmbiguousOffset, TimeZone};

/// ms in an hour.
pub(super) const HOUR_MS: i64 = 3_600_000;
/// ms in a day.
pub(super) const DAY_MS: i64 = 24 * HOUR_MS;

/// A moment as a row gives it.
pub(super) enum Given {
    /// By a local clock.
    Local(DateTime),
    /// By an offset from UTC, ms.
    Instant(Timestamp, i64),
}

/// ms from 1970 to a local time, as if it were UTC's.
pub(super) fn ms_of(local: DateTime) -> Option<i64> {
    let instant = TimeZone::UTC.to_timestamp(local).ok()?;
    Some(instant.as_millisecond())
}

/// The axis that moments are counted on.
pub(super) struct Axis {
    zone: Option<TimeZone>,
    /// Of the first row that bears an offset, ms.
    shift_ms: Option<i64>,
    newest_first: bool,
    twice: (usize, Option<i64>),
    skipped: (usize, Option<i64>),
}

impl Axis {
    pub fn new(zone: Option<TimeZone>, newest_first: bool) -> Self {
        Self {
            zone,
            shift_ms: None,
            newest_first,
            twice: (0, None),
            skipped: (0, None),
        }
    }

    /// Whether the newest row stands first.
    pub fn newest_first(&self) -> bool {
        self.newest_first
    }

    /// Rows with a local time that comes twice: how many, and the first.
    pub fn twice(&self) -> (usize, Option<i64>) {
        self.twice
    }

    /// Rows with a local time that no clock showed: how many, and the first.
    pub fn skipped(&self) -> (usize, Option<i64>) {
        self.skipped
    }

    /// A place on the axis as the clock at the heap shows it.
    pub(super) fn local(&self, at_ms: i64) -> DateTime {
        let instant = Timestamp::from_millisecond(at_ms).unwrap_or(Timestamp::UNIX_EPOCH);
        match &self.zone {
            Some(zone) => zone.to_datetime(instant),
            None => TimeZone::UTC.to_datetime(instant),
        }
    }

    /// Where the day on which the heap was built lies.
    pub fn of_built(&self, built: DateTime) -> Option<i64> {
        match &self.zone {
            Some(zone) => {
                let instant = zone.to_ambiguous_timestamp(built).compatible().ok()?;
                Some(instant.as_millisecond())
            }
            None => ms_of(built),
        }
    }

    /// Where a moment lies; of a local time that comes twice, the one that follows `last`.
    pub fn place(&mut self, given: &Given, last: Option<i64>) -> Option<i64> {
        match (given, &self.zone) {
            (Given::Instant(instant, _), Some(_)) => Some(instant.as_millisecond()),
            (Given::Instant(instant, offset_ms), None) => {
                let shift = *self.shift_ms.get_or_insert(*offset_ms);
                instant.as_millisecond().checked_add(shift)
            }
            (Given::Local(local), None) => ms_of(*local),
            (Given::Local(local), Some(zone)) => {
                let both = zone.to_ambiguous_timestamp(*local);
                let usual = both.compatible().ok()?.as_millisecond();
                match both.offset() {
                    AmbiguousOffset::Unambiguous { .. } => Some(usual),
                    AmbiguousOffset::Gap { .. } => {
                        self.skipped.0 += 1;
                        self.skipped.1.get_or_insert(usual);
                        Some(usual)
                    }
                    AmbiguousOffset::Fold { .. } => {
                        let later = both.later().ok()?.as_millisecond();
                        self.twice.0 += 1;
                        self.twice.1.get_or_insert(usual);
                        let chosen = match (last, self.newest_first) {
                            (Some(last), false) if usual <= last => later,
                            (Some(last), true) if later >= last => usual,
                            (_, true) => later,
                            (_, false) => usual,
                        };
                        Some(chosen)
                    }
                }
            }
        }
    }
}

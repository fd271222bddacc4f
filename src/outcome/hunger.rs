//! Whether a heap is short of nitrogen, and whether that alone keeps it from heating.
//!
//! In: a projection, the sums of its mix. Out: [`Hunger`], if any.
//!
//! Short is what the gauge of C:N calls too brown. It starves where that heap does not stay hot for a week and nothing
//! else that keeps a heap cold is found in it.
//!
//! Not here: words (`text::outcome`), other troubles (`smell`).
//!
//! Tested by: `tests/science/exchange.rs`.

use crate::heap::Projection;
use crate::mix::{Totals, bands};

use super::smell::{Cause, TroubleKind, causes};

/// A heap that stays hot for less than this is called cold again at once, d (common practice: a right heap stays above
/// 40 degC for weeks).
const SOON_COLD_DAYS: f64 = 7.0;

/// How far a heap lacks nitrogen.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hunger {
    /// It has less than it could use.
    Short,
    /// For want of it, it does not get hot, or is soon cold again.
    Starves,
}

impl Hunger {
    /// What this heap lacks; `None` for one with enough.
    pub fn of(projection: &Projection, totals: &Totals) -> Option<Self> {
        if totals.cn() <= bands::CN.works.1 {
            return None;
        }
        let days = projection.summary.days_above_40;
        let why = causes(TroubleKind::Cold, totals, projection);
        let alone = matches!(why.as_slice(), [Cause::Lean { .. }]);
        Some(if alone && days < SOON_COLD_DAYS {
            Self::Starves
        } else {
            Self::Short
        })
    }
}

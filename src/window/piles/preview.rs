//! A balance that waits to be taken or left.
//!
//! In: the solver's answer and the mix it belongs to. Out: [`Preview`]: the mix it would be, step by step.
//!
//! Not here: the solver (`mix::balance`), drawing (`balance_panel`).
//!
//! Tested by: `tests/window/balance.rs`.

use crate::mix::balance::{BalanceStep, Balanced, Reached, WayOut};
use crate::mix::{Gauges, Mix};

/// A balance that waits to be taken or left.
#[derive(Debug, Clone, PartialEq)]
pub struct Preview {
    /// The answer.
    pub balanced: Balanced,
    /// The way out that is looked at, by its place.
    pub way: Option<usize>,
    /// The mix and the room, m3, it belongs to.
    pub of: (Mix, Option<f64>),
}

impl Preview {
    /// The way out that is looked at.
    fn chosen_way(&self) -> Option<&WayOut> {
        match &self.balanced.verdict {
            Reached::Nearest { ways_out, .. } => ways_out.get(self.way?),
            _ => None,
        }
    }

    /// The mix it would be.
    pub fn mix(&self) -> &Mix {
        self.chosen_way().map_or(&self.balanced.mix, |way| &way.mix)
    }

    /// What would be done.
    pub fn steps(&self) -> &[BalanceStep] {
        self.chosen_way()
            .map_or(&self.balanced.steps, |way| &way.steps)
    }

    /// Where the gauges would stand.
    pub fn gauges(&self) -> Option<&Gauges> {
        let after = self
            .chosen_way()
            .map_or(&self.balanced.after, |way| &way.after);
        after.gauges.as_ref()
    }
}

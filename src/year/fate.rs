//! What became of each arrival: used, spoiled, left.
//!
//! In: the arrivals, what the heaps use. Out: a [`Fate`] for each arrival.
//!
//! The oldest is used first. `arrived = used + spoiled + left`, for every arrival.
//! Not here: which heap uses what (`dealt`).
//!
//! Tested by: `tests/science/year.rs`.

use std::collections::VecDeque;

use super::MONTHS;
use super::dealt::Use;
use super::task::Stuff;

/// What became of an arrival, in its measure, by months of the plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Fate {
    /// What arrived.
    pub arrived: [f64; MONTHS],
    /// What was put into heaps.
    pub used: [f64; MONTHS],
    /// What spoiled.
    pub spoiled: [f64; MONTHS],
    /// What is left at the end and still good.
    pub left: f64,
    /// What is kept at the end of each month because a heap will use it.
    pub waits: [f64; MONTHS],
}

/// What became of an arrival of which so much arrives, in measures.
pub(super) fn fate<'a>(
    stuff: &Stuff,
    arrived: [f64; MONTHS],
    uses: impl Iterator<Item = &'a Use>,
) -> Fate {
    let mut used = [0.0; MONTHS];
    for it in uses {
        used[it.month] += it.measures;
    }
    let mut spoiled = [0.0; MONTHS];
    let mut lots: VecDeque<(usize, f64)> = VecDeque::new();
    for month in 0..MONTHS {
        lots.push_back((month, arrived[month]));
        let mut wanted = used[month];
        for (_, lot) in &mut lots {
            let taken = wanted.min(*lot);
            *lot -= taken;
            wanted -= taken;
        }
        while let Some((since, lot)) = lots.front().copied() {
            if since + stuff.lasts_months > month {
                break;
            }
            spoiled[month] += lot;
            lots.pop_front();
        }
    }
    let mut waits = [0.0; MONTHS];
    for month in (0..MONTHS - 1).rev() {
        let next = month + 1;
        let lacking: f64 = waits[next] + used[next] - arrived[next];
        waits[month] = lacking.max(0.0);
    }
    Fate {
        arrived,
        used,
        spoiled,
        // An empty sum is minus nothing.
        left: lots.iter().map(|(_, lot)| lot).sum::<f64>() + 0.0,
        waits,
    }
}

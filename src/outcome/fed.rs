//! Fed bit by bit against saved up and built at once, from the same sums.
//!
//! In: a heap whose plan adds material, the sums of it. Out: peak and warm days of both ways, and what makes the
//! difference: how much quick food is there at one time, and how large the heap is when it is warmest.
//!
//! Not here: the simulation, which is handed in (`heap::run`), words (`text::fed`).
//!
//! Tested by: `tests/science/fed.rs`.

use crate::heap::{Addition, Heap, Operation, Projection};
use crate::mix::Totals;

/// Fewest times that something is added for a heap to be fed.
const FED_FROM_TIMES: usize = 2;
/// Days that are looked at after the last portion (tuned: in them a heap that lights has been hot).
const AFTER_LAST_DAYS: f64 = 60.0;
/// Days of a year.
const YEAR_DAYS: f64 = 365.0;

/// How one way went.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Way {
    /// Highest temperature of the centre, degC.
    pub peak_c: f64,
    /// Time of the centre at or above 40 degC, d.
    pub days_above_40: f64,
    /// Volume when the centre is warmest, m3.
    pub volume_m3: f64,
    /// Most carbon in quick food that is there at one time, kg.
    pub quick_food_kg: f64,
}

impl Way {
    fn of(projection: &Projection) -> Self {
        let summary = projection.summary;
        let warmest = projection.at(summary.peak_day);
        let quick = projection.records.iter().map(|it| it.left.pools_kg[0]);
        Self {
            peak_c: summary.peak_c,
            days_above_40: summary.days_above_40,
            volume_m3: warmest.map_or(0.0, |record| record.volume_m3),
            quick_food_kg: quick.fold(0.0, f64::max),
        }
    }
}

/// Both ways.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FedOrSaved {
    /// Fed as planned.
    pub fed: Way,
    /// Built at once of the same, on the day of the last portion.
    pub saved: Way,
    /// That day, as a day of the year of the start; may lie past its end.
    pub built_on: f64,
}

/// Simulates both ways; `None` where the plan adds less than twice, or a run is not possible.
///
/// Both run equally long: to sixty days after the last portion, or as long as the heap's forecast. What else the plan does
/// is done on the same days after building.
pub fn fed_or_saved(
    totals: &Totals,
    additions: &[Addition],
    heap: &Heap,
    run: impl Fn(&Totals, &[Addition], &Heap) -> Option<Projection>,
) -> Option<FedOrSaved> {
    let adds = |operation: &Operation| matches!(operation, Operation::Add { .. });
    let order = heap.plan.in_order();
    let days: Vec<f64> = order
        .iter()
        .filter(|due| adds(due.operation))
        .map(|due| due.day)
        .collect();
    let last = *days.last().filter(|_| days.len() >= FED_FROM_TIMES)?;
    let mut fed = heap.clone();
    fed.days = heap.days.max(last + AFTER_LAST_DAYS);
    let mut saved = fed.clone();
    saved.plan.events.retain(|event| !adds(&event.operation));
    let built_on = heap.start_day_of_year + last;
    saved.start_day_of_year = 1.0 + (built_on - 1.0).rem_euclid(YEAR_DAYS);
    let whole = heap.plan.whole(totals, additions);
    Some(FedOrSaved {
        fed: Way::of(&run(totals, additions, &fed)?),
        saved: Way::of(&run(&whole, &[], &saved)?),
        built_on,
    })
}

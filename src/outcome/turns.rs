//! What each further turning buys, from the simulation and beside it from probability.
//!
//! In: a heap, its additions, a timetable of turnings, what counts as enough. Out: one row a turning.
//!
//! The column of the formula takes the share treated without any turning as the hot share of every spell
//! and mixes at random: `(1 - h)^(n + 1)` is left untreated after n turnings.
//!
//! Not here: which timetable is best (`forecast::plan_search`).
//!
//! Tested by: `tests/science/outcome.rs`.

use crate::heap::{Addition, Event, Heap, Moment, Operation, Plan, Projection, Turning};

use super::kill::{KillTable, SEEDS, untreated_by_random_mixing};

/// When a heap is turned.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Timetable {
    /// Day of the first turning.
    pub first_day: f64,
    /// Days from one to the next.
    pub every_days: f64,
    /// How many.
    pub count: usize,
    /// How many waterings without turning, on the same days.
    pub waterings: usize,
    /// How.
    pub turning: Turning,
    /// Moisture to wet to while turning or watering, wet basis.
    pub wet_to: Option<f64>,
}

impl Timetable {
    /// The days on which something is done.
    pub fn days(&self) -> impl Iterator<Item = f64> + '_ {
        let most = self.count.max(self.waterings);
        (0..most).map(|place| self.first_day + self.every_days * place as f64)
    }

    /// As entries of a plan: turnings first, waterings on days that are left.
    pub fn events(&self) -> Vec<Event> {
        let operation = |place: usize| match self.wet_to {
            Some(wet_to) if place >= self.count => Some(Operation::Water { wet_to }),
            wet_to if place < self.count => Some(Operation::Turn {
                turning: self.turning,
                wet_to,
            }),
            _ => None,
        };
        self.days()
            .enumerate()
            .filter_map(|(place, day)| {
                Some(Event {
                    repeat: None,
                    day,
                    operation: operation(place)?,
                })
            })
            .collect()
    }
}

/// A heap whose turnings are to be others.
#[derive(Debug, Clone, Copy)]
pub struct Planned<'a> {
    /// The heap with its plan.
    pub heap: &'a Heap,
    /// Sums of what the plan adds.
    pub additions: &'a [Addition],
    /// First day that is still open; `None`: it does not stand yet.
    pub from_day: Option<f64>,
}

/// The heap with its turnings and waterings that are still to come replaced by these entries; covers, additions and
/// what lies in the past stay. Gives back the additions with their places in the new plan.
pub fn replanned(planned: Planned<'_>, with: &[Event]) -> (Heap, Vec<Addition>) {
    let Planned {
        heap,
        additions,
        from_day,
    } = planned;
    let mut events: Vec<Event> = Vec::with_capacity(with.len() + heap.plan.events.len());
    let mut moved = Vec::with_capacity(additions.len());
    for (place, event) in heap.plan.events.iter().enumerate() {
        let Some(kept) = event.kept_beside(from_day) else {
            continue;
        };
        let own = additions.iter().find(|(of, _)| *of == place);
        moved.extend(own.map(|(_, totals)| (events.len(), *totals)));
        events.push(kept);
    }
    events.extend_from_slice(with);
    let plan = Plan { events };
    (
        Heap {
            plan,
            ..heap.clone()
        },
        moved,
    )
}

/// Courses of all parcels of a projection, or of every so-many-th.
pub fn courses(projection: &Projection, every: usize) -> Vec<Vec<Moment>> {
    projection
        .parcels
        .iter()
        .step_by(every.max(1))
        .map(|parcel| projection.parcel_course(parcel))
        .collect()
}

/// Share of the heap that gets the heat which kills ordinary seeds, 0-1; `None` where the table has no such class.
pub fn seeds_treated(projection: &Projection, kill: &KillTable) -> Option<f64> {
    let class = kill.plants().find(|class| class.id == SEEDS)?;
    Some(class.share(&courses(projection, 1), kill.moisture_floor))
}

/// What a number of turnings comes to.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TurnRow {
    /// How many turnings.
    pub turnings: usize,
    /// Share of the heap that had enough, simulated, 0-1.
    pub treated: f64,
    /// Share left untreated by random mixing at every turning, 0-1.
    pub untreated_by_formula: f64,
}

/// One row for no turning, one, two and so on up to the timetable's count; fewer where a run is not possible.
///
/// `enough` gives the share of equal parcels that had enough; `run` simulates a heap with its additions.
pub fn further_turnings(
    planned: Planned<'_>,
    timetable: &Timetable,
    enough: impl Fn(&[Vec<Moment>]) -> f64,
    run: impl Fn(&Heap, &[Addition]) -> Option<Projection>,
) -> Vec<TurnRow> {
    turn_rows(timetable, |table| {
        let (heap, additions) = replanned(planned, &table.events());
        Some(enough(&courses(&run(&heap, &additions)?, 1)))
    })
}

/// The same where the share treated of each shorter timetable is known; rows end with the first that is not.
pub fn turn_rows(
    timetable: &Timetable,
    treated: impl Fn(&Timetable) -> Option<f64>,
) -> Vec<TurnRow> {
    let mut rows: Vec<TurnRow> = Vec::with_capacity(timetable.count + 1);
    for count in 0..=timetable.count {
        let table = Timetable {
            count,
            ..*timetable
        };
        let Some(treated) = treated(&table) else {
            break;
        };
        let hot = rows.first().map_or(treated, |first| first.treated);
        rows.push(TurnRow {
            turnings: count,
            treated,
            untreated_by_formula: untreated_by_random_mixing(hot, count as u32 + 1),
        });
    }
    rows
}

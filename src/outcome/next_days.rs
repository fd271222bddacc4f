//! The next days: when to turn, water, probe, let it cure and test, as a short list.
//!
//! In: a projection, the heap's plan, its finish and troubles, which day it is today. Out: [`NextDay`]s, typed, by day
//! since the heap was built; at most [`MOST`], one for each day, none before today.
//!
//! What is planned stands as it is. A turning is proposed where the centre falls below 45 degC and what is left would
//! still heat itself, or where it passes 65 degC; only the next one, since after it the projection is another one, and
//! none where the plan turns within days. Watering likewise, where the heap dries below its band. Days of fitness are
//! those of the finish with its field tests.
//!
//! Not here: dates of the calendar (`assess::schedule`), words (`text::next_days`), which plan is best
//! (`forecast::plan_search`).
//!
//! Tested by: `tests/science/next_days.rs`.

use crate::heap::{Kinetics, Occurrence, Operation, Placing, Plan, Projection, Record};
use crate::mix::bands;

use super::curing::Verdict;
use super::finish::{Finish, FinishTable};
use super::flask::flask;
use super::headline::smells;
use super::smell::{Trouble, TroubleKind};

/// Most entries of a list.
pub const MOST: usize = 12;
/// Turned where the centre falls below this, degC (Cornell Composting, Compost Physics: rot is fastest at 40 to 60 degC;
/// troubleshooting tables of Cornell, NC State and BioCycle: turn and wet it each time the core cools; 45 leaves a margin
/// to 40, `common practice`).
pub const TURN_BELOW_C: f64 = 45.0;
/// Turned where the centre passes this, degC (Cornell Composting, Compost Physics: managers stay below about 65 degC).
pub const TURN_ABOVE_C: f64 = 65.0;
/// What is left heats itself again after a turning if its flask rises by more than this, K (self-heating class III and
/// worse is still active; class lines from memory).
pub const HEATS_AGAIN_K: f64 = 20.0;
/// Watered where the mean moisture falls below this, wet basis (lower end of what works, The Composting Handbook 2022).
pub const WATER_BELOW: f64 = bands::MOISTURE.works.0;
/// An operation of the plan so many days after a proposed one takes its place, d (`common practice`).
const PLANNED_SOON_DAYS: f64 = 4.0;
/// One so many days before it still works, d: the dip and the rise after turning take a day or two (a windrow of city
/// refuse rises again within hours, abstract read; `common practice` for garden heaps).
const PLANNED_JUST_DAYS: f64 = 2.0;
/// A fall is one if the centre stays below for so long, d (`common practice`).
const STAYS_DAYS: f64 = 2.0;
/// A probe is due once the centre has changed by this, K (a thermometer's error twice, `common practice`).
const PROBE_EVERY_K: f64 = 5.0;
/// Least and most days between probes of a warm heap (`common practice`: daily while it heats, else every few days).
const PROBE_DAYS: (f64, f64) = (1.0, 5.0);
/// A heap is warm from here, degC (usual lower end of the hot phase).
const WARM_C: f64 = 40.0;
/// A heap that never gets warm is probed for so long, d (`common practice`: after three weeks it will not).
const WATCHED_DAYS: f64 = 21.0;

/// Why a turning is proposed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TurnFor {
    /// The centre cools and what is left would heat again.
    Cooling,
    /// The centre gets too hot.
    TooHot,
}

/// What is due.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Due {
    /// The heap is built.
    Build,
    /// An operation of the plan, by its place in the plan's list.
    Planned(usize),
    /// A turning that is not in the plan.
    Turn {
        /// Why.
        why: TurnFor,
        /// Whether it is wetted as well.
        wet: bool,
    },
    /// A watering that is not in the plan.
    Water,
    /// A smell is to be looked for.
    CheckSmell(TroubleKind),
    /// The hot stage is over: sieved or moved, it is left to cure.
    Cure,
    /// A field test.
    FieldTest,
    /// Fit to dig in, or as mulch alone.
    FitToDigIn {
        /// Whether it may be dug in.
        digs_in: bool,
        /// Whether that is sooner than such heaps are usually given.
        soon: bool,
    },
    /// Fit for seedlings and pots.
    FitForPots {
        /// Whether that is sooner than such heaps are usually given.
        soon: bool,
    },
    /// The temperature is read.
    Probe,
}

impl Due {
    /// A short name that never changes, for what must find an entry again.
    pub fn id(self) -> &'static str {
        match self {
            Self::Build => "build",
            Self::Planned(_) => "planned",
            Self::Turn { .. } => "turn",
            Self::Water => "water",
            Self::CheckSmell(_) => "smell",
            Self::Cure => "cure",
            Self::FieldTest => "test",
            Self::FitToDigIn { .. } => "dig-in",
            Self::FitForPots { .. } => "pots",
            Self::Probe => "probe",
        }
    }

    /// What goes first where there is too much: milestones, then work, then probes.
    fn rank(self) -> u8 {
        match self {
            Self::Build
            | Self::Cure
            | Self::FieldTest
            | Self::FitToDigIn { .. }
            | Self::FitForPots { .. } => 0,
            Self::Planned(_) | Self::Turn { .. } | Self::Water | Self::CheckSmell(_) => 1,
            Self::Probe => 2,
        }
    }
}

/// What is due on a day.
#[derive(Debug, Clone, PartialEq)]
pub struct NextDay {
    /// Calendar days after the one on which the heap is built.
    pub day: u32,
    /// What is due, the first the most telling; never empty.
    pub due: Vec<Due>,
    /// Which of its kind the first of them is, counted from the building of the heap, from 1.
    pub nth: usize,
}

/// What the list is made from.
#[derive(Debug, Clone, Copy)]
pub struct Ahead<'a> {
    /// What would become of the heap: the projection, or the likeliest of what readings leave.
    pub projection: &'a Projection,
    /// What is planned.
    pub plan: &'a Plan,
    /// When it is done, field tests counted.
    pub finish: &'a Finish,
    /// The table that was judged by.
    pub table: &'a FinishTable,
    /// Troubles found.
    pub troubles: &'a [Trouble],
    /// Rates of rot that were simulated with.
    pub kinetics: &'a Kinetics,
    /// Today, in calendar days after the one on which the heap was built; `None` if it does not stand yet.
    pub today: Option<u32>,
    /// Time of the day at which it was built, 0-1.
    pub built_at: f64,
}

/// The list, earliest first.
pub fn next_days(ahead: &Ahead<'_>) -> Vec<NextDay> {
    let mut all = ahead.planned();
    all.extend(ahead.work());
    all.extend(ahead.milestones());
    let probes = ahead.probes(&all);
    all.extend(probes);
    ahead.listed(all)
}

/// Something due, with its day since the heap was built and which of its kind it is.
type Found = (f64, Due, usize);

impl Ahead<'_> {
    /// First day that is listed, d since the heap was built.
    fn first_day(&self) -> f64 {
        f64::from(self.today.unwrap_or(0))
    }

    fn events(&self, wanted: fn(&Operation) -> bool) -> impl Iterator<Item = Occurrence<'_>> {
        let all = self.plan.in_order().into_iter();
        all.filter(move |due| wanted(due.operation))
    }

    /// Whether the plan does such a thing just before a day or soon after it.
    fn is_planned_about(&self, day: f64, wanted: fn(&Operation) -> bool) -> bool {
        let about = (day - PLANNED_JUST_DAYS)..=(day + PLANNED_SOON_DAYS);
        self.events(wanted).any(|event| about.contains(&event.day))
    }

    fn planned(&self) -> Vec<Found> {
        let build = self.today.is_none().then_some((0.0, Due::Build, 1));
        let order = self.plan.in_order().into_iter().zip(1..);
        let events = order.map(|(due, nth)| (due.day, Due::Planned(due.entry), nth));
        build.into_iter().chain(events).collect()
    }

    /// Turning and watering that the plan does not hold, the next of each.
    fn work(&self) -> Vec<Found> {
        let turn = self.turning();
        let water = self.watering();
        match (turn, water) {
            (Some((day, Due::Turn { why, .. }, nth)), Some((dry, ..)))
                if (day - dry).abs() <= PLANNED_SOON_DAYS =>
            {
                vec![(day, Due::Turn { why, wet: true }, nth)]
            }
            (turn, water) => turn.into_iter().chain(water).collect(),
        }
    }

    fn turning(&self) -> Option<Found> {
        let records = &self.projection.records;
        let mut found: Vec<(f64, TurnFor)> = Vec::new();
        for pair in records.windows(2) {
            let (before, now) = (pair[0].centre_c, pair[1].centre_c);
            if before <= TURN_ABOVE_C && now > TURN_ABOVE_C {
                found.push((pair[1].day, TurnFor::TooHot));
            }
            if before >= TURN_BELOW_C && now < TURN_BELOW_C && self.stays_below(&pair[1]) {
                found.push((pair[1].day, TurnFor::Cooling));
            }
        }
        self.next(found, |record, why| match why {
            TurnFor::TooHot => record.centre_c > TURN_ABOVE_C,
            TurnFor::Cooling => {
                record.centre_c < TURN_BELOW_C
                    && flask(record, self.kinetics).rise_k > HEATS_AGAIN_K
            }
        })
        .filter(|(day, ..)| !self.is_planned_about(*day, turns))
        .map(|(day, why, nth)| (day, Due::Turn { why, wet: false }, nth))
    }

    /// Whether the centre stays below after a record, and not only for the dip of a turning.
    fn stays_below(&self, record: &Record) -> bool {
        let until = record.day + STAYS_DAYS;
        let mut after = self.projection.records.iter();
        after.all(|it| it.day < record.day || it.day > until || it.centre_c < TURN_BELOW_C)
    }

    /// The first crossing that is still ahead, or the last one if it is behind and still holds: then it is due today.
    fn next<T: Copy>(
        &self,
        found: Vec<(f64, T)>,
        holds: impl Fn(&Record, T) -> bool,
    ) -> Option<(f64, T, usize)> {
        let from = self.first_day();
        let numbered = || {
            found
                .iter()
                .zip(1..)
                .map(|((day, what), nth)| (*day, *what, nth))
        };
        let overdue = numbered().filter(|(day, ..)| *day < from).last();
        let overdue = overdue.filter(|(_, what, _)| {
            let now = self.projection.at(from);
            now.is_some_and(|record| holds(record, *what)) && from <= self.last_day()
        });
        let ahead = || {
            numbered().find(|(day, what, _)| {
                let then = self.projection.at(*day);
                *day >= from && then.is_some_and(|record| holds(record, *what))
            })
        };
        overdue
            .map(|(_, what, nth)| (from, what, nth))
            .or_else(ahead)
    }

    fn watering(&self) -> Option<Found> {
        let mut before_dry = false;
        let mut found = Vec::new();
        for record in &self.projection.records {
            let dry = record.moisture < WATER_BELOW;
            if dry && !before_dry {
                found.push((record.day, ()));
            }
            before_dry = dry;
        }
        let rots = |day: f64| self.finish.pots_day().is_none_or(|end| day < end);
        self.next(found, |record, ()| record.moisture < WATER_BELOW)
            .filter(|(day, ..)| rots(*day) && !self.is_planned_about(*day, wets))
            .map(|(day, (), nth)| (day, Due::Water, nth))
    }

    fn last_day(&self) -> f64 {
        self.projection
            .records
            .last()
            .map_or(0.0, |record| record.day)
    }

    /// Smells, curing, tests, and the two ends.
    fn milestones(&self) -> Vec<Found> {
        let (finish, from) = (self.finish, self.first_day());
        let mut all: Vec<Found> = Vec::new();
        let smelling = self.troubles.iter().filter(|it| smells(it.kind));
        for (trouble, nth) in smelling.zip(1..) {
            if trouble.days.1 >= from {
                all.push((trouble.days.0.max(from), Due::CheckSmell(trouble.kind), nth));
            }
        }
        if finish.leaves && !finish.curing.stops() {
            // Leaves by themselves become leafmould, of which practice tells years and not days.
            return all;
        }
        let worked = self.events(|it| turns(it) || matches!(it, Operation::Add { .. }));
        let worked = worked.map(|event| event.day + 1.0).fold(0.0, f64::max);
        let hot = finish.hot_until_day.filter(|day| *day < self.last_day());
        all.extend(hot.map(|day| (day.max(worked), Due::Cure, 1)));
        let dig_in = finish.dig_in_day();
        all.extend(dig_in.map(|day| {
            let (digs_in, soon) = (finish.digs_in, finish.is_soon(day));
            (day, Due::FitToDigIn { digs_in, soon }, 1)
        }));
        let pots = finish.pots_day();
        all.extend(pots.map(|day| {
            let soon = finish.is_soon(day);
            (day, Due::FitForPots { soon }, 1)
        }));
        let curing = &finish.curing;
        let test = match (curing.pots, curing.dig_in) {
            (Verdict::Stopped(seen), _) | (_, Verdict::Stopped(seen)) => Some(
                curing
                    .counts_from
                    .max(seen.day + self.table.curing_days)
                    .max(from),
            ),
            (Verdict::Projected, _) => pots,
            (Verdict::Confirmed(_) | Verdict::ByTests(_), _) => None,
        };
        all.extend(test.map(|day| (day, Due::FieldTest, 1)));
        all
    }

    /// Readings while it is warm, the closer the faster the centre changes; none beside a turning, before which it is
    /// read anyway.
    fn probes(&self, others: &[Found]) -> Vec<Found> {
        let until = match self.finish.hot_until_day {
            Some(day) => day + PROBE_DAYS.1,
            None => WATCHED_DAYS,
        };
        let until = until.min(self.last_day());
        let turned = |day: f64| {
            others.iter().any(|(at, due, _)| {
                let turns = match due {
                    Due::Turn { .. } => true,
                    Due::Planned(place) => {
                        let event = self.plan.events.get(*place);
                        event.is_some_and(|event| turns(&event.operation))
                    }
                    _ => false,
                };
                turns && (at.floor() - day.floor()).abs() < 2.0
            })
        };
        let mut all = Vec::new();
        let (mut day, mut nth) = (1.0, 0);
        while day <= until {
            nth += 1;
            if !turned(day) {
                all.push((day, Due::Probe, nth));
            }
            day += self.probe_after(day);
        }
        all
    }

    /// Days until the next probe: those in which the centre changes by a reading's worth.
    fn probe_after(&self, day: f64) -> f64 {
        let (least, most) = PROBE_DAYS;
        let centre = |day: f64| {
            self.projection
                .at(day)
                .map_or(0.0, |record| record.centre_c)
        };
        let now = centre(day);
        let mut after = least;
        while after < most && (centre(day + after) - now).abs() < PROBE_EVERY_K {
            after += 1.0;
        }
        let still_cool = now < WARM_C && self.finish.hot_until_day.is_none();
        if still_cool {
            after.max(0.5 * most).ceil()
        } else {
            after
        }
    }

    /// One entry a day, from today on, at most so many.
    fn listed(&self, found: Vec<Found>) -> Vec<NextDay> {
        let today = self.today.unwrap_or(0);
        let calendar_day = |day: f64| (day + self.built_at).floor().max(0.0) as u32;
        let mut found: Vec<(u32, Due, usize)> = found
            .into_iter()
            .map(|(day, due, nth)| (calendar_day(day), due, nth))
            .filter(|(day, ..)| *day >= today)
            .collect();
        found.sort_by_key(|(day, due, nth)| (*day, due.rank(), *nth));
        let mut days: Vec<NextDay> = Vec::new();
        for (day, due, nth) in found {
            match days.last_mut().filter(|last| last.day == day) {
                // Whoever is at the heap reads it anyway.
                Some(_) if due == Due::Probe => {}
                Some(last) => last.due.push(due),
                None => days.push(NextDay {
                    day,
                    due: vec![due],
                    nth,
                }),
            }
        }
        days.sort_by_key(|it| (it.due.first().map_or(u8::MAX, |due| due.rank()), it.day));
        days.truncate(MOST);
        days.sort_by_key(|it| it.day);
        days
    }
}

fn turns(operation: &Operation) -> bool {
    let mixed_in = |placing: &Placing| *placing == Placing::MixedIn;
    match operation {
        Operation::Turn { .. } => true,
        Operation::Add { placing, .. } => mixed_in(placing),
        Operation::Water { .. } | Operation::Pour { .. } | Operation::Cover(_) => false,
    }
}

fn wets(operation: &Operation) -> bool {
    operation.waters()
        || matches!(
            operation,
            Operation::Turn {
                wet_to: Some(_),
                ..
            }
        )
}

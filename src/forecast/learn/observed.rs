//! What a diary says, as values that a member can be held against.
//!
//! In: a [`Diary`], the heap it belongs to. Out: [`Observations`]: one value for each half day, kind and place, and what is
//! kept out, with the reason.
//!
//! Values of one kind at one place are brought together half day by half day (longer where there would be more than
//! [`MOST_VALUES`]), never across an operation: their mean, at their mean time. A logger that writes every minute so comes
//! to two values a day; that these still say much the same is a matter of `errors`.
//!
//! Not here: how far a value may be wrong (`errors`).
//!
//! Tested by: `tests/science/learn.rs`.

use std::cmp::Ordering;
use std::collections::BTreeMap;

use crate::diary::{Diary, Smell, Spot, Squeeze, Wetness};
use crate::heap::Heap;
use crate::quantity::bounds;

/// Values at most; beyond, longer times are brought together.
const MOST_VALUES: usize = 240;
/// Least time that is brought together, d.
const TOGETHER_DAYS: f64 = 0.5;
/// Readings closer than this at one place are the same reading twice, d.
const ONE_MINUTE: f64 = 1.0 / 1440.0;
/// Readings nearer than this to each other, as a share of the heap, are at one place.
const ONE_PLACE: f64 = 0.05;
/// Coldest and hottest that a thermometer in a heap can show, degC: what burns is no heap any more.
const TEMPERATURE_C: (f64, f64) = (-40.0, 100.0);
/// Greatest share of oxygen of air.
const OXYGEN_MOST: f64 = 0.21;

/// What was measured.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum What {
    /// Temperature, degC.
    Temperature,
    /// Moisture by a number, wet basis, 0-1; by probe, or dried in an oven.
    Moisture {
        /// Whether it was dried in an oven.
        oven: bool,
    },
    /// Moisture by a squeeze.
    Squeezed(Squeeze),
    /// Oxygen in the pores, share of the air there.
    Oxygen,
    /// Height of the heap, m.
    Height,
    /// A smell.
    Smelt(Smell),
}

impl What {
    /// Whether it is the value of one place, or of the heap as a whole.
    pub fn has_spot(self) -> bool {
        !matches!(self, Self::Height | Self::Smelt(_))
    }

    /// Whether it is a number that can be averaged.
    pub fn is_number(self) -> bool {
        !matches!(self, Self::Squeezed(_) | Self::Smelt(_))
    }
}

/// Where in the diary something stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Source {
    /// A reading, by its place in the list.
    Reading(usize),
    /// A row of a logger's probe, by its place in both lists.
    Row {
        /// Which log.
        log: usize,
        /// Which row.
        row: usize,
    },
}

/// Why something is kept out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Why {
    /// It was measured before the heap stood.
    BeforeHeap,
    /// It was measured after the last day that is simulated.
    AfterRun,
    /// It is no number.
    NoNumber,
    /// No heap is like that.
    OutOfRange,
    /// Its place does not lie in the heap.
    NoPlace,
    /// The same was measured there less than a minute before.
    SameMinute,
}

/// Something that is kept out: the first of its kind, and how many more.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct KeptOut {
    /// Where it stands; for a log, the first such row.
    pub source: Source,
    /// What was measured; `None` where nothing of the reading can be used.
    pub what: Option<What>,
    /// Why.
    pub why: Why,
    /// How many there are; more than one only for rows of a log.
    pub count: usize,
}

/// One value.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Observation {
    /// Days since the heap was built.
    pub day: f64,
    /// Where.
    pub spot: Spot,
    /// What.
    pub what: What,
    /// The value: degC, share, m; middle of the interval of a squeeze; 1 for a smell.
    pub value: f64,
    /// The first reading or row it is made of.
    pub source: Source,
    /// How many readings or rows it is made of.
    pub count: usize,
}

impl Observation {
    /// How far it lies beyond what members say between `low` and `high`, in its unit; 0 within. A squeeze stands for all
    /// of its interval.
    pub(super) fn beyond(&self, low: f64, high: f64) -> f64 {
        let (least, most) = match self.what {
            What::Squeezed(squeeze) => squeezed(squeeze),
            _ => (self.value, self.value),
        };
        (low - most).max(least - high).max(0.0)
    }
}

/// All that can be used, in order of time, and what is kept out.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Observations {
    /// Values.
    pub values: Vec<Observation>,
    /// What is kept out.
    pub kept_out: Vec<KeptOut>,
}

/// Values of one kind at one place: kind, log (`None`: by hand), place in steps of [`ONE_PLACE`].
type Stream = (What, Option<usize>, (u32, u32));

impl Observations {
    /// What a diary says of this heap; nothing if the heap does not stand yet.
    pub fn of(diary: &Diary, heap: &Heap) -> Self {
        let mut found = Self::default();
        let mut streams: BTreeMap<Stream, Vec<Observation>> = BTreeMap::new();
        for raw in found.usable(diary, heap.days) {
            streams.entry(stream(&raw)).or_default().push(raw);
        }
        for values in streams.values_mut() {
            values.sort_by(by_time);
            found.keep_out_repeated(values);
        }
        let operations: Vec<f64> = heap.plan.in_order().iter().map(|due| due.day).collect();
        let mut together = TOGETHER_DAYS;
        loop {
            let all = streams.values();
            let brought = all.flat_map(|values| together_of(values, together, &operations));
            found.values = brought.collect();
            // Days of operations part what is brought together, so there may be no fewer.
            if found.values.len() <= MOST_VALUES || together > heap.days {
                break;
            }
            together *= 1.5;
        }
        found.values.sort_by(by_time);
        found
    }

    /// Whether nothing can be used.
    pub fn is_empty(&self) -> bool {
        self.values.is_empty()
    }

    /// Day of the last value; 0 of none.
    pub fn last_day(&self) -> f64 {
        self.values.iter().map(|o| o.day).fold(0.0, f64::max)
    }

    fn keep_out(&mut self, source: Source, what: Option<What>, why: Why) {
        let same = |other: &&mut KeptOut| match (other.source, source) {
            (Source::Row { log: a, .. }, Source::Row { log: b, .. }) => a == b && other.why == why,
            _ => false,
        };
        match self.kept_out.iter_mut().find(same) {
            Some(other) => other.count += 1,
            None => self.kept_out.push(KeptOut {
                source,
                what,
                why,
                count: 1,
            }),
        }
    }

    /// Every value that may be, one by one as it stands in the diary.
    fn usable(&mut self, diary: &Diary, run_days: f64) -> Vec<Observation> {
        let mut usable = Vec::new();
        for (place, reading) in diary.readings.iter().enumerate() {
            let source = Source::Reading(place);
            let Some(day) = diary.day_of(reading.at) else {
                continue;
            };
            if let Some(why) = when(day, run_days) {
                self.keep_out(source, None, why);
                continue;
            }
            let mut all: Vec<(What, f64)> = Vec::new();
            all.extend(reading.temperature_c.map(|t| (What::Temperature, t)));
            all.extend(reading.wetness.map(wetness));
            all.extend(reading.oxygen.map(|oxygen| (What::Oxygen, oxygen)));
            all.extend(reading.height_m.map(|height| (What::Height, height)));
            all.extend(reading.smell.map(|smell| (What::Smelt(smell), 1.0)));
            for (what, value) in all {
                let spot = reading.spot;
                let placed = !what.has_spot() || spot.check().is_ok();
                match range_fault(what, value).or((!placed).then_some(Why::NoPlace)) {
                    Some(why) => self.keep_out(source, Some(what), why),
                    None => usable.push(Observation {
                        day,
                        spot,
                        what,
                        value,
                        source,
                        count: 1,
                    }),
                }
            }
        }
        if diary.built.is_none() {
            return usable;
        }
        for (log, probe) in diary.logs.iter().enumerate() {
            let placed = probe.spot.check().is_ok();
            for (row, &(day, value)) in probe.temperatures_c.iter().enumerate() {
                let (what, source) = (What::Temperature, Source::Row { log, row });
                let fault = when(day, run_days).or_else(|| range_fault(what, value));
                match fault.or((!placed).then_some(Why::NoPlace)) {
                    Some(why) => self.keep_out(source, Some(what), why),
                    None => usable.push(Observation {
                        day,
                        spot: probe.spot,
                        what,
                        value,
                        source,
                        count: 1,
                    }),
                }
            }
        }
        usable
    }

    /// Takes out of a stream in order of time what stands there twice.
    fn keep_out_repeated(&mut self, values: &mut Vec<Observation>) {
        let mut last = f64::NEG_INFINITY;
        values.retain(|raw| {
            // Rounding of a clock's seconds must not make one minute of sixty seconds shorter.
            let repeated = raw.day - last < ONE_MINUTE - 1e-9;
            if repeated {
                self.keep_out(raw.source, Some(raw.what), Why::SameMinute);
            } else {
                last = raw.day;
            }
            !repeated
        });
    }
}

/// Moisture that a squeeze speaks for, wet basis, low and high.
///
/// Below 0.40 no drop comes and it falls apart (Cornell, NC State, BioCycle and EPA troubleshooting tables); dry and dusty is
/// below 0.44 (LSU AgCenter, Compost Moisture Content); a wrung-out sponge is 0.50-0.65 (USDA NEH 637 ch. 2 has
/// 0.50-0.70, second-hand; most leaflets 0.50-0.60); drops come above 0.60 and water runs above 0.70 (common practice).
pub fn squeezed(squeeze: Squeeze) -> (f64, f64) {
    match squeeze {
        Squeeze::FallsApart => (0.0, 0.40),
        Squeeze::HardlyDamp => (0.40, 0.50),
        Squeeze::LikeWrungSponge => (0.50, 0.65),
        Squeeze::Drips => (0.60, 0.75),
        Squeeze::Runs => (0.70, 1.0),
    }
}

fn by_time(a: &Observation, b: &Observation) -> Ordering {
    a.day.total_cmp(&b.day).then(a.source.cmp(&b.source))
}

fn stream(raw: &Observation) -> Stream {
    let step = |share: f64| (share / ONE_PLACE).round() as u32;
    match raw.source {
        Source::Row { log, .. } => (raw.what, Some(log), (0, 0)),
        Source::Reading(_) if raw.what.has_spot() => {
            (raw.what, None, (step(raw.spot.out), step(raw.spot.up)))
        }
        Source::Reading(_) => (raw.what, None, (0, 0)),
    }
}

/// What is wrong with a day.
fn when(day: f64, run_days: f64) -> Option<Why> {
    match day {
        _ if !day.is_finite() => Some(Why::NoNumber),
        _ if day < 0.0 => Some(Why::BeforeHeap),
        _ if day > run_days => Some(Why::AfterRun),
        _ => None,
    }
}

fn wetness(wetness: Wetness) -> (What, f64) {
    match wetness {
        Wetness::Squeezed(squeeze) => {
            let (low, high) = squeezed(squeeze);
            (What::Squeezed(squeeze), 0.5 * (low + high))
        }
        Wetness::Probe(moisture) => (What::Moisture { oven: false }, moisture),
        Wetness::Oven(moisture) => (What::Moisture { oven: true }, moisture),
    }
}

fn range_fault(what: What, value: f64) -> Option<Why> {
    let (low, high) = match what {
        What::Temperature => TEMPERATURE_C,
        What::Moisture { .. } => (0.0, 1.0),
        What::Oxygen => (0.0, OXYGEN_MOST),
        What::Height => (f64::MIN_POSITIVE, bounds::HEAP_LENGTH.high),
        What::Squeezed(_) | What::Smelt(_) => return None,
    };
    match value {
        _ if value.is_nan() => Some(Why::NoNumber),
        _ if (low..=high).contains(&value) => None,
        _ => Some(Why::OutOfRange),
    }
}

/// A stream in order of time, brought together; what is no number stays as it is.
fn together_of(values: &[Observation], together_days: f64, operations: &[f64]) -> Vec<Observation> {
    let mut out: Vec<(Observation, (u64, usize))> = Vec::new();
    for raw in values {
        let done = operations.iter().filter(|day| **day <= raw.day).count();
        let key = ((raw.day / together_days) as u64, done);
        match out.last_mut().filter(|(_, other)| *other == key) {
            Some((sum, _)) if raw.what.is_number() => {
                sum.day += raw.day;
                sum.value += raw.value;
                sum.count += 1;
            }
            _ => out.push((*raw, key)),
        }
    }
    let mean = |(mut sum, _): (Observation, _)| {
        sum.day /= sum.count as f64;
        sum.value /= sum.count as f64;
        sum
    };
    out.into_iter().map(mean).collect()
}

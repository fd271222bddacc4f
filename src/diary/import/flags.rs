//! What looks odd in the series of a logger: clock, repeats, gaps, spikes, a probe lying in air, a stuck value.
//!
//! In: series in file order, in ms and degC. Out: the same in rising order without repeats, and [`Flag`]s.
//!
//! A spike is what the Hampel identifier finds (Davies & Gather 1993, J. Am. Stat. Assoc. 88:782): a value further
//! than three robust standard deviations (1.4826 times the median deviation) from the median of the seven around it.
//! A probe lies in air if its temperature goes up and down with the day: in a heap a daily wave fades within
//! sqrt(2 k / w), 6 cm at a diffusivity k of 1.5e-7 m2/s (Carslaw & Jaeger 1959, section 2.6), so that a probe 20 cm
//! deep feels 4 % of it.
//! Not here: whether a flagged reading is left out (`rows`), words (`text::logger`).
//!
//! Tested by: `tests/document/logger.rs`.

use std::collections::BTreeMap;

use jiff::civil::DateTime;

use super::axis::{Axis, DAY_MS, HOUR_MS};

/// Most flags of one kind that are listed.
const LISTED: usize = 40;
/// A step so many times the usual one is a gap (common practice).
const GAP_STEPS: i64 = 5;
/// Readings on either side that a spike is held against.
const SPIKE_SIDE: usize = 3;
/// Longest time over which those count as beside it, ms.
const SPIKE_SPAN_MS: i64 = 12 * HOUR_MS;
/// Robust standard deviations, and least distance, K, of a spike (the distance: common practice).
const SPIKE_DEVIATIONS: f64 = 3.0 * 1.4826;
const SPIKE_LEAST_K: f64 = 5.0;
/// Readings of a day that tell how it went (common practice: one every three hours).
const DAY_READINGS: usize = 8;
/// Least amplitude of a day's wave in air, K; of its share of what changes in the day; days in a row; and how far the
/// hour of its top may wander from day to day, share of a circle (common practice).
const WAVE_LEAST_K: f64 = 2.5;
const WAVE_SHARE: f64 = 0.6;
const WAVE_DAYS: usize = 3;
const WAVE_DRIFT: f64 = 0.125;
/// A probe this near the one in the air, K, on a day on which that moves at least so much, K, lies in air too
/// (common practice).
const NEAR_AIR_K: f64 = 1.5;
const AIR_MOVES_K: f64 = 5.0;
/// A value that stays the same so long is stuck: of a probe that shows small steps, and of one with coarse ones
/// (common practice).
const STUCK_MS: i64 = DAY_MS;
const STUCK_COARSE_MS: i64 = 5 * DAY_MS;
const STUCK_READINGS: usize = 12;
const SMALL_STEP_K: f64 = 0.25;

/// How it shows that a probe lies in air.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum AirWhy {
    /// It goes up and down with the day.
    FollowsTheDay,
    /// It stays by the probe in the air.
    FollowsTheAir,
}

/// Something odd, with where and when. Probes by place; moments by the clock at the heap.
#[derive(Debug, Clone, PartialEq)]
pub enum Flag {
    /// Moments that come again; the first reading of each is taken.
    Repeated {
        /// Which probe.
        probe: usize,
        /// The first of them.
        first: DateTime,
        /// How many.
        count: usize,
    },
    /// No readings for long; of every probe where none is named.
    Gap {
        /// Which probe.
        probe: Option<usize>,
        /// Last reading before.
        from: DateTime,
        /// First reading after.
        to: DateTime,
    },
    /// One reading far from those beside it.
    Spike {
        /// Which probe.
        probe: usize,
        /// When.
        at: DateTime,
        /// What it shows, degC.
        found_c: f64,
        /// What those beside it show, degC.
        beside_c: f64,
    },
    /// A row earlier than the one before it.
    ClockBack {
        /// What it says.
        at: DateTime,
        /// By how much, s.
        back_s: i64,
    },
    /// Local times that come twice on the night daylight saving ends; put in order by the rows before them.
    Twice {
        /// The first of them.
        first: DateTime,
        /// How many rows.
        count: usize,
    },
    /// Local times that no clock showed, on the night daylight saving begins; read by the offset before it.
    Skipped {
        /// The first of them, as it was read.
        first: DateTime,
        /// How many rows.
        count: usize,
    },
    /// A probe that is to be in the heap lies in air.
    InAir {
        /// Which probe.
        probe: usize,
        /// From.
        from: DateTime,
        /// To.
        to: DateTime,
        /// How it shows.
        why: AirWhy,
    },
    /// The same value for long.
    Stuck {
        /// Which probe.
        probe: usize,
        /// From.
        from: DateTime,
        /// To.
        to: DateTime,
        /// The value, degC.
        value_c: f64,
    },
}

/// What has been found odd so far.
pub(super) struct Odd<'a> {
    axis: &'a Axis,
    flags: Vec<Flag>,
    counts: BTreeMap<u8, usize>,
    more: usize,
}

impl<'a> Odd<'a> {
    pub fn new(axis: &'a Axis) -> Self {
        Self {
            axis,
            flags: Vec::new(),
            counts: BTreeMap::new(),
            more: 0,
        }
    }

    fn add(&mut self, flag: Flag) {
        let kind = match flag {
            Flag::Twice { .. } => 0,
            Flag::Skipped { .. } => 1,
            Flag::ClockBack { .. } => 2,
            Flag::Repeated { .. } => 3,
            Flag::Gap { .. } => 4,
            Flag::Spike { .. } => 5,
            Flag::InAir { .. } => 6,
            Flag::Stuck { .. } => 7,
        };
        let count = self.counts.entry(kind).or_default();
        *count += 1;
        if *count <= LISTED {
            self.flags.push(flag);
        } else {
            self.more += 1;
        }
    }

    /// Local times that came twice or never: how many, and the first.
    pub fn clock_changes(&mut self, twice: (usize, Option<i64>), skipped: (usize, Option<i64>)) {
        if let (count, Some(first)) = twice {
            let first = self.axis.local(first);
            self.add(Flag::Twice { first, count });
        }
        if let (count, Some(first)) = skipped {
            let first = self.axis.local(first);
            self.add(Flag::Skipped { first, count });
        }
    }

    /// The flags, and how many there are beyond those.
    pub fn told(self) -> (Vec<Flag>, usize) {
        (self.flags, self.more)
    }
}

type Points = Vec<(i64, f64)>;

/// Brings every series in rising order without repeats, and says what is odd; with `leave_out`, spikes go.
pub(super) fn look_at(all: &mut [Points], in_heap: &[bool], leave_out: bool, odd: &mut Odd<'_>) {
    backwards(all, odd);
    for (probe, points) in all.iter_mut().enumerate() {
        points.sort_by_key(|(at_ms, _)| *at_ms);
        repeats(probe, points, odd);
    }
    gaps(all, odd);
    let air = in_heap.iter().position(|in_heap| !in_heap);
    let air = air.map(|at| all[at].clone()).filter(|air| !air.is_empty());
    for (probe, points) in all.iter_mut().enumerate() {
        if !in_heap[probe] {
            continue;
        }
        spikes(probe, points, leave_out, odd);
        in_air(probe, points, air.as_deref(), odd);
        stuck(probe, points, odd);
    }
}

/// Rows earlier than the one before; once where several probes show the same.
fn backwards(all: &[Points], odd: &mut Odd<'_>) {
    let mut back: BTreeMap<i64, i64> = BTreeMap::new();
    for points in all {
        for pair in points.windows(2) {
            let step = pair[1].0 - pair[0].0;
            if step < 0 {
                back.insert(pair[1].0, -step / 1000);
            }
        }
    }
    for (at_ms, back_s) in back {
        let at = odd.axis.local(at_ms);
        odd.add(Flag::ClockBack { at, back_s });
    }
}

fn repeats(probe: usize, points: &mut Points, odd: &mut Odd<'_>) {
    let before = points.len();
    let again = points.windows(2).find(|pair| pair[0].0 == pair[1].0);
    let Some(first) = again.map(|pair| pair[0].0) else {
        return;
    };
    points.dedup_by_key(|(at_ms, _)| *at_ms);
    odd.add(Flag::Repeated {
        probe,
        first: odd.axis.local(first),
        count: before - points.len(),
    });
}

/// The usual step, ms.
fn usual_step(points: &[(i64, f64)]) -> Option<i64> {
    let mut steps: Vec<i64> = points
        .windows(2)
        .map(|pair| pair[1].0 - pair[0].0)
        .collect();
    if steps.is_empty() {
        return None;
    }
    let middle = steps.len() / 2;
    Some(*steps.select_nth_unstable(middle).1)
}

fn gaps(all: &[Points], odd: &mut Odd<'_>) {
    let mut found: BTreeMap<(i64, i64), Vec<usize>> = BTreeMap::new();
    let mut with_readings = 0;
    for (probe, points) in all.iter().enumerate() {
        let Some(usual) = usual_step(points) else {
            continue;
        };
        with_readings += 1;
        for pair in points.windows(2) {
            if pair[1].0 - pair[0].0 > GAP_STEPS * usual {
                found.entry((pair[0].0, pair[1].0)).or_default().push(probe);
            }
        }
    }
    for ((from, to), probes) in found {
        let (from, to) = (odd.axis.local(from), odd.axis.local(to));
        if probes.len() == with_readings && with_readings > 1 {
            let probe = None;
            odd.add(Flag::Gap { probe, from, to });
        } else {
            for probe in probes.into_iter().map(Some) {
                odd.add(Flag::Gap { probe, from, to });
            }
        }
    }
}

fn median(values: &mut [f64]) -> f64 {
    values.sort_by(f64::total_cmp);
    values[values.len() / 2]
}

fn spikes(probe: usize, points: &mut Points, leave_out: bool, odd: &mut Odd<'_>) {
    const AROUND: usize = 2 * SPIKE_SIDE + 1;
    let mut found = Vec::new();
    for (start, around) in points.windows(AROUND).enumerate() {
        if around[AROUND - 1].0 - around[0].0 > SPIKE_SPAN_MS {
            continue;
        }
        let (at_ms, value) = around[SPIKE_SIDE];
        let near = |other: &(i64, f64)| (other.1 - value).abs() <= SPIKE_LEAST_K;
        // Four near ones mean that the median is near.
        if around.iter().filter(|other| near(other)).count() > SPIKE_SIDE + 1 {
            continue;
        }
        let mut values: [f64; AROUND] = std::array::from_fn(|place| around[place].1);
        let middle = median(&mut values);
        let mut far = values.map(|other| (other - middle).abs());
        let deviation = median(&mut far);
        if (value - middle).abs() > SPIKE_LEAST_K.max(SPIKE_DEVIATIONS * deviation) {
            found.push(start + SPIKE_SIDE);
            odd.add(Flag::Spike {
                probe,
                at: odd.axis.local(at_ms),
                found_c: value,
                beside_c: middle,
            });
        }
    }
    if leave_out && !found.is_empty() {
        let mut at = 0;
        let mut next = found.into_iter().peekable();
        points.retain(|_| {
            let out = next.next_if_eq(&at).is_some();
            at += 1;
            !out
        });
    }
}

/// The wave of one day: amplitude, K, share of the changes that are no steady rise or fall, and when its top is, as
/// share of a day.
fn wave(day: &[(i64, f64)]) -> Option<(f64, f64, f64)> {
    if day.len() < DAY_READINGS || day[day.len() - 1].0 - day[0].0 < DAY_MS * 3 / 4 {
        return None;
    }
    // Least squares over 1, t, cos, sin.
    let row = |at_ms: i64| {
        let share = at_ms.rem_euclid(DAY_MS) as f64 / DAY_MS as f64;
        let turn = share * std::f64::consts::TAU;
        let along = (at_ms - day[0].0) as f64 / DAY_MS as f64;
        [1.0, along, turn.cos(), turn.sin()]
    };
    let full = fit::<4>(day.iter().map(|(at_ms, value)| (row(*at_ms), *value)))?;
    let line = fit::<2>(day.iter().map(|(at_ms, value)| {
        let [one, along, ..] = row(*at_ms);
        ([one, along], *value)
    }))?;
    let left = |of: &dyn Fn([f64; 4]) -> f64| -> f64 {
        let each = day.iter().map(|(at_ms, value)| value - of(row(*at_ms)));
        each.map(|left| left * left).sum()
    };
    let by_line = left(&|[one, along, ..]| line[0] * one + line[1] * along);
    let by_wave = left(&|it| (0..4).map(|k| full[k] * it[k]).sum());
    let share = if by_line > 0.0 {
        1.0 - by_wave / by_line
    } else {
        0.0
    };
    let top = full[3].atan2(full[2]) / std::f64::consts::TAU;
    Some((full[2].hypot(full[3]), share, top.rem_euclid(1.0)))
}

/// Least squares by the normal equations; `None` where they have no single answer.
fn fit<const N: usize>(rows: impl Iterator<Item = ([f64; N], f64)>) -> Option<[f64; N]> {
    let mut a = [[0.0; N]; N];
    let mut b = [0.0; N];
    for (row, value) in rows {
        for i in 0..N {
            b[i] += row[i] * value;
            for j in 0..N {
                a[i][j] += row[i] * row[j];
            }
        }
    }
    for i in 0..N {
        let pivot = (i..N).max_by(|x, y| a[*x][i].abs().total_cmp(&a[*y][i].abs()))?;
        if a[pivot][i].abs() < 1e-9 {
            return None;
        }
        a.swap(i, pivot);
        b.swap(i, pivot);
        for k in i + 1..N {
            let factor = a[k][i] / a[i][i];
            for j in i..N {
                a[k][j] -= factor * a[i][j];
            }
            b[k] -= factor * b[i];
        }
    }
    for i in (0..N).rev() {
        let known: f64 = (i + 1..N).map(|j| a[i][j] * b[j]).sum();
        b[i] = (b[i] - known) / a[i][i];
    }
    Some(b)
}

/// Whether a day stays by the air's probe while that moves.
fn by_the_air(day: &[(i64, f64)], air: &[(i64, f64)]) -> bool {
    let (Some(first), Some(last)) = (day.first(), day.last()) else {
        return false;
    };
    let from = air.partition_point(|(at_ms, _)| *at_ms < first.0);
    let to = air.partition_point(|(at_ms, _)| *at_ms <= last.0);
    let same_day = air.get(from..to).unwrap_or_default();
    if day.len() < DAY_READINGS || same_day.len() < DAY_READINGS {
        return false;
    }
    let values = same_day.iter().map(|(_, value)| *value);
    let (low, high) = values.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| {
        (low.min(value), high.max(value))
    });
    let mut beside = 0;
    let mut far = 0.0;
    for (at_ms, value) in day {
        while beside + 1 < same_day.len() && same_day[beside + 1].0 <= *at_ms {
            beside += 1;
        }
        far += (value - same_day[beside].1).abs();
    }
    high - low >= AIR_MOVES_K && far / (day.len() as f64) < NEAR_AIR_K
}

fn in_air(probe: usize, points: &[(i64, f64)], air: Option<&[(i64, f64)]>, odd: &mut Odd<'_>) {
    let days = points.chunk_by(|a, b| a.0.div_euclid(DAY_MS) == b.0.div_euclid(DAY_MS));
    // A run of days: from, to, how many, the hour of the last top.
    let mut run: Option<(i64, i64, usize, f64)> = None;
    let mut beside: Option<(i64, i64)> = None;
    let mut told = Vec::new();
    let end = |run: Option<(i64, i64, usize, f64)>, told: &mut Vec<(i64, i64, AirWhy)>| {
        if let Some((from, to, count, _)) = run
            && count >= WAVE_DAYS
        {
            told.push((from, to, AirWhy::FollowsTheDay));
        }
    };
    for day in days {
        let (from, to) = (day[0].0, day[day.len() - 1].0);
        if air.is_some_and(|air| by_the_air(day, air)) {
            beside = Some((beside.map_or(from, |(from, _)| from), to));
        } else if let Some((from, to)) = beside.take() {
            told.push((from, to, AirWhy::FollowsTheAir));
        }
        let found = wave(day).filter(|(k, share, _)| *k >= WAVE_LEAST_K && *share >= WAVE_SHARE);
        run = match (run.take(), found) {
            (Some((from, _, count, last)), Some((_, _, top)))
                if ((top - last + 0.5).rem_euclid(1.0) - 0.5).abs() <= WAVE_DRIFT =>
            {
                Some((from, to, count + 1, top))
            }
            (before, found) => {
                end(before, &mut told);
                found.map(|(_, _, top)| (from, to, 1, top))
            }
        };
    }
    end(run, &mut told);
    if let Some((from, to)) = beside {
        told.push((from, to, AirWhy::FollowsTheAir));
    }
    for (from, to, why) in told {
        odd.add(Flag::InAir {
            probe,
            from: odd.axis.local(from),
            to: odd.axis.local(to),
            why,
        });
    }
}

fn stuck(probe: usize, points: &[(i64, f64)], odd: &mut Odd<'_>) {
    let steps = points.windows(2).map(|pair| (pair[1].1 - pair[0].1).abs());
    let smallest = steps
        .filter(|step| *step > 1e-9)
        .fold(f64::INFINITY, f64::min);
    let long = if smallest <= SMALL_STEP_K {
        STUCK_MS
    } else {
        STUCK_COARSE_MS
    };
    for run in points.chunk_by(|a, b| a.1 == b.1) {
        let (from, to) = (run[0].0, run[run.len() - 1].0);
        if run.len() >= STUCK_READINGS && to - from >= long {
            odd.add(Flag::Stuck {
                probe,
                from: odd.axis.local(from),
                to: odd.axis.local(to),
                value_c: run[0].1,
            });
        }
    }
}

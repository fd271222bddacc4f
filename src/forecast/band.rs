//! What the members of an ensemble did: bands of curves, spreads of numbers.
//!
//! In: projections, one at a time. Out: [`Forecast`].
//!
//! Curves are read in straight lines on a common grid of days. Each point of the grid keeps its values
//! in rising order, so that a further member costs one insertion a point, and the result does not
//! depend on the order in which members came. Quantiles are definition 7 of Hyndman and Fan 1996, The
//! American Statistician 50:361-365 (the default of numpy).
//!
//! Not here: which members there are (`draw`), running them (`ensemble`).
//!
//! Tested by: `tests/science/forecast_band.rs` (numpy.quantile), `tests/science/forecast_line.rs`.

use crate::heap::{Heap, Projection, Record, Summary};
use crate::outcome::Brief;
use crate::quantity::Range;

/// Least time between the points of a band, d.
const SPACING_DAYS: f64 = 0.5;
/// A run no longer than this is seen at the least spacing, a longer one at a multiple of it, d.
const FINEST_UP_TO_DAYS: f64 = 240.0;

/// How long before an operation a curve is still as if nothing were done, d.
const JUST_BEFORE_DAYS: f64 = 1e-6;

/// Something a run records.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Series {
    /// Temperature at the centre, degC.
    Centre,
    /// Temperature halfway to the side, degC.
    Middle,
    /// Temperature 10 cm below the side, degC.
    Edge,
    /// Mean temperature, degC.
    Mean,
    /// Moisture, wet basis, 0-1.
    Moisture,
    /// Oxygen in the pores, mole fraction.
    Oxygen,
    /// Dry matter, kg.
    Dry,
    /// Nitrogen, kg.
    Nitrogen,
    /// Volume, m3.
    Volume,
}

impl Series {
    /// All of them, in the order of their numbers.
    pub const ALL: [Self; 9] = [
        Self::Centre,
        Self::Middle,
        Self::Edge,
        Self::Mean,
        Self::Moisture,
        Self::Oxygen,
        Self::Dry,
        Self::Nitrogen,
        Self::Volume,
    ];

    /// Its value in a record.
    pub fn of(self, record: &Record) -> f64 {
        match self {
            Self::Centre => record.centre_c,
            Self::Middle => record.middle_c,
            Self::Edge => record.edge_c,
            Self::Mean => record.mean_c,
            Self::Moisture => record.moisture,
            Self::Oxygen => record.oxygen,
            Self::Dry => record.dry_kg,
            Self::Nitrogen => record.nitrogen_kg,
            Self::Volume => record.volume_m3,
        }
    }
}

/// Days on which a run of this length is seen: every half day (longer runs at a multiple of that), and
/// its last day.
pub fn grid_days(run_days: f64) -> Vec<f64> {
    let spacing = SPACING_DAYS * (run_days / FINEST_UP_TO_DAYS).ceil().max(1.0);
    let mut days: Vec<f64> = (0..)
        .map(|point| f64::from(point) * spacing)
        .take_while(|day| *day < run_days - 1e-9)
        .collect();
    days.push(run_days);
    days
}

/// The same for the shortest of these heaps, with the moment just before each operation of their plans and the moment
/// after it, where curves jump.
pub(super) fn grid_days_of(heaps: &[&Heap]) -> Vec<f64> {
    let run_days = heaps
        .iter()
        .map(|heap| heap.days)
        .fold(f64::INFINITY, f64::min);
    let mut days = grid_days(run_days);
    let events = heaps.iter().flat_map(|heap| heap.plan.in_order());
    let operations = events.map(|due| due.day);
    for day in operations.filter(|day| (JUST_BEFORE_DAYS..=run_days).contains(day)) {
        days.extend([day - JUST_BEFORE_DAYS, day]);
    }
    days.sort_by(f64::total_cmp);
    days.dedup();
    days
}

/// What one member did, on the grid of days.
#[derive(Debug, Clone, PartialEq)]
pub struct Member {
    /// A curve for each of [`Series::ALL`]; shorter than the grid if the run stopped early.
    curves: [Vec<f64>; Series::ALL.len()],
    /// Its few numbers.
    pub summary: Summary,
    /// What is judged of it; empty unless it was judged.
    pub brief: Brief,
}

impl Member {
    /// A projection seen on these days.
    pub fn of(projection: &Projection, days: &[f64]) -> Self {
        let mut curves: [Vec<f64>; Series::ALL.len()] =
            std::array::from_fn(|_| Vec::with_capacity(days.len()));
        let records = &projection.records;
        let mut after = 0;
        for &day in days {
            // Of records at the same moment the last counts: it is the state after a operation.
            while after < records.len() && records[after].day <= day + 1e-9 {
                after += 1;
            }
            let Some(before) = after.checked_sub(1).map(|index| &records[index]) else {
                continue;
            };
            let next = match records.get(after) {
                Some(next) => next,
                None if before.day >= day - 1e-9 => before,
                None => break,
            };
            let length = next.day - before.day;
            let share = if length > 0.0 {
                ((day - before.day) / length).clamp(0.0, 1.0)
            } else {
                0.0
            };
            for (curve, series) in curves.iter_mut().zip(Series::ALL) {
                let (a, b) = (series.of(before), series.of(next));
                curve.push(a + share * (b - a));
            }
        }
        Self {
            curves,
            summary: projection.summary,
            brief: Brief::default(),
        }
    }

    /// Its curve of a series.
    pub fn curve(&self, series: Series) -> &[f64] {
        &self.curves[series as usize]
    }
}

/// Median and 10-90 % band of a series, in its unit.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Band {
    /// Days of the points.
    pub days: Vec<f64>,
    /// One in ten lies below.
    pub low: Vec<f64>,
    /// Half lie below.
    pub median: Vec<f64>,
    /// One in ten lies above.
    pub high: Vec<f64>,
}

/// Value on a day of a line between points, each side of a jump on its own; the nearer end beyond them.
fn at(days: &[f64], values: &[f64], day: f64, side: Side) -> f64 {
    let after = match side {
        Side::Before => days.partition_point(|other| *other < day),
        Side::After => days.partition_point(|other| *other <= day),
    };
    let last = values.len().saturating_sub(1);
    let (a, b) = (after.saturating_sub(1).min(last), after.min(last));
    let length = days[b] - days[a];
    let share = if length > 0.0 {
        ((day - days[a]) / length).clamp(0.0, 1.0)
    } else {
        0.0
    };
    values[a] + share * (values[b] - values[a])
}

/// Which side of a jump.
#[derive(Debug, Clone, Copy)]
enum Side {
    Before,
    After,
}

impl Band {
    /// The band that is drawn about a line of points (day, value): this one, reaching as far as the line wherever the
    /// line leaves it.
    ///
    /// The line is one run with the typical values on a finer grid than the members', so at some times it is among the
    /// outer fifth, most of all where the members peak one after the other. All that is said of the heap is said of that run,
    /// so it stays the line. What is drawn holds four in five members or more at every time, and the line. The band
    /// ends with the shorter of the two; days are those of both.
    #[must_use]
    pub fn holding(&self, line: &[[f64; 2]]) -> Self {
        let (days, values): (Vec<f64>, Vec<f64>) = line.iter().map(|[d, v]| (*d, *v)).unzip();
        let ends = self.days.last().copied().zip(days.last().copied());
        let Some(end) = ends.map(|(a, b)| a.min(b)) else {
            return self.clone();
        };
        let mut both: Vec<f64> = self.days.iter().chain(&days).copied().collect();
        both.retain(|day| *day <= end);
        both.sort_by(f64::total_cmp);
        both.dedup();
        let mut held = Self::default();
        for day in both {
            let value = |of: &[f64], side| at(&self.days, of, day, side);
            let sides = [Side::Before, Side::After].map(|side| {
                let drawn = at(&days, &values, day, side);
                let low = value(&self.low, side).min(drawn);
                let high = value(&self.high, side).max(drawn);
                (low, value(&self.median, side), high)
            });
            let one = if sides[0] == sides[1] { 1 } else { 2 };
            for (low, median, high) in sides.into_iter().take(one) {
                held.days.push(day);
                held.low.push(low);
                held.median.push(median);
                held.high.push(high);
            }
        }
        held
    }
}

/// An ensemble so far.
#[derive(Debug, Clone, PartialEq)]
pub struct Forecast {
    wanted: usize,
    left_out: usize,
    typical: Member,
    bands: [Band; Series::ALL.len()],
    summaries: Vec<Summary>,
    briefs: Vec<Brief>,
}

impl Forecast {
    /// Members that were asked for.
    pub fn wanted(&self) -> usize {
        self.wanted
    }

    /// Members in the bands: the first so many of the sequence, less those left out.
    pub fn members(&self) -> usize {
        self.summaries.len()
    }

    /// Members that left what the model covers and are counted nowhere.
    pub fn left_out(&self) -> usize {
        self.left_out
    }

    /// Members still to come; 0 once it is whole.
    pub fn to_come(&self) -> usize {
        self.wanted.saturating_sub(self.members() + self.left_out)
    }

    /// Whether all members have come; before that its numbers are those "so far".
    pub fn is_whole(&self) -> bool {
        self.to_come() == 0
    }

    /// The member with the typical values; it is not counted in the bands.
    pub fn typical(&self) -> &Member {
        &self.typical
    }

    /// Band of a series; empty before the first member.
    pub fn band(&self, series: Series) -> &Band {
        &self.bands[series as usize]
    }

    /// Median and 10-90 % range of a number; `None` before the first member.
    pub fn range(&self, number: impl Fn(&Summary) -> f64) -> Option<Range> {
        range_of(self.summaries.iter().map(number).collect())
    }

    /// Highest temperature of the centre of each member, degC.
    pub(super) fn peaks(&self) -> impl Iterator<Item = f64> + '_ {
        self.summaries.iter().map(|summary| summary.peak_c)
    }

    /// Share of the members for which something holds, 0-1; 0 before the first member.
    pub fn likelihood(&self, holds: impl Fn(&Summary) -> bool) -> f64 {
        let yes = self.summaries.iter().filter(|summary| holds(summary));
        yes.count() as f64 / self.summaries.len().max(1) as f64
    }

    /// What is judged of each member, in the order of the sequence.
    pub fn briefs(&self) -> &[Brief] {
        &self.briefs
    }

    /// Share of the members for whose judgement something holds, 0-1; 0 before the first member.
    pub fn likelihood_judged(&self, holds: impl Fn(&Brief) -> bool) -> f64 {
        let yes = self.briefs.iter().filter(|brief| holds(brief)).count();
        yes as f64 / self.briefs.len().max(1) as f64
    }

    /// Median and 10-90 % range of a number that is judged; `None` before the first member.
    pub fn range_judged(&self, number: impl Fn(&Brief) -> f64) -> Option<Range> {
        range_of(self.briefs.iter().map(number).collect())
    }

    /// First day by which this share of the members is finished; `None` if not within the run.
    pub fn finished_day(&self, share: f64) -> Option<f64> {
        let finished = self.briefs.iter().filter_map(|brief| brief.finished_day);
        let mut days: Vec<f64> = finished.collect();
        days.sort_by(f64::total_cmp);
        reached(&days, self.briefs.len(), share)
    }
}

/// Gathers members, one at a time.
#[derive(Debug, Clone)]
pub(super) struct Gathered {
    days: Vec<f64>,
    columns: Vec<Vec<Vec<f64>>>,
    summaries: Vec<Summary>,
    briefs: Vec<Brief>,
    left_out: usize,
}

impl Gathered {
    /// Nothing yet.
    pub(super) fn new(days: Vec<f64>, members: usize) -> Self {
        let points = days.len();
        let column = || Vec::with_capacity(members);
        let of_series = || (0..points).map(|_| column()).collect();
        Self {
            days,
            columns: Series::ALL.iter().map(|_| of_series()).collect(),
            summaries: Vec::with_capacity(members),
            briefs: Vec::with_capacity(members),
            left_out: 0,
        }
    }

    /// Takes one more member; `None` is one that left what the model covers.
    pub(super) fn take(&mut self, member: Option<&Member>) {
        let Some(member) = member else {
            self.left_out += 1;
            return;
        };
        self.summaries.push(member.summary);
        self.briefs.push(member.brief.clone());
        for (columns, curve) in self.columns.iter_mut().zip(&member.curves) {
            for (column, &value) in columns.iter_mut().zip(curve) {
                let place = column.partition_point(|other| *other < value);
                column.insert(place, value);
            }
        }
    }

    /// Members taken, those left out counted.
    pub(super) fn count(&self) -> usize {
        self.summaries.len() + self.left_out
    }

    /// What there is so far of `wanted` members.
    pub(super) fn forecast(&self, typical: &Member, wanted: usize) -> Forecast {
        Forecast {
            wanted,
            left_out: self.left_out,
            typical: typical.clone(),
            bands: std::array::from_fn(|series| self.band(series)),
            summaries: self.summaries.clone(),
            briefs: self.briefs.clone(),
        }
    }

    fn band(&self, series: usize) -> Band {
        let mut band = Band::default();
        for (day, column) in self.days.iter().zip(&self.columns[series]) {
            if column.is_empty() {
                break;
            }
            band.days.push(*day);
            band.low.push(quantile(column, 0.1));
            band.median.push(quantile(column, 0.5));
            band.high.push(quantile(column, 0.9));
        }
        band
    }
}

/// Median and 10-90 % range of values in any order; `None` of none.
fn range_of(mut all: Vec<f64>) -> Option<Range> {
    all.sort_by(f64::total_cmp);
    let at = |share| quantile(&all, share);
    (!all.is_empty()).then(|| Range::new(at(0.1), at(0.5), at(0.9)))
}

/// Quantile of rising values, straight between them: the value at place `share (n - 1)`; NaN of none.
pub fn quantile(rising: &[f64], share: f64) -> f64 {
    let Some(last) = rising.len().checked_sub(1) else {
        return f64::NAN;
    };
    let place = share.clamp(0.0, 1.0) * last as f64;
    let below = place.floor() as usize;
    let above = (below + 1).min(last);
    rising[below] + (place - below as f64) * (rising[above] - rising[below])
}

/// The least of these rising values by which `share` of `count` have arrived; `None` if too few ever do.
///
/// Definition 1 of Hyndman and Fan (numpy's `inverted_cdf`): what has not arrived needs no value.
pub fn reached(rising: &[f64], count: usize, share: f64) -> Option<f64> {
    // Rounding must not ask for one more than the share means.
    let needed = (share.clamp(0.0, 1.0) * count as f64 - 1e-9)
        .ceil()
        .max(1.0);
    rising.get(needed as usize - 1).copied()
}

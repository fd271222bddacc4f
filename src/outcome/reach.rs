//! Where the simulation parts from what is published of such a heap.
//!
//! In: the ingredients, the sums of the mix, the heap, its projection. Out: the [`Limit`]s that matter to this heap.
//!
//! One kind of heap an entry, each found by building published cases (`tests/reports/published-cases.md`, the rows that
//! miss). An entry that no longer misses goes, with its line in `Limit::holds` and its words.
//!
//! Not here: their words (`text::outcome`).
//!
//! Tested by: `tests/science/outcome_reach.rs`.

use crate::heap::{Heap, Projection, Shape};
use crate::material::Family;
use crate::mix::{Part, Totals, dry_share};

use super::smell::{TroubleKind, troubles_found};

/// Share of the dry matter from which a heap is one of a material.
const MOSTLY: f64 = 0.5;
/// The same where a heap is hardly anything else.
const NEARLY_ALL: f64 = 0.8;
/// Largest heap of chipped trimmings that stayed cool in the trial, m3, with some room above its 0.75 (T1, T2).
const SMALL_M3: f64 = 1.0;
/// C:N above which practice expects a heap to stay cooler (CN: hot for as short as it should be, not as cool).
const LEAN_CN: f64 = 50.0;
/// Moisture above which trials were cooler, wet basis (T10: 72 %).
const WET: f64 = 0.70;
/// Least volume of what counts as a big heap of chips, m3 (those of T12, W1 and W2 are larger).
const BIG_M3: f64 = 10.0;
/// Air from and to which a right mix is on the edge, degC, mean of the first days (WINTER: at 0 it heats; half a degree colder it stays cold).
const FROST_C: (f64, f64) = (-3.0, 1.0);
/// Centre from which a heap is a hot one, degC (what rules on heat ask for).
const HOT_C: f64 = 55.0;
/// Least time that a hot turned heap takes until it is fit to dig in, d (two months, common practice).
const SOON_DAYS: f64 = 60.0;
/// Days over which that mean goes.
const FIRST_DAYS: f64 = 10.0;
/// Centre below which nothing warmed, so that too much warmth is no question, degC.
const WARM_C: f64 = 30.0;
/// Time between turnings below which a row counts as turned, d: thrice a year (T6).
const TURNED_WITHIN_DAYS: f64 = 60.0;
/// Day by which leaves by themselves are leafmould (common practice: one to two years).
const LEAFMOULD_DAYS: f64 = 730.0;
/// Time between turnings above which it counts as left alone, d (T6: yearly).
const LEFT_ALONE_DAYS: f64 = 180.0;

/// A kind of heap with which the simulation parts from what is published.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Limit {
    /// A small heap of chipped trimmings warms more than in a trial.
    SmallTrimmings,
    /// Wood chips stay warm for longer than measured.
    Chips,
    /// A row of leaves that is turned is ready later than published.
    LeafRowTurned,
    /// A row of leaves left alone is ready sooner than published.
    LeafRowLeft,
    /// Leaves by themselves, in a small cold heap, are leafmould later than practice says.
    ColdLeaves,
    /// A hot turned heap is fit to dig in sooner than practice says.
    SoonFit,
    /// Grass by itself stays airy.
    Grass,
    /// A very lean heap gets hotter than practice expects, for a few days.
    VeryLean,
    /// A wet heap is as hot as a right one, which it was not in trials.
    Wet,
    /// A right mix in frost may or may not start.
    Frost,
}

/// What is asked of a heap.
#[derive(Debug, Clone, Copy)]
pub struct Reached<'a> {
    /// All ingredients, those of later additions counted.
    pub parts: &'a [Part<'a>],
    /// Sums of the mix as built.
    pub totals: &'a Totals,
    /// The heap.
    pub heap: &'a Heap,
    /// What would become of it.
    pub projection: &'a Projection,
    /// Day from which it is fit to dig in or mulch, if within the run.
    pub usable_day: Option<f64>,
}

impl Limit {
    /// All of them, in the order in which they are told.
    pub const ALL: [Self; 10] = [
        Self::Frost,
        Self::Wet,
        Self::VeryLean,
        Self::SmallTrimmings,
        Self::Chips,
        Self::LeafRowTurned,
        Self::LeafRowLeft,
        Self::ColdLeaves,
        Self::Grass,
        Self::SoonFit,
    ];

    /// Whether this heap is of that kind.
    fn holds(self, of: &Reached<'_>) -> bool {
        let (totals, heap) = (of.totals, of.heap);
        let warmed = of.projection.summary.peak_c > WARM_C;
        let share = |wanted: &dyn Fn(Family) -> bool| dry_share(of.parts, wanted);
        let trimmings = || share(&|f| matches!(f, Family::GardenBrown | Family::GardenGreen));
        let chips = || share(&|f| f == Family::Wood) >= MOSTLY;
        let leaves = || share(&|f| f == Family::Leaves);
        let in_a_row = matches!(heap.shape, Shape::Row { .. });
        match self {
            Self::SmallTrimmings => {
                warmed && totals.volume_m3() < SMALL_M3 && trimmings() >= MOSTLY
            }
            Self::Chips => {
                let big = totals.volume_m3() >= BIG_M3;
                big && of.projection.summary.days_above_40 > 0.0 && chips()
            }
            Self::LeafRowTurned => {
                in_a_row && leaves() >= NEARLY_ALL && of.between_turnings() < TURNED_WITHIN_DAYS
            }
            Self::LeafRowLeft => {
                in_a_row && leaves() >= NEARLY_ALL && of.between_turnings() > LEFT_ALONE_DAYS
            }
            Self::ColdLeaves => {
                let late = of.usable_day.is_none_or(|day| day > LEAFMOULD_DAYS);
                !in_a_row && late && leaves() >= NEARLY_ALL
            }
            Self::SoonFit => {
                let hot = of.projection.summary.peak_c >= HOT_C;
                let turned = of.between_turnings().is_finite();
                hot && turned && of.usable_day.is_some_and(|day| day < SOON_DAYS)
            }
            Self::Grass => share(&|f| f == Family::Grass) >= NEARLY_ALL && !stinks(of.projection),
            Self::VeryLean => warmed && totals.cn() > LEAN_CN && !chips(),
            Self::Wet => warmed && totals.moisture() > WET,
            Self::Frost => {
                let start = heap.start_day_of_year;
                let air_c = heap.climate.mean_air_c(start, start + FIRST_DAYS);
                (FROST_C.0..=FROST_C.1).contains(&air_c) && totals.cn() < LEAN_CN
            }
        }
    }
}

impl Reached<'_> {
    /// Mean time between turnings, d; endless where there are none.
    fn between_turnings(&self) -> f64 {
        let days = self.heap.days;
        let turned = self.heap.plan.turning_days(days).len();
        if turned == 0 {
            f64::INFINITY
        } else {
            days / turned as f64
        }
    }
}

/// Whether a smell of rot is found in a run.
fn stinks(projection: &Projection) -> bool {
    let found = troubles_found(projection);
    let rots = [TroubleKind::Airless, TroubleKind::Sour];
    found.iter().any(|it| rots.contains(&it.kind))
}

/// The limits that matter to this heap.
pub fn limits(of: &Reached<'_>) -> Vec<Limit> {
    Limit::ALL
        .into_iter()
        .filter(|limit| limit.holds(of))
        .collect()
}

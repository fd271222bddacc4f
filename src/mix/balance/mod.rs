//! Balancing: the smallest change to a mix that brings every gauge into its band.
//!
//! In: a mix, the catalogue, a [`Goal`]. Out: [`Balanced`]: the mix in whole measures, the blends
//! before and after, what to do, and how far the goal was reached. "It cannot be done" is an answer.
//!
//! **Why it is a quadratic program.** Let `u_j` be how much there is of material `j` in handfuls
//! (what moves at one go: a bucket of 12 L; 1 L of a liquid; 200 g of a fertiliser), `o_j` how much
//! there was. Effort is `sum(w_j (u_j - o_j)^2)`. Every sum of [`super::Totals`] is linear in `u`: dry matter
//! `D`, water `W`, carbon `C`, nitrogen `N`, piled volume `P`, that volume `S` once settled and the volume `A` of
//! solids and water without air, `A = VS/1600 + ash/2500 + W/1000`. Each limit of a gauge is a ratio of two sums against
//! a number `b`; multiplied by its denominator, which is not negative, it is linear:
//!
//! | gauge | at least `b` | at most `b` |
//! |---|---|---|
//! | C:N | `C - b N >= 0` | `b N - C >= 0` |
//! | moisture | `W - b (W + D) >= 0` | `b (W + D) - W >= 0` |
//! | free air space | `(1 - b) S - A >= 0` | `A - (1 - b) S >= 0` |
//! | bulk density | `W + D - b P >= 0` | `b P - W - D >= 0` |
//! | volume | `P - b >= 0` | `b - P >= 0` |
//!
//! One formula is not linear: the volume is `max(P, A)`. But wherever free air space has a lower limit
//! `b > 0`, `A <= (1 - b) S < P`, so the volume is `P` at every point the program may choose, and the
//! table is exact; nothing is linearised and nothing iterated. Where that limit has to give
//! (the nearest mix), `A <= b` joins `P <= b` for the volume. Every answer is put
//! through [`super::blend()`] again.
//!
//! **In what order.** All best bands; else what works as a must, with as few and as important gauges
//! in their best part as can be (an elastic program finds which must give, then the smallest change is
//! sought again); else the nearest mix: composition before size, then the least weighted breach.
//!
//! Files: `program` solves, `lever` is what may be moved, `task` makes rows of limits, `least` the two
//! programs of them, `tiers` goes through the order, `round` and `measures`
//! find whole measures, `carry` carries them out, `ways` are the ways out, `answer` puts it together, `fix` mends one gauge alone.
//! Not here: sentences about heat and advice while a slider moves (`outcome::advice`).
//!
//! Tested by: `tests/science/balance.rs` (scipy, handbook examples, properties).

mod answer;
mod carry;
mod fix;
mod least;
mod lever;
mod measures;
mod program;
mod round;
mod task;
mod tiers;
mod ways;

pub use answer::{balance, balance_handily, fill};
pub use fix::{Fix, fixes};
pub use task::to_spare;

use crate::quantity::Amount;

use super::{Blend, Change, Gauge, Mix, TargetBand, bands};

/// Size of a heap that is made from nothing with no room to fill, m3.
pub const FROM_NOTHING_M3: f64 = bands::GOOD_VOLUME_M3;

/// How large the heap is to be.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Size {
    /// As large as this room, m3: the band of [`bands::volume`].
    Fill(f64),
    /// No larger than this room, m3, and no less than half of what there is.
    Within(f64),
    /// No less than half of what there is; where there is nothing, [`FROM_NOTHING_M3`].
    Free,
}

/// The band of each gauge but the volume.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct TargetBands {
    /// C:N.
    pub cn: TargetBand,
    /// Moisture, wet basis.
    pub moisture: TargetBand,
    /// Free air space, share of volume.
    pub free_air_space: TargetBand,
    /// Wet bulk density, kg/m3.
    pub bulk_density_kg_per_m3: TargetBand,
}

impl Default for TargetBands {
    fn default() -> Self {
        Self {
            cn: bands::CN,
            moisture: bands::MOISTURE,
            free_air_space: bands::FREE_AIR_SPACE,
            bulk_density_kg_per_m3: bands::BULK_DENSITY_KG_PER_M3,
        }
    }
}

/// What a balance is to reach, and by what means.
#[derive(Debug, Clone, PartialEq)]
pub struct Goal {
    /// How large the heap is to be.
    pub size: Size,
    /// Where the gauges are to lie.
    pub bands: TargetBands,
    /// Ends of bands whose best part is not sought, only what works. Default: too much air, which
    /// settles by itself, and a light heap, which follows from it (the weights that advice gives
    /// them are as low); chasing them would turn good leaf heaps into wet manure.
    pub unsought: Vec<(Gauge, BandEnd)>,
    /// Whether added water may be changed. Default: yes.
    pub water: bool,
    /// Whether amounts may only grow. Default: no.
    pub only_more: bool,
    /// Whether urea, urine, manure and the like may be named as a way out. Default: yes.
    pub nitrogen_sources: bool,
    /// Ids of materials that are not in the mix and may be used straight away. Default: none.
    pub extra: Vec<String>,
}

impl Goal {
    /// The usual goal for a heap with so much room (m3), or of no fixed size.
    pub fn of_room(room_m3: Option<f64>) -> Self {
        Self {
            size: room_m3.map_or(Size::Free, Size::Fill),
            bands: TargetBands::default(),
            unsought: vec![
                (Gauge::AirSpace, BandEnd::High),
                (Gauge::Density, BandEnd::Low),
            ],
            water: true,
            only_more: false,
            nitrogen_sources: true,
            extra: Vec::new(),
        }
    }
}

impl Goal {
    /// The part of a band that is sought: the best one, at an end that is not sought what works.
    pub(super) fn sought(&self, gauge: Gauge, band: &TargetBand) -> (f64, f64) {
        let end = |side, best, works| {
            if self.unsought.contains(&(gauge, side)) {
                works
            } else {
                best
            }
        };
        (
            end(BandEnd::Low, band.best.0, band.works.0),
            end(BandEnd::High, band.best.1, band.works.1),
        )
    }
}

/// An end of a band.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BandEnd {
    /// The lower end.
    Low,
    /// The upper end.
    High,
}

/// Something that keeps a mix from its goal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Limit {
    /// One end of a gauge's band of what works.
    Gauge {
        /// Which gauge.
        gauge: Gauge,
        /// Which end.
        side: BandEnd,
        /// Whether the nearest mix breaks it; else it holds and stands in the way of the others.
        broken: bool,
    },
    /// There is no more of what is in this row, from 0.
    Stock(usize),
    /// A heap takes no more of what is in this row, from 0, whatever the gauges would like.
    Dose(usize),
    /// This row, from 0, is locked.
    Locked(usize),
}

/// What a way out asks for.
#[derive(Debug, Clone, PartialEq)]
pub enum WayNeed {
    /// A material that is not in the mix.
    Add {
        /// Which.
        material: StepMaterial,
        /// How much.
        amount: Amount,
    },
    /// More of a row than there is.
    More {
        /// Which row, from 0.
        row: usize,
        /// What is in it.
        material: StepMaterial,
        /// How much beyond the stock.
        more: Amount,
    },
    /// A locked row gets another amount.
    Unlock {
        /// Which row, from 0.
        row: usize,
        /// What is in it.
        material: StepMaterial,
        /// How much it is then; zero: it is left out.
        amount: Amount,
    },
}

/// A way out, tried: with what it needs, the balance is reached.
#[derive(Debug, Clone, PartialEq)]
pub struct WayOut {
    /// What it needs, one thing or two.
    pub needs: Vec<WayNeed>,
    /// The mix then, in whole measures.
    pub mix: Mix,
    /// Its blend.
    pub after: Blend,
    /// What is done to the mix.
    pub steps: Vec<BalanceStep>,
    /// Whether every gauge is in its best part.
    pub best: bool,
    /// What it costs, handfuls: root of the weighted sum of squares.
    pub effort: f64,
}

/// How far the goal was reached.
#[derive(Debug, Clone, PartialEq)]
pub enum Reached {
    /// Every gauge is in the best part of its band.
    Best,
    /// Every gauge works; these are not in their best part.
    Works {
        /// Gauges whose best part had to be given up or was not sought.
        beyond_best: Vec<Gauge>,
    },
    /// Not with these materials. The mix is the nearest that can be reached.
    Nearest {
        /// What stands against what; never empty.
        fighting: Vec<Limit>,
        /// What would help, cheapest first, each tried; at most five.
        ways_out: Vec<WayOut>,
    },
    /// There is nothing to balance: no amount, and [`Size::Within`] asks for none.
    Nothing,
}

impl Reached {
    /// How far from the best, 0 for the best.
    fn rank(&self) -> u8 {
        match self {
            Self::Best => 0,
            Self::Works { .. } => 1,
            Self::Nearest { .. } => 2,
            Self::Nothing => 3,
        }
    }
}

/// How fine the amounts had to be for the gauges to stay where the program put them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Rounding {
    /// Whole measures.
    Whole,
    /// Halves.
    Halves,
    /// Quarters.
    Quarters,
    /// Tenths.
    Tenths,
    /// No rounding was found that keeps every limit: the amounts are as calculated.
    AsCalculated,
}

/// A material that a step or a way out moves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepMaterial {
    /// Its id.
    pub id: String,
    /// Its name in the catalogue; its id where the catalogue does not hold it.
    pub name: String,
}

/// What a step moves.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum StepSubject {
    /// Water poured on.
    Water,
    /// A material.
    Material(StepMaterial),
}

/// One change with what it moves and amounts.
#[derive(Debug, Clone, PartialEq)]
pub struct BalanceStep {
    /// What is done.
    pub change: Change,
    /// What there is more or less of.
    pub of: StepSubject,
    /// How much there was.
    pub from: Amount,
    /// How much there is then, in the same measure.
    pub to: Amount,
}

/// The answer.
#[derive(Debug, Clone, PartialEq)]
pub struct Balanced {
    /// The mix after it. Rows stand where they stood; what was added comes last.
    pub mix: Mix,
    /// The blend before.
    pub before: Blend,
    /// The blend after.
    pub after: Blend,
    /// What to do, in order of rows, water after the rows, additions last; empty if nothing is to be done.
    pub steps: Vec<BalanceStep>,
    /// How far the goal was reached.
    pub verdict: Reached,
    /// How fine the amounts are.
    pub rounding: Rounding,
    /// Least effort before rounding, handfuls squared: the objective of the program.
    pub least_effort: f64,
}

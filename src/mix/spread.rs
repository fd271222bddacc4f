//! The gauges of a mix with their ranges.
//!
//! In: ingredients and added water. Out: [`Gauges`].
//!
//! Every material brings four uncertain values (moisture, C:N, carbon, bulk density). Each is moved
//! alone to its low and to its high end; the resulting moves of a gauge are added in quadrature,
//! those up and those down apart (first-order propagation of independent inputs, JCGM 100:2008
//! eq. 10, with the two sides kept). So 10-90 % ranges in give a 10-90 % range out. Rows of the same
//! material in the same state move together, so saying one amount in two rows changes nothing. Values of one material
//! are taken as independent of each other, though wet leaves are also heavy ones.
//!
//! Not here: what the numbers should be (`target`).
//!
//! Tested by: `tests/science/blend.rs` (Monte Carlo).

use std::collections::BTreeMap;

use crate::material::Material;
use crate::quantity::{Extent, Range};

use super::Part;
use super::lot::{Values, contribution};
use super::target::Gauge;
use super::totals::Totals;

/// The gauges of a mix, each with its range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Gauges {
    /// Carbon to nitrogen by mass, total. Infinite when there is carbon but no nitrogen.
    pub cn: Range,
    /// The same with the carbon that lignin withholds left out (see [`super::degradable_share`]).
    pub cn_available: Range,
    /// Water, share of wet mass (wet basis), 0-1.
    pub moisture: Range,
    /// Volume as built (piled and lightly trodden), m3.
    pub volume_m3: Range,
    /// Air-filled share of the volume once the heap has settled for a fortnight, 0-1.
    pub free_air_space: Range,
    /// Wet mass by volume as built, kg/m3.
    pub wet_bulk_density_kg_per_m3: Range,
    /// Dry mass by volume as built, kg/m3.
    pub dry_bulk_density_kg_per_m3: Range,
}

impl Gauges {
    /// The typical value of a gauge that has a band.
    pub fn value(&self, gauge: Gauge) -> f64 {
        self.range(gauge).typical
    }

    /// The range of a gauge that has a band.
    pub fn range(&self, gauge: Gauge) -> Range {
        match gauge {
            Gauge::Moisture => self.moisture,
            Gauge::CarbonNitrogen => self.cn,
            Gauge::AirSpace => self.free_air_space,
            Gauge::Volume => self.volume_m3,
            Gauge::Density => self.wet_bulk_density_kg_per_m3,
        }
    }
}

const GAUGES: usize = 7;

/// The gauges of one set of sums, in the order of [`Gauges`].
fn gauge_values(totals: &Totals) -> [f64; GAUGES] {
    let volume = totals.volume_m3();
    [
        totals.cn(),
        totals.cn_available(),
        totals.moisture(),
        volume,
        totals.settled_air_space(),
        totals.wet_kg() / volume,
        totals.dry_kg / volume,
    ]
}

/// All of one material in a mix: what was said by volume and what by mass.
struct Lot<'a> {
    material: &'a Material,
    volume_m3: f64,
    mass_kg: f64,
}

impl Lot<'_> {
    fn totals(&self, values: &Values) -> Totals {
        let of = |extent| contribution(self.material, extent, values);
        of(Extent::VolumeM3(self.volume_m3)).plus(&of(Extent::MassKg(self.mass_kg)))
    }
}

/// The rows of a mix gathered by material.
fn lots<'a>(parts: &'a [Part<'_>]) -> Vec<Lot<'a>> {
    let mut by_state: BTreeMap<(&str, [u64; 3]), Lot<'a>> = BTreeMap::new();
    for part in parts {
        let material: &Material = &part.material;
        let lot = by_state
            .entry((&material.id, state_of(material)))
            .or_insert(Lot {
                material,
                volume_m3: 0.0,
                mass_kg: 0.0,
            });
        match part.amount.extent() {
            Extent::VolumeM3(volume) => lot.volume_m3 += volume,
            Extent::MassKg(mass) => lot.mass_kg += mass,
        }
    }
    by_state.into_values().collect()
}

/// What tells apart rows of one material in different states.
fn state_of(material: &Material) -> [u64; 3] {
    [
        material.moisture.typical,
        material.bulk_density.typical,
        material.size_factor,
    ]
    .map(f64::to_bits)
}

/// For each lot, the sums of everything else: `water`, the lots before it and the lots after it.
/// Summed afresh rather than subtracted from the whole, so a lot that brings nearly all of
/// something leaves no rounding residue.
fn without_each(own: &[Totals], water: Totals) -> Vec<Totals> {
    let mut without = Vec::with_capacity(own.len());
    let mut before = water;
    for lot in own {
        without.push(before);
        before = before.plus(lot);
    }
    let mut after = Totals::default();
    for (rest, lot) in without.iter_mut().zip(own).rev() {
        *rest = rest.plus(&after);
        after = after.plus(lot);
    }
    without
}

/// How far a gauge moves up and down, squares summed, and the lowest value seen.
#[derive(Clone, Copy)]
struct Moves {
    up_squared: f64,
    down_squared: f64,
    least: f64,
}

impl Moves {
    fn take(&mut self, typical: f64, ends: [f64; 2]) {
        let least = ends[0].min(ends[1]);
        self.least = self.least.min(least);
        let rise = (ends[0].max(ends[1]) - typical).max(0.0);
        let fall = (least - typical).min(0.0);
        self.up_squared += rise * rise;
        self.down_squared += fall * fall;
    }

    /// The range around the typical value. A C:N without nitrogen is infinite; what the ranges
    /// of nitrogen make of it at the least is then its lower end.
    fn range(self, typical: f64) -> Range {
        if typical.is_infinite() {
            return Range::new(self.least, typical, typical);
        }
        let low = (typical - self.down_squared.sqrt()).max(0.0);
        Range::new(low, typical, typical + self.up_squared.sqrt())
    }
}

/// Gauges with ranges; `None` without dry matter.
pub(super) fn gauges(parts: &[Part<'_>], water: Totals, totals: &Totals) -> Option<Gauges> {
    if totals.dry_kg <= 0.0 {
        return None;
    }
    let lots = lots(parts);
    let own: Vec<Totals> = lots
        .iter()
        .map(|lot| lot.totals(&Values::typical(lot.material)))
        .collect();
    let typical = gauge_values(totals);
    let mut moves = typical.map(|value| Moves {
        up_squared: 0.0,
        down_squared: 0.0,
        least: value,
    });
    for (lot, rest) in lots.iter().zip(without_each(&own, water)) {
        for ends in Values::moved(lot.material) {
            let [low, high] = ends.map(|values| gauge_values(&rest.plus(&lot.totals(&values))));
            for (gauge, moves) in moves.iter_mut().enumerate() {
                moves.take(typical[gauge], [low[gauge], high[gauge]]);
            }
        }
    }
    let mut ranges = [Range::exact(0.0); GAUGES];
    for (range, (moves, typical)) in ranges.iter_mut().zip(moves.iter().zip(typical)) {
        *range = moves.range(typical);
    }
    let [
        cn,
        cn_available,
        moisture,
        volume_m3,
        free_air_space,
        wet,
        dry,
    ] = ranges;
    let share = |range: Range| Range::new(range.low, range.typical, range.high.min(1.0));
    Some(Gauges {
        cn,
        cn_available,
        moisture: share(moisture),
        volume_m3,
        free_air_space: share(free_air_space),
        wet_bulk_density_kg_per_m3: wet,
        dry_bulk_density_kg_per_m3: dry,
    })
}

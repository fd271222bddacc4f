//! The change that helps a mix most.
//!
//! In: a mix as it stands. Out: one [`Proposal`], or none where nothing helps.
//!
//! Every unlocked ingredient is tried with whole and half measures more or fewer, water with round
//! amounts, then kinds of material that are not in the mix. The one that leaves the mix best is
//! taken, with something off for effort: less is better, what is there comes before what must be
//! fetched or thrown out. What advice has moved once stays as it is. Sums are linear in amounts, so a try costs some additions; the winner
//! is then blended in full.
//!
//! Not here: how bad a mix is (`standing`), how to say it (`wording`).
//!
//! Tested by: `tests/science/advice.rs`.

use std::sync::OnceLock;

use crate::material::{Catalogue, Material};
use crate::mix::{Change, Part, Totals, blend};
use crate::quantity::{Amount, LITRE_PER_US_GALLON, Measure, UnitSystem, bounds};

use super::draft::{Draft, Row};

/// Kinds of material worth looking for, dry and airy browns and greens wet and dry, with the effort
/// of fetching them on the scale of badness, `tuned`: hay is scarce in a garden.
const KINDS: [(&str, f64); 7] = [
    ("leaves_dry_loose", 0.35),
    ("straw", 0.35),
    ("cardboard", 0.35),
    ("wood_chips_arb", 0.40),
    ("grass_fresh", 0.35),
    ("veg_scraps", 0.40),
    ("hay_legume", 0.90),
];
/// Effort of leaving something out, and of leaving all of it out, `tuned`: what lies there is to be
/// composted.
const EFFORT_OF_LESS: (f64, f64) = (0.5, 1.5);
/// Effort of finding as much again of what is there, `tuned`; it grows as the logarithm.
const EFFORT_OF_MORE: f64 = 0.2;
/// Effort of moving as much as there is, `tuned`; twice that where it must be fetched.
const EFFORT_OF_DOUBLING: f64 = 0.20;
/// Least gain worth a sentence.
const WORTH_SAYING: f64 = 0.15;
/// Most small measures of something that must be fetched; beyond that it is said in barrows.
const MOST_SMALL_MEASURES: f64 = 8.0;

/// What is moved.
#[derive(Clone, Copy)]
pub(super) enum Moved<'a> {
    /// More (or less) of what is in a row.
    Row(usize, &'a Material),
    /// A material that is not in the mix, in the small measure or the large one.
    Kind(&'a Material, bool),
    /// Water.
    Water,
}

/// A change worth making.
pub(super) struct Proposal<'a> {
    pub(super) moved: Moved<'a>,
    /// How much is added, in words' measure; negative is taken away. Water is in litres.
    pub(super) step: Amount,
    /// Whether nothing of it is left.
    pub(super) all_of_it: bool,
    pub(super) change: Change,
    pub(super) after: Draft<'a>,
}

/// One try: so many of a measure of something.
#[derive(Clone, Copy)]
struct Try<'a> {
    moved: Moved<'a>,
    count: f64,
    all_of_it: bool,
    gain: f64,
}

/// The change that helps most, if any is worth saying.
pub(super) fn proposal<'a>(draft: &Draft<'a>) -> Option<Proposal<'a>> {
    let before = draft.standing()?.badness();
    let mut best: Option<Try<'a>> = None;
    let mut take = |candidate: Try<'a>| {
        if candidate.gain > best.map_or(WORTH_SAYING, |best| best.gain) {
            best = Some(candidate);
        }
    };
    for (place, row) in draft.rows.iter().enumerate() {
        if !row.settled {
            try_row(draft, before, (place, row), &mut take);
        }
    }
    if !draft.water_settled {
        try_water(draft, before, &mut take);
    }
    for (kind, effort) in kinds() {
        if draft.rows.iter().all(|row| row.material.id != kind.id) {
            try_kind(draft, before - effort, kind, &mut take);
        }
    }
    best.map(|chosen| carried_out(draft, &chosen))
}

/// Counts of a measure that a person would use: halves while few, then rounder ones.
fn counts(least_size: f64, most_size: f64) -> impl Iterator<Item = f64> {
    const FEW: [f64; 8] = [0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5, 4.0];
    const TENS: [f64; 9] = [5.0, 6.0, 7.0, 8.0, 10.0, 12.0, 15.0, 20.0, 30.0];
    let more = (0..5).flat_map(move |power| TENS.map(|count| count * 10f64.powi(power)));
    FEW.into_iter()
        .chain(more)
        .filter(move |count| *count >= least_size)
        .take_while(move |count| *count <= most_size)
}

/// The measure advice about a row is given in, and how many of it make one step.
fn spoken(measure: &Measure, draft: &Draft<'_>) -> (Measure, f64) {
    /// A mix from which on nobody weighs grams, kg.
    const NO_GRAMS_FROM_KG: f64 = 5.0;
    match (measure, draft.units) {
        (Measure::Gram, UnitSystem::Metric) if draft.totals.wet_kg() >= NO_GRAMS_FROM_KG => {
            (Measure::Kilogram, 1.0)
        }
        (Measure::Litre, UnitSystem::UsCustomary) => (Measure::Pail, 1.0),
        (Measure::Kilogram | Measure::Gram, UnitSystem::UsCustomary) => (Measure::Pound, 2.0),
        (Measure::Litre, UnitSystem::Metric) => (Measure::Litre, 10.0),
        (Measure::Gram, UnitSystem::Metric) => (Measure::Gram, 100.0),
        (Measure::Pound, _) => (Measure::Pound, 2.0),
        (other, _) => (other.clone(), 1.0),
    }
}

/// Effort of adding or taking this much of the whole.
fn effort(draft: &Draft<'_>, one: &Totals, count: f64) -> f64 {
    let whole = draft.totals.volume_m3().max(1e-9);
    EFFORT_OF_DOUBLING * count.abs() * one.loose_volume_m3 / whole
}

/// Most steps worth trying: four times what there is.
fn most_steps(draft: &Draft<'_>, one: &Totals) -> f64 {
    (4.0 * draft.totals.volume_m3() / one.loose_volume_m3.max(1e-12)).max(1.0)
}

fn sums_of(material: &Material, amount: &Amount) -> Totals {
    blend(&[Part::new(material, amount)], 0.0).totals
}

fn try_row<'a>(
    draft: &Draft<'a>,
    before: f64,
    (place, row): (usize, &Row<'a>),
    take: &mut impl FnMut(Try<'a>),
) {
    let (measure, size) = spoken(&row.amount.measure, draft);
    let density = row.material.bulk_density.typical;
    let step = Amount::new(size, measure.clone());
    let one = sums_of(row.material, &step);
    // One step in the row's own measure.
    let grows = step.said_in(row.amount.measure.clone(), density).value;
    let there = row.amount.said_in(measure, density).value / size;
    let moved = Moved::Row(place, row.material);
    let room = bounds::AMOUNT.high - row.amount.value;
    for count in counts(0.0, most_steps(draft, &one).min(room / grows)) {
        if let Some(after) = draft.badness_with(&one, count) {
            let more = match there {
                there if there > 0.0 => EFFORT_OF_MORE * (1.0 + count / there).log2(),
                _ => EFFORT_OF_MORE,
            };
            let gain = before - after - effort(draft, &one, count) - more;
            take(Try {
                moved,
                count: count * size,
                all_of_it: false,
                gain,
            });
        }
    }
    let fewer = counts(0.0, there * (1.0 - 1e-9)).map(|count| (count, false));
    for (count, all_of_it) in fewer.chain((there > 0.0).then_some((there, true))) {
        if let Some(after) = draft.badness_with(&one, -count) {
            let less = EFFORT_OF_LESS.0 + (EFFORT_OF_LESS.1 - EFFORT_OF_LESS.0) * count / there;
            let gain = before - after - less;
            take(Try {
                moved,
                count: -count * size,
                all_of_it,
                gain,
            });
        }
    }
}

/// One step of water, L: 5 L, or a gallon.
fn water_step_l(units: UnitSystem) -> f64 {
    match units {
        UnitSystem::Metric => 5.0,
        UnitSystem::UsCustomary => LITRE_PER_US_GALLON,
    }
}

fn try_water<'a>(draft: &Draft<'a>, before: f64, take: &mut impl FnMut(Try<'a>)) {
    let step_l = water_step_l(draft.units);
    let one = Totals {
        water_kg: step_l,
        ..Totals::default()
    };
    let most = (3.0 * draft.totals.wet_kg()).min(bounds::ADDED_WATER.high - draft.water_l) / step_l;
    let mut water = |count: f64, all_of_it: bool| {
        if let Some(after) = draft.badness_with(&one, count) {
            take(Try {
                moved: Moved::Water,
                count: count * step_l,
                all_of_it,
                gain: before - after,
            });
        }
    };
    // Half steps of water are not worth measuring out, except in a mix of a few kilograms.
    let least = if draft.totals.wet_kg() < 20.0 {
        0.0
    } else {
        1.0
    };
    for count in counts(least, most) {
        water(count, false);
    }
    let there = draft.water_l / step_l;
    for count in counts(least, there * (1.0 - 1e-9)) {
        water(-count, false);
    }
    if there > 0.0 {
        water(-there, true);
    }
}

/// A small measure and a large one for something that must be fetched.
fn fetching_measures(units: UnitSystem) -> [Measure; 2] {
    match units {
        UnitSystem::Metric => [Measure::Bucket, Measure::Barrow],
        UnitSystem::UsCustomary => [Measure::Pail, Measure::Barrow],
    }
}

fn try_kind<'a>(
    draft: &Draft<'a>,
    before: f64,
    kind: &'a Material,
    take: &mut impl FnMut(Try<'a>),
) {
    let measures = fetching_measures(draft.units);
    for (measure, most) in measures.iter().zip([MOST_SMALL_MEASURES, f64::INFINITY]) {
        let one = sums_of(kind, &Amount::new(1.0, measure.clone()));
        for count in counts(0.0, most.min(most_steps(draft, &one))) {
            if let Some(after) = draft.badness_with(&one, count) {
                take(Try {
                    moved: Moved::Kind(kind, most.is_infinite()),
                    count,
                    all_of_it: false,
                    gain: before - after - 2.0 * effort(draft, &one, count),
                });
            }
        }
    }
}

/// The chosen try as a change, blended in full.
fn carried_out<'a>(draft: &Draft<'a>, chosen: &Try<'a>) -> Proposal<'a> {
    let count = chosen.count;
    let (step, change, after) = match chosen.moved {
        Moved::Row(place, material) => {
            let row = &draft.rows[place];
            let (measure, _) = spoken(&row.amount.measure, draft);
            let step = Amount::new(count, measure);
            let density = material.bulk_density.typical;
            let moved = step.said_in(row.amount.measure.clone(), density).value;
            let left = if chosen.all_of_it {
                0.0
            } else {
                row.amount.value + moved
            };
            let amount = Amount::new(left.max(0.0), row.amount.measure.clone());
            let after = draft.with_amount(place, amount.clone());
            (step, Change::Amount { row: place, amount }, after)
        }
        Moved::Kind(material, large) => {
            let [small_measure, large_measure] = fetching_measures(draft.units);
            let measure = if large { large_measure } else { small_measure };
            let amount = Amount::new(count, measure);
            let change = Change::Add {
                material: material.id.clone(),
                amount: amount.clone(),
            };
            let after = draft.with_material(material, amount.clone());
            (amount, change, after)
        }
        Moved::Water => {
            let left = if chosen.all_of_it {
                0.0
            } else {
                draft.water_l + count
            };
            let litres = left.max(0.0);
            let after = draft.with_water(litres);
            (
                Amount::new(count, Measure::Litre),
                Change::Water { litres },
                after,
            )
        }
    };
    Proposal {
        moved: chosen.moved,
        step,
        all_of_it: chosen.all_of_it,
        change,
        after,
    }
}

/// Kinds worth looking for, from the built-in catalogue, read once.
fn kinds() -> &'static [(Material, f64)] {
    static KINDS_READ: OnceLock<Vec<(Material, f64)>> = OnceLock::new();
    KINDS_READ.get_or_init(|| {
        Catalogue::built_in().map_or_else(
            // A damaged table is reported where the program starts; advice then knows no kinds.
            |_| Vec::new(),
            |catalogue| {
                KINDS
                    .iter()
                    .filter_map(|(id, effort)| Some((catalogue.find(id)?.clone(), *effort)))
                    .collect()
            },
        )
    })
}

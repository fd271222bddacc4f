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
//! Not here: how bad a mix is (`standing`), what is said of it (`steps`).
//!
//! Tested by: `tests/science/advice.rs`.

use crate::material::Material;
use crate::mix::dose::most_m3;
use crate::mix::{Change, Part, Totals, blend};
use crate::quantity::{Amount, LITRE_PER_US_GALLON, Measure, bounds};

use super::draft::{Draft, Row};
use super::fetch::{Fetch, kinds};

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

/// In which measure something is fetched.
#[derive(Clone, Copy)]
pub(super) enum Size {
    Small,
    Large,
}

/// What is moved.
#[derive(Clone, Copy)]
pub(super) enum Moved<'a> {
    /// More (or less) of what is in a row.
    Row(usize, &'a Material),
    /// A material that is not in the mix.
    Kind(&'a Fetch, Size),
    /// Water.
    Water,
}

/// A change worth making.
pub(super) struct Proposal<'a> {
    pub(super) moved: Moved<'a>,
    /// How much is added, in the measure it is told in; negative is taken away. Water is in litres.
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
    for kind in kinds() {
        if draft
            .rows
            .iter()
            .all(|row| row.material.id != kind.material.id)
        {
            try_kind(draft, before - kind.effort, kind, &mut take);
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

/// Whether amounts are measured in US household measures, by what stands in the mix.
fn in_us_measures(draft: &Draft<'_>) -> bool {
    let us = |measure: &Measure| {
        matches!(
            measure,
            Measure::Pail | Measure::CubicFoot | Measure::CubicYard | Measure::Pound
        )
    };
    draft.rows.iter().any(|row| us(&row.amount.measure))
}

/// The measure advice about a row is given in, and how many of it make one step.
fn step_of(measure: &Measure, draft: &Draft<'_>) -> (Measure, f64) {
    /// A mix from which on nobody weighs grams, kg.
    const NO_GRAMS_FROM_KG: f64 = 5.0;
    match measure {
        Measure::Gram if draft.totals.wet_kg() >= NO_GRAMS_FROM_KG => (Measure::Kilogram, 1.0),
        Measure::Litre => (Measure::Litre, 10.0),
        Measure::Gram => (Measure::Gram, 100.0),
        Measure::Pound => (Measure::Pound, 2.0),
        other => (other.clone(), 1.0),
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

/// Whether the heap takes so many of one in all.
fn takes(draft: &Draft<'_>, material: &Material, one: &Totals, count: f64) -> bool {
    let most_m3 = most_m3(material, draft.totals.volume_m3());
    most_m3.is_none_or(|most_m3| count * one.loose_volume_m3 <= most_m3)
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
    let (measure, size) = step_of(&row.amount.measure, draft);
    let density = row.material.bulk_density.typical;
    let step = Amount::new(size, measure.clone());
    let one = sums_of(row.material, &step);
    // One step in the row's own measure.
    let grows = step.said_in(row.amount.measure.clone(), density).value;
    let there = row.amount.said_in(measure, density).value / size;
    let moved = Moved::Row(place, row.material);
    let room = row.most() - row.amount.value;
    let most = most_steps(draft, &one).min(room / grows);
    for count in counts(0.0, most * (1.0 + 1e-9)) {
        if !takes(draft, row.material, &one, there + count) {
            break;
        }
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

/// One step of water, L: 5 L, or a gallon where the mix is measured in US measures.
fn water_step_l(draft: &Draft<'_>) -> f64 {
    if in_us_measures(draft) {
        LITRE_PER_US_GALLON
    } else {
        5.0
    }
}

fn try_water<'a>(draft: &Draft<'a>, before: f64, take: &mut impl FnMut(Try<'a>)) {
    let step_l = water_step_l(draft);
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
fn fetching_measures(draft: &Draft<'_>) -> [Measure; 2] {
    let small = if in_us_measures(draft) {
        Measure::Pail
    } else {
        Measure::Bucket
    };
    [small, Measure::Barrow]
}

fn try_kind<'a>(draft: &Draft<'a>, before: f64, kind: &'a Fetch, take: &mut impl FnMut(Try<'a>)) {
    let measures = fetching_measures(draft);
    let most = [
        (Size::Small, MOST_SMALL_MEASURES),
        (Size::Large, f64::INFINITY),
    ];
    for (measure, (size, most)) in measures.iter().zip(most) {
        let one = sums_of(&kind.material, &Amount::new(1.0, measure.clone()));
        for count in counts(0.0, most.min(most_steps(draft, &one))) {
            if !takes(draft, &kind.material, &one, count) {
                break;
            }
            if let Some(after) = draft.badness_with(&one, count) {
                take(Try {
                    moved: Moved::Kind(kind, size),
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
            let (measure, _) = step_of(&row.amount.measure, draft);
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
        Moved::Kind(Fetch { material, .. }, size) => {
            let [small, large] = fetching_measures(draft);
            let measure = match size {
                Size::Small => small,
                Size::Large => large,
            };
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

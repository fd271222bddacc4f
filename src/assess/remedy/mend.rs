//! One factor of a heap mended, or spoilt, everything else left as it is.
//!
//! In: what a run needs, a cause. Out: the same with that cause taken away ([`mended`]) or put in ([`spoilt`]); `None`
//! where it is not there to take away, or the simulation knows nothing of it.
//!
//! These are no cures: nitrogen comes without its water, water without its weight, so that one thing alone is tried.
//! Where a mend brings matter (greens, browns) dry matter, moisture and the way it lies stay as they were.
//! Not here: cures in buckets (`cure`), what a gain amounts to (`outcome::complaint`).
//!
//! Tested by: `tests/science/complaint.rs`.

use crate::assess::resolved::Mixed;
use crate::forecast::Inputs;
use crate::heap::{Cover, Event, Lid, Operation, Placing, Shape, Turning};
use crate::material::Catalogue;
use crate::mix::{CarbonNitrogen, Ingredient, Mix, Totals, bands, carbon_nitrogen_partner};
use crate::outcome::complaint::{BIG_FROM_M3, Cause};
use crate::quantity::{Amount, Measure};

/// C:N that a mend goes to (middle of the best band, Cooperband 2002).
pub(super) const CN_WANTED: f64 = 30.0;
/// Moisture that a mend goes to, wet basis (best 50-60 %, The Composting Handbook 2022).
const MOISTURE_WANTED: f64 = 0.58;
/// Share that is left of a heap that is split.
const SPLIT: f64 = 0.25;
/// Gain of particle size, of volume and of what stays of the slump when coarse pieces open a mix, factors (tuned: a
/// quarter of chips or straw among grass).
const OPENED: [f64; 3] = [1.8, 1.2, 0.5];
/// Loss of both when a mix mats, factors (tuned: the same way back and a little further).
const MATTED: [f64; 2] = [0.4, 0.75];
/// Straw that is laid over a heap, m (common practice: a hand's length).
pub(super) const STRAW_M: f64 = 0.15;
/// Days between turnings, and how many (common practice: weekly for two months).
const TURNED: (f64, u32) = (7.0, 8);
/// Portions of a heap built bit by bit, one a week (common practice: the kitchen's and the lawn's pace).
const PORTIONS: u32 = 10;
/// What a heap has when it is spoilt: moisture dry and wet, C:N lean and rich, mol of lime per kg. Its size
/// is seen, and never put in question.
const SPOILT_DRY: f64 = 0.33;
const SPOILT_WET: f64 = 0.75;
const SPOILT_LEAN_CN: f64 = 60.0;
const SPOILT_RICH_CN: f64 = 14.0;
const SPOILT_LIME_MOL_PER_KG: f64 = 0.3;
/// Least difference of monthly means for which another season is tried, K.
const SEASON_K: f64 = 4.0;

/// What a mend is done with: what stands for greens and for browns is what every garden has most of.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stuff {
    greens: Option<Totals>,
    browns: Option<Totals>,
    /// Moisture to which a turning wets; `None` where the heap is wet enough.
    wet_to: Option<f64>,
}

impl Stuff {
    /// Grass and straw of the catalogue.
    pub fn of(catalogue: &Catalogue, wet_to: Option<f64>) -> Self {
        let kilogram = |id: &str| {
            let amount = Amount::new(1.0, Measure::Kilogram);
            let mix = Mix {
                ingredients: vec![Ingredient::new(id, amount)],
                added_water_l: 0.0,
            };
            Some(Mixed::of(&mix, catalogue).ok()?.blend.totals)
        };
        Self {
            greens: kilogram("grass_fresh"),
            browns: kilogram("straw"),
            wet_to,
        }
    }
}

/// The heap with this cause taken away.
pub(super) fn mended(cause: Cause, inputs: &Inputs, stuff: &Stuff) -> Option<Inputs> {
    let mut new = inputs.clone();
    let whole = whole(inputs);
    match cause {
        Cause::ShortOfNitrogen if whole.cn() > bands::CN.best.1 => {
            each(&mut new, |t| *t = with_some(t, &stuff.greens, CN_WANTED));
        }
        Cause::MuchNitrogen if whole.cn() < CN_WANTED => {
            each(&mut new, |t| *t = with_some(t, &stuff.browns, CN_WANTED));
        }
        Cause::MuchFood => {
            // As much straw as there is matter.
            let browns = stuff.browns?;
            each(&mut new, |t| {
                *t = kept(t, &t.plus_times(&browns, t.dry_kg / browns.dry_kg))
            });
            each(&mut new, open);
        }
        Cause::TooDry if whole.moisture() < bands::MOISTURE.best.0 + 0.03 => {
            wet(&mut new, MOISTURE_WANTED)
        }
        Cause::TooWet if whole.moisture() > bands::MOISTURE.best.1 => {
            wet(&mut new, MOISTURE_WANTED)
        }
        Cause::LittleAir => each(&mut new, open),
        Cause::LimeOrAsh if whole.liming_mol > 0.01 * whole.dry_kg => {
            each(&mut new, |t| t.liming_mol = 0.0);
        }
        Cause::TooSmall if whole.volume_m3() < bands::KEEPS_HEAT_FROM_M3 => {
            scale(
                &mut new,
                bands::GOOD_VOLUME_M3 / whole.volume_m3().max(1e-6),
            );
        }
        Cause::TooBig if whole.volume_m3() > BIG_FROM_M3 => scale(&mut new, SPLIT),
        Cause::ColdSeason => {
            let (coldest, warmest) = seasons(&new);
            let now = month_mean(&new, new.heap.start_day_of_year);
            if warmest.1 - now < SEASON_K.min(0.5 * (warmest.1 - coldest.1)) {
                return None;
            }
            new.heap.start_day_of_year = warmest.0;
        }
        Cause::ColdSkin => {
            if new.heap.cover != Cover::Bare {
                return None;
            }
            new.heap.cover = Cover::Straw {
                thickness_m: STRAW_M,
            };
        }
        Cause::Rain => {
            if new.heap.cover == Cover::Sheet {
                return None;
            }
            new.heap.cover = Cover::Sheet;
            if let Shape::SolidBin { lid, .. } = &mut new.heap.shape {
                *lid = Lid::Closed;
            }
        }
        Cause::BitByBit if !inputs.additions.is_empty() => {
            new.totals = whole;
            drop_additions(&mut new);
        }
        Cause::NotTurned
            if inputs.heap.plan.turning_days(inputs.heap.days).len() < TURNED.1 as usize =>
        {
            turn(&mut new, stuff.wet_to);
        }
        _ => return None,
    }
    Some(new)
}

/// The heap with this cause put in.
pub(super) fn spoilt(cause: Cause, inputs: &Inputs) -> Option<Inputs> {
    let mut new = inputs.clone();
    let whole = whole(inputs);
    match cause {
        Cause::TooDry if whole.moisture() > SPOILT_DRY => wet(&mut new, SPOILT_DRY),
        Cause::TooWet if whole.moisture() < SPOILT_WET => wet(&mut new, SPOILT_WET),
        Cause::ShortOfNitrogen if whole.cn() < SPOILT_LEAN_CN => {
            let factor = whole.cn() / SPOILT_LEAN_CN;
            each(&mut new, |t| nitrogen_times(t, factor));
        }
        Cause::MuchNitrogen if whole.cn() > SPOILT_RICH_CN => {
            let factor = whole.cn() / SPOILT_RICH_CN;
            each(&mut new, |t| nitrogen_times(t, factor));
        }
        Cause::LittleAir => each(&mut new, mat),
        Cause::LimeOrAsh => each(&mut new, |t| {
            t.liming_mol += SPOILT_LIME_MOL_PER_KG * t.dry_kg
        }),
        Cause::ColdSeason => new.heap.start_day_of_year = seasons(&new).0.0,
        Cause::BitByBit if inputs.additions.is_empty() => bit_by_bit(&mut new),
        Cause::NotTurned => {
            let events = &mut new.heap.plan.events;
            let adds = |event: &Event| matches!(event.operation, Operation::Add { .. });
            if !new.additions.is_empty() || events.iter().all(adds) {
                return None;
            }
            events.clear();
        }
        _ => return None,
    }
    Some(new)
}

/// The moisture of all that goes in.
pub(super) fn wet(inputs: &mut Inputs, moisture: f64) {
    each(inputs, |t| {
        t.water_kg = t.dry_kg * moisture / (1.0 - moisture)
    });
}

/// Sums of all that goes in.
pub(super) fn whole(inputs: &Inputs) -> Totals {
    inputs.heap.plan.whole(&inputs.totals, &inputs.additions)
}

/// The same done to all that goes in.
pub(super) fn each(inputs: &mut Inputs, mut change: impl FnMut(&mut Totals)) {
    change(&mut inputs.totals);
    for (_, totals) in &mut inputs.additions {
        change(totals);
    }
}

/// With so much of another stuff that it comes to this C:N; the same where it pulls the other way.
fn with_some(of: &Totals, stuff: &Option<Totals>, cn: f64) -> Totals {
    let Some(stuff) = stuff else { return *of };
    let held = |totals: &Totals| CarbonNitrogen {
        carbon: totals.carbon_kg,
        nitrogen: totals.nitrogen_kg,
    };
    carbon_nitrogen_partner(held(of), held(stuff), cn)
        .map_or(*of, |times| kept(of, &of.plus_times(stuff, times)))
}

/// The make-up of `new` with the dry matter, the water and the lie of `old`.
fn kept(old: &Totals, new: &Totals) -> Totals {
    let share = old.dry_kg / new.dry_kg.max(1e-12);
    let scaled = Totals::default().plus_times(new, share);
    Totals {
        water_kg: old.water_kg,
        loose_volume_m3: old.loose_volume_m3,
        piled_volume_m3: old.piled_volume_m3,
        volume_log_size_m3: old.volume_log_size_m3,
        volume_that_slumps_m3: old.volume_that_slumps_m3,
        water_held_kg: old.water_held_kg,
        ..scaled
    }
}

fn open(totals: &mut Totals) {
    let [size, room, slump] = OPENED;
    totals.piled_volume_m3 *= room;
    totals.volume_log_size_m3 *= room;
    totals.volume_log_size_m3 += totals.piled_volume_m3 * size.ln();
    totals.volume_that_slumps_m3 *= room * slump;
}

fn mat(totals: &mut Totals) {
    let [size, room] = MATTED;
    totals.piled_volume_m3 *= room;
    totals.volume_log_size_m3 *= room;
    totals.volume_log_size_m3 += totals.piled_volume_m3 * size.ln();
    totals.volume_that_slumps_m3 *= room;
}

fn nitrogen_times(totals: &mut Totals, factor: f64) {
    totals.nitrogen_kg *= factor;
    totals.nitrogen_at_once_kg *= factor;
}

/// So many times as much in a bin that is as much larger.
fn scale(inputs: &mut Inputs, factor: f64) {
    each(inputs, |t| *t = Totals::default().plus_times(t, factor));
    inputs.heap.shape = inputs.heap.shape.scaled(factor);
}

/// First day and mean of the coldest and of the warmest month.
fn seasons(inputs: &Inputs) -> ((f64, f64), (f64, f64)) {
    let months = (0..12).map(|month| {
        let day = 1.0 + 30.4 * f64::from(month);
        (day, month_mean(inputs, day))
    });
    let first = (1.0, month_mean(inputs, 1.0));
    months.fold((first, first), |(cold, warm), month| {
        (
            if month.1 < cold.1 { month } else { cold },
            if month.1 > warm.1 { month } else { warm },
        )
    })
}

/// Mean air of the month that begins on a day, degC.
fn month_mean(inputs: &Inputs, day: f64) -> f64 {
    let climate = &inputs.heap.climate;
    let days = (0..30).map(|later| climate.daily_mean_c(day + f64::from(later)));
    days.sum::<f64>() / 30.0
}

fn drop_additions(inputs: &mut Inputs) {
    inputs.additions.clear();
    let events = &mut inputs.heap.plan.events;
    events.retain(|event| !matches!(event.operation, Operation::Add { .. }));
}

/// Turned inside out every week, wetted where it is drier than that, in place of what the plan turns and waters.
fn turn(inputs: &mut Inputs, wet_to: Option<f64>) {
    // Additions are told by their place in the list, so what stays keeps its place and turnings come behind it.
    let mut place = 0;
    let mut kept = Vec::new();
    let mut additions = Vec::new();
    for (index, event) in inputs.heap.plan.events.iter().enumerate() {
        if event.operation.turns_or_waters() {
            continue;
        }
        if let Some((_, totals)) = inputs.additions.iter().find(|(at, _)| *at == index) {
            additions.push((place, *totals));
        }
        kept.push(event.clone());
        place += 1;
    }
    kept.extend((1..=TURNED.1).map(|time| Event {
        repeat: None,
        day: TURNED.0 * f64::from(time),
        operation: Operation::Turn {
            turning: Turning::InsideOut,
            wet_to,
        },
    }));
    inputs.heap.plan.events = kept;
    inputs.additions = additions;
}

/// In so many portions, one a week, each on top.
fn bit_by_bit(inputs: &mut Inputs) {
    let portion = Totals::default().plus_times(&inputs.totals, 1.0 / f64::from(PORTIONS));
    let first = inputs.heap.plan.events.len();
    for time in 1..PORTIONS {
        inputs.additions.push((first + time as usize - 1, portion));
        inputs.heap.plan.events.push(Event {
            repeat: None,
            day: 7.0 * f64::from(time),
            operation: Operation::Add {
                mix: Mix::default(),
                placing: Placing::OnTop,
            },
        });
    }
    inputs.totals = portion;
}

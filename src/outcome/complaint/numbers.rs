//! The numbers of a heap that speak for or against causes.
//!
//! In: mix, place, plan, projection, what was read by hand. Out: [`Numbers`].
//!
//! A squeeze in the hand counts instead of the recipe's own moisture, and so does what a diary taught.
//! Not here: how much a number speaks for a cause (`standing`).
//!
//! Tested by: `tests/science/complaint.rs`.

use crate::heap::{Addition, Cover, Heap, Lid, Operation, Projection, Shape};
use crate::material::{Family, Structure};
use crate::mix::{Part, PartShare, Totals};

/// Days after it was built over which the season counts: the time in which a heap lights.
const LIGHTS_DAYS: f64 = 30.0;

/// What a squeeze in the hand tells (common practice; moistures from the squeeze tests of extension leaflets).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Squeeze {
    /// Falls apart, dusty.
    Dust,
    /// Holds together for a moment, no shine.
    Crumbles,
    /// Like a wrung-out sponge: a drop or two.
    Sponge,
    /// Water runs between the fingers.
    Trickles,
    /// Water runs without squeezing.
    Soggy,
}

impl Squeeze {
    /// All of them, the driest first.
    pub const ALL: [Self; 5] = [
        Self::Dust,
        Self::Crumbles,
        Self::Sponge,
        Self::Trickles,
        Self::Soggy,
    ];

    /// The moisture that it stands for, wet basis.
    pub fn moisture(self) -> f64 {
        match self {
            Self::Dust => 0.30,
            Self::Crumbles => 0.42,
            Self::Sponge => 0.55,
            Self::Trickles => 0.68,
            Self::Soggy => 0.76,
        }
    }
}

/// Whether anybody said if the heap is turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum TurningKnown {
    /// The plan tells.
    #[default]
    ByPlan,
    /// Nobody asked.
    NotAsked,
}

/// What was found out by hand at the heap itself. More kinds of reading join here.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Readings {
    /// Whether turning was asked about.
    pub turning: TurningKnown,
    /// A squeeze in the hand: it counts instead of the recipe's own moisture.
    pub squeeze: Option<Squeeze>,
    /// Days since that squeeze where it stands in a diary; `None`: squeezed now.
    pub squeezed_days_ago: Option<f64>,
    /// Moisture as learnt from a diary, wet basis; it counts where nothing was squeezed.
    pub learnt_moisture: Option<f64>,
    /// Temperature of the middle now, degC.
    pub now_c: Option<f64>,
    /// Days since it was built, or since it was begun.
    pub age_days: Option<f64>,
}

/// What a moisture is known by.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum MoistureBy {
    /// What went in.
    Recipe,
    /// A squeeze in the hand, now.
    Squeeze,
    /// A squeeze that stands in a diary, so many days ago.
    Diary(f64),
    /// What a diary taught of the heap.
    Learnt,
}

/// What is looked at.
#[derive(Debug, Clone, Copy)]
pub struct HeapSeen<'a> {
    /// Ingredients of the mix.
    pub parts: &'a [Part<'a>],
    /// The share of each in the mix.
    pub shares: &'a [PartShare],
    /// Sums of the mix.
    pub totals: &'a Totals,
    /// Sums of what the plan adds.
    pub additions: &'a [Addition],
    /// The heap.
    pub heap: &'a Heap,
    /// What would become of it.
    pub projection: Option<&'a Projection>,
    /// What was read by hand.
    pub readings: Readings,
}

/// The numbers of a heap that speak for or against causes.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Numbers {
    /// C:N of all that goes in.
    pub cn: f64,
    /// Moisture of all that goes in, wet basis.
    pub moisture: f64,
    /// Free air space once settled, share.
    pub air_space: f64,
    /// Volume of all that goes in, m3.
    pub volume_m3: f64,
    /// Kitchen scraps and food, share of the volume.
    pub food: f64,
    /// What mats or slumps, share of the volume.
    pub matting: f64,
    /// Coarse and woody pieces, share of the volume.
    pub coarse: f64,
    /// Grass, straw, hay and manure, share of the volume.
    pub sprayable: f64,
    /// Acid that its lime and ash neutralise, mol per kg of dry matter.
    pub lime_mol_per_kg: f64,
    /// Day of the year it is built.
    pub start_day: f64,
    /// Mean air temperature while it lights, degC.
    pub air_c: f64,
    /// Rain while it lights, mm a month.
    pub rain_mm: f64,
    /// Whether rain is kept off.
    pub roofed: bool,
    /// Whether nothing lies over it and no lid closes it.
    pub bare: bool,
    /// Later additions, and the day of the last.
    pub additions: (usize, f64),
    /// Turnings in its plan; `None` where nobody asked.
    pub turnings: Option<usize>,
    /// Peak of the projection, degC.
    pub peak_c: Option<f64>,
    /// Rot held back for lack of air in the projection, share.
    pub airless: Option<f64>,
    /// Days since it was built, as told.
    pub age_days: Option<f64>,
    /// What the moisture is known by.
    pub moisture_by: MoistureBy,
    /// Temperature of the middle now, degC, as measured.
    pub now_c: Option<f64>,
}

fn moisture_by(readings: &Readings) -> MoistureBy {
    match (readings.squeeze, readings.squeezed_days_ago) {
        (Some(_), Some(days)) => MoistureBy::Diary(days),
        (Some(_), None) => MoistureBy::Squeeze,
        (None, _) if readings.learnt_moisture.is_some() => MoistureBy::Learnt,
        (None, _) => MoistureBy::Recipe,
    }
}

/// The numbers of a heap.
pub fn numbers(seen: &HeapSeen<'_>) -> Numbers {
    let all = seen.heap.plan.whole(seen.totals, seen.additions);
    let share = |holds: &dyn Fn(&Part<'_>) -> bool| -> f64 {
        let rows = seen.parts.iter().zip(seen.shares);
        let held = rows.filter(|(part, _)| holds(part));
        // A sum of nothing is minus nought.
        held.map(|(_, share)| share.volume).sum::<f64>() + 0.0
    };
    let heap = seen.heap;
    let lights: Vec<f64> = (0..LIGHTS_DAYS as u32)
        .map(|day| heap.start_day_of_year + f64::from(day))
        .collect();
    let mean =
        |of: &dyn Fn(f64) -> f64| lights.iter().map(|day| of(*day)).sum::<f64>() / LIGHTS_DAYS;
    let plan = heap.plan.in_order().into_iter();
    let added = plan.filter_map(|due| {
        let adds = matches!(due.operation, Operation::Add { .. });
        adds.then_some(due.day)
    });
    let lid = matches!(
        heap.shape,
        Shape::SolidBin {
            lid: Lid::Closed,
            ..
        }
    );
    Numbers {
        cn: all.cn(),
        moisture: seen
            .readings
            .squeeze
            .map(Squeeze::moisture)
            .or(seen.readings.learnt_moisture)
            .unwrap_or(all.moisture()),
        air_space: all.settled_air_space(),
        volume_m3: all.volume_m3(),
        food: share(&|part| part.material.family == Family::Kitchen),
        matting: share(&|part| {
            matches!(
                part.material.structure,
                Structure::Slumping | Structure::Sheet | Structure::Dense | Structure::Leafy
            )
        }),
        coarse: share(&|part| {
            part.material.structure == Structure::Coarse || part.material.traits.wood > 0.5
        }),
        sprayable: share(&|part| {
            matches!(
                part.material.family,
                Family::Grass | Family::StrawHay | Family::Manure
            )
        }),
        lime_mol_per_kg: all.liming_mol / all.dry_kg.max(1e-9),
        start_day: heap.start_day_of_year,
        air_c: mean(&|day| heap.climate.daily_mean_c(day)),
        rain_mm: mean(&|day| heap.climate.rain_mm_per_day(day)) * LIGHTS_DAYS,
        roofed: lid || heap.cover == Cover::Sheet,
        bare: !lid && heap.cover == Cover::Bare,
        additions: added.fold((0, 0.0), |(count, last), day| {
            (count + 1, f64::max(last, day))
        }),
        turnings: (seen.readings.turning == TurningKnown::ByPlan)
            .then(|| heap.plan.turning_days(heap.days).len()),
        peak_c: seen.projection.map(|p| p.summary.peak_c),
        airless: seen.projection.map(|p| p.summary.airless_share),
        age_days: seen.readings.age_days,
        moisture_by: moisture_by(&seen.readings),
        now_c: seen.readings.now_c,
    }
}

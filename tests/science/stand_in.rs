//! A simulator that simulates nothing: its answers follow from its inputs by one line each, so that what
//! an ensemble or a worker makes of them can be told beforehand.

use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use heapwright::forecast::{Ensemble, Inputs};
use heapwright::heap::{
    Addition, Ended, Heap, Hottest, Kinetics, Ledger, Left, Projection, Record, RunControl, Summary,
};
use heapwright::mix::Totals;

use crate::support::heaps::{GOOD, mesh_cube};

/// A run of this many days waits until it is called off.
pub const ENDLESS_DAYS: f64 = 7.0;
/// A run of this many days panics.
pub const BROKEN_DAYS: f64 = 13.0;
/// An endless run gives up by itself after this; a test then fails instead of hanging.
const PATIENCE: Duration = Duration::from_secs(60);

/// A good mix in a cube of mesh for so many days.
pub fn inputs(days: f64) -> Inputs {
    let mut heap = mesh_cube(1.0, 15.0);
    heap.days = days;
    Inputs::of(&GOOD.totals(), &heap)
}

/// A record with this temperature at the centre, 0 elsewhere.
pub fn record(day: f64, centre_c: f64) -> Record {
    Record {
        day,
        centre_c,
        middle_c: 0.0,
        edge_c: 0.0,
        mean_c: 0.0,
        ambient_c: 0.0,
        moisture: 0.0,
        oxygen: 0.0,
        dry_kg: 0.0,
        water_kg: 0.0,
        nitrogen_kg: 0.0,
        ammonia_kg: 0.0,
        volume_m3: 0.0,
        left: Left::default(),
    }
}

/// A projection of these records.
pub fn projection(records: Vec<Record>, summary: Summary, ended: Ended) -> Projection {
    Projection {
        records,
        fields: Vec::new(),
        grids: Vec::new(),
        parcels: Vec::new(),
        summary,
        ledger: Ledger::default(),
        ended,
        steps: 1,
    }
}

/// The record of a kilogram of dry matter that is finished: nothing left to rot, C:N 10.
fn finished_record(day: f64, centre_c: f64) -> Record {
    let mut record = record(day, centre_c);
    record.dry_kg = 1.0;
    record.nitrogen_kg = 0.04;
    record.left = Left {
        carbon_kg: 0.4,
        pools_kg: [0.0; 3],
        microbes_kg: 0.0,
        carbon_share: 0.47,
    };
    record
}

/// The record of the same when it is fresh: C:N 40.
fn fresh_record(day: f64, centre_c: f64) -> Record {
    let mut record = finished_record(day, centre_c);
    record.nitrogen_kg = 0.01;
    record
}

/// The peak stands for the rate of the fast pool.
pub fn summary(kinetics: &Kinetics) -> Summary {
    Summary {
        peak_c: kinetics.fast_per_day,
        peak_day: 0.0,
        hottest: Hottest {
            temperature_c: kinetics.fast_per_day,
            day: 0.0,
            up: 0.5,
            out: 0.0,
        },
        days_above_40: 0.0,
        days_above_55: kinetics.crowding,
        airless_share: 0.0,
        nitrogen_lost_share: kinetics.ammonia_free_share,
        dry_matter_lost_share: 0.0,
    }
}

/// Answers at once: the centre rises from 0 to the rate of the fast pool in a straight line. It is finished on the
/// day of the C:N of microbes, if that is a day and more before the end.
pub fn simulate(
    totals: &Totals,
    _: &[Addition],
    heap: &Heap,
    kinetics: &Kinetics,
    control: RunControl<'_>,
) -> Option<Projection> {
    assert!(heap.days != BROKEN_DAYS, "thirteen days are too many");
    let began = Instant::now();
    while heap.days == ENDLESS_DAYS
        && !control.stop.load(Ordering::Relaxed)
        && began.elapsed() < PATIENCE
    {
        std::thread::sleep(Duration::from_millis(1));
    }
    let ended = if control.stop.load(Ordering::Relaxed) {
        Ended::Cancelled { day: 1.0 }
    } else {
        Ended::Finished
    };
    let rate = kinetics.fast_per_day;
    let mut records = vec![fresh_record(0.0, 0.0)];
    let day = kinetics.microbe_cn;
    if day <= heap.days - 1.0 {
        records.push(finished_record(day, rate * day / heap.days));
        records.push(finished_record(heap.days, rate));
    } else {
        records.push(fresh_record(heap.days, rate));
    }
    (totals.dry_kg > 0.0).then(|| projection(records, summary(kinetics), ended))
}

/// A flag that calls nothing off.
pub fn never() -> AtomicBool {
    AtomicBool::new(false)
}

/// An ensemble of so many stand-ins.
pub fn ensemble(count: usize) -> Ensemble {
    Ensemble {
        count,
        simulator: simulate,
        ..Ensemble::default()
    }
}

/// Something that alters the answers of the stand-in.
pub trait Alters {
    /// Alters an answer by the rates it was asked with.
    fn alter(projection: &mut Projection, kinetics: &Kinetics);
}

/// The stand-in with altered answers.
pub fn altered<A: Alters>(
    totals: &Totals,
    additions: &[Addition],
    heap: &Heap,
    kinetics: &Kinetics,
    how: RunControl<'_>,
) -> Option<Projection> {
    let mut projection = simulate(totals, additions, heap, kinetics, how)?;
    A::alter(&mut projection, kinetics);
    Some(projection)
}

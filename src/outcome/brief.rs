//! The judgement of one member of an ensemble: little enough to keep two hundred of them.
//!
//! In: a projection, the facts, the days of turning. Out: [`Brief`], yes or no and a few numbers.
//!
//! Every fourth parcel is looked at: they lie in order of their places, so a quarter of them stands for the
//! same shares to one or two in a hundred.
//!
//! Not here: the whole judgement (`judge`), counting over members (`forecast`).
//!
//! Tested by: `tests/science/outcome.rs`.

use crate::heap::{Heap, Kinetics, Moment, Projection, Record, Shape};

use super::finish::finished_day;
use super::flask::carbon_nitrogen;
use super::sanitation::HeatEvidence;
use super::smell::{TroubleKind, troubles_found};
use super::tables::Facts;
use super::turns::courses;

/// One parcel in so many is looked at.
const EVERY: usize = 4;
/// Lowest temperature that any table counts in a parcel, degC; `tests/science/outcome.rs` holds it.
pub const COUNTS_FROM_C: f64 = 40.0;

/// What became of a member.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Brief {
    /// Whether each rule would be met, in the order of the table.
    pub rules_met: Vec<bool>,
    /// Share of the heap that had enough for each class of plants, 0-1.
    pub plant_shares: Vec<f32>,
    /// Share of the heap that had enough for the first germ of the table, 0-1.
    pub germ_share: f32,
    /// Day finished.
    pub finished_day: Option<f64>,
    /// Troubles found.
    pub troubles: Vec<TroubleKind>,
    /// Mass, dry matter and nitrogen at the end, nitrogen lost as ammonia, as dinitrogen and with drained water, kg.
    pub mass_kg: [f64; 6],
    /// Volume at the end, m3.
    pub volume_m3: f64,
    /// Moisture at the end, wet basis.
    pub moisture: f64,
    /// C:N at the end.
    pub cn: f64,
    /// Carbon breathed out, kg.
    pub carbon_lost_kg: f64,
    /// Heat made, J.
    pub heat_made_j: f64,
}

/// Drops what lies before and after all warmth: nothing there counts for any table.
fn keep_warm_part(course: &mut Vec<Moment>) {
    let is_warm = |moment: &Moment| moment.temperature_c >= COUNTS_FROM_C;
    // A neighbour on each side stays, so that lines that cross the limit are whole.
    let last = course.iter().rposition(is_warm).map_or(0, |at| at + 2);
    course.truncate(last);
    let first = course.iter().position(is_warm).unwrap_or(0);
    course.drain(..first.saturating_sub(1));
}

/// The centre's course, as a probe would read it, with the heap's mean moisture.
pub fn probe(projection: &Projection) -> Vec<Moment> {
    let moment = |record: &Record| Moment {
        day: record.day,
        temperature_c: record.centre_c,
        moisture: record.moisture,
    };
    projection.records.iter().map(moment).collect()
}

/// Whether a heap is in a closed bin.
pub fn is_enclosed(heap: &Heap) -> bool {
    matches!(heap.shape, Shape::SolidBin { .. })
}

impl Brief {
    /// Judges one member.
    pub fn of(projection: &Projection, facts: &Facts, heap: &Heap, kinetics: &Kinetics) -> Self {
        let Some(last) = projection.records.last() else {
            return Self::default();
        };
        let mut parcels = courses(projection, EVERY);
        parcels.iter_mut().for_each(keep_warm_part);
        let inside = probe(projection);
        let turnings = heap.plan.turning_days(last.day);
        let evidence = HeatEvidence {
            inside: &inside,
            parcels: &parcels,
            turnings: &turnings,
            enclosed: is_enclosed(heap),
        };
        let floor = facts.kill.moisture_floor;
        let shares = facts
            .kill
            .plants()
            .map(|class| class.share(&parcels, floor));
        let germ = facts.kill.germs.first();
        let ledger = &projection.ledger;
        Self {
            rules_met: facts
                .rules
                .iter()
                .map(|r| r.would_meet(&evidence))
                .collect(),
            plant_shares: shares.map(|share| share as f32).collect(),
            germ_share: germ.map_or(0.0, |germ| germ.share(&parcels, floor) as f32),
            finished_day: finished_day(projection, &facts.finish, kinetics),
            troubles: troubles_found(projection)
                .into_iter()
                .map(|found| found.kind)
                .collect(),
            mass_kg: [
                last.dry_kg + last.water_kg,
                last.dry_kg,
                last.nitrogen_kg,
                ledger.nitrogen_ammonia_kg,
                ledger.nitrogen_gas_kg,
                ledger.nitrogen_drained_kg,
            ],
            volume_m3: last.volume_m3,
            moisture: last.moisture,
            cn: carbon_nitrogen(last),
            carbon_lost_kg: ledger.carbon_oxidised_kg,
            heat_made_j: ledger.heat_made_j,
        }
    }
}

//! Which cures are worth offering, and whether they fit.
//!
//! In: cures, simulated; a heap before and after one. Out: the cures that stay, steps that name a material once, an
//! [`Overflow`].
//!
//! Not here: the order of cures, the runs (`mod`).
//!
//! Tested by: `tests/science/complaint_cures.rs`.

use crate::assess::resolved::Mixed;
use crate::assess::trial::TrialCase;
use crate::material::Catalogue;
use crate::outcome::complaint::{Goal, Ranked, Symptom};
use crate::quantity::{Amount, Measure};

use super::offer::{Cure, Overflow};
use super::step::{Origin, Step};

/// Share by which a heap may stand above its bin before it is said not to fit (common practice: it is heaped up, and
/// sinks).
const HEAPED: f64 = 0.1;

/// Slack when rungs are counted, so that a whole number of them stays one.
const ROUNDING: f64 = 1e-6;

/// How far a cure makes a heap outgrow what holds it, by the heap before and after it; `None` where it fits, or takes no
/// more room than before.
pub(super) fn overflow(
    before: &TrialCase,
    after: &TrialCase,
    catalogue: &Catalogue,
) -> Option<Overflow> {
    let volume = |case: &TrialCase| {
        let mixed = Mixed::of(&case.mix, catalogue).ok()?;
        Some(mixed.blend.totals.volume_m3())
    };
    let room_m3 = after.heap.shape.room_m3()?;
    let needs_m3 = volume(after)?;
    let fits = needs_m3 <= (1.0 + HEAPED) * room_m3 || needs_m3 <= volume(before)?;
    (!fits).then_some(Overflow { needs_m3, room_m3 })
}

/// A step put behind others; more of a material that is mixed in already is added to that.
pub(super) fn push_merged(steps: &mut Vec<Step>, step: Step, catalogue: &Catalogue) {
    if let Step::MixIn {
        material,
        amount,
        origin,
    } = &step
        && let Some(density) = catalogue.find(material).map(|it| it.bulk_density.typical)
    {
        // What is mixed in before the heap grows or is split is another dose than what is mixed in after.
        let resized = |step: &&mut Step| matches!(step, Step::Grow { .. } | Step::Split { .. });
        for there in steps.iter_mut().rev().take_while(|it| !resized(it)) {
            let Step::MixIn {
                material: same,
                amount: so_far,
                origin: from,
            } = there
            else {
                continue;
            };
            if same == material && from == origin {
                // In the larger measure, which the larger of the two is said in.
                let in_first = so_far.volume_m3(density) >= amount.volume_m3(density);
                let (larger, smaller) = if in_first {
                    (so_far.clone(), amount)
                } else {
                    (amount.clone(), &*so_far)
                };
                let more = smaller.said_in(larger.measure.clone(), density);
                let value = larger.value + more.value;
                *so_far = on_the_ladder(larger, value, *origin);
                return;
            }
        }
    }
    steps.push(step);
}

/// So much of a measure in whole buckets or half barrows: more where it is fetched, less where a stock ends.
fn on_the_ladder(amount: Amount, value: f64, origin: Origin) -> Amount {
    let per_one = if amount.measure == Measure::Barrow {
        2.0
    } else {
        1.0
    };
    let rungs = per_one * value;
    let whole = match origin {
        Origin::Fetched => (rungs - ROUNDING).ceil(),
        Origin::AtHand => (rungs + ROUNDING).floor(),
    };
    Amount {
        value: whole / per_one,
        ..amount
    }
}

/// Sum of what the symptoms gain, each in what a person could notice.
fn gain(cure: &Cure) -> f64 {
    let gains = cure.relief.iter().filter_map(|relief| {
        let noticed = Goal::of(relief.symptom)?.noticed();
        Some((relief.values.1 - relief.values.0) / noticed)
    });
    gains.sum()
}

/// Whether a cure against several causes gains less, and is no surer, than one against some of them.
pub(super) fn gains_less_than_a_part(cure: &Cure, known: &[Cure]) -> bool {
    let is_part = |part: &&Cure| {
        part.against.len() < cure.against.len()
            && part.against.iter().all(|it| cure.against.contains(it))
    };
    let mut parts = known.iter().filter(is_part);
    parts.any(|part| gain(part) > gain(cure) && part.gone_share() >= cure.gone_share())
}

/// Drops cures that do not help a symptom which their own cause is to explain, where another helps all that they help
/// and more.
pub(super) fn drop_misplaced(cures: &mut Vec<Cure>, ranked: &[Ranked]) {
    let helped = |cure: &Cure| -> Vec<Symptom> {
        let noticed = cure.relief.iter().filter(|relief| relief.noticed);
        noticed.map(|relief| relief.symptom).collect()
    };
    let all: Vec<Vec<Symptom>> = cures.iter().map(helped).collect();
    cures.retain(|cure| {
        let own = helped(cure);
        let explained = |symptom: &Symptom| {
            let mut causes = ranked.iter().filter(|it| cure.against.contains(&it.cause));
            causes.any(|it| it.explains.contains(symptom))
        };
        let fails = cure
            .relief
            .iter()
            .any(|it| it.shown && !it.noticed && explained(&it.symptom));
        let outdone = all.iter().any(|other| {
            other.len() > own.len() && own.iter().all(|symptom| other.contains(symptom))
        });
        !(fails && outdone)
    });
}

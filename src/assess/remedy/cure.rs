//! The smallest step against a cause, in what a garden measures with.
//!
//! In: a cause, a [`TrialCase`], the catalogue. Out: a [`Step`], or `None` where nothing within reason helps.
//!
//! Amounts go up a ladder of buckets and barrows until the gauge is inside its best band; more than five buckets are
//! said in barrows. What is at hand is never taken beyond its stock; anything else is a thing to fetch. A dose larger
//! than most of the heap is no cure, nor is one whose water or nitrogen spoils what it does not mend.
//! Not here: what a step brings (`run`), its sentence (`text::complaint`).
//!
//! Tested by: `tests/science/complaint_cures.rs`.

use crate::assess::resolved::{Mixed, Resolved};
use crate::assess::trial::TrialCase;
use crate::heap::{Cover, Lid, Operation, Shape};
use crate::material::{Catalogue, Material, Side, Structure};
use crate::mix::{Ingredient, Mix, Totals, bands};
use crate::outcome::advice::Fetch;
use crate::outcome::complaint::Cause;
use crate::quantity::{Amount, Measure};

use super::mend::{CN_WANTED, STRAW_M, whole};
use super::step::{Origin, Step};

/// Buckets up to which something is said in them, then in barrows.
const MOST_BUCKETS: f64 = 5.0;
/// Barrows that are worth proposing, by halves.
const MOST_BARROWS: u32 = 40;
/// Largest dose, share of the loose volume of the heap.
const LARGEST_DOSE: f64 = 1.5;
/// Bulking material that opens a mix, share of the heap's volume (common practice: a fifth to a third).
const BULKING: f64 = 0.2;
/// Water that is poured to, wet basis (middle of the best band).
pub(super) const WATER_TO: f64 = 0.55;
/// One can of water, L (common practice).
pub const CAN_L: f64 = 10.0;
/// Most cans worth carrying.
const MOST_CANS: u32 = 100;
/// Volume a heap is grown to, m3, and most times as much that is worth proposing.
const GROW: (f64, f64) = (bands::GOOD_VOLUME_M3, 10.0);
/// Effort a dose gains per unit of moisture that it leaves the mix outside the best band, factor (tuned: hay that dries
/// a dry heap further counts double).
const SPOILS: f64 = 5.0;
/// What a stable or a hen house gives, with the effort of fetching it (tuned).
const FROM_A_STABLE: [(&str, f64); 2] = [("horse_fresh", 0.5), ("poultry_litter", 0.5)];
/// Effort of fetching against having, factor (tuned).
const FETCHING: f64 = 1.4;

/// What is known beside the recipe.
#[derive(Debug, Clone, Copy)]
pub(super) struct Beside {
    /// Day of the year on which a heap is best built.
    pub spring_day: f64,
    /// Water that the recipe has and the heap lacks, by a squeeze in the hand, L; negative for what it has beyond.
    pub missing_l: f64,
    /// Moisture to which a turning wets it; `None` where it is wet enough.
    pub wet_to: Option<f64>,
}

/// The step against one cause; to a heap that stands only what can still be done to it.
pub(super) fn step_against(
    cause: Cause,
    case: &TrialCase,
    catalogue: &Catalogue,
    beside: Beside,
) -> Option<Step> {
    let step = step_of(cause, case, catalogue, beside)?;
    (case.from_day.is_none() || step.suits_a_standing_heap()).then_some(step)
}

fn step_of(cause: Cause, case: &TrialCase, catalogue: &Catalogue, beside: Beside) -> Option<Step> {
    let totals = seen_totals(case, catalogue, beside)?;
    match cause {
        Cause::ShortOfNitrogen => greens(case, catalogue, &totals),
        Cause::MuchNitrogen => {
            // One that is inside the band and still has too much goes to its middle.
            let inside = totals.cn() >= bands::CN.best.0;
            let wanted = if inside { CN_WANTED } else { bands::CN.best.0 };
            browns(case, catalogue, &totals, &|t| t.cn() >= wanted)
        }
        Cause::TooDry => water(&totals),
        Cause::TooWet => drier(case, catalogue, &totals),
        Cause::LittleAir | Cause::MuchFood => bulking(case, catalogue, &totals),
        Cause::LimeOrAsh => lime(case, catalogue),
        Cause::TooSmall => grow(case, &totals),
        Cause::TooBig => Some(Step::Split { parts: 4 }),
        Cause::ColdSeason => Some(Step::BuildOn(beside.spring_day)),
        Cause::ColdSkin => {
            (case.heap.cover == Cover::Bare).then_some(Step::LayOver(Cover::Straw {
                thickness_m: STRAW_M,
            }))
        }
        Cause::Rain => keep_rain_off(case),
        Cause::BitByBit => {
            let mut events = case.heap.plan.events.iter();
            let adds = events.any(|event| matches!(event.operation, Operation::Add { .. }));
            adds.then_some(Step::InOneGo)
        }
        Cause::NotTurned => Some(Step::Turn {
            every_days: 7.0,
            times: 6,
            wet_to: beside.wet_to,
        }),
        Cause::Heat
        | Cause::CoarsePieces
        | Cause::Finished
        | Cause::OpenFood
        | Cause::RatFood
        | Cause::Nest
        | Cause::Fungi
        | Cause::LateSeeds
        | Cause::Young
        | Cause::Weedkiller
        | Cause::Normal => None,
    }
}

/// Whether a cause is mended by what is mixed in or taken out.
pub(super) fn is_mixed_in(cause: Cause) -> bool {
    matches!(
        cause,
        Cause::ShortOfNitrogen
            | Cause::MuchNitrogen
            | Cause::TooDry
            | Cause::TooWet
            | Cause::LittleAir
            | Cause::MuchFood
            | Cause::LimeOrAsh
            | Cause::TooSmall
            | Cause::TooBig
    )
}

/// Whether the mix lacks the water with which a heap works at all.
pub(super) fn too_dry(case: &TrialCase, catalogue: &Catalogue, beside: Beside) -> bool {
    seen_totals(case, catalogue, beside)
        .is_some_and(|totals| totals.moisture() < bands::MOISTURE.works.0)
}

/// Sums of the mix with the water that is really in it.
fn seen_totals(case: &TrialCase, catalogue: &Catalogue, beside: Beside) -> Option<Totals> {
    let mut totals = Mixed::of(&case.mix, catalogue).ok()?.blend.totals;
    if case.from_day.is_some() {
        // What was added to it by now, and what a step before this one adds, is in it.
        let resolved = Resolved::of(&case.mix, &case.heap, catalogue).ok()?;
        totals = whole(&resolved.inputs(&case.heap));
    }
    totals.water_kg = (totals.water_kg - beside.missing_l).max(0.0);
    Some(totals)
}

/// Something that could be mixed in.
struct Candidate {
    id: String,
    origin: Origin,
    material: Material,
    /// Most of it, m3 loose.
    most_m3: f64,
    effort: f64,
}

/// What is at hand beyond what is in the mix, then what is worth fetching; of these, what `suits`.
fn candidates(
    case: &TrialCase,
    catalogue: &Catalogue,
    suits: &dyn Fn(&Material) -> bool,
) -> Vec<Candidate> {
    let mut all = Vec::new();
    for row in &case.mix.ingredients {
        let Some(material) = row.material_in(catalogue) else {
            continue;
        };
        let material = material.into_owned();
        // Without a stock nobody has said that there is more of it; it is then one of the things to fetch.
        let Some(stock) = row.stock.filter(|_| !row.locked && suits(&material)) else {
            continue;
        };
        let spare = Amount::new(
            (stock - row.amount.value).max(0.0),
            row.amount.measure.clone(),
        );
        all.push(Candidate {
            id: row.material.clone(),
            origin: Origin::AtHand,
            most_m3: spare.volume_m3(material.bulk_density.typical),
            material,
            effort: 1.0,
        });
    }
    let kinds = Fetch::built_in().unwrap_or_default();
    let kinds = kinds
        .into_iter()
        .map(|kind| (kind.material.id, kind.effort));
    let farm = FROM_A_STABLE.map(|(id, effort)| (id.to_owned(), effort));
    for (id, effort) in kinds.chain(farm) {
        let at_hand = all.iter().any(|one| one.id == id && one.most_m3 > 0.0);
        let Some(material) = catalogue.find(&id).filter(|m| suits(m) && !at_hand) else {
            continue;
        };
        all.push(Candidate {
            origin: Origin::Fetched,
            most_m3: f64::INFINITY,
            effort: FETCHING * (1.0 + effort),
            material: material.clone(),
            id,
        });
    }
    all
}

/// Rungs of the ladder: buckets up to five, then barrows by halves.
fn ladder() -> impl Iterator<Item = Amount> {
    let buckets = (1..=MOST_BUCKETS as u32).map(|n| Amount::new(f64::from(n), Measure::Bucket));
    let barrows = (2..=MOST_BARROWS).map(|n| Amount::new(0.5 * f64::from(n), Measure::Barrow));
    buckets.chain(barrows)
}

/// The least of one candidate with which the mix is as wanted; `None` where it is so without any.
fn dose(
    candidate: &Candidate,
    totals: &Totals,
    wanted: &dyn Fn(&Totals) -> bool,
    catalogue: &Catalogue,
) -> Option<Amount> {
    if wanted(totals) {
        return None;
    }
    let most = candidate.most_m3.min(LARGEST_DOSE * totals.loose_volume_m3);
    let density = candidate.material.bulk_density.typical;
    let one = portion(&candidate.id, catalogue)?;
    ladder()
        .take_while(|amount| amount.volume_m3(density) <= most)
        .find(|amount| wanted(&totals.plus_times(&one, amount.volume_m3(density))))
}

/// Sums of a cubic metre of a material as listed.
fn portion(id: &str, catalogue: &Catalogue) -> Option<Totals> {
    let mix = Mix {
        ingredients: vec![Ingredient::new(id, Amount::new(1000.0, Measure::Litre))],
        added_water_l: 0.0,
    };
    Some(Mixed::of(&mix, catalogue).ok()?.blend.totals)
}

/// The dose of least effort among candidates.
fn easiest(
    candidates: Vec<Candidate>,
    totals: &Totals,
    wanted: &dyn Fn(&Totals) -> bool,
    catalogue: &Catalogue,
) -> Option<Step> {
    let doses: Vec<(f64, Candidate, Amount)> = candidates
        .into_iter()
        .filter_map(|candidate| {
            let amount = dose(&candidate, totals, wanted, catalogue)?;
            let volume_m3 = amount.volume_m3(candidate.material.bulk_density.typical);
            let after = totals.plus_times(&portion(&candidate.id, catalogue)?, volume_m3);
            let (dry, wet) = bands::MOISTURE.best;
            let moisture = after.moisture();
            let off = (dry - moisture).max(moisture - wet).max(0.0);
            Some((
                volume_m3 * candidate.effort * (1.0 + SPOILS * off),
                candidate,
                amount,
            ))
        })
        .collect();
    // What is there comes before what is to be fetched.
    let at_hand = |dose: &(f64, Candidate, Amount)| dose.1.origin == Origin::AtHand;
    let any = doses.iter().any(at_hand);
    let (_, candidate, amount) = doses
        .into_iter()
        .filter(|dose| !any || at_hand(dose))
        .min_by(|a, b| a.0.total_cmp(&b.0))?;
    Some(Step::MixIn {
        material: candidate.id,
        amount,
        origin: candidate.origin,
    })
}

/// Greens until C:N is in its best band, without drowning the heap.
fn greens(case: &TrialCase, catalogue: &Catalogue, totals: &Totals) -> Option<Step> {
    let wettest = bands::MOISTURE.works.1.max(totals.moisture());
    let wanted = |t: &Totals| t.cn() <= bands::CN.best.1 && t.moisture() <= wettest;
    let suits = |m: &Material| m.side() == Side::Green && m.structure != Structure::Liquid;
    easiest(
        candidates(case, catalogue, &suits),
        totals,
        &wanted,
        catalogue,
    )
}

/// Dry browns until this is so.
fn browns(
    case: &TrialCase,
    catalogue: &Catalogue,
    totals: &Totals,
    wanted: &dyn Fn(&Totals) -> bool,
) -> Option<Step> {
    let suits = |m: &Material| m.side() == Side::Brown && m.moisture.typical < 0.5;
    easiest(
        candidates(case, catalogue, &suits),
        totals,
        wanted,
        catalogue,
    )
}

/// Water poured less where any is poured, else dry browns.
fn drier(case: &TrialCase, catalogue: &Catalogue, totals: &Totals) -> Option<Step> {
    let over =
        totals.water_kg - totals.dry_kg * bands::MOISTURE.best.1 / (1.0 - bands::MOISTURE.best.1);
    let litres = (over / CAN_L).ceil() * CAN_L;
    if case.mix.added_water_l >= litres && litres > 0.0 {
        return Some(Step::PourLess { litres });
    }
    browns(case, catalogue, totals, &|t| {
        t.moisture() <= bands::MOISTURE.works.1
    })
}

/// Whole cans of water up to the middle of the best band.
fn water(totals: &Totals) -> Option<Step> {
    let lacks = totals.dry_kg * WATER_TO / (1.0 - WATER_TO) - totals.water_kg;
    let cans = (lacks / CAN_L).round().max(1.0);
    (lacks > 0.0 && cans <= f64::from(MOST_CANS)).then_some(Step::Pour {
        litres: cans * CAN_L,
    })
}

/// Coarse or stalky pieces, a fifth of the heap.
fn bulking(case: &TrialCase, catalogue: &Catalogue, totals: &Totals) -> Option<Step> {
    let suits = |m: &Material| {
        matches!(m.structure, Structure::Coarse | Structure::Springy) && m.side() == Side::Brown
    };
    let before = totals.loose_volume_m3;
    let wanted = |t: &Totals| t.loose_volume_m3 - before >= BULKING * before;
    easiest(
        candidates(case, catalogue, &suits),
        totals,
        &wanted,
        catalogue,
    )
}

/// The material that limes most.
fn lime(case: &TrialCase, catalogue: &Catalogue) -> Option<Step> {
    let limes = |id: &str| {
        let material = catalogue.find(id)?;
        Some(material.traits.liming_mol_per_kg).filter(|mol| *mol > 1.0)
    };
    let rows = case.mix.ingredients.iter();
    let most = rows
        .filter_map(|row| Some((limes(&row.material)?, row)))
        .max_by(|a, b| a.0.total_cmp(&b.0))?;
    Some(Step::LeaveOut {
        material: most.1.material.clone(),
    })
}

/// As much as makes about a cubic metre, in quarters; where it outgrows what holds it, in a bay, by tenths of a metre.
fn grow(case: &TrialCase, totals: &Totals) -> Option<Step> {
    let (to, most) = GROW;
    let volume = totals.volume_m3();
    let times = (4.0 * to / volume).ceil() / 4.0;
    let to_m3 = times * volume;
    let fits = |room: f64| room >= to_m3;
    let bay_m =
        (!case.heap.shape.room_m3().is_none_or(fits)).then(|| (10.0 * to_m3.cbrt()).ceil() / 10.0);
    (times > 1.0 && times <= most).then_some(Step::Grow {
        times,
        to_m3,
        bay_m,
    })
}

/// A sheet, or the lid.
fn keep_rain_off(case: &TrialCase) -> Option<Step> {
    match case.heap.shape {
        Shape::SolidBin { lid: Lid::Open, .. } => Some(Step::CloseLid),
        Shape::SolidBin {
            lid: Lid::Closed, ..
        }
        | Shape::Tumbler { .. } => None,
        _ => (case.heap.cover != Cover::Sheet).then_some(Step::LayOver(Cover::Sheet)),
    }
}

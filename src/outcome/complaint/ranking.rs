//! Causes in order of weight.
//!
//! In: symptoms, the table of faults, what the heap's numbers say, and, once they are there, what mending each cause
//! gained in the simulation. Out: [`Ranked`] causes, the weightiest first.
//!
//! For one symptom a cause weighs as its gain over the largest gain, and less the more usual it is (any heap gains by
//! straw over it or by summer: that is a help, and a cause only where it is off). A number that is far off keeps some
//! weight whatever mending it gains. What was put in instead of mended is a guess about a heap that is not as written,
//! and weighs less. A cause the simulation knows nothing of weighs by its standing, a little less than a tried one, and
//! a third where nothing tells; so does every cause where no mending gains what a person could notice. What is plainly
//! not there weighs nothing. Among equals the order of the table counts. With several symptoms weights are averaged, so
//! that what explains all of them comes first. Where nothing is worth telling, the causes of the table are left that
//! their own number does not refute, all of them faint.
//! Not here: trying (`assess::remedy`), the standing (`standing`).
//!
//! Tested by: `tests/science/complaint.rs`.

use crate::outcome::smell::Fault;

use super::cause::Cause;
use super::goal::Goal;
use super::standing::Standing;
use super::symptom::Symptom;

/// What a standing weighs beside a cause that was tried (tuned).
const READ_WEIGHS: f64 = 0.9;
/// Weight of a cause of which nothing tells (tuned).
const OPEN_WEIGHS: f64 = 0.3;
/// What a gain weighs by something that is as usual, of one as far off as heaps are found to be (tuned).
const USUAL_WEIGHS: f64 = 0.4;
/// What weighs, of a number that lies as far off as heaps are found to be, when mending it gains little (tuned: the
/// tables of faults go by such numbers alone, 40 % water or C:N 40).
const OFF_WEIGHS: f64 = 0.5;
/// What is put in weighs beside what is mended (tuned).
const PUT_IN_WEIGHS: f64 = 0.7;
/// Weight of a cause of the table that no number refutes, where none is worth telling (tuned: told, and called less
/// likely).
const TABLE_WEIGHS: f64 = 0.15;
/// Weight that is worth telling: below it a cause is hardly one (tuned).
pub const LEAST_WEIGHT: f64 = 0.08;
/// Weight lost per place in the table (tuned: breaks ties only).
const PLACE_WEIGHS: f64 = 0.01;

/// What mending one cause alone did for one symptom.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Tried {
    /// For which symptom.
    pub symptom: Symptom,
    /// What was mended.
    pub cause: Cause,
    /// Gain of the symptom's goal: the mean of mending it first and of mending it last.
    pub gain: f64,
    /// Peak without it and with it alone, degC.
    pub peaks_c: (f64, f64),
    /// Goal without it and with it alone.
    pub values: (f64, f64),
    /// Whether the cause was put in instead of mended, since the heap as written does not show the symptom: the gain is
    /// then what it costs.
    pub put_in: bool,
}

/// How a cause's weight is known.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Known {
    /// By mending it in the simulation.
    Tried(Tried),
    /// By what is read off the heap.
    Read,
}

/// A cause with its weight.
#[derive(Debug, Clone, PartialEq)]
pub struct Ranked {
    /// Which.
    pub cause: Cause,
    /// 0 to 1.
    pub weight: f64,
    /// The symptoms that it may explain.
    pub explains: Vec<Symptom>,
    /// What the heap's numbers say.
    pub standing: Standing,
    /// How it is known, for the symptom for which it weighs most.
    pub known: Known,
    /// Its row of the table of faults, by place.
    pub row: usize,
}

impl Ranked {
    /// Whether it is a guess about a heap that is not as written, so that there is nothing to cure by the recipe.
    pub fn is_a_guess(&self) -> bool {
        matches!(self.known, Known::Tried(tried) if tried.put_in)
    }
}

/// The causes of some symptoms in order; `standing` reads a cause and its row off the heap.
pub fn rank(
    symptoms: &[Symptom],
    faults: &[Fault],
    tried: &[Tried],
    standing: impl Fn(Cause, &Fault) -> Standing,
) -> Vec<Ranked> {
    let mut all: Vec<Ranked> = Vec::new();
    // What each weighs for the symptom that its `known` belongs to.
    let mut told: Vec<f64> = Vec::new();
    let usual = |place: usize| 1.0 - PLACE_WEIGHS * place as f64;
    for &symptom in symptoms {
        let noticed = Goal::of(symptom).map_or(f64::INFINITY, Goal::noticed);
        let of_symptom = || tried.iter().filter(|one| one.symptom == symptom);
        let largest = of_symptom().map(|one| one.gain).fold(0.0, f64::max);
        for (place, (cause, row)) in candidates(symptom, faults).into_iter().enumerate() {
            let standing = standing(cause, &faults[row]);
            // What costs nothing that could be noticed when it is put in tells nothing.
            let told_by = |one: &&Tried| one.cause == cause && (!one.put_in || largest >= noticed);
            let found = of_symptom().find(told_by).copied();
            let weight = match found {
                _ if standing.is_ruled_out() => 0.0,
                Some(one) if largest >= noticed => {
                    let share = (one.gain / largest).max(0.0);
                    let off = standing.weight.unwrap_or(1.0);
                    if one.put_in {
                        PUT_IN_WEIGHS * share
                    } else {
                        let by_gain = share * (USUAL_WEIGHS + (1.0 - USUAL_WEIGHS) * off);
                        // Something that harms when it is mended is no cause, however far off it is.
                        let is_off = one.gain > 0.0 && standing.weight.is_some();
                        by_gain.max(if is_off { OFF_WEIGHS * off } else { 0.0 })
                    }
                }
                _ => READ_WEIGHS * standing.weight.unwrap_or(OPEN_WEIGHS),
            };
            let weight = weight * usual(place) / symptoms.len() as f64;
            match all.iter().position(|ranked| ranked.cause == cause) {
                Some(at) => {
                    let ranked = &mut all[at];
                    ranked.weight += weight;
                    ranked.explains.push(symptom);
                    if let Some(found) = found
                        && (ranked.known == Known::Read || weight > told[at])
                    {
                        ranked.known = Known::Tried(found);
                        told[at] = weight;
                    }
                }
                None => {
                    told.push(weight);
                    all.push(Ranked {
                        cause,
                        weight,
                        explains: vec![symptom],
                        standing,
                        known: found.map_or(Known::Read, Known::Tried),
                        row,
                    });
                }
            }
        }
    }
    if all.iter().all(|ranked| ranked.weight < LEAST_WEIGHT) {
        // What its own number refutes is no cause of last resort.
        let possible = all
            .iter_mut()
            .filter(|one| one.standing.weight != Some(0.0));
        for (place, ranked) in possible.enumerate() {
            ranked.weight = TABLE_WEIGHS * usual(place);
        }
    }
    // A stable sort: equals stay in the order of the table.
    all.sort_by(|a, b| b.weight.total_cmp(&a.weight));
    all
}

/// The causes of a symptom with their rows, each cause once, in the order of the table.
fn candidates(symptom: Symptom, faults: &[Fault]) -> Vec<(Cause, usize)> {
    let mut all: Vec<(Cause, usize)> = Vec::new();
    for (row, fault) in faults.iter().enumerate() {
        if !fault.symptoms.contains(&symptom) {
            continue;
        }
        for &cause in &fault.blames {
            if all.iter().all(|(known, _)| *known != cause) {
                all.push((cause, row));
            }
        }
    }
    all
}

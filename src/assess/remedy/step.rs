//! One thing a person does to cure a heap, in household measures, and how it alters the heap.
//!
//! In: a step, a [`TrialCase`]. Out: the case altered, by the same [`Alteration`]s as a trial's.
//!
//! To a heap that stands a step is done on the first open day, in its plan.
//! Not here: which step suits a cause and how much of it (`cure`), its sentence (`text::complaint`).
//!
//! Tested by: `tests/science/complaint_cures.rs`.

use crate::assess::resolved::Mixed;
use crate::assess::trial::{Alteration, CaseError, TrialCase};
use crate::heap::{Cover, Event, Lid, Operation, Placing, Shape, Turning};
use crate::material::Catalogue;
use crate::mix::{Ingredient, Mix};
use crate::quantity::{Amount, Extent, Measure};

/// Where what is added comes from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Origin {
    /// It is in the recipe, and there is more of it.
    AtHand,
    /// It is to be fetched.
    Fetched,
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq)]
pub enum Step {
    /// Mix in so much of a material.
    MixIn {
        /// Id of the material.
        material: String,
        /// How much.
        amount: Amount,
        /// Where it comes from.
        origin: Origin,
    },
    /// Pour so much water while mixing.
    Pour {
        /// Litres.
        litres: f64,
    },
    /// Pour less water, so much less.
    PourLess {
        /// Litres.
        litres: f64,
    },
    /// Leave a material out.
    LeaveOut {
        /// Id of the material.
        material: String,
    },
    /// Turn it every so many days, so many times, outside in.
    Turn {
        /// Days between.
        every_days: f64,
        /// How many times.
        times: u32,
        /// Moisture to which it is wetted where it is drier, wet basis; `None` for no watering.
        wet_to: Option<f64>,
    },
    /// Lay something over it.
    LayOver(Cover),
    /// Close the lid.
    CloseLid,
    /// Gather so many times as much, in one heap.
    Grow {
        /// How many times.
        times: f64,
        /// Volume then, m3.
        to_m3: f64,
        /// Side of the bay of slats that it then stands in, m; `None` where what holds it is large enough.
        bay_m: Option<f64>,
    },
    /// Split it into so many heaps.
    Split {
        /// How many.
        parts: u32,
    },
    /// Build it anew, all at once.
    InOneGo,
    /// Build it in another season, on this day of the year.
    BuildOn(f64),
}

impl Step {
    /// How much work it is, in barrows wheeled (tuned: to put the smaller cure first, no more).
    pub fn effort(&self, heap_m3: f64) -> f64 {
        match self {
            Self::MixIn { amount, origin, .. } => {
                let barrows = match (amount.extent(), Measure::Barrow.one()) {
                    (Extent::VolumeM3(m3), Extent::VolumeM3(one)) => m3 / one,
                    _ => 1.0,
                };
                barrows
                    * match origin {
                        Origin::AtHand => 1.0,
                        Origin::Fetched => 1.5,
                    }
            }
            // A can carries a tenth of a barrow.
            Self::Pour { litres } => litres / 50.0,
            Self::PourLess { .. } | Self::LeaveOut { .. } | Self::CloseLid => 0.2,
            Self::Turn { times, .. } => 1.5 * f64::from(*times),
            Self::LayOver(_) => 1.0,
            Self::Grow { times, bay_m, .. } => {
                15.0 * heap_m3 * (times - 1.0) + if bay_m.is_some() { 3.0 } else { 0.0 }
            }
            Self::Split { .. } | Self::InOneGo => 3.0,
            // It means waiting.
            Self::BuildOn(_) => 12.0,
        }
    }

    /// Does it.
    ///
    /// # Errors
    /// [`CaseError`] if it cannot be done to this case.
    pub fn take(&self, case: &mut TrialCase, catalogue: &Catalogue) -> Result<(), CaseError> {
        for alteration in self.alterations(case, catalogue)? {
            case.alter(&alteration, catalogue)?;
        }
        Ok(())
    }

    /// What is done on the first open day of a heap that stands; `None` for turnings, which have days of their own, and
    /// for what can be done to a heap only before it is built.
    fn done_to_a_standing_heap(&self) -> Option<Operation> {
        Some(match self {
            Self::MixIn {
                material, amount, ..
            } => Operation::Add {
                mix: Mix {
                    ingredients: vec![Ingredient::new(material.as_str(), amount.clone())],
                    added_water_l: 0.0,
                },
                placing: Placing::MixedIn,
            },
            Self::Pour { litres } => Operation::Pour { litres: *litres },
            Self::LayOver(cover) => Operation::Cover(*cover),
            _ => return None,
        })
    }

    /// Whether it can be done to a heap that stands.
    pub(super) fn suits_a_standing_heap(&self) -> bool {
        matches!(self, Self::Turn { .. }) || self.done_to_a_standing_heap().is_some()
    }

    fn alterations(
        &self,
        case: &TrialCase,
        catalogue: &Catalogue,
    ) -> Result<Vec<Alteration>, CaseError> {
        let mix_with = |change: &dyn Fn(&mut Mix)| {
            let mut mix = case.mix.clone();
            change(&mut mix);
            Alteration::Mix(mix)
        };
        if let Some(day) = case.from_day
            && let Some(operation) = self.done_to_a_standing_heap()
        {
            // The day is told, what lies before it stays.
            let mut events = case.heap.plan.events.clone();
            events.push(Event {
                repeat: None,
                day,
                operation,
            });
            return Ok(vec![Alteration::Plan(events)]);
        }
        Ok(vec![match self {
            Self::MixIn {
                material, amount, ..
            } => return Ok(vec![mixed_in(case, material, amount, catalogue)]),
            Self::Pour { litres } => mix_with(&|mix| mix.added_water_l += litres),
            Self::PourLess { litres } => {
                mix_with(&|mix| mix.added_water_l = (mix.added_water_l - litres).max(0.0))
            }
            Self::LeaveOut { material } => {
                mix_with(&|mix| mix.ingredients.retain(|row| row.material != *material))
            }
            Self::Turn {
                every_days,
                times,
                wet_to,
            } => Alteration::Plan(turned(case, *every_days, *times, *wet_to)),
            Self::LayOver(cover) => Alteration::Cover(*cover),
            Self::CloseLid => {
                let mut shape = case.heap.shape.clone();
                if let Shape::SolidBin { lid, .. } = &mut shape {
                    *lid = Lid::Closed;
                }
                Alteration::Shape(shape)
            }
            Self::Grow { times, bay_m, .. } => {
                let bay = bay_m.map(|side| Alteration::Shape(Shape::bay(side)));
                return Ok([Alteration::Times(*times)].into_iter().chain(bay).collect());
            }
            Self::Split { parts } => Alteration::Times(1.0 / f64::from(*parts)),
            Self::InOneGo => {
                let (mix, events) = in_one_go(case);
                return Ok(vec![Alteration::Mix(mix), Alteration::Plan(events)]);
            }
            Self::BuildOn(day) => Alteration::Start(*day),
        }])
    }
}

/// More of a row that is there, or a new row.
fn mixed_in(case: &TrialCase, id: &str, amount: &Amount, catalogue: &Catalogue) -> Alteration {
    let mut mix = case.mix.clone();
    let density = Mixed::of(&case.mix, catalogue).ok().and_then(|mixed| {
        let at = case
            .mix
            .ingredients
            .iter()
            .position(|row| row.material == id)?;
        Some((at, mixed.parts.get(at)?.material.bulk_density.typical))
    });
    match density {
        Some((at, density)) => {
            let row = &mut mix.ingredients[at];
            let more = amount.said_in(row.amount.measure.clone(), density);
            row.amount.value += more.value;
            Alteration::Mix(mix)
        }
        None => Alteration::Add {
            material: id.to_owned(),
            amount: amount.clone(),
        },
    }
}

/// Turnings in place of turnings and waterings that are still to come; of a heap that stands, from the first open day.
fn turned(case: &TrialCase, every_days: f64, times: u32, wet_to: Option<f64>) -> Vec<Event> {
    let kept = case
        .heap
        .plan
        .events
        .iter()
        .filter_map(|event| event.kept_beside(case.from_day));
    let turnings = (1..=times).map(|time| Event {
        repeat: None,
        day: case.from_day.map_or(every_days * f64::from(time), |from| {
            from + every_days * f64::from(time - 1)
        }),
        operation: Operation::Turn {
            turning: Turning::InsideOut,
            wet_to,
        },
    });
    kept.chain(turnings).collect()
}

/// All that the plan adds put into the mix.
fn in_one_go(case: &TrialCase) -> (Mix, Vec<Event>) {
    let mut mix = case.mix.clone();
    let mut events = Vec::new();
    for event in &case.heap.plan.events {
        let Operation::Add { mix: added, .. } = &event.operation else {
            events.push(event.clone());
            continue;
        };
        let times = f64::from(event.times());
        mix.added_water_l += times * added.added_water_l;
        for row in &added.ingredients {
            let same = mix.ingredients.iter_mut().find(|there| {
                there.material == row.material
                    && there.amount.measure == row.amount.measure
                    && there.condition == row.condition
            });
            match same {
                Some(there) => there.amount.value += times * row.amount.value,
                None => {
                    let mut all = row.clone();
                    all.amount.value *= times;
                    mix.ingredients.push(all);
                }
            }
        }
    }
    (mix, events)
}

//! One of the two heaps of a trial: a mix and a heap, altered step by step.
//!
//! In: a mix and a heap, alterations, the catalogue. Out: the same altered, and [`Inputs`] to run.
//!
//! Not here: which alterations a trial asks for (`file`), looking materials up and blending (`assess::resolved`).
//!
//! Tested by: `tests/science/trials.rs`.

use thiserror::Error;

use crate::assess::resolved::{Mixed, Resolved};
use crate::document::CheckError;
use crate::forecast::Inputs;
use crate::heap::{Event, Heap, HeapError, Kinetics, Operation, Placing};
use crate::material::{Catalogue, Side};
use crate::mix::{Ingredient, Mix, Totals};
use crate::quantity::{Amount, Extent, Measure};

use super::alteration::Alteration;

/// Least and greatest factor of a trial.
const FACTORS: (f64, f64) = (0.001, 1000.0);
/// Least and greatest moisture to wet to.
const MOISTURES: (f64, f64) = (0.05, 0.9);
/// Greatest rise of pH.
const PH_RAISE_MOST: f64 = 4.0;
/// Most layers.
const LAYERS_MOST: u32 = 20;
/// Most microbial carbon at the start, share of all carbon.
const MICROBES_MOST: f64 = 0.2;

/// A mix and a heap, as a trial alters them.
#[derive(Debug, Clone, PartialEq)]
pub struct TrialCase {
    /// What goes in.
    pub mix: Mix,
    /// Where and how it stands.
    pub heap: Heap,
    /// Rates and shares of rot.
    pub kinetics: Kinetics,
    /// First day that is still open; `None`: the heap does not stand yet.
    pub from_day: Option<f64>,
    /// Particle size, factor.
    size: f64,
    /// Density as piled, factor.
    packing: f64,
    /// Layers in place of a mix; 0 for a mix.
    layers: u32,
}

/// Why an alteration cannot be done.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum CaseError {
    /// A number outside its bound.
    #[error("{what} is {found}, and may be {low} to {high}; correct that number")]
    Number {
        /// Which.
        what: &'static str,
        /// What stands there.
        found: f64,
        /// Least.
        low: f64,
        /// Greatest.
        high: f64,
    },
    /// A material to swap that is not in the mix.
    #[error("there is no \"{0}\" in the mix to swap; add it first or name another")]
    NotThere(String),
    /// A heap that cannot be.
    #[error("{0}")]
    Heap(HeapError),
    /// A material that is not known or an amount that cannot be, in the mix or what the plan adds.
    #[error(transparent)]
    Unresolved(#[from] CheckError),
    /// Layers of something that has no greens or no browns.
    #[error("layers need a green and a brown ingredient; add the one that is missing")]
    OneSided,
}

impl TrialCase {
    /// The heap at hand.
    pub fn of(mix: &Mix, heap: &Heap) -> Self {
        Self {
            mix: mix.clone(),
            heap: heap.clone(),
            kinetics: Kinetics::default(),
            from_day: None,
            size: 1.0,
            packing: 1.0,
            layers: 0,
        }
    }

    /// Does one thing to it.
    ///
    /// # Errors
    /// [`CaseError`] if it cannot be done; what is left is then not to be used.
    pub fn alter(
        &mut self,
        alteration: &Alteration,
        catalogue: &Catalogue,
    ) -> Result<(), CaseError> {
        match alteration {
            Alteration::Mix(mix) => self.mix = mix.clone(),
            Alteration::Add { material, amount } => self
                .mix
                .ingredients
                .push(Ingredient::new(material.as_str(), amount.clone())),
            Alteration::Swap { from, to } => self.swap(from, to, catalogue)?,
            Alteration::Times(factor) => {
                let factor = number("the factor", *factor, FACTORS)?;
                for ingredient in &mut self.mix.ingredients {
                    ingredient.amount.value *= factor;
                }
                self.mix.added_water_l *= factor;
            }
            Alteration::WetTo(moisture) => self.wet(*moisture, catalogue)?,
            Alteration::Shape(shape) => self.heap.shape = shape.clone(),
            Alteration::Base(base) => self.heap.base = *base,
            Alteration::Cover(cover) => self.heap.cover = *cover,
            Alteration::Sun(sun) => self.heap.in_sun = *sun,
            Alteration::Start(day) => self.heap.start_day_of_year = *day,
            Alteration::Days(days) => self.heap.days = *days,
            Alteration::Plan(events) => self.heap.plan.events = events.clone(),
            Alteration::Turn {
                every_days,
                times,
                turning,
            } => self.turn(*every_days, *times, &|| Operation::Turn {
                turning: *turning,
                wet_to: None,
            })?,
            Alteration::Chop { size, packing } => {
                self.size *= number("the particle size", *size, FACTORS)?;
                self.packing *= number("the packing", *packing, FACTORS)?;
            }
            Alteration::Microbes(factor) => {
                let many = number("the microbes", *factor, FACTORS)?;
                let start = self.kinetics.microbes_at_start * many;
                self.kinetics.microbes_at_start = start.min(MICROBES_MOST);
            }
            Alteration::PhRaise(raise) => {
                self.kinetics.ph_raise = number("the rise of pH", *raise, (0.0, PH_RAISE_MOST))?;
            }
            Alteration::Layers(layers) => {
                let bounds = (2.0, f64::from(LAYERS_MOST));
                number("the number of layers", f64::from(*layers), bounds)?;
                self.layers = *layers;
            }
        }
        self.heap.check().map_err(CaseError::Heap)
    }

    /// What a run needs.
    ///
    /// # Errors
    /// [`CaseError`] if a material is unknown or an amount cannot be.
    pub fn inputs(&self, catalogue: &Catalogue) -> Result<Inputs, CaseError> {
        // How well the mix is known does not depend on how it is laid.
        let gauges = Mixed::of(&self.mix, catalogue)?.blend.gauges;
        let mut case = self.clone();
        if self.layers > 1 {
            case.lay(catalogue)?;
        }
        let resolved = Resolved::of(&case.mix, &case.heap, catalogue)?;
        let mut inputs = Inputs {
            kinetics: self.kinetics,
            gauges,
            ..resolved.inputs(&case.heap)
        };
        self.chop(&mut inputs.totals);
        for (_, sums) in &mut inputs.additions {
            self.chop(sums);
        }
        Ok(inputs)
    }

    /// One material in place of another by volume, in the mix.
    fn swap(&mut self, from: &str, to: &str, catalogue: &Catalogue) -> Result<(), CaseError> {
        let density = catalogue.find(from).map(|m| m.bulk_density.typical);
        let mut found = false;
        for ingredient in &mut self.mix.ingredients {
            if ingredient.material != from {
                continue;
            }
            found = true;
            if let (Extent::MassKg(_), Some(density)) = (ingredient.amount.extent(), density) {
                ingredient.amount = ingredient.amount.said_in(Measure::Litre, density);
            }
            to.clone_into(&mut ingredient.material);
        }
        if found {
            Ok(())
        } else {
            Err(CaseError::NotThere(from.to_owned()))
        }
    }

    /// Water put in, or left out as far as water was poured and then dried off, until this moist.
    fn wet(&mut self, moisture: f64, catalogue: &Catalogue) -> Result<(), CaseError> {
        let moisture = number("the moisture", moisture, MOISTURES)?;
        let totals = Mixed::of(&self.mix, catalogue)?.blend.totals;
        let wanted = totals.dry_kg * moisture / (1.0 - moisture);
        let poured = self.mix.added_water_l + wanted - totals.water_kg;
        // Material cannot be dried in a mix; it is left at what its own water gives.
        self.mix.added_water_l = poured.max(0.0);
        Ok(())
    }

    /// Turnings in place of those of the plan.
    fn turn(
        &mut self,
        every_days: f64,
        times: u32,
        operation: &dyn Fn() -> Operation,
    ) -> Result<(), CaseError> {
        let every = number("the days between turnings", every_days, (0.5, 365.0))?;
        number("the number of turnings", f64::from(times), (0.0, 200.0))?;
        let events = &mut self.heap.plan.events;
        events.retain(|event| !matches!(event.operation, Operation::Turn { .. }));
        events.extend((1..=times).map(|time| Event {
            repeat: None,
            day: f64::from(time) * every,
            operation: operation(),
        }));
        Ok(())
    }

    /// Brown and green in turn from the ground up; water poured in equal parts on every layer.
    fn lay(&mut self, catalogue: &Catalogue) -> Result<(), CaseError> {
        let is_brown = |ingredient: &Ingredient| {
            catalogue
                .find(&ingredient.material)
                .is_some_and(|material| material.side() == Side::Brown)
        };
        let (browns, greens): (Vec<Ingredient>, Vec<Ingredient>) =
            self.mix.ingredients.drain(..).partition(is_brown);
        if browns.is_empty() || greens.is_empty() {
            return Err(CaseError::OneSided);
        }
        let (brown_layers, green_layers) = (self.layers.div_ceil(2), self.layers / 2);
        let water = self.mix.added_water_l / f64::from(self.layers);
        let layer = |number: u32| {
            let (from, many) = if number.is_multiple_of(2) {
                (&browns, brown_layers)
            } else {
                (&greens, green_layers)
            };
            let part = |ingredient: &Ingredient| Ingredient {
                amount: Amount {
                    value: ingredient.amount.value / f64::from(many),
                    ..ingredient.amount.clone()
                },
                ..ingredient.clone()
            };
            Mix {
                ingredients: from.iter().map(part).collect(),
                added_water_l: water,
            }
        };
        self.mix = layer(0);
        let laid = (1..self.layers).map(|number| Event {
            repeat: None,
            day: 0.0,
            operation: Operation::Add {
                mix: layer(number),
                placing: Placing::OnTop,
            },
        });
        self.heap.plan.events.splice(0..0, laid);
        Ok(())
    }

    fn chop(&self, totals: &mut Totals) {
        totals.piled_volume_m3 /= self.packing;
        totals.volume_that_slumps_m3 /= self.packing;
        totals.volume_log_size_m3 /= self.packing;
        totals.volume_log_size_m3 += totals.piled_volume_m3 * self.size.ln();
    }
}

/// A number within bounds.
fn number(what: &'static str, found: f64, (low, high): (f64, f64)) -> Result<f64, CaseError> {
    if (low..=high).contains(&found) {
        Ok(found)
    } else {
        Err(CaseError::Number {
            what,
            found,
            low,
            high,
        })
    }
}

//! Everything computed from one state of the project, and what it belongs to.
//!
//! In: a project, a catalogue, answers of the background. Out: [`Shown`]: blend, fixes, cautions, curve,
//! projection, advice, forecast, outcome.
//!
//! Not here: what is saved (`document`), what is chosen (`state`), the background itself (`background`).
//!
//! Tested by: `tests/window/mix.rs`, `tests/window/heap.rs`.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use crate::document::Project;
use crate::forecast::{Forecast, Inputs, Series};
use crate::heap::{Heap, Kinetics, Projection, Resolution};
use crate::material::Catalogue;
use crate::mix::balance::{Fix, Goal, fixes};
use crate::mix::{Blend, Gauge, Gauges, Mix, blend};
use crate::outcome::cautions::Caution;
use crate::outcome::turns::TurnRow;
use crate::outcome::{Advice, advise};
use crate::quantity::UnitSystem;

use crate::window::jobs::judging::{Judging, Subject, Wake, mix_cautions};
use crate::window::jobs::projecting::Answer;
use crate::window::piles::curve::Curve;

/// A mix kept to compare against.
#[derive(Debug, Clone, PartialEq)]
pub struct Pinned {
    /// Its gauges.
    pub gauges: Gauges,
    /// Its heat.
    pub curve: Curve,
}

/// Everything computed from one state of the project.
#[derive(Debug, Default)]
pub struct Shown {
    /// Counts up with every calculation.
    pub revision: u64,
    /// The mix, blended.
    pub blend: Option<Blend>,
    /// Why there is none.
    pub problem: Option<String>,
    /// The projected heat.
    pub curve: Curve,
    /// The projection itself, for its inside.
    pub projection: Option<Arc<Projection>>,
    /// What a finer run of it would need.
    pub inputs: Option<Arc<Inputs>>,
    /// What to do next.
    pub advice: Vec<Advice>,
    /// What to be careful with in the mix.
    pub cautions: Vec<Caution>,
    /// The members of the ensemble so far.
    pub forecast: Option<Arc<Forecast>>,
    /// What each further turning buys, once it has been counted.
    pub turnings: Vec<TurnRow>,
    /// What is judged of the projection, once it is asked for.
    pub judging: Judging,
    /// The easiest change that brings each gauge that is off into its band.
    pub fixes: Vec<(Gauge, Fix)>,
    /// Whether the heap is left to the background.
    pub behind: bool,
    /// Whether nothing has changed for a while, so that slow work is worth while.
    pub at_rest: bool,
    /// What all of it belongs to.
    of: Option<(Mix, Heap, UnitSystem)>,
}

impl Shown {
    /// Calculates everything about the project, unless that has been done already.
    ///
    /// The mix is calculated at once. So is the heap, unless it is left to the background; then the last curve
    /// and advice stay until its answer is there.
    pub fn refresh(&mut self, project: &Project, catalogue: &Catalogue, units: UnitSystem) {
        let fresh = self.of.as_ref().is_some_and(|(mix, heap, of_units)| {
            *mix == project.mix && *heap == project.heap && *of_units == units
        });
        if fresh {
            return;
        }
        let last = std::mem::take(self);
        *self = Self {
            revision: last.revision + 1,
            behind: last.behind,
            at_rest: last.at_rest,
            judging: last.judging,
            of: Some((project.mix.clone(), project.heap.clone(), units)),
            ..Self::default()
        };
        match calculate(project, catalogue) {
            Err(problem) => self.problem = Some(problem),
            Ok((blend, inputs)) => {
                self.cautions = mix_cautions(project, catalogue, &blend);
                self.fixes = easiest_fixes(project, catalogue);
                self.blend = Some(blend);
                if self.behind {
                    self.curve = last.curve;
                    self.projection = last.projection;
                    self.advice = last.advice;
                    self.forecast = last.forecast;
                } else {
                    let never = AtomicBool::new(false);
                    let projection = inputs.simulate(&Resolution::coarse(), &never).map(Box::new);
                    self.take_projection(projection, &inputs, (project, catalogue));
                }
                self.inputs = Some(Arc::new(inputs));
            }
        }
    }

    /// Takes what the background has found.
    pub fn refine(&mut self, answer: Answer, project: &Project, catalogue: &Catalogue) {
        match answer {
            Answer::Forecast(forecast) => {
                self.curve.band = Some(forecast.band(Series::Centre).clone());
                self.forecast = Some(forecast);
            }
            Answer::Projected(projection, inputs) => {
                self.take_projection(projection, &inputs, (project, catalogue));
            }
            Answer::Failed(_) => {}
        }
    }

    /// Shows a projection. Advice is given anew, so that it says the same numbers as the curve.
    fn take_projection(
        &mut self,
        projection: Option<Box<Projection>>,
        inputs: &Inputs,
        (project, catalogue): (&Project, &Catalogue),
    ) {
        self.projection = projection.map(Arc::from);
        self.forecast = None;
        let projection = self.projection.as_deref();
        self.curve = projection
            .map(|p| Curve::of(p, &inputs.heap))
            .unwrap_or_default();
        if let (Ok(parts), Some(blend), Some((_, _, units))) =
            (project.mix.resolve(catalogue), &self.blend, &self.of)
        {
            let room_m3 = project.heap.shape.room_m3();
            self.advice = advise(&project.mix, &parts, blend, room_m3, projection, *units);
        }
    }

    /// Judges the projection that is shown, unless that has been done already.
    ///
    /// In the background, if the heap is left to it, and once all rests; `wake` is called when the outcome is
    /// there.
    pub(in crate::window) fn judge(
        &mut self,
        (project, catalogue): (&Project, &Catalogue),
        units: UnitSystem,
        wake: Wake,
    ) {
        if self.behind && !self.at_rest {
            return;
        }
        let wake = self.behind.then_some(wake);
        let (Some(projection), Some(blend)) = (&self.projection, &self.blend) else {
            self.judging = Judging::default();
            return;
        };
        let subject = Subject {
            project,
            catalogue,
            projection,
            blend,
            advice: &self.advice,
            forecast: self.forecast.as_ref(),
            units,
        };
        self.judging.refresh(&subject, wake);
    }

    /// Forgets what it belongs to, after the catalogue has changed.
    pub fn forget(&mut self) {
        self.of = None;
    }

    /// The present state as something to compare against, if there is anything to see.
    pub fn to_pin(&self) -> Option<Pinned> {
        Some(Pinned {
            gauges: self.blend.as_ref()?.gauges?,
            // A band behind the live one would say more than it explains.
            curve: Curve {
                band: None,
                ..self.curve.clone()
            },
        })
    }
}

/// The mix, blended, and what a projection of its heap needs.
fn calculate(project: &Project, catalogue: &Catalogue) -> Result<(Blend, Inputs), String> {
    let parts = project
        .mix
        .resolve(catalogue)
        .map_err(|problem| problem.to_string())?;
    let blend = blend(&parts, project.mix.added_water_l);
    let additions = project
        .additions(catalogue)
        .map_err(|problem| problem.to_string())?;
    let inputs = Inputs {
        totals: blend.totals,
        additions,
        heap: project.heap.clone(),
        kinetics: Kinetics::default(),
        gauges: blend.gauges,
    };
    Ok((blend, inputs))
}

/// The easiest change for every gauge that is off; a gauge without one has no entry.
fn easiest_fixes(project: &Project, catalogue: &Catalogue) -> Vec<(Gauge, Fix)> {
    let goal = Goal::of_room(project.heap.shape.room_m3());
    let easiest = |gauge: Gauge| {
        let found = fixes(&project.mix, catalogue, &goal, gauge).ok()?;
        Some((gauge, found.into_iter().next()?))
    };
    Gauge::ALL.into_iter().filter_map(easiest).collect()
}

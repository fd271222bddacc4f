//! Learning from a diary: the waves of members, run on all threads.
//!
//! In: [`Inputs`], a [`Diary`]. Out: [`Learnt`], or why nothing can be learnt.
//!
//! The first wave are the members of the usual forecast, so the prior forecast comes with it at no cost; it can be kept
//! and weighed by other values of the same times and places ([`FirstWave`]).
//! Not here: the method (`sampler`), what it comes to (`learnt`).
//!
//! Tested by: `tests/science/learn.rs`, `tests/science/learn_twins.rs`.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use rayon::prelude::*;

use crate::diary::Diary;
use crate::forecast::band::{Gathered, grid_days_of};
use crate::forecast::sequence::DIMENSIONS;
use crate::forecast::{Draws, Ensemble, Inputs, Member};
use crate::heap::Resolution;

use super::errors::Spreads;
use super::first::FirstWave;
use super::learnt::{Learnt, Parts};
use super::member::{Look, Seen, Went, run};
use super::next::candidates;
use super::observed::{KeptOut, Observations};
use super::sampler::{Cloud, Sampler, Tried};

/// Time between the fields of a member, h: the place of a reading is read from them.
const FIELD_HOURS: f64 = 12.0;
/// Why nothing can be learnt.
#[derive(Debug, Clone, PartialEq)]
pub enum NotLearnt {
    /// The diary does not say when the heap was built.
    NotBuilt,
    /// There is no value that can be used.
    NoValues(Vec<KeptOut>),
    /// There is nothing to rot, or it is too little or too much for a heap.
    NothingToRot,
    /// It was called off.
    CalledOff,
}

/// How to learn.
#[derive(Debug, Clone, Copy)]
pub struct Learner {
    /// The members of the prior, and how finely they are simulated. Default: as a forecast, with a field every 12 h.
    pub ensemble: Ensemble,
    /// Further waves.
    pub sampler: Sampler,
    /// First day after the building on which one could go and measure next; the day of the last reading where that is
    /// later.
    pub from_day: f64,
}

impl Default for Learner {
    fn default() -> Self {
        Self {
            ensemble: Ensemble {
                resolution: Resolution {
                    field_hours: Some(FIELD_HOURS),
                    ..Resolution::member()
                },
                ..Ensemble::default()
            },
            sampler: Sampler::default(),
            from_day: 0.0,
        }
    }
}

impl Learner {
    /// The usual one, on a day after the building of the heap.
    pub fn on(day: f64) -> Self {
        Self {
            from_day: day,
            ..Self::default()
        }
    }

    /// Learns from a diary, on the threads of the present rayon pool.
    ///
    /// # Errors
    /// [`NotLearnt`] if there is nothing to learn from or nothing to rot, or it was called off.
    pub fn learn(
        &self,
        inputs: &Inputs,
        diary: &Diary,
        stop: &AtomicBool,
    ) -> Result<Learnt, NotLearnt> {
        if diary.built.is_none() {
            return Err(NotLearnt::NotBuilt);
        }
        let observations = Observations::of(diary, &inputs.heap);
        if observations.is_empty() {
            return Err(NotLearnt::NoValues(observations.kept_out));
        }
        let first = self.first_wave(inputs, observations, stop)?;
        self.learn_from(inputs, &first, stop)
    }

    /// Runs the members of the prior.
    ///
    /// # Errors
    /// [`NotLearnt`] if there is nothing to rot, or it was called off.
    pub fn first_wave(
        &self,
        inputs: &Inputs,
        observations: Observations,
        stop: &AtomicBool,
    ) -> Result<FirstWave, NotLearnt> {
        let mut asked = observations.values.clone();
        asked.extend(candidates(
            inputs,
            observations.last_day().max(self.from_day),
        ));
        let look = Look {
            grid_days: grid_days_of(&[&inputs.heap]),
            asked,
            tip: Some(Look::tip_of(&inputs.heap, inputs.totals.volume_m3())),
        };
        let draws = Draws::new(inputs, &self.ensemble.widths, self.ensemble.seed);
        let count = u32::try_from(self.ensemble.count).unwrap_or(u32::MAX);
        let points: Vec<_> = (0..=count).map(|number| draws.deviates(number)).collect();
        let mut went = self.run_all(&draws, &look, &points, stop)?.into_iter();
        let Some(Went::Whole(typical) | Went::Short(typical)) = went.next() else {
            return Err(NotLearnt::NothingToRot);
        };
        let mut gathered = Gathered::new(look.grid_days.clone(), self.ensemble.count);
        let mut tried = Vec::with_capacity(self.ensemble.count);
        let mut steep = Vec::with_capacity(self.ensemble.count);
        for (went, point) in went.zip(&points[1..]) {
            let whole = whole_of(went);
            gathered.take(whole.as_ref().map(|seen| seen.member.as_ref()));
            if let Some(mut seen) = whole {
                steep.push(std::mem::take(&mut seen.steep));
                tried.push(tried_of(*point, *seen));
            }
        }
        if tried.is_empty() {
            return Err(NotLearnt::NothingToRot);
        }
        Ok(FirstWave {
            observations,
            prior: gathered.forecast(&typical.member, self.ensemble.count),
            spreads: root_mean_squares(&steep, look.asked.len()),
            look: Look { tip: None, ..look },
            tried,
            drawn: self.ensemble.count,
        })
    }

    /// Weighs the members of the prior and runs further ones where the likely ones lie.
    ///
    /// # Errors
    /// [`NotLearnt`] if it was called off, or no member says anything of the values.
    pub fn learn_from(
        &self,
        inputs: &Inputs,
        first: &FirstWave,
        stop: &AtomicBool,
    ) -> Result<Learnt, NotLearnt> {
        let cloud = self.cloud(inputs, first, stop)?;
        let draws = Draws::new(inputs, &self.ensemble.widths, self.ensemble.seed);
        Ok(Learnt::of(Parts {
            first,
            cloud: &cloud,
            members: self.ensemble.count,
            inputs_at: &|deviates| draws.at(deviates),
        }))
    }

    /// All members with their shares, before they are drawn into a forecast.
    ///
    /// # Errors
    /// As [`Learner::learn_from`].
    pub fn cloud(
        &self,
        inputs: &Inputs,
        first: &FirstWave,
        stop: &AtomicBool,
    ) -> Result<Cloud<Arc<Member>>, NotLearnt> {
        let none = || NotLearnt::NoValues(first.observations.kept_out.clone());
        let evidence = first.evidence().ok_or_else(none)?;
        let draws = Draws::new(inputs, &self.ensemble.widths, self.ensemble.seed);
        let run = |points: &[[f64; DIMENSIONS]]| {
            let went = self.run_all(&draws, &first.look, points, stop).ok()?;
            let whole = went.into_iter().zip(points);
            let whole = whole.filter_map(|(went, point)| Some(tried_of(*point, *whole_of(went)?)));
            Some(whole.collect())
        };
        let start = (first.tried.clone(), first.drawn);
        let cloud = self.sampler.weigh(start, &evidence, run);
        cloud.ok_or(NotLearnt::CalledOff)
    }

    /// What a heap with these inputs says of the values of a first wave, and what became of it; `None` if it was not run
    /// to the end.
    pub fn ask(
        &self,
        inputs: &Inputs,
        first: &FirstWave,
        stop: &AtomicBool,
    ) -> Option<(Vec<f64>, Arc<Member>)> {
        let how = (self.ensemble.simulator, &self.ensemble.resolution);
        let seen = whole_of(run(inputs, &first.look, how, stop))?;
        let mut said = seen.said;
        said.truncate(first.observations.values.len());
        Some((said, seen.member))
    }

    fn run_all(
        &self,
        draws: &Draws<'_>,
        look: &Look,
        points: &[[f64; DIMENSIONS]],
        stop: &AtomicBool,
    ) -> Result<Vec<Went>, NotLearnt> {
        let how = (self.ensemble.simulator, &self.ensemble.resolution);
        let one = |point: &[f64; DIMENSIONS]| {
            if stop.load(Ordering::Relaxed) {
                return Went::CalledOff;
            }
            run(&draws.at(point), look, how, stop)
        };
        let went: Vec<Went> = points.par_iter().with_max_len(1).map(one).collect();
        if went.iter().any(|went| matches!(went, Went::CalledOff)) {
            return Err(NotLearnt::CalledOff);
        }
        Ok(went)
    }
}

fn whole_of(went: Went) -> Option<Box<Seen>> {
    match went {
        Went::Whole(seen) => Some(seen),
        Went::Short(_) | Went::Nothing | Went::CalledOff => None,
    }
}

fn tried_of(deviates: [f64; DIMENSIONS], seen: Seen) -> Tried<Arc<Member>> {
    Tried {
        deviates,
        said: seen.said,
        kept: seen.member,
    }
}

/// Root mean squares over members, for every value.
fn root_mean_squares(members: &[Vec<Spreads>], values: usize) -> Vec<Spreads> {
    let root = |place: usize, of: &dyn Fn(&Spreads) -> f64| {
        let steep = members.iter().filter_map(|steep| steep.get(place));
        let squares = steep.map(of).filter(|s| s.is_finite()).map(|s| s * s);
        let (sum, count) = squares.fold((0.0, 0usize), |(sum, n), s| (sum + s, n + 1));
        (sum / count.max(1) as f64).sqrt()
    };
    (0..values)
        .map(|place| Spreads {
            place: root(place, &|steep| steep.place),
            time: root(place, &|steep| steep.time),
        })
        .collect()
}

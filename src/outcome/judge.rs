//! The outcome of a heap: every judgement with its numbers and its source.
//!
//! In: a projection with its heap, mix, ingredients and uses. Out: [`Outcome`].
//!
//! One call; faces show the judgements and, on a click, the numbers and the source. How likely each one is
//! comes from an ensemble (`forecast::weigh`).
//!
//! Not here: the judging itself (one module a subject), the words (`lines`).
//!
//! Tested by: `tests/science/outcome.rs`.

use crate::garden::Use;
use crate::heap::{Heap, Kinetics, Moment, Projection, Shape};
use crate::mix::{Part, Totals};
use crate::quantity::UnitSystem;

use super::advice::Advice;
use super::brief::{is_enclosed, probe};
use super::cautions::{Caution, Situation, that_apply};
use super::finish::Finish;
use super::kill::{GermResult, PlantResult};
use super::lines::{self, Judgement, Topic};
use super::lines_of_produce::produce_lines;
use super::nutrient::{Feeding, kind_of};
use super::produce::{Brought, Produce};
use super::sanitation::{CLASS_A_SOLID, Evidence, RuleResult};
use super::smell::{Trouble, TroublePoint, course, troubles};
use super::tables::Facts;
use super::turns::courses;

/// Share of the heap that must have had enough for a member of an ensemble to count as a yes: half, since the
/// skin of hardly any garden heap gets there.
pub const HALF_OF_IT: f64 = 0.5;

/// What is judged.
#[derive(Debug, Clone, Copy)]
pub struct Case<'a> {
    /// What would become of the heap.
    pub projection: &'a Projection,
    /// The heap.
    pub heap: &'a Heap,
    /// Sums of the mix as built.
    pub totals: &'a Totals,
    /// All ingredients, those of later additions counted.
    pub parts: &'a [Part<'a>],
    /// What is advised for the mix.
    pub advice: &'a [Advice],
    /// What it is for.
    pub uses: &'a [Use],
    /// Units of the words.
    pub units: UnitSystem,
    /// Rates of rot that were simulated with.
    pub kinetics: &'a Kinetics,
}

/// Everything that is judged of a heap.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// Every line, by topic.
    pub judgements: Vec<Judgement>,
    /// Rules on heat, in the order of the table.
    pub rules: Vec<RuleResult>,
    /// Score of the class A equation in the coolest parcel and at the centre; 1 is what it asks.
    pub class_a: (f64, f64),
    /// Seeds, then roots, in the order of the table.
    pub plants: Vec<PlantResult>,
    /// Germs, in the order of the table.
    pub germs: Vec<GermResult>,
    /// When it is done.
    pub finish: Finish,
    /// What comes out.
    pub produce: Produce,
    /// What it feeds.
    pub feeding: Feeding,
    /// Troubles found.
    pub troubles: Vec<Trouble>,
    /// Troubles over time.
    pub trouble_course: Vec<TroublePoint>,
    /// Cautions that apply.
    pub cautions: Vec<Caution>,
}

impl Outcome {
    /// Judges a projection; `None` if it holds no records.
    pub fn of(case: &Case<'_>, facts: &Facts) -> Option<Self> {
        let projection = case.projection;
        let last = projection.records.last()?;
        let parcels = courses(projection, 1);
        let inside = probe(projection);
        let turnings = case.heap.plan.turning_days(last.day);
        let evidence = Evidence {
            inside: &inside,
            parcels: &parcels,
            turnings: &turnings,
            enclosed: is_enclosed(case.heap),
        };
        let rules: Vec<RuleResult> = facts.rules.iter().map(|r| r.judge(&evidence)).collect();
        let produce = Produce::of(projection, &Brought::by(case.parts))?;
        let kind = kind_of(case.parts);
        let situation = Situation {
            parts: case.parts,
            totals: case.totals,
            heap: case.heap,
            projection: Some(projection),
            uses: case.uses,
        };
        let scores = parcels.iter().map(|p| CLASS_A_SOLID.score(p));
        let mut outcome = Self {
            judgements: Vec::new(),
            class_a: (
                if parcels.is_empty() {
                    0.0
                } else {
                    scores.fold(f64::INFINITY, f64::min)
                },
                CLASS_A_SOLID.score(&inside),
            ),
            plants: facts.kill.judge_plants(&parcels),
            germs: facts.kill.judge_germs(&parcels),
            finish: Finish::of(
                projection,
                &facts.finish,
                case.kinetics,
                &turnings,
                case.heap.shape == Shape::OpenHeap,
            )?,
            feeding: facts.usage.feeding(&produce, kind),
            troubles: troubles(projection, case.totals, case.advice, &facts.faults),
            trouble_course: course(projection),
            cautions: that_apply(&facts.cautions, &situation)
                .into_iter()
                .cloned()
                .collect(),
            rules,
            produce,
        };
        outcome.judgements = outcome.lines(facts, &parcels, case.units);
        Some(outcome)
    }

    /// The judgements of one topic.
    pub fn about(&self, topic: Topic) -> impl Iterator<Item = &Judgement> {
        self.judgements.iter().filter(move |it| it.topic == topic)
    }

    fn lines(&self, facts: &Facts, parcels: &[Vec<Moment>], units: UnitSystem) -> Vec<Judgement> {
        let rules = facts.rules.iter().zip(&self.rules);
        let mut all: Vec<Judgement> = rules
            .map(|(rule, got)| lines::rule_line(rule, got, units))
            .collect();
        all.push(lines::class_a_line(self.class_a));
        all.extend(lines::plant_lines(&self.plants, facts, units));
        all.extend(lines::disease_lines(&self.rules, facts));
        all.extend(lines::germ_lines(&self.germs, facts, parcels.len(), units));
        all.push(lines::finish_line(&self.finish, facts, units));
        all.extend(produce_lines(&self.produce, &self.feeding, facts, units));
        all.extend(
            self.troubles
                .iter()
                .map(|it| lines::trouble_line(it, units)),
        );
        all
    }
}

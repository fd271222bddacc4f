//! The outcome of a heap: every judgement with its numbers and its source.
//!
//! In: a projection with its heap, mix, ingredients and uses. Out: [`Outcome`], never dependent on units.
//!
//! One call; every result is typed and holds numbers only. How likely each one is
//! comes from an ensemble (`forecast::weigh`).
//!
//! Not here: the judging itself (one module a subject), the words (`text::outcome`).
//!
//! Tested by: `tests/science/outcome.rs`.

use std::collections::{BTreeMap, BTreeSet};

use crate::garden::{TestResult, Use};
use crate::heap::{Heap, Kinetics, Projection, Shape};
use crate::material::Family;
use crate::mix::{Part, Totals, dry_share};

use super::advice::Advice;
use super::brief::{is_enclosed, probe};
use super::cautions::{Caution, Situation, When, that_apply};
use super::fate::{NitrogenFate, WaterFate};
use super::finish::{Finish, Lies, Made};
use super::judgement::{ClassAScores, Finding, Judgement, JudgementId, TableRow, Weighed};
use super::kill::{GermResult, KillTable, PlantResult};
use super::nutrient::{Feeding, kind_of};
use super::produce::{Brought, Produce};
use super::reach::{Limit, Reached, limits};
use super::sanitation::{CLASS_A_SOLID, HeatEvidence, HeatRule, ReadAt, RuleResult};
use super::smell::{Trouble, TroublePoint, course, troubles};
use super::tables::Facts;
use super::trust::Trust;
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
    /// Results of field tests of the compost itself.
    pub tests: &'a [TestResult],
    /// Rates of rot that were simulated with.
    pub kinetics: &'a Kinetics,
}

/// Everything that is judged of a heap.
#[derive(Debug, Clone, PartialEq)]
pub struct Outcome {
    /// Rules on heat, in the order of the table.
    pub rules: Vec<RuleResult>,
    /// Scores of the class A equation.
    pub class_a: ClassAScores,
    /// Seeds, then roots, in the order of the table.
    pub plants: Vec<PlantResult>,
    /// Germs, in the order of the table.
    pub germs: Vec<GermResult>,
    /// When it is done.
    pub finish: Finish,
    /// What comes out.
    pub produce: Produce,
    /// Where the nitrogen went that is no longer there, where that is worth a line.
    pub nitrogen: Option<NitrogenFate>,
    /// Where the water came from and went, where that is worth a line.
    pub water: Option<WaterFate>,
    /// What it feeds.
    pub feeding: Feeding,
    /// Troubles found.
    pub troubles: Vec<Trouble>,
    /// Troubles over time.
    pub trouble_course: Vec<TroublePoint>,
    /// Where the simulation parts from what is published of such a heap.
    pub limits: Vec<Limit>,
    /// Cautions that apply.
    pub cautions: Vec<Caution>,
    /// Judgements on what nothing in this mix brings, and on rules that are for other heaps.
    pub elsewhere: BTreeSet<JudgementId>,
    /// Parcels that were followed.
    pub parcels: usize,
    /// What an ensemble says of the judgements, once it has been asked.
    pub weighed: BTreeMap<JudgementId, Weighed>,
}

impl Outcome {
    /// Judges a projection; `None` if it holds no records.
    pub fn of(case: &Case<'_>, facts: &Facts) -> Option<Self> {
        let projection = case.projection;
        let last = projection.records.last()?;
        let parcels = courses(projection, 1);
        let inside = probe(projection);
        let turnings = case.heap.plan.turning_days(last.day);
        let evidence = HeatEvidence {
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
        let lies = if case.heap.shape == Shape::OpenHeap {
            Lies::OnTheGround
        } else {
            Lies::Heaped
        };
        let made = Made {
            turnings: &turnings,
            lies,
            leaf_share: dry_share(case.parts, |family| family == Family::Leaves),
        };
        let finish = Finish::of(projection, &facts.finish, case.kinetics, &made)?;
        let finish = finish.tested(&facts.finish, case.tests);
        let limits = limits(&Reached {
            parts: case.parts,
            totals: case.totals,
            heap: case.heap,
            projection,
            usable_day: finish.usable_day,
        });
        let scores = parcels.iter().map(|p| CLASS_A_SOLID.score(p));
        Some(Self {
            class_a: ClassAScores {
                coolest: if parcels.is_empty() {
                    0.0
                } else {
                    scores.fold(f64::INFINITY, f64::min)
                },
                centre: CLASS_A_SOLID.score(&inside),
            },
            plants: facts.kill.judge_plants(&parcels),
            germs: facts.kill.judge_germs(&parcels),
            elsewhere: elsewhere(&rules, &facts.kill, &situation),
            nitrogen: NitrogenFate::of(projection),
            water: WaterFate::of(projection, case.heap),
            feeding: Feeding {
                stage: finish.stage(),
                leaves: finish.leaves,
                ..facts.usage.feeding(&produce, kind)
            },
            finish,
            troubles: troubles(projection, case.totals, case.advice),
            trouble_course: course(projection),
            limits,
            cautions: that_apply(&facts.cautions, &situation)
                .into_iter()
                .cloned()
                .collect(),
            rules,
            produce,
            parcels: parcels.len(),
            weighed: BTreeMap::new(),
        })
    }

    /// Every judgement, topic by topic; `facts` are those it was judged by.
    pub fn judgements<'a>(&'a self, facts: &'a Facts) -> Vec<Judgement<'a>> {
        let mut all: Vec<(JudgementId, Finding<'a>)> = Vec::new();
        let rules = facts.rules.iter().zip(&self.rules).enumerate();
        all.extend(rules.map(|(place, (rule, got))| {
            (JudgementId::Rule(TableRow(place)), Finding::Rule(rule, got))
        }));
        all.push((JudgementId::ClassA, Finding::ClassA(self.class_a)));
        let plants = facts.kill.plants().zip(&self.plants).enumerate();
        all.extend(plants.map(|(place, (class, got))| {
            (
                JudgementId::Plants(TableRow(place)),
                Finding::Plants(class, got),
            )
        }));
        let met = self.rule_for_diseases(facts);
        let diseases = facts.kill.diseases.iter().enumerate();
        all.extend(diseases.map(|(place, disease)| {
            (
                JudgementId::Disease(TableRow(place)),
                Finding::Disease(disease, met),
            )
        }));
        let germs = facts.kill.germs.iter().zip(&self.germs).enumerate();
        all.extend(germs.map(|(place, (germ, got))| {
            let parcels = self.parcels;
            (
                JudgementId::Germ(TableRow(place)),
                Finding::Germ { germ, got, parcels },
            )
        }));
        all.extend(self.later_findings(facts));
        all.into_iter()
            .map(|(id, finding)| Judgement {
                id,
                finding,
                here: !self.elsewhere.contains(&id),
                weighed: match id {
                    // What a test has refuted is not likely any more, whatever the members say.
                    JudgementId::Finish if self.finish.curing.stops() => Weighed::default(),
                    _ => self.weighed.get(&id).copied().unwrap_or_default(),
                },
            })
            .collect()
    }

    /// When it is done, what comes out, what goes wrong.
    fn later_findings<'a>(
        &'a self,
        facts: &'a Facts,
    ) -> impl Iterator<Item = (JudgementId, Finding<'a>)> {
        let mut series = facts.usage.series.iter();
        let series = series.find(|it| it.kind == self.feeding.kind);
        let produce = Finding::Produce(&self.produce, &facts.usage.published);
        let troubles = self.troubles.iter().map(|trouble| {
            let fault = facts.faults.iter().find(|it| it.kind == Some(trouble.kind));
            (
                JudgementId::Trouble(trouble.kind),
                Finding::Trouble(fault, trouble),
            )
        });
        let finish = Finding::Finish(&facts.finish, &self.finish);
        let water = self.water.as_ref().map(Finding::Water);
        let nitrogen = self.nitrogen.as_ref().map(Finding::Nitrogen);
        [
            Some((JudgementId::Finish, finish)),
            Some((JudgementId::Produce, produce)),
            water.map(|finding| (JudgementId::Water, finding)),
            nitrogen.map(|finding| (JudgementId::Nitrogen, finding)),
            Some((
                JudgementId::Feeding,
                Finding::Feeding(series, &self.feeding),
            )),
        ]
        .into_iter()
        .flatten()
        .chain(troubles)
    }

    /// The first rule on every part that even the coolest parcel meets and that says something of plant diseases.
    fn rule_for_diseases<'a>(&self, facts: &'a Facts) -> Option<&'a HeatRule> {
        let mut rules = facts.rules.iter().zip(&self.rules);
        let met = rules.find(|(rule, got)| {
            rule.read_at == ReadAt::EveryPart
                && rule.trust != Trust::Recalled
                && rule.covers_plant_diseases
                && got.process_fits
                && got.would_meet
        });
        met.map(|(rule, _)| rule)
    }
}

/// What has nothing to do with this heap: rules for heaps of another kind, and seeds, diseases and germs that nothing in
/// the mix brings. Where the ingredients are not known everything may be in it.
fn elsewhere(
    rules: &[RuleResult],
    kill: &KillTable,
    situation: &Situation<'_>,
) -> BTreeSet<JudgementId> {
    let rules = rules.iter().enumerate();
    let mut all: BTreeSet<JudgementId> = rules
        .filter(|(_, rule)| !rule.process_fits)
        .map(|(place, _)| JudgementId::Rule(TableRow(place)))
        .collect();
    if situation.parts.is_empty() {
        return all;
    }
    let absent = |when: &When| !when.holds(situation);
    let plants = kill.plants().enumerate();
    let plants = plants.filter(|(_, it)| absent(&it.comes_with));
    all.extend(plants.map(|(place, _)| JudgementId::Plants(TableRow(place))));
    let diseases = kill.diseases.iter().enumerate();
    let diseases = diseases.filter(|(_, it)| absent(&it.comes_with));
    all.extend(diseases.map(|(place, _)| JudgementId::Disease(TableRow(place))));
    let germs = kill.germs.iter().enumerate();
    let germs = germs.filter(|(_, it)| absent(&it.comes_with));
    all.extend(germs.map(|(place, _)| JudgementId::Germ(TableRow(place))));
    all
}

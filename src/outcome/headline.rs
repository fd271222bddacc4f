//! What people ask first of a heap: do weed seeds die, does it smell, when is it ready.
//!
//! In: an outcome with the facts it was judged by. Out: [`Headline`], which results answer that.
//!
//! Of the classes of seeds and roots that come with the mix one speaks for all: the toughest of the seeds that heat can
//! kill, or else the first of the roots. Of the troubles it is the first that smells.
//!
//! Not here: the sentences (`text::outcome`), the judging (`judge`).
//!
//! Tested by: `tests/science/outcome.rs`.

use super::finish::Finish;
use super::judge::Outcome;
use super::judgement::{Finding, Judgement, JudgementId, Topic};
use super::kill::{Best, PlantClass, PlantResult};
use super::reach::Limit;
use super::smell::{Trouble, TroubleKind};
use super::tables::Facts;

/// The answers to the three first questions.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Headline<'a> {
    /// The class that speaks for the seeds, and whether any come with the mix.
    pub seeds: Option<Seeds<'a>>,
    /// The first trouble that smells.
    pub smell: Option<(&'a Trouble, Judgement<'a>)>,
    /// Whether it is of a kind that stinks by custom though the simulation finds nothing that does.
    pub stinks_by_custom: bool,
    /// When it is ready.
    pub finish: &'a Finish,
    /// The same as a judgement.
    pub when: Option<Judgement<'a>>,
}

/// The class that speaks for the seeds and roots.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Seeds<'a> {
    /// The class.
    pub class: &'a PlantClass,
    /// How it fared.
    pub got: &'a PlantResult,
    /// The same as a judgement.
    pub judgement: Judgement<'a>,
}

/// Whether a trouble smells.
pub fn smells(kind: TroubleKind) -> bool {
    match kind {
        TroubleKind::Airless | TroubleKind::Sour | TroubleKind::Ammonia => true,
        TroubleKind::TooHot | TroubleKind::TooDry | TroubleKind::Cold => false,
    }
}

/// Which results answer what people ask first; `judgements` are those of the outcome.
pub fn headline<'a>(
    outcome: &'a Outcome,
    facts: &'a Facts,
    judgements: &[Judgement<'a>],
) -> Headline<'a> {
    let smell = judgements.iter().find_map(|it| match it.finding {
        Finding::Trouble(_, trouble) if smells(trouble.kind) => Some((trouble, *it)),
        _ => None,
    });
    let when = judgements.iter().find(|it| it.id == JudgementId::Finish);
    Headline {
        seeds: seeds(facts, judgements),
        smell,
        stinks_by_custom: outcome.limits.contains(&Limit::Grass),
        finish: &outcome.finish,
        when: when.copied(),
    }
}

/// The class that speaks: of what comes with the mix the toughest seeds that heat kills, or the first roots; where none
/// come, those seeds all the same.
fn seeds<'a>(facts: &Facts, judgements: &[Judgement<'a>]) -> Option<Seeds<'a>> {
    let many = facts.kill.seeds.len();
    let classes = judgements
        .iter()
        .filter(|it| it.id.topic() == Topic::Plants);
    let classes: Vec<Seeds<'a>> = classes
        .filter_map(|it| match it.finding {
            Finding::Plants(class, got) => Some(Seeds {
                class,
                got,
                judgement: *it,
            }),
            _ => None,
        })
        .collect();
    let killed = |it: &&Seeds<'a>| it.class.best == Best::Killed;
    let of_seeds = || classes.iter().take(many).filter(killed);
    let here = of_seeds().rfind(|it| it.judgement.here);
    let mut roots = classes.iter().skip(many);
    let roots = roots.find(|it| it.judgement.here && it.class.best != Best::Never);
    here.or(roots).or_else(|| of_seeds().next_back()).copied()
}

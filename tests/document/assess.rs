//! The stages of a project: what is made anew when, and that both ways through them end with the same numbers.

use std::path::Path;
use std::sync::Arc;

use heapwright::assess::{Assessed, Resolved, Stages, Subject};
use heapwright::document::{CheckError, Project, file};
use heapwright::garden::Use;
use heapwright::heap::{Event, Operation, Placing};
use heapwright::material::Catalogue;
use heapwright::mix::{Mix, blend};
use heapwright::quantity::Measure;

use crate::sample::{catalogue, ingredient};

fn summer() -> Project {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/withybed-summer-hot.heap.ron");
    file::read(&path, catalogue()).unwrap().project
}

fn shared_catalogue() -> Arc<Catalogue> {
    Arc::new(catalogue().clone())
}

#[test]
fn only_what_it_depends_on_makes_a_stage_anew() {
    let known = shared_catalogue();
    let mut project = summer();
    let mut stages = Stages::default();
    assert!(stages.renew(&Subject::of(&project, &known)));
    let inputs = Arc::clone(stages.inputs().unwrap());
    assert!(
        !stages.renew(&Subject::of(&project, &known)),
        "nothing changed"
    );
    project.title.push('!');
    project.notes.push('!');
    project.beds.clear();
    assert!(
        !stages.renew(&Subject::of(&project, &known)),
        "no stage reads that"
    );
    project.uses = vec![Use::Seedlings];
    assert!(
        !stages.renew(&Subject::of(&project, &known)),
        "uses are judged, not simulated"
    );
    assert!(Arc::ptr_eq(&inputs, stages.inputs().unwrap()));
    assert_eq!(stages.revision(), 1);
    project.heap.days += 1.0;
    assert!(stages.renew(&Subject::of(&project, &known)), "another heap");
    project.mix.added_water_l += 1.0;
    assert!(stages.renew(&Subject::of(&project, &known)), "another mix");
    assert!(
        stages.renew(&Subject::of(&project, &shared_catalogue())),
        "other materials"
    );
    assert_eq!(stages.revision(), 4);
}

#[test]
fn step_by_step_and_at_once_it_is_the_same() {
    let known = shared_catalogue();
    let project = summer();
    let mut whole = Assessed::of(&project, catalogue()).unwrap();
    whole.weigh().unwrap();
    let subject = Subject::of(&project, &known);
    let mut stages = Stages::default();
    stages.renew(&subject);
    assert_eq!(stages.blend(), Some(&whole.blend));
    assert_eq!(**stages.inputs().unwrap(), whole.inputs);
    let inputs = Arc::clone(stages.inputs().unwrap());
    stages.take_projection(whole.projection.clone().map(Arc::new), &inputs, &subject);
    let due = stages.judgement_due(&subject).unwrap();
    assert!(stages.judgement_due(&subject).is_none(), "it is due once");
    assert!(stages.is_judging());
    stages.take_forecast(Arc::new(whole.forecast.clone().unwrap()));
    stages.weigh().unwrap();
    assert!(
        stages.outcome().is_none(),
        "likelihoods belong to what is being judged"
    );
    stages.take_outcome(due.outcome().unwrap());
    stages.weigh().unwrap();
    assert_eq!(stages.outcome().map(|it| &**it), whole.outcome.as_ref());
}

#[test]
fn additions_of_the_plan_are_resolved_with_the_mix() {
    let mut project = summer();
    let later = Mix {
        ingredients: vec![ingredient("coffee_grounds", 10.0, Measure::Litre)],
        added_water_l: 2.0,
    };
    project.heap.plan.events = vec![Event {
        day: 5.0,
        operation: Operation::Add {
            mix: later.clone(),
            placing: Placing::OnTop,
        },
    }];
    let resolved = Resolved::of(&project.mix, &project.heap, catalogue()).unwrap();
    let parts = later.resolve(catalogue()).unwrap();
    assert_eq!(resolved.additions, [(0, blend(&parts, 2.0).totals)]);
    assert_eq!(
        resolved.all_parts().len(),
        project.mix.ingredients.len() + 1
    );
    assert_eq!(resolved.inputs(&project.heap).additions, resolved.additions);
    if let Operation::Add { mix, .. } = &mut project.heap.plan.events[0].operation {
        mix.ingredients[0].material = "moon_dust".to_owned();
    }
    let unknown = Resolved::of(&project.mix, &project.heap, catalogue());
    assert!(matches!(
        unknown,
        Err(CheckError::Addition { entry: 1, .. })
    ));
}

//! The stages of a project: what is made anew when, and that both ways through them end with the same numbers.

use std::path::Path;
use std::sync::Arc;

use heapwright::assess::{Assessed, Came, Resolved, Stages, Subject, WasRead};
use heapwright::diary::{Log, Spot};
use heapwright::document::{CheckError, Project, file};
use heapwright::garden::Use;
use heapwright::heap::{Event, Operation, Placing};
use heapwright::material::Catalogue;
use heapwright::mix::{Mix, blend};
use heapwright::quantity::{Measure, UnitSystem};
use heapwright::text::compare::{Compared, sections};

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
        repeat: None,
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

fn example(place: usize) -> Project {
    heapwright::document::examples().unwrap().remove(place)
}

#[test]
fn what_came_of_a_heap_is_what_its_diary_says_and_else_what_is_projected() {
    let project = example(1);
    let assessed = Assessed::of(&project, catalogue()).unwrap();
    let came = Came::of(&project, &assessed);
    let read = came.read.unwrap();
    assert_eq!(Some(read.built), project.diary.built);
    // The highest of the readings in the file: 58.5 degC on 1 November at 16:00, seven days and four hours on.
    let (celsius, day) = read.hottest.unwrap();
    assert_eq!(celsius, 58.5);
    assert!((day - (7.0 + 4.0 / 24.0)).abs() < 1e-9);
    let summary = assessed.projection.as_ref().unwrap().summary;
    assert_eq!(came.peak, Some((summary.peak_c, summary.peak_day)));
    assert_eq!(
        came.finish.as_ref(),
        assessed.outcome.as_ref().map(|it| &it.finish)
    );
    // What a logger has recorded counts as well, and what it showed before the building does not.
    let mut logged = project;
    logged.diary.logs.push(Log {
        name: "probe".to_owned(),
        spot: Spot::CENTRE,
        temperatures_c: [(-0.5, 80.0), (3.0, 61.0)].into_iter().collect(),
    });
    let hottest = WasRead::of(&logged.diary).unwrap().hottest;
    assert_eq!(hottest, Some((61.0, 3.0)));
    logged.diary.built = None;
    assert_eq!(WasRead::of(&logged.diary), None);
}

#[test]
fn two_recipes_differ_where_their_words_do() {
    let built_in = catalogue();
    let (first, mut second) = (example(0), example(0));
    let of = Assessed::of(&first, built_in).unwrap();
    let told = |second: &Project, units| {
        let other = Assessed::of(second, built_in).unwrap();
        let both = [(&first, &of), (second, &other)];
        let both = both.map(|(project, assessed)| Compared { project, assessed });
        sections(both, built_in, units)
    };
    // The same twice: nothing differs.
    for section in told(&second, UnitSystem::Metric) {
        assert_eq!(section.rows, [], "{}", section.heading);
        assert!(section.same_told().is_some());
    }
    second.mix.ingredients[0].amount.value = 7.0;
    second.mix.ingredients.remove(2);
    second.place = "Bay 9".to_owned();
    let all = told(&second, UnitSystem::Metric);
    let row = |what: &str| {
        let mut rows = all.iter().flat_map(|section| &section.rows);
        rows.find(|row| row.what == what).unwrap().both.clone()
    };
    assert_eq!(
        row("Autumn leaves, mixed, as raked"),
        ["14 barrows", "7 barrows"]
    );
    let litter = row("Poultry litter on shavings or straw");
    assert_eq!(litter, ["6 buckets", "none"]);
    assert_eq!(row("Place"), [first.place.as_str(), "Bay 9"]);
    assert!(row("C:N")[0].starts_with("29.3"));
    let same = all[0].same_told().unwrap();
    assert!(same.contains("Grass clippings, fresh and loose"), "{same}");
    // A number is in the units that are read.
    let us = told(&second, UnitSystem::UsCustomary);
    let peaks = us.iter().flat_map(|section| &section.rows);
    let peaks: Vec<&[String; 2]> = peaks
        .filter(|row| row.what == "Projected at most")
        .map(|row| &row.both)
        .collect();
    assert!(
        peaks
            .iter()
            .flat_map(|both| both.iter())
            .all(|it| it.contains("°F"))
    );
}

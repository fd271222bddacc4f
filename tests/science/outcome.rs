//! The whole outcome: demos traced line by line, members against the full judgement, turnings against probability.

use std::sync::atomic::AtomicBool;

use heapwright::document::Project;
use heapwright::forecast::{Inputs, ensemble, weigh};
use heapwright::heap::{
    Addition, Event, Heap, Kinetics, Operation, Placing, Projection, Resolution, Turning, simulate,
};
use heapwright::material::Catalogue;
use heapwright::mix::{Mix, blend};
use heapwright::outcome::brief::{COUNTS_FROM_C, probe};
use heapwright::outcome::kill::Best;
use heapwright::outcome::turns::{Planned, Timetable, courses, further_turnings, replanned};
use heapwright::outcome::{
    Brief, Case, Facts, Finding, JudgementId, Outcome, TableRow, Topic, shared,
};
use heapwright::quantity::UnitSystem;
use heapwright::text::outcome as words;

use crate::support::heap_math::share_held;
use crate::support::heaps::{GOOD, Recipe, mesh_cube, project, turned};
use crate::support::{close, within};

fn run(
    totals: &heapwright::mix::Totals,
    additions: &[Addition],
    heap: &Heap,
) -> Option<Projection> {
    simulate(
        totals,
        additions,
        heap,
        &Resolution::coarse(),
        &AtomicBool::new(false),
    )
}

fn outcome(projection: &Projection, heap: &Heap, facts: &Facts) -> Outcome {
    let case = Case {
        projection,
        heap,
        totals: &GOOD.totals(),
        parts: &[],
        advice: &[],
        uses: &[],
        tests: &[],
        kinetics: &Kinetics::default(),
    };
    Outcome::of(&case, facts).unwrap()
}

#[test]
fn every_line_of_the_demos_can_be_traced() {
    // House rule: no judgement without numbers and a source; nothing in it is called by the word that promises.
    let (catalogue, facts) = (Catalogue::built_in().unwrap(), Facts::built_in().unwrap());
    for name in [
        "autumn-leaves",
        "spring-grass",
        "summer-hot",
        "winter-kitchen",
    ] {
        let path = format!(
            "{}/demo-data/withybed-{name}.heap.ron",
            env!("CARGO_MANIFEST_DIR")
        );
        let project: Project = ron::from_str(&std::fs::read_to_string(path).unwrap()).unwrap();
        let parts = project.mix.resolve(&catalogue).unwrap();
        let totals = blend(&parts, project.mix.added_water_l).totals;
        let projection = project_of(&totals, &project.heap);
        let case = Case {
            projection: &projection,
            heap: &project.heap,
            totals: &totals,
            parts: &parts,
            advice: &[],
            uses: &[],
            tests: &[],
            kinetics: &Kinetics::default(),
        };
        let outcome = Outcome::of(&case, &facts).unwrap();
        let judgements = outcome.judgements(&facts);
        assert!(judgements.len() > 30 && !outcome.cautions.is_empty());
        let mut ids = std::collections::BTreeSet::new();
        for line in &judgements {
            let id = words::id(&line.finding);
            assert!(ids.insert(id.clone()), "{id} twice");
            for units in [UnitSystem::Metric, UnitSystem::UsCustomary] {
                let text = words::sentence(&line.finding, units);
                println!("{name}: [{id}] {text}");
                assert!(
                    !text.is_empty() && !words::source(&line.finding).is_empty(),
                    "{id}"
                );
                let numbers = words::numbers(line, units);
                let topic = line.id.topic();
                assert!(!numbers.is_empty() || topic == Topic::Diseases, "{id}");
                for number in &numbers {
                    let (what, value) = (&number.name, &number.value);
                    assert!(!what.is_empty() && !value.is_empty(), "{id}: {what}");
                    assert!(
                        !value.contains("NaN") && !value.contains("inf "),
                        "{id}: {value}"
                    );
                }
                let word = ["sa", "fe"].concat();
                assert!(!text.to_lowercase().contains(&word));
            }
        }
    }
}

fn project_of(totals: &heapwright::mix::Totals, heap: &Heap) -> Projection {
    project(totals, heap).unwrap()
}

#[test]
fn a_member_is_judged_as_the_whole_outcome_judges_it() {
    // Two ways to the same answer: yes or no of every rule, shares to the grain of 64 parcels, the same day.
    let facts = Facts::built_in().unwrap();
    let mut heap = mesh_cube(1.5, 18.0);
    heap.plan = turned(&[5.0, 9.0, 13.0, 17.0, 21.0], Some(0.58));
    let recipe = Recipe {
        volume_m3: 1.5,
        ..GOOD
    };
    let projection = project(&recipe.totals(), &heap).unwrap();
    let kinetics = Kinetics::default();
    let brief = Brief::of(&projection, &facts, &heap, &kinetics);
    let whole = outcome(&projection, &heap, &facts);
    for ((rule, got), brief) in facts.rules.iter().zip(&whole.rules).zip(&brief.rules_met) {
        // Parcels left out can only make a rule on every part easier.
        assert!(*brief == got.would_meet || *brief, "{}", rule.id);
    }
    assert_eq!(whole.plants.len(), brief.plant_shares.len());
    let plants = whole.plants.iter().zip(&brief.plant_shares);
    for (class, (got, share)) in facts.kill.plants().zip(plants) {
        assert!(
            (got.share - f64::from(*share)).abs() < 0.08,
            "{}: {} {share}",
            class.id,
            got.share
        );
    }
    assert!((whole.germs[0].share - f64::from(brief.germ_share)).abs() < 0.08);
    assert_eq!(whole.finish.day, brief.finished_day);
    assert_eq!(
        whole.troubles.iter().map(|t| t.kind).collect::<Vec<_>>(),
        brief.troubles
    );
    let mut rules = facts.rules.iter().zip(&whole.rules);
    assert!(rules.any(|(rule, got)| got.would_meet && rule.id == "us_pfrp_turned"));
    assert_eq!(probe(&projection).len(), projection.records.len());
}

#[test]
fn nothing_in_the_tables_counts_below_the_warmth_that_members_keep() {
    let facts = Facts::built_in().unwrap();
    let rules = facts
        .rules
        .iter()
        .flat_map(|rule| rule.any_of.iter().flatten());
    let plants = facts.kill.plants().flat_map(|class| &class.holds);
    assert!(rules.chain(plants).all(|hold| hold.at_c >= COUNTS_FROM_C));
    assert!(
        facts
            .kill
            .germs
            .iter()
            .all(|germ| germ.above_c >= COUNTS_FROM_C)
    );
}

#[test]
fn likelihoods_are_shares_of_the_members() {
    let facts = shared().unwrap();
    let heap = mesh_cube(1.0, 15.0);
    let never = AtomicBool::new(false);
    let forecast = ensemble(&Inputs::of(&GOOD.totals(), &heap), 24, 1, &never, |_| {}).unwrap();
    assert_eq!(forecast.briefs().len(), forecast.members());
    let projection = project(&GOOD.totals(), &heap).unwrap();
    let mut outcome = outcome(&projection, &heap, facts);
    weigh(&mut outcome, &forecast, facts);
    for line in outcome.judgements(facts) {
        let id = words::id(&line.finding);
        let counted = match line.finding {
            Finding::Rule(_, got) => got.process_fits,
            Finding::Finish(..) | Finding::Trouble(..) => true,
            Finding::Germ { germ, .. } => germ.id == "bacteria_slow",
            // What no heap is credited with is no question of likelihood.
            Finding::Plants(class, _) => class.best != Best::Never,
            _ => false,
        };
        assert_eq!(line.weighed.likely.is_some(), counted, "{id}");
        if let Some(likely) = &line.weighed.likely {
            within(&id, likely.share, 0.0..=1.0);
            println!("{id}: {}", words::likely(likely));
        }
    }
    // Counted again by hand.
    let place = facts
        .rules
        .iter()
        .position(|rule| rule.id == "us_psrp")
        .unwrap();
    let met = forecast
        .briefs()
        .iter()
        .filter(|b| b.rules_met[place])
        .count();
    let likely = |id: &str| {
        let place = facts.rules.iter().position(|rule| rule.id == id).unwrap();
        outcome.weighed[&JudgementId::Rule(TableRow(place))]
            .likely
            .unwrap()
    };
    close("share", likely("us_psrp").share, met as f64 / 24.0, 1e-12);
    // Some member differs from another, and the range of the mass says so.
    let mass = outcome.produce.mass_kg;
    assert!(
        mass.is_sound() && mass.width() > 0.01 * mass.typical,
        "{mass:?}"
    );
    // A skin that stays cold meets no rule on every part, in any member.
    assert_eq!(likely("eu_fertiliser").share, 0.0);
}

#[test]
fn further_turnings_buy_what_random_mixing_says_while_the_heap_reheats() {
    // Elementary probability: (1 - h)^(n + 1) untreated after n turnings if every spell treats the same share h. The
    // heap's spells differ (the first starts cold, later ones have less to burn), so one turning is held to a band of
    // 0.15, and more turnings never leave more untreated than the worst spell would.
    let heap = mesh_cube(1.0, 15.0);
    let timetable = Timetable {
        first_day: 7.0,
        every_days: 7.0,
        count: 3,
        waterings: 0,
        turning: Turning::Remix,
        wet_to: Some(0.58),
    };
    let facts = Facts::built_in().unwrap();
    let class = facts
        .kill
        .plants()
        .find(|c| c.id == "seeds_ordinary")
        .unwrap();
    let rows = further_turnings(
        Planned {
            heap: &heap,
            additions: &[],
            from_day: None,
        },
        &timetable,
        |parcels| class.share(parcels, 0.4),
        |heap, additions| run(&GOOD.totals(), additions, heap),
    );
    for row in &rows {
        println!("{row:?}");
    }
    assert_eq!(rows.len(), 4);
    close(
        "no turning",
        rows[0].untreated_by_formula,
        1.0 - rows[0].treated,
        1e-12,
    );
    let h = rows[0].treated;
    for row in &rows {
        close(
            "formula",
            row.untreated_by_formula,
            (1.0 - h).powi(row.turnings as i32 + 1),
            1e-12,
        );
    }
    assert!(
        rows.windows(2)
            .all(|pair| pair[1].treated >= pair[0].treated - 0.02)
    );
    within(
        "one turning",
        (1.0 - rows[1].treated) - rows[1].untreated_by_formula,
        -0.3..=0.3,
    );
    assert!(rows[3].treated > rows[0].treated + 0.1);
}

#[test]
fn replanning_keeps_additions_and_covers_in_their_places() {
    let mut heap = mesh_cube(1.0, 15.0);
    let add = |day| Event {
        repeat: None,
        day,
        operation: Operation::Add {
            mix: Mix::default(),
            placing: Placing::OnTop,
        },
    };
    heap.plan = turned(&[3.0, 6.0], None);
    heap.plan.events.insert(1, add(4.0));
    heap.plan.events.push(add(9.0));
    let small = Recipe {
        volume_m3: 0.1,
        ..GOOD
    }
    .totals();
    let more = Recipe {
        volume_m3: 0.2,
        ..GOOD
    }
    .totals();
    let table = Timetable {
        first_day: 5.0,
        every_days: 4.0,
        count: 2,
        waterings: 0,
        turning: Turning::InsideOut,
        wet_to: None,
    };
    let sums = [(1, small), (3, more)];
    let planned = |from_day| Planned {
        heap: &heap,
        additions: &sums,
        from_day,
    };
    // Of a heap that stands the turning of day 3 is past; that of day 6 is not.
    let (new, additions) = replanned(planned(Some(5.0)), &table.events());
    assert_eq!(new.plan.turning_days(100.0), [3.0, 5.0, 9.0]);
    assert_eq!(additions, [(1, small), (2, more)]);
    let (new, additions) = replanned(planned(None), &table.events());
    assert_eq!(new.plan.turning_days(100.0), [5.0, 9.0]);
    assert_eq!(additions, [(0, small), (1, more)]);
    let watered = Timetable {
        count: 1,
        waterings: 3,
        wet_to: Some(0.55),
        ..table
    };
    let operations: Vec<bool> = watered
        .events()
        .iter()
        .map(|event| matches!(event.operation, Operation::Water { .. }))
        .collect();
    assert_eq!(operations, [false, true, true]);
    for (place, _) in &additions {
        assert!(matches!(
            new.plan.events[*place].operation,
            Operation::Add { .. }
        ));
    }
}

#[test]
fn what_is_added_late_has_only_its_own_history() {
    // As much again on top at day 30: half of the parcels begin there, and a share of the heap that was hot before is
    // credited to what was there only.
    let mut heap = mesh_cube(2.0, 15.0);
    heap.days = 32.0;
    let alone = run(&GOOD.totals(), &[], &heap).unwrap();
    heap.plan.events.push(Event {
        repeat: None,
        day: 30.0,
        operation: Operation::Add {
            mix: Mix::default(),
            placing: Placing::OnTop,
        },
    });
    let p = run(&GOOD.totals(), &[(0, GOOD.totals())], &heap).unwrap();
    let last = p.records.last().unwrap();
    let all = courses(&p, 1);
    let young = all.iter().filter(|c| c[0].day >= 30.0).count() as f64 / all.len() as f64;
    // The share of new dry matter: 189 kg of what is there.
    let new = GOOD.totals().dry_kg / p.at(30.01).unwrap().dry_kg;
    within("young", young, new - 0.02..=new + 0.02);
    within(
        "held",
        share_held(&p, 55.0, 3.0),
        0.0..=share_held(&alone, 55.0, 3.0) * (1.0 - new) + 0.08,
    );
    assert!(last.dry_kg > 0.0);
}

#[test]
fn shares_hardly_depend_on_the_grid() {
    // Numerics: the share of a heap that held 55 degC for three days on the members' grid against that on the fine one.
    // A cell of 6 by 8 holds up to 5 % of the heap, so two cells' worth of difference is allowed.
    let facts = Facts::built_in().unwrap();
    let class = facts
        .kill
        .plants()
        .find(|c| c.id == "seeds_ordinary")
        .unwrap();
    let mut apart = Vec::new();
    for (volume_m3, mean_c) in [(0.7, 18.0), (1.0, 15.0), (1.5, 15.0), (3.0, 10.0)] {
        let recipe = Recipe { volume_m3, ..GOOD };
        let mut heap = mesh_cube(volume_m3, mean_c);
        heap.days = 40.0;
        let share = |resolution: &Resolution| {
            let never = AtomicBool::new(false);
            let p = simulate(&recipe.totals(), &[], &heap, resolution, &never).unwrap();
            class.share(&courses(&p, 1), 0.4)
        };
        let (member, fine) = (share(&Resolution::member()), share(&Resolution::fine()));
        println!("{volume_m3} m3: member {member:.3} fine {fine:.3}");
        apart.push(member - fine);
    }
    for difference in &apart {
        within("member less fine", *difference, -0.1..=0.1);
    }
}

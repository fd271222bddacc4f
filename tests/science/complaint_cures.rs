//! Cures: within the stock, in measures a garden has, as sure as their pairs; and heaps without a recipe.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use heapwright::assess::remedy::{
    Built, CURE_PAIRS, Cure, Diagnosis, DiarySays, Mostly, Origin, Question, Rough, Size, Stands,
    Step,
};
use heapwright::document::file;
use heapwright::heap::{
    Base, Board, Climate, Cover, Event, Heap, Lid, Operation, Placing, Plan, Shape,
};
use heapwright::mix::{Ingredient, Mix, blend};
use heapwright::outcome::complaint::{Cause, Goal, Readings, Squeeze, Symptom};
use heapwright::quantity::{Amount, Measure, UnitSystem};
use heapwright::text::complaint as words;

use crate::support::materials::built_in;

fn heap() -> Heap {
    let climates = Climate::ready();
    Heap {
        shape: Shape::OpenHeap,
        base: Base::Soil,
        cover: Cover::Bare,
        in_sun: false,
        climate: climates
            .into_iter()
            .find(|climate| climate.name.starts_with("Cfb"))
            .unwrap(),
        start_day_of_year: 110.0,
        start_temperature_c: None,
        days: 90.0,
        plan: Plan::default(),
    }
}

fn barrows(id: &str, barrows: f64) -> Ingredient {
    Ingredient::new(id, Amount::new(barrows, Measure::Barrow))
}

/// The cure that is wanted; tells what was found where there is none.
fn cure_that(found: &Diagnosis, is_wanted: impl Fn(&Cure) -> bool) -> &Cure {
    let cure = found.cures.iter().find(|cure| is_wanted(cure));
    cure.unwrap_or_else(|| {
        let causes: Vec<_> = found
            .ranked
            .iter()
            .map(|it| (it.cause, it.weight))
            .collect();
        let steps: Vec<_> = found.cures.iter().map(|it| &it.steps).collect();
        panic!("{causes:?} {steps:?}")
    })
}

fn ask(mix: Mix, heap: Heap, symptoms: &[Symptom], readings: Readings) -> Diagnosis {
    let question = Question {
        mix,
        heap,
        symptoms: symptoms.to_vec(),
        readings,
        catalogue: Arc::new(built_in().clone()),
        from_day: None,
        diary: DiarySays::default(),
        learnt: None,
    };
    let never = AtomicBool::new(false);
    question.answer(&never, |_| {}).unwrap().unwrap()
}

/// Twenty barrows of leaves as raked: about a cubic metre as built.
fn leaves_with(grass: Option<f64>) -> Mix {
    let mut mix = Mix {
        ingredients: vec![barrows("leaves_mixed", 20.0)],
        added_water_l: 0.0,
    };
    if let Some(stock) = grass {
        let mut row = barrows("grass_fresh", 1.0);
        row.stock = Some(stock);
        mix.ingredients.push(row);
    }
    mix
}

/// The cold leaf heap: the smallest cure that works brings greens and water, in barrows, and nine in ten such heaps get
/// hot (issue of every leaflet: damp, and mix in greens). Its sureness is that of its pairs.
#[test]
fn cold_leaves_are_cured_by_greens_and_water() {
    let found = ask(
        leaves_with(None),
        heap(),
        &[Symptom::Cold],
        Readings::default(),
    );
    let best = found.best_cure().expect("a cure");
    let greens = best.steps.iter().find_map(|step| match step {
        Step::MixIn { amount, .. } => Some(amount),
        _ => None,
    });
    let greens = greens.unwrap_or_else(|| panic!("{:?}", best.steps));
    assert_eq!(greens.measure, Measure::Barrow, "{greens:?}");
    assert!(
        best.steps
            .iter()
            .any(|step| matches!(step, Step::Pour { .. })),
        "{:?}",
        best.steps
    );
    let comparison = best.comparison.as_ref().unwrap();
    assert_eq!(comparison.pairs(), CURE_PAIRS);
    assert!(best.gone_share() > 0.5 && best.cures_all());
    let text = words::cure(best, built_in(), UnitSystem::Metric);
    assert!(text.contains("barrow") && text.contains("water"), "{text}");
    let expected = words::expected_lines(best, UnitSystem::Metric).join(" ");
    assert!(expected.contains("in 10"), "{expected}");
    // What is put into the recipe is what was simulated.
    let parts = best.then.0.resolve(built_in()).unwrap();
    let cured = blend(&parts, best.then.0.added_water_l).totals;
    assert!(cured.cn() < found.numbers.cn && cured.moisture() > found.numbers.moisture);
}

/// No cure takes more from the stock than there is.
#[test]
fn a_cure_stays_within_the_stock() {
    for stock in [1.0, 3.0, 12.0] {
        let found = ask(
            leaves_with(Some(stock)),
            heap(),
            &[Symptom::Cold],
            Readings::default(),
        );
        for cure in &found.cures {
            for row in &cure.then.0.ingredients {
                let most = row.stock.unwrap_or(f64::INFINITY);
                assert!(row.amount.value <= most + 1e-9, "{stock}: {:?}", cure.steps);
            }
        }
    }
    // With plenty at hand nobody is sent to fetch greens.
    let found = ask(
        leaves_with(Some(40.0)),
        heap(),
        &[Symptom::Cold],
        Readings::default(),
    );
    let fetched = |step: &Step| {
        matches!(
            step,
            Step::MixIn {
                origin: Origin::Fetched,
                ..
            }
        )
    };
    let greens = found
        .cures
        .iter()
        .filter(|cure| cure.against == [Cause::ShortOfNitrogen]);
    for cure in greens {
        assert!(!cure.steps.iter().any(fetched), "{:?}", cure.steps);
    }
}

/// Amounts over five buckets are said in barrows, and none is more than a heap and a half.
#[test]
fn doses_are_said_as_a_garden_says_them() {
    for (id, symptom) in [
        ("leaves_mixed", Symptom::Cold),
        ("grass_fresh", Symptom::SmellSour),
        ("poultry_litter", Symptom::SmellAmmonia),
        ("straw", Symptom::Cold),
    ] {
        for size in [1.5, 6.0, 15.0] {
            let mix = Mix {
                ingredients: vec![barrows(id, size)],
                added_water_l: 0.0,
            };
            let found = ask(mix, heap(), &[symptom], Readings::default());
            for step in found.cures.iter().flat_map(|cure| &cure.steps) {
                let Step::MixIn { amount, .. } = step else {
                    continue;
                };
                match amount.measure {
                    Measure::Bucket => assert!(amount.value <= 5.0, "{step:?}"),
                    Measure::Barrow => assert!(amount.value <= 10.0 * size * 1.5, "{step:?}"),
                    _ => panic!("{step:?}"),
                }
            }
        }
    }
}

/// A squeeze counts instead of the recipe's water: a right mix that is dust in the hand is too dry, and the cure is
/// water.
#[test]
fn a_squeeze_overrides_the_recipe() {
    let mix = Mix {
        ingredients: vec![barrows("leaves_mixed", 10.0), barrows("grass_fresh", 8.0)],
        added_water_l: 30.0,
    };
    let readings = Readings {
        squeeze: Some(Squeeze::Dust),
        ..Readings::default()
    };
    let found = ask(mix, heap(), &[Symptom::Cold], readings);
    assert_eq!(found.ranked[0].cause, Cause::TooDry);
    let best = found.best_cure().expect("a cure");
    assert!(
        best.steps
            .iter()
            .any(|step| matches!(step, Step::Pour { .. })),
        "{:?}",
        best.steps
    );
}

/// Every choice of answers makes a heap that can be run and kept.
#[test]
fn every_rough_heap_can_be_asked_about() {
    for mostly in Mostly::ALL {
        for (size, stands) in [
            (Size::Small, Stands::Tumbler),
            (Size::Bin, Stands::ClosedBin),
            (Size::Metre, Stands::Slats),
            (Size::Large, Stands::Open),
        ] {
            let rough = Rough {
                mostly,
                some: Some(Mostly::Leaves),
                size,
                squeeze: Squeeze::Sponge,
                built: Built::BitByBit { weeks: 4 },
                start_day_of_year: 121.0,
                weeks_old: 8,
                stands,
                covered: true,
            };
            let (mix, heap) = rough.recipe(&heap(), built_in()).unwrap();
            heap.check().unwrap();
            let question = Question {
                mix,
                heap,
                symptoms: vec![Symptom::Cold, Symptom::SmellSour],
                readings: rough.readings(),
                catalogue: Arc::new(built_in().clone()),
                from_day: None,
                diary: DiarySays::default(),
                learnt: None,
            };
            let found = question.at_once(None).unwrap();
            assert!(!found.ranked.is_empty());
            // Four portions make the whole, to the quarters that amounts are rounded to.
            let wanted = size.volume_m3();
            assert!(
                (found.numbers.volume_m3 / wanted - 1.0).abs() < 0.4,
                "{mostly:?} {size:?}: {}",
                found.numbers.volume_m3
            );
        }
    }
}

/// A heap of cooked food that has rats is told the food, from the answers alone (Test Valley BC; NC State).
#[test]
fn rats_are_told_the_cooked_food() {
    let rough = Rough {
        mostly: Mostly::Kitchen,
        some: Some(Mostly::CookedFood),
        size: Size::Bin,
        squeeze: Squeeze::Trickles,
        built: Built::AtOnce,
        start_day_of_year: 121.0,
        weeks_old: 8,
        stands: Stands::Open,
        covered: false,
    };
    let (mix, heap) = rough.recipe(&heap(), built_in()).unwrap();
    let question = Question {
        mix,
        heap,
        symptoms: vec![Symptom::Rats],
        readings: rough.readings(),
        catalogue: Arc::new(built_in().clone()),
        from_day: None,
        diary: DiarySays::default(),
        learnt: None,
    };
    let found = question.at_once(None).unwrap();
    assert_eq!(found.ranked[0].cause, Cause::RatFood);
}

/// Cures of soggy and sour heaps: a turning does not wet, a material is named once, a cure that fails the symptom of its
/// cause is not offered where another does better, a combination gains no less than its parts, and what does not fit the
/// bin is said not to.
#[test]
fn cures_are_worth_offering() {
    let mut bin = heap();
    bin.shape = Shape::SlattedBin {
        width_m: 0.8,
        length_m: 0.8,
        height_m: 0.8,
    };
    let mix = Mix {
        ingredients: vec![barrows("grass_fresh", 6.0), barrows("veg_scraps", 2.0)],
        added_water_l: 40.0,
    };
    let symptoms = [Symptom::SmellSour, Symptom::Soggy];
    let found = ask(mix, bin.clone(), &symptoms, Readings::default());
    assert!(!found.cures.is_empty());
    let most = found.cures.iter().map(helped).max().unwrap();
    let mut outgrown = 0;
    for cure in &found.cures {
        let mut materials = Vec::new();
        for step in &cure.steps {
            match step {
                Step::MixIn { material, .. } => {
                    assert!(!materials.contains(material), "{:?}", cure.steps);
                    materials.push(material.clone());
                }
                Step::Turn { wet_to, .. } => assert_eq!(*wet_to, None),
                _ => {}
            }
        }
        if most == symptoms.len() {
            let explains = |symptom: Symptom| {
                let mut causes = found.ranked.iter();
                causes.any(|it| cure.against.contains(&it.cause) && it.explains.contains(&symptom))
            };
            for relief in cure.relief.iter().filter(|it| it.shown) {
                assert!(
                    relief.noticed || !explains(relief.symptom),
                    "{:?}",
                    cure.steps
                );
            }
        }
        let parts = cure.then.0.resolve(built_in()).unwrap();
        let needs = blend(&parts, cure.then.0.added_water_l).totals.volume_m3();
        let room = cure.then.1.shape.room_m3().unwrap();
        let text = words::expected_lines(cure, UnitSystem::Metric).join(" ");
        if needs > 1.1 * room {
            outgrown += 1;
            assert!(text.contains("does not fit"), "{needs} {room}: {text}");
        } else {
            assert!(!text.contains("does not fit"), "{needs} {room}: {text}");
        }
    }
    assert!(outgrown > 0, "no cure brings more than the bin holds");
}

/// A heap that is too small for a bin of its size is grown into a bay, and the cure says so (extension services: about a
/// cubic metre).
#[test]
fn a_heap_that_outgrows_its_bin_is_said_to_want_a_bay() {
    let mut small = heap();
    small.shape = Shape::SolidBin {
        width_m: 0.5,
        length_m: 0.5,
        height_m: 0.6,
        lid: Lid::Closed,
        board: Board::Plastic,
    };
    let mix = Mix {
        ingredients: vec![barrows("leaves_mixed", 1.3), barrows("grass_fresh", 1.3)],
        added_water_l: 3.0,
    };
    for (shape, wants) in [(small.shape.clone(), true), (Shape::OpenHeap, false)] {
        let heap = Heap {
            shape,
            ..small.clone()
        };
        let found = ask(mix.clone(), heap, &[Symptom::Cold], Readings::default());
        let cure = cure_that(&found, |it| it.against == [Cause::TooSmall]);
        let Step::Grow { to_m3, bay_m, .. } = cure.steps[0] else {
            panic!("{:?}", cure.steps);
        };
        assert_eq!(bay_m.is_some(), wants);
        let text = words::cure(cure, built_in(), UnitSystem::Metric);
        assert_eq!(text.contains("bay of slats"), wants, "{text}");
        let room = cure.then.1.shape.room_m3();
        assert!(room.is_none_or(|room| room >= to_m3), "{room:?} {to_m3}");
        assert_eq!(cure.overflow, None);
    }
}

/// A heap built bit by bit is cured by building it anew at once: all that came later goes into the mix, nothing is added
/// any more, and no more and no less goes in.
#[test]
fn building_anew_keeps_all_that_went_in() {
    let portion = Mix {
        ingredients: vec![barrows("leaves_mixed", 0.85), barrows("grass_fresh", 0.85)],
        added_water_l: 1.5,
    };
    let weeks = 12;
    let mut heap = heap();
    heap.plan.events = (1..weeks)
        .map(|week| Event {
            repeat: None,
            day: 7.0 * f64::from(week),
            operation: Operation::Add {
                mix: portion.clone(),
                placing: Placing::OnTop,
            },
        })
        .collect();
    heap.days = 150.0;
    let found = ask(portion.clone(), heap, &[Symptom::Cold], Readings::default());
    let anew = cure_that(&found, |cure| cure.steps == [Step::InOneGo]);
    let (mix, heap) = &anew.then;
    assert!(heap.plan.events.is_empty(), "{:?}", heap.plan.events);
    assert_eq!(mix.ingredients.len(), portion.ingredients.len());
    for (all, one) in mix.ingredients.iter().zip(&portion.ingredients) {
        assert_eq!(all.material, one.material);
        assert!((all.amount.value - f64::from(weeks) * one.amount.value).abs() < 1e-9);
    }
    assert!((mix.added_water_l - f64::from(weeks) * portion.added_water_l).abs() < 1e-9);
}

/// What two causes both ask for is one dose, larger than either alone, in whole buckets or half barrows.
#[test]
fn the_same_material_against_two_causes_is_one_dose() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let scraps = root.join("tests/mixes/mix-scraps.heap.ron");
    let project = file::read(&scraps, built_in()).unwrap().project;
    let symptoms = [Symptom::SmellSour];
    let found = ask(project.mix, project.heap, &symptoms, Readings::default());
    let mut merged = 0;
    for cure in found.cures.iter().filter(|cure| cure.against.len() > 1) {
        let mixed_in: Vec<&Amount> = cure.steps.iter().filter_map(amount_of).collect();
        let alone = |cause: &Cause| found.cures.iter().find(|it| it.against == [*cause]);
        let parts = cure.against.iter().filter_map(alone);
        let doses: Vec<f64> = parts.filter_map(dose_m3).collect();
        if mixed_in.len() == 1 && doses.len() > 1 {
            let most = doses.iter().copied().fold(0.0, f64::max);
            assert!(dose_m3(cure).unwrap() > most, "{doses:?} {:?}", cure.steps);
            let rungs = match mixed_in[0].measure {
                Measure::Barrow => 2.0 * mixed_in[0].value,
                _ => mixed_in[0].value,
            };
            assert!((rungs - rungs.round()).abs() < 1e-6, "{:?}", cure.steps);
            merged += 1;
        }
        for row in &cure.then.0.ingredients {
            // What goes into the recipe is what the step says.
            let said = cure.steps.iter().find_map(|step| match step {
                Step::MixIn {
                    material, amount, ..
                } if *material == row.material => Some(amount),
                _ => None,
            });
            assert!(said.is_none_or(|amount| *amount == row.amount), "{row:?}");
        }
    }
    let steps: Vec<_> = found.cures.iter().map(|it| &it.steps).collect();
    assert!(merged > 0, "no cure merges two doses: {steps:?}");
}

fn amount_of(step: &Step) -> Option<&Amount> {
    match step {
        Step::MixIn { amount, .. } => Some(amount),
        _ => None,
    }
}

/// Loose volume of the first material that a cure mixes in, m3.
fn dose_m3(cure: &Cure) -> Option<f64> {
    cure.steps.iter().find_map(|step| match step {
        Step::MixIn {
            material, amount, ..
        } => {
            let density = built_in().find(material)?.bulk_density.typical;
            Some(amount.volume_m3(density))
        }
        _ => None,
    })
}

/// A cure against several causes is offered only where it gains more than those against some of them, or is surer.
#[test]
fn a_combination_that_gains_less_than_its_parts_is_not_offered() {
    let gain = |cure: &Cure| -> f64 {
        let gains = cure.relief.iter().map(|relief| {
            let noticed = Goal::of(relief.symptom).unwrap().noticed();
            (relief.values.1 - relief.values.0) / noticed
        });
        gains.sum()
    };
    for (mix, symptoms) in [
        (
            vec![barrows("grass_fresh", 6.0), barrows("veg_scraps", 2.0)],
            vec![Symptom::SmellSour, Symptom::Soggy],
        ),
        (
            vec![barrows("poultry_litter", 4.0), barrows("leaves_mixed", 2.0)],
            vec![Symptom::SmellAmmonia, Symptom::SmellSour],
        ),
        (
            vec![barrows("leaves_mixed", 1.0), barrows("grass_fresh", 0.5)],
            vec![Symptom::Cold, Symptom::Dry],
        ),
    ] {
        let mix = Mix {
            ingredients: mix,
            added_water_l: 0.0,
        };
        let found = ask(mix, heap(), &symptoms, Readings::default());
        for whole in &found.cures {
            for part in &found.cures {
                let is_part = part.against.len() < whole.against.len()
                    && part.against.iter().all(|it| whole.against.contains(it));
                assert!(
                    !is_part || gain(part) <= gain(whole) || part.gone_share() < whole.gone_share(),
                    "{:?} gains less than {:?}",
                    whole.steps,
                    part.steps
                );
            }
        }
    }
}

/// How many symptoms a cure eases.
fn helped(cure: &Cure) -> usize {
    cure.relief.iter().filter(|it| it.noticed).count()
}

//! Greens in the place of browns, in a heap of the same size: browns starve it, greens smell.
//!
//! Sources: AgriFutures, poultry waste composting guidelines, page "Carbon to nitrogen ratio" (excerpt read): 20 to 40
//! suits a start; a high C:N slows the rot so that the rise of temperature is limited; below 15 odour for want of oxygen,
//! and ammonia. The same ends of what works from Cooperband 2002, as in `mix::bands`. By how much it stays cooler: common
//! practice. Volumes and water by arithmetic: both add.

use heapwright::document::Project;
use heapwright::heap::{Heap, Projection, Resolution};
use heapwright::material::{Catalogue, Side};
use heapwright::mix::{EXCHANGED_AT_ONCE, Mix, Newcomers, Sides, Totals, bands, blend, exchanged};
use heapwright::outcome::hunger::Hunger;
use heapwright::outcome::smell::{TroubleKind, troubles_found};

use crate::support::garden::at_once;
use crate::support::heaps::project_with;

/// The demos that heat as they stand; the fourth is a small bin in winter.
const HEAT: [&str; 3] = ["autumn-leaves", "spring-grass", "summer-hot"];
const STAYS_COLD: &str = "winter-kitchen";
const NEW: Newcomers<'static> = Newcomers {
    green: "grass_fresh",
    brown: "leaves_mixed",
};
/// Twentieths from all green to all brown.
const STEPS: [usize; 21] = [
    0, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20,
];

fn demo(name: &str) -> Project {
    let root = env!("CARGO_MANIFEST_DIR");
    let path = format!("{root}/demo-data/withybed-{name}.heap.ron");
    ron::from_str(&std::fs::read_to_string(path).unwrap()).unwrap()
}

fn totals(mix: &Mix, catalogue: &Catalogue) -> Totals {
    let parts = mix.resolve(catalogue).unwrap();
    blend(&parts, mix.added_water_l).totals
}

fn run(totals: &Totals, heap: &Heap) -> Projection {
    project_with(totals, heap, &Resolution::coarse()).unwrap()
}

/// A demo with its greens and browns exchanged, from all green to all brown.
fn sweep(name: &str) -> [(Totals, Projection); 21] {
    let catalogue = Catalogue::built_in().unwrap();
    let project = demo(name);
    at_once(STEPS, |step| {
        let share = step as f64 * EXCHANGED_AT_ONCE;
        let mix = exchanged(&project.mix, &catalogue, share, NEW).unwrap();
        let totals = totals(&mix, &catalogue);
        let projection = run(&totals, &project.heap);
        let s = projection.summary;
        println!(
            "{name} {share:.2}: C:N {:.1}, moist {:.2}, {:.2} m3; peak {:.1}, days {:.1} > 40, {:.1} > 55; {:?} {:?}",
            totals.cn(),
            totals.moisture(),
            totals.volume_m3(),
            s.peak_c,
            s.days_above_40,
            s.days_above_55,
            Hunger::of(&projection, &totals),
            smells(&projection),
        );
        (totals, projection)
    })
}

fn smells(projection: &Projection) -> Vec<TroubleKind> {
    let found = troubles_found(projection).into_iter().map(|it| it.kind);
    let smelly = [
        TroubleKind::Airless,
        TroubleKind::Sour,
        TroubleKind::Ammonia,
    ];
    found.filter(|kind| smelly.contains(kind)).collect()
}

#[test]
fn browns_in_the_place_of_greens_starve_every_demo_that_heats() {
    for name in HEAT {
        let runs = sweep(name);
        let most = |of: fn(&Projection) -> f64| {
            let all = runs.iter().map(|(_, projection)| of(projection));
            all.fold(0.0, f64::max)
        };
        let hottest = most(|it| it.summary.peak_c);
        let (lean, cold) = &runs[20];
        assert!(lean.cn() > bands::CN.works.1, "{name}");
        assert_eq!(Hunger::of(cold, lean), Some(Hunger::Starves), "{name}");
        assert!(cold.summary.peak_c < hottest - 25.0, "{name}");
        assert!(most(|it| it.summary.days_above_40) > 14.0, "{name}");
        // The leaner beyond the best, the less heat (common practice: best at C:N 25-30).
        let lean = runs.iter().filter(|(totals, _)| totals.cn() >= 30.0);
        let lean: Vec<_> = lean.map(|(_, it)| it.summary).collect();
        for pair in lean.windows(2) {
            let (richer, leaner) = (pair[0], pair[1]);
            assert!(leaner.peak_c <= richer.peak_c + 0.1, "{name}");
            // Half a day is less than a diary tells apart.
            assert!(leaner.days_above_55 <= richer.days_above_55 + 0.5, "{name}");
        }
        // No heap that is as it should be is said to be short of anything.
        for (totals, projection) in &runs {
            let works = totals.cn() <= bands::CN.works.1;
            assert_eq!(Hunger::of(projection, totals).is_none(), works, "{name}");
        }
    }
}

#[test]
fn greens_in_the_place_of_browns_smell_in_every_demo_that_heats() {
    for name in HEAT {
        let runs = sweep(name);
        let (rich, greens) = &runs[0];
        assert!(rich.cn() < bands::CN.best.0, "{name}");
        assert!(!smells(greens).is_empty(), "{name}");
        assert!(smells(&runs[20].1).is_empty(), "{name}: browns alone");
        let lost = |at: usize| runs[at].1.summary.nitrogen_lost_share;
        // Michel et al. 2004 (abstract): 38 % at C:N 25 to 2 % at 50; the turn of it, not the figures.
        assert!(lost(0) > 0.15 && lost(20) < 0.02, "{name}");
    }
}

#[test]
fn what_is_cold_for_its_size_and_the_winter_is_not_said_to_starve() {
    for (totals, projection) in sweep(STAYS_COLD) {
        let hunger = Hunger::of(&projection, &totals);
        assert!(
            matches!(hunger, None | Some(Hunger::Short)),
            "C:N {}: {hunger:?}",
            totals.cn()
        );
    }
}

#[test]
fn an_exchange_keeps_the_volume_and_dries_nothing_out() {
    let catalogue = Catalogue::built_in().unwrap();
    for name in HEAT.into_iter().chain([STAYS_COLD]) {
        let mix = demo(name).mix;
        let before = totals(&mix, &catalogue);
        for step in STEPS {
            let share = step as f64 * EXCHANGED_AT_ONCE;
            let other = exchanged(&mix, &catalogue, share, NEW).unwrap();
            let sides = Sides::of(&other, &catalogue).unwrap();
            assert!((sides.brown_share().unwrap() - share).abs() < 1e-9);
            let after = totals(&other, &catalogue);
            let grown = after.piled_volume_m3 / before.piled_volume_m3;
            assert!((grown - 1.0).abs() < 1e-9, "{name}: {grown}");
            let least = bands::MOISTURE.best.0.min(before.moisture());
            assert!(after.moisture() > least - 1e-9, "{name}");
            // Water is poured only where it would be drier.
            let watered = other.added_water_l > 0.0;
            assert!(!watered || after.moisture() < least + 1e-9, "{name}");
        }
    }
}

#[test]
fn an_exchange_and_back_is_the_same_mix() {
    let catalogue = Catalogue::built_in().unwrap();
    for name in HEAT {
        let mix = demo(name).mix;
        let share = |mix: &Mix, more_m3| {
            let sides = Sides::of(mix, &catalogue).unwrap();
            sides.brown_share_with(more_m3).unwrap()
        };
        let there = exchanged(&mix, &catalogue, share(&mix, 0.05), NEW).unwrap();
        assert_ne!(there, mix);
        let back = exchanged(&there, &catalogue, share(&there, -0.05), NEW).unwrap();
        for (row, as_before) in back.ingredients.iter().zip(&mix.ingredients) {
            let (now, then) = (row.amount.value, as_before.amount.value);
            assert!((now - then).abs() < 1e-9, "{name}: {now} for {then}");
        }
    }
}

#[test]
fn a_side_that_is_empty_begins_anew_and_no_more_gives_way_than_there_is() {
    let catalogue = Catalogue::built_in().unwrap();
    let mix = demo("spring-grass").mix;
    let all = Sides::of(&mix, &catalogue).unwrap();
    assert_eq!(all.brown_share_with(-9.0), Some(0.0));
    assert_eq!(all.brown_share_with(9.0), Some(1.0));
    let greens = exchanged(&mix, &catalogue, 0.0, NEW).unwrap();
    assert_eq!(Sides::of(&greens, &catalogue).unwrap().browns_m3, 0.0);
    // Its own browns come back, in equal parts.
    let back = exchanged(&greens, &catalogue, 0.5, NEW).unwrap();
    assert_eq!(back.ingredients.len(), mix.ingredients.len());
    let browns = back.ingredients.iter().filter(|row| {
        let material = row.material_in(&catalogue).unwrap();
        material.side() == Side::Brown
    });
    assert!(browns.clone().all(|row| row.amount.value > 0.0));
    // Where there never were any the chosen ones come.
    let mut grass = mix.clone();
    grass.ingredients.truncate(1);
    let mixed = exchanged(&grass, &catalogue, 0.5, NEW).unwrap();
    assert_eq!(mixed.ingredients.len(), 2);
    assert_eq!(mixed.ingredients[1].material, NEW.brown);
    let sides = Sides::of(&mixed, &catalogue).unwrap();
    assert!((sides.brown_share().unwrap() - 0.5).abs() < 1e-9);
    let empty = Mix::default();
    assert_eq!(exchanged(&empty, &catalogue, 0.5, NEW).unwrap(), empty);
}

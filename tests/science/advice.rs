//! Advice: every figure in a sentence is what blending the changed mix gives.

use heapwright::heap::{Projection, Shape};
use heapwright::mix::{Blend, Fit, Ingredient, Mix, TargetBand, bands, blend};
use heapwright::outcome::advice::Fetch;
use heapwright::outcome::{Change, advise};
use heapwright::quantity::Measure::{self, Barrow, Bucket, Caddy, Kilogram, Litre};
use heapwright::quantity::{Amount, UnitSystem};
use heapwright::text::advice::sentence;
use heapwright::text::number;
use heapwright::text::spoken::spoken_names;
use proptest::prelude::*;

use crate::support::heaps;
use crate::support::materials::built_in;

/// Room of a slatted bay of 1.2 x 1.2 x 1.0 m.
const BAY_M3: f64 = 1.44;

fn mix(rows: &[(&str, f64, Measure)], water_l: f64) -> Mix {
    Mix {
        ingredients: rows
            .iter()
            .map(|(id, value, measure)| Ingredient {
                material: (*id).into(),
                amount: Amount::new(*value, measure.clone()),
                locked: false,
                stock: None,
                condition: heapwright::material::Condition::default(),
            })
            .collect(),
        added_water_l: water_l,
    }
}

fn blended(mix: &Mix) -> Blend {
    blend(&mix.resolve(built_in()).unwrap(), mix.added_water_l)
}

fn projected(blend: &Blend) -> Option<Projection> {
    heaps::project(&blend.totals, &heaps::place(Shape::OpenHeap, 15.0))
}

/// Advice as it is said.
#[derive(Debug)]
struct Advice {
    text: String,
    change: Option<Change>,
}

fn said(all: Vec<heapwright::outcome::Advice>, units: UnitSystem) -> Vec<Advice> {
    let said = all.into_iter().map(|advice| Advice {
        text: sentence(&advice, units),
        change: advice.change,
    });
    said.collect()
}

fn advice_in(mix: &Mix, room_m3: Option<f64>, units: UnitSystem) -> Vec<Advice> {
    let parts = mix.resolve(built_in()).unwrap();
    let blend = blend(&parts, mix.added_water_l);
    let projection = projected(&blend);
    let all = advise(mix, &parts, &blend, room_m3, projection.as_ref());
    said(all, units)
}

fn advice(mix: &Mix, room_m3: Option<f64>) -> Vec<Advice> {
    advice_in(mix, room_m3, UnitSystem::Metric)
}

/// A gauge's name in sentences, its value, and its band.
fn gauges(blend: &Blend, room_m3: Option<f64>) -> Vec<(&'static str, f64, TargetBand)> {
    let gauges = blend.gauges.unwrap();
    let volume = gauges.volume_m3.typical;
    let mut all = vec![
        ("moisture", gauges.moisture.typical, bands::MOISTURE),
        ("C:N", gauges.cn.typical, bands::CN),
        (
            "free air space",
            gauges.free_air_space.typical,
            bands::FREE_AIR_SPACE,
        ),
        (
            "bulk density",
            gauges.wet_bulk_density_kg_per_m3.typical,
            bands::BULK_DENSITY_KG_PER_M3,
        ),
    ];
    all.extend(room_m3.map(|room| ("volume", volume, bands::volume(room))));
    all
}

/// The value a sentence should print.
fn printed(gauge: &str, value: f64, units: UnitSystem) -> String {
    match gauge {
        "moisture" | "free air space" => format!("{:.0} %", 100.0 * value),
        "C:N" if value.is_infinite() => "no nitrogen".to_owned(),
        // A tenth of so much would claim more than is known.
        "C:N" if value >= 99.95 => format!("{value:.0}"),
        "C:N" => format!("{value:.1}"),
        "bulk density" => format!("{:.0} {}", units.density(value), units.density_unit()),
        _ => number::volume(value, units),
    }
}

/// Every "gauge to X", "gauge rises to X" and "gauge falls to X" of a sentence must be the value
/// after the change; gives back the gauges the sentence names.
fn check_claims(
    text: &str,
    after: &Blend,
    room: Option<f64>,
    units: UnitSystem,
) -> Vec<&'static str> {
    let mut named = Vec::new();
    for (gauge, value, _) in gauges(after, room) {
        for link in [" to ", " rises to ", " falls to "] {
            if let Some(at) = text.find(&format!("{gauge}{link}")) {
                let said = &text[at + gauge.len() + link.len()..];
                let is = printed(gauge, value, units);
                assert!(said.starts_with(&is), "{gauge} is {is}: {text}");
                named.push(gauge);
            }
        }
    }
    named
}

/// Whether a gauge went from the best part of its band out of it on a side that matters, or
/// further off where the heap fails.
fn worsened(gauge: &str, band: &TargetBand, before: f64, after: f64) -> bool {
    let (was, is) = (band.judge(before), band.judge(after));
    let outward = match is {
        Fit::TooLow | Fit::Low => after < before,
        _ => after > before,
    };
    let harmless = matches!(
        (gauge, is),
        ("volume" | "bulk density", Fit::Low | Fit::TooLow) | (_, Fit::Good)
    );
    let fails = matches!(is, Fit::TooLow | Fit::TooHigh);
    outward && !harmless && (was == Fit::Good || fails)
}

/// Calculates every sentence after: claims true, what got worse said, changes that can be made.
fn check(start: &Mix, room: Option<f64>, units: UnitSystem) -> Vec<Advice> {
    let all = advice_in(start, room, units);
    assert!((1..=3).contains(&all.len()), "{all:?}");
    let mut mix = start.clone();
    for advice in &all {
        let text = &advice.text;
        let first = text.chars().next().unwrap();
        assert!(first.is_uppercase() || first.is_numeric(), "{text}");
        assert!(text.ends_with('.') && !text.contains("  "), "{text}");
        for never in ["NaN", "inf", "safe", "-0", " ,"] {
            assert!(!text.contains(never), "{never}: {text}");
        }
        let Some(change) = &advice.change else {
            continue;
        };
        let before = blended(&mix);
        change.apply(&mut mix);
        let after = blended(&mix);
        if let Change::Scale { by } = change {
            check_scale(text, *by, &before, &after, room, units);
            continue;
        }
        let named = check_claims(text, &after, room, units);
        assert!(!named.is_empty(), "a step without a figure: {text}");
        let pairs = gauges(&before, room).into_iter().zip(gauges(&after, room));
        for ((gauge, was, band), (_, is, _)) in pairs {
            let seen = printed(gauge, was, units) != printed(gauge, is, units);
            if seen && worsened(gauge, &band, was, is) {
                assert!(
                    named.contains(&gauge),
                    "{gauge} {was} -> {is} is not said: {text}"
                );
            }
        }
    }
    all
}

fn check_scale(
    text: &str,
    by: f64,
    before: &Blend,
    after: &Blend,
    room: Option<f64>,
    units: UnitSystem,
) {
    let (was, is) = (before.totals.volume_m3(), after.totals.volume_m3());
    assert!((is - by * was).abs() <= 1e-9 * is, "{text}");
    let (a, b) = (before.gauges.unwrap(), after.gauges.unwrap());
    assert!((a.cn.typical - b.cn.typical).abs() <= 1e-9 * a.cn.typical || a.cn == b.cn);
    let room = room.unwrap_or(f64::INFINITY);
    assert!(is <= room, "{text}");
    let fills = format!("fills {:.0} %", 100.0 * is / room);
    let holds = [fills, number::volume(is, units), number::volume(was, units)];
    assert!(
        holds.iter().any(|said| text.contains(said.as_str())),
        "{text}"
    );
}

fn texts(advice: &[Advice]) -> Vec<&str> {
    advice.iter().map(|advice| &*advice.text).collect()
}

#[test]
fn nothing_yet_asks_for_a_first_material() {
    for (mix, begins) in [
        (mix(&[], 0.0), "Add a first material"),
        (mix(&[], 20.0), "There is only water so far"),
        (mix(&[("straw", 0.0, Bucket)], 0.0), "Every amount is zero"),
    ] {
        let all = advice(&mix, Some(BAY_M3));
        assert_eq!(all.len(), 1);
        assert!(all[0].text.starts_with(begins), "{}", all[0].text);
        assert_eq!(all[0].change, None);
    }
}

#[test]
fn additives_alone_are_no_heap() {
    for id in ["sugar", "urea", "fats_oils", "lime", "soil", "urine"] {
        let all = advice(&mix(&[(id, 10.0, Kilogram)], 0.0), None);
        assert_eq!(all.len(), 1);
        assert!(
            all[0].text.starts_with("A heap cannot be built of"),
            "{}",
            all[0].text
        );
    }
}

#[test]
fn grass_alone_is_told_to_take_dry_brown() {
    // Grass clippings alone are too wet and too green in every extension handbook.
    let grass = mix(&[("grass_fresh", 20.0, Bucket)], 0.0);
    let all = check(&grass, Some(BAY_M3), UnitSystem::Metric);
    assert!(all[0].text.contains("of dry leaves bring") || all[0].text.contains("straw"));
    let mut after = grass.clone();
    all[0].change.as_ref().unwrap().apply(&mut after);
    let gauges = blended(&after).gauges.unwrap();
    assert_eq!(bands::MOISTURE.judge(gauges.moisture.typical), Fit::Good);
    assert_eq!(bands::CN.judge(gauges.cn.typical), Fit::Good);
}

#[test]
fn what_is_in_the_mix_comes_before_what_must_be_fetched() {
    let rows = [
        ("grass_fresh", 20.0, Bucket),
        ("leaves_dry_loose", 6.0, Bucket),
    ];
    let all = check(&mix(&rows, 0.0), Some(BAY_M3), UnitSystem::Metric);
    assert!(
        all[0]
            .text
            .contains("more barrows of autumn leaves bring moisture to"),
        "{}",
        all[0].text
    );
    assert!(matches!(all[0].change, Some(Change::Amount { row: 1, .. })));
}

#[test]
fn dry_leaves_and_straw_are_told_to_take_water_and_green() {
    let rows = [
        ("leaves_dry_loose", 6.0, Barrow),
        ("hay_legume", 3.0, Barrow),
    ];
    let all = check(&mix(&rows, 0.0), None, UnitSystem::Metric);
    assert!(
        all[0].text.contains("L of water brings moisture to 5"),
        "{:?}",
        texts(&all)
    );
    let us = check(&mix(&rows, 0.0), None, UnitSystem::UsCustomary);
    assert!(
        us[0].text.contains("gal of water brings moisture to 5"),
        "{:?}",
        texts(&us)
    );
}

#[test]
fn a_drowned_mix_loses_its_added_water_first() {
    let rows = [("leaves_mixed", 12.0, Barrow), ("grass_fresh", 8.0, Barrow)];
    let all = check(&mix(&rows, 300.0), None, UnitSystem::Metric);
    let less = all[0].text.starts_with("Adding no water") || all[0].text.contains("less water");
    assert!(less, "{:?}", texts(&all));
}

#[test]
fn too_much_for_the_bay_is_cut_down_first() {
    let rows = [
        ("leaves_mixed", 30.0, Barrow),
        ("grass_fresh", 20.0, Barrow),
    ];
    let all = check(&mix(&rows, 0.0), Some(BAY_M3), UnitSystem::Metric);
    // 30 x 100 L x 0.5 + 20 x 100 L x 0.55 = 2.6 m3 as built; half of it is 1.3 m3.
    assert_eq!(
        all[0].text,
        "It comes to 2.6 m³ and there is room for 1440 L: half of everything fits."
    );
    let mut locked = mix(&rows, 0.0);
    locked.ingredients[0].locked = true;
    let all = check(&locked, Some(BAY_M3), UnitSystem::Metric);
    assert!(
        all[0].text.ends_with("keep 1160 L back for later."),
        "{:?}",
        texts(&all)
    );
    assert_eq!(all[0].change, None);
}

#[test]
fn a_good_mix_that_is_small_is_told_to_grow() {
    let rows = [("leaves_mixed", 35.0, Litre), ("grass_fresh", 20.0, Litre)];
    let all = check(&mix(&rows, 0.0), None, UnitSystem::Metric);
    let by = all.iter().find_map(|advice| match advice.change {
        Some(Change::Scale { by }) => Some(by),
        _ => None,
    });
    // 35 x 0.5 + 20 x 0.55 = 28.5 L; a cube of 3 ft (765 L) keeps heat: 27 times as much.
    assert_eq!(by, Some(27.0), "{:?}", texts(&all));
    let small_bin = check(&mix(&rows, 0.0), Some(0.03), UnitSystem::Metric);
    let says = small_bin
        .iter()
        .any(|advice| advice.text.contains("too small to keep heat in"));
    assert!(says, "{:?}", texts(&small_bin));
}

#[test]
fn a_right_mix_is_told_so_with_what_its_curve_says() {
    let rows = [
        ("leaves_mixed", 14.0, Barrow),
        ("grass_fresh", 9.0, Barrow),
        ("hay_legume", 2.5, Barrow),
    ];
    let mix = mix(&rows, 0.0);
    let all = check(&mix, Some(BAY_M3), UnitSystem::Metric);
    assert_eq!(all.len(), 1, "{:?}", texts(&all));
    let gauges = blended(&mix).gauges.unwrap();
    let summary = projected(&blended(&mix)).unwrap().summary;
    let begins = format!(
        "This mix is balanced (C:N {:.1}, moisture {:.0} %): build it and expect {:.0} °C around day {:.0}, above",
        gauges.cn.typical,
        100.0 * gauges.moisture.typical,
        summary.peak_c,
        summary.peak_day
    );
    assert!(
        all[0].text.starts_with(&begins),
        "{begins}: {}",
        all[0].text
    );
    // Without a projection nothing is said of heat.
    let parts = mix.resolve(built_in()).unwrap();
    let blend = blended(&mix);
    let without = said(advise(&mix, &parts, &blend, None, None), UnitSystem::Metric);
    assert!(without[0].text.ends_with("): build it."), "{without:?}");
}

#[test]
fn contradictory_mixes_get_better_and_never_worse_unsaid() {
    let cases: [(&str, Mix); 7] = [
        (
            "wet and brown",
            mix(
                &[
                    ("leaves_wet_packed", 5.0, Barrow),
                    ("sawdust_rotted", 2.0, Barrow),
                ],
                100.0,
            ),
        ),
        (
            "dry and green",
            mix(&[("poultry_litter", 5.0, Barrow)], 0.0),
        ),
        ("heavy and wet", mix(&[("cattle_fresh", 5.0, Barrow)], 0.0)),
        (
            "kitchen only",
            mix(
                &[("veg_scraps", 10.0, Caddy), ("cardboard", 1.0, Bucket)],
                0.0,
            ),
        ),
        (
            "by weight",
            mix(
                &[
                    ("straw_wheat", 20.0, Kilogram),
                    ("poultry_litter", 30.0, Kilogram),
                ],
                0.0,
            ),
        ),
        ("brown only", mix(&[("sawdust", 100.0, Litre)], 0.0)),
        (
            "light",
            mix(
                &[
                    ("straw", 2.0, Measure::Bale),
                    ("grass_fresh", 2.0, Measure::GrassBox),
                ],
                0.0,
            ),
        ),
    ];
    for (name, mix) in cases {
        let failing = |mix: &Mix| -> usize {
            let fails = |(_, value, band): &(_, f64, TargetBand)| {
                matches!(band.judge(*value), Fit::TooLow | Fit::TooHigh)
            };
            gauges(&blended(mix), None)
                .iter()
                .filter(|gauge| fails(gauge))
                .count()
        };
        let all = check(&mix, None, UnitSystem::Metric);
        let mut after = mix.clone();
        let changes = all.iter().filter_map(|advice| advice.change.as_ref());
        changes.for_each(|change| change.apply(&mut after));
        assert!(
            failing(&after) < failing(&mix).max(1),
            "{name}: {:?}",
            texts(&all)
        );
    }
}

#[test]
fn rows_that_are_alike_by_name_are_told_apart() {
    let rows = [
        ("grass_fresh", 5.0, Bucket),
        ("grass_wilted", 5.0, Bucket),
        ("leaves_dry_loose", 2.0, Bucket),
    ];
    let mut mix = mix(&rows, 0.0);
    mix.ingredients[2].locked = true;
    let all = check(&mix, None, UnitSystem::Metric);
    for advice in &all {
        let text = &advice.text;
        assert!(
            !text.contains("grass clippings") || text.contains("grass clippings ("),
            "{text}"
        );
    }
}

#[test]
fn us_units_are_spoken_throughout() {
    let rows = [
        ("straw_wheat", 20.0, Kilogram),
        ("grass_fresh", 300.0, Litre),
        ("veg_scraps", 900.0, Measure::Gram),
    ];
    for mix in [mix(&rows, 0.0), mix(&rows[..1], 10.0), mix(&rows[1..], 0.0)] {
        for advice in check(&mix, Some(0.5), UnitSystem::UsCustomary) {
            for metric in [" kg", " L ", "°C", "m³", " g "] {
                assert!(!advice.text.contains(metric), "{}", advice.text);
            }
        }
    }
}

#[test]
fn what_is_advised_never_depends_on_the_units_it_is_read_in() {
    // A switch of units may change words, never what is done: the same steps stand behind both sentences.
    let rows = [
        ("grass_fresh", 300.0, Litre),
        ("straw_wheat", 2.0, Kilogram),
        ("veg_scraps", 900.0, Measure::Gram),
    ];
    let mut differ = 0;
    for (water_l, room_m3) in [(10.0, 0.7), (10.0, 2.0), (100.0, 0.7), (400.0, 0.7)] {
        let mix = mix(&rows, water_l);
        let metric = advice_in(&mix, Some(room_m3), UnitSystem::Metric);
        let us = advice_in(&mix, Some(room_m3), UnitSystem::UsCustomary);
        assert!(metric.iter().any(|advice| advice.change.is_some()));
        assert_eq!(metric.len(), us.len());
        for (metric, us) in metric.iter().zip(&us) {
            assert_eq!(metric.change, us.change, "{} / {}", metric.text, us.text);
            differ += usize::from(metric.text != us.text);
        }
    }
    assert!(differ > 0);
}

#[test]
fn every_material_has_a_name_for_sentences_and_what_is_fetched_is_in_the_catalogue() {
    let names = spoken_names().unwrap();
    let ids = |ids: &mut Vec<String>| ids.sort();
    let mut named: Vec<String> = names.iter().map(|name| name.material.clone()).collect();
    let materials = built_in().materials();
    let mut known: Vec<String> = materials.iter().map(|it| it.id.clone()).collect();
    ids(&mut named);
    ids(&mut known);
    assert_eq!(named, known);
    for name in &names {
        assert!(
            !name.short.is_empty() && !name.short.contains(['(', ',']) || name.short == name.full
        );
        let alike = names.iter().filter(|other| other.full == name.full);
        assert_eq!(alike.count(), 1, "{} is told apart from nothing", name.full);
    }
    let fetched = Fetch::built_in().unwrap();
    assert!(fetched.len() >= 5);
    for kind in &fetched {
        assert!(
            !kind.called.is_empty() && kind.effort > 0.0,
            "{}",
            kind.called
        );
    }
}

/// A random mix in household measures, some rows locked.
fn mixes() -> impl Strategy<Value = Mix> {
    let row = (0..178_usize, 0..14_usize, 0.0..40.0_f64, any::<bool>());
    let ingredient = row.prop_map(|(place, measure, value, locked)| Ingredient {
        material: built_in().materials()[place].id.clone(),
        amount: Amount::new(value, Measure::READY[measure].clone()),
        locked,
        stock: None,
        condition: heapwright::material::Condition::default(),
    });
    let rows = prop::collection::vec(ingredient, 1..8);
    (rows, prop_oneof![Just(0.0), 0.0..300.0_f64]).prop_map(|(ingredients, added_water_l)| Mix {
        ingredients,
        added_water_l,
    })
}

proptest! {
    #[test]
    fn every_figure_is_true_and_locked_rows_stay(
        mix in mixes(),
        room in prop_oneof![Just(None), (0.05..3.0_f64).prop_map(Some)],
        us in any::<bool>(),
    ) {
        let units = if us { UnitSystem::UsCustomary } else { UnitSystem::Metric };
        for advice in check(&mix, room, units) {
            if let Some(Change::Amount { row, .. }) = advice.change {
                prop_assert!(!mix.ingredients[row].locked, "{}", advice.text);
            }
            if let Some(Change::Scale { .. }) = advice.change {
                prop_assert!(mix.ingredients.iter().all(|row| !row.locked), "{}", advice.text);
            }
        }
    }

    #[test]
    fn steps_are_whole_or_half_measures(mix in mixes()) {
        for advice in advice(&mix, None) {
            let Some(Change::Amount { row, amount }) = advice.change else { continue };
            let before = &mix.ingredients[row].amount;
            prop_assert_eq!(&amount.measure, &before.measure);
            let unit = match before.measure {
                Litre => 5.0,
                Measure::Gram => 50.0,
                _ => 0.5,
            };
            let steps = (amount.value - before.value) / unit;
            let whole = (steps - steps.round()).abs() < 1e-6;
            prop_assert!(whole || amount.value == 0.0, "{} of {before:?}", advice.text);
        }
    }
}

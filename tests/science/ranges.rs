//! Propagated ranges against sampling, and laws every blend obeys.

use heapwright::material::{Material, Sourced};
use heapwright::mix::{Gauges, Ingredient, Mix, Part, blend};
use heapwright::quantity::Measure::{self, Kilogram, Litre};
use heapwright::quantity::{Amount, Range};
use proptest::prelude::*;

use crate::support::materials::{blend_of, built_in};

fn ranges(gauges: &Gauges) -> [(&'static str, Range); 7] {
    [
        ("C:N", gauges.cn),
        ("available C:N", gauges.cn_available),
        ("moisture", gauges.moisture),
        ("volume", gauges.volume_m3),
        ("free air space", gauges.free_air_space),
        ("wet bulk density", gauges.wet_bulk_density_kg_per_m3),
        ("dry bulk density", gauges.dry_bulk_density_kg_per_m3),
    ]
}

/// Repeatable random numbers: the 64-bit linear congruential generator of Knuth (MMIX).
struct Random(u64);

impl Random {
    /// Even between 0 and 1, both left out.
    fn share(&mut self) -> f64 {
        self.0 = self
            .0
            .wrapping_mul(6364136223846793005)
            .wrapping_add(1442695040888963407);
        ((self.0 >> 11) as f64 + 0.5) / (1u64 << 53) as f64
    }

    /// Standard normal (Box and Muller 1958).
    fn normal(&mut self) -> f64 {
        let (u, v) = (self.share(), self.share());
        (-2.0 * u.ln()).sqrt() * (std::f64::consts::TAU * v).cos()
    }
}

/// The standard normal deviate below which nine in ten lie.
const NINTH_TENTH: f64 = 1.281_551_565_544_6;

/// A value drawn from two half normals that meet at the typical value, with one in ten below low
/// and one in ten above high.
fn draw(random: &mut Random, value: &mut Sourced, limits: (f64, f64)) {
    let z = random.normal();
    let half = if z < 0.0 {
        value.typical - value.low
    } else {
        value.high - value.typical
    };
    let drawn = (value.typical + z / NINTH_TENTH * half).clamp(limits.0, limits.1);
    (value.low, value.typical, value.high) = (drawn, drawn, drawn);
}

fn drawn(random: &mut Random, material: &Material) -> Material {
    let mut material = material.clone();
    draw(random, &mut material.moisture, (0.0, 0.99));
    draw(random, &mut material.carbon, (0.0, 0.8));
    match &mut material.carbon_to_nitrogen {
        Some(cn) => {
            let least = 0.5 * cn.low;
            draw(random, cn, (least, f64::INFINITY));
        }
        None => draw(random, &mut material.nitrogen, (0.0, 0.5)),
    }
    let least = 0.5 * material.bulk_density.low;
    draw(random, &mut material.bulk_density, (least, f64::INFINITY));
    material
}

/// 10th and 90th percentile of each gauge over many drawn mixes.
fn sampled(mix: &[(&str, f64, Measure)], samples: usize) -> [Range; 7] {
    let mut random = Random(20_240_229);
    let mut seen: [Vec<f64>; 7] = Default::default();
    let amounts: Vec<Amount> = mix
        .iter()
        .map(|(_, value, measure)| Amount::new(*value, measure.clone()))
        .collect();
    for _ in 0..samples {
        let materials: Vec<Material> = mix
            .iter()
            .map(|(id, _, _)| drawn(&mut random, built_in().find(id).unwrap()))
            .collect();
        let parts: Vec<Part<'_>> = materials
            .iter()
            .zip(&amounts)
            .map(|(material, amount)| Part::new(material, amount))
            .collect();
        let gauges = blend(&parts, 0.0).gauges.unwrap();
        for (list, (_, range)) in seen.iter_mut().zip(ranges(&gauges)) {
            list.push(range.typical);
        }
    }
    seen.map(|mut list| {
        list.sort_by(f64::total_cmp);
        let at = |share: f64| list[(share * list.len() as f64) as usize];
        Range::new(at(0.1), at(0.5), at(0.9))
    })
}

/// Rows of a mix: material, number, measure.
type Rows = Vec<(&'static str, f64, Measure)>;

fn mixes() -> Vec<(&'static str, Rows)> {
    vec![
        (
            "autumn",
            vec![
                ("leaves_mixed", 600.0, Litre),
                ("grass_fresh", 200.0, Litre),
                ("veg_scraps", 40.0, Litre),
            ],
        ),
        (
            "by weight",
            vec![
                ("straw_wheat", 20.0, Kilogram),
                ("horse_straw", 100.0, Kilogram),
                ("poultry_litter", 10.0, Kilogram),
            ],
        ),
        ("one material", vec![("leaves_mixed", 500.0, Litre)]),
        (
            "kitchen bin",
            vec![
                ("food_waste_cooked", 60.0, Litre),
                ("wood_chips_arb", 100.0, Litre),
                ("cardboard", 50.0, Litre),
                ("coffee_grounds", 10.0, Litre),
            ],
        ),
    ]
}

#[test]
fn ranges_agree_with_sampling() {
    // JCGM 101:2008 (propagation of distributions by sampling), 20 000 draws: the percentiles
    // themselves repeat within about 2 % of the width. First-order propagation of ranges as wide as
    // these (loose leaves 59-297 kg/m3) is worst for C:N of mixes of very different C:N and for
    // densities, where it was found up to 10 % of the width off; 15 % is allowed for.
    for (name, mix) in mixes() {
        let materials: Vec<(&Material, f64, Measure)> = mix
            .iter()
            .map(|(id, value, measure)| (built_in().find(id).unwrap(), *value, measure.clone()))
            .collect();
        let ours = ranges(&blend_of(&materials, 0.0).gauges.unwrap());
        for ((gauge, ours), drawn) in ours.into_iter().zip(sampled(&mix, 20_000)) {
            let allowed = 0.15 * drawn.width() + 1e-9;
            assert!(
                (ours.low - drawn.low).abs() <= allowed
                    && (ours.high - drawn.high).abs() <= allowed,
                "{name}, {gauge}: {ours:?} against {drawn:?}"
            );
        }
    }
}

#[test]
fn one_material_keeps_its_own_ranges() {
    // With one ingredient there is nothing to combine: C:N and moisture are the catalogue's.
    for material in built_in().materials() {
        let gauges = blend_of(&[(material, 10.0, Kilogram)], 0.0).gauges.unwrap();
        let same = |a: f64, b: f64| assert!((a - b).abs() <= 1e-9 * b.abs(), "{}", material.id);
        same(gauges.moisture.low, material.moisture.low);
        same(gauges.moisture.high, material.moisture.high);
        if let Some(cn) = &material.carbon_to_nitrogen {
            same(gauges.cn.low, cn.low);
            same(gauges.cn.high, cn.high);
        }
    }
}

#[test]
fn one_amount_in_two_rows_is_the_same_mix() {
    let leaves = built_in().find("leaves_mixed").unwrap();
    let grass = built_in().find("grass_fresh").unwrap();
    let one = blend_of(&[(leaves, 300.0, Litre), (grass, 100.0, Litre)], 5.0);
    let split = [
        (leaves, 100.0, Litre),
        (grass, 100.0, Litre),
        (leaves, 200.0, Litre),
    ];
    let two = blend_of(&split, 5.0);
    let (one, two) = (one.gauges.unwrap(), two.gauges.unwrap());
    for ((gauge, a), (_, b)) in ranges(&one).into_iter().zip(ranges(&two)) {
        for (a, b) in [(a.low, b.low), (a.typical, b.typical), (a.high, b.high)] {
            assert!((a - b).abs() <= 1e-12 * a.abs(), "{gauge}: {a} against {b}");
        }
    }
}

/// A row of a random mix: place in the catalogue, amount, by volume or by mass.
type Row = (usize, f64, bool);

fn rows() -> impl Strategy<Value = Vec<Row>> {
    let amount = prop_oneof![Just(0.0), 1e-3..1e3_f64, 1e3..1e8_f64];
    prop::collection::vec((0..178_usize, amount, any::<bool>()), 1..21)
}

fn mixed(rows: &[Row]) -> Vec<(&'static Material, f64, Measure)> {
    rows.iter()
        .map(|&(place, value, by_volume)| {
            let material = &built_in().materials()[place];
            (material, value, if by_volume { Litre } else { Kilogram })
        })
        .collect()
}

/// Equal, to rounding, or both infinite.
fn alike(a: f64, b: f64) -> bool {
    a == b || (a - b).abs() <= 1e-9 * (a.abs() + b.abs())
}

proptest! {
    #[test]
    fn gauges_are_in_order_and_within_what_can_be(rows in rows(), water in 0.0..1e4_f64) {
        let blend = blend_of(&mixed(&rows), water);
        let Some(gauges) = blend.gauges else {
            prop_assert!(rows.iter().all(|row| row.1 == 0.0));
            return Ok(());
        };
        for (gauge, range) in ranges(&gauges) {
            prop_assert!(range.low >= 0.0 && range.low <= range.typical, "{gauge} {range:?}");
            prop_assert!(range.typical <= range.high, "{gauge} {range:?}");
            // Only a mix without nitrogen has a C:N without end.
            let endless = gauge.ends_with("C:N") && blend.totals.nitrogen_kg == 0.0;
            prop_assert!(endless || range.high.is_finite(), "{gauge} {range:?}");
        }
        prop_assert!(gauges.moisture.high <= 1.0 && gauges.free_air_space.high <= 1.0);
        prop_assert!(gauges.cn_available.typical <= gauges.cn.typical);
    }

    #[test]
    fn shares_add_to_one(rows in rows(), water in 0.0..1e4_f64) {
        let blend = blend_of(&mixed(&rows), water);
        prop_assert_eq!(blend.shares.len(), rows.len());
        let sum = |share: fn(&heapwright::mix::PartShare) -> f64| -> f64 {
            blend.shares.iter().map(share).sum()
        };
        let whole = |sum: f64, of: f64| alike(sum, if of > 0.0 { 1.0 } else { 0.0 });
        let totals = &blend.totals;
        prop_assert!(whole(sum(|s| s.carbon), totals.carbon_kg));
        prop_assert!(whole(sum(|s| s.nitrogen), totals.nitrogen_kg));
        prop_assert!(whole(sum(|s| s.dry_mass), totals.dry_kg));
        prop_assert!(whole(sum(|s| s.volume), totals.piled_volume_m3));
        prop_assert!(whole(sum(|s| s.water) + blend.added_water_share, totals.water_kg));
    }

    #[test]
    fn the_order_of_ingredients_does_not_matter(rows in rows(), turn in 0..20_usize) {
        let mut other = rows.clone();
        other.reverse();
        let turn = turn % other.len();
        other.rotate_left(turn);
        let (a, b) = (blend_of(&mixed(&rows), 3.0), blend_of(&mixed(&other), 3.0));
        if let (Some(a), Some(b)) = (a.gauges, b.gauges) {
            for ((gauge, a), (_, b)) in ranges(&a).into_iter().zip(ranges(&b)) {
                prop_assert!(alike(a.typical, b.typical), "{gauge} {a:?} {b:?}");
                prop_assert!(alike(a.low, b.low) && alike(a.high, b.high), "{gauge} {a:?} {b:?}");
            }
        }
    }

    #[test]
    fn ten_times_as_much_of_everything_is_the_same_mix(rows in rows(), water in 0.0..1e3_f64) {
        let more: Vec<Row> = rows.iter().map(|&(m, value, by)| (m, 10.0 * value, by)).collect();
        let (a, b) = (blend_of(&mixed(&rows), water), blend_of(&mixed(&more), 10.0 * water));
        if let (Some(a), Some(b)) = (a.gauges, b.gauges) {
            for ((gauge, a), (_, b)) in ranges(&a).into_iter().zip(ranges(&b)) {
                let by = if gauge == "volume" { 10.0 } else { 1.0 };
                prop_assert!(alike(by * a.typical, b.typical), "{gauge} {a:?} {b:?}");
                prop_assert!(alike(by * a.low, b.low), "{gauge} {a:?} {b:?}");
                prop_assert!(alike(by * a.high, b.high), "{gauge} {a:?} {b:?}");
            }
        }
    }

    #[test]
    fn added_water_only_makes_wetter(rows in rows(), water in 0.1..1e4_f64) {
        let (dry, wet) = (blend_of(&mixed(&rows), 0.0), blend_of(&mixed(&rows), water));
        let (a, b) = (dry.totals, wet.totals);
        prop_assert!(b.water_kg >= a.water_kg && b.volume_m3() >= a.volume_m3());
        prop_assert_eq!(
            [a.dry_kg, a.carbon_kg, a.nitrogen_kg, a.ash_kg, a.piled_volume_m3],
            [b.dry_kg, b.carbon_kg, b.nitrogen_kg, b.ash_kg, b.piled_volume_m3]
        );
        if let (Some(a), Some(b)) = (dry.gauges, wet.gauges) {
            prop_assert!(b.moisture.typical >= a.moisture.typical);
            prop_assert!(b.free_air_space.typical <= a.free_air_space.typical);
            prop_assert_eq!(a.cn.typical, b.cn.typical);
        }
    }

    #[test]
    fn locking_an_ingredient_changes_no_number(rows in rows()) {
        let mix = |locked: bool| Mix {
            ingredients: mixed(&rows)
                .into_iter()
                .map(|(material, value, measure)| Ingredient {
                    material: material.id.clone(),
                    // Within the bound on what a file may hold.
                    amount: Amount::new(value.min(1e5), measure),
                    locked,
                    stock: None,
                    condition: heapwright::material::Condition::default(),
                })
                .collect(),
            added_water_l: 1.0,
        };
        let (open, locked) = (mix(false), mix(true));
        let of = |mix: &Mix| blend(&mix.resolve(built_in()).unwrap(), mix.added_water_l);
        prop_assert_eq!(of(&open), of(&locked));
    }
}

#[test]
fn a_mix_that_cannot_be_calculated_names_its_row() {
    let row = |material: &str, value: f64, measure: Measure| Ingredient {
        material: material.into(),
        amount: Amount::new(value, measure),
        locked: false,
        stock: None,
        condition: heapwright::material::Condition::default(),
    };
    let refuse = |row: Ingredient, added_water_l: f64| {
        let good = Ingredient {
            material: "straw".into(),
            amount: Amount::new(1.0, Litre),
            locked: false,
            stock: None,
            condition: heapwright::material::Condition::default(),
        };
        let mix = Mix {
            ingredients: vec![good, row],
            added_water_l,
        };
        mix.resolve(built_in()).unwrap_err().to_string()
    };
    assert_eq!(
        refuse(row("leaves_mixd", 1.0, Litre), 0.0),
        "ingredient 2 is \"leaves_mixd\", which is not in the catalogue (nearest: \
         \"leaves_mixed\"); replace it or add it as an own material"
    );
    for bad in [-1.0, f64::NAN, 1e300] {
        let text = refuse(row("straw", bad, Litre), 0.0);
        assert!(
            text.starts_with("ingredient 2: an ingredient's amount must lie"),
            "{text}"
        );
    }
    let trug = Measure::Own {
        name: "trug".into(),
        litres: 0.0,
    };
    let text = refuse(row("straw", 1.0, trug), 0.0);
    assert!(
        text.starts_with("ingredient 2: the size of an own measure"),
        "{text}"
    );
    let text = refuse(row("straw", 1.0, Litre), f64::INFINITY);
    assert!(text.starts_with("added water must lie"), "{text}");
}

//! The chemistry of a mix against printed worked examples and mass balance.

use heapwright::material::Material;
use heapwright::mix::{
    CarbonNitrogen, Fit, Totals, bands, carbon_nitrogen_partner, degradable_share,
    dry_material_to_add_kg, water_to_add_kg,
};
use heapwright::quantity::Measure::{self, Kilogram, Litre};

use crate::support::materials::{blend_of, built_in, plain};

/// Carbon and nitrogen of a kilogram as it is, from moisture, carbon and nitrogen of dry matter.
fn carbon_nitrogen(moisture: f64, carbon: f64, nitrogen: f64) -> CarbonNitrogen {
    CarbonNitrogen {
        carbon: carbon * (1.0 - moisture),
        nitrogen: nitrogen * (1.0 - moisture),
    }
}

fn cn_of(parts: &[(&Material, f64, Measure)]) -> f64 {
    blend_of(parts, 0.0).gauges.expect("dry matter").cn.typical
}

fn moisture_of(parts: &[(&Material, f64, Measure)], water_l: f64) -> f64 {
    let gauges = blend_of(parts, water_l).gauges.expect("dry matter");
    gauges.moisture.typical
}

fn within(found: f64, expected: f64, tolerance: f64) {
    assert!(
        (found - expected).abs() <= tolerance,
        "{found} against {expected}"
    );
}

#[test]
fn ten_grams_of_clippings_that_dry_to_2_3_are_77_per_cent_water() {
    // Richard & Trautmann, Cornell Composting in Schools, moisture page: 77 %, exact.
    let clippings = Totals {
        dry_kg: 0.0023,
        water_kg: 0.0077,
        ..Totals::default()
    };
    within(clippings.moisture(), 0.77, 1e-12);
}

#[test]
fn half_the_dry_mass_in_water_is_a_third_wet_basis() {
    // METER Group, compost water content: 50 % on dry basis is 33 % on wet basis; 1/3 exactly.
    let compost = Totals {
        dry_kg: 1.0,
        water_kg: 0.5,
        ..Totals::default()
    };
    within(compost.moisture(), 1.0 / 3.0, 1e-15);
}

#[test]
fn cornell_grass_and_leaves_for_thirty_to_one() {
    // Cornell Composting, C/N page, example with 10 kg grass (77 %, C 45, N 2.4) and leaves
    // (35 %, C 50, N 0.75): 3.5 kg of leaves for 30:1, from memory; so half of the last digit.
    let grass = (0.77, 0.45, 0.024);
    let leaves = (0.35, 0.50, 0.0075);
    let per_kg = carbon_nitrogen_partner(
        carbon_nitrogen(grass.0, grass.1, grass.2),
        carbon_nitrogen(leaves.0, leaves.1, leaves.2),
        30.0,
    );
    let kg = 10.0 * per_kg.expect("leaves are browner than the goal");
    within(kg, 3.5, 0.05);
    // The mix of both, through the blend, is at the goal.
    let grass = plain("grass", grass.0, grass.1, grass.2, 200.0);
    let leaves = plain("leaves", leaves.0, leaves.1, leaves.2, 100.0);
    within(
        cn_of(&[(&grass, 10.0, Kilogram), (&leaves, kg, Kilogram)]),
        30.0,
        1e-9,
    );
}

#[test]
fn vegetable_waste_and_sawdust_for_twenty_to_one() {
    // Environmental-engineering problem sheet: vegetable waste 80 % water, N 4 %, 11:1; sawdust
    // 50 %, N 0.1 %, 500:1; goal 20. Printed answer 0.3 kg of sawdust per kg, exact to four digits.
    let waste = plain("waste", 0.80, 0.44, 0.04, 400.0);
    let sawdust = plain("sawdust", 0.50, 0.50, 0.001, 250.0);
    let per_kg = carbon_nitrogen_partner(
        carbon_nitrogen(0.80, 0.44, 0.04),
        carbon_nitrogen(0.50, 0.50, 0.001),
        20.0,
    );
    within(per_kg.unwrap(), 0.3, 5e-5);
    within(
        cn_of(&[(&waste, 1.0, Kilogram), (&sawdust, 0.3, Kilogram)]),
        20.0,
        1e-9,
    );
}

#[test]
fn nitrogen_for_a_tonne_of_rice_straw() {
    // Japanese soil guide: rice straw C 42 %, N 0.6 %, goal 30: X = C/A - N = 0.8 %, so 8 kg of
    // nitrogen per tonne, 40 kg of a fertiliser of 20 % N. Exact.
    let straw = carbon_nitrogen(0.0, 0.42, 0.006);
    let nitrogen = CarbonNitrogen {
        carbon: 0.0,
        nitrogen: 1.0,
    };
    within(
        1000.0 * carbon_nitrogen_partner(straw, nitrogen, 30.0).unwrap(),
        8.0,
        1e-9,
    );
    let fertiliser = CarbonNitrogen {
        carbon: 0.0,
        nitrogen: 0.20,
    };
    within(
        1000.0 * carbon_nitrogen_partner(straw, fertiliser, 30.0).unwrap(),
        40.0,
        1e-9,
    );
    // The blend agrees when the fertiliser has no carbon at all.
    let straw = plain("straw", 0.0, 0.42, 0.006, 60.0);
    let fertiliser = plain("fertiliser", 0.0, 0.0, 0.20, 1000.0);
    within(
        cn_of(&[(&straw, 1000.0, Kilogram), (&fertiliser, 40.0, Kilogram)]),
        30.0,
        1e-9,
    );
}

#[test]
fn manure_and_straw_for_twenty_five_to_one() {
    // Polprasert, exercises 3.4-3.5: manure TS 10 %, N 1.7 %, 18:1; straw 30 % water, N 0.2 %,
    // 80:1; goal 25. No printed answer; by hand, with m kg straw per kg manure:
    // (0.1 x 0.306 + m 0.7 x 0.16) / (0.1 x 0.017 + m 0.7 x 0.002) = 25, so m = 0.011900/0.077.
    let manure = plain("manure", 0.90, 18.0 * 0.017, 0.017, 900.0);
    let straw = plain("straw", 0.30, 80.0 * 0.002, 0.002, 150.0);
    let m = carbon_nitrogen_partner(
        carbon_nitrogen(0.90, 0.306, 0.017),
        carbon_nitrogen(0.30, 0.16, 0.002),
        25.0,
    )
    .unwrap();
    within(m, 0.0119 / 0.077, 1e-12);
    let parts = [(&manure, 1.0, Kilogram), (&straw, m, Kilogram)];
    within(cn_of(&parts), 25.0, 1e-9);
    // (0.9 + 0.3 m) / (1 + m) = 81.97 %.
    within(moisture_of(&parts, 0.0), 0.820, 0.0005);
}

/// Published answers got by averaging ratios, and what they should be with equal carbon per unit:
/// total / sum(share / ratio).
struct Shortcut {
    source: &'static str,
    parts: &'static [(f64, f64)],
    printed: f64,
    right: f64,
}

const SHORTCUTS: [Shortcut; 4] = [
    Shortcut {
        source: "Klickitat County (Washington) Solid Waste: half grass 20:1, half leaves 40:1",
        parts: &[(1.0, 20.0), (1.0, 40.0)],
        printed: 30.0,
        right: 26.7,
    },
    Shortcut {
        source: "University of Wisconsin worksheet: 2 lb dairy manure 15:1, 1 lb maize stalks 65:1",
        parts: &[(2.0, 15.0), (1.0, 65.0)],
        printed: 31.7,
        right: 20.2,
    },
    Shortcut {
        source: "gardening worksheet: 2 grass 20:1, 1 dry leaves 60:1",
        parts: &[(2.0, 20.0), (1.0, 60.0)],
        printed: 33.0,
        right: 25.7,
    },
    Shortcut {
        source: "gardening worksheet: 2 grass 20:1, 1 pine needles 110:1, 1 manure 15:1",
        parts: &[(2.0, 20.0), (1.0, 110.0), (1.0, 15.0)],
        printed: 41.0,
        right: 22.7,
    },
];

#[test]
fn cn_is_never_an_average_of_ratios() {
    for case in SHORTCUTS {
        let carbon = 0.45;
        let materials: Vec<Material> = case
            .parts
            .iter()
            .map(|(_, cn)| plain(&format!("m{cn}"), 0.3, carbon, carbon / cn, 200.0))
            .collect();
        let parts: Vec<(&Material, f64, Measure)> = materials
            .iter()
            .zip(case.parts)
            .map(|(material, (share, _))| (material, *share, Measure::Pound))
            .collect();
        let cn = cn_of(&parts);
        // The right answers are given to one decimal, the last one cut off rather than rounded.
        within(cn, case.right, 0.1);
        assert!((cn - case.printed).abs() > 3.0, "{}", case.source);
    }
}

#[test]
fn litter_and_straw_for_thirty_to_one_need_four_times_the_straw() {
    // North Carolina Cooperative Extension (quoted by a supplier) averages ratios and asks for
    // 0.90 litter (7.5:1) to 0.10 wheat straw (130:1); equal carbon gives 0.204 : 0.796.
    let of = |cn: f64| CarbonNitrogen {
        carbon: 1.0,
        nitrogen: 1.0 / cn,
    };
    let straw = carbon_nitrogen_partner(of(7.5), of(130.0), 30.0).unwrap();
    within(1.0 / (1.0 + straw), 0.204, 0.0005);
    within(straw / (1.0 + straw), 0.796, 0.0005);
    let litter = plain("litter", 0.3, 0.45, 0.45 / 7.5, 450.0);
    let wheat = plain("wheat", 0.3, 0.45, 0.45 / 130.0, 55.0);
    let published = cn_of(&[(&litter, 0.90, Kilogram), (&wheat, 0.10, Kilogram)]);
    assert!(
        published < 10.0,
        "the published mix is as green as manure: {published}"
    );
}

#[test]
fn a_partner_that_pulls_the_wrong_way_is_none() {
    let of = |cn: f64| CarbonNitrogen {
        carbon: 1.0,
        nitrogen: 1.0 / cn,
    };
    assert_eq!(carbon_nitrogen_partner(of(20.0), of(15.0), 30.0), None);
    assert_eq!(carbon_nitrogen_partner(of(20.0), of(30.0), 30.0), None);
    assert_eq!(carbon_nitrogen_partner(of(60.0), of(80.0), 30.0), None);
    assert_eq!(carbon_nitrogen_partner(of(30.0), of(30.0), 30.0), None);
    assert_eq!(carbon_nitrogen_partner(of(30.0), of(10.0), 30.0), Some(0.0));
}

#[test]
fn water_to_add_reaches_the_target() {
    // Mass balance W = Q (M2 - M1) / (1 - M2), as printed by extension handbooks: 100 kg at 40 %
    // need 25 kg for 52 %: (40 + 25) / 125 = 0.52. Exact.
    within(water_to_add_kg(100.0, 0.40, 0.52), 25.0, 1e-12);
    assert_eq!(water_to_add_kg(100.0, 0.60, 0.52), 0.0);
    let leaves = built_in().find("leaves_dry_loose").unwrap();
    let dry = blend_of(&[(leaves, 500.0, Litre)], 0.0);
    let water = water_to_add_kg(dry.totals.wet_kg(), dry.totals.moisture(), 0.55);
    within(moisture_of(&[(leaves, 500.0, Litre)], water), 0.55, 1e-12);
}

#[test]
fn dry_material_to_add_reaches_the_target() {
    // 100 kg at 80 %, straw at 10 %: (80 + 10 x 0.1) ... by balance Q2 = 100 (0.8 - 0.6)/(0.6 - 0.1)
    // = 40 kg; (80 + 4) / 140 = 0.6. Exact.
    within(
        dry_material_to_add_kg(100.0, 0.80, 0.60, 0.10).unwrap(),
        40.0,
        1e-12,
    );
    assert_eq!(dry_material_to_add_kg(100.0, 0.80, 0.60, 0.60), None);
    assert_eq!(dry_material_to_add_kg(100.0, 0.50, 0.60, 0.90), Some(0.0));
    let grass = built_in().find("grass_fresh").unwrap();
    let straw = built_in().find("straw_wheat").unwrap();
    let wet = blend_of(&[(grass, 100.0, Litre)], 0.0).totals;
    let kg = dry_material_to_add_kg(wet.wet_kg(), wet.moisture(), 0.60, 0.10).unwrap();
    within(
        moisture_of(&[(grass, 100.0, Litre), (straw, kg, Kilogram)], 0.0),
        0.60,
        1e-12,
    );
}

#[test]
fn free_air_space_follows_the_mass_balance() {
    // 1/p = V/1600 + (1-V)/2500, FAS = 1 - d [(1-M)/p + M/1000] (Richard et al. 2004; equation and
    // particle densities from memory). Worked by hand to one decimal of a per cent.
    for (density, moisture, volatile, percent) in [
        (600.0, 0.60, 0.80, 50.1),
        (700.0, 0.60, 0.80, 41.8),
        (400.0, 0.50, 0.90, 68.0),
        (900.0, 0.65, 0.70, 23.9),
    ] {
        let dry_kg = density * (1.0 - moisture);
        let mix = Totals {
            dry_kg,
            water_kg: density * moisture,
            ash_kg: dry_kg * (1.0 - volatile),
            piled_volume_m3: 1.0,
            ..Totals::default()
        };
        within(100.0 * mix.free_air_space(), percent, 0.05);
        // Agnew et al. 2003 (from memory): FAS = 100 - 0.09 d, in its four cases 4-5 points lower.
        let empirical = 100.0 - 0.09 * density;
        let above = 100.0 * mix.free_air_space() - empirical;
        assert!((3.5..=5.5).contains(&above), "{above}");
    }
}

#[test]
fn bulk_density_is_mass_by_the_volume_as_built() {
    // Geometry: 20 L at 450 kg/m3 that do not settle are 9 kg in 20 L (Eawag bucket example);
    // with a quarter lost by settling the same 9 kg stand in 15 L.
    let mut scraps = plain("scraps", 0.5, 0.45, 0.015, 450.0);
    let loose = blend_of(&[(&scraps, 20.0, Litre)], 0.0);
    within(loose.totals.wet_kg(), 9.0, 1e-12);
    within(
        loose.gauges.unwrap().wet_bulk_density_kg_per_m3.typical,
        450.0,
        1e-9,
    );
    scraps.settles_share = 0.25;
    let piled = blend_of(&[(&scraps, 20.0, Litre)], 0.0).gauges.unwrap();
    within(piled.volume_m3.typical, 0.015, 1e-12);
    within(piled.wet_bulk_density_kg_per_m3.typical, 600.0, 1e-9);
    within(piled.dry_bulk_density_kg_per_m3.typical, 300.0, 1e-9);
}

#[test]
fn lignin_withholds_carbon_by_chandlers_rule() {
    // Chandler et al. 1980, coefficients from memory: B = 0.830 - 0.028 X with X in % of volatile
    // solids. 17 % gives 0.354, 10 % gives 0.55; past 29.6 % the line is negative and is held.
    within(degradable_share(0.0), 0.830, 1e-12);
    within(degradable_share(0.10), 0.550, 1e-12);
    within(degradable_share(0.17), 0.354, 1e-12);
    within(degradable_share(0.40), 0.05, 1e-12);
    // Same source, of dry matter, for rows of the catalogue (two digits): wheat straw 0.31, hay
    // 0.55, horse manure with straw 0.32, farmyard manure 0.27, coffee 0.48, sawdust 0.07.
    for (id, share) in [
        ("straw_wheat", 0.31),
        ("hay_grass", 0.55),
        ("horse_straw", 0.32),
        ("cattle_fym", 0.27),
        ("coffee_grounds", 0.48),
        ("sawdust", 0.07),
    ] {
        let material = built_in().find(id).unwrap();
        let one = blend_of(&[(material, 1.0, Kilogram)], 0.0).totals;
        let of_dry = one.carbon_available_kg / one.carbon_kg * (1.0 - material.ash.typical);
        within(of_dry, share, 0.006);
    }
}

#[test]
fn three_leaves_to_one_grass_by_volume_work() {
    // Strom (Rutgers): leaves to grass 2-3 : 1 by volume is best; Cornell fact sheet FS2: one part
    // grass to three parts leaves. Typical leaves and grass of the catalogue come to 38 and 42:1,
    // browner than the best band but within what works by The Composting Handbook 2022 (20-60);
    // the best band lies within the range that leaves and grass may really have.
    let leaves = built_in().find("leaves_mixed").unwrap();
    let grass = built_in().find("grass_fresh").unwrap();
    for parts in [2.0, 3.0] {
        let mix = [(leaves, parts * 100.0, Litre), (grass, 100.0, Litre)];
        let gauges = blend_of(&mix, 0.0).gauges.unwrap();
        let (cn, moisture) = (gauges.cn, gauges.moisture);
        println!(
            "{parts} leaves to 1 grass: C:N {:.1} ({:.0}-{:.0}), moisture {:.2} ({:.2}-{:.2})",
            cn.typical, cn.low, cn.high, moisture.typical, moisture.low, moisture.high,
        );
        assert!((20.0..=60.0).contains(&cn.typical), "{cn:?}");
        assert!(cn.low <= bands::CN.best.1, "{cn:?}");
        for (band, value) in [
            (bands::MOISTURE, moisture.typical),
            (bands::FREE_AIR_SPACE, gauges.free_air_space.typical),
        ] {
            let fit = band.judge(value);
            assert!(
                !matches!(fit, Fit::TooLow | Fit::TooHigh),
                "{value}: {fit:?}"
            );
        }
    }
}

#[test]
fn bands_judge_their_own_limits_as_printed() {
    // Cooperband 2002: C:N works 20-40, best 25-35; limits belong to the better side.
    for (cn, fit) in [
        (19.9, Fit::TooLow),
        (20.0, Fit::Low),
        (25.0, Fit::Good),
        (35.0, Fit::Good),
        (40.0, Fit::High),
        (40.1, Fit::TooHigh),
        (f64::INFINITY, Fit::TooHigh),
    ] {
        assert_eq!(bands::CN.judge(cn), fit, "{cn}");
    }
}

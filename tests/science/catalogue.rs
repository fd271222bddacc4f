//! The catalogue against the tables it was made from, and the refusal of materials that cannot be.

use std::collections::{BTreeMap, BTreeSet};

use heapwright::material::{Catalogue, CatalogueError, Confidence, Material, Side, Spread};

use crate::support::materials::{built_in, plain};

fn material(id: &str) -> Material {
    built_in().find(id).expect("in the catalogue").clone()
}

/// A value per cent, to the printed digit.
fn per_cent(value: f64) -> f64 {
    (value * 1e4).round() / 100.0
}

#[test]
fn there_are_all_materials_once() {
    let ids: BTreeSet<&str> = built_in().materials().iter().map(|m| &*m.id).collect();
    assert_eq!(ids.len(), built_in().materials().len());
    // The table behind it has 178 rows, 137 of them not from memory alone.
    assert_eq!(ids.len(), 178);
    let firm = |m: &&Material| m.nitrogen.confidence != Confidence::Recalled;
    assert!(built_in().materials().iter().filter(firm).count() >= 110);
    for material in built_in().materials() {
        assert!(material.name.len() > 2 && !material.texture.is_empty());
        assert!(
            material
                .id
                .chars()
                .all(|c| c.is_ascii_lowercase() || c == '_')
        );
    }
}

#[test]
fn every_value_names_a_source_that_exists() {
    let known: BTreeSet<&str> = built_in().sources().iter().map(|s| &*s.code).collect();
    assert_eq!(
        known.len(),
        built_in().sources().len(),
        "a code is used twice"
    );
    for material in built_in().materials() {
        let of_pools = ("pools", &material.pools.sources);
        let of_values = material.values().into_iter().map(|(f, v)| (f, &v.sources));
        for (field, sources) in of_values.chain([of_pools]) {
            assert!(
                !sources.is_empty(),
                "{}: {field} has no source",
                material.id
            );
            for code in sources {
                assert!(known.contains(&**code), "{}: {field}: {code}", material.id);
                assert!(built_in().source(code).is_some());
            }
        }
        for (field, value) in material.values() {
            // What rests on memory alone must not claim to have been read.
            let from_memory = value.sources.iter().all(|c| c == "MEM" || c == "NEHM");
            if from_memory {
                let found = (value.confidence, field);
                assert_eq!(
                    value.confidence,
                    Confidence::Recalled,
                    "{}: {found:?}",
                    material.id
                );
            }
        }
    }
    for source in built_in().sources() {
        assert!(
            !source.title.is_empty() && !source.read.is_empty(),
            "{}",
            source.code
        );
    }
    // Second-hand and remembered tables keep saying so.
    assert!(
        built_in()
            .source("NEH")
            .unwrap()
            .read
            .starts_with("Second-hand")
    );
    assert!(
        built_in()
            .source("NEHM")
            .unwrap()
            .read
            .starts_with("From memory")
    );
}

#[test]
fn every_material_of_the_catalogue_passes_the_check_for_own_ones() {
    let all = built_in().with_own(built_in().materials()).unwrap();
    assert_eq!(all.materials().len(), 178);
}

#[test]
fn nitrogen_times_cn_is_the_carbon() {
    // Printed nitrogen and printed C:N of one handbook row are often means of different samples
    // (softwood bark 0.14 % x 496 = 69 % carbon); the table keeps C:N and fits nitrogen to carbon.
    // 3 %: nitrogen is printed to two digits.
    for material in built_in().materials() {
        let Some(cn) = &material.carbon_to_nitrogen else {
            continue;
        };
        let product = material.nitrogen.typical * cn.typical;
        let carbon = material.carbon.typical;
        assert!(
            (product - carbon).abs() <= 0.03 * carbon + 0.001,
            "{}: {product} against {carbon}",
            material.id
        );
        // Fat is the most carbon-rich there is, about 77 % (food tables).
        assert!(carbon <= 0.77, "{}", material.id);
    }
}

#[test]
fn ranges_of_nitrogen_and_of_cn_say_the_same() {
    // The mix takes C:N from its range and nitrogen from C:N; a reader sees both. By definition carbon over the low end
    // of C:N is the high end of nitrogen; a quarter apart at most, since carbon varies too.
    for material in built_in().materials() {
        let Some(cn) = &material.carbon_to_nitrogen else {
            continue;
        };
        let (carbon, nitrogen) = (material.carbon.typical, &material.nitrogen);
        for (from_ratio, end) in [
            (carbon / cn.high, nitrogen.low),
            (carbon / cn.low, nitrogen.high),
        ] {
            assert!(
                (0.75..=1.25).contains(&(from_ratio / end)),
                "{}: {from_ratio} against {end}",
                material.id
            );
        }
    }
}

#[test]
fn working_notes_stay_in_the_table() {
    let codes: BTreeSet<&str> = built_in().sources().iter().map(|s| &*s.code).collect();
    for material in built_in().materials() {
        for word in material
            .note
            .split(|c: char| !c.is_alphanumeric() && c != '-')
        {
            assert!(!codes.contains(word), "{}: {word}", material.id);
            assert!(
                !["BD", "DM", "recalled", "NRAES"].contains(&word),
                "{}",
                material.id
            );
        }
    }
    // What was only estimated says so, first of all.
    for id in [
        "cork",
        "hemp_flax",
        "bones",
        "worm_castings",
        "evergreen_leaves",
        "bokashi",
    ] {
        assert!(material(id).note.starts_with("Unverified: "), "{id}");
        assert_eq!(material(id).nitrogen.confidence, Confidence::Recalled);
    }
}

#[test]
fn shares_of_dry_matter_fit_together() {
    for material in built_in().materials() {
        let pools = &material.pools;
        let sum = pools.fast + pools.medium + pools.slow + pools.inert;
        assert!(
            (sum - 1.0).abs() < 1e-12,
            "{}: pools add to {sum}",
            material.id
        );
        let (carbon, ash) = (&material.carbon, &material.ash);
        assert!(carbon.high + ash.typical <= 1.0 + 1e-9, "{}", material.id);
        assert!(carbon.typical + ash.high <= 1.0 + 1e-9, "{}", material.id);
        // What rots is what burns off, less lignin; the pools are printed to one per cent.
        let rots = pools.fast + pools.medium + pools.slow;
        assert!(rots <= 1.0 - ash.typical + 0.011, "{}: {rots}", material.id);
    }
}

#[test]
fn published_rows_came_through_unchanged() {
    // Jenkins, Humanure Handbook, table 3.2: rotted sawdust 0.25 % N, C:N 200-500; timothy hay 58.
    let sawdust = material("sawdust_rotted");
    assert_eq!(per_cent(sawdust.nitrogen.typical), 0.25);
    assert_eq!(sawdust.carbon_to_nitrogen.unwrap().typical, 200.0);
    // USDA NEH 637 table 2A-1: wheat straw C:N 100-150, mean 127; Aguilera 77: both within.
    let straw = material("straw_wheat").carbon_to_nitrogen.unwrap();
    assert!(straw.low <= 77.0 && straw.high >= 150.0);
    // The same: grass clippings 9-25, moisture 82 %. Its mean of 17 with 3.4 % N makes 58 % carbon, so both cannot hold:
    // C:N is inside Jenkins' 12-19 (2.4 % N) and Golueke's 12-15 (3-6 % N), nitrogen between theirs.
    let grass = material("grass_fresh");
    let cn = grass.carbon_to_nitrogen.as_ref().unwrap();
    assert_eq!([cn.low, cn.high], [9.0, 25.0]);
    assert!((12.0..=15.0).contains(&cn.typical));
    assert!((2.4..=3.4).contains(&per_cent(grass.nitrogen.typical)));
    assert_eq!(per_cent(grass.moisture.typical), 82.0);
    let leaves = material("leaves_mixed");
    let cn = leaves.carbon_to_nitrogen.as_ref().unwrap();
    assert_eq!([cn.low, cn.typical, cn.high], [40.0, 54.0, 80.0]);
    assert_eq!(per_cent(leaves.moisture.typical), 38.0);
    // Alberta Manure Composting Manual, table 3: horse manure with straw 27:1, 67 % water.
    let horse = material("horse_straw");
    assert_eq!(horse.carbon_to_nitrogen.unwrap().typical, 27.0);
    assert_eq!(per_cent(horse.moisture.typical), 67.0);
    // Golueke 1972 (Polprasert, table 3.1): urine 15-18 % N, 0.8:1.
    let urine = material("urine");
    assert_eq!(per_cent(urine.nitrogen.low), 15.0);
    assert_eq!(urine.carbon_to_nitrogen.unwrap().typical, 0.8);
    // USDA Standard Reference 26, apples: 0.29 % N and 150:1 of dry matter; pears 120:1.
    let apples = material("apples_windfall").carbon_to_nitrogen.unwrap();
    assert_eq!([apples.typical, apples.high], [130.0, 150.0]);
    // Urea, CO(NH2)2, from atomic masses 12.011, 14.007, 15.999, 1.008: 20.0 % C, 46.6 % N. Sold
    // as 46 %, so within half a per cent of N.
    let urea = material("urea");
    let mass = 12.011 + 15.999 + 2.0 * (14.007 + 2.0 * 1.008);
    assert!((urea.carbon.typical - 12.011 / mass).abs() < 0.001);
    assert!((urea.nitrogen.typical - 2.0 * 14.007 / mass).abs() < 0.007);
    // Ammonium sulphate, (NH4)2SO4: 21.2 % N, no carbon and so no C:N.
    let sulphate = material("ammonium_sulphate");
    let mass = 2.0 * (14.007 + 4.0 * 1.008) + 32.06 + 4.0 * 15.999;
    assert!((sulphate.nitrogen.typical - 2.0 * 14.007 / mass).abs() < 0.003);
    assert!(sulphate.carbon_to_nitrogen.is_none() && sulphate.carbon.typical == 0.0);
}

#[test]
fn wheat_straw_density_is_in_kilograms_per_cubic_metre() {
    // One widely copied table prints 58-357 kg/m3, which is the original's pounds per cubic yard
    // with the unit changed; 1 lb/yd3 = 0.5933 kg/m3, so straw lies at 34-224 kg/m3.
    let straw = material("straw").bulk_density;
    assert_eq!([straw.low, straw.high], [34.0, 224.0]);
}

#[test]
fn the_table_is_the_one_the_file_was_made_from() {
    // tests/reference/materials.csv, read here with another reader than the one that made the file.
    let mut table = csv::Reader::from_path("tests/reference/materials.csv").unwrap();
    let names: Vec<String> = table.headers().unwrap().iter().map(str::to_owned).collect();
    let mut rows = 0;
    for record in table.records() {
        let record = record.unwrap();
        let row: BTreeMap<&str, &str> = names
            .iter()
            .map(String::as_str)
            .zip(record.iter())
            .collect();
        let number = |column: &str| row[column].parse::<f64>().unwrap();
        let material = material(row["id"]);
        let same = |value: f64, printed: f64| {
            // Six digits are written.
            assert!(
                (value - printed).abs() <= 1e-5 * printed.abs(),
                "{}",
                material.id
            );
        };
        for (value, names, scale) in [
            (
                &material.moisture,
                ["moisture_pct", "moisture_lo", "moisture_hi"],
                0.01,
            ),
            (&material.nitrogen, ["n_pct_dm", "n_lo", "n_hi"], 0.01),
            (
                &material.bulk_density,
                ["bulk_kg_m3", "bulk_lo", "bulk_hi"],
                1.0,
            ),
        ] {
            same(value.typical, scale * number(names[0]));
            same(value.low, scale * number(names[1]));
            same(value.high, scale * number(names[2]));
            assert_eq!(value.spread, Spread::Given);
        }
        same(material.carbon.typical, 0.01 * number("c_pct_dm"));
        same(material.ash.typical, 0.01 * number("ash_pct_dm"));
        same(material.lignin.typical, 0.01 * number("lignin_pct_dm"));
        same(material.phosphate.typical, 0.01 * number("p2o5_pct_dm"));
        same(material.potash.typical, 0.01 * number("k2o_pct_dm"));
        same(material.ph.typical, number("ph"));
        same(material.pools.fast, number("fast_frac"));
        same(material.pools.inert, number("inert_frac"));
        assert_eq!(material.name, row["name"]);
        rows += 1;
    }
    assert_eq!(rows, built_in().materials().len());
}

#[test]
fn greens_and_browns_are_what_gardeners_call_so() {
    // Lists of extension services and garden societies agree on these (`common practice`), whatever the C:N: fruit and
    // banana peel, manures and their straw are greens; bracken, dead leaves, card and pets' bedding browns.
    for id in [
        "grass_fresh",
        "grass_dry",
        "veg_scraps",
        "banana_peel",
        "fruit_waste",
        "apples_windfall",
        "citrus_peel",
        "coffee_grounds",
        "tea_bags",
        "poultry_fresh",
        "poultry_litter",
        "horse_fresh",
        "horse_straw",
        "cattle_fym",
        "stall_waste_strawy",
        "urea",
        "ammonium_sulphate",
        "urine",
    ] {
        assert_eq!(material(id).side(), Side::Green, "{id}");
    }
    for id in [
        "leaves_mixed",
        "straw",
        "sawdust",
        "sawdust_hard",
        "cardboard",
        "wood_chips_arb",
        "shavings",
        "newspaper",
        "bracken_green",
        "small_pet_bedding",
        "prunings_whole",
        "pine_needles",
    ] {
        assert_eq!(material(id).side(), Side::Brown, "{id}");
    }
    for id in [
        "leafmould",
        "wood_ash",
        "soil",
        "lime",
        "compost_finished",
        "worm_castings",
        "bag_mesh",
        "egg_shells",
        "fats_oils",
        "dog_waste",
        "gypsum",
    ] {
        assert_eq!(material(id).side(), Side::Neither, "{id}");
    }
    assert!(built_in().materials().iter().all(|m| m.custom.is_some()));
    // An own material that says nothing falls by its C:N: 20 is green, 60 brown.
    assert_eq!(plain("own", 0.5, 0.4, 0.02, 300.0).side(), Side::Green);
    assert_eq!(plain("own", 0.5, 0.48, 0.008, 300.0).side(), Side::Brown);
}

#[test]
fn search_finds_by_every_word_and_puts_beginnings_first() {
    let found = |query: &str| -> Vec<String> {
        built_in()
            .search(query, heapwright::text::material::family)
            .iter()
            .map(|m| m.id.clone())
            .collect()
    };
    assert_eq!(found("").len(), 178);
    assert_eq!(found("  ").len(), 178);
    assert!(found("GRASS").starts_with(&["grass_fresh".into(), "grass_packed".into()]));
    assert_eq!(found("fresh grass")[..2], ["grass_fresh", "grass_packed"]);
    assert!(found("straw horse").contains(&"horse_straw".into()));
    assert!(found("paper and card").len() >= 7, "families are searched");
    assert_eq!(found("corn_cobs")[0], "corn_cobs", "ids are searched");
    assert!(found("zzz").is_empty());
}

#[test]
fn nearest_id_helps_with_slips_and_stays_silent_otherwise() {
    let near = |id: &str| built_in().nearest_id(id);
    assert_eq!(near("leaves_mixd"), Some("leaves_mixed"));
    assert_eq!(near("Grass-Fresh"), Some("grass_fresh"));
    assert_eq!(near("wheat_straw"), Some("straw_wheat"));
    assert_eq!(near("qqqqqq"), None);
    assert_eq!(near(""), None);
    assert_eq!(near(&"x".repeat(1_000_000)), None);
}

#[test]
fn an_own_material_hides_the_built_in_one_and_others_stay() {
    let mut own = material("grass_fresh");
    own.name = "Lawn of the school".into();
    let mut other = own.clone();
    other.id = "own_lawn".into();
    let all = built_in().with_own(&[own.clone(), other]).unwrap();
    assert_eq!(all.materials().len(), 179);
    assert_eq!(all.find("grass_fresh"), Some(&own));
    assert_eq!(all.find("own_lawn").unwrap().name, "Lawn of the school");
    assert_eq!(all.find("straw"), built_in().find("straw"));
    assert_eq!(all.find("nothing"), None);
}

/// Makes one value of a material impossible.
type Spoil = fn(&mut Material);

fn refused(change: impl FnOnce(&mut Material)) -> (&'static str, String) {
    let mut own = plain("own", 0.5, 0.45, 0.015, 300.0);
    change(&mut own);
    let error = built_in().with_own(&[own]).unwrap_err();
    let text = error.to_string();
    let CatalogueError::BadValue { field, .. } = error else {
        panic!("{error}")
    };
    (field, text)
}

#[test]
fn own_materials_that_cannot_be_are_refused_by_name() {
    assert!(
        built_in()
            .with_own(&[plain("own", 0.5, 0.45, 0.015, 300.0)])
            .is_ok()
    );
    let cases: [(&str, Spoil); 15] = [
        ("moisture", |m| m.moisture.high = 1.0),
        ("moisture", |m| m.moisture.low = -0.1),
        ("moisture", |m| m.moisture.typical = f64::NAN),
        ("nitrogen", |m| m.nitrogen.low = 0.2),
        ("nitrogen", |m| m.nitrogen.high = 0.6),
        ("carbon", |m| m.carbon.high = 0.9),
        ("carbon", |m| (m.ash.typical, m.ash.high) = (0.6, 0.6)),
        ("lignin", |m| {
            (m.ash.typical, m.ash.high) = (0.5, 0.5);
            (m.lignin.typical, m.lignin.high) = (0.6, 0.6);
        }),
        ("bulk density", |m| m.bulk_density.low = 0.0),
        ("bulk density", |m| m.bulk_density.high = f64::INFINITY),
        ("pH", |m| m.ph.high = 15.0),
        ("C:N", |m| m.carbon_to_nitrogen.as_mut().unwrap().low = 0.0),
        ("C:N", |m| {
            let cn = m.carbon_to_nitrogen.as_mut().unwrap();
            (cn.typical, cn.high) = (60.0, 60.0);
        }),
        ("settling", |m| m.settles_share = f64::NAN),
        ("pools", |m| m.pools.fast = 0.5),
    ];
    for (field, change) in cases {
        let (found, text) = refused(change);
        assert_eq!(found, field, "{text}");
        assert!(text.starts_with("material \"own\": "), "{text}");
    }
    assert_eq!(refused(|m| m.name = " ".into()).0, "name");
    let twice = [
        plain("own", 0.5, 0.45, 0.015, 300.0),
        plain("own", 0.4, 0.45, 0.015, 300.0),
    ];
    let text = built_in().with_own(&twice).unwrap_err().to_string();
    assert_eq!(
        text,
        "material \"own\": id is used twice; give one of them another id"
    );
}

#[test]
fn a_catalogue_compares_equal_to_itself() {
    assert_eq!(&Catalogue::built_in().unwrap(), built_in());
}

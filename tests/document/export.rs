//! Tables hold the same numbers as what they are made from; the report says them in words.

use heapwright::document::Project;
use heapwright::export::{Assessment, catalogue_csv, json, projection_csv, report};
use heapwright::heap::{Ended, Projection, Shape};
use heapwright::quantity::Measure;

use crate::sample::{catalogue, ingredient, material, rich_project};

/// The rows of a CSV text, read by another reader than the writer: split by hand.
fn rows(text: &str) -> Vec<Vec<f64>> {
    text.lines()
        .skip(1)
        .map(|line| {
            line.split(',')
                .map(|field| field.parse().unwrap())
                .collect()
        })
        .collect()
}

#[test]
fn the_curve_holds_every_bit_of_the_projection() {
    let project = rich_project();
    let assessment = Assessment::of(&project, catalogue()).unwrap();
    let projection = assessment.projection.unwrap();
    let mut table = Vec::new();
    projection_csv(&projection, &mut table).unwrap();
    let text = String::from_utf8(table).unwrap();
    assert_eq!(
        text.lines().next().unwrap(),
        "day,centre_c,middle_c,edge_c,mean_c,ambient_c,moisture_wet_basis,oxygen_mole_fraction,dry_mass_kg,water_kg,nitrogen_kg,volume_m3"
    );
    let rows = rows(&text);
    assert_eq!(rows.len(), projection.records.len());
    for (row, record) in rows.iter().zip(&projection.records) {
        let wanted = [
            record.day,
            record.centre_c,
            record.middle_c,
            record.edge_c,
            record.mean_c,
            record.ambient_c,
            record.moisture,
            record.oxygen,
            record.dry_kg,
            record.water_kg,
            record.nitrogen_kg,
            record.volume_m3,
        ];
        assert_eq!(row.as_slice(), wanted);
    }
}

#[test]
fn what_is_no_number_is_an_empty_field() {
    let project = rich_project();
    let assessment = Assessment::of(&project, catalogue()).unwrap();
    let mut projection = assessment.projection.unwrap();
    projection.records.truncate(1);
    projection.records[0].oxygen = f64::NAN;
    projection.records[0].dry_kg = f64::INFINITY;
    let mut table = Vec::new();
    projection_csv(&projection, &mut table).unwrap();
    let text = String::from_utf8(table).unwrap();
    let fields: Vec<&str> = text.lines().nth(1).unwrap().split(',').collect();
    assert_eq!((fields[7], fields[8]), ("", ""));
    assert_eq!(fields.len(), 12);
}

#[test]
fn the_catalogues_table_has_a_row_for_every_value() {
    let own = [material("own_x", 0.3, 0.45, 0.0)];
    let catalogue = catalogue().with_own(&own).unwrap();
    let mut table = Vec::new();
    catalogue_csv(&catalogue, &mut table).unwrap();
    let mut reader = csv::Reader::from_reader(table.as_slice());
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    let wanted: usize = catalogue
        .materials()
        .iter()
        .map(|material| material.values().len() + 5)
        .sum();
    assert_eq!(rows.len(), wanted);
    let row = rows
        .iter()
        .find(|row| &row[0] == "own_x" && &row[3] == "bulk density")
        .unwrap();
    let fields: Vec<&str> = row.iter().skip(4).collect();
    assert_eq!(
        fields,
        ["kg/m3", "150", "200", "260", "OWN", "recalled", "given"]
    );
    assert!(
        !rows
            .iter()
            .any(|row| &row[0] == "own_x" && &row[3] == "C:N"),
        "no nitrogen, no C:N"
    );
}

/// A project of these rows, all own materials.
fn of_rows(rows: &[(&str, f64)], water_l: f64) -> Project {
    let mut project = rich_project();
    project.mix.ingredients = rows
        .iter()
        .map(|(id, kg)| ingredient(id, *kg, Measure::Kilogram))
        .collect();
    project.mix.added_water_l = water_l;
    project
}

#[test]
fn a_mix_without_gauges_is_explained_in_one_sentence() {
    for (project, wanted) in [
        (of_rows(&[], 0.0), "The mix is empty"),
        (of_rows(&[], 20.0), "The mix is only water"),
        (of_rows(&[("own_tea", 0.0)], 0.0), "Every amount is zero"),
        (of_rows(&[("own_tea", 0.0)], 5.0), "The mix is only water"),
        (of_rows(&[("own_tea", 0.001)], 0.0), "Nothing is projected"),
        (of_rows(&[("own_tea", 1e5); 9], 0.0), "Nothing is projected"),
    ] {
        let catalogue = catalogue();
        let assessment = Assessment::of(&project, catalogue).unwrap();
        let text = report(&assessment);
        assert!(text.contains(wanted), "{text}");
        assert_eq!(
            text.matches(assessment.remark().unwrap()).count(),
            1,
            "{text}"
        );
        assert!(assessment.projection.is_none());
        for nonsense in ["NaN", "inf"] {
            assert!(!text.contains(nonsense), "{text}");
        }
    }
}

#[test]
fn carbon_without_nitrogen_has_no_ratio() {
    let mut project = of_rows(&[("own_reeds", 50.0)], 50.0);
    project.own_materials = vec![material("own_reeds", 0.1, 0.45, 0.0)];
    let catalogue = catalogue();
    let assessment = Assessment::of(&project, catalogue).unwrap();
    let text = report(&assessment);
    assert!(text.contains("C:N             none"), "{text}");
    assert!(text.contains("there is no nitrogen"), "{text}");
    let value: serde_json::Value = serde_json::from_str(&json(&assessment).unwrap()).unwrap();
    let ratio = &value["mix"]["gauges"]["carbon_to_nitrogen"];
    for key in ["low", "typical", "high"] {
        assert!(ratio[key].is_null(), "{ratio}");
    }
    assert_eq!(ratio["word"], "too brown");
}

#[test]
fn the_report_speaks_of_what_would_be_and_names_its_drivers() {
    let mut project = of_rows(&[("own_reeds", 60.0), ("own_tea", 90.0)], 40.0);
    // A failed field test would stand before everything that is projected.
    project.field_tests.clear();
    let catalogue = catalogue();
    let assessment = Assessment::of(&project, catalogue).unwrap();
    let text = report(&assessment);
    // Nitrogen by hand: reeds 60 x 0.8 x 0.008 = 0.384 kg, tea 90 x 0.4 x 0.04 = 1.44 kg.
    assert!(
        text.contains("nitrogen: Invented own_tea 79 %; Invented own_reeds 21 %"),
        "{text}"
    );
    // Water: 12 kg in reeds, 54 kg in tea, 40 kg poured on; moisture 106 of 190 kg.
    assert!(
        text.contains(
            "water: Invented own_tea 51 %; water poured on 38 %; Invented own_reeds 11 %"
        ),
        "{text}"
    );
    assert!(text.contains("Moisture        56 %"), "{text}");
    // C:N: (48 x 0.46 + 36 x 0.45) / 1.824 = 20.99.
    assert!(text.contains("C:N             21.0"), "{text}");
    assert!(text.contains("built on 15 January"), "{text}");
    assert!(text.contains("Its middle would reach"), "{text}");
    for word in [" will ", "safe", "NaN", "inf "] {
        assert!(!text.contains(word), "{word} in {text}");
    }
    // A run that stopped early says so; so does one that never got warm, or never hot.
    let with = |change: &dyn Fn(&mut Projection)| {
        let mut projection = assessment.projection.clone().unwrap();
        change(&mut projection);
        let mut other = assessment.clone();
        other.projection = Some(projection);
        report(&other)
    };
    let text = with(&|projection| projection.ended = Ended::Stopped { day: 3.0 });
    assert!(text.contains("stops on day 3"), "{text}");
    let text = with(&|projection| {
        (projection.summary.peak_c, projection.summary.peak_day) = (48.0, 6.0);
        projection.summary.days_above_40 = 8.25;
        projection.summary.days_above_55 = 0.0;
    });
    let wanted = "Its middle would reach 48 °C at most, on day 6, and be at 40 °C or more for 8.3 days, but never 55 °C.";
    assert!(text.contains(wanted), "{text}");
    let text = with(&|projection| {
        projection.summary.days_above_40 = 0.0;
        projection.summary.days_above_55 = 0.0;
    });
    assert!(text.contains("and so never 40 °C."), "{text}");
    // Finished by the rule of the outcome, above and below alike.
    assert!(
        text.contains("but not yet for seedlings and pots by the end."),
        "{text}"
    );
    let mut other = assessment.clone();
    let finish = &mut other.outcome.as_mut().unwrap().finish;
    (finish.usable_day, finish.day) = (Some(60.0), Some(100.0));
    let text = report(&other);
    // Of the heap, of what is asked first, and of the judgement.
    let said = text.matches("for seedlings and pots from about day 100");
    assert_eq!(said.count(), 3, "{text}");
    let said = text
        .to_lowercase()
        .matches("fit to dig in or mulch from about day 60")
        .count();
    assert_eq!(said, 3, "{text}");
    assert!(
        !text.contains("not be finished") && !text.contains("not fit"),
        "{text}"
    );
}

#[test]
fn without_a_brim_the_volume_is_not_judged() {
    let mut project = of_rows(&[("own_reeds", 60.0), ("own_tea", 90.0)], 40.0);
    project.heap.shape = Shape::OpenHeap;
    let catalogue = catalogue();
    let assessment = Assessment::of(&project, catalogue).unwrap();
    assert!(!report(&assessment).contains("room in"));
    let value: serde_json::Value = serde_json::from_str(&json(&assessment).unwrap()).unwrap();
    assert!(value["heap"]["room_m3"].is_null());
    assert!(value["mix"]["gauges"]["volume_m3"]["word"].is_null());
    assert!(value["mix"]["gauges"]["volume_m3"]["typical"].is_f64());
}

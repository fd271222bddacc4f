//! Every format ever written opens for ever: one file of each is kept and never edited.

use std::fs;
use std::path::{Path, PathBuf};

use heapwright::diary::{Squeeze, Wetness};
use heapwright::document::{EXTENSION, NEWEST_FORMAT, Season, file};
use heapwright::garden::Use;
use heapwright::heap::{Lid, Operation, Placing, Shape};
use heapwright::quantity::Measure;

use crate::sample::catalogue;

fn kept() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/formats");
    let mut files: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.to_string_lossy().ends_with(EXTENSION))
        .collect();
    files.sort();
    files
}

#[test]
fn a_file_of_every_format_opens() {
    let files = kept();
    for format in 1..=NEWEST_FORMAT {
        let name = format!("format-{format}{EXTENSION}");
        assert!(
            files.iter().any(|path| path.ends_with(&name)),
            "{name} is missing"
        );
    }
    for path in files {
        let opened = file::read(&path, catalogue()).unwrap_or_else(|err| panic!("{err}"));
        assert_eq!(opened.project.format, NEWEST_FORMAT);
    }
}

#[test]
fn format_1_holds_what_was_written_into_it() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/formats/format-1.heap.ron");
    let project = file::read(&path, catalogue()).unwrap().project;
    assert_eq!(project.title, "Reeds & \"tea\" leaves, 2nd try: äöü 堆肥");
    assert_eq!(project.season, Season::Winter);
    assert_eq!(
        project.notes,
        "Invented.\nSecond line,\twith a tab.\nBackslash \\ and quote \"."
    );
    let rows = &project.mix.ingredients;
    assert_eq!(rows.len(), 4);
    assert!(rows[0].locked && !rows[1].locked);
    assert_eq!(
        rows[0].amount.measure,
        Measure::Own {
            name: "blue tub".to_owned(),
            litres: 42.0
        }
    );
    // Every bit of a number survives: 0.1 + 0.2 is not 0.3 in binary.
    assert_eq!(rows[3].amount.value.to_bits(), (0.1_f64 + 0.2).to_bits());
    assert!(matches!(
        project.heap.shape,
        Shape::SolidBin { lid: Lid::Closed, width_m, .. } if width_m == 1.2
    ));
    assert_eq!(project.heap.start_temperature_c, Some(11.0));
    let operations = &project.heap.plan.events;
    assert_eq!(operations.len(), 7);
    assert!(project.diary.is_empty());
    assert!(
        matches!(&operations[3].operation, Operation::Add { placing: Placing::OnTop, mix } if mix.ingredients.len() == 1)
    );
    assert_eq!(project.own_materials.len(), 2);
    assert_eq!(project.own_materials[0].id, "own_reeds");
    assert_eq!(project.own_materials[0].bulk_density.high, 260.0);
}

#[test]
fn format_2_is_format_1_with_a_stock_a_state_and_a_garden() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/formats");
    let of = |name: &str| file::read(&folder.join(name), catalogue()).unwrap().project;
    let first = of("format-1.heap.ron");
    assert!(
        first
            .mix
            .ingredients
            .iter()
            .all(|row| row.condition.is_as_listed())
    );
    let second = of("format-2.heap.ron");
    let rows = &second.mix.ingredients;
    assert_eq!(rows[3].condition.wilted_days, 1.5);
    assert_eq!(rows[3].condition.packed, -0.25);
    assert!(rows[..3].iter().all(|row| row.condition.is_as_listed()));
    assert!(first.beds.is_empty() && first.uses.is_empty() && first.field_tests.is_empty());
    assert_eq!(second.beds.len(), 2);
    assert_eq!(second.beds[0].area_m2.to_bits(), (0.1_f64 + 0.2).to_bits());
    assert_eq!(second.uses, [Use::Beds, Use::RawFood]);
    assert_eq!(second.field_tests[0].test, "bag");
    // Nothing else differs between the two files.
    let mut same = second.clone();
    same.beds.clear();
    same.uses.clear();
    same.field_tests.clear();
    same.mix.ingredients[3].condition = first.mix.ingredients[3].condition;
    assert_eq!(same.mix.ingredients[2].stock.take(), Some(6.5));
    assert_eq!(same, first);
}

#[test]
fn format_3_has_a_diary_and_water_that_is_poured() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/formats/format-3.heap.ron");
    let project = file::read(&path, catalogue()).unwrap().project;
    let diary = &project.diary;
    assert_eq!(diary.built.unwrap().to_string(), "2025-01-15T12:00:00");
    let first = &diary.readings[0];
    assert_eq!(first.at.to_string(), "2025-01-18T17:00:00");
    assert_eq!(
        first.temperature_c.unwrap().to_bits(),
        (0.1_f64 + 0.2).to_bits()
    );
    assert_eq!(first.wetness, Some(Wetness::Squeezed(Squeeze::Drips)));
    assert_eq!(diary.readings[1].temperature_c, None);
    assert_eq!(diary.logs[0].temperatures_c.len(), 2);
    let pours = |event: &&heapwright::heap::Event| matches!(event.operation, Operation::Pour { litres } if litres == 22.5);
    assert_eq!(project.heap.plan.events.iter().filter(pours).count(), 1);
}

#[test]
fn format_4_is_format_3_with_an_entry_that_repeats() {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/formats");
    let of = |name: &str| file::read(&folder.join(name), catalogue()).unwrap().project;
    let (third, mut fourth) = (of("format-3.heap.ron"), of("format-4.heap.ron"));
    assert!(
        third
            .heap
            .plan
            .events
            .iter()
            .all(|event| event.repeat.is_none())
    );
    let repeat = fourth.heap.plan.events[3].repeat.take().unwrap();
    assert_eq!((repeat.every_days, repeat.times), (7.0, 12));
    assert_eq!(fourth, third);
}

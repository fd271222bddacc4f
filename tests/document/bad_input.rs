//! Whatever is handed in: one sentence with place and remedy, nothing half-opened, no panic.

use std::fs;
use std::path::{Path, PathBuf};

use heapwright::document::{
    CheckError, FileError, INGREDIENT_LIMIT, NAME_LIMIT, NOTES_LIMIT, Project, SIZE_LIMIT_BYTES,
    file,
};
use heapwright::heap::Operation;
use heapwright::mix::Mix;
use heapwright::quantity::Measure;
use proptest::prelude::*;

use crate::sample::{catalogue, folder, ingredient, material, rich_project};

/// The text of a sound project.
fn sound() -> String {
    let folder = folder();
    let path = folder.path().join("sound.heap.ron");
    file::write(&path, &rich_project(), None).unwrap();
    fs::read_to_string(&path).unwrap()
}

/// Tries to open this content and hands back the refusal, having looked at its form.
fn refusal(content: impl AsRef<[u8]>) -> (FileError, String) {
    let folder = folder();
    let path = folder.path().join("given.heap.ron");
    fs::write(&path, content.as_ref()).unwrap();
    let error = file::read(&path, catalogue()).unwrap_err();
    assert_eq!(
        fs::read(&path).unwrap(),
        content.as_ref(),
        "the file was touched"
    );
    (error.clone(), sentence(&error, &path))
}

/// The words of a refusal: one line, one sentence, a remedy, the path last.
fn sentence(error: &FileError, path: &Path) -> String {
    let text = error.to_string();
    let words = text
        .strip_suffix(&format!(": {}", path.display()))
        .unwrap_or_else(|| panic!("the path is not last: {text}"));
    assert_eq!(text.lines().count(), 1, "more than one line: {text}");
    assert!(words.chars().count() < 420, "too long: {text}");
    let own_words: String = words.split('`').step_by(2).collect();
    assert!(!own_words.contains(". "), "more than one sentence: {text}");
    let remedies = [
        "choose", "open a", "update", "correct", "replace", "shorten", "remove", "give", "make",
        "must", "set it", "save", "write",
    ];
    assert!(
        remedies.iter().any(|remedy| words.contains(remedy)),
        "no remedy: {text}"
    );
    words.to_owned()
}

/// The sound text with one piece of it replaced.
fn damaged(from: &str, to: &str) -> String {
    let text = sound();
    assert!(text.contains(from), "{from} is not in the sample");
    text.replacen(from, to, 1)
}

#[test]
fn what_is_no_file_is_told_apart() {
    let folder = folder();
    let missing = folder.path().join("nothing.heap.ron");
    let error = file::read(&missing, catalogue()).unwrap_err();
    assert!(matches!(error, FileError::Missing { .. }));
    sentence(&error, &missing);

    let error = file::read(folder.path(), catalogue()).unwrap_err();
    assert!(matches!(error, FileError::Folder { .. }));
    sentence(&error, folder.path());

    for empty in ["", " \n\t\n"] {
        assert!(matches!(refusal(empty).0, FileError::Empty { .. }));
    }
}

#[cfg(target_os = "linux")]
#[test]
fn a_device_without_an_end_is_not_read() {
    let path = Path::new("/dev/zero");
    let error = file::read(path, catalogue()).unwrap_err();
    assert!(matches!(error, FileError::NotAFile { .. }));
    sentence(&error, path);
}

#[test]
fn a_gigabyte_is_refused_unread() {
    let folder = folder();
    let path = folder.path().join("large.heap.ron");
    let large = fs::File::create(&path).unwrap();
    large.set_len(1 << 30).unwrap();
    let error = file::read(&path, catalogue()).unwrap_err();
    assert!(
        sentence(&error, &path).contains("1024 MiB"),
        "{error} does not say how much"
    );
    large.set_len(SIZE_LIMIT_BYTES + 1).unwrap();
    let error = file::read(&path, catalogue()).unwrap_err();
    assert!(matches!(error, FileError::TooLarge { .. }));
}

#[test]
fn binary_and_foreign_text_are_refused() {
    let (error, _) = refusal([0x89, b'P', b'N', b'G', 0x0d, 0x0a, 0x1a, 0x0a]);
    assert!(matches!(error, FileError::NotText { at: 1, .. }));
    let (error, _) = refusal([b"(format: 1, ".as_slice(), &[0xff, 0xfe]].concat());
    assert!(matches!(error, FileError::NotText { at: 13, .. }));
    let (error, _) = refusal(b"(format: 1, \0)");
    assert!(matches!(error, FileError::NotText { at: 13, .. }));
    let (error, said) = refusal("\nDear diary, it rained.\n");
    assert!(matches!(error, FileError::NotAProject { line: 2, .. }));
    assert!(said.contains("Dear diary"));
    let (error, _) = refusal("{\"format\": 1}");
    assert!(matches!(error, FileError::NotAProject { line: 1, .. }));
}

#[test]
fn every_truncation_is_refused_and_says_so() {
    let text = sound();
    let body = text.trim_end().len();
    for end in (1..body).filter(|end| text.is_char_boundary(*end)) {
        let (error, _) = refusal(&text[..end]);
        assert!(
            matches!(error, FileError::CutOff { .. }),
            "cut at {end}: {error}"
        );
    }
}

#[test]
fn damage_is_told_with_line_column_and_the_words_there() {
    for (from, to, wanted) in [
        (
            "season: Winter",
            "season: Monsoon",
            "\"Monsoon\" is none of",
        ),
        ("    place:", "    plaice:", "no field called \"plaice\""),
        ("width_m: 1.2", "width_m: 1.2, depth_m: 2.0", "\"depth_m\""),
        ("litres: 42.0", "litres: 42.0, colour: 1", "\"colour\""),
        ("    place: ", "    title: \"\", place: ", "stands twice"),
        ("value: 2.25", "value: two", "value: two"),
        ("value: 2.25", "value: 2,25", "value: 2,25"),
        ("mix: (", "mix: [", "mix: ["),
        ("days: 60.0,", "", "\"days\" is missing"),
    ] {
        let text = damaged(from, to);
        let (error, said) = refusal(&text);
        let FileError::NotReadable { line, .. } = error else {
            panic!("{to}: {error}");
        };
        assert!(said.contains(wanted), "{said} lacks {wanted}");
        assert!(said.contains(&format!("line {line}, column ")), "{said}");
        // The place is where the damage is; a missing field is told at the end of its bracket.
        let damaged_line = 1 + text[..text.find(to).unwrap()].matches('\n').count();
        let near = if to.is_empty() { line } else { damaged_line };
        assert!(line.abs_diff(near) <= 1, "{said}, but it is in line {near}");
    }
    let (error, said) = refusal(format!("{}\n(second: 1)", sound()));
    assert!(matches!(error, FileError::NotReadable { .. }));
    assert!(said.contains("more follows"));
}

#[test]
fn a_hundred_thousand_brackets_do_no_harm() {
    for open in ["(", "[", "(mix:("] {
        let (error, _) = refusal(format!("(format: 1, mix: {}", open.repeat(100_000)));
        assert!(
            matches!(
                error,
                FileError::NotReadable { .. } | FileError::CutOff { .. }
            ),
            "{error}"
        );
    }
}

#[test]
fn other_formats_are_told_by_their_number() {
    // Whatever a later format holds, its number is what is told.
    let later = "(format: 7, title: \"x\", weather: Some((wind: [1, 2])), heap: Nowhere)";
    let (error, said) = refusal(later);
    assert!(matches!(error, FileError::Newer { found: 7, .. }));
    assert!(said.contains("format 7") && said.contains("update"));
    let (error, _) = refusal(damaged("format: 4", "format: 99999999999"));
    assert!(matches!(error, FileError::Newer { .. }));
    let (error, _) = refusal(damaged("format: 4", "format: 0"));
    assert!(matches!(error, FileError::UnknownFormat { found: 0, .. }));
    for wrong in ["format: -1", "format: \"one\"", "format: 1.5", "former: 1"] {
        let (error, said) = refusal(damaged("format: 4", wrong));
        assert!(matches!(error, FileError::NotReadable { .. }), "{error}");
        assert!(said.starts_with("line 2"), "{said}");
    }
}

#[test]
fn an_unknown_material_is_told_with_its_row_and_the_nearest() {
    let (_, said) = refusal(damaged("\"leaves_mixed\"", "\"leaves_mixt\""));
    for wanted in ["ingredient 3", "leaves_mixt", "\"leaves_mixed\"", "replace"] {
        assert!(said.contains(wanted), "{said} lacks {wanted}");
    }
    let absurd = format!("\"{}\"", "x".repeat(50_000));
    let (error, _) = refusal(damaged("\"leaves_mixed\"", &absurd));
    assert!(matches!(
        error,
        FileError::Problem {
            problem: CheckError::TooLong { .. },
            ..
        }
    ));
}

#[test]
fn numbers_that_cannot_be_are_refused_wherever_they_stand() {
    let places = [
        ("value: 2.25", "value: ", "ingredient 2"),
        ("added_water_l: 12.5", "added_water_l: ", "added water"),
        ("stock: Some(6.5", "stock: Some(", "ingredient 3"),
        ("litres: 42.0", "litres: ", "ingredient 1"),
        ("width_m: 1.2", "width_m: ", "length of the heap"),
        ("height_m: 1.0", "height_m: ", "length of the heap"),
        ("daily_swing_k: 4.0", "daily_swing_k: ", "daily swing"),
        ("relative_humidity: 0.8", "relative_humidity: ", "share"),
        (
            "start_day_of_year: 15.5",
            "start_day_of_year: ",
            "day of the year",
        ),
        ("days: 60.0", "days: ", "forecast length"),
        ("settles_share: 0.15", "settles_share: ", "settling"),
        ("fast: 0.25", "fast: ", "pools"),
        ("high: 260.0", "high: ", "bulk density"),
        ("area_m2: 12.5", "area_m2: ", "bed 2"),
        ("day: 130.5", "day: ", "field test 1"),
    ];
    for (from, field, named) in places {
        for number in ["NaN", "inf", "-inf", "1e300", "-1e300", "1e999", "-7.5"] {
            let (error, said) = refusal(damaged(from, &format!("{field}{number}")));
            assert!(
                matches!(error, FileError::Problem { .. }),
                "{field}{number}: {error}"
            );
            assert!(said.contains(named), "{said} does not name {named}");
        }
    }
    let (_, said) = refusal(damaged(
        "start_temperature_c: Some(11.0)",
        "start_temperature_c: Some(1e9)",
    ));
    assert!(said.contains("fresh mix"), "{said}");
    let (_, said) = refusal(damaged("17.4", "NaN"));
    assert!(said.contains("monthly mean"), "{said}");
    let (_, said) = refusal(damaged("82.0", "-1.0"));
    assert!(said.contains("rain"), "{said}");
}

#[test]
fn entries_of_a_plan_that_cannot_be_are_refused_by_their_number() {
    for (from, to, entry, named) in [
        ("day: 7.5", "day: -0.5", 1, "day of a planned operation"),
        ("day: 21.0", "day: 1e9", 2, "day of a planned operation"),
        (
            "wet_to: Some(0.55)",
            "wet_to: Some(0.99)",
            1,
            "moisture to wet to",
        ),
        ("wet_to: 0.6", "wet_to: NaN", 3, "moisture to wet to"),
        ("litres: 22.5", "litres: -1.0", 5, "poured water"),
        ("value: 2.0", "value: -2.0", 4, "ingredient 1"),
        ("added_water_l: 3.0", "added_water_l: inf", 4, "added water"),
        (
            "thickness_m: 0.05",
            "thickness_m: 5.0",
            7,
            "thickness of a cover",
        ),
    ] {
        let (error, said) = refusal(damaged(from, to));
        assert!(matches!(error, FileError::Problem { .. }), "{error}");
        let place = format!("entry {entry} of the plan");
        assert!(said.contains(&place) && said.contains(named), "{said}");
    }
}

#[test]
fn what_a_plan_adds_is_checked_like_the_mix() {
    let with = |change: &dyn Fn(&mut Mix)| {
        let mut project = rich_project();
        for event in &mut project.heap.plan.events {
            if let Operation::Add { mix, .. } = &mut event.operation {
                change(mix);
            }
        }
        project.check(catalogue()).unwrap_err().to_string()
    };
    let unknown = with(&|mix| mix.ingredients[0].material = "grass_frsh".to_owned());
    assert!(
        unknown.contains("entry 4 of the plan") && unknown.contains("grass_fresh"),
        "{unknown}"
    );
    let long = with(&|mix| mix.ingredients[0].material = "x".repeat(NAME_LIMIT + 1));
    assert!(
        long.contains("entry 4 of the plan") && long.contains("shorten"),
        "{long}"
    );
    let tub = Measure::Own {
        name: " ".to_owned(),
        litres: 10.0,
    };
    let nameless = with(&|mix| mix.ingredients[0].amount.measure = tub.clone());
    assert!(nameless.contains("entry 4 of the plan"), "{nameless}");
    let many = with(&|mix| {
        let one = mix.ingredients[0].clone();
        mix.ingredients = vec![one; INGREDIENT_LIMIT + 1];
    });
    assert!(
        many.contains("ingredients") && many.contains("remove some"),
        "{many}"
    );
}

#[test]
fn a_plan_of_more_than_four_hundred_entries_is_refused() {
    let mut project = rich_project();
    let turn = project.heap.plan.events[0].clone();
    project.heap.plan.events = vec![turn; 401];
    let said = project.check(catalogue()).unwrap_err().to_string();
    assert!(said.contains("401") && said.contains("400"), "{said}");
}

#[test]
fn zero_amounts_are_fine() {
    for text in [
        damaged("value: 2.25", "value: 0.0"),
        damaged("value: 2.25", "value: 0"),
        damaged("added_water_l: 12.5", "added_water_l: 0.0"),
    ] {
        let folder = folder();
        let path = folder.path().join("zero.heap.ron");
        fs::write(&path, text).unwrap();
        file::read(&path, catalogue()).unwrap();
    }
}

#[test]
fn texts_and_lists_have_an_end() {
    let check = |change: &dyn Fn(&mut Project)| {
        let mut project = rich_project();
        change(&mut project);
        project.check(catalogue())
    };
    assert_eq!(check(&|_| ()), Ok(()));
    let refused = |change: &dyn Fn(&mut Project), wanted: &str| {
        let said = check(change).unwrap_err().to_string();
        assert!(said.contains(wanted), "{said} lacks {wanted}");
    };
    assert_eq!(
        check(&|project| project.title = "ä".repeat(NAME_LIMIT)),
        Ok(())
    );
    refused(
        &|project| project.title = "ä".repeat(NAME_LIMIT + 1),
        "the title: 201",
    );
    refused(
        &|project| project.title = "two\nlines".to_owned(),
        "the title holds a line break",
    );
    refused(
        &|project| project.place = "p".repeat(1 << 20),
        "the place: 1048576",
    );
    refused(
        &|project| project.notes = "n".repeat(NOTES_LIMIT + 1),
        "the notes: 100001",
    );
    refused(
        &|project| {
            project.mix.ingredients =
                vec![
                    ingredient("own_tea", 1.0, heapwright::quantity::Measure::Litre);
                    INGREDIENT_LIMIT + 1
                ];
        },
        "201 ingredients",
    );
    refused(
        &|project| {
            project
                .own_materials
                .push(material("own_tea", 0.5, 0.4, 0.02))
        },
        "own_tea",
    );
    refused(
        &|project| project.own_materials[1].id = " ".to_owned(),
        "give it an id",
    );
    refused(
        &|project| project.own_materials[0].note = "n".repeat(10_000),
        "own_reeds",
    );
    refused(&|project| project.format = 5, "format is 5");
}

/// Opens damaged bytes; only a panic or a broken promise can fail here.
fn open_or_refuse(content: &[u8]) -> Result<(), TestCaseError> {
    let folder = folder();
    let path: PathBuf = folder.path().join("damaged.heap.ron");
    fs::write(&path, content).unwrap();
    match file::read(&path, catalogue()) {
        Ok(opened) => prop_assert_eq!(opened.project.check(catalogue()), Ok(())),
        Err(error) => {
            sentence(&error, &path);
        }
    }
    prop_assert_eq!(fs::read(&path).unwrap(), content);
    Ok(())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 200, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn flipped_bytes_open_whole_or_are_refused(
        flips in proptest::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..6),
        end in any::<prop::sample::Index>(),
        cut in any::<bool>(),
    ) {
        let mut content = sound().into_bytes();
        for (at, byte) in flips {
            let length = content.len();
            content[at.index(length)] = byte;
        }
        if cut {
            content.truncate(end.index(content.len()));
        }
        open_or_refuse(&content)?;
    }

    #[test]
    fn lines_lost_doubled_or_swapped_open_whole_or_are_refused(
        first in any::<prop::sample::Index>(),
        second in any::<prop::sample::Index>(),
        kind in 0_u8..3,
    ) {
        let text = sound();
        let mut lines: Vec<&str> = text.lines().collect();
        let (first, second) = (first.index(lines.len()), second.index(lines.len()));
        match kind {
            0 => { lines.remove(first); }
            1 => lines.insert(second, lines[first]),
            _ => lines.swap(first, second),
        }
        open_or_refuse(lines.join("\n").as_bytes())?;
    }

    #[test]
    fn any_bytes_at_all_are_refused_in_one_sentence(content in proptest::collection::vec(any::<u8>(), 0..200)) {
        open_or_refuse(&content)?;
    }
}

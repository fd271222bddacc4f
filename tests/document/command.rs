//! The built program without a window: what it prints, what it writes, how it ends.

use std::fs;
use std::io::Read;
use std::path::{Path, PathBuf};
use std::process::{Command, Output, Stdio};

use heapwright::document::{Project, file};
use heapwright::export::Assessment;
use heapwright::heap::Shape;
use heapwright::quantity::Measure;
use serde_json::Value;

use crate::sample::{catalogue, folder, ingredient, material, rich_project};

fn program() -> Command {
    let mut program = Command::new(env!("CARGO_BIN_EXE_heapwright"));
    // No display: the window must not open in a test.
    program.env_remove("DISPLAY").env_remove("WAYLAND_DISPLAY");
    program
}

fn run(arguments: &[&str]) -> Output {
    program().args(arguments).output().unwrap()
}

/// Runs and expects exit 0 with nothing on standard error; gives standard output.
fn good(arguments: &[&str]) -> String {
    let output = run(arguments);
    let complaints = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(0), "{arguments:?}: {complaints}");
    assert_eq!(complaints, "");
    String::from_utf8(output.stdout).unwrap()
}

/// Runs and expects exit 2 with one line on standard error and nothing else; gives the line.
fn bad(arguments: &[&str]) -> String {
    let output = run(arguments);
    let complaints = String::from_utf8(output.stderr).unwrap();
    assert_eq!(output.status.code(), Some(2), "{arguments:?}: {complaints}");
    assert_eq!(complaints.lines().count(), 1, "{complaints}");
    assert!(complaints.starts_with("heapwright: "), "{complaints}");
    assert!(output.stdout.is_empty(), "half an answer was printed");
    complaints
}

fn demos() -> Vec<PathBuf> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data");
    let demos: Vec<PathBuf> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.to_string_lossy().ends_with(".heap.ron"))
        .collect();
    assert!(!demos.is_empty());
    demos
}

/// Writes a project into a folder and gives its path as text.
fn put(folder: &Path, project: &Project) -> String {
    let path = folder.join("given.heap.ron");
    file::write(&path, project, None).unwrap();
    path.to_str().unwrap().to_owned()
}

#[test]
fn every_demo_is_assessed_in_words_and_in_json() {
    for path in demos() {
        let path = path.to_str().unwrap();
        let text = good(&["assess", path]);
        let value: Value = serde_json::from_str(&good(&["assess", path, "--json"])).unwrap();
        assert_eq!(value["schema"], 1);
        let title = value["title"].as_str().unwrap();
        assert!(text.starts_with(title), "{text}");
        let peak = value["projection"]["peak_temperature_c"].as_f64().unwrap();
        assert!(text.contains(&format!("Its middle would reach {peak:.0} °C")));
        let moisture = value["mix"]["gauges"]["moisture_wet_basis"]["typical"]
            .as_f64()
            .unwrap();
        assert!(text.contains(&format!("Moisture        {:.0} %", 100.0 * moisture)));
        let shares: f64 = value["mix"]["ingredients"]
            .as_array()
            .unwrap()
            .iter()
            .map(|row| row["share_of_carbon"].as_f64().unwrap())
            .sum();
        assert!((shares - 1.0).abs() < 1e-12, "shares add to {shares}");
    }
}

/// Richard and Trautmann, Cornell Composting, C/N ratio page: 10 kg of grass (77 % water, 45 % C,
/// 2.4 % N) and 3.5 kg of leaves (35 %, 50 %, 0.75 %) make C:N 30 (from memory). The page rounds
/// 3.474 kg up to 3.5, which moves the ratio by 0.1; hence that tolerance.
#[test]
fn the_handbook_mix_of_grass_and_leaves_is_assessed_at_thirty_to_one() {
    let mut project = rich_project();
    project.own_materials = vec![
        material("own_grass", 0.77, 0.45, 0.024),
        material("own_leaves", 0.35, 0.50, 0.0075),
    ];
    project.mix.ingredients = vec![
        ingredient("own_grass", 10.0, Measure::Kilogram),
        ingredient("own_leaves", 3.5, Measure::Kilogram),
    ];
    project.mix.added_water_l = 0.0;
    let folder = folder();
    let path = put(folder.path(), &project);
    let value: Value = serde_json::from_str(&good(&["assess", &path, "--json"])).unwrap();
    let ratio = value["mix"]["gauges"]["carbon_to_nitrogen"]["typical"]
        .as_f64()
        .unwrap();
    assert!((ratio - 30.0).abs() < 0.1, "{ratio}");
    // By mass balance: (7.7 + 1.225) kg of water in 13.5 kg.
    let moisture = value["mix"]["gauges"]["moisture_wet_basis"]["typical"]
        .as_f64()
        .unwrap();
    assert!((moisture - 8.925 / 13.5).abs() < 1e-12, "{moisture}");
}

/// Every key the schema promises, and no other.
#[test]
fn the_json_has_the_keys_of_schema_1() {
    let folder = folder();
    let path = put(folder.path(), &rich_project());
    let value: Value = serde_json::from_str(&good(&["assess", &path, "--json"])).unwrap();
    let keys = |value: &Value| {
        let mut keys: Vec<String> = value.as_object().unwrap().keys().cloned().collect();
        keys.sort();
        keys.join(" ")
    };
    assert_eq!(
        keys(&value),
        "heap mix outcome place projection remark schema season title"
    );
    assert_eq!(
        keys(&value["mix"]),
        "added_water_kg added_water_share_of_water carbon_mass_kg dry_mass_kg gauges ingredients nitrogen_mass_kg volatile_solids_kg water_mass_kg wet_mass_kg"
    );
    assert_eq!(
        keys(&value["mix"]["gauges"]),
        "carbon_to_nitrogen carbon_to_nitrogen_available dry_bulk_density_kg_per_m3 free_air_space_share moisture_wet_basis volume_m3 wet_bulk_density_kg_per_m3"
    );
    assert_eq!(
        keys(&value["mix"]["gauges"]["volume_m3"]),
        "high low typical word"
    );
    assert_eq!(
        keys(&value["mix"]["ingredients"][0]),
        "amount material measure name share_of_carbon share_of_dry_mass share_of_nitrogen share_of_volume share_of_water"
    );
    assert_eq!(keys(&value["heap"]), "days room_m3 shape start_day_of_year");
    assert_eq!(
        keys(&value["projection"]),
        "airless_share days_at_or_above_40_c days_at_or_above_55_c dry_matter_lost_share finished_day hottest_day hottest_temperature_c nitrogen_lost_share peak_day peak_temperature_c stopped_day"
    );
    let outcome = &value["outcome"];
    assert_eq!(
        keys(outcome),
        "cautions class_a_score_at_centre class_a_score_in_coolest_parcel compost finished_day first_lines fit_to_dig_in_day germs how_far_to_trust judgements nitrogen_freed_in_years_1_to_5_kg rules seeds_and_roots self_heating_rise_at_end_k"
    );
    assert_eq!(
        keys(&outcome["judgements"][0]),
        "concerns_this_heap id likelihood likelihood_of numbers source text topic trust"
    );
    assert_eq!(
        keys(&outcome["rules"][0]),
        "id made_the_way_it_is_for met_at_centre met_in_share_of_heap missing turnings_counted would_meet"
    );
    assert_eq!(keys(&outcome["cautions"][0]), "id source text trust");
    assert_eq!(
        keys(&outcome["compost"]),
        "ammonia_nitrogen_lost_kg carbon_lost_kg carbon_to_nitrogen dry_mass_kg heat_made_j mass_kg moisture_wet_basis nitrogen_lost_as_gas_kg nitrogen_mass_kg nitrogen_washed_out_kg phosphate_mass_kg potash_mass_kg volume_m3"
    );
}

/// The window and the commands tell the same: what the JSON counts stands in the text as well.
#[test]
fn the_outcome_is_told_in_words_and_figures_alike() {
    for path in demos() {
        let path = path.to_str().unwrap();
        let text = good(&["assess", path]);
        let value: Value = serde_json::from_str(&good(&["assess", path, "--json"])).unwrap();
        for judgement in value["outcome"]["judgements"].as_array().unwrap() {
            let words = judgement["text"].as_str().unwrap();
            let concerns = judgement["concerns_this_heap"].as_bool().unwrap();
            // Rules stand in a table there, and what is not in the mix is left out.
            let in_table = judgement["id"].as_str().unwrap().starts_with("rule:");
            assert_eq!(text.contains(words), concerns && !in_table, "{words}");
            assert!(!judgement["source"].as_str().unwrap().is_empty());
        }
        for line in value["outcome"]["first_lines"].as_array().unwrap() {
            let [asks, answer] = ["asks", "answer"].map(|key| line[key].as_str().unwrap());
            assert!(text.contains(&format!("  {asks}: {answer}")), "{answer}");
        }
        assert!(text.contains(" of 10") && text.contains("Local rules come first"));
        assert!(text.contains("not a certificate"));
        // "Safety notes" is the trade's heading; nothing is ever called by the bare word.
        let promised = text.to_lowercase().replace("safety notes", "");
        assert!(!promised.contains(&["sa", "fe"].concat()));
    }
}

#[test]
fn an_empty_mix_and_plain_water_are_valid_documents() {
    for water_l in [0.0, 25.0] {
        let mut project = rich_project();
        project.mix.ingredients.clear();
        project.mix.added_water_l = water_l;
        let folder = folder();
        let path = put(folder.path(), &project);
        let text = good(&["assess", &path]);
        let wanted = if water_l > 0.0 {
            "The mix is only water"
        } else {
            "The mix is empty"
        };
        assert!(text.contains(wanted), "{text}");
        let value: Value = serde_json::from_str(&good(&["assess", &path, "--json"])).unwrap();
        assert!(value["mix"]["gauges"].is_null() && value["projection"].is_null());
        assert!(value["remark"].as_str().unwrap().starts_with(wanted));
        assert_eq!(value["mix"]["added_water_kg"], water_l);
        let said = bad(&["curve", &path, "--out", "-"]);
        assert!(said.contains(wanted) && said.contains(&path), "{said}");
    }
}

#[test]
fn the_curve_goes_to_a_file_or_to_standard_output() {
    let folder = folder();
    let path = put(folder.path(), &rich_project());
    let out = folder.path().join("curve.csv");
    assert_eq!(good(&["curve", &path, "--out", out.to_str().unwrap()]), "");
    let text = fs::read_to_string(&out).unwrap();
    assert_eq!(good(&["curve", &path, "--out", "-"]), text);
    assert!(text.starts_with("day,centre_c,middle_c,edge_c,mean_c,ambient_c,moisture_wet_basis,"));
    let project = rich_project();
    let assessment = Assessment::of(&project, catalogue()).unwrap();
    let projection = assessment.projection.unwrap();
    assert_eq!(text.lines().count(), projection.records.len() + 1);
    let hottest = text
        .lines()
        .skip(1)
        .map(|line| line.split(',').nth(1).unwrap().parse::<f64>().unwrap())
        .fold(f64::MIN, f64::max);
    // The summary sees every step, the table one in three hours.
    let peak = projection.summary.peak_c;
    assert!(hottest <= peak && hottest > peak - 0.5, "{hottest} {peak}");
}

#[test]
fn a_handout_is_written_as_pdf_and_never_over_a_project() {
    let folder = folder();
    let source = put(folder.path(), &rich_project());
    let source = source.as_str();
    let target = folder.path().join("page.pdf");
    let target = target.to_str().unwrap();
    let printed = good(&[
        "handout", source, "--out", target, "--paper", "letter", "--units", "us",
    ]);
    assert_eq!(printed, "");
    let document = lopdf::Document::load(target).unwrap();
    // One page, and a second where dates and safety notes need it.
    assert!((1..=2).contains(&document.get_pages().len()));
    let text = document.extract_text(&[1]).unwrap();
    assert!(
        text.contains("°F") && text.contains("Four in five"),
        "{text}"
    );
    let before = fs::read(source).unwrap();
    let line = bad(&["handout", source, "--out", source]);
    assert!(line.contains(".pdf"), "{line}");
    assert_eq!(fs::read(source).unwrap(), before);
}

#[test]
fn trials_are_run_on_a_project_and_verdicts_follow_their_numbers() {
    let path = demos().remove(0);
    let path = path.to_str().unwrap();
    let text = good(&["trials", path, "--only", "sugar", "--pairs", "8"]);
    assert!(
        text.contains("8 pairs") && text.contains("Published: "),
        "{text}"
    );
    let peak = text
        .lines()
        .find(|line| line.trim().starts_with("peak "))
        .unwrap();
    assert!(peak.contains("no difference you could feel"), "{peak}");
    let text = good(&["trials", path, "--only", "citrus"]);
    assert!(text.contains("evidence only"), "{text}");
    let said = bad(&["trials", path, "--only", "moonlight"]);
    assert!(
        said.contains("moonlight") && said.contains("--only"),
        "{said}"
    );
    let folder = folder();
    let own = folder.path().join("mine.ron");
    fs::write(&own, "[\n(id: \"a\")]").unwrap();
    let said = bad(&["trials", path, "--own", own.to_str().unwrap()]);
    assert!(
        said.contains("line 2") && said.contains("mine.ron"),
        "{said}"
    );
}

/// Characters that steer a terminal (ECMA-48) or the direction of writing (UAX #9) come from files, not from us.
#[test]
fn nothing_that_steers_a_terminal_is_printed() {
    let folder = folder();
    let mut project = rich_project();
    project.title = "Leaves \u{202e}nor.paeh".to_owned();
    let path = put(folder.path(), &project);
    let own = folder.path().join("own \u{1b}[2J.ron");
    let trial = "[(id: \"steer\", title: \"Is it \\u{1b}]0;owned\\u{7}?\", claim: \"\\u{9b}31m\", differs: \"\\u{202e}\", \
                 common: [], change: [], evidence: [], cannot_tell: \"\\u{2066}no\")]";
    fs::write(&own, trial).unwrap();
    let steers = |text: &str| {
        text.chars().any(|letter| {
            (letter.is_control() && letter != '\n')
                || ('\u{202a}'..='\u{202e}').contains(&letter)
                || ('\u{2066}'..='\u{2069}').contains(&letter)
        })
    };
    let text = good(&["assess", &path]);
    assert!(
        !steers(&text) && text.contains("\\u202enor.paeh"),
        "{text:?}"
    );
    // In JSON the escape is the same character.
    let text = good(&["assess", &path, "--json"]);
    assert!(!steers(&text));
    let value: Value = serde_json::from_str(&text).unwrap();
    assert_eq!(value["title"], project.title.as_str());
    let output = run(&["trials", &path, "--own", own.to_str().unwrap()]);
    let all = [output.stdout, output.stderr].map(|bytes| String::from_utf8(bytes).unwrap());
    assert!(!all.iter().any(|text| steers(text)), "{all:?}");
    assert!(all[0].contains("\\u001b]0;owned"), "{all:?}");
    // A mistake in such a file is told as harmlessly.
    let mut broken = fs::read(&own).unwrap();
    broken.extend_from_slice(b"\x1b[31m");
    fs::write(&own, broken).unwrap();
    assert!(!steers(&bad(&[
        "trials",
        &path,
        "--own",
        own.to_str().unwrap()
    ])));
}

#[test]
fn beliefs_are_told_with_their_evidence_without_a_project() {
    let text = good(&["beliefs", "tea", "bags"]);
    let first = text.lines().next().unwrap();
    assert!(first.contains("tea_bags"), "{first}");
    assert!(text.contains("What is known: ") && text.contains("Published: "));
    assert!(text.contains("abstract); read]"), "{text}");
    let all = good(&["beliefs"]);
    assert!(all.lines().count() >= 45, "{all}");
    assert!(good(&["beliefs", "bicycle"]).starts_with("Nothing was found"));
}

#[test]
fn no_table_is_written_over_a_project() {
    let folder = folder();
    let path = put(folder.path(), &rich_project());
    let before = fs::read(&path).unwrap();
    let plain = folder.path().join("plain.ron");
    fs::copy(&path, &plain).unwrap();
    let plain = plain.to_str().unwrap();
    for (source, target) in [
        (path.as_str(), path.as_str()),
        (plain, plain),
        (plain, &path),
    ] {
        let said = bad(&["curve", source, "--out", target]);
        assert!(said.contains("--out"), "{said}");
        assert_eq!(fs::read(target).unwrap(), before);
    }
    let nowhere = folder.path().join("none/curve.csv");
    let said = bad(&["curve", &path, "--out", nowhere.to_str().unwrap()]);
    assert!(said.contains("the folder does not exist"), "{said}");
}

#[test]
fn every_demo_is_balanced_and_the_balanced_project_is_balanced() {
    let folder = folder();
    for path in demos() {
        let before = fs::read(&path).unwrap();
        let target = folder.path().join(path.file_name().unwrap());
        let (path, target) = (path.to_str().unwrap(), target.to_str().unwrap());
        let text = good(&["balance", path, "--out", target]);
        assert_eq!(text, good(&["balance", path]), "--out changes no word");
        assert!(text.contains("The mix works") || text.contains("The mix is balanced"));
        // The new file is the same project with another mix, and there is nothing left to do.
        let (old, new) = [path, target]
            .map(|path| file::read(Path::new(path), catalogue()).unwrap().project)
            .into();
        assert_eq!(
            Project {
                mix: old.mix.clone(),
                ..new.clone()
            },
            old
        );
        let assessed = Assessment::of(&new, catalogue()).unwrap();
        let gauges = assessed.blend.gauges.unwrap();
        assert!(text.contains(&format!("{:.1}", gauges.cn.typical)));
        let again = good(&["balance", target]);
        assert!(again.contains("as it is"), "{again}");
        assert_eq!(fs::read(path).unwrap(), before, "the project was changed");
        let said = bad(&["balance", path, "--out", target]);
        assert!(
            said.contains("already a file") && said.contains(target),
            "{said}"
        );
    }
}

#[test]
fn a_mix_of_leaves_alone_is_told_what_to_look_for() {
    let mut project = rich_project();
    project.mix.ingredients = vec![ingredient("leaves_mixed", 0.0, Measure::Barrow)];
    project.mix.added_water_l = 0.0;
    let folder = folder();
    let text = good(&["balance", &put(folder.path(), &project)]);
    for wanted in [
        "cannot be balanced",
        "C:N at most 40.0 cannot be reached",
        "What would help",
        "g of urea",
        "barrows of grass clippings",
    ] {
        assert!(text.contains(wanted), "{text} lacks {wanted}");
    }
}

#[test]
fn an_open_heap_of_nothing_yet_becomes_a_cubic_metre_in_whole_measures() {
    let mut project = rich_project();
    project.mix.ingredients = vec![
        ingredient("leaves_mixed", 0.0, Measure::Barrow),
        ingredient("grass_fresh", 0.0, Measure::Bucket),
        ingredient("horse_straw", 0.0, Measure::Bucket),
    ];
    project.mix.added_water_l = 0.0;
    project.heap.shape = Shape::OpenHeap;
    let folder = folder();
    let path = put(folder.path(), &project);
    let target = folder.path().join("balanced.heap.ron");
    good(&["balance", &path, "--out", target.to_str().unwrap()]);
    let balanced = file::read(&target, catalogue()).unwrap().project;
    let volume = Assessment::of(&balanced, catalogue())
        .unwrap()
        .blend
        .totals
        .volume_m3();
    assert!((0.85..=1.0).contains(&volume), "{volume}");
    for row in &balanced.mix.ingredients {
        assert_eq!(row.amount.value.fract(), 0.0, "{row:?}");
    }
}

#[test]
fn the_materials_are_listed() {
    let catalogue = catalogue();
    let list = good(&["materials"]);
    assert_eq!(list.lines().count(), catalogue.materials().len() + 1);
    let table = good(&["materials", "--csv"]);
    assert!(table.starts_with("id,name,family,value,unit,low,typical,high,sources,confidence"));
    for material in catalogue.materials() {
        assert!(list.contains(&material.id) && table.contains(&material.id));
    }
}

#[test]
fn bad_input_gives_one_line_and_exit_two() {
    let folder = folder();
    let at = |name: &str| folder.path().join(name).to_str().unwrap().to_owned();
    fs::write(at("empty.heap.ron"), "").unwrap();
    fs::write(at("binary.heap.ron"), [0xff, 0xd8, 0xff, 0x00]).unwrap();
    fs::write(at("newer.heap.ron"), "(format: 7)").unwrap();
    fs::write(at("text.heap.ron"), "leaves and\ngrass\n").unwrap();
    for (name, wanted) in [
        ("missing.heap.ron", "no file of this name"),
        ("empty.heap.ron", "empty"),
        ("binary.heap.ron", "byte 1"),
        ("newer.heap.ron", "newer version"),
        ("text.heap.ron", "line 1"),
        (".", "folder"),
    ] {
        let path = at(name);
        for arguments in [
            vec!["assess", &path],
            vec!["assess", &path, "--json"],
            vec!["curve", &path, "--out", "-"],
            vec!["balance", &path],
        ] {
            let said = bad(&arguments);
            assert!(said.contains(wanted), "{said} lacks {wanted}");
        }
    }
    // A name with a line break in it still makes one line.
    let said = bad(&["assess", &at("two\nlines.heap.ron")]);
    assert!(said.contains("two\\nlines"), "{said}");
}

#[test]
fn wrong_arguments_give_one_line_and_the_way_to_help() {
    for arguments in [
        vec!["assess"],
        vec!["curve", "x.heap.ron"],
        vec!["balance"],
        vec!["assess", "a", "b"],
        vec!["--colour"],
        vec!["a.heap.ron", "b.heap.ron"],
        vec!["materials", "--jsn"],
    ] {
        let said = bad(&arguments);
        assert!(said.contains("heapwright --help"), "{said}");
    }
    let help = good(&["--help"]);
    for command in ["assess", "curve", "balance", "materials", "[FILE]"] {
        assert!(help.contains(command), "{help}");
    }
    assert!(good(&["--version"]).contains(env!("CARGO_PKG_VERSION")));
}

#[test]
fn whoever_stops_reading_is_not_complained_at() {
    // More than a pipe holds, so that writing meets the closed end.
    let mut child = program()
        .args(["materials", "--csv"])
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .unwrap();
    let mut first = [0; 16];
    child.stdout.take().unwrap().read_exact(&mut first).unwrap();
    let output = child.wait_with_output().unwrap();
    assert_eq!(output.status.code(), Some(0));
    assert_eq!(String::from_utf8(output.stderr).unwrap(), "");
}

/// The device `/dev/full` refuses every byte (Linux, full(4)).
#[cfg(target_os = "linux")]
#[test]
fn output_that_cannot_be_written_is_told() {
    let full = fs::File::options().write(true).open("/dev/full").unwrap();
    let output = program().arg("materials").stdout(full).output().unwrap();
    assert_eq!(output.status.code(), Some(2));
    let said = String::from_utf8(output.stderr).unwrap();
    assert_eq!(said.lines().count(), 1, "{said}");
    assert!(said.contains("could not be written"), "{said}");
}

#[test]
fn dates_are_told_and_written_as_seen_from_a_day() {
    let folder = folder();
    let demo =
        Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data/withybed-spring-grass.heap.ron");
    let demo = demo.to_str().unwrap();
    // The demo is built on day 115 of a common year: 25 April.
    let told = good(&["dates", demo, "--today", "2027-03-01", "--units", "metric"]);
    assert!(told.contains("does not stand yet"), "{told}");
    assert!(
        told.contains("Sun 25 April 2027      Build the heap"),
        "{told}"
    );
    let us = good(&["dates", demo, "--today", "2027-03-01", "--units", "us"]);
    assert!(us.contains("149 °F") && !us.contains("65 °C"), "{us}");
    let out = [
        "dates",
        demo,
        "--today",
        "2027-03-01",
        "--units",
        "metric",
        "--out",
    ];
    let printed = good(&[&out[..], &["-"]].concat());
    assert!(printed.starts_with("BEGIN:VCALENDAR\r\n"), "{printed}");
    assert!(
        printed.contains("DTSTAMP:20270301T000000Z\r\n"),
        "no clock is read"
    );
    let path = folder.path().join("dates.ics");
    good(&[&out[..], &[path.to_str().unwrap()]].concat());
    assert_eq!(
        fs::read_to_string(&path).unwrap(),
        printed,
        "the same every time"
    );
    let over = bad(&["dates", demo, "--out", demo]);
    assert!(over.contains("would overwrite a project"), "{over}");
    let never = bad(&["dates", demo, "--today", "2027-02-30"]);
    assert!(never.contains("--today"), "{never}");
}

#[test]
fn a_loggers_file_is_learnt_from_and_nothing_is_saved() {
    let demo = |name: &str| {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data");
        folder.join(name).to_str().unwrap().to_owned()
    };
    let (heap, log) = (
        demo("withybed-summer-hot.heap.ron"),
        demo("withybed-summer-logger.csv"),
    );
    let before = fs::read(&heap).unwrap();
    let without: Value = serde_json::from_str(&good(&["learn", &heap, "--json"])).unwrap();
    let output = run(&["learn", &heap, "--readings", &log, "--json"]);
    assert_eq!(output.status.code(), Some(0));
    let told = String::from_utf8(output.stderr).unwrap();
    assert!(told.contains(" rows: ") && told.contains("line "), "{told}");
    let with: Value = serde_json::from_slice(&output.stdout).unwrap();
    assert_ne!(with, without);
    assert_eq!(fs::read(&heap).unwrap(), before);

    let folder = folder();
    let empty = folder.path().join("empty.csv");
    fs::write(&empty, "nothing\nhere\n").unwrap();
    let said = bad(&["learn", &heap, "--readings", empty.to_str().unwrap()]);
    assert!(said.contains("empty.csv"), "{said}");
    let said = bad(&[
        "learn",
        &heap,
        "--readings",
        folder.path().to_str().unwrap(),
    ]);
    assert!(said.contains("folder"), "{said}");
}

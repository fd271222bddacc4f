//! The handout says what the report says, whatever the project holds; what the first page has no room for goes overleaf.
//!
//! Tested against the outside: the PDF is read by another library (lopdf) than the one that writes it;
//! paper sizes are ISO 216 and ANSI/ASME Y14.1; pounds and yards are those of NIST SP 811.

use std::path::Path;
use std::sync::atomic::AtomicBool;

use heapwright::document::{Project, file};
use heapwright::export::{
    Assessment, Handout, Paper, PrintedCaution, Sheet, SheetMark, curve_sheet, handout,
    handout_sheets, handout_text, picture_png, report, section_sheet,
};
use heapwright::forecast::ensemble;
use heapwright::heap::{Event, Operation, Turning};
use heapwright::outcome::cautions::CautionPlace;
use heapwright::quantity::{Measure, UnitSystem};
use lopdf::{Dictionary, Document, Object};

use crate::sample::{catalogue, ingredient, material, rich_project};

fn demos() -> Vec<Project> {
    let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join("demo-data");
    let mut all = Vec::new();
    for entry in std::fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        // Beside the recipes lies the file of a logger.
        if path.to_string_lossy().ends_with(".heap.ron") {
            all.push(file::read(&path, catalogue()).unwrap().project);
        }
    }
    assert_eq!(all.len(), 5);
    all
}

fn caution(line: &str) -> PrintedCaution {
    PrintedCaution {
        line: line.to_owned(),
        source: "invented".to_owned(),
    }
}

fn of<'a>(assessment: &'a Assessment<'a>, cautions: &'a [PrintedCaution]) -> Handout<'a> {
    Handout {
        assessment,
        forecast: None,
        cautions,
        units: UnitSystem::Metric,
        paper: Paper::A4,
    }
}

/// The text of all pages, without any blanks: another program may break lines as it likes.
fn text_of(pdf: &[u8]) -> String {
    let document = Document::load_mem(pdf).unwrap();
    let pages: Vec<u32> = document.get_pages().into_keys().collect();
    assert!(!pages.is_empty());
    squeezed(&document.extract_text(&pages).unwrap())
}

fn squeezed(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).collect()
}

/// What the report says of gauges and heap: name, value and range of each gauge, every sentence.
fn said_by_report(assessment: &Assessment<'_>) -> Vec<String> {
    let text = report(assessment);
    let (_, gauges) = text.split_once("The gauges").unwrap();
    let mut said: Vec<String> = gauges
        .lines()
        .skip(1)
        .take_while(|line| !line.is_empty())
        .filter(|line| !line.starts_with("    "))
        .map(|line| {
            let name = line[2..17].trim();
            let value = line[18..].split("  ").next().unwrap().trim();
            format!("{name} {value}")
        })
        .collect();
    assert!(said.len() >= 6, "{text}");
    let (_, heap) = text.split_once("The heap, ").unwrap();
    // Expected result is longer than a page; the handout leaves it to the window.
    let (heap, _) = heap.split_once("\nExpected result").unwrap();
    let heap = heap.trim_end();
    said.extend(heap.lines().skip(1).map(|line| line.trim().to_owned()));
    assert!(said.len() >= 10, "{text}");
    said
}

#[test]
fn another_library_reads_on_the_page_what_the_report_says() {
    for project in demos() {
        let assessment = Assessment::of(&project, catalogue()).unwrap();
        let pdf = handout(&of(&assessment, &[])).unwrap();
        let text = text_of(&pdf);
        for said in said_by_report(&assessment) {
            assert!(
                text.contains(&squeezed(&said)),
                "{}: \"{said}\" is not in {text}",
                project.title
            );
        }
        for name in &assessment.names {
            assert!(text.contains(&squeezed(name)), "{name}");
        }
    }
}

fn resolved<'a>(document: &'a Document, dictionary: &'a Dictionary, key: &[u8]) -> &'a Object {
    let object = dictionary.get(key).unwrap();
    document.dereference(object).unwrap().1
}

#[test]
fn every_font_is_embedded_and_the_paper_has_its_size() {
    // ISO 216: 210 x 297 mm; ANSI A: 8.5 x 11 in; 1 pt is 1/72 in of 25.4 mm.
    let sizes = [
        (Paper::A4, 210.0 / 25.4 * 72.0, 297.0 / 25.4 * 72.0),
        (Paper::Letter, 8.5 * 72.0, 11.0 * 72.0),
    ];
    let project = rich_project();
    let assessment = Assessment::of(&project, catalogue()).unwrap();
    for (paper, width, height) in sizes {
        let pdf = handout(&Handout {
            paper,
            ..of(&assessment, &[])
        })
        .unwrap();
        let document = Document::load_mem(&pdf).unwrap();
        let page = document.get_pages()[&1];
        let page = document.get_dictionary(page).unwrap();
        let media: Vec<f32> = resolved(&document, page, b"MediaBox")
            .as_array()
            .unwrap()
            .iter()
            .map(|number| number.as_float().unwrap())
            .collect();
        // Half a point is a sixth of a millimetre.
        assert!((media[2] - width).abs() < 0.5 && (media[3] - height).abs() < 0.5);
        let fonts = resolved(
            &document,
            resolved(&document, page, b"Resources").as_dict().unwrap(),
            b"Font",
        );
        let mut seen = 0;
        for (_, font) in fonts.as_dict().unwrap() {
            let font = document.dereference(font).unwrap().1.as_dict().unwrap();
            assert!(font.has(b"ToUnicode"), "text could not be selected");
            let below = resolved(&document, font, b"DescendantFonts");
            let below = document.dereference(&below.as_array().unwrap()[0]).unwrap();
            let descriptor = resolved(&document, below.1.as_dict().unwrap(), b"FontDescriptor");
            assert!(
                descriptor.as_dict().unwrap().has(b"FontFile3"),
                "not embedded"
            );
            seen += 1;
        }
        assert_eq!(seen, 2);
    }
}

/// Fails if a mark leaves the page or one text lies over another.
fn tidy(sheet: &Sheet) {
    let mut boxes: Vec<(f32, f32, f32, f32, &str)> = Vec::new();
    for mark in &sheet.marks {
        let points = match mark {
            SheetMark::Area { points, .. } | SheetMark::Line { points, .. } => points.clone(),
            SheetMark::Text { at, text, look } => {
                let end = at.0 + look.width(text);
                // Letters without descenders stand from the line up to about 0.75 of their size.
                boxes.push((at.0, at.1 - 0.7 * look.size, end, at.1, text));
                vec![*at, (end, at.1)]
            }
        };
        for (x, y) in points {
            let inside = (15.0..=sheet.width - 15.0).contains(&x)
                && (15.0..=sheet.height - 15.0).contains(&y);
            assert!(inside, "({x}, {y}) of {mark:?}");
        }
    }
    for (i, a) in boxes.iter().enumerate() {
        for b in &boxes[..i] {
            let apart = a.2 <= b.0 || b.2 <= a.0 || a.3 <= b.1 || b.3 <= a.1;
            assert!(apart, "\"{}\" lies over \"{}\"", a.4, b.4);
        }
    }
}

/// Sixty-four ingredients with the longest names, a crowded plan, many cautions.
fn crowded() -> Project {
    let mut project = rich_project();
    let long = "Very long name of an invented heap ".repeat(5);
    project.title = long.clone();
    project.place = long.clone();
    for number in 0..64 {
        let id = format!("own_{number}");
        let mut own = material(&id, 0.4, 0.45, 0.02);
        own.name = format!("{number} {long}");
        project.own_materials.push(own);
        project
            .mix
            .ingredients
            .push(ingredient(&id, 1234.5, Measure::Gram));
    }
    for day in 0..50 {
        let operation = Operation::Turn {
            turning: Turning::InsideOut,
            wet_to: Some(0.55),
        };
        project.heap.plan.events.push(Event {
            repeat: None,
            day: f64::from(day),
            operation,
        });
    }
    project
}

#[test]
fn a_crowded_project_goes_on_overleaf_and_loses_no_date_and_no_caution() {
    let project = crowded();
    let assessment = Assessment::of(&project, catalogue()).unwrap();
    let cautions: Vec<PrintedCaution> = (0..20)
        .map(|number| {
            let line = "Keep the heap damp while it is turned, spores fly. ".repeat(3);
            caution(&format!("Number {number}: {line}"))
        })
        .collect();
    for paper in Paper::ALL {
        for units in [UnitSystem::Metric, UnitSystem::UsCustomary] {
            let handout = Handout {
                paper,
                units,
                ..of(&assessment, &cautions)
            };
            let sheets = handout_sheets(&handout);
            assert!(sheets.len() > 1);
            sheets.iter().for_each(tidy);
            let first: Vec<&str> = sheets[0].texts().collect();
            // 68 ingredients and poured water, 10 of them named.
            assert!(first.contains(&"and 59 more ingredients"), "{first:?}");
            for ending in ["more dates overleaf", "more cautions overleaf"] {
                assert!(first.iter().any(|line| line.ends_with(ending)), "{ending}");
            }
            assert!(first.contains(&"What was done"));
            let pages: Vec<String> = sheets.iter().map(|it| it.texts().collect()).collect();
            let whole = squeezed(&pages.concat());
            for number in 0..cautions.len() {
                let wanted = format!("Number{number}:");
                assert_eq!(whole.matches(&wanted).count(), 1, "{wanted}");
            }
            assert_eq!(whole.matches("turnitinsideout").count(), 51);
            assert_eq!(whole.matches("55%moisture").count(), 51, "no line is cut");
            text_of(&heapwright::export::pdf(&sheets).unwrap());
        }
    }
}

#[test]
fn cautions_of_the_materials_stand_first_in_the_units_read() {
    for project in demos() {
        let assessment = Assessment::of(&project, catalogue()).unwrap();
        let outcome = assessment.outcome.as_ref().unwrap();
        let place = |line: &str| {
            let mut all = outcome.cautions.iter();
            all.find(|it| it.text == line).map(|it| it.place)
        };
        let printed = assessment.cautions_in(UnitSystem::Metric);
        assert_eq!(printed.len(), outcome.cautions.len());
        let of_materials = |it: &PrintedCaution| place(&it.line) == Some(CautionPlace::Material);
        let first = printed.iter().take_while(|it| of_materials(it)).count();
        assert_eq!(first, printed.iter().filter(|it| of_materials(it)).count());
        for caution in assessment.cautions_in(UnitSystem::UsCustomary) {
            assert!(!caution.line.contains(" mm"), "{}", caution.line);
        }
    }
}

#[test]
fn a_page_of_every_demo_and_of_nothing_is_tidy() {
    let mut projects = demos();
    let mut nothing = rich_project();
    nothing.mix.ingredients.clear();
    projects.push(nothing.clone());
    nothing.mix.added_water_l = 0.0;
    projects.push(nothing);
    projects.push(rich_project());
    for project in projects {
        let assessment = Assessment::of(&project, catalogue()).unwrap();
        let cautions = [caution("Wash hands.")];
        let handout = of(&assessment, &cautions);
        let sheet = handout_sheets(&handout).remove(0);
        tidy(&sheet);
        let whole = squeezed(&sheet.texts().collect::<String>());
        if let Some(remark) = assessment.remark() {
            assert!(whole.contains(&squeezed(remark)), "{remark}: {whole}");
        }
        assert!(whole.contains("Washhands.(invented)"));
    }
}

#[test]
fn what_the_font_lacks_is_itself_in_the_text_of_the_page_and_in_plain_text() {
    let project = rich_project();
    assert!(project.title.ends_with("äöü 堆肥"));
    let assessment = Assessment::of(&project, catalogue()).unwrap();
    let handout = of(&assessment, &[]);
    let pdf = heapwright::export::handout(&handout).unwrap();
    let page = text_of(&pdf);
    // Drawn by one and the same glyph, they are told apart by readers that know replacement text; this one gives
    // the first of them for each.
    assert!(page.contains("2ndtry:äöü堆"), "{page}");
    assert!(!page.contains('?') && !page.contains('□'), "{page}");
    // The second one's replacement text (ISO 32000-1, 14.9.4), in UTF-16.
    let document = Document::load_mem(&pdf).unwrap();
    let first = document.get_pages()[&1];
    let content = document.get_page_content(first);
    let held = String::from_utf8_lossy(&content);
    assert!(held.contains("ActualText<FEFF80A5>"), "{held}");
    assert!(handout_text(&handout).starts_with(&project.title));
}

#[test]
fn us_units_stand_on_the_whole_page() {
    let project = demos().remove(0);
    let assessment = Assessment::of(&project, catalogue()).unwrap();
    let text = text_of(
        &handout(&Handout {
            units: UnitSystem::UsCustomary,
            ..of(&assessment, &[])
        })
        .unwrap(),
    );
    assert!(text.contains("°F") && !text.contains("°C") && !text.contains("kg"));
    let peak_c = assessment.projection.as_ref().unwrap().summary.peak_c;
    // degF = 9/5 degC + 32 (NIST SP 811).
    let peak = format!(
        "Itsmiddlewouldreach{:.0}°Fatmost",
        9.0 / 5.0 * peak_c + 32.0
    );
    assert!(text.contains(&peak), "{peak}: {text}");
    // 1 lb/yd3 is 0.593 276 4 kg/m3 (NIST SP 811, appendix B).
    let density = assessment.blend.gauges.unwrap().wet_bulk_density_kg_per_m3;
    let density = format!("Bulkdensity{:.0}lb/yd³", density.typical / 0.593_276_4);
    assert!(text.contains(&density), "{density}: {text}");
}

#[test]
fn an_ensemble_brings_a_band_and_its_sentence() {
    let project = demos().remove(0);
    let assessment = Assessment::of(&project, catalogue()).unwrap();
    let stop = AtomicBool::new(false);
    let assessed = heapwright::assess::Assessed::of(&project, catalogue()).unwrap();
    let forecast = ensemble(&assessed.inputs, 16, 1, &stop, |_| {}).unwrap();
    let alone = of(&assessment, &[]);
    let with = Handout {
        forecast: Some(&forecast),
        ..alone
    };
    let peak = forecast.range(|summary| summary.peak_c).unwrap();
    let sentence = format!(
        "Four in five such heaps would peak between {:.0} °C and {:.0} °C.",
        peak.low, peak.high
    );
    let pdf = handout(&with).unwrap();
    assert!(text_of(&pdf).contains(&squeezed(&sentence)));
    assert!(handout_text(&with).contains(&sentence));
    assert!(!handout_text(&alone).contains("Four in five"));
    assert_eq!(pdf, handout(&with).unwrap(), "the same page, other bytes");
    // The band is the largest area: as many points above as below.
    let widest = |handout| {
        let sheet = handout_sheets(handout).remove(0);
        let corners = sheet.marks.iter().map(|mark| match mark {
            SheetMark::Area { points, .. } => points.len(),
            _ => 0,
        });
        corners.max().unwrap()
    };
    assert!(widest(&alone) < 5);
    let records = &assessment.projection.as_ref().unwrap().records;
    let line: Vec<[f64; 2]> = records.iter().map(|r| [r.day, r.centre_c]).collect();
    let band = forecast.band(heapwright::forecast::Series::Centre);
    let drawn = band.holding(&line);
    assert!(drawn.days.len() >= band.days.len());
    assert_eq!(widest(&with), 2 * drawn.days.len());
}

#[test]
fn plain_text_leaves_nothing_out() {
    let project = crowded();
    let assessment = Assessment::of(&project, catalogue()).unwrap();
    let text = handout_text(&of(&assessment, &[caution("Mind the fork.")]));
    for name in &assessment.names {
        assert!(text.contains(name.trim()), "{name}");
    }
    assert!(text.contains("Mind the fork. (invented)"));
    assert_eq!(text.matches("turn it inside out").count(), 51);
    // 2.25 kg of a material of 200 kg/m3 are 11.25 L: a bucket of 12 L, to the nearest half.
    assert!(
        text.contains("2.25 kg, about 1 bucket: Invented own_tea"),
        "{text}"
    );
    // 15 January and 28 days: 12 February.
    assert!(
        text.contains("12 February (day 28): add 2 buckets of "),
        "{text}"
    );
}

#[test]
fn a_picture_is_twice_as_fine_as_a_screen() {
    let project = demos().remove(0);
    let assessment = Assessment::of(&project, catalogue()).unwrap();
    let projection = assessment.projection.as_ref().unwrap();
    let units = UnitSystem::Metric;
    let sheets = [
        curve_sheet(&assessment, None, units).unwrap(),
        section_sheet(projection, projection.summary.peak_day, units).unwrap(),
        handout_sheets(&of(&assessment, &[])).remove(0),
    ];
    for sheet in sheets {
        tidy_size(&sheet, &picture_png(&sheet).unwrap());
    }
}

/// 192 dots per inch: 8/3 pixels a point, 7559 a metre (1 in is 0.0254 m).
fn tidy_size(sheet: &Sheet, bytes: &[u8]) {
    let mut reader = png::Decoder::new(std::io::Cursor::new(bytes))
        .read_info()
        .unwrap();
    let dimensions = reader.info().pixel_dims.unwrap();
    assert_eq!((dimensions.xppu, dimensions.yppu), (7559, 7559));
    let mut pixels = vec![0; reader.output_buffer_size().unwrap()];
    let info = reader.next_frame(&mut pixels).unwrap();
    assert_eq!(info.width, (sheet.width * 8.0 / 3.0).ceil() as u32);
    assert_eq!(info.height, (sheet.height * 8.0 / 3.0).ceil() as u32);
    let share = |range: std::ops::RangeInclusive<u8>| {
        pixels.iter().filter(|p| range.contains(p)).count() as f64 / pixels.len() as f64
    };
    // Ink is there, and bare paper.
    assert!(share(0..=60) > 0.002, "{}", share(0..=60));
    assert!(share(240..=255) > 0.1, "{}", share(240..=255));
}

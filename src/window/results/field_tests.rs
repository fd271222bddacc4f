//! Field tests: how each is done, step by step, and what it has shown.
//!
//! In: the facts on field tests. Out: the results of the project, edited.
//!
//! Not here: what the simulation says of being finished (`outcome_list`).
//!
//! Tested by: `tests/window/results.rs`.

use eframe::egui::{CollapsingHeader, Label, RichText, TextEdit, Ui};

use crate::document::FIELD_TEST_LIMIT;
use crate::garden::TestResult;
use crate::outcome::Facts;
use crate::outcome::finish::FieldTest;
use crate::quantity::bounds;
use crate::text::outcome as words;

use crate::window::page::Page;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::named::Named;
use crate::window::widgets::quantity_field::QuantityField;

/// All tests, each to be unfolded.
pub(in crate::window) fn tests_ui(ui: &mut Ui, page: &mut Page<'_>, facts: &Facts) {
    ui.add_space(0.5 * page.look.sizes.gap);
    ui.label(strong("Tests to do by hand"));
    let tests = &facts.finish.tests;
    for test in tests {
        let done = page
            .project
            .field_tests
            .iter()
            .filter(|it| it.test == test.id)
            .count();
        let heading = match done {
            0 => test.name.clone(),
            1 => format!("{}: 1 result", test.name),
            many => format!("{}: {many} results", test.name),
        };
        CollapsingHeader::new(heading)
            .id_salt(&test.id)
            .show(ui, |ui| test_ui(ui, page, test))
            .header_response
            .on_hover_text(unbroken(format!("How to find out {}.", test.tells)));
    }
    let mut dropped = None;
    for index in 0..page.project.field_tests.len() {
        let id = &page.project.field_tests[index].test;
        if tests.iter().all(|test| test.id != *id) {
            let name = format!("of an unknown test, \"{id}\"");
            entry_ui(ui, page, (index, &name), &mut dropped);
        }
    }
    drop_entry(page, dropped);
}

fn test_ui(ui: &mut Ui, page: &mut Page<'_>, test: &FieldTest) {
    let (weak, units) = (page.look.colours.text_weak.0, page.state.settings.units);
    let (from, to) = test.days;
    ui.label(unbroken(format!(
        "Tells {}. Takes {from:.0} to {to:.0} days.",
        test.tells
    )));
    for (step, number) in test.steps.iter().zip(1..) {
        let step = words::in_units(step, units);
        ui.add(Label::new(unbroken(format!("{number}. {step}"))).wrap());
    }
    ui.label(RichText::new("What did you see? Press to record it:").color(weak));
    for (place, result) in test.results.iter().enumerate() {
        ui.horizontal_wrapped(|ui| {
            let full = page.project.field_tests.len() >= FIELD_TEST_LIMIT;
            let button = ui.add_enabled(
                !full,
                eframe::egui::Button::new(words::rise_in_units(&result.seen, units).into_owned())
                    .wrap(),
            );
            let tip = "Records this result; its day and a remark can be changed below.";
            if button.on_hover_text(unbroken(tip)).clicked() {
                page.project.field_tests.push(TestResult {
                    test: test.id.clone(),
                    day: page.project.heap.days.round(),
                    result: place,
                    note: String::new(),
                });
            }
            ui.label(unbroken(words::meaning(result, units)).color(weak));
        });
    }
    let mut dropped = None;
    for index in 0..page.project.field_tests.len() {
        let entry = &page.project.field_tests[index];
        if entry.test == test.id {
            let name = match test.results.get(entry.result) {
                Some(result) => format!(
                    "{}: {}",
                    words::rise_in_units(&result.seen, units),
                    words::meaning(result, units)
                ),
                None => "a result that this program does not know".to_owned(),
            };
            entry_ui(ui, page, (index, &name), &mut dropped);
        }
    }
    drop_entry(page, dropped);
    let source = words::field_test_source(test);
    ui.add(Label::new(unbroken(source).small().color(weak)).wrap());
}

/// A noted result: its day, what it was, a remark, and the button that drops it.
fn entry_ui(
    ui: &mut Ui,
    page: &mut Page<'_>,
    (index, name): (usize, &str),
    dropped: &mut Option<usize>,
) {
    let number = index + 1;
    let entry = &mut page.project.field_tests[index];
    ui.push_id(("field test", index), |ui| {
        ui.horizontal_wrapped(|ui| {
            QuantityField::within(&format!("Day of test result {number}"), bounds::DAY_OF_TEST)
                .hint("Day after the heap was built on which this was seen.")
                .prefix("day ")
                .speed(0.5)
                .decimals(0)
                .show(ui, &mut entry.day);
            ui.label(unbroken(name));
            ui.add(
                TextEdit::singleline(&mut entry.note)
                    .hint_text("remark")
                    .desired_width(page.look.sizes.measure_width),
            )
            .named(&format!("Remark on test result {number}"))
            .on_hover_text("Anything worth keeping with it.");
            let drop = ui
                .button("×")
                .named(&format!("Remove test result {number}"));
            if drop
                .on_hover_text("Takes this result off the list.")
                .clicked()
            {
                *dropped = Some(index);
            }
        });
    });
}

fn drop_entry(page: &mut Page<'_>, dropped: Option<usize>) {
    if let Some(index) = dropped {
        page.project.field_tests.remove(index);
    }
}

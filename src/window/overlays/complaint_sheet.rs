//! The sheet "What is wrong with my heap?": ticks above, the heap asked about below them, then causes beside cures.
//!
//! In: a page with the sheet open. Out: ticks and answers, edited; asked-for actions.
//!
//! Not here: the questions about a heap without a recipe (`complaint_questions`), the search (`jobs::complaint`),
//! words (`text::complaint`).
//!
//! Tested by: `tests/window/complaint.rs`.

use std::sync::Arc;

use eframe::egui::{Align, Button, Frame, Layout, Margin, ScrollArea, Ui, vec2};

use crate::assess::remedy::{Cure, Diagnosis, Progress};
use crate::outcome::complaint::{Ranked, Symptom};
use crate::outcome::smell::Fault;
use crate::outcome::{Facts as Tables, shared};
use crate::text::complaint as words;

use crate::window::action::Action;
use crate::window::overlays::complaint_questions::questions_ui;
use crate::window::page::Page;
use crate::window::piles::complaint_choices::{AskedHeap, ComplaintShown};
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::{action_button, styled_button};
use crate::window::widgets::sheet::{Side, sheet_ui, small_ui, two_columns_ui};

/// Share of the width that causes take.
const CAUSES_SHARE: f32 = 0.47;

/// The sheet, if it is open.
pub fn complaint_sheet_ui(ui: &mut Ui, page: &mut Page<'_>) {
    if !page.state.complaint_open {
        return;
    }
    let sizes = page.look.sizes;
    let wished = vec2(sizes.complaint_width, sizes.complaint_height);
    let leaves = sheet_ui(ui, sizes, ("complaint sheet", wished), |ui| {
        ui.horizontal(|ui| {
            ui.heading(words::HEADING);
            small_ui(ui, page, words::ASKS);
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                action_button(ui, page, Action::LeaveWrong);
                if page.state.complaint.heap == AskedHeap::Rough {
                    action_button(ui, page, Action::KeepRough);
                }
            });
        });
        symptoms_ui(ui, page);
        ui.separator();
        questions_ui(ui, page);
        ui.separator();
        answer_ui(ui, page);
    });
    if leaves {
        page.ask(Action::LeaveWrong);
    }
}

/// Ticks, in columns by what they are about.
fn symptoms_ui(ui: &mut Ui, page: &mut Page<'_>) {
    // Headings that share a column: smell is short.
    let columns: [&[&str]; 4] = [&["Heat"], &["Smell", "Feel"], &["Guests"], &["Later on"]];
    ui.columns(columns.len(), |uis| {
        for (ui, groups) in uis.iter_mut().zip(columns) {
            ui.spacing_mut().item_spacing.y = 1.0;
            ui.spacing_mut().interact_size.y = page.look.sizes.tick_row;
            for group in groups {
                ui.label(strong(*group));
                let of_group = |it: &Symptom| words::symptom_group(*it) == *group;
                for symptom in Symptom::ALL.into_iter().filter(of_group) {
                    let mut ticked = page.state.complaint.has(symptom);
                    if ui.checkbox(&mut ticked, words::symptom(symptom)).changed() {
                        page.state.complaint.tick(symptom);
                    }
                }
            }
        }
    });
}

fn answer_ui(ui: &mut Ui, page: &mut Page<'_>) {
    match page.shown.complaint.clone() {
        ComplaintShown::Nothing => {}
        ComplaintShown::Problem(problem) => {
            ui.colored_label(page.look.colours.bad.0, unbroken(problem));
        }
        ComplaintShown::Found(found) => {
            let Ok(tables) = shared() else { return };
            found_ui(ui, page, &found, tables);
        }
    }
}

fn found_ui(ui: &mut Ui, page: &mut Page<'_>, found: &Arc<Diagnosis>, tables: &Tables) {
    let sizes = page.look.sizes;
    two_columns_ui(ui, sizes, CAUSES_SHARE, |ui, side| {
        let scroll = ScrollArea::vertical().auto_shrink([false, false]);
        match side {
            Side::Left => scroll
                .id_salt("causes")
                .show(ui, |ui| causes_ui(ui, page, found, tables)),
            Side::Right => scroll
                .id_salt("cures")
                .show(ui, |ui| cures_ui(ui, page, found, tables)),
        };
    });
}

fn causes_ui(ui: &mut Ui, page: &Page<'_>, found: &Diagnosis, tables: &Tables) {
    ui.label(strong(words::CAUSES));
    if found.progress == Progress::Read {
        small_ui(ui, page, words::TRYING);
    }
    for said in words::readings_taken(found, page.state.settings.units) {
        small_ui(ui, page, &said);
    }
    if !found.not_shown.is_empty() {
        ui.colored_label(
            page.look.colours.near.0,
            unbroken(words::not_as_written(found)),
        );
    }
    if found.told().next().is_none() {
        ui.label(words::NONE_HOLDS);
        for fault in found.rows(tables) {
            row_ui(ui, page, fault);
        }
    }
    for ranked in found.told() {
        cause_ui(ui, page, found, ranked, tables);
    }
}

fn cause_ui(ui: &mut Ui, page: &Page<'_>, found: &Diagnosis, ranked: &Ranked, tables: &Tables) {
    let units = page.state.settings.units;
    card(page).show(ui, |ui| {
        ui.set_width(ui.available_width());
        ui.horizontal_wrapped(|ui| {
            ui.label(strong(words::cause(ranked.cause)));
            small_ui(ui, page, words::grade(ranked));
            if found.symptoms.len() > 1 {
                small_ui(ui, page, &words::explains(ranked));
            }
        });
        let why = words::why(ranked, units);
        if !why.is_empty() {
            ui.label(unbroken(format!("{why}.")));
        }
        if let Some(known) = words::how_known(ranked, units) {
            ui.label(unbroken(known));
        }
        if let Some(fault) = found.fault(ranked, tables) {
            row_ui(ui, page, fault);
        }
    });
}

/// How to check a row of the table, and what is usual.
fn row_ui(ui: &mut Ui, page: &Page<'_>, fault: &Fault) {
    let weak = page.look.colours.text_weak.0;
    ui.label(unbroken(words::row_said(fault)).small().color(weak))
        .on_hover_text(unbroken(words::row_source(fault)));
}

fn cures_ui(ui: &mut Ui, page: &mut Page<'_>, found: &Arc<Diagnosis>, tables: &Tables) {
    ui.label(strong(words::CURES));
    match found.progress {
        Progress::Read => {
            ui.spinner();
        }
        Progress::Curing(done, all) if done < all => {
            ui.horizontal(|ui| {
                ui.spinner();
                small_ui(ui, page, &words::curing(done, all));
            });
        }
        Progress::Curing(..) | Progress::Done => {
            if found.cures.is_empty() {
                ui.label(words::NO_CURE);
            }
        }
    }
    let best = found.best_cure();
    let place = |cure: &Cure| found.cures.iter().position(|one| one == cure);
    let others = found.cures.iter().filter(|cure| Some(*cure) != best);
    for cure in best.into_iter().chain(others) {
        if let Some(place) = place(cure) {
            cure_ui(ui, page, cure, place, best == Some(cure));
        }
    }
    if !found.cures.is_empty() {
        small_ui(ui, page, words::simulated_as(found));
    }
    for beware in found.beware(tables) {
        ui.colored_label(page.look.colours.near.0, unbroken(words::beware(beware)));
        small_ui(ui, page, &words::beware_source(beware));
    }
}

fn cure_ui(ui: &mut Ui, page: &mut Page<'_>, cure: &Cure, place: usize, first: bool) {
    let units = page.state.settings.units;
    card(page).show(ui, |ui| {
        ui.set_width(ui.available_width());
        let text = words::cure(cure, page.catalogue, units);
        if first {
            ui.label(strong(text));
        } else {
            ui.label(unbroken(text));
        }
        for line in words::expected_lines(cure, units) {
            ui.label(unbroken(line));
        }
        ui.horizontal_wrapped(|ui| {
            if page.state.complaint.heap == AskedHeap::Recipe {
                let action = Action::TakeCure(place);
                let label = words::take_cure(place);
                styled_button(ui, page, action, Button::new(words::TAKE_CURE), &label);
            }
            small_ui(ui, page, &words::for_what(cure));
        });
    });
}

fn card(page: &Page<'_>) -> Frame {
    let sizes = page.look.sizes;
    Frame::new()
        .fill(page.look.colours.ground.0)
        .corner_radius(sizes.card_radius)
        .inner_margin(Margin::symmetric(sizes.pad, sizes.pad / 2))
}

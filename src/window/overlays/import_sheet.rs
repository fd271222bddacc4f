//! The sheet that imports a logger's file: how it is understood at the left, what would be taken of it at the right.
//!
//! In: a page with the sheet open. Out: choices, edited; asked-for actions.
//!
//! Not here: the rows at the right (`import_rows`), reading (`jobs::importing`), words (`text::logger`).
//!
//! Tested by: `tests/window/import.rs`.

use std::sync::Arc;

use eframe::egui::{Align, ComboBox, Grid, Layout, RichText, ScrollArea, TextEdit, Ui, vec2};
use jiff::civil::DateTime;
use jiff::tz::TimeZone;

use crate::diary::import::{
    Clock, ColumnUse, DateOrder, DecimalSign, Delimiter, Encoding, Guess, How, Import, Keep, Probe,
    Spikes, Understood, Unit,
};
use crate::text::diary::moment;
use crate::text::logger as words;

use crate::window::action::Action;
use crate::window::overlays::import_rows::rows_ui;
use crate::window::page::Page;
use crate::window::piles::import_choices::ImportSheet;
use crate::window::theme::strong;
use crate::window::widgets::buttons::action_button;
use crate::window::widgets::named::Named;
use crate::window::widgets::sheet::{Side, sheet_ui, small_ui, two_columns_ui};

/// Share of the width that the choices take.
const CHOICES_SHARE: f32 = 0.47;

/// The sheet, if it is open.
pub fn import_sheet_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let Some(mut open) = page.state.import_sheet.take() else {
        return;
    };
    let sizes = page.look.sizes;
    let wished = vec2(sizes.complaint_width, sizes.complaint_height);
    let leaves = sheet_ui(ui, sizes, ("import sheet", wished), |ui| {
        ui.horizontal(|ui| {
            ui.heading(words::HEADING);
            let name = open.path.file_name().unwrap_or_default();
            small_ui(ui, page, &name.to_string_lossy());
            ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                let leave = action_button(ui, page, Action::LeaveImport);
                action_button(ui, page, Action::TakeReadings);
                if !open.focused {
                    open.focused = true;
                    leave.request_focus();
                }
                if page.shown.import.busy {
                    ui.spinner();
                }
            });
        });
        ui.separator();
        body_ui(ui, page, &mut open);
    });
    if leaves {
        page.ask(Action::LeaveImport);
    }
    page.state.import_sheet = Some(open);
}

fn body_ui(ui: &mut Ui, page: &Page<'_>, open: &mut ImportSheet) {
    if let Some(problem) = &page.shown.import.problem {
        ui.colored_label(page.look.colours.bad.0, crate::text::sentence(problem));
    }
    let Some(found) = page.shown.import.found.clone() else {
        if page.shown.import.problem.is_none() {
            ui.label(words::READING);
        }
        return;
    };
    let sizes = page.look.sizes;
    two_columns_ui(ui, sizes, CHOICES_SHARE, |ui, side| {
        let scroll = ScrollArea::both().auto_shrink([false, false]);
        match side {
            Side::Left => scroll
                .id_salt("understood")
                .show(ui, |ui| understood_ui(ui, page, open, &found)),
            Side::Right => scroll
                .id_salt("rows")
                .show(ui, |ui| rows_ui(ui, page, &found)),
        };
    });
}

/// How a guess was come by; what is only assumed stands out.
fn how_ui(ui: &mut Ui, page: &Page<'_>, how: How, text: &str) {
    let colours = &page.look.colours;
    let colour = match how {
        How::Assumed => colours.near.0,
        _ => colours.text_weak.0,
    };
    ui.label(RichText::new(text).small().color(colour));
}

/// One of several, known by `name`; the one picked, if it is another.
fn pick_ui<T: Copy + PartialEq>(
    ui: &mut Ui,
    name: &str,
    now: T,
    all: &[T],
    word: impl Fn(T) -> &'static str,
) -> Option<T> {
    let mut picked = now;
    ComboBox::from_id_salt(name)
        .selected_text(word(now))
        .show_ui(ui, |ui| {
            for choice in all {
                ui.selectable_value(&mut picked, *choice, word(*choice));
            }
        })
        .response
        .named(name);
    (picked != now).then_some(picked)
}

fn understood_ui(ui: &mut Ui, page: &Page<'_>, open: &mut ImportSheet, found: &Arc<Import>) {
    let it = &found.understood;
    ui.label(strong(words::UNDERSTOOD));
    Grid::new("understood").num_columns(3).show(ui, |ui| {
        writing_ui(ui, page, open, it);
        moment_rows_ui(ui, page, open, it, found);
        if let Some(imported) = &found.imported {
            ui.label(words::choice::KEEP);
            let keep = imported.keep.value;
            let picked = pick_ui(ui, words::choice::KEEP, keep, &Keep::ALL, words::keep);
            open.choices.keep = picked.or(open.choices.keep);
            ui.end_row();
            ui.label(words::choice::SPIKES);
            let spikes = &mut open.choices.spikes;
            let both = [Spikes::LeftOut, Spikes::Taken];
            let picked = pick_ui(ui, words::choice::SPIKES, *spikes, &both, words::spikes);
            *spikes = picked.unwrap_or(*spikes);
            ui.end_row();
        }
    });
    let remarks = words::remarks(it);
    if !remarks.is_empty() {
        small_ui(ui, page, &remarks);
    }
    ui.add_space(page.look.sizes.gap);
    probes_ui(ui, page, open, &it.probes);
    ui.add_space(page.look.sizes.gap);
    columns_ui(ui, page, open, it);
}

/// Name, choice and how it was found out, in one row.
fn row_ui<T: Copy + PartialEq>(
    ui: &mut Ui,
    page: &Page<'_>,
    name: &str,
    now: Guess<T>,
    all: &[T],
    word: impl Fn(T) -> &'static str,
) -> Option<T> {
    ui.label(name);
    let picked = pick_ui(ui, name, now.value, all, word);
    how_ui(ui, page, now.how, words::how(now.how));
    ui.end_row();
    picked
}

fn writing_ui(ui: &mut Ui, page: &Page<'_>, open: &mut ImportSheet, it: &Understood) {
    use words::choice as name;
    let choices = &mut open.choices;
    let all = Encoding::ALL;
    let picked = row_ui(ui, page, name::ENCODING, it.encoding, &all, words::encoding);
    choices.encoding = picked.or(choices.encoding);
    let all = Delimiter::ALL;
    let picked = row_ui(
        ui,
        page,
        name::DELIMITER,
        it.delimiter,
        &all,
        words::delimiter,
    );
    if picked.is_some() {
        // Other columns: what was chosen of the old ones means nothing.
        choices.delimiter = picked;
        choices.columns.clear();
        choices.probes.clear();
    }
    let all = DecimalSign::ALL;
    let picked = row_ui(ui, page, name::DECIMAL, it.decimal, &all, words::decimal);
    choices.decimal = picked.or(choices.decimal);
    if let Some(probe) = it.probes.first() {
        let picked = row_ui(ui, page, name::UNIT, probe.unit, &Unit::ALL, words::unit);
        choices.unit = picked.or(choices.unit);
    }
}

fn moment_rows_ui(
    ui: &mut Ui,
    page: &Page<'_>,
    open: &mut ImportSheet,
    it: &Understood,
    found: &Import,
) {
    use words::choice as name;
    if let Some(order) = it.order {
        ui.label(name::ORDER);
        let picked = pick_ui(ui, name::ORDER, order.value, &DateOrder::ALL, words::order);
        open.choices.order = picked.or(open.choices.order);
        how_ui(ui, page, order.how, words::how_order(order.how));
        ui.end_row();
    }
    let sizes = page.look.sizes;
    let field = vec2(sizes.measure_width * 1.5, sizes.control_height);
    ui.label(name::ZONE);
    ui.add_sized(
        field,
        TextEdit::singleline(&mut open.zone).hint_text(name::ZONE_HINT),
    )
    .named(name::ZONE)
    .on_hover_text(name::ZONE_TIP);
    match open.zone.trim() {
        "" => open.choices.clock = Clock::AtHeap,
        zone if TimeZone::get(zone).is_ok() => open.choices.clock = Clock::Zone(zone.to_owned()),
        _ => {
            ui.colored_label(page.look.colours.near.0, name::NO_ZONE);
        }
    }
    ui.end_row();
    ui.label(name::BUILT);
    if page.project.diary.built.is_some() {
        // What the diary says already holds for every file.
        ui.label(open.choices.built.map_or_else(String::new, moment));
        ui.end_row();
        return;
    }
    let proposed = found.imported.as_ref().map(|imported| imported.built.value);
    let hint = proposed.map_or_else(String::new, |at| at.strftime("%Y-%m-%d %H:%M").to_string());
    ui.add_sized(field, TextEdit::singleline(&mut open.built).hint_text(hint))
        .named(name::BUILT)
        .on_hover_text(name::BUILT_TIP);
    match (open.built.trim(), open.built.trim().parse::<DateTime>()) {
        ("", _) => {
            open.choices.built = None;
            small_ui(ui, page, words::FIRST_ROW);
        }
        (_, Ok(at)) => open.choices.built = Some(at),
        (_, Err(_)) => {
            ui.colored_label(page.look.colours.near.0, name::NO_MOMENT);
        }
    }
    ui.end_row();
}

fn probes_ui(ui: &mut Ui, page: &Page<'_>, open: &mut ImportSheet, probes: &[Probe]) {
    if probes.is_empty() {
        return;
    }
    ui.label(strong(words::PROBES));
    Grid::new("probes").num_columns(4).show(ui, |ui| {
        for probe in probes {
            let mut choice = open
                .choices
                .probes
                .get(&probe.key)
                .cloned()
                .unwrap_or_default();
            let before = choice.clone();
            let mut taken = !choice.left_out;
            ui.checkbox(&mut taken, "")
                .named(&words::take_probe(&probe.key));
            choice.left_out = !taken;
            let mut name = choice.name.clone().unwrap_or_else(|| probe.key.clone());
            let sizes = page.look.sizes;
            let size = vec2(sizes.measure_width * 1.2, sizes.control_height);
            let field = TextEdit::singleline(&mut name).char_limit(words::NAME_LIMIT);
            let edited = ui.add_sized(size, field);
            if edited.named(&words::name_of_probe(&probe.key)).changed() {
                let other = name.trim() != probe.key && !name.trim().is_empty();
                choice.name = other.then_some(name);
            }
            let label = words::place_of_probe(&probe.key);
            ComboBox::from_id_salt(&label)
                .selected_text(words::place(probe.place.value))
                .show_ui(ui, |ui| {
                    for (name, place) in words::PLACES {
                        let now = words::place(probe.place.value) == name;
                        if ui.selectable_label(now, name).clicked() {
                            choice.place = Some(place);
                        }
                    }
                })
                .response
                .named(&label);
            how_ui(ui, page, probe.place.how, words::how(probe.place.how));
            ui.end_row();
            if choice != before {
                open.choices.probes.insert(probe.key.clone(), choice);
            }
        }
    });
}

fn columns_ui(ui: &mut Ui, page: &Page<'_>, open: &mut ImportSheet, it: &Understood) {
    ui.label(strong(words::COLUMNS));
    Grid::new("columns").num_columns(3).show(ui, |ui| {
        for (at, column) in it.columns.iter().enumerate() {
            let name = words::column(at, &column.heading);
            ui.label(&name);
            let label = words::use_of_column(at);
            let now = column.holds.value;
            if let Some(picked) = pick_ui(ui, &label, now, &ColumnUse::ALL, words::column_use) {
                open.choices.columns.insert(at, picked);
            }
            small_ui(ui, page, &column.examples.join("   "));
            ui.end_row();
        }
    });
}

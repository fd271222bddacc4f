//! What would be taken of a logger's file: the first rows, what looks odd, which rows are bad.
//!
//! In: an import. Out: drawn rows.
//!
//! Not here: the choices beside it (`import_sheet`), words (`text::logger`).
//!
//! Tested by: `tests/window/import.rs`.

use eframe::egui::{Grid, RichText, Ui};

use crate::diary::import::{Import, Imported};
use crate::text::diary::moment;
use crate::text::logger as words;

use crate::window::page::Page;
use crate::window::theme::strong;

/// Bad rows and flags listed on screen.
const LISTED: usize = 60;

/// The right-hand side of the sheet.
pub fn rows_ui(ui: &mut Ui, page: &Page<'_>, found: &Import) {
    if let Some(lack) = found.understood.lack {
        ui.colored_label(page.look.colours.near.0, words::lack(lack));
    }
    let Some(imported) = &found.imported else {
        return;
    };
    ui.label(words::rows(imported));
    let units = page.state.settings.units;
    if !imported.first.is_empty() {
        ui.add_space(page.look.sizes.gap);
        first_ui(ui, page, imported);
    }
    // Where all rows are refused, nothing was looked at that could be odd.
    if !(imported.first.is_empty() && imported.flags.is_empty()) {
        ui.add_space(page.look.sizes.gap);
        ui.label(strong(words::ODD));
        if imported.flags.is_empty() {
            ui.label(words::NOTHING_ODD);
        }
        let flags = imported.flags.iter();
        let lines = flags.map(|flag| words::flag(flag, imported, units));
        lines_ui(ui, page, lines, imported.flags.len() + imported.more_flags);
    }
    if imported.rows.bad > 0 {
        ui.add_space(page.look.sizes.gap);
        ui.label(strong(words::BAD_ROWS));
        let rows = imported.bad.iter();
        let lines = rows.map(|row| words::bad_row(row, imported, units));
        lines_ui(ui, page, lines, imported.rows.bad);
    }
}

/// The first of some lines, and how many there are beyond.
fn lines_ui(ui: &mut Ui, page: &Page<'_>, lines: impl Iterator<Item = String>, all: usize) {
    let mut listed = 0;
    for line in lines.take(LISTED) {
        ui.label(line);
        listed += 1;
    }
    if all > listed {
        let weak = page.look.colours.text_weak.0;
        ui.label(RichText::new(words::and_more(all - listed)).color(weak));
    }
}

fn first_ui(ui: &mut Ui, page: &Page<'_>, imported: &Imported) {
    let units = page.state.settings.units;
    ui.label(strong(words::FIRST_ROWS));
    let shown: Vec<usize> = (0..imported.probes.len())
        .filter(|at| !imported.probes[*at].left_out)
        .collect();
    Grid::new("first rows").striped(true).show(ui, |ui| {
        ui.label(strong(words::LINE));
        ui.label(strong(words::WHEN));
        for at in &shown {
            ui.label(strong(&imported.probes[*at].name));
        }
        ui.end_row();
        for row in &imported.first {
            ui.label(row.line.to_string());
            ui.label(moment(row.at));
            for at in &shown {
                let value = row.temperatures_c.get(*at).copied().flatten();
                ui.label(value.map_or_else(
                    || words::NO_READING.to_owned(),
                    |value| words::reading(value, units),
                ));
            }
            ui.end_row();
        }
    });
}

//! Two recipes side by side: what differs in a table, the heat of both in one plot.
//!
//! In: both as far as they are calculated. Out: asked-for actions.
//!
//! Not here: what differs (`text::compare`), the plot (`two_curves`).
//!
//! Tested by: `tests/window/recipes.rs`.

use eframe::egui::{Align, Layout, Rect, ScrollArea, Spinner, Ui, pos2, vec2};

use crate::text::compare::{Compared, Section, sections};
use crate::text::recipes as words;

use crate::window::action::Action;
use crate::window::page::Page;
use crate::window::piles::recipe_cards::ComparedSide;
use crate::window::recipes::two_curves::{TwoCurves, key_ui};
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::action_button;
use crate::window::widgets::card::card;

/// Share of the width that the table has.
const TABLE_SHARE: f32 = 0.52;
/// Share of the table's width that names of rows have.
const NAME_SHARE: f32 = 0.24;

/// The whole page.
pub(super) fn compare_ui(ui: &mut Ui, page: &mut Page<'_>, back: Action) {
    ui.horizontal(|ui| {
        ui.heading("Side by side");
        action_button(ui, page, back);
        if page.shown.compared.busy && page.shown.compared.problem().is_none() {
            ui.add(Spinner::new());
            ui.label(words::WAITING);
        }
    });
    if let Some(problem) = page.shown.compared.problem() {
        ui.colored_label(page.look.colours.bad.0, unbroken(problem));
        return;
    }
    let Some(both) = page.shown.compared.both() else {
        return;
    };
    let both = both.map(ComparedSide::clone);
    let whole = ui.available_rect_before_wrap();
    let gap = page.look.sizes.gap;
    let split = whole.left() + TABLE_SHARE * whole.width();
    card(ui, whole.with_max_x(split), page.look, |ui| {
        table_ui(ui, page, &both);
    });
    let right = Rect::from_min_max(pos2(split + gap, whole.top()), whole.max);
    card(ui, right, page.look, |ui| {
        let titles = titles(&both);
        key_ui(ui, [&titles[0], &titles[1]], page.look);
        ui.add_space(page.look.sizes.gap);
        TwoCurves {
            curves: both.each_ref().map(|side| &side.curve),
            read_c: both.each_ref().map(|side| side.read_c.as_slice()),
            titles: titles.each_ref().map(String::as_str),
            days: both
                .iter()
                .map(|side| side.of.project.heap.days)
                .fold(1.0, f64::max),
            units: page.state.settings.units,
            look: page.look,
        }
        .show(ui);
    });
}

fn titles(both: &[ComparedSide; 2]) -> [String; 2] {
    both.each_ref()
        .map(|side| words::shown_title(&side.of.project.title).to_owned())
}

/// What differs, section by section, and what does not in one line each.
fn table_ui(ui: &mut Ui, page: &Page<'_>, both: &[ComparedSide; 2]) {
    let compared = both.each_ref().map(|side| Compared {
        project: &side.of.project,
        assessed: &side.of.assessed,
    });
    let units = page.state.settings.units;
    let sections = sections(compared, page.catalogue, units);
    let titles = titles(both);
    row_ui(ui, page, ["", &titles[0], &titles[1]], true);
    ui.separator();
    ScrollArea::vertical()
        .auto_shrink([false, false])
        .show(ui, |ui| {
            for section in &sections {
                section_ui(ui, page, section);
            }
        });
}

fn section_ui(ui: &mut Ui, page: &Page<'_>, section: &Section) {
    ui.label(strong(section.heading).size(page.look.sizes.body * 1.1));
    for row in &section.rows {
        row_ui(ui, page, [&row.what, &row.both[0], &row.both[1]], false);
    }
    if let Some(same) = section.same_told() {
        let weak = page.look.colours.text_weak.0;
        ui.label(unbroken(same).small().color(weak));
    }
    ui.separator();
}

/// A name and what it is in both, each in a column of its own.
fn row_ui(ui: &mut Ui, page: &Page<'_>, cells: [&str; 3], heading: bool) {
    let gap = page.look.sizes.gap;
    let whole = ui.available_width() - 2.0 * gap;
    let name = NAME_SHARE * whole;
    let side = 0.5 * (whole - name);
    ui.horizontal_top(|ui| {
        ui.spacing_mut().item_spacing.x = gap;
        for (place, (cell, width)) in cells.into_iter().zip([name, side, side]).enumerate() {
            let layout = Layout::top_down(Align::Min);
            ui.allocate_ui_with_layout(vec2(width, 0.0), layout, |ui| {
                ui.set_width(width);
                let text = if heading {
                    strong(cell)
                } else if place == 0 {
                    unbroken(cell).color(page.look.colours.text_weak.0)
                } else {
                    unbroken(cell)
                };
                ui.label(text);
            });
        }
    });
}

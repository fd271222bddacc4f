//! The picker: find a material by words and add it, by keyboard or pointer.
//!
//! In: the catalogue, what is typed. Out: the asked-for material.
//!
//! Not here: the search itself (`material::Catalogue::search`).
//!
//! Tested by: `tests/window/picker.rs`.

use eframe::egui::{
    self, Align, Id, Key, Layout, Modal, Modifiers, Response, RichText, ScrollArea, TextEdit, Ui,
    vec2,
};

use crate::material::{Browse, Family, Material, Side};
use crate::text::material as material_words;
use crate::text::material::Whose;

use crate::window::action::{Action, DiaryAction, YearAction};
use crate::window::page::Page;
use crate::window::piles::choices::{Destination, PickerState};
use crate::window::theme::{Look, sheet, strong, unbroken};
use crate::window::widgets::keep_out::keep_out_ui;
use crate::window::widgets::named::Named;

/// Name of the search field.
pub const SEARCH: &str = "Search materials";

/// The picker, if it is open.
pub fn picker_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let Some(mut picker) = page.state.picker.take() else {
        return;
    };
    let mut chosen: Option<String> = None;
    let mut cancelled = false;
    let modal = Modal::new(Id::unique("material picker"))
        .frame(sheet(ui, page.look.sizes))
        .show(ui.ctx(), |ui| {
            ui.set_width(page.look.sizes.picker_width);
            let of_year = page.year.open.as_ref();
            let of_year = of_year.filter(|_| picker.destination == Destination::Year);
            let catalogue = of_year.map_or(page.catalogue, |open| &open.catalogue);
            // In families while nothing is typed, then what fits best first.
            let browse = Browse {
                words: picker.query.clone(),
                ..Browse::default()
            };
            let found = browse.find(catalogue, material_words::family);
            let moved = keys(ui, &mut picker, found.len());
            if moved.enter {
                chosen = found.get(picker.chosen).map(|material| material.id.clone());
            }
            ui.horizontal(|ui| {
                ui.heading("Add material");
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    cancelled = ui
                        .button("Close")
                        .on_hover_text("Closes the list without adding anything (Esc).")
                        .clicked();
                });
            });
            search_ui(ui, &mut picker);
            ui.label(
                RichText::new("Type a few letters; arrows choose, Enter adds.")
                    .small()
                    .color(page.look.colours.text_weak.0),
            );
            keep_out_ui(ui, page, &picker.query);
            list_ui(ui, page, &found, &picker, moved.by_arrow, &mut chosen);
        });
    if let Some(id) = chosen {
        page.ask(match picker.destination {
            Destination::Mix => Action::AddMaterial(id),
            Destination::Plan => Action::AddToPlan(None, id),
            Destination::Entry(entry) => Action::AddToPlan(Some(entry), id),
            Destination::Happened => Action::Diary(DiaryAction::Added(id)),
            Destination::Year => Action::Year(YearAction::AddArrival(id)),
        });
    } else if !modal.should_close() && !cancelled {
        page.state.picker = Some(picker);
    }
}

/// What the keyboard did.
struct Moved {
    by_arrow: bool,
    enter: bool,
}

/// Takes arrows and Enter before the text field sees them.
fn keys(ui: &Ui, picker: &mut PickerState, count: usize) -> Moved {
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    let last = count.saturating_sub(1);
    let (down, up, enter) = (
        pressed(Key::ArrowDown),
        pressed(Key::ArrowUp),
        pressed(Key::Enter),
    );
    if down {
        picker.chosen = (picker.chosen + 1).min(last);
    }
    if up {
        picker.chosen = picker.chosen.saturating_sub(1);
    }
    picker.chosen = picker.chosen.min(last);
    Moved {
        by_arrow: down || up,
        enter,
    }
}

fn search_ui(ui: &mut Ui, picker: &mut PickerState) {
    let field = ui
        .add(
            TextEdit::singleline(&mut picker.query)
                .hint_text("leaves, grass, kitchen …")
                .desired_width(f32::INFINITY),
        )
        .named(SEARCH)
        .on_hover_text("Any word for it: lawn clippings, cow muck, teabags.");
    if !picker.focused {
        picker.focused = true;
        field.request_focus();
    }
    if field.changed() {
        picker.chosen = 0;
    }
}

/// One line of the list.
enum Line<'a> {
    /// The family of those below.
    Family(Family),
    /// A material, with its place among those found.
    Material(usize, &'a Material),
}

/// What was found, under the names of families while nothing is typed.
fn lines<'a>(found: &[&'a Material], query: &str) -> Vec<Line<'a>> {
    let in_families = query.trim().is_empty();
    let mut lines = Vec::with_capacity(found.len() + Family::ALL.len());
    let mut family = None;
    for (place, material) in found.iter().enumerate() {
        if in_families && family != Some(material.family) {
            family = Some(material.family);
            lines.push(Line::Family(material.family));
        }
        lines.push(Line::Material(place, material));
    }
    lines
}

/// The lines that are in sight.
fn list_ui(
    ui: &mut Ui,
    page: &Page<'_>,
    found: &[&Material],
    picker: &PickerState,
    show_chosen: bool,
    chosen: &mut Option<String>,
) {
    let look = page.look;
    let height = look
        .sizes
        .picker_height
        .min(ui.ctx().content_rect().height() * 0.55);
    let lines = lines(found, &picker.query);
    let line_height = look.sizes.control_height;
    let mut area = ScrollArea::vertical()
        .max_height(height)
        .min_scrolled_height(height)
        .auto_shrink([false, false]);
    let is_chosen = |line: &Line<'_>| matches!(line, Line::Material(at, _) if *at == picker.chosen);
    if let (true, Some(place)) = (show_chosen, lines.iter().position(is_chosen)) {
        let top = place as f32 * (line_height + ui.spacing().item_spacing.y);
        let middle = 0.5 * (height - line_height);
        area = area.vertical_scroll_offset((top - middle).max(0.0));
    }
    if lines.is_empty() {
        area.show(ui, |ui| ui.label(material_words::NOTHING_FOUND));
        return;
    }
    area.show_rows(ui, line_height, lines.len(), |ui, seen| {
        for line in lines.get(seen).unwrap_or_default() {
            let size = vec2(ui.available_width(), line_height);
            match *line {
                Line::Family(family) => {
                    let low = Layout::left_to_right(Align::Max);
                    ui.allocate_ui_with_layout(size, low, |ui| {
                        let name = strong(material_words::family(family));
                        ui.label(name.color(look.colours.text_weak.0));
                    });
                }
                Line::Material(place, material) => {
                    if entry_ui(ui, page, material, place == picker.chosen).clicked() {
                        *chosen = Some(material.id.clone());
                    }
                }
            }
        }
    });
}

/// One material on one line: name, green or brown in words, C:N and moisture.
fn entry_ui(ui: &mut Ui, page: &Page<'_>, material: &Material, chosen: bool) -> Response {
    let look = page.look;
    let side = material.side();
    let (word, colour) = (material_words::side_short(side), side_colour(side, look));
    let facts = material_words::list_facts(material, Whose::Listed);
    let button = egui::Button::selectable(chosen, material.name.as_str())
        .right_text(unbroken(facts).small().color(colour))
        .truncate();
    let size = vec2(ui.available_width(), look.sizes.control_height);
    ui.add_sized(size, button)
        .named(&format!("{}, {word}", material.name))
        .on_hover_ui(|ui| {
            let units = page.state.settings.units;
            ui.label(unbroken(material_words::tooltip(
                material,
                page.catalogue,
                units,
            )));
        })
}

/// Colour of what gardeners call a material.
fn side_colour(side: Side, look: Look<'_>) -> egui::Color32 {
    match side {
        Side::Green => look.colours.good.0,
        Side::Brown => look.colours.near.0,
        Side::Neither => look.colours.text_weak.0,
    }
}

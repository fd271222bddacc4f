//! Where heaps can stand: a row for each bay; the room to store, the first month, the bands.
//!
//! In: the open year. Out: the same, edited; asked-for actions.
//!
//! Not here: adding, removing and naming a bay (`verbs::year`), when a bay is taken (`line`).
//!
//! Tested by: `tests/window/year_plan.rs`.

use eframe::egui::{
    Align2, Button, ComboBox, Grid, PopupCloseBehavior, ScrollArea, TextEdit, Ui, vec2,
};

use crate::document::NAME_LIMIT;
use crate::quantity::{CUBIC_METRE_PER_LITRE, bounds};
use crate::text::date::MONTHS;
use crate::text::mix::name_of;
use crate::text::year_page as words;
use crate::year::{BandPart, Bay, Year};

use crate::window::action::{Action, YearAction};
use crate::window::page::Page;
use crate::window::piles::year_desk::OpenYear;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::{action_button, styled_button};
use crate::window::widgets::named::Named;
use crate::window::widgets::quantity_field::{QuantityField, ShownUnit};

/// Width of a bay's name, as a share of that of a measure.
const NAME_WIDTH: f32 = 1.5;

/// The whole part.
pub(in crate::window) fn bays_ui(ui: &mut Ui, page: &mut Page<'_>, open: &mut OpenYear) {
    ScrollArea::both()
        .auto_shrink([false, false])
        .show(ui, |ui| {
            whole_ui(ui, page, &mut open.file.year);
            ui.separator();
            ui.horizontal(|ui| {
                action_button(ui, page, Action::Year(YearAction::AddBay));
                if open.file.year.bays.is_empty() {
                    ui.label(unbroken(words::NO_BAY));
                } else {
                    ui.weak(unbroken(words::BAYS_TIP));
                }
            });
            let gap = page.look.sizes.gap;
            Grid::new("bays")
                .spacing(vec2(gap, 0.5 * gap))
                .striped(true)
                .show(ui, |ui| {
                    if !open.file.year.bays.is_empty() {
                        for head in words::BAY_HEADS {
                            ui.label(strong(head));
                        }
                        ui.end_row();
                    }
                    for place in 0..open.file.year.bays.len() {
                        bay_ui(ui, page, open, place);
                        ui.end_row();
                    }
                });
        });
}

/// What is said of the whole year.
fn whole_ui(ui: &mut Ui, page: &Page<'_>, year: &mut Year) {
    ui.horizontal_wrapped(|ui| {
        ui.label(words::BEGINS_IN);
        month_ui(ui, "First month of the plan", &mut year.first_month);
        ui.add_space(page.look.sizes.gap);
        ui.label(words::STORE_ROOM);
        room_ui(
            ui,
            page,
            (words::STORE_ROOM, bounds::STORE_ROOM.high),
            &mut year.storage_m3,
        );
        ui.add_space(page.look.sizes.gap);
        ui.label(words::HEAPS_LIE_IN);
        ComboBox::from_id_salt("part")
            .selected_text(words::part(year.part))
            .width(2.0 * page.look.sizes.measure_width)
            .show_ui(ui, |ui| {
                for part in [BandPart::Best, BandPart::Works] {
                    ui.selectable_value(&mut year.part, part, words::part(part));
                }
            })
            .response
            .named(words::HEAPS_LIE_IN)
            .on_hover_text(words::PART_TIP);
    });
}

/// A room in litres, or the unit shown for them.
fn room_ui(ui: &mut Ui, page: &Page<'_>, (name, most_m3): (&str, f64), room_m3: &mut f64) {
    let mut litres = *room_m3 / CUBIC_METRE_PER_LITRE;
    let before = litres;
    QuantityField::new(name, 0.0, most_m3 / CUBIC_METRE_PER_LITRE)
        .unit(ShownUnit::litres(page.state.settings.units))
        .speed(5.0)
        .decimals(0)
        .width(1.5 * page.look.sizes.value_width)
        .show(ui, &mut litres);
    if litres != before {
        *room_m3 = litres * CUBIC_METRE_PER_LITRE;
    }
}

fn month_ui(ui: &mut Ui, name: &str, month: &mut u8) {
    let shown = MONTHS[usize::from((*month).clamp(1, 12)) - 1];
    ComboBox::from_id_salt(name)
        .selected_text(shown)
        .show_ui(ui, |ui| {
            for (number, said) in (1..).zip(MONTHS) {
                ui.selectable_value(month, number, said);
            }
        })
        .response
        .named(name)
        .on_hover_text(words::BEGINS_TIP);
}

fn bay_ui(ui: &mut Ui, page: &mut Page<'_>, open: &mut OpenYear, place: usize) {
    let number = place + 1;
    name_ui(ui, page, &open.file.year.bays[place], place);
    let width = page.look.sizes.value_width;
    let bay = &mut open.file.year.bays[place];
    room_ui(
        ui,
        page,
        (&format!("Room of bay {number}"), bounds::HEAP_VOLUME.high),
        &mut bay.room_m3,
    );
    for (what, weeks) in [
        ("filled for", &mut bay.fills_weeks),
        ("works for", &mut bay.works_weeks),
        ("cures for", &mut bay.cures_weeks),
    ] {
        QuantityField::within(&format!("Weeks bay {number} {what}"), bounds::WEEKS_IN_BAY)
            .unit(ShownUnit::times(1.0, "weeks"))
            .decimals(1)
            .trimmed()
            .width(1.5 * width)
            .show(ui, weeks);
    }
    free_ui(ui, number, bay);
    takes_ui(ui, page, open, place);
    let remove = Action::Year(YearAction::RemoveBay(place));
    styled_button(
        ui,
        page,
        remove,
        Button::new("×"),
        &format!("Remove bay {number}"),
    );
}

/// The name, taken once it is typed to its end: while it is typed it may be that of another bay.
fn name_ui(ui: &mut Ui, page: &mut Page<'_>, bay: &Bay, place: usize) {
    let typed = page.year.typed_name.take();
    let mine = typed.clone().filter(|(of, _)| *of == place);
    let mut name = mine.map_or_else(|| bay.name.clone(), |(_, name)| name);
    let sizes = page.look.sizes;
    let size = vec2(NAME_WIDTH * sizes.measure_width, sizes.control_height);
    let field = ui
        .add_sized(
            size,
            TextEdit::singleline(&mut name)
                .char_limit(NAME_LIMIT)
                .align(Align2::LEFT_CENTER),
        )
        .named(&format!("Name of bay {}", place + 1))
        .on_hover_text(words::NAME_TIP);
    if field.lost_focus() && name.trim() != bay.name && !name.trim().is_empty() {
        page.ask(Action::Year(YearAction::RenameBay(place, name)));
    } else if field.has_focus() {
        page.year.typed_name = Some((place, name));
    } else {
        page.year.typed_name = typed.filter(|(of, _)| *of != place);
    }
}

fn free_ui(ui: &mut Ui, number: usize, bay: &mut Bay) {
    let shown = bay.free_from.map_or(words::FREE_AT_ONCE, |month| {
        MONTHS[usize::from(month.clamp(1, 12)) - 1]
    });
    ComboBox::from_id_salt(("free", number))
        .selected_text(shown)
        .show_ui(ui, |ui| {
            ui.selectable_value(&mut bay.free_from, None, words::FREE_AT_ONCE);
            for (month, said) in (1..).zip(MONTHS) {
                ui.selectable_value(&mut bay.free_from, Some(month), said);
            }
        })
        .response
        .named(&format!("Bay {number} is free from"))
        .on_hover_text(words::FREE_TIP);
}

/// Which materials go in: a tick for each; all of them ticked is the same as none.
fn takes_ui(ui: &mut Ui, page: &Page<'_>, open: &mut OpenYear, place: usize) {
    let year = &mut open.file.year;
    let shown = words::takes(year.bays[place].takes.len());
    let ids: Vec<String> = year
        .arrivals
        .iter()
        .map(|row| row.material.clone())
        .collect();
    let takes = &mut year.bays[place].takes;
    ComboBox::from_id_salt(("takes", place))
        .selected_text(shown)
        .width(page.look.sizes.measure_width)
        .close_behavior(PopupCloseBehavior::CloseOnClickOutside)
        .show_ui(ui, |ui| {
            let mut all = takes.is_empty();
            if ui.checkbox(&mut all, words::TAKES_ALL).changed() {
                *takes = if all { Vec::new() } else { ids.clone() };
            }
            for id in &ids {
                let mut goes_in = takes.is_empty() || takes.contains(id);
                let name = name_of(id, &open.catalogue);
                if ui.checkbox(&mut goes_in, name).changed() {
                    if takes.is_empty() {
                        takes.clone_from(&ids);
                    }
                    takes.retain(|other| other != id);
                    if goes_in {
                        takes.push(id.clone());
                    }
                }
            }
        })
        .response
        .named(&format!("What bay {} takes", place + 1))
        .on_hover_text(words::TAKES_TIP);
}

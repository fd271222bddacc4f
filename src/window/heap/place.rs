//! The column of the Heap view: shape, place, weather, and the plan as a list.
//!
//! In: the heap of the project. Out: the same, edited.
//!
//! Not here: drawings of shapes (`shape_picker`), lengths and dates (`heap_row`), months
//! (`climate_row`), entries of the plan (`plan_list`).
//!
//! Tested by: `tests/window/heap.rs`.

use std::mem::discriminant;

use eframe::egui::{ComboBox, Ui};

use crate::heap::{Base, Board, Cover, Lid, Shape};
use crate::quantity::bounds;
use crate::text::heap;

use crate::window::heap::climate_row::climate_ui;
use crate::window::heap::plan_list::plan_ui;
use crate::window::page::Page;
use crate::window::widgets::heap_row::{Words, bounded_length_ui, date_ui, days_ui, dimensions_ui};
use crate::window::widgets::named::Named;
use crate::window::widgets::shape_picker::shape_picker_ui;

/// Thickness of straw or compost when it is first chosen, m.
const USUAL_COVER_M: f64 = 0.1;

/// The column.
pub fn place_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let look = page.look;
    ui.heading("Shape");
    shape_picker_ui(ui, &mut page.project.heap.shape, look);
    ui.horizontal_wrapped(|ui| {
        let units = page.state.settings.units;
        dimensions_ui(ui, &mut page.project.heap.shape, units, Words::Shown);
        lid_ui(ui, page);
        board_ui(ui, page);
    });
    ui.add_space(look.sizes.gap);
    ui.heading("Place");
    ui.horizontal_wrapped(|ui| {
        base_ui(ui, page);
        cover_ui(ui, page);
        let sun = ui.checkbox(&mut page.project.heap.in_sun, "in the sun");
        sun.on_hover_text("Whether the sun reaches the heap; it warms and dries the skin.");
    });
    ui.horizontal_wrapped(|ui| {
        date_ui(ui, &mut page.project.heap, Words::Shown);
        days_ui(ui, &mut page.project.heap, Words::Shown);
    });
    climate_ui(ui, page);
    ui.add_space(page.look.sizes.gap);
    ui.heading("Plan");
    plan_ui(ui, page);
}

fn lid_ui(ui: &mut Ui, page: &mut Page<'_>) {
    if let Shape::SolidBin { lid, .. } = &mut page.project.heap.shape {
        let mut closed = *lid == Lid::Closed;
        let tick = ui.checkbox(&mut closed, "lid");
        if tick
            .on_hover_text("A lid keeps rain out and lets steam out at its rim.")
            .changed()
        {
            *lid = if closed { Lid::Closed } else { Lid::Open };
        }
    }
}

fn board_ui(ui: &mut Ui, page: &mut Page<'_>) {
    if let Shape::SolidBin { board, .. } = &mut page.project.heap.shape {
        ComboBox::from_id_salt("board")
            .selected_text(heap::board(*board))
            .show_ui(ui, |ui| {
                for choice in [Board::Plastic, Board::Timber, Board::Insulated] {
                    ui.selectable_value(board, choice, heap::board(choice));
                }
            })
            .response
            .named("Walls of the bin")
            .on_hover_text("What the walls are made of; it decides how fast warmth leaves.");
    }
}

fn base_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let base = &mut page.project.heap.base;
    ComboBox::from_id_salt("base")
        .selected_text(heap::base(*base))
        .show_ui(ui, |ui| {
            for choice in [Base::Soil, Base::Paving] {
                ui.selectable_value(base, choice, heap::base(choice));
            }
        })
        .response
        .named("What the heap stands on")
        .on_hover_text("Soil or slabs below the heap.");
}

fn cover_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let units = page.state.settings.units;
    let cover = &mut page.project.heap.cover;
    let thickness_m = USUAL_COVER_M;
    let choices = [
        Cover::Bare,
        Cover::Sheet,
        Cover::Straw { thickness_m },
        Cover::Compost { thickness_m },
    ];
    ComboBox::from_id_salt("cover")
        .selected_text(heap::cover(*cover))
        .show_ui(ui, |ui| {
            for choice in choices {
                let chosen = discriminant(&choice) == discriminant(cover);
                if ui.selectable_label(chosen, heap::cover(choice)).clicked() && !chosen {
                    *cover = choice;
                }
            }
        })
        .response
        .named("Cover at the start")
        .on_hover_text("What lies over the heap from the first day.");
    if let Cover::Straw { thickness_m } | Cover::Compost { thickness_m } = cover {
        let named = ("Thickness of the cover", bounds::COVER_THICKNESS);
        bounded_length_ui(ui, units, named, thickness_m);
    }
}

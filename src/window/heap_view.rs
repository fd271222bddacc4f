//! The Heap view: where it stands and what is done to it, its inside on any day, its heat.
//!
//! In: a page. Out: the same, edited.
//!
//! Not here: shape and dates (`heap_row`), the plan (`plan_list`), the pictures (`cross_section`,
//! `heat_plot`).
//!
//! Held against: `tests/window/heap.rs`.

use eframe::egui::{ComboBox, Rect, RichText, ScrollArea, Slider, Ui, pos2};

use crate::heap::{Base, Board, Cover, Shape};

use super::climate_row::climate_ui;
use super::cross_section::CrossSection;
use super::heap_row::heap_row_ui;
use super::heat_plot::{Detail, HeatPlot};
use super::mix_view::card;
use super::named::Named;
use super::plan_list::plan_ui;
use super::section::Shows;
use super::state::Page;

/// Days that pass in a second while playing.
const DAYS_PER_SECOND: f64 = 8.0;
/// Thickness of straw or compost when it is first chosen, m.
const USUAL_COVER_M: f64 = 0.1;

/// The whole view.
pub fn heap_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let look = page.look;
    let whole = ui.available_rect_before_wrap();
    let gap = look.sizes.gap;
    let split_x = whole.left() + 0.42 * whole.width();
    let split_y = whole.top() + 0.56 * whole.height();
    let place = Rect::from_min_max(whole.min, pos2(split_x, split_y));
    let inside = Rect::from_min_max(
        pos2(split_x + gap, whole.top()),
        pos2(whole.right(), split_y),
    );
    let heat = Rect::from_min_max(pos2(whole.left(), split_y + gap), whole.max);
    card(ui, place, look, |ui| {
        ScrollArea::vertical()
            .id_salt("heap place")
            .auto_shrink([false, false])
            .show(ui, |ui| place_ui(ui, page));
    });
    page.refresh();
    card(ui, inside, look, |ui| inside_ui(ui, page));
    card(ui, heat, look, |ui| heat_ui(ui, page));
}

fn place_ui(ui: &mut Ui, page: &mut Page<'_>) {
    heap_row_ui(ui, page);
    ui.add_space(page.look.sizes.gap * 0.5);
    ui.horizontal_wrapped(|ui| {
        board_ui(ui, page);
        base_ui(ui, page);
        cover_ui(ui, page);
        let sun = ui.checkbox(&mut page.project.heap.in_sun, "in the sun");
        sun.on_hover_text("Whether the sun reaches the heap; it warms and dries the skin.");
    });
    climate_ui(ui, page);
    ui.add_space(page.look.sizes.gap);
    ui.heading("Plan");
    plan_ui(ui, page);
}

fn board_ui(ui: &mut Ui, page: &mut Page<'_>) {
    if let Shape::SolidBin { board, .. } = &mut page.project.heap.shape {
        ComboBox::from_id_salt("board")
            .selected_text(board.label())
            .show_ui(ui, |ui| {
                for choice in [Board::Plastic, Board::Timber, Board::Insulated] {
                    ui.selectable_value(board, choice, choice.label());
                }
            })
            .response
            .named("Walls of the bin")
            .on_hover_text("What the walls are made of; it decides how fast warmth leaves.");
    }
}

fn base_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let label = |base| match base {
        Base::Soil => "on soil",
        Base::Paving => "on paving",
    };
    let base = &mut page.project.heap.base;
    ComboBox::from_id_salt("base")
        .selected_text(label(*base))
        .show_ui(ui, |ui| {
            for choice in [Base::Soil, Base::Paving] {
                ui.selectable_value(base, choice, label(choice));
            }
        })
        .response
        .named("What the heap stands on")
        .on_hover_text("Soil or slabs below the heap.");
}

fn cover_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let label = |cover: &Cover| match cover {
        Cover::Bare => "no cover",
        Cover::Sheet => "sheet over it",
        Cover::Straw { .. } => "straw over it",
        Cover::Compost { .. } => "compost over it",
    };
    let cover = &mut page.project.heap.cover;
    let thickness_m = USUAL_COVER_M;
    let choices = [
        Cover::Bare,
        Cover::Sheet,
        Cover::Straw { thickness_m },
        Cover::Compost { thickness_m },
    ];
    ComboBox::from_id_salt("cover")
        .selected_text(label(cover))
        .show_ui(ui, |ui| {
            for choice in choices {
                let chosen = label(&choice) == label(cover);
                if ui.selectable_label(chosen, label(&choice)).clicked() && !chosen {
                    *cover = choice;
                }
            }
        })
        .response
        .named("Cover at the start")
        .on_hover_text("What lies over the heap from the first day.");
}

fn inside_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let days = page.project.heap.days;
    let units = page.state.settings.units;
    let look = page.look;
    let view = &mut page.state.heap;
    ui.horizontal_wrapped(|ui| {
        for shows in Shows::ALL {
            let chosen = view.shows == shows;
            let tip = "Colours the cross-section by this.";
            if ui
                .selectable_label(chosen, shows.label())
                .on_hover_text(tip)
                .clicked()
            {
                view.shows = shows;
            }
        }
    });
    ui.horizontal(|ui| {
        let (word, tip) = if view.playing {
            ("Pause", "Stops the days.")
        } else {
            ("Play", "Lets the days run.")
        };
        if ui.button(word).on_hover_text(tip).clicked() {
            view.playing = !view.playing;
            if view.playing && view.day >= days {
                view.day = 0.0;
            }
        }
        ui.spacing_mut().slider_width = (ui.available_width() - 90.0).max(80.0);
        let slider = Slider::new(&mut view.day, 0.0..=days)
            .max_decimals(0)
            .prefix("day ");
        ui.add(slider)
            .named("Day of the cross-section")
            .on_hover_text("Shows the inside of the heap on this day.");
    });
    if view.playing {
        let passed = f64::from(ui.input(|input| input.stable_dt).min(0.1));
        view.day = (view.day + DAYS_PER_SECOND * passed).min(days);
        view.playing = view.day < days;
        ui.ctx().request_repaint();
    }
    view.day = view.day.min(days);
    let (day, shows) = (view.day, view.shows);
    match &page.shown.projection {
        Some(projection) => {
            let section = CrossSection {
                projection,
                day,
                shows,
                units,
                look,
            };
            ui.label(RichText::new(section.words()).color(look.colours.text_weak.0));
            section.show(ui);
        }
        None => {
            ui.weak("Nothing to show yet: put something into the mix.");
        }
    }
}

fn heat_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let units = page.state.settings.units;
    let look = page.look;
    ui.label(RichText::new(page.shown.curve.sentence(units)).color(look.colours.text_weak.0));
    let turnings: Vec<f64> = page
        .project
        .heap
        .plan
        .events
        .iter()
        .map(|event| event.day)
        .collect();
    HeatPlot {
        curve: &page.shown.curve,
        ghost: page.state.pinned.as_ref().map(|pinned| &pinned.curve),
        detail: Some(Detail {
            day: page.state.heap.day,
            deeds: &turnings,
        }),
        start_day_of_year: page.project.heap.start_day_of_year,
        days: page.project.heap.days,
        units,
        look,
    }
    .show(ui);
}

//! The Heap view: its settings at the left, its inside on any day and its heat at the right.
//!
//! In: a page. Out: the same, edited.
//!
//! Not here: the settings (`place`), the plan (`plan_list`, `day_line`), the pictures
//! (`cross_section`, `heat_plot`).
//!
//! Tested by: `tests/window/heap.rs`, `tests/window/heap_plan.rs`, `tests/window/heap_section.rs`.

pub(in crate::window) mod climate_row;
mod fed_rows;
pub(in crate::window) mod place;
pub mod plan_addition;
pub mod plan_list;

use eframe::egui::{Rect, ScrollArea, Slider, Ui, pos2};

use crate::heap::SectionValue;
use crate::text::page::section_value_label;
use crate::window::heap::place::place_ui;
use crate::window::page::Page;
use crate::window::theme::{Look, unbroken};
use crate::window::widgets::card::card;
use crate::window::widgets::cross_section::CrossSection;
use crate::window::widgets::day_line::day_line_ui;
use crate::window::widgets::heat_plot::{Detail, HeatPlot, key_ui};
use crate::window::widgets::named::Named;

/// Days that pass in a second while playing.
const DAYS_PER_SECOND: f64 = 8.0;
/// Where the three regions stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeapRegions {
    /// Shape, place, weather, plan.
    pub place: Rect,
    /// The cross-section.
    pub inside: Rect,
    /// Day line and heat plot.
    pub heat: Rect,
}

impl HeapRegions {
    /// Divides a rectangle.
    pub fn of(whole: Rect, look: Look<'_>) -> Self {
        let gap = look.sizes.gap;
        let column = (0.41 * whole.width()).min(look.sizes.heap_column);
        let split_x = whole.left() + column;
        let split_y = whole.top() + 0.5 * whole.height();
        let right = split_x + gap;
        Self {
            place: Rect::from_min_max(whole.min, pos2(split_x, whole.bottom())),
            inside: Rect::from_min_max(pos2(right, whole.top()), pos2(whole.right(), split_y)),
            heat: Rect::from_min_max(pos2(right, split_y + gap), whole.max),
        }
    }
}

/// The whole view.
pub fn heap_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let look = page.look;
    let HeapRegions {
        place,
        inside,
        heat,
    } = HeapRegions::of(ui.available_rect_before_wrap(), look);
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

fn inside_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let days = page.project.heap.days;
    let units = page.state.settings.units;
    let look = page.look;
    let view = &mut page.state.heap;
    ui.horizontal_wrapped(|ui| {
        for shows in SectionValue::ALL {
            let chosen = view.shows == shows;
            let tip = "Colours the cross-section by this.";
            if ui
                .selectable_label(chosen, section_value_label(shows))
                .on_hover_text(unbroken(tip))
                .clicked()
            {
                view.shows = shows;
            }
        }
    });
    ui.horizontal(|ui| {
        let (word, tip) = if view.playing {
            ("Pause", "Pauses the days.")
        } else {
            ("Play", "Plays the days.")
        };
        if ui.button(word).on_hover_text(unbroken(tip)).clicked() {
            view.playing = !view.playing;
            if view.playing && view.day >= days {
                view.day = 0.0;
            }
        }
        ui.spacing_mut().slider_width =
            (ui.available_width() - look.sizes.slider_number).max(look.sizes.least_width);
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
    match page.shown.stages.projection() {
        Some(projection) => {
            let section = CrossSection {
                projection,
                shape: Some(&page.project.heap.shape),
                day,
                shows,
                units,
                look,
            };
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
    ui.label(unbroken(page.shown.curve.sentence(units)).color(look.colours.text_weak.0));
    key_ui(ui, &page.shown.curve, page.shown.pinned.is_some(), look);
    let before = page.state.heap.day_span;
    day_line_ui(ui, &mut page.project.heap, before, look);
    page.refresh();
    let operations: Vec<f64> = page
        .project
        .heap
        .plan
        .events
        .iter()
        .map(|event| event.day)
        .collect();
    let span = HeatPlot {
        curve: &page.shown.curve,
        ghost: page.shown.pinned.as_ref().map(|pinned| &pinned.curve),
        detail: Some(Detail {
            day: page.state.heap.day,
            operations: &operations,
        }),
        taken: None,
        key: false,
        start_day_of_year: page.project.heap.start_day_of_year,
        days: page.project.heap.days,
        units,
        look,
    }
    .show(ui);
    if before != Some(span) {
        // The day line stands over the plot's days from the next frame on.
        page.state.heap.day_span = Some(span);
        ui.ctx().request_repaint();
    }
}

//! The Mix view: ingredients and gauges side by side, the heat plot below, advice at the right.
//!
//! In: a page. Out: the same, edited; asked-for actions. Regions of the screen are laid out here and
//! drawn by their own files.
//!
//! Not here: the regions themselves (`ingredient_rows`, `gauges`, `heap_row`, `heat_plot`).
//!
//! Tested by: `tests/window/mix.rs`.

pub mod aim_row;
pub mod balance_panel;
pub mod buckets;
pub(in crate::window) mod condition_row;
pub mod gauges;
pub mod ingredient_rows;
pub mod row_lines;
pub mod water_row;

use eframe::egui::{self, Rect, ScrollArea, Ui, pos2};

use crate::text::advice::{how_sure, sentence, tells_of_heat};

use crate::window::action::Action;
use crate::window::mix::aim_row::aim_ui;
use crate::window::mix::balance_panel::balance_ui;
use crate::window::mix::gauges::{balance_buttons_ui, gauges_ui};
use crate::window::mix::ingredient_rows::rows_ui;
use crate::window::mix::row_lines::wanted_height;
use crate::window::page::Page;
use crate::window::theme::{Look, unbroken};
use crate::window::widgets::buttons::plain_button;
use crate::window::widgets::card::card;
use crate::window::widgets::caution_list::caution_notes_ui;
use crate::window::widgets::gauge::GaugeBar;
use crate::window::widgets::heap_row::heap_row_ui;
use crate::window::widgets::heat_plot::HeatPlot;

/// Where the four regions stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct MixRegions {
    /// Ingredient rows.
    pub rows: Rect,
    /// Gauges.
    pub gauges: Rect,
    /// Heap row and heat plot.
    pub heat: Rect,
    /// What to do next.
    pub advice: Rect,
}

impl MixRegions {
    /// Divides a rectangle; `rows` is the number of ingredients.
    pub fn of(whole: Rect, rows: usize, look: Look<'_>) -> Self {
        let sizes = look.sizes;
        let gap = sizes.gap;
        let advice_left = whole.right() - sizes.advice_width.min(whole.width() * 0.24);
        let left = Rect::from_min_max(whole.min, pos2(advice_left - gap, whole.bottom()));
        let gauges_height = 5.0 * GaugeBar::height(look)
            + 6.0 * gap
            + sizes.control_height
            + 2.0 * f32::from(sizes.pad);
        let rows_width = left.width() * sizes.rows_share - 2.0 * f32::from(sizes.pad);
        let rows_height = wanted_height(rows, rows_width, look) + 2.0 * f32::from(sizes.pad);
        let top_height = rows_height
            .min(left.height() * sizes.top_share)
            .max(gauges_height);
        let split_y = (left.top() + top_height)
            .min(left.bottom() - sizes.heat_min_height)
            .max(left.top());
        let split_x = left.left() + left.width() * sizes.rows_share;
        Self {
            rows: Rect::from_min_max(left.min, pos2(split_x, split_y)),
            gauges: Rect::from_min_max(
                pos2(split_x + gap, left.top()),
                pos2(left.right(), split_y),
            ),
            heat: Rect::from_min_max(pos2(left.left(), split_y + gap), left.max),
            advice: Rect::from_min_max(pos2(advice_left, whole.top()), whole.max),
        }
    }
}

/// The whole view.
pub fn mix_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let look = page.look;
    let regions = MixRegions::of(
        ui.available_rect_before_wrap(),
        page.project.mix.ingredients.len(),
        look,
    );
    card(ui, regions.rows, look, |ui| rows_ui(ui, page));
    page.refresh();
    card(ui, regions.gauges, look, |ui| {
        let below = look.sizes.control_height + look.sizes.gap;
        ScrollArea::vertical()
            .id_salt("gauges")
            .max_height((ui.available_height() - below).max(0.0))
            .auto_shrink([false, false])
            .show(ui, |ui| gauges_ui(ui, page));
        balance_buttons_ui(ui, page);
    });
    card(ui, regions.heat, look, |ui| heat_ui(ui, page));
    card(ui, regions.advice, look, |ui| {
        if page.shown.preview.is_some() {
            balance_ui(ui, page);
        } else {
            advice_ui(ui, page);
        }
    });
}

fn heat_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let units = page.state.settings.units;
    let look = page.look;
    heap_row_ui(ui, &mut page.project.heap, units, look);
    page.refresh();
    ui.label(unbroken(page.shown.curve.sentence(units)).color(look.colours.text_weak.0));
    HeatPlot {
        curve: &page.shown.curve,
        ghost: page.shown.pinned.as_ref().map(|pinned| &pinned.curve),
        detail: None,
        taken: None,
        key: true,
        start_day_of_year: page.project.heap.start_day_of_year,
        days: page.project.heap.days,
        units,
        look,
    }
    .show(ui);
}

fn advice_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.heading("What to do next");
    aim_ui(ui, page);
    page.refresh();
    ui.add_space(page.look.sizes.gap * 0.5);
    ScrollArea::vertical()
        .id_salt("advice")
        .auto_shrink([false, true])
        .max_height((ui.available_height() - page.look.sizes.big_button * 1.5).max(0.0))
        .show(ui, |ui| {
            let units = page.state.settings.units;
            let advice = page.shown.stages.advice().to_vec();
            let first_step = advice.iter().position(|advice| advice.change.is_some());
            for (index, advice) in advice.into_iter().enumerate() {
                if index > 0 {
                    ui.separator();
                }
                ui.label(unbroken(sentence(&advice, units)));
                if tells_of_heat(&advice)
                    && let Some(forecast) = page.shown.stages.forecast()
                    && let Some(sure) = how_sure(forecast, units)
                {
                    ui.label(unbroken(sure));
                }
                // Each step is calculated on top of those before it, so only the first can be done.
                if let Some(change) = advice.change.filter(|_| first_step == Some(index)) {
                    plain_button(ui, page, Action::Follow(change), "Do this");
                }
            }
            if page.shown.stages.advice().is_empty() {
                ui.label("Nothing to advise on yet.");
            }
            caution_notes_ui(ui, page);
        });
    ui.with_layout(egui::Layout::bottom_up(egui::Align::Min), |ui| {
        let (action, text) = if page.shown.pinned.is_some() {
            (Action::Unpin, "Unpin the ghost")
        } else {
            (Action::Pin, "Pin this mix")
        };
        plain_button(ui, page, action, text);
    });
}

//! The Diary view: what is entered at the left, the heap's inside and the plots at the right.
//!
//! In: a page. Out: the same, edited; asked-for actions.
//!
//! The projection always runs from here on: what was done stands in the plan on its day, a line in the plot is today.
//!
//! Not here: what is due (`next_days_list`), the form (`form`), what was done (`done`), what was learnt (`learnt`), the list (`entries`), doing (`verbs::diary`), plots
//! (`heat_plot`, `reading_plot`).
//!
//! Tested by: `tests/window/diary.rs`.

pub(in crate::window) mod built;
pub(in crate::window) mod done;
pub(in crate::window) mod entries;
pub(in crate::window) mod form;
pub(in crate::window) mod learnt;

use eframe::egui::{Rect, RichText, ScrollArea, Ui, UiBuilder, pos2};

use crate::heap::SectionValue;
use crate::outcome::shared;
use crate::text::diary::{NO_READINGS, NOT_BUILT, OFF_PLOT, off_sentence, past_the_end};

use crate::window::action::Action;
use crate::window::diary::built::built_ui;
use crate::window::diary::done::{done_ui, open_entries_ui};
use crate::window::diary::entries::entries_ui;
use crate::window::diary::form::form_ui;
use crate::window::diary::learnt::{learnt_ui, switch_ui};
use crate::window::page::Page;
use crate::window::theme::{Look, unbroken};
use crate::window::widgets::buttons::action_button;
use crate::window::widgets::card::card;
use crate::window::widgets::cross_section::CrossSection;
use crate::window::widgets::heat_plot::{Detail, HeatPlot, key_ui};
use crate::window::widgets::next_days_list::next_days_ui;
use crate::window::widgets::reading_plot::{Taken, off_plot_ui};

/// Where the three regions stand.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct DiaryRegions {
    /// What is entered.
    pub entered: Rect,
    /// The cross-section.
    pub inside: Rect,
    /// The plots.
    pub plots: Rect,
}

impl DiaryRegions {
    /// Divides a rectangle.
    pub fn of(whole: Rect, look: Look<'_>) -> Self {
        let gap = look.sizes.gap;
        let column = (0.41 * whole.width()).min(look.sizes.heap_column);
        let split_x = whole.left() + column;
        let split_y = whole.top() + look.sizes.section_share * whole.height();
        let right = split_x + gap;
        Self {
            entered: Rect::from_min_max(whole.min, pos2(split_x, whole.bottom())),
            inside: Rect::from_min_max(pos2(right, whole.top()), pos2(whole.right(), split_y)),
            plots: Rect::from_min_max(pos2(right, split_y + gap), whole.max),
        }
    }
}

/// The whole view.
pub fn diary_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let look = page.look;
    let regions = DiaryRegions::of(ui.available_rect_before_wrap(), look);
    refresh(page);
    card(ui, regions.entered, look, |ui| {
        ScrollArea::vertical()
            .id_salt("diary entries")
            .auto_shrink([false, false])
            .show(ui, |ui| entered_ui(ui, page));
    });
    card(ui, regions.inside, look, |ui| inside_ui(ui, page));
    card(ui, regions.plots, look, |ui| plots_ui(ui, page));
}

/// Brings what was expected up to date.
fn refresh(page: &mut Page<'_>) {
    let shown = &mut *page.shown;
    let projection = shown.stages.projection();
    shown.diary.refresh(&page.project.diary, projection);
}

/// Everything that is entered.
fn entered_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let look = page.look;
    built_ui(ui, page);
    if page.project.diary.built.is_none() {
        ui.label(NOT_BUILT);
        return;
    }
    ui.add_space(look.sizes.gap);
    open_entries_ui(ui, page);
    ui.heading(if page.state.diary.changing.is_some() {
        "Change a reading"
    } else {
        "New reading"
    });
    form_ui(ui, page);
    action_button(ui, page, Action::ImportReadings);
    ui.add_space(look.sizes.gap);
    learnt_ui(ui, page);
    due_ui(ui, page);
    ui.heading("What was done");
    done_ui(ui, page);
    ui.add_space(look.sizes.gap);
    ui.heading("Entries");
    entries_ui(ui, page);
}

/// What is due next, by the projection that is drawn.
fn due_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let (Some(outcome), Ok(facts)) = (page.shown.stages.outcome().cloned(), shared()) else {
        return;
    };
    next_days_ui(ui, page, &outcome, facts);
    ui.add_space(page.look.sizes.gap);
}

/// The day that the cross-section shows: that of the form, as far as it is projected.
fn day_shown(page: &Page<'_>) -> f64 {
    let at = page.state.diary.form_moment(page.now);
    let day = page.project.diary.day_of(at).unwrap_or_default();
    day.clamp(0.0, page.project.heap.days)
}

fn inside_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let units = page.state.settings.units;
    let Some(projection) = page.shown.stages.projection() else {
        ui.weak("Nothing to show yet: put something into the mix.");
        return;
    };
    let section = CrossSection {
        projection,
        shape: Some(&page.project.heap.shape),
        day: day_shown(page),
        shows: SectionValue::Temperature,
        units,
        look: page.look,
    };
    if page.project.diary.built.is_none() {
        section.show(ui);
        return;
    }
    let clicked = section.show_with_place(ui, page.state.diary.form.spot);
    if let Some(spot) = clicked {
        page.state.diary.form.spot = spot;
        page.state.diary.wants_keyboard = true;
        ui.ctx().request_repaint();
    }
}

fn plots_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let (look, units) = (page.look, page.state.settings.units);
    let heap = &page.project.heap;
    let diary = &page.project.diary;
    let today = diary.day_of(page.now).filter(|day| *day >= 0.0);
    let taken = Taken {
        shown: &page.shown.diary,
        diary,
        today,
    };
    let weak = |text: String| unbroken(text).color(look.colours.text_weak.0);
    let offs_k = &taken.shown.offs_k;
    let said = if diary.holds_nothing() && diary.built.is_some() {
        NO_READINGS.to_owned()
    } else if offs_k.is_empty() {
        page.shown.curve.sentence(units)
    } else {
        off_sentence(offs_k, units)
    };
    let said = weak(said);
    ui.horizontal_wrapped(|ui| {
        switch_ui(ui, &page.shown.following, &mut page.state.diary.followed);
        ui.label(said);
    });
    if let Some(day) = today
        && day > heap.days
    {
        ui.label(weak(past_the_end(heap.days)));
    }
    key_ui(ui, &page.shown.curve, page.shown.pinned.is_some(), look);
    let operations: Vec<f64> = heap.plan.in_order().iter().map(|due| due.day).collect();
    let room = ui.available_rect_before_wrap();
    let off = if offs_k.is_empty() {
        0.0
    } else {
        look.sizes.off_height + look.sizes.body + 2.0 * look.sizes.gap
    };
    let upper = Rect::from_min_max(room.min, pos2(room.right(), room.bottom() - off));
    ui.scope_builder(UiBuilder::new().max_rect(upper), |ui| {
        HeatPlot {
            curve: &page.shown.curve,
            ghost: page.shown.pinned.as_ref().map(|pinned| &pinned.curve),
            detail: Some(Detail {
                day: today.unwrap_or_default(),
                operations: &operations,
            }),
            taken: Some(taken),
            key: false,
            start_day_of_year: heap.start_day_of_year,
            days: heap.days,
            units,
            look,
        }
        .show(ui);
    });
    if off > 0.0 {
        ui.label(
            RichText::new(OFF_PLOT)
                .small()
                .color(look.colours.text_weak.0),
        );
        off_plot_ui(ui, taken, (heap.days, units), look);
    }
}

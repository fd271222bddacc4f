//! The Class view, for a projector: large type, a few big controls, live heap and ghost side by side.
//!
//! In: a page. Out: asked-for actions. The whole window is drawn larger while this view is shown ([`ZOOM`]).
//!
//! A clicker alone reveals, runs and goes on (`steps`); notes are in a window of their own (`speaker`).
//! Not here: trials and lessons (`trial`), carrying out (`verbs::class`, `verbs::trials`).
//!
//! Tested by: `tests/window/class.rs`.

pub mod answer;
pub(in crate::window) mod exchange_row;
pub mod find;
pub(in crate::window) mod guess_panel;
pub(in crate::window) mod lesson;
pub mod speaker;
pub(in crate::window) mod steps;
pub(in crate::window) mod trial;

use eframe::egui::{self, Button, Rect, ScrollArea, Ui, Vec2, pos2, vec2};

use crate::material::Side;
use crate::outcome::hunger::Hunger;
use crate::outcome::smell::TroubleKind;
use crate::text::diary::SIGNS;
use crate::text::exchange;
use crate::text::outcome as words;

use crate::window::action::{Action, ClassAction};
use crate::window::class::exchange_row::exchange_ui;
use crate::window::class::find::{find_ui, fitting, offers_ui};
use crate::window::class::guess_panel::{Guessed, guess_ui};
use crate::window::class::lesson::{choose_ui, lesson_ui};
use crate::window::class::speaker::speaker_ui;
use crate::window::class::steps::clicker_keys;
use crate::window::class::trial::trial_ui;
use crate::window::page::Page;
use crate::window::piles::class_choices::Mode;
use crate::window::piles::curve::{Curve, MovingCurve};
use crate::window::piles::diary_shown::Near;
use crate::window::theme::{Sizes, strong, unbroken};
use crate::window::widgets::buttons::{action_button, styled_button};
use crate::window::widgets::card::card;
use crate::window::widgets::gauge::GaugeBar;
use crate::window::widgets::heat_plot::HeatPlot;
use crate::window::widgets::reading_plot::Taken;
use crate::window::widgets::readings::class_readings;

/// How much larger everything is drawn at least.
pub const ZOOM: f32 = 1.6;
/// Time a needle or the curve takes to its new place, s.
const NEEDLE_S: f32 = 0.6;

/// How much larger everything is drawn in a window of this size, points at the zoom of the other views: as much as
/// leaves the view the room it needs, so that type grows with the screen, and at least [`ZOOM`].
pub fn zoom_for(window: Vec2, sizes: &Sizes) -> f32 {
    let room = vec2(sizes.class_width, sizes.class_height);
    (window / room).min_elem().max(ZOOM)
}

/// How much larger everything is drawn below a wide sheet: as much as leaves the widest one the room it needs.
pub fn zoom_below_sheet(window: Vec2, sizes: &Sizes) -> f32 {
    // Its margins, and a rim of the view around it.
    let around = 3.0 * f32::from(sizes.pad) + 2.0 * sizes.gap;
    let room = vec2(
        sizes.complaint_width.max(sizes.plan_sheet_width),
        sizes.complaint_height.max(sizes.plan_sheet_height),
    );
    (window / (room + Vec2::splat(around))).min_elem().max(1.0)
}

/// The whole view.
pub fn class_ui(ui: &mut Ui, page: &mut Page<'_>) {
    clicker_keys(ui, page);
    speaker_ui(ui, page);
    modes_ui(ui, page);
    ui.add_space(page.look.sizes.gap * 0.5);
    match page.state.class.mode {
        Mode::Heap => heap_ui(ui, page),
        Mode::Trials => trial_ui(ui, page),
        Mode::Lessons => lesson_ui(ui, page),
    }
}

/// What the class works with, guessing first, notes; beside them the handout, the search or the lessons.
fn modes_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let found = fitting(page);
    ui.horizontal_wrapped(|ui| {
        for mode in Mode::ALL {
            let chosen = page.state.class.mode == mode;
            let button = Button::selectable(chosen, strong(mode.label()));
            let action = Action::Class(ClassAction::Mode(mode));
            styled_button(ui, page, action, button, mode.label());
        }
        ui.separator();
        let first = page.state.class.guess.first;
        let button = Button::selectable(first, "Guess first");
        let action = Action::Class(ClassAction::GuessFirst);
        styled_button(ui, page, action, button, "Guess first");
        let notes = Button::selectable(page.state.class.notes, "Notes");
        let action = Action::Class(ClassAction::Speaker);
        styled_button(ui, page, action, notes, speaker::TITLE);
        match page.state.class.mode {
            Mode::Heap => {
                for action in [ClassAction::Handout, ClassAction::CopyHandout] {
                    action_button(ui, page, Action::Class(action));
                }
            }
            Mode::Trials => find_ui(ui, page, &found),
            Mode::Lessons => choose_ui(ui, page),
        }
    });
    if page.state.class.mode == Mode::Trials {
        offers_ui(ui, page, &found);
    }
}

/// Gauges and curve, and the big controls below.
fn heap_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let whole = ui.available_rect_before_wrap();
    let (gap, look) = (page.look.sizes.gap, page.look);
    // Room for two lines of words.
    let controls = look.sizes.big_button * 1.15;
    let split_x = whole.left() + whole.width() * 0.36;
    let row = look.sizes.control_height;
    let bottom = whole.bottom() - controls - row - gap;
    let left = Rect::from_min_max(whole.min, pos2(split_x, bottom));
    let right = Rect::from_min_max(
        pos2(split_x + gap, whole.top()),
        pos2(whole.right(), bottom),
    );
    card(ui, left, look, |ui| {
        ScrollArea::vertical().show(ui, |ui| {
            guess_ui(ui, page, Guessed::Peak);
            gauges_ui(ui, page);
        });
    });
    card(ui, right, look, |ui| {
        ui.horizontal_wrapped(|ui| nose_ui(ui, page));
        curve_ui(ui, page);
    });
    let between = Rect::from_min_max(
        pos2(whole.left(), bottom + 0.5 * gap),
        pos2(whole.right(), bottom + 0.5 * gap + row),
    );
    ui.scope_builder(egui::UiBuilder::new().max_rect(between), |ui| {
        exchange_ui(ui, page);
    });
    let below = Rect::from_min_max(pos2(whole.left(), between.bottom() + 0.5 * gap), whole.max);
    controls_ui(ui, page, below);
}

fn gauges_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let still = page.state.settings.less_motion;
    for mut reading in class_readings(page) {
        let typical = reading.range.typical;
        if typical.is_finite() && !still {
            let id = ui.scope_id().with(("needle", reading.name()));
            let shown = ui
                .ctx()
                .animate_value_with_time(id, typical as f32, NEEDLE_S);
            // At rest the number is the calculated one, not its rounded copy.
            if (f64::from(shown) - typical).abs() > 1e-3 * typical.abs() {
                reading.range.typical = f64::from(shown);
            }
        }
        ui.add(GaugeBar::new(&reading, page.look));
    }
}

/// What nose and hand would tell of the heap; nothing while a guess is open or the heap is still judged.
fn nose_ui(ui: &mut Ui, page: &Page<'_>) {
    if page.state.class.guess.hidden || page.shown.stages.is_judging() {
        return;
    }
    let Some(outcome) = page.shown.stages.outcome() else {
        return;
    };
    let hunger = hunger(page);
    if let Some(hunger) = hunger {
        ui.label(strong(exchange::hunger(hunger)).color(page.look.colours.bad.0));
    } else if outcome.troubles.is_empty() {
        ui.label(strong(words::NOTHING_NOTICED).color(page.look.colours.good.0));
    }
    // That a heap stays cold is said with why, where it starves.
    let starves = hunger == Some(Hunger::Starves);
    let said = |kind| starves && kind == TroubleKind::Cold;
    for trouble in outcome.troubles.iter().filter(|it| !said(it.kind)) {
        ui.label(strong(words::noticed(trouble.kind)).color(page.look.colours.bad.0));
    }
}

/// Whether the heap is short of nitrogen.
fn hunger(page: &Page<'_>) -> Option<Hunger> {
    let stages = &page.shown.stages;
    Hunger::of(stages.projection()?, &stages.blend()?.totals)
}

/// The curve on its way to where it belongs.
fn moving_curve(ui: &Ui, page: &mut Page<'_>) -> Curve {
    let now_s = ui.input(|input| input.time);
    let shown = &mut *page.shown;
    let target = &shown.curve;
    let moving = shown
        .moving
        .get_or_insert_with(|| MovingCurve::at_rest(target));
    moving.head_for(target, now_s);
    let share = (now_s - moving.since_s) / f64::from(NEEDLE_S);
    if page.state.settings.less_motion || share >= 1.0 {
        return target.clone();
    }
    ui.ctx().request_repaint();
    target.on_its_way_from(&moving.from, share.max(0.0))
}

fn curve_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let units = page.state.settings.units;
    let nothing = Curve::default();
    let hidden = page.state.class.guess.hidden;
    let moving = moving_curve(ui, page);
    let curve = if hidden { &nothing } else { &moving };
    let said = if hidden {
        "Guess first: the new curve is hidden.".to_owned()
    } else {
        curve.sentence(units)
    };
    ui.label(unbroken(said));
    if let Some(pinned) = &page.shown.pinned
        && let Some((peak_c, _)) = pinned.curve.peak
    {
        let (cn, days) = (pinned.gauges.cn.typical, pinned.curve.days_above.0);
        let said = exchange::before(cn, peak_c, days, units);
        ui.label(unbroken(said).color(page.look.colours.text_weak.0));
    }
    // What pupils have read of the heap that stands, over its curve and band.
    let shown = &mut *page.shown;
    let diary = &page.project.diary;
    shown.diary.refresh(diary, shown.stages.projection());
    let taken = Taken {
        shown: &page.shown.diary,
        diary,
        today: diary.day_of(page.now).filter(|day| *day >= 0.0),
    };
    let taken = (!hidden && !diary.holds_nothing()).then_some(taken);
    let signs =
        taken.is_some_and(|taken| taken.shown.dots.iter().any(|dot| dot.near != Near::Centre));
    if signs {
        // Only the curve of the centre is drawn here.
        let weak = page.look.colours.text_weak.0;
        ui.label(unbroken(SIGNS).small().color(weak));
    }
    HeatPlot {
        curve,
        ghost: page.shown.pinned.as_ref().map(|pinned| &pinned.curve),
        detail: None,
        taken,
        key: false,
        start_day_of_year: page.project.heap.start_day_of_year,
        days: page.project.heap.days,
        units,
        look: page.look,
    }
    .show(ui);
}

/// The five big controls.
fn controls_ui(ui: &mut Ui, page: &mut Page<'_>, room: Rect) {
    let actions = [
        ClassAction::More(Side::Green),
        ClassAction::More(Side::Brown),
        ClassAction::Turn,
        ClassAction::Water,
        ClassAction::Halve,
    ];
    let gap = page.look.sizes.gap;
    let count = actions.len() as f32;
    let width = (room.width() - gap * (count - 1.0)) / count;
    for (place, action) in actions.into_iter().enumerate() {
        let left = room.left() + place as f32 * (width + gap);
        let rect = Rect::from_min_size(pos2(left, room.top()), vec2(width, room.height()));
        let mut one = ui.new_child(egui::UiBuilder::new().max_rect(rect).layout(
            egui::Layout::centered_and_justified(egui::Direction::LeftToRight),
        ));
        let action = Action::Class(action);
        let text = action.text(page.facts);
        let button = Button::new(strong(text.as_str())).wrap();
        styled_button(&mut one, page, action, button, &text);
    }
}

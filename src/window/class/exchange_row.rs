//! Greens and browns dragged into each other's place, over the big controls.
//!
//! In: a page. Out: a mix with greens and browns exchanged, the heap as it was pinned; the switch that lets the heap grow.
//!
//! Every place is reckoned from the mix before the first exchange, so that the way back leads there.
//! Not here: the exchange (`mix`), the buttons that do a twentieth of it (`verbs::class`).
//!
//! Tested by: `tests/window/class.rs`.

use eframe::egui::{Align, Button, Layout, Slider, Ui};

use crate::material::Side;
use crate::mix::{EXCHANGED_AT_ONCE, Newcomers, Sides, exchanged};
use crate::text::exchange::{ADDS, HEAP_GROWS, SLIDER, SLIDER_MEANS, share_of};

use crate::window::action::{Action, ClassAction};
use crate::window::page::Page;
use crate::window::piles::class_choices::{Exchange, HeapSize};
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::styled_button;
use crate::window::widgets::named::Named;

/// Steps of the slider from all green to all brown.
const STEPS: f64 = 1.0 / EXCHANGED_AT_ONCE;

/// The slider between greens and browns, and the switch.
pub(in crate::window) fn exchange_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let grows = page.state.class.size == HeapSize::Grows;
    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
        let switch = Button::selectable(grows, HEAP_GROWS);
        let action = Action::Class(ClassAction::Grows);
        styled_button(ui, page, action, switch, HEAP_GROWS);
        let sides = Sides::of(&page.project.mix, page.catalogue);
        let share = sides.ok().and_then(|sides| sides.brown_share());
        match share {
            Some(share) if !grows => slider_ui(ui, page, share),
            _ => {
                ui.with_layout(Layout::left_to_right(Align::Center), |ui| ui.label(ADDS));
            }
        }
    });
}

/// Laid out from the right.
fn slider_ui(ui: &mut Ui, page: &mut Page<'_>, share: f64) {
    let side = |ui: &mut Ui, page: &Page<'_>, side, share| {
        let names = names_on(page, side);
        ui.label(strong(share_of(side, share)))
            .on_hover_text(unbroken(names));
    };
    ui.add_space(page.look.sizes.gap);
    side(ui, page, Side::Brown, share);
    let before = ((1.0 - share) * STEPS).round();
    let mut steps = before;
    // The words on the left are as wide as those on the right.
    let words = page.look.sizes.measure_width;
    ui.spacing_mut().slider_width = (ui.available_width() - words).max(page.look.sizes.least_width);
    let response = ui.scope(|ui| {
        // The rail is the heap: its green part on the left, its brown part on the right.
        let (green, brown) = (page.look.colours.green.0, page.look.colours.brown.0);
        let visuals = ui.visuals_mut();
        visuals.selection.bg_fill = green;
        visuals.widgets.inactive.bg_fill = brown;
        let slider = Slider::new(&mut steps, 0.0..=STEPS)
            .step_by(1.0)
            .show_value(false)
            .trailing_fill(true);
        ui.add(slider).named(SLIDER).on_hover_text(SLIDER_MEANS)
    });
    side(ui, page, Side::Green, 1.0 - share);
    if steps != before {
        drag_to(page, 1.0 - steps / STEPS);
    }
    if !response.inner.dragged() {
        page.state.class.dragging = false;
    }
}

/// So much of greens and browns brown; the heap at the beginning of the drag becomes the ghost.
fn drag_to(page: &mut Page<'_>, brown_share: f64) {
    if !page.state.class.dragging {
        page.state.class.dragging = true;
        page.shown.pinned = page.shown.to_pin();
        let peak_c = page.shown.last_peak_c();
        page.state.class.guess.ask(peak_c);
    }
    let from = page.state.class.exchange_from(&page.project.mix);
    let buckets = &page.state.buckets;
    let (green, brown) = (buckets.green.as_str(), buckets.brown.as_str());
    let newcomers = Newcomers { green, brown };
    if let Ok(now) = exchanged(&from, page.catalogue, brown_share, newcomers) {
        page.project.mix = now.clone();
        page.state.class.exchange = Some(Exchange { from, now });
    }
}

/// What of the mix is on a side, in lines.
fn names_on(page: &Page<'_>, side: Side) -> String {
    let rows = page.project.mix.ingredients.iter();
    let known = rows.filter_map(|row| page.catalogue.find(&row.material));
    let names = known.filter(|material| material.side() == side);
    let names: Vec<&str> = names.map(|material| material.name.as_str()).collect();
    names.join("\n")
}

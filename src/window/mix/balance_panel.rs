//! A balance to be looked at before it is used: what it would do, how far it goes, ways out.
//!
//! In: the preview. Out: asked-for actions. Its ghost needles are drawn by `gauges`, its marks on the sliders
//! by `amount_control`.
//!
//! Not here: finding it (`mix::balance`), its verdict in words (`text::balance`).
//!
//! Tested by: `tests/window/balance.rs`.

use eframe::egui::{Button, Key, Modifiers, ScrollArea, Ui};

use crate::mix::balance::{BalanceStep, Reached};
use crate::text::balance::{BalanceTold, way as way_words, way_brings};
use crate::text::mix::{step_from, step_to};

use crate::window::action::Action;
use crate::window::page::Page;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::{action_button, styled_button};

/// The column.
pub fn balance_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let Some(preview) = page.shown.preview.clone() else {
        return;
    };
    if ui.input_mut(|input| input.consume_key(Modifiers::NONE, Key::Escape)) {
        page.ask(Action::LeaveBalance);
    }
    ui.heading("Balance");
    let below = page.look.sizes.big_button * 1.5;
    ScrollArea::vertical()
        .id_salt("balance")
        .auto_shrink([false, true])
        .max_height((ui.available_height() - below).max(0.0))
        .show(ui, |ui| {
            let units = page.state.settings.units;
            let told = BalanceTold {
                mix: &page.project.mix,
                room_m3: page.project.heap.shape.room_m3(),
                catalogue: page.catalogue,
                balanced: &preview.balanced,
                units,
            };
            for line in told.verdict() {
                ui.label(unbroken(line));
            }
            steps_ui(ui, page, preview.steps());
            if let Reached::Nearest { ways_out, .. } = &preview.balanced.verdict {
                ui.add_space(page.look.sizes.gap);
                if !ways_out.is_empty() {
                    ui.label(strong("What would help"));
                }
                for (place, way) in ways_out.iter().enumerate() {
                    let chosen = preview.way == Some(place);
                    let text = way_words(way);
                    let button = Button::new(text.as_str()).selected(chosen).wrap();
                    styled_button(ui, page, Action::TryWay(place), button, &text)
                        .on_hover_text(unbroken(way_brings(way, units)));
                }
            }
        });
    ui.horizontal_wrapped(|ui| {
        for action in [Action::TakeBalance, Action::LeaveBalance] {
            if action == Action::TakeBalance && preview.steps().is_empty() {
                continue;
            }
            action_button(ui, page, action);
        }
    });
}

/// What would be done: how much there is then, and now.
fn steps_ui(ui: &mut Ui, page: &Page<'_>, steps: &[BalanceStep]) {
    let weak = page.look.colours.text_weak.0;
    for step in steps {
        ui.label(unbroken(step_to(step)));
        ui.label(unbroken(step_from(step)).small().color(weak));
    }
}

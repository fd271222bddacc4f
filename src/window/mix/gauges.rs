//! The column of gauges in the Mix view, and what mends each that is off.
//!
//! In: a page. Out: asked-for actions.
//!
//! Not here: what a gauge shows (`readings`), how it is drawn (`gauge`), what its band is (`mix::bands`).
//!
//! Tested by: `tests/window/gauge.rs`.

use eframe::egui::{Align, Button, Layout, Rect, Ui, UiBuilder};

use crate::mix;
use crate::text::mix as words;

use crate::window::action::Action;
use crate::window::page::Page;
use crate::window::theme::{Look, unbroken};
use crate::window::widgets::buttons::{action_button, styled_button};
use crate::window::widgets::gauge::{GaugeBar, ghost_swatch};
use crate::window::widgets::readings::{GaugedMix, ORDER, ghost, names, readings};

/// The column of gauges.
pub fn gauges_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let look = page.look;
    let Some(blend) = page.shown.stages.blend() else {
        let problem = page.shown.stages.problem();
        let problem = problem.map(ToString::to_string).unwrap_or_default();
        ui.colored_label(look.colours.bad.0, unbroken(problem));
        return;
    };
    let names = names(page);
    let readings = readings(&GaugedMix {
        blend,
        names: &names,
        ghost: ghost(page),
        room_m3: page.project.heap.shape.room_m3(),
        units: page.state.settings.units,
    });
    if readings.is_empty() {
        ui.label("Nothing to assess yet. Add a material, or move a slider off zero.");
        return;
    }
    let gap = spare_gap(ui, look);
    ui.spacing_mut().item_spacing.y = gap;
    for (gauge, reading) in ORDER.into_iter().zip(&readings) {
        let rect = ui.add(GaugeBar::new(reading, look)).rect;
        let room = GaugeBar::room_in_words(ui, rect, reading, look);
        fix_ui(ui, page, gauge, room);
    }
    if let Some((_, name)) = ghost(page) {
        ui.horizontal(|ui| {
            ghost_swatch(ui, look);
            let text = format!("{name} mix");
            ui.label(unbroken(text).small().color(look.colours.text_weak.0));
        });
    }
}

/// A button in a gauge's line of words with the easiest change that mends it, where it is off and there is room.
fn fix_ui(ui: &mut Ui, page: &mut Page<'_>, gauge: mix::Gauge, room: Rect) {
    let found = page
        .shown
        .stages
        .fixes()
        .iter()
        .find(|(of, _)| *of == gauge);
    let Some((_, fix)) = found else { return };
    if room.width() < page.look.sizes.fix_width {
        return;
    }
    let text = words::step_by(&fix.step);
    let change = fix.step.change.clone();
    let name = words::fix_name(gauge, &fix.step);
    let then = fix.after.gauges.as_ref();
    let then = then.map_or(f64::NAN, |after| after.value(gauge));
    let hint = words::fix_hint(gauge, &fix.step, then, page.state.settings.units);
    let button = Button::new(unbroken(&text).small()).truncate();
    // Beside the flow of the column: the gauge has taken its room already.
    let line = UiBuilder::new()
        .max_rect(room)
        .layout(Layout::left_to_right(Align::Center));
    let mut line = ui.new_child(line);
    line.spacing_mut().button_padding.y = 0.0;
    line.spacing_mut().interact_size.y = room.height();
    styled_button(&mut line, page, Action::Follow(change), button, &name)
        .on_hover_text(unbroken(hint));
}

/// The two buttons that look for a whole mix.
pub fn balance_buttons_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.horizontal_wrapped(|ui| {
        for action in [Action::Balance, Action::FillBin] {
            action_button(ui, page, action);
        }
    });
}

/// Room between gauges: what the column has to spare, within bounds.
fn spare_gap(ui: &Ui, look: Look<'_>) -> f32 {
    let gap = look.sizes.gap;
    let spare = ui.available_height() - GaugeBar::height(look) * (ORDER.len() as f32 + 0.6);
    (spare / ORDER.len() as f32).clamp(gap * 0.25, gap * 4.0)
}

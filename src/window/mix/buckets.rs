//! The two big buttons that add a bucket of green or brown, each with its chooser.
//!
//! In: the chosen materials. Out: the asked-for action.
//!
//! Not here: adding it (`verbs::perform`).
//!
//! Tested by: `tests/window/mix.rs`.

use eframe::egui::{self, Align, Button, ComboBox, Layout, Ui, vec2};

use crate::material::Side;

use crate::window::action::Action;
use crate::window::page::Page;
use crate::window::theme::strong;
use crate::window::widgets::buttons::styled_button;
use crate::window::widgets::named::Named;

/// The two big buttons, each with its chooser.
pub fn buckets_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let gap = page.look.sizes.gap;
    let width = (ui.available_width() - gap) / 2.0;
    ui.horizontal(|ui| {
        for side in [Side::Green, Side::Brown] {
            let size = vec2(width, page.look.sizes.big_button);
            ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
                ui.push_id(side as u8, |ui| bucket_ui(ui, page, side, size.x));
            });
        }
    });
}

fn bucket_ui(ui: &mut Ui, page: &mut Page<'_>, side: Side, width: f32) {
    let sizes = page.look.sizes;
    let chooser = sizes.chooser_width;
    let (word, chosen, colour) = match side {
        Side::Green => ("green", &page.facts.buckets.0, page.look.colours.green),
        _ => ("brown", &page.facts.buckets.1, page.look.colours.brown),
    };
    let text = format!("+1 bucket {chosen}");
    let button_width = width - chooser - sizes.gap;
    let letters = ((button_width - 3.0 * sizes.gap) / (sizes.body * 0.62)) as usize;
    let short = elided(chosen.split([',', '(']).next().unwrap_or(chosen), letters);
    let button = Button::new(strong(format!("+1 bucket\n{short}")))
        .stroke(egui::Stroke::new(sizes.needle, colour.0))
        .min_size(vec2(button_width, sizes.big_button));
    let size = vec2(button_width, sizes.big_button);
    ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
        styled_button(ui, page, Action::AddBucket(side), button, &text);
    });
    let current = match side {
        Side::Green => page.state.buckets.green.clone(),
        _ => page.state.buckets.brown.clone(),
    };
    ComboBox::from_id_salt("bucket")
        .selected_text("")
        .width(chooser)
        .show_ui(ui, |ui| {
            let materials = page.catalogue.materials();
            for material in materials.iter().filter(|material| material.side() == side) {
                if ui
                    .selectable_label(material.id == current, material.name.as_str())
                    .clicked()
                {
                    page.ask(Action::ChooseBucket(side, material.id.clone()));
                }
            }
        })
        .response
        .named(&format!("Choose the {word} material"))
        .on_hover_text("Chooses what the button adds a bucket of.");
}

/// A text of at most so many letters, the last one `…` where it was longer.
fn elided(text: &str, letters: usize) -> String {
    let text = text.trim();
    if text.chars().count() <= letters {
        return text.to_owned();
    }
    let kept: String = text.chars().take(letters.saturating_sub(1)).collect();
    format!("{}…", kept.trim_end())
}

//! The rounded surface that every region of a view lies on.
//!
//! In: a rectangle and what is drawn in it. Out: the surface with its contents.
//!
//! Not here: where regions stand (the views).
//!
//! Tested by: `tests/window/mix.rs`.

use eframe::egui::{CornerRadius, Rect, Stroke, StrokeKind, Ui, UiBuilder};

use crate::window::theme::Look;

/// A rounded surface that fills a rectangle, with contents inside its margin.
pub fn card(ui: &mut Ui, rect: Rect, look: Look<'_>, contents: impl FnOnce(&mut Ui)) {
    let round = CornerRadius::same(look.sizes.card_radius);
    let outline = Stroke::new(look.sizes.thin, look.colours.line.0);
    ui.painter()
        .rect_filled(rect, round, look.colours.surface.0);
    ui.painter()
        .rect_stroke(rect, round, outline, StrokeKind::Inside);
    let inner = rect.shrink(f32::from(look.sizes.pad));
    ui.scope_builder(UiBuilder::new().max_rect(inner), |ui| {
        ui.set_clip_rect(ui.clip_rect().intersect(rect));
        contents(ui);
    });
}

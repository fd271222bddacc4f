//! A wide sheet over all else: as wide and high as it would like to be and the window allows, and two columns on it.
//!
//! In: a name, a wished size, what is drawn. Out: the drawn sheet; whether the person wants to leave it.
//!
//! Not here: what stands on each sheet (`overlays`, `materials`), small dialogs.
//!
//! Tested by: `tests/window/complaint.rs`, `tests/window/import.rs`, `tests/window/plan_search.rs`.

use eframe::egui::{Align, Id, Layout, Modal, Ui, Vec2, vec2};

use crate::window::page::Page;
use crate::window::theme::{Sizes, sheet, unbroken};

/// The largest a sheet may be inside its margin, so that the window still shows all of it, points.
pub(in crate::window) fn sheet_room(ui: &Ui, sizes: &Sizes) -> Vec2 {
    let margin = 2.0 * f32::from(sizes.pad + sizes.pad / 2);
    ui.ctx().content_rect().size() - Vec2::splat(margin + 2.0 * sizes.gap)
}

/// Draws a sheet that would like to be of this size, points; whether the person wants to leave it (Esc, or a click
/// beside it).
///
/// It is always as high, so that nothing moves below the pointer when its contents change.
pub(in crate::window) fn sheet_ui(
    ui: &Ui,
    sizes: &Sizes,
    (name, wished): (&'static str, Vec2),
    contents: impl FnOnce(&mut Ui),
) -> bool {
    let size = wished.min(sheet_room(ui, sizes));
    Modal::new(Id::unique(name))
        .frame(sheet(ui, sizes))
        .show(ui.ctx(), |ui| {
            ui.set_width(size.x);
            ui.set_height(size.y);
            contents(ui);
        })
        .should_close()
}

/// One of the two columns of a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(in crate::window) enum Side {
    /// What is asked or chosen.
    Left,
    /// What follows from it.
    Right,
}

/// Two columns over all the room that is left; the left one takes this share of the width, 0-1.
pub(in crate::window) fn two_columns_ui(
    ui: &mut Ui,
    sizes: &Sizes,
    left_share: f32,
    mut contents: impl FnMut(&mut Ui, Side),
) {
    let (room, gap) = (ui.available_size(), sizes.gap);
    ui.horizontal_top(|ui| {
        let mut column = |ui: &mut Ui, width: f32, side: Side| {
            ui.allocate_ui_with_layout(vec2(width, room.y), Layout::top_down(Align::Min), |ui| {
                ui.set_width(width);
                contents(ui, side);
            });
        };
        column(ui, left_share * room.x - gap, Side::Left);
        ui.add_space(gap);
        column(ui, (1.0 - left_share) * room.x - 2.0 * gap, Side::Right);
    });
}

/// A small line in weak letters.
pub(in crate::window) fn small_ui(ui: &mut Ui, page: &Page<'_>, text: &str) {
    let weak = page.look.colours.text_weak.0;
    ui.label(unbroken(text).small().color(weak));
}

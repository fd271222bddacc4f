//! How the rows of a mix are laid: on one line or two, how wide the name, the measure and what follows are.
//!
//! In: how many rows, the width of the column. Out: lines, widths, the height that needs no scrolling.
//!
//! Decided once for all rows, the water's too: their columns stand below each other.
//! Not here: what stands on a line (`ingredient_rows`, `water_row`).
//!
//! Tested by: `tests/window/mix.rs`.

use eframe::egui::{Align, Layout, Ui, vec2};

use crate::window::theme::{Look, Sizes};

/// Most of a line that the measure of an amount takes.
const MEASURE_SHARE: f32 = 0.23;
/// Room between two lines, gaps.
pub(super) const ROW_GAP: f32 = 0.4;
/// Rows up to which each has two lines, the second for its slider.
const TWO_LINES_UP_TO: usize = 4;

/// On how many lines each row stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Lines {
    /// Name, amount and buttons beside each other.
    One,
    /// The amount below the name, with a longer slider.
    Two,
}

impl Lines {
    /// One where the column is wide and so many rows would not all be seen on two.
    pub fn of(rows: usize, column_width: f32, look: Look<'_>) -> Self {
        if rows > TWO_LINES_UP_TO && column_width >= look.sizes.one_line_from_width {
            Self::One
        } else {
            Self::Two
        }
    }

    /// Room kept behind the amount for what there is and for the row's buttons.
    pub(super) fn after_amount(self, sizes: &Sizes) -> f32 {
        match self {
            Self::One => sizes.have_width + sizes.row_buttons_width + 2.0 * sizes.gap,
            Self::Two => 0.0,
        }
    }
}

/// Height at which so many rows need no scrolling in a column so wide.
pub fn wanted_height(rows: usize, column_width: f32, look: Look<'_>) -> f32 {
    let sizes = look.sizes;
    let lines = match Lines::of(rows, column_width, look) {
        Lines::One => 1.0,
        Lines::Two => 2.0,
    };
    let row = lines * (sizes.control_height + ROW_GAP * sizes.gap);
    let around = sizes.control_height + sizes.big_button + 4.0 * sizes.gap;
    (rows as f32 + 1.0) * row + around
}

pub(super) fn handle_width(look: Look<'_>) -> f32 {
    2.0 * look.sizes.gap
}

/// The name at the head of a row that stands on one line.
pub(super) fn name_column_ui(ui: &mut Ui, sizes: &Sizes, contents: impl FnOnce(&mut Ui)) {
    let room = ui.available_width() - Lines::One.after_amount(sizes);
    column_ui(ui, room * sizes.name_share, sizes, contents);
}

/// A part of a line with a width of its own.
pub(super) fn column_ui(ui: &mut Ui, width: f32, sizes: &Sizes, contents: impl FnOnce(&mut Ui)) {
    let size = vec2(width, sizes.control_height);
    ui.allocate_ui_with_layout(size, Layout::left_to_right(Align::Center), |ui| {
        ui.set_width(width);
        contents(ui);
    });
}

/// Widths behind a slider: the measure of the amount, and all that follows the slider.
pub(super) fn widths_after_slider(ui: &Ui, lines: Lines, sizes: &Sizes) -> (f32, f32) {
    let measure = sizes
        .measure_width
        .min(MEASURE_SHARE * ui.available_width());
    let all = sizes.value_width + measure + 2.0 * sizes.gap + lines.after_amount(sizes);
    (measure, all)
}

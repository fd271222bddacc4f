//! Files in a recipe folder that are no recipes, each with the reason.
//!
//! In: a listed folder. Out: a few lines.
//!
//! Not here: finding them (`document::library`).
//!
//! Tested by: `tests/window/recipes.rs`.

use eframe::egui::Ui;

use crate::document::library::Library;
use crate::text::number;

use crate::window::page::Page;
use crate::window::theme::unbroken;

/// Most files that are told one by one.
const TOLD: usize = 3;

/// Files in the folder that are no recipes.
pub(super) fn problems_ui(ui: &mut Ui, page: &Page<'_>, library: &Library) {
    for problem in library.problems.iter().take(TOLD) {
        ui.colored_label(page.look.colours.bad.0, unbroken(problem.to_string()));
    }
    let more = library.problems.len().saturating_sub(TOLD);
    if more > 0 {
        ui.colored_label(
            page.look.colours.bad.0,
            unbroken(number::more(
                more,
                "file that cannot be read",
                "files that cannot be read",
            )),
        );
    }
}

//! When the heap was built: one sentence, one button, one field for a date.
//!
//! In: the diary. Out: an asked-for date.
//!
//! Not here: what follows from it (`verbs::diary`).
//!
//! Tested by: `tests/window/diary.rs`.

use eframe::egui::{TextEdit, Ui};

use crate::text::diary::built;
use crate::text::typed_reading::{moment_typed, no_date, read_moment};

use crate::window::action::{Action, DiaryAction};
use crate::window::page::Page;
use crate::window::piles::diary_choices::NOON;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::action_button;
use crate::window::widgets::named::Named;

/// The row.
pub fn built_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let look = page.look;
    let known = page.project.diary.built;
    let heading = match known {
        Some(at) => built(at, page.project.diary.day_of(page.now)),
        None => "The heap is not built yet.".to_owned(),
    };
    ui.label(strong(heading));
    ui.horizontal(|ui| {
        if known.is_none() {
            action_button(ui, page, Action::Diary(DiaryAction::Built(page.now)));
        }
        ui.label("built on");
        let before = known.map(moment_typed).unwrap_or_default();
        let mut text = page.state.diary.built.clone().unwrap_or(before.clone());
        let field = ui
            .add(
                TextEdit::singleline(&mut text)
                    .hint_text("2026-05-03")
                    .desired_width(look.sizes.date_width),
            )
            .named("Built on")
            .on_hover_text(
                "Day the heap was built, and the time if you know it; readings keep their dates.",
            );
        if field.changed() {
            page.state.diary.built = Some(text.clone());
            page.state.diary.built_problem.clear();
        }
        if field.lost_focus() && text != before {
            match read_moment(&text, NOON) {
                Some(at) => page.ask(Action::Diary(DiaryAction::Built(at))),
                None if text.trim().is_empty() => page.state.diary.built = None,
                None => page.state.diary.built_problem = no_date(&text),
            }
        }
    });
    problem_ui(ui, page, &page.state.diary.built_problem.clone());
}

/// What was wrong with something typed, if anything was.
pub(super) fn problem_ui(ui: &mut Ui, page: &Page<'_>, problem: &str) {
    if !problem.is_empty() {
        ui.label(unbroken(problem).color(page.look.colours.bad.0));
    }
}

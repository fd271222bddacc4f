//! What the readings say of the heap, where to measure next, and which of both is followed.
//!
//! In: what was learnt. Out: sentences; the switch, edited; an asked-for place for the form.
//!
//! Not here: learning (`jobs::learning`), words (`text::diary_learnt`).
//!
//! Tested by: `tests/window/diary_learnt.rs`.

use eframe::egui::Ui;

use crate::text::diary_learnt::{
    AS_LEARNT, AS_LEARNT_TIP, AS_PLANNED, AS_PLANNED_TIP, LEARNING, gained, kept_out, next,
    outside, spoken, why_not,
};

use crate::window::action::{Action, DiaryAction};
use crate::window::page::Page;
use crate::window::piles::diary_choices::Followed;
use crate::window::piles::learnt_shown::Following;
use crate::window::theme::unbroken;
use crate::window::widgets::buttons::action_button;

/// The switch beside the plot, once something was learnt.
pub fn switch_ui(ui: &mut Ui, following: &Following, followed: &mut Followed) {
    if following.learnt.is_none() {
        return;
    }
    for (choice, word, tip) in [
        (Followed::Planned, AS_PLANNED, AS_PLANNED_TIP),
        (Followed::Learnt, AS_LEARNT, AS_LEARNT_TIP),
    ] {
        ui.selectable_value(followed, choice, word)
            .on_hover_text(tip);
    }
}

/// What was learnt, in sentences.
pub fn learnt_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let units = page.state.settings.units;
    let Some(shown) = page.shown.following.learnt.clone() else {
        let why = page.shown.following.why_not.as_ref().and_then(why_not);
        let busy = page.shown.following.busy.then_some(LEARNING);
        if let Some(said) = busy.or(why) {
            ui.weak(said);
            ui.add_space(page.look.sizes.gap);
        }
        return;
    };
    let learnt = &shown.learnt;
    ui.heading("What the readings say");
    ui.label(unbroken(gained(
        learnt.residuals.len(),
        &learnt.gained,
        units,
    )));
    ui.label(unbroken(spoken(learnt)));
    if page.shown.following.busy {
        ui.weak(LEARNING);
    }
    let left_out = learnt.kept_out.iter().map(|it| it.count).sum();
    for said in [outside(learnt.outside().count()), kept_out(left_out)] {
        if let Some(said) = said {
            ui.label(unbroken(said));
        }
    }
    if let Some(proposed) = &learnt.next {
        let on = page.project.diary.moment_of(proposed.day);
        ui.label(unbroken(next(proposed, on, units)));
        action_button(ui, page, Action::Diary(DiaryAction::TakeProposed));
    }
    ui.add_space(page.look.sizes.gap);
}

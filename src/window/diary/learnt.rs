//! What the readings say of the heap, where to measure next, and which of both is followed.
//!
//! In: what was learnt. Out: sentences; the switch, edited; an asked-for place for the form.
//!
//! Not here: learning (`jobs::learning`), words (`text::learnt`).
//!
//! Tested by: `tests/window/diary_learnt.rs`.

use std::sync::Arc;

use eframe::egui::Ui;

use crate::text::diary::{AS_LEARNT, AS_LEARNT_TIP, AS_PLANNED, AS_PLANNED_TIP, LEARNING, outside};
use crate::text::learnt::{
    CAVEAT, SAYS_NOTHING, SPEAKS_OF, gained, kept_out, next_reading, not_learnt, shift,
};

use crate::window::action::{Action, DiaryAction};
use crate::window::page::Page;
use crate::window::piles::diary_choices::Followed;
use crate::window::piles::learnt_shown::Following;
use crate::window::theme::unbroken;
use crate::window::widgets::buttons::action_button;

/// Most inputs that are spoken of.
const MOST_SPOKEN: usize = 3;

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
    let known = page.shown.following.learnt.as_ref();
    let Some(learnt) = known.map(|shown| Arc::clone(&shown.learnt)) else {
        let following = &page.shown.following;
        let busy = following.busy.then(|| LEARNING.to_owned());
        if let Some(said) = busy.or(following.why_not.as_ref().map(not_learnt)) {
            ui.weak(said);
            ui.add_space(page.look.sizes.gap);
        }
        return;
    };
    ui.heading(SPEAKS_OF);
    if page.shown.following.busy {
        ui.weak(LEARNING);
    }
    let spoken = learnt.spoken_of();
    for said in spoken.iter().take(MOST_SPOKEN).map(|it| shift(it)) {
        ui.label(unbroken(format!("• {said}")));
    }
    let caveat = if spoken.is_empty() {
        SAYS_NOTHING
    } else {
        CAVEAT
    };
    let weak = page.look.colours.text_weak.0;
    ui.label(unbroken(caveat).small().color(weak));
    ui.label(unbroken(gained(&learnt.gained, units)));
    let left_out = learnt.kept_out.iter().map(kept_out);
    for said in outside(learnt.outside().count())
        .into_iter()
        .chain(left_out)
    {
        ui.label(unbroken(said));
    }
    if let Some(proposed) = &learnt.next {
        ui.label(unbroken(next_reading(proposed, units)));
        action_button(ui, page, Action::Diary(DiaryAction::TakeProposed));
    }
    ui.add_space(page.look.sizes.gap);
}

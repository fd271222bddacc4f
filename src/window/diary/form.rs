//! The form of a reading: where, how warm, when; in a fold all else that can be measured or noted.
//!
//! In: what is typed. Out: the same, kept as typed; an asked-for entry.
//!
//! Not here: reading what was typed (`diary_choices`), putting it into the diary (`verbs::diary`).
//!
//! Tested by: `tests/window/diary.rs`.

use eframe::egui::{Button, ComboBox, Key, TextEdit, Ui};

use crate::diary::{Smell, Squeeze};
use crate::text::diary::{FORM_HINT, PLACES, place, smell, squeeze};
use crate::text::typed_reading::moment_typed;

use crate::window::action::{Action, DiaryAction};
use crate::window::diary::built::problem_ui;
use crate::window::page::Page;
use crate::window::theme::unbroken;
use crate::window::widgets::buttons::{action_button, styled_button};
use crate::window::widgets::named::Named;

/// Name of the field for the temperature.
pub const TEMPERATURE: &str = "Temperature of the reading";

/// The form.
pub fn form_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.weak(FORM_HINT);
    places_ui(ui, page);
    let mut enter = false;
    ui.horizontal_wrapped(|ui| {
        enter |= temperature_ui(ui, page);
        enter |= when_ui(ui, page);
        let changing = page.state.diary.changing.is_some();
        let action = Action::Diary(DiaryAction::Enter);
        if changing {
            styled_button(ui, page, action, Button::new("Change it"), "Change it");
            action_button(ui, page, Action::Diary(DiaryAction::Leave));
        } else {
            action_button(ui, page, action);
        }
        let open = page.state.diary.more_open;
        let more = ui
            .selectable_label(open, "more")
            .named("More parts of a reading")
            .on_hover_text("Shows or folds moisture, oxygen, height, smell, note and photo.");
        if more.clicked() {
            page.state.diary.more_open = !open;
        }
    });
    if page.state.diary.more_open {
        more_ui(ui, page, &mut enter);
    }
    problem_ui(ui, page, &page.state.diary.problem.clone());
    if enter {
        page.ask(Action::Diary(DiaryAction::Enter));
    }
}

/// The places that have a name, and how far out any other is.
fn places_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.horizontal_wrapped(|ui| {
        let spot = page.state.diary.form.spot;
        for known in PLACES {
            let chosen = spot == known.spot;
            let name = format!("Place: {}", known.name);
            let label = ui.selectable_label(chosen, known.name).named(&name);
            if label.on_hover_text(known.tip).clicked() {
                page.state.diary.form.spot = known.spot;
                page.state.diary.wants_keyboard = true;
            }
        }
        if PLACES.iter().all(|known| known.spot != spot) {
            ui.label(unbroken(place(spot)).color(page.look.colours.text_weak.0));
        }
    });
}

/// The temperature; whether Enter was pressed in it.
fn temperature_ui(ui: &mut Ui, page: &mut Page<'_>) -> bool {
    let unit = page.state.settings.units.temperature_unit();
    let width = page.look.sizes.least_width;
    let diary = &mut page.state.diary;
    let field = ui.add(
        TextEdit::singleline(&mut diary.form.temperature)
            .hint_text(unit)
            .desired_width(width),
    );
    let field = field
        .named(TEMPERATURE)
        .on_hover_text("What the thermometer shows; Enter puts it into the diary.");
    ui.label(unit);
    if std::mem::take(&mut diary.wants_keyboard) {
        field.request_focus();
    }
    if field.changed() {
        diary.problem.clear();
    }
    field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter))
}

/// The date, now unless another was typed; whether Enter was pressed in it.
fn when_ui(ui: &mut Ui, page: &mut Page<'_>) -> bool {
    let at = &mut page.state.diary.form.at;
    let mut text = at.clone().unwrap_or_else(|| moment_typed(page.now));
    let field = ui
        .add(TextEdit::singleline(&mut text).desired_width(page.look.sizes.date_width))
        .named("When the reading was taken")
        .on_hover_text("Date and time of the reading; now, unless you type another.");
    if field.changed() {
        *at = (!text.trim().is_empty()).then_some(text);
        page.state.diary.problem.clear();
    }
    field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter))
}

/// Everything else a reading can say; `enter` is set where Enter was pressed in a field.
fn more_ui(ui: &mut Ui, page: &mut Page<'_>, enter: &mut bool) {
    let (look, units) = (page.look, page.state.settings.units);
    let form = &mut page.state.diary.form;
    ui.horizontal_wrapped(|ui| {
        ui.label("squeezed");
        let shown = form.squeeze.map_or("not tried", squeeze);
        ComboBox::from_id_salt("squeeze")
            .selected_text(shown)
            .width(2.0 * look.sizes.measure_width)
            .show_ui(ui, |ui| {
                ui.selectable_value(&mut form.squeeze, None, "not tried");
                for class in Squeeze::ALL {
                    ui.selectable_value(&mut form.squeeze, Some(class), squeeze(class));
                }
            })
            .response
            .named("Squeezed in the hand")
            .on_hover_text("What a handful does when you squeeze it hard.");
    });
    let mut field = |ui: &mut Ui, words: (&str, &str, &str), name: &str, text: &mut String| {
        let (before, unit, tip) = words;
        ui.label(before);
        let field = ui
            .add(TextEdit::singleline(text).desired_width(0.8 * look.sizes.least_width))
            .named(name)
            .on_hover_text(tip);
        ui.label(unit);
        *enter |= field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
    };
    ui.horizontal_wrapped(|ui| {
        let tip = "Water by a moisture probe, in per cent of the weight.";
        field(
            ui,
            ("moisture", "%", tip),
            "Moisture by probe",
            &mut form.moisture,
        );
        let tip = "Oxygen in the air of the pores, in per cent.";
        field(ui, ("oxygen", "%", tip), "Oxygen", &mut form.oxygen);
        let tip = "Height of the heap in the middle.";
        let unit = units.length_unit();
        field(ui, ("height", unit, tip), "Height", &mut form.height);
    });
    ui.horizontal_wrapped(|ui| {
        ui.label("smells");
        let shown = form.smell.map_or("not noted", smell);
        ComboBox::from_id_salt("smell")
            .selected_text(shown)
            .width(1.6 * look.sizes.measure_width)
            .show_ui(ui, |ui| {
                ui.selectable_value(&mut form.smell, None, "not noted");
                for it in Smell::ALL {
                    ui.selectable_value(&mut form.smell, Some(it), smell(it));
                }
            })
            .response
            .named("Smell")
            .on_hover_text("What the heap smells of.");
    });
    for (text, hint, name, tip) in [
        (
            &mut form.note,
            "a note",
            "Note",
            "Anything worth keeping with it.",
        ),
        (
            &mut form.photo,
            "path or link of a photo",
            "Photo",
            "Where a photo of it lies: a path or a link.",
        ),
    ] {
        let field = TextEdit::singleline(text)
            .hint_text(hint)
            .desired_width(f32::INFINITY);
        ui.add(field).named(name).on_hover_text(tip);
    }
}

//! A lesson in the Class view, stop by stop.
//!
//! In: a page. Out: asked-for actions; whether the speaker's notes are shown.
//!
//! Not here: the trial that a stop shows (`trial`), the syntax of lessons (`assets/lessons`).
//!
//! Tested by: `tests/window/class_trials.rs`.

use eframe::egui::{ComboBox, Ui};

use crate::assess::trial::Show;
use crate::mix::{Gauge, Ingredient, Mix, bands, blend};
use crate::text::amount;
use crate::text::material as material_words;
use crate::text::mix::gauge_and_verdict;

use crate::window::action::{Action, ClassAction};
use crate::window::class::steps::{Above, words_ui};
use crate::window::class::trial::split_ui;
use crate::window::page::Page;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::named::Named;

/// The list of lessons.
pub(in crate::window) fn choose_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let place = page.state.class.lesson.0;
    let lessons = &page.shelf.books.lessons;
    let title = lessons
        .get(place)
        .map_or("", |lesson| lesson.title.as_str());
    ComboBox::from_id_salt("lesson")
        .selected_text(title)
        .width(page.look.sizes.title_width * 0.8)
        .truncate()
        .show_ui(ui, |ui| {
            for (other, lesson) in lessons.iter().enumerate() {
                let text = format!("{} ({} min)", lesson.title, lesson.minutes);
                if ui.selectable_label(other == place, text).clicked() {
                    page.actions.push(Action::Class(ClassAction::Lesson(other)));
                }
            }
        })
        .response
        .named("Lesson")
        .on_hover_text("Chooses a lesson; its stops come in order.");
}

/// A stop of a lesson.
pub fn lesson_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let (place, at) = page.state.class.lesson;
    let books = &page.shelf.books;
    let Some((lesson, stop)) = books
        .lessons
        .get(place)
        .and_then(|lesson| Some((lesson, lesson.stops.get(at)?)))
    else {
        ui.label("There are no lessons.");
        return;
    };
    let words = Above {
        heading: format!("stop {} of {}", at + 1, lesson.stops.len()),
        say: Some(&stop.say),
    };
    let trial = page.state.class.trial(books);
    match &stop.show {
        Show::Material(id) => words_ui(ui, page, &words, |ui, page| {
            if page.state.class.guess.hidden {
                return;
            }
            reveal_ui(ui, page, &stop.reveal);
            if let Some(material) = page.catalogue.find(id) {
                ui.label(unbroken(material_words::tooltip(
                    material,
                    page.catalogue,
                    page.state.settings.units,
                )));
            }
        }),
        Show::Trial(_) => split_ui(ui, page, trial, &words),
        Show::Mix(_) | Show::Question => words_ui(ui, page, &words, |ui, page| {
            mix_ui(ui, page, &stop.show);
            if !page.state.class.guess.hidden {
                reveal_ui(ui, page, &stop.reveal);
            }
        }),
    }
}

/// What the class sees once it has guessed.
fn reveal_ui(ui: &mut Ui, page: &Page<'_>, reveal: &str) {
    let (size, colour) = (page.look.sizes.verdict, page.look.colours.good.0);
    if !reveal.is_empty() {
        ui.label(strong(reveal).size(size).color(colour));
    }
}

/// A mix that a stop names, with what its gauges say.
fn mix_ui(ui: &mut Ui, page: &Page<'_>, show: &Show) {
    let Show::Mix(rows) = show else { return };
    let rows = rows
        .iter()
        .map(|(id, amount)| Ingredient::new(id, amount.clone()));
    let mix = Mix {
        ingredients: rows.collect(),
        added_water_l: 0.0,
    };
    for row in &mix.ingredients {
        let name = page.name_of(&row.material);
        ui.label(unbroken(amount::amount_of(&row.amount, &name)));
    }
    if page.state.class.guess.hidden {
        return;
    }
    let parts = mix.resolve(page.catalogue).ok();
    let gauges = parts.and_then(|parts| blend(&parts, mix.added_water_l).gauges);
    let Some(gauges) = gauges else { return };
    for (gauge, band) in [
        (Gauge::CarbonNitrogen, bands::CN),
        (Gauge::Moisture, bands::MOISTURE),
    ] {
        let value = gauges.value(gauge);
        let text = gauge_and_verdict(gauge, value, band, page.state.settings.units);
        ui.label(strong(text).heading());
    }
}

//! Trials and lessons in the Class view: what is claimed, both heaps, the effect, what is known.
//!
//! In: a page. Out: asked-for actions.
//!
//! Verdicts come with the effects; nothing here decides what a class is told.
//! Not here: running (`trial_runs`), the other half of the view (`class_view`).
//!
//! Tested by: `tests/window/class.rs`.

use eframe::egui::{Button, ComboBox, Rect, RichText, ScrollArea, Slider, Spinner, Ui, pos2};

use crate::assess::trial::{Show, Trial};
use crate::forecast::{Comparison, Effect, Measured};
use crate::mix::{Gauge, Ingredient, Mix, bands, blend};
use crate::text;

use crate::export::section::Shows;
use crate::text::amount;
use crate::text::material as material_words;
use crate::text::mix::gauge_and_verdict;
use crate::window::action::{Action, ClassAction};
use crate::window::class::guess_panel::{Guessed, guess_ui};
use crate::window::jobs::trial::SideBySide;
use crate::window::page::Page;
use crate::window::piles::curve::Curve;
use crate::window::piles::trial_shown::TrialShown;
use crate::window::theme::strong;
use crate::window::widgets::buttons::{action_button, styled_button};
use crate::window::widgets::card::card;
use crate::window::widgets::cross_section::CrossSection;
use crate::window::widgets::heat_plot::HeatPlot;
use crate::window::widgets::named::Named;

/// Most effects shown at once: the largest.
const MOST_EFFECTS: usize = 4;
/// What stands above a result that belongs to the recipe as it was.
pub const STALE: &str = "The recipe has changed since this was run; run it again.";

/// A trial picked from the list.
pub fn trial_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let place = page.state.class.trial;
    let trials = &page.shelf.books.trials;
    let Some(trial) = trials.get(place) else {
        ui.label("There are no trials.");
        return;
    };
    ComboBox::from_id_salt("trial list")
        .selected_text(trial.title.as_str())
        .width(ui.available_width() * 0.5)
        .show_ui(ui, |ui| {
            for (other, trial) in trials.iter().enumerate() {
                if ui.selectable_label(other == place, &trial.title).clicked() {
                    page.actions.push(Action::Class(ClassAction::Trial(other)));
                }
            }
        })
        .response
        .named("Trial")
        .on_hover_text("All trials, the built-in ones first.");
    let words = Words {
        heading: format!("{} of {}", place + 1, trials.len()),
        say: None,
        notes: None,
    };
    split_ui(ui, page, Some(trial), &words);
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
    ui.horizontal(|ui| {
        ComboBox::from_id_salt("lesson")
            .selected_text(lesson.title.as_str())
            .width(ui.available_width() * 0.5)
            .show_ui(ui, |ui| {
                for (other, lesson) in books.lessons.iter().enumerate() {
                    let text = format!("{} ({} min)", lesson.title, lesson.minutes);
                    if ui.selectable_label(other == place, text).clicked() {
                        page.ask(Action::Class(ClassAction::Lesson(other)));
                    }
                }
            })
            .response
            .named("Lesson")
            .on_hover_text("Chooses a lesson; its stops come in order.");
        ui.checkbox(&mut page.state.class.notes, "Notes")
            .named("Speaker's notes")
            .on_hover_text("Shows the speaker's notes of each stop.");
    });
    let words = Words {
        heading: format!("stop {} of {}", at + 1, lesson.stops.len()),
        say: Some(&stop.say),
        notes: page.state.class.notes.then_some(stop.notes.as_str()),
    };
    let trial = page.state.class.trial(books);
    match &stop.show {
        Show::Material(id) => words_ui(ui, page, &words, |ui, page| {
            if let Some(material) = page.catalogue.find(id)
                && !page.state.class.guess.hidden
            {
                ui.label(material_words::tooltip(
                    material,
                    page.catalogue,
                    page.state.settings.units,
                ));
            }
        }),
        Show::Trial(_) => split_ui(ui, page, trial, &words),
        Show::Mix(_) | Show::Question => words_ui(ui, page, &words, |ui, page| {
            mix_ui(ui, page, &stop.show);
        }),
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
        ui.label(amount::amount_of(&row.amount, &name));
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

/// What stands above a trial.
struct Words<'a> {
    heading: String,
    say: Option<&'a str>,
    notes: Option<&'a str>,
}

/// Words alone, over the whole width.
fn words_ui(
    ui: &mut Ui,
    page: &mut Page<'_>,
    words: &Words<'_>,
    more: impl FnOnce(&mut Ui, &mut Page<'_>),
) {
    let whole = ui.available_rect_before_wrap();
    card(ui, whole, page.look, |ui| {
        steps_ui(ui, page, words);
        more(ui, page);
        if page.state.class.guess.hidden {
            action_button(ui, page, Action::Class(ClassAction::Reveal));
        }
    });
}

/// Previous and next, and what is said.
fn steps_ui(ui: &mut Ui, page: &mut Page<'_>, words: &Words<'_>) {
    ui.horizontal(|ui| {
        for action in [ClassAction::Previous, ClassAction::Next] {
            action_button(ui, page, Action::Class(action));
        }
        ui.label(&words.heading);
    });
    if let Some(say) = words.say {
        ui.label(strong(say).heading());
    }
    if let Some(notes) = words.notes {
        ui.label(RichText::new(notes).italics());
    }
}

/// Words at the left, what came out at the right.
fn split_ui(ui: &mut Ui, page: &mut Page<'_>, trial: Option<&Trial>, words: &Words<'_>) {
    let Some(trial) = trial else {
        return words_ui(ui, page, words, |_, _| {});
    };
    let whole = ui.available_rect_before_wrap();
    let (gap, look) = (page.look.sizes.gap, page.look);
    let split_x = whole.left() + whole.width() * 0.42;
    let left = Rect::from_min_max(whole.min, pos2(split_x, whole.bottom()));
    let right = Rect::from_min_max(pos2(split_x + gap, whole.top()), whole.max);
    card(ui, left, look, |ui| {
        ScrollArea::vertical().id_salt("trial").show(ui, |ui| {
            steps_ui(ui, page, words);
            if words.say.is_none() {
                ui.label(strong(&trial.title).heading());
            }
            ui.label(format!("Claimed: {}", trial.claim));
            ui.label(&trial.differs);
            run_ui(ui, page, trial);
            guess_ui(ui, page, Guessed::PeakChange);
            known_ui(ui, page, trial);
        });
    });
    card(ui, right, look, |ui| answer_ui(ui, page, trial));
}

fn run_ui(ui: &mut Ui, page: &mut Page<'_>, trial: &Trial) {
    if !trial.can_be_run() {
        ui.label(strong("The model cannot test this: evidence only."));
        return;
    }
    let running = shown_of(page, trial).is_some_and(|shown| shown.running);
    let action = Action::Class(if running {
        ClassAction::StopTrial
    } else {
        ClassAction::RunTrial
    });
    let text = action.text(page.facts);
    styled_button(ui, page, action, Button::new(strong(text.as_str())), &text);
}

/// What has been published, and what the model leaves out.
fn known_ui(ui: &mut Ui, page: &Page<'_>, trial: &Trial) {
    if page.state.class.guess.hidden {
        return;
    }
    for evidence in &trial.evidence {
        ui.separator();
        ui.label(format!("Published: {}", evidence.finding));
        let source = format!("{} ({})", evidence.source, text::trial::mark(evidence.mark));
        ui.label(RichText::new(source).color(page.look.colours.text_weak.0));
    }
    ui.separator();
    ui.label(format!("The model cannot tell: {}", trial.cannot_tell));
}

fn shown_of<'a>(page: &'a Page<'_>, trial: &Trial) -> Option<&'a TrialShown> {
    let shown = page.shown.trial.as_ref()?;
    (shown.trial == trial.id).then_some(shown)
}

/// Curves or insides, and the effects below.
fn answer_ui(ui: &mut Ui, page: &mut Page<'_>, trial: &Trial) {
    if page.state.class.guess.hidden {
        ui.label("Guess first: the answer is hidden.");
        return;
    }
    let Some(shown) = shown_of(page, trial).cloned() else {
        ui.label(if trial.can_be_run() {
            "Run it, and both heaps appear here."
        } else {
            "There is nothing to run; what is published is shown beside it."
        });
        return;
    };
    if page.shown.is_trial_stale() {
        ui.label(strong(STALE));
    }
    if let Some(problem) = &shown.problem {
        ui.colored_label(page.look.colours.bad.0, problem);
        return;
    }
    ui.horizontal(|ui| {
        let inside = &mut page.state.class.inside;
        ui.selectable_value(inside, false, "Curves")
            .named("Curves")
            .on_hover_text("The heat at the centre of both, with the band of all pairs.");
        ui.selectable_value(inside, true, "Insides")
            .named("Insides")
            .on_hover_text("Both heaps cut open on the same day.");
        if shown.running {
            ui.add(Spinner::new());
        }
        if let Some(pairs) = &shown.comparison {
            ui.label(format!("{} pairs", pairs.pairs()));
        }
    });
    let effects = shown.comparison.as_deref().map(largest).unwrap_or_default();
    let lines = effects.len() as f32 * 2.2 * page.look.sizes.body;
    let picture = (ui.available_height() - lines).max(ui.available_height() * 0.45);
    if let (Some(heaps), Some(curves)) = (&shown.heaps, &shown.curves) {
        ui.allocate_ui(eframe::egui::vec2(ui.available_width(), picture), |ui| {
            if page.state.class.inside {
                insides_ui(ui, page, heaps);
            } else {
                curves_ui(ui, page, heaps, curves);
            }
        });
    }
    let units = page.state.settings.units;
    ScrollArea::vertical().id_salt("effects").show(ui, |ui| {
        for effect in effects {
            ui.label(text::trial::effect(effect, units));
        }
    });
}

/// The effects that count most, in thresholds of what can be felt.
fn largest(comparison: &Comparison) -> Vec<&Effect> {
    let mut effects: Vec<&Effect> = comparison.effects.iter().collect();
    // The peak stands first, whatever it is: every claim is about heat to begin with.
    let rank = |effect: &Effect| match effect.measured {
        Measured::Peak => f64::INFINITY,
        _ => effect.weight().abs(),
    };
    effects.sort_by(|a, b| rank(b).total_cmp(&rank(a)));
    effects.truncate(MOST_EFFECTS);
    effects
}

fn curves_ui(ui: &mut Ui, page: &Page<'_>, heaps: &SideBySide, curves: &[Curve; 2]) {
    ui.label("dashed: without the change; full line: with it");
    HeatPlot {
        curve: &curves[1],
        ghost: Some(&curves[0]),
        detail: None,
        key: false,
        start_day_of_year: heaps.start_day_of_year,
        days: heaps.days,
        units: page.state.settings.units,
        look: page.look,
    }
    .show(ui);
}

fn insides_ui(ui: &mut Ui, page: &mut Page<'_>, heaps: &SideBySide) {
    let days = heaps.days;
    let sizes = page.look.sizes;
    let room = ui.available_width() - sizes.slider_number;
    ui.spacing_mut().slider_width = room.max(sizes.least_width);
    ui.add(
        Slider::new(&mut page.state.class.day, 0.0..=days)
            .fixed_decimals(0)
            .prefix("day "),
    )
    .named("Day of both insides")
    .on_hover_text("Shows both heaps on this day.");
    let day = page.state.class.day;
    let (units, look) = (page.state.settings.units, page.look);
    ui.columns(2, |columns| {
        for ((column, projection), title) in columns
            .iter_mut()
            .zip(&heaps.heaps)
            .zip(["without", "with"])
        {
            column.label(strong(title));
            CrossSection {
                projection,
                day,
                shows: Shows::Temperature,
                units,
                look,
            }
            .show(column);
        }
    });
}

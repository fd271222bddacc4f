//! What a trial has shown: curves or insides of both heaps, and the effects that count most.
//!
//! In: a page, a trial. Out: which of the two is looked at, and the day of the insides.
//!
//! Verdicts come with the effects; nothing here decides what a class is told.
//! Not here: running it (`jobs::trial`), what is claimed (`trial`).
//!
//! Tested by: `tests/window/class_trials.rs`.

use eframe::egui::{ScrollArea, Slider, Spinner, Ui};

use crate::assess::trial::Trial;
use crate::forecast::{Comparison, Effect, Measured};
use crate::heap::SectionValue;
use crate::text;

use crate::window::jobs::trial::SideBySide;
use crate::window::page::Page;
use crate::window::piles::curve::Curve;
use crate::window::piles::trial_shown::TrialShown;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::cross_section::CrossSection;
use crate::window::widgets::heat_plot::HeatPlot;
use crate::window::widgets::named::Named;

/// Most effects shown at once: the largest.
const MOST_EFFECTS: usize = 4;
/// What stands above a result that belongs to the recipe as it was.
pub const STALE: &str = "The recipe has changed since this was run; run it again.";

/// What this trial has shown, if it is the one that was run last.
pub(in crate::window) fn shown_of<'a>(page: &'a Page<'_>, trial: &Trial) -> Option<&'a TrialShown> {
    let shown = page.shown.trial.as_ref()?;
    (shown.trial == trial.id).then_some(shown)
}

/// Curves or insides, and the effects below.
pub(in crate::window) fn answer_ui(ui: &mut Ui, page: &mut Page<'_>, trial: &Trial) {
    if page.state.class.guess.hidden {
        ui.heading("Guess first: the answer is hidden.");
        return;
    }
    if !trial.can_be_run() {
        ui.label("There is nothing to run; what is published is shown beside it.");
        let size = page.look.sizes.verdict;
        ScrollArea::vertical().id_salt("known").show(ui, |ui| {
            ui.label(
                strong(&trial.answer)
                    .size(size)
                    .color(page.look.colours.good.0),
            );
        });
        return;
    }
    let Some(shown) = shown_of(page, trial).cloned() else {
        ui.label("Run it, and both heaps appear here.");
        return;
    };
    if page.shown.is_trial_stale() {
        ui.label(strong(STALE));
    }
    if let Some(problem) = &shown.problem {
        ui.colored_label(page.look.colours.bad.0, unbroken(problem));
        return;
    }
    let units = page.state.settings.units;
    if let Some(effect) = shown.comparison.as_deref().and_then(text::trial::telling) {
        let said = text::trial::headline(effect, units);
        ui.label(strong(said).size(page.look.sizes.verdict));
    }
    ui.horizontal_wrapped(|ui| {
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
            ui.label(unbroken(format!("{} pairs", pairs.pairs())));
        }
        if !page.state.class.inside {
            ui.label("dashed: without the change");
        }
    });
    let effects = shown.comparison.as_deref().map(largest).unwrap_or_default();
    let lines = effects.len() as f32 * 2.2 * page.look.sizes.body;
    let picture = (ui.available_height() - lines).max(ui.available_height() * 0.66);
    if let (Some(heaps), Some(curves)) = (&shown.heaps, &shown.curves) {
        ui.allocate_ui(eframe::egui::vec2(ui.available_width(), picture), |ui| {
            if page.state.class.inside {
                insides_ui(ui, page, heaps);
            } else {
                curves_ui(ui, page, heaps, curves);
            }
        });
    }
    ScrollArea::vertical().id_salt("effects").show(ui, |ui| {
        for effect in effects {
            ui.label(unbroken(text::trial::effect(effect, units)));
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
    HeatPlot {
        curve: &curves[1],
        ghost: Some(&curves[0]),
        detail: None,
        taken: None,
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
                shape: None,
                day,
                shows: SectionValue::Temperature,
                units,
                look,
            }
            .show(column);
        }
    });
}

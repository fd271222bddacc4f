//! Which heap is asked about: that of the recipe with what was found by hand, or one without a recipe.
//!
//! In: a page with the sheet open. Out: the answers, edited.
//!
//! Not here: the ticks and the answer (`complaint_sheet`), the recipe made of the answers (`assess::remedy::Rough`).
//!
//! Tested by: `tests/window/complaint.rs`.

use eframe::egui::{ComboBox, Grid, Ui};

use crate::assess::remedy::{Built, Mostly, Rough, Size, Stands};
use crate::outcome::complaint::Squeeze;
use crate::text::complaint as words;
use crate::text::date::{MONTHS, day_of_year, month_and_day};

use crate::window::page::Page;
use crate::window::piles::complaint_choices::AskedHeap;
use crate::window::widgets::named::Named;

/// Weeks that are offered.
const WEEKS: [u32; 9] = [1, 2, 4, 8, 12, 16, 26, 39, 52];

/// The heap asked about.
pub(super) fn questions_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.horizontal_wrapped(|ui| {
        let title = page.project.title.trim();
        let recipe = words::this_recipe(title);
        let sheet = &mut page.state.complaint;
        ui.radio_value(&mut sheet.heap, AskedHeap::Recipe, recipe)
            .on_hover_text("Asks about the heap of the open recipe.");
        ui.radio_value(&mut sheet.heap, AskedHeap::Rough, words::NO_RECIPE)
            .on_hover_text("Asks a few questions instead and makes a rough recipe of the answers.");
    });
    match page.state.complaint.heap {
        // A row of their own: words from the diary are long, and a question stands beside its answer.
        AskedHeap::Recipe => {
            ui.horizontal_wrapped(|ui| readings_ui(ui, page));
        }
        AskedHeap::Rough => rough_ui(ui, page),
    }
}

/// What was found by hand.
fn readings_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let says = page.shown.diary_says;
    let untold = says.squeeze.as_ref().map(words::squeeze_from_diary);
    let untold = untold.unwrap_or_else(|| words::NOT_TRIED.to_owned());
    let readings = &mut page.state.complaint.readings;
    ui.label(words::SQUEEZED);
    let told = readings.squeeze.map(words::squeeze);
    let shown = told.map_or(untold.as_str(), |said| said);
    ComboBox::from_id_salt("squeeze")
        .selected_text(shown)
        .width(page.look.sizes.title_width * 0.75)
        .truncate()
        .show_ui(ui, |ui| {
            ui.selectable_value(&mut readings.squeeze, None, untold.as_str());
            for squeeze in Squeeze::ALL {
                ui.selectable_value(&mut readings.squeeze, Some(squeeze), words::squeeze(squeeze));
            }
        })
        .response
        .named("A handful squeezed")
        .on_hover_text("Take a handful from a forearm deep and squeeze it; it counts instead of the recipe's water.");
    ui.label(words::BUILT);
    let untold = says.age_days.map(words::built_from_diary);
    let untold = untold.unwrap_or_else(|| words::NOT_TOLD.to_owned());
    let weeks = readings.age_days.map(|days| (days / 7.0).round() as u32);
    ComboBox::from_id_salt("weeks old")
        .selected_text(weeks.map_or(untold.clone(), words::weeks_ago))
        .show_ui(ui, |ui| {
            ui.selectable_value(&mut readings.age_days, None, untold.as_str());
            for weeks in WEEKS {
                let days = Some(7.0 * f64::from(weeks));
                ui.selectable_value(&mut readings.age_days, days, words::weeks_ago(weeks));
            }
        })
        .response
        .named("Built so many weeks ago")
        .on_hover_text("How long ago the heap was built; an old heap that was hot may be done.");
}

/// The questions about a heap without a recipe.
fn rough_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let units = page.state.settings.units;
    let wide = 0.2 * ui.available_width();
    let rough: &mut Rough = &mut page.state.complaint.rough;
    Grid::new("rough").num_columns(6).show(ui, |ui| {
        ui.label(words::MOSTLY);
        choice(
            ui,
            ("Mostly", wide),
            &mut rough.mostly,
            &Mostly::ALL,
            |it| words::mostly(it).to_owned(),
        );
        ui.label(words::AND_SOME);
        let mut some: Vec<Option<Mostly>> = vec![None];
        some.extend(Mostly::ALL.map(Some));
        choice(ui, ("And some", wide), &mut rough.some, &some, |it| {
            it.map_or(words::NOTHING_ELSE, words::mostly).to_owned()
        });
        ui.label(words::HOW_BIG);
        choice(ui, ("How big", wide), &mut rough.size, &Size::ALL, |it| {
            words::size(it, units)
        });
        ui.end_row();
        ui.label(words::SQUEEZED);
        let squeeze = ("How wet when squeezed", wide);
        choice(ui, squeeze, &mut rough.squeeze, &Squeeze::ALL, |it| {
            words::squeeze(it).to_owned()
        });
        ui.label(words::BUILT);
        let mut ways = vec![Built::AtOnce];
        let weeks = WEEKS.into_iter().filter(|n| (2..=26).contains(n));
        ways.extend(weeks.map(|weeks| Built::BitByBit { weeks }));
        choice(
            ui,
            ("How it was built", wide),
            &mut rough.built,
            &ways,
            words::built,
        );
        ui.label(words::BEGUN_IN);
        ui.horizontal(|ui| begun_ui(ui, rough, wide));
        ui.end_row();
        ui.label(words::STANDS);
        choice(
            ui,
            ("Where it stands", wide),
            &mut rough.stands,
            &Stands::ALL,
            |it| words::stands(it).to_owned(),
        );
        ui.label("");
        ui.checkbox(&mut rough.covered, words::COVERED)
            .on_hover_text("A lid, a sheet or a roof keeps the rain off.");
        ui.end_row();
    });
}

/// The month it was begun, and how long ago that was.
fn begun_ui(ui: &mut Ui, rough: &mut Rough, wide: f32) {
    let (mut month, _) = month_and_day(rough.start_day_of_year);
    let months: Vec<usize> = (0..12).collect();
    choice(ui, ("Begun in", 0.45 * wide), &mut month, &months, |it| {
        MONTHS[it].to_owned()
    });
    if month_and_day(rough.start_day_of_year).0 != month {
        rough.start_day_of_year = day_of_year(month, 10);
    }
    let ago = ("Begun so many weeks ago", 0.45 * wide);
    choice(ui, ago, &mut rough.weeks_old, &WEEKS, words::weeks_ago);
}

/// A list of choices.
fn choice<T: Copy + PartialEq>(
    ui: &mut Ui,
    (name, width): (&str, f32),
    value: &mut T,
    all: &[T],
    label: impl Fn(T) -> String,
) {
    ComboBox::from_id_salt(name)
        .selected_text(label(*value))
        .width(width)
        .truncate()
        .show_ui(ui, |ui| {
            for one in all {
                ui.selectable_value(value, *one, label(*one));
            }
        })
        .response
        .named(name)
        .on_hover_text("A rough answer will do.");
}

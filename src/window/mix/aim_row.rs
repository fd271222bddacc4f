//! What is wanted of the heap, chosen beside "What to do next".
//!
//! In: the project's aim. Out: the same, edited.
//!
//! Not here: what is said of it (`text::advice`), which plan serves it (`overlays::plan_sheet`).
//!
//! Tested by: `tests/window/mix.rs`.

use eframe::egui::{ComboBox, Ui};

use crate::garden::Aim;
use crate::text::advice::aim_name;
use crate::text::date::{MONTHS, day_of_year, days_in_month, month_and_day};

use crate::window::page::Page;
use crate::window::widgets::named::Named;
use crate::window::widgets::quantity_field::QuantityField;

/// Days ahead that a date is first put.
const FIRST_DATE_DAYS: f64 = 180.0;
/// Days of a year.
const YEAR: f64 = 365.0;

/// The choice, and the date where it has one.
pub fn aim_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let start = page.project.heap.start_day_of_year;
    let dated = match page.project.aim {
        Some(aim @ Aim::FinishedBy { .. }) => aim,
        _ => Aim::FinishedBy {
            day_of_year: day_ahead(start),
        },
    };
    let choices = [
        None,
        Some(Aim::Hot),
        Some(dated),
        Some(Aim::LeastWork),
        Some(Aim::SeedsKilled),
        Some(Aim::Teach),
    ];
    let aim = &mut page.project.aim;
    ComboBox::from_id_salt("aim")
        .selected_text(aim_name(*aim))
        .width(ui.available_width())
        .truncate()
        .show_ui(ui, |ui| {
            for choice in choices {
                ui.selectable_value(aim, choice, aim_name(choice));
            }
        })
        .response
        .named("Aim")
        .on_hover_text("What you want of this heap; advice and plan proposals serve it.");
    if let Some(Aim::FinishedBy { day_of_year }) = aim {
        ui.horizontal(|ui| date_ui(ui, day_of_year));
    }
}

/// A day well ahead of the start, within the year.
fn day_ahead(start_day_of_year: f64) -> u16 {
    ((start_day_of_year - 1.0 + FIRST_DATE_DAYS).rem_euclid(YEAR) + 1.0).round() as u16
}

fn date_ui(ui: &mut Ui, day: &mut u16) {
    let (month, of_month) = month_and_day(f64::from(*day));
    let (mut new_month, mut new_day) = (month, f64::from(of_month));
    ui.label("by");
    QuantityField::new("Day of the aim", 1.0, f64::from(days_in_month(month)))
        .hint("Day by which it is to be finished.")
        .decimals(0)
        .show(ui, &mut new_day);
    ComboBox::from_id_salt("month of the aim")
        .selected_text(MONTHS[month])
        .width(ui.available_width())
        .show_ui(ui, |ui| {
            for (index, name) in MONTHS.iter().enumerate() {
                ui.selectable_value(&mut new_month, index, *name);
            }
        })
        .response
        .named("Month of the aim")
        .on_hover_text("Month by which it is to be finished.");
    let new_day = new_day.round() as u32;
    if (new_month, new_day) != (month, of_month) {
        *day = day_of_year(new_month, new_day).round() as u16;
    }
}

//! The beds: name, area and need of each, what it gets, and the nitrogen it frees over five years.
//!
//! In: an outcome, the beds of the project. Out: the same, edited.
//!
//! Not here: the calculation (`outcome::nutrient`).
//!
//! Tested by: `tests/window/results.rs`.

use eframe::egui::{
    Align2, Button, ComboBox, CornerRadius, Label, Rect, Role, Sense, TextEdit, Ui, WidgetInfo,
    pos2, vec2,
};

use crate::document::BED_LIMIT;
use crate::garden::{Bed, Need};
use crate::outcome::nutrient::Dressing;
use crate::outcome::{Facts, Outcome};
use crate::quantity::{UnitSystem, bounds};
use crate::text::outcome as words;

use crate::window::page::Page;
use crate::window::theme::{Look, small_font, strong, unbroken};
use crate::window::widgets::named::Named;
use crate::window::widgets::quantity_field::{QuantityField, ShownUnit};

/// Area of a bed when it is added, m2.
const USUAL_AREA_M2: f64 = 5.0;
/// Years of the series.
const YEARS: usize = 5;

/// Everything on beds.
pub(in crate::window) fn beds_ui(
    ui: &mut Ui,
    page: &mut Page<'_>,
    outcome: &Outcome,
    facts: &Facts,
) {
    ui.add_space(0.5 * page.look.sizes.gap);
    ui.horizontal(|ui| {
        ui.label(strong("Beds"));
        let tip = "Adds a bed; beds higher in the list are served first.";
        let full = page.project.beds.len() >= BED_LIMIT;
        let add = ui.add_enabled(!full, Button::new("+ Add bed"));
        if add.on_hover_text(unbroken(tip)).clicked() {
            page.project.beds.push(Bed {
                name: String::new(),
                area_m2: USUAL_AREA_M2,
                need: Need::Medium,
            });
        }
    });
    if outcome.feeding.hungry {
        ui.label("Its C:N is above 25: where it is dug in it ties nitrogen up at first, so it goes on as mulch, as deep as a year allows.");
    }
    let units = page.state.settings.units;
    let kind = outcome.feeding.kind;
    let mut dropped = None;
    for index in 0..page.project.beds.len() {
        bed_row_ui(ui, page, index, &mut dropped);
        // Calculated again for each, so that what a row says fits what was typed into it in this frame.
        let given = facts
            .usage
            .dress(&outcome.produce, kind, &page.project.beds);
        let need = page.project.beds[index].need;
        if let Some(dressing) = given.get(index) {
            let text = words::bed_gets(dressing, &outcome.feeding, units);
            let small = unbroken(text).small();
            ui.add(Label::new(small).wrap())
                .on_hover_text(unbroken(words::need_source(need, &facts.usage, units)));
        }
    }
    if let Some(index) = dropped {
        page.project.beds.remove(index);
    }
    let given = facts
        .usage
        .dress(&outcome.produce, kind, &page.project.beds);
    left_over_ui(ui, page, outcome, &given);
    release_ui(ui, page, outcome, (facts, &given));
}

/// A bed's name, or its number where it has none.
fn bed_name(beds: &[Bed], index: usize) -> String {
    match beds.get(index).map(|bed| bed.name.trim()) {
        Some(name) if !name.is_empty() => name.to_owned(),
        _ => format!("bed {}", index + 1),
    }
}

fn bed_row_ui(ui: &mut Ui, page: &mut Page<'_>, index: usize, dropped: &mut Option<usize>) {
    let units = page.state.settings.units;
    let sizes = page.look.sizes;
    let number = index + 1;
    let bed = &mut page.project.beds[index];
    ui.push_id(("bed", index), |ui| {
        ui.horizontal(|ui| {
            let others = 2.2 * sizes.value_width + 1.35 * sizes.measure_width + 4.0 * sizes.gap;
            let width = (ui.available_width() - others).clamp(sizes.least_width, sizes.title_width);
            ui.add(
                TextEdit::singleline(&mut bed.name)
                    .hint_text(format!("bed {number}"))
                    .desired_width(width),
            )
            .named(&format!("Name of bed {number}"))
            .on_hover_text("What the bed is called.");
            QuantityField::within(&format!("Area of bed {number}"), bounds::BED_AREA)
                .unit(ShownUnit::area(units))
                .speed(0.05)
                .show(ui, &mut bed.area_m2);
            ComboBox::from_id_salt("need")
                .selected_text(words::feeder(bed.need))
                .width(sizes.measure_width)
                .show_ui(ui, |ui| {
                    for need in Need::ALL {
                        let text = words::feeder(need);
                        ui.selectable_value(&mut bed.need, need, text);
                    }
                })
                .response
                .named(&format!("Need of bed {number}"))
                .on_hover_text("How much its crops take: light feeders are herbs, beans and roots; heavy feeders cabbages, squashes and maize.");
            let drop = ui.button("×").named(&format!("Remove bed {number}"));
            if drop.on_hover_text("Takes this bed off the list.").clicked() {
                *dropped = Some(index);
            }
        });
    });
}

fn left_over_ui(ui: &mut Ui, page: &Page<'_>, outcome: &Outcome, given: &[Dressing]) {
    if given.is_empty() {
        ui.weak("No bed yet: add one to see what it gets.");
        return;
    }
    let used: f64 = given.iter().map(|dressing| dressing.litres).sum();
    let left = 1000.0 * outcome.produce.volume_m3.typical - used;
    if left >= 1.0 {
        let units = page.state.settings.units;
        let text = words::left_over(left, units);
        ui.label(unbroken(text).small());
    }
}

/// Nitrogen freed in each of five years: a row of bars for each bed, or one for all of it.
fn release_ui(
    ui: &mut Ui,
    page: &Page<'_>,
    outcome: &Outcome,
    (facts, given): (&Facts, &[Dressing]),
) {
    let look = page.look;
    let units = page.state.settings.units;
    let beds = &page.project.beds;
    let mut rows: Vec<(String, [f64; YEARS])> = given
        .iter()
        .zip(beds)
        .map(|(dressing, bed)| {
            let kg = dressing.nitrogen_g_per_m2.map(|g| 0.001 * g * bed.area_m2);
            (bed_name(beds, dressing.bed), kg)
        })
        .collect();
    if rows.is_empty() {
        rows.push(("all of it".to_owned(), outcome.feeding.nitrogen_kg));
    }
    let all = || rows.iter().flat_map(|(_, kg)| kg);
    let number_width = |kg: &f64| {
        let text = words::nutrient(*kg, units);
        let font = small_font(look.sizes);
        let galley = ui.painter().layout_no_wrap(text, font, look.colours.text.0);
        galley.size().x
    };
    let scale = BarScale {
        most_kg: all().fold(0.0, |a: f64, b| a.max(*b)),
        number_width: all().map(number_width).fold(0.0, f32::max),
    };
    ui.add_space(0.5 * look.sizes.gap);
    ui.label(strong("Nitrogen it frees"));
    years_ui(ui, look);
    for (name, kg) in &rows {
        bars_ui(ui, (name, kg), scale, units, look);
    }
    let series = facts
        .usage
        .series
        .iter()
        .find(|it| it.kind == outcome.feeding.kind);
    if let Some(series) = series {
        let text = words::release_source(series);
        let text = unbroken(text).small().color(look.colours.text_weak.0);
        ui.add(Label::new(text).wrap());
    }
}

/// Width of the names, and of each year.
fn columns(width: f32, look: Look<'_>) -> (f32, f32) {
    let names = (0.26 * width).min(look.sizes.measure_width * 1.5);
    (names, (width - names) / YEARS as f32)
}

/// The years above the bars.
fn years_ui(ui: &mut Ui, look: Look<'_>) {
    let size = vec2(ui.available_width(), 1.2 * look.sizes.small);
    let (rect, _) = ui.allocate_exact_size(size, Sense::hover());
    let (column, cell) = columns(rect.width(), look);
    for place in 0..YEARS {
        let left = rect.left() + column + place as f32 * cell;
        ui.painter().text(
            pos2(left, rect.center().y),
            Align2::LEFT_CENTER,
            format!("year {}", place + 1),
            small_font(look.sizes),
            look.colours.text_weak.0,
        );
    }
}

/// What all bars have in common: the most nitrogen, kg, and the width of the widest number beside a bar.
#[derive(Clone, Copy)]
struct BarScale {
    most_kg: f64,
    number_width: f32,
}

/// Five bars with their numbers.
fn bars_ui(
    ui: &mut Ui,
    (name, kg): (&str, &[f64; YEARS]),
    scale: BarScale,
    units: UnitSystem,
    look: Look<'_>,
) {
    let sizes = look.sizes;
    let size = vec2(ui.available_width(), 1.6 * sizes.body);
    let (rect, response) = ui.allocate_exact_size(size, Sense::hover());
    response.widget_info(|| {
        let years = kg
            .iter()
            .zip(1..)
            .map(|(kg, year)| format!("year {year} {}", words::nutrient(*kg, units)));
        let years: Vec<String> = years.collect();
        let text = format!("Nitrogen for {name}: {}", years.join(", "));
        WidgetInfo::labeled(Role::Figure, true, text)
    });
    if !ui.is_rect_visible(rect) {
        return;
    }
    let (column, cell) = columns(rect.width(), look);
    let painter = ui.painter().with_clip_rect(rect.intersect(ui.clip_rect()));
    let middle = rect.center().y;
    let name_rect = Rect::from_min_max(
        rect.min,
        pos2(rect.left() + column - sizes.gap, rect.bottom()),
    );
    painter
        .with_clip_rect(name_rect.intersect(ui.clip_rect()))
        .text(
            name_rect.left_center(),
            Align2::LEFT_CENTER,
            name,
            small_font(sizes),
            look.colours.text.0,
        );
    for (place, kg) in kg.iter().enumerate() {
        let left = rect.left() + column + place as f32 * cell;
        let room = (cell - scale.number_width - 1.5 * sizes.gap).max(0.5 * sizes.gap);
        let share = if scale.most_kg > 0.0 {
            (kg / scale.most_kg) as f32
        } else {
            0.0
        };
        let bar = Rect::from_min_max(
            pos2(left, middle - 0.4 * sizes.gauge_bar),
            pos2(
                left + (share * room).max(sizes.thin),
                middle + 0.4 * sizes.gauge_bar,
            ),
        );
        painter.rect_filled(
            bar,
            CornerRadius::same(sizes.control_radius / 3),
            look.colours.edge.0,
        );
        painter.text(
            pos2(bar.right() + 0.5 * sizes.gap, middle),
            Align2::LEFT_CENTER,
            words::nutrient(*kg, units),
            small_font(sizes),
            look.colours.text.0,
        );
    }
}

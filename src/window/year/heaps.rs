//! The plan: every heap with what goes in, each amount to be changed, and the way to its recipe.
//!
//! In: the open year, its plan. Out: asked-for actions.
//!
//! Not here: what is decided, left and short (`beside`), when a bay is taken (`line`).
//!
//! Tested by: `tests/window/year_plan.rs`.

use eframe::egui::{Align, Grid, Label, Layout, Ui};

use crate::assess::planned::Warmth;
use crate::mix::Ingredient;
use crate::text::mix::name_of;
use crate::text::year::{BEFORE_YOU_BUILD, NOT_PROVEN, YearTold};
use crate::text::{amount, year_page as words};
use crate::year::{PlannedHeap, Wish};

use crate::window::action::{Action, YearAction};
use crate::window::page::Page;
use crate::window::piles::year_desk::{OpenYear, YearShown};
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::plain_button;
use crate::window::year::amount::AmountField;

/// The whole part.
pub(in crate::window) fn heaps_ui(
    ui: &mut Ui,
    page: &mut Page<'_>,
    open: &OpenYear,
    shown: Option<&YearShown>,
) {
    let units = page.state.settings.units;
    let planned = shown.and_then(|shown| Some((shown, shown.told(units)?)));
    let Some((shown, told)) = planned else {
        let words = match shown {
            Some(_) => words::SEE_BESIDE,
            None => words::PLANNING,
        };
        ui.label(words);
        return;
    };
    if told.plan.heaps.is_empty() {
        ui.label(unbroken(words::no_heap(&open.file.year)));
        return;
    }
    ui.label(unbroken(BEFORE_YOU_BUILD).small());
    if !told.plan.proven {
        ui.label(unbroken(NOT_PROVEN).small());
    }
    for (place, heap) in told.plan.heaps.iter().enumerate() {
        let warm = shown.warmth.get(place).and_then(Option::as_ref);
        ui.push_id(("heap", place), |ui| {
            ui.separator();
            heap_ui(ui, page, &told, (place, heap), warm);
        });
    }
}

fn heap_ui(
    ui: &mut Ui,
    page: &mut Page<'_>,
    told: &YearTold<'_>,
    (place, heap): (usize, &PlannedHeap),
    warm: Option<&Warmth>,
) {
    let name = words::heap_name(told.year, heap);
    ui.horizontal(|ui| {
        ui.label(strong(&name));
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            let open = Action::Year(YearAction::OpenHeap(place));
            plain_button(ui, page, open, &words::open_heap(told.year, heap));
        });
    });
    ui.label(unbroken(words::gauges(told, heap)));
    if let Some(warm) = warm {
        ui.label(unbroken(words::warmth(warm, told.units)));
    }
    ui.label(unbroken(told.stays(heap)).small());
    let sizes = page.look.sizes;
    let half = 0.5 * ui.available_width() - sizes.value_width - 2.0 * sizes.gap;
    Grid::new("goes in").show(ui, |ui| {
        for (number, row) in heap.mix.ingredients.iter().enumerate() {
            amount_ui(ui, page, (told, heap), row, half);
            if number % 2 == 1 {
                ui.end_row();
            }
        }
    });
    if heap.mix.added_water_l > 0.0 {
        ui.label(unbroken(amount::water(heap.mix.added_water_l, told.units)));
    }
}

/// An amount of a heap: typed, it is decided, and the plan is made around it.
fn amount_ui(
    ui: &mut Ui,
    page: &mut Page<'_>,
    (told, heap): (&YearTold<'_>, &PlannedHeap),
    row: &Ingredient,
    width: f32,
) {
    let of = &row.amount;
    let name = name_of(&row.material, told.catalogue);
    let mut value = of.value;
    let field = AmountField {
        name: &format!("{name} in {}", words::heap_name(told.year, heap)),
        hint: words::PUT_TIP,
        measure: &of.measure,
        own: &page.project.measures,
        speed: 0.0,
        width: page.look.sizes.value_width,
    };
    if let Some(problem) = field.show(ui, &mut value) {
        page.ask(Action::TellUnread(problem));
    }
    ui.scope(|ui| {
        ui.set_width(width);
        ui.add(Label::new(unbroken(words::measure_of(of, name))).truncate());
    });
    if value != of.value {
        let wish = Wish::Put {
            bay: told.year.bays[heap.bay].name.clone(),
            month: told.year.month_at(heap.month),
            material: row.material.clone(),
            amount: value,
        };
        page.ask(Action::Year(YearAction::Decide(wish)));
    }
}

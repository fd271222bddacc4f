//! The rows of a mix: handle, name, slider, typed value, measure, what there is, state, lock, remove.
//!
//! In: the mix and its blend. Out: edited amounts, asked-for actions.
//!
//! Not here: how rows are laid (`row_lines`), the water (`water_row`), what the amounts lead to (`gauges`, `heat_plot`).
//!
//! Tested by: `tests/window/mix.rs`.

use eframe::egui::{
    self, Align, Button, CursorIcon, Layout, Rect, Response, RichText, ScrollArea, Sense, Stroke,
    TextStyle, Ui, vec2,
};

use crate::quantity::bounds;
use crate::text::amount;
use crate::text::material as material_words;
use crate::text::mix::part_share;

use crate::window::action::Action;
use crate::window::mix::buckets::buckets_ui;
use crate::window::mix::condition_row::condition_ui;
use crate::window::mix::row_lines::{
    Lines, ROW_GAP, column_ui, handle_width, name_column_ui, widths_after_slider,
};
use crate::window::mix::water_row::water_ui;
use crate::window::page::Page;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::amount_control::{
    Control, amount_field_ui, first_top, measure_picker_ui, slider_ui, stock_field_ui,
};
use crate::window::widgets::buttons::{plain_button, styled_button};
use crate::window::widgets::named::Named;

/// The whole column.
pub fn rows_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let lines = Lines::of(
        page.project.mix.ingredients.len(),
        ui.available_width(),
        page.look,
    );
    heading_ui(ui, page);
    let gap = page.look.sizes.gap;
    let below = page.look.sizes.big_button + 2.0 * gap;
    let height = (ui.available_height() - below).max(page.look.sizes.big_button);
    ScrollArea::vertical()
        .id_salt("ingredients")
        .max_height(height)
        .min_scrolled_height(height)
        .auto_shrink([false, false])
        .show(ui, |ui| {
            // Room for the scroll bar, so that it never covers a control.
            ui.set_max_width(ui.available_width() - gap);
            if page.project.mix.ingredients.is_empty() {
                ui.label("An empty heap. Add a material, or press one of the buttons below.");
            }
            let names = row_names(page);
            ui.spacing_mut().item_spacing.y = ROW_GAP * gap;
            let mut rows = Vec::with_capacity(names.len());
            for (row, name) in names.iter().enumerate() {
                rows.push(
                    ui.push_id(row, |ui| ingredient_ui(ui, page, (row, name), lines))
                        .inner,
                );
            }
            reorder(ui, page, &rows);
            water_ui(ui, page, lines);
        });
    ui.add_space(gap * 0.5);
    buckets_ui(ui, page);
}

fn heading_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.horizontal(|ui| {
        ui.heading("Ingredients");
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            plain_button(ui, page, Action::PickMaterial, "Add material…");
            plain_button(ui, page, Action::OpenDrawer, "Materials…");
        });
    });
}

/// What each row is called; rows of the same material are told apart by their place.
fn row_names(page: &Page<'_>) -> Vec<String> {
    let ingredients = &page.project.mix.ingredients;
    let mut names: Vec<String> = Vec::with_capacity(ingredients.len());
    for (row, ingredient) in ingredients.iter().enumerate() {
        let name = page.name_of(&ingredient.material);
        let twice = ingredients
            .iter()
            .enumerate()
            .any(|(other, i)| other != row && i.material == ingredient.material);
        names.push(if twice {
            format!("{name} (row {})", row + 1)
        } else {
            name
        });
    }
    names
}

/// One ingredient: handle, name, amount and what there is, on one line where there is room for it; the row's place
/// on the screen and its handle.
fn ingredient_ui(
    ui: &mut Ui,
    page: &mut Page<'_>,
    (row, name): (usize, &str),
    lines: Lines,
) -> (Rect, Response) {
    let line = ui.horizontal(|ui| {
        let handle = handle_ui(ui, page, name);
        match lines {
            Lines::One => {
                name_column_ui(ui, page.look.sizes, |ui| name_ui(ui, page, row, name));
                amount_ui(ui, page, (row, name), lines);
                have_ui(ui, page, row, name);
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    row_buttons_ui(ui, page, row, name);
                });
            }
            Lines::Two => {
                ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
                    row_buttons_ui(ui, page, row, name);
                    have_ui(ui, page, row, name);
                    ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
                        name_ui(ui, page, row, name);
                    });
                });
            }
        }
        handle
    });
    let mut rect = line.response.rect;
    if lines == Lines::Two {
        let second = ui.horizontal(|ui| amount_ui(ui, page, (row, name), lines));
        rect = rect.union(second.response.rect);
    }
    if page.state.details == Some(row) {
        condition_ui(ui, page, row, name);
    }
    (rect, line.inner)
}

fn row_buttons_ui(ui: &mut Ui, page: &mut Page<'_>, row: usize, name: &str) {
    ui.spacing_mut().button_padding.x *= 0.5;
    ui.spacing_mut().item_spacing.x *= 0.5;
    remove_ui(ui, page, row, name);
    lock_ui(ui, page, row, name);
    state_ui(ui, page, row, name);
}

/// Its name, with what is known of it and its shares on hover.
fn name_ui(ui: &mut Ui, page: &Page<'_>, row: usize, name: &str) {
    let material = page
        .catalogue
        .find(&page.project.mix.ingredients[row].material);
    let blend = page.shown.stages.blend();
    let share = blend.and_then(|blend| blend.shares.get(row).copied());
    let response = ui.add(egui::Label::new(strong(name)).truncate());
    match material {
        Some(material) => {
            let shares = share.map(|share| part_share(&share)).unwrap_or_default();
            let units = page.state.settings.units;
            let known = material_words::tooltip(material, page.catalogue, units);
            response.on_hover_text(unbroken(format!("{known}\n{shares}")))
        }
        None => response
            .on_hover_text("This material is not in the catalogue; remove it or choose another."),
    };
}

/// Six dots by which the row is dragged to another place.
fn handle_ui(ui: &mut Ui, page: &Page<'_>, name: &str) -> Response {
    let size = vec2(
        handle_width(page.look) - ui.spacing().item_spacing.x * 0.5,
        page.look.sizes.control_height,
    );
    let (rect, response) = ui.allocate_exact_size(size, Sense::drag());
    let dot = page.look.sizes.thin.max(1.0);
    for (across, down) in [
        (-1.0, -1.0),
        (1.0, -1.0),
        (-1.0, 0.0),
        (1.0, 0.0),
        (-1.0, 1.0),
        (1.0, 1.0),
    ] {
        let at = rect.center() + vec2(across * 2.0 * dot, down * 4.0 * dot);
        ui.painter()
            .circle_filled(at, dot, page.look.colours.text_weak.0);
    }
    response
        .named(&format!("Drag {name}"))
        .on_hover_cursor(CursorIcon::Grab)
        .on_hover_text("Drag it to another place among the rows.")
}

/// The rows in another order, once one is let go between two others; meanwhile a line where it would stand.
fn reorder(ui: &Ui, page: &mut Page<'_>, rows: &[(Rect, Response)]) {
    let held = rows
        .iter()
        .position(|(_, handle)| handle.dragged() || handle.drag_stopped());
    let Some((from, pointer)) = held.zip(ui.ctx().pointer_latest_pos()) else {
        return;
    };
    let above = rows
        .iter()
        .filter(|(rect, _)| rect.center().y < pointer.y)
        .count();
    if rows[from].1.dragged() {
        let y = match rows.get(above) {
            Some((rect, _)) => rect.top(),
            None => rows.last().map_or(pointer.y, |(rect, _)| rect.bottom()),
        };
        let (left, right) = (rows[from].0.left(), rows[from].0.right());
        let stroke = Stroke::new(page.look.sizes.needle, page.look.colours.accent.0);
        ui.painter().hline(left..=right, y, stroke);
        return;
    }
    let to = if above > from { above - 1 } else { above };
    let ingredients = &mut page.project.mix.ingredients;
    if to != from && from < ingredients.len() && to < ingredients.len() {
        let moved = ingredients.remove(from);
        ingredients.insert(to, moved);
        page.state.details = None;
    }
}

/// How much there is of it; typed in place.
fn have_ui(ui: &mut Ui, page: &mut Page<'_>, row: usize, name: &str) {
    let own = &page.project.measures;
    let ingredient = &page.project.mix.ingredients[row];
    let (amount, mut stock) = (ingredient.amount.clone(), ingredient.stock);
    let density = density_of(page, row);
    let short = stock.is_some_and(|stock| amount.value > stock);
    let near = page.look.colours.near.0;
    let width = page.look.sizes.have_width;
    let problem = ui
        .scope(|ui| {
            let style = ui.style_mut();
            style.override_text_style = Some(TextStyle::Small);
            style.drag_value_text_style = TextStyle::Small;
            if short {
                ui.visuals_mut().override_text_color = Some(near);
            }
            stock_field_ui(ui, (name, width), own, density, (&amount, &mut stock))
        })
        .inner;
    page.project.mix.ingredients[row].stock = stock;
    if let Some(problem) = problem {
        page.ask(Action::TellUnread(problem));
    }
}

/// Loose density of what is in a row, kg/m3; that of water where the material is not known.
fn density_of(page: &Page<'_>, row: usize) -> f64 {
    let material = page.project.mix.ingredients[row].material_in(page.catalogue);
    material.map_or(1000.0, |material| material.bulk_density.typical)
}

fn lock_ui(ui: &mut Ui, page: &mut Page<'_>, row: usize, name: &str) {
    let locked = &mut page.project.mix.ingredients[row].locked;
    let word = if *locked { "locked" } else { "lock" };
    let name = format!("Lock {name}");
    if ui
        .add(Button::selectable(*locked, unbroken(word).small()))
        .named(&name)
        .on_hover_text("Keeps this amount as it is when advice is given.")
        .clicked()
    {
        *locked = !*locked;
    }
}

/// Opens how wilted, packed or chopped it is; marked where it differs from the catalogue.
fn state_ui(ui: &mut Ui, page: &mut Page<'_>, row: usize, name: &str) {
    let open = page.state.details == Some(row);
    let listed = page.project.mix.ingredients[row].condition.is_as_listed();
    let word = if listed { "state" } else { "state *" };
    let button = Button::selectable(open, unbroken(word).small());
    let action = Action::ToggleDetails(row);
    styled_button(ui, page, action, button, &format!("State of {name}"));
}

fn remove_ui(ui: &mut Ui, page: &mut Page<'_>, row: usize, name: &str) {
    let button = Button::new(RichText::new("×")).frame_when_inactive(false);
    styled_button(
        ui,
        page,
        Action::Remove(row),
        button,
        &format!("Remove {name}"),
    );
}

/// Slider, typed value and measure of one ingredient.
fn amount_ui(ui: &mut Ui, page: &mut Page<'_>, (row, name): (usize, &str), lines: Lines) {
    let mut amount = page.project.mix.ingredients[row].amount.clone();
    let material = page.project.mix.ingredients[row].material.clone();
    let key = format!("{material}/{}", amount::one(&amount.measure));
    let sizes = page.look.sizes;
    let (measure_width, tail) = widths_after_slider(ui, lines, sizes);
    let hint = format!(
        "How much {name} goes in, in {}.",
        amount::several(&amount.measure)
    );
    let control = Control {
        name,
        hint: &hint,
        key: &key,
        row,
        first_top: first_top(&amount.measure),
        most: bounds::AMOUNT.high,
        tail,
        mark: mark_of(page, row),
    };
    slider_ui(ui, page.state, page.look, &control, &mut amount.value);
    let own = &page.project.measures;
    let problem = amount_field_ui(ui, &control, sizes.value_width, own, &mut amount);
    let density = density_of(page, row);
    let ingredient = &mut page.project.mix.ingredients[row];
    if amount.measure != ingredient.amount.measure {
        ingredient.say_in(amount.measure.clone(), density);
    }
    ingredient.amount = amount;
    if let Some(problem) = problem {
        page.ask(Action::TellUnread(problem));
    }
    column_ui(ui, measure_width, sizes, |ui| {
        measure_ui(ui, page, row, name)
    });
}

/// Where a balance that is looked at would put this row, in the row's own measure.
fn mark_of(page: &Page<'_>, row: usize) -> Option<f64> {
    let then = &page.shown.preview.as_ref()?.mix().ingredients.get(row)?;
    let now = page.project.mix.ingredients.get(row)?;
    let density = now.material_in(page.catalogue)?.bulk_density.typical;
    let said = then.amount.said_in(now.amount.measure.clone(), density);
    Some(said.value)
}

fn measure_ui(ui: &mut Ui, page: &mut Page<'_>, row: usize, name: &str) {
    let amount = page.project.mix.ingredients[row].amount.clone();
    let units = page.state.settings.units;
    let own = &mut page.project.measures;
    if let Some(measure) = measure_picker_ui(ui, name, &amount, (units, own), page.look) {
        page.ask(Action::SetMeasure(row, measure));
    }
}

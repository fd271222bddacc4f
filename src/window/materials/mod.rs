//! The materials drawer: search, family, order and list at the left, a page or a form at the right.
//!
//! In: the catalogue, what is typed. Out: the material whose page is shown, asked-for actions.
//!
//! Not here: the page (`page`), the forms (`form`).
//!
//! Tested by: `tests/window/materials.rs`.

pub(in crate::window) mod copy;
pub(in crate::window) mod fields;
pub(in crate::window) mod form;
pub(in crate::window) mod page;

use eframe::egui::text::{LayoutJob, TextWrapping};
use eframe::egui::{
    Align, Align2, Area, Button, ComboBox, Id, Key, Layout, Modal, Modifiers, Order, ScrollArea,
    TextEdit, Ui, pos2, vec2,
};

use crate::material::{Family, Material, Order as By, Side};
use crate::text::material as material_words;
use crate::text::material::Whose;

use crate::window::action::Action;
use crate::window::materials::form::form_ui;
use crate::window::materials::page::page_ui;
use crate::window::page::Page;
use crate::window::piles::drawer_choices::DrawerState;
use crate::window::theme::{name_font, sheet, small_font, unbroken};
use crate::window::widgets::buttons::plain_button;
use crate::window::widgets::keep_out::keep_out_ui;
use crate::window::widgets::named::Named;
use crate::window::widgets::sheet::sheet_room;

/// Name of the search field.
pub const SEARCH: &str = "Search the drawer";

/// The drawer, if it is open.
pub fn drawer_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let Some(mut drawer) = page.state.drawer.take() else {
        return;
    };
    let sizes = page.look.sizes;
    let room = sheet_room(ui, sizes);
    let width = sizes.drawer_width.min(room.x);
    let id = Id::unique("materials drawer");
    let area = Area::new(id)
        .order(Order::Foreground)
        .anchor(Align2::RIGHT_CENTER, [-sizes.gap * 0.5, 0.0]);
    let modal = Modal::new(id)
        .area(area)
        .frame(sheet(ui, sizes))
        .show(ui.ctx(), |ui| {
            ui.set_width(width);
            ui.set_height(room.y);
            heading_ui(ui, page);
            ui.horizontal_top(|ui| {
                let left = vec2(sizes.drawer_list.min(width * 0.4), ui.available_height());
                ui.allocate_ui_with_layout(left, Layout::top_down(Align::Min), |ui| {
                    ui.set_width(left.x);
                    list_side_ui(ui, page, &mut drawer);
                });
                ui.separator();
                ui.vertical(|ui| right_side_ui(ui, page, &mut drawer));
            });
        });
    if modal.should_close() {
        // Esc leaves a form first, and only then the drawer.
        if drawer.form.take().is_none() {
            page.ask(Action::CloseDrawer);
        }
    }
    page.state.drawer = Some(drawer);
}

fn heading_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.horizontal(|ui| {
        ui.heading("Materials");
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            plain_button(ui, page, Action::CloseDrawer, "Close the drawer");
        });
    });
}

fn right_side_ui(ui: &mut Ui, page: &mut Page<'_>, drawer: &mut DrawerState) {
    if let Some(form) = &mut drawer.form {
        form_ui(ui, page, form);
        return;
    }
    let material = drawer
        .chosen
        .as_ref()
        .and_then(|id| page.known(id))
        .cloned();
    match material {
        Some(material) => page_ui(ui, page, &material),
        None => {
            ui.label("Choose a material in the list: its values, where they come from, and what people ask about it are shown here.");
        }
    }
}

fn list_side_ui(ui: &mut Ui, page: &mut Page<'_>, drawer: &mut DrawerState) {
    search_ui(ui, drawer);
    ui.horizontal(|ui| {
        family_ui(ui, drawer);
        order_ui(ui, drawer);
    });
    side_ui(ui, drawer);
    let mut found = drawer.browse.find(page.catalogue, material_words::family);
    // Kept materials that this recipe does not hold yet stand below the rest.
    let kept = drawer
        .browse
        .find(&page.shelf.kept_materials, material_words::family);
    found.extend(
        kept.into_iter()
            .filter(|material| page.catalogue.find(&material.id).is_none()),
    );
    keep_out_ui(ui, page, &drawer.browse.words);
    let step = arrows(ui);
    if step != 0 {
        move_by(drawer, &found, step);
    }
    let count = match found.len() {
        0 => material_words::NOTHING_FOUND.to_owned(),
        1 => "1 material".to_owned(),
        more => format!("{more} materials"),
    };
    ui.label(unbroken(count).small().color(page.look.colours.text_weak.0));
    let mut clicked = None;
    rows_ui(ui, page, drawer, &found, &mut clicked);
    if let Some(id) = clicked {
        drawer.chosen = Some(id);
        drawer.form = None;
    }
    drawer.reveal = false;
}

fn search_ui(ui: &mut Ui, drawer: &mut DrawerState) {
    let field = ui
        .add(
            TextEdit::singleline(&mut drawer.browse.words)
                .hint_text("leaves, straw, kitchen …")
                .desired_width(f32::INFINITY),
        )
        .named(SEARCH)
        .on_hover_text("Any word for it: lawn clippings, cow muck; arrows choose.");
    if !drawer.focused {
        drawer.focused = true;
        field.request_focus();
    }
}

fn family_ui(ui: &mut Ui, drawer: &mut DrawerState) {
    let word = drawer
        .browse
        .family
        .map_or("All families", material_words::family);
    ComboBox::from_id_salt("family of the list")
        .selected_text(word)
        .width(ui.available_width() * 0.52)
        .truncate()
        .show_ui(ui, |ui| {
            let chosen = &mut drawer.browse.family;
            ui.selectable_value(chosen, None, "All families");
            for family in Family::ALL {
                ui.selectable_value(chosen, Some(family), material_words::family(family));
            }
        })
        .response
        .named("Family of the list")
        .on_hover_text("Shows only materials of one family.");
}

/// Greens, browns, neither or all.
fn side_ui(ui: &mut Ui, drawer: &mut DrawerState) {
    ui.horizontal(|ui| {
        let all = [None].into_iter().chain(Side::ALL.map(Some));
        for side in all {
            let word = side.map_or("all", material_words::side_short);
            let chosen = drawer.browse.side == side;
            let pressed = ui
                .add(Button::selectable(chosen, word))
                .named(&format!("Show {word}"))
                .on_hover_text("Shows only what gardeners call so; C:N stands beside each.")
                .clicked();
            if pressed {
                drawer.browse.side = side;
            }
        }
    });
}

fn order_ui(ui: &mut Ui, drawer: &mut DrawerState) {
    ComboBox::from_id_salt("order of the list")
        .selected_text(material_words::order(drawer.browse.order))
        .width(ui.available_width() - 0.5 * ui.spacing().item_spacing.x)
        .truncate()
        .show_ui(ui, |ui| {
            for order in By::ALL {
                let text = material_words::order(order);
                ui.selectable_value(&mut drawer.browse.order, order, text);
            }
        })
        .response
        .named("Order of the list")
        .on_hover_text(
            "Sorts the list; C:N begins with the richest in nitrogen, structure with what holds most air.",
        );
}

/// Up or down, taken before the text field sees it.
fn arrows(ui: &Ui) -> isize {
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    isize::from(pressed(Key::ArrowDown)) - isize::from(pressed(Key::ArrowUp))
}

fn move_by(drawer: &mut DrawerState, found: &[&Material], step: isize) {
    let here = drawer
        .chosen
        .as_ref()
        .and_then(|id| found.iter().position(|material| material.id == *id));
    let place = match here {
        Some(place) => place.saturating_add_signed(step),
        None => 0,
    };
    if let Some(material) = found.get(place.min(found.len().saturating_sub(1))) {
        drawer.chosen = Some(material.id.clone());
        drawer.form = None;
        drawer.reveal = true;
    }
}

/// The rows that are in sight.
fn rows_ui(
    ui: &mut Ui,
    page: &Page<'_>,
    drawer: &DrawerState,
    found: &[&Material],
    clicked: &mut Option<String>,
) {
    let row_height = page.look.sizes.control_height + page.look.sizes.small * 1.3;
    let spacing = ui.spacing().item_spacing.y;
    let mut area = ScrollArea::vertical()
        .id_salt("materials")
        .auto_shrink([false, false]);
    let place = drawer
        .chosen
        .as_ref()
        .and_then(|id| found.iter().position(|material| material.id == *id));
    if let (true, Some(place)) = (drawer.reveal, place) {
        let middle = ui.available_height() * 0.4;
        let top = place as f32 * (row_height + spacing) - middle;
        area = area.vertical_scroll_offset(top.max(0.0));
    }
    area.show_rows(ui, row_height, found.len(), |ui, range| {
        for material in found.iter().take(range.end).skip(range.start) {
            let chosen = drawer.chosen.as_deref() == Some(material.id.as_str());
            if row_ui(ui, page, material, chosen, row_height) {
                *clicked = Some(material.id.clone());
            }
        }
    });
}

/// Whose entry a material is.
fn whose(page: &Page<'_>, material: &Material) -> Whose {
    if page.catalogue.find(&material.id).is_none() {
        Whose::Kept
    } else if page.is_own(&material.id) {
        Whose::Own
    } else {
        Whose::Listed
    }
}

/// One material: its name, and below it C:N, water and how it stands.
fn row_ui(ui: &mut Ui, page: &Page<'_>, material: &Material, chosen: bool, height: f32) -> bool {
    let facts = material_words::list_facts(material, whose(page, material));
    let size = vec2(ui.available_width(), height);
    let response = ui
        .add_sized(size, Button::selectable(chosen, ""))
        .named(&format!("Page of {}", material.name))
        .on_hover_text(unbroken(format!(
            "{}: {}. Shows its page.",
            material.name,
            material_words::structure(material.structure)
        )));
    let look = page.look;
    let ink = if chosen {
        look.colours.accent_text.0
    } else {
        look.colours.text.0
    };
    let inside = response
        .rect
        .shrink2(vec2(look.sizes.gap, look.sizes.nudge));
    let line = |text: String, font, colour| {
        let mut job = LayoutJob::simple_singleline(text, font, colour);
        job.wrap = TextWrapping::truncate_at_width(inside.width());
        ui.painter().layout_job(job)
    };
    let name = line(material.name.clone(), name_font(look.sizes), ink);
    let facts = line(facts, small_font(look.sizes), look.colours.text_weak.0);
    let below = pos2(inside.left(), inside.bottom() - facts.size().y);
    ui.painter().galley(inside.min, name, ink);
    ui.painter().galley(below, facts, ink);
    response.clicked()
}

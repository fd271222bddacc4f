//! The card of one recipe: title, place, a small drawing, what came of it, what can be done with it.
//!
//! In: a listed recipe and what is known of it. Out: asked-for actions; the title that is typed.
//!
//! Not here: the drawing (`thumbnail`), which cards stand where (`mod`).
//!
//! Tested by: `tests/window/recipes.rs`.

use eframe::egui::{
    Button, CornerRadius, Key, Label, Modifiers, Rect, Response, Stroke, StrokeKind, TextEdit, Ui,
    UiBuilder, vec2,
};

use crate::text::recipes as words;

use crate::window::action::{Action, RecipeAction};
use crate::window::page::Page;
use crate::window::piles::recipe_cards::{CardKey, Listed};
use crate::window::recipes::thumbnail::thumbnail_ui;
use crate::window::theme::{Look, strong, unbroken};
use crate::window::widgets::buttons::{action_button, menu_entry, styled_button};
use crate::window::widgets::named::Named;

/// Name of the field for another title.
pub const NEW_TITLE: &str = "New title";

/// Height of a card, points.
pub(super) fn card_height(look: Look<'_>) -> f32 {
    let sizes = look.sizes;
    // Title and buttons; place and two lines; the drawing; margins and what lies between.
    2.0 * sizes.control_height + 3.0 * small_line(look) + sizes.card_picture + 5.5 * sizes.gap
}

/// Height of a line of small letters, points.
fn small_line(look: Look<'_>) -> f32 {
    1.3 * look.sizes.small
}

/// One card in its rectangle.
pub(super) fn card_ui(ui: &mut Ui, page: &mut Page<'_>, rect: Rect, listed: &Listed) {
    let look = page.look;
    let round = CornerRadius::same(look.sizes.control_radius);
    let outline = Stroke::new(look.sizes.thin, look.colours.line.0);
    ui.painter().rect_filled(rect, round, look.colours.field.0);
    ui.painter()
        .rect_stroke(rect, round, outline, StrokeKind::Inside);
    let inner = rect.shrink(look.sizes.gap);
    let builder = UiBuilder::new().max_rect(inner).id_salt(&listed.key);
    ui.scope_builder(builder, |ui| {
        ui.spacing_mut().item_spacing.y = look.sizes.gap * 0.5;
        let title = words::shown_title(&listed.title).to_owned();
        title_ui(ui, page, listed, &title);
        let named = called(listed);
        // Cloning an `Arc` of what is known costs nothing.
        let known = page.shown.cards.shown(&listed.key).cloned();
        small_ui(ui, page, &place_line(listed));
        let open = open_action(listed);
        match &known {
            Some(Ok(shown)) => {
                if thumbnail_ui(ui, page, (&named, shown)).clicked() {
                    page.ask(open);
                }
                let units = page.state.settings.units;
                let came = words::came(&shown.came, page.now, units);
                for line in &came {
                    small_ui(ui, page, line);
                }
            }
            Some(Err(problem)) => {
                // Cut off, and whole under the pointer: the buttons stay clear of it.
                let problem = unbroken(problem).small().color(look.colours.bad.0);
                ui.add(Label::new(problem).truncate());
            }
            None if page.shown.behind => small_ui(ui, page, words::WAITING),
            None => {}
        }
        let row = inner.with_min_y(inner.bottom() - look.sizes.control_height);
        ui.scope_builder(UiBuilder::new().max_rect(row), |ui| {
            buttons_ui(ui, page, listed, &named);
        });
    });
}

/// What a recipe is called in the names of its buttons: an example may have the title of a kept one.
fn called(listed: &Listed) -> String {
    match &listed.key {
        CardKey::Example(_) => words::the_example(&listed.title),
        CardKey::Kept(..) => words::shown_title(&listed.title).to_owned(),
    }
}

/// Where it stands; of an example that it is one.
fn place_line(listed: &Listed) -> String {
    match &listed.key {
        CardKey::Example(_) => words::example_at(&listed.place),
        CardKey::Kept(..) => listed.place.clone(),
    }
}

/// A line of small letters, cut off where it does not fit; whole under the pointer.
fn small_ui(ui: &mut Ui, page: &Page<'_>, text: &str) {
    let weak = page.look.colours.text_weak.0;
    let label = Label::new(unbroken(text).small().color(weak)).truncate();
    ui.add(label);
}

fn open_action(listed: &Listed) -> Action {
    match &listed.key {
        CardKey::Kept(path, _) => Action::OpenFile(path.clone()),
        CardKey::Example(place) => Action::Recipe(RecipeAction::OpenExample(*place)),
    }
}

/// Scrolls to what the keyboard has come to.
fn follow(response: &Response) {
    if response.gained_focus() {
        response.scroll_to_me(None);
    }
}

/// The title, which opens the recipe, or the field for another; and the tick for comparing.
fn title_ui(ui: &mut Ui, page: &mut Page<'_>, listed: &Listed, title: &str) {
    let (sizes, named) = (page.look.sizes, called(listed));
    ui.horizontal(|ui| {
        // Beside it the tick, with the room before it.
        let width = ui.available_width() - sizes.control_height - sizes.gap;
        if is_renamed(page, listed) {
            return rename_ui(ui, page);
        }
        let button = Button::new(strong(title))
            .truncate()
            .min_size(vec2(width, sizes.control_height));
        let opens = styled_button(
            ui,
            page,
            open_action(listed),
            button,
            &format!("Open {named}"),
        );
        follow(&opens);
        let mut ticked = page.state.recipes.ticked.contains(&listed.key);
        let tick = Action::Recipe(RecipeAction::Tick(listed.key.clone()));
        let entry = tick.entry(page.facts);
        let box_ui = ui
            .checkbox(&mut ticked, "")
            .named(&format!("Compare {named}"))
            .on_hover_text(unbroken(entry.tooltip));
        follow(&box_ui);
        if box_ui.changed() {
            page.ask(tick);
        }
    });
}

fn is_renamed(page: &Page<'_>, listed: &Listed) -> bool {
    let renaming = page.state.recipes.renaming.as_ref();
    renaming.is_some_and(|it| Some(&it.path) == listed.key.path())
}

/// The field for another title.
fn rename_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let Some(renaming) = &mut page.state.recipes.renaming else {
        return;
    };
    let field = ui
        .add(TextEdit::singleline(&mut renaming.title).desired_width(f32::INFINITY))
        .named(NEW_TITLE)
        .on_hover_text("What the recipe is to be called.");
    if !renaming.focused {
        renaming.focused = true;
        field.request_focus();
    }
    let pressed = |key| ui.input_mut(|input| input.consume_key(Modifiers::NONE, key));
    if field.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter)) {
        page.ask(Action::Recipe(RecipeAction::Rename));
    } else if pressed(Key::Escape)
        || (field.lost_focus() && ui.input(|it| it.key_pressed(Key::Escape)))
    {
        page.ask(Action::Recipe(RecipeAction::LeaveRename));
    }
}

/// What can be done with it.
fn buttons_ui(ui: &mut Ui, page: &mut Page<'_>, listed: &Listed, named: &str) {
    ui.horizontal(|ui| {
        if is_renamed(page, listed) {
            for action in [RecipeAction::Rename, RecipeAction::LeaveRename] {
                action_button(ui, page, Action::Recipe(action));
            }
            return;
        }
        let today = page.now.date();
        let built = listed.next_start(today);
        let again = Action::Recipe(RecipeAction::StartAgain {
            key: listed.key.clone(),
            built,
        });
        let said = words::start_again(listed.season, built, today);
        let button = Button::new(said.as_str());
        let response = styled_button(ui, page, again, button, &format!("{said} from {named}"));
        follow(&response);
        let Some(path) = listed.key.path() else {
            return;
        };
        let more = ui.menu_button("More", |ui| {
            for action in [
                RecipeAction::Copy(path.clone()),
                RecipeAction::StartRename(path.clone()),
                RecipeAction::PutAway(path.clone()),
            ] {
                menu_entry(ui, page, Action::Recipe(action));
            }
        });
        let more = more
            .response
            .named(&format!("More for {named}"))
            .on_hover_text("Duplicates, renames or puts it away.");
        follow(&more);
    });
}

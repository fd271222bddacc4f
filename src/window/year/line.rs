//! The line of the year: a row for each bay, a column for each month; every heap a bar, every month to be clicked.
//!
//! In: the open year, its plan. Out: asked-for actions: build here, keep empty, open the heap.
//!
//! Not here: how a heap is drawn (`bar`), the same on paper (`export`).
//!
//! Tested by: `tests/window/year_plan.rs`.

use eframe::egui::{
    Align2, Popup, Rect, Response, Role, ScrollArea, Sense, Stroke, StrokeKind, Ui, WidgetInfo,
    pos2, vec2,
};

use crate::text::year::{YearTold, wish};
use crate::text::year_page as words;
use crate::year::{MONTHS, PlannedHeap, Wish, Year};

use crate::window::action::{Action, YearAction};
use crate::window::page::Page;
use crate::window::piles::year_desk::{OpenYear, YearShown};
use crate::window::theme::{Look, name_font, small_font, strong, unbroken};
use crate::window::widgets::buttons::plain_button;
use crate::window::year::bar::{Bar, build_mark, empty_mark, key_ui};

/// Most months past the year that are drawn.
const MOST_RUN_OVER: usize = 6;

/// Where months and bays stand.
#[derive(Debug, Clone, Copy)]
struct Lanes {
    whole: Rect,
    names: f32,
    head: f32,
    month: f32,
    row: f32,
}

impl Lanes {
    fn x(&self, months: f64) -> f32 {
        self.whole.left() + self.names + months as f32 * self.month
    }

    fn row(&self, bay: usize) -> Rect {
        let top = self.whole.top() + self.head + bay as f32 * self.row;
        Rect::from_min_max(
            pos2(self.x(0.0), top),
            pos2(self.whole.right(), top + self.row),
        )
    }

    fn cell(&self, bay: usize, place: usize) -> Rect {
        let row = self.row(bay);
        let (from, to) = (self.x(place as f64), self.x(place as f64 + 1.0));
        Rect::from_min_max(pos2(from, row.top()), pos2(to, row.bottom()))
    }
}

/// The height that so many bays would like to have.
pub(in crate::window) fn line_height(look: Look<'_>, bays: usize) -> f32 {
    let sizes = look.sizes;
    let around = 2.0 * f32::from(sizes.pad) + 2.0 * sizes.control_height + sizes.gap;
    around + sizes.bay_row * bays.max(1) as f32
}

/// The whole line.
pub(in crate::window) fn line_ui(ui: &mut Ui, page: &mut Page<'_>, open: &OpenYear) {
    key_ui(ui, page.look, page.state.settings.units);
    let shown = page.year.shown.take();
    let of_year = shown
        .as_ref()
        .filter(|shown| of_same_bays(shown, &open.file.year));
    ScrollArea::vertical()
        .id_salt("line")
        .auto_shrink([false, false])
        .show(ui, |ui| lanes_ui(ui, page, open, of_year));
    page.year.shown = shown;
}

/// Whether what was planned can be drawn over the bays as they are.
fn of_same_bays(shown: &YearShown, year: &Year) -> bool {
    let planned = &shown.of.file.year;
    planned.first_month == year.first_month && planned.bays.len() == year.bays.len()
}

fn lanes_ui(ui: &mut Ui, page: &mut Page<'_>, open: &OpenYear, shown: Option<&YearShown>) {
    let (look, units) = (page.look, page.state.settings.units);
    let sizes = look.sizes;
    let year = &open.file.year;
    let told = shown.and_then(|shown| shown.told(units));
    let months = MONTHS + told.as_ref().map_or(0, run_over);
    let width = ui.available_width() - sizes.gap;
    let head = sizes.control_height;
    let height = head + sizes.bay_row * year.bays.len() as f32;
    let (_, whole) = ui.allocate_space(vec2(width, height));
    let names = sizes.measure_width;
    let lanes = Lanes {
        whole,
        names,
        head,
        month: (width - names) / months as f32,
        row: sizes.bay_row,
    };
    ground_ui(ui, look, (year, months), &lanes);
    if let (Some(shown), Some(told)) = (shown, &told) {
        for (place, heap) in told.plan.heaps.iter().enumerate() {
            let bar = Bar {
                told,
                heap,
                warmth: shown.warmth.get(place).and_then(Option::as_ref),
                row: lanes.row(heap.bay),
                at: &|months| lanes.x(months),
            };
            bar.paint(ui.painter(), look);
        }
    }
    for bay in 0..year.bays.len() {
        for place in 0..MONTHS {
            cell_ui(
                ui,
                page,
                (open, told.as_ref()),
                (bay, place),
                lanes.cell(bay, place),
            );
        }
    }
}

/// Months past the year that are drawn.
fn run_over(told: &YearTold<'_>) -> usize {
    let last = told.plan.heaps.iter().map(|heap| heap.free_from).max();
    last.unwrap_or(0).saturating_sub(MONTHS).min(MOST_RUN_OVER)
}

/// Months, names and lines.
fn ground_ui(ui: &Ui, look: Look<'_>, (year, months): (&Year, usize), lanes: &Lanes) {
    let painter = ui.painter();
    let thin = Stroke::new(look.sizes.thin, look.colours.line.0);
    let middle = lanes.whole.top() + 0.5 * lanes.head;
    for place in 0..months {
        let x = lanes.x(place as f64);
        painter.vline(x, lanes.whole.y_range(), thin);
        let colour = if place < MONTHS {
            look.colours.text.0
        } else {
            look.colours.text_weak.0
        };
        let name = words::short_month(year, place);
        let at = pos2(x + look.sizes.nudge * 2.0, middle);
        painter.text(
            at,
            Align2::LEFT_CENTER,
            name,
            small_font(look.sizes),
            colour,
        );
    }
    for (bay, it) in year.bays.iter().enumerate() {
        let row = lanes.row(bay);
        let taken = it.free_from.map_or(0, |month| year.place_of(month));
        if taken > 0 {
            let until = pos2(lanes.x(taken as f64), row.bottom());
            let rect = Rect::from_min_max(row.min, until);
            painter.rect_filled(rect, 0.0, look.colours.rail.0);
            let at = row.left_center() + vec2(2.0 * look.sizes.tick, 0.0);
            let colour = look.colours.text.0;
            painter.text(
                at,
                Align2::LEFT_CENTER,
                words::TAKEN,
                small_font(look.sizes),
                colour,
            );
        }
        let across = lanes.whole.left()..=lanes.whole.right();
        painter.hline(across, row.top(), thin);
        let clip = Rect::from_min_max(
            pos2(lanes.whole.left(), row.top()),
            pos2(row.left() - look.sizes.nudge, row.bottom()),
        );
        painter.with_clip_rect(clip.intersect(ui.clip_rect())).text(
            pos2(clip.left(), row.center().y),
            Align2::LEFT_CENTER,
            &it.name,
            name_font(look.sizes),
            look.colours.text.0,
        );
    }
}

/// A month of a bay: what is decided there is marked; a click opens what can be decided.
fn cell_ui(
    ui: &mut Ui,
    page: &mut Page<'_>,
    (open, told): (&OpenYear, Option<&YearTold<'_>>),
    (bay, place): (usize, usize),
    rect: Rect,
) {
    let year = &open.file.year;
    let name = words::cell(year, bay, place);
    let response = ui.interact(
        rect,
        ui.scope_id().with(("cell", bay, place)),
        Sense::click(),
    );
    response.widget_info(|| WidgetInfo::labeled(Role::Button, true, &name));
    let look = page.look;
    if response.hovered() || response.has_focus() {
        let stroke = Stroke::new(look.sizes.curve, look.colours.accent.0);
        let inner = rect.shrink(look.sizes.thin);
        ui.painter()
            .rect_stroke(inner, 2.0, stroke, StrokeKind::Inside);
    }
    marks_ui(ui, look, (year, bay, place), rect);
    let standing = told.and_then(|told| standing(told, bay, place));
    let response = tip(response, told, standing.map(|(_, heap)| heap));
    Popup::menu(&response).show(|ui| {
        ui.set_min_width(look.sizes.title_width);
        ui.label(strong(&name));
        if let (Some(told), Some((at, heap))) = (told, standing) {
            let open = Action::Year(YearAction::OpenHeap(at));
            choice_ui(ui, page, open, &words::open_heap(told.year, heap));
        }
        choices_ui(ui, page, open, (bay, place));
    });
}

/// The heap that stands in a bay in a month, with its place in the plan.
fn standing<'a>(told: &YearTold<'a>, bay: usize, place: usize) -> Option<(usize, &'a PlannedHeap)> {
    let mut heaps = told.plan.heaps.iter().enumerate();
    heaps.find(|(_, heap)| heap.bay == bay && (heap.month..heap.free_from).contains(&place))
}

/// What the pointer tells of a month.
fn tip(response: Response, told: Option<&YearTold<'_>>, heap: Option<&PlannedHeap>) -> Response {
    response.on_hover_ui(|ui| match (told, heap) {
        (Some(told), Some(heap)) => {
            ui.label(strong(words::heap_name(told.year, heap)));
            for line in words::heap_lines(told, heap) {
                ui.label(unbroken(line));
            }
            ui.weak(words::CLICK_HEAP);
        }
        _ => {
            ui.label(words::CLICK_FREE);
        }
    })
}

/// What can be decided of a month, and what was.
fn choices_ui(ui: &mut Ui, page: &mut Page<'_>, open: &OpenYear, (bay, place): (usize, usize)) {
    let year = &open.file.year;
    let (name, month) = (year.bays[bay].name.clone(), year.month_at(place));
    let build = Wish::Build {
        bay: name.clone(),
        month,
    };
    let empty = Wish::Empty { bay: name, month };
    for (decision, text) in [
        (build, words::build_here(year, place)),
        (empty, words::keep_empty(year, place)),
    ] {
        if !year.wishes.contains(&decision) {
            let decide = Action::Year(YearAction::Decide(decision));
            choice_ui(ui, page, decide, &text);
        }
    }
    for (at, it) in year.wishes.iter().enumerate() {
        let here = it.bay() == Some(&year.bays[bay].name) && words::wish_month(it) == Some(month);
        if here {
            let said = words::drop_wish(&wish(year, it, &open.catalogue));
            choice_ui(ui, page, Action::Year(YearAction::DropWish(at)), &said);
        }
    }
}

fn choice_ui(ui: &mut Ui, page: &mut Page<'_>, action: Action, text: &str) {
    if plain_button(ui, page, action, text).clicked() {
        ui.close();
    }
}

/// A triangle where a heap is decided on, a cross where the bay is kept empty.
fn marks_ui(ui: &Ui, look: Look<'_>, (year, bay, place): (&Year, usize, usize), rect: Rect) {
    let month = year.month_at(place);
    let name = &year.bays[bay].name;
    for it in &year.wishes {
        match it {
            Wish::Build { bay, month: at } | Wish::Put { bay, month: at, .. }
                if bay == name && *at == month =>
            {
                build_mark(ui.painter(), look, rect.left_top());
            }
            Wish::Empty { bay, month: at } if bay == name && *at == month => {
                empty_mark(ui.painter(), look, rect.center());
            }
            _ => {}
        }
    }
}

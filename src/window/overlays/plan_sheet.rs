//! The sheet of the proposed plan: what is wished for, how far the search is, what it proposes and why.
//!
//! In: a page with the sheet open. Out: the wish, edited; asked-for actions.
//!
//! Not here: the search (`jobs::plan_search`), the words (`text::plan`), the plot (`trade_off_plot`).
//!
//! Tested by: `tests/window/plan_search.rs`.

use eframe::egui::{Grid, ProgressBar, Role, ScrollArea, Slider, Ui, WidgetInfo, vec2};

use crate::forecast::plan_search::{Proposed, SEEDS, Want};
use crate::garden::Aim;
use crate::outcome::kill::PlantClass;
use crate::outcome::shared;
use crate::text::plan_search::want as want_name;
use crate::text::plan_search::{
    FORMULA_SOURCE, enough_heat, plan_lines, reached_rows, too_cold, too_late, turn_cells,
    will_replace,
};

use crate::window::action::Action;
use crate::window::jobs::plan_search::{FoundPlan, MOST_WORK, Stage, Wish};
use crate::window::overlays::trade_off_plot::trade_off_ui;
use crate::window::page::Page;
use crate::window::piles::choices::PlanSheet;
use crate::window::theme::{strong, unbroken};
use crate::window::widgets::buttons::action_button;
use crate::window::widgets::named::Named;
use crate::window::widgets::sheet::{Side, sheet_ui, small_ui, two_columns_ui};

/// Name of the slider that says how much work is wished for.
pub const MOST_WORK_NAME: &str = "Most work";
/// Name of the bar that shows how far the search is.
pub const PROGRESS: &str = "Progress of the search";

/// The sheet, if it is open.
pub fn plan_sheet_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let Some(mut open) = page.state.plan_sheet.take() else {
        return;
    };
    let sizes = page.look.sizes;
    let wished = vec2(sizes.plan_sheet_width, sizes.plan_sheet_height);
    let leaves = sheet_ui(ui, sizes, ("plan sheet", wished), |ui| {
        ui.heading("Propose a plan");
        wish_ui(ui, page, &mut open);
        ui.separator();
        let below = sizes.control_height + 2.0 * sizes.gap;
        ScrollArea::vertical()
            .id_salt("proposed plan")
            .auto_shrink([false, false])
            .max_height((ui.available_height() - below).max(0.0))
            .show(ui, |ui| stage_ui(ui, page));
        ui.horizontal(|ui| {
            for action in [Action::UsePlan, Action::LeavePlan] {
                action_button(ui, page, action);
            }
        });
    });
    if leaves {
        page.ask(Action::LeavePlan);
    }
    page.state.plan_sheet = Some(open);
}

/// What matters, and how much work it may be.
fn wish_ui(ui: &mut Ui, page: &Page<'_>, open: &mut PlanSheet) {
    let Wish { want, most_work } = &mut open.wish;
    ui.horizontal_wrapped(|ui| {
        ui.label("What matters most:");
        for choice in Want::ALL {
            let button = ui
                .radio_value(want, choice, want_name(choice))
                .on_hover_text(unbroken(want_tip(choice)));
            if *want == choice && !open.focused {
                open.focused = true;
                button.request_focus();
            }
        }
    });
    ui.horizontal_wrapped(|ui| {
        ui.label("At most the work of");
        ui.spacing_mut().slider_width = page.look.sizes.measure_width * 1.6;
        let slider = Slider::new(most_work, 0.0..=MOST_WORK)
            .step_by(0.5)
            .max_decimals(1);
        ui.add(slider)
            .named(MOST_WORK_NAME)
            .on_hover_text("One turning of the whole heap is 1; carrying water to it is half.");
        ui.label("turnings");
        small_ui(ui, page, "(carrying water counts as half of one)");
    });
}

fn want_tip(want: Want) -> &'static str {
    match want {
        Want::FinishSoonest => "As early as possible, whatever else happens.",
        Want::KillSeeds => {
            "Gets as much of the heap as possible hot for long enough for ordinary seeds."
        }
        Want::LeastWork => "Weighs the work of each turning against seeds and time.",
        Want::KeepNitrogen => "Loses as little nitrogen as possible as ammonia.",
    }
}

fn stage_ui(ui: &mut Ui, page: &mut Page<'_>) {
    match &page.shown.plan.clone() {
        Stage::Looking(share) => {
            ui.label("Turning and watering on many days are simulated, each for the whole heap.");
            let bar = ProgressBar::new(*share as f32).show_percentage();
            let shown = ui.add(bar).named(PROGRESS);
            shown.widget_info(|| {
                let text = format!("{PROGRESS}: {:.0} %", 100.0 * share);
                WidgetInfo::labeled(Role::ProgressIndicator, true, text)
            });
        }
        Stage::Choosing(None) => {
            ui.label("Choosing …");
        }
        Stage::Choosing(Some(found)) => {
            ui.add_enabled_ui(false, |ui| found_ui(ui, page, found));
        }
        Stage::Found(found) => found_ui(ui, page, found),
        Stage::Problem(problem) => {
            ui.colored_label(page.look.colours.bad.0, unbroken(problem));
        }
    }
}

fn found_ui(ui: &mut Ui, page: &mut Page<'_>, found: &FoundPlan) {
    let facts = shared().ok();
    let class = facts.and_then(|facts| facts.kill.plants().find(|class| class.id == SEEDS));
    let proposed = &found.proposed;
    let sizes = page.look.sizes;
    two_columns_ui(ui, sizes, 0.5, |ui, side| match side {
        Side::Left => {
            list_ui(ui, page, proposed);
            ui.add_space(sizes.gap);
            reached_ui(ui, page, proposed, class);
        }
        Side::Right => {
            turnings_ui(ui, page, proposed);
            ui.add_space(sizes.gap);
            ui.label(strong("Work and what it brings"));
            small_ui(
                ui,
                page,
                "Across: work in turnings. Up: share of the heap that had enough heat; the line is the most that any plan tried reached with that much work or less.",
            );
            trade_off_ui(ui, proposed, found.wish.most_work, page.look);
        }
    });
}

/// The days and what is done on them.
fn list_ui(ui: &mut Ui, page: &Page<'_>, proposed: &Proposed) {
    ui.label(strong("The plan"));
    let peak_c = page.shown.stages.projection().map(|it| it.summary.peak_c);
    if let Some(text) = too_cold(proposed, peak_c, page.state.settings.units) {
        ui.colored_label(page.look.colours.near.0, unbroken(text));
    }
    if let Some(Aim::FinishedBy { day_of_year }) = page.project.aim
        && let Some(text) = too_late(proposed, f64::from(day_of_year), &page.project.heap)
    {
        ui.colored_label(page.look.colours.near.0, unbroken(text));
    }
    let lines = plan_lines(
        &proposed.plan,
        page.project.heap.start_day_of_year,
        page.first_open_day(),
    );
    if lines.is_empty() {
        ui.label(
            "Leave the heap alone: nothing that was tried within this amount of work does better.",
        );
        return small_ui(
            ui,
            page,
            &will_replace(&page.project.heap, page.first_open_day()),
        );
    }
    Grid::new("plan lines").num_columns(2).show(ui, |ui| {
        for line in lines {
            ui.label(unbroken(line.when));
            let kept = if line.kept { " (stays)" } else { "" };
            ui.label(unbroken(format!("{}{kept}", line.operation)));
            ui.end_row();
        }
    });
    small_ui(
        ui,
        page,
        &will_replace(&page.project.heap, page.first_open_day()),
    );
}

/// What it reaches against the heap left alone.
fn reached_ui(
    ui: &mut Ui,
    page: &Page<'_>,
    proposed: &Proposed,
    class: Option<&'static PlantClass>,
) {
    ui.label(strong("What it reaches"));
    let seeds = class.map_or("seeds", |class| class.name.as_str());
    let units = page.state.settings.units;
    let rows = reached_rows(proposed, seeds, page.project.heap.days, units);
    let grid = Grid::new("reached")
        .num_columns(3)
        .max_col_width(0.56 * ui.available_width());
    grid.show(ui, |ui| {
        ui.label("");
        ui.label("left alone");
        ui.label(strong("this plan"));
        ui.end_row();
        for row in rows {
            ui.label(unbroken(row.what));
            ui.label(unbroken(row.alone));
            ui.label(strong(row.planned));
            ui.end_row();
        }
    });
    if let Some(class) = class {
        small_ui(ui, page, &enough_heat(class, units));
    }
    let tried = format!(
        "Best of {} timetables, each simulated once with typical values; real heaps differ.",
        proposed.tried
    );
    small_ui(ui, page, &tried);
}

/// What each further turning of the plan buys.
fn turnings_ui(ui: &mut Ui, page: &Page<'_>, proposed: &Proposed) {
    ui.label(strong("What each turning brings"));
    if proposed.turnings.len() < 2 {
        ui.label("This plan turns nothing.");
        return;
    }
    Grid::new("turnings")
        .num_columns(3)
        .striped(true)
        .show(ui, |ui| {
            for head in ["turnings", "had enough, simulated", "had enough, at random"] {
                small_ui(ui, page, head);
            }
            ui.end_row();
            for row in &proposed.turnings {
                for cell in turn_cells(row) {
                    ui.label(unbroken(cell));
                }
                ui.end_row();
            }
        });
    small_ui(ui, page, FORMULA_SOURCE);
}

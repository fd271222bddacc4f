//! Carrying out what was asked for, and the work that goes on between frames.
//!
//! In: an action. Out: a changed project, state or file. What changes the project takes its step in
//! the history here.
//!
//! Not here: the list of actions (`action`), files (`files`).
//!
//! Tested by: `tests/window/actions.rs`.

use std::time::Duration;

use eframe::egui;

use crate::document::History;
use crate::heap::Operation;
use crate::material::Catalogue;
use crate::material::Side;
use crate::mix::balance::{Balanced, Goal, Size, balance_handily, fill};
use crate::mix::{Ingredient, Mix, MixError};
use crate::quantity::{Amount, Measure};

use crate::window::action::Action;
use crate::window::app::App;
use crate::window::heap::plan_list::{add_operation, addition};
use crate::window::jobs::dialog::PathUse;
use crate::window::mix::buckets::plus_bucket;
use crate::window::piles::choices::{Destination, Next, PickerState, View};
use crate::window::piles::notices::Notice;
use crate::window::piles::preview::Preview;

/// How often a waiting dialog is asked for its answer.
const DIALOG_POLL: Duration = Duration::from_millis(100);

impl App {
    /// Work between frames: answers, unsaved work, closing, dropped files.
    pub fn logic(&mut self, ctx: &egui::Context) {
        self.now_s = ctx.input(|input| input.time);
        self.take_dialog_answer(ctx);
        if self.store.dialog.is_open() {
            ctx.request_repaint_after(DIALOG_POLL);
        }
        self.take_dropped_file(ctx);
        self.keep_unsaved(ctx);
        self.write_settings();
        if ctx.input(|input| input.viewport().close_requested()) && !self.closing {
            if self.is_unsaved() {
                ctx.send_viewport_cmd(egui::ViewportCommand::CancelClose);
            }
            self.guarded(Next::Close, ctx);
        }
    }

    fn take_dropped_file(&mut self, ctx: &egui::Context) {
        let dropped = ctx.input(|input| {
            input
                .raw
                .dropped_files
                .first()
                .map(|file| file.path().to_owned())
        });
        if let Some(path) = dropped {
            self.guarded(Next::OpenFile(path), ctx);
        }
    }

    /// Carries out an action.
    pub(in crate::window) fn perform(&mut self, action: Action, ctx: &egui::Context) {
        match action {
            Action::New => self.guarded(Next::New, ctx),
            Action::Open => self.guarded(Next::Open, ctx),
            Action::OpenByPath => self.guarded(Next::OpenByPath, ctx),
            Action::OpenFile(path) => self.guarded(Next::OpenFile(path), ctx),
            Action::Save => self.save(ctx),
            Action::SaveAs => self.ask_for_path(PathUse::Save, ctx),
            Action::SaveByPath => self.show_path_field(PathUse::Save, ""),
            Action::Keep => self.keep_in_seasons(),
            Action::Quit => self.guarded(Next::Close, ctx),
            Action::Undo => self.step(History::undo),
            Action::Redo => self.step(History::redo),
            Action::Pin => self.shown.pinned = self.shown.to_pin(),
            Action::Unpin => self.shown.pinned = None,
            Action::PickMaterial => self.state.picker = Some(PickerState::default()),
            Action::PickForPlan(entry) => {
                self.state.picker = Some(PickerState {
                    destination: entry.map_or(Destination::Plan, Destination::Entry),
                    ..PickerState::default()
                });
            }
            Action::ProposePlan => self.open_plan_sheet(),
            Action::UsePlan => self.use_proposed_plan(),
            Action::LeavePlan => self.leave_plan_sheet(),
            Action::OpenDrawer => self.open_drawer(None),
            Action::ShowMaterial(id) => self.open_drawer(Some(id)),
            Action::CloseDrawer => self.state.drawer = None,
            Action::StartForm(kind) => self.start_form(kind),
            Action::CloseForm => self.close_form(),
            Action::TakeMaterial(material) => self.take_material(*material),
            Action::KeepMaterial(id) => self.keep_material(&id),
            Action::DropMaterial(id) => self.drop_material(&id),
            Action::ToggleDetails(row) => {
                let open = &mut self.state.details;
                *open = (*open != Some(row)).then_some(row);
            }
            Action::AsListed(row) => self.as_listed(row),
            Action::AddMaterial(id) => self.add_material(&id),
            Action::AddToPlan(entry, id) => self.add_to_plan(entry, id),
            Action::Remove(row) => self.remove(row),
            Action::SetMeasure(row, measure) => self.set_measure(row, measure),
            Action::Follow(change) => {
                change.apply(&mut self.project.mix);
                self.record_or_revert("what was advised");
            }
            Action::Balance => self.look_for_balance(balance_handily),
            Action::FillBin => self.look_for_balance(|mix, catalogue, goal| {
                let room_m3 = match goal.size {
                    Size::Fill(room_m3) | Size::Within(room_m3) => room_m3,
                    Size::Free => return balance_handily(mix, catalogue, goal),
                };
                fill(mix, catalogue, room_m3, goal)
            }),
            Action::TryWay(place) => {
                if let Some(preview) = &mut self.shown.preview {
                    preview.way = Some(place);
                }
            }
            Action::TakeBalance => self.take_balance(),
            Action::LeaveBalance => self.shown.preview = None,
            Action::AddBucket(side) => self.add_bucket(side),
            Action::ChooseBucket(Side::Green, id) => self.state.buckets.green = id,
            Action::ChooseBucket(_, id) => self.state.buckets.brown = id,
            Action::Class(action) => self.perform_class(action, ctx),
            Action::ToggleMotion => {
                let less = &mut self.state.settings.less_motion;
                *less = !*less;
            }
            Action::Show(view) => self.show_view(view),
            Action::SetUnits(units) => self.state.settings.units = units,
            Action::SetTheme(theme) => self.state.settings.theme = theme,
            Action::ToggleNotes => self.state.notes_open = !self.state.notes_open,
            Action::ToggleNotices => {
                self.state.notices.list_open = !self.state.notices.list_open;
            }
            Action::Reply(reply) => self.reply(reply, ctx),
            Action::UsePath(path) => self.use_typed_path(&path, ctx),
            Action::ClosePathField => self.close_path_field(),
            Action::TypePathInstead => self.type_path_instead(),
        }
        // Whatever it did is to be seen.
        ctx.request_repaint();
    }

    fn show_view(&mut self, view: View) {
        self.state.view = view;
        if view == View::Seasons {
            self.list_recipes();
        }
    }

    /// One step of the history, in either direction.
    fn step(
        &mut self,
        way: impl FnOnce(
            &mut History,
            &crate::document::Project,
        ) -> Option<(crate::document::Project, String)>,
    ) {
        if let Some((project, _)) = way(&mut self.history, &self.project) {
            self.project = project;
            self.state.held_slider = None;
        }
    }

    /// A new row with a bucket of it; a material that has a row gets no second one by mistake.
    fn add_material(&mut self, id: &str) {
        self.state.picker = None;
        self.state.drawer = None;
        self.bring_kept(id);
        let known = self.catalogue.find(id);
        let Some(material) = known.or_else(|| self.shelf.kept_materials.find(id)) else {
            return;
        };
        let label = format!("added {}", material.name);
        let one = Amount::new(1.0, Measure::Bucket);
        let row = Ingredient::new(id, one);
        self.project.mix.ingredients.push(row);
        self.record_or_revert(&label);
    }

    /// A bucket of it in an entry of the plan.
    fn add_to_plan(&mut self, entry: Option<usize>, id: String) {
        self.state.picker = None;
        let Some(material) = self.catalogue.find(&id) else {
            return;
        };
        let label = format!("plan adds {}", material.name);
        let bucket = Ingredient::new(id, Amount::new(1.0, Measure::Bucket));
        let heap = &mut self.project.heap;
        match entry.and_then(|entry| heap.plan.events.get_mut(entry)) {
            Some(event) => {
                if let Operation::Add { mix, .. } = &mut event.operation {
                    mix.ingredients.push(bucket);
                }
            }
            None => add_operation(heap, addition(bucket)),
        }
        self.record_or_revert(&label);
    }

    fn remove(&mut self, row: usize) {
        if row >= self.project.mix.ingredients.len() {
            return;
        }
        let removed = self.project.mix.ingredients.remove(row);
        self.state.held_slider = None;
        self.state.details = None;
        let name = self
            .catalogue
            .find(&removed.material)
            .map_or(removed.material.as_str(), |material| material.name.as_str());
        let label = format!("removed {name}");
        self.record_or_revert(&label);
    }

    fn set_measure(&mut self, row: usize, measure: Measure) {
        let Some(ingredient) = self.project.mix.ingredients.get_mut(row) else {
            return;
        };
        let Some(material) = ingredient.material_in(&self.catalogue) else {
            return;
        };
        let density = material.bulk_density.typical;
        let label = format!("measure of {}", material.name);
        ingredient.say_in(measure, density);
        self.record_or_revert(&label);
    }

    /// Puts an answer up to be looked at.
    fn look_for_balance(
        &mut self,
        find: impl FnOnce(&Mix, &Catalogue, &Goal) -> Result<Balanced, MixError>,
    ) {
        let room_m3 = self.project.heap.shape.room_m3();
        let mix = &self.project.mix;
        match find(mix, &self.catalogue, &Goal::of_room(room_m3)) {
            Ok(balanced) => {
                self.shown.preview = Some(Preview {
                    balanced,
                    way: None,
                    of: (mix.clone(), room_m3),
                });
            }
            Err(problem) => self.tell(Notice::problem(
                "The mix cannot be balanced",
                problem.to_string(),
            )),
        }
    }

    /// Changes the mix as the preview shows, in one step.
    fn take_balance(&mut self) {
        if let Some(preview) = self.shown.preview.take() {
            self.project.mix = preview.mix().clone();
            self.state.held_slider = None;
            self.record_or_revert("balanced the mix");
        }
    }

    pub(in crate::window) fn add_bucket(&mut self, side: Side) {
        let id = match side {
            Side::Green => self.state.buckets.green.clone(),
            _ => self.state.buckets.brown.clone(),
        };
        let Some(material) = self.catalogue.find(&id) else {
            return;
        };
        let label = format!("one bucket of {}", material.name);
        let catalogue = &self.catalogue;
        let rows = &mut self.project.mix.ingredients;
        match rows.iter_mut().find(|row| row.material == id) {
            Some(row) => {
                let density = row
                    .material_in(catalogue)
                    .map_or(material.bulk_density.typical, |as_it_is| {
                        as_it_is.bulk_density.typical
                    });
                row.amount = plus_bucket(&row.amount, density);
            }
            None => rows.push(Ingredient::new(id, Amount::new(1.0, Measure::Bucket))),
        }
        self.record_or_revert(&label);
    }

    /// Takes a step for what was changed, or takes it back if it cannot be; whether it was taken.
    pub(in crate::window) fn record_or_revert(&mut self, label: &str) -> bool {
        if let Err(problem) = self.project.check_alone() {
            self.revert(&problem.to_string());
            return false;
        }
        self.history.record(&self.project, label);
        true
    }
}

//! Which verb carries out which action, and the work that goes on between frames.
//!
//! In: an action. Out: a changed project, state or file. What changes the project takes its step in
//! the history here.
//!
//! Not here: the list of actions (`action`), files (`files`).
//!
//! Tested by: `tests/window/actions.rs`.

use std::time::Duration;

use eframe::egui;

use crate::material::Side;

use crate::text::change;
use crate::window::action::{Action, ClassAction, YearAction};
use crate::window::jobs::dialog::PathUse;
use crate::window::piles::choices::{Destination, HelpSheet, HelpTopic, Next, PickerState, View};
use crate::window::piles::notices::Notice;
use crate::window::verbs::importing::is_logger_file;
use crate::window::verbs::workbench::Workbench;

/// How often a waiting dialog is asked for its answer.
const DIALOG_POLL: Duration = Duration::from_millis(100);

impl Workbench {
    /// Work between frames: answers, unsaved work, closing, dropped files, what others did to the open file.
    pub(in crate::window) fn between_frames(&mut self, ctx: &egui::Context) {
        self.now_s = ctx.input(|input| input.time);
        self.take_dialog_answer(ctx);
        if self.store.dialog.is_open() {
            ctx.request_repaint_after(DIALOG_POLL);
        }
        self.take_dropped_file(ctx);
        self.look_at_file_on_focus(ctx);
        self.hand_to_keeper(ctx);
        self.write_settings();
        if ctx.input(|input| input.viewport().close_requested()) && !self.closing {
            if self.is_unsaved() || self.year.is_unsaved() {
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
        if let Some(path) = dropped.clone().filter(|path| is_logger_file(path)) {
            self.open_import(&path);
        } else if let Some(path) = dropped {
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
            Action::Save if self.shown_year().is_some() => self.save_year(ctx),
            Action::Save => self.save(ctx),
            Action::SaveAs => self.ask_for_path(self.saved_by(), ctx),
            Action::SaveByPath => self.show_path_field(self.saved_by(), ""),
            Action::Keep => self.keep_in_seasons(),
            Action::Print if self.shown_year().is_some() => {
                self.perform_year(YearAction::Page, ctx);
            }
            Action::Print => self.perform_class(ClassAction::Handout, ctx),
            Action::Quit => self.guarded(Next::Close, ctx),
            Action::Undo => self.undo(),
            Action::Redo => self.redo(),
            Action::Pin => self.shown.pinned = self.shown.to_pin(),
            Action::Unpin => self.shown.pinned = None,
            Action::PickMaterial => self.pick_for(Destination::Mix),
            Action::PickForPlan(entry) => {
                self.pick_for(entry.map_or(Destination::Plan, Destination::Entry));
            }
            Action::BalancePortion(entry) => self.balance_portion(entry),
            Action::ProposePlan => self.open_plan_sheet(),
            Action::UsePlan => self.use_proposed_plan(),
            Action::LeavePlan => self.leave_plan_sheet(),
            Action::AskWrong => self.open_complaint(),
            Action::LeaveWrong => self.leave_complaint(),
            Action::TakeCure(place) => self.take_cure(place),
            Action::KeepRough => self.keep_rough(ctx),
            Action::ImportReadings => self.ask_for_path(PathUse::Readings, ctx),
            Action::ImportFile(path) => self.open_import(&path),
            Action::TakeReadings => self.take_readings(),
            Action::LeaveImport => self.leave_import(),
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
            Action::TellUnread(problem) => self.tell(Notice::problem(problem, "")),
            Action::Remove(row) => self.remove(row),
            Action::SetMeasure(row, measure) => self.set_measure(row, measure),
            Action::Follow(change) => {
                change.apply(&mut self.project.mix);
                self.record_or_revert(change::ADVISED);
            }
            Action::Balance => self.balance(),
            Action::FillBin => self.fill_bin(),
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
            Action::Diary(action) => self.perform_diary(action),
            Action::Year(action) => self.perform_year(action, ctx),
            Action::Recipe(action) => self.perform_recipe(action, ctx),
            Action::ToggleMotion => self.state.settings.less_motion ^= true,
            Action::ToggleFullScreen => self.toggle_full_screen(ctx),
            Action::Show(view) => self.show_view(view),
            Action::SetUnits(units) => self.state.settings.units = units,
            Action::SetTheme(theme) => self.state.settings.theme = theme,
            Action::ToggleNotes => self.state.notes_open ^= true,
            Action::ToggleNotices => self.state.notices.list_open ^= true,
            Action::ShowKeys => self.open_help(HelpTopic::Keys),
            Action::ShowAbout => self.open_help(HelpTopic::About),
            Action::LeaveHelp => self.state.help = None,
            Action::Reply(reply) => self.reply(reply, ctx),
            Action::UsePath(path) => self.use_typed_path(&path, ctx),
            Action::ClosePathField => self.close_path_field(),
            Action::TypePathInstead => self.type_path_instead(),
        }
        // Whatever it did is to be seen.
        ctx.request_repaint();
    }

    /// Opens the picker; what is chosen in it goes there.
    pub(in crate::window) fn pick_for(&mut self, destination: Destination) {
        self.state.picker = Some(PickerState {
            destination,
            ..PickerState::default()
        });
    }

    fn open_help(&mut self, topic: HelpTopic) {
        self.state.help = Some(HelpSheet {
            topic,
            focused: false,
        });
    }

    fn toggle_full_screen(&mut self, ctx: &egui::Context) {
        let full = &mut self.state.full_screen;
        *full = !*full;
        ctx.send_viewport_cmd(egui::ViewportCommand::Fullscreen(*full));
    }

    fn show_view(&mut self, view: View) {
        self.state.view = view;
        if view == View::Seasons {
            self.list_recipes();
        }
    }
}

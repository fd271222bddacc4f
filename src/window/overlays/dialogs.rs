//! Questions, the path field, notices: everything that lies over a view or below it.
//!
//! In: a page with an open question or field. Out: the asked-for answer.
//!
//! Not here: what an answer leads to (`files`).
//!
//! Tested by: `tests/window/files.rs`.

use std::path::PathBuf;

use eframe::egui::{
    self, Align, Align2, Area, CollapsingHeader, Frame, Id, Key, Label, Layout, Margin, Modal,
    Order, Panel, ScrollArea, TextEdit, TextWrapMode, Ui,
};

use crate::document::shown;

use crate::window::action::{Action, Reply};
use crate::window::jobs::dialog::PathUse;
use crate::window::page::Page;
use crate::window::piles::choices::{PathField, Question};
use crate::window::piles::notices::{Notice, Weight};
use crate::window::theme::{sheet, unbroken};
use crate::window::widgets::buttons::plain_button;
use crate::window::widgets::named::Named;

/// Name of the path field.
pub const PATH: &str = "Path";

/// The question that waits, if any.
pub fn question_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let Some(question) = page.state.question.clone() else {
        return;
    };
    let words = Words::of(&question, &page.project.title);
    let modal = Modal::new(Id::unique("question"))
        .frame(sheet(ui, page.look.sizes))
        .show(ui.ctx(), |ui| {
            ui.set_width(page.look.sizes.dialog_width);
            ui.heading(words.title);
            ui.label(unbroken(&words.text));
            ui.add_space(page.look.sizes.gap);
            ui.horizontal(|ui| {
                plain_button(ui, page, Action::Reply(Reply::Yes), words.yes);
                plain_button(ui, page, Action::Reply(Reply::No), words.no);
                plain_button(ui, page, Action::Reply(Reply::Cancel), words.cancel);
            });
        });
    if modal.should_close() {
        page.ask(Action::Reply(Reply::Cancel));
    }
}

/// The words of a question and its answers.
struct Words {
    title: &'static str,
    text: String,
    yes: &'static str,
    no: &'static str,
    cancel: &'static str,
}

impl Words {
    fn of(question: &Question, title: &str) -> Self {
        let title = if title.trim().is_empty() {
            "This recipe"
        } else {
            title
        };
        match question {
            Question::Unsaved(_) => Self {
                title: "Unsaved changes",
                text: format!("{title} has changes that are not saved."),
                yes: "Save",
                no: "Discard",
                cancel: "Cancel",
            },
            Question::UnsavedYear(_) => Self {
                title: "Unsaved changes of the year",
                text: "The year has changes that are not saved.".to_owned(),
                yes: "Save",
                no: "Discard",
                cancel: "Cancel",
            },
            Question::Overwrite(path) | Question::OverwriteYear(path) => Self {
                title: "Replace the file?",
                text: format!("A file of this name already exists: {}", shown(path)),
                yes: "Replace it",
                no: "Another name",
                cancel: "Cancel",
            },
            Question::ChangedOnDisk(path) => Self {
                title: "The file was changed elsewhere",
                text: format!(
                    "Another program has changed it since it was opened here: {}",
                    shown(path)
                ),
                yes: "Save under another name",
                no: "Replace it",
                cancel: "Cancel",
            },
            Question::Reload(path) => Self {
                title: "The file was changed elsewhere",
                text: format!(
                    "Another program has changed it since it was opened here. Loading it again shows what is in it now; \
                     changes made here and not saved are lost. {}",
                    shown(path)
                ),
                yes: "Load it again",
                no: "Save mine under another name",
                cancel: "Keep mine",
            },
            Question::Recover { title, count } => Self {
                title: "Unsaved work was found",
                text: format!(
                    "The program ended before \"{title}\" was saved. {}",
                    match count {
                        0 | 1 => "You can restore it.".to_owned(),
                        more => format!("There are {more} such recipes; this is the first."),
                    }
                ),
                yes: "Restore",
                no: "Discard",
                cancel: "Later",
            },
        }
    }
}

/// The path field, if it is open.
pub fn path_field_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let Some(mut field) = page.state.path_field.take() else {
        return;
    };
    let (title, button, example) = match field.purpose {
        PathUse::Open => ("Open by path", "Open this file", "/folder/recipe.heap.ron"),
        PathUse::Save => ("Save by path", "Save here", "/folder/recipe.heap.ron"),
        PathUse::OpenYear => ("Open a year", "Open this file", "/folder/garden.year.ron"),
        PathUse::SaveYear => ("Save the year", "Save here", "/folder/garden.year.ron"),
        PathUse::Readings => ("Logger file", "Look at this file", "/folder/logger.csv"),
        PathUse::Handout => ("Write the handout", "Write it here", "/folder/handout.pdf"),
        PathUse::CurvePicture | PathUse::InsidePicture => {
            ("Write the picture", "Write it here", "/folder/picture.png")
        }
        PathUse::YearPage => ("Write the page", "Write it here", "/folder/year.pdf"),
        PathUse::Calendar | PathUse::YearCalendar => {
            ("Save the dates", "Save them here", "/folder/dates.ics")
        }
    };
    let modal = Modal::new(Id::unique("path field"))
        .frame(sheet(ui, page.look.sizes))
        .show(ui.ctx(), |ui| {
            ui.set_width(page.look.sizes.dialog_width);
            ui.heading(title);
            if !field.reason.is_empty() {
                ui.label(unbroken(&field.reason));
            }
            path_text_ui(ui, page, &mut field, example);
            if !field.problem.is_empty() {
                ui.colored_label(page.look.colours.bad.0, unbroken(&field.problem));
            }
            ui.add_space(page.look.sizes.gap);
            ui.horizontal(|ui| {
                let typed = PathBuf::from(field.text.trim());
                ui.add_enabled_ui(!field.text.trim().is_empty(), |ui| {
                    plain_button(ui, page, Action::UsePath(typed), button);
                });
                plain_button(ui, page, Action::ClosePathField, "Cancel");
            });
        });
    if modal.should_close() {
        page.ask(Action::ClosePathField);
    }
    page.state.path_field = Some(field);
}

/// The field itself, with an example of such a path while it is empty.
fn path_text_ui(ui: &mut Ui, page: &mut Page<'_>, field: &mut PathField, example: &str) {
    let response = ui
        .add(
            TextEdit::singleline(&mut field.text)
                .hint_text(example)
                .desired_width(f32::INFINITY),
        )
        .named(PATH)
        .on_hover_text("Path of the file; press Enter to continue.");
    if !field.focused {
        field.focused = true;
        response.request_focus();
    }
    let entered = response.lost_focus() && ui.input(|input| input.key_pressed(Key::Enter));
    if entered && !field.text.trim().is_empty() {
        page.ask(Action::UsePath(PathBuf::from(field.text.trim())));
        // A refused path leaves the field open, with the keyboard still in it.
        field.focused = false;
    }
    if response.changed() {
        field.problem.clear();
    }
}

/// The strip below the Class view: what there is to tell, else a line about keys. It is always there and as high, so
/// that no button moves under a hand.
pub fn class_foot_ui(ui: &mut Ui, page: &mut Page<'_>, dialog_slow: bool, keys: &str) {
    let now_s = ui.input(|input| input.time);
    let toast = page.state.notices.toast(now_s);
    let sizes = page.look.sizes;
    let below = sizes.pad / 2;
    let frame = Frame::new()
        .fill(page.look.colours.ground.0)
        .inner_margin(Margin {
            left: sizes.pad,
            right: sizes.pad,
            top: 0,
            bottom: below,
        });
    Panel::bottom("foot of the class")
        .frame(frame)
        .exact_size(sizes.control_height + f32::from(below))
        .resizable(false)
        .show_separator_line(false)
        .show(ui, |ui| {
            ui.horizontal_centered(|ui| match &toast {
                _ if dialog_slow => slow_dialog_ui(ui, page),
                Some((notice, _)) => toast_line_ui(ui, page, notice),
                None => {
                    let weak = page.look.colours.text_weak.0;
                    ui.add(Label::new(unbroken(keys).small().color(weak)).truncate());
                }
            });
        });
    wake_after(ui, toast.and_then(|(_, left_s)| left_s));
}

/// A notice on one line: its buttons at the end, the words cut where they do not fit and whole on hover.
fn toast_line_ui(ui: &mut Ui, page: &mut Page<'_>, notice: &Notice) {
    ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
        toast_buttons_ui(ui, page, notice);
        ui.with_layout(Layout::left_to_right(Align::Center), |ui| {
            ui.style_mut().wrap_mode = Some(TextWrapMode::Truncate);
            toast_words_ui(ui, page, notice);
        });
    });
}

/// What there is to tell, floating over the foot of the window so that nothing moves for it.
pub fn footer_ui(ui: &mut Ui, page: &mut Page<'_>, dialog_slow: bool) {
    let now_s = ui.input(|input| input.time);
    let toast = page.state.notices.toast(now_s);
    if toast.is_none() && !dialog_slow {
        return;
    }
    let lift = -f32::from(page.look.sizes.pad);
    Area::new(Id::unique("foot"))
        .anchor(Align2::CENTER_BOTTOM, [0.0, lift])
        .order(Order::Foreground)
        .show(ui.ctx(), |ui| {
            let frame = sheet(ui, page.look.sizes).inner_margin(page.look.sizes.pad);
            frame.show(ui, |ui| {
                ui.set_max_width(page.look.sizes.toast_width);
                told_ui(ui, page, dialog_slow, toast.as_ref().map(|told| &told.0));
            });
        });
    wake_after(ui, toast.and_then(|(_, left_s)| left_s));
}

/// Draws again once a toast is to go.
fn wake_after(ui: &Ui, left_s: Option<f64>) {
    if let Some(left_s) = left_s {
        let left = std::time::Duration::from_secs_f64(left_s);
        ui.ctx().request_repaint_after(left);
    }
}

fn told_ui(ui: &mut Ui, page: &mut Page<'_>, dialog_slow: bool, notice: Option<&Notice>) {
    if dialog_slow {
        ui.horizontal_wrapped(|ui| slow_dialog_ui(ui, page));
    }
    if let Some(notice) = notice {
        ui.horizontal_wrapped(|ui| {
            toast_words_ui(ui, page, notice);
            toast_buttons_ui(ui, page, notice);
        });
    }
}

fn slow_dialog_ui(ui: &mut Ui, page: &mut Page<'_>) {
    ui.label("Waiting for the desktop's file dialog.");
    plain_button(ui, page, Action::TypePathInstead, "Type the path instead");
}

fn toast_words_ui(ui: &mut Ui, page: &Page<'_>, notice: &Notice) {
    let colours = page.look.colours;
    let (word, colour) = match notice.weight {
        Weight::Done => ("Done:", colours.good),
        Weight::Problem => ("Not done:", colours.bad),
    };
    ui.label(unbroken(word).color(colour.0));
    let text = ui.label(unbroken(&notice.summary));
    ui.ctx()
        .accesskit_node_builder(text.id, |node| node.set_live(egui::accesskit::Live::Polite));
}

fn toast_buttons_ui(ui: &mut Ui, page: &mut Page<'_>, notice: &Notice) {
    if ui
        .button("Dismiss")
        .on_hover_text("Hides this notice; it stays in the list.")
        .clicked()
    {
        page.state.notices.dismiss();
    }
    if notice.weight == Weight::Problem {
        plain_button(ui, page, Action::ToggleNotices, "All notices");
    }
}

/// The list of everything told, while it is open.
pub fn notices_ui(ui: &mut Ui, page: &mut Page<'_>) {
    if !page.state.notices.list_open {
        return;
    }
    let modal = Modal::new(Id::unique("notices"))
        .frame(sheet(ui, page.look.sizes))
        .show(ui.ctx(), |ui| {
            ui.set_width(page.look.sizes.picker_width);
            ui.heading("Notices");
            ScrollArea::vertical()
                .max_height(page.look.sizes.picker_height * 0.7)
                .show(ui, |ui| {
                    let list = page.state.notices.list();
                    if list.is_empty() {
                        ui.label("Nothing so far.");
                    }
                    for (place, notice) in list.iter().enumerate().rev() {
                        ui.push_id(place, |ui| notice_ui(ui, notice));
                    }
                });
            plain_button(ui, page, Action::ToggleNotices, "Close");
        });
    if modal.should_close() {
        page.state.notices.list_open = false;
    }
}

fn notice_ui(ui: &mut Ui, notice: &Notice) {
    if notice.details.is_empty() {
        ui.label(unbroken(&notice.summary));
    } else {
        CollapsingHeader::new(&notice.summary).show(ui, |ui| ui.label(unbroken(&notice.details)));
    }
    ui.separator();
}

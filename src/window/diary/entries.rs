//! The list of the diary, newest first: readings beside what was expected, what was done, probes of loggers.
//!
//! In: the diary, what was expected. Out: asked-for changes.
//!
//! Not here: what was expected (`diary_shown`), words (`text::diary`).
//!
//! Tested by: `tests/window/diary.rs`.

use eframe::egui::{Align, Button, Layout, Ui};

use crate::diary::Reading;
use crate::heap::{Event, Operation};
use crate::text::diary::{
    NO_READINGS, added, done, expected_and_off, log, measured, moment_short, other_parts, place,
};
use crate::text::{mix, sentence};

use crate::window::action::{Action, DiaryAction};
use crate::window::page::Page;
use crate::window::piles::diary_choices::FIRST_ENTRIES;
use crate::window::theme::unbroken;
use crate::window::widgets::buttons::styled_button;

/// One line of the list.
enum Line {
    /// A reading, by its place in the diary.
    Reading(usize),
    /// Something that was done, by its place in the plan.
    Done(usize),
}

/// The newest readings and things done, at most so many, and how many there are in all.
fn newest_lines(page: &Page<'_>, most: usize) -> (Vec<Line>, usize) {
    let diary = &page.project.diary;
    let today = diary.day_of(page.now).unwrap_or(f64::NEG_INFINITY);
    let events = page.project.heap.plan.events.iter().enumerate();
    let mut done: Vec<(f64, usize)> = events
        .filter(|(_, event)| event.day <= today && diary.done.contains(&event.day))
        .map(|(at, event)| (event.day, at))
        .collect();
    done.sort_by(|a, b| b.0.total_cmp(&a.0));
    let dated = &page.shown.diary.newest_first;
    let count = dated.len() + done.len();
    let (mut readings, mut done) = (dated.iter().peekable(), done.into_iter().peekable());
    let mut lines = Vec::with_capacity(most.min(count));
    while lines.len() < most {
        // Of one moment the reading comes first.
        let reading = match (readings.peek(), done.peek()) {
            (Some((read, _)), Some((was, _))) => read >= was,
            (Some(_), None) => true,
            (None, Some(_)) => false,
            (None, None) => break,
        };
        let next = if reading {
            readings.next().map(|(_, at)| Line::Reading(*at))
        } else {
            done.next().map(|(_, at)| Line::Done(at))
        };
        lines.extend(next);
    }
    (lines, count)
}

/// The list.
pub fn entries_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let shown = page.state.diary.entries_shown;
    let (lines, count) = newest_lines(page, shown);
    if lines.is_empty() && page.project.diary.logs.is_empty() {
        ui.weak(NO_READINGS);
    }
    for at in 0..page.project.diary.logs.len() {
        let said = log(&page.project.diary.logs[at], page.state.settings.units);
        let drop = (DiaryAction::DropLog(at), format!("Remove probe {}", at + 1));
        row_ui(
            ui,
            page,
            RowWords {
                first: said,
                ..RowWords::default()
            },
            [None, Some(drop)],
        );
    }
    for line in lines {
        match line {
            Line::Reading(at) => {
                let reading = page.project.diary.readings[at].clone();
                reading_ui(ui, page, at, &reading);
            }
            Line::Done(at) => {
                let event = page.project.heap.plan.events[at].clone();
                done_ui(ui, page, at, &event);
            }
        }
    }
    if count > shown {
        let left = count - shown;
        let more = ui.button(format!("{left} older"));
        if more.on_hover_text("Shows older entries as well.").clicked() {
            page.state.diary.entries_shown += 5 * FIRST_ENTRIES;
        }
    }
}

/// The words of a line.
#[derive(Default)]
struct RowWords {
    when: String,
    first: String,
    further: String,
}

/// One line with its buttons, each with its name.
fn row_ui(
    ui: &mut Ui,
    page: &mut Page<'_>,
    words: RowWords,
    buttons: [Option<(DiaryAction, String)>; 2],
) {
    let weak = page.look.colours.text_weak.0;
    ui.horizontal(|ui| {
        ui.with_layout(Layout::right_to_left(Align::Center), |ui| {
            for (action, name) in buttons.into_iter().rev().flatten() {
                let action = Action::Diary(action);
                let text = action.text(page.facts);
                styled_button(ui, page, action, Button::new(text), &name);
            }
            ui.with_layout(
                Layout::left_to_right(Align::Center).with_main_wrap(true),
                |ui| {
                    if !words.when.is_empty() {
                        ui.label(unbroken(words.when).small().color(weak));
                    }
                    ui.label(unbroken(words.first));
                },
            );
        });
    });
    if !words.further.is_empty() {
        ui.label(unbroken(words.further).small().color(weak));
    }
}

fn reading_ui(ui: &mut Ui, page: &mut Page<'_>, at: usize, reading: &Reading) {
    let units = page.state.settings.units;
    let expected = page
        .shown
        .diary
        .expected
        .get(at)
        .copied()
        .unwrap_or_default();
    let mut first = place(reading.spot);
    let mut further = Vec::new();
    if let Some(measured_c) = reading.temperature_c {
        first = format!("{first} {}", measured(measured_c, units));
        let beside = |expected_c| expected_and_off(measured_c, expected_c, units);
        further.extend(expected.temperature_c.map(beside));
    }
    further.extend(other_parts(reading, &expected, units));
    for text in [&reading.note, &reading.photo] {
        further.extend((!text.trim().is_empty()).then(|| text.replace('\n', " ")));
    }
    let number = at + 1;
    let words = RowWords {
        when: moment_short(reading.at),
        first,
        further: further.join(" · "),
    };
    let buttons = [
        Some((DiaryAction::Change(at), format!("Change reading {number}"))),
        Some((DiaryAction::Drop(at), format!("Remove reading {number}"))),
    ];
    row_ui(ui, page, words, buttons);
}

fn done_ui(ui: &mut Ui, page: &mut Page<'_>, at: usize, event: &Event) {
    let units = page.state.settings.units;
    let said = match &event.operation {
        Operation::Add { mix, .. } => added(&mix::contents(mix, page.catalogue, units)),
        other => done(other, units),
    };
    let when = page.project.diary.moment_of(event.day);
    let words = RowWords {
        when: when.map(moment_short).unwrap_or_default(),
        first: sentence(&said),
        further: String::new(),
    };
    let name = format!("Remove what was done, entry {}", at + 1);
    row_ui(
        ui,
        page,
        words,
        [None, Some((DiaryAction::DropDone(at), name))],
    );
}

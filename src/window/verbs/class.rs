//! Carrying out what the Class view asks for.
//!
//! In: an action of the class. Out: a changed heap, another stop, a handout written.
//!
//! Not here: drawing (the Class view), trials (`trials`), the thread of a page (`jobs::page`).
//!
//! Tested by: `tests/window/class.rs`.

use std::path::{Path, PathBuf};

use eframe::egui;
use jiff::civil::{Date, DateTime};

use crate::assess::Schedule;
use crate::document::{EXTENSION, Project, replace};
use crate::export::{
    self, Assessment, CalendarFile, Handout, Paper, Sheet, calendar, calendar_name, curve_sheet,
    handout_text, picture_png, section_sheet,
};
use crate::heap::{Operation, Turning};
use crate::material::{Catalogue, Side};
use crate::mix::{Change, MixError, Newcomers, Sides, exchanged};
use crate::outcome::shared;
use crate::quantity::UnitSystem;
use crate::text::exchange::{undone, whole_buckets};
use crate::text::next_days::SaidOf;
use crate::text::{change, error};

use crate::window::action::ClassAction;
use crate::window::action::class::CAN_L;
use crate::window::jobs::dialog::PathUse;
use crate::window::jobs::page::MadePage;
use crate::window::piles::choices::Buckets;
use crate::window::piles::class_choices::{Exchange, HeapSize, Mode};
use crate::window::piles::diary_choices::Followed;
use crate::window::piles::notices::Notice;
use crate::window::verbs::workbench::Workbench;
use crate::window::widgets::operations::add_operation;

/// Moisture that "turn it" wets to, as in the Heap view.
const WET_TO: f64 = 0.55;

impl Workbench {
    pub(in crate::window) fn perform_class(&mut self, action: ClassAction, ctx: &egui::Context) {
        let class = &mut self.state.class;
        match action {
            ClassAction::Mode(mode) => self.choose_mode(mode),
            ClassAction::Next => class.step(&self.shelf.books, true),
            ClassAction::Previous => class.step(&self.shelf.books, false),
            ClassAction::Trial(place) => {
                class.trial = place;
                class.guess.ask(0.0);
            }
            ClassAction::Lesson(place) => self.begin_lesson(place),
            ClassAction::GuessFirst => {
                class.guess.first = !class.guess.first;
                class.guess.hidden = class.guess.first && class.mode != Mode::Heap;
            }
            ClassAction::RecordGuess => class.guess.note(),
            ClassAction::Reveal => self.reveal(ctx),
            ClassAction::Advance => self.advance(ctx),
            ClassAction::Speaker => class.notes = !class.notes,
            ClassAction::More(side) => self.more_of(side),
            ClassAction::Grows => {
                class.size = match class.size {
                    HeapSize::Same => HeapSize::Grows,
                    HeapSize::Grows => HeapSize::Same,
                };
            }
            ClassAction::Turn => {
                self.pin_before_change();
                let operation = Operation::Turn {
                    turning: Turning::Remix,
                    wet_to: Some(WET_TO),
                };
                add_operation(&mut self.project.heap, operation);
                self.record_or_revert(change::TURNED_ONCE);
            }
            ClassAction::Water => {
                self.pin_before_change();
                self.project.mix.added_water_l += CAN_L;
                self.record_or_revert(change::CAN_OF_WATER);
            }
            ClassAction::Halve => {
                self.pin_before_change();
                Change::Scale { by: 0.5 }.apply(&mut self.project.mix);
                self.record_or_revert(change::HALF_THE_SIZE);
            }
            ClassAction::RunTrial => self.run_trial(ctx),
            ClassAction::StopTrial => self.stop_trial(),
            ClassAction::Handout => self.ask_for_path(PathUse::Handout, ctx),
            ClassAction::CurvePicture => self.ask_for_path(PathUse::CurvePicture, ctx),
            ClassAction::InsidePicture => self.ask_for_path(PathUse::InsidePicture, ctx),
            ClassAction::Calendar => self.ask_for_path(PathUse::Calendar, ctx),
            ClassAction::CopyHandout => {
                self.make_page(ctx, |handout| Ok(MadePage::Text(handout_text(handout))));
            }
        }
    }

    /// More greens or browns, in the place of the others or on top.
    fn more_of(&mut self, side: Side) {
        let step_m3 = self.facts().step_m3;
        self.pin_before_change();
        if self.state.class.size == HeapSize::Grows {
            self.add_buckets(side, whole_buckets(step_m3));
            return;
        }
        let more_browns_m3 = if side == Side::Green {
            -step_m3
        } else {
            step_m3
        };
        match self.exchange(more_browns_m3) {
            Ok(()) => {
                self.record_or_revert(undone(side));
            }
            Err(problem) => {
                self.tell(Notice::problem(error::NOT_EXCHANGED, problem.to_string()));
            }
        }
    }

    /// So much more of the heap brown, m3 as piled, negative: green.
    fn exchange(&mut self, more_browns_m3: f64) -> Result<(), MixError> {
        let (mix, catalogue) = (&self.project.mix, &self.stock.all);
        let Some(brown_share) = Sides::of(mix, catalogue)?.brown_share_with(more_browns_m3) else {
            return Ok(());
        };
        let Buckets { green, brown } = &self.state.buckets;
        let from = self.state.class.exchange_from(mix);
        let now = exchanged(&from, catalogue, brown_share, Newcomers { green, brown })?;
        self.project.mix = now.clone();
        self.state.class.exchange = Some(Exchange { from, now });
        Ok(())
    }

    /// What the class saw last becomes the ghost, and the answer is hidden where it guesses first.
    fn pin_before_change(&mut self) {
        self.shown.pinned = self.shown.to_pin();
        self.state.class.guess.ask(self.shown.last_peak_c());
    }

    /// Writes the handout, a picture or the dates to a file, behind the window.
    pub(in crate::window) fn write_out(
        &mut self,
        purpose: PathUse,
        chosen: &Path,
        ctx: &egui::Context,
    ) {
        let path = with_ending(chosen, purpose.ending().unwrap_or_default());
        if matches!(purpose, PathUse::YearPage | PathUse::YearCalendar) {
            return self.write_year_out(purpose, path, ctx);
        }
        let day = self.state.heap.day;
        let name = calendar_name(Path::new(&self.recipe_name()));
        let (today, written) = (self.now.date(), self.clock.utc());
        self.state.path_field = None;
        if purpose == PathUse::Calendar {
            let (project, built_in) = (self.project.clone(), self.stock.built_in.clone());
            let (followed, units) = (self.state.diary.followed, self.state.settings.units);
            return self.write_behind(ctx, move || {
                let assessment = match followed {
                    Followed::Learnt => Assessment::as_learnt(&project, &built_in),
                    Followed::Planned => Assessment::of(&project, &built_in),
                }
                .map_err(|problem| problem.to_string())?;
                let bytes = dates_of(&assessment, units, &name, (today, written))?;
                replace(&path, &bytes).map_err(|problem| problem.to_string())?;
                Ok(MadePage::Written(path))
            });
        }
        self.make_page(ctx, move |handout| {
            let bytes = match purpose {
                PathUse::CurvePicture => png(curve_sheet(
                    handout.assessment,
                    handout.forecast,
                    handout.units,
                )),
                PathUse::InsidePicture => png(handout
                    .assessment
                    .projection
                    .as_ref()
                    .and_then(|projection| section_sheet(projection, day, handout.units))),
                _ => export::handout(handout).map_err(|problem| problem.to_string()),
            }?;
            replace(&path, &bytes).map_err(|problem| problem.to_string())?;
            Ok(MadePage::Written(path))
        });
    }

    /// Lets a page be made of the recipe as it is.
    fn make_page(
        &mut self,
        ctx: &egui::Context,
        made: impl FnOnce(&Handout<'_>) -> Result<MadePage, String> + Send + 'static,
    ) {
        let (project, built_in) = (self.project.clone(), self.stock.built_in.clone());
        let units = self.state.settings.units;
        self.write_behind(ctx, move || {
            with_handout((&project, &built_in), units, made)
        });
    }

    /// Lets a page be made behind the window.
    pub(in crate::window) fn write_behind(
        &mut self,
        ctx: &egui::Context,
        work: impl FnOnce() -> Result<MadePage, String> + Send + 'static,
    ) {
        let waking = ctx.clone();
        if let Err(problem) = self
            .jobs
            .writer
            .start(work, move || waking.request_repaint())
        {
            self.tell(Notice::problem(error::NOT_WRITTEN, problem));
        }
    }

    /// Tells of the page that was made since the last frame.
    pub(in crate::window) fn take_page(&mut self, ctx: &egui::Context) {
        let Some(answer) = self.jobs.writer.poll() else {
            return;
        };
        self.tell(match answer {
            Ok(MadePage::Written(path)) => Notice::done(format!("written to {}", path.display())),
            Ok(MadePage::Text(text)) => {
                ctx.copy_text(text);
                Notice::done("the handout's text is on the clipboard".to_owned())
            }
            Err(problem) => Notice::problem(error::NOT_WRITTEN, problem),
        });
    }
}

/// The recipe calculated, with a band, as a page needs it.
fn with_handout(
    (project, built_in): (&Project, &Catalogue),
    units: UnitSystem,
    made: impl FnOnce(&Handout<'_>) -> Result<MadePage, String>,
) -> Result<MadePage, String> {
    let assessment = Assessment::whole(project, built_in).map_err(|problem| problem.to_string())?;
    let cautions = assessment.cautions_in(units);
    made(&Handout {
        assessment: &assessment,
        forecast: assessment.forecast.as_ref(),
        cautions: &cautions,
        units,
        paper: match units {
            UnitSystem::Metric => Paper::A4,
            UnitSystem::UsCustomary => Paper::Letter,
        },
    })
}

/// The path with this ending; a recipe's own ending goes, so that it is never written over.
fn with_ending(chosen: &Path, ending: &str) -> PathBuf {
    let has = |end: &std::ffi::OsStr| end.eq_ignore_ascii_case(ending);
    if chosen.extension().is_some_and(has) {
        return chosen.to_owned();
    }
    let name = chosen.file_name().unwrap_or_default().to_string_lossy();
    let stem = name.trim_end_matches(EXTENSION);
    chosen.with_file_name(format!("{stem}.{ending}"))
}

/// The dates of the heap that is drawn as a calendar, as seen from a day; a sentence where no heap is projected.
fn dates_of(
    assessment: &Assessment<'_>,
    units: UnitSystem,
    name: &str,
    (today, written): (Date, DateTime),
) -> Result<Vec<u8>, String> {
    let (Some(projection), Some(outcome)) = (&assessment.projection, &assessment.outcome) else {
        return Err(error::NO_DATES.to_owned());
    };
    let facts = shared().map_err(|problem| problem.to_string())?;
    let schedule = Schedule::of(assessment.project, projection, outcome, facts, today);
    let of = SaidOf {
        project: assessment.project,
        catalogue: &assessment.catalogue,
        units,
    };
    let file = CalendarFile {
        schedule: &schedule,
        of,
        name,
        written,
    };
    Ok(calendar(&file).into_bytes())
}

/// A sheet as a picture; a sentence where there is nothing to draw.
fn png(sheet: Option<Sheet>) -> Result<Vec<u8>, String> {
    let sheet = sheet.ok_or(error::NO_HEAP_TO_DRAW)?;
    picture_png(&sheet).map_err(|problem| problem.to_string())
}

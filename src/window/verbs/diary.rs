//! What the Diary view asks for, carried out: readings, what was done, what was planned and has passed.
//!
//! In: the view's form and fields. Out: a changed diary and plan, each change one step of the history.
//!
//! What was done stands in the plan, on the day it was really done; the diary remembers that day, so that nobody is
//! asked about it again.
//!
//! Not here: the list of actions (`action::diary`), the form itself (`piles::diary_choices`).
//!
//! Tested by: `tests/window/diary.rs`.

use jiff::civil::DateTime;

use crate::diary::Reading;
use crate::heap::{Event, MOST_EVENTS, Operation};
use crate::mix::Ingredient;
use crate::quantity::{Amount, Measure};
use crate::text::change;
use crate::text::date::day_of_year;
use crate::text::diary::{STILL_TO_COME, TWICE, before_built};
use crate::text::error::PLAN_IS_FULL;
use crate::text::typed_reading::{moment_typed, no_date, read_moment};

use crate::window::action::DiaryAction;
use crate::window::piles::choices::Destination;
use crate::window::piles::diary_choices::{NOON, ReadingForm};
use crate::window::verbs::workbench::Workbench;
use crate::window::widgets::operations::addition;

impl Workbench {
    /// Carries out what the Diary view asks for.
    pub(in crate::window) fn perform_diary(&mut self, action: DiaryAction) {
        match action {
            DiaryAction::Built(at) => self.build_on(at),
            DiaryAction::Enter => {
                if let Err(problem) = self.enter_reading() {
                    self.state.diary.problem = problem;
                }
                self.state.diary.wants_keyboard = true;
            }
            DiaryAction::Change(place) => self.change_reading(place),
            DiaryAction::Leave => self.leave_reading(),
            DiaryAction::Drop(place) => {
                if place < self.project.diary.readings.len() {
                    self.project.diary.readings.remove(place);
                    self.leave_reading();
                    self.record_or_revert(change::DROPPED_READING);
                }
            }
            DiaryAction::DropLog(place) => {
                if place < self.project.diary.logs.len() {
                    self.project.diary.logs.remove(place);
                    self.record_or_revert(change::DROPPED_PROBE);
                }
            }
            DiaryAction::Happened(operation) => self.happened(operation),
            DiaryAction::PickAdded => self.pick_for(Destination::Happened),
            DiaryAction::Added(id) => {
                self.state.picker = None;
                let buckets = Amount::new(self.state.diary.buckets, Measure::Bucket);
                self.happened(addition(Ingredient::new(id, buckets)));
            }
            DiaryAction::WasDone(entry) => self.was_done(entry),
            DiaryAction::NotDone(entry) => self.was_not_done(entry),
            DiaryAction::DropDone(entry) => self.drop_entry(entry, change::DROPPED_DONE),
            DiaryAction::TakeProposed => self.take_proposed(),
        }
    }

    /// The heap was built then; the date of the forecast goes with it.
    fn build_on(&mut self, at: DateTime) {
        let diary = &mut self.state.diary;
        diary.built_problem.clear();
        if at > self.now {
            STILL_TO_COME.clone_into(&mut diary.built_problem);
            return;
        }
        diary.built = None;
        self.project.diary.build_on(at);
        let month = usize::try_from(at.month() - 1).unwrap_or_default();
        let day = u32::try_from(at.day()).unwrap_or(1);
        self.project.heap.start_day_of_year = day_of_year(month, day);
        self.record_or_revert(change::BUILT);
    }

    /// Takes what the form holds.
    fn enter_reading(&mut self) -> Result<(), String> {
        let units = self.state.settings.units;
        let form = &self.state.diary.form;
        let place = self.state.diary.changing;
        let before = place.and_then(|place| self.project.diary.readings.get(place));
        let reading = form.reading(units, self.now, before)?;
        self.refuse_moment(reading.at)?;
        let same = |(other, it): (usize, &Reading)| {
            Some(other) != place && it.at == reading.at && it.spot == reading.spot
        };
        if self.project.diary.readings.iter().enumerate().any(same) {
            return Err(TWICE.to_owned());
        }
        let spot = reading.spot;
        let label = match place.and_then(|place| self.project.diary.readings.get_mut(place)) {
            Some(old) => {
                *old = reading;
                change::CHANGED_READING
            }
            None => {
                self.project.diary.readings.push(reading);
                change::READING
            }
        };
        self.leave_reading();
        self.state.diary.form.spot = spot;
        self.record_or_revert(label);
        Ok(())
    }

    /// Why nothing can have been measured or done then.
    fn refuse_moment(&self, at: DateTime) -> Result<(), String> {
        match self.project.diary.built {
            Some(built) if at < built => Err(before_built(built)),
            _ if at > self.now => Err(STILL_TO_COME.to_owned()),
            _ => Ok(()),
        }
    }

    /// Sets the form to the reading that would teach most.
    fn take_proposed(&mut self) {
        let shown = self.shown.following.learnt.as_ref();
        let Some(next) = shown.and_then(|shown| shown.learnt.next) else {
            return;
        };
        let on = self.project.diary.moment_of(next.day);
        let form = &mut self.state.diary.form;
        form.spot = next.spot;
        // What lies before now can only be measured now.
        form.at = on.filter(|on| *on > self.now).map(moment_typed);
        self.state.diary.wants_keyboard = true;
    }

    fn change_reading(&mut self, place: usize) {
        let Some(reading) = self.project.diary.readings.get(place) else {
            return;
        };
        let diary = &mut self.state.diary;
        diary.form = ReadingForm::of(reading, self.state.settings.units);
        diary.more_open |= diary.form.has_more();
        diary.changing = Some(place);
        diary.problem.clear();
        diary.wants_keyboard = true;
    }

    fn leave_reading(&mut self) {
        let diary = &mut self.state.diary;
        diary.form = ReadingForm::default();
        diary.changing = None;
        diary.problem.clear();
    }

    /// The day of what was done at the moment of the field beside it.
    fn day_done(&self) -> Result<f64, String> {
        let at = self.state.diary.done_moment(self.now)?;
        self.refuse_moment(at)?;
        Ok(self.project.diary.day_of(at).unwrap_or_default())
    }

    /// This was done; it becomes a part of the plan's past.
    fn happened(&mut self, operation: Operation) {
        let day = if self.project.heap.plan.times() < MOST_EVENTS {
            self.day_done()
        } else {
            Err(PLAN_IS_FULL.to_owned())
        };
        match day {
            Ok(day) => {
                self.state.diary.done_problem.clear();
                self.state.diary.done_at = None;
                let plan = &mut self.project.heap.plan;
                plan.events.push(Event::once(day, operation));
                self.project.diary.done.push(day);
                self.record_or_revert(change::HAPPENED);
            }
            Err(problem) => self.state.diary.done_problem = problem,
        }
    }

    /// A planned entry was done, on the day of its field.
    fn was_done(&mut self, entry: usize) {
        let Some(planned) = self.open_day(entry) else {
            return;
        };
        let day = match self.state.diary.answers.get(&entry) {
            Some(text) => read_moment(text, NOON)
                .ok_or_else(|| no_date(text))
                .and_then(|at| {
                    self.refuse_moment(at)?;
                    Ok(self.project.diary.day_of(at).unwrap_or(planned))
                }),
            None => Ok(planned),
        };
        match day {
            Ok(day) => {
                self.state.diary.answers.clear();
                self.state.diary.done_problem.clear();
                let plan = &mut self.project.heap.plan;
                let entry = plan.set_apart(entry, planned);
                plan.events[entry].day = day;
                self.project.diary.done.push(day);
                self.record_or_revert(change::WAS_DONE);
            }
            Err(problem) => self.state.diary.done_problem = problem,
        }
    }

    /// The day of an entry; of one that repeats the first that is not known to be done.
    fn open_day(&self, entry: usize) -> Option<f64> {
        let event = self.project.heap.plan.events.get(entry)?;
        let done = &self.project.diary.done;
        let open = event.days().find(|day| !done.contains(day));
        Some(open.unwrap_or(event.day))
    }

    /// This time of a planned entry was not done.
    fn was_not_done(&mut self, entry: usize) {
        if let Some(day) = self.open_day(entry) {
            let entry = self.project.heap.plan.set_apart(entry, day);
            self.drop_entry(entry, change::NOT_DONE);
        }
    }

    /// Takes an entry out of the plan.
    fn drop_entry(&mut self, entry: usize, label: &str) {
        if entry >= self.project.heap.plan.events.len() {
            return;
        }
        let event = self.project.heap.plan.events.remove(entry);
        let done = &mut self.project.diary.done;
        if let Some(place) = done.iter().position(|day| *day == event.day) {
            done.remove(place);
        }
        self.state.diary.answers.clear();
        self.record_or_revert(label);
    }
}

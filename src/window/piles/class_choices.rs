//! What is chosen in the Class view.
//!
//! In: nothing. Out: [`ClassState`].
//!
//! Not here: drawing (`class`, `trial`), running a trial (`jobs::trial`), trials and lessons
//! themselves (`books`).
//!
//! Tested by: `tests/window/class.rs`.

use crate::assess::trial::{Show, Stop, Trial};
use crate::mix::Mix;
use crate::text::trial::{CLICKER_KEYS, FULL_SCREEN_KEYS};

use crate::window::piles::books::Books;

/// What the class works with.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Mode {
    /// The heap at hand and a few big controls.
    #[default]
    Heap,
    /// Beliefs put to the test.
    Trials,
    /// Ordered walks.
    Lessons,
}

impl Mode {
    /// All, in the order of their buttons.
    pub const ALL: [Self; 3] = [Self::Heap, Self::Trials, Self::Lessons];

    /// Its name on screen.
    pub fn label(self) -> &'static str {
        match self {
            Self::Heap => "This heap",
            Self::Trials => "Trials",
            Self::Lessons => "Lessons",
        }
    }

    /// The line on screen about the keys that serve it.
    pub fn keys(self) -> &'static str {
        match self {
            Self::Heap => FULL_SCREEN_KEYS,
            Self::Trials | Self::Lessons => CLICKER_KEYS,
        }
    }
}

/// What more greens or browns do to the size of the heap.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum HeapSize {
    /// They take each other's place.
    #[default]
    Same,
    /// They come on top.
    Grows,
}

/// Greens and browns that changed places.
#[derive(Debug, Clone, PartialEq)]
pub struct Exchange {
    /// The mix before the first of these exchanges: every other one is reckoned from it, so that the way back leads there.
    pub from: Mix,
    /// The mix after the last of them.
    pub now: Mix,
}

/// Guessing before seeing.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Guess {
    /// Whether the class guesses first.
    pub first: bool,
    /// Whether the answer is hidden at present.
    pub hidden: bool,
    /// The guess on the slider, degC, or K where a difference is guessed.
    pub value: f64,
    /// Guesses recorded so far.
    pub noted: Vec<f64>,
}

/// Most guesses that are kept: a large class.
pub const MOST_GUESSES: usize = 60;

impl Guess {
    /// A new question; its answer is hidden where the class guesses first.
    pub fn ask(&mut self, begin_at: f64) {
        self.noted.clear();
        self.value = begin_at;
        self.hidden = self.first;
    }

    /// Records the guess on the slider.
    pub fn note(&mut self) {
        if self.noted.len() < MOST_GUESSES {
            self.noted.push(self.value);
        }
    }

    /// Lowest guess, median (of an even number halfway between the middle two) and highest.
    pub fn spread(&self) -> Option<[f64; 3]> {
        let mut sorted = self.noted.clone();
        sorted.sort_by(f64::total_cmp);
        let (below, above) = (
            sorted.get(sorted.len().saturating_sub(1) / 2)?,
            sorted.get(sorted.len() / 2)?,
        );
        let middle = f64::midpoint(*below, *above);
        Some([*sorted.first()?, middle, *sorted.last()?])
    }
}

/// What is chosen in the Class view.
#[derive(Debug, Clone, Default)]
pub struct ClassState {
    /// What the class works with.
    pub mode: Mode,
    /// Place of the trial.
    pub trial: usize,
    /// Place of the lesson, and of its stop.
    pub lesson: (usize, usize),
    /// Guessing before seeing.
    pub guess: Guess,
    /// What more greens or browns do to the size of the heap.
    pub size: HeapSize,
    /// Greens and browns that changed places last.
    pub exchange: Option<Exchange>,
    /// Whether they are being dragged.
    pub dragging: bool,
    /// Whether the insides are shown in place of the curves.
    pub inside: bool,
    /// Day of the insides.
    pub day: f64,
    /// Whether the speaker's window is open.
    pub notes: bool,
    /// The words by which a belief is looked for.
    pub search: String,
}

impl ClassState {
    /// The mix from which the next exchange is reckoned; the present one unless that came about by exchanges.
    pub fn exchange_from(&self, present: &Mix) -> Mix {
        match &self.exchange {
            Some(exchange) if exchange.now == *present => exchange.from.clone(),
            _ => present.clone(),
        }
    }

    /// The trial that is looked at, if any.
    pub fn trial<'a>(&self, books: &'a Books) -> Option<&'a Trial> {
        match self.mode {
            Mode::Heap => None,
            Mode::Trials => books.trials.get(self.trial),
            Mode::Lessons => {
                let stop = books.lessons.get(self.lesson.0)?.stops.get(self.lesson.1)?;
                let Show::Trial(id) = &stop.show else {
                    return None;
                };
                books.trials.iter().find(|trial| trial.id == *id)
            }
        }
    }

    /// The trial that comes next, if any.
    pub fn next_trial<'a>(&self, books: &'a Books) -> Option<&'a Trial> {
        let mut after = self.clone();
        after.step(books, true);
        let moved = (after.trial, after.lesson) != (self.trial, self.lesson);
        moved.then(|| after.trial(books)).flatten()
    }

    /// The stop of the lesson that is looked at, if any.
    pub fn stop<'a>(&self, books: &'a Books) -> Option<&'a Stop> {
        let lesson = books.lessons.get(self.lesson.0)?;
        (self.mode == Mode::Lessons).then(|| lesson.stops.get(self.lesson.1))?
    }

    /// Whether trials are run before anyone asks, while the class guesses.
    pub fn runs_ahead(&self) -> bool {
        match self.mode {
            Mode::Heap => false,
            Mode::Trials => self.guess.first,
            Mode::Lessons => true,
        }
    }

    /// One on (`forward`) or back: a trial or a stop; stays at the ends.
    pub fn step(&mut self, books: &Books, forward: bool) {
        let stepped = |place: usize, count: usize| {
            if forward {
                (place + 1).min(count.saturating_sub(1))
            } else {
                place.saturating_sub(1)
            }
        };
        match self.mode {
            Mode::Heap => return,
            Mode::Trials => self.trial = stepped(self.trial, books.trials.len()),
            Mode::Lessons => {
                let count = books
                    .lessons
                    .get(self.lesson.0)
                    .map_or(0, |lesson| lesson.stops.len());
                self.lesson.1 = stepped(self.lesson.1, count);
                let first = books
                    .lessons
                    .get(self.lesson.0)
                    .and_then(|lesson| lesson.stops.get(self.lesson.1))
                    .is_some_and(|stop| stop.guess_first);
                self.guess.first = first;
            }
        }
        self.guess.ask(0.0);
    }
}

//! What the recipes of the Seasons view are shown from: the list, what is calculated for each card, what is chosen.
//!
//! In: the listed folders, answers of the jobs. Out: [`Listed`], [`CardShown`], [`RecipesState`], [`ComparedShown`].
//!
//! A card is kept by the state of its file, so that one that was calculated once costs a frame nothing, and one that was
//! written anew is calculated anew.
//! Not here: the calculation (`jobs::recipes`), when it is asked for (`verbs::recipes`), drawing (`recipes`).
//!
//! Tested by: `tests/window/recipes.rs`.

use std::collections::BTreeMap;
use std::path::PathBuf;
use std::sync::Arc;

use jiff::civil::Date;

use crate::assess::Came;
use crate::diary::Diary;
use crate::document::library::{FileState, Recipe};
use crate::document::{Project, Season};
use crate::mix::Gauges;

use crate::window::jobs::recipes::Calculated;
use crate::window::piles::curve::{CURVE_POINTS, Curve, thinned};
use crate::window::piles::diary_shown::Near;

/// Most points of the curve of a card.
const CARD_POINTS: usize = 72;

/// Which recipe, in which state.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum CardKey {
    /// A kept one.
    Kept(PathBuf, FileState),
    /// One of the examples, by its place.
    Example(usize),
}

impl CardKey {
    /// The file of a kept one.
    pub fn path(&self) -> Option<&PathBuf> {
        match self {
            Self::Kept(path, _) => Some(path),
            Self::Example(_) => None,
        }
    }
}

/// A recipe of the list.
#[derive(Debug, Clone, PartialEq)]
pub struct Listed {
    /// Which.
    pub key: CardKey,
    /// Its title.
    pub title: String,
    /// Time of year it is filed under.
    pub season: Season,
    /// Where the heap stands.
    pub place: String,
    /// Day of the year on which its heap is built, 1 January = 1.
    pub start_day_of_year: f64,
    /// Latitude of its weather, degrees.
    pub latitude_deg: f64,
    /// Everything it can be found by, in small letters.
    words: String,
}

impl Listed {
    /// A kept recipe; its materials by these names.
    pub fn kept(recipe: &Recipe, materials: &[String]) -> Self {
        let words = [&recipe.title, &recipe.place, &recipe.notes];
        Self {
            key: CardKey::Kept(recipe.path.clone(), recipe.state),
            title: recipe.title.clone(),
            season: recipe.season,
            place: recipe.place.clone(),
            start_day_of_year: recipe.start_day_of_year,
            latitude_deg: recipe.latitude_deg,
            words: findable(words, materials),
        }
    }

    /// An example; its materials by these names.
    pub fn example(place: usize, project: &Project, materials: &[String]) -> Self {
        let words = [&project.title, &project.place, &project.notes];
        Self {
            key: CardKey::Example(place),
            title: project.title.clone(),
            season: project.season,
            place: project.place.clone(),
            start_day_of_year: project.heap.start_day_of_year,
            latitude_deg: project.heap.climate.latitude_deg,
            words: findable(words, materials),
        }
    }

    /// When the next heap of it would be built.
    pub fn next_start(&self, today: Date) -> Date {
        self.season
            .next_start(self.start_day_of_year, self.latitude_deg, today)
    }

    /// Whether every one of these words, in small letters, is somewhere in it.
    pub fn has(&self, words: &[String]) -> bool {
        words.iter().all(|word| self.words.contains(word))
    }
}

fn findable(words: [&String; 3], materials: &[String]) -> String {
    let all: Vec<&str> = words
        .into_iter()
        .chain(materials)
        .map(String::as_str)
        .collect();
    all.join("\n").to_lowercase()
}

/// What was read of the middle of a heap, by hand and by loggers: day and temperature, degC, few points.
fn read_points(diary: &Diary, most: usize) -> Vec<[f64; 2]> {
    let by_hand = diary.readings.iter().filter_map(|reading| {
        let point = [diary.day_of(reading.at)?, reading.temperature_c?];
        (Near::of(reading.spot) == Near::Centre).then_some(point)
    });
    let logs = diary.logs.iter();
    let logged = logs.filter(|log| Near::of(log.spot) == Near::Centre);
    let logged = logged.flat_map(|log| {
        let all: Vec<[f64; 2]> = log
            .temperatures_c
            .iter()
            .map(|(day, c)| [*day, *c])
            .collect();
        thinned(&all, most)
    });
    by_hand.chain(logged).collect()
}

/// What a card shows of a recipe.
#[derive(Debug, Clone, PartialEq)]
pub struct CardShown {
    /// Its gauges; `None` for an empty mix.
    pub gauges: Option<Gauges>,
    /// Volume that its bin or bay holds, m3; `None` without a fixed size.
    pub room_m3: Option<f64>,
    /// Day and temperature of the centre, degC, few points.
    pub heap_c: Vec<[f64; 2]>,
    /// What was read of the middle, day and temperature, degC, few points.
    pub read_c: Vec<[f64; 2]>,
    /// Days projected.
    pub days: f64,
    /// What came of it.
    pub came: Came,
}

impl CardShown {
    /// What is shown of a recipe.
    pub fn of(calculated: &Calculated) -> Self {
        let Calculated { project, assessed } = calculated;
        let records = assessed.projection.iter().flat_map(|it| &it.records);
        let points: Vec<[f64; 2]> = records.map(|it| [it.day, it.centre_c]).collect();
        Self {
            gauges: assessed.blend.gauges,
            room_m3: project.heap.shape.room_m3(),
            heap_c: thinned(&points, CARD_POINTS),
            read_c: read_points(&project.diary, CARD_POINTS),
            days: project.heap.days,
            came: Came::of(project, assessed),
        }
    }
}

/// What is known for cards, by the recipe and the state it was read in.
#[derive(Debug, Clone, Default)]
pub struct Cards {
    known: BTreeMap<CardKey, Result<Arc<CardShown>, String>>,
    /// Cards on screen that nothing is known for yet; filled while they are drawn.
    pub missing: Vec<CardKey>,
}

impl Cards {
    /// What is known for a card; asked for where nothing is.
    pub fn shown(&mut self, key: &CardKey) -> Option<&Result<Arc<CardShown>, String>> {
        if !self.known.contains_key(key) && !self.missing.contains(key) {
            self.missing.push(key.clone());
        }
        self.known.get(key)
    }

    /// Takes what was calculated.
    pub fn take(&mut self, key: CardKey, answer: Result<CardShown, String>) {
        self.known.insert(key, answer.map(Arc::new));
    }

    /// Whether something is known for a card.
    pub fn knows(&self, key: &CardKey) -> bool {
        self.known.contains_key(key)
    }

    /// Forgets what is in no list any more.
    pub fn keep_only(&mut self, listed: impl Fn(&CardKey) -> bool) {
        self.known.retain(|key, _| listed(key));
        self.missing.clear();
    }
}

/// Which page of the recipes is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum RecipesPage {
    /// The cards by time of year.
    #[default]
    Cards,
    /// What was put away.
    Bin,
    /// Two side by side.
    Compared,
}

/// A title that is being typed.
#[derive(Debug, Clone, PartialEq)]
pub struct Renaming {
    /// The recipe's file.
    pub path: PathBuf,
    /// What is typed.
    pub title: String,
    /// Whether the field has had the keyboard once.
    pub focused: bool,
}

/// What is chosen among the recipes.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct RecipesState {
    /// Which page is shown.
    pub page: RecipesPage,
    /// The words typed to find one.
    pub query: String,
    /// Those ticked to be compared, at most two.
    pub ticked: Vec<CardKey>,
    /// The one that is being renamed.
    pub renaming: Option<Renaming>,
}

impl RecipesState {
    /// The words typed, in small letters.
    pub fn words(&self) -> Vec<String> {
        let query = self.query.to_lowercase();
        query.split_whitespace().map(str::to_owned).collect()
    }
}

/// One of two recipes that are compared.
#[derive(Debug, Clone)]
pub struct ComparedSide {
    /// The recipe and what is calculated of it.
    pub of: Arc<Calculated>,
    /// Its heat, with the band once that is known.
    pub curve: Curve,
    /// What was read of its middle, day and temperature, degC.
    pub read_c: Vec<[f64; 2]>,
}

impl ComparedSide {
    /// What is shown of one.
    pub fn of(calculated: Calculated) -> Self {
        let assessed = &calculated.assessed;
        let heap = &calculated.project.heap;
        let projection = assessed.projection.as_ref();
        let mut curve = projection.map(|it| Curve::of(it, heap)).unwrap_or_default();
        if let Some(forecast) = &assessed.forecast {
            curve.take_forecast(forecast);
        }
        Self {
            read_c: read_points(&calculated.project.diary, CURVE_POINTS),
            of: Arc::new(calculated),
            curve,
        }
    }
}

/// Two recipes that are compared, as far as they are calculated.
#[derive(Debug, Clone, Default)]
pub struct ComparedShown {
    /// The first and the second.
    pub sides: [Option<Result<ComparedSide, String>>; 2],
    /// Whether more is to come: one of them, or a band.
    pub busy: bool,
}

impl ComparedShown {
    /// Both, once both are there.
    pub fn both(&self) -> Option<[&ComparedSide; 2]> {
        match &self.sides {
            [Some(Ok(first)), Some(Ok(second))] => Some([first, second]),
            _ => None,
        }
    }

    /// Why one of them cannot be shown.
    pub fn problem(&self) -> Option<&str> {
        let sides = self.sides.iter().flatten();
        sides
            .into_iter()
            .find_map(|side| side.as_ref().err().map(String::as_str))
    }
}

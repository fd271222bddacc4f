//! A planned heap as a recipe, how warm it gets, and when something is due of it.
//!
//! In: a year's file, a heap of its plan, where it stands. Out: a [`Project`] that no file holds, its [`Warmth`], dates.
//!
//! What goes in in later months is added then, on top. A heap that keeps its heat is turned every ten days while it works;
//! every heap is turned once when it is left to cure.
//! Not here: the plan (`year`), the dates of a recipe (`schedule`).
//!
//! Tested by: `tests/document/year_out.rs`.

use std::sync::atomic::AtomicBool;

use jiff::ToSpan;
use jiff::civil::Date;

use crate::diary::Diary;
use crate::document::year::YearFile;
use crate::document::{CheckError, NEWEST_FORMAT, Project, Season};
use crate::garden::{Bed, Use};
use crate::heap::{
    Base, Board, Climate, Cover, Event, Heap, Lid, Operation, Placing, Plan, Resolution, Shape,
    Turning,
};
use crate::material::Catalogue;
use crate::mix::{Ingredient, Mix, bands};
use crate::quantity::{Amount, OwnMeasure, bounds};
use crate::year::{Bay, PlannedHeap, StageKind, Use as Put, stages};

use super::resolved::Resolved;

/// Days of a month: a twelfth of a common year.
const MONTH_DAYS: f64 = 365.0 / 12.0;
/// Days between turnings (common practice for a hot heap).
const TURNED_EVERY_DAYS: f64 = 10.0;
/// Most turnings while it works (common practice: after these a heap has little heat left).
const MOST_TURNINGS: usize = 4;
/// Moisture that a turning wets to (common practice).
const WET_TO: f64 = 0.55;
/// Greatest height of a bay, m (common practice: as high as a fork lifts).
const MOST_HEIGHT_M: f64 = 1.2;
/// How far the room of a bay may differ from that of a known shape that then stands for it, as a share.
const SAME_ROOM: f64 = 0.01;

/// What is known of the place of the heaps beside the year.
#[derive(Debug, Clone, PartialEq)]
pub struct Site {
    /// Weather.
    pub climate: Climate,
    /// What heaps stand on.
    pub base: Base,
    /// Whether the sun reaches them.
    pub in_sun: bool,
    /// Shape of a bay of this room, where one is known.
    pub shape: Shape,
    /// Beds the compost is for.
    pub beds: Vec<Bed>,
    /// What it is for.
    pub uses: Vec<Use>,
    /// Measures of the person's own.
    pub measures: Vec<OwnMeasure>,
}

impl Site {
    /// Where the heap of a project stands.
    pub fn of(project: &Project) -> Self {
        let heap = &project.heap;
        Self {
            climate: heap.climate.clone(),
            base: heap.base,
            in_sun: heap.in_sun,
            shape: heap.shape.clone(),
            beds: project.beds.clone(),
            uses: project.uses.clone(),
            measures: project.measures.clone(),
        }
    }

    /// A bay of this room, m3: as the known one if that holds as much, else slatted, or closed where it is too small to
    /// keep its heat; about as wide as high.
    fn shape(&self, room_m3: f64) -> Shape {
        let known = self.shape.room_m3();
        if known.is_some_and(|known| (known - room_m3).abs() <= SAME_ROOM * room_m3) {
            return self.shape.clone();
        }
        let (low, high) = (bounds::HEAP_LENGTH.low, bounds::HEAP_LENGTH.high);
        let height_m = (1.2 * room_m3.cbrt()).clamp(low, MOST_HEIGHT_M);
        let width_m = (room_m3 / height_m).sqrt().clamp(low, high);
        if room_m3 < bands::KEEPS_HEAT_FROM_M3 {
            Shape::SolidBin {
                width_m,
                length_m: width_m,
                height_m,
                lid: Lid::Closed,
                board: Board::Plastic,
            }
        } else {
            Shape::SlattedBin {
                width_m,
                length_m: width_m,
                height_m,
            }
        }
    }
}

/// The words of a recipe that is made of a planned heap.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct RecipeWords {
    /// Its title.
    pub title: String,
    /// Where it stands.
    pub place: String,
    /// Notes.
    pub notes: String,
}

/// A planned heap as a recipe.
pub fn recipe_of(file: &YearFile, heap: &PlannedHeap, site: &Site, words: RecipeWords) -> Project {
    let year = &file.year;
    let month = year.month_at(heap.month);
    let bay = &year.bays[heap.bay];
    let first = mix_of(file, heap, heap.month);
    let mut events: Vec<Event> = (heap.month + 1..heap.filled_by)
        .map(|month| (month, mix_of(file, heap, month)))
        .filter(|(_, mix)| !mix.ingredients.is_empty())
        .map(|(month, mix)| Event {
            repeat: None,
            day: ((month - heap.month) as f64 * MONTH_DAYS).round(),
            operation: Operation::Add {
                mix,
                placing: Placing::OnTop,
            },
        })
        .collect();
    events.extend(turning_days(heap, bay).into_iter().map(turned));
    events.sort_by(|a, b| a.day.total_cmp(&b.day));
    let days = (heap.free_from - heap.month) as f64 * MONTH_DAYS;
    Project {
        format: NEWEST_FORMAT,
        title: words.title,
        season: Season::of_day(first_day_of(month), site.climate.latitude_deg),
        place: words.place,
        notes: words.notes,
        mix: first,
        heap: Heap {
            shape: site.shape(bay.room_m3),
            base: site.base,
            cover: Cover::Bare,
            in_sun: site.in_sun,
            climate: site.climate.clone(),
            start_day_of_year: first_day_of(month),
            start_temperature_c: None,
            days: days.round().clamp(bounds::DAYS.low, bounds::DAYS.high),
            plan: Plan { events },
        },
        own_materials: file.own_materials.clone(),
        beds: site.beds.clone(),
        uses: site.uses.clone(),
        field_tests: Vec::new(),
        aim: None,
        measures: site.measures.clone(),
        diary: Diary::default(),
    }
}

/// What goes in in one month; of the water the share that this has of all that goes in, by volume.
fn mix_of(file: &YearFile, heap: &PlannedHeap, month: usize) -> Mix {
    let arrivals = &file.year.arrivals;
    let amount = |put: &Put| Amount::new(put.measures, arrivals[put.arrival].measure.clone());
    let share_of = |put: &Put| {
        let whole: f64 = heap
            .uses
            .iter()
            .filter(|other| other.arrival == put.arrival)
            .map(|other| other.measures)
            .sum();
        put.measures / whole
    };
    let now = heap.uses.iter().filter(|put| put.month == month);
    let rows: f64 = heap.mix.ingredients.len() as f64;
    let share: f64 = now.clone().map(share_of).sum::<f64>() / rows.max(1.0);
    let one_month = heap.filled_by <= heap.month + 1;
    if one_month {
        return heap.mix.clone();
    }
    Mix {
        ingredients: now
            .map(|put| Ingredient {
                condition: arrivals[put.arrival].condition,
                ..Ingredient::new(arrivals[put.arrival].material.as_str(), amount(put))
            })
            .collect(),
        added_water_l: share * heap.mix.added_water_l,
    }
}

/// Days on which a heap is turned: every ten days while it works hot, and when it is left to cure.
fn turning_days(heap: &PlannedHeap, bay: &Bay) -> Vec<f64> {
    let begun = heap.month as f64;
    let mut days = Vec::new();
    for stage in stages(heap, bay) {
        let (from, to) = (
            (stage.from - begun) * MONTH_DAYS,
            (stage.to - begun) * MONTH_DAYS,
        );
        match stage.kind {
            StageKind::Working if heap.keeps_heat => days.extend(
                (1..=MOST_TURNINGS)
                    .map(|turn| from + turn as f64 * TURNED_EVERY_DAYS)
                    .filter(|day| *day + 0.5 * TURNED_EVERY_DAYS <= to),
            ),
            StageKind::Curing => days.push(from),
            StageKind::Working | StageKind::Filling => {}
        }
    }
    days.into_iter().map(f64::round).collect()
}

fn turned(day: f64) -> Event {
    Event {
        repeat: None,
        day,
        operation: Operation::Turn {
            turning: Turning::Remix,
            wet_to: Some(WET_TO),
        },
    }
}

/// Day of a common year on which a month begins, 1 is January.
fn first_day_of(month: u8) -> f64 {
    let first = jiff::civil::date(2023, i8::try_from(month).unwrap_or(1).clamp(1, 12), 1);
    f64::from(first.day_of_year())
}

/// When a year begins that is planned today: the first day of its first month that is nearest.
pub fn begins(first_month: u8, today: Date) -> Date {
    let month = i8::try_from(first_month).unwrap_or(1).clamp(1, 12);
    let first = |year: i16| Date::new(year, month, 1).unwrap_or(today);
    let this = today.year();
    let near = [
        first(this.saturating_sub(1)),
        first(this),
        first(this.saturating_add(1)),
    ];
    let far = |begin: &Date| (today - *begin).get_days().abs();
    near.into_iter().min_by_key(far).unwrap_or(today)
}

/// The date so many months after the first day of a plan; a part of a month is that part of its days.
pub fn date_at(begin: Date, months: f64) -> Date {
    let whole = months.max(0.0).floor();
    let first = begin.saturating_add((whole as i64).months());
    let days = (months.max(0.0) - whole) * f64::from(first.days_in_month());
    first.saturating_add((days as i64).days())
}

/// What is due of a planned heap.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum YearDue {
    /// It is begun.
    Build,
    /// Nothing more goes in.
    Filled,
    /// It is turned a last time and left to cure.
    Cure,
    /// Its bay is emptied.
    Empty,
}

impl YearDue {
    /// Told apart from the others by this, for ever.
    pub fn id(self) -> &'static str {
        match self {
            Self::Build => "build",
            Self::Filled => "filled",
            Self::Cure => "cure",
            Self::Empty => "empty",
        }
    }
}

/// What is due of a planned heap, and when, months from the beginning of the plan.
pub fn due_days(heap: &PlannedHeap, bay: &Bay) -> Vec<(YearDue, f64)> {
    let mut due = vec![(YearDue::Build, heap.month as f64)];
    let stages = stages(heap, bay);
    for stage in &stages {
        match stage.kind {
            StageKind::Filling => due.push((YearDue::Filled, stage.to)),
            StageKind::Curing => due.push((YearDue::Cure, stage.from)),
            StageKind::Working => {}
        }
    }
    let end = stages.last().map_or(heap.month as f64, |last| last.to);
    due.push((YearDue::Empty, end));
    due
}

/// How warm a planned heap gets.
#[derive(Debug, Clone, PartialEq)]
pub struct Warmth {
    /// Highest temperature of the centre, degC.
    pub peak_c: f64,
    /// Day of it, after the heap was begun.
    pub peak_day: f64,
    /// Time of the centre at or above 55 degC, d.
    pub days_above_55: f64,
    /// Highest temperature of the centre in each week, degC.
    pub weekly_c: Vec<f64>,
}

/// How warm a recipe gets, on the coarse grid; `None` where nothing rots or `stop` was set.
///
/// # Errors
/// [`CheckError`] names the first ingredient that cannot be.
pub fn warmth(
    project: &Project,
    catalogue: &Catalogue,
    stop: &AtomicBool,
) -> Result<Option<Warmth>, CheckError> {
    let resolved = Resolved::of(&project.mix, &project.heap, catalogue)?;
    let inputs = resolved.inputs(&project.heap);
    let Some(projection) = inputs.simulate(&Resolution::coarse(), stop) else {
        return Ok(None);
    };
    let weeks = (project.heap.days / 7.0).ceil().max(1.0) as usize;
    let mut weekly_c: Vec<Option<f64>> = vec![None; weeks];
    for record in &projection.records {
        let week = ((record.day / 7.0).max(0.0) as usize).min(weeks - 1);
        let warmest = &mut weekly_c[week];
        *warmest = Some(warmest.map_or(record.centre_c, |at: f64| at.max(record.centre_c)));
    }
    Ok(Some(Warmth {
        peak_c: projection.summary.peak_c,
        peak_day: projection.summary.peak_day,
        days_above_55: projection.summary.days_above_55,
        weekly_c: weekly_c.into_iter().flatten().collect(),
    }))
}

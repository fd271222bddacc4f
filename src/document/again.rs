//! Beginning anew: a clean recipe, and the next heap of a kept one.
//!
//! In: a kept project or none, today's date. Out: a project that no file holds.
//!
//! Not here: what it is called (`text::recipes`), whether unsaved changes stand in the way (`window`).
//!
//! Tested by: `tests/document/again.rs`.

use jiff::civil::Date;

use super::examples::is_of_an_example;
use super::season::{Season, day_of_year};
use super::{NEWEST_FORMAT, Project};
use crate::diary::Diary;
use crate::heap::{Base, Climate, Cover, Heap, Plan, Shape};
use crate::mix::Mix;

/// Side and height of the bay that a clean recipe starts in, m: what keeps its heat (common practice).
const BAY_M: f64 = 1.0;
/// Days that a clean recipe projects.
const DAYS: f64 = 120.0;
/// Class of the weather that a clean recipe starts with where no person has chosen one (the mildest of the middle).
const WEATHER: &str = "Cfb";

impl Project {
    /// A clean recipe of today: nothing in it, no place, no beds. Weather and own measures of the person stay those of the
    /// recipe before; an example's weather does not.
    #[must_use]
    pub fn clean(before: &Self, today: Date) -> Self {
        let usual = || {
            Climate::ready()
                .into_iter()
                .find(|it| it.name.starts_with(WEATHER))
        };
        let example = is_of_an_example(before);
        let climate = usual().filter(|_| example);
        let climate = climate.unwrap_or_else(|| before.heap.climate.clone());
        Self {
            format: NEWEST_FORMAT,
            title: String::new(),
            season: Season::of(today, climate.latitude_deg),
            place: String::new(),
            notes: String::new(),
            mix: Mix::default(),
            heap: Heap {
                shape: Shape::SlattedBin {
                    width_m: BAY_M,
                    length_m: BAY_M,
                    height_m: BAY_M,
                },
                base: Base::Soil,
                cover: Cover::Bare,
                in_sun: false,
                climate,
                start_day_of_year: day_of_year(today),
                start_temperature_c: None,
                days: DAYS,
                plan: Plan::default(),
            },
            own_materials: Vec::new(),
            beds: Vec::new(),
            uses: Vec::new(),
            field_tests: Vec::new(),
            aim: None,
            measures: before.measures.clone(),
            diary: Diary::default(),
        }
    }

    /// The next heap of this recipe: of the coming same season (see [`Season::next_start`]), its diary and field tests
    /// empty, place and beds kept, and what was really done planned again, on whole days. With the day it would be built.
    #[must_use]
    pub fn again(&self, today: Date) -> (Self, Date) {
        let mut next = self.clone();
        let latitude_deg = self.heap.climate.latitude_deg;
        let built = self
            .season
            .next_start(self.heap.start_day_of_year, latitude_deg, today);
        next.heap.start_day_of_year = day_of_year(built);
        for event in &mut next.heap.plan.events {
            if self.diary.done.contains(&event.day) {
                event.day = event.day.round();
            }
        }
        next.field_tests.clear();
        next.diary = Diary::default();
        (next, built)
    }
}

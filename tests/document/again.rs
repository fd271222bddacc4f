//! A clean recipe and the next heap of a kept one: what stays, what is empty, when it would be built.

use heapwright::diary::{Diary, Reading, Spot};
use heapwright::document::{Project, Season, coming, day_in, day_of_year, examples};
use heapwright::heap::{Event, Operation, Turning};
use heapwright::material::Catalogue;
use jiff::civil::{Date, date};

use crate::sample::rich_project;

/// The first example, built on 25 October in a garden at 52 degrees north.
fn example() -> Project {
    examples().unwrap().remove(0)
}

#[test]
fn seasons_are_those_of_meteorology() {
    // Whole months, spring from March: the meteorological seasons (common practice); half a year later in the south.
    for (day, north, south) in [
        (date(2026, 2, 28), Season::Winter, Season::Summer),
        (date(2026, 3, 1), Season::Spring, Season::Autumn),
        (date(2026, 5, 31), Season::Spring, Season::Autumn),
        (date(2026, 6, 1), Season::Summer, Season::Winter),
        (date(2026, 9, 1), Season::Autumn, Season::Spring),
        (date(2026, 11, 30), Season::Autumn, Season::Spring),
        (date(2026, 12, 1), Season::Winter, Season::Summer),
        (date(2027, 1, 15), Season::Winter, Season::Summer),
    ] {
        assert_eq!(Season::of(day, 52.0), north, "{day}");
        assert_eq!(Season::of(day, -37.0), south, "{day}");
    }
}

#[test]
fn days_of_the_year_are_those_of_a_calendar() {
    // Every day of three years against jiff's own count, the leap day apart.
    for (year, leap) in [(2026, false), (2027, false), (2028, true)] {
        let mut day = date(year, 1, 1);
        while day.year() == year {
            let after_february = leap && day.month() > 2;
            let common = f64::from(day.day_of_year() - i16::from(after_february));
            if (day.month(), day.day()) == (2, 29) {
                assert_eq!(day_of_year(day), 59.0);
            } else {
                assert_eq!(day_of_year(day), common, "{day}");
                assert_eq!(day_in(year, common), day);
                assert_eq!(coming(common, day), day);
            }
            day = day.tomorrow().unwrap();
        }
    }
    assert_eq!(coming(298.0, date(2026, 10, 26)), date(2027, 10, 25));
}

#[test]
fn the_next_heap_is_of_the_coming_same_season() {
    let start = |season: Season, day_of_year: f64, latitude: f64, today: Date| {
        season.next_start(day_of_year, latitude, today)
    };
    // Before that day: on it. After it, in the same season: today. After the season: a year on.
    let autumn = |today| start(Season::Autumn, 298.0, 52.0, today);
    assert_eq!(autumn(date(2027, 6, 3)), date(2027, 10, 25));
    assert_eq!(autumn(date(2027, 10, 25)), date(2027, 10, 25));
    assert_eq!(autumn(date(2027, 11, 27)), date(2027, 11, 27));
    assert_eq!(autumn(date(2027, 12, 1)), date(2028, 10, 25));
    // A winter goes over the year's end.
    let winter = |today| start(Season::Winter, 15.0, 52.0, today);
    assert_eq!(winter(date(2026, 12, 10)), date(2027, 1, 15));
    assert_eq!(winter(date(2027, 2, 2)), date(2027, 2, 2));
    assert_eq!(winter(date(2027, 3, 1)), date(2028, 1, 15));
    // A day that does not lie in the season it is filed under: the middle of that.
    let misfiled = start(Season::Spring, 298.0, 52.0, date(2026, 12, 24));
    assert_eq!(misfiled, date(2027, 4, 15));
    let southern = start(Season::Spring, 100.0, -37.0, date(2026, 7, 1));
    assert_eq!(southern, date(2026, 10, 15));
    // Whatever is asked, it is no day of the past and lies in the season.
    for season in Season::ALL {
        for latitude in [52.0, -37.0] {
            for day in (1..=365).step_by(7) {
                for ahead in (0..365).step_by(11) {
                    let today = day_in(2027, f64::from(ahead + 1));
                    let next = start(season, f64::from(day), latitude, today);
                    assert!(next >= today);
                    assert_eq!(Season::of(next, latitude), season, "{today}: {next}");
                }
            }
        }
    }
}

#[test]
fn started_again_its_diary_is_empty_and_place_beds_and_plan_stay() {
    let mut kept = example();
    let built = date(2026, 10, 25).at(12, 0, 0, 0);
    let turned = 13.104;
    kept.heap.plan.events = vec![
        Event {
            repeat: None,
            day: turned,
            operation: Operation::Turn {
                turning: Turning::Remix,
                wet_to: None,
            },
        },
        Event {
            repeat: None,
            day: 26.25,
            operation: Operation::Water { wet_to: 0.55 },
        },
    ];
    kept.diary = Diary {
        built: Some(built),
        readings: vec![Reading::temperature(built, Spot::CENTRE, 58.0)].into(),
        done: vec![turned],
        ..Diary::default()
    };
    let (next, built) = kept.again(date(2027, 3, 1));
    assert_eq!(built, date(2027, 10, 25));
    assert_eq!(next.heap.start_day_of_year, 298.0);
    assert!(next.diary.is_empty() && next.field_tests.is_empty());
    assert_eq!(next.place, kept.place);
    assert_eq!(next.beds, kept.beds);
    assert_eq!(next.mix, kept.mix);
    // What was done is planned again, on its whole day; what was only planned stays where it was.
    let days: Vec<f64> = next
        .heap
        .plan
        .events
        .iter()
        .map(|event| event.day)
        .collect();
    assert_eq!(days, [13.0, 26.25]);
    next.check(&Catalogue::built_in().unwrap()).unwrap();
    // In the season after that day, today's date is the heap's.
    let (late, built) = kept.again(date(2026, 11, 27));
    assert_eq!(built, date(2026, 11, 27));
    assert_eq!(late.heap.start_day_of_year, day_of_year(built));
}

#[test]
fn a_clean_recipe_has_nothing_of_an_example() {
    let before = example();
    let today = date(2026, 11, 27);
    let clean = Project::clean(&before, today);
    assert!(clean.mix.ingredients.is_empty());
    assert!(clean.title.is_empty() && clean.place.is_empty() && clean.notes.is_empty());
    assert!(clean.beds.is_empty() && clean.uses.is_empty() && clean.own_materials.is_empty());
    assert!(clean.heap.plan.events.is_empty());
    assert_ne!(clean.heap.climate, before.heap.climate);
    assert_eq!(clean.season, Season::Autumn);
    assert_eq!(clean.heap.start_day_of_year, day_of_year(today));
    clean.check(&Catalogue::built_in().unwrap()).unwrap();
}

#[test]
fn a_clean_recipe_keeps_the_persons_own_weather_and_measures_alone() {
    let mut before = rich_project();
    before.heap.climate.monthly_mean_c[0] += 1.0;
    let clean = Project::clean(&before, date(2026, 11, 27));
    assert_eq!(clean.heap.climate, before.heap.climate);
    assert_eq!(clean.measures, before.measures);
    assert!(clean.place.is_empty() && clean.beds.is_empty());
}

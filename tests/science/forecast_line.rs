//! The drawn line lies in the drawn band, and where there is no one line to draw that is said.

use std::path::Path;

use heapwright::assess::Assessed;
use heapwright::assess::trial::Trial;
use heapwright::document::file;
use heapwright::forecast::{
    Band, Ensemble, Forecast, HELD_OF_TEN, Inputs, Pairs, Series, Share, Start,
};
use heapwright::heap::{Kinetics, Projection, Resolution};
use heapwright::quantity::UnitSystem;
use heapwright::text::forecast::{about_the_band, may_not_start, one_of_those, passes_55};
use proptest::prelude::*;

use crate::heap_cases::random_mixes::{bay, mixes};
use crate::stand_in::{self, Alters, never};
use crate::support::heaps::turned;
use crate::trials::{catalogue, good_heap};

/// Members of each ensemble here: the line has to lie in the band however few there are.
const FEW: usize = 16;

/// Heaps as a user meets them: demos, both heaps of every ready trial, balanced mixes turned as one likes.
fn designs() -> Vec<(String, Inputs)> {
    let mut all = Vec::new();
    for name in [
        "autumn-leaves",
        "spring-grass",
        "summer-hot",
        "winter-kitchen",
    ] {
        let folder = env!("CARGO_MANIFEST_DIR");
        let path = format!("{folder}/demo-data/withybed-{name}.heap.ron");
        let project = file::read(Path::new(&path), catalogue()).unwrap().project;
        let assessed = Assessed::of(&project, catalogue()).unwrap();
        all.push((name.to_owned(), assessed.inputs));
    }
    for trial in Trial::ready().unwrap() {
        let Ok((first, second)) = trial.cases(&good_heap(), catalogue()) else {
            continue;
        };
        for (which, case) in [("first", first), ("second", second)] {
            let inputs = case.inputs(catalogue()).unwrap();
            all.push((format!("{} {which}", trial.id), inputs));
        }
    }
    for (number, mix) in mixes().into_iter().enumerate().step_by(6) {
        let mut heap = bay();
        heap.plan = turned(&[3.0 + 0.3 * number as f64, 20.0, 20.5], Some(0.6));
        let blend = mix.blend();
        let inputs = Inputs {
            gauges: blend.gauges,
            ..Inputs::of(&blend.totals, &heap)
        };
        all.push((format!("by lot {number}"), inputs));
    }
    all
}

/// Where a line is outside a band, share of its points.
fn outside(band: &Band, line: &[[f64; 2]]) -> f64 {
    // Read as drawn: straight between points, a jump where a day stands twice.
    let is_in = |&[day, value]: &[f64; 2]| {
        let before = band.days.partition_point(|other| *other < day);
        let after = band.days.partition_point(|other| *other <= day);
        (before.saturating_sub(1)..(after + 1).min(band.days.len())).any(|point| {
            let next = (point + 1).min(band.days.len() - 1);
            let length = band.days[next] - band.days[point];
            let share = if length > 0.0 {
                (day - band.days[point]) / length
            } else {
                0.0
            };
            let at = |of: &[f64]| of[point] + share * (of[next] - of[point]);
            (0.0..=1.0).contains(&share)
                && (at(&band.low) - 1e-9..=at(&band.high) + 1e-9).contains(&value)
        })
    };
    let out = line.iter().filter(|point| !is_in(point)).count();
    out as f64 / line.len() as f64
}

#[test]
fn the_line_lies_in_the_band_of_every_series_at_every_time() {
    let mut bare = Vec::new();
    for (name, inputs) in designs() {
        let drawn = inputs.simulate(&Resolution::fine(), &never()).unwrap();
        let ensemble = Ensemble {
            count: FEW,
            ..Ensemble::default()
        };
        let forecast = ensemble.run(&inputs, &never(), |_| {}).unwrap();
        for series in Series::ALL {
            let records = drawn.records.iter();
            let line: Vec<[f64; 2]> = records.map(|r| [r.day, series.of(r)]).collect();
            let band = forecast.band(series);
            let held = band.holding(&line);
            assert_eq!(outside(&held, &line), 0.0, "{name}, {series:?}");
            assert!(held.days.windows(2).all(|pair| pair[0] <= pair[1]));
            // Nothing of the members' own band is lost.
            for (i, day) in band.days.iter().enumerate() {
                let place = held.days.partition_point(|other| other < day);
                assert_eq!(held.days[place], *day);
                assert!(held.low[place] <= band.low[i] + 1e-9, "{name}, {series:?}");
                assert!(
                    held.high[place] >= band.high[i] - 1e-9,
                    "{name}, {series:?}"
                );
            }
            if series == Series::Centre {
                let share = outside(band, &line);
                println!(
                    "{name}: outside the members' own band {:.0} %",
                    100.0 * share
                );
                bare.push(share);
            }
        }
    }
    // Where the band is stretched to the line it is a matter of little: the fine run is one such heap.
    let mean = bare.iter().sum::<f64>() / bare.len() as f64;
    println!("mean {:.1} %", 100.0 * mean);
    assert!(mean < 0.2, "{mean}");
}

proptest! {
    #[test]
    fn a_held_line_is_inside_whatever_the_band(
        values in prop::collection::vec((0u32..40, -20.0..90.0f64), 1..40),
        band in prop::collection::vec((-20.0..80.0f64, 0.0..30.0f64), 1..30),
    ) {
        let mut line: Vec<[f64; 2]> =
            values.iter().map(|(step, v)| [0.25 * f64::from(*step), *v]).collect();
        line.sort_by(|a, b| a[0].total_cmp(&b[0]));
        // A day stands at most twice: before and after an operation.
        line.dedup_by_key(|point| point[0]);
        let band = Band {
            days: (0..band.len()).map(|i| 0.5 * i as f64).collect(),
            low: band.iter().map(|(low, _)| *low).collect(),
            median: band.iter().map(|(low, up)| low + 0.5 * up).collect(),
            high: band.iter().map(|(low, up)| low + up).collect(),
        };
        let held = band.holding(&line);
        let end = *band.days.last().unwrap();
        line.retain(|point| point[0] <= end);
        if !line.is_empty() {
            prop_assert_eq!(outside(&held, &line), 0.0);
        }
    }
}

#[test]
fn bands_of_a_pair_know_the_days_of_both_plans() {
    // A curve jumps at an operation, so a band that is only seen every half day would lag behind by as much. Both heaps of
    // a pair are seen on the same days, else the finer seen would have the higher peaks.
    let first = stand_in::inputs(3.0);
    let mut second = first.clone();
    second.heap.plan = turned(&[1.3], None);
    let pairs = Pairs {
        count: 2,
        ..Pairs::default()
    };
    let both = pairs.run((&first, &second), &never(), |_| {}).unwrap();
    let days = |forecast: &Forecast| forecast.band(Series::Centre).days.clone();
    assert_eq!(days(&both.first), days(&both.second));
    let about: Vec<f64> = days(&both.second)
        .into_iter()
        .filter(|d| (1.1..1.4).contains(d))
        .collect();
    assert!(
        about.len() == 2 && about[0] < 1.3 && about[1] == 1.3,
        "{about:?}"
    );
}

/// The centre peaks at 60 degC when the fast pool is quicker than usual by a twentieth, at 20 otherwise.
struct QuickOnesStart;

impl Alters for QuickOnesStart {
    fn alter(projection: &mut Projection, kinetics: &Kinetics) {
        let quick = kinetics.fast_per_day > 1.05 * Kinetics::default().fast_per_day;
        projection.summary.peak_c = if quick { 60.0 } else { 20.0 };
    }
}

/// Peaks lie about 42 degC, none far from it.
struct AllLukewarm;

impl Alters for AllLukewarm {
    fn alter(projection: &mut Projection, kinetics: &Kinetics) {
        projection.summary.peak_c = 42.0 * kinetics.fast_per_day / Kinetics::default().fast_per_day;
    }
}

fn of<A: Alters>(count: usize) -> Forecast {
    let ensemble = Ensemble {
        simulator: stand_in::altered::<A>,
        ..stand_in::ensemble(count)
    };
    let forecast = ensemble.run(&stand_in::inputs(4.0), &never(), |_| {});
    forecast.unwrap()
}

#[test]
fn near_the_edge_the_share_that_never_starts_is_told() {
    let doubtful = of::<QuickOnesStart>(64);
    let cold = doubtful.likelihood(|s| s.peak_c < 40.0);
    assert!((0.5..0.8).contains(&cold), "{cold}");
    assert_eq!(doubtful.start(), Start::Doubtful { cold: Share(cold) });
    assert_eq!(doubtful.passes_55(), Some(Share(1.0 - cold)));
    // A heap that is lukewarm throughout has one line; so few members have no share.
    let lukewarm = of::<AllLukewarm>(64);
    let below = lukewarm.likelihood(|s| s.peak_c < 40.0);
    assert!((0.1..0.9).contains(&below), "{below}");
    assert_eq!(lukewarm.start(), Start::Alike);
    let few = of::<QuickOnesStart>(16);
    assert_eq!((few.start(), few.passes_55()), (Start::Alike, None));
}

#[test]
fn shares_are_said_as_one_says_them() {
    let start = Start::Doubtful { cold: Share(0.31) };
    let said = "3 in 10 such heaps may not start";
    assert_eq!(may_not_start(start).as_deref(), Some(said));
    assert!(one_of_those(start).unwrap().starts_with(said));
    assert_eq!(may_not_start(Start::Alike), None);
    let metric = |share| passes_55(Share(share), UnitSystem::Metric);
    assert_eq!(metric(0.72), "about 7 in 10 such heaps pass 55 °C");
    assert_eq!(metric(0.01), "fewer than 1 in 10 such heaps pass 55 °C");
    assert_eq!(metric(1.0), "more than 9 in 10 such heaps pass 55 °C");
    assert!(about_the_band().contains(&format!("about {HELD_OF_TEN}:")));
}

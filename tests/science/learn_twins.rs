//! Twins: heaps whose hidden inputs are known, measured as a real heap would be, and learnt from.
//!
//! A twin is a heap of the same recipe with inputs drawn by lot; its readings are what it says at a place and time, plus
//! errors with the covariance that learning reckons with (thermometer, place, model and its time). Three in four twins are
//! drawn as members are; every fourth has all its deviates half as wide again, so that more of them leave the band of
//! the prior. What is asked: does the 80 % band hold the hidden heap in 70 to 90 % of the days and twins; is it at
//! most half as wide as before; is its score (CRPS: Gneiting and Raftery 2007, JASA 102:359-378) better than the prior's.
//!
//! The prior's members are simulated once: the heap is the same for all. Two hundred twins take minutes, so each run of the
//! tests takes a few; the table of all is made by
//! `UPDATE_REPORTS=1 cargo test --release --test science learn_twins` and pinned in `tests/reports/twins.md`.

use std::fmt::Write as _;
use std::path::PathBuf;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use heapwright::diary::{Diary, Reading, Spot};
use heapwright::forecast::learn::{Cloud, FirstWave, Learner, Observations, effective, systematic};
use heapwright::forecast::sequence::{DIMENSIONS, Sequence, deviate};
use heapwright::forecast::{Draws, Ensemble, Inputs, Member, Series, WIDTHS};
use heapwright::heap::Heap;
use jiff::civil::date;

use crate::support::heaps::{GOOD, mesh_cube};

/// Days that are simulated.
const RUN_DAYS: f64 = 45.0;
/// Readings: every other day from the second on.
const READINGS: usize = 10;

/// The heap, and ten readings of its middle.
fn heap() -> (Inputs, Diary) {
    let heap = Heap {
        days: RUN_DAYS,
        ..mesh_cube(1.0, 15.0)
    };
    let inputs = Inputs::of(&GOOD.totals(), &heap);
    let mut diary = Diary {
        built: Some(date(2025, 5, 1).at(12, 0, 0, 0)),
        ..Diary::default()
    };
    for number in 0..READINGS {
        let at = diary.moment_of(1.0 + 2.0 * number as f64).unwrap();
        let spot = if number % 3 == 2 {
            Spot { out: 0.5, up: 0.5 }
        } else {
            Spot::CENTRE
        };
        diary.readings.push(Reading::temperature(at, spot, 50.0));
    }
    (inputs, diary)
}

/// One twin: its deviates by lot, and the deviates of its errors.
fn lot(number: u32, sequence: &Sequence) -> ([f64; DIMENSIONS], Vec<f64>) {
    let wide = if number % 4 == 3 { 1.5 } else { 1.0 };
    let hidden = sequence
        .point(2 * number)
        .map(|share| wide * deviate(share));
    let errors = sequence.point(2 * number + 1).map(deviate);
    (hidden, errors[..READINGS].to_vec())
}

/// What is told of one twin.
struct Row {
    /// Share of the days after the last reading on which the band holds the hidden heap.
    held: f64,
    held_before: f64,
    width: f64,
    width_before: f64,
    crps: f64,
    crps_before: f64,
    /// Whether the hidden heap's mean lies beyond the prior's 80 %.
    outside: bool,
    effective: f64,
}

/// Continuous ranked probability score of equally weighted values against what came.
fn crps(values: &[f64], came: f64) -> f64 {
    let mut rising = values.to_vec();
    rising.sort_by(f64::total_cmp);
    let n = rising.len() as f64;
    let away = rising.iter().map(|v| (v - came).abs()).sum::<f64>() / n;
    // Half the mean difference of all pairs, by ranks.
    let ranked = rising.iter().enumerate();
    let spread: f64 = ranked.map(|(i, v)| (2.0 * i as f64 + 1.0 - n) * v).sum();
    away - spread / (n * n)
}

/// Band, width and score of equally weighted members against a hidden heap, from a point of the grid on.
fn held(members: &[Arc<Member>], hidden: &Member, from: usize) -> (f64, f64, f64) {
    let truth = &hidden.curve(Series::Centre)[from..];
    let (mut held, mut width, mut score) = (0.0, 0.0, 0.0);
    for (point, came) in truth.iter().enumerate() {
        let mut values: Vec<f64> = members
            .iter()
            .map(|member| member.curve(Series::Centre)[from + point])
            .collect();
        values.sort_by(f64::total_cmp);
        let low = heapwright::forecast::quantile(&values, 0.1);
        let high = heapwright::forecast::quantile(&values, 0.9);
        held += f64::from(u8::from((low..=high).contains(came)));
        width += high - low;
        score += crps(&values, *came);
    }
    let n = truth.len() as f64;
    (held / n, width / n, score / n)
}

fn drawn(cloud: &Cloud<Arc<Member>>, count: usize) -> Vec<Arc<Member>> {
    let places = systematic(&cloud.shares, count, 0.5);
    let member = |place: usize| Arc::clone(&cloud.tried[place].kept);
    places.into_iter().map(member).collect()
}

/// Learns from one twin.
fn row(
    number: u32,
    (learner, inputs, first): (&Learner, &Inputs, &FirstWave),
    prior: &[Arc<Member>],
) -> Row {
    let never = AtomicBool::new(false);
    let (deviates, errors) = lot(number, &Sequence::shifted(2025));
    let draws = Draws::new(inputs, &WIDTHS, 1);
    let (said, hidden) = learner.ask(&draws.at(&deviates), first, &never).unwrap();
    let (_, covariance) = first.numbers();
    let errors = covariance.lower().unwrap().times(&errors);
    let values: Vec<f64> = said.iter().zip(&errors).map(|(said, e)| said + e).collect();
    let first = first.clone().with_values(&values);
    let cloud = learner.cloud(inputs, &first, &never).unwrap();
    let learnt = drawn(&cloud, learner.ensemble.count);
    let band = first.prior.band(Series::Centre);
    let last = first.observations.last_day();
    let from = band.days.iter().position(|day| *day > last).unwrap();
    let (held_before, width_before, crps_before) = held(prior, &hidden, from);
    let (held, width, crps) = held(&learnt, &hidden, from);
    let mean = |member: &Member| {
        let curve = member.curve(Series::Centre);
        curve.iter().sum::<f64>() / curve.len() as f64
    };
    let mut means: Vec<f64> = prior.iter().map(|member| mean(member)).collect();
    means.sort_by(f64::total_cmp);
    let quantile = |share| heapwright::forecast::quantile(&means, share);
    Row {
        held,
        held_before,
        width,
        width_before,
        crps,
        crps_before,
        outside: !(quantile(0.1)..=quantile(0.9)).contains(&mean(&hidden)),
        effective: effective(&cloud.shares),
    }
}

fn twins(numbers: std::ops::Range<u32>, learner: &Learner) -> Vec<Row> {
    let never = AtomicBool::new(false);
    let (inputs, diary) = heap();
    let observations = Observations::of(&diary, &inputs.heap);
    assert_eq!(observations.values.len(), READINGS);
    let first = learner.first_wave(&inputs, observations, &never).unwrap();
    let draws = Draws::new(&inputs, &WIDTHS, learner.ensemble.seed);
    let prior: Vec<Arc<Member>> = (1..=learner.ensemble.count as u32)
        .filter_map(|n| Some(learner.ask(&draws.member(n), &first, &never)?.1))
        .collect();
    numbers
        .map(|number| row(number, (learner, &inputs, &first), &prior))
        .collect()
}

#[test]
fn explore() {
    let count: u32 = std::env::var("TWINS").map_or(8, |n| n.parse().unwrap());
    let start = std::time::Instant::now();
    let rows = twins(0..count, &Learner::default());
    let mut page = String::new();
    for (name, pick) in [
        ("all", None),
        ("inside", Some(false)),
        ("outside", Some(true)),
    ] {
        let rows: Vec<&Row> = rows
            .iter()
            .filter(|r| pick.is_none_or(|p| p == r.outside))
            .collect();
        let mean =
            |of: &dyn Fn(&Row) -> f64| rows.iter().map(|r| of(r)).sum::<f64>() / rows.len() as f64;
        let _ = writeln!(
            page,
            "{name}: {} held {:.3} (prior {:.3}) width {:.2} ({:.2}) crps {:.3} ({:.3}) ess {:.1}",
            rows.len(),
            mean(&|r| r.held),
            mean(&|r| r.held_before),
            mean(&|r| r.width),
            mean(&|r| r.width_before),
            mean(&|r| r.crps),
            mean(&|r| r.crps_before),
            mean(&|r| r.effective)
        );
    }
    let mut ess: Vec<f64> = rows.iter().map(|r| r.effective).collect();
    ess.sort_by(f64::total_cmp);
    println!(
        "{page}{:?}\n{:?}",
        ess.iter().map(|e| e.round()).collect::<Vec<_>>(),
        start.elapsed()
    );
}

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
use heapwright::forecast::{Draws, Inputs, Member, Series, WIDTHS};
use heapwright::heap::Heap;
use jiff::civil::date;

use crate::support::heaps::{GOOD, mesh_cube};

/// Days that are simulated.
const RUN_DAYS: f64 = 45.0;
/// Readings: every other day from the second on.
const READINGS: usize = 10;
/// Twins in the report.
const TWINS: u32 = 200;
/// Twins that every run of the tests takes again.
const EACH_TIME: u32 = 8;

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
    let members = first.members().iter();
    let prior: Vec<Arc<Member>> = members.map(|tried| Arc::clone(&tried.kept)).collect();
    let one = |number| row(number, (learner, &inputs, &first), &prior);
    numbers.map(one).collect()
}

impl Row {
    fn line(&self, number: u32) -> String {
        format!(
            "| {number} | {} | {:.2} | {:.2} | {:.1} | {:.1} | {:.2} | {:.2} | {:.0} |",
            if self.outside { "outside" } else { "inside" },
            self.held_before,
            self.held,
            self.width_before,
            self.width,
            self.crps_before,
            self.crps,
            self.effective
        )
    }
}

/// Numbers of a line of the report: held, width and score, each before and after.
fn read(line: &str) -> (bool, [f64; 6]) {
    let fields: Vec<&str> = line.split('|').map(str::trim).collect();
    let numbers = [3, 4, 5, 6, 7, 8].map(|i| fields[i].parse().unwrap());
    (fields[2] == "outside", numbers)
}

fn means(lines: &[(bool, [f64; 6])], of: impl Fn(bool) -> bool) -> (usize, [f64; 6]) {
    let rows: Vec<&[f64; 6]> = lines.iter().filter(|l| of(l.0)).map(|l| &l.1).collect();
    let mean = |i: usize| rows.iter().map(|row| row[i]).sum::<f64>() / rows.len() as f64;
    (rows.len(), [0, 1, 2, 3, 4, 5].map(mean))
}

fn page(rows: &[String]) -> String {
    let lines: Vec<_> = rows.iter().map(|row| read(row)).collect();
    let mut page = format!(
        "# Twins: how well what is learnt holds\n\n\
        {} heaps of the same recipe with hidden inputs, {READINGS} readings each over 20 days, {RUN_DAYS:.0} days in all; what follows \
        the last reading is told. Held: share of those days on which the 10-90 % band of the centre holds the hidden heap. Outside: the \
        hidden heap's mean lies beyond the prior's 80 %. CRPS in K, less is better. Made by `tests/science/learn_twins.rs`.\n\n\
        | twins | | held before | held | width before, K | width, K | CRPS before, K | CRPS, K |\n|---|---|---|---|---|---|---|---|\n",
        lines.len()
    );
    /// Whether a twin is of a kind, by whether it was drawn outside.
    type Kind = fn(bool) -> bool;
    let kinds: [(&str, Kind); 3] = [
        ("all", |_| true),
        ("inside", |out| !out),
        ("outside", |out| out),
    ];
    for (name, of) in kinds {
        let (count, [a, b, c, d, e, f]) = means(&lines, of);
        let _ = writeln!(
            page,
            "| {name} | {count} | {a:.2} | {b:.2} | {c:.1} | {d:.1} | {e:.2} | {f:.2} |"
        );
    }
    page.push_str(
        "\n## Each\n\n| twin | | held before | held | width before, K | width, K | CRPS before, K | CRPS, K | effective members |\n\
        |---|---|---|---|---|---|---|---|---|\n",
    );
    for row in rows {
        let _ = writeln!(page, "{row}");
    }
    page
}

fn report() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("tests/reports/twins.md")
}

#[test]
fn bands_that_follow_readings_hold_hidden_heaps() {
    let learner = Learner::default();
    if std::env::var_os("UPDATE_REPORTS").is_some() {
        let rows = twins(0..TWINS, &learner);
        let rows = rows.iter().zip(0..).map(|(row, number)| row.line(number));
        let rows: Vec<String> = rows.collect();
        std::fs::write(report(), page(&rows)).unwrap();
    }
    let pinned = std::fs::read_to_string(report()).unwrap();
    let rows = pinned
        .lines()
        .filter(|line| line.starts_with("| "))
        .filter(|line| {
            let number = line.trim_start_matches("| ").split(' ').next();
            number.is_some_and(|number| number.parse::<u32>().is_ok())
        });
    let rows: Vec<String> = rows.map(str::to_owned).collect();
    assert_eq!(rows.len(), TWINS as usize);
    // What is pinned is what comes out now, the sums of its rows too.
    for (row, number) in twins(0..EACH_TIME, &learner).iter().zip(0..) {
        assert_eq!(row.line(number), rows[number as usize]);
    }
    assert_eq!(page(&rows), pinned);
    let lines: Vec<_> = rows.iter().map(|row| read(row)).collect();
    let (_, [_, held, width_before, width, crps_before, crps]) = means(&lines, |_| true);
    assert!((0.7..=0.9).contains(&held), "{held}");
    assert!(width <= 0.5 * width_before, "{width} of {width_before}");
    assert!(crps < 0.5 * crps_before, "{crps} against {crps_before}");
    // Of heaps beyond the prior's band too: at least half of their days are held, where the prior holds hardly any.
    let (outside, [before, after, ..]) = means(&lines, |outside| outside);
    assert!(outside >= 20, "{outside}");
    assert!(after >= 0.5 && before < 0.3, "{after} against {before}");
}

//! Weights: against scipy, against Gaussian regression in closed form, against chance.

use heapwright::diary::{Smell, Spot};
use heapwright::forecast::learn::{
    Cloud, Evidence, Observation, Sampler, Soft, Source, Spreads, Square, Tried, What, covariance,
    effective, normalised, power_for, systematic,
};
use heapwright::forecast::sequence::{DIMENSIONS, Sequence, deviate};

use crate::support::close;

type Point = [f64; DIMENSIONS];

/// Rows of `tests/reference/learn.csv` of one kind.
fn vectors(what: &str) -> Vec<([String; 4], f64)> {
    let table = include_str!("../reference/learn.csv");
    let rows = table.lines().filter(|line| !line.starts_with('#'));
    rows.map(|line| line.split(',').map(str::to_owned).collect::<Vec<_>>())
        .filter(|fields| fields[0] == what)
        .map(|fields| {
            let given = [1, 2, 3, 4].map(|i| fields[i].clone());
            (given, fields[5].parse().unwrap())
        })
        .collect()
}

/// Everything but the first coordinates says nothing.
fn first_wave(seed: u64, count: u32, said: &dyn Fn(&Point) -> Vec<f64>) -> Vec<Tried<()>> {
    let sequence = Sequence::shifted(seed);
    let points: Vec<Point> = (0..count).map(|n| sequence.point(n).map(deviate)).collect();
    tried(&points, said)
}

fn tried(points: &[Point], said: &dyn Fn(&Point) -> Vec<f64>) -> Vec<Tried<()>> {
    let one = |point: &Point| Tried {
        deviates: *point,
        said: said(point),
        kept: (),
    };
    points.iter().map(one).collect()
}

fn learnt(
    sampler: &Sampler,
    count: u32,
    evidence: &Evidence,
    said: &dyn Fn(&Point) -> Vec<f64>,
) -> Cloud<()> {
    let first = first_wave(sampler.seed, count, said);
    let run = |points: &[Point]| Some(tried(points, said));
    sampler
        .weigh((first, count as usize), evidence, run)
        .unwrap()
}

fn mean(cloud: &Cloud<()>, of: &dyn Fn(&Point) -> f64) -> f64 {
    let all = cloud.tried.iter().zip(&cloud.shares);
    all.map(|(member, share)| share * of(&member.deviates))
        .sum()
}

#[test]
fn likelihoods_are_those_of_scipy() {
    let rows = vectors("normal");
    assert!(rows.len() >= 4);
    for ([n, ..], result) in rows {
        let n: usize = n.parse().unwrap();
        let mut errors = Square::unit(n);
        for i in 0..n {
            for j in 0..n {
                *errors.at(i, j) += 6.25 * (-(i as f64 - j as f64).abs() / 5.0).exp();
            }
        }
        let numbers = (0..n).map(|i| (i, 50.0 + 3.0 * (i as f64).sin())).collect();
        let evidence = Evidence::of(numbers, errors).unwrap();
        let log = evidence.log_likelihood(&vec![50.0; n]);
        assert!((log - result).abs() < 1e-9, "{n}: {log} against {result}");
    }
    for (given, result) in vectors("between") {
        let [low, high, error, said] = given.map(|field| field.parse::<f64>().unwrap());
        // Two in a hundred are left to hands that err.
        let chance = (Soft::Between { low, high, error }.chance(said) - 0.02) / 0.98;
        assert!((chance - result).abs() < 3e-7, "{chance} against {result}");
    }
}

#[test]
fn a_member_that_says_nothing_of_a_value_counts_for_nothing() {
    let evidence = Evidence::of(vec![(0, 50.0)], Square::unit(1)).unwrap();
    assert_eq!(evidence.log_likelihood(&[f64::NAN]), f64::NEG_INFINITY);
    assert_eq!(evidence.log_likelihood(&[]), f64::NEG_INFINITY);
    let shares = normalised(&[0.0, f64::NEG_INFINITY, f64::NAN]);
    assert_eq!(shares, [1.0, 0.0, 0.0]);
    // What cannot be a covariance is refused.
    assert!(Evidence::of(vec![(0, 1.0)], Square::zero(1)).is_none());
    assert!(Evidence::of(vec![(0, 1.0)], Square::unit(2)).is_none());
}

/// Bayesian linear regression (Bishop 2006, Pattern Recognition and Machine Learning, eq. 3.50-3.51; from memory): with a
/// standard normal prior the posterior of `y = Bx + e` has precision `I + B'B/s^2` and mean precision^-1 B'y/s^2. Here three
/// numbers of three coordinates, worked by hand: y1 = 2 x1, y2 = x1 + x2 and y3 = 3 x3, errors of 1, 0.5 and 2.
#[test]
fn a_straight_case_is_that_of_closed_form() {
    let said = |x: &Point| vec![2.0 * x[0], x[0] + x[1], 3.0 * x[2]];
    let mut errors = Square::unit(3);
    (*errors.at(1, 1), *errors.at(2, 2)) = (0.25, 4.0);
    let evidence = Evidence::of(vec![(0, 3.0), (1, 1.0), (2, -3.0)], errors).unwrap();
    // Precision of x1, x2: [[1 + 4 + 4, 4], [4, 1 + 4]], right side [6 + 4, 4]; of x3: 1 + 9/4, right side -9/4.
    let determinant = 9.0 * 5.0 - 16.0;
    let exact_mean = [
        (5.0 * 10.0 - 4.0 * 4.0) / determinant,
        (9.0 * 4.0 - 4.0 * 10.0) / determinant,
        -2.25 / 3.25,
    ];
    let exact_variance = [5.0 / determinant, 9.0 / determinant, 1.0 / 3.25];
    let sampler = Sampler {
        members: 4000,
        ..Sampler::default()
    };
    let cloud = learnt(&sampler, 2000, &evidence, &said);
    assert_eq!(cloud.power, 1.0);
    for d in 0..3 {
        let found = mean(&cloud, &|x| x[d]);
        let variance = mean(&cloud, &|x| (x[d] - found).powi(2));
        assert!(
            (found - exact_mean[d]).abs() < 0.03,
            "{d}: {found} {exact_mean:?}"
        );
        assert!(
            (variance / exact_variance[d] - 1.0).abs() < 0.06,
            "{d}: {variance} {exact_variance:?}"
        );
    }
    let tie = mean(&cloud, &|x| (x[0] - exact_mean[0]) * (x[1] - exact_mean[1]));
    assert!((tie + 4.0 / determinant).abs() < 0.01, "{tie}");
    // Of what is not measured nothing is learnt.
    for d in 3..DIMENSIONS {
        assert!(mean(&cloud, &|x| x[d]).abs() < 0.06, "{d}");
        assert!((mean(&cloud, &|x| x[d] * x[d]) - 1.0).abs() < 0.1, "{d}");
    }
    // Information of a Gaussian (relative entropy): half of trace + mean^2 - 3 - log det, in bits.
    let squares: f64 = exact_mean.iter().map(|m| m * m).sum();
    let trace: f64 = exact_variance.iter().sum();
    let log_det = -(determinant.ln() + 3.25f64.ln());
    let exact = 0.5 * (trace + squares - 3.0 - log_det) / std::f64::consts::LN_2;
    assert!(
        (cloud.bits - exact).abs() < 0.05,
        "{} against {exact}",
        cloud.bits
    );
    // What is drawn from is exact here but for its width, so most members count.
    assert!(effective(&cloud.shares) > 0.4 * cloud.tried.len() as f64);
}

#[test]
fn a_curved_case_is_that_of_a_grid() {
    let days = [1.0, 2.0, 4.0, 8.0, 14.0];
    let said = |x: &Point| {
        let at = |t: &f64| {
            let warming = 1.0 - (-0.4 * t * (0.5 * x[0]).exp()).exp();
            20.0 + 45.0 * warming * (-0.06 * t * (0.5 * x[1]).exp()).exp()
        };
        days.iter().map(at).collect()
    };
    let measured = [41.0, 52.0, 54.0, 43.0, 31.0];
    let numbers = measured.into_iter().enumerate().collect();
    let evidence = Evidence::of(numbers, Square::unit(5).scaled(4.0)).unwrap();
    let exact: Vec<f64> = vectors("toy").into_iter().map(|(_, value)| value).collect();
    let found = |members: usize, first: u32| {
        let sampler = Sampler {
            members,
            ..Sampler::default()
        };
        let cloud = learnt(&sampler, first, &evidence, &said);
        let means = [0, 1].map(|d| mean(&cloud, &|x| x[d]));
        let spreads = [0, 1].map(|d| mean(&cloud, &|x| (x[d] - means[d]).powi(2)).sqrt());
        let tie = mean(&cloud, &|x| (x[0] - means[0]) * (x[1] - means[1]));
        let tie = tie / (spreads[0] * spreads[1]);
        (means, spreads, tie, cloud)
    };
    let (means, spreads, tie, cloud) = found(4000, 4000);
    for d in 0..2 {
        assert!(
            (means[d] - exact[d]).abs() < 0.1 * exact[2 + d],
            "{means:?} {exact:?}"
        );
        assert!(
            (spreads[d] / exact[2 + d] - 1.0).abs() < 0.1,
            "{spreads:?} {exact:?}"
        );
    }
    assert!((tie - exact[4]).abs() < 0.1, "{tie} {exact:?}");
    assert!(
        (cloud.bits - exact[5]).abs() < 0.1,
        "{} {exact:?}",
        cloud.bits
    );
    // With as many as in use: within half a spread.
    let (means, spreads, _, cloud) = found(Sampler::default().members, 200);
    assert_eq!(cloud.power, 1.0);
    for d in 0..2 {
        assert!(
            (means[d] - exact[d]).abs() < 0.5 * exact[2 + d],
            "{means:?} {exact:?}"
        );
        assert!(
            (spreads[d] / exact[2 + d] - 1.0).abs() < 0.4,
            "{spreads:?} {exact:?}"
        );
    }
}

/// Each share is drawn as often as it should be: over all starts the mean count is share times count, and no count is off by
/// one or more (Kitagawa 1996). The ladder's start goes evenly through a rung, and, by lot, as a binomial would scatter at most.
#[test]
fn members_are_drawn_without_favour() {
    let shares = normalised(&[0.0, 1.0, -1.0, 2.0, -5.0, 0.3, 0.31]);
    let count = 50;
    let starts = 1000u32;
    let mut sums = [0usize; 7];
    let sequence = Sequence::shifted(7);
    for number in 0..starts {
        let drawn = systematic(&shares, count, sequence.point(number)[0]);
        assert_eq!(drawn.len(), count);
        assert!(drawn.is_sorted());
        for (place, sum) in sums.iter_mut().enumerate() {
            let times = drawn.iter().filter(|p| **p == place).count();
            let wanted = shares[place] * count as f64;
            assert!(
                (times as f64 - wanted).abs() < 1.0,
                "{place}: {times} of {wanted}"
            );
            *sum += times;
        }
    }
    let all = f64::from(starts) * count as f64;
    for (place, sum) in sums.iter().enumerate() {
        let (wanted, p) = (shares[place] * all, shares[place]);
        let spread = (all * p * (1.0 - p)).sqrt();
        assert!(
            (*sum as f64 - wanted).abs() < 3.0 * spread,
            "{place}: {sum} of {wanted}"
        );
    }
}

#[test]
fn the_power_leaves_as_many_members_as_are_asked() {
    let base = vec![0.0; 100];
    let steep: Vec<f64> = (0..100).map(|i| -0.5 * (f64::from(i)).powi(2)).collect();
    assert!(effective(&normalised(&steep)) < 3.0);
    let power = power_for(&base, &steep, 20.0);
    let tempered: Vec<f64> = steep.iter().map(|log| power * log).collect();
    assert!((effective(&normalised(&tempered)) - 20.0).abs() < 0.01);
    assert_eq!(power_for(&base, &base, 20.0), 1.0);
    let lone = [0.0, f64::NEG_INFINITY, f64::NEG_INFINITY];
    assert!(power_for(&[0.0; 3], &lone, 2.0) < 1e-6);
}

fn value(day: f64, source: Source) -> Observation {
    Observation {
        day,
        spot: Spot::CENTRE,
        what: What::Temperature,
        value: 55.0,
        source,
        count: 1,
    }
}

/// Information of readings about a level that all share: the sum of the inverse of their covariance.
fn worth(values: &[Observation]) -> f64 {
    let spread = Spreads {
        place: 1.0,
        time: 1.0,
    };
    let with: Vec<(Observation, Spreads)> = values.iter().map(|o| (*o, spread)).collect();
    let all = covariance(&with)
        .lower()
        .unwrap()
        .whitened(&vec![1.0; values.len()]);
    all.iter().map(|z| z * z).sum()
}

#[test]
fn many_readings_of_one_time_weigh_hardly_more_than_one() {
    let by_hand = |n: usize, apart: f64| -> Vec<Observation> {
        (0..n)
            .map(|i| value(i as f64 * apart, Source::Reading(i)))
            .collect()
    };
    let probe: Vec<Observation> = (0..200)
        .map(|row| value(row as f64 * 0.05, Source::Row { log: 0, row }))
        .collect();
    let one = worth(&by_hand(1, 0.0));
    close(
        "one reading",
        one,
        1.0 / (1.0 + 2.5 * 2.5 + 1.0 + 1.0),
        1e-12,
    );
    // Four rows brought together: the instrument errs half as far, all else as before.
    let four = Observation {
        count: 4,
        ..value(0.0, Source::Reading(0))
    };
    close(
        "four together",
        worth(&[four]),
        1.0 / (0.25 + 2.5 * 2.5 + 1.0 + 1.0),
        1e-12,
    );
    // Ten of one hour: instrument and place average out, the model's error does not.
    assert!(worth(&by_hand(10, 0.004)) < 1.4 * one);
    // Ten a month apart are ten.
    assert!(worth(&by_hand(10, 30.0)) > 9.5 * one);
    // Two hundred rows of ten days weigh less than five readings by hand two days apart, for the tip stays where it is.
    assert!(worth(&probe) < worth(&by_hand(5, 2.0)));
    let smell = Observation {
        what: What::Smelt(Smell::Sour),
        ..value(1.0, Source::Reading(0))
    };
    assert!(!smell.what.is_number());
}

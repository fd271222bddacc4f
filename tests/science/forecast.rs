//! The ensemble: draws, quantiles, reproducibility.

use std::sync::atomic::AtomicBool;

use heapwright::forecast::{Forecast, Question, deviate, member, point, quantile};
use heapwright::heap::Heap;
use heapwright::mix::Totals;

use crate::support::heaps::{GOOD, mesh_cube};
use crate::support::{close, within};

fn heap() -> Heap {
    let mut heap = mesh_cube(1.0, 15.0);
    heap.days = 40.0;
    heap
}

fn ask(totals: &Totals, heap: &Heap, count: usize, seed: u64, threads: usize) -> Forecast {
    let question = Question {
        totals,
        additions: &[],
        heap,
        count,
        seed,
    };
    Forecast::of(&question, threads, &AtomicBool::new(false), 8, |_| {})
}

#[test]
fn deviates_agree_with_scipy() {
    // scipy 1.17.1, stats.norm.ppf; Acklam's approximation promises 1.2e-9. Tails are cut at 2.5.
    for (share, wanted) in [
        (0.01, -2.326_347_87),
        (0.1, -1.281_551_57),
        (0.3, -0.524_400_51),
        (0.9, 1.281_551_57),
        (0.975, 1.959_963_98),
    ] {
        close("deviate", deviate(share), wanted, 1e-7);
    }
    assert!(deviate(0.5).abs() < 1e-12 && deviate(1e-6) == -2.5);
}

#[test]
fn quantiles_are_numpys() {
    // numpy 2.4.6: quantile([1, 2, 4, 8, 16], [0.1, 0.5, 0.9, 0.33]) = 1.4, 4, 12.8, 2.64.
    for (share, wanted) in [(0.1, 1.4), (0.5, 4.0), (0.9, 12.8), (0.33, 2.64)] {
        close(
            "quantile",
            quantile(&[1.0, 2.0, 4.0, 8.0, 16.0], share),
            wanted,
            1e-12,
        );
    }
}

#[test]
fn points_fill_every_coordinate_more_evenly_than_chance() {
    // Of 64 points each of 16 strata of a coordinate should hold 4. Roots of primes are badly approximable
    // (Niederreiter 1978), so none strays by more than 3, where chance (binomial, sd 1.9, 192 strata) does.
    let points: Vec<_> = (1..=64).map(|number| point(number, 7)).collect();
    let mut worst = 0i32;
    for dimension in 0..points[0].len() {
        let mut strata = [0i32; 16];
        for p in &points {
            assert!(p[dimension] > 0.0 && p[dimension] < 1.0);
            strata[(p[dimension] * 16.0) as usize] += 1;
        }
        worst = worst.max(strata.iter().map(|count| (count - 4).abs()).max().unwrap());
    }
    assert!(worst <= 3, "{worst}");
}

#[test]
fn drawn_inputs_have_their_stated_ten_and_ninety_percent_points() {
    // Widths are defined as those points; 400 members place them within a few percent.
    let (totals, heap) = (GOOD.totals(), heap());
    let drawn = |value: &dyn Fn(usize) -> f64| {
        let mut all: Vec<f64> = (1..=400).map(value).collect();
        all.sort_by(f64::total_cmp);
        (quantile(&all, 0.1), quantile(&all, 0.9))
    };
    let size = drawn(&|n| member(&totals, &heap, n, 3).totals.particle_size_m() * 1e3);
    close("finest", size.0, 1.0 / 1.5, 0.04);
    close("coarsest", size.1, 1.5, 0.04);
    let wet = drawn(&|n| member(&totals, &heap, n, 3).totals.moisture());
    within("driest", wet.0, 0.535..=0.545);
    within("wettest", wet.1, 0.615..=0.625);
}

#[test]
fn members_keep_their_matter_and_their_bounds() {
    let (totals, heap) = (GOOD.totals(), heap());
    for number in 0..200 {
        let m = member(&totals, &heap, number, 11);
        m.heap.check().unwrap();
        close("dry matter", m.totals.dry_kg, totals.dry_kg, 1e-12);
        let food = |t: &Totals| t.carbon_fast_kg + t.carbon_medium_kg + t.carbon_slow_kg;
        close("food", food(&m.totals), food(&totals), 1e-12);
        assert!(m.totals.carbon_fast_kg > 0.0 && m.totals.water_kg > 0.0);
        assert!(m.kinetics.ammonia_free_share <= 1.0);
    }
    assert_eq!(member(&totals, &heap, 0, 1).totals, totals);
}

#[test]
fn the_same_seed_gives_the_same_forecast_on_one_thread_and_two() {
    let (totals, heap) = (GOOD.totals(), heap());
    let one = ask(&totals, &heap, 16, 5, 1);
    assert_eq!(one, ask(&totals, &heap, 16, 5, 2));
    assert_ne!(one, ask(&totals, &heap, 16, 6, 2));
}

#[test]
fn the_band_holds_the_typical_run_and_is_ordered() {
    let (totals, heap) = (GOOD.totals(), heap());
    let forecast = ask(&totals, &heap, 48, 5, 2);
    assert_eq!(forecast.runs().count(), 48);
    let band = forecast.centre_band().unwrap();
    let typical = &forecast.runs().next().unwrap().centre_c;
    let mut inside = 0;
    for (i, t) in typical.iter().enumerate() {
        assert!(band.low_c[i] <= band.median_c[i] && band.median_c[i] <= band.high_c[i]);
        inside += usize::from((band.low_c[i]..=band.high_c[i]).contains(&f64::from(*t)));
    }
    assert!(
        inside * 10 > typical.len() * 8,
        "{inside} of {}",
        typical.len()
    );
    // Particle size alone moves the peak by tens of degrees, so the band must be wide while it is hot.
    let widest = band
        .high_c
        .iter()
        .zip(&band.low_c)
        .map(|(high, low)| high - low)
        .fold(0.0, f64::max);
    assert!(widest > 15.0, "{widest}");
    within(
        "hot at all",
        forecast.likelihood(|s| s.peak_c > 55.0),
        0.5..=1.0,
    );
    let low = forecast.quantile(0.1, |s| s.peak_c).unwrap();
    assert!(low < forecast.quantile(0.9, |s| s.peak_c).unwrap());
}

#[test]
fn a_forecast_that_is_called_off_ends_at_once_and_hears_its_batches() {
    let (totals, heap) = (GOOD.totals(), heap());
    let question = Question {
        totals: &totals,
        additions: &[],
        heap: &heap,
        count: 200,
        seed: 1,
    };
    let stop = AtomicBool::new(false);
    let mut heard = Vec::new();
    let forecast = Forecast::of(&question, 2, &stop, 4, |so_far| {
        heard.push(so_far.runs().count());
        stop.store(true, std::sync::atomic::Ordering::Relaxed);
    });
    assert_eq!(heard.first(), Some(&4));
    assert!(forecast.runs().count() < 20, "{}", forecast.runs().count());
}

//! Gauges: words, layout, spoken text.

use heapwright::mix::{Gauge, bands};
use heapwright::quantity::{Range, UnitSystem};
use heapwright::window::widgets::gauge::{GaugeReading, Layout};

use super::support::window;

/// Bar length used here, in heights of a tick's text: that of a 400 point bar.
const BAR: f32 = 33.0;

fn carbon_nitrogen(range: Range) -> GaugeReading {
    GaugeReading {
        gauge: Gauge::CarbonNitrogen,
        range,
        ghost: None,
        ghost_name: "pinned",
        band: Some(bands::CN),
        scale_end: 80.0,
        units: UnitSystem::Metric,
        driven_by: String::new(),
    }
}

#[test]
fn the_needle_and_the_bands_stand_where_the_scale_puts_them() {
    // Cooperband 2002 gives 20-40 as working and 25-35 as best; on a scale of 0-80 these are
    // 1/4-1/2 and 5/16-7/16. Shares are f32, hence 1e-6.
    let layout = Layout::of(&carbon_nitrogen(Range::new(28.0, 32.0, 44.0)), BAR);
    let close = |pair: Option<(f32, f32)>, wanted: (f32, f32)| {
        let (a, b) = pair.unwrap();
        assert!((a - wanted.0).abs() < 1e-6 && (b - wanted.1).abs() < 1e-6);
    };
    close(layout.works, (0.25, 0.5));
    close(layout.best, (0.3125, 0.4375));
    close(layout.smear, (0.35, 0.55));
    assert_eq!(layout.needle, Some(0.4));
    assert!(!layout.needle_beyond);
}

#[test]
fn a_value_beyond_the_scale_stays_on_the_bar_and_says_so() {
    let layout = Layout::of(&carbon_nitrogen(Range::new(300.0, 500.0, 900.0)), BAR);
    assert_eq!(layout.needle, Some(1.0));
    assert!(layout.needle_beyond);
    assert_eq!(layout.smear, None, "nothing of the range is on the bar");
}

#[test]
fn a_mix_without_nitrogen_is_said_in_words() {
    let endless = Range::new(f64::INFINITY, f64::INFINITY, f64::INFINITY);
    let reading = carbon_nitrogen(endless);
    assert_eq!(reading.spoken(), "C:N no nitrogen, too brown");
    assert_eq!(Layout::of(&reading, BAR).needle, Some(1.0));
}

#[test]
fn what_is_not_a_number_has_no_needle() {
    let reading = carbon_nitrogen(Range::new(f64::NAN, f64::NAN, f64::NAN));
    let layout = Layout::of(&reading, BAR);
    assert_eq!((layout.needle, layout.smear), (None, None));
}

#[test]
fn ticks_that_would_run_into_each_other_are_left_out_but_never_the_best_ones() {
    let reading = carbon_nitrogen(Range::exact(30.0));
    let texts = |bar: f32| -> Vec<String> {
        let mut ticks = Layout::of(&reading, bar).ticks;
        ticks.sort_by(|a, b| a.0.total_cmp(&b.0));
        ticks.into_iter().map(|(_, text)| text).collect()
    };
    // The Mix view, a class at 1280 and at 1024 points: the same marks in all.
    for bar in [60.0, 28.0, 22.0, 17.0] {
        assert_eq!(texts(bar), ["20", "25", "35", "40"], "{bar}");
        let mut ticks = Layout::of(&reading, bar).ticks;
        ticks.sort_by(|a, b| a.0.total_cmp(&b.0));
        // Digits are 0.62 of their height wide (measured in the font, from memory); two stand beside two.
        let clear = ticks
            .windows(2)
            .all(|pair| (pair[1].0 - pair[0].0) * bar > 2.0 * 0.62);
        assert!(clear, "{bar}: {ticks:?}");
    }
    // With no room for 35 beside 25, a 40 there would be taken for the end of the best part.
    assert_eq!(texts(12.0), ["25"]);
}

#[test]
fn the_word_follows_the_published_band() {
    // Cooperband 2002: works 20-40, best 25-35. The words are the project's own.
    for (value, word) in [
        (15.0, "too green"),
        (22.0, "on the green side"),
        (30.0, "balanced"),
        (38.0, "on the brown side"),
        (50.0, "too brown"),
    ] {
        assert_eq!(carbon_nitrogen(Range::exact(value)).word(), word);
    }
}

#[test]
fn the_tooltip_tells_range_band_and_source() {
    let text = carbon_nitrogen(Range::new(24.0, 30.0, 41.0)).explained();
    for part in ["likely 24.0 to 41.0", "25 to 35", "20 to 40", "Cooperband"] {
        assert!(text.contains(part), "{part} is missing in: {text}");
    }
}

#[test]
fn every_gauge_of_the_demo_speaks_its_number_unit_and_word() {
    let window = window();
    for (name, unit) in [
        ("C:N", ""),
        ("Moisture", "%"),
        ("Volume", "L"),
        ("Free air space", "%"),
        ("Bulk density", "kg/m³"),
    ] {
        let spoken = window.gauge(name);
        let number = spoken[name.len()..]
            .trim()
            .split([' ', ','])
            .next()
            .unwrap();
        assert!(number.parse::<f64>().is_ok(), "no number in: {spoken}");
        assert!(spoken.contains(unit), "no unit in: {spoken}");
        assert!(spoken.contains(", "), "no word in: {spoken}");
    }
}

#[test]
fn us_units_show_the_limit_of_bulk_density_as_the_source_prints_it() {
    // Cooperband 2002 prints both: 593 kg/m3 and 1000 lb/yd3. 593 is rounded, hence 0.1 %.
    let shown = UnitSystem::UsCustomary.density(593.0);
    assert!((shown - 1000.0).abs() < 1.0, "{shown}");
    let mut window = window();
    window.harness.state_mut().bench.state.settings.units = UnitSystem::UsCustomary;
    window.run();
    assert!(window.gauge("Bulk density").contains("lb/yd³"));
    assert!(window.gauge("Volume").contains("gal"));
}

#[test]
fn the_gauge_says_the_number_that_stands_on_paper() {
    // The report of the same demo, as the command prints it.
    let window = window();
    let app = window.app();
    let catalogue = heapwright::material::Catalogue::built_in().unwrap();
    let assessment = heapwright::export::Assessment::of(&app.project, &catalogue).unwrap();
    let report = heapwright::export::report(&assessment);
    for name in [
        "C:N",
        "Moisture",
        "Volume",
        "Free air space",
        "Bulk density",
    ] {
        let line = report
            .lines()
            .find(|line| line.trim_start().starts_with(&format!("{name} ")))
            .unwrap();
        let on_paper = line.trim_start()[name.len()..].trim();
        let (value, _) = on_paper.split_once("  ").unwrap();
        let spoken = window.gauge(name);
        assert!(
            spoken.starts_with(&format!("{name} {value}, ")),
            "{spoken} against {line}"
        );
    }
}

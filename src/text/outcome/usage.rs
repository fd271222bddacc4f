//! What the compost is used for, in words: the product with its ranges, beds, other uses, field tests.
//!
//! In: the product, what beds get, facts on use. Out: lines.
//!
//! Not here: the calculation (`outcome::nutrient`), the judgement on the product (`product`).
//!
//! Tested by: `tests/window/results.rs`.

use crate::garden::Need;
use crate::outcome::fate::NitrogenWay;
use crate::outcome::finish::Stage;
use crate::outcome::finish::{FieldTest, TestMeaning};
use crate::outcome::nutrient::{
    BetweenIs, Dressing, Feeding, ReleaseSeries, UseList, UseRule, UseTable,
};
use crate::outcome::turns::Timetable;
use crate::outcome::{Outcome, Trust};
use crate::quantity::{Amount, Extent, LITRE_PER_CUBIC_METRE, Measure, Range, UnitSystem};
use crate::text::{amount, number};

use super::facts::{trust, trust_in_brackets, unverified};
use super::metric;

/// Depths closer than this are the same, m.
const SAME_DEPTH_M: f64 = 1e-4;
/// Phosphate for fewer years is not worth a word.
const PHOSPHATE_YEARS: f64 = 1.5;
/// Volumes from here on are told in barrows, L.
const BARROWS_FROM_L: f64 = 100.0;
/// kg in an ounce (exact: a sixteenth of a pound).
const OUNCES_PER_POUND: f64 = 16.0;
/// Square feet that a need for nitrogen is told for.
const NEED_FT2: f64 = 100.0;

/// Depth that an area is told for, m: 1 cm, or half an inch.
const DEPTH_M: [f64; 2] = [0.01, 0.0127];
/// Smaller areas are told to a tenth, m2.
const SMALL_AREA_M2: f64 = 10.0;

/// A number and its unit, apart, so that a range says its unit once.
struct Shown {
    number: String,
    unit: &'static str,
}

impl Shown {
    fn new(number: String, unit: &'static str) -> Self {
        Self { number, unit }
    }

    fn text(&self) -> String {
        match self.unit {
            "" => self.number.clone(),
            unit => format!("{} {unit}", self.number),
        }
    }
}

/// "58 % (50 to 63 %)"; the range only where there is one to see.
fn ranged(range: Range, show: impl Fn(f64) -> Shown) -> String {
    let [low, typical, high] = [range.low, range.typical, range.high].map(show);
    if low.text() == high.text() {
        return typical.text();
    }
    let from = if low.unit == high.unit {
        low.number.clone()
    } else {
        low.text()
    };
    format!("{} ({from} to {})", typical.text(), high.text())
}

fn shown_mass(kg: f64, units: UnitSystem) -> Shown {
    Shown::new(number::rounded(units.mass(kg)), units.mass_unit())
}

/// Grams or ounces where kilograms or pounds would be mostly zeros.
fn shown_nutrient(kg: f64, units: UnitSystem) -> Shown {
    match units {
        UnitSystem::Metric if kg < 0.9995 => {
            Shown::new(number::rounded((1000.0 * kg).round()), "g")
        }
        UnitSystem::UsCustomary if units.mass(kg) < 0.995 => {
            Shown::new(number::rounded(OUNCES_PER_POUND * units.mass(kg)), "oz")
        }
        _ => shown_mass(kg, units),
    }
}

fn shown_volume(m3: f64, units: UnitSystem) -> Shown {
    // From 2 m3 on in bulk, as everywhere.
    if m3 >= 2.0 {
        Shown::new(
            number::rounded(units.bulk_volume(m3)),
            units.bulk_volume_unit(),
        )
    } else {
        Shown::new(number::rounded(units.volume(m3)), units.volume_unit())
    }
}

/// A mass of a nutrient: "527 g", "1.2 kg", "9.5 oz".
pub fn nutrient(kg: f64, units: UnitSystem) -> String {
    shown_nutrient(kg, units).text()
}

/// The same with its range.
pub fn ranged_nutrient(kg: Range, units: UnitSystem) -> String {
    ranged(kg, |kg| shown_nutrient(kg, units))
}

/// A small share with its range: "1.3 % (1.1 to 1.6 %)".
pub fn ranged_percent(share: Range) -> String {
    ranged(share, |share| {
        Shown::new(format!("{:.1}", 100.0 * share), "%")
    })
}

/// A share of the heap in a table: "58 % of the heap".
pub fn coarse_percent(share: f64) -> String {
    format!("{} of the heap", number::percent(share))
}

/// "enough for 14 m² at 1 cm", or in square feet at half an inch.
pub fn enough_for(volume_m3: f64, units: UnitSystem) -> String {
    let [metric_m, us_m] = DEPTH_M;
    match units {
        UnitSystem::Metric => {
            let m2 = volume_m3 / metric_m;
            let decimals = usize::from(m2 < SMALL_AREA_M2);
            format!("enough for {m2:.decimals$} m² at 1 cm")
        }
        UnitSystem::UsCustomary => {
            let square_feet = units.area(volume_m3 / us_m);
            format!("enough for {square_feet:.0} ft² at ½ in")
        }
    }
}

/// What is made and when: a heading, and a line of numbers.
pub fn product_lines(outcome: &Outcome, units: UnitSystem) -> [String; 2] {
    let out = &outcome.produce;
    let volume_m3 = out.volume_m3.typical;
    let what = if outcome.finish.leaves {
        " of leafmould"
    } else {
        " of compost"
    };
    let finish = &outcome.finish;
    let days = (finish.dig_in_day(), finish.pots_day());
    let (when, of_what) = match days {
        (_, Some(day)) => (format!("Finished about day {day:.0}"), what),
        (Some(day), None) if outcome.finish.digs_in => {
            (format!("Fit to dig in from about day {day:.0}"), what)
        }
        (Some(day), None) => (format!("Fit as mulch from about day {day:.0}"), ""),
        (None, None) => (
            format!("Not fit to use within {:.0} days; by then", out.day),
            "",
        ),
    };
    let heading = format!(
        "{when}: about {}{of_what}, {}",
        number::volume(volume_m3, units),
        enough_for(volume_m3, units)
    );
    let numbers = format!(
        "{}; volume {}; moisture {}; C:N {}{}",
        ranged(out.mass_kg, |kg| shown_mass(kg, units)),
        ranged(out.volume_m3, |m3| shown_volume(m3, units)),
        ranged(out.moisture, |share| Shown::new(
            number::whole(100.0 * share),
            "%"
        )),
        ranged(out.cn, |cn| Shown::new(number::whole(cn), "")),
        nitrogen_lost(outcome, units),
    );
    [heading, numbers]
}

/// The ways out for nitrogen that are worth a line: "; nitrogen lost: 54 g (3 to 120 g) as ammonia".
fn nitrogen_lost(outcome: &Outcome, units: UnitSystem) -> String {
    let out = &outcome.produce;
    let Some(fate) = &outcome.nitrogen else {
        return String::new();
    };
    let ways = fate.losses.iter().map(|loss| {
        let (kg, how) = match loss.way {
            NitrogenWay::Ammonia => (out.ammonia_kg, "as ammonia"),
            NitrogenWay::NitrogenGas => (out.nitrogen_gas_kg, "as nitrogen gas"),
            NitrogenWay::RainedOut | NitrogenWay::SeepedOut => {
                (out.nitrogen_drained_kg, "washed out")
            }
        };
        format!("{} {how}", ranged_nutrient(kg, units))
    });
    let ways: Vec<String> = ways.collect();
    format!("; nitrogen lost: {}", ways.join(", "))
}

/// What the crops of a bed are: "medium feeder".
pub fn feeder(need: Need) -> &'static str {
    match need {
        Need::Low => "light feeder",
        Need::Medium => "medium feeder",
        Need::High => "heavy feeder",
    }
}

/// What a bed gets: "gets 11 mm: 90 L = 7.5 buckets, 52 kg", and why it is not more.
pub fn bed_gets(dressing: &Dressing, feeding: &Feeding, units: UnitSystem) -> String {
    let wanted = number::depth(dressing.wanted_depth_m, units);
    if dressing.litres <= 0.0 {
        return format!("gets nothing: none is left ({wanted} would do)");
    }
    let got = number::depth(dressing.depth_m, units);
    let how = match (feeding.stage, feeding.hungry) {
        (Stage::Raw, _) => " once it is fit to use",
        (_, true) => " as mulch, not dug in",
        (Stage::Young | Stage::Mature, false) => "",
    };
    let mut text = format!(
        "gets {got}{how}: {}, {}",
        amount_in_measures(dressing.litres, units),
        number::mass(coarse(dressing.mass_kg), units)
    );
    let too_little = dressing.depth_m + SAME_DEPTH_M < dressing.wanted_depth_m;
    if too_little && got != wanted {
        text.push_str(&format!("; {wanted} would do, but no more is left"));
    } else if dressing.held_by_most && !feeding.hungry {
        text.push_str("; no more in one year, though its crops would take more nitrogen");
    }
    let years = dressing.phosphate_years;
    if years >= PHOSPHATE_YEARS {
        text.push_str(&format!("; phosphate for about {years:.0} years"));
    }
    text
}

/// Whole numbers from ten up: nobody spreads by the hundred grams.
fn coarse(value: f64) -> f64 {
    if value >= 10.0 { value.round() } else { value }
}

/// A volume in household measures: "90 L = 7.5 buckets", "450 L = 4.5 barrows".
pub fn amount_in_measures(litres: f64, units: UnitSystem) -> String {
    let measure = match units {
        UnitSystem::UsCustomary => Measure::Pail,
        UnitSystem::Metric if litres >= BARROWS_FROM_L => Measure::Barrow,
        UnitSystem::Metric => Measure::Bucket,
    };
    let volume = number::volume(coarse(litres) / LITRE_PER_CUBIC_METRE, units);
    let Extent::VolumeM3(one_m3) = measure.one() else {
        return volume;
    };
    let count = (2.0 * litres / (LITRE_PER_CUBIC_METRE * one_m3)).round() / 2.0;
    if count < 0.5 {
        return volume;
    }
    format!(
        "{volume} = {}",
        amount::amount(&Amount::new(count, measure))
    )
}

/// What is left when every bed has its share.
pub fn left_over(litres: f64, units: UnitSystem) -> String {
    format!("Left over: {}.", amount_in_measures(litres, units))
}

/// Where the need of a bed and its depth come from.
pub fn need_source(need: Need, usage: &UseTable, units: UnitSystem) -> String {
    let row = usage.needs.iter().find(|row| row.need == need);
    let row = row.map_or_else(String::new, |row| {
        format!(
            "A {} takes {}, as {} do. Source: {} ({}). ",
            feeder(need),
            need_for_nitrogen(row.nitrogen_g_per_m2, units),
            row.crops,
            row.source,
            trust_in_brackets(row.trust)
        )
    });
    format!(
        "{row}Depth: what brings that nitrogen in the first year, at most {}. Source: {}. Phosphate: {}.",
        number::depth(usage.most_depth_m, units),
        usage.most_depth_source,
        usage.phosphate_source
    )
}

/// "6 g of nitrogen per m² and year", or in ounces for 100 square feet.
fn need_for_nitrogen(g_per_m2: f64, units: UnitSystem) -> String {
    match units {
        UnitSystem::Metric => format!("{g_per_m2} g of nitrogen per m² and year"),
        UnitSystem::UsCustomary => {
            let kg = 0.001 * g_per_m2 * NEED_FT2 * units.one_area_m2();
            format!("{} of nitrogen per 100 ft² and year", nutrient(kg, units))
        }
    }
}

/// How fast a kind of compost frees its nitrogen, and where that stands.
pub fn release_source(series: &ReleaseSeries) -> String {
    let shares = series.shares.map(|share| number::whole(100.0 * share));
    format!(
        "As {}: {} % of all its nitrogen in years 1 to 5. Source: {} ({}).",
        series.name,
        shares.join(", "),
        series.source,
        trust_in_brackets(series.trust)
    )
}

/// What a list of lines on use is called.
pub fn use_list(list: UseList) -> &'static str {
    match list {
        UseList::PhosphateAndSalt => "Phosphate and salt",
        UseList::PotsAndMulch => "Pots, seedlings, mulch, new beds",
        UseList::Water => "Distances to water",
    }
}

/// A line on use.
pub fn use_line(rule: &UseRule, units: UnitSystem) -> String {
    format!("{}.", metric::shown(&rule.text, units))
}

/// Where a line on use stands.
pub fn use_source(rule: &UseRule) -> String {
    format!("Source: {}{}.", rule.source, unverified(rule.trust))
}

/// What a line on use comes to for a volume of compost.
pub fn own_use(rule: &UseRule, volume_m3: f64, units: UnitSystem) -> Option<String> {
    let (low, high) = rule.between;
    match rule.between_is {
        BetweenIs::InText => None,
        BetweenIs::PercentOfMix => Some(format!(
            "All of this heap would make {} to {} of potting mix.",
            number::volume(100.0 * volume_m3 / high, units),
            number::volume(100.0 * volume_m3 / low, units)
        )),
        BetweenIs::LayerMm => Some(format!(
            "All of this heap ({}) covers {} to {}.",
            amount_in_measures(LITRE_PER_CUBIC_METRE * volume_m3, units),
            number::area(1000.0 * volume_m3 / high, units),
            number::area(1000.0 * volume_m3 / low, units)
        )),
    }
}

/// What a result of a field test means, and whether that is unverified.
pub fn meaning(result: &TestMeaning, units: UnitSystem) -> String {
    let means = metric::shown(&result.means, units);
    match result.trust {
        Trust::Recalled => format!("{means}; {}", trust(result.trust)),
        Trust::Derived | Trust::SecondHand | Trust::Read => means.into_owned(),
    }
}

/// Where a field test stands.
pub fn field_test_source(test: &FieldTest) -> String {
    format!(
        "Source: {} ({}).",
        test.source,
        trust_in_brackets(test.trust)
    )
}

/// What stands above the table of what each further turning buys.
pub fn turnings_heading(timetable: &Timetable) -> String {
    format!(
        "Ordinary seeds, heap mixed through every {:.0} days from day {:.0} and wetted to {}:",
        timetable.every_days,
        timetable.first_day,
        number::percent(timetable.wet_to.unwrap_or(0.0))
    )
}

//! What a diary taught, for another program, as JSON of schema 1.
//!
//! In: [`Learning`]. Out: one object; every key is always there.
//!
//! | key | what it holds |
//! |---|---|
//! | `schema` | 1; another number means that keys have changed their meaning |
//! | `learnt` | whether anything was; if not, all below is empty or `null` |
//! | `remark` | text: how much was learnt, or why nothing was |
//! | `band_width_before_k`, `band_width_after_k` | mean width of the 10-90 % band of the centre from the last reading on, or `null` |
//! | `information_bits` | information beyond the prior, or `null` |
//! | `members_tried`, `members_effective`, `likelihood_power` | numbers, or `null` |
//! | `unknowns[]` | every uncertain input: `id`, `shift` (prior standard deviations), `narrowing` (spread now over before), `told` (whether the readings speak of it), `text`, `tied_to[]` (`id`, `correlation`) |
//! | `readings[]` | `day`, `what`, `out`, `up` (shares of the heap), `value`, `expected_low`, `expected_median`, `expected_high`, `error` (degC, shares or m), `told`: `fits`, `far`, `outside_all` |
//! | `kept_out[]` | `why`, `count`, `text` |
//! | `next_reading` | `day`, `out`, `up`, `expected_low_c`, `expected_median_c`, `expected_high_c`, `teaches` (0 to 1), or `null` |
//! | `forecast` | `day[]` and `prior` and `learnt`, each `low_c[]`, `median_c[]`, `high_c[]` of the centre |
//!
//! Not here: sentences (`text::learnt`).
//!
//! Tested by: `tests/document/learn.rs`.

use serde::Serialize;

use crate::assess::Learning;
use crate::forecast::learn::{KeptOut, Learnt, NextReading, NotLearnt, Residual, Shift, Told};
use crate::forecast::{Forecast, Series};
use crate::quantity::UnitSystem;
use crate::text::learnt as words;

/// Version of the keys.
const SCHEMA: u32 = 1;

#[derive(Serialize)]
struct Whole {
    schema: u32,
    learnt: bool,
    remark: String,
    band_width_before_k: Option<f64>,
    band_width_after_k: Option<f64>,
    information_bits: Option<f64>,
    members_tried: Option<usize>,
    members_effective: Option<f64>,
    likelihood_power: Option<f64>,
    unknowns: Vec<UnknownPart>,
    readings: Vec<ReadingPart>,
    kept_out: Vec<KeptOutPart>,
    next_reading: Option<NextPart>,
    forecast: ForecastPart,
}

#[derive(Serialize)]
struct UnknownPart {
    id: String,
    shift: f64,
    narrowing: f64,
    told: bool,
    text: String,
    tied_to: Vec<TiePart>,
}

#[derive(Serialize)]
struct TiePart {
    id: String,
    correlation: f64,
}

#[derive(Serialize)]
struct ReadingPart {
    day: f64,
    what: &'static str,
    out: f64,
    up: f64,
    value: f64,
    expected_low: f64,
    expected_median: f64,
    expected_high: f64,
    error: f64,
    told: &'static str,
}

#[derive(Serialize)]
struct KeptOutPart {
    why: String,
    count: usize,
    text: String,
}

#[derive(Serialize)]
struct NextPart {
    day: f64,
    out: f64,
    up: f64,
    expected_low_c: f64,
    expected_median_c: f64,
    expected_high_c: f64,
    teaches: f64,
}

#[derive(Serialize, Default)]
struct BandPart {
    low_c: Vec<f64>,
    median_c: Vec<f64>,
    high_c: Vec<f64>,
}

#[derive(Serialize, Default)]
struct ForecastPart {
    day: Vec<f64>,
    prior: BandPart,
    learnt: BandPart,
}

/// What was learnt as JSON.
///
/// # Errors
/// Only if a number cannot be written, which none here can be.
pub fn learnt_json(learning: &Learning) -> Result<String, serde_json::Error> {
    serde_json::to_string_pretty(&match learning {
        Learning::Learnt(learnt) => whole(learnt),
        Learning::Not(why) => nothing(why),
    })
}

fn nothing(why: &NotLearnt) -> Whole {
    let kept_out = match why {
        NotLearnt::NoValues(kept_out) => kept_out.iter().map(kept_out_part).collect(),
        NotLearnt::NotBuilt | NotLearnt::NothingToRot | NotLearnt::CalledOff => Vec::new(),
    };
    Whole {
        schema: SCHEMA,
        learnt: false,
        remark: words::not_learnt(why),
        band_width_before_k: None,
        band_width_after_k: None,
        information_bits: None,
        members_tried: None,
        members_effective: None,
        likelihood_power: None,
        unknowns: Vec::new(),
        readings: Vec::new(),
        kept_out,
        next_reading: None,
        forecast: ForecastPart::default(),
    }
}

fn whole(learnt: &Learnt) -> Whole {
    Whole {
        schema: SCHEMA,
        learnt: true,
        remark: words::gained(&learnt.gained, UnitSystem::Metric),
        band_width_before_k: Some(learnt.gained.width_before_k),
        band_width_after_k: Some(learnt.gained.width_after_k),
        information_bits: Some(learnt.gained.bits),
        members_tried: Some(learnt.tried),
        members_effective: Some(learnt.effective),
        likelihood_power: Some(learnt.power),
        unknowns: learnt.shifts.iter().map(unknown_part).collect(),
        readings: learnt.residuals.iter().map(reading_part).collect(),
        kept_out: learnt.kept_out.iter().map(kept_out_part).collect(),
        next_reading: learnt.next.as_ref().map(next_part),
        forecast: ForecastPart {
            day: learnt.forecast.band(Series::Centre).days.clone(),
            prior: band_part(&learnt.prior),
            learnt: band_part(&learnt.forecast),
        },
    }
}

fn unknown_part(shift: &Shift) -> UnknownPart {
    let tie = |(unknown, correlation): &(_, f64)| TiePart {
        id: format!("{unknown:?}"),
        correlation: *correlation,
    };
    UnknownPart {
        id: format!("{:?}", shift.unknown),
        shift: shift.shift,
        narrowing: shift.narrowing,
        told: shift.is_told(),
        text: words::shift(shift),
        tied_to: shift.tied_to.iter().map(tie).collect(),
    }
}

fn reading_part(residual: &Residual) -> ReadingPart {
    let o = residual.observation;
    ReadingPart {
        day: o.day,
        what: words::what(o.what),
        out: o.spot.out,
        up: o.spot.up,
        value: o.value,
        expected_low: residual.expected.low,
        expected_median: residual.expected.typical,
        expected_high: residual.expected.high,
        error: residual.error,
        told: match residual.told {
            Told::Fits => "fits",
            Told::Far => "far",
            Told::OutsideAll => "outside_all",
        },
    }
}

fn kept_out_part(kept_out: &KeptOut) -> KeptOutPart {
    KeptOutPart {
        why: format!("{:?}", kept_out.why),
        count: kept_out.count,
        text: words::kept_out(kept_out),
    }
}

fn next_part(next: &NextReading) -> NextPart {
    NextPart {
        day: next.day,
        out: next.spot.out,
        up: next.spot.up,
        expected_low_c: next.expected_c.low,
        expected_median_c: next.expected_c.typical,
        expected_high_c: next.expected_c.high,
        teaches: next.teaches,
    }
}

fn band_part(forecast: &Forecast) -> BandPart {
    let band = forecast.band(Series::Centre);
    BandPart {
        low_c: band.low.clone(),
        median_c: band.median.clone(),
        high_c: band.high.clone(),
    }
}

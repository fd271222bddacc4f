//! What advice can say, as typed values.
//!
//! In: numbers of a mix and its projection. Out: [`Advice`].
//!
//! Not here: which of it is said (`steps`), its sentence (`text::advice`).
//!
//! Tested by: `tests/science/advice.rs`.

use crate::mix::{Change, Fit, Gauge};
use crate::quantity::Amount;

/// One piece of advice.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// What it says.
    pub says: Says,
    /// Whether it goes on from the advice before it.
    pub then: bool,
    /// What it proposes, on top of the advice before it; `None` where it only tells.
    pub change: Option<Change>,
}

impl Advice {
    /// Whether all it says is how warm it gets at most, and why.
    pub fn tells_peak(&self) -> bool {
        matches!(
            self.says,
            Says::AsItStands { .. }
                | Says::StaysCool { .. }
                | Says::Aim(
                    AimAhead::NotHot { .. }
                        | AimAhead::NoSeeds { .. }
                        | AimAhead::LittleToShow { .. }
                )
        )
    }
}

/// What a piece of advice says. Volumes m3, temperatures degC, times d, shares 0-1.
#[derive(Debug, Clone, PartialEq)]
pub enum Says {
    /// Nothing is there: add a first material.
    FirstMaterial,
    /// There is only water: add something dry.
    OnlyWater,
    /// Every amount is zero.
    NoAmounts,
    /// It is nearly all of something no heap can be built of.
    NoBase(NamedMaterial),
    /// A change of the mix.
    Step(Step),
    /// There is more than the room holds.
    TooMuch {
        /// As built.
        volume_m3: f64,
        /// What the room holds.
        room_m3: f64,
        /// What to do about it.
        remedy: TooMuch,
    },
    /// The room would stay nearly empty.
    FillsLittle {
        /// Share of the room that is filled.
        share: f64,
        /// How much more of everything there is room for.
        factor: Factor,
        /// Share that fills then.
        fills: f64,
    },
    /// A mix that stays cool for all its size.
    StaysCool {
        /// Highest temperature.
        peak_c: f64,
    },
    /// How hot the mix gets before the advised steps.
    AsItStands {
        /// Highest temperature.
        peak_c: f64,
    },
    /// Hot, but lack of air limits the decomposition.
    ShortOfAir {
        /// Highest temperature.
        peak_c: f64,
        /// Share of the decomposition that is limited.
        share: f64,
    },
    /// It stays cold because it turns sour.
    ColdAndSour {
        /// Highest temperature.
        peak_c: f64,
        /// Lowest pH of the pore water.
        ph: f64,
    },
    /// Warm, but part of it turns sour.
    TurnsSour {
        /// Highest temperature.
        peak_c: f64,
        /// Greatest share of the heap that is sour at once.
        share: f64,
        /// Lowest pH of the pore water.
        ph: f64,
    },
    /// The room is too small to keep heat in.
    RoomTooSmall {
        /// What it holds.
        room_m3: f64,
        /// Highest temperature.
        peak_c: f64,
    },
    /// There is too little to keep its heat.
    TooSmall {
        /// As built.
        volume_m3: f64,
        /// Highest temperature.
        peak_c: f64,
        /// Volume from which a heap keeps its heat.
        keeps_from_m3: f64,
    },
    /// So many times as much would keep its heat better.
    Grow {
        /// As built.
        volume_m3: f64,
        /// Highest temperature.
        peak_c: f64,
        /// How many times as much, whole.
        times: f64,
        /// Volume then.
        to_m3: f64,
    },
    /// What the heap does for the aim.
    Aim(AimAhead),
    /// Build it.
    Build {
        /// What the mix is like; `None` where steps were advised before.
        opening: Option<Opening>,
        /// What the heat would do; `None` without a projection.
        heat: Option<HeatAhead>,
    },
}

/// What a heap does for an aim. Temperatures degC, times d, shares 0-1.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum AimAhead {
    /// It gets hot.
    Hot {
        /// Highest temperature.
        peak_c: f64,
        /// Time above 55 degC.
        days: f64,
    },
    /// It does not get hot.
    NotHot {
        /// Highest temperature.
        peak_c: f64,
        /// What it lacks.
        why: Lack,
    },
    /// Some of it is hot long enough for ordinary weed seeds.
    Seeds {
        /// Which share.
        share: f64,
    },
    /// It is hot, but none of it for long enough.
    SeedsTooShort {
        /// Time above 55 degC.
        days: f64,
    },
    /// It is never hot enough, whatever the timetable.
    NoSeeds {
        /// Highest temperature.
        peak_c: f64,
        /// What it lacks.
        why: Lack,
    },
    /// Finished before the date.
    InTime {
        /// Day finished.
        day: f64,
        /// Time left until the date.
        spare_days: f64,
    },
    /// The date lies beyond what is projected.
    NotToldYet {
        /// Days projected.
        days: f64,
    },
    /// Finished after the date, or not at all.
    TooLate {
        /// Day finished; `None` if not within what is projected.
        day: Option<f64>,
        /// Days projected.
        days: f64,
        /// Time until the date.
        within: f64,
        /// What it lacks, where it stays cool.
        why: Option<Lack>,
    },
    /// What the work planned comes to.
    Work {
        /// Turnings planned.
        turnings: usize,
        /// Day finished; `None` if not within what is projected.
        finished_day: Option<f64>,
        /// Days projected.
        days: f64,
    },
    /// There is heat to show.
    Show {
        /// Highest temperature.
        peak_c: f64,
        /// Day of it.
        peak_day: f64,
    },
    /// There is little heat to show.
    LittleToShow {
        /// Highest temperature.
        peak_c: f64,
        /// What it lacks.
        why: Lack,
    },
}

/// What keeps a heap from getting hot.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Lack {
    /// There is too little of it.
    Small {
        /// As built, m3.
        volume_m3: f64,
        /// Volume that keeps its heat, m3.
        make_m3: f64,
    },
    /// A gauge is off.
    Gauge {
        /// Which.
        gauge: Gauge,
        /// Its value.
        value: f64,
        /// On which side.
        fit: Fit,
        /// The volume as built, m3, where that is too little as well.
        small_m3: Option<f64>,
    },
    /// Cold air, or slow materials.
    Season,
}

/// What to do with more than the room holds.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum TooMuch {
    /// A share of everything fits.
    ShareFits(Factor),
    /// Keep so much back.
    KeepBack {
        /// How much, m3.
        m3: f64,
    },
}

/// Shares and multiples of everything that are easily done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Factor {
    /// 1/10.
    Tenth,
    /// 1/4.
    Quarter,
    /// 1/3.
    Third,
    /// 1/2.
    Half,
    /// 2/3.
    TwoThirds,
    /// 3/4.
    ThreeQuarters,
    /// 9/10.
    NineTenths,
    /// 1.5.
    OneAndAHalf,
    /// 2.
    Two,
    /// 2.5.
    TwoAndAHalf,
    /// 3.
    Three,
    /// 4.
    Four,
    /// 5.
    Five,
    /// 10.
    Ten,
}

impl Factor {
    /// All of them, rising.
    pub const ALL: [Self; 14] = [
        Self::Tenth,
        Self::Quarter,
        Self::Third,
        Self::Half,
        Self::TwoThirds,
        Self::ThreeQuarters,
        Self::NineTenths,
        Self::OneAndAHalf,
        Self::Two,
        Self::TwoAndAHalf,
        Self::Three,
        Self::Four,
        Self::Five,
        Self::Ten,
    ];

    /// As a number.
    pub fn value(self) -> f64 {
        match self {
            Self::Tenth => 0.1,
            Self::Quarter => 0.25,
            Self::Third => 1.0 / 3.0,
            Self::Half => 0.5,
            Self::TwoThirds => 2.0 / 3.0,
            Self::ThreeQuarters => 0.75,
            Self::NineTenths => 0.9,
            Self::OneAndAHalf => 1.5,
            Self::Two => 2.0,
            Self::TwoAndAHalf => 2.5,
            Self::Three => 3.0,
            Self::Four => 4.0,
            Self::Five => 5.0,
            Self::Ten => 10.0,
        }
    }
}

/// A material of the mix, with those it must be told apart from.
#[derive(Debug, Clone, PartialEq)]
pub struct NamedMaterial {
    /// Its id in the catalogue.
    pub id: String,
    /// Its name there.
    pub name: String,
    /// Ids of the other materials in the mix.
    pub beside: Vec<String>,
}

/// A change of the mix and what it brings.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What is done.
    pub of: StepOf,
    /// Gauges that come nearer to their bands, the greatest gain first.
    pub better: Vec<GaugeMove>,
    /// Gauges that get worse outside their bands.
    pub worse: Vec<GaugeMove>,
}

/// Which way an amount of an ingredient goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Way {
    /// To what is there.
    More,
    /// From what is there.
    Less,
    /// There is none yet.
    Fresh,
}

/// What is done in a step.
#[derive(Debug, Clone, PartialEq)]
pub enum StepOf {
    /// All added water is left out.
    NoWater,
    /// Water is added, or less of it where below 0, L.
    Water {
        /// How much, L.
        litres: f64,
    },
    /// An ingredient is left out.
    LeaveOut(NamedMaterial),
    /// More or less of an ingredient.
    Ingredient {
        /// Which.
        named: NamedMaterial,
        /// How much is moved, above 0.
        amount: Amount,
        /// Which way.
        way: Way,
    },
    /// Something is fetched.
    Fetch {
        /// What it is called in a sentence, from `assets/fetch.ron`.
        called: String,
        /// How much of it.
        amount: Amount,
    },
}

/// What a step does to one gauge, in the gauge's SI unit.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct GaugeMove {
    /// Which gauge.
    pub gauge: Gauge,
    /// Value before.
    pub from: f64,
    /// Value after.
    pub to: f64,
    /// Where the value before lies.
    pub from_fit: Fit,
    /// Where the value after lies.
    pub to_fit: Fit,
    /// The end of the best part of its band that is nearer to the value after.
    pub edge: f64,
    /// Whether the gain is worth a word beside others.
    pub worth_naming: bool,
}

/// What a right mix is like.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Opening {
    /// Every gauge is in the best part of its band.
    Balanced {
        /// C:N.
        cn: f64,
        /// Moisture, wet basis.
        moisture: f64,
    },
    /// It works, with one gauge off.
    Works {
        /// C:N.
        cn: f64,
        /// Moisture, wet basis.
        moisture: f64,
        /// The gauge that is most off.
        gauge: Gauge,
        /// On which side.
        fit: Fit,
    },
    /// No small change helps with one gauge that fails.
    Fails {
        /// Which gauge.
        gauge: Gauge,
        /// Its value.
        value: f64,
        /// On which side.
        fit: Fit,
    },
}

/// What the heat would do.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct HeatAhead {
    /// Highest temperature, degC.
    pub peak_c: f64,
    /// Day of it.
    pub peak_day: f64,
    /// A line that it lies above for a while, degC.
    pub above_c: f64,
    /// How long, d.
    pub days: f64,
}

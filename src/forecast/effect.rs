//! What a change does: differences of pairs, and the words for them.
//!
//! In: differences, second heap less first. Out: median and 10-90 % range, a verdict by thresholds.
//!
//! A threshold is the least difference a person with a probe, a nose and a fork could notice. No verdict
//! is ever written down beforehand.
//! Not here: how pairs are run (`pairs`).
//!
//! Tested by: `tests/science/trials.rs`.

use crate::quantity::{Range, UnitSystem};

use super::band::quantile;

/// Temperature that can be felt or read, K: compost probes are good to 1-2 K (`common practice`), and
/// two places a hand apart differ by as much.
const FELT_K: f64 = 2.0;
/// Time above a temperature that can be noticed, d: a heap is read once a day (`common practice`).
const NOTICED_DAYS: f64 = 1.0;
/// Time to finish that can be noticed, d: finish is judged about once a week (`common practice`).
const FINISH_DAYS: f64 = 7.0;
/// Share of nitrogen that matters: below that it drowns in what is not known of the mix's nitrogen,
/// whose ranges in the catalogue are a tenth and more.
const NITROGEN_SHARE: f64 = 0.03;
/// Share of the decomposition limited by lack of air that matters (tuned: about where a fork smells it).
const AIRLESS_SHARE: f64 = 0.05;
/// Share of dry matter that can be noticed: volumes are told to about a twentieth (`common practice`).
const DRY_SHARE: f64 = 0.05;

/// Something a change can do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Measured {
    /// Highest temperature at the centre, K.
    Peak,
    /// Time at or above 40 degC, d.
    DaysAbove40,
    /// Time at or above 55 degC, d.
    DaysAbove55,
    /// Day on which it is finished, d; over the pairs in which both finish.
    Finish,
    /// Nitrogen lost as ammonia, share.
    NitrogenLost,
    /// Decomposition limited by lack of air, share.
    Airless,
    /// Dry matter lost, share.
    DryMatterLost,
    /// Highest temperature 10 cm below the side, K: the coolest part that is followed.
    EdgePeak,
}

impl Measured {
    /// All, in the order in which they are shown.
    pub const ALL: [Self; 8] = [
        Self::Peak,
        Self::DaysAbove40,
        Self::DaysAbove55,
        Self::EdgePeak,
        Self::Finish,
        Self::NitrogenLost,
        Self::Airless,
        Self::DryMatterLost,
    ];

    /// Its name.
    pub fn label(self) -> &'static str {
        match self {
            Self::Peak => "peak",
            Self::DaysAbove40 => "time above 40 °C",
            Self::DaysAbove55 => "time above 55 °C",
            Self::Finish => "day it is finished",
            Self::NitrogenLost => "nitrogen lost",
            Self::Airless => "decomposition limited by lack of air",
            Self::DryMatterLost => "dry matter lost",
            Self::EdgePeak => "peak near the skin",
        }
    }

    /// Least difference a person could notice, in its unit.
    pub fn threshold(self) -> f64 {
        match self {
            Self::Peak | Self::EdgePeak => FELT_K,
            Self::DaysAbove40 | Self::DaysAbove55 => NOTICED_DAYS,
            Self::Finish => FINISH_DAYS,
            Self::NitrogenLost => NITROGEN_SHARE,
            Self::Airless => AIRLESS_SHARE,
            Self::DryMatterLost => DRY_SHARE,
        }
    }

    /// Words for more and for less of it.
    fn ways(self) -> [&'static str; 2] {
        match self {
            Self::Peak | Self::EdgePeak => ["hotter", "cooler"],
            Self::DaysAbove40 | Self::DaysAbove55 => ["hot for longer", "hot for a shorter time"],
            Self::Finish => ["finishes later", "finishes sooner"],
            Self::NitrogenLost => ["more nitrogen lost", "less nitrogen lost"],
            Self::Airless => ["more airless", "less airless"],
            Self::DryMatterLost => ["more rotted away", "less rotted away"],
        }
    }

    /// "no difference you could feel" and the like.
    fn nothing(self) -> &'static str {
        match self {
            Self::Peak | Self::EdgePeak => "no difference you could feel",
            _ => "no difference you could notice",
        }
    }

    /// A difference with its sign, in the shown unit: "+0.3", "-2".
    pub fn number(self, difference: f64, units: UnitSystem) -> String {
        let value = match (self, units) {
            // A difference of 1 K is one of 1.8 degF.
            (Self::Peak | Self::EdgePeak, UnitSystem::UsCustomary) => 1.8 * difference,
            (Self::NitrogenLost | Self::Airless | Self::DryMatterLost, _) => 100.0 * difference,
            _ => difference,
        };
        let rounded = (10.0 * value).round() / 10.0;
        let sign = if rounded > 0.0 { "+" } else { "" };
        format!("{sign}{}", crate::outcome::said::rounded(rounded))
    }

    /// Its unit; a point is one in a hundred of all there was.
    pub fn unit(self, units: UnitSystem) -> &'static str {
        match self {
            Self::Peak | Self::EdgePeak => units.temperature_unit(),
            Self::DaysAbove40 | Self::DaysAbove55 | Self::Finish => "days",
            Self::NitrogenLost | Self::Airless | Self::DryMatterLost => "points",
        }
    }
}

/// Share of the pairs that must agree before there is said to be nothing: four in five.
const NOTHING_SHARE: f64 = 0.8;
/// Share of the pairs that must agree for "mostly": half.
const MOSTLY_SHARE: f64 = 0.5;
/// Share of the pairs that must agree for "clearly": nine in ten.
const CLEARLY_SHARE: f64 = 0.9;
/// Most that may lie on the other side for "probably": one in ten.
const OTHER_WAY_SHARE: f64 = 0.1;

/// Which side an effect lies on, and how surely.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Verdict {
    /// In four of five pairs and more nobody could notice a difference.
    Nothing,
    /// In half of the pairs and more nobody could.
    MostlyNothing,
    /// In nine of ten pairs there is a difference to notice, the same way.
    Clearly {
        /// More of it in the second heap.
        more: bool,
    },
    /// In more than half there is one, and in at most one of ten the other way.
    Probably {
        /// More of it in the second heap.
        more: bool,
    },
    /// There is one, now this way, now that.
    EitherWay,
}

/// An effect over all pairs.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Effect {
    /// Of what.
    pub measured: Measured,
    /// Median and 10-90 % range of the differences, second less first.
    pub range: Range,
    /// Share of the pairs with a difference upward that could be noticed, 0-1.
    pub more_share: f64,
    /// The same downward.
    pub less_share: f64,
    /// Pairs it rests on.
    pub pairs: usize,
}

impl Effect {
    /// The effect of some differences; `None` of none.
    pub fn of(measured: Measured, mut differences: Vec<f64>) -> Option<Self> {
        differences.sort_by(f64::total_cmp);
        let at = |share| quantile(&differences, share);
        let limit = measured.threshold();
        let share = |holds: &dyn Fn(f64) -> bool| {
            let many = differences.iter().filter(|value| holds(**value)).count();
            many as f64 / differences.len() as f64
        };
        (!differences.is_empty()).then(|| Self {
            measured,
            range: Range::new(at(0.1), at(0.5), at(0.9)),
            more_share: share(&|value| value >= limit),
            less_share: share(&|value| value <= -limit),
            pairs: differences.len(),
        })
    }

    /// Median over the threshold: how much it is of what a person could notice.
    pub fn weight(&self) -> f64 {
        self.range.typical.abs() / self.measured.threshold()
    }

    /// What to make of it.
    pub fn verdict(&self) -> Verdict {
        let (up, down) = (self.more_share, self.less_share);
        let none = 1.0 - up - down;
        if none >= NOTHING_SHARE {
            Verdict::Nothing
        } else if none >= MOSTLY_SHARE {
            Verdict::MostlyNothing
        } else if up.max(down) >= CLEARLY_SHARE {
            Verdict::Clearly { more: up > down }
        } else if up.min(down) <= OTHER_WAY_SHARE {
            Verdict::Probably { more: up > down }
        } else {
            Verdict::EitherWay
        }
    }

    /// The verdict in words.
    pub fn words(&self) -> String {
        let way = |more: bool| self.measured.ways()[usize::from(!more)];
        match self.verdict() {
            Verdict::Nothing => self.measured.nothing().to_owned(),
            Verdict::MostlyNothing => format!("mostly {}", self.measured.nothing()),
            Verdict::Clearly { more } => format!("clearly {}", way(more)),
            Verdict::Probably { more } => format!("probably {}", way(more)),
            Verdict::EitherWay => "could go either way".to_owned(),
        }
    }

    /// "peak +0.3 °C, between -0.1 and +0.8: no difference you could feel".
    pub fn sentence(&self, units: UnitSystem) -> String {
        let number = |difference| self.measured.number(difference, units);
        format!(
            "{} {} {}, between {} and {}: {}",
            self.measured.label(),
            number(self.range.typical),
            self.measured.unit(units),
            number(self.range.low),
            number(self.range.high),
            self.words()
        )
    }
}

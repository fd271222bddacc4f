//! What a change does: differences of pairs, and what to make of them.
//!
//! In: differences, second heap less first. Out: median and 10-90 % range, a verdict by thresholds.
//!
//! A threshold is the least difference a person with a probe, a nose and a fork could notice. No verdict
//! is ever written down beforehand.
//! Not here: how pairs are run (`pairs`), words (`text::trial`).
//!
//! Tested by: `tests/science/trials.rs`.

use crate::quantity::Range;

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
}

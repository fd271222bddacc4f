//! Something whose amount may be moved: a row, water, a material to be fetched.
//!
//! In: a material, how it is said, how much there is. Out: [`Lever`]: what a handful of it brings, where
//! it starts, how far it may go, what moving it costs.
//!
//! Not here: which levers a mix has (`task`).
//!
//! Tested by: `tests/science/balance.rs`.

use std::borrow::Cow;

use crate::material::{Family, Material, Structure};
use crate::mix::dose::most_m3;
use crate::mix::{Part, Totals, blend};
use crate::quantity::{Amount, Extent, Measure, bounds};

/// What a person moves at one go, m3 loose: a garden bucket of 12 L (common practice).
pub(super) const HANDFUL_M3: f64 = 0.012;
/// The same of a liquid, m3: a bottle of 1 L (common practice).
const HANDFUL_OF_LIQUID_M3: f64 = 0.001;
/// The same of a fertiliser or mineral, kg: a scoop of 200 g (common practice).
const HANDFUL_OF_FERTILISER_KG: f64 = 0.2;
/// Weight of effort for what must be fetched first; `tuned`: twice the way.
pub(super) const WEIGHT_OF_FETCHING: f64 = 4.0;
/// Water is measured out by so much, L.
const WATER_GRAIN_L: f64 = 5.0;
/// What a lever moves.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum What {
    /// An ingredient, by row from 0.
    Row(usize),
    /// Added water.
    Water,
    /// A material that is not in the mix.
    Fetched,
}

/// Something whose amount may be moved.
#[derive(Debug, Clone)]
pub(super) struct Lever<'a> {
    pub(super) what: What,
    /// `None`: water.
    pub(super) material: Option<Cow<'a, Material>>,
    /// How it is said.
    pub(super) measure: Measure,
    /// A handful in that measure.
    pub(super) handful: f64,
    /// What a handful brings.
    pub(super) one: Totals,
    /// How much there is, handfuls.
    pub(super) start: f64,
    /// Least and most there may be, handfuls.
    pub(super) range: (f64, f64),
    /// Whether the upper end is a stock.
    pub(super) stock: bool,
    /// Whether the upper end is what a heap takes of it.
    pub(super) dosed: bool,
    /// Weight of its effort.
    pub(super) weight: f64,
    /// Whole measures by which it is measured out.
    pub(super) grain: f64,
}

impl<'a> Lever<'a> {
    /// A handful of a material said in this measure.
    fn of(what: What, material: Cow<'a, Material>, measure: Measure) -> Self {
        let density = material.bulk_density.typical;
        let handful_m3 = match (material.family, material.structure) {
            (Family::Fertiliser | Family::Mineral, _) => HANDFUL_OF_FERTILISER_KG / density,
            (_, Structure::Liquid) => HANDFUL_OF_LIQUID_M3,
            _ => HANDFUL_M3,
        };
        let handful = match measure.one() {
            Extent::VolumeM3(one) => handful_m3 / one,
            Extent::MassKg(one) => handful_m3 * density / one,
        };
        let amount = Amount::new(handful, measure.clone());
        let grain = grain(&measure, &material);
        let part = Part {
            material: Cow::Borrowed(&*material),
            amount: &amount,
        };
        let one = blend(&[part], 0.0).totals;
        Self {
            what,
            material: Some(material),
            grain,
            measure,
            handful,
            one,
            start: 0.0,
            range: (0.0, bounds::AMOUNT.high / handful),
            stock: false,
            dosed: false,
            weight: 1.0,
        }
    }

    /// An ingredient, of which there may be no more than its stock.
    pub(super) fn row(row: usize, part: &Part<'a>, stock: Option<f64>) -> Self {
        let measure = part.amount.measure.clone();
        let mut lever = Self::of(What::Row(row), part.material.clone(), measure);
        lever.start = part.amount.value / lever.handful;
        if let Some(stock) = stock {
            lever.range.1 = lever.range.1.min(stock / lever.handful);
            lever.stock = true;
        }
        lever
    }

    /// A material that would have to be fetched.
    pub(super) fn fetched(material: &'a Material) -> Self {
        let measure = match (material.family, material.structure) {
            (Family::Fertiliser | Family::Mineral, _) => Measure::Gram,
            (_, Structure::Liquid) => Measure::Litre,
            _ => Measure::Bucket,
        };
        Self {
            weight: WEIGHT_OF_FETCHING,
            ..Self::of(What::Fetched, Cow::Borrowed(material), measure)
        }
    }

    /// Most handfuls that a heap of this volume takes of it; `None` where only the gauges set a limit.
    pub(super) fn dose(&self, heap_m3: f64) -> Option<f64> {
        let most_m3 = most_m3(self.material.as_deref()?, heap_m3)?;
        (self.one.loose_volume_m3 > 0.0).then(|| most_m3 / self.one.loose_volume_m3)
    }

    /// Whether a heap of this volume takes so many handfuls, or must keep them.
    pub(super) fn takes(&self, handfuls: f64, heap_m3: f64) -> bool {
        let most = self.dose(heap_m3);
        most.is_none_or(|most| handfuls <= most.max(self.range.0) * (1.0 + 1e-9))
    }

    /// With no more of it than a heap of this volume takes, or than must stay.
    pub(super) fn dosed_for(mut self, heap_m3: f64) -> Self {
        if let Some(most) = self.dose(heap_m3).filter(|most| *most < self.range.1) {
            (self.range.1, self.stock, self.dosed) = (most.max(self.range.0), false, true);
        }
        self
    }

    /// Added water, of which there is so much, L.
    pub(super) fn water(there_l: f64) -> Self {
        let handful_l = 1000.0 * HANDFUL_M3;
        Self {
            what: What::Water,
            material: None,
            measure: Measure::Litre,
            handful: handful_l,
            one: Totals {
                water_kg: handful_l,
                ..Totals::default()
            },
            start: there_l / handful_l,
            range: (0.0, bounds::ADDED_WATER.high / handful_l),
            stock: false,
            dosed: false,
            weight: 1.0,
            grain: WATER_GRAIN_L,
        }
    }
}

/// What is measured out at a time, in the measure itself.
fn grain(measure: &Measure, material: &Material) -> f64 {
    let concentrated = matches!(material.family, Family::Fertiliser | Family::Mineral);
    match measure {
        Measure::Litre if material.structure != Structure::Liquid => 10.0,
        Measure::Gram if concentrated => 20.0,
        Measure::Gram => 100.0,
        Measure::Kilogram | Measure::Pound if concentrated => 0.1,
        _ => 1.0,
    }
}

//! What the gardener does to a heap: an operation, and what it needs to know of covers.
//!
//! In: what was chosen. Out: the same, and what a cover lets through.
//!
//! Not here: when it is done (`repeat`), a plan of it (`plan`), what it does to the cells (`event`).
//!
//! Tested by: `tests/science/plan.rs`, `tests/science/events.rs`.

use serde::{Deserialize, Serialize};

use crate::mix::Mix;
use crate::quantity::{OutOfRange, bounds};

/// Diffusivity of water vapour in air near 25 degC, m2/s.
const VAPOUR_DIFFUSIVITY_M2_PER_S: f64 = 2.5e-5;

/// Permeability of straw laid flat and damp, m2 (tuned, below the 1-2e-8 of tossed straw).
const STRAW_PERMEABILITY_M2: f64 = 4.0e-9;
/// Permeability of a layer of finished compost, m2 (tuned inside 1e-10 to 1e-8 of sieved composts).
const COMPOST_PERMEABILITY_M2: f64 = 5.0e-9;

/// What lies over the top of a heap.
#[derive(Debug, Clone, Copy, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Cover {
    /// Nothing.
    #[default]
    Bare,
    /// A sheet: keeps rain out and most of the steam in.
    Sheet,
    /// Straw: keeps warmth, lets air and most rain through.
    Straw {
        /// Thickness, m.
        thickness_m: f64,
    },
    /// Finished compost: keeps warmth, lets air through, sheds little rain.
    Compost {
        /// Thickness, m.
        thickness_m: f64,
    },
}

impl Cover {
    /// Resistance to heat, m2 K/W: thickness over conductivity (straw 0.06, compost 0.30 W/m K).
    pub fn resistance_m2_k_per_w(self) -> f64 {
        match self {
            Self::Bare => 0.0,
            Self::Sheet => 0.02,
            Self::Straw { thickness_m } => thickness_m / 0.06,
            Self::Compost { thickness_m } => thickness_m / 0.30,
        }
    }

    /// Share of the top that drawn air still passes, 0-1 (tuned, reason not recorded).
    pub fn open_share(self) -> f64 {
        match self {
            Self::Bare => 1.0,
            Self::Sheet => 0.1,
            Self::Straw { .. } => 0.8,
            Self::Compost { .. } => 0.5,
        }
    }

    /// What it adds to the way of steam and oxygen by diffusion, s/m: thickness over diffusivity (vapour in air
    /// 2.5e-5 m2/s near 25 degC, handbook value from memory, times the square of the air space, Buckingham
    /// 1904; air space of laid straw 0.9, of compost 0.5). A sheet is a matter of its open share alone.
    pub fn gas_resistance_s_per_m(self) -> f64 {
        let through = |thickness_m: f64, air_space: f64| {
            thickness_m / (VAPOUR_DIFFUSIVITY_M2_PER_S * air_space * air_space)
        };
        match self {
            Self::Bare | Self::Sheet => 0.0,
            Self::Straw { thickness_m } => through(thickness_m, 0.9),
            Self::Compost { thickness_m } => through(thickness_m, 0.5),
        }
    }

    /// What it adds to the way of drawn air: thickness over permeability, 1/m.
    pub fn flow_resistance_per_m(self) -> f64 {
        match self {
            Self::Bare | Self::Sheet => 0.0,
            Self::Straw { thickness_m } => thickness_m / STRAW_PERMEABILITY_M2,
            Self::Compost { thickness_m } => thickness_m / COMPOST_PERMEABILITY_M2,
        }
    }

    /// Share of the rain that still reaches the heap, 0-1 (tuned, reason not recorded).
    pub fn rain_share(self) -> f64 {
        match self {
            Self::Bare | Self::Compost { .. } => 1.0,
            Self::Straw { .. } => 0.8,
            Self::Sheet => 0.0,
        }
    }

    /// Checks its thickness.
    ///
    /// # Errors
    /// [`OutOfRange`] for a thickness outside [`bounds::COVER_THICKNESS`].
    pub fn check(self) -> Result<(), OutOfRange> {
        match self {
            Self::Straw { thickness_m } | Self::Compost { thickness_m } => {
                bounds::COVER_THICKNESS.check(thickness_m).map(|_| ())
            }
            Self::Bare | Self::Sheet => Ok(()),
        }
    }
}

/// How a heap is turned.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Turning {
    /// Everything mixed through.
    Remix,
    /// Skin to the middle, middle to the outside.
    InsideOut,
}

/// Where added material goes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Placing {
    /// As a layer over what is there.
    OnTop,
    /// Mixed through everything.
    MixedIn,
}

/// One thing done.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Operation {
    /// Turned, and wetted to a moisture if it is drier than that.
    Turn {
        /// How.
        turning: Turning,
        /// Moisture to wet to, wet basis.
        wet_to: Option<f64>,
    },
    /// Watered from above until the mean moisture is this.
    Water {
        /// Moisture to wet to, wet basis.
        wet_to: f64,
    },
    /// So much water poured from above, whatever the moisture.
    Pour {
        /// Water, L.
        litres: f64,
    },
    /// More material.
    Add {
        /// What is added.
        mix: Mix,
        /// Where it goes.
        placing: Placing,
    },
    /// The cover is changed.
    Cover(Cover),
}

impl Operation {
    /// Whether it turns the heap or wets it: what a plan of turnings replaces.
    pub fn turns_or_waters(&self) -> bool {
        matches!(self, Self::Turn { .. }) || self.waters()
    }

    /// Whether it is a watering by itself.
    pub fn waters(&self) -> bool {
        matches!(self, Self::Water { .. } | Self::Pour { .. })
    }
}

//! The outline of a heap as built: round or flat, upright or sloping.
//!
//! In: extent and height. Out: volume, surface, areas and lengths around the middle.
//!
//! Not here: which shapes there are (`shape`), cells (`grid`, `slope`).
//!
//! Tested by: `tests/science/grid.rs`.

use std::f64::consts::{PI, TAU};

/// Round about the axis, or flat and mirrored at the middle plane.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Symmetry {
    /// Turned about the vertical axis.
    Round,
    /// Flat; `extent` is then the half width and everything is per metre of length.
    Flat,
}

/// The outline of a heap as built.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Outline {
    /// Round or flat.
    pub symmetry: Symmetry,
    /// Radius or half width at the foot, m.
    pub extent_m: f64,
    /// Height at the middle, m.
    pub height_m: f64,
    /// Whether the sides are upright (bins) or slope from the middle to the foot (heaps, rows).
    pub upright: bool,
}

impl Outline {
    /// Volume, m3 (half the section, m2, if flat).
    pub fn volume_m3(&self) -> f64 {
        let box_m3 = match self.symmetry {
            Symmetry::Round => PI * self.extent_m * self.extent_m * self.height_m,
            Symmetry::Flat => self.extent_m * self.height_m,
        };
        match (self.upright, self.symmetry) {
            (true, _) => box_m3,
            (false, Symmetry::Round) => box_m3 / 3.0,
            (false, Symmetry::Flat) => box_m3 / 2.0,
        }
    }

    /// Surface without the foot, m2 (m per metre of length if flat).
    pub fn mantle_m2(&self) -> f64 {
        let (r, h) = (self.extent_m, self.height_m);
        match (self.upright, self.symmetry) {
            (true, Symmetry::Round) => PI * r * (2.0 * h + r),
            (true, Symmetry::Flat) => h + r,
            (false, Symmetry::Round) => PI * r * r.hypot(h),
            (false, Symmetry::Flat) => r.hypot(h),
        }
    }
}

impl Symmetry {
    /// Plan area between two distances from the middle, m2 (m per metre of length if flat).
    pub(super) fn plan_m2(self, from: f64, to: f64) -> f64 {
        match self {
            Self::Round => PI * (to * to - from * from),
            Self::Flat => to - from,
        }
    }

    /// Length around at this distance from the middle, m.
    pub(super) fn around_m(self, distance: f64) -> f64 {
        match self {
            Self::Round => TAU * distance,
            Self::Flat => 1.0,
        }
    }
}

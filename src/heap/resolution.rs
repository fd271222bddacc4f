//! How finely a heap is simulated: cells, steps, and what is written down.
//!
//! In: what the answer is for. Out: a [`Resolution`].
//!
//! Not here: how a step is chosen within these limits (`run`).
//!
//! Tested by: `tests/science/heap_convergence.rs`, `tests/science/forecast_band.rs`.

/// How finely to simulate.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Resolution {
    /// Cells outward and upward.
    pub cells: (usize, usize),
    /// Longest step, h.
    pub step_hours: f64,
    /// Change of temperature that a step aims at, K; three times as much is redone.
    pub change_k: f64,
    /// How much the change of a cell at the side or the top counts toward it, 0-1: day and night move it without end.
    pub skin_weight: f64,
    /// Time between refreshes of what changes slowly, h.
    pub refresh_hours: f64,
    /// Passes of Newton's method for oxygen per step.
    pub oxygen_passes: usize,
    /// Time between records, h.
    pub record_hours: f64,
    /// Time between fields, h; `None` keeps no fields and follows no parcels.
    pub field_hours: Option<f64>,
    /// For checks of the kinetics: nothing crosses the skin, and the pores always hold open air.
    pub isolated: bool,
}

impl Resolution {
    /// For every frame while something is dragged: 8 by 10 cells, steps up to 12 h.
    pub const fn coarse() -> Self {
        Self {
            cells: (8, 10),
            step_hours: 12.0,
            change_k: 4.0,
            skin_weight: 0.5,
            refresh_hours: 12.0,
            oxygen_passes: 1,
            record_hours: 3.0,
            field_hours: Some(12.0),
            isolated: false,
        }
    }

    /// For a member of an ensemble: the cells and steps of [`Resolution::coarse`], a field a day for its parcels.
    pub const fn member() -> Self {
        Self {
            field_hours: Some(24.0),
            record_hours: 12.0,
            ..Self::coarse()
        }
    }

    /// When the hand rests: 12 by 16 cells, steps up to 6 h.
    pub const fn fine() -> Self {
        Self {
            cells: (12, 16),
            step_hours: 6.0,
            change_k: 1.5,
            skin_weight: 0.5,
            refresh_hours: 6.0,
            oxygen_passes: 1,
            record_hours: 3.0,
            field_hours: Some(6.0),
            isolated: false,
        }
    }
}

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
    /// For every frame while something is dragged: 8 by 8 cells, steps up to 6 h.
    pub const fn coarse() -> Self {
        Self {
            cells: (8, 8),
            step_hours: 6.0,
            change_k: 3.0,
            skin_weight: 1.0,
            refresh_hours: 12.0,
            oxygen_passes: 1,
            record_hours: 3.0,
            field_hours: Some(12.0),
            isolated: false,
        }
    }

    /// For a member of an ensemble: 6 by 8 cells, a field a day for its parcels. Three quarters of the time of 8 by 8 cells; the
    /// band of an ensemble lies as near to that of fine members (0.4-1.7 K, root mean square).
    pub const fn member() -> Self {
        Self {
            cells: (6, 8),
            field_hours: Some(24.0),
            record_hours: 12.0,
            ..Self::coarse()
        }
    }

    /// When the hand rests: 16 by 16 cells, steps up to 3 h.
    pub const fn fine() -> Self {
        Self {
            cells: (16, 16),
            step_hours: 3.0,
            change_k: 1.0,
            skin_weight: 1.0,
            refresh_hours: 6.0,
            oxygen_passes: 1,
            record_hours: 3.0,
            field_hours: Some(6.0),
            isolated: false,
        }
    }
}

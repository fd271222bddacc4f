//! Ammonia: mineral nitrogen that leaves the water as gas and moves with the air.
//!
//! In: mineral nitrogen, volatility, flows. Out: nitrogen that left each cell and the heap.
//!
//! Carried like vapour, upwind and by diffusion. The amount that drives the flux is the one left after
//! this step's own outflow (implicit in the cell), so no cell goes below zero.
//!
//! Not here: how much of the mineral nitrogen is free to leave (`rot`, looked up in `run`).
//!
//! Tested by: `tests/science/ledgers.rs`.

use super::grid::Grid;
use super::transport::Carriers;

/// Scratch of the ammonia step.
#[derive(Debug, Clone)]
pub struct Ammonia {
    /// Nitrogen that left each cell over the step, kg.
    pub out_kg: Vec<f64>,
    gas: Vec<f64>,
    leaving: Vec<f64>,
}

impl Ammonia {
    /// Scratch over this grid.
    pub fn new(len: usize) -> Self {
        Self {
            out_kg: vec![0.0; len],
            gas: vec![0.0; len],
            leaving: vec![0.0; len],
        }
    }

    /// One step; gives the nitrogen that left the heap, kg.
    ///
    /// `volatility`: nitrogen per kg of pore air over nitrogen per m3 as built; `mineral` kg/m3.
    pub fn step(
        &mut self,
        grid: &Grid,
        dt: f64,
        carriers: &Carriers<'_>,
        volatility: &[f64],
        mineral: &[f64],
    ) -> f64 {
        let stride = grid.stride;
        let (fo, fu) = (carriers.flow.outward, carriers.flow.upward);
        let (go, gu) = (carriers.diffusion.outward, carriers.diffusion.upward);
        for c in stride..grid.len - stride {
            self.leaving[c] = fo[c].max(0.0)
                + (-fo[c - 1]).max(0.0)
                + fu[c].max(0.0)
                + (-fu[c - stride]).max(0.0)
                + go[c]
                + go[c - 1]
                + gu[c]
                + gu[c - stride];
        }
        let outside = grid
            .exposed
            .iter()
            .zip(carriers.flow.exposed)
            .zip(carriers.diffusion.exposed);
        for ((face, flow), diffusion) in outside.clone() {
            self.leaving[face.cell] += flow.max(0.0) + diffusion;
        }
        for c in stride..grid.len - stride {
            let v = grid.volume_m3[c];
            self.gas[c] = if v > 0.0 {
                volatility[c] * mineral[c] / (1.0 + dt * self.leaving[c] * volatility[c] / v)
            } else {
                0.0
            };
            self.out_kg[c] = dt * self.leaving[c] * self.gas[c];
        }
        for a in stride..grid.len - stride {
            let (outward, back) = (
                (fo[a].max(0.0) + go[a]) * self.gas[a],
                ((-fo[a]).max(0.0) + go[a]) * self.gas[a + 1],
            );
            self.out_kg[a + 1] -= dt * outward;
            self.out_kg[a] -= dt * back;
            let above = a + stride;
            let (up, down) = (
                (fu[a].max(0.0) + gu[a]) * self.gas[a],
                ((-fu[a]).max(0.0) + gu[a]) * self.gas[above],
            );
            self.out_kg[above] -= dt * up;
            self.out_kg[a] -= dt * down;
        }
        outside
            .map(|((face, flow), diffusion)| dt * (flow.max(0.0) + diffusion) * self.gas[face.cell])
            .sum()
    }
}

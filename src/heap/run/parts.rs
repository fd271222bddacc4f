//! What a run holds: the heap, how finely to work, the tables, the working memory, the length of the next step.
//!
//! In: a body and a resolution. Out: a [`Run`].
//!
//! Not here: what is done with them (`refresh`, `look_up`, `attempt`, `take`, `clock`).
//!
//! Tested by: `tests/science/ledgers.rs`, `tests/science/events.rs`.

use crate::heap::airflow::Airflow;
use crate::heap::body::Body;
use crate::heap::event::Cells;
use crate::heap::grid::OnFaces;
use crate::heap::outside::{self, Sun, Weather};
use crate::heap::resolution::Resolution;
use crate::heap::rot::Rates;
use crate::heap::tables::Tables;
use crate::heap::transport::{Carriers, Transport};

use super::scratch::Scratch;

/// Seconds in a day.
pub(super) const SECONDS_PER_DAY: f64 = 86_400.0;
/// Step after the start and after every operation, s (tuned, reason not recorded).
const FIRST_STEP_S: f64 = 600.0;
/// A step is tried again if the change is more than this many times the one aimed at (tuned, reason not recorded).
pub(super) const REDONE_BEYOND: f64 = 3.0;

/// A run under way.
pub(super) struct Run<'a> {
    /// The heap.
    pub(super) body: Body<'a>,
    /// How finely to work.
    pub(super) resolution: Resolution,
    /// Functions of temperature.
    pub(super) tables: Tables,
    /// Working memory over the present grid.
    pub(super) scratch: Scratch,
    /// Day of the next refresh of what changes slowly.
    pub(super) next_refresh: f64,
    /// Time between refreshes at present, d.
    pub(super) refresh_days: f64,
    /// Length of the next step if nothing stands in its way, s.
    pub(super) step_s: f64,
}

impl<'a> Run<'a> {
    /// A run that begins with this heap.
    pub(super) fn new(body: Body<'a>, resolution: &Resolution) -> Self {
        let mut scratch = Scratch::new(&body.grid, resolution.skin_weight);
        scratch.dressed = outside::dress(&body.grid, &body.skin, body.cover);
        Self {
            resolution: *resolution,
            tables: Tables::new(body.kinetics.cardinal_c),
            scratch,
            next_refresh: 0.0,
            refresh_days: resolution.refresh_hours / 24.0,
            step_s: FIRST_STEP_S,
            body,
        }
    }

    /// Begins afresh after an operation, on new working memory if the cells are others.
    pub(super) fn begin_afresh(&mut self, cells: Cells) {
        match cells {
            Cells::New => {
                self.scratch = Scratch::new(&self.body.grid, self.resolution.skin_weight);
            }
            Cells::Kept => {}
        }
        self.body.properties.break_trend();
        let body = &self.body;
        self.scratch.dressed = outside::dress(&body.grid, &body.skin, body.cover);
        self.scratch.last_rates.fill(Rates::default());
        self.scratch.last_growth.fill(0.0);
        self.step_s = FIRST_STEP_S;
        self.refresh_days = self.resolution.refresh_hours / 24.0;
    }

    /// Weather over `days` from the present moment.
    pub(super) fn weather(&self, days: f64) -> Weather {
        let heap = self.body.heap;
        let from = self.body.day_of_year();
        outside::weather(&heap.climate, Sun::on(heap), from, from + days)
    }
}

/// What carries gases through the faces of the grid.
pub(super) fn carriers<'a>(
    airflow: &'a Airflow,
    transport: &'a Transport,
    exposed_diffusion: &'a [f64],
) -> Carriers<'a> {
    Carriers {
        flow: OnFaces {
            outward: &airflow.outward,
            upward: &airflow.upward,
            exposed: &airflow.exposed,
        },
        diffusion: OnFaces {
            outward: &transport.outward.diffusion,
            upward: &transport.upward.diffusion,
            exposed: exposed_diffusion,
        },
    }
}

//! The body: a heap as it stands at one moment of a run.
//!
//! In: the sums of a mix and a heap. Out: the cells with what fills them, the ground below, the cover, the day and
//! the ledger so far: all that operations change and that the recorder reads.
//!
//! Not here: working memory of the solvers (`run::scratch`), sums and entries of the ledger (`books`), what
//! changes the body (`run`, `event`, `addition`).
//!
//! Tested by: `tests/science/events.rs`, `tests/science/ledgers.rs`, `tests/science/heap_cases.rs`.

use crate::mix::Totals;

use super::cell::{Fresh, Matter, Properties, State};
use super::design::Heap;
use super::grid::Grid;
use super::ice::Wet;
use super::operation::Cover;
use super::outside::Ground;
use super::plan::Addition;
use super::projection::Ledger;
use super::rot::Kinetics;
use super::shape::Skin;

/// Carbon in organic matter where a mix does not tell, kg/kg (common practice; plant matter 0.45-0.50).
const CARBON_SHARE_USUAL: f64 = 0.47;

/// A heap at one moment of a run. Cells are counted as in [`Grid`].
pub(super) struct Body<'a> {
    /// Shape, place, season and plan.
    pub(super) heap: &'a Heap,
    /// Rates of rot.
    pub(super) kinetics: Kinetics,
    /// Most cells outward and upward, for a heap that is laid out anew.
    pub(super) most_cells: (usize, usize),
    /// Carbon in organic matter, kg/kg; the same for everything the run ever holds.
    pub(super) carbon_share: f64,
    /// The cells.
    pub(super) grid: Grid,
    /// Outline and walls at its present layout.
    pub(super) skin: Skin,
    /// What changes from step to step.
    pub(super) state: State,
    /// What changes with operations only.
    pub(super) matter: Matter,
    /// What follows from both and is refreshed twice a day.
    pub(super) properties: Properties,
    /// Dry air in the pores of each cell, kg; refreshed with the properties.
    pub(super) pore_air_kg: Vec<f64>,
    /// Oxygen that arrived in each cell and is neither used nor in the pores yet, kg.
    pub(super) carried_oxygen_kg: Vec<f64>,
    /// The ground below.
    pub(super) ground: Ground,
    /// What lies over it.
    pub(super) cover: Cover,
    /// Snow on each exposed face, kg/m2.
    pub(super) snow_kg_per_m2: Vec<f64>,
    /// Days since it was built.
    pub(super) day: f64,
    /// Day from which its packing counts as having settled.
    pub(super) packed_since: f64,
    /// What came and went so far.
    pub(super) ledger: Ledger,
    /// Carbon that would have been oxidised with ample oxygen, kg.
    pub(super) wanted_carbon_kg: f64,
}

impl<'a> Body<'a> {
    /// A heap just built of `first`. `later` are the sums of what the plan adds: they count for the carbon in
    /// organic matter.
    pub(super) fn new(
        first: &Totals,
        later: &[Addition],
        heap: &'a Heap,
        kinetics: &Kinetics,
        most_cells: (usize, usize),
    ) -> Self {
        let volume = first.volume_m3();
        let skin = heap.shape.skin(volume);
        let grid = Grid::of_heap(&skin.outline, most_cells);
        let carbon_share = carbon_share(&heap.plan.whole(first, later));
        let fresh = Fresh::new(first, volume, kinetics);
        let fresh_c = heap.fresh_temperature_c(0.0);
        let (mut state, mut matter) = (State::empty(grid.len), Matter::empty(grid.len));
        for c in grid.cells() {
            matter.fill(&mut state, c, &fresh, fresh_c, carbon_share);
        }
        Self {
            heap,
            kinetics: *kinetics,
            most_cells,
            carbon_share,
            skin,
            properties: Properties::new(grid.len),
            pore_air_kg: vec![0.0; grid.len],
            carried_oxygen_kg: vec![0.0; grid.len],
            ground: Ground::new(
                &grid,
                heap.base,
                &heap.climate,
                heap.start_day_of_year - 1.0,
            ),
            cover: heap.cover,
            snow_kg_per_m2: vec![0.0; grid.exposed.len()],
            day: 0.0,
            packed_since: 0.0,
            ledger: Ledger::default(),
            wanted_carbon_kg: 0.0,
            grid,
            state,
            matter,
        }
    }

    /// Lays the heap out anew on another grid, on ground of this temperature, swept of snow. Properties and pore air are not
    /// known until they are refreshed.
    pub(super) fn lay_out(&mut self, layout: Layout, ground_c: f64) {
        let Layout {
            grid,
            skin,
            state,
            matter,
        } = layout;
        self.properties = Properties::new(grid.len);
        self.pore_air_kg = vec![0.0; grid.len];
        self.carried_oxygen_kg = vec![0.0; grid.len];
        let day_of_year = self.day_of_year();
        self.ground = Ground::new(&grid, self.heap.base, &self.heap.climate, day_of_year);
        self.ground.node_c.fill(ground_c);
        self.snow_kg_per_m2 = vec![0.0; grid.exposed.len()];
        self.packed_since = self.day;
        self.grid = grid;
        self.skin = skin;
        self.state = state;
        self.matter = matter;
    }

    /// Days since the first midnight of the year in which it was built.
    pub(super) fn day_of_year(&self) -> f64 {
        self.heap.start_day_of_year - 1.0 + self.day
    }

    /// Dry matter of cell `c`, kg per m3 as built.
    pub(super) fn dry(&self, c: usize) -> f64 {
        self.matter.dry(&self.state, c, self.carbon_share)
    }

    /// Solids and water of cell `c`, kg per m3 as built.
    pub(super) fn wet(&self, c: usize) -> Wet {
        Wet {
            dry: self.dry(c),
            water: self.state.water[c],
        }
    }

    /// Water, or ice, of this enthalpy (J/kg) into a cell; less than nothing takes some out.
    pub(super) fn pour(&mut self, c: usize, kg: f64, enthalpy_j_per_kg: f64) {
        let volume = self.grid.volume_m3[c];
        let before = self.wet(c);
        let after = Wet {
            water: before.water + kg / volume,
            ..before
        };
        let held = before.enthalpy(self.state.temperature[c]);
        self.state.temperature[c] = after.temperature(held + kg / volume * enthalpy_j_per_kg);
        self.state.water[c] = after.water;
    }
}

/// A grid with what fills it.
pub(super) struct Layout {
    /// The cells.
    pub(super) grid: Grid,
    /// Outline and walls.
    pub(super) skin: Skin,
    /// What changes from step to step.
    pub(super) state: State,
    /// What changes with operations only.
    pub(super) matter: Matter,
}

/// Carbon in the organic matter of everything that a run ever holds, kg/kg.
fn carbon_share(whole: &Totals) -> f64 {
    let (carbon, organic) = (whole.carbon_kg, whole.volatile_solids_kg());
    if carbon > 0.0 && organic > 0.0 {
        carbon / organic
    } else {
        CARBON_SHARE_USUAL
    }
}

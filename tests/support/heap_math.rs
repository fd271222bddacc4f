//! Formulas and grids that only the tests need, as references and for even cells.

use heapwright::heap::grid::{Grid, Outline};
use heapwright::heap::rot::{OXYGEN_IN_AIR, ammonia_pka};
use heapwright::heap::{Projection, longest_spell};

/// Oxygen response, 0-1, 1 in open air (Monod, scaled to open air).
pub fn oxygen_factor(oxygen: f64, half_oxygen: f64) -> f64 {
    oxygen / (half_oxygen + oxygen) * (1.0 + half_oxygen / OXYGEN_IN_AIR)
}

/// Ammonia nitrogen in pore gas, kg per m3 of gas, over water with this much mineral nitrogen (kg/kg).
///
/// Written out apart from the tables of a run: partition liquid to gas `10^(-1.69 + 1477.7 / T)`.
pub fn ammonia_in_gas_kg_per_m3(nitrogen_per_water: f64, temperature_c: f64, ph: f64) -> f64 {
    let kelvin = temperature_c + 273.15;
    let free = 1.0 / (1.0 + 10f64.powf(ammonia_pka(temperature_c) - ph));
    nitrogen_per_water * 1000.0 * free / 10f64.powf(-1.69 + 1477.7 / kelvin)
}

/// A grid of equal cells.
pub fn uniform(outline: &Outline, across: usize, up: usize) -> Grid {
    let even = |length: f64, cells: usize| {
        (0..=cells)
            .map(|i| length * i as f64 / cells as f64)
            .collect()
    };
    Grid::from_edges(
        outline,
        even(outline.extent_m, across),
        even(outline.height_m, up),
    )
}

/// Share of the heap that had at least `days` in a row at or above `limit_c`, by parcels, 0-1.
pub fn share_held(projection: &Projection, limit_c: f64, days: f64) -> f64 {
    assert!(!projection.parcels.is_empty(), "no parcels were followed");
    let held = projection
        .parcels
        .iter()
        .filter(|parcel| longest_spell(&projection.parcel_history(parcel), limit_c) >= days);
    held.count() as f64 / projection.parcels.len() as f64
}

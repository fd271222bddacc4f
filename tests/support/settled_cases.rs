//! Sixteen heaps whose settled curves are kept in `tests/reference/settled.csv`: eight by which the numerics were tuned,
//! eight that no setting was picked by.
//!
//! The curves are this program's own, on 48 by 48 cells in short steps (`UPDATE_SETTLED=1 cargo bench --bench frontier`),
//! so they say how far a quick run is from the equations, not how far the equations are from a heap.

use heapwright::heap::{Board, Climate, Heap, Lid, Projection, Resolution, Shape};
use heapwright::mix::Totals;

use super::heaps::{
    FOOD, GOOD, GRASS, LEAVES, Recipe, closed_bin, even_climate, mesh_cube, place, row, turned,
};

/// Whether a case was looked at while the numerics were tuned.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Use {
    /// Settings were picked by it.
    Tuned,
    /// Kept aside.
    KeptAside,
}

/// A heap with a settled curve.
pub struct Settled {
    /// Its name in the table of curves.
    pub name: &'static str,
    /// What it was used for.
    pub used: Use,
    /// What is in it.
    pub totals: Totals,
    /// Where it stands.
    pub heap: Heap,
}

/// The same mix in another volume, m3.
fn of(recipe: Recipe, volume_m3: f64) -> Totals {
    Recipe {
        volume_m3,
        ..recipe
    }
    .totals()
}

/// All of them; every heap runs for 120 days.
pub fn all() -> Vec<Settled> {
    let mut cases = tuned_by();
    cases.extend(kept_aside());
    cases
}

fn tuned_by() -> Vec<Settled> {
    let case = |name, totals, heap| Settled {
        name,
        used: Use::Tuned,
        totals,
        heap,
    };
    let open = |volume| mesh_cube(volume, 15.0);
    let turned_thrice = Heap {
        plan: turned(&[7.0, 14.0, 28.0], None),
        ..open(1.0)
    };
    vec![
        case("mesh", GOOD.totals(), open(1.0)),
        case("closed", of(GOOD, 0.3), closed_bin(0.3, 15.0)),
        case("cone", GOOD.totals(), place(Shape::OpenHeap, 15.0)),
        case("row", of(GOOD, 6.0), row(6.0, 2.0, 15.0)),
        case("leaves", LEAVES.totals(), open(1.0)),
        case("wet", GOOD.wetted_to(0.70).totals(), open(1.0)),
        case("grass", GRASS.totals(), open(1.0)),
        case("turned", GOOD.totals(), turned_thrice),
    ]
}

fn kept_aside() -> Vec<Settled> {
    let case = |name, totals, heap| Settled {
        name,
        used: Use::KeptAside,
        totals,
        heap,
    };
    let slats = Shape::bay(1.2);
    let winter = Heap {
        start_temperature_c: Some(8.0),
        start_day_of_year: 330.0,
        ..mesh_cube(1.0, 3.0)
    };
    let windy = Heap {
        climate: Climate {
            wind_m_per_s: 4.0,
            daily_swing_k: 12.0,
            ..even_climate(12.0)
        },
        in_sun: true,
        ..mesh_cube(0.5, 12.0)
    };
    let insulated = place(
        Shape::SolidBin {
            width_m: 0.6,
            length_m: 0.6,
            height_m: 0.8,
            lid: Lid::Closed,
            board: Board::Insulated,
        },
        10.0,
    );
    let lean = Recipe { cn: 45.0, ..GOOD };
    let large = place(Shape::OpenHeap, 10.0);
    vec![
        case("food", FOOD.totals(), closed_bin(0.2, 15.0)),
        case("slats", of(GOOD, 1.7), place(slats, 10.0)),
        case("winter", GOOD.totals(), winter),
        case("windy", of(GOOD, 0.5), windy),
        case("insulated", of(GOOD.wetted_to(0.64), 0.28), insulated),
        case("lean", of(lean, 2.0), mesh_cube(2.0, 15.0)),
        case("large cone", of(GOOD.wetted_to(0.62), 4.0), large),
        case("leafy row", of(LEAVES, 10.0), row(10.0, 2.5, 8.0)),
    ]
}

/// A run that leaves next to nothing to shorter steps, on so many cells each way.
pub fn settling(cells: usize) -> Resolution {
    Resolution {
        cells: (cells, cells),
        step_hours: 0.75,
        change_k: 0.25,
        skin_weight: 1.0,
        refresh_hours: 1.5,
        oxygen_passes: 3,
        field_hours: None,
        ..Resolution::fine()
    }
}

/// Days at which the curves are kept: twice a day, and never at a turning.
pub fn days() -> impl Iterator<Item = f64> {
    (0..240).map(|half| 0.25 + 0.5 * f64::from(half))
}

/// Temperature of the centre on [`days`], degC; straight between records.
pub fn curve(p: &Projection) -> Vec<f64> {
    days()
        .map(|day| {
            let after = p.records.partition_point(|r| r.day < day);
            let after = after.clamp(1, p.records.len() - 1);
            let (a, b) = (&p.records[after - 1], &p.records[after]);
            let share = ((day - a.day) / (b.day - a.day)).clamp(0.0, 1.0);
            a.centre_c * (1.0 - share) + b.centre_c * share
        })
        .collect()
}

/// The kept curve of a case, degC; empty if there is none.
pub fn kept(name: &str) -> Vec<f64> {
    let mut lines = include_str!("../reference/settled.csv")
        .lines()
        .filter(|line| !line.starts_with('#'));
    let header = lines.next().unwrap_or_default();
    let Some(column) = header.split(',').position(|title| title == name) else {
        return Vec::new();
    };
    lines
        .filter_map(|line| line.split(',').nth(column)?.parse().ok())
        .collect()
}

/// Root mean square of the difference of two curves, K.
pub fn apart_k(a: &[f64], b: &[f64]) -> f64 {
    let square: f64 = a.iter().zip(b).map(|(a, b)| (a - b).powi(2)).sum();
    (square / a.len() as f64).sqrt()
}

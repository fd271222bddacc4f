//! Values at a place of a projection: of fields whose values are known by hand.

use heapwright::heap::{Place, Resolution, SectionValue};

use crate::support::heaps::{GOOD, LEAVES, mesh_cube, place, project_with};
use heapwright::heap::Shape;

/// The value at the middle of a cell at the time of a field is that of the cell; between two, their mean.
#[test]
fn values_are_those_of_cells_and_straight_between_them() {
    for (totals, heap) in [
        (GOOD.totals(), mesh_cube(1.0, 15.0)),
        (LEAVES.totals(), place(Shape::OpenHeap, 15.0)),
    ] {
        let p = project_with(&totals, &heap, &Resolution::coarse()).unwrap();
        let (field, next) = (&p.fields[6], &p.fields[7]);
        let grid = &p.grids[0];
        let top = grid.edges_up_m.last().unwrap();
        let middle = |edges: &[f64], i: usize| 0.5 * (edges[i] + edges[i + 1]);
        for (i, &(column, row)) in grid.places.iter().enumerate() {
            let of_row = grid.places.iter().filter(|p| p.1 == row).map(|p| p.0).max();
            let reach = grid.edges_across_m[of_row.unwrap() + 1];
            let at = Place {
                out: middle(&grid.edges_across_m, column) / reach,
                up: middle(&grid.edges_up_m, row) / top,
            };
            let value = |day| p.value_at(SectionValue::Temperature, at, day).unwrap();
            let (a, b) = (
                f64::from(field.temperature_c[i]),
                f64::from(next.temperature_c[i]),
            );
            assert!((value(field.day) - a).abs() < 1e-6, "{column} {row}");
            let between = value(0.5 * (field.day + next.day));
            assert!((between - 0.5 * (a + b)).abs() < 1e-6, "{column} {row}");
        }
        // The middle is that of the run's own record of it, as near as half a cell.
        let record = p.at(10.0).unwrap();
        let up = if grid.places.iter().filter(|p| p.1 == 0).count()
            == grid.places.iter().filter(|p| p.1 == 7).count()
        {
            0.5
        } else {
            0.33
        };
        let centre = p.value_at(
            SectionValue::Temperature,
            Place { out: 0.0, up },
            record.day,
        );
        assert!(
            (centre.unwrap() - record.centre_c).abs() < 1.0,
            "{centre:?} {}",
            record.centre_c
        );
        // Nothing beyond the run, before it, or at no place.
        let middle = Place { out: 0.0, up: 0.5 };
        assert!(p.value_at(SectionValue::Oxygen, middle, -0.1).is_none());
        assert!(p.value_at(SectionValue::Oxygen, middle, 1e4).is_none());
        let nowhere = Place {
            out: f64::NAN,
            up: 0.5,
        };
        assert!(p.value_at(SectionValue::Moisture, nowhere, 1.0).is_none());
        // It sinks, and is never higher than it was built.
        let heights: Vec<f64> = [0.0, 5.0, 30.0]
            .map(|day| p.height_m(day).unwrap())
            .to_vec();
        assert!(
            heights[0] <= top + 1e-9 && heights[0] > 0.9 * top,
            "{heights:?}"
        );
        assert!(
            heights[0] > heights[1] && heights[1] > heights[2],
            "{heights:?}"
        );
    }
}

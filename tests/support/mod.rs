//! Shared by the tests: canonical heaps, vectors from outside, tolerances.

pub mod balance_cases;
pub mod envelope;
pub mod garden;
pub mod heap_math;
pub mod heaps;
pub mod integrate;
pub mod materials;
pub mod published;
pub mod stated_misses;
pub mod well_mixed;

use heapwright::heap::{Kinetics, Projection, Record};
use heapwright::outcome::flask::breathing_per_day;

/// Rows of a vector file, by column name. Lines that begin with `#` name its source.
pub struct Vectors {
    header: csv::StringRecord,
    rows: Vec<csv::StringRecord>,
}

impl Vectors {
    /// Reads a vector file given as text.
    pub fn read(text: &str) -> Self {
        let mut reader = csv::ReaderBuilder::new()
            .comment(Some(b'#'))
            .from_reader(text.as_bytes());
        let header = reader.headers().unwrap().clone();
        let rows: Vec<_> = reader.records().map(Result::unwrap).collect();
        assert!(
            !rows.is_empty(),
            "a vector file without rows checks nothing"
        );
        Self { header, rows }
    }

    /// Number of rows.
    pub fn len(&self) -> usize {
        self.rows.len()
    }

    /// Text of a column in a row.
    pub fn text(&self, row: usize, column: &str) -> &str {
        let at = self
            .header
            .iter()
            .position(|name| name == column)
            .unwrap_or_else(|| panic!("no column {column}"));
        &self.rows[row][at]
    }

    /// Number in a column of a row.
    pub fn number(&self, row: usize, column: &str) -> f64 {
        self.text(row, column).parse().unwrap()
    }
}

/// Fails unless `got` lies within `relative` of `wanted`.
#[track_caller]
pub fn close(what: &str, got: f64, wanted: f64, relative: f64) {
    let error = (got - wanted).abs() / wanted.abs().max(1e-12);
    assert!(
        error <= relative,
        "{what}: got {got}, wanted {wanted}, off by {error:.2e} of it"
    );
}

/// Fails unless `got` lies within `band`.
#[track_caller]
pub fn within(what: &str, got: f64, band: std::ops::RangeInclusive<f64>) {
    assert!(band.contains(&got), "{what}: got {got}, wanted {band:?}");
}

/// Conservation of energy and matter; 1e-9 of what is turned over.
#[track_caller]
pub fn closes(name: &str, l: &heapwright::heap::Ledger) {
    let heat = l.heat_start_j + l.heat_made_j
        - l.heat_surface_j
        - l.heat_ground_j
        - l.heat_vapour_j
        - l.heat_drained_j
        - l.heat_end_j;
    assert!(
        heat.abs() < 1e-9 * (l.heat_made_j + l.heat_start_j.abs()),
        "{name}: heat {heat} J"
    );
    let water = l.water_start_kg + l.water_made_kg + l.water_rain_kg
        - l.water_vapour_kg
        - l.water_drained_kg
        - l.water_end_kg;
    assert!(
        water.abs() < 1e-9 * l.water_start_kg,
        "{name}: water {water} kg"
    );
    close(
        &format!("{name}: carbon"),
        l.carbon_end_kg + l.carbon_oxidised_kg,
        l.carbon_start_kg,
        1e-9,
    );
    close(
        &format!("{name}: nitrogen"),
        l.nitrogen_end_kg + l.nitrogen_lost_kg(),
        l.nitrogen_start_kg,
        1e-9,
    );
    close(
        &format!("{name}: oxygen"),
        l.oxygen_used_kg + l.oxygen_stored_kg,
        l.oxygen_supplied_kg,
        1e-9,
    );
    let burnt = l.dry_start_kg - l.dry_end_kg + l.oxygen_used_kg;
    let products = l.carbon_oxidised_kg * 44.0 / 12.0 + l.water_made_kg;
    assert!(
        (products - burnt).abs() < 1e-9 * l.dry_start_kg,
        "{name}: mass {products} {burnt}"
    );
    assert!(l.carbon_oxidised_kg > 0.0, "{name} did nothing");
}

/// Carbon dioxide carbon per organic matter and day below which compost counts as ready, kg/kg d (2 mg/g d, the line
/// between mature and very mature of the California index; from memory).
const READY_PER_DAY: f64 = 0.002;

/// First day from which what is left breathes so little that it counts as ready, until the end of the run; `None` if
/// not within it. A yardstick for published times alone: what the program calls finished is `outcome::finish`.
pub fn ready_day(projection: &Projection) -> Option<f64> {
    let kinetics = Kinetics::default();
    let calm = |record: &&Record| breathing_per_day(record, &kinetics) < READY_PER_DAY;
    let last = projection.records.iter().rev().take_while(calm).last();
    last.map(|record| record.day)
}

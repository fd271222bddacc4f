//! Shared by the tests: canonical heaps, vectors from outside, tolerances.

pub mod envelope;
pub mod heaps;
pub mod integrate;
pub mod materials;
pub mod well_mixed;

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

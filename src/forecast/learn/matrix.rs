//! Small symmetric matrices and their Cholesky factors.
//!
//! In: a [`Square`] of up to a few hundred rows. Out: its [`Lower`] factor, with which systems are solved, deviates made
//! and determinants told.
//!
//! Not here: what the matrices mean (`errors`, `regress`, `proposal`).
//!
//! Tested by: `tests/science/learn_weights.rs` (numpy.linalg, through scipy's multivariate_normal).

/// A square matrix, row by row.
#[derive(Debug, Clone, PartialEq)]
pub struct Square {
    size: usize,
    values: Vec<f64>,
}

impl Square {
    /// All zero.
    pub fn zero(size: usize) -> Self {
        Self {
            size,
            values: vec![0.0; size * size],
        }
    }

    /// One on the diagonal.
    pub fn unit(size: usize) -> Self {
        let mut unit = Self::zero(size);
        for i in 0..size {
            *unit.at(i, i) = 1.0;
        }
        unit
    }

    /// Rows and columns.
    pub fn size(&self) -> usize {
        self.size
    }

    /// A value.
    pub fn get(&self, row: usize, column: usize) -> f64 {
        self.values[row * self.size + column]
    }

    /// A value to be set.
    pub fn at(&mut self, row: usize, column: usize) -> &mut f64 {
        &mut self.values[row * self.size + column]
    }

    /// Times a number.
    #[must_use]
    pub fn scaled(mut self, factor: f64) -> Self {
        for value in &mut self.values {
            *value *= factor;
        }
        self
    }

    /// The lower Cholesky factor; `None` if it is not positive definite.
    pub fn lower(&self) -> Option<Lower> {
        let n = self.size;
        let mut l = vec![0.0; n * n];
        for i in 0..n {
            for j in 0..=i {
                let dot: f64 = l[i * n..i * n + j]
                    .iter()
                    .zip(&l[j * n..j * n + j])
                    .map(|(a, b)| a * b)
                    .sum();
                let rest = self.get(i, j) - dot;
                l[i * n + j] = if i == j {
                    // NaN fails as well.
                    if rest.is_nan() || rest <= 0.0 {
                        return None;
                    }
                    rest.sqrt()
                } else {
                    rest / l[j * n + j]
                };
            }
        }
        Some(Lower { size: n, values: l })
    }

    /// Its inverse; `None` if it is not positive definite.
    pub fn inverse(&self) -> Option<Self> {
        let factor = self.lower()?;
        let mut inverse = Self::zero(self.size);
        for column in 0..self.size {
            let mut unit = vec![0.0; self.size];
            unit[column] = 1.0;
            for (row, value) in factor.solved(&unit).into_iter().enumerate() {
                *inverse.at(row, column) = value;
            }
        }
        Some(inverse)
    }
}

/// The lower factor of a positive definite matrix: the matrix is this times its transpose.
#[derive(Debug, Clone, PartialEq)]
pub struct Lower {
    size: usize,
    values: Vec<f64>,
}

impl Lower {
    fn row(&self, row: usize) -> &[f64] {
        &self.values[row * self.size..row * self.size + row + 1]
    }

    /// Logarithm of the determinant of the matrix.
    pub fn log_determinant(&self) -> f64 {
        let diagonal = (0..self.size).map(|i| self.values[i * self.size + i].ln());
        2.0 * diagonal.sum::<f64>()
    }

    /// The factor times a vector: deviates with the covariance of the matrix, of independent ones.
    pub fn times(&self, vector: &[f64]) -> Vec<f64> {
        let dot = |row: &[f64]| row.iter().zip(vector).map(|(a, b)| a * b).sum();
        (0..self.size).map(|i| dot(self.row(i))).collect()
    }

    /// Independent deviates of a vector with the covariance of the matrix.
    pub fn whitened(&self, vector: &[f64]) -> Vec<f64> {
        let mut white = Vec::with_capacity(self.size);
        for (i, value) in vector.iter().enumerate().take(self.size) {
            let row = self.row(i);
            let dot: f64 = row.iter().zip(&white).map(|(a, b): (_, &f64)| a * b).sum();
            white.push((value - dot) / row[i]);
        }
        white
    }

    /// What the matrix turns into this vector.
    pub fn solved(&self, vector: &[f64]) -> Vec<f64> {
        let mut x = self.whitened(vector);
        for i in (0..self.size).rev() {
            let later: f64 = (i + 1..self.size)
                .map(|k| self.values[k * self.size + i] * x[k])
                .sum();
            x[i] = (x[i] - later) / self.values[i * self.size + i];
        }
        x
    }

    /// Logarithm of the normal density of a deviation, with the matrix as covariance.
    pub fn log_density(&self, deviation: &[f64]) -> f64 {
        let squares: f64 = self.whitened(deviation).iter().map(|z| z * z).sum();
        let constant = self.size as f64 * (2.0 * std::f64::consts::PI).ln();
        -0.5 * (squares + self.log_determinant() + constant)
    }
}

//! A quadratic program with a diagonal objective, and its solution.
//!
//! In: `minimise sum(q v^2) + sum(l v)` under `a . v + c >= 0` for every row. Out: the best `v` and a
//! price for each row, or that there is none. The only file that names the solver.
//!
//! The solver is an interior-point method over the cone of non-negative slacks. What it calls solved
//! is put into the rows again before it counts.
//! Not here: what the variables and rows mean (`task`).
//!
//! Tested by: `tests/science/balance.rs`.

use clarabel::algebra::CscMatrix;
use clarabel::solver::{
    DefaultSettingsBuilder, DefaultSolver, IPSolver, SolverStatus, SupportedConeT,
};

/// Most by which a row may be broken, of its largest coefficient.
pub(super) const TOLERANCE: f64 = 1e-7;
/// Most steps of the interior-point method; it needs 5 to 25.
const MOST_STEPS: u32 = 100;

/// One row: `coefficients . v + constant >= 0`.
#[derive(Debug, Clone)]
pub(super) struct Row {
    pub(super) coefficients: Vec<f64>,
    pub(super) constant: f64,
}

impl Row {
    /// Divided by its largest coefficient; `None` where no variable has one.
    fn scaled(&self) -> Option<(Self, f64)> {
        let size = self
            .coefficients
            .iter()
            .fold(0.0_f64, |most, c| most.max(c.abs()));
        (size > 0.0 && size.is_finite()).then(|| {
            let row = Self {
                coefficients: self.coefficients.iter().map(|c| c / size).collect(),
                constant: self.constant / size,
            };
            (row, size)
        })
    }

    /// What the row comes to.
    pub(super) fn at(&self, v: &[f64]) -> f64 {
        let moved: f64 = self.coefficients.iter().zip(v).map(|(c, v)| c * v).sum();
        moved + self.constant
    }
}

/// The program.
#[derive(Debug, Clone)]
pub(super) struct Program {
    /// Factor of each variable's square, not negative.
    pub(super) quadratic: Vec<f64>,
    /// Factor of each variable.
    pub(super) linear: Vec<f64>,
    /// The rows.
    pub(super) rows: Vec<Row>,
}

/// A solution.
#[derive(Debug, Clone)]
pub(super) struct Solution {
    /// The variables.
    pub(super) v: Vec<f64>,
    /// What the objective would gain if a row were one unit looser; 0 where it does not bind.
    pub(super) prices: Vec<f64>,
}

impl Program {
    /// The best variables, or `None` where no variables satisfy every row.
    pub(super) fn solve(&self) -> Option<Solution> {
        let count = self.quadratic.len();
        let mut kept = Vec::new();
        for (place, row) in self.rows.iter().enumerate() {
            match row.scaled() {
                Some((scaled, size)) => kept.push((place, scaled, size)),
                None if row.constant < -TOLERANCE => return None,
                None => {}
            }
        }
        let finite = |row: &Row| row.constant.is_finite();
        if count == 0 || !kept.iter().all(|(_, row, _)| finite(row)) {
            return (count == 0).then(|| Solution {
                v: Vec::new(),
                prices: vec![0.0; self.rows.len()],
            });
        }
        let (v, multipliers) = self.by_interior_point(&kept)?;
        let holds = kept.iter().all(|(_, row, _)| {
            let size = row.constant.abs().max(1.0);
            row.at(&v) >= -TOLERANCE * size
        });
        if !holds {
            return None;
        }
        let mut prices = vec![0.0; self.rows.len()];
        for ((place, _, size), multiplier) in kept.iter().zip(multipliers) {
            prices[*place] = multiplier / size;
        }
        Some(Solution { v, prices })
    }

    /// Variables and multipliers as the solver gives them.
    fn by_interior_point(&self, kept: &[(usize, Row, f64)]) -> Option<(Vec<f64>, Vec<f64>)> {
        let count = self.quadratic.len();
        let objective = CscMatrix::new(
            count,
            count,
            (0..=count).collect(),
            (0..count).collect(),
            // The solver halves the square.
            self.quadratic.iter().map(|q| 2.0 * q).collect(),
        );
        // The solver's form is A v + s = b with s >= 0, so A is minus our coefficients.
        let (mut starts, mut places, mut values) = (vec![0], Vec::new(), Vec::new());
        for variable in 0..count {
            for (place, (_, row, _)) in kept.iter().enumerate() {
                let coefficient = row.coefficients[variable];
                if coefficient != 0.0 {
                    places.push(place);
                    values.push(-coefficient);
                }
            }
            starts.push(places.len());
        }
        let matrix = CscMatrix::new(kept.len(), count, starts, places, values);
        let constants: Vec<f64> = kept.iter().map(|(_, row, _)| row.constant).collect();
        let cones = [SupportedConeT::NonnegativeConeT(kept.len())];
        let settings = DefaultSettingsBuilder::default()
            .verbose(false)
            .max_iter(MOST_STEPS)
            .tol_gap_abs(1e-11)
            .tol_gap_rel(1e-11)
            .tol_feas(1e-10)
            .presolve_enable(false)
            .build()
            .ok()?;
        let mut solver = DefaultSolver::new(
            &objective,
            &self.linear,
            &matrix,
            &constants,
            &cones,
            settings,
        )
        .ok()?;
        solver.solve();
        let found = solver.solution;
        // A run that stalls near its end is judged by its rows, like one that reaches it.
        let usable = matches!(
            found.status,
            SolverStatus::Solved | SolverStatus::AlmostSolved | SolverStatus::InsufficientProgress
        );
        let sound = found
            .x
            .iter()
            .chain(&found.z)
            .all(|value| value.is_finite());
        (usable && sound).then_some((found.x, found.z))
    }
}

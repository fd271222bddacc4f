//! A step of the Dormand-Prince 5(4) method with its error estimate.
//!
//! In: a right-hand side, a state, a step. Out: the state after the step and the size of its error
//! against the tolerance.
//!
//! Sums that the right-hand side conserves are conserved to rounding, since each stage is linear in
//! the rates. Source: Dormand and Prince 1980, J. Comput. Appl. Math. 6:19-26 (coefficients as in
//! Hairer, Norsett and Wanner, table II.5.2).
//!
//! Tested by: `tests/science/one_cell.rs` (LSODA).

/// Numbers in the state of the well-mixed heap.
pub const SIZE: usize = 24;
/// A state or its rate of change.
pub type State = [f64; SIZE];

const A: [[f64; 6]; 6] = [
    [1.0 / 5.0, 0.0, 0.0, 0.0, 0.0, 0.0],
    [3.0 / 40.0, 9.0 / 40.0, 0.0, 0.0, 0.0, 0.0],
    [44.0 / 45.0, -56.0 / 15.0, 32.0 / 9.0, 0.0, 0.0, 0.0],
    [
        19372.0 / 6561.0,
        -25360.0 / 2187.0,
        64448.0 / 6561.0,
        -212.0 / 729.0,
        0.0,
        0.0,
    ],
    [
        9017.0 / 3168.0,
        -355.0 / 33.0,
        46732.0 / 5247.0,
        49.0 / 176.0,
        -5103.0 / 18656.0,
        0.0,
    ],
    [
        35.0 / 384.0,
        0.0,
        500.0 / 1113.0,
        125.0 / 192.0,
        -2187.0 / 6784.0,
        11.0 / 84.0,
    ],
];
const C: [f64; 6] = [1.0 / 5.0, 3.0 / 10.0, 4.0 / 5.0, 8.0 / 9.0, 1.0, 1.0];
/// Difference of the fifth- and fourth-order weights.
const E: [f64; 7] = [
    71.0 / 57600.0,
    0.0,
    -71.0 / 16695.0,
    71.0 / 1920.0,
    -17253.0 / 339_200.0,
    22.0 / 525.0,
    -1.0 / 40.0,
];

/// One trial step of size `h` from `(t, y)` with the rate `first` already known there.
///
/// Gives the new state, the rate at its end (the next step's `first`), and the error as a multiple
/// of `scale` (root mean square over the first `checked` numbers).
pub fn trial_step(
    rate: &mut impl FnMut(f64, &State) -> State,
    (t, y, first): (f64, &State, &State),
    h: f64,
    scale: &State,
    checked: usize,
) -> (State, State, f64) {
    let mut k = [*first; 7];
    let mut end = *y;
    for stage in 0..6 {
        end = *y;
        for (before, weight) in A[stage].iter().enumerate().take(stage + 1) {
            for (value, slope) in end.iter_mut().zip(&k[before]) {
                *value += h * weight * slope;
            }
        }
        k[stage + 1] = rate(t + C[stage] * h, &end);
    }
    let square: f64 = (0..checked)
        .map(|i| {
            let error: f64 = k
                .iter()
                .zip(E)
                .map(|(slope, weight)| weight * slope[i])
                .sum();
            (h * error / scale[i]).powi(2)
        })
        .sum();
    (end, k[6], (square / checked as f64).sqrt())
}

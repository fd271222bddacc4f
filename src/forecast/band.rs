//! Quantiles of many curves.
//!
//! In: curves of equal spacing. Out: median and 10-90 % band, point by point.
//!
//! Held against: `tests/science/forecast.rs` (numpy's linear quantile).

/// Median and band of many curves.
#[derive(Debug, Clone, PartialEq)]
pub struct Band {
    /// Days of the points.
    pub days: Vec<f64>,
    /// One in ten lies below, degC.
    pub low_c: Vec<f64>,
    /// Half lie below, degC.
    pub median_c: Vec<f64>,
    /// One in ten lies above, degC.
    pub high_c: Vec<f64>,
}

impl Band {
    /// The band of these curves, as long as the shortest; `None` without a curve.
    pub fn of(curves: &[&[f32]], spacing_days: f64) -> Option<Self> {
        let length = curves.iter().map(|curve| curve.len()).min()?;
        let mut band = Self {
            days: (0..length).map(|i| i as f64 * spacing_days).collect(),
            low_c: Vec::with_capacity(length),
            median_c: Vec::with_capacity(length),
            high_c: Vec::with_capacity(length),
        };
        let mut column = vec![0.0; curves.len()];
        for point in 0..length {
            for (value, curve) in column.iter_mut().zip(curves) {
                *value = f64::from(curve[point]);
            }
            column.sort_by(f64::total_cmp);
            band.low_c.push(quantile(&column, 0.1));
            band.median_c.push(quantile(&column, 0.5));
            band.high_c.push(quantile(&column, 0.9));
        }
        Some(band)
    }
}

/// Quantile of rising values, at least one, straight between them: the value at place `share (n - 1)`
/// (definition 7 of Hyndman and Fan 1996, the default of numpy).
pub fn quantile(rising: &[f64], share: f64) -> f64 {
    let place = share.clamp(0.0, 1.0) * (rising.len() - 1) as f64;
    let below = place.floor() as usize;
    let above = (below + 1).min(rising.len() - 1);
    rising[below] + (place - below as f64) * (rising[above] - rising[below])
}

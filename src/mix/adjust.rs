//! What to add: water, dry material or a partner, in closed form.
//!
//! In: masses and ratios. Out: kilograms to add, or `None` where nothing can reach the target.
//!
//! Formulas are mass balances as printed in extension handbooks (Cornell Composting in Schools,
//! moisture and C/N pages). Not here: several targets at once.
//!
//! Tested by: `tests/science/blend.rs`.

/// Water to add, kg, to bring `wet_kg` at `moisture` to `target` (wet basis, below 1).
///
/// `W = Q (M2 - M1) / (1 - M2)`; 0 if it is wet enough already.
pub fn water_to_add_kg(wet_kg: f64, moisture: f64, target: f64) -> f64 {
    (wet_kg * (target - moisture) / (1.0 - target)).max(0.0)
}

/// Dry material to add, kg as it is, to bring `wet_kg` at `moisture` down to `target`.
///
/// `Q2 = Q1 (M1 - M) / (M - M2)`; 0 if it is dry enough already, `None` if the material
/// (`material_moisture`) is itself no drier than the target.
pub fn dry_material_to_add_kg(
    wet_kg: f64,
    moisture: f64,
    target: f64,
    material_moisture: f64,
) -> Option<f64> {
    if moisture <= target {
        return Some(0.0);
    }
    (material_moisture < target)
        .then(|| wet_kg * (moisture - target) / (target - material_moisture))
}

/// Carbon and nitrogen of a material as shares of its mass as it is.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct CarbonNitrogen {
    /// Carbon, share of wet mass.
    pub carbon: f64,
    /// Nitrogen, share of wet mass.
    pub nitrogen: f64,
}

/// Kilograms of `partner` to add to one kilogram of `base` for the C:N `target`.
///
/// `x = (R N1 - C1) / (C2 - R N2)`; `None` when the partner pulls the wrong way or not at all.
pub fn carbon_nitrogen_partner(
    base: CarbonNitrogen,
    partner: CarbonNitrogen,
    target: f64,
) -> Option<f64> {
    let (need, gives) = (
        target * base.nitrogen - base.carbon,
        partner.carbon - target * partner.nitrogen,
    );
    let amount = need / gives;
    (amount.is_finite() && amount >= 0.0).then_some(amount)
}

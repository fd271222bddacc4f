//! Moist air: vapour pressure, humidity ratio, enthalpy, density.
//!
//! In: temperature, water activity. Out: properties per kilogram of dry air at 101 325 Pa.
//!
//! Equations are those of the ASHRAE Handbook Fundamentals (ideal mixture), with the saturation
//! pressure of Buck 1996, which stays within 0.05 % of IAPWS-97 from 0 to 90 degC.
//!
//! Not here: how much air moves (`airflow`).
//!
//! Tested by: `tests/science/moist_air.rs` (psychrolib, 0-80 degC, 0.1 %), `tests/science/ice.rs` (over ice).

/// Standard atmosphere, Pa.
pub const ATMOSPHERE_PA: f64 = 101_325.0;
/// Ratio of the molar masses of water and dry air (ASHRAE).
pub const WATER_TO_AIR_MOLAR_MASS: f64 = 0.621_945;
/// Gas constant of dry air, J/kg K (ASHRAE).
pub const DRY_AIR_GAS_CONSTANT_J_PER_KG_K: f64 = 287.042;
/// Heat capacity of dry air, J/kg K (ASHRAE).
pub const DRY_AIR_HEAT_CAPACITY_J_PER_KG_K: f64 = 1006.0;
/// Heat of vaporisation at 0 degC, J/kg (ASHRAE).
pub const VAPORISATION_AT_0C_J_PER_KG: f64 = 2.501e6;
/// Heat capacity of water vapour, J/kg K (ASHRAE).
pub const VAPOUR_HEAT_CAPACITY_J_PER_KG_K: f64 = 1860.0;
/// Hottest temperature at which the formulas are used, degC; short of boiling.
const HOTTEST_C: f64 = 98.0;
/// Coldest temperature at which the formulas are used, degC.
const COLDEST_C: f64 = -60.0;

/// Pressure of saturated water vapour over liquid water, Pa.
///
/// `temperature_c`: -60 to 98 degC; beyond that the nearer end counts, so the result is finite.
///
/// Source: Buck Research CR-1A user's manual, appendix 1 (1996).
/// Checked: `tests/science/moist_air.rs`, against psychrolib within 0.1 %.
pub fn saturation_pressure_pa(temperature_c: f64) -> f64 {
    let t = temperature_c.clamp(COLDEST_C, HOTTEST_C);
    611.21 * ((18.678 - t / 234.5) * t / (257.14 + t)).exp()
}

/// Pressure of saturated water vapour over what water is at this temperature, Pa: ice below 0 degC, liquid water above.
///
/// `temperature_c`: as for [`saturation_pressure_pa`].
///
/// Source: Buck Research CR-1A user's manual, appendix 1 (1996).
/// Checked: `tests/science/ice.rs`, against IAPWS over ice within 0.1 %.
pub fn saturation_over_frost_pa(temperature_c: f64) -> f64 {
    if temperature_c >= 0.0 {
        return saturation_pressure_pa(temperature_c);
    }
    let t = temperature_c.max(COLDEST_C);
    611.15 * ((23.036 - t / 333.7) * t / (279.82 + t)).exp()
}

/// Water vapour in air over a surface of this water activity, kg per kg dry air.
///
/// `water_activity`: 0-1, the relative humidity the surface keeps.
///
/// Source: ASHRAE Handbook Fundamentals (2017), ch. 1, eq. 20.
/// Checked: `tests/science/moist_air.rs`.
pub fn humidity_ratio(temperature_c: f64, water_activity: f64) -> f64 {
    of_vapour(water_activity * saturation_pressure_pa(temperature_c))
}

/// Water vapour in air over wet matter, kg per kg dry air; its water is ice below 0 degC.
///
/// Source and range: as for [`humidity_ratio`] and [`saturation_over_frost_pa`].
pub fn humidity_over_matter(temperature_c: f64) -> f64 {
    of_vapour(saturation_over_frost_pa(temperature_c))
}

fn of_vapour(vapour_pa: f64) -> f64 {
    WATER_TO_AIR_MOLAR_MASS * vapour_pa / (ATMOSPHERE_PA - vapour_pa)
}

/// Enthalpy of moist air, J per kg dry air, zero for dry air and liquid water at 0 degC.
///
/// Source: ASHRAE Handbook Fundamentals (2017), ch. 1, eq. 30.
/// Checked: `tests/science/moist_air.rs`.
pub fn enthalpy_j_per_kg(temperature_c: f64, humidity_ratio: f64) -> f64 {
    DRY_AIR_HEAT_CAPACITY_J_PER_KG_K * temperature_c
        + humidity_ratio
            * (VAPORISATION_AT_0C_J_PER_KG + VAPOUR_HEAT_CAPACITY_J_PER_KG_K * temperature_c)
}

/// Volume of moist air, m3 per kg dry air.
///
/// Source: ASHRAE Handbook Fundamentals (2017), ch. 1, eq. 26.
/// Checked: `tests/science/moist_air.rs`.
pub fn volume_m3_per_kg(temperature_c: f64, humidity_ratio: f64) -> f64 {
    DRY_AIR_GAS_CONSTANT_J_PER_KG_K
        * (temperature_c + 273.15)
        * (1.0 + humidity_ratio / WATER_TO_AIR_MOLAR_MASS)
        / ATMOSPHERE_PA
}

/// Density of moist air, kg/m3, vapour counted.
///
/// Source: ASHRAE Handbook Fundamentals (2017), ch. 1, eq. 27.
/// Checked: `tests/science/moist_air.rs`.
pub fn density_kg_per_m3(temperature_c: f64, humidity_ratio: f64) -> f64 {
    (1.0 + humidity_ratio) / volume_m3_per_kg(temperature_c, humidity_ratio)
}

/// Dynamic viscosity of air, Pa s: a line through 1.722e-5 at 0 degC and 2.010e-5 at 60 degC.
///
/// Source: CoolProp 8.0, dry air at 101 325 Pa; the line stays within 0.2 % from 0 to 80 degC.
pub fn viscosity_pa_s(temperature_c: f64) -> f64 {
    1.722e-5 + 4.8e-8 * temperature_c
}

/// Diffusivity of oxygen and of vapour in free air, m2/s.
///
/// `0.178e-4 (T / 273.15)^1.75` (form from memory; within 9 % of the values on the Cornell
/// Composting page on oxygen diffusion).
pub fn gas_diffusivity_m2_per_s(temperature_c: f64) -> f64 {
    let ratio = (temperature_c + 273.15) / 273.15;
    let root = ratio.sqrt();
    0.178e-4 * ratio * root * root.sqrt()
}

/// Relative humidity that moist matter keeps in its pores.
///
/// `water_per_dry`: kg water per kg dry matter. `1 - 1 / (1 + 10 u)^2`: 0.75 at 0.1, 0.96 at 0.4,
/// 0.996 at 1.4 (tuned to the usual sorption curve of plant matter; matters only below a quarter
/// moisture).
pub fn water_activity(water_per_dry: f64) -> f64 {
    let x = 1.0 + 10.0 * water_per_dry.max(0.0);
    1.0 - 1.0 / (x * x)
}

//! Moist air against psychrolib, an independent implementation of the ASHRAE equations.

use heapwright::heap::moist_air::*;

use crate::support::{Vectors, close};

#[test]
fn properties_agree_with_psychrolib_from_0_to_80_degc() {
    // psychrolib 2.5.0. 0.1 %: it uses the ASHRAE saturation formula, we Buck 1996; the two differ by
    // up to 0.013 %, which the humidity ratio doubles near 80 degC.
    let v = Vectors::read(include_str!("../reference/moist_air.csv"));
    assert_eq!(v.len(), 17 * 4);
    for row in 0..v.len() {
        let t = v.number(row, "temperature_c");
        let rh = v.number(row, "relative_humidity");
        let at = format!("{t} degC, {rh}");
        let w = humidity_ratio(t, rh);
        close(
            &format!("saturation pressure at {at}"),
            saturation_pressure_pa(t),
            v.number(row, "saturation_pressure_pa"),
            1e-3,
        );
        close(
            &format!("humidity ratio at {at}"),
            w,
            v.number(row, "humidity_ratio"),
            1e-3,
        );
        close(
            &format!("enthalpy at {at}"),
            enthalpy_j_per_kg(t, w),
            v.number(row, "enthalpy_j_per_kg"),
            1e-3,
        );
        close(
            &format!("volume at {at}"),
            volume_m3_per_kg(t, w),
            v.number(row, "volume_m3_per_kg"),
            1e-3,
        );
        close(
            &format!("density at {at}"),
            density_kg_per_m3(t, w),
            v.number(row, "density_kg_per_m3"),
            1e-3,
        );
    }
}

#[test]
fn saturation_pressure_agrees_with_iapws_97() {
    // IAPWS-97 (library iapws 1.5.5), Pa. Buck 1996 stays within 0.05 % from 0 to 80 degC.
    for (t, pa) in [
        (0.0, 611.66),
        (20.0, 2339.21),
        (40.0, 7384.43),
        (60.0, 19945.80),
        (80.0, 47414.72),
    ] {
        close(
            &format!("saturation pressure at {t}"),
            saturation_pressure_pa(t),
            pa,
            1e-3,
        );
    }
}

#[test]
fn dry_air_viscosity_agrees_with_coolprop() {
    // CoolProp 8.0, dry air at 101 325 Pa, printed to four digits.
    for (t, pa_s) in [
        (0.0, 1.722e-5),
        (20.0, 1.821e-5),
        (40.0, 1.917e-5),
        (60.0, 2.010e-5),
        (80.0, 2.101e-5),
    ] {
        close(&format!("viscosity at {t}"), viscosity_pa_s(t), pa_s, 3e-3);
    }
}

#[test]
fn oxygen_diffuses_as_the_cornell_page_says() {
    // Cornell Composting, oxygen diffusion: in water 1.97e-5 and 4.82e-5 cm2/s at 20 and 60 degC, in air
    // 10 800 and 5700 times as much. The page rounds the ratios, hence 10 %.
    close(
        "20 degC",
        gas_diffusivity_m2_per_s(20.0),
        1.97e-9 * 10_800.0,
        0.10,
    );
    close(
        "60 degC",
        gas_diffusivity_m2_per_s(60.0),
        4.82e-9 * 5_700.0,
        0.10,
    );
}

#[test]
fn nothing_is_infinite_at_the_ends() {
    for t in [-300.0, -60.0, 98.0, 100.0, 1e6] {
        let w = humidity_ratio(t, 1.0);
        assert!(w.is_finite() && w > 0.0, "humidity ratio at {t} is {w}");
    }
}

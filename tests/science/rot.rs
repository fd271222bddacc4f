//! The response functions of rot against tabulated values.

use heapwright::heap::rot::*;

use crate::support::heap_math::{ammonia_in_gas_kg_per_m3, oxygen_factor};
use crate::support::{close, within};

#[test]
fn temperature_response_is_the_rosso_curve() {
    // Values of the formula of Rosso, Lobry and Flandrois 1993, evaluated independently to 4 digits for
    // the cardinal temperatures 5, 59, 80 and 0, 58, 75 degC.
    for (t, wanted) in [
        (10.0, 0.0188),
        (30.0, 0.3905),
        (50.0, 0.9058),
        (59.0, 1.0),
        (70.0, 0.7808),
        (75.0, 0.4816),
    ] {
        within(
            &format!("at {t}"),
            temperature_factor(t, [5.0, 59.0, 80.0]),
            wanted - 6e-5..=wanted + 6e-5,
        );
    }
    for (t, wanted) in [
        (10.0, 0.0524),
        (40.0, 0.6809),
        (55.0, 0.9859),
        (65.0, 0.8905),
        (75.0, 0.0),
    ] {
        within(
            &format!("at {t}"),
            temperature_factor(t, [0.0, 58.0, 75.0]),
            wanted - 6e-5..=wanted + 6e-5,
        );
    }
}

#[test]
fn moisture_response_is_haugs_and_agrees_with_cornell() {
    // Haug 1993, F1, evaluated independently to 4 digits.
    for (m, wanted) in [
        (0.20, 0.0286),
        (0.30, 0.1472),
        (0.40, 0.5028),
        (0.50, 0.8557),
        (0.60, 0.9720),
    ] {
        within(
            &format!("at {m}"),
            moisture_factor(m),
            wanted - 6e-5..=wanted + 6e-5,
        );
    }
    // Cornell, Getting the right mix: greatly reduced below 35-40 %, virtually nil below 30 %.
    assert!(moisture_factor(0.35) < 0.35 && moisture_factor(0.28) < 0.15);
}

#[test]
fn ammonia_follows_the_table() {
    // pKa, share at pH 8 and partition at 25 and 55 degC, computed independently from the same formulas
    // (Emerson et al. 1975 for pKa). Three digits are printed.
    for (t, pka, share, partition) in [(25.0, 9.246, 0.054, 1846.0), (55.0, 8.409, 0.280, 650.0)] {
        close("pKa", ammonia_pka(t), pka, 1e-3);
        let gas = ammonia_in_gas_kg_per_m3(1e-3, t, 8.0);
        close("gas", gas, share / partition, 0.01);
    }
    // A heap at pH 8 going from 25 to 55 degC holds 14.7 times the ammonia in its gas.
    let ratio =
        ammonia_in_gas_kg_per_m3(1e-3, 55.0, 8.0) / ammonia_in_gas_kg_per_m3(1e-3, 25.0, 8.0);
    close("ratio", ratio, 14.7, 0.01);
}

#[test]
fn oxygen_response_is_monod() {
    // Monod with half constant 2 %: 0.333, 0.5, 0.714, 0.833 at 1, 2, 5, 10 %, over 0.913 in open air.
    for (percent, wanted) in [(1.0, 0.333), (2.0, 0.5), (5.0, 0.714), (10.0, 0.833)] {
        close(
            "factor",
            oxygen_factor(percent / 100.0, 0.02),
            wanted / 0.9129,
            2e-3,
        );
    }
}

#[test]
fn heat_and_water_of_oxidation_lie_where_stoichiometry_puts_them() {
    // Complete oxidation of plant matter: 16.6-22.3 MJ and 0.52-0.62 kg water per kg (stoichiometry of
    // cellulose, grass, wood and garbage formulas), here with 47 % carbon.
    within(
        "MJ per kg",
        HEAT_PER_CARBON_J_PER_KG * 0.47 / 1e6,
        16.6..=22.3,
    );
    let water = 1.0 + (OXYGEN_PER_CARBON - CARBON_DIOXIDE_PER_CARBON) * 0.47;
    within("water per kg", water, 0.52..=0.62);
}

#[test]
fn sour_food_stalls_and_sour_wood_does_not() {
    // Below pH 6 food waste nearly stops above 40 degC (Sundberg 2005, abstract read); fresh chips of pH 5-6 are the
    // fungi's own ground (pH 4-6, from memory). What is half wood is held back by half.
    within("food at pH 5", sour_stop(5.0, 0.0), 0.9..=0.95);
    within("food at pH 6", sour_stop(6.0, 0.0), 0.6..=0.95);
    within("food at pH 7", sour_stop(7.0, 0.0), 0.0..=0.02);
    for ph in [4.0, 5.5, 6.2, 8.0] {
        within("wood", sour_stop(ph, 1.0), 0.0..=1e-12);
        close(
            "half wood",
            sour_stop(ph, 0.5),
            0.5 * sour_stop(ph, 0.0),
            1e-12,
        );
    }
}

#[test]
fn rates_conserve_carbon_and_nitrogen_for_any_food() {
    let k = Kinetics::default();
    for nitrogen in [0.0, 0.005, 0.03, 0.2] {
        for (microbes, wood) in [(0.01, 0.0), (0.5, 0.0), (0.5, 1.0), (5.0, 0.3)] {
            let pools = RotPools {
                carbon: [20.0, 20.0, 25.0],
                microbes,
                microbe_nitrogen: microbes / k.microbe_cn,
                wood,
                mineral_nitrogen: nitrogen,
                nitrogen_per_carbon: [nitrogen, nitrogen / 2.0, nitrogen / 3.0],
            };
            let r = rates(&pools, 0.8, 0.9, &k);
            let eaten: f64 = r.uptake.iter().sum();
            close(
                "carbon",
                r.oxidised + r.growth - r.death + r.humus,
                eaten,
                1e-12,
            );
            let freed: f64 = r
                .uptake
                .iter()
                .zip(pools.nitrogen_per_carbon)
                .map(|(u, n)| u * n)
                .sum();
            let bound = r.nitrogen_taken - r.nitrogen_of_dead + r.nitrogen_buried;
            assert!((freed - bound - r.nitrogen_freed).abs() < 1e-12 * (1.0 + freed));
            // Mineral nitrogen is never used up faster than within its use time.
            let most = pools.mineral_nitrogen / k.mineral_use_days;
            assert!(r.nitrogen_freed >= -most - 1e-12, "{}", r.nitrogen_freed);
        }
    }
}

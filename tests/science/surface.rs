//! The skin of a heap: surface balance, film, gaps.

use heapwright::heap::outside::{Sun, constriction_m, film_w_per_m2_k, weather};
use heapwright::heap::surface::{Behind, Face, Outside, exchange};
use heapwright::heap::tables::Tables;
use heapwright::heap::{Kinetics, Wall};

use crate::bench::near;
use crate::support::heaps::even_climate;
use crate::support::{Vectors, close};

#[test]
fn a_surface_balances_as_root_finding_says() {
    // make_surface.py: scipy brentq on the balance with exact functions of moist air, 200 drawn cases. What differs is three
    // Newton steps and the table: 6 % of what the face exchanges for a wet cell at 80 degC behind a thick skin in
    // frost, 1e-3 in the mean over the cases.
    let v = Vectors::read(include_str!("../reference/surface.csv"));
    let tables = Tables::new(Kinetics::default().cardinal_c);
    let (mut sum, mut slope_sum) = ([0.0; 2], [0.0; 2]);
    for row in 0..v.len() {
        let at = |column| v.number(row, column);
        let face = Face {
            inside_w_per_k: at("inside"),
            film_w_per_k: at("film"),
            gas_film_kg_per_s: at("gas"),
        };
        let behind = Behind {
            temperature_c: at("tc"),
            activity: at("aw"),
            enthalpy_slope: at("slope"),
        };
        let outside = Outside {
            felt_c: at("felt"),
            air_c: at("air"),
            humidity: at("w_air"),
        };
        let got = exchange(&face, &behind, &outside, at("flow"), &tables);
        // Scales: a kelvin over the face beside what it exchanges; a gram per kilogram of air.
        let heat_scale = at("heat").abs() + at("heat_slope").abs();
        let water_scale = at("water").abs() + 1e-3 * (at("gas") + at("flow").abs());
        let heat_off = (got.heat_w - at("heat")).abs() / heat_scale;
        let water_off = (got.water - at("water")).abs() / water_scale.max(1e-12);
        assert!(
            heat_off < 0.06,
            "row {row}: heat {got:?}, {heat_off:.1e} off"
        );
        assert!(
            water_off < 0.06,
            "row {row}: water {got:?}, {water_off:.1e} off"
        );
        sum[0] += heat_off;
        sum[1] += water_off;
        // Slopes serve the implicit step only.
        let slopes = [
            (got.heat_slope, at("heat_slope")),
            (got.water_slope, at("water_slope")),
        ];
        for ((got, wanted), sum) in slopes.into_iter().zip(&mut slope_sum) {
            let off = (got - wanted).abs() / wanted.abs().max(1e-12);
            assert!(off < 0.25, "row {row}: slope {got}, wanted {wanted}");
            *sum += off;
        }
    }
    let mean = slope_sum.map(|s| s / v.len() as f64);
    assert!(mean[0] < 0.02 && mean[1] < 0.02, "slopes {mean:?}");
    let mean = sum.map(|s| s / v.len() as f64);
    assert!(mean[0] < 1e-3 && mean[1] < 1e-3, "{mean:?}");
}

#[test]
fn gaps_cost_air_the_way_that_laplaces_equation_gives() {
    // make_surface.py: half strip in front of slits by Galerkin's method; six digits are printed.
    let v = Vectors::read(include_str!("../reference/slits.csv"));
    let wall = |open_share, gap_spacing_m| Wall {
        resistance_m2_k_per_w: 0.0,
        open_share,
        gap_spacing_m,
    };
    for row in 0..v.len() {
        let share = v.number(row, "open_share");
        close(
            "way",
            constriction_m(&wall(share, 0.5)),
            0.5 * v.number(row, "length"),
            1e-5,
        );
    }
    assert_eq!(constriction_m(&wall(1.0, 0.5)), 0.0);
    assert_eq!(constriction_m(&wall(0.0, 0.5)), f64::INFINITY);
}

#[test]
fn the_film_is_convection_by_wind_and_radiation() {
    // Geothermal Energy 2017 (s40517-017-0082-z), eq. 6: 2.8 + 3 v, so 2.8 calm and 8.8 at 2 m/s; radiation 4 eps
    // sigma T^3 at 15 degC with eps 0.95: 5.1. Total inside the usual 8-25 W/m2 K of outside walls.
    let radiation = 4.0 * 0.95 * 5.670_374e-8 * 288.15f64.powi(3);
    near("calm", film_w_per_m2_k(0.0), 2.8 + radiation, 0.1);
    near("2 m/s", film_w_per_m2_k(2.0), 8.8 + radiation, 0.1);
}

#[test]
fn sun_and_sky_add_to_what_a_face_feels() {
    // Sol-air temperature (same source, eq. 4): air + absorbed / h - eps dR / h, here for the top on 21 June at 52 N.
    let climate = even_climate(15.0);
    let (shade, sun) = (
        weather(&climate, Sun::Shaded, 171.0, 172.0),
        weather(&climate, Sun::Shining, 171.0, 172.0),
    );
    let h = film_w_per_m2_k(1.5);
    let absorbed = 0.8 * climate.sun_w_per_m2(171.5);
    near("top", sun.top.felt_c - shade.top.felt_c, absorbed / h, 1e-9);
    assert!(sun.side.felt_c > shade.side.felt_c && sun.side.felt_c < sun.top.felt_c);
    // A clear sky is 12 K colder than the air (eq. 8), half of that under average cloud.
    near("sky", shade.air_c - shade.top.felt_c, 5.1 * 6.0 / h, 1e-9);
}

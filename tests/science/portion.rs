//! A portion for a bin and the brown it needs: at least what the printed formulas ask for, and no step more.
//!
//! Source: Cornell Composting in Schools, moisture and C/N pages (mass balances, page read; `mix::adjust`), with the ends
//! of the bands: moisture 65 %, C:N 20 for what works, 60 % and 25 for the best part.

use heapwright::mix::portion::{PortionNeeds, portion_needs};
use heapwright::mix::{
    CarbonNitrogen, Gauge, Ingredient, Mix, Totals, bands, blend, carbon_nitrogen_partner,
    dry_material_to_add_kg,
};
use heapwright::quantity::{Amount, Measure};

use crate::support::materials::built_in;

fn of(rows: &[(&str, f64, Measure)]) -> Mix {
    let row = |(id, value, measure): &(&str, f64, Measure)| {
        Ingredient::new(*id, Amount::new(*value, measure.clone()))
    };
    Mix {
        ingredients: rows.iter().map(row).collect(),
        added_water_l: 0.0,
    }
}

fn totals(mix: &Mix) -> Totals {
    blend(&mix.resolve(built_in()).unwrap(), 0.0).totals
}

fn shares(totals: &Totals) -> CarbonNitrogen {
    CarbonNitrogen {
        carbon: totals.carbon_kg / totals.wet_kg(),
        nitrogen: totals.nitrogen_kg / totals.wet_kg(),
    }
}

/// What the two formulas ask for to come to this moisture and C:N, kg as it is.
fn by_formulas(portion: &Totals, brown: &Totals, (moisture, cn): (f64, f64)) -> f64 {
    let dry = dry_material_to_add_kg(
        portion.wet_kg(),
        portion.moisture(),
        moisture,
        brown.moisture(),
    );
    let carbon = carbon_nitrogen_partner(shares(portion), shares(brown), cn);
    let carbon = carbon.map_or(0.0, |each| each * portion.wet_kg());
    dry.unwrap().max(carbon)
}

#[test]
fn the_brown_is_what_the_formulas_ask_for_and_less_than_a_step_more() {
    for brown in ["leaves_dry_loose", "straw"] {
        for litres in [6.0, 10.0, 25.0] {
            let caddy = of(&[
                ("veg_scraps", 0.7 * litres, Measure::Litre),
                ("coffee_grounds", 0.3 * litres, Measure::Litre),
            ]);
            let PortionNeeds::More { more, mix } =
                portion_needs(&caddy, brown, built_in()).unwrap()
            else {
                panic!("{brown}, {litres} L needs something")
            };
            let told = format!("{litres} L with {more:?} of {brown}");
            let after = totals(&mix);
            // The scraps stay as they are.
            assert_eq!(mix.ingredients[..2], caddy.ingredients[..], "{told}");
            for gauge in [Gauge::Moisture, Gauge::CarbonNitrogen, Gauge::AirSpace] {
                let value = blend(&mix.resolve(built_in()).unwrap(), 0.0)
                    .gauges
                    .unwrap()
                    .value(gauge);
                let band = bands::of(gauge, None).unwrap();
                assert!(
                    value >= band.works.0 && value <= band.works.1,
                    "{told}: {gauge:?} {value}"
                );
            }
            let one = totals(&of(&[(brown, 1.0, more.measure.clone())]));
            let asked = |ends| by_formulas(&totals(&caddy), &one, ends);
            let works = asked((bands::MOISTURE.works.1, bands::CN.works.0));
            let best = asked((bands::MOISTURE.best.1, bands::CN.best.0));
            let got = after.wet_kg() - totals(&caddy).wet_kg();
            assert!(got >= works * (1.0 - 1e-6), "{told}: {got} of {works} kg");
            // At most the step that a bucket is parted in.
            assert!(
                got <= best + one.wet_kg() * (1.0 + 1e-6),
                "{told}: {got} of {best} kg"
            );
        }
    }
}

#[test]
fn what_is_in_its_bands_needs_nothing_and_what_cannot_be_says_so() {
    let caddy = of(&[("veg_scraps", 10.0, Measure::Litre)]);
    let PortionNeeds::More { mix, .. } =
        portion_needs(&caddy, "leaves_dry_loose", built_in()).unwrap()
    else {
        panic!("scraps alone are too wet")
    };
    let again = portion_needs(&mix, "leaves_dry_loose", built_in()).unwrap();
    assert_eq!(again, PortionNeeds::Nothing);
    // Grass is as wet and as rich in nitrogen as scraps, so no amount of it mends them.
    let more = portion_needs(&caddy, "grass_fresh", built_in()).unwrap();
    assert_eq!(more, PortionNeeds::Another);
}

#[test]
fn sawdust_alone_does_not_do_where_the_formulas_say_so() {
    let caddy = of(&[
        ("veg_scraps", 4.2, Measure::Litre),
        ("coffee_grounds", 1.8, Measure::Litre),
    ]);
    let needs = portion_needs(&caddy, "sawdust", built_in()).unwrap();
    assert_eq!(needs, PortionNeeds::Another);
    // What brings it to 65 % moisture brings its C:N above 40.
    let portion = totals(&caddy);
    let one = totals(&of(&[("sawdust", 1.0, Measure::Litre)]));
    let kilograms = by_formulas(&portion, &one, (bands::MOISTURE.works.1, bands::CN.works.0));
    let with = portion.plus_times(&one, kilograms / one.wet_kg());
    assert!(with.cn() > bands::CN.works.1, "{}", with.cn());
}

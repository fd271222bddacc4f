//! The catalogue, read once, and materials made of plain numbers for worked examples.

use std::sync::OnceLock;

use heapwright::material::{
    Catalogue, Confidence, Family, Material, Pools, Sourced, Spread, Structure, Traits,
};
use heapwright::mix::{Blend, Part, blend};
use heapwright::quantity::{Amount, Measure};

/// The built-in catalogue.
pub fn built_in() -> &'static Catalogue {
    static CATALOGUE: OnceLock<Catalogue> = OnceLock::new();
    CATALOGUE.get_or_init(|| Catalogue::built_in().expect("built-in tables are readable"))
}

/// A value without uncertainty.
pub fn exactly(value: f64) -> Sourced {
    Sourced {
        low: value,
        typical: value,
        high: value,
        sources: vec!["OWN".into()],
        confidence: Confidence::Read,
        spread: Spread::Given,
    }
}

/// A material of moisture (wet basis), carbon and nitrogen (shares of dry matter) and loose bulk
/// density (kg/m3), without uncertainty, that does not settle and has no ash.
pub fn plain(id: &str, moisture: f64, carbon: f64, nitrogen: f64, density: f64) -> Material {
    Material {
        id: id.into(),
        name: id.into(),
        family: Family::CropRemains,
        custom: None,
        also_called: Vec::new(),
        moisture: exactly(moisture),
        nitrogen: exactly(nitrogen),
        carbon: exactly(carbon),
        carbon_to_nitrogen: (nitrogen > 0.0 && carbon > 0.0).then(|| exactly(carbon / nitrogen)),
        ash: exactly(0.0),
        lignin: exactly(0.0),
        bulk_density: exactly(density),
        phosphate: exactly(0.0),
        potash: exactly(0.0),
        ph: exactly(7.0),
        pools: Pools {
            fast: 0.25,
            medium: 0.25,
            slow: 0.25,
            inert: 0.25,
            sources: vec!["OWN".into()],
            confidence: Confidence::Recalled,
        },
        structure: Structure::Crumbly,
        settles_share: 0.0,
        size_factor: 1.0,
        traits: Traits::default(),
        texture: "invented".into(),
        note: String::new(),
    }
}

/// The blend of so many kilograms or litres of materials.
pub fn blend_of(parts: &[(&Material, f64, Measure)], added_water_l: f64) -> Blend {
    let amounts: Vec<Amount> = parts
        .iter()
        .map(|(_, value, measure)| Amount::new(*value, measure.clone()))
        .collect();
    let parts: Vec<Part<'_>> = parts
        .iter()
        .zip(&amounts)
        .map(|((material, _, _), amount)| Part::new(material, amount))
        .collect();
    blend(&parts, added_water_l)
}

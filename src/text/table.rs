//! Words in tables: heads of columns, what plain values are called, units of values.
//!
//! In: a value of a material. Out: its name and unit, in SI.
//!
//! Not here: rows (`export`), how a material is told on screen (`material`).
//!
//! Tested by: `tests/document/export.rs`.

use crate::material::{Confidence, Material, Spread};

/// Heads of the plain list of materials: id, name, C:N, moisture, bulk density.
pub const MATERIALS: [&str; 5] = ["id", "name", "C:N", "moisture %", "density kg/m3"];
/// Unit of a share of the dry matter.
const OF_DRY_MATTER: &str = "share of dry matter";

/// A value of a material that has no range.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct PlainValue {
    /// What it is called.
    pub name: &'static str,
    /// Its unit.
    pub unit: &'static str,
    /// The value.
    pub value: f64,
    /// Where its source is recorded.
    pub source: PlainSource,
}

/// Where the source of a value without a range is recorded.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PlainSource {
    /// With the shares that rot fast and slowly.
    Pools,
    /// Nowhere.
    None,
}

/// The values of a material that have no range.
pub fn plain_values(material: &Material) -> [PlainValue; 5] {
    let pools = &material.pools;
    let pool = |name, value| PlainValue {
        name,
        unit: OF_DRY_MATTER,
        value,
        source: PlainSource::Pools,
    };
    [
        pool("rots fast", pools.fast),
        pool("rots at medium speed", pools.medium),
        pool("rots slowly", pools.slow),
        pool("stays", pools.inert),
        PlainValue {
            name: "settles",
            unit: "share of loose volume",
            value: material.settles_share,
            source: PlainSource::None,
        },
    ]
}

/// Unit of a sourced value, by the name [`Material::values`] gives it.
pub fn unit_of(name: &str) -> &'static str {
    match name {
        "moisture" => "share of wet mass",
        "bulk density" => "kg/m3",
        "C:N" => "kg/kg",
        "pH" => "",
        _ => OF_DRY_MATTER,
    }
}

/// The word for a confidence.
pub fn confidence(confidence: Confidence) -> &'static str {
    match confidence {
        Confidence::Recalled => "recalled",
        Confidence::Derived => "derived",
        Confidence::Read => "read",
    }
}

/// The word for where a range is from.
pub fn spread(spread: Spread) -> &'static str {
    match spread {
        Spread::Given => "given",
        Spread::Usual => "usual",
    }
}

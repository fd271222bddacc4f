//! Tables: the projection and the catalogue as CSV, the catalogue as plain columns.
//!
//! In: a projection, a catalogue, something to write to. Out: rows; SI, units in the header, full
//! precision, and an empty field where there is no number.
//!
//! Not here: names and units in them (`text::table`), sentences (`report`).
//!
//! Tested by: `tests/document/export.rs`.

use std::io::{self, Write};

use crate::heap::Projection;
use crate::material::{Catalogue, Material, Sourced};
use crate::text::material::family;
use crate::text::number::{ratio, rounded};
use crate::text::table::{self as words, PlainSource};

/// Header of the projection's table.
const PROJECTION_HEADER: [&str; 12] = [
    "day",
    "centre_c",
    "middle_c",
    "edge_c",
    "mean_c",
    "ambient_c",
    "moisture_wet_basis",
    "oxygen_mole_fraction",
    "dry_mass_kg",
    "water_kg",
    "nitrogen_kg",
    "volume_m3",
];

/// Header of the catalogue's table.
const CATALOGUE_HEADER: [&str; 11] = [
    "id",
    "name",
    "family",
    "value",
    "unit",
    "low",
    "typical",
    "high",
    "sources",
    "confidence",
    "spread",
];

/// Writes a projection as CSV, one row per record.
///
/// # Errors
/// What the writer says.
pub fn projection_csv(projection: &Projection, out: &mut impl Write) -> io::Result<()> {
    let mut table = csv::Writer::from_writer(out);
    table.write_record(PROJECTION_HEADER).map_err(plain)?;
    for record in &projection.records {
        let row = [
            record.day,
            record.centre_c,
            record.middle_c,
            record.edge_c,
            record.mean_c,
            record.ambient_c,
            record.moisture,
            record.oxygen,
            record.dry_kg,
            record.water_kg,
            record.nitrogen_kg,
            record.volume_m3,
        ]
        .map(number);
        table.write_record(row).map_err(plain)?;
    }
    table.flush()
}

/// Writes a catalogue as CSV, one row per value of a material: sourced values, then the four speeds
/// of rotting and the settling.
///
/// # Errors
/// What the writer says.
pub fn catalogue_csv(catalogue: &Catalogue, out: &mut impl Write) -> io::Result<()> {
    let mut table = csv::Writer::from_writer(out);
    table.write_record(CATALOGUE_HEADER).map_err(plain)?;
    for material in catalogue.materials() {
        for (name, value) in material.values() {
            table
                .write_record(sourced_row(material, name, value))
                .map_err(plain)?;
        }
        for row in plain_rows(material) {
            table.write_record(row).map_err(plain)?;
        }
    }
    table.flush()
}

/// Writes a catalogue as plain columns, one line per material.
///
/// # Errors
/// What the writer says.
pub fn catalogue_text(catalogue: &Catalogue, out: &mut impl Write) -> io::Result<()> {
    let width = |column: fn(&Material) -> &str| {
        let longest = catalogue
            .materials()
            .iter()
            .map(|material| column(material).chars().count())
            .max();
        longest.unwrap_or(0).max(8)
    };
    let (id, name) = (
        width(|material| &material.id),
        width(|material| &material.name),
    );
    let heads = words::MATERIALS;
    writeln!(
        out,
        "{:id$}  {:name$}  {:>7}  {:>10}  {:>14}",
        heads[0], heads[1], heads[2], heads[3], heads[4]
    )?;
    for material in catalogue.materials() {
        let cn = match &material.carbon_to_nitrogen {
            Some(cn) => ratio(cn.typical),
            None => "-".to_owned(),
        };
        writeln!(
            out,
            "{:id$}  {:name$}  {cn:>7}  {:>10}  {:>14}",
            material.id,
            material.name,
            rounded(100.0 * material.moisture.typical),
            rounded(material.bulk_density.typical),
        )?;
    }
    Ok(())
}

/// One sourced value of a material.
fn sourced_row(material: &Material, name: &str, value: &Sourced) -> [String; 11] {
    [
        material.id.clone(),
        material.name.clone(),
        family(material.family).to_owned(),
        name.to_owned(),
        words::unit_of(name).to_owned(),
        number(value.low),
        number(value.typical),
        number(value.high),
        value.sources.join(" "),
        words::confidence(value.confidence).to_owned(),
        words::spread(value.spread).to_owned(),
    ]
}

/// The values of a material that have no range.
fn plain_rows(material: &Material) -> [[String; 11]; 5] {
    let pools = &material.pools;
    let sources = pools.sources.join(" ");
    let confidence = words::confidence(pools.confidence);
    words::plain_values(material).map(|plain| {
        let (sources, confidence) = match plain.source {
            PlainSource::Pools => (sources.as_str(), confidence),
            PlainSource::None => ("", ""),
        };
        [
            material.id.clone(),
            material.name.clone(),
            family(material.family).to_owned(),
            plain.name.to_owned(),
            plain.unit.to_owned(),
            String::new(),
            number(plain.value),
            String::new(),
            sources.to_owned(),
            confidence.to_owned(),
            String::new(),
        ]
    })
}

/// The writer's own error, so that a closed pipe is still known as one.
fn plain(error: csv::Error) -> io::Error {
    match error.into_kind() {
        csv::ErrorKind::Io(error) => error,
        other => io::Error::other(format!("{other:?}")),
    }
}

/// A number in full, or nothing where it is none.
fn number(value: f64) -> String {
    if value.is_finite() {
        value.to_string()
    } else {
        String::new()
    }
}

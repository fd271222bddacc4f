//! What is told of a material: main values with trust and source, its texture.
//!
//! In: a material. Out: the text of its tooltip.
//!
//! Not here: the values themselves (`material`).
//!
//! Tested by: `tests/window/picker.rs`.

use crate::material::{Confidence, Material, Sourced};

use crate::window::page::Page;

/// The tooltip of a material: main values with trust and source, its texture, what to know.
pub fn material_text(material: &Material, page: &Page<'_>) -> String {
    let mut lines = vec![material.name.clone()];
    let percent = |value: &Sourced| {
        format!(
            "{:.0} % ({:.0} to {:.0})",
            value.typical * 100.0,
            value.low * 100.0,
            value.high * 100.0
        )
    };
    if let Some(cn) = &material.carbon_to_nitrogen {
        let text = format!("{:.0} to 1 ({:.0} to {:.0})", cn.typical, cn.low, cn.high);
        lines.push(format!("C:N {text}; {}", origin(cn, page)));
    }
    lines.push(format!(
        "moisture {}; {}",
        percent(&material.moisture),
        origin(&material.moisture, page)
    ));
    let units = page.state.settings.units;
    lines.push(format!(
        "bulk density {:.0} {}; {}",
        units.density(material.bulk_density.typical),
        units.density_unit(),
        origin(&material.bulk_density, page)
    ));
    lines.push(format!("texture: {}", material.structure.phrase()));
    if !material.texture.is_empty() {
        lines.push(material.texture.clone());
    }
    lines.join("\n")
}

/// How far a value is to be trusted, and where it was read.
fn origin(value: &Sourced, page: &Page<'_>) -> String {
    let trust = match value.confidence {
        Confidence::Read => "read in",
        Confidence::Derived => "derived from",
        Confidence::Recalled => "from memory",
    };
    let mut titles = value
        .sources
        .iter()
        .filter(|code| !matches!(code.as_str(), "MEM" | "OWN"))
        .map(|code| {
            page.catalogue
                .source(code)
                .map_or(code.as_str(), |source| source.title.as_str())
        });
    let first = match (value.confidence, titles.next()) {
        (Confidence::Read | Confidence::Derived, Some(first)) => first,
        _ => return trust.to_owned(),
    };
    match titles.count() {
        0 => format!("{trust} {first}"),
        more => format!("{trust} {first} and {more} more"),
    }
}

//! Materials in words: families, structure, trust and sources of values, states they are in.
//!
//! In: a material, its values, a condition. Out: words and sentences.
//!
//! Not here: the catalogue (`material`), how an own one was calculated (`own_material`).
//!
//! Tested by: `tests/science/words.rs`, `tests/window/picker.rs`, `tests/window/materials.rs`,
//! `tests/science/condition.rs`.

use crate::material::{
    AnswerStanding, Catalogue, Condition, Confidence, Family, KeepOut, Material, Order, Side,
    Sourced, Structure,
};
use crate::quantity::UnitSystem;

use super::number;

/// Codes of sources that are no publication: from memory, the person's own figure.
const NO_PUBLICATION: [&str; 2] = ["MEM", "OWN"];

/// What a family is called.
pub fn family(family: Family) -> &'static str {
    match family {
        Family::Leaves => "Leaves",
        Family::Grass => "Grass",
        Family::StrawHay => "Straw and hay",
        Family::CropRemains => "Crop remains",
        Family::GardenGreen => "Garden greens",
        Family::GardenBrown => "Garden browns",
        Family::Wood => "Wood",
        Family::Aquatic => "Water plants",
        Family::Kitchen => "Kitchen",
        Family::Processing => "Food processing",
        Family::Manure => "Manure and bedding",
        Family::Paper => "Paper and card",
        Family::Fibre => "Hair, wool, cloth",
        Family::Plastic => "Films and bags",
        Family::Fertiliser => "Fertiliser",
        Family::Mineral => "Minerals",
        Family::Soil => "Soil and compost",
    }
}

/// How a structure stands, packs and lets air through.
pub fn structure(structure: Structure) -> &'static str {
    match structure {
        Structure::Coarse => "coarse, holds air",
        Structure::Springy => "springy, holds air while dry",
        Structure::Leafy => "airy when dry, mats when wet",
        Structure::Soft => "soft, collapses within days",
        Structure::Slumping => "wet, slumps and shuts air out",
        Structure::Crumbly => "crumbly",
        Structure::Fine => "fine, fills the gaps",
        Structure::Sheet => "sheets, seal when wet",
        Structure::Dense => "heavy, hardly any air",
        Structure::Liquid => "liquid or dissolves",
    }
}

/// Which side of the balance a material pulls to.
pub fn side(side: Side) -> &'static str {
    match side {
        Side::Green => "green",
        Side::Brown => "brown",
        Side::Neither => "neither green nor brown",
    }
}

/// The same, short.
pub fn side_short(side: Side) -> &'static str {
    match side {
        Side::Green => "green",
        Side::Brown => "brown",
        Side::Neither => "neither",
    }
}

/// What a list of materials is sorted by.
pub fn order(order: Order) -> &'static str {
    match order {
        Order::Family => "by family",
        Order::Name => "by name",
        Order::CarbonToNitrogen => "by C:N",
        Order::Moisture => "by moisture",
        Order::Structure => "by structure",
    }
}

/// How firm the answer to a question is.
pub fn standing(standing: AnswerStanding) -> &'static str {
    match standing {
        AnswerStanding::Read => "source read",
        AnswerStanding::Calculated => "own arithmetic",
        AnswerStanding::SecondHand => "second-hand, not checked",
        AnswerStanding::Recalled => "from memory, not checked",
    }
}

/// What does not belong in a heap, why, and how firm that is.
pub fn keep_out(entry: &KeepOut) -> String {
    format!(
        "{}: not for the heap; {} ({}; {}).",
        entry.name,
        entry.why,
        entry.source,
        standing(entry.standing)
    )
}

/// Nothing is known by the words typed.
pub const NOTHING_FOUND: &str = "No material is known by these words; try others, or fewer.";

/// Green or brown as gardeners say it, with C:N beside it: "green, C:N 15.0".
pub fn side_and_ratio(material: &Material) -> String {
    format!(
        "{}, {}",
        side(material.side()),
        carbon_nitrogen_short(material)
    )
}

/// C:N from which what is called a green works like a brown, and up to which a brown works like a green
/// (`common practice`: greens lie below 30, browns above; a third apart leaves room for doubt).
const WORKS_OTHERWISE: (f64, f64) = (40.0, 20.0);

/// Where custom and C:N speak against each other: "It is called a green, but at C:N 130 it works like a brown."
pub fn custom_against_ratio(material: &Material) -> Option<String> {
    let cn = material.carbon_to_nitrogen.as_ref()?.typical;
    let (called, works) = match material.side() {
        Side::Green if cn >= WORKS_OTHERWISE.0 => ("green", "brown"),
        Side::Brown if cn <= WORKS_OTHERWISE.1 => ("brown", "green"),
        _ => return None,
    };
    Some(format!(
        "Gardeners call it a {called}; at C:N {} it works like a {works}.",
        number::ratio(cn)
    ))
}

/// How the note of a material begins whose values are an estimate.
const UNVERIFIED: &str = "Unverified";

/// What a gardener should know about it; nothing where there is nothing.
pub fn to_know(material: &Material) -> Option<String> {
    let note = material.note.trim();
    if note.is_empty() {
        return None;
    }
    // A note that says how far its figures are to be trusted speaks for itself.
    let plain = note.starts_with(UNVERIFIED);
    Some(if plain {
        note.to_owned()
    } else {
        format!("Good to know (common practice): {note}")
    })
}

/// The state an ingredient is in, "wilted 1.5 days, packed"; empty where it is as listed.
pub fn condition(condition: Condition, material: &Material) -> String {
    let mut words = Vec::new();
    if condition.wilts(material) {
        words.push(format!("wilted {}", number::days(condition.wilted_days)));
    }
    if condition.is_chopped(material) {
        words.push(format!("{} chopped", number::percent(condition.chopped)));
    }
    if condition.is_packed(material) {
        let word = if condition.packed > 0.0 {
            "packed"
        } else {
            "loose"
        };
        words.push(word.to_owned());
    }
    words.join(", ")
}

/// What each part of a state does to a material taken alone, a sentence each, and what all do.
pub fn condition_effects(
    condition: Condition,
    material: &Material,
    units: UnitSystem,
) -> Vec<String> {
    let told = Effects { material, units };
    let mut said = Vec::new();
    if condition.wilts(material) {
        said.extend(told.wilted(condition.wilted_days));
    }
    if condition.is_chopped(material) {
        said.push(told.chopped(condition.chopped));
    }
    if condition.is_packed(material) {
        said.push(told.packed(condition.packed));
    }
    if said.len() > 1 {
        let all = condition.apply(material);
        said.push(format!(
            "All together: moisture {}, {}.",
            number::percent(all.moisture.typical),
            told.density(&all)
        ));
    }
    said
}

/// What states do to one material.
struct Effects<'a> {
    material: &'a Material,
    units: UnitSystem,
}

impl Effects<'_> {
    fn density(&self, material: &Material) -> String {
        number::density(material.bulk_density.typical, self.units)
    }

    /// "120 kg/m³ instead of 200".
    fn density_instead(&self, changed: &Material) -> String {
        let before = self.units.density(self.material.bulk_density.typical);
        let (now, before) = (self.density(changed), number::whole(before));
        format!("{now} instead of {before}")
    }

    fn wilted(&self, wilted_days: f64) -> Vec<String> {
        let condition = Condition {
            wilted_days,
            ..Condition::default()
        };
        let dried = condition.apply(self.material);
        let mut said = vec![format!(
            "Wilted: moisture {} instead of {}; a bucket holds as much dry matter and weighs less ({}).",
            number::percent(dried.moisture.typical),
            number::percent(self.material.moisture.typical),
            self.density_instead(&dried)
        )];
        if dried.structure != self.material.structure {
            said.push(format!("It becomes {}.", structure(dried.structure)));
        }
        vec![said.join(" ")]
    }

    fn chopped(&self, chopped: f64) -> String {
        let condition = Condition {
            chopped,
            ..Condition::default()
        };
        let cut = condition.apply(self.material);
        format!(
            "Chopped: pieces {} smaller, which lets less air through; {}; it settles less.",
            number::percent(1.0 - cut.size_factor / self.material.size_factor),
            self.density_instead(&cut)
        )
    }

    fn packed(&self, packed: f64) -> String {
        let condition = Condition {
            packed,
            ..Condition::default()
        };
        let density = self.density_instead(&condition.apply(self.material));
        if packed > 0.0 {
            format!(
                "Packed: {density}, so a bucket holds more; by weight it stays the same material."
            )
        } else {
            format!(
                "Loose: {density}, so a bucket holds less; by weight it stays the same material."
            )
        }
    }
}

/// The tooltip of a material: main values with trust and source, its texture, what to know.
pub fn tooltip(material: &Material, catalogue: &Catalogue, units: UnitSystem) -> String {
    let mut lines = vec![format!("{}: {}", material.name, side_and_ratio(material))];
    let moisture = &material.moisture;
    let density = &material.bulk_density;
    if let Some(cn) = &material.carbon_to_nitrogen {
        lines.push(format!(
            "{}; {}",
            carbon_nitrogen(cn),
            origin(cn, catalogue)
        ));
    }
    lines.push(format!(
        "moisture {} ({} to {}); {}",
        number::percent(moisture.typical),
        number::whole(100.0 * moisture.low),
        number::whole(100.0 * moisture.high),
        origin(moisture, catalogue)
    ));
    lines.push(format!(
        "bulk density {}; {}",
        number::density(density.typical, units),
        origin(density, catalogue)
    ));
    lines.push(format!("texture: {}", structure(material.structure)));
    if !material.texture.is_empty() {
        lines.push(material.texture.clone());
    }
    lines.join("\n")
}

/// A material's C:N with its range: "C:N 18.2 (15.0 to 20.0)".
fn carbon_nitrogen(cn: &Sourced) -> String {
    format!(
        "C:N {} ({} to {})",
        number::ratio(cn.typical),
        number::ratio(cn.low),
        number::ratio(cn.high)
    )
}

/// A material's C:N alone, or that it has none.
pub fn carbon_nitrogen_short(material: &Material) -> String {
    material.carbon_to_nitrogen.as_ref().map_or_else(
        || "no C:N".to_owned(),
        |cn| format!("C:N {}", number::ratio(cn.typical)),
    )
}

/// The main values in a line: "So: C:N 18.2 (15.0 to 20.0), moisture 60 %, bulk density 250 kg/m³."
pub fn summary(material: &Material, units: UnitSystem) -> String {
    let cn = material
        .carbon_to_nitrogen
        .as_ref()
        .map_or_else(|| "no C:N".to_owned(), carbon_nitrogen);
    format!(
        "So: {cn}, moisture {}, bulk density {}.",
        number::percent(material.moisture.typical),
        number::density(material.bulk_density.typical, units)
    )
}

/// Whose entry a row of the list is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whose {
    /// Of the catalogue.
    Listed,
    /// Of this recipe.
    Own,
    /// Kept for every recipe, not in this one.
    Kept,
}

/// The small line below a name in the list: "own, green, C:N 18.2, 60 % water".
pub fn list_facts(material: &Material, whose: Whose) -> String {
    let cn = side_and_ratio(material);
    let water = number::percent(material.moisture.typical);
    match whose {
        Whose::Listed => format!("{cn}, {water} water"),
        Whose::Own => format!("own, {cn}, {water} water"),
        Whose::Kept => format!("kept, {cn}, {water} water"),
    }
}

/// Family, side and C:N below the name of a page: "Grass, green, C:N 15.0, your own".
pub fn belongs(material: &Material, whose: Whose) -> String {
    let (family, side) = (family(material.family), side_and_ratio(material));
    match whose {
        Whose::Own => format!("{family}, {side}, your own"),
        Whose::Listed | Whose::Kept => format!("{family}, {side}"),
    }
}

/// How it stands, as a sentence.
pub fn stands(material: &Material) -> String {
    format!("Structure: {}.", structure(material.structure))
}

/// Height of the pile that settling is given for, m.
const SETTLING_HEIGHT_M: f64 = 1.0;

/// How far loose material settles, without the share.
pub fn settles_by(units: UnitSystem) -> String {
    format!(
        "Piled {} high it settles by",
        number::length(SETTLING_HEIGHT_M, units)
    )
}

/// How far loose material settles.
pub fn settles(material: &Material, units: UnitSystem) -> String {
    format!(
        "{} {}.",
        settles_by(units),
        number::percent(material.settles_share)
    )
}

/// How its dry matter rots.
pub fn rots(material: &Material) -> String {
    let pools = &material.pools;
    format!(
        "Rots: {} of the dry matter within weeks, {} within months, {} over years; {} stays.",
        number::percent(pools.fast),
        number::percent(pools.medium),
        number::percent(pools.slow),
        number::percent(pools.inert)
    )
}

/// How far a value is to be trusted, and where it was read first.
fn origin(value: &Sourced, catalogue: &Catalogue) -> String {
    let mut titles = value
        .sources
        .iter()
        .filter(|code| !NO_PUBLICATION.contains(&code.as_str()))
        .map(|code| {
            catalogue
                .source(code)
                .map_or(code.as_str(), |source| source.title.as_str())
        });
    let first = titles.next();
    let more = titles.count();
    match (value.confidence, first, more) {
        (Confidence::Recalled, ..) => "unverified (from memory or as for a similar one)".to_owned(),
        (Confidence::Read, None, _) => "read in".to_owned(),
        (Confidence::Derived, None, _) => "derived from".to_owned(),
        (Confidence::Read, Some(first), 0) => format!("read in {first}"),
        (Confidence::Derived, Some(first), 0) => format!("derived from {first}"),
        (Confidence::Read, Some(first), more) => format!("read in {first} and {more} more"),
        (Confidence::Derived, Some(first), more) => {
            format!("derived from {first} and {more} more")
        }
    }
}

/// "printed in HH, NEH" and the like; the codes are told below the page.
pub fn short_origin(value: &Sourced) -> String {
    let codes: Vec<&str> = value
        .sources
        .iter()
        .map(String::as_str)
        .filter(|code| *code != "MEM")
        .collect();
    let own = codes == ["OWN"];
    match value.confidence {
        Confidence::Recalled if own => "your own figure".to_owned(),
        Confidence::Recalled if codes.is_empty() => "unverified, from memory".to_owned(),
        Confidence::Recalled => format!(
            "unverified, from memory or as for a similar one ({})",
            codes.join(", ")
        ),
        Confidence::Derived if own => "calculated from your measurement".to_owned(),
        Confidence::Derived => format!("derived from {}", codes.join(", ")),
        Confidence::Read if own => "measured by you".to_owned(),
        Confidence::Read => format!("printed in {}", codes.join(", ")),
    }
}

/// Trust and the titles of all sources, a line each.
pub fn long_origin(codes: &[String], confidence: Confidence, catalogue: &Catalogue) -> String {
    let trust = match confidence {
        Confidence::Read => "as printed in its source",
        Confidence::Derived => "derived from a table, or a mean of related ones",
        Confidence::Recalled => "unverified: from memory, judgement or likeness",
    };
    let mut lines = vec![trust.to_owned()];
    lines.extend(codes.iter().filter_map(|code| {
        let source = catalogue.source(code)?;
        Some(format!("{code}: {} ({})", source.title, source.read))
    }));
    lines.join("\n")
}

//! What to do next: at most three sentences, the most important first.
//!
//! In: a mix with its blend, the room there is, a projection. Out: [`Advice`], each with its change.
//!
//! Order: a mix that overflows is cut down; then what is wrong with it (each step calculated on the
//! mix after the one before), then the room, then the heat. A mix that is right is told so, with what its curve says.
//!
//! Not here: how a change is found (`propose`) or worded (`wording`).
//!
//! Tested by: `tests/science/advice.rs`.

use crate::heap::Projection;
use crate::material::{Family, Structure};
use crate::mix::{Blend, Change, Fit, Gauge, Mix, Part};
use crate::quantity::UnitSystem;

use super::draft::{Draft, Row};
use super::propose::proposal;
use super::standing::{Reading, Standing};
use super::wording::{count_text, name_text, proposal_text, sentence, value_text};

/// Most sentences at a time.
const MOST: usize = 3;
/// Most of them about the mix itself, so that room and heat get a word.
const MOST_ABOUT_MIX: usize = 2;
/// A heap that does not reach this stays cold, degC (usual lower end of the hot phase).
const HOT_FROM_C: f64 = 40.0;
/// A heap that reaches this is hot, degC (lower end of what rules on heat ask for).
const VERY_HOT_FROM_C: f64 = 55.0;
/// Least volume that keeps its heat, m3 (3 ft each way; extension services, home heaps).
const KEEPS_HEAT_FROM_M3: f64 = 0.765;
/// Most times as much of everything that is worth proposing.
const MOST_TIMES: f64 = 50.0;
/// Share of the rot held back for lack of oxygen that is worth a word; `tuned`.
const SHORT_OF_AIR: f64 = 0.15;

/// One piece of advice.
#[derive(Debug, Clone, PartialEq)]
pub struct Advice {
    /// A whole sentence.
    pub text: String,
    /// What it proposes, on top of the advice before it; `None` where it only tells.
    pub change: Option<Change>,
}

impl Advice {
    fn tells(text: impl AsRef<str>) -> Self {
        Self {
            text: sentence(text.as_ref()),
            change: None,
        }
    }

    fn proposes(text: impl AsRef<str>, change: Change) -> Self {
        Self {
            text: sentence(text.as_ref()),
            change: Some(change),
        }
    }
}

/// What to do next, at most three sentences; see [`advise`].
pub fn next_steps(
    mix: &Mix,
    parts: &[Part<'_>],
    blend: &Blend,
    room_m3: Option<f64>,
    projection: Option<&Projection>,
    units: UnitSystem,
) -> Vec<String> {
    advise(mix, parts, blend, room_m3, projection, units)
        .into_iter()
        .map(|advice| advice.text)
        .collect()
}

/// What to do next, most important first, with the change each sentence proposes.
///
/// `parts` are the ingredients of `mix` resolved, in order, and `blend` their blend. `room_m3` is
/// what the bin holds, `projection` the present heap's.
pub fn advise(
    mix: &Mix,
    parts: &[Part<'_>],
    blend: &Blend,
    room_m3: Option<f64>,
    projection: Option<&Projection>,
    units: UnitSystem,
) -> Vec<Advice> {
    let draft = Draft {
        rows: mix
            .ingredients
            .iter()
            .zip(parts)
            .map(|(ingredient, part)| Row {
                material: &part.material,
                amount: part.amount.clone(),
                settled: ingredient.locked,
            })
            .collect(),
        water_l: mix.added_water_l,
        water_settled: false,
        totals: blend.totals,
        room_m3,
        units,
    };
    let Some(standing) = draft.standing() else {
        return vec![beginning(mix)];
    };
    if let Some(name) = no_base(&draft, blend) {
        return vec![Advice::tells(format!(
            "a heap cannot be built of {name}: begin with leaves, straw or grass and add this to them."
        ))];
    }
    let locked = mix.ingredients.iter().any(|row| row.locked);
    let mut said = Vec::new();
    let (draft, standing) = into_the_room(draft, standing, locked, &mut said);
    let over = !said.is_empty();
    let (mut draft, mut standing) = about_mix(draft, standing, &mut said);
    if !over {
        (draft, standing) = into_the_room(draft, standing, locked, &mut said);
        // Who has just been told to leave something out is not told to bring more of it.
        if draft.totals.loose_volume_m3 >= blend.totals.loose_volume_m3 {
            said.extend(about_empty_room(&draft, &standing, locked, &said));
        }
    }
    said.extend(about_heat(&draft, &standing, projection, &said, locked));
    said.truncate(MOST);
    said
}

/// The name of a material that makes up nearly all of the mix and is none to build a heap of.
fn no_base(draft: &Draft<'_>, blend: &Blend) -> Option<String> {
    let (row, _) = draft
        .rows
        .iter()
        .zip(&blend.shares)
        .find(|(_, share)| share.dry_mass > 0.9)?;
    let material = row.material;
    let additive = matches!(
        material.family,
        Family::Fertiliser | Family::Mineral | Family::Plastic | Family::Soil
    );
    (additive || material.structure == Structure::Liquid).then(|| name_text(material, draft))
}

/// Nothing that could rot yet.
fn beginning(mix: &Mix) -> Advice {
    if mix.added_water_l > 0.0 {
        Advice::tells("there is only water so far: add something dry, such as leaves or straw.")
    } else if mix.ingredients.is_empty() {
        Advice::tells("add a first material: leaves, grass, straw or kitchen scraps, any will do.")
    } else {
        Advice::tells("every amount is zero: move a slider, or type how much there is.")
    }
}

/// Steps towards a right mix; gives back the mix after them.
fn about_mix<'a>(
    mut draft: Draft<'a>,
    mut standing: Standing,
    said: &mut Vec<Advice>,
) -> (Draft<'a>, Standing) {
    let most = said.len() + MOST_ABOUT_MIX;
    while said.len() < most && standing.calls_for_change() {
        let Some(found) = proposal(&draft) else {
            break;
        };
        let worded = proposal_text(&found, &draft);
        let (Some(text), Some(reached)) = (worded, found.after.standing()) else {
            break;
        };
        let then = if said.is_empty() { "" } else { "then " };
        said.push(Advice::proposes(format!("{then}{text}"), found.change));
        (draft, standing) = (found.after, reached);
    }
    (draft, standing)
}

/// Shares and multiples of everything that are easily done.
const FACTORS: [(f64, &str); 14] = [
    (0.1, "a tenth"),
    (0.25, "a quarter"),
    (1.0 / 3.0, "a third"),
    (0.5, "half"),
    (2.0 / 3.0, "two thirds"),
    (0.75, "three quarters"),
    (0.9, "nine tenths"),
    (1.5, "one and a half times as much"),
    (2.0, "twice as much"),
    (2.5, "two and a half times as much"),
    (3.0, "three times as much"),
    (4.0, "four times as much"),
    (5.0, "five times as much"),
    (10.0, "ten times as much"),
];

/// A mix that overflows is cut down; gives back the mix that fits.
fn into_the_room<'a>(
    draft: Draft<'a>,
    standing: Standing,
    locked: bool,
    said: &mut Vec<Advice>,
) -> (Draft<'a>, Standing) {
    let over = |reading: &Reading| reading.judged.fit == Fit::TooHigh;
    let Some(room) = draft
        .room_m3
        .filter(|_| standing.reading(Gauge::Volume).is_some_and(over))
    else {
        return (draft, standing);
    };
    let units = draft.units;
    let volume = draft.totals.volume_m3();
    let (is, has) = (
        crate::outcome::said::volume(volume, units),
        crate::outcome::said::volume(room, units),
    );
    let then = if said.is_empty() { "" } else { "then " };
    let comes = format!("{then}it comes to {is} and there is room for {has}");
    let share = FACTORS.iter().rev().find(|(by, _)| by * volume <= room);
    if let (Some((by, word)), false) = (share, locked) {
        let smaller = draft.scaled(*by);
        if let Some(standing) = smaller.standing() {
            let text = format!("{comes}: {word} of everything fits.");
            said.push(Advice::proposes(text, Change::Scale { by: *by }));
            return (smaller, standing);
        }
    }
    let over = crate::outcome::said::volume(volume - room, units);
    said.push(Advice::tells(format!(
        "{comes}: keep {over} back for later."
    )));
    (draft, standing)
}

/// A room that would stay nearly empty.
fn about_empty_room(
    draft: &Draft<'_>,
    standing: &Standing,
    locked: bool,
    said: &[Advice],
) -> Option<Advice> {
    let room = draft.room_m3?;
    if standing.reading(Gauge::Volume)?.judged.fit != Fit::TooLow {
        return None;
    }
    let volume = draft.totals.volume_m3();
    let then = if said.is_empty() { "" } else { "then " };
    let share = 100.0 * volume / room;
    let (by, word) = FACTORS
        .iter()
        .rev()
        .find(|(by, _)| *by > 1.0 && by * volume <= room)?;
    let fills = 100.0 * by * volume / room;
    let text = format!(
        "{then}it fills {share:.0} % of the room; {word} of everything fills {fills:.0} %."
    );
    Some(if locked || !draft.can_scale(*by) {
        Advice::tells(text)
    } else {
        Advice::proposes(text, Change::Scale { by: *by })
    })
}

/// What the projection of the present mix says.
fn about_heat(
    draft: &Draft<'_>,
    standing: &Standing,
    projection: Option<&Projection>,
    said: &[Advice],
    locked: bool,
) -> Option<Advice> {
    let units = draft.units;
    let unchanged = said.iter().all(|advice| advice.change.is_none());
    let Some(summary) = projection.map(|projection| projection.summary) else {
        return said
            .is_empty()
            .then(|| Advice::tells(right(standing, units, "build it.")));
    };
    let (peak, day) = (
        crate::outcome::said::temperature(summary.peak_c, units),
        summary.peak_day,
    );
    if summary.peak_c < HOT_FROM_C {
        let small = draft.totals.volume_m3() < KEEPS_HEAT_FROM_M3;
        return Some(match (unchanged, small) {
            (true, true) => cold_for_its_size(draft, &peak, locked),
            (true, false) => Advice::tells(format!(
                "it would stay cool, {peak} at most: expect slow rot rather than a hot heap."
            )),
            (false, _) => Advice::tells(format!("as it stands it would reach {peak} at most.")),
        });
    }
    if !unchanged {
        return None;
    }
    if summary.airless_share > SHORT_OF_AIR {
        let share = 100.0 * summary.airless_share;
        return Some(Advice::tells(format!(
            "it would reach {peak}, but {share:.0} % of the rot waits for air: build it loosely and turn it early."
        )));
    }
    let line = if summary.peak_c >= VERY_HOT_FROM_C {
        (VERY_HOT_FROM_C, summary.days_above_55)
    } else {
        (HOT_FROM_C, summary.days_above_40)
    };
    let heat = format!(
        "build it and expect {peak} around day {day:.0}, above {} for {}.",
        crate::outcome::said::temperature(line.0, units),
        days_text(line.1)
    );
    Some(if said.is_empty() {
        Advice::tells(right(standing, units, &heat))
    } else {
        Advice::tells(heat)
    })
}

/// "a day", "12 days", "some hours".
fn days_text(days: f64) -> String {
    match days.round() as i64 {
        0 => "some hours".to_owned(),
        1 => "about a day".to_owned(),
        more => format!("about {more} days"),
    }
}

/// Too small to keep its heat.
fn cold_for_its_size(draft: &Draft<'_>, peak: &str, locked: bool) -> Advice {
    let units = draft.units;
    let volume = draft.totals.volume_m3();
    let is = crate::outcome::said::volume(volume, units);
    if let Some(room) = draft.room_m3.filter(|room| *room < KEEPS_HEAT_FROM_M3) {
        let has = crate::outcome::said::volume(room, units);
        return Advice::tells(format!(
            "a room of {has} is too small to keep heat in: expect {peak} at most, and slow rot."
        ));
    }
    let by = (KEEPS_HEAT_FROM_M3 / volume).ceil().max(2.0);
    if by > MOST_TIMES || !draft.can_scale(by) {
        let keeps = crate::outcome::said::volume(KEEPS_HEAT_FROM_M3, units);
        return Advice::tells(format!(
            "at {is} it would reach {peak} at most; a heap keeps its heat from about {keeps} up."
        ));
    }
    let least = crate::outcome::said::volume(by * volume, units);
    let times = if by == 2.0 {
        "twice".to_owned()
    } else {
        format!("{} times", count_text(by))
    };
    let text = format!(
        "at {is} it would reach {peak} at most; {times} as much of everything ({least}) keeps its heat better."
    );
    let fits = draft.room_m3.is_none_or(|room| by * volume <= room);
    if fits && !locked {
        Advice::proposes(text, Change::Scale { by })
    } else {
        Advice::tells(text)
    }
}

/// "This mix is balanced (C:N 28, moisture 57 %): build it."
fn right(standing: &Standing, units: UnitSystem, rest: &str) -> String {
    let shown = |reading: &Reading| value_text(reading.gauge, reading.value, units);
    let of = |gauge| standing.reading(gauge).map_or_else(String::new, shown);
    let (cn, moisture) = (of(Gauge::CarbonNitrogen), of(Gauge::Moisture));
    let worst = standing
        .readings()
        .max_by(|a, b| a.weighed().total_cmp(&b.weighed()))
        .filter(|worst| worst.weighed() > 0.0);
    match worst {
        Some(worst) if worst.fails() => format!(
            "no small change mends it ({} {}, {}): {rest}",
            super::said::gauge_name(worst.gauge),
            shown(worst),
            worst.judged.word
        ),
        Some(worst) if standing.calls_for_change() => format!(
            "this mix works, {} (C:N {cn}, moisture {moisture}): {rest}",
            worst.judged.word
        ),
        _ => format!("this mix is balanced (C:N {cn}, moisture {moisture}): {rest}"),
    }
}

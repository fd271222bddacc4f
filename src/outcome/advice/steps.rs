//! Which advice is given, in which order: at most three pieces.
//!
//! In: a mix with its blend, the room there is, a projection. Out: [`Advice`], each with its change.
//!
//! Order: a mix that overflows is cut down; then what is wrong with it (each step calculated on the
//! mix after the one before), then the room, then the heat. A mix that is right is told so, with what its curve says.
//!
//! Not here: how a change is found (`propose`) or said (`text::advice`).
//!
//! Tested by: `tests/science/advice.rs`.

use crate::heap::Projection;
use crate::material::{Family, Structure};
use crate::mix::bands::KEEPS_HEAT_FROM_M3;
use crate::mix::{Blend, Change, Fit, Gauge, Mix, Part};
use crate::outcome::sour::souring;
use crate::quantity::Amount;

use super::draft::{Draft, Row};
use super::propose::{Moved, Proposal, proposal};
use super::said::{
    Advice, Factor, GaugeMove, HeatAhead, NamedMaterial, Opening, Says, Step, StepOf, TooMuch, Way,
};
use super::standing::{Reading, Standing, as_read};

/// Most pieces at a time.
const MOST: usize = 3;
/// Most of them about the mix itself, so that room and heat get a word.
const MOST_ABOUT_MIX: usize = 2;
/// A heap that does not reach this stays cold, degC (usual lower end of the hot phase).
const HOT_FROM_C: f64 = 40.0;
/// A heap that reaches this is hot, degC (lower end of what rules on heat ask for).
const VERY_HOT_FROM_C: f64 = 55.0;
/// Most times as much of everything that is worth proposing.
const MOST_TIMES: f64 = 50.0;
/// Share of the decomposition limited by lack of oxygen that is worth a word; `tuned`.
const SHORT_OF_AIR: f64 = 0.15;
/// Least part of the gain that makes a gauge worth naming beside others; `tuned`.
const WORTH_NAMING: f64 = 0.05;

impl Advice {
    pub(super) fn tells(says: Says) -> Self {
        Self {
            says,
            then: false,
            change: None,
        }
    }

    fn proposes(says: Says, change: Change) -> Self {
        Self {
            says,
            then: false,
            change: Some(change),
        }
    }

    /// Going on from what was said before.
    fn after(self, said: &[Self]) -> Self {
        Self {
            then: !said.is_empty(),
            ..self
        }
    }
}

/// How much a person wants to do to a mix.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Effort {
    /// What makes it better.
    Any,
    /// Only what it cannot do without.
    Least,
}

/// [`advise_within`] any effort.
pub fn advise(
    mix: &Mix,
    parts: &[Part<'_>],
    blend: &Blend,
    room_m3: Option<f64>,
    projection: Option<&Projection>,
) -> Vec<Advice> {
    advise_within(Effort::Any, (mix, parts, blend), room_m3, projection)
}

/// What to do next, most important first, with the change each proposes; never dependent on the units a person reads.
///
/// `parts` are the ingredients of `mix` resolved, in order, and `blend` their blend. `room_m3` is
/// what the bin holds, `projection` the present heap's.
pub fn advise_within(
    effort: Effort,
    (mix, parts, blend): (&Mix, &[Part<'_>], &Blend),
    room_m3: Option<f64>,
    projection: Option<&Projection>,
) -> Vec<Advice> {
    let draft = Draft {
        rows: mix
            .ingredients
            .iter()
            .zip(parts)
            .map(|(ingredient, part)| Row {
                material: &part.material,
                amount: part.amount.clone(),
                stock: ingredient.stock,
                settled: ingredient.locked,
            })
            .collect(),
        water_l: mix.added_water_l,
        water_settled: false,
        totals: blend.totals,
        room_m3,
    };
    let Some(standing) = draft.standing() else {
        return vec![beginning(mix)];
    };
    if let Some(named) = no_base(&draft, blend) {
        return vec![Advice::tells(Says::NoBase(named))];
    }
    let locked = mix.ingredients.iter().any(|row| row.locked);
    let mut said = Vec::new();
    let (draft, standing) = into_the_room(draft, standing, locked, &mut said);
    let over = !said.is_empty();
    let (mut draft, mut standing) = about_mix(effort, draft, standing, &mut said);
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

/// A material that makes up nearly all of the mix and is none to build a heap of.
fn no_base(draft: &Draft<'_>, blend: &Blend) -> Option<NamedMaterial> {
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
    (additive || material.structure == Structure::Liquid).then(|| draft.named(material))
}

/// Nothing that could rot yet.
fn beginning(mix: &Mix) -> Advice {
    Advice::tells(if mix.added_water_l > 0.0 {
        Says::OnlyWater
    } else if mix.ingredients.is_empty() {
        Says::FirstMaterial
    } else {
        Says::NoAmounts
    })
}

/// Steps towards a right mix; gives back the mix after them.
fn about_mix<'a>(
    effort: Effort,
    mut draft: Draft<'a>,
    mut standing: Standing,
    said: &mut Vec<Advice>,
) -> (Draft<'a>, Standing) {
    let most = said.len() + MOST_ABOUT_MIX;
    let wanted = |standing: &Standing| match effort {
        Effort::Any => standing.calls_for_change(),
        Effort::Least => standing.fails(),
    };
    while said.len() < most && wanted(&standing) {
        let Some(found) = proposal(&draft) else {
            break;
        };
        let Some(reached) = found.after.standing() else {
            break;
        };
        let Some(step) = step(&found, &draft, (&standing, &reached)) else {
            break;
        };
        let advice = Advice::proposes(Says::Step(step), found.change).after(said);
        said.push(advice);
        (draft, standing) = (found.after, reached);
    }
    (draft, standing)
}

/// What a proposal does and brings; `None` where rounding hides all it brings.
fn step(
    proposal: &Proposal<'_>,
    before: &Draft<'_>,
    (from, to): (&Standing, &Standing),
) -> Option<Step> {
    let mut better: Vec<(f64, GaugeMove)> = Vec::new();
    let mut worse = Vec::new();
    for after in to.readings() {
        let Some(was) = from.reading(after.gauge) else {
            continue;
        };
        let gain = was.weighed() - after.weighed();
        let moved = GaugeMove {
            gauge: after.gauge,
            from: was.value,
            to: after.value,
            from_fit: was.fit,
            to_fit: after.fit,
            edge: after.edge,
            worth_naming: gain >= WORTH_NAMING,
        };
        if got_worse(was, after) {
            worse.push(moved);
        } else if was.off > after.off {
            better.push((gain, moved));
        }
    }
    better.sort_by(|a, b| b.0.total_cmp(&a.0));
    let seen =
        |moved: &GaugeMove| as_read(moved.gauge, moved.from) != as_read(moved.gauge, moved.to);
    let any = better.iter().any(|(_, moved)| seen(moved));
    any.then(|| Step {
        of: step_of(proposal, before),
        better: better.into_iter().map(|(_, moved)| moved).collect(),
        worse,
    })
}

/// What is done.
fn step_of(proposal: &Proposal<'_>, before: &Draft<'_>) -> StepOf {
    let step = &proposal.step;
    let amount = Amount::new(step.value.abs(), step.measure.clone());
    match proposal.moved {
        Moved::Water if proposal.all_of_it => StepOf::NoWater,
        Moved::Water => StepOf::Water { litres: step.value },
        Moved::Row(_, material) if proposal.all_of_it => StepOf::LeaveOut(before.named(material)),
        Moved::Row(place, material) => StepOf::Ingredient {
            named: before.named(material),
            amount,
            way: if step.value < 0.0 {
                Way::Less
            } else if before.rows[place].amount.value > 0.0 {
                Way::More
            } else {
                Way::Fresh
            },
        },
        Moved::Kind(kind, _) => StepOf::Fetch {
            called: kind.called.clone(),
            amount,
        },
    }
}

/// Whether a gauge got worse outside its band in a way to mention: it left its band on a side that
/// matters, or it now fails and did not before or went further off, or what it costs grew.
fn got_worse(before: &Reading, after: &Reading) -> bool {
    let further = after.off > before.off;
    let left = before.is_good() && further && after.weight() > 0.0;
    let fails = after.fails() && (further || before.fit != after.fit && !before.fails());
    let crossed = after.fails() && before.fails() && before.fit != after.fit;
    left || fails || crossed || after.weighed() - before.weighed() >= WORTH_NAMING
}

/// A mix that overflows is cut down; gives back the mix that fits.
fn into_the_room<'a>(
    draft: Draft<'a>,
    standing: Standing,
    locked: bool,
    said: &mut Vec<Advice>,
) -> (Draft<'a>, Standing) {
    let over = |reading: &Reading| reading.fit == Fit::TooHigh;
    let Some(room) = draft
        .room_m3
        .filter(|_| standing.reading(Gauge::Volume).is_some_and(over))
    else {
        return (draft, standing);
    };
    let volume_m3 = draft.totals.volume_m3();
    let too_much = |remedy| Says::TooMuch {
        volume_m3,
        room_m3: room,
        remedy,
    };
    let mut falling = Factor::ALL.into_iter().rev();
    let share = falling.find(|factor| factor.value() * volume_m3 <= room);
    if let (Some(factor), false) = (share, locked) {
        let smaller = draft.scaled(factor.value());
        if let Some(standing) = smaller.standing() {
            let change = Change::Scale { by: factor.value() };
            let says = too_much(TooMuch::ShareFits(factor));
            said.push(Advice::proposes(says, change).after(said));
            return (smaller, standing);
        }
    }
    let m3 = volume_m3 - room;
    said.push(Advice::tells(too_much(TooMuch::KeepBack { m3 })).after(said));
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
    if standing.reading(Gauge::Volume)?.fit != Fit::TooLow {
        return None;
    }
    let volume = draft.totals.volume_m3();
    let mut falling = Factor::ALL.into_iter().rev();
    let fits = |it: &Factor| it.value() > 1.0 && it.value() * volume <= room;
    let factor = falling.find(|it| fits(it) && draft.has(it.value()))?;
    let by = factor.value();
    let says = Says::FillsLittle {
        share: volume / room,
        factor,
        fills: by * volume / room,
    };
    let advice = if locked || !draft.can_scale(by) {
        Advice::tells(says)
    } else {
        Advice::proposes(says, Change::Scale { by })
    };
    Some(advice.after(said))
}

/// What the projection of the present mix says.
fn about_heat(
    draft: &Draft<'_>,
    standing: &Standing,
    projection: Option<&Projection>,
    said: &[Advice],
    locked: bool,
) -> Option<Advice> {
    let unchanged = said.iter().all(|advice| advice.change.is_none());
    let opening = || said.is_empty().then(|| opening(standing)).flatten();
    let sour = projection.and_then(souring);
    let Some(summary) = projection.map(|projection| projection.summary) else {
        let heat = None;
        let opening = opening();
        return (said.is_empty()).then(|| Advice::tells(Says::Build { opening, heat }));
    };
    let peak_c = summary.peak_c;
    if let Some(sour) = sour {
        let (share, ph) = (sour.share, sour.ph);
        return Some(Advice::tells(if peak_c < HOT_FROM_C {
            Says::ColdAndSour { peak_c, ph }
        } else {
            Says::TurnsSour { peak_c, share, ph }
        }));
    }
    if peak_c < HOT_FROM_C {
        let small = draft.totals.volume_m3() < KEEPS_HEAT_FROM_M3;
        return Some(match (unchanged, small) {
            (true, true) => cold_for_its_size(draft, peak_c, locked),
            (true, false) => Advice::tells(Says::StaysCool { peak_c }),
            (false, _) => Advice::tells(Says::AsItStands { peak_c }),
        });
    }
    if !unchanged {
        return None;
    }
    if summary.airless_share > SHORT_OF_AIR {
        let share = summary.airless_share;
        return Some(Advice::tells(Says::ShortOfAir { peak_c, share }));
    }
    let (above_c, days) = if peak_c >= VERY_HOT_FROM_C {
        (VERY_HOT_FROM_C, summary.days_above_55)
    } else {
        (HOT_FROM_C, summary.days_above_40)
    };
    let heat = HeatAhead {
        peak_c,
        peak_day: summary.peak_day,
        above_c,
        days,
    };
    Some(Advice::tells(Says::Build {
        opening: opening(),
        heat: Some(heat),
    }))
}

/// Too small to keep its heat.
fn cold_for_its_size(draft: &Draft<'_>, peak_c: f64, locked: bool) -> Advice {
    let volume_m3 = draft.totals.volume_m3();
    if let Some(room_m3) = draft.room_m3.filter(|room| *room < KEEPS_HEAT_FROM_M3) {
        return Advice::tells(Says::RoomTooSmall { room_m3, peak_c });
    }
    let times = (KEEPS_HEAT_FROM_M3 / volume_m3).ceil().max(2.0);
    if times > MOST_TIMES || !draft.can_scale(times) {
        return Advice::tells(Says::TooSmall {
            volume_m3,
            peak_c,
            keeps_from_m3: KEEPS_HEAT_FROM_M3,
        });
    }
    let to_m3 = times * volume_m3;
    let says = Says::Grow {
        volume_m3,
        peak_c,
        times,
        to_m3,
    };
    let fits = draft.room_m3.is_none_or(|room| to_m3 <= room);
    if fits && !locked {
        Advice::proposes(says, Change::Scale { by: times })
    } else {
        Advice::tells(says)
    }
}

/// What a mix is like that is not to be changed.
fn opening(standing: &Standing) -> Option<Opening> {
    let of = |gauge| standing.reading(gauge).map(|reading| reading.value);
    let (cn, moisture) = (of(Gauge::CarbonNitrogen)?, of(Gauge::Moisture)?);
    // Where nothing that matters is off, the one that is furthest off by itself: "balanced" is never said beside a
    // gauge that is not, nor "works" beside one that fails.
    let by_weight = |a: &&Reading, b: &&Reading| {
        let weighed = a.weighed().total_cmp(&b.weighed());
        let fails = a.fails().cmp(&b.fails());
        fails.then(weighed).then(a.off.total_cmp(&b.off))
    };
    let worst = standing
        .readings()
        .filter(|it| !it.is_good())
        .max_by(by_weight);
    Some(match worst {
        Some(worst) if worst.fails() => Opening::Fails {
            gauge: worst.gauge,
            value: worst.value,
            fit: worst.fit,
        },
        Some(worst) => Opening::Works {
            cn,
            moisture,
            gauge: worst.gauge,
            fit: worst.fit,
        },
        None => Opening::Balanced { cn, moisture },
    })
}

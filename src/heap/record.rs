//! What a run writes down: series, pictures, parcels, durations.
//!
//! In: the body after every step and operation. Out: a [`Projection`].
//!
//! Durations above a temperature are integrated with a straight line between steps, never counted from
//! records.
//!
//! Not here: where parcels lie (`parcels`).
//!
//! Tested by: `tests/science/events.rs`, `tests/science/heap_cases.rs`.

use super::body::Body;
use super::cell::heat_capacity;
use super::operation::{Operation, Turning};
use super::parcels::Parcels;
use super::places::temperature_at;
use super::projection::{Ended, Field, Hottest, Left, Projection, Record, SectionGrid, Summary};
use super::resolution::Resolution;

/// Most records for which room is set aside beforehand.
const MOST_RESERVED: f64 = 1.0e5;
/// Distance of the edge probe from the side, m (common practice: a hand's breadth in).
const EDGE_M: f64 = 0.1;
/// Temperatures above which the time is summed up, degC.
const TIMED_ABOVE_C: [f64; 2] = [40.0, 55.0];

/// The centre at one moment.
#[derive(Clone, Copy)]
struct Moment {
    centre_c: f64,
    day: f64,
}

/// Collects a projection.
pub(super) struct Recorder {
    record_days: f64,
    /// Time between fields; `None` keeps neither fields nor parcels.
    field_days: Option<f64>,
    records: Vec<Record>,
    fields: Vec<Field>,
    grids: Vec<SectionGrid>,
    parcels: Parcels,
    last: Moment,
    peak: Moment,
    hottest: Hottest,
    days_above: [f64; 2],
    next_record: f64,
    next_field: f64,
    /// Dry matter put in so far, kg.
    dry_put_in_kg: f64,
}

impl Recorder {
    /// A recorder for a heap just built.
    pub(super) fn new(body: &Body<'_>, resolution: &Resolution) -> Self {
        let reserved = (body.heap.days * 24.0 / resolution.record_hours).min(MOST_RESERVED);
        let mut this = Self {
            record_days: resolution.record_hours / 24.0,
            field_days: resolution.field_hours.map(|hours| hours / 24.0),
            records: Vec::with_capacity(reserved as usize + 8),
            fields: Vec::new(),
            grids: Vec::new(),
            parcels: Parcels::none(),
            last: moment(body),
            peak: Moment {
                centre_c: f64::NEG_INFINITY,
                day: 0.0,
            },
            hottest: hottest_beyond(body, f64::NEG_INFINITY).unwrap_or(Hottest {
                temperature_c: f64::NEG_INFINITY,
                day: 0.0,
                up: 0.0,
                out: 0.0,
            }),
            days_above: [0.0; 2],
            next_record: 0.0,
            next_field: 0.0,
            dry_put_in_kg: body.ledger.dry_start_kg,
        };
        if this.field_days.is_some() {
            this.grids
                .push(SectionGrid::of(&body.grid, body.skin.multiple, 0.0));
            this.parcels = Parcels::laid_in(&body.grid);
        }
        this
    }

    /// After every step.
    pub(super) fn take(&mut self, body: &Body<'_>) {
        let now = moment(body);
        let before = self.last;
        if now.centre_c > self.peak.centre_c {
            self.peak = now;
        }
        if let Some(hottest) = hottest_beyond(body, self.hottest.temperature_c) {
            self.hottest = hottest;
        }
        for (sum, limit) in self.days_above.iter_mut().zip(TIMED_ABOVE_C) {
            *sum +=
                share_above(before.centre_c - limit, now.centre_c - limit) * (now.day - before.day);
        }
        self.last = now;
        if body.day >= self.next_record - 1e-9 || self.records.is_empty() {
            self.records.push(record(body));
            self.next_record = body.day + self.record_days;
        }
        if let Some(days) = self.field_days
            && body.day >= self.next_field - 1e-9
        {
            self.draw(body);
            self.next_field = body.day + days;
        }
    }

    /// After an operation: the state has jumped, and parcels may lie elsewhere.
    pub(super) fn after_operation(&mut self, body: &Body<'_>, operation: &Operation) {
        self.last = moment(body);
        let now = record(body);
        let dry_kg = now.dry_kg;
        self.records.push(now);
        if self.field_days.is_none() {
            return;
        }
        let (grid, from_field) = (&body.grid, self.fields.len());
        match operation {
            Operation::Turn {
                turning: Turning::Remix,
                ..
            } => self.parcels.shuffle(grid, from_field),
            Operation::Turn {
                turning: Turning::InsideOut,
                ..
            } => self.parcels.turn_inside_out(grid, from_field),
            Operation::Add { placing, .. } => {
                self.grids
                    .push(SectionGrid::of(grid, body.skin.multiple, body.day));
                let share = self.added_share(body, dry_kg);
                self.parcels.add(grid, share, *placing, from_field);
            }
            Operation::Water { .. } | Operation::Pour { .. } | Operation::Cover(_) => {}
        }
        self.draw(body);
        if let Some(field) = self.fields.last_mut() {
            field.jumped = true;
        }
    }

    /// Share of the dry matter `dry_kg` now there that was added since the last addition, 0-1.
    fn added_share(&mut self, body: &Body<'_>, dry_kg: f64) -> f64 {
        let put_in = body.ledger.dry_start_kg;
        let added = put_in - self.dry_put_in_kg;
        self.dry_put_in_kg = put_in;
        (added / dry_kg.max(1e-12)).clamp(0.0, 1.0)
    }

    fn draw(&mut self, body: &Body<'_>) {
        self.fields
            .push(field(body, self.grids.len().saturating_sub(1)));
    }

    /// Closes the run into a projection.
    pub(super) fn finish(mut self, body: &Body<'_>, ended: Ended, steps: usize) -> Projection {
        if self
            .records
            .last()
            .is_none_or(|record| record.day < body.day)
        {
            self.records.push(record(body));
        }
        let ledger = body.ledger;
        let share = |part: f64, whole: f64| if whole > 0.0 { part / whole } else { 0.0 };
        let summary = Summary {
            peak_c: self.peak.centre_c,
            peak_day: self.peak.day,
            hottest: self.hottest,
            days_above_40: self.days_above[0],
            days_above_55: self.days_above[1],
            airless_share: share(
                body.wanted_carbon_kg - ledger.carbon_oxidised_kg,
                body.wanted_carbon_kg,
            ),
            nitrogen_lost_share: share(ledger.nitrogen_lost_kg(), ledger.nitrogen_start_kg),
            dry_matter_lost_share: share(
                ledger.dry_start_kg - ledger.dry_end_kg,
                ledger.dry_start_kg,
            ),
        };
        Projection {
            records: self.records,
            fields: self.fields,
            grids: self.grids,
            parcels: self.parcels.into_list(),
            summary,
            ledger,
            ended,
            steps,
        }
    }
}

/// Share of a straight line from `a` to `b` that lies at or above 0.
fn share_above(a: f64, b: f64) -> f64 {
    match (a >= 0.0, b >= 0.0) {
        (true, true) => 1.0,
        (false, false) => 0.0,
        _ => a.max(b) / (a - b).abs(),
    }
}

/// Height of the probes as a share of the whole: a sloping heap is widest at its foot, so its middle lies a third up.
fn probe_height(body: &Body<'_>) -> f64 {
    if body.skin.outline.upright { 0.5 } else { 0.33 }
}

fn moment(body: &Body<'_>) -> Moment {
    Moment {
        centre_c: temperature_at(&body.grid, &body.state.temperature, 0.0, probe_height(body)),
        day: body.day,
    }
}

fn record(body: &Body<'_>) -> Record {
    let grid = &body.grid;
    let s = &body.state;
    let sloping = !body.skin.outline.upright;
    let half = probe_height(body);
    let extent = grid.edges_across_m[grid.across];
    let reach = if sloping {
        extent * (1.0 - half)
    } else {
        extent
    };
    let (mut heat, mut capacity, mut oxygen, mut volume) = (0.0, 0.0, 0.0, 0.0);
    let (mut water, mut dry, mut nitrogen, mut settled) = (0.0, 0.0, 0.0, 0.0);
    let mut left = Left {
        carbon_share: body.carbon_share,
        ..Left::default()
    };
    for c in grid.cells() {
        let v = grid.volume_m3[c];
        let d = body.dry(c);
        let own = heat_capacity(d, s.water[c]) * v;
        heat += own * s.temperature[c];
        capacity += own;
        oxygen += s.oxygen[c] * v;
        volume += v;
        water += s.water[c] * v;
        dry += d * v;
        nitrogen += body.matter.nitrogen(s, c) * v;
        // A loose skin tells no more room than was filled.
        settled += body.properties.settled[c].min(body.properties.loose[c]) * v;
        let many = v * body.skin.multiple;
        left.carbon_kg += (s.carbon_in(c) + body.matter.inert_carbon[c]) * many;
        left.microbes_kg += s.microbes[c] * many;
        for (sum, pool) in left.pools_kg.iter_mut().zip(&s.carbon) {
            *sum += pool[c] * many;
        }
    }
    let many = body.skin.multiple;
    let probe_c = |distance_m: f64| temperature_at(grid, &s.temperature, distance_m, half);
    Record {
        day: body.day,
        centre_c: probe_c(0.0),
        middle_c: probe_c(0.5 * reach),
        edge_c: probe_c((reach - EDGE_M).max(0.6 * reach)),
        mean_c: heat / capacity,
        ambient_c: body.heap.climate.air_c(body.day_of_year()),
        moisture: water / (water + dry),
        oxygen: oxygen / volume,
        dry_kg: dry * many,
        water_kg: water * many,
        nitrogen_kg: nitrogen * many,
        ammonia_kg: body.ledger.nitrogen_ammonia_kg,
        volume_m3: settled * many,
        left,
    }
}

/// The hottest cell as the heap stands, if it is hotter than this, degC.
fn hottest_beyond(body: &Body<'_>, limit_c: f64) -> Option<Hottest> {
    let (grid, temperature) = (&body.grid, &body.state.temperature);
    let (mut found, mut most) = (None, limit_c);
    for c in grid.cells() {
        if temperature[c] > most {
            (found, most) = (Some(c), temperature[c]);
        }
    }
    let cell = found?;
    let (column, row) = (cell % grid.stride, cell / grid.stride);
    // The grid has a rim of one cell, so that cell 1 lies between edges 0 and 1.
    let middle = |edges: &[f64], place: usize| {
        let around = place.checked_sub(1).and_then(|low| edges.get(low..=place));
        let last = edges.last().copied().unwrap_or(1.0);
        around.map_or(0.0, |pair| 0.5 * (pair[0] + pair[1]) / last)
    };
    Some(Hottest {
        temperature_c: most,
        day: body.day,
        up: middle(&grid.edges_up_m, row),
        out: middle(&grid.edges_across_m, column),
    })
}

fn field(body: &Body<'_>, grid: usize) -> Field {
    let s = &body.state;
    let room = || Vec::with_capacity(body.grid.len);
    let mut field = Field {
        day: body.day,
        grid,
        jumped: false,
        temperature_c: room(),
        moisture: room(),
        oxygen: room(),
        left_to_rot: room(),
        ph: room(),
    };
    for c in body.grid.cells() {
        let built: f64 = body.matter.fast_as_built[c].max(1e-12);
        field.temperature_c.push(s.temperature[c] as f32);
        field
            .moisture
            .push((s.water[c] / (s.water[c] + body.dry(c))) as f32);
        field.oxygen.push(s.oxygen[c] as f32);
        field
            .left_to_rot
            .push((s.carbon[0][c] / built).clamp(0.0, 1.0) as f32);
        field.ph.push(body.properties.ph(c) as f32);
    }
    field
}

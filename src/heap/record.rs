//! What a run writes down: series, pictures, parcels, durations.
//!
//! In: the run after every step. Out: a [`Projection`].
//!
//! Durations above a temperature are integrated with a straight line between steps, never counted from
//! records. Parcels are equal lumps placed by volume; each remembers which cell it lay in and when, so
//! its own heat history can be read from the fields.
//!
//! Tested by: `tests/science/events.rs`, `tests/science/heap_cases.rs`.

use super::cell::heat_capacity;
use super::event::by_depth;
use super::grid::Grid;
use super::plan::{Operation, Placing, Turning};
use super::projection::{Ended, Field, Left, Parcel, Projection, Record, SectionGrid, Summary};
use super::rot::{self, Pools};
use super::run::Run;

/// Carbon dioxide carbon per organic matter and day below which compost counts as finished, kg/kg d
/// (2 mg/g d, the line between mature and very mature of the California index; from memory).
const FINISHED_PER_DAY: f64 = 0.002;
/// Temperature at which that breathing is measured, degC.
const FINISHED_AT_C: f64 = 37.0;
/// Mineral nitrogen that no cell could use up in a day, kg/m3: breathing is measured without want.
const AMPLE_NITROGEN_KG_PER_M3: f64 = 1.0e3;
/// Number of parcels followed.
pub const PARCELS: usize = 256;
/// Most records for which room is set aside beforehand.
const MOST_RESERVED: f64 = 1.0e5;
/// Distance of the edge probe from the side, m.
const EDGE_M: f64 = 0.1;

/// Collects a projection.
pub(super) struct Recorder {
    records: Vec<Record>,
    fields: Vec<Field>,
    grids: Vec<SectionGrid>,
    parcels: Vec<Parcel>,
    last: Record,
    peak: (f64, f64),
    above: [f64; 2],
    finished_day: Option<f64>,
    next_record: f64,
    next_field: f64,
    seed: u64,
    /// Dry matter put in so far, kg.
    dry_put_in_kg: f64,
}

impl Recorder {
    pub(super) fn new(run: &Run<'_>) -> Self {
        let mut this = Self {
            records: Vec::with_capacity(
                (run.heap.days * 24.0 / run.settings.record_hours).min(MOST_RESERVED) as usize + 8,
            ),
            fields: Vec::new(),
            grids: Vec::new(),
            parcels: Vec::new(),
            last: record(run),
            peak: (f64::NEG_INFINITY, 0.0),
            above: [0.0; 2],
            finished_day: None,
            next_record: 0.0,
            next_field: 0.0,
            seed: 0x9E37_79B9_7F4A_7C15,
            dry_put_in_kg: run.ledger.dry_start_kg,
        };
        if run.settings.field_hours.is_some() {
            this.grids
                .push(SectionGrid::of(&run.grid, run.skin.multiple, 0.0));
            this.parcels = (0..PARCELS).map(|_| Parcel { stays: Vec::new() }).collect();
            let places = places_by_volume(&run.grid);
            this.lay_parcels(&places);
        }
        this
    }

    /// After every step.
    pub(super) fn take(&mut self, run: &Run<'_>) {
        let now = record(run);
        let before = self.last;
        if now.centre_c > self.peak.0 {
            self.peak = (now.centre_c, now.day);
        }
        for (sum, limit) in self.above.iter_mut().zip([40.0, 55.0]) {
            *sum +=
                share_above(before.centre_c - limit, now.centre_c - limit) * (now.day - before.day);
        }
        self.last = now;
        if run.day >= self.next_record - 1e-9 || self.records.is_empty() {
            self.records.push(now);
            self.next_record = run.day + run.settings.record_hours / 24.0;
            if self.finished_day.is_none() && breathing_per_day(run) < FINISHED_PER_DAY {
                self.finished_day = Some(run.day);
            }
        }
        if let Some(hours) = run.settings.field_hours
            && run.day >= self.next_field - 1e-9
        {
            self.fields
                .push(field(run, self.grids.len().saturating_sub(1)));
            self.next_field = run.day + hours / 24.0;
        }
    }

    /// After a operation: the state has jumped, and parcels may lie elsewhere.
    pub(super) fn after_operation(&mut self, run: &Run<'_>, operation: &Operation) {
        self.last = record(run);
        self.records.push(self.last);
        if run.settings.field_hours.is_none() {
            return;
        }
        let places = places_by_volume(&run.grid);
        match operation {
            Operation::Turn {
                turning: Turning::Remix,
                ..
            } => self.shuffle(&places),
            Operation::Turn {
                turning: Turning::InsideOut,
                ..
            } => self.turn_inside_out(run, &places),
            Operation::Add { placing, .. } => {
                self.grids
                    .push(SectionGrid::of(&run.grid, run.skin.multiple, run.day));
                self.add(run, *placing, &places);
            }
            Operation::Water { .. } | Operation::Cover(_) => {}
        }
        self.fields
            .push(field(run, self.grids.len().saturating_sub(1)));
    }

    fn lay_parcels(&mut self, places: &[usize]) {
        let from = self.fields.len();
        for (parcel, &cell) in self.parcels.iter_mut().zip(places) {
            parcel.stays.push((from, cell));
        }
    }

    /// As many parcels as the share of what is added begin anew; on top they lie highest. Which of the old
    /// ones are still followed is drawn by lot.
    fn add(&mut self, run: &Run<'_>, placing: Placing, places: &[usize]) {
        let put_in = run.ledger.dry_start_kg;
        let added = put_in - self.dry_put_in_kg;
        self.dry_put_in_kg = put_in;
        let share = (added / self.last.dry_kg.max(1e-12)).clamp(0.0, 1.0);
        let fresh = (share * PARCELS as f64).round() as usize;
        let mut lots: Vec<usize> = (0..self.parcels.len()).collect();
        self.mix(&mut lots);
        let (new, old) = lots.split_at(fresh.min(lots.len()));
        for &parcel in new {
            self.parcels[parcel].stays.clear();
        }
        // Places rise from the ground up.
        let mut order = old.to_vec();
        if placing == Placing::OnTop {
            order.sort_by_key(|&i| (self.parcels[i].stays.last().map(|stay| stay.1), i));
        }
        order.extend(new);
        if placing == Placing::MixedIn {
            self.mix(&mut order);
        }
        let from = self.fields.len();
        for (parcel, &cell) in order.into_iter().zip(places) {
            self.parcels[parcel].stays.push((from, cell));
        }
    }

    /// Into a random order (Fisher and Yates).
    fn mix(&mut self, list: &mut [usize]) {
        for i in (1..list.len()).rev() {
            let j = (self.random() % (i as u64 + 1)) as usize;
            list.swap(i, j);
        }
    }

    /// Every parcel to a random place (seeded): a full remix has no memory of layers.
    fn shuffle(&mut self, places: &[usize]) {
        let mut places = places.to_vec();
        self.mix(&mut places);
        self.lay_parcels(&places);
    }

    /// Parcels of the skin to the middle and the other way round.
    fn turn_inside_out(&mut self, run: &Run<'_>, places: &[usize]) {
        let depth = by_depth(&run.grid);
        let rank = |cell: usize| depth.iter().position(|&c| c == cell).unwrap_or(0);
        let mut parcels: Vec<usize> = (0..self.parcels.len()).collect();
        parcels.sort_by_key(|&i| {
            (
                self.parcels[i].stays.last().map_or(0, |stay| rank(stay.1)),
                i,
            )
        });
        let mut targets = places.to_vec();
        targets.sort_by_key(|&cell| std::cmp::Reverse(rank(cell)));
        let from = self.fields.len();
        for (parcel, cell) in parcels.into_iter().zip(targets) {
            self.parcels[parcel].stays.push((from, cell));
        }
    }

    /// Next number of a small generator (xorshift64*, Vigna 2016).
    fn random(&mut self) -> u64 {
        self.seed ^= self.seed >> 12;
        self.seed ^= self.seed << 25;
        self.seed ^= self.seed >> 27;
        self.seed.wrapping_mul(0x2545_F491_4F6C_DD1D) >> 16
    }

    /// Closes the run into a projection.
    pub(super) fn finish(mut self, mut run: Run<'_>, ended: Ended) -> Projection {
        run.book_end();
        if self
            .records
            .last()
            .is_none_or(|record| record.day < run.day)
        {
            self.records.push(record(&run));
        }
        let ledger = run.ledger;
        let share = |part: f64, whole: f64| if whole > 0.0 { part / whole } else { 0.0 };
        let summary = Summary {
            peak_c: self.peak.0,
            peak_day: self.peak.1,
            days_above_40: self.above[0],
            days_above_55: self.above[1],
            airless_share: share(
                run.wanted_carbon - ledger.carbon_oxidised_kg,
                run.wanted_carbon,
            ),
            nitrogen_lost_share: share(ledger.nitrogen_ammonia_kg, ledger.nitrogen_start_kg),
            dry_matter_lost_share: share(
                ledger.dry_start_kg - ledger.dry_end_kg,
                ledger.dry_start_kg,
            ),
            finished_day: self.finished_day,
        };
        Projection {
            records: self.records,
            fields: self.fields,
            grids: self.grids,
            parcels: self.parcels,
            summary,
            ledger,
            ended,
            steps: run.steps(),
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

/// Cells of parcels: as many in each as its volume asks, in rising order.
fn places_by_volume(grid: &Grid) -> Vec<usize> {
    let total = grid.total_volume_m3();
    let mut places = Vec::with_capacity(PARCELS);
    let mut reached = 0.0;
    for c in grid.cells() {
        reached += grid.volume_m3[c] / total * PARCELS as f64;
        while (places.len() as f64) + 0.5 < reached && places.len() < PARCELS {
            places.push(c);
        }
    }
    while places.len() < PARCELS {
        places.push(grid.cell(0, 0));
    }
    places
}

/// Column and row of a place given as shares of width and height, and how far between rows.
fn column_at(grid: &Grid, distance: f64) -> usize {
    let found = grid.edges_across_m[1..]
        .iter()
        .position(|&edge| edge >= distance);
    found.unwrap_or(grid.across - 1)
}

/// Temperature at a distance from the middle and a share of the height, straight between rows.
fn temperature_at(run: &Run<'_>, distance: f64, height_share: f64) -> f64 {
    let grid = &run.grid;
    let column = column_at(grid, distance);
    let z = height_share * grid.edges_up_m[grid.up];
    let middle = |row: usize| 0.5 * (grid.edges_up_m[row] + grid.edges_up_m[row + 1]);
    let above = (0..grid.up)
        .find(|&row| middle(row) >= z)
        .unwrap_or(grid.up - 1);
    let below = above.saturating_sub(1);
    let at = |row: usize| {
        let mut column = column;
        while column > 0 && !grid.active[grid.cell(column, row)] {
            column -= 1;
        }
        run.state.temperature[grid.cell(column, row)]
    };
    if above == below {
        return at(above);
    }
    let share = ((z - middle(below)) / (middle(above) - middle(below))).clamp(0.0, 1.0);
    at(below) * (1.0 - share) + at(above) * share
}

fn record(run: &Run<'_>) -> Record {
    let grid = &run.grid;
    let s = &run.state;
    let sloping = !run.skin.outline.upright;
    // A sloping heap is widest at its foot: its middle lies a third up, its edge probe low.
    let half = if sloping { 0.33 } else { 0.5 };
    let extent = grid.edges_across_m[grid.across];
    let reach = if sloping {
        extent * (1.0 - half)
    } else {
        extent
    };
    let (mut heat, mut capacity, mut oxygen, mut volume) = (0.0, 0.0, 0.0, 0.0);
    let (mut water, mut dry, mut nitrogen, mut settled) = (0.0, 0.0, 0.0, 0.0);
    let mut left = Left {
        carbon_share: run.carbon_share,
        ..Left::default()
    };
    for c in grid.cells() {
        let v = grid.volume_m3[c];
        let d = run.matter.dry(s, c, run.carbon_share);
        let own = heat_capacity(d, s.water[c]) * v;
        heat += own * s.temperature[c];
        capacity += own;
        oxygen += s.oxygen[c] * v;
        volume += v;
        water += s.water[c] * v;
        dry += d * v;
        nitrogen += run.matter.nitrogen(s, c, run.kinetics.microbe_cn) * v;
        settled += run.properties.settled[c] * v;
        let many = v * run.skin.multiple;
        left.carbon_kg += (s.carbon_in(c) + run.matter.inert_carbon[c]) * many;
        left.microbes_kg += s.microbes[c] * many;
        for (sum, pool) in left.pools_kg.iter_mut().zip(&s.carbon) {
            *sum += pool[c] * many;
        }
    }
    let many = run.skin.multiple;
    Record {
        day: run.day,
        centre_c: temperature_at(run, 0.0, half),
        middle_c: temperature_at(run, 0.5 * reach, half),
        edge_c: temperature_at(run, (reach - EDGE_M).max(0.6 * reach), half),
        mean_c: heat / capacity,
        ambient_c: run.heap.climate.air_c(run.day_of_year()),
        moisture: water / (water + dry),
        oxygen: oxygen / volume,
        dry_kg: dry * many,
        water_kg: water * many,
        nitrogen_kg: nitrogen * many,
        volume_m3: settled * many,
        left,
    }
}

fn field(run: &Run<'_>, grid: usize) -> Field {
    let cells = run.grid.cells();
    let s = &run.state;
    let room = || Vec::with_capacity(run.grid.len);
    let mut field = Field {
        day: run.day,
        grid,
        temperature_c: room(),
        moisture: room(),
        oxygen: room(),
        left_to_rot: room(),
    };
    for c in cells {
        let dry = run.matter.dry(s, c, run.carbon_share);
        let built: f64 = run.matter.fast_as_built[c].max(1e-12);
        field.temperature_c.push(s.temperature[c] as f32);
        field
            .moisture
            .push((s.water[c] / (s.water[c] + dry)) as f32);
        field.oxygen.push(s.oxygen[c] as f32);
        field
            .left_to_rot
            .push((s.carbon[0][c] / built).clamp(0.0, 1.0) as f32);
    }
    field
}

/// Carbon that what is left would breathe out per organic matter, moist and airy at 37 degC, kg/kg d.
fn breathing_per_day(run: &Run<'_>) -> f64 {
    let k = &run.kinetics;
    let temperature = rot::temperature_factor(FINISHED_AT_C, k.cardinal_c);
    let s = &run.state;
    let (mut breath, mut organic) = (0.0, 0.0);
    for c in run.grid.cells() {
        let pools = Pools {
            carbon: std::array::from_fn(|i| s.carbon[i][c]),
            microbes: s.microbes[c],
            mineral_nitrogen: AMPLE_NITROGEN_KG_PER_M3,
            nitrogen_per_carbon: [0.0; 3],
        };
        let v = run.grid.volume_m3[c];
        breath += v * rot::rates(&pools, temperature, temperature, k).oxidised;
        organic += v * (s.carbon_in(c) + run.matter.inert_carbon[c]) / run.carbon_share;
    }
    breath / organic.max(1e-12)
}

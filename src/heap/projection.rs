//! The simulated history of a heap.
//!
//! In: what the simulator records. Out: series, pictures, parcels and a summary that can be drawn,
//! judged and compared.
//!
//! A projection is always computed, never saved.
//!
//! Not here: writing it down (`record`), judging it (`outcome`).
//!
//! Tested by: `tests/science/heap_cases.rs`, `tests/science/ledgers.rs`.

use super::grid::{Grid, Symmetry};

/// The heap at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Record {
    /// Days since the start.
    pub day: f64,
    /// Temperature at the centre, degC.
    pub centre_c: f64,
    /// Temperature halfway between centre and side, degC.
    pub middle_c: f64,
    /// Temperature 10 cm below the side, degC.
    pub edge_c: f64,
    /// Mean temperature by heat capacity, degC.
    pub mean_c: f64,
    /// Temperature of the air outside, degC.
    pub ambient_c: f64,
    /// Moisture, wet basis, 0-1.
    pub moisture: f64,
    /// Oxygen in the pores, mole fraction of dry air, mean by volume.
    pub oxygen: f64,
    /// Dry matter, kg.
    pub dry_kg: f64,
    /// Water, kg.
    pub water_kg: f64,
    /// Nitrogen in the heap, kg.
    pub nitrogen_kg: f64,
    /// Nitrogen lost as ammonia so far, kg.
    pub ammonia_kg: f64,
    /// Volume, m3: that as filled, less what slumped, rotted and is pressed by the load above. What lies looser in the
    /// simulation than it was filled counts as filled (`cell`).
    pub volume_m3: f64,
    /// What is left to rot.
    pub left: Left,
}

/// Carbon of a heap by what it is in, over the whole heap.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Left {
    /// All carbon, kg.
    pub carbon_kg: f64,
    /// Carbon in the fast, medium and slow pool, kg.
    pub pools_kg: [f64; 3],
    /// Carbon in living microbes, kg.
    pub microbes_kg: f64,
    /// Carbon in organic matter, kg/kg.
    pub carbon_share: f64,
}

/// A parcel at one moment.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment {
    /// Days since the start.
    pub day: f64,
    /// Temperature, degC.
    pub temperature_c: f64,
    /// Moisture, wet basis, 0-1.
    pub moisture: f64,
}

/// The inside of a heap at one moment: one value per active cell, in the order of the section's cells.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Field {
    /// Days since the start.
    pub day: f64,
    /// Which of [`Projection::grids`] it belongs to.
    pub grid: usize,
    /// Whether an operation (turned, watered) came between the field before and this one.
    pub jumped: bool,
    /// Temperature, degC.
    pub temperature_c: Vec<f32>,
    /// Moisture, wet basis.
    pub moisture: Vec<f32>,
    /// Oxygen, mole fraction of dry air.
    pub oxygen: Vec<f32>,
    /// Share of the fast pool as built that is still there.
    pub left_to_rot: Vec<f32>,
    /// pH of the pore water that rot goes by.
    pub ph: Vec<f32>,
}

/// One of the values of a [`Field`].
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum SectionValue {
    /// Temperature, degC.
    #[default]
    Temperature,
    /// Moisture, wet basis, 0-1.
    Moisture,
    /// Oxygen in the pores, mole fraction.
    Oxygen,
    /// What is left of the fast pool, 0-1.
    LeftToRot,
}

impl SectionValue {
    /// All, in the order in which they are offered.
    pub const ALL: [Self; 4] = [
        Self::Temperature,
        Self::Moisture,
        Self::Oxygen,
        Self::LeftToRot,
    ];

    /// The values of a field, in the order of its cells.
    pub fn values(self, field: &Field) -> &[f32] {
        match self {
            Self::Temperature => &field.temperature_c,
            Self::Moisture => &field.moisture,
            Self::Oxygen => &field.oxygen,
            Self::LeftToRot => &field.left_to_rot,
        }
    }
}

/// The cells a field is drawn on.
#[derive(Debug, Clone, PartialEq)]
pub struct SectionGrid {
    /// Day from which it holds.
    pub from_day: f64,
    /// Whether it is round about the middle (else a row seen from its end).
    pub round: bool,
    /// Distances of the columns' faces from the middle, m.
    pub edges_across_m: Vec<f64>,
    /// Heights of the rows' faces as built, m.
    pub edges_up_m: Vec<f64>,
    /// Column and row of every active cell.
    pub places: Vec<(usize, usize)>,
    /// Volume as built of every active cell, m3, the whole heap counted.
    pub volume_m3: Vec<f64>,
    cells: Vec<usize>,
}

impl SectionGrid {
    /// The drawn side of a grid.
    pub(super) fn of(grid: &Grid, multiple: f64, from_day: f64) -> Self {
        let cells: Vec<usize> = grid.cells().collect();
        Self {
            from_day,
            round: grid.symmetry == Symmetry::Round,
            edges_across_m: grid.edges_across_m.clone(),
            edges_up_m: grid.edges_up_m.clone(),
            places: cells
                .iter()
                .map(|c| (c % grid.stride - 1, c / grid.stride - 1))
                .collect(),
            volume_m3: cells
                .iter()
                .map(|&c| grid.volume_m3[c] * multiple)
                .collect(),
            cells,
        }
    }

    /// Place in a field of a cell of the grid.
    fn index_of(&self, cell: usize) -> Option<usize> {
        self.cells.binary_search(&cell).ok()
    }
}

/// A small marked lump, followed through turnings.
#[derive(Debug, Clone, PartialEq)]
pub struct Parcel {
    /// From which field on it lay in which cell of the run's grid; before the first it was not there.
    pub(super) stays: Vec<(usize, usize)>,
}

/// How a run ended.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ended {
    /// All days were simulated.
    Finished,
    /// It was called off.
    Cancelled {
        /// Day reached.
        day: f64,
    },
    /// The state left the range in which the model means anything.
    Stopped {
        /// Day on which it happened.
        day: f64,
    },
}

/// The hottest moment of the hottest place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Hottest {
    /// Its temperature, degC.
    pub temperature_c: f64,
    /// Its day.
    pub day: f64,
    /// How far up it lies, share of the height as built, 0-1.
    pub up: f64,
    /// How far out it lies, share of the way from the middle to the side, 0-1.
    pub out: f64,
}

/// What happened, in a few numbers. Peak and days are those of the centre.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Summary {
    /// Highest temperature of the centre, degC.
    pub peak_c: f64,
    /// Day of the highest temperature of the centre.
    pub peak_day: f64,
    /// The hottest place of the whole heap, whenever it was.
    pub hottest: Hottest,
    /// Time of the centre at or above 40 degC, d.
    pub days_above_40: f64,
    /// Time of the centre at or above 55 degC, d.
    pub days_above_55: f64,
    /// Rot that was held back for lack of oxygen, share of what was wanted, 0-1.
    pub airless_share: f64,
    /// Nitrogen lost as ammonia, as dinitrogen and with drained water, share of what was put in, 0-1.
    pub nitrogen_lost_share: f64,
    /// Dry matter lost, share of what was put in, 0-1.
    pub dry_matter_lost_share: f64,
}

/// Where heat, water, carbon, nitrogen and oxygen came from and went, over the whole run.
///
/// "Start" counts what was added later as well. Each closes: start + in - out - end = 0 to rounding.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Ledger {
    /// Heat at the start beside that of dry matter and liquid water at 0 degC, J: ice counts as less than nothing.
    pub heat_start_j: f64,
    /// The same at the end, J.
    pub heat_end_j: f64,
    /// Heat of oxidation, J.
    pub heat_made_j: f64,
    /// Heat lost through walls and film, and with the warmth of leaving air, J.
    pub heat_surface_j: f64,
    /// Heat lost to the ground, J.
    pub heat_ground_j: f64,
    /// Heat carried off as vapour, J.
    pub heat_vapour_j: f64,
    /// Heat carried off by drained water, less what rain and watering brought, J.
    pub heat_drained_j: f64,
    /// Water at the start, kg.
    pub water_start_kg: f64,
    /// Water at the end, kg.
    pub water_end_kg: f64,
    /// Water made by oxidation, kg.
    pub water_made_kg: f64,
    /// Water from rain and watering, kg.
    pub water_rain_kg: f64,
    /// Water carried off as vapour, kg.
    pub water_vapour_kg: f64,
    /// Water drained, kg.
    pub water_drained_kg: f64,
    /// Carbon at the start, kg.
    pub carbon_start_kg: f64,
    /// Carbon at the end, kg.
    pub carbon_end_kg: f64,
    /// Carbon oxidised to carbon dioxide, kg.
    pub carbon_oxidised_kg: f64,
    /// Nitrogen at the start, kg.
    pub nitrogen_start_kg: f64,
    /// Nitrogen at the end, kg.
    pub nitrogen_end_kg: f64,
    /// Nitrogen lost as ammonia, kg.
    pub nitrogen_ammonia_kg: f64,
    /// Nitrogen lost as dinitrogen, by way of nitrate, kg.
    pub nitrogen_gas_kg: f64,
    /// Nitrogen washed out with drained water, kg.
    pub nitrogen_drained_kg: f64,
    /// Oxygen used by oxidation, kg.
    pub oxygen_used_kg: f64,
    /// Oxygen brought in by air, the first filling of the pores counted, kg.
    pub oxygen_supplied_kg: f64,
    /// Oxygen in the pores at the end, kg.
    pub oxygen_stored_kg: f64,
    /// Dry matter at the start, kg.
    pub dry_start_kg: f64,
    /// Dry matter at the end, kg.
    pub dry_end_kg: f64,
}

/// The simulated history of a heap.
#[derive(Debug, Clone, PartialEq)]
pub struct Projection {
    /// The heap from hour to hour, the start first; at least one entry.
    pub records: Vec<Record>,
    /// Its inside at chosen times, if the settings asked for that.
    pub fields: Vec<Field>,
    /// The cells of the fields; a further one after every addition.
    pub grids: Vec<SectionGrid>,
    /// Lumps followed through turnings, if fields were asked for.
    pub parcels: Vec<Parcel>,
    /// A few numbers.
    pub summary: Summary,
    /// Balances.
    pub ledger: Ledger,
    /// How the run ended.
    pub ended: Ended,
    /// Steps taken.
    pub steps: usize,
}

impl Ledger {
    /// Nitrogen that left by any way, kg.
    pub fn nitrogen_lost_kg(&self) -> f64 {
        self.nitrogen_ammonia_kg + self.nitrogen_gas_kg + self.nitrogen_drained_kg
    }
}

impl Projection {
    /// The record at or last before `day`.
    pub fn at(&self, day: f64) -> Option<&Record> {
        let after = self.records.partition_point(|record| record.day <= day);
        self.records.get(after.saturating_sub(1))
    }

    /// What happened from a day on: peak and days of heat count from there; shares and the hottest place stay those of the
    /// whole run, since what is lost is not lost again.
    pub fn summary_from(&self, day: f64) -> Summary {
        let later = || self.records.iter().filter(|record| record.day >= day);
        let hottest = later().max_by(|a, b| a.centre_c.total_cmp(&b.centre_c));
        let Some(hottest) = hottest.or(self.records.last()) else {
            return self.summary;
        };
        let above = |bound_c: f64| {
            let pairs = later().zip(later().skip(1));
            let hot = pairs.filter(|(a, b)| 0.5 * (a.centre_c + b.centre_c) >= bound_c);
            hot.map(|(a, b)| b.day - a.day).sum::<f64>() + 0.0
        };
        Summary {
            peak_c: hottest.centre_c,
            peak_day: hottest.day,
            days_above_40: above(40.0),
            days_above_55: above(55.0),
            ..self.summary
        }
    }

    /// The same with the records from a day on and their summary, at least the last; fields, lumps and ledger stay whole.
    #[must_use]
    pub fn from_day_on(mut self, day: f64) -> Self {
        self.summary = self.summary_from(day);
        let before = self.records.partition_point(|record| record.day < day);
        let before = before.min(self.records.len().saturating_sub(1));
        self.records.drain(..before);
        self
    }

    /// The field at or last before `day`.
    pub fn field_at(&self, day: f64) -> Option<&Field> {
        let after = self.fields.partition_point(|field| field.day <= day);
        self.fields.get(after.saturating_sub(1))
    }

    /// The heat history of a parcel: day and temperature (degC) at every field.
    pub fn parcel_history(&self, parcel: &Parcel) -> Vec<(f64, f64)> {
        let course = self.parcel_course(parcel);
        let pair = |moment: &Moment| (moment.day, moment.temperature_c);
        course.iter().map(pair).collect()
    }

    /// Where a parcel has been, at every field since it was there.
    pub fn parcel_course(&self, parcel: &Parcel) -> Vec<Moment> {
        let mut stays = parcel.stays.iter().peekable();
        let mut cell = None;
        // Looking a cell up is repeated only where the cell or the grid is another one.
        let mut index: Option<(usize, usize)> = None;
        let mut course = Vec::with_capacity(self.fields.len());
        for (number, field) in self.fields.iter().enumerate() {
            while let Some(&(_, next)) = stays.next_if(|(from, _)| *from <= number) {
                cell = Some(next);
                index = None;
            }
            if index.is_none_or(|(grid, _)| grid != field.grid) {
                let found = cell.and_then(|cell| self.grids.get(field.grid)?.index_of(cell));
                index = found.map(|place| (field.grid, place));
            }
            let Some((_, place)) = index else { continue };
            if let (Some(t), Some(m)) = (field.temperature_c.get(place), field.moisture.get(place))
            {
                course.push(Moment {
                    day: field.day,
                    temperature_c: f64::from(*t),
                    moisture: f64::from(*m),
                });
            }
        }
        course
    }
}

/// Longest unbroken time at or above a temperature, d, straight lines between the points.
pub fn longest_spell(history: &[(f64, f64)], limit_c: f64) -> f64 {
    let (mut longest, mut current) = (0.0f64, 0.0);
    for pair in history.windows(2) {
        let ((d0, t0), (d1, t1)) = (pair[0], pair[1]);
        let (a, b) = (t0 - limit_c, t1 - limit_c);
        let length = d1 - d0;
        match (a >= 0.0, b >= 0.0) {
            (true, true) => current += length,
            (false, true) => current = length * b / (b - a),
            (true, false) => {
                longest = longest.max(current + length * a / (a - b));
                current = 0.0;
            }
            (false, false) => current = 0.0,
        }
        longest = longest.max(current);
    }
    longest
}

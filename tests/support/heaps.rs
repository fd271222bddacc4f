//! Canonical heaps: sums of a mix and a place to put it.

use std::sync::atomic::AtomicBool;

use heapwright::heap::{
    Base, Board, Climate, Cover, Event, Heap, Lid, Operation, Plan, Projection, Resolution, Shape,
    Turning, simulate,
};
use heapwright::mix::Totals;

/// What makes a mix, in plain numbers.
#[derive(Debug, Clone, Copy)]
pub struct Recipe {
    /// Volume as built, m3.
    pub volume_m3: f64,
    /// Wet bulk density as built, kg/m3.
    pub density: f64,
    /// Moisture, wet basis.
    pub moisture: f64,
    /// C:N.
    pub cn: f64,
    /// Effective particle size, m.
    pub particle_size_m: f64,
    /// Carbon in the fast, medium, slow pool, share of all carbon.
    pub pools: [f64; 3],
    /// Share of height lost by slumping.
    pub slump: f64,
    /// Water tested against gravity, kg per kg dry matter.
    pub holds: f64,
}

/// A good mix: C:N 27, 58 % moisture, 450 kg/m3, particles of 1 mm.
pub const GOOD: Recipe = Recipe {
    volume_m3: 1.0,
    density: 450.0,
    moisture: 0.58,
    cn: 27.0,
    particle_size_m: 1.0e-3,
    pools: [0.25, 0.27, 0.28],
    slump: 0.12,
    holds: 3.0,
};

/// Grass alone, piled: wet, fine, slumping.
pub const GRASS: Recipe = Recipe {
    volume_m3: 1.0,
    density: 382.0,
    moisture: 0.82,
    cn: 17.0,
    particle_size_m: 0.3e-3,
    pools: [0.466, 0.284, 0.18],
    slump: 0.5,
    holds: 4.5,
};

/// Leaves alone, as raked, piled.
pub const LEAVES: Recipe = Recipe {
    volume_m3: 1.0,
    density: 240.0,
    moisture: 0.45,
    cn: 54.0,
    particle_size_m: 0.8e-3,
    pools: [0.155, 0.244, 0.40],
    slump: 0.3,
    holds: 3.0,
};

/// Kitchen scraps with dry leaves, two to one by volume (the mean size by surface of both classes).
pub const FOOD: Recipe = Recipe {
    volume_m3: 0.2,
    density: 400.0,
    moisture: 0.65,
    cn: 18.0,
    particle_size_m: 0.7e-3,
    pools: [0.40, 0.26, 0.17],
    slump: 0.3,
    holds: 3.0,
};

impl Recipe {
    /// The same dry matter in the same volume with more water.
    pub fn wetted_to(self, moisture: f64) -> Self {
        let density = self.density * (1.0 - self.moisture) / (1.0 - moisture);
        Self {
            density,
            moisture,
            ..self
        }
    }

    /// The sums of this mix: 15 % ash, carbon 47 % of organic matter.
    pub fn totals(&self) -> Totals {
        let wet = self.density * self.volume_m3;
        let dry = wet * (1.0 - self.moisture);
        let ash = 0.15 * dry;
        let carbon = 0.47 * (dry - ash);
        Totals {
            dry_kg: dry,
            water_kg: wet - dry,
            carbon_kg: carbon,
            carbon_available_kg: 0.7 * carbon,
            nitrogen_kg: carbon / self.cn,
            ash_kg: ash,
            carbon_fast_kg: self.pools[0] * carbon,
            carbon_medium_kg: self.pools[1] * carbon,
            carbon_slow_kg: self.pools[2] * carbon,
            loose_volume_m3: self.volume_m3,
            piled_volume_m3: self.volume_m3,
            volume_log_size_m3: self.volume_m3 * (1000.0 * self.particle_size_m).ln(),
            volume_that_slumps_m3: self.volume_m3 * self.slump,
            water_held_kg: dry * self.holds,
            ..Totals::default()
        }
    }
}

/// Even weather: 15 degC with a swing of 4 K, 45 mm of rain a month, air at 75 %.
pub fn even_climate(mean_c: f64) -> Climate {
    Climate {
        name: "even".to_owned(),
        monthly_mean_c: [mean_c; 12],
        daily_swing_k: 4.0,
        monthly_rain_mm: [45.0; 12],
        relative_humidity: 0.75,
        wind_m_per_s: 1.5,
        latitude_deg: 52.0,
    }
}

/// An open-meshed cube that just holds this volume, in even weather.
pub fn mesh_cube(volume_m3: f64, mean_c: f64) -> Heap {
    let side = volume_m3.cbrt();
    let diameter = side * (4.0 / std::f64::consts::PI).sqrt();
    place(
        Shape::WireCylinder {
            diameter_m: diameter,
            height_m: side,
        },
        mean_c,
    )
}

/// A closed bin with a lid that just holds this volume.
pub fn closed_bin(volume_m3: f64, mean_c: f64) -> Heap {
    let side = volume_m3.cbrt();
    place(
        Shape::SolidBin {
            width_m: side,
            length_m: side,
            height_m: side,
            lid: Lid::Closed,
            board: Board::Plastic,
        },
        mean_c,
    )
}

/// A heap of this shape in even weather, started on the hundredth day of the year.
pub fn place(shape: Shape, mean_c: f64) -> Heap {
    Heap {
        shape,
        base: Base::Soil,
        cover: Cover::Bare,
        in_sun: false,
        plan: Plan::default(),
        climate: even_climate(mean_c),
        start_day_of_year: 100.0,
        start_temperature_c: None,
        days: 120.0,
    }
}

/// A long row of this volume, 0.55 of its width high, in even weather.
pub fn row(volume_m3: f64, width_m: f64, mean_c: f64) -> Heap {
    let height_m = 0.55 * width_m;
    let length_m = 2.0 * volume_m3 / (width_m * height_m);
    place(Shape::Row { width_m, length_m }, mean_c)
}

/// A full remix on each of these days, wetted if that is asked for.
pub fn turned(days: &[f64], wet_to: Option<f64>) -> Plan {
    let events = days.iter().map(|&day| Event {
        repeat: None,
        day,
        operation: Operation::Turn {
            turning: Turning::Remix,
            wet_to,
        },
    });
    Plan {
        events: events.collect(),
    }
}

/// A coarse projection with nothing added later.
pub fn project(totals: &Totals, heap: &Heap) -> Option<Projection> {
    project_with(totals, heap, &Resolution::coarse())
}

/// A projection with nothing added later.
pub fn project_with(totals: &Totals, heap: &Heap, resolution: &Resolution) -> Option<Projection> {
    simulate(totals, &[], heap, resolution, &AtomicBool::new(false))
}

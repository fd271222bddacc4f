//! The shape of a heap and the skin around it.
//!
//! In: kind and dimensions. Out: areas, height, and how freely heat and air pass each side.
//!
//! Not here: weather (`climate`), what happens inside (`rot`, `well_mixed`).
//!
//! Held against: `tests/science/shape.rs`.

use serde::{Deserialize, Serialize};

use crate::quantity::{OutOfRange, bounds};

/// What covers the top of a bin.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub enum Lid {
    /// Open to rain and air.
    Open,
    /// A lid or sheet: keeps rain out, lets steam out at its edges.
    Closed,
}

/// Kind and size of a heap. All lengths inside, in m.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub enum Shape {
    /// Loose round heap; takes the height its volume gives at a 45 degree slope.
    OpenHeap,
    /// Bin of slats or pallets; about half of the side is gap.
    SlattedBin {
        /// Width, m.
        width_m: f64,
        /// Length, m.
        length_m: f64,
        /// Height to the brim, m.
        height_m: f64,
    },
    /// Bin with closed walls that stands on the soil, with gaps at the foot.
    SolidBin {
        /// Width, m.
        width_m: f64,
        /// Length, m.
        length_m: f64,
        /// Height to the brim, m.
        height_m: f64,
        /// What covers it.
        lid: Lid,
    },
    /// Cylinder of wire mesh.
    WireCylinder {
        /// Diameter, m.
        diameter_m: f64,
        /// Height to the brim, m.
        height_m: f64,
    },
}

/// A heap of a given volume as heat and air see it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Envelope {
    /// Plan area, m2.
    pub plan_area_m2: f64,
    /// Height, m.
    pub height_m: f64,
    /// Area of the side, m2.
    pub side_area_m2: f64,
    /// Area of the top, m2 (0 for an open heap, whose side is its top).
    pub top_area_m2: f64,
    /// Film and wall of the side, W/m2K.
    pub side_u_w_per_m2_k: f64,
    /// Film and lid of the top, W/m2K.
    pub top_u_w_per_m2_k: f64,
    /// Share of the side that air passes freely, 0-1.
    pub side_open_share: f64,
    /// Share of the top that air passes freely, 0-1.
    pub top_open_share: f64,
    /// Share of the base that air passes freely, 0-1.
    pub base_open_share: f64,
    /// Share of the rain that reaches the heap, 0-1.
    pub rain_share: f64,
}

/// Outside film over compost or mesh, sheltered, W/m2K (1 / 0.08 m2K/W; CIBSE table A3.6, walls,
/// high emissivity, sheltered).
const FILM_SHELTERED_W_PER_M2_K: f64 = 12.5;
/// Timber slats, area-weighted with their gaps, W/m2K (20 mm timber 4.3 sheltered, half of it gap).
const SLATS_W_PER_M2_K: f64 = 8.4;
/// Closed plastic or board wall, sheltered film, W/m2K (3 mm plastic 11.6; the wall hardly counts).
const SOLID_WALL_W_PER_M2_K: f64 = 11.6;
/// Lid with still air below it, W/m2K (plastic with an air gap, 4.2-5.1).
const LID_W_PER_M2_K: f64 = 4.5;

impl Shape {
    /// Volume to the brim, m3; `None` for an open heap, which has no brim.
    pub fn room_m3(&self) -> Option<f64> {
        match *self {
            Self::OpenHeap => None,
            Self::SlattedBin {
                width_m,
                length_m,
                height_m,
            }
            | Self::SolidBin {
                width_m,
                length_m,
                height_m,
                ..
            } => Some(width_m * length_m * height_m),
            Self::WireCylinder {
                diameter_m,
                height_m,
            } => Some(std::f64::consts::PI / 4.0 * diameter_m * diameter_m * height_m),
        }
    }

    /// Its name on screen.
    pub fn label(&self) -> &'static str {
        match self {
            Self::OpenHeap => "open heap",
            Self::SlattedBin { .. } => "slatted bay",
            Self::SolidBin { .. } => "closed bin",
            Self::WireCylinder { .. } => "wire cylinder",
        }
    }

    /// Checks every length.
    ///
    /// # Errors
    /// [`OutOfRange`] for the first length outside [`bounds::HEAP_LENGTH`], or a room outside
    /// [`bounds::HEAP_VOLUME`].
    pub fn check(&self) -> Result<(), OutOfRange> {
        let lengths = match *self {
            Self::OpenHeap => [1.0; 3],
            Self::SlattedBin {
                width_m,
                length_m,
                height_m,
            }
            | Self::SolidBin {
                width_m,
                length_m,
                height_m,
                ..
            } => [width_m, length_m, height_m],
            Self::WireCylinder {
                diameter_m,
                height_m,
            } => [diameter_m, diameter_m, height_m],
        };
        for length in lengths {
            bounds::HEAP_LENGTH.check(length)?;
        }
        if let Some(room) = self.room_m3() {
            bounds::HEAP_VOLUME.check(room)?;
        }
        Ok(())
    }

    /// The heap as heat and air see it when it holds `volume_m3`.
    ///
    /// A bin that is not full is lower; one that overflows is higher.
    pub fn envelope(&self, volume_m3: f64) -> Envelope {
        match *self {
            Self::OpenHeap => {
                // Cone at 45 degrees: V = pi r^3 / 3, h = r.
                let radius = (3.0 * volume_m3 / std::f64::consts::PI).cbrt();
                Envelope {
                    plan_area_m2: std::f64::consts::PI * radius * radius,
                    height_m: radius,
                    side_area_m2: std::f64::consts::PI * radius * radius * std::f64::consts::SQRT_2,
                    top_area_m2: 0.0,
                    side_u_w_per_m2_k: FILM_SHELTERED_W_PER_M2_K,
                    top_u_w_per_m2_k: FILM_SHELTERED_W_PER_M2_K,
                    side_open_share: 1.0,
                    top_open_share: 1.0,
                    base_open_share: 0.0,
                    rain_share: 1.0,
                }
            }
            Self::SlattedBin {
                width_m, length_m, ..
            } => Envelope {
                side_u_w_per_m2_k: SLATS_W_PER_M2_K,
                side_open_share: 0.5,
                ..upright(width_m * length_m, 2.0 * (width_m + length_m), volume_m3)
            },
            Self::SolidBin {
                width_m,
                length_m,
                lid,
                ..
            } => {
                let open = upright(width_m * length_m, 2.0 * (width_m + length_m), volume_m3);
                let covered = match lid {
                    Lid::Open => open,
                    Lid::Closed => Envelope {
                        top_u_w_per_m2_k: LID_W_PER_M2_K,
                        top_open_share: 0.1,
                        rain_share: 0.0,
                        ..open
                    },
                };
                Envelope {
                    side_u_w_per_m2_k: SOLID_WALL_W_PER_M2_K,
                    side_open_share: 0.05,
                    base_open_share: 0.05,
                    ..covered
                }
            }
            Self::WireCylinder { diameter_m, .. } => {
                let plan = std::f64::consts::PI / 4.0 * diameter_m * diameter_m;
                upright(plan, std::f64::consts::PI * diameter_m, volume_m3)
            }
        }
    }
}

/// A prism of open mesh with a flat open top.
fn upright(plan_area_m2: f64, perimeter_m: f64, volume_m3: f64) -> Envelope {
    let height_m = volume_m3 / plan_area_m2;
    Envelope {
        plan_area_m2,
        height_m,
        side_area_m2: perimeter_m * height_m,
        top_area_m2: plan_area_m2,
        side_u_w_per_m2_k: FILM_SHELTERED_W_PER_M2_K,
        top_u_w_per_m2_k: FILM_SHELTERED_W_PER_M2_K,
        side_open_share: 1.0,
        top_open_share: 1.0,
        base_open_share: 0.0,
        rain_share: 1.0,
    }
}

//! Areas and film of a heap as the reference cell sees them.

use heapwright::heap::{Lid, Shape};

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

/// The heap as heat and air see it when it holds `volume_m3`.
///
/// A bin that is not full is lower; one that overflows is higher.
pub fn envelope(shape: &Shape, volume_m3: f64) -> Envelope {
    match *shape {
        Shape::OpenHeap => {
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
        Shape::SlattedBin {
            width_m, length_m, ..
        } => Envelope {
            side_u_w_per_m2_k: SLATS_W_PER_M2_K,
            side_open_share: 0.5,
            ..upright(width_m * length_m, 2.0 * (width_m + length_m), volume_m3)
        },
        Shape::SolidBin {
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
        Shape::Tumbler { .. } | Shape::Row { .. } | Shape::Layer { .. } => unimplemented_shape(),
        Shape::WireCylinder { diameter_m, .. } => {
            let plan = std::f64::consts::PI / 4.0 * diameter_m * diameter_m;
            upright(plan, std::f64::consts::PI * diameter_m, volume_m3)
        }
    }
}

/// The reference cell knows only the first four shapes.
fn unimplemented_shape() -> Envelope {
    panic!("the reference cell has no such shape")
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

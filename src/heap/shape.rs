//! The shape of a heap and the skin around it.
//!
//! In: kind and dimensions. Out: outline, and how freely heat and air pass each side.
//!
//! A rectangular bin is treated as the cylinder of the same plan area and height, with the wall area of
//! the box. Not here: weather (`climate`), what happens inside (`run`).
//!
//! Tested by: `tests/science/shape.rs`.

use std::f64::consts::PI;

use serde::{Deserialize, Serialize};

use crate::quantity::{OutOfRange, bounds};

use super::grid::{Outline, Symmetry};

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
        /// What its walls are made of.
        board: Board,
    },
    /// Cylinder of wire mesh.
    WireCylinder {
        /// Diameter, m.
        diameter_m: f64,
        /// Height to the brim, m.
        height_m: f64,
    },
    /// Closed drum off the ground with a few air holes; treated as an upright drum of its size.
    Tumbler {
        /// Inner diameter, m.
        diameter_m: f64,
        /// Inner length, m.
        length_m: f64,
    },
    /// Long row with sloping sides.
    Row {
        /// Width at the foot, m.
        width_m: f64,
        /// Length, m.
        length_m: f64,
    },
    /// Thin layer left on the ground.
    Layer {
        /// Thickness, m.
        thickness_m: f64,
    },
}

/// What the wall of a closed bin is made of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Board {
    /// Plastic or sheet: stops air, hardly any warmth.
    #[default]
    Plastic,
    /// Timber, 20 mm.
    Timber,
    /// Insulated, 50 mm of foam or as much.
    Insulated,
}

impl Board {
    /// Resistance to heat, m2 K/W: thickness over conductivity (plastic 3 mm at 0.5, timber 20 mm at
    /// 0.13, foam 50 mm at 0.036 W/m K; conductivities from memory).
    pub fn resistance_m2_k_per_w(self) -> f64 {
        match self {
            Self::Plastic => 0.006,
            Self::Timber => 0.154,
            Self::Insulated => 1.39,
        }
    }
}

/// What a heap stands on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum Base {
    /// Soil.
    #[default]
    Soil,
    /// Slabs or concrete.
    Paving,
}

/// One side of the skin.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Wall {
    /// Resistance to heat beside the outside film, m2 K/W.
    pub resistance_m2_k_per_w: f64,
    /// Share that air and steam pass freely, 0-1.
    pub open_share: f64,
    /// Distance from gap to gap, m; air from all around has to find its way to one of them.
    pub gap_spacing_m: f64,
}

/// A heap of a given volume as the simulator sees it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Skin {
    /// Round or flat outline.
    pub outline: Outline,
    /// What one of the simulated thing stands for: 1, or twice the length of a row.
    pub multiple: f64,
    /// Wall area of the real sides over that of the outline.
    pub side_area_factor: f64,
    /// Sides.
    pub side: Wall,
    /// Top, without a cover.
    pub top: Wall,
    /// Share of the base that lets air in, 0-1.
    pub base_open_share: f64,
    /// Whether the base hangs in the air instead of standing on the ground.
    pub raised: bool,
    /// Share of the rain that gets past a lid, 0-1.
    pub rain_share: f64,
}

/// Distance between the joints, holes and rims of closed walls, lids, drums and covers, m (tuned, reason not recorded).
pub const GAP_SPACING_M: f64 = 0.5;
const OPEN: Wall = Wall {
    resistance_m2_k_per_w: 0.0,
    open_share: 1.0,
    gap_spacing_m: GAP_SPACING_M,
};
/// Slats of 20 mm timber, half of the side gap: by area, 8.4 W/m2 K with the sheltered film of 12.5.
const SLATS: Wall = Wall {
    resistance_m2_k_per_w: 0.039,
    open_share: 0.5,
    gap_spacing_m: 0.1,
};
/// Lid with still air below it (plastic with an air gap, 4.2-5.1 W/m2 K with its film); leaks at its rim.
const LID: Wall = Wall {
    resistance_m2_k_per_w: 0.14,
    open_share: 0.1,
    gap_spacing_m: GAP_SPACING_M,
};
/// Share of a drum's skin taken by air holes, 0-1 (tuned, reason not recorded).
const DRUM_OPEN_SHARE: f64 = 0.05;
/// Share of the rain that does not run off a slope of 45 degrees, 0-1 (common practice: peaked heaps and rows shed
/// rain; the number is tuned, nothing measured was found).
const SLOPE_RAIN_SHARE: f64 = 0.7;
/// Width over height of an open heap: it stands at 45 degrees.
const SLOPE: f64 = 1.0;

/// Shares of a closed bin that leak.
struct Leaks {
    wall: f64,
    foot: f64,
    lid: f64,
}

/// What leaks of a closed bin, by what its wall is made of (tuned: plastic stands loosely on the soil and has a
/// hatch, boards have joints, insulated walls close tightly).
fn leaks(board: Board) -> Leaks {
    let (wall, foot, lid) = match board {
        Board::Plastic => (0.03, 0.10, 0.10),
        Board::Timber => (0.04, 0.05, 0.05),
        Board::Insulated => (0.005, 0.02, 0.02),
    };
    Leaks { wall, foot, lid }
}

/// What a shape is, in numbers.
enum Form {
    /// Plan area, perimeter, height to the brim.
    Upright(f64, f64, f64),
    Cone,
    Row(f64, f64),
    Layer(f64),
}

impl Form {
    /// Outline when it holds `volume_m3`, how many times it counts, and real wall area over the outline's.
    fn outline(&self, volume_m3: f64) -> (Outline, f64, f64) {
        match *self {
            Form::Upright(plan, perimeter, _) => {
                let extent_m = (plan / PI).sqrt();
                let outline = Outline {
                    symmetry: Symmetry::Round,
                    extent_m,
                    height_m: volume_m3 / plan,
                    upright: true,
                };
                (outline, 1.0, perimeter / (2.0 * PI * extent_m))
            }
            Form::Cone => {
                // V = pi r^2 h / 3 with r = slope h.
                let height_m = (3.0 * volume_m3 / (PI * SLOPE * SLOPE)).cbrt();
                let extent_m = SLOPE * height_m;
                (
                    Outline {
                        symmetry: Symmetry::Round,
                        extent_m,
                        height_m,
                        upright: false,
                    },
                    1.0,
                    1.0,
                )
            }
            Form::Row(width, length) => {
                // Triangle: V = width h length / 2, seen from the middle as two halves.
                let height_m = 2.0 * volume_m3 / (width * length);
                let outline = Outline {
                    symmetry: Symmetry::Flat,
                    extent_m: 0.5 * width,
                    height_m,
                    upright: false,
                };
                (outline, 2.0 * length, 1.0)
            }
            Form::Layer(height_m) => {
                let extent_m = (volume_m3 / (PI * height_m)).sqrt();
                (
                    Outline {
                        symmetry: Symmetry::Round,
                        extent_m,
                        height_m,
                        upright: true,
                    },
                    1.0,
                    1.0,
                )
            }
        }
    }
}

impl Shape {
    fn form(&self) -> Form {
        let round = |diameter: f64, height| {
            Form::Upright(PI / 4.0 * diameter * diameter, PI * diameter, height)
        };
        match *self {
            Self::OpenHeap => Form::Cone,
            Self::SlattedBin {
                width_m: w,
                length_m: l,
                height_m,
            } => Form::Upright(w * l, 2.0 * (w + l), height_m),
            Self::SolidBin {
                width_m: w,
                length_m: l,
                height_m,
                ..
            } => Form::Upright(w * l, 2.0 * (w + l), height_m),
            Self::WireCylinder {
                diameter_m,
                height_m,
            } => round(diameter_m, height_m),
            Self::Tumbler {
                diameter_m,
                length_m,
            } => round(diameter_m, length_m),
            Self::Row { width_m, length_m } => Form::Row(width_m, length_m),
            Self::Layer { thickness_m } => Form::Layer(thickness_m),
        }
    }

    /// Volume to the brim, m3; `None` for heaps, rows and layers, whose size is not fixed.
    pub fn room_m3(&self) -> Option<f64> {
        match self.form() {
            Form::Upright(plan, _, height) => Some(plan * height),
            Form::Cone | Form::Row(..) | Form::Layer(_) => None,
        }
    }

    /// Every length that was entered, m.
    fn lengths_m(&mut self) -> Vec<&mut f64> {
        match self {
            Self::OpenHeap => Vec::new(),
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
            } => vec![width_m, length_m, height_m],
            Self::WireCylinder {
                diameter_m,
                height_m: other,
            }
            | Self::Tumbler {
                diameter_m,
                length_m: other,
            } => vec![diameter_m, other],
            Self::Row { width_m, length_m } => vec![width_m, length_m],
            Self::Layer { thickness_m } => vec![thickness_m],
        }
    }

    /// The same shape for so many times the volume: every length grows alike.
    pub fn scaled(&self, factor: f64) -> Self {
        let mut shape = self.clone();
        for length in shape.lengths_m() {
            *length *= factor.cbrt();
        }
        shape
    }

    /// A bay of slats as wide as long and high, m.
    pub fn bay(side_m: f64) -> Self {
        Self::SlattedBin {
            width_m: side_m,
            length_m: side_m,
            height_m: side_m,
        }
    }

    /// Checks every length.
    ///
    /// # Errors
    /// [`OutOfRange`] for the first length outside its bound, or a room outside [`bounds::HEAP_VOLUME`].
    pub fn check(&self) -> Result<(), OutOfRange> {
        let bound = match self {
            Self::Layer { .. } => &bounds::LAYER_THICKNESS,
            _ => &bounds::HEAP_LENGTH,
        };
        for length in self.clone().lengths_m() {
            bound.check(*length)?;
        }
        if let Some(room) = self.room_m3() {
            bounds::HEAP_VOLUME.check(room)?;
        }
        Ok(())
    }

    /// The heap as the simulator sees it when it holds `volume_m3`.
    ///
    /// A bin that is not full is lower; one that overflows is higher. A row too small for its foot is
    /// low and flat.
    pub fn skin(&self, volume_m3: f64) -> Skin {
        let (outline, multiple, side_area_factor) = self.form().outline(volume_m3);
        let open = Skin {
            outline,
            multiple,
            side_area_factor,
            side: OPEN,
            top: OPEN,
            base_open_share: 0.0,
            raised: false,
            rain_share: if outline.upright {
                1.0
            } else {
                SLOPE_RAIN_SHARE
            },
        };
        match *self {
            Self::OpenHeap | Self::WireCylinder { .. } | Self::Row { .. } | Self::Layer { .. } => {
                open
            }
            Self::SlattedBin { .. } => Skin {
                side: SLATS,
                ..open
            },
            Self::SolidBin { lid, board, .. } => {
                let side = Wall {
                    resistance_m2_k_per_w: board.resistance_m2_k_per_w(),
                    open_share: leaks(board).wall,
                    gap_spacing_m: GAP_SPACING_M,
                };
                let (top, rain_share) = match lid {
                    Lid::Open => (OPEN, 1.0),
                    Lid::Closed => {
                        let resistance = LID.resistance_m2_k_per_w.max(side.resistance_m2_k_per_w);
                        (
                            Wall {
                                resistance_m2_k_per_w: resistance,
                                open_share: leaks(board).lid,
                                ..LID
                            },
                            0.0,
                        )
                    }
                };
                Skin {
                    side,
                    top,
                    base_open_share: leaks(board).foot,
                    rain_share,
                    ..open
                }
            }
            Self::Tumbler { .. } => {
                let wall = Wall {
                    resistance_m2_k_per_w: Board::Plastic.resistance_m2_k_per_w(),
                    open_share: DRUM_OPEN_SHARE,
                    gap_spacing_m: GAP_SPACING_M,
                };
                Skin {
                    side: wall,
                    top: wall,
                    base_open_share: DRUM_OPEN_SHARE,
                    raised: true,
                    rain_share: 0.0,
                    ..open
                }
            }
        }
    }
}

//! The kinds of heap that can be chosen, and the shape each begins with.
//!
//! In: a kind, the shape before. Out: a shape of that kind, as like the one before as can be.
//!
//! Not here: dimensions (`heap_row`), drawings (`shape_picker`), what a shape does to heat (`heap::shape`).
//!
//! Tested by: `tests/window/mix.rs`.

use crate::heap::{Board, Lid, Shape};

/// Inner size of a bin when none was known before: the common three-foot-and-a-bit bay, m.
const USUAL: [f64; 3] = [1.2, 1.2, 1.0];

/// Diameter and length of a tumbler, m.
const USUAL_DRUM: [f64; 2] = [0.6, 0.9];
/// Width at the foot and length of a row, m.
const USUAL_ROW: [f64; 2] = [1.5, 2.0];
/// Thickness of a layer, m.
const USUAL_LAYER: f64 = 0.05;

/// Kinds of heap, as the drop-down lists them.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HeapKind {
    /// Loose heap.
    Open,
    /// Bay of slats.
    Slatted,
    /// Closed bin without a lid.
    SolidOpen,
    /// Closed bin with a lid.
    SolidLid,
    /// Cylinder of mesh.
    Wire,
    /// Closed drum.
    Tumbler,
    /// Long row.
    Row,
    /// Thin layer on the ground.
    Layer,
}

impl HeapKind {
    /// All kinds.
    pub const ALL: [Self; 8] = [
        Self::Open,
        Self::Slatted,
        Self::SolidOpen,
        Self::SolidLid,
        Self::Wire,
        Self::Tumbler,
        Self::Row,
        Self::Layer,
    ];

    /// Its name on screen.
    pub fn label(self) -> &'static str {
        match self {
            Self::Open => "open heap",
            Self::Slatted => "slatted bay",
            Self::SolidOpen => "closed bin, no lid",
            Self::SolidLid => "closed bin with lid",
            Self::Wire => "wire cylinder",
            Self::Tumbler => "tumbler",
            Self::Row => "long row",
            Self::Layer => "layer on the ground",
        }
    }

    /// The kind of a shape.
    pub fn of(shape: &Shape) -> Self {
        match shape {
            Shape::OpenHeap => Self::Open,
            Shape::SlattedBin { .. } => Self::Slatted,
            Shape::SolidBin { lid: Lid::Open, .. } => Self::SolidOpen,
            Shape::SolidBin { .. } => Self::SolidLid,
            Shape::WireCylinder { .. } => Self::Wire,
            Shape::Tumbler { .. } => Self::Tumbler,
            Shape::Row { .. } => Self::Row,
            Shape::Layer { .. } => Self::Layer,
        }
    }

    /// A shape of this kind, as like the given one as can be.
    pub fn shape_like(self, before: &Shape) -> Shape {
        let [width_m, length_m, height_m] = match *before {
            Shape::OpenHeap | Shape::Row { .. } | Shape::Layer { .. } => USUAL,
            Shape::Tumbler {
                diameter_m,
                length_m,
            } => [diameter_m, length_m, diameter_m],
            Shape::SlattedBin {
                width_m,
                length_m,
                height_m,
            }
            | Shape::SolidBin {
                width_m,
                length_m,
                height_m,
                ..
            } => [width_m, length_m, height_m],
            Shape::WireCylinder {
                diameter_m,
                height_m,
            } => [diameter_m, diameter_m, height_m],
        };
        let board = match *before {
            Shape::SolidBin { board, .. } => board,
            _ => Board::default(),
        };
        let solid = |lid| Shape::SolidBin {
            width_m,
            length_m,
            height_m,
            lid,
            board,
        };
        match self {
            Self::Open => Shape::OpenHeap,
            Self::Slatted => Shape::SlattedBin {
                width_m,
                length_m,
                height_m,
            },
            Self::SolidOpen => solid(Lid::Open),
            Self::SolidLid => solid(Lid::Closed),
            Self::Wire => Shape::WireCylinder {
                diameter_m: (width_m + length_m) / 2.0,
                height_m,
            },
            Self::Tumbler => Shape::Tumbler {
                diameter_m: USUAL_DRUM[0],
                length_m: USUAL_DRUM[1],
            },
            Self::Row => Shape::Row {
                width_m: USUAL_ROW[0],
                length_m: USUAL_ROW[1],
            },
            Self::Layer => Shape::Layer {
                thickness_m: USUAL_LAYER,
            },
        }
    }
}

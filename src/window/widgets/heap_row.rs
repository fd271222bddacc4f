//! The heap in one row: shape with its dimensions, lid, the day it is built, the forecast length.
//!
//! In: the heap of the project. Out: the same, edited.
//!
//! Not here: climate and plan; what the shape does to heat (`heap::shape`).
//!
//! Tested by: `tests/window/mix.rs`.

use eframe::egui::{ComboBox, DragValue, Ui};

use crate::heap::{Board, Lid, Shape};
use crate::quantity::{Bound, UnitSystem, bounds};

use crate::text::date::{MONTHS, day_of_year, days_in_month, month_and_day};
use crate::window::page::Page;
use crate::window::theme::strong;
use crate::window::widgets::named::Named;

/// m in a foot (exact).
const METRE_PER_FOOT: f64 = 0.3048;

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
pub enum Kind {
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

impl Kind {
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

/// The row.
pub fn heap_row_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let roomy = ui.available_width() >= page.look.sizes.words_from_width;
    ui.horizontal_wrapped(|ui| {
        if roomy {
            ui.label(strong("Heap"));
        }
        kind_ui(ui, page);
        dimensions_ui(ui, page, roomy);
        date_ui(ui, page, roomy);
        days_ui(ui, page, roomy);
    });
}

fn kind_ui(ui: &mut Ui, page: &mut Page<'_>) {
    let shape = &mut page.project.heap.shape;
    let present = Kind::of(shape);
    ComboBox::from_id_salt("shape")
        .selected_text(present.label())
        .width(page.look.sizes.measure_width * 1.35)
        .show_ui(ui, |ui| {
            for kind in Kind::ALL {
                let chosen = kind == present;
                if ui.selectable_label(chosen, kind.label()).clicked() && !chosen {
                    *shape = kind.shape_like(shape);
                }
            }
        })
        .response
        .named("Shape of the heap")
        .on_hover_text("What holds the heap; it decides how heat and air get out.");
}

/// The lengths that the shape has.
pub(in crate::window) fn dimensions_ui(ui: &mut Ui, page: &mut Page<'_>, roomy: bool) {
    let units = page.state.settings.units;
    match &mut page.project.heap.shape {
        Shape::OpenHeap => {
            ui.weak("takes the height its volume gives");
        }
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
        } => {
            length_ui(ui, units, "Width", width_m);
            times_ui(ui, roomy);
            length_ui(ui, units, "Length", length_m);
            times_ui(ui, roomy);
            length_ui(ui, units, "Height", height_m);
        }
        Shape::WireCylinder {
            diameter_m,
            height_m,
        } => {
            length_ui(ui, units, "Diameter", diameter_m);
            times_ui(ui, roomy);
            length_ui(ui, units, "Height", height_m);
        }
        Shape::Tumbler {
            diameter_m,
            length_m,
        } => {
            length_ui(ui, units, "Diameter", diameter_m);
            times_ui(ui, roomy);
            length_ui(ui, units, "Length", length_m);
        }
        Shape::Row { width_m, length_m } => {
            length_ui(ui, units, "Width", width_m);
            times_ui(ui, roomy);
            length_ui(ui, units, "Length", length_m);
        }
        Shape::Layer { thickness_m } => thickness_ui(ui, units, thickness_m),
    }
}

/// The sign between two lengths.
fn times_ui(ui: &mut Ui, roomy: bool) {
    if roomy {
        ui.weak("×");
    }
}

fn thickness_ui(ui: &mut Ui, units: UnitSystem, metres: &mut f64) {
    bounded_length_ui(
        ui,
        units,
        ("Thickness of the heap", bounds::LAYER_THICKNESS),
        metres,
    );
}

fn length_ui(ui: &mut Ui, units: UnitSystem, name: &str, metres: &mut f64) {
    let name = format!("{name} of the heap");
    bounded_length_ui(ui, units, (&name, bounds::HEAP_LENGTH), metres);
}

/// One length, typed or dragged in the shown unit.
pub(in crate::window) fn bounded_length_ui(
    ui: &mut Ui,
    units: UnitSystem,
    (name, bound): (&str, Bound),
    metres: &mut f64,
) {
    let (one, unit) = match units {
        UnitSystem::Metric => (1.0, " m"),
        UnitSystem::UsCustomary => (METRE_PER_FOOT, " ft"),
    };
    let before = *metres / one;
    let mut value = before;
    ui.add(
        DragValue::new(&mut value)
            .range(bound.low / one..=bound.high / one)
            .speed(0.01)
            .max_decimals(2)
            .suffix(unit),
    )
    .named(name)
    .on_hover_text(format!("{name}; drag it, or click to type it."));
    if value != before {
        *metres = value * one;
    }
}

/// The day it is built.
pub(in crate::window) fn date_ui(ui: &mut Ui, page: &mut Page<'_>, roomy: bool) {
    let heap = &mut page.project.heap;
    let (month, day) = month_and_day(heap.start_day_of_year);
    let (mut new_month, mut new_day) = (month, day);
    if roomy {
        ui.weak("built");
    }
    ui.add(
        DragValue::new(&mut new_day)
            .range(1..=days_in_month(month))
            .speed(0.1),
    )
    .named("Day of the month it is built")
    .on_hover_text("Day of the month on which the heap is built.");
    ComboBox::from_id_salt("month")
        .selected_text(MONTHS[month])
        .show_ui(ui, |ui| {
            for (index, name) in MONTHS.iter().enumerate() {
                ui.selectable_value(&mut new_month, index, *name);
            }
        })
        .response
        .named("Month it is built")
        .on_hover_text("Month in which the heap is built; it decides the weather.");
    if (new_month, new_day) != (month, day) {
        heap.start_day_of_year = day_of_year(new_month, new_day);
    }
}

/// The forecast length.
pub(in crate::window) fn days_ui(ui: &mut Ui, page: &mut Page<'_>, roomy: bool) {
    let heap = &mut page.project.heap;
    if roomy {
        ui.weak("project");
    }
    ui.add(
        DragValue::new(&mut heap.days)
            .range(bounds::DAYS.low..=bounds::DAYS.high)
            .speed(0.5)
            .max_decimals(0)
            .suffix(" days"),
    )
    .named("Forecast length")
    .on_hover_text("How many days ahead the heat is worked out.");
}

//! The kinds of heap as small drawings to pick from.
//!
//! In: the shape of the heap. Out: the same, or another kind of it.
//!
//! Every drawing is data: points in a unit square, y down, the ground at [`GROUND`]. Not here: sizes and
//! lid (`heap_row`, `place`), what a shape does to heat (`heap::shape`).
//!
//! Tested by: `tests/window/heap.rs`.

use eframe::egui::{
    Align2, CornerRadius, Pos2, Rect, Response, Role, Sense, Shape as Painted, Stroke, StrokeKind,
    Ui, WidgetInfo, pos2, vec2,
};

use crate::heap::Shape;

use crate::window::theme::{Look, small_font, unbroken};
use crate::window::widgets::heap_kind::HeapKind;

/// Where the ground lies in a drawing.
const GROUND: f32 = 0.88;

/// A point of a drawing.
type Point = (f32, f32);

/// One choice.
pub struct Choice {
    /// What it is called, and what a screen reader says.
    pub name: &'static str,
    /// The word below its drawing.
    pub caption: &'static str,
    /// What it is, in a sentence.
    pub tip: &'static str,
    /// The kinds it stands for; the first is taken when it is picked.
    kinds: &'static [HeapKind],
    /// The material: a convex outline.
    heap: &'static [Point],
    /// What holds it: lines.
    holds: &'static [&'static [Point]],
    /// Middle and radius of a drum.
    drum: Option<(Point, f32)>,
}

const PLAIN: Choice = Choice {
    name: "",
    caption: "",
    tip: "",
    kinds: &[],
    heap: &[],
    holds: &[],
    drum: None,
};

/// Everything that can be picked, in the order on screen.
pub const CHOICES: [Choice; 7] = [
    Choice {
        name: "open heap",
        caption: "Heap",
        tip: "A loose heap with nothing around it; its height follows from the volume.",
        kinds: &[HeapKind::Open],
        heap: &[
            (0.08, GROUND),
            (0.3, 0.46),
            (0.44, 0.28),
            (0.56, 0.28),
            (0.7, 0.46),
            (0.92, GROUND),
        ],
        ..PLAIN
    },
    Choice {
        name: "slatted bay",
        caption: "Slats",
        tip: "A bay of slats or pallets; air comes through the gaps.",
        kinds: &[HeapKind::Slatted],
        heap: &[(0.2, GROUND), (0.2, 0.3), (0.8, 0.3), (0.8, GROUND)],
        holds: &[
            &[(0.16, 0.18), (0.16, GROUND)],
            &[(0.84, 0.18), (0.84, GROUND)],
            &[(0.16, 0.24), (0.84, 0.24)],
            &[(0.16, 0.4), (0.84, 0.4)],
            &[(0.16, 0.56), (0.84, 0.56)],
            &[(0.16, 0.72), (0.84, 0.72)],
        ],
        ..PLAIN
    },
    Choice {
        name: "closed bin",
        caption: "Bin",
        tip: "A bin with closed walls on the soil, with or without a lid.",
        kinds: &[HeapKind::SolidLid, HeapKind::SolidOpen],
        heap: &[(0.2, GROUND), (0.26, 0.4), (0.74, 0.4), (0.8, GROUND)],
        holds: &[
            &[(0.18, GROUND), (0.27, 0.22), (0.73, 0.22), (0.82, GROUND)],
            &[(0.22, 0.22), (0.3, 0.12), (0.7, 0.12), (0.78, 0.22)],
        ],
        ..PLAIN
    },
    Choice {
        name: "wire cylinder",
        caption: "Wire",
        tip: "A cylinder of wire mesh, open on every side.",
        kinds: &[HeapKind::Wire],
        heap: &[(0.26, GROUND), (0.26, 0.3), (0.74, 0.3), (0.74, GROUND)],
        holds: &[
            &[(0.24, 0.16), (0.24, GROUND)],
            &[(0.76, 0.16), (0.76, GROUND)],
            &[(0.24, 0.16), (0.76, 0.16)],
            &[(0.24, 0.34), (0.76, 0.86)],
            &[(0.24, 0.16), (0.76, 0.68)],
            &[(0.24, 0.52), (0.6, GROUND)],
            &[(0.42, 0.16), (0.76, 0.5)],
            &[(0.76, 0.34), (0.24, 0.86)],
            &[(0.76, 0.16), (0.24, 0.68)],
            &[(0.76, 0.52), (0.4, GROUND)],
            &[(0.58, 0.16), (0.24, 0.5)],
        ],
        ..PLAIN
    },
    Choice {
        name: "tumbler",
        caption: "Tumbler",
        tip: "A closed drum off the ground with a few air holes.",
        kinds: &[HeapKind::Tumbler],
        holds: &[
            &[(0.24, GROUND), (0.5, 0.46), (0.76, GROUND)],
            &[(0.14, 0.42), (0.24, 0.42)],
            &[(0.76, 0.42), (0.86, 0.42)],
        ],
        drum: Some(((0.5, 0.42), 0.28)),
        ..PLAIN
    },
    Choice {
        name: "long row",
        caption: "Row",
        tip: "A long row with sloping sides.",
        kinds: &[HeapKind::Row],
        heap: &[
            (0.04, GROUND),
            (0.22, 0.5),
            (0.76, 0.3),
            (0.96, 0.62),
            (0.44, GROUND),
        ],
        holds: &[&[(0.22, 0.5), (0.44, GROUND)]],
        ..PLAIN
    },
    Choice {
        name: "layer on the ground",
        caption: "Layer",
        tip: "A thin layer spread out and left on the ground.",
        kinds: &[HeapKind::Layer],
        heap: &[(0.04, GROUND), (0.08, 0.76), (0.92, 0.76), (0.96, GROUND)],
        ..PLAIN
    },
];

/// The row of drawings.
pub fn shape_picker_ui(ui: &mut Ui, shape: &mut Shape, look: Look<'_>) {
    let present = HeapKind::of(shape);
    let gap = look.sizes.gap * 0.5;
    let many = CHOICES.len() as f32;
    let width = ((ui.available_width() - (many - 1.0) * gap) / many)
        .clamp(look.sizes.picture * 0.8, look.sizes.picture * 1.3)
        .floor();
    ui.horizontal_wrapped(|ui| {
        ui.spacing_mut().item_spacing.x = gap;
        for choice in &CHOICES {
            let chosen = choice.kinds.contains(&present);
            let picked = choice_ui(ui, choice, chosen, width, look).clicked();
            if let Some(kind) = choice.kinds.first().filter(|_| picked && !chosen) {
                *shape = kind.shape_like(shape);
            }
        }
    });
}

fn choice_ui(ui: &mut Ui, choice: &Choice, chosen: bool, width: f32, look: Look<'_>) -> Response {
    let size = vec2(width, look.sizes.picture + look.sizes.small * 1.4);
    let (rect, response) = ui.allocate_exact_size(size, Sense::click());
    response.widget_info(|| {
        WidgetInfo::selected(Role::RadioButton, ui.is_enabled(), chosen, choice.name)
    });
    if ui.is_rect_visible(rect) {
        paint(ui, choice, rect, chosen, &response, look);
    }
    response.on_hover_text(unbroken(choice.tip))
}

fn paint(ui: &Ui, choice: &Choice, rect: Rect, chosen: bool, response: &Response, look: Look<'_>) {
    let (colours, sizes) = (look.colours, look.sizes);
    let painter = ui.painter();
    let round = CornerRadius::same(sizes.control_radius);
    let active = response.hovered() || response.has_focus();
    let behind = match (chosen, active) {
        (true, _) => colours.accent_soft,
        (false, true) => colours.hover,
        (false, false) => colours.raised,
    };
    painter.rect_filled(rect, round, behind.0);
    if chosen || response.has_focus() {
        let stroke = Stroke::new(sizes.curve, colours.accent.0);
        painter.rect_stroke(rect, round, stroke, StrokeKind::Inside);
    }
    let side = sizes.picture.min(rect.width()) - sizes.gap * 0.5;
    let square = Rect::from_center_size(
        pos2(rect.center().x, rect.top() + sizes.picture * 0.5),
        vec2(side, side),
    );
    let place = |&(x, y): &Point| -> Pos2 { square.lerp_inside(vec2(x, y)) };
    let line = Stroke::new(sizes.curve * 0.7, colours.text.0);
    if !choice.heap.is_empty() {
        let points = choice.heap.iter().map(place).collect();
        painter.add(Painted::convex_polygon(
            points,
            colours.brown.0,
            Stroke::NONE,
        ));
    }
    if let Some((middle, radius)) = choice.drum {
        painter.circle(place(&middle), radius * side, colours.brown.0, line);
    }
    for part in choice.holds {
        painter.add(Painted::line(part.iter().map(place).collect(), line));
    }
    let ground = [place(&(0.0, GROUND)), place(&(1.0, GROUND))];
    painter.line_segment(ground, Stroke::new(sizes.thin, colours.mark.0));
    let words = if chosen {
        colours.accent_text
    } else {
        colours.text
    };
    painter.text(
        pos2(rect.center().x, rect.bottom() - sizes.gap * 0.4),
        Align2::CENTER_BOTTOM,
        choice.caption,
        small_font(sizes),
        words.0,
    );
}

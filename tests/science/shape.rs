//! Outlines and skins of heaps against plane and solid geometry.

use std::f64::consts::PI;

use heapwright::heap::{Board, Lid, Shape};

use crate::support::close;

#[test]
fn a_full_bay_keeps_plan_area_wall_area_and_height_of_its_box() {
    let bay = Shape::SlattedBin {
        width_m: 1.2,
        length_m: 1.0,
        height_m: 0.9,
    };
    let skin = bay.skin(bay.room_m3().unwrap());
    let radius = skin.outline.extent_m;
    close("plan", PI * radius * radius, 1.2, 1e-12);
    close("height", skin.outline.height_m, 0.9, 1e-12);
    close(
        "walls",
        2.0 * PI * radius * 0.9 * skin.side_area_factor,
        2.0 * 2.2 * 0.9,
        1e-12,
    );
    close("half full", bay.skin(0.54).outline.height_m, 0.45, 1e-12);
}

#[test]
fn an_open_heap_is_a_cone_of_its_volume_at_45_degrees() {
    // V = pi r^2 h / 3.
    let o = Shape::OpenHeap.skin(2.0).outline;
    close(
        "volume",
        PI * o.extent_m * o.extent_m * o.height_m / 3.0,
        2.0,
        1e-12,
    );
    close("slope", o.extent_m, o.height_m, 1e-12);
}

#[test]
fn a_row_is_a_prism_of_a_triangle() {
    let row = Shape::Row {
        width_m: 3.0,
        length_m: 10.0,
    }
    .skin(30.0);
    let half_section = 0.5 * row.outline.extent_m * row.outline.height_m;
    close("volume", row.multiple * half_section, 30.0, 1e-12);
}

#[test]
fn a_layer_has_its_thickness_and_its_volume() {
    let o = Shape::Layer { thickness_m: 0.05 }.skin(0.5).outline;
    close(
        "volume",
        PI * o.extent_m * o.extent_m * o.height_m,
        0.5,
        1e-12,
    );
    close("thickness", o.height_m, 0.05, 1e-12);
}

#[test]
fn a_wire_cylinder_is_a_cylinder() {
    let wire = Shape::WireCylinder {
        diameter_m: 1.0,
        height_m: 1.2,
    };
    close("room", wire.room_m3().unwrap(), PI / 4.0 * 1.2, 1e-12);
    close("walls", wire.skin(0.5).side_area_factor, 1.0, 1e-12);
}

#[test]
fn a_lid_keeps_rain_out_and_boards_keep_warmth_in() {
    let bin = |lid, board| {
        Shape::SolidBin {
            width_m: 0.6,
            length_m: 0.6,
            height_m: 0.8,
            lid,
            board,
        }
        .skin(0.25)
    };
    let (open, closed) = (
        bin(Lid::Open, Board::Plastic),
        bin(Lid::Closed, Board::Plastic),
    );
    assert!(open.rain_share == 1.0 && closed.rain_share == 0.0);
    assert!(closed.top.resistance_m2_k_per_w > open.top.resistance_m2_k_per_w);
    // Thickness over conductivity: 20 mm of timber at 0.13 and 50 mm of foam at 0.036 W/m K, U with a
    // sheltered film of 0.08 m2 K/W 4.3 and 0.68 W/m2 K.
    let u = |board| 1.0 / (0.08 + bin(Lid::Open, board).side.resistance_m2_k_per_w);
    close("timber", u(Board::Timber), 4.3, 0.01);
    close("insulated", u(Board::Insulated), 0.68, 0.01);
}

#[test]
fn absurd_sizes_are_refused_with_a_name() {
    let board = Board::Plastic;
    for shape in [
        Shape::SlattedBin {
            width_m: 0.0,
            length_m: 1.0,
            height_m: 1.0,
        },
        Shape::SlattedBin {
            width_m: f64::NAN,
            length_m: 1.0,
            height_m: 1.0,
        },
        Shape::WireCylinder {
            diameter_m: 100.0,
            height_m: 150.0,
        },
        Shape::SolidBin {
            width_m: 1e300,
            length_m: 1.0,
            height_m: 1.0,
            lid: Lid::Open,
            board,
        },
        Shape::Row {
            width_m: 1.0,
            length_m: -1.0,
        },
        Shape::Tumbler {
            diameter_m: f64::INFINITY,
            length_m: 1.0,
        },
    ] {
        let message = shape.check().unwrap_err().to_string();
        assert!(message.contains("heap"), "{message}");
    }
    let layer = Shape::Layer { thickness_m: 0.0 }
        .check()
        .unwrap_err()
        .to_string();
    assert!(layer.contains("layer"), "{layer}");
}

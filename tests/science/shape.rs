//! Areas and volumes of heaps against plane and solid geometry.

use heapwright::heap::{Lid, Shape};

use crate::support::close;

#[test]
fn a_full_bay_has_the_areas_of_its_box() {
    let bay = Shape::SlattedBin {
        width_m: 1.2,
        length_m: 1.2,
        height_m: 1.0,
    };
    let e = bay.envelope(bay.room_m3().unwrap());
    close("plan", e.plan_area_m2, 1.44, 1e-12);
    close("side", e.side_area_m2, 4.8, 1e-12);
    close("height", e.height_m, 1.0, 1e-12);
    let half = bay.envelope(0.72);
    close("half height", half.height_m, 0.5, 1e-12);
    close("half side", half.side_area_m2, 2.4, 1e-12);
}

#[test]
fn an_open_heap_is_a_cone_of_its_volume() {
    // V = pi r^2 h / 3 and mantle = pi r sqrt(r^2 + h^2), at 45 degrees.
    let e = Shape::OpenHeap.envelope(2.0);
    let (r, h) = (e.height_m, e.height_m);
    close("volume", std::f64::consts::PI * r * r * h / 3.0, 2.0, 1e-12);
    close(
        "mantle",
        e.side_area_m2,
        std::f64::consts::PI * r * r.hypot(h),
        1e-12,
    );
}

#[test]
fn a_wire_cylinder_is_a_cylinder() {
    let wire = Shape::WireCylinder {
        diameter_m: 1.0,
        height_m: 1.2,
    };
    close(
        "room",
        wire.room_m3().unwrap(),
        std::f64::consts::PI / 4.0 * 1.2,
        1e-12,
    );
    close(
        "side",
        wire.envelope(wire.room_m3().unwrap()).side_area_m2,
        std::f64::consts::PI * 1.2,
        1e-12,
    );
}

#[test]
fn a_lid_keeps_rain_out_and_warmth_in() {
    let bin = |lid| {
        Shape::SolidBin {
            width_m: 0.6,
            length_m: 0.6,
            height_m: 0.8,
            lid,
        }
        .envelope(0.25)
    };
    let (open, closed) = (bin(Lid::Open), bin(Lid::Closed));
    assert!(open.rain_share == 1.0 && closed.rain_share == 0.0);
    assert!(closed.top_u_w_per_m2_k < open.top_u_w_per_m2_k);
}

#[test]
fn absurd_sizes_are_refused_with_a_name() {
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
        },
    ] {
        let message = shape.check().unwrap_err().to_string();
        assert!(message.contains("heap"), "{message}");
    }
}

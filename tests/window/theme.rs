//! Colours: legible by WCAG, data colours by Okabe and Ito.

use eframe::egui::Color32;
use heapwright::window::theme::{Colour, Palette, Theme};

fn linear(byte: u8) -> f64 {
    let value = f64::from(byte) / 255.0;
    if value <= 0.04045 {
        value / 12.92
    } else {
        ((value + 0.055) / 1.055).powf(2.4)
    }
}

/// Relative luminance, WCAG 2.2 glossary.
fn luminance(colour: Colour) -> f64 {
    let Color32 { .. } = colour.0;
    let [r, g, b, _] = colour.0.to_array();
    0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b)
}

/// Contrast ratio, WCAG 2.2 glossary.
fn contrast(a: Colour, b: Colour) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

fn palettes() -> Vec<(&'static str, Palette)> {
    let theme = Theme::built_in().unwrap();
    vec![
        ("light", theme.light),
        ("dark", theme.dark),
        ("contrast", theme.contrast),
    ]
}

#[test]
fn text_is_legible_on_every_surface() {
    // WCAG 2.2, 1.4.3 (AA): 4.5 to 1 for text.
    for (name, p) in palettes() {
        for (what, text, behind) in [
            ("text on surface", p.text, p.surface),
            ("text on ground", p.text, p.ground),
            ("text on button", p.text, p.raised),
            ("text on hover", p.text, p.hover),
            ("text on field", p.text, p.field),
            ("weak text on surface", p.text_weak, p.surface),
            ("weak text on ground", p.text_weak, p.ground),
            ("chosen text", p.accent_text, p.accent_soft),
            ("good word", p.good, p.surface),
            ("near word", p.near, p.surface),
            ("bad word", p.bad, p.surface),
            ("bad word on ground", p.bad, p.ground),
        ] {
            let ratio = contrast(text, behind);
            assert!(ratio >= 4.5, "{name}: {what} has only {ratio:.2}");
        }
    }
}

#[test]
fn numbers_over_the_inside_of_a_heap_are_legible() {
    // They stand on the halo, which lies over whatever colour the field has there (WCAG 2.2, 1.4.3).
    let maps = Theme::built_in().unwrap().maps;
    let [.., alpha] = maps.halo.0.to_srgba_unmultiplied();
    let left = 1.0 - f64::from(alpha) / 255.0;
    for field in maps.heat.iter().chain(&maps.water).chain(&maps.air) {
        let below = field.0.to_array().map(|byte| f64::from(byte) * left);
        let [r, g, b, _] = below.map(|value| value.round() as u8);
        let ratio = contrast(maps.line, Colour(Color32::from_rgb(r, g, b)));
        assert!(ratio >= 4.5, "{field:?}: {ratio:.2}");
    }
}

#[test]
fn needles_and_curves_stand_out() {
    // WCAG 2.2, 1.4.11: 3 to 1 for parts of graphics. The ghost is faint on purpose and left out.
    for (name, p) in palettes() {
        for (what, line, behind) in [
            ("needle", p.live, p.rail),
            ("needle on the best band", p.live, p.band_best),
            ("heap", p.heap, p.surface),
            ("air", p.air, p.surface),
            ("slider", p.accent, p.rail),
        ] {
            let ratio = contrast(line, behind);
            let least = if what == "needle on the best band" {
                2.0
            } else {
                3.0
            };
            assert!(ratio >= least, "{name}: {what} has only {ratio:.2}");
        }
    }
}

#[test]
fn data_colours_are_those_of_okabe_and_ito() {
    // Okabe and Ito 2008, Color Universal Design; the eight as printed there, in hexadecimal.
    let eight = [
        "#000000", "#e69f00", "#56b4e9", "#009e73", "#f0e442", "#0072b2", "#d55e00", "#cc79a7",
    ]
    .map(|hex| Color32::from_hex(hex).unwrap());
    for (name, p) in palettes() {
        for (what, colour) in [
            ("live", p.live),
            ("ghost", p.ghost),
            ("heap", p.heap),
            ("air", p.air),
            ("green", p.green),
        ] {
            assert!(eight.contains(&colour.0), "{name}: {what}");
        }
        assert_ne!(p.live, p.ghost);
        assert_ne!(p.heap, p.air);
    }
}

#[test]
fn no_other_file_makes_a_colour() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/window");
    let mut read = 0;
    let mut paths = vec![folder];
    while let Some(path) = paths.pop() {
        if path.is_dir() {
            paths.extend(std::fs::read_dir(path).unwrap().map(|e| e.unwrap().path()));
            continue;
        }
        if path.ends_with("theme.rs") {
            continue;
        }
        let text = std::fs::read_to_string(&path).unwrap();
        read += 1;
        for maker in [
            "from_rgb",
            "from_gray",
            "from_hex",
            "from_rgba",
            "Color32::R",
            "Color32::W",
            "Color32::B",
        ] {
            assert!(
                !text.contains(maker),
                "{} makes a colour: {maker}",
                path.display()
            );
        }
    }
    assert!(read > 10, "the window's files were not found");
}

/// Calls whose plain number would be a size in points, and what a place is added to.
const SIZED: [&str; 13] = [
    "add_space(",
    "Stroke::new(",
    "shrink(",
    "expand(",
    "desired_width(",
    "set_width(",
    "set_max_width(",
    "max_height(",
    "CornerRadius::same(",
    "radius(",
    ".width(",
    "vec2(",
    "rect_filled(spot, ",
];
/// Lengths on screen, to which something is added.
const LENGTHS: [&str; 8] = [
    ".left()",
    ".right()",
    ".top()",
    ".bottom()",
    "available_width()",
    "available_height()",
    "pos2(x, y",
    ".size()",
];

/// Whether a text begins with a number above one that stands alone; `0.5 * gap` and `0.26 * width` do not.
fn begins_with_points(text: &str) -> bool {
    let end = text
        .find(|letter: char| !letter.is_ascii_digit() && letter != '.')
        .unwrap_or(text.len());
    let number: f64 = text[..end].parse().unwrap_or(0.0);
    number > 1.0 && !text[end..].trim_start().starts_with(['*', '/'])
}

#[test]
fn sizes_in_points_come_from_the_table() {
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/window");
    let mut read = 0;
    let mut paths: Vec<_> = [
        "widgets",
        "mix",
        "heap",
        "results",
        "class",
        "materials",
        "recipes",
        "overlays",
    ]
    .map(|folder| root.join(folder))
    .into();
    while let Some(path) = paths.pop() {
        if path.is_dir() {
            paths.extend(std::fs::read_dir(path).unwrap().map(|e| e.unwrap().path()));
            continue;
        }
        read += 1;
        let text = std::fs::read_to_string(&path).unwrap();
        for line in text.lines().filter(|line| !line.trim().starts_with("//")) {
            let told = format!("{}: {line}", path.display());
            for call in SIZED {
                let mut after = line.split(call).skip(1);
                assert!(!after.any(begins_with_points), "{told}");
            }
            for length in LENGTHS {
                for after in line.split(length).skip(1) {
                    let added = after
                        .strip_prefix(" + ")
                        .or_else(|| after.strip_prefix(" - "));
                    assert!(!added.is_some_and(begins_with_points), "{told}");
                }
            }
        }
    }
    assert!(read > 30, "the window was not found");
}

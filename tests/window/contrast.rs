//! Every letter as it is painted, against what is painted below it: 4.5 to 1 and more.
//!
//! The shapes of a frame are read in their order. What lies below a letter is blended from the fills under its
//! middle; its own colour is that of its corners, faded as it is painted.

use eframe::egui::epaint::{ClippedShape, Shape, TextShape};
use eframe::egui::{self, Color32, Pos2, Rect};
use egui_kittest::kittest::{NodeT, Queryable};
use heapwright::document::ThemeChoice;
use heapwright::window::View;
use heapwright::window::action::{Action, ClassAction, YearAction};
use heapwright::window::piles::class_choices::Mode;
use heapwright::window::piles::year_desk::YearTab;

use super::support::{Window, window};

/// WCAG 2.2, 1.4.3 (AA), text of any size here.
const LEAST: f64 = 4.5;

/// Red, green and blue, 0-1, not linear, of light that is blended as the window does it.
type Rgb = [f64; 3];

/// Relative luminance, WCAG 2.2 glossary.
fn luminance(colour: Rgb) -> f64 {
    let [r, g, b] = colour.map(|value| {
        if value <= 0.04045 {
            value / 12.92
        } else {
            ((value + 0.055) / 1.055).powf(2.4)
        }
    });
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

/// Contrast ratio, WCAG 2.2 glossary.
fn contrast(a: Rgb, b: Rgb) -> f64 {
    let (a, b) = (luminance(a), luminance(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// A colour, its alpha multiplied in already, over another.
fn over(colour: Color32, below: Rgb) -> Rgb {
    let [r, g, b, a] = colour.to_array().map(|byte| f64::from(byte) / 255.0);
    let [red, green, blue] = below;
    [
        r + red * (1.0 - a),
        g + green * (1.0 - a),
        b + blue * (1.0 - a),
    ]
}

/// Something filled.
enum Fill {
    Rect(Rect),
    Circle(Pos2, f32),
    Polygon(Vec<Pos2>),
    /// A picture: what lies below a letter on it is not known from its shape.
    Picture(Rect),
}

struct Painted {
    fill: Fill,
    colour: Color32,
    clip: Rect,
}

impl Painted {
    fn covers(&self, at: Pos2) -> bool {
        self.clip.contains(at)
            && match &self.fill {
                Fill::Rect(rect) | Fill::Picture(rect) => rect.contains(at),
                Fill::Circle(centre, radius) => centre.distance(at) <= *radius,
                Fill::Polygon(points) => inside(points, at),
            }
    }
}

/// Whether a point lies in a polygon: a ray to the right crosses its sides an odd number of times.
fn inside(points: &[Pos2], at: Pos2) -> bool {
    let ends = points.iter().skip(1).chain(points.first());
    let crossed = points.iter().zip(ends).filter(|(a, b)| {
        (a.y > at.y) != (b.y > at.y) && at.x < a.x + (at.y - a.y) / (b.y - a.y) * (b.x - a.x)
    });
    crossed.count() % 2 == 1
}

/// A letter that is too faint.
#[derive(Debug)]
struct Faint {
    letter: char,
    text: String,
    ratio: f64,
}

struct Reader {
    ground: Rgb,
    fills: Vec<Painted>,
    letters: usize,
    faint: Vec<Faint>,
}

impl Reader {
    fn read(&mut self, shapes: &[ClippedShape]) {
        for ClippedShape {
            clip_rect, shape, ..
        } in shapes
        {
            self.shape(shape, *clip_rect);
        }
    }

    fn fill(&mut self, fill: Fill, colour: Color32, clip: Rect) {
        if colour != Color32::TRANSPARENT {
            self.fills.push(Painted { fill, colour, clip });
        }
    }

    fn shape(&mut self, shape: &Shape, clip: Rect) {
        match shape {
            Shape::Vec(all) => all.iter().for_each(|shape| self.shape(shape, clip)),
            // A blurred rectangle is a shadow: what it darkens is not its own shape alone.
            Shape::Rect(rect) if rect.blur_width == 0.0 => {
                self.fill(Fill::Rect(rect.rect), rect.fill, clip);
            }
            Shape::Circle(circle) => {
                self.fill(
                    Fill::Circle(circle.center, circle.radius),
                    circle.fill,
                    clip,
                );
            }
            Shape::Path(path) if path.closed => {
                self.fill(Fill::Polygon(path.points.clone()), path.fill, clip);
            }
            Shape::Mesh(mesh) if mesh.texture_id == egui::TextureId::default() => {
                for corners in mesh.indices.chunks_exact(3) {
                    let corner = |index: usize| mesh.vertices[corners[index] as usize];
                    let points = vec![corner(0).pos, corner(1).pos, corner(2).pos];
                    self.fill(Fill::Polygon(points), corner(0).color, clip);
                }
            }
            Shape::Mesh(mesh) => {
                self.fill(Fill::Picture(mesh.calc_bounds()), Color32::WHITE, clip);
            }
            Shape::Text(text) => self.text(text, clip),
            _ => {}
        }
    }

    /// What is painted at a point; nothing on a picture.
    fn below(&self, at: Pos2) -> Option<Rgb> {
        let mut colour = self.ground;
        for painted in self.fills.iter().filter(|painted| painted.covers(at)) {
            if matches!(painted.fill, Fill::Picture(_)) {
                return None;
            }
            colour = over(painted.colour, colour);
        }
        Some(colour)
    }

    fn text(&mut self, text: &TextShape, clip: Rect) {
        for row in &text.galley.rows {
            let visuals = &row.row.visuals;
            for glyph in row
                .row
                .glyphs
                .iter()
                .filter(|glyph| !glyph.chr.is_whitespace())
            {
                let middle = row.pos.to_vec2()
                    + egui::vec2(
                        glyph.pos.x + glyph.advance_width / 2.0,
                        row.row.size.y / 2.0,
                    );
                let at = text.pos + middle;
                if !clip.contains(at) || glyph.uv_rect.is_nothing() {
                    continue;
                }
                let Some(mut below) = self.below(at) else {
                    continue;
                };
                // What belongs to the text itself: the ground of what is selected.
                let local = (at - text.pos - row.pos.to_vec2()).to_pos2();
                let own = visuals.mesh.indices[..].chunks_exact(6);
                for corners in own {
                    let quad = corners.iter().map(|index| *index as usize);
                    if quad
                        .clone()
                        .any(|index| visuals.glyph_vertex_range.contains(&index))
                    {
                        break;
                    }
                    let vertices: Vec<_> = quad.map(|index| visuals.mesh.vertices[index]).collect();
                    let points: Vec<Pos2> = vertices.iter().map(|vertex| vertex.pos).collect();
                    if Rect::from_points(&points).contains(local) {
                        below = over(vertices[0].color, below);
                    }
                }
                let vertex = visuals.mesh.vertices[glyph.first_vertex as usize];
                let mut colour = match text.override_text_color {
                    Some(colour) => colour,
                    None if vertex.color == Color32::PLACEHOLDER => text.fallback_color,
                    None => vertex.color,
                };
                colour = colour.gamma_multiply(text.opacity_factor);
                let ratio = contrast(over(colour, below), below);
                self.letters += 1;
                if ratio < LEAST {
                    self.faint.push(Faint {
                        letter: glyph.chr,
                        text: text.galley.text().chars().take(60).collect(),
                        ratio,
                    });
                }
            }
        }
    }
}

const THEMES: [ThemeChoice; 3] = [ThemeChoice::Light, ThemeChoice::Dark, ThemeChoice::Contrast];

fn in_theme(theme: ThemeChoice) -> Window {
    let mut window = window();
    window.harness.state_mut().bench.state.settings.theme = theme;
    window.run();
    window.run();
    window
}

/// Reads what is on screen; fails on letters that are too faint.
fn all_legible(window: &Window, what: &str) -> usize {
    let ground = window
        .harness
        .ctx
        .style_of(window.harness.ctx.theme())
        .visuals
        .panel_fill;
    let mut reader = Reader {
        ground: over(ground, [0.0; 3]),
        fills: Vec::new(),
        letters: 0,
        faint: Vec::new(),
    };
    reader.read(&window.harness.output().shapes);
    let mut told: Vec<String> = reader
        .faint
        .iter()
        .map(|faint| format!("{:.2} {:?} in {:?}", faint.ratio, faint.letter, faint.text))
        .collect();
    told.dedup();
    assert!(told.is_empty(), "{what}:\n{}", told.join("\n"));
    reader.letters
}

fn ask(window: &mut Window, action: Action) {
    window.harness.state_mut().ask(action);
    window.run();
    window.run();
}

#[test]
fn the_reader_finds_what_is_faint() {
    // #777777 on white is 4.48 to 1 and #767676 is 4.54 (the usual examples for WCAG 2; from memory).
    let grey = |byte: u8| [f64::from(byte) / 255.0; 3];
    assert!((contrast(grey(0x77), [1.0; 3]) - 4.48).abs() < 0.005);
    assert!((contrast(grey(0x76), [1.0; 3]) - 4.54).abs() < 0.005);
    assert!((contrast([0.0; 3], [1.0; 3]) - 21.0).abs() < 1e-9);
    // Half of black over white is as light as the grey between them.
    let half = over(Color32::from_black_alpha(128), [1.0; 3]);
    assert!((half[0] - 127.0 / 255.0).abs() < 1e-3);
    let mut found = Vec::new();
    for grey in [0x77, 0x76] {
        let mut harness = egui_kittest::Harness::new_ui(move |ui| {
            ui.painter()
                .rect_filled(Rect::EVERYTHING, 0.0, Color32::WHITE);
            ui.colored_label(Color32::from_gray(grey), "123");
        });
        harness.run();
        let mut reader = Reader {
            ground: [0.0; 3],
            fills: Vec::new(),
            letters: 0,
            faint: Vec::new(),
        };
        reader.read(&harness.output().shapes);
        found.push((reader.letters, reader.faint.len()));
    }
    assert_eq!(found, [(3, 3), (3, 0)]);
}

#[test]
fn every_letter_of_every_view_is_legible_in_every_theme() {
    for theme in THEMES {
        let mut window = in_theme(theme);
        for view in View::ALL {
            ask(&mut window, Action::Show(view));
            let letters = all_legible(&window, &format!("{theme:?} {view:?}"));
            assert!(letters > 100, "{view:?}: only {letters} letters were found");
        }
        for mode in [Mode::Trials, Mode::Lessons] {
            ask(&mut window, Action::Class(ClassAction::Mode(mode)));
            all_legible(&window, &format!("{theme:?} {mode:?}"));
        }
    }
}

#[test]
fn a_verdict_over_its_curves_is_legible_in_every_theme() {
    for theme in THEMES {
        let mut window = in_theme(theme);
        ask(&mut window, Action::Show(View::Class));
        ask(&mut window, Action::Class(ClassAction::Mode(Mode::Trials)));
        window
            .harness
            .state_mut()
            .ask(Action::Class(ClassAction::RunTrial));
        let begun = std::time::Instant::now();
        let told = |window: &Window| {
            let shown = window.app().shown.trial.as_ref();
            shown.is_some_and(|shown| shown.comparison.is_some())
        };
        while !told(&window) {
            window.harness.step();
            std::thread::sleep(std::time::Duration::from_millis(10));
            assert!(begun.elapsed().as_secs() < 120, "no pairs came");
        }
        ask(&mut window, Action::Class(ClassAction::StopTrial));
        all_legible(&window, &format!("{theme:?}, a trial"));
    }
}

#[test]
fn every_letter_of_the_year_is_legible_in_every_theme() {
    for theme in THEMES {
        let mut window = in_theme(theme);
        ask(&mut window, Action::Year(YearAction::Example));
        window.wait_for_year();
        let wish = heapwright::year::Wish::Empty {
            bay: "Bay 1".to_owned(),
            month: 3,
        };
        ask(&mut window, Action::Year(YearAction::Decide(wish)));
        for tab in YearTab::ALL {
            ask(&mut window, Action::Year(YearAction::Tab(tab)));
            all_legible(&window, &format!("{theme:?} {tab:?}"));
        }
        window.press("Bay 1 in October");
        all_legible(&window, &format!("{theme:?}, a month of a bay"));
    }
}

#[test]
fn drawers_and_dialogs_are_legible_in_every_theme() {
    for theme in THEMES {
        for action in [
            Action::PickMaterial,
            Action::ShowMaterial("coffee_grounds".to_owned()),
            Action::AskWrong,
            Action::SaveByPath,
            Action::ToggleNotices,
            Action::ShowKeys,
            Action::ShowAbout,
            Action::Balance,
        ] {
            let mut window = in_theme(theme);
            ask(&mut window, action.clone());
            all_legible(&window, &format!("{theme:?} {action:?}"));
        }
    }
}

#[test]
fn selected_digits_are_legible_in_every_theme() {
    for theme in THEMES {
        let mut window = in_theme(theme);
        let name = "Amount of ingredient 1";
        let field = window
            .harness
            .query_all_by_role(egui::accesskit::Role::SpinButton)
            .find_map(|node| node.accesskit_node().label())
            .unwrap_or_else(|| name.to_owned());
        window
            .harness
            .get_all_by_role_and_label(egui::accesskit::Role::SpinButton, &field)
            .next()
            .unwrap()
            .click();
        window.run();
        window.run();
        assert!(window.harness.ctx.text_edit_focused(), "{field}");
        all_legible(&window, &format!("{theme:?}, {field} selected"));
    }
}

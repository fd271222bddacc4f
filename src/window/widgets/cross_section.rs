//! The cross-section: the inside of the heap in colour, mirrored about its middle, with lines of equal
//! temperature, its height and width, and a legend. It sinks as the heap settles; one scale holds for the whole run.
//!
//! In: a projection, a day, what to show. Out: the drawn picture, and the same in words for a screen
//! reader and on hover; the place that was clicked, where one is asked for.
//!
//! Colours: inferno, cividis and viridis (Matplotlib, CC0; perceptually uniform), as hex lists in
//! `assets/theme.ron`.
//!
//! Not here: raster and isolines (`section`), day and choice (`heap`).
//!
//! Tested by: `tests/window/heap_section.rs`.

use eframe::egui::{
    self, Align2, Color32, ColorImage, FontId, Rect, Role, Sense, Stroke, TextureHandle,
    TextureOptions, Ui, WidgetInfo, pos2, vec2,
};

use crate::diary::Spot;
use crate::heap::{Projection, SectionValue, Shape};
use crate::quantity::UnitSystem;

use crate::export::section::{Extent, Raster, span, ticks};
use crate::text::diary::CLICK_TO_READ;
use crate::text::number;
use crate::text::page::{section_value, section_value_in_sentence};
use crate::window::theme::{Look, unbroken};
use crate::window::widgets::section_frame::{ASPECTS, Sizes};

/// Points of the picture across.
const ACROSS: usize = 192;
/// Temperatures whose lines are drawn, degC.
const LINES_C: [f32; 3] = [40.0, 55.0, 65.0];

/// Room beside the picture for its height, in sizes of small letters.
const HEIGHT_ROOM: f32 = 4.5;
/// Room under the ground for its width, in sizes of small letters.
const WIDTH_ROOM: f32 = 1.5;
/// A piece of a line, as shares of width and height.
type Piece = [(f32, f32); 2];

/// What the picture draws.
pub struct CrossSection<'a> {
    /// The present projection.
    pub projection: &'a Projection,
    /// Shape of the heap, where it is known: a width is told of some.
    pub shape: Option<&'a Shape>,
    /// Day shown.
    pub day: f64,
    /// What of it.
    pub shows: SectionValue,
    /// Units shown.
    pub units: UnitSystem,
    /// Colours and sizes.
    pub look: Look<'a>,
}

/// The place of the heap that lies at a point of the picture; `None` beside it.
fn spot_at(raster: &Raster, rect: Rect, at: egui::Pos2) -> Option<Spot> {
    let across = f64::from((at.x - rect.left()) / rect.width());
    let down = f64::from((at.y - rect.top()) / rect.height());
    if !(0.0..=1.0).contains(&across) || !(0.0..=1.0).contains(&down) {
        return None;
    }
    let reach = raster.reach(down)?;
    let out = (2.0 * across - 1.0).abs() / reach.max(1e-9);
    // To whole hundredths: nobody puts a probe more exactly than that.
    let rounded = |share: f64| (100.0 * share).round() / 100.0;
    (out <= 1.0).then(|| Spot {
        out: rounded(out),
        up: rounded(1.0 - down),
    })
}

/// Colour of a share of the way through a map.
fn colour(map: &[crate::window::theme::Colour], share: f64) -> Color32 {
    let steps = map.len().saturating_sub(1);
    let place = share.clamp(0.0, 1.0) * steps as f64;
    let index = (place as usize).min(steps.saturating_sub(1));
    match (map.get(index), map.get(index + 1)) {
        (Some(a), Some(b)) => a.0.lerp_to_gamma(b.0, (place - index as f64) as f32),
        (Some(only), None) => only.0,
        _ => Color32::TRANSPARENT,
    }
}

impl CrossSection<'_> {
    fn map(&self) -> &[crate::window::theme::Colour] {
        match self.shows {
            SectionValue::Temperature => &self.look.maps.heat,
            SectionValue::Moisture | SectionValue::LeftToRot => &self.look.maps.water,
            SectionValue::Oxygen => &self.look.maps.air,
        }
    }

    fn share(&self, value: f64) -> f64 {
        let (low, high) = span(self.shows);
        (value - low) / (high - low)
    }

    /// The picture's numbers.
    fn raster(&self, stands: Extent) -> Option<Raster> {
        let field = self.projection.field_at(self.day)?;
        let grid = self.projection.grids.get(field.grid)?;
        let aspect = stands.aspect().clamp(ASPECTS.0, ASPECTS.1);
        let up = ((ACROSS as f64 / aspect) as usize).clamp(8, 2 * ACROSS);
        Some(Raster::of(grid, self.shows.values(field), ACROSS, up))
    }

    /// Draws the section into what room there is: words above, legend below.
    pub fn show(self, ui: &mut Ui) {
        self.draw(ui, None);
    }

    /// The same with a place marked, on both sides of the middle; gives the place that was clicked.
    pub fn show_with_place(self, ui: &mut Ui, marked: Spot) -> Option<Spot> {
        self.draw(ui, Some(marked))
    }

    fn draw(self, ui: &mut Ui, marked: Option<Spot>) -> Option<Spot> {
        let drawn = Sizes::on_day(self.projection, self.day)
            .and_then(|it| self.raster(it.now).map(|raster| (it, raster)));
        let Some((sizes, raster)) = drawn else {
            ui.weak("Nothing to show: the mix is empty.");
            return None;
        };
        let words = self.words_of(&raster, &sizes);
        ui.label(unbroken(&words).color(self.look.colours.text_weak.0));
        let small = self.look.sizes.small;
        let legend = 2.6 * small;
        let room = ui.available_size();
        let most = (room.y - legend).max(self.look.sizes.least_width);
        let sense = match marked {
            Some(_) => Sense::click(),
            None => Sense::hover(),
        };
        let (area, response) = ui.allocate_exact_size(vec2(room.x, most), sense);
        let (beside, below) = (HEIGHT_ROOM * small, WIDTH_ROOM * small);
        let free = Rect::from_min_max(
            pos2(area.left() + beside, area.top() + 0.5 * small),
            pos2(area.right() - beside, area.bottom() - below),
        );
        let frame = sizes.frame_in(free);
        let rect = sizes.place_in(frame);
        self.paint(ui, &raster, rect);
        self.measures(ui, &sizes, (frame, rect));
        if let Some(marked) = marked {
            self.mark(ui, &raster, rect, marked);
        }
        self.legend(ui, legend);
        let clicked = response
            .clicked()
            .then(|| response.interact_pointer_pos())
            .flatten()
            .and_then(|at| spot_at(&raster, rect, at));
        response.widget_info(|| WidgetInfo::labeled(Role::Image, true, words.clone()));
        let pointed = response.hover_pos().and_then(|at| {
            let (across, down) = (
                (at.x - rect.left()) / rect.width(),
                (at.y - rect.top()) / rect.height(),
            );
            let inside = (0.0..=1.0).contains(&across) && (0.0..=1.0).contains(&down);
            inside
                .then(|| raster.at(f64::from(across), f64::from(down)))
                .flatten()
        });
        if let Some(value) = pointed {
            let mut told = section_value(self.shows, value, self.units);
            if marked.is_some() {
                told = format!("{told}{CLICK_TO_READ}");
            }
            response.on_hover_text_at_pointer(told);
        }
        clicked
    }

    /// A ring where the reading is taken, and a thin one on the other side of the middle.
    fn mark(&self, ui: &Ui, raster: &Raster, rect: Rect, marked: Spot) {
        let down = (1.0 - marked.up).clamp(0.0, 1.0);
        let reach = raster.reach(down).unwrap_or_default();
        let (maps, sizes) = (self.look.maps, self.look.sizes);
        for (side, thick) in [(1.0, sizes.curve), (-1.0, sizes.thin)] {
            let across = 0.5 + 0.5 * side * marked.out * reach;
            let at = rect.lerp_inside(vec2(across as f32, down as f32));
            let radius = 2.0 * sizes.dot;
            let halo = Stroke::new(thick + 2.0 * sizes.thin, maps.halo.0);
            ui.painter().circle_stroke(at, radius, halo);
            let ring = Stroke::new(thick, maps.line.0);
            ui.painter().circle_stroke(at, radius, ring);
            if marked.out < 0.01 {
                break;
            }
        }
    }

    /// Whether the section is as wide as the heap: a bay or bin is calculated as round, of the same ground.
    fn is_cut_as_it_stands(&self) -> bool {
        matches!(
            self.shape,
            Some(Shape::OpenHeap | Shape::WireCylinder { .. } | Shape::Row { .. })
        )
    }

    /// Its height beside it, its width under it, and how high it was, where that can be told from how high it is.
    fn measures(&self, ui: &Ui, sizes: &Sizes, (frame, rect): (Rect, Rect)) {
        let (weak, thin) = (self.look.colours.text_weak.0, self.look.sizes.thin);
        let (tick, small) = (self.look.sizes.tick, self.look.sizes.small);
        let font = FontId::proportional(small);
        let stroke = Stroke::new(thin, weak);
        let painter = ui.painter();
        let text = |at, align, words: String| painter.text(at, align, words, font.clone(), weak);
        let x = frame.left() - small;
        let ends = [pos2(x, rect.top()), pos2(x, rect.bottom())];
        painter.line_segment(ends, stroke);
        for end in ends {
            painter.line_segment([end - vec2(tick, 0.0), end + vec2(tick, 0.0)], stroke);
        }
        let height = number::length(sizes.now.height_m, self.units);
        let beside = pos2(x - 1.5 * tick, rect.center().y);
        text(beside, Align2::RIGHT_CENTER, height);
        let width = if self.is_cut_as_it_stands() {
            number::length(sizes.now.width_m, self.units)
        } else {
            String::new()
        };
        let under = pos2(rect.center().x, rect.bottom() + tick);
        text(under, Align2::CENTER_TOP, width);
        if sizes.has_settled() {
            let place = sizes.first_in(frame);
            let (left, right) = (place.left_top(), place.right_top());
            painter.extend(egui::Shape::dashed_line(
                &[left, right],
                stroke,
                2.0 * tick,
                2.0 * tick,
            ));
            let beyond = right + vec2(tick, 0.0);
            text(beyond, Align2::LEFT_CENTER, "as built".to_owned());
        }
    }

    /// Centre and edge in words, then how high it stands.
    fn words_of(&self, raster: &Raster, sizes: &Sizes) -> String {
        let values = match (self.shows, self.projection.at(self.day)) {
            (SectionValue::Temperature, Some(r)) => format!(
                " Centre {}, halfway {}, edge {}.",
                number::temperature(r.centre_c, self.units),
                number::temperature(r.middle_c, self.units),
                number::temperature(r.edge_c, self.units)
            ),
            _ => raster
                .centre_and_edge()
                .map_or(String::new(), |(centre, edge)| {
                    format!(
                        " Centre {}, edge {}.",
                        section_value(self.shows, centre, self.units),
                        section_value(self.shows, edge, self.units)
                    )
                }),
        };
        let higher = sizes.drawn_higher().map_or(String::new(), |times| {
            format!(" Height drawn {times:.0} times.")
        });
        let stands = number::length(sizes.now.height_m, self.units);
        let settled = if sizes.has_settled() {
            let built = number::length(sizes.at_first.height_m, self.units);
            format!(" Settled to {stands} from {built}.")
        } else {
            format!(" {stands} high.")
        };
        format!(
            "Cross-section on day {:.0}: {}.{values}{settled}{higher}",
            self.day,
            section_value_in_sentence(self.shows)
        )
    }

    fn paint(&self, ui: &Ui, raster: &Raster, rect: Rect) {
        let map = self.map();
        let pixels = raster
            .values
            .iter()
            .map(|value| {
                if value.is_nan() {
                    Color32::TRANSPARENT
                } else {
                    colour(map, self.share(f64::from(*value)))
                }
            })
            .collect();
        let image = ColorImage::new([raster.width, raster.height], pixels);
        // One texture for all frames: it is painted over, never made anew.
        let place = egui::Id::unique("cross-section texture");
        let known: Option<TextureHandle> = ui.data(|data| data.get_temp(place));
        let texture = match known {
            Some(mut texture) => {
                texture.set(image, TextureOptions::LINEAR);
                texture
            }
            None => {
                let options = TextureOptions::LINEAR;
                let texture = ui.ctx().load_texture("cross-section", image, options);
                ui.data_mut(|data| data.insert_temp(place, texture.clone()));
                texture
            }
        };
        let whole = Rect::from_min_max(pos2(0.0, 0.0), pos2(1.0, 1.0));
        ui.painter()
            .image(texture.id(), rect, whole, self.look.maps.untinted.0);
        let ground = Stroke::new(self.look.sizes.curve, self.look.colours.mark.0);
        let beyond = f32::from(self.look.sizes.pad);
        let base = [
            pos2(rect.left() - beyond, rect.bottom()),
            pos2(rect.right() + beyond, rect.bottom()),
        ];
        ui.painter().line_segment(base, ground);
        if self.shows == SectionValue::Temperature {
            let mut taken = Vec::new();
            for level in LINES_C {
                let pieces = raster.isoline(level);
                self.line(ui, &pieces, rect);
                self.line_label(ui, &pieces, rect, (level, &mut taken));
            }
        }
    }

    fn line(&self, ui: &Ui, pieces: &[Piece], rect: Rect) {
        let (thin, maps) = (self.look.sizes.thin, self.look.maps);
        for stroke in [
            Stroke::new(3.0 * thin, maps.halo.0),
            Stroke::new(1.3 * thin, maps.line.0),
        ] {
            for piece in pieces {
                let ends = piece.map(|end| rect.lerp_inside(vec2(end.0, end.1)));
                ui.painter().line_segment(ends, stroke);
            }
        }
    }

    /// The number of a line, as far to the right on it as no other number stands.
    fn line_label(
        &self,
        ui: &Ui,
        pieces: &[Piece],
        rect: Rect,
        (level, taken): (f32, &mut Vec<Rect>),
    ) {
        let (maps, tick) = (self.look.maps, self.look.sizes.tick);
        let font = FontId::proportional(self.look.sizes.small);
        let text = number::temperature(f64::from(level), self.units);
        let words = ui.painter().layout_no_wrap(text, font, maps.line.0);
        let size = words.size() + vec2(2.0 * tick, 0.0);
        let mut places: Vec<(f32, f32)> = pieces.iter().map(|piece| piece[0]).collect();
        places.sort_by(|a, b| b.0.total_cmp(&a.0));
        let room = rect.shrink2(size / 2.0);
        let free = places
            .iter()
            .map(|place| room.clamp(rect.lerp_inside(vec2(place.0, place.1))))
            .map(|middle| Rect::from_center_size(middle, size))
            .find(|spot| {
                !taken
                    .iter()
                    .any(|other| other.expand(self.look.sizes.nudge).intersects(*spot))
            });
        if let Some(spot) = free {
            ui.painter().rect_filled(spot, tick, maps.halo.0);
            ui.painter()
                .galley(spot.min + vec2(tick, 0.0), words, maps.line.0);
            taken.push(spot);
        }
    }

    fn legend(&self, ui: &mut Ui, height: f32) {
        let (rect, _) = ui.allocate_exact_size(vec2(ui.available_width(), height), Sense::hover());
        let gap = self.look.sizes.gap;
        let bar = Rect::from_min_size(
            pos2(rect.left() + 0.2 * rect.width(), rect.top() + 0.5 * gap),
            vec2(0.6 * rect.width(), gap),
        );
        let steps = 160;
        for step in 0..steps {
            let (a, b) = (step as f32 / steps as f32, (step + 1) as f32 / steps as f32);
            let part = Rect::from_min_max(
                pos2(bar.left() + a * bar.width(), bar.top()),
                pos2(bar.left() + b * bar.width(), bar.bottom()),
            );
            ui.painter()
                .rect_filled(part, 0.0, colour(self.map(), f64::from(a)));
        }
        let font = FontId::proportional(self.look.sizes.small);
        let (weak, thin) = (self.look.colours.text_weak.0, self.look.sizes.thin);
        let long = self.look.sizes.tick;
        for &value in ticks(self.shows) {
            let x = bar.left() + self.share(value) as f32 * bar.width();
            let tick = [pos2(x, bar.bottom()), pos2(x, bar.bottom() + long)];
            ui.painter().line_segment(tick, Stroke::new(thin, weak));
            let text = section_value(self.shows, value, self.units);
            let at = pos2(x, bar.bottom() + long);
            ui.painter()
                .text(at, Align2::CENTER_TOP, text, font.clone(), weak);
        }
    }
}

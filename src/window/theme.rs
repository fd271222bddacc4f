//! The look of the window: every colour and size, light and dark.
//!
//! In: `assets/theme.ron` and two fonts, built into the program. Out: [`Look`], and the style egui
//! draws its own widgets with.
//!
//! Not here: where anything stands. No other file of the window makes a colour.
//!
//! Tested by: `tests/window/theme.rs` (contrast by WCAG 2.2, data colours by Okabe and Ito).

use std::sync::Arc;

use eframe::egui::{
    self, Color32, CornerRadius, FontData, FontDefinitions, FontFamily, FontId, Margin, Shadow,
    Stroke, TextStyle, Visuals, epaint::text::TextWrapMode, style::WidgetVisuals,
};
use serde::{Deserialize, Deserializer};

use crate::text::number::unparted;

const THEME_RON: &str = include_str!("../../assets/theme.ron");
const REGULAR: &[u8] = include_bytes!("../../assets/fonts/Inter-Regular.otf");
const SEMI_BOLD: &[u8] = include_bytes!("../../assets/fonts/Inter-SemiBold.otf");
/// How much of a greyed control is left: pale enough to be seen as greyed, and still to be read (4.5 to 1 for text,
/// WCAG 2.2, 1.4.3, which would let it be fainter).
const DISABLED_ALPHA: f32 = 0.75;
/// Name of the family of heavier letters.
const STRONG: &str = "strong";

/// A colour of the table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Colour(pub Color32);

impl<'de> Deserialize<'de> for Colour {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        Color32::from_hex(&text)
            .map(Self)
            .map_err(|_| serde::de::Error::custom(format!("\"{text}\" is not a colour")))
    }
}

/// The colours of one theme.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Palette {
    /// Behind everything.
    pub ground: Colour,
    /// Cards and panels.
    pub surface: Colour,
    /// Buttons at rest.
    pub raised: Colour,
    /// Buttons under the pointer.
    pub hover: Colour,
    /// Buttons pressed.
    pub pressed: Colour,
    /// Behind typed text.
    pub field: Colour,
    /// Outlines and separators.
    pub line: Colour,
    /// Text.
    pub text: Colour,
    /// Text of second rank.
    pub text_weak: Colour,
    /// What is chosen or filled.
    pub accent: Colour,
    /// Behind chosen text.
    pub accent_soft: Colour,
    /// Chosen text.
    pub accent_text: Colour,
    /// Below menus and dialogs.
    pub shadow: Colour,
    /// Band that works.
    pub band_works: Colour,
    /// Best part of the band.
    pub band_best: Colour,
    /// Gauge and slider background.
    pub rail: Colour,
    /// Word for good.
    pub good: Colour,
    /// Word for still working.
    pub near: Colour,
    /// Word for outside the band, and for problems.
    pub bad: Colour,
    /// Needle of the present mix.
    pub live: Colour,
    /// Its uncertainty.
    pub smear: Colour,
    /// The pinned mix.
    pub ghost: Colour,
    /// Temperature of the heap.
    pub heap: Colour,
    /// Where four in five heaps lie.
    pub heap_band: Colour,
    /// The same before any reading.
    pub prior_band: Colour,
    /// Temperature halfway to the side.
    pub middle: Colour,
    /// Temperature below the side.
    pub edge: Colour,
    /// Temperature of the air.
    pub air: Colour,
    /// Day and night around it.
    pub air_band: Colour,
    /// Marked lines of the plot.
    pub mark: Colour,
    /// Green materials.
    pub green: Colour,
    /// Brown materials.
    pub brown: Colour,
    /// Materials that are neither.
    pub neither: Colour,
}

/// Colours of fields, from the low end to the high end, the same in every theme.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Maps {
    /// Temperature.
    pub heat: Vec<Colour>,
    /// Moisture and what is left to rot.
    pub water: Vec<Colour>,
    /// Oxygen.
    pub air: Vec<Colour>,
    /// Lines of equal temperature and their numbers.
    pub line: Colour,
    /// Around them, so that they stand out on light parts.
    pub halo: Colour,
    /// White: leaves a picture as it is.
    pub untinted: Colour,
}

/// The sizes all themes share, in points.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Sizes {
    /// Running text.
    pub body: f32,
    /// Notes.
    pub small: f32,
    /// Headings.
    pub heading: f32,
    /// The number of a gauge.
    pub number: f32,
    /// What a class is told first.
    pub verdict: f32,
    /// Least width and height of the Class view; type grows until no more than this is left.
    pub class_width: f32,
    /// See `class_width`.
    pub class_height: f32,
    /// Width of the speaker's window.
    pub speaker_width: f32,
    /// Its height.
    pub speaker_height: f32,
    /// Between things.
    pub gap: f32,
    /// Inside cards.
    pub pad: i8,
    /// Corners of cards.
    pub card_radius: u8,
    /// Corners of controls.
    pub control_radius: u8,
    /// Height of a control.
    pub control_height: f32,
    /// Width of the advice column.
    pub advice_width: f32,
    /// Share of the width the ingredient rows take.
    pub rows_share: f32,
    /// Share of the height above the plot.
    pub top_share: f32,
    /// Least height of the region with the plot.
    pub heat_min_height: f32,
    /// Least width of the column of ingredients in which a row stands on one line.
    pub one_line_from_width: f32,
    /// Share of a row's width that its name has.
    pub name_share: f32,
    /// Width of how much there is of an ingredient.
    pub have_width: f32,
    /// Width of lock, state and remove.
    pub row_buttons_width: f32,
    /// Least width of the heap row that has room for its small words.
    pub words_from_width: f32,
    /// Width of a typed value.
    pub value_width: f32,
    /// Width of a measure.
    pub measure_width: f32,
    /// Width of the number a slider writes beside itself.
    pub slider_number: f32,
    /// Least width of a slider or field that gives way.
    pub least_width: f32,
    /// Length of a tick, a dash and the room around a sign.
    pub tick: f32,
    /// Between a mark and what it marks.
    pub nudge: f32,
    /// Least width of the button that mends a gauge.
    pub fix_width: f32,
    /// Height of a slider's rail.
    pub rail_height: f32,
    /// Height of a gauge's bar.
    pub gauge_bar: f32,
    /// Width of a needle.
    pub needle: f32,
    /// Width of a curve.
    pub curve: f32,
    /// Width of an outline.
    pub thin: f32,
    /// Height of the two big buttons.
    pub big_button: f32,
    /// Width of the chooser beside each.
    pub chooser_width: f32,
    /// Width of the material picker.
    pub picker_width: f32,
    /// Height of its list.
    pub picker_height: f32,
    /// Width of the materials drawer.
    pub drawer_width: f32,
    /// Width of the list in it.
    pub drawer_list: f32,
    /// Width of the sheet of the proposed plan.
    pub plan_sheet_width: f32,
    /// Its height where there is room.
    pub plan_sheet_height: f32,
    /// Height of a row of ticks.
    pub tick_row: f32,
    /// Widest sheet "What is wrong with my heap?".
    pub complaint_width: f32,
    /// Highest sheet of it.
    pub complaint_height: f32,
    /// Height of its plot.
    pub trade_off_height: f32,
    /// Most height of a drop-down.
    pub list_height: f32,
    /// Width of a dialog.
    pub dialog_width: f32,
    /// Most width of a toast.
    pub toast_width: f32,
    /// Width of the title field.
    pub title_width: f32,
    /// Width of the place field.
    pub place_width: f32,
    /// Side of a small drawing to pick from.
    pub picture: f32,
    /// Side of a marker on the day line.
    pub marker: f32,
    /// Radius of a reading in a plot.
    pub dot: f32,
    /// Radius of a logger's temperature in a plot.
    pub log_dot: f32,
    /// Height of the plot of what is off.
    pub off_height: f32,
    /// Least room for the numbers of an axis where two plots stand one above the other.
    pub axis_width: f32,
    /// Width of a field for date and time.
    pub date_width: f32,
    /// Share of the Diary view's height that the cross-section has.
    pub section_share: f32,
    /// Most width of the column with the heap's settings.
    pub heap_column: f32,
    /// Width of a name in the tables of the year.
    pub name_width: f32,
    /// Width of how long something keeps.
    pub keeps_width: f32,
    /// Height of a bay in the line of the year.
    pub bay_row: f32,
    /// Height of the drawing on a recipe's card.
    pub card_picture: f32,
    /// Width of the field that recipes are found by.
    pub find_width: f32,
}

/// All themes.
#[derive(Debug, Clone, PartialEq, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Theme {
    /// For daylight.
    pub light: Palette,
    /// For the evening.
    pub dark: Palette,
    /// For eyes or projectors that need more: black on white.
    pub contrast: Palette,
    /// Sizes of all.
    pub sizes: Sizes,
    /// Colours of the cross-section.
    pub maps: Maps,
}

/// Which of the colours are in force.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Shade {
    /// For daylight.
    Light,
    /// For the evening.
    Dark,
    /// Black on white.
    Contrast,
}

/// The colours and sizes in force.
#[derive(Debug, Clone, Copy)]
pub struct Look<'a> {
    /// Colours.
    pub colours: &'a Palette,
    /// Sizes.
    pub sizes: &'a Sizes,
    /// Colours of the cross-section.
    pub maps: &'a Maps,
}

impl Theme {
    /// The built-in table.
    ///
    /// # Errors
    /// A sentence if the table is damaged.
    pub fn built_in() -> Result<Self, String> {
        ron::from_str(THEME_RON).map_err(|err| {
            format!("the built-in table theme.ron cannot be read at {err}; reinstall the program")
        })
    }

    /// The look in these colours.
    pub fn look(&self, shade: Shade) -> Look<'_> {
        Look {
            colours: match shade {
                Shade::Light => &self.light,
                Shade::Dark => &self.dark,
                Shade::Contrast => &self.contrast,
            },
            sizes: &self.sizes,
            maps: &self.maps,
        }
    }

    /// Gives a context its fonts and both styles. To be done before the first frame.
    pub fn install(&self, ctx: &egui::Context) {
        ctx.set_fonts(fonts());
        self.style(ctx, Shade::Light);
    }

    /// Gives a context both styles, the light one in these colours; the dark one stays dark.
    pub fn style(&self, ctx: &egui::Context, light: Shade) {
        let light = self.look(light).colours;
        for (theme, palette, visuals) in [
            (egui::Theme::Light, light, Visuals::light()),
            (egui::Theme::Dark, &self.dark, Visuals::dark()),
        ] {
            let visuals = dressed(visuals, palette, &self.sizes);
            let sizes = self.sizes.clone();
            ctx.style_mut_of(theme, |style| {
                style.visuals = visuals;
                set_sizes(style, &sizes);
            });
        }
    }
}

/// What a dialog lies on.
pub fn sheet(ui: &egui::Ui, sizes: &Sizes) -> egui::Frame {
    egui::Frame::popup(ui.style())
        .inner_margin(Margin::same(sizes.pad + sizes.pad / 2))
        .corner_radius(CornerRadius::same(sizes.card_radius))
}

/// Text in which no line ends between a number and its unit: every text that is put together is drawn through it.
pub fn unbroken(text: impl Into<String>) -> egui::RichText {
    egui::RichText::new(unparted(&text.into()))
}

/// The same in the heavier letters.
pub fn strong(text: impl Into<String>) -> egui::RichText {
    unbroken(text).family(FontFamily::Name(STRONG.into()))
}

/// Fills sliders in the accent; what is selected in their number stays legible on it.
pub fn fill_strongly(ui: &mut egui::Ui, look: Look<'_>) {
    let selection = &mut ui.visuals_mut().selection;
    selection.bg_fill = look.colours.accent.0;
    selection.stroke.color = look.colours.field.0;
}

/// The font of a gauge's number.
pub fn number_font(sizes: &Sizes) -> FontId {
    FontId::new(sizes.number, FontFamily::Name(STRONG.into()))
}

/// The font of notes.
pub fn small_font(sizes: &Sizes) -> FontId {
    FontId::new(sizes.small, FontFamily::Proportional)
}

/// The font of names.
pub fn name_font(sizes: &Sizes) -> FontId {
    FontId::new(sizes.body, FontFamily::Name(STRONG.into()))
}

/// Inter before the fonts egui brings along, so that rare signs are still found.
fn fonts() -> FontDefinitions {
    let mut fonts = FontDefinitions::default();
    for (name, data) in [("Inter", REGULAR), ("Inter SemiBold", SEMI_BOLD)] {
        fonts
            .font_data
            .insert(name.to_owned(), Arc::new(FontData::from_static(data)));
    }
    let fallback = fonts
        .families
        .get(&FontFamily::Proportional)
        .cloned()
        .unwrap_or_default();
    for (family, first) in [
        (FontFamily::Proportional, "Inter"),
        (FontFamily::Name(STRONG.into()), "Inter SemiBold"),
    ] {
        let mut names = vec![first.to_owned()];
        names.extend(fallback.iter().cloned());
        fonts.families.insert(family, names);
    }
    fonts
}

fn set_sizes(style: &mut egui::Style, sizes: &Sizes) {
    let plain = |size| FontId::new(size, FontFamily::Proportional);
    style.text_styles = [
        (TextStyle::Small, plain(sizes.small)),
        (TextStyle::Body, plain(sizes.body)),
        (TextStyle::Button, plain(sizes.body)),
        (
            TextStyle::Heading,
            FontId::new(sizes.heading, FontFamily::Name(STRONG.into())),
        ),
        (
            TextStyle::Monospace,
            FontId::new(sizes.small, FontFamily::Monospace),
        ),
    ]
    .into();
    style.wrap_mode = None::<TextWrapMode>;
    style.explanation_tooltips = false;
    let spacing = &mut style.spacing;
    spacing.item_spacing = egui::vec2(sizes.gap, sizes.gap * 0.75);
    spacing.button_padding = egui::vec2(sizes.gap * 1.25, sizes.gap * 0.375);
    spacing.interact_size.y = sizes.control_height;
    spacing.menu_margin = Margin::same(sizes.pad / 2);
    spacing.window_margin = Margin::same(sizes.pad);
    spacing.slider_rail_height = sizes.rail_height;
    spacing.combo_width = sizes.measure_width;
    spacing.combo_height = sizes.list_height;
}

fn dressed(base: Visuals, palette: &Palette, sizes: &Sizes) -> Visuals {
    let mut visuals = base;
    let widget = |fill: Colour, outline: Stroke, text: Colour| WidgetVisuals {
        bg_fill: fill.0,
        weak_bg_fill: fill.0,
        bg_stroke: outline,
        corner_radius: CornerRadius::same(sizes.control_radius),
        fg_stroke: Stroke::new(sizes.thin, text.0),
        expansion: 0.0,
    };
    let outline = |colour: Colour| Stroke::new(sizes.thin, colour.0);
    let widgets = &mut visuals.widgets;
    widgets.noninteractive = widget(palette.surface, outline(palette.line), palette.text);
    // Where a field has the colour of what it lies on, only an outline tells it apart.
    let at_rest = if palette.field == palette.ground {
        outline(palette.line)
    } else {
        Stroke::NONE
    };
    widgets.inactive = widget(palette.raised, at_rest, palette.text);
    widgets.hovered = widget(palette.hover, outline(palette.text_weak), palette.text);
    widgets.active = widget(palette.pressed, outline(palette.accent), palette.text);
    widgets.open = widget(palette.hover, outline(palette.accent), palette.text);
    visuals.disabled_alpha = DISABLED_ALPHA;
    visuals.weak_text_color = Some(palette.text_weak.0);
    visuals.selection.bg_fill = palette.accent_soft.0;
    visuals.selection.stroke = Stroke::new(sizes.thin, palette.accent_text.0);
    visuals.hyperlink_color = palette.live.0;
    visuals.faint_bg_color = palette.ground.0;
    visuals.extreme_bg_color = palette.field.0;
    visuals.code_bg_color = palette.raised.0;
    visuals.warn_fg_color = palette.near.0;
    visuals.error_fg_color = palette.bad.0;
    visuals.panel_fill = palette.ground.0;
    visuals.window_fill = palette.surface.0;
    visuals.window_stroke = outline(palette.line);
    visuals.window_corner_radius = CornerRadius::same(sizes.card_radius);
    visuals.menu_corner_radius = CornerRadius::same(sizes.control_radius);
    let shadow = Shadow {
        offset: [0, 4],
        blur: 16,
        spread: 0,
        color: palette.shadow.0,
    };
    visuals.window_shadow = shadow;
    visuals.popup_shadow = shadow;
    visuals.text_cursor.stroke.color = palette.accent.0;
    visuals.slider_trailing_fill = true;
    visuals.handle_shape = egui::style::HandleShape::Circle;
    visuals
}

//! Where everything stands on the handout.
//!
//! In: a [`Handout`]. Out: one page; dates and safety notes that do not fit on it stand on further ones, other lists are
//! counted in words.
//!
//! Not here: what is said (`content`), curve and section (`curve`, `inside`).
//!
//! Tested by: `tests/document/handout.rs`.

use super::content::{Content, caution_text};
use super::curve::{Curve, band_about};
use super::given::Handout;
use super::inside;
use crate::export::sheet::{Frame, MARGIN, Pen, Sheet, TITLE, Type, Weight};
use crate::text::gauges::{GaugeLine, value_and_word};
use crate::text::number::more;
use crate::text::page::{self as words, LogColumn};

const GAP: f32 = 16.0;
const LINE: f32 = 11.5;
const HEADING: Type = Type::of(10.5, Weight::SemiBold, 0);
const BODY: Type = Type::of(9.0, Weight::Regular, 0);
const STRONG: Type = Type::of(9.0, Weight::SemiBold, 0);
const SMALL: Type = Type::of(7.5, Weight::Regular, 50);
/// Most ingredients named, if there are more the last line counts the rest.
const MOST_INGREDIENTS: usize = 11;
/// Most lines of dates on the first page.
const MOST_DATE_LINES: usize = 9;
/// Most lines of cautions on the first page.
const MOST_CAUTION_LINES: usize = 11;
/// Room for a bullet before an entry, pt.
const BULLET: f32 = 8.0;
/// Height of a gauge with its name.
const GAUGE: f32 = 26.0;
/// Height of curve and section.
const PLOT: f32 = 142.0;
/// Height of a row of the log.
const LOG_ROW: f32 = 17.0;
/// Columns of the log with their share of the width.
const LOG: [(LogColumn, f32); 5] = [
    (LogColumn::Day, 0.10),
    (LogColumn::Probe, 0.17),
    (LogColumn::Squeeze, 0.17),
    (LogColumn::Smell, 0.16),
    (LogColumn::Done, 0.40),
];

/// The handout as pages.
pub fn handout_sheets(handout: &Handout<'_>) -> Vec<Sheet> {
    let content = Content::of(handout);
    let (width, height) = handout.paper.size_pt();
    let sheet = Sheet::new(&content.title, width, height);
    let mut page = Page {
        sheet,
        content,
        handout: *handout,
        further: Vec::new(),
    };
    let below = page.title(MARGIN);
    let below = page.mix(below).max(page.gauges(below)) + 6.0;
    let below = page.projection(below) + 6.0;
    let below = page.dates(below).max(page.cautions(below)) + 6.0;
    page.log(below);
    page.foot();
    page.into_sheets()
}

/// A list that goes on on a further page.
struct Further {
    /// Its heading.
    heading: &'static str,
    /// What is left of it, each wrapped to the page.
    entries: Vec<String>,
}

struct Page<'a> {
    sheet: Sheet,
    content: Content<'a>,
    handout: Handout<'a>,
    further: Vec<Further>,
}

impl Page<'_> {
    fn whole(&self) -> f32 {
        self.sheet.width - 2.0 * MARGIN
    }

    /// Left end and width of one of two columns; the first takes `share`.
    fn column(&self, share: f32, second: bool) -> (f32, f32) {
        let first = share * (self.whole() - GAP);
        if second {
            (MARGIN + first + GAP, self.whole() - first - GAP)
        } else {
            (MARGIN, first)
        }
    }

    fn heading(&mut self, left: f32, top: f32, text: &str) -> f32 {
        self.sheet.text((left, top + 10.0), HEADING, text);
        top + 15.0
    }

    fn line(&mut self, (left, width): (f32, f32), top: f32, look: Type, text: &str) -> f32 {
        let text = look.fitted(text, width);
        self.sheet.text((left, top + 0.8 * LINE), look, &text);
        top + LINE
    }

    fn title(&mut self, top: f32) -> f32 {
        let width = self.whole();
        let title = TITLE.fitted(&self.content.title, width);
        self.sheet.text((MARGIN, top + 16.0), TITLE, &title);
        let place = self.content.place.clone();
        let below = self.line((MARGIN, width), top + 21.0, BODY, &place) + 3.0;
        let rule = vec![(MARGIN, below), (MARGIN + width, below)];
        self.sheet.line(rule, Pen::solid(0.8, 0));
        below + 5.0
    }

    fn mix(&mut self, top: f32) -> f32 {
        let (left, width) = self.column(0.47, false);
        let mut y = self.heading(left, top, words::MIX);
        let mix = std::mem::take(&mut self.content.mix);
        if mix.is_empty() {
            y = self.line((left, width), y, BODY, words::NOTHING_YET);
        }
        let shown = shown(mix.len(), MOST_INGREDIENTS);
        let widest = mix[..shown]
            .iter()
            .map(|(amount, _)| STRONG.width(amount))
            .fold(0.0, f32::max);
        let amounts = (widest + 8.0).min(0.55 * width);
        for (amount, name) in &mix[..shown] {
            self.line((left, amounts - 4.0), y, STRONG, amount);
            y = self.line((left + amounts, width - amounts), y, BODY, name);
        }
        if shown < mix.len() {
            let text = more(mix.len() - shown, "ingredient", "ingredients");
            y = self.line((left, width), y, BODY, &text);
        }
        for note in std::mem::take(&mut self.content.mix_notes) {
            y = self.line((left, width), y, SMALL, &note);
        }
        y
    }

    fn gauges(&mut self, top: f32) -> f32 {
        let (left, width) = self.column(0.47, true);
        let mut y = self.heading(left, top, words::GAUGES);
        let gauges = std::mem::take(&mut self.content.gauges);
        for line in &gauges {
            self.gauge((left, width), y, line);
            y += GAUGE;
        }
        if gauges.is_empty()
            && let Some(remark) = self.content.remark
        {
            for text in BODY.lines(remark, width) {
                y = self.line((left, width), y, BODY, &text);
            }
        } else {
            y = self.line((left, width), y, SMALL, words::GAUGES_KEY);
        }
        y
    }

    /// Name and value over a bar with its bands, its range and its needle.
    fn gauge(&mut self, (left, width): (f32, f32), top: f32, line: &GaugeLine) {
        let name = 78.0;
        self.sheet.text((left, top + 8.0), STRONG, line.name);
        let spread = SMALL.width(&line.spread);
        let value = BODY.fitted(&value_and_word(line), width - name - spread - 6.0);
        self.sheet.text((left + name, top + 8.0), BODY, &value);
        self.sheet
            .text_to((left + width, top + 8.0), SMALL, &line.spread);
        let bar = Frame {
            left,
            top: top + 14.5,
            width,
            height: 6.0,
        };
        let x = |value: f64| left + width * (value / line.scale_end).clamp(0.0, 1.0) as f32;
        if let Some(band) = line.band {
            for ((from, to), grey) in [(band.works, 215), (band.best, 150)] {
                let part = Frame {
                    left: x(from),
                    width: x(to) - x(from),
                    ..bar
                };
                self.sheet.block(part, grey);
            }
        }
        self.sheet.outline(bar, Pen::solid(0.5, 60));
        let middle = bar.top + 0.5 * bar.height;
        if line.range.is_sound() {
            let spread = vec![(x(line.range.low), middle), (x(line.range.high), middle)];
            self.sheet.line(spread, Pen::solid(1.1, 0));
        }
        if line.range.typical.is_finite() {
            let tip = x(line.range.typical);
            let needle = vec![
                (tip, bar.top + 1.5),
                (tip - 3.0, bar.top - 3.5),
                (tip + 3.0, bar.top - 3.5),
            ];
            self.sheet.area(needle, 0);
            self.sheet.line(
                vec![(tip, bar.top), (tip, bar.bottom())],
                Pen::solid(1.0, 0),
            );
        }
    }

    fn projection(&mut self, top: f32) -> f32 {
        let Some((head, sentences)) = self.content.projection.take() else {
            return match self.content.remark {
                Some(remark) if self.handout.assessment.blend.gauges.is_some() => {
                    self.line((MARGIN, self.whole()), top, BODY, remark)
                }
                _ => top,
            };
        };
        let mut y = self.heading(MARGIN, top, &head);
        let whole = (MARGIN, self.whole());
        for text in BODY.lines(&sentences.join(" "), self.whole()) {
            y = self.line(whole, y, BODY, &text);
        }
        let units = self.content.units;
        let Some(projection) = &self.handout.assessment.projection else {
            return y;
        };
        let (left, width) = self.column(0.62, false);
        let frame = |left, width| Frame {
            left,
            top: y + 6.0,
            width,
            height: PLOT,
        };
        let forecast = self.handout.forecast;
        let curve = Curve {
            projection,
            band: forecast.map(|forecast| band_about(projection, forecast)),
            assessment: self.handout.assessment,
            units,
        };
        curve.draw(&mut self.sheet, frame(left, width));
        let (right, narrow) = self.column(0.62, true);
        let day = projection.summary.peak_day;
        let cut = Frame {
            height: PLOT - 22.0,
            ..frame(right, narrow)
        };
        inside::draw(&mut self.sheet, cut, projection, day, units);
        let y = y + 6.0 + PLOT;
        let mut key = y;
        for text in SMALL.lines(&curve.key_text(), width) {
            key = self.line((left, width), key, SMALL, &text);
        }
        let mut under = cut.bottom() + 2.0;
        for text in SMALL.lines(&inside::caption(projection, day, units), narrow) {
            under = self.line((right, narrow), under, SMALL, &text);
        }
        key.max(under)
    }

    fn dates(&mut self, top: f32) -> f32 {
        let dates = std::mem::take(&mut self.content.dates);
        let entries = dates
            .iter()
            .map(|step| format!("{}: {}", step.when, step.what));
        let list = Listed {
            heading: words::DATES,
            entries: entries.collect(),
            one_and_several: ("date", "dates"),
            room: MOST_DATE_LINES,
        };
        self.listed(self.column(0.5, false), top, list)
    }

    fn cautions(&mut self, top: f32) -> f32 {
        let cautions = self.content.cautions.iter();
        let list = Listed {
            heading: words::SAFETY_NOTES,
            entries: cautions.map(caution_text).collect(),
            one_and_several: ("caution", "cautions"),
            room: MOST_CAUTION_LINES,
        };
        if list.entries.is_empty() {
            return top;
        }
        self.listed(self.column(0.5, true), top, list)
    }

    /// A list in a column; what does not fit goes to a further page, and is counted here.
    fn listed(&mut self, (left, width): (f32, f32), top: f32, list: Listed) -> f32 {
        let mut y = self.heading(left, top, list.heading);
        let mut room = list.room;
        for (index, entry) in list.entries.iter().enumerate() {
            let lines = BODY.lines(entry, width - BULLET);
            let rest = list.entries.len() - index;
            if lines.len() > room || (rest > 1 && lines.len() == room) {
                let (one, several) = list.one_and_several;
                let text = format!("{} {}", more(rest, one, several), words::OVERLEAF);
                self.further.push(Further {
                    heading: list.heading,
                    entries: list.entries[index..].to_vec(),
                });
                return self.line((left, width), y, BODY, &text);
            }
            room -= lines.len();
            y = self.entry((left, width), y, &lines);
        }
        y
    }

    /// An entry of a list behind its bullet.
    fn entry(&mut self, (left, width): (f32, f32), top: f32, lines: &[String]) -> f32 {
        self.sheet.text((left, top + 0.8 * LINE), BODY, "•");
        lines.iter().fold(top, |y, text| {
            self.line((left + BULLET, width - BULLET), y, BODY, text)
        })
    }

    /// This page and those on which its lists go on.
    fn into_sheets(mut self) -> Vec<Sheet> {
        let mut sheets = Vec::new();
        let further = std::mem::take(&mut self.further);
        let whole = (MARGIN, self.whole());
        let mut y = f32::INFINITY;
        for list in further {
            let mut wants_heading = true;
            for entry in list.entries {
                let lines = BODY.lines(&entry, whole.1 - BULLET);
                let height = lines.len() as f32 * LINE + if wants_heading { 21.0 } else { 0.0 };
                if y + height > self.sheet.height - MARGIN - 2.0 * LINE {
                    y = self.next_sheet(&mut sheets);
                    wants_heading = true;
                }
                if wants_heading {
                    y = self.heading(MARGIN, y + 6.0, list.heading);
                    wants_heading = false;
                }
                y = self.entry(whole, y, &lines);
            }
        }
        sheets.push(self.sheet);
        sheets
    }

    /// Lays the page down and takes a fresh one; where its lists begin.
    fn next_sheet(&mut self, sheets: &mut Vec<Sheet>) -> f32 {
        let fresh = Sheet::new(&self.content.title, self.sheet.width, self.sheet.height);
        sheets.push(std::mem::replace(&mut self.sheet, fresh));
        let below = self.title(MARGIN);
        self.foot();
        below
    }

    /// An empty table to the end of the page.
    fn log(&mut self, top: f32) {
        let mut y = self.heading(MARGIN, top, words::LOG);
        let end = self.sheet.height - MARGIN - LINE;
        let rows = ((end - y) / LOG_ROW).floor().max(1.0);
        let bottom = y + rows * LOG_ROW;
        let pen = Pen::solid(0.5, 90);
        let mut x = MARGIN;
        for (column, share) in LOG {
            let width = share * self.whole();
            let text = words::log_column(column, self.content.units);
            self.sheet.text((x + 3.0, y + 11.5), STRONG, &text);
            self.sheet.line(vec![(x, y), (x, bottom)], pen);
            x += width;
        }
        self.sheet.line(vec![(x, y), (x, bottom)], pen);
        while y <= bottom + 0.1 {
            self.sheet.line(vec![(MARGIN, y), (x, y)], pen);
            y += LOG_ROW;
        }
    }

    fn foot(&mut self) {
        let at = self.sheet.height - MARGIN - 2.0;
        self.line((MARGIN, self.whole()), at, SMALL, words::FOOT);
    }
}

/// A list for a column of the first page.
struct Listed {
    /// Its heading.
    heading: &'static str,
    /// Its entries.
    entries: Vec<String>,
    /// The word for one entry and for several.
    one_and_several: (&'static str, &'static str),
    /// Most lines.
    room: usize,
}

/// How many entries are named of `count`: all, or one less than `most` to leave a line for the rest.
fn shown(count: usize, most: usize) -> usize {
    if count <= most { count } else { most - 1 }
}

//! A planned year on one page: the line of the year above, what goes into each heap below.
//!
//! In: a year with its plan, how warm its heaps get. Out: a [`Sheet`], wider than high.
//!
//! Stages are told apart by pattern, so that the page prints on any printer; what finds no room below is counted.
//! Not here: the words (`text::year_page`), the same on screen (`window`), how it is written (`pdf`).
//!
//! Tested by: `tests/document/year_out.rs`.

use jiff::civil::Date;

use super::handout::Paper;
use super::sheet::{Frame, MARGIN, Pen, Sheet, TITLE, Type, Weight};
use crate::assess::planned::Warmth;
use crate::text::number::more;
use crate::text::year::{BEFORE_YOU_BUILD, YearTold};
use crate::text::year_page as words;
use crate::year::{MONTHS, PlannedHeap, StageKind, stages};

const STRONG: Type = Type::of(7.5, Weight::SemiBold, 0);
const SMALL: Type = Type::of(7.5, Weight::Regular, 30);
/// Height of a line of small letters.
const LINE: f32 = 9.6;
/// Width of the names of bays.
const NAMES: f32 = 74.0;
/// Greatest height of a bay's row.
const ROW: f32 = 40.0;
/// Greatest height of all rows together.
const ROWS: f32 = 236.0;
/// Most months past the year that are drawn.
const MOST_RUN_OVER: usize = 6;
/// Columns of the list of heaps, and the room between them.
const COLUMNS: usize = 4;
const GAP: f32 = 14.0;
/// Temperatures at the foot and at the top of the columns of heat, degC.
const HEAT_C: (f64, f64) = (10.0, 70.0);
/// Months of a week.
const WEEK_MONTHS: f64 = 7.0 * 12.0 / 365.0;
/// Distance of the marks of a pattern.
const STEP: f32 = 4.5;

/// A planned year and what is known of it.
#[derive(Debug, Clone, Copy)]
pub struct YearPage<'a> {
    /// The year, its plan and the words.
    pub told: YearTold<'a>,
    /// What the year is called; may be empty.
    pub title: &'a str,
    /// First day of the plan.
    pub begin: Date,
    /// How warm each heap gets, as far as that is known.
    pub warmth: &'a [Option<Warmth>],
    /// Size of the paper; it is laid on its side.
    pub paper: Paper,
}

/// The page.
pub fn year_sheet(page: &YearPage<'_>) -> Sheet {
    let (height, width) = page.paper.size_pt();
    let title = match page.title.trim() {
        "" => words::LINE,
        title => title,
    };
    let mut drawn = Drawn {
        sheet: Sheet::new(title, width, height),
        page: *page,
        months: MONTHS + run_over(&page.told),
    };
    let from = words::begins_on(page.begin);
    let right = width - MARGIN;
    drawn.sheet.text_to((right, MARGIN + 14.0), SMALL, &from);
    let room = width - 2.0 * MARGIN - SMALL.width(&from) - GAP;
    let fitted = TITLE.fitted(title, room);
    drawn.sheet.text((MARGIN, MARGIN + 14.0), TITLE, &fitted);
    let below = drawn.line(MARGIN + 24.0);
    let below = drawn.key(below);
    drawn.list(below + 6.0);
    let foot = height - MARGIN;
    drawn.sheet.text((MARGIN, foot), SMALL, BEFORE_YOU_BUILD);
    drawn.sheet
}

/// Months past the year that are drawn.
fn run_over(told: &YearTold<'_>) -> usize {
    let last = told.plan.heaps.iter().map(|heap| heap.free_from).max();
    last.unwrap_or(0).saturating_sub(MONTHS).min(MOST_RUN_OVER)
}

/// A page being drawn.
struct Drawn<'a> {
    sheet: Sheet,
    page: YearPage<'a>,
    months: usize,
}

impl Drawn<'_> {
    fn right(&self) -> f32 {
        self.sheet.width - MARGIN
    }

    fn x(&self, months: f64) -> f32 {
        let left = MARGIN + NAMES;
        let share = (months / self.months as f64).min(1.0) as f32;
        left + share * (self.right() - left)
    }

    /// Months, bays and heaps; the lower end comes back.
    fn line(&mut self, top: f32) -> f32 {
        let told = self.page.told;
        let rows = top + LINE + 4.0;
        let height = ROW.min(ROWS / told.year.bays.len().max(1) as f32);
        let bottom = rows + height * told.year.bays.len() as f32;
        for place in 0..=self.months {
            let x = self.x(place as f64);
            self.sheet
                .line(vec![(x, top), (x, bottom)], Pen::solid(0.4, 190));
            if place < self.months {
                let look = if place < MONTHS { STRONG } else { SMALL };
                let name = words::short_month(told.year, place);
                self.sheet.text((x + 2.0, top + LINE), look, name);
            }
        }
        for (bay, it) in told.year.bays.iter().enumerate() {
            let y = rows + bay as f32 * height;
            let across = vec![(MARGIN, y), (self.right(), y)];
            self.sheet.line(across, Pen::solid(0.4, 150));
            let name = STRONG.fitted(&it.name, NAMES - 4.0);
            self.sheet
                .text((MARGIN, y + 0.5 * height + 3.0), STRONG, &name);
        }
        self.sheet.line(
            vec![(MARGIN, bottom), (self.right(), bottom)],
            Pen::solid(0.4, 150),
        );
        for (place, heap) in told.plan.heaps.iter().enumerate() {
            let y = rows + heap.bay as f32 * height;
            let warm = self.page.warmth.get(place).and_then(Option::as_ref);
            self.bar(heap, warm, (y + 1.5, height - 3.0));
        }
        bottom
    }

    /// A heap: words, heat, stages, from the top down.
    fn bar(&mut self, heap: &PlannedHeap, warm: Option<&Warmth>, (top, height): (f32, f32)) {
        let told = self.page.told;
        let stages = stages(heap, &told.year.bays[heap.bay]);
        let left = self.x(heap.month as f64) + 0.8;
        let right = stages.last().map_or(left, |last| self.x(last.to));
        let frame = Frame {
            left,
            top,
            width: right - left,
            height,
        };
        let band = 0.24 * height;
        let foot = frame.bottom() - band;
        self.sheet.block(frame, 243);
        let columns = warm.map_or(&[][..], |warm| &warm.weekly_c);
        for (week, warmest) in columns.iter().enumerate() {
            let from = heap.month as f64 + week as f64 * WEEK_MONTHS;
            let (from, to) = (
                self.x(from).max(left),
                self.x(from + WEEK_MONTHS).min(right),
            );
            let share = ((warmest - HEAT_C.0) / (HEAT_C.1 - HEAT_C.0)).clamp(0.0, 1.0) as f32;
            let room = (height - band - LINE).max(0.0);
            let column = Frame {
                left: from + 0.3,
                top: foot - share * room,
                width: (to - from - 0.6).max(0.0),
                height: share * room,
            };
            self.sheet.block(column, 165);
        }
        for stage in &stages {
            let part = Frame {
                left: self.x(stage.from).max(left),
                top: foot,
                width: (self.x(stage.to).min(right) - self.x(stage.from).max(left)).max(0.0),
                height: band,
            };
            self.pattern(stage.kind, part);
        }
        self.sheet.outline(frame, Pen::solid(0.6, 60));
        let glance = words::glance(heap, warm, told.units);
        let fitted = SMALL.fitted(&glance, frame.width - 4.0);
        self.sheet
            .text((left + 2.5, top + 0.8 * LINE), SMALL, &fitted);
    }

    /// Slanting lines while it is filled, full while it works, points while it cures.
    fn pattern(&mut self, kind: StageKind, part: Frame) {
        let steps = (part.width / STEP) as usize;
        let at = |step: usize| part.left + (step as f32 + 0.5) * STEP;
        match kind {
            StageKind::Working => self.sheet.block(part, 90),
            StageKind::Filling => {
                for step in 0..steps {
                    let (x, end) = (at(step) - 0.5 * STEP, at(step) + 0.5 * STEP);
                    let line = vec![(x, part.bottom()), (end, part.top)];
                    self.sheet.line(line, Pen::solid(0.7, 40));
                }
            }
            StageKind::Curing => {
                for step in 0..steps {
                    for share in [0.3, 0.7] {
                        let dot = Frame {
                            left: at(step) - 0.6,
                            top: part.top + share * part.height - 0.6,
                            width: 1.2,
                            height: 1.2,
                        };
                        self.sheet.block(dot, 40);
                    }
                }
            }
        }
    }

    /// What patterns and columns mean; the lower end comes back.
    fn key(&mut self, top: f32) -> f32 {
        let mut x = MARGIN + NAMES;
        let y = top + 6.0;
        for kind in [StageKind::Filling, StageKind::Working, StageKind::Curing] {
            let swatch = Frame {
                left: x,
                top: y,
                width: 18.0,
                height: 8.0,
            };
            self.pattern(kind, swatch);
            self.sheet.outline(swatch, Pen::solid(0.4, 60));
            let name = words::stage(kind);
            self.sheet.text((x + 22.0, y + 7.0), SMALL, name);
            x += 22.0 + SMALL.width(name) + GAP;
        }
        let heat = words::columns_are(self.page.told.units);
        self.sheet.text((x, y + 7.0), SMALL, &heat);
        y + 8.0
    }

    /// What goes into each heap, in columns.
    fn list(&mut self, top: f32) {
        let told = self.page.told;
        let width = (self.right() - MARGIN - (COLUMNS - 1) as f32 * GAP) / COLUMNS as f32;
        let bottom = self.sheet.height - MARGIN - 1.5 * LINE;
        let (mut column, mut y) = (0, top + LINE);
        for (place, heap) in told.plan.heaps.iter().enumerate() {
            let head = STRONG.fitted(&words::heap_name(told.year, heap), width);
            let said = format!("{}. {}", told.goes_in(heap).join("; "), told.stays(heap));
            let lines = SMALL.lines(&said, width);
            let height = (1 + lines.len()) as f32 * LINE;
            if y + height > bottom && y > top + LINE {
                (column, y) = (column + 1, top + LINE);
            }
            let left = MARGIN + column as f32 * (width + GAP);
            if column + 1 == COLUMNS && y + height + LINE > bottom || column >= COLUMNS {
                let rest = told.plan.heaps.len() - place;
                let left = MARGIN + (COLUMNS - 1) as f32 * (width + GAP);
                let last = rest == 1 && column < COLUMNS && y + height <= bottom;
                if !last {
                    let at = if column >= COLUMNS { bottom } else { y };
                    let text = more(rest, words::HEAP, words::HEAPS);
                    self.sheet.text((left, at), SMALL, &text);
                    return;
                }
            }
            self.sheet.text((left, y), STRONG, &head);
            for text in lines {
                y += LINE;
                self.sheet.text((left, y), SMALL, &text);
            }
            y += 1.5 * LINE;
        }
    }
}

//! Everything that leaves the program: tables, a report, JSON, a printed handout, pictures.
//!
//! In: a project with its blend and projection as an [`Assessment`], or the catalogue. Out: CSV in SI
//! with units in the header, plain sentences, JSON of a documented schema, PDF, PNG.
//!
//! Chapter: `assessment` is what everything is made from; `report`, `balancing` and `handout` arrange what `text` says; a [`Sheet`] is a page of
//! marks that `pdf` and `picture` write down; `section` is the inside of a heap as numbers to draw; `calendar` writes the next days as
//! iCalendar, `year_calendar` those of a year, both through `ical`; `year_sheet` is a year on one page.
//!
//! Not here: project files (`document`), which folder something is written to (`command`).
//!
//! Tested by: `tests/document/command.rs`, `tests/document/export.rs`, `tests/document/handout.rs`.

mod assessment;
mod balancing;
mod calendar;
mod complaint_json;
mod complaint_text;
mod font;
mod handout;
mod ical;
mod json;
mod learnt_json;
mod learnt_text;
mod outcome_json;
mod outcome_text;
mod pdf;
mod picture;
mod report;
pub mod section;
mod sheet;
mod table;
mod trial_text;
mod year_calendar;
mod year_json;
mod year_sheet;
mod year_text;

pub use assessment::{Assessment, PrintedCaution};
pub use balancing::balance_text;
pub use calendar::{CalendarFile, calendar, calendar_name};
pub use complaint_json::complaint_json;
pub use complaint_text::complaint_text;
pub use handout::{
    Handout, Paper, curve_sheet, handout, handout_sheets, handout_text, section_sheet,
};
pub use json::{SCHEMA, json};
pub use learnt_json::learnt_json;
pub use learnt_text::learnt_text;
pub use pdf::{PdfError, pdf};
pub use picture::{PictureError, picture_png};
pub use report::report;
pub use sheet::{Pen, Sheet, SheetMark, SheetPoint, Type, Weight};
pub use table::{catalogue_csv, catalogue_text, projection_csv};
pub use trial_text::{beliefs_list, beliefs_text, trial_text};
pub use year_calendar::{YearCalendar, year_calendar};
pub use year_json::year_json;
pub use year_sheet::{YearPage, year_sheet};
pub use year_text::year_text;

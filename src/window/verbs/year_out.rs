//! What is written of the year: its page, its dates.
//!
//! In: the plan as shown. Out: a file, written behind the window, or a notice on why there is none.
//!
//! Not here: what stands in it (`export`), the thread (`jobs::page`).
//!
//! Tested by: `tests/window/year_plan.rs`.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use eframe::egui;

use crate::assess::planned::begins;
use crate::document::replace;
use crate::document::year::YEAR_EXTENSION;
use crate::export::{Paper, YearCalendar, YearPage, pdf, year_calendar, year_sheet};
use crate::quantity::UnitSystem;
use crate::text::error;
use crate::text::year::YearTold;
use crate::text::year_page::NOT_PLANNED;

use crate::window::jobs::dialog::PathUse;
use crate::window::jobs::page::MadePage;
use crate::window::piles::notices::Notice;
use crate::window::verbs::workbench::Workbench;

impl Workbench {
    /// Writes page or dates of the year to a file, behind the window.
    pub(in crate::window) fn write_year_out(
        &mut self,
        purpose: PathUse,
        path: PathBuf,
        ctx: &egui::Context,
    ) {
        let open = self.year.open.as_ref();
        let newest = self
            .year
            .shown
            .as_ref()
            .filter(|shown| open.is_some_and(|open| open.file.year == shown.of.file.year));
        let planned = newest.and_then(|shown| Some((shown, shown.answer.as_ref().ok()?.clone())));
        let Some((shown, plan)) = planned else {
            self.tell(Notice::problem(error::NOT_WRITTEN, NOT_PLANNED));
            return;
        };
        let of = Arc::clone(&shown.of);
        let warmth = shown.warmth.clone();
        let units = self.state.settings.units;
        let (today, written) = (self.now.date(), self.clock.utc());
        let title = open.map_or_else(String::new, |open| open.file.title.clone());
        let name = calendar_name(self.year_path(), &title);
        self.write_behind(ctx, move || {
            let told = YearTold {
                year: &of.file.year,
                plan: &plan,
                catalogue: &of.catalogue,
                units,
            };
            let begin = begins(of.file.year.first_month, today);
            let bytes = if purpose == PathUse::YearPage {
                let page = YearPage {
                    told,
                    title: &title,
                    begin,
                    warmth: &warmth,
                    paper: match units {
                        UnitSystem::Metric => Paper::A4,
                        UnitSystem::UsCustomary => Paper::Letter,
                    },
                };
                pdf(&[year_sheet(&page)]).map_err(|problem| problem.to_string())?
            } else {
                let dates = YearCalendar {
                    told,
                    begin,
                    today,
                    name: &name,
                    written,
                };
                year_calendar(&dates).into_bytes()
            };
            replace(&path, &bytes).map_err(|problem| problem.to_string())?;
            Ok(MadePage::Written(path))
        });
    }
}

/// What entries of the year are found again by: the name of its file, or its title where it has none.
fn calendar_name(path: Option<&Path>, title: &str) -> String {
    let name = path.and_then(Path::file_name);
    name.map_or_else(
        || title.to_owned(),
        |name| {
            name.to_string_lossy()
                .trim_end_matches(YEAR_EXTENSION)
                .to_owned()
        },
    )
}

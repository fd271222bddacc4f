//! A planned year as a plain table by month.
//!
//! In: a [`YearFile`], its plan. Out: text: heaps by month with what goes in, what becomes of each arrival, what was short.
//!
//! Not here: words (`text::year`), the plan for another program (`year_json`).
//!
//! Tested by: `tests/document/year.rs`.

use std::fmt::{self, Write};

use crate::document::year::YearFile;
use crate::text::year::{
    BEFORE_YOU_BUILD, COLUMNS, NOT_PROVEN, NOTHING_TO_BUILD, STORE, WHAT_BECOMES, YearTold, month,
};
use crate::year::MONTHS;

/// A planned year as text.
pub fn year_text(file: &YearFile, told: &YearTold<'_>) -> String {
    let mut text = String::new();
    // Writing to a String cannot fail.
    let _ = write_year(&mut text, file, told);
    text
}

fn write_year(out: &mut String, file: &YearFile, told: &YearTold<'_>) -> fmt::Result {
    let title = file.title.trim();
    if !title.is_empty() {
        writeln!(out, "{title}\n")?;
    }
    let plan = told.plan;
    if plan.heaps.is_empty() {
        writeln!(out, "{NOTHING_TO_BUILD}\n")?;
    } else {
        writeln!(out, "{BEFORE_YOU_BUILD}\n")?;
    }
    for place in 0..MONTHS {
        let mut heaps = plan
            .heaps
            .iter()
            .filter(|heap| heap.month == place)
            .peekable();
        if heaps.peek().is_none() {
            continue;
        }
        writeln!(out, "{}", month(told.year, place))?;
        for heap in heaps {
            writeln!(out, "  {}", told.heap(heap))?;
            for line in told.goes_in(heap) {
                writeln!(out, "    {line}")?;
            }
            writeln!(out, "    {}", told.stays(heap))?;
        }
        writeln!(out)?;
    }
    writeln!(out, "{WHAT_BECOMES}")?;
    let row = |out: &mut String, [arrives, used, left, spoils, name]: [&str; 5]| {
        writeln!(
            out,
            "  {arrives:<20} {used:>8} {left:>8} {spoils:>8}  {name}"
        )
    };
    row(out, COLUMNS)?;
    for (number, fate) in plan.fates.iter().enumerate() {
        let cells = told.fate(number, fate);
        row(out, cells.each_ref().map(String::as_str))?;
    }
    let stored: Vec<String> = (0..MONTHS).filter_map(|place| told.stored(place)).collect();
    if !stored.is_empty() {
        writeln!(out, "\n{STORE}\n  {}", stored.join(", "))?;
    }
    if let Some(short) = &plan.short {
        writeln!(out, "\n{}", told.short(short))?;
    }
    if !plan.proven {
        writeln!(out, "\n{NOT_PROVEN}")?;
    }
    Ok(())
}

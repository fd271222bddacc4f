//! Kept recipes in words: what a card says, what is done with one.
//!
//! In: what came of a recipe, its season and dates. Out: words and short sentences.
//!
//! Not here: two recipes side by side (`compare`), the sentence on the finish at length (`outcome`).
//!
//! Tested by: `tests/document/assess.rs`, `tests/window/recipes.rs`.

use jiff::civil::{Date, DateTime};

use crate::assess::{Came, WasRead};
use crate::document::{NAME_LIMIT, NOTES_LIMIT, Season};
use crate::outcome::curing::Verdict;
use crate::outcome::finish::Finish;
use crate::quantity::UnitSystem;

use super::date::{MONTHS, calendar_date};
use super::{garden, number, sentence};

/// Days ahead up to which a season of the next year is "this" one: the winter, from autumn on.
const THIS_UP_TO_DAYS: i32 = 92;

/// Letters of a title kept free for what is put behind it.
const ROOM_BEHIND: usize = 10;

/// Beside the place of an example.
pub const EXAMPLE: &str = "example";
/// Told while a card waits for its numbers.
pub const WAITING: &str = "being calculated …";
/// In a season's column without recipes.
pub const NONE_KEPT: &str = "No recipe kept yet.";
/// In a season's column where nothing was found.
pub const NONE_FOUND: &str = "Nothing found here.";
/// Where the bin is empty.
pub const EMPTY_BIN: &str = "The bin is empty.";
/// What the bin is.
pub const ABOUT_BIN: &str =
    "What lies here is in no list any more, and is never deleted: bring it back whenever you like.";
/// What undo calls another title.
pub const RENAMED: &str = "title";
/// Where a recipe has no title.
pub const UNTITLED: &str = "untitled";

/// A title, or what stands for none.
pub fn shown_title(title: &str) -> &str {
    if title.trim().is_empty() {
        UNTITLED
    } else {
        title
    }
}

/// An example by its title, inside a sentence.
pub fn the_example(title: &str) -> String {
    format!("the example {}", shown_title(title))
}

/// The title of a copy.
pub fn copy_of(title: &str) -> String {
    format!("{}, copy", with_room(shown_title(title)))
}

/// The title of the next heap of a recipe: its own with the year it would be built, in the place of a year at its end.
pub fn title_of_year(title: &str, built: Date) -> String {
    let trimmed = title.trim();
    let without = trimmed.rsplit_once(' ').filter(|(_, year)| {
        let digits = year.bytes().all(|it| it.is_ascii_digit());
        year.len() == 4 && digits
    });
    let name = without.map_or(trimmed, |(name, _)| name);
    format!("{} {}", with_room(shown_title(name)), built.year())
}

/// A title cut off where nothing could stand behind it any more.
fn with_room(title: &str) -> &str {
    let most = NAME_LIMIT - ROOM_BEHIND;
    let end = title.char_indices().nth(most);
    end.map_or(title, |(end, _)| &title[..end])
}

/// Which of the coming seasons a date lies in: "this autumn", "next spring".
pub fn which_season(season: Season, built: Date, today: Date) -> String {
    let near = (built - today).get_days() <= THIS_UP_TO_DAYS;
    let which = if near || built.year() == today.year() {
        "this"
    } else {
        "next"
    };
    format!("{which} {}", garden::season(season).to_lowercase())
}

/// The button that starts the next heap of a recipe: "Start next spring's".
pub fn start_again(season: Season, built: Date, today: Date) -> String {
    format!("Start {}’s", which_season(season, built, today))
}

/// What that does.
pub fn start_again_tip(built: Date) -> String {
    format!(
        "A new recipe from this one, to be built on {}: place, beds and plan stay, its diary is empty, and its notes say what was read last time.",
        calendar_date(built)
    )
}

/// Told of a copy.
pub fn copied(title: &str) -> String {
    format!("copied as “{}”", shown_title(title))
}

/// Told of another title.
pub fn renamed(title: &str) -> String {
    format!("renamed to “{}”", shown_title(title))
}

/// Told of what was put away.
pub fn put_away(title: &str) -> String {
    format!(
        "“{}” is in the bin; bring it back from there",
        shown_title(title)
    )
}

/// Told of the open recipe that was put away.
pub fn put_away_open(title: &str) -> String {
    format!(
        "“{}” is in the bin; it stays open here, and no other file holds it",
        shown_title(title)
    )
}

/// Told of what was brought back.
pub fn brought_back(title: &str, season: Season) -> String {
    format!(
        "“{}” is back under {}",
        shown_title(title),
        garden::season(season)
    )
}

/// The button that shows the bin: "Bin (2)".
pub fn bin(count: usize) -> String {
    format!("Bin ({count})")
}

/// The button that brings one back from there.
pub fn bring_back(title: &str) -> String {
    format!("Bring back {title}")
}

/// What the search has found: "3 recipes".
pub fn found(count: usize) -> String {
    number::count(count, "recipe", "recipes")
}

/// How far choosing two to compare is.
pub fn chosen_to_compare(count: usize) -> &'static str {
    match count {
        0 => "Tick two recipes to compare them.",
        1 => "One is ticked; tick another.",
        _ => "Two are ticked.",
    }
}

/// Where an example stands: "example: Withybed, bay 1".
pub fn example_at(place: &str) -> String {
    match place.trim() {
        "" => EXAMPLE.to_owned(),
        place => format!("{EXAMPLE}: {place}"),
    }
}

fn short_date(at: DateTime) -> String {
    let month = usize::try_from(at.month() - 1).unwrap_or_default();
    let month = MONTHS.get(month).copied().unwrap_or_default();
    format!(
        "{} {} {}",
        at.day(),
        month.get(..3).unwrap_or(month),
        at.year()
    )
}

/// What came of a recipe, in two short lines: how hot it was read or would be, and how far it is.
pub fn came(came: &Came, now: DateTime, units: UnitSystem) -> [String; 2] {
    let heat = match (&came.read, came.peak) {
        (Some(read), _) => sentence(&was_read(read, units)),
        (None, Some((celsius, day))) => format!(
            "Projected: {} at most, on day {}",
            number::temperature(celsius, units),
            number::whole(day)
        ),
        (None, None) => "Nothing in it would rot.".to_owned(),
    };
    let Some(finish) = &came.finish else {
        return [heat, String::new()];
    };
    let age_days = came
        .read
        .map(|read| read.built.duration_until(now).as_secs_f64() / 86_400.0);
    [heat, fit(finish, age_days)]
}

/// Notes of the next heap: those of the kept one, and on a line of their own what was read of its heap.
pub fn notes_for_next(notes: &str, read: Option<&WasRead>, units: UnitSystem) -> String {
    let Some(read) = read else {
        return notes.to_owned();
    };
    let line = format!("The heap before: {}.", was_read(read, units));
    let lines = [notes.trim_end(), &line];
    let lines: Vec<&str> = lines.into_iter().filter(|line| !line.is_empty()).collect();
    let all = lines.join("\n");
    if all.chars().count() > NOTES_LIMIT {
        notes.to_owned()
    } else {
        all
    }
}

/// "built 25 Oct 2026; 58 °C read on day 7".
fn was_read(read: &WasRead, units: UnitSystem) -> String {
    let built = short_date(read.built);
    match read.hottest {
        Some((celsius, day)) => format!(
            "built {built}; {} read on day {}",
            number::temperature(celsius, units),
            number::whole(day.floor())
        ),
        None => format!("built {built}; no temperature read"),
    }
}

/// How far a heap is on this day, or when it would be fit.
fn fit(finish: &Finish, age_days: Option<f64>) -> String {
    match finish.curing.dig_in {
        Verdict::Stopped(_) => return "A field test says: not fit yet".to_owned(),
        Verdict::Confirmed(_) | Verdict::ByTests(_) => {
            return "A field test says: fit to dig in".to_owned();
        }
        Verdict::Projected => {}
    }
    if finish.leaves {
        return "Leafmould in a year or two".to_owned();
    }
    let use_of_it = if finish.digs_in {
        "dig in"
    } else {
        "mulch with"
    };
    let Some(day) = finish.dig_in_day() else {
        return format!("Not fit to dig in within {}", number::days(finish.run_days));
    };
    let soon = finish.is_soon(day);
    let day_told = number::whole(day);
    match age_days {
        Some(age) if age >= day => format!("By now fit to {use_of_it}, from day {day_told} on"),
        Some(age) => format!(
            "Not done yet: day {} of {day_told} or {}",
            number::whole(age.max(0.0).floor()),
            if soon { "more" } else { "so" }
        ),
        None if soon => format!("Fit to {use_of_it} from day {day_told} at the earliest"),
        None => format!("Fit to {use_of_it} from about day {day_told}"),
    }
}

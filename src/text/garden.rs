//! The garden in words: uses of compost, seasons, title and place of a recipe.
//!
//! In: what the person entered. Out: words.
//!
//! Not here: what a bed gets (`outcome`).
//!
//! Tested by: `tests/document/export.rs`.

use crate::document::{Project, Season};
use crate::garden::Use;

/// What compost is for.
pub fn purpose(purpose: Use) -> &'static str {
    match purpose {
        Use::Beds => "beds",
        Use::RawFood => "food eaten raw",
        Use::Pots => "pots",
        Use::Seedlings => "seedlings",
        Use::Mulch => "mulch",
        Use::NearWater => "near water",
    }
}

/// A season.
pub fn season(season: Season) -> &'static str {
    match season {
        Season::Spring => "Spring",
        Season::Summer => "Summer",
        Season::Autumn => "Autumn",
        Season::Winter => "Winter",
    }
}

/// What a recipe is called; one without a title is "Untitled".
pub fn title(project: &Project) -> &str {
    match project.title.trim() {
        "" => "Untitled",
        _ => &project.title,
    }
}

/// The season with the place, where one is given: "Autumn, behind the shed".
pub fn season_and_place(project: &Project) -> String {
    let season = season(project.season);
    match project.place.trim() {
        "" => season.to_owned(),
        place => format!("{season}, {place}"),
    }
}

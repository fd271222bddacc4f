//! The examples of Withybed School Garden, an invented place: they come with the program and are never changed.
//!
//! In: files built into the program. Out: projects.
//!
//! Not here: opening one as a copy (`window`).
//!
//! Tested by: `tests/document/library.rs`, `tests/science/demos.rs`.

use std::path::Path;

use super::{FileError, Project, parse};

/// Name and text of each, in the order of the year; the first of all is opened at the first start.
const FILES: [(&str, &str); 5] = [
    (
        "withybed-autumn-leaves",
        include_str!("../../demo-data/withybed-autumn-leaves.heap.ron"),
    ),
    (
        "withybed-autumn-diary",
        include_str!("../../demo-data/withybed-autumn-diary.heap.ron"),
    ),
    (
        "withybed-winter-kitchen",
        include_str!("../../demo-data/withybed-winter-kitchen.heap.ron"),
    ),
    (
        "withybed-spring-grass",
        include_str!("../../demo-data/withybed-spring-grass.heap.ron"),
    ),
    (
        "withybed-summer-hot",
        include_str!("../../demo-data/withybed-summer-hot.heap.ron"),
    ),
];

/// All of them.
///
/// # Errors
/// [`FileError`] if one that comes with the program is damaged.
pub fn examples() -> Result<Vec<Project>, FileError> {
    let read = |(name, text): &(&str, &str)| parse::project(text, Path::new(name));
    FILES.iter().map(read).collect()
}

/// Whether a project stands in the examples' invented garden: it has its weather.
pub(super) fn is_of_an_example(project: &Project) -> bool {
    let of_it = |example: &Project| example.heap.climate == project.heap.climate;
    examples().is_ok_and(|all| all.iter().any(of_it))
}

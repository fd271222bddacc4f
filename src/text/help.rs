//! Words of the list of keys and of what is told about the program.
//!
//! In: nothing. Out: words, and the changes as they are written down.
//!
//! Not here: what an action is called and which key it has (the window's list of actions).
//!
//! Tested by: `tests/window/help.rs`.

/// Heading of the list of keys.
pub const KEYS: &str = "Keys";
/// Heading of what is told about the program.
pub const ABOUT: &str = "About Heapwright";
/// What the program is for.
pub const WHAT_FOR: &str =
    "Design a compost mix, see beforehand how the heap will heat, and keep the season's recipe.";
/// Heading of the licences.
pub const LICENCES: &str = "Licences";
/// Under which terms it may be used and passed on.
pub const TERMS: [&str; 3] = [
    "Heapwright may be used, changed and passed on under the MIT licence or the Apache License 2.0, whichever suits you. It comes without any warranty.",
    "The Inter letters are under the SIL Open Font License 1.1; the letters and signs beside them come with egui under their own open licences.",
    "It stands on open libraries, each under its own open licence; an installed package lists them with their texts beside its other papers.",
];
/// What nobody should read into the numbers.
pub const NO_PROMISE: &str =
    "Nothing it says is a promise about germs or seeds: local rules come first.";
/// Heading of what changed from one version to the next.
pub const CHANGES: &str = "What has changed";
/// Larger and smaller letters.
pub const ZOOM: [&str; 3] = [
    "Draws everything larger.",
    "Draws everything smaller.",
    "Draws everything in its usual size.",
];
/// What the key that leaves does.
pub const ESCAPE: &str = "Closes what lies over a view; leaves the full screen.";
/// What the key from control to control does.
pub const TAB: &str = "Goes to the next control; with Shift to the one before.";

/// The version, as it is said.
pub fn version() -> String {
    format!("Version {}", env!("CARGO_PKG_VERSION"))
}

/// Keys of one action joined: "Ctrl+Q or Ctrl+W".
pub fn either_key(keys: &[String]) -> String {
    keys.join(" or ")
}

/// What an action is called and does: "New recipe: Starts an empty recipe."
pub fn does(name: &str, sentence: &str) -> String {
    format!("{}: {sentence}", name.trim_end_matches('…'))
}

/// A line of the changes, by what it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Line {
    /// A version.
    Heading(&'static str),
    /// One change.
    Point(&'static str),
    /// Anything else.
    Plain(&'static str),
}

/// The changes, newest version first, line by line.
pub fn changes() -> impl Iterator<Item = Line> {
    let lines = include_str!("../../assets/changes.md").lines();
    let said = lines.filter(|line| !line.is_empty() && !line.starts_with("# "));
    said.map(|line| {
        if let Some(heading) = line.strip_prefix("## ") {
            Line::Heading(heading)
        } else if let Some(point) = line.strip_prefix("- ") {
            Line::Point(point)
        } else {
            Line::Plain(line)
        }
    })
}

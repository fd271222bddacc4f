//! The program: commands, or the window.
fn main() {}

//! The program: arguments go to `command`, or to the window when there is none.
//!
//! In: arguments. Out: an exit code. Not here: anything else.
//!
//! Tested by: `tests/document/command.rs`.

use std::process::ExitCode;

use heapwright::command;

fn main() -> ExitCode {
    let code = command::run(
        std::env::args_os(),
        &mut std::io::stdout().lock(),
        &mut std::io::stderr(),
        open_window,
    );
    ExitCode::from(code)
}

/// Opens the window with the file, if one is given.
#[cfg(feature = "window")]
fn open_window(opening: command::Opening) -> Result<(), String> {
    heapwright::window::run(opening.file, opening.class)
}

/// Says that this build has no window.
#[cfg(not(feature = "window"))]
fn open_window(_: command::Opening) -> Result<(), String> {
    Err("this build has no window; \"heapwright assess FILE\" and the other commands work without one".to_owned())
}

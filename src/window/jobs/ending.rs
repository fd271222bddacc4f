//! Being told to end: the signals of the system, by which no question can be asked.
//!
//! In: a way to write unsaved work. Out: a program that has written it when it ends, by the same signal.
//!
//! Not here: what is written (`document::keeper`), closing by the person (`verbs::perform`).
//!
//! Tested by: `.ci/window-endures`.

use std::io;
use std::thread::Builder;

use signal_hook::consts::{SIGHUP, SIGINT, SIGTERM};
use signal_hook::iterator::Signals;
use signal_hook::low_level::emulate_default_handler;

use crate::document::keeper::Rescue;

/// Has unsaved work written before SIGTERM, SIGINT or SIGHUP ends the program.
///
/// # Errors
/// When the system lets no signal be caught or has no thread to give.
pub fn heed(rescue: Rescue) -> io::Result<()> {
    let mut signals = Signals::new([SIGTERM, SIGINT, SIGHUP])?;
    Builder::new().name("ending".to_owned()).spawn(move || {
        for signal in signals.forever() {
            // The program ends whether or not it could be written.
            let _ = rescue.run();
            let _ = emulate_default_handler(signal);
        }
    })?;
    Ok(())
}

//! What a shell and a manual know of the program, made from its arguments: completions and manual pages.
//!
//! In: a shell, or a command's name. Out: a script, or a page as `man` reads it. Both are for packagers and stay out of
//! the list of commands.
//!
//! Not here: the arguments themselves (`arguments`), where a package puts what is made here (`.ci/package`).
//!
//! Tested by: `tests/document/shell.rs`.

use std::io::{self, Write};

use clap::CommandFactory;
use clap_complete::Shell;
use clap_mangen::Man;

use crate::text::error;

use super::arguments::Arguments;
use super::failure::Failure;

/// The program's name, to the shell.
const NAME: &str = "heapwright";

/// Writes the script that completes arguments in this shell.
pub(super) fn complete(shell: Shell, out: &mut impl Write) -> io::Result<()> {
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut Arguments::command(), NAME, &mut script);
    out.write_all(&script)
}

/// Writes the manual page of the program, or of one of its commands.
pub(super) fn manual(command: Option<&str>, out: &mut impl Write) -> Result<(), Failure> {
    let mut whole = Arguments::command();
    whole.build();
    let page = match command {
        None => whole,
        Some(name) => {
            let found = whole
                .find_subcommand(name)
                .filter(|found| !found.is_hide_set());
            let Some(found) = found else {
                return Err(Failure::BadInput(error::no_such_command(name)));
            };
            // `man` finds the page of a command under both words.
            found.clone().display_name(format!("{NAME}-{name}"))
        }
    };
    Man::new(page).render(out)?;
    Ok(())
}

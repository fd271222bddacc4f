//! The program without a window: arguments in, text and an exit code out.
//!
//! In: the arguments, two places to write to, a way to open the window. Out: 0 when it went well, 2
//! for input that cannot be used, with exactly one line on standard error.
//!
//! Whoever reads the output may stop reading; that is no mistake.
//!
//! Chapter: `arguments` is what can be typed; `design`, `dates`, `wrong`, `learn`, `year`, `beliefs` and `shell` carry commands out;
//! `files` opens the project and guards what is written over, `plain` lets nothing steer a terminal, `progress` says how far
//! a long one is, `failure` is why it did not go well.
//!
//! Not here: what is written (`export`), sentences (`text`), the window itself, which is handed in.
//!
//! Tested by: `tests/document/command.rs`.

mod arguments;
mod beliefs;
mod dates;
mod design;
mod failure;
mod files;
mod learn;
mod plain;
mod progress;
mod shell;
mod wrong;
mod year;

use std::ffi::OsString;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use crate::document::one_line;
use crate::export::{Assessment, catalogue_csv, catalogue_text, json, report};
use crate::material::Catalogue;
use crate::outcome::complaint::{Readings, Squeeze};
use crate::text::error;
use crate::text::year as year_words;

use arguments::{Arguments, Command, parse};
use beliefs::{run_trials, tell_beliefs, trials_of};
use dates::{Moment, dates, seen_at};
use design::{balanced, curve, print_handout, units_of};
use failure::{Failure, bad};
use files::open;
use learn::{add_logged, learn};
use plain::Plain;
use shell::{complete, manual};
use wrong::{diagnose, symptoms_of};
use year::plan_year;

/// How the window is to open.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Opening {
    /// Project to open; `None` for the latest one.
    pub file: Option<PathBuf>,
    /// Whether straight in the Class view.
    pub class: bool,
}

/// Exit code when all went well.
pub const GOOD: u8 = 0;

/// Exit code when the input cannot be used.
pub const BAD_INPUT: u8 = 2;

/// Longest line on standard error, characters.
const LINE_LIMIT: usize = 2000;

/// Runs the program; the exit code comes back.
///
/// `open_window` is called when no command is given, with the file to open if there is one, and says
/// in one sentence why there can be no window.
pub fn run(
    arguments: impl IntoIterator<Item = OsString>,
    out: &mut impl Write,
    complaints: &mut impl Write,
    open_window: impl FnOnce(Opening) -> Result<(), String>,
) -> u8 {
    let out = &mut Plain::over(out);
    let done = parse(arguments, out).and_then(|parsed| match parsed {
        None => Ok(()),
        Some(Arguments {
            command: Some(command),
            ..
        }) => carry_out(command, out, complaints),
        Some(Arguments { file, class, .. }) => {
            open_window(Opening { file, class }).map_err(Failure::BadInput)
        }
    });
    let done = done.and_then(|()| Ok(out.flush()?));
    let sentence = match done {
        Ok(()) => return GOOD,
        Err(Failure::Output(error)) if error.kind() == io::ErrorKind::BrokenPipe => return GOOD,
        Err(Failure::Output(error)) => error::output_not_written(&error),
        Err(Failure::BadInput(sentence)) => sentence,
    };
    // With nowhere left to complain to, the exit code must do.
    let _ = writeln!(
        complaints,
        "heapwright: {}",
        one_line(&sentence, LINE_LIMIT)
    );
    BAD_INPUT
}

/// Says what would become of a heap.
fn assess(
    file: &Path,
    catalogue: &Catalogue,
    as_json: bool,
    out: &mut impl Write,
) -> Result<(), Failure> {
    let project = open(file, catalogue)?;
    let assessment = Assessment::whole(&project, catalogue).map_err(bad)?;
    if as_json {
        writeln!(out, "{}", json(&assessment).map_err(bad)?)?;
    } else {
        write!(out, "{}", report(&assessment))?;
    }
    Ok(())
}

/// Carries out one command.
fn carry_out(
    command: Command,
    out: &mut impl Write,
    complaints: &mut impl Write,
) -> Result<(), Failure> {
    let catalogue = Catalogue::built_in().map_err(bad)?;
    match command {
        Command::Assess { file, json } => assess(&file, &catalogue, json, out)?,
        Command::Curve { file, out: target } => curve(&file, &target, &catalogue, out)?,
        Command::Balance { file, out: target } => {
            balanced(&file, target.as_deref(), &catalogue, out)?;
        }
        Command::Handout {
            file,
            out: target,
            paper,
            units,
        } => {
            let look = (paper.into(), units_of(units));
            print_handout(&file, &target, &catalogue, look, out)?;
        }
        Command::Dates {
            file,
            out: target,
            today,
            units,
        } => {
            let when = Moment::of(today);
            dates(
                &file,
                target.as_deref(),
                (when, units_of(units)),
                &catalogue,
                out,
            )?;
        }
        Command::Trials {
            file,
            own,
            only,
            pairs,
        } => {
            let trials = trials_of(own.as_deref(), only.as_deref())?;
            run_trials(&file, &trials, pairs, &catalogue, out)?;
        }
        Command::Wrong {
            file,
            symptom,
            squeeze,
            weeks,
            today,
            json,
        } => {
            let readings = Readings {
                squeeze: squeeze.map(Squeeze::from),
                age_days: weeks.map(|weeks| 7.0 * f64::from(weeks)),
                ..Readings::default()
            };
            let symptoms = symptoms_of(&symptom)?;
            let now = seen_at(today);
            diagnose(&file, symptoms, (readings, now), &catalogue, json, out)?;
        }
        Command::Year { file, json, time } => {
            let took = plan_year(&file, &catalogue, json, out)?;
            if time {
                // With nowhere to say it, it stays unsaid.
                let _ = writeln!(complaints, "heapwright: {}", year_words::solved_in(took));
            }
        }
        Command::Learn {
            file,
            readings,
            today,
            json,
        } => {
            let project = open(&file, &catalogue)?;
            let mut diary = project.diary.clone();
            if let Some(readings) = readings {
                add_logged(&readings, &mut diary, complaints)?;
            }
            let now = seen_at(today);
            learn(&project, (&diary, now), &catalogue, json, out)?;
        }
        Command::Beliefs { words } => tell_beliefs(&words.join(" "), out)?,
        Command::Completions { shell } => complete(shell, out)?,
        Command::Manual { command } => manual(command.as_deref(), out)?,
        Command::Materials { csv: true } => catalogue_csv(&catalogue, out)?,
        Command::Materials { csv: false } => catalogue_text(&catalogue, out)?,
    }
    Ok(())
}

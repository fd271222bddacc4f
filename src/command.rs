//! The program without a window: arguments in, text and an exit code out.
//!
//! In: the arguments, two places to write to, a way to open the window. Out: 0 when it went well, 2
//! for input that cannot be used, with exactly one line on standard error.
//!
//! Whoever reads the output may stop reading; that is no mistake.
//! Not here: what is written (`export`), the window itself, which is handed in.
//!
//! Held against: `tests/document/command.rs`.

use std::ffi::OsString;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};

use clap::{Parser, Subcommand};

use crate::document::file::{self, Opened};
use crate::document::{EXTENSION, Project, one_line, shown};
use crate::export::{
    Assessment, balance_text, catalogue_csv, catalogue_text, json, projection_csv, report,
};
use crate::material::Catalogue;
use crate::mix::balance::{Goal, balance_handily};

/// Exit code when all went well.
pub const GOOD: u8 = 0;
/// Exit code when the input cannot be used.
pub const BAD_INPUT: u8 = 2;
/// Members of the ensemble that says how likely a judgement is: "7 in 10" to one in ten or better.
const MEMBERS: usize = 64;
/// Longest line on standard error, characters.
const LINE_LIMIT: usize = 2000;

/// Design a compost mix and see beforehand how the heap would heat.
#[derive(Debug, Parser)]
#[command(name = "heapwright", version, args_conflicts_with_subcommands = true)]
struct Arguments {
    /// Project to open in the window.
    file: Option<PathBuf>,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
    /// Print the mix, its gauges, what the heap would do and what would come of it.
    Assess {
        /// Project file.
        file: PathBuf,
        /// As JSON (schema 1) instead of sentences.
        #[arg(long)]
        json: bool,
    },
    /// Write the projected temperatures as CSV.
    Curve {
        /// Project file.
        file: PathBuf,
        /// CSV file to write, "-" for standard output.
        #[arg(long)]
        out: PathBuf,
    },
    /// Find the smallest change that brings every gauge of the mix into its band.
    Balance {
        /// Project file.
        file: PathBuf,
        /// New project file to write with the balanced mix.
        #[arg(long)]
        out: Option<PathBuf>,
    },
    /// List the built-in materials.
    Materials {
        /// Every value with its range, sources and confidence, as CSV.
        #[arg(long)]
        csv: bool,
    },
}

/// Why a command did not do what was asked.
enum Failure {
    /// The input cannot be used; one sentence.
    BadInput(String),
    /// The output cannot be written.
    Output(io::Error),
}

impl From<io::Error> for Failure {
    fn from(error: io::Error) -> Self {
        Self::Output(error)
    }
}

/// Runs the program; the exit code comes back.
///
/// `open_window` is called when no command is given, with the file to open if there is one, and says
/// in one sentence why there can be no window.
pub fn run(
    arguments: impl IntoIterator<Item = OsString>,
    out: &mut impl Write,
    complaints: &mut impl Write,
    open_window: impl FnOnce(Option<PathBuf>) -> Result<(), String>,
) -> u8 {
    let done = parse(arguments, out).and_then(|parsed| match parsed {
        None => Ok(()),
        Some(Arguments {
            command: Some(command),
            ..
        }) => carry_out(command, out),
        Some(Arguments { file, .. }) => open_window(file).map_err(Failure::BadInput),
    });
    let done = done.and_then(|()| Ok(out.flush()?));
    let sentence = match done {
        Ok(()) => return GOOD,
        Err(Failure::Output(error)) if error.kind() == io::ErrorKind::BrokenPipe => return GOOD,
        Err(Failure::Output(error)) => {
            format!("the output could not be written ({error}); send it somewhere else")
        }
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

/// The arguments; `None` when help or version was asked for and has been written.
fn parse(
    arguments: impl IntoIterator<Item = OsString>,
    out: &mut impl Write,
) -> Result<Option<Arguments>, Failure> {
    match Arguments::try_parse_from(arguments) {
        Ok(arguments) => Ok(Some(arguments)),
        Err(error) if !error.use_stderr() => {
            write!(out, "{}", error.render())?;
            Ok(None)
        }
        Err(error) => {
            let text = error.render().to_string();
            let first: Vec<&str> = text
                .lines()
                .map(str::trim)
                .take_while(|line| !line.is_empty())
                .collect();
            let first = first.join(" ");
            let first = first.strip_prefix("error: ").unwrap_or(&first);
            Err(Failure::BadInput(format!(
                "{first}; \"heapwright --help\" shows what can be asked"
            )))
        }
    }
}

/// Carries out one command.
fn carry_out(command: Command, out: &mut impl Write) -> Result<(), Failure> {
    let catalogue = Catalogue::built_in().map_err(bad)?;
    match command {
        Command::Assess { file, json: false } => {
            let project = open(&file, &catalogue)?;
            let mut assessment = Assessment::of(&project, &catalogue).map_err(bad)?;
            assessment.weigh(MEMBERS);
            write!(out, "{}", report(&assessment))?;
        }
        Command::Assess { file, json: true } => {
            let project = open(&file, &catalogue)?;
            let mut assessment = Assessment::of(&project, &catalogue).map_err(bad)?;
            assessment.weigh(MEMBERS);
            writeln!(out, "{}", json(&assessment).map_err(bad)?)?;
        }
        Command::Curve { file, out: target } => curve(&file, &target, &catalogue, out)?,
        Command::Balance { file, out: target } => {
            balanced(&file, target.as_deref(), &catalogue, out)?;
        }
        Command::Materials { csv: true } => catalogue_csv(&catalogue, out)?,
        Command::Materials { csv: false } => catalogue_text(&catalogue, out)?,
    }
    Ok(())
}

/// Balances the mix of one project; the balanced project goes to `target`, if one is given.
fn balanced(
    path: &Path,
    target: Option<&Path>,
    catalogue: &Catalogue,
    out: &mut impl Write,
) -> Result<(), Failure> {
    let mut project = open(path, catalogue)?;
    let with_own = catalogue.with_own(&project.own_materials).map_err(bad)?;
    let goal = Goal::of_room(project.heap.shape.room_m3());
    let found = balance_handily(&project.mix, &with_own, &goal).map_err(bad)?;
    let text = balance_text(&project, &with_own, &found);
    if let Some(target) = target {
        let target = file::with_extension(target);
        if fs::symlink_metadata(&target).is_ok() {
            return Err(Failure::BadInput(format!(
                "there is already a file of this name; give --out a new name: {}",
                shown(&target)
            )));
        }
        project.mix = found.mix;
        file::write(&target, &project, None).map_err(bad)?;
    }
    Ok(write!(out, "{text}")?)
}

/// Writes the projection of one project.
fn curve(
    path: &Path,
    target: &Path,
    catalogue: &Catalogue,
    out: &mut impl Write,
) -> Result<(), Failure> {
    let project = open(path, catalogue)?;
    let assessment = Assessment::of(&project, catalogue).map_err(bad)?;
    let Some(projection) = &assessment.projection else {
        let remark = assessment.remark().unwrap_or("Nothing is projected.");
        return Err(Failure::BadInput(format!("{remark} {}", shown(path))));
    };
    if target == Path::new("-") {
        return Ok(projection_csv(projection, out)?);
    }
    refuse_project_as_target(path, target)?;
    let mut table = Vec::new();
    projection_csv(projection, &mut table)?;
    file::replace(target, &table).map_err(bad)
}

/// Refuses to write a table over a project.
fn refuse_project_as_target(source: &Path, target: &Path) -> Result<(), Failure> {
    let same = match (fs::canonicalize(source), fs::canonicalize(target)) {
        (Ok(source), Ok(target)) => source == target,
        // A target that does not exist yet is not the source.
        _ => false,
    };
    if same || target.to_string_lossy().to_lowercase().ends_with(EXTENSION) {
        return Err(Failure::BadInput(format!(
            "a table would be written over a project; give --out a name that ends with .csv: {}",
            shown(target)
        )));
    }
    Ok(())
}

/// Opens a project.
fn open(path: &Path, catalogue: &Catalogue) -> Result<Project, Failure> {
    let Opened { project, .. } = file::read(path, catalogue).map_err(bad)?;
    Ok(project)
}

/// An error whose words are meant for the person.
fn bad(error: impl std::fmt::Display) -> Failure {
    Failure::BadInput(error.to_string())
}

//! What can be typed after the program's name.
//!
//! In: arguments. Out: [`Arguments`] with their [`Command`], or one sentence; help and version are written at once.
//!
//! Not here: carrying a command out (`mod` and its families).
//!
//! Tested by: `tests/document/command.rs`.

use std::ffi::OsString;
use std::io::Write;
use std::path::PathBuf;

use clap::{Parser, Subcommand, ValueEnum};
use clap_complete::Shell;
use jiff::civil::Date;

use crate::export::Paper;
use crate::outcome::complaint::Squeeze;
use crate::text::error;

use super::failure::Failure;

/// Pairs of a trial unless another number is asked for: enough to read a share of the pairs to one in ten. Of all built-in
/// trials on a demo heap 99 shares in 100 lie within 0.08 of those of 200 pairs, and a verdict is another only where its
/// share lies as near to a limit. A power of two, whose draws are spread evenly (`forecast::sequence`).
const USUAL_PAIRS: u32 = 64;

/// Design a compost mix and see beforehand how the heap would heat.
#[derive(Debug, Parser)]
#[command(name = "heapwright", version, args_conflicts_with_subcommands = true)]
pub(super) struct Arguments {
    /// Project to open in the window.
    pub(super) file: Option<PathBuf>,
    /// Open straight in the Class view.
    #[arg(long)]
    pub(super) class: bool,
    #[command(subcommand)]
    pub(super) command: Option<Command>,
}

#[derive(Debug, Subcommand)]
pub(super) enum Command {
    /// Print the mix, its gauges, what the heap would do and what to expect of it.
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
    /// Write the handout: the project on one printed page.
    Handout {
        /// Project file.
        file: PathBuf,
        /// PDF file to write, "-" for standard output.
        #[arg(long)]
        out: PathBuf,
        /// Size of the paper.
        #[arg(long, value_enum, default_value_t)]
        paper: PaperChoice,
        /// Units on it; those of the window unless said.
        #[arg(long, value_enum)]
        units: Option<UnitsChoice>,
    },
    /// List what is due in the next days, or write it as a calendar that phones and computers read.
    Dates {
        /// Project file.
        file: PathBuf,
        /// iCalendar file to write, "-" for standard output; without it the dates are printed as text.
        #[arg(long)]
        out: Option<PathBuf>,
        /// As seen from this day, such as 2026-03-01, in place of today.
        #[arg(long)]
        today: Option<Date>,
        /// Units in the words; those of the window unless said.
        #[arg(long, value_enum)]
        units: Option<UnitsChoice>,
    },
    /// Run the trials on a project: two heaps that differ in one thing, side by side.
    Trials {
        /// Project file: the heap at hand.
        file: PathBuf,
        /// Trials of your own instead of the ready ones, as RON.
        #[arg(long)]
        own: Option<PathBuf>,
        /// Only the trial with this id.
        #[arg(long)]
        only: Option<String>,
        /// Pairs of heaps per trial; the window runs 200.
        #[arg(long, default_value_t = USUAL_PAIRS, value_parser = clap::value_parser!(u32).range(1..=10_000))]
        pairs: u32,
    },
    /// Say what is wrong with a heap: causes by what mending each gains, and the smallest cure.
    Wrong {
        /// Project file: the heap at hand.
        file: PathBuf,
        /// What is noticed, by name, several with commas: cold, smell-ammonia, dry ...
        #[arg(long, value_delimiter = ',', required = true)]
        symptom: Vec<String>,
        /// What a squeeze in the hand tells, in place of the recipe's own moisture.
        #[arg(long, value_enum)]
        squeeze: Option<SqueezeChoice>,
        /// Weeks since it was built.
        #[arg(long, value_parser = clap::value_parser!(u32).range(0..=520))]
        weeks: Option<u32>,
        /// As seen from this day, such as 2026-03-01, in place of today.
        #[arg(long)]
        today: Option<Date>,
        /// As JSON (schema 1) instead of sentences.
        #[arg(long)]
        json: bool,
    },
    /// Plan a year: which heap to build in which month and bay, with how much of what arrives.
    Year {
        /// Year file (.year.ron).
        file: PathBuf,
        /// As JSON (schema 1) instead of a table.
        #[arg(long)]
        json: bool,
        /// Say on standard error how long the planning took.
        #[arg(long)]
        time: bool,
    },
    /// Learn from the readings of a project's diary what its heap is like, and what it will do from here on.
    Learn {
        /// Project file, with or without a diary.
        file: PathBuf,
        /// A logger's file (text with columns); its readings are added to the diary for this answer, nothing is saved.
        #[arg(long)]
        readings: Option<PathBuf>,
        /// As seen from this day, such as 2026-03-01, in place of today.
        #[arg(long)]
        today: Option<Date>,
        /// As JSON (schema 1) instead of sentences.
        #[arg(long)]
        json: bool,
    },
    /// Tell what is known of beliefs about compost, found by words; all of them in a list without.
    Beliefs {
        /// Words to look for, such as: tea bags.
        words: Vec<String>,
    },
    /// List the built-in materials.
    Materials {
        /// Every value with its range, sources and confidence, as CSV.
        #[arg(long)]
        csv: bool,
    },
    /// Write what completes these arguments in a shell.
    #[command(hide = true)]
    Completions {
        /// The shell.
        shell: Shell,
    },
    /// Write the manual page of the program or of one command.
    #[command(hide = true)]
    Manual {
        /// Name of the command.
        command: Option<String>,
    },
}

/// Paper to print on.
#[derive(Debug, Clone, Copy, Default, ValueEnum)]
pub(super) enum PaperChoice {
    /// 210 by 297 mm.
    #[default]
    A4,
    /// 8.5 by 11 inches.
    Letter,
}

impl From<PaperChoice> for Paper {
    fn from(choice: PaperChoice) -> Self {
        match choice {
            PaperChoice::A4 => Self::A4,
            PaperChoice::Letter => Self::Letter,
        }
    }
}

/// What a squeeze in the hand tells.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub(super) enum SqueezeChoice {
    /// Falls apart, dusty.
    Dust,
    /// Holds for a moment, no shine.
    Crumbles,
    /// Like a wrung-out sponge.
    Sponge,
    /// Water runs between the fingers.
    Trickles,
    /// Water runs by itself.
    Soggy,
}

impl From<SqueezeChoice> for Squeeze {
    fn from(choice: SqueezeChoice) -> Self {
        match choice {
            SqueezeChoice::Dust => Self::Dust,
            SqueezeChoice::Crumbles => Self::Crumbles,
            SqueezeChoice::Sponge => Self::Sponge,
            SqueezeChoice::Trickles => Self::Trickles,
            SqueezeChoice::Soggy => Self::Soggy,
        }
    }
}

/// Units to write in.
#[derive(Debug, Clone, Copy, ValueEnum)]
pub(super) enum UnitsChoice {
    /// Litres, kilograms, degrees Celsius.
    Metric,
    /// Gallons, pounds, degrees Fahrenheit.
    Us,
}

/// The arguments; `None` when help or version was asked for and has been written.
pub(super) fn parse(
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
            Err(Failure::BadInput(error::not_understood(first)))
        }
    }
}

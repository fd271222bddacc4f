//! The program without a window: arguments in, text and an exit code out.
//!
//! In: the arguments, two places to write to, a way to open the window. Out: 0 when it went well, 2
//! for input that cannot be used, with exactly one line on standard error.
//!
//! Whoever reads the output may stop reading; that is no mistake.
//! Not here: what is written (`export`), sentences (`text`), the window itself, which is handed in.
//!
//! Tested by: `tests/document/command.rs`.

use std::ffi::OsString;
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::time::Instant;

use clap::{Parser, Subcommand, ValueEnum};
use jiff::ZonedDateTime;
use jiff::civil::{Date, DateTime};
use jiff::tz::TimeZone;

use crate::assess::remedy::Question;
use crate::assess::trial::{Trial, TrialCase, find, find_questions};
use crate::assess::{Assessed, Schedule};
use crate::diary::Diary;
use crate::diary::import::{Choices, import, merge};
use crate::document::file::{self, Opened};
use crate::document::year::read_year;
use crate::document::{EXTENSION, Folders, Project, Settings, one_line, shown};
use crate::export::{
    Assessment, CalendarFile, Handout, Paper, balance_text, beliefs_list, beliefs_text, calendar,
    calendar_name, catalogue_csv, catalogue_text, complaint_json, complaint_text, handout, json,
    learnt_json, learnt_text, projection_csv, report, trial_text, year_json, year_text,
};
use crate::forecast::{MEMBERS, Pairs};
use crate::material::{Catalogue, MaterialQuestion, questions};
use crate::mix::balance::{Goal, balance_handily};
use crate::outcome::complaint::{Readings, Squeeze, Symptom};
use crate::outcome::shared;
use crate::quantity::UnitSystem;
use crate::text::error::{self, Joint, WrittenOut};
use crate::text::logger;
use crate::text::next_days::{SaidOf, as_text};
use crate::text::year::{self as year_words, YearTold};
use crate::year::plan;

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

/// Design a compost mix and see beforehand how the heap would heat.
#[derive(Debug, Parser)]
#[command(name = "heapwright", version, args_conflicts_with_subcommands = true)]
struct Arguments {
    /// Project to open in the window.
    file: Option<PathBuf>,
    /// Open straight in the Class view.
    #[arg(long)]
    class: bool,
    #[command(subcommand)]
    command: Option<Command>,
}

#[derive(Debug, Subcommand)]
enum Command {
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
        /// Pairs of heaps per trial.
        #[arg(long, default_value_t = MEMBERS as u32, value_parser = clap::value_parser!(u32).range(1..=10_000))]
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
}

/// Paper to print on.
#[derive(Debug, Clone, Copy, Default, ValueEnum)]
enum PaperChoice {
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
enum SqueezeChoice {
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
enum UnitsChoice {
    /// Litres, kilograms, degrees Celsius.
    Metric,
    /// Gallons, pounds, degrees Fahrenheit.
    Us,
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
    open_window: impl FnOnce(Opening) -> Result<(), String>,
) -> u8 {
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
            Err(Failure::BadInput(error::not_understood(first)))
        }
    }
}

/// Carries out one command.
fn carry_out(
    command: Command,
    out: &mut impl Write,
    complaints: &mut impl Write,
) -> Result<(), Failure> {
    let catalogue = Catalogue::built_in().map_err(bad)?;
    match command {
        Command::Assess { file, json: false } => {
            let project = open(&file, &catalogue)?;
            let assessment = Assessment::whole(&project, &catalogue).map_err(bad)?;
            write!(out, "{}", report(&assessment))?;
        }
        Command::Assess { file, json: true } => {
            let project = open(&file, &catalogue)?;
            let assessment = Assessment::whole(&project, &catalogue).map_err(bad)?;
            writeln!(out, "{}", json(&assessment).map_err(bad)?)?;
        }
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
            json,
        } => {
            let readings = Readings {
                squeeze: squeeze.map(Squeeze::from),
                age_days: weeks.map(|weeks| 7.0 * f64::from(weeks)),
                ..Readings::default()
            };
            let symptoms = symptoms_of(&symptom)?;
            diagnose(&file, symptoms, readings, &catalogue, json, out)?;
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
            json,
        } => {
            let project = open(&file, &catalogue)?;
            let mut diary = project.diary.clone();
            if let Some(readings) = readings {
                add_logged(&readings, &mut diary)?;
            }
            learn(&project, &diary, &catalogue, json, out)?;
        }
        Command::Beliefs { words } => tell_beliefs(&words.join(" "), out)?,
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
            return Err(Failure::BadInput(error::already_there(&shown(&target))));
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
        let remark = assessment.remark().unwrap_or(error::NOT_PROJECTED);
        let sentence = error::about_file(&remark, &shown(path), Joint::Sentence);
        return Err(Failure::BadInput(sentence));
    };
    if target == Path::new("-") {
        return Ok(projection_csv(projection, out)?);
    }
    refuse_project_as_target(path, target, WrittenOut::Table)?;
    let mut table = Vec::new();
    projection_csv(projection, &mut table)?;
    file::replace(target, &table).map_err(bad)
}

/// The day from which dates are told, and when that is written down: the one place of a command that reads a clock.
struct Moment {
    today: Date,
    written: DateTime,
}

impl Moment {
    /// A day that was given, from its beginning on, or now.
    fn of(today: Option<Date>) -> Self {
        match today {
            Some(today) => Self {
                today,
                written: today.at(0, 0, 0, 0),
            },
            None => {
                let now = ZonedDateTime::now();
                Self {
                    today: now.date(),
                    written: now.with_time_zone(TimeZone::UTC).datetime(),
                }
            }
        }
    }
}

/// Tells what is due in the next days of one project, or writes it as a calendar.
fn dates(
    path: &Path,
    target: Option<&Path>,
    (when, units): (Moment, UnitSystem),
    catalogue: &Catalogue,
    out: &mut impl Write,
) -> Result<(), Failure> {
    let project = open(path, catalogue)?;
    let assessment = Assessment::of(&project, catalogue).map_err(bad)?;
    let (Some(projection), Some(outcome)) = (&assessment.projection, &assessment.outcome) else {
        let remark = assessment.remark().unwrap_or(error::NOT_PROJECTED);
        let sentence = error::about_file(&remark, &shown(path), Joint::Sentence);
        return Err(Failure::BadInput(sentence));
    };
    let facts = shared().map_err(bad)?;
    let schedule = Schedule::of(&project, projection, outcome, facts, when.today);
    let of = SaidOf {
        project: &project,
        catalogue: &assessment.catalogue,
        units,
    };
    let Some(target) = target else {
        return Ok(write!(out, "{}", as_text(&schedule, &of))?);
    };
    let text = calendar(&CalendarFile {
        schedule: &schedule,
        of,
        name: &calendar_name(path),
        written: when.written,
    });
    if target == Path::new("-") {
        return Ok(out.write_all(text.as_bytes())?);
    }
    refuse_project_as_target(path, target, WrittenOut::Calendar)?;
    file::replace(target, text.as_bytes()).map_err(bad)
}

/// The units asked for, else those a person has chosen in the window.
fn units_of(choice: Option<UnitsChoice>) -> UnitSystem {
    match choice {
        Some(UnitsChoice::Metric) => UnitSystem::Metric,
        Some(UnitsChoice::Us) => UnitSystem::UsCustomary,
        None => Folders::of_user().map_or(UnitSystem::Metric, |folders| {
            Settings::load(&folders).settings.units
        }),
    }
}

/// Writes the handout of one project, with the band of its forecast.
fn print_handout(
    path: &Path,
    target: &Path,
    catalogue: &Catalogue,
    (paper, units): (Paper, UnitSystem),
    out: &mut impl Write,
) -> Result<(), Failure> {
    let project = open(path, catalogue)?;
    let assessment = Assessment::whole(&project, catalogue).map_err(bad)?;
    let cautions = assessment.cautions_in(units);
    let page = handout(&Handout {
        assessment: &assessment,
        forecast: assessment.forecast.as_ref(),
        cautions: &cautions,
        units,
        paper,
    })
    .map_err(bad)?;
    if target == Path::new("-") {
        return Ok(out.write_all(&page)?);
    }
    refuse_project_as_target(path, target, WrittenOut::Handout)?;
    file::replace(target, &page).map_err(bad)
}

/// The trials asked for.
fn trials_of(own: Option<&Path>, only: Option<&str>) -> Result<Vec<Trial>, Failure> {
    let mut trials = match own {
        None => Trial::ready().map_err(bad)?,
        Some(path) => {
            let content = file::content_of(path).map_err(bad)?;
            let text = file::text_of(&content, path).map_err(bad)?;
            Trial::read(text).map_err(|problem| {
                Failure::BadInput(error::about_file(&problem, &shown(path), Joint::Clause))
            })?
        }
    };
    if let Some(id) = only {
        trials.retain(|trial| trial.id == id);
        if trials.is_empty() {
            return Err(Failure::BadInput(error::no_such_trial(id)));
        }
    }
    Ok(trials)
}

/// Runs trials one after another and writes what came of each as soon as it is there.
fn run_trials(
    path: &Path,
    trials: &[Trial],
    pairs: u32,
    catalogue: &Catalogue,
    out: &mut impl Write,
) -> Result<(), Failure> {
    let project = open(path, catalogue)?;
    let catalogue = catalogue.with_own(&project.own_materials).map_err(bad)?;
    let at_hand = TrialCase::of(&project.mix, &project.heap);
    Trial::check_all(trials, &at_hand, &catalogue).map_err(bad)?;
    let how = Pairs {
        count: pairs as usize,
        ..Pairs::default()
    };
    for trial in trials {
        let mut comparison = None;
        if trial.can_be_run() {
            let (first, second) = trial.inputs(&at_hand, &catalogue).map_err(bad)?;
            comparison = how.run((&first, &second), &AtomicBool::new(false), |_| {});
        }
        let text = trial_text(trial, comparison.as_ref(), UnitSystem::Metric);
        writeln!(out, "{text}")?;
    }
    Ok(())
}

/// The symptoms of these names, each once.
fn symptoms_of(names: &[String]) -> Result<Vec<Symptom>, Failure> {
    let mut all = Vec::new();
    for name in names {
        let name = name.trim();
        let symptom = Symptom::of_id(name).ok_or_else(|| {
            let known = Symptom::ALL.map(Symptom::id);
            Failure::BadInput(error::no_such_symptom(name, &known))
        })?;
        if !all.contains(&symptom) {
            all.push(symptom);
        }
    }
    Ok(all)
}

/// Says what is wrong with a heap.
fn diagnose(
    path: &Path,
    symptoms: Vec<Symptom>,
    readings: Readings,
    catalogue: &Catalogue,
    as_json: bool,
    out: &mut impl Write,
) -> Result<(), Failure> {
    let project = open(path, catalogue)?;
    let catalogue = catalogue.with_own(&project.own_materials).map_err(bad)?;
    let from_day = project
        .diary
        .first_free_day(jiff::ZonedDateTime::now().datetime());
    let question = Question {
        from_day,
        mix: project.mix,
        heap: project.heap,
        symptoms,
        readings,
        catalogue: Arc::new(catalogue),
    };
    let never = AtomicBool::new(false);
    let found = question.answer(&never, |_| {}).map_err(bad)?;
    let Some(found) = found else { return Ok(()) };
    let facts = shared().map_err(bad)?;
    let catalogue = &question.catalogue;
    if as_json {
        let text = complaint_json(&found, catalogue, facts).map_err(bad)?;
        writeln!(out, "{text}")?;
    } else {
        let text = complaint_text(&found, catalogue, facts, UnitSystem::Metric);
        write!(out, "{text}")?;
    }
    Ok(())
}

/// Plans a year and writes the plan; the seconds that the planning took come back.
fn plan_year(
    path: &Path,
    catalogue: &Catalogue,
    as_json: bool,
    out: &mut impl Write,
) -> Result<f64, Failure> {
    let (file, catalogue) = read_year(path, catalogue).map_err(bad)?;
    let since = Instant::now();
    let plan = plan(&file.year, &catalogue).map_err(|problem| {
        let sentence = year_words::unplanned(&file.year, &problem, &catalogue);
        Failure::BadInput(error::about_file(&sentence, &shown(path), Joint::Clause))
    })?;
    let took = since.elapsed().as_secs_f64();
    let told = YearTold {
        year: &file.year,
        plan: &plan,
        catalogue: &catalogue,
        units: UnitSystem::Metric,
    };
    if as_json {
        writeln!(out, "{}", year_json(&file, &told).map_err(bad)?)?;
    } else {
        write!(out, "{}", year_text(&file, &told))?;
    }
    Ok(took)
}

/// Adds what a logger's file holds to a diary; what was left out or looks odd is told on standard error.
fn add_logged(path: &Path, diary: &mut Diary) -> Result<(), Failure> {
    let bytes = file::logger_bytes(path).map_err(bad)?;
    let choices = Choices {
        built: diary.built,
        ..Choices::default()
    };
    let read = import(&bytes, &choices)
        .map_err(|problem| Failure::BadInput(error::of_file(&shown(path), &problem.to_string())))?;
    let Some(imported) = &read.imported else {
        let problem = read.understood.lack.map_or("", logger::lack);
        return Err(Failure::BadInput(error::of_file(&shown(path), problem)));
    };
    for said in logger::told(imported, UnitSystem::Metric) {
        eprintln!("{said}");
    }
    merge(imported, diary).map_err(bad)?;
    Ok(())
}

/// Learns from a diary of a project's heap.
fn learn(
    project: &Project,
    diary: &Diary,
    catalogue: &Catalogue,
    as_json: bool,
    out: &mut impl Write,
) -> Result<(), Failure> {
    let mut assessed = Assessed::of(project, catalogue).map_err(bad)?;
    assessed.learn(project, catalogue, diary).map_err(bad)?;
    let Some(learning) = &assessed.learnt else {
        return Ok(());
    };
    if as_json {
        writeln!(out, "{}", learnt_json(learning).map_err(bad)?)?;
    } else {
        write!(out, "{}", learnt_text(learning, UnitSystem::Metric))?;
    }
    Ok(())
}

/// Most beliefs, and most questions about materials, told at once.
const MOST_TOLD: (usize, usize) = (3, 2);

/// Tells what is known of the beliefs that fit the words best.
fn tell_beliefs(words: &str, out: &mut impl Write) -> Result<(), Failure> {
    let trials = Trial::ready().map_err(bad)?;
    if words.trim().is_empty() {
        return Ok(write!(out, "{}", beliefs_list(&trials))?);
    }
    let questions = questions().map_err(bad)?;
    let beliefs: Vec<&Trial> = find(&trials, words)
        .into_iter()
        .take(MOST_TOLD.0)
        .filter_map(|place| trials.get(place))
        .collect();
    let asked: Vec<&MaterialQuestion> = find_questions(&questions, words)
        .into_iter()
        .take(MOST_TOLD.1)
        .filter_map(|place| questions.get(place))
        .collect();
    Ok(write!(out, "{}", beliefs_text(&beliefs, &asked))?)
}

/// Refuses to write what is not a project over one.
fn refuse_project_as_target(source: &Path, target: &Path, what: WrittenOut) -> Result<(), Failure> {
    let same = match (fs::canonicalize(source), fs::canonicalize(target)) {
        (Ok(source), Ok(target)) => source == target,
        // A target that does not exist yet is not the source.
        _ => false,
    };
    if same || target.to_string_lossy().to_lowercase().ends_with(EXTENSION) {
        return Err(Failure::BadInput(error::over_a_project(
            what,
            &shown(target),
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

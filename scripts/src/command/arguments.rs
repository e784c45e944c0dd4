//! The command line.

use crate::command::options::{Output, Part, Subject, Threads, quantity, whole};
use crate::command::shop::Shop;
use crate::keep::units::Units;
use clap::builder::{PossibleValue, PossibleValuesParser};
use clap::{ArgGroup, Args, Parser, Subcommand, ValueEnum};
use slipsoak_engine::parts::Dimension;
use slipsoak_plots::{Anchor, When};
use std::path::PathBuf;

/// Thermal and wear life of small dry centrifugal clutches.
///
/// Results are estimates for comparing machines; they approve nothing. Exit status: 0 success, 1 wrong script or value, or
/// result not writable, 2 wrong command line.
#[derive(Debug, Parser)]
#[command(name = "slipsoak", version, term_width = 80)]
pub struct Arguments {
    /// remedy
    #[command(subcommand)]
    pub command: Command,
}

/// The commands.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Fill a new folder with scripts, machines, springs and data to begin with
    Begin {
        /// the folder to make (its parent must exist)
        folder: PathBuf,
    },
    /// Run a script: every machine under every duty
    Run(Run),
    /// Join the journals of all parts of a fleet or sweep into its result
    Gather(Gather),
    /// Check a script without simulating: words, values, parts, plan
    Check(Check),
    /// List the words of the script language, or explain one
    Words {
        /// the word to explain
        word: Option<String>,
    },
    /// List the terms of the trade with their meanings
    Terms {
        /// only terms with this word
        word: Option<String>,
    },
    /// Print a machine as a parts file with every setting, to copy and change
    #[command(name = "part", mut_arg("part", |part| part.required(false).default_value("example")))]
    Whole(Part),
    /// Print the sheet of one machine: speeds, capacity, gaps, oil, one launch
    Sheet(Sheet),
    /// Learn wear, leakage and heat constants from worn parts and thermocouple logs
    Calibrate(Calibrate),
    /// Follow a recorded ride: clean it, and give the slip energy of each launch
    Retrace(Retrace),
    /// The shop's questions
    #[command(flatten)]
    Shop(Shop),
    /// Say what differs between two saved results of one kind: answer, machines, settings, numbers
    Compare(Compare),
    /// Draw figures from a saved result
    Draw(Draw),
    /// Write a saved result as a single HTML page to share
    Report(Report),
    /// List every setting of a machine with its range and the confidence in its default
    Settings {
        /// only this group, such as vehicle
        group: Option<String>,
    },
    /// Print the JSON schema of a result, of a parts file or of a stock of springs
    Schema {
        /// which document
        #[arg(default_value = "record", value_parser = documents())]
        of: String,
    },
    /// Print the completions of a shell, to be read when it starts
    Completions {
        /// which shell
        shell: clap_complete::Shell,
    },
    /// Print the manual page of the program or of one command, for `man -l`
    Manual {
        /// which command
        command: Option<String>,
    },
}

/// Run a script.
#[derive(Debug, Args)]
pub struct Run {
    /// the script and its parameters
    #[command(flatten)]
    pub subject: Subject,
    /// output of the result
    #[command(flatten)]
    pub output: Output,
    /// threads
    #[command(flatten)]
    pub threads: Threads,
    /// units of the tables of runs (CSV): si K, rad/s, m/s, m, kg; metric °C, rpm, km/h, µm, mg; imperial °F, rpm, mph, thou,
    /// mg, lbf·ft; the head of each column says its unit
    #[arg(long, value_enum, default_value = "si", hide_possible_values = true, requires = "out")]
    pub units: Units,
    /// simulate every block of a repeated duty instead of skipping similar ones: slow, for checking
    #[arg(long)]
    pub no_skip: bool,
    /// run only part K of N of a fleet or sweep, into its own journal beside --out; `gather` joins the parts
    #[arg(long, value_name = "K/N", value_parser = part, requires = "out", conflicts_with_all = ["report", "json"])]
    pub share: Option<(u64, u64)>,
}

/// Check a script.
#[derive(Debug, Args)]
pub struct Check {
    /// the script and its parameters
    #[command(flatten)]
    pub subject: Subject,
    /// write the script with the corrected lines into this new file
    #[arg(long, value_name = "NEW.rhai")]
    pub corrected: Option<PathBuf>,
}

/// Join the parts of a fleet or sweep.
#[derive(Debug, Args)]
#[command(group(ArgGroup::new("whole").args(["out"]).required(true)))]
pub struct Gather {
    /// the script and its parameters
    #[command(flatten)]
    pub subject: Subject,
    /// the journals of all parts
    #[arg(required = true)]
    pub journals: Vec<PathBuf>,
    /// output of the result
    #[command(flatten)]
    pub output: Output,
    /// give this if the parts were run with --no-skip
    #[arg(long)]
    pub no_skip: bool,
}

/// Print the sheet of one machine.
#[derive(Debug, Args)]
pub struct Sheet {
    /// the machine
    #[command(flatten)]
    pub machine: Part,
    /// form of the result
    #[command(flatten)]
    pub output: Output,
}

/// Learn constants from worn parts and logs. The script's first machine and its duties are those of the clutches: inspections
/// belong to a repeated duty, logs to one that is not repeated.
#[derive(Debug, Args)]
pub struct Calibrate {
    /// the script and its parameters
    #[command(flatten)]
    pub subject: Subject,
    /// inspections: CSV with `clutch`, `hours [h]` (hour meter) or `launches`, and any of washer, bushing, lining, engagement,
    /// spring, weight, drop (with drag), spin-down (with spun, warm), charring, each with its unit, as in `washer [thou] ± 0.4`;
    /// `duty` where there are several; may be repeated
    #[arg(long, value_name = "FILE.csv")]
    pub inspections: Vec<PathBuf>,
    /// thermocouples: CSV with `time [s]` from the start of the duty and nodes such as `bushing [°C]`; may be repeated
    #[arg(long = "log", value_name = "FILE.csv")]
    pub logs: Vec<PathBuf>,
    /// the duty that was logged, if it is not the first unrepeated one
    #[arg(long, value_name = "NAME", requires = "logs")]
    pub log_duty: Option<String>,
    /// learn this constant instead of those suggested by the columns; may be repeated
    #[arg(long, value_name = "SETTING")]
    pub fit: Vec<String>,
    /// only compare the machine as it is with the readings, and fit nothing
    #[arg(long, conflicts_with_all = ["fit", "forecast", "out", "report", "json"])]
    pub compare: bool,
    /// treatment of running-in wear
    #[arg(long, value_enum, default_value = "fit")]
    pub running_in: RunningIn,
    /// time constant of running-in, in running time
    #[arg(long, value_name = "TIME", default_value = "5 h", allow_hyphen_values = true)]
    pub running_in_time: String,
    /// number of searches from different starts
    #[arg(long, value_name = "N", default_value = "2", value_parser = whole::<u64, 1, 100>, allow_hyphen_values = true)]
    pub searches: u64,
    /// seed of their starts, and of the clutches of --forecast
    #[arg(long, default_value = "1", value_parser = whole::<u64, 0, { u64::MAX }>, allow_hyphen_values = true)]
    pub seed: u64,
    /// also forecast the lives of this many clutches with the old and the new constants
    #[arg(long, value_name = "CLUTCHES", value_parser = whole::<u64, 1, 1000>, allow_hyphen_values = true)]
    pub forecast: Option<u64>,
    /// output of the result
    #[command(flatten)]
    pub output: Output,
    /// threads
    #[command(flatten)]
    pub threads: Threads,
}

/// Treatment of running-in wear.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub enum RunningIn {
    /// estimate it too
    Fit,
    /// ignore readings earlier than 3 times the running-in time
    Drop,
}

/// Follow a recorded ride.
#[derive(Debug, Args)]
pub struct Retrace {
    /// speeds: CSV with `time [s]` and `speed [km/h]`, or a GPX 1.1 track with times
    pub recording: PathBuf,
    /// a parts file, or `example` for the built-in machine
    #[arg(long, value_name = "PART", default_value = "example")]
    pub machine: PathBuf,
    /// change a setting: --set "vehicle.ratio=5.2"; may be repeated
    #[arg(long = "set", value_name = "PATH=VALUE", value_parser = quantity)]
    pub settings: Vec<(String, String)>,
    /// output of the result
    #[command(flatten)]
    pub output: Output,
}

/// Say what differs between two saved results.
#[derive(Debug, Args)]
pub struct Compare {
    /// a JSON result, or the folder that holds one
    pub first: PathBuf,
    /// another of the same kind
    pub second: PathBuf,
    /// also write it as a page to this file (its folder must exist)
    #[arg(long, value_name = "FILE.html")]
    pub out: Option<PathBuf>,
    /// replace that file
    #[arg(long, requires = "out")]
    pub replace: bool,
    /// print every number that differs
    #[arg(long)]
    pub details: bool,
}

/// Draw figures from a saved result.
#[derive(Debug, Args)]
pub struct Draw {
    /// a JSON result of an earlier run
    pub record: PathBuf,
    /// write the figures into this folder (its parent must exist)
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// only this figure; may be repeated
    #[arg(long = "figure", value_name = "NAME")]
    pub figures: Vec<String>,
    /// pictures of the clutch at this time instead of the recorded moments: --at "12 min", --at "stop + 10 min" (start, launch,
    /// hottest, stop, last stop, end); may be repeated
    #[arg(long = "at", value_name = "TIME", value_parser = when, allow_hyphen_values = true)]
    pub at: Vec<When>,
    /// figures over time begin at this time: --from "stop - 1 min"
    #[arg(long, value_name = "TIME", value_parser = when, allow_hyphen_values = true)]
    pub from: Option<When>,
    /// figures over time end at this time: --to "stop + 30 min"
    #[arg(long, value_name = "TIME", value_parser = when, allow_hyphen_values = true)]
    pub to: Option<When>,
    /// figures with a panel for each run show this run, machine or duty, instead of the longest-lived, the reference and
    /// the shortest-lived: --of "1600 rpm"; may be repeated
    #[arg(long = "of", value_name = "NAME")]
    pub of: Vec<String>,
    /// write figures as SVG alone, which takes less time
    #[arg(long)]
    pub svg_only: bool,
    /// for a dark background
    #[arg(long)]
    pub dark: bool,
    /// width of a figure, px (the PNG is twice as wide); up to 720 the layout is for a printed column, with letters of 6 pt at 80 mm
    #[arg(long, value_name = "PX", default_value_t = 960, value_parser = whole::<u32, 400, 4000>, allow_hyphen_values = true)]
    pub width: u32,
    /// temperatures in °F instead of °C
    #[arg(long)]
    pub fahrenheit: bool,
    /// title instead of the figure's own; "" for none
    #[arg(long, value_name = "TEXT")]
    pub title: Option<String>,
    /// caption instead of the source and the constants that the result depends on; "" for neither caption nor notes
    #[arg(long, value_name = "TEXT")]
    pub caption: Option<String>,
}

/// Write the page of a saved result.
#[derive(Debug, Args)]
pub struct Report {
    /// a JSON result of an earlier run
    pub result: PathBuf,
    /// write the page to this file (its folder must exist)
    #[arg(long, value_name = "FILE.html")]
    pub out: PathBuf,
    /// replace that file
    #[arg(long)]
    pub replace: bool,
}

/// The documents that have a schema.
fn documents() -> PossibleValuesParser {
    crate::read::saved::schemas().map(|(name, meaning)| PossibleValue::new(name).help(meaning)).into()
}

fn part(text: &str) -> Result<(u64, u64), String> {
    let numbers = text.split_once('/').and_then(|(k, n)| Some((k.trim().parse().ok()?, n.trim().parse().ok()?)));
    match numbers {
        Some((k, n)) if 1 <= k && k <= n && n <= crate::keep::heading::PARTS => Ok((k, n)),
        _ => Err("write K/N with 1 ≤ K ≤ N, as in 3/16".to_owned()),
    }
}

/// A time of a run: `12 min` since the start, `stop`, or `stop + 10 min`.
fn when(text: &str) -> Result<When, String> {
    for (word, sign) in [(" after ", "+"), (" before ", "-")] {
        if let Some((length, event)) = text.split_once(word) {
            return when(&format!("{} {sign} {length}", event.trim().trim_start_matches("the ")));
        }
    }
    let text = text.trim();
    let begins =
        |event: &&Anchor| text.get(..event.name().len()).is_some_and(|head| head.eq_ignore_ascii_case(event.name()));
    let seconds =
        |text: &str| crate::read::quantity::read_near(text, Dimension::Time, Some(600.0)).map_err(|e| e.to_string());
    let unknown = || {
        let events: Vec<&str> = Anchor::ALL.iter().map(|event| event.name()).collect();
        format!(
            "a time counts from the start, \"12 min\", or from an event, \"stop + 10 min\"; events: {}",
            events.join(", ")
        )
    };
    let Some(event) = Anchor::ALL.iter().find(begins) else {
        return match seconds(text) {
            Ok(time) if time < 0.0 => Err("a time of the duty counts from its start, from 0 s on".to_owned()),
            Err(_) if text.starts_with(|c: char| c.is_alphabetic()) => Err(unknown()),
            read => read.map(When::since_start),
        };
    };
    let rest = text[event.name().len()..].trim_start();
    let signs = [("+", 1.0), ("-", -1.0), ("−", -1.0)];
    let after = match signs.iter().find_map(|(sign, by)| Some((rest.strip_prefix(sign)?, by))) {
        None if rest.is_empty() => 0.0,
        None => return Err(unknown()),
        Some((length, by)) => by * seconds(length.trim())?,
    };
    Ok(When { anchor: *event, after })
}

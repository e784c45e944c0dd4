//! The command line.

use crate::command::calibrate::arguments::Calibrate;
use crate::command::draw_arguments::Draw;
use crate::command::options::{Output, Part, Subject, Threads, quantity};
use crate::command::shop::Shop;
use crate::keep::units::Units;
use clap::builder::{PossibleValue, PossibleValuesParser};
use clap::{ArgGroup, Args, Parser, Subcommand};
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
    crate::read::schemas::names().map(|(name, meaning)| PossibleValue::new(name).help(meaning)).into()
}

fn part(text: &str) -> Result<(u64, u64), String> {
    let numbers = text.split_once('/').and_then(|(k, n)| Some((k.trim().parse().ok()?, n.trim().parse().ok()?)));
    match numbers {
        Some((k, n)) if 1 <= k && k <= n && n <= crate::keep::heading::PARTS => Ok((k, n)),
        _ => Err("write K/N with 1 ≤ K ≤ N, as in 3/16".to_owned()),
    }
}

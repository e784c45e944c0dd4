//! The command line.

use clap::{Args, Parser, Subcommand};
use std::path::PathBuf;

/// Thermal and wear life of small dry centrifugal clutches.
///
/// Results are estimates for comparing variants, not approvals. Exit codes: 0 it ran, 1 the script or a value is wrong
/// or the result cannot be written, 2 the command line is wrong.
#[derive(Debug, Parser)]
#[command(name = "slipsoak", version, max_term_width = 100)]
pub struct Arguments {
    /// what to do
    #[command(subcommand)]
    pub command: Command,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Run a script: every variant under every duty
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
    /// Print the sheet of one machine: speeds, capacity, gaps, oil, one launch
    Sheet(Sheet),
    /// Learn wear, leak and heat constants from worn parts and thermocouple logs
    Calibrate(Calibrate),
    /// Follow a recorded ride: clean it, count its launches and what each costs the lining
    Retrace(Retrace),
    /// Draw figures from a saved result
    Draw(Draw),
    /// Write a saved result as one page to pass on
    Report(Report),
    /// List every setting of a machine with its range and how sure its default is
    Settings,
    /// Print the JSON schema of a result
    Schema {
        /// of which
        #[arg(value_enum, default_value = "record")]
        of: Kind,
    },
}

/// A kind of result.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub enum Kind {
    /// record.json: runs
    Record,
    /// fleet.json: clutches that differ
    Fleet,
    /// sweep.json: settings crossed
    Sweep,
    /// influence.json: what matters most
    Influence,
    /// calibration.json: learned constants, for scripts
    Calibration,
    /// told.json: all that is told of learned constants
    Told,
    /// retraced.json: a recorded ride
    Retraced,
}

/// Run a script.
#[derive(Debug, Args)]
#[allow(clippy::struct_excessive_bools)] // flags of a command line
pub struct Run {
    /// the script, a .rhai file
    pub script: PathBuf,
    /// give a parameter of the script another value; may be repeated
    #[arg(long = "set", value_name = "NAME=VALUE", value_parser = setting)]
    pub settings: Vec<(String, f64)>,
    /// write record, channels and figures into this folder (its parent must exist)
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// replace an earlier result in that folder
    #[arg(long, requires = "out")]
    pub replace: bool,
    /// run so many variants at once; the result does not depend on it
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    pub threads: Option<u16>,
    /// run every block of a repeated duty in full: slow, and how skipping is judged
    #[arg(long)]
    pub no_skip: bool,
    /// run only part K of N of a fleet or sweep, into its own journal beside --out; `gather` joins the parts
    #[arg(long, value_name = "K/N", value_parser = part, requires = "out")]
    pub share: Option<(u64, u64)>,
    /// write no figures
    #[arg(long)]
    pub no_pictures: bool,
    /// write report.html, one page with everything, into the folder too
    #[arg(long, requires = "out", conflicts_with = "share")]
    pub report: bool,
    /// print the record, or the fleet's report, as JSON instead of a table
    #[arg(long, conflicts_with = "share")]
    pub json: bool,
    /// print errors only
    #[arg(long)]
    pub quiet: bool,
}

/// Join the parts of a fleet or sweep.
#[derive(Debug, Args)]
#[allow(clippy::struct_excessive_bools)] // flags of a command line
pub struct Gather {
    /// the script that was run
    pub script: PathBuf,
    /// the journals of all parts
    #[arg(required = true)]
    pub journals: Vec<PathBuf>,
    /// give a parameter of the script another value, as in the runs; may be repeated
    #[arg(long = "set", value_name = "NAME=VALUE", value_parser = setting)]
    pub settings: Vec<(String, f64)>,
    /// write the result into this folder (its parent must exist)
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// replace an earlier result in that folder
    #[arg(long)]
    pub replace: bool,
    /// every block was run
    #[arg(long)]
    pub no_skip: bool,
    /// write report.html, one page with everything, into the folder too
    #[arg(long)]
    pub report: bool,
    /// write no figures
    #[arg(long)]
    pub no_pictures: bool,
}

/// Check a script.
#[derive(Debug, Args)]
pub struct Check {
    /// the script, a .rhai file
    pub script: PathBuf,
    /// give a parameter of the script another value; may be repeated
    #[arg(long = "set", value_name = "NAME=VALUE", value_parser = setting)]
    pub settings: Vec<(String, f64)>,
}

/// Print the sheet of one machine.
#[derive(Debug, Args)]
pub struct Sheet {
    /// a parts file, or `standard` for the built-in machine
    pub part: PathBuf,
    /// print JSON in SI units
    #[arg(long)]
    pub json: bool,
    /// change a setting: --set "clutch.engagement=1700 rpm"; may be repeated
    #[arg(long = "set", value_name = "PATH=VALUE", value_parser = quantity)]
    pub settings: Vec<(String, String)>,
}

/// Learn constants from worn parts and logs. The script's first machine and its duties say what the clutches went through:
/// inspections go with a repeated duty, logs with one that is not.
#[allow(clippy::struct_excessive_bools)] // flags of a command line
#[derive(Debug, Args)]
pub struct Calibrate {
    /// the script, a .rhai file
    pub script: PathBuf,
    /// inspections: CSV with `clutch`, `hours [h]` (hour meter) or `launches`, and any of washer, bushing, lining, engagement,
    /// weight, each with its unit, as in `washer [thou] ± 0.4`; `duty` where there are several; may be repeated
    #[arg(long, value_name = "FILE.csv")]
    pub inspections: Vec<PathBuf>,
    /// thermocouples: CSV with `time [s]` from the start of the duty and nodes such as `bushing [°C]`; may be repeated
    #[arg(long = "log", value_name = "FILE.csv")]
    pub logs: Vec<PathBuf>,
    /// the duty that was logged, if it is not the first unrepeated one
    #[arg(long, value_name = "NAME", requires = "logs")]
    pub log_duty: Option<String>,
    /// learn this constant instead of what the columns suggest; may be repeated
    #[arg(long, value_name = "SETTING")]
    pub fit: Vec<String>,
    /// what running in takes is fitted, or readings before three times its time are dropped
    #[arg(long, default_value = "fit", value_parser = ["fit", "drop"])]
    pub running_in: String,
    /// running time in which running-in fades by a factor e
    #[arg(long, value_name = "TIME", default_value = "5 h")]
    pub running_in_time: String,
    /// searches from different starts
    #[arg(long, value_name = "N", default_value = "2", value_parser = clap::value_parser!(u64).range(1..=100))]
    pub searches: u64,
    /// seed of their starts, and of the clutches of --forecast
    #[arg(long, default_value = "1")]
    pub seed: u64,
    /// lives of so many clutches before and after: how far the forecast narrows
    #[arg(long, value_name = "CLUTCHES", value_parser = clap::value_parser!(u64).range(1..=1000))]
    pub forecast: Option<u64>,
    /// give a parameter of the script another value; may be repeated
    #[arg(long = "set", value_name = "NAME=VALUE", value_parser = setting)]
    pub settings: Vec<(String, f64)>,
    /// write calibration.json, told.json and the figures into this folder (its parent must exist)
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// replace an earlier result in that folder
    #[arg(long, requires = "out")]
    pub replace: bool,
    /// write report.html, one page with everything, into the folder too
    #[arg(long, requires = "out")]
    pub report: bool,
    /// write no figures
    #[arg(long)]
    pub no_pictures: bool,
    /// print JSON in SI units
    #[arg(long)]
    pub json: bool,
    /// run so many machines at once; the result does not depend on it
    #[arg(long, value_name = "N", value_parser = clap::value_parser!(u16).range(1..=256))]
    pub threads: Option<u16>,
}

/// Follow a recorded ride.
#[allow(clippy::struct_excessive_bools)] // flags of a command line
#[derive(Debug, Args)]
pub struct Retrace {
    /// speeds: CSV with `time [s]` and `speed [km/h]`, or a GPX 1.1 track with times
    pub recording: PathBuf,
    /// a parts file, or `standard` for the built-in machine
    #[arg(long, value_name = "PART", default_value = "standard")]
    pub machine: PathBuf,
    /// change a setting: --set "vehicle.ratio=5.2"; may be repeated
    #[arg(long = "set", value_name = "PATH=VALUE", value_parser = quantity)]
    pub settings: Vec<(String, String)>,
    /// write retraced.json, cleaned.csv and the figure into this folder (its parent must exist)
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// replace an earlier result in that folder
    #[arg(long, requires = "out")]
    pub replace: bool,
    /// write report.html, one page with everything, into the folder too
    #[arg(long, requires = "out")]
    pub report: bool,
    /// write no figures
    #[arg(long)]
    pub no_pictures: bool,
    /// print JSON in SI units
    #[arg(long)]
    pub json: bool,
}

/// Draw figures from a saved result.
#[derive(Debug, Args)]
pub struct Draw {
    /// record.json, fleet.json, sweep.json, influence.json, told.json or retraced.json of an earlier run
    pub record: PathBuf,
    /// write the figures into this folder (its parent must exist)
    #[arg(long, value_name = "DIR")]
    pub out: PathBuf,
    /// only this figure; may be repeated
    #[arg(long = "figure", value_name = "NAME")]
    pub figures: Vec<String>,
    /// on a dark ground
    #[arg(long)]
    pub dark: bool,
    /// width of a figure, px; its PNG has twice as many
    #[arg(long, value_name = "PX", default_value_t = 960, value_parser = clap::value_parser!(u32).range(480..=4000))]
    pub width: u32,
    /// a title in place of the study's
    #[arg(long, value_name = "TEXT")]
    pub title: Option<String>,
    /// a caption in place of the source and the constants that the result leans on; "" for none
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

fn part(text: &str) -> Result<(u64, u64), String> {
    let numbers = text.split_once('/').and_then(|(k, n)| Some((k.trim().parse().ok()?, n.trim().parse().ok()?)));
    match numbers {
        Some((k, n)) if 1 <= k && k <= n && n <= 100_000 => Ok((k, n)),
        _ => Err("write K/N with 1 ≤ K ≤ N, as in 3/16".to_owned()),
    }
}

fn quantity(text: &str) -> Result<(String, String), String> {
    let (name, value) = text.split_once('=').ok_or("write NAME=VALUE, with an equals sign")?;
    Ok((name.trim().to_owned(), value.trim().to_owned()))
}

fn setting(text: &str) -> Result<(String, f64), String> {
    let (name, value) = quantity(text)?;
    let number = value.parse::<f64>().ok().filter(|v| v.is_finite());
    Ok((name, number.ok_or_else(|| format!("`{value}` is not a finite number"))?))
}

//! The command line.

use clap::builder::{PossibleValue, PossibleValuesParser};
use clap::{ArgGroup, Args, Parser, Subcommand};
use slipsoak_engine::parts::Dimension;
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
    /// Print the sheet of one machine: speeds, capacity, gaps, oil, one launch
    Sheet(Sheet),
    /// Learn wear, leakage and heat constants from worn parts and thermocouple logs
    Calibrate(Calibrate),
    /// Follow a recorded ride: clean it, and give the slip energy of each launch
    Retrace(Retrace),
    /// Choose a spring: judge every spring of a stock on one machine
    Choose(Box<Choose>),
    /// Stack up the gap between drum and cover, with the hours until the washer is due and until they touch
    Gaps(Gaps),
    /// Plan the oiling: interval, drops, habits, effects of too much and of the wrong oil
    Oiling(Oiling),
    /// Draw figures from a saved result
    Draw(Draw),
    /// Write a saved result as a single HTML page to share
    Report(Report),
    /// List every setting of a machine with its range and the confidence in its default
    Settings,
    /// Print the JSON schema of a result or of a stock of springs
    Schema {
        /// which document
        #[arg(default_value = "record", value_parser = documents())]
        of: String,
    },
}

/// Run a script.
#[derive(Debug, Args)]
pub struct Run {
    /// the script, a .rhai file
    pub script: PathBuf,
    /// give a parameter of the script another value; may be repeated
    #[arg(long = "set", value_name = "NAME=VALUE", value_parser = setting)]
    pub settings: Vec<(String, f64)>,
    /// output of the result
    #[command(flatten)]
    pub output: Output,
    /// number of threads; does not change the result
    #[arg(long, value_name = "N", value_parser = whole::<u16, 1, 256>, allow_hyphen_values = true)]
    pub threads: Option<u16>,
    /// simulate every block of a repeated duty instead of skipping similar ones: slow, for checking
    #[arg(long)]
    pub no_skip: bool,
    /// run only part K of N of a fleet or sweep, into its own journal beside --out; `gather` joins the parts
    #[arg(long, value_name = "K/N", value_parser = part, requires = "out", conflicts_with_all = ["report", "json"])]
    pub share: Option<(u64, u64)>,
}

/// Join the parts of a fleet or sweep.
#[derive(Debug, Args)]
#[command(group(ArgGroup::new("whole").args(["out"]).required(true)))]
pub struct Gather {
    /// the script that was run
    pub script: PathBuf,
    /// the journals of all parts
    #[arg(required = true)]
    pub journals: Vec<PathBuf>,
    /// give a parameter of the script another value, as in the runs; may be repeated
    #[arg(long = "set", value_name = "NAME=VALUE", value_parser = setting)]
    pub settings: Vec<(String, f64)>,
    /// output of the result
    #[command(flatten)]
    pub output: Output,
    /// give this if the parts were run with --no-skip
    #[arg(long)]
    pub no_skip: bool,
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
    /// the machine
    #[command(flatten)]
    pub machine: Part,
    /// form of the result
    #[command(flatten)]
    pub output: Output,
}

/// A machine on the command line.
#[derive(Debug, Args)]
pub struct Part {
    /// a parts file, or `example` for the built-in machine
    pub part: PathBuf,
    /// change a setting: --set "clutch.engagement=1700 rpm"; may be repeated
    #[arg(long = "set", value_name = "PATH=VALUE", value_parser = quantity)]
    pub settings: Vec<(String, String)>,
}

/// Output of a result.
#[derive(Debug, Default, Args)]
#[allow(clippy::struct_excessive_bools)] // flags of a command line
pub struct Output {
    /// write the result as JSON with its tables and figures into this folder (its parent must exist)
    #[arg(long, value_name = "DIR")]
    pub out: Option<PathBuf>,
    /// replace an earlier result in that folder; refused if the folder contains other files
    #[arg(long, requires = "out")]
    pub replace: bool,
    /// also write report.html, a single page with everything
    #[arg(long, requires = "out")]
    pub report: bool,
    /// write no figures
    #[arg(long)]
    pub no_pictures: bool,
    /// print JSON in SI units, a result a line
    #[arg(long)]
    pub json: bool,
    /// print errors only
    #[arg(long)]
    pub quiet: bool,
    /// print everything but the figures: every warning and caution, all columns, what was assumed
    #[arg(long, conflicts_with_all = ["json", "quiet"])]
    pub details: bool,
}

/// Choose a spring.
#[derive(Debug, Args)]
pub struct Choose {
    /// the machine
    #[command(flatten)]
    pub machine: Part,
    /// true idle speed, measured on the warm motor [default: the machine's]
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub idle: Option<String>,
    /// idle variation to either side [default: 75 rpm]
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub wander: Option<String>,
    /// rated power, from which a torque curve is sketched instead of the machine's
    #[arg(long, value_name = "POWER", requires = "rated", allow_hyphen_values = true)]
    pub power: Option<String>,
    /// speed of the rated power
    #[arg(long, value_name = "SPEED", requires = "power", allow_hyphen_values = true)]
    pub rated: Option<String>,
    /// steepest slope for a start, such as "4 %" [default: level]
    #[arg(long, value_name = "SLOPE", allow_hyphen_values = true)]
    pub grade: Option<String>,
    /// load in addition to the machine's own mass, such as "60 kg"
    #[arg(long, value_name = "MASS", allow_hyphen_values = true)]
    pub load: Option<String>,
    /// the use
    #[arg(long = "use", value_name = "NAME", default_value = "moderate", help = used_for())]
    pub usage: String,
    /// a slow speed that is held, such as "10 km/h"
    #[arg(long, value_name = "SPEED", allow_hyphen_values = true)]
    pub crawl: Option<String>,
    /// time over which the springs relax [default: 300 h]
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub season: Option<String>,
    /// the springs to choose from, a JSON file [default: our own, invented, 1600 to 3000 rpm]
    #[arg(long, value_name = "FILE")]
    pub stock: Option<PathBuf>,
    /// output of the answer
    #[command(flatten)]
    pub output: Output,
    /// number of threads; does not change the answer
    #[arg(long, value_name = "N", value_parser = whole::<u16, 1, 256>, allow_hyphen_values = true)]
    pub threads: Option<u16>,
}

/// Stack up the gap.
#[derive(Debug, Args)]
pub struct Gaps {
    /// the machine
    #[command(flatten)]
    pub machine: Part,
    /// height of the bushing proud of the sprocket, such as "65 thou ± 5 thou" or "0.065 in +- 0.005 in"
    #[arg(long, value_name = "SIZE ± TOLERANCE", allow_hyphen_values = true)]
    pub proud: Option<String>,
    /// thickness of the washer, such as "30 thou ± 3 thou"
    #[arg(long, value_name = "SIZE ± TOLERANCE", allow_hyphen_values = true)]
    pub washer: Option<String>,
    /// distance of the cover's face behind the plane of the bushing's seat; negative if it is closer to the drum [default:
    /// flush]
    #[arg(long, value_name = "SIZE ± TOLERANCE", allow_hyphen_values = true)]
    pub cover: Option<String>,
    /// the use
    #[arg(long = "use", value_name = "NAME", default_value = "moderate", help = used_for())]
    pub usage: String,
    /// seed of the sampled assemblies
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = whole::<u64, 0, { u64::MAX }>, allow_hyphen_values = true)]
    pub seed: u64,
    /// number of assemblies to sample
    #[arg(long, value_name = "N", default_value_t = 10_000, value_parser = whole::<u64, 100, 1_000_000>, allow_hyphen_values = true)]
    pub assemblies: u64,
    /// output of the answer
    #[command(flatten)]
    pub output: Output,
    /// number of threads; does not change the answer
    #[arg(long, value_name = "N", value_parser = whole::<u16, 1, 256>, allow_hyphen_values = true)]
    pub threads: Option<u16>,
}

/// Plan the oiling.
#[derive(Debug, Args)]
pub struct Oiling {
    /// the machine
    #[command(flatten)]
    pub machine: Part,
    /// the use
    #[arg(long = "use", value_name = "NAME", default_value = "moderate", help = used_for())]
    pub usage: String,
    /// riding of one outing [default: 40 min]
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub riding: Option<String>,
    /// rest after it [default: until a day after it began]
    #[arg(long, value_name = "TIME", allow_hyphen_values = true)]
    pub rest: Option<String>,
    /// drops of one service
    #[arg(long, value_name = "N", default_value_t = 4.0, value_parser = drops, allow_hyphen_values = true)]
    pub drops: f64,
    /// oil fill of the bushing at which habits are compared, such as "85 %"
    #[arg(long, value_name = "SHARE", allow_hyphen_values = true)]
    pub found: Option<String>,
    /// grease in the grooves to compare with none, by its oil volume [default: 0.5 mL]
    #[arg(long, value_name = "VOLUME", allow_hyphen_values = true)]
    pub grease: Option<String>,
    /// output of the answer
    #[command(flatten)]
    pub output: Output,
    /// number of threads; does not change the answer
    #[arg(long, value_name = "N", value_parser = whole::<u16, 1, 256>, allow_hyphen_values = true)]
    pub threads: Option<u16>,
}

/// Learn constants from worn parts and logs. The script's first machine and its duties are those of the clutches: inspections
/// belong to a repeated duty, logs to one that is not repeated.
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
    /// learn this constant instead of those suggested by the columns; may be repeated
    #[arg(long, value_name = "SETTING")]
    pub fit: Vec<String>,
    /// fit: estimate running-in wear too; drop: ignore readings earlier than 3 times the running-in time
    #[arg(long, default_value = "fit", value_parser = ["fit", "drop"])]
    pub running_in: String,
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
    /// give a parameter of the script another value; may be repeated
    #[arg(long = "set", value_name = "NAME=VALUE", value_parser = setting)]
    pub settings: Vec<(String, f64)>,
    /// output of the result
    #[command(flatten)]
    pub output: Output,
    /// number of threads; does not change the result
    #[arg(long, value_name = "N", value_parser = whole::<u16, 1, 256>, allow_hyphen_values = true)]
    pub threads: Option<u16>,
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
    /// cutaway at this time of the duty instead of the recorded moments: --at "12 min"; may be
    /// repeated
    #[arg(long = "at", value_name = "TIME", value_parser = time, allow_hyphen_values = true)]
    pub at: Vec<f64>,
    /// for a dark background
    #[arg(long)]
    pub dark: bool,
    /// width of a figure, px (the PNG is twice as wide); up to 720 the layout is for a printed column, with letters of 6 pt at 80 mm
    #[arg(long, value_name = "PX", default_value_t = 960, value_parser = whole::<u32, 400, 4000>, allow_hyphen_values = true)]
    pub width: u32,
    /// title instead of the study's
    #[arg(long, value_name = "TEXT")]
    pub title: Option<String>,
    /// caption instead of the source and the constants that the result depends on; "" for none
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

/// A whole number between two bounds.
fn whole<T: TryFrom<u64>, const LEAST: u64, const MOST: u64>(text: &str) -> Result<T, String> {
    let number = text.trim().parse::<u64>().ok().filter(|number| (LEAST..=MOST).contains(number));
    let range = if MOST == u64::MAX { format!("from {LEAST} on") } else { format!("from {LEAST} to {MOST}") };
    number.and_then(|number| T::try_from(number).ok()).ok_or_else(|| format!("a whole number is wanted here, {range}"))
}

/// A number of drops.
fn used_for() -> String {
    format!("what it is used for: {}", slipsoak_plots::words::uses::all())
}

fn drops(text: &str) -> Result<f64, String> {
    let number = text.trim().trim_end_matches("drops").trim_end_matches("drop").trim();
    let read = number.parse::<f64>().ok().filter(|drops| drops.is_finite());
    read.ok_or_else(|| "a number of drops is wanted here, such as 4 or 4.5, with a decimal point".to_owned())
}

/// The documents that have a schema.
fn documents() -> PossibleValuesParser {
    crate::read::saved::schemas().map(|(name, meaning)| PossibleValue::new(name).help(meaning)).into()
}

fn part(text: &str) -> Result<(u64, u64), String> {
    let numbers = text.split_once('/').and_then(|(k, n)| Some((k.trim().parse().ok()?, n.trim().parse().ok()?)));
    match numbers {
        Some((k, n)) if 1 <= k && k <= n && n <= crate::keep::journal::PARTS => Ok((k, n)),
        _ => Err("write K/N with 1 ≤ K ≤ N, as in 3/16".to_owned()),
    }
}

/// A time, s.
fn time(text: &str) -> Result<f64, String> {
    match crate::read::quantity::read_near(text, Dimension::Time, Some(600.0)) {
        Ok(time) if time < 0.0 => Err("a time of the duty counts from its start, from 0 s on".to_owned()),
        read => read.map_err(|e| e.to_string()),
    }
}

fn quantity(text: &str) -> Result<(String, String), String> {
    let (name, value) = text.split_once('=').ok_or("write NAME=VALUE, with an equals sign")?;
    if value.contains('=') && value.contains([',', ';']) {
        return Err("one setting each: repeat --set for every one".to_owned());
    }
    Ok((name.trim().to_owned(), value.trim().to_owned()))
}

fn setting(text: &str) -> Result<(String, f64), String> {
    let (name, value) = quantity(text)?;
    if let Some(number) = value.parse::<f64>().ok().filter(|v| v.is_finite()) {
        return Ok((name, number));
    }
    let digits = value.find(|c: char| !(c.is_ascii_digit() || ".-".contains(c))).unwrap_or(0);
    let why = match value.split_at(digits) {
        (whole, rest) if !whole.is_empty() && rest.starts_with(',') => {
            format!("`{value}`: write numbers with a decimal point and nothing between thousands")
        }
        (number, unit) if number.parse::<f64>().is_ok() => format!(
            "`{value}` has the unit `{}`, but a parameter of a script is a plain number, in the unit that the script gives it: write {name}={number}",
            unit.trim()
        ),
        _ if value.is_empty() => format!("no value is given: write for example {name}=40"),
        _ => format!("`{value}` is not a finite number"),
    };
    Err(why)
}

//! What `calibrate` takes.

use crate::command::options::{Output, Subject, Threads, whole};
use clap::{Args, ValueEnum};
use std::path::PathBuf;

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

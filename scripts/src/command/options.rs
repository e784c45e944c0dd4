//! What several commands take: a script, a machine, the output of a result, threads; and how their values are read.

use crate::command::terminal::print;
use crate::read::file;
use crate::read::refusal::Refusal;
use crate::read::script::Script;
use clap::Args;
use std::collections::BTreeMap;
use std::path::PathBuf;

/// A script on the command line.
#[derive(Debug, Args)]
pub struct Subject {
    /// the script, a .rhai file
    pub script: PathBuf,
    /// give a parameter of the script another value; may be repeated
    #[arg(long = "set", value_name = "NAME=VALUE", value_parser = setting)]
    pub settings: Vec<(String, f64)>,
}

impl Subject {
    /// Reads the script; its settings by their names.
    pub fn read(&self) -> Result<(Script, BTreeMap<String, f64>), Refusal> {
        let own = file::nearby(&self.script, "duty", ".rhai");
        let script = Script::read(own.as_ref().unwrap_or(&self.script))?;
        match own {
            Some(own) if own != self.script => {
                print(&[format!("note: {} is read from {}", self.script.display(), own.display())]);
            }
            Some(_) => {}
            None => print(&[format!("note: {} is the shipped script; there is no such file here", script.name)]),
        }
        Ok((script, self.settings.iter().cloned().collect()))
    }
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
    /// write figures as SVG alone, which takes less time
    #[arg(long, requires = "out", conflicts_with = "no_pictures")]
    pub svg_only: bool,
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

/// Threads of a command.
#[derive(Debug, Args)]
pub struct Threads {
    /// number of threads; does not change the result
    #[arg(long = "threads", value_name = "N", value_parser = whole::<u16, 1, 256>, allow_hyphen_values = true)]
    pub number: Option<u16>,
}

/// A whole number between two bounds.
pub(crate) fn count(text: &str, least: u64, most: u64) -> Result<u64, String> {
    let range = if most == u64::MAX { format!("from {least} on") } else { format!("from {least} to {most}") };
    let number = text.trim().parse::<u64>().ok().filter(|number| (least..=most).contains(number));
    number.ok_or_else(|| format!("a whole number is wanted here, {range}"))
}

pub(crate) fn whole<T: TryFrom<u64>, const LEAST: u64, const MOST: u64>(text: &str) -> Result<T, String>
where
    T::Error: ToString,
{
    T::try_from(count(text, LEAST, MOST)?).map_err(|e| e.to_string())
}

pub(crate) fn quantity(text: &str) -> Result<(String, String), String> {
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
        (number, unit) if number.parse::<f64>().is_ok() && value.parse::<f64>().is_err() => format!(
            "`{value}` has the unit `{}`, but a parameter of a script is a plain number, in the unit that the script gives it: write {name}={number}",
            unit.trim()
        ),
        _ if value.is_empty() => format!("no value is given: write for example {name}=40"),
        _ => format!("`{value}` is not a finite number: write for example {name}=40"),
    };
    Err(why)
}

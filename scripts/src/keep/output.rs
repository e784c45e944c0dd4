//! Results as JSON, their tables as CSV, and the errors of writing them.

use crate::command::{combinations, ranking};
use crate::read::saved;
use serde::Serialize;
use slipsoak_engine::document::{Kind, Saved};
use slipsoak_engine::fleet::{Gain, Report};
use slipsoak_engine::names::{Channel, Part};
use slipsoak_engine::record::{Record, Run};
use std::fmt::Write as _;
use std::path::PathBuf;
use thiserror::Error;

pub use crate::keep::folder::Folder;
pub(crate) use crate::keep::folder::refused;

/// Reason why nothing was written.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Unwritten {
    /// the folder exists and is not empty
    #[error("{0} exists and is not empty; choose another --out, or add --replace to replace an earlier result")]
    Exists(PathBuf),
    /// the folder for figures exists and is not empty
    #[error("{0} exists and is not empty; choose another --out for the figures")]
    Full(PathBuf),
    /// the file exists
    #[error("{0} exists; choose another --out, or add --replace to replace that file")]
    Taken(PathBuf),
    /// the existing folder is not a result of this program
    #[error(
        "{0} holds no result of this program, so it is no earlier result and is not replaced; choose another --out"
    )]
    NotOurs(PathBuf),
    /// an earlier result holds a foreign file
    #[error(
        "{folder} holds `{name}`, which is no part of a result and would be deleted with it; move that away, or choose another --out"
    )]
    Foreign {
        /// folder
        folder: PathBuf,
        /// name of the foreign file
        name: String,
    },
    /// another run has written to the same place meanwhile
    #[error("another run has written {wanted} meanwhile: that is left as it is, and this result stands in {place}")]
    Overtaken {
        /// wanted place
        wanted: PathBuf,
        /// actual place
        place: PathBuf,
    },
    /// a page whose name does not end in .html
    #[error("{0}: a page is HTML; end its name with .html, and print it to PDF from a browser")]
    NotAPage(PathBuf),
    /// not a folder
    #[error("{0} is not a folder; choose another --out")]
    NotAFolder(PathBuf),
    /// the parent is not a folder
    #[error("{0} is not a folder, so nothing can be put into it; choose another --out")]
    NoParent(PathBuf),
    /// the system reports an error
    #[error(
        "{path} cannot be written: {why}; nothing was left there; make room or get the right to write, or choose another --out"
    )]
    Refused {
        /// path
        path: PathBuf,
        /// reason of the system
        why: String,
    },
    /// a number without a representation in JSON
    #[error("the result of `{run}` holds a number that is not finite ({what}); nothing was written")]
    NotFinite {
        /// variant and duty
        run: String,
        /// place in the result
        what: String,
    },
    /// not a result
    #[error("{path} is not a result of this program: {why}{advice}")]
    NotAResult {
        /// path
        path: PathBuf,
        /// what is wrong
        why: String,
        /// probable cause, and what to do
        advice: &'static str,
    },
    /// a machine or a stock, which is no result
    #[error(
        "{0} is not a result of this program: it holds a machine or a stock, not a result; `slipsoak run SCRIPT --out DIR` writes one"
    )]
    APart(PathBuf),
    /// a calibration without its evidence
    #[error("{0} holds learned constants only, for scripts; take the told.json that was written beside it")]
    ConstantsOnly(PathBuf),
    /// unknown figure
    #[error("there is no figure `{given}`; figures: {known}")]
    Figure {
        /// as given
        given: String,
        /// all figures
        known: String,
    },
    /// a figure that cannot be drawn
    #[error("the figure `{figure}` cannot be drawn: {why}")]
    Undrawn {
        /// figure
        figure: String,
        /// what is wrong
        why: String,
    },
}

impl Unwritten {
    /// 2 if the command line is wrong, 1 if a value is wrong or the system reports an error.
    pub fn exit_code(&self) -> u8 {
        match self {
            Self::NotFinite { .. }
            | Self::NotAResult { .. }
            | Self::Undrawn { .. }
            | Self::Refused { .. }
            | Self::Overtaken { .. } => 1,
            _ => 2,
        }
    }
}

/// The tables of a result as CSV, each with its name.
pub(crate) fn tables(saved: &Saved) -> Vec<(String, String)> {
    let named = |name: &str, text: String| (name.to_owned(), text);
    match saved {
        Saved::Record(record) => {
            let one = |(i, run): (usize, &Run)| {
                let name = slug(&format!("{} {}", run.variant, run.duty));
                (format!("{:02}-{name}.csv", i + 1), table(record, run))
            };
            record.runs.iter().enumerate().map(one).collect()
        }
        Saved::Fleet(report) => {
            let gains = (!report.pairs.is_empty()).then(|| named("gains.csv", gains(report)));
            gains.into_iter().chain([named("clutches.csv", clutches(report))]).collect()
        }
        Saved::Sweep(sweep) => vec![named("sweep.csv", combinations::csv(sweep))],
        Saved::Influence(influences) => vec![named("influence.csv", ranking::csv(influences))],
        Saved::Told(told) => vec![named(Kind::Calibration.file(), json(&told.calibration))],
        _ => vec![],
    }
}

/// Table with a line for each clutch of each fleet.
fn clutches(report: &Report) -> String {
    let heads = ["machine", "duty", "clutch", "running [h]", "end [h]", "first worn out"];
    let heads = heads.into_iter().chain(["oil due running [h]", "oil due [h]", "launches"]);
    let hours = |time: Option<f64>| time.map_or_else(String::new, |t| (t / 3600.0).to_string());
    let clutches = report.fleets.iter().flat_map(|fleet| fleet.outcomes.iter().map(move |o| (fleet, o)));
    let rows = clutches.map(|(fleet, o)| {
        let mut row = vec![cell(&fleet.variant), cell(&fleet.duty), o.clutch.to_string()];
        row.extend([hours(o.running), hours(o.end), o.ended_by.map_or("", Part::name).to_owned()]);
        row.extend([hours(o.service_running), hours(o.service_due), o.launches.to_string()]);
        row
    });
    csv(std::iter::once(heads.map(str::to_owned).collect()).chain(rows))
}

/// Refuses a result with a number that JSON cannot represent, because it would be lost.
pub(crate) fn whole(saved: &Saved) -> Result<(), Unwritten> {
    match saved {
        Saved::Record(record) => record.runs.iter().try_for_each(finite),
        // Each clutch was read back when it was journalled.
        Saved::Fleet(report) => read_back(&report.summary().into()),
        other => read_back(other),
    }
}

/// A result as JSON, readable by people too.
pub fn json<T: Serialize>(value: &T) -> String {
    let text = serde_json::to_string(value).unwrap_or_default() + "\n";
    if !text.contains(crate::command::terminal::steers) {
        return text;
    }
    // Control characters occur only in texts, where JSON can escape them, so that none affects a terminal.
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        if crate::command::terminal::steers(c) {
            let _ = write!(safe, "\\u{:04x}", c as u32);
        } else {
            safe.push(c);
        }
    }
    safe
}

/// Refuses a result that differs when it is read back.
fn read_back(saved: &Saved) -> Result<(), Unwritten> {
    let why = match saved::document(saved.kind(), &json(saved)) {
        Ok(read) if read == *saved => return Ok(()),
        Ok(_) => "where nothing may stand".to_owned(),
        Err(e) => e.to_string(),
    };
    Err(Unwritten::NotFinite { run: saved.kind().meaning().to_owned(), what: why })
}

/// A name as a cell of CSV. An apostrophe prevents a spreadsheet from evaluating a name that looks like a formula.
pub(crate) fn cell(name: &str) -> String {
    if name.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{name}") } else { name.to_owned() }
}

/// Rows as CSV.
pub(crate) fn csv(rows: impl Iterator<Item = Vec<String>>) -> String {
    let mut writer = csv::Writer::from_writer(vec![]);
    for row in rows {
        // Writing to memory, with rows as long as their head, cannot fail.
        let _ = writer.write_record(row);
    }
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}

/// Table with a line for each fleet compared with the reference.
fn gains(report: &Report) -> String {
    let mut heads: Vec<String> = ["machine", "duty", "against machine", "against duty", "of"].map(str::to_owned).into();
    heads.extend(["clutches longer", "shorter", "alike", "unknown", "sign test"].map(str::to_owned));
    heads.extend(["ratio", "ratio low", "ratio high", "mean ratio", "its error"].map(str::to_owned));
    // Running hours.
    let hours = ["difference", "difference low", "difference high", "mean difference", "its error"];
    heads.extend(hours.map(|head| format!("{head} [h]")));
    let maybe = |value: Option<f64>, per: f64| value.map_or_else(String::new, |v| (v / per).to_string());
    let mut rows = vec![heads];
    for pair in &report.pairs {
        for (of, gain) in [("running to first worn part", &pair.end), ("running to oil due", &pair.service)] {
            let Gain { ratio, difference, mean_ratio, mean_difference, .. } = gain;
            let (variant, duty) = pair.against.clone();
            let mut row = [&pair.variant, &pair.duty, &variant, &duty].map(|name| cell(name)).to_vec();
            row.push(of.to_owned());
            row.extend([gain.longer, gain.shorter, gain.alike, gain.unknown].map(|n| n.to_string()));
            row.push(gain.chance.to_string());
            row.extend([ratio.estimate, ratio.low, ratio.high].map(|v| maybe(v, 1.0)));
            row.extend([mean_ratio.0, mean_ratio.1].map(|v| v.to_string()));
            row.extend([difference.estimate, difference.low, difference.high].map(|v| maybe(v, 3600.0)));
            row.extend([mean_difference.0, mean_difference.1].map(|v| (v / 3600.0).to_string()));
            rows.push(row);
        }
    }
    csv(rows.into_iter())
}

fn finite(run: &Run) -> Result<(), Unwritten> {
    let bad = |what: String| Unwritten::NotFinite { run: format!("{}, {}", run.variant, run.duty), what };
    let windows = [&run.windows.least, &run.windows.mean, &run.windows.most];
    let segments = run.segments.iter().map(|s| &s.extremes).chain([&run.overall]);
    let sets = windows.into_iter().flatten().chain(segments.flat_map(|e| [&e.least, &e.mean, &e.most]));
    for (index, value) in sets.flat_map(|set| set.iter().enumerate()) {
        if !value.is_finite() {
            let name = Channel::ALL.get(index).map_or_else(String::new, |c| c.name().to_owned());
            return Err(bad(name));
        }
    }
    let ledgers = run.ledgers.all();
    let whole = ledgers.iter().flat_map(|(_, l)| [l.residual, l.relative]).chain(run.parts.iter().map(|p| p.used));
    if whole.chain(run.parts.iter().filter_map(|p| p.life)).any(|v| !v.is_finite()) {
        return Err(bad("a ledger or a part's use".to_owned()));
    }
    Ok(())
}

fn table(record: &Record, run: &Run) -> String {
    let mut lines = String::from("time [s]");
    for channel in &record.channels {
        let _ = write!(lines, ",{} [{}]", channel.name, channel.unit);
    }
    lines.push('\n');
    for (end, row) in run.windows.end.iter().zip(&run.windows.mean) {
        lines.push_str(&end.to_string());
        for value in row {
            let _ = write!(lines, ",{value}");
        }
        lines.push('\n');
    }
    lines
}

/// Largest length of a file name that a script may give, bytes; systems allow 255 for the whole name.
const LONGEST_NAME: usize = 200;

/// A file name of letters, digits and dashes.
fn slug(name: &str) -> String {
    let plain: String = name.chars().map(|c| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
    let joined = plain.split('-').filter(|s| !s.is_empty()).collect::<Vec<_>>().join("-");
    let bytes = |at: usize, c: char| at + c.len_utf8() <= LONGEST_NAME;
    joined.char_indices().take(80).take_while(|(at, c)| bytes(*at, *c)).map(|(_, c)| c).collect()
}

/// Names of all figures of all kinds of results.
pub(crate) fn every_figure() -> Vec<&'static str> {
    Kind::ALL.iter().flat_map(|kind| slipsoak_plots::names(*kind)).collect()
}

//! Writes a study: the record, a CSV per run, figures. All of it or nothing.

use crate::arguments::Kind;
use crate::shop::{Answer, Stock};
use crate::{damage, given};
use serde::Serialize;
use serde::de::DeserializeOwned;
use serde_json::error::Category;
use slipsoak_engine::calibrate::{Calibration, Told};
use slipsoak_engine::choice::Choice;
use slipsoak_engine::fit::Gaps;
use slipsoak_engine::fleet::{Gain, Report};
use slipsoak_engine::influence::Influences;
use slipsoak_engine::names::{Channel, Part};
use slipsoak_engine::oiling::OilPlan;
use slipsoak_engine::record::{Record, Run};
use slipsoak_engine::retraced::Retraced;
use slipsoak_engine::sweep::Sweep;
use slipsoak_plots::report::Page;
use slipsoak_plots::{Figure, FleetFigure, InfluenceFigure, LearnedFigure, Look, RetracedFigure, SweepFigure};
use std::fmt::Write as _;
use std::path::{Path, PathBuf};
use thiserror::Error;

pub use crate::folder::Folder;
pub(crate) use crate::folder::{RESULTS, refused};

/// Why nothing was written.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Unwritten {
    /// there is something already
    #[error("{0} exists and is not empty; choose another --out, or add --replace to replace an earlier result")]
    Exists(PathBuf),
    /// there is something already where figures alone are to go
    #[error("{0} exists and is not empty; choose another --out for the figures")]
    Full(PathBuf),
    /// there is a file already
    #[error("{0} exists; choose another --out, or add --replace to replace that file")]
    Taken(PathBuf),
    /// there is something that this program did not write
    #[error(
        "{0} holds no result of this program, so it is no earlier result and is not replaced; choose another --out"
    )]
    NotOurs(PathBuf),
    /// something else stands in an earlier result
    #[error(
        "{folder} holds `{name}`, which is no part of a result and would be deleted with it; move that away, or choose another --out"
    )]
    Foreign {
        /// folder
        folder: PathBuf,
        /// what is foreign
        name: String,
    },
    /// another run has written there meanwhile
    #[error("another run has written {wanted} meanwhile: that is left as it is, and this result stands in {place}")]
    Overtaken {
        /// as wanted
        wanted: PathBuf,
        /// where it stands
        place: PathBuf,
    },
    /// a page that is to be no page
    #[error("{0}: a page is HTML; end its name with .html, and print it to PDF from a browser")]
    NotAPage(PathBuf),
    /// not a folder
    #[error("{0} is not a folder; choose another --out")]
    NotAFolder(PathBuf),
    /// the folder above it is missing
    #[error("{0} is not a folder, so nothing can be put into it; choose another --out")]
    NoParent(PathBuf),
    /// the system refuses
    #[error(
        "{path} cannot be written: {why}; nothing was left there; make room or get the right to write, or choose another --out"
    )]
    Refused {
        /// path
        path: PathBuf,
        /// reason of the system
        why: String,
    },
    /// a number that JSON has no word for
    #[error("the result of `{run}` holds a number that is not finite ({what}); nothing was written")]
    NotFinite {
        /// variant and duty
        run: String,
        /// where
        what: String,
    },
    /// not a record
    #[error("{path} is not a record of this program: {why}; {advice}")]
    NotARecord {
        /// path
        path: PathBuf,
        /// what is wrong
        why: String,
        /// what may be the reason, and what to do
        advice: &'static str,
    },
    /// a calibration without its evidence
    #[error("{0} holds learned constants only, for scripts; take the told.json that was written beside it")]
    ConstantsOnly(PathBuf),
    /// no such figure
    #[error("there is no figure `{given}`; figures: {known}")]
    Figure {
        /// as given
        given: String,
        /// all
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
    /// 2 where the command line is wrong, 1 where a value is or the system refuses.
    pub fn exit_code(&self) -> u8 {
        match self {
            Self::NotFinite { .. }
            | Self::NotARecord { .. }
            | Self::Undrawn { .. }
            | Self::Refused { .. }
            | Self::Overtaken { .. } => 1,
            _ => 2,
        }
    }
}

/// Writes record, channels and, if asked, figures.
pub fn write_study(folder: &Folder, record: &Record, pictures: bool) -> Result<(), Unwritten> {
    folder.write("record.json", record_json(record)?.as_bytes())?;
    for (i, run) in record.runs.iter().enumerate() {
        folder.write(
            &format!("{:02}-{}.csv", i + 1, slug(&format!("{} {}", run.variant, run.duty))),
            &table(record, run),
        )?;
    }
    if pictures {
        let saved = Saved::Record(record.clone());
        write_figures(folder, &saved, &saved.figures(), &Look::default())?;
    }
    Ok(())
}

/// Writes a fleet study: the report, a line for each clutch, a line for each fleet held against the first, and figures.
pub fn write_fleet(folder: &Folder, report: &Report, pictures: bool) -> Result<(), Unwritten> {
    // Each clutch was read back when it was journalled.
    whole_json(&report.summary(), "the fleet")?;
    folder.write_json("fleet.json", report)?;
    if !report.pairs.is_empty() {
        folder.write("gains.csv", gains(report).as_bytes())?;
    }
    if pictures {
        let saved = Saved::Fleet(report.clone());
        write_figures(folder, &saved, &saved.figures(), &Look::default())?;
    }
    let mut lines = String::from(
        "machine,duty,clutch,running [h],end [h],first worn out,oil due running [h],oil due [h],launches\n",
    );
    let hours = |time: Option<f64>| time.map_or_else(String::new, |t| (t / 3600.0).to_string());
    let quoted = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
    for fleet in &report.fleets {
        for o in &fleet.outcomes {
            let _ = writeln!(
                lines,
                "{},{},{},{},{},{},{},{},{}",
                quoted(&cell(&fleet.variant)),
                quoted(&cell(&fleet.duty)),
                o.clutch,
                hours(o.running),
                hours(o.end),
                o.ended_by.map_or("", Part::name),
                hours(o.service_running),
                hours(o.service_due),
                o.launches
            );
        }
    }
    folder.write("clutches.csv", lines.as_bytes())
}

/// A record as JSON; refused where it holds what JSON has no word for.
pub fn record_json(record: &Record) -> Result<String, Unwritten> {
    record.runs.iter().try_for_each(finite)?;
    Ok(json(record))
}

/// Writes the page of a result into its folder.
pub fn write_page(folder: &Folder, page: &Page) -> Result<(), Unwritten> {
    folder.write("report.html", page.html().as_bytes())
}

/// A record as JSON, for people as well as programs.
pub fn json<T: Serialize>(value: &T) -> String {
    let text = serde_json::to_string(value).unwrap_or_default() + "\n";
    if !text.contains(crate::terminal::steers) {
        return text;
    }
    // They stand in texts alone, where JSON has another way to write them: none of it steers a terminal.
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        if crate::terminal::steers(c) {
            let _ = write!(safe, "\\u{:04x}", c as u32);
        } else {
            safe.push(c);
        }
    }
    safe
}

/// The same, read back once: a number that JSON has no word for would be lost.
pub(crate) fn whole_json<T: Serialize + DeserializeOwned + PartialEq>(
    value: &T,
    what: &str,
) -> Result<String, Unwritten> {
    let text = json(value);
    let why = match serde_json::from_str::<T>(&text) {
        Ok(read) if read == *value => return Ok(text),
        Ok(_) => "where nothing may stand".to_owned(),
        Err(e) => e.to_string(),
    };
    Err(Unwritten::NotFinite { run: what.to_owned(), what: why })
}

/// A name as a cell of CSV: where it would begin a formula, a spreadsheet is kept from reckoning it by an apostrophe.
pub(crate) fn cell(name: &str) -> String {
    if name.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{name}") } else { name.to_owned() }
}

/// Rows as CSV.
pub(crate) fn csv(rows: impl Iterator<Item = Vec<String>>) -> String {
    let mut writer = csv::Writer::from_writer(vec![]);
    for row in rows {
        // Into memory, of rows as long as their head: nothing can fail.
        let _ = writer.write_record(row);
    }
    String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
}

/// A line for each fleet held against the first.
fn gains(report: &Report) -> String {
    let mut heads: Vec<String> = ["machine", "duty", "against machine", "against duty", "of"].map(str::to_owned).into();
    heads.extend(["clutches longer", "shorter", "alike", "unknown", "sign test"].map(str::to_owned));
    heads.extend(["ratio", "ratio low", "ratio high", "mean ratio", "its error"].map(str::to_owned));
    // Of running.
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

/// A result that was saved.
#[derive(Clone, Debug, PartialEq)]
pub enum Saved {
    /// record.json
    Record(Record),
    /// fleet.json
    Fleet(Report),
    /// sweep.json
    Sweep(Sweep),
    /// influence.json
    Influences(Influences),
    /// choice.json, gaps.json or oiling.json
    Answer(Answer),
    /// told.json
    Told(Box<Told>),
    /// retraced.json
    Retraced(Box<Retraced>),
}

impl Saved {
    /// The names of its figures.
    pub fn figures(&self) -> Vec<&'static str> {
        match self {
            Self::Record(_) => figures(),
            Self::Fleet(_) => FleetFigure::ALL.map(FleetFigure::name).into(),
            Self::Sweep(_) => SweepFigure::ALL.map(SweepFigure::name).into(),
            Self::Influences(_) => InfluenceFigure::ALL.map(InfluenceFigure::name).into(),
            Self::Answer(answer) => vec![answer.name()],
            Self::Told(told) => LearnedFigure::of(told).into_iter().map(LearnedFigure::name).collect(),
            Self::Retraced(_) => RetracedFigure::ALL.map(RetracedFigure::name).into(),
        }
    }
}

/// The keys that tell the kinds of results apart.
#[derive(Default, serde::Deserialize)]
struct Keys {
    fleets: Option<serde::de::IgnoredAny>,
    axes: Option<serde::de::IgnoredAny>,
    rankings: Option<serde::de::IgnoredAny>,
    springs: Option<serde::de::IgnoredAny>,
    layers: Option<serde::de::IgnoredAny>,
    habits: Option<serde::de::IgnoredAny>,
    evidence: Option<serde::de::IgnoredAny>,
    launches: Option<serde::de::IgnoredAny>,
    constants: Option<serde::de::IgnoredAny>,
    about: Option<serde::de::IgnoredAny>,
    vehicle: Option<serde::de::IgnoredAny>,
}

/// Reads a saved result, of whatever kind.
pub fn read_saved(path: &Path) -> Result<Saved, crate::Trouble> {
    let inside = RESULTS.iter().map(|name| path.join(name)).find(|file| path.is_dir() && file.is_file());
    let path = inside.as_deref().unwrap_or(path);
    let text = given::text(path, given::Kind::Result)?;
    let keys: Keys = serde_json::from_str(&text).unwrap_or_default();
    if keys.about.is_some() || keys.vehicle.is_some() {
        let why = "it holds a machine or a stock, not a result; `slipsoak run SCRIPT --out DIR` writes one";
        return Err(crate::Trouble::Unreadable { path: path.to_owned(), why: why.to_owned() });
    }
    let read = if keys.fleets.is_some() {
        serde_json::from_str(&text).map(Saved::Fleet)
    } else if keys.axes.is_some() {
        serde_json::from_str(&text).map(Saved::Sweep)
    } else if keys.rankings.is_some() {
        serde_json::from_str(&text).map(Saved::Influences)
    } else if keys.springs.is_some() {
        serde_json::from_str(&text).map(|choice| Saved::Answer(Answer::Choice(Box::new(choice))))
    } else if keys.layers.is_some() {
        serde_json::from_str(&text).map(|gaps| Saved::Answer(Answer::Gaps(Box::new(gaps))))
    } else if keys.habits.is_some() {
        serde_json::from_str(&text).map(|plan| Saved::Answer(Answer::Oiling(Box::new(plan))))
    } else if keys.evidence.is_some() {
        serde_json::from_str(&text).map(Saved::Told)
    } else if keys.launches.is_some() {
        serde_json::from_str(&text).map(|ridden| Saved::Retraced(Box::new(ridden)))
    } else if keys.constants.is_some() {
        return Err(Unwritten::ConstantsOnly(path.to_owned()).into());
    } else {
        serde_json::from_str(&text).map(Saved::Record)
    };
    let advice = |e: &serde_json::Error| match e.classify() {
        Category::Eof => "is it cut short?",
        Category::Data => "another version may have written it: run its script again",
        Category::Syntax | Category::Io => "a record is JSON, as `run` writes it",
    };
    let not = |why: String, advice| Unwritten::NotARecord { path: path.to_owned(), why, advice };
    let saved = read.map_err(|e| not(e.to_string(), advice(&e)))?;
    damage::check(&saved).map_err(|why| not(why, "run again what wrote it"))?;
    Ok(saved)
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

fn table(record: &Record, run: &Run) -> Vec<u8> {
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
    lines.into_bytes()
}

/// Longest part of a file's name that a script gives, bytes: systems take 255 for the whole.
const LONGEST_NAME: usize = 200;

/// A file name of letters, digits and dashes.
fn slug(name: &str) -> String {
    let plain: String = name.chars().map(|c| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
    let joined = plain.split('-').filter(|s| !s.is_empty()).collect::<Vec<_>>().join("-");
    let bytes = |at: usize, c: char| at + c.len_utf8() <= LONGEST_NAME;
    joined.char_indices().take(80).take_while(|(at, c)| bytes(*at, *c)).map(|(_, c)| c).collect()
}

/// The JSON schema of a document, for people to read: of a result as this program writes it, in which a life that has no end has
/// its key too; of a stock as it is read.
pub fn schema(of: Kind) -> String {
    let settings = schemars::generate::SchemaSettings::draft2020_12();
    let written = settings.clone().for_serialize().into_generator();
    let schema = match of {
        Kind::Record => written.into_root_schema_for::<Record>(),
        Kind::Fleet => written.into_root_schema_for::<Report>(),
        Kind::Sweep => written.into_root_schema_for::<Sweep>(),
        Kind::Influence => written.into_root_schema_for::<Influences>(),
        Kind::Choice => written.into_root_schema_for::<Choice>(),
        Kind::Gaps => written.into_root_schema_for::<Gaps>(),
        Kind::Oiling => written.into_root_schema_for::<OilPlan>(),
        Kind::Stock => settings.into_generator().into_root_schema_for::<Stock>(),
        Kind::Calibration => written.into_root_schema_for::<Calibration>(),
        Kind::Told => written.into_root_schema_for::<Told>(),
        Kind::Retraced => written.into_root_schema_for::<Retraced>(),
    };
    let mut text = serde_json::to_string_pretty(&schema).unwrap_or_default();
    text.push('\n');
    text
}

/// The names of all figures of a record.
pub fn figures() -> Vec<&'static str> {
    Figure::all().iter().map(|figure| figure.name()).collect()
}

/// The names of all figures of all kinds of results.
pub(crate) fn every_figure() -> Vec<&'static str> {
    let mut all = figures();
    all.extend(FleetFigure::ALL.map(FleetFigure::name));
    all.extend(SweepFigure::ALL.map(SweepFigure::name));
    all.extend(InfluenceFigure::ALL.map(InfluenceFigure::name));
    all.extend([LearnedFigure::Evidence, LearnedFigure::Forecast].map(LearnedFigure::name));
    all.extend(RetracedFigure::ALL.map(RetracedFigure::name));
    all.extend(["choice", "gaps", "oiling"]);
    all
}

/// Draws figures into a folder.
pub fn write_figures(folder: &Folder, saved: &Saved, names: &[&str], look: &Look) -> Result<(), Unwritten> {
    for name in names {
        let (svg, png) = draw(name, saved, look)?;
        folder.write(&format!("{name}.svg"), svg.as_bytes())?;
        folder.write(&format!("{name}.png"), &png)?;
    }
    Ok(())
}

/// One figure as SVG and as PNG.
fn draw(name: &str, saved: &Saved, look: &Look) -> Result<(String, Vec<u8>), Unwritten> {
    let undrawn = |why: String| Unwritten::Undrawn { figure: name.to_owned(), why };
    let unknown = || Unwritten::Figure { given: name.to_owned(), known: saved.figures().join(", ") };
    let drawing = match saved {
        Saved::Record(record) => {
            let figure = Figure::all().iter().find(|f| f.name() == name).ok_or_else(unknown)?;
            slipsoak_plots::draw_as(*figure, record, look)
        }
        Saved::Fleet(report) => {
            let figure = FleetFigure::ALL.into_iter().find(|f| f.name() == name).ok_or_else(unknown)?;
            figure.draw(report, look)
        }
        Saved::Sweep(sweep) => {
            let figure = SweepFigure::ALL.into_iter().find(|f| f.name() == name).ok_or_else(unknown)?;
            figure.draw(sweep, look)
        }
        Saved::Influences(influences) => {
            let figure = InfluenceFigure::ALL.into_iter().find(|f| f.name() == name).ok_or_else(unknown)?;
            figure.draw(influences, look)
        }
        Saved::Answer(answer) => answer.draw(look),
        Saved::Told(told) => {
            let figure = LearnedFigure::of(told).into_iter().find(|f| f.name() == name).ok_or_else(unknown)?;
            figure.draw(told, look)
        }
        Saved::Retraced(ridden) => {
            let figure = RetracedFigure::ALL.into_iter().find(|f| f.name() == name).ok_or_else(unknown)?;
            figure.draw(ridden, look)
        }
    };
    let drawing = drawing.map_err(|e| undrawn(e.to_string()))?;
    let png = drawing.png().map_err(|e| undrawn(e.to_string()))?;
    Ok((drawing.svg, png))
}

//! Writes a study: the record, a CSV per run, figures. All of it or nothing.

use slipsoak_engine::fleet::Report;
use slipsoak_engine::record::{Record, Run};
use slipsoak_plots::{Figure, Size};
use std::fmt::Write as _;
use std::fs;
use std::path::{Path, PathBuf};
use tempfile::TempDir;
use thiserror::Error;

/// Why nothing was written.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Unwritten {
    /// there is something already
    #[error("{0} exists and is not empty; choose another --out, or add --replace to replace an earlier result")]
    Exists(PathBuf),
    /// there is something that this program did not write
    #[error("{0} holds no record.json, so it is no earlier result and is not replaced; choose another --out")]
    NotOurs(PathBuf),
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
    #[error("{path} is not a record of this program: {why}; is it cut short?")]
    NotARecord {
        /// path
        path: PathBuf,
        /// what is wrong
        why: String,
    },
    /// a fleet's report
    #[error(
        "{path} is the report of a fleet, of which no figure is drawn; its numbers stand there and in clutches.csv"
    )]
    Fleet {
        /// path
        path: PathBuf,
    },
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
            | Self::Fleet { .. }
            | Self::Undrawn { .. }
            | Self::Refused { .. } => 1,
            _ => 2,
        }
    }
}

/// A folder under way, beside the one that is wanted.
#[derive(Debug)]
pub struct Folder {
    wanted: PathBuf,
    under_way: TempDir,
}

fn refused(path: &Path) -> impl Fn(std::io::Error) -> Unwritten + '_ {
    |e| Unwritten::Refused { path: path.to_owned(), why: e.to_string() }
}

impl Folder {
    /// Makes sure that the folder can be written before any work is done.
    pub fn prepare(wanted: &Path, replace: bool) -> Result<Self, Unwritten> {
        if let Ok(about) = fs::symlink_metadata(wanted) {
            if !about.is_dir() {
                return Err(Unwritten::NotAFolder(wanted.to_owned()));
            }
            let empty = fs::read_dir(wanted).map_err(refused(wanted))?.next().is_none();
            if !empty && !replace {
                return Err(Unwritten::Exists(wanted.to_owned()));
            }
            if !empty
                && !["record.json", "fleet.json", "calibration.json", "retraced.json"]
                    .iter()
                    .any(|name| wanted.join(name).is_file())
            {
                return Err(Unwritten::NotOurs(wanted.to_owned()));
            }
        }
        let parent = wanted.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
        if !parent.is_dir() {
            return Err(Unwritten::NoParent(parent.to_owned()));
        }
        let under_way = tempfile::Builder::new().prefix(".slipsoak-").tempdir_in(parent).map_err(refused(wanted))?;
        Ok(Self { wanted: wanted.to_owned(), under_way })
    }

    /// Writes one file.
    pub fn write(&self, name: &str, bytes: &[u8]) -> Result<(), Unwritten> {
        let path = self.under_way.path().join(name);
        fs::write(&path, bytes).map_err(refused(&self.wanted.join(name)))
    }

    /// Puts the folder in its place.
    pub fn finish(self) -> Result<(), Unwritten> {
        let Self { wanted, under_way } = self;
        #[cfg(unix)]
        {
            use std::os::unix::fs::PermissionsExt;
            fs::set_permissions(under_way.path(), fs::Permissions::from_mode(0o755)).map_err(refused(&wanted))?;
        }
        let parent = under_way.path().parent().unwrap_or(Path::new(".")).to_owned();
        // The earlier result is moved aside, and deleted with `old` once the new one stands.
        let old = tempfile::Builder::new().prefix(".slipsoak-old-").tempdir_in(parent).map_err(refused(&wanted))?;
        let aside = old.path().join("result");
        let had = wanted.exists();
        if had {
            fs::rename(&wanted, &aside).map_err(refused(&wanted))?;
        }
        if let Err(e) = fs::rename(under_way.path(), &wanted) {
            if had {
                fs::rename(&aside, &wanted).map_err(refused(&wanted))?;
            }
            return Err(refused(&wanted)(e));
        }
        // It has moved: there is nothing left for the guard to delete.
        let _ = under_way.keep();
        Ok(())
    }
}

/// Writes record, channels and, if asked, figures.
pub fn write_study(folder: &Folder, record: &Record, pictures: bool) -> Result<(), Unwritten> {
    for run in &record.runs {
        finite(run)?;
    }
    folder.write("record.json", json(record).as_bytes())?;
    for (i, run) in record.runs.iter().enumerate() {
        folder.write(
            &format!("{:02}-{}.csv", i + 1, slug(&format!("{} {}", run.variant, run.duty))),
            &table(record, run),
        )?;
    }
    if pictures {
        write_figures(folder, record, &figures())?;
    }
    Ok(())
}

/// Writes a fleet study: the report, and a line for each clutch.
pub fn write_fleet(folder: &Folder, report: &Report) -> Result<(), Unwritten> {
    folder.write("fleet.json", json(report).as_bytes())?;
    let mut lines = String::from("machine,duty,clutch,end [h],ended by,service due [h],launches\n");
    let hours = |time: Option<f64>| time.map_or_else(String::new, |t| (t / 3600.0).to_string());
    let quoted = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
    for fleet in &report.fleets {
        for o in &fleet.outcomes {
            let _ = writeln!(
                lines,
                "{},{},{},{},{},{},{}",
                quoted(&fleet.variant),
                quoted(&fleet.duty),
                o.clutch,
                hours(o.end),
                o.ended_by.as_deref().unwrap_or_default(),
                hours(o.service_due),
                o.launches
            );
        }
    }
    folder.write("clutches.csv", lines.as_bytes())
}

/// A record as JSON, for people as well as programs.
pub fn json<T: serde::Serialize>(value: &T) -> String {
    let mut text = serde_json::to_string(value).unwrap_or_default();
    text.push('\n');
    text
}

/// Reads a record.
pub fn read_record(path: &Path) -> Result<Record, crate::Trouble> {
    let text = fs::read_to_string(path)
        .map_err(|e| crate::Trouble::Unreadable { path: path.to_owned(), why: e.to_string() })?;
    if serde_json::from_str::<Report>(&text).is_ok() {
        return Err(Unwritten::Fleet { path: path.to_owned() }.into());
    }
    serde_json::from_str(&text).map_err(|e| Unwritten::NotARecord { path: path.to_owned(), why: e.to_string() }.into())
}

fn finite(run: &Run) -> Result<(), Unwritten> {
    let bad = |what: String| Unwritten::NotFinite { run: format!("{}, {}", run.variant, run.duty), what };
    let windows = [&run.windows.least, &run.windows.mean, &run.windows.most];
    let segments = run.segments.iter().map(|s| &s.extremes).chain([&run.overall]);
    let sets = windows.into_iter().flatten().chain(segments.flat_map(|e| [&e.least, &e.mean, &e.most]));
    for (index, value) in sets.flat_map(|set| set.iter().enumerate()) {
        if !value.is_finite() {
            let name = slipsoak_engine::simulate::channels().get(index).map_or_else(String::new, |c| c.name.clone());
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

/// A file name of letters, digits and dashes.
fn slug(name: &str) -> String {
    let plain: String = name.chars().map(|c| if c.is_alphanumeric() { c.to_ascii_lowercase() } else { '-' }).collect();
    plain.split('-').filter(|s| !s.is_empty()).collect::<Vec<_>>().join("-").chars().take(80).collect()
}

/// The JSON schema of a record as this program writes it, in which a life that has no end has its key too, for people to read.
pub fn schema() -> String {
    let written = schemars::generate::SchemaSettings::draft2020_12().for_serialize().into_generator();
    let mut text = serde_json::to_string_pretty(&written.into_root_schema_for::<Record>()).unwrap_or_default();
    text.push('\n');
    text
}

/// The names of all figures.
pub fn figures() -> Vec<&'static str> {
    Figure::all().iter().map(|figure| figure.name()).collect()
}

/// Draws figures into a folder.
pub fn write_figures(folder: &Folder, record: &Record, names: &[&str]) -> Result<(), Unwritten> {
    for name in names {
        let (svg, png) = draw(name, record)?;
        folder.write(&format!("{name}.svg"), svg.as_bytes())?;
        folder.write(&format!("{name}.png"), &png)?;
    }
    Ok(())
}

/// One figure as SVG and as PNG.
fn draw(name: &str, record: &Record) -> Result<(String, Vec<u8>), Unwritten> {
    let undrawn = |why: String| Unwritten::Undrawn { figure: name.to_owned(), why };
    let figure = Figure::all()
        .iter()
        .find(|figure| figure.name() == name)
        .ok_or_else(|| Unwritten::Figure { given: name.to_owned(), known: figures().join(", ") })?;
    let drawing = slipsoak_plots::draw(*figure, record, Size::default()).map_err(|e| undrawn(e.to_string()))?;
    let png = drawing.png().map_err(|e| undrawn(e.to_string()))?;
    Ok((drawing.svg, png))
}

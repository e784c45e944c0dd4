//! The folder of a result. It is filled under a temporary name beside its place, then moved there as a whole; it never
//! replaces anything but an earlier result.

use crate::keep::interrupt::{self, UnderWay};
use crate::keep::place::{above, beginning, locked, not_a_folder, refused};
use crate::keep::remains::{UNDER_WAY, exchanged, sweep_up};
use crate::keep::tables;
use crate::read::refusal::Refusal;
use serde::Serialize;
use slipsoak_engine::document::Kind;
use std::fs::{self, File};
use std::io::{BufWriter, Write as _};
use std::path::{Path, PathBuf};
use tempfile::TempDir;

/// Names of the files that identify a folder as a result: one for each kind, except the learned constants that scripts
/// read.
fn results() -> impl Iterator<Item = &'static str> {
    Kind::ALL.iter().filter(|kind| **kind != Kind::Calibration).map(|kind| kind.file())
}

/// Names of all figures of all kinds of results.
fn every_figure() -> impl Iterator<Item = &'static str> {
    Kind::ALL.iter().flat_map(|kind| slipsoak_plots::names(*kind))
}

/// The page of a result.
pub(crate) const PAGE: &str = "report.html";
/// Other files of a result folder, apart from figures and tables.
const OTHERS: [&str; 3] = [PAGE, Kind::Calibration.file(), "cleaned.csv"];
/// Files that file managers add to a folder.
const LITTER: [&str; 3] = [".DS_Store", "Thumbs.db", "desktop.ini"];

/// A folder that is being filled, beside the wanted one.
#[derive(Debug)]
pub struct Folder {
    wanted: PathBuf,
    replace: bool,
    under_way: TempDir,
    /// Registration with the signal handler, which removes the folder.
    noted: UnderWay,
    /// The journal, deleted when this result is in place.
    journal: Option<PathBuf>,
    /// Held while the folder is being filled, so that no other run deletes it as abandoned.
    _lock: Option<File>,
}

/// The error of a folder that exists already.
fn taken(folder: &Path) -> Refusal {
    let why = "exists and is not empty; choose another --out, or add --replace to replace an earlier result";
    Refusal::of_command(format!("{} {why}", folder.display()))
}

/// Whether this program writes files with that name into a folder.
fn ours(name: &str) -> bool {
    let Some((stem, ending)) = name.rsplit_once('.') else { return false };
    let numbered = |stem: &str| match stem.rsplit_once('-') {
        Some((front, number)) if !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit()) => front.to_owned(),
        _ => stem.to_owned(),
    };
    let first = numbered(stem);
    match ending {
        "svg" | "png" => every_figure().any(|figure| figure == stem || figure == first),
        "csv" if name.len() > 3 && name.as_bytes()[..2].iter().all(u8::is_ascii_digit) => true,
        _ => results()
            .chain(OTHERS)
            .chain(tables::NAMES)
            .any(|known| known == name || known == format!("{first}.{ending}")),
    }
}

/// Names in a folder.
fn names(folder: &Path) -> Result<Vec<String>, Refusal> {
    let entries = fs::read_dir(folder).map_err(refused(folder))?;
    let mut all: Vec<String> = entries.flatten().map(|e| e.file_name().to_string_lossy().into_owned()).collect();
    all.sort();
    Ok(all)
}

impl Folder {
    /// Checks that the folder can be written, before any work is done.
    pub fn prepare(wanted: &Path, replace: bool) -> Result<Self, Refusal> {
        if let Ok(about) = fs::symlink_metadata(wanted) {
            if !about.is_dir() {
                return Err(not_a_folder(wanted));
            }
            let names = names(wanted)?;
            if !names.is_empty() && !replace {
                return Err(taken(wanted));
            }
            if !names.is_empty() && !results().any(|name| wanted.join(name).is_file()) {
                return Err(Refusal::of_command(format!(
                    "{} holds no result of this program, so it is no earlier result and is not replaced; choose another --out",
                    wanted.display()
                )));
            }
            let foreign = |name: &&String| !(ours(name) || LITTER.contains(&name.as_str()));
            if let Some(name) = names.iter().find(foreign) {
                return Err(Refusal::of_command(format!(
                    "{} holds `{name}`, which is no part of a result and would be deleted with it; move that away, or choose another --out",
                    wanted.display()
                )));
            }
        }
        let parent = above(wanted);
        if !parent.is_dir() {
            return Err(not_a_folder(parent));
        }
        let _whole = interrupt::writing();
        sweep_up(parent);
        let under_way = beginning(UNDER_WAY, 0o777).tempdir_in(parent).map_err(refused(wanted))?;
        let lock = locked(under_way.path());
        let noted = UnderWay::of(under_way.path(), wanted);
        Ok(Self { wanted: wanted.to_owned(), replace, under_way, noted, journal: None, _lock: lock })
    }

    /// Deletes a journal as soon as the result that makes it superfluous is in place.
    pub fn supersede(&mut self, journal: PathBuf) {
        self.journal = Some(journal);
    }

    /// Writes one file.
    pub fn write(&self, name: &str, bytes: &[u8]) -> Result<(), Refusal> {
        let path = self.under_way.path().join(name);
        let _whole = interrupt::writing();
        fs::write(&path, bytes).map_err(refused(&self.wanted.join(name)))
    }

    /// Writes a value as JSON, without its whole text in memory.
    pub(crate) fn write_json(&self, name: &str, value: &impl Serialize) -> Result<(), Refusal> {
        let _whole = interrupt::writing();
        let written = File::create(self.under_way.path().join(name)).and_then(|file| {
            let mut file = BufWriter::new(file);
            serde_json::to_writer(&mut file, value)?;
            file.write_all(b"\n")?;
            file.flush()
        });
        written.map_err(refused(&self.wanted.join(name)))
    }

    /// Lists the folder's contents as a sentence and a line; a long path is not broken.
    fn written(&self) -> String {
        let names = names(self.under_way.path()).unwrap_or_default();
        let count = |end: &str| names.iter().filter(|name| name.ends_with(end)).count();
        let results = Kind::ALL.iter().map(|kind| kind.file().to_owned()).filter(|file| names.contains(file));
        let tables = Some(count(".csv")).filter(|n| *n > 0).map(|n| format!("{n} CSV"));
        let forms = if count(".png") > 0 { "SVG, PNG" } else { "SVG" };
        let figures = match count(".svg") {
            0 => None,
            1 => Some(format!("1 figure ({forms})")),
            n => Some(format!("{n} figures ({forms})")),
        };
        let kinds = results.chain(tables).chain(figures).collect::<Vec<_>>().join(", ");
        let open = if names.iter().any(|name| name == PAGE) { "; open report.html there" } else { "" };
        let files = if names.len() == 1 { "file" } else { "files" };
        format!("Wrote {} {files} to {}: {kinds}{open}.\n", names.len(), self.wanted.display())
    }

    /// Moves the folder to its place and describes what is there.
    pub fn finish(self) -> Result<String, Refusal> {
        let written = self.written();
        let Self { wanted, replace, under_way, noted, journal, _lock } = self;
        let _whole = interrupt::writing();
        if replace {
            exchanged(under_way, &wanted)?;
        } else {
            placed(under_way, &wanted)?;
        }
        drop(noted);
        if let Some(journal) = journal {
            let _ = fs::remove_file(journal);
        }
        interrupt::finished(&wanted);
        Ok(written)
    }
}

/// Moves a folder to a place that is empty or missing. Anything else appeared after [`Folder::prepare`] had checked.
fn placed(under_way: TempDir, wanted: &Path) -> Result<(), Refusal> {
    let full = || names(wanted).is_ok_and(|names| !names.is_empty());
    let moved =
        if full() { Err(std::io::ErrorKind::DirectoryNotEmpty.into()) } else { fs::rename(under_way.path(), wanted) };
    let Err(e) = moved else {
        let _ = under_way.keep();
        return Ok(());
    };
    Err(if full() { elsewhere(under_way, wanted) } else { refused(wanted)(e) })
}

/// The error of a result that stands beside its place.
fn overtaken(wanted: &Path, place: &Path) -> Refusal {
    let (wanted, place) = (wanted.display(), place.display());
    let why = format!("that is left as it is, and this result stands in {place}");
    Refusal::new(format!("another run has written {wanted} meanwhile: {why}"))
}

/// Puts a result beside a place that another run has taken meanwhile.
fn elsewhere(under_way: TempDir, wanted: &Path) -> Refusal {
    let name = wanted.file_name().map_or_else(|| "result".to_owned(), |name| name.to_string_lossy().into_owned());
    for k in 2..1000 {
        let place = wanted.with_file_name(format!("{name}-{k}"));
        if fs::symlink_metadata(&place).is_ok() {
            continue;
        }
        return match fs::rename(under_way.path(), &place) {
            Ok(()) => {
                let _ = under_way.keep();
                overtaken(wanted, &place)
            }
            Err(e) => refused(wanted)(e),
        };
    }
    taken(wanted)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_file_that_a_result_holds_is_known_as_ours() {
        for name in
            ["record.json", "choice-2.json", "report.html", "01-a-b.csv", "123-x.csv", "cutaway.svg", "gaps-3.png"]
        {
            assert!(ours(name), "{name}");
        }
        for name in ["thesis.txt", "notes.csv", "record.json.bak", "photo.png", "sub", "my-2.json", "1-a.csv"] {
            assert!(!ours(name), "{name}");
        }
    }

    #[test]
    fn of_two_runs_into_one_folder_the_later_gets_a_folder_beside_it() {
        let at = tempfile::tempdir().unwrap();
        let out = at.path().join("out");
        let (first, second) = (Folder::prepare(&out, false).unwrap(), Folder::prepare(&out, false).unwrap());
        first.write("record.json", b"first").unwrap();
        second.write("record.json", b"second").unwrap();
        first.finish().unwrap();
        let place = at.path().join("out-2");
        assert_eq!(second.finish(), Err(overtaken(&out, &place)));
        assert_eq!(fs::read_to_string(out.join("record.json")).unwrap(), "first");
        assert_eq!(fs::read_to_string(place.join("record.json")).unwrap(), "second");
    }
}

//! The journal of a long study: one line for each clutch that is done, on disk before the next one counts on it.
//!
//! The first line says which study it belongs to. A line that was cut short (a crash, a full disk) ends what can be
//! trusted: the clutch is run again. Nothing else is ever changed in a journal.

use serde::{Deserialize, Serialize};
use slipsoak_engine::fleet::Outcome;
use std::collections::BTreeMap;
use std::fs::{File, OpenOptions};
use std::io::{Read, Seek, SeekFrom, Write};
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use thiserror::Error;

/// Which study a journal belongs to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Heading {
    /// program and version
    pub program: String,
    /// SHA-256 of the script
    pub script_hash: String,
    /// parameters with the values used
    pub parameters: BTreeMap<String, f64>,
    /// seed
    pub seed: u64,
    /// clutches of each fleet
    pub clutches: u64,
    /// variant and duty of each fleet
    pub fleets: Vec<(String, String)>,
    /// whether blocks are skipped
    pub skipping: bool,
    /// this part of so many
    pub part: (u64, u64),
}

/// One clutch that is done.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Entry {
    /// index of its fleet
    pub fleet: usize,
    /// what became of it
    pub outcome: Outcome,
}

/// What is wrong with a journal.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Unjournalled {
    /// another study's
    #[error(
        "{path} is the journal of another study ({what} differs); finish that study, delete its journal, or choose another --out"
    )]
    Other {
        /// path
        path: PathBuf,
        /// what differs
        what: &'static str,
    },
    /// not a journal
    #[error("{path} is not a journal of this program: {why}")]
    NotAJournal {
        /// path
        path: PathBuf,
        /// what is wrong
        why: String,
    },
    /// cannot be read
    #[error("the journal {path} cannot be read: {why}; check the path")]
    Unreadable {
        /// path
        path: PathBuf,
        /// reason of the system
        why: String,
    },
    /// the system refuses
    #[error(
        "the journal {path} cannot be written: {why}; what it holds is kept: make room and run the same command again"
    )]
    Refused {
        /// path
        path: PathBuf,
        /// reason of the system
        why: String,
    },
    /// another process is writing it
    #[error("{0} is being written by another run; wait for it, or choose another --out")]
    Busy(PathBuf),
    /// a part that is missing or there twice
    #[error("{what}; gather each part exactly once")]
    Parts {
        /// what is wrong
        what: String,
    },
}

/// Where the journal of a result stands: beside its folder, so that the folder appears when it is whole.
pub fn beside(out: &Path, (part, of): (u64, u64)) -> PathBuf {
    let mut name = out.file_name().unwrap_or_default().to_owned();
    if of > 1 {
        name.push(format!(".{part}-of-{of}"));
    }
    name.push(".journal");
    out.with_file_name(name)
}

/// A journal open for writing.
pub struct Journal {
    path: PathBuf,
    file: Mutex<File>,
}

impl Journal {
    /// Opens the journal of a study, or begins it, and gives what was done before.
    pub fn open(path: &Path, heading: &Heading) -> Result<(Self, Vec<Entry>), Unjournalled> {
        let refused = |e: std::io::Error| Unjournalled::Refused { path: path.to_owned(), why: e.to_string() };
        let mut file = OpenOptions::new().read(true).append(true).create(true).open(path).map_err(refused)?;
        file.try_lock().map_err(|_| Unjournalled::Busy(path.to_owned()))?;
        let mut text = Vec::new();
        file.read_to_end(&mut text).map_err(refused)?;
        let (head, entries, sound) = read(path, &text)?;
        let journal = |file| Self { path: path.to_owned(), file: Mutex::new(file) };
        let Some(head) = head else {
            file.set_len(0).map_err(refused)?;
            let fresh = journal(file);
            fresh.line(heading)?;
            return Ok((fresh, vec![]));
        };
        same(path, &head, heading)?;
        // What was cut short goes; what is whole stays.
        file.set_len(sound as u64).map_err(refused)?;
        file.seek(SeekFrom::End(0)).map_err(refused)?;
        Ok((journal(file), entries))
    }

    /// Writes down that a clutch is done. It is on disk when this returns.
    pub fn enter(&self, entry: &Entry) -> Result<(), Unjournalled> {
        self.line(entry)
    }

    fn line<T: Serialize>(&self, value: &T) -> Result<(), Unjournalled> {
        let refused = |why: String| Unjournalled::Refused { path: self.path.clone(), why };
        let mut line = serde_json::to_vec(value).map_err(|e| refused(e.to_string()))?;
        line.push(b'\n');
        let mut file = self.file.lock().map_err(|_| refused("another thread failed".to_owned()))?;
        file.write_all(&line).and_then(|()| file.sync_data()).map_err(|e| refused(e.to_string()))
    }
}

/// Heading, entries and how many bytes are whole.
type Whole = (Option<Heading>, Vec<Entry>, usize);

fn read(path: &Path, text: &[u8]) -> Result<Whole, Unjournalled> {
    let bad = |why: String| Unjournalled::NotAJournal { path: path.to_owned(), why };
    let (mut heading, mut entries, mut sound) = (None, vec![], 0);
    for line in text.split_inclusive(|b| *b == b'\n') {
        let Some(whole) = line.strip_suffix(b"\n") else { break };
        if heading.is_none() {
            heading = Some(serde_json::from_slice::<Heading>(whole).map_err(|e| bad(e.to_string()))?);
        } else {
            match serde_json::from_slice::<Entry>(whole) {
                Ok(entry) => entries.push(entry),
                // Only the last line can be torn; a bad one before it is no accident of ours.
                Err(_) if sound + line.len() == text.len() => break,
                Err(e) => return Err(bad(format!("line {}: {e}", entries.len() + 2))),
            }
        }
        sound += line.len();
    }
    Ok((heading, entries, sound))
}

/// Fails where a journal belongs to another study.
pub fn same(path: &Path, there: &Heading, wanted: &Heading) -> Result<(), Unjournalled> {
    let differs = [
        ("the program", there.program != wanted.program),
        ("the script", there.script_hash != wanted.script_hash),
        ("a parameter", there.parameters != wanted.parameters),
        ("the seed", there.seed != wanted.seed),
        ("the number of clutches", there.clutches != wanted.clutches),
        ("the list of machines and duties", there.fleets != wanted.fleets),
        ("the use of --no-skip", there.skipping != wanted.skipping),
        ("the part", there.part != wanted.part),
    ];
    match differs.iter().find(|d| d.1) {
        Some((what, _)) => Err(Unjournalled::Other { path: path.to_owned(), what }),
        None => Ok(()),
    }
}

/// Joins the journals of all parts of one study: heading and entries. A part that is missing, there twice or not finished
/// is named.
pub fn gather(paths: &[PathBuf]) -> Result<(Heading, Vec<Entry>), Unjournalled> {
    let parts = |what: String| Unjournalled::Parts { what };
    let mut all: Option<Heading> = None;
    let (mut entries, mut seen) = (vec![], BTreeMap::new());
    for path in paths {
        let text =
            std::fs::read(path).map_err(|e| Unjournalled::Unreadable { path: path.clone(), why: e.to_string() })?;
        let (heading, part, _) = read(path, &text)?;
        let heading =
            heading.ok_or_else(|| Unjournalled::NotAJournal { path: path.clone(), why: "it is empty".to_owned() })?;
        if let Some(first) = &all {
            same(path, &Heading { part: first.part, ..heading.clone() }, first)?;
            if heading.part.1 != first.part.1 {
                return Err(parts(format!(
                    "{} is a part of {}, not of {}",
                    path.display(),
                    heading.part.1,
                    first.part.1
                )));
            }
        }
        if let Some(other) = seen.insert(heading.part.0, path.clone()) {
            return Err(parts(format!(
                "part {} is there twice: {} and {}",
                heading.part.0,
                other.display(),
                path.display()
            )));
        }
        let (k, of) = heading.part;
        let due = (0..heading.clutches).filter(|c| c % of == k - 1).count() * heading.fleets.len();
        let mut own: Vec<(usize, u64)> = part.iter().map(|e| (e.fleet, e.outcome.clutch)).collect();
        own.sort_unstable();
        own.dedup();
        if own.len() < due {
            return Err(parts(format!(
                "part {k} in {} has {} of {due} clutches: run it again to finish it",
                path.display(),
                own.len()
            )));
        }
        entries.extend(part);
        all.get_or_insert(heading);
    }
    let heading = all.ok_or_else(|| parts("no journal was given".to_owned()))?;
    let missing: Vec<String> = (1..=heading.part.1).filter(|k| !seen.contains_key(k)).map(|k| k.to_string()).collect();
    if !missing.is_empty() {
        return Err(parts(format!("of {} parts these are missing: {}", heading.part.1, missing.join(", "))));
    }
    Ok((heading, entries))
}

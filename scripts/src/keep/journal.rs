//! The journal of a campaign: one line for each item, written to disk before the item counts as done. Each line ends
//! with the CRC-32 of its text, so that damage on the disk is detected.
//!
//! The first line identifies the study. If the last line is incomplete (after a crash, or on a full disk), it is
//! dropped and its item is run again. Nothing else is ever changed in a journal.

use crate::keep::heading::{Heading, same};
use crate::keep::interrupt;
use crate::keep::journal_line::{Entry, Made, checked, line, unsound};
use crate::read::refusal::Refusal;
use serde::de::DeserializeOwned;
use std::collections::BTreeMap;
use std::fmt::Display;
use std::fs::{File, OpenOptions};
use std::io::{Read, Write};
use std::path::{Path, PathBuf};
use std::sync::mpsc::Receiver;

/// Largest number of missing parts listed in a message.
const NAMED: usize = 20;

/// Results of completed items by their numbers.
pub type Found<T> = BTreeMap<u64, T>;

/// The error of a file that is no journal.
fn not_a_journal(path: &Path, why: impl Display) -> Refusal {
    let advice = "give a journal, or where it is none that you need delete it and run again";
    Refusal::new(format!("{} is not a journal of this program: {why}; {advice}", path.display()))
}

/// The system's error of writing a journal.
fn unwritten(path: &Path, why: &std::io::Error) -> Refusal {
    let advice = "what it holds is kept: make room and run the same command again";
    Refusal::new(format!("the journal {} cannot be written: {why}; {advice}", path.display()))
}

/// Path of a result's journal: beside its folder, because the folder appears only when it is complete.
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
    file: File,
    /// length of the valid part, bytes
    sound: u64,
}

impl Journal {
    /// Opens or creates the journal of a study, and returns the items completed before.
    pub fn open<T: DeserializeOwned>(path: &Path, heading: &Heading) -> Result<(Self, Found<T>), Refusal> {
        let refused = |e: std::io::Error| unwritten(path, &e);
        let other = |why: &str| Refusal::new(format!("{} {why}, or choose another --out", path.display()));
        // A link would cause a file elsewhere to be written.
        if std::fs::symlink_metadata(path).is_ok_and(|about| !about.is_file()) {
            return Err(Refusal::new(format!(
                "{} is not a file of its own (but a folder, a link or a device), so it cannot be a journal; choose another --out",
                path.display()
            )));
        }
        let mut file = OpenOptions::new().read(true).append(true).create(true).open(path).map_err(refused)?;
        file.try_lock().map_err(|_| other("is being written by another run; wait for it"))?;
        let mut text = Vec::new();
        file.read_to_end(&mut text).map_err(refused)?;
        // Another study's items may be of another kind: what it is is said before they are read.
        let (head, found, sound) = read(path, &text, |head| same(path, head, heading))?;
        let own = line(heading)?;
        // Only text that this study began to write itself may be cut off.
        if head.is_none() && !own.starts_with(&text) {
            return Err(not_a_journal(path, "its first line is not whole, and is not this study's"));
        }
        // The incomplete end is cut off; complete lines stay.
        file.set_len(sound as u64).map_err(refused)?;
        let mut journal = Self { path: path.to_owned(), file, sound: sound as u64 };
        if head.is_none() {
            journal.write(&own, 0)?;
        }
        Ok((journal, found))
    }

    /// Writes completed items to the journal as they arrive, until the channel closes; `done` is called for each item
    /// on disk.
    pub fn keep<T>(mut self, taken: &Receiver<Made<T>>, done: impl Fn()) -> Result<Found<T>, Refusal> {
        let mut kept = Found::new();
        while let Ok(first) = taken.recv() {
            // Items that arrived meanwhile are written together.
            let batch: Vec<Made<T>> = std::iter::once(first).chain(taken.try_iter()).collect();
            let lines: Vec<u8> = batch.iter().flat_map(|made| made.line.iter().copied()).collect();
            self.write(&lines, batch.len() as u64)?;
            for made in batch {
                done();
                kept.insert(made.entry.item, made.entry.found);
            }
        }
        Ok(kept)
    }

    /// Writes lines that hold a number of items. No signal comes between the lines and their count: the message of a
    /// stop gives the number that is in the file.
    fn write(&mut self, lines: &[u8], items: u64) -> Result<(), Refusal> {
        let _whole = interrupt::writing();
        if let Err(e) = self.file.write_all(lines).and_then(|()| self.file.sync_data()) {
            // A partial line may be on disk; the complete lines before it stay.
            let stands = self.file.metadata().map_or(self.sound, |about| about.len());
            let written = usize::try_from(stands.saturating_sub(self.sound)).map_or(0, |n| n.min(lines.len()));
            let whole = lines[..written].iter().rposition(|byte| *byte == b'\n').map_or(0, |end| end + 1);
            let _ = self.file.set_len(self.sound + whole as u64);
            return Err(unwritten(&self.path, &e));
        }
        self.sound += lines.len() as u64;
        interrupt::kept(items);
        Ok(())
    }
}

/// Heading, results, and length of the valid part in bytes.
type Whole<T> = (Option<Heading>, Found<T>, usize);

/// Reads a journal whose heading is acceptable.
fn read<T: DeserializeOwned>(
    path: &Path,
    text: &[u8],
    acceptable: impl Fn(&Heading) -> Result<(), Refusal>,
) -> Result<Whole<T>, Refusal> {
    let bad = |why: String| not_a_journal(path, why);
    let (mut heading, mut found, mut sound) = (None, Found::new(), 0);
    for (line, number) in text.split_inclusive(|b| *b == b'\n').zip(1..) {
        // Only the last line can be incomplete; it then lacks the line end.
        if !line.ends_with(b"\n") {
            break;
        }
        let Some(json) = checked(line) else {
            return Err(bad(unsound(line, number)));
        };
        let unreadable = |e: serde_json::Error| {
            let why = e.to_string();
            let what = why.rsplit_once(" at line ").map_or(why.as_str(), |(what, _)| what);
            bad(format!("line {number}, column {}: {what}", e.column()))
        };
        if heading.is_none() {
            let head = serde_json::from_slice::<Heading>(json).map_err(unreadable)?;
            if !head.sound() {
                return Err(bad(format!("it says that it is part {} of {}", head.part.0, head.part.1)));
            }
            acceptable(&head)?;
            heading = Some(head);
        } else {
            let entry = serde_json::from_slice::<Entry<T>>(json).map_err(unreadable)?;
            found.insert(entry.item, entry.found);
        }
        sound += line.len();
    }
    Ok((heading, found, sound))
}

fn bytes(path: &Path) -> Result<Vec<u8>, Refusal> {
    let why = |e: std::io::Error| match e.kind() {
        std::io::ErrorKind::NotFound => "there is no such file; check the path (the journal of a part \
            has a name like out.1-of-2.journal)"
            .to_owned(),
        _ => format!("{e}; check the path"),
    };
    std::fs::read(path).map_err(|e| Refusal::new(format!("the journal {} cannot be read: {}", path.display(), why(e))))
}

/// The heading of a journal with any kind of items.
pub fn heading(path: &Path) -> Result<Heading, Refusal> {
    let (heading, ..) = read::<serde::de::IgnoredAny>(path, &bytes(path)?, |_| Ok(()))?;
    heading.ok_or_else(|| not_a_journal(path, "it has no whole line"))
}

/// Joins the journals of all parts of a study. The error names a part that is missing, given twice or incomplete.
pub fn gather<T: DeserializeOwned>(paths: &[PathBuf], wanted: &Heading) -> Result<Found<T>, Refusal> {
    let parts = |why: String| Refusal::new(why + "; gather each part exactly once");
    let of = wanted.part.1;
    let (mut all, mut seen) = (Found::new(), BTreeMap::new());
    for path in paths {
        let own = heading(path)?;
        same(path, &own, &Heading { part: own.part, ..wanted.clone() })?;
        let (k, own_of) = own.part;
        if own_of != of {
            return Err(parts(format!("{} is a part of {own_of}, not of {of}", path.display())));
        }
        if let Some(other) = seen.insert(k, path) {
            return Err(parts(format!("part {k} is there twice: {} and {}", other.display(), path.display())));
        }
        let (_, found, _) = read(path, &bytes(path)?, |_| Ok(()))?;
        let (left, due) = (own.due().filter(|item| !found.contains_key(item)).count(), own.due().count());
        if left > 0 {
            let (path, have) = (path.display(), due - left);
            return Err(parts(format!("part {k} in {path} has {have} of {due} done: run it again to finish it")));
        }
        all.extend(found);
    }
    let missing: Vec<String> =
        (1..=of).filter(|k| !seen.contains_key(k)).take(NAMED + 1).map(|k| k.to_string()).collect();
    if missing.is_empty() {
        return Ok(all);
    }
    let more = if missing.len() > NAMED { " and more" } else { "" };
    let named = missing.iter().take(NAMED).cloned().collect::<Vec<_>>().join(", ");
    Err(parts(format!("of {of} parts these are missing: {named}{more}")))
}

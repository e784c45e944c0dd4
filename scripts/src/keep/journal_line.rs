//! A line of a journal: a completed item or the heading as JSON, with the CRC-32 of its text.

use crate::read::refusal::Refusal;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
use std::fmt::Display;

/// Length of a line's CRC with the space before it, characters.
const CRC: usize = 9;

/// A completed item: its number, from 0, and its result.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub(super) struct Entry<T> {
    pub item: u64,
    pub found: T,
}

/// The error of a result that JSON cannot represent.
fn unwritable(why: impl Display) -> Refusal {
    Refusal::new(format!("a result cannot be written down: {why}; this is a mistake of the program"))
}

/// A completed item with its journal line.
pub struct Made<T> {
    pub(super) line: Vec<u8>,
    pub(super) entry: Entry<T>,
}

impl<T: Serialize + DeserializeOwned + PartialEq> Made<T> {
    /// The result of an item, and its line. The line is read back once, because a number without a representation in JSON would be
    /// lost.
    pub fn of(item: u64, found: T) -> Result<Self, Refusal> {
        let entry = Entry { item, found };
        let line = line(&entry)?;
        if checked(&line).and_then(|json| serde_json::from_slice(json).ok()).is_some_and(|read: Entry<T>| read == entry)
        {
            return Ok(Self { line, entry });
        }
        Err(unwritable(format!("item {item} holds a number that is not finite")))
    }
}

/// The line of a value.
pub(super) fn line(value: &impl Serialize) -> Result<Vec<u8>, Refusal> {
    let mut line = serde_json::to_vec(value).map_err(unwritable)?;
    let sum = crc32fast::hash(&line);
    line.extend(format!(" {sum:08x}\n").bytes());
    Ok(line)
}

/// The text of a complete line before its CRC, if the CRC is right.
pub(super) fn checked(line: &[u8]) -> Option<&[u8]> {
    let (json, sum) = line.strip_suffix(b"\n")?.split_last_chunk::<CRC>()?;
    (format!(" {:08x}", crc32fast::hash(json)).as_bytes() == sum).then_some(json)
}

/// Reason why a complete line is rejected.
pub(super) fn unsound(line: &[u8], number: usize) -> String {
    if number == 1 && line.starts_with(b"{\"program\":") && line.ends_with(b"}\n") {
        return "it is of an earlier version of the program, without a check on each line; run the study again"
            .to_owned();
    }
    if number == 1 && !line.starts_with(b"{") {
        return "its first line is no heading".to_owned();
    }
    format!("line {number} is not as it was written (its check does not fit); take that file from a copy")
}

//! The first line of a journal: the study that it belongs to.

use crate::read::refusal::Refusal;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::path::Path;

/// Largest number of parts of a study.
pub const PARTS: u64 = 100_000;
/// Identity of the study that a journal belongs to.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Heading {
    /// program and version
    pub program: String,
    /// SHA-256 of the script
    pub script_hash: String,
    /// parameters with the values used or set
    pub parameters: BTreeMap<String, f64>,
    /// SHA-256 of the files that the script reads or names
    pub files: BTreeMap<String, String>,
    /// purpose of the script
    pub aim: serde_json::Value,
    /// SHA-256 of the machines and duties
    pub compared: String,
    /// items of the whole study
    pub items: u64,
    /// number of consecutive items that stay in one part
    pub group: u64,
    /// definition of the end of a life, if the items are lives; none in journals of versions that counted the oil's
    /// limit as an end
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ends: Option<String>,
    /// whether blocks are skipped
    pub skipping: bool,
    /// number of this part, and number of parts
    pub part: (u64, u64),
}

impl Heading {
    /// Numbers of this part's items.
    pub fn due(&self) -> impl Iterator<Item = u64> {
        let (group, (k, of)) = (self.group, self.part);
        (0..self.items).filter(move |item| (item / group) % of == k - 1)
    }

    /// Whether the numbers are consistent; a heading is read from a file.
    pub(crate) fn sound(&self) -> bool {
        let (k, of) = self.part;
        (1..=of).contains(&k) && of <= PARTS && self.group > 0
    }
}

/// Fails if a journal belongs to another study.
pub(crate) fn same(path: &Path, there: &Heading, wanted: &Heading) -> Result<(), Refusal> {
    let differs = [
        (there.program != wanted.program)
            .then(|| format!("the program: {} there, {} here", there.program, wanted.program)),
        (there.script_hash != wanted.script_hash).then(|| "the script".to_owned()),
        differing("parameter", &there.parameters, &wanted.parameters, ToString::to_string),
        differing("file", &there.files, &wanted.files, |hash| format!("SHA-256 {}…", hash.get(..8).unwrap_or(hash))),
        (there.aim != wanted.aim).then(|| "its size or seed".to_owned()),
        (there.compared != wanted.compared || there.items != wanted.items || there.group != wanted.group)
            .then(|| "a machine or a duty".to_owned()),
        (there.ends != wanted.ends).then(|| {
            let counted = "the first part at its limit, the oil among them";
            let of = |heading: &Heading| heading.ends.clone().unwrap_or_else(|| counted.to_owned());
            format!("what ends a life: {} there, {} here", of(there), of(wanted))
        }),
        (there.skipping != wanted.skipping).then(|| "the use of --no-skip".to_owned()),
        (there.part != wanted.part).then(|| "the part".to_owned()),
    ];
    match differs.into_iter().flatten().next() {
        Some(what) => Err(Refusal::new(format!(
            "{} is the journal of another study, which differs in {what}; finish that study, delete its journal, or choose another --out",
            path.display()
        ))),
        None => Ok(()),
    }
}

/// The first name for which two lists differ, and the difference.
fn differing<T: PartialEq>(
    kind: &str,
    there: &BTreeMap<String, T>,
    here: &BTreeMap<String, T>,
    show: impl Fn(&T) -> String,
) -> Option<String> {
    let name = there.keys().chain(here.keys()).find(|name| there.get(*name) != here.get(*name))?;
    let of = |list: &BTreeMap<String, T>| list.get(name).map_or_else(|| "none".to_owned(), &show);
    Some(format!("the {kind} `{name}`: {} there, {} here", of(there), of(here)))
}

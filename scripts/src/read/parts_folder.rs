//! Files that a script may read: parts and traces beside it, in `parts` or `../parts`, then the shipped ones, and nothing
//! else.

use crate::read::file::instead;
use crate::read::hash::hash;
use crate::read::refusal::Refusal;
use crate::read::shipped;
use crate::read::units::nearest;
use crate::read::variant::{BUILT_IN, built_in};
use std::cell::{Cell, RefCell};
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};
use std::rc::Rc;

/// Size limit of a parts file or trace, bytes.
const LARGEST: u64 = 2_000_000;

/// About a name that occurs only while a long study runs.
const LATE: &str = "is read by a duty of a long study, which must know its files beforehand so that its parts and its journal \
    fit together; write the name out in the script, or read the file outside the duty";
/// About a file that is no longer the one with which a study began.
const CHANGED: &str =
    "has changed since the study began; put the earlier file back, or begin the study anew with another --out";

/// Where a script's files are looked for, in messages.
const PLACES: &str = "beside the script, in parts or in ../parts";

/// Files by their names, each with the SHA-256 of its text.
pub type Hashes = BTreeMap<String, String>;

/// The folders that a script may read from.
#[derive(Clone, Debug, Default)]
pub struct PartsFolder {
    folders: Vec<PathBuf>,
    /// whether the script is a shipped one, which reads the shipped files alone
    shipped: bool,
    /// shipped files read by a script that is not shipped
    instead: Rc<RefCell<BTreeSet<String>>>,
    /// files read so far
    given: Rc<RefCell<Hashes>>,
    /// the only files that may be read, if restricted
    sealed: Rc<RefCell<Option<Hashes>>>,
    /// whether a file was requested since this was last checked
    used: Rc<Cell<bool>>,
}

impl PartsFolder {
    /// The script's own folder, `parts` and `../parts`, as far as they exist; of a shipped script the files inside the
    /// program alone.
    pub fn beside(script: &Path) -> Self {
        if shipped::instead_of(script, ".rhai").is_some() {
            return Self { shipped: true, ..Self::default() };
        }
        let own = script.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let folders = [own.to_owned(), own.join("parts"), own.join("../parts")];
        Self { folders: folders.iter().filter_map(|f| f.canonicalize().ok()).collect(), ..Self::default() }
    }

    /// Whether a file was requested since the last call: words that read files are slow.
    pub(crate) fn used(&self) -> bool {
        self.used.take()
    }

    /// The files read so far, and those named by texts in the script.
    pub(crate) fn known(&self, texts: impl IntoIterator<Item = String>) -> Hashes {
        for name in texts {
            for ending in [".json", ".csv", ".gpx"] {
                let file = format!("{}{ending}", name.strip_suffix(ending).unwrap_or(&name));
                if !name.contains('\0') && self.has(&file) {
                    // An unreadable file is reported when it is requested.
                    let _ = self.read("file", &name, ending);
                }
            }
        }
        self.given.borrow().clone()
    }

    fn has(&self, file: &str) -> bool {
        shipped::named(file).is_some() || self.folders.iter().any(|folder| folder.join(file).is_file())
    }

    /// The shipped files read since the last call where there was no such file of one's own, as notes.
    pub(crate) fn notes(&self) -> Vec<String> {
        let files = self.instead.take();
        files.iter().map(|file| format!("note: {file} is the shipped one; there is no such file {PLACES}")).collect()
    }

    /// Restricts reading to these files, with unchanged contents.
    pub(crate) fn seal(&self, files: &Hashes) {
        self.sealed.replace(Some(files.clone()));
    }

    /// The text of a file of that name, a machine, trace, recording, calibration or stock, with that ending (which the name may omit).
    pub fn read(&self, what: &'static str, name: &str, ending: &str) -> Result<String, Refusal> {
        self.used.set(true);
        let plain = !name.is_empty()
            && !name.contains(['/', '\\', ':', '\0'])
            && !name.contains("..")
            && !name.starts_with('.');
        if !plain {
            return Err(Refusal::new(format!("`{name}`: folders are not allowed here; name a file {PLACES}")));
        }
        let file = if name.ends_with(ending) { name.to_owned() } else { format!("{name}{ending}") };
        for folder in &self.folders {
            let path = folder.join(&file);
            if fs::symlink_metadata(&path).is_err() {
                continue;
            }
            let unreadable = |why: String| Refusal::new(format!("`{file}` cannot be read: {why}"));
            let real = path.canonicalize().map_err(|e| unreadable(e.to_string()))?;
            if !self.folders.iter().any(|f| real.starts_with(f)) {
                let why = "leads out of the script's folder, parts and ../parts; copy the file there instead of linking to it";
                return Err(Refusal::new(format!("`{file}` {why}")));
            }
            let about = fs::metadata(&real).map_err(|e| unreadable(e.to_string()))?;
            if !about.is_file() {
                return Err(unreadable("it is not a file".to_owned()));
            }
            if about.len() > LARGEST {
                return Err(Refusal::new(format!("`{file}` has {} bytes; the most allowed is {LARGEST}", about.len())));
            }
            let bytes = fs::read(&real).map_err(|e| unreadable(e.to_string()))?;
            let text = crate::read::encoding::decoded(bytes).map_err(unreadable)?;
            self.note(file, &text)?;
            return Ok(text);
        }
        if let Some((_, text)) = shipped::named(&file) {
            if !self.shipped {
                self.instead.borrow_mut().insert(file.clone());
            }
            self.note(file, text)?;
            return Ok(text.to_owned());
        }
        let stem = name.trim_end_matches(ending);
        let instead = match built_in(&stem.to_lowercase()) {
            Some(_) => format!("did you mean `{BUILT_IN}`?"),
            None => instead(stem, &self.folders, ending.trim_start_matches('.')),
        };
        let track = format!("{stem}.gpx");
        let tracked =
            self.folders.iter().any(|folder| folder.join(&track).is_file()) || shipped::named(&track).is_some();
        if what == "trace" && tracked {
            let instead = format!("`{track}` is a recording: write `recording(\"{track}\")`");
            return Err(Refusal::new(format!("there is no trace `{file}`; {instead}")));
        }
        let near = || nearest(stem, shipped::ending_in(ending)).map(|near| format!("did you mean `{near}`?"));
        let instead = if instead.ends_with('?') { instead } else { near().unwrap_or(instead) };
        let folders = self.folders.iter().map(|folder| folder.display().to_string()).collect::<Vec<_>>().join(" and ");
        Err(Refusal::new(format!("there is no {what} `{file}` {PLACES} (looked in {folders}); {instead}")))
    }

    fn note(&self, file: String, text: &str) -> Result<(), Refusal> {
        let found = hash(text);
        if let Some(sealed) = &*self.sealed.borrow() {
            match sealed.get(&file) {
                None => return Err(Refusal::new(format!("`{file}` {LATE}"))),
                Some(known) if *known != found => return Err(Refusal::new(format!("`{file}` {CHANGED}"))),
                Some(_) => {}
            }
        }
        self.given.borrow_mut().insert(file, found);
        Ok(())
    }
}

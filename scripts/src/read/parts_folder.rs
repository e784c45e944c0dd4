//! Files that a script may read: parts and traces beside it or in `../parts`, and nothing else.

use crate::read::file::instead;
use crate::read::hash::hash;
use crate::read::variant::{BUILT_IN, built_in};
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::rc::Rc;
use thiserror::Error;

/// Size limit of a parts file or trace, bytes.
const LARGEST: u64 = 2_000_000;

/// Reason why a file is not read.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum PartsFolderError {
    /// the name is a path
    #[error("`{name}`: folders are not allowed here; name a file beside the script or in ../parts")]
    Path {
        /// as given
        name: String,
    },
    /// there is no such file
    #[error("there is no {what} `{name}` beside the script or in ../parts (looked in {folders}); {instead}")]
    Missing {
        /// kind of file
        what: &'static str,
        /// as given
        name: String,
        /// folders, with their paths
        folders: String,
        /// what stands there instead
        instead: String,
    },
    /// a link to a file elsewhere
    #[error("`{name}` leads out of the script's folder and ../parts; copy the file there instead of linking to it")]
    Outside {
        /// as given
        name: String,
    },
    /// too large
    #[error("`{name}` has {bytes} bytes; the most allowed is {LARGEST}")]
    Large {
        /// as given
        name: String,
        /// size
        bytes: u64,
    },
    /// not readable
    #[error("`{name}` cannot be read: {why}")]
    Unreadable {
        /// as given
        name: String,
        /// reason of the system
        why: String,
    },
    /// a name that occurs only while a long study runs
    #[error(
        "`{name}` is read by a duty of a long study, which must know its files beforehand so that its parts and its journal \
         fit together; write the name out in the script, or read the file outside the duty"
    )]
    Late {
        /// as given
        name: String,
    },
    /// changed since the study began
    #[error(
        "`{name}` has changed since the study began; put the earlier file back, or begin the study anew with another --out"
    )]
    Changed {
        /// as given
        name: String,
    },
}

/// Files by their names, each with the SHA-256 of its text.
pub type Hashes = BTreeMap<String, String>;

/// The folders that a script may read from.
#[derive(Clone, Debug, Default)]
pub struct PartsFolder {
    folders: Vec<PathBuf>,
    /// files read so far
    given: Rc<RefCell<Hashes>>,
    /// the only files that may be read, if restricted
    sealed: Rc<RefCell<Option<Hashes>>>,
    /// whether a file was requested since this was last checked
    used: Rc<Cell<bool>>,
}

impl PartsFolder {
    /// The script's own folder and `../parts`, as far as they exist.
    pub fn beside(script: &Path) -> Self {
        let own = script.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."));
        let folders = [own.to_owned(), own.join("../parts")];
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
                if !name.contains('\0') && self.folders.iter().any(|folder| folder.join(&file).is_file()) {
                    // An unreadable file is reported when it is requested.
                    let _ = self.read("file", &name, ending);
                }
            }
        }
        self.given.borrow().clone()
    }

    /// Restricts reading to these files, with unchanged contents.
    pub(crate) fn seal(&self, files: &Hashes) {
        self.sealed.replace(Some(files.clone()));
    }

    /// The text of a file of that name, a machine, trace, recording, calibration or stock, with that ending (which the name may omit).
    pub fn read(&self, what: &'static str, name: &str, ending: &str) -> Result<String, PartsFolderError> {
        self.used.set(true);
        let plain = !name.is_empty()
            && !name.contains(['/', '\\', ':', '\0'])
            && !name.contains("..")
            && !name.starts_with('.');
        if !plain {
            return Err(PartsFolderError::Path { name: name.to_owned() });
        }
        let file = if name.ends_with(ending) { name.to_owned() } else { format!("{name}{ending}") };
        for folder in &self.folders {
            let path = folder.join(&file);
            if fs::symlink_metadata(&path).is_err() {
                continue;
            }
            let unreadable =
                |e: std::io::Error| PartsFolderError::Unreadable { name: file.clone(), why: e.to_string() };
            let real = path.canonicalize().map_err(unreadable)?;
            if !self.folders.iter().any(|f| real.starts_with(f)) {
                return Err(PartsFolderError::Outside { name: file });
            }
            let about = fs::metadata(&real).map_err(unreadable)?;
            if !about.is_file() {
                return Err(PartsFolderError::Unreadable { name: file, why: "it is not a file".to_owned() });
            }
            if about.len() > LARGEST {
                return Err(PartsFolderError::Large { name: file, bytes: about.len() });
            }
            let bytes = fs::read(&real).map_err(unreadable)?;
            let unreadable = |why| PartsFolderError::Unreadable { name: file.clone(), why };
            let text = crate::read::file::decoded(bytes).map_err(unreadable)?;
            self.note(file, &text)?;
            return Ok(text);
        }
        let stem = name.trim_end_matches(ending);
        let instead = match built_in(&stem.to_lowercase()) {
            Some(_) => format!("did you mean `{BUILT_IN}`?"),
            None => instead(stem, &self.folders, ending.trim_start_matches('.')),
        };
        let folders = self.folders.iter().map(|folder| folder.display().to_string()).collect::<Vec<_>>().join(" and ");
        Err(PartsFolderError::Missing { what, name: file, folders, instead })
    }

    fn note(&self, file: String, text: &str) -> Result<(), PartsFolderError> {
        let found = hash(text);
        if let Some(sealed) = &*self.sealed.borrow() {
            match sealed.get(&file) {
                None => return Err(PartsFolderError::Late { name: file }),
                Some(known) if *known != found => return Err(PartsFolderError::Changed { name: file }),
                Some(_) => {}
            }
        }
        self.given.borrow_mut().insert(file, found);
        Ok(())
    }
}

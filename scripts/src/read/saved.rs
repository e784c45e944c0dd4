//! Saved results; each file is read by the kind that it states.

use crate::read::file;
use crate::read::refusal::Refusal;
use serde_json::error::Category;
use slipsoak_engine::document::{Keys, Kind, Saved};
use slipsoak_engine::record::Record;
use std::path::Path;
use thiserror::Error;

/// What is said of a file that people write, and of a calibration without its evidence.
const A_PART: &str = "is not a result of this program: it holds a machine or a stock, not a result; `slipsoak run SCRIPT --out DIR` writes one";
const CONSTANTS_ONLY: &str = "holds learned constants only, for scripts; take the told.json that was written beside it";

/// Reason why a text is not a result of a known kind.
#[derive(Clone, Debug, PartialEq, Eq, Error)]
pub(crate) enum KindError {
    /// a file that people write, not a result
    #[error("it holds a machine or a stock")]
    APart,
    /// no kind, as in results of early versions, or an unknown one
    #[error("{0}")]
    Unknown(String),
}

/// The kind that a text states, or the reason why there is none; an error if it is no JSON object.
pub(crate) fn kind(text: &str) -> serde_json::Result<Result<Kind, KindError>> {
    let keys = Keys::of(text)?;
    let Some(said) = &keys.kind else {
        let earlier = "it does not say its kind, so it is of an earlier version: run its script again".to_owned();
        return Ok(Err(if keys.of_parts() { KindError::APart } else { KindError::Unknown(earlier) }));
    };
    let known: Vec<&str> = Kind::ALL.iter().map(|kind| kind.name()).collect();
    let unknown = || KindError::Unknown(format!("its kind is {said}, which is not known; kinds: {}", known.join(", ")));
    Ok(Kind::ALL.iter().copied().find(|kind| *said == kind.name()).ok_or_else(unknown))
}

/// Reads a saved result of any kind, and checks it.
pub fn read(path: &Path) -> Result<Saved, Refusal> {
    let mut files = Kind::ALL.iter().filter(|kind| **kind != Kind::Calibration).map(|kind| path.join(kind.file()));
    let inside = if path.is_dir() { files.find(|file| file.is_file()) } else { None };
    let path = inside.as_deref().unwrap_or(path);
    let text = file::text(path, file::Kind::Result)?;
    let of = |why: &str| format!("{} {why}", path.display());
    let not = |why: String, advice| Refusal::new(of(&format!("is not a result of this program: {why}{advice}")));
    let advice = |e: &serde_json::Error| match e.classify() {
        Category::Eof => "; is it cut short?",
        Category::Data => "; another version may have written it: run its script again",
        Category::Syntax | Category::Io => "; a result is JSON, as `run` writes it",
    };
    let kind = kind(&text).map_err(|e| not(e.to_string(), advice(&e)))?.map_err(|why| match why {
        KindError::APart => Refusal::of_command(of(A_PART)),
        KindError::Unknown(why) => not(why, ""),
    })?;
    if kind == Kind::Calibration {
        return Err(Refusal::of_command(of(CONSTANTS_ONLY)));
    }
    let saved = document(kind, &text).map_err(|e| not(e.to_string(), advice(&e)))?;
    saved.check().map_err(|why| not(why, "; run again what wrote it"))?;
    Ok(saved)
}

/// The document of a kind in a text; text after it is an error.
pub(crate) fn document(kind: Kind, text: &str) -> serde_json::Result<Saved> {
    if kind == Kind::Record {
        return Record::from_json(text).map(Saved::from);
    }
    let mut from = serde_json::Deserializer::from_str(text);
    let saved = Saved::read(kind, &mut from)?;
    from.end()?;
    Ok(saved)
}

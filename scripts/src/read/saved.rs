//! Saved results and their schemas: reading dispatches on the kind that each file says it is.

use crate::keep::output::Unwritten;
use crate::read::given;
use crate::read::stock::Stock;
use serde::Deserialize;
use serde::de::IgnoredAny;
use serde_json::error::Category;
use slipsoak_engine::document::{Kind, Saved};
use std::path::Path;

/// The name of the schema that belongs to no result.
const STOCK: &str = "stock";

/// The first key of a document, and keys of machines and stocks, which are none.
#[derive(Deserialize)]
struct Says {
    kind: Option<serde_json::Value>,
    about: Option<IgnoredAny>,
    vehicle: Option<IgnoredAny>,
}

/// Why a text is no result of a kind that is known.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub(crate) enum NoKind {
    /// it is something that people write
    #[error("it holds a machine or a stock")]
    APart,
    /// results of before did not say their kind
    #[error("it does not say its kind, so it is of an earlier version: run its script again")]
    Earlier,
    /// it says another
    #[error("its kind is {said}, which is not known; kinds: {known}")]
    Unknown {
        /// what it says
        said: String,
        /// every kind
        known: String,
    },
}

/// The kind that a text says it is, or why that is none; an error where it is no object of JSON.
pub(crate) fn kind(text: &str) -> serde_json::Result<Result<Kind, NoKind>> {
    let says: Says = serde_json::from_str(text)?;
    let Some(said) = says.kind else {
        return Ok(Err(if says.about.or(says.vehicle).is_some() { NoKind::APart } else { NoKind::Earlier }));
    };
    let known: Vec<&str> = Kind::ALL.iter().map(|kind| kind.name()).collect();
    let unknown = || NoKind::Unknown { said: said.to_string(), known: known.join(", ") };
    Ok(Kind::ALL.iter().copied().find(|kind| said == kind.name()).ok_or_else(unknown))
}

/// Reads a saved result, of whatever kind, and checks it.
pub fn read(path: &Path) -> Result<Saved, crate::Trouble> {
    let mut files = Kind::ALL.iter().filter(|kind| **kind != Kind::Calibration).map(|kind| path.join(kind.file()));
    let inside = if path.is_dir() { files.find(|file| file.is_file()) } else { None };
    let path = inside.as_deref().unwrap_or(path);
    let text = given::text(path, given::Kind::Result)?;
    let not = |why: String, advice| Unwritten::NotAResult { path: path.to_owned(), why, advice };
    let advice = |e: &serde_json::Error| match e.classify() {
        Category::Eof => "; is it cut short?",
        Category::Data => "; another version may have written it: run its script again",
        Category::Syntax | Category::Io => "; a result is JSON, as `run` writes it",
    };
    let kind = kind(&text).map_err(|e| not(e.to_string(), advice(&e)))?.map_err(|why| match why {
        NoKind::APart => Unwritten::APart(path.to_owned()),
        other => not(other.to_string(), ""),
    })?;
    if kind == Kind::Calibration {
        return Err(Unwritten::ConstantsOnly(path.to_owned()).into());
    }
    let saved = document(kind, &text).map_err(|e| not(e.to_string(), advice(&e)))?;
    saved.check().map_err(|why| not(why, "; run again what wrote it"))?;
    Ok(saved)
}

/// The document of a kind that a text holds, and nothing behind it.
pub(crate) fn document(kind: Kind, text: &str) -> serde_json::Result<Saved> {
    let mut from = serde_json::Deserializer::from_str(text);
    let saved = Saved::read(kind, &mut from)?;
    from.end()?;
    Ok(saved)
}

/// The names of all schemas, each with what it describes.
pub(crate) fn schemas() -> impl Iterator<Item = (&'static str, &'static str)> {
    let kinds = Kind::ALL.iter().map(|kind| (kind.name(), kind.meaning()));
    kinds.chain([(STOCK, "a stock of springs, as `choose` reads it")])
}

/// The JSON schema of that name, for people to read: of a result as this program writes it, in which a life that has no end has
/// its key too; of a stock as it is read.
pub fn schema(of: &str) -> String {
    let settings = schemars::generate::SchemaSettings::draft2020_12();
    let schema = match Kind::ALL.iter().find(|kind| kind.name() == of) {
        Some(kind) => Saved::schema(*kind, settings.for_serialize().into_generator()),
        None => settings.into_generator().into_root_schema_for::<Stock>(),
    };
    let mut text = serde_json::to_string_pretty(&schema).unwrap_or_default();
    text.push('\n');
    text
}

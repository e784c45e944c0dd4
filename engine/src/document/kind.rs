//! Common properties of documents, and the first key of each file, which states its kind.

use super::Kind;
use super::head::Head;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::{DeserializeOwned, Error};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::borrow::Cow;
use std::fmt;
use std::marker::PhantomData;

/// A result that can be saved.
pub trait Document: Serialize + DeserializeOwned + JsonSchema + PartialEq {
    /// its kind
    const KIND: Kind;

    /// Program that wrote it, its inputs, and the command that gives it again.
    fn head(&self) -> &Head;

    /// Checks every index and length on which drawing depends; the error says what is damaged.
    fn check(&self) -> Result<(), String>;
}

/// Marker of a document's kind; in a file, the name of the kind.
pub struct Is<D>(PhantomData<fn() -> D>);

impl<D> Default for Is<D> {
    fn default() -> Self {
        Self(PhantomData)
    }
}

impl<D> Clone for Is<D> {
    fn clone(&self) -> Self {
        *self
    }
}

impl<D> Copy for Is<D> {}

impl<D> PartialEq for Is<D> {
    fn eq(&self, _: &Self) -> bool {
        true
    }
}

impl<D: Document> fmt::Debug for Is<D> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(D::KIND.name())
    }
}

impl<D: Document> Serialize for Is<D> {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        D::KIND.serialize(serializer)
    }
}

impl<'de, D: Document> Deserialize<'de> for Is<D> {
    fn deserialize<E: Deserializer<'de>>(deserializer: E) -> Result<Self, E::Error> {
        match Kind::deserialize(deserializer)? {
            kind if kind == D::KIND => Ok(Self::default()),
            other => Err(E::Error::custom(format!("its kind is `{}`, not `{}`", other.name(), D::KIND.name()))),
        }
    }
}

impl<D: Document> JsonSchema for Is<D> {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> Cow<'static, str> {
        D::KIND.name().into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "const": D::KIND.name() })
    }
}

//! Common properties of documents, and the first key of each file, which states its kind.

use super::Kind;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::de::Error;
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::borrow::Cow;
use std::marker::PhantomData;

/// A result that can be saved.
pub trait Document {
    /// its kind
    const KIND: Kind;
}

/// Marker of a document's kind; in a file, the name of the kind.
#[derive(Clone, Debug, PartialEq)]
pub struct Is<D>(PhantomData<fn() -> D>);

impl<D> Default for Is<D> {
    fn default() -> Self {
        Self(PhantomData)
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

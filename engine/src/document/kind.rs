//! Common properties of documents, and the first key of each file, which states its kind.

use super::Kind;
use serde::de::{Error, IgnoredAny};
use serde::{Deserialize, Deserializer, Serialize, Serializer};
use std::marker::PhantomData;

/// A result that can be saved.
pub trait Document {
    /// its kind
    const KIND: Kind;
}

/// Marker of a document's kind; in a file, the name of the kind.
#[derive(Clone, Debug, PartialEq)]
pub struct Is<D>(PhantomData<fn() -> D>);

/// Keys by which a JSON text is recognised: a document by its kind, machines and stocks by theirs.
#[derive(Debug, Deserialize)]
pub struct Keys {
    /// the kind that it states
    pub kind: Option<serde_json::Value>,
    about: Option<IgnoredAny>,
    vehicle: Option<IgnoredAny>,
    springs: Option<IgnoredAny>,
}

impl Keys {
    /// Those of a text; an error if it is no JSON object. Texts are long, and the program is not optimised.
    pub fn of(text: &str) -> serde_json::Result<Self> {
        serde_json::from_str(text)
    }

    /// Whether some are those of a machine or a stock.
    pub fn of_parts(&self) -> bool {
        self.about.or(self.vehicle).or(self.springs).is_some()
    }
}

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

#[cfg(feature = "schemas")]
impl<D: Document> schemars::JsonSchema for Is<D> {
    fn inline_schema() -> bool {
        true
    }

    fn schema_name() -> std::borrow::Cow<'static, str> {
        D::KIND.name().into()
    }

    fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
        schemars::json_schema!({ "const": D::KIND.name() })
    }
}

//! Common properties of documents, their kinds, and the first key of each file, which states its kind.

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

/// Defines the enum of kinds with their names and meanings.
macro_rules! kinds {
    ($($(#[doc = $meaning:literal])+ $kind:ident = $name:literal,)+) => {
        /// A kind of document.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
        pub enum Kind {
            $($(#[doc = $meaning])+ #[serde(rename = $name)] $kind,)+
        }

        impl Kind {
            /// Every kind.
            pub const ALL: &[Self] = &[$(Self::$kind,)+];

            /// Its name: the value of `kind` in a file, and the stem of the file's name.
            pub const fn name(self) -> &'static str {
                match self { $(Self::$kind => $name,)+ }
            }

            /// The name of its file.
            pub const fn file(self) -> &'static str {
                match self { $(Self::$kind => concat!($name, ".json"),)+ }
            }

            /// Its meaning.
            pub fn meaning(self) -> &'static str {
                match self { $(Self::$kind => concat!($($meaning),+).trim(),)+ }
            }
        }
    };
}

kinds! {
    /// runs: every machine under every duty
    Record = "record",
    /// fleets: many clutches sampled over the uncertain settings
    Fleet = "fleet",
    /// sweep: combinations of settings
    Sweep = "sweep",
    /// sensitivities: effect of each uncertain setting
    Influence = "influence",
    /// choice of a spring
    Choice = "choice",
    /// gap under the cover, and its life
    Gaps = "gaps",
    /// oiling plan
    Oiling = "oiling",
    /// learned constants, for scripts
    Calibration = "calibration",
    /// learned constants with the data against the fit
    Told = "told",
    /// a recorded ride
    Retraced = "retraced",
    /// the sheet of a machine
    Sheet = "sheet",
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

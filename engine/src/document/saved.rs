//! A saved result of any kind: the table of documents.

use super::calibration::{Calibration, Told};
use super::fleet::Report;
use super::head::Head;
use super::kind::{Document, Kind};
use super::oil_plan::OilPlan;
use super::record::Record;
use super::retraced::Retraced;
use super::sensitivity::Influences;
use super::sheet::Sheet;
use super::spring_choice::Choice;
use super::stack_up::Gaps;
use super::sweep::Sweep;
use schemars::{Schema, SchemaGenerator};
use serde::{Deserialize, Deserializer, Serialize, Serializer};

/// Defines the enum of documents, and their common methods.
macro_rules! documents {
    ($($kind:ident($document:ty),)+) => {
        /// A saved result.
        #[derive(Clone, Debug, PartialEq)]
        pub enum Saved {
            $(#[doc = concat!("of the kind `", stringify!($kind), "`")] $kind(Box<$document>),)+
        }

        impl Saved {
            /// Its kind.
            pub fn kind(&self) -> Kind {
                match self { $(Self::$kind(_) => <$document>::KIND,)+ }
            }

            /// Program that wrote it, its inputs, and the command that gives it again.
            pub fn head(&self) -> &Head {
                match self { $(Self::$kind(document) => document.head(),)+ }
            }

            /// Checks every index and length on which drawing depends; the error says what is damaged.
            pub fn check(&self) -> Result<(), String> {
                match self { $(Self::$kind(document) => document.check(),)+ }
            }

            /// Reads a document of this kind.
            pub fn read<'de, D: Deserializer<'de>>(kind: Kind, from: D) -> Result<Self, D::Error> {
                match kind { $(Kind::$kind => Box::deserialize(from).map(Self::$kind),)+ }
            }

            /// The schema of this kind.
            pub fn schema(kind: Kind, generator: SchemaGenerator) -> Schema {
                match kind { $(Kind::$kind => generator.into_root_schema_for::<$document>(),)+ }
            }
        }

        impl Serialize for Saved {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                match self { $(Self::$kind(document) => document.serialize(serializer),)+ }
            }
        }

        $(impl From<$document> for Saved {
            fn from(document: $document) -> Self {
                Self::$kind(Box::new(document))
            }
        })+
    };
}

documents! {
    Record(Record),
    Fleet(Report),
    Sweep(Sweep),
    Influence(Influences),
    Choice(Choice),
    Gaps(Gaps),
    Oiling(OilPlan),
    Calibration(Calibration),
    Told(Told),
    Retraced(Retraced),
    Sheet(Sheet),
}

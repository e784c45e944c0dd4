//! What follows from the table of documents: their kinds, and a saved result of any kind.

/// Defines the kinds of documents with their meanings and names, and the documents, owned and borrowed.
///
/// A row states a meaning, the kind, its name in files, and the type; then where its head is, if not in `head`.
macro_rules! documents {
    (@head $document:ident) => { $document.head };
    (@head $document:ident $($head:ident).+) => { $document.$($head).+ };
    ($($(#[doc = $meaning:literal])+ $kind:ident = $name:literal, $document:ty $(, $($head:ident).+)?;)+) => {
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

        /// A saved result.
        #[derive(Clone, Debug, PartialEq)]
        pub enum Saved {
            $(#[doc = concat!("of the kind `", stringify!($kind), "`")] $kind(Box<$document>),)+
        }

        /// A result of any kind, borrowed.
        #[derive(Clone, Copy, Debug)]
        pub enum Shown<'a> {
            $(#[doc = concat!("of the kind `", stringify!($kind), "`")] $kind(&'a $document),)+
        }

        impl Saved {
            /// Its kind.
            pub fn kind(&self) -> Kind {
                match self { $(Self::$kind(_) => Kind::$kind,)+ }
            }

            /// Itself, borrowed.
            pub fn shown(&self) -> Shown<'_> {
                match self { $(Self::$kind(document) => Shown::$kind(document),)+ }
            }

            /// Program that wrote it, its inputs, and the command that gives it again.
            pub fn head(&self) -> &Head {
                match self { $(Self::$kind(document) => &documents!(@head document $($($head).+)?),)+ }
            }

            /// The result with this head; the seeds that it names itself stay.
            #[must_use]
            pub fn headed(mut self, head: Head) -> Self {
                let own = match &mut self { $(Self::$kind(document) => &mut documents!(@head document $($($head).+)?),)+ };
                *own = Head { seeds: std::mem::take(&mut own.seeds), ..head };
                self
            }

            /// Checks every index and length on which drawing depends; the error says what is damaged.
            pub fn check(&self) -> Result<(), String> {
                match self { $(Self::$kind(document) => document.consistent(),)+ }
            }

            /// Reads a document of this kind.
            pub fn read<'de, D: Deserializer<'de>>(kind: Kind, from: D) -> Result<Self, D::Error> {
                match kind { $(Kind::$kind => Box::deserialize(from).map(Self::$kind),)+ }
            }

            /// The schema of this kind.
            #[cfg(feature = "schemas")]
            pub fn schema(kind: Kind, generator: schemars::SchemaGenerator) -> schemars::Schema {
                match kind { $(Kind::$kind => generator.into_root_schema_for::<$document>(),)+ }
            }
        }

        $(impl Document for $document {
            const KIND: Kind = Kind::$kind;
        })+

        impl Serialize for Saved {
            fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
                match self { $(Self::$kind(document) => document.serialize(serializer),)+ }
            }
        }

        $(impl From<$document> for Saved {
            fn from(document: $document) -> Self {
                Self::$kind(Box::new(document))
            }
        }

        impl<'a> From<&'a $document> for Shown<'a> {
            fn from(document: &'a $document) -> Self {
                Self::$kind(document)
            }
        })+
    };
}

pub(super) use documents;

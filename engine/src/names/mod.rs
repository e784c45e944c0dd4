//! Names in results: one row each, an enum in the code and a fixed text in files.

mod case;
mod channel;
mod idle;
mod lining;
mod moment;
mod rows;
mod task;

pub use case::{LeakCase, Oiled, Quantile};
pub use channel::{Channel, Row};
pub use idle::IdleKind;
pub use lining::LiningKind;
pub use moment::MomentOf;
pub use rows::{Book, Condition, Decision, Entry, Happening, Method, Part, Quantity, Supply};
pub use task::TaskName;

/// Things without repetition, in the order in which they first occur.
///
/// ```
/// assert_eq!(slipsoak_engine::names::distinct(["b", "a", "b"]), ["b", "a"]);
/// ```
pub fn distinct<T: PartialEq>(all: impl IntoIterator<Item = T>) -> Vec<T> {
    distinct_by(all, |a, b| a == b)
}

/// Things of which no two are the same, in the order in which they first occur.
pub fn distinct_by<T>(all: impl IntoIterator<Item = T>, same: impl Fn(&T, &T) -> bool) -> Vec<T> {
    all.into_iter().fold(vec![], |mut known, one| {
        if !known.iter().any(|other| same(other, &one)) {
            known.push(one);
        }
        known
    })
}

/// Declares an enum whose variants have a name of their own in files; lists in files are sorted by those names.
macro_rules! names {
    ($(#[$about:meta])* $name:ident { $($variant:ident = $text:literal),+ $(,)? }) => {
        $(#[$about])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, serde::Serialize, serde::Deserialize)]
        pub enum $name {
            $(#[doc = $text] #[serde(rename = $text)] $variant,)+
        }

        impl $name {
            /// Number of variants.
            pub const COUNT: usize = [$(Self::$variant),+].len();
            /// All variants, in the order of their rows.
            pub const ALL: [Self; Self::COUNT] = [$(Self::$variant),+];

            /// Its name in files.
            pub const fn name(self) -> &'static str {
                match self { $(Self::$variant => $text,)+ }
            }

            /// The variant with this name.
            pub fn named(name: &str) -> Option<Self> {
                Self::ALL.into_iter().find(|one| one.name() == name)
            }
        }

        #[cfg(feature = "schemas")]
        impl schemars::JsonSchema for $name {
            fn schema_name() -> std::borrow::Cow<'static, str> {
                stringify!($name).into()
            }

            fn json_schema(_: &mut schemars::SchemaGenerator) -> schemars::Schema {
                schemars::json_schema!({ "type": "string", "enum": [$($text),+] })
            }
        }

        impl std::fmt::Display for $name {
            fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
                f.pad(self.name())
            }
        }

        impl Ord for $name {
            fn cmp(&self, other: &Self) -> std::cmp::Ordering {
                self.name().cmp(other.name())
            }
        }

        impl PartialOrd for $name {
            fn partial_cmp(&self, other: &Self) -> Option<std::cmp::Ordering> {
                Some(self.cmp(other))
            }
        }
    };
}
use names;

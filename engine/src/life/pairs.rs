//! Pairs of rubbing faces: one row each.

use crate::document::record::Warned;
use crate::names::{Channel, Entry, Happening, Part};
use crate::parts::{Machine, ring};

/// A pair of rubbing faces, with the properties of its wear.
pub struct Rubbing {
    /// entry of the wear ledger
    pub entry: Entry,
    /// channel of its depth; pairs of the same channel wear one after another
    pub channel: Channel,
    /// depth at which it is worn through, m
    pub thickness: fn(&Machine) -> f64,
    /// area over which it wears, m²
    pub area: fn(&Machine) -> f64,
    /// the pair that carries the load before this one, until it is worn through
    pub after: Option<Pair>,
    /// part whose renewal renews it
    pub renewed_with: Part,
    /// event when it is worn through
    pub through: Happening,
    /// warning when it is worn through
    pub warned: Option<Warned>,
}

macro_rules! pairs {
    ($($(#[$about:meta])* $pair:ident: $($field:ident = $value:expr),+;)+) => {
        /// A pair of rubbing faces, named by the one that wears.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Pair { $($(#[$about])* $pair,)+ }

        impl Pair {
            /// Number of pairs.
            pub const COUNT: usize = [$(Self::$pair),+].len();
            /// All pairs, in the order of their rows.
            pub const ALL: [Self; Self::COUNT] = [$(Self::$pair),+];
        }

        /// Every pair.
        pub static PAIRS: [Rubbing; Pair::COUNT] = [$(Rubbing { $($field: $value),+ }),+];
    };
}

pairs! {
    /// lining and drum
    Lining: entry = Entry::Lining, channel = Channel::LiningWear,
        thickness = |m| m.lining.thickness, area = Machine::lining_area,
        after = None, renewed_with = Part::Lining,
        through = Happening::LiningThrough, warned = Some(Warned::WornThrough);
    /// bore of the bushing and shaft
    Bore: entry = Entry::BushingBore, channel = Channel::BushingWear,
        thickness = |m| 0.5 * (m.bushing.outside - m.bushing.bore), area = |m| m.bushing.bore * m.bushing.length,
        after = None, renewed_with = Part::Bushing,
        through = Happening::BushingThrough, warned = Some(Warned::BushingThrough);
    /// washer and bushing
    Washer: entry = Entry::Washer, channel = Channel::WasherWear,
        thickness = |m| m.washer.thickness, area = |m| ring(m.washer.inside, m.washer.outside),
        after = None, renewed_with = Part::Washer,
        through = Happening::WasherThrough, warned = Some(Warned::WasherThrough);
    /// face of the bushing on steel, once the washer is worn through
    Face: entry = Entry::BushingFace, channel = Channel::WasherWear,
        thickness = |m| m.bushing.length, area = |m| ring(m.bushing.bore, m.bushing.outside),
        after = Some(Pair::Washer), renewed_with = Part::Bushing,
        through = Happening::FaceGone, warned = None;
}

impl Pair {
    /// Its row.
    pub fn row(self) -> &'static Rubbing {
        &PAIRS[self as usize]
    }
}

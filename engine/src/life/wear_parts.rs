//! The pairs of faces that rub, and the parts that wear or reach a limit: one row each.

use crate::document::record::Warned;
use crate::names::{Channel, Entry, Happening, Part};
use crate::parts::{Dimension, Machine, ring};
use crate::units::RPM;

/// A pair of faces that rub, and what of it is worn.
pub struct Rubbing {
    /// entry of the ledger of wear
    pub entry: Entry,
    /// channel of its depth; pairs of one channel wear one after another
    pub channel: Channel,
    /// depth at which nothing of it is left, m
    pub thickness: fn(&Machine) -> f64,
    /// area over which it wears, m²
    pub area: fn(&Machine) -> f64,
    /// the pair that bears its load until nothing of that one is left
    pub after: Option<Pair>,
    /// the part that is new after a renewal
    pub renewed_with: Part,
    /// what is noted when it is worn through
    pub through: Happening,
    /// warning when it is worn through
    pub warned: Option<Warned>,
}

macro_rules! pairs {
    ($($(#[$about:meta])* $pair:ident: $($field:ident = $value:expr),+;)+) => {
        /// Two faces that rub, by the one of them that wears.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Pair { $($(#[$about])* $pair,)+ }

        impl Pair {
            /// How many there are.
            pub const COUNT: usize = [$(Self::$pair),+].len();
            /// All, in the order of their rows.
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
    /// face of the bushing and steel, once the washer is gone
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

/// How the use of a part goes on after a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goes {
    /// at its late rate
    Evenly,
    /// with the logarithm of time
    ByRelaxation,
    /// at its late rate, where that is steady
    WhereSteady,
    /// all at once, and for good
    AtOnce,
}

/// How far a part is used: 0 new, 1 at its limit.
pub enum Measure {
    /// by the depth that a pair lost, over the room for it, m
    Depth(Pair, fn(&Machine) -> f64),
    /// by the values of channels
    Channels(fn(&Machine, &dyn Fn(Channel) -> f64) -> f64),
}

/// What takes the place of a used part.
pub struct Renewal {
    /// what a record counts it as
    pub supply: &'static str,
    /// what is noted
    pub noted: Happening,
    /// whether the bushing has other oil after it than before
    pub brings_oil: bool,
    /// what it is, for a script's word; none where more has to be said than that it is new
    pub about: Option<&'static str>,
}

/// What of a machine an inspection sees.
pub struct Worn<'a> {
    /// depth that each pair lost, m
    pub depth: &'a [f64],
    /// share of spring preload lost
    pub relaxation: f64,
    /// oil in the bushing's pores and clearance, kg
    pub oil: f64,
}

impl Worn<'_> {
    fn of(&self, pair: Pair) -> f64 {
        self.depth.get(pair as usize).copied().unwrap_or(0.0)
    }
}

/// How an inspection reads a part. Deviations are assumed: what a shop's gauge, held by hand, scatters.
pub struct Inspection {
    /// name of its column
    pub name: &'static str,
    /// kind of quantity
    pub dimension: Dimension,
    /// least and greatest reading that can be, SI
    pub range: (f64, f64),
    /// standard deviation of a reading, SI
    pub gauge: f64,
    /// standard deviation of the part when new about the machine's nominal size, SI
    pub level: f64,
    /// depth lost in running in, standard deviation about none, SI; + where the reading falls with wear, − where it rises
    pub running_in: f64,
    /// setting that its wear teaches
    pub teaches: &'static str,
    /// reading of a machine that stands so, SI
    pub reads: fn(&Machine, &Worn<'_>) -> f64,
}

/// A part that wears, or a way in which one comes to its limit.
pub struct WearPart {
    /// the part
    pub part: Part,
    /// how far it is used
    pub used: Measure,
    /// how its use goes on after a run
    pub goes: Goes,
    /// the assumed constant that its life is inversely proportional to
    pub constant: Option<&'static str>,
    /// what takes its place
    pub renewal: Option<Renewal>,
    /// how an inspection reads it
    pub inspection: Option<Inspection>,
}

/// Use by a depth over the room for it; without room any depth is too much.
fn over(depth: f64, room: f64) -> f64 {
    if room > 0.0 { (depth / room).max(0.0) } else { f64::from(u8::from(depth > 0.0)) }
}

/// Density of sintered bronze with empty pores, kg/m³. Published property of the material, as in the table of heat.
const BRONZE: f64 = 6600.0;

/// Every part, in the order of the columns of an inspection.
pub static WEAR_PARTS: [WearPart; Part::COUNT] = [
    WearPart {
        part: Part::Washer,
        used: Measure::Depth(Pair::Washer, |m| m.washer.thickness - m.limits.washer),
        goes: Goes::Evenly,
        constant: Some("washer.wear_oiled"),
        renewal: Some(Renewal {
            supply: "washers",
            noted: Happening::NewWasher,
            brings_oil: true,
            about: Some("a new washer, soaked in oil"),
        }),
        inspection: Some(Inspection {
            name: "washer",
            dimension: Dimension::Length,
            range: (0.0, 0.05),
            gauge: 10e-6,
            level: 38e-6,
            running_in: 15e-6,
            teaches: "washer.wear_oiled",
            reads: |m, worn| m.washer.thickness - worn.of(Pair::Washer),
        }),
    },
    WearPart {
        part: Part::Bushing,
        used: Measure::Depth(Pair::Bore, |m| m.limits.bushing),
        goes: Goes::Evenly,
        constant: None,
        renewal: Some(Renewal {
            supply: "bushings",
            noted: Happening::NewBushing,
            brings_oil: true,
            about: Some("a new bushing, full of oil"),
        }),
        inspection: Some(Inspection {
            name: "bushing",
            dimension: Dimension::Length,
            range: (0.0, 0.005),
            gauge: 5e-6,
            level: 10e-6,
            running_in: -3e-6,
            teaches: "bushing.wear_oiled",
            reads: |m, worn| 2.0 * m.bushing.clearance + worn.of(Pair::Bore),
        }),
    },
    WearPart {
        part: Part::Lining,
        used: Measure::Depth(Pair::Lining, |m| m.lining.thickness - m.limits.lining),
        goes: Goes::Evenly,
        constant: Some("lining.wear"),
        renewal: Some(Renewal {
            supply: "linings",
            noted: Happening::NewLining,
            brings_oil: false,
            about: Some("a new lining"),
        }),
        inspection: Some(Inspection {
            name: "lining",
            dimension: Dimension::Length,
            range: (0.0, 0.05),
            gauge: 50e-6,
            level: 100e-6,
            running_in: 30e-6,
            teaches: "lining.wear",
            reads: |m, worn| m.lining.thickness - worn.of(Pair::Lining),
        }),
    },
    WearPart {
        part: Part::Spring,
        used: Measure::Channels(|m, of| {
            let least = m.motor.idle + m.limits.spring_margin;
            let cold = m.cold_engagement(of(Channel::Relaxation), of(Channel::LiningWear));
            let new = m.clutch.engagement;
            if new > least { over(new - cold, new - least) } else { 0.0 }
        }),
        goes: Goes::ByRelaxation,
        constant: None,
        renewal: Some(Renewal {
            supply: "sets of springs",
            noted: Happening::NewSpring,
            brings_oil: false,
            about: None,
        }),
        inspection: Some(Inspection {
            name: "engagement",
            dimension: Dimension::AngularSpeed,
            range: (10.0, 2000.0),
            gauge: 20.0 * RPM,
            level: 25.0 * RPM,
            running_in: 0.0,
            teaches: "clutch.relaxation",
            reads: |m, worn| m.cold_engagement(worn.relaxation, worn.of(Pair::Lining)),
        }),
    },
    WearPart {
        part: Part::Oil,
        used: Measure::Channels(|m, of| over(1.0 - of(Channel::OilFill), 1.0 - m.limits.oil_end)),
        goes: Goes::WhereSteady,
        constant: None,
        renewal: None,
        // Weight of drum and bushing over that of the same with a dry, unworn bushing. Nobody knows what the drum weighs dry:
        // only changes count.
        inspection: Some(Inspection {
            name: "weight",
            dimension: Dimension::Mass,
            range: (1e-3, 100.0),
            gauge: 5e-6,
            level: f64::INFINITY,
            running_in: 0.0,
            teaches: "oiling.leak",
            reads: |m, worn| {
                let b = &m.bushing;
                worn.oil - BRONZE * (1.0 - b.porosity) * worn.of(Pair::Bore) * b.bore * b.length
            },
        }),
    },
    WearPart {
        part: Part::CoverGap,
        used: Measure::Channels(|m, of| {
            over(of(Channel::WasherWear), m.cover.proud + m.washer.thickness - m.limits.cover_gap)
        }),
        goes: Goes::Evenly,
        constant: Some("washer.wear_oiled"),
        renewal: None,
        inspection: None,
    },
    WearPart {
        part: Part::Charring,
        used: Measure::Channels(|m, of| f64::from(u8::from(of(Channel::Washer) >= m.limits.washer_char))),
        goes: Goes::AtOnce,
        constant: None,
        renewal: None,
        inspection: None,
    },
];

impl WearPart {
    /// How far it is used where channels have such values.
    pub fn use_at(&self, m: &Machine, of: &dyn Fn(Channel) -> f64) -> f64 {
        match self.used {
            Measure::Depth(pair, room) => over(of(pair.row().channel), room(m)),
            Measure::Channels(law) => law(m, of),
        }
    }
}

impl Pair {
    /// Depth at which the part that it wears is at its limit, m; none where it wears no part by itself.
    pub fn room(self, m: &Machine) -> Option<f64> {
        WEAR_PARTS.iter().find_map(|part| match part.used {
            Measure::Depth(pair, room) if pair == self => Some(room(m)),
            _ => None,
        })
    }
}

impl Part {
    /// Its row.
    pub fn row(self) -> &'static WearPart {
        // Every part has one, which a test sees to.
        WEAR_PARTS.iter().find(|row| row.part == self).unwrap_or(&WEAR_PARTS[0])
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::parts::parameter;

    #[test]
    fn every_part_has_one_row_and_names_existing_settings() {
        for part in Part::ALL {
            assert_eq!(part.row().part, part);
        }
        let taught = WEAR_PARTS.iter().filter_map(|row| row.inspection.as_ref()).map(|read| read.teaches);
        for path in WEAR_PARTS.iter().filter_map(|row| row.constant).chain(taught) {
            assert!(parameter(path).is_some(), "{path}");
        }
    }
}

//! Pairs of rubbing faces, and parts that wear or reach a limit: one row each.

use crate::document::record::Warned;
use crate::laws::bearing::GRABS;
use crate::names::{Channel, Entry, Happening, Part};
use crate::parts::{Dimension, Machine, ring};
use crate::units::RPM;

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

/// Extrapolation of a part's use after a run.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Goes {
    /// at its late rate
    Evenly,
    /// with the logarithm of time
    ByRelaxation,
    /// at its late rate, if that is steady
    WhereSteady,
}

/// Measure of the use of a part: 0 new, 1 at its limit.
pub enum Measure {
    /// wear depth of a pair over the available depth, m
    Depth(Pair, fn(&Machine) -> f64),
    /// a function of channel values
    Channels(fn(&Machine, &dyn Fn(Channel) -> f64) -> f64),
}

/// Replacement of a used part.
pub struct Renewal {
    /// name of the supply in a record
    pub supply: &'static str,
    /// event
    pub noted: Happening,
    /// whether it changes the oil in the bushing
    pub brings_oil: bool,
}

/// State of a machine as seen by an inspection.
pub struct Worn<'a> {
    /// wear depth of each pair, m
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

/// Reading of a part by an inspection. Deviations are assumed: scatter of a hand-held shop gauge.
pub struct Inspection {
    /// name of its column
    pub name: &'static str,
    /// kind of quantity
    pub dimension: Dimension,
    /// range of possible readings, SI
    pub range: (f64, f64),
    /// standard deviation of a reading, SI
    pub gauge: f64,
    /// standard deviation of the new part about the machine's nominal size, SI
    pub level: f64,
    /// standard deviation of the depth lost in running in, about zero, SI; positive if the reading falls with wear,
    /// negative if it rises
    pub running_in: f64,
    /// setting that its wear determines
    pub teaches: &'static str,
    /// reading of a machine in this state, SI
    pub reads: fn(&Machine, &Worn<'_>) -> f64,
}

/// A part that wears, or a way in which a part reaches its limit.
pub struct WearPart {
    /// the part
    pub part: Part,
    /// measure of its use
    pub used: Measure,
    /// extrapolation of its use after a run
    pub goes: Goes,
    /// the assumed constant to which its life is inversely proportional
    pub constant: Option<&'static str>,
    /// its replacement
    pub renewal: Option<Renewal>,
    /// its reading by an inspection
    pub inspection: Option<Inspection>,
}

/// Use as a depth over the available depth; without any available depth, any wear is too much.
fn over(depth: f64, room: f64) -> f64 {
    if room > 0.0 { (depth / room).max(0.0) } else { f64::from(u8::from(depth > 0.0)) }
}

/// Density of sintered bronze with empty pores, kg/m³. Published property of the material, as in the table of heat.
const BRONZE: f64 = 6600.0;

/// All parts, in the order of an inspection's columns.
pub static WEAR_PARTS: [WearPart; Part::COUNT] = [
    WearPart {
        part: Part::Washer,
        used: Measure::Depth(Pair::Washer, |m| m.washer.thickness - m.limits.washer),
        goes: Goes::Evenly,
        constant: Some("washer.wear_oiled"),
        renewal: Some(Renewal { supply: "washers", noted: Happening::NewWasher, brings_oil: true }),
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
        renewal: Some(Renewal { supply: "bushings", noted: Happening::NewBushing, brings_oil: true }),
        inspection: Some(Inspection {
            name: "bushing",
            dimension: Dimension::Length,
            range: (0.0, 0.005),
            gauge: 5e-6,
            level: 10e-6,
            running_in: -3e-6,
            teaches: "bushing.wear_boundary",
            reads: |m, worn| 2.0 * m.bushing.clearance + worn.of(Pair::Bore),
        }),
    },
    WearPart {
        part: Part::Lining,
        used: Measure::Depth(Pair::Lining, |m| m.lining.thickness - m.limits.lining),
        goes: Goes::Evenly,
        constant: Some("lining.wear"),
        renewal: Some(Renewal { supply: "linings", noted: Happening::NewLining, brings_oil: false }),
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
            // Springs below their limit when new are not used up by the duty.
            let new = m.first_touch();
            if m.springs_below_limit() { 0.0 } else { over(new - cold, new - least) }
        }),
        goes: Goes::ByRelaxation,
        constant: None,
        renewal: Some(Renewal { supply: "sets of springs", noted: Happening::NewSpring, brings_oil: false }),
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
        // Weight of drum and bushing over that of the same with a dry, unworn bushing. The dry weight of the drum is
        // unknown, so only changes count.
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
        used: Measure::Channels(|_, of| of(Channel::WasherDose)),
        goes: Goes::Evenly,
        constant: None,
        renewal: None,
        inspection: None,
    },
    WearPart {
        part: Part::Seized,
        // It is done for when it grabs its shaft.
        used: Measure::Channels(|_, of| of(Channel::Score) / GRABS),
        goes: Goes::Evenly,
        constant: Some("bushing.score_energy"),
        renewal: None,
        inspection: None,
    },
];

impl WearPart {
    /// Use for these channel values.
    pub fn use_at(&self, m: &Machine, of: &dyn Fn(Channel) -> f64) -> f64 {
        match self.used {
            Measure::Depth(pair, room) => over(of(pair.row().channel), room(m)),
            Measure::Channels(law) => law(m, of),
        }
    }
}

impl Pair {
    /// Depth at which the part that it wears reaches its limit, m; none if it does not wear a part by itself.
    pub fn room(self, m: &Machine) -> Option<f64> {
        WEAR_PARTS.iter().find_map(|part| match part.used {
            Measure::Depth(pair, room) if pair == self => Some(room(m)),
            _ => None,
        })
    }
}

impl Part {
    /// Whether a service can renew it.
    pub fn is_renewed(self) -> bool {
        self.row().renewal.is_some()
    }

    /// The assumed constant to which its life is inversely proportional, by its path.
    pub fn constant(self) -> Option<&'static str> {
        self.row().constant
    }

    /// Its row.
    pub(crate) fn row(self) -> &'static WearPart {
        // Every part has a row; a test checks it.
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

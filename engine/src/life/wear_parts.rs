//! Parts that wear or reach a limit: one row each.

use super::pairs::Pair;
use crate::laws::bearing::GRABS;
use crate::names::{Channel, Happening, Part, Supply};
use crate::parts::{Machine, Parameter, settings};

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
    /// the supply that it uses up
    pub supply: Supply,
    /// event
    pub noted: Happening,
    /// whether it changes the oil in the bushing
    pub brings_oil: bool,
}

/// A part that wears, or a way in which a part reaches its limit.
pub struct WearPart {
    /// the part
    pub part: Part,
    /// measure of its use
    pub used: Measure,
    /// extrapolation of its use after a run
    pub goes: Goes,
    /// the assumed constants to which its life is inversely proportional if all of them change alike; the first is that of an oiled part
    pub constants: &'static [&'static Parameter],
    /// its replacement
    pub renewal: Option<Renewal>,
}

/// Use as a depth over the available depth; without any available depth, any wear is too much.
fn over(depth: f64, room: f64) -> f64 {
    if room > 0.0 { (depth / room).max(0.0) } else { f64::from(u8::from(depth > 0.0)) }
}

/// All parts.
pub static WEAR_PARTS: [WearPart; Part::COUNT] = [
    WearPart {
        part: Part::Washer,
        used: Measure::Depth(Pair::Washer, |m| m.washer.thickness - m.limits.washer),
        goes: Goes::Evenly,
        constants: &[&settings::washer::wear_oiled],
        renewal: Some(Renewal { supply: Supply::Washers, noted: Happening::NewWasher, brings_oil: true }),
    },
    WearPart {
        part: Part::Bushing,
        used: Measure::Depth(Pair::Bore, |m| m.limits.bushing),
        goes: Goes::Evenly,
        constants: &[&settings::bushing::wear_boundary, &settings::bushing::wear_film, &settings::bushing::wear_dry],
        renewal: Some(Renewal { supply: Supply::Bushings, noted: Happening::NewBushing, brings_oil: true }),
    },
    WearPart {
        part: Part::Lining,
        used: Measure::Depth(Pair::Lining, |m| m.lining.thickness - m.limits.lining),
        goes: Goes::Evenly,
        constants: &[&settings::lining::wear],
        renewal: Some(Renewal { supply: Supply::Linings, noted: Happening::NewLining, brings_oil: false }),
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
        constants: &[],
        renewal: Some(Renewal { supply: Supply::Springs, noted: Happening::NewSpring, brings_oil: false }),
    },
    WearPart {
        part: Part::Oil,
        used: Measure::Channels(|m, of| over(1.0 - of(Channel::OilFill), 1.0 - m.limits.oil_end)),
        goes: Goes::WhereSteady,
        constants: &[],
        renewal: None,
    },
    WearPart {
        part: Part::CoverGap,
        used: Measure::Channels(|m, of| {
            over(of(Channel::WasherWear), m.cover.proud + m.washer.thickness - m.limits.cover_gap)
        }),
        goes: Goes::Evenly,
        constants: &[&settings::washer::wear_oiled],
        renewal: None,
    },
    WearPart {
        part: Part::Charring,
        used: Measure::Channels(|_, of| of(Channel::WasherDose)),
        goes: Goes::Evenly,
        constants: &[],
        renewal: None,
    },
    WearPart {
        part: Part::Seized,
        // It is done for when it grabs its shaft.
        used: Measure::Channels(|_, of| of(Channel::Score) / GRABS),
        goes: Goes::Evenly,
        constants: &[&settings::bushing::score_energy],
        renewal: None,
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

    /// The assumed constants to which its life is inversely proportional if all of them change alike.
    pub fn constants(self) -> &'static [&'static Parameter] {
        self.row().constants
    }

    /// The assumed constant to which alone its life is inversely proportional.
    pub fn constant(self) -> Option<&'static Parameter> {
        if let [alone] = self.constants() { Some(alone) } else { None }
    }

    /// Its row.
    pub(crate) fn row(self) -> &'static WearPart {
        // Every part has a row; a test checks it.
        WEAR_PARTS.iter().find(|row| row.part == self).unwrap_or(&WEAR_PARTS[0])
    }
}

/// Use of each part from the present channel values: 0 new, 1 at its limit.
pub(crate) fn uses(m: &Machine, of: impl Fn(Channel) -> f64) -> [f64; Part::COUNT] {
    Part::ALL.map(|part| part.row().use_at(m, &of))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_part_has_one_row() {
        for part in Part::ALL {
            assert_eq!(part.row().part, part);
        }
    }

    #[test]
    fn each_part_is_used_up_at_its_limit_and_half_used_half_way_there() {
        let m = Machine::default();
        let used = |part: Part, channel: Channel, value: f64| {
            let new = if channel == Channel::OilFill { 0.0 } else { 1.0 };
            part.row().use_at(&m, &|asked| {
                if asked == channel { value } else { f64::from(u8::from(asked == Channel::OilFill)) * new }
            })
        };
        // New, at its limit: sizes of the worn part beside their limits.
        let limits = [
            (Part::Washer, Channel::WasherWear, 0.0, m.washer.thickness - m.limits.washer),
            (Part::Bushing, Channel::BushingWear, 0.0, m.limits.bushing),
            (Part::Lining, Channel::LiningWear, 0.0, m.lining.thickness - m.limits.lining),
            (Part::Oil, Channel::OilFill, 1.0, m.limits.oil_end),
            (Part::Charring, Channel::WasherDose, 0.0, 1.0),
            (Part::Seized, Channel::Score, 0.0, 0.5),
        ];
        for (part, channel, new, end) in limits {
            for share in [0.0, 0.5, 1.0] {
                let found = used(part, channel, new + share * (end - new));
                assert!((found - share).abs() < 1e-9, "{part:?} {share}: {found}");
            }
        }
        // Where the washer is so worn that cover and bushing have just the least gap.
        let left = m.limits.cover_gap - m.cover.proud;
        let worn = m.washer.thickness - left;
        assert!((used(Part::CoverGap, Channel::WasherWear, worn) - 1.0).abs() < 1e-9);
        assert!((used(Part::CoverGap, Channel::WasherWear, 0.5 * worn) - 0.5).abs() < 1e-9);
    }

    #[test]
    fn a_spring_is_used_up_where_it_engages_at_its_limit_and_unused_if_it_was_below_when_new() {
        let mut m = Machine::default();
        let least = m.motor.idle + m.limits.spring_margin;
        let used = |m: &Machine, relaxed: f64| {
            Part::Spring.row().use_at(m, &|channel| if channel == Channel::Relaxation { relaxed } else { 0.0 })
        };
        m.clutch.engagement = 1.1 * least;
        // Half of the margin is gone where the spring engages at 1.05 of it; force goes with the square of speed.
        let rate = m.clutch.spring_rate * m.clutch.gap;
        let full = m.preload() + rate;
        for (speed, wanted) in [(1.1, 0.0), (1.05, 0.5), (1.0, 1.0)] {
            let preload = full * (speed / 1.1_f64).powi(2) - rate;
            let found = used(&m, 1.0 - preload / m.preload());
            assert!((found - wanted).abs() < 1e-9, "{speed}: {found}");
        }
        m.clutch.engagement = 0.9 * least;
        assert_eq!(used(&m, 0.2), 0.0);
    }

    #[test]
    fn a_pair_has_the_room_of_the_part_that_it_wears() {
        let m = Machine::default();
        assert_eq!(Pair::Lining.room(&m), Some(m.lining.thickness - m.limits.lining));
        assert_eq!(Pair::Bore.room(&m), Some(m.limits.bushing));
        assert_eq!(Pair::Face.room(&m), None);
    }

    #[test]
    fn without_room_any_wear_is_too_much_and_none_is_none() {
        assert_eq!([over(1e-6, 0.0), over(0.0, 0.0), over(1e-6, -1.0)], [1.0, 0.0, 1.0]);
        assert_eq!([over(-1e-6, 1e-3), over(5e-4, 1e-3)], [0.0, 0.5]);
    }
}

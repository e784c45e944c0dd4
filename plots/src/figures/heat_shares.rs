//! Shares of a run's heat: what makes it, and by which ways it leaves.

use crate::figures::reading::booked;
use crate::sheet::prelude::*;
use slipsoak_engine::names::Entry;
use slipsoak_engine::record::Run;
use slipsoak_engine::units::HOUR;

/// Share of the heat below which a way is left to “other”.
pub const LEAST: f64 = 0.01;

/// A way by which heat leaves the place where it is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    DrumAir,
    Radiated,
    InnerAir,
    Motor,
    Kept,
}

impl Way {
    /// Every way, in the order of bars.
    pub const ALL: [Self; 5] = [Self::DrumAir, Self::Radiated, Self::InnerAir, Self::Motor, Self::Kept];

    /// Its name, and that of the heat that comes in by it.
    pub const fn names(self) -> [&'static str; 2] {
        match self {
            Self::DrumAir => ["air, from the drum", "air warms the drum"],
            Self::Radiated => ["radiated", "radiation received"],
            Self::InnerAir => ["air, from inner parts", "air warms inner parts"],
            Self::Motor => ["to the motor", "from the motor"],
            Self::Kept => ["kept in the parts", "given up by the parts"],
        }
    }

    const fn entries(self) -> &'static [Entry] {
        match self {
            Self::DrumAir => &[Entry::BandToTheAir, Entry::WebAndSprocketToTheAir],
            Self::Radiated => &[Entry::Radiated],
            Self::InnerAir => &[Entry::ShoesAndCarrierToTheAir],
            Self::Motor => &[Entry::ThroughTheShaft],
            Self::Kept => &[
                Entry::InLining,
                Entry::InDrumWall,
                Entry::InWeb,
                Entry::InSprocket,
                Entry::InBushing,
                Entry::InWasher,
                Entry::InShoes,
                Entry::InCarrier,
                Entry::InShaft,
            ],
        }
    }

    /// Its colour, and how strong: dark and pale alternate for a grey print, and letters on each can be read.
    pub const fn ink(self) -> (Ink, f64) {
        match self {
            Self::DrumAir => (colour(hues::OUTSIDE), 0.5),
            Self::Radiated => (colour(hues::DRUM), 0.24),
            Self::InnerAir => (colour(hues::OUTSIDE), 0.15),
            Self::Motor => (colour(hues::MOTOR), 0.41),
            Self::Kept => (colour(hues::SHOES), 0.44),
        }
    }
}

/// The heat of a run.
#[derive(Clone, Debug)]
pub struct Heat {
    /// heat of slip, and of the rubbing bushing and washer, J
    pub slip: f64,
    pub rubbing: f64,
    /// heat by each way, J; below zero it comes in
    pub by: [f64; 5],
    /// all heat that comes in, J
    pub whole: f64,
}

impl Heat {
    pub fn of(run: &Run) -> Self {
        let ledger = &run.ledgers.clutch;
        let by = Way::ALL.map(|way| way.entries().iter().map(|entry| booked(ledger, *entry)).sum::<f64>());
        let [slip, rubbing] = [Entry::SlipHeat, Entry::BearingHeat].map(|entry| booked(ledger, entry).max(0.0));
        let (out, back) = by.iter().fold((0.0, 0.0), |(out, back), j| (out + j.max(0.0), back - j.min(0.0)));
        Self { slip, rubbing, by, whole: out.max(slip + rubbing + back) }
    }

    /// Share of the heat that leaves by a way; below zero that which comes in.
    pub fn share(&self, way: Way) -> f64 {
        self.by[way as usize] / self.whole
    }

    /// Shares of the ways that are drawn, in their order, and what is left.
    pub fn parts(&self) -> (Vec<(Way, f64)>, f64) {
        let drawn: Vec<(Way, f64)> =
            Way::ALL.into_iter().map(|way| (way, self.share(way))).filter(|part| part.1 >= LEAST).collect();
        let left = 1.0 - drawn.iter().map(|part| part.1).sum::<f64>();
        (drawn, left.max(0.0))
    }

    /// Shares that a finding names: kept in the parts, to the air, radiated, to the motor; none without heat.
    pub fn found(&self) -> Option<[f64; 4]> {
        let out = self.by.map(|j| j.max(0.0));
        let all: f64 = out.iter().sum();
        let share = |ways: &[Way]| ways.iter().map(|way| out[*way as usize]).sum::<f64>() / all;
        let air = [Way::DrumAir, Way::InnerAir];
        (all > 0.0).then(|| [share(&[Way::Kept]), share(&air), share(&[Way::Radiated]), share(&[Way::Motor])])
    }
}

/// An energy in kJ or MJ, and in W h or kW h.
pub fn energy(joules: f64) -> String {
    let (size, unit) = if joules < 9.995e6 { (1e3, "kJ") } else { (1e6, "MJ") };
    let (large, name) = if joules < 9995.0 * HOUR { (HOUR, "W h") } else { (1e3 * HOUR, "kW h") };
    let three = |value: f64| number(value, 10f64.powf(value.abs().max(1e-3).log10().floor() - 2.0).min(1.0));
    format!("{} {unit} ({} {name})", three(joules / size), three(joules / large))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheet::tone::{Theme, resolved};

    /// Lightness of a way on paper in a grey print, 0 to 255 (weights of ITU-R BT.601).
    fn grey(way: Way) -> f64 {
        let (ink, strong) = way.ink();
        let [red, green, blue] = resolved(ink.pigment(), Theme::Light).map(f64::from);
        255.0 - strong * (255.0 - 0.299 * red - 0.587 * green - 0.114 * blue)
    }

    #[test]
    fn a_grey_print_tells_neighbours_apart_and_all_that_are_not_hatched() {
        for pair in Way::ALL.windows(2) {
            assert!((grey(pair[0]) - grey(pair[1])).abs() >= 12.0, "{pair:?}");
        }
        let plain: Vec<Way> = Way::ALL.into_iter().filter(|way| *way != Way::InnerAir).collect();
        for (k, way) in plain.iter().enumerate() {
            for other in &plain[..k] {
                assert!(
                    (grey(*way) - grey(*other)).abs() >= 12.0,
                    "{way:?} and {other:?}: {} {}",
                    grey(*way),
                    grey(*other)
                );
            }
        }
    }
}

//! Linings as whole sets: every setting that follows from the lining's material.

use super::settings::{clutch, limits, lining};
use super::{Machine, Parameter};
use crate::names::LiningKind;
use crate::units::ZERO_C;

/// A setting of the lining with its value for each kind, SI, in the order of [`LiningKind::ALL`].
type Row = (&'static Parameter, [f64; LiningKind::COUNT]);

const fn celsius(values: [f64; LiningKind::COUNT]) -> [f64; LiningKind::COUNT] {
    let [a, b, c, d] = values;
    [a + ZERO_C, b + ZERO_C, c + ZERO_C, d + ZERO_C]
}

/// What each kind of lining sets: woven, moulded, sintered, bare metal.
///
/// | setting | confidence, source |
/// |---|---|
/// | friction | published: facings in The Tribology Handbook, t. 7.4; ranges 0.25–0.45 woven and moulded, 0.15–0.45 sintered in Juvinall & Marshek, p. 750; bare metal 0.165 (0.15–0.25) measured in a small centrifugal clutch, Gendek & Maciak, Ann. Warsaw Agric. Univ. 50 (2007) 53 |
/// | static over kinetic friction | published: sintered 0.36 and 0.30, The Tribology Handbook, t. 7.4 |
/// | fade, wear and its rise with temperature | assumed; wear 15–120, 8–75, 2–30 and 3–200 mm³/MJ |
/// | density, conductivity | published: The Tribology Handbook, t. 7.5; steel |
/// | specific heat | published: 1250 J/(kg·K), but 540 measured by Gkinis et al. (2019); sintered 420; steel 490 |
/// | pores, temperature of glazing | assumed |
/// | temperature limits | published: The Tribology Handbook, t. 7.4; bare metal 260 °C in bulk in Juvinall & Marshek, p. 750, its greatest assumed |
/// | temperature at which the resin bond goes | common practice, no source |
/// | friction in oil over dry | published: Juvinall & Marshek, p. 750; ratios of 0.13–0.4 |
const ROWS: &[Row] = &[
    (&lining::friction, [0.40, 0.35, 0.30, 0.165]),
    (&clutch::peak, [1.0, 1.0, 1.2, 1.0]),
    (&lining::fade_knee, celsius([200.0, 250.0, 400.0, 400.0])),
    (&lining::fade_span, [150.0, 150.0, 200.0, 200.0]),
    (&lining::fade_share, [0.5, 0.5, 0.3, 0.3]),
    (&lining::wear, [40e-15, 25e-15, 10e-15, 20e-15]),
    (&lining::wear_slope, [0.0075, 0.0075, 0.003, 0.003]),
    (&lining::wear_knee, celsius([230.0, 280.0, 500.0, 400.0])),
    (&lining::wear_energy, [60e3; LiningKind::COUNT]),
    (&lining::density, [1600.0, 2800.0, 6000.0, 7850.0]),
    (&lining::conductivity, [0.80, 0.80, 16.0, 48.0]),
    (&lining::specific_heat, [1250.0, 1250.0, 420.0, 490.0]),
    (&lining::oiled_share, [0.25, 0.22, 0.17, 0.24]),
    (&lining::pores, [0.10, 0.05, 0.20, 0.0]),
    // Sintered and bare metal do not glaze.
    (&lining::glaze_from, [300.0 + ZERO_C, 350.0 + ZERO_C, 5000.0, 5000.0]),
    (&limits::lining_most, celsius([250.0, 350.0, 500.0, 400.0])),
    // Without resin there is no bond to lose.
    (&limits::lining_bond, [350.0 + ZERO_C, 350.0 + ZERO_C, 5000.0, 5000.0]),
    (&limits::lining_steady, celsius([150.0, 200.0, 300.0, 260.0])),
];

/// Relative difference below which a value counts as that of a kind.
const SAME: f64 = 1e-9;

/// Number of settings with the values of another kind that no measurement gives by chance.
const OF_ANOTHER: usize = 3;

/// Constants of the lining's wear, which a new lining of another kind brings with it.
pub static LINING_WEAR: [&Parameter; 4] =
    [&lining::wear, &lining::wear_slope, &lining::wear_knee, &lining::wear_energy];

/// The settings that a kind of lining sets, with their values, SI.
///
/// ```
/// use slipsoak_engine::parts::{LiningKind, lining_set, settings};
/// let friction = |kind| lining_set(kind).find(|(p, _)| *p == &settings::lining::friction).unwrap().1;
/// assert_eq!([friction(LiningKind::Woven), friction(LiningKind::BareMetal)], [0.40, 0.165]);
/// ```
pub fn lining_set(kind: LiningKind) -> impl Iterator<Item = (&'static Parameter, f64)> {
    ROWS.iter().map(move |(p, values)| (*p, values[kind as usize]))
}

impl Machine {
    /// Lines the shoes with another material, which sets every row of its set; what was set by hand stays, but for wear: what
    /// was learned of the old material's wear does not hold for the new one. The mass of the shoes changes by that of the
    /// lining. The springs are those chosen for it: the engagement speed stays.
    ///
    /// ```
    /// use slipsoak_engine::parts::{LiningKind, Machine};
    /// let mut machine = Machine::default();
    /// machine.lining.friction = 0.38; // measured
    /// machine.lining.wear = 70e-15; // learned of the woven lining
    /// machine.line_with(LiningKind::Sintered);
    /// assert_eq!((machine.lining.friction, machine.lining.conductivity), (0.38, 16.0));
    /// assert_eq!(machine.lining.wear, 10e-15);
    /// assert!((machine.clutch.shoe_mass - 0.125_58).abs() < 1e-5);
    /// ```
    pub fn line_with(&mut self, kind: LiningKind) {
        let before = self.lining_kind;
        self.change(|m| {
            let light = m.lining_mass();
            for ((p, old), (_, new)) in lining_set(before).zip(lining_set(kind)) {
                if before != kind && LINING_WEAR.contains(&p) || ((p.of)(m) - old).abs() <= SAME * old.abs() {
                    (p.put)(m, new);
                }
            }
            m.clutch.shoe_mass += (m.lining_mass() - light) / m.clutch.shoes;
            m.lining_kind = kind;
        });
    }

    /// Lines the shoes with another material and keeps the springs: their force stays, and the engagement speed changes with
    /// the mass of the shoes.
    /// ```text
    /// ω_e' = ω_e √(m/m')
    /// ```
    /// ```
    /// use slipsoak_engine::{parts::{LiningKind, Machine}, units::in_rpm};
    /// let mut machine = Machine::default();
    /// machine.reline_with(LiningKind::Moulded);
    /// assert!((in_rpm(machine.clutch.engagement) - 1962.46).abs() < 0.01); // 2000 rpm with the lighter woven lining
    /// ```
    pub fn reline_with(&mut self, kind: LiningKind) {
        let light = self.clutch.shoe_mass;
        self.line_with(kind);
        self.clutch.engagement *= (light / self.clutch.shoe_mass).sqrt();
    }

    /// Another kind of lining whose values several of these settings hold instead of those of this machine's kind, with them.
    pub fn lined_as_another(
        &self,
        given: impl Fn(&Parameter) -> bool,
    ) -> Option<(LiningKind, Vec<&'static Parameter>)> {
        let own: Vec<f64> = lining_set(self.lining_kind).map(|(_, own)| own).collect();
        let of = |kind: LiningKind| {
            let other = |((p, value), own): &((&'static Parameter, f64), &f64)| {
                let same = |a: f64, b: f64| (a - b).abs() <= SAME * b.abs();
                given(p) && same((p.of)(self), *value) && !same(**own, *value)
            };
            (kind, lining_set(kind).zip(&own).filter(other).map(|((p, _), _)| p).collect::<Vec<_>>())
        };
        let most = LiningKind::ALL.into_iter().map(of).rev().max_by_key(|(_, held)| held.len())?;
        Some(most).filter(|(_, held)| held.len() >= OF_ANOTHER)
    }

    /// Engagement speed that springs chosen for a woven lining would give with this machine's lining, rad/s; none for a
    /// woven one.
    pub fn woven_springs(&self) -> Option<f64> {
        let mut woven = self.clone();
        woven.line_with(LiningKind::Woven);
        let heavier = self.clutch.shoe_mass / woven.clutch.shoe_mass;
        (self.lining_kind != LiningKind::Woven).then(|| self.clutch.engagement / heavier.sqrt())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_of_each_row_of_the_linings_is_the_setting_s_default() {
        for (p, values) in ROWS {
            assert_eq!(p.default.to_bits(), values[0].to_bits(), "{p:?}");
            assert!(values.iter().all(|v| (p.least..=p.most).contains(v)), "{p:?}");
        }
    }
}

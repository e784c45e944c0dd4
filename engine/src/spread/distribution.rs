//! Distributions of uncertain settings, and the spreads of the assumed constants.

use super::known::Known;
use crate::laws::margin::{SPRING_SCATTER, VARIATION};
use crate::names::Part;
use crate::parts::settings::{bushing, clutch, heat, lining, motor, oiling, springs, washer};
use crate::parts::{LiningKind, MOST_SHOES, Machine, Parameter, SPRINGS};
use crate::statistics::{NINETY_FIVE, normal_quantile};
use serde::{Deserialize, Serialize};

/// Distribution of a setting about its nominal value.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(rename_all = "snake_case")]
pub enum Spread {
    /// normal, with this standard deviation, in the setting's unit
    Normal(f64),
    /// lognormal: 90 % lie between the nominal value divided and multiplied by this
    Factor(f64),
    /// uniform within this half width of the nominal value
    Uniform(f64),
    /// triangular, most likely at the nominal value, with this half width
    Triangular(f64),
}

impl Spread {
    /// The value for a deviate between 0 and 1, by the inverse of the distribution.
    ///
    /// ```
    /// use slipsoak_engine::fleet::Spread;
    /// assert_eq!(Spread::Uniform(2.0).at(10.0, 0.75), 11.0);
    /// assert!((Spread::Factor(3.0).at(6.0, 0.95) - 18.0).abs() < 1e-9);
    /// assert!((Spread::Triangular(2.0).at(10.0, 0.125) - 9.0).abs() < 1e-12); // half way up the left side: 1/8 below
    /// ```
    pub fn at(self, nominal: f64, deviate: f64) -> f64 {
        match self {
            Self::Normal(deviation) => nominal + deviation * normal_quantile(deviate),
            Self::Factor(factor) => nominal * libm::exp(libm::log(factor) * normal_quantile(deviate) / NINETY_FIVE),
            Self::Uniform(half) => nominal + half * (2.0 * deviate - 1.0),
            Self::Triangular(half) if deviate < 0.5 => nominal - half * (1.0 - (2.0 * deviate).sqrt()),
            Self::Triangular(half) => nominal + half * (1.0 - (2.0 - 2.0 * deviate).sqrt()),
        }
    }
}

/// Spreads of the assumed constants, which a fleet samples unless a script says otherwise. Factors span the plausible
/// range of each constant (see `slipsoak settings`); the idle variation is that of a carburetted motor.
pub static ASSUMED: &[(&Parameter, Spread)] = &[
    (&motor::idle, Spread::Uniform(VARIATION)),
    (&motor::idle_band, Spread::Factor(3.0)),
    (&motor::drag, Spread::Factor(1.4)),
    (&oiling::leak, Spread::Factor(18.0)),
    (&oiling::imbibe_time, Spread::Factor(17.0)),
    (&oiling::fling_area, Spread::Factor(3.0)),
    (&oiling::fling_least, Spread::Factor(3.0)),
    (&oiling::run_off_time, Spread::Factor(8.0)),
    (&oiling::evaporation, Spread::Factor(3.0)),
    (&oiling::oxidation_life, Spread::Factor(9.0)),
    (&oiling::lining_share, Spread::Factor(5.0)),
    LINING_WEARS[0],
    (&bushing::mixed_number, Spread::Factor(7.0)),
    (&bushing::wear_film, Spread::Factor(10.0)),
    (&bushing::wear_boundary, Spread::Factor(10.0)),
    (&bushing::wear_dry, Spread::Factor(10.0)),
    (&bushing::wear_face, Spread::Factor(7.0)),
    (&bushing::score_energy, Spread::Factor(6.0)),
    (&bushing::grab_torque, Spread::Factor(4.0)),
    (&bushing::chain_pull, Spread::Factor(5.0)),
    (&washer::heat_life, Spread::Factor(3.0)),
    (&washer::contact, Spread::Factor(4.5)),
    (&washer::fling, Spread::Factor(10.0)),
    (&washer::wear_oiled, Spread::Factor(10.0)),
    (&washer::wear_dry, Spread::Factor(10.0)),
    (&heat::convection, Spread::Factor(1.6)),
    (&heat::chain, Spread::Factor(3.0)),
    (&heat::lining_shoes, Spread::Factor(2.0)),
    (&heat::band_web, Spread::Factor(2.0)),
    (&heat::web_sprocket, Spread::Factor(2.0)),
    (&heat::sprocket_bushing, Spread::Factor(2.0)),
    (&heat::shoes_carrier, Spread::Factor(2.0)),
    (&heat::carrier_shaft, Spread::Factor(2.0)),
    (&clutch::relaxation, Spread::Factor(2.0)),
    (&springs::lot, Spread::Normal(SPRING_SCATTER)),
    (SPRINGS[0], Spread::Normal(SPRING_SCATTER)),
    (SPRINGS[1], Spread::Normal(SPRING_SCATTER)),
    (SPRINGS[2], Spread::Normal(SPRING_SCATTER)),
    (SPRINGS[3], Spread::Normal(SPRING_SCATTER)),
    (SPRINGS[4], Spread::Normal(SPRING_SCATTER)),
    (SPRINGS[5], Spread::Normal(SPRING_SCATTER)),
];

/// Spread of the wear constant of each kind of lining, in the order of [`LiningKind::ALL`]: 15 to 120, 8 to 75, 2 to 30 and 3 to
/// 200 mm³/MJ.
static LINING_WEARS: [(&Parameter, Spread); LiningKind::COUNT] = [
    (&lining::wear, Spread::Factor(2.8)),
    (&lining::wear, Spread::Factor(3.1)),
    (&lining::wear, Spread::Factor(3.9)),
    (&lining::wear, Spread::Factor(8.2)),
];

/// The assumed spreads of a machine with this kind of lining.
///
/// ```
/// use slipsoak_engine::{fleet::{Spread, assumed_of}, parts::{LiningKind, settings}};
/// let wear = |kind| assumed_of(kind).find(|known| known.0 == &settings::lining::wear).unwrap().1;
/// assert_eq!([wear(LiningKind::Woven), wear(LiningKind::BareMetal)], [Spread::Factor(2.8), Spread::Factor(8.2)]);
/// ```
pub fn assumed_of(lining: LiningKind) -> impl Iterator<Item = &'static (&'static Parameter, Spread)> {
    ASSUMED.iter().map(move |known| if known.0 == LINING_WEARS[0].0 { &LINING_WEARS[lining as usize] } else { known })
}

/// The assumed spreads of a machine: those of single springs only for shoes that it has and that are followed one by one.
pub fn assumed(machine: &Machine) -> impl Iterator<Item = &'static (&'static Parameter, Spread)> {
    let shoes = machine.clutch.shoes.round() as usize;
    let followed = if shoes > MOST_SHOES { 0 } else { shoes };
    assumed_of(machine.lining_kind)
        .filter(move |(p, _)| SPRINGS.iter().position(|spring| spring == p).is_none_or(|k| k < followed))
}

/// Range of an assumed constant: the ends of its spread about the built-in machine's value.
///
/// ```
/// use slipsoak_engine::{fleet::assumed_range, parts::settings};
/// let (least, most) = assumed_range(&settings::oiling::leak).unwrap();
/// assert!((least * 3600.0 - 0.1 / 18.0).abs() < 1e-9 && (most * 3600.0 - 1.8).abs() < 1e-9); // per hour
/// assert!(assumed_range(&settings::drum::radius).is_none());
/// ```
pub fn assumed_range(p: &Parameter) -> Option<(f64, f64)> {
    let value = (p.of)(&Machine::default());
    Some(match ASSUMED.iter().find(|assumed| assumed.0 == p)?.1 {
        Spread::Normal(deviation) => (value - NINETY_FIVE * deviation, value + NINETY_FIVE * deviation),
        Spread::Factor(factor) => (value / factor, value * factor),
        Spread::Uniform(half) | Spread::Triangular(half) => (value - half, value + half),
    })
}

/// Factor of uncertainty of an assumed constant either way; none if its spread is not a factor.
///
/// ```
/// use slipsoak_engine::{fleet::assumed_factor, parts::settings};
/// assert_eq!(assumed_factor(&settings::washer::wear_oiled), Some(10.0));
/// ```
pub fn assumed_factor(p: &Parameter) -> Option<f64> {
    match ASSUMED.iter().find(|assumed| assumed.0 == p)?.1 {
        Spread::Factor(factor) => Some(factor),
        _ => None,
    }
}

/// Factor of uncertainty either way of a part's life by its constants, learned or assumed; none if its life is not in inverse
/// proportion to any. Of several the widest: a bushing wears on its film, on its asperities and dry, and with all of them off by
/// that factor its life is too; how long it runs in each is not followed, which widens it where one of them was learned.
///
/// ```
/// use slipsoak_engine::{fleet::{Known, life_factor}, names::Part, parts::LiningKind};
/// let of = |part, known: &[Known]| life_factor(part, LiningKind::Woven, known);
/// assert_eq!([of(Part::Bushing, &[]), of(Part::Lining, &[]), of(Part::Spring, &[])], [Some(10.0), Some(2.8), None]);
/// // The wear of one regime alone does not narrow it.
/// let known = [Known { path: "bushing.wear_boundary".to_owned(), factor: 1.25 }];
/// assert_eq!(of(Part::Bushing, &known), Some(10.0));
/// ```
pub fn life_factor(part: Part, lining: LiningKind, known: &[Known]) -> Option<f64> {
    let of = |constant: &&'static Parameter| {
        let assumed = || match assumed_of(lining).find(|known| known.0 == *constant)?.1 {
            Spread::Factor(factor) => Some(factor),
            _ => None,
        };
        Known::factor_of(known, constant).or_else(assumed)
    };
    part.constants().iter().filter_map(of).reduce(f64::max)
}

/// Range of the time until the first part is worn out, s, by those of all parts: from every part's constant at its worst to
/// every one at its best, as a calibration left them open or as assumed. None if no constant changes it. That errors of learned constants
/// go together is left out, which widens it.
///
/// A part that lasts longer than another may be worn out first all the same, if less is known of its constant: the range of the first
/// part alone would begin too late.
///
/// ```
/// use slipsoak_engine::{fleet::{Known, first_worn_range}, names::Part, parts::LiningKind};
/// // A lining within a factor of 2.8, and a washer within 10 that would last twice as long.
/// let parts = [(Part::Lining, 100.0), (Part::Washer, 200.0)];
/// let [low, high] = first_worn_range(parts, LiningKind::Woven, &[]).unwrap();
/// assert!((low - 20.0).abs() < 1e-9 && (high - 280.0).abs() < 1e-9);
/// // A bushing within 10 that would last nearly twice as long as the lining may be worn out before both.
/// let [low, high] = first_worn_range([parts[0], (Part::Bushing, 190.0)], LiningKind::Woven, &[]).unwrap();
/// assert!((low - 19.0).abs() < 1e-9 && (high - 280.0).abs() < 1e-9);
/// // Bare metal, 3 to 200 mm³/MJ, is within 8.2.
/// let [low, high] = first_worn_range([parts[0]], LiningKind::BareMetal, &[]).unwrap();
/// assert!((low - 100.0 / 8.2).abs() < 1e-9 && (high - 820.0).abs() < 1e-9);
/// // The lining learned within 1.25: the washer decides the low end.
/// let known = [Known { path: "lining.wear".to_owned(), factor: 1.25 }];
/// let [low, high] = first_worn_range(parts, LiningKind::Woven, &known).unwrap();
/// assert!((low - 20.0).abs() < 1e-9 && (high - 125.0).abs() < 1e-9);
/// ```
pub fn first_worn_range(
    lives: impl IntoIterator<Item = (Part, f64)>,
    lining: LiningKind,
    known: &[Known],
) -> Option<[f64; 2]> {
    let each = lives.into_iter().map(|(part, life)| {
        let factor = life_factor(part, lining, known).unwrap_or(1.0);
        [life / factor, life * factor]
    });
    let [low, high] = each.reduce(|a, b| [a[0].min(b[0]), a[1].min(b[1])])?;
    (low < high).then_some([low, high])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn percentiles_of_a_lognormal_factor_are_those_of_its_closed_form() {
        // A logarithm of standard deviation 0.5 about 100: closed form.
        let spread = Spread::Factor((0.5 * NINETY_FIVE).exp());
        for (share, want) in [(0.01, 31.2493), (0.05, 43.9364), (0.10, 52.6884), (0.90, 189.795)] {
            assert!((spread.at(100.0, share) / want - 1.0).abs() < 2e-6, "{share}");
        }
    }
}

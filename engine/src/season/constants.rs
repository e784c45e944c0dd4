//! The constants of a shop's carts: what is the same for all of them, what differs from cart to cart and from part to part.

use super::wish::Wish;
use crate::document::season::{SPARES, Split};
use crate::names::Part;
use crate::parts::{Machine, Parameter, parameter, settings};
use crate::spread::{Levels, Spread, Uncertain, assumed, common_share, machine_at};
use crate::statistics::{NINETY_FIVE, normal_share};

/// The uncertain constants of a machine.
pub struct Constants {
    /// each by itself
    pub uncertain: Vec<Uncertain>,
    /// share of the variance of each that is common to all carts
    common: Vec<f64>,
    /// number of those, the last, that a calibration learned
    learned: usize,
}

/// The constants of wear of a renewed part; lives differ by the first of them.
pub fn of_part(spare: Part) -> &'static [&'static Parameter] {
    match spare {
        Part::Washer => &[&settings::washer::wear_oiled, &settings::washer::wear_dry],
        Part::Lining | Part::Bushing => spare.constants(),
        _ => &[],
    }
}

impl Constants {
    /// The assumed constants, the idle by the variation asked for, and in place of those that a calibration learned what it left
    /// open: `factor` is common to all carts, `clutches_factor` differs between them. The correlation of their errors is left out.
    pub fn of(wish: &Wish) -> Self {
        let learned = |path: &str| wish.learned.iter().any(|one| one.path == path);
        let guessed = assumed(&wish.machine).filter(|(p, _)| !learned(p.path));
        let idle = Spread::Uniform(wish.wander);
        let guessed = guessed.map(|(p, spread)| (*p, if p == &&settings::motor::idle { idle } else { *spread }));
        let guessed = guessed.map(|(p, spread)| (Uncertain::alone(p.path, spread), common_share(p, spread)));
        let known = wish.learned.iter().map(|one| {
            let [common, apart] = [one.factor, one.clutches_factor].map(|factor| libm::log(factor.max(1.0)).powi(2));
            let spread = Spread::Factor(libm::exp((common + apart).sqrt()));
            (Uncertain::alone(&one.path, spread), if apart > 0.0 { common / (common + apart) } else { 1.0 })
        });
        let (uncertain, common) = guessed.chain(known).unzip();
        Self { uncertain, common, learned: wish.learned.len() }
    }

    /// Spread and common share of each.
    pub fn split(&self) -> Vec<Split> {
        let assumed = self.uncertain.len() - self.learned;
        let all = self.uncertain.iter().zip(&self.common).enumerate();
        let one = |(k, (u, common)): (usize, (&Uncertain, &f64))| Split {
            path: u.path.clone(),
            spread: u.spread,
            common: *common,
            learned: k >= assumed,
        };
        all.map(one).collect()
    }

    /// Normal deviates of a cart; wear constants include the first parts' own share.
    fn normals(&self, levels: Levels) -> Vec<f64> {
        let renewed = |path: &str| SPARES.into_iter().any(|part| of_part(part).first().is_some_and(|p| p.path == path));
        let one = |(u, common): (&Uncertain, &f64)| {
            if parameter(&u.path).is_none() {
                return 0.0;
            }
            levels.normal(&u.draw, *common, renewed(&u.path).then_some(0))
        };
        self.uncertain.iter().zip(&self.common).map(one).collect()
    }

    /// The machine of a cart and the deviates of its constants.
    pub fn sampled(&self, nominal: &Machine, levels: Levels) -> (Machine, Vec<f64>) {
        let normals = self.normals(levels);
        let place = |draw: &str| self.uncertain.iter().position(|u| u.draw == draw);
        (machine_at(nominal, &self.uncertain, |draw| place(draw).map(|k| normal_share(normals[k]))), normals)
    }

    /// Wear of a part after so many renewals, relative to the first one of its cart.
    pub fn renewed(&self, levels: Levels, spare: Part, renewals: u64) -> f64 {
        let Some(p) = of_part(spare).first() else { return 1.0 };
        let known = self.uncertain.iter().position(|u| u.path == p.path);
        let Some((k, Spread::Factor(factor))) = known.map(|k| (k, self.uncertain[k].spread)) else { return 1.0 };
        let of = |renewals| levels.normal(p.path, self.common[k], Some(renewals));
        libm::exp(libm::log(factor) * (of(renewals) - of(0)) / NINETY_FIVE)
    }
}

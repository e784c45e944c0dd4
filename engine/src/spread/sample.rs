//! Machines with sampled uncertain settings.

use super::correlation::mixed;
use super::draw::deviate;
use super::uncertain::Uncertain;
use crate::parts::{Machine, parameter};

/// Clutch number `clutch` of a fleet: the nominal machine with each uncertain setting sampled.
pub fn sample(nominal: &Machine, uncertain: &[Uncertain], seed: u64, clutch: u64) -> Machine {
    machine_at(nominal, uncertain, |draw| Some(deviate(seed, clutch, draw)))
}

/// The nominal machine with uncertain settings at the deviates of their variables, limited to the range of each
/// setting; what follows from geometry and masses follows. The deviates are independent; correlated variables are combined from them.
pub fn machine_at(nominal: &Machine, uncertain: &[Uncertain], deviate: impl Fn(&str) -> Option<f64>) -> Machine {
    let mut machine = nominal.clone();
    let mixed = mixed(uncertain, &deviate);
    machine.change(|machine| {
        for u in uncertain {
            let own = || deviate(&u.draw);
            let deviate = mixed.get(u.draw.as_str()).copied().unwrap_or_else(own);
            if let (Some(p), Some(deviate)) = (parameter(&u.path), deviate) {
                let value = u.spread.at((p.of)(nominal), deviate);
                (p.put)(machine, value.clamp(p.least, p.most));
            }
        }
    });
    machine
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spread::Spread;

    #[test]
    fn settings_that_share_a_variable_vary_together_and_others_stay() {
        let u = |path: &str, draw: &str| Uncertain { draw: draw.into(), ..Uncertain::alone(path, Spread::Factor(2.0)) };
        let nominal = Machine::default();
        let alone = sample(&nominal, &[u("oiling.leak", "mount")], 5, 3);
        let both = sample(
            &nominal,
            &[u("lining.wear", "lining.wear"), u("oiling.leak", "mount"), u("drum.wall", "mount")],
            5,
            3,
        );
        assert_eq!(alone.oiling.leak, both.oiling.leak);
        assert!((both.drum.wall / nominal.drum.wall - both.oiling.leak / nominal.oiling.leak).abs() < 1e-12);
        assert_eq!(alone.lining.wear, nominal.lining.wear);
    }
}

//! The books of energy and oil: opened with the run, closed at its end.

use super::ride::Failure;
use crate::model::{Assembly, counter, state};
use crate::record::{Ledger, Ledgers};
use std::collections::BTreeMap;

/// What the books need beyond the counters.
#[derive(Clone, Debug)]
pub(super) struct Books {
    pub starter: f64,
    pub oil_in: f64,
    pub oil_removed: f64,
    opening: Vec<f64>,
}

impl Books {
    pub fn open(_assembly: &Assembly, y: &[f64]) -> Self {
        let oil = [state::PORES, state::FILM, state::SOAKED].iter().map(|&k| y[k]).sum();
        Self { starter: 0.0, oil_in: oil, oil_removed: 0.0, opening: y.to_vec() }
    }

    pub fn close(&self, a: &Assembly, y: &[f64]) -> Ledgers {
        let m = &a.machine;
        let kinetic = |j: f64, k: usize| 0.5 * j * (y[k] * y[k] - self.opening[k] * self.opening[k]);
        let mechanics = ledger(
            "J",
            1e-6,
            &[("motor work", y[counter::MOTOR_WORK]), ("starter work", self.starter)],
            &[
                ("turning motor", kinetic(m.motor.inertia, state::MOTOR)),
                ("turning drum", kinetic(m.drum.inertia, state::DRUM)),
            ],
            &[
                ("chain work", y[counter::CHAIN_WORK]),
                ("slip heat", y[counter::SLIP]),
                ("bearing heat", y[counter::BEARING]),
            ],
        );
        let chain = ledger(
            "J",
            1e-6,
            &[("chain work", y[counter::CHAIN_WORK])],
            &[("moving vehicle", kinetic(a.reduced_mass, state::DRUM))],
            &[
                ("rolling", y[counter::ROLLING]),
                ("air", y[counter::AIR]),
                ("grade", y[counter::GRADE]),
                ("brake", y[counter::BRAKE]),
                ("chain loss", y[counter::CHAIN_LOSS]),
            ],
        );
        let stored =
            |nodes: std::ops::Range<usize>| nodes.map(|k| a.capacity[k] * (y[k] - self.opening[k])).sum::<f64>();
        let heat = ledger(
            "J",
            1e-9,
            &[
                ("slip heat", y[counter::SLIP]),
                ("bearing heat", y[counter::BEARING]),
                ("motor heat", y[counter::MOTOR_HEAT]),
            ],
            &[
                ("in lining", stored(state::LINING..state::WALL)),
                ("in drum", stored(state::WALL..state::BUSHING)),
                ("in bushing and washer", stored(state::BUSHING..state::SHOES)),
                ("in shoes, carrier and shaft", stored(state::SHOES..state::BLOCK)),
                ("in motor block", stored(state::BLOCK..state::HEAD)),
            ],
            &[("to the air", y[counter::LOST])],
        );
        let oil = ledger(
            "kg",
            1e-10,
            &[("put in", self.oil_in)],
            &[
                ("in pores", y[state::PORES]),
                ("in film", y[state::FILM]),
                ("in washer", y[state::SOAKED]),
                ("in grease", y[state::GREASE]),
                ("on lining", y[state::WET] + y[state::LASTING]),
            ],
            &[
                ("flung", y[counter::FLUNG]),
                ("evaporated", y[counter::EVAPORATED]),
                ("run off", y[counter::RUN_OFF]),
                ("leaked", y[counter::LEAKED]),
                ("removed with parts", self.oil_removed),
            ],
        );
        Ledgers { mechanics, chain, heat, oil }
    }
}

fn ledger(unit: &str, allowed: f64, inward: &[(&str, f64)], held: &[(&str, f64)], outward: &[(&str, f64)]) -> Ledger {
    let sum = |side: &[(&str, f64)]| side.iter().map(|e| e.1).sum::<f64>();
    let book = |side: &[(&str, f64)]| -> BTreeMap<String, f64> { side.iter().map(|e| (e.0.to_owned(), e.1)).collect() };
    let residual = sum(inward) - sum(held) - sum(outward);
    let largest = inward.iter().chain(held).chain(outward).map(|e| e.1.abs()).fold(0.0, f64::max);
    Ledger {
        unit: unit.to_owned(),
        inward: book(inward),
        held: book(held),
        outward: book(outward),
        residual,
        relative: if largest > 0.0 { residual.abs() / largest } else { 0.0 },
        allowed,
    }
}

/// Fails on the first ledger that does not close.
pub(super) fn check(ledgers: &Ledgers) -> Result<(), Failure> {
    let all =
        [("mechanics", &ledgers.mechanics), ("chain", &ledgers.chain), ("heat", &ledgers.heat), ("oil", &ledgers.oil)];
    for (name, l) in all {
        if !(l.relative <= l.allowed) {
            let entries = l.inward.iter().chain(&l.held).chain(&l.outward);
            let largest = entries.max_by(|a, b| a.1.abs().total_cmp(&b.1.abs())).map_or("none", |e| e.0);
            return Err(Failure::Ledger {
                ledger: name,
                residual: l.residual,
                unit: l.unit.clone(),
                relative: l.relative,
                largest: largest.to_owned(),
                allowed: l.allowed,
            });
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use crate::duty::{End, Segment, Task};
    use crate::model::counter;
    use crate::parts::Machine;
    use crate::simulate::{Failure, Options, Simulation};

    /// A run in which one counter is told a falsehood.
    fn falsified(counter: usize, by: f64) -> Result<(), Failure> {
        let mut sim = Simulation::new(Machine::default(), Options::default())?;
        sim.perform(&Segment::Ride(Task::Hold(7.0), End::After(60.0)))?;
        sim.y[counter] *= 1.0 + by;
        sim.finish("false", "books").map(drop)
    }

    #[test]
    fn a_false_entry_fails_the_run_and_names_the_ledger() {
        assert_eq!(falsified(counter::LOST, 0.0), Ok(()));
        for (counter, by, wanted) in [
            (counter::LOST, 1e-6, "heat"),
            (counter::LEAKED, 1e-3, "oil"),
            (counter::ROLLING, 1e-4, "chain"),
            (counter::MOTOR_WORK, 1e-4, "mechanics"),
        ] {
            match falsified(counter, by) {
                Err(Failure::Ledger { ledger, .. }) => assert_eq!(ledger, wanted),
                other => panic!("{wanted}: {other:?}"),
            }
        }
    }
}

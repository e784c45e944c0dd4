//! Tests: the Jacobian is the exact derivative of the rates in every mode, and its entries are within its pattern.

use super::{Ask, Assembly, Contact, Motion, MotorState, counter, slow, state};
use crate::integrate::{Jacobian, Rows, Sparse, System};
use crate::parts::Machine;
use std::collections::BTreeSet;

const ALL: usize = state::COUNT + counter::COUNT;

fn riding() -> Vec<f64> {
    let assembly = Assembly::new(Machine::default()).expect("a machine");
    let mut y = assembly.fresh();
    y[state::MOTOR] = 233.0;
    y[state::DRUM] = 150.0;
    y[state::THROTTLE] = 0.6;
    for (k, t) in y[state::LINING..state::HEAD].iter_mut().enumerate() {
        *t += 60.0 + 7.0 * (k as f64).sin() + if k == 0 { 140.0 } else { 0.0 };
    }
    y[state::HEAD] = 1e5;
    y[state::PORES] *= 0.8;
    y[state::FILM] *= 1.4;
    y[state::WASHER_OIL] *= 0.6;
    y[state::GREASE] = 1e-4;
    y[state::LINING_OIL] = 2e-6;
    y[state::LINING_RESIDUE] = 1e-6;
    y[state::SOAKED] = 1e-5;
    y[state::SCORE] = 0.7;
    y
}

#[test]
fn the_jacobian_is_the_slope_of_the_rates_in_every_mode() {
    let mut a = Assembly::new(Machine::default()).expect("a machine");
    a.grease_charge = 2e-4;
    a.lasting_outside = 0.3;
    let (pattern, counters) = a.pattern();
    let within: Vec<BTreeSet<_>> = a
        .patterns()
        .into_iter()
        .map(|(states, counters)| {
            states.into_iter().chain(counters.into_iter().map(|(i, j)| (i + state::COUNT, j))).collect()
        })
        .collect();
    let mut exact = Jacobian {
        states: Sparse::new(state::COUNT, pattern),
        counters: Rows::new(counter::COUNT, state::COUNT, counters),
    };
    let mut slow = vec![0.0; slow::COUNT];
    slow[slow::LINING] = 2e-4;
    slow[slow::RELAXATION] = 0.02;
    let mut checked = 0;
    for contact in [Contact::Free, Contact::Slip(1.0), Contact::Slip(-1.0), Contact::Locked] {
        for (motion, braking) in [
            (Motion::Held, None),
            (Motion::Moving(1.0), None),
            (Motion::Moving(-1.0), None),
            (Motion::Moving(1.0), Some(1.5)),
        ] {
            for motor in [MotorState::Running, MotorState::Coasting, MotorState::Stopped] {
                let mut y = riding();
                if motion == Motion::Moving(-1.0) {
                    y[state::DRUM] = -20.0;
                }
                (a.contact, a.motion, a.braking, a.motor) = (contact, motion, braking, motor);
                a.ask = Ask::Speed { speed: 4.6, slope: 0.0, at: 0.0 };
                exact.forget();
                a.constant_slopes(&mut exact);
                let mut rates = vec![0.0; ALL];
                a.rates(0.0, &y, &slow, &mut rates);
                a.jacobian(0.0, &y, &slow, &rates, &mut exact);
                for j in 0..state::COUNT {
                    let nudge = 1e-5 * y[j].abs().max(1e-7);
                    let shifted = |by: f64| {
                        let mut z = y.clone();
                        z[j] += by;
                        let mut out = vec![0.0; ALL];
                        a.rates(0.0, &z, &slow, &mut out);
                        out
                    };
                    let (up, down) = (shifted(nudge), shifted(-nudge));
                    for i in 0..ALL {
                        let measured = (up[i] - down[i]) / (2.0 * nudge);
                        let slope = if i < state::COUNT {
                            exact.states.at(i, j)
                        } else {
                            exact.counters.row(i - state::COUNT)[j]
                        };
                        assert!(
                            slope == 0.0 || within[a.kind()].contains(&(i, j)),
                            "row {i}, column {j} is not in the pattern"
                        );
                        // Differences lose digits by rounding of rates as large as 1e5 and by curvature.
                        let noise = 1e-10 * (up[i].abs() + 1e-6) / nudge;
                        let allowed = 2e-4 * measured.abs().max(slope.abs()) + noise;
                        assert!(
                            (measured - slope).abs() <= allowed,
                            "row {i}, column {j} in {contact:?} {motion:?} {braking:?} {motor:?}: {slope} for {measured}"
                        );
                        checked += usize::from(slope != 0.0);
                    }
                }
            }
        }
    }
    assert!(checked > 5000, "only {checked} slopes were seen");
}

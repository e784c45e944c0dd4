//! The stepper compared with a reference problem: a day of a clutch, of which three independent codes know the result.

use crate::integrator::near;
use crate::systems::reference::{self, Clutch, Day, Machine};
use slipsoak_engine::numerics::{Jacobian, Rows, Sparse, System};

#[test]
fn the_reference_slopes_are_the_slopes_of_its_rates_in_every_mode() {
    let mut machine = Machine::new(1.0);
    let (mut y, mut slow) = Machine::start();
    for (k, x) in y.iter_mut().enumerate() {
        *x += 20.0 * (3.0 + (k as f64).sin());
    }
    slow[reference::LINING_WEAR] = 50.0;
    let (states, counters) = machine.pattern();
    let mut jacobian = Jacobian { states: Sparse::new(36, states), counters: Rows::new(0, 36, counters) };
    let [idle, _, cruise, _] = reference::CYCLE;
    for clutch in [Clutch::Open, Clutch::Slip(1.0), Clutch::Slip(-1.0), Clutch::Lock] {
        for (moving, phase) in [(false, idle), (true, cruise), (true, reference::SOAK)] {
            (y[0], y[1]) = (270.0, if clutch == Clutch::Lock { 270.0 } else { 230.0 });
            (machine.clutch, machine.moving, machine.phase) = (clutch, moving, phase);
            jacobian.states.clear();
            machine.constant_slopes(&mut jacobian);
            machine.jacobian(0.0, &y, &slow, &[], &mut jacobian);
            for j in 0..36 {
                let (mut ahead, mut behind, step) = ([0.0; 36], [0.0; 36], 1e-3);
                let mut moved = y;
                moved[j] = y[j] + step;
                machine.rates(0.0, &moved, &slow, &mut ahead);
                moved[j] = y[j] - step;
                machine.rates(0.0, &moved, &slow, &mut behind);
                for i in 0..36 {
                    let want = (ahead[i] - behind[i]) / (2.0 * step);
                    // Rates of up to 1e6 K/s rounded at 1e-16 over a step of 1e-3, and the cube of the step.
                    near(
                        &format!("({i}, {j}) in {clutch:?}"),
                        jacobian.states.at(i, j),
                        want,
                        1e-6 + 1e-6 * want.abs(),
                    );
                }
            }
        }
    }
}

/// Engagement, start of the vehicle, lock, unlock, release, stop in the first cycle, s; from three independent codes at
/// 1e-8 and tighter.
const FIRST_CYCLE: [f64; 6] = [15.0714535, 15.0798952, 17.6560877, 58.5271209, 58.5407635, 60.7077253];

#[test]
fn the_first_cycle_of_the_reference_has_its_six_events_when_they_are_due() {
    let mut day = Day::new(0.01, 1.0);
    day.cycles(1).expect("the reference runs");
    assert_eq!(day.machine.events.len(), 6);
    for (got, want) in day.machine.events.iter().zip(FIRST_CYCLE) {
        // The steps are accurate to 0.01 rad/s, and the slowest change is 150 rad/s².
        near("event, s", *got, want, 1e-4);
    }
}

#[test]
fn ten_reference_cycles_at_a_working_tolerance_agree_with_tight_ones() {
    let run = |tolerance| {
        let mut day = Day::new(tolerance, WEIGHT);
        day.cycles(10).expect("the reference runs");
        day
    };
    let (working, tight) = (run(TOLERANCE), run(1e-4));
    for k in 2..36 {
        // The whole day is allowed a tenth of a kelvin.
        near(&format!("state {k}, K"), working.y[k], tight.y[k], 0.1);
    }
    for k in 0..6 {
        // And a thousandth of the wear; oil and ageing are far below their 1e-4.
        near(&format!("slow {k}"), working.slow[k], tight.slow[k], 1e-3 * tight.slow[k]);
    }
}

/// Working tolerance, and the weight of speeds, rad/s per kelvin.
const TOLERANCE: f64 = 1.5;
const WEIGHT: f64 = 10.0;

/// Largest error of a day relative to what is allowed, and the number of steps of its cycles.
fn day_error(tolerance: f64) -> (f64, f64) {
    let mut day = Day::new(tolerance, WEIGHT);
    let error = day.error().expect("the reference runs");
    (error, day.stepper.work.steps as f64)
}

#[test]
fn the_reference_day_is_right_within_its_budget_of_steps_and_converges() {
    let [loose, middle, tight] = [TOLERANCE, 0.1 * TOLERANCE, 0.01 * TOLERANCE].map(day_error);
    assert!(loose.0 <= 1.0, "error {} of what is allowed", loose.0);
    let hours = 24_800.0 / 3600.0;
    assert!(loose.1 <= 2000.0 * hours, "{} steps", loose.1);
    // Stiff layers under the rubbing surface reduce the order of four by about one; another one is allowed for scatter.
    let order = (loose.0 / tight.0).ln() / (tight.1 / loose.1).ln();
    assert!(order > 2.0, "order {order}: {loose:?} {middle:?} {tight:?}");
}

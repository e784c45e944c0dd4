//! Slopes of readings, and the intervals that a fit states by them.

use crate::first_text::first_text;
use crate::learned_constants::{FADES, off, problem, scattered};
use crate::start_and_night::start_and_night;
use slipsoak_engine::calibrate::{
    Effort, Logged, Measured, NINETY_FIVE, Noise, Problem, Stretch, Thermometer, fit, setting,
};
use slipsoak_engine::names::{Channel, IdleKind};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::simulate::{Failure, Skipping};

/// Relative deviation of the slopes along each constant from those by Richardson's extrapolation, from whole and half
/// steps of its logarithm.
fn missed(problem: &Problem, constants: &[f64]) -> Vec<f64> {
    let own = problem.slopes(constants).expect("slopes");
    let shown = |k: usize, step: f64| {
        let mut moved = constants.to_vec();
        moved[k] *= step.exp();
        problem.residuals(&moved).expect("it runs")
    };
    let along = |k: usize, step: f64| -> Vec<f64> {
        let pairs = shown(k, step).into_iter().zip(shown(k, -step));
        pairs.map(|(up, down)| (up - down) / (2.0 * step * constants[k])).collect()
    };
    let length = |x: &[f64]| x.iter().map(|s| s * s).sum::<f64>().sqrt();
    let miss = |k: usize| {
        let (whole, half) = (along(k, 0.1), along(k, 0.05));
        let exact: Vec<f64> = whole.iter().zip(half).map(|(w, h)| (4.0 * h - w) / 3.0).collect();
        let off: Vec<f64> = exact.iter().zip(&own[k]).map(|(e, o)| e - o).collect();
        length(&off) / length(&exact)
    };
    (0..problem.sought.len()).map(miss).collect()
}

#[test]
fn slopes_of_quantities_proportional_to_their_constant_are_exact_and_others_nearly_so() {
    let (mut worn, _) = problem();
    worn.running_in.clear();
    let starts: Vec<f64> = worn.constants().iter().map(|c| c.start).collect();
    // A governor holds the idle fast, and the steps stay the same: differences show the law of the error, not the scatter of
    // the stepper.
    let mut governed = first_text(Machine { idle_kind: IdleKind::Governed, ..Machine::default() });
    governed.motor.stop_below = governed.motor.idle;
    let mut warm = Problem::new(
        governed,
        ["heat.convection", "heat.lining_shoes"].map(|path| setting(path).expect(path)).to_vec(),
        (FADES, Skipping::default()),
    );
    let stretches = (1..20).map(|k| Stretch { times: vec![60.0 * f64::from(k)], value: 350.0 }).collect();
    let channels = vec![Thermometer { node: Channel::Shoes, gauge: 0.5, stretches, readings: 19 }];
    let segments =
        [&start_and_night()[..4], &start_and_night()[..4], &start_and_night()[..4], &start_and_night()[..4]].concat();
    warm.logged = vec![Logged { file: "log".into(), duty: "four rides".into(), segments, channels }];
    let warmth: Vec<f64> = warm.constants().iter().map(|c| c.start).collect();
    let missed = [missed(&worn, &starts), missed(&warm, &warmth)];
    // Differences of the logarithm over steps of 0.05 would deviate by 0.05²/6 = 4.2e-4 already for proportional
    // quantities. The stepper's repeatability contributes 3e-5, at that of runs 5e-4; temperatures are nonlinear in their conductances, and
    // launches begin and end at other times.
    assert!(missed[0].iter().all(|miss| *miss < 4e-4), "{missed:?}");
    assert!(missed[1][0] < 1e-3 && missed[1][1] < 1.5e-3, "{missed:?}");
}

/// A problem whose readings are linear in its constants about the truth.
struct Straight<'a> {
    problem: &'a Problem,
    truth: Vec<f64>,
    slopes: &'a [Vec<f64>],
}

impl Measured for Straight<'_> {
    type Error = Failure;
    fn residuals(&self, constants: &[f64]) -> Result<Vec<f64>, Self::Error> {
        let mut all = self.problem.residuals(&self.truth)?;
        for ((slope, now), then) in self.slopes.iter().zip(constants).zip(&self.truth) {
            all.iter_mut().zip(slope).for_each(|(r, s)| *r += s * (now - then));
        }
        Ok(all)
    }
    fn slopes(&self, _: &[f64]) -> Result<Vec<Vec<f64>>, Self::Error> {
        Ok(self.slopes.to_vec())
    }
}

/// 200 repeats: the engine makes the readings and the slopes once, at the true constants; each repeat scatters the
/// readings anew and is fitted by the program's own fit with those linear readings. (Two hundred fits with the engine
/// would take hours.)
#[test]
fn stated_90_percent_intervals_contain_the_truth_85_to_95_times_in_100() {
    const REPEATS: u64 = 200;
    let (mut problem, truth) = problem();
    let start: Vec<f64> = truth.iter().copied().chain([0.0; 2]).collect();
    let slopes = problem.slopes(&start).expect("slopes");
    let exact = problem.inspected[0].reads.clone();
    let known = problem.constants();
    let mut inside = vec![0_u32; known.len()];
    for repeat in 0..REPEATS {
        let (reads, depths) = scattered(&exact, repeat);
        problem.inspected[0].reads = reads;
        let straight = Straight { problem: &problem, truth: start.clone(), slopes: &slopes };
        let found = fit(&straight, &known, Effort::default(), Noise::Stated).expect("a fit");
        for (count, off) in inside.iter_mut().zip(off(&problem, &found, &truth, depths)) {
            *count += u32::from(off.abs() < NINETY_FIVE);
        }
    }
    let share = |count: u32| f64::from(count) / REPEATS as f64;
    let all = share(inside.iter().sum()) / known.len() as f64;
    assert!((0.85..=0.95).contains(&all), "{inside:?}");
    // The count of one constant scatters by √(0.9·0.1/200) = 2.1 %: two and a half of those about 90 %.
    assert!(inside.iter().all(|count| (share(*count) - 0.9).abs() < 0.053), "{inside:?}");
}

//! Skipping of blocks whose states settle slowly, or at once, compared with every block simulated.

use slipsoak_engine::numerics::{Course, Repeating, Skipping, travel};
use std::convert::Infallible;

/// A state declared as settling that hardly settles: z falls by a hundredth a block, and w is the sum of its squares.
struct Lingering([f64; 2]);

impl Repeating for Lingering {
    type Held = [f64; 2];
    type Error = Infallible;
    fn block(&mut self) -> Result<(), Infallible> {
        self.0[0] *= 0.99;
        self.0[1] += self.0[0] * self.0[0];
        Ok(())
    }
    fn quantities(&self) -> Vec<Course> {
        vec![Course::Settles(1e-3), Course::Drifts(0.0)]
    }
    fn read(&self) -> Vec<f64> {
        self.0.to_vec()
    }
    fn put(&mut self, values: &[f64], _: f64) {
        self.0.copy_from_slice(values);
    }
    fn hold(&self) -> [f64; 2] {
        self.0
    }
    fn restore(&mut self, held: [f64; 2]) {
        self.0 = held;
    }
}

#[test]
fn a_slowly_settling_state_does_not_count_as_settled() {
    for (start, blocks) in [(1.0, 300), (1.0, 1000), (0.3, 300), (3.0, 200)] {
        let mut way = Lingering([start, 0.0]);
        let travelled = travel(&mut way, blocks, Skipping::default()).unwrap_or_else(|never| match never {});
        let q = 0.99_f64.powi(2);
        let exact = start * start * q * (1.0 - q.powi(blocks as i32)) / (1.0 - q);
        assert!((way.0[1] / exact - 1.0).abs() < 1e-3, "{} for {exact}", way.0[1]);
        assert!(travelled.run < 2 * blocks + 100, "{blocks} blocks: {travelled:?}");
    }
}

/// Three settling states, and wear by e^(F z). z forgets a disturbance within a block but affects the wear over it; two
/// others return to g(w) slowly with an oscillation, and act on z.
#[derive(Clone)]
struct Forgetful {
    /// z, then the two oscillating states
    settling: [f64; 3],
    w: f64,
    blocks: f64,
    /// share of the oscillation that remains after a block, and its angle
    keep: f64,
    turn: f64,
    force: f64,
    goal: fn(f64) -> f64,
    within: f64,
}

impl Repeating for Forgetful {
    type Held = Self;
    type Error = Infallible;
    fn block(&mut self) -> Result<(), Infallible> {
        let goal = (self.goal)(self.w);
        let [z, a, b] = self.settling;
        self.w += 0.3 / 4000.0 * (self.force * (z - 1.0)).exp();
        let (cos, sin) = (self.keep * self.turn.cos(), self.keep * self.turn.sin());
        let turned = [cos * (a - goal) - sin * (b - goal), sin * (a - goal) + cos * (b - goal)];
        self.settling = [0.01 * z + 0.7 * goal + 0.3 * a, goal + turned[0], goal + turned[1]];
        self.blocks += 1.0;
        Ok(())
    }
    fn quantities(&self) -> Vec<Course> {
        let mut courses = vec![Course::Settles(self.within); 3];
        courses.push(Course::Drifts(0.0));
        courses
    }
    fn read(&self) -> Vec<f64> {
        let [z, a, b] = self.settling;
        vec![z, a, b, self.w]
    }
    fn put(&mut self, values: &[f64], blocks: f64) {
        self.settling.copy_from_slice(&values[..3]);
        self.w = values[3];
        self.blocks += blocks;
    }
    fn hold(&self) -> Self {
        self.clone()
    }
    fn restore(&mut self, held: Self) {
        *self = held;
    }
}

#[test]
fn a_state_that_settles_within_a_block_still_counts_by_its_effect_on_the_drift() {
    let straight: fn(f64) -> f64 = |w| 1.0 + 2.0 * w;
    let steep: fn(f64) -> f64 = |w| (2.0 * w).exp();
    for (goal, keep, turn, force, within) in
        [(straight, 0.9381, 0.0613, 1.285, 7.81e-3), (steep, 0.9181, 0.0316, 0.486, 2.536e-3)]
    {
        let new = || Forgetful { settling: [0.0; 3], w: 0.0, blocks: 0.0, keep, turn, force, goal, within };
        let travelled = |tolerance| {
            let mut way = new();
            let travelled = travel(&mut way, 4000, Skipping { tolerance }).unwrap_or_else(|never| match never {});
            (way.w, travelled)
        };
        let (exact, _) = travelled(0.0);
        for tolerance in [5e-3, 1.5e-3, 5e-4, 1.5e-4, 5e-5, 1.5e-5, 5e-6] {
            let (w, way) = travelled(tolerance);
            let (error, estimated) = ((w - exact).abs(), way.errors[3]);
            assert!(error < 3.0 * estimated, "at {tolerance}: {w} for {exact}, estimated {estimated}");
            assert!(error < 3.0 * tolerance * exact, "at {tolerance}: {w} for {exact}");
            assert!(way.run < 2000, "at {tolerance}: {way:?}");
        }
    }
}

/// A repeatable sequence that looks random, 0 to 1: R. Weyl's, by the golden ratio, shuffled by its own digits.
struct Sequence(u64);

impl Sequence {
    fn between(&mut self, low: f64, high: f64) -> f64 {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut digits = self.0;
        digits = (digits ^ (digits >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        digits = (digits ^ (digits >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        low + (high - low) * ((digits ^ (digits >> 31)) >> 11) as f64 / (1_u64 << 53) as f64
    }
}

/// At any tolerance, on four kinds of course, with states that return fast and slowly, with and without oscillation.
#[test]
fn no_error_of_many_systems_exceeds_three_times_its_estimate() {
    let goals: [fn(f64) -> f64; 4] = [|w| 1.0 + 2.0 * w, |w| (2.0 * w).exp(), |w| 1.0 / (1.0 + 3.0 * w), |_| 1.0];
    let (mut ratios, mut run) = (vec![], 0);
    let mut sequence = Sequence(1);
    for _ in 0..800 {
        let goal = goals[sequence.between(0.0, 4.0) as usize];
        let keep = sequence.between(0.5, 0.97);
        let turn = sequence.between(0.0, 0.3) * sequence.between(0.0, 1.0);
        let force = sequence.between(0.1, 1.5);
        let within = sequence.between(1e-4_f64.ln(), 1e-2_f64.ln()).exp();
        let new = || Forgetful { settling: [0.0; 3], w: 0.0, blocks: 0.0, keep, turn, force, goal, within };
        let mut full = new();
        for _ in 0..4000 {
            full.block().unwrap_or_else(|never| match never {});
        }
        let exact = full.w;
        full.block().unwrap_or_else(|never| match never {});
        // A solution that diverges within the horizon has no error that could be estimated.
        if !(full.w - exact < 20.0 * 0.3 / 4000.0) {
            continue;
        }
        for tolerance in [5e-3, 1.5e-3, 5e-4, 1.5e-4, 5e-5, 1.5e-5, 5e-6] {
            let mut way = new();
            let travelled = travel(&mut way, 4000, Skipping { tolerance }).unwrap_or_else(|never| match never {});
            let ratio = if travelled.skipped == 0 { 0.0 } else { (way.w - exact).abs() / travelled.errors[3] };
            assert!(ratio < 3.0, "{ratio} at {tolerance}: keep {keep}, turn {turn}, force {force}, within {within}");
            ratios.push(ratio);
            run += travelled.run;
        }
    }
    ratios.sort_by(f64::total_cmp);
    assert!(ratios.len() > 5000, "{}", ratios.len());
    // An estimate that is always safe because it is far too high would be useless, as would one that costs most blocks.
    assert!(ratios[ratios.len() / 2] > 0.01, "median {}", ratios[ratios.len() / 2]);
    assert!(run < 200 * ratios.len() as u64, "{run} blocks for {} ways of 4000", ratios.len());
}

#[test]
fn a_repetition_is_no_longer_than_requested() {
    let goal: fn(f64) -> f64 = |w| 1.0 + 2.0 * w;
    for most in 60..160 {
        let mut way = Forgetful {
            settling: [0.0; 3],
            w: 0.0,
            blocks: 0.0,
            keep: 0.9381,
            turn: 0.0613,
            force: 1.285,
            goal,
            within: 7.81e-3,
        };
        travel(&mut way, most, Skipping::default()).unwrap_or_else(|never| match never {});
        assert_eq!(way.blocks, most as f64);
    }
}

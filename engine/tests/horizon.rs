//! Skipping compared with closed forms.

use slipsoak_engine::numerics::{Course, Repeating, SkipStats, Skipping, travel};
use std::convert::Infallible;
use std::f64::consts::TAU;

/// w' = r (1 + a sin 2πt) e^(κw), in blocks of one period.
///
/// e^(−κw) falls by κ r ∫(1 + a sin 2πt) dt, exactly.
struct Accelerating {
    w: f64,
    blocks: f64,
    life: Option<f64>,
}

const R: f64 = 1e-4;
const KAPPA: f64 = 2.0;
const SWING: f64 = 0.9;

impl Accelerating {
    fn after(w: f64, share: f64) -> f64 {
        let run = share + SWING * (1.0 - (TAU * share).cos()) / TAU;
        -((-KAPPA * w).exp() - KAPPA * R * run).ln() / KAPPA
    }
}

impl Repeating for Accelerating {
    type Held = (f64, f64);
    type Error = Infallible;
    fn block(&mut self) -> Result<(), Infallible> {
        let end = Self::after(self.w, 1.0);
        if end >= 1.0 || end.is_nan() {
            let (mut low, mut high) = (0.0, 1.0);
            for _ in 0..60 {
                let middle = 0.5 * (low + high);
                let w = Self::after(self.w, middle);
                if w < 1.0 { low = middle } else { high = middle }
            }
            self.life = Some(self.blocks + low);
        }
        self.w = end;
        self.blocks += 1.0;
        Ok(())
    }
    fn quantities(&self) -> Vec<Course> {
        vec![Course::Drifts(0.0)]
    }
    fn read(&self) -> Vec<f64> {
        vec![self.w]
    }
    fn put(&mut self, values: &[f64], blocks: f64) {
        self.w = values[0];
        self.blocks += blocks;
    }
    fn hold(&self) -> (f64, f64) {
        (self.w, self.blocks)
    }
    fn restore(&mut self, held: (f64, f64)) {
        (self.w, self.blocks) = held;
        self.life = None;
    }
    fn room(&self, slopes: &[f64]) -> f64 {
        (1.0 - self.w) / slopes[0] - 1.0
    }
    fn regime(&self) -> u64 {
        u64::from(self.w >= 1.0)
    }
    fn over(&self) -> bool {
        self.life.is_some()
    }
}

fn accelerate(blocks: u64, tolerance: f64) -> (Accelerating, SkipStats) {
    let mut wear = Accelerating { w: 0.0, blocks: 0.0, life: None };
    let way = travel(&mut wear, blocks, Skipping { tolerance }).unwrap_or_else(|never| match never {});
    (wear, way)
}

/// The wear by every block's mean reaches 1 here; with the swing within the block it does slightly earlier.
const LIFE: f64 = 4323.3236;

#[test]
fn the_life_of_accelerating_wear_is_found_from_few_blocks() {
    let (full, every) = accelerate(10_000, 0.0);
    let life = full.life.expect("it wears out");
    assert_eq!(every.skipped, 0);
    // (1 − e^(−2))/(κ r) less the swing's (1 − cos 2πt) a/2π at that share of the block.
    let swing = SWING * (1.0 - (TAU * life.fract()).cos()) / TAU;
    assert!((life + swing - LIFE).abs() < 1e-4, "{life}");
    let (skipping, way) = accelerate(10_000, 5e-3);
    let life = skipping.life.expect("it wears out");
    assert!((life / LIFE - 1.0).abs() < 2e-3, "{life}");
    assert!(way.run < 60, "{way:?}");
}

#[test]
fn the_error_falls_with_the_tolerance_and_with_the_square_of_the_blocks_run() {
    let at = |blocks, tolerance| {
        let (wear, way) = accelerate(blocks, tolerance);
        (wear.w, way.errors[0], way.run as f64)
    };
    // Closed forms of w after this number of blocks.
    for (blocks, want) in [(1000, 0.1115717757), (4000, 0.8047189562)] {
        let (w, estimated, run) = at(blocks, 0.0);
        assert!((w - want).abs() < 1e-10 && estimated == 0.0 && run == blocks as f64, "{w}");
        let tried: Vec<_> = [5e-3, 5e-4, 5e-5].map(|tolerance| at(blocks, tolerance)).into();
        for (w, estimated, _) in &tried {
            // The estimate is never less than a third of the true error.
            assert!((w - want).abs() < 3.0 * estimated, "{w} for {want}, estimated {estimated}");
        }
        // The first jumps grow from a few blocks at any tolerance; the order appears once most are of full length.
        let (first, last) = (tried[1], tried[2]);
        let in_tolerance = (first.1 / last.1).log10();
        let in_blocks = (first.1 / last.1).ln() / (last.2 / first.2).ln();
        assert!((0.8..1.3).contains(&in_tolerance), "order {in_tolerance} in the tolerance: {tried:?}");
        assert!(in_blocks > 1.9, "order {in_blocks} in the blocks run: {tried:?}");
        let truth = ((tried[0].0 - want) / (last.0 - want)).abs();
        // About two: the true error passes through zero at times.
        assert!(truth > (last.2 / tried[0].2).powf(1.7), "the true error falls by {truth}: {tried:?}");
    }
}

/// Stop-and-go of a heated node: P·R 200 K, τ 300 s, 60 s on and 240 s off; wear grows as e^(0.02 T).
struct StopAndGo {
    temperature: f64,
    worn: f64,
    blocks: f64,
    span: (f64, f64),
}

impl StopAndGo {
    fn part(&mut self, toward: f64, seconds: f64) {
        const STEPS: usize = 400;
        let start = self.temperature;
        let at = |t: f64| toward + (start - toward) * (-t / 300.0).exp();
        let h = seconds / STEPS as f64;
        for k in 0..STEPS {
            let wear = |share: f64| (0.02 * at((k as f64 + share) * h)).exp();
            self.worn += h / 6.0 * (wear(0.0) + 4.0 * wear(0.5) + wear(1.0));
        }
        self.temperature = at(seconds);
    }
}

impl Repeating for StopAndGo {
    type Held = (f64, f64, f64);
    type Error = Infallible;
    fn block(&mut self) -> Result<(), Infallible> {
        self.part(200.0, 60.0);
        self.span.1 = self.temperature;
        self.part(0.0, 240.0);
        self.span.0 = self.temperature;
        self.blocks += 1.0;
        Ok(())
    }
    fn quantities(&self) -> Vec<Course> {
        vec![Course::Settles(1e-6), Course::Drifts(0.0)]
    }
    fn read(&self) -> Vec<f64> {
        vec![self.temperature, self.worn]
    }
    fn put(&mut self, values: &[f64], blocks: f64) {
        (self.temperature, self.worn) = (values[0], values[1]);
        self.blocks += blocks;
    }
    fn hold(&self) -> Self::Held {
        (self.temperature, self.worn, self.blocks)
    }
    fn restore(&mut self, held: Self::Held) {
        (self.temperature, self.worn, self.blocks) = held;
    }
}

#[test]
fn stop_and_go_settles_to_its_closed_form_and_wears_by_the_mean_of_the_rate() {
    let new = || StopAndGo { temperature: 0.0, worn: 0.0, blocks: 0.0, span: (0.0, 0.0) };
    let mut node = new();
    let way = travel(&mut node, 10_000, Skipping::default()).unwrap_or_else(|never| match never {});
    assert!((node.span.1 - 57.3527453).abs() < 1e-6, "{:?}", node.span);
    assert!((node.span.0 - 25.7702496).abs() < 1e-6, "{:?}", node.span);
    assert_eq!(node.blocks, 10_000.0);
    assert!(way.run < 60, "{way:?}");
    let mut full = new();
    let every = travel(&mut full, 10_000, Skipping { tolerance: 0.0 }).unwrap_or_else(|never| match never {});
    assert_eq!(every.run, 10_000);
    // The mean rate over the last blocks, to the given digits.
    let before = full.worn;
    let mut one_more = full;
    one_more.block().unwrap_or_else(|never| match never {});
    assert!(((one_more.worn - before) / 300.0 - 2.2633671783).abs() < 1e-9);
    let error = (node.worn - before).abs();
    assert!(error <= 3.0 * way.errors[1] + 1e-9 * before, "{error} against {}", way.errors[1]);
    assert!(error < 1e-3 * before);
}

/// u' = 998 u + 1998 v, v' = −999 u − 1999 v by explicit steps of 0.8 ms: a slow mode and one that decays at once.
struct Stiff([f64; 2]);

impl Stiff {
    fn step(&mut self) {
        let [u, v] = self.0;
        self.0 = [u + 0.8e-3 * (998.0 * u + 1998.0 * v), v - 0.8e-3 * (999.0 * u + 1999.0 * v)];
    }
}

impl Repeating for Stiff {
    type Held = [f64; 2];
    type Error = Infallible;
    fn block(&mut self) -> Result<(), Infallible> {
        self.step();
        Ok(())
    }
    fn quantities(&self) -> Vec<Course> {
        vec![Course::Drifts(1e-6); 2]
    }
    fn read(&self) -> Vec<f64> {
        self.0.to_vec()
    }
    fn put(&mut self, values: &[f64], _blocks: f64) {
        self.0 = [values[0], values[1]];
    }
    fn hold(&self) -> [f64; 2] {
        self.0
    }
    fn restore(&mut self, held: [f64; 2]) {
        self.0 = held;
    }
}

#[test]
fn an_unstable_jump_is_rejected() {
    let mut plain = Stiff([1.0, 0.0]);
    for _ in 0..20 {
        plain.step();
        let before = plain.0;
        plain.step();
        for (x, before) in plain.0.iter_mut().zip(before) {
            *x += 97.0 * (*x - before);
        }
    }
    assert!(plain.0[0].abs() > 1e6, "a plain jump explodes: {:?}", plain.0);
    let mut careful = Stiff([1.0, 0.0]);
    let way = travel(&mut careful, 2000, Skipping::default()).unwrap_or_else(|never| match never {});
    let want = 2.0 * (1.0_f64 - 0.8e-3).powi(2000);
    assert!((careful.0[0] / want - 1.0).abs() < 2e-3, "{:?} for {want}", careful.0);
    assert!(way.taken_back > 0 && way.skipped > 1000, "{way:?}");
}

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

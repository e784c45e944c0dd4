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

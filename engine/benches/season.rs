//! Benchmark: a hundred hours of the reference problem's stop-and-go, 5800 launches, with skipping. (Its linings would
//! not last longer.) In full they take a tenth of the seconds per 1000 h of use of the bench `stepping`.

#[path = "../tests/systems/reference/mod.rs"]
#[allow(dead_code)]
mod reference;

use reference::{Clutch, Day};
use slipsoak_engine::numerics::Stuck;
use slipsoak_engine::numerics::{Course, Repeating, Skipping, travel};

const STATES: usize = 36;
const SLOW: usize = 8;
/// 62 s each
const CYCLES: u64 = 5806;

struct Season(Day);

impl Repeating for Season {
    type Held = ([f64; STATES], [f64; SLOW], Clutch, bool);
    type Error = Stuck;
    fn block(&mut self) -> Result<(), Stuck> {
        self.0.machine.events.clear();
        self.0.cycles(1)
    }
    fn quantities(&self) -> Vec<Course> {
        let mut courses = vec![Course::Settles(0.02); STATES];
        courses.extend([Course::Drifts(0.0); SLOW]);
        courses[STATES + reference::OIL] = Course::Drifts(1e-4);
        courses[STATES + reference::AGED] = Course::Drifts(1e-4);
        // Relaxation slows down by itself; the integral of temperature only follows.
        courses[STATES + 6] = Course::Slows(1e-4);
        courses[STATES + 7] = Course::Follows;
        courses
    }
    fn read(&self) -> Vec<f64> {
        self.0.y.iter().chain(&self.0.slow).copied().collect()
    }
    fn put(&mut self, values: &[f64], _blocks: f64) {
        self.0.y.copy_from_slice(&values[..STATES]);
        self.0.slow.copy_from_slice(&values[STATES..]);
    }
    fn hold(&self) -> Self::Held {
        (self.0.y, self.0.slow, self.0.machine.clutch, self.0.machine.moving)
    }
    fn restore(&mut self, held: Self::Held) {
        (self.0.y, self.0.slow, self.0.machine.clutch, self.0.machine.moving) = held;
    }
}

fn season(tolerance: f64) -> ([f64; SLOW], u64) {
    let mut season = Season(Day::new(1.5, 10.0));
    let way = travel(&mut season, CYCLES, Skipping { tolerance }).expect("the reference runs");
    (season.0.slow, way.run)
}

fn main() {
    let (full, skipped) = (season(0.0), season(Skipping::default().tolerance));
    eprintln!("{} of {CYCLES} cycles run; relative differences from the full run:", skipped.1);
    for (name, k) in [
        ("oil", reference::OIL),
        ("lining", reference::LINING_WEAR),
        ("washer", reference::WASHER_WEAR),
        ("bushing", reference::BUSHING_WEAR),
        ("drum", reference::DRUM_WEAR),
    ] {
        eprintln!("  {name:<8} {:.1e}", (skipped.0[k] - full.0[k]) / full.0[k]);
    }
    if std::env::args().any(|a| a == "--save-baseline") {
        divan::Divan::default().run_benches();
    } else {
        divan::main();
    }
}

/// With skipping.
#[divan::bench]
fn hundred_hours() -> u64 {
    season(divan::black_box(Skipping::default().tolerance)).1
}

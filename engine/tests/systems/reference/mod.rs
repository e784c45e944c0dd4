//! A reference problem for the stepper: a machine with invented constants, 36 coupled and 8 slow states, 2400 events a day.
//!
//! Two inertias with a centrifugal clutch and a vehicle, the lining and the drum wall in 12 cells each, 10 lumped
//! temperatures, and wear, oil and spring as slow quantities. SI, K; wear in µm.

mod day;
mod numbers;
mod system;

pub use day::*;
pub use numbers::*;
use slipsoak_engine::numerics::{Dual, Real};

/// State of the clutch.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Clutch {
    /// shoes off the drum
    Open,
    /// slipping; the sign of the torque on the drum
    Slip(f64),
    /// one speed
    Lock,
}

/// A phase of the program.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Phase {
    number: u64,
    seconds: f64,
    running: bool,
    throttle: f64,
    brake: f64,
}

/// idle, launch, cruise, brake
pub const CYCLE: [Phase; 4] = [
    Phase { number: 0, seconds: 15.0, running: true, throttle: 0.0, brake: 9.0 },
    Phase { number: 1, seconds: 3.0, running: true, throttle: 1.0, brake: 0.0 },
    Phase { number: 2, seconds: 40.0, running: true, throttle: 0.25, brake: 0.0 },
    Phase { number: 3, seconds: 4.0, running: true, throttle: 0.0, brake: 9.0 },
];
/// a night at rest
pub const SOAK: Phase = Phase { number: 4, seconds: 43200.0, running: false, throttle: 0.0, brake: 0.0 };

/// The machine in its present mode.
pub struct Machine {
    /// state of the clutch
    pub clutch: Clutch,
    /// whether the vehicle moves
    pub moving: bool,
    /// present phase
    pub phase: Phase,
    /// times of the events, s
    pub events: Vec<f64>,
    /// highest temperature of the lining's surface and when, K and s
    pub peak: (f64, f64),
    bushing_friction: f64,
    faces: [[f64; CELLS - 1]; 2],
    surface: [f64; 2],
    back: f64,
    per_capacity: [f64; STATES],
    abs_tol: [f64; STATES],
}

/// Rates of the contact.
struct Contact<N> {
    engine: N,
    drum: N,
    to_lining: N,
    to_drum: N,
    to_bushing: N,
    to_washer: N,
    engine_heat: N,
}

fn sigmoid<N: Real>(z: N) -> N {
    let s = 1.0 / (1.0 + libm::exp(-z.value()));
    z.chain(s, s * (1.0 - s))
}

/// Speed of the air near a rotating part, (ω² + 25)^0.4, and its slope in the speed.
///
/// With a = (ω² + 25)² the power is a r⁴, r = a^(−1/5); a first guess from the exponent's bits is good to some percent, and
/// two terms of the series of (1 − d)^(−1/5) in the remaining error d make it exact to rounding.
fn air_speed(speed: f64) -> (f64, f64) {
    let square = speed * speed + 25.0;
    let a = square * square;
    let mut r = f64::from_bits(0x4cb8_9ba5_e353_f800_u64 - a.to_bits() / 5);
    for _ in 0..2 {
        let fourth = (r * r) * (r * r);
        let d = 1.0 - a * (fourth * r);
        r += r * d * (0.2 + d * (0.12 + d * (0.088 + d * 0.0704)));
    }
    let c = a * ((r * r) * (r * r));
    (c, 0.8 * speed * c / square)
}

/// Friction of the bushing at this oil fill and ageing.
fn bushing_friction(oil: f64, aged: f64) -> f64 {
    0.06 + 0.1 * libm::exp(-5.0 * oil * (1.0 - 0.5 * aged))
}

/// Smoothed relative speed X²/√(X² + 1).
fn sliding<N: Real>(relative: N) -> N {
    let square = relative * relative;
    square / (square + 1.0).sqrt()
}

impl Machine {
    /// The cold machine, open and at rest, with the same weight for all temperatures and another for the speeds.
    pub fn new(speed_weight: f64) -> Self {
        let widths = |ratio: f64| {
            let parts: [f64; CELLS] = std::array::from_fn(|i| libm::pow(ratio, i as f64));
            let sum: f64 = parts.iter().sum();
            parts.map(|p| 0.004 * p / sum)
        };
        let meshes = [(widths(1.3), 0.0028, 0.6, 1900.0 * 1100.0), (widths(1.2), 0.0085, 50.0, 7800.0 * 470.0)];
        let mut per_capacity = [1.0; STATES];
        for (start, (width, area, _, heat)) in [LINING, DRUM].into_iter().zip(&meshes) {
            for (i, w) in width.iter().enumerate() {
                per_capacity[start + i] = 1.0 / (heat * area * w);
            }
        }
        for (i, c) in CAPACITIES.iter().enumerate() {
            per_capacity[SHOE + i] = 1.0 / c;
        }
        let mut abs_tol = [1.0; STATES];
        abs_tol[..LINING].fill(speed_weight);
        let half = |(width, area, k, _): &([f64; CELLS], f64, f64, f64), i: usize| k * area / (0.5 * width[i]);
        Self {
            clutch: Clutch::Open,
            moving: false,
            phase: CYCLE[0],
            events: vec![],
            peak: (0.0, 0.0),
            bushing_friction: bushing_friction(1.0, 0.0),
            faces: meshes
                .map(|(width, area, k, _)| std::array::from_fn(|i| k * area / (0.5 * (width[i] + width[i + 1])))),
            surface: [half(&meshes[0], 0), half(&meshes[1], 0)],
            back: half(&meshes[0], CELLS - 1),
            per_capacity,
            abs_tol,
        }
    }

    /// States and slow quantities of the cold machine.
    pub fn start() -> ([f64; STATES], [f64; SLOW]) {
        let mut y = [AMBIENT; STATES];
        y[..LINING].copy_from_slice(&[152.0, 0.0]);
        let mut slow = [0.0; SLOW];
        slow[OIL] = 1.0;
        (y, slow)
    }

    /// Force of a shoe on the drum.
    fn force<N: Real>(slow: &[f64], engine: N) -> N {
        engine * engine * SHOE_MOMENT - (SPRING_FORCE * (1.0 - slow[RELAXED]) + 0.06 * slow[LINING_WEAR])
    }

    /// Torque capacity of the clutch.
    fn capacity<N: Real>(force: N, surface: N) -> N {
        (sigmoid((surface - 493.0) * (1.0 / 30.0)) * -0.3 + 1.0) * 0.35 * force * (2.0 * RADIUS)
    }

    fn load<N: Real>(&self, drum: N) -> N {
        drum * drum * DRAG + (ROLLING + self.phase.brake)
    }

    /// Torque and indicated power of the engine.
    fn engine<N: Real>(&self, speed: N) -> (N, N) {
        if !self.phase.running {
            return (N::from(0.0), N::from(0.0));
        }
        // Both governors' logistics from one exponential.
        let rise = ((speed - 140.0) * (1.0 / 6.0)).exp();
        let governor = N::from(1.0) / (rise * TOP_OVER_IDLE + 1.0);
        let opening = if self.phase.throttle < 1.0 {
            let idle = N::from(1.0) / (rise + 1.0);
            (idle * (1.0 - self.phase.throttle) + self.phase.throttle) * governor
        } else {
            governor
        };
        let away = speed - 265.0;
        let full = -(away * away * 1.2e-4) + 13.0;
        let friction = speed * 0.004 + 1.0;
        let indicated = opening * (full + friction);
        (indicated - friction, indicated * speed)
    }

    fn locked_torque<N: Real>(torque: N, load: N) -> N {
        torque * (VEHICLE_INERTIA / BOTH) + load * (ENGINE_INERTIA / BOTH)
    }

    fn contact<N: Real>(&self, slow: &[f64], [engine, drum, lining, wall]: [N; 4]) -> Contact<N> {
        let (torque, indicated) = self.engine(engine);
        let load = self.load(drum);
        let zero = N::from(0.0);
        let [side, other] = self.surface;
        let (carried, heat, conductance) = match self.clutch {
            Clutch::Open => (zero, zero, N::from(0.0028 * 60.0)),
            Clutch::Slip(sign) => {
                let force = Self::force(slow, engine);
                let carried = Self::capacity(force, lining) * sign;
                (carried, carried * (engine - drum), (force * 15.0 + 60.0) * 0.0028)
            }
            Clutch::Lock => (zero, zero, (Self::force(slow, engine) * 15.0 + 60.0) * 0.0028),
        };
        let per = N::from(1.0) / (conductance * (side + other) + side * other);
        let between = conductance * per * (side * other) * (wall - lining);
        let to_lining = (conductance * 2.0 + other) * per * heat * (0.5 * side) + between;
        let (to_bushing, to_washer) = if self.clutch == Clutch::Lock {
            (zero, zero)
        } else {
            let slide = sliding(engine - drum);
            let bushing = (carried.abs() * (1.0 / 0.03) + 20.0) * slide * (0.008 * self.bushing_friction);
            (bushing, slide * (0.15 * 15.0 * 0.012))
        };
        let (faster, drum_faster) = if self.clutch == Clutch::Lock {
            let both = (torque - load) * (1.0 / BOTH);
            (both, both)
        } else {
            let faster = if self.phase.running { (torque - carried) * (1.0 / ENGINE_INERTIA) } else { zero };
            (faster, if self.moving { (carried - load) * (1.0 / VEHICLE_INERTIA) } else { zero })
        };
        Contact {
            engine: faster,
            drum: drum_faster,
            to_lining,
            to_drum: heat + -to_lining,
            to_bushing,
            to_washer,
            engine_heat: indicated,
        }
    }

    /// Torque transmitted by the clutch at present.
    fn carried(&self, y: &[f64], slow: &[f64]) -> f64 {
        match self.clutch {
            Clutch::Open => 0.0,
            Clutch::Slip(sign) => sign * Self::capacity(Self::force(slow, y[0]), y[LINING]),
            Clutch::Lock => Self::locked_torque(self.engine(y[0]).0, self.load(y[1])),
        }
    }

    /// Margin of a locked clutch against slip.
    fn grip(&self, y: &[f64], slow: &[f64]) -> f64 {
        let torque = Self::locked_torque(self.engine(y[0]).0, self.load(y[1]));
        1.1 * Self::capacity(Self::force(slow, y[0]), y[LINING]) - torque.abs()
    }

    /// Begins a phase, and checks again whether a lock holds and the vehicle stands.
    pub fn begin(&mut self, phase: Phase, y: &[f64], slow: &[f64]) {
        self.phase = phase;
        if self.clutch == Clutch::Lock && self.grip(y, slow) < 0.0 {
            self.clutch = Clutch::Slip(self.carried(y, slow).signum());
        }
        if !self.moving && self.carried(y, slow) > self.load(y[1]) {
            self.moving = true;
        }
    }

    fn links(&self) -> impl Iterator<Item = (usize, usize, f64)> {
        LINKS.iter().map(|&(i, j, g)| (i, j, if j == SHOE { self.back } else { g }))
    }
}

/// Conductance of an outer surface, its slope in the temperature difference, and its radiation and slope.
fn outside(area: f64, air: f64, temperature: f64) -> (f64, f64) {
    let above = temperature - AMBIENT;
    let square = above * above + 1.0;
    let eighth = square.sqrt().sqrt().sqrt();
    let radiation = 0.9 * STEFAN_BOLTZMANN * area;
    let squared = temperature * temperature;
    let flow = (area * (4.0 + 2.5 * eighth) + air) * above
        + radiation * (squared * squared - AMBIENT * AMBIENT * AMBIENT * AMBIENT);
    let slope = area * (4.0 + 2.5 * eighth)
        + air
        + area * 2.5 * eighth * 0.25 * above * above / square
        + 4.0 * radiation * squared * temperature;
    (flow, slope)
}

//! The shoes one by one: their springs, their force on the drum, and the lining worn off each.

use super::assembly::Assembly;
use super::names::{Contact, slow};
use crate::laws::{shoe, springs};
use crate::parts::MOST_SHOES;
use crate::real::Real;

/// Rounding of the touch of all shoes but the first, as a share of the preload: narrower, the motor may idle on a kink that the
/// stepper cannot follow. The torque is off by up to μ R δ/4 a shoe, some mN·m.
const ROUNDED: f64 = 0.01;

/// Springs of the shoes.
#[derive(Clone, Debug, Default)]
pub(crate) struct Shoes {
    /// force of each spring over the nominal one
    shares: Vec<f64>,
    /// whether the shoes are followed one by one: their springs differ, or did when their linings wore
    pub(crate) differ: bool,
    /// force over which the touch of a shoe after the first is rounded at most, N
    widest: f64,
}

impl Shoes {
    /// The springs of a machine, whose shoes may have been followed one by one before.
    pub fn of(machine: &crate::parts::Machine, followed: bool) -> Self {
        let (shares, differ) = (machine.spring_shares(), machine.one_by_one() || followed);
        Self { shares, differ, widest: ROUNDED * machine.preload().abs() }
    }
}

/// Forces of the shoes on the drum.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Pressed<R> {
    /// of each shoe, N; only of the first if the springs are alike
    each: [R; MOST_SHOES],
    /// what centrifugal force leaves over the spring of the shoe that presses most, N; below zero no shoe touches
    pub most: R,
    /// mean over the shoes, N
    pub mean: R,
}

impl Assembly {
    /// Depth worn off the lining of a shoe, m.
    fn worn(&self, shoe: usize, slow: &[f64]) -> f64 {
        slow[if self.shoes.differ { slow::SHOES + shoe } else { slow::LINING }]
    }

    /// Depth worn off the lining where it is thinnest, m.
    pub(crate) fn lining_worn(&self, slow: &[f64]) -> f64 {
        (0..self.shoes.shares.len()).map(|shoe| self.worn(shoe, slow)).fold(0.0, f64::max)
    }

    /// What centrifugal force leaves over the spring of a shoe, N.
    fn over_spring<R: Real>(&self, shoe: usize, motor: R, temperature: R, slow: &[f64]) -> R {
        let (c, worn) = (&self.machine.clutch, self.worn(shoe, slow));
        let lost = slow[slow::RELAXATION];
        let spring = shoe::spring_force(self.preload, lost, c.hot_modulus, c.spring_rate, c.gap + worn, temperature);
        // Friction in the guide holds the shoe where it is.
        let held = if self.contact == Contact::Free { c.guide_friction } else { -c.guide_friction };
        motor.squared() * (c.shoe_mass * (c.shoe_radius + worn)) - spring * self.shoes.shares[shoe] - held
    }

    /// Forces of the shoes on the drum. The touch of the shoe that presses most is exact, as it is an event; that of the
    /// others is rounded.
    pub(crate) fn pressed<R: Real>(&self, motor: R, temperature: R, slow: &[f64]) -> Pressed<R> {
        let zero = R::from(0.0);
        if !self.shoes.differ {
            let most = self.over_spring(0, motor, temperature, slow);
            let mean = most.max(zero);
            return Pressed { each: [mean; MOST_SHOES], most, mean };
        }
        let n = self.shoes.shares.len();
        let mut over = [zero; MOST_SHOES];
        for (shoe, force) in over.iter_mut().enumerate().take(n) {
            *force = self.over_spring(shoe, motor, temperature, slow);
        }
        let first = (1..n).fold(0, |first, shoe| if over[shoe].value() > over[first].value() { shoe } else { first });
        let rounding = springs::rounding(over[first], self.shoes.widest);
        let mut mean = zero;
        let mut each = [zero; MOST_SHOES];
        for shoe in 0..n {
            each[shoe] = if shoe == first { over[shoe].max(zero) } else { springs::touching(over[shoe], rounding) };
            mean = mean + each[shoe];
        }
        Pressed { each, most: over[first], mean: mean * (1.0 / n as f64) }
    }

    /// Rates of the depths worn off the shoes, m/s, from the mean rate: each in proportion to its force.
    pub(super) fn shoe_rates(&self, mean: f64, pressed: &Pressed<f64>, out: &mut [f64]) {
        for shoe in 0..self.shoes.shares.len() {
            // The rates of an earlier step are still there.
            out[slow::SHOES + shoe] = if pressed.mean > 0.0 { mean * pressed.each[shoe] / pressed.mean } else { 0.0 };
        }
    }

    /// Lowest engagement speed of a shoe at a temperature, rad/s.
    pub(crate) fn engages(&self, temperature: f64, slow: &[f64]) -> f64 {
        let c = &self.machine.clutch;
        let speed = |shoe: usize| {
            let worn = self.worn(shoe, slow);
            let lost = slow[slow::RELAXATION];
            let spring =
                shoe::spring_force(self.preload, lost, c.hot_modulus, c.spring_rate, c.gap + worn, temperature);
            shoe::engagement_speed(c.shoe_mass, c.shoe_radius + worn, (spring * self.shoes.shares[shoe]).max(0.0))
        };
        (0..self.shoes.shares.len()).map(speed).fold(f64::INFINITY, f64::min)
    }
}

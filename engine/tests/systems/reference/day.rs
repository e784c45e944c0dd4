//! A day of the reference problem, and its error.

use super::*;
use slipsoak_engine::numerics::{Ended, Stepper, Stuck};

/// What takes the machine from one time to another.
pub trait Steps {
    fn advance(
        &mut self,
        machine: &mut Machine,
        t: &mut f64,
        end: f64,
        y: &mut [f64],
        slow: &mut [f64],
    ) -> Result<Ended, Stuck>;
}

impl Steps for Stepper {
    fn advance(
        &mut self,
        machine: &mut Machine,
        t: &mut f64,
        end: f64,
        y: &mut [f64],
        slow: &mut [f64],
    ) -> Result<Ended, Stuck> {
        Self::advance(self, machine, t, end, y, slow, &mut ())
    }
}

/// The machine after some cycles of use.
pub struct Day<S = Stepper> {
    /// the machine
    pub machine: Machine,
    /// states
    pub y: [f64; STATES],
    /// slow quantities
    pub slow: [f64; SLOW],
    /// the stepper with the work done
    pub stepper: S,
    time: f64,
}

impl Day {
    /// A cold machine before its first cycle.
    pub fn new(tolerance: f64, speed_weight: f64) -> Self {
        let machine = Machine::new(speed_weight);
        let stepper = Stepper::new(&machine, tolerance);
        Self::by(stepper, machine)
    }
}

impl<S: Steps> Day<S> {
    /// A cold machine before its first cycle, stepped by this.
    pub fn by(stepper: S, machine: Machine) -> Self {
        let (y, slow) = Machine::start();
        Self { machine, y, slow, stepper, time: 0.0 }
    }

    fn run(&mut self, phase: Phase) -> Result<(), Stuck> {
        self.machine.begin(phase, &self.y, &self.slow);
        let end = self.time + phase.seconds;
        self.stepper.advance(&mut self.machine, &mut self.time, end, &mut self.y, &mut self.slow)?;
        Ok(())
    }

    /// Some cycles of idling, launching, cruising and braking.
    pub fn cycles(&mut self, count: usize) -> Result<(), Stuck> {
        (0..count).try_for_each(|_| CYCLE.into_iter().try_for_each(|phase| self.run(phase)))
    }

    /// Twelve hours at rest with the engine off.
    pub fn soak(&mut self) -> Result<(), Stuck> {
        self.machine.clutch = Clutch::Open;
        self.machine.moving = false;
        self.y[..2].fill(0.0);
        self.run(SOAK)
    }

    /// Mean temperature of the bushing so far, K.
    pub fn mean_bushing(&self) -> f64 {
        AMBIENT + self.slow[BUSHING_INTEGRAL] * 3600.0 / self.time
    }

    /// 400 cycles and the rest after them: their largest error relative to the allowed 0.1 K, 1e-4 of oil and 0.1 % of wear.
    pub fn error(&mut self) -> Result<f64, Stuck> {
        self.cycles(400)?;
        // Three independent codes agree on these to a unit of the last digit.
        let mut errors = vec![
            (self.machine.peak.0 - 445.022480) / 0.1,
            (self.mean_bushing() - 357.168431) / 0.1,
            (self.y[BUSHING] - 357.124766) / 0.1,
            (self.y[CRANKCASE] - 366.675294) / 0.1,
            (self.slow[OIL] - 0.95309190) / 1e-4,
            (self.slow[AGED] - 0.00115301811) / 1e-4,
        ];
        for (k, want) in
            [(LINING_WEAR, 114.19874), (WASHER_WEAR, 42.684641), (BUSHING_WEAR, 2.0764871), (DRUM_WEAR, 0.59590870)]
        {
            errors.push((self.slow[k] / want - 1.0) / 1e-3);
        }
        if self.machine.events.len() != 2400 {
            errors.push(f64::INFINITY);
        }
        self.soak()?;
        errors.push((self.slow[OIL] - 0.95297582) / 1e-4);
        Ok(errors.iter().fold(0.0_f64, |a, e| a.max(e.abs())))
    }
}

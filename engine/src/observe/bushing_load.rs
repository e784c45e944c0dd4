//! Load times sliding speed of the bushing: its mean over each slip of the clutch, and how long it stays high.

/// Time for which a load above half the limit is borne, s.
const BORNE: f64 = 60.0;

/// A mean that grows step by step.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct Mean {
    pub time: f64,
    sum: f64,
}

impl Mean {
    fn add(&mut self, time: f64, value: f64) {
        (self.time, self.sum) = (self.time + time, self.sum + value * time);
    }

    /// Adds while a condition holds; begins anew where it does not.
    pub fn add_while(&mut self, holds: bool, time: f64, value: f64) {
        if holds {
            self.add(time, value);
        } else {
            *self = Self::default();
        }
    }

    pub fn value(self) -> f64 {
        self.sum / self.time.max(1e-9)
    }
}

/// The present slip, and the worst so far.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct BushingLoad {
    slip: Mean,
    high: Mean,
    worst_slip: f64,
    worst_high: f64,
}

impl BushingLoad {
    /// Adds a step of a length, s, with this mean load, Pa·m/s; whether the clutch slips, and half the limit.
    pub fn see(&mut self, time: f64, load: f64, slips: bool, half: f64) {
        if slips {
            self.slip.add(time, load);
        } else {
            self.worst_slip = self.worst_slip.max(self.slip.value());
            self.slip = Mean::default();
        }
        self.high.add_while(load > half, time, load);
        if self.high.time > BORNE {
            self.worst_high = self.worst_high.max(self.high.value());
        }
    }

    /// The load that exceeds its limit by most, and that limit, Pa·m/s.
    pub fn over(&self, limit: f64) -> Option<(f64, f64)> {
        let found = [(self.worst_slip.max(self.slip.value()), limit), (self.worst_high, 0.5 * limit)];
        let over = found.into_iter().filter(|(value, limit)| value > limit);
        over.max_by(|a, b| (a.0 / a.1).total_cmp(&(b.0 / b.1)))
    }
}

#[cfg(test)]
mod tests {
    use super::BushingLoad;

    #[test]
    fn a_short_peak_is_borne_and_half_the_limit_only_for_a_minute() {
        let seen = |steps: &[(f64, f64, bool)]| {
            let mut load = BushingLoad::default();
            for (time, value, slips) in steps {
                load.see(*time, *value, *slips, 0.5);
            }
            load.over(1.0)
        };
        // Mean of a launch 0.8, though it peaks at 1.4.
        assert_eq!(seen(&[(1.0, 1.4, true), (1.0, 0.2, true), (1.0, 0.0, false)]), None);
        assert_eq!(seen(&[(1.0, 1.5, true), (1.0, 1.0, true), (1.0, 0.0, false)]), Some((1.25, 1.0)));
        assert_eq!(seen(&[(59.0, 0.75, false), (1.0, 0.1, false), (59.0, 0.75, false)]), None);
        assert_eq!(seen(&[(59.0, 0.75, false), (2.0, 0.75, false)]), Some((0.75, 0.5)));
    }
}

//! Inspections of worn clutches: the readings, and those that a machine under its duty would give.

use super::quantity::{Quantity, Under};
use crate::duty::Segment;
use crate::horizon::Skipping;
use crate::parts::Machine;
use crate::simulate::{Failure, Options, Simulation, Standing, Tolerance, Until};

/// Age of a clutch at an inspection.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum When {
    /// by the hour meter, which counts while the motor runs, s
    Running(f64),
    /// by the number of launches
    Launches(f64),
}

/// Steps closer than those of runs: machines are compared that differ by a twentieth of a constant.
const STEPS: Tolerance = Tolerance { speeds: 24.0, rest: 2.0, ..Tolerance::CLOSE };

/// A time that any block takes, s.
const MOMENT: f64 = 1e-3;

impl When {
    pub(super) const fn wanted(self) -> f64 {
        let (Self::Running(wanted) | Self::Launches(wanted)) = self;
        wanted
    }
}

impl Standing {
    /// Age by the same count as another.
    pub(super) const fn count(&self, when: When) -> f64 {
        match when {
            When::Running(_) => self.running,
            When::Launches(_) => self.launches,
        }
    }
}

/// One reading of one clutch.
#[derive(Clone, Debug, PartialEq)]
pub struct Read {
    /// clutch
    pub clutch: String,
    /// age
    pub when: When,
    /// the quantity that was read
    pub quantity: Quantity,
    /// conditions under which it was read
    pub under: Under,
    /// value, SI
    pub value: f64,
    /// standard deviation, SI
    pub gauge: f64,
    /// line of the table that it stands in, from 1; 0 if there is none
    pub line: u64,
}

/// Condition of a machine at several ages under a repeated block, with its settings, which services may have changed.
#[derive(Clone, Debug, PartialEq)]
pub struct Way(Vec<(Standing, Machine)>);

impl Way {
    /// Follows a machine to all of the ages, and past the last one. A failure carries the index of its segment.
    pub fn of(
        machine: Machine,
        block: &[Segment],
        times: &[When],
        skipping: Skipping,
    ) -> Result<Self, (usize, Failure)> {
        let options = Options { tolerance: STEPS, ..Options::UNRECORDED };
        let mut simulation = Simulation::new(machine, options).map_err(|e| (0, e))?;
        let mut stands = vec![(simulation.standing(), simulation.machine().clone())];
        // A clutch that is inspected has outlived what the constants of a search wear out.
        let run = |simulation: &mut Simulation, time: f64| simulation.outlive(block, Until { time, skipping });
        // One block: of none, a block that is cut into pieces would perform none.
        run(&mut simulation, MOMENT)?;
        let first = simulation.standing();
        stands.push((first, simulation.machine().clone()));
        let mut times: Vec<When> = times.to_vec();
        times.sort_by(|a, b| (a.wanted() * first.count(*b)).total_cmp(&(b.wanted() * first.count(*a))));
        for when in times {
            // Up to a block before the age, then block by block: between the last two the clutch hardly changes.
            loop {
                let now = simulation.standing();
                let left = (when.wanted() - now.count(when)) * now.clock / now.count(when).max(1e-9);
                if !(left > 0.0 && left.is_finite()) {
                    break;
                }
                run(&mut simulation, now.clock + (left - first.clock).max(1e-3 * first.clock))?;
                stands.push((simulation.standing(), simulation.machine().clone()));
                // A machine that no longer runs reaches no age, however long it is followed.
                if simulation.standing().count(when) <= now.count(when) {
                    break;
                }
            }
        }
        Ok(Self(stands))
    }

    /// Condition at an age: interpolated linearly, constant beyond the last point.
    pub fn at(&self, when: When) -> Standing {
        let wanted = when.wanted();
        let after = self.after(when);
        let ((a, _), (b, _)) = (&self.0[after - 1], &self.0[after]);
        let share = (wanted - a.count(when)) / (b.count(when) - a.count(when)).max(1e-9);
        a.towards(b, share.clamp(0.0, 1.0))
    }

    /// Index of the first point that is not before an age, the first and last apart.
    fn after(&self, when: When) -> usize {
        self.0.iter().position(|(s, _)| s.count(when) >= when.wanted()).unwrap_or(self.0.len() - 1).max(1)
    }

    /// A quantity at an age under conditions, SI.
    pub fn shows(&self, when: When, quantity: Quantity, under: &Under) -> f64 {
        (quantity.row().reads)(&self.0[self.after(when)].1, &self.at(when).worn, under)
    }
}

/// Share of running-in that is completed after a running time.
/// ```text
/// 1 − exp(−t/t0)
/// ```
/// New faces wear faster until they conform; the excess is assumed to decay with the running time.
pub fn run_in(running: f64, time: f64) -> f64 {
    -libm::expm1(-running / time)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::duty::{End, Task};

    /// Two launches a block of some minutes.
    fn block() -> Vec<Segment> {
        let lap = [
            Segment::Ride(Task::Idle, End::After(20.0)),
            Segment::Ride(Task::Throttle(1.0), End::Reached { speed: 6.0, within: 60.0 }),
            Segment::Ride(Task::Hold(6.0), End::After(40.0)),
            Segment::Ride(Task::Brake(2.0), End::Still { within: 60.0 }),
        ];
        [&lap[..], &lap[..], &[Segment::Ride(Task::Off, End::After(600.0))]].concat()
    }

    #[test]
    fn a_clutch_ages_under_a_day_of_many_equal_hires_and_beyond_what_wears_it_out() {
        let day: Vec<Segment> = (0..10).flat_map(|_| block()).collect();
        for block in [day, block()] {
            let at = |machine: &Machine| {
                let when = When::Running(20.0 * 3600.0);
                let way = Way::of(machine.clone(), &block, &[when], Skipping::default()).expect("it runs");
                assert!((way.at(when).running / when.wanted() - 1.0).abs() < 1e-9, "{:?}", way.at(when));
                (machine.washer.thickness - way.shows(when, Quantity::Washer, &Under::default()), way.0.len())
            };
            let (slow, mut fast) = (Machine::default(), Machine::default());
            let ((slowly, stops), to_limit) = (at(&slow), slow.washer.thickness - slow.limits.washer);
            // A washer that is not worn through in this time, but far beyond its limit.
            let factor = 1.35 * to_limit / slowly;
            fast.change(|m| m.washer.wear_oiled *= factor);
            // Wear in proportion to its constant, but for what little the worn washer changes of the ride.
            let (wear, stops_beyond) = at(&fast);
            assert!((wear / slowly / factor - 1.0).abs() < 0.05, "{wear} for {factor} times {slowly} m");
            // Nothing stops it there: skipping begun anew would run as many blocks again.
            assert!(stops < 20 && stops_beyond <= stops, "{stops_beyond} stops, {stops} before");
        }
    }

    #[test]
    fn running_in_decays_by_a_factor_e_in_its_time_constant() {
        // 1 − 1/e and 1 − 1/e³, closed form.
        assert_eq!(run_in(0.0, 5.0), 0.0);
        assert!((run_in(5.0, 5.0) - 0.632_120_558_828_557_7).abs() < 1e-15);
        assert!((run_in(15.0, 5.0) - 0.950_212_931_632_136).abs() < 1e-15);
    }

    #[test]
    fn a_new_clutch_reads_its_nominal_sizes() {
        let machine = Machine::default();
        let way = Way::of(machine.clone(), &block(), &[When::Running(0.0)], Skipping::default()).expect("it runs");
        let read = |quantity| way.shows(When::Running(0.0), quantity, &Under::default());
        assert_eq!(read(Quantity::Washer), machine.washer.thickness);
        assert_eq!(read(Quantity::Lining), machine.lining.thickness);
        assert_eq!(read(Quantity::Bushing), 2.0 * machine.bushing.clearance);
        // Shoes engage at the speed for which the spring is named.
        assert!((read(Quantity::Engagement) / machine.clutch.engagement - 1.0).abs() < 1e-12);
        // Oil only: the pores of a ring and its clearance, full at 20 °C, where it is half a percent lighter than at the 15 °C of its data sheet.
        let b = &machine.bushing;
        let ring = std::f64::consts::FRAC_PI_4 * (b.outside * b.outside - b.bore * b.bore);
        let room = (ring * b.porosity + std::f64::consts::PI * b.bore * b.clearance) * b.length;
        let full = read(Quantity::Weight) / (room * machine.oil.density_15);
        assert!((0.993..0.999).contains(&full), "{full}");
    }

    /// The class of lives, every part's wear within 0.3 %, with a margin of three: in full and by skipping, where a bore that hardly
    /// wears has no margin.
    #[test]
    fn interpolated_readings_equal_those_of_a_close_run_stopped_at_that_time() {
        let options = Options { tolerance: Tolerance::CLOSE, ..Options::UNRECORDED };
        let mut run = Simulation::new(Machine::default(), options).expect("a machine");
        for _ in 0..200 {
            for segment in &block() {
                run.perform(segment).expect("it runs");
            }
        }
        let there = run.standing();
        let ages = [When::Running(there.running), When::Launches(there.launches)];
        for skipping in [Skipping { tolerance: 0.0 }, Skipping::default()] {
            let ways = ages.map(|when| Way::of(Machine::default(), &block(), &[when], skipping).expect("it runs"));
            for (way, when) in ways.iter().zip(ages) {
                for quantity in [Quantity::Washer, Quantity::Bushing, Quantity::Lining, Quantity::Engagement] {
                    let at = |when| way.shows(when, quantity, &Under::default());
                    let new = at(When::Running(0.0));
                    let stopped = (quantity.row().reads)(run.machine(), &there.worn, &Under::default());
                    let off = (at(when) - new) / (stopped - new) - 1.0;
                    let hardly_worn = quantity == Quantity::Bushing && skipping.tolerance > 0.0;
                    assert!(
                        off.abs() < if hardly_worn { 3e-3 } else { 1e-3 },
                        "{quantity:?} at {when:?} off by {off:e}, {skipping:?}"
                    );
                }
            }
        }
    }
}

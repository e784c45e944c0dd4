//! Inspections of worn clutches: what is read off, how well, and what a machine under its duty would show.

use crate::duty::Segment;
use crate::horizon::Skipping;
use crate::parts::{Dimension, Machine};
use crate::simulate::{Failure, Options, Simulation, Standing, Until};
use crate::units::RPM;

/// What an inspection reads off.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Quantity {
    /// thickness of the washer
    Washer,
    /// play of the bushing on the shaft, across
    Bushing,
    /// thickness of the lining
    Lining,
    /// engagement speed, cold
    Engagement,
    /// weight of drum and bushing
    Weight,
}

/// How one quantity is read. Deviations are assumed: what a shop's gauge, held by hand, scatters.
pub struct Manner {
    /// name of its column
    pub name: &'static str,
    /// kind of quantity
    pub dimension: Dimension,
    /// standard deviation of a reading, SI
    pub gauge: f64,
    /// standard deviation of the part when new about the machine's nominal size, SI
    pub level: f64,
    /// depth lost in running in, standard deviation about none, SI; + where the reading falls
    pub running_in: f64,
    /// setting that its wear teaches
    pub teaches: &'static str,
}

impl Quantity {
    /// Every quantity.
    pub const ALL: [Self; 5] = [Self::Washer, Self::Bushing, Self::Lining, Self::Engagement, Self::Weight];

    /// How it is read.
    pub fn manner(self) -> Manner {
        use Dimension::{AngularSpeed, Length, Mass};
        let row = |name, dimension, gauge, level, running_in, teaches| Manner {
            name,
            dimension,
            gauge,
            level,
            running_in,
            teaches,
        };
        match self {
            Self::Washer => row("washer", Length, 10e-6, 38e-6, 15e-6, "washer.wear_oiled"),
            Self::Bushing => row("bushing", Length, 5e-6, 10e-6, -3e-6, "bushing.wear_oiled"),
            Self::Lining => row("lining", Length, 50e-6, 100e-6, 30e-6, "lining.wear"),
            Self::Engagement => row("engagement", AngularSpeed, 20.0 * RPM, 25.0 * RPM, 0.0, "clutch.relaxation"),
            // Nobody knows what the drum weighs dry: only changes count.
            Self::Weight => row("weight", Mass, 5e-6, f64::INFINITY, 0.0, "oiling.leak"),
        }
    }

    /// Its value on a machine that stands so, SI.
    pub const fn of(self, standing: &Standing) -> f64 {
        match self {
            Self::Washer => standing.washer,
            Self::Bushing => standing.bushing,
            Self::Lining => standing.lining,
            Self::Engagement => standing.engagement,
            Self::Weight => standing.weight,
        }
    }
}

/// When a clutch was inspected.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum When {
    /// by the hour meter, which counts while the motor runs, s
    Running(f64),
    /// by the number of launches
    Launches(f64),
}

/// One reading of one clutch.
#[derive(Clone, Debug, PartialEq)]
pub struct Read {
    /// clutch
    pub clutch: String,
    /// when
    pub when: When,
    /// what
    pub quantity: Quantity,
    /// SI
    pub value: f64,
    /// standard deviation, SI
    pub gauge: f64,
}

/// How a machine stands at some points of its way under a block repeated again and again.
#[derive(Clone, Debug, PartialEq)]
pub struct Way(Vec<Standing>);

impl Way {
    /// Follows a machine to every one of the times, and past the last. A failure comes with the index of its segment.
    pub fn of(
        machine: Machine,
        block: &[Segment],
        times: &[When],
        skipping: Skipping,
    ) -> Result<Self, (usize, Failure)> {
        let mut simulation =
            Simulation::new(machine, Options { windows: 0, ..Options::default() }).map_err(|e| (0, e))?;
        let mut stands = vec![simulation.standing()];
        let run = |simulation: &mut Simulation, time: f64| simulation.live(block, Until { time, skipping });
        run(&mut simulation, 0.0)?;
        let first = simulation.standing();
        stands.push(first);
        let clock = |when: &When| match *when {
            When::Running(time) => first.clock * time / first.running.max(1e-9),
            When::Launches(count) => first.clock * count / first.launches.max(1e-9),
        };
        let mut clocks: Vec<f64> = times.iter().map(clock).filter(|c| c.is_finite()).collect();
        clocks.sort_by(f64::total_cmp);
        for time in clocks {
            // A way ends early where a part comes to its limit; this one is to go on.
            while simulation.clock() < time {
                let before = simulation.clock();
                run(&mut simulation, time)?;
                if simulation.clock() <= before {
                    break;
                }
                stands.push(simulation.standing());
            }
        }
        Ok(Self(stands))
    }

    /// How it stands at a time: between two points in proportion, beyond the last as there.
    pub fn at(&self, when: When) -> Standing {
        let count = |s: &Standing| match when {
            When::Running(_) => s.running,
            When::Launches(_) => s.launches,
        };
        let (When::Running(wanted) | When::Launches(wanted)) = when;
        let after = self.0.iter().position(|s| count(s) >= wanted).unwrap_or(self.0.len() - 1).max(1);
        let (a, b) = (&self.0[after - 1], &self.0[after]);
        let share = (wanted - count(a)) / (count(b) - count(a)).max(1e-9);
        a.towards(b, share.clamp(0.0, 1.0))
    }
}

/// Share of its running-in that a part has had after a time by the hour meter.
/// ```text
/// 1 − exp(−t/t0)
/// ```
/// Faces that are new wear faster until they fit; assumed to fade with the running time.
pub fn run_in(running: f64, time: f64) -> f64 {
    -libm::expm1(-running / time)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::duty::{End, Task};

    /// Two launches a block, some minutes.
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
    fn running_in_fades_by_a_factor_e_in_its_time() {
        // 1 − 1/e and 1 − 1/e³, closed form.
        assert_eq!(run_in(0.0, 5.0), 0.0);
        assert!((run_in(5.0, 5.0) - 0.632_120_558_828_557_7).abs() < 1e-15);
        assert!((run_in(15.0, 5.0) - 0.950_212_931_632_136).abs() < 1e-15);
    }

    #[test]
    fn a_new_clutch_reads_its_nominal_sizes() {
        let machine = Machine::default();
        let way = Way::of(machine.clone(), &block(), &[When::Running(0.0)], Skipping::default()).expect("it runs");
        let read = |quantity: Quantity| quantity.of(&way.at(When::Running(0.0)));
        assert_eq!(read(Quantity::Washer), machine.washer.thickness);
        assert_eq!(read(Quantity::Lining), machine.lining.thickness);
        assert_eq!(read(Quantity::Bushing), 2.0 * machine.bushing.clearance);
        // Shoes let go at the speed that the spring is named by.
        assert!((read(Quantity::Engagement) / machine.clutch.engagement - 1.0).abs() < 1e-12);
        // Oil only: the pores of a ring and its clearance, full at 20 °C, where it is half a percent lighter than at the 15 °C of its data sheet.
        let b = &machine.bushing;
        let ring = std::f64::consts::FRAC_PI_4 * (b.outside * b.outside - b.bore * b.bore);
        let room = (ring * b.porosity + std::f64::consts::PI * b.bore * b.clearance) * b.length;
        let full = read(Quantity::Weight) / (room * machine.oil.density_15);
        assert!((0.993..0.999).contains(&full), "{full}");
    }

    #[test]
    fn a_clutch_reads_what_a_run_stopped_there_has() {
        let options = Options { windows: 0, ..Options::default() };
        let mut run = Simulation::new(Machine::default(), options).expect("a machine");
        for _ in 0..200 {
            for segment in &block() {
                run.perform(segment).expect("it runs");
            }
        }
        let there = run.standing();
        for when in [When::Running(there.running), When::Launches(there.launches)] {
            let way = Way::of(Machine::default(), &block(), &[when], Skipping::default()).expect("it runs");
            let (new, read) = (way.at(When::Running(0.0)), way.at(when));
            for quantity in [Quantity::Washer, Quantity::Bushing, Quantity::Lining, Quantity::Engagement] {
                let moved = (quantity.of(&read) - quantity.of(&new)) / (quantity.of(&there) - quantity.of(&new));
                // Skipping allows itself 5e-4 of each change, and as much again what settles.
                assert!((moved - 1.0).abs() < 1e-3, "{quantity:?} moved by {moved} of what it does");
            }
        }
    }
}

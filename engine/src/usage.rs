//! A use: the stop-and-go that a machine repeats, with its rests.

use crate::document::finding::Slipping;
use crate::document::record::{Extremes, Run};
use crate::duty::{EASY_BRAKE, End, Segment, Service, Task};
use crate::names::{Channel, TaskName};
use crate::parts::{Machine, settings};
use crate::simulate::{Failure, Simulation, lock_up_speed};

/// Riding time until temperatures hardly rise, and riding time after it for measurements, s.
pub(crate) const WARMING: [f64; 2] = [1800.0, 1200.0];

/// Repeated stop-and-go.
#[derive(Clone, Debug, PartialEq)]
pub struct Usage {
    /// its name
    pub name: String,
    /// one period of it
    pub block: Vec<Segment>,
}

/// Uses known by name: standing s, speed as a share of the governed speed, holding s.
pub const USES: [(&str, f64, f64, f64); 3] =
    [("moderate", 6.0, 0.80, 40.0), ("rental", 30.0, 0.67, 20.0), ("hard", 6.0, 0.54, 4.0)];

impl Usage {
    /// The use with that name for a machine. Its speeds are shares of the machine's governed speed, so the use does not
    /// depend on the gearing.
    ///
    /// ```
    /// use slipsoak_engine::{parts::Machine, usage::Usage};
    /// assert_eq!(Usage::named("rental", &Machine::default()).unwrap().block.len(), 4);
    /// assert!(Usage::named("gentle", &Machine::default()).is_none());
    /// ```
    pub fn named(name: &str, machine: &Machine) -> Option<Self> {
        let &(name, idle, share, held) = USES.iter().find(|u| u.0 == name)?;
        let speed = share * governed_speed(machine);
        let ride = |task, end| Segment::Ride(task, end);
        let block = vec![
            ride(Task::Idle, End::After(idle)),
            ride(Task::Throttle(1.0), End::Reached { speed, within: 60.0 }),
            ride(Task::Hold(speed), End::After(held)),
            ride(Task::Brake(EASY_BRAKE), End::Still { within: 60.0 }),
        ];
        Some(Self { name: name.to_owned(), block })
    }

    /// Rides for at least this time, s, period by period.
    pub fn ride(&self, sim: &mut Simulation, time: f64) -> Result<(), Failure> {
        self.ride_watched(sim, time, &mut |_| {})
    }

    /// As [`ride`](Self::ride); `watch` sees the simulation after each segment.
    pub(crate) fn ride_watched(
        &self,
        sim: &mut Simulation,
        time: f64,
        watch: &mut dyn FnMut(&Simulation),
    ) -> Result<(), Failure> {
        let start = sim.clock();
        while sim.clock() - start < time - 1e-6 {
            let before = sim.clock();
            for segment in &self.block {
                sim.perform(segment)?;
                watch(sim);
            }
            if sim.clock() <= before {
                break;
            }
        }
        Ok(())
    }

    /// The same use with every launch on a slope, rise over run, that is steeper than the ground of each; none if it has no launch.
    pub(crate) fn starting_on(&self, machine: &Machine, grade: f64) -> Option<Self> {
        let slope = &settings::surroundings::grade;
        let adjust = |to: f64| Segment::Service(Service::Adjust(slope, to));
        let mut here = machine.surroundings.grade;
        let mut steeper = false;
        let block = self.block.iter().flat_map(|segment| {
            if let Segment::Service(Service::Adjust(setting, to)) = segment
                && setting.path == slope.path
            {
                here = *to;
            }
            if matches!(segment, Segment::Ride(Task::Throttle(_), End::Reached { .. })) && here < grade {
                steeper = true;
                return vec![adjust(grade), segment.clone(), adjust(here)];
            }
            vec![segment.clone()]
        });
        let block = block.collect();
        steeper.then(|| Self { name: self.name.clone(), block })
    }

    /// Least and greatest slope on which it is ridden, rise over run: the machine's until the use sets another.
    pub(crate) fn ground(&self, machine: &Machine) -> [f64; 2] {
        let slope = &settings::surroundings::grade;
        let mut here = machine.surroundings.grade;
        let mut ridden = vec![];
        for segment in &self.block {
            match segment {
                Segment::Service(Service::Adjust(setting, to)) if setting.path == slope.path => here = *to,
                Segment::Ride(..) => ridden.push(here),
                Segment::Service(_) => {}
            }
        }
        let all = || ridden.iter().copied();
        all().reduce(f64::min).zip(all().reduce(f64::max)).map_or([here; 2], |(least, most)| [least, most])
    }

    /// The slowest speed that it holds below the lock-up speed on the slope there, so that the clutch slips permanently, with that
    /// lock-up speed.
    pub(crate) fn slipping(&self, machine: &Machine) -> Option<Slipping> {
        let mut here = machine.clone();
        let held = self.block.iter().filter_map(|segment| match segment {
            Segment::Service(Service::Adjust(setting, to)) if setting.path == settings::surroundings::grade.path => {
                here.surroundings.grade = *to;
                None
            }
            Segment::Ride(Task::Hold(speed), _) => {
                let slipping = Slipping { held: *speed, lock: lock_up_speed(&here) };
                (*speed > 0.0 && *speed < slipping.lock).then_some(slipping)
            }
            _ => None,
        });
        held.min_by(|a, b| a.held.total_cmp(&b.held))
    }
}

/// Speed at which the top governor begins to close the throttle, clutch locked, m/s.
pub(crate) fn governed_speed(machine: &Machine) -> f64 {
    machine.motor.full_load * machine.vehicle.wheel_radius / machine.vehicle.ratio
}

/// Highest value of a channel over the windows that end between two times, s.
pub(crate) fn most_between(run: &Run, channel: Channel, from: f64, until: f64) -> f64 {
    let rows = run.windows.end.iter().zip(&run.windows.most);
    rows.filter(|(end, _)| **end > from && **end <= until + 1e-6).map(|(_, row)| channel.of(row)).fold(0.0, f64::max)
}

/// Extremes of the last segment of a task.
pub(crate) fn last(run: &Run, task: TaskName) -> Option<(&Extremes, f64, f64)> {
    run.segments.iter().rev().find(|s| s.task == task).map(|s| (&s.extremes, s.start, s.end))
}

//! The sheet of one machine: properties derived from its settings, and one launch.

pub use crate::document::sheet::{Launch, Sheet, Stack};

use crate::document::finding::{Spent, Weak};
use crate::document::record::Setting;
use crate::document::record::Warned;
use crate::document::{Head, Is};
use crate::duty::{End, Segment, Task};
use crate::hill_start::{HillStart, ridden_to_stops};
use crate::laws::margin::{VARIATION, margin_floor};
use crate::laws::{shoe, stack};
use crate::names::Channel;
use crate::parts::Machine;
use crate::simulate::{Failure, Options, Simulation, Tolerance, balance, capacity, cold_idle, lock_up_speed, repeated};
use crate::statistics::NINETY_FIVE;
use crate::units::rpm;
use crate::usage::Usage;

/// The use, and its time, s, that warms a machine for a start on a slope.
const WARMED_BY: (&str, f64) = ("moderate", 2400.0);

fn launch(machine: &Machine, speed: f64) -> Result<Launch, Failure> {
    let mut simulation = Simulation::new(machine.clone(), Options::default())?;
    simulation.perform(&Segment::Ride(Task::Idle, End::After(5.0)))?;
    let end = End::Reached { speed, within: 60.0 };
    simulation.perform(&Segment::Ride(Task::Throttle(1.0), end))?;
    let run = simulation.finish(&machine.name, "launch")?;
    let grade = machine.surroundings.grade;
    let limit = Some(machine.lining_limit());
    let Some(segment) = run.segments.last() else {
        return Ok(Launch { speed, reached: 0.0, grade, time: 0.0, heat: 0.0, lining: 0.0, limit, burns: None });
    };
    let burns = run.warned(Warned::LetGo).map(|w| w.value);
    let time = segment.end - segment.start;
    let heat = Channel::SlipPower.of(&segment.extremes.mean) * time;
    let most = |channel: Channel| channel.of(&segment.extremes.most);
    // Recorded peaks may miss the speed by what the steps allow; the run knows whether it got there.
    let least = if run.launched() { speed } else { 0.0 };
    let (reached, lining) = (most(Channel::VehicleSpeed).max(least), most(Channel::LiningSurface));
    Ok(Launch { speed, reached, grade, time, heat, lining, limit, burns })
}

/// A start on the machine's slope, warm from stop-and-go on level ground.
fn warm_start(machine: &Machine) -> Result<Option<HillStart>, Failure> {
    let mut level = machine.clone();
    level.surroundings.grade = 0.0;
    let Some(usage) = Usage::named(WARMED_BY.0, &level) else { return Ok(None) };
    let stop = repeated(Tolerance::RUNS, |tolerance| Ok(ridden_to_stops(&usage, &level, WARMED_BY.1, tolerance)?.1))?;
    stop.start(machine.surroundings.grade).map(Some)
}

/// The sheet of a machine; its head is the caller's.
///
/// ```
/// use slipsoak_engine::{parts::Machine, sheet::sheet};
/// let machine = Machine::default();
/// let sheet = sheet(&machine).unwrap();
/// assert_eq!(sheet.engagement, machine.clutch.engagement);
/// assert!(sheet.lift_off < sheet.engagement);
/// ```
pub fn sheet(machine: &Machine) -> Result<Sheet, Failure> {
    let c = &machine.clutch;
    let balance = balance(machine);
    let lock = balance.map(|w| w * machine.speed_per_drum());
    let stacked = [
        (machine.cover.proud, machine.cover.proud_tolerance),
        (machine.washer.thickness, machine.cover.washer_tolerance),
    ];
    let nominal = stack::gap(&stacked);
    let pores = machine.bushing.pore_volume();
    let step = rpm(200.0);
    let (weakest, engages) = (machine.weakest_spring(), machine.first_touch());
    let from = engages.max(machine.motor.stall);
    let speeds = (0..).map(|i| from + f64::from(i) * step).take_while(|w| *w <= machine.motor.no_load).take(12);
    // What the first shoe of a set that scatters touches earlier is part of the margin: it counts once.
    let needed = |machine: &Machine| {
        let mut even = machine.clone();
        even.springs.scatter = 0.0;
        let (engages, shoes) = (even.first_touch(), c.shoes.round() as u32);
        let floor = margin_floor(engages, shoes, machine.tolerances(), NINETY_FIVE);
        VARIATION + floor - (engages - machine.first_touch())
    };
    let mut new = machine.clone();
    new.fit_set();
    let renewed = new.first_touch();
    let least = machine.motor.full_load * machine.speed_per_drum() * 0.9;
    let launch = launch(machine, lock.map_or(least, |s| (s * 1.05).min(least)))?;
    let climbs = launch.grade > 0.0 && launch.succeeds();
    Ok(Sheet {
        kind: Is::default(),
        head: Head::default(),
        name: machine.name.clone(),
        lift_off: shoe::lift_off_speed(c.shoe_mass, (c.shoe_radius - c.gap).max(1e-4), machine.preload() * weakest),
        engagement: engages,
        idle: machine.motor.idle,
        needed: needed(machine),
        weak: Weak::of(machine),
        renewed: (renewed, needed(&new)),
        spent: Spent::all(|p| Some((p.of)(machine))),
        wrong_oil: machine.oil.is_wrong(),
        driven_at: cold_idle(machine, machine.motor.idle + VARIATION)?.map(|warning| warning.value),
        capacity: speeds.map(|w| (w, capacity(machine, w))).collect(),
        balance,
        lock_speed: lock_up_speed(machine),
        lock,
        cover_gap: Stack { nominal, worst: nominal - stack::worst(&stacked), likely: nominal - stack::rss(&stacked) },
        oil: pores,
        oil_drops: pores / machine.oiling.drop,
        launch,
        warm: if climbs { warm_start(machine)? } else { None },
        lining_kind: machine.lining_kind,
        woven_springs: machine.woven_springs(),
        by_hand: Setting::all(machine).into_iter().filter(|s| s.follows.is_some()).collect(),
    })
}

//! Duties and machines on which the integrator's accuracy is judged: those on which its tolerances were chosen, and
//! others kept apart.
#![allow(dead_code)]

mod duties;
mod judged;

use duties::*;
pub use judged::*;
use slipsoak_engine::names::{IdleKind, LiningKind};
use slipsoak_engine::parts::{Machine, Oil};
use slipsoak_engine::parts_file;
use slipsoak_engine::simulate::Simulation;
use slipsoak_engine::units::RPM;

/// The duties and machines on which the tolerances were chosen.
pub fn chosen() -> Vec<Case> {
    let case = |name, machine, duty: fn(&mut Simulation)| Case { name, machine, duty };
    vec![
        case("bench", Machine::default(), rental),
        case("abuse", Machine::default(), abuse),
        case("held slipping", Machine::default(), hold_slipping),
        case("rides and soaks", Machine::default(), rides_and_soaks),
        case("mass x 1.3", having(|m| m.vehicle.mass *= 1.3), moderate),
        case("mass x 0.6", having(|m| m.vehicle.mass *= 0.6), moderate),
        case("hill 4 %", having(|m| m.surroundings.grade = 0.04), moderate),
        case("-10 °C", having(|m| m.surroundings.ambient = 263.15), cold_rides),
        case("abuse, 40 °C", having(|m| m.surroundings.ambient = 313.15), abuse),
        case("friction x 0.8", having(|m| m.lining.friction *= 0.8), moderate),
        case(
            "friction x 1.2, lag / 3",
            having(|m| {
                (m.lining.friction, m.motor.throttle_lag) = (m.lining.friction * 1.2, m.motor.throttle_lag / 3.0);
            }),
            moderate,
        ),
        case("motor inertia x 0.5", having(|m| m.motor.inertia *= 0.5), moderate),
        case("motor inertia x 2, abuse", having(|m| m.motor.inertia *= 2.0), abuse),
        case("washer preload x 2", having(|m| m.washer.preload *= 2.0), moderate),
        case("woven, hard", having(|m| m.line_with(LiningKind::Woven)), hard),
        case("a weak spring, hard", having(|m| m.springs.second = 0.6), hard),
        case("light cart, hard", light(), hard),
        case("heavy cart, hard", heavy(), hard),
    ]
}

/// Other duties and machines.
pub fn kept_apart() -> Vec<Case> {
    let case = |name, machine, duty: fn(&mut Simulation)| Case { name, machine, duty };
    let orchard = file(include_str!("../../../scripts/parts/orchard-cart.json"));
    let trail = file(include_str!("../../../scripts/parts/trail-cart.json"));
    let weekend = file(include_str!("../../../scripts/parts/weekend-cart.json"));
    let engaging = |rpm: f64, kind: IdleKind| having(|m| (m.clutch.engagement, m.idle_kind) = (rpm * RPM, kind));
    vec![
        case("orchard", orchard.clone(), trees),
        case(
            "orchard, 1500 rpm",
            {
                let mut m = orchard.clone();
                m.clutch.engagement = 1500.0 * RPM;
                m
            },
            trees,
        ),
        case("campground", trail.clone(), hires),
        case("weekend", weekend.clone(), outings),
        case("town", trail.clone(), town),
        case("governed, dragging", engaging(1550.0, IdleKind::Governed), dragging),
        case("throttle stop, dragging", engaging(1550.0, IdleKind::ThrottleStop), dragging),
        case("governed", engaging(1900.0, IdleKind::Governed), rental),
        case("descents", Machine::default(), descents),
        case("hot weeks", having(|m| m.surroundings.ambient = 313.15), hot_weeks),
        case("drying", having(|m| (m.clutch.engagement, m.oiling.leak) = (1900.0 * RPM, 2.0 / 3600.0)), drying),
        case("greased", Machine::default(), greased),
        case("glazing", Machine::default(), glazing),
        case("half throttle", Machine::default(), half_throttle),
        case("launches and rests", Machine::default(), launches_and_rests),
        case("moulded, abuse", having(|m| m.line_with(LiningKind::Moulded)), abuse),
        case("sintered, hard", having(|m| m.line_with(LiningKind::Sintered)), hard),
        case("bare metal", having(|m| m.line_with(LiningKind::BareMetal)), moderate),
        case("orchard, hard", orchard, hard),
        case("trail cart, hard", trail, hard),
        case("weekend cart, hard", weekend, hard),
        case("broken spring", having(|m| m.springs.first = 0.0), moderate),
        case("scattered springs", having(|m| m.springs.scatter = 0.04), hard),
        case("thin oil", having(|m| m.oil = Oil::named("SAE 20").expect("an oil")), hard),
        case(
            "friction x 1.1, mass x 0.8",
            having(|m| (m.lining.friction, m.vehicle.mass) = (m.lining.friction * 1.1, m.vehicle.mass * 0.8)),
            hard,
        ),
        case(
            "3 % uphill, governed",
            having(|m| (m.surroundings.grade, m.idle_kind) = (0.03, IdleKind::Governed)),
            hard,
        ),
    ]
}

fn light() -> Machine {
    having(|m| {
        m.line_with(LiningKind::Moulded);
        m.motor.idle = 1750.0 * RPM;
        (m.vehicle.mass, m.vehicle.rolling, m.vehicle.ratio, m.vehicle.wheel_radius) = (150.0, 0.02, 4.0, 0.2);
        m.clutch.engagement = 1950.0 * RPM;
    })
}

fn heavy() -> Machine {
    having(|m| {
        m.motor.idle = 1700.0 * RPM;
        (m.vehicle.mass, m.vehicle.rolling, m.vehicle.ratio, m.vehicle.wheel_radius) = (280.0, 0.05, 7.5, 0.19);
        (m.clutch.engagement, m.clutch.shoe_mass, m.drum.wall) = (2100.0 * RPM, 0.125, 3.6e-3);
    })
}

fn having(change: impl FnOnce(&mut Machine)) -> Machine {
    let mut machine = Machine::default();
    change(&mut machine);
    machine
}

fn file(text: &str) -> Machine {
    parts_file::read("a shipped machine", text).expect("it is sound")
}

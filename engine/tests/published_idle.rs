//! The motor at idle under the drag of a clutch: on its throttle's stop and under a governor, against closed balances.

use approx::assert_relative_eq;
use slipsoak_engine::duty::{End, Segment, Task};
use slipsoak_engine::laws::air;
use slipsoak_engine::laws::motor::{
    CRITICAL_RATIO, air_share, balance_opening, governor_idle, stop_opening, stop_power, torque, torque_drag,
    torque_full,
};
use slipsoak_engine::names::{Channel, IdleKind};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::simulate::{Options, Simulation};
use slipsoak_engine::units::RPM;

use crate::first_text::first_text;

/// Torque of the example clutch over the squares of speed, N·m·s².
const GRIP: f64 = 3.57632e-4;

/// Net torque of the idling motor, N·m.
fn net(machine: &Machine, governed: bool, w: f64) -> f64 {
    let m = &machine.motor;
    let at = |w: f64| (torque_full(&machine.torque_curve, w), torque_drag(m.drag, m.drag_slope, w));
    let ((full, drag), (full_idle, drag_idle)) = (at(w), at(m.idle));
    let opening = if governed {
        governor_idle(balance_opening(full_idle, drag_idle), m.idle, m.idle_band, w)
    } else {
        stop_opening(stop_power(full_idle, drag_idle, m.idle), full + drag, w)
    };
    torque(opening, full, drag)
}

/// Speed between two at which a falling function is zero.
fn zero(from: f64, to: f64, f: impl Fn(f64) -> f64) -> f64 {
    let (mut low, mut high) = (from, to);
    for _ in 0..100 {
        let middle = 0.5 * (low + high);
        if f(middle) > 0.0 { low = middle } else { high = middle }
    }
    low
}

/// Speed, rpm, and drag, W, at which an idling motor and a spring of this engagement balance.
fn dragging(governed: bool, engagement: f64) -> (f64, f64) {
    let machine = Machine::default();
    let grip = |w: f64| GRIP * (w * w - (engagement * RPM).powi(2)).max(0.0);
    let w = zero(1000.0 * RPM, 1700.0 * RPM, |w| net(&machine, governed, w) - grip(w));
    (w / RPM, grip(w) * w)
}

// Exact: the only root of net torque = grip. Six digits: half a unit of the last printed.
#[test]
fn on_its_stop_the_motor_sags_to_the_spring_and_the_drag_stays_small() {
    for (spring, speed, power) in
        [(1300.0, 1379.03, 119.91), (1400.0, 1454.22, 92.42), (1500.0, 1533.09, 63.20), (1600.0, 1615.17, 32.35)]
    {
        let (rpm, watt) = dragging(false, spring);
        assert_relative_eq!(rpm, speed, epsilon = 0.005);
        assert_relative_eq!(watt, power, epsilon = 0.005);
    }
}

// Exact, with 40 rad/s from no throttle to all of it.
#[test]
fn under_a_stiff_governor_the_motor_holds_its_speed_and_the_drag_is_five_times_as_large() {
    for (spring, speed, power) in [(1500.0, 1647.02, 312.98), (1600.0, 1672.90, 163.92)] {
        let (rpm, watt) = dragging(true, spring);
        assert_relative_eq!(rpm, speed, epsilon = 0.005);
        assert_relative_eq!(watt, power, epsilon = 0.005);
    }
}

// Exact: a constant drag on the idling motor.
#[test]
fn a_known_drag_tells_a_stop_from_a_governor() {
    let machine = Machine::default();
    let fall = |governed, drag: f64| {
        let w = zero(900.0 * RPM, 1700.0 * RPM, |w| net(&machine, governed, w) - drag);
        1700.0 - w / RPM
    };
    for (drag, rpm) in [(0.1, 45.29), (0.2, 88.53), (0.4, 169.37), (0.8, 311.19)] {
        assert_relative_eq!(fall(false, drag), rpm, epsilon = 0.005);
    }
    assert_relative_eq!(fall(true, 0.4), 11.53, epsilon = 0.005);
}

// Exact: choked flow ends where the intake pressure reaches the critical share; the greatest net torque lies below.
#[test]
fn a_slow_motor_unchokes_its_stop_and_gives_at_most_2_714_newton_metres() {
    let machine = Machine::default();
    let m = &machine.motor;
    let indicated = |w: f64| torque_full(&machine.torque_curve, w) + torque_drag(m.drag, m.drag_slope, w);
    let (full, drag) = (torque_full(&machine.torque_curve, m.idle), torque_drag(m.drag, m.drag_slope, m.idle));
    let power = stop_power(full, drag, m.idle);
    let choked = |w: f64| power / (indicated(w) * w);
    let unchokes = zero(600.0 * RPM, 1700.0 * RPM, |w| choked(w) - CRITICAL_RATIO);
    assert_relative_eq!(unchokes / RPM, 1069.97, epsilon = 0.005);
    // One value and one slope on both sides.
    let of = |w: f64| stop_opening(power, indicated(w), w);
    let slope = |w: f64| (of(w + 1e-4) - of(w - 1e-4)) / 2e-4;
    assert_relative_eq!(of(unchokes - 1e-6), of(unchokes + 1e-6), epsilon = 1e-6);
    assert_relative_eq!(slope(unchokes - 1e-3), slope(unchokes + 1e-3), max_relative = 1e-3);
    for (rpm, torque) in [(1000.0, 5.26930), (800.0, 5.55729)] {
        assert_relative_eq!(of(rpm * RPM) * indicated(rpm * RPM), torque, epsilon = 1e-5);
    }
    let nets = (700..1100).map(|rpm| (rpm, net(&machine, false, f64::from(rpm) * RPM)));
    let (rpm, most) = nets.max_by(|a, b| a.1.total_cmp(&b.1)).expect("speeds");
    assert!((825..=826).contains(&rpm), "{rpm}");
    assert_relative_eq!(most, 2.71420, epsilon = 5e-5);
}

// Exact: the slope of the balance over the motor's inertia, with a grip of 2 K ω.
#[test]
fn a_balance_on_the_stop_is_stable() {
    let machine = first_text(Machine::default());
    let decay = |w: f64, grip: f64| {
        let slope = (net(&machine, false, w + 1e-3) - net(&machine, false, w - 1e-3)) / 2e-3;
        (slope - 2.0 * grip * w) / machine.motor.inertia
    };
    assert_relative_eq!(decay(1533.0920 * RPM, GRIP), -6.6418, epsilon = 5e-4);
    assert_relative_eq!(decay(1700.0 * RPM, 0.0), -0.98118, epsilon = 5e-5);
}

// ISO 2533, standard atmosphere: pressures to the last printed digit, densities to 1e-4 kg/m³.
#[test]
fn air_thins_with_altitude_as_in_the_standard_atmosphere() {
    for (altitude, pressure, density) in [(1500.0, 84_556.0, 1.0581), (2000.0, 79_495.0, 1.0065)] {
        assert_relative_eq!(air::pressure(altitude), pressure, epsilon = 2.0);
        let temperature = 288.15 - 0.0065 * altitude;
        assert_relative_eq!(air::density(pressure, temperature), density, epsilon = 1e-4);
    }
}

// SAE J1349, correction of net torque, from memory: (99 kPa/p)^1 (T/298 K)^½ on 85 % of the indicated torque.
#[test]
fn thin_air_takes_torque_as_the_standard_correction_gives_it_back() {
    let factor = |pressure: f64, t: f64| 1.18 * (99_000.0 / pressure) * (t / 298.0_f64).sqrt() - 0.18;
    assert_relative_eq!(factor(79_495.0, 275.15), 1.2321, epsilon = 1e-3);
    // The indicated share of ours between two airs is that of the standard's first term.
    let ours = air_share(99_000.0, 298.0) / air_share(79_495.0, 275.15);
    assert_relative_eq!(1.18 * ours - 0.18, factor(79_495.0, 275.15), max_relative = 1e-12);
}

// Exact: from the standard atmosphere at sea level to that at 2000 m the example motor loses a quarter of its torque at 2400 rpm.
#[test]
fn at_2000_metres_the_motor_loses_a_quarter_of_its_torque() {
    let mut machine = Machine::default();
    machine.surroundings.ambient = 288.15;
    let low = machine.motor_full(2400.0 * RPM);
    machine.surroundings.pressure = 79_495.0;
    machine.surroundings.ambient = 275.15;
    assert_relative_eq!(machine.motor_full(2400.0 * RPM) / low, 0.745, epsilon = 5e-4);
}

// Exact: a free motor on its stop or its governor balances at the speed that it is set to, a fast idle among them.
#[test]
fn a_fast_idle_holds_its_speed_and_the_idle_returns_after_it() {
    for idle_kind in IdleKind::ALL {
        let mut machine = Machine { idle_kind, ..Machine::default() };
        machine.clutch.engagement = 2600.0 * RPM;
        // No cold film that drags: on a stop it takes a hundred rpm.
        let b = &mut machine.bushing;
        (b.weight, b.chain_pull, b.shake, machine.washer.preload) = (0.0, 0.0, 0.0, 0.0);
        (b.clearance, b.length) = (500e-6, 2e-3);
        let mut sim = Simulation::new(machine, Options::default()).expect("a machine");
        for (task, speed) in [(Task::FastIdle(2100.0 * RPM), 2100.0), (Task::Idle, 1700.0)] {
            sim.perform(&Segment::Ride(task, End::After(60.0))).expect("it idles");
            assert_relative_eq!(sim.reading(Channel::MotorSpeed) / RPM, speed, max_relative = 2e-3);
        }
    }
}

//! Slip with a closed form compared with published examples.

use crate::textbook::slip::{Side, Slip, constant_torque};
use approx::assert_relative_eq;
use slipsoak_engine::laws::shoe::balance_speed;
use slipsoak_engine::units::RPM;

fn flywheels(outside: f64) -> Slip {
    constant_torque(
        Side { inertia: 32.0, speed: 1250.0 * RPM, outside },
        Side { inertia: 42.12, speed: 0.0, outside: 0.0 },
        37.905,
    )
}

// Khurmi & Gupta, Theory of Machines, ex. 10.27 (printed 156 000 J); more digits are our own. Half a unit of the last.
#[test]
fn two_flywheels_left_alone_meet_after_62_8_seconds() {
    let slip = flywheels(0.0);
    assert_relative_eq!(slip.speed, 56.51, epsilon = 0.005);
    assert_relative_eq!(slip.time, 62.8, epsilon = 0.05);
    assert_relative_eq!(slip.heat, 155_793.8, epsilon = 0.05);
}

// The same example with 60 N·m against the driver. Half a unit of the last digit.
#[test]
fn a_load_on_the_driver_ends_the_slip_sooner() {
    let slip = flywheels(-60.0);
    assert_relative_eq!(slip.time, 33.06, epsilon = 0.005);
    assert_relative_eq!(slip.speed, 29.7516, epsilon = 5e-5);
    assert_relative_eq!(slip.heat, 82_017.7, epsilon = 0.05);
}

// The same example with 60 N·m driving. Half a unit of the last digit.
#[test]
fn a_motor_on_the_driver_prolongs_the_slip_tenfold() {
    let slip = flywheels(60.0);
    assert_relative_eq!(slip.time, 624.94, epsilon = 0.005);
    assert_relative_eq!(slip.speed, 562.400, epsilon = 5e-4);
    assert_relative_eq!(slip.heat, 1_550_396.0, epsilon = 0.5);
}

// Bhandari, Design of Machine Elements, ex. 11.14. Heat 10 digits; time: half a unit of its last digit plus the effect
// of half a unit of the torque's last digit (1e-6 relative).
#[test]
fn a_clutch_of_47_7_newton_metres_slips_for_0_409285_seconds_and_2046_422713_joules() {
    let slip = constant_torque(
        Side { inertia: 0.1125, speed: 2000.0 * RPM, outside: 0.0 },
        Side { inertia: 0.546875, speed: 0.0, outside: 0.0 },
        47.7465,
    );
    assert_relative_eq!(slip.time, 0.409285, epsilon = 5e-7 + 0.409285 * 5e-5 / 47.7465);
    assert_relative_eq!(slip.heat, 2046.422713, epsilon = 5e-7);
}

// Khurmi & Gupta, ex. 10.34. 5 digits: half a unit of the last.
#[test]
fn a_driver_of_constant_speed_wastes_as_much_heat_as_the_driven_side_gains_energy() {
    let slip = constant_torque(
        Side { inertia: f64::INFINITY, speed: 1000.0 * RPM, outside: 0.0 },
        Side { inertia: 0.30375, speed: 0.0, outside: 0.0 },
        7.8240,
    );
    assert_relative_eq!(slip.time, 4.0655, epsilon = 5e-5);
    assert_relative_eq!(slip.heat, 1665.5, epsilon = 0.05);
    assert_relative_eq!(slip.heat, 0.5 * 0.30375 * (1000.0 * RPM).powi(2), max_relative = 1e-12);
}

// Exact (ours): motor 10 N·m on 0.021 kg·m², clutch K(ω² − ω_e²), load 1 N·m on 0.35 kg·m². All digits given.
#[test]
fn a_launch_under_the_centrifugal_law_follows_a_hyperbolic_tangent() {
    use std::f64::consts::PI;
    let (k, engaged, j1, j2, motor, load) = (2e-4, 40.0 * PI, 0.021, 0.35, 10.0, 1.0);
    let balance = balance_speed(engaged, motor, k);
    assert_relative_eq!(balance, 256.49827883, epsilon = 5e-9);
    // ω1 = ω_b tanh φ,  φ = φ0 + ω_b K t/J1;  ∫ω1 dt = J1/K ln(cosh φ/cosh φ0);  momentum gives ω2
    let start = 50.0 * PI;
    let phase = |t: f64| (start / balance).atanh() + balance * k * t / j1;
    let first = |t: f64| balance * phase(t).tanh();
    let second = |t: f64| ((motor - load) * t - j1 * (first(t) - start)) / j2;
    let (mut low, mut high) = (5.0, 20.0);
    for _ in 0..80 {
        let mid = 0.5 * (low + high);
        if first(mid) > second(mid) { low = mid } else { high = mid }
    }
    assert_relative_eq!(low, 10.2069099, epsilon = 5e-8);
    let turned = j1 / k * (phase(low).cosh() / phase(0.0).cosh()).ln();
    let driven = ((motor - load) * low * low / 2.0 - j1 * (turned - start * low)) / j2;
    let energy = 0.5 * (j1 + j2) * first(low).powi(2) - 0.5 * j1 * start * start;
    assert_relative_eq!(motor * turned - load * driven - energy, 12729.19052, epsilon = 5e-5);
    let locked = (motor * j2 + load * j1) / (j1 + j2);
    assert_relative_eq!(locked, 9.490566, epsilon = 5e-7);
    assert!(k * (first(low).powi(2) - engaged * engaged) > locked);
    assert_relative_eq!(balance_speed(engaged, locked, k) / RPM, 2401.50, epsilon = 0.005);
}

// Exact: period of stick and slip; the slip phase is also integrated here (classical fourth order, 1e-5 of a second).
#[test]
fn a_mass_on_a_belt_sticks_and_slips_with_the_period_of_the_closed_form() {
    let cases = [(1.0, 1.0, 0.2, 1.0, 0.5, 8.90260540781), (1.0, 100.0, 0.05, 3.924, 2.943, 0.80083221712)];
    for (mass, rate, belt, still, moving, period) in cases {
        let formula = stick_slip_period(mass, rate, belt, still, moving);
        assert_relative_eq!(formula, period, epsilon = 1e-11);
        let (mut x, mut v, mut t, step) = (still / rate, belt, 0.0, 1e-5);
        let pull = |x: f64| (moving - rate * x) / mass;
        loop {
            let (a1, v1) = (pull(x), v);
            let (a2, v2) = (pull(x + 0.5 * step * v1), v + 0.5 * step * a1);
            let (a3, v3) = (pull(x + 0.5 * step * v2), v + 0.5 * step * a2);
            let (a4, v4) = (pull(x + step * v3), v + step * a3);
            x += step / 6.0 * (v1 + 2.0 * v2 + 2.0 * v3 + v4);
            v += step / 6.0 * (a1 + 2.0 * a2 + 2.0 * a3 + a4);
            t += step;
            if v >= belt && pull(x) > 0.0 {
                break;
            }
        }
        // after sticking again the mass rides with the belt back to the breakaway point; off by at most one step
        assert_relative_eq!(t + (still / rate - x) / belt, period, epsilon = 2e-5);
    }
}

// UN Regulation 83, type I test, part one (text: 1.013 km). Half a unit of the last digit of our integration.
#[test]
fn the_urban_cycle_of_195_seconds_covers_1014_58_metres() {
    let t = [
        0, 11, 15, 23, 25, 28, 49, 54, 56, 61, 85, 93, 96, 117, 122, 124, 133, 135, 143, 155, 163, 176, 178, 185, 188,
        195,
    ];
    let v = [0, 0, 15, 15, 10, 0, 0, 15, 15, 32, 32, 10, 0, 0, 15, 15, 35, 35, 50, 50, 35, 35, 32, 10, 0, 0];
    let (mut way, mut idle, mut cruise, mut accelerate) = (0.0, 0, 0, 0);
    for i in 1..t.len() {
        let time: i32 = t[i] - t[i - 1];
        way += f64::from(time * (v[i] + v[i - 1])) / 7.2;
        match (v[i - 1], v[i]) {
            (0, 0) => idle += time,
            // a level stretch of 2 s is a gear change
            (a, b) if a == b && time > 2 => cruise += time,
            (a, b) if b > a => accelerate += time,
            _ => {}
        }
    }
    assert_relative_eq!(way, 1014.58, epsilon = 0.005);
    assert_relative_eq!(way, 1013.0, max_relative = 2e-3);
    assert_eq!((idle, cruise, accelerate), (60, 57, 36));
}

/// Period of a sprung mass that sticks and slips on a moving belt, s.
///
/// It rides with the belt until the spring overcomes static friction, then swings back about kinetic friction until it sticks.
/// ```text
/// T = 2D/v + [π + 2 atan(v/(ωD))]/ω,   D = (F_s − F_k)/k,   ω = √(k/m)
/// ```
/// Neglects damping. Exact.
fn stick_slip_period(mass: f64, rate: f64, belt: f64, still: f64, moving: f64) -> f64 {
    let w = (rate / mass).sqrt();
    let d = (still - moving) / rate;
    2.0 * d / belt + (std::f64::consts::PI + 2.0 * libm::atan2(belt, w * d)) / w
}

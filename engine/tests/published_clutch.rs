//! The clutch at rest compared with published examples: force, torque, engagement, sizing.

use crate::textbook::clutch::{LongShoe, lining_width, shoe_mass};
use approx::assert_relative_eq;
use slipsoak_engine::laws::shoe::{
    capacity, engagement_speed, lift_off_speed, normal_force, self_energising, spring_force,
};
use slipsoak_engine::laws::vehicle::GRAVITY;
use slipsoak_engine::parts::{Form, Machine};
use slipsoak_engine::units::RPM;

const MM: f64 = 1e-3;
const INCH: f64 = 0.0254;
const POUND: f64 = 0.45359237;
const COLD: f64 = 293.15;

// Khurmi & Gupta, Theory of Machines, ex. 10.35. Printed to 3 digits: half a unit of the last.
#[test]
fn fifteen_kilowatts_at_900_rpm_need_shoes_of_2_28_kg_and_67_5_mm() {
    let w = 900.0 * RPM;
    let mass = shoe_mass(15e3, w, 0.75 * w, 4.0, 0.25, 120.0 * MM, 150.0 * MM);
    assert_relative_eq!(mass, 2.28, epsilon = 0.005);
    let force = normal_force(mass, 120.0 * MM, w, mass * 120.0 * MM * (0.75 * w).powi(2));
    assert_relative_eq!(lining_width(force, 0.1e6, 150.0 * MM, 60_f64.to_radians()), 67.5 * MM, epsilon = 0.05 * MM);
}

// A public problem with a worked answer. 4 digits: half a unit of the last.
#[test]
fn twenty_five_kilowatts_at_1200_rpm_need_shoes_of_1_866_kg() {
    let w = 1200.0 * RPM;
    assert_relative_eq!(shoe_mass(25e3, w, 0.5 * w, 4.0, 0.3, 75.0 * MM, 100.0 * MM), 1.866, epsilon = 5e-4);
}

// Bhandari, Design of Machine Elements, ex. 11.12. 7 digits: half a unit of the last.
#[test]
fn twenty_kilowatts_at_750_rpm_need_shoes_of_2_680647_kg_and_63_79925_mm() {
    let (w, engaged, arc) = (750.0 * RPM, 500.0 * RPM, 70_f64.to_radians());
    let mass = shoe_mass(20e3, w, engaged, 4.0, 0.3, 140.0 * MM, 165.0 * MM);
    assert_relative_eq!(mass, 2.680647, epsilon = 5e-7);
    assert_relative_eq!(165.0 * arc, 201.585529, epsilon = 5e-7);
    let force = normal_force(mass, 140.0 * MM, w, mass * 140.0 * MM * engaged * engaged);
    assert_relative_eq!(lining_width(force, 0.1e6, 165.0 * MM, arc) / MM, 63.799250, epsilon = 5e-6);
}

// Bhandari, ex. 11.13. 8 digits: one unit of the last.
#[test]
fn four_shoes_of_1_5_kg_against_700_newton_engage_at_621_982879_rpm_and_carry_77_319497_kilowatts() {
    assert_relative_eq!(engagement_speed(1.5, 110.0 * MM, 700.0) / RPM, 621.982879, max_relative = 1e-8);
    let w = 1440.0 * RPM;
    let torque = capacity(4.0, 0.3, normal_force(1.5, 110.0 * MM, w, 700.0), 140.0 * MM, 1.0);
    assert_relative_eq!(torque, 512.74084, max_relative = 1e-8);
    assert_relative_eq!(torque * w, 77319.497, max_relative = 1e-8);
}

// Khurmi & Gupta, ex. 10.36 (36.1 kW, 3 digits); the further digits and both speeds are our own evaluation of it.
#[test]
fn a_spring_that_stiffens_over_the_gap_lifts_at_188_73_and_touches_at_227_62_rpm() {
    let (mass, rest, gap, rate) = (8.0, 160.0 * MM, 5.0 * MM, 50e3);
    let spring = spring_force(500.0, 0.0, 0.0, rate, gap, COLD);
    assert_relative_eq!(lift_off_speed(mass, rest, 500.0) / RPM, 188.73, epsilon = 0.005);
    assert_relative_eq!(engagement_speed(mass, rest + gap, spring) / RPM, 227.62, epsilon = 0.005);
    let w = 500.0 * RPM;
    let power = capacity(4.0, 0.3, normal_force(mass, rest + gap, w, spring), 200.0 * MM, 1.0) * w;
    assert_relative_eq!(power, 36.1e3, epsilon = 50.0);
    assert_relative_eq!(power, 36051.1, epsilon = 0.05);
}

// Gobby, Solutions to Problems in Applied Mechanics, ch. 3 ex. 2. 3 digits: half a unit of the last.
#[test]
fn shoes_of_4_pounds_against_60_pounds_engage_at_31_1_rad_per_second_and_carry_5_69_horsepower() {
    let spring = 60.0 * POUND * GRAVITY;
    let (mass, radius, w) = (4.0 * POUND, 6.0 * INCH, 500.0 * RPM);
    assert_relative_eq!(engagement_speed(mass, radius, spring), 31.1, epsilon = 0.05);
    let torque = capacity(4.0, 0.25, normal_force(mass, radius, w, spring), 6.5 * INCH, 1.0);
    let horsepower = 550.0 * 12.0 * INCH * POUND * GRAVITY;
    assert_relative_eq!(torque * w / horsepower, 5.69, epsilon = 0.005);
}

// Exact, ours, after a public exam question. 5 digits: half a unit of the last.
#[test]
fn two_millimetres_of_lining_wear_cost_a_fifth_of_the_power_although_the_shoe_moves_out() {
    let w = 750.0 * RPM;
    let engaged = 0.7 * w;
    let (radius, rate, worn) = (160.0 * MM, 150e3, 2.0 * MM);
    let mass = shoe_mass(20e3, w, engaged, 4.0, 0.25, radius, 200.0 * MM);
    assert_relative_eq!(mass, 2.5295, epsilon = 5e-5);
    let spring = spring_force(mass * radius * engaged * engaged, 0.0, 0.0, rate, worn, COLD);
    let power = capacity(4.0, 0.25, normal_force(mass, radius + worn, w, spring), 200.0 * MM, 1.0) * w;
    assert_relative_eq!(power, 15778.0, epsilon = 0.5);
}

// Exact: dF_n/dx = m ω² − k. Tolerance: rounding of the difference.
#[test]
fn torque_falls_with_lining_wear_when_the_spring_rate_exceeds_mass_times_speed_squared() {
    let force = |x: f64, w: f64, rate: f64| normal_force(0.1, 0.04 + x, w, spring_force(80.0, 0.0, 0.0, rate, x, COLD));
    for (w, rate, falls) in [(300.0, 10e3, true), (300.0, 8e3, false)] {
        let slope = (force(1e-3, w, rate) - force(0.0, w, rate)) / 1e-3;
        assert_relative_eq!(slope, 0.1 * w * w - rate, max_relative = 1e-9);
        assert_eq!(slope < 0.0, falls);
    }
}

// Common practice, no source: idles of 1600–1800 rpm get springs that engage near 2000 rpm, about 200 rpm above the
// true idle.
#[test]
fn the_standard_machine_engages_200_to_400_rpm_above_its_idle() {
    let machine = Machine::default();
    let idle = machine.motor.idle / RPM;
    let margin = machine.clutch.engagement / RPM - idle;
    assert!((1600.0..=1800.0).contains(&idle) && (200.0..=400.0).contains(&margin), "idle {idle}, margin {margin}");
}

// Bhandari, ex. 12.9. 8 and 10 digits: one unit of the last.
#[test]
fn a_drum_with_two_leading_and_two_trailing_long_shoes_takes_5025_newton_for_2181_6_newton_metres() {
    let shoe = LongShoe {
        radius: 250.0 * MM,
        width: 50.0 * MM,
        pivot: 200.0 * MM,
        from: 15_f64.to_radians(),
        to: 75_f64.to_radians(),
    };
    let arm = 200.0 * MM;
    let force = shoe.leading_force(1e6, 0.3, arm);
    assert_relative_eq!(force, 5025.4576, max_relative = 2e-8);
    let torque = 2.0 * (shoe.torque(1e6, 0.3) + shoe.torque(shoe.trailing_pressure(force, 0.3, arm), 0.3));
    assert_relative_eq!(torque, 2181.614276, max_relative = 1e-9);
}

// Shigley, Mechanical Engineering Design, problem 16-1. 3 digits: half a unit of the last.
#[test]
fn a_long_leading_shoe_under_2_2_kilonewton_is_pressed_with_734_kilopascal() {
    let shoe =
        LongShoe { radius: 150.0 * MM, width: 40.0 * MM, pivot: 125.0 * MM, from: 0.0, to: 120_f64.to_radians() };
    assert_relative_eq!(shoe.leading_pressure(2200.0, 0.28, 216.5 * MM), 734e3, epsilon = 500.0);
}

// Exact: the gain of a leading and a trailing form from the moments of one long shoe.
#[test]
fn the_gain_of_the_simple_forms_is_that_of_a_long_shoe_with_the_same_lever() {
    let shoe = LongShoe { radius: 0.15, width: 0.04, pivot: 0.125, from: 0.0, to: 2.0 };
    let mu = 0.28;
    let lever = shoe.friction_moment(1.0, mu) / shoe.normal_moment(1.0) / mu;
    let bare = shoe.normal_moment(1.0);
    let leading = shoe.leading_pressure(1.0, mu, 1.0) * bare;
    let trailing = shoe.trailing_pressure(1.0, mu, 1.0) * bare;
    assert_relative_eq!(self_energising(Form::Leading, lever, 0.0, mu, 1.0), leading, max_relative = 1e-12);
    assert_relative_eq!(self_energising(Form::Trailing, lever, 0.0, mu, 1.0), trailing, max_relative = 1e-12);
}

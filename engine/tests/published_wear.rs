//! Wear, springs and clearances compared with published examples and exact solutions.

use crate::textbook::spring;
use approx::assert_relative_eq;
use slipsoak_engine::laws::shoe::engagement_speed;
use slipsoak_engine::laws::stack::{gap, rss, share_below, worst};
use slipsoak_engine::laws::wear::{
    ageing_rate, bushing_rate, face_rate, lining_constant, lining_rate, relaxation_per_decade, relaxed, washer_constant,
};
use slipsoak_engine::parts::Machine;
use slipsoak_engine::units::{RPM, ZERO_C};

const MM: f64 = 1e-3;
const INCH: f64 = 0.0254;
const FOOT: f64 = 0.3048;
const POUND_FORCE: f64 = 4.4482216152605;
const MINUTE: f64 = 60.0;
const HOUR: f64 = 3600.0;

/// in³·min/(lbf·ft·h) in m²/N
fn inch_constant() -> f64 {
    INCH.powi(3) * MINUTE / (POUND_FORCE * FOOT * HOUR)
}

// Exact unit factor, 1 mm³/(N·m) = 1e-9 m²/N. Six digits.
#[test]
fn the_inch_wear_constant_is_201_441_cubic_millimetres_per_newton_metre() {
    assert_relative_eq!(inch_constant() / 1e-9, 201.441, epsilon = 5e-4);
}

// Shigley, Mechanical Engineering Design, 8th ed., problem 12-22 (solutions). 4 and 3 digits: half a unit of the last.
#[test]
fn a_one_inch_bushing_under_500_pounds_lasts_1388_hours_and_16_7_million_turns() {
    let k = 1.8 * 1.0 * 0.6e-10 * inch_constant();
    let rate = bushing_rate(k, 500.0 * POUND_FORCE, INCH, INCH, 52.4 * FOOT / MINUTE);
    let life = 0.005 * INCH / rate;
    assert_relative_eq!(life / HOUR, 1388.0, epsilon = 0.5);
    assert_relative_eq!(life / MINUTE * 200.0 / 1e6, 16.7, epsilon = 0.05);
}

// Exact. All digits given.
#[test]
fn a_washer_under_20_newton_at_3000_rpm_is_gone_after_135_5_hours_of_sliding() {
    let rate = face_rate(1e-5 * 1e-9, 20.0, 3000.0 * RPM, 9.5 * MM, 15.9 * MM);
    assert_relative_eq!(rate * HOUR * 1e6, 5.6250, epsilon = 5e-5);
    assert_relative_eq!(0.762 * MM / rate / HOUR, 135.5, epsilon = 0.05);
    assert_eq!(rate, face_rate(1e-14, 20.0, -3000.0 * RPM, 9.5 * MM, 15.9 * MM));
}

// Exact: 6000 mm³ at 60 mm³/MJ. Rounding.
#[test]
fn four_linings_of_600_square_millimetres_last_20_000_launches_of_5_kilojoules() {
    let constant = lining_constant(60e-15, 0.0075, 230.0 + ZERO_C, 60e3, 100.0 + ZERO_C);
    let worn = lining_rate(constant, 5000.0, 4.0 * 600e-6);
    assert_relative_eq!(2.5 * MM / worn, 20_000.0, max_relative = 1e-12);
}

// Mott, Machine Elements in Mechanical Design, 4th ed., section 19-7, extension spring, in the book's inches and pounds
// (the laws hold in any one set of units). Half a unit of the last digit; the stress to the two digits printed with
// certainty.
#[test]
fn the_extension_spring_of_a_textbook_is_reproduced() {
    let (wire, outside) = (0.072, 0.625);
    let mean: f64 = outside - wire;
    assert_relative_eq!(mean, 0.553, epsilon = 5e-7);
    assert_relative_eq!(mean / wire, 7.68, epsilon = 0.005);
    assert_relative_eq!(spring::wahl(mean / wire), 1.19, epsilon = 0.005);
    assert_relative_eq!(spring::shear_stress(26.75, mean, wire), 120_000.0, max_relative = 0.005);
    let rate = (26.75 - 16.25) / (4.25 - 3.50);
    assert_relative_eq!(rate, 14.0, epsilon = 0.05);
    let coils = spring::active_coils(11.5e6, wire, mean, rate);
    assert_relative_eq!(coils, 16.3, epsilon = 0.05);
    assert_relative_eq!(spring::rate(11.5e6, wire, mean, coils), rate, max_relative = 1e-12);
}

// Shigley, 7th ed., solution 10-3, in inches and pounds; plain-ground ends leave one coil idle. Half a unit of the last digit.
#[test]
fn a_music_wire_spring_of_twelve_coils_has_11_55_pounds_an_inch() {
    assert_relative_eq!(spring::rate(11.75e6, 0.105, 1.225 - 0.105, 12.0 - 1.0), 11.55, epsilon = 0.005);
}

// Exact. All digits given.
#[test]
fn lining_wear_of_a_millimetre_raises_the_engagement_from_1307_59_to_1395_rpm() {
    assert_relative_eq!(engagement_speed(0.08, 0.04, 60.0) / RPM, 1307.59, epsilon = 0.005);
    assert_relative_eq!(engagement_speed(0.08, 0.041, 60.0 + 10e3 * MM) / RPM, 1395.0, epsilon = 0.05);
}

// Shigley, 9th ed., ex. 1-3; the uniform share is exact (ours). Rounding.
#[test]
fn a_textbook_stack_leaves_5_thousandths_with_10_worst_and_6_probable() {
    let stack = [(1.750, 0.003), (-0.750, 0.001), (-0.120, 0.005), (-0.875, 0.001)];
    assert_relative_eq!(gap(&stack), 0.005, epsilon = 1e-12);
    assert_relative_eq!(worst(&stack), 0.010, epsilon = 1e-12);
    assert_relative_eq!(rss(&stack), 0.006, epsilon = 1e-12);
    assert_relative_eq!(share_below(&stack, 0.0), 29.0 / 360.0, epsilon = 1e-9);
    assert_relative_eq!(share_below(&stack, 1.0), 1.0, epsilon = 1e-4);
}

// Common practice, no source: washer 0.030 in, bushing 0.060–0.070 in proud, so almost 0.100 in to the cover.
#[test]
fn the_shops_gap_is_95_thousandths_and_so_is_the_default_machines() {
    let stack = [(0.065, 0.005), (0.030, 0.003)];
    assert_relative_eq!(gap(&stack), 0.095, epsilon = 1e-12);
    assert_relative_eq!(worst(&stack), 0.008, epsilon = 1e-12);
    assert_relative_eq!(rss(&stack), 0.0058, epsilon = 5e-5);
    let machine = Machine::default();
    let default = [
        (machine.cover.proud, machine.cover.proud_tolerance),
        (machine.washer.thickness, machine.cover.washer_tolerance),
    ];
    assert_relative_eq!(gap(&default) / INCH, 0.095, epsilon = 1e-12);
    assert_relative_eq!(worst(&default) / INCH, 0.008, epsilon = 1e-12);
}

// Exact: the closed form satisfies its differential equation, and splitting a step changes nothing (rounding).
#[test]
fn relaxation_doesnt_depend_on_how_the_time_is_split() {
    let a = relaxation_per_decade(0.02, 25.0, 150.0 + ZERO_C);
    let whole = relaxed(0.0, a, 1000.0 * HOUR);
    let split = (0..1000).fold(0.0, |r, _| relaxed(r, a, HOUR));
    assert_relative_eq!(whole, split, max_relative = 1e-12);
    let r = relaxed(0.0, a, 10.0 * HOUR);
    let rate = a / (std::f64::consts::LN_10 * HOUR * 10_f64.powf(r / a));
    assert_relative_eq!((relaxed(r, a, 0.1) - r) / 0.1, rate, max_relative = 1e-5);
}

// Exact bounds of the law.
#[test]
fn relaxation_stops_at_a_half_and_stands_still_when_cold_after_hot() {
    assert_eq!(relaxed(0.3, 0.2, 1e12 * HOUR), 0.5);
    assert_eq!(relaxed(0.4, 0.001, 1e9 * HOUR), 0.4);
    assert_eq!(relaxed(0.0, 0.0, HOUR), 0.0);
    let most = relaxation_per_decade(0.02, 25.0, 200.0 + ZERO_C);
    assert_eq!(most, relaxation_per_decade(0.02, 25.0, 400.0 + ZERO_C));
}

// Exact: both branches of the lining's law meet at the knee, and burning rises less steeply than the extrapolated
// exponential.
#[test]
fn lining_wear_is_continuous_at_its_knee() {
    let w = |celsius: f64| lining_constant(40e-15, 0.0075, 230.0 + ZERO_C, 60e3, celsius + ZERO_C);
    assert_relative_eq!(w(230.0 - 1e-9), w(230.0 + 1e-9), max_relative = 1e-9);
    assert_relative_eq!(w(200.0) / w(100.0), 0.75_f64.exp(), max_relative = 1e-12);
    assert!(w(300.0) > w(230.0));
}

// The ten-degree rule and the washer's two ends. Rounding.
#[test]
fn fibre_ages_twice_as_fast_at_115_degrees_and_an_aged_washer_wears_twice_as_fast() {
    assert_relative_eq!(ageing_rate(105.0 + ZERO_C), 1.0, max_relative = 1e-12);
    assert_relative_eq!(ageing_rate(115.0 + ZERO_C), 2.0, max_relative = 1e-12);
    let life = 20_000.0 * HOUR;
    assert_relative_eq!(washer_constant(1e-14, 1e-13, 1.0, life, life), 2e-14, max_relative = 1e-12);
    assert_relative_eq!(washer_constant(1e-14, 1e-13, 0.0, 0.0, life), 1e-13, max_relative = 1e-12);
}

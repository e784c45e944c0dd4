//! Cooling of a truck's brake drum: the whole model against coefficients measured on the road.
//!
//! Source: Myers, Ashkenas & Johnson, Feasibility of a Grade Severity Rating System, FHWA-RD-79-116 (1980), quoted from memory;
//! no second source was found. Measured on a truck's ten drums, fitted over speed V in mph:
//! ```text
//! rate of cooling K1 = 1.23 + 0.0256 V per hour,   1/K2 = 0.100 + 0.00208 V hp/°F,   hA = 1/K2 over ten drums
//! ```
//! Both together give the heat capacity of a drum, 39.27 kJ/K.
//!
//! Set as measured: the capacity (by the specific heat of wall and web) and the speed. Chosen, without a source: R 209.6 × 200 mm,
//! wall 25.4 mm (a usual size), a tyre's radius of 0.5 m, and the launches that heat the drum. Shoes, hub and chain are cut off: the
//! measured capacity holds them. Web and its link are those of the example, 3.59 mm and 2.2 W/K; one of 12 mm with a link as much
//! larger is the second table, to show how much that choice weighs. In the model the wind of driving reaches the whole band; on a
//! truck the wheel covers the drum.
//!
//! Error: 6 to 19 % below with the default convection factor, up to 38 % below with 1; with the thick web between −12 and +2 %. The
//! slope over speed is too steep by a sixth. Rises err by as much, the other way.

use crate::measured::truck_drum::{CAPACITY, THICK, THIN, conductance, truck};
use crate::measured::{Row, hold};
use approx::assert_relative_eq;
use slipsoak_engine::parts::Machine;
use std::ops::RangeInclusive;

const SPEEDS: [f64; 3] = [20.0, 40.0, 55.0];
/// hA, W/K: measured | model | ratio.
const BY_BAND_ALONE: [Row; 3] = [
    ("factor 1, 20 mph", 19.01, 11.82, 0.622),
    ("factor 1, 40 mph", 24.59, 16.95, 0.689),
    ("factor 1, 55 mph", 28.78, 20.23, 0.703),
];
const BY_DEFAULT: [Row; 3] = [
    ("default factor, 20 mph", 19.01, 15.41, 0.811),
    ("default factor, 40 mph", 24.59, 22.56, 0.917),
    ("default factor, 55 mph", 28.78, 27.11, 0.942),
];
const WITH_A_THICK_WEB: [Row; 3] = [
    ("default factor, thick web, 20 mph", 19.01, 16.74, 0.881),
    ("default factor, thick web, 40 mph", 24.59, 24.54, 0.998),
    ("default factor, thick web, 55 mph", 28.78, 29.27, 1.017),
];

/// Compares a table with the drum that has this convection factor and web, mm.
fn compare(rows: [Row; 3], convection: f64, web: f64, bounds: &RangeInclusive<f64>) -> [f64; 3] {
    let mut computed = [0.0; 3];
    for ((row, mph), here) in rows.into_iter().zip(SPEEDS).zip(&mut computed) {
        let mut machine = truck(web);
        machine.heat.convection = convection;
        *here = conductance(machine, mph);
        hold(row, *here, bounds.clone());
    }
    computed
}

// The fit's constants, from memory, give the tables' measured values and one capacity at all speeds. A horsepower is 745.7 W.
#[test]
fn the_measured_values_are_those_of_the_report_s_fit() {
    for ((_, measured, ..), mph) in BY_DEFAULT.into_iter().zip(SPEEDS) {
        let conductance = (0.100 + 0.00208 * mph) * 745.7 * 1.8 / 10.0;
        assert_relative_eq!(measured, conductance, max_relative = 1e-3);
        let rate = (1.23 + 0.0256 * mph) / 3600.0;
        assert_relative_eq!(conductance / rate, CAPACITY, max_relative = 1e-3);
    }
}

// 0.75 to 0.95: the default errs to the hot side, by no more than a quarter.
#[test]
fn with_the_default_convection_a_truck_drum_loses_81_to_94_percent_of_the_measured_heat() {
    let computed = compare(BY_DEFAULT, Machine::default().heat.convection, THIN, &(0.75..=0.95));
    let slopes = [computed[2] / computed[0], 28.78 / 19.01];
    assert_relative_eq!(slopes[0] / slopes[1], 1.16, epsilon = 0.01);
}

// −30 % and more: why the default factor is above 1.
#[test]
fn the_laws_of_band_and_disc_alone_give_62_to_70_percent_of_the_measured_heat() {
    compare(BY_BAND_ALONE, 1.0, THIN, &(0.55..=0.75));
}

// ±30 %, the scatter of a size nobody measured.
#[test]
fn a_web_three_times_as_thick_brings_a_truck_drum_within_an_eighth_of_the_measured_heat() {
    compare(WITH_A_THICK_WEB, Machine::default().heat.convection, THICK, &(0.70..=1.30));
}

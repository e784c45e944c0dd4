//! Air compared with a reference table.

use approx::assert_relative_eq;
use slipsoak_engine::laws::air;

/// The rows of a table as numbers; comment and heading lines are left out.
pub fn rows(table: &str) -> Vec<Vec<f64>> {
    let lines = table.lines().filter(|line| !line.starts_with('#')).skip(1);
    lines.map(|line| line.split(',').map(|cell| cell.parse().unwrap_or(f64::NAN)).collect()).collect()
}

// CoolProp 8.0.0 (versions in the table). The fits were made to 0.7 %; Pr 0.70 is a constant: 3 %.
#[test]
fn air_properties_lie_within_0_7_percent_of_a_reference_equation_of_state() {
    let table = rows(include_str!("published/air_properties.csv"));
    let used: Vec<_> = table.iter().filter(|row| row[0] <= 500.0).collect();
    assert!(used.len() > 15);
    for row in used {
        let t = row[1];
        // an ideal gas: real air deviates by 0.1 % at most
        assert_relative_eq!(air::density(air::SEA_LEVEL, t), row[2], max_relative = 0.001);
        assert_relative_eq!(air::viscosity(t), row[4], max_relative = 0.007);
        assert_relative_eq!(air::conductivity(t), row[6], max_relative = 0.007);
        assert_relative_eq!(air::PRANDTL, row[8], max_relative = 0.03);
    }
}

// The fits are the least-squares quadratics of that table, so their residuals have no mean, slope or curvature: Σ (fit
// − table) Tʲ = 0 for j 0, 1, 2. 2e-5 of Σ table Tʲ: the five digits of the coefficients.
#[test]
fn the_air_fits_are_the_least_squares_of_their_table() {
    let table = rows(include_str!("published/air_properties.csv"));
    for (law, column) in [(air::viscosity as fn(f64) -> f64, 4), (air::conductivity, 6)] {
        for power in 0..=2 {
            let sum = |of: &dyn Fn(&Vec<f64>) -> f64| -> f64 {
                table.iter().filter(|row| row[0] <= 500.0).map(|row| of(row) * row[1].powi(power)).sum()
            };
            let (fitted, tabled) = (sum(&|row| law(row[1])), sum(&|row| row[column]));
            assert_relative_eq!(fitted, tabled, max_relative = 2e-5);
        }
    }
}

// CoolProp 8.0.0 at 100 °C, a typical film temperature between a hot drum and the air: 0.70027. Half a unit of the
// constant's last digit.
#[test]
fn the_prandtl_number_of_air_is_that_of_the_table_at_100_degrees() {
    let table = rows(include_str!("published/air_properties.csv"));
    let row = table.iter().find(|row| row[0] == 100.0).expect("a row at 100 °C");
    assert_relative_eq!(air::PRANDTL, row[8], epsilon = 0.005);
}

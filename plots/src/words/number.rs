//! Numbers on a page: suitable digits, in a familiar unit.

use crate::page::Cell;
use crate::sheet::axis::number;
use crate::words::text::Words;
use slipsoak_engine::parts::Dimension;
use slipsoak_engine::units::{HOUR, KM_H, RPM, THOU, YEAR};

/// Step of the last significant digit for this number of digits, but at most 1.
fn step(value: f64, digits: i32) -> f64 {
    let size = value.abs().max(1e-300).log10().floor() as i32;
    10f64.powi(size + 1 - digits).min(1.0)
}

/// A number with three significant digits.
pub fn three(value: f64) -> String {
    let size = value.abs();
    if size != 0.0 && !(1e-3..1e7).contains(&size) && size.is_finite() {
        return power(value, 0.01);
    }
    short(&number(value, step(value, 3)))
}

/// A number as a multiple of a power of ten, rounded to a step of that multiple.
pub fn power(value: f64, step: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return "0".to_owned();
    }
    let mut power = value.abs().log10().floor() as i32;
    if (value.abs() / 10f64.powi(power) / step).round() * step >= 10.0 {
        power += 1;
    }
    format!("{}\u{a0}×\u{a0}10{}", short(&number(value / 10f64.powi(power), step)), raised(power))
}

/// A number without trailing zeros after its decimal point.
fn short(number: &str) -> String {
    if number.contains('.') { number.trim_end_matches('0').trim_end_matches('.').to_owned() } else { number.to_owned() }
}

/// An integer as an exponent.
fn raised(power: i32) -> String {
    let digit = |c: char| match c {
        '-' => '⁻',
        c => ['⁰', '¹', '²', '³', '⁴', '⁵', '⁶', '⁷', '⁸', '⁹'][c.to_digit(10).unwrap_or(0) as usize],
    };
    power.to_string().chars().map(digit).collect()
}

/// Numbers of one column, all with the decimals that the largest needs for this number of significant digits.
pub fn column(values: &[f64], digits: i32) -> Vec<String> {
    let largest = values.iter().filter(|v| v.is_finite()).fold(0.0_f64, |m, v| m.max(v.abs()));
    let shown = |v: &f64| match *v {
        0.0 => "0".to_owned(),
        v if v.is_finite() => number(v, step(largest, digits)),
        _ => "–".to_owned(),
    };
    values.iter().map(shown).collect()
}

/// A share in per cent with one decimal.
pub fn percent(share: f64) -> String {
    format!("{}\u{a0}%", number(100.0 * share, 0.1))
}

/// A setting's value with its unit.
pub fn quantity(value: f64, dimension: Dimension) -> Cell {
    use Dimension as D;
    let in_unit = |scale: f64, unit: &str| Cell::from(format!("{}\u{a0}{unit}", three(value / scale)));
    match dimension {
        D::Ratio => three(value).into(),
        D::Temperature => Cell::Words(Words::default().temperature(value)),
        D::AngularSpeed => in_unit(RPM, "rpm"),
        D::Length if value.abs() < 0.1e-3 => in_unit(1e-6, "µm"),
        D::Length if value.abs() < 0.03 => {
            format!("{}\u{a0}mm ({}\u{a0}thou)", three(value * 1e3), three(value / THOU)).into()
        }
        D::Length => in_unit(1e-3, "mm"),
        D::Area => in_unit(1e-4, "cm²"),
        D::Volume => in_unit(1e-6, "mL"),
        D::Mass if value < 1.0 => in_unit(1e-3, "g"),
        D::Speed => in_unit(KM_H, "km/h"),
        D::Stiffness => in_unit(1e3, "N/mm"),
        D::Angle => in_unit(std::f64::consts::PI / 180.0, "°"),
        D::PerSecond => in_unit(1.0 / HOUR, "per hour"),
        D::Time if value < 60.0 => in_unit(1.0, "s"),
        D::Time if value < HOUR => in_unit(60.0, "min"),
        D::Time if value < 1e5 * HOUR => in_unit(HOUR, "h"),
        D::Time => in_unit(YEAR, "years"),
        D::BurnConstant => in_unit(1e-15, "mm³/MJ"),
        D::WearConstant => in_unit(1e-9, "mm³/(N·m)"),
        other => in_unit(1.0, other.unit()),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_keep_three_digits_and_times_a_handy_unit() {
        for (value, words) in [(0.0, "0"), (0.05, "0.05"), (12.34, "12.3"), (1234.4, "1234"), (12345.6, "12\u{a0}346")]
        {
            assert_eq!(three(value), words);
        }
        assert_eq!(three(-1.234e-9), "−1.23\u{a0}×\u{a0}10⁻⁹");
        assert_eq!(column(&[0.02, 391.26, 0.0, f64::NAN], 4), ["0.0", "391.3", "0", "–"]);
        assert_eq!(power(4.2e-9, 1.0), "4\u{a0}×\u{a0}10⁻⁹");
        assert_eq!(power(9.7e-17, 1.0), "1\u{a0}×\u{a0}10⁻¹⁶");
        assert_eq!(percent(0.9764), "97.6\u{a0}%");
        assert_eq!(quantity(7.62e-4, Dimension::Length), "0.762\u{a0}mm (30\u{a0}thou)".into());
        assert_eq!(quantity(40e-15, Dimension::BurnConstant), "40\u{a0}mm³/MJ".into());
    }
}

//! The value of a setting with its unit.

use crate::page::Cell;
use crate::words::number::three;
use crate::words::text::Words;
use slipsoak_engine::parts::{Dimension, parameter};
use slipsoak_engine::units::{HOUR, KM_H, RPM, THOU, YEAR};

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
        D::PressureSpeed => in_unit(1e6, "MPa·m/s"),
        D::WipeEnergy => in_unit(1e6, "MJ/m²"),
        D::BurnConstant => in_unit(1e-15, "mm³/MJ"),
        D::WearConstant => in_unit(1e-9, "mm³/(N·m)"),
        other => in_unit(1.0, other.unit()),
    }
}

/// The value of the setting with that path; any other value with three digits.
pub fn of_setting(path: &str, value: f64) -> Cell {
    parameter(path).map_or_else(|| Cell::Number(three(value)), |p| quantity(value, p.dimension))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_value_has_a_handy_unit() {
        assert_eq!(quantity(7.62e-4, Dimension::Length), "0.762\u{a0}mm (30\u{a0}thou)".into());
        assert_eq!(quantity(40e-15, Dimension::BurnConstant), "40\u{a0}mm³/MJ".into());
    }
}

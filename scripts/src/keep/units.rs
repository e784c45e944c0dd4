//! Units of the tables of runs.

use clap::ValueEnum;
use slipsoak_engine::parts::Dimension as D;
use slipsoak_engine::parts_file::unit_named;

/// A system of units.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, ValueEnum)]
pub enum Units {
    /// K, rad/s, m/s, m, kg
    #[default]
    Si,
    /// °C, rpm, km/h, µm, mg
    Metric,
    /// °F, rpm, mph, thou, mg, lbf·ft
    Imperial,
}

/// A unit of a column: its text, the SI value of one, and the SI value at zero.
#[derive(Clone, Debug)]
pub(crate) struct Shown {
    pub text: String,
    scale: f64,
    offset: f64,
}

impl Shown {
    /// An SI value in this unit, with seven significant digits.
    pub fn number(&self, value: f64) -> String {
        digits((value - self.offset) / self.scale)
    }
}

/// A number with seven significant digits, as tables of numbers have it.
pub(crate) fn digits(value: f64) -> String {
    let rounded = format!("{value:.6e}").parse::<f64>().unwrap_or(value);
    if rounded != 0.0 && rounded.abs() < 1e-4 { format!("{rounded:e}") } else { rounded.to_string() }
}

impl Units {
    /// The unit for a kind of quantity.
    pub(crate) fn of(self, kind: D) -> Shown {
        let text = match (self, kind) {
            (Self::Metric, D::Temperature) => "°C",
            (Self::Imperial, D::Temperature) => "°F",
            (Self::Metric | Self::Imperial, D::AngularSpeed) => "rpm",
            (Self::Metric, D::Speed) => "km/h",
            (Self::Imperial, D::Speed) => "mph",
            (Self::Metric, D::Length) => "µm",
            (Self::Imperial, D::Length) => "thou",
            (Self::Imperial, D::Torque) => "lbf·ft",
            // A drop of oil is some 25 mg.
            (Self::Metric | Self::Imperial, D::Mass) => {
                return Shown { text: "mg".to_owned(), scale: 1e-6, offset: 0.0 };
            }
            _ => "",
        };
        let si = Shown { text: kind.unit().to_owned(), scale: 1.0, offset: 0.0 };
        unit_named(text, kind).map_or(si, |unit| Shown {
            text: text.to_owned(),
            scale: unit.scale,
            offset: unit.offset,
        })
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_seven_digits_and_the_unit_that_was_asked_for() {
        let shown = |units: Units, kind, value| {
            let unit = units.of(kind);
            format!("{} {}", unit.number(value), unit.text)
        };
        // Boiling water, 3000 rpm, 100 km/h, an inch, and a gram.
        for (kind, value, si, metric, imperial) in [
            (D::Temperature, 373.15, "373.15 K", "100 °C", "212 °F"),
            (D::AngularSpeed, 100.0 * std::f64::consts::PI, "314.1593 rad/s", "3000 rpm", "3000 rpm"),
            (D::Speed, 100.0 / 3.6, "27.77778 m/s", "100 km/h", "62.13712 mph"),
            (D::Length, 0.0254, "0.0254 m", "25400 µm", "1000 thou"),
            (D::Mass, 1e-3, "0.001 kg", "1000 mg", "1000 mg"),
            (D::Power, 12.0, "12 W", "12 W", "12 W"),
        ] {
            assert_eq!(shown(Units::Si, kind, value), si);
            assert_eq!(shown(Units::Metric, kind, value), metric);
            assert_eq!(shown(Units::Imperial, kind, value), imperial);
        }
        assert_eq!([0.0, 6.696_632_033_182_03e-13, -1_234_567.89].map(digits), ["0", "6.696632e-13", "-1234568"]);
    }
}

//! Unit words: one table for scripts (`30.s`), parts files (`"30 s"`) and output.

use crate::parts::Dimension;
use crate::units::{DAY, HOUR, INCH, KM_H, LBF_FT, MINUTE, MPH, RPM, THOU, ZERO_C};

/// One unit word.
#[derive(Clone, Copy, Debug)]
pub struct Unit {
    /// spelling in a script: `25.km_h`
    pub word: &'static str,
    /// spellings in a parts file: `"25 km/h"`
    pub texts: &'static [&'static str],
    /// kind of quantity
    pub dimension: Dimension,
    /// SI value of one unit
    pub scale: f64,
    /// SI value at zero
    pub offset: f64,
    /// name in words
    pub meaning: &'static str,
}

impl Unit {
    /// SI value of a number in this unit.
    pub fn si(&self, value: f64) -> f64 {
        value * self.scale + self.offset
    }

    /// An SI value in this unit.
    pub fn from_si(&self, value: f64) -> f64 {
        (value - self.offset) / self.scale
    }
}

const fn unit(
    word: &'static str,
    texts: &'static [&'static str],
    dimension: Dimension,
    scale: f64,
    meaning: &'static str,
) -> Unit {
    Unit { word, texts, dimension, scale, offset: 0.0, meaning }
}

const fn shifted(
    word: &'static str,
    texts: &'static [&'static str],
    scale: f64,
    offset: f64,
    meaning: &'static str,
) -> Unit {
    Unit { word, texts, dimension: Dimension::Temperature, scale, offset, meaning }
}

use Dimension as D;

/// Every unit word. Output prefers the first of a dimension.
pub static UNITS: &[Unit] = &[
    unit("s", &["s"], D::Time, 1.0, "seconds"),
    unit("min", &["min"], D::Time, MINUTE, "minutes"),
    unit("hours", &["h", "hour", "hours"], D::Time, HOUR, "hours"),
    unit("days", &["day", "days"], D::Time, DAY, "days"),
    unit("mm", &["mm"], D::Length, 1e-3, "millimetres"),
    unit("cm", &["cm"], D::Length, 1e-2, "centimetres"),
    unit("m", &["m"], D::Length, 1.0, "metres"),
    unit("um", &["µm", "um"], D::Length, 1e-6, "micrometres"),
    unit("inch", &["inch", "in"], D::Length, INCH, "inches"),
    unit("thou", &["thou"], D::Length, THOU, "thousandths of an inch"),
    unit("km_h", &["km/h"], D::Speed, KM_H, "kilometres per hour"),
    unit("mph", &["mph"], D::Speed, MPH, "miles per hour"),
    unit("m_s", &["m/s"], D::Speed, 1.0, "metres per second"),
    unit("rpm", &["rpm", "1/min"], D::AngularSpeed, RPM, "revolutions per minute"),
    unit("rad_s", &["rad/s"], D::AngularSpeed, 1.0, "radians per second"),
    unit("m_s2", &["m/s²", "m/s^2", "m/s2"], D::Acceleration, 1.0, "metres per second squared"),
    shifted("degC", &["°C", "degC"], 1.0, ZERO_C, "degrees Celsius"),
    shifted("degF", &["°F", "degF"], 5.0 / 9.0, ZERO_C - 32.0 * 5.0 / 9.0, "degrees Fahrenheit"),
    shifted("kelvin", &["K"], 1.0, 0.0, "kelvin, absolute"),
    unit("K", &["K"], D::TemperatureDifference, 1.0, "kelvin, a difference"),
    unit("Nm", &["N·m", "N*m", "Nm", "N m"], D::Torque, 1.0, "newton metres"),
    unit("lbf_ft", &["lbf·ft", "lbf*ft", "lbf ft"], D::Torque, LBF_FT, "pound-force feet"),
    unit("N", &["N"], D::Force, 1.0, "newtons"),
    unit("lbf", &["lbf"], D::Force, 4.4482216152605, "pounds-force"),
    unit("kPa", &["kPa"], D::Pressure, 1e3, "kilopascals"),
    unit("hPa", &["hPa", "mbar"], D::Pressure, 100.0, "hectopascals"),
    unit("bar", &["bar"], D::Pressure, 1e5, "bars"),
    unit("g", &["g"], D::Mass, 1e-3, "grams"),
    unit("kg", &["kg"], D::Mass, 1.0, "kilograms"),
    unit("lb", &["lb"], D::Mass, 0.45359237, "pounds"),
    unit("oz", &["oz"], D::Mass, 0.028349523125, "ounces, a sixteenth of a pound"),
    unit("mL", &["mL", "ml"], D::Volume, 1e-6, "millilitres"),
    unit("mm3", &["mm³", "mm^3", "mm3"], D::Volume, 1e-9, "cubic millimetres"),
    unit("cm3", &["cm³", "cm^3", "cm3", "cc"], D::Volume, 1e-6, "cubic centimetres"),
    unit("cm2", &["cm²", "cm^2", "cm2"], D::Area, 1e-4, "square centimetres"),
    unit("m2", &["m²", "m^2", "m2"], D::Area, 1.0, "square metres"),
    unit("N_mm", &["N/mm"], D::Stiffness, 1e3, "newtons per millimetre"),
    unit("lbf_in", &["lbf/in"], D::Stiffness, 175.12683524647636, "pounds-force per inch"),
    unit("kJ", &["kJ"], D::Energy, 1e3, "kilojoules"),
    unit("W", &["W"], D::Power, 1.0, "watts"),
    unit("kW", &["kW"], D::Power, 1e3, "kilowatts"),
    unit("hp", &["hp"], D::Power, 745.6998715822702, "mechanical horsepower"),
    unit("ps", &["PS"], D::Power, 735.49875, "metric horsepower"),
    unit("deg", &["deg", "°"], D::Angle, std::f64::consts::PI / 180.0, "degrees of arc"),
    unit(
        "mm3_Nm",
        &["mm³/(N·m)", "mm^3/(N*m)", "mm3/(Nm)"],
        D::WearConstant,
        1e-9,
        "cubic millimetres per newton and metre",
    ),
    unit("mm3_MJ", &["mm³/MJ", "mm^3/MJ", "mm3/MJ"], D::BurnConstant, 1e-15, "cubic millimetres per megajoule"),
    unit("per_hour", &["1/h"], D::PerSecond, 1.0 / HOUR, "per hour"),
    unit("percent", &["%"], D::Ratio, 0.01, "per cent"),
    unit("drops", &["drops"], D::Ratio, 1.0, "drops of oil, a count"),
];

/// All texts of units of this dimension, its SI unit last.
pub fn texts(dimension: Dimension) -> Vec<&'static str> {
    // No share or ratio is given in a count.
    let counts = |u: &Unit| u.dimension == Dimension::Ratio && u.scale == 1.0;
    let own = UNITS.iter().filter(|u| u.dimension == dimension && !counts(u));
    let mut all: Vec<_> = own.flat_map(|u| u.texts).copied().collect();
    if !all.contains(&dimension.unit()) && dimension != Dimension::Ratio {
        all.push(dimension.unit());
    }
    all
}

/// An SI value in a familiar unit with a handy number; days only where they are whole.
///
/// ```
/// use slipsoak_engine::parts::Dimension;
/// use slipsoak_engine::parts_file::show;
/// let said = [86400.0, 40.0 * 86400.0, 40.0 * 3600.0].map(|time| show(time, Dimension::Time));
/// assert_eq!(said, ["1 day", "40 days", "40 h"]);
/// ```
pub fn show(value: f64, dimension: Dimension) -> String {
    if dimension == Dimension::Ratio {
        return short(value);
    }
    // The largest of these units with a value of at least one; else the first of the dimension.
    let handy: &[&str] = match dimension {
        D::Mass => &["kg", "g"],
        D::Time if (value / DAY).fract() == 0.0 => &["days", "s"],
        D::Time => &["hours", "min", "s"],
        D::Length if value.abs() < 1e-4 && value != 0.0 => &["um"],
        D::Length if value.abs() >= 10.0 => &["m"],
        _ => &[],
    };
    let units = || UNITS.iter().filter(|u| u.dimension == dimension);
    let fits = |word: &str| units().find(|u| u.word == word && u.from_si(value).abs() >= 1.0);
    match handy.iter().find_map(|word| fits(word)).or_else(|| units().next()) {
        Some(u) if u.word == "days" && value != DAY => format!("{} days", short(u.from_si(value))),
        Some(u) => format!("{} {}", short(u.from_si(value)), u.texts[0]),
        None => format!("{} {}", short(value), dimension.unit()),
    }
}

/// A number with six significant digits, without trailing zeros.
pub fn short(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return format!("{value}");
    }
    let digits = (5 - value.abs().log10().floor() as i32).clamp(0, 300);
    if (1e-4..1e7).contains(&value.abs()) {
        let text = format!("{value:.*}", digits as usize);
        if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.').to_owned() } else { text }
    } else {
        let text = format!("{value:.5e}");
        let (mantissa, exponent) = text.split_once('e').unwrap_or((&text, "0"));
        format!("{}e{exponent}", mantissa.trim_end_matches('0').trim_end_matches('.'))
    }
}

//! Quantities as text: two significant digits for lives, both scales for temperatures and road speeds.

use slipsoak_engine::units::{MPH, RPM, ZERO_C};

/// No-break space.
const GAP: &str = "\u{a0}";

/// A number with this many significant digits, thousands separated from 10 000 on.
///
/// ```
/// use slipsoak_plots::words::say::figures;
/// assert_eq!(figures(27_951.0, 2), "28\u{a0}000");
/// assert_eq!(figures(4.73, 2), "4.7");
/// assert_eq!(figures(0.0996, 2), "0.1");
/// ```
pub fn figures(value: f64, figures: i32) -> String {
    if value == 0.0 || !value.is_finite() {
        return if value == 0.0 { "0".to_owned() } else { "–".to_owned() };
    }
    let step = 10f64.powi(value.abs().log10().floor() as i32 + 1 - figures);
    let rounded = (value / step).round() * step;
    let decimals = usize::try_from(-(step.log10().round() as i32)).unwrap_or(0);
    let text = format!("{:.decimals$}", rounded.abs());
    let text = if text.contains('.') { text.trim_end_matches('0').trim_end_matches('.') } else { &text };
    let (whole, part) = text.split_once('.').map_or((text, None), |(w, p)| (w, Some(p)));
    let whole = if whole.len() < 5 { whole.to_owned() } else { thousands(whole) };
    let part = part.map_or_else(String::new, |p| format!(".{p}"));
    format!("{}{whole}{part}", if rounded < 0.0 { "−" } else { "" })
}

/// Digits in groups of three.
pub(crate) fn thousands(digits: &str) -> String {
    let groups = digits.as_bytes().rchunks(3).rev();
    groups.map(|g| String::from_utf8_lossy(g).into_owned()).collect::<Vec<_>>().join(GAP)
}

/// Suitable unit of a duration, s: its seconds and its name.
fn unit(seconds: f64) -> (f64, &'static str) {
    match seconds {
        s if s < 59.5 => (1.0, "s"),
        s if s < 3570.0 => (60.0, "min"),
        _ => (3600.0, "h"),
    }
}

/// A duration with two significant digits: in seconds, from a minute on in minutes, from an hour on in hours.
///
/// ```
/// use slipsoak_plots::words::say::time;
/// assert_eq!(time(1320.0), "22\u{a0}min");
/// assert_eq!(time(832.0 * 3600.0), "830\u{a0}h");
/// ```
pub fn time(seconds: f64) -> String {
    let (scale, name) = unit(seconds);
    format!("{}{GAP}{name}", figures(seconds / scale, 2))
}

/// A range of durations; a common unit is given once.
///
/// ```
/// use slipsoak_plots::words::say::times;
/// assert_eq!(times(297.0 * 3600.0, 2329.0 * 3600.0), "300 to 2300\u{a0}h");
/// assert_eq!(times(1320.0, 7200.0), "22\u{a0}min to 2\u{a0}h");
/// ```
pub fn times(low: f64, high: f64) -> String {
    if unit(low).1 == unit(high).1 {
        format!("{} to {}", figures(low / unit(low).0, 2), time(high))
    } else {
        format!("{} to {}", time(low), time(high))
    }
}

/// A life: running hours, and calendar hours if they differ by more than a tenth.
///
/// ```
/// use slipsoak_plots::words::say::life;
/// assert_eq!(life(650.0 * 3600.0, 27_951.0 * 3600.0), "650\u{a0}h of running (28\u{a0}000\u{a0}h by the calendar)");
/// assert_eq!(life(1320.0, 1330.0), "22\u{a0}min of running");
/// ```
pub fn life(running: f64, calendar: f64) -> String {
    let whole = format!("{} of running", time(running));
    if calendar > 1.1 * running { format!("{whole} ({} by the calendar)", time(calendar)) } else { whole }
}

/// A temperature in both scales, from kelvin.
///
/// ```
/// assert_eq!(slipsoak_plots::words::say::temperature(523.15), "250\u{a0}°C (482\u{a0}°F)");
/// ```
pub fn temperature(kelvin: f64) -> String {
    let celsius = kelvin - ZERO_C;
    format!("{celsius:.0}{GAP}°C ({:.0}{GAP}°F)", 1.8 * celsius + 32.0)
}

/// A range of temperatures in both scales, from kelvin.
///
/// ```
/// assert_eq!(slipsoak_plots::words::say::temperatures(387.15, 495.15), "114 to 222\u{a0}°C (237 to 432\u{a0}°F)");
/// ```
pub fn temperatures(low: f64, high: f64) -> String {
    let (low, high) = (low - ZERO_C, high - ZERO_C);
    if format!("{low:.0}") == format!("{high:.0}") {
        return temperature(high + ZERO_C);
    }
    format!("{low:.0} to {high:.0}{GAP}°C ({:.0} to {:.0}{GAP}°F)", 1.8 * low + 32.0, 1.8 * high + 32.0)
}

/// A road speed in both units, from m/s.
///
/// ```
/// assert_eq!(slipsoak_plots::words::say::road_speed(25.0 / 3.6), "25\u{a0}km/h (16\u{a0}mph)");
/// ```
pub fn road_speed(speed: f64) -> String {
    format!("{}{GAP}km/h ({}{GAP}mph)", figures(3.6 * speed, 2), figures(speed / MPH, 2))
}

/// A rotational speed, from rad/s.
pub fn turns(speed: f64) -> String {
    format!("{:.0}{GAP}rpm", speed / RPM)
}

/// A share in whole per cent.
pub fn percent(share: f64) -> String {
    format!("{:.0}{GAP}%", 100.0 * share)
}

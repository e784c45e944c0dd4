//! Quantities as text: two significant digits for lives, both scales for temperatures and road speeds.

use crate::words::number::{figures, number};
use slipsoak_engine::units::{INCH, MPH, RPM, ZERO_C};

/// No-break space.
const GAP: &str = "\u{a0}";

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
/// assert_eq!(times(910.1 * 3600.0, 910.4 * 3600.0), "910\u{a0}h");
/// assert_eq!(times(1320.0, 7200.0), "22\u{a0}min to 2\u{a0}h");
/// ```
pub fn times(low: f64, high: f64) -> String {
    if time(low) == time(high) {
        time(high)
    } else if unit(low).1 == unit(high).1 {
        format!("{} to {}", figures(low / unit(low).0, 2), time(high))
    } else {
        format!("{} to {}", time(low), time(high))
    }
}

/// Longest life that is given in numbers, s.
pub(super) const LONG: f64 = 1e5 * 3600.0;

/// A life; one of more than 100 000 h, in which hardly anything wears, is not given in numbers.
///
/// ```
/// use slipsoak_plots::words::say::lasts;
/// assert_eq!(lasts(832.0 * 3600.0), "830\u{a0}h");
/// assert_eq!(lasts(7.9e10 * 3600.0), "over 100\u{a0}000\u{a0}h");
/// ```
pub fn lasts(seconds: f64) -> String {
    if seconds > LONG { format!("over {}", time(LONG)) } else { time(seconds) }
}

/// A life as estimated: about so long.
///
/// ```
/// use slipsoak_plots::words::say::about;
/// assert_eq!(about(832.0 * 3600.0), "about 830\u{a0}h");
/// assert_eq!(about(7.9e10 * 3600.0), "over 100\u{a0}000\u{a0}h");
/// ```
pub fn about(seconds: f64) -> String {
    if seconds > LONG { lasts(seconds) } else { format!("about {}", lasts(seconds)) }
}

/// A time by the calendar: in years from two years on; one of more than a century is not given in numbers.
///
/// ```
/// use slipsoak_plots::words::say::calendar;
/// assert_eq!(calendar(27_951.0 * 3600.0), "3.2\u{a0}years");
/// assert_eq!(calendar(1900.0 * 3600.0), "1900\u{a0}h");
/// assert_eq!(calendar(7e6 * 3600.0), "over 100\u{a0}years");
/// ```
pub fn calendar(seconds: f64) -> String {
    let years = seconds / YEAR;
    match years {
        ..YEARS => time(seconds),
        ..=CENTURY => format!("{}{GAP}years", figures(years, 2)),
        _ => format!("over {CENTURY}{GAP}years"),
    }
}

/// A year, s.
pub const YEAR: f64 = 8766.0 * 3600.0;
/// Number of years from which a time by the calendar is said in years.
pub const YEARS: f64 = 2.0;
/// Longest time by the calendar that is given in numbers, years.
const CENTURY: f64 = 100.0;

/// A life: running hours, and the time by the calendar if it is longer by more than a tenth.
///
/// ```
/// use slipsoak_plots::words::say::life;
/// assert_eq!(life(650.0 * 3600.0, 27_951.0 * 3600.0), "650\u{a0}h of running (3.2\u{a0}years by the calendar)");
/// assert_eq!(life(1320.0, 1330.0), "22\u{a0}min of running");
/// ```
pub fn life(running: f64, calendar: f64) -> String {
    let whole = format!("{} of running", lasts(running));
    if calendar > 1.1 * running && running <= LONG {
        format!("{whole} ({} by the calendar)", self::calendar(calendar))
    } else {
        whole
    }
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

/// A difference of temperatures, or a range of them, in both scales, from K: rounded once, to whole degrees Celsius.
///
/// ```
/// use slipsoak_plots::words::say::warmer;
/// assert_eq!(warmer(50.2, 50.2), "50\u{a0}°C (90\u{a0}°F)");
/// assert_eq!(warmer(9.4, 14.0), "9 to 14\u{a0}°C (16 to 25\u{a0}°F)");
/// ```
pub fn warmer(low: f64, high: f64) -> String {
    let (low, high) = (low.round(), high.round());
    let by = |scale: f64| {
        let [low, high] = [low, high].map(|rise| format!("{:.0}", scale * rise));
        if low == high { high } else { format!("{low} to {high}") }
    };
    format!("{}{GAP}°C ({}{GAP}°F)", by(1.0), by(1.8))
}

/// A road speed in both units, from m/s.
///
/// ```
/// assert_eq!(slipsoak_plots::words::say::road_speed(25.0 / 3.6), "25\u{a0}km/h (16\u{a0}mph)");
/// ```
pub fn road_speed(speed: f64) -> String {
    in_both(speed, 2)
}

/// Two road speeds, the second the higher, from m/s, with as many digits as it takes to tell them apart.
///
/// ```
/// use slipsoak_plots::words::say::road_speeds;
/// assert_eq!(road_speeds(5.556, 8.6), ["20\u{a0}km/h (12\u{a0}mph)", "31\u{a0}km/h (19\u{a0}mph)"]);
/// assert_eq!(road_speeds(5.556, 5.64), ["20\u{a0}km/h (12.4\u{a0}mph)", "20.3\u{a0}km/h (12.6\u{a0}mph)"]);
/// ```
pub fn road_speeds(low: f64, high: f64) -> [String; 2] {
    let alike =
        |digits| [3.6, 1.0 / MPH].iter().any(|unit| figures(unit * low, digits) == figures(unit * high, digits));
    let digits = (2..4).find(|digits| !alike(*digits)).unwrap_or(4);
    [low, high].map(|speed| in_both(speed, digits))
}

fn in_both(speed: f64, digits: i32) -> String {
    format!("{}{GAP}km/h ({}{GAP}mph)", figures(3.6 * speed, digits), figures(speed / MPH, digits))
}

/// A distance in both units, from m.
///
/// ```
/// assert_eq!(slipsoak_plots::words::say::distance(0.083), "8.3\u{a0}cm (3.3\u{a0}in)");
/// assert_eq!(slipsoak_plots::words::say::distance(2.5), "2.5\u{a0}m (8.2\u{a0}ft)");
/// assert_eq!(slipsoak_plots::words::say::distance(9100.0), "9.1\u{a0}km (5.7\u{a0}mi)");
/// ```
pub fn distance(metres: f64) -> String {
    let ((small, short), (large, long)) = match metres {
        ..1.0 => ((0.01, "cm"), (INCH, "in")),
        ..1000.0 => ((1.0, "m"), (12.0 * INCH, "ft")),
        _ => ((1000.0, "km"), (3600.0 * MPH, "mi")),
    };
    format!("{}{GAP}{short} ({}{GAP}{long})", figures(metres / small, 2), figures(metres / large, 2))
}

/// A rotational speed, from rad/s.
pub fn turns(speed: f64) -> String {
    format!("{:.0}{GAP}rpm", speed / RPM)
}

/// A share in whole per cent.
pub fn percent(share: f64) -> String {
    format!("{:.0}{GAP}%", 100.0 * share)
}

/// A share that is not none, in per cent.
pub(crate) fn some(share: f64) -> String {
    if share < 0.005 { format!("less than 1{GAP}%") } else { percent(share) }
}

/// A share in per cent with one decimal.
pub(crate) fn tenths_of_percent(share: f64) -> String {
    format!("{}{GAP}%", number(100.0 * share, 0.1))
}

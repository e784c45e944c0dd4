//! Numbers without a unit: suitable digits, thousands separated.

/// No-break space.
const GAP: &str = "\u{a0}";

/// A value with as many decimal places as a step needs, thousands separated.
pub fn number(value: f64, step: f64) -> String {
    let places = (-step.abs().max(1e-9).log10().floor()).clamp(0.0, 9.0) as usize;
    let text = format!("{:.places$}", value.abs());
    let (whole, rest) = text.split_at(text.find('.').unwrap_or(text.len()));
    let whole = if whole.len() > 4 { thousands(whole) } else { whole.to_owned() };
    let sign = if value < 0.0 && text.contains(|c: char| c.is_ascii_digit() && c != '0') { "−" } else { "" };
    format!("{sign}{whole}{rest}")
}

/// A number with this many significant digits, thousands separated from 10 000 on.
///
/// ```
/// use slipsoak_plots::words::number::figures;
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
fn thousands(digits: &str) -> String {
    let groups = digits.as_bytes().rchunks(3).rev();
    groups.map(|g| String::from_utf8_lossy(g).into_owned()).collect::<Vec<_>>().join(GAP)
}

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
    if power == 0 {
        return short(&number(value, step));
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_keep_three_digits() {
        for (value, words) in [(0.0, "0"), (0.05, "0.05"), (12.34, "12.3"), (1234.4, "1234"), (12345.6, "12\u{a0}346")]
        {
            assert_eq!(three(value), words);
        }
        assert_eq!(three(-1.234e-9), "−1.23\u{a0}×\u{a0}10⁻⁹");
        assert_eq!(column(&[0.02, 391.26, 0.0, f64::NAN], 4), ["0.0", "391.3", "0", "–"]);
        assert_eq!(power(4.2e-9, 1.0), "4\u{a0}×\u{a0}10⁻⁹");
        assert_eq!(power(9.7e-17, 1.0), "1\u{a0}×\u{a0}10⁻¹⁶");
        assert_eq!(power(1.2, 1.0), "1");
    }
}

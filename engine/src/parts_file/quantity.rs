//! Quantities as people write them: reading, and suggestions for a refused text.

use super::quantity_error::QuantityError;
use super::similar::nearest;
use super::spelling::unit_named;
use super::unit_words::{UNITS, Unit, short, show, texts};
use crate::parts::Dimension;

/// Value of a text such as `"110 g"` as a quantity of that dimension, SI.
///
/// ```
/// use slipsoak_engine::parts::Dimension;
/// assert_eq!(slipsoak_engine::parts_file::quantity("110 g", Dimension::Mass), Ok(0.11));
/// ```
pub fn read(text: &str, dimension: Dimension) -> Result<f64, QuantityError> {
    read_near(text, dimension, None)
}

/// As [`read`]; the example in a message is close to a usual value, SI.
pub fn read_near(text: &str, dimension: Dimension, usual: Option<f64>) -> Result<f64, QuantityError> {
    read_plain(text, dimension, usual).map_err(|refused| match refused {
        // The value alone, without the text around it.
        QuantityError::Number { .. } | QuantityError::Unit { .. } => mended(text, dimension, usual).unwrap_or(refused),
        other => other,
    })
}

/// End of the number at the start of a text.
fn number_end(text: &str) -> usize {
    let end = text.char_indices().find(|&(i, c)| {
        let exponent =
            matches!(c, 'e' | 'E') && text[i + 1..].starts_with(|n: char| n.is_ascii_digit() || n == '-' || n == '+');
        let sign = matches!(c, '-' | '+') && (i == 0 || text[..i].ends_with(['e', 'E']));
        !(c.is_ascii_digit() || c == '.' || sign || exponent)
    });
    end.map_or(text.len(), |(i, _)| i)
}

fn read_plain(text: &str, dimension: Dimension, usual: Option<f64>) -> Result<f64, QuantityError> {
    let trimmed = text.trim().trim_start_matches('+');
    let end = number_end(trimmed);
    let (number, given) = (&trimmed[..end], trimmed[end..].trim());
    let known = texts(dimension);
    let example = || {
        usual.filter(|v| *v != 0.0).map_or_else(
            || format!("1 {}", known.first().copied().unwrap_or("")).trim_end().to_owned(),
            |v| roughly(v, dimension),
        )
    };
    let unread = |_| QuantityError::Number { text: text.to_owned(), example: example() };
    let value: f64 = number.parse().map_err(unread)?;
    let infinite = || QuantityError::NotFinite { text: text.to_owned(), example: example() };
    let finite = |si: f64| if si.is_finite() { Ok(si) } else { Err(infinite()) };
    finite(value)?;
    if let Some(plain) = without_separators(number, &trimmed[end..]) {
        let besides = match read_plain(&plain, dimension, usual) {
            Err(why @ (QuantityError::Unit { .. } | QuantityError::Missing { .. })) => Some(Box::new(why)),
            _ => None,
        };
        // No unit that does not exist is advised.
        let plain = if besides.is_some() { plain[..number_end(&plain)].to_owned() } else { plain };
        return Err(QuantityError::Comma { text: text.to_owned(), plain, besides });
    }
    if given.is_empty() {
        if dimension == Dimension::Ratio {
            return Ok(value);
        }
        // Zero is near to nothing: it gets the unit in which the usual value is written.
        let written = || known.iter().copied().find(|unit| example().split(' ').nth(1) == Some(unit));
        let near = if value == 0.0 { written() } else { unit_near(value, dimension, usual) };
        let unit = near.or(known.first().copied()).unwrap_or("");
        let text = trimmed.to_owned();
        return Err(QuantityError::Missing { text, unit, known: known.join(", ") });
    }
    // A ratio of teeth or turns, "60:11", and a slope of "1 in 10".
    let signs = [":", "/", "in "];
    if let Some(other) = signs.iter().find_map(|sign| given.strip_prefix(sign)?.trim().parse::<f64>().ok())
        && dimension == Dimension::Ratio
        && other > 0.0
    {
        return finite(value / other);
    }
    // A whole number and a fraction: "1 5/8 in".
    if trimmed[end..].starts_with(' ')
        && let Some((above, below)) = given.split_once('/')
        && let (below, unit) = below.split_at(number_end(below))
        && let (Ok(above), Ok(below)) = (above.parse::<u32>(), below.parse::<u32>())
        && below > 0
    {
        return read_plain(&format!("{}{unit}", value + f64::from(above) / f64::from(below)), dimension, usual);
    }
    // A fraction: "1/16 in".
    if let Some(below) = given.strip_prefix('/')
        && let (below, rest) = below.split_at(number_end(below))
        && let Some(below) = below.parse::<f64>().ok().filter(|below| *below > 0.0)
    {
        let whole = read_plain(&format!("{}{rest}", value / below), dimension, usual);
        return whole.map_err(|refused| match refused {
            QuantityError::Missing { unit, known, .. } => {
                QuantityError::Missing { text: trimmed.to_owned(), unit, known }
            }
            other => other,
        });
    }
    if let Some(unit) = unit_named(given, dimension) {
        return finite(unit.si(value));
    }
    let plain = |t: &str| t.replace(['·', '*'], " ").replace('²', "^2").replace('³', "^3").replace('µ', "u");
    if plain(given) == plain(dimension.unit()) && dimension != Dimension::Ratio {
        return Ok(value);
    }
    if dimension == Dimension::Ratio && unit_named(given, Dimension::Angle).is_some() {
        let what = "is an angle; a slope is its rise over its run";
        let slope = format!("{} %", rounded(100.0 * value.to_radians().tan()));
        return Err(QuantityError::Around { text: text.to_owned(), what, plain: slope });
    }
    Err(QuantityError::Unit {
        given: given.to_owned(),
        suggestion: nearest(given, known.iter().copied()),
        known: if known.is_empty() { "none (a plain number)".to_owned() } else { known.join(", ") },
    })
}

/// The number without its decimal comma or thousands separators, if it has any.
fn without_separators(number: &str, rest: &str) -> Option<String> {
    const SEPARATORS: [char; 6] = [',', ' ', '\u{a0}', '\u{202f}', '\'', '’'];
    let sign = rest.chars().next().filter(|c| SEPARATORS.contains(c))?;
    let after = &rest[sign.len_utf8()..];
    let digits = after.chars().take_while(char::is_ascii_digit).count();
    match (sign, digits) {
        (_, 0) => None,
        // A number that begins with 0 has no thousands.
        (_, 3) if !number.trim_start_matches(['-', '+']).starts_with('0') => Some(format!("{number}{after}")),
        (',', _) => Some(format!("{number}.{after}")),
        _ => None,
    }
}

/// Suggestion for a text that contains a quantity among other text.
fn mended(text: &str, dimension: Dimension, usual: Option<f64>) -> Option<QuantityError> {
    let read = |text: &str| read_plain(text, dimension, usual).ok();
    let around = |what, plain: &str| QuantityError::Around { text: text.to_owned(), what, plain: plain.to_owned() };
    let trimmed = text.trim();
    // "≈1700 rpm", "± 75 rpm", "about 60 kg"
    let digit = trimmed.find(|c: char| c.is_ascii_digit())?;
    let alone = trimmed[digit..].trim();
    if digit > 0 && !trimmed[..digit].ends_with(['-', '.', '−']) && read(alone).is_some() {
        return Some(around("has something in front of its number", alone));
    }
    if trimmed[..digit].trim_end().ends_with('−') && read(alone).is_some() {
        return Some(around("has a long dash for its minus", &format!("-{alone}")));
    }
    // "1700–1800 rpm": the unit may be given once.
    for sign in ["–", "—", "…", "..", " to ", "-"] {
        let Some((least, most)) = trimmed.split_once(sign).filter(|parts| !parts.0.trim().is_empty()) else { continue };
        let unit = &most.trim()[number_end(most.trim())..];
        let Some(high) = read(most) else { continue };
        if let Some(low) =
            read(least).filter(|_| dimension != Dimension::Ratio).or_else(|| read(&format!("{least} {unit}")))
        {
            let named = UNITS.iter().find(|u| u.dimension == dimension && u.texts.contains(&unit.trim()));
            let halfway = f64::midpoint(low, high);
            let middle = named.map_or_else(
                || show(halfway, dimension),
                |named| format!("{} {}", short(named.from_si(halfway)), unit.trim()),
            );
            return Some(QuantityError::Span { text: text.to_owned(), middle });
        }
    }
    // "1 h 30 min"
    let number = number_end(trimmed);
    let next = trimmed[number..].find(|c: char| c.is_ascii_digit()).map(|at| number + at)?;
    let (first, second) = (read(&trimmed[..next])?, read(&trimmed[next..])?);
    let both = dimension != Dimension::Ratio && dimension != Dimension::Temperature;
    both.then(|| around("has two numbers", &show(first + second, dimension)))
}

/// A number with two significant digits.
fn rounded(value: f64) -> String {
    if value == 0.0 || !value.is_finite() {
        return short(value);
    }
    let place = 10f64.powf(value.abs().log10().floor() - 1.0);
    short((value / place).round() * place)
}

/// An approximate value in a familiar unit, as an example.
fn roughly(value: f64, dimension: Dimension) -> String {
    let text = show(value, dimension);
    let (number, unit) = text.split_at(number_end(&text));
    number.parse().map_or_else(|_| text.clone(), |number| rounded(number) + unit)
}

/// The unit in which this number is closest to a usual value, SI.
fn unit_near(value: f64, dimension: Dimension, usual: Option<f64>) -> Option<&'static str> {
    let usual = usual.filter(|usual| *usual != 0.0)?;
    let away = |u: &&Unit| (u.si(value) / usual).abs().ln().abs();
    let units = UNITS.iter().filter(|u| u.dimension == dimension);
    let unit = units.min_by(|a, b| away(a).total_cmp(&away(b)))?;
    let plural = unit.texts.iter().find(|text| value.abs() != 1.0 && text.strip_suffix('s') == Some(unit.texts[0]));
    Some(plural.unwrap_or(&unit.texts[0]))
}

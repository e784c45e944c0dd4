//! Heads of columns: a name, a unit and a standard deviation, as in `washer [thou] ± 0.4`, `Washer (mm)` or `speed_kmh`.

use crate::read::refusal::Refusal;
use crate::read::units::{UNITS, Unit, maybe, nearest};
use slipsoak_engine::parts::Dimension;
use slipsoak_engine::parts_file::unit_named;

/// One column's head.
#[derive(Clone, Debug)]
pub struct Head {
    /// name, without unit; of a column that is not used, as it stands there
    pub name: String,
    /// kind of quantity; none for text and counts
    pub dimension: Option<Dimension>,
    /// unit; none if the head has none
    pub unit: Option<&'static Unit>,
    /// standard deviation given after ±, SI
    pub deviation: Option<f64>,
    /// whether its times are dates or clock times, which were read as seconds
    pub dated: bool,
}

/// Other names of columns.
const CALLED: &[(&str, &[&str])] = &[
    ("time", &["timestamp", "date time", "datetime", "date and time", "clock", "elapsed", "elapsed time", "gps time"]),
    ("speed", &["velocity", "gps speed", "ground speed"]),
    ("clutch", &["cart", "kart", "trolley", "vehicle", "machine"]),
    ("hours", &["hour meter", "running hours", "running time", "hours run"]),
    ("launches", &["starts"]),
    ("washer", &["washer thickness"]),
    ("lining", &["lining thickness"]),
    ("engagement", &["engagement speed"]),
    ("band", &["drum", "drum band", "drum wall"]),
];

/// Names that loggers put before what a channel is fitted to: `TC1 drum`, `CH 2: bushing`.
const CHANNELS: [&str; 5] = ["thermocouple", "channel", "temp", "tc", "ch"];

/// Units of time that loggers write, beside those of the engine.
static MILLISECOND: Unit =
    Unit { word: "ms", texts: &["ms"], dimension: Dimension::Time, scale: 1e-3, offset: 0.0, meaning: "milliseconds" };

/// The unit of that dimension that a head or a cell names.
pub(crate) fn unit(given: &str, dimension: Dimension) -> Option<&'static Unit> {
    let milli = dimension == Dimension::Time && ["ms", "msec", "milliseconds"].contains(&given.to_lowercase().as_str());
    if milli { Some(&MILLISECOND) } else { unit_named(given, dimension) }
}

/// A name as it is compared: small letters, and blanks for dashes and underlines.
fn plain(name: &str) -> String {
    let spaced = name.to_lowercase().replace(['_', '-'], " ");
    spaced.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A plain name without the number of a logger's channel before it.
fn without_channel(name: &str) -> Option<&str> {
    let rest = CHANNELS.iter().find_map(|channel| name.strip_prefix(channel))?.trim_start();
    let behind = rest.trim_start_matches(|c: char| c.is_ascii_digit());
    (behind.len() < rest.len()).then(|| behind.trim_start_matches([':', '.', ' '])).filter(|name| !name.is_empty())
}

/// The known column of a name.
fn column<'k>(name: &str, known: &[&'k str]) -> Option<&'k str> {
    let name = plain(name);
    called(&name, known).or_else(|| called(without_channel(&name)?, known))
}

fn called<'k>(name: &str, known: &[&'k str]) -> Option<&'k str> {
    let other = CALLED.iter().find(|(_, others)| others.contains(&name)).map(|called| called.0);
    known.iter().copied().find(|k| plain(k) == name).or_else(|| known.iter().copied().find(|k| Some(*k) == other))
}

/// Name of a column that is not used, without its unit.
pub(crate) fn bare(cell: &str) -> &str {
    cell.split(['[', '(']).next().unwrap_or_default().trim()
}

/// The head of a known column; none if its name is not known. A time may have no unit here: its fields may say what they are.
pub(crate) fn head(
    (file, line): (&str, u64),
    cell: &str,
    known: &[&str],
    dimension: &impl Fn(&str) -> Option<Dimension>,
) -> Result<Option<Head>, Refusal> {
    let split = ["±", "+/-", "+-"].iter().find_map(|sign| cell.split_once(sign));
    let (front, deviation) = split.map_or((cell, None), |(front, deviation)| (front.trim(), Some(deviation.trim())));
    let named = |name: &str| column(name, known).map(|name| (name, dimension(name)));
    let bracket = front.split_once(['[', '(']);
    let found = match bracket {
        Some((name, unit)) => named(name).map(|found| (found, Some(unit.trim().trim_end_matches([']', ')']).trim()))),
        None => named(front).map(|found| (found, None)).or_else(|| trailing(front, &named)),
    };
    let Some(((name, kind), given)) = found else { return Ok(None) };
    let name = name.to_owned();
    let Some(kind) = kind else {
        return Ok(Some(Head { name, dimension: None, unit: None, deviation: None, dated: false }));
    };
    let unit = match given {
        Some(given) => match unit(given, kind) {
            Some(unit) => Some(unit),
            // Such as `time (UTC)`.
            None if kind == Dimension::Time && bracket.is_some() => None,
            None => {
                let fits = UNITS.iter().filter(|u| u.dimension == kind).flat_map(|u| u.texts).copied();
                let why = format!(
                    "`{given}` is no unit of it; {}{}",
                    write(&name, kind),
                    maybe(nearest(given, fits).as_deref())
                );
                return Err(Refusal::field(file, line, &name, why));
            }
        },
        // The name says it.
        None if name == "hours" => unit_named("h", kind),
        None => None,
    };
    let number = |text: &str| {
        let value = text.replacen(',', ".", 1).parse::<f64>().ok().filter(|v| *v > 0.0 && v.is_finite());
        value.zip(unit).map(|(v, unit)| v * unit.scale).ok_or_else(|| {
            let why =
                format!("`{text}` is no standard deviation; after ± stands a number above 0 in the column's unit");
            Refusal::field(file, line, &name, why)
        })
    };
    let deviation = deviation.map(number).transpose()?;
    Ok(Some(Head { name, dimension: Some(kind), unit, deviation, dated: false }))
}

/// A known column, with its kind of quantity.
type Named<'k> = (&'k str, Option<Dimension>);

/// A known column with its unit behind it, without brackets: `speed_kmh`, `washer, mm`.
fn trailing<'k, 'c>(
    front: &'c str,
    named: &impl Fn(&str) -> Option<Named<'k>>,
) -> Option<(Named<'k>, Option<&'c str>)> {
    front.match_indices([' ', '_', ',', '/']).find_map(|(at, _)| {
        let (name, rest) = (&front[..at], front[at + 1..].trim());
        let found = named(name)?;
        unit(rest, found.1?).map(|_| (found, Some(rest)))
    })
}

/// How to write a head, with the units that fit.
pub(crate) fn write(name: &str, kind: Dimension) -> String {
    let known = UNITS.iter().filter(|u| u.dimension == kind).map(|u| u.texts[0]).collect::<Vec<_>>().join(", ");
    let times = if kind == Dimension::Time { "; or write dates and clock times, 2024-05-01 09:30:00" } else { "" };
    format!("write `{name} [UNIT]` with one of: {known}{times}")
}

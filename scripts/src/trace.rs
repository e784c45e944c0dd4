//! Speed traces: CSV with the columns `time [s]` and `speed [km/h]` (or `[mph]`, `[m/s]`).

use crate::units::{UNITS, maybe, nearest};
use slipsoak_engine::duty::Trace;
use slipsoak_engine::parts::Dimension;
use thiserror::Error;

/// Greatest speed of a trace, m/s.
const FASTEST: f64 = slipsoak_engine::duty::SPEED.most;

/// Why a trace is refused. Rows count from 1, the head being row 1.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Malformed {
    /// the columns are not those expected
    #[error("{file}, row 1: the head is `{given}`; it must be `time [s],speed [km/h]` (or [mph] or [m/s])")]
    Head {
        /// file
        file: String,
        /// as given
        given: String,
    },
    /// an unknown unit in the head
    #[error("{file}, row 1: `{given}` is no unit of speed; use km/h, mph or m/s{}", maybe(suggestion.as_deref()))]
    Unit {
        /// file
        file: String,
        /// as given
        given: String,
        /// nearest
        suggestion: Option<String>,
    },
    /// a row that cannot be read
    #[error("{file}, row {row}: {why}; each row needs two numbers, time and speed")]
    Row {
        /// file
        file: String,
        /// row
        row: u64,
        /// what is wrong
        why: String,
    },
    /// time does not go on
    #[error("{file}, row {row}: the time {time} s does not come after {before} s; times must rise from 0 s")]
    Backwards {
        /// file
        file: String,
        /// row
        row: u64,
        /// time, s
        time: f64,
        /// time before, s
        before: f64,
    },
    /// a speed that no small machine has
    #[error("{file}, row {row}: the speed {speed} m/s is not between 0 and {FASTEST} m/s")]
    Speed {
        /// file
        file: String,
        /// row
        row: u64,
        /// speed, m/s
        speed: f64,
    },
    /// nothing to follow
    #[error("{file} has fewer than two rows of numbers; a trace needs a start and an end")]
    Short {
        /// file
        file: String,
    },
}

/// Reads a trace; `file` is its name for messages.
pub fn read(file: &str, text: &str) -> Result<Trace, Malformed> {
    let file = || file.to_owned();
    let mut reader =
        csv::ReaderBuilder::new().trim(csv::Trim::All).flexible(true).comment(Some(b'#')).from_reader(text.as_bytes());
    let head = reader
        .headers()
        .map_err(|e| Malformed::Row { file: file(), row: 1, why: e.to_string() })?
        .iter()
        .collect::<Vec<_>>()
        .join(",");
    let bad_head = || Malformed::Head { file: file(), given: head.clone() };
    let given = head.strip_prefix("time [s],speed [").and_then(|r| r.strip_suffix(']')).ok_or_else(bad_head)?;
    let speeds = || UNITS.iter().filter(|u| u.dimension == Dimension::Speed);
    let unit = speeds().find(|u| u.texts.contains(&given)).ok_or_else(|| Malformed::Unit {
        file: file(),
        given: given.to_owned(),
        suggestion: nearest(given, speeds().flat_map(|u| u.texts).copied()),
    })?;
    let mut points: Vec<(f64, f64)> = Vec::new();
    for line in reader.records() {
        let line =
            line.map_err(|e| Malformed::Row { file: file(), row: points.len() as u64 + 2, why: e.to_string() })?;
        let row = line.position().map_or(0, csv::Position::line);
        let bad = |why: String| Malformed::Row { file: file(), row, why };
        if line.len() != 2 {
            return Err(bad(format!("it has {} columns", line.len())));
        }
        let number = |i: usize| {
            line[i]
                .parse::<f64>()
                .ok()
                .filter(|v| v.is_finite())
                .ok_or_else(|| bad(format!("`{}` is not a number", &line[i])))
        };
        let (time, speed) = (number(0)?, unit.si(number(1)?));
        let before = points.last().map(|p| p.0);
        if before.is_some_and(|b| time <= b) || (before.is_none() && time != 0.0) {
            return Err(Malformed::Backwards { file: file(), row, time, before: before.unwrap_or(0.0) });
        }
        if !(0.0..=FASTEST).contains(&speed) {
            return Err(Malformed::Speed { file: file(), row, speed });
        }
        points.push((time, speed));
    }
    if points.len() < 2 {
        return Err(Malformed::Short { file: file() });
    }
    Ok(Trace { points })
}

//! Speed over time as a table: the columns `time [s]` and `speed [km/h]` (or [mph], [m/s]), for traces and recordings alike.

use crate::read::columns::Columns;
use crate::read::refusal::Refusal;
use crate::read::units::nearest;
use slipsoak_engine::parts::Dimension;

/// Known columns.
const KNOWN: [&str; 2] = ["time", "speed"];

/// A table of speeds as read.
pub(crate) struct Paced {
    /// the table
    pub columns: Columns,
    /// index of the time column
    pub time: usize,
    /// index of the speed column
    pub speed: usize,
    /// whether its times are dates or clock times
    pub dated: bool,
    /// line, time in s, speed in m/s
    pub points: Vec<(u64, f64, f64)>,
}

/// Reads a table of speeds; `file` is its name for messages. Unknown columns are left in `spare`.
pub(crate) fn read(file: &str, text: &str) -> Result<Paced, Refusal> {
    let dimension = |name: &str| Some(if name == "time" { Dimension::Time } else { Dimension::Speed });
    let columns = Columns::read(file, text, &KNOWN, dimension)?;
    // A missing column may be present under another name.
    let missing = |name: &str, what: &str| match columns.spare.iter().find(|s| {
        let known = KNOWN.into_iter().filter(|k| columns.place(k).is_none());
        nearest(s, known).is_some_and(|near| near == name)
    }) {
        Some(given) => columns.unknown(given, &KNOWN),
        None => columns.missing(what),
    };
    let time = columns.place("time").ok_or_else(|| missing("time", "the column `time [s]` is missing"))?;
    let positions = columns.spare.iter().any(|name| name.to_lowercase().starts_with("lat"));
    let no_speed = if positions {
        "positions are read from GPX alone; save the ride as GPX, or with a column `speed [m/s]`"
    } else {
        "the column `speed [km/h]` (or [mph], [m/s]) is missing"
    };
    let speed = columns.place("speed").ok_or_else(|| missing("speed", no_speed))?;
    let mut points = vec![];
    for row in &columns.rows {
        let number = |place: usize, what: &str| {
            let why = || format!("the {what} is blank; leave the whole line out: a straight line bridges it");
            columns.number(row, place)?.ok_or_else(|| Refusal::line(file, row.0, why()))
        };
        let (at, pace) = (number(time, "time")?, number(speed, "speed")?);
        if pace < 0.0 {
            return Err(columns.refuse(row.0, speed, pace, "is below 0; a speed has no direction"));
        }
        points.push((row.0, at, pace));
    }
    let dated = columns.heads[time].dated;
    Ok(Paced { columns, time, speed, dated, points })
}

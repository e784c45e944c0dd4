//! Speed traces: a table with the columns `time [s]` and `speed [km/h]` (or `[mph]`, `[m/s]`), followed exactly.

use crate::read::paced;
use crate::read::refusal::Refusal;
use crate::read::units::short;
use slipsoak_engine::duty::{SPEED, Trace};

/// Reads a trace, and notes on its table; `file` is its name for messages. In contrast to a recording nothing is cleaned;
/// irregular data are refused.
pub fn read(file: &str, text: &str) -> Result<(Trace, Vec<String>), Refusal> {
    let table = paced::read(file, text)?;
    let notes = table.columns.notes();
    let start = table.points.first().filter(|_| table.dated).map_or(0.0, |point| point.1);
    let mut points: Vec<(f64, f64)> = Vec::new();
    for (line, time, speed) in table.points {
        let time = time - start;
        let line_is = |why: String| Refusal::line(file, line, why);
        match points.last() {
            None if time != 0.0 => {
                return Err(line_is(format!("the time is {} s; a trace begins at 0 s", short(time))));
            }
            Some((before, _)) if time <= *before => {
                let (time, before) = (short(time), short(*before));
                return Err(line_is(format!("the time {time} s does not come after {before} s; times must rise")));
            }
            _ => {}
        }
        if speed > SPEED.most {
            let most = table.columns.heads[table.speed].unit.map_or(SPEED.most, |unit| unit.from_si(SPEED.most));
            let why = format!("is faster than a trace may be ({most:.0})");
            return Err(table.columns.refuse(line, table.speed, speed, &why));
        }
        points.push((time, speed));
    }
    if points.len() < 2 {
        let what = "holds no ride: it has fewer than two lines of numbers, and a trace needs a start and an end";
        return Err(Refusal::new(format!("{file} {what}")));
    }
    Ok((Trace { points }, notes))
}

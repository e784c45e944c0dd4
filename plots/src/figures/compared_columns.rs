//! The columns in which runs are compared: peak of the lining, life, oil fill, margin over the idle.

use crate::figures::table_column::{Cell, Column};
use crate::sheet::prelude::*;
use crate::words::compared::fill;
use crate::words::fault::{in_brief, unfit};
use crate::words::number::figures;
use crate::words::reading::{celsius, end, endless, fahrenheit};
use crate::words::say;
use slipsoak_engine::fault::Fault;
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::settings;
use slipsoak_engine::record::{Record, Run};
use slipsoak_engine::units::{HOUR, in_rpm};

/// Part of the axis of lives beyond the longest.
const BEYOND: f64 = 1.15;
/// Longest axis for the ranges of lives, over the longest life: a longer one would press the lives together.
const MOST: f64 = 2.2;
/// Times the shortest life by which the longest has to exceed it for a logarithmic axis: a linear one would not tell short lives apart.
const FAR: f64 = 100.0;
/// Room beyond the longest range.
const ROOM: f64 = 1.03;

/// Ends of an axis of lives, given with their ranges, h: at least so many times the longest life. Above zero, for a logarithmic axis, where the
/// longest is many times the shortest.
pub(super) fn span_of_lives(lives: &[(f64, Option<(f64, f64)>)], least: f64) -> (f64, f64) {
    let (shortest, longest) = extent(lives.iter().map(|life| life.0));
    let most = lives.iter().filter_map(|life| Some(life.1?.1)).fold(0.0, f64::max);
    if longest > FAR * shortest {
        let lows = lives.iter().map(|(life, range)| range.map_or(*life, |range| range.0.min(*life)));
        return (extent(lows.filter(|hours| *hours > 0.0)).0 / ROOM, ROOM * most.max(longest));
    }
    let longest = longest.max(1e-3);
    (0.0, (ROOM * most).clamp(least * longest, MOST * longest))
}

/// Peak of the lining, with its limit.
pub(super) fn peaks(runs: &[&Run]) -> Column {
    let cell = |run: &&Run| {
        let peak = celsius(Channel::LiningSurface.of(&run.overall.most));
        let limit = run.setting(&settings::limits::lining_most).map(celsius);
        let words = scales::pair(&format!("{peak:.0}"), &format!("{:.0}", fahrenheit(peak)));
        let said = scales::pair(&format!("{peak:.0} °C"), &format!("{:.0} °F", fahrenheit(peak)));
        let said = format!("lining up to {said}");
        Cell { value: peak, range: None, words, said, limit, over: limit.is_some_and(|limit| peak > limit) }
    };
    let cells: Vec<Cell> = runs.iter().map(cell).collect();
    let (low, high) = extent(cells.iter().flat_map(|cell| [Some(cell.value), cell.limit]).flatten());
    Column {
        heading: scales::titled("peak of the lining"),
        scale: rounded((low - 0.1 * (high - low), high + 0.05 * (high - low)), 3.0),
        limit: "limit",
        celsius: true,
        cells,
    }
}

/// Life with its range, and the first part at its limit.
pub(super) fn lives(record: &Record, runs: &[&Run]) -> Column {
    let cell = |run: &&Run| {
        let fault = unfit(record, run);
        // The life and the part that ends it say these.
        let told = matches!(fault, Some(Fault::Early | Fault::Grabs));
        let fault = fault.filter(|_| !told).map_or_else(String::new, |fault| format!(", {}", in_brief(fault)));
        let Some(end) = end(run) else {
            let words = format!("{}{fault}", endless(run));
            return Cell { value: f64::NAN, range: None, said: words.clone(), words, limit: None, over: false };
        };
        Cell {
            value: end.running / HOUR,
            range: end.range.map(|[low, high]| (low / HOUR, high / HOUR)),
            words: format!("{}, {}{fault}", say::lasts(end.running), end.brief()),
            said: format!("lasts {}, {}{fault}", say::lasts(end.running), end.brief()),
            limit: None,
            over: told || !fault.is_empty(),
        }
    };
    let cells: Vec<Cell> = runs.iter().map(cell).collect();
    let lives: Vec<_> = cells.iter().map(|cell| (cell.value, cell.range)).collect();
    let scale = span_of_lives(&lives, BEYOND);
    let heading =
        if scale.0 > 0.0 { "life, h the motor runs (log)" } else { "life, h the motor runs; first part worn out" };
    Column { heading: heading.to_owned(), scale, limit: "", celsius: false, cells }
}

/// Oil fill at the end, with the fill at which service is due.
pub(super) fn fills(runs: &[&Run]) -> Column {
    let cell = |run: &&Run| {
        let fill = fill(run).map_or(f64::NAN, |fill| 100.0 * fill);
        let due = run.setting(&settings::limits::oil_service).map(|fill| 100.0 * fill);
        let words = if fill.is_finite() { format!("{}\u{a0}%", figures(fill, 2)) } else { "–".to_owned() };
        let said = format!("oil fill {words}");
        Cell { value: fill, range: None, words, said, limit: due, over: due.is_some_and(|due| fill < due) }
    };
    let cells: Vec<Cell> = runs.iter().map(cell).collect();
    let (low, _) = extent(cells.iter().flat_map(|cell| [Some(cell.value), cell.limit]).flatten());
    Column {
        heading: "oil fill, %".to_owned(),
        scale: rounded((low - 3.0, 100.0), 2.0),
        limit: "due",
        celsius: false,
        cells,
    }
}

/// Difference of two needed margins that is not seen, rpm.
const SAME: f64 = 10.0;

/// Engagement over the nominal idle of the clutch hot, or relaxed for a season where that is nearer, with what is needed.
pub(super) fn margins(record: &Record, runs: &[&Run]) -> Column {
    let needed = |run: &&Run| {
        let idle = run.setting(&settings::motor::idle)?;
        Some(in_rpm(run.margin_needed(run.engagement.settled.unwrap_or(idle))?))
    };
    let (least, needed) = extent(runs.iter().filter_map(needed));
    let needed = Some(needed).filter(|needed| needed.is_finite() && needed - least < SAME);
    let limit = needed.or(Some(0.0));
    let cell = |run: &&Run| {
        let hot = Some(Channel::Engagement.of(&run.overall.least)).filter(|w| w.is_finite() && *w > 0.0);
        let engages = hot.into_iter().chain(run.engagement.settled).reduce(f64::min);
        let margin = engages.zip(run.setting(&settings::motor::idle)).map(|(engages, idle)| in_rpm(engages - idle));
        let near = matches!(unfit(record, run), Some(Fault::Drags | Fault::Near | Fault::Settles));
        let words =
            margin.map_or_else(|| "–".to_owned(), |margin| format!("{}{}", sign(margin), number(margin.abs(), 1.0)));
        let said = format!("hot and relaxed {words} rpm over the nominal idle");
        Cell {
            value: margin.unwrap_or(f64::NAN),
            range: None,
            words,
            said,
            limit,
            over: near || margin.is_some_and(|margin| margin < 0.0),
        }
    };
    let cells: Vec<Cell> = runs.iter().map(cell).collect();
    let scale = rounded(extent(cells.iter().map(|cell| cell.value).chain([0.0]).chain(needed)), 2.0);
    let limit = if needed.is_some() { "needed" } else { "idle" };
    Column { heading: "over idle, rpm".to_owned(), scale, limit, celsius: false, cells }
}

const fn sign(value: f64) -> &'static str {
    if value < 0.0 { "−" } else { "+" }
}

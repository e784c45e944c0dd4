//! Reading of inspections of worn clutches and of thermocouple logs.

use crate::read::columns::Columns;
use crate::read::mistaken_unit;
use crate::read::refusal::Refusal;
use crate::read::units::{limits, short, show};
use slipsoak_engine::calibrate::{Condition, GAUGE, Quantity, Read, Stretch, Thermometer, Under, When};
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::{Dimension, Machine};
use std::collections::BTreeMap;

/// Readings by the duty they are fitted with; none means the script's only repeated duty.
pub type Inspections = BTreeMap<Option<String>, Vec<Read>>;

/// Reads a table of inspections of clutches of a machine, and notes on it.
pub fn inspections(file: &str, text: &str, machine: &Machine) -> Result<(Inspections, Vec<String>), Refusal> {
    let quantities = Quantity::ALL.map(|q| (q.name(), q.row().dimension));
    let conditions = Condition::ALL.map(|c| (c.name(), c.row().dimension));
    let read: Vec<(&str, Dimension)> = quantities.into_iter().chain(conditions).collect();
    let known: Vec<&str> =
        ["clutch", "duty", "hours", "launches"].into_iter().chain(read.iter().map(|r| r.0)).collect();
    let dimension = |name: &str| match name {
        "hours" => Some(Dimension::Time),
        _ => read.iter().find(|r| r.0 == name).map(|r| r.1),
    };
    let columns = Columns::read(file, text, &known, dimension)?;
    let clutch = columns
        .place("clutch")
        .ok_or_else(|| columns.missing("the column `clutch` is missing; it names each clutch"))?;
    let (hours, launches) = (columns.place("hours"), columns.place("launches"));
    if hours.is_none() && launches.is_none() {
        return Err(columns
            .missing("a column `hours [h]` (by the hour meter) or `launches` is missing: when was it inspected?"));
    }
    let mut all = Inspections::new();
    for row in &columns.rows {
        let (line, fields) = row;
        let of = |why: &str| Refusal::line(file, *line, why);
        if fields[clutch].is_empty() {
            return Err(of("the clutch has no name; give it one, so that its readings are taken together"));
        }
        let count = |place: Option<usize>| place.map_or(Ok(None), |p| columns.number(row, p));
        let when = match (count(hours)?, count(launches)?) {
            (Some(time), _) => When::Running(time),
            (None, Some(count)) => When::Launches(count),
            (None, None) => return Err(of("neither hours nor launches are given; fill in one of them")),
        };
        let (When::Running(passed) | When::Launches(passed)) = when;
        if let Some(place) = hours.or(launches).filter(|_| !(0.0..=1e9).contains(&passed)) {
            return Err(columns.refuse(*line, place, passed, "cannot be: time and launches count from 0 when new"));
        }
        let duty = columns.place("duty").map(|p| fields[p].clone()).filter(|d| !d.is_empty());
        let group = all.entry(duty).or_default();
        let mut used = vec![];
        for quantity in Quantity::ALL {
            let about = quantity.row();
            let Some(place) = columns.place(quantity.name()) else { continue };
            let before = group.iter().rev().find(|r| r.clutch == fields[clutch] && r.quantity == quantity);
            if let Some(value) = columns.number(row, place)? {
                mistaken_unit::refuse(&columns, (row, place), (quantity, value), machine, before)?;
            }
            let Some(value) = within(&columns, row, place, (about.range, about.dimension))? else { continue };
            worn_through(&columns, (*line, place), (quantity, value), machine)?;
            let under = under(&columns, row, quantity)?;
            used.push(quantity);
            let again =
                |r: &Read| r.clutch == fields[clutch] && r.when == when && (r.quantity, r.under) == (quantity, under);
            if group.iter().any(again) {
                return Err(of(&format!(
                    "`{}` has a reading of its {quantity} at that time already; leave one out, or give the mean of both",
                    fields[clutch]
                )));
            }
            if let Some(clock) = hours.filter(|_| matches!(when, When::Running(_))).or(launches) {
                in_order(&columns, *line, clock, group, (&fields[clutch], quantity, when))?;
            }
            let gauge = columns.heads[place].deviation.unwrap_or_else(|| about.gauge.at(value));
            grows(&columns, *line, place, group, (&fields[clutch], quantity, value, gauge, when))?;
            group.push(Read { clutch: fields[clutch].clone(), when, quantity, under, value, gauge, line: *line });
        }
        unread(&columns, row, &used)?;
    }
    all.retain(|_, reads| !reads.is_empty());
    if all.is_empty() {
        if !read.iter().any(|(name, _)| columns.place(name).is_some()) {
            let known = read.iter().map(|r| r.0).collect::<Vec<_>>().join(", ");
            return Err(
                columns.missing(&format!("no column of a measurement is there, such as `washer [mm]`; known: {known}"))
            );
        }
        return Err(Refusal::new(format!("{file} holds no reading: every field of a measurement is blank")));
    }
    Ok((all, columns.notes()))
}

/// A number of a line, which lies within a range, SI; none if the field is blank.
fn within(
    columns: &Columns,
    row: &(u64, Vec<String>),
    place: usize,
    ((least, most), dimension): ((f64, f64), Dimension),
) -> Result<Option<f64>, Refusal> {
    let Some(value) = columns.number(row, place)? else { return Ok(None) };
    if (least..=most).contains(&value) {
        return Ok(Some(value));
    }
    let shown = |v: f64| match columns.heads[place].unit {
        Some(unit) => format!("{} {}", short(unit.from_si(v)), unit.texts[0]),
        None => show(v, dimension),
    };
    let [least, most] = limits((least, most), dimension, shown);
    let why = format!("cannot be: expected between {least} and {most}; is the unit right?");
    Err(columns.refuse(row.0, place, value, &why))
}

/// Refuses a bushing that has lost more than its wall.
fn worn_through(
    columns: &Columns,
    (line, place): (u64, usize),
    (quantity, value): (Quantity, f64),
    machine: &Machine,
) -> Result<(), Refusal> {
    let b = &machine.bushing;
    let wall = 0.5 * (b.outside - b.bore);
    if quantity != Quantity::Bushing || value - 2.0 * b.clearance <= wall {
        return Ok(());
    }
    let show = |value: f64| show(value, Dimension::Length);
    let why = format!(
        "cannot be: the wall of a new bushing is {} thick (bushing.outside, bushing.bore), its clearance {}; measure again, check the unit, or correct the machine",
        show(wall),
        show(2.0 * b.clearance)
    );
    Err(columns.refuse(line, place, value, &why))
}

/// The conditions of a quantity's reading, as a line states them.
fn under(columns: &Columns, row: &(u64, Vec<String>), quantity: Quantity) -> Result<Under, Refusal> {
    let mut under = Under::default();
    for condition in Condition::ALL.into_iter().filter(|c| c.row().of == quantity) {
        let of = condition.row();
        let value = match columns.place(condition.name()) {
            Some(place) => within(columns, row, place, (of.range, of.dimension))?,
            None => None,
        };
        let Some(value) = value else {
            let why = format!(
                "is read under a known `{condition}`; give it in a column `{condition} [{}]` beside it",
                of.dimension.unit()
            );
            return Err(Refusal::field(&columns.file, row.0, quantity.name(), why));
        };
        under = under.with(condition, value);
    }
    Ok(under)
}

/// Refuses a condition without a reading that depends on it.
fn unread(columns: &Columns, row: &(u64, Vec<String>), used: &[Quantity]) -> Result<(), Refusal> {
    for condition in Condition::ALL {
        let of = condition.row();
        let Some(place) = columns.place(condition.name()) else { continue };
        if columns.number(row, place)?.is_some() && !used.contains(&of.of) {
            let why = format!("belongs to a reading of `{}`, which this line does not hold", of.of);
            return Err(Refusal::field(&columns.file, row.0, condition.name(), why));
        }
    }
    Ok(())
}

/// Time or count of launches, if it is of the same kind as another.
fn passed(when: When, like: When) -> Option<f64> {
    match (when, like) {
        (When::Running(value), When::Running(_)) | (When::Launches(value), When::Launches(_)) => Some(value),
        _ => None,
    }
}

/// Refuses a time that turns back among the readings of a quantity of one clutch, which go up from line to line, or down: one of them is
/// mistyped, and its reading would be taken for wear in another time.
fn in_order(
    columns: &Columns,
    line: u64,
    clock: usize,
    before: &[Read],
    (clutch, quantity, when): (&str, Quantity, When),
) -> Result<(), Refusal> {
    let mut earlier = before.iter().rev().filter(|r| r.clutch == clutch && r.quantity == quantity);
    let times = [earlier.next(), earlier.next()].map(|read| read.and_then(|read| passed(read.when, when)));
    let ([Some(last), Some(first)], Some(now)) = (times, passed(when, when)) else { return Ok(()) };
    if (last - first) * (now - last) >= 0.0 {
        return Ok(());
    }
    let show = |value: f64| short(columns.heads[clock].unit.map_or(value, |unit| unit.from_si(value)));
    let why = format!(
        "comes after {} and {} of the same clutch: is one of them mistyped? Give its readings in the order of time",
        show(first),
        show(last)
    );
    Err(columns.refuse(line, clock, now, &why))
}

/// Refuses a part that is thicker than at an earlier inspection: it was replaced.
fn grows(
    columns: &Columns,
    line: u64,
    place: usize,
    before: &[Read],
    (clutch, quantity, value, gauge, when): (&str, Quantity, f64, f64, When),
) -> Result<(), Refusal> {
    let falls = quantity.row().running_in;
    let Some(last) = before.iter().rev().find(|r| r.clutch == clutch && r.quantity == quantity) else { return Ok(()) };
    let earlier = match (last.when, when) {
        (When::Running(a), When::Running(b)) | (When::Launches(a), When::Launches(b)) => a < b,
        _ => false,
    };
    if earlier && falls != 0.0 && falls.signum() * (value - last.value) > 5.0 * gauge {
        let shown = columns.heads[place].unit.map_or(last.value, |u| u.from_si(last.value));
        let why = format!(
            "comes after {}: it has grown back; if the part was replaced, give the clutch a new name from there on and count from 0",
            short(shown)
        );
        return Err(columns.refuse(line, place, value, &why));
    }
    Ok(())
}

/// Largest number of stretches of a channel; closer neighbours carry the same information.
const STRETCHES: usize = 40;

/// Reads a log of temperatures, and notes on it.
pub fn thermometers(file: &str, text: &str) -> Result<(Vec<Thermometer>, Vec<String>), Refusal> {
    let nodes: Vec<&str> = Channel::ALL.into_iter().filter(|c| c.is_temperature()).map(Channel::name).collect();
    let known: Vec<&str> = std::iter::once("time").chain(nodes.iter().copied()).collect();
    let dimension = |name: &str| Some(if name == "time" { Dimension::Time } else { Dimension::Temperature });
    let columns = Columns::read(file, text, &known, dimension)?;
    let clock = columns.place("time").ok_or_else(|| columns.missing("the column `time [s]` is missing"))?;
    if columns.heads.len() < 2 + columns.spare.len() {
        let what = format!("no column of temperatures is there, such as `bushing [°C]`; places: {}", nodes.join(", "));
        return Err(columns.missing(&what));
    }
    let dated = columns.heads[clock].dated;
    let mut start = None;
    let mut times = vec![];
    for row in &columns.rows {
        let blank = || Refusal::line(file, row.0, "the time is blank; every line of a log needs one");
        let time = columns.number(row, clock)?.ok_or_else(blank)?;
        let time = time - if dated { *start.get_or_insert(time) } else { 0.0 };
        if time < 0.0 || times.last().is_some_and(|last| time <= *last) {
            let why = "does not come after the line before; times count up from the start of the duty, from 0 or later";
            return Err(columns.refuse(row.0, clock, time, why));
        }
        times.push(time);
    }
    let end = times.last().copied().unwrap_or(0.0);
    let mut all = vec![];
    for (place, head) in
        columns.heads.iter().enumerate().filter(|(place, head)| *place != clock && head.dimension.is_some())
    {
        let mut stretches = vec![Stretch { times: vec![], value: 0.0 }; STRETCHES];
        let mut readings = 0;
        for (row, time) in columns.rows.iter().zip(&times) {
            let Some(value) = columns.number(row, place)? else { continue };
            if !(200.0..=1500.0).contains(&value) {
                return Err(columns.refuse(row.0, place, value, "is no temperature of a clutch; is the unit right?"));
            }
            let k = ((time / end.max(1e-9) * STRETCHES as f64) as usize).min(STRETCHES - 1);
            stretches[k].times.push(*time);
            stretches[k].value += value;
            readings += 1;
        }
        stretches.retain(|s| !s.times.is_empty());
        for stretch in &mut stretches {
            stretch.value /= stretch.times.len() as f64;
        }
        if stretches.len() > 1 {
            let gauge = head.deviation.unwrap_or(GAUGE);
            let node = Channel::named(&head.name);
            all.extend(node.map(|node| Thermometer { node, stretches, readings, gauge }));
        }
    }
    if all.is_empty() {
        return Err(Refusal::new(format!("{file} holds no channel with two readings or more")));
    }
    Ok((all, columns.notes()))
}

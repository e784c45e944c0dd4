//! The command `settings`: every setting of a machine, with its range and how sure its default is.

use crate::command::terminal::set_in;
use crate::read::part_schema::named;
use crate::read::refusal::Refusal;
use crate::read::units::{between, maybe, nearest, show};
use slipsoak_engine::parts::PARAMETERS;
use slipsoak_plots::page::lines::strong;
use std::collections::BTreeSet;

/// The text of one group of settings, of those with a word in their names, or of all.
pub fn of_group(group: Option<&str>) -> Result<String, Refusal> {
    let Some(group) = group else { return Ok(text(|_| true)) };
    let groups: BTreeSet<&str> = PARAMETERS.iter().filter_map(|p| p.path.split('.').next()).collect();
    if !groups.contains(group) {
        // A word of a name, as in `wheel`.
        let word = group.to_lowercase();
        let told = |path: &str| {
            let name = PARAMETERS.iter().find(|p| p.path == path).map_or("", |p| p.name);
            path.split(['.', '_']).chain(name.split(' ')).any(|part| part == word)
        };
        if PARAMETERS.iter().any(|p| told(p.path)) {
            return Ok(text(told));
        }
        let known = groups.iter().copied().collect::<Vec<_>>().join(", ");
        let like = maybe(nearest(group, groups.iter().copied()).as_deref());
        return Err(Refusal::of_command(format!("there is no group of settings `{group}`{like}; the groups: {known}")));
    }
    Ok(text(|path| path.split('.').next() == Some(group)))
}

/// Every setting.
pub fn every() -> String {
    text(|_| true)
}

/// A line of numbers for each of these settings, with its meaning below, then what is chosen by name.
fn text(wanted: impl Fn(&str) -> bool) -> String {
    // Lines break between columns alone.
    let line = |name: &str, default: &str, range: &str, sure: &str| {
        let [default, range, sure] = [default, range, sure].map(|cell| cell.replace(' ', "\u{a0}"));
        format!("{name:\u{a0}<27} {default:\u{a0}<15} {range:\u{a0}<26} {sure}")
    };
    let mut text = set_in(&strong(&line("setting", "default", "from, to", "how sure")), 0, 2);
    for p in PARAMETERS.iter().filter(|p| wanted(p.path)) {
        let [least, most] = between((p.least, p.most), p.dimension);
        // The unit is given once if both are the same.
        let unit = |value: &str| value.split_once(' ').map(|(_, unit)| unit.to_owned());
        let from = if unit(&least) == unit(&most) { least.split(' ').next().unwrap_or_default() } else { &least };
        let sure = format!("{:?}", p.confidence).to_lowercase();
        let range = format!("{from} to {most}");
        text += &set_in(&line(p.path, &show(p.default, p.dimension), &range, &sure), 0, 2);
        text += &set_in(p.meaning, 4, 4);
    }
    let torque = ("motor.torque", vec!["[[\"1800 rpm\", \"10.7 N*m\"], …]"], "full-throttle torque at rising speeds");
    let texts =
        [("name", vec!["\"my cart\""], "name of the machine"), ("about", vec!["\"…\""], "description for readers")];
    let chosen = named().into_iter().chain([torque]).chain(texts);
    for (name, values, meaning) in chosen.filter(|row| wanted(row.0)) {
        text += &set_in(&format!("{name}: {}", values.join(", ")), 0, 2);
        text += &set_in(meaning, 4, 4);
    }
    text
}

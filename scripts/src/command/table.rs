//! Tables for the terminal.

use crate::command::terminal::{WIDTH, alarm, set_in, strong, wrapped};
use crate::read::units::{celsius, fahrenheit, rpm, show};
use slipsoak_engine::parts::PARAMETERS;
use slipsoak_plots::words::cautions::{ALWAYS, Caution};
use unicode_width::UnicodeWidthStr;

/// Length of a bar, characters.
pub(crate) const BAR: usize = 5;
/// Cell without a value.
pub(crate) const NONE: &str = "–";

/// The cautions that always apply, as a paragraph.
pub fn cautions() -> String {
    let all: Vec<&str> = ALWAYS.iter().map(|caution| caution.text()).collect();
    wrapped(&format!("Caution: {}", all.join(" ")), 0).replacen("Caution", &alarm("Caution"), 1)
}

/// Cautions that apply to an answer, to print beside it.
pub fn beside(applying: &[Caution]) -> String {
    applying.iter().map(|caution| set_in(&format!("! {}", caution.text()), 2, 4)).collect()
}

/// A distinguishing name for each run, and what the runs have in common, for the line above the table.
pub(crate) fn names(all: &[(&str, &str)]) -> (Vec<String>, &'static str, Vec<String>) {
    let Some(first) = all.first() else { return (vec![], "machine", vec![]) };
    match (all.iter().all(|n| n.0 == first.0), all.iter().all(|n| n.1 == first.1)) {
        (false, true) => (all.iter().map(|n| n.0.to_owned()).collect(), "machine", vec![first.1.to_owned()]),
        (true, false) => (all.iter().map(|n| n.1.to_owned()).collect(), "duty", vec![first.0.to_owned()]),
        (true, true) => (all.iter().map(|n| n.0.to_owned()).collect(), "machine", vec![first.1.to_owned()]),
        (false, false) => (all.iter().map(|n| format!("{}, {}", n.0, n.1)).collect(), "machine, duty", vec![]),
    }
}

/// A sentence with the names it concerns, if there is more than one of a kind.
pub(crate) fn of_whom(names: &[&str], all: usize, kind: &str, sentence: &str) -> String {
    match names.len() {
        _ if all == 1 => sentence.to_owned(),
        n if n == all => format!("every {kind}: {sentence}"),
        _ => format!("{}: {sentence}", names.join("; ")),
    }
}

/// A title, followed by what all rows have in common, on the same line if there is room.
pub(crate) fn headed(title: &str, shared: &[String]) -> String {
    let about = shared.join(", ");
    if title.is_empty() {
        return wrapped(&about, 0);
    }
    if about.is_empty() || title.width() + about.width() + 3 <= WIDTH {
        let behind = if about.is_empty() { String::new() } else { format!(" ({about})") };
        return format!("{}{behind}\n", strong(title));
    }
    format!("{}\n{}", strong(wrapped(title, 0).trim_end()), wrapped(&about, 0))
}

/// A temperature in °C, followed by °F in brackets.
pub(crate) fn in_brackets(kelvin: f64) -> String {
    format!("{:.0} ({:.0})", celsius(kelvin), fahrenheit(kelvin))
}

/// A temperature in °C and °F.
pub fn both(kelvin: f64) -> String {
    format!("{:.0} °C / {:.0} °F", celsius(kelvin), fahrenheit(kelvin))
}

/// A rotational speed.
pub fn turns(speed: f64) -> String {
    format!("{:.0} rpm", rpm(speed))
}

/// Every setting of a machine: a line of numbers, with its meaning below.
pub fn settings() -> String {
    let line =
        |name: &str, default: &str, range: &str, sure: &str| format!("{name:<27} {default:<15} {range:<26} {sure}");
    let mut text = format!("{}\n", strong(&line("setting", "default", "from, to", "how sure")));
    for p in PARAMETERS {
        let [least, most] = [p.least, p.most].map(|v| show(v, p.dimension));
        // The unit is given once if both are the same.
        let unit = |value: &str| value.split_once(' ').map(|(_, unit)| unit.to_owned());
        let from = if unit(&least) == unit(&most) { least.split(' ').next().unwrap_or_default() } else { &least };
        let sure = format!("{:?}", p.confidence).to_lowercase();
        text += &line(p.path, &show(p.default, p.dimension), &format!("{from} to {most}"), &sure);
        text.push('\n');
        text += &set_in(p.meaning, 4, 4);
    }
    text
}

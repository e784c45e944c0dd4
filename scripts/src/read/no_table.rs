//! Texts that are given as tables and are none: prose, and XML under another name than that of a ride.

use crate::read::delimited::separator;
use crate::read::heads;
use crate::read::units::UNITS;
use slipsoak_engine::parts::Dimension;

/// Lines behind the head that are looked at, and the least share of them that hold numbers in a table.
const LINES: usize = 40;
const SHARE: f64 = 0.2;
/// Largest number of columns of the example.
const COLUMNS: usize = 3;
/// Longest part of a first line that is shown, characters.
const SHOWN: usize = 40;

/// What a text is instead of a table with one of these columns, and how such a table begins; none of what looks like a table.
pub(crate) fn why(
    file: &str,
    text: &str,
    known: &[&str],
    dimension: &impl Fn(&str) -> Option<Dimension>,
) -> Option<String> {
    let text = text.trim_start_matches('\u{feff}');
    if text.trim_start().starts_with('<') {
        return Some(format!("{file} is XML and no table; a ride recorded as GPX is read if its name ends in .gpx"));
    }
    let mark = char::from(separator(text));
    let mut lines = text.lines().map(str::trim).filter(|line| !line.is_empty() && !line.starts_with('#'));
    let head = lines.next()?;
    if head.split(mark).any(|cell| !matches!(heads::head((file, 1), cell.trim(), known, dimension), Ok(None))) {
        return None;
    }
    let numeric = |line: &str| {
        let cells = || line.split(mark).map(str::trim).filter(|cell| !cell.is_empty());
        2 * cells().filter(|cell| number(cell)).count() >= cells().count().max(1)
    };
    let looked: Vec<&str> = std::iter::once(head).chain(lines.take(LINES)).collect();
    let numbers = looked.iter().filter(|line| numeric(line)).count();
    (numbers as f64 <= SHARE * looked.len() as f64).then(|| {
        let first = text.lines().map(str::trim).find(|line| !line.is_empty()).unwrap_or_default();
        let cut = if first.chars().count() > SHOWN { "…" } else { "" };
        let (first, ride) = (
            first.chars().take(SHOWN).collect::<String>(),
            if known.contains(&"speed") { "a ride recorded as GPX, or " } else { "" },
        );
        format!(
            "{file} is no table: it begins with “{first}{cut}”, and hardly a line holds numbers; wanted is {ride}a table with a first line such as `{}`, then one line for each reading",
            example(known, dimension)
        )
    })
}

/// Whether a cell is mostly figures: a number or a time.
fn number(cell: &str) -> bool {
    let of_number = |c: &char| c.is_ascii_digit() || ".,:-+".contains(*c);
    cell.contains(|c: char| c.is_ascii_digit()) && 2 * cell.chars().filter(of_number).count() >= cell.chars().count()
}

/// The first line of such a table.
fn example(known: &[&str], dimension: &impl Fn(&str) -> Option<Dimension>) -> String {
    let column = |name: &str| {
        let kind = dimension(name)?;
        let unit = UNITS.iter().find(|unit| unit.dimension == kind && (name != "hours" || unit.texts[0] == "h"))?;
        Some(format!("{name} [{}]", unit.texts[0]))
    };
    let all =
        known.iter().enumerate().filter_map(|(k, name)| column(name).or_else(|| (k == 0).then(|| (*name).to_owned())));
    all.take(COLUMNS).collect::<Vec<_>>().join(",")
}

#[cfg(test)]
mod tests {
    use super::why;
    use slipsoak_engine::parts::Dimension;

    fn of(text: &str) -> Option<String> {
        let kind = |name: &str| Some(if name == "time" { Dimension::Time } else { Dimension::Speed });
        why("ride.txt", text, &["time", "speed"], &kind)
    }

    #[test]
    fn prose_and_xml_are_no_tables_and_tables_with_odd_heads_are() {
        for (text, said) in [
            ("# Notes\n\nWe rode, at 20 km/h, up the hill.\nIt smelt.\n", "it begins with “# Notes”"),
            ("Our ride of last Sunday, which went rather well.\n", "“Our ride of last Sunday, which went rath…”"),
            ("fn day(ride) {\n    ride.idle(30.s);\n}\n", "a first line such as `time [s],speed [km/h]`"),
            ("<?xml version=\"1.0\"?>\n<gpx/>", "GPX is read if its name ends in .gpx"),
        ] {
            let why = of(text).expect(said);
            assert!(why.contains(said), "{why}");
        }
        for text in [
            "time [s],speed [km/h]\n",
            "speed,note\nfast,up the hill\n",
            "zeit;tempo\n0;0\n1;3,5\n",
            "0,0\n1,3.5\n",
            "at,pace,where\n09:30:00,3.5,gate\n",
        ] {
            assert_eq!(of(text), None, "{text}");
        }
    }
}

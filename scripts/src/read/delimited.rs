//! Tables as text: lines of cells, between commas, semicolons or tabs.

use crate::read::refusal::Refusal;
use std::fmt::Display;

/// One line: its number, and its cells.
pub type Line = (u64, Vec<String>);

/// Reads the lines of a table, of which the first is the head; every line has as many cells. Blank cells beyond them, as
/// spreadsheets leave, are dropped.
pub(crate) fn lines(file: &str, text: &str) -> Result<Vec<Line>, Refusal> {
    let text = text.trim_start_matches('\u{feff}');
    let named = text.lines().next().and_then(named_mark);
    let mark = separator(text);
    let mut reader = csv::ReaderBuilder::new()
        .delimiter(mark)
        .has_headers(false)
        .trim(csv::Trim::All)
        .flexible(true)
        .comment(Some(b'#'))
        .from_reader(text.as_bytes());
    let mut lines: Vec<Line> = vec![];
    for record in reader.records() {
        let record = record.map_err(|e| uneven(file, e.position().map_or(0, csv::Position::line), &e))?;
        let line = record.position().map_or(0, csv::Position::line);
        lines.push((line, record.iter().map(str::to_owned).collect()));
    }
    if named.is_some() {
        lines.remove(0);
    }
    lines.retain(|(_, cells)| cells.iter().any(|cell| !cell.is_empty()));
    let Some((_, head)) = lines.first_mut() else {
        return Err(Refusal::new(format!("{file} holds no head: its first line names the columns")));
    };
    head.truncate(head.iter().rposition(|cell| !cell.is_empty()).map_or(0, |last| last + 1));
    let width = head.len();
    for (line, cells) in &mut lines {
        let blank = cells.iter().skip(width).all(String::is_empty);
        if cells.len() < width || !blank {
            let other = |sign: u8| cells.len() == 1 && sign != mark && cells[0].bytes().any(|b| b == sign);
            let comma = if mark == b',' && cells.len() > width {
                " (with decimal commas, put semicolons between the columns)"
            } else if [b';', b'\t', b','].into_iter().any(other) {
                " (its separator is not the head's)"
            } else {
                ""
            };
            let plural = if cells.len() == 1 { "" } else { "s" };
            let why = format!("it has {} column{plural}, the head {width}{comma}", cells.len());
            return Err(uneven(file, *line, &why));
        }
        cells.truncate(width);
    }
    Ok(lines)
}

/// The separator of a table.
pub(crate) fn separator(text: &str) -> u8 {
    let text = text.trim_start_matches('\u{feff}');
    text.lines().next().and_then(named_mark).unwrap_or_else(|| mark(text))
}

fn uneven(file: &str, line: u64, why: &impl Display) -> Refusal {
    Refusal::line(file, line, format!("{why}; every line needs as many columns as the head"))
}

/// The separator that a first line such as `sep=;` names, as some spreadsheets write it.
fn named_mark(line: &str) -> Option<u8> {
    match line.trim().trim_matches('"').strip_prefix("sep=")?.as_bytes() {
        [mark] => Some(*mark),
        _ => None,
    }
}

/// A semicolon or a tab if the head contains one, as spreadsheets with a decimal comma write it, else a comma.
fn mark(text: &str) -> u8 {
    let head = text.lines().map(str::trim).find(|l| !l.is_empty() && !l.starts_with('#')).unwrap_or_default();
    [b';', b'\t'].into_iter().find(|mark| head.bytes().any(|b| b == *mark)).unwrap_or(b',')
}

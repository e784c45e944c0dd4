//! Tables of measurements: CSV with a name and unit in the head of each column, for example `washer [thou] ± 0.4`.

use crate::read::refusal::Refusal;
use crate::read::units::{UNITS, Unit, maybe, nearest};
use slipsoak_engine::parts::Dimension;
use std::fmt::Display;

/// One column's head.
#[derive(Clone, Debug)]
pub struct Head {
    /// name, without unit
    pub name: String,
    /// unit; none if the head has none
    pub unit: Option<&'static Unit>,
    /// standard deviation given after ±, SI
    pub deviation: Option<f64>,
}

/// A table as read: heads, and each line with its number.
#[derive(Debug)]
pub struct Columns {
    /// name for messages
    pub file: String,
    /// line of the head
    pub line: u64,
    /// heads in order
    pub heads: Vec<Head>,
    /// lines: line number and fields
    pub rows: Vec<(u64, Vec<String>)>,
    /// heads of unused columns
    pub spare: Vec<String>,
    decimal_comma: bool,
}

impl Columns {
    /// Reads a table. `dimension` gives the kind of quantity of a column by its name; none for text and counts.
    pub fn read(
        file: &str,
        text: &str,
        known: &[&str],
        dimension: impl Fn(&str) -> Option<Dimension>,
    ) -> Result<Self, Refusal> {
        let mut columns = Self::with_spare(file, text, known, dimension)?;
        let Some(given) = columns.spare.pop() else { return Ok(columns) };
        Err(columns.unknown(&given, known))
    }

    /// The error for an unknown column.
    pub fn unknown(&self, given: &str, known: &[&str]) -> Refusal {
        let suggestion = nearest(given, known.iter().copied());
        let (near, known) = (maybe(suggestion.as_deref()), known.join(", "));
        Refusal::line(&self.file, self.line, format!("there is no column `{given}`{near}; columns: {known}"))
    }

    /// As [`read`](Self::read), but unknown columns are allowed and ignored.
    pub fn with_spare(
        file: &str,
        text: &str,
        known: &[&str],
        dimension: impl Fn(&str) -> Option<Dimension>,
    ) -> Result<Self, Refusal> {
        let file = file.to_owned();
        let between = delimiter(text);
        let mut reader = csv::ReaderBuilder::new()
            .delimiter(between)
            .has_headers(false)
            .trim(csv::Trim::All)
            .flexible(true)
            .comment(Some(b'#'))
            .from_reader(text.trim_start_matches('\u{feff}').as_bytes());
        let mut rows = vec![];
        for record in reader.records() {
            let record = record.map_err(|e| uneven(&file, e.position().map_or(0, csv::Position::line), &e))?;
            let line = record.position().map_or(0, csv::Position::line);
            rows.push((line, record.iter().map(str::to_owned).collect::<Vec<_>>()));
        }
        if rows.is_empty() {
            return Err(Refusal::new(format!("{file} holds no head: its first line names the columns")));
        }
        let (line, head) = rows.remove(0);
        let (mut heads, mut spare): (Vec<Head>, Vec<String>) = (vec![], vec![]);
        for cell in &head {
            let Some(one) = read_head(&file, line, cell, known, &dimension)? else {
                let name = cell.split('[').next().unwrap_or_default().trim().to_owned();
                heads.push(Head { name: cell.clone(), unit: None, deviation: None });
                spare.push(name);
                continue;
            };
            if heads.iter().any(|h| h.name == one.name) {
                let why = format!("the column `{}` is there twice; leave one out", one.name);
                return Err(Refusal::line(&file, line, why));
            }
            heads.push(one);
        }
        for (line, fields) in &rows {
            if fields.len() != heads.len() {
                let comma = between == b',' && fields.len() > heads.len();
                let comma = if comma { " (with decimal commas, put semicolons between the columns)" } else { "" };
                let why = format!("it has {} columns, the head {}{comma}", fields.len(), heads.len());
                return Err(uneven(&file, *line, &why));
            }
        }
        Ok(Self { file, line, heads, rows, spare, decimal_comma: between != b',' })
    }

    /// Index of a column.
    pub fn place(&self, name: &str) -> Option<usize> {
        self.heads.iter().position(|h| h.name == name)
    }

    /// A number of a line, SI; none if the field is blank.
    pub fn number(&self, (line, fields): &(u64, Vec<String>), place: usize) -> Result<Option<f64>, Refusal> {
        let (field, head) = (&fields[place], &self.heads[place]);
        if field.is_empty() {
            return Ok(None);
        }
        let plain = if self.decimal_comma { field.replacen(',', ".", 1) } else { field.clone() };
        let value = plain.parse::<f64>().ok().filter(|v| v.is_finite()).ok_or_else(|| {
            let why = format!(
                "`{field}` is not a number; write it with a decimal point and without its unit, or leave the field blank"
            );
            Refusal::field(&self.file, *line, &head.name, why)
        })?;
        Ok(Some(head.unit.map_or(value, |u| u.si(value))))
    }

    /// The error for a value, in the column's own unit.
    pub fn refuse(&self, line: u64, place: usize, value: f64, why: &str) -> Refusal {
        let head = &self.heads[place];
        let shown = head.unit.map_or(value, |u| u.from_si(value));
        let (value, unit) = ((shown * 1e9).round() / 1e9, head.unit.map_or("", |u| u.texts[0]));
        Refusal::field(&self.file, line, &head.name, format!("{value} {unit} {why}"))
    }

    /// The error for a missing column.
    pub fn missing(&self, what: &str) -> Refusal {
        Refusal::line(&self.file, self.line, what)
    }
}

fn uneven(file: &str, line: u64, why: &impl Display) -> Refusal {
    Refusal::line(file, line, format!("{why}; every line needs as many columns as the head"))
}

/// Column separator: a semicolon or a tab if the head contains one, as spreadsheets with a decimal comma write it, else
/// a comma.
pub(crate) fn delimiter(text: &str) -> u8 {
    let head = text.lines().map(str::trim).find(|l| !l.is_empty() && !l.starts_with('#')).unwrap_or_default();
    [b';', b'\t'].into_iter().find(|mark| head.bytes().any(|b| b == *mark)).unwrap_or(b',')
}

/// Head of one column; none if its name is not known.
fn read_head(
    file: &str,
    line: u64,
    cell: &str,
    known: &[&str],
    dimension: &impl Fn(&str) -> Option<Dimension>,
) -> Result<Option<Head>, Refusal> {
    let (front, deviation) = match cell.split_once('±').or_else(|| cell.split_once("+-")) {
        Some((front, deviation)) => (front.trim(), Some(deviation.trim())),
        None => (cell, None),
    };
    let (name, unit) = match front.split_once('[') {
        Some((name, unit)) => (name.trim(), Some(unit.trim().trim_end_matches(']').trim())),
        None => (front.trim(), None),
    };
    let Some(name) = known.iter().copied().find(|k| k.to_lowercase() == name.to_lowercase()) else { return Ok(None) };
    let Some(kind) = dimension(name) else {
        return Ok(Some(Head { name: name.to_owned(), unit: None, deviation: None }));
    };
    let fits = || UNITS.iter().filter(|u| u.dimension == kind);
    let bad = |given: &str, suggestion: Option<String>| {
        let known = fits().map(|u| u.texts[0]).collect::<Vec<_>>().join(", ");
        let why = format!("{given}; write `{name} [UNIT]` with one of: {known}{}", maybe(suggestion.as_deref()));
        Refusal::field(file, line, name, why)
    };
    let given = unit.ok_or_else(|| bad("the head gives no unit", None))?;
    let unit = fits().find(|u| u.texts.contains(&given)).ok_or_else(|| {
        bad(&format!("`{given}` is no unit of it"), nearest(given, fits().flat_map(|u| u.texts).copied()))
    })?;
    let number = |text: &str| {
        let value = text.parse::<f64>().ok().filter(|v| *v > 0.0 && v.is_finite());
        value.map(|v| v * unit.scale).ok_or_else(|| {
            let why =
                format!("`{text}` is no standard deviation; after ± stands a number above 0 in the column's unit");
            Refusal::field(file, line, name, why)
        })
    };
    Ok(Some(Head { name: name.to_owned(), unit: Some(unit), deviation: deviation.map(number).transpose()? }))
}

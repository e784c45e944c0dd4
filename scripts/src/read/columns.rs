//! Tables of measurements: CSV with a name and unit in the head of each column.

use crate::read::calendar;
use crate::read::decimal::Decimals;
use crate::read::delimited::{self, Line};
use crate::read::heads::{self, Head};
use crate::read::no_table;
use crate::read::refusal::Refusal;
use crate::read::units::{Unit, maybe, nearest, short};
use slipsoak_engine::parts::Dimension;
use slipsoak_engine::parts_file::{similarity, unit_named};

/// Similarity of a spare column to a missing one above which it is taken for a misspelt one.
const LIKE: f64 = 0.85;

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
    pub rows: Vec<Line>,
    /// heads of unused columns
    pub spare: Vec<String>,
    decimals: Decimals,
}

impl Columns {
    /// Reads a table. `dimension` gives the kind of quantity of a column by its name; none for text and counts. Columns of
    /// other names are spare, but for those that look like a misspelt one.
    pub fn read(
        file: &str,
        text: &str,
        known: &[&str],
        dimension: impl Fn(&str) -> Option<Dimension>,
    ) -> Result<Self, Refusal> {
        if let Some(why) = no_table::why(file, text, known, &dimension) {
            return Err(Refusal::new(why));
        }
        let mut lines = delimited::lines(file, text)?;
        let (line, head) = lines.remove(0);
        let (mut heads, mut spare): (Vec<Head>, Vec<String>) = (vec![], vec![]);
        // What is wrong with the heads, so that one message names all of it.
        let mut wrong = vec![];
        for cell in &head {
            let read = heads::head((file, line), cell, known, &dimension);
            let used = read.map_err(|why| wrong.push(why)).unwrap_or_default();
            let Some(one) = used else {
                let unused = Head { name: cell.clone(), dimension: None, unit: None, deviation: None, dated: false };
                heads.push(unused);
                spare.push(heads::bare(cell).to_owned());
                continue;
            };
            if let Some(at) = heads.iter().position(|h| h.name == one.name) {
                let why = if head[at] == *cell { String::new() } else { format!(", as `{}` and `{cell}`", head[at]) };
                let why = format!("the column `{}` is there twice{why}; leave one out", one.name);
                return Err(Refusal::line(file, line, why));
            }
            heads.push(one);
        }
        let file = file.to_owned();
        let mut columns = Self { file, line, heads, rows: lines, spare, decimals: Decimals::default() };
        columns.dated()?;
        columns.decimals = Decimals::of(columns.numbers(), delimited::separator(text) == b';');
        wrong.extend(columns.without_units());
        if !wrong.is_empty() {
            return Err(Refusal::several(wrong));
        }
        let absent = || known.iter().copied().filter(|k| columns.place(k).is_none());
        let misspelt = |given: &&String| {
            let near = |k: &str| similarity(&given.to_lowercase(), &k.to_lowercase());
            absent().any(|k| near(k) > LIKE)
        };
        match columns.spare.iter().find(misspelt) {
            Some(given) => Err(columns.unknown(given, known)),
            None => Ok(columns),
        }
    }

    /// Fields of columns that hold numbers.
    fn numbers(&self) -> impl Iterator<Item = &str> {
        let used = self.heads.iter().enumerate().filter(|(_, head)| head.dimension.is_some() && !head.dated);
        used.flat_map(|(place, _)| self.rows.iter().map(move |row| row.1[place].as_str()))
    }

    /// Reads dates and clock times in a column of times that has no unit, as seconds.
    fn dated(&mut self) -> Result<(), Refusal> {
        for (place, head) in self.heads.iter_mut().enumerate() {
            if head.dimension != Some(Dimension::Time) {
                continue;
            }
            let fields = self.rows.iter().map(|(line, fields)| (*line, fields[place].as_str()));
            if head.unit.is_some() && !fields.clone().any(|(_, field)| field.contains(':')) {
                continue;
            }
            let read =
                calendar::times(fields).map_err(|(line, why)| Refusal::field(&self.file, line, &head.name, why))?;
            let Some(times) = read else { continue };
            for ((_, fields), time) in self.rows.iter_mut().zip(times) {
                fields[place] = time.map_or_else(String::new, |time| time.to_string());
            }
            (head.unit, head.dated) = (unit_named("s", Dimension::Time), true);
        }
        Ok(())
    }

    /// Refuses each column of a quantity without a unit in its head or in each of its fields.
    fn without_units(&self) -> Vec<Refusal> {
        let refused = |(place, head): (usize, &Head)| {
            let kind = head.dimension.filter(|_| head.unit.is_none())?;
            let bare = |fields: &[String]| !fields[place].is_empty() && with_unit(&fields[place], kind).is_none();
            let why = format!("the head gives no unit; {}", heads::write(&head.name, kind));
            let any = self.rows.is_empty() || self.rows.iter().any(|row| bare(&row.1));
            any.then(|| Refusal::field(&self.file, self.line, &head.name, why))
        };
        self.heads.iter().enumerate().filter_map(refused).collect()
    }

    /// The error for an unknown column.
    pub fn unknown(&self, given: &str, known: &[&str]) -> Refusal {
        let suggestion = nearest(given, known.iter().copied().filter(|k| self.place(k).is_none()));
        let (near, known) = (maybe(suggestion.as_deref()), known.join(", "));
        Refusal::line(&self.file, self.line, format!("there is no column `{given}`{near}; columns: {known}"))
    }

    /// What was done with the table that its author may not expect.
    pub fn notes(&self) -> Vec<String> {
        let spare = || format!("note: {}: columns not used: {}", self.file, self.spare.join(", "));
        let dated = || format!("note: {}: times are counted from the first line", self.file);
        let spare = (!self.spare.is_empty()).then(spare);
        spare.into_iter().chain(self.heads.iter().any(|head| head.dated).then(dated)).collect()
    }

    /// Index of a column.
    pub fn place(&self, name: &str) -> Option<usize> {
        self.heads.iter().position(|h| h.name == name)
    }

    /// The unit of a field that does not give its own.
    pub fn unit_by_head(&self, (_, fields): &Line, place: usize) -> Option<&'static Unit> {
        let head = &self.heads[place];
        head.unit.filter(|_| head.dimension.is_some_and(|kind| with_unit(&fields[place], kind).is_none()))
    }

    /// A number of a line, SI; none if the field is blank.
    pub fn number(&self, (line, fields): &Line, place: usize) -> Result<Option<f64>, Refusal> {
        let (field, head) = (&fields[place], &self.heads[place]);
        if field.is_empty() {
            return Ok(None);
        }
        let bad = |why: String| Refusal::field(&self.file, *line, &head.name, why);
        if head.dated {
            return Ok(field.parse().ok());
        }
        let (number, unit) = match head.dimension.and_then(|kind| with_unit(field, kind)) {
            Some((number, unit)) => (number, Some(unit)),
            None => (field.as_str(), head.unit),
        };
        let value = self.decimals.number(number).map_err(bad)?;
        Ok(Some(unit.map_or(value, |u| u.si(value))))
    }

    /// The error for a value, in the column's own unit.
    pub fn refuse(&self, line: u64, place: usize, value: f64, why: &str) -> Refusal {
        let head = &self.heads[place];
        let shown = head.unit.map_or(value, |u| u.from_si(value));
        let (value, unit) = ((shown * 1e9).round() / 1e9, head.unit.map_or("", |u| u.texts[0]));
        let value = if head.dated { short(value) } else { value.to_string() };
        Refusal::field(&self.file, line, &head.name, format!("{value} {unit} {why}"))
    }

    /// The error for a missing column.
    pub fn missing(&self, what: &str) -> Refusal {
        let seen: Vec<&str> = self.heads.iter().map(|head| head.name.as_str()).collect();
        if seen.iter().all(|name| name.replace(',', ".").parse::<f64>().is_ok()) {
            let above = "the first line holds numbers; put a line above it that names the columns with their units";
            return Refusal::line(&self.file, self.line, format!("{what}: {above}"));
        }
        Refusal::line(&self.file, self.line, format!("{what} (columns there: {})", seen.join(", ")))
    }
}

/// A field that says its unit, as number and unit.
fn with_unit(field: &str, kind: Dimension) -> Option<(&str, &'static Unit)> {
    let at = field.find(|c: char| !(c.is_ascii_digit() || ".,+-".contains(c)))?;
    let (number, unit) = (field[..at].trim_end(), field[at..].trim());
    Some((number, heads::unit(unit, kind)?)).filter(|_| !number.is_empty())
}

//! Columns of a table, each with its head, as CSV.

/// A cell in the line of a row.
pub(super) type Cell<'a, R> = Box<dyn Fn(&R) -> String + 'a>;

/// Columns, each with its head.
pub(super) struct Columns<'a, R>(pub Vec<(String, Cell<'a, R>)>);

impl<'a, R> Columns<'a, R> {
    /// One more column.
    pub fn with(mut self, head: impl Into<String>, cell: impl Fn(&R) -> String + 'a) -> Self {
        self.0.push((head.into(), Box::new(cell)));
        self
    }

    /// Rows as CSV.
    pub fn of(self, rows: impl IntoIterator<Item = R>) -> String {
        let mut writer = csv::Writer::from_writer(vec![]);
        // Writing to memory, with rows as long as their head, cannot fail.
        let _ = writer.write_record(self.0.iter().map(|(head, _)| head));
        for row in rows {
            let _ = writer.write_record(self.0.iter().map(|(_, cell)| cell(&row)));
        }
        String::from_utf8(writer.into_inner().unwrap_or_default()).unwrap_or_default()
    }
}

/// A name as a cell of CSV. An apostrophe prevents a spreadsheet from evaluating a name that looks like a formula.
pub(super) fn cell(name: &str) -> String {
    if name.starts_with(['=', '+', '-', '@', '\t', '\r']) { format!("'{name}") } else { name.to_owned() }
}

/// A number in the unit of a column, empty if there is none.
pub(super) fn number(value: Option<f64>, unit: f64) -> String {
    value.map_or_else(String::new, |value| (value / unit).to_string())
}

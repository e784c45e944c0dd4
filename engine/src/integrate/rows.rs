//! Jacobian rows of pure integrals: quantities that no rate depends on.

/// Rows of a matrix, each with the columns in which it may have entries.
#[derive(Clone, Debug, Default)]
pub struct Rows {
    columns: usize,
    /// entries of the pattern, each once
    held: Vec<Held>,
    /// all entries by rows
    value: Vec<f64>,
}

/// An entry of the pattern: its row, column and place among all entries, and its constant part.
#[derive(Clone, Copy, Debug)]
struct Held {
    row: u16,
    column: u16,
    place: u16,
    constant: f64,
}

impl Rows {
    /// Rows with this number of columns and the given (row, column) entries.
    pub fn new(rows: usize, columns: usize, pattern: impl IntoIterator<Item = (usize, usize)>) -> Self {
        let mut held: Vec<_> = pattern.into_iter().collect();
        held.sort_unstable();
        held.dedup();
        let entry = |(row, column)| {
            let place = (row * columns + column) as u16;
            Held { row: row as u16, column: column as u16, place, constant: 0.0 }
        };
        Self { columns, held: held.into_iter().map(entry).collect(), value: vec![0.0; rows * columns] }
    }

    /// Sets every entry to its constant part.
    pub fn clear(&mut self) {
        for entry in &self.held {
            self.value[usize::from(entry.place)] = entry.constant;
        }
    }

    /// Stores the present entries as the constant part.
    pub fn keep(&mut self) {
        for entry in &mut self.held {
            entry.constant = self.value[usize::from(entry.place)];
        }
    }

    /// Sets every entry and its constant part to zero.
    pub fn forget(&mut self) {
        self.held.iter_mut().for_each(|entry| entry.constant = 0.0);
        self.clear();
    }

    /// Adds to the entry (i, j). An entry outside the pattern has no effect.
    pub fn add(&mut self, i: usize, j: usize, value: f64) {
        self.value[i * self.columns + j] += value;
    }

    /// A row, to add to. Entries outside the pattern have no effect.
    pub fn row(&mut self, i: usize) -> &mut [f64] {
        &mut self.value[i * self.columns..][..self.columns]
    }

    /// Adds to each element of `out` the product of its row with x, times a factor.
    pub fn add_products(&self, x: &[f64], factor: f64, out: &mut [f64]) {
        for entry in &self.held {
            out[usize::from(entry.row)] += factor * self.value[usize::from(entry.place)] * x[usize::from(entry.column)];
        }
    }
}

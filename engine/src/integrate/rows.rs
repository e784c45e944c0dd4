//! Jacobian rows of pure integrals: quantities that no rate depends on.

/// Sparse rows with a fixed pattern.
#[derive(Clone, Debug, Default)]
pub struct Rows {
    columns: usize,
    slot: Vec<Option<u16>>,
    start: Vec<usize>,
    column: Vec<u16>,
    value: Vec<f64>,
}

impl Rows {
    /// Rows with this number of columns and the given (row, column) entries.
    pub fn new(rows: usize, columns: usize, pattern: impl IntoIterator<Item = (usize, usize)>) -> Self {
        let mut held = vec![false; rows * columns];
        for (i, j) in pattern {
            held[i * columns + j] = true;
        }
        let mut made = Self { columns, slot: vec![None; rows * columns], start: vec![0], ..Self::default() };
        for i in 0..rows {
            for j in (0..columns).filter(|j| held[i * columns + j]) {
                made.slot[i * columns + j] = Some(made.column.len() as u16);
                made.column.push(j as u16);
            }
            made.start.push(made.column.len());
        }
        made.value = vec![0.0; made.column.len()];
        made
    }

    /// Sets every entry to zero.
    pub fn clear(&mut self) {
        self.value.fill(0.0);
    }

    /// Adds to the entry (i, j); an entry outside the pattern is ignored.
    pub fn add(&mut self, i: usize, j: usize, value: f64) {
        if let Some(slot) = self.slot[i * self.columns + j] {
            self.value[usize::from(slot)] += value;
        }
    }

    /// Adds to a row's entries at several columns; those outside the pattern are ignored.
    pub fn add_row<const K: usize>(&mut self, i: usize, columns: &[usize; K], values: &[f64; K]) {
        let slots = &self.slot[i * self.columns..][..self.columns];
        for (&j, value) in columns.iter().zip(values) {
            if let Some(slot) = slots[j] {
                self.value[usize::from(slot)] += value;
            }
        }
    }

    /// Product of row i with x.
    pub fn times(&self, i: usize, x: &[f64]) -> f64 {
        let range = self.start[i]..self.start[i + 1];
        self.column[range.clone()].iter().zip(&self.value[range]).map(|(&j, v)| v * x[usize::from(j)]).sum()
    }
}

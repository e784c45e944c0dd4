//! Jacobian rows of pure integrals: quantities that no rate depends on.

/// Rows of a matrix, each with the columns in which it may have entries.
#[derive(Clone, Debug, Default)]
pub struct Rows {
    columns: usize,
    held: Vec<Vec<u16>>,
    value: Vec<f64>,
    constant: Vec<f64>,
}

impl Rows {
    /// Rows with this number of columns and the given (row, column) entries.
    pub fn new(rows: usize, columns: usize, pattern: impl IntoIterator<Item = (usize, usize)>) -> Self {
        let mut held = vec![vec![]; rows];
        for (i, j) in pattern {
            let row: &mut Vec<u16> = &mut held[i];
            if !row.contains(&(j as u16)) {
                row.push(j as u16);
            }
        }
        let zeros = vec![0.0; rows * columns];
        Self { columns, held, value: zeros.clone(), constant: zeros }
    }

    /// Sets every entry to its constant part.
    pub fn clear(&mut self) {
        self.value.copy_from_slice(&self.constant);
    }

    /// Stores the present entries as the constant part.
    pub fn keep(&mut self) {
        self.constant.copy_from_slice(&self.value);
    }

    /// Sets every entry and its constant part to zero.
    pub fn forget(&mut self) {
        self.constant.fill(0.0);
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

    /// Product of row i with x.
    pub fn times(&self, i: usize, x: &[f64]) -> f64 {
        let (row, x) = (&self.value[i * self.columns..][..self.columns], &x[..self.columns]);
        self.held[i].iter().map(|&j| row[usize::from(j)] * x[usize::from(j)]).sum()
    }
}

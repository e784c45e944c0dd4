//! Jacobian rows of pure integrals: quantities that no rate depends on.

use std::ops::Range;

/// Rows of a matrix, each with the columns between which it may have entries.
#[derive(Clone, Debug, Default)]
pub struct Rows {
    columns: usize,
    spans: Vec<Range<usize>>,
    value: Vec<f64>,
    constant: Vec<f64>,
}

impl Rows {
    /// Rows with this number of columns and the given (row, column) entries.
    pub fn new(rows: usize, columns: usize, pattern: impl IntoIterator<Item = (usize, usize)>) -> Self {
        let mut spans = vec![0..0; rows];
        for (i, j) in pattern {
            let span: &mut Range<usize> = &mut spans[i];
            *span = if span.end == 0 { j..j + 1 } else { span.start.min(j)..span.end.max(j + 1) };
        }
        Self { columns, spans, value: vec![0.0; rows * columns], constant: vec![0.0; rows * columns] }
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
        let span = self.spans[i].clone();
        let row = &self.value[i * self.columns..][..self.columns][span.clone()];
        let ((fours, rest), (xs, last)) = (row.as_chunks::<4>(), x[span].as_chunks::<4>());
        let mut sums = [0.0; 4];
        for (four, x) in fours.iter().zip(xs) {
            for k in 0..4 {
                sums[k] += four[k] * x[k];
            }
        }
        let rest: f64 = rest.iter().zip(last).map(|(v, x)| v * x).sum();
        (sums[0] + sums[1]) + (sums[2] + sums[3]) + rest
    }
}

//! A sparse square matrix with a fixed pattern, factorised by a sequence of operations that is worked out once.
//!
//! The order of elimination follows the least degree; ties go to the row touched longest ago, so that a chain is split
//! in many places at once. Factorising and solving then replay lists of multiply–subtract operations.

const ABSENT: u16 = u16::MAX;
/// Largest number of rows; every 8-bit index lies within a field of this length.
pub(super) const FIELD: usize = 256;
/// Largest number of entries of the factors; a slot taken modulo it never leaves their array.
const ROOM: usize = 2048;

/// Matrix, its factors and the operation lists that make and use them.
///
/// Slots are in the order that solving needs: entries below the diagonal, above it, and the diagonal by rows.
#[derive(Clone, Debug)]
pub struct Sparse {
    n: usize,
    slot: Vec<u16>,
    factor: Vec<Eliminate>,
    /// entries below the pivots
    lowers: Vec<u16>,
    /// entries right of the pivots
    uppers: Vec<u16>,
    /// what each product of a lower with an upper is taken from
    targets: Vec<u16>,
    forward: Vec<Row>,
    forward_columns: Vec<u8>,
    backward: Vec<Row>,
    backward_columns: Vec<u8>,
    /// Jacobian entries by slot
    pub jacobian: Vec<f64>,
    constant: Vec<f64>,
    lu: Vec<f64>,
}

/// A row to be solved and the number of its entries beside the diagonal.
#[derive(Clone, Copy, Debug)]
struct Row {
    row: u8,
    entries: u8,
}

/// One elimination step: its pivot, and its numbers of lowers and uppers.
#[derive(Clone, Copy, Debug)]
struct Eliminate {
    pivot: u16,
    lowers: u8,
    uppers: u8,
}

impl Sparse {
    /// A matrix of n rows with the given (row, column) entries; the diagonal is always included.
    ///
    /// # Panics
    /// With more than 256 rows or 2048 entries of the factors.
    pub fn new(n: usize, pattern: impl IntoIterator<Item = (usize, usize)>) -> Self {
        assert!(n <= FIELD, "a matrix has at most {FIELD} rows");
        let mut filled = vec![false; n * n];
        for (i, j) in pattern {
            filled[i * n + j] = true;
        }
        for i in 0..n {
            filled[i * n + i] = true;
        }
        let order = eliminate_by_least_degree(n, &mut filled);
        let mut slot = vec![ABSENT; n * n];
        let (mut forward, mut forward_columns) = (vec![], vec![]);
        for (k, &i) in order.iter().enumerate() {
            let columns = order[..k].iter().filter(|&&p| filled[i * n + p]);
            let first = forward_columns.len();
            for &p in columns {
                slot[i * n + p] = forward_columns.len() as u16;
                forward_columns.push(p as u8);
            }
            forward.push(Row { row: i as u8, entries: (forward_columns.len() - first) as u8 });
        }
        let lower = forward_columns.len();
        let (mut backward, mut backward_columns) = (vec![], vec![]);
        for (k, &i) in order.iter().enumerate().rev() {
            let columns = order[k + 1..].iter().rev().filter(|&&p| filled[i * n + p]);
            let first = backward_columns.len();
            for &p in columns {
                slot[i * n + p] = (lower + backward_columns.len()) as u16;
                backward_columns.push(p as u8);
            }
            backward.push(Row { row: i as u8, entries: (backward_columns.len() - first) as u8 });
        }
        let triangles = lower + backward_columns.len();
        for i in 0..n {
            slot[i * n + i] = (triangles + i) as u16;
        }
        let at = |i: usize, j: usize| slot[i * n + j];
        let (mut factor, mut lowers, mut uppers, mut targets) = (vec![], vec![], vec![], vec![]);
        for (k, &p) in order.iter().enumerate() {
            let later = &order[k + 1..];
            let below: Vec<usize> = later.iter().copied().filter(|&i| at(i, p) != ABSENT).collect();
            let right: Vec<usize> = later.iter().copied().filter(|&j| at(p, j) != ABSENT).collect();
            factor.push(Eliminate { pivot: at(p, p), lowers: below.len() as u8, uppers: right.len() as u8 });
            uppers.extend(right.iter().map(|&j| at(p, j)));
            for &i in &below {
                lowers.push(at(i, p));
                targets.extend(right.iter().map(|&j| at(i, j)));
            }
        }
        let zeros = vec![0.0; triangles + n];
        assert!(zeros.len() <= ROOM, "the factors have at most {ROOM} entries");
        Self {
            n,
            slot,
            factor,
            lowers,
            uppers,
            targets,
            forward,
            forward_columns,
            backward,
            backward_columns,
            jacobian: zeros.clone(),
            constant: zeros.clone(),
            lu: vec![0.0; ROOM],
        }
    }

    /// Sets every Jacobian entry to its constant part.
    pub fn clear(&mut self) {
        self.jacobian.copy_from_slice(&self.constant);
    }

    /// Stores the present entries as the constant part.
    pub fn keep(&mut self) {
        self.constant.copy_from_slice(&self.jacobian);
    }

    /// Sets every entry and its constant part to zero.
    pub fn forget(&mut self) {
        self.constant.fill(0.0);
        self.clear();
    }

    /// Adds to the Jacobian at (i, j). An entry outside the pattern is an error of the pattern.
    pub fn add(&mut self, i: usize, j: usize, value: f64) {
        if value != 0.0 {
            let slot = self.slot[i * self.n + j];
            debug_assert_ne!(slot, ABSENT, "entry ({i}, {j}) lies outside the pattern");
            if let Some(entry) = self.jacobian.get_mut(usize::from(slot)) {
                *entry += value;
            }
        }
    }

    /// Adds a row's entries at several columns. One outside the pattern has to be zero.
    pub fn add_row<const K: usize>(&mut self, i: usize, columns: &[usize; K], values: &[f64; K]) {
        let slots = &self.slot[i * self.n..][..self.n];
        for (&j, &value) in columns.iter().zip(values) {
            if value != 0.0 {
                debug_assert_ne!(slots[j], ABSENT, "entry ({i}, {j}) lies outside the pattern");
                if let Some(entry) = self.jacobian.get_mut(usize::from(slots[j])) {
                    *entry += value;
                }
            }
        }
    }

    /// The Jacobian's entry at (i, j).
    pub fn at(&self, i: usize, j: usize) -> f64 {
        self.jacobian.get(usize::from(self.slot[i * self.n + j])).copied().unwrap_or(0.0)
    }

    /// Factorises `shift`·I − J. False if a pivot is zero or not finite.
    pub fn factorise(&mut self, shift: f64) -> bool {
        let Some(lu) = self.lu.first_chunk_mut::<ROOM>() else { return false };
        let at = |slot: u16| usize::from(slot) % ROOM;
        for (x, j) in lu.iter_mut().zip(&self.jacobian) {
            *x = -j;
        }
        let slots = self.jacobian.len();
        let (triangles, lower) = (slots - self.n, self.forward_columns.len());
        for d in &mut lu[triangles..slots] {
            *d += shift;
        }
        let mut sound = true;
        let (mut lowers, mut uppers, mut targets) = (&self.lowers[..], &self.uppers[..], &self.targets[..]);
        for e in &self.factor {
            let (below, later_lowers) = lowers.split_at(usize::from(e.lowers));
            let (right, later_uppers) = uppers.split_at(usize::from(e.uppers));
            let pivot = 1.0 / lu[at(e.pivot)];
            sound &= pivot.is_finite();
            lu[at(e.pivot)] = pivot;
            for &l in below {
                let (row, later_targets) = targets.split_at(right.len());
                // Many entries are zero in some of a system's modes.
                if lu[at(l)] != 0.0 {
                    let factor = lu[at(l)] * pivot;
                    lu[at(l)] = factor;
                    for (&target, &u) in row.iter().zip(right) {
                        lu[at(target)] -= factor * lu[at(u)];
                    }
                }
                targets = later_targets;
            }
            (lowers, uppers) = (later_lowers, later_uppers);
        }
        let (upper, pivots) = lu[lower..slots].split_at_mut(triangles - lower);
        let mut left = upper;
        for r in &self.backward {
            let (own, later) = left.split_at_mut(usize::from(r.entries));
            let pivot = pivots[usize::from(r.row)];
            for u in own {
                *u *= pivot;
            }
            left = later;
        }
        sound
    }

    /// Solves with the present factors, in place. A slice of at least `FIELD` is used directly as the work field; its
    /// entries beyond the matrix stay unchanged.
    pub fn solve(&self, x: &mut [f64]) {
        if let Some(field) = x.first_chunk_mut::<FIELD>() {
            self.replay(field);
        } else {
            let mut field = [0.0; FIELD];
            field[..self.n].copy_from_slice(&x[..self.n]);
            self.replay(&mut field);
            x[..self.n].copy_from_slice(&field[..self.n]);
        }
    }

    /// Solves in a field of fixed length, where no 8-bit index is out of range.
    fn replay(&self, field: &mut [f64; FIELD]) {
        let (lower, rest) = self.lu[..self.jacobian.len()].split_at(self.forward_columns.len());
        let (upper, pivots) = rest.split_at(self.backward_columns.len());
        sweep(field, &self.forward, &self.forward_columns, lower);
        for (x, pivot) in field.iter_mut().zip(pivots) {
            *x *= pivot;
        }
        sweep(field, &self.backward, &self.backward_columns, upper);
    }
}

/// Subtracts from each row in turn its entries times the values already solved.
fn sweep(field: &mut [f64; FIELD], rows: &[Row], columns: &[u8], values: &[f64]) {
    let (mut columns, mut values) = (columns, values);
    for r in rows {
        let entries = usize::from(r.entries);
        let (own, later) = columns.split_at(entries);
        let (factors, left) = values.split_at(entries);
        let mut x = field[usize::from(r.row)];
        for (&p, v) in own.iter().zip(factors) {
            x -= v * field[usize::from(p)];
        }
        field[usize::from(r.row)] = x;
        (columns, values) = (later, left);
    }
}

fn eliminate_by_least_degree(n: usize, filled: &mut [bool]) -> Vec<usize> {
    let mut left: Vec<usize> = (0..n).collect();
    let mut touched = vec![0; n];
    let mut order = Vec::with_capacity(n);
    while !left.is_empty() {
        let cost = |&p: &usize| {
            let rows = left.iter().filter(|&&i| i != p && filled[i * n + p]).count();
            let columns = left.iter().filter(|&&j| j != p && filled[p * n + j]).count();
            (rows * columns, touched[p])
        };
        let p = *left.iter().min_by_key(|p| cost(p)).unwrap_or(&left[0]);
        left.retain(|&i| i != p);
        order.push(p);
        for &i in &left {
            for &j in &left {
                if filled[i * n + p] && filled[p * n + j] {
                    filled[i * n + j] = true;
                    touched[i] = order.len();
                    touched[j] = order.len();
                }
            }
        }
    }
    order
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_chain_with_a_dense_corner_is_solved_to_rounding() {
        let n = 9;
        let entry = |i: usize, j: usize| match i.abs_diff(j) {
            0 => Some(-3.0 - i as f64),
            1 => Some(1.0 + 0.1 * j as f64),
            _ if i > 6 || j > 6 => Some(0.2),
            _ => None,
        };
        let pairs = (0..n).flat_map(|i| (0..n).map(move |j| (i, j)));
        let mut matrix = Sparse::new(n, pairs.clone().filter(|&(i, j)| entry(i, j).is_some()));
        for (i, j) in pairs {
            matrix.add(i, j, entry(i, j).unwrap_or(0.0));
        }
        let wanted: Vec<f64> = (0..n).map(|i| (i as f64).sin() + 2.0).collect();
        let mut x: Vec<f64> = (0..n)
            .map(|i| (0..n).map(|j| (f64::from(u8::from(i == j)) * 2.0 - entry(i, j).unwrap_or(0.0)) * wanted[j]).sum())
            .collect();
        assert!(matrix.factorise(2.0));
        matrix.solve(&mut x);
        for (got, want) in x.iter().zip(&wanted) {
            assert!((got - want).abs() < 1e-13, "{got} for {want}");
        }
    }
}

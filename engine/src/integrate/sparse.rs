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
/// Slots are in the order that solving needs: entries below the diagonal and above it by columns, and the diagonal by rows.
#[derive(Clone, Debug)]
pub struct Sparse {
    n: usize,
    pivots: Vec<Pivot>,
    /// slots right of the pivots
    rights: Vec<u16>,
    /// what each product of an entry below a pivot with one right of it is taken from
    targets: Vec<u16>,
    below: Vec<Entry>,
    above: Vec<Entry>,
    /// place of each slot among the Jacobian's entries
    places: Vec<u16>,
    /// Jacobian entries by rows
    jacobian: Vec<f64>,
    /// place and constant part of each entry of the pattern
    constant: Vec<(u16, f64)>,
    lu: Vec<f64>,
}

/// Row and column of an entry beside the diagonal.
#[derive(Clone, Copy, Debug)]
struct Entry {
    row: u8,
    column: u8,
}

/// One elimination step: the slot of its pivot, and its numbers of entries below and right of it.
#[derive(Clone, Copy, Debug)]
struct Pivot {
    slot: u16,
    below: u8,
    right: u8,
}

impl Sparse {
    /// A matrix of n rows with the given (row, column) entries; the diagonal is always included.
    ///
    /// # Panics
    /// With more than 256 rows or 2048 entries of the factors.
    pub fn new(n: usize, pattern: impl IntoIterator<Item = (usize, usize)>) -> Self {
        assert!(n <= FIELD, "a matrix has at most {FIELD} rows");
        let mut filled = vec![Set::default(); n];
        for (i, j) in pattern.into_iter().chain((0..n).map(|i| (i, i))) {
            filled[i].put(j);
        }
        let all = (0..n).flat_map(|i| (0..n).map(move |j| (i, j)));
        let constant = all.filter(|&(i, j)| filled[i].has(j)).map(|(i, j)| ((i * n + j) as u16, 0.0)).collect();
        let order = eliminate_by_least_degree(&mut filled);
        let mut slot = vec![ABSENT; n * n];
        let mut places = vec![];
        let mut take = |i: usize, j: usize| {
            slot[i * n + j] = places.len() as u16;
            places.push((i * n + j) as u16);
            Entry { row: i as u8, column: j as u8 }
        };
        let (mut below, mut above) = (vec![], vec![]);
        for (k, &p) in order.iter().enumerate() {
            below.extend(order[k + 1..].iter().filter(|&&i| filled[i].has(p)).map(|&i| take(i, p)));
        }
        for (k, &p) in order.iter().enumerate().rev() {
            above.extend(order[..k].iter().filter(|&&i| filled[i].has(p)).map(|&i| take(i, p)));
        }
        for i in 0..n {
            take(i, i);
        }
        assert!(places.len() <= ROOM, "the factors have at most {ROOM} entries");
        let at = |i: usize, j: usize| slot[i * n + j];
        let (mut pivots, mut rights, mut targets) = (vec![], vec![], vec![]);
        for (k, &p) in order.iter().enumerate() {
            let later = || order[k + 1..].iter().copied();
            let right: Vec<usize> = later().filter(|&j| at(p, j) != ABSENT).collect();
            let lower: Vec<usize> = later().filter(|&i| at(i, p) != ABSENT).collect();
            pivots.push(Pivot { slot: at(p, p), below: lower.len() as u8, right: right.len() as u8 });
            targets.extend(lower.iter().flat_map(|&i| right.iter().map(move |&j| at(i, j))));
            rights.extend(right.iter().map(|&j| at(p, j)));
        }
        let (jacobian, lu) = (vec![0.0; n * n], vec![0.0; ROOM]);
        Self { n, pivots, rights, targets, below, above, places, jacobian, constant, lu }
    }

    /// Sets every Jacobian entry to its constant part.
    pub fn clear(&mut self) {
        for &(place, constant) in &self.constant {
            self.jacobian[usize::from(place)] = constant;
        }
    }

    /// Stores the present entries as the constant part.
    pub fn keep(&mut self) {
        for (place, constant) in &mut self.constant {
            *constant = self.jacobian[usize::from(*place)];
        }
    }

    /// Sets every entry and its constant part to zero.
    pub fn forget(&mut self) {
        self.constant.iter_mut().for_each(|(_, constant)| *constant = 0.0);
        self.clear();
    }

    /// Adds to the Jacobian at (i, j). An entry outside the pattern has no effect.
    pub fn add(&mut self, i: usize, j: usize, value: f64) {
        self.jacobian[i * self.n + j] += value;
    }

    /// A row of the Jacobian, to add to. Entries outside the pattern have no effect.
    pub fn row(&mut self, i: usize) -> &mut [f64] {
        &mut self.jacobian[i * self.n..][..self.n]
    }

    /// The Jacobian's entry at (i, j).
    pub fn at(&self, i: usize, j: usize) -> f64 {
        self.jacobian[i * self.n + j]
    }

    /// Factorises `shift`·I − J. False if a pivot is zero or not finite.
    pub fn factorise(&mut self, shift: f64) -> bool {
        let Some(lu) = self.lu.first_chunk_mut::<ROOM>() else { return false };
        let at = |slot: u16| usize::from(slot) % ROOM;
        for (x, place) in lu.iter_mut().zip(&self.places) {
            *x = -self.jacobian[usize::from(*place)];
        }
        for d in &mut lu[self.below.len() + self.above.len()..self.places.len()] {
            *d += shift;
        }
        let mut sound = true;
        let (mut lower, mut rights, mut targets) = (0, &self.rights[..], &self.targets[..]);
        for p in &self.pivots {
            let (right, later) = rights.split_at(usize::from(p.right));
            let pivot = 1.0 / lu[at(p.slot)];
            sound &= pivot.is_finite();
            lu[at(p.slot)] = pivot;
            for _ in 0..p.below {
                let (row, later) = targets.split_at(right.len());
                // Many entries are zero in some of a system's modes.
                let factor = lu[at(lower)] * pivot;
                if factor != 0.0 {
                    lu[at(lower)] = factor;
                    for (&target, &u) in row.iter().zip(right) {
                        lu[at(target)] -= factor * lu[at(u)];
                    }
                }
                targets = later;
                lower += 1;
            }
            for &u in right {
                lu[at(u)] *= pivot;
            }
            rights = later;
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
        let (lower, rest) = self.lu.split_at(self.below.len());
        let (upper, pivots) = rest.split_at(self.above.len());
        sweep(field, &self.below, lower);
        for (x, pivot) in field.iter_mut().zip(&pivots[..self.n]) {
            *x *= pivot;
        }
        sweep(field, &self.above, upper);
    }
}

/// Subtracts each entry times the value of its column, which is solved, from its row.
fn sweep(field: &mut [f64; FIELD], entries: &[Entry], values: &[f64]) {
    let mut take = |e: &Entry, value: f64| field[usize::from(e.row)] -= value * field[usize::from(e.column)];
    // Four at a time, which saves a fifth of the instructions.
    let ((fours, rest), (by_four, last)) = (entries.as_chunks::<4>(), values.as_chunks::<4>());
    for (four, values) in fours.iter().zip(by_four) {
        for (e, value) in four.iter().zip(values) {
            take(e, *value);
        }
    }
    for (e, value) in rest.iter().zip(last) {
        take(e, *value);
    }
}

/// A set of rows or columns.
#[derive(Clone, Copy, Default)]
struct Set([u64; FIELD / 64]);

impl Set {
    fn put(&mut self, k: usize) {
        self.0[k / 64] |= 1 << (k % 64);
    }
    fn take(&mut self, k: usize) {
        self.0[k / 64] &= !(1 << (k % 64));
    }
    fn has(&self, k: usize) -> bool {
        self.0[k / 64] >> (k % 64) & 1 == 1
    }
    fn among(self, other: Self) -> Self {
        Self(std::array::from_fn(|w| self.0[w] & other.0[w]))
    }
    fn join(&mut self, other: Self) {
        for (w, o) in self.0.iter_mut().zip(other.0) {
            *w |= o;
        }
    }
    fn len(self) -> u32 {
        self.0.iter().map(|w| w.count_ones()).sum()
    }
}

/// Order of elimination; adds to the entries of each row those that elimination fills.
fn eliminate_by_least_degree(rows: &mut [Set]) -> Vec<usize> {
    let n = rows.len();
    let (mut columns, mut left) = (vec![Set::default(); n], Set::default());
    for (i, row) in rows.iter().enumerate() {
        left.put(i);
        (0..n).filter(|&j| row.has(j)).for_each(|j| columns[j].put(i));
    }
    let mut touched = vec![0; n];
    let mut order = Vec::with_capacity(n);
    while order.len() < n {
        let cost = |p: &usize| (rows[*p].among(left).len() - 1) * (columns[*p].among(left).len() - 1);
        let next = (0..n).filter(|p| left.has(*p)).min_by_key(|p| (cost(p), touched[*p]));
        let Some(p) = next else { break };
        left.take(p);
        order.push(p);
        let (below, right) = (columns[p].among(left), rows[p].among(left));
        for k in 0..n {
            if below.has(k) {
                rows[k].join(right);
            }
            if right.has(k) {
                columns[k].join(below);
            }
            if below.has(k) && right.len() > 0 || right.has(k) && below.len() > 0 {
                touched[k] = order.len();
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

//! A sparse square matrix with a fixed pattern, factorised by a program worked out once.
//!
//! The order of elimination is chosen by least degree, ties going to the row touched longest ago, so that chains are taken
//! apart from many places at once. Factorising and solving then replay lists of multiply–subtract operations.

const ABSENT: u16 = u16::MAX;

/// Matrix, its factors and the programs that make and use them.
#[derive(Clone, Debug)]
pub struct Sparse {
    n: usize,
    slot: Vec<u16>,
    diagonal: Vec<u16>,
    used: Vec<u16>,
    factor: Vec<Eliminate>,
    update: Vec<[u16; 3]>,
    forward: Vec<[u16; 3]>,
    backward: Vec<Back>,
    upper: Vec<[u16; 2]>,
    /// Jacobian entries by slot
    pub jacobian: Vec<f64>,
    lu: Vec<f64>,
}

#[derive(Clone, Copy, Debug)]
struct Eliminate {
    pivot: u16,
    lower: (u16, u16),
    update: (u16, u16),
}

#[derive(Clone, Copy, Debug)]
struct Back {
    row: u16,
    pivot: u16,
    upper: (u16, u16),
}

impl Sparse {
    /// A matrix of n rows with the given (row, column) entries; the diagonal is always held.
    pub fn new(n: usize, pattern: impl IntoIterator<Item = (usize, usize)>) -> Self {
        let mut filled = vec![false; n * n];
        for (i, j) in pattern {
            filled[i * n + j] = true;
        }
        for i in 0..n {
            filled[i * n + i] = true;
        }
        let original = filled.clone();
        let order = eliminate_by_least_degree(n, &mut filled);
        let mut slot = vec![ABSENT; n * n];
        let mut count = 0;
        for (at, _) in filled.iter().enumerate().filter(|(_, f)| **f) {
            slot[at] = count;
            count += 1;
        }
        let at = |i: usize, j: usize| slot[i * n + j];
        let mut sparse = Self {
            n,
            diagonal: (0..n).map(|i| at(i, i)).collect(),
            used: (0..n * n).filter(|&k| original[k]).map(|k| slot[k]).collect(),
            factor: vec![],
            update: vec![],
            forward: vec![],
            backward: vec![],
            upper: vec![],
            jacobian: vec![0.0; usize::from(count)],
            lu: vec![0.0; usize::from(count)],
            slot: vec![],
        };
        let mut lower = 0;
        for (k, &p) in order.iter().enumerate() {
            let later: Vec<usize> = order[k + 1..].to_vec();
            let first_update = sparse.update.len() as u16;
            let first_lower = lower;
            for &i in later.iter().filter(|&&i| at(i, p) != ABSENT) {
                sparse.forward.push([i as u16, at(i, p), p as u16]);
                lower += 1;
                for &j in later.iter().filter(|&&j| at(p, j) != ABSENT) {
                    sparse.update.push([at(i, j), at(i, p), at(p, j)]);
                }
            }
            sparse.factor.push(Eliminate {
                pivot: at(p, p),
                lower: (first_lower, lower),
                update: (first_update, sparse.update.len() as u16),
            });
        }
        for (k, &p) in order.iter().enumerate().rev() {
            let first = sparse.upper.len() as u16;
            for &j in order[k + 1..].iter().filter(|&&j| at(p, j) != ABSENT) {
                sparse.upper.push([at(p, j), j as u16]);
            }
            sparse.backward.push(Back { row: p as u16, pivot: at(p, p), upper: (first, sparse.upper.len() as u16) });
        }
        sparse.slot = slot;
        sparse
    }

    /// Sets every Jacobian entry to zero.
    pub fn clear(&mut self) {
        self.jacobian.fill(0.0);
    }

    /// Adds to the Jacobian at (i, j); an entry outside the pattern is an error of the pattern.
    pub fn add(&mut self, i: usize, j: usize, value: f64) {
        if value != 0.0 {
            let slot = self.slot[i * self.n + j];
            debug_assert_ne!(slot, ABSENT, "entry ({i}, {j}) lies outside the pattern");
            if let Some(entry) = self.jacobian.get_mut(usize::from(slot)) {
                *entry += value;
            }
        }
    }

    /// The Jacobian's entry at (i, j).
    pub fn at(&self, i: usize, j: usize) -> f64 {
        self.jacobian.get(usize::from(self.slot[i * self.n + j])).copied().unwrap_or(0.0)
    }

    /// Factorises `shift`·I − J. False if a pivot is not a usable number.
    pub fn factorise(&mut self, shift: f64) -> bool {
        let lu = &mut self.lu[..];
        lu.fill(0.0);
        for &s in &self.used {
            lu[usize::from(s)] = -self.jacobian[usize::from(s)];
        }
        for &d in &self.diagonal {
            lu[usize::from(d)] += shift;
        }
        let mut sound = true;
        for e in &self.factor {
            let pivot = 1.0 / lu[usize::from(e.pivot)];
            sound &= pivot.is_finite();
            lu[usize::from(e.pivot)] = pivot;
            for &[_, l, _] in &self.forward[usize::from(e.lower.0)..usize::from(e.lower.1)] {
                lu[usize::from(l)] *= pivot;
            }
            for &[target, l, u] in &self.update[usize::from(e.update.0)..usize::from(e.update.1)] {
                lu[usize::from(target)] -= lu[usize::from(l)] * lu[usize::from(u)];
            }
        }
        sound
    }

    /// Solves with the present factors, in place.
    pub fn solve(&self, x: &mut [f64]) {
        let lu = &self.lu[..];
        for &[i, l, p] in &self.forward {
            x[usize::from(i)] -= lu[usize::from(l)] * x[usize::from(p)];
        }
        for b in &self.backward {
            let mut sum = x[usize::from(b.row)];
            for &[u, j] in &self.upper[usize::from(b.upper.0)..usize::from(b.upper.1)] {
                sum -= lu[usize::from(u)] * x[usize::from(j)];
            }
            x[usize::from(b.row)] = sum * lu[usize::from(b.pivot)];
        }
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
        let p = *left.iter().min_by_key(|p| cost(p)).expect("rows are left");
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

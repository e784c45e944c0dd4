//! What is left of a disturbance after a block, and how to put states on their course with it.

use super::anchor::Anchors;
use super::{Course, Repeating};

/// Steps smaller than this, over what counts as settled, teach nothing: what drifts makes as much of a difference.
const LEARNT: f64 = 0.3;

/// What a block makes of small disturbances of the states that settle.
#[derive(Clone, Debug)]
pub(super) struct Memory {
    /// states that settle
    pub states: Vec<usize>,
    /// for each of them, what its unit disturbance adds to the changes of all quantities over a block
    columns: Vec<Vec<f64>>,
}

impl Memory {
    /// States that forget everything within a block.
    pub fn none(courses: &[Course]) -> Self {
        let settles = |k: &usize| matches!(courses[*k], Course::Settles(_));
        let states: Vec<usize> = (0..courses.len()).filter(settles).collect();
        let column = |&k: &usize| (0..courses.len()).map(|j| if j == k { -1.0 } else { 0.0 }).collect();
        Self { columns: states.iter().map(column).collect(), states }
    }

    /// Takes up what has begun to settle, as forgetting everything, and drops what has begun to drift.
    pub fn follow(&mut self, courses: &[Course]) {
        let mut followed = Self::none(courses);
        for (k, column) in followed.states.iter().zip(&mut followed.columns) {
            if let Some(known) = self.states.iter().position(|known| known == k) {
                column.clone_from(&self.columns[known]);
            }
        }
        *self = followed;
    }

    /// Disturbs one settling state after the other by a little and looks what a block makes of it. A state that forgets the
    /// disturbance within the block counts too: it may have moved what drifts. Gives the blocks that took, too.
    pub fn of<R: Repeating>(r: &mut R, courses: &[Course]) -> Result<(Self, u64), R::Error> {
        let values = r.read();
        let tried = |r: &mut R, values: &[f64]| {
            let held = r.hold();
            r.put(values, 0.0);
            let done = r.block();
            let after = r.read();
            r.restore(held);
            done.map(|()| after)
        };
        let plain = tried(r, &values)?;
        let mut memory = Self { states: vec![], columns: vec![] };
        let mut blocks = 1;
        for (k, course) in courses.iter().enumerate() {
            let Course::Settles(within) = *course else { continue };
            // Masses are not taken below nothing.
            let step = if values[k] > 2.0 * within { -within } else { within };
            let mut disturbed = values.clone();
            disturbed[k] += step;
            let after = tried(r, &disturbed)?;
            blocks += 1;
            let mut column: Vec<f64> = after.iter().zip(&plain).map(|(a, b)| (a - b) / step).collect();
            column[k] -= 1.0;
            memory.states.push(k);
            memory.columns.push(column);
        }
        Ok((memory, blocks))
    }

    /// What the states have to be put right by, so that their changes over a block are those of their course n blocks after
    /// an anchor, for the place where the block began and the changes over it.
    pub fn aside(&self, anchors: &Anchors<'_>, n: f64, place: &[f64], changes: &[f64]) -> Vec<f64> {
        let rows = self.states.iter().enumerate().map(|(i, &k)| {
            let (rate, by) = anchors.course(k, n, place[k]);
            let own = |j: usize| if i == j { by } else { 0.0 };
            let mut row: Vec<f64> = self.columns.iter().enumerate().map(|(j, column)| own(j) - column[k]).collect();
            row.push(changes[k] - rate);
            row
        });
        solved(rows.collect())
    }

    /// Learns from two blocks that began a step apart, with the changes over both: the least change that explains what the
    /// step made, states measured by what counts as settled (Broyden's update).
    pub fn learn(&mut self, courses: &[Course], step: &[f64], differences: &[f64]) {
        let within = |k: usize| match courses[k] {
            Course::Settles(within) => within,
            _ => f64::INFINITY,
        };
        let square: f64 = self.states.iter().map(|&k| (step[k] / within(k)).powi(2)).sum();
        if !(square > LEARNT * LEARNT) {
            return;
        }
        let mut missed = differences.to_vec();
        for (column, &j) in self.columns.iter().zip(&self.states) {
            missed.iter_mut().zip(column).for_each(|(missed, by)| *missed -= by * step[j]);
        }
        for (column, &j) in self.columns.iter_mut().zip(&self.states) {
            let share = step[j] / within(j).powi(2) / square;
            column.iter_mut().zip(&missed).for_each(|(by, missed)| *by += missed * share);
        }
    }

    /// Changes over a block of all quantities, had the states been on their course.
    pub fn settled(&self, changes: &[f64], aside: &[f64]) -> Vec<f64> {
        let mut settled = changes.to_vec();
        for (column, aside) in self.columns.iter().zip(aside) {
            // What has come to rest stays there, whatever moved it when the disturbances were tried.
            settled
                .iter_mut()
                .zip(column)
                .filter(|(change, _)| **change != 0.0)
                .for_each(|(change, by)| *change += by * aside);
        }
        settled
    }

    /// Values after a block, had the states been on their course before it.
    pub fn put_right(&self, values: &mut [f64], aside: &[f64]) {
        for ((&k, column), aside) in self.states.iter().zip(&self.columns).zip(aside) {
            values[k] += aside;
            for &j in &self.states {
                values[j] += column[j] * aside;
            }
        }
    }
}

/// Solves a small set of linear equations, each row with its right-hand side last (Gauss and Jordan, largest pivots).
fn solved(mut rows: Vec<Vec<f64>>) -> Vec<f64> {
    let m = rows.len();
    for i in 0..m {
        let pivot = (i..m).max_by(|&a, &b| rows[a][i].abs().total_cmp(&rows[b][i].abs())).unwrap_or(i);
        rows.swap(i, pivot);
        let row: Vec<f64> = rows[i].iter().map(|x| x / rows[i][i]).collect();
        for other in rows.iter_mut().enumerate().filter_map(|(j, other)| (j != i).then_some(other)) {
            let by = other[i];
            other.iter_mut().zip(&row).for_each(|(x, y)| *x -= by * y);
        }
        rows[i] = row;
    }
    rows.iter().map(|row| row[m]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equations_are_solved_with_a_vanishing_first_pivot() {
        // 2y = 4, x + y = 5
        assert_eq!(solved(vec![vec![0.0, 2.0, 4.0], vec![1.0, 1.0, 5.0]]), [3.0, 2.0]);
    }
}

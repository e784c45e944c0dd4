//! What is left of a disturbance after a block, and how to put states on their course with it.

use super::anchor::Anchors;
use super::{Course, Repeating};

/// Steps smaller than this, over what counts as settled, teach nothing: what drifts makes as much of a difference.
const LEARNT: f64 = 0.3;

/// Part of a step across those learned from before, over the whole step, from which on its direction is a new one.
const NEW: f64 = 0.1;
/// How many times more states off their course may do than blocks have shown.
const MARGIN: f64 = 3.0;

/// What a block makes of small disturbances of the states that settle.
#[derive(Clone, Debug)]
pub(super) struct Memory {
    /// states that settle
    pub states: Vec<usize>,
    /// for each of them, what its unit disturbance adds to the changes of all quantities over a block
    columns: Vec<Vec<f64>>,
    /// directions that steps have taught, at right angles, states measured by what counts as settled
    seen: Vec<Vec<f64>>,
}

impl Memory {
    /// States that forget everything within a block.
    pub fn none(courses: &[Course]) -> Self {
        let settles = |k: &usize| matches!(courses[*k], Course::Settles(_));
        let states: Vec<usize> = (0..courses.len()).filter(settles).collect();
        let column = |&k: &usize| (0..courses.len()).map(|j| if j == k { -1.0 } else { 0.0 }).collect();
        Self { columns: states.iter().map(column).collect(), states, seen: vec![] }
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
        let mut memory = Self { states: vec![], columns: vec![], seen: vec![] };
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
        let direction = |i| (0..memory.states.len()).map(|j| f64::from(u8::from(i == j))).collect();
        memory.seen = (0..memory.states.len()).map(direction).collect();
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

    /// How far states are off their course in directions that no step has taught, over what counts as settled.
    pub fn unseen(&self, courses: &[Course], aside: &[f64]) -> f64 {
        norm(&self.across(self.scaled(courses, aside)))
    }

    /// The part of a step, states measured by what counts as settled, across what has been learned from.
    fn across(&self, mut step: Vec<f64>) -> Vec<f64> {
        for seen in &self.seen {
            let along: f64 = seen.iter().zip(&step).map(|(a, b)| a * b).sum();
            step.iter_mut().zip(seen).for_each(|(x, seen)| *x -= along * seen);
        }
        step
    }

    /// What states off their course may still add to all quantities until they are back on it, where nothing puts them there
    /// at once: what the blocks seen say of it, with a margin for what they do not say.
    pub fn tail(&self, courses: &[Course], aside: &[f64]) -> Vec<f64> {
        let rows = self.states.iter().zip(aside).map(|(&k, aside)| {
            let mut row: Vec<f64> = self.columns.iter().map(|column| -column[k]).collect();
            row.push(*aside);
            row
        });
        let sums = solved(rows.collect());
        let off = norm(&self.scaled(courses, aside));
        let known = |k: usize| self.columns.iter().zip(&sums).map(|(column, sum)| (column[k] * sum).abs()).sum::<f64>();
        (0..courses.len()).map(|k| MARGIN * known(k) + self.most(courses, k) * off).collect()
    }

    /// The most that any state, off its course by what counts as settled, adds to the change of a quantity.
    fn most(&self, courses: &[Course], k: usize) -> f64 {
        let effects = self.states.iter().zip(&self.columns).map(|(&j, column)| (column[k] * within(courses[j])).abs());
        effects.fold(0.0, f64::max)
    }

    fn scaled(&self, courses: &[Course], aside: &[f64]) -> Vec<f64> {
        self.states.iter().zip(aside).map(|(&k, aside)| aside / within(courses[k])).collect()
    }

    /// Learns from two blocks that began a step apart, with the changes over both: the least change that explains what the
    /// step made, states measured by what counts as settled (Broyden's update).
    pub fn learn(&mut self, courses: &[Course], step: &[f64], differences: &[f64]) {
        let scaled: Vec<f64> = self.states.iter().map(|&k| step[k] / within(courses[k])).collect();
        let square: f64 = scaled.iter().map(|x| x * x).sum();
        if !(square > LEARNT * LEARNT) {
            return;
        }
        let mut across = self.across(scaled);
        let size = norm(&across);
        if size > NEW * square.sqrt() && size.is_finite() {
            for x in &mut across {
                *x /= size;
            }
            self.seen.push(across);
        }
        let mut missed = differences.to_vec();
        for (column, &j) in self.columns.iter().zip(&self.states) {
            missed.iter_mut().zip(column).for_each(|(missed, by)| *missed -= by * step[j]);
        }
        for (column, &j) in self.columns.iter_mut().zip(&self.states) {
            let share = step[j] / within(courses[j]).powi(2) / square;
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

    /// What states off their course may add to the change of a quantity at most: each by its modulus with a margin, and what
    /// lies in directions that were never seen as if it did as much as any state.
    pub fn spread(&self, courses: &[Course], k: usize, aside: &[f64], unseen: f64) -> f64 {
        let seen: f64 = self.columns.iter().zip(aside).map(|(column, aside)| (column[k] * aside).abs()).sum();
        MARGIN * seen + self.most(courses, k) * unseen
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

fn within(course: Course) -> f64 {
    match course {
        Course::Settles(within) => within,
        _ => f64::INFINITY,
    }
}

fn norm(x: &[f64]) -> f64 {
    x.iter().map(|x| x * x).sum::<f64>().sqrt()
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

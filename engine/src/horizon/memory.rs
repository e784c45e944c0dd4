//! Response of the states to a disturbance over one block, and the correction that puts states on their course.

use super::anchor::Anchors;
use super::vectors::{norm, solved};
use super::{Course, Repeating};

/// Updates from disturbances smaller than this many settling widths are skipped: slow drift is as large as they are.
const LEARNT: f64 = 0.3;

/// A step counts as a new direction if this share of its length is perpendicular to the directions seen so far.
const NEW: f64 = 0.1;
/// Safety factor on the effect of states that are off their course.
const MARGIN: f64 = 3.0;

/// Jacobian of one block with respect to the settling states.
#[derive(Clone, Debug)]
pub(super) struct Memory {
    /// states that settle
    pub states: Vec<usize>,
    /// for each of them, the derivative of all changes over a block with respect to that state
    columns: Vec<Vec<f64>>,
    /// directions seen in steps so far, orthonormal, states scaled by their settling width
    seen: Vec<Vec<f64>>,
}

impl Memory {
    /// The Jacobian for states that forget any disturbance within one block.
    pub fn none(courses: &[Course]) -> Self {
        let settles = |k: &usize| matches!(courses[*k], Course::Settles(_));
        let states: Vec<usize> = (0..courses.len()).filter(settles).collect();
        let column = |&k: &usize| (0..courses.len()).map(|j| if j == k { -1.0 } else { 0.0 }).collect();
        Self { columns: states.iter().map(column).collect(), states, seen: vec![] }
    }

    /// Adds the states that have begun to settle, with no memory, and drops those that have begun to drift.
    pub fn follow(&mut self, courses: &[Course]) {
        let mut followed = Self::none(courses);
        for (k, column) in followed.states.iter().zip(&mut followed.columns) {
            if let Some(known) = self.states.iter().position(|known| known == k) {
                column.clone_from(&self.columns[known]);
            }
        }
        *self = followed;
    }

    /// Finds the Jacobian by disturbing one lingering state after the other and running a block; what was learned of the others is
    /// forgotten. Also returns the number of blocks run.
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
        let mut memory = Self::none(courses);
        let mut blocks = 1;
        for i in 0..memory.states.len() {
            let k = memory.states[i];
            if !r.lingers(k) {
                continue;
            }
            let within = within(courses[k]);
            // Masses must not become negative.
            let step = if values[k] > 2.0 * within { -within } else { within };
            let mut disturbed = values.clone();
            disturbed[k] += step;
            let after = tried(r, &disturbed)?;
            blocks += 1;
            let mut column: Vec<f64> = after.iter().zip(&plain).map(|(a, b)| (a - b) / step).collect();
            column[k] -= 1.0;
            memory.columns[i] = column;
            memory.seen.push((0..memory.states.len()).map(|j| f64::from(u8::from(i == j))).collect());
        }
        Ok((memory, blocks))
    }

    /// Correction of the settling states that makes their changes over a block match their course n blocks after an
    /// anchor. `place`: values at the start of the block; `changes`: changes over it.
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

    /// Distance of the states from their course in directions not seen so far, in settling widths.
    pub fn unseen(&self, courses: &[Course], aside: &[f64]) -> f64 {
        norm(&self.across(self.scaled(courses, aside)))
    }

    /// Component of a step perpendicular to all directions seen so far, states scaled by their settling width.
    fn across(&self, mut step: Vec<f64>) -> Vec<f64> {
        for seen in &self.seen {
            let along: f64 = seen.iter().zip(&step).map(|(a, b)| a * b).sum();
            step.iter_mut().zip(seen).for_each(|(x, seen)| *x -= along * seen);
        }
        step
    }

    /// Largest change that states off their course may still cause in every quantity until they have returned by
    /// themselves: the Jacobian's estimate times the safety factor, plus an allowance for unseen directions.
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

    /// Largest change of quantity k over a block caused by any one state that is one settling width off its course.
    fn most(&self, courses: &[Course], k: usize) -> f64 {
        let effects = self.states.iter().zip(&self.columns).map(|(&j, column)| (column[k] * within(courses[j])).abs());
        effects.fold(0.0, f64::max)
    }

    fn scaled(&self, courses: &[Course], aside: &[f64]) -> Vec<f64> {
        self.states.iter().zip(aside).map(|(&k, aside)| aside / within(courses[k])).collect()
    }

    /// Updates the Jacobian from two blocks that began a step apart, given the difference of their changes: the
    /// smallest update that explains the difference, states scaled by their settling width (Broyden's update).
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

    /// Changes of all quantities over a block, if the states had been on their course.
    pub fn settled(&self, changes: &[f64], aside: &[f64]) -> Vec<f64> {
        let mut settled = changes.to_vec();
        for (column, aside) in self.columns.iter().zip(aside) {
            // A quantity at rest stays at rest, even if it moved when the disturbances were tried.
            settled
                .iter_mut()
                .zip(column)
                .filter(|(change, _)| **change != 0.0)
                .for_each(|(change, by)| *change += by * aside);
        }
        settled
    }

    /// Largest change over a block of quantity k caused by states off their course: the moduli of all contributions
    /// times the safety factor. Directions not seen so far count with the largest effect of any state.
    pub fn spread(&self, courses: &[Course], k: usize, aside: &[f64], unseen: f64) -> f64 {
        let seen: f64 = self.columns.iter().zip(aside).map(|(column, aside)| (column[k] * aside).abs()).sum();
        MARGIN * seen + self.most(courses, k) * unseen
    }

    /// Corrects values after a block to those that would follow from states on their course before it.
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

#[cfg(test)]
mod tests {
    use super::*;

    /// x returns by a tenth of its distance from 1 in a block, and moves z; y is 2 after every block.
    #[derive(Clone)]
    struct Two([f64; 3]);

    impl Repeating for Two {
        type Held = Self;
        type Error = std::convert::Infallible;
        fn block(&mut self) -> Result<(), Self::Error> {
            let [x, _, z] = self.0;
            self.0 = [x + 0.1 * (1.0 - x), 2.0, z + 3.0 * x];
            Ok(())
        }
        fn quantities(&self) -> Vec<Course> {
            vec![Course::Settles(0.1), Course::Settles(0.1), Course::Drifts(0.0)]
        }
        fn lingers(&self, quantity: usize) -> bool {
            quantity == 0
        }
        fn read(&self) -> Vec<f64> {
            self.0.to_vec()
        }
        fn put(&mut self, values: &[f64], _blocks: f64) {
            self.0.copy_from_slice(values);
        }
        fn hold(&self) -> Self {
            self.clone()
        }
        fn restore(&mut self, held: Self) {
            *self = held;
        }
    }

    #[test]
    fn the_jacobian_takes_a_block_for_each_lingering_state_and_lets_the_others_forget() {
        let mut two = Two([1.5, 2.0, 0.0]);
        let courses = two.quantities();
        let (memory, blocks) = Memory::of(&mut two, &courses).expect("it runs");
        assert_eq!(blocks, 2, "one as it is, one disturbed");
        // ∂(change of x)/∂x = -0.1, ∂(change of z)/∂x = 3
        for (found, exact) in memory.columns[0].iter().zip([-0.1, 0.0, 3.0]) {
            assert!((found - exact).abs() < 1e-12, "{found} for {exact}");
        }
        assert_eq!(memory.columns[1], [0.0, -1.0, 0.0]);
        assert_eq!(memory.seen, [[1.0, 0.0]]);
    }
}

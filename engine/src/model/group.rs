//! A group of laws with the variables it reads: the same code gives rates, exact Jacobian and sparsity.

use super::names::{counter, state};
use crate::integrate::Jacobian;
use crate::real::{Dual, Reach, Real};

/// Placeholder among a group's variables for the rate of the bushing's temperature.
pub(crate) const BUSHING_RATE: usize = 1000;
const ALL: usize = state::COUNT + counter::COUNT;

/// Receiver of flows into a row: a state's rate or a counter's.
pub(crate) trait Sink<R> {
    fn add(&mut self, row: usize, value: R);
}

/// Laws that read K variables.
pub(crate) trait Group<const K: usize> {
    /// Name in the message of a failing ledger.
    const NAME: &'static str;
    const VARIABLES: [usize; K];
    fn flows<R: Real>(&self, x: [R; K], out: &mut impl Sink<R>);

    fn add_rates(&self, y: &[f64], out: &mut [f64]) {
        let (Some(y), Some(out)) = (y.first_chunk::<{ state::COUNT }>(), out.first_chunk_mut::<ALL>()) else { return };
        let x = Self::VARIABLES.map(|v| if v == BUSHING_RATE { out[state::BUSHING] } else { y[v] });
        self.flows(x, &mut Rates(out));
    }

    fn add_slopes(&self, y: &[f64], bushing_rate: f64, out: &mut Jacobian) {
        let value = |v| if v == BUSHING_RATE { bushing_rate } else { y[v] };
        let x = std::array::from_fn(|k| Dual::variable(value(Self::VARIABLES[k]), k));
        let rate_row = if Self::VARIABLES.contains(&BUSHING_RATE) {
            std::array::from_fn(|j| out.states.at(state::BUSHING, j))
        } else {
            [0.0; state::COUNT]
        };
        self.flows::<Dual<K>>(x, &mut Slopes { variables: &Self::VARIABLES, rate_row: &rate_row, out });
    }

    /// Jacobian entries that this group can affect. `reach`: for each row so far, the states that influence it.
    fn add_pattern(&self, y: &[f64], reach: &mut [u64; ALL]) {
        let bushing = reach[state::BUSHING];
        let x = Self::VARIABLES
            .map(|v| if v == BUSHING_RATE { Reach { v: 0.0, set: bushing } } else { Reach { v: y[v], set: 1 << v } });
        self.flows(x, &mut Pattern(reach));
    }
}

struct Rates<'a>(&'a mut [f64; ALL]);
impl Sink<f64> for Rates<'_> {
    fn add(&mut self, row: usize, value: f64) {
        self.0[row] += value;
    }
}

struct Slopes<'a, const K: usize> {
    variables: &'a [usize; K],
    rate_row: &'a [f64; state::COUNT],
    out: &'a mut Jacobian,
}
impl<const K: usize> Sink<Dual<K>> for Slopes<'_, K> {
    fn add(&mut self, row: usize, value: Dual<K>) {
        let Some(k) = self.variables.iter().position(|v| *v == BUSHING_RATE) else {
            self.put(row, self.variables, &value.d);
            return;
        };
        let (mut variables, mut slopes) = (*self.variables, value.d);
        variables[k] = 0;
        let rate = std::mem::take(&mut slopes[k]);
        self.put(row, &variables, &slopes);
        if rate != 0.0 {
            self.put(row, &std::array::from_fn(|j| j), &self.rate_row.map(|slope| rate * slope));
        }
    }
}
impl<const K: usize> Slopes<'_, K> {
    fn put<const N: usize>(&mut self, row: usize, columns: &[usize; N], slopes: &[f64; N]) {
        if row < state::COUNT {
            self.out.states.add_row(row, columns, slopes);
        } else {
            self.out.counters.add_row(row - state::COUNT, columns, slopes);
        }
    }
}

struct Pattern<'a>(&'a mut [u64; ALL]);
impl Sink<Reach> for Pattern<'_> {
    fn add(&mut self, row: usize, value: Reach) {
        self.0[row] |= value.set;
    }
}

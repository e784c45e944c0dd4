//! A group of laws with the variables it reads: the same code gives rates, exact Jacobian and sparsity.

use super::names::{counter, state};
use crate::integrate::Jacobian;
use crate::real::{Dual, Reach, Real};
use std::marker::PhantomData;

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
    /// Whether the bushing's rate is among the variables.
    const READS_RATE: bool = {
        let (mut reads, mut k) = (false, 0);
        while k < K {
            reads |= Self::VARIABLES[k] == BUSHING_RATE;
            k += 1;
        }
        reads
    };
    fn flows<R: Real>(&self, x: [R; K], out: &mut impl Sink<R>);

    fn add_rates(&self, y: &[f64], out: &mut [f64]) {
        let (Some(y), Some(out)) = (y.first_chunk::<{ state::COUNT }>(), out.first_chunk_mut::<ALL>()) else { return };
        let mut x = [0.0; K];
        for (x, &v) in x.iter_mut().zip(&Self::VARIABLES) {
            *x = if v == BUSHING_RATE { out[state::BUSHING] } else { y[v] };
        }
        self.flows(x, &mut Rates(out));
    }

    fn add_slopes(&self, y: &[f64], bushing_rate: f64, out: &mut Jacobian)
    where
        Self: Sized,
    {
        let value = |v| if v == BUSHING_RATE { bushing_rate } else { y[v] };
        let x = std::array::from_fn(|k| Dual::variable(value(Self::VARIABLES[k]), k));
        let rate_row = std::array::from_fn(|j| if Self::READS_RATE { out.states.at(state::BUSHING, j) } else { 0.0 });
        self.flows::<Dual<K>>(x, &mut Slopes::<Self, K> { group: PhantomData, rate_row, out });
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

struct Slopes<'a, G, const K: usize> {
    group: PhantomData<G>,
    rate_row: [f64; state::COUNT],
    out: &'a mut Jacobian,
}
impl<G: Group<K>, const K: usize> Sink<Dual<K>> for Slopes<'_, G, K> {
    #[inline]
    fn add(&mut self, row: usize, value: Dual<K>) {
        let row = if row < state::COUNT { self.out.states.row(row) } else { self.out.counters.row(row - state::COUNT) };
        let Some(row) = row.first_chunk_mut::<{ state::COUNT }>() else { return };
        for k in 0..K {
            let column = G::VARIABLES[k];
            if column != BUSHING_RATE {
                row[column] += value.d[k];
            } else if value.d[k] != 0.0 {
                for (entry, slope) in row.iter_mut().zip(&self.rate_row) {
                    *entry += value.d[k] * slope;
                }
            }
        }
    }
}

struct Pattern<'a>(&'a mut [u64; ALL]);
impl Sink<Reach> for Pattern<'_> {
    fn add(&mut self, row: usize, value: Reach) {
        self.0[row] |= value.set;
    }
}

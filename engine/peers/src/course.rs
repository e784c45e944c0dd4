//! The course of a run by a general solver: modes, events, slow quantities and counters around the solver's steps.

use slipsoak_engine::numerics::{Ended, Entries, Flow, Jacobian, Rows, Sizes, Sparse, Step, Stuck, System};
use slipsoak_engine::simulate::Integrator;
use std::collections::BTreeMap;

/// Events in a row without progress, after which a run is given up.
const CHATTER: u32 = 60;
/// First step where a mode is entered for the first time, s.
const FIRST: f64 = 1e-3;
/// A rate bends within a step if Simpson's rule differs from the middle's value by more than this share of it; change of the
/// rule at which its pieces are short enough; most pieces. As in the engine's stepper.
const BENT: f64 = 0.05;
const CHANGED: f64 = 0.01;
const MOST_PIECES: u32 = 16;

/// What a solver needs of a system while it steps.
pub struct View<'a> {
    pub system: &'a dyn System,
    /// slow quantities foreseen for the middle of the step
    pub ahead: &'a [f64],
    /// slow quantities at its start
    pub slow: &'a [f64],
    /// guards that were above zero at its start: only those can fall
    pub armed: &'a [bool],
    pub tolerance: f64,
}

impl View<'_> {
    /// Guards, with 1 in place of those that cannot fall: a root that rises is no event.
    pub fn guards(&self, t: f64, y: &[f64], out: &mut [f64]) {
        self.system.guards(t, y, self.slow, out);
        for (g, armed) in out.iter_mut().zip(self.armed) {
            if !armed {
                *g = 1.0;
            }
        }
    }
}

/// End of a step.
pub struct Taken {
    /// s
    pub time: f64,
    /// guard that fell through zero there
    pub guard: Option<usize>,
    /// length of the next step, s
    pub next: f64,
}

/// A solver that makes one step after the other.
pub trait Method {
    /// Whether its steps are many and short, as those of multistep methods: counters then need no rates at their middle.
    const MULTISTEP: bool;
    /// Starts at a state with a first step, up to an end, s. `rates` are those of states, then counters.
    fn start(&mut self, view: &View<'_>, t: f64, end: f64, y: &[f64], rates: &[f64], first: f64);
    /// Makes one step; `y` gets the states at its end.
    fn step(&mut self, view: &View<'_>, y: &mut [f64]) -> Result<Taken, Stuck>;
}

/// Jacobian of a system in any mode, and in each kind of mode.
pub fn jacobian_of(system: &dyn System) -> Jacobian {
    jacobian(system, system.pattern())
}
pub fn jacobians_of(system: &dyn System) -> Vec<Jacobian> {
    system.patterns().into_iter().map(|entries| jacobian(system, entries)).collect()
}

fn jacobian(system: &dyn System, (own, counted): (Entries, Entries)) -> Jacobian {
    let Sizes { states, counters, .. } = system.sizes();
    Jacobian { states: Sparse::new(states, own), counters: Rows::new(counters, states, counted) }
}

/// Sets the entries that never change, after the system may have changed.
pub fn refresh(jacobian: &mut Jacobian, system: &dyn System) {
    jacobian.states.forget();
    system.constant_slopes(jacobian);
    jacobian.states.keep();
}

/// A run by a general solver.
pub struct Course<M> {
    method: M,
    tolerance: f64,
    /// first step of each mode, s
    first: BTreeMap<u64, f64>,
    room: Room,
    pub steps: u64,
}

/// Work fields.
#[derive(Default)]
struct Room {
    before: Vec<f64>,
    after: Vec<f64>,
    middle: Vec<f64>,
    inside: Vec<f64>,
    dense: [Vec<f64>; 2],
    rates: [Vec<f64>; 3],
    guards: [Vec<f64>; 2],
    armed: Vec<bool>,
    ahead: Vec<f64>,
    way: Vec<f64>,
    slow_before: Vec<f64>,
    slow: [Vec<f64>; 6],
}

impl<M: Method> Course<M> {
    pub fn new(method: M, tolerance: f64) -> Self {
        Self { method, tolerance, first: BTreeMap::new(), room: Room::default(), steps: 0 }
    }
}

fn fill(room: &mut Room, s: Sizes) {
    if room.before.is_empty() {
        let all = s.states + s.counters;
        let zeros = |n: usize| vec![0.0; n];
        *room = Room {
            before: zeros(all),
            after: zeros(all),
            middle: zeros(s.states),
            inside: zeros(s.states),
            dense: [zeros(s.states), zeros(s.states)],
            rates: [zeros(all), zeros(all), zeros(all)],
            guards: [zeros(s.guards), zeros(s.guards)],
            armed: vec![false; s.guards],
            ahead: zeros(s.slow),
            way: zeros(s.slow),
            slow_before: zeros(s.slow),
            slow: std::array::from_fn(|_| zeros(s.slow)),
        };
    }
}

/// States at a share of a step, by the cubic through both ends with their rates.
fn inside(dense: &[Vec<f64>; 2], before: &[f64], after: &[f64], share: f64, out: &mut [f64]) {
    for (k, x) in out.iter_mut().enumerate() {
        let (first, second) = (dense[0][k], dense[1][k]);
        *x = before[k] * (1.0 - share) + share * (after[k] + (1.0 - share) * (first + share * second));
    }
}

impl<M: Method> Integrator for Course<M> {
    fn advance(
        &mut self,
        system: &mut dyn System,
        t: &mut f64,
        end: f64,
        y: &mut [f64],
        slow: &mut [f64],
    ) -> Result<Ended, Stuck> {
        let sizes = system.sizes();
        let n = sizes.states;
        fill(&mut self.room, sizes);
        let mut chatter = 0;
        let over = |t: f64| end - t <= 1e-12 * end.abs().max(1.0);
        'mode: loop {
            let mode = system.mode();
            let r = &mut self.room;
            let mut next = self.first.get(&mode).copied().unwrap_or(FIRST);
            system.slow_rates(*t, &y[..n], slow, &mut r.slow[0]);
            // Length of the step before, s; 0 for the first of a mode.
            let mut last = 0.0;
            while !over(*t) {
                let r = &mut self.room;
                r.ahead.copy_from_slice(slow);
                system.slow_advance(&mut r.ahead, &r.slow[0], 0.5 * next.min(end - *t));
                system.guards(*t, &y[..n], slow, &mut r.guards[0]);
                for (armed, g) in r.armed.iter_mut().zip(&r.guards[0]) {
                    *armed = *g > 0.0;
                }
                r.before.copy_from_slice(y);
                let view = View { system, ahead: &r.ahead, slow, armed: &r.armed, tolerance: self.tolerance };
                if last == 0.0 {
                    system.rates(*t, &y[..n], &r.ahead, &mut r.rates[1]);
                    self.method.start(&view, *t, end, &y[..n], &r.rates[1], next.min(end - *t));
                }
                let taken = self.method.step(&view, &mut r.after[..n])?;
                let h = taken.time - *t;
                if !(h > 0.0) || r.after[..n].iter().any(|x| !x.is_finite()) {
                    return Err(Stuck::NoProgress { state: 0, time: *t });
                }
                next = taken.next;
                if last == 0.0 {
                    self.first.insert(mode, next.clamp(0.5 * h, 2.0 * h));
                }
                system.rates(taken.time, &r.after[..n], &r.ahead, &mut r.rates[2]);
                for k in 0..n {
                    let rise = r.after[k] - r.before[k];
                    r.dense[0][k] = h * r.rates[1][k] - rise;
                    r.dense[1][k] = rise - h * r.rates[2][k] - r.dense[0][k];
                }
                inside(&r.dense, &r.before, &r.after, 0.5, &mut r.middle);
                count(system, *t, h, last, M::MULTISTEP, n, r);
                system.bound(&r.before, &mut r.after, &mut r.middle);
                sum_up(system, *t, h, n, slow, r);
                r.slow_before.copy_from_slice(slow);
                system.slow_advance(slow, &r.slow[1], h);
                system.accepted(&Step {
                    start: *t,
                    length: h,
                    before: &r.before[..n],
                    after: &r.after[..n],
                    middle: &r.middle,
                    counters_before: &r.before[n..],
                    counters: &r.after[n..],
                    dense: [&r.dense[0], &r.dense[1]],
                    slow_before: &r.slow_before,
                    slow_rates: &r.slow[1],
                    slow_ends: [&r.slow[0], &r.slow[2]],
                    slow,
                });
                self.steps += 1;
                y.copy_from_slice(&r.after);
                *t = if over(taken.time) { end } else { taken.time };
                r.slow.swap(0, 2);
                r.rates.rotate_left(1);
                last = h;
                system.guards(*t, &y[..n], slow, &mut r.guards[1]);
                let sunk = r.guards[0].iter().zip(&r.guards[1]).position(|(a, b)| *a <= 0.0 && b < a);
                let fell = r.guards[0].iter().zip(&r.guards[1]).position(|(a, b)| *a > 0.0 && *b <= 0.0);
                if let Some(guard) = taken.guard.or(fell).or(sunk) {
                    chatter = if h < 1e-6 { chatter + 1 } else { 0 };
                    if chatter > CHATTER {
                        return Err(Stuck::Chatter { guard, time: *t });
                    }
                    if system.cross(guard, *t, y, slow) == Flow::Stop {
                        return Ok(Ended::AtEvent(guard));
                    }
                    continue 'mode;
                }
            }
            return Ok(Ended::InTime);
        }
    }
}

/// Counters at the end of a step: by Simpson's rule, or by the parabola through the rates of three ends of steps.
fn count(system: &dyn System, t: f64, h: f64, last: f64, multistep: bool, n: usize, r: &mut Room) {
    let all = r.before.len();
    if multistep && last > 0.0 {
        let ratio = h / last;
        for k in n..all {
            let [older, old, new] = [r.rates[0][k], r.rates[1][k], r.rates[2][k]];
            let bend = (new - old - ratio * (old - older)) * ratio / (1.0 + ratio);
            r.after[k] = r.before[k] + h * (0.5 * (old + new) - bend / 6.0);
        }
    } else {
        system.rates(t + 0.5 * h, &r.middle, &r.ahead, &mut r.rates[0]);
        for k in n..all {
            r.after[k] = r.before[k] + h / 6.0 * (r.rates[1][k] + 4.0 * r.rates[0][k] + r.rates[2][k]);
        }
    }
}

/// Mean slow rates of a step by Simpson's rule, with its pieces halved where a rate bends, into `slow[1]`; those at the end
/// into `slow[2]`.
fn sum_up(system: &dyn System, t: f64, h: f64, n: usize, slow: &[f64], r: &mut Room) {
    let [start, mean, end, even, odd, found] = &mut r.slow;
    let way = &mut r.way;
    way.copy_from_slice(slow);
    system.slow_advance(way, start, 0.5 * h);
    system.slow_rates(t + 0.5 * h, &r.middle, way, mean);
    way.copy_from_slice(slow);
    system.slow_advance(way, mean, h);
    system.slow_rates(t + h, &r.after[..n], way, end);
    odd.copy_from_slice(mean);
    even.fill(0.0);
    let mut bends = false;
    for ((m, s), e) in mean.iter_mut().zip(&*start).zip(&*end) {
        let sum = s + 4.0 * *m + e;
        bends |= (s - 2.0 * *m + e).abs() > BENT * sum.abs();
        *m = sum / 6.0;
    }
    let mut pieces = 1;
    while bends && pieces < MOST_PIECES {
        for (e, o) in even.iter_mut().zip(&mut *odd) {
            *e += std::mem::take(o);
        }
        pieces *= 2;
        for k in 0..pieces {
            let share = (f64::from(k) + 0.5) / f64::from(pieces);
            inside(&r.dense, &r.before, &r.after, share, &mut r.inside);
            way.copy_from_slice(slow);
            system.slow_advance(way, mean, share * h);
            system.slow_rates(t + share * h, &r.inside, way, found);
            odd.iter_mut().zip(&*found).for_each(|(o, f)| *o += f);
        }
        bends = false;
        for k in 0..mean.len() {
            let sum = (start[k] + end[k] + 2.0 * even[k] + 4.0 * odd[k]) / f64::from(6 * pieces);
            bends |= (sum - mean[k]).abs() > CHANGED * sum.abs();
            mean[k] = sum + (sum - mean[k]) / 15.0;
        }
    }
}

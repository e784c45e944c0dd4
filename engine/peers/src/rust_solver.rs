//! Methods of diffsol: BDF of varying order, TR-BDF2 and ESDIRK34.
//!
//! A solver lives as long as its problem, and a problem has one set of error weights: there is a solver for each set, made once
//! and started again at each event. Its equations see the system through a pointer that is set for the duration of a call.

use crate::course::{Method, Taken, View, jacobian_of, refresh};
use diffsol::{
    Bdf, ConstantOp, LinearSolver, Matrix, MatrixCommon, NalgebraContext, NalgebraLU, NalgebraMat, NalgebraVec,
    NonLinearOp, NonLinearOpJacobian, OdeBuilder, OdeEquations, OdeEquationsRef, OdeSolverMethod, OdeSolverProblem,
    OdeSolverStopReason, Op, ParameterisedOp, RkState, Sdirk, Tableau, UnitCallable, Vector, VectorCommon,
};
use slipsoak_engine::numerics::{Entries, Jacobian, Sparse, Stuck};
use std::cell::{Cell, RefCell};
use std::marker::PhantomData;
use std::rc::Rc;

type M = NalgebraMat<f64>;
type V = NalgebraVec<f64>;

/// What the equations see at present.
struct Seen {
    view: Cell<Option<*const View<'static>>>,
    jacobian: RefCell<Option<Jacobian>>,
    entries: RefCell<Entries>,
    rates: RefCell<Vec<f64>>,
    n: Cell<usize>,
    guards: Cell<usize>,
    ctx: NalgebraContext,
}

impl Seen {
    fn view(&self) -> &View<'_> {
        let view = self.view.get().expect("a view is shown while a solver works");
        // SAFETY: `Shown` keeps the pointer for as long as the view lives and takes it away at its end.
        unsafe { &*view }
    }
}

/// Shows a view to the equations until it is dropped.
struct Shown<'a>(&'a Seen);

impl<'a> Shown<'a> {
    fn of(seen: &'a Seen, view: &View<'_>) -> Self {
        seen.view.set(Some(std::ptr::from_ref(view).cast()));
        Self(seen)
    }
}

impl Drop for Shown<'_> {
    fn drop(&mut self) {
        self.0.view.set(None);
    }
}

/// The system as equations of diffsol.
#[derive(Clone)]
pub struct Equations(Rc<Seen>);
pub struct Rates<'a>(&'a Seen);
pub struct Guards<'a>(&'a Seen);
pub struct Opening<'a>(&'a Seen);

macro_rules! operator {
    ($name:ty, $out:ident) => {
        impl Op for $name {
            type T = f64;
            type V = V;
            type M = M;
            type C = NalgebraContext;
            fn context(&self) -> &NalgebraContext {
                &self.0.ctx
            }
            fn nstates(&self) -> usize {
                self.0.n.get()
            }
            fn nout(&self) -> usize {
                self.0.$out.get()
            }
            fn nparams(&self) -> usize {
                0
            }
        }
    };
}
operator!(Equations, n);
operator!(Rates<'_>, n);
operator!(Guards<'_>, guards);
operator!(Opening<'_>, n);

fn of(x: &V) -> &[f64] {
    x.inner().as_slice()
}

impl NonLinearOp for Rates<'_> {
    fn call_inplace(&self, x: &V, t: f64, y: &mut V) {
        let view = self.0.view();
        let out = &mut *self.0.rates.borrow_mut();
        view.system.rates(t, of(x), view.ahead, out);
        y.batch_as_mut_slice(0).copy_from_slice(&out[..self.0.n.get()]);
    }
}

impl NonLinearOpJacobian for Rates<'_> {
    fn jac_mul_inplace(&self, x: &V, t: f64, v: &V, y: &mut V) {
        let mut whole = M::zeros(self.0.n.get(), self.0.n.get(), self.0.ctx);
        self.jacobian_inplace(x, t, &mut whole);
        whole.gemv(1.0, v, 0.0, y);
    }

    fn jacobian_inplace(&self, x: &V, t: f64, y: &mut M) {
        let view = self.0.view();
        let rates = &mut *self.0.rates.borrow_mut();
        view.system.rates(t, of(x), view.ahead, rates);
        let slopes = &mut *self.0.jacobian.borrow_mut();
        let slopes = slopes.as_mut().expect("made at the start");
        slopes.states.clear();
        slopes.counters.clear();
        view.system.jacobian(t, of(x), view.ahead, rates, slopes);
        let n = self.0.n.get();
        let out = y.inner_mut().as_mut_slice();
        out.fill(0.0);
        for &(i, j) in &*self.0.entries.borrow() {
            out[j * n + i] = slopes.states.at(i, j);
        }
    }
}

impl NonLinearOp for Guards<'_> {
    fn call_inplace(&self, x: &V, t: f64, y: &mut V) {
        self.0.view().guards(t, of(x), y.batch_as_mut_slice(0));
    }
}

impl ConstantOp for Opening<'_> {
    fn call_inplace(&self, _t: f64, y: &mut V) {
        y.fill(0.0);
    }
}

impl<'a> OdeEquationsRef<'a> for Equations {
    type Mass = ParameterisedOp<'a, UnitCallable<M>>;
    type Rhs = Rates<'a>;
    type Root = Guards<'a>;
    type Init = Opening<'a>;
    type Out = ParameterisedOp<'a, UnitCallable<M>>;
    type Reset = ParameterisedOp<'a, UnitCallable<M>>;
}

impl OdeEquations for Equations {
    fn rhs(&self) -> Rates<'_> {
        Rates(&self.0)
    }
    fn mass(&self) -> Option<ParameterisedOp<'_, UnitCallable<M>>> {
        None
    }
    fn root(&self) -> Option<Guards<'_>> {
        Some(Guards(&self.0))
    }
    fn init(&self) -> Opening<'_> {
        Opening(&self.0)
    }
    fn set_params(&mut self, _: &V) {}
    fn get_params(&self, _: &mut V) {}
}

thread_local! {
    /// Entries of the matrix, for solvers that the library makes by default.
    static ENTRIES: RefCell<Entries> = const { RefCell::new(vec![]) };
}

/// The engine's sparse LU as a linear solver.
#[derive(Default)]
pub struct OwnLu {
    sparse: Option<Sparse>,
    whole: Option<M>,
    entries: Entries,
}

impl diffsol_la::LinearSolver<M> for OwnLu {
    fn set_linearisation<C: diffsol::LaLinearOp<V = V, T = f64, M = M, C = NalgebraContext>>(&mut self, op: &C) {
        let (Some(sparse), Some(whole)) = (&mut self.sparse, &mut self.whole) else { return };
        op.matrix_inplace(whole);
        let (n, values) = (whole.nrows(), whole.inner().as_slice());
        sparse.clear();
        for &(i, j) in &self.entries {
            sparse.add(i, j, -values[j * n + i]);
        }
        sparse.factorise(0.0);
    }

    fn set_sparsity<C: diffsol::LaLinearOp<V = V, T = f64, M = M, C = NalgebraContext>>(&mut self, op: &C) {
        self.entries = ENTRIES.with_borrow(Clone::clone);
        let n = op.nrows();
        self.entries.extend((0..n).map(|i| (i, i)));
        self.entries.sort_unstable();
        self.entries.dedup();
        self.sparse = Some(Sparse::new(n, self.entries.iter().copied()));
        self.whole = Some(M::zeros(n, n, *op.context()));
    }

    fn solve_in_place(&self, b: &mut V) -> Result<(), diffsol::LaError> {
        self.sparse.as_ref().expect("set before").solve(b.batch_as_mut_slice(0));
        Ok(())
    }

    fn solve_transpose_in_place(&self, _: &mut V) -> Result<(), diffsol::LaError> {
        unreachable!("no adjoint is asked for")
    }
}

type Problem = OdeSolverProblem<Equations>;

/// A family of solvers.
pub trait Family<L>: 'static {
    type Solver: OdeSolverMethod<'static, Equations>;
    const MULTISTEP: bool;
    fn make(problem: &'static Problem) -> Self::Solver;
}

/// Backward differentiation.
pub struct Backward;
/// TR-BDF2.
pub struct TrBdf2;
/// ESDIRK34.
pub struct Esdirk34;

impl<L: LinearSolver<M> + 'static> Family<L> for Backward {
    type Solver = Bdf<'static, Equations, L>;
    const MULTISTEP: bool = true;
    fn make(problem: &'static Problem) -> Self::Solver {
        let state = problem.bdf_state::<L>().expect("a state");
        problem.bdf_solver::<L>(state).expect("a solver")
    }
}

macro_rules! diagonal {
    ($name:ty, $solver:ident, $tableau:ident) => {
        impl<L: LinearSolver<M> + 'static> Family<L> for $name {
            type Solver = Sdirk<'static, Equations, L>;
            const MULTISTEP: bool = false;
            fn make(problem: &'static Problem) -> Self::Solver {
                let state: RkState<V> = problem.rk_state(&Tableau::<f64>::$tableau()).expect("a state");
                problem.$solver::<L>(state).expect("a solver")
            }
        }
    };
}
diagonal!(TrBdf2, tr_bdf2_solver, tr_bdf2);
diagonal!(Esdirk34, esdirk34_solver, esdirk34);

/// A method of diffsol with a linear solver.
pub struct RustSolver<F: Family<L>, L> {
    seen: Rc<Seen>,
    /// solvers by their error weights
    solvers: Vec<(Vec<f64>, F::Solver)>,
    now: usize,
    armed: Vec<bool>,
    linear: PhantomData<L>,
}

impl<F: Family<L>, L> RustSolver<F, L> {
    pub fn new() -> Self {
        let seen = Seen {
            view: Cell::new(None),
            jacobian: RefCell::new(None),
            entries: RefCell::default(),
            rates: RefCell::default(),
            n: Cell::new(0),
            guards: Cell::new(0),
            ctx: NalgebraContext::default(),
        };
        Self { seen: Rc::new(seen), solvers: vec![], now: 0, armed: vec![], linear: PhantomData }
    }

    /// The solver with these weights.
    fn solver(&mut self, view: &View<'_>, t: f64, first: f64) -> usize {
        let weights = view.system.abs_tol();
        if let Some(known) = self.solvers.iter().position(|s| s.0 == weights) {
            return known;
        }
        let atol: Vec<f64> = weights.iter().map(|w| w * view.tolerance).collect();
        let builder = OdeBuilder::<M>::new().rtol(0.0).atol(atol).t0(t).h0(first);
        let mut problem = builder.build_from_eqn(Equations(self.seen.clone())).expect("a problem");
        // It counts failures over the whole life of a solver.
        problem.ode_options.max_nonlinear_solver_failures = usize::MAX;
        // One problem for each set of weights of a run: kept until the bench ends.
        let made = F::make(Box::leak(Box::new(problem)));
        self.solvers.push((weights.to_vec(), made));
        self.solvers.len() - 1
    }
}

impl<F: Family<L>, L> Method for RustSolver<F, L> {
    const MULTISTEP: bool = F::MULTISTEP;

    fn start(&mut self, view: &View<'_>, t: f64, end: f64, y: &[f64], rates: &[f64], first: f64) {
        let seen = self.seen.clone();
        if seen.n.get() == 0 {
            let sizes = view.system.sizes();
            seen.n.set(sizes.states);
            seen.guards.set(sizes.guards);
            seen.rates.replace(vec![0.0; sizes.states + sizes.counters]);
            seen.jacobian.replace(Some(jacobian_of(view.system)));
            let entries = view.system.pattern().0;
            ENTRIES.set(entries.clone());
            seen.entries.replace(entries);
        }
        if let Some(slopes) = &mut *seen.jacobian.borrow_mut() {
            refresh(slopes, view.system);
        }
        let _shown = Shown::of(&seen, view);
        self.now = self.solver(view, t, first);
        let solver = &mut self.solvers[self.now].1;
        let state = solver.state_mut();
        state.y.batch_as_mut_slice(0).copy_from_slice(y);
        state.dy.batch_as_mut_slice(0).copy_from_slice(&rates[..y.len()]);
        (*state.t, *state.h) = (t, first);
        // Takes the Jacobian of the new mode.
        let _ = solver.checkpoint();
        let _ = solver.set_stop_time(end);
        self.armed.clear();
    }

    fn step(&mut self, view: &View<'_>, y: &mut [f64]) -> Result<Taken, Stuck> {
        let seen = self.seen.clone();
        let _shown = Shown::of(&seen, view);
        let solver = &mut self.solvers[self.now].1;
        let failed = |time: f64| Stuck::NoProgress { state: 0, time };
        let begun = solver.state().t;
        let reason = solver.step().map_err(|_| failed(begun))?;
        let (time, guard) = match reason {
            OdeSolverStopReason::RootFound(time, guard) => {
                y.copy_from_slice(of(&solver.interpolate(time).map_err(|_| failed(begun))?));
                (time, Some(guard))
            }
            _ => {
                y.copy_from_slice(of(solver.state().y));
                (solver.state().t, None)
            }
        };
        Ok(Taken { time, guard, next: solver.state().h })
    }
}

/// The library's dense LU.
pub type DenseLu = NalgebraLU<f64>;

//! CVODE of SUNDIALS 6 with exact slopes: its BDF with the engine's sparse LU, or with KLU.
//!
//! The declarations below are those of the C headers of version 6 in double precision with 64-bit indices, as Debian builds it.

use crate::course::{Method, Taken, View, jacobians_of, refresh};
use slipsoak_engine::numerics::{Entries, Jacobian, Stuck};
use std::ffi::{c_int, c_long, c_void};
use std::ptr::null_mut;

type Handle = *mut c_void;
type RatesFn = unsafe extern "C" fn(f64, Handle, Handle, Handle) -> c_int;
type RootFn = unsafe extern "C" fn(f64, Handle, *mut f64, Handle) -> c_int;
type LinearSystemFn =
    unsafe extern "C" fn(f64, Handle, Handle, Handle, c_int, *mut c_int, f64, Handle, Handle, Handle, Handle) -> c_int;

const BDF: c_int = 2;
const ONE_STEP: c_int = 2;
const ROOT_RETURN: c_int = 2;
const COLUMNS: c_int = 0;
const AMD: c_int = 0;

/// Operations of a linear solver, in the order of the header.
#[repr(C)]
struct Operations {
    kind: Option<unsafe extern "C" fn(Handle) -> c_int>,
    id: Option<unsafe extern "C" fn(Handle) -> c_int>,
    set_a_times: Handle,
    set_preconditioner: Handle,
    set_scaling: Handle,
    set_zero_guess: Handle,
    initialise: Option<unsafe extern "C" fn(Handle) -> c_int>,
    setup: Option<unsafe extern "C" fn(Handle, Handle) -> c_int>,
    solve: Option<unsafe extern "C" fn(Handle, Handle, Handle, Handle, f64) -> c_int>,
    iterations: Handle,
    residual_norm: Handle,
    last_flag: Handle,
    space: Handle,
    residual: Handle,
    free: Handle,
}

#[repr(C)]
struct LinearSolver {
    content: Handle,
    operations: *mut Operations,
    context: Handle,
}

#[link(name = "sundials_cvode")]
#[link(name = "sundials_sunlinsolklu")]
#[link(name = "sundials_sunmatrixsparse")]
#[link(name = "sundials_nvecserial")]
unsafe extern "C" {
    fn SUNContext_Create(comm: Handle, context: *mut Handle) -> c_int;
    fn SUNContext_Free(context: *mut Handle) -> c_int;
    fn N_VNew_Serial(length: i64, context: Handle) -> Handle;
    fn N_VGetArrayPointer_Serial(v: Handle) -> *mut f64;
    fn N_VDestroy_Serial(v: Handle);
    fn SUNSparseMatrix(rows: i64, columns: i64, entries: i64, by: c_int, context: Handle) -> Handle;
    fn SUNSparseMatrix_Data(matrix: Handle) -> *mut f64;
    fn SUNSparseMatrix_IndexValues(matrix: Handle) -> *mut i64;
    fn SUNSparseMatrix_IndexPointers(matrix: Handle) -> *mut i64;
    fn SUNMatDestroy_Sparse(matrix: Handle);
    fn SUNLinSol_KLU(y: Handle, matrix: Handle, context: Handle) -> Handle;
    fn SUNLinSol_KLUSetOrdering(solver: Handle, ordering: c_int) -> c_int;
    fn SUNLinSolFree_KLU(solver: Handle) -> c_int;
    fn SUNLinSolNewEmpty(context: Handle) -> *mut LinearSolver;
    fn SUNLinSolFreeEmpty(solver: *mut LinearSolver);
    fn CVodeCreate(method: c_int, context: Handle) -> Handle;
    fn CVodeInit(cvode: Handle, rates: RatesFn, t: f64, y: Handle) -> c_int;
    fn CVodeReInit(cvode: Handle, t: f64, y: Handle) -> c_int;
    fn CVodeSVtolerances(cvode: Handle, relative: f64, absolute: Handle) -> c_int;
    fn CVodeSetUserData(cvode: Handle, data: Handle) -> c_int;
    fn CVodeSetLinearSolver(cvode: Handle, solver: Handle, matrix: Handle) -> c_int;
    fn CVodeSetLinSysFn(cvode: Handle, system: LinearSystemFn) -> c_int;
    fn CVodeSetMaxOrd(cvode: Handle, order: c_int) -> c_int;
    fn CVodeSetNonlinConvCoef(cvode: Handle, share: f64) -> c_int;
    fn CVodeSetMaxNumSteps(cvode: Handle, steps: c_long) -> c_int;
    fn CVodeSetErrFile(cvode: Handle, file: Handle) -> c_int;
    fn CVodeSetInitStep(cvode: Handle, step: f64) -> c_int;
    fn CVodeSetStopTime(cvode: Handle, t: f64) -> c_int;
    fn CVodeRootInit(cvode: Handle, roots: c_int, guards: RootFn) -> c_int;
    fn CVodeSetRootDirection(cvode: Handle, directions: *mut c_int) -> c_int;
    fn CVodeSetNoInactiveRootWarn(cvode: Handle) -> c_int;
    fn CVode(cvode: Handle, until: f64, y: Handle, t: *mut f64, task: c_int) -> c_int;
    fn CVodeGetRootInfo(cvode: Handle, found: *mut c_int) -> c_int;
    fn CVodeGetCurrentStep(cvode: Handle, step: *mut f64) -> c_int;
    fn CVodeFree(cvode: *mut Handle);
}

/// The linear solver that CVODE calls.
#[derive(Clone, Copy, PartialEq)]
pub enum Linear {
    /// the engine's sparse LU
    Own,
    Klu,
}

/// Settings of CVODE, at first its own.
#[derive(Clone, Copy)]
pub struct Settings {
    pub linear: Linear,
    pub order: i32,
    /// share of the tolerance at which Newton's iteration has converged
    pub converged: f64,
}

/// What the functions that CVODE calls work with.
struct Data {
    n: usize,
    view: *const View<'static>,
    /// one for each kind of mode, and the present kind
    jacobians: Vec<Jacobian>,
    kind: usize,
    /// entries by columns, and where each column starts, for KLU
    entries: Entries,
    starts: Vec<i64>,
    gamma: f64,
    linear: Linear,
    rates: Vec<f64>,
    /// right-hand side, as long as the engine's solver likes it
    field: Vec<f64>,
}

/// CVODE with its handles.
pub struct Cvode {
    settings: Settings,
    open: Option<Open>,
}

struct Open {
    context: Handle,
    cvode: Handle,
    y: Handle,
    weights: Handle,
    matrix: Handle,
    solver: Handle,
    data: Box<Data>,
    found: Vec<c_int>,
    end: f64,
}

impl Cvode {
    pub fn new(settings: Settings) -> Self {
        Self { settings, open: None }
    }
}

/// Values of a vector.
unsafe fn values<'a>(v: Handle, n: usize) -> &'a mut [f64] {
    // SAFETY: every vector here was made with n entries or cloned from one that was.
    unsafe { std::slice::from_raw_parts_mut(N_VGetArrayPointer_Serial(v), n) }
}

unsafe extern "C" fn rates(t: f64, y: Handle, out: Handle, data: Handle) -> c_int {
    // SAFETY: CVODE passes the data it was given; the view lives while a step is made.
    unsafe {
        let data = &mut *data.cast::<Data>();
        let view = &*data.view;
        view.system.rates(t, values(y, data.n), view.ahead, &mut data.rates);
        values(out, data.n).copy_from_slice(&data.rates[..data.n]);
    }
    0
}

unsafe extern "C" fn guards(t: f64, y: Handle, out: *mut f64, data: Handle) -> c_int {
    // SAFETY: as in `rates`; `out` has as many entries as there are guards.
    unsafe {
        let data = &*data.cast::<Data>();
        let view = &*data.view;
        view.guards(t, values(y, data.n), std::slice::from_raw_parts_mut(out, view.armed.len()));
    }
    0
}

/// Makes I − γJ in place for KLU, whose pattern stays; for the engine's LU, γ is enough.
#[allow(clippy::too_many_arguments)]
unsafe extern "C" fn linear_system(
    t: f64,
    y: Handle,
    rates: Handle,
    matrix: Handle,
    keep: c_int,
    fresh: *mut c_int,
    gamma: f64,
    data: Handle,
    _: Handle,
    _: Handle,
    _: Handle,
) -> c_int {
    // SAFETY: as in `rates`; the matrix is the one that was given, with room for all entries.
    unsafe {
        let data = &mut *data.cast::<Data>();
        let view = &*data.view;
        if keep == 0 {
            let slopes = &mut data.jacobians[data.kind];
            slopes.states.clear();
            slopes.counters.clear();
            view.system.jacobian(t, values(y, data.n), view.ahead, values(rates, data.n), slopes);
        }
        *fresh = c_int::from(keep == 0);
        data.gamma = gamma;
        if data.linear == Linear::Klu {
            let room = std::slice::from_raw_parts_mut(SUNSparseMatrix_Data(matrix), data.entries.len());
            for (x, &(i, j)) in room.iter_mut().zip(&data.entries) {
                *x = f64::from(u8::from(i == j)) - gamma * data.jacobians[data.kind].states.at(i, j);
            }
        }
    }
    0
}

unsafe extern "C" fn direct(_: Handle) -> c_int {
    0
}

unsafe extern "C" fn custom(_: Handle) -> c_int {
    17
}

unsafe extern "C" fn ready(_: Handle) -> c_int {
    0
}

unsafe extern "C" fn factorise(solver: Handle, _: Handle) -> c_int {
    // SAFETY: the content is the data of this solver's run.
    let data = unsafe { &mut *(*solver.cast::<LinearSolver>()).content.cast::<Data>() };
    // A singular matrix is an error from which CVODE recovers by a shorter step.
    c_int::from(!data.jacobians[data.kind].states.factorise(1.0 / data.gamma))
}

unsafe extern "C" fn solve(solver: Handle, _: Handle, x: Handle, b: Handle, _: f64) -> c_int {
    // SAFETY: as in `factorise`; both vectors have n entries.
    unsafe {
        let data = &mut *(*solver.cast::<LinearSolver>()).content.cast::<Data>();
        let (n, over) = (data.n, 1.0 / data.gamma);
        for (f, b) in data.field.iter_mut().zip(values(b, n)) {
            *f = *b * over;
        }
        data.jacobians[data.kind].states.solve(&mut data.field);
        values(x, n).copy_from_slice(&data.field[..n]);
    }
    0
}

/// Opens CVODE for a system.
unsafe fn open(settings: Settings, view: &View<'_>, t: f64, start: &[f64]) -> Open {
    let n = start.len();
    let sizes = view.system.sizes();
    let mut entries = view.system.pattern().0;
    entries.extend((0..n).map(|i| (i, i)));
    entries.sort_unstable_by_key(|&(i, j)| (j, i));
    entries.dedup();
    let starts = (0..=n).map(|j| entries.iter().filter(|e| e.1 < j).count() as i64).collect();
    let mut data = Box::new(Data {
        n,
        view: std::ptr::from_ref(view).cast(),
        jacobians: jacobians_of(view.system),
        kind: 0,
        entries,
        starts,
        gamma: 1.0,
        linear: settings.linear,
        rates: vec![0.0; sizes.states + sizes.counters],
        field: vec![0.0; 256],
    });
    let own: Handle = std::ptr::from_mut(&mut *data).cast();
    let good = |flag: c_int| assert!(flag >= 0, "SUNDIALS refuses its set-up with {flag}");
    // SAFETY: handles are made in the order that the library asks for, and freed in `drop`; `data` is boxed and outlives them.
    unsafe {
        let mut context = null_mut();
        good(SUNContext_Create(null_mut(), &raw mut context));
        let (y, weights) = (N_VNew_Serial(n as i64, context), N_VNew_Serial(n as i64, context));
        values(y, n).copy_from_slice(start);
        let cvode = CVodeCreate(BDF, context);
        good(CVodeInit(cvode, rates, t, y));
        values(weights, n).fill(1.0);
        good(CVodeSVtolerances(cvode, 0.0, weights));
        good(CVodeSetUserData(cvode, own));
        let matrix = SUNSparseMatrix(n as i64, n as i64, data.entries.len() as i64, COLUMNS, context);
        let solver = match settings.linear {
            Linear::Klu => {
                // KLU's symbolic part needs the pattern before the first step.
                write_pattern(matrix, &data);
                let solver = SUNLinSol_KLU(y, matrix, context);
                good(SUNLinSol_KLUSetOrdering(solver, AMD));
                solver
            }
            Linear::Own => {
                let solver = SUNLinSolNewEmpty(context);
                (*solver).content = own;
                let operations = &mut *(*solver).operations;
                operations.kind = Some(direct);
                operations.id = Some(custom);
                operations.initialise = Some(ready);
                operations.setup = Some(factorise);
                operations.solve = Some(solve);
                solver.cast()
            }
        };
        good(CVodeSetLinearSolver(cvode, solver, matrix));
        good(CVodeSetLinSysFn(cvode, linear_system));
        good(CVodeSetMaxOrd(cvode, settings.order));
        good(CVodeSetNonlinConvCoef(cvode, settings.converged));
        good(CVodeSetMaxNumSteps(cvode, 1_000_000));
        good(CVodeSetErrFile(cvode, null_mut()));
        good(CVodeRootInit(cvode, sizes.guards as c_int, guards));
        let mut falling = vec![-1; sizes.guards];
        good(CVodeSetRootDirection(cvode, falling.as_mut_ptr()));
        good(CVodeSetNoInactiveRootWarn(cvode));
        Open { context, cvode, y, weights, matrix, solver, data, found: vec![0; sizes.guards], end: t }
    }
}

/// Writes the pattern of a matrix.
unsafe fn write_pattern(matrix: Handle, data: &Data) {
    // SAFETY: the matrix has room for all entries.
    unsafe {
        for (k, &(i, _)) in data.entries.iter().enumerate() {
            *SUNSparseMatrix_IndexValues(matrix).add(k) = i as i64;
            *SUNSparseMatrix_Data(matrix).add(k) = 1.0;
        }
        for (k, start) in data.starts.iter().enumerate() {
            *SUNSparseMatrix_IndexPointers(matrix).add(k) = *start;
        }
    }
}

impl Method for Cvode {
    const MULTISTEP: bool = true;

    fn start(&mut self, view: &View<'_>, t: f64, end: f64, y: &[f64], _: &[f64], first: f64) {
        // SAFETY: the handles of `Open` live as long as it does.
        unsafe {
            let settings = self.settings;
            let o = self.open.get_or_insert_with(|| open(settings, view, t, y));
            o.data.view = std::ptr::from_ref(view).cast();
            o.data.kind = view.system.kind();
            refresh(&mut o.data.jacobians[o.data.kind], view.system);
            values(o.y, y.len()).copy_from_slice(y);
            for (w, a) in values(o.weights, y.len()).iter_mut().zip(view.system.abs_tol()) {
                *w = a * view.tolerance;
            }
            CVodeReInit(o.cvode, t, o.y);
            CVodeSVtolerances(o.cvode, 0.0, o.weights);
            CVodeSetInitStep(o.cvode, first);
            CVodeSetStopTime(o.cvode, end);
            o.end = end;
        }
    }

    fn step(&mut self, view: &View<'_>, y: &mut [f64]) -> Result<Taken, Stuck> {
        let o = self.open.as_mut().expect("it has started");
        // SAFETY: as in `start`.
        unsafe {
            o.data.view = std::ptr::from_ref(view).cast();
            let (mut time, mut next) = (0.0, 0.0);
            let flag = CVode(o.cvode, o.end, o.y, &raw mut time, ONE_STEP);
            if flag < 0 {
                return Err(Stuck::NoProgress { state: 0, time });
            }
            y.copy_from_slice(values(o.y, y.len()));
            CVodeGetCurrentStep(o.cvode, &raw mut next);
            let mut guard = None;
            if flag == ROOT_RETURN {
                CVodeGetRootInfo(o.cvode, o.found.as_mut_ptr());
                guard = o.found.iter().position(|found| *found == -1);
            }
            Ok(Taken { time, guard, next })
        }
    }
}

impl Drop for Open {
    fn drop(&mut self) {
        // SAFETY: each handle was made in `open` and is freed once.
        unsafe {
            CVodeFree(&raw mut self.cvode);
            if self.data.linear == Linear::Klu {
                SUNLinSolFree_KLU(self.solver);
            } else {
                SUNLinSolFreeEmpty(self.solver.cast());
            }
            SUNMatDestroy_Sparse(self.matrix);
            N_VDestroy_Serial(self.y);
            N_VDestroy_Serial(self.weights);
            SUNContext_Free(&raw mut self.context);
        }
    }
}

//! Contestants, the tolerances they are tried at, and their errors and costs over cases.

use crate::course::{Course, Method};
use crate::duty_cases::{Case, Errors, Result as Found, processor_time};
use crate::rust_solver::{Backward, DenseLu, Esdirk34, OwnLu, RustSolver, TrBdf2};
use slipsoak_engine::simulate::{Integrator, Options, Simulation, Tolerance};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// An integrator to compare.
pub struct Contestant {
    pub name: &'static str,
    /// makes it for one run at a tolerance; the engine's own stepper is in every simulation
    pub make: Option<fn(f64) -> Box<dyn Integrator>>,
    /// closest tolerance that is tried
    pub closest: f64,
}

fn course<M: Method + 'static>(method: M, tolerance: f64) -> Box<dyn Integrator> {
    Box::new(Course::new(method, tolerance))
}

/// All contestants, the engine's stepper first.
pub fn all() -> Vec<Contestant> {
    let contestant = |name, make, closest| Contestant { name, make: Some(make), closest };
    let mut all = vec![
        Contestant { name: "stepper", make: None, closest: 0.25 },
        contestant("diffsol BDF, dense LU", |t| course(RustSolver::<Backward, DenseLu>::new(), t), 0.03125),
        contestant("diffsol BDF, our LU", |t| course(RustSolver::<Backward, OwnLu>::new(), t), 0.03125),
        contestant("diffsol TR-BDF2, dense LU", |t| course(RustSolver::<TrBdf2, DenseLu>::new(), t), 0.03125),
        contestant("diffsol TR-BDF2, our LU", |t| course(RustSolver::<TrBdf2, OwnLu>::new(), t), 0.03125),
        contestant("diffsol ESDIRK34, dense LU", |t| course(RustSolver::<Esdirk34, DenseLu>::new(), t), 0.0625),
        contestant("diffsol ESDIRK34, our LU", |t| course(RustSolver::<Esdirk34, OwnLu>::new(), t), 0.0625),
    ];
    #[cfg(feature = "cvode")]
    {
        use crate::sundials::{Cvode, Linear, Settings};
        let own = |t| course(Cvode::new(Settings { linear: Linear::Own, order: 5, converged: 0.1 }), t);
        let klu = |t| course(Cvode::new(Settings { linear: Linear::Klu, order: 5, converged: 0.1 }), t);
        all.push(contestant("CVODE, our LU", own, 0.03125));
        all.push(contestant("CVODE, KLU", klu, 0.03125));
    }
    all
}

/// Worst errors over cases, and the processor time of all, ms.
#[derive(Clone, Copy)]
pub struct Score {
    pub tolerance: Tolerance,
    pub errors: Errors,
    pub time: f64,
}

impl Score {
    /// Share of a class that the errors take; above 1 it is missed.
    pub fn share(&self, class: Class) -> f64 {
        match class {
            Class::Runs => self.errors.of_single_runs(),
            Class::Lives => self.errors.of_wear() / 3e-3,
        }
    }
}

/// An accuracy class.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Class {
    /// of single runs: lining peak 0.5 K, other temperatures 0.1 K, wear 0.1 %, fill 1e-3
    Runs,
    /// of lives: wear 0.3 %
    Lives,
}

impl Contestant {
    fn simulation(&self, case: &Case, tolerance: Tolerance, windows: usize) -> Simulation {
        let options = Options { windows, tolerance, ..Options::default() };
        let mut sim = Simulation::new(case.machine.clone(), options).expect("a machine");
        if let Some(make) = self.make {
            sim.step_with(make(tolerance.rest));
        }
        sim
    }

    /// Errors and time over cases; none if a case cannot be run.
    pub fn score(&self, cases: &[Case], exact: &[Found], tolerance: Tolerance) -> Option<Score> {
        let (mut errors, mut time) = (Errors::default(), 0.0);
        for (case, exact) in cases.iter().zip(exact) {
            let start = processor_time();
            let found = catch_unwind(AssertUnwindSafe(|| case.by(self.simulation(case, tolerance, 2)))).ok()?;
            time += processor_time() - start;
            let of_case = Errors::of(&found, exact);
            if std::env::var_os("PEERS_CASES").is_some() {
                eprintln!("    {} {:.2} {:.1e}", case.name, of_case.of_single_runs(), of_case.of_wear());
            }
            errors = errors.worst(of_case);
        }
        Some(Score { tolerance, errors, time })
    }

    /// Processor time over cases without recording, ms.
    pub fn time(&self, cases: &[Case], tolerance: Tolerance) -> f64 {
        let start = processor_time();
        for case in cases {
            case.by(self.simulation(case, tolerance, 0));
        }
        processor_time() - start
    }

    /// Scores at tolerances from close to loose, for several shares of speeds and rest.
    pub fn sweep(&self, cases: &[Case], exact: &[Found]) -> Vec<Score> {
        let mut scores = vec![];
        for speeds in [1.0, 4.0, 10.0, 32.0, 100.0] {
            let mut rest = self.closest;
            let mut missed = 0;
            while missed < 3 && rest < 3000.0 {
                let tolerance = Tolerance { speeds: rest * speeds, rest, ..Tolerance::RUNS };
                let score = self.score(cases, exact, tolerance);
                let shares =
                    score.map_or([f64::INFINITY; 2], |s| [Class::Runs, Class::Lives].map(|class| s.share(class)));
                eprintln!(
                    "{:<28} {:9.3} {:9.3}  share {:8.3} {:8.3}  {:8.1} ms",
                    self.name,
                    tolerance.speeds,
                    rest,
                    shares[0],
                    shares[1],
                    score.map_or(f64::NAN, |s| s.time)
                );
                missed = if shares.iter().all(|share| *share > 1.0) { missed + 1 } else { 0 };
                scores.extend(score);
                rest *= 2.0;
            }
        }
        scores
    }
}

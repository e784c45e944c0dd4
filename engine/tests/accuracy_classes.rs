//! Runs by default and at the close tolerance against runs at a hundredth of the close one: they keep the class that each promises. The example `accuracy` prints every case.

use crate::duty_cases::{Case, Errors, chosen, kept_apart};
use slipsoak_engine::simulate::Tolerance;

/// Cases of each list that are ridden here: those that miss most by default, and those with the most kinds of modes.
const CHOSEN: [&str; 4] = ["abuse", "-10 °C", "light cart, hard", "mass x 0.6"];
const APART: [&str; 6] =
    ["orchard, 1500 rpm", "campground", "descents", "drying", "half throttle", "launches and rests"];

fn named(all: Vec<Case>, names: &[&str]) -> Vec<Case> {
    let found: Vec<Case> = all.into_iter().filter(|case| names.contains(&case.name)).collect();
    assert_eq!(found.len(), names.len());
    found
}

#[test]
fn runs_keep_their_class_with_a_margin_of_three() {
    for case in named(chosen(), &CHOSEN).into_iter().chain(named(kept_apart(), &APART)) {
        let exact = case.at(Tolerance::alike(0.01));
        let [runs, close] = [Tolerance::RUNS, Tolerance::CLOSE].map(|at| Errors::of(&case.at(at), &exact));
        assert!(runs.of_single_runs() < 1.0 / 3.0, "{}: {runs:?}", case.name);
        assert!(close.of_single_runs() < 0.08, "{}: {close:?}", case.name);
        // The mechanical ledgers close by the tolerance.
        assert!(close.open < 1.5e-6 && runs.open < 3e-5, "{}: {:e}, {:e}", case.name, close.open, runs.open);
        assert!(exact.open < 0.01 * runs.open, "{}: {:e} of {:e}", case.name, exact.open, runs.open);
    }
}

//! Cost of the stepper beside general stiff solvers at equal accuracy, on the same equations, duties and machines.
//!
//! `cargo run --release --manifest-path engine/peers/Cargo.toml --features cvode -- DIR` writes `peers.md`, `peers.csv` and `peers.svg` into
//! DIR, in ten minutes. Without the feature CVODE is left out. Each contestant's tolerance is the cheapest that fits the class on the cases on
//! which the engine's tolerances were chosen; the others are only run at it. With `day CVODE` in place of DIR it prints the costs of the
//! reference problem's day, by contestants whose names hold that word: diffsol takes minutes for a single one.

#[path = "../../tests/bench_ride/mod.rs"]
mod bench_ride;
mod contest;
mod course;
mod day;
#[path = "../../tests/duty_cases/mod.rs"]
mod duty_cases;
mod figure;
#[path = "../../tests/systems/reference/mod.rs"]
#[allow(dead_code)]
mod reference;
mod rust_solver;
#[cfg(feature = "cvode")]
mod sundials;
mod table;

use contest::{Class, Contestant, Score};
use duty_cases::{Case, chosen, kept_apart};
use slipsoak_engine::simulate::Tolerance;
use std::path::PathBuf;

/// Runs of which the median is taken.
const RUNS: usize = 5;
/// Tolerance of the reference, relative to the close one.
const EXACT: f64 = 0.01;

fn median(mut times: Vec<f64>) -> f64 {
    times.sort_by(f64::total_cmp);
    times[times.len() / 2]
}

/// Medians of processor time, contestants in turn, ms.
fn times(entries: &[(&Contestant, Tolerance)], cases: &[Case]) -> Vec<f64> {
    let mut all = vec![vec![]; entries.len()];
    for _ in 0..RUNS {
        for ((contestant, tolerance), times) in entries.iter().zip(&mut all) {
            times.push(contestant.time(cases, *tolerance));
        }
    }
    all.into_iter().map(median).collect()
}

fn main() -> std::io::Result<()> {
    let mut args = std::env::args().skip(1);
    let out = PathBuf::from(args.next().unwrap_or_else(|| "out/peers".to_owned()));
    // Words of the contestants' names; all without.
    let wanted: Vec<String> = args.collect();
    if std::env::var_os("PEERS_CASES").is_none() {
        std::panic::set_hook(Box::new(|_| {}));
    }
    let contestants: Vec<Contestant> = contest::all()
        .into_iter()
        .filter(|c| c.make.is_none() || wanted.is_empty() || wanted.iter().any(|word| c.name.contains(word.as_str())))
        .collect();
    if out.as_os_str() == "day" {
        print!("{}", day::table(&contestants, RUNS));
        return Ok(());
    }
    std::fs::create_dir_all(&out)?;
    let sets = [chosen(), kept_apart()];
    let exact = sets.each_ref().map(|cases| cases.iter().map(|c| c.at(Tolerance::alike(EXACT))).collect::<Vec<_>>());
    let sweeps: Vec<Vec<Score>> = contestants.iter().map(|c| c.sweep(&sets[0], &exact[0])).collect();
    let mut text = String::new();
    for class in [Class::Runs, Class::Lives] {
        let mut entries: Vec<(&Contestant, Score)> = vec![];
        for (contestant, sweep) in contestants.iter().zip(&sweeps) {
            let fitting = sweep.iter().filter(|score| score.share(class) <= 1.0);
            match fitting.min_by(|a, b| a.time.total_cmp(&b.time)) {
                Some(best) => entries.push((contestant, *best)),
                None => eprintln!("{} never fits {class:?}", contestant.name),
            }
        }
        if let Some(score) = contestants[0].score(&sets[0], &exact[0], Tolerance::RUNS) {
            entries.insert(0, (&contestants[0], score));
        }
        let run: Vec<(&Contestant, Tolerance)> = entries.iter().map(|(c, s)| (*c, s.tolerance)).collect();
        let apart: Vec<Option<Score>> = run.iter().map(|(c, t)| c.score(&sets[1], &exact[1], *t)).collect();
        let spent = [times(&run, &sets[0]), {
            let able: Vec<_> = run.iter().zip(&apart).filter(|(_, a)| a.is_some()).map(|(r, _)| *r).collect();
            let mut measured = times(&able, &sets[1]).into_iter();
            apart.iter().map(|a| a.and_then(|_| measured.next()).unwrap_or(f64::NAN)).collect()
        }];
        text += &table::of(class, &entries, &apart, &spent);
    }
    print!("{text}");
    std::fs::write(out.join("peers.md"), text)?;
    let curves: Vec<(&str, &[Score])> = contestants.iter().zip(&sweeps).map(|(c, s)| (c.name, &s[..])).collect();
    std::fs::write(out.join("peers.csv"), table::tried(&curves))?;
    std::fs::write(out.join("peers.svg"), figure::of(&curves))
}

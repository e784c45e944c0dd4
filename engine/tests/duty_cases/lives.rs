//! Lives by skipping, case by case: what they take, and their errors against lives in full (long ones: with a tenth of the allowed
//! error of skipping) by the same steps and by close ones, beside the stated errors.
//!
//! `cargo run --release -p slipsoak-engine --example lives -- WORD` takes the cases whose names contain the word; without one, all.
#![allow(clippy::print_stdout)]

#[path = "life.rs"]
mod life;

use life::{of_blocks, of_pieces};
use slipsoak_engine::simulate::{Skipping, Tolerance};
use slipsoak_engine::units::HOUR;
use std::time::Instant;

/// Shortest life of equal blocks that is not compared with a full run, hours.
const LONG: f64 = 100.0;

fn main() {
    let word = std::env::args().nth(1).unwrap_or_default();
    let tolerance = Skipping::default().tolerance;
    let blocks = of_blocks().into_iter().map(|life| (life.hours < LONG, life));
    for (short, life) in blocks.chain(of_pieces().into_iter().map(|life| (true, life))) {
        if !life.name.contains(&word) {
            continue;
        }
        let start = Instant::now();
        let (run, found) = life.live(tolerance, Tolerance::RUNS);
        let spent = start.elapsed().as_secs_f64();
        println!(
            "{}: {:.0} h, {} blocks run, {} skipped, {} jumps undone, inside {:?}, {} steps, {:.0} ms",
            life.name,
            run.duration / HOUR,
            found.blocks_run,
            found.blocks_skipped,
            found.jumps_taken_back,
            found.inside.iter().map(|piece| (piece.run, piece.skipped)).collect::<Vec<_>>(),
            run.work.steps,
            1e3 * spent
        );
        if std::env::var_os("NO_REFERENCE").is_some() {
            continue;
        }
        let [same, close] = [Tolerance::RUNS, Tolerance::CLOSE]
            .map(|steps| life.live(if short { 0.0 } else { 0.1 * tolerance }, steps));
        println!("    in full {} and {} steps; worn out {:?}", same.0.work.steps, close.0.work.steps, found.ended_by);
        for ((one, same), close) in found.errors.iter().zip(&same.1.errors).zip(&close.1.errors) {
            println!(
                "    {:<15} {:.4e}: off {:+.1e}, from close steps {:+.1e}, stated {:.1e}; ratios {:.2} {:.2}",
                one.quantity,
                one.value,
                one.value / same.value - 1.0,
                one.value / close.value - 1.0,
                one.error / one.value,
                (one.value - same.value).abs() / one.error,
                (one.value - close.value).abs() / one.error,
            );
        }
    }
}

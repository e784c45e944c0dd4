//! Stated errors of skipping, over the table of lives: no life by skipping is further from the same life in full than it says.

use crate::life::{Life, of_blocks, of_pieces};
use rayon::prelude::*;
use slipsoak_engine::simulate::{Skipping, Tolerance};

/// Shortest life of equal blocks that is left out: in full it takes long.
const LONG: f64 = 100.0;
/// What the steps of two lives differ by, of each value: both are as coarse as lives are.
const BY_STEPS: f64 = 1e-4;

/// Quantities of a life that are further off than stated.
fn misstated(life: &Life) -> Vec<String> {
    let [found, exact] = [Skipping::default().tolerance, 0.0].map(|tolerance| life.live(tolerance, Tolerance::RUNS).1);
    // One grabs before anything is skipped.
    let skips = found.blocks_skipped > 0 || found.inside.iter().any(|piece| piece.skipped > 0);
    assert!(skips || exact.blocks_run < 20 && exact.inside.is_empty(), "{}: nothing is skipped", life.name);
    let each = found.errors.iter().zip(&exact.errors).filter_map(|(found, full)| {
        let (value, off) = (full.value, (found.value - full.value).abs());
        // A life that ends with a worn part may end a block sooner or later.
        let block = if exact.ended_by.is_some() { value / exact.blocks_run as f64 } else { 0.0 };
        let told = || format!("{}: {} {value:e} off by {off:e}, stated {:e}", life.name, found.quantity, found.error);
        (off > found.error + BY_STEPS * value + block).then(told)
    });
    each.collect()
}

fn hold(lives: &[Life]) {
    let wrong: Vec<String> = lives.par_iter().flat_map(misstated).collect();
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn lives_of_equal_blocks_err_by_no_more_than_they_state() {
    let short = of_blocks().into_iter().filter(|life| life.hours < LONG);
    hold(&short.collect::<Vec<Life>>());
}

/// A hardly worn bushing whose carts are oiled weekly was off by 4 % where 0.1 % was stated.
#[test]
fn lives_of_days_and_hires_err_by_no_more_than_they_state() {
    hold(&of_pieces());
}

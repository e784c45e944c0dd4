//! Doses of oil: what a larger one brings is a fuller bushing, and more oil on the ground.

use crate::words::number::{figures, number};
use slipsoak_engine::names::{Entry, Supply};
use slipsoak_engine::record::Run;

/// Entries of oil that ends on the ground.
pub const GROUND: [Entry; 3] = [Entry::Flung, Entry::Leaked, Entry::RunOff];

/// Share of the drops by which one dose has to exceed another to be the larger.
const LARGER: f64 = 0.05;
/// Drops of which is said that they end on the ground.
const LEAST: f64 = 0.05;

/// Drops put on, and of those that ended on the ground: what was lost before the first of them does not count.
fn drops(run: &Run) -> Option<(f64, f64)> {
    let all = run.supplies.get(&Supply::Drops).copied().filter(|all| *all > 0.0)?;
    let ledger = run.oil_ledger();
    let put_on = ledger.inward.get(&Entry::PutOn).copied().filter(|kg| *kg > 0.0)?;
    let ground: f64 = GROUND.iter().filter_map(|entry| ledger.outward.get(entry)).sum();
    Some((all, (all * ground / put_on).min(all)))
}

/// What the larger dose of a run costs beside that of another: “6.4 of its 10 drops end on the ground”; none if it is not the larger.
pub(crate) fn cost(larger: &Run, smaller: &Run) -> Option<String> {
    let ((all, ground), (fewer, _)) = (drops(larger)?, drops(smaller)?);
    let lost = if ground < 9.95 { number(ground, 0.1) } else { number(ground, 1.0) };
    (all > (1.0 + LARGER) * fewer && ground > LEAST)
        .then(|| format!("{lost} of its {} drops end on the ground", figures(all, 3)))
}

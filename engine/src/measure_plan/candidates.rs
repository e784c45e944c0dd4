//! Every way to measure, with what it tells and gains, and the best of them.

use super::method::effort;
use super::trial::{Trial, WAITS};
use super::trials::Trials;
use super::wish::Wish;
use crate::document::measure_plan::{Candidate, Learns, Pair, SURE};
use crate::names::Method;
use crate::parallel::each;
use crate::statistics::{Bank, Worth};
use crate::units::MINUTE;

/// Share of its deviation below which a constant counts as narrowed, and the largest number named.
const NARROWED: (f64, usize) = (0.9, 3);

/// Every method with the wait after which the answer is narrowest, and its simulated readings.
pub(super) fn candidates(
    wish: &Wish,
    trials: &Trials,
    bank: &Bank,
    safe: Option<f64>,
    answer: impl Fn(&Trial) -> f64 + Sync,
) -> Vec<(Candidate, Vec<Vec<f64>>)> {
    let waits = |method: Method| {
        let long = |k: &usize| *k == 0 || safe.is_none_or(|safe| WAITS[*k] <= safe);
        if effort(method).1 { (0..WAITS.len()).filter(long).collect() } else { vec![0] }
    };
    let one = |method: Method| {
        let at = |wait: usize| {
            let rows = trials.rows(wish, method, wait);
            (wait, bank.worth(&rows), rows)
        };
        let tried = waits(method).into_iter().map(at);
        let (wait, worth, rows) = tried.min_by(|a, b| a.1.deviation.total_cmp(&b.1.deviation))?;
        let (learnt, by_slope) = trials.learnt(method, wait, &answer);
        let (each, twice) = effort(method);
        let Worth { deviation, gain, error, change } = worth;
        let candidate = Candidate {
            method,
            wait: if twice { WAITS[wait] } else { 0.0 },
            minutes: each / MINUTE * if twice { 2.0 } else { 1.0 },
            deviation,
            by_slope,
            bits: learnt.bits,
            // Without a gain another action is chance.
            change: if gain > SURE * error { change } else { 0.0 },
            gain,
            error,
        };
        Some((candidate, rows))
    };
    each(Method::COUNT, |k| one(Method::ALL[k])).into_iter().flatten().collect()
}

pub(super) fn sure(candidates: &[Candidate]) -> impl Iterator<Item = (usize, &Candidate)> {
    candidates.iter().enumerate().filter(|(_, c)| c.is_sure())
}

pub(super) fn per_minute(candidate: &Candidate) -> f64 {
    candidate.gain / candidate.minutes
}

/// The measurement to make: of those whose gain is within a standard error of the largest the one with the least work and wait.
pub(super) fn best(worth: &[(usize, &Candidate)]) -> Option<u64> {
    let (_, most) = worth.iter().max_by(|a, b| a.1.gain.total_cmp(&b.1.gain))?;
    let as_good = worth.iter().filter(|(_, c)| c.gain >= most.gain - most.error);
    let work = |c: &Candidate| (c.minutes, c.wait);
    as_good
        .min_by(|a, b| work(a.1).partial_cmp(&work(b.1)).unwrap_or(std::cmp::Ordering::Equal))
        .map(|(k, _)| *k as u64)
}

/// The two measurements that gain most together: every pair is tried, as some tell nothing alone.
pub(super) fn pair(bank: &Bank, rows: &[Vec<Vec<f64>>]) -> Option<Pair> {
    let pairs: Vec<[usize; 2]> = (0..rows.len()).flat_map(|a| (a + 1..rows.len()).map(move |b| [a, b])).collect();
    let together = |k: usize| {
        let [a, b] = pairs[k];
        let both: Vec<Vec<f64>> = rows[a].iter().zip(&rows[b]).map(|(a, b)| [a.as_slice(), b].concat()).collect();
        let Worth { deviation, gain, error, change } = bank.worth(&both);
        Pair { of: [a as u64, b as u64], deviation, change, gain, error }
    };
    each(pairs.len(), together).into_iter().reduce(|best, pair| if pair.gain > best.gain { pair } else { best })
}

/// The constants that a measurement narrows.
pub(super) fn learns(trials: &Trials, candidate: &Candidate, answer: impl Fn(&Trial) -> f64) -> Vec<Learns> {
    let wait = WAITS.iter().position(|wait| *wait == candidate.wait).unwrap_or(0);
    let (learnt, _) = trials.learnt(candidate.method, wait, answer);
    let left = |k: usize| learnt.covariance[k][k].max(0.0).sqrt();
    let one = |(k, path): (usize, &String)| Learns { path: path.clone(), left: left(k) };
    let mut all: Vec<Learns> = trials.paths.iter().enumerate().map(one).filter(|l| l.left < NARROWED.0).collect();
    all.sort_by(|a, b| a.left.total_cmp(&b.left));
    all.truncate(NARROWED.1);
    all
}

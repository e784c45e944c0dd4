//! The answer on what to measure.

use super::candidates::{best, candidates, learns, pair, per_minute, sure};
use super::decision::{actions, losses};
use super::trial::Trial;
use super::trials::Trials;
use super::wish::Wish;
use crate::document::measure_plan::{Candidate, MeasurePlan, Prior, SURE, Stocked};
use crate::document::record::Setting;
use crate::document::{Head, Is};
use crate::names::Decision;
use crate::oil_plan;
use crate::simulate::Failure;
use crate::spring_choice::{self, InPlace, in_place_of_own, in_place_of_stock};
use crate::statistics::Bank;

/// Least running time of an answer, s: the logarithm of nothing is none.
const LEAST: f64 = 60.0;
/// Least number of parts: the logarithm of none is none.
const FEWEST: f64 = 0.1;

/// Percentile of sorted values, by linear interpolation.
fn percentile(sorted: &[f64], share: f64) -> f64 {
    let place = share * (sorted.len() - 1) as f64;
    let (low, high) = (sorted[place.floor() as usize], sorted[place.ceil() as usize]);
    low + (high - low) * place.fract()
}

/// Computes the plan; `done` is called for each machine put through the use. Of a machine that must not be ridden in it nothing is
/// simulated but the use: hours of riding would be the wrong advice.
pub fn plan(wish: &Wish, done: &(dyn Fn() + Sync)) -> Result<MeasurePlan, Failure> {
    let plan = begun(wish)?;
    if !plan.may_ride() {
        return Ok(plan);
    }
    let due = due(wish)?;
    let trials = Trials::of(wish, done)?;
    let all = || trials.samples.iter().map(|(_, trial)| trial);
    let losses: Vec<Vec<f64>> = all().map(|trial| losses(wish, trial)).collect();
    let now = Bank { answers: vec![], losses: losses.clone() }.action();
    let time = |trial: &Trial| match wish.decision {
        Decision::Spring => trial.lives[now].max(LEAST),
        Decision::Season => trial.parts.max(FEWEST),
        Decision::Oiling | Decision::Life => trial.time,
    };
    let answer = |trial: &Trial| libm::log(time(trial));
    let bank = Bank { answers: all().map(answer).collect(), losses };
    let mut times: Vec<f64> = all().map(time).collect();
    times.sort_by(f64::total_cmp);
    let prior = Prior {
        low: percentile(&times, 0.05),
        middle: percentile(&times, 0.5),
        high: percentile(&times, 0.95),
        deviation: bank.deviation(),
        beyond: all().filter(|trial| trial.beyond && wish.decision != Decision::Season).count() as f64
            / times.len() as f64,
    };
    // Measured without oiling, the bushing must not run dry meanwhile.
    let safe = due.map(|[soonest, _]| soonest.map_or(prior.low, |soonest| prior.low.min(soonest)));
    let mut candidates = candidates(wish, &trials, &bank, safe, answer);
    // Gains that do not stand out from chance would order them by chance.
    let gain = |c: &Candidate| if c.is_sure() { c.gain } else { 0.0 };
    candidates.sort_by(|a, b| gain(&b.0).total_cmp(&gain(&a.0)).then(a.0.deviation.total_cmp(&b.0.deviation)));
    let (candidates, rows): (Vec<Candidate>, Vec<Vec<Vec<f64>>>) = candidates.into_iter().unzip();
    // A spring is chosen by where it drags, which a reading may tell without narrowing a life.
    let tells = |deviation: f64| wish.decision == Decision::Spring || prior.narrows(deviation);
    let worth: Vec<(usize, &Candidate)> = sure(&candidates).filter(|(_, c)| tells(c.deviation)).collect();
    let best = best(&worth);
    let quickest = worth.iter().max_by(|a, b| per_minute(a.1).total_cmp(&per_minute(b.1))).map(|(k, _)| *k as u64);
    let alone = best.map_or(0.0, |k| candidates[k as usize].gain);
    let pair = pair(&bank, &rows).filter(|pair| pair.gain > alone + pair.error && pair.gain > SURE * pair.error);
    let pair = pair.filter(|pair| tells(pair.deviation));
    let learns = learns(&trials, &candidates[best.unwrap_or(0) as usize], answer);
    Ok(MeasurePlan {
        now: now as u64,
        prior,
        due,
        samples: wish.samples,
        failed: trials.failed,
        perfect: bank.perfect(),
        safe,
        candidates,
        best,
        quickest,
        pair,
        learns,
        ..plan
    })
}

/// When oil service is due at the soonest and at the latest, as the question on oiling says it.
fn due(wish: &Wish) -> Result<Option<[Option<f64>; 2]>, Failure> {
    if wish.decision != Decision::Oiling {
        return Ok(None);
    }
    let asked = oil_plan::Wish::new(wish.machine.clone(), wish.usage.clone());
    let asked = oil_plan::Wish { riding: wish.riding, rest: wish.rest, known: wish.known.clone(), ..asked };
    oil_plan::due_range(&asked).map(Some)
}

/// The plan before anything is sampled: the question, and whether the machine may be ridden so.
fn begun(wish: &Wish) -> Result<MeasurePlan, Failure> {
    let asked = spring_choice::Wish::new(wish.machine.clone(), wish.usage.clone());
    let asked = spring_choice::Wish { wander: wish.wander, ..asked };
    let InPlace { against, renewed, sought } = match wish.decision {
        Decision::Spring => in_place_of_stock(&asked, &wish.springs)?,
        _ => in_place_of_own(&asked, false)?,
    };
    Ok(MeasurePlan {
        kind: Is::default(),
        head: Head { seeds: vec![wish.seed], ..Head::default() },
        machine: wish.machine.name.clone(),
        usage: wish.usage.name.clone(),
        riding: wish.riding,
        rest: wish.rest,
        decision: wish.decision,
        wander: wish.wander,
        season: (wish.decision == Decision::Season).then_some(Stocked { carts: wish.carts, running: wish.season }),
        wrong_oil: wish.machine.oil.is_wrong(),
        against,
        renewed,
        sought,
        actions: actions(wish),
        now: 0,
        prior: Prior::default(),
        due: None,
        samples: 0,
        failed: 0,
        perfect: 0.0,
        safe: None,
        candidates: vec![],
        best: None,
        quickest: None,
        pair: None,
        learns: vec![],
        settings: Setting::all(&wish.machine),
    })
}

#[cfg(test)]
mod tests {
    use super::super::trial::WAITS;
    use super::super::trials::EACH;
    use super::*;
    use crate::parts_file;
    use crate::statistics::NINETY_FIVE;
    use crate::usage::Usage;

    /// Share of fresh machines whose answer lies within the range stated for 90 %, around what the regression lets expect of
    /// their readings; of the measurement that narrows the answer most.
    fn held(machine: &str, decision: Decision, samples: u64, fresh: u64) -> f64 {
        let machine = parts_file::read("machine", machine).expect("a machine");
        let usage = Usage::named("rental", &machine).expect("a use");
        let wish = Wish { samples, ..Wish::new(machine, usage, decision) };
        let other = Wish { samples: fresh, seed: wish.seed + 1, ..wish.clone() };
        let (bank, new) = (Trials::of(&wish, &|| {}).expect("trials"), Trials::of(&other, &|| {}).expect("trials"));
        let answer =
            |trial: &Trial| libm::log(if decision == Decision::Season { trial.parts.max(FEWEST) } else { trial.time });
        let losses = bank.samples.iter().map(|(_, trial)| losses(&wish, trial)).collect();
        let own = Bank { answers: bank.samples.iter().map(|(_, trial)| answer(trial)).collect(), losses };
        let found = candidates(&wish, &bank, &own, None, answer);
        let narrowest = found.iter().min_by(|a, b| a.0.deviation.total_cmp(&b.0.deviation)).expect("a measurement");
        let (candidate, rows) = narrowest;
        let wait = WAITS.iter().position(|wait| *wait == candidate.wait).unwrap_or(0);
        let expected = own.expected(rows, &new.rows(&other, candidate.method, wait));
        let off = |k: usize| (answer(&new.samples[k / EACH as usize].1) - expected[k]).abs();
        let within = (0..expected.len()).filter(|k| off(*k) <= NINETY_FIVE * candidate.deviation).count();
        within as f64 / expected.len() as f64
    }

    const ORCHARD: &str = include_str!("../../../scripts/parts/orchard-cart.json");
    const TRAIL: &str = include_str!("../../../scripts/parts/trail-cart.json");

    #[test]
    fn of_twenty_fresh_machines_sixteen_or_more_have_their_life_within_the_range_stated_for_ninety_per_cent() {
        // Sixteen to twenty of twenty are as likely as 0.96 if nine in ten hold.
        let share = held(TRAIL, Decision::Life, 64, 20);
        assert!(share >= 0.8, "{share}");
    }

    #[test]
    #[ignore = "a thousand machines in their use: three minutes on two cores"]
    fn nine_in_ten_fresh_machines_lie_within_the_ranges_stated_for_oil_lives_and_seasons() {
        let of = |machine: &str| {
            [Decision::Life, Decision::Oiling, Decision::Season].map(|decision| held(machine, decision, 96, 100))
        };
        let all: Vec<f64> = [ORCHARD, TRAIL].into_iter().flat_map(of).collect();
        // Sixteen to twenty of twenty each; together two standard errors of 600 machines about 0.9.
        assert!(all.iter().all(|share| (0.8..1.0).contains(share)), "{all:?}");
        let mean = all.iter().sum::<f64>() / all.len() as f64;
        assert!((0.875..0.945).contains(&mean), "{mean}: {all:?}");
    }
}

//! All trials of an answer on measuring, and readings simulated of them.

use super::method::reads;
use super::trial::Trial;
use super::wish::Wish;
use crate::names::Method;
use crate::parallel::each;
use crate::simulate::Failure;
use crate::spread::deviate;
use crate::statistics::{Learnt, normal_quantile, normal_share};

/// Simulated readings of each sample.
pub(super) const EACH: u64 = 4;

/// Largest share of samples that cannot be computed.
const FAILED: f64 = 0.1;

/// Number of machines that an answer simulates: the nominal one, one for each uncertain setting, and the samples.
pub fn trials(wish: &Wish) -> u64 {
    1 + wish.uncertain.len() as u64 + wish.samples
}

/// All trials: the nominal one and one for each uncertain setting, for slopes, and the samples.
pub(super) struct Trials {
    pub paths: Vec<String>,
    pub nominal: Option<Trial>,
    /// each uncertain setting one standard deviation up
    moved: Vec<Option<Trial>>,
    /// number and trial of each sample
    pub samples: Vec<(u64, Trial)>,
    pub failed: u64,
}

impl Trials {
    pub fn of(wish: &Wish, done: &(dyn Fn() + Sync)) -> Result<Self, Failure> {
        let uncertain = &wish.uncertain;
        let first_sample = 1 + uncertain.len() as u64;
        let one = |run: u64| {
            let trial = if let Some(sample) = run.checked_sub(first_sample) {
                Trial::of(wish, &|draw| Some(deviate(wish.seed, sample, draw)))
            } else {
                let own = (run as usize).checked_sub(1).map(|k| uncertain[k].draw.as_str());
                let up = normal_share(1.0);
                Trial::of(wish, &|draw| (Some(draw) == own).then_some(up))
            };
            done();
            trial
        };
        let mut all: Vec<Result<Trial, Failure>> = each(trials(wish) as usize, |run| one(run as u64));
        let sampled = all.split_off(first_sample as usize);
        let mut all = all.into_iter().map(Result::ok);
        let (nominal, moved) = (all.next().flatten(), all.collect());
        let (mut samples, mut first, mut failed) = (vec![], None, 0);
        for (sample, trial) in (0..).zip(sampled) {
            match trial {
                Ok(trial) => samples.push((sample, trial)),
                Err(failure) => {
                    failed += 1;
                    first.get_or_insert(failure);
                }
            }
        }
        if let Some(failure) = first.filter(|_| failed as f64 > FAILED * wish.samples as f64) {
            return Err(failure);
        }
        Ok(Self { paths: uncertain.iter().map(|u| u.path.clone()).collect(), nominal, moved, samples, failed })
    }

    /// Simulated readings by a method after a wait, some for each sample.
    pub fn rows(&self, wish: &Wish, method: Method, wait: usize) -> Vec<Vec<f64>> {
        let one = |(sample, trial): &(u64, Trial), again: u64| {
            let noisy = |(k, (value, error)): (usize, (f64, f64))| {
                let draw = deviate(wish.seed, sample * EACH + again, &format!("reading of {method}, {k}"));
                value + error * normal_quantile(draw)
            };
            reads(method, trial, wait).into_iter().enumerate().map(noisy).collect()
        };
        self.samples.iter().flat_map(|sample| (0..EACH).map(move |again| one(sample, again))).collect()
    }

    /// What a method tells by slopes, of all constants and of the answer: deviation of its logarithm afterwards.
    pub fn learnt(&self, method: Method, wait: usize, answer: impl Fn(&Trial) -> f64) -> (Learnt, f64) {
        let slopes = |of: &dyn Fn(&Trial) -> f64| -> Vec<f64> {
            let slope =
                |moved: &Option<Trial>| moved.as_ref().zip(self.nominal.as_ref()).map_or(0.0, |(a, b)| of(a) - of(b));
            self.moved.iter().map(slope).collect()
        };
        let mut learnt = Learnt::prior(&vec![1.0; self.moved.len()]);
        let errors = self.nominal.as_ref().map_or_else(Vec::new, |trial| reads(method, trial, wait));
        for (k, (_, error)) in errors.into_iter().enumerate() {
            learnt = learnt.read(&slopes(&|trial| reads(method, trial, wait)[k].0), error);
        }
        let deviation = learnt.deviation(&slopes(&answer));
        (learnt, deviation)
    }
}

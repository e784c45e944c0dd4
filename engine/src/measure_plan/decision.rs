//! What a wrong action costs: the loss by each action, for a decision.

use super::trial::Trial;
use super::wish::Wish;
use crate::document::measure_plan::Action;
use crate::names::Decision;
use crate::units::HOUR;

/// Intervals to choose from, h.
const HOURS: [f64; 10] = [1.0, 2.0, 5.0, 10.0, 20.0, 50.0, 100.0, 200.0, 500.0, 1000.0];
/// Numbers of parts to choose from for a season.
const PARTS: [u64; 10] = [0, 2, 5, 10, 20, 35, 60, 100, 200, 500];
/// Lives lost that a dragging clutch weighs as: it may drive the machine.
const DRAGGING: f64 = 19.0;
/// Riding that an oiling costs as much as, s.
const OILING: f64 = HOUR;
/// Share of the clutches that may be beyond their life at the hours that are named.
const LATE: f64 = 0.1;

/// What may be done.
pub(super) fn actions(wish: &Wish) -> Vec<Action> {
    match wish.decision {
        Decision::Oiling | Decision::Life => HOURS.iter().map(|hours| Action::Every(hours * HOUR)).collect(),
        Decision::Season => PARTS.iter().map(|parts| Action::Stock(*parts)).collect(),
        Decision::Spring => wish.springs.iter().map(|spring| Action::Fit(spring.name.clone())).collect(),
    }
}

/// Loss of each action on one clutch.
///
/// Oiling, per riding time: riding below the service level, and an hour for each oiling. Life, s: what is thrown away of a part
/// replaced early, and nine times what is ridden on a worn one; the least expected loss is at the hours that nine of ten clutches
/// reach (R. Koenker, G. Bassett, Econometrica 46 (1978) 33, from memory). Season, parts: those left over, and nine times those
/// short, so that nine of ten seasons have enough (the newsvendor's rule). Spring, s of running: life lost against the best spring; one
/// that drags weighs as nineteen, so that of what is fitted hardly one in twenty drags, as where a spring is chosen.
pub(super) fn losses(wish: &Wish, trial: &Trial) -> Vec<f64> {
    let every = |hours: &f64| hours * HOUR;
    match wish.decision {
        Decision::Oiling => HOURS.iter().map(every).map(|t| oiling(t, trial.time)).collect(),
        Decision::Life => HOURS.iter().map(every).map(|t| replacing(t, trial.time)).collect(),
        Decision::Season => PARTS.iter().map(|parts| stocking(*parts as f64, trial.parts)).collect(),
        Decision::Spring => {
            let best = trial.lives.iter().copied().fold(0.0, f64::max);
            trial.lives.iter().map(|life| fitting(*life, best)).collect()
        }
    }
}

/// Loss of oiling after every `interval` of riding where service is due after `due`, s, per riding time.
fn oiling(interval: f64, due: f64) -> f64 {
    ((interval - due).max(0.0) + OILING) / interval
}

/// Loss of replacing after `interval` what lasts for `life`, s.
fn replacing(interval: f64, life: f64) -> f64 {
    LATE * (life - interval).max(0.0) + (1.0 - LATE) * (interval - life).max(0.0)
}

/// Loss of fitting a spring with this life where the best spring has that one, s; a spring that drags has none.
fn fitting(life: f64, best: f64) -> f64 {
    if life > 0.0 { best - life } else { DRAGGING * best }
}

/// Loss of a stock of so many parts where so many are needed.
fn stocking(stock: f64, needed: f64) -> f64 {
    LATE * (stock - needed).max(0.0) + (1.0 - LATE) * (needed - stock).max(0.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_least_loss_of_oiling_is_at_the_time_of_service() {
        let due = 7.0 * HOUR;
        // Before: an hour in so many hours. Later: below the level for the rest.
        assert!((oiling(5.0 * HOUR, due) - 0.2).abs() < 1e-12);
        assert!((oiling(10.0 * HOUR, due) - 0.4).abs() < 1e-12);
        assert!(oiling(due, due) < oiling(0.99 * due, due) && oiling(due, due) < oiling(1.01 * due, due));
    }

    #[test]
    fn a_spring_that_drags_in_more_than_one_of_twenty_clutches_is_not_fitted_for_its_longer_life() {
        // With the soft spring 1100 h where it does not drag, with the stiff one 1000 h; a tenth or none of 100 clutches drag.
        let soft = |drags: usize| drags as f64 * fitting(0.0, 1000.0) + (100 - drags) as f64 * fitting(1100.0, 1100.0);
        let stiff = |drags: usize| (100 - drags) as f64 * fitting(1000.0, 1100.0);
        assert!(soft(0) < stiff(0) && soft(6) > stiff(6) && soft(10) > stiff(10));
    }

    #[test]
    fn the_least_expected_loss_of_stocking_is_at_the_number_that_nine_of_ten_seasons_need() {
        let needs: Vec<f64> = (1..=1000).map(f64::from).collect();
        let mean = |stock: f64| needs.iter().map(|need| stocking(stock, *need)).sum::<f64>();
        let best = (1..1000).map(f64::from).min_by(|a, b| mean(*a).total_cmp(&mean(*b))).expect("some");
        // Closed form: the ninetieth percentile.
        assert!((best - 900.0).abs() <= 1.0, "{best}");
    }

    #[test]
    fn the_least_expected_loss_of_replacing_is_at_the_hours_that_nine_of_ten_reach() {
        let lives: Vec<f64> = (1..=1000).map(f64::from).collect();
        let mean = |interval: f64| lives.iter().map(|life| replacing(interval, *life)).sum::<f64>();
        let best = (1..1000).map(f64::from).min_by(|a, b| mean(*a).total_cmp(&mean(*b))).expect("some");
        // Closed form: the tenth percentile.
        assert!((best - 100.0).abs() <= 1.0, "{best}");
    }
}

//! All springs of a stock put in order, beside what the trade would fit.

use super::answer::{Choice, Judged, MadeOf, Sketched, Trade};
use super::judge::Wish;
use super::reason::Verdict;
use super::statement::{assumed, statement};
use crate::document::Is;
use crate::document::record::Setting;
use crate::units::RPM;

/// What the trade puts between the true idle and the engagement: common practice, no source.
const RULE: f64 = 200.0 * RPM;

/// Running time until a spring's first part wears out, s.
pub(super) fn life(spring: &Judged) -> f64 {
    spring.found.as_ref().and_then(|f| f.life).unwrap_or(f64::INFINITY)
}

/// Puts judged springs in order and says which to fit.
pub fn choice(wish: &Wish, mut springs: Vec<Judged>, sketched: Option<Sketched>) -> Choice {
    let idle = wish.machine.motor.idle;
    springs.sort_by(|a, b| {
        let by_life = if a.verdict == Verdict::Unfit { std::cmp::Ordering::Equal } else { life(b).total_cmp(&life(a)) };
        a.verdict.cmp(&b.verdict).then(by_life).then_with(|| a.engagement.total_cmp(&b.engagement))
    });
    let wanted = idle + RULE;
    let near = |s: &&Judged| (s.engagement - wanted).abs();
    let traded = springs.iter().min_by(|a, b| near(a).total_cmp(&near(b)));
    let trade = Trade {
        rule: wanted,
        spring: traded.map_or_else(String::new, |s| s.name.clone()),
        made_of: traded.and_then(|s| Some((s, s.found.as_ref()?))).map(|(s, f)| MadeOf {
            idle: wish.wander,
            tolerances: f.floor,
            settling: s.engagement - f.settled,
        }),
    };
    let best = springs.first().filter(|s| s.verdict != Verdict::Unfit);
    let steady = steady(&springs, idle);
    let statement = statement(wish, &trade, &springs, best, steady);
    let (best, best_steady) = (best.map(|s| s.name.clone()), steady.map(|s| s.name.clone()));
    Choice {
        kind: Is::default(),
        head: wish.head.clone(),
        machine: wish.machine.name.clone(),
        usage: wish.usage.name.clone(),
        idle,
        wander: wish.wander,
        grade: wish.grade,
        load: wish.load,
        crawl: wish.crawl,
        season: wish.season,
        simulated: wish.simulated,
        lining_most: wish.machine.limits.lining_most,
        sketched,
        trade,
        best,
        best_steady,
        springs,
        statement,
        assumed: assumed(wish, sketched),
        settings: Setting::all(&wish.machine),
    }
}

/// The spring that would last longest if the idle stood still and springs had no tolerances.
fn steady(springs: &[Judged], idle: f64) -> Option<&Judged> {
    use super::reason::{Reason, Weight};
    let near = |r: &Reason| matches!(r, Reason::Drags { .. } | Reason::TooNear { .. });
    let stands = |s: &&Judged| {
        let against = s.reasons.iter().filter(|r| r.weight() == Weight::Against);
        s.found.as_ref().is_some_and(|f| f.settled >= idle) && against.clone().all(near)
    };
    springs.iter().filter(stands).max_by(|a, b| life(a).total_cmp(&life(b)))
}

//! Ranking of a stock's springs, with the trade's rule for comparison.

use super::reasons::beyond_known;
use super::wish::Wish;
use crate::document::finding::{Assumed, Weak};
use crate::document::reason::Reason;
use crate::document::record::Setting;
use crate::document::spring_choice::{Choice, Judged, MadeOf, Sketched, Trade};
use crate::document::verdict::{Verdict, Weight};
use crate::document::{Head, Is};
use crate::laws::margin::TACHOMETER;
use crate::names::IdleKind;
use crate::spread::Known;
use crate::units::RPM;

/// Margin of engagement over the true idle by the trade's rule: common practice, no source.
const RULE: f64 = 200.0 * RPM;

/// Running time until a spring's first part wears out, s.
fn life(spring: &Judged) -> f64 {
    spring.found.as_ref().and_then(|f| f.life).unwrap_or(f64::INFINITY)
}

/// Ranks judged springs and selects the one to fit.
pub fn choice(wish: &Wish, mut springs: Vec<Judged>, sketched: Option<Sketched>) -> Choice {
    let idle = wish.machine.motor.idle;
    springs.sort_by(|a, b| {
        let by_life = if a.verdict == Verdict::Unfit { std::cmp::Ordering::Equal } else { life(b).total_cmp(&life(a)) };
        a.verdict.cmp(&b.verdict).then(by_life).then_with(|| a.engagement.total_cmp(&b.engagement))
    });
    let wanted = idle + RULE;
    let near = |s: &&Judged| (s.engagement - wanted).abs();
    let traded = springs.iter().min_by(|a, b| near(a).total_cmp(&near(b)));
    // A spring that drags may also be hotter than its relaxation is known to.
    let too_hot = traded.and_then(|s| beyond_known(wish, &wish.machine, s.found.as_ref()?));
    let trade = Trade {
        rule: wanted,
        spring: traded.map_or_else(String::new, |s| s.name.clone()),
        made_of: traded.filter(|_| too_hot.is_none()).and_then(|s| Some((s, s.found.as_ref()?))).map(|(s, f)| MadeOf {
            idle: wish.wander,
            tolerances: f.floor,
            settling: s.engagement - f.settled,
        }),
        too_hot,
    };
    let best = springs.first().filter(|s| s.verdict != Verdict::Unfit);
    let steady = steady(&springs, idle);
    let least = if best.is_none() { least_unsuitable(&springs) } else { None };
    let [best, best_steady, least_unsuitable] = [best, steady, least].map(|s| s.map(|s| s.name.clone()));
    Choice {
        kind: Is::default(),
        head: Head::default(),
        machine: wish.machine.name.clone(),
        usage: wish.usage.name.clone(),
        idle,
        wander: wish.wander,
        grade: wish.grade,
        ground: wish.usage.ground(&wish.machine),
        load: wish.load,
        crawl: wish.crawl,
        season: wish.season,
        simulated: wish.simulated,
        lining_kind: wish.machine.lining_kind,
        lining_most: wish.machine.limits.lining_most,
        sketched,
        trade,
        best,
        best_steady,
        springs,
        least_unsuitable,
        sought: None,
        learned: learned(wish),
        weak: Weak::of(&wish.machine),
        assumed: assumed(wish, sketched),
        settings: Setting::all(&wish.machine),
    }
}

/// The spring with the longest life if the idle were constant and springs had no tolerances.
fn steady(springs: &[Judged], idle: f64) -> Option<&Judged> {
    let stands = |s: &&Judged| {
        s.found.as_ref().is_some_and(|f| f.settled >= idle) && s.of_weight(Weight::Against).all(Reason::is_near)
    };
    springs.iter().filter(stands).max_by(|a, b| life(a).total_cmp(&life(b)))
}

/// Of springs that do not fit, the one with the least against it: the one that drags least, then one that is not unsafe, then the
/// fewest reasons, then the cooler lining.
fn least_unsuitable(springs: &[Judged]) -> Option<&Judged> {
    let count = |s: &Judged| s.of_weight(Weight::Against).count();
    let peak = |s: &Judged| s.found.as_ref().map_or(f64::INFINITY, |f| f.peaks.lining);
    let into_idle = |s: &Judged| s.found.as_ref().map_or(f64::INFINITY, |f| (-f.margin).max(0.0));
    let endangers = |s: &Judged| s.reasons.iter().any(Reason::endangers);
    let order = |a: &&Judged, b: &&Judged| {
        let safer = || endangers(a).cmp(&endangers(b));
        into_idle(a)
            .total_cmp(&into_idle(b))
            .then_with(safer)
            .then(count(a).cmp(&count(b)))
            .then(peak(a).total_cmp(&peak(b)))
    };
    springs.iter().filter(|s| s.found.is_some()).min_by(order).or_else(|| springs.first())
}

/// The learned constants to which lives are in inverse proportion.
fn learned(wish: &Wish) -> Vec<Known> {
    wish.known.iter().filter(|known| known.of_life()).cloned().collect()
}

/// Assumptions of the answer.
fn assumed(wish: &Wish, sketched: Option<Sketched>) -> Vec<Assumed> {
    let mut list = vec![
        if learned(wish).is_empty() { Assumed::WearConstants } else { Assumed::OtherWearConstants },
        Assumed::Relaxation { per_decade: wish.machine.clutch.relaxation },
        Assumed::IdleVariation { half: wish.wander },
        Assumed::SpringScatter { springs: wish.machine.tolerances().spring, tachometer: TACHOMETER },
    ];
    list.extend((wish.machine.idle_kind == IdleKind::Unstated).then_some(Assumed::KindOfIdle));
    let mut mended = wish.machine.clone();
    mended.fit_set();
    list.extend((mended.springs != wish.machine.springs).then_some(Assumed::NewSet));
    list.extend(sketched.map(|s| Assumed::SketchedTorque { power: s.power, speed: s.speed }));
    list
}

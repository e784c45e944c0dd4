//! The answer to which spring, in sentences: what to do first, then how sure it is, then why.

use super::answer::{Judged, Sketched, Trade};
use super::judge::Wish;
use super::rank::life;
use super::reason::{Verdict, Weight};
use crate::names::Part;
use crate::say::{time, times, turns};
use crate::spread::assumed_factor;

/// The factor by which a part's life may be off for the wear constant that it depends on.
fn off(part: Part) -> Option<f64> {
    part.row().constant.and_then(assumed_factor)
}

/// How long a spring's clutch lasts, with the range that its wear constant leaves.
fn lasts(spring: &Judged) -> String {
    let found = spring.found.as_ref().and_then(|f| Some((f.life?, f.ended_by?)));
    let Some((life, part)) = found else { return "no part wears measurably".to_owned() };
    let range = off(part).map_or_else(String::new, |f| format!(" ({})", times(life / f, life * f)));
    let part = if part == Part::Charring { "washer, which chars" } else { part.name() };
    format!("about {} of running{range} to its first worn part, the {part}, oil apart", time(life))
}

fn margin(spring: &Judged) -> f64 {
    spring.found.as_ref().map_or(0.0, |f| f.margin)
}

/// All sentences.
pub(super) fn statement(
    wish: &Wish,
    trade: &Trade,
    springs: &[Judged],
    best: Option<&Judged>,
    steady: Option<&Judged>,
) -> Vec<String> {
    let mut say = vec![answer(wish, springs, best)];
    if let Some(best) = best {
        say.extend(next(springs, best));
    }
    say.push(by_rule(trade, springs, best));
    say.extend(engineering(trade));
    if let Some(steady) = steady.filter(|s| best.is_some_and(|b| b.engagement > s.engagement)) {
        say.push(format!(
            "With a perfectly steady idle and exact springs the {} spring would last longest, about {}: the closer to the idle, the less slip. The margin trades some of that life for safety.",
            steady.name,
            time(life(steady))
        ));
    }
    let drags = |s: &Judged| s.found.as_ref().is_some_and(|f| f.drag.is_some());
    if springs.iter().any(drags) {
        say.push("Dragging is computed for a governed idle (assumed). A motor that idles on its throttle stop is slowed by a dragging clutch instead: it heats several times less, but may still creep or stall.".to_owned());
    }
    say
}

/// What to do.
fn answer(wish: &Wish, springs: &[Judged], best: Option<&Judged>) -> String {
    let Some(best) = best else { return nothing_fits(springs) };
    let clear = format!(
        "it is computed not to drag by {} over the highest idle of {} and lasts {}",
        turns(margin(best)),
        turns(wish.machine.motor.idle + wish.wander),
        lasts(best)
    );
    match best.verdict {
        Verdict::Fits => format!("Fit the {} spring: {clear}.", best.name),
        _ => format!(
            "Fit the {} spring, with warnings, since no spring of this stock fits without: {clear}; {}.",
            best.name,
            best.said(Weight::Warning).join("; ")
        ),
    }
}

/// What to say where no spring fits: what speaks against the one that has least against it, and what would help.
fn nothing_fits(springs: &[Judged]) -> String {
    let count = |s: &&Judged| s.reasons.iter().filter(|r| r.weight() == Weight::Against).count();
    let peak = |s: &&Judged| s.found.as_ref().map_or(f64::INFINITY, |f| f.peaks.lining);
    let drags = |s: &&Judged| s.found.as_ref().is_none_or(|f| f.drag.is_some());
    let order = |a: &&Judged, b: &&Judged| {
        drags(a).cmp(&drags(b)).then(count(a).cmp(&count(b))).then(peak(a).total_cmp(&peak(b)))
    };
    let least = springs.iter().filter(|s| s.found.is_some()).min_by(order).or_else(|| springs.first());
    least.map_or_else(
        || "There is no spring to judge.".to_owned(),
        |spring| {
            format!(
                "Fit no spring of this stock for this use. Least speaks against the {} spring, and it does not fit either: {}. What would help: less slip (shorter gearing, less load, fewer stops), more cooling, a lower idle, or another stock.",
                spring.name,
                spring.said(Weight::Against).join("; ")
            )
        },
    )
}

/// The runner-up.
fn next(springs: &[Judged], best: &Judged) -> Option<String> {
    let second = springs.iter().find(|s| s.name != best.name && s.verdict != Verdict::Unfit)?;
    Some(format!(
        "Next is the {} spring: it keeps a margin of {} and lasts {}{}.",
        second.name,
        turns(margin(second)),
        lasts(second),
        if second.verdict == Verdict::Warned { ", with warnings" } else { "" }
    ))
}

/// What the trade's rule picks from the stock.
fn by_rule(trade: &Trade, springs: &[Judged], best: Option<&Judged>) -> String {
    let rule = format!(
        "The trade's rule, about 200 rpm over the true idle (common practice, no source), is {} here",
        turns(trade.rule)
    );
    let picked = springs.iter().find(|s| s.name == trade.spring);
    match picked {
        Some(picked) if best.is_some_and(|b| b.name == picked.name) => {
            format!("{rule}, and picks the same {} spring.", picked.name)
        }
        Some(picked) if picked.verdict == Verdict::Unfit => {
            format!("{rule}, and picks the {} spring, which does not fit: {}.", picked.name, picked.why())
        }
        Some(picked) => format!(
            "{rule}, and picks the {} spring, which keeps a margin of {} and lasts {}.",
            picked.name,
            turns(margin(picked)),
            lasts(picked)
        ),
        None => format!("{rule}."),
    }
}

/// What that rule is made of.
fn engineering(trade: &Trade) -> Option<String> {
    let made = trade.made_of?;
    Some(format!(
        "What that rule has to cover here: {} for the idle's variation, {} for the tolerances of springs and tachometer (19 of 20 clutches), {} for heat and a season of relaxation, together {} over the true idle.",
        turns(made.idle),
        turns(made.tolerances),
        turns(made.settling),
        turns(made.sum())
    ))
}

/// What the answer depends on.
pub(super) fn assumed(wish: &Wish, sketched: Option<Sketched>) -> Vec<String> {
    use crate::laws::margin::{SPRING_SCATTER, TACHOMETER};
    let mut list = vec![
        "wear constants of lining, washer and bushing: use lives to compare, not to predict".to_owned(),
        format!(
            "relaxation of the springs, {:.1} % per decade of time at 120 °C (248 °F)",
            100.0 * wish.machine.clutch.relaxation
        ),
        format!(
            "the idle varies by ± {}: measure it on the warm motor, with a tachometer, over some minutes",
            turns(wish.wander)
        ),
        format!(
            "forces of springs scatter by {:.0} % within a clutch and from lot to lot, a tachometer by {:.0} % (standard deviations)",
            100.0 * SPRING_SCATTER,
            100.0 * TACHOMETER
        ),
        "the motor's idle is governed; on a throttle stop a dragging clutch slows the motor".to_owned(),
    ];
    if let Some(s) = sketched {
        list.push(format!(
            "the torque curve is sketched from {:.1} kW at {}: its shape is another motor's, torques may be 15 % off",
            s.power / 1e3,
            turns(s.speed)
        ));
    }
    list
}

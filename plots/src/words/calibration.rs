//! Sentences on a calibration: each constant learned, how lives narrow, and what the data leave undetermined.

use crate::words::apart::apart;
use crate::words::number::{figures, three};
use crate::words::quantity::of_setting;
use crate::words::say;
use crate::words::text::{Words, the};
use slipsoak_engine::calibrate::{Calibration, Forecast, Learned, Thermocouple, Told, strongest};
use slipsoak_engine::fleet::{ASSUMED, Spread};
use slipsoak_engine::names::IdleKind;
use slipsoak_engine::parts::{Parameter, in_words};
use slipsoak_engine::statistics::{Bounds, NINETY_FIVE};

/// Factor up to which widened errors agree with the stated ones.
const AGREES: f64 = 1.05;
/// Factor from which some readings must be wrong. Assumed.
const WRONG: f64 = 5.0;
/// How many times as far as was thought possible, as a logarithm, a constant is moved before its readings are doubted: 3.3 standard deviations.
/// Assumed.
const SURPRISE: f64 = 2.0;
/// Time by which a log may be off before the answer says so, s: twice what is assumed of a clock.
const OFF: f64 = 2.0;
/// Change of a constant that is no news.
const SAME: f64 = 0.05;
/// Number of constants that the answer lists one by one.
const TOLD: usize = 5;

/// A value of a constant with its unit.
pub(crate) fn value(learned: &Learned, value: f64) -> String {
    of_setting(&learned.path, value).text()
}

/// The range within a factor of a value.
pub(crate) fn range(learned: &Learned, of: f64, factor: f64) -> String {
    format!("{} to {}", value(learned, of / factor), value(learned, of * factor))
}

/// The answer of a calibration: constants, forecast, and how sure they are.
pub fn answer(told: &Told) -> Vec<Words> {
    let c = &told.calibration;
    let unlikely = c.constants.iter().find(|l| off(l) > SURPRISE * l.before_factor.ln());
    let mut said = vec![match (apart(told), unlikely) {
        (Some(apart), _) => apart,
        _ if c.quality.widened > WRONG => doubtful(c.quality.widened),
        (_, Some(one)) => surprising(one),
        _ => advice(c),
    }];
    said.extend(c.constants.iter().take(TOLD).map(|l| sentence(l).capital()));
    if c.constants.len() > TOLD {
        said.push(format!("The table has all {} constants.", c.constants.len()).into());
    }
    said.extend(c.idle_kind.map(idles));
    said.extend(told.forecast.as_ref().map(narrowed));
    let q = &c.quality;
    let mut doubt = Words::from(
        "The ranges in brackets are 90 % intervals. They hold only if the machine, the duty and the units are what the script says",
    );
    doubt = if q.widened > AGREES {
        doubt
            .plain("; readings scatter ")
            .strong(format!("{} times", three(q.widened)))
            .plain(" what was stated for them, and the ranges were widened by that.")
    } else {
        doubt.plain(" and readings scatter no more than stated.")
    };
    said.push(doubt);
    said.extend(late(c));
    said
}

/// What to do where the readings scatter so that some of them must be wrong.
fn doubtful(widened: f64) -> Words {
    Words::from("Check the readings before you plan by them: ").strong(format!("they scatter {} times", three(widened))).plain(
        " what was stated for them, so that one may be mistyped or in another unit. In the figure of the evidence it lies farthest from the fit.",
    )
}

/// What to do where a constant lies far from all that was thought possible.
fn surprising(one: &Learned) -> Words {
    Words::from("Check the readings, their hours and the duty before you plan by them: ")
        .strong(format!("{} would be {} times", in_words(&one.path), figures(one.value / one.before, 2)))
        .plain(format!(
            " the machine's value, where a factor of {} either way was thought possible. If all are right, plan by what was learned: the shop's questions take it by `--learned calibration.json`, a script by `.calibrated(…)`.",
            figures(one.before_factor, 2)
        ))
}

/// How far a constant was moved, as a logarithm.
fn off(l: &Learned) -> f64 {
    (l.value / l.before).max(l.before / l.value).ln()
}

/// What to do: plan by what was learned where the readings contradict the machine's values, else go on with those.
fn advice(c: &Calibration) -> Words {
    let differ: Vec<&Learned> = c.constants.iter().filter(|l| contradicted(l)).collect();
    let Some(first) = differ.first() else {
        return Words::from(
            "The machine's values stand: the readings do not contradict them. But they narrow what is possible: give the shop's questions what was learned all the same, by `--learned calibration.json`, a script by `.calibrated(…)`.",
        );
    };
    let (name, ratio) = (in_words(&first.path), first.value / first.before);
    let [low, high] = [ratio / first.factor, ratio * first.factor].map(|bound| figures(bound, 2));
    let words = Words::from("Plan by what was learned: ").strong(format!("{name} is {} times", figures(ratio, 2)));
    let words = words.plain(format!(" the machine's value ({low} to {high} times, 90 % interval)"));
    let words = match differ.len() - 1 {
        0 => words,
        1 => words.plain(", and one more constant differs"),
        more => words.plain(format!(", and {more} more constants differ")),
    };
    words.plain(". The shop's questions take it by `--learned calibration.json`, a script by `.calibrated(…)`.")
}

/// Whether a constant's former value lies outside the range learned.
fn contradicted(l: &Learned) -> bool {
    off(l) > l.factor.max(1.0 + SAME).ln()
}

/// The finding of the figure of the evidence: the first constant learned, with its range, and what was assumed of it.
pub(crate) fn learned(c: &Calibration) -> String {
    let Some(first) = c.constants.first() else { return format!("{}: measured, before and after", c.machine) };
    let more = match c.constants.len() {
        1 => String::new(),
        many => format!(", and {} more learned", many - 1),
    };
    let (now, before) = (range(first, first.value, first.factor), value(first, first.before));
    format!("Measured on {}: {} is {now}; before, {before}{more}", the(&c.machine), in_words(&first.path))
}

/// A time and its 90 % interval, s.
pub(crate) fn delay(value: f64, error: f64) -> String {
    let shown = |v: f64| format!("{v:.1}").replace('-', "−");
    let wide = NINETY_FIVE * error;
    format!("{}\u{a0}s ({} to {})", shown(value), shown(value - wide), shown(value + wide))
}

/// The lag of a thermocouple and its 90 % interval, of which nothing lies below zero.
pub(crate) fn lag(of: &Thermocouple) -> String {
    let most = of.lag + NINETY_FIVE * of.lag_error;
    if of.lag <= 0.0 {
        return format!("none seen (below {most:.1}\u{a0}s)");
    }
    let least = (of.lag - NINETY_FIVE * of.lag_error).max(0.0);
    format!("{:.1}\u{a0}s ({least:.1} to {most:.1})", of.lag)
}

/// Sentence on the log whose clock is farthest off, if it is off by more than starting it by hand explains.
fn late(c: &Calibration) -> Option<Words> {
    let worst = c.thermocouples.iter().max_by(|a, b| a.clock.abs().total_cmp(&b.clock.abs()))?;
    (worst.clock.abs() > OFF).then(|| {
        let early = if worst.clock > 0.0 { "before" } else { "after" };
        Words::from(format!("The log {} fits best if it began ", worst.file))
            .strong(delay(worst.clock.abs(), worst.clock_error))
            .plain(format!(" {early} the duty; that was allowed for. Check when it was started."))
    })
}

/// Sentence on what holds the idle.
fn idles(kind: IdleKind) -> Words {
    let text = if kind.is_governed() {
        "a governor holds it, which opens the throttle against a drag"
    } else {
        "the throttle rests on its stop, so that a drag slows the motor much"
    };
    Words::from("The drops of the idle show that ").strong(text).plain(".")
}

/// Sentence on a constant.
fn sentence(l: &Learned) -> Words {
    let words = Words::default()
        .strong(in_words(&l.path))
        .plain(format!(" ({}) is ", l.path))
        .strong(value(l, l.value))
        .plain(format!(" ({})", range(l, l.value, l.factor)));
    let before = format!("{}, ÷ or × {}", value(l, l.before), three(l.before_factor));
    let same = (l.value / l.before - 1.0).abs() < SAME;
    let words = words.plain(format!("{} {before}", if same { ", as before:" } else { "; before," }));
    if l.clutches_factor > 1.0 {
        words.plain(format!("; spread between clutches: ÷ or × {}.", three(l.clutches_factor)))
    } else {
        words.plain(".")
    }
}

/// A bound of a life as text.
pub(crate) fn life(time_of: Option<f64>, horizon: f64) -> String {
    time_of.map_or_else(|| format!("more than {}", say::time(horizon)), say::time)
}

/// Sentence on the lives of clutches, before and after.
fn narrowed(f: &Forecast) -> Words {
    let at = |set: &[Bounds; 3], k: usize| life(set[k].estimate, f.horizon);
    let words = Words::from(format!("Of {} clutches under “{}”, half have a part worn out after ", f.clutches, f.duty));
    let words = words.strong(at(&f.after, 1)).plain(format!(" (expected before: {}); ", at(&f.before, 1)));
    let wide = |set: &[Bounds; 3]| Some(set[2].estimate? / set[0].estimate?);
    let words =
        words.plain("80 of 100 wear one out between ").strong(format!("{} and {}", at(&f.after, 0), at(&f.after, 2)));
    let words = words.plain(format!(" instead of between {} and {}", at(&f.before, 0), at(&f.before, 2)));
    match (wide(&f.before), wide(&f.after)) {
        (Some(before), Some(after)) => {
            words.plain(format!(": a factor of {} where it was {}.", three(after), three(before)))
        }
        _ => words.plain("."),
    }
}

/// The sampled constants that were not learned, each with its factor either way.
pub(crate) fn left(c: &Calibration) -> impl Iterator<Item = (&'static Parameter, f64)> {
    ASSUMED.iter().filter_map(|(p, spread)| match spread {
        Spread::Factor(factor) if !c.constants.iter().any(|l| l.path == p.path) => Some((*p, *factor)),
        _ => None,
    })
}

/// Sentences on what the data leave undetermined.
pub fn open(c: &Calibration) -> Vec<Words> {
    let mut said = vec![];
    if let Some((i, j, r)) = strongest(&c.correlation) {
        let pair =
            [i, j].map(|k| in_words(&c.constants[k].path)).join(" and ") + &format!(" ({r:.2})").replace('-', "−");
        said.push(format!("The errors of {pair} are the most strongly correlated.").into());
    }
    let aside: u64 = c.data.iter().map(|s| s.set_aside).sum();
    if aside > 0 {
        said.push(
            format!(
                "{aside} readings were set aside: they were taken during running-in, or depend on none of the learned constants."
            )
            .into(),
        );
    }
    if c.constants.iter().any(|l| l.clutches_factor <= 1.0) {
        said.push("Where no spread between clutches is seen, fewer than three were inspected, or they differ no more than their readings scatter.".into());
    }
    let q = &c.quality;
    said.push(
        format!(
            "The fit leaves a sum of squares of {} for {} degrees of freedom; {} of {} searches agree on it.",
            three(q.sum),
            q.freedom,
            q.searches.1,
            q.searches.0
        )
        .into(),
    );
    said.push("If the data do not determine a constant, or cannot separate it from another, nothing is learned: the message then names what to measure.".into());
    said.push("The readings' scatter, the parts' tolerances when new and the time of running in are assumed unless the head of a column says ±.".into());
    said
}

//! What the figures of fleets say: when the first few clutches fail, and what each gains.

use crate::words::clock::Clock;
use crate::words::clutches::{followed, leave_wrong_oils, name, pairs, ranked, reference, whole};
use crate::words::fleet::of_duty;
use crate::words::number::figures;
use crate::words::reading::among;
use slipsoak_engine::fleet::{Direction, Fleet, Gain, Paired, Report};
use slipsoak_engine::statistics::none_of;

/// Largest number of clutches of which the first two count; of more it is a tenth.
const FEW: usize = 30;
/// Ratio of times up to which no fleet stands out.
const ALIKE: f64 = 1.25;
/// Confidence of the share that may fail where none did.
const CONFIDENCE: f64 = 0.95;

/// Number of failures of `n` clutches by which fleets are compared, and its words: two, or a tenth of many. An owner who rents
/// all of them has to act by then.
pub fn level(n: usize) -> (usize, String) {
    match n {
        ..=1 => (1, "one failed".to_owned()),
        _ if n <= FEW => (2, "two failed".to_owned()),
        _ => (n / 10, format!("a tenth failed, {}", n / 10)),
    }
}

/// Number of a fleet's clutches that fail within the time followed.
fn failed(fleet: &Fleet) -> usize {
    fleet.outcomes.iter().filter(|outcome| outcome.ended_by.is_some()).count()
}

/// How many of a fleet still run at the end.
pub fn still(fleet: &Fleet) -> String {
    let n = fleet.outcomes.len();
    match n - failed(fleet) {
        0 => format!("all {n} have failed"),
        1 => format!("1 of {n} still runs"),
        left => format!("{left} of {n} still run"),
    }
}

/// That none of a fleet fails, and how many may.
pub fn none_in(fleet: &Fleet, clock: &Clock) -> Vec<String> {
    let n = fleet.outcomes.len();
    let most = whole(none_of(n as u64, CONFIDENCE));
    vec![format!("none of {n} in {};", clock.say(clock.followed(fleet))), format!("under {most} at 95\u{a0}%")]
}

/// Fleets of which every clutch has a life, the longest-lived first, without those of wrong oils.
fn known(report: &Report) -> Vec<&Fleet> {
    let known = |fleet: &&Fleet| !fleet.outcomes.is_empty() && fleet.beyond.is_none();
    let mut known = ranked(report).into_iter().map(|k| &report.fleets[k]).filter(known).collect();
    leave_wrong_oils(&mut known, |fleet| fleet);
    known
}

/// That a fleet has an oil that is never to be used; none if it has not.
pub fn wrong_oil(fleet: &Fleet) -> Option<String> {
    fleet.wrong_oil().then(|| "+ wrong oil: never use".to_owned())
}

/// When the first few clutches of the longest-lived fleet fail, and those of the reference or the next.
pub fn finding(report: &Report, clock: &Clock) -> String {
    let all = known(report);
    let Some(best) = all.first() else { return "In every fleet clutches are beyond the model".to_owned() };
    let (count, _) = level(best.outcomes.len());
    let n = best.outcomes.len();
    let within = || clock.running_first(followed(best), clock.followed(best));
    if all.iter().all(|fleet| failed(fleet) == 0) {
        let each = if all.len() > 1 { " of any fleet" } else { "" };
        return format!("None of {n} clutches{each} fails within {}", within());
    }
    let few = match count {
        1 => "the first".to_owned(),
        2 => format!("the second of {n}"),
        _ => format!("a tenth of {n}"),
    };
    let fails = if count > 2 { "fail" } else { "fails" };
    let when = |fleet: &Fleet| {
        let outcome = clock.failing(fleet, count - 1)?;
        Some(clock.running_first(outcome.running?, clock.end(outcome)?))
    };
    let called = |fleet: &Fleet| format!("“{}”", name(report, fleet));
    let first = &report.fleets[reference(report).0];
    let rival = all[1..].iter().copied().find(|fleet| std::ptr::eq(*fleet, first));
    let Some(rival) = rival.or_else(|| all.get(1).copied()) else {
        let said = when(best).map_or_else(
            || format!("fewer than {count} of {n} fail within {}", within()),
            |time| format!("{few} {fails} after {time}"),
        );
        return capital(&said);
    };
    let time = |fleet: &'_ Fleet| clock.failing(fleet, count - 1).and_then(|outcome| clock.end(outcome));
    let times: Vec<(f64, &Fleet)> = all.iter().filter_map(|fleet| Some((time(fleet)?, *fleet))).collect();
    let soonest = times.iter().min_by(|a, b| a.0.total_cmp(&b.0));
    let latest = times.iter().max_by(|a, b| a.0.total_cmp(&b.0));
    if let (Some((soon, early)), Some((late, last))) = (soonest, latest)
        && times.len() == all.len()
        && let (Some(first), Some(then)) = (when(early), when(last))
    {
        if first == then {
            return format!("With each of {} fleets {few} {fails} after {first}", all.len());
        }
        // Where more than two are alike, the first and the last are said, none as better.
        if all.len() > 2 && *late <= ALIKE * soon {
            return capital(&format!(
                "{few} {fails} after {first} with {}, first of {} fleets, and after {then} with {}, last",
                called(early),
                all.len(),
                called(last)
            ));
        }
    }
    match (when(best), when(rival)) {
        (Some(long), Some(short)) => {
            capital(&format!("{few} {fails} after {long} with {}, {short} with {}", called(best), called(rival)))
        }
        (None, Some(short)) => capital(&format!(
            "{few} {fails} after {short} with {}; with {} {} of {n} within {}",
            called(rival),
            called(best),
            count_of(failed(best)),
            within()
        )),
        _ => format!(
            "Within {} {} of {n} fail with {}, {} with {}",
            within(),
            count_of(failed(best)),
            called(best),
            count_of(failed(rival)),
            called(rival)
        ),
    }
}

/// A count, or "none".
fn count_of(count: usize) -> String {
    if count == 0 { "none".to_owned() } else { count.to_string() }
}

/// The text with a capital letter first.
fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Number of clutches compared.
const fn compared(gain: &Gain) -> u64 {
    gain.longer + gain.shorter + gain.alike + gain.unknown
}

/// How many last longer, with bounds, and by how much.
pub fn gained(gain: &Gain) -> String {
    let all = compared(gain);
    let share = format!("{:.0} to {}", 100.0 * gain.gaining.low, whole(gain.gaining.high));
    let bound = |value: Option<f64>| value.map(|ratio| figures(ratio, 2));
    let range = match (bound(gain.ratio.low), bound(gain.ratio.high)) {
        (Some(low), Some(high)) => format!(" ({low} to {high})"),
        (Some(low), None) => format!(" ({low} or more)"),
        _ => String::new(),
    };
    let middle =
        gain.ratio.estimate.map(|ratio| format!("; the middle one {} times as long{range}", figures(ratio, 2)));
    format!("{} of {all} last longer ({share}){}", gain.longer, middle.unwrap_or_default())
}

/// What the change from one fleet to another does to the same clutches, for the longest-lived fleet that is compared.
pub fn gains_found(report: &Report) -> String {
    let paired = || {
        ranked(report).into_iter().filter_map(|k| {
            let fleet = &report.fleets[k];
            report.pairs.iter().find(|pair| pair.variant == fleet.variant && pair.duty == fleet.duty)
        })
    };
    let wrong = |pair: &&Paired| {
        let of = |(variant, duty): (&str, &str)| {
            report.fleets.iter().any(|f| f.variant == variant && f.duty == duty && f.wrong_oil())
        };
        of((&pair.variant, &pair.duty)) || of((&pair.against.0, &pair.against.1))
    };
    let Some(pair) = paired().find(|pair| !wrong(pair)).or_else(|| paired().next()) else {
        return "No clutch is in two fleets".to_owned();
    };
    let never = if wrong(&pair) { ", but never use an oil with PTFE, silicone or a friction modifier" } else { "" };
    let named = |(variant, duty): (&str, &str)| format!("“{}”", among(pairs(report), (variant, duty)));
    let (new, old) = (named((&pair.variant, &pair.duty)), named((&pair.against.0, &pair.against.1)));
    let Paired { end, .. } = pair;
    let (count, long, short) =
        if end.shorter > end.longer { (end.shorter, &old, &new) } else { (end.longer, &new, &old) };
    let sure = match end.verdict {
        Direction::Longer | Direction::Shorter => "",
        Direction::Unclear | Direction::TooFew | Direction::Undecided => ", no clear difference",
    };
    let of = format!("{count} of {} sampled clutches last longer with {long}", compared(end));
    // What lasts longer may have to be refused all the same.
    let refused = |(variant, duty): (&str, &str)| {
        report.fleets.iter().find(|f| f.variant == variant && f.duty == duty && report.refuses(f)).map(refusal)
    };
    // A habit is used, a machine is fitted.
    let fit = if pair.variant == pair.against.0 { "used" } else { "fitted" };
    match [refused((&pair.variant, &pair.duty)), refused((&pair.against.0, &pair.against.1))] {
        [Some(one), Some(other)] => {
            let why = if one == other { one.to_owned() } else { format!("{new}: {one}; {old}: {other}") };
            format!("Neither {new} nor {old} can be recommended ({why}); {of}{sure}{never}")
        }
        [None, Some(why)] => format!("{of} than with {short}{sure}{never}; {old} is not to be {fit} ({why})"),
        [Some(why), None] => format!("{of} than with {short}{sure}{never}; {new} is not to be {fit} ({why})"),
        [None, None] => format!("{of} than with {short}{sure}{never}"),
    }
}

/// Why a fleet is refused.
fn refusal(fleet: &Fleet) -> &'static str {
    match fleet.unfit() {
        _ if fleet.drags() => "clutches drag at idle",
        _ if fleet.grabs() => "bushings grab their shafts",
        Some((fault, _)) => of_duty(fault),
        None => "springs grow hotter than their relaxation is known to",
    }
}

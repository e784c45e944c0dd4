//! The interval of oiling, and how it is on the safe side.

use super::amounts::{constants, drops, due, how_sure, outings};
use crate::words::number::figures;
use crate::words::say::{percent, time};
use slipsoak_engine::names::LeakCase;
use slipsoak_engine::oil_plan::{Advised, OilPlan};
use slipsoak_engine::units::{DAY, HOUR};

/// A week, s.
const WEEK: f64 = 7.0 * DAY;

/// Rest from which a machine stands overnight, s. Assumed.
const NIGHT: f64 = 6.0 * HOUR;
/// Rest in which warm pores take up a dose, s.
const SOAKED: f64 = 600.0;

/// Sentences if a dose exceeds the loss of such outings.
pub(super) fn seldom(p: &OilPlan) -> String {
    format!(
        "Such outings lose less than {} and do not reach the service level in ten years: oil once a year all the same, and check the fill.{}",
        drops(p.dose),
        too_much(p)
    )
}

/// The rule for the wall: often enough for the greatest leakage, and never more than the bushing takes.
fn wall(p: &OilPlan, often: Advised) -> String {
    let by_calendar = p.weekly.map(|weekly| calendar(often.riding / weekly * WEEK));
    let after = [Some(time(often.riding) + " of riding"), by_calendar].into_iter().flatten();
    let stand = if (SOAKED..NIGHT).contains(&p.rest) {
        format!("for its rest of {}", time(p.rest))
    } else {
        "overnight".to_owned()
    };
    let singly = if often.warm > 1.0 { ", one at a time; stop when a drop stays on the face," } else { ";" };
    format!(
        "For the wall: oil after {} ({}), while the bushing is warm from the ride. Put on up to {}{singly} let it stand {stand} and wipe off what runs out.{}{}{}",
        outings(often.outings).trim_start_matches("after "),
        after.collect::<Vec<_>>().join("; "),
        drops(often.warm),
        when_cold(often),
        too_much(p),
        too_short(p, often)
    )
}

/// What goes in when the bushing has cooled: nothing, unless one outing loses more than warm pores have room for.
fn when_cold(often: Advised) -> String {
    let later = often.dose - often.warm;
    if later <= 0.0 {
        return String::new();
    }
    format!(
        " One outing can lose or spoil as much oil as {} replace, more than warm pores have room for: put on up to {} more when the bushing is cold.",
        drops(often.drops),
        drops(later)
    )
}

/// That more was asked for than a warm bushing takes.
fn too_much(p: &OilPlan) -> String {
    if p.drops <= p.dose {
        return String::new();
    }
    format!(
        " A warm bushing has no room for {}: the rest would run off, some of it onto the lining, which then slips and may not hold.",
        drops(p.drops)
    )
}

/// That the rest is too short to oil in, and what that takes of the lining's grip; nothing if it is long enough.
fn too_short(p: &OilPlan, often: Advised) -> String {
    if p.rest >= SOAKED {
        return String::new();
    }
    let dose = p.doses.iter().find(|dose| dose.drops >= often.warm).or(p.doses.last());
    let lost = dose.filter(|dose| dose.grip < 1.0).map_or_else(String::new, |dose| {
        format!(
            ": ridden 30 s later, {} can take up to {} of the lining's grip",
            drops(often.warm),
            percent(1.0 - dose.grip)
        )
    });
    format!(" A rest of {} is too short to oil in{lost}. Oil before a long rest instead, best overnight.", time(p.rest))
}

/// An interval of the calendar, s, on the safe side: whole weeks, whole days, or times a week.
fn calendar(interval: f64) -> String {
    let (weeks, days) = ((interval / WEEK).floor(), (interval / DAY).floor());
    let every = match (weeks, days) {
        (0.0, ..=1.0) => {
            // A billionth more than each day is each day.
            let times = (WEEK / interval - 1e-9).ceil();
            if times == 7.0 { "every day".to_owned() } else { format!("{times:.0} times a week") }
        }
        (0.0, days) => format!("every {days:.0} days"),
        (1.0, _) => "every week".to_owned(),
        (weeks, _) => format!("every {weeks:.0} weeks"),
    };
    format!("at that much riding a week, {every}")
}

/// The interval, and how much longer it is with the leakage as set.
pub(super) fn with_margin(p: &OilPlan, habit: Advised) -> Vec<String> {
    let most = p.case(LeakCase::Most);
    let sure = how_sure(p.leak_learned());
    let set = if p.leak_learned() { "as learned" } else { "as set" };
    let worst = most.map(constants).unwrap_or_default();
    let own = p.case(LeakCase::AsSet).map(constants).unwrap_or_default();
    let mut say = match p.advised_at_most_leak.habit() {
        Some(often) => vec![
            wall(p, often),
            format!(
                "Such oiling is enough even with the greatest end leakage and the shortest life of the oil in heat that are possible: {worst}, {sure}. With {own}, {set}, {} after every {} ({}) are enough.",
                drops(habit.dose),
                time(habit.riding),
                outings(habit.outings)
            ),
        ],
        // The most often that there is.
        None => vec![
            wall(p, Advised { outings: 1, riding: p.riding, ..habit }),
            format!(
                "With {own}, {set}, {} after every {} ({}) {} enough. With the greatest leakage and the shortest life of the oil in heat that are possible, {worst}, {sure}, service is due after {}, and no oiling habit keeps the bushing oiled: stop where it squeals.",
                drops(habit.dose),
                time(habit.riding),
                outings(habit.outings),
                if habit.dose == 1.0 { "is" } else { "are" },
                most.map(due).unwrap_or_default()
            ),
        ],
    };
    if let Some(weighing) = p.weighing {
        let mg = |kg: f64| format!("{} mg", figures(1e6 * kg, 2));
        say.push(format!(
            "Weigh a drum to know the leakage: clean, with its bushing full, and again after {} of riding ({}) without oiling, after which it is no lower than its service level even in that worst case. A loss of {} is the leakage as set, {} the greatest.",
            time(weighing.riding),
            if weighing.outings == 0 {
                "within the first outing".to_owned()
            } else if weighing.outings == 1 { "one outing".to_owned() } else { format!("{} outings", weighing.outings) },
            mg(weighing.lost),
            mg(weighing.lost_at_most_leak)
        ));
    }
    let half = match p.case(LeakCase::AsSet).and_then(|set| set.due) {
        Some(due) if habit.riding > 0.5 * due => format!("is one outing, though service is due after {}", time(due)),
        _ => "is at most half of the time to service".to_owned(),
    };
    say.push(format!(
        "The interval is on the safe side: it counts from full with all that the first outing throws off, takes the smaller of what is kept warm and cold, is cut to whole outings, {half}, and lets fresh oil keep pace with what heat spoils, so that the bushing does not score. The fill is then {}, above the {} of service.",
        percent(habit.fill),
        percent(p.due_at)
    ));
    say
}

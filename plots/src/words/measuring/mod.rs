//! Sentences on what to measure for a decision, how, and how safely.

mod method;
mod scope;
mod sheet_to_fill_in;

use crate::words::number::figures;
use crate::words::say::{time, times, turns};
use crate::words::text::{Words, listed};
use crate::words::use_of_machine::{OWN, amiss, forbidden, nearer, wrong_oil};
pub use method::{act, how, when};
use scope::{bent, counted, limit, ranges};
pub use scope::{sure, untold};
pub use sheet_to_fill_in::{sheet, unit};
use slipsoak_engine::measure_plan::{Action, Candidate, MeasurePlan, effort};
use slipsoak_engine::names::Decision;
use slipsoak_engine::parts::in_words;
use slipsoak_engine::spring_choice::{Reason, Verdict};
use slipsoak_engine::statistics::NINETY_FIVE;

/// The factor either way in which 9 of 10 lie, from a standard deviation of the logarithm.
pub fn factor(deviation: f64) -> f64 {
    (NINETY_FIVE * deviation).exp()
}

fn either_way(deviation: f64) -> String {
    format!("a factor of {} each way", figures(factor(deviation), 2))
}

fn of_100(share: f64) -> String {
    format!("{:.0} of 100 cases", 100.0 * share)
}

/// What is uncertain.
pub fn subject(plan: &MeasurePlan) -> String {
    match (plan.decision, plan.actions.get(plan.now as usize)) {
        (Decision::Oiling, _) => "the riding until oil service is due".to_owned(),
        (Decision::Season, _) => {
            let carts = plan.season.map_or(1.0, |shop| shop.carts);
            format!("the number of linings, bushings and washers for {} carts in a season", figures(carts, 4))
        }
        (Decision::Spring, Some(Action::Fit(name))) => format!("the life with the {name} spring"),
        _ => "the life of the part that wears out first".to_owned(),
    }
}

/// Share of the shortest likely life after which to look at parts at the latest.
const SEEN: f64 = 0.5;

/// What to do while nothing is measured: on the safe side of all that is assumed.
fn advised(plan: &MeasurePlan) -> String {
    match (plan.decision, plan.actions.get(plan.now as usize)) {
        // One in 20 is worn out by the low end: half of it, so that such parts are seen half worn.
        (Decision::Life, Some(Action::Every(interval))) => {
            let early = interval.min(SEEN * plan.prior.low);
            format!("look at lining, washer and bushing every {} of riding at the latest", time(early))
        }
        (Decision::Season, Some(Action::Stock(parts))) => {
            format!(
                "have the parts that `slipsoak season` says; with every bushing in good oil that is up to {parts} linings, bushings and washers in all"
            )
        }
        (Decision::Oiling | Decision::Life | Decision::Season, _) => {
            "oil as often as `slipsoak oiling` says".to_owned()
        }
        (Decision::Spring, _) => match &plan.sought {
            None => "fit the spring that `slipsoak choose` advises".to_owned(),
            Some(sought) if sought.verdict == Verdict::Unfit => {
                "fit none of these springs, since `slipsoak choose` advises against each".to_owned()
            }
            Some(sought) => format!(
                "look for a spring that engages at {} or somewhat above, since `slipsoak choose` advises none of these",
                turns(sought.engagement)
            ),
        },
    }
}

/// What is known of the running time or of the number of parts beforehand.
fn known(plan: &MeasurePlan) -> String {
    if plan.decision == Decision::Season {
        let [low, high] = [plan.prior.low.floor(), plan.prior.high.ceil()].map(|parts| figures(parts, 2));
        return format!("{low} to {high}");
    }
    match plan.due {
        Some([Some(soonest), Some(latest)]) => return times(soonest, latest),
        Some([Some(soonest), None]) => return format!("{} or more", time(soonest)),
        Some([None, _]) | None => {}
    }
    sampled(plan)
}

/// The range of sampled clutches.
fn sampled(plan: &MeasurePlan) -> String {
    let more = if plan.prior.beyond > 0.05 { " or more" } else { "" };
    format!("{}{more}", times(plan.prior.low, plan.prior.high))
}

/// The answer: what to measure, what it tells, what to do until then; then reasons.
pub fn statement(plan: &MeasurePlan) -> Vec<Words> {
    let mut said: Vec<Words> =
        plan.wrong_oil.then(|| wrong_oil("this oil", ", before you measure")).into_iter().collect();
    if !plan.may_ride() {
        said.extend(unfit(plan));
        return said;
    }
    let (renewed, sought) = (plan.renewed.as_ref(), plan.sought.as_ref());
    said.extend(amiss((None, &plan.against), renewed, sought, "").map(Words::from));
    said.extend(match plan.recommended() {
        Some(best) => worth(plan, best),
        None => none(plan),
    });
    if let Some(near) = nearer(&plan.against, renewed) {
        said.insert(said.len().min(2), near.into());
    }
    said.extend(quicker(plan));
    said.extend(together(plan));
    said.extend(learnt(plan));
    said.extend(bent(plan));
    said.extend(limit(plan));
    said.extend(ranges(plan));
    said.push(counted(plan).into());
    said
}

/// The answer where the machine must not be ridden in the use: nothing is worth measuring before that is mended, but what shows
/// whether it drags.
fn unfit(plan: &MeasurePlan) -> Vec<Words> {
    let (so, with) = if plan.decision == Decision::Spring {
        ("with any of these springs", "the least unsuitable of these springs")
    } else {
        ("so", OWN)
    };
    let instead = forbidden(with, &plan.against, plan.renewed.as_ref(), plan.sought.as_ref());
    // Springs that are known to be weak are replaced, not read; one that drags at any idle does so whatever is read.
    let within = |reason: &Reason| match reason {
        Reason::Drags { share, .. } => *share < 1.0,
        other => other.is_near(),
    };
    let open = plan.renewed.is_none() && plan.against.iter().all(within);
    let next = if open {
        "That is computed with all constants as set. What could change it are the idle of the warm motor and the speed at which the clutch engages, 5 min each by a tachometer: read both if you have not, and ask again with them. Until then nothing else is worth measuring."
    } else {
        "That is computed with all constants as set, and no measurement is worth its work before it is mended: ask again then."
    };
    vec![Words::default().strong(format!("Do not use it {so}")).plain(format!(". {instead}")), next.into()]
}

fn narrows(plan: &MeasurePlan, deviation: f64) -> String {
    if plan.narrows(deviation) {
        let now = figures(factor(plan.prior.deviation), 2);
        format!(
            "narrows {} from a factor of {now} each way ({}) to {}",
            subject(plan),
            known(plan),
            either_way(deviation)
        )
    } else {
        format!("hardly narrows {} ({})", subject(plan), known(plan))
    }
}

fn worth(plan: &MeasurePlan, best: &Candidate) -> Vec<Words> {
    // Between two readings nothing is oiled.
    let between = plan.decision == Decision::Oiling && effort(best.method).1;
    let until = if between { "Until the first reading" } else { "Until then" };
    vec![
        Words::default().strong(format!("{} {}", act(best.method), when(best))).plain(format!(
            ": that {}; the advice changes in {}.",
            narrows(plan, best.deviation),
            of_100(best.change)
        )),
        format!("{until} {}. Where the narrower range will lie only the reading tells.", advised(plan)).into(),
        how(best.method),
    ]
}

fn none(plan: &MeasurePlan) -> Vec<Words> {
    let narrowest = plan.candidates.iter().min_by(|a, b| a.deviation.total_cmp(&b.deviation));
    let narrowest = narrowest.filter(|c| plan.narrows(c.deviation));
    let choice = if plan.pair.is_some() {
        "No measurement alone changes this choice enough to be worth its work, but two together do, see below"
    } else if narrowest.is_none() && plan.decision != Decision::Spring {
        "No measurement of the list is worth doing for that"
    } else if plan.decision == Decision::Season {
        "No measurement of wear changes the number of parts enough to be worth its work"
    } else if plan.actions.len() > 1 {
        "No measurement changes this choice enough to be worth its work"
    } else {
        "There is nothing to choose between"
    };
    let mut said = vec![
        Words::default().strong(choice).plain(if plan.pair.is_some() {
            format!("; until then {}.", advised(plan))
        } else {
            format!(": {}.", advised(plan))
        }),
        format!("{}{} is {} as known today.", capital(&subject(plan)), least(plan), known(plan)).into(),
    ];
    said.push(match narrowest {
        Some(c) => format!(
            "{} {}: that {}, for whoever wants to know.",
            act(c.method),
            when(c),
            narrows(plan, c.deviation)
        )
        .into(),
        None if plan.pair.is_some() || plan.decision == Decision::Spring => Words::default(),
        None => "No reading of the list narrows that by more than a twentieth. What would narrow it is parts measured after longer riding, at known hours: `slipsoak calibrate --inspections` learns from them.".into(),
    });
    said.retain(|words| !words.is_empty());
    said
}

/// Why the life with this spring counts: it may be another than the one that is advised.
fn least(plan: &MeasurePlan) -> &'static str {
    if plan.decision == Decision::Spring { ", with which the least is lost on average," } else { "" }
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// The measurement that gains most for its minutes, if it is another one.
fn quicker(plan: &MeasurePlan) -> Option<Words> {
    let quickest = plan.quickest.filter(|k| Some(*k) != plan.best)?;
    let c = plan.candidates.get(quickest as usize)?;
    Some(
        format!(
            "If there is little time: {} {}; the advice changes in {}, and it gains {} of what the first gains.",
            act(c.method).to_lowercase(),
            when(c),
            of_100(c.change),
            share(c.gain, plan.recommended()?.gain)
        )
        .into(),
    )
}

fn share(part: f64, of: f64) -> String {
    format!("{:.0}\u{a0}%", 100.0 * part / of)
}

fn together(plan: &MeasurePlan) -> Option<Words> {
    let pair = plan.pair?;
    let names = pair.of.map(|k| plan.candidates.get(k as usize).map(|c| act(c.method).to_lowercase()));
    let [Some(a), Some(b)] = names else { return None };
    Some(
        format!(
            "Two together gain more: {a}, and {b}; that {}, and the advice changes in {}.",
            narrows(plan, pair.deviation),
            of_100(pair.change)
        )
        .into(),
    )
}

fn learnt(plan: &MeasurePlan) -> Option<Words> {
    let named: Vec<String> = plan
        .learns
        .iter()
        .map(|l| format!("{} ({:.0}\u{a0}% of its uncertainty is left)", in_words(&l.path), 100.0 * l.left))
        .collect();
    (!named.is_empty() && plan.best.is_some()).then(|| format!("The reading tells of the {}.", listed(&named)).into())
}

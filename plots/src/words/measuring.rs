//! Sentences on what to measure for a decision, how, and how safely.

use crate::words::number::figures;
use crate::words::say::{time, times, turns};
use crate::words::text::{Words, listed};
use crate::words::use_of_machine::{OWN, amiss, forbidden, nearer, wrong_oil};
use slipsoak_engine::calibrate::{Condition, Quantity};
use slipsoak_engine::measure_plan::{Action, Candidate, DRAG, MeasurePlan, SPIN, effort, quantity};
use slipsoak_engine::names::{Decision, Method};
use slipsoak_engine::parts::in_words;
use slipsoak_engine::spring_choice::{Reason, Verdict};
use slipsoak_engine::statistics::NINETY_FIVE;
use slipsoak_engine::units::MINUTE;

/// How much wider a range may be than slopes foretell before that is said.
const BENT: f64 = 1.5;

/// What is measured, in the imperative.
pub const fn act(method: Method) -> &'static str {
    match method {
        Method::Weigh => "Weigh drum and bushing",
        Method::Washer => "Measure the thickness of the washer",
        Method::Bushing => "Measure the clearance of the bushing",
        Method::Lining => "Measure the thickness of the lining",
        Method::Engagement => "Read the engagement speed by a tachometer",
        Method::Spring => "Pull each shoe off its rest with a scale",
        Method::Idle => "Read the warm idle by a tachometer",
        Method::Drop => "Read the drop of the warm idle under a known drag",
        Method::Face => "Read the drum by infra-red at the end of a ride",
        Method::SpinDown => "Time the spin-down of the drum",
        Method::Log => "Log a ride with four thermocouples",
    }
}

/// How it is done, with what to mind.
pub fn how(method: Method) -> Words {
    match method {
        Method::Weigh => "Motor off and cold. Wipe drum and bushing clean, fill the bushing, let it stand overnight, wipe it and weigh both together to 5 mg. Do not oil before the second weighing.".into(),
        Method::Washer => "Motor off and cold. Measure the washer in three places with a micrometer and take the mean.".into(),
        Method::Bushing => "Motor off and cold. Measure bore and shaft in two directions; the difference is the clearance.".into(),
        Method::Lining => "Motor off and cold. Measure each lining in its middle and take the mean. Do not blow the dust off.".into(),
        Method::Engagement => "Wheels lifted, guards on, nobody near the chain. Raise the speed slowly and read where the drum begins to turn, three times.".into(),
        Method::Spring => "Motor off and cold, eye protection on. Pull each shoe with a scale and read the force at which it leaves its rest.".into(),
        Method::Idle => "Guards on, brake on. Let the motor warm up for 10 min and read its idle over a minute.".into(),
        Method::Drop => format!("Guards on, brake on, motor warm. Load the motor with a known drag of about {} N·m for some seconds and read by how much its idle drops.", figures(DRAG, 2)).into(),
        Method::Face => "Paint a dot of matt black on the cold drum: bare steel reads far too cold. After the ride, motor off, read the dot at once and do not touch the drum, it burns. If you let the clutch slip on purpose, for at most 5 s.".into(),
        Method::SpinDown => Words::from(format!("Motor off, chain, washer and cover off. Spin the drum to {} and take the time until it is at rest, three times, at ", turns(SPIN.0))).temperature(SPIN.1).plain("."),
        Method::Log => "Fit thermocouples to drum, shoes, bushing and sprocket, motor off, and tie the wires clear of chain and shoes. Guards on before the motor starts. Log one ride and the hour after it.".into(),
    }
}

/// When it is done, with its work: "before and after 20 h of riding (2 × 15 min)".
pub fn when(candidate: &Candidate) -> String {
    let (each, twice) = effort(candidate.method);
    let minutes = figures(each / MINUTE, 2);
    if twice {
        format!("before and after {} of riding (2 × {minutes} min)", time(candidate.wait))
    } else {
        format!("once ({minutes} min)")
    }
}

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
            format!("count on {parts} linings, bushings and washers in all (`slipsoak season` says how many of each)")
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
        format!("{} is {} as known today.", capital(&subject(plan)), known(plan)).into(),
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

/// That slopes would promise more.
fn bent(plan: &MeasurePlan) -> Option<Words> {
    let best = plan.recommended()?;
    (best.deviation > BENT * best.by_slope).then(|| format!("Slopes at the middle would promise {}: that holds for a clutch near the middle alone, so the figure above is the mean over all sampled clutches.", either_way(best.by_slope)).into())
}

fn limit(plan: &MeasurePlan) -> Option<Words> {
    let safe = plan.safe?;
    let twice = |c: &Candidate| effort(c.method).1;
    plan.recommended().is_some_and(twice).then(|| format!("Ride no longer than {} without oil between the readings: until then 19 of 20 clutches or more are above the level of service, and so is one with the greatest end leakage and the shortest life of its oil in heat.", time(safe)).into())
}

/// Whose the hours of oil service are, and whose the factors.
fn ranges(plan: &MeasurePlan) -> Option<Words> {
    plan.due?[0]?;
    Some(format!("The hours in brackets are those of `slipsoak oiling`: from the greatest end leakage with the shortest life of the oil in heat to the least with the longest. The factors hold nine of ten clutches that are sampled over all that is assumed, {}.", sampled(plan)).into())
}

/// What counts as a loss.
fn counted(plan: &MeasurePlan) -> &'static str {
    match plan.decision {
        Decision::Oiling => "What counts: riding below the level of service, and an hour of riding for each oiling.",
        Decision::Life => {
            "What counts: an hour on a worn part weighs as much as nine hours of life thrown away, so that nine of ten clutches or more outlast the hours that are named. Lives are those of wear with good oil in the bushing: where oil is lost or spoiled by heat it ends earlier (`slipsoak oiling` says when)."
        }
        Decision::Season => {
            "What counts: a part short weighs as much as nine left over, so that nine of ten seasons have enough. Parts wear as new ones do with good oil in the bushing: where oil is lost or spoiled by heat more bushings are needed (`slipsoak season` counts them)."
        }
        Decision::Spring => {
            "What counts: hours of running until the first part is worn out, as a mean over the sampled clutches, whose idles and springs differ; a spring that drags at idle, new or relaxed, counts as 19 lives lost. An idle that was read counts as steady. `slipsoak choose` is stricter: it keeps 19 of 20 clutches clear of the highest idle, and lets the idle vary about what was read. It may keep its advice where a change is counted here, so ask it again with the reading."
        }
    }
}

/// How sure the answer is.
pub fn sure(plan: &MeasurePlan) -> Vec<Words> {
    if !plan.may_ride() {
        return vec![];
    }
    let mut said = vec![format!(
        "From {} clutches sampled over the ranges of everything assumed, which nobody has measured; errors of the gauges are assumed too. Ranges hold 9 of 10.",
        plan.samples - plan.failed
    ).into()];
    if plan.failed > 0 {
        let is = if plan.failed == 1 { "is" } else { "are" };
        said.push(format!("{} more could not be computed and {is} left out.", plan.failed).into());
    }
    said
}

/// Unit in which a sheet asks for a quantity, and its size, SI.
pub const fn unit(quantity: Quantity) -> (&'static str, f64) {
    match quantity {
        Quantity::Washer | Quantity::Bushing | Quantity::Lining => ("mm", 1e-3),
        Quantity::Engagement | Quantity::Drop => ("rpm", slipsoak_engine::units::RPM),
        Quantity::Spring => ("N", 1.0),
        Quantity::Weight => ("g", 1e-3),
        Quantity::SpinDown => ("s", 1.0),
        Quantity::Charring => ("%", 0.01),
    }
}

/// Unit in which a sheet asks for a condition.
const fn unit_of_condition(condition: Condition) -> &'static str {
    match condition {
        Condition::Drag => "N·m",
        Condition::Spun => "rpm",
        Condition::Warm => "°C",
    }
}

/// The measurements of a sheet to fill in: the recommended ones, or if there are none the one that narrows most of those that an
/// inspection takes up.
fn wanted(plan: &MeasurePlan) -> Vec<&Candidate> {
    let all = plan.best.into_iter().chain(plan.pair.iter().flat_map(|p| p.of)).chain(plan.quickest);
    let mut places: Vec<u64> = all.collect();
    places.sort_unstable();
    places.dedup();
    if places.is_empty() {
        let inspected = plan.candidates.iter().filter(|c| quantity(c.method).is_some());
        return inspected.min_by(|a, b| a.deviation.total_cmp(&b.deviation)).into_iter().collect();
    }
    places.iter().filter_map(|k| plan.candidates.get(*k as usize)).collect()
}

/// A sheet to fill in: heads of columns as `calibrate --inspections` reads them, and its rows; none without a column.
pub fn sheet(plan: &MeasurePlan) -> Option<(Vec<String>, Vec<Vec<String>>)> {
    const CLUTCHES: usize = 3;
    let wanted = wanted(plan);
    let quantities: Vec<Quantity> = wanted.iter().filter_map(|c| quantity(c.method)).collect();
    if quantities.is_empty() {
        return None;
    }
    let mut heads = vec!["clutch".to_owned(), "hours [h]".to_owned()];
    for quantity in &quantities {
        let (unit, size) = unit(*quantity);
        let gauge = quantity.row().gauge;
        // A share of the reading is added when it is read.
        let error = if gauge.share == 0.0 { format!(" ± {}", figures(gauge.fixed / size, 2)) } else { String::new() };
        heads.push(format!("{} [{unit}]{error}", quantity.name()));
        heads.extend(
            Condition::ALL
                .into_iter()
                .filter(|c| c.row().of == *quantity)
                .map(|c| format!("{} [{}]", c.name(), unit_of_condition(c))),
        );
    }
    let mut hours: Vec<f64> =
        wanted.iter().filter(|c| quantity(c.method).is_some()).map(|c| c.wait).chain([0.0]).collect();
    hours.sort_by(f64::total_cmp);
    hours.dedup();
    let row = |clutch: usize, hours: f64| {
        let mut row = vec![String::new(); heads.len()];
        row[0] = format!("clutch {clutch}");
        row[1] = figures(hours / slipsoak_engine::units::HOUR, 2);
        row
    };
    let rows = (1..=CLUTCHES).flat_map(|clutch| hours.iter().map(move |hours| row(clutch, *hours))).collect();
    Some((heads, rows))
}

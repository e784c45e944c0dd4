//! Sentences on the season of a shop's carts.

use crate::words::choice::briefly;
use crate::words::number::{figures, number};
use crate::words::say::{percent, temperature, turns};
use crate::words::text::{Words, listed};
use slipsoak_engine::calendar::Date;
use slipsoak_engine::fleet::Spread;
use slipsoak_engine::names::Part;
use slipsoak_engine::parts::settings::{bushing, lining, oiling, washer};
use slipsoak_engine::season::{Difference, Need, Outcome, Paired, Policy, Rate, Season, ServiceDays};
use slipsoak_engine::units::{HOUR, RPM};

/// Weekdays, Monday first, and months.
const WEEKDAYS: [&str; 7] = ["Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"];
const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];
/// Relative error of a rate from which an answer warns.
const ROUGH: f64 = 0.05;
/// Parts of one kind for each cart in a season from which the use is called wrong.
const OFTEN: u64 = 2;
/// Bushings for each cart in a season from which no number of parts is an answer.
const MANY: u64 = 4;

/// The name of a month, 1 to 12.
pub fn month(number: u64) -> &'static str {
    MONTHS[(number.clamp(1, 12) - 1) as usize]
}

/// A date in words, 1 April 2027.
pub fn date(date: Date) -> String {
    let (year, number, day) = date.parts();
    format!("{day}\u{a0}{}\u{a0}{year}", month(number as u64))
}

/// A date within a year that is known, 1 April.
fn day(date: Date) -> String {
    let (_, number, day) = date.parts();
    format!("{day}\u{a0}{}", month(number as u64))
}

/// Spare parts in words, in this number.
fn pieces(part: Part, number: u64) -> String {
    let name = match (part, number) {
        (Part::Washer, 1) => "washer",
        (Part::Washer, _) => "washers",
        (Part::Lining, 1) => "lining",
        (Part::Lining, _) => "linings",
        (Part::Bushing, 1) => "bushing",
        (Part::Bushing, _) => "bushings",
        (_, 1) => "set of springs",
        _ => "sets of springs",
    };
    format!("{number}\u{a0}{name}")
}

fn plural(number: u64, one: &str) -> String {
    format!("{number}\u{a0}{one}{}", if number == 1 { "" } else { "s" })
}

/// A volume of oil, rounded up to a whole millilitre.
fn millilitres(volume: f64) -> String {
    format!("{}\u{a0}mL", (volume * 1e6 - 1e-6).ceil().max(0.0))
}

/// The days of a rule of service.
fn on(days: ServiceDays) -> String {
    match days {
        ServiceDays::Weekday(day) => format!("on {}s", WEEKDAYS[(day % 7) as usize]),
        ServiceDays::Every(1) => "every day".to_owned(),
        ServiceDays::Every(days) => format!("every {days} days"),
    }
}

/// A policy by its name: 4 drops on Mondays, renewed from 80 % of use.
pub fn policy(policy: &Policy) -> String {
    let oil = policy.oiling.map_or_else(
        || "never oiled".to_owned(),
        |oiling| {
            let when = if oiling.before_opening { " before opening" } else { "" };
            let drops = if oiling.drops == 1.0 { "drop" } else { "drops" };
            format!("{}\u{a0}{drops} {}{when}", figures(oiling.drops, 3), on(oiling.on))
        },
    );
    let early = policy.preventive.map(|share| format!(", renewed from {} of use", percent(share)));
    oil + &early.unwrap_or_default()
}

/// Weekdays of riding.
fn weekdays(open: [bool; 7]) -> String {
    if open.iter().all(|open| *open) {
        return "every day".to_owned();
    }
    let names = (0..7).filter(|k| open[*k]).map(|k| WEEKDAYS[k].to_owned());
    listed(&names.collect::<Vec<_>>())
}

/// The conditions of the question.
pub fn given(season: &Season) -> String {
    let q = &season.question;
    let warm = q.temperatures.iter().map(|month| month.1);
    let (low, high) = warm.fold((f64::MAX, f64::MIN), |(low, high), t| (low.min(t), high.max(t)));
    let ambient = if high - low < 0.5 { temperature(low) } else { crate::words::say::temperatures(low, high) };
    format!(
        "{}, {} to {}, {} ({} riding days of {}); use: {}; {ambient} around; {}",
        plural(q.carts, "cart"),
        date(q.first),
        date(q.last),
        weekdays(q.weekdays),
        q.days,
        hours(q.hours),
        season.usage,
        season.oil
    )
}

fn hours(seconds: f64) -> String {
    format!("{}\u{a0}h", figures(seconds / HOUR, 2))
}

/// The day of the season after so many days.
fn after(season: &Season, days: f64) -> Date {
    Date(season.question.first.0 + days.max(0.0).floor() as i64)
}

fn week(days: f64) -> u64 {
    (days.max(0.0) / 7.0).floor() as u64 + 1
}

/// Index of the policy that is advised: the least cost or, without prices, the fewest days lost, then the fewest parts. The one
/// asked for stays unless another is better beyond twice its error.
pub fn advised(season: &Season) -> usize {
    let gain = |pair: &&Paired| {
        let clear = |by: &Difference| if by.mean < -2.0 * by.error && by.mean < 0.0 { -by.mean } else { 0.0 };
        match &pair.cost {
            Some(cost) => clear(cost),
            None if pair.parts.mean > 2.0 * pair.parts.error => 0.0,
            None => clear(&pair.down),
        }
    };
    // To leave the bushings without oil is never advised.
    let oiled = |pair: &&Paired| season.policies.get(pair.other as usize).is_some_and(|p| p.policy.oiling.is_some());
    let best =
        season.pairs.iter().filter(oiled).filter(|pair| gain(pair) > 0.0).max_by(|a, b| gain(a).total_cmp(&gain(b)));
    best.map_or(0, |pair| pair.other as usize)
}

/// The answer: what to have, how to service, when the first cart stops; then reasons.
pub fn statement(season: &Season) -> Vec<Words> {
    let advised = advised(season);
    let Some(outcome) = season.policies.get(advised) else { return vec![] };
    let mut said: Vec<Words> = hopeless(season, outcome).map(Words::from).into_iter().collect();
    if season.against.is_empty() {
        said.push(have(season, outcome));
        said.extend(wide(outcome).then(|| {
            "Nearly all of the difference between these numbers is one constant of each part that nobody has measured, the same for all carts. Measure the parts of one cart in its first weeks (`slipsoak measure`), learn from it (`slipsoak calibrate`), and ask again before you buy more.".into()
        }));
        said.push(service(season, advised));
    } else {
        said.push(unfit(season));
    }
    said.push(first(season, outcome));
    said.extend(
        wrong_use(season, outcome)
            .filter(|_| season.against.is_empty() && hopeless(season, outcome).is_none())
            .map(Words::from),
    );
    said.extend(compared(season).into_iter().map(Words::from));
    let more = [shelf(season, outcome), oil(season, outcome), lost(season, outcome), money(outcome), hidden(season)];
    said.extend(more.into_iter().flatten().map(Words::from));
    said.extend(reasons(outcome).into_iter().map(Words::from));
    said.push(checked(season).into());
    said.extend(near_idle(season).map(Words::from));
    said
}

/// What 9 of 10 seasons need no more than; none for nothing.
fn needed(outcome: &Outcome) -> Option<String> {
    let parts = outcome.needs.iter().filter(|need| need.nine_tenths > 0);
    let oil = (outcome.oil > 0.0).then(|| format!("{} of oil", millilitres(outcome.oil)));
    let all: Vec<String> = parts.map(|need| pieces(need.part, need.nine_tenths)).chain(oil).collect();
    (!all.is_empty()).then(|| listed(&all))
}

/// The finding of the figure: what to have by the policy that is advised.
pub fn found(season: &Season) -> String {
    let outcome = season.policies.get(advised(season));
    if !season.against.is_empty() {
        return "These carts do not fit this use".to_owned();
    }
    if outcome.is_some_and(|outcome| hopeless(season, outcome).is_some()) {
        return "The use or the service is wrong, not the stock".to_owned();
    }
    let needed = outcome.and_then(|outcome| match beginning(outcome) {
        Some(few) => Some(format!("begin with {few}")),
        None => needed(outcome).map(|all| format!("have {all}")),
    });
    let carts = plural(season.question.carts, "cart");
    needed.map_or_else(|| format!("{carts}, a season: no parts needed"), |all| format!("For {carts}, a season: {all}"))
}

/// Whether the number that is enough in nine seasons of ten is far above that of half of them, for a reason common to all carts.
fn wide(outcome: &Outcome) -> bool {
    outcome.needs.iter().any(|need| need.common >= 0.5 && need.nine_tenths > 3 * need.half + 2)
}

/// What to begin with where the numbers of nine seasons of ten are far above it.
fn beginning(outcome: &Outcome) -> Option<String> {
    let halves = outcome.needs.iter().filter(|need| need.half > 0).map(|need| pieces(need.part, need.half));
    let halves: Vec<String> = halves.collect();
    (wide(outcome) && !halves.is_empty()).then(|| listed(&halves))
}

/// What to have for the season.
fn have(season: &Season, outcome: &Outcome) -> Words {
    let none = outcome.needs.iter().all(|need| need.nine_tenths == 0);
    let carts = if season.question.carts == 1 {
        "this cart".to_owned()
    } else {
        format!("these {} carts", season.question.carts)
    };
    let usual: Vec<String> = outcome
        .needs
        .iter()
        .filter(|need| need.nine_tenths > need.half)
        .map(|need| pieces(need.part, need.half))
        .collect();
    let usual =
        if usual.is_empty() { String::new() } else { format!("; half of them need no more than {}", listed(&usual)) };
    let sure = format!("9 in 10 sampled seasons need no more{usual}");
    let Some(all) = needed(outcome) else {
        return format!("No spare part and no oil is needed for {carts} this season: {sure}.").into();
    };
    if let Some(few) = beginning(outcome) {
        return Words::from("Begin with ").strong(few).plain(format!(
            " for {carts}: half of the sampled seasons need no more parts. 9 in 10 seasons need no more than {all}."
        ));
    }
    let spares = if none { " and no spare parts" } else { "" };
    Words::from("Have ").strong(all).plain(format!(" for {carts} this season{spares}: {sure}."))
}

/// How to service the carts.
fn service(season: &Season, advised: usize) -> Words {
    let outcome = &season.policies[advised];
    let early = outcome
        .policy
        .preventive
        .map(|share| format!(" Renew parts on these days from {} of their use on.", percent(share)));
    let other = if advised == 0 {
        String::new()
    } else {
        format!(" This serves better than “{}”, which was the rule given.", policy(&season.policies[0].policy))
    };
    let rule = match outcome.policy.oiling {
        None if advised == 0 => Words::from(
            "The carts are never oiled. Oil them, on the safe side: a dry bushing grabs its shaft, and the machine may then drive itself at idle.",
        ),
        None => Words::default(),
        Some(oiling) => {
            let when =
                if oiling.before_opening { "before opening" } else { "after closing, so that the oil rests overnight" };
            let drops = if oiling.drops == 1.0 { "drop" } else { "drops" };
            Words::from("Oil ").strong(on(oiling.on)).plain(format!(
                " {when}: {}\u{a0}{drops} for each cart, {} in the season.",
                figures(oiling.drops, 3),
                plural(outcome.oilings, "time")
            ))
        }
    };
    rule.plain(early.unwrap_or_default()).plain(other)
}

/// The answer where the carts must not be ridden in the use: parts to have would be the wrong advice.
fn unfit(season: &Season) -> Words {
    Words::default().strong("Do not rent these carts out for this use").plain(format!(
        ": computed with all constants as set, in the warmest month, they do not fit it ({}). Choose a spring that fits first (`slipsoak choose` says which, or why none does), or lessen the slip, and ask again; the numbers below only show how fast parts would go.",
        briefly(season.against.iter())
    ))
}

/// What comes before all numbers where every cart needs bushing after bushing.
fn hopeless(season: &Season, outcome: &Outcome) -> Option<String> {
    let need = outcome.needs.iter().find(|need| need.part == Part::Bushing).filter(|_| season.against.is_empty())?;
    let each = need.half / season.question.carts.max(1);
    (each >= MANY).then(|| {
        format!(
            "The use or the service is wrong, not the stock: half of the seasons take {} or more for each cart. Oil more often, or fit another spring (`slipsoak choose`), before you buy parts.",
            pieces(Part::Bushing, each)
        )
    })
}

/// Advice where every cart needs a part again and again: no stock cures that.
fn wrong_use(season: &Season, outcome: &Outcome) -> Option<String> {
    let most =
        outcome.needs.iter().max_by_key(|need| need.half).filter(|need| need.half >= OFTEN * season.question.carts)?;
    let each = most.half as f64 / season.question.carts as f64;
    Some(format!(
        "Each cart needs {} in half of the seasons: not the stock but the use or the service is wrong. Ride cooler, with fewer stops or a spring nearer to the idle, or oil more often.",
        pieces(most.part, each.round() as u64)
    ))
}

/// When the first cart stops.
fn first(season: &Season, outcome: &Outcome) -> Words {
    let stop = &outcome.first_stop;
    let Some(half) = stop.half.estimate else {
        if stop.share == 0.0 {
            // With a confidence of 95 %: 1 − 0.05^(1/n).
            let most = 100.0 * (1.0 - 0.05_f64.powf(1.0 / season.samples.max(1) as f64));
            return format!(
                "No cart stopped in any of {} sampled seasons: it happens in less than {}\u{a0}% of seasons.",
                season.samples,
                figures(most, 2)
            )
            .into();
        }
        return format!("A cart stops in {} of the seasons; in most of them none does.", percent(stop.share)).into();
    };
    let early = after(season, stop.tenth.estimate.unwrap_or(half));
    let early =
        if early <= season.question.first { "on the opening day".to_owned() } else { format!("before {}", day(early)) };
    let part = stop.part.map_or_else(String::new, |part| format!(", most often by its {}", limiting(part)));
    Words::from("Expect the first cart to stop ")
        .strong(format!("in week {}", week(half)))
        .plain(format!(" ({}){part}; in one season of ten {early}.", day(after(season, half))))
}

/// What of a cart is at its limit.
fn limiting(part: Part) -> &'static str {
    match part {
        Part::Seized => "bushing, which grabs the shaft",
        Part::Charring => "washer, which chars",
        Part::CoverGap => "washer, since the cover comes too near",
        Part::Spring => "springs, which have relaxed",
        part => part.name(),
    }
}

/// A count with its sign.
fn signed(by: f64, error: f64, less: &str, more: &str) -> String {
    format!("{}\u{a0}{} (± {})", figures(by.abs(), 2), if by < 0.0 { less } else { more }, figures(error, 1))
}

/// The other policies against the one asked for.
fn compared(season: &Season) -> Vec<String> {
    let one = |pair: &Paired| {
        let other = season.policies.get(pair.other as usize)?;
        let name = policy(&other.policy);
        let asked = policy(&season.policies.first()?.policy);
        let alike = |by: &Difference| by.mean.abs() <= 2.0 * by.error;
        if alike(&pair.parts) && alike(&pair.down) && pair.cost.as_ref().is_none_or(alike) {
            return Some(format!(
                "“{name}” and “{asked}” do not differ clearly on the same {} seasons.",
                season.samples
            ));
        }
        let parts = if alike(&pair.parts) {
            "as many parts".to_owned()
        } else {
            signed(pair.parts.mean, pair.parts.error, "parts fewer", "parts more")
        };
        let down = if alike(&pair.down) {
            "as many days lost".to_owned()
        } else {
            signed(pair.down.mean, pair.down.error, "cart-days lost less", "cart-days lost more")
        };
        let cost = pair.cost.as_ref().filter(|cost| !alike(cost)).map(|cost| {
            let side = if cost.mean < 0.0 { "less" } else { "more" };
            format!("; it costs {} {side} (± {})", figures(cost.mean.abs(), 2), figures(cost.error, 1))
        });
        let (share, side) = if pair.down.first_less >= pair.down.other_less {
            (pair.down.first_less, asked.as_str())
        } else {
            (pair.down.other_less, name.as_str())
        };
        Some(format!(
            "“{name}” against “{asked}”, on the same seasons: {parts}, {down}{}. “{side}” loses fewer days in {} of the seasons.",
            cost.unwrap_or_default(),
            percent(share)
        ))
    };
    season.pairs.iter().filter_map(one).collect()
}

/// Stock if parts are reordered.
fn shelf(season: &Season, outcome: &Outcome) -> Option<String> {
    let lead = season.question.lead?;
    let needed: Vec<&Need> = outcome.needs.iter().filter(|need| need.nine_tenths > 0).collect();
    let stock = needed.iter().map(|need| pieces(need.part, need.stock)).collect::<Vec<_>>();
    let met = needed.iter().map(|need| need.met_at_once).fold(1.0, f64::min);
    (!needed.is_empty()).then(|| {
        format!(
            "If each part is reordered as it is used and arrives after {}, keep {} in stock: then no cart waits in 9 of 10 seasons, and at least {} of the demands are met at once.",
            plural(lead, "day"),
            listed(&stock),
            percent(met)
        )
    })
}

/// The oil.
fn oil(season: &Season, outcome: &Outcome) -> Option<String> {
    let carts = season.question.carts as f64;
    let due = outcome.due / carts;
    let grabbed = if outcome.grabbed >= 0.05 {
        format!(
            ", and {} bushings grab their shafts, a danger at idle: the machine may drive itself",
            figures(outcome.grabbed, 2)
        )
    } else {
        String::new()
    };
    (due >= 0.005 || outcome.grabbed >= 0.05)
        .then(|| format!("In a season the oil of {} of the carts falls to its service level{grabbed}.", percent(due)))
}

/// Days lost.
fn lost(season: &Season, outcome: &Outcome) -> Option<String> {
    let all = (season.question.carts * season.question.days) as f64;
    (outcome.down.mean > 0.0).then(|| {
        let stocked = if season.question.stock.is_empty() { ", with the parts at hand" } else { "" };
        format!(
            "Of {} cart-days {} are lost on the mean{stocked}, {} in one season of ten: from the stop to the next opening with the part.",
            number(all, 1.0),
            figures(outcome.down.mean, 2),
            figures(outcome.down.nine_tenths, 2)
        )
    })
}

/// The cost.
fn money(outcome: &Outcome) -> Option<String> {
    let cost = outcome.cost.as_ref()?;
    Some(format!(
        "At the prices given the season costs {} on the mean (± {}), and no more than {} in 9 of 10 seasons.",
        figures(cost.mean, 3),
        figures(cost.error, 1),
        figures(cost.nine_tenths, 3)
    ))
}

/// Demand that a small stock hides.
fn hidden(season: &Season) -> Option<String> {
    let q = &season.question;
    let short: Vec<String> = season
        .policies
        .first()?
        .needs
        .iter()
        .filter_map(|need| {
            let held = q.stock.iter().find(|known| known.0 == need.part)?.1;
            (need.nine_tenths > held).then(|| format!("{} of {}", held, pieces(need.part, need.nine_tenths)))
        })
        .collect();
    (!short.is_empty() && q.lead.is_none()).then(|| {
        format!(
            "The stock has {} that 9 in 10 seasons need. Needs are counted as if every part were at hand: a cart that waits wears no further.",
            listed(&short)
        )
    })
}

/// Why the needs are so uncertain.
fn reasons(outcome: &Outcome) -> Vec<String> {
    let wide = |need: &&Need| need.common >= 0.5 && need.most > need.half + 1;
    let one = |need: &Need| {
        let constant = match need.part {
            Part::Washer => format!("the washer's wear constant ({})", range(&washer::wear_oiled)),
            Part::Lining => format!("the lining's wear constant ({})", range(&lining::wear)),
            Part::Bushing => format!(
                "the life of the oil in heat ({}) and the bushing's wear constants ({})",
                range(&oiling::oxidation_life),
                range(&bushing::wear_boundary)
            ),
            _ => "the relaxation of the springs and the idle".to_owned(),
        };
        format!(
            "The need lies between {} in half of the seasons and {} in one of twenty. {} of this spread is the same for all carts: {constant}, measured by nobody. Measure one cart, and all are better known.",
            need.half,
            pieces(need.part, need.most),
            percent(need.common)
        )
    };
    outcome.needs.iter().filter(wide).map(one).collect()
}

fn range(p: &slipsoak_engine::parts::Parameter) -> String {
    slipsoak_engine::fleet::assumed_factor(p)
        .map_or_else(String::new, |factor| format!("÷ or × {}", figures(factor, 2)))
}

/// Name of a rate.
pub fn rate(rate: Rate) -> &'static str {
    match rate {
        Rate::Lining => "wear of the lining",
        Rate::Bore => "wear of the bushing's bore",
        Rate::Washer => "wear of the washer",
        Rate::Oil => "loss of oil",
        Rate::Oxidation => "ageing of the oil",
        Rate::Charring => "charring of the washer",
        Rate::Ageing => "ageing of the washer",
        Rate::Relaxation => "relaxation of the springs",
        Rate::Warming => "rise of the bushing's temperature",
    }
}

/// The checked error of the map.
fn checked(season: &Season) -> String {
    let rates = [Rate::Lining, Rate::Bore, Rate::Washer, Rate::Oil];
    let known = season.map.errors.iter().filter(|error| rates.contains(&error.rate));
    let worst = known.max_by(|a, b| a.median.total_cmp(&b.median));
    let errors = worst.map_or_else(String::new, |error| {
        let rough = if error.median > ROUGH { "; that is more than 5\u{a0}%, so counts of parts and dates may be off as much" } else { "" };
        format!(
            "rates are read off a map of {} simulated clutches, the least exact of those that decide ({}) within {}\u{a0}% in half of those held back and within {}\u{a0}% in 19 of 20{rough}",
            season.map.runs,
            rate(error.rate),
            figures(100.0 * error.median, 2),
            figures(100.0 * error.most, 2)
        )
    });
    let direct =
        season.map.direct.iter().flat_map(|one| [one.lining, one.bore, one.washer]).map(|ratio| (ratio - 1.0).abs());
    let direct = direct.fold(0.0, f64::max);
    let followed = season.map.direct.len() as u64;
    let beside = if followed == 0 {
        String::new()
    } else {
        format!(
            ". {} simulated day by day from the first day: up to {}\u{a0}% off the map in wear",
            plural(followed, "cart"),
            figures(100.0 * direct, 2)
        )
    };
    Words::from(errors + &beside).sentence().text()
}

/// Carts near to dragging at idle.
fn near_idle(season: &Season) -> Option<String> {
    (season.near_idle > 0.01).then(|| {
        format!(
            "In {} of the sampled carts the clutch engages within {} of the idle: there rates are steep and less sure. See `slipsoak choose`.",
            percent(season.near_idle),
            turns(100.0 * RPM)
        )
    })
}

/// Assumptions of the answer.
pub fn assumed(season: &Season) -> Vec<Words> {
    let factor = |spread: Spread| if let Spread::Factor(factor) = spread { Some(factor) } else { None };
    let mut widest: Vec<_> = season.split.iter().filter_map(|split| Some((split, factor(split.spread)?))).collect();
    widest.sort_by(|a, b| b.1.total_cmp(&a.1));
    let names = widest.iter().take(6).filter_map(|(split, factor)| {
        let p = slipsoak_engine::parts::parameter(&split.path)?;
        Some(format!(
            "{} (÷ or × {}, {} of its variance common to all carts)",
            p.meaning,
            figures(*factor, 2),
            percent(split.common)
        ))
    });
    [
        format!("{} constants are assumed, measured by nobody; the widest: {}", season.split.len(), names.collect::<Vec<_>>().join("; ")),
        "carts of a shop differ by a factor of 1.4 in wear and of 3 in end leakage; what else is unknown of a constant is the same for all of them".to_owned(),
        "each day counts as warm from its first minute, which errs high on wear by some per cent".to_owned(),
        "oil flows by the laws of the model, at the mean speeds of the use and at temperatures that do not depend on the oil".to_owned(),
        "lives are those of new parts put in without fault; other wear of a cart goes on".to_owned(),
    ]
    .map(Words::from)
    .into()
}

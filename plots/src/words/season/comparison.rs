//! Rules of service side by side, stock and cost.

use super::amounts::{many, pieces, plural};
use super::assumptions::DECIDING;
use super::rule::{by_rule, policy};
use crate::words::number::figures;
use crate::words::oiling::drops;
use crate::words::say::percent;
use crate::words::text::listed;
use slipsoak_engine::names::Part;
use slipsoak_engine::season::{Difference, Need, Outcome, Paired, SPARES, Season};

/// Bushings that grab their shafts in a season, on the mean, from which that counts.
pub(super) const GRABS: f64 = 0.05;
/// Most oilings that one part saved is worth: some minutes each, against a part, its fitting and the day lost. Common practice, no source.
const WORTH: f64 = 50.0;

/// The drops to put on by a policy that puts on more than 19 of 20 bushings lack; none for another policy.
fn overdone(outcome: &Outcome) -> Option<f64> {
    outcome.dose().filter(|dose| put_on(outcome) > *dose)
}

/// Drops of an oiling of a policy.
fn put_on(outcome: &Outcome) -> f64 {
    outcome.policy.oiling.map_or(0.0, |oiling| oiling.drops)
}

/// That such policies put on more oil than bushings lack; none without one.
pub(super) fn overdoses(season: &Season) -> Option<String> {
    let enough = |dose: f64| format!("{} {} enough", drops(dose), if dose == 1.0 { "is" } else { "are" });
    let one = |outcome: &Outcome| Some(format!("“{}” ({})", policy(&outcome.policy), enough(overdone(outcome)?)));
    let all: Vec<String> = season.policies.iter().filter_map(one).collect();
    let puts = if all.len() == 1 { "puts" } else { "put" };
    (!all.is_empty()).then(|| {
        format!(
            "{} {puts} on more than 19 of 20 bushings lack when they are oiled: the rest runs off, some of it onto the lining, which then slips and may not hold.",
            listed(&all)
        )
    })
}

/// Index of the policy that is advised, of those by which hardly more bushings grab their shafts than by the safest: at prices the least
/// cost, the one asked for unless another is better beyond twice its error;
/// without the price of all that is taken the least oiling that needs as many parts as the best, within their error, or few more for many oilings less, of
/// equal ones that with the fewest drops. To leave the bushings without oil is never advised.
pub fn advised(season: &Season) -> usize {
    let usable = |one: &Outcome| one.policy.oiling.is_some();
    let oiled = |k: usize| season.policies.get(k).is_some_and(usable);
    let safest = season.policies.iter().filter(|one| usable(one)).map(|one| one.grabbed);
    let safest = safest.fold(f64::MAX, f64::min);
    let safe = |k: usize| oiled(k) && season.policies[k].grabbed < safest + GRABS;
    if season.pairs.iter().any(|pair| pair.cost.is_some()) && has_its_price(season) {
        let gain = |pair: &&Paired| {
            pair.cost.as_ref().map_or(f64::MIN, |by| if by.mean.abs() > 2.0 * by.error { -by.mean } else { 0.0 })
        };
        let best = season.pairs.iter().filter(|pair| safe(pair.other as usize) && (gain(pair) > 0.0 || !safe(0)));
        return best.max_by(|a, b| gain(a).total_cmp(&gain(b))).map_or(0, |pair| pair.other as usize);
    }
    let known: Vec<(usize, Difference)> = (0..season.policies.len())
        .filter(|k| oiled(*k))
        .filter_map(|k| Some((k, parts_against_first(season, k)?)))
        .collect();
    let Some(best) = known.iter().min_by(|a, b| a.1.mean.total_cmp(&b.1.mean)) else { return 0 };
    let of = |k: usize| &season.policies[k];
    let carts = season.question.carts as f64;
    let serves = |(k, parts): &&(usize, Difference)| {
        let more = parts.mean - best.1.mean;
        let oilings = (of(best.0).oilings as f64 - of(*k).oilings as f64) * carts;
        let alike = more <= 2.0 * parts.error.hypot(best.1.error) + rough(season) * need(of(best.0));
        safe(*k) && (alike || oilings > WORTH * more)
    };
    let less = |a: &Outcome, b: &Outcome| a.oilings.cmp(&b.oilings).then(put_on(a).total_cmp(&put_on(b)));
    let least = known.iter().filter(serves).min_by(|a, b| less(of(a.0), of(b.0)));
    least.map_or(best.0, |least| least.0)
}

/// Parts that a policy needs, less those of the first.
fn parts_against_first(season: &Season, k: usize) -> Option<Difference> {
    if k == 0 {
        return Some(Difference::default());
    }
    season.pairs.iter().find(|pair| pair.other as usize == k).map(|pair| pair.parts)
}

/// Mean number of parts.
fn need(outcome: &Outcome) -> f64 {
    outcome.needs.iter().map(|need| need.mean).sum()
}

/// Share by which the number of parts is not known for the error of the rates alone.
fn rough(season: &Season) -> f64 {
    season
        .map
        .errors
        .iter()
        .filter(|error| DECIDING.contains(&error.rate))
        .map(|error| error.median)
        .fold(0.0, f64::max)
}

/// Why a rule is not advised whatever it saves; none if nothing but parts and work is against it.
fn against(given: &Outcome, own: &Outcome) -> Option<String> {
    if given.policy.oiling.is_none() {
        return Some("that leaves the bushings without oil".to_owned());
    }
    if given.grabbed >= own.grabbed + GRABS {
        return Some(format!(
            "{} bushings grab their shafts on average instead of {}",
            figures(own.grabbed, 2),
            figures(given.grabbed, 2)
        ));
    }
    let overdone = overdone(given).is_some() && put_on(own) < put_on(given);
    overdone.then(|| "that puts on more oil than a bushing lacks, some of it onto the lining".to_owned())
}

/// What the oilings of the policy that is advised are weighed against: those of the rule given, or none if it is that.
pub(super) fn weighed(season: &Season, advised: usize) -> Option<String> {
    let (given, own) = (season.policies.first()?, season.policies.get(advised)?);
    if advised == 0 {
        return None;
    }
    let name = policy(&given.policy);
    let by = parts_against_first(season, advised)?;
    let more = own.oilings as i64 - given.oilings as i64;
    let parts = figures(by.mean.abs(), 2);
    let [side, fewer] = [more < 0, by.mean < 0.0].map(|less| if less { "fewer" } else { "more" });
    let oilings = more.unsigned_abs();
    let many = match oilings {
        0 => "as many oilings".to_owned(),
        1 => format!("one {side} oiling"),
        _ => format!("{oilings} {side} oilings"),
    };
    let pair = season.pairs.iter().find(|pair| pair.other as usize == advised)?;
    let against = against(given, own);
    if let Some(cost) = pair.cost.as_ref().filter(|_| has_its_price(season)) {
        let side = if cost.mean < 0.0 { "less" } else { "more" };
        let safer = against.filter(|_| cost.mean >= 0.0).map_or_else(String::new, |why| format!(", but {why}"));
        return Some(format!(
            "At these prices this costs {} {side} (± {}) than “{name}”, the first rule of the table{safer}.",
            figures(cost.mean.abs(), 2),
            figures(cost.error, 1)
        ));
    }
    let parts = format!("{parts}\u{a0}parts {fewer} (± {})", figures(by.error, 1));
    Some(match against {
        Some(why) if by.mean >= 0.0 => format!(
            "This is advised in place of “{name}”, the first rule of the table, because {why}: it takes {parts}, with {many} of each cart."
        ),
        _ if more < 0 => format!(
            "The first rule of the table, “{name}”, takes {} of each cart; this one needs {parts}, too few to be worth that work.",
            many.replace("fewer", "more")
        ),
        _ => {
            format!("This serves better than “{name}”, the first rule of the table: {parts}, for {many} of each cart.")
        }
    })
}

/// How much more often carts are oiled by a policy than by the first.
fn work(asked: &Outcome, other: &Outcome) -> String {
    let more = other.oilings as i64 - asked.oilings as i64;
    let (count, side) = (more.unsigned_abs(), if more > 0 { "more" } else { "fewer" });
    match count {
        0 => "each cart is oiled as often".to_owned(),
        1 => format!("each cart is oiled once {}", if more > 0 { "more" } else { "less" }),
        _ => format!("each cart is oiled {count} {side} times"),
    }
}

/// A count with its sign.
fn signed(by: f64, error: f64, [one, many]: [&str; 2], [less, more]: [&str; 2]) -> String {
    let (count, side) = (figures(by.abs(), 2), if by < 0.0 { less } else { more });
    let unit = if count == "1" { one } else { many };
    format!("{count}\u{a0}{unit} {side} (± {})", figures(error, 1))
}

/// The other policies against the one asked for.
pub(super) fn compared(season: &Season) -> Vec<String> {
    let one = |pair: &Paired| {
        let other = season.policies.get(pair.other as usize)?;
        let name = policy(&other.policy);
        let asked = policy(&season.policies.first()?.policy);
        let work = work(season.policies.first()?, other);
        let alike = |by: &Difference| by.mean.abs() <= 2.0 * by.error;
        if alike(&pair.parts) && alike(&pair.down) && pair.cost.as_ref().is_none_or(alike) {
            return Some(format!(
                "“{name}” and “{asked}” do not differ clearly in parts and days on the same {} seasons; with the first {work}.",
                season.samples
            ));
        }
        let parts = if alike(&pair.parts) {
            "as many parts".to_owned()
        } else {
            signed(pair.parts.mean, pair.parts.error, ["part", "parts"], ["fewer", "more"])
        };
        let down = if alike(&pair.down) {
            "as many days".to_owned()
        } else {
            signed(pair.down.mean, pair.down.error, ["cart-day", "cart-days"], ["less", "more"])
        };
        let cost = pair.cost.as_ref().filter(|cost| !alike(cost)).map(|cost| {
            let side = if cost.mean < 0.0 { "less" } else { "more" };
            let what = if has_its_price(season) { "it" } else { "what has a price" };
            format!("; {what} costs {} {side} (± {})", figures(cost.mean.abs(), 2), figures(cost.error, 1))
        });
        let (own, others) = (pair.down.first_less, pair.down.other_less);
        let (side, fewer, more) =
            if own >= others { (asked.as_str(), own, others) } else { (name.as_str(), others, own) };
        Some(format!(
            "With “{name}” in place of “{asked}” the same seasons take {parts} and lose {down}; {work}{}. “{side}” loses fewer days in {} of the seasons, more in {}.",
            cost.unwrap_or_default(),
            percent(fewer),
            percent(more)
        ))
    };
    season.pairs.iter().filter_map(one).collect()
}

/// Stock if parts are reordered.
pub(super) fn shelf(season: &Season, outcome: &Outcome) -> Option<String> {
    let lead = season.question.lead?;
    let needed: Vec<&Need> = outcome.needs.iter().filter(|need| need.nine_tenths > 0).collect();
    let stock = needed.iter().map(|need| pieces(need.part, need.stock)).collect::<Vec<_>>();
    let met = needed.iter().map(|need| need.met_at_once).fold(1.0, f64::min);
    (!needed.is_empty()).then(|| {
        format!(
            "If each part is reordered as it is used and arrives after {}, keep {} in stock{}: then, of each of these parts by itself, there are enough in 9 of 10 seasons, and at least {} of the demands are met at once.",
            plural(lead, "day"),
            listed(&stock),
            by_rule(season, outcome),
            percent(met)
        )
    })
}

/// What a season takes that has no price: parts, then work, oiling and lost days.
fn unpriced(season: &Season) -> Vec<String> {
    let Some(prices) = &season.question.prices else { return vec![] };
    let priced = |part: Part| prices.parts.iter().any(|known| known.0 == part);
    let taken = |part: Part| season.policies.iter().flat_map(|one| &one.needs).any(|n| n.part == part && n.most > 0);
    let parts = SPARES.into_iter().filter(|part| taken(*part) && !priced(*part)).map(many);
    let oiled = season.policies.iter().any(|one| one.oilings > 0);
    let others = [
        (prices.visit, true, "the work of fitting them"),
        (prices.oiling, oiled, "oiling"),
        (prices.day_down, true, "lost days"),
    ];
    let others =
        others.into_iter().filter(|(price, taken, _)| price.is_none() && *taken).map(|other| other.2.to_owned());
    parts.map(str::to_owned).chain(others).collect()
}

/// Whether all that a season takes has a price, so that its cost is that of the season.
pub fn has_its_price(season: &Season) -> bool {
    unpriced(season).is_empty()
}

/// The cost, or where something has no price that of what has one.
pub(super) fn money(season: &Season, outcome: &Outcome) -> Option<String> {
    let cost = outcome.cost.as_ref()?;
    let (without, by) = (unpriced(season), by_rule(season, outcome));
    let amounts = format!(
        "{} on average (± {}), and no more than {} in 9 of 10 seasons",
        figures(cost.mean, 3),
        figures(cost.error, 1),
        figures(cost.nine_tenths, 3)
    );
    Some(if without.is_empty() {
        format!("At the prices given the season costs {amounts}{by}.")
    } else {
        let (has, counts) = if without.len() == 1 { ("has", "counts") } else { ("have", "count") };
        format!(
            "What has a price costs {amounts}{by}. That is not the cost of the season: {} {has} no price and {counts} as free, so that no rule is advised for its cost.",
            listed(&without)
        )
    })
}

/// Demand that a small stock hides.
pub(super) fn hidden(season: &Season) -> Option<String> {
    let q = &season.question;
    let first = season.policies.first()?;
    let short: Vec<String> = first
        .needs
        .iter()
        .filter_map(|need| {
            let held = q.stock.iter().find(|known| known.0 == need.part)?.1;
            (need.nine_tenths > held).then(|| format!("{} of {}", held, pieces(need.part, need.nine_tenths)))
        })
        .collect();
    (!short.is_empty() && q.lead.is_none()).then(|| {
        format!(
            "The stock has {} that 9 in 10 seasons need{}. Needs are counted as if every part were at hand: a cart that waits wears no further.",
            listed(&short),
            by_rule(season, first)
        )
    })
}

//! Rules of service side by side, stock and cost.

use super::amounts::{pieces, plural};
use super::rule::policy;
use crate::words::number::figures;
use crate::words::say::percent;
use crate::words::text::listed;
use slipsoak_engine::season::{Difference, Need, Outcome, Paired, Season};

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

/// A count with its sign.
fn signed(by: f64, error: f64, less: &str, more: &str) -> String {
    format!("{}\u{a0}{} (± {})", figures(by.abs(), 2), if by < 0.0 { less } else { more }, figures(error, 1))
}

/// The other policies against the one asked for.
pub(super) fn compared(season: &Season) -> Vec<String> {
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
pub(super) fn shelf(season: &Season, outcome: &Outcome) -> Option<String> {
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

/// The cost.
pub(super) fn money(outcome: &Outcome) -> Option<String> {
    let cost = outcome.cost.as_ref()?;
    Some(format!(
        "At the prices given the season costs {} on the mean (± {}), and no more than {} in 9 of 10 seasons.",
        figures(cost.mean, 3),
        figures(cost.error, 1),
        figures(cost.nine_tenths, 3)
    ))
}

/// Demand that a small stock hides.
pub(super) fn hidden(season: &Season) -> Option<String> {
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

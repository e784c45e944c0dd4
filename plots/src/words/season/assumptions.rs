//! How sure an answer on a season is: what it assumes, and how far its map of rates was checked.

use super::amounts::{pieces, plural};
use super::rule::by_rule;
use crate::words::number::figures;
use crate::words::say::{percent, turns};
use crate::words::text::Words;
use slipsoak_engine::fleet::Spread;
use slipsoak_engine::names::Part;
use slipsoak_engine::parts::settings::{bushing, lining, oiling, washer};
use slipsoak_engine::season::{Need, Outcome, Rate, Season};
use slipsoak_engine::units::RPM;

/// Relative error of a rate from which an answer warns.
const ROUGH: f64 = 0.05;
/// Error from which a rate is not known.
const UNKNOWN: f64 = 0.5;
/// Rates on which dates and numbers of parts depend.
pub(super) const DECIDING: [Rate; 4] = [Rate::Lining, Rate::Bore, Rate::Washer, Rate::Oil];
/// Share of held-back clutches from which errors count as mostly to one side.
const MOSTLY: f64 = 0.75;

/// Why the needs are so uncertain.
pub(super) fn reasons(season: &Season, outcome: &Outcome) -> Vec<String> {
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
        let half = match need.half {
            0 => format!("no {}", pieces(need.part, 0).trim_start_matches("0\u{a0}")),
            1 => format!("{} or none", pieces(need.part, 1)),
            more => format!("{} or fewer", pieces(need.part, more)),
        };
        format!(
            "Half of the seasons need {half}{}, one in twenty needs {} or more. {} of this spread is common to all carts, and nobody has measured it: {constant}. Measure one cart, and the need of all is better known.",
            by_rule(season, outcome),
            need.most,
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

/// That the map is too coarse for numbers of parts; none if it is not.
pub(super) fn coarse(season: &Season) -> Option<String> {
    let known = season.map.errors.iter().filter(|error| DECIDING.contains(&error.rate));
    let worst = known.map(|error| error.median.max(error.raised)).fold(0.0, f64::max);
    (worst > UNKNOWN).then(|| {
        format!(
            "Take these numbers for a sign only: the map of {} simulated clutches is too coarse for these carts, and numbers of parts are raised to stay on the safe side. Ask again with more, `--clutches {}`.",
            season.map.runs,
            (4 * season.map.runs).max(400)
        )
    })
}

/// The checked error of the map.
pub(super) fn checked(season: &Season) -> String {
    let known = season.map.errors.iter().filter(|error| DECIDING.contains(&error.rate));
    let worst = known.max_by(|a, b| a.median.total_cmp(&b.median));
    let errors = worst.map_or_else(String::new, |error| {
        if error.median > UNKNOWN {
            return format!(
                "how fast parts of these carts wear is not known: read off a map of {} simulated clutches, {} is wrong by more than {} for half of the clutches kept aside to check the map. Take counts of parts and dates only for a sign of how soon parts go",
                season.map.runs,
                rate(error.rate),
                percent(UNKNOWN)
            );
        }
        let rough = if error.median > ROUGH { "; that is more than 5\u{a0}%, so counts of parts and dates may be off as much" } else { "" };
        let side = match error.low {
            _ if error.raised > 0.0 => String::new(),
            MOSTLY.. => ", mostly too low".into(),
            low if low <= 1.0 - MOSTLY => ", mostly too high".into(),
            _ => String::new(),
        };
        let raised = if error.raised > 0.0 {
            format!(". The answer raises it by {}\u{a0}%, so that it is too low for no more than 1 in 20", figures(100.0 * error.raised, 2))
        } else {
            String::new()
        };
        format!(
            "wear and loss of oil are read off a map of {} simulated clutches. Checked on clutches kept aside, the least exact of what decides here ({}) is within {}\u{a0}% for half of them and within {}\u{a0}% for 19 of 20{side}{rough}{raised}",
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
            ". For {}, simulated day by day from the first day, wear differs from the map by up to {}\u{a0}%",
            plural(followed, "cart"),
            figures(100.0 * direct, 2)
        )
    };
    Words::from(errors + &beside).sentence().text()
}

/// Carts near to dragging at idle.
pub(super) fn near_idle(season: &Season) -> Option<String> {
    (season.near_idle > 0.01).then(|| {
        format!(
            "In {} of the sampled carts the clutch engages within {} of the idle: how fast they wear depends strongly on the idle and is less sure. `slipsoak choose` says which spring stays clear of it.",
            percent(season.near_idle),
            turns(100.0 * RPM)
        )
    })
}

/// Assumptions of the answer.
pub fn assumed(season: &Season) -> Vec<Words> {
    let factor = |spread: Spread| if let Spread::Factor(factor) = spread { Some(factor) } else { None };
    let mut widest: Vec<_> = season
        .split
        .iter()
        .filter(|one| !one.learned)
        .filter_map(|split| Some((split, factor(split.spread)?)))
        .collect();
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
    let learned: Vec<&str> = season
        .split
        .iter()
        .filter(|one| one.learned)
        .filter_map(|one| Some(slipsoak_engine::parts::parameter(&one.path)?.meaning))
        .collect();
    let learned = (!learned.is_empty()).then(|| {
        format!("learned from measurements, what is left open of them taken as independent: {}", learned.join("; "))
    });
    let mut all: Vec<String> = vec![
        format!("{} constants are assumed, measured by nobody; the widest: {}", season.split.iter().filter(|one| !one.learned).count(), names.collect::<Vec<_>>().join("; ")),
        "carts of a shop differ by a factor of 1.4 in wear and of 3 in end leakage; what else is unknown of a constant is the same for all of them".to_owned(),
        "each day counts as warm from its first minute, and wear and loss of oil are raised so that 19 of 20 checked clutches do not wear or lose more: both err to the safe side, by some per cent".to_owned(),
        "oil flows by the laws of the model, at the mean speeds of the use and at temperatures that do not depend on the oil".to_owned(),
        "lives are those of new parts put in without fault; other wear of a cart goes on".to_owned(),
    ];
    all.extend(learned);
    all.into_iter().map(Words::from).collect()
}

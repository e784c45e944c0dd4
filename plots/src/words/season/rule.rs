//! Rules of service in words.

use super::calendar::WEEKDAYS;
use crate::words::number::figures;
use crate::words::say::percent;
use slipsoak_engine::season::{Outcome, Policy, Season, ServiceDays};

/// The days of a rule of service.
pub(super) fn on(days: ServiceDays) -> String {
    match days {
        ServiceDays::Weekday(day) => format!("on {}s", WEEKDAYS[(day % 7) as usize]),
        ServiceDays::Every(1) => "every riding day".to_owned(),
        ServiceDays::Every(days) => format!("every {days} days"),
    }
}

/// The rule by which the numbers of a sentence go, where there are several.
pub(super) fn by_rule(season: &Season, outcome: &Outcome) -> String {
    if season.policies.len() < 2 { String::new() } else { format!(" with “{}”", policy(&outcome.policy)) }
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

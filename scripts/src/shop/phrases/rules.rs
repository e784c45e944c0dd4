//! Rules of oiling and of renewing early.

use super::dates::weekday;
use super::refused;
use crate::read::quantity::read;
use crate::read::refusal::Refusal;
use crate::read::units::show;
use slipsoak_engine::parts::Dimension;
use slipsoak_engine::season::{Oiling, Policy, ServiceDays};

/// A number of drops with its rule: "4 drops on Mon", "4 drops every 14 days", "never"; with "before opening" or "after closing".
pub(in crate::shop) fn policy(text: &str) -> Result<Policy, Refusal> {
    let form = "write for example \"4 drops on Mon\", \"4 drops every 14 days before opening\", \"never\", or with parts renewed early, \"4 drops on Mon, renew at 80 %\"";
    let (oiling, renewing) = text.split_once(',').map_or((text, None), |(oiling, renewing)| (oiling, Some(renewing)));
    let preventive = renewing.map(|words| share(words.trim().trim_start_matches("renew at").trim())).transpose()?;
    let plain = oiling.trim().to_lowercase();
    if plain == "never" {
        return Ok(Policy { oiling: None, preventive });
    }
    let before = plain.contains("before opening");
    let plain = plain.replace("before opening", "").replace("after closing", "").replace("riding day", "day");
    let words: Vec<&str> = plain.split_whitespace().collect();
    let (drops, on) = match words[..] {
        [drops, "drop" | "drops", "on", day] => (drops, ServiceDays::Weekday(weekday("against", day)? as u64)),
        [drops, "drop" | "drops", "every", number, "day" | "days"] => (drops, every(number)?),
        [drops, "drop" | "drops", "daily"] | [drops, "drop" | "drops", "every", "day"] => {
            (drops, ServiceDays::Every(1))
        }
        _ => return refused("against", format!("`{}` is no rule of service; {form}", text.trim())),
    };
    let drops = drops.parse::<f64>().ok().filter(|drops| (0.5..=100.0).contains(drops));
    let Some(drops) = drops else {
        return refused(
            "against",
            format!("`{}`: the drops must be a number between 0.5 and 100; {form}", text.trim()),
        );
    };
    Ok(Policy { oiling: Some(Oiling { drops, on, before_opening: before }), preventive })
}

/// Days between oilings, "14" or "14 days".
pub(in crate::shop) fn every(text: &str) -> Result<ServiceDays, Refusal> {
    let plain = text.trim().trim_end_matches("days").trim_end_matches("day").trim();
    let days = plain.parse::<u64>().ok().filter(|days| (1..=365).contains(days));
    days.map_or_else(
        || {
            refused(
                "oil-every",
                format!("`{text}` is no number of days between 1 and 365; write for example \"14 days\""),
            )
        },
        |days| Ok(ServiceDays::Every(days)),
    )
}

/// A weekday of oiling.
pub(in crate::shop) fn on(text: &str) -> Result<ServiceDays, Refusal> {
    Ok(ServiceDays::Weekday(weekday("oil-on", text)? as u64))
}

/// Whether oil is put on before opening.
pub(in crate::shop) fn before_opening(text: &str) -> Result<bool, Refusal> {
    match text.trim().to_lowercase().as_str() {
        "before opening" | "before" => Ok(true),
        "after closing" | "after" => Ok(false),
        other => refused("oil-when", format!("`{other}` is neither \"before opening\" nor \"after closing\"")),
    }
}

/// A share of use, "80 %".
fn share(text: &str) -> Result<f64, Refusal> {
    let read = read(text, Dimension::Ratio).map_err(|why| Refusal::new(format!("renew-at: {why}")))?;
    if (0.3..=1.0).contains(&read) {
        return Ok(read);
    }
    refused(
        "renew-at",
        format!("{} is no share of use to renew at; it must lie between 30 and 100 %", show(read, Dimension::Ratio)),
    )
}

//! What carts simulated from the first day of a season to the last say of the answer.

use super::amounts::{pieces, plural};
use super::calendar::day;
use crate::words::say::turns;
use crate::words::text::listed;
use slipsoak_engine::season::{Chosen, Course, Followed, SPARES, Season};

/// Days and parts by which the answer may differ from a simulation.
const DAYS: i64 = 3;
const PARTS: u64 = 1;

/// Which cart it is.
fn which(one: &Followed) -> String {
    let why = match one.chosen {
        Chosen::Median => "of median need".to_owned(),
        Chosen::First => "the first to stop".to_owned(),
        Chosen::Nearest => format!("engaging nearest to its idle, {} above it", turns(one.margin)),
    };
    format!("cart\u{a0}{} ({why})", one.cart)
}

/// Whether first stop and numbers of parts agree.
fn agree(map: &Course, simulated: &Course) -> bool {
    let dates = match (map.stop, simulated.stop) {
        (Some(a), Some(b)) => (a.0 - b.0).abs() <= DAYS,
        (a, b) => a == b,
    };
    dates && map.demands.iter().zip(&simulated.demands).all(|(a, b)| a.abs_diff(*b) <= PARTS)
}

/// A season of one cart.
fn course(course: &Course) -> String {
    let parts = SPARES.into_iter().zip(&course.demands).filter(|(_, n)| **n > 0);
    let parts: Vec<String> = parts.map(|(part, n)| pieces(part, *n)).collect();
    let stop = course.stop.map_or_else(|| "no stop".to_owned(), |date| format!("first stop on {}", day(date)));
    if parts.is_empty() { format!("{stop}, no parts") } else { format!("{stop}, {}", listed(&parts)) }
}

/// What the simulations say; nothing if none was asked for.
pub(super) fn followed(season: &Season) -> Vec<String> {
    let all = &season.map.followed;
    if all.is_empty() {
        return vec![];
    }
    let known: Vec<(&Followed, &Course)> = all.iter().filter_map(|one| Some((one, one.simulated.as_ref()?))).collect();
    let off: Vec<&(&Followed, &Course)> = known.iter().filter(|(one, course)| !agree(&one.map, course)).collect();
    let names: Vec<String> = known.iter().map(|(one, _)| which(one)).collect();
    let bounds = format!("within {DAYS} days and {}", plural(PARTS, "part"));
    let mut said = vec![];
    if !known.is_empty() {
        let agreed = if off.is_empty() {
            format!("first stops and numbers of parts of each kind are {bounds} of the answer's")
        } else {
            format!(
                "{} of {} not {bounds} of the answer's: take the earlier dates and the larger numbers",
                off.len(),
                known.len()
            )
        };
        said.push(format!("Simulated launch by launch from the first day to the last, {}: {agreed}.", listed(&names)));
    }
    said.extend(off.iter().map(|(one, simulated)| {
        format!("By the answer {} has {}; simulated {}.", which(one), course(&one.map), course(simulated))
    }));
    let failed = all.iter().filter(|one| one.simulated.is_none()).map(which);
    said.extend(failed.map(|cart| {
        format!("The season of {cart} could not be simulated to its end: nothing confirms the answer for it.")
    }));
    said
}

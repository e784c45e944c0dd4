//! The fleets that a figure shows.

use crate::words::clutches::{ranked, reference};
use slipsoak_engine::fleet::{Fleet, Report};

/// The fleets that a figure shows, each with its index, and a sentence on those it leaves out. If there are more than
/// `most`: the reference, the longest-lived and the shortest-lived.
pub fn shown(report: &Report, most: usize) -> (Vec<(usize, &Fleet)>, String) {
    let known = |k: &usize| !report.fleets[*k].unknown();
    let mut places: Vec<usize> = (0..report.fleets.len()).filter(known).collect();
    let all = places.len();
    let mut note = String::new();
    if all > most {
        let (own, called) = reference(report);
        let own = if known(&own) { own } else { places[0] };
        let others: Vec<usize> = ranked(report).into_iter().filter(|k| *k != own && known(k)).collect();
        let long = most / 2;
        let short = most - 1 - long;
        places =
            std::iter::once(own).chain(others[..long].iter().chain(&others[others.len() - short..]).copied()).collect();
        places.sort_unstable();
        note = format!(" Of {all} fleets {called}, the {long} longest-lived and the {short} shortest-lived are shown.");
    }
    (places.into_iter().map(|k| (k, &report.fleets[k])).collect(), note)
}

//! The finding of a ride: the parts over their limits, at the moment that matters most.

use crate::figures::film_strip::Shot;
use crate::figures::painted::with_unit as temperature;
use crate::words::reading::celsius;
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::{Parameter, settings};
use slipsoak_engine::record::Run;

/// Parts with a temperature limit: channel, name in the section, name in a sentence, and the limit.
static LIMITS: [(Channel, &str, &Parameter); 4] = [
    (Channel::LiningSurface, "lining", &settings::limits::lining_most),
    (Channel::Bushing, "bushing", &settings::limits::bushing_warning),
    (Channel::Washer, "washer", &settings::limits::washer_oiled),
    (Channel::Shoes, "springs", &settings::limits::spring_most),
];

/// A part over its limit at a moment.
pub(super) struct Over {
    pub part: &'static str,
    pub channel: Channel,
    /// temperature and limit, °C
    pub at: f64,
    pub limit: f64,
}

/// The parts over their limits, hottest above it first.
pub(super) fn over(run: &Run, values: &[f64]) -> Vec<Over> {
    let one = |(channel, part, limit): &(Channel, &'static str, &Parameter)| {
        let (at, limit) = (celsius(channel.of(values)), celsius(run.setting(limit)?));
        (at > limit).then_some(Over { part, channel: *channel, at, limit })
    };
    let mut all: Vec<Over> = LIMITS.iter().filter_map(one).collect();
    all.sort_by(|a, b| (b.at - b.limit).total_cmp(&(a.at - a.limit)));
    all
}

/// The shot that matters most: that with a part farthest over its limit, or least far below it.
pub(super) fn worst(run: &Run, shots: &[Shot<'_>]) -> usize {
    let excess = |shot: &Shot<'_>| {
        let one = |(channel, _, limit): &(Channel, &str, &Parameter)| {
            Some(channel.of(&shot.painted.moment.values) - run.setting(limit)?)
        };
        LIMITS.iter().filter_map(one).fold(f64::NEG_INFINITY, f64::max)
    };
    (0..shots.len()).max_by(|a, b| excess(&shots[*a]).total_cmp(&excess(&shots[*b]))).unwrap_or(0)
}

/// What the ride shows, as a title; of chosen moments what they show, since the ride may be hotter between them.
pub(super) fn finding(run: &Run, shots: &[Shot<'_>], chosen: bool) -> String {
    let Some(shot) = shots.get(worst(run, shots)) else { return "A ride".to_owned() };
    if let Some(over) = over(run, &shot.painted.moment.values).first() {
        return format!(
            "A ride: the {} {} {} at “{}”, over the limit of {}",
            over.part,
            if over.part.ends_with('s') { "reach" } else { "reaches" },
            temperature(over.at),
            shot.painted.words,
            temperature(over.limit)
        );
    }
    if let Some(over) = over(run, &run.overall.most).first().filter(|_| !chosen) {
        let reaches = if over.part.ends_with('s') { "reach" } else { "reaches" };
        let [at, limit] = [over.at, over.limit].map(temperature);
        return format!("A ride: the {} {reaches} {at} between these moments, over the limit of {limit}", over.part);
    }
    let hottest = |channel: Channel| {
        let seen = shots.iter().map(|shot| celsius(shot.painted.value(channel))).fold(f64::NEG_INFINITY, f64::max);
        if chosen { seen } else { seen.max(celsius(channel.of(&run.overall.most))) }
    };
    let (lining, bushing) = (temperature(hottest(Channel::LiningSurface)), temperature(hottest(Channel::Bushing)));
    match (chosen, shots) {
        (false, _) => format!("A ride: lining up to {lining}, bushing up to {bushing}, no part over its limit"),
        (true, [one]) => {
            format!("At “{}”: lining {lining}, bushing {bushing}, no part over its limit then", one.painted.words)
        }
        (true, _) => {
            format!("At these moments: lining up to {lining}, bushing up to {bushing}, no part over its limit then")
        }
    }
}

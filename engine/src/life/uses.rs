//! Use and remaining life of each part.

use super::Goes;
use crate::document::record::{Horizon, PartUse, SegmentSummary, Windows};
use crate::names::{Channel, Part};
use crate::parts::Machine;
use crate::units::HOUR;

/// Use of each part from the present channel values: 0 new, 1 at its limit.
pub(crate) fn uses(m: &Machine, of: impl Fn(Channel) -> f64) -> [f64; Part::COUNT] {
    Part::ALL.map(|part| part.row().use_at(m, &of))
}

/// Time until the spring's relaxation alone lowers the cold engagement speed to its limit, s, if the shoes keep their
/// mean temperature. Relaxation grows with the logarithm of time, so a straight line would end far too early.
fn spring_life(m: &Machine, relaxed: f64, duration: f64) -> Option<f64> {
    if m.springs_below_limit() || relaxed <= 0.0 {
        return None;
    }
    let c = &m.clutch;
    let least = m.motor.idle + m.limits.spring_margin;
    let force = c.shoe_mass * c.shoe_radius * least * least / m.weakest_spring() - c.spring_rate * c.gap;
    let limit = 1.0 - force / m.preload();
    let per_decade = relaxed / (1.0 + duration / HOUR).log10();
    let decades = limit / per_decade;
    (decades < 8.0).then(|| HOUR * (10.0_f64.powf(decades) - 1.0))
}

/// Start of the second half of a run, s: at the segment like the first one that starts nearest to half of its time, so
/// that it contains whole rounds of a periodic duty.
fn from_half(segments: &[SegmentSummary], duration: f64) -> f64 {
    let half = 0.5 * duration;
    let first = segments.first().map(|segment| segment.task);
    let rounds = segments.iter().filter(|segment| Some(segment.task) == first && segment.start > 0.0);
    let nearest = rounds.map(|segment| segment.start).min_by(|a, b| (a - half).abs().total_cmp(&(b - half).abs()));
    nearest.filter(|start| (start - half).abs() < 0.25 * half).unwrap_or(half)
}

/// Largest relative difference of two rates of use that count as equal.
const STEADY: f64 = 0.25;

/// Whether oil loss is steady enough to extrapolate. It is not uniform: the first heat alone presses some oil out of a
/// full bushing, and a dose adds some. It is extrapolated only if the loss in the last quarter of a run is as fast as
/// in the quarter before. `ends`: ends of windows, s; `used`: use at the end of each.
fn steady(ends: &[f64], used: &[f64]) -> bool {
    let at = |share: f64| {
        let index = (share * (used.len().max(1) - 1) as f64).round() as usize;
        Some((*ends.get(index)?, *used.get(index)?))
    };
    let (Some(half), Some(three), Some(end)) = (at(0.5), at(0.75), at(1.0)) else { return false };
    let rate = |from: (f64, f64), to: (f64, f64)| (to.1 - from.1) / (to.0 - from.0).max(1e-9);
    let (before, late) = (rate(half, three), rate(three, end));
    late > 0.0 && (late - before).abs() <= STEADY * late.max(before)
}

/// Duration of a run, s.
pub(crate) struct Length {
    /// calendar time
    pub calendar: f64,
    /// running time
    pub running: f64,
    /// when a part reached its limit other than by wear, calendar and running time
    pub reached: [Option<(f64, f64)>; Part::COUNT],
}

/// Use of each part and its projected life, s. Rate: the second half of the run; the whole run if a part was renewed or
/// the second half is a rest. The spring's life follows the law of relaxation; that of the oil is given only if the
/// windows show a steady loss.
pub(crate) fn parts(
    m: &Machine,
    windows: &Windows,
    segments: &[SegmentSummary],
    now: &[f64],
    length: &Length,
    oiled: bool,
) -> Vec<PartUse> {
    let duration = length.calendar;
    let means = windows.means();
    let curves: Vec<[f64; Part::COUNT]> =
        means.rows().into_iter().map(|mean| uses(m, |channel| mean[channel as usize])).collect();
    let end = uses(m, |channel| channel.of(now));
    let half_time = from_half(segments, duration);
    let half = windows.end.iter().position(|end| *end > half_time).unwrap_or(0);
    Part::ALL
        .into_iter()
        .map(|part| {
            let k = part as usize;
            let late = curves.get(half).map_or(0.0, |c| (end[k] - c[k]) / (duration - half_time).max(1e-9));
            // The whole run is used if the duty ends in a long rest, which wears nothing, or if a service renewed a
            // part, when neither half is representative. (Oil rises and falls with each ride, so its service is passed
            // separately.)
            let whole = (end[k] - curves.first().map_or(0.0, |c| c[k])) / duration.max(1e-9);
            let renewed = curves.windows(2).any(|w| w[1][k] < w[0][k] - 1e-9);
            let goes = part.row().goes;
            let broken = if goes == Goes::WhereSteady { oiled } else { renewed };
            let rate = if late > 1e-15 && !broken { late } else { whole };
            let by_half = late > 1e-15 && !broken;
            let before = if by_half { windows.running.get(half).copied().unwrap_or(0.0) } else { 0.0 };
            let since = if by_half { half_time } else { 0.0 };
            let share = ((length.running - before) / (duration - since).max(1e-9)).clamp(0.0, 1.0);
            let on = |life: f64| (life, length.running + (life - duration) * share);
            let life = if goes == Goes::ByRelaxation && end[k] < 1.0 {
                spring_life(m, Channel::Relaxation.of(now), duration)
                    .map(|life| (life, life * length.running / duration.max(1e-9)))
            } else if end[k] >= 1.0 {
                let over = curves.iter().position(|c| c[k] >= 1.0);
                let window = over.and_then(|w| Some((*windows.end.get(w)?, *windows.running.get(w)?)));
                Some(length.reached[k].or(window).unwrap_or((duration, length.running)))
            } else if goes == Goes::WhereSteady
                && !steady(&windows.end, &curves.iter().map(|c| c[k]).collect::<Vec<_>>())
            {
                None
            } else if rate > 1e-15 {
                Some(on(duration + (1.0 - end[k]) / rate))
            } else {
                None
            };
            PartUse {
                part,
                used: end[k],
                life: life.map(|l| l.0),
                running: life.map(|l| l.1),
                curve: curves.iter().map(|c| c[k]).collect(),
            }
        })
        .collect()
}

/// Replaces projected lives by those of a repeated block: the time at which each part reached its limit or, if it has
/// not, an extrapolation at the rate of the last blocks.
pub(crate) fn simulated(parts: &mut [PartUse], horizon: &Horizon) {
    let points = &horizon.points;
    let Some(last) = points.last() else { return };
    // The last tenth of the time: long enough to include a service.
    let late = points.iter().find(|p| p.time >= 0.9 * last.time).unwrap_or(last);
    for (k, part) in parts.iter_mut().enumerate() {
        part.used = last.used[k];
        let rate = (last.used[k] - late.used[k]) / (last.time - late.time).max(1e-9);
        let share = (last.running - late.running) / (last.time - late.time).max(1e-9);
        let on = |life: f64| (life, last.running + (life - last.time) * share);
        let ended = horizon.ends[k].zip(horizon.running.get(k).copied().flatten());
        let life = ended.or_else(|| match part.part.row().goes {
            Goes::ByRelaxation => part.life.filter(|life| *life > last.time).map(on),
            _ => (rate > 1e-15).then(|| on(last.time + (1.0 - last.used[k]) / rate)),
        });
        (part.life, part.running) = (life.map(|l| l.0), life.map(|l| l.1));
    }
}

/// Takes away every life: from temperatures beyond the model none can be given.
pub(crate) fn unknown(parts: &mut [PartUse], horizon: Option<&mut Horizon>) {
    for part in parts {
        (part.life, part.running) = (None, None);
    }
    if let Some(horizon) = horizon {
        horizon.ends.fill(None);
        horizon.running.fill(None);
        (horizon.service_due, horizon.service_running, horizon.ended_by) = (None, None, None);
    }
}

#[cfg(test)]
mod tests {
    use super::steady;

    #[test]
    fn steady_oil_loss_can_be_projected_but_a_bleed_that_decays_cannot() {
        let ends: Vec<f64> = (1..=40).map(f64::from).collect();
        let used = |law: fn(f64) -> f64| ends.iter().map(|t| law(*t)).collect::<Vec<_>>();
        assert!(steady(&ends, &used(|t| 1e-3 * t)));
        assert!(!steady(&ends, &used(|t| 0.1 * (1.0 - (-t / 10.0).exp()))));
        assert!(!steady(&ends, &used(|_| 0.1)) && !steady(&[], &[]));
    }
}

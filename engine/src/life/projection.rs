//! Lives of parts, projected from one run.

use super::Goes;
use super::second_half::{from_half, steady};
use super::wear_parts::uses;
use crate::document::record::{PartUse, SegmentSummary, Windows};
use crate::names::{Channel, Part};
use crate::parts::Machine;
use crate::units::HOUR;

/// Time until the spring's relaxation alone lowers the cold engagement speed to its limit, s, if the shoes keep their
/// mean temperature. Relaxation grows with the logarithm of time, so a straight line would end far too early.
fn spring_life(m: &Machine, relaxed: f64, duration: f64) -> Option<f64> {
    if m.springs_below_limit() {
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

/// Least share of a run's running time in its second half, below which that counts as a rest.
const AWAKE: f64 = 0.1;

/// Duration of a run, s.
pub(crate) struct Length {
    /// calendar time
    pub calendar: f64,
    /// running time
    pub running: f64,
    /// when a part reached its limit other than by wear, calendar and running time
    pub reached: [Option<(f64, f64)>; Part::COUNT],
}

/// Use of each part and its projected life, s. Rate: that for each hour of running in the second half of the run; in the
/// whole run if a part was renewed or the second half is a rest. Hours of running become calendar time by their share of
/// the whole run: a second half with the duty's rest in it has too few. The spring's life follows the law of relaxation;
/// that of the oil is given only if the windows show a steady loss.
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
    // A window's mean stands for its middle.
    let middle = |of: &[f64], window: usize| {
        let before = if window > 0 { of.get(window - 1).copied().unwrap_or(0.0) } else { 0.0 };
        f64::midpoint(before, of.get(window).copied().unwrap_or(before))
    };
    let rests = length.running - middle(&windows.running, half) < AWAKE * length.running;
    let whole = length.running / duration.max(1e-9);
    Part::ALL
        .into_iter()
        .map(|part| {
            let k = part as usize;
            let first = |window: usize| curves.get(window).map_or(0.0, |c| c[k]);
            // The whole run is used if the duty ends in a long rest, which wears nothing, or if a service renewed a
            // part, when neither half is representative. (Oil rises and falls with each ride, so its service is passed
            // separately.)
            let renewed = curves.windows(2).any(|w| w[1][k] < w[0][k] - 1e-9);
            let goes = part.row().goes;
            let broken = if goes == Goes::WhereSteady { oiled } else { renewed };
            let from_half = !rests && !broken && end[k] - first(half) > 1e-15 * (duration - half_time);
            let from = if from_half { half } else { 0 };
            let (since, before) = (middle(&windows.end, from), middle(&windows.running, from));
            let rate = (end[k] - first(from)) / (duration - since).max(1e-9);
            // Hours of running go on as they wear it; those of the calendar by the rests of the whole run.
            let share = ((length.running - before) / (duration - since).max(1e-9)).clamp(0.0, 1.0);
            let on = |left: f64| {
                (duration + left * if share > 0.0 { share / whole } else { 1.0 }, length.running + left * share)
            };
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
                Some(on((1.0 - end[k]) / rate))
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

#[cfg(test)]
mod tests {
    use super::*;

    /// At the projected time the relaxation that the logarithm gives brings the weakest spring down to its limit.
    #[test]
    fn a_spring_is_projected_to_the_time_at_which_it_engages_at_its_limit() {
        let mut m = Machine::default();
        let least = m.motor.idle + m.limits.spring_margin;
        m.clutch.engagement = 1.12 * least;
        for second in [1.0, 0.98] {
            m.springs.second = second;
            let (relaxed, duration) = (0.08, 99.0 * HOUR);
            let life = spring_life(&m, relaxed, duration).expect("it relaxes");
            // 99 h is two decades beyond the first hour.
            let then = 0.04 * (1.0 + life / HOUR).log10();
            assert!((m.cold_engagement(then, 0.0) - least).abs() < 1e-9 * least, "{life} s");
            assert!(life > duration);
        }
        assert_eq!(spring_life(&m, 1e-3, 99.0 * HOUR), None, "in a hundred thousand years");
        assert_eq!(spring_life(&m, 0.0, 99.0 * HOUR), None);
        // Above its limit by some rpm it would last minutes, and outlive none that has no life: both are below it from the start.
        for engagement in [0.99 * least, 1.001 * least, 1.05 * least] {
            m.clutch.engagement = engagement;
            assert_eq!(spring_life(&m, 0.04, 99.0 * HOUR), None, "below its limit when new");
        }
    }

    /// Ten windows of 10 s of a run of 100 s, from values at their middles; the motor rests from 50 to 60 s.
    fn run(m: &Machine, at: impl Fn(f64, Channel) -> f64, oiled: bool) -> Vec<PartUse> {
        let row = |t: f64| Channel::ALL.map(|channel| at(t, channel)).to_vec();
        let end: Vec<f64> = (1..=10).map(|k| 10.0 * f64::from(k)).collect();
        let running = end.iter().map(|t| 0.6 * if *t > 55.0 { t - 10.0 } else { *t }).collect();
        let mean = end.iter().map(|t| row(t - 5.0)).collect();
        let windows = Windows { length: 10.0, end, running, mean, ..Windows::default() };
        let length = Length { calendar: 100.0, running: 54.0, reached: [None; Part::COUNT] };
        parts(m, &windows, &[], &row(100.0), &length, oiled)
    }

    /// A machine with 1 mm of washer and of lining to spare.
    fn roomy() -> Machine {
        let mut m = Machine::default();
        m.limits.washer = m.washer.thickness - 1e-3;
        m.limits.lining = m.lining.thickness - 1e-3;
        m
    }

    fn lives(of: &[PartUse], part: Part) -> Option<(f64, f64)> {
        let found = of.iter().find(|one| one.part == part).expect("every part");
        found.life.zip(found.running)
    }

    fn agree(found: Option<(f64, f64)>, wanted: (f64, f64)) {
        let (life, running) = found.expect("a life");
        assert!((life / wanted.0 - 1.0).abs() < 1e-9 && (running / wanted.1 - 1.0).abs() < 1e-9, "{life} {running}");
    }

    #[test]
    fn wear_goes_on_at_its_late_rate_while_running_and_rests_as_the_whole_run_does() {
        let at = |t: f64, channel| match channel {
            // 0.2 mm in the first half, then 2 µm/s: 0.3 mm at the end, 0.7 mm to go.
            Channel::WasherWear => 4e-6 * t.min(50.0) + 2e-6 * (t - 50.0).max(0.0),
            // Nothing wears it in the second half: 0.1 mm in 100 s.
            Channel::LiningWear => 2e-6 * t.min(50.0),
            // It starts at 20 s: 8 µm of 100 at the end.
            Channel::BushingWear => 1e-7 * (t - 20.0).max(0.0),
            _ => 0.0,
        };
        let mut m = roomy();
        m.limits.bushing = 1e-4;
        let found = run(&m, at, false);
        // From the middle of the window in which the half ends: 24 s of 45 s ran. In all 54 s of 100 s ran.
        let late = 24.0 / 45.0;
        agree(lives(&found, Part::Washer), (100.0 + 350.0 * late / 0.54, 54.0 + 350.0 * late));
        // From the middle of the first window: 90 µm of 1 mm in 95 s, of which 51 s ran; 0.9 mm to go.
        agree(lives(&found, Part::Lining), (100.0 + 510.0 / 0.54, 54.0 + 510.0));
        agree(lives(&found, Part::Bushing), (100.0 + 920.0 * late / 0.54, 54.0 + 920.0 * late));
        assert_eq!(lives(&found, Part::Charring), None);
    }

    /// A park overnight, then a ride of 30 s that wears everything, and another park: what is worn at the very end of the ride, after
    /// half of the time, says nothing of a rate, and the hours of running are those of the one ride.
    #[test]
    fn a_second_half_that_rests_counts_with_the_ride_before_it() {
        let mut m = roomy();
        m.limits.bushing = 1e-4;
        let worn = |t: f64| (t - 20.0).clamp(0.0, 30.0);
        let row = |t: f64, by: &dyn Fn(f64) -> f64| {
            Channel::ALL.map(|c| if c == Channel::WasherWear { by(t) } else { 0.0 }).to_vec()
        };
        let wear = |t: f64| 1e-6 * worn(t);
        let end: Vec<f64> = (1..=10).map(|k| 10.0 * f64::from(k)).collect();
        let running = end.iter().map(|t| worn(*t)).collect();
        // Means: that of the window in which half of the time ends lies a little below the end of the ride.
        let mean = end.iter().map(|t| row(*t, &|t| wear(t) - if t > 50.0 { 0.0 } else { 1e-9 })).collect();
        let windows = Windows { length: 10.0, end, running, mean, ..Windows::default() };
        let length = Length { calendar: 100.0, running: 30.0, reached: [None; Part::COUNT] };
        let now = row(100.0, &|t| wear(t) + 1e-10);
        let found = parts(&m, &windows, &[], &now, &length, false);
        let (life, running) = lives(&found, Part::Washer).expect("a life");
        // 30 µm of 1 mm in 30 s of running: 1000 s, 3330 s by the calendar.
        assert!((running / 1000.0 - 1.0).abs() < 1e-3 && (life / 3333.3 - 1.0).abs() < 1e-3, "{life} {running}");
    }

    #[test]
    fn a_part_renewed_within_the_run_goes_on_at_the_rate_of_the_whole_run() {
        // Renewed at 75 s.
        let at = |t: f64, channel| match channel {
            Channel::WasherWear if t < 75.0 => 5e-6 * t,
            Channel::WasherWear => 4e-4 + 4e-6 * (t - 75.0),
            Channel::LiningWear if t < 75.0 => 5e-6 * t,
            Channel::LiningWear => 1e-4 + 4e-6 * (t - 75.0),
            // Used to a tenth when the run began.
            Channel::BushingWear if t < 75.0 => 1e-5 + 5e-7 * t,
            Channel::BushingWear => 2e-5 + 4e-7 * (t - 75.0),
            _ => 0.0,
        };
        let mut m = roomy();
        m.limits.bushing = 1e-4;
        let found = run(&m, at, true);
        // 0.5 mm at the end, never less than before: 0.225 mm in the last 45 s, of which 24 s ran.
        let late = 24.0 / 45.0;
        agree(lives(&found, Part::Washer), (100.0 + 100.0 * late / 0.54, 54.0 + 100.0 * late));
        // 0.175 mm in the 51 s that ran of 95 s, 0.8 mm to go.
        let on = 0.8 / 0.175 * 51.0;
        agree(lives(&found, Part::Lining), (100.0 + on / 0.54, 54.0 + on));
        // From an eighth to three tenths in these 51 s.
        agree(lives(&found, Part::Bushing), (100.0 + 204.0 / 0.54, 54.0 + 204.0));
    }

    #[test]
    fn a_part_at_its_limit_ended_with_the_window_that_reached_it() {
        let at = |t: f64, channel| if channel == Channel::WasherWear { 2.5e-5 * t } else { 0.0 };
        // Worn through at 40 s, the start of the window to 50 s.
        agree(lives(&run(&roomy(), at, false), Part::Washer), (50.0, 30.0));
    }

    #[test]
    fn oil_that_goes_steadily_is_projected_at_its_late_rate_or_the_whole_run_s_if_it_was_oiled() {
        let mut m = roomy();
        m.limits.oil_end = 0.2;
        // At first twice as fast: of the 0.8 to lose 0.3 are gone, 0.1 in the second half.
        let at = |t: f64, channel| {
            if channel == Channel::OilFill { 1.0 - 4e-3 * t.min(50.0) - 2e-3 * (t - 50.0).max(0.0) } else { 0.0 }
        };
        let late = 250.0 * 24.0 / 45.0;
        agree(lives(&run(&m, at, false), Part::Oil), (100.0 + late / 0.54, 54.0 + late));
        // 0.28 in the 51 s that ran of 95 s, 0.5 to go.
        let whole = 0.5 / 0.28 * 51.0;
        agree(lives(&run(&m, at, true), Part::Oil), (100.0 + whole / 0.54, 54.0 + whole));
        let fading =
            |t: f64, channel| if channel == Channel::OilFill { 1.0 - 0.3 * (1.0 - (-t / 9.0_f64).exp()) } else { 0.0 };
        assert_eq!(lives(&run(&m, fading, false), Part::Oil), None);
    }

    #[test]
    fn a_relaxing_spring_runs_the_same_share_of_its_life_as_of_the_run() {
        let mut m = roomy();
        m.clutch.engagement = 1.12 * (m.motor.idle + m.limits.spring_margin);
        let at = |t: f64, channel| if channel == Channel::Relaxation { 5e-4 * t.min(40.0) } else { 0.0 };
        let life = spring_life(&m, 0.02, 100.0).expect("it relaxes");
        let full = |t: f64, channel| if channel == Channel::OilFill { 1.0 } else { at(t, channel) };
        agree(lives(&run(&m, full, false), Part::Spring), (life, 0.54 * life));
    }
}

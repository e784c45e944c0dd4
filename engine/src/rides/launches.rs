//! Launches of a ride: time and slip energy of each.

use crate::calibrate::along;
use crate::document::record::Run;
use crate::document::retraced::Launch;
use crate::duty::Trace;
use crate::names::{Channel, Happening};

/// Slip energy of a run between two times, J: mean slip power of its windows times their overlap with the interval.
pub fn slip_heat(run: &Run, from: f64, to: f64) -> f64 {
    let windows = run.windows.spans().zip(&run.windows.mean);
    windows.map(|((a, b), row)| Channel::SlipPower.of(row) * (b.min(to) - a.max(from)).max(0.0)).sum()
}

/// Launches from standstill of a run. The run must have kept its events, and windows much shorter than a launch.
pub fn launches(run: &Run) -> Vec<Launch> {
    let fastest = |from: f64, to: f64| -> f64 {
        let windows = run.windows.spans().zip(&run.windows.most).filter(|((a, b), _)| *b > from && *a < to);
        windows.map(|(_, row)| Channel::VehicleSpeed.of(row)).fold(0.0, f64::max)
    };
    let launch = |(from, time, to, locked): (f64, f64, f64, bool)| Launch {
        time,
        slipped: to - from,
        energy: slip_heat(run, from, to),
        locked,
        fastest: fastest(time, to),
    };
    spans(run).into_iter().map(launch).collect()
}

/// Target speed and actual speed at the middle of each window: (time s, target m/s, actual m/s).
pub fn followed(run: &Run, trace: &Trace) -> Vec<(f64, f64, f64)> {
    let speeds = run.windows.spans().zip(&run.windows.mean).map(|((a, b), row)| {
        let middle = f64::midpoint(a, b);
        (middle, along(&trace.points, middle), Channel::VehicleSpeed.of(row))
    });
    speeds.collect()
}

/// For each launch: time of engagement, of setting off and of the end of slip, s, and whether it locked.
fn spans(run: &Run) -> Vec<(f64, f64, f64, bool)> {
    let mut all = vec![];
    let (mut engaged, mut under_way): (Option<f64>, Option<(f64, f64)>) = (None, None);
    for event in &run.events {
        match event.what {
            Happening::Engages => engaged = Some(event.time),
            Happening::SetsOff => under_way = Some((engaged.unwrap_or(event.time), event.time)),
            Happening::Locks | Happening::Stops | Happening::Releases => {
                if let Some((from, time)) = under_way.take() {
                    all.push((from, time, event.time, event.what == Happening::Locks));
                }
                if event.what == Happening::Releases {
                    engaged = None;
                }
            }
            _ => {}
        }
    }
    all.extend(under_way.map(|(from, time)| (from, time, run.duration, false)));
    all
}

/// Energy classes of equal width with round limits, J; about as many as the square root of the number of launches.
pub fn classes(launches: &[Launch]) -> Vec<(f64, f64, u64)> {
    let most = launches.iter().map(|l| l.energy).fold(0.0, f64::max);
    if launches.is_empty() || most <= 0.0 {
        return vec![];
    }
    let about = (launches.len() as f64).sqrt().clamp(5.0, 15.0);
    let power = 10f64.powf((most / about).log10().floor());
    let width =
        [1.0, 2.0, 5.0, 10.0].map(|m| m * power).into_iter().find(|w| *w * about >= most).unwrap_or(10.0 * power);
    let count = (most / width).floor() as usize + 1;
    let mut all: Vec<(f64, f64, u64)> = (0..count).map(|k| (k as f64 * width, (k + 1) as f64 * width, 0)).collect();
    for l in launches {
        all[((l.energy / width) as usize).min(count - 1)].2 += 1;
    }
    all
}

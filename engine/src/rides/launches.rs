//! Launches of a ride by their slip energy, and the speeds followed.

use crate::curve::along;
use crate::document::record::Run;
use crate::document::retraced::Launch;
use crate::duty::Trace;
use crate::names::Channel;

/// Target speed and actual speed at the middle of each window: (time s, target m/s, actual m/s).
pub fn followed(run: &Run, trace: &Trace) -> Vec<(f64, f64, f64)> {
    let speeds = run.windows.spans().zip(&run.windows.mean).map(|((a, b), row)| {
        let middle = f64::midpoint(a, b);
        (middle, along(&trace.points, middle), Channel::VehicleSpeed.of(row))
    });
    speeds.collect()
}

/// Slip energy below which a machine rolled off without its clutch, J: less than rounding of any table shows. Assumed.
const NOTHING: f64 = 0.5;

/// The launches in which the clutch slipped, and the number of times that the machine rolled off without it.
///
/// ```
/// use slipsoak_engine::retraced::Launch;
/// let of = |energy| Launch { time: 0.0, slipped: 5.0, energy, locked: false, fastest: 4.0 };
/// let (launches, rolled) = slipsoak_engine::rides::launched(vec![of(34.0), of(0.0), of(6270.0)]);
/// assert_eq!((launches, rolled), (vec![of(34.0), of(6270.0)], 1));
/// ```
pub fn launched(all: Vec<Launch>) -> (Vec<Launch>, u64) {
    let (launches, rolled): (Vec<Launch>, Vec<Launch>) = all.into_iter().partition(|launch| launch.energy >= NOTHING);
    (launches, rolled.len() as u64)
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

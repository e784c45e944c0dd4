//! Response of a recurring piece: its changes by the state in which it begins, learned from the times that it was simulated.
//!
//! Around the nearest simulated start the changes are linear in the state. Their slopes are known along the differences
//! between simulated starts; what lies across all of them is unknown, and its possible effect is estimated by the largest
//! slope. States that settle need no care: the response of a piece contains their return, so that it is applied piece by
//! piece like the piece itself.

use super::Course;
use super::vectors::{dot, norm};

/// Largest number of remembered starts, and of directions in which slopes are used.
const MOST_SAMPLES: usize = 24;
const MOST_DIRECTIONS: usize = 8;
/// A difference between two starts is a new direction if this share of its length is perpendicular to those before it.
const NEW: f64 = 1e-2;
/// Number of squarings of a response whose stability is judged: 16 pieces; and the growth of a disturbance over them that counts as
/// unstable. Drifts grow as the number of pieces.
const SQUARINGS: u32 = 4;
const GROWN: f64 = 4.0;
/// Largest change of a logarithm from the nearest sample.
const FARTHEST: f64 = 2.0;

/// One simulation of the piece.
#[derive(Clone, Debug)]
struct Sample {
    setting: u64,
    start: Vec<f64>,
    change: Vec<f64>,
}

/// Linear response around a sample.
#[derive(Clone, Debug)]
struct Local {
    base: usize,
    /// orthonormal directions of the scaled state, each with the slopes of all changes along it
    directions: Vec<(Vec<f64>, Vec<f64>)>,
    /// largest slope of each change
    most: Vec<f64>,
}

/// Foretold changes of a piece.
#[derive(Clone, Debug)]
pub(super) struct Foretold {
    /// changes of all quantities
    pub change: Vec<f64>,
    /// possible effect on each of them of the distance in unknown directions
    pub unseen: Vec<f64>,
    /// distance from the nearest sample
    pub distance: f64,
}

/// What is known of a piece.
#[derive(Clone, Debug, Default)]
pub(super) struct Response {
    samples: Vec<Sample>,
    local: Option<Local>,
}

/// Allowances of a drifting quantity that count as a distance of one: for example, wear changes little by wear.
const FAINT: f64 = 30.0;

/// Distance that counts as one in a quantity; none for those that affect nothing.
fn scale(course: Course) -> Option<f64> {
    match course {
        Course::Settles(within) | Course::Returns(within) | Course::Slows(within) => Some(within),
        Course::Drifts(whole) | Course::Relaxes(whole) if whole.is_finite() => Some(FAINT * whole),
        _ => None,
    }
}

/// Scaled difference of two states.
fn apart(courses: &[Course], from: &[f64], to: &[f64]) -> Vec<f64> {
    let each = courses.iter().zip(from.iter().zip(to));
    each.filter_map(|(course, (a, b))| scale(*course).map(|scale| (b - a) / scale)).collect()
}

/// Whether a change falls exponentially with the growth of its quantity, so that its logarithm is linear.
fn slows(courses: &[Course], change: &[f64], k: usize) -> bool {
    matches!(courses[k], Course::Slows(_)) && change[k] > 0.0
}

/// Changes, with the logarithm of those that slow down.
fn logged(courses: &[Course], change: &[f64]) -> Vec<f64> {
    (0..courses.len()).map(|k| if slows(courses, change, k) { libm::log(change[k]) } else { change[k] }).collect()
}

/// Whether the linear response, applied again and again, lets no disturbance along its directions grow much: rounding errors of
/// small differences would do so, a piece does not.
fn stays(courses: &[Course], directions: &[(Vec<f64>, Vec<f64>)]) -> bool {
    let n = directions.len();
    let none = vec![0.0; courses.len()];
    // What slows down cannot run away, and its slopes are those of its logarithm.
    let moved = directions.iter().map(|(_, slopes)| {
        let slopes = courses
            .iter()
            .zip(slopes)
            .map(|(course, slope)| if matches!(course, Course::Slows(_)) { 0.0 } else { *slope });
        apart(courses, &none, &slopes.collect::<Vec<_>>())
    });
    let moved: Vec<Vec<f64>> = moved.collect();
    // Entry (i, j): step along i after a unit along j.
    let step = |i: usize, j: usize| dot(&directions[i].0, &moved[j]) + f64::from(u8::from(i == j));
    let mut power: Vec<Vec<f64>> = (0..n).map(|i| (0..n).map(|j| step(i, j)).collect()).collect();
    for _ in 0..SQUARINGS {
        let entry = |i: usize, j: usize| (0..n).map(|k| power[i][k] * power[k][j]).sum::<f64>();
        power = (0..n).map(|i| (0..n).map(|j| entry(i, j)).collect()).collect();
    }
    power.iter().flatten().all(|entry| entry.abs() <= GROWN)
}

impl Response {
    /// Learns from a simulation that began with these values and changed them by that much.
    pub fn learn(&mut self, setting: u64, start: Vec<f64>, change: Vec<f64>) {
        if self.samples.len() >= MOST_SAMPLES {
            self.samples.remove(0);
        }
        self.samples.push(Sample { setting, start, change });
        self.local = None;
    }

    /// Changes of the piece if it begins with these values under a setting under which it has been simulated.
    pub fn foretell(&mut self, courses: &[Course], setting: u64, values: &[f64]) -> Option<Foretold> {
        let alike = self.samples.iter().enumerate().filter(|(_, sample)| sample.setting == setting);
        let each = alike.map(|(k, sample)| {
            let way = apart(courses, &sample.start, values);
            (k, dot(&way, &way), way)
        });
        let (base, square, mut rest) = each.min_by(|a, b| a.1.total_cmp(&b.1))?;
        if self.local.as_ref().is_none_or(|local| local.base != base) {
            self.local = Some(self.around(courses, base));
        }
        let (local, sample) = (self.local.as_ref()?, &self.samples[base]);
        let mut change = logged(courses, &sample.change);
        for (direction, slopes) in &local.directions {
            let along = dot(direction, &rest);
            rest.iter_mut().zip(direction).for_each(|(rest, unit)| *rest -= along * unit);
            change.iter_mut().zip(slopes).for_each(|(change, slope)| *change += along * slope);
        }
        for (k, change) in change.iter_mut().enumerate().filter(|(k, _)| slows(courses, &sample.change, *k)) {
            let known = libm::log(sample.change[k]);
            *change = libm::exp(change.clamp(known - FARTHEST, known + FARTHEST));
        }
        // Small differences of what returns give slopes of no meaning, which would carry it far off.
        for k in (0..courses.len()).filter(|k| matches!(courses[*k], Course::Returns(_))) {
            change[k] = sample.start[k] + sample.change[k] - values[k];
        }
        // What is left of a distance after rounding is none.
        let left = norm(&rest);
        let left = if left > 1e-9 * square.sqrt() { left } else { 0.0 };
        let unseen = local.most.iter().map(|most| most * left).collect();
        change.iter().all(|change| change.is_finite()).then_some(Foretold { change, unseen, distance: square.sqrt() })
    }

    /// Linear response around a sample: along the differences to those under the same setting, nearest first, and then
    /// along those between neighbours under another.
    fn around(&self, courses: &[Course], base: usize) -> Local {
        let centre = &self.samples[base];
        let pair = |from: &Sample, to: &Sample| {
            let [a, b] = [&to.change, &from.change].map(|change| logged(courses, change));
            let between = |k: usize| {
                // One of them has no logarithm.
                let both = slows(courses, &to.change, k) == slows(courses, &from.change, k);
                if both { a[k] - b[k] } else { 0.0 }
            };
            (apart(courses, &from.start, &to.start), (0..courses.len()).map(between).collect())
        };
        let own = |(k, sample): &(usize, &Sample)| *k != base && sample.setting == centre.setting;
        let near = self.samples.iter().enumerate().filter(own).map(|(_, sample)| pair(centre, sample));
        let mut near: Vec<(Vec<f64>, Vec<f64>)> = near.collect();
        near.sort_by(|a, b| dot(&a.0, &a.0).total_cmp(&dot(&b.0, &b.0)));
        let others = self.samples.windows(2).rev().filter(|two| two[0].setting == two[1].setting);
        let others = others.filter(|two| two[0].setting != centre.setting).map(|two| pair(&two[0], &two[1]));
        let mut directions: Vec<(Vec<f64>, Vec<f64>)> = vec![];
        for (mut way, mut slopes) in near.into_iter().chain(others) {
            if directions.len() >= MOST_DIRECTIONS {
                break;
            }
            let whole = norm(&way);
            for (unit, known) in &directions {
                let along = dot(unit, &way);
                way.iter_mut().zip(unit).for_each(|(way, unit)| *way -= along * unit);
                slopes.iter_mut().zip(known).for_each(|(slope, known)| *slope -= along * known);
            }
            let size = norm(&way);
            if size > NEW * whole && size > 0.0 {
                for value in way.iter_mut().chain(&mut slopes) {
                    *value /= size;
                }
                directions.push((way, slopes));
                if !stays(courses, &directions) {
                    directions.pop();
                }
            }
        }
        let mut most = vec![0.0_f64; courses.len()];
        for (_, slopes) in &directions {
            most.iter_mut().zip(slopes).for_each(|(most, slope)| *most = most.max(slope.abs()));
        }
        let logarithms = most.iter_mut().enumerate().filter(|(k, _)| slows(courses, &centre.change, *k));
        logarithms.for_each(|(k, most)| *most *= centre.change[k]);
        if directions.is_empty() {
            // Nothing is known of any slope: any distance may change everything.
            most = centre.change.iter().map(|change| change.abs()).collect();
        }
        Local { base, directions, most }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A settling state s' = s/2 + 1 that adds s to a drift; starts from three values give the response everywhere.
    #[test]
    fn a_linear_response_is_foretold_exactly_from_two_samples_and_not_under_an_unknown_setting() {
        let courses = [Course::Settles(0.1), Course::Drifts(1e-3), Course::Follows];
        let change = |s: f64| vec![1.0 - 0.5 * s, s, 7.0];
        let mut response = Response::default();
        assert!(response.foretell(&courses, 1, &[0.0; 3]).is_none());
        for s in [0.0, 1.0] {
            response.learn(1, vec![s, 0.0, 0.0], change(s));
        }
        let found = response.foretell(&courses, 1, &[5.0, 0.0, 9.0]).expect("it is foretold");
        assert!(found.change.iter().zip(change(5.0)).all(|(a, b)| (a - b).abs() < 1e-12), "{found:?}");
        assert_eq!(found.unseen, [0.0; 3]);
        // Across what was seen: ten distances of the drift, by the slope of one of the state.
        let across = response.foretell(&courses, 1, &[0.0, 0.3, 0.0]).expect("it is foretold");
        assert!((across.unseen[0] - 10.0 * 0.05).abs() < 1e-12 && (across.unseen[1] - 10.0 * 0.1).abs() < 1e-12);
        assert!(response.foretell(&courses, 2, &[0.0; 3]).is_none());
    }

    /// A speed that ends at 180 up to a rounding of 0.01 from starts that hardly differ, and a state that has moved far from them.
    #[test]
    fn what_returns_is_foretold_to_end_as_it_ended_before() {
        let courses = [Course::Returns(0.5), Course::Settles(0.03)];
        let mut response = Response::default();
        for (start, end) in [(350.0, 180.0), (350.001, 180.01)] {
            response.learn(1, vec![180.0, start], vec![end - 180.0, 0.0]);
        }
        let found = response.foretell(&courses, 1, &[179.0, 352.0]).expect("it is foretold").change[0];
        assert!((179.0 + found - 180.0).abs() < 0.02, "{found}");
    }

    /// w = ln(1 + t): the change over a block is ln(1 + exp(−w)), which falls with exp(−w).
    #[test]
    fn what_slows_by_its_own_growth_is_foretold_by_the_logarithm_of_its_change() {
        let courses = [Course::Slows(1e-5)];
        let change = |w: f64| libm::log1p(libm::exp(-w));
        let mut response = Response::default();
        for t in [20.0_f64, 21.0] {
            let w = libm::log1p(t);
            response.learn(1, vec![w], vec![change(w)]);
        }
        let w = libm::log1p(60.0);
        let found = response.foretell(&courses, 1, &[w]).expect("it is foretold").change[0];
        assert!((found / change(w) - 1.0).abs() < 0.03, "{found} for {}", change(w));
    }
}

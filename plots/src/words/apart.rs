//! Clutches whose readings contradict each other.

use crate::words::misfit::size;
use crate::words::number::figures;
use crate::words::say::time;
use crate::words::text::Words;
use slipsoak_engine::calibrate::{Compared, Evidence, Reading, Told};
use slipsoak_engine::numerics::along;
use slipsoak_engine::statistics::NINETY_FIVE;

/// How many times another clutch's change a change has to be for both not to be alike: carts of a shop differ by 1.4 either way. Assumed.
const UNLIKE: f64 = 3.0;
/// Standard errors by which they have to differ.
const SURE: f64 = 3.0;

/// How a clutch changed.
struct Course<'a> {
    last: &'a Reading,
    /// from the first reading to the last
    change: f64,
    /// over that of the fitted curve, and its standard error
    share: f64,
    error: f64,
}

/// Courses of all clutches that were read twice or more often.
fn courses(evidence: &Evidence) -> Vec<Course<'_>> {
    let mut clutches: Vec<&str> = evidence.readings.iter().map(|r| r.of.as_str()).collect();
    clutches.sort_unstable();
    clutches.dedup();
    let curve: Vec<(f64, f64)> = evidence.curve.iter().map(|c| (c[0], c[2])).collect();
    let one = |clutch: &str| {
        let mut own: Vec<&Reading> = evidence.readings.iter().filter(|r| r.of == clutch).collect();
        own.sort_by(|a, b| a.at.total_cmp(&b.at));
        let (first, last) = (*own.first()?, *own.last()?);
        let fitted: Vec<f64> = own.iter().map(|r| along(&curve, r.at)).collect();
        let mean = |values: &mut dyn Iterator<Item = f64>| values.sum::<f64>() / own.len() as f64;
        let (middle, level) = (mean(&mut fitted.iter().copied()), mean(&mut own.iter().map(|r| r.value)));
        let square: f64 = fitted.iter().map(|f| (f - middle).powi(2)).sum();
        let product: f64 = fitted.iter().zip(&own).map(|(f, r)| (f - middle) * (r.value - level)).sum();
        let error = last.scatter / NINETY_FIVE / square.sqrt();
        (square > 0.0).then(|| Course {
            last,
            change: (last.value - first.value).abs(),
            share: product / square,
            error,
        })
    };
    clutches.into_iter().filter_map(one).collect()
}

/// What to do where two clutches contradict each other; none if none do.
pub(crate) fn apart(told: &Told) -> Option<Words> {
    told.evidence.iter().find_map(|evidence| {
        let of = Compared::Inspected(evidence.quantity?);
        let all = courses(evidence);
        let low = all.iter().min_by(|a, b| a.share.total_cmp(&b.share))?;
        let high = all.iter().max_by(|a, b| a.share.total_cmp(&b.share))?;
        let least = low.share.max(NINETY_FIVE * low.error);
        if high.share < UNLIKE * least || high.share - low.share < SURE * low.error.hypot(high.error) {
            return None;
        }
        let most = if low.share < least { "at least " } else { "" };
        let by = |course: &Course<'_>| {
            let at = if evidence.by_launches {
                format!("{:.0} launches", course.last.at)
            } else {
                time(course.last.at)
            };
            format!("{} by {at}", size(of, course.change))
        };
        let (name, few, many) = (&evidence.name, &low.last.of, &high.last.of);
        Some(
            Words::from("Check the readings of ")
                .strong(format!("{few} and {many}"))
                .plain(format!(", which contradict each other, or learn each from a table of its own: the {name} of {many} changes "))
                .strong(format!("{most}{} times", figures(high.share / least, 2)))
                .plain(format!(
                    " as much as that of {few} in the same time ({}, {}), far more than readings scatter. One may be mistyped, or a cart has other parts or another duty; what is learned from both together holds for neither.",
                    by(high),
                    by(low)
                )),
        )
    })
}

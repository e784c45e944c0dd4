//! The ends of a range as texts that are accepted as they stand.

use super::quantity::read;
use crate::parts::Dimension;

/// Shares by which an end that was rounded out of its range is moved into it: one in the last of six digits, by the first of them.
const INWARD: [f64; 5] = [0.0, 1e-6, 2e-6, 5e-6, 1e-5];

/// Least and greatest value of a range as `written` writes them, rounded inward where it rounds to six digits.
///
/// ```
/// use slipsoak_engine::parts::Dimension;
/// use slipsoak_engine::parts_file::{limits, show};
/// let speeds = (10.0, 837.758041); // rad/s
/// assert_eq!(limits(speeds, Dimension::AngularSpeed, |v| show(v, Dimension::AngularSpeed)), ["95.493 rpm", "8000 rpm"]);
/// ```
pub fn limits((least, most): (f64, f64), dimension: Dimension, written: impl Fn(f64) -> String) -> [String; 2] {
    let accepted = |text: &String| read(text, dimension).is_ok_and(|value| (least..=most).contains(&value));
    let inward = |end: f64, way: f64| {
        let texts = INWARD.map(|share| written(end + way * share * end.abs()));
        texts.into_iter().find(accepted).unwrap_or_else(|| written(end))
    };
    [inward(least, 1.0), inward(most, -1.0)]
}

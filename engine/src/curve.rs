//! Curves given by their points, and the places where a condition ends.

/// Value of a curve at a place: linear between its points, constant beyond them.
///
/// ```
/// use slipsoak_engine::numerics::along;
/// let curve = [(0.0, 1.0), (2.0, 5.0)];
/// assert_eq!([-1.0, 0.5, 3.0].map(|at| along(&curve, at)), [1.0, 2.0, 5.0]);
/// ```
pub fn along(curve: &[(f64, f64)], at: f64) -> f64 {
    let after = curve.partition_point(|p| p.0 < at);
    match (after.checked_sub(1).and_then(|k| curve.get(k)), curve.get(after)) {
        (Some(a), Some(b)) => a.1 + (b.1 - a.1) * (at - a.0) / (b.0 - a.0).max(1e-12),
        (Some(only), None) | (None, Some(only)) => only.1,
        (None, None) => f64::NAN,
    }
}

/// The place where a condition ends that holds at the lower and not at the upper of two places, by bisection.
pub(crate) fn edge(holds: impl Fn(f64) -> bool, mut low: f64, mut high: f64) -> f64 {
    for _ in 0..60 {
        let middle = f64::midpoint(low, high);
        if holds(middle) {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

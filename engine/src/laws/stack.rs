//! Tolerance stacks: the gap that is left when parts are laid on each other.

/// Nominal gap, m: signed sum of the sizes.
/// ```text
/// w = Σ s_i x_i
/// ```
/// Exact.
/// ```
/// let w = slipsoak_engine::laws::stack::gap(&[(3.0, 0.1), (-1.0, 0.2)]);
/// assert_eq!(w, 2.0);
/// ```
pub fn gap(parts: &[(f64, f64)]) -> f64 {
    parts.iter().map(|p| p.0).sum()
}

/// Greatest deviation of the gap, m: every part at its worst.
/// ```text
/// t = Σ |t_i|
/// ```
/// Never exceeded while every part keeps its tolerance.
/// ```
/// assert_eq!(slipsoak_engine::laws::stack::worst(&[(3.0, 0.5), (-1.0, 0.25)]), 0.75);
/// ```
pub fn worst(parts: &[(f64, f64)]) -> f64 {
    parts.iter().map(|p| p.1.abs()).sum()
}

/// Probable deviation of the gap, m: root of the sum of squares.
/// ```text
/// t = √(Σ t_i²)
/// ```
/// Right for independent, centred, normal sizes; errs low for shifted ones.
/// ```
/// assert_eq!(slipsoak_engine::laws::stack::rss(&[(3.0, 3.0), (-1.0, 4.0)]), 5.0);
/// ```
pub fn rss(parts: &[(f64, f64)]) -> f64 {
    parts.iter().map(|p| p.1 * p.1).sum::<f64>().sqrt()
}

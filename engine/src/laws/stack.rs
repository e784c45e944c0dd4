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

/// Share of assemblies whose gap is below a limit when every size is uniform over its tolerance, 1.
///
/// Volume of the cut corner of a box, by inclusion and exclusion over its vertices.
/// ```text
/// P = Σ_v (−1)^|v| max(0, L + Σt − w − 2 Σ_{i∈v} t_i)^n /(n! Π 2t_i)
/// ```
/// Exact for up to about ten parts, beyond which the alternating sum loses digits. All tolerances above zero.
/// ```
/// let p = slipsoak_engine::laws::stack::share_below(&[(1.0, 0.5)], 0.75);
/// assert!((p - 0.25).abs() < 1e-12);
/// ```
pub fn share_below(parts: &[(f64, f64)], limit: f64) -> f64 {
    let reach = limit + worst(parts) - gap(parts);
    let mut sum = 0.0;
    for vertex in 0_u32..1 << parts.len() {
        let chosen = parts.iter().enumerate().filter(|(i, _)| vertex >> i & 1 == 1);
        let rest = chosen.fold(reach, |rest, (_, part)| rest - 2.0 * part.1.abs());
        let sign = if vertex.count_ones() % 2 == 0 { 1.0 } else { -1.0 };
        let corner = parts
            .iter()
            .enumerate()
            .fold(1.0, |c, (i, part)| c * rest.max(0.0) / ((i + 1) as f64 * 2.0 * part.1.abs()));
        sum += sign * corner;
    }
    sum
}

//! The stack of a new assembly.

use super::assemblies;
use crate::document::stack_up::{Layer, Stack};
use crate::laws::stack as law;

fn pairs(layers: &[Layer]) -> Vec<(f64, f64)> {
    layers.iter().map(|l| (l.size, l.tolerance)).collect()
}

/// Share of assemblies with a gap below a limit, for sizes uniformly distributed within their tolerances. Exact up to
/// rounding (1e-12 for ten parts); parts without a tolerance only shift the gap.
///
/// ```
/// use slipsoak_engine::stack_up::{Layer, share_below};
/// let part = |size, tolerance| Layer { name: String::new(), size, tolerance };
/// assert_eq!(share_below(&[part(1.0, 0.0), part(0.5, 0.5)], 1.75), 0.75);
/// assert_eq!(share_below(&[part(1.0, 0.0)], 1.0), 0.0);
/// ```
pub fn share_below(layers: &[Layer], limit: f64) -> f64 {
    let (fixed, loose): (Vec<_>, Vec<_>) = pairs(layers).into_iter().partition(|p| p.1 == 0.0);
    let rest = limit - law::gap(&fixed);
    let (nominal, worst) = (law::gap(&loose), law::worst(&loose));
    if rest <= nominal - worst {
        0.0
    } else if rest >= nominal + worst {
        1.0
    } else {
        law::share_below(&loose, rest).clamp(0.0, 1.0)
    }
}

/// The gap of a stack compared with a limit, m.
pub fn stack(layers: &[Layer], limit: f64, seed: u64, assemblies: u64) -> Stack {
    let pairs = pairs(layers);
    Stack {
        nominal: law::gap(&pairs),
        worst: law::worst(&pairs),
        rss: law::rss(&pairs),
        below_limit: share_below(layers, limit),
        below_zero: share_below(layers, 0.0),
        drawn: assemblies::drawn(layers, limit, seed, assemblies),
    }
}

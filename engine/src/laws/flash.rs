//! Flash temperature: how much hotter than its face a rubbing spot is for a moment.
//!
//! A diagnostic: nothing in the model depends on it, as the size of the spots is unknown by a factor of ten and more.

/// Highest rise of a round spot that carries an even flux over a half-space, K.
///
/// The heat spreads into what stands still and is carried away by what passes; the hottest point moves from its middle to its rear.
/// ```text
/// θ = 2 q a/(k √(π (1.273 + Pe))),   Pe = U a/(2α)
/// ```
/// `flux` q W/m², `radius` a m, `speed` U m/s of the spot over the body, `k` W/(m·K), `diffusivity` α m²/s. One body takes all
/// heat: errs high, by the share the other takes. A fit to the exact moving source: within 2.5 %. Tian & Kennedy, J. Tribology
/// 116 (1994) 167–174.
/// ```
/// // at rest q a/k, the exact rise in the middle
/// let rise = slipsoak_engine::laws::flash::highest(1e6, 1e-3, 0.0, 50.0, 1.3e-5);
/// assert!((rise - 20.0).abs() < 0.01);
/// ```
pub fn highest(flux: f64, radius: f64, speed: f64, k: f64, diffusivity: f64) -> f64 {
    2.0 * flux * radius / (k * (std::f64::consts::PI * (1.273 + peclet(radius, speed, diffusivity))).sqrt())
}

/// Mean rise of the same spot, K.
/// ```text
/// θ = 1.22 q a/(k √(π (0.6575 + Pe)))
/// ```
/// Same neglect and source; within 4 % of the exact moving source.
/// ```
/// // at rest 8 q a/(3π k), exact
/// let rise = slipsoak_engine::laws::flash::mean(1e6, 1e-3, 0.0, 50.0, 1.3e-5);
/// assert!((rise - 20.0 * 8.0 / (3.0 * std::f64::consts::PI)).abs() < 0.01);
/// ```
pub fn mean(flux: f64, radius: f64, speed: f64, k: f64, diffusivity: f64) -> f64 {
    1.22 * flux * radius / (k * (std::f64::consts::PI * (0.6575 + peclet(radius, speed, diffusivity))).sqrt())
}

/// Péclet number of a moving spot, 1: how far heat lags behind it.
/// ```text
/// Pe = U a/(2α)
/// ```
/// Exact.
/// ```
/// assert_eq!(slipsoak_engine::laws::flash::peclet(2.0, 3.0, 1.0), 3.0);
/// ```
pub fn peclet(radius: f64, speed: f64, diffusivity: f64) -> f64 {
    speed * radius / (2.0 * diffusivity)
}

//! Friction of the porous bushing and of the washer.

use crate::elementary::{exp, ln};
use crate::real::Real;

/// Speed difference over which Coulomb friction turns its sign, rad/s. Assumed: small against any slip that heats.
pub const COULOMB_BAND: f64 = 0.5;

/// Sign of a speed difference, −1 to 1, for Coulomb friction T = μ F r · sign.
/// ```text
/// tanh(Δω/0.5)
/// ```
/// The smooth step replaces sticking: below 0.5 rad/s it creeps where a real bearing would hold. Textbook law, band assumed.
/// ```
/// let t = 0.1 * 100.0 * 0.01 * slipsoak_engine::laws::bearing::turned(50.0);
/// assert!((t - 0.1).abs() < 1e-12);
/// assert!((slipsoak_engine::laws::bearing::turned(0.5) - 0.7615942).abs() < 1e-7); // tanh 1
/// ```
pub fn turned<R: Real>(dw: R) -> R {
    (dw / COULOMB_BAND).tanh()
}

/// Torque of the sheared film in the clearance, N·m.
///
/// A centred shaft shears the film (Petroff), which warms itself and so thins.
/// ```text
/// T = 2π R³ L η Δω/c · fill · heated,    heated by [`film_factor`]
/// ```
/// Neglects eccentricity: errs low under load, by 11 % at a Sommerfeld number of 0.26 and 35 % at 0.12 (Raimondi & Boyd, L/D = 1,
/// from memory), where the tips carry most of it. Petroff's law is textbook.
/// ```
/// let t = slipsoak_engine::laws::bearing::film_torque([0.01, 0.03, 25e-6], 0.1, 100.0, 1.0, 1.0);
/// assert!((t - 0.0754).abs() < 1e-4); // 2π·1e-6·0.03·0.1·100/25e-6
/// ```
pub fn film_torque<R: Real>([radius, length, clearance]: [f64; 3], viscosity: R, dw: R, fill: R, heated: R) -> R {
    viscosity * dw * fill * heated * (std::f64::consts::TAU * radius * radius * radius * length / clearance)
}

/// Torque of a scored bushing that grabs the shaft, N·m, against any turning.
/// ```text
/// T = T_z smooth((g − ½)/½)
/// ```
/// None below a score of a half. T_z assumed, within a factor of five.
/// ```
/// assert_eq!(slipsoak_engine::laws::bearing::grabbing(5.0, 1.0), 5.0);
/// assert_eq!(slipsoak_engine::laws::bearing::grabbing(5.0, 0.5), 0.0);
/// ```
pub fn grabbing<R: Real>(most: f64, score: R) -> R {
    ((score - GRABS) / (SEIZED - GRABS)).smooth() * most
}

/// Load on the bushing, N: weight, the chain's slack strand and what torque pulls at the sprocket in one direction, the motor's
/// shaking across it.
/// ```text
/// F = √((W + F_chain + T/r_s)² + F_shake²)
/// ```
/// Takes every pull along one line: errs high by up to the weight. Statics; weight and shaking assumed.
/// ```
/// let f = slipsoak_engine::laws::bearing::load([1.0, 1.0, 4.0], 0.02, 0.02);
/// assert_eq!(f, 5.0); // 1 + 1 + 0.02/0.02 = 3 along the line, 4 across it
/// ```
pub fn load<R: Real>([weight, chain, shake]: [f64; 3], torque: R, sprocket_radius: f64) -> R {
    ((torque / sprocket_radius + (weight + chain)).squared() + shake * shake).sqrt()
}

/// Share of its lubrication that oil has lost when it is wholly oxidised, 1. Assumed.
pub const LOST_BY_AGE: f64 = 0.5;
/// Score from which a bushing is heard, 1. Assumed.
pub const SQUEALS: f64 = 0.1;
/// Score from which a bushing grabs its shaft and drives the drum, 1. Assumed.
pub const GRABS: f64 = 0.5;
/// Score of a seized bushing, 1.
pub const SEIZED: f64 = 1.0;

/// Sommerfeld number of the bushing, 1: how far viscosity and speed lift the shaft against its load.
/// ```text
/// Σ = f (R/c)² η|Δω|/(2π p),   p = F/(D L)
/// ```
/// The film reaches round the share f of the bore that oil fills. Textbook number; taking its extent as the fill is assumed.
/// ```
/// use slipsoak_engine::laws::bearing::sommerfeld;
/// let s = sommerfeld(1.0, 400.0, 0.01, std::f64::consts::TAU, 1e6);
/// assert!((s - 1.6e-3).abs() < 1e-12); // 400² · 0.01/1e6
/// ```
pub fn sommerfeld<R: Real>(fill: R, radius_over_clearance: f64, viscosity: R, dw: R, pressure: R) -> R {
    let lifted = fill * viscosity * dw.abs() * (radius_over_clearance * radius_over_clearance);
    lifted / (pressure * std::f64::consts::TAU)
}

/// Share of the load that the tips of the faces carry, 1; the film carries the rest.
/// ```text
/// b = 1/(1 + (Σ/Σ_c)²)
/// ```
/// A smooth step over one decade. Shape after Kaneko & Hashimoto, J. Tribology 117 (1995) 291 (abstract): flat in boundary
/// friction, steep in mixed friction; Σ_c is assumed.
/// ```
/// assert_eq!(slipsoak_engine::laws::bearing::tip_share(0.1, 0.1), 0.5);
/// ```
pub fn tip_share<R: Real>(sommerfeld: R, critical: f64) -> R {
    R::from(1.0) / ((sommerfeld / critical).squared() + 1.0)
}

/// Friction coefficient of the tips, 1, for a lubrication and a score of the faces, both 0..1.
/// ```text
/// μ = a μ_b + (1 − a)[μ_d + g (μ_g − μ_d)]
/// ```
/// Patches side by side. μ_b of sintered bronze 0.08 to 0.12 (handbook values, abstract); μ_d and μ_g assumed.
/// ```
/// let mu = slipsoak_engine::laws::bearing::tip_friction(0.11, 0.25, 0.6, 0.0, 1.0);
/// assert_eq!(mu, 0.6);
/// ```
pub fn tip_friction<R: Real>(boundary: f64, dry: f64, grabbing: f64, lubrication: R, score: R) -> R {
    let bare = score * (grabbing - dry) + dry;
    lubrication * (-bare + boundary) + bare
}

/// Nahme number of a sheared film, 1: its own heating over what changes its viscosity by a factor e.
/// ```text
/// Na = β η (Δω R)²/k
/// ```
/// Textbook number; β is the fall of [`super::oil::Walther::falling`].
/// ```
/// assert_eq!(slipsoak_engine::laws::bearing::nahme(0.5, 0.2, 100.0, 0.01, 0.1), 1.0);
/// ```
pub fn nahme<R: Real>(fall: R, viscosity: R, dw: R, radius: f64, conductivity: f64) -> R {
    fall * viscosity * (dw * radius).squared() / conductivity
}

/// Stress of a film that shearing heats, over that of a film as warm as its walls, 1.
///
/// Couette flow between walls of one temperature, viscosity falling exponentially as it warms.
/// ```text
/// asinh(x)/(x √(1 + x²)),   x² = Na/8
/// ```
/// Exact for that flow. Neglects heat that the shaft carries round: errs low for a film that warms along its way. Gavis & Laurence,
/// Ind. Eng. Chem. Fundam. 7 (1968) 525 (from memory), redone by the boundary-value problem.
/// ```
/// use slipsoak_engine::laws::bearing::film_factor;
/// assert_eq!(film_factor(0.0), 1.0);
/// assert!((film_factor(1.0_f64) - 0.924196).abs() < 1e-6);
/// for square in [9e-5_f64, 1.1e-4] {
///     let x = square.sqrt();
///     let exact = x.asinh() / (x * x.hypot(1.0));
///     assert!((film_factor(8.0 * square) - exact).abs() < 1e-11); // series below 1e-4
/// }
/// ```
pub fn film_factor<R: Real>(nahme: R) -> R {
    let square = nahme / 8.0;
    if square.value() < 1e-4 {
        return (square * (8.0 / 15.0) - 2.0 / 3.0) * square + 1.0;
    }
    let (x, root) = (square.sqrt(), (square + 1.0).sqrt());
    (x + root).ln() / (x * root)
}

/// How much more than without it the bushing's own friction presses, 1: its torque pulls the chain, and the chain the bushing.
/// ```text
/// 1/(1 − λ/r_s),   λ = μ b R
/// ```
/// Exact for a chain that pulls across the load. It jams by itself where μ b R reaches the sprocket's radius r_s.
/// ```
/// assert_eq!(slipsoak_engine::laws::bearing::chain_loop(0.01, 0.02), 2.0);
/// ```
pub fn chain_loop<R: Real>(lever: R, sprocket_radius: f64) -> R {
    R::from(1.0) / (-lever.abs() / sprocket_radius + 1.0)
}

/// Rate at which a badly oiled bushing scores, 1/s: friction work on its shadow over what spoils the faces.
/// ```text
/// g′ = max(0, 1 − a/a_0)² P/(D L E)
/// ```
/// None from a lubrication of a_0 on; it never heals. Form and constants assumed: E within a factor of ten.
/// ```
/// let rate = slipsoak_engine::laws::bearing::score_rate(0.45, 0.9, 8.0, 2.0, 1.0);
/// assert_eq!(rate, 1.0);
/// ```
pub fn score_rate<R: Real>(lubrication: R, enough: f64, power: R, shadow: f64, energy: f64) -> R {
    let short = (-lubrication / enough + 1.0).max(R::from(0.0));
    short.squared() * power / (shadow * energy)
}

/// Wear constant of the bushing between film, boundary and dry friction, m²/N.
/// ```text
/// k = (1 − b) k_film + b k_b^a k_dry^(1 − a)
/// ```
/// A mean of decades between oiled and dry tips: errs by up to a factor 3. Values: one maker's table of regimes (abstract), a
/// decade each way.
/// ```
/// let k = slipsoak_engine::laws::bearing::wear_constant(1e-19, 1e-16, 1e-14, 1.0, 0.5);
/// assert!((k / 1e-15 - 1.0).abs() < 1e-12);
/// ```
pub fn wear_constant(film: f64, boundary: f64, dry: f64, tips: f64, lubrication: f64) -> f64 {
    (1.0 - tips) * film + tips * boundary * exp(ln(dry / boundary) * (1.0 - lubrication))
}

/// How well the bushing is lubricated, a, 0 dry to 1 oiled.
///
/// Either the pores can still feed the face or there is oil in the clearance; only when both fail is it dry.
/// ```text
/// a = 1 − (1 − smooth((S − 0.2)/0.5))(1 − fill)
/// ```
/// Neglects the delay of feeding: errs high just after a start. Assumed.
/// ```
/// use slipsoak_engine::laws::bearing::lubrication;
/// assert_eq!(lubrication(1.0, 0.0), 1.0);
/// assert_eq!(lubrication(0.1, 0.25), 0.25);
/// assert!((lubrication(0.45_f64, 0.0) - 0.5).abs() < 1e-12);
/// ```
pub fn lubrication<R: Real>(saturation: R, fill: R) -> R {
    let pores = ((saturation - 0.2) / 0.5).smooth();
    -(-pores + 1.0) * (-fill + 1.0) + 1.0
}

/// Load of a plain bearing, PV, Pa·m/s.
///
/// Mean pressure on the bore's shadow times the sliding speed: friction heat per area is μ times this.
/// ```text
/// PV = F/(D L) · v
/// ```
/// Neglects edge loading: errs low. Mott, Machine Elements in Mechanical Design, chapter 16.
/// ```
/// assert_eq!(slipsoak_engine::laws::bearing::pressure_speed(8.0, 2.0, 2.0, 3.0), 6.0);
/// ```
pub fn pressure_speed(force: f64, bore: f64, length: f64, sliding_speed: f64) -> f64 {
    force / (bore * length) * sliding_speed
}

//! The method: a stiffly accurate, L-stable Rosenbrock method of order 4 with an embedded order 3 and a dense output.
//!
//! Source: E. Hairer, G. Wanner, *Solving Ordinary Differential Equations II*, 2nd ed. 1996, section IV.7 and its published
//! coefficient set (six stages, γ = 1/4), in the form that needs no product with the Jacobian.

/// Number of stages.
pub const STAGES: usize = 6;
/// γ
pub const GAMMA: f64 = 0.25;
/// αᵢ: times of the stages, shares of the step
pub const ALPHA: [f64; STAGES] = [0.0, 0.386, 0.21, 0.63, 1.0, 1.0];
/// γᵢ: weights of ∂f/∂t
pub const GAMMA_I: [f64; STAGES] = [0.25, -0.1043, 0.1035, -0.03620000000000023, 0.0, 0.0];
/// aᵢⱼ by rows 1..6
pub const A: [[f64; 5]; STAGES] = [
    [0.0, 0.0, 0.0, 0.0, 0.0],
    [1.544, 0.0, 0.0, 0.0, 0.0],
    [0.9466785280815826, 0.2557011698983284, 0.0, 0.0, 0.0],
    [3.314825187068521, 2.896124015972201, 0.9986419139977817, 0.0, 0.0],
    [1.221224509226641, 6.019134481288629, 12.53708332932087, -0.687886036105895, 0.0],
    [1.221224509226641, 6.019134481288629, 12.53708332932087, -0.687886036105895, 1.0],
];
/// cᵢⱼ by rows 1..6
pub const C: [[f64; 5]; STAGES] = [
    [0.0, 0.0, 0.0, 0.0, 0.0],
    [-5.6688, 0.0, 0.0, 0.0, 0.0],
    [-2.430093356833875, -0.2063599157091915, 0.0, 0.0, 0.0],
    [-0.1073529058151375, -9.594562251023355, -20.47028614809616, 0.0, 0.0],
    [7.496443313967647, -10.24680431464352, -33.99990352819905, 11.7089089320616, 0.0],
    [8.083246795921522, -7.981132988064893, -31.52159432874371, 16.31930543123136, -6.058818238834054],
];
/// dense output: first and second coefficient vectors
pub const DENSE: [[f64; 5]; 2] = [
    [10.12623508344586, -7.487995877610167, -34.80091861555747, -7.992771707568823, 1.025137723295662],
    [-0.6762803392801253, 6.087714651680015, 16.43084320892478, 24.76722511418386, -6.594389125716872],
];

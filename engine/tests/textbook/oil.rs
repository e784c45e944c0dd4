//! Textbook laws of oil that soaks, spins and thins, for checks.

/// Depth to which a capillary has filled, m.
/// ```text
/// x = √(γ r t/(2 η τ²))
/// ```
/// Wets completely, no gravity, no end; `tortuosity_squared` τ² 1 is a straight tube. Washburn, Phys. Rev. 17 (1921) 273.
pub fn washburn_depth(tension: f64, pore: f64, viscosity: f64, time: f64, tortuosity_squared: f64) -> f64 {
    (tension * pore * time / (2.0 * viscosity * tortuosity_squared)).sqrt()
}

/// Time for oil to fill a porous ring from its bore, s.
///
/// Darcy flow outward under the capillary pressure at the front.
/// ```text
/// t = φ η/(k P_c) [½ r_o² ln(r_o/r_i) − ¼(r_o² − r_i²)]
/// ```
/// Sharp front, no trapped air: errs low. Derived here.
pub fn radial_front_time(
    porosity: f64,
    viscosity: f64,
    permeability: f64,
    pressure: f64,
    inner: f64,
    outer: f64,
) -> f64 {
    let squares = outer * outer - inner * inner;
    porosity * viscosity / (permeability * pressure) * (0.5 * outer * outer * libm::log(outer / inner) - 0.25 * squares)
}

/// Thickness of a film on a spinning face, m.
///
/// Spin drives the film outward against its viscosity; an even film stays even.
/// ```text
/// h = h0/√(1 + 4 ρ ω² h0² t/(3η))
/// ```
/// Neglects tension at the rim: errs low on the last micrometres. Emslie, Bonner & Peck, J. Appl. Phys. 29 (1958) 858.
pub fn film_spun(h0: f64, density: f64, viscosity: f64, w: f64, time: f64) -> f64 {
    h0 / (1.0 + 4.0 * density * w * w * h0 * h0 * time / (3.0 * viscosity)).sqrt()
}

/// Pressure that spin sets up in a ring of oil, Pa.
/// ```text
/// p = ½ ρ ω² (r_o² − r_i²)
/// ```
/// Exact for rigid rotation.
pub fn spin_pressure(density: f64, w: f64, inner: f64, outer: f64) -> f64 {
    0.5 * density * w * w * (outer * outer - inner * inner)
}

/// Pressure with which a wetted pore holds its oil, Pa.
/// ```text
/// p = 2γ/r
/// ```
/// Wets completely: errs high on dirty metal. Young–Laplace, exact.
pub fn capillary_pressure(tension: f64, pore: f64) -> f64 {
    2.0 * tension / pore
}

/// Viscosity index below 100, procedure A, 1, from viscosities at 40 °C.
/// ```text
/// VI = 100 (L − U)/(L − H)
/// ```
/// L and H belong to the reference oils of equal viscosity at 100 °C. ASTM D2270, eq. (3) in form.
pub fn viscosity_index(u: f64, low: f64, high: f64) -> f64 {
    100.0 * (low - u) / (low - high)
}

/// Reference viscosities L and H at 40 °C for an oil of viscosity Y at 100 °C, all cSt.
/// ```text
/// L = a Y² + b Y + c,   H = d Y² + e Y + f,   7.7 ≤ Y ≤ 15
/// ```
/// Within 0.1 % of the standard's table. ASTM D2270, the standard's fitted quadratics, quoted from memory. None outside.
pub fn reference_viscosities(y: f64) -> Option<(f64, f64)> {
    let (a, b, c, d, e, f) = match y {
        _ if !(7.7..=15.0).contains(&y) => return None,
        _ if y < 9.0 => (0.41858, 16.1558, -56.040, 0.05794, 10.5156, -28.240),
        _ if y < 12.0 => (0.88779, 7.5527, -16.600, 0.26665, 6.7015, -10.810),
        _ => (0.76720, 10.7972, -38.180, 0.20073, 8.4658, -22.490),
    };
    Some(((a * y + b) * y + c, (d * y + e) * y + f))
}

/// Time constant of imbibing at a temperature, over that at 80 °C, 1.
/// ```text
/// τ/τ80 = (η/γ)/(η/γ)80
/// ```
/// Washburn's scaling; neglects trapped air. Exact for that law.
pub fn imbibing(viscosity: f64, tension: f64, viscosity_80: f64, tension_80: f64) -> f64 {
    viscosity / tension * (tension_80 / viscosity_80)
}

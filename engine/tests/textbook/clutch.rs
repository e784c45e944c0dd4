//! Textbook sizing of centrifugal clutches, for checks.

/// Mass of one shoe that carries a power with a constant spring force, kg.
///
/// The spring holds the shoe until ω_e; what grows beyond makes the torque P/ω.
/// ```text
/// m = P/[ω n μ r R (ω² − ω_e²)]
/// ```
/// Neglects the spring's rate: errs low. Khurmi & Gupta, Theory of Machines, section 10.34.
pub fn shoe_mass(
    power: f64,
    speed: f64,
    engagement: f64,
    shoes: f64,
    friction: f64,
    mass_radius: f64,
    radius: f64,
) -> f64 {
    power / (speed * shoes * friction * mass_radius * radius * (speed * speed - engagement * engagement))
}

/// Lining width at which a shoe keeps to a mean pressure, m.
/// ```text
/// b = F_n/(p R θ)
/// ```
/// Pressure even over the arc: errs low on the peak by about a tenth. Khurmi & Gupta, section 10.34.
pub fn lining_width(normal_force: f64, pressure: f64, radius: f64, arc: f64) -> f64 {
    normal_force / (pressure * radius * arc)
}

/// A rigid shoe on a pivot inside a drum, lined from `from` to `to` (rad from the line drum centre – pivot).
///
/// Wear lets the pressure follow the sine of the angle from the pivot.
/// ```text
/// p = p_a sin θ/sin θ_a,   θ_a = min(θ2, π/2) when θ1 < π/2
/// ```
/// Neglects the bending of shoe and drum: errs low at the ends. Shigley, Mechanical Engineering Design, section 16-2.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LongShoe {
    /// drum radius, m
    pub radius: f64,
    /// face width, m
    pub width: f64,
    /// pivot's distance from the drum's centre, m
    pub pivot: f64,
    /// start of the lining, rad
    pub from: f64,
    /// end of the lining, rad
    pub to: f64,
}

impl LongShoe {
    fn sine_most(&self) -> f64 {
        let quarter = std::f64::consts::FRAC_PI_2;
        if self.to >= quarter && self.from <= quarter { 1.0 } else { self.from.sin().max(self.to.sin()) }
    }

    /// Moment of the normal forces about the pivot, N·m.
    /// ```text
    /// M_N = p_a b r a/sin θ_a · ∫ sin²θ dθ = p_a b r a/sin θ_a [θ/2 − sin 2θ/4]
    /// ```
    pub fn normal_moment(&self, pressure: f64) -> f64 {
        let f = |t: f64| t / 2.0 - (2.0 * t).sin() / 4.0;
        pressure * self.width * self.radius * self.pivot / self.sine_most() * (f(self.to) - f(self.from))
    }

    /// Moment of the friction forces about the pivot, N·m.
    /// ```text
    /// M_f = μ p_a b r/sin θ_a · ∫ sin θ (r − a cos θ) dθ = μ p_a b r/sin θ_a [−r cos θ − ½ a sin²θ]
    /// ```
    pub fn friction_moment(&self, pressure: f64, friction: f64) -> f64 {
        let f = |t: f64| -self.radius * t.cos() - 0.5 * self.pivot * t.sin().powi(2);
        friction * pressure * self.width * self.radius / self.sine_most() * (f(self.to) - f(self.from))
    }

    /// Torque on the drum, N·m.
    /// ```text
    /// T = μ p_a b r²/sin θ_a · (cos θ1 − cos θ2)
    /// ```
    pub fn torque(&self, pressure: f64, friction: f64) -> f64 {
        friction * pressure * self.width * self.radius * self.radius / self.sine_most()
            * (self.from.cos() - self.to.cos())
    }

    /// Force at an arm that presses a leading shoe to its peak pressure, N.
    /// ```text
    /// F = (M_N − M_f)/c
    /// ```
    pub fn leading_force(&self, pressure: f64, friction: f64, arm: f64) -> f64 {
        (self.normal_moment(pressure) - self.friction_moment(pressure, friction)) / arm
    }

    /// Peak pressure of a leading shoe under a force at an arm, Pa; the inverse of [`Self::leading_force`].
    pub fn leading_pressure(&self, force: f64, friction: f64, arm: f64) -> f64 {
        force / self.leading_force(1.0, friction, arm)
    }

    /// Peak pressure of a trailing shoe under a force at an arm, Pa.
    /// ```text
    /// F = (M_N + M_f)/c
    /// ```
    pub fn trailing_pressure(&self, force: f64, friction: f64, arm: f64) -> f64 {
        force * arm / (self.normal_moment(1.0) + self.friction_moment(1.0, friction))
    }
}

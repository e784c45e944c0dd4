//! Why a machine cannot be built, and the check that finds it.

use super::derived::{MOST_SHOES, SPRINGS};
use super::machine::Machine;
use super::parameter::Parameter;
use super::settings;
use super::table::PARAMETERS;
use crate::laws::shoe::Form;
use crate::units::RPM;
use thiserror::Error;

/// Reason why a machine cannot be built. Values are SI.
#[derive(Clone, Debug, PartialEq, Error)]
pub enum Invalid {
    /// a value outside its range
    #[error("{} is {value} {unit}; it must lie between {} and {} {unit}", .setting.path, .setting.least, .setting.most, unit = .setting.dimension.unit())]
    Range {
        /// the setting
        setting: &'static Parameter,
        /// value given, SI
        value: f64,
    },
    /// the shoe would jam against the drum
    #[error("a {form:?} shoe would lock itself: friction {friction:.3} times its lever {lever:.3} reaches 1")]
    SelfLocking {
        /// form of the shoes
        form: Form,
        /// friction coefficient, peak
        friction: f64,
        /// lever ratio or tangent of the guide's angle
        lever: f64,
    },
    /// the bushing's own friction would pull the chain, and the chain the bushing, without end
    #[error(
        "the bushing would jam by itself: {setting} {friction} times the radius of the bore, {bore_radius} m, is {gain:.3} times the \
         pitch radius of the sprocket, {pitch_radius} m, and must stay below it"
    )]
    Jams {
        /// loop gain: friction times radius over the sprocket's pitch radius
        gain: f64,
        /// greatest friction coefficient
        friction: f64,
        /// its setting
        setting: &'static str,
        /// radius of the bore, m
        bore_radius: f64,
        /// pitch radius of the sprocket, m
        pitch_radius: f64,
        /// number of teeth
        teeth: f64,
        /// pitch of the chain, m
        pitch: f64,
        /// bore that just jams, m
        bore_most: f64,
        /// least number of teeth
        teeth_least: f64,
        /// friction that just jams
        friction_most: f64,
    },
    /// the clutch can never engage
    #[error("clutch.engagement, {engagement} rad/s, is not below motor.no_load, {top} rad/s: the clutch never engages")]
    NeverEngages {
        /// engagement speed, rad/s
        engagement: f64,
        /// no-load governed speed, rad/s
        top: f64,
    },
    /// the spring cannot hold the shoes in
    #[error(
        "across the gap the rate of the spring alone exceeds the pull of the shoes at clutch.engagement, {engagement} rad/s: preload {preload} N"
    )]
    NoPreload {
        /// engagement speed, rad/s
        engagement: f64,
        /// preload, N
        preload: f64,
    },
    /// the shoes lie outside the drum
    #[error(
        "clutch.shoe_radius, {radius} m, is not below drum.radius, {drum} m: the centre of mass of a shoe lies inside the drum"
    )]
    ShoeOutside {
        /// radius of the shoe's centre of mass at contact, m
        radius: f64,
        /// radius of the drum, m
        drum: f64,
    },
    /// the shoes travel further than they are thick
    #[error(
        "clutch.gap, {gap} m, is not below {room} m, by which drum.radius exceeds clutch.shoe_radius: the shoe would leave its guide"
    )]
    GapTooWide {
        /// travel from rest to the drum, m
        gap: f64,
        /// distance of the shoe's centre of mass from the drum at contact, m
        room: f64,
    },
    /// a setting that must lie below another
    #[error("{}, {low} {unit}, is not below {}, {high} {unit}: {why}", .lower.path, .upper.path, unit = .lower.dimension.unit())]
    NotBelow {
        /// the setting that must be lower
        lower: &'static Parameter,
        /// its value, SI
        low: f64,
        /// the setting below which it must lie
        upper: &'static Parameter,
        /// its value, SI
        high: f64,
        /// what it would be otherwise
        why: &'static str,
    },
    /// the shoes would stay where they are
    #[error(
        "clutch.guide_friction, {friction} N, is not below the spring's force on a shoe at the drum, {force} N: the shoes would stay there"
    )]
    ShoesStay {
        /// friction of a shoe in its guide, N
        friction: f64,
        /// the spring's force at the drum, N
        force: f64,
    },
    /// the torque curve is unusable
    #[error("motor.torque: {problem}; give at least two points with rising speeds and torques of 0 N·m or more")]
    Curve {
        /// what is wrong
        problem: String,
    },
    /// two settings contradict each other
    #[error("{what}")]
    Contradiction {
        /// what is wrong and what to do
        what: String,
    },
}

impl Machine {
    /// Checks every number and their consistency.
    pub fn check(&self) -> Result<(), Invalid> {
        for p in PARAMETERS {
            let value = (p.of)(self);
            if !(value >= p.least && value <= p.most) {
                return Err(Invalid::Range { setting: p, value });
            }
        }
        self.check_curve()?;
        let lever = match self.form {
            // A trailing shoe leads where the drum overruns the motor.
            Form::Leading | Form::Trailing => self.clutch.lever,
            Form::Wedge => self.clutch.guide_angle.tan(),
            Form::Floating => 0.0,
        };
        self.check_geometry()?;
        let friction = self.lining.friction * self.clutch.peak;
        if friction * lever >= 1.0 {
            return Err(Invalid::SelfLocking { form: self.form, friction, lever });
        }
        if self.clutch.engagement >= self.motor.no_load {
            return Err(Invalid::NeverEngages { engagement: self.clutch.engagement, top: self.motor.no_load });
        }
        if self.preload() < 0.0 {
            return Err(Invalid::NoPreload { engagement: self.clutch.engagement, preload: self.preload() });
        }
        for p in SPRINGS.iter().filter(|p| (p.of)(self) != 1.0) {
            self.check_spring(p)?;
        }
        let force = self.preload() + self.clutch.spring_rate * self.clutch.gap;
        if self.clutch.guide_friction >= force {
            return Err(Invalid::ShoesStay { friction: self.clutch.guide_friction, force });
        }
        if self.one_by_one() && self.clutch.shoes > MOST_SHOES as f64 {
            let what = format!(
                "clutch.shoes is {}, and springs that differ are followed for up to {MOST_SHOES} shoes; set springs.scatter to 0 and \
                 all springs to 1",
                self.clutch.shoes
            );
            return Err(Invalid::Contradiction { what });
        }
        self.check_order()?;
        self.check_tolerance(&settings::cover::proud, &settings::cover::proud_tolerance)?;
        self.check_tolerance(&settings::washer::thickness, &settings::cover::washer_tolerance)?;
        self.check_loop()
    }

    /// Refuses a setting that reaches another below which it must lie.
    fn check_order(&self) -> Result<(), Invalid> {
        let order: [(&'static Parameter, &'static Parameter, &'static str); 5] = [
            (&settings::motor::full_load, &settings::motor::no_load, "a governor droops under load"),
            (&settings::motor::stall, &settings::motor::idle, "the motor would stall at idle"),
            (&settings::bushing::bore, &settings::bushing::outside, "the ring has no wall"),
            (&settings::washer::inside, &settings::washer::outside, "the ring has no wall"),
            (&settings::lining::thickness, &settings::drum::radius, "the lining would reach the shaft"),
        ];
        let wrong = order.into_iter().find(|(lower, upper, _)| (lower.of)(self) >= (upper.of)(self));
        wrong.map_or(Ok(()), |(lower, upper, why)| {
            Err(Invalid::NotBelow { lower, low: (lower.of)(self), upper, high: (upper.of)(self), why })
        })
    }

    /// Refuses the setting of a single spring whose shoe the clutch does not have.
    pub fn check_spring(&self, setting: &Parameter) -> Result<(), Invalid> {
        let shoes = self.clutch.shoes;
        let place = SPRINGS.iter().position(|spring| *spring == setting);
        if place.is_none_or(|place| (place as f64) < shoes) {
            return Ok(());
        }
        let what = format!(
            "{} belongs to a shoe that the clutch does not have, clutch.shoes is {shoes}: leave {} away (or 1), and give the force of \
             one of its own springs, or correct clutch.shoes",
            setting.path, setting.path
        );
        Err(Invalid::Contradiction { what })
    }

    /// Refuses a size that is smaller than its tolerance: some of those parts could not be.
    pub fn check_tolerance(&self, size: &Parameter, tolerance: &Parameter) -> Result<(), Invalid> {
        let [value, deviation] = [size, tolerance].map(|p| (p.of)(self));
        if deviation <= value {
            return Ok(());
        }
        let what = format!(
            "{} is {:.3} mm and its tolerance, {}, {:.3} mm: the least size would be below 0; give a tolerance up to the size",
            size.path,
            1e3 * value,
            tolerance.path,
            1e3 * deviation
        );
        Err(Invalid::Contradiction { what })
    }

    /// Refuses shoes that cannot lie in their drum.
    fn check_geometry(&self) -> Result<(), Invalid> {
        let (radius, drum, gap) = (self.clutch.shoe_radius, self.drum.radius, self.clutch.gap);
        if radius >= drum {
            return Err(Invalid::ShoeOutside { radius, drum });
        }
        // The centre of mass lies half-way through a shoe: one that travels by more leaves its guide.
        if gap >= drum - radius {
            return Err(Invalid::GapTooWide { gap, room: drum - radius });
        }
        Ok(())
    }

    /// Refuses a bushing whose own friction, through the chain, presses it without end.
    fn check_loop(&self) -> Result<(), Invalid> {
        let (b, sprocket) = (&self.bushing, self.sprocket_pitch_radius());
        let frictions = [
            (b.friction_oiled, "bushing.friction_oiled"),
            (b.friction_dry, "bushing.friction_dry"),
            (b.friction_scored, "bushing.friction_scored"),
        ];
        let (friction, setting) = frictions.into_iter().fold((0.0, ""), |most, f| if f.0 > most.0 { f } else { most });
        let lever = friction * 0.5 * b.bore;
        if lever < sprocket {
            return Ok(());
        }
        // r_s = pitch/(2 sin(π/z)) above the lever.
        let teeth_least = (std::f64::consts::PI / (0.5 * self.drum.pitch / lever).min(1.0).asin()).floor() + 1.0;
        Err(Invalid::Jams {
            gain: lever / sprocket,
            friction,
            setting,
            bore_radius: 0.5 * b.bore,
            pitch_radius: sprocket,
            teeth: self.drum.teeth,
            pitch: self.drum.pitch,
            bore_most: 2.0 * sprocket / friction,
            teeth_least,
            friction_most: 2.0 * sprocket / b.bore,
        })
    }

    fn check_curve(&self) -> Result<(), Invalid> {
        let curve = &self.torque_curve;
        let problem = if curve.len() < 2 {
            "there are fewer than two points".to_owned()
        } else if let Some(w) = curve.windows(2).find(|w| !(w[1].0 > w[0].0)) {
            format!("{:.1} rpm follows {:.1} rpm", w[1].0 / RPM, w[0].0 / RPM)
        } else if let Some(p) = curve.iter().find(|p| !(p.1 >= 0.0 && p.1.is_finite() && p.0.is_finite())) {
            format!("the torque {} N·m is not usable", p.1)
        } else {
            return Ok(());
        };
        Err(Invalid::Curve { problem })
    }
}

//! Quantities that an inspection or a bench test reads: one row each, with what it depends on and what it teaches.

use crate::laws::margin::SPRING_SCATTER;
use crate::life::Pair;
use crate::model::Assembly;
pub use crate::names::{Condition, Quantity};
use crate::parts::settings::{bushing, clutch, lining, motor, oiling, washer};
use crate::parts::{Dimension, Machine, Parameter};
use crate::simulate::Worn;
use crate::units::{RPM, ZERO_C};

/// Standard deviation of a reading: a fixed part and a share of what is read, added.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Deviation {
    /// fixed part, SI
    pub fixed: f64,
    /// share of the reading
    pub share: f64,
}

impl Deviation {
    const fn fixed(fixed: f64) -> Self {
        Self { fixed, share: 0.0 }
    }

    /// Deviation at a reading, SI.
    ///
    /// ```
    /// use slipsoak_engine::calibrate::Quantity;
    /// assert!((Quantity::Spring.row().gauge.at(100.0) - 2.5).abs() < 1e-12); // a pull scale: 2 % and 0.5 N
    /// ```
    pub fn at(self, reading: f64) -> f64 {
        self.fixed + self.share * reading.abs()
    }
}

/// Reading of a machine by an inspection or a bench test. Deviations are assumed: scatter of hand-held shop gauges.
pub struct Inspection {
    /// kind of quantity
    pub dimension: Dimension,
    /// range of possible readings, SI
    pub range: (f64, f64),
    /// standard deviation of a reading
    pub gauge: Deviation,
    /// standard deviation of the new part about the machine's nominal value
    pub level: Deviation,
    /// standard deviation of the depth lost in running in, about zero, SI; positive if the reading falls with wear,
    /// negative if it rises
    pub running_in: f64,
    /// the settings that it determines, if the data let it, the first before the others
    pub teaches: &'static [&'static Parameter],
    /// reading of a machine in this state under these conditions, SI
    pub reads: fn(&Machine, &Worn, &Under) -> f64,
}

/// A condition under which a quantity is read.
pub struct Conditional {
    /// the quantity whose reading depends on it
    pub of: Quantity,
    /// kind of quantity
    pub dimension: Dimension,
    /// range of possible values, SI
    pub range: (f64, f64),
}

macro_rules! rows {
    ($name:ident, $row:ident: $($variant:ident { $($field:ident: $value:expr),+ $(,)? })+) => {
        impl $name {
            /// Its row.
            pub fn row(self) -> &'static $row {
                match self { $(Self::$variant => { static ROW: $row = $row { $($field: $value),+ }; &ROW })+ }
            }
        }
    };
}

rows! {
    Condition, Conditional:
    // Torque that drags the idling motor.
    Drag { of: Quantity::Drop, dimension: Dimension::Torque, range: (0.01, 20.0) }
    // Speed from which the drum comes to rest.
    Spun { of: Quantity::SpinDown, dimension: Dimension::AngularSpeed, range: (5.0, 500.0) }
    // Temperature of the bushing while the drum comes to rest.
    Warm {
        of: Quantity::SpinDown,
        dimension: Dimension::Temperature,
        range: (-40.0 + ZERO_C, 250.0 + ZERO_C),
    }
}

/// Conditions of one reading, SI; none where they are not given.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Under([Option<f64>; Condition::COUNT]);

impl Under {
    /// The same with one more condition, SI.
    #[must_use]
    pub const fn with(mut self, condition: Condition, value: f64) -> Self {
        self.0[condition as usize] = Some(value);
        self
    }

    /// A condition that is given, SI.
    pub const fn given(&self, condition: Condition) -> Option<f64> {
        self.0[condition as usize]
    }

    /// A condition, SI; not a number if it is not given.
    fn of(&self, condition: Condition) -> f64 {
        self.given(condition).unwrap_or(f64::NAN)
    }
}

/// Density of sintered bronze with empty pores, kg/m³. Published property of the material, as in the table of heat.
const BRONZE: f64 = 6600.0;

rows! {
    Quantity, Inspection:
    // Thickness of the washer, cold.
    Washer {
        dimension: Dimension::Length,
        range: (0.0, 0.05),
        gauge: Deviation::fixed(10e-6),
        level: Deviation::fixed(38e-6),
        running_in: 15e-6,
        teaches: &[&washer::wear_oiled],
        reads: |m, worn, _| m.washer.thickness - worn.of(Pair::Washer),
    }
    // Clearance of the bushing on the diameter.
    Bushing {
        dimension: Dimension::Length,
        range: (0.0, 0.005),
        gauge: Deviation::fixed(5e-6),
        level: Deviation::fixed(10e-6),
        running_in: -3e-6,
        teaches: &[&bushing::wear_boundary],
        reads: |m, worn, _| 2.0 * m.bushing.clearance + worn.of(Pair::Bore),
    }
    // Thickness of the lining.
    Lining {
        dimension: Dimension::Length,
        range: (0.0, 0.05),
        gauge: Deviation::fixed(50e-6),
        level: Deviation::fixed(100e-6),
        running_in: 30e-6,
        teaches: &[&lining::wear],
        reads: |m, worn, _| m.lining.thickness - worn.of(Pair::Lining),
    }
    // Engagement speed, cold.
    Engagement {
        dimension: Dimension::AngularSpeed,
        range: (10.0, 2000.0),
        gauge: Deviation::fixed(20.0 * RPM),
        level: Deviation::fixed(25.0 * RPM),
        running_in: 0.0,
        teaches: &[&clutch::relaxation],
        reads: |m, worn, _| m.cold_engagement(worn.relaxation, worn.of(Pair::Lining)),
    }
    // Pull at which a shoe just leaves its rest, mean of all shoes, cold: its spring's preload.
    Spring {
        dimension: Dimension::Force,
        range: (0.0, 1e4),
        gauge: Deviation { fixed: 0.5, share: 0.02 },
        level: Deviation { fixed: 0.0, share: SPRING_SCATTER },
        running_in: 0.0,
        teaches: &[&clutch::relaxation],
        reads: |m, worn, _| {
            let shares = m.spring_shares();
            m.preload() * (1.0 - worn.relaxation) * shares.iter().sum::<f64>() / shares.len() as f64
        },
    }
    // Weight of drum and bushing over that of the same with a dry, unworn bushing; the dry weight of the drum is unknown, so
    // only changes count.
    Weight {
        dimension: Dimension::Mass,
        range: (1e-3, 100.0),
        gauge: Deviation::fixed(5e-6),
        level: Deviation::fixed(f64::INFINITY),
        running_in: 0.0,
        teaches: &[&oiling::leak],
        reads: |m, worn, _| {
            let b = &m.bushing;
            worn.pores + worn.film - BRONZE * (1.0 - b.porosity) * worn.of(Pair::Bore) * b.bore * b.length
        },
    }
    // Speed that a known torque takes from the warm idling motor.
    Drop {
        dimension: Dimension::AngularSpeed,
        range: (0.0, 400.0),
        gauge: Deviation { fixed: 15.0 * RPM, share: 0.05 },
        level: Deviation::fixed(0.0),
        running_in: 0.0,
        teaches: &[&motor::idle_band, &motor::drag],
        reads: |m, _, under| m.motor.idle - m.dragged_idle(under.of(Condition::Drag)).unwrap_or(0.0),
    }
    // Time in which the drum alone comes to rest on its bushing: motor off; chain, washer and cover off.
    SpinDown {
        dimension: Dimension::Time,
        range: (0.05, 3600.0),
        gauge: Deviation { fixed: 0.02, share: 0.05 },
        level: Deviation::fixed(0.0),
        running_in: 0.0,
        teaches: &[&bushing::mixed_number, &bushing::friction_oiled, &bushing::friction_dry, &bushing::score_energy],
        reads: |m, worn, under| {
            let at = [worn.pores, worn.film, under.of(Condition::Warm), worn.score];
            let speed = under.of(Condition::Spun);
            Assembly::new(m.clone()).map_or(f64::NAN, |a| a.spin_down(at, worn.oxidation, speed))
        },
    }
    // Share of its heat life that the washer has spent, by its colour and how it bends: 0 new, 1 black and brittle.
    Charring {
        dimension: Dimension::Ratio,
        range: (0.0, 1.0),
        gauge: Deviation::fixed(0.15),
        level: Deviation::fixed(0.0),
        running_in: 0.0,
        teaches: &[&washer::heat_life],
        reads: |_, worn, _| worn.dose.min(1.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::calibrate::learnable;

    #[test]
    fn every_quantity_teaches_constants_that_can_be_learned() {
        for quantity in Quantity::ALL {
            let row = quantity.row();
            assert!(!row.teaches.is_empty(), "{quantity}");
            for p in row.teaches {
                assert!(learnable().any(|l| l.0 == *p), "{quantity}: {p:?}");
            }
        }
    }

    #[test]
    fn a_dry_drum_comes_to_rest_by_coulomb_friction_and_an_oiled_one_by_a_sheared_film() {
        let machine = Machine::default();
        let (b, speed) = (&machine.bushing, 500.0 * RPM);
        let under = Under::default().with(Condition::Spun, speed).with(Condition::Warm, 20.0 + ZERO_C);
        let dry = (Quantity::SpinDown.row().reads)(&machine, &Worn::default(), &under);
        // Closed form: t = J ω/(μ W R).
        let coulomb = machine.drum.inertia * speed / (b.friction_dry * b.weight * 0.5 * b.bore);
        assert!((dry / coulomb - 1.0).abs() < 1e-9, "{dry} s, {coulomb} s");
        // Closed form of a film that carries alone: Petroff's torque k ω halves the speed in (J/k) ln 2. Petroff's law in SAE 30 at
        // 20 °C, the clearance full, gives 0.347009 N·m at 1700 rpm.
        let mut light = machine.clone();
        light.bushing.mixed_number = 1e-3;
        light.bushing.friction_oiled = 1e-3;
        let clearance = std::f64::consts::PI * b.bore * b.length * b.clearance;
        let full = Worn { film: 882.0 * clearance, ..Worn::default() };
        let at = |speed: f64| {
            let under = Under::default().with(Condition::Spun, speed).with(Condition::Warm, 20.0 + ZERO_C);
            (Quantity::SpinDown.row().reads)(&light, &full, &under)
        };
        let petroff = machine.drum.inertia / (0.347_009 / (1700.0 * RPM)) * f64::ln(2.0);
        let taken = at(20.0) - at(10.0);
        assert!((taken / petroff - 1.0).abs() < 0.01, "{taken} s, {petroff} s");
    }
}

//! Recorded quantities: one table for records, tables and axes.

use super::names;
use crate::dimension::Dimension;

macro_rules! channels {
    ($($variant:ident = $text:literal, $dimension:ident, $meaning:literal;)+) => {
        names! {
            /// A recorded quantity.
            Channel { $($variant = $text),+ }
        }

        impl Channel {
            /// Its kind of quantity.
            pub const fn dimension(self) -> Dimension {
                match self { $(Self::$variant => Dimension::$dimension,)+ }
            }

            /// Its meaning.
            pub const fn meaning(self) -> &'static str {
                match self { $(Self::$variant => $meaning,)+ }
            }
        }
    };
}

channels! {
    MotorSpeed = "motor speed", AngularSpeed, "speed of motor, carrier and shoes";
    DrumSpeed = "drum speed", AngularSpeed, "speed of drum and sprocket";
    VehicleSpeed = "vehicle speed", Speed, "speed over ground";
    Throttle = "throttle", Ratio, "throttle opening after its linkage";
    ClutchTorque = "clutch torque", Torque, "torque of the slipping lining or through the locked clutch, + drives the drum";
    SlipPower = "slip power", Power, "heat of the slipping lining";
    LiningSurface = "lining surface", Temperature, "rubbed face of the lining";
    DrumFace = "drum face", Temperature, "innermost cell of the drum's wall";
    Band = "band", Temperature, "outermost cell of the drum's wall";
    Web = "web", Temperature, "web of the drum";
    Sprocket = "sprocket", Temperature, "sprocket and drum hub";
    Bushing = "bushing", Temperature, "bronze bushing";
    Washer = "washer", Temperature, "fibre washer";
    Shoes = "shoes", Temperature, "shoes and springs";
    Carrier = "carrier", Temperature, "carrier";
    Shaft = "shaft", Temperature, "shaft's stub";
    Block = "block", Temperature, "motor block";
    OilFill = "oil fill", Ratio, "oil in the pores over a full bushing, by mass at 20 °C";
    Film = "film", Mass, "oil in the clearance and standing on the faces";
    OilOnLining = "oil on lining", Mass, "oil on the lining and in its pores";
    WasherOil = "washer oil", Mass, "oil in the washer";
    Oxidation = "oxidation", Ratio, "oxidised share of the oil's life";
    LiningWear = "lining wear", Length, "thickness lost by the lining";
    BushingWear = "bushing wear", Length, "growth of the bushing's bore";
    WasherWear = "washer wear", Length, "thickness lost by washer and, once it is gone, by the bushing's face";
    Glaze = "lining glaze", Ratio, "glaze of the lining: 0 clean, 1 glazed";
    WasherDose = "washer dose", Ratio, "share of its life that heat has taken from the washer's fibre";
    Score = "bushing score", Ratio, "score of the bushing: 0 smooth, half grabbing, 1 seized";
    BushingLoad = "bushing load", PressureSpeed, "pressure on the bushing's shadow times sliding speed";
    Relaxation = "relaxation", Ratio, "share of spring preload lost";
    Engagement = "engagement", AngularSpeed, "engagement speed as the machine is now, hot and worn";
}

impl Channel {
    /// Its value in a row of a record, SI. Every row contains every channel in the order of this table. Not-a-number if
    /// nothing was recorded.
    pub fn of(self, row: &[f64]) -> f64 {
        row.get(self as usize).copied().unwrap_or(f64::NAN)
    }

    /// Its SI unit.
    pub const fn unit(self) -> &'static str {
        self.dimension().unit()
    }

    /// Whether it is a temperature.
    pub fn is_temperature(self) -> bool {
        self.dimension() == Dimension::Temperature
    }
}

/// Values of all channels, SI.
pub type Row = [f64; Channel::COUNT];

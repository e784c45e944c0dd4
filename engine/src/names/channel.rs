//! Recorded quantities: one table for records, tables and axes.

use super::names;

macro_rules! channels {
    ($($variant:ident = $text:literal, $unit:literal, $meaning:literal;)+) => {
        names! {
            /// A recorded quantity.
            Channel { $($variant = $text),+ }
        }

        impl Channel {
            /// Its SI unit.
            pub const fn unit(self) -> &'static str {
                match self { $(Self::$variant => $unit,)+ }
            }

            /// Its meaning.
            pub const fn meaning(self) -> &'static str {
                match self { $(Self::$variant => $meaning,)+ }
            }
        }
    };
}

channels! {
    MotorSpeed = "motor speed", "rad/s", "speed of motor, carrier and shoes";
    DrumSpeed = "drum speed", "rad/s", "speed of drum and sprocket";
    VehicleSpeed = "vehicle speed", "m/s", "speed over ground";
    Throttle = "throttle", "1", "throttle opening after its linkage";
    ClutchTorque = "clutch torque", "N·m", "torque of the slipping lining or through the locked clutch, + drives the drum";
    SlipPower = "slip power", "W", "heat of the slipping lining";
    LiningSurface = "lining surface", "K", "rubbed face of the lining";
    DrumFace = "drum face", "K", "innermost cell of the drum's wall";
    Band = "band", "K", "outermost cell of the drum's wall";
    Web = "web", "K", "web of the drum";
    Sprocket = "sprocket", "K", "sprocket and drum hub";
    Bushing = "bushing", "K", "bronze bushing";
    Washer = "washer", "K", "fibre washer";
    Shoes = "shoes", "K", "shoes and springs";
    Carrier = "carrier", "K", "carrier";
    Shaft = "shaft", "K", "shaft's stub";
    Block = "block", "K", "motor block";
    OilFill = "oil fill", "1", "oil in the pores over a full bushing, by mass at 20 °C";
    Film = "film", "kg", "oil in the clearance and standing on the faces";
    OilOnLining = "oil on lining", "kg", "oil on the lining and in its pores";
    WasherOil = "washer oil", "kg", "oil in the washer";
    Oxidation = "oxidation", "1", "oxidised share of the oil's life";
    LiningWear = "lining wear", "m", "thickness lost by the lining";
    BushingWear = "bushing wear", "m", "growth of the bushing's bore";
    WasherWear = "washer wear", "m", "thickness lost by washer and, once it is gone, by the bushing's face";
    Glaze = "lining glaze", "1", "glaze of the lining: 0 clean, 1 glazed";
    WasherDose = "washer dose", "1", "share of its life that heat has taken from the washer's fibre";
    Score = "bushing score", "1", "score of the bushing: 0 smooth, half grabbing, 1 seized";
    BushingLoad = "bushing load", "Pa·m/s", "pressure on the bushing's shadow times sliding speed";
    Relaxation = "relaxation", "1", "share of spring preload lost";
    Engagement = "engagement", "rad/s", "engagement speed as the machine is now, hot and worn";
}

impl Channel {
    /// Its value in a row of a record, SI. Every row contains every channel in the order of this table. Not-a-number if
    /// nothing was recorded.
    pub fn of(self, row: &[f64]) -> f64 {
        row.get(self as usize).copied().unwrap_or(f64::NAN)
    }

    /// Whether it is a temperature.
    pub fn is_temperature(self) -> bool {
        self.unit() == "K"
    }
}

/// Values of all channels, SI.
pub type Row = [f64; Channel::COUNT];

//! The recorded quantities: one table for records, tables and axes.

use crate::laws::shoe;
use crate::model::{Assembly, Contact, counter, read, slow, state};
use crate::record::Channel;

/// How many channels there are.
pub(crate) const COUNT: usize = 27;

const ROWS: [(&str, &str, &str); COUNT] = [
    ("motor speed", "rad/s", "speed of motor, carrier and shoes"),
    ("drum speed", "rad/s", "speed of drum and sprocket"),
    ("vehicle speed", "m/s", "speed over ground"),
    ("throttle", "1", "throttle opening after its linkage"),
    ("clutch torque", "N·m", "torque of the slipping lining or through the locked clutch, + drives the drum"),
    ("slip power", "W", "heat of the slipping lining"),
    ("lining surface", "K", "rubbed face of the lining"),
    ("drum face", "K", "innermost cell of the drum's wall"),
    ("band", "K", "outermost cell of the drum's wall"),
    ("web", "K", "web of the drum"),
    ("sprocket", "K", "sprocket and drum hub"),
    ("bushing", "K", "bronze bushing"),
    ("washer", "K", "fibre washer"),
    ("shoes", "K", "shoes and springs"),
    ("carrier", "K", "carrier"),
    ("shaft", "K", "shaft's stub"),
    ("block", "K", "motor block"),
    ("oil fill", "1", "oil in the pores over a full bushing, by mass at 20 °C"),
    ("film", "kg", "oil in the clearance and standing on the faces"),
    ("oil on lining", "kg", "oil on the lining"),
    ("washer oil", "kg", "oil in the washer"),
    ("oxidation", "1", "oxidised share of the oil's life"),
    ("lining wear", "m", "thickness lost by the lining"),
    ("bushing wear", "m", "growth of the bushing's bore"),
    ("washer wear", "m", "thickness lost by washer and, once it is gone, by the bushing's face"),
    ("relaxation", "1", "share of spring preload lost"),
    ("engagement", "rad/s", "engagement speed as the machine is now, hot and worn"),
];

/// The channels of every run.
pub fn channels() -> Vec<Channel> {
    ROWS.iter()
        .map(|&(name, unit, meaning)| Channel { name: name.into(), unit: unit.into(), meaning: meaning.into() })
        .collect()
}

/// Index of a channel by its name.
pub(crate) fn index(name: &str) -> Option<usize> {
    ROWS.iter().position(|r| r.0 == name)
}

/// Index of a channel by its name; one that does not exist does not compile where the index is a constant, and panics
/// elsewhere.
///
/// # Panics
/// If there is no channel of this name.
pub const fn place(name: &str) -> usize {
    let mut row = 0;
    while row < COUNT {
        if same(ROWS[row].0.as_bytes(), name.as_bytes()) {
            return row;
        }
        row += 1;
    }
    panic!("there is no channel of this name")
}

const fn same(a: &[u8], b: &[u8]) -> bool {
    let mut k = 0;
    while k < a.len() && k < b.len() && a[k] == b[k] {
        k += 1;
    }
    k == a.len() && k == b.len()
}

/// Name of a channel.
pub(crate) fn name(place: usize) -> &'static str {
    ROWS[place].0
}

/// Present values of all channels, SI.
pub(crate) fn values(a: &Assembly, y: &[f64], worn: &[f64]) -> [f64; COUNT] {
    let grip = a.gripping(read(y), worn);
    let torque = if a.contact == Contact::Locked { a.locked_torque(y) } else { grip.clutch };
    let c = &a.machine.clutch;
    let spring = shoe::spring_force(
        a.preload,
        worn[slow::RELAXATION],
        c.hot_modulus,
        c.spring_rate,
        c.gap + worn[slow::LINING],
        y[state::SHOES],
    );
    [
        y[state::MOTOR],
        y[state::DRUM],
        y[state::DRUM] * a.speed_per_drum,
        y[state::THROTTLE],
        torque,
        grip.heat,
        grip.face,
        y[state::WALL],
        y[state::BAND],
        y[state::WEB],
        y[state::SPROCKET],
        y[state::BUSHING],
        y[state::WASHER],
        y[state::SHOES],
        y[state::CARRIER],
        y[state::SHAFT],
        y[state::BLOCK],
        y[state::PORES] / a.full_mass,
        y[state::FILM],
        y[state::WET] + y[state::LASTING],
        y[state::SOAKED],
        worn[slow::OXIDATION],
        worn[slow::LINING],
        worn[slow::BORE],
        worn[slow::WASHER] + worn[slow::FACE],
        worn[slow::RELAXATION],
        shoe::engagement_speed(c.shoe_mass, c.shoe_radius + worn[slow::LINING], spring.max(0.0)),
    ]
}

/// Distance covered, m.
pub(crate) fn distance(y: &[f64]) -> f64 {
    y[counter::DISTANCE]
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_channel_is_found_by_its_name() {
        for (k, channel) in channels().iter().enumerate() {
            assert_eq!(place(&channel.name), k);
        }
    }

    #[test]
    #[should_panic(expected = "no channel of this name")]
    fn a_misspelt_channel_is_never_read_as_another() {
        place("lining surfase");
    }
}

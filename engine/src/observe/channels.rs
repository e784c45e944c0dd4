//! Present values of the recorded quantities.

use crate::life::{self, Pair};
use crate::model::{Assembly, Contact, counter, read, slow, state};
use crate::names::{Channel, Part, Row};

/// Sum of the wear depths of a channel's pairs, m.
fn depth(a: &Assembly, channel: Channel, slow: &[f64]) -> f64 {
    Pair::ALL.into_iter().filter(|pair| pair.row().channel == channel).map(|pair| a.depth(pair, slow)).sum()
}

/// Use of each part of a machine in its present state.
pub(crate) fn uses(a: &Assembly, y: &[f64], slow: &[f64]) -> [f64; Part::COUNT] {
    life::uses(&a.machine, |channel| match channel {
        Channel::Relaxation => slow[slow::RELAXATION],
        Channel::OilFill => y[state::PORES] / a.full_mass,
        Channel::WasherDose => slow[slow::DOSE],
        Channel::Score => y[state::SCORE],
        _ => depth(a, channel, slow),
    })
}

/// Present values of all channels, SI.
pub(crate) fn values(a: &Assembly, y: &[f64], slow: &[f64]) -> Row {
    let grip = a.gripping(read(y), slow);
    let torque = if a.contact == Contact::Locked { a.locked_torque(y) } else { grip.clutch };
    let mut row = [f64::NAN; Channel::COUNT];
    let mut put = |channel: Channel, value: f64| row[channel as usize] = value;
    put(Channel::MotorSpeed, y[state::MOTOR]);
    put(Channel::DrumSpeed, y[state::DRUM]);
    put(Channel::VehicleSpeed, y[state::DRUM] * a.speed_per_drum);
    put(Channel::Throttle, y[state::THROTTLE]);
    put(Channel::ClutchTorque, torque);
    put(Channel::SlipPower, grip.heat);
    put(Channel::LiningSurface, grip.face);
    put(Channel::DrumFace, y[state::WALL]);
    put(Channel::Band, y[state::BAND]);
    put(Channel::Web, y[state::WEB]);
    put(Channel::Sprocket, y[state::SPROCKET]);
    put(Channel::Bushing, y[state::BUSHING]);
    put(Channel::Washer, y[state::WASHER]);
    put(Channel::Shoes, y[state::SHOES]);
    put(Channel::Carrier, y[state::CARRIER]);
    put(Channel::Shaft, y[state::SHAFT]);
    put(Channel::Block, y[state::BLOCK]);
    put(Channel::OilFill, y[state::PORES] / a.full_mass);
    put(Channel::Film, y[state::FILM]);
    put(Channel::OilOnLining, y[state::LINING_OIL..=state::SOAKED].iter().sum());
    put(Channel::WasherOil, y[state::WASHER_OIL]);
    put(Channel::Oxidation, slow[slow::OXIDATION]);
    for pair in Pair::ALL {
        put(pair.row().channel, depth(a, pair.row().channel, slow));
    }
    put(Channel::WasherDose, slow[slow::DOSE]);
    put(Channel::Glaze, slow[slow::GLAZE]);
    put(Channel::Score, y[state::SCORE]);
    put(Channel::BushingLoad, a.pressure_speed(y, slow, &grip));
    put(Channel::Relaxation, slow[slow::RELAXATION]);
    put(Channel::Engagement, a.engages(y[state::SHOES], slow));
    row
}

/// Distance covered, m.
pub(crate) fn distance(y: &[f64]) -> f64 {
    y[counter::DISTANCE]
}

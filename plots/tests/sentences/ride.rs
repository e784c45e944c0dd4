//! A moment of a ride.

use super::said::{RPM, Said, sentences};
use slipsoak_engine::names::Channel;
use slipsoak_plots::words;
use slipsoak_plots::words::text::Words;

/// Oil in the pores of a full bushing, kg.
const FULL: f64 = 1.06e-3;

/// What a moment of a ride shows.
pub fn of_a_ride() -> Said {
    let row = |values: &[(Channel, f64)]| {
        let mut row = vec![0.0; Channel::COUNT];
        for (channel, value) in values {
            row[*channel as usize] = *value;
        }
        row
    };
    let (idle, engages) = ((Channel::MotorSpeed, 1700.0 * RPM), (Channel::Engagement, 1900.0 * RPM));
    let (fast, moves) = ((Channel::MotorSpeed, 2400.0 * RPM), (Channel::VehicleSpeed, 5.0));
    let running = [
        row(&[idle, engages]),
        row(&[idle, (Channel::Engagement, 1600.0 * RPM)]),
        row(&[idle, engages, (Channel::SlipPower, 340.0)]),
        row(&[fast, engages, moves, (Channel::SlipPower, 1900.0)]),
        row(&[fast, engages, moves]),
        row(&[idle, engages, moves]),
    ];
    let rest = |lining: f64, bushing: f64, fill: f64| {
        row(&[(Channel::LiningSurface, lining), (Channel::Bushing, bushing), (Channel::OilFill, fill)])
    };
    let holding = |mut row: Vec<f64>, film: f64| {
        row[Channel::Film as usize] = film;
        row
    };
    let stop = holding(rest(420.0, 360.0, 0.903), 20e-6);
    let rests = [
        rest(390.0, 368.0, 0.903),
        rest(390.0, 348.0, 0.903),
        rest(390.0, 360.0, 0.903),
        holding(rest(330.0, 330.0, 0.918), 4e-6),
        // 16 mg more than the clearance gave up.
        holding(rest(330.0, 330.0, 0.918), 20e-6),
        rest(330.0, 330.0, 0.895),
        stop.clone(),
    ];
    let said = running.iter().map(|now| words::ride::moment(now, true, None, None, FULL));
    let said = said.chain(rests.iter().map(|now| words::ride::moment(now, true, Some(&stop), None, FULL)));
    let runs_down = words::ride::moment(&running[2], false, None, None, FULL);
    let said: Vec<Words> = said
        .chain([runs_down])
        .chain([
            words::ride::moment(&stop, true, None, None, FULL),
            words::ride::moment(&running[4], true, None, Some(35.0), FULL),
        ])
        .map(|text| text.as_str().into())
        .collect();
    sentences("a moment of a ride", &said)
}

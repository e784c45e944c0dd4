//! What a clutch does at a moment of a ride, as a sentence.

use crate::words::number::{figures, number};
use crate::words::say;
use slipsoak_engine::names::Channel;

/// Heat of slip from which the lining counts as slipping, W.
pub(crate) const SLIPS: f64 = 5.0;
/// Speed from which the vehicle counts as moving, m/s.
const MOVES: f64 = 0.2;
/// Speed below which the motor counts as off, rad/s.
const TURNS: f64 = 1.0;
/// Change of the oil fill that is worth a sentence, and of a temperature, K.
const DRAWN: f64 = 5e-4;
const RISEN: f64 = 1.0;
/// Oil by which the pores may gain more than the clearance lost, kg: by rounding, and from the washer.
const BOOKED: f64 = 2e-6;

/// What the values of a moment show; at rest against the values at the stop. `drags`: the run warns of a clutch that drags at idle.
/// `later` is the mean heat of slip from a moment when it is locked to the next one of its ride, W. `full` is the oil in the pores of a
/// full bushing, kg, NaN if it is not known: pores take back no more than the clearance held.
pub fn moment(now: &[f64], drags: bool, stop: Option<&[f64]>, later: Option<f64>, full: f64) -> String {
    let of = |channel: Channel| channel.of(now);
    let (slip, moves) = (of(Channel::SlipPower), of(Channel::VehicleSpeed) > MOVES);
    if of(Channel::MotorSpeed) > TURNS {
        let margin = of(Channel::Engagement) - of(Channel::MotorSpeed);
        return match (slip > SLIPS, moves) {
            // A motor that runs down and a clutch that is about to set off slip as well.
            (true, false) if !drags => format!("The clutch slips at standstill: {} of heat.", heat(slip)),
            (true, false) => format!("The clutch drags at idle: {} of heat.", heat(slip)),
            (true, _) => format!("The lining slips: {} of heat.", heat(slip)),
            (false, true) if margin < 0.0 => {
                let at = say::road_speed(of(Channel::VehicleSpeed));
                match later.filter(|heat| *heat > SLIPS) {
                    Some(later) => {
                        format!("Locked at {at}; until the next moment it slips at times, {} on average.", heat(later))
                    }
                    None => format!("Locked at {at}: no heat of slip."),
                }
            }
            (false, true) => "The clutch has let go: the machine rolls.".to_owned(),
            (false, false) if margin > 0.0 => {
                format!("Idles {} below engagement.", say::turns(margin))
            }
            (false, false) => "The motor idles.".to_owned(),
        };
    }
    let Some(stop) = stop else { return "The motor is off.".to_owned() };
    let rise = of(Channel::Bushing) - Channel::Bushing.of(stop);
    let (fill, was) = (of(Channel::OilFill), Channel::OilFill.of(stop));
    let pores = |words: &str| {
        format!("The pores have {words}: fill {} to {} %.", number(100.0 * was, 0.1), number(100.0 * fill, 0.1))
    };
    let bushing = if rise >= RISEN {
        format!("The drum's heat reaches the bushing: {rise:.0} K warmer than at the stop.")
    } else if rise <= -RISEN {
        format!("The bushing is {:.0} K cooler than at the stop.", -rise)
    } else if Channel::LiningSurface.of(stop) - of(Channel::LiningSurface) >= RISEN {
        let fall = Channel::LiningSurface.of(stop) - of(Channel::LiningSurface);
        format!("The lining is {fall:.0} K cooler than at the stop, the bushing as warm.")
    } else {
        "The motor is off.".to_owned()
    };
    match fill - was {
        gain if gain > DRAWN && gain * full > Channel::Film.of(stop) - of(Channel::Film) + BOOKED => {
            pores("taken in oil that was put on")
        }
        gain if gain > DRAWN => pores("taken oil back"),
        loss if loss < -DRAWN => pores("lost oil"),
        _ => bushing,
    }
}

/// A heat flow, from W.
fn heat(watts: f64) -> String {
    if watts < 1e3 { format!("{}\u{a0}W", figures(watts, 2)) } else { format!("{}\u{a0}kW", figures(1e-3 * watts, 2)) }
}

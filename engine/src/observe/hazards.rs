//! Hazards of a run that a peak alone does not show: oil on hot faces, a burning clutch, and what the clutch does on slopes.

use super::bushing_load::Mean;
use crate::model::{Assembly, BrakeAsk, Contact, Motion};
use crate::names::{Channel, Row};

/// Oil on and in the lining above which its face counts as oily, kg, and fill above which the bushing does. Assumed.
const OILY: (f64, f64) = (5e-6, 0.02);
/// Slip power above which a rider has to let go, W, and the time for which it is borne, s. Assumed.
pub(super) const BURNING: (f64, f64) = (2000.0, 10.0);

/// A machine that rolls back, or a clutch that lets go on a descent.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub(crate) struct Slid {
    /// greatest speed over ground, m/s
    pub speed: f64,
    /// distance rolled back, m; or speed of the motor, rad/s
    pub by: f64,
}

/// Hazards so far.
#[derive(Clone, Copy, Debug, Default)]
pub(crate) struct Hazards {
    /// highest temperature of a face or bushing while oil was there, K
    pub oily: f64,
    burning: Mean,
    /// greatest mean slip power of a spell of burning, W
    pub burnt: f64,
    back: Slid,
    /// the furthest roll-back
    pub rolled_back: Slid,
    standing: Mean,
    /// longest time for which the slipping clutch alone held the machine on a slope, s, and its mean slip power, W
    pub held: (f64, f64),
    /// where the clutch gripped on a descent at the end of the last step
    gripped: Option<Slid>,
    /// the fastest letting go of the clutch on a descent
    pub let_go: Slid,
    /// greatest speed down a slope without the clutch, m/s
    pub rolls: f64,
}

impl Hazards {
    /// Adds a step of a length, s: rows of it, the last of them, and their integral.
    pub fn see<'r>(
        &mut self,
        a: &Assembly,
        length: f64,
        rows: impl Iterator<Item = &'r Row>,
        end: &Row,
        integral: &Row,
    ) {
        for row in rows {
            let at = |channel: Channel| channel.of(row);
            if at(Channel::OilOnLining) > OILY.0 {
                self.oily = self.oily.max(at(Channel::LiningSurface)).max(at(Channel::DrumFace));
            }
            if at(Channel::OilFill) > OILY.1 {
                self.oily = self.oily.max(at(Channel::Bushing));
            }
        }
        let slip = Channel::SlipPower.of(integral) / length;
        self.burning.add_while(slip > BURNING.0, length, slip);
        if self.burning.time >= BURNING.1 {
            self.burnt = self.burnt.max(self.burning.value());
        }
        self.slope(a, length, slip, end, integral);
    }

    /// Follows the machine on a slope that moves it.
    fn slope(&mut self, a: &Assembly, length: f64, slip: f64, end: &Row, integral: &Row) {
        let slides = a.grade.abs() > a.rolling;
        let stands = slides && a.motion == Motion::Held && a.brake_ask == BrakeAsk::Off;
        self.standing.add_while(stands, length, slip);
        if self.standing.time > self.held.0 {
            self.held = (self.standing.time, self.standing.value());
        }
        let speed = Channel::VehicleSpeed.of(end).abs();
        let descends = slides && matches!(a.motion, Motion::Moving(direction) if direction * a.grade < 0.0);
        if descends && a.grade > 0.0 {
            self.back.by -= Channel::VehicleSpeed.of(integral);
            self.back.speed = self.back.speed.max(speed);
            if self.back.by > self.rolled_back.by {
                self.rolled_back = self.back;
            }
        } else {
            self.back = Slid::default();
        }
        if let Some(last) =
            self.gripped.take().filter(|last| a.contact == Contact::Free && last.speed > self.let_go.speed)
        {
            self.let_go = last;
        }
        if descends && a.grade < 0.0 && a.contact == Contact::Free && a.brake_ask == BrakeAsk::Off {
            self.rolls = self.rolls.max(speed);
        }
        if descends && a.contact != Contact::Free {
            self.gripped = Some(Slid { speed, by: Channel::MotorSpeed.of(end) });
        }
    }
}

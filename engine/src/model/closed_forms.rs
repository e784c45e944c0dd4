//! Tests: the groups of the model in states where the answer follows from statics, a balance or a definition.

use super::*;
use crate::laws::shoe::Form;
use crate::laws::{oil, vehicle};
use crate::parts::Machine;
use std::f64::consts::LN_2;

/// A machine, cold and at rest.
pub(super) fn made(change: impl FnOnce(&mut Machine)) -> (Assembly, Vec<f64>, Vec<f64>) {
    let mut machine = Machine::default();
    change(&mut machine);
    let a = Assembly::new(machine).expect("a machine");
    let y = a.fresh();
    (a, y, vec![0.0; slow::COUNT])
}

/// What one term adds to every row.
pub(super) fn flows(a: &Assembly, name: &str, y: &[f64], slow: &[f64]) -> [f64; state::COUNT + counter::COUNT] {
    a.terms(0.0, y, slow).iter().find(|term| term.name == name).expect("a term of this name").flows
}

pub(super) fn near(found: f64, wanted: f64) {
    assert!((found - wanted).abs() <= 1e-9 * wanted.abs(), "{found} for {wanted}");
}

/// ln 2 of the oil that fills the face wets half of it, whatever it is and wherever it sits; what is wetted has its own friction.
#[test]
fn a_lining_half_wetted_has_the_mean_of_both_frictions() {
    let (a, ..) = made(|m| (m.lining.oiled_share, m.oil.lasting_friction) = (0.25, 0.06));
    let m = &a.machine;
    let plain = 0.25 * m.lining.friction;
    let half = LN_2 * m.lining.oil_film * m.lining_area() * oil::density(m.oil.density_15, 293.15);
    let pores = LN_2 * m.lining.soak_spoils * a.soak_full;
    near(a.soaked_share(a.soak_full), 1.0);
    for (oils, wet) in [
        ([half, 0.0, 0.0], plain),
        ([0.0, half, 0.0], 0.06),
        ([0.5 * half, 0.5 * half, 0.0], 0.5 * (plain + 0.06)),
        ([0.0, 0.0, pores], plain),
        ([0.0, 0.5 * half, 0.5 * pores], 0.5 * (plain + 0.06)),
    ] {
        near(a.oiled_friction(0.4, oils), 0.5 * (0.4 + wet));
    }
    // The oil on the face spoils it all alike; that in the pores lies below.
    near(a.spoils([0.5 * half, 0.5 * half]) * half, 0.5);
}

#[test]
fn a_shoe_carries_more_where_friction_turns_it_in_and_less_where_glaze_or_a_new_face_spoil_it() {
    let at = |form, contact, throttle: f64, slow_row: usize, value: f64| {
        let (mut a, mut y, mut slow) = made(|m| {
            (m.form, m.clutch.lever, m.lining.fade_share, m.lining.speed_slope) = (form, 0.5, 0.0, 0.0);
            (m.lining.glaze_share, m.lining.bedding_share, m.clutch.arc_factor) = (0.4, 0.0, 0.9);
            if slow_row == slow::LINING {
                m.lining.bedding_share = 0.6;
            }
        });
        (a.contact, a.motion, a.motor) = (contact, Motion::Moving(1.0), MotorState::Running);
        (y[state::MOTOR], y[state::DRUM], y[state::THROTTLE]) = (300.0, 300.0, throttle);
        if slow_row != slow::LINING {
            slow[slow_row] = value;
        }
        (a.torque_capacity(read(&y), &slow), a)
    };
    let plain = at(Form::Floating, Contact::Slip(1.0), 1.0, slow::GLAZE, 0.0);
    // Statics of four straight shoes: n μ (m r ω² − F) R, and an arc that carries nine tenths.
    let m = &plain.1.machine;
    let square = |w: f64| m.clutch.shoe_mass * m.clutch.shoe_radius * w * w;
    let pressed = square(300.0) - square(m.clutch.engagement);
    near(plain.0, 0.9 * m.clutch.shoes * m.lining.friction * pressed * m.drum.radius);
    near(at(Form::Floating, Contact::Slip(1.0), 1.0, slow::GLAZE, 1.0).0, 0.6 * plain.0);
    near(at(Form::Floating, Contact::Slip(1.0), 1.0, slow::GLAZE, 0.5).0, 0.8 * plain.0);
    // A quarter of the friction is lost with the whole fit, so 15 % with 60 % of it.
    near(at(Form::Floating, Contact::Slip(1.0), 1.0, slow::LINING, 0.0).0, 0.85 * plain.0);
    // Moments about the pivot: 1/(1 − μa) turned in, 1/(1 + μa) turned out.
    let turn = 0.5 * m.lining.friction;
    for (form, contact, throttle, gain) in [
        (Form::Leading, Contact::Slip(1.0), 1.0, 1.0 / (1.0 - turn)),
        (Form::Leading, Contact::Slip(-1.0), 1.0, 1.0 / (1.0 + turn)),
        (Form::Trailing, Contact::Slip(1.0), 1.0, 1.0 / (1.0 + turn)),
        (Form::Trailing, Contact::Slip(-1.0), 1.0, 1.0 / (1.0 - turn)),
        (Form::Leading, Contact::Locked, 1.0, 1.0 / (1.0 - turn)),
        (Form::Leading, Contact::Locked, 0.0, 1.0 / (1.0 + turn)),
    ] {
        near(at(form, contact, throttle, slow::GLAZE, 0.0).0, gain * plain.0);
    }
}

/// The rubbed face holds no heat: what reaches it across the open gap goes on into the lining.
#[test]
fn an_open_clutch_passes_no_torque_and_its_face_no_more_heat_than_crosses_the_gap() {
    let (mut a, mut y, slow) = made(|_| {});
    (y[state::LINING], y[state::WALL], y[state::MOTOR]) = (330.0, 400.0, 400.0);
    let grip = a.gripping(read(&y), &slow);
    assert_eq!((grip.capacity, grip.clutch, grip.heat), (0.0, 0.0, 0.0));
    near((grip.face - 330.0) * a.interface.lining_half, 70.0 * a.interface.open);
    (a.contact, a.motion) = (Contact::Locked, Motion::Moving(1.0));
    y[state::DRUM] = 400.0;
    assert_eq!(a.on_drum(&y, &slow), 0.0);
}

#[test]
fn the_motor_drags_when_it_coasts_and_gives_nothing_when_it_stands() {
    let (mut a, mut y, slow) = made(|_| {});
    (y[state::MOTOR], y[state::THROTTLE]) = (200.0, 1.0);
    assert_eq!((a.motor_torque(200.0, 1.0), a.opening(0.0, 200.0, 0.0)), (0.0, 0.0));
    assert_eq!(a.drive(read(&y), 0.5).motor_rate, 0.0);
    a.motor = MotorState::Coasting;
    near(a.motor_torque(200.0, 1.0), -(a.machine.motor.drag + 200.0 * a.machine.motor.drag_slope));
    assert_eq!(a.opening(0.0, 200.0, 0.0), 0.0);
    a.motor = MotorState::Running;
    let m = &a.machine.motor;
    let torque: f64 = a.machine.motor_full(200.0);
    near(flows(&a, Mechanics::NAME, &y, &slow)[counter::MOTOR_HEAT], torque * 200.0 * m.block_share + m.block_heat);
    y[state::THROTTLE] = 0.0;
    near(flows(&a, Mechanics::NAME, &y, &slow)[counter::MOTOR_HEAT], m.block_heat);
}

/// Power at the wheels: what is left of the motor's, geared and less the chain's loss, moves the vehicle as it was asked to.
#[test]
fn a_rider_who_follows_a_speed_opens_the_throttle_as_far_as_road_and_quickening_need() {
    let (mut a, ..) = made(|m| (m.surroundings.grade, m.vehicle.wheel_inertia) = (0.03, 2.0));
    (a.motor, a.contact, a.motion) = (MotorState::Running, Contact::Locked, Motion::Moving(1.0));
    for slope in [0.0, 0.2] {
        a.ask = Ask::Speed { speed: 5.0, slope, at: 10.0 };
        let (v, m) = (5.0 + 2.0 * slope, &a.machine);
        let speed = v / a.speed_per_drum;
        let opening: f64 = a.opening(12.0, speed, speed);
        let (full, drag): (f64, f64) = (m.motor_full(speed), m.motor_drag(speed));
        assert!(opening > 0.05 && opening < 0.95, "{opening}");
        let torque = opening * full - (1.0 - opening) * drag;
        let (c, angle) = (&m.vehicle, m.surroundings.grade.atan());
        let road = vehicle::rolling(c.mass, c.rolling, angle)
            + vehicle::grade(c.mass, angle)
            + vehicle::air(a.air_density, c.drag_area, v);
        let pull = road + slope * (c.mass + 2.0 / (c.wheel_radius * c.wheel_radius));
        near(torque * speed * c.chain_efficiency, pull * v);
    }
}

#[test]
fn block_and_head_settle_at_the_rated_rise_and_the_head_s_heat_leaves_through_the_stopped_block() {
    let (mut a, mut y, slow) = made(|_| {});
    let (ambient, m, h) = (a.machine.surroundings.ambient, a.machine.motor.clone(), a.machine.heat.clone());
    let rates = |a: &Assembly, y: &[f64]| flows(a, Block::NAME, y, &slow);
    (y[state::BLOCK], y[state::HEAD]) = (ambient + 0.5 * m.head_rise, 0.2 * m.head_heat);
    let stopped = rates(&a, &y);
    near(stopped[state::HEAD], -0.2 * m.head_heat / m.head_drain);
    near(stopped[counter::MOTOR_HEAT], 0.2 * m.head_heat / m.head_drain);
    near(stopped[counter::LOST], 0.5 * m.head_rise * h.block_stopped);
    a.motor = MotorState::Running;
    let running = rates(&a, &y);
    near(running[state::HEAD], 0.3 * m.head_heat / m.head_fill);
    near(running[counter::LOST], 0.5 * m.head_rise * h.block_running);
    // A block colder than the air has no heat in its head.
    (y[state::BLOCK], y[state::HEAD]) = (ambient - 20.0, 0.0);
    assert_eq!(rates(&a, &y)[state::HEAD], 0.0);
}

#[test]
fn the_least_cooling_of_shoes_and_carrier_at_rest_is_that_of_the_setting_and_wind_cools_a_moving_drum() {
    let (mut a, mut y, slow) = made(|m| m.heat.inner_least = 0.2);
    let ambient = a.machine.surroundings.ambient;
    (y[state::SHOES], y[state::CARRIER]) = (ambient + 50.0, ambient + 50.0);
    near(flows(&a, Inner::NAME, &y, &slow)[counter::INNER_AIR], 50.0 * 0.2);
    // Without a least it is the root of the motor's speed over 1800 rev/min, rounded at rest by a thousandth of that.
    a.machine.heat.inner_least = 0.0;
    let both = a.machine.heat.shoes_air + a.machine.heat.carrier_air;
    near(flows(&a, Inner::NAME, &y, &slow)[counter::INNER_AIR], 50.0 * both * 1e-3_f64.sqrt());
    (y[state::BAND], y[state::DRUM]) = (ambient + 50.0, 30.0);
    let calm = flows(&a, Band::NAME, &y, &slow)[counter::LOST];
    a.machine.surroundings.wind = 5.0;
    assert!(flows(&a, Band::NAME, &y, &slow)[counter::LOST] > 1.05 * calm);
}

#[test]
fn a_bushing_rubs_only_where_it_slides_and_its_pressure_times_speed_is_that_of_its_shadow() {
    let (mut a, mut y, slow) = made(|_| {});
    y[state::MOTOR] = 200.0;
    let grip = a.gripping(read(&y), &slow);
    let (b, on) = (a.machine.bushing.clone(), a.ridden(&y, &slow, &grip));
    // p v = F/(D L) · |Δω| D/2
    near(a.pressure_speed(&y, &slow, &grip), a.rubbing_load(&on) * 200.0 / (2.0 * b.length));
    let found = a.bearing(super::bearing::bushing_of(&y), &slow, &grip);
    // A shaft floating on cold oil: no less than the film of a centred one that shearing thins by half.
    let petroff = std::f64::consts::TAU * (0.5 * b.bore).powi(3) * b.length * a.viscosity(y[state::BUSHING]) * 200.0
        / b.clearance;
    assert!(found.bushing > 0.5 * petroff, "{} of {petroff} N·m", found.bushing);
    a.contact = Contact::Locked;
    let found = a.bearing(super::bearing::bushing_of(&y), &slow, &grip);
    assert_eq!((found.bushing, found.washer, found.scoring, a.pressure_speed(&y, &slow, &grip)), (0.0, 0.0, 0.0, 0.0));
}

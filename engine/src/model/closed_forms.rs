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
fn oil_on_the_lining_evaporates_from_what_it_wets_is_wiped_by_friction_and_soaks_in_and_out_in_its_times() {
    let (mut a, mut y, slow) = made(|_| {});
    let m = a.machine.clone();
    let area = m.lining_area();
    let half = LN_2 * m.lining.oil_film * area * oil::density(m.oil.density_15, 293.15);
    let rates = |a: &Assembly, y: &[f64]| flows(a, Mechanics::NAME, y, &slow);
    // At 80 °C it soaks in by its time constant, and half of the face evaporates.
    (y[state::LINING], y[state::WALL], y[state::LINING_OIL]) = (353.15, 353.15, half);
    let (found, soaks) = (rates(&a, &y), half / m.lining.soak_time);
    let dries = 0.5 * area * oil::evaporation(m.oiling.evaporation, m.oiling.evaporation_energy, 353.15);
    near(found[state::SOAKED], soaks);
    near(found[state::LINING_OIL], -soaks - dries);
    near(found[counter::EVAPORATED], dries);
    // Half full it soaks half as fast; overfull, as after a change of parts, not at all, and nothing is drawn back.
    (y[state::LINING], y[state::WALL]) = (373.15, 373.15);
    let at = |share: f64| {
        let mut y = y.clone();
        y[state::SOAKED] = share * a.soak_full;
        // It smokes out in its time at 100 °C.
        rates(&a, &y)[state::SOAKED] + y[state::SOAKED] / m.lining.smoke_time
    };
    near(at(0.5), 0.5 * at(0.0));
    assert!(at(0.0) > soaks && at(1.5).abs() < 1e-12 * at(0.0));
    // Rubbed, it goes by an e-fold per energy that wipes.
    let dry = rates(&a, &y)[counter::EVAPORATED];
    a.contact = Contact::Slip(1.0);
    a.machine.oiling.evaporation = 0.0;
    a.derive();
    (y[state::MOTOR], y[state::DRUM]) = (300.0, 200.0);
    let heat = a.gripping(read(&y), &slow).heat;
    let wiped = rates(&a, &y)[counter::EVAPORATED];
    assert!(heat > 0.0 && dry > 0.0);
    near(wiped, half * heat / (m.lining.wipe * area));
    let (a, mut y, slow) = made(|m| m.lining.pores = 0.0);
    (y[state::LINING_OIL], y[state::LINING]) = (half, 353.15);
    assert_eq!(flows(&a, Mechanics::NAME, &y, &slow)[state::SOAKED], 0.0);
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

/// What a group adds, summed by row.
struct Sums([f64; state::COUNT + counter::COUNT]);

impl Sink<f64> for Sums {
    fn add(&mut self, row: usize, value: f64) {
        self.0[row] += value;
    }
}

/// Flows of the oil for pores, film and washer, kg, the bushing's temperature, K, its rate, K/s, and both speeds.
fn oil_flows(a: &Assembly, [pores, film, soaked]: [f64; 3], t: f64, warming: f64, speed: f64) -> Sums {
    let mut sums = Sums([0.0; state::COUNT + counter::COUNT]);
    Oil(a).flows([pores, film, soaked, 0.0, t, warming, speed, speed, t], &mut sums);
    sums
}

/// Its time constant holds at 80 °C for a washer wholly wetted; a tenth of a full clearance wets half of it.
#[test]
fn a_washer_fills_from_the_film_in_its_time() {
    let (a, ..) = made(|m| (m.oiling.evaporation, m.washer.fling) = (0.0, 0.0));
    let full = a.density(353.15) * a.clearance_volume;
    let time = a.machine.washer.feed_time;
    for (film, wetted) in [(0.1 * full, 0.5), (0.3 * full, 0.75)] {
        near(a.feeding(film, 353.15), wetted / time);
        near(
            oil_flows(&a, [0.0, film, 0.25 * a.washer_full], 353.15, 0.0, 0.0).0[state::WASHER_OIL],
            0.75 * a.washer_full * wetted / time,
        );
        // Cold, both are as much slower.
        let cold = oil_flows(&a, [0.0, film, 0.0], 293.15, 0.0, 0.0).0[state::WASHER_OIL];
        near(a.feeding(film, 293.15), cold / a.washer_full);
        assert!(cold < 0.2 * a.washer_full * wetted / time);
    }
}

#[test]
fn warm_oil_swells_out_of_its_pores_and_is_drawn_in_again_as_far_as_film_is_there() {
    let (a, ..) = made(|m| m.oiling.evaporation = 0.0);
    let t = 330.0;
    let (rho, held) = (a.density(t), a.pore_volume(t));
    let full = rho * held;
    let swells = held * (oil::expansion(a.machine.oil.density_15, t) - a.machine.bushing.expansion);
    let film = 0.1 * rho * a.clearance_volume;
    let leaves = |pores: f64, film: f64, warming: f64, speed: f64| {
        -oil_flows(&a, [pores, film, 0.0], t, warming, speed).0[state::PORES]
    };
    // Turning together, nothing else comes out of the pores.
    near(leaves(full, 0.0, 1.0, 100.0), rho * swells);
    near(leaves(full, film, -1.0, 100.0), -0.5 * rho * swells);
    assert_eq!(leaves(full, 0.0, -1.0, 0.0), 0.0);
    // Half full, air that warms drives it too; two sevenths of the pores that swell bleed.
    near(leaves(0.5 * full, 0.0, 1.0, 0.0), rho * (0.5 * swells + 0.5 * held / t) * (0.2 / 0.7));
    // What no pore holds leaves within five seconds.
    near(leaves(1.1 * full, 0.0, 0.0, 0.0), 0.1 * full / 5.0);
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

/// Films of two and three times the least height, on a drum that turns: h³ − h_min³ is 7 and 26 of it.
#[test]
fn oil_is_flung_down_to_its_least_film_and_lands_on_the_lining_by_its_shares() {
    let (mut a, ..) = made(|m| {
        (m.oiling.evaporation, m.oiling.lining_share) = (0.0, 0.3);
    });
    (a.lasting, a.machine.washer.feed_time) = (0.2, 1e12);
    let flung = |heights: f64| {
        let standing = heights * a.machine.oiling.fling_least * a.machine.oiling.fling_area;
        let film = a.density(330.0) * (a.clearance_volume + standing);
        let found = oil_flows(&a, [0.0, film, 0.0], 330.0, 0.0, 200.0).0;
        [counter::FLUNG, state::LINING_OIL, state::LINING_RESIDUE].map(|row| found[row])
    };
    let (none, two, three) = (flung(1.0), flung(2.0), flung(3.0));
    assert!(none[0].abs() < 1e-6 * two[0]);
    for (row, share) in [0.7, 0.24, 0.06].into_iter().enumerate() {
        assert!((three[row] / two[row] - 26.0 / 7.0).abs() < 1e-6);
        near(three[row], share * three.iter().sum::<f64>());
    }
}

#[test]
fn a_turning_bushing_gives_oil_to_an_empty_clearance_in_its_time() {
    let (a, ..) = made(|m| m.oiling.evaporation = 0.0);
    let (rho, t) = (a.density(353.15), 353.15);
    let found = oil_flows(&a, [0.9 * rho * a.pore_volume(t), 0.0, 0.0], t, 0.0, 0.0);
    assert_eq!(found.0[state::FILM], 0.0);
    let mut sums = Sums([0.0; state::COUNT + counter::COUNT]);
    let pores = 0.9 * rho * a.pore_volume(t);
    Oil(&a).flows([pores, 0.0, 0.0, 0.0, t, 0.0, 100.0, 0.0, t], &mut sums);
    near(sums.0[state::FILM], rho * 0.5 * a.clearance_volume / a.machine.oiling.imbibe_time);
}

/// A film of a fiftieth of the clearance covers half; pores a thousandth full give half of the rest.
#[test]
fn oil_evaporates_from_film_pores_and_washer_as_far_as_they_are_wetted() {
    let (mut a, ..) = made(|_| {});
    (a.machine.oiling.imbibe_time, a.machine.washer.feed_time, a.machine.washer.fling) = (1e30, 1e30, 0.0);
    let (t, o) = (383.15, &a.machine.oiling);
    let gone = oil::evaporation(o.evaporation, o.evaporation_energy, t);
    let film = 0.02 * a.density(t) * a.clearance_volume;
    let found = oil_flows(&a, [1e-3 * a.full_mass, film, 0.0], t, 0.0, 0.0).0;
    near(found[state::FILM], -0.5 * gone * a.end_area);
    near(found[state::PORES], -0.25 * gone * a.end_area);
    near(found[counter::EVAPORATED], 0.75 * gone * a.end_area);
    let rim = |share: f64| -oil_flows(&a, [0.0, 0.0, share * a.washer_full], t, 0.0, 0.0).0[state::WASHER_OIL];
    near(rim(0.5), 0.5 * gone * a.machine.washer.rim_area);
    near(rim(1.2), gone * a.machine.washer.rim_area);
}

/// Half of the rate where a hundredth of the charge is left, half again where the last two hundredths of the pores are half filled.
#[test]
fn grease_gives_its_oil_to_the_pores_in_its_time_and_twice_as_fast_15_k_warmer() {
    let (mut a, ..) = made(|m| m.oiling.evaporation = 0.0);
    a.grease_charge = 5e-4;
    a.machine.oiling.imbibe_time = 1e30;
    let released = |share: f64, grease: f64, t: f64| {
        let mut sums = Sums([0.0; state::COUNT + counter::COUNT]);
        let pores = share * a.density(t) * a.pore_volume(t);
        Oil(&a).flows([pores, 0.0, 0.0, grease, t, 0.0, 0.0, 0.0, t], &mut sums);
        near(sums.0[state::GREASE], -sums.0[state::PORES]);
        sums.0[state::PORES] * a.machine.oiling.grease_time / a.grease_charge
    };
    let close = |found: f64, wanted: f64| assert!((found - wanted).abs() < 1e-9 * wanted, "{found} for {wanted}");
    close(released(0.5, 5e-4, 343.15), 1.0 / 1.01);
    close(released(0.5, 5e-6, 343.15), 0.5);
    close(released(0.5, 5e-6, 358.15), 1.0);
    close(released(0.995, 5e-6, 343.15), 0.25);
}

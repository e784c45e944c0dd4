//! Tests: shoes with unequal springs, and wear shared out over a step, in states worked by hand.

use super::closed_forms::{made, near};
use super::shoes::Shoes;
use super::*;
use crate::integrate::Step;
use crate::life::Pair;
use crate::names::Happening;
use crate::parts::Machine;

/// Depths worn off four shoes, m.
const WORN: [f64; 4] = [1e-4, 2e-4, 4e-4, 3e-4];
/// Their springs over the nominal one.
const SHARES: [f64; 4] = [1.1, 0.9, 0.8, 1.2];

fn unequal(change: impl FnOnce(&mut Machine)) -> (Assembly, Vec<f64>, Vec<f64>) {
    let (a, y, mut slow) = made(|m| {
        m.clutch.shoes = 4.0;
        [m.springs.first, m.springs.second, m.springs.third, m.springs.fourth] = SHARES;
        change(m);
    });
    slow[slow::SHOES..slow::SHOES + 4].copy_from_slice(&WORN);
    slow[slow::LINING] = 2.5e-4;
    (a, y, slow)
}

/// Statics of a shoe: m (r + x) ω² − f [F0 (1 − R)(1 − β ΔT) + k (c + x)].
#[test]
fn worn_shoes_with_unequal_springs_press_and_touch_by_their_own_statics() {
    let (mut a, _, mut slow) = unequal(|m| m.clutch.guide_friction = 2.0);
    slow[slow::RELAXATION] = 0.1;
    let c = a.machine.clutch.clone();
    let nominal = c.shoe_mass * c.shoe_radius * c.engagement * c.engagement - c.spring_rate * c.gap;
    let force = |k: usize| {
        let hot = nominal * 0.9 * (1.0 - c.hot_modulus * 100.0);
        SHARES[k] * (hot + c.spring_rate * (c.gap + WORN[k]))
    };
    let left = |k: usize, w: f64| c.shoe_mass * (c.shoe_radius + WORN[k]) * w * w - force(k);
    a.contact = Contact::Slip(1.0);
    let found = a.pressed(500.0, 393.15, &slow);
    // Friction in the guide keeps a shoe where it is.
    near(found.mean, (0..4).map(|k| left(k, 500.0) + 2.0).sum::<f64>() / 4.0);
    near(found.most, left(2, 500.0) + 2.0);
    let mut rates = [0.0; slow::COUNT];
    a.shoe_rates(8e-9, &found, &mut rates);
    for k in 0..4 {
        near(rates[slow::SHOES + k], 8e-9 * (left(k, 500.0) + 2.0) / found.mean);
    }
    a.contact = Contact::Free;
    // Shoes off the drum do not wear, whatever they did a step before.
    a.shoe_rates(0.0, &a.pressed(0.0, 393.15, &slow), &mut rates);
    assert_eq!(rates[slow::SHOES..slow::SHOES + 4], [0.0; 4]);
    near(a.pressed(500.0, 393.15, &slow).most, left(2, 500.0) - 2.0);
    // The first to touch is the one with the weakest spring; a broken one touches at once.
    let touches = (0..4).map(|k| (force(k) / (c.shoe_mass * (c.shoe_radius + WORN[k]))).sqrt());
    near(a.engages(393.15, &slow), touches.fold(f64::INFINITY, f64::min));
    let (broken, _, slow) = unequal(|m| m.springs.fourth = 0.0);
    assert_eq!(broken.engages(293.15, &slow), 0.0);
}

/// A touch rounded over ± δ presses δ/4 where it begins, and 0.5 δ, not 0.5625 δ, where it is exact; δ is 1 % of the preload.
#[test]
fn the_touch_of_the_shoe_that_presses_most_is_exact_and_that_of_the_others_is_rounded() {
    let (mut a, ..) = made(|m| (m.clutch.shoes, m.springs.third, m.clutch.guide_friction) = (4.0, 0.8, 0.0));
    a.contact = Contact::Slip(1.0);
    let c = a.machine.clutch.clone();
    let (arm, slow) = (c.shoe_mass * c.shoe_radius, vec![0.0; slow::COUNT]);
    let whole = arm * c.engagement * c.engagement;
    let delta = 0.01 * (whole - c.spring_rate * c.gap);
    let at = |a: &Assembly, over: f64| a.pressed((over / arm).sqrt(), 293.15, &slow);
    let close = |found: f64, wanted: f64| assert!((found - wanted).abs() < 1e-9 * whole, "{found} for {wanted} N");
    close(at(&a, whole).mean, (0.2 * whole + 3.0 * 0.25 * delta) / 4.0);
    close(at(&a, 0.8 * whole + 0.5 * delta).mean, 0.5 * delta / 4.0);
    // Two that touch together begin to press together, at nothing.
    let two = |second: f64| {
        let (mut a, ..) = made(|m| {
            (m.clutch.shoes, m.clutch.guide_friction) = (4.0, 0.0);
            (m.springs.second, m.springs.third) = (second, 0.8);
        });
        a.contact = Contact::Slip(1.0);
        a
    };
    for over in [0.0, 0.01, 0.5, 1.5, 4.0] {
        close(at(&two(0.8), 0.8 * whole + over * delta).mean, 2.0 * over * delta / 4.0);
    }
    // Half a δ behind one that presses by δ it is rounded over 3/4 δ: (1/2 + 3/4)²/(4 · 3/4) = 25/48.
    close(at(&two(0.8 + 0.5 * delta / whole), 0.8 * whole + delta).mean, (1.0 + 25.0 / 48.0) * delta / 4.0);
    // Springs that are alike are one spring.
    let (mut alike, ..) = made(|m| (m.clutch.shoes, m.clutch.guide_friction) = (4.0, 0.0));
    alike.contact = Contact::Slip(1.0);
    close(at(&alike, whole + 0.5 * delta).mean, 0.5 * delta);
}

#[test]
fn shoes_are_followed_one_by_one_if_their_springs_differ_or_did_and_the_lining_is_as_worn_as_the_deepest() {
    let (a, _, slow) = unequal(|_| {});
    assert!(Shoes::of(&a.machine, false).differ && Shoes::of(&Machine::default(), true).differ);
    assert!(!Shoes::of(&Machine::default(), false).differ);
    assert_eq!((a.lining_worn(&slow), a.depth(Pair::Lining, &slow)), (4e-4, 4e-4));
    let (alike, ..) = made(|_| {});
    assert_eq!((alike.lining_worn(&slow), alike.depth(Pair::Lining, &slow)), (2.5e-4, 2.5e-4));
    assert_eq!(a.depth(Pair::Washer, &slow), 0.0);
}

/// The shoe that is worn through within the step shortens the step of all; it need not be the deepest at its start.
#[test]
fn the_lining_wears_until_the_shoe_that_is_through_first() {
    let (a, _, mut slow) = unequal(|_| {});
    let whole = a.machine.lining.thickness;
    let before = [whole - 2e-4, whole - 3e-4, 0.5 * whole, 0.0];
    let rates = [1e-7, 6e-7, 2e-7, 0.0];
    slow[slow::SHOES..slow::SHOES + 4].copy_from_slice(&before);
    let mut mean = vec![0.0; slow::COUNT];
    mean[slow::SHOES..slow::SHOES + 4].copy_from_slice(&rates);
    mean[slow::LINING] = 2.25e-7;
    a.share_out(&mut slow, &mean, 1000.0);
    // 3e-4 m at 6e-7 m/s take 500 s.
    for k in 0..4 {
        near(slow[slow::SHOES + k], before[k] + 500.0 * rates[k]);
    }
    near(slow[slow::LINING], 2.5e-4 + 500.0 * 2.25e-7);
}

/// Rounding may leave a remainder of some 1e-19 m, of which no part may be left.
#[test]
fn a_pair_worn_through_has_nothing_left_and_no_other_pair_is_touched() {
    let (alike, unalike) = (made(|_| {}).0, unequal(|_| {}).0);
    for (a, pair, row) in [
        (&alike, Pair::Lining, slow::LINING),
        (&alike, Pair::Bore, slow::depth(Pair::Bore)),
        (&unalike, Pair::Lining, slow::SHOES + 1),
        (&unalike, Pair::Bore, slow::depth(Pair::Bore)),
    ] {
        let whole = (pair.row().thickness)(&a.machine);
        for k in 1..200 {
            let (mut slow, mut mean) = (vec![0.0; slow::COUNT], vec![0.0; slow::COUNT]);
            slow[row] = whole * f64::from(k) / 200.3;
            mean[row] = 1e-6 / f64::from(k).sqrt();
            a.share_out(&mut slow, &mean, 1e7);
            assert!(slow[row] >= whole && slow[row] < whole * (1.0 + 1e-12), "{} of {whole} m", slow[row]);
            assert_eq!(slow.iter().filter(|worn| **worn != 0.0).count(), 1);
        }
    }
}

fn step<'a>(before: &'a [f64], rates: &'a [f64], after: &'a [f64], states: &'a [f64]) -> Step<'a> {
    Step {
        start: 100.0,
        length: 1000.0,
        before: states,
        after: states,
        middle: states,
        counters_before: &[],
        counters: &[],
        dense: [&[], &[]],
        slow_before: before,
        slow_rates: rates,
        slow_ends: [rates; 2],
        slow: after,
    }
}

/// The washer lasts 400 s of the step; the bushing's face rubs on steel in the other 600 s.
#[test]
fn the_face_rubs_once_the_washer_is_through_and_may_be_through_in_the_same_step() {
    let (mut a, y, mut slow) = made(|m| (m.bushing.bore, m.bushing.outside) = (0.012, 0.020));
    near((Pair::Bore.row().thickness)(&a.machine), 0.004);
    let (washer, face) = (a.machine.washer.thickness, a.machine.bushing.length);
    let rows = [slow::depth(Pair::Washer), slow::depth(Pair::Face)];
    let mut mean = vec![0.0; slow::COUNT];
    mean[rows[0]] = washer / 400.0;
    mean[slow::volume(Pair::Face)] = 2e-9;
    mean[slow::RUNNING_TIME] = 0.5;
    slow[slow::RUNNING_TIME] = 50.0;
    for (wanted, through) in [(600.0 * 0.0015, false), (1.0, true)] {
        let (mut worn, rate) = (slow.clone(), if through { 1.0 / 300.0 } else { 0.0015 });
        mean[rows[1]] = rate * face;
        a.share_out(&mut worn, &mean, 1000.0);
        near(worn[rows[0]], washer);
        near(worn[rows[1]], wanted * face);
        near(worn[slow::volume(Pair::Face)], 2e-9 * if through { 300.0 } else { 600.0 });
    }
    a.note_through(&step(&slow, &mean, &slow, &y));
    assert_eq!(a.unheard.iter().map(|u| u.1).collect::<Vec<_>>(), [Happening::WasherThrough, Happening::FaceGone]);
    near(a.unheard[0].0, 500.0);
    near(a.unheard[1].0, 800.0);
    // It runs half of the time.
    near(a.through[Pair::Washer as usize].expect("through"), 250.0);
    near(a.through[Pair::Face as usize].expect("through"), 400.0);
    // What is through already is not noted again.
    slow[rows[0]] = washer;
    slow[rows[1]] = face;
    a.note_through(&step(&slow, &mean, &slow, &y));
    assert_eq!((a.unheard.len(), a.through[Pair::Bore as usize]), (2, None));
}

#[test]
fn a_washer_chars_at_the_moment_of_the_step_in_which_its_dose_is_full_and_but_once() {
    let (mut a, y, mut slow) = made(|_| {});
    let mut mean = vec![0.0; slow::COUNT];
    (mean[slow::RUNNING_TIME], slow[slow::RUNNING_TIME], slow[slow::DOSE]) = (0.5, 50.0, 0.8);
    let mut after = slow.clone();
    for (dose, wanted) in [(0.9, None), (1.3, Some((500.0, 250.0))), (1.8, Some((500.0, 250.0)))] {
        after[slow::DOSE] = dose;
        a.note_reached(&step(&slow, &mean, &after, &y));
        let found = a.reached[0].map(|(t, ran)| (t.round(), ran.round()));
        assert_eq!((found, a.reached[1]), (wanted, None));
    }
    a.reached = [None; 2];
    slow[slow::DOSE] = 1.1;
    a.note_reached(&step(&slow, &mean, &after, &y));
    assert_eq!(a.reached[0], None);
}

#[test]
fn a_lining_wears_faster_on_the_part_that_touches_and_a_washer_between_oiled_and_dry_by_its_oil() {
    let (mut a, mut y, slow) = made(|m| (m.lining.bedding_share, m.washer.misalignment) = (0.0, 0.0));
    (a.contact, a.motor) = (Contact::Slip(1.0), MotorState::Running);
    a.machine.lining.wear_slope = 0.0;
    (y[state::MOTOR], y[state::DRUM]) = (400.0, 300.0);
    let rates = |a: &Assembly, y: &[f64]| {
        let mut out = vec![0.0; slow::COUNT];
        a.wear_rates(y, &slow, &mut out);
        out
    };
    let per_heat = |a: &Assembly| rates(a, &y)[slow::LINING] / a.gripping(read(&y), &slow).heat;
    let whole = per_heat(&a);
    a.machine.lining.bedding_share = 0.6;
    near(per_heat(&a), whole / 0.4);
    assert_eq!([slow::SLIDING_TIME, slow::TURNING_TIME].map(|k| rates(&a, &y)[k]), [1.0; 2]);
    // By mode, however slowly they slip; a motor that stands beside a drum that stands turns nothing.
    for (contact, motor, times) in [
        (Contact::Slip(1.0), MotorState::Running, [1.0, 1.0]),
        (Contact::Free, MotorState::Running, [0.0, 1.0]),
        (Contact::Free, MotorState::Stopped, [0.0, 0.0]),
        (Contact::Locked, MotorState::Running, [0.0, 0.0]),
    ] {
        let (mut a, mut y) = (a.clone(), y.clone());
        (a.contact, a.motor, a.motion) = (contact, motor, Motion::Held);
        (y[state::MOTOR], y[state::DRUM]) = (0.5, 0.0);
        let mut out = vec![0.0; slow::COUNT];
        a.wear_rates(&y, &slow, &mut out);
        assert_eq!([slow::SLIDING_TIME, slow::TURNING_TIME].map(|k| out[k]), times, "{contact:?} {motor:?}");
    }
    // Half soaked, a washer wears at the geometric mean.
    let (w, [washer, face]) = (a.machine.washer.clone(), [Pair::Washer, Pair::Face].map(slow::depth));
    let mut at = |soaked: f64, steel: f64| {
        y[state::WASHER_OIL] = soaked * a.washer_full;
        a.machine.bushing.wear_face = steel;
        let out = rates(&a, &y);
        (out[washer], out[face])
    };
    let dry = at(0.0, 3.0 * w.wear_dry);
    near(at(1.0, w.wear_dry).0 / dry.0, w.wear_oiled / w.wear_dry);
    near(at(0.5, w.wear_dry).0 / dry.0, (w.wear_oiled / w.wear_dry).sqrt());
    // The face and the dry washer: whichever is softer.
    near(at(0.0, 0.5 * w.wear_dry).1 * 3.0, dry.1);
    // Locked, nothing slides, whatever difference in speed rounding leaves.
    a.contact = Contact::Locked;
    a.motion = Motion::Moving(1.0);
    let still = rates(&a, &y);
    for row in
        (0..slow::COUNT).filter(|row| slow::wears(*row) || [slow::SLIDING_TIME, slow::TURNING_TIME].contains(row))
    {
        assert_eq!(still[row], 0.0, "{row}");
    }
}

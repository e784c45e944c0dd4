//! The oiling plan of a machine and its use.

use super::lasts::Case;
use super::wish::Wish;
use super::{habits, lasts};
use crate::document::finding::{Assumed, Beyond, Sag};
use crate::document::oil_plan::{Advice, Advised, Habit, Lasts, OilPlan, Weighing};
use crate::document::record::Setting;
use crate::document::{Head, Is};
use crate::laws::bearing::LOST_BY_AGE;
use crate::names::LeakCase;
use crate::parallel::each;
use crate::parts::{Parameter, settings};
use crate::simulate::{Failure, Options, Simulation};
use crate::spread::{Known, assumed_range};
use crate::spring_choice::{self, InPlace, in_place_of_own};
use crate::usage::WARMING;

/// Number of cases for the life of a full bushing.
const CASES: usize = 4;

/// Constants whose ranges the plan gives: end leakage, life of the oil in heat, and the time in which the pores soak.
static OPEN: [&Parameter; 3] =
    [&settings::oiling::leak, &settings::oiling::oxidation_life, &settings::oiling::imbibe_time];

/// Largest share of a bushing's oil that a dose may have to replace: beyond, oil hardly mixes with what runs off. Assumed.
const REPLACED: f64 = 0.5;

/// Drops are not known so exactly that one a twentieth of it short is one less.
const ROUNDING: f64 = 0.05;

/// Number of simulations of a plan: life of the oil; waits, cold and warm; doses; oils.
pub const TRIALS: usize = CASES + 2 * habits::WAITS.len() + habits::DROPS.len() + habits::ADDITIVES.len() + 1;

/// Smallest and largest possible value of a constant, SI: what a calibration left open of it, or the assumed range, extended to the
/// value set.
fn possible(wish: &Wish, p: &Parameter) -> (f64, f64) {
    let set = (p.of)(&wish.machine);
    if let Some(factor) = Known::factor_of(&wish.known, p) {
        return (set / factor, set * factor);
    }
    let (least, most) = assumed_range(p).unwrap_or((set, set));
    (least.min(set), most.max(set))
}

/// The cases in which a full bushing lasts longest and shortest: the least end leakage with the longest life of the oil in heat, and
/// the greatest with the shortest.
fn extremes(wish: &Wish) -> [Case; 2] {
    let [(least, most), (short, long)] = [possible(wish, OPEN[0]), possible(wish, OPEN[1])];
    let set = Case::as_set(&wish.machine);
    [
        Case { name: LeakCase::Least, leak: least, oil_life: long, ..set },
        Case { name: LeakCase::Most, leak: most, oil_life: short, ..set },
    ]
}

/// Riding from full until oil service is due, s, at the soonest and at the latest: with the greatest end leakage and the shortest life
/// of the oil in heat that are possible, and with the least and the longest. None beyond ten years of outings.
pub fn due_range(wish: &Wish) -> Result<[Option<f64>; 2], Failure> {
    let [latest, soonest] = extremes(wish);
    let lasts = each(2, |k| lasts::lasts(wish, [soonest, latest][k]));
    let due = lasts.into_iter().map(|lasts| Ok(lasts?.due)).collect::<Result<Vec<_>, Failure>>()?;
    Ok([due[0], due[1]])
}

/// Properties of a dose.
struct Dose {
    /// drops applied: no more than warm pores have room for
    drops: f64,
    /// share of them kept overnight
    kept: f64,
    /// oil capacity of the bushing, drops
    full: f64,
    /// fill at which service is due
    due_at: f64,
    /// oxidation up to which the oil lubricates a bushing without scoring
    sound: f64,
    /// drops for which the pores have room while warm, at the fill halfway to the service level
    room: (f64, f64),
}

/// Drops for which pores that are warm from the ride have room at a fill, given their room at another; whole, and at least one.
fn whole_room(room: (f64, f64), full: f64, fill: f64) -> f64 {
    (room.0 - (fill - room.1) * full + ROUNDING).floor().max(1.0)
}

/// Drops that a card for the wall may name: no more than warm pores have room for halfway to the service level. What is left over stands on
/// the faces, and runs off, partly onto the lining.
fn held(asked: f64, room: (f64, f64), full: f64, due_at: f64) -> f64 {
    asked.min(whole_room(room, full, halfway(due_at)))
}

/// Fill halfway to the service level.
fn halfway(due_at: f64) -> f64 {
    0.5 * (1.0 + due_at)
}

/// Recommended interval of a dose.
fn advice(lasts: &Lasts, dose: &Dose) -> Advice {
    if lasts.within_first() {
        return Advice::Never;
    }
    let low = (1.0 - dose.drops * dose.kept / dose.full).max(dose.due_at);
    let lost = lasts.fill.windows(2).find_map(|w| lasts::crossed(low, w[0], w[1]));
    let longest = lasts.due.map(|due| 0.5 * due);
    // Between doses x + Δ ages, and a dose takes the share d off: (x + Δ)(1 − d) = x settles where x + Δ = Δ/d.
    let share = |drops: f64| drops * dose.kept / dose.full;
    let ages = (lasts.ages > 0.0).then(|| dose.sound * share(dose.drops) / lasts.ages);
    let Some(riding) = lost.into_iter().chain(longest).chain(ages).reduce(f64::min) else { return Advice::Yearly };
    let outings = (riding / lasts.outing).floor().max(1.0);
    let riding = outings * lasts.outing;
    let fill = lasts.fill_at(riding);
    let fresh = lasts.ages * riding / dose.sound;
    let [lost, fresh_drops] = [1.0 - fill, fresh].map(|share| share * dose.full / dose.kept);
    // A drop more than there is room for is wiped off; more would have to flush out the spoilt oil, partly onto the lining.
    if fresh > REPLACED || (outings == 1.0 && fresh_drops > lost.ceil().max(dose.drops + 1.0)) {
        return Advice::Never;
    }
    let drops = if outings > 1.0 { lost } else { lost.max(fresh_drops) };
    // The first outing throws off more than those after it, which a dose has to replace each time.
    let again = (fill - lasts.fill_at(2.0 * riding)) * dose.full / dose.kept;
    let held = outings > 1.0 || again.max(fresh_drops) <= dose.drops;
    // One outing may lose or spoil more than warm pores have room for: the rest goes in when they are cold.
    let put_on = if held { dose.drops } else { drops.ceil().max(dose.drops) };
    let warm = whole_room(dose.room, dose.full, fill.min(halfway(dose.due_at))).min(put_on);
    Advice::Every(Advised { outings: outings as u64, riding, fill, drops, dose: put_on, warm })
}

/// Time of the first weighing of a drum, and its loss by then.
fn weighing(set: &Lasts, most: &Lasts, full_mass: f64) -> Option<Weighing> {
    let outings = (most.due? / most.outing).floor();
    let riding = if outings >= 1.0 { outings * most.outing } else { most.due? };
    let lost = |lasts: &Lasts| (1.0 - lasts.fill_at(riding)) * full_mass;
    Some(Weighing { outings: outings as u64, riding, lost: lost(set), lost_at_most_leak: lost(most) })
}

/// Whether the springs sag in the use, at the temperature that it causes, and whether a part becomes too hot for the model.
fn heated(wish: &Wish) -> Result<(Option<Sag>, Option<Beyond>), Failure> {
    let mut sim = Simulation::new(wish.machine.clone(), Options::default())?;
    for time in WARMING {
        wish.usage.ride(&mut sim, time)?;
    }
    let run = sim.finish(&wish.machine.name, &wish.usage.name)?;
    Ok((Sag::of(&wish.machine, run.engagement.settled, wish.wander), Beyond::of(&run)))
}

/// Assumptions of the answer.
fn assumed(wish: &Wish, full_mass: f64) -> Vec<Assumed> {
    let m = &wish.machine;
    let [(least, most), lives, soaks] = OPEN.map(|p| possible(wish, p));
    let time = m.oiling.imbibe_time;
    vec![
        Assumed::EndLeakage { leak: m.oiling.leak, least, most, hundredth: 0.01 * full_mass },
        Assumed::OilLife { life: m.oiling.oxidation_life, least: lives.0, most: lives.1 },
        Assumed::Soaking { time, least: soaks.0, most: soaks.1 },
        Assumed::OilOnLining { share: m.oiling.lining_share },
    ]
}

/// Share of a dose put on warm that is kept after the longest wait that was tried within a rest, s, or the shortest.
fn kept_warm(habits: &[Habit], rest: f64) -> f64 {
    let warm = habits.iter().find(|habit| habit.warm).map_or(&[][..], |habit| &habit.kept[..]);
    let within = warm.iter().rfind(|(wait, _)| *wait <= rest).or_else(|| warm.first());
    within.map_or(1.0, |(_, kept)| *kept)
}

/// Computes the plan; `done` is called for each simulation.
pub fn plan(wish: &Wish, done: &(dyn Fn() + Sync)) -> Result<OilPlan, Failure> {
    let m = &wish.machine;
    let full_mass = Simulation::new(m.clone(), Options::UNRECORDED)?.full_mass();
    let drop = m.drop_mass(&m.oil);
    let [least, most] = extremes(wish);
    let learned: Vec<Known> =
        wish.known.iter().filter(|known| OPEN.iter().any(|p| known.path == p.path)).cloned().collect();
    let set = Case::as_set(m);
    let cases: [_; CASES] = [set, least, most, Case { name: LeakCase::Greased, grease: wish.grease, ..set }];
    let lasts = each(CASES, |k| lasts::lasts(wish, cases[k]).inspect(|_| done()));
    let lasts = lasts.into_iter().collect::<Result<Vec<_>, _>>()?;
    let habits = vec![habits::habit(wish, false, done)?, habits::habit(wish, true, done)?];
    let (due_at, full_drops) = (m.limits.oil_service, full_mass / drop);
    let warm_room = habits::warm_room(wish)? / drop;
    // The rule oils at its own fill, whatever that at which habits are compared.
    let rule = Wish { found: halfway(due_at), ..wish.clone() };
    let room = (habits::warm_room(&rule)? / drop, rule.found);
    let rule = Wish { drops: held(wish.drops, room, full_drops, due_at), ..rule };
    let dose = rule.drops;
    // The dose restores the share kept overnight, applied warm or cold, whichever is less, or that kept warm in a shorter rest.
    let of_rule = if rule == *wish {
        habits.clone()
    } else {
        vec![habits::habit(&rule, false, &|| {})?, habits::habit(&rule, true, &|| {})?]
    };
    let overnight = of_rule.iter().filter_map(|h| h.kept.last()).map(|k| k.1).fold(1.0, f64::min);
    let sound = (1.0 - m.bushing.score_from) / LOST_BY_AGE;
    let longest = of_rule.iter().filter_map(|h| h.kept.last()).map(|k| k.0).fold(0.0, f64::max);
    let kept = if wish.rest < longest { overnight.min(kept_warm(&of_rule, wish.rest)) } else { overnight }.max(0.01);
    let dose = Dose { drops: dose, kept, full: full_drops, due_at, sound, room };
    let advised = advice(&lasts[0], &dose);
    let measured = Known::factor_of(&learned, OPEN[0]).is_some();
    let weighing = advised.habit().filter(|_| !measured).and_then(|_| weighing(&lasts[0], &lasts[2], full_mass));
    let (sag, beyond) = heated(wish)?;
    let asked = spring_choice::Wish { wander: wish.wander, ..spring_choice::Wish::new(m.clone(), wish.usage.clone()) };
    let InPlace { against, renewed, sought } = in_place_of_own(&asked, sag.is_some())?;
    Ok(OilPlan {
        kind: Is::default(),
        head: Head::default(),
        machine: m.name.clone(),
        usage: wish.usage.name.clone(),
        oil: m.oil.name.clone(),
        wander: wish.wander,
        wrong_oil: m.oil.is_wrong(),
        riding: wish.riding,
        rest: wish.rest,
        weekly: wish.weekly,
        leak: m.oiling.leak,
        due_at,
        full_drops,
        full_mass,
        advised,
        advised_at_most_leak: advice(&lasts[2], &dose),
        weighing,
        drops_when_due: (1.0 - due_at) * full_drops,
        warm_room,
        lasts,
        drops: wish.drops,
        dose: dose.drops,
        found: wish.found,
        habits,
        doses: habits::doses(wish, done)?,
        oils: habits::oils(wish, done)?,
        sag,
        against,
        renewed,
        sought,
        beyond,
        slipping: wish.usage.slipping(m),
        learned,
        assumed: assumed(wish, full_mass),
        settings: Setting::all(m),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn warm_oil_is_kept_as_after_the_longest_wait_within_the_rest() {
        let habit = |warm: bool, kept: f64| Habit { warm, kept: vec![(30.0, 0.1), (600.0, kept), (43_200.0, 0.97)] };
        let habits = [habit(false, 0.5), habit(true, 0.9)];
        assert_eq!(
            [10.0, 599.0, 600.0, 7200.0, 84_000.0].map(|rest| kept_warm(&habits, rest)),
            [0.1, 0.1, 0.9, 0.9, 0.97]
        );
    }
}

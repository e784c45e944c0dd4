//! The plan of oiling for a machine and its use.

use super::answer::{Advised, Lasts, OilPlan};
use super::{habits, lasts, words};
use crate::document::{Head, Is};
use crate::fleet::assumed_range;
use crate::parts::Machine;
use crate::record::Setting;
use crate::simulate::{Failure, Options, Simulation};
use crate::usage::Usage;

/// Cases for which it is followed how long a full bushing lasts.
const CASES: usize = 4;

/// What is asked.
#[derive(Clone, Debug, PartialEq)]
pub struct Wish {
    /// the machine with its oil
    pub machine: Machine,
    /// its use
    pub usage: Usage,
    /// riding of one outing, s
    pub riding: f64,
    /// rest after it, s
    pub rest: f64,
    /// drops of one service
    pub drops: f64,
    /// fill at which habits are compared
    pub found: f64,
    /// grease in the grooves that is weighed against none, m³ of oil
    pub grease: f64,
    /// who asks
    pub head: Head,
}

impl Wish {
    /// What a shop asks where it says no more: outings of 40 min, a day from one to the next, four drops, habits compared at a
    /// fill of 85 %, half a millilitre of grease.
    pub fn new(machine: Machine, usage: Usage) -> Self {
        let (riding, day) = (2400.0, 86400.0);
        let head = Head::default();
        Self { machine, usage, riding, rest: day - riding, drops: 4.0, found: 0.85, grease: 0.5e-6, head }
    }
}

/// How many things a plan tries out: how long the oil lasts; waits, cold and warm; doses; oils.
pub const TRIALS: usize = CASES + 2 * habits::WAITS.len() + habits::DROPS.len() + habits::ADDITIVES.len() + 1;

/// Least and most end leakage that are possible, 1/s: as it is assumed, or beyond that as it is set.
pub(super) fn leaks(machine: &Machine) -> (f64, f64) {
    let set = machine.oiling.leak;
    let (least, most) = assumed_range("oiling.leak").unwrap_or((set, set));
    (least.min(set), most.max(set))
}

/// When to put a dose on that brings back a share of the fill.
fn advised(lasts: &Lasts, brings: f64, due_at: f64, full_drops: f64, kept: f64) -> Option<Advised> {
    if lasts.within_first() {
        return None;
    }
    let low = (1.0 - brings).max(due_at);
    let lost = lasts.fill.windows(2).find(|w| w[0].1 > low && w[1].1 <= low);
    let lost = lost.map(|w| w[0].0 + (w[1].0 - w[0].0) * (w[0].1 - low) / (w[0].1 - w[1].1));
    let longest = lasts.due.map(|due| 0.5 * due);
    let riding = match (lost, longest) {
        (Some(lost), Some(longest)) => lost.min(longest),
        (one, other) => one.or(other)?,
    };
    let outings = (riding / lasts.outing).floor().max(1.0);
    let riding = outings * lasts.outing;
    let fill = lasts.fill_at(riding);
    let drops = (1.0 - fill) * full_drops / kept;
    Some(Advised { outings: outings as u64, riding, fill, drops })
}

/// Works the plan out; `done` hears of each thing that was tried.
pub fn plan(wish: &Wish, done: &dyn Fn()) -> Result<OilPlan, Failure> {
    let m = &wish.machine;
    let full_mass = Simulation::new(m.clone(), Options { windows: 0, ..Options::default() })?.full_mass();
    let drop = m.oiling.drop * crate::laws::oil::density::<f64>(m.oil.density_15, 293.15);
    let (least, most) = leaks(m);
    let cases: [_; CASES] = [
        ("as set", m.oiling.leak, 0.0),
        ("least leak", least, 0.0),
        ("most leak", most, 0.0),
        ("with grease", m.oiling.leak, wish.grease),
    ];
    let lasts =
        cases.into_iter().map(|case| lasts::lasts(wish, case).inspect(|_| done())).collect::<Result<Vec<_>, _>>()?;
    let habits = vec![habits::habit(wish, false, done)?, habits::habit(wish, true, done)?];
    // The dose brings back what is kept of it overnight, put on warm or cold, whichever is less.
    let overnight = habits.iter().filter_map(|h| h.kept.last()).map(|k| k.1).fold(1.0, f64::min).max(0.01);
    let (due_at, full_drops) = (m.limits.oil_service, full_mass / drop);
    let when = |lasts: &Lasts| advised(lasts, wish.drops * overnight / full_drops, due_at, full_drops, overnight);
    let mut plan = OilPlan {
        kind: Is::default(),
        head: wish.head.clone(),
        machine: m.name.clone(),
        usage: wish.usage.name.clone(),
        oil: m.oil.name.clone(),
        riding: wish.riding,
        rest: wish.rest,
        leak: m.oiling.leak,
        due_at,
        full_drops,
        full_mass,
        advised: when(&lasts[0]),
        advised_at_most_leak: when(&lasts[2]),
        drops_when_due: (1.0 - due_at) * full_drops / overnight,
        warm_room: habits::warm_room(wish)? / drop,
        lasts,
        drops: wish.drops,
        found: wish.found,
        habits,
        doses: habits::doses(wish, done)?,
        oils: habits::oils(wish, done)?,
        statement: vec![],
        assumed: words::assumed(m),
        settings: Setting::all(m),
    };
    plan.statement = words::sentences(&plan);
    plan.statement.extend(wish.usage.slipping_said(m));
    Ok(plan)
}

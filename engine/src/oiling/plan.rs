//! The plan of oiling for a machine and its use.

use super::answer::OilPlan;
use super::{habits, lasts, words};
use crate::origin::Origin;
use crate::parts::Machine;
use crate::record::Setting;
use crate::simulate::{Failure, Options, Simulation};
use crate::usage::Usage;

/// Least and greatest end leak that are possible, 1/s.
const LEAKS: (f64, f64) = (0.006 / 3600.0, 2.0 / 3600.0);

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
    pub origin: Origin,
}

impl Wish {
    /// What a shop asks where it says no more: outings of 40 min, a day from one to the next, four drops, habits compared at a
    /// fill of 85 %, half a millilitre of grease.
    pub fn new(machine: Machine, usage: Usage) -> Self {
        let (riding, day) = (2400.0, 86400.0);
        let origin = Origin::default();
        Self { machine, usage, riding, rest: day - riding, drops: 4.0, found: 0.85, grease: 0.5e-6, origin }
    }
}

/// How many things a plan tries out: losses from fills, with and without grease; waits, cold and warm; doses; oils.
pub const TRIALS: usize =
    5 * lasts::FILLS.len() + 2 * habits::WAITS.len() + habits::DROPS.len() + habits::ADDITIVES.len() + 1;

/// Works the plan out; `done` hears of each thing that was tried.
pub fn plan(wish: &Wish, done: &dyn Fn()) -> Result<OilPlan, Failure> {
    let m = &wish.machine;
    let full = Simulation::new(m.clone(), Options { windows: 0, ..Options::default() })?.full_mass();
    let drop = m.oiling.drop * crate::laws::oil::density::<f64>(m.oil.density_15, 293.15);
    let cases = [
        ("as set", m.oiling.leak, 0.0),
        ("least leak", LEAKS.0, 0.0),
        ("most leak", LEAKS.1, 0.0),
        ("with grease", m.oiling.leak, wish.grease),
    ];
    let lasts = cases.into_iter().map(|case| lasts::lasts(wish, case, done)).collect::<Result<Vec<_>, _>>()?;
    let habits = vec![habits::habit(wish, false, done)?, habits::habit(wish, true, done)?];
    let overnight = habits[1].kept.last().map_or(0.0, |k| k.1);
    // Where the fill has fallen by what such a dose brings back.
    let low = 1.0 - wish.drops * drop * overnight / full;
    let interval = lasts[0].fill.windows(2).find(|w| w[0].1 > low && w[1].1 <= low);
    let interval = interval.map(|w| w[0].0 + (w[1].0 - w[0].0) * (w[0].1 - low) / (w[0].1 - w[1].1));
    let mut plan = OilPlan {
        machine: m.name.clone(),
        usage: wish.usage.name.clone(),
        oil: m.oil.name.clone(),
        riding: wish.riding,
        rest: wish.rest,
        leak: m.oiling.leak,
        due_at: m.limits.oil_service,
        full_drops: full / drop,
        interval,
        drops_when_due: (1.0 - m.limits.oil_service) * full / (drop * overnight.max(0.01)),
        lasts,
        drops: wish.drops,
        found: wish.found,
        habits,
        doses: habits::doses(wish, done)?,
        oils: habits::oils(wish, done)?,
        statement: vec![],
        assumed: words::assumed(m),
        settings: Setting::all(m),
        origin: wish.origin.clone(),
    };
    plan.statement = words::sentences(&plan);
    plan.statement.extend(wish.usage.slipping_said(m));
    Ok(plan)
}

//! Sensitivities: one sampled variable at a time at its P10 and P90, and all together on a design of points.

use super::Case;
use crate::document::failed::Failed;
use crate::document::sensitivity::{Answer, Influence, Measure, Moved, Ranking};
use crate::names::distinct;
use crate::parallel::each;
use crate::parts::{Machine, parameter};
use crate::spread::{Uncertain, machine_at};
use crate::statistics::{Design, Index};
use std::collections::BTreeMap;

/// Deviates for one variable at a time: P10 and P90.
pub const ENDS: [f64; 2] = [0.1, 0.9];

/// Number of windows recorded in each run, as in any run.
const WINDOWS: usize = 600;

/// One run of a sensitivity.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Point {
    /// everything at its nominal value
    Nominal,
    /// one variable at one of its [`ENDS`]: the indices of both
    End(usize, usize),
    /// a point of the design
    Design(usize),
}

/// Runs of a machine for the sensitivities of its results.
#[derive(Clone, Debug)]
pub struct Sensitivity {
    machine: Machine,
    uncertain: Vec<Uncertain>,
    draws: Vec<String>,
    design: Option<Design>,
}

impl Sensitivity {
    /// The runs of a machine with uncertain settings. `rows` of a design give the shares of variance; 0 for none.
    pub fn new(machine: Machine, uncertain: Vec<Uncertain>, rows: u64) -> Self {
        let draws = draws(&uncertain);
        let design = (rows > 0).then(|| Design::new(rows as usize, draws.len()));
        Self { machine, uncertain, draws, design }
    }

    /// Number of runs for these uncertain settings. The design itself is not built for it, because it may be too large.
    ///
    /// ```
    /// use slipsoak_engine::fleet::{ASSUMED, Uncertain};
    /// use slipsoak_engine::parts::Machine;
    /// use slipsoak_engine::studies::Sensitivity;
    /// let uncertain: Vec<_> = ASSUMED.iter().map(|(p, spread)| Uncertain::alone(p.path, *spread)).collect();
    /// let runs = Sensitivity::count(&uncertain, 16);
    /// assert_eq!(runs, 1 + 2 * 41 + 16 * (2 + 41)); // 41 draws
    /// assert_eq!(runs, Sensitivity::new(Machine::default(), uncertain, 16).runs());
    /// ```
    pub fn count(uncertain: &[Uncertain], rows: u64) -> u64 {
        let draws = draws(uncertain).len() as u64;
        1 + 2 * draws + rows * (2 + draws)
    }

    /// Number of runs.
    pub fn runs(&self) -> u64 {
        self.singles() + self.design.as_ref().map_or(0, |design| design.points() as u64)
    }

    /// Number of runs before the design: the nominal one, and both ends of each variable.
    fn singles(&self) -> u64 {
        1 + 2 * self.draws.len() as u64
    }

    /// Names of the sampled variables, in order.
    pub fn draws(&self) -> &[String] {
        &self.draws
    }

    /// Kind of the run with this number.
    pub fn point(&self, run: u64) -> Point {
        match run.checked_sub(self.singles()) {
            Some(index) => Point::Design(index as usize),
            None if run == 0 => Point::Nominal,
            None => Point::End((run as usize - 1) / 2, (run as usize - 1) % 2),
        }
    }

    /// The machine of a run.
    pub fn machine(&self, run: u64) -> Machine {
        let deviates: BTreeMap<&str, f64> = match self.point(run) {
            Point::Nominal => BTreeMap::new(),
            Point::End(draw, end) => [(self.draws[draw].as_str(), ENDS[end])].into(),
            Point::Design(index) => {
                let point = self.design.as_ref().map_or_else(Vec::new, |design| design.point(index));
                self.draws.iter().map(String::as_str).zip(point).collect()
            }
        };
        machine_at(&self.machine, &self.uncertain, |draw| deviates.get(draw).copied())
    }

    /// Ranking of the variables by their effect, from the answers of the runs that could be computed. The duty is repeated
    /// `until`, s, rests included; `by_script`: the variables that are not assumed.
    pub fn ranking(
        &self,
        (variant, duty): (&str, &str),
        until: Option<f64>,
        by_script: impl Fn(&str) -> bool,
        found: &BTreeMap<u64, Answer>,
    ) -> Ranking {
        let at = |run: u64| found.get(&run).cloned();
        let running_share = at(0).map_or(1.0, |nominal| nominal.running_share);
        let horizon = until.map(|until| until * running_share);
        let design: Vec<Answer> = (self.singles()..self.runs()).filter_map(at).collect();
        // Shares of variance require every point of the design.
        let whole = self.design.as_ref().filter(|of| of.points() == design.len());
        let shares = |measure: Measure| -> Vec<Index> {
            let values: Option<Vec<f64>> = design.iter().map(|answer| measure.of(answer, horizon)).collect();
            whole.zip(values).map_or_else(Vec::new, |(design, values)| design.indices(&values))
        };
        let [end, service, peak] = Measure::ALL.map(shares);
        let influence = |(k, draw): (usize, &String)| {
            Some(Influence {
                draw: draw.clone(),
                by_script: by_script(draw),
                settings: moved(&self.machine, &self.uncertain, draw),
                low: at(1 + 2 * k as u64)?,
                high: at(2 + 2 * k as u64)?,
                end: end.get(k).copied(),
                service_due: service.get(k).copied(),
                lining_peak: peak.get(k).copied(),
            })
        };
        let mut influences: Vec<Influence> = self.draws.iter().enumerate().filter_map(influence).collect();
        influences.sort_by(|a, b| {
            let swing = |i: &Influence| i.swing(Measure::End, horizon);
            swing(b).total_cmp(&swing(a))
        });
        Ranking {
            variant: variant.to_owned(),
            duty: duty.to_owned(),
            horizon,
            running_share,
            nominal: at(0).unwrap_or_default(),
            influences,
            beyond: design.iter().filter(|answer| answer.end.is_none()).count() as u64,
        }
    }
}

/// Ranking of the variables of a case by their effect, and the runs that could not be computed.
///
/// ```
/// use slipsoak_engine::duty::{End, Segment, Task};
/// use slipsoak_engine::fleet::{Spread, Uncertain};
/// use slipsoak_engine::parts::Machine;
/// use slipsoak_engine::studies::{Case, sensitivity};
/// use slipsoak_engine::units::{HOUR, KM_H};
/// let block = vec![
///     Segment::Ride(Task::Throttle(1.0), End::Reached { speed: 15.0 * KM_H, within: 30.0 }),
///     Segment::Ride(Task::Brake(1.5), End::Still { within: 30.0 }),
/// ];
/// let mut case = Case::new(Machine::default(), "stop and go", block, HOUR);
/// case.uncertain = vec![Uncertain::alone("lining.friction", Spread::Uniform(0.05))];
/// let (ranking, failed) = sensitivity(&case, 0);
/// let [friction] = &ranking.influences[..] else { panic!("one draw") };
/// assert!(failed.is_empty() && friction.low.lining_peak > friction.high.lining_peak, "{friction:?}");
/// ```
pub fn sensitivity(case: &Case, rows: u64) -> (Ranking, Vec<Failed>) {
    let study = Sensitivity::new(case.machine.clone(), case.uncertain.clone(), rows);
    let runs = each(study.runs() as usize, |run| case.life(study.machine(run as u64), WINDOWS));
    let (mut found, mut failed) = (BTreeMap::new(), vec![]);
    for (run, result) in (0..).zip(runs) {
        match result {
            Ok(result) => drop(found.insert(run, Answer::of(&result))),
            Err(e) => failed.push(Failed { item: run, what: format!("run {run}"), why: e.to_string() }),
        }
    }
    (study.ranking((&case.machine.name, &case.duty), Some(case.until), |_| false, &found), failed)
}

/// Settings changed by a variable, at its P10 and P90: its own, and those correlated with it.
fn moved(nominal: &Machine, uncertain: &[Uncertain], draw: &str) -> Vec<Moved> {
    let at = |deviate| machine_at(nominal, uncertain, |name| (name == draw).then_some(deviate));
    let ends = ENDS.map(at);
    let setting = |u: &Uncertain| {
        let p = parameter(&u.path)?;
        let [low, high] = [0, 1].map(|k: usize| (p.of)(&ends[k]));
        let nominal = (p.of)(nominal);
        if u.draw != draw && low == nominal && high == nominal {
            return None;
        }
        let unit = p.dimension.unit().to_owned();
        Some(Moved { path: u.path.clone(), unit, spread: u.spread, low, nominal, high })
    };
    uncertain.iter().filter_map(setting).collect()
}

/// Names of the sampled variables of some uncertain settings, each once, in order.
fn draws(uncertain: &[Uncertain]) -> Vec<String> {
    distinct(uncertain.iter().map(|u| u.draw.clone()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::spread::Spread;

    fn uncertain(path: &str, spread: Spread, draw: &str) -> Uncertain {
        Uncertain { draw: draw.to_owned(), ..Uncertain::alone(path, spread) }
    }

    #[test]
    fn a_variable_moves_all_its_settings_and_no_other() {
        let nominal = Machine::default();
        let all = [
            uncertain("oiling.leak", Spread::Factor(18.0), "mount"),
            uncertain("lining.wear", Spread::Factor(2.0), "lining.wear"),
            uncertain("drum.wall", Spread::Uniform(1e-3), "mount"),
        ];
        assert_eq!(draws(&all), ["mount", "lining.wear"]);
        let moved = moved(&nominal, &all, "mount");
        assert_eq!(moved.iter().map(|m| m.path.as_str()).collect::<Vec<_>>(), ["oiling.leak", "drum.wall"]);
        // Uniform: P10 and P90 are at 0.8 of the half width. Lognormal: at 1.28155 of 1.64485 of the factor's
        // logarithm.
        assert!((moved[1].high - (3.2e-3 + 0.8e-3)).abs() < 1e-12, "{moved:?}");
        assert!((moved[0].low / moved[0].nominal - 18f64.powf(-1.281_552 / 1.644_854)).abs() < 1e-6, "{moved:?}");
        let machine = machine_at(&nominal, &all, |draw| (draw == "mount").then_some(0.9));
        assert_eq!(machine.lining.wear, nominal.lining.wear);
        assert_eq!(machine.drum.wall, moved[1].high);
    }
}

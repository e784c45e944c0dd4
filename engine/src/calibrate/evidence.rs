//! Charts of the data against the fit.

use super::{
    Condition, Evidence, Fitted, Inspected, Logged, Problem, Quantity, Read, Reading, Stated, Stretch, Under, When,
    lagging, run_in, span, temperatures,
};
use crate::curve::along;
use crate::names::distinct;
use crate::parallel::each;
use crate::parts::Machine;
use crate::simulate::Failure;
use crate::statistics::NINETY_FIVE;
use crate::units::HOUR;

/// Number of points of a curve.
const CURVE: usize = 25;
/// Number of machines ahead of the stepped ones: with the constants used before, and with the fitted ones.
const PLAIN: usize = 2;

/// Charts of data against the fit.
pub fn evidence(problem: &Problem, fitted: &Fitted) -> Result<Vec<Evidence>, Failure> {
    let starts: Vec<f64> = problem.constants().iter().map(|c| c.start).collect();
    let plain = [problem.machine_with(&starts), problem.machine_with(&fitted.values)];
    let machines = plain.into_iter().chain(problem.stepped(&fitted.values)).collect();
    let chart = Chart { problem, fitted, machines, levels: problem.shared(&problem.bare_residuals(&fitted.values)?) };
    let (mut all, mut index) = (vec![], 0);
    for group in &problem.inspected {
        all.extend(chart.of_inspections(group, index)?);
        index += group.reads.len();
    }
    let delays = problem.delays();
    let mut delays = delays.iter().map(|of| of.map(|k| fitted.values[k]));
    for log in &problem.logged {
        all.extend(chart.of_log(log, index, &mut delays)?);
        index += log.channels.iter().map(|c| c.stretches.len()).sum::<usize>();
    }
    Ok(all)
}

struct Chart<'a> {
    problem: &'a Problem,
    fitted: &'a Fitted,
    machines: Vec<Machine>,
    levels: Vec<f64>,
}

impl Chart<'_> {
    /// Half width of the fit's 90 % band, from the values that each machine shows: slopes along the logarithms times
    /// errors and their correlation; running-in is kept as fitted.
    fn band(&self, shown: &[f64]) -> f64 {
        let slope = |k: usize| (shown[PLAIN + 2 * k] - shown[PLAIN + 1 + 2 * k]) / span() * self.fitted.errors[k];
        let n = self.problem.sought.len();
        let terms = (0..n).flat_map(|i| (0..n).map(move |j| (i, j)));
        let variance: f64 = terms.map(|(i, j)| slope(i) * slope(j) * self.fitted.correlation[i][j]).sum();
        NINETY_FIVE * variance.max(0.0).sqrt()
    }

    /// A chart for each quantity read under a duty, and for each of the conditions under which it was; `first` is the number of
    /// its first reading.
    fn of_inspections(&self, group: &Inspected, first: usize) -> Result<Vec<Evidence>, Failure> {
        let (problem, fitted) = (self.problem, self.fitted);
        let by_launches = group.reads.iter().all(|r| matches!(r.when, When::Launches(_)));
        let when = |at: f64| if by_launches { When::Launches(at) } else { When::Running(at) };
        let probe = problem.way(group, self.machines[1].clone(), &[])?;
        let place = |w: When| if by_launches { probe.at(w).launches } else { probe.at(w).running };
        let last = group.reads.iter().map(|r| place(r.when)).fold(0.0, f64::max);
        // Readings of a new clutch alone: an hour, or a launch, gives the curve a length.
        let last = if last > 0.0 {
            last
        } else if by_launches {
            1.0
        } else {
            HOUR
        };
        let places: Vec<f64> = (0..CURVE).map(|k| last * k as f64 / (CURVE - 1) as f64).collect();
        let times: Vec<When> = places.iter().map(|p| when(*p)).collect();
        let way = |m: &Machine| {
            let way = problem.way(group, m.clone(), &times);
            (problem.tried)();
            way
        };
        let ways = each(self.machines.len(), |k| way(&self.machines[k])).into_iter().collect::<Result<Vec<_>, _>>()?;
        let chart = |(quantity, under): (Quantity, Under)| {
            let row = quantity.row();
            let depth = problem.running_in.iter().position(|p| *p == quantity);
            let shift = depth.map_or(0.0, |j| -row.running_in.signum() * fitted.values[problem.sought.len() + j]);
            let reading = |(i, r): (usize, &Read)| Reading {
                of: r.clutch.clone(),
                at: place(r.when),
                value: r.value + self.levels[first + i] * r.gauge,
                scatter: NINETY_FIVE * r.gauge,
            };
            let own = group.reads.iter().enumerate().filter(|r| r.1.quantity == quantity && r.1.under == under);
            let readings: Vec<Reading> = own.map(reading).collect();
            let curve = places.iter().zip(&times).map(|(at, when)| {
                let shown: Vec<f64> = ways.iter().map(|way| way.shows(*when, quantity, &under)).collect();
                let wide = self.band(&shown);
                let run = shift * run_in(ways[1].at(*when).running, problem.fades);
                [*at, shown[0], shown[1] + run, shown[1] + run - wide, shown[1] + run + wide]
            });
            let several = problem.inspected.len() > 1;
            let stated = |c: Condition| {
                let unit = c.row().dimension.unit().to_owned();
                Some(Stated { name: c, unit, value: under.given(c)? })
            };
            let under = Condition::ALL.into_iter().filter_map(stated).collect();
            let name = quantity.name().to_owned();
            let name = if several { format!("{name}, {}", group.duty) } else { name };
            let (unit, curve) = (row.dimension.unit().to_owned(), curve.collect());
            Evidence { name, quantity: Some(quantity), unit, under, by_launches, readings, curve }
        };
        let mut read = distinct(group.reads.iter().map(|r| (r.quantity, r.under)));
        read.sort_by_key(|r| r.0 as usize);
        Ok(read.into_iter().map(chart).collect())
    }

    /// One chart for each channel of a log: its readings at the duty's time, the curves of the fit as late as the thermocouple
    /// shows them.
    fn of_log(
        &self,
        log: &Logged,
        first: usize,
        delays: &mut impl Iterator<Item = [f64; 2]>,
    ) -> Result<Vec<Evidence>, Failure> {
        let run = |m: &Machine| temperatures(log, m.clone());
        let curves =
            each(self.machines.len(), |k| run(&self.machines[k])).into_iter().collect::<Result<Vec<_>, _>>()?;
        let (mut all, mut index) = (vec![], first);
        for ((c, channel), [clock, lag]) in log.channels.iter().enumerate().zip(delays) {
            let reading = |(i, s): (usize, &Stretch)| Reading {
                of: log.file.clone(),
                at: s.time() - clock,
                value: s.value + self.levels[index + i] * channel.gauge,
                scatter: NINETY_FIVE * channel.gauge,
            };
            let readings: Vec<Reading> = channel.stretches.iter().enumerate().map(reading).collect();
            let last = readings.last().map_or(0.0, |r| r.at);
            let late = |(m, all): (usize, &Vec<Vec<(f64, f64)>>)| lagging(&all[c], if m == 0 { 0.0 } else { lag });
            let late: Vec<_> = curves.iter().enumerate().map(late).collect();
            let curve = (0..4 * CURVE).map(|k| last * k as f64 / (4 * CURVE - 1) as f64).map(|at| {
                let shown: Vec<f64> = late.iter().map(|curve| along(curve, at)).collect();
                let wide = self.band(&shown);
                [at, shown[0], shown[1], shown[1] - wide, shown[1] + wide]
            });
            all.push(Evidence {
                name: channel.node.name().into(),
                quantity: None,
                unit: "K".into(),
                under: vec![],
                by_launches: false,
                curve: curve.collect(),
                readings,
            });
            index += channel.stretches.len();
        }
        Ok(all)
    }
}

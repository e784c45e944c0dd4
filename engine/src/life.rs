//! Use and remaining life of each part.

use crate::parts::Machine;
use crate::record::{Extremes, PartUse, Windows};
use crate::simulate::channels;

/// Parts whose use is counted, in the order of the record.
pub const PARTS: [&str; 7] = ["lining", "bushing", "washer", "spring", "oil", "cover gap", "washer charring"];

/// Use of each part from the present channel values: 0 new, 1 at its limit.
fn uses(m: &Machine, of: impl Fn(&str) -> f64) -> [f64; 7] {
    let l = &m.limits;
    let c = &m.clutch;
    let over = |x: f64, room: f64| if room > 0.0 { (x / room).max(0.0) } else { f64::from(u8::from(x > 0.0)) };
    let worn = of("lining wear");
    let force = m.preload() * (1.0 - of("relaxation")) + c.spring_rate * (c.gap + worn);
    let cold = (force.max(0.0) / (c.shoe_mass * (c.shoe_radius + worn))).sqrt();
    let least = m.motor.idle + l.spring_margin;
    let spring = if c.engagement > least { over(c.engagement - cold, c.engagement - least) } else { 0.0 };
    let gap = m.cover.proud + m.washer.thickness;
    [
        over(worn, m.lining.thickness - l.lining),
        over(of("bushing wear"), l.bushing),
        over(of("washer wear"), m.washer.thickness - l.washer),
        spring,
        over(1.0 - of("oil fill"), 1.0 - l.oil_end),
        over(of("washer wear"), gap - l.cover_gap),
        f64::from(u8::from(of("washer") >= l.washer_char)),
    ]
}

/// Use of each part over a run, and the time to its limit at the rate of the run's second half, s.
pub fn parts(m: &Machine, windows: &Windows, overall: &Extremes, now: &[f64], duration: f64) -> Vec<PartUse> {
    let names = channels();
    let pick = |row: &[f64], name: &str| names.iter().position(|c| c.name == name).map_or(0.0, |k| row[k]);
    let curves: Vec<[f64; 7]> = windows.mean.iter().map(|row| uses(m, |name| pick(row, name))).collect();
    let end = uses(m, |name| if name == "washer" { pick(&overall.most, name) } else { pick(now, name) });
    let half = curves.len() / 2;
    let half_time = windows.end.get(half).map_or(0.0, |e| e - 0.5 * windows.length);
    PARTS
        .iter()
        .enumerate()
        .map(|(k, part)| {
            let rate = curves.get(half).map_or(0.0, |c| (end[k] - c[k]) / (duration - half_time).max(1e-9));
            let life = if end[k] >= 1.0 {
                let over = curves.iter().position(|c| c[k] >= 1.0);
                Some(over.map_or(duration, |w| windows.end[w]))
            } else if rate > 1e-15 {
                Some(duration + (1.0 - end[k]) / rate)
            } else {
                None
            };
            PartUse { part: (*part).to_owned(), used: end[k], life, curve: curves.iter().map(|c| c[k]).collect() }
        })
        .collect()
}

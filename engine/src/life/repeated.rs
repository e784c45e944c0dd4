//! Lives of parts by the blocks of a repeated duty; none from temperatures beyond the model.

use super::Goes;
use crate::document::record::{Horizon, LifePoint, PartUse};

/// The late part of a repetition, from whose ends its rates follow: whole blocks, since a part of a block may be its rest, with the
/// last tenth of the time and of the running time in them, or the last block if that is longer. The whole repetition, if no block
/// was finished.
fn late<'a>(points: &'a [LifePoint], blocks: &'a [LifePoint]) -> Option<[&'a LifePoint; 2]> {
    let [before @ .., end] = blocks else { return points.first().zip(points.last()).map(Into::into) };
    let early = |p: &LifePoint| p.time <= 0.9 * end.time && p.running <= 0.9 * end.running;
    match before.iter().rev().find(|p| early(p)).or(before.first()) {
        Some(start) => Some([start, end]),
        None => points.last().map(|last| [end, last]),
    }
}

/// Replaces projected lives by those of a repeated block: the time at which each part reached its limit or, if it has
/// not, an extrapolation at the rate of the last blocks. `blocks`: the start, and ends of whole blocks.
pub(crate) fn simulated(parts: &mut [PartUse], horizon: &Horizon, blocks: &[LifePoint]) {
    let points = &horizon.points;
    let (Some(last), Some([from, to])) = (points.last(), late(points, blocks)) else { return };
    for (k, part) in parts.iter_mut().enumerate() {
        part.used = last.used[k];
        let rate = (to.used[k] - from.used[k]) / (to.time - from.time).max(1e-9);
        let share = (to.running - from.running) / (to.time - from.time).max(1e-9);
        let on = |life: f64| (life, last.running + (life - last.time) * share);
        let ended = horizon.ends[k].zip(horizon.running.get(k).copied().flatten());
        let life = ended.or_else(|| match part.part.row().goes {
            Goes::ByRelaxation => part.life.filter(|life| *life > last.time).map(on),
            _ => (rate > 1e-15).then(|| on(last.time + (1.0 - last.used[k]) / rate)),
        });
        (part.life, part.running) = (life.map(|l| l.0), life.map(|l| l.1));
    }
}

/// Takes away every life: from temperatures beyond the model none can be given.
pub(crate) fn unknown(parts: &mut [PartUse], horizon: Option<&mut Horizon>) {
    for part in parts {
        (part.life, part.running) = (None, None);
    }
    if let Some(horizon) = horizon {
        horizon.ends.fill(None);
        horizon.running.fill(None);
        (horizon.service_due, horizon.service_running, horizon.ended_by) = (None, None, None);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::names::Part;

    /// Life of a part and running time until then, s, to a millionth.
    fn lives(of: &[PartUse], part: Part) -> Option<(f64, f64)> {
        let exact = |time: f64| (1e6 * time).round() / 1e6;
        let found = of.iter().find(|one| one.part == part).expect("every part");
        found.life.map(exact).zip(found.running.map(exact))
    }

    /// Four blocks of 1000 s each, of which 600 s ran until the last, and 500 s of that.
    #[test]
    fn a_repeated_block_gives_the_time_of_an_end_or_goes_on_at_its_last_rate() {
        let life = Some(9000.0);
        let mut found = Part::ALL.map(|part| PartUse { part, used: 0.0, life, running: None, curve: vec![] }).to_vec();
        let point = |time: f64, running: f64, washer: f64| {
            let mut used = Part::ALL.map(|_| 0.0).to_vec();
            used[Part::Washer as usize] = washer;
            used[Part::Spring as usize] = 0.3;
            LifePoint { time, running, used }
        };
        let (mut ends, mut running) = (vec![None; Part::COUNT], vec![None; Part::COUNT]);
        (ends[Part::Lining as usize], running[Part::Lining as usize]) = (Some(2500.0), Some(1500.0));
        let points = vec![
            point(1000.0, 600.0, 0.05),
            point(3500.0, 2100.0, 0.2),
            point(3700.0, 2220.0, 0.3),
            point(4000.0, 2370.0, 0.36),
        ];
        let blocks = points.clone();
        simulated(&mut found, &Horizon { points, ends, running, ..Horizon::default() }, &blocks);
        assert_eq!(lives(&found, Part::Lining), Some((2500.0, 1500.0)));
        // The last tenth, from 3500 s on: 0.16 of use in 500 s, 270 s of which ran.
        assert_eq!(lives(&found, Part::Washer), Some((4000.0 + 2000.0, 2370.0 + 1080.0)));
        assert_eq!(found.iter().find(|one| one.part == Part::Washer).map(|one| one.used), Some(0.36));
        assert_eq!(lives(&found, Part::Spring), Some((9000.0, 2370.0 + 2700.0)));
        assert_eq!(lives(&found, Part::Charring), None);
        let spring = &mut found[Part::Spring as usize];
        (spring.life, spring.running) = (Some(3000.0), None);
        let horizon =
            Horizon { points: vec![point(4000.0, 2370.0, 0.36)], ends: vec![None; Part::COUNT], ..Horizon::default() };
        simulated(&mut found, &horizon, &[]);
        assert_eq!([Part::Spring, Part::Washer].map(|part| lives(&found, part)), [None, None]);
        let one = vec![Some(1.0); Part::COUNT];
        let mut horizon = Horizon { ends: one.clone(), running: one, service_due: Some(1.0), ..horizon };
        unknown(&mut found, Some(&mut horizon));
        assert!(found.iter().all(|one| one.life.is_none()) && horizon.service_due.is_none());
        assert!(horizon.ends.iter().chain(&horizon.running).all(Option::is_none));
    }

    /// Blocks that ride for 100 s in two pieces, the first of which wears twice as much, and rest for the other 900 s: the rest is a
    /// piece of its own, and most of the calendar.
    #[test]
    fn the_rate_of_a_block_that_rests_is_that_of_the_whole_block() {
        let point = |time: f64, running: f64, washer: f64| {
            let mut used = Part::ALL.map(|_| 0.0).to_vec();
            used[Part::Washer as usize] = washer;
            LifePoint { time, running, used }
        };
        let begun = point(0.0, 0.0, 0.0);
        for count in [1, 2, 5, 30] {
            let (mut points, mut blocks) = (vec![begun.clone()], vec![begun.clone()]);
            for k in 0..count {
                let (time, ran, worn) = (1000.0 * f64::from(k), 100.0 * f64::from(k), 0.003 * f64::from(k));
                points.push(point(time + 50.0, ran + 50.0, worn + 0.002));
                points.push(point(time + 100.0, ran + 100.0, worn + 0.003));
                points.push(point(time + 1000.0, ran + 100.0, worn + 0.003));
                blocks.extend(points.last().cloned());
            }
            let lives_of = |points: &[LifePoint], blocks: &[LifePoint]| {
                let mut found =
                    Part::ALL.map(|part| PartUse { part, used: 0.0, life: None, running: None, curve: vec![] });
                let horizon = Horizon { points: points.to_vec(), ends: vec![None; Part::COUNT], ..Horizon::default() };
                simulated(&mut found, &horizon, blocks);
                found[Part::Washer as usize].running.map(f64::round)
            };
            // 0.003 in 100 s of running.
            assert_eq!(lives_of(&points, &blocks), Some(33333.0), "{count} blocks");
        }
    }
}

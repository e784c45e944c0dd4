//! How long a full bushing lasts in a use.

use super::answer::Lasts;
use super::plan::Wish;
use crate::duty::{End, Segment, Service, Task};
use crate::simulate::{Failure, Options, Simulation};

/// Fills at which the loss of an outing is measured.
pub(super) const FILLS: [f64; 4] = [1.0, 0.9, 0.8, 0.7];
/// Points of a curve, and the longest of ways, outings.
const POINTS: usize = 80;
const OUTINGS: f64 = 3653.0;

/// One outing: riding, then rest with the motor off.
fn outing(sim: &mut Simulation, wish: &Wish) -> Result<f64, Failure> {
    let start = sim.clock();
    wish.usage.ride(sim, wish.riding)?;
    let ridden = sim.clock() - start;
    sim.perform(&Segment::Ride(Task::Off, End::After(wish.rest)))?;
    Ok(ridden)
}

/// (mean fill, fill lost by an outing, riding of it s) at a fill.
fn loss(wish: &Wish, leak: f64, grease: f64, found: f64) -> Result<(f64, f64, f64), Failure> {
    let mut machine = wish.machine.clone();
    machine.oiling.leak = leak;
    let mut sim = Simulation::new(machine, Options { windows: 0, ..Options::default() })?;
    sim.perform(&Segment::Service(Service::Found(found)))?;
    if grease > 0.0 {
        sim.perform(&Segment::Service(Service::Grease(grease)))?;
    }
    // The first outing shares the oil out between pores, film and washer.
    outing(&mut sim, wish)?;
    let fill = |sim: &Simulation| {
        let film = sim.reading("film").unwrap_or(0.0) / sim.full_mass();
        (sim.reading("oil fill").unwrap_or(0.0), film)
    };
    let before = fill(&sim);
    let ridden = outing(&mut sim, wish)?;
    let after = fill(&sim);
    Ok((f64::midpoint(before.0, after.0), before.0 + before.1 - after.0 - after.1, ridden))
}

/// Follows the fill from full to the service by its loss of each outing, which changes slowly with the fill. Grease gives
/// what it takes from that loss until it is used up.
pub(super) fn lasts(wish: &Wish, (name, leak, grease): (&str, f64, f64), done: &dyn Fn()) -> Result<Lasts, Failure> {
    let loss = |grease: f64, found: &f64| loss(wish, leak, grease, *found).inspect(|_| done());
    let plain = FILLS.iter().map(|s| loss(0.0, s)).collect::<Result<Vec<_>, _>>()?;
    let greased = FILLS.iter().map(|s| loss(grease, s));
    let greased = if grease > 0.0 { greased.collect::<Result<Vec<_>, _>>()? } else { plain.clone() };
    let ridden = plain[0].2;
    let sim = Simulation::new(wish.machine.clone(), Options { windows: 0, ..Options::default() })?;
    let density = crate::laws::oil::density::<f64>(wish.machine.oil.density_15, 293.15);
    let mut reserve = grease * density / sim.full_mass();
    let due_at = wish.machine.limits.oil_service;
    let (mut s, mut outings, mut fill, mut due) = (1.0, 0.0, vec![(0.0, 1.0)], None);
    let step = (1.0 - due_at) / POINTS as f64;
    while outings < OUTINGS && due.is_none() && fill.len() < 50 * POINTS {
        let (bare, with) = (at(&plain, s), at(&greased, s));
        let given = if reserve > 0.0 { (bare - with).max(0.0) } else { 0.0 };
        let lost = bare - given;
        // So many outings that neither the fill nor the grease changes by much.
        let by_fill = step / lost.abs().max(1e-12);
        let by_grease = if given > 0.0 { reserve / given } else { f64::INFINITY };
        let n = by_fill.min(by_grease).clamp(1e-3, 0.02 * OUTINGS);
        let next = (s - n * lost).min(1.0);
        if next <= due_at {
            due = Some((outings + n * (s - due_at) / (s - next)) * ridden);
        }
        reserve -= n * given;
        outings += n;
        s = next.max(due_at);
        fill.push((due.unwrap_or(outings * ridden), s));
    }
    Ok(Lasts { name: name.to_owned(), leak, grease, fill, due })
}

/// Loss at a fill, straight between those measured.
fn at(measured: &[(f64, f64, f64)], fill: f64) -> f64 {
    let k = measured.iter().position(|m| m.0 <= fill).unwrap_or(measured.len() - 1).clamp(1, measured.len() - 1);
    let ((s0, l0, _), (s1, l1, _)) = (measured[k - 1], measured[k]);
    if (s1 - s0).abs() < 1e-12 {
        return l0;
    }
    let share = ((fill - s0) / (s1 - s0)).clamp(0.0, 1.0);
    l0 + share * (l1 - l0)
}

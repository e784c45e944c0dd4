//! Curves of motor and road load in the figure of the engagement, which machines that differ only in the clutch share, and
//! their names.

use crate::page::Cell;
use crate::sheet::prelude::*;
use crate::words::quantity::quantity;
use slipsoak_engine::names::distinct_by;
use slipsoak_engine::numerics::along;
use slipsoak_engine::parts::{Group, PARAMETERS, Parameter};
use slipsoak_engine::record::{Engagement, Run};
use slipsoak_engine::units::in_rpm;

/// A clutch of the record; runs of one machine share it.
pub(super) struct Spring<'a> {
    pub run: &'a Run,
    /// what the names of its runs have in common
    pub name: String,
    /// that run's index, if no other run shares the clutch
    pub of: Option<usize>,
    pub table: &'a Engagement,
    /// colour and dashes of its first run's machine
    pub hue: Hue,
}

/// One of the torques of a table.
pub(super) type Torque = fn(&Engagement) -> &Vec<f64>;

/// A kind of shared curve: its torque, its line, and its name with its place if there is one curve: a share of the curve's
/// length, a side and a distance, px.
pub(super) struct Kind {
    pub of: Torque,
    pub line: (Ink, f64, Dash),
    pub name: &'static str,
    pub place: (f64, i8, f64),
}

/// Shares of a curve's length and distances from it, px, at which its name may stand.
const SHARES: [f64; 9] = [0.92, 0.82, 0.72, 0.62, 0.52, 0.42, 0.32, 0.22, 0.12];
const RISES: [f64; 2] = [-11.0, 12.0];
/// Distance of two curves below which they share one name, px.
const CLOSE: f64 = 14.0;

/// A drawn curve with its name.
struct Named {
    points: Vec<Place>,
    words: String,
    kind: usize,
}

/// A torque over the motor's speed, rpm.
pub(super) fn points(table: &Engagement, torque: &[f64]) -> Vec<Place> {
    table.speed.iter().zip(torque).map(|(w, t)| (in_rpm(*w), *t)).collect()
}

/// Draws the curves of each kind that differ.
pub(super) fn lines(
    sheet: &Sheet<'_>,
    springs: &[Spring<'_>],
    kinds: &[Kind],
    (x, y): (&Axis, &Axis),
) -> Result<(), DrawError> {
    for kind in kinds {
        let (ink, width, dash) = kind.line;
        for k in differing(springs, kind.of) {
            let curve = points(springs[k].table, (kind.of)(springs[k].table));
            pieces(&curve, x, y).iter().try_for_each(|piece| sheet.line(piece, ink, width, dash))?;
        }
    }
    Ok(())
}

/// Writes the names of these curves: one of a kind at its place; several by what they differ in, where they cross least.
pub(super) fn names(
    sheet: &Sheet<'_>,
    springs: &[Spring<'_>],
    kinds: &[Kind],
    (x, y): (&Axis, &Axis),
) -> Result<(), DrawError> {
    let mut all: Vec<Named> = vec![];
    for (index, kind) in kinds.iter().enumerate() {
        let heights = |k: usize| (kind.of)(springs[k].table).iter().map(|t| y.within(*t));
        let close = |a: &usize, b: &usize| heights(*a).zip(heights(*b)).all(|(a, b)| (a - b).abs() < CLOSE);
        let drawn = distinct_by(differing(springs, kind.of), close);
        for (k, by) in drawn.iter().zip(by_what(springs, &drawn)) {
            let curve = points(springs[*k].table, (kind.of)(springs[*k].table));
            let points = curve.iter().map(|p| (x.within(p.0), y.within(p.1))).collect();
            let words = if by.is_empty() { kind.name.to_owned() } else { format!("{}, {by}", kind.name) };
            all.push(Named { points, words, kind: index });
        }
    }
    let clutches = springs.iter().map(|s| points(s.table, &s.table.capacity));
    let clutches = clutches.map(|curve| curve.iter().map(|p| (x.within(p.0), y.within(p.1))).collect::<Vec<_>>());
    let crossed: Vec<Vec<Place>> = all.iter().map(|named| named.points.clone()).chain(clutches).collect();
    let mut taken: Vec<Frame> = vec![];
    for named in &all {
        let (share, side, rise) = kinds[named.kind].place;
        let alone = all.iter().filter(|other| other.kind == named.kind).count() == 1;
        let set = Type::LABEL.side(if alone { side } else { 1 });
        let near = |share: f64, rise: f64| {
            let at = named.points[((share * named.points.len() as f64) as usize).min(named.points.len() - 1)];
            (at.0, at.1 + rise)
        };
        let wide = width_of(&named.words, set)?;
        let patch = |at: Place| {
            let left = if set.side > 0 { at.0 - wide } else { at.0 };
            Frame::between((left, at.1 - 9.0), (left + wide, at.1 + 9.0))
        };
        let (left, right) = x.ends();
        let free = |at: &Place| {
            let own = patch(*at);
            let apart =
                |t: &Frame| own.right < t.left || own.left > t.right || own.bottom < t.top || own.top > t.bottom;
            own.left > left && own.right < right && taken.iter().all(apart)
        };
        let at = if alone {
            Some(near(share, rise))
        } else {
            let places = SHARES.iter().flat_map(|share| RISES.map(|rise| near(*share, rise)));
            places.filter(free).min_by_key(|at| crossings(&crossed, patch(*at)))
        };
        // Among very many curves there is no room for every name.
        if let Some(at) = at {
            sheet.on_paper(&named.words, at, set)?;
            taken.push(patch(at));
        }
    }
    Ok(())
}

/// Number of places of curves within a patch.
fn crossings(curves: &[Vec<Place>], patch: Frame) -> usize {
    let within = |p: &Place| p.0 > patch.left && p.0 < patch.right && p.1 > patch.top && p.1 < patch.bottom;
    let between = |pair: &[Place]| {
        let (a, b) = (pair[0], pair[1]);
        (0..4).map(move |n| f64::from(n) / 4.0).map(move |s| (a.0 + s * (b.0 - a.0), a.1 + s * (b.1 - a.1)))
    };
    curves.iter().flat_map(|curve| curve.windows(2).flat_map(between)).filter(within).count()
}

/// The clutches whose curve of a torque differs from those before it.
fn differing(springs: &[Spring<'_>], of: Torque) -> Vec<usize> {
    distinct_by(0..springs.len(), |a, b| alike(springs[*a].table, springs[*b].table, of))
}

/// What curves differ by: the one setting of motor, vehicle and surroundings that does, else the machine; nothing for a
/// single curve.
fn by_what(springs: &[Spring<'_>], drawn: &[usize]) -> Vec<String> {
    let groups = [Group::Motor, Group::Vehicle, Group::Surroundings];
    let of = |k: usize, p: &Parameter| springs[k].run.setting(p);
    let differs = |p: &Parameter| drawn.iter().any(|k| of(*k, p) != of(drawn[0], p));
    let by: Vec<&Parameter> = PARAMETERS.iter().filter(|p| groups.contains(&p.group) && differs(p)).collect();
    let named = |k: usize| {
        let value = if let [p] = by[..] { of(k, p).map(|value| (p, quantity(value, p.dimension))) } else { None };
        match value {
            _ if drawn.len() < 2 => String::new(),
            Some((p, Cell::Words(value))) => format!("{} {}", p.name, value.text()),
            _ => springs[k].run.variant.clone(),
        }
    };
    drawn.iter().map(|k| named(*k)).collect()
}

/// Whether two tables hold the same curve.
fn alike(a: &Engagement, b: &Engagement, of: Torque) -> bool {
    let (one, other) = (points(a, of(a)), points(b, of(b)));
    one.iter().all(|p| (p.1 - along(&other, p.0)).abs() < 0.02)
}

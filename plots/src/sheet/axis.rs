//! A scale between two values, its round ticks, and curves cut to it.

use crate::words::number::number;

/// Ratio of the greatest to the least value above which a scale is logarithmic.
const WIDE: f64 = 30.0;

/// An axis: its range, and the positions of its ends on the sheet, px.
#[derive(Clone, Copy, Debug, Default)]
pub struct Axis {
    low: f64,
    high: f64,
    start: f64,
    end: f64,
    logarithmic: bool,
}

impl Axis {
    /// Linear scale from a lowest to a highest value; an empty range is widened.
    pub fn linear((low, high): (f64, f64), (start, end): (f64, f64)) -> Self {
        let low = if low.is_finite() { low.clamp(-1e15, 1e15) } else { 0.0 };
        let high = if high.is_finite() { high.clamp(-1e15, 1e15) } else { low + 1.0 };
        let high = if high - low > 1e-9 * low.abs().max(1e-6) { high } else { low + low.abs().max(1.0) };
        Self { low, high, start, end, logarithmic: false }
    }

    /// Logarithmic scale between two values above zero.
    pub fn logarithmic((low, high): (f64, f64), ends: (f64, f64)) -> Self {
        let power = |value: f64| value.clamp(1e-12, 1e15).log10();
        Self { logarithmic: true, ..Self::linear((power(low), power(high)), ends) }
    }

    /// Logarithmic scale of whole decades around two values above zero.
    pub fn decades((low, high): (f64, f64), ends: (f64, f64)) -> Self {
        let all = Self::logarithmic((low, high), ends);
        let low = all.low.floor();
        Self { low, high: all.high.ceil().max(low + 1.0), ..all }
    }

    /// Scale between two values: logarithmic if they are above zero and the greater is many times the lesser, or else
    /// linear.
    pub fn over((low, high): (f64, f64), ends: (f64, f64)) -> Self {
        if low > 0.0 && high > WIDE * low {
            Self::logarithmic((low, high), ends)
        } else {
            Self::linear((low, high), ends)
        }
    }

    /// Scale of all these values: whole decades if they are above zero and the greatest is many times the least, or else
    /// linear with round limits, about this many steps, that also include another value.
    pub fn fitting(values: impl IntoIterator<Item = f64>, also: f64, steps: f64, ends: (f64, f64)) -> Self {
        let (low, high) = extent(values);
        if Self::over((low, high), ends).logarithmic {
            Self::decades((low, high), ends)
        } else {
            Self::linear(rounded((low.min(also), high.max(also)), steps), ends)
        }
    }

    /// The same scale between other ends on the sheet, px.
    pub fn between(self, (start, end): (f64, f64)) -> Self {
        Self { start, end, ..self }
    }

    /// Positions of its ends, px.
    pub fn ends(&self) -> (f64, f64) {
        (self.start, self.end)
    }

    /// The value at a position, px.
    pub fn value(&self, at: f64) -> f64 {
        let value = self.low + (at - self.start) / (self.end - self.start) * (self.high - self.low);
        if self.logarithmic { 10f64.powf(value) } else { value }
    }

    /// A value, or its power of ten.
    fn scaled(&self, value: f64) -> f64 {
        if self.logarithmic { value.max(1e-300).log10() } else { value }
    }

    /// Position of a value, px; beyond the ends for a value out of range.
    pub fn at(&self, value: f64) -> f64 {
        let value = self.scaled(value);
        self.start + (value - self.low) / (self.high - self.low) * (self.end - self.start)
    }

    /// Position of a value, px, clamped to the ends.
    pub fn within(&self, value: f64) -> f64 {
        self.at(value).clamp(self.start.min(self.end), self.start.max(self.end))
    }

    /// Whether a value lies in range.
    pub fn holds(&self, value: f64) -> bool {
        let value = self.scaled(value);
        value >= self.low && value <= self.high
    }

    /// Round values, about this many, each with its label.
    pub fn ticks(&self, about: u32) -> Vec<(f64, String)> {
        if self.logarithmic {
            let skip = (((self.high - self.low) / f64::from(about)).ceil() as usize).max(1);
            let powers = (self.low.ceil() as i32..=self.high.floor() as i32).step_by(skip);
            return powers.map(|p| 10f64.powi(p)).map(|v| (v, number(v, v))).collect();
        }
        let step = round_step((self.high - self.low) / f64::from(about.max(1)));
        let first = (self.low / step - 1e-9).ceil();
        let last = (self.high / step + 1e-9).floor();
        let count = (last - first).clamp(0.0, 100.0) as u32;
        (0..=count).map(|k| (first + f64::from(k)) * step).map(|v| (v, number(v, step))).collect()
    }

    /// Round values on it, about this many: of powers of ten also twice and five times each.
    pub fn round(&self, about: u32) -> Vec<f64> {
        let plain = || self.ticks(about).into_iter().map(|tick| tick.0).collect();
        if !self.logarithmic || self.high - self.low > f64::from(about) {
            return plain();
        }
        let powers = self.low.floor() as i32..=self.high.ceil() as i32;
        let all = powers.flat_map(|power| [1.0, 2.0, 5.0].map(|times| times * 10f64.powi(power)));
        all.filter(|value| self.holds(*value)).collect()
    }

    /// The same part of the sheet in another unit.
    pub fn in_unit(&self, unit: impl Fn(f64) -> f64) -> Self {
        Self { low: unit(self.low), high: unit(self.high), ..*self }
    }
}

impl From<(f64, f64)> for Axis {
    /// A linear scale whose place on the sheet is not known yet.
    fn from(range: (f64, f64)) -> Self {
        Self::linear(range, (0.0, 1.0))
    }
}

/// Least and greatest of the finite values.
pub fn extent(values: impl IntoIterator<Item = f64>) -> (f64, f64) {
    let finite = values.into_iter().filter(|value| value.is_finite());
    finite.fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), value| (low.min(value), high.max(value)))
}

/// Round limits of about this many steps around a range; a thousandth of a step may remain outside.
pub fn rounded((low, high): (f64, f64), steps: f64) -> (f64, f64) {
    let step = round_step(((high - low) / steps).max(1e-9));
    ((low / step + 1e-3).floor() * step, (high / step - 1e-3).ceil() * step)
}

/// As `rounded`; values less than a twentieth of the range below zero do not put the axis's end below it.
pub fn rounded_at_zero((low, high): (f64, f64), steps: f64) -> (f64, f64) {
    let low = if low < 0.0 && low > -0.05 * (high - low) { 0.0 } else { low };
    rounded((low, high), steps)
}

/// The smallest of 1, 2, 5 × a power of ten that is no less than a step.
pub fn round_step(step: f64) -> f64 {
    let power = 10f64.powf(step.max(1e-300).log10().floor());
    [1.0, 2.0, 5.0, 10.0].into_iter().map(|m| m * power).find(|s| *s >= step * (1.0 - 1e-9)).unwrap_or(10.0 * power)
}

/// Pieces of a curve within two scales, px: broken where a value is not finite, clipped at the ends of the vertical
/// scale.
pub fn pieces(points: &[(f64, f64)], across: &Axis, up: &Axis) -> Vec<Vec<(f64, f64)>> {
    let mut all = vec![];
    let mut piece: Vec<(f64, f64)> = vec![];
    for pair in points.windows(2) {
        let cut = cut(pair[0], pair[1], across, up);
        if let Some((from, to)) = cut {
            if piece.last().is_none_or(|last| *last != from) {
                all.push(std::mem::replace(&mut piece, vec![from]));
            }
            piece.push(to);
        }
    }
    all.push(piece);
    all.retain(|p| p.len() > 1);
    all.iter().map(|piece| thinned(piece)).collect()
}

/// Width of the columns within which a curve is drawn by its first, lowest, highest and last point alone, px: finer than a
/// printed line.
const COLUMN: f64 = 0.25;

/// The same curve to the eye without the points between those.
fn thinned(piece: &[(f64, f64)]) -> Vec<(f64, f64)> {
    let column = |p: &(f64, f64)| (p.0 / COLUMN).floor();
    let mut kept = vec![];
    for one in piece.chunk_by(|a, b| column(a) == column(b)) {
        let last = one.len() - 1;
        let by_height = |a: &usize, b: &usize| one[*a].1.total_cmp(&one[*b].1);
        let lowest = (0..=last).min_by(by_height).unwrap_or(0);
        let highest = (0..=last).max_by(by_height).unwrap_or(last);
        let mut of = [0, lowest.min(highest), lowest.max(highest), last].to_vec();
        of.dedup();
        kept.extend(of.into_iter().map(|k| one[k]));
    }
    kept
}

/// The part of a line segment within two scales, px.
fn cut(a: (f64, f64), b: (f64, f64), across: &Axis, up: &Axis) -> Option<((f64, f64), (f64, f64))> {
    if ![a.0, a.1, b.0, b.1].iter().all(|v| v.is_finite()) {
        return None;
    }
    let (mut from, mut to) = (0.0, 1.0);
    for (p, q, axis) in [(a.0, b.0, across), (a.1, b.1, up)] {
        let (low, high) = (axis.value(axis.start), axis.value(axis.end));
        for (out_p, out_q) in [(low - p, low - q), (p - high, q - high)] {
            match (out_p > 0.0, out_q > 0.0) {
                (true, true) => return None,
                (true, false) => from = f64::max(from, out_p / (out_p - out_q)),
                (false, true) => to = f64::min(to, out_p / (out_p - out_q)),
                (false, false) => {}
            }
        }
    }
    let on = |s: f64| (across.within(a.0 + s * (b.0 - a.0)), up.within(a.1 + s * (b.1 - a.1)));
    (from <= to).then(|| (on(from), on(to)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dense_curve_keeps_the_ends_the_lowest_and_the_highest_of_each_column_in_order_and_a_coarse_one_all() {
        let coarse: Vec<(f64, f64)> = (0..9).map(|k| (f64::from(k), f64::from(k % 3))).collect();
        assert_eq!(thinned(&coarse), coarse);
        let dense: Vec<(f64, f64)> = (0..4000).map(|k| (f64::from(k) / 1000.0, f64::from(k * 7919 % 1000))).collect();
        let thin = thinned(&dense);
        assert!(thin.len() <= 4 * 16 && thin.windows(2).all(|p| p[0].0 < p[1].0), "{}", thin.len());
        for column in dense.chunks(250) {
            for wanted in
                [column.iter().map(|p| p.1).fold(f64::MAX, f64::min), column.iter().map(|p| p.1).fold(0.0, f64::max)]
            {
                assert!(thin.iter().any(|p| p.1 == wanted && p.0 >= column[0].0 && p.0 <= column[249].0), "{wanted}");
            }
        }
        assert_eq!((thin[0], thin[thin.len() - 1]), (dense[0], dense[3999]));
    }
}

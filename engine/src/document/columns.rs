//! Rows of channels as they are saved: for each channel a column of whole numbers, in steps of its own.
//!
//! A column has up to ten million steps between zero and its greatest value: seven digits, of which the model knows no
//! more than five. Numbers as they are computed have sixteen and make a file of three times the size.

use serde::{Deserialize, Serialize};

/// Greatest number of a column.
const MOST: f64 = 1e7;
/// Greatest number of steps per SI unit: powers of ten up to this are exact.
const FINEST: f64 = 1e22;

/// Steps per SI unit, a power of ten, for values of which the greatest is not beyond [`MOST`] steps.
fn steps(values: impl IntoIterator<Item = f64>) -> f64 {
    let most = values.into_iter().filter(|v| v.is_finite()).fold(0.0, |most: f64, v| most.max(v.abs()));
    let mut per = 1.0;
    while most > 0.0 && most * per * 10.0 <= MOST && per < FINEST {
        per *= 10.0;
    }
    while most * per > MOST {
        per /= 10.0;
    }
    per
}

/// A value to the nearest step.
fn rounded(value: f64, per: f64) -> f64 {
    (value * per).round() / per
}

/// Rounds a list of values of one kind to its own steps.
pub(super) fn round(values: &mut [f64]) {
    let per = steps(values.iter().copied());
    for value in values {
        *value = rounded(*value, per);
    }
}

/// Steps per SI unit of each channel over these rows.
pub(super) fn all_steps(rows: &[&[f64]]) -> Vec<f64> {
    let count = rows.iter().map(|row| row.len()).max().unwrap_or(0);
    (0..count).map(|k| steps(rows.iter().filter_map(|row| row.get(k).copied()))).collect()
}

/// Rounds rows, each channel to its steps.
pub(super) fn round_rows<'a>(rows: impl Iterator<Item = &'a mut Vec<f64>>) {
    let mut rows: Vec<&mut Vec<f64>> = rows.collect();
    let per = all_steps(&rows.iter().map(|row| row.as_slice()).collect::<Vec<_>>());
    for row in &mut rows {
        row.iter_mut().zip(&per).for_each(|(value, per)| *value = rounded(*value, *per));
    }
}

/// Rows as columns of steps.
pub(super) fn columns(rows: &[&[f64]], per: &[f64]) -> Vec<Vec<i64>> {
    let number = |row: &[f64], k: usize| (row.get(k).unwrap_or(&0.0) * per[k]).round() as i64;
    (0..per.len()).map(|k| rows.iter().map(|row| number(row, k)).collect()).collect()
}

/// Columns of steps as this many rows; an error if they have another number of them.
pub(super) fn rows(columns: &[Vec<i64>], per: &[f64], count: usize) -> Result<Vec<Vec<f64>>, String> {
    if columns.len() != per.len() || columns.iter().any(|column| column.len() != count) {
        return Err(format!("its columns have not {count} numbers of each channel"));
    }
    Ok((0..count).map(|r| columns.iter().zip(per).map(|(column, per)| column[r] as f64 / per).collect()).collect())
}

/// Distances between two sets of columns.
fn apart(from: &[Vec<i64>], to: &[Vec<i64>]) -> Vec<Vec<i64>> {
    let column = |(from, to): (&Vec<i64>, &Vec<i64>)| from.iter().zip(to).map(|(from, to)| to - from).collect();
    from.iter().zip(to).map(column).collect()
}

/// Extremes of every channel: a column for each, in the order of the channels. A value is its number divided by `per`.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
#[cfg_attr(feature = "schemas", derive(schemars::JsonSchema))]
#[serde(deny_unknown_fields)]
pub struct Spans {
    /// steps per SI unit of each channel
    per: Vec<f64>,
    /// time means, steps
    mean: Vec<Vec<i64>>,
    /// distances of the least values below the means, steps
    below: Vec<Vec<i64>>,
    /// distances of the greatest values above the means, steps
    above: Vec<Vec<i64>>,
}

/// Least, mean and greatest values as rows.
type Rows = [Vec<Vec<f64>>; 3];

impl Spans {
    pub(super) fn of<'a>(rows: [impl Iterator<Item = &'a Vec<f64>>; 3]) -> Self {
        let sets = rows.map(|rows| rows.map(Vec::as_slice).collect::<Vec<_>>());
        let per = all_steps(&sets.concat());
        let [least, mean, most] = sets.map(|rows| columns(&rows, &per));
        Self { below: apart(&least, &mean), above: apart(&mean, &most), mean, per }
    }

    pub(super) fn rows(&self, count: usize) -> Result<Rows, String> {
        let add = |sign: i64, by: &[Vec<i64>]| -> Vec<Vec<i64>> {
            let sum = |(mean, by): (&i64, &i64)| mean.saturating_add(by.saturating_mul(sign));
            self.mean.iter().zip(by).map(|(mean, by)| mean.iter().zip(by).map(sum).collect()).collect()
        };
        let [least, most] = [add(-1, &self.below), add(1, &self.above)];
        Ok([rows(&least, &self.per, count)?, rows(&self.mean, &self.per, count)?, rows(&most, &self.per, count)?])
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_that_is_not_finite_stays_so_that_the_result_is_refused() {
        let mut values = [1.0, f64::NAN, f64::INFINITY, 0.123_456_789];
        round(&mut values);
        assert!(values[1].is_nan() && values[2] == f64::INFINITY && values[3] == 0.123_456_8, "{values:?}");
    }
}

//! A regression of several targets on the ranks of readings: straight between bends, with products of columns.

use super::normal_quantile;

/// Bends of the regression for one, two and more columns of readings.
const BENDS: [usize; 3] = [5, 3, 1];
/// Ridge that holds columns apart which hardly differ, as a share of the number of rows.
const RIDGE: f64 = 1e-4;

/// Columns of readings as normal scores: that of the rank.
fn scores(rows: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let n = rows.len();
    let columns = rows.first().map_or(0, Vec::len);
    let mut scores = vec![vec![0.0; columns]; n];
    for column in 0..columns {
        let mut order: Vec<usize> = (0..n).collect();
        order.sort_by(|a, b| rows[*a][column].total_cmp(&rows[*b][column]));
        for (rank, row) in order.into_iter().enumerate() {
            scores[row][column] = normal_quantile((rank as f64 + 0.5) / n as f64);
        }
    }
    scores
}

/// What the regression is linear in, for each row.
pub(super) fn features(rows: &[Vec<f64>]) -> Vec<Vec<f64>> {
    let scores = scores(rows);
    let columns = rows.first().map_or(0, Vec::len);
    let bends = BENDS[columns.clamp(1, BENDS.len()) - 1];
    let bends: Vec<f64> = (1..=bends).map(|k| normal_quantile(k as f64 / (bends + 1) as f64)).collect();
    let one = |row: &Vec<f64>| {
        let mut made = vec![1.0];
        for (k, x) in row.iter().enumerate() {
            made.push(*x);
            made.extend(bends.iter().map(|bend| (x - bend).max(0.0)));
            made.extend(row[..k].iter().map(|other| x * other));
        }
        made
    };
    scores.iter().map(one).collect()
}

/// Least squares for several targets on some rows, by Cholesky's factor of the normal equations.
pub(super) fn fit<T: Iterator<Item = f64>>(
    features: &[Vec<f64>],
    rows: &[usize],
    count: usize,
    targets: impl Fn(usize) -> T,
) -> Vec<Vec<f64>> {
    let n = features.first().map_or(0, Vec::len);
    let mut normal = vec![vec![0.0; n]; n];
    let mut right = vec![vec![0.0; n]; count];
    for row in rows {
        let x = &features[*row];
        for i in 0..n {
            for j in 0..=i {
                normal[i][j] += x[i] * x[j];
            }
        }
        for (right, target) in right.iter_mut().zip(targets(*row)) {
            for (sum, x) in right.iter_mut().zip(x) {
                *sum += target * x;
            }
        }
    }
    for (i, row) in normal.iter_mut().enumerate() {
        row[i] += RIDGE * rows.len() as f64;
    }
    for i in 0..n {
        for j in 0..=i {
            let both: f64 = (0..j).map(|k| normal[i][k] * normal[j][k]).sum();
            let left = normal[i][j] - both;
            normal[i][j] = if i == j { left.max(f64::MIN_POSITIVE).sqrt() } else { left / normal[j][j] };
        }
    }
    for right in &mut right {
        for i in 0..n {
            let known: f64 = (0..i).map(|k| normal[i][k] * right[k]).sum();
            right[i] = (right[i] - known) / normal[i][i];
        }
        for i in (0..n).rev() {
            let known: f64 = (i + 1..n).map(|k| normal[k][i] * right[k]).sum();
            right[i] = (right[i] - known) / normal[i][i];
        }
    }
    right
}

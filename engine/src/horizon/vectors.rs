//! Vectors, and small linear systems.

/// Difference of two vectors.
pub(super) fn less(a: &[f64], b: &[f64]) -> Vec<f64> {
    a.iter().zip(b).map(|(a, b)| a - b).collect()
}

/// Scalar product.
pub(super) fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(a, b)| a * b).sum()
}

/// Length of a vector.
pub(super) fn norm(x: &[f64]) -> f64 {
    x.iter().map(|x| x * x).sum::<f64>().sqrt()
}

/// Solves a small linear system by Gauss–Jordan elimination with column pivoting; each row ends with its right-hand
/// side.
pub(super) fn solved(mut rows: Vec<Vec<f64>>) -> Vec<f64> {
    let m = rows.len();
    for i in 0..m {
        let pivot = (i..m).max_by(|&a, &b| rows[a][i].abs().total_cmp(&rows[b][i].abs())).unwrap_or(i);
        rows.swap(i, pivot);
        let row: Vec<f64> = rows[i].iter().map(|x| x / rows[i][i]).collect();
        for other in rows.iter_mut().enumerate().filter_map(|(j, other)| (j != i).then_some(other)) {
            let by = other[i];
            other.iter_mut().zip(&row).for_each(|(x, y)| *x -= by * y);
        }
        rows[i] = row;
    }
    rows.iter().map(|row| row[m]).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn linear_equations_with_a_zero_first_pivot_are_solved() {
        // 2y = 4, x + y = 5
        assert_eq!(solved(vec![vec![0.0, 2.0, 4.0], vec![1.0, 1.0, 5.0]]), [3.0, 2.0]);
    }
}

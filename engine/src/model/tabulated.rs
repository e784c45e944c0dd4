//! Laws of one temperature, tabulated: cubics between their exact values and slopes.

use crate::real::{Dual, Real};

/// M laws on cells of 1 K from a first temperature on.
#[derive(Clone, Debug, Default)]
pub(crate) struct Tabulated<const M: usize> {
    first: f64,
    /// coefficients of each law's cubic in each cell
    cells: Vec<[[f64; 4]; M]>,
}

impl<const M: usize> Tabulated<M> {
    /// Tables of laws over so many kelvin from a first temperature on, K.
    ///
    /// Cubic by Hermite: with its slope continuous. Errs by (Δ d/dT)⁴/384 of a law that grows as e^(T/Δ), Δ in K: 2e-9 where it
    /// doubles within 20 K.
    pub fn of(first: f64, cells: usize, laws: impl Fn(Dual<1>) -> [Dual<1>; M]) -> Self {
        let nodes: Vec<_> = (0..=cells).map(|k| laws(Dual::variable(first + k as f64, 0))).collect();
        let cubic = |a: Dual<1>, b: Dual<1>| {
            let ([from, to], rise) = ([a.d[0], b.d[0]], b.v - a.v);
            [a.v, from, 3.0 * rise - 2.0 * from - to, from + to - 2.0 * rise]
        };
        let cell = |pair: &[[Dual<1>; M]]| std::array::from_fn(|law| cubic(pair[0][law], pair[1][law]));
        Self { first, cells: nodes.windows(2).map(cell).collect() }
    }

    /// A law at a temperature, K; nothing beyond the table.
    #[inline]
    pub fn at<R: Real>(&self, law: usize, t: R) -> Option<R> {
        let along = t.value() - self.first;
        let whole = along as u32;
        // What lies below the table is cut to the first cell.
        let cell = self.cells.get(whole as usize).filter(|_| along >= 0.0)?;
        let ([a, b, c, d], x) = (cell[law], along - f64::from(whole));
        Some(t.chain(a + x * (b + x * (c + x * d)), b + x * (2.0 * c + x * (3.0 * d))))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_table_holds_an_exponential_to_the_error_of_its_cubics_and_nothing_beyond_its_ends() {
        let table = Tabulated::of(273.0, 100, |t| [(t / 30.0).exp()]);
        for t in [273.0, 300.4, 372.9_f64] {
            let found = table.at(0, t).expect("within") / (t / 30.0).exp() - 1.0;
            assert!(found.abs() < 4e-9, "{found:e} at {t} K");
        }
        assert_eq!([272.9, 373.1, f64::NAN].map(|t| table.at(0, t)), [None; 3]);
    }
}

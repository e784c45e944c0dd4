//! What readings tell of unknowns, where all depends linearly on normal unknowns: exact, and quick.

/// Covariance of some unknowns after readings, and the bits that the readings tell.
#[derive(Clone, Debug, PartialEq)]
pub struct Learnt {
    /// covariance of the unknowns, square
    pub covariance: Vec<Vec<f64>>,
    /// information, bits
    pub bits: f64,
}

impl Learnt {
    /// What is known beforehand: independent unknowns with these standard deviations.
    pub fn prior(deviations: &[f64]) -> Self {
        let n = deviations.len();
        let entry = |i: usize, j: usize| if i == j { deviations[i] * deviations[i] } else { 0.0 };
        Self { covariance: (0..n).map(|i| (0..n).map(|j| entry(i, j)).collect()).collect(), bits: 0.0 }
    }

    /// What is known after one more reading, of which `slopes` are the derivatives by the unknowns and `noise` is the standard
    /// deviation of its error, in the reading's unit.
    ///
    /// ```text
    /// C ← C − C j jᵀ C/(jᵀ C j + r²),   bits ← bits + ½ log₂(1 + jᵀ C j/r²)
    /// ```
    /// Reading by reading this is (P⁻¹ + Jᵀ R⁻¹ J)⁻¹ and ½ log₂(|P|/|C|), by the matrix inversion lemma. Exact for linear
    /// readings of normal unknowns; where readings saturate or a law changes it promises too much. Errors are independent. Source:
    /// D. V. Lindley, Annals of Mathematical Statistics 27 (1956) 986, for the information; the rest is algebra.
    /// ```
    /// use slipsoak_engine::statistics::Learnt;
    /// // One reading as uncertain as what was known halves the variance and tells half a bit.
    /// let learnt = Learnt::prior(&[2.0]).read(&[1.0], 2.0);
    /// assert!((learnt.covariance[0][0] - 2.0).abs() < 1e-12 && (learnt.bits - 0.5).abs() < 1e-12);
    /// ```
    #[must_use]
    pub fn read(mut self, slopes: &[f64], noise: f64) -> Self {
        let along: Vec<f64> = self.covariance.iter().map(|row| dot(row, slopes)).collect();
        let (told, noise) = (dot(&along, slopes), noise * noise);
        for (row, own) in self.covariance.iter_mut().zip(&along) {
            for (entry, other) in row.iter_mut().zip(&along) {
                *entry -= own * other / (told + noise);
            }
        }
        self.bits += 0.5 * libm::log2(1.0 + told / noise);
        self
    }

    /// Standard deviation of a quantity with these derivatives by the unknowns.
    pub fn deviation(&self, slopes: &[f64]) -> f64 {
        let along: Vec<f64> = self.covariance.iter().map(|row| dot(row, slopes)).collect();
        dot(&along, slopes).max(0.0).sqrt()
    }
}

fn dot(a: &[f64], b: &[f64]) -> f64 {
    a.iter().zip(b).map(|(x, y)| x * y).sum()
}

#[cfg(test)]
mod tests {
    use super::*;

    fn near(value: f64, wanted: f64) {
        assert!((value - wanted).abs() < 1e-5 * wanted.abs().max(0.1), "{value}, {wanted}");
    }

    #[test]
    fn two_weighings_of_a_drum_narrow_a_factor_of_18_to_one_of_1_58() {
        // Closed form: 1/√(1/1.757221² + 25²/(2·5²)); ½ log₂ of the ratio of variances.
        let learnt = Learnt::prior(&[1.757_221]).read(&[25.0], 5.0 * std::f64::consts::SQRT_2);
        near(learnt.deviation(&[1.0]), 0.279_248);
        near(libm::exp(1.644_854 * learnt.deviation(&[1.0])), 1.583);
        near(learnt.bits, 2.653_675);
    }

    #[test]
    fn a_second_duty_separates_what_repeating_the_first_cannot() {
        // Closed forms of two unknowns, by inverting the 2 × 2 matrix of information.
        let prior = Learnt::prior(&[0.625_964, 0.421_404]);
        let once = prior.clone().read(&[1.0, 0.36], 0.1);
        let twice = once.clone().read(&[1.0, 0.36], 0.1);
        let other = once.clone().read(&[1.0, 0.66], 0.1);
        for (learnt, b, answer) in
            [(&once, 0.409_831, 0.141_991), (&twice, 0.409_691, 0.122_368), (&other, 0.304_478, 0.076_151)]
        {
            near(learnt.deviation(&[0.0, 1.0]), b);
            near(learnt.deviation(&[1.0, 0.6]), answer);
        }
        near(prior.deviation(&[1.0, 0.6]), 0.675_100);
    }

    #[test]
    fn two_readings_of_which_neither_tells_alone_may_tell_together() {
        // Closed forms: a with deviation 1, a nuisance c with 3; readings a + c, c, and a by itself, roughly.
        let prior = Learnt::prior(&[1.0, 3.0]);
        let [a, b, c] = [([1.0, 1.0], 0.1), ([0.0, 1.0], 0.1), ([1.0, 0.0], 0.8)];
        let after = |rows: &[([f64; 2], f64)]| {
            let learnt = rows.iter().fold(prior.clone(), |known, (slopes, noise)| known.read(slopes, *noise));
            learnt.deviation(&[1.0, 0.0])
        };
        near(after(&[a]), 0.948_736);
        near(after(&[b]), 1.0);
        near(after(&[c]), 0.624_695);
        near(after(&[a, c]), 0.611_591);
        near(after(&[a, b]), 0.139_990);
        near(after(&[b, a]), 0.139_990);
    }

    #[test]
    fn the_best_two_times_of_a_consecutive_reaction_are_the_published_ones() {
        // A → B → C with rates 0.7 and 0.2 per minute, B read twice: 1.23 and 6.86 min by G. E. P. Box and H. L. Lucas, Biometrika 46
        // (1959) 77 (from memory); 1.22948 and 6.85771 by maximising the determinant in closed form.
        let slopes = |t: f64| {
            let (p, q): (f64, f64) = (0.7, 0.2);
            let (a, b) = ((-p * t).exp(), (-q * t).exp());
            let by_p = -q / (p - q).powi(2) * (b - a) + p / (p - q) * t * a;
            let by_q = p / (p - q).powi(2) * (b - a) - p / (p - q) * t * b;
            [by_p, by_q]
        };
        // Wide priors: bits differ by ½ log₂ of the determinant of the information.
        let bits = |t: [f64; 2]| t.iter().fold(Learnt::prior(&[1e4, 1e4]), |l, t| l.read(&slopes(*t), 1e-3)).bits;
        let best = [1.229_48, 6.857_71];
        for k in 0..2 {
            for step in [-0.02, 0.02] {
                let mut beside = best;
                beside[k] += step;
                assert!(bits(beside) < bits(best), "{beside:?}");
            }
        }
    }

    #[test]
    fn another_reading_never_widens_anything() {
        let mut learnt = Learnt::prior(&[1.0, 0.3, 2.0]);
        for reading in [[1.0, 2.0, -0.5], [0.0, 1.0, 1.0], [3.0, 0.0, 0.1], [1.0, 2.0, -0.5]] {
            let after = learnt.clone().read(&reading, 0.4);
            for of in [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.3, -2.0, 1.0], [1.0, 1.0, 1.0]] {
                assert!(after.deviation(&of) <= learnt.deviation(&of) + 1e-12);
            }
            learnt = after;
        }
    }
}

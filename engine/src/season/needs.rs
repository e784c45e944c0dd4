//! What sampled seasons say of a shop's needs.

use crate::document::season::{Amount, Difference, Need};
use crate::names::Part;
use crate::statistics::percentile;

/// Confidence of limits.
const CONFIDENCE: f64 = 0.9;

fn mean(values: &[f64]) -> f64 {
    values.iter().sum::<f64>() / values.len().max(1) as f64
}

/// Variance of a sample, by one less than its size.
fn variance(values: &[f64]) -> f64 {
    let middle = mean(values);
    values.iter().map(|value| (value - middle).powi(2)).sum::<f64>() / (values.len().max(2) - 1) as f64
}

fn sorted(values: &[f64]) -> Vec<f64> {
    let mut all = values.to_vec();
    all.sort_by(f64::total_cmp);
    all
}

/// The value that this share of a sample does not exceed: the smallest with at least that share at or below it.
///
/// ```
/// use slipsoak_engine::season::enough;
/// assert_eq!([enough(&[1.0, 2.0, 3.0, 4.0], 0.5), enough(&[1.0, 2.0, 3.0, 4.0], 0.9)], [2.0, 4.0]);
/// ```
pub fn enough(values: &[f64], share: f64) -> f64 {
    let all = sorted(values);
    let rank = (share * all.len() as f64 - 1e-9).ceil().max(1.0) as usize;
    all.get(rank - 1).copied().unwrap_or(0.0)
}

/// Mean, its standard error, and the value that 9 in 10 do not exceed.
pub fn amount(values: &[f64]) -> Amount {
    let error = (variance(values) / values.len().max(1) as f64).sqrt();
    Amount { mean: mean(values), error, nine_tenths: enough(values, 0.9) }
}

/// Demands of one part in one season.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Demands {
    /// days of the demands, in their order
    pub days: Vec<u64>,
    /// demands of each cart
    pub carts: Vec<f64>,
}

impl Demands {
    /// Smallest stock with which no cart waits, if each part is reordered and arrives after a lead time, in days: the most demands
    /// within one lead time; all without reordering. Exact.
    ///
    /// ```
    /// use slipsoak_engine::season::Demands;
    /// let demands = Demands { days: vec![3, 5, 20, 22, 24], carts: vec![] };
    /// assert_eq!([demands.stock(None), demands.stock(Some(10)), demands.stock(Some(2))], [5, 3, 1]);
    /// ```
    pub fn stock(&self, lead: Option<u64>) -> u64 {
        let one = |k: usize| 1 + self.outstanding(k, lead);
        (0..self.days.len()).map(one).max().unwrap_or(0)
    }

    /// Parts on order when a demand comes.
    fn outstanding(&self, k: usize, lead: Option<u64>) -> u64 {
        let still = |day: &&u64| lead.is_none_or(|lead| **day + lead > self.days[k]);
        self.days[..k].iter().filter(still).count() as u64
    }

    /// Number of demands met at once by a stock.
    fn met(&self, stock: u64, lead: Option<u64>) -> u64 {
        (0..self.days.len()).filter(|k| self.outstanding(*k, lead) < stock).count() as u64
    }
}

/// Needs of a part over sampled seasons.
pub fn need(part: Part, seasons: &[&Demands], lead: Option<u64>) -> Need {
    let totals: Vec<f64> = seasons.iter().map(|one| one.days.len() as f64).collect();
    let stocks: Vec<f64> = seasons.iter().map(|one| one.stock(lead) as f64).collect();
    let stock = enough(&stocks, 0.9) as u64;
    let all: f64 = totals.iter().sum();
    let met: u64 = seasons.iter().map(|one| one.met(stock, lead)).sum();
    let ends: Vec<Option<f64>> = totals.iter().copied().map(Some).collect();
    let bounds = percentile(&ends, 0.9, CONFIDENCE);
    let nine_tenths = enough(&totals, 0.9);
    let Amount { mean, error, .. } = amount(&totals);
    // The variance of a sum of carts that share nothing is the sum of theirs within a season.
    let apart: Vec<f64> = seasons.iter().map(|one| one.carts.len() as f64 * variance(&one.carts)).collect();
    let spread = variance(&totals);
    let common = if spread > 0.0 && seasons.iter().all(|one| one.carts.len() > 1) {
        (1.0 - self::mean(&apart) / spread).clamp(0.0, 1.0)
    } else {
        0.0
    };
    Need {
        part,
        mean,
        error,
        half: enough(&totals, 0.5) as u64,
        nine_tenths: nine_tenths as u64,
        low: bounds.low.unwrap_or(0.0) as u64,
        high: bounds.high.unwrap_or_else(|| enough(&totals, 1.0)) as u64,
        most: enough(&totals, 0.95) as u64,
        stock,
        met_at_once: if all > 0.0 { met as f64 / all } else { 1.0 },
        common,
    }
}

/// Share of seasons in which no part, in the order of these numbers, needs more than its number.
pub fn suffices(seasons: &[&[Demands]], numbers: &[u64]) -> f64 {
    let all = |one: &&&[Demands]| one.iter().zip(numbers).all(|(part, number)| part.days.len() as u64 <= *number);
    seasons.iter().filter(all).count() as f64 / seasons.len().max(1) as f64
}

/// Difference of two policies, season for season: other less first.
pub fn difference(first: &[f64], other: &[f64]) -> Difference {
    let less: Vec<f64> = first.iter().zip(other).map(|(first, other)| other - first).collect();
    let Amount { mean, error, .. } = amount(&less);
    let share = |holds: fn(&f64) -> bool| less.iter().filter(|by| holds(by)).count() as f64 / less.len().max(1) as f64;
    Difference { mean, error, first_less: share(|by| *by > 0.0), other_less: share(|by| *by < 0.0) }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A season for each of these numbers of demands, all on different days.
    fn seasons(counts: &[u64]) -> Vec<Demands> {
        counts.iter().map(|n| Demands { days: (0..*n).collect(), carts: vec![*n as f64, 0.0] }).collect()
    }

    /// Numbers whose shares are those of a distribution.
    fn spread(shares: impl Fn(u64) -> f64) -> Vec<u64> {
        (0..60).flat_map(|n| std::iter::repeat_n(n, (1e4 * shares(n)).round() as usize)).collect()
    }

    /// Exact: Poisson demands of mean 3.2 by themselves, and with a gamma common factor of coefficient of variation ½ and 1, which
    /// makes them negative binomial.
    #[test]
    fn stock_for_a_season_without_reordering_is_the_quantile_of_the_need() {
        let poisson = |n: u64| libm::exp(-3.2 + n as f64 * 3.2_f64.ln() - libm::lgamma(n as f64 + 1.0));
        let gamma = |cv: f64| {
            let r = 1.0 / (cv * cv);
            move |n: u64| {
                let n = n as f64;
                let ways = libm::lgamma(n + r) - libm::lgamma(n + 1.0) - libm::lgamma(r);
                libm::exp(ways + r * (r / (r + 3.2)).ln() + n * (3.2 / (r + 3.2)).ln())
            }
        };
        let cases: [(Vec<u64>, [u64; 3], f64); 3] = [
            (spread(poisson), [3, 6, 6], 3.2),
            (spread(gamma(0.5)), [3, 6, 8], 5.76),
            (spread(gamma(1.0)), [2, 8, 11], 13.44),
        ];
        for (counts, exact, variance) in cases {
            let all = seasons(&counts);
            let need = need(Part::Washer, &all.iter().collect::<Vec<_>>(), None);
            assert_eq!([need.half, need.nine_tenths, need.most], exact);
            assert_eq!(need.stock, need.nine_tenths);
            let found = need.error.powi(2) * counts.len() as f64;
            // Shares are rounded to 1e-4.
            assert!((found / variance - 1.0).abs() < 0.01, "{found}");
        }
    }

    /// Two parts that are needed in different seasons: each number is enough in 9 of 10 of them, both together in 8; where they are
    /// needed in the same seasons, in 9.
    #[test]
    fn numbers_of_which_each_is_enough_in_nine_seasons_of_ten_are_enough_together_in_fewer() {
        let part = |many: u64| seasons(&(0..10).map(|k| if k == many { 7 } else { 2 }).collect::<Vec<_>>());
        for (other, share) in [(4, 0.8), (3, 0.9)] {
            let (one, two) = (part(3), part(other));
            let both: Vec<[Demands; 2]> = one.iter().zip(&two).map(|(a, b)| [a.clone(), b.clone()]).collect();
            let number = |all: &[Demands]| need(Part::Washer, &all.iter().collect::<Vec<_>>(), None).nine_tenths;
            let numbers = [number(&one), number(&two)];
            assert_eq!(numbers, [2, 2]);
            let all: Vec<&[Demands]> = both.iter().map(|one| &one[..]).collect();
            assert!((suffices(&all, &numbers) - share).abs() < 1e-12);
        }
    }

    /// Ranks of distribution-free 90 % limits of 200 values: exact binomial.
    #[test]
    fn limits_of_the_need_lie_at_their_ranks() {
        let all: Vec<Option<f64>> = (1..=200).map(|k| Some(f64::from(k))).collect();
        for (share, ranks) in [(0.5, (88.0, 113.0)), (0.9, (173.0, 188.0)), (0.95, (185.0, 196.0))] {
            let bounds = percentile(&all, share, CONFIDENCE);
            assert_eq!((bounds.low, bounds.high), (Some(ranks.0), Some(ranks.1)), "{share}");
        }
    }

    /// Poisson demands of mean 3.2 in a lead time: one that finds less than 5 on order of a stock of 5 is met at once, P(N ≤ 4)
    /// = 0.780613. Exact; C. C. Palm's theorem as used by Sherbrooke, Operations Research 16 (1968), abstract.
    #[test]
    fn the_share_met_at_once_is_that_of_poisson_demands() {
        let lead = 32_000;
        let run = |seed: u64| {
            let gap = |k: u64| -1e4 * (1.0 - crate::spread::deviate(seed, k, "gap")).ln();
            let mut time = 0.0;
            let mut next = |k| {
                time += gap(k);
                time as u64
            };
            let demands = Demands { days: (0..4000).map(&mut next).collect(), carts: vec![] };
            demands.met(5, Some(lead)) as f64 / 4000.0
        };
        let share = (0..20).map(run).sum::<f64>() / 20.0;
        // 80 000 demands, alike within some lead times: a standard error of 0.004.
        assert!((share - 0.780_613).abs() < 0.012, "{share}");
    }

    #[test]
    fn more_stock_meets_more_at_once_and_a_policy_against_itself_differs_by_nothing() {
        let demands = Demands { days: vec![1, 2, 2, 9, 30], carts: vec![] };
        let met: Vec<u64> = (0..6).map(|stock| demands.met(stock, Some(8))).collect();
        assert_eq!(met, [0, 2, 3, 5, 5, 5]);
        let own = difference(&[1.0, 4.0, 2.0], &[1.0, 4.0, 2.0]);
        assert_eq!(own, Difference::default());
    }

    #[test]
    fn what_is_common_to_all_carts_is_found_in_the_spread_of_their_needs() {
        // Carts that are all alike in a season, and carts that differ while their sum does not.
        let alike: Vec<Demands> =
            (0..50).map(|k| Demands { days: vec![0; 12 * (k % 3)], carts: vec![(k % 3) as f64; 12] }).collect();
        let common = need(Part::Lining, &alike.iter().collect::<Vec<_>>(), None).common;
        assert!(common > 0.99, "{common}");
        let apart: Vec<Demands> = (0..50_usize)
            .map(|k| Demands { days: vec![0; 5 + k % 3], carts: vec![(5 + k % 3) as f64, 0.0, 0.0] })
            .collect();
        assert_eq!(need(Part::Lining, &apart.iter().collect::<Vec<_>>(), None).common, 0.0);
    }
}

//! Least squares compared with certified results, and data that do not determine a constant.
//!
//! Data: NIST Statistical Reference Datasets (StRD), nonlinear regression, all 27 sets; the certified values are computed
//! there to 11 digits.

use slipsoak_engine::calibrate::{Constant, Effort, Inseparable, Measured, Noise, Scale, fit, separate};
use slipsoak_engine::numerics::{Dual, Real};
use std::convert::Infallible;
use std::f64::consts::PI;
use std::fs;

/// One set: predictors and responses.
struct Set {
    name: String,
    y: Vec<f64>,
    x: Vec<[f64; 2]>,
}

/// Certified values of a set.
struct Certified {
    starts: [Vec<f64>; 2],
    values: Vec<f64>,
    deviations: Vec<f64>,
    sum: f64,
}

fn number(text: &str) -> f64 {
    text.parse().unwrap_or_else(|_| panic!("{text} is a number"))
}

fn read(name: &str) -> Set {
    let text = fs::read_to_string(format!("tests/published/strd/{}.csv", name.to_lowercase())).expect(name);
    let rows: Vec<Vec<f64>> = text.lines().skip(1).map(|l| l.split(',').map(number).collect()).collect();
    // Nelson's model is for the logarithm of the response.
    let y = rows.iter().map(|r| if name == "Nelson" { r[0].ln() } else { r[0] }).collect();
    let x = rows.iter().map(|r| [r[1], r.get(2).copied().unwrap_or(0.0)]).collect();
    Set { name: name.to_owned(), y, x }
}

fn certified() -> Vec<(String, Certified)> {
    let text = fs::read_to_string("tests/published/strd/certified.csv").expect("the certified values");
    let mut all: Vec<(String, Certified)> = vec![];
    for row in text.lines().filter(|l| !l.starts_with('#')).skip(1).map(|l| l.split(',').collect::<Vec<_>>()) {
        if all.last().is_none_or(|(name, _)| name != row[0]) {
            let none = Certified { starts: [vec![], vec![]], values: vec![], deviations: vec![], sum: f64::NAN };
            all.push((row[0].to_owned(), none));
        }
        let of = &mut all.last_mut().expect("just pushed").1;
        if row[1] == "sum of squares" {
            of.sum = number(row[4]);
        } else {
            of.starts[0].push(number(row[2]));
            of.starts[1].push(number(row[3]));
            of.values.push(number(row[4]));
            of.deviations.push(number(row[5]));
        }
    }
    all
}

/// The laws of NIST's sets, in the order of its pages.
fn law<T: Real>(name: &str, b: &[T], x: [f64; 2]) -> T {
    let [x, x2] = x;
    let of = |v: f64| T::from(v);
    let cos = |a: T| a.chain(a.value().cos(), -a.value().sin());
    let sin = |a: T| a.chain(a.value().sin(), a.value().cos());
    let bell = |height: T, middle: T, width: T| {
        let z = (-middle + x) / width;
        height * (-(z * z)).exp()
    };
    let fade = |height: T, rate: T| height * (-rate * x).exp();
    let power = |base: T, exponent: T| (base.ln() * exponent).exp();
    let ratio = |up: &[T], down: &[T]| {
        let up = up.iter().rev().fold(of(0.0), |sum, c| sum * x + *c);
        up / (down.iter().rev().fold(of(0.0), |sum, c| sum * x + *c) * x + 1.0)
    };
    match name {
        "Misra1a" | "BoxBOD" => b[0] * (-(-b[1] * x).exp() + 1.0),
        "Misra1b" => b[0] * (-power(b[1] * (x / 2.0) + 1.0, of(-2.0)) + 1.0),
        "Misra1c" => b[0] * (-power(b[1] * (2.0 * x) + 1.0, of(-0.5)) + 1.0),
        "Misra1d" => b[0] * b[1] * x / (b[1] * x + 1.0),
        "Chwirut1" | "Chwirut2" => (-b[0] * x).exp() / (b[1] + b[2] * x),
        "Lanczos1" | "Lanczos2" | "Lanczos3" => fade(b[0], b[1]) + fade(b[2], b[3]) + fade(b[4], b[5]),
        "Gauss1" | "Gauss2" | "Gauss3" => fade(b[0], b[1]) + bell(b[2], b[3], b[4]) + bell(b[5], b[6], b[7]),
        "DanWood" => b[0] * power(of(x), b[1]),
        "Kirby2" => ratio(&b[..3], &b[3..]),
        "Hahn1" | "Thurber" => ratio(&b[..4], &b[4..]),
        "Nelson" => b[0] - b[1] * x * (-b[2] * x2).exp(),
        "MGH17" => b[0] + fade(b[1], b[3]) + fade(b[2], b[4]),
        "MGH09" => b[0] * (b[1] * x + x * x) / (b[2] * x + x * x + b[3]),
        "MGH10" => b[0] * (b[1] / (b[2] + x)).exp(),
        "Roszman1" => {
            let q = b[2] / (-b[3] + x);
            b[0] - b[1] * x - q.chain(q.value().atan(), 1.0 / (1.0 + q.value().powi(2))) / PI
        }
        "ENSO" => {
            let turn = |cosine: T, sine: T, period: T| {
                let angle = of(2.0 * PI * x) / period;
                cosine * cos(angle) + sine * sin(angle)
            };
            b[0] + turn(b[1], b[2], of(12.0)) + turn(b[4], b[5], b[3]) + turn(b[7], b[8], b[6])
        }
        "Rat42" => b[0] / ((b[1] - b[2] * x).exp() + 1.0),
        "Rat43" => b[0] * power((b[1] - b[2] * x).exp() + 1.0, of(-1.0) / b[3]),
        "Eckerle4" => {
            let z = (-b[2] + x) / b[1];
            b[0] / b[1] * (z * z * -0.5).exp()
        }
        "Bennett5" => b[0] * power(b[1] + x, of(-1.0) / b[2]),
        other => panic!("no law for {other}"),
    }
}

impl Measured for Set {
    type Error = Infallible;
    fn residuals(&self, constants: &[f64]) -> Result<Vec<f64>, Infallible> {
        Ok(self.x.iter().zip(&self.y).map(|(x, y)| law(&self.name, constants, *x) - y).collect())
    }
    fn slopes(&self, constants: &[f64]) -> Result<Vec<Vec<f64>>, Infallible> {
        let b: Vec<Dual<9>> = constants.iter().enumerate().map(|(k, v)| Dual::variable(*v, k)).collect();
        let rows: Vec<[f64; 9]> = self.x.iter().map(|x| law(&self.name, &b, *x).d).collect();
        Ok((0..constants.len()).map(|k| rows.iter().map(|r| r[k]).collect()).collect())
    }
}

fn constants(start: &[f64]) -> Vec<Constant> {
    let one =
        |(k, v): (usize, &f64)| Constant { name: format!("b{}", k + 1), start: *v, scale: Scale::Plain, known: None };
    start.iter().enumerate().map(one).collect()
}

/// Number of digits that agree, for the worst of some values.
fn digits(found: &[f64], right: &[f64]) -> f64 {
    found.iter().zip(right).map(|(a, b)| -(a / b - 1.0).abs().max(1e-16).log10()).fold(16.0, f64::min)
}

#[test]
fn the_carried_data_have_their_certified_sums_of_squares() {
    let all = certified();
    assert_eq!(all.len(), 27);
    for (name, c) in &all {
        let sum: f64 = read(name).residuals(&c.values).unwrap().iter().map(|r| r * r).sum();
        // Certified values have 11 digits: Lanczos1 leaves residuals of 1e-13, smaller than their rounding.
        let allowed = if name == "Lanczos1" { 1e6 } else { 1e-5 };
        assert!((sum / c.sum - 1.0).abs() < allowed, "{name}: {sum:e} for {:e}", c.sum);
    }
}

#[test]
fn all_27_certified_fits_are_found_from_their_second_start() {
    for (name, c) in certified() {
        let set = read(&name);
        let fitted = fit(&set, &constants(&c.starts[1]), Effort::default(), Noise::Seen).expect(&name);
        assert!(digits(&fitted.values, &c.values) >= 6.0, "{name}: {:?} for {:?}", fitted.values, c.values);
        // Lanczos1 has no scatter except rounding.
        if name != "Lanczos1" {
            let found = digits(&fitted.errors, &c.deviations);
            assert!(found >= 4.0, "{name}: {:?} for {:?}", fitted.errors, c.deviations);
            assert!((fitted.sum / c.sum - 1.0).abs() < 1e-6, "{name}: {:e}", fitted.sum);
        }
    }
}

#[test]
fn all_27_certified_fits_are_found_from_their_first_start_by_several_searches() {
    let effort = Effort { starts: 3, ..Effort::default() };
    for (name, c) in certified() {
        let fitted = fit(&read(&name), &constants(&c.starts[0]), effort, Noise::Seen).expect(&name);
        assert!(digits(&fitted.values, &c.values) >= 6.0, "{name}: {:?} for {:?}", fitted.values, c.values);
    }
}

/// Wear depths of tests at several temperatures: k0 exp(b (T − 100 °C)) times the path.
struct Wear {
    tests: Vec<(f64, f64)>,
}

impl Wear {
    fn depth<T: Real>(k0: T, b: T, (celsius, path): (f64, f64)) -> T {
        k0 * (b * (celsius - 100.0)).exp() * path
    }

    /// Slopes along the logarithms, in units of a scatter of 1 % of each depth.
    fn columns(&self) -> Vec<Vec<f64>> {
        let (k0, b) = (2.0, 0.0075);
        let slope = |test: &(f64, f64), k: usize| {
            let depth = Self::depth(Dual::<2>::variable(k0, 0), Dual::variable(b, 1), *test);
            depth.d[k] * [k0, b][k] / (0.01 * depth.v)
        };
        (0..2).map(|k| self.tests.iter().map(|t| slope(t, k)).collect()).collect()
    }
}

fn wear_constants() -> Vec<Constant> {
    [("k0", 2.0), ("b", 0.0075)]
        .map(|(name, start)| Constant { name: name.into(), start, scale: Scale::Logarithm, known: Some(0.6) })
        .into()
}

#[test]
fn tests_at_one_temperature_cannot_separate_the_constant_from_its_slope() {
    // Exact: at one temperature both scale every depth by the same factor, for any number of tests.
    for tests in [vec![(180.0, 1.0), (180.0, 3.0)], (1..40).map(|i| (60.0, f64::from(i))).collect()] {
        match separate(&wear_constants(), &Wear { tests }.columns(), 1e-9) {
            Err(Inseparable::Alike { one, other, exact, correlation }) => {
                assert_eq!((one.as_str(), other.as_str(), exact), ("k0", "b", true));
                assert!(correlation.abs() > 0.999_999, "{correlation}");
            }
            other => panic!("{other:?}"),
        }
    }
    let two = Wear { tests: vec![(80.0, 1.0), (180.0, 1.0)] };
    assert_eq!(separate(&wear_constants(), &two.columns(), 1e-9), Ok(()));
}

#[test]
fn tests_at_nearly_one_temperature_are_hidden_by_their_scatter() {
    // 0.5 K apart at 1 % scatter: b is known to √2·0.01/0.5 = 0.028 /K, four times its value and more than its prior.
    let near = Wear { tests: vec![(180.0, 1.0), (180.5, 1.0)] };
    let told = separate(&wear_constants(), &near.columns(), 1e-9);
    assert!(matches!(told, Err(Inseparable::Alike { exact: false, .. })), "{told:?}");
}

#[test]
fn tests_at_the_reference_temperature_do_not_determine_the_slope() {
    // Exact: exp(b·0) is 1 for every b.
    let still = Wear { tests: vec![(100.0, 1.0), (100.0, 2.0)] };
    match separate(&wear_constants(), &still.columns(), 1e-9) {
        Err(Inseparable::Silent { constant, .. }) => assert_eq!(constant, "b"),
        other => panic!("{other:?}"),
    }
}

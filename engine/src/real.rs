//! Numbers with derivatives: one code of a law gives its value, its exact derivatives and its dependencies.
//!
//! Every law is written once over [`Real`]. With `f64` it gives the value; with [`Dual`] the value and its partial
//! derivatives by the chain rule; with [`Reach`] the set of variables that can influence it, from which the sparsity of
//! the Jacobian follows.

use std::ops::{Add, Div, Mul, Neg, Sub};

/// Operations that the laws need.
pub trait Real:
    Copy
    + From<f64>
    + Add<Output = Self>
    + Sub<Output = Self>
    + Mul<Output = Self>
    + Div<Output = Self>
    + Neg<Output = Self>
    + Add<f64, Output = Self>
    + Sub<f64, Output = Self>
    + Mul<f64, Output = Self>
    + Div<f64, Output = Self>
{
    /// The plain value.
    fn value(self) -> f64;
    /// Applies a function, given its value and slope at the present value.
    #[must_use]
    fn chain(self, value: f64, slope: f64) -> Self;
    /// Joins the dependencies of two numbers, keeping the value and slopes of `self`.
    #[must_use]
    fn beside(self, other: Self) -> Self;

    /// eˣ
    #[must_use]
    fn exp(self) -> Self {
        let e = crate::elementary::exp(self.value());
        self.chain(e, e)
    }
    /// ln x, x > 0
    #[must_use]
    fn ln(self) -> Self {
        self.chain(crate::elementary::ln(self.value()), 1.0 / self.value())
    }
    /// √x, x > 0
    #[must_use]
    fn sqrt(self) -> Self {
        let r = self.value().sqrt();
        self.chain(r, 0.5 / r)
    }
    /// ∛x, x ≠ 0
    #[must_use]
    fn cbrt(self) -> Self {
        let r = crate::elementary::cbrt(self.value());
        self.chain(r, 1.0 / (3.0 * r * r))
    }
    /// tanh x
    #[must_use]
    fn tanh(self) -> Self {
        let t = libm::tanh(self.value());
        self.chain(t, 1.0 - t * t)
    }
    /// xᵖ, x > 0
    #[must_use]
    fn powf(self, p: f64) -> Self {
        let v = libm::pow(self.value(), p);
        self.chain(v, p * v / self.value())
    }
    /// x²
    #[must_use]
    fn squared(self) -> Self {
        self * self
    }
    /// |x|
    #[must_use]
    fn abs(self) -> Self {
        if self.value() < 0.0 { -self } else { self }
    }
    /// The larger of two numbers.
    #[must_use]
    fn max(self, other: Self) -> Self {
        if self.value() >= other.value() { self.beside(other) } else { other.beside(self) }
    }
    /// The smaller of two numbers.
    #[must_use]
    fn min(self, other: Self) -> Self {
        if self.value() <= other.value() { self.beside(other) } else { other.beside(self) }
    }
    /// x limited to a range.
    #[must_use]
    fn clamp(self, low: f64, high: f64) -> Self {
        self.max(Self::from(low)).min(Self::from(high))
    }
    /// The cubic step 3y² − 2y³ with y limited to 0..1.
    #[must_use]
    fn smooth(self) -> Self {
        let y = self.clamp(0.0, 1.0);
        y * y * (-(y * 2.0) + 3.0)
    }
}

impl Real for f64 {
    fn value(self) -> f64 {
        self
    }
    fn chain(self, value: f64, _: f64) -> f64 {
        value
    }
    fn beside(self, _: f64) -> f64 {
        self
    }
}

/// A value with its K partial derivatives.
#[derive(Clone, Copy, Debug)]
pub struct Dual<const K: usize> {
    /// value
    pub v: f64,
    /// partial derivatives
    pub d: [f64; K],
}

impl<const K: usize> Dual<K> {
    /// The k-th of K independent variables.
    pub fn variable(v: f64, k: usize) -> Self {
        let mut d = [0.0; K];
        d[k] = 1.0;
        Self { v, d }
    }
    fn map(self, v: f64, f: impl Fn(f64) -> f64) -> Self {
        Self { v, d: self.d.map(f) }
    }
    fn product(self, o: Self) -> Self {
        self.join(o, self.v * o.v, |x, y| x * o.v + y * self.v)
    }
    fn join(self, o: Self, v: f64, f: impl Fn(f64, f64) -> f64) -> Self {
        Self { v, d: std::array::from_fn(|k| f(self.d[k], o.d[k])) }
    }
}

impl<const K: usize> Real for Dual<K> {
    fn value(self) -> f64 {
        self.v
    }
    fn chain(self, value: f64, slope: f64) -> Self {
        if slope.is_finite() {
            return self.map(value, |d| slope * d);
        }
        self.map(value, |d| if d == 0.0 { 0.0 } else { slope * d })
    }
    fn beside(self, _: Self) -> Self {
        self
    }
}

/// A value with the set of variables that can influence it.
#[derive(Clone, Copy, Debug)]
pub struct Reach {
    /// value
    pub v: f64,
    /// one bit per variable
    pub set: u64,
}

impl Real for Reach {
    fn value(self) -> f64 {
        self.v
    }
    fn chain(self, v: f64, _: f64) -> Self {
        Self { v, ..self }
    }
    fn beside(self, other: Self) -> Self {
        Self { set: self.set | other.set, ..self }
    }
}

impl Reach {
    /// Whether it is zero whatever the variables are: a law that does not act in the present mode.
    fn is_nothing(self) -> bool {
        self.v == 0.0 && self.set == 0
    }
}

impl<const K: usize> From<f64> for Dual<K> {
    fn from(v: f64) -> Self {
        Self { v, d: [0.0; K] }
    }
}
impl From<f64> for Reach {
    fn from(v: f64) -> Self {
        Self { v, set: 0 }
    }
}

macro_rules! operator {
    ([$($g:tt)*] $T:ty, $op:ident $f:ident, |$a:ident, $b:ident| $both:expr, |$x:ident, $s:ident| $scalar:expr) => {
        impl<$($g)*> $op for $T {
            type Output = Self;
            fn $f(self, other: Self) -> Self {
                let ($a, $b) = (self, other);
                $both
            }
        }
        impl<$($g)*> $op<f64> for $T {
            type Output = Self;
            fn $f(self, other: f64) -> Self {
                let ($x, $s) = (self, other);
                $scalar
            }
        }
    };
}
operator! { [const K: usize] Dual<K>, Add add, |a, b| a.join(b, a.v + b.v, |x, y| x + y), |a, s| Self { v: a.v + s, ..a } }
operator! { [const K: usize] Dual<K>, Sub sub, |a, b| a.join(b, a.v - b.v, |x, y| x - y), |a, s| Self { v: a.v - s, ..a } }
operator! { [const K: usize] Dual<K>, Mul mul, |a, b| a.product(b), |a, s| a.map(a.v * s, |x| x * s) }
operator! { [const K: usize] Dual<K>, Div div,
    |a, b| { let r = 1.0 / b.v; let q = a.v * r; a.join(b, q, |x, y| (x - q * y) * r) },
    |a, s| { let r = 1.0 / s; a.map(a.v / s, |x| x * r) }
}
operator! { [] Reach, Add add, |a, b| Self { v: a.v + b.v, set: a.set | b.set }, |a, s| Self { v: a.v + s, ..a } }
operator! { [] Reach, Sub sub, |a, b| Self { v: a.v - b.v, set: a.set | b.set }, |a, s| Self { v: a.v - s, ..a } }
operator! { [] Reach, Mul mul,
    |a, b| if a.is_nothing() || b.is_nothing() { Self::from(0.0) } else { Self { v: a.v * b.v, set: a.set | b.set } },
    |a, s| Self { v: a.v * s, ..a }
}
operator! { [] Reach, Div div, |a, b| Self { v: a.v / b.v, set: a.set | b.set }, |a, s| Self { v: a.v / s, ..a } }

impl<const K: usize> Neg for Dual<K> {
    type Output = Self;
    fn neg(self) -> Self {
        self.map(-self.v, |x| -x)
    }
}
impl Neg for Reach {
    type Output = Self;
    fn neg(self) -> Self {
        Self { v: -self.v, ..self }
    }
}

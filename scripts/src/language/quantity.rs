//! A quantity of a script: a value with the kind of its unit, so that no setting takes one of another kind.
//!
//! A number scales a quantity, and in a sum or a comparison a number without unit stands for SI units. The product or the quotient of
//! two quantities is a number.

use crate::read::refusal::Refusal;
use crate::read::units::{UNITS, Unit, short};
use rhai::{Dynamic, FLOAT, INT};
use slipsoak_engine::parts::Dimension as D;

/// A value with the kind of its unit.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Quantity {
    /// SI value
    pub value: f64,
    /// its kind
    pub of: D,
}

/// A number of a script, with the kind of its unit if it has one.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Number {
    /// SI value of a quantity
    pub value: f64,
    /// its kind
    pub of: Option<D>,
}

impl From<INT> for Number {
    fn from(value: INT) -> Self {
        Self { value: value as f64, of: None }
    }
}

impl From<FLOAT> for Number {
    fn from(value: FLOAT) -> Self {
        Self { value, of: None }
    }
}

impl From<Quantity> for Number {
    fn from(Quantity { value, of }: Quantity) -> Self {
        Self { value, of: Some(of) }
    }
}

impl Quantity {
    /// As a script writes it, in the unit in which it is shortest.
    pub fn written(self) -> String {
        let units = UNITS.iter().filter(|unit| unit.dimension == self.of);
        let written =
            units.map(|unit| (short(unit.from_si(self.value)), unit.word)).min_by_key(|(number, _)| number.len());
        match written {
            Some((number, word)) => format!("{number}.{word}"),
            None => format!("{} {}", short(self.value), self.of.unit()),
        }
    }

    /// As a script writes it, and its kind.
    pub fn said(self) -> String {
        format!("{}, {}", self.written(), kind(self.of))
    }

    /// A unit behind a quantity: the SI unit of its kind changes nothing.
    pub fn behind(self, unit: &Unit) -> Result<Self, Refusal> {
        if unit.dimension == self.of && unit.scale == 1.0 && unit.offset == 0.0 {
            return Ok(self);
        }
        let (said, word) = (self.said(), unit.word);
        Err(Refusal::new(format!("`.{word}` stands behind a quantity that has its unit, {said}; leave `.{word}` away")))
    }
}

impl Number {
    /// The number of a script's value; none of another one.
    pub fn of(given: &Dynamic) -> Option<Self> {
        let number = given.as_float().map(Self::from).or_else(|_| given.as_int().map(Self::from)).ok();
        number.or_else(|| given.read_lock::<Quantity>().map(|quantity| (*quantity).into()))
    }

    /// As a script's value.
    pub fn given(self) -> Dynamic {
        let Self { value, of } = self;
        of.map_or_else(|| Dynamic::from_float(value), |of| Dynamic::from(Quantity { value, of }))
    }

    /// Whether it has no unit, or that of a ratio.
    fn plain(self) -> bool {
        matches!(self.of, None | Some(D::Ratio))
    }

    fn said(self) -> String {
        let plain = || format!("{}, a number without a unit", short(self.value));
        self.of.map_or_else(plain, |of| Quantity { value: self.value, of }.said())
    }
}

/// The kind of a quantity, in words.
pub fn kind(of: D) -> &'static str {
    match of {
        D::Ratio => "a plain number",
        D::Time => "a time",
        D::Length => "a length",
        D::Area => "an area",
        D::Volume => "a volume",
        D::Mass => "a mass",
        D::Speed => "a speed of the road",
        D::AngularSpeed => "a speed of the motor",
        D::Acceleration => "an acceleration",
        D::Force => "a force",
        D::Torque => "a torque",
        D::Stiffness => "a stiffness",
        D::Energy => "an energy",
        D::Power => "a power",
        D::Pressure => "a pressure",
        D::Temperature => "a temperature",
        D::TemperatureDifference => "a difference of temperatures",
        D::WearConstant => "a wear constant",
        D::BurnConstant => "a constant of wear by heat",
        D::PerSecond => "a rate",
        D::Angle => "an angle",
        other => other.unit(),
    }
}

/// A kind that is needed, with an example in the first unit of scripts, if it has one.
pub fn needed(of: D) -> String {
    let unit = UNITS.iter().find(|unit| unit.dimension == of && of != D::Ratio);
    match (of, unit) {
        (D::Speed, _) => format!("{} is needed, such as `25.km_h`", kind(of)),
        (D::AngularSpeed, _) => format!("{} is needed, such as `2000.rpm`", kind(of)),
        (D::Mass, _) => format!("{} is needed, such as `120.kg`", kind(of)),
        (_, Some(unit)) => format!("{} is needed, such as `2.{}`", kind(of), unit.word),
        (D::Ratio, None) => "a plain number is needed".to_owned(),
        (_, None) => format!("a plain number is needed, in {}", of.unit()),
    }
}

/// The refusal of two numbers that an operator does not take.
fn refused(sign: &str, a: Number, b: Number) -> Refusal {
    let [first, second] = [a, b].map(Number::said);
    let remedy = match (a.of, b.of) {
        (None, Some(of @ D::Temperature)) => degrees(a.value, Quantity { value: b.value, of }),
        (Some(of @ D::Temperature), None) => degrees(b.value, Quantity { value: a.value, of }),
        (Some(D::Temperature), Some(D::Temperature)) => "write a difference of temperatures as 5.K".to_owned(),
        _ => "write the unit of every number, as in `25.km_h / 1.5.m_s2`, which gives seconds".to_owned(),
    };
    Refusal::new(format!("`{sign}` needs two of one kind, not {first}, and {second}; {remedy}"))
}

/// What to write where a plain number stands beside a temperature.
fn degrees(plain: f64, temperature: Quantity) -> String {
    let (written, plain) = (temperature.written(), short(plain));
    let number = written.rsplit_once('.').map_or(&*written, |written| written.0);
    format!(
        "`ride.celsius(…)` is a plain number of degrees: write {number} in place of {written}; or in kelvin {plain}.kelvin"
    )
}

/// The kind of a sum or a remainder: a number without unit is in SI units.
pub fn sum(sign: &str, a: Number, b: Number, value: f64) -> Result<Number, Refusal> {
    use D::{Temperature as T, TemperatureDifference as Difference};
    let of = match (a.of, b.of) {
        (None, Some(T)) if sign != "+" => None,
        (Some(T), Some(T)) => (sign == "-").then_some(Difference),
        (Some(T), Some(Difference)) => Some(T),
        (Some(Difference), Some(T)) => (sign == "+").then_some(T),
        (Some(of), Some(other)) => (of == other).then_some(of),
        (of, other) => of.or(other),
    };
    match of {
        Some(of) => Ok(Number { value, of: Some(of) }),
        None => Err(refused(sign, a, b)),
    }
}

/// A product: a quantity scaled by a number.
pub fn product(a: Number, b: Number) -> Number {
    let of = if a.plain() { b.of.or(a.of) } else { a.of.filter(|_| b.plain()) };
    Number { value: a.value * b.value, of }
}

/// A quotient: a quantity scaled by a number.
pub fn quotient(a: Number, b: Number) -> Number {
    let of = a.of.filter(|_| b.plain() && a.of != b.of);
    Number { value: a.value / b.value, of }
}

/// The kind of two numbers that may be compared.
pub fn alike(sign: &str, a: Number, b: Number) -> Result<Option<D>, Refusal> {
    let mixed = a.of.zip(b.of).is_some_and(|(of, other)| of != other);
    // A number of degrees is meant more often than one of kelvin.
    let degrees = [a, b].iter().filter(|number| number.of == Some(D::Temperature)).count() == 1;
    if mixed || degrees { Err(refused(sign, a, b)) } else { Ok(a.of.or(b.of)) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_quantity_is_written_in_the_unit_in_which_it_is_shortest() {
        let written = [
            (200.0, D::Mass, "200.kg"),
            (1800.0 * slipsoak_engine::units::RPM, D::AngularSpeed, "1800.rpm"),
            (25.0 / 3.6, D::Speed, "25.km_h"),
            (10.0 * 0.44704, D::Speed, "10.mph"),
            (2400.0, D::Time, "40.min"),
            (30.0, D::Time, "30.s"),
            (293.15, D::Temperature, "20.degC"),
            (1.65e-3, D::Length, "1.65.mm"),
            (2.0, D::HeatCapacity, "2 J/K"),
        ];
        for (value, of, text) in written {
            assert_eq!(Quantity { value, of }.written(), text);
        }
    }
}

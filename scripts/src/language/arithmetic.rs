//! What the operators and functions of the interpreter do with quantities.

use crate::language::quantity::{Number, Quantity, alike, product, quotient, sum};
use crate::language::word_error::{Answer, WordError};
use crate::read::units::UNITS;
use rhai::{Array, Dynamic, Engine, FLOAT, INT};

/// Largest number of values of a range.
const VALUES: usize = 10_000;

/// What may stand beside a quantity.
trait Operand: Into<Number> + Clone + Copy + Send + Sync + 'static {}
impl Operand for Quantity {}
impl Operand for FLOAT {}
impl Operand for INT {}

/// A function with its name or sign.
type Named<F> = (&'static str, F);
type Function = fn(f64) -> f64;
type Question = fn(f64) -> bool;
type Sum = fn(f64, f64) -> f64;
type Order = fn(&f64, &f64) -> bool;

/// Functions of numbers that keep the kind of a quantity.
const KEPT: &[Named<Function>] = &[
    ("-", |x| -x),
    ("+", |x| x),
    ("abs", f64::abs),
    ("floor", f64::floor),
    ("ceiling", f64::ceil),
    ("round", f64::round),
    ("int", f64::trunc),
];
/// Those that give a plain number.
const PLAIN: &[Named<Function>] = &[
    ("fraction", f64::fract),
    ("to_float", |x| x),
    ("sqrt", f64::sqrt),
    ("exp", f64::exp),
    ("ln", f64::ln),
    ("log", f64::log10),
    ("sin", f64::sin),
    ("cos", f64::cos),
    ("tan", f64::tan),
    ("asin", f64::asin),
    ("acos", f64::acos),
    ("atan", f64::atan),
    ("sinh", f64::sinh),
    ("cosh", f64::cosh),
    ("tanh", f64::tanh),
    ("to_degrees", f64::to_degrees),
];
/// Those that ask something.
const ASKED: &[Named<Question>] = &[
    ("is_nan", f64::is_nan),
    ("is_finite", f64::is_finite),
    ("is_infinite", f64::is_infinite),
    ("is_zero", |x| x == 0.0),
];

/// Those that are read without brackets too, as the interpreter's own.
const READ: [&str; 8] = ["floor", "ceiling", "round", "int", "fraction", "is_nan", "is_finite", "is_infinite"];

/// Registers units, operators and functions.
pub(crate) fn register(engine: &mut Engine) {
    engine.register_type_with_name::<Quantity>("quantity");
    for unit in UNITS {
        let si = |value: f64| Quantity { value: unit.si(value), of: unit.dimension };
        engine.register_get(unit.word, move |value: &mut INT| si(*value as FLOAT));
        engine.register_get(unit.word, move |value: &mut FLOAT| si(*value));
        let behind = |value: Quantity| -> Answer<Quantity> { Ok(value.behind(unit).map_err(WordError::from)?) };
        engine.register_get(unit.word, move |value: &mut Quantity| behind(*value));
        engine.register_fn(unit.word, move |value: INT| si(value as FLOAT));
        engine.register_fn(unit.word, move |value: FLOAT| si(value));
        engine.register_fn(unit.word, behind);
    }
    for &(name, function) in KEPT {
        let kept = move |x: Quantity| Quantity { value: function(x.value), ..x };
        engine.register_fn(name, kept);
        if READ.contains(&name) {
            engine.register_get(name, move |x: &mut Quantity| kept(*x));
        }
    }
    for &(name, function) in PLAIN {
        engine.register_fn(name, move |x: Quantity| function(x.value));
        if READ.contains(&name) {
            engine.register_get(name, move |x: &mut Quantity| function(x.value));
        }
    }
    for &(name, function) in ASKED {
        engine.register_fn(name, move |x: Quantity| function(x.value));
        if READ.contains(&name) {
            engine.register_get(name, move |x: &mut Quantity| function(x.value));
        }
    }
    engine.register_fn("to_int", |x: Quantity| x.value as INT);
    engine.register_fn("sign", |x: Quantity| if x.value == 0.0 { 0 } else { x.value.signum() as INT });
    for name in ["print", "debug", "to_string", "to_debug"] {
        engine.register_fn(name, |x: &mut Quantity| Dynamic::from_float(x.value).to_string());
    }
    between::<Quantity, Quantity>(engine);
    between::<Quantity, FLOAT>(engine);
    between::<FLOAT, Quantity>(engine);
    between::<Quantity, INT>(engine);
    between::<INT, Quantity>(engine);
    engine.register_fn("range", |from: Dynamic, to: Dynamic, step: Quantity| range(&from, &to, step));
}

/// Registers what stands between two numbers of which one at least is a quantity.
fn between<A: Operand, B: Operand>(engine: &mut Engine) {
    let sums: [Named<Sum>; 3] = [("+", |a, b| a + b), ("-", |a, b| a - b), ("%", |a, b| a % b)];
    for (sign, of) in sums {
        engine.register_fn(sign, move |a: A, b: B| -> Answer<Dynamic> {
            let (a, b): (Number, Number) = (a.into(), b.into());
            Ok(sum(sign, a, b, of(a.value, b.value)).map_err(WordError::from)?.given())
        });
    }
    engine.register_fn("*", |a: A, b: B| product(a.into(), b.into()).given());
    engine.register_fn("/", |a: A, b: B| quotient(a.into(), b.into()).given());
    engine.register_fn("**", |a: A, b: B| {
        let (a, b): (Number, Number) = (a.into(), b.into());
        a.value.powf(b.value)
    });
    let orders: [Named<Order>; 4] = [("<", f64::lt), ("<=", f64::le), (">", f64::gt), (">=", f64::ge)];
    for (sign, order) in orders {
        engine.register_fn(sign, move |a: A, b: B| -> Answer<bool> {
            let (a, b): (Number, Number) = (a.into(), b.into());
            alike(sign, a, b).map_err(WordError::from)?;
            Ok(order(&a.value, &b.value))
        });
    }
    let equal = |a: A, b: B| {
        let (a, b): (Number, Number) = (a.into(), b.into());
        a.value == b.value && alike("==", a, b).is_ok()
    };
    engine.register_fn("==", equal);
    engine.register_fn("!=", move |a: A, b: B| !equal(a, b));
    for (name, of) in [("min", f64::min as fn(f64, f64) -> f64), ("max", f64::max)] {
        engine.register_fn(name, move |a: A, b: B| -> Answer<Dynamic> {
            let (a, b): (Number, Number) = (a.into(), b.into());
            let kind = alike(name, a, b).map_err(WordError::from)?;
            Ok(Number { value: of(a.value, b.value), of: kind }.given())
        });
    }
}

/// The values from one to another, the last one not included.
fn range(from: &Dynamic, to: &Dynamic, step: Quantity) -> Answer<Array> {
    let numbers = Number::of(from).zip(Number::of(to)).ok_or_else(|| WordError::new("`range` needs numbers"))?;
    let (from, to) = numbers;
    alike("range", from, to).map_err(WordError::from)?;
    let of = alike("range", from, step.into()).map_err(WordError::from)?;
    let count = ((to.value - from.value) / step.value).ceil();
    if !(count <= VALUES as f64) {
        return Err(WordError::new(format!("`range` gives more than {VALUES} values; take a longer step")).into());
    }
    let at = |k: usize| Number { value: from.value + step.value * k as f64, of }.given();
    Ok((0..count.max(0.0) as usize).map(at).collect())
}

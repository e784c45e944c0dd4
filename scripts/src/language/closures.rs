//! Captured variables of a function: those that a closure takes from outside.

use crate::language::plan::{Duty, Variant};
use crate::language::quantity::Quantity;
use crate::language::ride::Ride;
use crate::language::width::Width;
use crate::language::word_error::WordError;
use rhai::{AST, ASTNode, Dynamic, EvalAltResult, Expr, FnPtr, Position, ScriptFuncDef, Stmt};
use slipsoak_engine::duty::Trace;
use std::collections::BTreeMap;
use std::hash::{DefaultHasher, Hash, Hasher};
use std::ops::{Range, RangeInclusive};
use std::sync::Arc;

/// Largest nesting depth of values: lists in lists, functions that carry functions.
pub(crate) const DEEPEST: usize = 64;

/// Visits all values within a value until `visit` returns true; returns whether it did.
fn any_held(value: &Dynamic, visit: &mut dyn FnMut(&Dynamic) -> bool) -> bool {
    if value.is_shared() {
        return value.read_lock::<Dynamic>().is_some_and(|inner| visit(&inner));
    }
    if let Ok(array) = value.as_array_ref() {
        return array.iter().any(visit);
    }
    if let Ok(map) = value.as_map_ref() {
        return map.values().any(visit);
    }
    if let Some(function) = value.read_lock::<FnPtr>() {
        return function.iter_curry().any(visit);
    }
    value.read_lock::<Duty>().is_some_and(|duty| duty.function.iter_curry().any(visit))
}

/// Whether values are nested deeper than `left`, or in a cycle: dropping or printing them would overflow the stack.
/// `sound` holds the shared values already checked, with the depth that was left for them.
pub(crate) fn too_deep(value: &Dynamic, left: usize, sound: &mut BTreeMap<usize, usize>) -> bool {
    let Some(left) = left.checked_sub(1) else { return true };
    let place = value.is_shared().then(|| value.read_lock::<Dynamic>().map(|inner| std::ptr::from_ref(&*inner).addr()));
    let place = place.flatten();
    if place.and_then(|place| sound.get(&place)).is_some_and(|known| *known <= left) {
        return false;
    }
    let deep = any_held(value, &mut |held| too_deep(held, left, sound));
    if let Some(place) = place.filter(|_| !deep) {
        sound.insert(place, left);
    }
    deep
}

fn digest(value: &Dynamic, into: &mut DefaultHasher) {
    if value.is_shared() {
        if let Some(inner) = value.read_lock::<Dynamic>() {
            digest(&inner, into);
        }
        return;
    }
    value.type_name().hash(into);
    if let Ok(array) = value.as_array_ref() {
        array.len().hash(into);
    } else if let Ok(map) = value.as_map_ref() {
        map.keys().for_each(|key| key.hash(into));
    } else if let Some(function) = value.read_lock::<FnPtr>() {
        function.fn_name().hash(into);
    } else if let Some(duty) = value.read_lock::<Duty>() {
        (&duty.name, duty.function.fn_name(), duty.until.map(f64::to_bits)).hash(into);
    } else if let Ok(text) = value.as_immutable_string_ref() {
        text.hash(into);
    } else if let Ok(number) = value.as_float() {
        number.to_bits().hash(into);
    } else if let Some(trace) = value.read_lock::<Arc<Trace>>() {
        trace.points.iter().for_each(|(time, speed)| (time.to_bits(), speed.to_bits()).hash(into));
    } else if let Some(ride) = value.read_lock::<Ride>() {
        ride.address().hash(into);
    } else if let Some(text) = shown(value) {
        text.hash(into);
    }
    any_held(value, &mut |held| {
        digest(held, into);
        false
    });
}

/// Text of a value that is fully described by its text.
fn shown(value: &Dynamic) -> Option<String> {
    fn of<T: std::fmt::Debug + Clone + 'static>(value: &Dynamic) -> Option<String> {
        value.read_lock::<T>().map(|value| format!("{:?}", *value))
    }
    of::<i64>(value)
        .or_else(|| of::<bool>(value))
        .or_else(|| of::<char>(value))
        .or_else(|| of::<Quantity>(value))
        .or_else(|| of::<Variant>(value))
        .or_else(|| of::<Width>(value))
        .or_else(|| of::<WordError>(value))
        .or_else(|| of::<Range<i64>>(value))
        .or_else(|| of::<RangeInclusive<i64>>(value))
}

/// A function with the variables from outside as they are now: a loop that makes one in each pass shares its variable among all, which
/// would all take the last value.
pub(crate) fn as_made(function: &FnPtr) -> FnPtr {
    let mut made = function.clone();
    made.iter_curry_mut().for_each(|value| *value = value.flatten_clone().into_shared());
    made
}

/// State of each variable that a function takes from outside.
pub(crate) fn state(function: &FnPtr) -> Vec<u64> {
    let one = |value: &Dynamic| {
        let mut hasher = DefaultHasher::new();
        digest(value, &mut hasher);
        hasher.finish()
    };
    function.iter_curry().map(one).collect()
}

/// Fails if a duty changed a variable from outside; the error shows the line that changes it.
pub(crate) fn unchanged(ast: &AST, function: &FnPtr, before: &[u64]) -> Result<(), Box<EvalAltResult>> {
    let Some(index) = state(function).iter().zip(before).position(|(now, before)| now != before) else {
        return Ok(());
    };
    // The parameter of the ride follows the captured variables.
    let definition = ast.shared_lib().get_script_fn(function.fn_name(), function.curry().len() + 1);
    let name = definition.and_then(|d| d.params.get(index)).map_or_else(String::new, ToString::to_string);
    let at = definition.map_or(Position::NONE, |d| changed_at(ast, d, &name));
    let why = "its runs share what stands outside, and which of them comes first must not matter";
    let remedy = "make a copy inside the duty, or compute it there";
    Err(WordError::new(format!("a duty may not change `{name}`, which stands outside it: {why}; {remedy}")).at(at))
}

/// Position where a function changes a variable: the first assignment or method call, else its first use.
fn changed_at(ast: &AST, definition: &ScriptFuncDef, name: &str) -> Position {
    let (start, end) = (definition.body.start_position(), definition.body.end_position());
    let inside = |at: Position| at >= start && (end.is_none() || end < start || at <= end);
    let (mut changed, mut named) = (Position::NONE, Position::NONE);
    ast.walk(&mut |path: &[ASTNode]| {
        match path.last() {
            Some(ASTNode::Stmt(Stmt::Assignment(x))) if root(&x.1.lhs) == Some(name) => changed = x.1.lhs.position(),
            Some(ASTNode::Expr(Expr::Dot(x, ..)))
                if root(&x.lhs) == Some(name) && matches!(x.rhs, Expr::MethodCall(..)) =>
            {
                changed = x.lhs.position();
            }
            Some(ASTNode::Expr(Expr::Variable(x, _, at))) if x.1 == name && named.is_none() && inside(*at) => {
                named = *at;
            }
            _ => {}
        }
        if !inside(changed) {
            changed = Position::NONE;
        }
        changed.is_none()
    });
    if changed.is_none() { named } else { changed }
}

/// The variable of an expression such as `a[2].b`.
fn root(expression: &Expr) -> Option<&str> {
    match expression {
        Expr::Variable(x, ..) => Some(&x.1),
        Expr::Dot(x, ..) | Expr::Index(x, ..) => root(&x.lhs),
        _ => None,
    }
}

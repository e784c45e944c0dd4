//! Sorting: by a function of the script, whose errors are reported, and of quantities.

use crate::language::quantity::{Number, alike};
use crate::language::word_error::{Answer, WordError};
use rhai::{Array, Dynamic, Engine, EvalAltResult, FnPtr, NativeCallContext};

/// Registers `sort` and `sort_by` with a function, instead of the library's, which ignore its errors; and sorting without one, as
/// the library's does not know quantities.
pub(crate) fn register(engine: &mut Engine) {
    for word in ["sort", "sort_desc"] {
        engine.register_fn(word, move |array: &mut Array| -> Answer<()> {
            sort_alike(array)?;
            if word == "sort_desc" {
                array.reverse();
            }
            Ok(())
        });
    }
    for word in ["sort", "sort_by"] {
        engine.register_fn(word, |context: NativeCallContext, array: &mut Array, order: FnPtr| -> Answer<()> {
            sort(array, |a, b| {
                let before = order.call_within_context::<Dynamic>(&context, (a.clone(), b.clone()))?;
                let number = before.as_int().or_else(|_| before.as_bool().map(|first| if first { -1 } else { 1 }));
                number.map_err(|kind| {
                    let what = format!("the order of a sort must give a whole number or true or false, not {kind}");
                    EvalAltResult::ErrorRuntime(what.into(), context.call_position()).into()
                })
            })
        });
    }
}

/// Sorts numbers, of which some are quantities of one kind, texts, characters, or true and false.
fn sort_alike(array: &mut Array) -> Answer<()> {
    let texts = |v: &Dynamic| v.clone().into_immutable_string().ok();
    sort(array, |a, b| {
        if let Some((a, b)) = Number::of(a).zip(Number::of(b)) {
            alike("sort", a, b).map_err(WordError::from)?;
            return Ok(if a.value > b.value { 1 } else { -1 });
        }
        let order = match (texts(a).zip(texts(b)), a.as_char().ok().zip(b.as_char().ok())) {
            (Some((a, b)), _) => Some(a.cmp(&b)),
            (_, Some((a, b))) => Some(a.cmp(&b)),
            _ => a.as_bool().ok().zip(b.as_bool().ok()).map(|(a, b)| a.cmp(&b)),
        };
        let why = || WordError::new(format!("`sort` cannot order a {} and a {}", a.type_name(), b.type_name()));
        Ok(order.ok_or_else(why)? as i64)
    })
}

/// Insertion sort: each item is placed after the last item that it does not precede. Equal items keep their order, and
/// the sort ends even if the order contradicts itself.
fn sort(array: &mut Array, mut order: impl FnMut(&Dynamic, &Dynamic) -> Answer<i64>) -> Answer<()> {
    for next in 1..array.len() {
        let (mut from, mut to) = (0, next);
        while from < to {
            let middle = usize::midpoint(from, to);
            if order(&array[middle], &array[next])? > 0 {
                to = middle;
            } else {
                from = middle + 1;
            }
        }
        array[from..=next].rotate_right(1);
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn equal_items_keep_their_order() {
        let mut array: Array = [31, 10, 32, 20, 11, 33].into_iter().map(|i: i64| i.into()).collect();
        let tens = |v: &Dynamic| v.as_int().unwrap_or(0) / 10;
        sort(&mut array, |a, b| Ok(tens(a) - tens(b))).unwrap();
        let sorted: Vec<i64> = array.iter().map(|v| v.as_int().unwrap()).collect();
        assert_eq!(sorted, [10, 11, 20, 31, 32, 33]);
    }
}

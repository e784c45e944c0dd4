//! The same work for many numbers, on all threads.

use rayon::prelude::*;
use std::sync::{Mutex, PoisonError};

/// What `one` gives of each number below `count`, in their order with any number of threads.
pub(crate) fn each<T: Send>(count: usize, one: impl Fn(usize) -> T + Sync) -> Vec<T> {
    let given: Vec<Mutex<Option<T>>> = (0..count).map(|_| Mutex::new(None)).collect();
    on_threads(count, &|k| *given[k].lock().unwrap_or_else(PoisonError::into_inner) = Some(one(k)));
    given.into_iter().filter_map(|one| one.into_inner().unwrap_or_else(PoisonError::into_inner)).collect()
}

/// Compiled once, not for each kind of result: sharing between threads is much code.
fn on_threads(count: usize, one: &(dyn Fn(usize) + Sync)) {
    (0..count).into_par_iter().for_each(one);
}

//! The system's allocator, which also counts what each thread holds: so that a script can be stopped before it has used
//! up the machine, whatever it builds.

use std::alloc::{GlobalAlloc, Layout, System};
use std::cell::Cell;

thread_local! {
    static HELD: Cell<i64> = const { Cell::new(0) };
}

/// The system's allocator with a count for each thread.
pub struct Counting;

/// Bytes that this thread has allocated less those that it has freed. Only differences mean something: what one thread
/// hands to another is counted where it was made.
pub fn held() -> i64 {
    HELD.try_with(Cell::get).unwrap_or(0)
}

// A thread that is ending no longer counts.
fn count(bytes: i64) {
    let _ = HELD.try_with(|held| held.set(held.get() + bytes));
}

#[allow(clippy::cast_possible_wrap)] // no allocation has more than isize::MAX bytes
fn signed(bytes: usize) -> i64 {
    bytes as i64
}

// SAFETY: every call goes to the system's allocator as it is; counting allocates nothing and cannot panic.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        count(signed(layout.size()));
        // SAFETY: the caller's promise is handed on.
        unsafe { System.alloc(layout) }
    }

    unsafe fn alloc_zeroed(&self, layout: Layout) -> *mut u8 {
        count(signed(layout.size()));
        // SAFETY: the caller's promise is handed on.
        unsafe { System.alloc_zeroed(layout) }
    }

    unsafe fn dealloc(&self, at: *mut u8, layout: Layout) {
        count(-signed(layout.size()));
        // SAFETY: the caller's promise is handed on.
        unsafe { System.dealloc(at, layout) }
    }

    unsafe fn realloc(&self, at: *mut u8, layout: Layout, size: usize) -> *mut u8 {
        count(signed(size) - signed(layout.size()));
        // SAFETY: the caller's promise is handed on.
        unsafe { System.realloc(at, layout, size) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[global_allocator]
    static ALL: Counting = Counting;

    #[test]
    fn a_thread_counts_what_it_holds_and_no_more() {
        let before = held();
        let mut list = vec![0_u8; 1000];
        assert_eq!(held() - before, 1000);
        list.reserve_exact(4000);
        assert_eq!(held() - before, 5000);
        std::thread::spawn(|| drop(vec![0_u8; 1 << 20])).join().unwrap();
        assert!(held() - before < 10_000, "another thread's are its own");
        drop(list);
        assert!((held() - before).abs() < 1000);
    }
}

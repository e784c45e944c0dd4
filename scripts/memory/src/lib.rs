//! The system's allocator with a count of the memory that each thread holds, so that a script can be stopped before it
//! has used up the machine.

use std::alloc::{GlobalAlloc, Layout, System};
use std::cell::Cell;

/// Message if the system gives no more memory.
const NONE_LEFT: &[u8] =
    b"error: the system gives this program no more memory, so that it ended here; raise the limit (ulimit -v) or \
close other programs, compare fewer runs at a time, or take --threads 1\n";

thread_local! {
    static HELD: Cell<i64> = const { Cell::new(0) };
}

/// The system's allocator with a count for each thread.
pub struct Counting;

/// Bytes allocated less bytes freed by this thread. Only differences are meaningful: memory passed to another thread is
/// counted where it was allocated.
pub fn held() -> i64 {
    HELD.try_with(Cell::get).unwrap_or(0)
}

// A thread that is ending is no longer counted.
fn count(bytes: i64) {
    let _ = HELD.try_with(|held| held.set(held.get() + bytes));
}

#[allow(clippy::cast_possible_wrap)] // no allocation has more than isize::MAX bytes
fn signed(bytes: usize) -> i64 {
    bytes as i64
}

/// Memory from the system. If there is none, the command ends with a message; otherwise the program would abort.
fn given(at: *mut u8) -> *mut u8 {
    if at.is_null() {
        none_left();
    }
    at
}

#[cold]
fn none_left() -> ! {
    use std::io::Write;
    #[cfg(unix)]
    {
        use std::os::fd::FromRawFd;
        // Standard error is not locked here, because this thread may hold the lock.
        // SAFETY: the descriptor of standard error is only borrowed: the file is never dropped, and so never closed.
        let mut out = std::mem::ManuallyDrop::new(unsafe { std::fs::File::from_raw_fd(2) });
        let _ = out.write_all(NONE_LEFT);
    }
    #[cfg(not(unix))]
    let _ = std::io::stderr().write_all(NONE_LEFT);
    std::process::exit(1)
}

// SAFETY: every call is passed unchanged to the system's allocator; counting allocates nothing and cannot panic.
unsafe impl GlobalAlloc for Counting {
    unsafe fn alloc(&self, layout: Layout) -> *mut u8 {
        count(signed(layout.size()));
        // SAFETY: the caller guarantees the conditions.
        given(unsafe { System.alloc(layout) })
    }

    unsafe fn alloc_zeroed(&self, layout: Layout) -> *mut u8 {
        count(signed(layout.size()));
        // SAFETY: the caller guarantees the conditions.
        given(unsafe { System.alloc_zeroed(layout) })
    }

    unsafe fn dealloc(&self, at: *mut u8, layout: Layout) {
        count(-signed(layout.size()));
        // SAFETY: the caller guarantees the conditions.
        unsafe { System.dealloc(at, layout) }
    }

    unsafe fn realloc(&self, at: *mut u8, layout: Layout, size: usize) -> *mut u8 {
        count(signed(size) - signed(layout.size()));
        // SAFETY: the caller guarantees the conditions.
        given(unsafe { System.realloc(at, layout, size) })
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

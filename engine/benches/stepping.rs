//! How long the reference problem's day takes. Seconds per 1000 h of use are the day's seconds times 1000/6.889.

#[path = "../tests/systems/reference.rs"]
mod reference;

fn main() {
    divan::main();
}

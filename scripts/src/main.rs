//! slipsoak
fn main() {}

//! slipsoak

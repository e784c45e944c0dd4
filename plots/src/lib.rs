//! Figures drawn from a record.
